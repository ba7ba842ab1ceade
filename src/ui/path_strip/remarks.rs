//! What stands under each element's name, and how it is read out.

use eframe::egui::{Color32, Painter};

use crate::model::answer::Answer;
use crate::model::facts::air_path::{AirPath, Element, ElementKind};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::read_ports::ReadPort;
use crate::ui::path_strip::layout::Setting;
use crate::ui::path_strip::lettering;
use crate::ui::path_strip::line::{self, Segment};
use crate::ui::theme::{self, Palette};
use crate::units::{Airflow, Pressure, UnitSystem, show};

/// What is known of one element's drop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Remark {
    /// Nothing of its own: it shares a segment, or nothing was read.
    Nothing,
    /// It was out of the path during the readings.
    Out,
    /// It stands alone between two read places.
    Read(Pressure),
    /// It was read straight across it.
    Across(Pressure),
    /// A hole in the duct.
    Leaks {
        /// True before the blower, where it draws air in.
        is_return: bool,
    },
    /// By data, at the answer's airflow where there is one.
    ByData(Option<Pressure>),
    /// It stands between a port and the table's plane, and its drop is not known.
    NoData,
    /// The table contains it.
    Inside,
    /// Split off a read segment by shares.
    Shared(Pressure),
    /// It drops something else with the changes.
    Changed {
        /// Drop as found.
        before: Pressure,
        /// Drop with the changes, at the airflow with them.
        after: Pressure,
        /// Air through it, as found and with the changes.
        airflows: (Airflow, Airflow),
        /// True where the drop as found is split off by shares.
        is_shared: bool,
        /// True where a change is on it, false where only other air passes it.
        is_touched: bool,
    },
    /// A change joined it with its neighbours into one part; a caption stands under all of them.
    Joined {
        /// Their drop as found, together.
        before: Pressure,
        /// Their drop with the changes, together.
        after: Pressure,
    },
}

/// The remark of every element, in flow order.
pub fn of_job(job: &Job, answer: &Answer, ports: &[ReadPort], segments: &[Segment]) -> Vec<Remark> {
    let needed = between_port_and_plane(job, ports);
    let elements = job.path.elements.iter().enumerate();
    elements
        .map(|(index, element)| {
            let alone = segments.iter().find(|segment| present(job, segment) == [index]);
            let is_inside = is_inside(job, index);
            let profile = answer.point().and_then(|running| running.system.profile.as_ref());
            let drop = profile.and_then(|profile| profile.drop(element.id));
            let is_needed = needed.contains(&index);
            let has_data = element.drop.is_some() || is_needed && (drop.is_some() || prints_drop(job, element));
            let across = job.set().across(element.id);
            match (is_out(job, element), is_inside, alone, has_data) {
                (true, ..) => Remark::Out,
                _ if across.is_some() => Remark::Across(across.unwrap_or_default()),
                (_, true, ..) => Remark::Inside,
                (_, _, Some(segment), _) => Remark::Read(segment.drop),
                (_, _, _, true) => Remark::ByData(drop),
                _ if is_needed => Remark::NoData,
                _ => Remark::Nothing,
            }
        })
        .collect()
}

/// Whether the table prints a drop for an element outside its planes.
fn prints_drop(job: &Job, element: &Element) -> bool {
    let table = job.machine.as_ref();
    element.kind == ElementKind::Heater && table.is_some_and(|table| table.corrections.heater.is_some())
}

/// Whether an element was out of the path during the readings.
pub fn is_out(job: &Job, element: &Element) -> bool {
    job.set().parts_out.contains(&element.id)
}

/// Whether an element lies between the table's planes.
pub fn is_inside(job: &Job, index: usize) -> bool {
    let basis = job.machine.as_ref().map(|table| table.basis).unwrap_or_default();
    job.path.inside(&basis).contains(&index)
}

/// Indexes of a segment's elements that the air really passes.
pub fn present(job: &Job, segment: &Segment) -> Vec<usize> {
    segment
        .elements
        .clone()
        .filter(|index| job.path.elements.get(*index).is_some_and(|element| !is_out(job, element)))
        .collect()
}

