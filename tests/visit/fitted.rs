//! What the fit says of readings without error, of readings that cannot all be true, and after the repair.

use tapcross::edit::{Edit, apply};
use tapcross::model::answer::Answer;
use tapcross::model::answer::visit::{Correction, Kept};
use tapcross::model::facts::accuracy::Accuracy;
use tapcross::model::facts::air_path::{ElementId, RETURN_PORT};
use tapcross::model::facts::airflow_read::{Anchor, OpinionKind};
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::change::{ByData, ChangeId, ChangeKind, FilterLoading, LessByHand, OtherTap, Switch};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{CoilState, ReadAt, ReadingSet};
use tapcross::model::path::parts::part_of;
use tapcross::model::solution::fit::Fit;
use tapcross::model::verdicts::findings::Finding;
use tapcross::model::wording;
use tapcross::model::wording::headline::{self, Beside, Tone};
use tapcross::model::wording::visit;
use tapcross::units::{Airflow, Power, Pressure, TemperatureRise, UnitSystem};

use super::house::{COIL, FILTER, GRILLE, REGISTERS, RETURN, SAME, SUPPLY, assert_near, curve, data, with};
use super::truth::{Errors, Truth, job_of};

/// The return's lump in the proportion of its usual weights, and the supply's, so that their laws are exact as well.
fn house() -> Truth {
    Truth::of([0.08, 0.16, 0.20, 0.18, 0.18, 0.12])
}

/// The same readings taken again, which differ in their last digit.
fn again(out: &[ElementId], tap: &str) -> ReadingSet {
    house().read(out, tap, Errors::default(), [0.001; 2])
}

fn exact(out: &[ElementId], tap: &str) -> ReadingSet {
    house().read(out, tap, Errors::default(), [0.0; 2])
}

fn fit_of(sets: Vec<ReadingSet>) -> Fit {
    Answer::of(&job_of(sets)).visit.expect("a visit").fit.expect("a fit")
}

/// As found, registers off, filter out, the other tap: every column comes back, and the simple difference does not.
#[test]
fn parts_pulled_one_after_the_other_are_told_apart_at_the_read_airflow() {
    let sets = [&[][..], &[REGISTERS], &[FILTER]].map(|out| exact(out, "A"));
    let differences = [0, 1].map(|side| {
        let at = |set: &ReadingSet| set.readings[side].looks[0].in_wc().abs();
        at(&sets[0]) - at(&sets[2 - side])
    });
    let mut sets = sets.to_vec();
    sets.push(exact(&[], "B"));
    let fit = fit_of(sets);
    let flow = house().airflow(&curve("A"), &[]);
    assert_near("airflow", fit.airflow.cfm(), flow, 1e-6);
    for (id, simple) in [(FILTER, differences[0]), (REGISTERS, differences[1])] {
        let told = fit.separated().into_iter().find(|told| told.element == id).expect("told apart");
        let right = house().drop_of(id, flow);
        assert_near("drop", told.drop.in_wc(), right, 1e-5);
        assert!(simple < 0.95 * right, "the simple difference {simple} is low of {right}");
        assert!(told.doubt.in_wc() > 0.002 && told.doubt.in_wc() < 0.02, "{:?}", told.doubt);
    }
    assert_eq!((fit.drops.len(), fit.freedom), (4, 4));
    assert!(fit.holds() && fit.chi_squared < 1e-6, "{}", fit.chi_squared);
    assert!(fit.residuals.iter().all(|residual| residual.off.in_wc().abs() < 1e-5));
}

