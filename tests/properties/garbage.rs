//! Jobs out of anything that the types allow: not-a-number readings, empty tables, ports that are nowhere, taps without names.

use proptest::prelude::*;
use proptest::sample::select;
use tapcross::model::facts::accuracy::Accuracy;
use tapcross::model::facts::air::AirConditions;
use tapcross::model::facts::air_path::{
    AirPath, Bypass, Element, ElementId, ElementKind, Port, PortId, Way, Whereabouts,
};
use tapcross::model::facts::airflow_read::{AirflowRead, PlateRead};
use tapcross::model::facts::blower::{
    Basis, BlowerTable, Call, Cell, CoilInTest, Corrections, EquipmentKind, HeatStage, LowVoltage, MotorFamily,
    PartInTest, Position, ReturnOpenings, Row, Tap, TapData,
};
use tapcross::model::facts::change::{
    BelowTable, Change, ChangeId, ChangeKind, FilterLoading, LessByHand, OtherCall, OtherCoilState, OtherTap, PanelOff,
    Replacement, Seal, Switch,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::design::DuctDesign;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::limits::Limits;
use tapcross::model::facts::readings::{CoilState, HeatRead, Phase, ReadAt, Reading, ReadingSet};
use tapcross::model::facts::target::Target;
use tapcross::units::{
    Airflow, Altitude, Area, Barometer, Capacity, Density, HeatRate, Length, Power, Pressure, Speed, Temperature,
    TemperatureRise, Velocity, Voltage,
};

/// Mostly a number of the given range, sometimes anything that a double can be.
fn number(range: std::ops::Range<f64>) -> BoxedStrategy<f64> {
    let odd = select(vec![
        0.0,
        -0.0,
        1e-310,
        -1.0,
        1e300,
        -1e300,
        f64::INFINITY,
        f64::NEG_INFINITY,
        f64::NAN,
        f64::MIN_POSITIVE,
    ]);
    prop_oneof![150 => range, 1 => odd, 1 => proptest::num::f64::ANY].boxed()
}

fn pressure(range: std::ops::Range<f64>) -> impl Strategy<Value = Pressure> {
    number(range).prop_map(Pressure::from_in_wc)
}

fn airflow() -> impl Strategy<Value = Airflow> {
    number(200.0..2000.0).prop_map(Airflow::from_cfm)
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        20 => select(vec!["1", "2", "3"]).prop_map(str::to_owned),
        1 => Just(String::new()),
        1 => "\\PC{0,6}",
    ]
}

fn cell() -> impl Strategy<Value = Cell> {
    let note = proptest::option::of("[a-z ]{0,8}");
    prop_oneof![
        10 => (airflow(), note.clone()).prop_map(|(airflow, note)| Cell::Airflow(airflow, note)),
        1 => Just(Cell::NotGiven),
        1 => note.prop_map(Cell::NotAllowed),
    ]
}

/// Rows as they come: in any order, with any figures.
fn wild_rows() -> impl Strategy<Value = Vec<Row>> {
    let row = (
        pressure(0.0..1.2),
        cell(),
        proptest::option::of(number(50.0..900.0)),
        proptest::option::of(number(300.0..1200.0)),
    );
    let row = row.prop_map(|(esp, cell, power, speed)| Row {
        esp,
        cell,
        power: power.map(Power::from_watts),
        speed: speed.map(Speed::from_rpm),
    });
    proptest::collection::vec(row, 0..7)
}

/// Rows that rise in static and fall in airflow, some places barred or empty.
fn tame_rows() -> impl Strategy<Value = Vec<Row>> {
    (super::tables::falling(), proptest::collection::vec(0..12_u8, 12), any::<bool>()).prop_map(
        |(points, gaps, watts)| {
            let rows = points.into_iter().zip(gaps);
            rows.map(|((esp, cfm), gap)| Row {
                esp: Pressure::from_in_wc(esp),
                cell: match gap {
                    0 => Cell::NotGiven,
                    1 => Cell::NotAllowed(Some("barred".to_owned())),
                    2 => Cell::Airflow(Airflow::from_cfm(cfm), Some("a note".to_owned())),
                    _ => Cell::Airflow(Airflow::from_cfm(cfm), None),
                },
                power: watts.then(|| Power::from_watts(0.3 * cfm)),
                speed: None,
            })
            .collect()
        },
    )
}

