//! Elements that can be opened: those of the chain, those in ways, and the bypass.

use eframe::egui::{CornerRadius, Rect, RectAlign, Response, Role, Sense, Stroke, StrokeKind, Tooltip, Ui, WidgetInfo};

use crate::model::facts::air_path::{Element, ElementId, ElementKind};
use crate::model::wording::{self, visit};
use crate::ui::path_strip::card;
use crate::ui::path_strip::frame::Strip;
use crate::ui::path_strip::landing::{self, Column};
use crate::ui::path_strip::remarks;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{CardState, FieldKey, View};
use crate::ui::widgets::hint;
use crate::units::show;

/// Something that can be pressed: the element, its place, and what is read out.
struct Pressable {
    id: ElementId,
    rect: Rect,
    name: String,
}

/// Makes every element something to press, and draws the card of the open one, over `top`.
pub fn elements(ui: &mut Ui, strip: &Strip<'_>, top: f32, view: &mut View, out: &mut Vec<Action>) {
    let was_open = view.open_element.map(ElementId);
    let is_held = landing::in_hand(ui, view).is_some();
    let path = &strip.screen.job.path;
    let mut columns = Vec::new();
    let pressables: Vec<Pressable> = in_chain(strip).into_iter().chain(in_ways(strip)).chain(bypass(strip)).collect();
    for pressable in &pressables {
        let is_open = was_open == Some(pressable.id);
        let response = button(ui, pressable, is_open);
        let (is_pressed, has_focus) = (response.clicked(), response.has_focus());
        let is_bypass = path.bypass.as_ref().is_some_and(|bypass| bypass.id == pressable.id);
        if !is_bypass {
            columns.push(Column { id: pressable.id, rect: pressable.rect, is_pressed, has_focus });
        }
        if is_pressed && !is_held {
            view.open_element = Some(pressable.id.0);
            view.card = CardState::default();
            view.go_to = path.element(pressable.id).and_then(first_field);
        }
    }
    landing::landing(ui, strip, &columns, view, out);
    let Some(id) = was_open else {
        return;
    };
    match pressables.iter().find(|pressable| pressable.id == id) {
        Some(open) => card::card(ui, strip, id, eframe::egui::pos2(open.rect.center().x, top - 4.0), view, out),
        None => view.open_element = None,
    }
}

/// The field that the hand goes to when a card opens.
fn first_field(element: &Element) -> Option<FieldKey> {
    if element.kind == ElementKind::Leak {
        return Some(FieldKey::LeakAir(element.id.0));
    }
    (!element.is_group() && card::has_drop(element)).then_some(FieldKey::ElementDrop(element.id.0))
}

/// Elements of the chain, the name says what is known of them.
fn in_chain(strip: &Strip<'_>) -> Vec<Pressable> {
    let elements = strip.screen.job.path.elements.iter().enumerate();
    elements
        .map(|(index, element)| {
            let rect = Rect::from_x_y_ranges(strip.column(index), strip.head_top(index)..=strip.plot.bottom());
            let profile = strip.screen.answer.point().and_then(|running| running.system.profile.as_ref());
            let share = profile.and_then(|profile| {
                let joined = strip.joined.iter().find(|joined| joined.elements.contains(&index));
                joined.map_or_else(|| profile.share(element.id), |joined| profile.share_of(joined.before))
            });
            let of_drop = |share| format!(", {} of the external drop", show::percent(share));
            let together = || {
                let mut stretches = profile.into_iter().flat_map(|profile| &profile.together);
                let (_, drop) = stretches.find(|(ids, _)| ids.contains(&element.id))?;
                Some(format!("{} together", of_drop(profile?.share_of(*drop)?)))
            };
            let share = share.map(of_drop).or_else(together);
            let most = if strip.takes_most(index) { ", more than any other" } else { "" };
            let known = remarks_of(strip, index);
            let name = format!("{}, {known}{}{most}", element.name(), share.unwrap_or_default());
            Pressable { id: element.id, rect, name }
        })
        .collect()
}

/// Elements in ways, with the way that they stand in and its air.
fn in_ways(strip: &Strip<'_>) -> Vec<Pressable> {
    let path = &strip.screen.job.path;
    let cells = strip.ways.cells.iter();
    let as_found = visit::as_found(strip.screen.job);
    cells
        .filter_map(|cell| {
            let (group, way) = path.way_of(cell.id)?;
            let row = strip.ways.rows.iter().find(|row| row.group == group.id && row.way == way)?;
            let air = [&row.air.airflow, &row.air.share].map(String::as_str).join(" ");
            let name = path.name_of(cell.id)?;
            let known = cell.remark.spoken(strip.screen.units, &as_found);
            let name = format!("{name}, {known}, way {} of {}, {}", way + 1, group.name().to_lowercase(), air.trim());
            Some(Pressable { id: cell.id, rect: cell.rect, name })
        })
        .collect()
}

fn bypass(strip: &Strip<'_>) -> Option<Pressable> {
    let path = &strip.screen.job.path;
    let (bypass, line) = (path.bypass.as_ref()?, strip.bypass.as_ref()?);
    let name = |id| path.name_of(id).unwrap_or_default().to_lowercase();
    let (leaves, joins) = (name(bypass.leaves_after), name(bypass.joins_after));
    let name = format!("{}, leaves after the {leaves}, joins after the {joins}", wording::capital(&line.text));
    Some(Pressable { id: bypass.id, rect: line.rect, name })
}

/// A part of the path that is pressed or entered.
fn button(ui: &Ui, pressable: &Pressable, is_open: bool) -> Response {
    let response = ui.interact(pressable.rect, card::focus_id(pressable.id), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &pressable.name));
    hint::hint(&response, || "Enter opens what is known of it, its place in the path and what it can take".to_owned());
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    let palette = theme::palette(ui);
    let edge = match (response.has_focus() || is_open, response.hovered()) {
        (true, _) => Stroke::new(2.0, palette.tap_high),
        (_, true) => Stroke::new(1.0, palette.quiet),
        _ => Stroke::NONE,
    };
    ui.painter().rect_stroke(pressable.rect.shrink(1.0), CornerRadius::same(4), edge, StrokeKind::Inside);
    // Above: under the path stand the readings, which it must not cover.
    let mut known = Tooltip::for_enabled(&response);
    known.popup = known.popup.align(RectAlign::TOP_START);
    known.show(|ui| ui.label(&pressable.name));
    response
}

fn remarks_of(strip: &Strip<'_>, index: usize) -> String {
    let shared = strip.segments.iter().any(|segment| segment.elements.contains(&index));
    let remark = strip.remarks[index];
    if remark != remarks::Remark::Nothing {
        return remark.spoken(strip.screen.units, &visit::as_found(strip.screen.job));
    }
    if shared { "shares a stretch's drop with its neighbors".to_owned() } else { "not read yet".to_owned() }
}
