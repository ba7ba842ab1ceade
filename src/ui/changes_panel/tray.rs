//! The tray: a card for each kind of change, to be dragged onto an element or put on by click or key; and what one element can take.

use eframe::egui::{
    Align2, Area, Button, Frame, Id, Key, Label, Modifiers, Order, Rect, Response, RichText, Role, Sense, Stroke, Ui,
    Vec2, WidgetInfo, vec2,
};

use crate::model::change::{Declaration, Lands, Role as Part, kinds};
use crate::model::facts::air_path::ElementId;
use crate::ui::changes_panel::{acceptors, put_on};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{InHand, Screen, View};
use crate::ui::widgets::{hint, label};

/// Height of a card, points.
const CARD: f32 = theme::FINGER;
/// Height of the line between fixes and conditions.
const PARTED: f32 = 2.0;
/// Room between the rows of cards, points.
const BETWEEN: f32 = 1.0;
/// Width of the places that a change can go to, points.
const PLACES: f32 = 300.0;
/// Width from which three cards stand side by side.
const THREE: f32 = 360.0;
/// Shares of the columns in the width: the long names stand at the right.
const TWO_COLUMNS: [f32; 2] = [0.45, 0.55];
/// The same of three.
const THREE_COLUMNS: [f32; 3] = [0.272, 0.362, 0.366];

/// Draws the tray.
pub fn tray(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    if screen.job.machine.is_none() {
        return;
    }
    // A drag that misses its button shall not smear a selection over the panel.
    ui.style_mut().interaction.selectable_labels = false;
    if view.in_hand_by_key.is_some() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        view.in_hand_by_key = None;
    }
    let (fixes, conditions): (Vec<_>, Vec<_>) = kinds::tray().partition(|declared| declared.role == Part::Fix);
    cards(ui, screen, &fixes, view, out);
    // A line is all that has room between them: every card is in sight in the usual window.
    let (line, _) = ui.allocate_exact_size(vec2(ui.available_width(), PARTED), Sense::hover());
    ui.painter().hline(line.x_range(), line.center().y, Stroke::new(1.0, theme::palette(ui).hairline));
    cards(ui, screen, &conditions, view, out);
    let cannot = |declared: &&&'static Declaration| first_place(screen, declared).is_none();
    let rest: Vec<_> = fixes.iter().chain(&conditions).filter(cannot).copied().collect();
    for on_blower in [false, true] {
        let of = |declared: &&&'static Declaration| (declared.lands == Lands::OnBlower) == on_blower;
        let names: Vec<&str> = rest.iter().filter(of).map(|declared| declared.name).collect();
        if !names.is_empty() {
            label::caption(ui, format!("Not here: {}: {}.", names.join(", "), why_not(on_blower)));
        }
    }
    ghost(ui, view);
}

/// The first element that can take a change.
fn first_place(screen: &Screen<'_>, declared: &'static Declaration) -> Option<ElementId> {
    let able = acceptors(screen, declared);
    able.first().copied().filter(|id| put_on(screen, declared, *id).is_some())
}

/// Why nothing can take a change.
const fn why_not(on_blower: bool) -> &'static str {
    if on_blower {
        "the table has no other tap, or no other call that it maps"
    } else {
        "such a part is in the table, out of the path, or not there"
    }
}

fn cards(ui: &mut Ui, screen: &Screen<'_>, declared: &[&'static Declaration], view: &mut View, out: &mut Vec<Action>) {
    let gap = theme::STEP * 0.375;
    let shares: &[f32] = if ui.available_width() < THREE { &TWO_COLUMNS } else { &THREE_COLUMNS };
    let columns = shares.len();
    let all = ui.available_width() - gap * (columns - 1) as f32;
    ui.spacing_mut().item_spacing.y = BETWEEN;
    ui.spacing_mut().interact_size.y = CARD;
    for line in declared.chunks(columns) {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for (one, share) in line.iter().zip(shares) {
                card(ui, screen, one, all * share, view, out);
            }
        });
    }
}

fn card(
    ui: &mut Ui,
    screen: &Screen<'_>,
    declared: &'static Declaration,
    width: f32,
    view: &mut View,
    out: &mut Vec<Action>,
) {
    let palette = theme::palette(ui);
    let able = acceptors(screen, declared);
    let can = first_place(screen, declared).is_some();
    let is_held = view.in_hand == Some(declared) || view.in_hand_by_key == Some(declared);
    let edge = if is_held { palette.change } else { palette.hairline };
    let ink = if can { palette.ink } else { palette.quiet };
    let text = RichText::new(declared.name).font(theme::regular(theme::SMALL)).color(ink);
    ui.spacing_mut().button_padding.x = theme::STEP * 0.25;
    // Only its edge at rest: under the pointer and in the focus it is edged as every button is.
    ui.visuals_mut().widgets.inactive.bg_stroke = Stroke::new(1.0, edge);
    let button = Button::new(text).sense(Sense::click_and_drag()).fill(palette.card);
    let response = ui.add_enabled(can, button.truncate().min_size(vec2(width, CARD)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, can, format!("Put on: {}", declared.name)));
    let response = explained(response, declared, can);
    if !can {
        return;
    }
    response.dnd_set_drag_payload(InHand(declared));
    if response.clicked() {
        pressed(screen, declared, &able, view, out);
    }
    if view.in_hand_by_key == Some(declared) {
        put_it_on(ui, screen, declared, response.rect, view, out);
    }
}