/// What the sets tell apart stands in the path of the judged one as measured, and a fix by data starts from there, not from a guessed share.
#[test]
fn what_is_told_apart_takes_the_place_of_the_guessed_share() {
    let sets = || vec![exact(&[], "A"), exact(&[FILTER], "A")];
    let new = ChangeKind::ByData(ByData { element: FILTER, data: data(1000.0, 0.05, 1.2) });
    let alone = Answer::of(&with(job_of(vec![exact(&[], "A")]), [new.clone()]));
    let told = Answer::of(&with(job_of(sets()), [new.clone()]));
    let running = told.point().expect("a point");
    let filter = part_of(&running.system.parts, FILTER).expect("a part of its own");
    let right = house().drop_of(FILTER, running.now.airflow.cfm());
    // The supply is one lump here, of other proportions than the usual weights: its law is known to a few hundredths of its exponent.
    assert_near("filter", filter.drop_at(running.now.airflow).in_wc(), right, 5e-3);
    assert!(running.guesses.is_empty() && !alone.point().expect("a point").guesses.is_empty());
    let spread = |answer: &Answer| {
        let worth = &answer.with_changes().expect("changes").worths[0];
        (worth.gain.clone().expect("a gain").most, worth.spread.expect("a spread").cfm())
    };
    assert!(spread(&told).1 < 0.7 * spread(&alone).1, "{:?} {:?}", spread(&told), spread(&alone));
    // The house with the new filter, by bisection.
    let mut then = house();
    then.parts[2] = (FILTER, 0.05, 1.2);
    let after = told.with_changes().expect("changes").system.point().expect("a point").airflow.cfm();
    assert_near("after", after, then.airflow(&curve("A"), &[]), 3e-3);
}

/// What the sets part and what a fix is projected by is one law: a house whose lumps are in the proportion of their usual weights comes out as it is, as found and with the new filter, on its tap and on another.
#[test]
fn the_path_is_projected_by_the_law_that_told_its_parts() {
    let path = job_of(vec![exact(&[], "A")]).path;
    let weights = |ids: &[ElementId]| -> Vec<f64> {
        let weights: Vec<f64> = ids.iter().map(|id| path.element(*id).expect("there").usual_weight()).collect();
        weights.iter().map(|weight| weight / weights.iter().sum::<f64>()).collect()
    };
    let (before, after) = (weights(&[GRILLE, RETURN]), weights(&[COIL, SUPPLY, REGISTERS]));
    // Shares are of what is read, so at the read airflow the lumps are in that proportion.
    let mut flow = 1000.0;
    let mut truth = house();
    for _ in 0..20 {
        let [one, two] = [&before[..], &after[..]];
        let drops = [0.2 * one[0], 0.2 * one[1], 0.25, 0.4 * two[0], 0.4 * two[1], 0.4 * two[2]];
        truth = Truth::of(drops);
        truth.parts.iter_mut().for_each(|(_, drop, exponent)| *drop *= (1000.0_f64 / flow).powf(*exponent));
        flow = truth.airflow(&curve("A"), &[]);
    }
    let read = |out: &[ElementId]| truth.read(out, "A", Errors::default(), [0.0; 2]);
    let new = ChangeKind::ByData(ByData { element: FILTER, data: data(1000.0, 0.05, 1.2) });
    let answer = Answer::of(&with(job_of(vec![read(&[]), read(&[FILTER])]), [new]));
    let mut then = truth;
    then.parts[2] = (FILTER, 0.05, 1.2);
    let changed = answer.with_changes().expect("changes");
    let after = changed.system.point().expect("a point").airflow.cfm();
    assert_near("after", after, then.airflow(&curve("A"), &[]), 2e-5);
}

/// A stretch all of which is told apart, and that was read as a rise: the path still goes through the point that was read.
#[test]
fn a_path_of_told_parts_goes_through_what_was_read() {
    let house = Truth::of([0.20, 0.25, 0.25, 0.0, 0.0, 0.002]);
    let read = |out| house.read(out, "A", Errors::default(), [0.0; 2]);
    let mut sets = [&[][..], &[FILTER], &[REGISTERS], &[FILTER, REGISTERS]].map(read).to_vec();
    for read in [0.004, 0.0, -0.004, -0.008] {
        sets[0].readings[1].looks = vec![Pressure::from_in_wc(read)];
        let mut job = job_of(sets.clone());
        job.path.elements.retain(|element| ![COIL, SUPPLY].contains(&element.id));
        apply(&mut job, Edit::ConfirmSigns).expect("there are readings");
        let answer = Answer::of(&job);
        let running = answer.point().expect("a point");
        let flow = running.now.airflow;
        let path: Pressure = running.system.parts.iter().map(|part| part.drop_at(flow)).sum();
        assert_near("path", path.in_wc(), running.now.tesp.in_wc(), 1e-9);
        assert!(!answer.separated.is_empty(), "{read}");
    }
}

