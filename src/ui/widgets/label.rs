//! Texts in the house's sizes.

use std::sync::Arc;

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{Color32, FontId, Galley, Label, Response, RichText, Role, Ui, WidgetInfo};

use crate::ui::theme;

/// A heading of a part of a panel, in small capitals' place: quiet, strong, small.
pub fn heading(ui: &mut Ui, text: &str) -> Response {
    ui.add_space(theme::STEP);
    plain_heading(ui, text)
}

/// The same where it stands, without space over it.
pub fn plain_heading(ui: &mut Ui, text: &str) -> Response {
    let colour = theme::palette(ui).quiet;
    let response = ui.label(RichText::new(text).font(theme::strong(theme::SMALL)).color(colour));
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, text));
    response
}

/// A quiet caption, wrapped.
pub fn caption(ui: &mut Ui, text: impl Into<String>) -> Response {
    let colour = theme::palette(ui).quiet;
    wrapped(ui, &text.into(), theme::regular(theme::SMALL), colour)
}

/// A remark that something cannot be, wrapped, with a mark before it.
pub fn error(ui: &mut Ui, text: &str) -> Response {
    let colour = theme::palette(ui).over;
    wrapped(ui, &format!("! {text}"), theme::regular(theme::SMALL), colour)
}

/// A question, wrapped, with a mark before it.
pub fn question(ui: &mut Ui, text: &str) -> Response {
    let colour = theme::palette(ui).change;
    wrapped(ui, &format!("? {text}"), theme::regular(theme::SMALL), colour)
}

/// Strong text.
pub fn strong(ui: &mut Ui, text: impl Into<String>) -> Response {
    let ink = ui.visuals().text_color();
    wrapped(ui, &text.into(), theme::strong(theme::BODY), ink)
}

/// A text on as many lines as it takes, of which none ends within a number; screen readers have it as it was written.
fn wrapped(ui: &mut Ui, text: &str, font: FontId, ink: Color32) -> Response {
    let shown = RichText::new(kept_together(text)).font(font).color(ink);
    let response = ui.add(Label::new(shown).wrap());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
    response
}

/// A number and its unit, a sum and a ± stay on one line.
pub fn kept_together(text: &str) -> String {
    [" %", " in. w.c.", " cfm", " + ", " = ", " ± ", "± "]
        .iter()
        .fold(text.to_owned(), |text, unit| text.replace(unit, &unit.replace(' ', "\u{a0}")))
}

/// The longest of several wordings, longest first, that has room on one line; the last is cut with an ellipsis where none has.
pub fn longest_that_fits(ui: &Ui, wordings: &[String], font: &FontId, ink: Color32, width: f32) -> Arc<Galley> {
    let set = |text: &String| one_line(ui, text, font.clone(), ink, f32::INFINITY);
    let fitting = wordings.iter().map(set).find(|galley| galley.size().x <= width);
    fitting.unwrap_or_else(|| {
        let shortest = wordings.last().map_or("", String::as_str);
        one_line(ui, shortest, font.clone(), ink, width)
    })
}

/// A text on one line, cut with an ellipsis where it is wider.
pub fn one_line(ui: &Ui, text: &str, font: FontId, ink: Color32, width: f32) -> Arc<Galley> {
    let mut job = LayoutJob::simple_singleline(text.to_owned(), font, ink);
    job.wrap = TextWrapping::truncate_at_width(width.max(1.0));
    ui.painter().layout_job(job)
}
