//! Two returns, zones, filters of their own, ports between and within.

use super::checks;
use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::standing::PathStanding;
use tapcross::model::path::parts::{flows, part_of};
use tapcross::model::verdicts::system::NotRunning;
use tapcross::units::Pressure;

/// The furnace with a second return of grille and duct, and the port behind both at −0.18.
fn two_returns() -> (Job, ElementId) {
    let mut job = furnace();
    let group = job.path.lay_beside(GRILLE, RETURN).expect("a second return");
    read_after(&mut job, group, -0.18);
    (job, group)
}

/// Ids of the second return's grille and duct.
fn second(job: &Job, group: ElementId) -> [ElementId; 2] {
    let way = &job.path.element(group).expect("the group").ways[1];
    [way.elements[0].id, way.elements[1].id]
}

#[test]
fn two_returns_of_which_nothing_is_known_share_the_air_alike() {
    let (job, group) = two_returns();
    let running = running(&job);
    let airflow = running.now.airflow.cfm();
    assert_near("table A at 0.70", airflow, curve("A").value_and_slope(0.70).0, SAME);
    assert_near("the group", at_element(&running, group).1, 0.18, SAME);
    // A grille takes one part and a duct two of what a way drops.
    for [grille, duct] in [[GRILLE, RETURN], second(&job, group)] {
        let (through_grille, of_grille) = at_element(&running, grille);
        let (through_duct, of_duct) = at_element(&running, duct);
        assert_near("half the air", through_grille, airflow / 2.0, SAME);
        assert_near("the same air", through_duct, airflow / 2.0, SAME);
        assert_near("a third", of_grille, 0.06, SAME);
        assert_near("two thirds", of_duct, 0.12, SAME);
    }
    assert_near("the filter", at_element(&running, FILTER).1, 0.12, SAME);
}

#[test]
fn a_stated_flow_goes_through_its_way_and_the_rest_through_the_other() {
    let (mut job, group) = two_returns();
    element(&mut job, group).ways[0].flow = Some(0.7);
    let running = running(&job);
    let airflow = running.now.airflow.cfm();
    assert_near("first", at_element(&running, RETURN).0, 0.7 * airflow, SAME);
    assert_near("second", at_element(&running, second(&job, group)[1]).0, 0.3 * airflow, SAME);
}

#[test]
fn ways_of_unequal_exponents_divide_anew_at_another_airflow_at_one_drop() {
    let (mut job, group) = two_returns();
    element(&mut job, group).ways[0].flow = Some(0.7);
    let [grille, duct] = second(&job, group);
    element(&mut job, duct).exponent = Some(1.1);
    element(&mut job, grille).exponent = Some(1.0);
    let running = running(&job);
    let airflow = running.now.airflow.cfm();
    let (first, other) = (0.7 * airflow, 0.3 * airflow);
    let (grille_one, duct_one) = (law(first, 0.06, 2.0), law(first, 0.12, 1.9));
    let (grille_two, duct_two) = (law(other, 0.06, 1.0), law(other, 0.12, 1.1));
    for at in [200.0, 600.0, 1500.0] {
        let (drop, through) =
            beside(|flow| grille_one(flow) + duct_one(flow), |flow| grille_two(flow) + duct_two(flow), at);
        let part = part_of(&running.system.parts, group).expect("the group's part");
        assert_near("drop", part.drop_at(cfm(at)).in_wc(), drop, SAME);
        let ways = flows::of_ways(part, cfm(at));
        assert_near("first way", ways[0].cfm(), through, SAME);
        assert_near("all of it", ways[0].cfm() + ways[1].cfm(), at, 1e-10);
    }
    // Not alike: the split moves with the airflow.
    let part = part_of(&running.system.parts, group).expect("the group's part");
    let share = |at: f64| flows::of_ways(part, cfm(at))[0].cfm() / at;
    assert!(share(200.0) > share(1500.0) + 0.02, "{} and {}", share(200.0), share(1500.0));
}

