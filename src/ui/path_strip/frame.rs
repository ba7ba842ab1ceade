//! The strip's measures in one frame: what is drawn, and where.

use eframe::egui::{Rangef, Rect, Ui, pos2};

use crate::model::air_path::ElementId;
use crate::model::answer::Running;
use crate::model::answer::after::After;
use crate::model::job::Job;
use crate::model::job_check;
use crate::model::readings::Reading;
use crate::model::wording::changes;
use crate::ui::path_strip::draw::{self, NAME_LINE, REMARK_LINE};
use crate::ui::path_strip::layout::{self, Columns, Need, Scale, Setting};
use crate::ui::path_strip::line::{self, ReadPort, Segment, Stretch};
use crate::ui::path_strip::projected::{self, Drops, Joined};
use crate::ui::path_strip::remarks::{self, Remark, Takes};
use crate::ui::path_strip::trial;
use crate::ui::reading_entry::Side;
use crate::ui::theme;
use crate::ui::view::{Screen, View};
use crate::units::Pressure;

/// Width of the word at the room's line.
const GUTTER: f32 = 38.0;
/// Height of the row of fields.
const FIELDS: f32 = 30.0;
/// Height of the captions under them.
const CAPTIONS: f32 = 15.0;
/// Height of the row at the foot.
const FOOT: f32 = 28.0;

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
    /// The part that takes most as found, with its share of the external drop.
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
    /// The row at the foot.
    pub foot: Rect,
}

impl<'a> Strip<'a> {
    /// Measures a strip for the room that a ui has.
    pub fn measure(ui: &Ui, screen: &Screen<'a>, view: &View) -> Self {
        let job = screen.job;
        let total_only = view.total_only;
        let trust = match (job_check::sign_in_doubt(job), view.is_half_entered()) {
            (true, _) => Trust::InDoubt,
            (_, true) => Trust::Waiting,
            _ => Trust::Full,
        };
        let mut ports = line::read_ports(job);
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
        let (resting, resting_worst) = at_rest(screen, trust, &remarks);
        let trial = trial::shown(ui);
        let in_hand = trial.as_deref().and_then(|running| Some((running, running.after.as_ref()?)));
        let running = in_hand.map(|(running, _)| running).or_else(|| screen.answer.point());
        let running = running.filter(|_| trust == Trust::Full);
        let changed = in_hand.or_else(|| changes::with_changes(job, screen.answer));
        let changed = changed.filter(|_| trust == Trust::Full).map(|(_, after)| after);
        let joined = running.map(|running| projected::remark(job, running, changed, &mut remarks)).unwrap_or_default();
        let worst = running.and_then(|running| projected::worst(job, running));
        let rect = ui.available_rect_before_wrap();
        let columns = columns(ui, screen, &resting, resting_worst.as_ref(), rect);
        let mut after = Vec::new();
        if let (Some(running), Some(jump)) = (running, projected::jump(job, &ports)) {
            (stretches, after) = by_parts(job, running, changed, jump, &columns, stretches);
        }
        let lines = if columns.setting == Setting::OneLine { 1.0 } else { 2.0 };
        let names_bottom = rect.top() + lines * NAME_LINE;
        let row = |top: f32, height: f32| Rect::from_x_y_ranges(rect.x_range(), top..=top + height);
        let foot = row(rect.bottom() - FOOT, FOOT);
        let captions = row(foot.top() - CAPTIONS - 3.0, CAPTIONS);
        let fields = row(captions.top() - FIELDS, FIELDS);
        let plot = Rect::from_min_max(
            pos2(rect.left() + GUTTER, names_bottom + REMARK_LINE + 2.0),
            pos2(rect.right(), fields.top() - 6.0),
        );
        let total = job.set().at(Side::Total.at()).and_then(Reading::average);
        let scale = scale(&stretches, &after, total.filter(|_| total_only), plot);
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
            foot,
        }
    }

    /// Horizontal room of an element.
    pub fn column(&self, index: usize) -> Rangef {
        Rangef::new(self.columns.edges[index], self.columns.edges[index + 1])
    }

    /// Whether an element takes most of the external drop.
    pub fn takes(&self, index: usize) -> Takes {
        takes(self.screen.job, self.worst.as_ref(), index)
    }

    /// Middle of the line under the names.
    pub fn remark_middle(&self) -> f32 {
        self.names_bottom + REMARK_LINE / 2.0
    }

    /// Horizontal room of everything inside the table's planes.
    pub fn inside_span(&self) -> Option<Rangef> {
        let job = self.screen.job;
        let inside: Vec<usize> = (0..job.path.elements.len()).filter(|index| remarks::is_inside(job, *index)).collect();
        let (first, last) = (inside.first()?, inside.last()?);
        Some(Rangef::new(self.columns.edges[*first], self.columns.edges[*last + 1]))
    }
}

