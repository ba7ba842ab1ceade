//! The whole window: which panel stands where at which width.

use eframe::egui::{
    CentralPanel, Context, DragAndDrop, Frame, Margin, Panel as Side, Rect, ScrollArea, Ui, Vec2, pos2, vec2,
};

use crate::files::settings::Panel;
use crate::ui::chart::legend;
use crate::ui::verdict_strip::NARROW;
use crate::ui::view::action::Action;
use crate::ui::view::{Chrome, FieldKey, InHand, LegendPlace, Screen, Tab, View};
use crate::ui::widgets::{focus, fold, hint};
use crate::ui::{changes_panel, chart, job_panel, path_strip, taps_panel, theme, top_bar, verdict_strip};

/// Under this height the air path gives way to the chart.
const LOW: f32 = 620.0;
/// Under this height margins are halved.
const TINY: f32 = 400.0;
/// Height of the line of hints where the bar has no room for it.
const HINT: f32 = 22.0;
/// Width of the job's panel.
const JOB_WIDTH: f32 = 254.0;
/// Width of the panel of taps and changes: a share of the window's, between two ends.
const BESIDE: (f32, f32, f32) = (0.29, 384.0, 424.0);
/// Height from which the changes stand under the taps, each in its own part.
const STACKED: f32 = 452.0;
/// Width from which they stand side by side where it is lower.
const SIDE_BY_SIDE: f32 = 640.0;
/// Share of a narrow window that the chart takes beside a change that is edited, so that its curve is seen to follow; and of one in which nothing else stands side by side.
const CHART_BESIDE: (f32, f32) = (0.46, 0.5);
/// Height of the heading of a part that is folded away.
const FOLDED: f32 = 24.0;
/// Most that the taps take of the height.
const TAPS_MOST: f32 = 0.58;
/// Height of the air path of a plain chain.
const PATH_HEIGHT: f32 = 214.0;
/// Most that the air path takes of the height under the verdict, so that the chart stays the larger.
const PATH_MOST: f32 = 0.5;
/// Height that is left to the chart over a path whose ways need more than that; what does not fit then scrolls.
const CHART_LEAST: f32 = 240.0;

/// What has to be seen of a window's upper edge so that a hand can move it.
const HANDHOLD: Vec2 = vec2(160.0, 24.0);

/// What the margins of a panel take of its width and height.
const MARGINS: Vec2 = vec2(24.0, 16.0);

/// Width and height of the window in points of its ordinary size; nothing while it fills the screen.
pub fn size(ctx: &Context) -> Option<(u16, u16)> {
    let inner = ctx.input(|input| {
        let window = input.viewport();
        let fills = window.fullscreen.unwrap_or_default() || window.maximized.unwrap_or_default();
        window.inner_rect.filter(|_| !fills)
    })?;
    let in_points = |length: f32| (length * ctx.zoom_factor()).round() as u16;
    Some((in_points(inner.width()), in_points(inner.height()))).filter(|(width, height)| *width > 0 && *height > 0)
}

/// Left and top of the window on its displays, in points of its ordinary size; nothing while it fills the screen or is put away, and where the system does not say.
pub fn place(ctx: &Context) -> Option<(i32, i32)> {
    let outer = ctx.input(|input| {
        let window = input.viewport();
        let flags = [window.fullscreen, window.maximized, window.minimized];
        window.outer_rect.filter(|_| flags.iter().all(|flag| !flag.unwrap_or_default()))
    })?;
    let in_points = |length: f32| (length * ctx.zoom_factor()).round() as i32;
    Some((in_points(outer.left()), in_points(outer.top())))
}

/// Whether a window that stands there can be taken hold of: enough of its upper edge lies on one of the displays, all in the same points.
pub fn is_within_reach((left, top): (i32, i32), width: f32, displays: &[Rect]) -> bool {
    let edge = Rect::from_min_size(pos2(left as f32, top as f32), vec2(width, HANDHOLD.y));
    displays
        .iter()
        .map(|display| display.intersect(edge))
        .any(|seen| seen.is_positive() && seen.width() >= HANDHOLD.x.min(width) && seen.height() >= HANDHOLD.y)
}

/// Height of the line of hints at the foot of a window of a size, in points; nothing where the hint stands in the bar, or has no room.
pub fn hint_height(size: Vec2) -> f32 {
    if size.x < NARROW && size.y >= TINY { HINT } else { 0.0 }
}

