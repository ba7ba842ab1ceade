//! A house with invented figures, and a solver that knows nothing of the program's own.

use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{AirPath, Element, ElementId, Port, PortId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, BlowerTable, Call, EquipmentKind, HeatStage, MotorFamily, Tap};
use tapcross::model::facts::change::{Change, ChangeId, ChangeKind, LessByHand, Seal, Switch};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::model::laws::tap_curve::TapCurve;
use tapcross::model::path::parts::flows;
use tapcross::model::verdicts::system::{Projection, Running};
use tapcross::model::wording::problems;
use tapcross::units::{Airflow, HeatRate, Pressure, TemperatureRise, UnitSystem};

use super::checks;
use super::standard_air::standard_air;

pub(crate) const GRILLE: ElementId = ElementId(1);
pub(crate) const RETURN: ElementId = ElementId(2);
pub(crate) const FILTER: ElementId = ElementId(3);
pub(crate) const BLOWER: ElementId = ElementId(4);
pub(crate) const COIL: ElementId = ElementId(6);
pub(crate) const SUPPLY: ElementId = ElementId(7);
pub(crate) const REGISTERS: ElementId = ElementId(8);

/// Two figures that were worked out in two ways.
pub(crate) const SAME: f64 = 1e-8;

pub(crate) fn assert_near(what: &str, value: f64, right: f64, relative: f64) {
    assert!((value - right).abs() <= relative * right.abs().max(1e-3), "{what}: {value}, not {right}");
}

pub(crate) fn in_wc(value: f64) -> Pressure {
    Pressure::from_in_wc(value)
}

pub(crate) fn cfm(value: f64) -> Airflow {
    Airflow::from_cfm(value)
}

/// One of the invented tables of the reference rows, as a tap of that name.
pub(crate) fn tap(letter: &str) -> Tap {
    let rows = checks::table_points(letter).into_iter().map(|(esp, cfm)| (esp, cfm, Some(0.35 * cfm)));
    Tap { name: letter.to_owned(), ..checks::tap_of(rows) }
}

pub(crate) fn curve(letter: &str) -> TapCurve {
    checks::curve_of(&tap(letter), MotorFamily::PermanentSplitCapacitor)
}

/// A furnace whose table has neither filter nor coil: tap A cools, tap B heats.
pub(crate) fn furnace_table() -> BlowerTable {
    BlowerTable {
        name: "Made up".to_owned(),
        kind: EquipmentKind::Furnace,
        motor: MotorFamily::PermanentSplitCapacitor,
        rated_maximum: Some(in_wc(0.8)),
        calls: vec![(Call::CoolingHigh, "A".to_owned()), (Call::HeatingHigh, "B".to_owned())],
        heating: vec![HeatStage {
            call: Call::HeatingHigh,
            output: HeatRate::from_btuh(64_000.0),
            rise: Some((TemperatureRise::from_f(35.0), TemperatureRise::from_f(65.0))),
            minimum_airflow: None,
        }],
        taps: vec![tap("A"), tap("B")],
        ..BlowerTable::default()
    }
}

/// A job for a table made in the job's own air, so that r = 1 exactly; the rooms' air is standard air.
pub(crate) fn job_for(mut table: BlowerTable) -> Job {
    let mut job = Job { path: AirPath::for_equipment(table.kind, &table.basis), ..Job::default() };
    job.sets[0].air = standard_air();
    table.basis.density = Some(job.set().air.at_blower(table.kind, job.set().call).density);
    job.machine = Some(table);
    job
}

/// The furnace on its path, read at −0.30 and +0.40: 0.70 across it.
pub(crate) fn furnace() -> Job {
    let mut job = job_for(furnace_table());
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.30);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.40);
    job
}

pub(crate) fn basis_of(job: &Job) -> Basis {
    job.machine.as_ref().expect("a machine").basis
}

pub(crate) fn read(job: &mut Job, at: ReadAt, value: f64) {
    job.sets[0].readings.retain(|reading| reading.at != at);
    job.sets[0].readings.push(Reading { at, looks: vec![in_wc(value)] });
}

/// A new port after an element with what was read there.
pub(crate) fn read_after(job: &mut Job, after: ElementId, value: f64) -> PortId {
    let port = job.path.add_port(after).expect("a place for a port");
    read(job, ReadAt::Port(port), value);
    port
}

pub(crate) fn move_port(job: &mut Job, id: PortId, after: ElementId) {
    let port: &mut Port = job.path.ports.iter_mut().find(|port| port.id == id).expect("the port");
    port.after = after;
}

pub(crate) fn element(job: &mut Job, id: ElementId) -> &mut Element {
    job.path.element_mut(id).expect("the element")
}

/// A share of a segment's drop and an exponent of one's own.
pub(crate) fn shaped(job: &mut Job, id: ElementId, share: f64, exponent: f64) {
    let element = element(job, id);
    (element.share, element.exponent) = (Some(share), Some(exponent));
}

