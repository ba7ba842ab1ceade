//! The whole window: which panel stands where at which width.

use eframe::egui::{CentralPanel, Context, DragAndDrop, Frame, Margin, Panel as Side, ScrollArea, Ui};

use crate::files::settings::Panel;
use crate::ui::view::action::Action;
use crate::ui::view::{Chrome, FieldKey, InHand, Screen, SidePart, Tab, View};
use crate::ui::widgets::{caution, choice, focus};
use crate::ui::{changes_panel, chart, job_panel, path_strip, taps_panel, theme, top_bar, verdict_strip};

/// Under this width in points the window shows one part at a time.
const NARROW: f32 = 900.0;
/// Under this height the air path gives way to the chart.
const LOW: f32 = 560.0;
/// Width of the job's panel.
const JOB_WIDTH: f32 = 256.0;
/// Width of the panel of every tap.
const TAPS_WIDTH: f32 = 312.0;
/// Height of the air path of a plain chain.
const PATH_HEIGHT: f32 = 214.0;
/// Most that the air path takes of the height under the verdict, so that the chart stays the larger; what does not fit scrolls.
const PATH_MOST: f32 = 0.5;

/// Width and height of the window in points of its ordinary size; nothing while it fills the screen.
pub fn size(ctx: &Context) -> Option<(u16, u16)> {
    let inner = ctx.input(|input| {
        let window = input.viewport();
        let fills = window.fullscreen.unwrap_or_default() || window.maximized.unwrap_or_default();
        window.inner_rect.filter(|_| !fills)
    })?;
    let in_points = |length: f32| (length * ctx.zoom_factor()).round() as u16;
    Some((in_points(inner.width()), in_points(inner.height()))).filter(|(width, height)| *width > 0 && *height > 0)
}

/// Draws everything but what lies over it.
pub fn show(ui: &mut Ui, screen: &Screen<'_>, chrome: &Chrome<'_>, view: &mut View, out: &mut Vec<Action>) {
    view.chart_place = None;
    view.in_hand = DragAndDrop::payload::<InHand>(ui.ctx()).map(|held| held.0);
    changes_panel::forget_closed(screen, view);
    let size = ui.available_size();
    let paper = Frame::new().fill(theme::palette(ui).surface);
    let padded = paper.inner_margin(Margin::symmetric(12, 8));
    let is_narrow = size.x < NARROW;
    let room = if size.y < LOW { verdict_strip::Room::Little } else { verdict_strip::Room::Enough };
    Side::top("bar").frame(padded).show(ui, |ui| {
        let tabs = is_narrow.then_some(&mut view.tab);
        top_bar::top_bar(ui, screen, chrome, tabs, size.y < LOW, out);
    });
    Side::top("verdict").frame(padded).show(ui, |ui| {
        ui.vertical(|ui| verdict_strip::verdict_strip(ui, screen, view, room, out));
        caution::line(ui, screen);
    });
    if is_narrow {
        narrow(ui, screen, view, out, padded, size.y);
        return;
    }
    let folded = |panel| chrome.settings.folded.contains(&panel);
    if !folded(Panel::Job) {
        Side::left("job").frame(padded).exact_size(JOB_WIDTH).resizable(false).show(ui, |ui| {
            scrolled(ui, "job", |ui| job_panel::job_panel(ui, screen, view, out));
        });
    }
    if !folded(Panel::EveryTap) {
        Side::right("taps").frame(padded).exact_size(TAPS_WIDTH).resizable(false).show(ui, |ui| {
            beside(ui, screen, view, out);
        });
    }
    if !folded(Panel::AirPath) {
        let height = path_height(ui, screen, view);
        Side::bottom("path").frame(padded).exact_size(height).resizable(false).show(ui, |ui| {
            path_strip::path_strip(ui, screen, view, out);
        });
    }
    CentralPanel::default().frame(padded).show(ui, |ui| chart::chart(ui, screen, view, out));
}

/// Height of the air path: what its ways side by side need, as far as the chart can spare it.
fn path_height(ui: &Ui, screen: &Screen<'_>, view: &View) -> f32 {
    let margins = (24.0, 16.0);
    let wanted = path_strip::height(ui, screen, view, ui.available_width() - margins.0) + margins.1;
    wanted.min((ui.available_height() * PATH_MOST).max(PATH_HEIGHT))
}

fn scrolled(ui: &mut Ui, salt: &str, contents: impl FnOnce(&mut Ui)) {
    ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| {
        // Room for the scroll bar, which would lie over the numbers.
        ui.set_max_width(ui.available_width() - theme::STEP);
        contents(ui);
        focus::follow(ui);
    });
}

/// What stands beside the chart: changes, or every tap; changes first where there is a point to change.
fn beside(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let first = if screen.answer.point().is_some() { SidePart::Changes } else { SidePart::EveryTap };
    let part = view.side.unwrap_or(first);
    let options =
        [("Changes".to_owned(), part == SidePart::Changes), ("Every tap".to_owned(), part == SidePart::EveryTap)];
    if let Some(index) = choice::buttons(ui, "Beside the chart", &options) {
        view.side = Some(if index == 0 { SidePart::Changes } else { SidePart::EveryTap });
    }
    match part {
        SidePart::Changes => changes_panel::changes_panel(ui, screen, view, out),
        SidePart::EveryTap => scrolled(ui, "taps", |ui| taps_panel::taps_panel(ui, screen, out)),
    }
}

fn narrow(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>, padded: Frame, height: f32) {
    let goes_to_a_field = matches!(view.go_to, Some(FieldKey::Of(_)));
    if goes_to_a_field {
        view.tab = Tab::Job;
    }
    if view.tab == Tab::Path && height >= LOW {
        view.tab = Tab::Chart;
    }
    match view.tab {
        Tab::Job => {
            CentralPanel::default().frame(padded).show(ui, |ui| {
                scrolled(ui, "job", |ui| {
                    job_panel::readings(ui, screen, view, out);
                    job_panel::job_panel(ui, screen, view, out);
                });
            });
        }
        Tab::Chart => {
            if height >= LOW {
                let path_height = path_height(ui, screen, view);
                Side::bottom("path").frame(padded).exact_size(path_height).show(ui, |ui| {
                    path_strip::path_strip(ui, screen, view, out);
                });
            }
            CentralPanel::default().frame(padded).show(ui, |ui| chart::chart(ui, screen, view, out));
        }
        Tab::Path => {
            CentralPanel::default().frame(padded).show(ui, |ui| path_strip::path_strip(ui, screen, view, out));
        }
        Tab::Taps => {
            CentralPanel::default().frame(padded).show(ui, |ui| {
                beside(ui, screen, view, out);
            });
        }
    }
}
