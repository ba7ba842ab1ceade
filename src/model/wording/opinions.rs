//! Second opinions on the airflow in words: that they agree with the table, or what usually is wrong where they do not.

use crate::model::facts::airflow_read::{Anchor, OpinionKind};
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::readings::name_of_set;
use crate::model::facts::standing::CurveStanding;
use crate::model::solution::anchor::{Anchored, AnchoredFrom};
use crate::model::verdicts::opinions::together::{Together, Voice};
use crate::model::verdicts::opinions::watts::WattsDiffer;
use crate::model::verdicts::opinions::{Basis, Opinion};
use crate::model::wording::changes::listed;
use crate::units::UnitSystem;
use crate::units::show::{self, airflow, airflow_bare, percent, power_bare};

/// An opinion against the table's airflow: that they agree, or the usual causes, which fit its kind and which of the two is less.
pub fn sentence(opinion: &Opinion, word: &str, units: UnitSystem) -> String {
    let bare = |spread| show::spread_bare(spread, units);
    let said = format!(
        "{} the blower moves {}, ± {}",
        by_what(opinion, units),
        airflow(opinion.airflow, units),
        bare(opinion.spread)
    );
    let off = if opinion.standing == CurveStanding::Extrapolated { ", extrapolated" } else { "" };
    let table = format!("the table's {}{off}, ± {}", airflow_bare(opinion.table, units), bare(opinion.table_spread));
    if opinion.agrees {
        return format!("{said}: that agrees with {table}");
    }
    let usual = usual_causes(opinion, word);
    format!("{said}, not {table}: find out which before anything is changed; usual causes are {usual}")
}

/// "By the rise read and the heat put in", "By 8 supply grilles, 1,020 cfm in all,".
fn by_what(opinion: &Opinion, units: UnitSystem) -> String {
    let side = if opinion.kind == OpinionKind::ReturnSum { "return" } else { "supply" };
    match opinion.basis {
        Basis::MeasuredHeat => "By the rise read and the heat put in".to_owned(),
        Basis::RatedHeat => "By the rise read and the rated heat, not measured,".to_owned(),
        Basis::Grilles { count, share } => {
            let told = airflow(opinion.told, units);
            let grilles = if count == 1 { format!("the {side} grilles'") } else { format!("{count} {side} grilles,") };
            let lost = if 1.0 - share > SHOWN_LOSS {
                format!(" and {} lost on the way", percent(1.0 - share))
            } else {
                String::new()
            };
            format!("By {grilles} {told} in all{lost},")
        }
        Basis::Plate { by_law, corrected } => {
            let by = if by_law { "the plate's difference" } else { "the plate's scale" };
            let taken = if corrected {
                ", what it takes itself undone by the plenum's static,"
            } else {
                ", with the plate in and not corrected for it,"
            };
            format!("By {by}{taken}")
        }
        Basis::Watts => "By the watts read".to_owned(),
    }
}

/// Air lost on the way that is left out of sentences, as a fraction.
const SHOWN_LOSS: f64 = 0.005;

/// An opinion this many times the table's is more than machines differ by: something was counted twice (common practice, no source).
const COUNTED_TWICE: f64 = 1.5;

fn usual_causes(opinion: &Opinion, word: &str) -> String {
    let is_less = opinion.ratio() < 1.0;
    let is_twice = opinion.ratio() > COUNTED_TWICE;
    match (opinion.kind, is_less) {
        (OpinionKind::Heat, true) => {
            format!(
                "a dirty wheel, low voltage, another {word} than said, another table, a thermometer in sight of the heat"
            )
        }
        (OpinionKind::Heat, false) => format!("another {word} than said, another table, or less heat than said"),
        (OpinionKind::SupplySum, true) => format!(
            "a leak between blower and grilles, a grille left out, another {word} than said, a dirty wheel, low voltage or another table"
        ),
        (OpinionKind::ReturnSum, true) => format!(
            "a leak that draws air from elsewhere before the blower, a grille left out, another {word} than said, a dirty wheel, low voltage or another table"
        ),
        (OpinionKind::SupplySum | OpinionKind::ReturnSum, false) if is_twice => {
            "a grille counted twice, a sum typed beside its parts, another unit, or another table".to_owned()
        }
        (OpinionKind::SupplySum | OpinionKind::ReturnSum, false) => {
            format!("a hood that reads high, a grille counted twice, another {word} than said or another table")
        }
        (OpinionKind::Plate, true) => format!(
            "air beside the plate, a dirty wheel, low voltage, another {word} than said, air that comes in behind the filter, or another table"
        ),
        (OpinionKind::Plate, false) => {
            format!("another plate or scale than said, another {word} than said or another table")
        }
        (OpinionKind::Watts, _) => causes_of_watts(!is_less).to_owned(),
    }
}

const fn causes_of_watts(are_more: bool) -> &'static str {
    if are_more {
        "another tap than said, high voltage, a reading of static that is too low or another table"
    } else {
        "another tap than said, low voltage, a dirty wheel or another table"
    }
}

/// Watts as read against the table's.
pub(super) fn watts_differ(watts: &WattsDiffer) -> String {
    let usual = causes_of_watts(watts.read.watts() > watts.table.watts());
    format!(
        "The blower takes {} W where the table gives {} at this point, ± {}: usual causes are {usual}",
        power_bare(watts.read),
        power_bare(watts.table),
        power_bare(watts.spread)
    )
}