/// A table that moves an airflow at a static, on a row of its own.
fn job_moving(airflow: f64, ret: f64, supply: f64) -> Job {
    let mut job = furnace();
    let esp = ret + supply;
    let rows = [(0.05, airflow + 300.0), (esp, airflow), (esp + 0.3, airflow - 200.0)];
    let table = job.machine.as_mut().expect("a machine");
    table.taps = vec![super::checks::tap_of(rows.map(|(esp, cfm)| (esp, cfm, None)))];
    table.calls.clear();
    job.sets[0].tap = Some("1".to_owned());
    read(&mut job, ReadAt::Port(RETURN_PORT), -ret);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), supply);
    job
}

/// Two single elements side by side as the reference row has them, read at another airflow than the row's.
fn reference_branches(laws: [(f64, f64); 2], read_at: f64) -> (Job, ElementId) {
    let [one, other] = laws.map(|(coefficient, exponent)| move |cfm: f64| coefficient * cfm.powf(exponent));
    let (drop, first) = beside(one, other, read_at);
    let mut job = job_moving(read_at, drop + 0.1, 0.3);
    let group = job.path.lay_beside(RETURN, RETURN).expect("a way beside the duct");
    job.path.take_out(GRILLE).expect("no grille");
    let way = &mut element(&mut job, group).ways;
    way[0].flow = Some(first / read_at);
    for (way, (_, exponent)) in way.iter_mut().zip(laws) {
        way.elements[0].exponent = Some(exponent);
    }
    read_after(&mut job, group, -drop);
    (job, group)
}

#[test]
fn reference_branches_side_by_side_come_out_through_a_real_job() {
    let mixed = checks::of("net.mixed_par");
    let branch = |name: &str| {
        let pair = mixed.list(name);
        (pair[0], pair[1])
    };
    let (job, group) = reference_branches([branch("branch1"), branch("branch2")], 800.0);
    let found = running(&job);
    let part = part_of(&found.system.parts, group).expect("the group's part");
    let drop = part.drop_at(cfm(mixed.input("Q"))).in_wc();
    assert!(mixed.one(drop).iter().all(checks::Given::agrees), "{drop}\n{}", mixed.foundation());
    let split = checks::of("net.split");
    let coefficients = split.list("K");
    let (job, group) = reference_branches([(coefficients[0], 2.0), (coefficients[1], 2.0)], 700.0);
    let found = running(&job);
    let part = part_of(&found.system.parts, group).expect("the group's part");
    let ways = flows::of_ways(part, cfm(split.input("Q")));
    let each = split.each(&[ways[0].cfm(), ways[1].cfm()]);
    assert!(each.iter().all(checks::Given::agrees), "{each:?}\n{}", split.foundation());
    let equal = checks::of("net.parallel_eq");
    let coefficient = equal.list("K")[0];
    let (job, group) = reference_branches([(coefficient, 2.0), (coefficient, 2.0)], 900.0);
    let found = running(&job);
    let drop = part_of(&found.system.parts, group).expect("the group's part").drop_at(cfm(1000.0)).in_wc();
    assert!(equal.one(drop / 1e6).iter().all(checks::Given::agrees), "{drop}\n{}", equal.foundation());
}

/// A filter in each return: the data of one of them says how much air goes there.
#[test]
fn a_way_with_data_throughout_takes_the_air_that_its_data_say() {
    let (mut job, group) = two_returns();
    let [grille, duct] = second(&job, group);
    element(&mut job, grille).drop = Some(data(300.0, 0.05, 2.0));
    element(&mut job, duct).drop = Some(data(300.0, 0.04, 2.0));
    let running = running(&job);
    // 0.18 over 0.09 at 300 cfm, both by the square law.
    let flow = 300.0 * 2.0_f64.sqrt();
    assert_near("by its data", at_element(&running, grille).0, flow, 1e-6);
    assert_near("the rest", at_element(&running, GRILLE).0, running.now.airflow.cfm() - flow, 1e-6);
}

