//! The manual over the window: the pages of the README that a person needs in front of a machine, and what program this is.
//!
//! The README is the one text; nothing of it is written a second time here.

use eframe::egui::text::{LayoutJob, TextFormat};
use eframe::egui::{self, Color32, FontId, Frame, Grid, Id, Label, Modal, ScrollArea, Ui};

use crate::ui::overlays;
use crate::ui::theme::{self, Palette};
use crate::ui::view::View;
use crate::ui::widgets::{choice, label};

/// The README as it goes with the program.
const README: &str = include_str!("../../README.md");
/// What the crates inside are, and their licences.
const NOTICES: &str = include_str!("../../assets/third-party-notices.txt");
/// Pages by the README's headings, with the names that they have here.
const PAGES: [(&str, &str); 9] = [
    ("Technician", "Three minutes for a technician"),
    ("Estimator", "Three minutes for an estimator"),
    ("Trainer", "Three minutes for a trainer"),
    ("Keys", "Keys"),
    ("Marks", "Marks"),
    ("Numbers", "What the numbers mean"),
    ("Tables", "Your own tables"),
    ("Limits", "Limits"),
    ("Cautions", "Before you open, drill or change a tap"),
];
/// The last page.
const ABOUT: &str = "About";
/// Width of the manual where the window has it, points.
const WIDTH: f32 = 830.0;
/// Part of the window's height that a page takes.
const OF_HEIGHT: f32 = 0.66;

/// One piece of a page.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Block<'a> {
    /// A line of running text.
    Text(&'a str),
    /// A line of a list: its number or a bullet, and its lines.
    Item(&'a str, Vec<&'a str>),
    /// A row of a table.
    Row(Vec<&'a str>),
}

/// Draws the manual while it is open.
pub fn show(ui: &Ui, view: &mut View) {
    let Some(page) = view.help else {
        return;
    };
    let frame = Frame::popup(ui.style()).inner_margin(theme::STEP * 2.0);
    let modal = Modal::new(Id::unique("help")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(overlays::width(ui, WIDTH));
        let names = PAGES.iter().map(|(name, _)| *name).chain([ABOUT]);
        let options: Vec<(String, bool)> =
            names.enumerate().map(|(index, name)| (name.to_owned(), index == page)).collect();
        let mut close = false;
        ui.horizontal_wrapped(|ui| {
            if let Some(index) = choice::buttons(ui, "Page", &options) {
                view.help = Some(index);
            }
            close = ui.button("Close").clicked();
        });
        ui.add_space(theme::STEP);
        let height = ui.ctx().content_rect().height() * OF_HEIGHT;
        match PAGES.get(page) {
            Some((_, heading)) => {
                label::strong(ui, *heading);
                ScrollArea::vertical()
                    .id_salt(page)
                    .auto_shrink(false)
                    .min_scrolled_height(height)
                    .max_height(height)
                    .show(ui, |ui| {
                        ui.set_max_width(ui.available_width() - theme::STEP * 2.0);
                        draw(ui, &blocks(section(README, heading)));
                    });
            }
            None => about(ui, height),
        }
        close
    });
    if modal.inner || modal.should_close() {
        view.help = None;
    }
}

fn about(ui: &mut Ui, height: f32) {
    label::strong(ui, format!("Tapcross {}", env!("CARGO_PKG_VERSION")));
    let first = README.split("\n\n").nth(1).unwrap_or_default();
    draw(ui, &blocks(first));
    draw(ui, &blocks(section(README, "Invented data")));
    draw(ui, &blocks(section(README, "Licence")));
    ui.add_space(theme::STEP);
    let lines: Vec<&str> = NOTICES.lines().collect();
    let row = ui.text_style_height(&egui::TextStyle::Small);
    let room = (height - ui.min_rect().height()).max(height / 3.0);
    ScrollArea::vertical().id_salt("notices").auto_shrink(false).max_height(room).show_rows(
        ui,
        row,
        lines.len(),
        |ui, rows| {
            for line in lines.get(rows).unwrap_or_default() {
                let text = egui::RichText::new(*line).font(theme::regular(theme::SMALL));
                ui.add(Label::new(text).extend());
            }
        },
    );
}

/// What stands under a heading of the second order.
fn section<'a>(text: &'a str, heading: &str) -> &'a str {
    let mut parts = text.split("\n## ").skip(1);
    let part = parts.find_map(|part| part.strip_prefix(heading)?.strip_prefix('\n'));
    part.unwrap_or_default()
}

fn blocks(text: &str) -> Vec<Block<'_>> {
    let mut blocks = Vec::new();
    for line in text.lines() {
        let inner = line.trim();
        if let (true, Some(Block::Item(_, lines))) = (line.starts_with("   ") && !inner.is_empty(), blocks.last_mut()) {
            lines.push(inner);
        } else if let Some(cells) = inner.strip_prefix('|') {
            let cells: Vec<&str> = cells.trim_end_matches('|').split('|').map(str::trim).collect();
            if !cells.iter().all(|cell| cell.chars().all(|letter| letter == '-')) {
                blocks.push(Block::Row(cells));
            }
        } else if let Some((mark, rest)) = item(inner) {
            blocks.push(Block::Item(mark, vec![rest]));
        } else if !inner.is_empty() {
            blocks.push(Block::Text(inner));
        }
    }
    blocks
}

