//! Second opinions on the airflow against hand arithmetic: rise and heat, grilles, a plate, watts; what they say of the table and of each other.

use proptest::prelude::*;
use tapcross::edit::{Edit, apply};
use tapcross::files::job_file;
use tapcross::files::library::Library;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::airflow_read::OpinionKind;
use tapcross::model::facts::blower::{Call, TapData};
use tapcross::model::facts::duct::design::PathSide;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::{CoilState, Phase, ReadAt};
use tapcross::model::search;
use tapcross::model::verdicts::opinions::{Basis, Opinion};
use tapcross::model::wording;
use tapcross::report::json::Report;
use tapcross::units::{Airflow, Power, Pressure, UnitSystem};

fn job(name: &str, call: Call, before: f64, after: f64) -> Job {
    let (library, _) = Library::shipped();
    let table = library.entries[library.search(name)[0]].table.clone();
    let mut job = Job::default();
    let read = |at, in_wc| Edit::Reading(ReadAt::Port(at), vec![Pressure::from_in_wc(in_wc)]);
    for edit in [Edit::Machine(Box::new(table)), Edit::Call(call), read(RETURN_PORT, before), read(SUPPLY_PORT, after)]
    {
        apply(&mut job, edit).unwrap();
    }
    job
}

fn number(job: &mut Job, number: JobNumber, value: f64) {
    apply(job, Edit::Number(number, Some(value))).unwrap();
}

fn grilles(job: &mut Job, side: PathSide, cfm: &[f64]) {
    apply(job, Edit::Grilles(side, cfm.iter().copied().map(Airflow::from_cfm).collect())).unwrap();
}

/// A furnace of 80 %, heating, at 0.50: 1,090 by its table, 1,115 by rise and clocked meter (worked in the worked cases).
fn heated() -> Job {
    let mut job = job("GF-80P", Call::HeatingHigh, -0.20, 0.30);
    for (which, value) in [
        (JobNumber::MeasuredRise, 55.0),
        (JobNumber::MeterSeconds, 45.0),
        (JobNumber::MeterDial, 1.0),
        (JobNumber::HeatingValue, 1000.0),
        (JobNumber::BurnerEfficiency, 0.80),
    ] {
        number(&mut job, which, value);
    }
    job
}

/// The same machine in cooling, its coil still dry: no air on its way is warmer or colder than another.
fn cool() -> Job {
    let mut job = job("GF-80P", Call::CoolingHigh, -0.20, 0.30);
    apply(&mut job, Edit::Coil(CoilState::Dry)).unwrap();
    job
}

fn opinion(job: &Job, kind: OpinionKind) -> Option<Opinion> {
    Answer::of(job).opinions.into_iter().find(|opinion| opinion.kind == kind)
}

fn by(job: &Job, kind: OpinionKind) -> Opinion {
    opinion(job, kind).unwrap_or_else(|| panic!("no {kind:?}: {:?}", Answer::of(job).found.err()))
}

fn table_airflow(job: &Job) -> f64 {
    Answer::of(job).point().unwrap().now.airflow.cfm()
}

fn said(job: &Job) -> String {
    let answer = Answer::of(job);
    let findings = answer.findings.iter().map(|finding| wording::sentence(job, finding, UnitSystem::InchPound));
    let problems = answer.problems.iter().map(|problem| problem.what.sentence(UnitSystem::InchPound));
    findings.chain(problems).collect::<Vec<_>>().join("\n")
}

fn report(job: &Job) -> serde_json::Value {
    let answer = Answer::of(job);
    serde_json::to_value(Report::of("", job, &answer, search::to_the_end(job))).expect("a report")
}

fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value}, not {expected}");
}

