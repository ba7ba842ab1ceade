//! The fields of each kind of change: what stands in them, and what a typed text makes of the change.

use crate::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, Opening,
    OtherCoilState, OtherDuct, OtherOpening, PanelOff, RepairRun, Seal, SecondReturn,
};
use crate::model::facts::drop_data::{DropData, DropDataError, MEDIA_FILTER};
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::numbers::duct as given;
use crate::ui::changes_panel::machine_slots;
use crate::units::text::{self, Comma};
use crate::units::{Airflow, Area, Dimension, Pressure, UnitSystem, show};

/// One field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Its number within the change.
    pub number: u8,
    /// Its name for screen readers and in refusals.
    pub name: &'static str,
    /// What stands in it.
    pub shown: String,
}

/// Fields that stand side by side under one label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The label, with its unit.
    pub label: String,
    /// One field, or now and then.
    pub slots: Vec<Slot>,
}

/// Added to the number of a field of "now" for the same of "then".
const THEN: u8 = 10;
/// First field of a second return's grille.
const GRILLE: u8 = 4;
/// A second return's own filter.
const OWN_FILTER: u8 = 6;

pub(super) fn slot(number: u8, name: &'static str, shown: String) -> Slot {
    Slot { number, name, shown }
}

pub(super) fn one(label: impl Into<String>, slot: Slot) -> Line {
    Line { label: label.into(), slots: vec![slot] }
}

fn pair(label: impl Into<String>, now: Slot, then: Slot) -> Line {
    Line { label: label.into(), slots: vec![now, then] }
}

/// The lines of a change's editor.
pub fn lines(kind: &ChangeKind, units: UnitSystem) -> Vec<Line> {
    match kind {
        ChangeKind::LessByHand(LessByHand { fraction, .. })
        | ChangeKind::CleanCoil(CleanCoil { fraction, .. })
        | ChangeKind::RepairRun(RepairRun { fraction, .. }) => {
            vec![one("Taken away, %", slot(0, "Taken away", percent_bare(*fraction)))]
        }
        ChangeKind::FilterLoading(FilterLoading { factor, .. })
        | ChangeKind::OtherCoilState(OtherCoilState { factor, .. }) => {
            vec![one("Times its drop", slot(0, "Factor on its drop", show::trimmed(*factor, 3)))]
        }
        ChangeKind::BelowTable(BelowTable { factor }) => {
            vec![one("Of its table, %", slot(0, "Of its table", percent_bare(*factor)))]
        }
        ChangeKind::ByData(ByData { data, .. }) => data_lines(data, units),
        ChangeKind::MoreFilterArea(MoreFilterArea { now, then, .. }) => vec![pair(
            face_label("Area", units),
            slot(0, "Filter area now", area_bare(*now, units)),
            slot(THEN, "Filter area then", area_bare(*then, units)),
        )],
        ChangeKind::OtherDuct(OtherDuct { now, then, .. }) => duct_lines(now, then, units),
        ChangeKind::SecondReturn(SecondReturn { run, grille, filter }) => {
            return_lines(run, grille, filter.as_ref(), units)
        }
        ChangeKind::OtherOpening(OtherOpening { now, then, .. }) => vec![
            pair(
                face_label("Face", units),
                slot(0, "Face now", area_bare(now.face, units)),
                slot(THEN, "Face then", area_bare(then.face, units)),
            ),
            pair(
                "Free area, %",
                slot(1, "Free area now", percent_bare(now.free_area)),
                slot(THEN + 1, "Free area then", percent_bare(then.free_area)),
            ),
        ],
        ChangeKind::OpenRegisters(OpenRegisters { now, then, of, .. }) => vec![
            pair("Open", slot(0, "Open now", now.to_string()), slot(THEN, "Open then", then.to_string())),
            one("Of", slot(1, "Registers in all", of.to_string())),
        ],
        ChangeKind::Seal(Seal { fraction, .. }) => vec![one("Closed, %", slot(0, "Closed", percent_bare(*fraction)))],
        ChangeKind::PanelOff(PanelOff { area }) => {
            vec![one(face_label("Open", units), slot(0, "Open area", area_bare(*area, units)))]
        }
        ChangeKind::OtherMachine(new) => machine_slots::lines(new, units),
        ChangeKind::OtherTap(_) | ChangeKind::OtherCall(_) => Vec::new(),
    }
}

fn face_label(what: &str, units: UnitSystem) -> String {
    format!("{what}, {} or W×H", units.area_unit())
}

