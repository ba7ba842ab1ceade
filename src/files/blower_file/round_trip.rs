//! Any table at all is written and comes back the same, and no text stops the program.

use proptest::prelude::*;

use super::*;
use crate::model::facts::blower::{
    Basis, Call, Cell, CoilInTest, Corrections, EquipmentKind, HeatStage, LowVoltage, MotorFamily, PartInTest,
    Position, ReturnOpenings, Row, Tap, TapData,
};
use crate::model::facts::drop_data::DropData;
use crate::units::{Airflow, Capacity, Density, HeatRate, Power, Pressure, Speed, TemperatureRise, Voltage};

fn quantity() -> impl Strategy<Value = f64> {
    prop_oneof![
        (0..400_i32).prop_map(|n| f64::from(n) * 5.0),
        -1e3..1e12_f64,
        any::<f64>().prop_filter("finite", |x| x.is_finite())
    ]
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), Just("über \"plate\" \\ ½ 'x'".to_owned()), "[a-z0-9:,]{1,8}( [a-z0-9]{1,4})?"]
}

fn note() -> impl Strategy<Value = Option<String>> {
    proptest::option::of("[a-z0-9:\"][a-z0-9: ½]{0,8}[a-z.]")
}

fn cell() -> impl Strategy<Value = Cell> {
    prop_oneof![
        4 => (quantity(), note()).prop_map(|(cfm, note)| Cell::Airflow(Airflow::from_cfm(cfm), note)),
        1 => Just(Cell::NotGiven),
        1 => note().prop_map(Cell::NotAllowed),
    ]
}

fn row() -> impl Strategy<Value = Row> {
    let esp = prop_oneof![(0..6_i32).prop_map(|n| f64::from(n) / 10.0), quantity()];
    (esp, cell(), proptest::option::of(quantity()), proptest::option::of(quantity())).prop_map(
        |(esp, cell, watts, rpm)| Row {
            esp: Pressure::from_in_wc(esp),
            cell,
            power: watts.map(Power::from_watts),
            speed: rpm.map(Speed::from_rpm),
        },
    )
}

fn tap_data() -> impl Strategy<Value = TapData> {
    prop_oneof![
        3 => proptest::collection::vec(row(), 0..6).prop_map(TapData::Column),
        1 => (quantity(), quantity(), quantity()).prop_map(|(cfm, from, to)| TapData::Range {
            airflow: Airflow::from_cfm(cfm),
            from: Pressure::from_in_wc(from),
            to: Pressure::from_in_wc(to),
        }),
    ]
}

fn taps() -> impl Strategy<Value = Vec<Tap>> {
    proptest::collection::vec(tap_data(), 0..5).prop_map(|all| {
        all.into_iter().enumerate().map(|(index, data)| Tap { name: format!("tap {index}"), data }).collect()
    })
}

fn drop_data() -> impl Strategy<Value = Option<DropData>> {
    let points = proptest::collection::vec((1.0..900.0_f64, 0.0..2.0_f64, 0.0..5.9_f64), 1..4).prop_map(|steps| {
        let (mut airflow, mut drop) = (0.0, 0.0);
        let rising = steps.into_iter().map(|(step, first, exponent)| {
            // No part's drop rises more steeply than the sixth power, or past twice what the atmosphere weighs.
            drop = if drop == 0.0 { first } else { drop * ((airflow + step) / airflow).powf(exponent) };
            drop = drop.min(1000.0);
            airflow += step;
            (Airflow::from_cfm(airflow), Pressure::from_in_wc(drop))
        });
        rising.collect::<Vec<_>>()
    });
    proptest::option::of(
        (points, prop_oneof![Just(2.0), 1.0..2.2_f64])
            .prop_map(|(points, exponent)| DropData::new(points, exponent).unwrap()),
    )
}

fn basis() -> impl Strategy<Value = Basis> {
    (0..2_usize, 0..3_usize, 0..4_usize, proptest::option::of(quantity()), proptest::option::of(quantity())).prop_map(
        |(part, coil, place, volts, density)| Basis {
            filter: [PartInTest::Without, PartInTest::Included][part],
            coil: [CoilInTest::Without, CoilInTest::Dry, CoilInTest::Wet][coil],
            heater: [PartInTest::Included, PartInTest::Without][part],
            return_openings: [
                ReturnOpenings::Unstated,
                ReturnOpenings::Bottom,
                ReturnOpenings::OneSide,
                ReturnOpenings::TwoSides,
            ][place],
            position: [Position::Horizontal, Position::Unstated, Position::Up, Position::Down][place],
            voltage: volts.map(Voltage::from_volts),
            density: density.map(Density::from_lb_ft3),
            reading_error: density.map(|density| density * 10.0),
        },
    )
}

fn corrections() -> impl Strategy<Value = Corrections> {
    (drop_data(), drop_data(), drop_data(), drop_data(), proptest::option::of((quantity(), quantity()))).prop_map(
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

fn heating() -> impl Strategy<Value = Vec<HeatStage>> {
    let stage =
        (0..5_usize, quantity(), proptest::option::of((quantity(), quantity())), proptest::option::of(quantity()));
    proptest::collection::vec(
        stage.prop_map(|(call, output, rise, least)| HeatStage {
            call: Call::ALL[call],
            output: HeatRate::from_btuh(output),
            rise: rise.map(|(low, high)| (TemperatureRise::from_f(low), TemperatureRise::from_f(high))),
            minimum_airflow: least.map(Airflow::from_cfm),
        }),
        0..3,
    )
}

fn table() -> impl Strategy<Value = BlowerTable> {
    let head = (words(), words(), words(), 0..4_usize, 0..4_usize, any::<bool>());
    let plate = (proptest::option::of(quantity()), proptest::option::of(quantity()));
    let calls = proptest::collection::vec((0..5_usize, words()), 0..3);
    (head, plate, basis(), corrections(), calls, heating(), taps()).prop_map(
        |((name, source, notes, kind, motor, illustrative), (tons, esp), basis, corrections, calls, heating, taps)| {
            BlowerTable {
                name,
                kind: EquipmentKind::ALL[kind],
                motor: MotorFamily::ALL[motor],
                illustrative,
                source,
                notes,
                cooling: tons.map(Capacity::from_tons),
                rated_maximum: esp.map(|esp| Pressure::from_in_wc(esp.min(10.0))),
                basis,
                corrections,
                calls: calls.into_iter().map(|(call, tap)| (Call::ALL[call], tap)).collect(),
                heating,
                taps,
            }
        },
    )
}

proptest! {
    #[test]
    fn any_table_comes_back_as_it_was_written(table in table()) {
        let text = write(&table);
        let dto: BlowerDto = ron::from_str(&text).map_err(|error| TestCaseError::fail(format!("{error}\n{text}")))?;
        prop_assert_eq!(BlowerTable::try_from(dto), Ok(table.clone()), "{}", text);
        prop_assert_eq!(write(&table), text);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,80}", tail in 0..60_usize) {
        let whole = "(tapcross_blower: 1, name: \"A\", kind: Furnace, units: (airflow: Cfm, pressure: Pascals))".to_owned();
        let cut: String = whole.chars().take(tail).chain(text.chars()).collect();
        let _ = parse(&text);
        let _ = parse(&cut);
    }
}
