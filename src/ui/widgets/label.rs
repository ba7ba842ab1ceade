//! Texts in the house's sizes.

use std::sync::Arc;

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{Color32, FontId, Galley, Label, Response, RichText, Ui};

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
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(eframe::egui::Role::Heading, true, text));
    response
}

/// A quiet caption, wrapped.
pub fn caption(ui: &mut Ui, text: impl Into<String>) -> Response {
    let colour = theme::palette(ui).quiet;
    let text = RichText::new(text).font(theme::regular(theme::SMALL)).color(colour);
    ui.add(Label::new(text).wrap())
}

/// A remark that something cannot be, wrapped, with a mark before it.
pub fn error(ui: &mut Ui, text: &str) -> Response {
    let colour = theme::palette(ui).over;
    let text = RichText::new(format!("! {text}")).font(theme::regular(theme::SMALL)).color(colour);
    ui.add(Label::new(text).wrap())
}

/// A question, wrapped, with a mark before it.
pub fn question(ui: &mut Ui, text: &str) -> Response {
    let colour = theme::palette(ui).change;
    let text = RichText::new(format!("? {text}")).font(theme::regular(theme::SMALL)).color(colour);
    ui.add(Label::new(text).wrap())
}

/// Strong text.
pub fn strong(ui: &mut Ui, text: impl Into<String>) -> Response {
    ui.add(Label::new(RichText::new(text).font(theme::strong(theme::BODY))).wrap())
}

/// A number and its unit, a sum and a ± stay on one line.
pub fn kept_together(text: &str) -> String {
    [" %", " in. w.c.", " cfm", " + ", " = ", " ± ", "± "]
        .iter()
        .fold(text.to_owned(), |text, unit| text.replace(unit, &unit.replace(' ', "\u{a0}")))
}

/// A text on one line, cut with an ellipsis where it is wider.
pub fn one_line(ui: &Ui, text: &str, font: FontId, ink: Color32, width: f32) -> Arc<Galley> {
    let mut job = LayoutJob::simple_singleline(text.to_owned(), font, ink);
    job.wrap = TextWrapping::truncate_at_width(width.max(1.0));
    ui.painter().layout_job(job)
}