fn about(declared: &Declaration) -> String {
    format!("{}\n\nAssumes: {}\nSource: {}", declared.does, declared.assumes, declared.source)
}

fn explained(response: Response, declared: &Declaration, can: bool) -> Response {
    if can {
        hint::hint(&response, || declared.does.to_owned());
        return response.on_hover_text(about(declared));
    }
    let why = format!("Not here: {}", why_not(declared.lands == Lands::OnBlower));
    hint::hint(&response, || why.clone());
    response.on_disabled_hover_text(format!("{why}\n\n{}", about(declared)))
}

/// One place takes it at once; of several a person picks one.
fn pressed(
    screen: &Screen<'_>,
    declared: &'static Declaration,
    able: &[ElementId],
    view: &mut View,
    out: &mut Vec<Action>,
) {
    match able {
        [only] => put(screen, declared, *only, view, out),
        _ if view.in_hand_by_key == Some(declared) => view.in_hand_by_key = None,
        _ => view.in_hand_by_key = Some(declared),
    }
}

fn put(screen: &Screen<'_>, declared: &Declaration, on: ElementId, view: &mut View, out: &mut Vec<Action>) {
    view.in_hand_by_key = None;
    if let Some(action) = put_on(screen, declared, on) {
        view.open_change = Some(screen.job.next_change());
        out.push(action);
    }
}

/// Where a change that was picked up can go, over its card, so that no card slides away under the hand.
fn put_it_on(
    ui: &Ui,
    screen: &Screen<'_>,
    held: &'static Declaration,
    card: Rect,
    view: &mut View,
    out: &mut Vec<Action>,
) {
    Area::new(Id::unique("where a change goes"))
        .order(Order::Foreground)
        .pivot(Align2::LEFT_BOTTOM)
        .fixed_pos(card.left_top() - vec2(0.0, BETWEEN))
        .constrain(true)
        .show(ui.ctx(), |ui| {
            Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_max_width(PLACES);
                label::strong(ui, format!("{} on", held.name));
                ui.horizontal_wrapped(|ui| {
                    ui.spacing_mut().item_spacing = Vec2::splat(theme::STEP * 0.5);
                    for (id, name) in places(screen, held) {
                        if offer(ui, held, &name, &name).clicked() {
                            put(screen, held, id, view, out);
                        }
                    }
                });
                label::caption(ui, "Or press it in the air path. Escape puts it back");
            });
        });
}

/// Every place that can take a change, with a number where several bear the same name.
fn places(screen: &Screen<'_>, declared: &Declaration) -> Vec<(ElementId, String)> {
    let name_of = |id| screen.job.path.name_of(id).unwrap_or_default();
    let able = acceptors(screen, declared);
    let numbered = able.iter().enumerate().map(|(index, id)| {
        let same = able[..index].iter().filter(|other| name_of(**other) == name_of(*id)).count();
        let number = if same > 0 { format!(" ({})", same + 1) } else { String::new() };
        (*id, format!("{}{number}", name_of(*id)))
    });
    numbered.collect()
}

/// A button that puts a change on a place.
fn offer(ui: &mut Ui, declared: &Declaration, text: &str, place: &str) -> Response {
    let button = Button::new(RichText::new(text).font(theme::regular(theme::SMALL)));
    let response = ui.add(button.min_size(Vec2::splat(theme::FINGER)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{} on: {place}", declared.name)));
    response
}

/// Draws the changes that an element, or the bypass, can take; true when one was put on.
pub fn offered(ui: &mut Ui, screen: &Screen<'_>, on: ElementId, view: &mut View, out: &mut Vec<Action>) -> bool {
    let able: Vec<_> = kinds::tray().filter(|declared| put_on(screen, declared, on).is_some()).collect();
    if able.is_empty() {
        label::caption(ui, format!("No change works on it: {}", why_not(false)));
    }
    let name = screen.job.path.name_of(on).unwrap_or_default();
    let mut is_put = false;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = Vec2::splat(theme::STEP * 0.5);
        for declared in able {
            if offer(ui, declared, declared.name, name).on_hover_text(about(declared)).clicked() {
                put(screen, declared, on, view, out);
                is_put = true;
            }
        }
    });
    is_put
}

/// The name under the pointer while it is dragged.
fn ghost(ui: &Ui, view: &View) {
    let (Some(held), Some(at)) = (view.in_hand, ui.input(|input| input.pointer.latest_pos())) else {
        return;
    };
    let palette = theme::palette(ui);
    Area::new(Id::unique("a change in the hand"))
        .order(Order::Tooltip)
        .interactable(false)
        .pivot(Align2::LEFT_BOTTOM)
        .fixed_pos(at + vec2(10.0, -6.0))
        .show(ui.ctx(), |ui| {
            Frame::new()
                .fill(palette.card)
                .stroke(Stroke::new(1.5, palette.change))
                .corner_radius(4.0)
                .inner_margin(6.0)
                .show(ui, |ui| {
                    ui.add(
                        Label::new(RichText::new(held.name).font(theme::strong(theme::BODY)).color(palette.change))
                            .extend(),
                    );
                });
        });
}
