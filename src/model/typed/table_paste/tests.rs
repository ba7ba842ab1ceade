use super::*;
use crate::model::typed::table_draft::TableDraft;

/// What a text should become: static pressures, then each column's name and cells.
struct Wanted<'a> {
    esps: &'a [&'a str],
    columns: &'a [(Option<&'a str>, &'a [&'a str])],
}

fn check(text: &str, wanted: &Wanted<'_>) -> Pasted {
    let pasted = parse(text);
    assert_eq!(pasted.esps, wanted.esps, "static pressures of {text:?}");
    let columns: Vec<(Option<&str>, Vec<&str>)> = pasted
        .columns
        .iter()
        .map(|column| (column.name.as_deref(), column.cells.iter().map(String::as_str).collect()))
        .collect();
    let expected: Vec<(Option<&str>, Vec<&str>)> =
        wanted.columns.iter().map(|(name, cells)| (*name, cells.to_vec())).collect();
    assert_eq!(columns, expected, "columns of {text:?}");
    pasted
}

#[test]
fn the_same_table_is_read_from_every_usual_form() {
    let wanted =
        Wanted { esps: &["0.10", "0.20"], columns: &[(Some("1"), &["1010", "990"]), (Some("2"), &["1205", "1180"])] };
    let forms = [
        "ESP\tTap 1\tTap 2\n0.10\t1010\t1205\n0.20\t990\t1180\n",
        "ESP\tTap 1\tTap 2\r\n0.10\t1,010\t1,205\r\n0.20\t990\t1,180\r\n",
        "ESP;Tap 1;Tap 2\n0,10;1010;1205\n0,20;990;1180",
        "ESP;Tap 1;Tap 2\n0,10;1.010;1.205\n0,20;990;1.180",
        "ESP,Tap 1,Tap 2\n0.10,1010,1205\n0.20,990,1180",
        "ESP,Tap 1,Tap 2\n0.10,\"1,010\",\"1,205\"\n0.20,990,\"1,180\"",
        "ESP, Tap 1, Tap 2\n0.10, 1010, 1205\n0.20, 990, 1180",
        "ESP   Tap 1   Tap 2\n0.10   1,010   1,205\n0.20     990   1,180",
        "ESP Tap 1 Tap 2\n0.10 1010 1205\n0.20 990 1180",
        "ESP (in. w.c.) Tap 1 Tap 2\n0.10 1,010 1,205\n0.20 990 1,180",
        "ESP\tTap 1\tTap 2\n0.10\t1 010\t1 205\n0.20\t990\t1 180",
        "ESP\tTap 1\tTap 2\n0.10\t1’010\t1’205\n0.20\t990\t1’180",
        "| ESP | Tap 1 | Tap 2 |\n|-----|-------|-------|\n| 0.10 | 1010 | 1205 |\n| 0.20 | 990 | 1180 |",
        "\tTap 1\tTap 2\n0.10\t1010\t1205\n0.20\t990\t1180",
        "ESP\t1\t2\n0.10\t1010\t1205\n0.20\t990\t1180",
        "\n\nESP\tTap 1\tTap 2\n\n0.10\t1010\t1205\n0.20\t990\t1180\n\n",
        "ESP\tTap 1\tTap 2\nin. w.c.\tcfm\tcfm\n0.10\t1010\t1205\n0.20\t990\t1180",
        // Turned: the static pressures run across.
        "ESP\t0.10\t0.20\nTap 1\t1010\t990\nTap 2\t1205\t1180",
        "\t0.10\t0.20\n1\t1010\t990\n2\t1205\t1180",
        "Tap\t0.10\t0.20\n1\t1010\t990\n2\t1205\t1180",
    ];
    for form in forms {
        check(form, &wanted);
    }
}

#[test]
fn places_without_a_value_stay_in_their_place() {
    let wanted = Wanted {
        esps: &["0.10", "0.20", "0.30"],
        columns: &[(Some("Low"), &["800", "", ""]), (Some("High"), &["", "1180 over plate", "x"])],
    };
    for gap in ["-", "–", "—", "n/a", "N/A", "", "…"] {
        check(&format!("ESP\tLow\tHigh\n0.10\t800\t{gap}\n0.20\t{gap}\t1180 over plate\n0.30\t{gap}\tx"), &wanted);
    }
}

#[test]
fn a_block_without_static_pressures_is_only_cells() {
    let pasted = check(
        "1010\t1205\n990\t1180",
        &Wanted { esps: &[], columns: &[(None, &["1010", "990"]), (None, &["1205", "1180"])] },
    );
    assert_eq!(pasted.remarks, Vec::<String>::new());
    check("1010\n990\n965", &Wanted { esps: &[], columns: &[(None, &["1010", "990", "965"])] });
    check(
        "Low\tHigh\n800\t1200\n780\t1180",
        &Wanted { esps: &[], columns: &[(Some("Low"), &["800", "780"]), (Some("High"), &["1200", "1180"])] },
    );
}

