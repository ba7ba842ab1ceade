//! Ways side by side as they lie in the strip: each way a row of its elements and ports with its air at the end, over the group's own name.

use eframe::egui::{FontId, Painter, Rangef, Rect, Vec2, pos2, vec2};

use crate::model::facts::air_path::{Element, ElementId, PortId};
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadAt;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::along::Along;
use crate::model::verdicts::system::{Projection, Running, System};
use crate::ui::path_strip::layout::{PAD, Setting};
use crate::ui::path_strip::lettering::{self, NAME_LINE, REMARK_LINE};
use crate::ui::path_strip::projected;
use crate::ui::path_strip::remarks::{self, Remark, Takes};
use crate::ui::theme;
use crate::units::{Airflow, UnitSystem, show};

/// Room between two ways.
const ROW_GAP: f32 = 4.0;
/// Room between the frame of a way and what stands in it.
const ROW_EDGE: f32 = 3.0;
/// Width of a port's field in a way, its margins included.
pub const FIELD: f32 = 82.0;
/// Most that a name may take on one line; longer ones end in an ellipsis and are read in full on the card.
const LONGEST_NAME: f32 = 150.0;

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
    /// Its airflow, with what it becomes where a change moves it.
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

/// How texts are set and measured.
#[derive(Clone, Copy)]
pub struct Type<'a> {
    /// What measures them.
    pub painter: &'a Painter,
    /// How names in ways are set.
    pub setting: Setting,
}

impl Type<'_> {
    fn width(&self, text: &str, font: FontId) -> f32 {
        lettering::width_of(self.painter, text, font)
    }

    /// Width of an element's name.
    pub fn name_width(&self, name: &str) -> f32 {
        let font = lettering::name_font(self.setting);
        let widths = name_lines(name, self.setting).into_iter().map(|line| self.width(line, font.clone()));
        widths.fold(0.0, f32::max).min(LONGEST_NAME)
    }

    /// Height of a name with the line under it.
    pub fn head(&self) -> f32 {
        name_height(self.setting) + REMARK_LINE
    }
}

/// How the names in ways are set where the chain's are set in a way.
pub const fn within(setting: Setting) -> Setting {
    match setting {
        Setting::Tight => Setting::Tight,
        Setting::OneLine | Setting::WordALine | Setting::Cut => Setting::OneLine,
    }
}

/// Lines of a name.
pub fn name_lines(name: &str, setting: Setting) -> Vec<&str> {
    if setting == Setting::OneLine {
        return vec![name];
    }
    // Two lines at most: the first word, and the rest.
    let mut lines: Vec<&str> = name.splitn(2, ' ').collect();
    lines.retain(|line| !line.is_empty());
    lines
}

/// Height of a name without the line under it.
pub fn name_height(setting: Setting) -> f32 {
    if setting == Setting::OneLine { NAME_LINE } else { 2.0 * NAME_LINE }
}