fn tap() -> impl Strategy<Value = Tap> {
    let range = (airflow(), pressure(0.0..0.4), pressure(0.4..1.0)).prop_map(|(airflow, from, to)| TapData::Range {
        airflow,
        from,
        to,
    });
    let data = prop_oneof![
        6 => tame_rows().prop_map(TapData::Column),
        2 => wild_rows().prop_map(TapData::Column),
        1 => range,
    ];
    (name(), data).prop_map(|(name, data)| Tap { name, data })
}

fn drop_data() -> impl Strategy<Value = Option<DropData>> {
    let points = proptest::collection::vec((number(100.0..2000.0), number(0.0..0.5)), 0..3);
    (points, number(1.0..2.2)).prop_map(|(points, exponent)| {
        let points = points.into_iter().map(|(cfm, drop)| (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop)));
        DropData::new(points.collect(), exponent).ok()
    })
}

fn part() -> impl Strategy<Value = PartInTest> {
    select(vec![PartInTest::Without, PartInTest::Included])
}

fn openings() -> impl Strategy<Value = ReturnOpenings> {
    use ReturnOpenings as R;
    select(vec![R::Unstated, R::Bottom, R::OneSide, R::TwoSides])
}

fn basis() -> impl Strategy<Value = Basis> {
    let coil = select(vec![CoilInTest::Without, CoilInTest::Dry, CoilInTest::Wet]);
    let numbers =
        (proptest::option::weighted(0.3, number(100.0..250.0)), proptest::option::weighted(0.3, number(0.05..0.08)));
    (part(), coil, part(), openings(), numbers).prop_map(|(filter, coil, heater, return_openings, (volts, density))| {
        Basis {
            filter,
            coil,
            heater,
            return_openings,
            position: Position::Unstated,
            voltage: volts.map(Voltage::from_volts),
            density: density.map(Density::from_lb_ft3),
            reading_error: volts.map(|volts| volts / 50.0),
        }
    })
}

fn corrections() -> impl Strategy<Value = Corrections> {
    let low = proptest::option::of((number(190.0..250.0), number(0.5..1.2)));
    (drop_data(), drop_data(), drop_data(), drop_data(), low).prop_map(
        |(filter_as_tested, wet_coil, heater, one_side_return, low)| Corrections {
            filter_as_tested,
            wet_coil,
            heater,
            one_side_return,
            low_voltage: low
                .map(|(volts, airflow_factor)| LowVoltage { voltage: Voltage::from_volts(volts), airflow_factor }),
        },
    )
}

fn call() -> impl Strategy<Value = Call> {
    select(Call::ALL.to_vec())
}

fn stage() -> impl Strategy<Value = HeatStage> {
    let rise = proptest::option::of((number(20.0..50.0), number(50.0..90.0)));
    (call(), number(1e4..1e5), rise, proptest::option::of(airflow())).prop_map(
        |(call, output, rise, minimum_airflow)| HeatStage {
            call,
            output: HeatRate::from_btuh(output),
            rise: rise.map(|(low, high)| (TemperatureRise::from_f(low), TemperatureRise::from_f(high))),
            minimum_airflow,
        },
    )
}

