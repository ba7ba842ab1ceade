//! The head: as found and with changes side by side, the weightiest finding under them, and what has to be minded; one height, whatever it says.

use std::sync::Arc;

use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align, Button, Color32, FontId, Galley, Label, Layout, Rect, RichText, Role, Sense, Ui, UiBuilder, Vec2,
    WidgetInfo, pos2, vec2,
};

use crate::model::verdicts::commissioning::Grade;
use crate::model::verdicts::findings::Weight;
use crate::model::verdicts::system::NotRunning;
use crate::model::wording::cautions;
use crate::model::wording::commissioning as lines;
use crate::model::wording::headline::{self, Beside, Half, Head, Told, Tone};
use crate::model::wording::{self, Verdict};
use crate::ui::theme;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::{Screen, View};
use crate::ui::widgets::label::one_line;
use crate::ui::widgets::{caution, hint, label, sheet};

/// Under this width of the window, in points, it shows one part at a time, and in the head the figure stands over its lines, not before them.
pub const NARROW: f32 = 1000.0;
/// Under this width of a half its sentence is set in small type.
const SLIM_HALF: f32 = 450.0;
/// Under this height of the window every row is set as small as it can be read.
const TINY: f32 = 400.0;
/// Room of the figure before its lines, as a share of its half: more only where what is said of it would else be cut.
const FIGURE: [f32; 3] = [0.34, 0.42, 0.5];
/// Width of the sheet of findings.
const SHEET: f32 = 620.0;

/// How the head is set in a window: the same whatever it says.
#[derive(Clone, Copy)]
struct Setting {
    /// True where the figure stands before its lines, not over them.
    is_beside: bool,
    /// Height of a half's line.
    line: f32,
    /// Size of its type.
    size: f32,
    /// Height of the row of the weightiest finding, which holds buttons.
    finding: f32,
}

impl Setting {
    const fn of(window: Vec2) -> Self {
        let is_beside = window.x >= NARROW;
        if window.y < TINY {
            Self { is_beside, line: 15.0, size: theme::SMALL, finding: 22.0 }
        } else {
            Self { is_beside, line: 18.0, size: theme::BODY, finding: 28.0 }
        }
    }

    fn halves(self) -> f32 {
        if self.is_beside { 3.0 * self.line + 4.0 } else { 5.0 * self.line }
    }
}

/// Height of the head in a window.
pub fn height(window: Vec2) -> f32 {
    let setting = Setting::of(window);
    setting.halves() + setting.finding + setting.line
}

/// Draws the head in the room that it has; while something is half entered the last answer stays, marked as such.
pub fn verdict_strip(ui: &mut Ui, screen: &Screen<'_>, view: &View, window: Vec2, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = 0.0;
    let setting = Setting::of(window);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), setting.halves()), Sense::hover());
    let verdict = wording::verdict(screen.job, screen.answer, screen.units);
    let Some(running) = screen.answer.point() else {
        first_step(ui, screen, &verdict, rect);
        finding_row(ui, view, setting, None, |_| {}, |ui| first_buttons(ui, screen, out));
        caution::line(ui, screen, setting.line);
        return;
    };
    let head = headline::head(screen.job, screen.answer, running, screen.units);
    let mark = view.mark();
    let (left, right) = rect.split_left_right_at_fraction(0.5);
    let spoken = match half_entered(view) {
        Some((what, how)) => {
            format!("Verdict: {what}. {how}. {}: {}", mark.unwrap_or_default(), head.found.sentence)
        }
        None => format!("Verdict: {}", head.found.sentence),
    };
    let palette = theme::palette(ui);
    half(ui, &head.found, (left.with_max_x(left.max.x - theme::STEP), setting), (mark, palette.ink), &spoken);
    let right = right.with_min_x(right.min.x + theme::STEP);
    ui.painter().vline(right.min.x - theme::STEP, rect.y_range(), (1.0, palette.hairline));
    match &head.beside {
        Beside::Then(then) => half(ui, then, (right, setting), (mark, palette.change), &then.sentence),
        Beside::Wanted { title, sentence } => wanted(ui, (title, sentence), right, mark),
    }
    finding_row(ui, view, setting, head.finding.clone(), |ui| all_findings(ui, screen, &head), |_| {});
    caution::line(ui, screen, setting.line);
}