/// Draws everything but what lies over it.
pub fn show(ui: &mut Ui, screen: &Screen<'_>, chrome: &Chrome<'_>, view: &mut View, out: &mut Vec<Action>) {
    view.chart_place = None;
    view.pointed_set = None;
    view.legend_place = LegendPlace::default();
    view.in_hand = DragAndDrop::payload::<InHand>(ui.ctx()).map(|held| held.0);
    changes_panel::forget_closed(screen, view);
    let size = ui.available_size();
    let paper = Frame::new().fill(theme::palette(ui).surface);
    let margins = if size.y < TINY { Margin::symmetric(8, 4) } else { Margin::symmetric(12, 8) };
    let padded = paper.inner_margin(margins);
    let is_narrow = size.x < NARROW;
    let bar = Side::top("bar").frame(padded).show(ui, |ui| {
        let tabs = is_narrow.then_some(&mut view.tab);
        top_bar::top_bar(ui, screen, chrome, tabs, size.y < LOW, out)
    });
    view.message_place = bar.inner;
    let head = verdict_strip::height(size) + margins.sum().y;
    let head_part = Side::top("verdict").frame(padded).exact_size(head).resizable(false).show(ui, |ui| {
        verdict_strip::verdict_strip(ui, &screen.as_wished(), view, size, out);
    });
    view.parts = vec![bar.response.rect, head_part.response.rect];
    if is_narrow {
        // What has no room in a bar with tabs stands at the foot, where there is room for a line at all.
        if hint_height(size) > 0.0 {
            Side::bottom("hint").frame(paper.inner_margin(Margin::symmetric(12, 2))).exact_size(HINT).show(ui, |ui| {
                if let Some(hint) = hint::shown(ui.ctx()) {
                    top_bar::hint_line(ui, &hint);
                }
            });
        }
        view.parts.push(ui.available_rect_before_wrap());
        narrow(ui, screen, chrome, view, out, (padded, size.y));
        return;
    }
    let folded = |panel| chrome.settings.folded.contains(&panel);
    let (share, least, most) = BESIDE;
    let is_slim = folded(Panel::EveryTap) && folded(Panel::Changes);
    // With both folded away their marks alone stay, so that they come back where they went.
    let width = if is_slim { fold::WIDTH + MARGINS.x } else { (size.x * share).clamp(least, most).round() };
    if !folded(Panel::Job) {
        let chart = size.x - JOB_WIDTH - width - MARGINS.x;
        if view.chart.legend && matches!(view.go_to, Some(FieldKey::Of(_))) {
            view.chart.legend = legend::has_room_beside(chart);
        }
        let is_aside = view.chart.legend && !legend::has_room_beside(chart);
        view.legend_place = if is_aside { LegendPlace::ForTheJob } else { LegendPlace::ByTheChart };
        let part = Side::left("job").frame(padded).exact_size(JOB_WIDTH).resizable(false).show(ui, |ui| {
            if is_aside {
                view.chart.legend = !legend::in_a_panel(ui, screen, &view.options.hidden);
            } else {
                scrolled(ui, "job", |ui| job_panel::job_panel(ui, screen, view, out));
            }
        });
        view.parts.push(part.response.rect);
    }
    let part = Side::right("taps").frame(padded).exact_size(width).resizable(false).show(ui, |ui| {
        beside(ui, screen, chrome, view, out);
    });
    view.parts.push(part.response.rect);
    if !folded(Panel::AirPath) {
        let height = path_height(ui, screen, view);
        let part = Side::bottom("path").frame(padded).exact_size(height).resizable(false).show(ui, |ui| {
            path_strip::path_strip(ui, screen, view, out);
        });
        view.parts.push(part.response.rect);
    }
    let part = CentralPanel::default().frame(padded).show(ui, |ui| chart::chart(ui, screen, view, out));
    view.parts.push(part.response.rect);
}

/// Height of the air path: what its ways side by side need, as far as the chart can spare it.
fn path_height(ui: &Ui, screen: &Screen<'_>, view: &View) -> f32 {
    let wanted = path_strip::height(ui, screen, view, ui.available_width() - MARGINS.x) + MARGINS.y;
    let room = ui.available_height();
    wanted.min((room * PATH_MOST).max(room - CHART_LEAST).max(PATH_HEIGHT))
}

fn scrolled(ui: &mut Ui, salt: &str, contents: impl FnOnce(&mut Ui)) {
    ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| {
        // Room for the scroll bar, which would lie over the numbers.
        ui.set_max_width(ui.available_width() - theme::STEP);
        contents(ui);
        focus::follow(ui);
    });
}

/// What stands beside the chart: every tap, and under it the changes; where it is low they stand side by side or scroll together.
fn beside(ui: &mut Ui, screen: &Screen<'_>, chrome: &Chrome<'_>, view: &mut View, out: &mut Vec<Action>) {
    let room = ui.available_size();
    let folded = |panel| chrome.settings.folded.contains(&panel);
    match (folded(Panel::EveryTap), folded(Panel::Changes)) {
        (false, false) => both(ui, screen, view, room, out),
        (taps, changes) => {
            if taps {
                shown_again(ui, "Every tap", Panel::EveryTap, out);
            } else {
                taps_panel::taps_panel(ui, &screen.as_wished(), room.y - FOLDED, out);
            }
            if changes {
                shown_again(ui, "Changes", Panel::Changes, out);
            } else if room.y >= STACKED {
                changes_panel::changes_panel(ui, screen, view, room.y, out);
            } else {
                scrolled(ui, "changes", |ui| changes_panel::in_a_column(ui, screen, view, out));
            }
        }
    }
}