fn between_port_and_plane(job: &Job, ports: &[ReadPort]) -> Vec<usize> {
    let before = ports.iter().rfind(|port| port.is_before);
    let after = ports.iter().find(|port| !port.is_before);
    let (Some(before), Some(after)) = (before, after) else {
        return Vec::new();
    };
    let (from, to) = line::jump(&job.path, job.machine.as_ref(), before.boundary, after.boundary);
    (before.boundary..from).chain(to..after.boundary).collect()
}

impl Remark {
    /// What stands under the name, longest wording first.
    pub fn wordings(self, units: UnitSystem) -> Vec<String> {
        match self {
            Self::Nothing | Self::Inside | Self::Joined { .. } => Vec::new(),
            Self::Shared(drop) => vec![format!("≈ {}", show::pressure_bare(drop, units))],
            Self::Changed { before, after, is_shared, .. } => {
                let (before, after) = (show::pressure_bare(before, units), show::pressure_bare(after, units));
                let mark = if is_shared { "≈ " } else { "" };
                vec![format!("{mark}{before} → {after}"), format!("{}{before}→{after}", mark.trim_end())]
            }
            Self::Out => vec!["out".to_owned()],
            Self::Read(drop) | Self::Across(drop) => vec![show::pressure_bare(drop, units)],
            Self::Leaks { is_return: true } => vec!["into the duct".to_owned(), "in".to_owned()],
            Self::Leaks { is_return: false } => vec!["out of the duct".to_owned(), "out".to_owned()],
            Self::ByData(Some(drop)) => {
                vec![format!("{} by data", show::pressure_bare(drop, units)), "by data".to_owned()]
            }
            Self::ByData(None) => vec!["by data".to_owned()],
            Self::NoData => vec!["no data".to_owned()],
        }
    }

    /// The same as a clause for screen readers and hovering, with the word for what was found.
    pub fn spoken(self, units: UnitSystem, as_found: &str) -> String {
        match self {
            Self::Nothing => "no drop of its own".to_owned(),
            Self::Out => "out of the path during the readings".to_owned(),
            Self::Read(drop) => format!("{} read", show::pressure(drop, units)),
            Self::Across(drop) => format!("{} read across it", show::pressure(drop, units)),
            Self::Leaks { is_return: true } => "draws air into the duct that never came from the rooms".to_owned(),
            Self::Leaks { is_return: false } => "lets air out of the duct that never reaches the rooms".to_owned(),
            Self::ByData(Some(drop)) => format!("{} by data", show::pressure(drop, units)),
            Self::ByData(None) => "by data, at an airflow not known yet".to_owned(),
            Self::NoData => "its drop is needed and not known; type it by data".to_owned(),
            Self::Inside => "inside the rating".to_owned(),
            Self::Shared(drop) => format!("about {} by its share", show::pressure(drop, units)),
            Self::Changed { before, after, airflows, .. } => {
                let at =
                    |drop, airflow| format!("{} at {}", show::pressure(drop, units), show::airflow(airflow, units));
                format!("{} {as_found}, {} with changes", at(before, airflows.0), at(after, airflows.1))
            }
            Self::Joined { before, after } => format!(
                "with its neighbors {} {as_found}, {} with changes",
                show::pressure(before, units),
                show::pressure(after, units)
            ),
        }
    }

    /// True where the drop as found is split off by shares.
    pub const fn is_shared(self) -> bool {
        matches!(self, Self::Shared(_) | Self::Changed { is_shared: true, .. })
    }

    /// The same on two lines, for what has no room on one: the drop as found over the one with changes.
    pub fn stacked(self, units: UnitSystem) -> Vec<String> {
        match self {
            Self::Changed { before, after, is_shared, .. } => {
                let mark = if is_shared { "≈ " } else { "" };
                let bare = |drop| show::pressure_bare(drop, units);
                vec![format!("{mark}{}", bare(before)), format!("→ {}", bare(after))]
            }
            Self::ByData(Some(drop)) => vec![show::pressure_bare(drop, units), "by data".to_owned()],
            Self::Leaks { .. }
            | Self::Nothing
            | Self::Out
            | Self::Read(_)
            | Self::Across(_)
            | Self::ByData(None)
            | Self::NoData
            | Self::Inside
            | Self::Shared(_)
            | Self::Joined { .. } => self.wordings(units).pop().into_iter().collect(),
        }
    }
}

