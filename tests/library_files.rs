//! The shipped blower files: whole, plausible, invented, and of every kind.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use tapcross::files::blower_file;
use tapcross::files::library::{self, Library, LibraryEntry};
use tapcross::model::facts::blower::{BlowerTable, Cell, EquipmentKind, MotorFamily, Row, Tap, TapData};
use tapcross::model::facts::table_check;
use tapcross::units::Pressure;

fn shipped_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("blowers")
}

fn shipped() -> Vec<LibraryEntry> {
    let (library, problems) = Library::shipped();
    assert_eq!(problems, []);
    library.entries
}

fn machine(name_start: &str) -> BlowerTable {
    let found = shipped().into_iter().find(|entry| entry.table.name.starts_with(name_start));
    found.unwrap_or_else(|| panic!("no machine {name_start}")).table
}

fn columns(table: &BlowerTable) -> impl Iterator<Item = (&Tap, &[Row])> {
    table.taps.iter().filter_map(|tap| match &tap.data {
        TapData::Column(rows) => Some((tap, &rows[..])),
        TapData::Range { .. } => None,
    })
}

/// ESP (in. w.c.) and airflow (cfm) of the rows that have one.
fn given(rows: &[Row]) -> Vec<(f64, f64)> {
    rows.iter().filter_map(|row| Some((row.esp.in_wc(), row.cell.airflow()?.cfm()))).collect()
}

/// Airflow on the straight line between two rows.
fn between_rows(rows: &[Row], esp: f64) -> f64 {
    let points = given(rows);
    let pair = points.windows(2).find(|pair| pair[0].0 <= esp && esp <= pair[1].0).expect("an ESP within the table");
    pair[0].1 + (pair[1].1 - pair[0].1) * (esp - pair[0].0) / (pair[1].0 - pair[0].0)
}

#[test]
fn the_program_carries_every_file_of_the_folder() {
    let in_folder: BTreeSet<String> = fs::read_dir(shipped_folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| Path::new(name).extension().is_some_and(|extension| extension == "ron"))
        .collect();
    let in_program: BTreeSet<String> = Library::shipped_file_names().map(str::to_owned).collect();
    assert_eq!(in_program, in_folder);
    assert!(in_program.len() >= 14, "{}", in_program.len());
    assert_eq!(shipped().len(), in_program.len());
}

#[test]
fn the_folder_loads_as_the_program_does() {
    let (entries, problems) = library::load_folder(&shipped_folder());
    assert_eq!(problems, []);
    let tables = |entries: Vec<LibraryEntry>| entries.into_iter().map(|entry| entry.table).collect::<Vec<_>>();
    assert_eq!(tables(entries), tables(shipped()));
}

#[test]
fn every_shipped_table_is_invented_and_says_so() {
    for LibraryEntry { table, .. } in shipped() {
        assert!(table.illustrative, "{}", table.name);
        assert!(table.source.starts_with("Invented for Tapcross"), "{}: {}", table.name, table.source);
    }
}

#[test]
fn no_shipped_table_has_anything_to_remark_on() {
    for LibraryEntry { table, .. } in shipped() {
        assert_eq!(table_check::check(&table), [], "{}", table.name);
    }
}

#[test]
fn every_shipped_name_is_its_own() {
    let entries = shipped();
    let names: BTreeSet<String> = entries.iter().map(|entry| entry.table.name.to_lowercase()).collect();
    assert_eq!(names.len(), entries.len());
}

#[test]
fn every_shipped_table_comes_back_as_it_was_written() {
    for LibraryEntry { table, .. } in shipped() {
        assert_eq!(blower_file::parse(&blower_file::write(&table)).as_ref(), Ok(&table), "{}", table.name);
    }
}

#[test]
fn shipped_inch_pound_files_stand_as_the_program_writes_them() {
    let mut held = 0;
    for name in Library::shipped_file_names() {
        let text = fs::read_to_string(shipped_folder().join(name)).unwrap().replace("\r\n", "\n");
        if text.contains("airflow: Cfm, pressure: InchesOfWater") {
            assert_eq!(blower_file::write(&blower_file::parse(&text).unwrap()), text, "{name}");
            held += 1;
        }
    }
    assert_eq!(held, Library::shipped_file_names().count() - 1, "one file is in litres a second and pascals");
}

