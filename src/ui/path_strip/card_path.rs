//! An element's place in the path, as it is changed on its card: moved, joined by others, doubled, taken out.

use eframe::egui::{Button, Role, Ui, Vec2, WidgetInfo, vec2};

use crate::edit::{self, Direction, Edit};
use crate::model::facts::air_path::chain::{Beside, CAN_BE_ADDED};
use crate::model::facts::air_path::{Element, ElementId, ElementKind, Port, Whereabouts};
use crate::model::facts::caution::Caution;
use crate::ui::path_strip::card_fields;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{CardPane, CardState, FieldKey, Screen, View};
use crate::ui::widgets::field::FieldSpec;
use crate::ui::widgets::{caution, label};
use crate::units::show;

/// Width of a short field.
const BOX: f32 = 58.0;

/// The card's second half: what can be done with an element's place.
pub fn actions(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    let pane = view.card.pane;
    if pane != CardPane::Actions {
        label::strong(ui, pane_title(pane, element));
        if named(ui, "Back", "Back to what can be done").clicked() {
            view.card.pane = CardPane::Actions;
            view.card.refusal = None;
        }
    }
    match pane {
        CardPane::Actions => list(ui, screen, element, view, out),
        CardPane::PutBefore => put_in(ui, screen, element, Beside::Before(element.id), view, out),
        CardPane::PutAfter => put_in(ui, screen, element, Beside::After(element.id), view, out),
        CardPane::WayBeside => way_beside(ui, screen, element, view, out),
        CardPane::Leak => card_fields::leak_to_be(ui, screen, element, view, out),
        CardPane::Bypass => bypass_to_be(ui, screen, element, view, out),
    }
    if let Some(sentence) = &view.card.refusal {
        label::error(ui, sentence);
    }
}

fn pane_title(pane: CardPane, element: &Element) -> String {
    let name = element.name().to_lowercase();
    match pane {
        CardPane::PutBefore => format!("Put in before the {name}"),
        CardPane::PutAfter => format!("Put in after the {name}"),
        CardPane::WayBeside => "A second way beside".to_owned(),
        CardPane::Leak => format!("A leak after the {name}"),
        CardPane::Bypass => format!("A bypass after the {name}"),
        CardPane::Actions => String::new(),
    }
}

/// A button whose name for screen readers says more than its text.
fn named(ui: &mut Ui, text: &str, name: &str) -> eframe::egui::Response {
    let response = ui.add(Button::new(text).min_size(Vec2::splat(theme::FINGER)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    response
}

/// Hands out an edit, or keeps the sentence why it cannot be; true when it was handed out.
fn give(edit: Edit, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) -> bool {
    match edit::check(screen.job, &edit) {
        Ok(()) => {
            view.card.refusal = None;
            out.push(edit.into());
            true
        }
        Err(refusal) => {
            view.card.refusal = Some(refusal.sentence(screen.units));
            false
        }
    }
}

fn list(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    name(ui, screen, element, view, out);
    caution::caution(ui, screen, Caution::Drilling);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(theme::STEP * 0.5, theme::STEP * 0.5);
        for (text, name, edit) in moves(screen, element) {
            if named(ui, &text, &name).clicked() {
                give(edit, screen, view, out);
            }
        }
        for (pane, text) in panes(screen, element) {
            if ui.add(Button::new(text).min_size(Vec2::splat(theme::FINGER))).clicked() {
                view.card.pane = pane;
                view.card.refusal = None;
                view.card.joins = None;
                if pane == CardPane::Leak {
                    view.go_to = Some(FieldKey::NewLeak(element.id.0));
                }
            }
        }
    });
    cabinet(ui, screen, element, view, out);
}

fn name(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    let key = FieldKey::ElementName(element.id.0);
    let spec = FieldSpec { key, name: "Called", shown: element.name(), edited: element.name(), unit: "", width: 150.0 };
    card_fields::typed(ui, (screen, view, out), &spec);
}

