//! The air path, drawn to scale: elements as the air flows, a pressure line through them, and the readings typed at their ports.
//!
//! Between two read places the line falls straight, for nothing is known of where the pressure is lost between them.

pub mod draw;
pub mod element_drop;
pub mod element_share;
pub mod elements;
pub mod foot;
pub mod frame;
pub mod landing;
pub mod layout;
pub mod line;
pub mod ports;
pub mod projected;
pub mod remarks;
pub mod trial;

use eframe::egui::{Align2, Sense, Ui};

use crate::app::action::Action;
use crate::ui::path_strip::frame::Strip;
use crate::ui::theme;
use crate::ui::view::{Screen, View};

/// Draws the air path.
///
/// The fields come first in the order of the keyboard, then what moves ports, then the elements.
pub fn path_strip(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let strip = Strip::measure(ui, screen, view);
    ui.allocate_rect(strip.rect, Sense::hover());
    if screen.job.path.elements.is_empty() {
        let text = "Choose a blower; the air path follows from it";
        let palette = theme::palette(ui);
        ui.painter().text(strip.plot.center(), Align2::CENTER_CENTER, text, theme::regular(theme::BODY), palette.quiet);
    } else {
        draw::picture(ui, &strip);
    }
    ports::ports(ui, &strip, view, out);
    foot::foot(ui, &strip, view, out);
    elements::elements(ui, &strip, view, out);
}
