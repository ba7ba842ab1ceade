//! The boxes of what a change states: what stands in them, and what a typed text makes of the change.

use crate::model::change::stated::{Ask, Held, Side, Stated};
use crate::model::facts::change::{ChangeKind, Opening};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::{Section, face_area};
use crate::model::facts::number::Number;
use crate::model::facts::numbers::duct as given;
use crate::model::facts::numbers::job::PUBLISHED_DENSITY;
use crate::ui::changes_panel::boxes::{Box, Slot, narrow, wide};
use crate::ui::changes_panel::target_slots;
use crate::units::quantity::Quantity;
use crate::units::text;
use crate::units::{Airflow, Area, Density, Dimension, Pressure, UnitSystem, show};

/// Boxes that stand side by side under one label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The label, with its unit.
    pub label: String,
    /// One box, or now and then.
    pub slots: Vec<Slot>,
}

/// Numbers that each thing stated has for its boxes.
const BOXES: usize = 8;

/// The lines of a change's editor.
pub fn lines(kind: &ChangeKind, units: UnitSystem) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for (index, one) in kind.clone().stated().iter().enumerate() {
        for (label, slot) in boxes(one, units) {
            let slot = Slot { number: (index * BOXES) as u8 + slot.number, ..slot };
            match lines.iter_mut().find(|line| one.side == Side::Then && line.label == label) {
                Some(line) => line.slots.push(slot),
                None => lines.push(Line { label, slots: vec![slot] }),
            }
        }
    }
    lines
}

/// The change that a text typed into a box makes.
///
/// # Errors
/// A sentence that names the box and what is wrong with the text.
pub fn typed(kind: &ChangeKind, number: u8, typed: &str, units: UnitSystem) -> Result<ChangeKind, String> {
    let mut kind = kind.clone();
    let index = usize::from(number) / BOXES;
    let within = number % BOXES as u8;
    match kind.stated().into_iter().nth(index) {
        Some(one) => type_into(one, within, typed, units)?,
        None => return Err(format!("{} has no such field", kind.declaration().name)),
    }
    Ok(kind)
}

/// The box of a run's sum of loss coefficients.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittingsSlot {
    /// Its number within the change.
    pub number: u8,
    /// Whether it is of now or of then.
    pub side: Side,
    /// What stands in it.
    pub sum: f64,
}

/// The boxes of a change's sums of loss coefficients.
pub fn fittings(kind: &ChangeKind) -> Vec<FittingsSlot> {
    let mut kind = kind.clone();
    let of_run = kind.stated().into_iter().enumerate().filter_map(|(index, one)| {
        let Held::Run(run) = one.held else { return None };
        Some(FittingsSlot { number: (index * BOXES) as u8 + FITTINGS, side: one.side, sum: run.fittings })
    });
    of_run.collect()
}

fn boxes(one: &Stated<'_>, units: UnitSystem) -> Vec<Box> {
    let alone = |label: String, shown| vec![narrow(0, label, one.side.named(one.name), shown)];
    match &one.held {
        Held::Number(number, value) => {
            let unit = number.quantity.unit(units);
            let comma = if unit.is_empty() { "" } else { ", " };
            alone(format!("{}{comma}{unit}", one.label), number.quantity.bare(**value, units))
        }
        Held::Area(_, _, area) => alone(face_label(one.label, units), area_bare(**area, units)),
        Held::Count(count, _) => alone(one.label.to_owned(), count.to_string()),
        Held::Run(run) => run_boxes(one, run, units),
        Held::Opening(opening) => opening_boxes(one, opening, units),
        Held::Drop(data) => drop_boxes(one, data, units),
        Held::OwnDrop(ask, data) => own_drop_boxes(one, *ask, data.as_ref(), units),
        Held::Target(target) => target_slots::boxes(target.as_ref(), units),
        Held::Element(_) | Held::Call(_) | Held::Tap(_) | Held::OwnTap(_) | Held::Leaves(_) | Held::Machine(_) => {
            Vec::new()
        }
    }
}