/// That the airflow is an opinion's and not the table's, and what the other taps are then.
pub(super) fn anchored(job: &Job, anchored: &Anchored) -> String {
    let (by, ratio) = (anchored.by.name(), anchored.ratio);
    let off = match percent((ratio - 1.0).abs()) {
        same if same == percent(0.0) => "as much as the table's".to_owned(),
        off if ratio < 1.0 => format!("{off} under the table's"),
        off => format!("{off} over the table's"),
    };
    match anchored.from {
        AnchoredFrom::Here { scales: true, .. } => {
            format!("The airflow is taken by the {by}, {off}, and every tap with it")
        }
        AnchoredFrom::Here { scales: false, .. } => format!(
            "The airflow is taken by the {by}, {off}, for the {} that ran; the others are as the table has them, and their ± allows that it is off alike on all of them",
            super::tap_word(job)
        ),
        AnchoredFrom::Elsewhere { set, .. } => {
            let name = job.sets.get(set).map(|set| set.name.as_str()).unwrap_or_default();
            format!("Every {} is taken by the {by} of {}, {off}", super::tap_word(job), name_of_set(set, name))
        }
    }
}

/// That the opinion chosen is of other readings, and what that means for these.
pub fn anchored_elsewhere(job: &Job, anchor: Anchor) -> String {
    let name = job.sets.get(anchor.set).map(|set| set.name.as_str()).unwrap_or_default();
    let of = format!("{} of {}", anchor.by.name(), name_of_set(anchor.set, name));
    if anchor.scales {
        format!("By the {of}")
    } else {
        format!("These readings are by the table: the {of} is not theirs")
    }
}

/// That every tap is scaled, as an assumption.
pub(super) fn scaled(by: OpinionKind) -> String {
    format!("The table is scaled by the {}: it is taken to be off alike on every tap", by.name())
}

/// How an airflow is known that is not the table's own: ", by the plate", ", scaled by the plate"; nothing where it is.
pub(super) fn standing(anchored: Option<&Anchored>, is_as_found: bool) -> String {
    match anchored {
        Some(anchored) if anchored.is_here() && is_as_found => format!(", by the {}", anchored.by.name()),
        Some(anchored) if anchored.scales() => format!(", scaled by the {}", anchored.by.name()),
        Some(_) | None => String::new(),
    }
}

/// Which of table and opinions agree with each other.
pub(super) fn together(together: &Together) -> String {
    let named = |voices: &[Voice]| listed(&voices.iter().map(|voice| name(*voice)).collect::<Vec<_>>());
    match (&together.agreeing[..], &together.apart[..]) {
        ([], apart) => {
            format!("Of {}, no larger part agrees than any other: read again what is easiest to read", named(apart))
        }
        (agreeing, []) => format!("{} all agree", super::capital(&named(agreeing))),
        (agreeing, apart) => {
            let first = if apart.contains(&Voice::Table) {
                "the blower does not perform to its table, or the table is not this machine's"
            } else {
                "look there first"
            };
            format!(
                "{} agree with each other, but not with {}: {first}",
                super::capital(&named(agreeing)),
                named(apart)
            )
        }
    }
}

fn name(voice: Voice) -> String {
    match voice {
        Voice::Table => "the table".to_owned(),
        Voice::Opinion(OpinionKind::Heat) => "the rise".to_owned(),
        Voice::Opinion(kind) => format!("the {}", kind.name()),
    }
}

/// An opinion in one line of a list: its name, its airflow with ±, and whether it agrees with the table.
pub fn line(opinion: &Opinion, units: UnitSystem) -> (String, String) {
    let figures = format!("{} ± {}", airflow(opinion.airflow, units), show::spread_bare(opinion.spread, units));
    let side = match (opinion.agrees, opinion.ratio() < 1.0) {
        (true, _) => "agrees",
        (false, true) => "less",
        (false, false) => "more",
    };
    (super::capital(opinion.kind.name()), format!("{figures}, {side}"))
}

/// What is still missing of what was begun: an opinion that one reading more would give.
pub fn wanted(job: &Job) -> Vec<&'static str> {
    let set = job.set();
    let plate = &set.airflow.plate;
    let mut wanted = Vec::new();
    if plate.airflow.is_none() && plate.at_one.is_some() != plate.drop.is_some() {
        wanted.push("The plate's law wants both: its airflow at 1 in. w.c. and the difference read");
    }
    if plate.usual_static.is_some() != plate.plate_static.is_some() {
        wanted.push("To undo what the plate takes, read the supply plenum's static both without and with it");
    }
    if plate.statics().is_some() && plate.airflow.is_none() && (plate.at_one.is_none() || plate.drop.is_none()) {
        wanted.push("The plenum's statics correct a plate's airflow: type that as well");
    }
    if set.heat.amps.is_some() && set.voltage.is_none() && set.heat.input.is_none() {
        wanted.push("The heater's current wants the supply voltage beside it");
    }
    wanted
}

/// "3 grilles, together 325 cfm"; nothing for one number or none.
pub fn added_up(job: &Job, side: PathSide, units: UnitSystem) -> Option<String> {
    let grilles = job.set().airflow.grilles(side);
    let sum = job.set().airflow.sum(side).filter(|_| grilles.len() > 1)?;
    Some(format!("{} grilles, together {}", grilles.len(), airflow(sum, units)))
}
