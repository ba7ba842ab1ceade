//! What the keys come to is brought into view and ringed, and gets them back when what lay over it is closed.

use eframe::egui::style::ScrollAnimation;
use eframe::egui::{Context, Id, Key, LayerId, Memory, Order, Rect, Response, Stroke, StrokeKind, Ui};

use crate::ui::theme;

/// Room between what has the focus and its ring, points.
const RING_ROOM: f32 = 2.5;

/// The list of calls, by the name that it is called by.
pub const CALL: &str = "Call";
/// The file menu, by the name that it is called by.
pub const FILE: &str = "File";

/// Calls for the focus of a list or menu by its name; it takes it when it is drawn next.
pub fn call(ctx: &Context, name: &'static str) {
    ctx.data_mut(|data| data.insert_temp(called(name), ()));
}

/// True once for what was called.
pub fn is_called(ui: &Ui, name: &str) -> bool {
    ui.data_mut(|data| data.remove_temp::<()>(called(name))).is_some()
}

fn called(name: &str) -> Id {
    Id::unique(("called", name))
}

/// Gives a question's default the keys while nothing else has them.
pub fn by_default(button: &Response) {
    if button.ctx.memory(|memory| memory.focused().is_none()) {
        button.request_focus();
    }
}

/// Pictures after a closing in which the focus is given back.
const AFTER_CLOSING: u8 = 3;

/// Takes the focus to the next part of the window, or the one before: to the first thing there that can have it.
pub fn to_part(ctx: &Context, parts: &[Rect], back: bool) {
    let focused = ctx.memory(Memory::focused).and_then(|id| ctx.read_response(id));
    let present = focused.and_then(|seen| parts.iter().position(|part| part.contains(seen.interact_rect.center())));
    let count = parts.len();
    let along = |step: usize| match (present, back) {
        (Some(at), false) => (at + step) % count,
        (Some(at), true) => (at + count - step) % count,
        (None, false) => step - 1,
        (None, true) => count - step,
    };
    let first_in = |part: &Rect| {
        ctx.viewport(|viewport| {
            let mut below = viewport.prev_pass.widgets.get_layer(LayerId::background());
            below
                .find(|widget| {
                    let can_have_it = widget.enabled && widget.visible && widget.sense.is_focusable();
                    can_have_it && widget.interact_rect.is_positive() && part.contains(widget.interact_rect.center())
                })
                .map(|widget| widget.id)
        })
    };
    if let Some(id) = (1..=count).find_map(|step| first_in(parts.get(along(step))?)) {
        ctx.memory_mut(|memory| memory.request_focus(id));
    }
}

/// Whose the keys are, from one picture to the next.
#[derive(Clone, Copy, Debug, Default)]
pub struct Keys {
    /// True while a person goes by keys: only then a ring shows where they are.
    by_key: bool,
    /// What had the focus before something was laid over the window.
    under: Option<Id>,
    /// True while something lies over the window.
    is_covered: bool,
    /// Pictures more in which the focus is given back.
    goes_back: u8,
}

impl Keys {
    /// After a picture: rings what has the focus, and gives it back to what had it once nothing covers the window any more.
    pub fn tend(&mut self, ui: &Ui, is_covered: bool) {
        let focused = ui.memory(Memory::focused);
        if self.is_covered && !is_covered {
            self.goes_back = AFTER_CLOSING;
        }
        self.is_covered = is_covered;
        match self.under.filter(|_| self.goes_back > 0) {
            // What lay over it has the keys to itself until it is gone for a picture or two.
            Some(id) if focused.is_none_or(|focused| lay_over(ui, focused)) && !is_covered => {
                self.goes_back -= 1;
                ui.memory_mut(|memory| memory.request_focus(id));
                ui.ctx().request_repaint();
            }
            _ if is_covered => {}
            _ => (self.goes_back, self.under) = (0, focused),
        }
        ui.input(|input| {
            let goes = [Key::Tab, Key::ArrowUp, Key::ArrowDown, Key::ArrowLeft, Key::ArrowRight, Key::F6, Key::F10];
            self.by_key |= goes.iter().any(|key| input.key_pressed(*key));
            self.by_key &= !input.pointer.any_pressed();
        });
        if let (true, Some(id)) = (self.by_key, focused) {
            ring(ui, id);
        }
    }
}

/// True for a thing of what lay over the panels: it keeps the keys for a picture after it is gone.
fn lay_over(ui: &Ui, id: Id) -> bool {
    ui.ctx().read_response(id).is_none_or(|response| response.layer_id.order != Order::Background)
}

/// Two lines, one of ink and one of paper, so that one of them stands out from whatever lies under it.
fn ring(ui: &Ui, id: Id) {
    let Some(response) = ui.ctx().read_response(id).filter(|response| response.interact_rect.is_positive()) else {
        return;
    };
    let palette = theme::palette(ui);
    let painter = ui.ctx().layer_painter(LayerId::new(Order::Tooltip, Id::unique("focus ring")));
    for (room, width, colour) in [(RING_ROOM, 2.0, palette.ink), (RING_ROOM - 1.5, 1.5, palette.card)] {
        let around = response.interact_rect.expand(room);
        painter.rect_stroke(around, 6.0, Stroke::new(width, colour), StrokeKind::Middle);
    }
}

/// Scrolls to what has just taken the focus, where it stands in the scrolled part that `ui` fills; called when all of the part is drawn.
pub fn follow(ui: &Ui) {
    let key = ui.scope_id().with("focus followed");
    let focused = ui.memory(Memory::focused);
    let before: Option<Id> = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(key), focused));
    let Some(response) = focused.filter(|id| before != Some(*id)).and_then(|id| ui.ctx().read_response(id)) else {
        return;
    };
    // What is pressed is in view, and must not move under the pointer.
    let is_pressed =
        ui.input(|input| input.pointer.any_pressed() || input.pointer.any_down() || input.pointer.any_released());
    if !is_pressed && response.layer_id == ui.layer_id() && belongs(response.rect, response.interact_rect, ui) {
        ui.scroll_to_rect_animation(response.rect, None, ScrollAnimation::none());
    }
}

/// True where a widget is one of the part: in its content, and seen, as far as it is seen, through its window alone.
fn belongs(rect: Rect, seen: Rect, ui: &Ui) -> bool {
    let is_elsewhere = seen.is_positive() && !ui.clip_rect().expand(1.0).contains_rect(seen);
    ui.min_rect().expand(1.0).contains_rect(rect) && !is_elsewhere
}