impl Known<'_> {
    /// What stands under the name of an element in a way.
    pub fn remark(&self, element: &Element) -> Remark {
        if remarks::is_out(self.job, element) {
            return Remark::Out;
        }
        if element.kind == crate::model::facts::air_path::ElementKind::Leak {
            return Remark::Leaks { is_return: self.is_before(element.id) };
        }
        let read = self.job.set().across(element.id);
        let along = self.running.and_then(|running| running.system.profile.as_ref()?.at(element.id));
        let Some(&Along { drop: Some(before), standing: Some(standing), .. }) = along else {
            return match (read, &element.drop) {
                (Some(read), _) => Remark::Across(read),
                (None, Some(_)) => Remark::ByData(None),
                (None, None) => Remark::Nothing,
            };
        };
        let is_shared = read.is_none() && element.drop.is_none();
        let after = self.changed.and_then(|after| projected::then(after, element.id, before));
        match (after, read, standing) {
            (Some((after, is_touched)), ..) => Remark::Changed { before, after, is_shared, is_touched },
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
pub fn size(element: &Element, known: &Known<'_>, set: Type<'_>) -> Vec2 {
    let remark = known.remark(element);
    let wordings = remark.wordings_of(known.units, Takes::Less);
    let remark = wordings.first().map_or(0.0, |wording| set.width(wording, theme::regular(theme::SMALL)));
    let own = vec2(set.name_width(element.name()).max(remark) + PAD, set.head());
    if !element.is_group() {
        return own;
    }
    let ways = rows_size(element, known, set);
    vec2(own.x.max(ways.x), own.y + ways.y)
}

/// Room that the ways of a group want above its name.
pub fn rows_size(group: &Element, known: &Known<'_>, set: Type<'_>) -> Vec2 {
    (0..group.ways.len())
        .map(|way| row_size(group, way, known, set))
        .fold(Vec2::ZERO, |all, row| vec2(all.x.max(row.x), all.y + row.y + ROW_GAP))
}

fn row_size(group: &Element, way: usize, known: &Known<'_>, set: Type<'_>) -> Vec2 {
    let mut width = 2.0 * ROW_EDGE + air_width(&known.air(group, way), set);
    let mut height = 2.0 * REMARK_LINE;
    for item in items(known.job, &group.ways[way].elements) {
        let size = item_size(&item, known, set);
        width += size.x;
        height = height.max(size.y);
    }
    vec2(width, height + 2.0 * ROW_EDGE)
}

fn item_size(item: &Item<'_>, known: &Known<'_>, set: Type<'_>) -> Vec2 {
    match item {
        Item::Element(element) => size(element, known, set),
        Item::Port(_) => vec2(FIELD, 28.0),
    }
}

fn air_width(air: &Air, set: Type<'_>) -> f32 {
    let font = theme::regular(theme::SMALL);
    set.width(&air.airflow, font.clone()).max(set.width(&air.share, font)) + PAD
}

/// Places the ways of a group in a column, one above the other, the last one's foot at `bottom`.
pub fn place(
    group: &Element,
    column: Rangef,
    bottom: f32,
    (now, rest): (&Known<'_>, &Known<'_>),
    set: Type<'_>,
    ways: &mut Ways,
) {
    let mut top = bottom - rows_size(group, rest, set).y;
    for way in 0..group.ways.len() {
        let wanted = row_size(group, way, rest, set);
        let row = Rect::from_x_y_ranges(column, top..=top + wanted.y);
        place_row(group, way, row.shrink2(vec2(1.0, 0.0)), (now, rest), set, ways);
        top += wanted.y + ROW_GAP;
    }
}

fn place_row(
    group: &Element,
    way: usize,
    row: Rect,
    (now, rest): (&Known<'_>, &Known<'_>),
    set: Type<'_>,
    ways: &mut Ways,
) {
    ways.rows.push(Row { group: group.id, way, rect: row, air: now.air(group, way) });
    let items = items(now.job, &group.ways[way].elements);
    let spare = (row.width() - row_size(group, way, rest, set).x + 2.0) / items.len().max(1) as f32;
    let mut left = row.left() + ROW_EDGE;
    for item in &items {
        let wanted = item_size(item, rest, set);
        let width = wanted.x + spare.max(0.0);
        let rect = Rect::from_center_size(pos2(left + width / 2.0, row.center().y), vec2(width, wanted.y));
        left += width;
        match item {
            Item::Port(port) => {
                let field = Rect::from_center_size(rect.center(), vec2(FIELD - 10.0, 26.0));
                ways.ports.push(WayPort { port: *port, field });
            }
            Item::Element(element) => {
                let head = Rect::from_x_y_ranges(rect.x_range(), rect.bottom() - set.head()..=rect.bottom());
                ways.cells.push(Cell { id: element.id, rect: head, remark: now.remark(element) });
                if element.is_group() {
                    place(element, rect.x_range(), head.top(), (now, rest), set, ways);
                }
            }
        }
    }
}

/// True while something was read at a port.
pub fn is_read(job: &Job, port: PortId) -> bool {
    job.set().at(ReadAt::Port(port)).is_some()
}
