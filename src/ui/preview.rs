//! The report as it would print, over the window.

use eframe::egui::load::SizedTexture;
use eframe::egui::{Frame, Id, Image, Modal, Role, ScrollArea, Stroke, TextureHandle, Ui, Vec2, WidgetInfo, vec2};

use crate::files::settings::Setting;
use crate::model::facts::job::Job;
use crate::model::wording::prices;
use crate::report::form::Paper;
use crate::ui::theme;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::preview::Fit;
use crate::ui::view::{Chrome, View};
use crate::ui::widgets::{choice, hint, label};

/// Room left about the sheet, points.
const ABOUT: Vec2 = vec2(48.0, 40.0);
/// Room between two pages.
const BETWEEN: f32 = theme::STEP * 1.5;
/// Least width of a page, points.
const LEAST: f32 = 120.0;
/// Most width of a page: letters are then larger than on paper by half.
const MOST: f32 = 1_300.0;

/// The pages as they were drawn last.
#[derive(Clone, Copy)]
pub struct Pages<'a> {
    /// One picture each.
    pub pictures: &'a [TextureHandle],
    /// True while newer ones are being drawn.
    pub are_old: bool,
}

/// Draws the sheet while it is open; leaves in the view how many pixels wide a page is wanted.
pub fn show(ui: &Ui, (chrome, job): (&Chrome<'_>, &Job), pages: Pages<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(preview) = &mut view.preview else {
        return;
    };
    let room = ui.ctx().content_rect().size() - ABOUT;
    let frame = Frame::popup(ui.style()).inner_margin(theme::STEP * 1.5);
    let paper = chrome.settings.paper;
    let modal = Modal::new(Id::unique("preview")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(room.x - 3.0 * theme::STEP);
        let close = bar(ui, paper, &mut preview.fit, out);
        if pages.pictures.is_empty() {
            label::caption(ui, "The pages are being drawn…");
        } else if pages.are_old {
            label::caption(ui, "As it was a moment ago; the pages are being drawn again…");
        } else {
            label::caption(ui, told(pages.pictures.len()));
        }
        if let Some(told) = prices::before_signing(job) {
            label::question(ui, &told);
        }
        let height = (room.y - ui.min_rect().height() - 9.0 * theme::STEP).max(LEAST);
        let width = width(preview.fit, paper, pages.pictures.len(), vec2(ui.available_width(), height));
        preview.pixels = (width * ui.ctx().pixels_per_point()).round() as u32;
        // As large while nothing is drawn yet: the sheet keeps its place.
        let area = ScrollArea::both().id_salt("pages").max_height(height).min_scrolled_height(height);
        area.auto_shrink([false, false]).show(ui, |ui| {
            let (across, down) = paper.size();
            let size = vec2(width, width * down / across);
            let draw = |ui: &mut Ui| {
                ui.spacing_mut().item_spacing = Vec2::splat(BETWEEN);
                for (index, picture) in pages.pictures.iter().enumerate() {
                    page(ui, picture, size, &format!("Page {} of {}", index + 1, pages.pictures.len()));
                }
            };
            match preview.fit {
                Fit::Pages => ui.horizontal(draw).response,
                Fit::Width => ui.vertical(draw).response,
            }
        });
        close
    });
    if (modal.inner || modal.should_close()) && view.path_prompt.is_none() && view.confirm.is_none() {
        view.preview = None;
    }
}

fn told(pages: usize) -> String {
    if pages == 1 { "One page, as it would print".to_owned() } else { format!("{pages} pages, as they would print") }
}

/// What is done with it.
fn bar(ui: &mut Ui, paper: Paper, fit: &mut Fit, out: &mut Vec<Action>) -> bool {
    let mut close = false;
    ui.horizontal_wrapped(|ui| {
        label::strong(ui, "Report");
        let papers = Paper::ALL.map(|one| (one.title().to_owned(), one == paper));
        if let Some(index) = choice::buttons(ui, "Paper", &papers) {
            out.push(Setting::Paper(Paper::ALL[index]).into());
        }
        ui.separator();
        let fits = Fit::ALL.map(|one| (one.name().to_owned(), one == *fit));
        if let Some(index) = choice::buttons(ui, "Size", &fits) {
            *fit = Fit::ALL[index];
        }
        ui.separator();
        let save = hint::and_under_the_pointer(ui.button("Save as PDF…"), &Command::Print.told(ui.ctx()));
        if save.clicked() {
            out.push(Command::Print.into());
        }
        let settings = hint::and_under_the_pointer(ui.button("Company…"), &Command::Settings.told(ui.ctx()));
        if settings.clicked() {
            out.push(Command::Settings.into());
        }
        close = ui.button("Close").clicked();
    });
    close
}

/// Width of a page, points.
fn width(fit: Fit, paper: Paper, count: usize, room: Vec2) -> f32 {
    let (across, down) = paper.size();
    let width = match fit {
        Fit::Width => room.x - 3.0 * theme::STEP,
        Fit::Pages => {
            // Most reports have two pages: so many are made room for before they are counted.
            let count = if count == 0 { 2.0 } else { count.min(3) as f32 };
            let side_by_side = (room.x - BETWEEN * (count - 1.0) - theme::STEP) / count;
            side_by_side.min((room.y - theme::STEP * 1.5) * across / down)
        }
    };
    width.clamp(LEAST, MOST)
}

fn page(ui: &mut Ui, picture: &TextureHandle, size: Vec2, name: &str) {
    let response = ui.add(Image::from_texture(SizedTexture::new(picture.id(), size)).fit_to_exact_size(size));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    let edge = Stroke::new(1.0, theme::palette(ui).hairline);
    ui.painter().rect_stroke(response.rect, 0.0, edge, eframe::egui::StrokeKind::Outside);
}