/// What is wrong, and how to go on.
fn half_entered(view: &View) -> Option<(&str, &str)> {
    if let Some(refused) = view.refused_value() {
        return Some(("That value is not possible", refused.message.as_str()));
    }
    view.is_half_entered().then_some(("Waiting for the value being typed", "Enter or Tab takes it, Escape leaves it"))
}

/// One half: title and figure, and three lines beside or under them.
fn half(
    ui: &mut Ui,
    half: &Half,
    (rect, setting): (Rect, Setting),
    (mark, ink): (Option<&str>, Color32),
    spoken: &str,
) {
    let palette = theme::palette(ui);
    let is_last = mark.is_some();
    let ink = if is_last { palette.quiet } else { ink };
    let size = if setting.is_beside { theme::FIGURE } else { setting.size + 2.0 };
    let airflow = one_line(ui, &half.airflow, theme::strong(size), ink, f32::INFINITY);
    let set_beside = |figure: Rect| {
        let room = figure.width() - airflow.size().x - theme::STEP;
        let mut job =
            LayoutJob::simple(label::kept_together(&half.beside), theme::regular(theme::SMALL), palette.quiet, room);
        // Beside the large figure two lines have room.
        job.wrap.max_rows = if setting.is_beside { 2 } else { 1 };
        ui.painter().layout_job(job)
    };
    let (figure, lines) = if setting.is_beside {
        let split = |share| {
            let (figure, lines) = rect.split_left_right_at_fraction(share);
            (figure.with_max_x(figure.max.x - theme::STEP), lines)
        };
        let [.., widest] = FIGURE;
        let whole = FIGURE.into_iter().map(split).find(|(figure, _)| !set_beside(*figure).elided);
        whole.unwrap_or_else(|| split(widest))
    } else {
        rect.split_top_bottom_at_y(rect.min.y + 2.0 * setting.line)
    };
    let beside = set_beside(figure);
    let set_title = |width| {
        let set = |text: &str, width| one_line(ui, text, theme::strong(theme::SMALL), ink, width);
        let whole = half.title.iter().map(|title| set(&marked(mark, title), f32::INFINITY));
        let [.., shortest] = &half.title;
        whole.into_iter().find(|galley| galley.size().x <= width).unwrap_or_else(|| set(shortest, width))
    };
    let title = set_title(figure.width());
    let top = figure.min.y + setting.line + if setting.is_beside { 2.0 } else { 0.0 };
    let beside_top = if beside.rows.len() > 1 {
        top + (airflow.size().y - beside.size().y) / 2.0
    } else {
        on_one_line(top, &airflow, &beside)
    };
    let beside_at = pos2(figure.min.x + airflow.size().x + theme::STEP * 0.75, beside_top);
    for (at, galley) in [(figure.min, title), (beside_at, beside), (pos2(figure.min.x, top), airflow)] {
        ui.painter().galley(at, galley, ink);
    }
    for (index, told) in half.lines.iter().enumerate() {
        let top = lines.min.y + setting.line * index as f32;
        let galley = line(ui, told, (is_last, setting.size), lines.width());
        ui.painter().galley(pos2(lines.min.x, top), galley, palette.ink);
    }
    let response = ui.interact(rect, ui.scope_id().with(("half", rect.min.x as i32)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, spoken));
    response.on_hover_text(&half.sentence);
}

/// A title with the mark of an answer that something half entered is not in.
fn marked(mark: Option<&str>, title: &str) -> String {
    mark.map_or_else(|| title.to_owned(), |mark| format!("{mark} · {title}"))
}

