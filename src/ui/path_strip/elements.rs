//! Elements that can be opened, and the card on which one's drop is typed by data.

use eframe::egui::{
    self, Align2, Area, CornerRadius, Frame, Id, Key, Order, Rect, Response, RichText, Role, Sense, Stroke, StrokeKind,
    Ui, WidgetInfo, pos2,
};

use crate::app::action::Action;
use crate::edit::Edit;
use crate::model::air_path::{AirPath, Element, ElementId, ElementKind};
use crate::model::job::Job;
use crate::ui::path_strip::frame::Strip;
use crate::ui::path_strip::landing;
use crate::ui::path_strip::projected;
use crate::ui::path_strip::remarks::{self, Takes};
use crate::ui::path_strip::{element_drop, element_share};
use crate::ui::theme;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::label;
use crate::units::show;

/// Width of the card.
const CARD: f32 = 290.0;

/// Makes every element something to press, and draws the card of the open one.
pub fn elements(ui: &mut Ui, strip: &Strip<'_>, view: &mut View, out: &mut Vec<Action>) {
    let was_open = view.open_element;
    let is_held = landing::in_hand(ui, view).is_some();
    let mut columns = Vec::new();
    for (index, element) in strip.screen.job.path.elements.iter().enumerate() {
        let column = Rect::from_x_y_ranges(strip.column(index), strip.rect.top()..=strip.plot.bottom());
        let response = element_button(ui, strip, index, column);
        let (is_pressed, has_focus) = (response.clicked(), response.has_focus());
        columns.push(landing::Column { id: element.id, rect: column, is_pressed, has_focus });
        if is_pressed && !is_held {
            view.open_element = Some(element.id.0);
            view.go_to = Some(FieldKey::ElementDrop(element.id.0)).filter(|_| has_drop(element));
        }
    }
    landing::landing(ui, strip, &columns, view, out);
    let path = &strip.screen.job.path;
    let index = was_open.and_then(|id| path.index_of(ElementId(id)));
    match (was_open, index) {
        (Some(_), Some(index)) => card(ui, strip, index, view, out),
        (Some(_), None) => view.open_element = None,
        _ => {}
    }
}

/// A part of the path that is pressed or entered; the name says what is known of it.
fn element_button(ui: &Ui, strip: &Strip<'_>, index: usize, rect: Rect) -> Response {
    let element = &strip.screen.job.path.elements[index];
    let response = ui.interact(rect, Id::unique(("element", element.id.0)), Sense::click());
    let known = remarks_of(strip, index);
    let share = strip.screen.answer.point().and_then(|running| projected::share_of(running, element.id));
    let share = share.map(|share| format!(", {} of the external drop", show::percent(share))).unwrap_or_default();
    let most = if strip.takes(index) == Takes::Most { ", more than any other" } else { "" };
    let name = format!("{}, {known}{share}{most}", element.kind.name());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    let palette = theme::palette(ui);
    let edge = match (response.has_focus(), response.hovered()) {
        (true, _) => Stroke::new(2.0, palette.tap_high),
        (_, true) => Stroke::new(1.0, palette.quiet),
        _ => Stroke::NONE,
    };
    ui.painter().rect_stroke(rect.shrink(1.0), CornerRadius::same(4), edge, StrokeKind::Inside);
    response.on_hover_text(name)
}

fn remarks_of(strip: &Strip<'_>, index: usize) -> String {
    let shared = strip.segments.iter().any(|segment| segment.elements.contains(&index));
    match strip.remarks[index] {
        remarks::Remark::Nothing if shared => "shares a segment's drop with its neighbours".to_owned(),
        remarks::Remark::Nothing => "not read yet".to_owned(),
        remark => remark.spoken(strip.screen.units),
    }
}

/// Whether an element's drop can be typed: what every table contains has none of its own.
const fn has_drop(element: &Element) -> bool {
    !matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger)
}

fn card(ui: &Ui, strip: &Strip<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) {
    let element = &strip.screen.job.path.elements[index];
    let column = strip.column(index);
    let mut close = false;
    // Escape in a field leaves the value as it was; only the next one closes the card.
    let was_typing = view.entry.is_some();
    let area = Area::new(Id::unique("element card"))
        .order(Order::Foreground)
        .pivot(Align2::CENTER_BOTTOM)
        .fixed_pos(pos2(column.center(), strip.rect.top() - 4.0))
        .constrain(true)
        .accessible_name(element.kind.name())
        .show(ui.ctx(), |ui| {
            Frame::popup(ui.style()).inner_margin(egui::Margin::same(12)).show(ui, |ui| {
                ui.set_width(CARD);
                // While the card is only measured, nothing in it can take the hand.
                let next = view.go_to.take_if(|_| ui.is_sizing_pass());
                close = contents(ui, &strip.screen, index, view, out);
                view.go_to = next.or(view.go_to);
            });
        });
    let escaped = !was_typing && ui.input(|input| input.key_pressed(Key::Escape));
    if close || escaped || area.response.clicked_elsewhere() {
        element_drop::take_what_is_typed(view, &strip.screen, element, out);
        element_share::take_what_is_typed(view, &strip.screen, element, out);
        view.open_element = None;
    }
}

/// The card's inside; true when it is to be closed.
fn contents(ui: &mut Ui, screen: &Screen<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) -> bool {
    let element = &screen.job.path.elements[index];
    let quiet = theme::palette(ui).quiet;
    let mut close = false;
    ui.horizontal(|ui| {
        ui.label(RichText::new(element.kind.name()).font(theme::strong(theme::BODY)));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            close = ui.button("Close").clicked();
        });
    });
    ui.label(RichText::new(table_sentence(screen.job, element)).font(theme::regular(theme::SMALL)).color(quiet));
    if has_drop(element) {
        element_drop::fields(ui, screen, element, view, out);
        element_share::fields(ui, screen, element, view, out);
        let mut is_out = remarks::is_out(screen.job, element);
        if ui.checkbox(&mut is_out, "Out of the path during the readings").changed() {
            out.push(Edit::PartOut(element.id, is_out).into());
        }
    } else {
        label::caption(ui, "Its drop is part of every table.");
    }
    close
}

fn table_sentence(job: &Job, element: &Element) -> &'static str {
    let Some(table) = &job.machine else {
        return "No blower is chosen yet";
    };
    match element.kind {
        ElementKind::Blower => "The blower of the table",
        _ if AirPath::is_inside(element, &table.basis) => "Inside the rating: the table contains it",
        _ => "Outside the rating: the table does not contain it",
    }
}