/// The heading of a part that is folded away.
fn shown_again(ui: &mut Ui, name: &str, panel: Panel, out: &mut Vec<Action>) {
    if fold::folded(ui, name, FOLDED) {
        out.push(Action::Fold(panel));
    }
}

/// Every tap and the changes.
fn both(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, room: Vec2, out: &mut Vec<Action>) {
    if room.y >= STACKED {
        taps_panel::taps_panel(ui, &screen.as_wished(), room.y * TAPS_MOST, out);
        changes_panel::changes_panel(ui, screen, view, room.y, out);
    } else if room.x >= SIDE_BY_SIDE {
        Side::left("taps beside changes").frame(Frame::NONE).exact_size(room.x / 2.0).resizable(false).show(ui, |ui| {
            scrolled(ui, "taps", |ui| taps_panel::taps_panel(ui, &screen.as_wished(), f32::INFINITY, out));
        });
        CentralPanel::default().frame(Frame::NONE.inner_margin(Margin { left: 12, ..Margin::ZERO })).show(ui, |ui| {
            scrolled(ui, "changes", |ui| changes_panel::in_a_column(ui, screen, view, out));
        });
    } else {
        scrolled(ui, "taps and changes", |ui| {
            taps_panel::taps_panel(ui, &screen.as_wished(), f32::INFINITY, out);
            changes_panel::in_a_column(ui, screen, view, out);
        });
    }
}

fn narrow(
    ui: &mut Ui,
    screen: &Screen<'_>,
    chrome: &Chrome<'_>,
    view: &mut View,
    out: &mut Vec<Action>,
    (padded, height): (Frame, f32),
) {
    let goes_to_a_field = matches!(view.go_to, Some(FieldKey::Of(_)));
    if goes_to_a_field {
        view.tab = Tab::Job;
    }
    if view.tab == Tab::Path && height >= LOW {
        view.tab = Tab::Chart;
    }
    match view.tab {
        Tab::Job => {
            CentralPanel::default().frame(padded).show(ui, |ui| {
                scrolled(ui, "job", |ui| {
                    job_panel::readings(ui, screen, view, out);
                    job_panel::job_panel(ui, screen, view, out);
                });
            });
        }
        Tab::Chart => {
            if height >= LOW {
                let path_height = path_height(ui, screen, view);
                Side::bottom("path").frame(padded).exact_size(path_height).show(ui, |ui| {
                    path_strip::path_strip(ui, screen, view, out);
                });
            }
            CentralPanel::default().frame(padded).show(ui, |ui| chart::chart(ui, screen, view, out));
        }
        Tab::Path => {
            CentralPanel::default().frame(padded).show(ui, |ui| path_strip::path_strip(ui, screen, view, out));
        }
        Tab::Taps if changes_panel::edited(screen, view).is_some() => {
            let room = ui.available_width();
            let share = if room >= SIDE_BY_SIDE { CHART_BESIDE.0 } else { CHART_BESIDE.1 };
            Side::left("chart beside").frame(padded).exact_size(room * share).resizable(false).show(ui, |ui| {
                chart::chart(ui, screen, view, out);
            });
            CentralPanel::default().frame(padded).show(ui, |ui| {
                scrolled(ui, "changes", |ui| changes_panel::editor_first(ui, screen, view, out));
            });
        }
        Tab::Taps => {
            CentralPanel::default().frame(padded).show(ui, |ui| {
                beside(ui, screen, chrome, view, out);
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two displays side by side, the right one higher by 200.
    #[test]
    fn a_window_comes_back_only_where_a_hand_can_take_hold_of_it() {
        let left = Rect::from_min_size(pos2(0.0, 0.0), vec2(1920.0, 1080.0));
        let right = Rect::from_min_size(pos2(1920.0, -200.0), vec2(1280.0, 1024.0));
        let rows = [
            ((80, 60), vec![left], true),
            ((2200, -150), vec![left, right], true),
            ((2200, -150), vec![left], false),
            ((-1300, 100), vec![left], true),
            ((-1290, 100), vec![left], true),
            ((-1400, 100), vec![left], false),
            ((1800, 100), vec![left], false),
            ((1800, 100), vec![left, right], true),
            ((300, 1070), vec![left], false),
            ((300, -10), vec![left], false),
            ((80, 60), vec![], false),
            ((i32::MAX, i32::MIN), vec![left, right], false),
        ];
        for (place, displays, expected) in rows {
            assert_eq!(is_within_reach(place, 1460.0, &displays), expected, "{place:?}");
        }
    }
}
