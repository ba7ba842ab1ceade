//! How names and remarks are set: sizes, widths, and what is cut where it is too wide.

use eframe::egui::{self, Align2, Color32, FontId, Painter, Pos2, Rect};

use crate::ui::path_strip::layout::Setting;
use crate::ui::theme;

/// Height of one line of a name.
pub const NAME_LINE: f32 = 17.0;
/// Height of the line under the names.
pub const REMARK_LINE: f32 = 17.0;
/// Width of a text in a font.
pub fn width_of(painter: &Painter, text: &str, font: FontId) -> f32 {
    painter.layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER).size().x
}

/// A text on one line about `at`, cut with an ellipsis where it is wider than `width`.
pub fn cut_text(
    painter: &Painter,
    at: Pos2,
    align: Align2,
    text: &str,
    font: FontId,
    colour: Color32,
    width: f32,
) -> Rect {
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, colour);
    job.wrap = egui::text::TextWrapping::truncate_at_width(width);
    let galley = painter.layout_job(job);
    let rect = align.anchor_size(at, galley.size());
    painter.galley(rect.min, galley, colour);
    rect
}

/// Size of what stands under the names.
pub fn remark_font(setting: Setting) -> FontId {
    match setting {
        Setting::OneLine | Setting::WordALine | Setting::Stacked | Setting::InARow => theme::regular(theme::SMALL),
        Setting::Tight => theme::regular(theme::FINE),
    }
}

/// Size of the names as they are set.
pub fn name_font(setting: Setting) -> FontId {
    match setting {
        Setting::Stacked => theme::regular(theme::SMALL),
        Setting::Tight => theme::regular(theme::FINE),
        Setting::OneLine | Setting::WordALine | Setting::InARow => theme::regular(theme::CHART),
    }
}