impl Remark {
    /// The same on two lines in the least room.
    pub fn tight(self, units: UnitSystem) -> Vec<String> {
        let apart = |text: &str| text.split(' ').map(str::to_owned).collect();
        match self {
            Self::NoData => apart("no data"),
            Self::ByData(None) => apart("by data"),
            Self::ByData(Some(drop)) => vec![show::pressure_bare(drop, units), "data".to_owned()],
            Self::Nothing
            | Self::Out
            | Self::Read(_)
            | Self::Across(_)
            | Self::Leaks { .. }
            | Self::Inside
            | Self::Shared(_)
            | Self::Changed { .. }
            | Self::Joined { .. } => self.stacked(units).iter().map(|line| line.replace(' ', "")).collect(),
        }
    }
}

/// A drop that room is kept for, whatever is read: three figures as most drops have.
const ROOMY: Pressure = Pressure::from_in_wc(0.88);

/// Width that is kept for what stands under an element's name, points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Room {
    /// On one line.
    pub remark: f32,
    /// On two.
    pub stacked: f32,
    /// On two, in the finest type.
    pub tight: f32,
}

/// That width: by what the element is and not by what is read, so that nothing moves when a change comes or goes.
pub fn room(painter: &Painter, job: &Job, element: &Element, units: UnitSystem) -> Room {
    if !can_be_told(job, element) {
        return Room::default();
    }
    let airflows = (Airflow::ZERO, Airflow::ZERO);
    let then = Remark::Changed { before: ROOMY, after: ROOMY, airflows, is_shared: true, is_touched: true };
    let width = |text: &String| lettering::width_of(painter, text, theme::regular(theme::SMALL));
    let stacked = then.stacked(units).iter().map(width).fold(width(&"by data".to_owned()), f32::max);
    let fine = |text: &String| lettering::width_of(painter, text, lettering::remark_font(Setting::Tight));
    let tight = then.tight(units).iter().map(fine).fold(fine(&"data".to_owned()), f32::max);
    Room { remark: then.wordings(units).last().map(width).unwrap_or_default(), stacked, tight }
}

/// Whether a drop of its own can ever stand under an element: of what the table contains, where the table or a person says it.
fn can_be_told(job: &Job, element: &Element) -> bool {
    if matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger | ElementKind::Leak) {
        return false;
    }
    let prints =
        |table: &BlowerTable| table.corrections.drop_of(element.kind).is_some() || job.prints_wet_drop_of(element.id);
    let is_said = element.drop.is_some() || job.set().across(element.id).is_some();
    !job.is_inside(element.id) || is_said || job.machine.as_ref().is_some_and(prints)
}

/// What is written across the elements inside the table's planes, longest wording first.
pub fn inside_wordings(job: &Job) -> Vec<String> {
    let basis = job.machine.as_ref().map(|table| table.basis).unwrap_or_default();
    let inside = job.path.inside(&basis);
    let parts: Vec<String> = job
        .path
        .elements
        .get(inside)
        .unwrap_or_default()
        .iter()
        .filter(|element| matches!(element.kind, ElementKind::Filter | ElementKind::Coil | ElementKind::Heater))
        .filter(|element| AirPath::is_inside(element, &basis) && !is_out(job, element))
        .map(|element| element.name().to_lowercase())
        .collect();
    let mut wordings = Vec::new();
    if let Some((last, others)) = parts.split_last() {
        let list = if others.is_empty() { last.clone() } else { format!("{} and {last}", others.join(", ")) };
        wordings.push(format!("{list} inside the rating"));
    }
    wordings.push("inside the rating".to_owned());
    wordings.push("inside".to_owned());
    wordings
}