fn type_into(one: Stated<'_>, within: u8, typed: &str, units: UnitSystem) -> Result<(), String> {
    let name = one.side.named(one.name);
    match one.held {
        Held::Number(number, value) => *value = number.typed(typed, units)?,
        Held::Area(number, _, area) => *area = face(&name, number, typed, units)?,
        Held::Count(count, _) => *count = whole(&name, typed)?,
        Held::Run(run) => type_run(run, one.side, within, typed, units)?,
        Held::Opening(opening) => {
            type_opening(opening, &opening_name(one.side, one.name, within), within, typed, units)?;
        }
        Held::Drop(data) => *data = typed_data(data, within, typed, units)?,
        Held::OwnDrop(ask, data) => *data = typed_own(&name, ask, data.as_ref(), within, typed, units)?,
        Held::Target(target) => *target = target_slots::typed(*target, within, typed, units)?,
        Held::Element(_) | Held::Call(_) | Held::Tap(_) | Held::OwnTap(_) | Held::Leaves(_) | Held::Machine(_) => {
            return Err(format!("{name} takes no text"));
        }
    }
    Ok(())
}

fn face_label(what: &str, units: UnitSystem) -> String {
    format!("{what}, {} or W×H", units.area_unit())
}

const EXPONENT: u8 = 2;
const SECOND_POINT: u8 = 3;
const AIR: u8 = 4;

fn drop_boxes(one: &Stated<'_>, data: &DropData, units: UnitSystem) -> Vec<Box> {
    let points = data.points();
    let first = points.first().copied().unwrap_or((Airflow::ZERO, Pressure::ZERO));
    let second = points.get(1).map(|point| point_text(*point, units)).unwrap_or_default();
    let airflow = "Airflow of the published drop";
    let mut boxes = vec![
        narrow(0, format!("{}, {}", one.label, units.pressure_unit()), one.name, exact(first.1, units)),
        narrow(1, format!("at, {}", units.airflow_unit()), airflow, show::airflow_exact(first.0, units)),
        wide(SECOND_POINT, "Second point".to_owned(), "Second published point", second),
    ];
    if points.len() < 2 {
        let exponent = show::trimmed(data.exponent(), 3);
        boxes.insert(2, narrow(EXPONENT, "Exponent".to_owned(), "Exponent of its drop", exponent));
    }
    let air = data.published().map_or_else(String::new, |density| show::density_bare(density, units));
    boxes.push(narrow(AIR, format!("Air, {}", units.density_unit()), "Published in air of", air));
    boxes
}

fn own_drop_boxes(one: &Stated<'_>, ask: Ask, data: Option<&DropData>, units: UnitSystem) -> Vec<Box> {
    let said = [(one.label, one.name.to_owned()), ("second point", second_of(one.name))];
    let shown = |index: usize| {
        let point = data.and_then(|data| data.points().get(index).copied());
        point.map(|point| point_text(point, units)).unwrap_or_default()
    };
    let boxes = (0_u8..).zip(said).take(ask.points);
    boxes.map(|(index, (label, name))| wide(index, label.to_owned(), name, shown(usize::from(index)))).collect()
}

fn second_of(name: &str) -> String {
    format!("{name}, second point")
}

const LENGTH: u8 = 1;
const FITTINGS: u8 = 2;
const COMPRESSION: u8 = 3;

/// Name of a box of a run.
fn run_name(side: Side, within: u8) -> String {
    side.named(match within {
        LENGTH => "Duct length",
        FITTINGS => "Fittings",
        COMPRESSION => "Compression",
        _ => "Duct size",
    })
}

fn run_boxes(one: &Stated<'_>, run: &Run, units: UnitSystem) -> Vec<Box> {
    let labelled = |number, label: String, shown| narrow(number, label, run_name(one.side, number), shown);
    let mut boxes = vec![
        labelled(0, format!("{}, {} or W×H", one.label, units.dimension_unit()), section_bare(run.section, units)),
        labelled(LENGTH, format!("Length, {}", units.length_unit()), show::length_bare(run.length, units)),
        labelled(FITTINGS, "Fittings, ΣC".to_owned(), show::trimmed(run.fittings, 3)),
    ];
    if let Wall::Flexible { compression } = run.wall {
        let shown = Quantity::Share.bare(compression, units);
        boxes.push(labelled(COMPRESSION, format!("{}, %", one.side.named("Compressed")), shown));
    }
    boxes
}

