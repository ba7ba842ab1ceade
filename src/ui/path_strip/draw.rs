//! The strip's picture: names, the room's line, the pressure line, brackets and marks; nothing here can be pressed.

use std::f32::consts::FRAC_PI_2;

use eframe::egui::epaint::TextShape;
use eframe::egui::{Align2, Color32, CornerRadius, Painter, Pos2, Rect, Shape, Stroke, Ui, pos2, vec2};

use crate::ui::path_strip::draw_ways;
use crate::ui::path_strip::frame::{Strip, Trust};
use crate::ui::path_strip::layout::Setting;
use crate::ui::path_strip::lettering::{self, NAME_LINE, cut_text, name_font, width_of};
use crate::ui::path_strip::line::{Basis, Segment, Stretch};
use crate::ui::path_strip::projected::{self, Joined};
use crate::ui::path_strip::remarks::{self, Remark};
use crate::ui::path_strip::ways;
use crate::ui::theme::{self, Palette};
use crate::units::{Pressure, show};

/// Radius of a port's ring.
const RING: f32 = 5.0;
/// Empty height over the letters of a word without tall ones: so much nearer to the edge it stands on end.
const OVER_SMALL_LETTERS: f32 = 3.0;
/// Distance of a bracket from the room's line.
const BRACKET: f32 = 12.0;

/// Everything that stands still.
pub fn picture(ui: &Ui, strip: &Strip<'_>) {
    let painter = ui.painter();
    let palette = theme::palette(ui);
    inside(painter, palette, strip);
    boundaries(painter, palette, strip);
    for index in 0..strip.remarks.len() {
        name(painter, palette, strip, index);
        remark(painter, palette, strip, index);
    }
    for joined in &strip.joined {
        joined_remark(painter, palette, strip, joined);
    }
    draw_ways::ways(painter, palette, strip);
    draw_ways::bypass(painter, palette, strip);
    if strip.total_only {
        total(painter, palette, strip);
    } else {
        room(painter, palette, strip);
        strip.segments.iter().for_each(|segment| bracket(painter, palette, strip, segment));
        strip.stretches.iter().for_each(|stretch| stretch_line(painter, palette, strip, stretch));
        with_changes(painter, palette, strip);
        most(painter, palette, strip);
    }
}

fn inside(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    let Some(span) = strip.inside_span() else {
        return;
    };
    let shade = Rect::from_x_y_ranges(span, strip.inside_top()..=strip.plot.bottom());
    painter.rect_filled(shade, CornerRadius::same(4), palette.raised);
    let font = theme::regular(theme::SMALL);
    let Some(free) = strip.caption_span() else {
        return;
    };
    let fitting = remarks::inside_wordings(strip.screen.job)
        .into_iter()
        .find(|wording| width_of(painter, wording, font.clone()) <= free.span() - 4.0);
    if let Some(wording) = fitting {
        let at = pos2(free.center(), strip.remark_line(0));
        painter.text(at, Align2::CENTER_CENTER, wording, font, palette.quiet);
    }
}

fn boundaries(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    for edge in &strip.columns.edges {
        let x = painter.round_to_pixel_center(*edge);
        painter.vline(x, strip.plot.top()..=strip.plot.bottom(), Stroke::new(1.0, palette.hairline));
    }
}

fn name(painter: &Painter, palette: &Palette, strip: &Strip<'_>, index: usize) {
    let name = strip.screen.job.path.elements[index].name();
    let span = strip.column(index);
    // The name of ways side by side has the room of all that stands in them.
    let is_wide = strip.screen.job.path.elements[index].is_group();
    let lines = ways::name_lines(name, if is_wide { Setting::OneLine } else { strip.columns.setting });
    let is_out = strip.remarks[index] == Remark::Out;
    let colour = if is_out { palette.quiet } else { palette.ink };
    let mut font = name_font(strip.columns.setting);
    if strip.takes_most(index) {
        font = theme::strong(font.size);
    }
    let last = strip.names_bottom - NAME_LINE / 2.0;
    for (above, line) in lines.iter().rev().enumerate() {
        let at = pos2(span.center(), last - above as f32 * NAME_LINE);
        let written = cut_text(painter, at, Align2::CENTER_CENTER, line, font.clone(), colour, span.span() - 2.0);
        if is_out {
            painter.hline(written.expand(2.0).x_range(), written.center().y, Stroke::new(1.5, palette.ink));
        }
    }
}