fn machine() -> impl Strategy<Value = BlowerTable> {
    let kinds = (select(EquipmentKind::ALL.to_vec()), select(MotorFamily::ALL.to_vec()));
    let plate = (proptest::option::of(number(1.0..6.0)), proptest::option::of(pressure(0.3..1.0)));
    let calls = proptest::collection::vec((call(), name()), 0..3);
    let taps = proptest::collection::vec(tap(), 0..5);
    (kinds, plate, basis(), corrections(), calls, proptest::collection::vec(stage(), 0..3), taps).prop_map(
        |((kind, motor), (cooling, rated_maximum), basis, corrections, calls, heating, taps)| {
            // A call that runs a tap which is not there makes the whole table wrong; most random calls would.
            let calls = calls.into_iter().filter(|(_, name)| taps.iter().any(|tap| tap.name == *name)).collect();
            BlowerTable {
                kind,
                motor,
                cooling: cooling.map(Capacity::from_tons),
                rated_maximum,
                basis,
                corrections,
                calls,
                heating,
                taps,
                ..BlowerTable::default()
            }
        },
    )
}

fn element() -> impl Strategy<Value = Element> {
    use ElementKind as K;
    let kinds = vec![
        K::Louvre,
        K::ReturnGrille,
        K::ReturnDuct,
        K::Filter,
        K::Blower,
        K::HeatExchanger,
        K::Coil,
        K::Heater,
        K::SupplyDuct,
        K::Registers,
        K::AirCleaner,
        K::Damper,
        K::Leak,
        K::Bypass,
        K::SideBySide,
    ];
    let whereabouts = select(vec![Whereabouts::Cabinet, Whereabouts::House]);
    let leaf = (0..12_u32, select(kinds), whereabouts, drop_data())
        .prop_map(|(id, kind, whereabouts, drop)| Element { drop, ..Element::new(ElementId(id), kind, whereabouts) });
    leaf.prop_recursive(3, 12, 3, |within| {
        let flow = proptest::option::of(-0.2..1.2_f64);
        let way = (flow, proptest::collection::vec(within, 0..3)).prop_map(|(flow, elements)| Way { flow, elements });
        (20..40_u32, proptest::collection::vec(way, 0..4))
            .prop_map(|(id, ways)| Element { ways, ..Element::new(ElementId(id), K::SideBySide, Whereabouts::House) })
    })
}

fn port() -> impl Strategy<Value = Port> {
    (0..4_u32, 0..12_u32).prop_map(|(id, after)| Port { id: PortId(id), after: ElementId(after) })
}

/// What becomes of the path that the equipment sets.
#[derive(Clone, Debug)]
enum PathKind {
    AsSet,
    PortsAnywhere(Vec<Port>),
    DropsGiven(Vec<Option<DropData>>),
    Wild(Vec<Element>, Vec<Port>),
    Edited(Vec<(u8, u32, u32)>),
}

fn path_kind() -> impl Strategy<Value = PathKind> {
    let ports = || proptest::collection::vec(port(), 0..4);
    prop_oneof![
        3 => Just(PathKind::AsSet),
        2 => ports().prop_map(PathKind::PortsAnywhere),
        2 => proptest::collection::vec(drop_data(), 10).prop_map(PathKind::DropsGiven),
        3 => proptest::collection::vec((0..11_u8, 1..16_u32, 0..20_u32), 0..8).prop_map(PathKind::Edited),
        1 => (proptest::collection::vec(element(), 0..10), ports()).prop_map(|(elements, ports)| PathKind::Wild(elements, ports)),
    ]
}

fn path_of(kind: PathKind, machine: Option<&BlowerTable>) -> AirPath {
    let empty = BlowerTable::default();
    let table = machine.unwrap_or(&empty);
    let mut path = AirPath::for_equipment(table.kind, &table.basis);
    match kind {
        PathKind::AsSet => {}
        PathKind::PortsAnywhere(ports) => path.ports = ports,
        PathKind::DropsGiven(drops) => {
            for (element, drop) in path.elements.iter_mut().zip(drops) {
                element.drop = drop;
            }
        }
        PathKind::Wild(elements, ports) => path = AirPath { elements, ports, ..AirPath::default() },
        PathKind::Edited(edits) => {
            for edit in edits {
                edit_path(&mut path, edit);
            }
            assert_eq!(path.problem(), None, "{path:#?}");
        }
    }
    path
}

