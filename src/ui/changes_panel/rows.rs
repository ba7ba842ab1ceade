//! Rows of an editor: a label, and what belongs to it at its right.

use eframe::egui::{Align, Label, Layout, RichText, Ui, vec2};

use crate::ui::theme;

/// A label and its boxes in a row; gives the box's text that was committed.
pub fn row(ui: &mut Ui, name: &str, boxes: f32, contents: impl FnOnce(&mut Ui)) {
    let quiet = theme::palette(ui).quiet;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        let width = (ui.available_width() - boxes).max(40.0);
        ui.allocate_ui_with_layout(vec2(width, 28.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(width);
            let text = RichText::new(name).font(theme::regular(theme::SMALL)).color(quiet);
            ui.add(Label::new(text).truncate());
        });
        contents(ui);
    });
}

/// Room that a box takes with the gap before it.
pub const fn room(width: f32) -> f32 {
    width + theme::STEP * 0.5
}
