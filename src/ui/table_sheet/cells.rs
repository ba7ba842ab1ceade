//! The rows of a file as they were read, with what each cell became.

use eframe::egui::{Align2, Rect, Role, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2};

use crate::model::typed::table_sheet::{Became, Lane, SheetLayout, SheetRow};
use crate::ui::theme;
use crate::ui::view::table_sheet::TableSheet;
use crate::ui::widgets::{choice, label};

/// Width and height of a cell, points.
const CELL: [f32; 2] = [96.0, 36.0];
/// Width of the lines' numbers.
const NUMBER: f32 = 40.0;
/// Height of the lists that say what a column holds.
const LANES: f32 = 34.0;
/// Space between cells.
const GAP: f32 = 3.0;

/// What somebody says of a column or a row.
#[derive(Clone, Copy)]
enum Said {
    Holds(Lane),
    NamesMachine,
}

/// Draws the rows within a height.
pub(super) fn cells(ui: &mut Ui, sheet: &mut TableSheet, height: f32) {
    let is_down = sheet.reading().settled.layout == SheetLayout::TapsDown;
    let columns = sheet.reading().rows.iter().map(|row| row.cells.len()).max().unwrap_or_default();
    let mut said = None;
    label::caption(
        ui,
        if is_down {
            "What each row holds is said before it, and can be said otherwise there"
        } else {
            "What each column holds is said over it, and can be said otherwise there"
        },
    );
    ScrollArea::horizontal().id_salt("columns").auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(GAP, GAP);
        if !is_down {
            ui.horizontal(|ui| {
                ui.allocate_space(vec2(NUMBER, LANES));
                for column in 0..columns {
                    said = said.take().or_else(|| lane(ui, sheet, column, "Column"));
                }
            });
        }
        let rows = sheet.reading().rows.len();
        let under = if is_down { 0.0 } else { LANES };
        let room = (height - under - 46.0).max(CELL[1] * 2.0);
        let area = ScrollArea::vertical().id_salt("rows").max_height(room).auto_shrink([true, false]);
        area.show_rows(ui, CELL[1], rows, |ui, range| {
            for index in range {
                ui.horizontal(|ui| {
                    if is_down {
                        said = said.take().or_else(|| lane(ui, sheet, index, "Row"));
                    }
                    if let Some(row) = sheet.reading().rows.get(index) {
                        line(ui, row);
                    }
                });
            }
        });
    });
    match said {
        Some((place, Said::Holds(lane))) => sheet.say_of_lane(place, lane),
        Some((place, Said::NamesMachine)) => sheet.say_machine_in(place),
        None => {}
    }
}

/// What a column that names the machine is called in its list.
const MACHINE: &str = "machine";

/// The list that says what a column or a row holds; a row that holds no tap has none.
fn lane(ui: &mut Ui, sheet: &TableSheet, place: usize, what: &str) -> Option<(usize, Said)> {
    let settled = sheet.reading().settled;
    let is_down = settled.layout == SheetLayout::TapsDown;
    let lane = sheet.choices.lanes.get(&place).or_else(|| sheet.reading().lanes.get(&place)).copied();
    if is_down && lane.is_none() {
        ui.allocate_space(vec2(CELL[0], LANES));
        return None;
    }
    let lanes = Lane::ALL.into_iter().filter(|lane| may_be(*lane, settled.layout));
    let mut offered: Vec<(Said, &str)> = lanes.map(|lane| (Said::Holds(lane), lane.name())).collect();
    if !is_down {
        offered.push((Said::NamesMachine, MACHINE));
    }
    let names: Vec<&str> = offered.iter().map(|(_, name)| *name).collect();
    let is_machine = settled.blower == Some(place) && !is_down;
    let chosen = if is_machine { MACHINE } else { lane.unwrap_or(Lane::LeftOut).name() };
    let list = |ui: &mut Ui| {
        ui.set_width(CELL[0]);
        choice::list(ui, &format!("{what} {}", place + 1), chosen, &names)
    };
    let picked = ui.allocate_ui(vec2(CELL[0], LANES), list).inner?;
    offered.get(picked).map(|(said, _)| (place, *said))
}

/// What can be said of a column, or of a row, where the readings lie so.
const fn may_be(lane: Lane, layout: SheetLayout) -> bool {
    match lane {
        Lane::Tap => matches!(layout, SheetLayout::List),
        Lane::Static => !matches!(layout, SheetLayout::TapsDown),
        Lane::Airflow | Lane::Watts | Lane::Rpm | Lane::LeftOut => true,
    }
}

fn line(ui: &mut Ui, row: &SheetRow) {
    let palette = theme::palette(ui);
    let (place, _) = ui.allocate_exact_size(vec2(NUMBER, CELL[1]), Sense::hover());
    let number = row.line.to_string();
    ui.painter().text(place.right_center(), Align2::RIGHT_CENTER, number, theme::regular(theme::FINE), palette.quiet);
    for (text, became) in row.cells.iter().zip(&row.became) {
        cell(ui, text, *became);
    }
}

/// One cell: its text, under it what it became.
fn cell(ui: &mut Ui, text: &str, became: Became) {
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(CELL.into(), Sense::hover());
    if text.is_empty() {
        return;
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("{text}: {}", became.name())));
    let (fill, ink) = match became {
        Became::LeftOut => (None, palette.quiet),
        Became::Heading => (None, palette.ink),
        Became::Blower | Became::Tap => (Some(palette.selection()), palette.ink),
        Became::Static => (Some(palette.band), palette.ink),
        Became::Airflow => (Some(palette.target_band), palette.ink),
        Became::Watts | Became::Rpm => (Some(palette.raised), palette.ink),
    };
    if let Some(fill) = fill {
        ui.painter().rect_filled(rect, 4.0, fill);
    }
    let is_head = matches!(became, Became::Heading | Became::Blower | Became::Tap | Became::Static);
    let font = if is_head { theme::strong(theme::SMALL) } else { theme::regular(theme::SMALL) };
    let inner = rect.shrink2(vec2(5.0, 2.0));
    let galley = label::one_line(ui, text, font, ink, inner.width());
    let is_cut = galley.elided;
    ui.painter().galley(inner.min, galley, ink);
    let under = Rect::from_min_max(pos2(inner.min.x, inner.min.y + 17.0), inner.max);
    let word = label::one_line(ui, became.name(), theme::regular(theme::FINE), palette.quiet, under.width());
    ui.painter().galley(under.min, word, palette.quiet);
    if is_cut {
        response.on_hover_text(text);
    }
}