/// Output 80,000 · 0.8 + 3.412 · W over 1.08 · (ρ/0.075) · 55: the published factor 60 · 0.24 · 0.075 = 1.08 at the blower inlet's density, the blower's own heat in it.
#[test]
fn rise_and_heat_follow_the_density_and_take_in_the_blowers_watts() {
    let mut job = heated();
    number(&mut job, JobNumber::Power, 500.0);
    let density = Answer::of(&job).blower().air.density.lb_ft3();
    let by_hand = |watts: f64, density: f64| (64_000.0 + 3.412_142 * watts) / (1.08 * density / 0.075 * 55.0);
    near(by(&job, OpinionKind::Heat).airflow.cfm(), by_hand(500.0, density), 0.01);
    number(&mut job, JobNumber::Altitude, 5_000.0);
    let high = Answer::of(&job).blower().air.density.lb_ft3();
    assert!(high < 0.85 * density, "{high}");
    near(by(&job, OpinionKind::Heat).airflow.cfm(), by_hand(500.0, high), 0.01);
}

/// An air handler's strips: 230 V · 41 A = 9,430 W and the blower's 500, by 3.412 Btu/h a watt 33,883; three phases take √3 times the strips'.
#[test]
fn electric_heat_is_known_by_volts_and_amps() {
    let mut job = job("AH-42T", Call::HeatingHigh, -0.20, 0.25);
    let volts = job.machine.as_ref().unwrap().basis.voltage.map_or(230.0, tapcross::units::Voltage::volts);
    for (which, value) in [
        (JobNumber::MeasuredRise, 25.0),
        (JobNumber::HeaterAmps, 41.0),
        (JobNumber::Voltage, volts),
        (JobNumber::Power, 500.0),
    ] {
        number(&mut job, which, value);
    }
    let density = Answer::of(&job).blower().air.density.lb_ft3();
    let by_hand = |phases: f64| (volts * 41.0 * phases + 500.0) * 3.412_142 / (1.08 * density / 0.075 * 25.0);
    let said = by(&job, OpinionKind::Heat);
    assert_eq!(said.basis, Basis::MeasuredHeat);
    near(said.airflow.cfm(), by_hand(1.0), 0.01);
    apply(&mut job, Edit::Phase(Phase::Three)).unwrap();
    near(by(&job, OpinionKind::Heat).airflow.cfm(), by_hand(3.0_f64.sqrt()), 0.02);
}

/// Where nothing leaks and no air is warmed, the grilles of either side are the blower's airflow; a hood's limit of 10 % is 11.5 % at 95 %.
#[test]
fn grilles_add_up_to_the_blowers_airflow() {
    let mut job = cool();
    grilles(&mut job, PathSide::Supply, &[420.0, 380.0, 300.0]);
    grilles(&mut job, PathSide::Return, &[1_085.0]);
    let (supply, back) = (by(&job, OpinionKind::SupplySum), by(&job, OpinionKind::ReturnSum));
    near(supply.airflow.cfm(), 1_100.0, 1e-9);
    near(back.airflow.cfm(), 1_085.0, 1e-6);
    near(supply.spread.cfm(), 1_100.0 * 2.0 * 0.1 / 3.0_f64.sqrt(), 1e-9);
    assert_eq!(supply.basis, Basis::Grilles { count: 3, share: 1.0 });
    assert!(
        said(&job).contains("By 3 supply grilles, 1,100 cfm in all, the blower moves 1,100 cfm, ± 127"),
        "{}",
        said(&job)
    );
}

/// Through a rise of 55 °F from 70 °F the same air is 1 + 55/529.67 = 1.104 times as much at the grilles.
/// Behind a wet coil it has 55 °F and 90 %, 0.0767 lb/ft³, where the blower breathes 0.0745: 0.972 times as much.
#[test]
fn warm_air_is_more_at_the_grilles_and_cold_air_less() {
    let mut warm = heated();
    grilles(&mut warm, PathSide::Supply, &[1_200.0]);
    near(by(&warm, OpinionKind::SupplySum).airflow.cfm(), 1_200.0 / (1.0 + 55.0 / 529.67), 1e-6);
    let mut cold = cool();
    apply(&mut cold, Edit::Coil(CoilState::Wet)).unwrap();
    grilles(&mut cold, PathSide::Supply, &[1_000.0]);
    near(by(&cold, OpinionKind::SupplySum).airflow.cfm(), 1_000.0 / 0.9719, 0.3);
}