fn data_lines(data: &DropData, units: UnitSystem) -> Vec<Line> {
    let points = data.points();
    let first = points.first().copied().unwrap_or((Airflow::ZERO, Pressure::ZERO));
    let mut lines = vec![
        one(format!("Drop, {}", units.pressure_unit()), slot(0, "Published drop", exact(first.1, units))),
        one(
            format!("at, {}", units.airflow_unit()),
            slot(1, "Airflow of the published drop", show::airflow_exact(first.0, units)),
        ),
        one(
            "Second point",
            slot(3, "Second published point", points.get(1).map(|p| point_text(*p, units)).unwrap_or_default()),
        ),
    ];
    if points.len() < 2 {
        lines.insert(2, one("Exponent", slot(2, "Exponent of its drop", show::trimmed(data.exponent(), 3))));
    }
    lines
}

fn duct_lines(now: &Run, then: &Run, units: UnitSystem) -> Vec<Line> {
    let mut lines = vec![
        pair(
            format!("Size, {} or W×H", units.dimension_unit()),
            slot(0, "Duct size now", section_bare(now.section, units)),
            slot(THEN, "Duct size then", section_bare(then.section, units)),
        ),
        pair(
            format!("Length, {}", units.length_unit()),
            slot(1, "Duct length now", show::length_bare(now.length, units)),
            slot(THEN + 1, "Duct length then", show::length_bare(then.length, units)),
        ),
        pair(
            "Fittings, ΣC",
            slot(2, "Fittings now", show::trimmed(now.fittings, 3)),
            slot(THEN + 2, "Fittings then", show::trimmed(then.fittings, 3)),
        ),
    ];
    let compression = |run: &Run, number, name| match run.wall {
        Wall::Flexible { compression } => Some((number, name, percent_bare(compression))),
        Wall::Stiff(_) => None,
    };
    let sides = [compression(now, 3, "Compression now"), compression(then, THEN + 3, "Compression then")];
    for (label, side) in ["Compressed now, %", "Compressed then, %"].into_iter().zip(sides) {
        lines.extend(side.map(|(number, name, shown)| one(label, slot(number, name, shown))));
    }
    lines
}

fn return_lines(run: &Run, grille: &Opening, filter: Option<&DropData>, units: UnitSystem) -> Vec<Line> {
    let mut lines = vec![
        one(format!("Duct, {} or W×H", units.dimension_unit()), slot(0, "Duct size", section_bare(run.section, units))),
        one(format!("Length, {}", units.length_unit()), slot(1, "Duct length", show::length_bare(run.length, units))),
        one("Fittings, ΣC", slot(2, "Fittings", show::trimmed(run.fittings, 3))),
    ];
    if let Wall::Flexible { compression } = run.wall {
        lines.push(one("Compressed, %", slot(3, "Compression", percent_bare(compression))));
    }
    let own = filter.and_then(|data| data.points().first()).map(|point| point_text(*point, units));
    lines.extend([
        one(face_label("Grille", units), slot(GRILLE, "Grille face", area_bare(grille.face, units))),
        one("Free area, %", slot(GRILLE + 1, "Grille free area", percent_bare(grille.free_area))),
        one("Own filter", slot(OWN_FILTER, "Own filter", own.unwrap_or_default())),
    ]);
    lines
}

