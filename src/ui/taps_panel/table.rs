//! Every tap in one table: as found, beside the same tap with changes; the columns keep their places whatever is on.
//!
//! Another machine's taps cannot stand row beside row with the old one's: their columns as found are empty.

use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align, Button, Color32, FontId, Label, Layout, Response, RichText, Role, Sense, Ui, UiBuilder, WidgetInfo, vec2,
};

use crate::files::settings::Panel;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::caution::Caution;
use crate::model::facts::standing::{CurveStanding, PathStanding, Standing};
use crate::model::path::tesp::Bound;
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::{NotRunning, Projection, Running};
use crate::model::verdicts::taps::{Reach, TapAnswer, TapPoint};
use crate::model::wording::{self, changes, heat, visit};
use crate::ui::taps_panel::{electric, needs, right, row, short_name};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::ui::view::action::Action;
use crate::ui::view::other_tap::run_on;
use crate::ui::widgets::{caution, fold, hint, label, sheet, whole_rows};
use crate::units::show;

/// What stands in a column: the tap's name, and figures of the same tap as found or of the system shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Name,
    FoundAirflow,
    FoundStatic,
    ThenAirflow,
    ThenStatic,
    Spread,
    Target,
    Watts,
}

/// Columns with their widths and the room before each.
type Columns = &'static [(Column, f32, f32)];

const WIDE: Columns = &[
    (Column::Name, 50.0, 0.0),
    (Column::FoundAirflow, 46.0, 0.0),
    (Column::FoundStatic, 50.0, 4.0),
    (Column::ThenAirflow, 48.0, 10.0),
    (Column::ThenStatic, 50.0, 4.0),
    (Column::Spread, 26.0, 2.0),
    (Column::Target, 60.0, 6.0),
    (Column::Watts, 32.0, 4.0),
];
const SLIM: Columns = &[
    (Column::Name, 44.0, 0.0),
    (Column::FoundAirflow, 42.0, 0.0),
    (Column::FoundStatic, 46.0, 3.0),
    (Column::ThenAirflow, 44.0, 6.0),
    (Column::ThenStatic, 46.0, 3.0),
    (Column::Spread, 28.0, 3.0),
    (Column::Target, 54.0, 4.0),
    (Column::Watts, 32.0, 4.0),
];
/// Height of the heading with its button.
const HEADING: f32 = 24.0;
/// Height of the lines of marks under the table.
const LEGEND: f32 = 50.0;
/// How many they are.
const LEGEND_LINES: usize = 3;
/// Width from which the wide columns have room.
const ROOM_FOR_WIDE: f32 = 392.0;

/// Width of columns with the room before each.
fn width_of(columns: &[(Column, f32, f32)]) -> f32 {
    columns.iter().map(|(_, width, gap)| width + gap).sum()
}

/// The system whose taps are shown.
#[derive(Clone, Copy)]
pub(super) struct Shown<'a> {
    screen: &'a Screen<'a>,
    columns: Columns,
    /// What its maker calls a tap.
    word: &'a str,
    taps: &'a [TapAnswer],
    /// The system with changes, where that is the one.
    after: Option<&'a Projection>,
    /// Its machine, where it is another than the job's.
    machine: Option<&'a BlowerTable>,
}