const FREE_AREA: u8 = 1;

fn opening_boxes(one: &Stated<'_>, opening: &Opening, units: UnitSystem) -> Vec<Box> {
    let free = Quantity::Share.bare(opening.free_area, units);
    let named = |number, label, shown| narrow(number, label, opening_name(one.side, one.name, number), shown);
    vec![
        named(0, face_label(one.label, units), area_bare(opening.face, units)),
        named(FREE_AREA, "Free area, %".to_owned(), free),
    ]
}

/// Name of a box of an opening: "Face now", "Grille free area".
fn opening_name(side: Side, of: &str, within: u8) -> String {
    side.named(&match (of, within) {
        ("", FREE_AREA) => "Free area".to_owned(),
        ("", _) => "Face".to_owned(),
        (of, FREE_AREA) => format!("{of} free area"),
        (of, _) => format!("{of} face"),
    })
}

fn type_run(run: &mut Run, side: Side, within: u8, typed: &str, units: UnitSystem) -> Result<(), String> {
    let name = run_name(side, within);
    match within {
        LENGTH => run.length = text::length(typed, units).map_err(|error| format!("{name}: {error}"))?,
        FITTINGS => run.fittings = of_quantity(Quantity::Ratio, &name, typed, units)?,
        COMPRESSION => run.wall = Wall::Flexible { compression: of_quantity(Quantity::Share, &name, typed, units)? },
        _ => run.section = section(&name, typed, units)?,
    }
    run.checked().map(|_| ()).map_err(|error| error.sentence(units))
}

fn type_opening(opening: &mut Opening, name: &str, within: u8, typed: &str, units: UnitSystem) -> Result<(), String> {
    if within == FREE_AREA {
        let free = of_quantity(Quantity::Share, name, typed, units)?;
        opening.free_area = given::FREE_AREA.check(free).map_err(|error| error.sentence(units))?;
    } else {
        opening.face = face(name, &given::FACE_AREA, typed, units)?;
    }
    Ok(())
}

fn typed_data(data: &DropData, within: u8, typed: &str, units: UnitSystem) -> Result<DropData, String> {
    let mut points = data.points().to_vec();
    let mut exponent = data.exponent();
    let mut published = data.published();
    let first = points.first_mut().ok_or("Such a part has no published point")?;
    match within {
        0 => first.1 = text::pressure(typed, units).map_err(|error| format!("Published drop: {error}"))?,
        1 => {
            first.0 = text::airflow(typed, units).map_err(|error| format!("Airflow of the published drop: {error}"))?;
        }
        EXPONENT => exponent = of_quantity(Quantity::Ratio, "Exponent of its drop", typed, units)?,
        AIR if typed.trim().is_empty() => published = None,
        AIR => published = Some(PUBLISHED_DENSITY.typed(typed, units).map(Density::from_lb_ft3)?),
        _ => {
            points.truncate(1);
            points.extend(point("Second published point", typed, units)?);
            points.sort_by(|one, other| one.0.cfm().total_cmp(&other.0.cfm()));
        }
    }
    made(points, exponent, published, units)
}

fn made(
    points: Vec<(Airflow, Pressure)>,
    exponent: f64,
    published: Option<Density>,
    units: UnitSystem,
) -> Result<DropData, String> {
    for (airflow, drop) in &points {
        given::DESIGN_AIRFLOW.check(airflow.cfm()).map_err(|error| error.sentence(units))?;
        given::READ_DROP.check(drop.in_wc()).map_err(|error| error.sentence(units))?;
    }
    let data = DropData::new(points, exponent).and_then(|data| data.published_in(published));
    data.map_err(|error| error.sentence(units))
}