/// The change that a text typed into a field makes.
///
/// # Errors
/// A sentence that names the field and what is wrong with the text.
pub fn typed(kind: &ChangeKind, slot: u8, text: &str, units: UnitSystem) -> Result<ChangeKind, String> {
    let mut kind = kind.clone();
    match (&mut kind, slot) {
        (
            ChangeKind::LessByHand(LessByHand { fraction, .. })
            | ChangeKind::CleanCoil(CleanCoil { fraction, .. })
            | ChangeKind::RepairRun(RepairRun { fraction, .. }),
            0,
        ) => *fraction = percent("Taken away", text)?,
        (ChangeKind::Seal(Seal { fraction, .. }), 0) => *fraction = percent("Closed", text)?,
        (ChangeKind::PanelOff(PanelOff { area }), 0) => *area = face("Open area", text, units)?,
        (
            ChangeKind::FilterLoading(FilterLoading { factor, .. })
            | ChangeKind::OtherCoilState(OtherCoilState { factor, .. }),
            0,
        ) => {
            *factor = plain("Factor on its drop", text)?;
        }
        (ChangeKind::OtherMachine(new), _) => machine_slots::type_into(new, slot, text, units)?,
        (ChangeKind::BelowTable(BelowTable { factor }), 0) => *factor = percent("Of its table", text)?,
        (ChangeKind::ByData(ByData { data, .. }), _) => *data = typed_data(data, slot, text, units)?,
        (ChangeKind::MoreFilterArea(MoreFilterArea { now, .. }), 0) => *now = face("Filter area now", text, units)?,
        (ChangeKind::MoreFilterArea(MoreFilterArea { then, .. }), THEN) => {
            *then = face("Filter area then", text, units)?;
        }
        (ChangeKind::OtherDuct(OtherDuct { now, .. }), 0..THEN) => type_run(now, slot, text, units)?,
        (ChangeKind::OtherDuct(OtherDuct { then, .. }), _) => type_run(then, slot - THEN, text, units)?,
        (ChangeKind::SecondReturn(SecondReturn { run, .. }), 0..GRILLE) => type_run(run, slot, text, units)?,
        (ChangeKind::SecondReturn(SecondReturn { filter, .. }), OWN_FILTER) => *filter = own_filter(text, units)?,
        (ChangeKind::SecondReturn(SecondReturn { grille, .. }), _) => type_opening(grille, slot - GRILLE, text, units)?,
        (ChangeKind::OtherOpening(OtherOpening { now, .. }), 0..THEN) => type_opening(now, slot, text, units)?,
        (ChangeKind::OtherOpening(OtherOpening { then, .. }), _) => type_opening(then, slot - THEN, text, units)?,
        (ChangeKind::OpenRegisters(OpenRegisters { now, .. }), 0) => *now = count("Open now", text)?,
        (ChangeKind::OpenRegisters(OpenRegisters { then, .. }), THEN) => *then = count("Open then", text)?,
        (ChangeKind::OpenRegisters(OpenRegisters { of, .. }), 1) => *of = count("Registers in all", text)?,
        _ => return Err(format!("{} has no such field", kind.declaration().name)),
    }
    Ok(kind)
}

fn type_run(run: &mut Run, slot: u8, text: &str, units: UnitSystem) -> Result<(), String> {
    match slot {
        0 => run.section = section(text, units)?,
        1 => run.length = text::length(text, units).map_err(|error| format!("Duct length: {error}"))?,
        2 => run.fittings = plain("Fittings", text)?,
        _ => run.wall = Wall::Flexible { compression: percent("Compression", text)? },
    }
    run.checked().map(|_| ()).map_err(|error| error.sentence(units))
}

fn type_opening(opening: &mut Opening, slot: u8, text: &str, units: UnitSystem) -> Result<(), String> {
    if slot == 0 {
        opening.face = face("Face", text, units)?;
        return Ok(());
    }
    let free = percent("Free area", text)?;
    opening.free_area = given::FREE_AREA.check(free).map_err(|error| error.sentence(units))?;
    Ok(())
}

pub(super) fn typed_data(data: &DropData, slot: u8, text: &str, units: UnitSystem) -> Result<DropData, String> {
    let mut points = data.points().to_vec();
    let mut exponent = data.exponent();
    let first = points.first_mut().ok_or("Such a part has no published point")?;
    match slot {
        0 => first.1 = text::pressure(text, units).map_err(|error| format!("Published drop: {error}"))?,
        1 => first.0 = text::airflow(text, units).map_err(|error| format!("Airflow of the published drop: {error}"))?,
        2 => exponent = plain("Exponent of its drop", text)?,
        _ => {
            points.truncate(1);
            points.extend(point("Second published point", text, units)?);
            points.sort_by(|one, other| one.0.cfm().total_cmp(&other.0.cfm()));
        }
    }
    made(points, exponent, units)
}

pub(super) fn made(points: Vec<(Airflow, Pressure)>, exponent: f64, units: UnitSystem) -> Result<DropData, String> {
    for (airflow, drop) in &points {
        given::DESIGN_AIRFLOW.check(airflow.cfm()).map_err(|error| error.sentence(units))?;
        given::READ_DROP.check(drop.in_wc()).map_err(|error| error.sentence(units))?;
    }
    DropData::new(points, exponent).map_err(|error| match error {
        DropDataError::BadExponent(exponent) => {
            format!("An exponent of {exponent} cannot be; it lies between 1 and 2.2")
        }
        DropDataError::NotRising(airflow) => {
            format!("Two points at {} cannot be; give another airflow for one of them", show::airflow(airflow, units))
        }
        DropDataError::TooSteep(airflow) => format!(
            "No part's drop rises as steeply as this one up to {}; is a digit wrong?",
            show::airflow(airflow, units)
        ),
        DropDataError::DropFalls(airflow) => {
            format!(
                "The drop falls while airflow rises to {}; it must rise with airflow",
                show::airflow(airflow, units)
            )
        }
        DropDataError::BadPoint(airflow, drop) | DropDataError::TooMuch(airflow, drop) => {
            format!("{} at {} cannot be a part's drop", show::pressure(drop, units), show::airflow(airflow, units))
        }
        DropDataError::Empty => "A part by its data needs a published point".to_owned(),
    })
}

