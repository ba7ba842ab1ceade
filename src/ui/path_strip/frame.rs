//! The strip's measures in one frame: what is drawn, and where.

use eframe::egui::{Rangef, Rect, Ui, pos2};

use crate::model::facts::air_path::{Element, ElementId};
use crate::model::facts::job::Job;
use crate::model::facts::job_check;
use crate::model::facts::read_ports::{self, ReadPort};
use crate::model::facts::readings::Reading;
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::changes;
use crate::ui::path_strip::layout::{self, Columns, Need, Scale, Setting};
use crate::ui::path_strip::lettering::{NAME_LINE, REMARK_LINE};
use crate::ui::path_strip::line::{self, Segment, Stretch};
use crate::ui::path_strip::port_widths;
use crate::ui::path_strip::projected::{self, Drops, Joined};
use crate::ui::path_strip::remarks::{self, Remark};
use crate::ui::path_strip::ways::{self, Known, Lie, Type, Ways};
use crate::ui::reading_entry::Side;
use crate::ui::view::{Screen, View};
use crate::units::{Pressure, show};

/// Height of the row of fields.
const FIELDS: f32 = 32.0;
/// Height of the captions under them.
const CAPTIONS: f32 = 15.0;
/// Height of the row at the foot, with the room over it.
pub const FOOT: f32 = 35.0;
/// Height of the bypass over everything.
const BAND: f32 = 20.0;
/// Height that the pressure line has at least.
const LEAST_PLOT: f32 = 50.0;
/// Room under everything for the bar that scrolls it.
pub const SCROLL_BAR: f32 = 9.0;
/// By how much texts may miss their room before it grows, points: rounding.
const SLACK: f32 = 1.0;

/// How far the readings can be trusted just now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trust {
    /// As they stand.
    Full,
    /// Something is being typed.
    Waiting,
    /// A sign waits for a person's word: no jump, no drops.
    InDoubt,
}

/// Everything that the strip draws from, and its measures.
#[derive(Clone)]
pub struct Strip<'a> {
    /// Job, answer and units.
    pub screen: Screen<'a>,
    /// True while a total is typed instead of two ports.
    pub total_only: bool,
    /// How far the readings can be trusted.
    pub trust: Trust,
    /// Ports that were read.
    pub ports: Vec<ReadPort>,
    /// Read segments.
    pub segments: Vec<Segment>,
    /// The pressure line.
    pub stretches: Vec<Stretch>,
    /// What stands under each name.
    pub remarks: Vec<Remark>,
    /// Elements that a change joined, with their drop before and after.
    pub joined: Vec<Joined>,
    /// The part that takes most, with the changes where there are any, and its share of the external drop.
    pub worst: Option<(Vec<ElementId>, f64)>,
    /// The pressure line with the changes, at boundaries.
    pub after: Vec<(usize, Pressure)>,
    /// True while a change is still in the hand.
    pub is_trial: bool,
    /// The total, where one was read.
    pub total: Option<Pressure>,
    /// The whole strip.
    pub rect: Rect,
    /// Where the elements stand.
    pub columns: Columns,
    /// Foot of the names.
    pub names_bottom: f32,
    /// Where the pressure line runs.
    pub plot: Rect,
    /// Pressure to height.
    pub scale: Scale,
    /// The row of fields.
    pub fields: Rect,
    /// The row of captions under the fields.
    pub captions: Rect,
    /// Ways side by side, placed.
    pub ways: Ways,
    /// The bypass, where there is one.
    pub bypass: Option<BypassLine>,
}

/// The bypass over the strip.
#[derive(Clone, Debug)]
pub struct BypassLine {
    /// Where it leaves and where it joins.
    pub ends: (f32, f32),
    /// Where it is pressed.
    pub rect: Rect,
    /// What is said of it.
    pub text: String,
}