/// Wherever a set stands in the list, and whichever is judged, the parts take what they take.
#[test]
fn the_order_of_the_sets_changes_no_drop() {
    let sets = vec![exact(&[], "A"), exact(&[FILTER], "A"), exact(&[REGISTERS], "B")];
    let one = fit_of(sets.clone());
    let mut turned = sets;
    turned.reverse();
    let mut job = job_of(turned);
    apply(&mut job, Edit::JudgeSet(2)).expect("it is there");
    let other = Answer::of(&job).visit.expect("a visit").fit.expect("a fit");
    for (one, other) in one.drops.iter().zip(&other.drops) {
        assert_eq!(one.elements, other.elements);
        assert_near("drop", one.drop.in_wc(), other.drop.in_wc(), SAME);
        assert_near("spread", one.spread.in_wc(), other.spread.in_wc(), 1e-6);
    }
}

/// A filter that is said to be out, and was in.
/// A coil that was wet in one set and dry in another takes more in the first: that is no contradiction, and nobody is sent back to look for a part that was out.
#[test]
fn a_coil_wet_in_one_set_and_dry_in_another_is_told() {
    let mut dry = house();
    let coil = dry.parts.iter_mut().find(|(id, ..)| *id == COIL).expect("a coil");
    coil.1 /= 1.3;
    let read = |house: Truth, out: &[ElementId], state| ReadingSet {
        coil: state,
        ..house.read(out, "A", Errors::default(), [0.0; 2])
    };
    let sets = || {
        vec![read(house(), &[], CoilState::Wet), read(dry, &[], CoilState::Dry), read(dry, &[FILTER], CoilState::Dry)]
    };
    let flow = |set: usize| if set == 0 { house() } else { dry }.airflow(&curve("A"), &[]);
    for judged in 0..2 {
        let job = Job { judged, ..job_of(sets()) };
        let answer = Answer::of(&job);
        let fit = answer.visit.as_ref().and_then(|visit| visit.fit.clone()).expect("a fit");
        let told: Vec<String> = visit::together(&job, &answer, UnitSystem::InchPound);
        assert!(fit.holds() && fit.chi_squared < 0.1, "{} {told:?}", fit.chi_squared);
        let wetting = fit.drops.iter().find(|fitted| fitted.wetting).expect("what wetting adds");
        let right = house().drop_of(COIL, flow(judged)) - dry.drop_of(COIL, flow(judged));
        // Coil, duct and registers have one law together, which is no more quite theirs once the coil is dry.
        assert_near("wetting", wetting.drop.in_wc(), right, 0.01);
        assert!(told.concat().contains("wetting the coil adds 0.0"), "{told:?}");
        // It is no part's own drop, and the filter's is told as if nothing had been wet.
        assert_eq!(fit.separated().iter().map(|told| told.element).collect::<Vec<_>>(), [FILTER]);
        let filter = fit.separated()[0];
        assert_near("filter", filter.drop.in_wc(), house().drop_of(FILTER, flow(judged)), 0.01);
    }
    // A set that says the same with the coil as wet throughout tells of no wetting.
    let alike = vec![exact(&[], "A"), exact(&[FILTER], "A")];
    assert!(fit_of(alike).drops.iter().all(|fitted| !fitted.wetting));
}

#[test]
fn readings_that_cannot_all_be_true_name_what_could_be_wrong() {
    let mut sets = [&[][..], &[REGISTERS], &[FILTER], &[FILTER, REGISTERS]].map(|out| exact(out, "A")).to_vec();
    sets[2] = ReadingSet { parts_out: vec![FILTER], ..again(&[], "A") };
    let visit = Answer::of(&job_of(sets.clone())).visit.expect("a visit");
    let fit = visit.fit.as_ref().expect("a fit");
    assert!(!fit.holds(), "{} of {}", fit.chi_squared, fit.freedom);
    let named: Vec<_> = visit.suspects.iter().map(|suspect| (suspect.set, suspect.what.clone())).collect();
    assert!(named.contains(&(2, Correction::WasIn(FILTER))), "{named:?}");
    assert!(!named.contains(&(0, Correction::Readings)), "{named:?}");
    assert!(Answer::of(&job_of(sets)).separated.is_empty(), "what cannot be true tells nothing apart");
}