fn own_filter(text: &str, units: UnitSystem) -> Result<Option<DropData>, String> {
    point("Own filter", text, units)?.map(|point| made(vec![point], MEDIA_FILTER, units)).transpose()
}

/// "0.10 at 1200"; nothing where nothing is typed.
pub(super) fn point(name: &str, typed: &str, units: UnitSystem) -> Result<Option<(Airflow, Pressure)>, String> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let (drop, airflow) = typed.split_once("at").or_else(|| typed.split_once('@')).ok_or_else(|| {
        format!("{name}: \"{typed}\" is no point; type the drop and its airflow, as in \"{}\"", example(units))
    })?;
    let drop = text::pressure(drop, units).map_err(|error| format!("{name}, drop: {error}"))?;
    let airflow = text::airflow(airflow, units).map_err(|error| format!("{name}, airflow: {error}"))?;
    Ok(Some((airflow, drop)))
}

/// How a point is typed.
fn example(units: UnitSystem) -> String {
    point_text((Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.10)), units)
}

pub(super) fn point_text((airflow, drop): (Airflow, Pressure), units: UnitSystem) -> String {
    format!("{} at {}", exact(drop, units), show::airflow_exact(airflow, units))
}

fn exact(drop: Pressure, units: UnitSystem) -> String {
    show::pressure_exact(drop, units)
}

fn percent_bare(fraction: f64) -> String {
    show::trimmed(fraction * 100.0, 1)
}

fn area_bare(area: Area, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => show::trimmed(area.in2(), 1),
        _ => show::trimmed(area.m2(), 4),
    }
}

fn section_bare(section: Section, units: UnitSystem) -> String {
    let bare = |size| show::dimension_bare(size, units);
    match section {
        Section::Round { diameter } => bare(diameter),
        Section::Rectangular { width, height } => format!("{}×{}", bare(width), bare(height)),
        Section::FlatOval { major, minor } => format!("{}×{} oval", bare(major), bare(minor)),
    }
}

/// Width and height where a text gives both: "16x25".
fn sides(name: &str, typed: &str, units: UnitSystem) -> Result<Option<(Dimension, Dimension)>, String> {
    let Some((width, height)) = typed.split_once(['x', 'X', '×']) else {
        return Ok(None);
    };
    if width.trim().is_empty() || height.trim().is_empty() {
        return Err(format!("{name}: \"{typed}\" is half a size; give width and height, as in 16x25"));
    }
    let side = |typed| text::dimension(typed, units).map_err(|error| format!("{name}: {error}"));
    Ok(Some((side(width)?, side(height)?)))
}

fn section(typed: &str, units: UnitSystem) -> Result<Section, String> {
    let name = "Duct size";
    let (size, is_oval) = match typed.trim().strip_suffix("oval") {
        Some(size) => (size, true),
        None => (typed, false),
    };
    let section = match sides(name, size, units)? {
        Some((major, minor)) if is_oval => Section::flat_oval(major, minor),
        Some((width, height)) => Section::rectangular(width, height),
        None => Section::round(text::dimension(size, units).map_err(|error| format!("{name}: {error}"))?),
    };
    section.checked().map_err(|error| error.sentence(units))
}

fn face(name: &str, typed: &str, units: UnitSystem) -> Result<Area, String> {
    let area = match sides(name, typed, units)? {
        Some((width, height)) => {
            return crate::model::laws::duct::opening::face_area(width, height).map_err(|error| error.sentence(units));
        }
        None => text::area(typed, units).map_err(|error| format!("{name}: {error}"))?,
    };
    given::FACE_AREA.check(area.in2()).map(|_| area).map_err(|error| error.sentence(units))
}

fn percent(name: &str, typed: &str) -> Result<f64, String> {
    text::percent(typed).map_err(|error| format!("{name}: {error}"))
}

fn plain(name: &str, typed: &str) -> Result<f64, String> {
    let number = text::number(typed, Comma::Decimal).map_err(|error| format!("{name}: {error}"))?;
    if number.unit.is_empty() { Ok(number.value) } else { Err(format!("{name} takes a bare number, not \"{typed}\"")) }
}