#[test]
fn the_library_shows_every_kind_of_machine_and_motor() {
    let entries = shipped();
    let count = |holds: &dyn Fn(&BlowerTable) -> bool| entries.iter().filter(|entry| holds(&entry.table)).count();
    for kind in EquipmentKind::ALL {
        assert!(count(&|table| table.kind == kind) >= 1, "{}", kind.name());
    }
    for motor in [MotorFamily::PermanentSplitCapacitor, MotorFamily::ConstantTorque, MotorFamily::ConstantAirflow] {
        assert!(count(&|table| table.motor == motor) >= 2, "{}", motor.name());
    }
    assert!(
        count(&|table| table.kind == EquipmentKind::Furnace && table.heating.len() == 2) >= 2,
        "two-stage furnaces"
    );
    assert!(count(&|table| table.heating.iter().any(|stage| stage.minimum_airflow.is_some())) >= 3, "electric heat");
    assert!(count(&|table| table.corrections.low_voltage.is_some()) >= 1, "a 208 V correction");
    assert!(count(&|table| table.corrections.wet_coil.is_some()) >= 2, "a printed wet-coil correction");
    assert!(count(&|table| table.taps.iter().any(|tap| matches!(tap.data, TapData::Range { .. }))) >= 1, "a range");
    let has_cell = |table: &BlowerTable, wanted: &dyn Fn(&Cell) -> bool| {
        columns(table).any(|(_, rows)| rows.iter().any(|row| wanted(&row.cell)))
    };
    assert!(count(&|table| has_cell(table, &|cell| *cell == Cell::NotGiven)) >= 2, "gaps");
    assert!(count(&|table| has_cell(table, &|cell| matches!(cell, Cell::NotAllowed(Some(_))))) >= 1, "a barred place");
    assert!(count(&|table| has_cell(table, &|cell| matches!(cell, Cell::Airflow(_, Some(_))))) >= 1, "a note");
    let tap_counts: BTreeSet<usize> = entries.iter().map(|entry| entry.table.taps.len()).collect();
    assert!(tap_counts.len() >= 4, "{tap_counts:?}");
}

#[test]
fn every_call_with_heat_has_a_tap_and_an_allowed_airflow_under_the_plate() {
    for LibraryEntry { table, .. } in shipped() {
        for stage in &table.heating {
            let name = table.tap_of_call(stage.call).unwrap_or_else(|| panic!("{}: {:?}", table.name, stage.call));
            let (_, rows) = columns(&table).find(|(tap, _)| tap.name == name).expect("a column for heat");
            let plate = table.rated_maximum.expect("a plate");
            for row in rows.iter().filter(|row| row.esp <= plate) {
                let airflow = row.cell.airflow().expect("an airflow for heat under the plate");
                let rise = stage.output.btuh() / (1.08 * airflow.cfm());
                if let Some((low, high)) = stage.rise {
                    assert!(
                        low.f() <= rise && rise <= high.f(),
                        "{} {:?} at {}: {rise}",
                        table.name,
                        stage.call,
                        row.esp.in_wc()
                    );
                }
                if let Some(least) = stage.minimum_airflow {
                    assert!(airflow >= least, "{} {:?} at {}", table.name, stage.call, row.esp.in_wc());
                }
            }
        }
    }
}

#[test]
fn every_tap_moves_more_air_than_the_one_before_it() {
    for LibraryEntry { table, .. } in shipped() {
        let all: Vec<_> = columns(&table).collect();
        for pair in all.windows(2) {
            for (lower, higher) in pair[0].1.iter().zip(pair[1].1) {
                if let (Some(lower_airflow), Some(higher_airflow)) = (lower.cell.airflow(), higher.cell.airflow()) {
                    assert!(
                        lower_airflow < higher_airflow,
                        "{} taps {} and {}",
                        table.name,
                        pair[0].0.name,
                        pair[1].0.name
                    );
                }
            }
        }
    }
}

/// Motor-family fit of the US DOE (EERE-2014-BT-STD-0048-0098, app. 7-C, from a public transcription), three tons anchored at 1,200 cfm and 0.5 in. w.c.: `Q = Q0 + a·p + b·p²`.
fn doe_airflow(a: f64, b: f64, esp: f64) -> f64 {
    1200.0 + a * (esp - 0.5) + b * (esp * esp - 0.25)
}

/// How far a shipped tap's relative fall may be from its family's fit, five hundredths: the lower taps fall somewhat more, the demo's machine somewhat less, and figures are rounded to 5 cfm.
const FALL_TOLERANCE: f64 = 0.05;