/// Draws the table and what belongs to it, in at most the height given.
pub(super) fn every_tap(ui: &mut Ui, screen: &Screen<'_>, most: f32, out: &mut Vec<Action>) {
    let after = changes::with_changes(screen.job, screen.answer).map(|(_, after)| after);
    let shown = Shown {
        screen,
        columns: if ui.available_width() < ROOM_FOR_WIDE { SLIM } else { WIDE },
        word: after.map_or_else(|| wording::tap_word(screen.job), |after| changes::word_then(screen.job, after)),
        taps: after.map_or_else(|| screen.answer.taps(), |after| &after.system.taps),
        after,
        machine: after.and_then(|after| after.system.blower.other.as_deref()),
    };
    let top = ui.cursor().top();
    shown.heading_row(ui, out);
    if shown.taps.len() > 1 {
        caution::caution(ui, screen, Caution::TapChange);
    }
    shown.heads(ui);
    let rest = (most - (ui.cursor().top() - top) - LEGEND).max(super::ROW * 2.0);
    let heights = vec![super::ROW; shown.taps.len()];
    whole_rows::whole_rows(ui, "every tap", rest, &heights, |ui, index| {
        row(ui, |ui| shown.row(ui, index, &shown.taps[index], out));
    });
    let legend = shown.legend();
    legend_lines(ui, &legend);
}

/// The marks in a height of their own, so that what stands under them keeps its place.
fn legend_lines(ui: &mut Ui, legend: &str) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), LEGEND), Sense::hover());
    let mut job =
        LayoutJob::simple(legend.to_owned(), theme::regular(theme::SMALL), theme::palette(ui).quiet, rect.width());
    job.wrap.max_rows = LEGEND_LINES;
    let mut lines = ui.new_child(UiBuilder::new().max_rect(rect).layout(Layout::top_down(Align::Min)));
    lines.add(Label::new(job).show_tooltip_when_elided(false)).on_hover_text(legend);
}

/// "As found: AH-42T, tap 4, 1,210 cfm at 0.62 in. w.c., 88 % of 1,400 cfm".
fn as_found(screen: &Screen<'_>, running: &Running) -> String {
    let units = screen.units;
    let old = screen.job.machine.as_ref().map(|table| table.name.clone()).unwrap_or_default();
    let tap = format!("{} {}", wording::tap_word(screen.job), screen.job.tap_in_use().unwrap_or_default());
    let share = screen.answer.blower().target.map(|target| {
        let share = show::percent(running.now.airflow / target.actual);
        format!(", {share} of {} {}", wording::target(&target, units), units.airflow_unit())
    });
    format!(
        "{}: {old}, {tap}, {} at {}{}",
        wording::capital(&visit::found(screen.job)),
        show::airflow(running.now.airflow, units),
        show::pressure(running.now.tesp, units),
        share.unwrap_or_default()
    )
}

