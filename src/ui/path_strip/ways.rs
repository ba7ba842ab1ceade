//! Ways side by side as they lie in the strip: each way a row of its elements and ports with its air at the end, over the group's own name.

use eframe::egui::{FontId, Painter, Rangef, Rect, Vec2, pos2, vec2};

use crate::model::facts::air_path::{Element, ElementId, ElementKind, PortId, Way};
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadAt;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::along::Along;
use crate::model::verdicts::system::{Projection, Running, System};
use crate::ui::path_strip::layout::Setting;
use crate::ui::path_strip::lettering::{self, NAME_LINE, REMARK_LINE};
use crate::ui::path_strip::projected;
use crate::ui::path_strip::remarks::{self, Remark};
use crate::ui::theme;
use crate::units::{Airflow, UnitSystem, show};

/// Room between two ways.
const ROW_GAP: f32 = 4.0;
/// Room between the frame of a way and what stands in it.
const ROW_EDGE: f32 = 3.0;
/// Height of the line with a way's air, over what stands in it.
pub const AIR_LINE: f32 = 15.0;
/// Room between neighbors in a way.
const CELL_PAD: f32 = 6.0;
/// Width of a port's field in a way, its margins included.
pub const FIELD: f32 = 70.0;
/// Most that a name may take on one line; longer ones end in an ellipsis and are read in full on the card.
const LONGEST_NAME: f32 = 150.0;
/// Airflow that ways keep room for, whatever passes them.
const ROOMY: Airflow = Airflow::from_cfm(1888.0);
/// The same of holes.
const LEAKS: Airflow = Airflow::from_cfm(888.0);

/// What is known of the path in this frame.
#[derive(Clone, Copy)]
pub struct Known<'a> {
    /// The job.
    pub job: &'a Job,
    /// Units that numbers are shown in.
    pub units: UnitSystem,
    /// The point as found.
    pub running: Option<&'a Running>,
    /// The path with the changes.
    pub changed: Option<&'a Projection>,
}

/// The air of one way.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Air {
    /// Its airflow, with what it becomes where a change moves it; its share where nothing runs yet.
    pub airflow: String,
    /// Its share of the group's.
    pub share: String,
    /// True where a change moves it.
    pub is_changed: bool,
}

/// An element in a way, or the name of a group within one.
#[derive(Clone, Debug)]
pub struct Cell {
    /// The element.
    pub id: ElementId,
    /// Where it stands.
    pub rect: Rect,
    /// What stands under its name.
    pub remark: Remark,
    /// True where it is all that its way is, with the way's air beside its name.
    pub is_hole: bool,
}

/// A way.
#[derive(Clone, Debug)]
pub struct Row {
    /// The group.
    pub group: ElementId,
    /// Its place among the group's ways.
    pub way: usize,
    /// Where it lies.
    pub rect: Rect,
    /// Its air.
    pub air: Air,
}

/// A port within a way.
#[derive(Clone, Copy, Debug)]
pub struct WayPort {
    /// The port.
    pub port: PortId,
    /// Where its field stands.
    pub field: Rect,
}

/// Every way of the strip, placed.
#[derive(Clone, Debug, Default)]
pub struct Ways {
    /// Elements.
    pub cells: Vec<Cell>,
    /// Ways.
    pub rows: Vec<Row>,
    /// Ports.
    pub ports: Vec<WayPort>,
}

/// How texts in ways are measured; the room that they want depends on the path alone and on no figure, so that a change moves nothing.
#[derive(Clone, Copy)]
pub struct Type<'a> {
    /// What measures them.
    pub painter: &'a Painter,
    /// The job.
    pub job: &'a Job,
    /// Units that numbers are shown in.
    pub units: UnitSystem,
    /// How ways lie.
    pub lie: Lie,
}

/// How the ways of a group lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// One under the other.
    Under,
    /// One after the other in a row, where the window is too low for more.
    After,
}

impl Type<'_> {
    fn width(&self, text: &str, font: FontId) -> f32 {
        lettering::width_of(self.painter, text, font)
    }

    /// Width of an element's name, or of its widest word.
    pub fn name_width(&self, name: &str, setting: Setting) -> f32 {
        let font = theme::strong(lettering::name_font(setting).size);
        let widths = name_lines(name, setting).into_iter().map(|line| self.width(line, font.clone()));
        widths.fold(0.0, f32::max).min(LONGEST_NAME)
    }

    /// Width of a way's air, before and with changes.
    fn air(&self, airflow: Airflow) -> f32 {
        let bare = show::airflow_bare(airflow, self.units);
        self.width(&format!("{bare} → {}", show::airflow(airflow, self.units)), theme::regular(theme::SMALL))
    }
}

