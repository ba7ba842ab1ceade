//! The card of one element: what is known of its drop, and its place in the path.

use eframe::egui::{self, Align2, Area, Frame, Id, Key, Order, Pos2, RichText, ScrollArea, Ui};

use crate::edit::Edit;
use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, Whereabouts};
use crate::model::facts::job::Job;
use crate::ui::changes_panel::tray;
use crate::ui::path_strip::frame::Strip;
use crate::ui::path_strip::{card_fields, card_path, element_drop, element_share, remarks};
use crate::ui::reading_entry::{self, Side};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{CardPane, CardTab, Screen, View};
use crate::ui::widgets::{choice, field, label};

/// Width of the card.
const CARD: f32 = 300.0;

/// Whether an element's drop can be typed: what every table contains has none of its own.
pub const fn has_drop(element: &Element) -> bool {
    !matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger)
}

/// What has the focus when the keys stand on an element.
pub fn focus_id(element: ElementId) -> Id {
    Id::unique(("element", element.0))
}

/// Draws the card of the element or bypass `id`, its foot at `foot`, and closes it when it is done.
pub fn card(ui: &Ui, strip: &Strip<'_>, id: ElementId, foot: Pos2, view: &mut View, out: &mut Vec<Action>) {
    let screen = &strip.screen;
    let name = screen.job.path.name_of(id).unwrap_or_default();
    let mut close = false;
    // Escape in a field leaves the value as it was; only the next one closes the card.
    let was_typing = view.entry.is_some();
    let most = (ui.ctx().content_rect().height() - 48.0).max(120.0);
    let area = Area::new(Id::unique("element card"))
        .order(Order::Foreground)
        .pivot(Align2::CENTER_BOTTOM)
        .fixed_pos(foot)
        .constrain(true)
        .accessible_name(name)
        .show(ui.ctx(), |ui| {
            Frame::popup(ui.style()).inner_margin(egui::Margin::same(12)).show(ui, |ui| {
                ui.set_width(CARD);
                // While the card is only measured, nothing in it can take the hand.
                let next = view.go_to.take_if(|_| ui.is_sizing_pass());
                // It scrolls only where the window is lower than the card, not where the card was lower a moment ago.
                ScrollArea::vertical().max_height(most).min_scrolled_height(most).show(ui, |ui| {
                    close = contents(ui, screen, id, view, out);
                });
                view.go_to = next.or(view.go_to);
            });
        });
    let escaped = !was_typing && ui.input(|input| input.key_pressed(Key::Escape));
    if close || escaped || area.response.clicked_elsewhere() {
        take_what_is_typed(view, screen, id, out);
        if escaped {
            ui.memory_mut(|memory| memory.request_focus(focus_id(id)));
        }
        // Another element that was pressed just now opens its own card.
        view.open_element = view.open_element.filter(|open| *open != id.0);
    }
}

fn take_what_is_typed(view: &mut View, screen: &Screen<'_>, id: ElementId, out: &mut Vec<Action>) {
    if let Some(element) = screen.job.path.element(id) {
        element_drop::take_what_is_typed(view, screen, element, out);
    }
    card_fields::take_what_is_typed(view, screen, out);
}

/// The card's inside; true when it is to be closed.
fn contents(ui: &mut Ui, screen: &Screen<'_>, id: ElementId, view: &mut View, out: &mut Vec<Action>) -> bool {
    let mut close = false;
    ui.horizontal(|ui| {
        let name = screen.job.path.name_of(id).unwrap_or_default();
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            close = ui.button("Close").clicked();
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(RichText::new(name).font(theme::strong(theme::BODY))).truncate());
            });
        });
    });
    let Some(element) = screen.job.path.element(id) else {
        card_path::bypass(ui, screen, view, out);
        return close | tray::offered(ui, screen, id, view, out);
    };
    label::caption(ui, where_it_is(screen.job, element));
    let stood = (view.card.tab, view.card.pane);
    let options = [CardTab::Drop, CardTab::Changes, CardTab::Path];
    let names = options.map(|tab| (tab_name(tab, element).to_owned(), view.card.tab == tab));
    if let Some(index) = choice::buttons(ui, "Card", &names) {
        view.card.tab = options[index];
        view.card.pane = CardPane::Actions;
        view.card.refusal = None;
    }
    match view.card.tab {
        CardTab::Drop => drop(ui, screen, element, view, out),
        // The editor of what is put on takes the hand.
        CardTab::Changes => close |= tray::offered(ui, screen, id, view, out),
        CardTab::Path => card_path::actions(ui, screen, element, view, out),
    }
    if stood != (view.card.tab, view.card.pane) {
        // A field that is no longer shown must not keep the hand.
        take_what_is_typed(view, screen, id, out);
    }
    close
}

