//! The pages of the report as pictures, drawn off the drawing thread and once for each state of the job.

use std::sync::Arc;

use eframe::egui::{ColorImage, Context, TextureHandle, TextureOptions};

use crate::app::TapcrossApp;
use crate::model::facts::company::Company;
use crate::model::facts::job::Job;
use crate::paper::png::Pixels;
use crate::paper::printed::{self, Reported, Shown};
use crate::report::form::Paper;
use crate::ui::preview::Pages;
use crate::units::UnitSystem;
use crate::worker::{Heard, Worker};

/// What pages are of.
#[derive(Clone, Debug, PartialEq)]
struct Of {
    revision: u64,
    units: UnitSystem,
    paper: Paper,
    company: Company,
    /// The library's state.
    library: u64,
    /// Width of a page, pixels.
    width: u32,
}

/// What is drawn.
#[derive(Debug)]
struct Order {
    file: String,
    job: Job,
    shown: Shown,
    paper: Paper,
    width: u32,
}

/// The pages.
#[derive(Default)]
pub(super) struct Preview {
    worker: Option<Worker<Order, Vec<Pixels>>>,
    /// What is being drawn.
    waits: Option<Of>,
    /// What was drawn last.
    drawn: Option<Of>,
    pictures: Vec<TextureHandle>,
}

impl Preview {
    /// What there is to be seen.
    pub(super) fn pages(&self) -> Pages<'_> {
        let is_of_now = |waits: &Of, drawn: &Of| Of { width: drawn.width, ..waits.clone() } == *drawn;
        let drawn = self.drawn.as_ref();
        // Pages that are only drawn finer say what they said.
        let are_old = self.waits.as_ref().is_some_and(|waits| !drawn.is_some_and(|drawn| is_of_now(waits, drawn)));
        Pages { pictures: &self.pictures, are_old }
    }

    /// Takes in what was drawn.
    fn take(&mut self, ctx: &Context) {
        match self.worker.as_ref().map(Worker::poll) {
            None | Some(Heard::NothingYet) => {}
            Some(Heard::Told(pages)) => {
                let texture = |(index, page): (usize, &Pixels)| {
                    let size = [usize::from(page.width), usize::from(page.height)];
                    let picture = ColorImage::from_rgb(size, &page.rgb);
                    ctx.load_texture(format!("page {index}"), picture, TextureOptions::LINEAR)
                };
                self.pictures = pages.iter().enumerate().map(texture).collect();
                self.drawn = self.waits.take();
            }
            Some(Heard::Ended) => (self.worker, self.waits) = (None, None),
        }
    }
}

impl TapcrossApp {
    /// Has the pages drawn that are to be seen; gives them up once nobody looks.
    pub(super) fn tend_preview(&mut self, ctx: &Context) {
        let Some(width) = self.view.preview.as_ref().map(|preview| preview.pixels) else {
            if self.preview.waits.is_none() && self.preview.worker.is_some() {
                self.preview = Preview::default();
            }
            return;
        };
        self.preview.take(ctx);
        let of = Of {
            revision: self.history.revision(),
            units: self.settings.units,
            paper: self.settings.paper,
            company: self.settings.company.clone(),
            library: self.library.changes(),
            width,
        };
        if width == 0 || self.preview.waits.is_some() || self.preview.drawn.as_ref() == Some(&of) {
            return;
        }
        if self.preview.worker.is_none() {
            let window = ctx.clone();
            self.preview.worker = Worker::begin(
                "preview",
                move || window.request_repaint(),
                |order: Order, teller| {
                    let reported = Reported::of(&order.file, order.job);
                    teller.tell(printed::pictures(&reported, &order.shown, order.paper, order.width));
                },
            )
            .ok();
        }
        let Some(worker) = &self.preview.worker else {
            self.view.preview = None;
            self.wrong("The report cannot be shown, for the system gives no thread");
            return;
        };
        let company = Some(Arc::new(of.company.clone()));
        let shown = Shown { units: of.units, company, library: self.library_of_job(), ..Shown::default() };
        let file = self.file.as_deref().unwrap_or(std::path::Path::new("")).to_string_lossy().into_owned();
        worker.order(Order { file, job: self.history.job().clone(), shown, paper: of.paper, width });
        self.preview.waits = Some(of);
    }

    /// Waits until the pages that are to be seen are drawn; for tests.
    pub fn wait_for_pages(&mut self, ctx: &Context) -> usize {
        self.tend_preview(ctx);
        while self.preview.waits.is_some() {
            std::thread::sleep(std::time::Duration::from_millis(2));
            self.preview.take(ctx);
        }
        self.preview.pictures.len()
    }
}