#[test]
fn each_return_has_its_own_filter_by_data() {
    let (mut job, group) = two_returns();
    let other = second(&job, group)[0];
    let mut filters = Vec::new();
    for (beside, drop) in [(GRILLE, 0.05), (other, 0.09)] {
        use tapcross::model::facts::air_path::chain::Beside;
        let filter = job.path.put_in(ElementKind::Filter, Beside::After(beside)).expect("a filter");
        element(&mut job, filter).drop = Some(data(500.0, drop, 1.2));
        filters.push((filter, drop));
    }
    let found = running(&job);
    let half = found.now.airflow.cfm() / 2.0;
    for ((filter, drop), [grille, duct]) in filters.iter().zip([[GRILLE, RETURN], second_ends(&job, group)]) {
        let known = law(500.0, *drop, 1.2)(half);
        assert_near("by data", at_element(&found, *filter).1, known, SAME);
        assert_near("a third of the rest", at_element(&found, grille).1, (0.18 - known) / 3.0, SAME);
        assert_near("two thirds", at_element(&found, duct).1, (0.18 - known) * 2.0 / 3.0, SAME);
    }
    // The filter that takes more than its way was read to take cannot be.
    element(&mut job, filters[1].0).drop = Some(data(500.0, 0.4, 1.2));
    let Some(NotRunning::Shares(why)) = Answer::of(&job).found.err().map(|idle| idle.why) else {
        panic!("a filter of 0.4 in a way of 0.18 runs");
    };
    let sentence = why.to_string();
    assert!(
        sentence.starts_with("Side by side: 0.4")
            && sentence.contains("by data over the filter, but 0.18 was read across"),
        "{sentence}"
    );
}

/// First and last of the second way.
fn second_ends(job: &Job, group: ElementId) -> [ElementId; 2] {
    let way = &job.path.element(group).expect("the group").ways[1];
    [way.elements[0].id, way.elements[way.elements.len() - 1].id]
}

#[test]
fn the_port_behind_the_ways_reads_them_together_and_one_within_parts_its_own_way_only() {
    let (mut job, group) = two_returns();
    let other = second(&job, group)[0];
    let within = read_after(&mut job, other, -0.14);
    let found = running(&job);
    assert_near("total static is the chain's", found.now.tesp.in_wc(), 0.70, SAME);
    assert_near("before the port", at_element(&found, other).1, 0.14, SAME);
    assert_near("behind it", at_element(&found, second(&job, group)[1]).1, 0.04, SAME);
    assert_near("the first way is as it was", at_element(&found, GRILLE).1, 0.06, SAME);
    assert_eq!(found.return_side.map(Pressure::in_wc).map(|side| (side * 1e9).round()), Some(0.3e9));
    // Without it nothing but the split of that way is lost.
    job.sets[0].readings.retain(|reading| reading.at != ReadAt::Port(within));
    assert_near("a third again", at_element(&running(&job), other).1, 0.06, SAME);
}

/// Three zones, each damper, duct and registers, behind the coil.
fn three_zones() -> (Job, ElementId) {
    use tapcross::model::facts::air_path::chain::Beside;
    let mut job = furnace();
    job.path.put_in(ElementKind::Damper, Beside::Before(SUPPLY)).expect("a damper");
    let damper = job.path.elements[6].id;
    let group = job.path.lay_beside(damper, REGISTERS).expect("a zone beside");
    job.path.add_way(group).expect("a third zone");
    (job, group)
}

#[test]
fn three_zones_with_dampers_divide_the_supply_air() {
    let (mut job, group) = three_zones();
    for (way, flow) in element(&mut job, group).ways.iter_mut().zip([Some(0.5), None, None]) {
        way.flow = flow;
    }
    read_after(&mut job, COIL, 0.24);
    let found = running(&job);
    let airflow = found.now.airflow.cfm();
    assert_near("the coil", at_element(&found, COIL).1, 0.16, SAME);
    let ways = job.path.element(group).expect("the group").ways.clone();
    for (way, share) in ways.iter().zip([0.5, 0.25, 0.25]) {
        let drops: Vec<f64> = way.elements.iter().map(|element| at_element(&found, element.id).1).collect();
        // One part damper, three duct, one registers.
        for (drop, part) in drops.iter().zip([0.2, 0.6, 0.2]) {
            assert_near("part of a zone", *drop, 0.24 * part, SAME);
        }
        assert_near("air of a zone", at_element(&found, way.elements[1].id).0, share * airflow, SAME);
    }
}

