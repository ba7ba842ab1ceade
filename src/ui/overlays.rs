//! What lies over the window: the picker, the table editor, questions, messages.

use eframe::egui::{self, Align, Align2, Area, Frame, Id, Key, Layout, Order, Rect, RichText, Ui, pos2, vec2};

use crate::ui::view::action::Action;
use crate::ui::view::notices::{MOST_SHOWN, Notice, Tone};
use crate::ui::view::path_prompt::{PathPrompt, Purpose};
use crate::ui::view::{Confirm, Screen, View};
use crate::ui::widgets::{focus, label, sheet};
use crate::ui::{chart_trace, picker, table_editor, table_sheet, theme};

/// Draws whatever is open.
pub fn show(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    picker::show(ui, screen, view, out);
    table_editor::show(ui, screen, view, out);
    table_sheet::show(ui, screen, view, out);
    chart_trace::show(ui, screen, view, out);
    path_prompt(ui, view, out);
    confirm(ui, view, out);
}

/// Width of a question: as wished, or what a small or much enlarged window has.
pub fn width(ui: &Ui, wished: f32) -> f32 {
    wished.min(ui.ctx().content_rect().width() - 8.0 * theme::STEP)
}

fn confirm(ui: &Ui, view: &mut View, out: &mut Vec<Action>) {
    let Some(Confirm { question, yes, no, third, action }) = view.confirm.clone() else {
        return;
    };
    let mut close = false;
    let modal = sheet::question(ui, ("confirm", &question), |ui| {
        ui.set_width(width(ui, 360.0));
        label::strong(ui, &question);
        ui.add_space(theme::STEP);
        ui.horizontal_wrapped(|ui| {
            let leave = ui.button(no);
            close = leave.clicked();
            // Enter keeps the work: by saving it where that is an answer, else by leaving all as it is.
            match third {
                Some((name, action)) => {
                    let save = ui.button(name);
                    focus::by_default(&save);
                    if save.clicked() {
                        out.push(*action);
                        close = true;
                    }
                }
                None => focus::by_default(&leave),
            }
            if ui.button(RichText::new(yes).color(theme::palette(ui).over)).clicked() {
                out.push(*action);
                close = true;
            }
        });
    });
    if close || modal.should_close() {
        view.confirm = None;
    }
}

fn path_prompt(ui: &Ui, view: &mut View, out: &mut Vec<Action>) {
    let is_asked = view.confirm.is_some();
    let Some(prompt) = view.path_prompt.as_mut() else {
        return;
    };
    let mut is_cancelled = false;
    let modal = sheet::question(ui, "path", |ui| {
        ui.set_width(width(ui, 460.0));
        label::strong(ui, prompt.purpose.title());
        label::caption(ui, "This system shows no file dialog; type the path.");
        let name = ui.label("Path");
        let response =
            ui.add(egui::TextEdit::singleline(&mut prompt.text).desired_width(f32::INFINITY)).labelled_by(name.id);
        if !response.has_focus() && !response.lost_focus() && !is_asked {
            response.request_focus();
        }
        if let Some(problem) = &prompt.problem {
            label::error(ui, problem);
        }
        let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        ui.horizontal(|ui| {
            is_cancelled = ui.button("Cancel").clicked();
            if (ui.button(verb(&prompt.purpose)).clicked() || entered) && !is_asked {
                typed_path(prompt, out);
            }
        });
    });
    if is_cancelled || (modal.should_close() && !is_asked) {
        view.path_prompt = None;
    }
}

const fn verb(purpose: &Purpose) -> &'static str {
    match purpose {
        Purpose::OpenJob(_) | Purpose::OpenTable => "Open",
        Purpose::ShowBeside => "Show",
        Purpose::Logo => "Take it",
        Purpose::SaveJob(..) => "Save",
        Purpose::SaveReport(_) | Purpose::SaveSheet(_) | Purpose::SaveTable(..) => "Write",
    }
}

/// The dialog stays open until the path has proved good, so that a slip in it can be mended.
fn typed_path(prompt: &mut PathPrompt, out: &mut Vec<Action>) {
    let path = prompt.path();
    let nothing = || "Path: nothing is typed; it takes a file's name with its folder".to_owned();
    prompt.problem = path.is_none().then(nothing);
    out.extend(path.map(|path| prompt.purpose.action(path)));
}

/// Widest that a message is drawn.
const MESSAGE: f32 = 560.0;

/// What a person closed among the messages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closed {
    /// The message of this index.
    One(usize),
    /// Every one.
    All,
}

/// Where the bar has no room: over the line of hints, where there is one.
const OVER_THE_FOOT: f32 = 16.0;
/// Room over a message in the bar, and what its frame takes at each side.
const IN_THE_BAR: (f32, f32) = (3.0, 8.0);

/// Shows the latest messages and counts the others; gives what was closed.
///
/// `place` is the room that the bar has for the latest; without it the latest few stand over the line of hints, whose height is `foot`, in points.
pub fn notices(ui: &Ui, kept: &[Notice], place: Option<Rect>, foot: f32) -> Option<Closed> {
    let mut closed = None;
    if kept.is_empty() {
        return None;
    }
    let earlier = kept.len().saturating_sub(if place.is_some() { 1 } else { MOST_SHOWN });
    // Above the picker and the table editor: a table that could not be kept must say so.
    let area = Area::new(Id::unique("notices")).order(Order::Tooltip);
    let area = match place {
        Some(place) => area.fixed_pos(pos2(place.left(), IN_THE_BAR.0)),
        None => area.anchor(Align2::CENTER_BOTTOM, vec2(0.0, -OVER_THE_FOOT - foot)),
    };
    let width = place.map_or(width(ui, MESSAGE), |place| place.width() - 2.0 * IN_THE_BAR.1);
    area.show(ui.ctx(), |ui| {
        ui.set_max_width(width);
        for (index, notice) in kept.iter().enumerate().skip(earlier) {
            let before = if index == earlier { earlier } else { 0 };
            closed = closed.or(message(ui, index, notice, before));
        }
    });
    closed
}

/// Draws one message, and before it how many came earlier and are not shown; gives what was closed.
fn message(ui: &mut Ui, index: usize, notice: &Notice, earlier: usize) -> Option<Closed> {
    let palette = theme::palette(ui);
    let (ink, mark) = match notice.tone {
        Tone::Done => (palette.ink, "✓"),
        Tone::Wrong => (palette.over, "!"),
    };
    let mut closed = None;
    let row = |ui: &mut Ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.small_button("Close").clicked() {
                closed = Some(Closed::One(index));
            }
            if earlier > 0 {
                if ui.small_button("Close all").clicked() {
                    closed = Some(Closed::All);
                }
                label::caption(ui, format!("{earlier} earlier"));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = RichText::new(format!("{mark} {}", notice.text)).font(theme::regular(theme::SMALL));
                ui.add(egui::Label::new(text.color(ink)).wrap());
            });
        });
    };
    Frame::popup(ui.style()).show(ui, row);
    closed
}
