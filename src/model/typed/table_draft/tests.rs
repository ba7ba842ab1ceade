use super::*;
use crate::model::facts::blower::{BlowerTable, Cell, Row, Tap, TapData};
use crate::units::{Airflow, Power, Pressure, Speed};

/// An empty grid with a name and some columns typed into it.
fn typed(columns: &[&[&str]]) -> TableDraft {
    let mut draft = TableDraft::empty();
    draft.head.name = "Test machine".to_owned();
    for (tap, column) in columns.iter().enumerate() {
        for (row, text) in column.iter().enumerate() {
            (*text).clone_into(&mut draft.rows[row].cells[tap].airflow);
        }
    }
    draft
}

fn errors(draft: &TableDraft) -> Vec<(Place, String)> {
    let (_, problems) = draft.read();
    let errors = problems.into_iter().filter(|problem| problem.severity == Severity::Error);
    errors.map(|problem| (problem.place, problem.message)).collect()
}

#[test]
fn an_empty_grid_says_what_is_missing_and_nothing_else() {
    let found = errors(&TableDraft::empty());
    assert_eq!(found.len(), 2, "{found:?}");
    assert_eq!(found[0].0, Place::Name);
    assert_eq!(found[1], (Place::Table, "No airflow is typed yet; a column needs at least two".to_owned()));
}

#[test]
fn a_typed_grid_becomes_the_table() {
    let draft = typed(&[&["1,010", "990", "-", "x"], &["1205", "1180 over plate", "1150*", "x: water carry-over"]]);
    let (table, problems) = draft.read();
    assert!(problems.iter().all(|problem| problem.severity == Severity::Question), "{problems:?}");
    assert_eq!(table.taps.len(), 2, "columns with nothing typed are left out");
    let TapData::Column(rows) = &table.taps[1].data else { panic!("a column") };
    assert_eq!(rows.len(), 4, "rows with nothing typed are left out");
    let cells: Vec<&Cell> = rows.iter().map(|row| &row.cell).collect();
    let cfm = Airflow::from_cfm;
    assert_eq!(
        cells,
        [
            &Cell::Airflow(cfm(1205.0), None),
            &Cell::Airflow(cfm(1180.0), Some("over plate".to_owned())),
            &Cell::Airflow(cfm(1150.0), Some("*".to_owned())),
            &Cell::NotAllowed(Some("water carry-over".to_owned())),
        ]
    );
    let left_out = problems.iter().filter(|problem| problem.message.contains("is left out")).count();
    assert_eq!(left_out, 3, "each empty column is said: {problems:?}");
}

#[test]
fn each_bad_place_gets_its_sentence() {
    type Change = fn(&mut TableDraft);
    let cell = |row, tap, block| Place::Cell { row, tap, block };
    let cases: [(Change, Place, &str); 16] = [
        (
            |draft| draft.rows[2].cells[1].airflow = "12o0".to_owned(),
            cell(2, 1, Block::Airflow),
            "Tap 2, row at 0.30: \"12o0\" is neither",
        ),
        (
            |draft| draft.rows[1].cells[0].watts = "many".to_owned(),
            cell(1, 0, Block::Watts),
            "Tap 1, row at 0.20, watts: \"many\" is not a number",
        ),
        (
            |draft| draft.rows[1].cells[0].rpm = "900 W".to_owned(),
            cell(1, 0, Block::Rpm),
            "Tap 1, row at 0.20, rpm: \"w\" is no unit",
        ),
        (|draft| draft.rows[0].esp = String::new(), Place::Esp(0), "Row 1 has numbers but no static pressure"),
        (
            |draft| draft.rows[0].esp = "low".to_owned(),
            Place::Esp(0),
            "Row 1, static pressure: \"low\" is not a number",
        ),
        (|draft| draft.rows[1].esp = "0.40".to_owned(), Place::Esp(2), "the row of 0.30 in. w.c. comes after 0.40"),
        (|draft| draft.rows[1].esp = "20".to_owned(), Place::Esp(1), "a row of 20.00 in. w.c. cannot be"),
        (
            |draft| draft.rows[2].cells[0].airflow = "1300".to_owned(),
            cell(2, 0, Block::Airflow),
            "Tap 1 at 0.30 in. w.c.: airflow rises from 950 to 1,300",
        ),
        (
            |draft| draft.rows[2].cells[0].airflow = "-900".to_owned(),
            cell(2, 0, Block::Airflow),
            "airflow of −900 cfm cannot be",
        ),
        (|draft| draft.taps[1] = "1".to_owned(), Place::Tap(1), "stands twice"),
        (|draft| draft.taps[1] = String::new(), Place::Tap(1), "has no name"),
        (
            |draft| draft.head.rated_maximum = "12".to_owned(),
            Place::Head(HeadField::RatedMaximum),
            "Rated maximum 12.00 in. w.c. cannot be",
        ),
        (
            |draft| draft.head.cooling = "big".to_owned(),
            Place::Head(HeadField::Cooling),
            "Nominal cooling: \"big\" is not a number",
        ),
        (
            |draft| draft.head.calls = vec![(Call::FanOnly, "9".to_owned())],
            Place::Head(HeadField::Call(Call::FanOnly)),
            "Fan only runs \"9\"",
        ),
        (
            |draft| {
                draft.head.heating = vec![DraftStage {
                    rise_from: "30".to_owned(),
                    output: "60000".to_owned(),
                    ..DraftStage::default()
                }];
            },
            Place::Head(HeadField::Heating(0)),
            "one end of the temperature rise only",
        ),
        (
            |draft| draft.head.corrections[1] = "lots".to_owned(),
            Place::Head(HeadField::Correction(Correction::WetCoil)),
            "Wet coil adds: \"lots\" is not drop at airflow",
        ),
    ];
    for (change, place, fragment) in cases {
        let mut draft = typed(&[&["1000", "950", "900"], &["1200", "1150", "1100"]]);
        assert_eq!(errors(&draft), [], "sound before the change");
        change(&mut draft);
        let found = errors(&draft);
        let hit = found.iter().any(|(at, message)| *at == place && message.contains(fragment));
        assert!(hit, "{place:?} \"{fragment}\" is not among {found:?}");
    }
}