/// A leak of 12 % behind the blower keeps that from the rooms: 0.88 of the blower's air at the grilles agrees with all of it at the blower.
#[test]
fn a_leak_on_the_path_is_counted_and_not_found_again() {
    let mut job = cool();
    let duct = job.path.first(ElementKind::SupplyDuct).unwrap().id;
    apply(&mut job, Edit::AddLeak(duct, 0.12)).unwrap();
    let moved = table_airflow(&job);
    grilles(&mut job, PathSide::Supply, &[0.88 * moved]);
    let supply = by(&job, OpinionKind::SupplySum);
    near(supply.airflow.cfm(), moved, 1e-6 * moved);
    assert!(said(&job).contains("12 % lost on the way"), "{}", said(&job));
    // From the rooms all of it comes.
    grilles(&mut job, PathSide::Return, &[moved]);
    near(by(&job, OpinionKind::ReturnSum).airflow.cfm(), moved, 1e-6 * moved);
}

/// 2,500 · √0.19 = 1,090 in standard air, at 0.0745 by √(0.075/0.0745) more; the plenum at 0.30 without and 0.27 with it adds √(0.30/0.27).
/// Its limit of 7 %, the manometer's of 1 % (or 0.0008) on the difference to the power of one half, and half of both statics'.
#[test]
fn a_plate_tells_the_airflow_by_its_makers_law() {
    let mut job = cool();
    for (which, value) in [(JobNumber::PlateConstant, 2_500.0), (JobNumber::PlateDrop, 0.19)] {
        number(&mut job, which, value);
    }
    let density = Answer::of(&job).blower().air.density.lb_ft3();
    let through = 2_500.0 * 0.19_f64.sqrt() * (0.075 / density).sqrt();
    let plate = by(&job, OpinionKind::Plate);
    near(plate.airflow.cfm(), through, 1e-6);
    assert_eq!(plate.basis, Basis::Plate { by_law: true, corrected: false });
    assert!(said(&job).contains("with the plate in and not corrected for it"), "{}", said(&job));
    number(&mut job, JobNumber::UsualStatic, 0.30);
    number(&mut job, JobNumber::PlateStatic, 0.27);
    let corrected = by(&job, OpinionKind::Plate);
    near(corrected.airflow.cfm(), through * (0.30_f64 / 0.27).sqrt(), 1e-6);
    let u = [0.07, 0.5 * 0.01, 0.5 * 0.01, 0.5 * 0.01].map(|limit: f64| limit * limit / 3.0).iter().sum::<f64>().sqrt();
    near(corrected.spread / corrected.airflow, 2.0 * u, 1e-9);
    // Its own scale goes before its law.
    number(&mut job, JobNumber::PlateAirflow, 1_000.0);
    near(by(&job, OpinionKind::Plate).told.cfm(), 1_000.0, 1e-9);
}

/// The watts of every row fall by 40 W for each 0.1 in. w.c.
fn with_falling_watts(mut job: Job) -> Job {
    for tap in &mut job.machine.as_mut().unwrap().taps {
        if let TapData::Column(rows) = &mut tap.data {
            for row in rows {
                row.power = Some(Power::from_watts(700.0 - 400.0 * row.esp.in_wc()));
            }
        }
    }
    job
}

/// Read where the table has them, watts give the table's own airflow; 20 W less is 0.05 in. w.c. further along the same curve.
#[test]
fn falling_watts_are_read_backwards() {
    let mut job = with_falling_watts(cool());
    let point = Answer::of(&job).point().unwrap().now;
    let watts = 700.0 - 400.0 * point.entry.in_wc();
    number(&mut job, JobNumber::Power, watts);
    near(by(&job, OpinionKind::Watts).airflow.cfm(), point.airflow.cfm(), 1e-6);
    number(&mut job, JobNumber::Power, watts - 20.0);
    let curve_at = |in_wc: f64| {
        let answer = Answer::of(&job);
        let shape = answer.blower().shapes[answer.blower().in_use.unwrap()].clone();
        shape.curve().unwrap().value_and_slope(in_wc).0
    };
    let less = by(&job, OpinionKind::Watts);
    near(less.airflow.cfm(), curve_at(point.entry.in_wc() + 0.05), 1e-6);
    assert!(less.agrees, "20 W are within what table and meter leave in doubt");
    // Far less is told in watts, and once.
    number(&mut job, JobNumber::Power, watts - 150.0);
    let text = said(&job);
    assert!(text.contains("W where the table gives") && !text.contains("By the watts read"), "{text}");
}