#[test]
fn another_tap_than_said_is_named() {
    let mut sets = [&[][..], &[REGISTERS], &[FILTER], &[FILTER, REGISTERS]].map(|out| exact(out, "2")).to_vec();
    sets[1] = ReadingSet { tap: Some("2".to_owned()), ..exact(&[REGISTERS], "1") };
    let visit = Answer::of(&job_of(sets)).visit.expect("a visit");
    let fit = visit.fit.as_ref().expect("a fit");
    assert!(!fit.holds(), "{} of {}", fit.chi_squared, fit.freedom);
    // That tap 1 ran explains it; that nothing of these readings is right does as well, and cannot be told from it.
    let named: Vec<_> = visit.suspects.iter().map(|suspect| (suspect.set, suspect.what.clone())).collect();
    assert!(named.contains(&(1, Correction::Tap("1".to_owned()))), "{named:?}");
    assert!(named.iter().all(|(set, _)| *set == 1), "{named:?}");
}

/// The repair does what was promised, then only half of it.
#[test]
fn after_the_repair_the_promise_is_held_against_what_was_measured() {
    let new = || ChangeKind::ByData(ByData { element: FILTER, data: data(1000.0, 0.05, 1.2) });
    let mut mended = house();
    for (drop, agrees) in [(0.05, true), (0.16, false)] {
        mended.parts[2] = (FILTER, drop, 1.2);
        let after = ReadingSet { after_repair: true, ..mended.read(&[], "A", Errors::default(), [0.0; 2]) };
        let job = with(job_of(vec![exact(&[], "A"), exact(&[FILTER], "A"), after]), [new()]);
        let answer = Answer::of(&job);
        let visit = answer.visit.expect("a visit");
        let kept = visit.sets[2].kept.as_ref().expect("held against the promise");
        assert_eq!(kept.agrees(), agrees, "{kept:?}");
        let told = visit::together(&job, &Answer::of(&job), UnitSystem::InchPound).concat();
        assert!(!told.contains(": 0 cfm") && told.contains("promised: the same within ± ") == agrees, "{told}");
        // Whichever readings are shown, the promise is that of the whole path; with the change off nothing is promised.
        for shown in [1, 2] {
            let answer = Answer::of(&Job { judged: shown, ..job.clone() });
            assert_eq!(answer.visit.expect("a visit").sets[2].kept.as_ref(), Some(kept), "shown is {shown}");
        }
        let mut off = job.clone();
        apply(&mut off, Edit::SwitchChange(ChangeId(1), Switch::Off)).expect("it is there");
        assert_eq!(Answer::of(&off).visit.expect("a visit").sets[2].kept, None);
        // After the repair its change is in what was read, and is not put on once more.
        let mended = Job { judged: 2, ..job.clone() };
        let shown = Answer::of(&mended);
        assert!(shown.with_changes().is_none());
        let head = headline::head(&mended, &shown, shown.point().expect("a point"), UnitSystem::InchPound);
        let verdict =
            if agrees { ": as promised. Changes that are on count as done here." } else { ": not as promised;" };
        assert!(
            matches!(head.beside, Beside::Wanted { title: "After the repair", ref sentence } if sentence.contains(verdict)),
            "{head:?}"
        );
        assert!(
            visit.sets[0].kept.is_none() && visit.fit.expect("a fit").residuals.len() == 4,
            "the repaired path is another"
        );
    }
}

/// A change on a part that was out says so, and not that the path has no such part.
#[test]
fn a_change_on_a_part_that_was_out_is_refused_with_what_to_do() {
    let new = ChangeKind::ByData(ByData { element: FILTER, data: data(1000.0, 0.05, 1.2) });
    let load = ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 1.5 });
    for change in [new, load] {
        let job = Job { judged: 1, ..with(job_of(vec![exact(&[], "A"), exact(&[FILTER], "A")]), [change.clone()]) };
        let answer = Answer::of(&job);
        let refused = answer.with_changes().expect("changes").refused.iter().map(|(_, why)| why.to_string());
        let refused: Vec<String> = refused.collect();
        assert!(
            refused[..]
                == [
                    "These readings were taken without the filter, and they say nothing of what a change to that part does: show readings with that part in its place"
                ],
            "{change:?}: {refused:?}"
        );
    }
}

