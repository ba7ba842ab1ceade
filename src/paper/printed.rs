//! Whole files, ready to be written: what the command line and the window ask for.

use std::sync::Arc;

use eframe::egui::{Ui, vec2};

use crate::files::library::Library;
use crate::model::answer::Answer;
use crate::model::facts::company::Company;
use crate::model::facts::job::Job;
use crate::model::search::SearchResult;
use crate::model::side_by_side::{self, Column};
use crate::model::wording::field_sheet::NAME;
use crate::paper::pdf::{self, About};
use crate::paper::png::Pixels;
use crate::paper::sheet::{Layout, Sheet};
use crate::paper::{png, svg};
use crate::report::csv::{self, Named};
use crate::report::form::{Form, Paper};
use crate::report::json::{self, Report};
use crate::ui::page::block::Block;
use crate::ui::page::{self, Foot, content, field_sheet};
use crate::ui::view::{ChartView, Screen};
use crate::units::UnitSystem;

/// Points of paper for each point that a chart is laid out in: it fills a sheet of paper lengthwise.
const CHART_SCALE: f32 = 0.72;

/// One job that is reported.
#[derive(Clone, Debug)]
pub struct Reported {
    /// What it is called by.
    pub file: String,
    /// The job.
    pub job: Job,
    /// Everything that follows from it, its ± checked by draws.
    pub answer: Answer,
    /// What was found and every option, worked out; nothing where there is one without a word, or no point.
    options: Option<(Column, Vec<Column>)>,
}

impl Reported {
    /// A job, with what follows from it.
    pub fn of(file: &str, job: Job) -> Self {
        let answer = Answer::checked(&job);
        let has_options = answer.point().is_some() && !job.options.are_unsaid();
        let options = has_options.then(|| {
            (side_by_side::found(&job, Answer::checked), side_by_side::columns(&job, &answer, Answer::checked))
        });
        Self { file: file.to_owned(), answer, job, options }
    }

    /// As it is drawn, with its options.
    fn screen<'a>(&'a self, shown: &'a Shown) -> Screen<'a> {
        let options = self.options.as_ref().map(|(found, options)| (found, &options[..]));
        let company = shown.company.as_deref();
        Screen { options, company, ..Screen::of(&self.job, &self.answer, shown.units, &shown.library) }
    }
}

/// How it is shown.
#[derive(Clone, Debug, Default)]
pub struct Shown {
    /// Units of sentences and drawings; data have the units that their keys say.
    pub units: UnitSystem,
    /// The part of the chart that is seen.
    pub chart: ChartView,
    /// Whose report it is.
    pub company: Option<Arc<Company>>,
    /// The library that a job's own copy of its table is held against.
    pub library: Arc<Library>,
}

/// Points of paper for each point that a page is laid out in: letters of 14 become letters of 9⅓, and smaller ones, down to 7 points for the quiet ones, where that makes it two pages.
const PAGE_SCALES: [f32; 4] = [2.0 / 3.0, 0.62, 0.58, 0.56];
/// Pages that a report has at most where smaller letters can do it.
const FEW: usize = 2;
/// Height of the sheet on which the blocks of a report are measured, points of paper: all of a hundred pages.
const ENDLESS: f32 = 100_000.0;

/// How many jobs were asked for: several give an array, and one that alone of several could be read as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// One.
    One,
    /// Several.
    Several,
}

/// The file; `search` finds the cheapest sets of a job's changes, where the form tells them.
///
/// # Errors
/// One sentence, when something cannot be put into the form.
pub fn bytes(
    form: Form,
    jobs: &[Reported],
    asked: Asked,
    shown: &Shown,
    search: &dyn Fn(&Job) -> SearchResult,
) -> Result<Vec<u8>, String> {
    match form {
        Form::Json => json_of(jobs, asked, search),
        Form::Csv(table) => {
            let named: Vec<Named<'_>> =
                jobs.iter().map(|Reported { file, job, answer, .. }| Named { file, job, answer }).collect();
            csv::table(table, &named).map_err(|fault| format!("the table cannot be put into CSV ({fault})"))
        }
        Form::Svg => Ok(svg::svg(&chart(jobs, shown)?, &title(jobs)).into_bytes()),
        Form::Png(scale) => {
            let (sheet, scale) = (chart(jobs, shown)?, scale.factor());
            let file = png::pixels(&sheet, scale).png(scale);
            file.map_err(|fault| format!("the chart cannot be put into a picture ({fault})"))
        }
        Form::Pdf(paper) => {
            let layout = Layout::default();
            let sheets: Vec<Sheet> = jobs.iter().flat_map(|reported| pages(&layout, reported, shown, paper)).collect();
            pdf::pdf(&sheets, &about(title(jobs), "Airflow by static pressure and blower table".to_owned()))
        }
        Form::FieldSheet(paper) => {
            let layout = Layout::default();
            let sheets: Vec<Sheet> =
                jobs.iter().flat_map(|reported| field_sheets(&layout, reported, shown, paper)).collect();
            pdf::pdf(&sheets, &about(NAME.to_owned(), title(jobs)))
        }
    }
}

