//! What lies over the window: the picker, the table editor, questions, messages.

use eframe::egui::{self, Align2, Area, Frame, Id, Key, Modal, Order, RichText, Ui, Vec2, vec2};

use crate::ui::view::action::Action;
use crate::ui::view::notices::{MOST_SHOWN, Notice, Tone};
use crate::ui::view::path_prompt::{PathPrompt, Purpose};
use crate::ui::view::{Confirm, Screen, View};
use crate::ui::widgets::{focus, label};
use crate::ui::{options, picker, table_editor, theme};

/// Draws whatever is open.
pub fn show(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    options::show(ui, screen, view, out);
    picker::show(ui, screen, view, out);
    table_editor::show(ui, screen, view, out);
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
    let modal = Modal::new(Id::unique("confirm")).show(ui.ctx(), |ui| {
        ui.set_width(width(ui, 360.0));
        label::strong(ui, question);
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
    let modal = Modal::new(Id::unique("path")).show(ui.ctx(), |ui| {
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
        Purpose::OpenJob(_) => "Open",
        Purpose::ShowBeside => "Show",
        Purpose::SaveJob(..) => "Save",
        Purpose::SaveReport(_) => "Write",
    }
}

/// The dialog stays open until the path has proved good, so that a slip in it can be mended.
fn typed_path(prompt: &mut PathPrompt, out: &mut Vec<Action>) {
    let path = prompt.path();
    let nothing = || "Path: nothing is typed; it takes a file's name with its folder".to_owned();
    prompt.problem = path.is_none().then(nothing);
    out.extend(path.map(|path| prompt.purpose.action(path)));
}

/// What a person closed among the messages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closed {
    /// The message of this index.
    One(usize),
    /// Every one.
    All,
}

/// From this width on the bar has room for a message beside the job's name, where nothing is read or typed.
const WIDE: f32 = 1100.0;
/// Left of the bar's units and view.
const IN_THE_BAR: (Align2, Vec2) = (Align2::RIGHT_TOP, vec2(-196.0, 3.0));
/// Where the bar has no room: over the line of hints, where there is one.
const OVER_THE_FOOT: f32 = 16.0;

/// Shows the latest messages and counts the others; gives what was closed.
///
/// `foot` is the height of the line of hints at the window's foot, points.
pub fn notices(ui: &Ui, kept: &[Notice], foot: f32) -> Option<Closed> {
    let mut closed = None;
    if kept.is_empty() {
        return None;
    }
    let earlier = kept.len().saturating_sub(MOST_SHOWN);
    // Above the picker and the table editor: a table that could not be kept must say so.
    let at_the_foot = (Align2::CENTER_BOTTOM, vec2(0.0, -OVER_THE_FOOT - foot));
    let (corner, off) = if ui.ctx().content_rect().width() >= WIDE { IN_THE_BAR } else { at_the_foot };
    Area::new(Id::unique("notices")).order(Order::Tooltip).anchor(corner, off).show(ui.ctx(), |ui| {
        if earlier > 0 {
            Frame::popup(ui.style()).show(ui, |ui| {
                ui.horizontal(|ui| {
                    ui.label(if earlier == 1 {
                        "1 earlier message".to_owned()
                    } else {
                        format!("{earlier} earlier messages")
                    });
                    if ui.small_button("Close all").clicked() {
                        closed = Some(Closed::All);
                    }
                });
            });
        }
        for (index, notice) in kept.iter().enumerate().skip(earlier) {
            if message(ui, notice) {
                closed = Some(Closed::One(index));
            }
        }
    });
    closed
}

/// Draws one message; true when it was closed.
fn message(ui: &mut Ui, notice: &Notice) -> bool {
    let palette = theme::palette(ui);
    let (ink, mark) = match notice.tone {
        Tone::Done => (palette.ink, "✓"),
        Tone::Wrong => (palette.over, "!"),
    };
    let row = |ui: &mut Ui| {
        ui.set_max_width(width(ui, 560.0));
        ui.horizontal(|ui| {
            ui.add(egui::Label::new(RichText::new(format!("{mark} {}", notice.text)).color(ink)).wrap());
            ui.small_button("Close").clicked()
        })
    };
    Frame::popup(ui.style()).show(ui, row).inner.inner
}
