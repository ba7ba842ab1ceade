//! Many changes at one place: the same figures as by hand, and no more work than their number asks for.

use tapcross::edit::{self, Edit};
use tapcross::files::{demo, job_file};
use tapcross::model::answer::Answer;
use tapcross::model::change::kinds::ALL;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{ChangeKind, Opening, PanelOff, SecondReturn};
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::Run;
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::limits::MOST_CHANGES;
use tapcross::model::first_guess;
use tapcross::model::path::parts::Part;
use tapcross::units::{Airflow, Area, Dimension, Length};

/// Levels of ways within ways.
fn depth(parts: &[Part]) -> usize {
    let of = |part: &Part| part.ways.iter().map(|way| 1 + depth(way)).max().unwrap_or(0);
    parts.iter().map(of).max().unwrap_or(0)
}

/// A second return of a diameter in inches.
fn second_return(diameter: f64) -> ChangeKind {
    ChangeKind::SecondReturn(SecondReturn {
        run: Run::straight(Section::round(Dimension::from_in(diameter)), Length::from_ft(20.0), Material::Galvanized),
        grille: Opening { face: Area::from_in2(280.0), free_area: 0.7 },
        filter: None,
    })
}

fn with(job: &Job, kinds: impl IntoIterator<Item = ChangeKind>) -> Job {
    let mut job = job.clone();
    for kind in kinds {
        edit::apply(&mut job, Edit::AddChange(kind)).unwrap();
    }
    job
}

/// The drop at which ways, each with a drop that rises with its airflow, take an airflow together: by halving, and halving within that.
fn bisected(ways: &[&dyn Fn(f64) -> f64], cfm: f64) -> f64 {
    let halved = |is_low: &dyn Fn(f64) -> bool, mut low: f64, mut high: f64| {
        for _ in 0..200 {
            let middle = f64::midpoint(low, high);
            if is_low(middle) { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    };
    let flow_at = |way: &dyn Fn(f64) -> f64, drop: f64| halved(&|flow| way(flow) < drop, 0.0, cfm * 2.0);
    halved(&|drop| ways.iter().map(|way| flow_at(way, drop)).sum::<f64>() < cfm, 0.0, 10.0)
}

/// Each stands beside the return as read; what one alone makes gives its law.
#[test]
fn several_second_returns_drop_what_their_ways_side_by_side_drop() {
    let diameters = [12.0, 10.0, 14.0, 8.0];
    let job = demo::gas_furnace();
    let held = |count: usize| {
        let job = with(&job, diameters.into_iter().take(count).map(second_return));
        Answer::of(&job).with_changes().unwrap().system.parts.clone()
    };
    let of_return = |parts: &[Part]| parts.iter().find(|part| !part.ways.is_empty()).unwrap().clone();
    let alone: Vec<Part> = diameters
        .iter()
        .map(|diameter| {
            let job = with(&job, [second_return(*diameter)]);
            of_return(&Answer::of(&job).with_changes().unwrap().system.parts)
        })
        .collect();
    let drop_of = |way: &[Part], cfm: f64| way.iter().map(|part| part.drop_at(Airflow::from_cfm(cfm)).in_wc()).sum();
    let stands = |cfm: f64| drop_of(&alone[0].ways[0], cfm);
    let seconds: Vec<Box<dyn Fn(f64) -> f64>> = alone
        .iter()
        .map(|group| Box::new(|cfm: f64| drop_of(group.ways.last().unwrap(), cfm)) as Box<dyn Fn(f64) -> f64>)
        .collect();
    for count in 1..=diameters.len() {
        let group = of_return(&held(count));
        let mut ways: Vec<&dyn Fn(f64) -> f64> = vec![&stands];
        ways.extend(seconds[..count].iter().map(|way| &**way as &dyn Fn(f64) -> f64));
        for cfm in [300.0, 1000.0, 1600.0] {
            let (found, right) = (group.drop_at(Airflow::from_cfm(cfm)).in_wc(), bisected(&ways, cfm));
            assert!((found / right - 1.0).abs() < 1e-9, "{count} at {cfm} cfm: {found}, not {right}");
        }
    }
}

/// Sixteen once took years: each stood beside a group of those before it, which was solved anew at every step.
#[test]
fn however_many_changes_of_a_kind_the_ways_stand_no_deeper() {
    let tree = job_file::parse(include_str!("../data/jobs/v1-ways.ron")).unwrap();
    for (name, job) in [("gas furnace", demo::gas_furnace()), ("heat pump", demo::heat_pump()), ("tree", tree)] {
        let job = Job { changes: Vec::new(), ..job };
        let answer = Answer::of(&job);
        let deepest = depth(&answer.point().unwrap().system.parts) + 1;
        for declared in ALL {
            let lands = |kind: ElementKind| declared.lands_on(kind);
            let all = job.path.all();
            let bypass = job.path.bypass.as_ref().filter(|_| lands(ElementKind::Bypass)).map(|bypass| bypass.id);
            let element = all.iter().find(|element| lands(element.kind)).map(|element| element.id).or(bypass);
            let Some(kind) = element.and_then(|element| first_guess::first(declared, element, &job, &answer)) else {
                continue;
            };
            for many in [3, 16, 60, MOST_CHANGES] {
                let job = with(&job, std::iter::repeat_n(kind.clone(), many));
                let answer = Answer::of(&job);
                let after = answer.with_changes().unwrap();
                let found = depth(&after.system.parts);
                assert!(found <= deepest, "{name}: {many} of {}: {found} deep, not {deepest}", declared.name);
                assert_eq!(after.worths.len(), many);
            }
        }
    }
}

/// All three places at which changes lay a way: before the filter, with a filter, and past the whole return.
#[test]
fn returns_of_both_sorts_and_open_panels_make_three_groups() {
    let job = demo::gas_furnace();
    let answer = Answer::of(&job);
    let ChangeKind::SecondReturn(SecondReturn { run, grille, .. }) = second_return(12.0) else {
        unreachable!("it is one")
    };
    let filter = tapcross::model::facts::drop_data::DropData::at(
        Airflow::from_cfm(600.0),
        tapcross::units::Pressure::from_in_wc(0.1),
        1.2,
    );
    let with_filter = ChangeKind::SecondReturn(SecondReturn { run, grille, filter: filter.ok() });
    let panel = ChangeKind::PanelOff(PanelOff { area: Area::from_in2(30.0) });
    let kinds = [with_filter, panel, second_return(12.0)];
    let job = with(&job, kinds.iter().cycle().take(60).cloned());
    let found = Answer::of(&job);
    let after = found.with_changes().unwrap();
    assert_eq!(after.refused, []);
    let deepest = depth(&answer.point().unwrap().system.parts) + 3;
    assert!(depth(&after.system.parts) <= deepest, "{} deep", depth(&after.system.parts));
    assert!(after.system.point().unwrap().airflow > answer.point().unwrap().now.airflow);
}
