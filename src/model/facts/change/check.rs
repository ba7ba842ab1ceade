//! Whether the numbers of a change can be meant: asked by every edit, by every file, and before a change is put on.

use crate::model::facts::change::{
    BelowTable, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, Opening,
    OtherCoilState, OtherDuct, OtherOpening, PanelOff, RepairRun, Seal, SecondReturn,
};
use crate::model::facts::duct::refusal::{InputError, open_of};
use crate::model::facts::duct::run::Run;
use crate::model::facts::limits::{BELOW_TABLE_RANGE, COIL_STATE_RANGE, FILTER_LOADING_RANGE};
use crate::model::facts::numbers::duct as given;
use crate::units::show;

/// The numbers of a change; what it is put on, and the table and target of another machine, are looked at elsewhere.
///
/// # Errors
/// A sentence that names the number and what would be right.
pub fn numbers(kind: &ChangeKind) -> Result<(), String> {
    match kind {
        ChangeKind::LessByHand(LessByHand { fraction, .. })
        | ChangeKind::CleanCoil(CleanCoil { fraction, .. })
        | ChangeKind::RepairRun(RepairRun { fraction, .. }) => taken_away(*fraction),
        ChangeKind::Seal(Seal { fraction, .. }) => closed(*fraction),
        ChangeKind::FilterLoading(FilterLoading { factor, .. }) => filter_loading(*factor),
        ChangeKind::OtherCoilState(OtherCoilState { factor, .. }) => coil_state(*factor),
        ChangeKind::BelowTable(BelowTable { factor }) => below_table(*factor),
        sizes => sizes_of(sizes).map_err(|refused| refused.to_string()),
    }
}

/// The sizes of a change that is worked out from them.
fn sizes_of(kind: &ChangeKind) -> Result<(), InputError> {
    match kind {
        ChangeKind::MoreFilterArea(MoreFilterArea { now, then, .. }) => {
            given::MEDIA_AREA.check(now.in2())?;
            given::MEDIA_AREA.check(then.in2())?;
            Ok(())
        }
        ChangeKind::OtherDuct(OtherDuct { now, then, .. }) => [now, then].into_iter().try_for_each(run),
        ChangeKind::SecondReturn(SecondReturn { run: new, grille, .. }) => run(new).and_then(|()| opening(grille)),
        ChangeKind::OtherOpening(OtherOpening { now, then, .. }) => [now, then].into_iter().try_for_each(opening),
        ChangeKind::OpenRegisters(OpenRegisters { now, then, of, .. }) => {
            [*now, *then].into_iter().try_for_each(|open| open_of(open, *of).map(drop))
        }
        ChangeKind::PanelOff(PanelOff { area }) => Ok(given::FACE_AREA.check(area.in2()).map(drop)?),
        _ => Ok(()),
    }
}

fn run(run: &Run) -> Result<(), InputError> {
    run.checked().map(drop)
}

fn opening(opening: &Opening) -> Result<(), InputError> {
    given::FACE_AREA.check(opening.face.in2())?;
    given::FREE_AREA.check(opening.free_area)?;
    Ok(())
}

fn is_in(value: f64, (low, high): (f64, f64)) -> bool {
    (low..=high).contains(&value)
}

fn percent(fraction: f64) -> String {
    show::trimmed(fraction * 100.0, 1)
}

fn taken_away(fraction: f64) -> Result<(), String> {
    if is_in(fraction, (0.0, 1.0)) {
        return Ok(());
    }
    Err(format!("Taking away {} % would make the drop negative; it lies between 0 and 100 %", percent(fraction)))
}

fn closed(fraction: f64) -> Result<(), String> {
    if is_in(fraction, (0.0, 1.0)) {
        return Ok(());
    }
    Err(format!("Closing {} % of an opening cannot be; it lies between 0 and 100 %", percent(fraction)))
}

fn filter_loading(factor: f64) -> Result<(), String> {
    let (low, high) = FILTER_LOADING_RANGE;
    if is_in(factor, FILTER_LOADING_RANGE) {
        return Ok(());
    }
    let shown = show::trimmed(factor, 3);
    Err(format!("A filter loaded {shown} times cannot be; the factor lies between {low} and {high}"))
}

fn coil_state(factor: f64) -> Result<(), String> {
    let (low, high) = COIL_STATE_RANGE;
    if is_in(factor, COIL_STATE_RANGE) {
        return Ok(());
    }
    let shown = show::trimmed(factor, 3);
    Err(format!("A coil that takes {shown} times its drop cannot be; the factor lies between {low} and {high}"))
}

fn below_table(factor: f64) -> Result<(), String> {
    let (low, high) = BELOW_TABLE_RANGE;
    if is_in(factor, BELOW_TABLE_RANGE) {
        return Ok(());
    }
    Err(format!(
        "A blower at {} % of its table cannot be; it lies between {} and {} %",
        percent(factor),
        percent(low),
        percent(high)
    ))
}
