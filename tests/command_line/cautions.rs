//! What a report says has to be minded.

use tapcross::files::demo;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::job::Job;
use tapcross::units::{TemperatureRise, Voltage};

use crate::jobs::with_changes;
use crate::shop::report_of;

/// The words of a report's cautions.
fn cautions(job: &Job) -> Vec<String> {
    let report = report_of(job);
    let all = report["cautions"].as_array().expect("cautions are an array");
    for caution in all {
        let sentence = caution["sentence"].as_str().unwrap();
        assert!(sentence.ends_with('.') && sentence.len() > 40, "{sentence}");
    }
    all.iter().map(|caution| caution["word"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_report_says_what_has_to_be_minded() {
    assert_eq!(cautions(&Job::default()), ["drilling"]);
    assert_eq!(cautions(&demo::heat_pump()), ["drilling", "tap_change"]);
    // A cleaned coil and another tap, besides what is reduced by hand.
    assert_eq!(cautions(&with_changes()), ["drilling", "coil_work", "tap_change"]);
    let mut out = demo::heat_pump();
    let filter = out.path.first(ElementKind::Filter).unwrap().id;
    out.sets[0].parts_out.push(filter);
    out.sets[0].voltage = Some(Voltage::from_volts(208.0));
    assert_eq!(cautions(&out), ["drilling", "filter", "live_circuits", "tap_change"]);
}

/// Half the air at the same heat is twice the rise: a plate that ends under today's rise is passed.
#[test]
fn too_little_air_over_what_heats_comes_before_everything_else() {
    let mut job = demo::gas_furnace();
    let stage = &mut job.machine.as_mut().unwrap().heating[0];
    stage.rise = Some((TemperatureRise::from_f(5.0), TemperatureRise::from_f(10.0)));
    assert_eq!(cautions(&job)[0], "no_heat");
    assert!(!cautions(&demo::gas_furnace()).contains(&"no_heat".to_owned()), "its own plate is kept");
}
