//! Rows that are seen whole: what has no room is scrolled to, and no row is cut through.

use eframe::egui::{Rect, ScrollArea, Sense, Ui, UiBuilder, vec2};

use crate::ui::widgets::focus;

/// By how much a row may miss the edge and still be whole, points: rounding.
const SLACK: f32 = 0.5;

/// Draws rows of these heights, in points, in at most the height given; those that are not whole in it are out of sight until they are scrolled to.
///
/// At least the first row is in sight.
pub fn whole_rows(ui: &mut Ui, salt: &str, most: f32, heights: &[f32], mut row: impl FnMut(&mut Ui, usize)) {
    let height = whole_height(heights, most);
    ui.scope(|ui| {
        bar_in_sight(ui);
        let area = ScrollArea::vertical().id_salt(salt).min_scrolled_height(height).max_height(height);
        area.auto_shrink([false, true]).show_viewport(ui, |ui, seen| {
            let all: f32 = heights.iter().sum();
            let (place, _) = ui.allocate_exact_size(vec2(ui.available_width(), all), Sense::hover());
            let mut top = place.top() - slip(heights, seen.top());
            for (index, height) in heights.iter().enumerate() {
                let rect = Rect::from_min_size(place.left_top(), vec2(place.width(), *height)).with_min_y(top);
                let rect = rect.with_max_y(top + height);
                top = rect.bottom();
                let mut inner = ui.new_child(UiBuilder::new().id_salt((salt, index)).max_rect(rect));
                if !is_whole(rect, ui.clip_rect()) {
                    inner.set_clip_rect(Rect::from_min_size(rect.min, vec2(0.0, 0.0)));
                }
                row(&mut inner, index);
            }
            focus::follow(ui);
        });
    });
}

/// What lies past an edge is said by a bar that is always there, and not by paling the last row.
pub fn bar_in_sight(ui: &mut Ui) {
    let bar = &mut ui.spacing_mut().scroll;
    (bar.dormant_background_opacity, bar.dormant_handle_opacity) = (0.3, 0.8);
    bar.fade.strength = 0.0;
}

/// The greatest height within `most` at which a row ends, the first row's at least.
pub fn whole_height(heights: &[f32], most: f32) -> f32 {
    let ends = heights.iter().scan(0.0, |end, height| {
        *end += height;
        Some(*end)
    });
    ends.enumerate().take_while(|(index, end)| *index == 0 || *end <= most + SLACK).last().map_or(0.0, |(_, end)| end)
}

/// How far rows go up so that one begins at the upper edge, when so much is scrolled past.
fn slip(heights: &[f32], scrolled: f32) -> f32 {
    let mut top = 0.0;
    for height in heights {
        if top + SLACK >= scrolled {
            return top - scrolled;
        }
        top += height;
    }
    0.0
}

fn is_whole(row: Rect, seen: Rect) -> bool {
    row.top() >= seen.top() - SLACK && row.bottom() <= seen.bottom() + SLACK
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_height_ends_with_a_row() {
        let rows = [22.0, 22.0, 30.0, 22.0];
        for (most, height) in [(0.0, 22.0), (43.0, 22.0), (44.0, 44.0), (73.0, 44.0), (74.0, 74.0), (500.0, 96.0)] {
            assert!((whole_height(&rows, most) - height).abs() < 1e-6, "{most}");
        }
        assert!(whole_height(&[], 100.0).abs() < 1e-6);
    }

    #[test]
    fn a_row_begins_at_the_upper_edge_wherever_it_is_scrolled() {
        let rows = [22.0, 22.0, 30.0, 22.0];
        for (scrolled, slip_by) in [(0.0, 0.0), (1.0, 21.0), (22.0, 0.0), (40.0, 4.0), (50.0, 24.0), (74.0, 0.0)] {
            assert!((slip(&rows, scrolled) - slip_by).abs() < 1e-6, "{scrolled}");
        }
    }
}