#[test]
fn psc_and_constant_torque_machines_fall_as_their_motor_family_does() {
    let check = |motor: MotorFamily, a: f64, b: f64| {
        let mut held = 0;
        for LibraryEntry { table, .. } in shipped().iter().filter(|entry| entry.table.motor == motor) {
            for (tap, rows) in columns(table) {
                let points = given(rows);
                let from = points.iter().find(|(esp, _)| *esp >= 0.19).unwrap();
                let to = points.iter().rfind(|(esp, _)| *esp <= 0.81).unwrap();
                let fall = 1.0 - to.1 / from.1;
                let expected = 1.0 - doe_airflow(a, b, to.0) / doe_airflow(a, b, from.0);
                assert!(
                    (fall - expected).abs() <= FALL_TOLERANCE,
                    "{} tap {}: {fall:.3} for {expected:.3}",
                    table.name,
                    tap.name
                );
                held += 1;
            }
        }
        assert!(held >= 15, "{held}");
    };
    check(MotorFamily::PermanentSplitCapacitor, 49.0, -570.0);
    check(MotorFamily::ConstantTorque, -456.0, 8.0);
}

#[test]
fn constant_airflow_machines_hold_their_setting_up_to_a_knee() {
    let mut knees = 0;
    for LibraryEntry { table, .. } in shipped().iter().filter(|entry| entry.table.motor == MotorFamily::ConstantAirflow)
    {
        let (_, rows) = columns(table).last().unwrap();
        let points = given(rows);
        let setting = points[0].1;
        for (esp, airflow) in points.iter().filter(|(esp, _)| *esp <= 0.6) {
            assert!((airflow / setting - 1.0).abs() < 0.02, "{} at {esp}", table.name);
        }
        knees += usize::from(points.last().unwrap().1 < 0.95 * setting);
        let watts: Vec<f64> =
            rows.iter().filter(|row| row.esp.in_wc() <= 0.8).map(|row| row.power.unwrap().watts()).collect();
        assert!(watts.is_sorted_by(|one, next| one < next), "{}: {watts:?}", table.name);
    }
    assert!(knees >= 2, "{knees}");
}

#[test]
fn watts_of_a_psc_motor_fall_as_static_rises_and_others_rise() {
    for LibraryEntry { table, .. } in shipped() {
        for (tap, rows) in columns(&table) {
            let watts: Vec<f64> = rows.iter().filter_map(|row| Some(row.power?.watts())).collect();
            let (Some(first), Some(last)) = (watts.first(), watts.last()) else {
                continue;
            };
            let falls = last < first;
            assert_eq!(falls, table.motor == MotorFamily::PermanentSplitCapacitor, "{} tap {}", table.name, tap.name);
        }
    }
}

#[test]
fn the_demo_machine_moves_what_its_story_says() {
    let table = machine("AH-42T");
    let (_, rows) = columns(&table).find(|(tap, _)| tap.name == "4").unwrap();
    assert!((between_rows(rows, 0.59) - 1350.0).abs() < 5.0, "{}", between_rows(rows, 0.59));
    assert!((between_rows(rows, 0.85) - 1225.0).abs() < 5.0, "{}", between_rows(rows, 0.85));
    assert_eq!(table.rated_maximum, Some(Pressure::from_in_wc(0.70)));
}

#[test]
fn the_table_in_litres_and_pascals_is_converted() {
    let table = machine("AH-36M");
    let (_, rows) = columns(&table).last().unwrap();
    assert!((rows[0].esp.in_wc() - 25.0 / 249.088_91).abs() < 1e-12);
    assert!((rows[0].cell.airflow().unwrap().cfm() - 650.0 / 0.471_947_443_2).abs() < 1e-9);
    assert!((table.heating[0].output.btuh() - 34_121.416).abs() < 0.001);
    assert!((table.heating[0].rise.unwrap().0.f() - 14.4).abs() < 1e-12);
}

#[test]
fn the_example_of_the_reference_reads_and_stands_as_the_program_writes_it() {
    let readme = fs::read_to_string(shipped_folder().join("README.md")).unwrap().replace("\r\n", "\n");
    let (_, after) = readme.split_once("```ron\n").unwrap();
    let (example, _) = after.split_once("```").unwrap();
    let table = blower_file::parse(example).unwrap();
    assert_eq!(table_check::check(&table), []);
    assert_eq!(blower_file::write(&table), example);
}