pub(crate) fn data(airflow: f64, drop: f64, exponent: f64) -> DropData {
    DropData::at(cfm(airflow), in_wc(drop), exponent).expect("sound data")
}

pub(crate) fn with(mut job: Job, kinds: impl IntoIterator<Item = ChangeKind>) -> Job {
    for (kind, number) in kinds.into_iter().zip(1..) {
        job.changes.push(Change {
            id: ChangeId(number),
            kind,
            switch: Switch::On,
            price: None,
            labour: None,
            note: String::new(),
        });
    }
    job
}

pub(crate) fn less(element: ElementId, fraction: f64) -> ChangeKind {
    ChangeKind::LessByHand(LessByHand { element, fraction })
}

pub(crate) fn seal(element: ElementId, fraction: f64) -> ChangeKind {
    ChangeKind::Seal(Seal { element, fraction })
}

/// A constant-torque machine of two taps with rows at 0.1 to 0.9, of which tap 2 runs, on fan only, so that no coil cools its air.
pub(crate) fn torque(kind: EquipmentKind, basis: Basis) -> Job {
    let rows =
        |airflows: [f64; 5]| [0.1, 0.3, 0.5, 0.7, 0.9].into_iter().zip(airflows).map(|(esp, cfm)| (esp, cfm, None));
    let tap = |name: &str, airflows| Tap { name: name.to_owned(), ..checks::tap_of(rows(airflows)) };
    let taps = vec![tap("1", [1010.0, 920.0, 828.0, 735.0, 645.0]), tap("2", [1440.0, 1371.0, 1300.0, 1228.0, 1151.0])];
    let calls = vec![(Call::FanOnly, "2".to_owned())];
    let table = BlowerTable { kind, basis, calls, taps, motor: MotorFamily::ConstantTorque, ..BlowerTable::default() };
    let mut job = Job { path: AirPath::for_equipment(kind, &basis), machine: Some(table), ..Job::default() };
    job.sets[0].air = standard_air();
    job.sets[0].call = Call::FanOnly;
    job
}

/// The curve of a tap of a job's table.
pub(crate) fn curve_in(job: &Job, name: &str) -> TapCurve {
    let table = job.machine.as_ref().expect("a machine");
    checks::curve_of(table.tap(name).expect("the tap"), table.motor)
}

/// Every question that is asked of a job.
pub(crate) fn asked(job: &Job) -> Vec<String> {
    let all = Answer::of(job).problems.into_iter();
    all.map(|problem| problems::sentence(&problem.what, UnitSystem::InchPound)).collect()
}

pub(crate) fn running(job: &Job) -> Running {
    *Answer::of(job).found.unwrap_or_else(|idle| panic!("{:?}\n{:#?}", idle.why, job.path))
}

/// The path after the changes, of which some may be refused.
pub(crate) fn projected(job: &Job) -> Projection {
    Answer::of(job).changed.pop().expect("a job with changes has an after")
}

/// The path after the changes, none of which may be refused.
pub(crate) fn after(job: &Job) -> Projection {
    let after = projected(job);
    assert!(after.refused.is_empty(), "{:?}", after.refused);
    after
}

/// Airflow and total static after the changes.
pub(crate) fn point_after(job: &Job) -> (f64, f64) {
    let after = after(job);
    let point = after.system.point().expect("a crossing");
    (point.airflow.cfm(), point.tesp.in_wc())
}

/// Airflow and drop of an element during the readings.
pub(crate) fn at_element(running: &Running, id: ElementId) -> (f64, f64) {
    let (airflow, drop) = flows::at_element(&running.system.parts, id, running.now.airflow).expect("a part of its own");
    (airflow.cfm(), drop.in_wc())
}

/// `ΔP = C·Qⁿ` through a point, as a plain function.
pub(crate) fn law(airflow: f64, drop: f64, exponent: f64) -> impl Fn(f64) -> f64 + Clone {
    move |cfm: f64| drop * (cfm / airflow).powf(exponent)
}

/// Where a rising function of one number crosses a value, by halving.
pub(crate) fn halve(mut low: f64, mut high: f64, is_under: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        *(if is_under(middle) { &mut low } else { &mut high }) = middle;
    }
    f64::midpoint(low, high)
}

/// Drop across two ways side by side and the airflow of the first, by halving the share of the first.
pub(crate) fn beside(one: impl Fn(f64) -> f64, other: impl Fn(f64) -> f64, airflow: f64) -> (f64, f64) {
    let first = halve(0.0, airflow, |first| one(first) < other(airflow - first));
    (one(first), first)
}

/// Airflow and static where a curve meets a path, by halving the table's ESP.
pub(crate) fn meet(curve: &TapCurve, path: impl Fn(f64) -> f64) -> (f64, f64) {
    let airflow = |esp: f64| curve.value_and_slope(esp).0;
    let esp = halve(0.0, curve.end().0.in_wc(), |esp| esp < path(airflow(esp)));
    (airflow(esp), path(airflow(esp)))
}