/// What is done at once: its text, its name for screen readers, its edit.
fn moves(screen: &Screen<'_>, element: &Element) -> Vec<(String, String, Edit)> {
    let path = &screen.job.path;
    let name = element.name().to_lowercase();
    let id = element.id;
    let mut moves = Vec::new();
    let mut add = |text: &str, name: String, edit| moves.push((text.to_owned(), name, edit));
    add("Earlier", format!("Move the {name} earlier"), Edit::ShiftElement(id, Direction::Earlier));
    add("Later", format!("Move the {name} later"), Edit::ShiftElement(id, Direction::Later));
    match path.ports.iter().find(|port| port.after == id) {
        Some(Port { id: port, .. }) => {
            add("Remove port", format!("Remove the port after the {name}"), Edit::RemovePort(*port));
        }
        None => add("Port here", format!("Port after the {name}"), Edit::AddPort(id)),
    }
    if element.is_group() {
        add("Another way", format!("Another way in the {name}"), Edit::AddWay(id));
    }
    if let Some((group, way)) = path.way_of(id) {
        add("Remove way", format!("Remove way {}", way + 1), Edit::RemoveWay(group.id, way));
    }
    add("Remove", format!("Remove the {name} for good"), Edit::RemoveElement(id));
    moves
}

/// What asks for more first.
fn panes(screen: &Screen<'_>, element: &Element) -> Vec<(CardPane, &'static str)> {
    let path = &screen.job.path;
    if element.kind == ElementKind::Leak {
        return Vec::new();
    }
    let mut panes = vec![
        (CardPane::PutBefore, "Put in before…"),
        (CardPane::PutAfter, "Put in after…"),
        (CardPane::WayBeside, "Way beside…"),
    ];
    // Asked with a sound share: a place that can have no leak is not offered one.
    if edit::check(screen.job, &Edit::AddLeak(element.id, 0.1)).is_ok() {
        panes.push((CardPane::Leak, "Leak after…"));
    }
    let is_supply = path.index_of(element.id).zip(path.blower()).is_some_and(|(index, blower)| index >= blower);
    if is_supply && path.bypass.is_none() {
        panes.push((CardPane::Bypass, "Bypass from here…"));
    }
    panes
}

/// Whether it sits in the cabinet, where the table may contain it; only for what has a place there.
fn cabinet(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    if !matches!(element.kind, ElementKind::Filter | ElementKind::Coil | ElementKind::Heater) {
        return;
    }
    let mut is_in = element.whereabouts == Whereabouts::Cabinet;
    if ui.checkbox(&mut is_in, "In the machine's cabinet").changed() {
        let there = if is_in { Whereabouts::Cabinet } else { Whereabouts::House };
        give(Edit::Whereabouts(element.id, there), screen, view, out);
    }
}

fn put_in(ui: &mut Ui, screen: &Screen<'_>, element: &Element, at: Beside, view: &mut View, out: &mut Vec<Action>) {
    let path = &screen.job.path;
    let is_before_blower = path.holder_of(element.id).zip(path.blower()).map(|(index, blower)| match at {
        Beside::Before(_) => index <= blower,
        Beside::After(_) => index < blower,
    });
    let fits = |kind: &&ElementKind| kind.side().is_none_or(|side| is_before_blower == Some(side));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(theme::STEP * 0.5, theme::STEP * 0.5);
        for kind in CAN_BE_ADDED.iter().filter(fits) {
            let name = format!("Put in {}", kind.name().to_lowercase());
            if named(ui, kind.name(), &name).clicked() {
                let next = path.next_element();
                if give(Edit::AddElement(*kind, at), screen, view, out) {
                    open(next, view);
                    view.go_to = Some(FieldKey::ElementDrop(next.0));
                }
            }
        }
    });
    label::caption(ui, "It stands in the house; what is known of its drop is typed on its own card.");
}