const fn tab_name(tab: CardTab, element: &Element) -> &'static str {
    match (tab, element.kind) {
        (CardTab::Path, _) => "In the path",
        (CardTab::Changes, _) => "Changes",
        (CardTab::Drop, ElementKind::SideBySide) => "Ways",
        (CardTab::Drop, ElementKind::Leak) => "Leak",
        (CardTab::Drop, _) => "Drop",
    }
}

fn drop(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    match element.kind {
        ElementKind::Leak => return card_fields::leak(ui, screen, element, view, out),
        ElementKind::SideBySide => card_path::ways(ui, screen, element, view, out),
        ElementKind::Blower | ElementKind::HeatExchanger => {
            label::caption(ui, "Its drop is part of every table.");
            return;
        }
        ElementKind::Louvre
        | ElementKind::ReturnGrille
        | ElementKind::ReturnDuct
        | ElementKind::Filter
        | ElementKind::Coil
        | ElementKind::Heater
        | ElementKind::SupplyDuct
        | ElementKind::Registers
        | ElementKind::AirCleaner
        | ElementKind::Humidifier
        | ElementKind::Damper
        | ElementKind::Bypass => element_drop::fields(ui, screen, element, view, out),
    }
    across(ui, screen, element, view, out);
    // What the table contains, or what was read across, takes no share of a segment.
    let is_inside = screen.job.path.index_of(element.id).is_some_and(|index| remarks::is_inside(screen.job, index));
    if !is_inside && screen.job.set().across(element.id).is_none() {
        element_share::fields(ui, screen, element, view, out);
    }
    let mut is_out = remarks::is_out(screen.job, element);
    if !element.is_group() && ui.checkbox(&mut is_out, "Out of the path during the readings").changed() {
        out.push(Edit::PartOut(element.id, is_out).into());
    }
}

/// What was read straight across it.
fn across(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    let side = Side::Across(element.id);
    let quiet = theme::palette(ui).quiet;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.75;
        let name = RichText::new("Read across it").color(quiet);
        let width = (ui.available_width() - 70.0 - 2.0 * theme::STEP - 56.0).max(60.0);
        ui.allocate_ui_with_layout(egui::vec2(width, 28.0), egui::Layout::left_to_right(egui::Align::Center), |ui| {
            ui.set_min_width(width);
            ui.add(egui::Label::new(name).truncate());
        });
        reading_entry::reading_box(ui, view, screen, side, 70.0, out);
        ui.label(RichText::new(screen.units.pressure_unit()).font(theme::regular(theme::SMALL)).color(quiet));
    });
    field::reason(ui, view, side.key());
}

/// Where an element sits and whether the table contains it.
pub fn where_it_is(job: &Job, element: &Element) -> String {
    let kind = if element.name.is_empty() { String::new() } else { format!("{}. ", element.kind.name()) };
    let Some(table) = &job.machine else {
        return format!("{kind}No blower is chosen yet");
    };
    let sentence = match (element.kind, element.whereabouts) {
        (ElementKind::Blower, _) => "The blower of the table",
        _ if AirPath::is_inside(element, &table.basis) => "Inside the rating: the table contains it",
        (_, Whereabouts::Cabinet) => "In the cabinet, outside the rating: the table does not contain it",
        (_, Whereabouts::House) => "Outside the rating: the table does not contain it",
    };
    format!("{kind}{sentence}")
}