fn remark(painter: &Painter, palette: &Palette, strip: &Strip<'_>, index: usize) {
    let (remark, units) = (strip.remarks[index], strip.screen.units);
    let span = strip.column(index);
    let setting = strip.columns.setting;
    let font = lettering::remark_font(setting);
    let font = if strip.takes_most(index) { theme::strong(font.size) } else { font };
    let mut wordings = remark.wordings(units);
    // The longest wording leaves its neighbors more room than it needs.
    let room = |index: usize| span.span() - if index == 0 { 2.0 * setting.pad() } else { setting.pad() };
    let width = |wording: &str| width_of(painter, wording, font.clone());
    let lines = match (0..wordings.len()).find(|index| width(&wordings[*index]) <= room(*index)) {
        Some(fitting) if fitting == 0 || setting.remark_lines() < 2.0 => vec![wordings.swap_remove(fitting)],
        _ if setting == Setting::Tight => remark.tight(units),
        _ => remark.stacked(units),
    };
    let colour = remarks::colour(palette, remark);
    for (line, text) in lines.iter().enumerate() {
        let at = pos2(span.center(), strip.remark_line(line));
        cut_text(painter, at, Align2::CENTER_CENTER, text, font.clone(), colour, span.span());
    }
}

/// The word for the part that takes most, on the free side of the room's line, where brackets bear it too: it takes no room from its neighbors' figures.
fn most(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    let job = strip.screen.job;
    let is_told_once = |index: &usize| matches!(strip.remarks[*index], Remark::Joined { .. });
    let worst = (0..strip.remarks.len()).find(|index| strip.takes_most(*index)).filter(|index| !is_told_once(index));
    let Some(index) = worst else {
        return;
    };
    let side = if job.path.blower().is_some_and(|blower| index > blower) { 1.0 } else { -1.0 };
    let at = pos2(strip.column(index).center(), strip.scale.room + side * BRACKET);
    painter.text(at, Align2::CENTER_CENTER, "most", theme::strong(theme::CHART), palette.ink);
}

/// The drop of joined elements before and after, under all of them.
fn joined_remark(painter: &Painter, palette: &Palette, strip: &Strip<'_>, joined: &Joined) {
    let edges = &strip.columns.edges;
    let (left, right) = (edges[joined.elements.start], edges[joined.elements.end]);
    let bare = |drop| show::pressure_bare(drop, strip.screen.units);
    let short = format!("{} → {}", bare(joined.before), bare(joined.after));
    let at = pos2(f32::midpoint(left, right), strip.remark_line(0));
    let most = if joined.elements.clone().any(|index| strip.takes_most(index)) { " · most" } else { "" };
    let font = theme::regular(theme::SMALL);
    let wordings = [format!("together {short}{most}"), format!("{short}{most}"), short];
    let fits = |wording: &&String| width_of(painter, wording, font.clone()) <= right - left - 4.0;
    let text = wordings.iter().find(fits).unwrap_or(&wordings[2]);
    cut_text(painter, at, Align2::CENTER_CENTER, text, font, palette.change, right - left - 2.0);
}

/// The pressure line with the changes; dashed while one of them is in the hand.
fn with_changes(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    let points: Vec<Pos2> = strip
        .after
        .iter()
        .map(|(boundary, level)| pos2(strip.columns.edges[*boundary], strip.scale.height_of(level.in_wc())))
        .collect();
    let stroke = Stroke::new(2.4, palette.change);
    if strip.is_trial {
        painter.extend(Shape::dashed_line(&points, stroke, 7.0, 5.0));
    } else {
        painter.add(Shape::line(points, stroke));
    }
}

fn room(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    let y = painter.round_to_pixel_center(strip.scale.room);
    painter.hline(strip.plot.x_range(), y, Stroke::new(1.0, palette.quiet));
    let font = lettering::remark_font(strip.columns.setting);
    let word = painter.layout_no_wrap("room".to_owned(), font, palette.quiet);
    if strip.columns.setting == Setting::Tight {
        let at = pos2(strip.rect.left() - OVER_SMALL_LETTERS, y + word.size().x / 2.0);
        painter.add(TextShape::new(at, word, palette.quiet).with_angle(-FRAC_PI_2));
    } else {
        let at = pos2(strip.plot.left() - 6.0 - word.size().x, y - word.size().y / 2.0);
        painter.galley(at, word, palette.quiet);
    }
}

