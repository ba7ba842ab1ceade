//! Drops by data in other air than they were published in: between two airs C·Qⁿ goes with ρ^(n − 1)·μ^(2 − n).

use super::house::*;
use tapcross::model::facts::air_path::{ElementId, RETURN_PORT};
use tapcross::model::facts::change::{ByData, ChangeKind};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::laws::duct::air_properties::sutherland_viscosity;
use tapcross::model::path::parts::part_of;
use tapcross::units::{Altitude, Density, Temperature};

/// The furnace at 5,000 ft in air of 95 °F; ρ and μ over those of standard air.
fn high_and_hot() -> (Job, f64, f64) {
    let mut job = furnace();
    let air = &mut job.sets[0].air;
    (air.station_pressure, air.altitude) = (None, Altitude::from_ft(5000.0));
    air.temperature = Temperature::from_f(95.0);
    let air = *air;
    let table = job.machine.as_mut().expect("a machine");
    let density = air.at_blower(table.kind, tapcross::model::facts::blower::Call::CoolingHigh).density;
    let viscosity = |f| sutherland_viscosity(Temperature::from_f(f)).pa_s();
    (job, density.lb_ft3() / 0.075, viscosity(95.0) / viscosity(70.0))
}

/// Drop of the filter at an airflow, as found and as a new one by the same data.
fn filter_drops(mut job: Job, filter: &DropData, airflow: f64) -> [f64; 2] {
    move_port(&mut job, RETURN_PORT, ElementId(2));
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.12);
    element(&mut job, FILTER).drop = Some(filter.clone());
    let at = |parts: &[tapcross::model::path::parts::Part]| {
        part_of(parts, FILTER).expect("the filter").drop_at(cfm(airflow)).in_wc()
    };
    let found = at(&running(&job).system.parts);
    element(&mut job, FILTER).drop = Some(data(1000.0, 0.30, 1.5));
    let new = ChangeKind::ByData(ByData { element: FILTER, data: filter.clone() });
    [found, at(&after(&with(job, [new])).system.parts)]
}

#[test]
fn a_laminar_filter_follows_viscosity_and_a_square_law_part_density() {
    for (exponent, of_density, of_viscosity) in [(1.0, 0.0, 1.0), (1.5, 0.5, 0.5), (2.0, 1.0, 0.0)] {
        let (job, density, viscosity) = high_and_hot();
        assert!((0.75..0.85).contains(&density) && (1.02..1.06).contains(&viscosity), "{density} {viscosity}");
        let right = 0.20 * f64::powf(density, of_density) * f64::powf(viscosity, of_viscosity);
        for found in filter_drops(job, &data(1000.0, 0.20, exponent), 1000.0) {
            assert_near("the filter", found, right, SAME);
        }
    }
}

/// The table was made in thin air, at 0.065 lb/ft³; who published the filter's drop meant standard air.
#[test]
fn a_parts_data_start_from_standard_air_whatever_the_tables() {
    let mut job = furnace();
    job.machine.as_mut().expect("a machine").basis.density = Some(Density::from_lb_ft3(0.065));
    for found in filter_drops(job, &data(1000.0, 0.20, 2.0), 1000.0) {
        assert_near("the filter", found, 0.20, SAME);
    }
}

/// Three points, n = 1.0 between the first two and 2.0 between the last two: in other air each stretch goes by its own exponent, and the curve has no step.
///
/// With d and m the ratios, a point (Q, p) becomes (Q·m/d, p·m²/d): the same Reynolds number, the same loss coefficient.
#[test]
fn several_points_go_each_by_its_own_exponent() {
    let points = [(500.0, 0.05), (1000.0, 0.10), (2000.0, 0.40)].map(|(flow, drop)| (cfm(flow), in_wc(drop)));
    let filter = DropData::new(points.to_vec(), 2.0).expect("sound data");
    let (_, density, viscosity) = high_and_hot();
    let knee = 1000.0 * viscosity / density;
    // On either side of the knee by the law of its own stretch.
    let laminar = |flow: f64| law(1000.0, 0.10, 1.0)(flow) * viscosity;
    let square = |flow: f64| law(1000.0, 0.10, 2.0)(flow) * density;
    let right = |flow: f64| if flow < knee { laminar(flow) } else { square(flow) };
    assert_near("they meet", laminar(knee), square(knee), 1e-12);
    for airflow in [700.0, 1100.0, knee * 0.999, knee * 1.001, 1600.0] {
        for found in filter_drops(high_and_hot().0, &filter, airflow) {
            assert_near("the filter", found, right(airflow), SAME);
        }
    }
}

/// Published in a laboratory at 0.065 lb/ft³: at standard air a square-law part drops by 0.075 / 0.065 more, a laminar one the same.
#[test]
fn a_parts_data_start_from_the_air_that_they_say() {
    for (exponent, right) in [(2.0, 0.20 * 0.075 / 0.065), (1.5, 0.20 * (0.075_f64 / 0.065).sqrt()), (1.0, 0.20)] {
        let published = data(1000.0, 0.20, exponent).published_in(Some(Density::from_lb_ft3(0.065)));
        for found in filter_drops(furnace(), &published.expect("sound data"), 1000.0) {
            assert_near("the filter", found, right, SAME);
        }
    }
}
