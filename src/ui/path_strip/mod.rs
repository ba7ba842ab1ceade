//! The air path, drawn to scale: elements as the air flows, a pressure line through them, and the readings typed at their ports.
//!
//! Between two read places the line falls straight, for nothing is known of where the pressure is lost between them.

pub mod card;
pub mod card_fields;
pub mod card_path;
pub mod draw;
pub mod draw_ways;
pub mod element_drop;
pub mod element_share;
pub mod elements;
pub mod foot;
pub mod frame;
pub mod landing;
pub mod layout;
pub mod lettering;
pub mod line;
pub mod port_widths;
pub mod ports;
pub mod projected;
pub mod remarks;
pub mod ways;

use eframe::egui::{Align2, Pos2, Rect, ScrollArea, Sense, Ui, pos2, vec2};

use crate::ui::path_strip::frame::{FOOT, SCROLL_BAR, Strip};
use crate::ui::reading_entry::is_total_only;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::whole_rows;

/// Height of the strip of a plain chain.
const PLAIN: f32 = 198.0;

/// Width of the mark at an edge past which there is more.
const EDGE: f32 = 14.0;

/// Height that the strip wants at a width, points: more where its texts stand on more lines, or ways lie in it.
pub fn height(ui: &Ui, screen: &Screen<'_>, view: &View, width: f32) -> f32 {
    let room = Rect::from_min_size(Pos2::ZERO, vec2(width, 0.0));
    let strip = Strip::measure(ui, screen, view, room);
    (strip.rect.height() + FOOT + bar_under(&strip, width)).ceil().max(PLAIN)
}

/// The bar that scrolls a strip wider than its room has room of its own.
fn bar_under(strip: &Strip<'_>, width: f32) -> f32 {
    if strip.rect.width() > width { SCROLL_BAR } else { 0.0 }
}

/// Draws the air path.
///
/// The fields come first in the order of the keyboard, then what moves ports, then the elements, then the foot.
pub fn path_strip(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let all = ui.available_rect_before_wrap();
    let room = Rect::from_min_max(all.min, pos2(all.right(), all.bottom() - FOOT));
    let mut inner = ui.new_child(eframe::egui::UiBuilder::new().id_salt("air path").max_rect(room));
    inner.style_mut().always_scroll_the_only_direction = true;
    whole_rows::bar_in_sight(&mut inner);
    let bar = &mut inner.spacing_mut().scroll;
    (bar.bar_width, bar.floating_width) = (7.0, 5.0);
    // In a low window the line and its fields are seen first; ways over them scroll.
    let area = ScrollArea::both().id_salt("air path").auto_shrink(false).stick_to_bottom(true);
    let scrolled = area.show(&mut inner, |ui| {
        let here = Rect::from_min_size(ui.cursor().min, room.size());
        let mut strip = Strip::measure(ui, screen, view, here);
        let mut taken = strip.rect;
        if strip.rect.height() > room.height() {
            // The bar that scrolls it takes of its width, and one under it of its height.
            let beside_bar = here.with_max_x(here.right() - SCROLL_BAR);
            strip = Strip::measure(ui, screen, view, beside_bar);
            taken = strip.rect.with_max_y(strip.rect.bottom() + bar_under(&strip, here.width()));
        }
        ui.allocate_rect(taken, Sense::hover());
        contents(ui, &strip, room.top(), view, out);
        strip
    });
    let past = scrolled.content_size.x - room.width() - scrolled.state.clamped_offset().x;
    more(ui, room, [scrolled.state.clamped_offset().x, past]);
    let foot = Rect::from_min_max(pos2(all.left(), room.bottom() + 3.0), all.max);
    foot::foot(ui, foot, &scrolled.inner, view, out);
    ui.allocate_rect(all, Sense::hover());
}

/// Height that the strip wants at a width where it is printed: without what adds elements at its foot.
pub fn printed_height(ui: &Ui, screen: &Screen<'_>, width: f32) -> f32 {
    height(ui, screen, &as_read(screen), width) - FOOT
}

/// Draws the air path as it is printed: line, names, drops, and what was read at its ports.
pub fn printed(ui: &mut Ui, screen: &Screen<'_>) {
    let view = as_read(screen);
    let strip = Strip::measure(ui, screen, &view, ui.max_rect());
    draw::picture(ui, &strip);
    ports::printed(ui, &strip, &view);
}

fn as_read(screen: &Screen<'_>) -> View {
    View { total_only: is_total_only(screen.job), ..View::default() }
}

/// A mark at each edge past which there is more of the path.
fn more(ui: &Ui, room: Rect, past: [f32; 2]) {
    let palette = theme::palette(ui);
    let edges = [room.with_max_x(room.left() + EDGE), room.with_min_x(room.right() - EDGE)];
    for ((edge, past), mark) in edges.into_iter().zip(past).zip(["‹", "›"]) {
        if past > 1.0 {
            ui.painter().rect_filled(edge, 3.0, palette.raised);
            ui.painter().text(edge.center(), Align2::CENTER_CENTER, mark, theme::strong(theme::VERDICT), palette.ink);
        }
    }
}

fn contents(ui: &mut Ui, strip: &Strip<'_>, top: f32, view: &mut View, out: &mut Vec<Action>) {
    if strip.screen.job.path.elements.is_empty() {
        let text = "Choose a blower; the air path follows from it";
        let palette = theme::palette(ui);
        ui.painter().text(strip.plot.center(), Align2::CENTER_CENTER, text, theme::regular(theme::BODY), palette.quiet);
    } else {
        draw::picture(ui, strip);
    }
    ports::ports(ui, strip, view, out);
    elements::elements(ui, strip, top, view, out);
}