/// The drop of a segment of several elements, once, along the free side of the room's line.
fn bracket(painter: &Painter, palette: &Palette, strip: &Strip<'_>, segment: &Segment) {
    let present = remarks::present(strip.screen.job, segment);
    if present.len() < 2 || is_split(strip, segment) {
        return;
    }
    let edges = &strip.columns.edges;
    let (left, right) = (edges[segment.elements.start] + 3.0, edges[segment.elements.end] - 3.0);
    let side = if segment.level > Pressure::ZERO { 1.0 } else { -1.0 };
    let y = painter.round_to_pixel_center(strip.scale.room + side * BRACKET);
    let font = theme::strong(theme::CHART);
    let mut text = show::pressure_bare(segment.drop, strip.screen.units);
    if let Some(then) = drop_then(strip, segment).filter(|then| projected::differ(*then, segment.drop)) {
        text = format!("{text} → {}", show::pressure_bare(then, strip.screen.units));
    }
    if is_worst(strip, &present) {
        text.push_str(" · most");
    }
    let middle = f32::midpoint(left, right);
    let half = width_of(painter, &text, font.clone()) / 2.0 + 5.0;
    let stroke = Stroke::new(1.0, palette.quiet);
    painter.hline(left..=middle - half, y, stroke);
    painter.hline(middle + half..=right, y, stroke);
    for end in [left, right] {
        painter.vline(painter.round_to_pixel_center(end), y - 4.0..=y + 4.0, stroke);
    }
    painter.text(pos2(middle, y), Align2::CENTER_CENTER, text, font, palette.ink);
}

/// Drop of a segment with the changes.
fn drop_then(strip: &Strip<'_>, segment: &Segment) -> Option<Pressure> {
    let level = |boundary| strip.after.iter().find(|(at, _)| *at == boundary).map(|(_, level)| *level);
    Some(level(segment.elements.start)? - level(segment.elements.end)?)
}

/// True where each element of a segment shows a drop of its own.
fn is_split(strip: &Strip<'_>, segment: &Segment) -> bool {
    segment
        .elements
        .clone()
        .any(|index| strip.remarks[index].is_shared() || matches!(strip.remarks[index], Remark::Joined { .. }))
}

/// True where an unsplit segment takes more than any other part.
fn is_worst(strip: &Strip<'_>, present: &[usize]) -> bool {
    let elements = &strip.screen.job.path.elements;
    let is_among = |id| present.iter().any(|index| elements[*index].id == id);
    strip.worst.as_ref().is_some_and(|(ids, _)| ids.len() > 1 && ids.iter().all(|id| is_among(*id)))
}

fn stretch_line(painter: &Painter, palette: &Palette, strip: &Strip<'_>, stretch: &Stretch) {
    let at = |(boundary, level): (usize, Pressure)| {
        pos2(strip.columns.edges[boundary], strip.scale.height_of(level.in_wc()))
    };
    let ends = [at(stretch.from), at(stretch.to)];
    let stroke = if strip.after.is_empty() {
        Stroke::new(2.0, trust_colour(palette, strip.trust))
    } else {
        Stroke::new(1.4, palette.quiet)
    };
    if stretch.basis == Basis::ByData || strip.trust == Trust::InDoubt {
        painter.extend(Shape::dashed_line(&ends, stroke, 5.0, 4.0));
    } else {
        painter.line_segment(ends, stroke);
    }
}

const fn trust_colour(palette: &Palette, trust: Trust) -> Color32 {
    match trust {
        Trust::Full => palette.ink,
        Trust::Waiting => palette.quiet,
        Trust::InDoubt => palette.change,
    }
}

/// Only the size of the jump is known: a bracket, without a room's line to hang it on.
fn total(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    let (Some(total), Some(span)) = (strip.total, strip.inside_span()) else {
        return;
    };
    let height = strip.scale.points_per_in_wc * total.abs().in_wc() as f32;
    let middle = pos2(span.center(), strip.plot.center().y);
    let (top, bottom) = (middle.y - height / 2.0, middle.y + height / 2.0);
    let stroke = Stroke::new(2.0, trust_colour(palette, strip.trust));
    painter.vline(middle.x, top..=bottom, stroke);
    for end in [top, bottom] {
        painter.hline(middle.x - 8.0..=middle.x + 8.0, end, stroke);
    }
    let text = format!("total {}", show::pressure_bare(total, strip.screen.units));
    let at = middle + vec2(12.0, 0.0);
    painter.text(at, Align2::LEFT_CENTER, text, theme::strong(theme::CHART), palette.ink);
}

/// A port: a ring on the line, and a hairline down to its field.
pub fn port(ui: &Ui, ring: Pos2, field: Rect, is_read: bool) {
    let palette = theme::palette(ui);
    let painter = ui.painter();
    let colour = if is_read { palette.ink } else { palette.quiet };
    let thin = Stroke::new(1.0, palette.quiet);
    let foot = pos2(field.center().x, field.top());
    let knee = field.top() - 6.0;
    painter.line(vec![ring + vec2(0.0, RING), pos2(ring.x, knee.max(ring.y + RING)), foot], thin);
    painter.circle(ring, RING, palette.surface, Stroke::new(2.0, colour));
}