impl<'a> Strip<'a> {
    /// Measures a strip for the room that it has; it grows past that room where its texts need more.
    pub fn measure(ui: &Ui, screen: &Screen<'a>, view: &View, room: Rect) -> Self {
        let job = screen.job;
        let total_only = view.total_only;
        let trust = match (job_check::sign_in_doubt(job), view.is_half_entered()) {
            (true, _) => Trust::InDoubt,
            (_, true) => Trust::Waiting,
            _ => Trust::Full,
        };
        let mut ports = read_ports::read_ports(job);
        if total_only {
            ports.clear();
        }
        let mut segments = line::segments(job, &ports);
        let mut stretches = line::stretches(job, screen.answer, &ports);
        if trust == Trust::InDoubt {
            segments.clear();
            stretches.retain(|stretch| stretch.basis == line::Basis::Read);
        }
        let mut remarks = remarks::of_job(job, screen.answer, &ports, &segments);
        let in_hand = screen.in_hand.and_then(|answer| answer.point().zip(answer.with_changes()));
        let running = in_hand.map(|(running, _)| running).or_else(|| screen.answer.point());
        let running = running.filter(|_| trust == Trust::Full);
        let changed = in_hand.or_else(|| changes::with_changes(job, screen.answer));
        let changed = changed.filter(|_| trust == Trust::Full).map(|(_, after)| after);
        let joined = running.map(|running| projected::remark(job, running, changed, &mut remarks)).unwrap_or_default();
        let worst = worst(running, changed);
        let now = Known { job, units: screen.units, running, changed };
        let columns = columns(ui, screen, room, view);
        let wanted = columns.edges.last().copied().unwrap_or_default();
        let right = if wanted > room.right() + SLACK { wanted } else { room.right() };
        let mut after = Vec::new();
        if let (Some(running), Some(jump)) = (running, projected::jump(job, &ports)) {
            (stretches, after) = by_parts(job, running, changed, jump, &columns, stretches);
        }
        let lie = if columns.setting == Setting::InARow { Lie::After } else { Lie::Under };
        let set = Type { painter: ui.painter(), job, units: screen.units, lie };
        let band = if job.path.bypass.is_some() { BAND } else { 0.0 };
        let groups = || job.path.elements.iter().enumerate().filter(|(_, element)| element.is_group());
        let rows = groups().map(|(_, group)| ways::rows_size(group, set).y).fold(0.0, f32::max);
        let names = ways::name_height(columns.setting).max(if rows > 0.0 { rows + NAME_LINE } else { 0.0 });
        let names_bottom = room.top() + band + names;
        let remarks_bottom = names_bottom + columns.setting.remark_lines() * REMARK_LINE;
        let under = remarks_bottom + 2.0 + LEAST_PLOT + 6.0 + FIELDS + CAPTIONS;
        let is_wide = right > room.right();
        let bottom = room.bottom() - if is_wide { SCROLL_BAR } else { 0.0 };
        let bottom = if under > bottom + SLACK { under } else { bottom };
        let rect = Rect::from_min_max(room.min, pos2(right, bottom));
        let row = |top: f32, height: f32| Rect::from_x_y_ranges(rect.x_range(), top..=top + height);
        let captions = row(rect.bottom() - CAPTIONS, CAPTIONS);
        let fields = row(captions.top() - FIELDS, FIELDS);
        let plot = Rect::from_min_max(
            pos2(rect.left() + columns.setting.gutter(), remarks_bottom + 2.0),
            pos2(rect.right(), fields.top() - 6.0),
        );
        let mut placed = Ways::default();
        for (index, group) in groups() {
            let column = Rangef::new(columns.edges[index], columns.edges[index + 1]);
            ways::place(group, column, names_bottom - NAME_LINE, (&now, set), &mut placed);
        }
        let total = job.set().at(Side::Total.at()).and_then(Reading::average);
        let scale = scale(&stretches, &after, total.filter(|_| total_only), plot);
        let bypass = bypass_line(&now, &columns, rect);
        Self {
            screen: *screen,
            total_only,
            trust,
            ports,
            segments,
            stretches,
            remarks,
            joined,
            worst,
            after,
            is_trial: in_hand.is_some(),
            total,
            rect,
            columns,
            names_bottom,
            plot,
            scale,
            fields,
            captions,
            ways: placed,
            bypass,
        }
    }

    /// Horizontal room of an element.
    pub fn column(&self, index: usize) -> Rangef {
        Rangef::new(self.columns.edges[index], self.columns.edges[index + 1])
    }

    /// Whether an element takes most of the external drop; a share that nobody has said shows nothing to take most.
    pub fn takes_most(&self, index: usize) -> bool {
        let element = &self.screen.job.path.elements[index];
        let is_said = element.share.is_some() || !self.remarks[index].is_shared();
        is_said && self.worst.as_ref().is_some_and(|(ids, _)| *ids == [element.id])
    }

    /// Top of an element's name, under its ways where it has some.
    pub fn head_top(&self, index: usize) -> f32 {
        let is_group = self.screen.job.path.elements[index].is_group();
        if is_group { self.names_bottom - NAME_LINE } else { self.inside_top() }
    }

    /// Middle of a line under the names, from the first on.
    pub fn remark_line(&self, line: usize) -> f32 {
        self.names_bottom + (line as f32 + 0.5) * REMARK_LINE
    }

    /// Top of what is inside the table's planes: all of the strip, or the names where ways lie over it.
    pub fn inside_top(&self) -> f32 {
        self.rect.top().max(self.names_bottom - 2.0 * NAME_LINE)
    }

    /// Widest run inside the table's planes of elements without a remark of their own, where the caption stands.
    pub fn caption_span(&self) -> Option<Rangef> {
        let job = self.screen.job;
        let is_free = |index: &usize| self.remarks[*index] == Remark::Inside;
        let inside: Vec<usize> = (0..job.path.elements.len()).filter(|index| remarks::is_inside(job, *index)).collect();
        let runs = inside.chunk_by(|one, next| is_free(one) == is_free(next)).filter(|run| run.iter().all(is_free));
        let span =
            |run: &[usize]| Some(Rangef::new(self.columns.edges[*run.first()?], self.columns.edges[*run.last()? + 1]));
        runs.filter_map(span).max_by(|one, other| one.span().total_cmp(&other.span()))
    }