/// Remarks and worst part without a change in the hand, so that columns keep their places while one is held over them.
fn at_rest(screen: &Screen<'_>, trust: Trust, remarks: &[Remark]) -> (Vec<Remark>, Option<(Vec<ElementId>, f64)>) {
    let mut resting = remarks.to_vec();
    let running = screen.answer.point().filter(|_| trust == Trust::Full);
    let changed = changes::with_changes(screen.job, screen.answer).map(|(_, after)| after);
    if let Some(running) = running {
        projected::remark(screen.job, running, changed, &mut resting);
    }
    (resting, running.and_then(|running| projected::worst(screen.job, running)))
}

/// The line as found, split at its elements where the path is, and the line with the changes.
fn by_parts(
    job: &Job,
    running: &Running,
    changed: Option<&After>,
    jump: (usize, usize),
    columns: &Columns,
    stretches: Vec<Stretch>,
) -> (Vec<Stretch>, Vec<(usize, Pressure)>) {
    let width = |index: usize| columns.edges[index + 1] - columns.edges[index];
    let drops = Drops::of(job, &running.parts, running.now.airflow, jump, width);
    let line = changed.and_then(|changed| {
        let drops = Drops::of(job, &changed.parts, changed.point()?.airflow, jump, width);
        projected::levels(job, &changed.parts, &drops, jump)
    });
    (projected::split(stretches, &running.parts, &drops), line.unwrap_or_default())
}

fn takes(job: &Job, worst: Option<&(Vec<ElementId>, f64)>, index: usize) -> Takes {
    let is_worst =
        worst.is_some_and(|(ids, _)| job.path.elements.get(index).is_some_and(|element| *ids == [element.id]));
    if is_worst { Takes::Most } else { Takes::Less }
}

fn columns(
    ui: &Ui,
    screen: &Screen<'_>,
    remarks: &[Remark],
    worst: Option<&(Vec<ElementId>, f64)>,
    rect: Rect,
) -> Columns {
    let painter = ui.painter();
    let font = draw::name_font(Setting::OneLine);
    let small = theme::regular(theme::SMALL);
    let needs: Vec<Need> = screen
        .job
        .path
        .elements
        .iter()
        .zip(remarks)
        .enumerate()
        .map(|(index, (element, remark))| {
            let name = element.kind.name();
            let words = name.split(' ').map(|word| draw::width_of(painter, word, font.clone()));
            let wordings = remark.wordings_of(screen.units, takes(screen.job, worst, index));
            let width = |wording: Option<&String>| {
                wording.map_or(0.0, |wording| draw::width_of(painter, wording, small.clone()))
            };
            Need {
                name: draw::width_of(painter, name, font.clone()),
                word: words.fold(0.0, f32::max),
                remark: width(wordings.first()),
                short_remark: width(wordings.last()),
            }
        })
        .collect();
    layout::columns(&needs, rect.left() + GUTTER, rect.width() - GUTTER)
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