impl Shown<'_> {
    /// What the table is of, and the button to what the target would take.
    fn heading_row(&self, ui: &mut Ui, out: &mut Vec<Action>) {
        let of = self.machine.map(|table| format!(" of {}", table.name)).unwrap_or_default();
        let heading = format!("Every {}{of}", self.word);
        let palette = theme::palette(ui);
        let size = vec2(ui.available_width(), HEADING);
        ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
            ui.set_min_size(size);
            let text = RichText::new("What it takes").font(theme::strong(theme::SMALL)).color(palette.tap_high);
            let button = ui.add(Button::new(text).frame_when_inactive(false));
            button.widget_info(|| WidgetInfo::labeled(Role::Button, true, "What it takes"));
            hint::hint(&button, || "What each tap would need to reach the target".to_owned());
            sheet::sheet(&button, "What it takes", super::SHEET, |ui| super::what_it_takes(ui, self.screen, self));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.spacing_mut().item_spacing.x = 0.0;
                if fold::mark(ui, "Every tap", false, HEADING) {
                    out.push(Action::Fold(Panel::EveryTap));
                }
                let text = RichText::new(&heading).font(theme::strong(theme::SMALL)).color(palette.quiet);
                let response = ui.add(Label::new(text).truncate());
                response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, &heading));
            });
        });
    }

    /// Which columns are of the system as found, then what stands in each.
    fn heads(&self, ui: &mut Ui) {
        let palette = theme::palette(ui);
        let (found, then) = self.columns.split_at(3);
        row(ui, |ui| {
            ui.spacing_mut().item_spacing.x = 0.0;
            let which = RichText::new(visit::found(self.screen.job)).font(theme::regular(theme::SMALL));
            super::right_cut(ui, width_of(found), which.color(palette.quiet));
            let ink = if self.after.is_some() { palette.change } else { palette.quiet };
            let name = match (self.machine, self.after) {
                (_, Some(Projection { wish: Some(_), .. })) => "as wished",
                (Some(_), _) => "new machine",
                (None, _) => "with changes",
            };
            right(ui, width_of(&then[..2]), RichText::new(name).font(theme::strong(theme::SMALL)).color(ink));
        });
        let units = self.screen.units;
        // "in. w.c." has no room in a narrow column; the legend says it in full.
        let pressure = units.pick("in.", units.pressure_unit());
        row(ui, |ui| {
            ui.spacing_mut().item_spacing.x = 0.0;
            for (column, width, gap) in self.columns {
                ui.add_space(*gap);
                let text = match column {
                    Column::Name => self.word,
                    Column::FoundAirflow | Column::ThenAirflow => units.airflow_unit(),
                    Column::FoundStatic | Column::ThenStatic => pressure,
                    Column::Spread => "±",
                    Column::Target => "target",
                    Column::Watts => "W",
                };
                super::column_head(ui, text, *width);
            }
        });
    }

    fn row(&self, ui: &mut Ui, index: usize, tap: &TapAnswer, out: &mut Vec<Action>) {
        let palette = theme::palette(ui);
        ui.spacing_mut().item_spacing.x = 0.0;
        let found = match (self.after, self.machine) {
            (None, _) => Some(tap),
            (Some(_), None) => self.screen.answer.taps().get(index),
            (Some(_), Some(_)) => None,
        };
        let then = self.after.map(|_| tap);
        for (column, width, gap) in self.columns {
            ui.add_space(*gap);
            let text = match column {
                Column::Name => {
                    let can = self.screen.answer.point().is_some();
                    let button = name_button(ui, tap, *width, can);
                    let beside = found.filter(|_| then.is_some());
                    let what = if can { "a press lets it run, as a change; the reading stays" } else { NOT_YET };
                    let button = hint::and_under_the_pointer(button, &format!("{}: {what}", tap.name));
                    button.widget_info(|| {
                        WidgetInfo::selected(Role::RadioButton, can, tap.in_use, self.spoken_row(tap, beside))
                    });
                    if button.clicked() {
                        out.extend(run_on(self.screen.job, self.screen.answer, &tap.name));
                    }
                    continue;
                }
                Column::FoundAirflow => found.map(|tap| self.airflow_cell(tap, (then.is_none(), false), palette)),
                Column::FoundStatic => found.and_then(|tap| self.static_cell(tap, then.is_none(), palette)),
                Column::ThenAirflow => then.map(|tap| self.airflow_cell(tap, (true, true), palette)),
                Column::ThenStatic => then.and_then(|tap| self.static_cell(tap, true, palette)),
                Column::Spread | Column::Target | Column::Watts => {
                    tap.reached().map(|point| self.verdict_cell(*column, point, tap.in_use, palette))
                }
            };
            right(ui, *width, text.unwrap_or_else(|| RichText::new("")));
        }
    }

    /// An airflow, or why there is none; that of the system in question strong, that of before it quiet.
    fn airflow_cell(&self, tap: &TapAnswer, (is_shown, is_then): (bool, bool), palette: &Palette) -> RichText {
        let Some(point) = tap.reached() else {
            return quiet(missing(self.screen, tap), palette);
        };
        let mark = match (is_shown, is_then) {
            (false, _) => found_mark(point),
            (true, true) if point.bound.is_exact() => "",
            (true, _) => path_mark(point),
        };
        let ink = if is_then { palette.change } else { palette.ink };
        self.figure(self.airflow(point, mark), (is_shown, tap.in_use), ink, palette)
    }

    /// A static with its mark against the rated maximum.
    fn static_cell(&self, tap: &TapAnswer, is_shown: bool, palette: &Palette) -> Option<RichText> {
        let point = tap.reached()?;
        let (mark, ink) = match point.plate.map(|plate| plate.side) {
            Some(PlateSide::Over) => ("▲", palette.over),
            Some(PlateSide::AtLimit) => ("=", palette.over),
            Some(PlateSide::Under) | None => ("", palette.ink),
        };
        let text = format!("{mark}{}", self.pressure(point));
        Some(self.figure(text, (is_shown, tap.in_use), ink, palette))
    }

    /// A figure of the system shown in its ink, the tap's that runs strong; one of before it quiet.
    fn figure(&self, text: String, (is_shown, runs): (bool, bool), ink: Color32, palette: &Palette) -> RichText {
        let ink = if is_shown || ink == palette.over { ink } else { palette.quiet };
        let size = if self.columns == SLIM { theme::CHART } else { theme::BODY };
        let font = if is_shown && runs { theme::strong(size) } else { theme::regular(size) };
        RichText::new(text).font(font).color(ink)
    }

    /// What the point is worth: its ±, its share of the target, its watts.
    fn verdict_cell(&self, column: Column, point: &TapPoint, runs: bool, palette: &Palette) -> RichText {
        let units = self.screen.units;
        let size = if self.columns == SLIM { theme::CHART } else { theme::BODY };
        let font = if runs { theme::strong(size) } else { theme::regular(size) };
        match column {
            Column::Spread => quiet(show::spread_bare(point.spread.airflow, units), palette),
            Column::Target => target_cell(point, self.screen.job.is_test(), &font, palette),
            Column::Watts => quiet(point.power.map_or_else(|| "–".to_owned(), show::power_bare), palette),
            Column::Name | Column::FoundAirflow | Column::FoundStatic | Column::ThenAirflow | Column::ThenStatic => {
                RichText::new("")
            }
        }
    }

    fn airflow(&self, point: &TapPoint, mark: &str) -> String {
        let extended = if point.standing.curve == CurveStanding::Extrapolated { "*" } else { "" };
        format!("{mark}{}{extended}", show::airflow_bare(point.airflow(), self.screen.units))
    }

    fn pressure(&self, point: &TapPoint) -> String {
        show::pressure_bare(point.crossing.tesp, self.screen.units)
    }

    /// The row as a screen reader says it.
    fn spoken_row(&self, tap: &TapAnswer, found: Option<&TapAnswer>) -> String {
        let new = if self.machine.is_some() { "New machine, " } else { "" };
        let said = match found {
            Some(found) => format!("{}; with changes {}", spoken(self.screen, found), spoken(self.screen, tap)),
            None => spoken(self.screen, tap),
        };
        format!("{new}{} {}: {said}", self.word, tap.name)
    }

    /// Which of the marks the table shows, in words.
    fn legend(&self) -> String {
        let points: Vec<&TapPoint> = self.taps.iter().filter_map(TapAnswer::reached).collect();
        if points.is_empty() && self.after.is_none() {
            return nothing_reached(self.screen);
        }
        let units = self.screen.units;
        let which = match (self.after, self.machine) {
            (None, _) => "",
            (Some(_), None) => " with changes",
            (Some(_), Some(_)) => " of the new target",
        };
        let mut parts = marks(&points, which);
        match self.after {
            None => parts.extend(how_known(&points)),
            Some(after) => {
                let found: Vec<&TapPoint> = match self.machine {
                    Some(table) => {
                        let plate = table.rated_maximum.map(|plate| show::pressure(plate, units));
                        let plate = plate.map(|plate| format!("its rated maximum {plate}"));
                        parts.push(plate.unwrap_or_else(|| "no rated maximum in its table".to_owned()));
                        let target = after.system.blower.target;
                        parts.extend(target.map(|target| {
                            format!("its target {} {}", wording::target(&target, units), units.airflow_unit())
                        }));
                        Vec::new()
                    }
                    None => self.screen.answer.taps().iter().filter_map(TapAnswer::reached).collect(),
                };
                if found.iter().any(|point| is_extended(point)) && !points.iter().any(|point| is_extended(point)) {
                    parts.push(EXTENDED.to_owned());
                }
                if found.iter().any(|point| point.standing.path == PathStanding::Assumed && point.bound.is_exact()) {
                    parts.push(ASSUMED.to_owned());
                }
                let path = points.iter().map(|point| point.standing.path).max().unwrap_or_default();
                parts.push(format!("with changes: path {}", path.word()));
            }
        }
        // What holds of every row comes first, for the rest may have no room; a mark stands beside its words.
        let marked: Vec<String> = parts.iter().map(|part| part.replacen(' ', "\u{a0}", 1)).collect();
        format!("± is 95\u{a0}% · static in {} · {}.", units.pressure_unit(), marked.join(" · "))
    }

    /// What the rows cannot hold: the marks in words, what is said of the whole system, of a tap, of heat.
    pub(super) fn aside(&self, ui: &mut Ui) {
        if let (Some(_), Some((running, _))) =
            (self.machine, changes::with_changes(self.screen.job, self.screen.answer))
        {
            label::caption(ui, as_found(self.screen, running));
        }
        label::caption(ui, self.legend());
        self.asides(ui);
        self.taps.iter().for_each(|tap| self.remarks(ui, tap));
        match (self.machine, self.after) {
            (Some(table), Some(after)) => {
                electric::watts_and_rises(ui, self.screen.units, table, self.taps);
                needs::with_changes(ui, self.screen, after, "new machine");
            }
            _ => self.rises(ui),
        }
    }

    /// What is said of the whole system: which target it is held to, what of another machine nobody knows.
    fn asides(&self, ui: &mut Ui) {
        let Some(after) = self.after else {
            return;
        };
        let has_target = self.screen.job.target.is_some() || !self.screen.job.call_targets.is_empty();
        if self.machine.is_none() && after.system.blower.target.is_none() && has_target {
            label::caption(ui, wording::ended(&wording::no_target_of(after.system.blower.call)));
        }
        if let Some(kind) = after.system.unknown_part {
            label::question(ui, &wording::ended(&changes::unknown_part(kind)));
        }
        for assumption in &after.system.assumptions {
            label::question(ui, &wording::ended(&changes::of_new_machine(assumption)));
        }
    }

    /// What a row cannot hold: a bar, a note of the table, a bound.
    fn remarks(&self, ui: &mut Ui, tap: &TapAnswer) {
        let Some(point) = tap.reached() else {
            return;
        };
        let named = format!("{} {}", self.word, tap.name);
        if let Some(note) = &point.barred {
            let note = note.as_deref().map(|note| format!(": {note}")).unwrap_or_default();
            let is_beside = self.after.is_some() && self.machine.is_none();
            let which = if is_beside { "the static with changes" } else { "this static" };
            label::error(ui, &format!("{named} is not allowed at {which}{note}"));
        }
        if let Some(note) = &point.note {
            label::caption(ui, format!("{named}: the table notes \"{note}\" here"));
        }
        if let Some(below) = point.below {
            let (below, about) = (show::airflow(below, self.screen.units), self.airflow(point, ""));
            label::caption(ui, format!("{named}: below {below}; extrapolated, about {about}"));
        }
    }

    /// The rise of each heating stage on the tap that it runs.
    fn rises(&self, ui: &mut Ui) {
        let Some(table) = &self.screen.job.machine else {
            return;
        };
        let call = self.after.map_or(self.screen.job.set().call, |after| after.system.blower.call);
        let rises = heat::rises(table, self.taps, call, self.screen.units);
        if self.after.is_some() && !rises.is_empty() {
            label::caption(ui, "With changes:");
        }
        for (text, is_odd) in rises {
            if is_odd {
                label::error(ui, &text);
            } else {
                label::caption(ui, text);
            }
        }
    }
}

