//! How well founded a figure is, and how it stands against the rating plate.

use serde::Serialize;

use super::part::part;
use super::words;
use crate::model::facts::standing::{PathStanding, Standing as BothParts};
use crate::model::verdicts::plate::PlateVerdict;

#[derive(Debug, Serialize)]
pub(super) struct Standing {
    curve: &'static str,
    path: &'static str,
}

pub(super) fn standing(standing: BothParts) -> Standing {
    let (curve, path) = standing.words();
    Standing { curve, path }
}

/// The word for what a part, a drop or a side rests on.
pub(super) fn path_word(path: PathStanding) -> &'static str {
    BothParts { path, ..BothParts::default() }.words().1
}

part! {
    #[derive(Clone, Copy)]
    fn plate(verdict: &PlateVerdict) -> Plate {
        limit_in_wc: f64 = verdict.limit.in_wc(),
        worse_in_wc: f64 = verdict.worse.in_wc(),
        decides: &'static str = words::deciding(verdict.deciding),
        side: &'static str = words::plate_side(verdict.side),
    }
}