fn open(id: ElementId, view: &mut View) {
    view.open_element = Some(id.0);
    view.card = CardState::default();
}

fn way_beside(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    label::caption(ui, "It begins where this element begins, and joins after:");
    let Some((list, index)) = screen.job.path.list_of(element.id) else {
        return;
    };
    // Past the machine nothing can lie beside it.
    let is_cabinet = |element: &&Element| element.whereabouts == Whereabouts::Cabinet;
    let stretch: Vec<&Element> = list[index..].iter().take_while(|element| !is_cabinet(element)).collect();
    let ends = if stretch.is_empty() { vec![element] } else { stretch };
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(theme::STEP * 0.5, theme::STEP * 0.5);
        for end in ends {
            let name = format!("Beside as far as the {}", end.name().to_lowercase());
            if named(ui, end.name(), &name).clicked() {
                let next = screen.job.path.next_element();
                if give(Edit::LayBeside(element.id, end.id), screen, view, out) {
                    open(next, view);
                }
            }
        }
    });
}

fn bypass_to_be(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    label::caption(ui, "It joins the return after:");
    let path = &screen.job.path;
    let blower = path.blower().unwrap_or_default();
    let options: Vec<(String, bool)> = path.elements[..blower]
        .iter()
        .map(|joins| (joins.name().to_owned(), view.card.joins == Some(joins.id.0)))
        .collect();
    if let Some(index) = crate::ui::widgets::choice::buttons(ui, "Joins after", &options) {
        view.card.joins = Some(path.elements[index].id.0);
        view.go_to = Some(FieldKey::NewBypass(element.id.0));
    }
    let key = FieldKey::NewBypass(element.id.0);
    let spec = FieldSpec { key, name: "Share of the blower's air", shown: "", edited: "", unit: "%", width: BOX };
    card_fields::typed(ui, (screen, view, out), &spec);
    label::caption(ui, "What took it during the readings, in percent of what the blower moved.");
}

/// The bypass on its own card.
pub fn bypass(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(bypass) = &screen.job.path.bypass else {
        return;
    };
    let name = |id| screen.job.path.name_of(id).unwrap_or_default().to_lowercase();
    let (leaves, joins) = (name(bypass.leaves_after), name(bypass.joins_after));
    label::caption(
        ui,
        format!("It leaves after the {leaves} and joins after the {joins}; its air never passes the rooms."),
    );
    let shown = show::trimmed(bypass.flow * 100.0, 1);
    let spec = FieldSpec {
        key: FieldKey::BypassAir,
        name: "Share of the blower's air",
        shown: &shown,
        edited: &shown,
        unit: "%",
        width: BOX,
    };
    card_fields::typed(ui, (screen, view, out), &spec);
    if ui.button("Remove the bypass").clicked() {
        give(Edit::Bypass(None), screen, view, out);
    }
    if let Some(sentence) = &view.card.refusal {
        label::error(ui, sentence);
    }
}

/// The ways of a group with their shares of its air.
pub fn ways(ui: &mut Ui, screen: &Screen<'_>, group: &Element, view: &mut View, out: &mut Vec<Action>) {
    for (index, way) in group.ways.iter().enumerate() {
        let names: Vec<&str> = way.elements.iter().map(Element::name).collect();
        label::caption(ui, format!("Way {}: {}", index + 1, names.join(", ").to_lowercase()));
        if way.is_leak() && way.flow.is_none() {
            label::caption(ui, "Its air follows from its leakage test");
            continue;
        }
        let shown = way.flow.map_or_else(String::new, |flow| show::trimmed(flow * 100.0, 1));
        let name = format!("Air of way {}", index + 1);
        let key = FieldKey::WayFlow(group.id.0, index as u32);
        let spec = FieldSpec { key, name: &name, shown: &shown, edited: &shown, unit: "%", width: BOX };
        card_fields::typed(ui, (screen, view, out), &spec);
    }
    label::caption(ui, "Empty: what the others leave, in equal shares (assumed)");
}