fn quiet(text: String, palette: &Palette) -> RichText {
    RichText::new(text).font(theme::regular(theme::SMALL)).color(palette.quiet)
}

/// The tap's name as a button, short where it is long; the whole name on hover, and why it cannot be pressed where it cannot.
fn name_button(ui: &mut Ui, tap: &TapAnswer, width: f32, can: bool) -> Response {
    let short = short_name(&tap.name);
    let size = if short.chars().count() > 3 { theme::SMALL } else { theme::BODY };
    let font = if tap.in_use { theme::strong(size) } else { theme::regular(size) };
    ui.scope(|ui| {
        ui.spacing_mut().button_padding = vec2(2.0, 0.0);
        let button = Button::selectable(tap.in_use, RichText::new(short).font(font)).truncate();
        ui.add_enabled_ui(can, |ui| ui.add_sized([width - 2.0, super::ROW - 2.0], button)).inner
    })
    .inner
    .on_disabled_hover_text(format!("{}: {NOT_YET}", tap.name))
}

/// Why a tap's row cannot be pressed.
const NOT_YET: &str = "once it is read where the machine runs, a press here puts this one on as a change";

/// A tap as a screen reader says it.
fn spoken(screen: &Screen<'_>, tap: &TapAnswer) -> String {
    let Some(point) = tap.reached() else {
        return missing(screen, tap);
    };
    let units = screen.units;
    let share = point.of_target.map(|share| format!(", {} of the target", show::percent(share))).unwrap_or_default();
    let answers = match (point.is_answer(), point.open_by_air()) {
        (true, _) => ", in the band",
        (false, Some(_)) => ", in or out of the band, which cannot be told in this air",
        (false, None) => "",
    };
    let plate = match point.plate.map(|plate| plate.side) {
        Some(PlateSide::Over) => ", over the rated maximum",
        Some(PlateSide::AtLimit) => ", at the rated maximum",
        Some(PlateSide::Under) | None => "",
    };
    let barred = if point.barred.is_some() { ", not allowed" } else { "" };
    let (curve, path) = point.standing.words();
    format!(
        "{} at {}{share}{answers}{plate}{barred}, {curve}, {path}",
        show::airflow(point.airflow(), units),
        show::pressure(point.crossing.tesp, units)
    )
}

