//! A sheet over the panels, which a button opens and closes: what has no room beside them, and moves none of them.

use eframe::egui::{Popup, PopupCloseBehavior, RectAlign, Response, ScrollArea, Ui};

use crate::ui::theme;
use crate::ui::widgets::focus;

/// Most of the window's height that a sheet takes.
const MOST: f32 = 0.7;

/// Draws the sheet of a button while it is open; a press beside it or Escape closes it.
pub fn sheet(button: &Response, name: &str, width: f32, contents: impl FnOnce(&mut Ui)) {
    let window = button.ctx.content_rect().size();
    let width = width.min(window.x - 6.0 * theme::STEP);
    Popup::from_toggle_button_response(button)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .align(RectAlign::BOTTOM_END)
        .accessible_name(name)
        .width(width)
        .show(|ui| {
            ScrollArea::vertical().max_height(window.y * MOST).show(ui, |ui| {
                ui.set_width(width - theme::STEP);
                contents(ui);
                focus::follow(ui);
            });
        });
}