/// Lines of a name.
pub fn name_lines(name: &str, setting: Setting) -> Vec<&str> {
    match setting {
        Setting::OneLine => vec![name],
        // Two lines at most: the first word, and the rest.
        Setting::WordALine | Setting::Stacked | Setting::Tight | Setting::InARow => {
            name.splitn(2, ' ').filter(|line| !line.is_empty()).collect()
        }
    }
}

/// Height of the names of the chain without the lines under them.
pub const fn name_height(setting: Setting) -> f32 {
    match setting {
        Setting::OneLine => NAME_LINE,
        Setting::WordALine | Setting::Stacked | Setting::Tight | Setting::InARow => 2.0 * NAME_LINE,
    }
}

/// Height of a name in a way with the line under it.
const HEAD: f32 = NAME_LINE + REMARK_LINE;

impl Known<'_> {
    /// What stands under the name of an element in a way.
    pub fn remark(&self, element: &Element) -> Remark {
        if remarks::is_out(self.job, element) {
            return Remark::Out;
        }
        if element.kind == ElementKind::Leak {
            return Remark::Leaks { is_return: self.is_before(element.id) };
        }
        let read = self.job.set().across(element.id);
        let along = self.running.and_then(|running| running.system.profile.as_ref()?.at(element.id));
        let Some(&Along { drop: Some(before), standing: Some(standing), airflow, .. }) = along else {
            return match (read, &element.drop) {
                (Some(read), _) => Remark::Across(read),
                (None, Some(_)) => Remark::ByData(None),
                (None, None) => Remark::Nothing,
            };
        };
        let is_shared = read.is_none() && element.drop.is_none();
        let after = self.changed.and_then(|after| projected::then(after, element.id, before));
        match (after, read, standing) {
            (Some((after, air_then, is_touched)), ..) => {
                Remark::Changed { before, after, airflows: (airflow, air_then), is_shared, is_touched }
            }
            (None, Some(read), _) => Remark::Across(read),
            (None, None, PathStanding::Measured) => Remark::Read(before),
            (None, None, PathStanding::Shared | PathStanding::Assumed) if is_shared => Remark::Shared(before),
            (None, None, PathStanding::Shared | PathStanding::Assumed) => Remark::ByData(Some(before)),
        }
    }

    fn is_before(&self, id: ElementId) -> bool {
        let path = &self.job.path;
        path.holder_of(id).zip(path.blower()).is_some_and(|(at, blower)| at < blower)
    }

    /// The air of a group's way.
    pub fn air(&self, group: &Element, way: usize) -> Air {
        let now = self.running.and_then(|running| air_of(&running.system, group.id, way));
        let then = self.changed.and_then(|after| air_of(&after.system, group.id, way));
        let Some((now, share)) = now else {
            let stated = group.ways.get(way).and_then(|way| way.flow).map(show::percent);
            return Air { airflow: stated.unwrap_or_default(), ..Air::default() };
        };
        let bare = |airflow| show::airflow_bare(airflow, self.units);
        let moved = then.filter(|(then, _)| bare(*then) != bare(now));
        match moved {
            Some((then, then_share)) => Air {
                airflow: format!("{} → {}", bare(now), show::airflow(then, self.units)),
                share: format!("{} → {}", show::percent(share), show::percent(then_share)),
                is_changed: true,
            },
            None => Air { airflow: show::airflow(now, self.units), share: show::percent(share), is_changed: false },
        }
    }
}

/// Airflow of a group's way and its share of the group's.
fn air_of(system: &System, group: ElementId, way: usize) -> Option<(Airflow, f64)> {
    let air = system.profile.as_ref()?.way(group, way)?;
    Some((air.airflow, air.share?))
}

/// What stands in a way, one after the other.
enum Item<'a> {
    Element(&'a Element),
    Port(PortId),
}

fn items<'a>(job: &Job, list: &'a [Element]) -> Vec<Item<'a>> {
    let mut items = Vec::new();
    for element in list {
        items.push(Item::Element(element));
        items.extend(job.path.ports.iter().filter(|port| port.after == element.id).map(|port| Item::Port(port.id)));
    }
    items
}

/// Room that an element wants, its ways included.
fn size(element: &Element, set: Type<'_>) -> Vec2 {
    let remark = remarks::room(set.painter, set.job, element, set.units).remark;
    let own = vec2(set.name_width(element.name(), Setting::OneLine).max(remark) + CELL_PAD, HEAD);
    if !element.is_group() {
        return own;
    }
    let ways = rows_size(element, set);
    match set.lie {
        Lie::Under => vec2(own.x.max(ways.x), own.y + ways.y),
        Lie::After => vec2(own.x + ways.x, own.y.max(ways.y)),
    }
}

/// Room that the ways of a group want above its name.
pub fn rows_size(group: &Element, set: Type<'_>) -> Vec2 {
    let rows = group.ways.iter().map(|way| row_size(way, set));
    rows.fold(Vec2::ZERO, |all, row| match set.lie {
        Lie::Under => vec2(all.x.max(row.x), all.y + row.y + ROW_GAP),
        Lie::After => vec2(all.x + row.x + ROW_GAP, all.y.max(row.y + ROW_GAP)),
    })
}