/// Where a text stands whose foot is that of a larger one.
fn on_one_line(top: f32, large: &Galley, small: &Galley) -> f32 {
    /// Share of a line's height over its foot.
    const OVER_FOOT: f32 = 0.78;
    top + (large.size().y - small.size().y) * OVER_FOOT
}

/// A line in the longest of its wordings that has room.
fn line(ui: &Ui, told: &Told, (is_last, size): (bool, f32), width: f32) -> Arc<Galley> {
    let palette = theme::palette(ui);
    let ink = match told.tone {
        _ if is_last => palette.quiet,
        Tone::Good => palette.target,
        Tone::Bad => palette.over,
        Tone::Plain => palette.ink,
    };
    let set = |text: &String| one_line(ui, text, theme::regular(size), ink, f32::INFINITY);
    let fitting = told.wordings.iter().map(set).find(|galley| galley.size().x <= width);
    fitting.unwrap_or_else(|| {
        let shortest = told.wordings.last().map_or("", String::as_str);
        one_line(ui, shortest, theme::regular(theme::SMALL), ink, width)
    })
}

/// A text on as many lines as have room; the rest shows on hover.
fn wrapped(ui: &mut Ui, text: &str, (font, ink): (FontId, Color32), rect: Rect) {
    let row = ui.fonts_mut(|fonts| fonts.row_height(&font));
    let mut job = LayoutJob::simple(label::kept_together(text), font, ink, rect.width());
    job.wrap.max_rows = (rect.height() / row).floor().max(1.0) as usize;
    let mut inner = ui.new_child(UiBuilder::new().max_rect(rect).layout(Layout::top_down(Align::Min)));
    inner.add(Label::new(job).show_tooltip_when_elided(false)).on_hover_text(text);
}

/// The right half while no change is put on.
fn wanted(ui: &mut Ui, (title, sentence): (&str, &str), rect: Rect, mark: Option<&str>) {
    let palette = theme::palette(ui);
    let ink = if mark.is_some() { palette.quiet } else { palette.ink };
    let title = one_line(ui, &marked(mark, title), theme::strong(theme::SMALL), palette.quiet, rect.width());
    let title_height = title.size().y;
    ui.painter().galley(rect.min, title, palette.quiet);
    let font = if rect.width() < SLIM_HALF { theme::regular(theme::SMALL) } else { theme::regular(theme::BODY) };
    wrapped(ui, sentence, (font, ink), rect.with_min_y(rect.min.y + title_height));
}

/// What to do first, while there is no point.
fn first_step(ui: &mut Ui, screen: &Screen<'_>, verdict: &Verdict, rect: Rect) {
    let palette = theme::palette(ui);
    let is_first = matches!(
        screen.answer.why_not(),
        None | Some(NotRunning::NoMachine | NotRunning::NoTap | NotRunning::NotRead(_) | NotRunning::KeptBack)
    );
    let ink = if is_first { palette.ink } else { palette.over };
    let size = if rect.width() < NARROW - 24.0 { theme::BODY + 1.0 } else { theme::VERDICT };
    let text = one_line(ui, &verdict.headline, theme::strong(size), ink, rect.width());
    let below = rect.min.y + text.size().y + 2.0;
    ui.painter().galley(rect.min, text, ink);
    wrapped(ui, &verdict.detail, (theme::regular(theme::SMALL), palette.quiet), rect.with_min_y(below));
    let response = ui.interact(rect.with_max_y(below), ui.scope_id().with("first step"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, format!("Verdict: {}", verdict.headline)));
    response.on_hover_text(&verdict.headline);
}

