//! The picture of ways side by side, and of the bypass; nothing here can be pressed.

use eframe::egui::{Align2, CornerRadius, Painter, Shape, Stroke, StrokeKind, pos2, vec2};

use crate::ui::path_strip::frame::Strip;
use crate::ui::path_strip::layout::Setting;
use crate::ui::path_strip::lettering::{self, NAME_LINE, REMARK_LINE};
use crate::ui::path_strip::remarks::{self, Remark};
use crate::ui::path_strip::ways::{self, Air, Cell, Row};
use crate::ui::theme::{self, Palette};

/// Room between the frame of a way and its air.
const INDENT: f32 = 8.0;

/// Every way with its elements and its air.
pub fn ways(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    for row in &strip.ways.rows {
        let frame = Stroke::new(1.0, palette.hairline);
        painter.rect_stroke(row.rect, CornerRadius::same(4), frame, StrokeKind::Inside);
        air(painter, palette, strip, row);
    }
    for cell in &strip.ways.cells {
        name(painter, palette, strip, cell);
        remark(painter, palette, strip, cell);
    }
}

/// The air of a way, over what stands in it; under the name of a hole.
fn air(painter: &Painter, palette: &Palette, strip: &Strip<'_>, row: &Row) {
    let Air { airflow, share, is_changed } = &row.air;
    let colour = if *is_changed { palette.change } else { palette.quiet };
    let font = theme::regular(theme::SMALL);
    let whole = format!("{airflow}, {share}");
    let fits = lettering::width_of(painter, &whole, font.clone()) <= row.rect.width() - 2.0 * INDENT;
    let text = if share.is_empty() || !fits { airflow } else { &whole };
    if strip.ways.cells.iter().any(|cell| cell.is_hole && cell.rect == row.rect) {
        let at = pos2(row.rect.center().x, row.rect.center().y + REMARK_LINE / 2.0);
        painter.text(at, Align2::CENTER_CENTER, text, font, colour);
    } else {
        let at = row.rect.left_top() + vec2(INDENT, 2.0 + ways::AIR_LINE / 2.0);
        painter.text(at, Align2::LEFT_CENTER, text, font, colour);
    }
}

fn name(painter: &Painter, palette: &Palette, strip: &Strip<'_>, cell: &Cell) {
    let name = strip.screen.job.path.name_of(cell.id).unwrap_or_default();
    let is_out = cell.remark == Remark::Out;
    let colour = if is_out { palette.quiet } else { palette.ink };
    let font = lettering::name_font(Setting::OneLine);
    let middle = if cell.is_hole { cell.rect.center().y } else { cell.rect.bottom() - REMARK_LINE };
    let at = pos2(cell.rect.center().x, middle - NAME_LINE / 2.0);
    let width = cell.rect.width() - 2.0;
    let written = lettering::cut_text(painter, at, Align2::CENTER_CENTER, name, font, colour, width);
    if is_out {
        painter.hline(written.expand(2.0).x_range(), written.center().y, Stroke::new(1.5, palette.ink));
    }
}

fn remark(painter: &Painter, palette: &Palette, strip: &Strip<'_>, cell: &Cell) {
    if cell.is_hole {
        return;
    }
    let font = theme::regular(theme::SMALL);
    let wordings = cell.remark.wordings(strip.screen.units);
    let fits = |wording: &&String| lettering::width_of(painter, wording, font.clone()) <= cell.rect.width() - 2.0;
    let Some(wording) = wordings.iter().find(fits).or_else(|| wordings.last()) else {
        return;
    };
    let at = pos2(cell.rect.center().x, cell.rect.bottom() - REMARK_LINE / 2.0);
    let colour = remarks::colour(palette, cell.remark);
    lettering::cut_text(painter, at, Align2::CENTER_CENTER, wording, font, colour, cell.rect.width() - 2.0);
}

/// The bypass: a line over the path from where it leaves to where it joins, with its air.
pub fn bypass(painter: &Painter, palette: &Palette, strip: &Strip<'_>) {
    let Some(line) = &strip.bypass else {
        return;
    };
    let stroke = Stroke::new(1.4, palette.quiet);
    let y = painter.round_to_pixel_center(line.rect.center().y);
    let (leaves, joins) = line.ends;
    let middle = f32::midpoint(leaves, joins);
    let font = theme::regular(theme::SMALL);
    let half = lettering::width_of(painter, &line.text, font.clone()) / 2.0 + 6.0;
    painter.hline(joins..=middle - half, y, stroke);
    painter.hline(middle + half..=leaves, y, stroke);
    for x in [leaves, joins] {
        painter.vline(painter.round_to_pixel_center(x), y..=strip.plot.top(), stroke);
    }
    // Down into the return, where it joins.
    let tip = pos2(painter.round_to_pixel_center(joins), strip.plot.top());
    let head = vec![tip, tip + vec2(-4.0, -7.0), tip + vec2(4.0, -7.0)];
    painter.add(Shape::convex_polygon(head, palette.quiet, Stroke::NONE));
    painter.text(pos2(middle, y), Align2::CENTER_CENTER, &line.text, font, palette.ink);
}
