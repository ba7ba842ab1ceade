//! The window's place on its displays: back where it was closed, as long as that is still on one of them.

use eframe::egui::{self, Rect, ViewportCommand, pos2, vec2};

use crate::ui::window;

/// Moves the window to a place, in points of its ordinary size; where no display is there any more it stays where the system put it.
#[expect(clippy::cast_possible_truncation, reason = "the scale of a display is a small number")]
pub(super) fn go_back(ctx: &egui::Context, frame: &eframe::Frame, place: (i32, i32)) {
    let Some(native) = frame.winit_window() else {
        return;
    };
    let scale = native.scale_factor() as f32;
    let displays: Vec<Rect> = native
        .available_monitors()
        .map(|display| {
            let (at, size) = (display.position(), display.size());
            Rect::from_min_size(pos2(at.x as f32, at.y as f32), vec2(size.width as f32, size.height as f32)) / scale
        })
        .collect();
    let width = native.outer_size().width as f32 / scale;
    if window::is_within_reach(place, width, &displays) {
        let (left, top) = place;
        let at = pos2(left as f32, top as f32) / ctx.zoom_factor();
        ctx.send_viewport_cmd(ViewportCommand::OuterPosition(at));
    }
}