/// Another tap was left running than planned: the promise is what the changes bring on that one, and the sentence says so.
#[test]
fn a_promise_follows_the_tap_that_ran() {
    let new = || ChangeKind::ByData(ByData { element: FILTER, data: data(1000.0, 0.05, 1.2) });
    let other = || ChangeKind::OtherTap(OtherTap { tap: "B".to_owned() });
    let mut mended = house();
    mended.parts[2] = (FILTER, 0.05, 1.2);
    let after = |tap| ReadingSet { after_repair: true, ..mended.read(&[], tap, Errors::default(), [0.0; 2]) };
    for (ran, changes, planned, told) in [
        ("A", vec![new()], None, " promised: "),
        ("B", vec![new()], None, " promised on tap B: "),
        ("B", vec![new(), other()], None, " promised on tap B: "),
        ("A", vec![new(), other()], Some("B"), " promised on tap A, which ran in the place of B: "),
    ] {
        let job = with(job_of(vec![exact(&[], "A"), exact(&[FILTER], "A"), after(ran)]), changes);
        let answer = Answer::of(&job);
        let kept = answer.visit.as_ref().expect("a visit").sets[2].kept.as_ref().expect("held against the promise");
        assert!(kept.agrees() && kept.planned.as_deref() == planned, "{kept:?}");
        let said = visit::together(&job, &answer, UnitSystem::InchPound).concat();
        assert!(said.contains(told), "{told}: {said}");
    }
}

#[test]
fn two_sets_that_say_the_same_are_told() {
    let sets = vec![exact(&[], "A"), ReadingSet { name: "again".to_owned(), ..exact(&[], "A") }];
    let visit = Answer::of(&job_of(sets)).visit.expect("a visit");
    assert_eq!(visit.sets.iter().map(|set| set.twin).collect::<Vec<_>>(), [None, Some(0)]);
}

/// A new set is as the judged one was and is judged from then on; what is typed then is typed into it.
#[test]
fn a_new_set_begins_as_the_judged_one() {
    let mut job = job_of(vec![exact(&[], "A"), exact(&[FILTER], "A")]);
    job.judged = 0;
    apply(&mut job, Edit::AddSet).expect("a set");
    assert!(job.judged == 2 && job.sets.len() == 3 && job.sets[2].repeats(&job.sets[0]));
    let look = super::house::in_wc(-0.25);
    apply(&mut job, Edit::Reading(ReadAt::Port(RETURN_PORT), vec![look])).expect("a reading");
    assert!(job.return_reading() == Some(look) && job.sets[0].readings != job.sets[2].readings);
    apply(&mut job, Edit::RemoveSet(2)).expect("it is there");
    assert!(job.judged == 1 && job.sets.len() == 2);
    for refused in [Edit::JudgeSet(2), Edit::RemoveSet(2)] {
        assert!(apply(&mut job, refused).is_err());
    }
    apply(&mut job, Edit::RemoveSet(1)).expect("it is there");
    assert!(apply(&mut job, Edit::RemoveSet(0)).is_err(), "the last one stays");
}

/// A heater that the house never had is out in every set: these are no test, and what the changes promise is held against the readings after the repair.
#[test]
fn a_part_that_is_out_throughout_makes_no_test_of_the_readings() {
    let less = ChangeKind::LessByHand(LessByHand { element: RETURN, fraction: 0.3 });
    let after = || ReadingSet { after_repair: true, ..again(&[], "A") };
    let said = |job: &Job| wording::verdict(job, &Answer::of(job), UnitSystem::InchPound).detail;
    let never = |set: ReadingSet| ReadingSet { parts_out: [vec![GRILLE], set.parts_out].concat(), ..set };
    let sets = [exact(&[], "A"), exact(&[FILTER], "A"), after()].map(never).to_vec();
    let mut job = with(job_of(sets), [less]);
    assert!(!said(&job).contains("a test"), "{}", said(&job));
    assert!(Answer::of(&job).visit.expect("a visit").sets[2].kept.is_some());
    apply(&mut job, Edit::JudgeSet(1)).expect("it is there");
    assert!(said(&job).starts_with("With the filter out these readings are a test"), "{}", said(&job));
    // No half of the head calls a test good, and what the target takes is not told of it.
    let answer = Answer::of(&job);
    let head = headline::head(&job, &answer, answer.point().expect("a point"), UnitSystem::InchPound);
    assert!(head.found.lines.iter().all(|line| line.tone != Tone::Good), "{head:?}");
    assert!(matches!(answer.findings[..], [Finding::Pulled(ref parts), ..] if *parts == [FILTER]));
    job.changes.clear();
    let answer = Answer::of(&job);
    let head = headline::head(&job, &answer, answer.point().expect("a point"), UnitSystem::InchPound);
    assert!(matches!(head.beside, Beside::Wanted { ref sentence, .. } if sentence.contains("a test")), "{head:?}");
    assert!(head.finding.is_none(), "no other tap is advised for a test: {head:?}");
    // Put in for good by the repair, it was no test to read without it.
    job.judged = 0;
    job.sets[0].parts_out.push(FILTER);
    job.sets.remove(1);
    assert!(!said(&job).contains("a test"), "{}", said(&job));
}