/// Level watts, and those that turn round, tell no airflow.
#[test]
fn watts_that_do_not_fall_or_rise_throughout_tell_no_airflow() {
    let mut job = with_falling_watts(cool());
    number(&mut job, JobNumber::Power, 500.0);
    for watts in [|_: f64| 500.0, |in_wc: f64| 500.0 - 300.0 * (in_wc - 0.45).powi(2)] {
        for tap in &mut job.machine.as_mut().unwrap().taps {
            if let TapData::Column(rows) = &mut tap.data {
                for row in rows {
                    row.power = Some(Power::from_watts(watts(row.esp.in_wc())));
                }
            }
        }
        assert_eq!(opinion(&job, OpinionKind::Watts), None);
    }
}

/// Less than the table and more than it have other causes, and each kind its own.
#[test]
fn the_causes_fit_the_kind_and_the_sign() {
    let cases: [(PathSide, f64, &[&str], &[&str]); 4] = [
        (PathSide::Supply, 0.75, &["a leak between blower and grilles", "dirty wheel"], &["counted twice"]),
        (PathSide::Supply, 1.25, &["a hood that reads high", "counted twice"], &["leak", "dirty wheel"]),
        (PathSide::Supply, 2.0, &["a grille counted twice, a sum typed beside its parts"], &["dirty wheel"]),
        (PathSide::Return, 0.75, &["draws air from elsewhere before the blower"], &["between blower and grilles"]),
    ];
    for (side, of_table, there, not_there) in cases {
        let mut job = cool();
        let moved = table_airflow(&job);
        grilles(&mut job, side, &[of_table * moved]);
        let text = said(&job);
        assert!(text.contains("find out which before anything is changed"), "{text}");
        assert!(there.iter().all(|cause| text.contains(cause)), "{side:?} {of_table}: {text}");
        assert!(not_there.iter().all(|cause| !text.contains(cause)), "{side:?} {of_table}: {text}");
    }
}

/// Rise and meter say 1,115 and the grilles as much at the blower, the table 1,090: all agree. Where heat and grilles both say 815 or so, the table stands apart; where the grilles alone do, they do.
#[test]
fn of_three_it_is_said_which_agree() {
    let mut job = heated();
    let warm = |cfm: f64| cfm * (1.0 + 55.0 / 529.67);
    grilles(&mut job, PathSide::Supply, &[warm(1_115.0)]);
    assert!(said(&job).contains("The table, the rise and the supply grilles all agree"), "{}", said(&job));
    grilles(&mut job, PathSide::Supply, &[warm(815.0)]);
    let text = said(&job);
    assert!(
        text.contains(
            "The table and the rise agree with each other, but not with the supply grilles: look there first"
        ),
        "{text}"
    );
    number(&mut job, JobNumber::MeasuredRise, 75.0);
    grilles(&mut job, PathSide::Supply, &[815.0 * (1.0 + 75.0 / 529.67)]);
    let text = said(&job);
    assert!(
        text.contains("The rise and the supply grilles agree with each other, but not with the table: the blower does not perform to its table"),
        "{text}"
    );
}

