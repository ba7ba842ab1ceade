//! What one change does by itself, and the size that it is asked for, as its editor says it.

use crate::model::alone::{self, AtBlowerAndRooms, Eased, NewWay, OddRun};
use crate::model::answer::Answer;
use crate::model::change::{self, Size};
use crate::model::facts::change::ChangeKind;
use crate::model::facts::duct::fitting::{Fitting, FittingSum};
use crate::model::facts::job::Job;
use crate::model::facts::limits::Limits;
use crate::model::laws::duct::stock;
use crate::model::wording::uncapital;
use crate::units::{Airflow, UnitSystem, Velocity, show};

/// "Drop 0.21 → 0.13 in. w.c. at 1,200 cfm".
pub fn eased(eased: &Eased, units: UnitSystem) -> String {
    let (before, after) = (show::pressure_bare(eased.before, units), show::pressure(eased.after, units));
    format!("Drop {before} → {after} at {}", show::airflow(eased.airflow, units))
}

/// What is asked of a run whose sizes and whose share disagree.
pub fn odd_run(run: &str, odd: &OddRun, units: UnitSystem) -> String {
    format!(
        "By its own sizes the {run} takes {} at {}, by its share of the stretch {}: are these its sizes and fittings? If it is the trunk only, say what part of the drop it is",
        show::pressure(odd.by_size, units),
        show::airflow(odd.airflow, units),
        show::pressure_bare(odd.by_share, units)
    )
}

/// "At the blower 1,200 → 1,180 cfm, to the rooms 1,050 → 1,110 cfm".
pub fn by_air(told: &AtBlowerAndRooms, units: UnitSystem) -> String {
    let from_to =
        |(from, to): (Airflow, Airflow)| format!("{} → {}", show::airflow_bare(from, units), show::airflow(to, units));
    format!("At the blower {}, to the rooms {}", from_to(told.at_blower), from_to(told.to_rooms))
}

/// "≈ 300 cfm come this way: 550 fpm in the 10 in. duct, at most 700; 220 fpm at the grille's face, at most 500".
pub fn new_way(way: &NewWay, limits: &Limits, units: UnitSystem) -> String {
    format!(
        "≈ {} come this way: {} in the {} duct, at most {}; {} at the grille's face, at most {}",
        show::airflow(way.airflow, units),
        show::velocity(way.in_run, units),
        change::section(way.section, units),
        show::velocity_bare(limits.duct_velocity, units),
        show::velocity(way.at_face, units),
        show::velocity_bare(limits.grille_velocity, units)
    )
}

/// "Now 2.2: 1 typed + mitred 90° elbow without vanes 1.20 + 2 × plain tee 1.80".
pub fn fittings(of: &str, made: &FittingSum) -> String {
    let typed = (made.typed > 0.0).then(|| format!("{} typed", show::trimmed(made.typed, 3)));
    let fitting = |(fitting, count): &(Fitting, u32)| {
        let times = if *count > 1 { format!("{count} × ") } else { String::new() };
        format!("{times}{} {}", uncapital(fitting.name), show::number(fitting.coefficient, 2))
    };
    let all: Vec<String> = typed.into_iter().chain(made.fittings.iter().map(fitting)).collect();
    format!("{of} {}: {}", show::trimmed(made.sum(), 3), all.join(" + "))
}

/// What is asked of a change's sizes: of a run that takes another drop by them, of a new way or another grille whose air will be heard.
pub fn questions(job: &Job, answer: &Answer, kind: &ChangeKind, units: UnitSystem) -> Vec<String> {
    let odd = alone::odd_run(job, answer, kind);
    let run = kind.element().map_or_else(|| "run".to_owned(), |id| job.path.said(id));
    let odd = odd.map(|odd| odd_run(&run, &odd, units));
    let way = alone::new_way(job, answer, kind).ok().flatten();
    let in_run = way.map(|way| (way.in_run, format!("in the {} duct", change::section(way.section, units))));
    let at_face = way.map(|way| way.at_face).or_else(|| alone::at_face(job, answer, kind));
    let limits = &job.limits;
    let heard = [
        in_run.and_then(|(velocity, place)| heard(velocity, limits.duct_velocity, &place, ("duct", units))),
        at_face.and_then(|velocity| heard(velocity, limits.grille_velocity, "at the grille's face", ("grille", units))),
    ];
    odd.into_iter().chain(heard.into_iter().flatten()).collect()
}

/// "770 fpm in the 12 in. duct is more than 700 and will be heard: a larger duct, or another return beside it"; nothing at or under the most.
fn heard(velocity: Velocity, most: Velocity, place: &str, (what, units): (&str, UnitSystem)) -> Option<String> {
    (velocity > most).then(|| {
        format!(
            "{} {place} is more than {} and will be heard: a larger {what}, or another return beside it",
            show::velocity(velocity, units),
            show::velocity_bare(most, units)
        )
    })
}

/// "14 in round, the next stock size over 12.6 in"; "330 in² or more".
pub fn size(size: Size, units: UnitSystem) -> String {
    match size {
        Size::Area(area) => format!("{} or more", show::area(alone::whole(area), units)),
        Size::Round(diameter) => {
            let exact = show::dimension(diameter, units);
            stock::round_at_least(diameter).map_or_else(
                || format!("{exact} round, larger than any stock size"),
                |stocked| format!("{} round, the next stock size over {exact}", show::dimension(stocked, units)),
            )
        }
    }
}