/// Why a row has no numbers.
fn missing(screen: &Screen<'_>, tap: &TapAnswer) -> String {
    match &tap.point {
        Some(Err(NoCrossing::PastTheEnd { below, .. })) => {
            format!("< {}", show::airflow_bare(*below, screen.units))
        }
        Some(Err(NoCrossing::SingleRow(_))) => "one row".to_owned(),
        Some(Err(NoCrossing::Unusable)) => "not usable".to_owned(),
        Some(Ok(_)) | None => "–".to_owned(),
    }
}

/// The mark before an airflow: a bound's sign, or that it is not all measured.
fn path_mark(point: &TapPoint) -> &'static str {
    match point.bound {
        Bound { less: true, more: false } => "≤",
        Bound { less: false, more: true } => "≥",
        _ if point.standing.path == PathStanding::Measured => "",
        _ => "≈",
    }
}

/// A stretch split by shares is left unmarked beside the changes: one that is on splits nearly every one.
fn found_mark(point: &TapPoint) -> &'static str {
    if point.standing.path == PathStanding::Shared { "" } else { path_mark(point) }
}

/// The share of the target, with its mark.
fn target_cell(point: &TapPoint, is_test: bool, font: &FontId, palette: &Palette) -> RichText {
    let Some(share) = point.of_target else {
        return RichText::new("–").color(palette.quiet);
    };
    let (mark, colour) = match (point.is_answer(), point.reach) {
        _ if is_test => ("", palette.ink),
        (true, _) => ("✓", palette.target),
        (false, Some(Reach::InBand)) => ("○", palette.target),
        (false, _) if point.open_by_air().is_some() => ("?", palette.change),
        (false, _) => ("", palette.ink),
    };
    RichText::new(format!("{mark}{} %", show::number(share * 100.0, 0))).font(font.clone()).color(colour)
}