/// Behind the blower of a call that heats the air is warm: the supply's parts take together what was read of it, not what cold air would drop.
#[test]
fn what_the_supplys_parts_take_in_a_heating_call_adds_up_to_the_reading() {
    let heating = |set: ReadingSet| ReadingSet { call: Call::HeatingHigh, coil: CoilState::Dry, ..set };
    let job = job_of([&[][..], &[REGISTERS]].map(|out| heating(exact(out, "B"))).to_vec());
    let fit = Answer::of(&job).visit.expect("a visit").fit.expect("a fit");
    let supply = fit.drops.iter().filter(|fitted| !fitted.elements.contains(&FILTER));
    let taken: f64 = supply.map(|fitted| fitted.drop.in_wc()).sum();
    let read = job.supply_reading().expect("a reading").in_wc();
    assert_near("supply", taken, read, 0.01);
    // In the path of the judged set, what is told apart takes the same.
    let running = Answer::of(&job).point().expect("a point").clone();
    let registers = part_of(&running.system.parts, REGISTERS).expect("a part of its own");
    let told = fit.drops.iter().find(|fitted| fitted.elements == [REGISTERS]).expect("told apart");
    assert_near("registers", registers.drop_at(running.now.airflow).in_wc(), told.drop.in_wc(), 1e-9);
}

/// A panel off makes another path: its readings are compared, judge nothing, and leave the fit as it is.
#[test]
fn readings_of_a_path_that_was_otherwise_are_compared_and_left_out() {
    let of = |sets: &[ReadingSet]| Answer::of(&job_of(sets.to_vec())).visit.expect("a visit");
    let sets = [exact(&[], "A"), exact(&[FILTER], "A")];
    let mut panel_off = exact(&[], "A");
    panel_off.readings[0].looks = vec![super::house::in_wc(-0.05)];
    panel_off.otherwise = true;
    let all = [sets[0].clone(), sets[1].clone(), panel_off.clone()];
    let (without, with_it) = (of(&sets), of(&all));
    assert_eq!(with_it.fit, without.fit, "it tells nothing of the path");
    assert!(with_it.sets[2].point.is_ok() && with_it.suspects.is_empty());
    panel_off.otherwise = false;
    let taken_in = of(&[sets[0].clone(), sets[1].clone(), panel_off]);
    assert!(taken_in.fit.is_some_and(|fit| !fit.holds()), "as if it were of this path it contradicts the others");
    let job = Job { judged: 2, ..job_of(all.to_vec()) };
    let answer = Answer::of(&job);
    assert!(
        visit::step(&job, &with_it, 2, UnitSystem::InchPound)
            .is_some_and(|step| step.contains("something else different"))
    );
    assert!(matches!(answer.findings[..], [Finding::Pulled(ref parts), ..] if parts.is_empty()));
    let said = wording::verdict(&job, &answer, UnitSystem::InchPound).detail;
    assert!(
        said.starts_with("Something was different from the readings before, so these readings are a test"),
        "{said}"
    );
}

