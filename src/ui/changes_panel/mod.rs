//! Changes: a tray of fixes and faults to drag from, and the ones put on with what each brings.

pub mod applied;
pub mod boxes;
pub mod cheapest;
pub mod editor;
pub mod machine;
pub mod slots;
pub mod target_slots;
pub mod tray;

use eframe::egui::{ScrollArea, Ui};

use crate::edit::Edit;
use crate::model::change::{Declaration, Kind as _, Lands};
use crate::model::facts::air_path::{Element, ElementId, ElementKind};
use crate::model::facts::change::{ChangeId, OtherCoilState, OtherMachine};
use crate::model::first_guess;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::focus;
use crate::ui::{taps_panel, theme};

/// Under this height the tray scrolls away with the list; over it the tray stays in reach.
const ROOM_FOR_BOTH: f32 = 460.0;
/// The same while an editor is open, which needs more room than the list alone.
const ROOM_FOR_EDITOR: f32 = 640.0;

/// Draws the panel, scrolling what does not fit.
pub fn changes_panel(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let is_editing = view.open_change.is_some_and(|id| screen.job.changes.iter().any(|change| change.id == id));
    let least = if is_editing { ROOM_FOR_EDITOR } else { ROOM_FOR_BOTH };
    let tray_stays = ui.available_height() >= least;
    if tray_stays {
        part(ui, |ui| {
            tray::tray(ui, screen, view, out);
            applied::together(ui, screen);
        });
    }
    ScrollArea::vertical().id_salt("changes").auto_shrink(false).show(ui, |ui| {
        part(ui, |ui| {
            if !tray_stays {
                tray::tray(ui, screen, view, out);
                applied::together(ui, screen);
            }
            applied::applied(ui, screen, view, out);
            cheapest::cheapest(ui, screen, view, out);
            taps_panel::table(ui, screen, out);
        });
        focus::follow(ui);
    });
}

/// Drops what was typed and refused in an editor that is closed or whose change is gone, so that no unseen text holds the answer up.
pub fn forget_closed(screen: &Screen<'_>, view: &mut View) {
    let open = view.open_change.filter(|id| screen.job.changes.iter().any(|change| change.id == *id));
    view.refused.retain(|key, _| key.change().is_none_or(|id| open == Some(id)));
}

fn part(ui: &mut Ui, contents: impl FnOnce(&mut Ui)) {
    ui.scope(|ui| {
        // Room for the scroll bar, which would lie over the numbers.
        ui.set_max_width(ui.available_width() - theme::STEP);
        ui.spacing_mut().item_spacing.y = theme::STEP * 0.5;
        contents(ui);
    });
}

/// Puts a first version of a declared change on an element (on the blower's or the return's where it lands there); nothing where the element cannot take it.
///
/// Another machine has no first version: its table is picked first.
pub fn put_on(screen: &Screen<'_>, declaration: &Declaration, element: ElementId) -> Option<Action> {
    if !takes(screen, declaration, element) {
        return None;
    }
    if *declaration == OtherMachine::DECLARATION {
        return Some(Action::PickMachine(None));
    }
    let kind = first_guess::first(declaration, element, screen.job, screen.answer)?;
    Some(Edit::AddChange(kind).into())
}

/// The name that the next change put on will have: its editor is opened by it.
pub fn next_change(screen: &Screen<'_>) -> ChangeId {
    ChangeId(screen.job.changes.iter().map(|change| change.id.0).max().unwrap_or(0) + 1)
}

/// True when an element of this job, or its bypass, can take a declared change: it is of the kind and in the path.
///
/// A part of the table takes what works on its drop where that is known, by the table or by data; the other state of a coil, where the table prints what a wet coil drops.
pub fn takes(screen: &Screen<'_>, declaration: &Declaration, element: ElementId) -> bool {
    let path = &screen.job.path;
    if path.bypass.as_ref().is_some_and(|bypass| bypass.id == element) {
        return declaration.lands_on(ElementKind::Bypass);
    }
    path.element(element)
        .is_some_and(|element| declaration.lands_on(element.kind) && has_own_drop(screen, declaration, element))
}

fn has_own_drop(screen: &Screen<'_>, declaration: &Declaration, element: &Element) -> bool {
    if declaration.lands == Lands::OnBlower {
        return true;
    }
    if screen.job.set().parts_out.contains(&element.id) {
        return false;
    }
    match &screen.job.machine {
        Some(table) if screen.job.is_inside(element.id) => {
            let is_known = element.drop.is_some() || table.corrections.drop_of(element.kind).is_some();
            is_known || *declaration == OtherCoilState::DECLARATION && table.corrections.wet_coil.is_some()
        }
        _ => true,
    }
}

/// Elements that can take a declared change, those in ways and the bypass included; one stands for all where it lands on the return or the blower.
fn acceptors(screen: &Screen<'_>, declaration: &Declaration) -> Vec<ElementId> {
    let path = &screen.job.path;
    let all = path.all().into_iter().map(|element| element.id).chain(path.bypass.as_ref().map(|bypass| bypass.id));
    let able = all.filter(|id| takes(screen, declaration, *id));
    match declaration.lands {
        Lands::On(_) => able.collect(),
        Lands::OnReturn | Lands::OnBlower => able.take(1).collect(),
    }
}
