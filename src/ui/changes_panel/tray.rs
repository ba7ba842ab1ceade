//! The tray: a card for each kind of change, to be dragged onto an element or put on by click or key.

use eframe::egui::{
    Align2, Area, Button, Frame, Id, Key, Label, Modifiers, Order, Response, RichText, Role, Sense, Stroke, Ui,
    WidgetInfo, vec2,
};

use crate::model::change::{Declaration, Lands, Role as Part, kinds};
use crate::model::facts::air_path::ElementId;
use crate::ui::changes_panel::{acceptors, next_change, put_on};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{InHand, Screen, View};
use crate::ui::widgets::label;

/// Height of a card, points.
const CARD: f32 = 24.0;
/// Room between the rows of cards, points.
const BETWEEN: f32 = 2.0;
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
    label::caption(ui, "Another machine or call, and faults");
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
        if let Some(held) = view.in_hand_by_key.filter(|held| line.contains(held)) {
            put_it_on(ui, screen, held, view, out);
        }
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
}

fn explained(response: Response, declared: &Declaration, can: bool) -> Response {
    let about = format!("{}\n\nAssumes: {}\nSource: {}", declared.does, declared.assumes, declared.source);
    if can {
        return response.on_hover_text(about);
    }
    let why = why_not(declared.lands == Lands::OnBlower);
    response.on_disabled_hover_text(format!("Not here: {why}\n\n{about}"))
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
        view.open_change = Some(next_change(screen));
        out.push(action);
    }
}

fn put_it_on(ui: &mut Ui, screen: &Screen<'_>, held: &'static Declaration, view: &mut View, out: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        let change = theme::palette(ui).change;
        ui.label(RichText::new("Put it on").font(theme::strong(theme::SMALL)).color(change));
        let able = acceptors(screen, held);
        for (index, id) in able.iter().copied().enumerate() {
            let name_of = |id| screen.job.path.name_of(id).unwrap_or_default();
            let same = able[..index].iter().filter(|other| name_of(**other) == name_of(id)).count();
            let number = if same > 0 { format!(" ({})", same + 1) } else { String::new() };
            let name = format!("{}{number}", name_of(id));
            let response = ui.add(Button::new(RichText::new(&name).font(theme::regular(theme::SMALL))));
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{} on: {name}", held.name)));
            if response.clicked() {
                put(screen, held, id, view, out);
            }
        }
    });
    label::caption(ui, "Escape puts it back");
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