/// The airflow of other readings is another: what hood, plate, thermometers and wattmeter said of these is no start for the next, and until something is typed the next say what these say.
#[test]
fn what_is_of_their_own_air_does_not_go_on_into_the_next_readings() {
    let mut job = job_of(vec![exact(&[], "A")]);
    let set = &mut job.sets[0];
    set.power = Some(Power::from_watts(400.0));
    set.heat.rise = Some(TemperatureRise::from_f(50.0));
    set.heat.efficiency = Some(0.8);
    set.airflow.supply_grilles = vec![Airflow::from_cfm(1000.0)];
    apply(&mut job, Edit::AddSet).expect("a set");
    let next = job.set();
    assert!(next.power.is_none() && next.heat.rise.is_none() && next.airflow.is_empty(), "{next:?}");
    assert!(next.heat.efficiency == Some(0.8) && next.readings == job.sets[0].readings, "the rest is as it was");
    assert_eq!(Answer::of(&job).visit.expect("a visit").sets[1].twin, Some(0));
}

/// Whatever is said to be different, the very readings of before are no readings: nobody has typed what was read, and neither the fit nor a promise counts them.
#[test]
fn copied_readings_say_nothing_whatever_else_is_said_of_them() {
    let sets = [exact(&[], "A"), exact(&[FILTER], "A")];
    let fit = |sets: &[ReadingSet]| Answer::of(&job_of(sets.to_vec())).visit.expect("a visit");
    let copied = ReadingSet { tap: Some("B".to_owned()), parts_out: vec![REGISTERS], ..sets[0].clone() };
    let visit = fit(&[sets[0].clone(), sets[1].clone(), copied]);
    assert_eq!(visit.sets[2].twin, Some(0));
    assert_eq!(visit.fit, fit(&sets).fit, "it tells nothing of the path");
    let less = ChangeKind::LessByHand(LessByHand { element: RETURN, fraction: 0.3 });
    let repaired = ReadingSet { after_repair: true, ..sets[0].clone() };
    let job = with(job_of(vec![sets[0].clone(), sets[1].clone(), repaired]), [less]);
    assert_eq!(
        Answer::of(&job).visit.expect("a visit").sets[2].kept,
        None,
        "no repair is judged by what was read before it"
    );
}

/// A gain that is no more than what the readings leave in doubt is neither kept nor broken.
#[test]
fn a_promise_smaller_than_its_doubt_cannot_be_told_from_no_gain() {
    let less = ChangeKind::LessByHand(LessByHand { element: RETURN, fraction: 0.05 });
    let after = ReadingSet { after_repair: true, ..again(&[], "A") };
    let job = with(job_of(vec![exact(&[], "A"), exact(&[FILTER], "A"), after]), [less]);
    let answer = Answer::of(&job);
    let kept = answer.visit.as_ref().expect("a visit").sets[2].kept.clone().expect("held against the promise");
    assert!(kept.is_untold() && kept.gain > Airflow::ZERO, "{kept:?}");
    let said = visit::together(&job, &answer, UnitSystem::InchPound).concat();
    assert!(said.contains("fits the promised gain of") && said.contains("as well as none at all"), "{said}");
    assert!(!said.contains("as promised"), "{said}");
    // What is more than none beyond its ± is told, however small the promise was.
    let more = Kept { measured: kept.promised.airflow + kept.spread * 0.9, gain: kept.spread * 0.5, ..kept };
    assert!(more.agrees() && !more.is_untold(), "{more:?}");
}

/// With an opinion in the table's place the promise is held as without it: both sides by the table, for nobody read the opinion again after the repair.
#[test]
fn a_promise_is_held_by_the_table_whatever_stands_in_its_place() {
    let less = || ChangeKind::LessByHand(LessByHand { element: RETURN, fraction: 0.3 });
    let after = ReadingSet { after_repair: true, ..again(&[], "A") };
    let mut job = with(job_of(vec![exact(&[], "A"), exact(&[FILTER], "A"), after]), [less()]);
    let kept =
        |job: &Job| Answer::of(job).visit.expect("a visit").sets[2].kept.clone().expect("held against the promise");
    let by_table = kept(&job);
    job.sets[0].airflow.supply_grilles = vec![by_table.promised.airflow * 0.7];
    for scales in [false, true] {
        job.anchor = Some(Anchor { by: OpinionKind::SupplySum, set: 0, scales });
        let anchored = kept(&job);
        assert!((anchored.measured - by_table.measured).abs().cfm() < 1e-6, "{anchored:?}");
        assert!((anchored.off() - by_table.off()).abs().cfm() < 1e-6, "{anchored:?}");
        let said = visit::together(&job, &Answer::of(&job), UnitSystem::InchPound).concat();
        assert!(said.contains("After the repair, by the table, "), "{said}");
    }
}