/// Shutting one damper's way by loading it: more air through the others, more static, less airflow.
#[test]
fn a_zone_that_closes_drives_the_air_through_the_others() {
    let (job, group) = three_zones();
    let damper = job.path.element(group).expect("the group").ways[0].elements[0].id;
    let opened = with(job.clone(), [less(damper, 0.9)]);
    let (airflow, tesp) = point_after(&opened);
    let today = running(&job).now;
    assert!(airflow > today.airflow.cfm() && tesp < today.tesp.in_wc(), "{airflow} cfm at {tesp}");
    let after = after(&opened);
    let part = part_of(&after.system.parts, group).expect("the zones");
    let ways = flows::of_ways(part, cfm(airflow));
    assert!(ways[0] > ways[1] && (ways[1] - ways[2]).cfm().abs() < 1e-9, "{ways:?}");
}

#[test]
fn a_change_in_one_way_is_worked_out_against_the_other_way() {
    let (mut job, group) = two_returns();
    element(&mut job, group).ways[0].flow = Some(0.6);
    let found = running(&job);
    let airflow = found.now.airflow.cfm();
    let other = second(&job, group);
    let changed = with(job, [less(RETURN, 0.5)]);
    let (first, rest) = (0.6 * airflow, 0.4 * airflow);
    let one = |flow: f64| law(first, 0.06, 2.0)(flow) + 0.5 * law(first, 0.12, 1.9)(flow);
    let two = |flow: f64| law(rest, 0.06, 2.0)(flow) + law(rest, 0.12, 1.9)(flow);
    // Filter 0.12 as a segment of its own (n = 1/0.85), supply 0.40 as a lump (n = 2).
    let path =
        |flow: f64| beside(one, two, flow).0 + law(airflow, 0.12, 1.0 / 0.85)(flow) + law(airflow, 0.40, 2.0)(flow);
    let right = meet(&curve("A"), path);
    let (airflow, tesp) = point_after(&changed);
    assert_near("airflow", airflow, right.0, SAME);
    assert_near("static", tesp, right.1, SAME);
    let after = after(&changed);
    assert_eq!(part_of(&after.system.parts, other[0]).map(|part| part.standing), Some(PathStanding::Shared));
}

#[test]
fn shares_of_the_air_that_cannot_be_are_told_with_what_they_must_make() {
    let (job, group) = two_returns();
    let told = |flows: [Option<f64>; 2]| {
        let mut job = job.clone();
        for (way, flow) in element(&mut job, group).ways.iter_mut().zip(flows) {
            way.flow = flow;
        }
        match Answer::of(&job).found.map_err(|idle| idle.why) {
            Err(NotRunning::Shares(why)) => why.to_string(),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(
        told([Some(0.6), Some(0.6)]),
        "The ways side by side take 120 % of the air; together they must make 100 %"
    );
    assert_eq!(
        told([Some(1.3), None]),
        "A way with 130 % of the air cannot be; its share lies above 0 and below 100 %"
    );
}

/// Groups within groups: a branch that forks again.
#[test]
fn a_fork_within_a_way_divides_what_comes_to_it() {
    let (mut job, group) = two_returns();
    let inner = job.path.lay_beside(RETURN, RETURN).expect("a fork in the first way");
    element(&mut job, group).ways[0].flow = Some(0.6);
    element(&mut job, inner).ways[0].flow = Some(0.25);
    let found = running(&job);
    let airflow = found.now.airflow.cfm();
    assert_near("a quarter of 60 %", at_element(&found, RETURN).0, 0.15 * airflow, SAME);
    // Grille one part, the fork two as the duct that it stands for: 0.18 × 2/3.
    assert_near("drop of the fork", at_element(&found, inner).1, 0.12, SAME);
    assert_near("its way drops as much", at_element(&found, RETURN).1, 0.12, SAME);
}