/// One edit by numbers; what is refused leaves the path as it was.
fn edit_path(path: &mut AirPath, (what, one, other): (u8, u32, u32)) {
    use tapcross::model::facts::air_path::chain::Beside;
    use tapcross::model::facts::air_path::chain::CAN_BE_ADDED;
    let (id, kind) = (ElementId(one), CAN_BE_ADDED[other as usize % CAN_BE_ADDED.len()]);
    let before = path.clone();
    let done = match what {
        0 => path.put_in(kind, Beside::Before(id)).map(drop),
        1 => path.put_in(kind, Beside::After(id)).map(drop),
        2 => path.take_out(id),
        3 => path.shift(id, other % 2 == 0),
        4 | 5 => path.lay_beside(id, ElementId(one + other % 2)).map(drop),
        6 => path.add_way(id),
        7 => path.take_way(id, other as usize % 3),
        8 => path.leak_at(id, f64::from(other) / 30.0).map(drop),
        9 => path.add_port(id).map(drop),
        _ => {
            let (leaves_after, joins_after) = (id, ElementId(other % 3 + 1));
            let flow = f64::from(other) / 20.0;
            let mut then = path.clone();
            then.bypass = Some(Bypass { id: then.next_element(), leaves_after, joins_after, flow });
            let is_sound = then.problem().is_none();
            if is_sound {
                *path = then;
            }
            Ok(())
        }
    };
    if done.is_err() {
        assert_eq!(*path, before, "an edit that was refused changed the path");
    }
}

fn reading(at: impl Strategy<Value = ReadAt>, range: std::ops::Range<f64>) -> impl Strategy<Value = Reading> {
    (at, proptest::collection::vec(pressure(range), 0..3)).prop_map(|(at, looks)| Reading { at, looks })
}

fn readings() -> impl Strategy<Value = Vec<Reading>> {
    let port = |id: u32| Just(ReadAt::Port(PortId(id)));
    let across = || (0..16_u32).prop_map(|id| ReadAt::Across(ElementId(id)));
    let anywhere = prop_oneof![Just(ReadAt::Total), (0..4_u32).prop_map(|id| ReadAt::Port(PortId(id))), across()];
    prop_oneof![
        4 => (reading(port(1), -0.6..0.0), reading(port(2), 0.0..0.6)).prop_map(|(before, after)| vec![before, after]),
        2 => (reading(port(1), -0.6..0.0), reading(port(2), 0.0..0.6), reading(port(3), -0.6..0.6), reading(across(), 0.0..0.3))
            .prop_map(|(before, after, third, across)| vec![before, after, third, across]),
        2 => reading(Just(ReadAt::Total), 0.0..1.2).prop_map(|total| vec![total]),
        1 => proptest::collection::vec(reading(anywhere, -1.0..1.0), 0..4),
    ]
}

fn air() -> impl Strategy<Value = AirConditions> {
    let wild = (
        number(0.0..8000.0),
        proptest::option::weighted(0.2, number(70.0..103.0)),
        number(50.0..90.0),
        number(0.1..0.9),
    );
    let wild = wild.prop_map(|(ft, kpa, f, humidity)| AirConditions {
        altitude: Altitude::from_ft(ft),
        station_pressure: kpa.map(Barometer::from_kpa),
        temperature: Temperature::from_f(f),
        humidity,
    });
    prop_oneof![1 => Just(AirConditions::default()), 2 => wild]
}