/// What is rounded to hundredths is no surer than a hundredth, however many readings say so.
#[test]
fn no_drop_is_told_as_sure_as_nought() {
    let sets: Vec<ReadingSet> = (0..24)
        .map(|set| {
            let off = 0.0002 * f64::from(set % 5);
            house().read(if set % 2 == 0 { &[] } else { &[FILTER] }, "A", Errors::default(), [off; 2])
        })
        .collect();
    let mut job = job_of(sets);
    job.accuracy = Accuracy { exponent: 0.02, manometer_fraction: 0.001, ..job.accuracy };
    let answer = Answer::of(&job);
    let fit = answer.visit.as_ref().and_then(|visit| visit.fit.as_ref()).expect("a fit");
    assert!(fit.drops.iter().any(|fitted| fitted.spread.in_wc() < 0.005), "{:?}", fit.drops);
    for units in [UnitSystem::InchPound, UnitSystem::SiLitres] {
        let told = visit::together(&job, &answer, units).concat();
        assert!(!told.contains("± 0.00") && !told.contains("± 0;"), "{told}");
    }
}

/// Readings that cannot all be true are the weightiest that is said, in the head as among the findings, and nothing of them is good.
#[test]
fn readings_that_cannot_all_be_true_come_before_every_verdict() {
    let wrong = ReadingSet { tap: Some("B".to_owned()), ..exact(&[FILTER], "A") };
    let shown = |sets: Vec<ReadingSet>| {
        let job = job_of(sets);
        let answer = Answer::of(&job);
        let running = answer.point().expect("a point");
        let head = headline::head(&job, &answer, running, UnitSystem::InchPound);
        // It stands where what the target takes would stand, for that rests on what is true.
        let Beside::Wanted { sentence: said, .. } = head.beside else { panic!("no changes are on") };
        let tones: Vec<Tone> = head.found.lines.iter().map(|line| line.tone).collect();
        (answer.findings.contains(&Finding::CannotAllBeTrue), said, tones)
    };
    let apart = |before: f64| {
        let mut second = exact(&[], "A");
        second.readings[0].looks = vec![tapcross::units::Pressure::from_in_wc(before)];
        vec![exact(&[], "A"), second]
    };
    let (is_found, said, tones) = shown(apart(-0.25));
    assert!(is_found && said.starts_with("The readings of this visit cannot all be true"), "{said}");
    assert!(!tones.contains(&Tone::Good), "{tones:?}");
    // Those that can be true say nothing of the kind, nor does one alone.
    assert!(!shown(vec![exact(&[], "A"), exact(&[FILTER], "A")]).0);
    assert!(!shown(vec![wrong]).0);
}

/// A set that was taken before an earlier one of the list is asked about; what is no time, or of another kind, is not.
#[test]
fn times_out_of_order_are_asked_about() {
    let asked = |first: &str, second: &str| {
        let named = |name: &str, time: &str, out: &[ElementId]| ReadingSet {
            name: name.to_owned(),
            time: time.to_owned(),
            ..exact(out, "A")
        };
        let job =
            Job { judged: 1, ..job_of(vec![named("As found", first, &[]), named("Filter out", second, &[FILTER])]) };
        let problems = Answer::of(&job).problems;
        problems.iter().map(|problem| problem.what.sentence(UnitSystem::InchPound)).collect::<Vec<_>>()
    };
    let told = asked("10:40", "10:15");
    let begin = "Set 2 (Filter out) was taken at 10:15, before Set 1 (As found) at 10:40";
    assert!(told.len() == 1 && told[0].starts_with(begin), "{told:?}");
    assert_eq!(asked("2026-08-05T10:40", "2026-08-05 09:00").len(), 1);
    for (first, second) in [
        ("10:15", "10:40"),
        ("10:15", "10:15"),
        ("", "10:15"),
        ("late", "early"),
        ("2026-08-04T23:00", "2026-08-05T01:00"),
        ("10:40", "2026-08-05T01:00"),
    ] {
        assert_eq!(asked(first, second), Vec::<String>::new(), "{first} and {second}");
    }
}