/// "1. Press …" or "- Every …": the mark and the rest.
fn item(line: &str) -> Option<(&str, &str)> {
    let (mark, rest) = line.split_once(' ')?;
    let is_number = mark.strip_suffix('.').is_some_and(|number| number.parse::<u8>().is_ok());
    match mark {
        "-" => Some(("•", rest)),
        _ if is_number => Some((mark, rest)),
        _ => None,
    }
}

fn draw(ui: &mut Ui, blocks: &[Block<'_>]) {
    let palette = theme::palette(ui);
    let text = |ui: &mut Ui, line: &str| {
        ui.add(Label::new(inline(line, palette)).wrap());
    };
    for stretch in blocks.chunk_by(|one, next| matches!((one, next), (Block::Row(_), Block::Row(_)))) {
        for block in stretch {
            match block {
                Block::Text(line) => text(ui, line),
                Block::Item(mark, lines) => {
                    ui.horizontal_top(|ui| {
                        ui.add_sized([MARK, ui.text_style_height(&egui::TextStyle::Body)], Label::new(*mark));
                        ui.vertical(|ui| lines.iter().for_each(|line| text(ui, line)));
                    });
                    ui.add_space(theme::STEP / 2.0);
                }
                Block::Row(_) => {}
            }
        }
        table(ui, stretch, palette);
    }
}

/// Room for the number of a list's line, points.
const MARK: f32 = 24.0;
/// Largest part of the width that a table's first column takes.
const FIRST_COLUMN: f32 = 0.36;

fn table(ui: &mut Ui, rows: &[Block<'_>], palette: &Palette) {
    let rows: Vec<&Vec<&str>> =
        rows.iter().filter_map(|row| if let Block::Row(cells) = row { Some(cells) } else { None }).collect();
    let Some(first) = rows.first() else {
        return;
    };
    let width = ui.available_width();
    Grid::new(("table", first.join("|"))).num_columns(first.len()).spacing([theme::STEP * 2.0, theme::STEP]).show(
        ui,
        |ui| {
            for row in &rows {
                for (column, cell) in row.iter().enumerate() {
                    let share = if column == 0 { FIRST_COLUMN } else { 1.0 - FIRST_COLUMN };
                    ui.scope(|ui| {
                        ui.set_max_width(width * share - theme::STEP * 2.0);
                        ui.add(Label::new(inline(cell, palette)).wrap());
                    });
                }
                ui.end_row();
            }
        },
    );
}

/// A line with its stressed words, its code and the names of its links.
fn inline(line: &str, palette: &Palette) -> LayoutJob {
    let mut job = LayoutJob::default();
    let mut add = |text: &str, font: FontId, colour: Color32| {
        job.append(text, 0.0, TextFormat { font_id: font, color: colour, ..TextFormat::default() });
    };
    let (mut is_strong, mut is_code) = (false, false);
    let plain = without_links(line);
    let mut rest = plain.as_str();
    while !rest.is_empty() {
        let end = rest.find(['*', '`']).unwrap_or(rest.len());
        let (text, after) = rest.split_at(end);
        let font = if is_strong || is_code { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
        add(text, font, palette.ink);
        is_strong ^= after.starts_with('*');
        is_code ^= after.starts_with('`');
        rest = after.get(1..).unwrap_or_default();
    }
    job
}

/// `[name](address)` as its name alone.
fn without_links(line: &str) -> String {
    let mut plain = String::new();
    let mut rest = line;
    while let Some((before, from)) = rest.split_once('[') {
        let link = from.split_once("](").and_then(|(name, from)| Some((name, from.split_once(')')?.1)));
        plain.push_str(before);
        let Some((name, after)) = link else {
            plain.push('[');
            rest = from;
            continue;
        };
        plain.push_str(name);
        rest = after;
    }
    plain + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_is_a_heading_of_the_readme_with_something_under_it() {
        for (name, heading) in PAGES {
            assert!(!blocks(section(README, heading)).is_empty(), "{name}: nothing under {heading:?}");
        }
        assert!(!section(README, "Licence").is_empty() && !section(README, "Invented data").is_empty());
    }

    #[test]
    fn a_page_is_read_as_it_is_written() {
        let page = "One line.\n\n1. Press *Save*.\n   Then wait.\n- A bullet\n\n| a | b |\n| --- | --- |\n| c | d |\n";
        let right = vec![
            Block::Text("One line."),
            Block::Item("1.", vec!["Press *Save*.", "Then wait."]),
            Block::Item("•", vec!["A bullet"]),
            Block::Row(vec!["a", "b"]),
            Block::Row(vec!["c", "d"]),
        ];
        assert_eq!(blocks(page), right);
    }

    #[test]
    fn marks_of_the_text_are_not_shown() {
        assert_eq!(without_links("see [below](#here) and [`x`](y.md), [sic]"), "see below and `x`, [sic]");
        assert_eq!(inline("a *b* `c`", &theme::LIGHT).text, "a b c");
    }
}
