//! Where a change in the hand can land: the elements that take it light up, the others step back.

use eframe::egui::{Align2, CornerRadius, DragAndDrop, Rect, Shape, Stroke, Ui, pos2};

use crate::edit::Edit;
use crate::model::change::Declaration;
use crate::model::facts::air_path::ElementId;
use crate::model::first_guess;
use crate::ui::path_strip::frame::Strip;
use crate::ui::path_strip::lettering;
use crate::ui::view::action::Action;
use crate::ui::view::held::Held;
use crate::ui::view::{InHand, View};
use crate::ui::{changes_panel, theme};

/// The change in the hand: dragged, or picked up by key.
pub fn in_hand(ui: &Ui, view: &View) -> Option<&'static Declaration> {
    let dragged = DragAndDrop::payload::<InHand>(ui.ctx()).map(|held| held.0);
    dragged.or(view.in_hand_by_key)
}

/// Lights up what can take the change in the hand, and puts it where it is let go or, picked up by key, where an element was pressed.
pub fn landing(ui: &Ui, strip: &Strip<'_>, columns: &[Column], view: &mut View, out: &mut Vec<Action>) {
    let Some(declared) = in_hand(ui, view) else {
        return;
    };
    let is_dragged = DragAndDrop::has_payload_of_type::<InHand>(ui.ctx());
    let (pointer, released) = ui.input(|input| (input.pointer.latest_pos(), input.pointer.any_released()));
    let mut over = None;
    let mut chosen = None;
    for column in columns {
        let takes = changes_panel::takes(&strip.screen, declared, column.id);
        let is_under = pointer.is_some_and(|at| column.rect.contains(at)) || column.has_focus;
        if takes {
            light(ui, column.rect, is_under);
        } else {
            step_back(ui, column.rect);
        }
        let put = if is_dragged { released && is_under } else { column.is_pressed };
        over = over.or_else(|| (takes && is_under).then_some(column.id));
        chosen = chosen.or_else(|| (takes && put).then_some(column.id));
    }
    match (chosen, over) {
        (Some(id), _) => put_on(ui, strip, declared, id, view, out),
        (None, Some(id)) => {
            let first = first_guess::first(declared, id, strip.screen.job, strip.screen.answer);
            view.held = first.map(|kind| Held::Change(Edit::AddChange(kind)));
        }
        (None, None) => {}
    }
}

/// An element's place in the strip, and what the hand does there.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// The element.
    pub id: ElementId,
    /// Its place.
    pub rect: Rect,
    /// True when it was just pressed.
    pub is_pressed: bool,
    /// True while the keys go to it.
    pub has_focus: bool,
}

fn put_on(
    ui: &Ui,
    strip: &Strip<'_>,
    declared: &'static Declaration,
    id: ElementId,
    view: &mut View,
    out: &mut Vec<Action>,
) {
    DragAndDrop::clear_payload(ui.ctx());
    view.in_hand = None;
    view.in_hand_by_key = None;
    if let Some(action) = changes_panel::put_on(&strip.screen, declared, id) {
        view.open_change = Some(strip.screen.job.next_change());
        out.push(action);
    }
}

fn light(ui: &Ui, column: Rect, is_over: bool) {
    let palette = theme::palette(ui);
    let frame = column.shrink(2.0);
    if is_over {
        ui.painter().rect_filled(frame, CornerRadius::same(4), palette.landing());
    }
    let corners = [frame.left_top(), frame.right_top(), frame.right_bottom(), frame.left_bottom(), frame.left_top()];
    let stroke = Stroke::new(if is_over { 2.6 } else { 1.6 }, palette.change);
    ui.painter().extend(Shape::dashed_line(&corners, stroke, 6.0, 4.0));
    let font = theme::strong(theme::SMALL);
    let width = lettering::width_of(ui.painter(), "put here", font.clone());
    let fitting = if width <= frame.width() - 2.0 { "put here" } else { "here" };
    let at = pos2(frame.center().x, frame.bottom() - 3.0);
    let ground = Rect::from_center_size(
        at - eframe::egui::vec2(0.0, 8.0),
        eframe::egui::vec2(width.min(frame.width() - 4.0), 15.0),
    );
    ui.painter().rect_filled(ground, CornerRadius::same(3), palette.surface);
    ui.painter().text(at, Align2::CENTER_BOTTOM, fitting, font, palette.change);
}

fn step_back(ui: &Ui, column: Rect) {
    let veil = theme::palette(ui).surface.gamma_multiply(0.65);
    ui.painter().rect_filled(column, CornerRadius::ZERO, veil);
}