fn set() -> impl Strategy<Value = ReadingSet> {
    let state =
        (call(), proptest::option::weighted(0.85, name()), select(vec![CoilState::Dry, CoilState::Wet]), any::<bool>());
    let out = proptest::collection::vec((0..12_u32).prop_map(ElementId), 0..2);
    let electric =
        (proptest::option::weighted(0.3, number(100.0..900.0)), proptest::option::weighted(0.3, number(200.0..250.0)));
    (state, readings(), out, air(), electric).prop_map(
        |((call, tap, coil, signs_confirmed), readings, parts_out, air, (watts, volts))| ReadingSet {
            name: String::new(),
            time: String::new(),
            note: String::new(),
            after_repair: false,
            otherwise: false,
            call,
            tap,
            readings,
            coil,
            parts_out,
            air,
            heat: HeatRead {
                rise: watts.map(|watts| TemperatureRise::from_f(watts / 10.0)),
                input: volts.map(|volts| HeatRate::from_btuh(volts * 300.0)),
                efficiency: watts.map(|watts| watts / 1000.0),
                meter_seconds: volts,
                meter_dial: watts.map(|_| 0.5),
                heating_value: watts.map(|watts| watts + 300.0),
                amps: watts.map(|watts| watts / 20.0),
                phase: if signs_confirmed { Phase::Three } else { Phase::Single },
            },
            airflow: AirflowRead {
                supply_grilles: watts.map(Airflow::from_cfm).into_iter().collect(),
                return_grilles: volts.into_iter().chain(watts).map(Airflow::from_cfm).collect(),
                plate: PlateRead {
                    airflow: volts.map(|volts| Airflow::from_cfm(volts * 4.0)),
                    at_one: watts.map(|watts| Airflow::from_cfm(watts * 3.0)),
                    exponent: if signs_confirmed { 0.5 } else { 0.7 },
                    drop: watts.map(|watts| Pressure::from_in_wc(watts / 2000.0)),
                    usual_static: volts.map(|volts| Pressure::from_in_wc(volts / 1000.0)),
                    plate_static: watts.map(|watts| Pressure::from_in_wc(watts / 2000.0)),
                },
            },
            power: watts.map(Power::from_watts),
            voltage: volts.map(Voltage::from_volts),
            signs_confirmed,
        },
    )
}

fn target() -> impl Strategy<Value = Option<Target>> {
    prop_oneof![
        1 => Just(None),
        2 => airflow().prop_map(|airflow| Some(Target::Airflow(airflow))),
        2 => (number(1.0..6.0), number(300.0..450.0)).prop_map(|(tons, cfm)| Some(Target::PerTon {
            capacity: Capacity::from_tons(tons),
            per_ton: Airflow::from_cfm(cfm),
        })),
        1 => (number(2e4..1e5), number(30.0..80.0)).prop_map(|(btuh, rise)| Some(Target::HeatRise {
            output: HeatRate::from_btuh(btuh),
            rise: TemperatureRise::from_f(rise),
        })),
    ]
}

fn limits() -> impl Strategy<Value = Limits> {
    let wild = (number(0.02..0.3), pressure(0.05..0.3), pressure(0.3..0.8), pressure(0.1..0.3), number(0.3..0.8));
    let wild = wild.prop_map(|(accept_band, return_drop, furnace_supply_drop, least_static, watts_per_cfm)| Limits {
        commissioned_airflow: 0.15,
        accept_band,
        return_drop,
        furnace_supply_drop,
        least_static,
        watts_per_cfm,
        filter_drop: return_drop,
        coil_drop: furnace_supply_drop,
        least_of_design: accept_band,
        lost_air: accept_band,
        most_out: 1.0 - accept_band,
        duct_velocity: Velocity::from_fpm(2000.0 * accept_band + 100.0),
        grille_velocity: Velocity::from_fpm(1000.0 * accept_band + 100.0),
        furnace_watts_per_cfm: watts_per_cfm,
    });
    prop_oneof![3 => Just(Limits::default()), 1 => wild]
}

fn accuracy() -> impl Strategy<Value = Accuracy> {
    let wild = (
        number(0.0..0.05),
        pressure(0.0..0.02),
        pressure(0.0..0.05),
        number(0.0..0.1),
        number(0.0..0.5),
        number(0.0..0.3),
    );
    let wild =
        wild.prop_map(|(manometer_fraction, manometer_floor, port_offset, table_fraction, exponent, data_fraction)| {
            Accuracy {
                manometer_fraction,
                manometer_floor,
                port_offset,
                reading_scatter: port_offset / 2.0,
                table_fraction,
                tap_fraction: table_fraction / 2.0,
                data_fraction,
                exponent,
                change_fraction: data_fraction,
                table_power_fraction: data_fraction,
                wattmeter_fraction: manometer_fraction,
                thermometer: TemperatureRise::from_f(exponent),
                heat_fraction: data_fraction,
                rated_heat_fraction: data_fraction,
                hood_fraction: data_fraction,
                plate_fraction: data_fraction,
                guessed_odds: 1.0 + exponent,
            }
        });
    prop_oneof![3 => Just(Accuracy::default()), 1 => wild]
}