const EXTENDED: &str = "* extrapolated";
const ASSUMED: &str = "≈ rests on something assumed";

fn is_extended(point: &TapPoint) -> bool {
    point.standing.curve == CurveStanding::Extrapolated
}

/// The marks of a table of these points, in words.
fn marks(points: &[&TapPoint], which: &str) -> Vec<String> {
    let any = |test: &dyn Fn(&TapPoint) -> bool| points.iter().any(|point| test(point));
    let side = |side| move |point: &TapPoint| point.plate.is_some_and(|plate| plate.side == side);
    let in_band = |point: &TapPoint| point.reach == Some(Reach::InBand);
    let bound = points.iter().find(|point| !point.bound.is_exact()).map(|point| match point.bound {
        Bound { less: true, more: false } => "≤ at most, static at least: a part's drop is not known",
        Bound { less: false, more: true } => "≥ at least, static at most: a part's drop is not known",
        _ => "≈ a part's drop is not known",
    });
    let at = if any(&|point| point.is_answer() && side(PlateSide::AtLimit)(point)) {
        "under the rated maximum or at it"
    } else {
        "at or under the rated maximum"
    };
    let answers = format!("✓ in the band{which}, {at}");
    let said = [
        any(&|point| point.is_answer()).then_some(answers.as_str()),
        any(&|point| in_band(point) && !point.is_answer())
            .then_some("○ in the band, but over the rated maximum or not allowed"),
        any(&|point| point.open_by_air().is_some()).then_some("? in or out of the band: cannot be told in this air"),
        any(&side(PlateSide::Over)).then_some("▲ over the rated maximum"),
        any(&side(PlateSide::AtLimit)).then_some("= at the rated maximum, within ±"),
        any(&is_extended).then_some(EXTENDED),
        bound,
    ];
    said.into_iter().flatten().map(str::to_owned).collect()
}

