//! The head of a report: whose it is.

use eframe::egui::{Rect, Sense, Ui, vec2};

use crate::model::facts::company::Company;
use crate::ui::theme;
use crate::ui::widgets::{label, picture};

/// The room of a logo, in points of the layout.
const LOGO: eframe::egui::Vec2 = vec2(180.0, 52.0);
/// Room under the head.
const UNDER: f32 = 10.0;

/// Draws the logo at the left and the company's lines at the right, or at the left where there is no logo.
pub(super) fn draw(ui: &mut Ui, company: &Company) {
    let palette = theme::palette(ui);
    let [name, others @ ..] = company.texts();
    let others: Vec<&str> = others.into_iter().filter(|text| !text.is_empty()).collect();
    let logo = company.logo.as_ref().map(|logo| (logo, picture::size_in(logo, LOGO)));
    let off = logo.map_or(0.0, |(_, size)| size.x + 2.0 * theme::STEP);
    let room = ui.available_width() - off;
    let set = |text: &str, font, ink| ui.painter().layout(label::kept_together(text), font, ink, room);
    let mut lines = Vec::new();
    if !name.is_empty() {
        lines.push(set(name, theme::strong(theme::BODY), palette.ink));
    }
    if !others.is_empty() {
        lines.push(set(&others.join(" · "), theme::regular(theme::CHART), palette.quiet));
    }
    let height = lines.iter().map(|line| line.size().y).sum::<f32>();
    let whole = height.max(logo.map_or(0.0, |(_, size)| size.y));
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), whole + UNDER), Sense::hover());
    if let Some((logo, size)) = logo {
        picture::draw(ui, logo, Rect::from_min_size(rect.min, size));
    }
    let mut at = rect.min + vec2(off, (whole - height) / 2.0);
    for line in lines {
        let step = line.size().y;
        ui.painter().galley(at, line, palette.ink);
        at.y += step;
    }
}