#[test]
fn units_in_the_heading_are_understood() {
    use AirflowUnit::{Cfm, CubicMetresPerHour, LitresPerSecond};
    use PressureUnit::{InchesOfWater, Pascals};
    let cases = [
        ("ESP (in. w.c.)\t1 (cfm)\n0.1\t1000\n0.2\t900", Some(InchesOfWater), Some(Cfm)),
        ("Pa\tL/s\n25\t500\n50\t480", Some(Pascals), Some(LitresPerSecond)),
        ("ESP Pa\tTap 1 m³/h\n25\t1800\n50\t1700", Some(Pascals), Some(CubicMetresPerHour)),
        ("ESP\tTap 1\n0.1\t1000\n0.2\t900", None, None),
    ];
    for (text, pressure, airflow) in cases {
        let pasted = parse(text);
        assert_eq!((pasted.pressure_unit, pasted.airflow_unit), (pressure, airflow), "{text:?}");
        assert_eq!(pasted.esps.len(), 2, "{text:?}");
    }
}

#[test]
fn pascals_without_a_unit_are_taken_for_pascals_and_said() {
    let pasted = parse("25\t500\t560\n50\t480\t540\n75\t455\t520");
    assert_eq!(pasted.esps, ["25", "50", "75"]);
    assert_eq!(pasted.pressure_unit, Some(PressureUnit::Pascals));
    assert_eq!(pasted.remarks, ["Static pressures up to 75 were taken as Pa"]);
}

#[test]
fn watts_and_rpm_columns_find_their_grid() {
    let pasted = parse(
        "ESP\tLow cfm\tLow W\tHigh cfm\tHigh W\tHigh rpm\n0.1\t800\t200\t1200\t400\t900\n0.2\t760\t195\t1150\t390\t950",
    );
    let found: Vec<(Option<&str>, Option<Block>)> =
        pasted.columns.iter().map(|column| (column.name.as_deref(), column.block)).collect();
    let (air, watts, rpm) = (Some(Block::Airflow), Some(Block::Watts), Some(Block::Rpm));
    assert_eq!(
        found,
        [(Some("Low"), air), (Some("Low"), watts), (Some("High"), air), (Some("High"), watts), (Some("High"), rpm)]
    );
    let mut draft = TableDraft::empty();
    pasted.put_into(&mut draft, Block::Airflow, 0, Some(0));
    assert_eq!(draft.taps, ["Low", "High"]);
    assert_eq!((draft.rows[1].cells[1].watts.as_str(), draft.rows[1].cells[1].rpm.as_str()), ("390", "950"));
}

#[test]
fn two_lines_of_headings_are_read_together() {
    let pasted = parse("\tLow\t\tHigh\t\nESP\tcfm\tW\tcfm\tW\n0.1\t800\t200\t1200\t400\n0.2\t760\t195\t1150\t390");
    let found: Vec<(Option<&str>, Option<Block>)> =
        pasted.columns.iter().map(|column| (column.name.as_deref(), column.block)).collect();
    let (air, watts) = (Some(Block::Airflow), Some(Block::Watts));
    assert_eq!(found, [(Some("Low"), air), (Some("Low"), watts), (Some("High"), air), (Some("High"), watts)]);
}

#[test]
fn what_is_not_understood_is_said() {
    let title = parse("Blower performance\nESP\tLow\n0.1\t800\n0.2\t760");
    assert_eq!(title.remarks, ["The line \"Blower performance\" was taken as a heading and names no columns"]);
    assert_eq!(title.columns[0].name.as_deref(), Some("Low"));
    let ragged = parse("ESP Low High\n0.1 800 1200\n0.2 760");
    assert!(ragged.remarks[0].starts_with("Row 2 (0.2) has 2 values, the longest row 3"), "{:?}", ragged.remarks);
    let turned = parse("ESP\t0.10\t0.20\nLow\t800\t760");
    assert_eq!(turned.remarks, ["The static pressures run across, so the table was turned"]);
    let mut draft = TableDraft::empty();
    parse("ESP\tLow\n0.1\t8oo\n0.2\t760").put_into(&mut draft, Block::Airflow, 0, Some(0));
    let (_, problems) = draft.read();
    assert!(problems.iter().any(|problem| problem.message.starts_with("Tap Low, row at 0.1: \"8oo\"")), "{problems:?}");
}

#[test]
fn a_whole_table_takes_the_place_of_an_empty_grid() {
    let mut draft = TableDraft::empty();
    let said = parse("ESP\tLow\tHigh\n0.1\t800\t1200\n0.3\t760\t1150").put_into(&mut draft, Block::Airflow, 4, Some(3));
    assert_eq!(draft.taps, ["Low", "High"]);
    let esps: Vec<&str> = draft.rows.iter().map(|row| row.esp.as_str()).collect();
    assert_eq!(esps, ["0.1", "0.3"]);
    assert_eq!(said, ["Pasted 2 rows and 2 columns"]);
}

