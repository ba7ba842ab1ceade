//! What the keys come to is brought into view.

use eframe::egui::style::ScrollAnimation;
use eframe::egui::{Id, Memory, Rect, Ui};

/// Scrolls to what has just taken the focus, where it stands in the scrolled part that `ui` fills; called when all of the part is drawn.
pub fn follow(ui: &Ui) {
    let key = ui.scope_id().with("focus followed");
    let focused = ui.memory(Memory::focused);
    let before: Option<Id> = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(key), focused));
    let Some(response) = focused.filter(|id| before != Some(*id)).and_then(|id| ui.ctx().read_response(id)) else {
        return;
    };
    // What is pressed is in view, and must not move under the pointer.
    let is_pressed =
        ui.input(|input| input.pointer.any_pressed() || input.pointer.any_down() || input.pointer.any_released());
    if !is_pressed && response.layer_id == ui.layer_id() && belongs(response.rect, response.interact_rect, ui) {
        ui.scroll_to_rect_animation(response.rect, None, ScrollAnimation::none());
    }
}

/// True where a widget is one of the part: in its content, and seen, as far as it is seen, through its window alone.
fn belongs(rect: Rect, seen: Rect, ui: &Ui) -> bool {
    let is_elsewhere = seen.is_positive() && !ui.clip_rect().expand(1.0).contains_rect(seen);
    ui.min_rect().expand(1.0).contains_rect(rect) && !is_elsewhere
}