#[test]
fn the_report_has_every_opinion() {
    let mut job = heated();
    grilles(&mut job, PathSide::Supply, &[500.0, 700.0]);
    number(&mut job, JobNumber::PlateAirflow, 1_090.0);
    let report = report(&job);
    let opinions = report["second_opinions"].as_array().unwrap();
    let kinds: Vec<&str> = opinions.iter().map(|opinion| opinion["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["heat", "supply_sum", "plate"]);
    assert_eq!(opinions[0]["airflow_cfm"], report["operating_point"]["by_heat_airflow_cfm"]);
    assert_eq!(opinions[1]["read_cfm"], 1_200.0);
    assert_eq!(opinions[1]["agrees_with"], serde_json::json!(["heat", "plate"]));
    assert_eq!(opinions[2]["agrees"], true);
}

/// Each wrong input in words that name it, what it is and what would be right; the rest keeps working.
#[test]
fn what_cannot_be_is_said_at_its_place() {
    let job = heated();
    let refused = |edit: Edit| apply(&mut job.clone(), edit).unwrap_err().sentence(UnitSystem::InchPound);
    let grille = |cfm| Edit::Grilles(PathSide::Supply, vec![Airflow::from_cfm(cfm)]);
    for (edit, sentence) in [
        (
            Edit::Number(JobNumber::MeasuredRise, Some(0.0)),
            "A measured rise of 0 °F cannot be; it lies between 2 and 150 °F",
        ),
        (
            Edit::Number(JobNumber::HeatInput, Some(-80_000.0)),
            "A heat input of −80,000 Btu/h cannot be; it lies between 1,000 and 500,000 Btu/h",
        ),
        (grille(0.0), "An airflow of 0 cfm at a grille cannot be; it lies between 1 and 20,000 cfm"),
        (
            Edit::Number(JobNumber::PlateDrop, Some(0.0)),
            "A plate's difference of 0.00 in. w.c. cannot be; it lies between 0.005 and 5 in. w.c.",
        ),
        (
            Edit::Number(JobNumber::HeaterAmps, Some(0.0)),
            "A current of 0 A into the elements cannot be; it lies between 1 and 600 A",
        ),
        (
            Edit::Grilles(PathSide::Return, vec![Airflow::from_cfm(50.0); 101]),
            "Set 1 (As found): 101 grilles of a side are too many; at most 100 can be",
        ),
    ] {
        assert_eq!(refused(edit), sentence);
    }
    // A meter clocked for one second comes to 3.6 million Btu/h: asked about, not used, and the rated heat stands in.
    let mut hasty = job.clone();
    number(&mut hasty, JobNumber::MeterSeconds, 1.0);
    let text = said(&hasty);
    assert!(text.contains("A heat input of 3,600,000 Btu/h cannot be"), "{text}");
    assert_eq!(by(&hasty, OpinionKind::Heat).basis, Basis::RatedHeat);
    // No grille is no opinion.
    let mut none = job;
    grilles(&mut none, PathSide::Supply, &[]);
    assert_eq!(opinion(&none, OpinionKind::SupplySum), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Grilles add up in any order, and in any units: an edit holds airflows, not texts.
    #[test]
    fn grilles_add_up_in_any_order(cfm in proptest::collection::vec(20.0..200.0, 1..12)) {
        let mut job = cool();
        grilles(&mut job, PathSide::Supply, &cfm);
        let one = by(&job, OpinionKind::SupplySum);
        let mut turned = cfm;
        turned.reverse();
        grilles(&mut job, PathSide::Supply, &turned);
        let other = by(&job, OpinionKind::SupplySum);
        prop_assert!((one.airflow - other.airflow).abs().cfm() < 1e-9 * one.airflow.cfm());
        prop_assert_eq!(one.agrees, other.agrees);
    }

    /// Whatever was read of the airflow comes back from the file, and leaves what the table says alone.
    #[test]
    fn an_opinion_is_kept_in_the_file_and_changes_no_point(cfm in 300.0..2500.0, drop in 0.02..0.6, n in 0.45..1.0) {
        let mut job = cool();
        let before = table_airflow(&job);
        grilles(&mut job, PathSide::Return, &[cfm, 100.0]);
        for (which, value) in [(JobNumber::PlateConstant, cfm), (JobNumber::PlateDrop, drop), (JobNumber::PlateExponent, n)] {
            number(&mut job, which, value);
        }
        prop_assert!((table_airflow(&job) - before).abs() < 1e-12);
        prop_assert_eq!(&job_file::parse(&job_file::write(&job)).unwrap(), &job);
    }
}
