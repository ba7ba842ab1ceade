//! What is left for the ducts, on random lengths and parts.

use proptest::prelude::*;
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, ElementKind};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::verdicts::duct_allowance::{DuctAllowance, LengthVerdict};
use tapcross::units::{Airflow, Pressure};

use super::{cases, relative};

/// The furnace demo with its coil and filter by data (at 1,000 cfm) and both lengths stated.
fn job(parts: [f64; 2], lengths: [f64; 2], design: f64) -> Job {
    let mut job = demo::gas_furnace();
    let id = |kind| job.path.first(kind).map_or(ElementId(0), |element| element.id);
    let data = |kind, drop| {
        let drop = DropData::at(Airflow::from_cfm(1000.0), Pressure::from_in_wc(drop), 2.0).ok();
        Edit::ElementDrop(id(kind), drop)
    };
    let edits = [
        data(ElementKind::Filter, parts[0]),
        data(ElementKind::Coil, parts[1]),
        Edit::Number(JobNumber::ReturnLength, Some(lengths[0])),
        Edit::Number(JobNumber::SupplyLength, Some(lengths[1])),
        Edit::Number(JobNumber::DesignStatic, Some(design)),
    ];
    for edit in edits {
        apply(&mut job, edit).expect("an edit that can be");
    }
    job
}

fn allowance(job: &Job) -> DuctAllowance {
    Answer::of(job).ducts.expect("an allowance")
}

fn rate(allowance: &DuctAllowance) -> f64 {
    allowance.rate.expect("a rate").in_wc_100ft()
}

proptest! {
    #![proptest_config(cases(128))]

    #[test]
    fn longer_ducts_are_allowed_less_and_take_no_more(filter in 0.0..0.2_f64, coil in 0.0..0.2_f64, back in 5.0..900.0_f64, out in 5.0..900.0_f64, more in 1.01..2.0_f64) {
        let (short, long) = (allowance(&job([filter, coil], [back, out], 2.0)), allowance(&job([filter, coil], [back * more, out], 2.0)));
        prop_assert!(rate(&long) < rate(&short));
        let share = |allowance: &DuctAllowance, side: usize| allowance.sides[side].share.expect("a share").in_wc();
        prop_assert!(share(&long, 0) > share(&short, 0) && share(&long, 1) < share(&short, 1), "the longer side gets more");
        let rates = |allowance: &DuctAllowance| allowance.sides[0].rates().expect("rates").0.in_wc_100ft();
        prop_assert!(relative(rates(&long) * more, rates(&short)) < 1e-12);
        prop_assert_eq!(short.left, long.left);
        prop_assert_eq!(&short.sides[0].read, &long.sides[0].read);
    }

    #[test]
    fn what_is_left_is_shared_out_whole_and_a_share_is_the_rate_over_its_length(filter in 0.0..0.2_f64, coil in 0.0..0.2_f64, back in 5.0..2000.0_f64, out in 5.0..2000.0_f64, design in 1.0..5.0_f64) {
        let allowance = allowance(&job([filter, coil], [back, out], design));
        let shares: f64 = allowance.sides.iter().map(|side| side.share.expect("a share").in_wc()).sum();
        prop_assert!(relative(shares, allowance.left.in_wc()) < 1e-12);
        for side in &allowance.sides {
            let by_rate = allowance.rate.expect("a rate").over(side.length.expect("a length"));
            prop_assert!(relative(by_rate.in_wc(), side.share.expect("a share").in_wc()) < 1e-12);
            let load = side.load().expect("a load");
            let rates = side.rates().expect("rates").1.in_wc_100ft() / rate(&allowance);
            prop_assert!(relative(load, rates) < 1e-12, "by drop {load}, by rate {rates}");
            if allowance.verdict(side.side) == LengthVerdict::Over {
                prop_assert!(load > 1.0);
            }
        }
    }

    #[test]
    fn parts_with_data_and_the_static_allowed_count_one_to_one(filter in 0.01..0.2_f64, coil in 0.0..0.2_f64, more in 0.001..0.1_f64, design in 1.0..4.0_f64) {
        let of = |coil, design| allowance(&job([filter, coil], [100.0, 200.0], design));
        let (before, part, whole) = (of(coil, design), of(coil + more, design), of(coil, design + more));
        let drop_of = |allowance: &DuctAllowance| allowance.taken.iter().find(|taken| taken.kind == ElementKind::Coil).expect("a coil").drop;
        let grown = (drop_of(&part) - drop_of(&before)).in_wc();
        prop_assert!(grown > 0.0 && ((before.left - part.left).in_wc() - grown).abs() < 1e-12);
        prop_assert!(((whole.left - before.left).in_wc() - more).abs() < 1e-12);
    }
}