#[test]
fn a_range_takes_a_whole_column() {
    let mut draft = typed(&[&["600 from 0.1 to 0.8"], &["1200", "1150"]]);
    let (table, problems) = draft.read();
    assert!(problems.iter().all(|problem| problem.severity == Severity::Question), "{problems:?}");
    let range = TapData::Range {
        airflow: Airflow::from_cfm(600.0),
        from: Pressure::from_in_wc(0.1),
        to: Pressure::from_in_wc(0.8),
    };
    assert_eq!(table.taps[0].data, range);
    draft.rows[3].cells[0].airflow = "590".to_owned();
    assert_eq!(errors(&draft)[0].0, Place::Cell { row: 3, tap: 0, block: Block::Airflow });
}

#[test]
fn numbers_are_meant_in_the_units_of_the_table() {
    let mut draft = typed(&[&["500", "480"]]);
    draft.head.airflow_unit = AirflowUnit::LitresPerSecond;
    draft.head.pressure_unit = PressureUnit::Pascals;
    draft.rows[0].esp = "25".to_owned();
    draft.rows[1].esp = "50".to_owned();
    let (table, _) = draft.read();
    let TapData::Column(rows) = &table.taps[0].data else { panic!("a column") };
    assert!((rows[1].esp.pa() - 50.0).abs() < 1e-9);
    assert!((rows[1].cell.airflow().unwrap().lps() - 480.0).abs() < 1e-9);
}

#[test]
fn every_kind_of_place_comes_back_from_its_text() {
    let row = |esp: f64, cell: Cell| Row {
        esp: Pressure::from_in_wc(esp),
        cell,
        power: Some(Power::from_watts(101.5)),
        speed: Some(Speed::from_rpm(873.0)),
    };
    let column = |rows: Vec<Row>| TapData::Column(rows);
    let table = BlowerTable {
        name: "Odd".to_owned(),
        rated_maximum: Some(Pressure::from_pa(123.4567)),
        taps: vec![
            Tap {
                name: "a".to_owned(),
                data: column(vec![
                    row(0.1, Cell::Airflow(Airflow::from_cfm(1_000.123_456_7), None)),
                    row(0.125, Cell::NotAllowed(None)),
                    row(0.3, Cell::Airflow(Airflow::from_cfm(900.0), Some("over plate".to_owned()))),
                ]),
            },
            Tap {
                name: "b".to_owned(),
                data: column(vec![
                    row(0.1, Cell::NotGiven),
                    row(0.2, Cell::Airflow(Airflow::from_cfm(950.0), None)),
                    row(0.3, Cell::NotAllowed(Some("why".to_owned()))),
                ]),
            },
        ],
        ..BlowerTable::default()
    };
    let (again, problems) = TableDraft::from_table(&table).read();
    assert_eq!(again, table, "{problems:?}");
}

#[test]
fn rows_and_columns_come_and_go() {
    let mut draft = TableDraft::empty();
    draft.add_row();
    assert_eq!(draft.rows[9].esp, "1.00", "the step goes on");
    draft.add_tap();
    assert_eq!(draft.taps[5], "6");
    draft.remove_tap(0);
    draft.remove_row(0);
    assert_eq!((draft.taps.len(), draft.rows.len(), draft.rows[0].cells.len()), (5, 9, 5));
    draft.remove_tap(99);
    draft.remove_row(99);
    assert_eq!((draft.taps.len(), draft.rows.len()), (5, 9));
}

/// A tab in a pasted source stood in the table until it was saved, and was a blank when it was opened again.
#[test]
fn a_table_is_read_with_its_texts_as_a_file_keeps_them() {
    let mut draft = typed(&[&["1000", "900"]]);
    (draft.rows[0].esp, draft.rows[1].esp) = ("0.1".to_owned(), "0.2".to_owned());
    draft.head.name = "\u{7}Hall\tfurnace\u{7}".to_owned();
    draft.head.source = "a\tb\u{1b}".to_owned();
    draft.taps[0] = "low\tspeed\u{7}".to_owned();
    let (table, _) = draft.read();
    assert_eq!((table.name.as_str(), table.source.as_str()), ("Hall furnace", "a b"));
    assert_eq!(table.taps[0].name, "low speed");
    assert_eq!(TableDraft::from_table(&table).read().0, table);
}
