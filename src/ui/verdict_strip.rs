//! One or two sentences in plain words, always true, always current.

use eframe::egui::text::LayoutJob;
use eframe::egui::{Color32, Label, RichText, Role, TextStyle, Ui, WidgetInfo};

use crate::model::verdicts::system::NotRunning;
use crate::model::wording;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};

/// How much of the window the verdict may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// All that it needs.
    Enough,
    /// A low window: smaller type.
    Little,
}

/// Lines of headline that an answer keeps room for, so that nothing under the verdict moves when it says less.
const KEPT_HEADS: f32 = 2.0;
/// Lines of the second sentence: room is kept for them, and the rest shows on hover.
const DETAIL_ROWS: usize = 2;

/// Draws the verdict; while something is half entered, it says so instead of an answer that is no longer true.
pub fn verdict_strip(ui: &mut Ui, screen: &Screen<'_>, view: &View, room: Room, out: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    if view.is_half_entered() {
        let (what, how) = half_entered(view);
        headline(ui, what, palette.quiet, room);
        detail(ui, how, palette.quiet);
        return;
    }
    let verdict = wording::verdict(screen.job, screen.answer, screen.units);
    let is_first_step = matches!(
        screen.answer.why_not(),
        None | Some(NotRunning::NoMachine | NotRunning::NoTap | NotRunning::NotRead(_))
    );
    if screen.job.machine.is_some() && room == Room::Enough {
        let rows = DETAIL_ROWS as f32 * ui.text_style_height(&TextStyle::Body);
        let head = ui.fonts_mut(|fonts| fonts.row_height(&theme::strong(theme::VERDICT)));
        ui.set_min_height(KEPT_HEADS * head + ui.spacing().item_spacing.y + rows);
    }
    let colour = if is_first_step { palette.ink } else { palette.over };
    headline(ui, &verdict.headline, colour, room);
    detail(ui, &verdict.detail, palette.quiet);
    match screen.answer.why_not() {
        Some(NotRunning::NoMachine) => first_buttons(ui, out),
        Some(NotRunning::SignInDoubt) => super::job_panel::sign_buttons(ui, screen, out),
        _ => {}
    }
}

fn half_entered(view: &View) -> (&str, &str) {
    view.refused_value()
        .map_or(("Waiting for the value being typed", "Enter or Tab takes it, Escape leaves it as it was"), |refused| {
            ("That value is not possible: correct it, the answer waits", refused.message.as_str())
        })
}

/// A number and its unit, a sum and a ± stay on one line.
fn kept_together(text: &str) -> String {
    [" %", " in. w.c.", " cfm", " + ", " = ", "± "]
        .iter()
        .fold(text.to_owned(), |text, unit| text.replace(unit, &unit.replace(' ', "\u{a0}")))
}

fn headline(ui: &mut Ui, text: &str, colour: Color32, room: Room) {
    let size = if room == Room::Little { theme::BODY + 1.0 } else { theme::VERDICT };
    let response =
        ui.add(Label::new(RichText::new(kept_together(text)).font(theme::strong(size)).color(colour)).wrap());
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, format!("Verdict: {text}")));
}

fn detail(ui: &mut Ui, text: &str, colour: Color32) {
    if text.is_empty() {
        return;
    }
    let font = TextStyle::Body.resolve(ui.style());
    let mut job = LayoutJob::simple(kept_together(text), font, colour, ui.available_width());
    job.wrap.max_rows = DETAIL_ROWS;
    ui.add(Label::new(job)).on_hover_text(text);
}

fn first_buttons(ui: &mut Ui, out: &mut Vec<Action>) {
    use crate::ui::view::action::Command;
    ui.horizontal(|ui| {
        for command in [Command::PickBlower, Command::TypeTable, Command::Open] {
            if ui.button(command.name()).clicked() {
                out.push(command.into());
            }
        }
    });
}