/// How the points are known, where nothing else is beside them.
fn how_known(points: &[&TapPoint]) -> Vec<String> {
    let any = |test: &dyn Fn(&TapPoint) -> bool| points.iter().any(|point| test(point));
    let is_exact = !any(&|point| !point.bound.is_exact());
    let path = points.iter().map(|point| point.standing.path).max().unwrap_or_default();
    let split = match path {
        PathStanding::Assumed => Some(ASSUMED),
        PathStanding::Shared => Some("≈ rests on a stretch split by shares"),
        PathStanding::Measured => None,
    };
    let plain = any(&|point| point.standing == Standing::default());
    let said = [split.filter(|_| is_exact), plain.then_some("no mark: published table, measured path")];
    said.into_iter().flatten().map(str::to_owned).collect()
}

fn nothing_reached(screen: &Screen<'_>) -> String {
    match screen.answer.why_not() {
        Some(NotRunning::NoMachine | NotRunning::NoTap | NotRunning::NotRead(_)) => {
            "The readings will say where each of them runs.".to_owned()
        }
        Some(NotRunning::KeptBack) => "Where each of them runs is kept back with the answer.".to_owned(),
        _ => format!(
            "Without a point on the {} in use there is no path to run the others on.",
            wording::tap_word(screen.job)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::short_name;

    #[test]
    fn long_names_stay_apart_when_they_are_short() {
        let cases = [("4", "4"), ("High", "High"), ("Medium-high", "M-high"), ("Medium-low", "M-low"), ("Fan", "Fan")];
        for (name, short) in cases {
            assert_eq!(short_name(name), short);
        }
    }
}
