//! Lines of a sheet that is filled in by hand: what each is of, and boxes or rules beside it.

use std::sync::Arc;

use eframe::egui::{Align2, Color32, Galley, Rect, Sense, StrokeKind, Ui, pos2, vec2};

use crate::model::wording::field_sheet::{Fill, Line, Rule};
use crate::ui::page::row;
use crate::ui::theme::{self, Palette};
use crate::ui::widgets::label;

/// Width of what a line is of.
const NAME: f32 = 204.0;
/// Least height of a line that is written on: two thirds of it are on paper.
const WRITTEN: f32 = 26.0;
/// Room between two rules or two boxes.
const GAP: f32 = 16.0;
/// Room between a text and the rule or box beside it.
const CLOSE: f32 = 5.0;
/// Room under a text that stands on a rule.
const FOOT: f32 = 2.0;
/// Side of a box.
const BOX: f32 = 11.0;
/// Room over a line.
const OVER: f32 = 5.0;
/// Width of the rule for a word that a box does not have.
const WORD: f32 = 64.0;

/// Draws a line as wide as its room.
pub fn draw(ui: &mut Ui, line: &Line) {
    let palette = theme::palette(ui);
    let name = (line.name.as_str(), line.under.as_str());
    let inks = (palette.ink, palette.quiet);
    let name = row::set(ui, name, theme::regular(theme::CHART), inks, NAME - GAP, eframe::egui::Align::Min);
    match &line.fill {
        Fill::Told(told) => {
            let told = text(ui, told, palette.ink, ui.available_width() - NAME);
            let top = taken(ui, OVER + told.size().y.max(name.size().y)).min + vec2(0.0, OVER);
            ui.painter().galley(top, name, palette.ink);
            ui.painter().galley(top + vec2(NAME, 0.0), told, palette.ink);
        }
        Fill::Ticks(words) => ticks(ui, name, words),
        Fill::Rules(all) => rules(ui, name, all),
    }
}

fn taken(ui: &mut Ui, height: f32) -> Rect {
    ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover()).0
}

fn text(ui: &Ui, text: &str, ink: Color32, room: f32) -> Arc<Galley> {
    ui.painter().layout(label::kept_together(text), theme::regular(theme::CHART), ink, room)
}

/// Boxes one after another, on as many rows as they need.
fn ticks(ui: &mut Ui, name: Arc<Galley>, words: &[String]) {
    let palette = theme::palette(ui);
    let room = ui.available_width() - NAME;
    let mut at = vec2(0.0, OVER);
    let mut height: f32 = name.size().y;
    let mut placed = Vec::new();
    for word in words {
        let galley = text(ui, word, palette.ink, room - BOX - CLOSE);
        let width = BOX + CLOSE + if word.is_empty() { WORD } else { galley.size().x };
        if at.x > 0.0 && at.x + width > room {
            at = vec2(0.0, at.y + height + OVER);
        }
        height = galley.size().y;
        placed.push((at, galley, word.is_empty()));
        at.x += width + GAP;
    }
    let rect = taken(ui, at.y + height);
    ui.painter().galley(rect.min + vec2(0.0, OVER), name, palette.ink);
    for (at, galley, has_rule) in placed {
        let corner = rect.min + vec2(NAME, 0.0) + at;
        let middle = corner.y + text_height(ui) / 2.0;
        let side = Rect::from_center_size(pos2(corner.x + BOX / 2.0, middle), vec2(BOX, BOX));
        ui.painter().rect_stroke(side, 0.0, (1.0, palette.ink), StrokeKind::Inside);
        let left = side.right() + CLOSE;
        if has_rule {
            ui.painter().hline(left..=left + WORD, side.bottom(), (1.0, palette.quiet));
        } else {
            ui.painter().galley(pos2(left, corner.y), galley, palette.ink);
        }
    }
}

/// Height of one row of letters.
fn text_height(ui: &Ui) -> f32 {
    ui.painter().layout_no_wrap("0".to_owned(), theme::regular(theme::CHART), Color32::PLACEHOLDER).size().y
}

/// Rules of one length side by side; every text stands on them.
fn rules(ui: &mut Ui, name: Arc<Galley>, all: &[Rule]) {
    let palette = theme::palette(ui);
    let count = all.len().max(1) as f32;
    let length = (ui.available_width() - NAME - GAP * (count - 1.0)) / count;
    let set: Vec<Set> = all.iter().map(|rule| Set::of(ui, palette, rule, length)).collect();
    let height = set.iter().map(|set| set.known.size().y).fold(name.size().y, f32::max) + OVER + FOOT;
    let rect = taken(ui, height.max(WRITTEN));
    let base = rect.bottom() - FOOT;
    put(ui, name, pos2(rect.left(), base), Align2::LEFT_BOTTOM);
    for (index, set) in set.into_iter().enumerate() {
        let left = rect.left() + NAME + index as f32 * (length + GAP);
        let [from, to] = [left + set.before_width(), left + length - set.unit_width()];
        put(ui, set.before, pos2(left, base), Align2::LEFT_BOTTOM);
        put(ui, set.known, pos2(from, base), Align2::LEFT_BOTTOM);
        put(ui, set.unit, pos2(left + length, base), Align2::RIGHT_BOTTOM);
        ui.painter().hline(from..=to, base, (1.0, palette.quiet));
    }
}

fn put(ui: &Ui, galley: Arc<Galley>, at: eframe::egui::Pos2, align: Align2) {
    let corner = align.anchor_size(at, galley.size()).min;
    ui.painter().galley(corner, galley, theme::palette(ui).ink);
}

/// The texts of a rule.
struct Set {
    before: Arc<Galley>,
    known: Arc<Galley>,
    unit: Arc<Galley>,
}

impl Set {
    fn of(ui: &Ui, palette: &Palette, rule: &Rule, length: f32) -> Self {
        let quiet =
            |text: &str| ui.painter().layout_no_wrap(text.to_owned(), theme::regular(theme::SMALL), palette.quiet);
        let (before, unit) = (quiet(&rule.before), quiet(rule.unit));
        let room = length - beside(&before) - beside(&unit);
        let known = text(ui, &rule.known, palette.ink, room);
        Self { before, known, unit }
    }

    fn before_width(&self) -> f32 {
        beside(&self.before)
    }

    fn unit_width(&self) -> f32 {
        beside(&self.unit)
    }
}

/// The room that a text takes from its rule.
fn beside(text: &Galley) -> f32 {
    if text.size().x > 0.0 { text.size().x + CLOSE } else { 0.0 }
}
