//! Sheets over the panels: one that a button opens and closes, for what has no room beside them and moves none of them, and one that keeps everything else back until it is closed.

use std::fmt::Debug;
use std::hash::Hash;

use eframe::egui::{
    Align, Frame, Id, Layout, Modal, ModalResponse, Popup, PopupCloseBehavior, RectAlign, Response, ScrollArea, Ui,
    Vec2,
};

use crate::ui::theme;
use crate::ui::widgets::focus;

/// Most of the window's height that a sheet takes.
const MOST: f32 = 0.7;
/// Room left about a sheet over all, points.
const ABOUT: f32 = 64.0;

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

/// Draws a sheet over all, as large as the window has room for and no larger than it needs; `contents` are told how large.
pub fn over_all<T>(
    ui: &Ui,
    name: &'static str,
    largest: Vec2,
    contents: impl FnOnce(&mut Ui, Vec2) -> T,
) -> ModalResponse<T> {
    let size = (ui.ctx().content_rect().size() - Vec2::splat(ABOUT)).min(largest);
    let frame = Frame::popup(ui.style()).inner_margin(16);
    Modal::new(Id::unique(name)).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(size.x);
        ui.set_height(size.y);
        contents(ui, size)
    })
}

/// Pictures in which a question comes over what it was asked from.
const COMING: u8 = 3;

/// Draws a question over everything that is open.
///
/// The press that opened it also brings to the top what it was in, and where the question was asked before, that lay over it.
pub fn question<T>(ui: &Ui, id: impl Hash + Debug, contents: impl FnOnce(&mut Ui) -> T) -> ModalResponse<T> {
    let id = Id::unique(id);
    let coming = id.with("coming");
    let modal = Modal::new(id);
    let layer = modal.area.layer();
    if !ui.memory(|memory| memory.areas().visible_last_frame(&layer)) {
        ui.data_mut(|data| data.insert_temp(coming, COMING));
    }
    let modal = modal.show(ui.ctx(), contents);
    let left = ui.data(|data| data.get_temp::<u8>(coming)).unwrap_or_default();
    if left > 0 {
        ui.data_mut(|data| data.insert_temp(coming, left - 1));
        ui.ctx().move_to_top(layer);
        ui.ctx().request_repaint();
    }
    modal
}

/// A part of such a sheet, which scrolls by itself and follows the keys.
pub fn part(ui: &mut Ui, salt: &str, size: Vec2, contents: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(size, Layout::top_down(Align::Min), |ui| {
        ui.set_min_size(size);
        ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| {
            // Room for the scroll bar.
            ui.set_max_width(size.x - theme::STEP);
            contents(ui);
            focus::follow(ui);
        });
    });
}
