//! Jobs that each make the report say something of its own.

use tapcross::edit::{Edit, OptionEdit, apply};
use tapcross::files::demo;
use tapcross::model::facts::air::AirConditions;
use tapcross::model::facts::air_path::{Bypass, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::airflow_read::{Anchor, OpinionKind};
use tapcross::model::facts::blower::{Call, Cell, Row, Tap, TapData};
use tapcross::model::facts::change::{
    Change, ChangeId, ChangeKind, CleanCoil, LessByHand, OtherCall, OtherTap, Replacement, Seal, Switch,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::design::DuctDesign;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading, ReadingSet};
use tapcross::model::facts::target::Target;
use tapcross::units::{Airflow, Altitude, Length, Power, Pressure, Voltage};

pub(crate) fn reading(at: ReadAt, in_wc: f64) -> Reading {
    Reading { at, looks: vec![Pressure::from_in_wc(in_wc)] }
}

/// The first demo with its readings replaced by one total.
pub(crate) fn with_total(in_wc: f64) -> Job {
    let mut job = demo::heat_pump();
    job.sets[0].readings = vec![reading(ReadAt::Total, in_wc)];
    job
}

/// The first demo with its tap 3 replaced by a tap of one row.
pub(crate) fn with_one_row_tap(tap_in_use: &str) -> Job {
    let mut job = demo::heat_pump();
    let table = job.machine.as_mut().unwrap();
    let row = Row {
        esp: Pressure::from_in_wc(0.5),
        cell: Cell::Airflow(Airflow::from_cfm(1240.0), None),
        power: None,
        speed: None,
    };
    table.taps[2] = Tap { name: "3".to_owned(), data: TapData::Column(vec![row]) };
    job.sets[0].tap = Some(tap_in_use.to_owned());
    job
}

pub(crate) fn without_readings() -> Job {
    let mut job = demo::heat_pump();
    job.sets[0].readings.clear();
    job
}

fn change(id: u32, price: Option<f64>, switch: Switch, kind: ChangeKind) -> Change {
    Change { id: ChangeId(id), kind, switch, price, labour: None, note: format!("note {id}") }
}

/// The furnace demo with three changes on, one off, and one on an element that is gone.
pub(crate) fn with_changes() -> Job {
    let mut job = demo::gas_furnace();
    let element = |kind| job.path.first(kind).unwrap().id;
    let less = |element, fraction| ChangeKind::LessByHand(LessByHand { element, fraction });
    let (duct, coil) = (element(ElementKind::ReturnDuct), element(ElementKind::Coil));
    job.changes = vec![
        change(4, Some(300.0), Switch::On, less(duct, 0.5)),
        change(2, None, Switch::On, ChangeKind::CleanCoil(CleanCoil { element: coil, fraction: 0.2 })),
        change(7, Some(50.0), Switch::On, ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() })),
        change(8, Some(90.0), Switch::Off, less(element(ElementKind::SupplyDuct), 0.4)),
        change(9, Some(10.0), Switch::On, less(ElementId(77), 0.4)),
    ];
    job
}

/// The furnace demo with both lengths stated and its coil by data; its filter has none.
pub(crate) fn with_lengths() -> Job {
    let mut job = demo::gas_furnace();
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.2), 1.8).unwrap();
    job.path.elements.iter_mut().find(|element| element.kind == ElementKind::Coil).unwrap().drop = Some(data);
    job.ducts = DuctDesign {
        return_length: Some(Length::from_ft(90.0)),
        supply_length: Some(Length::from_ft(160.0)),
        design_static: Some(Pressure::from_in_wc(0.5)),
    };
    job
}

/// The same where the parts with data leave nothing.
pub(crate) fn with_nothing_left() -> Job {
    let mut job = with_lengths();
    job.ducts.design_static = Some(Pressure::from_in_wc(0.1));
    job.target = None;
    job
}

/// The same without a target or a design static, and a filter by data that leaves the return within its share.
pub(crate) fn with_short_ducts() -> Job {
    let mut job = with_lengths();
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.29), 1.2).unwrap();
    job.path.elements.iter_mut().find(|element| element.kind == ElementKind::Filter).unwrap().drop = Some(data);
    job.ducts.design_static = None;
    job.target = None;
    job
}

/// The furnace demo with two returns, a supply leak, a bypass, a reading across a part, and changes of every role.
pub(crate) fn with_ways() -> Job {
    let mut job = demo::gas_furnace();
    let id = |job: &Job, kind| job.path.first(kind).unwrap().id;
    let (grille, duct, coil) =
        (id(&job, ElementKind::ReturnGrille), id(&job, ElementKind::ReturnDuct), id(&job, ElementKind::Coil));
    let supply = id(&job, ElementKind::SupplyDuct);
    let group = job.path.lay_beside(grille, duct).unwrap();
    let leak = job.path.leak_at(supply, 0.1).unwrap();
    job.path.element_mut(group).unwrap().ways[0].flow = Some(0.6);
    "Hall return".clone_into(&mut job.path.element_mut(duct).unwrap().name);
    let second = job.path.element(group).unwrap().ways[1].elements[0].id;
    let port = job.path.add_port(second).unwrap();
    let bypass = job.path.next_element();
    job.path.bypass = Some(Bypass { id: bypass, leaves_after: coil, joins_after: group, flow: 0.15 });
    job.sets[0].readings.push(reading(ReadAt::Port(port), -0.02));
    job.sets[0].readings.push(reading(ReadAt::Across(coil), 0.15));
    job.changes = vec![
        change(1, Some(200.0), Switch::On, ChangeKind::Seal(Seal { element: leak, fraction: 0.7 })),
        change(2, Some(0.0), Switch::On, ChangeKind::Seal(Seal { element: bypass, fraction: 1.0 })),
        change(3, None, Switch::On, ChangeKind::OtherCall(OtherCall { call: Call::HeatingHigh })),
    ];
    job
}