fn typed_own(
    name: &str,
    ask: Ask,
    before: Option<&DropData>,
    within: u8,
    typed: &str,
    units: UnitSystem,
) -> Result<Option<DropData>, String> {
    if within > 0 {
        let before = before.ok_or("Give its first point before the second")?;
        return typed_data(before, SECOND_POINT, typed, units).map(Some);
    }
    let Some(first) = point(name, typed, units)? else {
        return Ok(None);
    };
    let second = before.and_then(|data| data.points().get(1).copied());
    let mut points: Vec<_> = std::iter::once(first).chain(second).collect();
    points.sort_by(|one, other| one.0.cfm().total_cmp(&other.0.cfm()));
    made(points, ask.exponent, before.and_then(DropData::published), units).map(Some)
}

/// "0.10 at 1200"; nothing where nothing is typed.
fn point(name: &str, typed: &str, units: UnitSystem) -> Result<Option<(Airflow, Pressure)>, String> {
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

fn point_text((airflow, drop): (Airflow, Pressure), units: UnitSystem) -> String {
    format!("{} at {}", exact(drop, units), show::airflow_exact(airflow, units))
}

fn exact(drop: Pressure, units: UnitSystem) -> String {
    show::pressure_exact(drop, units)
}

fn area_bare(area: Area, units: UnitSystem) -> String {
    let (number, decimals) = units.pick((area.in2(), 1), (area.m2(), 4));
    show::trimmed(number, decimals)
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

fn section(name: &str, typed: &str, units: UnitSystem) -> Result<Section, String> {
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

fn face(name: &str, number: &'static Number, typed: &str, units: UnitSystem) -> Result<Area, String> {
    let area = match sides(name, typed, units)? {
        Some((width, height)) => {
            return face_area(width, height).map_err(|error| error.sentence(units));
        }
        None => text::area(typed, units).map_err(|error| format!("{name}: {error}"))?,
    };
    number.check(area.in2()).map(|_| area).map_err(|error| error.sentence(units))
}

fn of_quantity(quantity: Quantity, name: &str, typed: &str, units: UnitSystem) -> Result<f64, String> {
    quantity.typed(typed, units).map_err(|error| format!("{name}: {error}"))
}

fn whole(name: &str, typed: &str) -> Result<u32, String> {
    typed.trim().parse().map_err(|_no_count| format!("{name}: \"{typed}\" is no whole number of registers"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air_path::ElementId;
    use crate::model::facts::blower::BlowerTable;
    use crate::model::facts::change::{
        BelowTable, ByData, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, OtherCoilState,
        OtherDuct, OtherOpening, PanelOff, RepairRun, Replacement, Seal, SecondReturn,
    };
    use crate::model::facts::drop_data::{DRY_COIL, MEDIA_FILTER};
    use crate::model::facts::duct::material::Material;
    use crate::units::Length;

    const UNITS: UnitSystem = UnitSystem::InchPound;

    /// Number of a box: the place of its value among those stated, and its own there.
    const fn of(index: usize, within: u8) -> u8 {
        (index * BOXES) as u8 + within
    }

    fn machine() -> ChangeKind {
        ChangeKind::OtherMachine(std::boxed::Box::new(Replacement {
            table: BlowerTable::default(),
            tap: None,
            leaves: Vec::new(),
            coil: None,
            filter: None,
            target: None,
        }))
    }

    const COIL: u8 = of(3, 0);
    const COIL_SECOND: u8 = of(3, 1);
    const FILTER: u8 = of(4, 0);

    fn with(texts: &[(u8, &str)]) -> Replacement {
        let type_in = |kind, (number, text): &(u8, &str)| typed(&kind, *number, text, UNITS).unwrap();
        match texts.iter().fold(machine(), type_in) {
            ChangeKind::OtherMachine(new) => *new,
            _ => panic!("another kind"),
        }
    }

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
            ChangeKind::OtherDuct(OtherDuct { element, now: run(), then: run(), of_drop: 1.0 }),
            second_return(),
            ChangeKind::OtherOpening(OtherOpening { element, now: opening, then: opening }),
            ChangeKind::OpenRegisters(OpenRegisters { element, now: 8, then: 10, of: 10 }),
            ChangeKind::RepairRun(RepairRun { element, fraction: 0.25 }),
            ChangeKind::Seal(Seal { element, fraction: 0.5 }),
            ChangeKind::OtherCoilState(OtherCoilState { element, factor: 1.3 }),
            ChangeKind::PanelOff(PanelOff { area }),
            ChangeKind::BelowTable(BelowTable { factor: 0.9 }),
            ChangeKind::OtherMachine(std::boxed::Box::new(with(&[
                (COIL, "0.20 at 1200"),
                (COIL_SECOND, "0.30 at 1600"),
                (FILTER, "0.1 at 1200"),
            ]))),
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
        let ChangeKind::SecondReturn(SecondReturn { run, .. }) =
            typed(&second_return(), of(0, 0), "10x20", UNITS).unwrap()
        else {
            panic!("another kind");
        };
        assert_eq!(run.section, Section::rectangular(Dimension::from_in(10.0), Dimension::from_in(20.0)));
        let ChangeKind::SecondReturn(SecondReturn { grille, .. }) =
            typed(&second_return(), of(1, 0), "14 x 20", UNITS).unwrap()
        else {
            panic!("another kind");
        };
        assert!((grille.face.in2() - 280.0).abs() < 1e-9);
    }

    #[test]
    fn a_coil_by_one_point_takes_a_coils_exponent_and_goes_when_it_is_emptied() {
        let coil = with(&[(COIL, "0.20 at 1200")]).coil.unwrap();
        assert!((coil.at_airflow(Airflow::from_cfm(2400.0)).in_wc() - 0.2 * 2.0_f64.powf(DRY_COIL)).abs() < 1e-9);
        assert_eq!(with(&[(COIL, "0.20 at 1200"), (COIL, "")]).coil, None);
        let filter = with(&[(FILTER, "0.10 at 1200")]).filter.unwrap();
        assert!((filter.exponent() - MEDIA_FILTER).abs() < 1e-12);
    }

    #[test]
    fn as_much_media_can_be_typed_as_a_change_can_have() {
        let area = Area::from_in2(400.0);
        let kind = ChangeKind::MoreFilterArea(MoreFilterArea { element: ElementId(3), now: area, then: area });
        let ChangeKind::MoreFilterArea(more) = typed(&kind, of(2, 0), "20000", UNITS).unwrap() else {
            panic!("another kind");
        };
        assert!((more.then.in2() - 20_000.0).abs() < 1e-9);
    }

    #[test]
    fn two_published_points_stand_in_the_order_of_their_airflow() {
        let ChangeKind::ByData(ByData { data, .. }) =
            typed(&by_data(), of(1, SECOND_POINT), "0.04 at 600", UNITS).unwrap()
        else {
            panic!("another kind");
        };
        assert_eq!(data.points().len(), 2);
        assert!((data.points()[0].0.cfm() - 600.0).abs() < 1e-9);
    }

    #[test]
    fn what_cannot_be_gets_a_sentence_that_names_the_field() {
        let cases = [
            (second_return(), of(0, 0), "400", "Duct diameter cannot be 400 in"),
            (second_return(), of(0, LENGTH), "0", "Duct length cannot be 0"),
            (second_return(), of(0, COMPRESSION), "50", "Compression of the flexible duct cannot be 50 %"),
            (second_return(), of(2, 0), "0.1", "type the drop and its airflow"),
            (second_return(), of(1, FREE_AREA), "0", "Free area cannot be 0 %"),
            (by_data(), of(1, EXPONENT), "3", "exponent of 3"),
            (by_data(), of(1, 0), "x", "Published drop: \"x\" is not a number"),
            (by_data(), of(1, SECOND_POINT), "0.2 at 600", "falls while airflow rises"),
            (machine(), COIL, "0.2", "Coil by its published drop: \"0.2\" is no point"),
            (machine(), COIL_SECOND, "0.2 at 900", "first point before the second"),
        ];
        for (kind, slot, text, fragment) in cases {
            let message = typed(&kind, slot, text, UNITS).unwrap_err();
            assert!(message.contains(fragment), "{text}: {message}");
        }
    }
}