/// The row of the weightiest finding, with what stands at its right end and before it; what is half entered comes before any finding.
fn finding_row(
    ui: &mut Ui,
    view: &View,
    setting: Setting,
    finding: Option<(Weight, String)>,
    at_the_end: impl FnOnce(&mut Ui),
    before: impl FnOnce(&mut Ui),
) {
    let palette = theme::palette(ui);
    let typed = half_entered(view).map(|(what, how)| (Weight::Act, format!("{what}: {how}")));
    let size = vec2(ui.available_width(), setting.finding);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_size(size);
        ui.spacing_mut().interact_size.y = setting.finding;
        ui.spacing_mut().button_padding.y = ui.spacing().button_padding.y.min((setting.finding - 18.0) / 2.0);
        at_the_end(ui);
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            before(ui);
            let Some((weight, text)) = typed.or(finding) else {
                return;
            };
            let ink = match weight {
                Weight::Act => palette.over,
                Weight::Look | Weight::Note => palette.ink,
            };
            let font = theme::regular(setting.size);
            let label = Label::new(RichText::new(&text).font(font).color(ink)).truncate();
            ui.add(label.show_tooltip_when_elided(false)).on_hover_text(&text);
        });
    });
}

/// The buttons that answer the first question, while there is no point.
fn first_buttons(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    match screen.answer.why_not() {
        Some(NotRunning::NoMachine) => pick_buttons(ui, out),
        Some(NotRunning::KeptBack) => command_button(ui, Command::ShowAnswers, out),
        Some(NotRunning::SignInDoubt) => super::job_panel::sign_buttons(ui, screen, out),
        _ => {}
    }
}

fn pick_buttons(ui: &mut Ui, out: &mut Vec<Action>) {
    for command in [Command::PickBlower, Command::TypeTable, Command::Open] {
        command_button(ui, command, out);
    }
}

fn command_button(ui: &mut Ui, command: Command, out: &mut Vec<Action>) {
    let button = ui.button(command.name());
    hint::hint(&button, || command.told(ui.ctx()));
    if button.clicked() {
        out.push(command.into());
    }
}

/// The button that opens all findings, and they.
fn all_findings(ui: &mut Ui, screen: &Screen<'_>, head: &Head) {
    let all: usize = head.all.iter().map(|(_, told)| told.len()).sum();
    let link = theme::palette(ui).tap_high;
    let text = RichText::new(format!("All {all} findings")).font(theme::strong(theme::SMALL)).color(link);
    let button = ui.add(Button::new(text).frame_when_inactive(false));
    button.widget_info(|| WidgetInfo::labeled(Role::Button, true, "All findings and cautions"));
    hint::hint(&button, || "Everything that the numbers say, and what has to be minded before acting".to_owned());
    sheet::sheet(&button, "What the numbers say", SHEET, |ui| findings(ui, screen, head));
}

/// What a commissioning sheet asks, where there is something to grade.
fn commissioning(ui: &mut Ui, screen: &Screen<'_>) {
    let told = |running| lines::sentences(screen.job, running, screen.units);
    let all = screen.answer.point().map(told).unwrap_or_default();
    if !all.is_empty() {
        label::heading(ui, &lines::title(screen.job));
    }
    for (grade, sentence) in all {
        match grade {
            Grade::Fail => label::error(ui, &sentence),
            Grade::CannotTell => label::question(ui, &sentence),
            Grade::Pass => label::caption(ui, format!("· {sentence}")),
        };
    }
}

/// Everything that the numbers say, and every caution.
fn findings(ui: &mut Ui, screen: &Screen<'_>, head: &Head) {
    for (heading, all) in &head.all {
        label::heading(ui, heading);
        for (weight, sentence) in all {
            match weight {
                Weight::Act => label::error(ui, sentence),
                Weight::Look => label::question(ui, sentence),
                Weight::Note => label::caption(ui, format!("· {sentence}")),
            };
        }
    }
    commissioning(ui, screen);
    label::caption(
        ui,
        "Pressures alone cannot show a dirty wheel, low voltage or another tap than said: a second airflow reading or a second tap can.",
    );
    label::heading(ui, "Before you act");
    for which in cautions::of_job(screen.job, screen.answer) {
        let told = cautions::told(which, screen.job, screen.answer);
        label::caption(ui, format!("{}: {}", told.word, told.sentence));
    }
}