/// Colour of a remark; its words say the same.
pub const fn colour(palette: &Palette, remark: Remark) -> Color32 {
    match remark {
        Remark::Read(_) | Remark::Across(_) | Remark::Shared(_) | Remark::Changed { is_touched: false, .. } => {
            palette.ink
        }
        Remark::NoData | Remark::Changed { is_touched: true, .. } => palette.change,
        Remark::Nothing
        | Remark::Out
        | Remark::Leaks { .. }
        | Remark::ByData(_)
        | Remark::Inside
        | Remark::Joined { .. } => palette.quiet,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, apply};
    use crate::files::demo;
    use crate::model::facts::air_path::ElementId;
    use crate::model::facts::air_path::RETURN_PORT;
    use crate::model::facts::blower::PartInTest;
    use crate::model::facts::drop_data::DropData;

    fn remarks(job: &Job) -> Vec<Remark> {
        let ports = crate::model::facts::read_ports::read_ports(job);
        of_job(job, &Answer::of(job), &ports, &line::segments(job, &ports))
    }

    #[test]
    fn what_has_no_room_on_one_line_loses_no_figure_on_two() {
        let drop = Pressure::from_in_wc(0.2);
        let airflows = (Airflow::from_cfm(1200.0), Airflow::from_cfm(1250.0));
        let changed = Remark::Changed { before: drop, after: drop * 2.0, airflows, is_shared: true, is_touched: true };
        let units = UnitSystem::InchPound;
        assert_eq!(changed.stacked(units), ["≈ 0.20", "→ 0.40"]);
        // Each at its own airflow, else a change would seem to do what the air does.
        let said = "0.20 in. w.c. at 1,200 cfm as found, 0.40 in. w.c. at 1,250 cfm with changes";
        assert_eq!(changed.spoken(units, "as found"), said);
        assert_eq!(Remark::ByData(Some(drop)).stacked(units), ["0.20", "by data"]);
        assert!(Remark::Joined { before: drop, after: drop }.stacked(units).is_empty());
    }

    #[test]
    fn elements_that_share_a_segment_show_no_numbers_of_their_own() {
        let job = demo::heat_pump();
        let remarks = remarks(&job);
        assert_eq!(remarks[0], Remark::Nothing);
        assert_eq!(remarks[3], Remark::Inside, "the coil");
        assert_eq!(remarks[6], Remark::Nothing);
    }

    #[test]
    fn a_part_that_was_out_leaves_its_neighbour_alone_in_the_segment() {
        let mut job = demo::heat_pump();
        apply(&mut job, Edit::MovePort(RETURN_PORT, ElementId(2))).unwrap();
        apply(&mut job, Edit::PartOut(ElementId(1), true)).unwrap();
        let remarks = remarks(&job);
        assert_eq!(remarks[0], Remark::Out);
        assert!(matches!(remarks[1], Remark::Read(drop) if (drop.in_wc() - 0.52).abs() < 1e-12), "{remarks:?}");
        assert_eq!(remarks[2], Remark::NoData, "the filter between port and plane");
    }

    #[test]
    fn a_drop_by_data_says_so() {
        let mut job = demo::heat_pump();
        let data = DropData::at(Airflow::from_cfm(1400.0), Pressure::from_in_wc(0.25), 1.2).unwrap();
        apply(&mut job, Edit::ElementDrop(ElementId(3), Some(data))).unwrap();
        let wordings = remarks(&job)[2].wordings(UnitSystem::InchPound);
        assert!(wordings[0].ends_with(" by data"), "{wordings:?}");
        assert_eq!(wordings[1], "by data");
    }

    #[test]
    fn the_caption_names_what_the_rating_contains() {
        let mut job = demo::heat_pump();
        let cases = [
            (PartInTest::Without, "coil inside the rating"),
            (PartInTest::Included, "coil and electric heater inside the rating"),
        ];
        for (heater, caption) in cases {
            let table = job.machine.as_mut().unwrap();
            table.basis.heater = heater;
            assert_eq!(inside_wordings(&job)[0], caption);
        }
        assert_eq!(inside_wordings(&job).last().unwrap(), "inside");
    }
}