fn count(name: &str, typed: &str) -> Result<u32, String> {
    typed.trim().parse().map_err(|_no_count| format!("{name}: \"{typed}\" is no whole number of registers"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air_path::ElementId;
    use crate::model::facts::duct::material::Material;
    use crate::units::Length;

    const UNITS: UnitSystem = UnitSystem::InchPound;

    fn run() -> Run {
        Run {
            section: Section::round(Dimension::from_in(12.0)),
            length: Length::from_ft(20.0),
            wall: Wall::from(Material::Flexible),
            fittings: 1.0,
        }
    }

    fn second_return() -> ChangeKind {
        ChangeKind::SecondReturn(SecondReturn {
            run: run(),
            grille: Opening { face: Area::from_in2(280.0), free_area: 0.7 },
            filter: None,
        })
    }

    fn by_data() -> ChangeKind {
        let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.1), 1.2).unwrap();
        ChangeKind::ByData(ByData { element: ElementId(3), data })
    }

    fn every_kind() -> Vec<ChangeKind> {
        let element = ElementId(3);
        let opening = Opening { face: Area::from_in2(280.0), free_area: 0.7 };
        let area = Area::from_in2(400.0);
        vec![
            ChangeKind::LessByHand(LessByHand { element, fraction: 0.25 }),
            by_data(),
            ChangeKind::MoreFilterArea(MoreFilterArea { element, now: area, then: area }),
            ChangeKind::FilterLoading(FilterLoading { element, factor: 1.5 }),
            ChangeKind::CleanCoil(CleanCoil { element, fraction: 0.25 }),
            ChangeKind::OtherDuct(OtherDuct { element, now: run(), then: run() }),
            second_return(),
            ChangeKind::OtherOpening(OtherOpening { element, now: opening, then: opening }),
            ChangeKind::OpenRegisters(OpenRegisters { element, now: 8, then: 10, of: 10 }),
            ChangeKind::RepairRun(RepairRun { element, fraction: 0.25 }),
            ChangeKind::Seal(Seal { element, fraction: 0.5 }),
            ChangeKind::OtherCoilState(OtherCoilState { element, factor: 1.3 }),
            ChangeKind::PanelOff(PanelOff { area }),
            ChangeKind::BelowTable(BelowTable { factor: 0.9 }),
        ]
    }

    #[test]
    fn typing_what_stands_in_a_field_changes_nothing() {
        for kind in every_kind() {
            for slot in lines(&kind, UNITS).into_iter().flat_map(|line| line.slots) {
                let again = typed(&kind, slot.number, &slot.shown, UNITS).unwrap();
                assert_eq!(lines(&again, UNITS), lines(&kind, UNITS), "{}", slot.name);
            }
        }
    }

    #[test]
    fn a_size_is_taken_round_or_as_width_by_height() {
        let ChangeKind::SecondReturn(SecondReturn { run, .. }) = typed(&second_return(), 0, "10x20", UNITS).unwrap()
        else {
            panic!("another kind");
        };
        assert_eq!(run.section, Section::rectangular(Dimension::from_in(10.0), Dimension::from_in(20.0)));
        let ChangeKind::SecondReturn(SecondReturn { grille, .. }) =
            typed(&second_return(), GRILLE, "14 x 20", UNITS).unwrap()
        else {
            panic!("another kind");
        };
        assert!((grille.face.in2() - 280.0).abs() < 1e-9);
    }

    #[test]
    fn two_published_points_stand_in_the_order_of_their_airflow() {
        let ChangeKind::ByData(ByData { data, .. }) = typed(&by_data(), 3, "0.04 at 600", UNITS).unwrap() else {
            panic!("another kind");
        };
        assert_eq!(data.points().len(), 2);
        assert!((data.points()[0].0.cfm() - 600.0).abs() < 1e-9);
    }

    #[test]
    fn what_cannot_be_gets_a_sentence_that_names_the_field() {
        let cases = [
            (second_return(), 0, "400", "Duct diameter cannot be 400 in"),
            (second_return(), 1, "0", "Duct length cannot be 0"),
            (second_return(), 3, "50", "Compression of the flexible duct cannot be 50 %"),
            (second_return(), OWN_FILTER, "0.1", "type the drop and its airflow"),
            (second_return(), GRILLE + 1, "0", "Free area cannot be 0 %"),
            (by_data(), 2, "3", "exponent of 3"),
            (by_data(), 0, "x", "Published drop: \"x\" is not a number"),
            (by_data(), 3, "0.2 at 600", "must rise with airflow"),
        ];
        for (kind, slot, text, fragment) in cases {
            let message = typed(&kind, slot, text, UNITS).unwrap_err();
            assert!(message.contains(fragment), "{text}: {message}");
        }
    }
}