fn json_of(jobs: &[Reported], asked: Asked, search: &dyn Fn(&Job) -> SearchResult) -> Result<Vec<u8>, String> {
    let report = |Reported { file, job, answer, .. }: &Reported| Report::of(file, job, answer, search(job));
    let reports: Vec<Report> = jobs.iter().map(report).collect();
    let text = match (&reports[..], asked) {
        ([only], Asked::One) => json::one(only),
        _ => json::many(&reports),
    };
    text.map(String::into_bytes).map_err(|fault| format!("the report cannot be put into JSON ({fault})"))
}

fn title(jobs: &[Reported]) -> String {
    jobs.iter().map(|reported| reported.job.title.as_str()).collect::<Vec<_>>().join(", ")
}

fn chart(jobs: &[Reported], shown: &Shown) -> Result<Sheet, String> {
    let Some(first) = jobs.first() else {
        return Err("there is no job to draw".to_owned());
    };
    let screen = first.screen(shown);
    let draw = |ui: &mut Ui| page::chart_sheet(ui, &screen, shown.chart);
    Ok(Layout::default().sheet(page::CHART_SHEET * CHART_SCALE, CHART_SCALE, draw))
}

fn about(title: String, subject: String) -> About {
    About { title, subject, made_by: concat!("Tapcross ", env!("CARGO_PKG_VERSION")).to_owned() }
}

/// The pages of a job's report.
pub fn pages(layout: &Layout, reported: &Reported, shown: &Shown, paper: Paper) -> Vec<Sheet> {
    let screen = reported.screen(shown);
    laid_out(layout, &screen, &content::blocks(&screen), page::title(&screen), paper)
}

/// The pages of a job's report as pictures, each so many pixels wide.
pub fn pictures(reported: &Reported, shown: &Shown, paper: Paper, width: u32) -> Vec<Pixels> {
    let (across, _) = paper.size();
    let per_point = width as f32 / across;
    let sheets = pages(&Layout::default(), reported, shown, paper);
    sheets.iter().map(|sheet| png::pixels(sheet, per_point)).collect()
}

/// The field sheet of a job: one page, unless its path has ports by the dozen.
fn field_sheets(layout: &Layout, reported: &Reported, shown: &Shown, paper: Paper) -> Vec<Sheet> {
    let screen = reported.screen(shown);
    laid_out(layout, &screen, &field_sheet::blocks(&screen), NAME, paper)
}

/// Blocks on as many pages as they need.
fn laid_out(layout: &Layout, screen: &Screen<'_>, blocks: &[Block], name: &str, paper: Paper) -> Vec<Sheet> {
    let (width, height) = paper.size();
    let paper = vec2(width, height);
    let pages_at = |scale: f32| {
        let (page, mut heights) = (paper / scale, Vec::new());
        layout.sheet(vec2(width, ENDLESS), scale, |ui| heights = page::heights(ui, screen, blocks, page));
        (scale, page::pages(blocks, &heights, page))
    };
    let usual = pages_at(PAGE_SCALES[0]);
    let smaller = || PAGE_SCALES[1..].iter().map(|scale| pages_at(*scale)).find(|(_, pages)| pages.len() <= FEW);
    let few = if usual.1.len() > FEW { smaller() } else { None };
    let (scale, ranges) = few.unwrap_or(usual);
    let page = paper / scale;
    let of = ranges.len();
    let numbered = ranges.into_iter().zip(1..);
    let one = |(range, number)| {
        let drawn: &[Block] = blocks.get::<std::ops::Range<usize>>(range).unwrap_or_default();
        layout.sheet(paper, scale, |ui| page::page(ui, screen, drawn, page, Foot { name, number, of }))
    };
    numbered.map(one).collect()
}
