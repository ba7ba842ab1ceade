//! Sentences of the chart: what it says when there is nothing to draw, at its foot, and to screen readers.

use crate::model::curves::Part;
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::NotRunning;
use crate::model::wording::{self, changes, visit};
use crate::ui::chart::scene::{Drawn, Scene, bound};
use crate::ui::view::Screen;
use crate::units::show;

/// What stands in the middle of an empty chart.
pub fn empty(screen: &Screen<'_>, scene: &Scene<'_>) -> Option<&'static str> {
    if matches!(screen.answer.why_not(), Some(NotRunning::NoMachine)) {
        return Some("Choose a blower, and its curves are drawn here");
    }
    scene.taps.is_empty().then_some("The table has no curve that can be drawn")
}

/// The key at the foot, longest wording first: what explains itself is left out where it has no room.
pub fn key(screen: &Screen<'_>, scene: &Scene<'_>) -> Vec<String> {
    let parts = scene.taps.iter().filter_map(|tap| match &tap.drawn {
        Drawn::Curve { parts, .. } => Some(parts),
        Drawn::Mark(_) => None,
    });
    let has_barred = parts.into_iter().flatten().any(|part| *part == Part::Barred);
    let barred = if has_barred { " · × not allowed" } else { "" };
    let lines = format!("dashed: extrapolated{barred}");
    let both = format!("solid: published · {lines}");
    let band = screen.answer.point().map(|running| {
        let after = changes::with_changes(screen.job, screen.answer).and_then(|(_, after)| after.system.runs());
        let spread = after.map_or(running.system.spreads.now, |runs| runs.spread.airflow);
        format!("{both} · band: ± {}, 95 %", show::spread(spread, screen.units))
    });
    band.into_iter().chain([both, lines]).collect()
}

/// Label of the rated maximum; in thin air the plate's figure is reached earlier.
pub fn rated(screen: &Screen<'_>, scene: &Scene<'_>, short: bool) -> Option<String> {
    let (here, plate) = scene.counts().rated?;
    let bare = |pressure| show::pressure_bare(pressure, screen.units);
    let (name, air) = match (short, scene.then.is_some()) {
        (true, _) => ("rated", ""),
        (false, false) => ("over the rated maximum,", " in this thin air"),
        (false, true) => ("over the new machine's rated maximum,", " in this thin air"),
    };
    Some(if bare(here) == bare(plate) {
        format!("{name} {}", bare(plate))
    } else {
        format!("{name} {} ({}{air})", bare(plate), bare(here))
    })
}

/// Label of the target; where it has to be short, what the line stands at alone.
pub fn target(screen: &Screen<'_>, scene: &Scene<'_>, short: bool) -> Option<String> {
    let target = scene.counts().target?;
    let told =
        if short { show::airflow_bare(target.actual, screen.units) } else { wording::target(&target, screen.units) };
    Some(format!("target {told}"))
}

/// Label of a static that was read past the end of the curve.
pub fn past_the_end(screen: &Screen<'_>, scene: &Scene<'_>) -> Option<String> {
    let (below, tesp) = bound(screen.answer)?;
    let tap = scene.in_use()?;
    Some(format!(
        "read {}: past the end of {}, below {}",
        show::pressure_bare(tesp, screen.units),
        tap.name,
        show::airflow(below, screen.units)
    ))
}

/// Where every tap crosses a path: "On the path as found: tap 1 905 cfm at 0.47 in. w.c.; tap 5 1,275 cfm at 0.93 in. w.c., over the rated maximum".
fn crossings(scene: &Scene<'_>, which: &str) -> Option<String> {
    let units = scene.plane.units;
    let said: Vec<String> = scene
        .crosses
        .iter()
        .filter_map(|cross| {
            let plate = match cross.plate {
                Some(PlateSide::Over) => ", over the rated maximum",
                Some(PlateSide::AtLimit) => ", at the rated maximum",
                Some(PlateSide::Under) | None => "",
            };
            let barred = if cross.barred { ", not allowed" } else { "" };
            let (airflow, tesp) =
                (show::airflow(cross.crossing.airflow, units), show::pressure(cross.crossing.tesp, units));
            Some(format!("{} {airflow} at {tesp}{plate}{barred}", scene.tap(cross.tap)?.name))
        })
        .collect();
    (!said.is_empty()).then(|| format!("{which}: {}", said.join("; ")))
}

/// The chart in a few sentences.
pub fn spoken(screen: &Screen<'_>, scene: &Scene<'_>) -> String {
    let units = screen.units;
    let mut said = vec!["Chart of total external static against airflow".to_owned()];
    if let Some(empty) = empty(screen, scene) {
        said.push(empty.to_owned());
    }
    if let Some(table) = screen.job.machine.as_ref().filter(|_| !scene.taps.is_empty()) {
        let names: Vec<&str> = scene.taps.iter().map(|tap| tap.name.as_str()).collect();
        said.push(format!("{}: {}", table.name, names.join(", ")));
    }
    if let (Some(running), Some(tap)) = (screen.answer.point(), scene.in_use()) {
        let now = running.now;
        said.push(format!(
            "Measured point {} at {} on {}, {}",
            show::airflow(now.airflow, units),
            show::pressure(now.tesp, units),
            tap.name,
            running.standing.curve.word()
        ));
    }
    said.extend(crossings(scene, &format!("On the path {}", visit::as_found(screen.job))));
    said.extend(changes::sentence(screen.job, screen.answer, units));
    if let Some((_, after)) = changes::with_changes(screen.job, screen.answer) {
        said.extend(crossings(&Scene::of_system(units, screen.job, &after.system), "With changes"));
    }
    said.extend(screen.beside.and_then(|beside| beside.spoken(units)));
    if let Some(past) = past_the_end(screen, scene) {
        said.push(format!("Static {past}"));
    }
    if let (Some(then), Some((_, after))) = (&scene.then, changes::with_changes(screen.job, screen.answer)) {
        let names: Vec<&str> = then.taps.iter().map(|tap| tap.name.as_str()).collect();
        let name = after.system.blower.other.as_ref().map(|table| table.name.as_str()).unwrap_or_default();
        said.push(format!("Another machine on these ducts, {name}: {}", names.join(", ")));
    }
    if let Some(target) = scene.counts().target {
        said.push(format!("Target {} {}", wording::target(&target, units), units.airflow_unit()));
    }
    if let Some((here, _)) = scene.counts().rated {
        said.push(format!("Rated maximum {}", show::pressure(here, units)));
    }
    said.join(". ")
}