/// The hole that a way is, where it is nothing else.
fn hole(way: &Way) -> Option<&Element> {
    match &way.elements[..] {
        [only] if only.kind == ElementKind::Leak => Some(only),
        _ => None,
    }
}

fn row_size(way: &Way, set: Type<'_>) -> Vec2 {
    let edges = Vec2::splat(2.0 * ROW_EDGE);
    if let Some(hole) = hole(way) {
        // Its air stands under its name.
        return vec2(set.name_width(hole.name(), Setting::OneLine).max(set.air(LEAKS)) + CELL_PAD, HEAD) + edges;
    }
    let items = items(set.job, &way.elements);
    let all = items.iter().map(|item| item_size(item, set));
    let all = all.fold(vec2(0.0, HEAD), |all, item| vec2(all.x + item.x, all.y.max(item.y)));
    vec2(all.x.max(set.air(ROOMY) + CELL_PAD), all.y + AIR_LINE) + edges
}

fn item_size(item: &Item<'_>, set: Type<'_>) -> Vec2 {
    match item {
        Item::Element(element) => size(element, set),
        Item::Port(_) => vec2(FIELD, 28.0),
    }
}

/// Places the ways of a group within a column, the feet of the last ones at `bottom`.
pub fn place(group: &Element, column: Rangef, bottom: f32, (known, set): (&Known<'_>, Type<'_>), ways: &mut Ways) {
    let all = rows_size(group, set);
    let mut at = pos2(column.min, bottom - all.y);
    let spare = (column.span() - all.x).max(0.0) / group.ways.len().max(1) as f32;
    for (index, way) in group.ways.iter().enumerate() {
        let wanted = row_size(way, set);
        let size = match set.lie {
            Lie::Under => vec2(column.span(), wanted.y),
            Lie::After => vec2(wanted.x + ROW_GAP + spare, all.y - ROW_GAP),
        };
        let row = Rect::from_min_size(at, size).shrink2(vec2(1.0, 0.0));
        ways.rows.push(Row { group: group.id, way: index, rect: row, air: known.air(group, index) });
        match hole(way) {
            Some(hole) => ways.cells.push(Cell { id: hole.id, rect: row, remark: known.remark(hole), is_hole: true }),
            None => place_row(way, row, (known, set), ways),
        }
        match set.lie {
            Lie::Under => at.y += size.y + ROW_GAP,
            Lie::After => at.x += size.x,
        }
    }
}

fn place_row(way: &Way, row: Rect, (known, set): (&Known<'_>, Type<'_>), ways: &mut Ways) {
    let items = items(known.job, &way.elements);
    let within = Rect::from_min_max(row.min + vec2(ROW_EDGE, ROW_EDGE + AIR_LINE), row.max - Vec2::splat(ROW_EDGE));
    let wanted: f32 = items.iter().map(|item| item_size(item, set).x).sum();
    let spare = (within.width() - wanted) / items.len().max(1) as f32;
    let mut left = within.left();
    for item in &items {
        let wanted = item_size(item, set);
        let width = wanted.x + spare.max(0.0);
        let rect = Rect::from_center_size(pos2(left + width / 2.0, within.center().y), vec2(width, wanted.y));
        left += width;
        match item {
            Item::Port(port) => {
                let field = Rect::from_center_size(rect.center(), vec2(FIELD - 10.0, 28.0));
                ways.ports.push(WayPort { port: *port, field });
            }
            Item::Element(element) => {
                let head = Rect::from_x_y_ranges(rect.x_range(), rect.bottom() - HEAD..=rect.bottom());
                let head = place_within(element, rect, head, (known, set), ways);
                ways.cells.push(Cell { id: element.id, rect: head, remark: known.remark(element), is_hole: false });
            }
        }
    }
}

/// Places the ways of a group that stands in a way, over its head or before it; gives where the head stands.
fn place_within(
    element: &Element,
    rect: Rect,
    head: Rect,
    (known, set): (&Known<'_>, Type<'_>),
    ways: &mut Ways,
) -> Rect {
    if !element.is_group() {
        return head;
    }
    let (column, bottom, head) = match set.lie {
        Lie::Under => (rect.x_range(), head.top(), head),
        Lie::After => {
            let end = rect.left() + rows_size(element, set).x;
            let beside = Rect::from_center_size(pos2(f32::midpoint(end, rect.right()), rect.center().y), head.size());
            (Rangef::new(rect.left(), end), rect.bottom(), beside.with_min_x(end).with_max_x(rect.right()))
        }
    };
    place(element, column, bottom, (known, set), ways);
    head
}

/// True while something was read at a port.
pub fn is_read(job: &Job, port: PortId) -> bool {
    job.set().at(ReadAt::Port(port)).is_some()
}
