//! The two jobs that the program carries.

use super::*;

/// Set to anything, this writes the demo jobs anew from the recipes below.
const WRITE: &str = "TAPCROSS_WRITE_DEMO";

fn shipped(name: &str) -> BlowerTable {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("blowers").join(name);
    blower_file::parse(&fs::read_to_string(path).unwrap()).unwrap()
}

fn heat_pump() -> Job {
    let machine = shipped("ah-42t.ron");
    Job {
        title: "Alder Street, raised floor (invented)".to_owned(),
        place: "14 Alder Street, an invented house".to_owned(),
        date: "2026-07-14".to_owned(),
        notes: "Heat pump installed last year on the old ducts. One return grille in the hallway serves the whole house. \
                Bedrooms stay warm on hot afternoons, and the blower is loud at the grille. Filter new, all registers open, panels on."
            .to_owned(),
        illustrative: true,
        outdoor_unit: Some(Capacity::from_tons(3.5)),
        return_openings: machine.basis.return_openings,
        path: AirPath::for_equipment(machine.kind, &machine.basis),
        sets: vec![ReadingSet {
            name: "As found".to_owned(),
            call: Call::CoolingHigh,
            tap: Some("4".to_owned()),
            readings: readings(&[-0.52, -0.51, -0.53], &[0.31, 0.32, 0.3]),
            coil: CoilState::Wet,
            air: AirConditions {
                altitude: Altitude::from_ft(350.0),
                station_pressure: None,
                temperature: Temperature::from_f(75.0),
                humidity: 0.50,
            },
            ..ReadingSet::default()
        }],
        target: Some(Target::PerTon { capacity: Capacity::from_tons(3.5), per_ton: Airflow::from_cfm(400.0) }),
        machine: Some(machine),
        ..Job::default()
    }
}

fn gas_furnace() -> Job {
    let machine = shipped("gf-80t.ron");
    let tap = machine.tap_of_call(Call::CoolingHigh).unwrap().to_owned();
    let tons = machine.cooling.unwrap();
    Job {
        title: "Quarry Lane, furnace and coil (invented)".to_owned(),
        place: "3 Quarry Lane, an invented house".to_owned(),
        date: "2026-08-05".to_owned(),
        notes:
            "Gas furnace in the basement, cooling coil in its own case on top. Two returns, both on the ground floor. \
                Filter in its rack beside the furnace, clean; dampers as found."
                .to_owned(),
        illustrative: true,
        outdoor_unit: Some(tons),
        return_openings: ReturnOpenings::OneSide,
        path: AirPath::for_equipment(machine.kind, &machine.basis),
        sets: vec![ReadingSet {
            name: "As found".to_owned(),
            call: Call::CoolingHigh,
            tap: Some(tap),
            readings: readings(&[-0.28, -0.29, -0.27], &[0.42, 0.41, 0.43]),
            coil: CoilState::Wet,
            air: AirConditions {
                altitude: Altitude::from_ft(820.0),
                station_pressure: None,
                temperature: Temperature::from_f(76.0),
                humidity: 0.48,
            },
            ..ReadingSet::default()
        }],
        target: Some(Target::PerTon { capacity: tons, per_ton: Airflow::from_cfm(400.0) }),
        machine: Some(machine),
        ..Job::default()
    }
}

/// The file, the job that the program carries and the recipe agree.
fn check(file: &str, carried: &Job, recipe: &Job) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets").join("demo").join(file);
    if std::env::var_os(WRITE).is_some() {
        job_file::save(&path, recipe).unwrap();
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), job_file::write(recipe), "run once with {WRITE}=1 after a change");
    assert_eq!(carried, recipe);
    assert!(carried.illustrative && carried.machine.as_ref().is_some_and(|machine| machine.illustrative));
}

fn average(reading: Option<Pressure>) -> f64 {
    reading.unwrap().in_wc()
}

#[test]
fn the_heat_pump_job_is_its_recipe_with_the_shipped_machine() {
    let job = demo::heat_pump();
    check("heat-pump.ron", &job, &heat_pump());
    assert!((average(job.return_reading()) + 0.52).abs() < 1e-12);
    assert!((average(job.supply_reading()) - 0.31).abs() < 1e-12);
    assert_eq!(job.tap_in_use(), Some("4"));
    let machine = job.machine.unwrap();
    assert_eq!((machine.kind, machine.motor), (EquipmentKind::DrawThroughAirHandler, MotorFamily::ConstantTorque));
    assert_eq!((machine.basis.coil, machine.basis.filter), (CoilInTest::Dry, PartInTest::Without));
    assert_eq!(machine.rated_maximum, Some(Pressure::from_in_wc(0.70)));
    assert_eq!(machine.taps.iter().map(|tap| tap.name.as_str()).collect::<Vec<_>>(), ["1", "2", "3", "4", "5"]);
}

#[test]
fn the_gas_furnace_job_is_its_recipe_with_the_shipped_machine() {
    let job = demo::gas_furnace();
    check("gas-furnace.ron", &job, &gas_furnace());
    let after = |port| job.path.element(job.path.port(port).unwrap().after).unwrap().kind;
    assert_eq!((after(RETURN_PORT), after(SUPPLY_PORT)), (ElementKind::Filter, ElementKind::HeatExchanger));
    let machine = job.machine.unwrap();
    assert_eq!((machine.kind, machine.basis.coil), (EquipmentKind::Furnace, CoilInTest::Without));
}