#[test]
fn a_second_table_finds_its_rows_and_columns() {
    let mut draft = TableDraft::empty();
    parse("ESP\tLow\tHigh\n0.1\t800\t1200\n0.3\t760\t1150").put_into(&mut draft, Block::Airflow, 0, Some(0));
    parse("ESP\tLow\tHigh\n0.10\t200\t400\n0.20\t195\t390\n0.30\t190\t380").put_into(
        &mut draft,
        Block::Watts,
        0,
        Some(0),
    );
    let esps: Vec<&str> = draft.rows.iter().map(|row| row.esp.as_str()).collect();
    assert_eq!(esps, ["0.1", "0.20", "0.3"], "a row that was not there goes to its place");
    let watts: Vec<&str> = draft.rows.iter().map(|row| row.cells[1].watts.as_str()).collect();
    assert_eq!(watts, ["400", "390", "380"]);
    assert_eq!(draft.rows[2].cells[1].airflow, "1150", "the airflows stay where they were");
}

#[test]
fn a_block_goes_in_from_the_cell_on_and_the_grid_grows() {
    let mut draft = TableDraft::empty();
    parse("1\t2\t3\n4\t5\t6").put_into(&mut draft, Block::Airflow, 8, Some(4));
    assert_eq!((draft.taps.len(), draft.rows.len()), (7, 10));
    assert_eq!((draft.rows[8].cells[4].airflow.as_str(), draft.rows[9].cells[6].airflow.as_str()), ("1", "6"));
}

#[test]
fn a_block_over_the_static_pressures_fills_them_too() {
    let mut draft = TableDraft::empty();
    parse("5\t1010\n9\t990").put_into(&mut draft, Block::Airflow, 8, None);
    let last: Vec<(&str, &str)> =
        draft.rows[8..].iter().map(|row| (row.esp.as_str(), row.cells[0].airflow.as_str())).collect();
    assert_eq!(last, [("5", "1010"), ("9", "990")]);
}

#[test]
fn a_static_pressure_that_stands_twice_keeps_both_rows() {
    let mut draft = TableDraft::empty();
    parse("ESP\tLow\n0.1\t800\n0.2\t760\n0.2\t750\n0.3\t700").put_into(&mut draft, Block::Airflow, 0, Some(0));
    assert_eq!(draft.rows.len(), 4);
    let (_, problems) = draft.read();
    assert!(problems.iter().any(|problem| problem.message.contains("stands twice with 0.20")), "{problems:?}");
}

#[test]
fn no_text_breaks_it() {
    for text in [
        "",
        "\n",
        "\t",
        "\t\t\n\t",
        "-",
        "abc",
        ";;;",
        ",,,",
        "| |",
        "0.1",
        "ESP",
        "ESP\t",
        "é\tß\n€",
        "0.1\t\n\t0.2",
        "----\n----",
    ] {
        let mut draft = TableDraft::empty();
        parse(text).put_into(&mut draft, Block::Airflow, 0, Some(0));
        draft.read();
    }
}

#[test]
fn one_value_is_no_block() {
    assert!(!is_block("1010"));
    assert!(!is_block(" 1,010 \n"));
    assert!(is_block("1010\t990"));
    assert!(is_block("1010\n990"));
}

#[test]
fn a_block_past_all_tables_is_refused_and_changes_nothing() {
    let before = TableDraft::empty();
    let wide = format!("0.1\t{}\n0.2\t{}", "900\t".repeat(130), "880\t".repeat(130));
    let tall = "700\t900\n".repeat(101);
    for text in [wide, tall, "0.1\t1000\n".repeat(20_000)] {
        let mut draft = before.clone();
        let said = parse(&text).put_into(&mut draft, Block::Airflow, 0, Some(0));
        assert!(said.len() == 1 && said[0].starts_with("Not pasted: "), "{said:?}");
        assert_eq!(draft, before);
    }
    // One after another they may not grow past it either.
    let mut draft = before;
    let block = "900\n".repeat(60);
    parse(&block).put_into(&mut draft, Block::Airflow, 0, Some(0));
    let said = parse(&block).put_into(&mut draft, Block::Airflow, 59, Some(0));
    assert!(said[0].starts_with("Not pasted: 119 rows") && draft.rows.len() == 60, "{said:?}");
}

#[test]
fn every_usual_end_of_a_line_ends_a_row() {
    let text = "ESP\tLow\tHigh\n0.10\t700\t900\n0.20\t650\t860\n";
    let wanted = parse(text);
    assert_eq!(wanted.esps, ["0.10", "0.20"]);
    for end in ["\r", "\r\n", "\n\n"] {
        assert_eq!(parse(&text.replace('\n', end)), wanted, "{end:?}");
    }
}