fn ducts() -> impl Strategy<Value = DuctDesign> {
    let length = || proptest::option::weighted(0.7, number(5.0..900.0).prop_map(Length::from_ft));
    let stated = (length(), length(), proptest::option::of(pressure(0.1..1.5)));
    let stated = stated.prop_map(|(return_length, supply_length, design_static)| DuctDesign {
        return_length,
        supply_length,
        design_static,
    });
    prop_oneof![1 => Just(DuctDesign::default()), 1 => stated]
}

/// Changes of the kinds that rearrange the path or the machine, on anything.
fn kind() -> impl Strategy<Value = ChangeKind> {
    let element = || (0..18_u32).prop_map(ElementId);
    let leaves = proptest::collection::vec(element(), 0..3);
    let other = (machine(), proptest::option::of(name()), leaves, drop_data(), drop_data(), target());
    prop_oneof![
        2 => (element(), number(0.0..1.0)).prop_map(|(element, fraction)| ChangeKind::Seal(Seal { element, fraction })),
        2 => (element(), number(0.0..1.0)).prop_map(|(element, fraction)| ChangeKind::LessByHand(LessByHand { element, fraction })),
        1 => (element(), number(0.3..3.0)).prop_map(|(element, factor)| ChangeKind::OtherCoilState(OtherCoilState { element, factor })),
        1 => (element(), number(0.05..20.0)).prop_map(|(element, factor)| ChangeKind::FilterLoading(FilterLoading { element, factor })),
        1 => number(0.5..1.0).prop_map(|factor| ChangeKind::BelowTable(BelowTable { factor })),
        1 => number(1.0..200.0).prop_map(|area| ChangeKind::PanelOff(PanelOff { area: Area::from_in2(area) })),
        1 => call().prop_map(|call| ChangeKind::OtherCall(OtherCall { call })),
        1 => name().prop_map(|tap| ChangeKind::OtherTap(OtherTap { tap })),
        1 => other.prop_map(|(table, tap, leaves, coil, filter, target)| {
            ChangeKind::OtherMachine(Box::new(Replacement { table, tap, leaves, coil, filter, target }))
        }),
    ]
}

fn changes() -> impl Strategy<Value = Vec<Change>> {
    proptest::collection::vec((kind(), any::<bool>(), proptest::option::of(number(0.0..900.0))), 0..4).prop_map(
        |kinds| {
            let change = |((kind, on, price), id)| Change {
                id: ChangeId(id),
                kind,
                switch: if on { Switch::On } else { Switch::Off },
                price,
                labour: None,
                note: String::new(),
            };
            kinds.into_iter().zip(1..).map(change).collect()
        },
    )
}

/// Any job.
pub(crate) fn job() -> impl Strategy<Value = Job> {
    let sets = proptest::collection::vec(set(), 0..3);
    let machine = proptest::option::weighted(0.95, machine());
    let rest = (proptest::option::weighted(0.3, number(1.0..6.0)), openings(), target(), limits(), accuracy(), ducts());
    (machine, path_kind(), sets, changes(), rest).prop_map(
        |(machine, path, sets, changes, (tons, return_openings, target, limits, accuracy, ducts))| Job {
            ducts,
            path: path_of(path, machine.as_ref()),
            machine,
            outdoor_unit: tons.map(Capacity::from_tons),
            return_openings,
            sets,
            changes,
            target,
            limits,
            accuracy,
            ..Job::default()
        },
    )
}