/// The same with another machine on its ducts, which brings a target of its own.
pub(crate) fn with_another_machine() -> Job {
    let mut job = with_ways();
    let coil = job.path.first(ElementKind::Coil).unwrap().id;
    let new = Replacement {
        table: demo::heat_pump().machine.unwrap(),
        tap: Some("3".to_owned()),
        leaves: vec![coil],
        coil: None,
        filter: None,
        target: Some(Target::Airflow(Airflow::from_cfm(1000.0))),
    };
    // The house's voltage is none that the new table prints anything for.
    job.sets[0].voltage = Some(Voltage::from_volts(115.0));
    job.changes = vec![change(1, Some(5000.0), Switch::On, ChangeKind::OtherMachine(Box::new(new)))];
    job
}

/// Jobs that together show every key of the report.
/// The gas furnace as found, without its filter, said to be without it though it was there, and after the repair.
pub(crate) fn with_a_visit() -> Job {
    let mut job = demo::gas_furnace();
    let found = job.set().clone();
    let of_kind = |kind| job.path.first(kind).unwrap().id;
    let (filter, duct) = (of_kind(ElementKind::Filter), of_kind(ElementKind::ReturnDuct));
    let looks =
        |before, after| vec![reading(ReadAt::Port(RETURN_PORT), before), reading(ReadAt::Port(SUPPLY_PORT), after)];
    let of = |before, after| ReadingSet { readings: looks(before, after), ..found.clone() };
    job.sets.push(ReadingSet { parts_out: vec![filter], ..of(-0.12, 0.46) });
    job.sets.push(ReadingSet { parts_out: vec![filter], ..of(-0.285, 0.425) });
    job.sets.push(ReadingSet { after_repair: true, ..of(-0.20, 0.44) });
    job.changes =
        vec![change(1, None, Switch::On, ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.4 }))];
    job
}

/// The furnace demo with grilles and a plate read beside the static.
pub(crate) fn with_opinions() -> Job {
    let mut job = demo::gas_furnace();
    let read = &mut job.sets[0].airflow;
    read.supply_grilles = [400.0, 380.0].map(Airflow::from_cfm).to_vec();
    read.return_grilles = vec![Airflow::from_cfm(1_000.0)];
    read.plate.at_one = Some(Airflow::from_cfm(2_500.0));
    read.plate.drop = Some(Pressure::from_in_wc(0.18));
    job.anchor = Some(Anchor { by: OpinionKind::Plate, set: 0, scales: true });
    job
}

pub(crate) fn jobs_of_every_kind() -> Vec<Job> {
    let mut low_voltage_in_the_mountains = demo::heat_pump();
    low_voltage_in_the_mountains.sets[0].voltage = Some(Voltage::from_volts(208.0));
    low_voltage_in_the_mountains.sets[0].power = Some(Power::from_watts(410.0));
    low_voltage_in_the_mountains.sets[0].air =
        AirConditions { altitude: Altitude::from_ft(5000.0), ..AirConditions::default() };
    let mut ten_times_too_large = demo::heat_pump();
    ten_times_too_large.target = Some(Target::Airflow(Airflow::from_cfm(1400.0)));
    ten_times_too_large.sets[0].readings = vec![reading(ReadAt::Total, 1.6)];
    let mut unknown_call = demo::gas_furnace();
    unknown_call.machine.as_mut().unwrap().calls.push((Call::FanOnly, "no such tap".to_owned()));
    let mut one_row_after_a_change = with_one_row_tap("4");
    let duct = one_row_after_a_change.path.first(ElementKind::ReturnDuct).unwrap().id;
    let less = ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.1 });
    one_row_after_a_change.changes = vec![change(1, None, Switch::On, less)];
    let with_a_change = one_row_after_a_change.changes.clone();
    let mut two_options = Job { changes: with_a_change, ..demo::gas_furnace() };
    for edit in [OptionEdit::Copy, OptionEdit::Reason("Because".to_owned())] {
        apply(&mut two_options, Edit::Option(edit)).unwrap();
    }
    vec![
        two_options,
        one_row_after_a_change,
        demo::heat_pump(),
        demo::gas_furnace(),
        Job::default(),
        without_readings(),
        with_total(1.05),
        with_one_row_tap("3"),
        with_one_row_tap("4"),
        low_voltage_in_the_mountains,
        ten_times_too_large,
        unknown_call,
        with_changes(),
        with_lengths(),
        with_nothing_left(),
        with_short_ducts(),
        with_ways(),
        with_another_machine(),
        with_a_visit(),
        with_opinions(),
    ]
}