    /// Horizontal room of everything inside the table's planes.
    pub fn inside_span(&self) -> Option<Rangef> {
        let job = self.screen.job;
        let inside: Vec<usize> = (0..job.path.elements.len()).filter(|index| remarks::is_inside(job, *index)).collect();
        let (first, last) = (inside.first()?, inside.last()?);
        Some(Rangef::new(self.columns.edges[*first], self.columns.edges[*last + 1]))
    }
}

/// The part that takes most: with the changes, where there are any.
fn worst(running: Option<&Running>, changed: Option<&Projection>) -> Option<(Vec<ElementId>, f64)> {
    let found = running.map(|running| &running.system);
    changed.map(|after| &after.system).or(found)?.most.clone()
}

/// The bypass from where it leaves to where it joins, with its air.
fn bypass_line(known: &Known<'_>, columns: &Columns, rect: Rect) -> Option<BypassLine> {
    let path = &known.job.path;
    let bypass = path.bypass.as_ref()?;
    let edge = |id| columns.edges.get(path.index_of(id)? + 1).copied();
    let ends = (edge(bypass.leaves_after)?, edge(bypass.joins_after)?);
    let now = known.running.and_then(|running| Some(running.system.profile.as_ref()?.bypass?.airflow));
    let then = known.changed.and_then(|after| Some(after.system.profile.as_ref()?.bypass?.airflow));
    let share = show::percent(bypass.flow);
    let bare = |airflow| show::airflow_bare(airflow, known.units);
    let text = match (now, then.filter(|then| now.is_some_and(|now| bare(now) != bare(*then)))) {
        (Some(now), Some(then)) => format!("bypass {} → {}", bare(now), show::airflow(then, known.units)),
        (Some(now), None) => format!("bypass {}, {share}", show::airflow(now, known.units)),
        (None, _) => format!("bypass {share}"),
    };
    let range = ends.0.min(ends.1)..=ends.0.max(ends.1);
    Some(BypassLine { ends, rect: Rect::from_x_y_ranges(range, rect.top()..=rect.top() + BAND - 2.0), text })
}

/// The line as found, split at its elements where the path is, and the line with the changes.
fn by_parts(
    job: &Job,
    running: &Running,
    changed: Option<&Projection>,
    jump: (usize, usize),
    columns: &Columns,
    stretches: Vec<Stretch>,
) -> (Vec<Stretch>, Vec<(usize, Pressure)>) {
    let width = |index: usize| columns.edges[index + 1] - columns.edges[index];
    let Some(profile) = &running.system.profile else {
        return (stretches, Vec::new());
    };
    let drops = Drops::of(job, profile, jump, width);
    let line = changed.and_then(|changed| {
        let profile = changed.system.profile.as_ref()?;
        projected::levels(job, profile, &Drops::of(job, profile, jump, width), jump)
    });
    (projected::split(job, stretches, profile, &drops), line.unwrap_or_default())
}

fn columns(ui: &Ui, screen: &Screen<'_>, room: Rect, view: &View) -> Columns {
    let (painter, job, units) = (ui.painter(), screen.job, screen.units);
    let under = Type { painter, job, units, lie: Lie::Under };
    let need = |element: &Element| {
        let remarks::Room { remark, stacked, tight } = remarks::room(painter, job, element, units);
        let name = under.name_width(element.name(), Setting::OneLine);
        if element.is_group() {
            // Its name stands on one line under its ways.
            let name = name.max(ways::rows_size(element, under).x);
            let in_a_row = ways::rows_size(element, Type { lie: Lie::After, ..under }).x;
            return Need { name, word: name, remark, stacked, tight: name, in_a_row: Some(name.max(in_a_row)) };
        }
        let word = |setting| under.name_width(element.name(), setting);
        let (word, tight) = (word(Setting::WordALine), word(Setting::Tight).max(tight));
        Need { name, word, remark, stacked, tight, in_a_row: None }
    };
    let needs: Vec<Need> = job.path.elements.iter().map(need).collect();
    let fields = port_widths::least_width(screen, view);
    layout::columns(&needs, room.left(), room.width().max(fields))
}

fn scale(stretches: &[Stretch], after: &[(usize, Pressure)], total: Option<Pressure>, plot: Rect) -> Scale {
    let levels = stretches
        .iter()
        .flat_map(|stretch| [stretch.from.1, stretch.to.1])
        .chain(after.iter().map(|level| level.1))
        .map(|level| level.in_wc() as f32);
    let (lowest, highest) = levels.fold((0.0_f32, 0.0_f32), |(low, high), level| (low.min(level), high.max(level)));
    match total {
        Some(total) => layout::scale(
            plot.top(),
            plot.bottom(),
            -(total.abs().in_wc() as f32) / 2.0,
            total.abs().in_wc() as f32 / 2.0,
        ),
        None => layout::scale(plot.top(), plot.bottom(), lowest, highest),
    }
}
