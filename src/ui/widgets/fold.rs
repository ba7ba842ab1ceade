//! The mark before a part's heading that folds the part away or shows it again.

use eframe::egui::{Button, RichText, Role, Ui, WidgetInfo, vec2};

use crate::ui::theme;
use crate::ui::widgets::{hint, label};

/// Width of the mark, for what stands behind it.
pub const WIDTH: f32 = 26.0;

/// Draws the mark of a part; true when it was pressed.
pub fn mark(ui: &mut Ui, name: &str, is_folded: bool, height: f32) -> bool {
    let (mark, verb) = if is_folded { ("▼", "Show") } else { ("▲", "Fold") };
    let ink = theme::palette(ui).quiet;
    let text = RichText::new(mark).font(theme::regular(theme::SMALL)).color(ink);
    ui.spacing_mut().button_padding = vec2(2.0, 0.0);
    ui.spacing_mut().interact_size.y = 0.0;
    let response = ui.add(Button::new(text).frame_when_inactive(false).min_size(vec2(WIDTH, height)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{verb}: {name}")));
    hint::hint(&response, || format!("{verb} {}", if is_folded { "it again" } else { "it away" }));
    response.clicked()
}

/// The heading of a part that is folded away, behind its mark, where there is room for it; true when it is to be shown again.
pub fn folded(ui: &mut Ui, name: &str, height: f32) -> bool {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        let is_pressed = mark(ui, name, true, height);
        if ui.available_width() > WIDTH {
            label::plain_heading(ui, name);
        }
        is_pressed
    })
    .inner
}
