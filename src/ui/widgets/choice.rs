//! Choosing one of few: a row of buttons, or a list that drops down.

use eframe::egui::{Button, ComboBox, RichText, Role, Ui, WidgetInfo};

use crate::ui::theme;

/// A row of buttons of which one is chosen; gives the one that was pressed.
///
/// `name` says to screen readers what is chosen ("Tap").
pub fn buttons(ui: &mut Ui, name: &str, options: &[(String, bool)]) -> Option<usize> {
    let palette = theme::palette(ui);
    let mut pressed = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        for (index, (text, chosen)) in options.iter().enumerate() {
            let (ink, fill, font) = if *chosen {
                (palette.on_tap, palette.tap_high, theme::strong(theme::BODY))
            } else {
                (palette.ink, palette.raised, theme::regular(theme::BODY))
            };
            let button = Button::new(RichText::new(text).font(font).color(ink)).fill(fill);
            let response = ui.add(button.min_size(eframe::egui::vec2(34.0, 28.0)));
            response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, *chosen, format!("{name} {text}")));
            if response.clicked() {
                pressed = Some(index);
            }
        }
    });
    pressed
}

/// A list that drops down; gives the one that was picked.
pub fn list(ui: &mut Ui, name: &str, chosen: &str, options: &[&str]) -> Option<usize> {
    let mut picked = None;
    let width = ui.available_width();
    let response = ComboBox::from_id_salt(name)
        .selected_text(chosen)
        .width(width)
        .truncate()
        .show_ui(ui, |ui| {
            for (index, option) in options.iter().enumerate() {
                if ui.selectable_label(*option == chosen, *option).clicked() {
                    picked = Some(index);
                }
            }
        })
        .response;
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::ComboBox, true, name);
        info.current_text_value = Some(chosen.to_owned());
        info
    });
    picked
}
