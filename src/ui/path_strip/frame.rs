//! The strip's measures in one frame: what is drawn, and where.

use eframe::egui::{Rangef, Rect, Ui, pos2};

use crate::model::job_check;
use crate::model::readings::Reading;
use crate::ui::path_strip::draw::{self, NAME_LINE, REMARK_LINE};
use crate::ui::path_strip::layout::{self, Columns, Need, Scale, Setting};
use crate::ui::path_strip::line::{self, ReadPort, Segment, Stretch};
use crate::ui::path_strip::remarks::{self, Remark};
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
        let remarks = remarks::of_job(job, screen.answer, &ports, &segments);
        let rect = ui.available_rect_before_wrap();
        let columns = columns(ui, screen, &remarks, rect);
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
        let scale = scale(&stretches, total.filter(|_| total_only), plot);
        Self {
            screen: *screen,
            total_only,
            trust,
            ports,
            segments,
            stretches,
            remarks,
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

fn columns(ui: &Ui, screen: &Screen<'_>, remarks: &[Remark], rect: Rect) -> Columns {
    let painter = ui.painter();
    let font = draw::name_font(Setting::OneLine);
    let small = theme::regular(theme::SMALL);
    let needs: Vec<Need> = screen
        .job
        .path
        .elements
        .iter()
        .zip(remarks)
        .map(|(element, remark)| {
            let name = element.kind.name();
            let words = name.split(' ').map(|word| draw::width_of(painter, word, font.clone()));
            let wordings = remark.wordings(screen.units);
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

fn scale(stretches: &[Stretch], total: Option<Pressure>, plot: Rect) -> Scale {
    let levels = stretches.iter().flat_map(|stretch| [stretch.from.1, stretch.to.1]).map(|level| level.in_wc() as f32);
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
