//! Choices of another machine: its table, the tap that runs, what leaves with the old one.

use eframe::egui::{Button, Checkbox, RichText, Role, Ui, WidgetInfo, vec2};

use crate::edit::Edit;
use crate::model::change::kinds::other_machine;
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::{Change, ChangeId, ChangeKind, Replacement};
use crate::model::typed::table_draft::TableFor;
use crate::model::wording::changes;
use crate::ui::job_panel::against_library;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{choice, label};
use crate::ui::{job_panel, picker, theme};

/// Draws them, where the change is another machine; its numbers stand in the fields under them.
pub fn choices(ui: &mut Ui, screen: &Screen<'_>, change: &Change, view: &View, out: &mut Vec<Action>) {
    let ChangeKind::OtherMachine(new) = &change.kind else {
        return;
    };
    table(ui, screen, change.id, new, out);
    if view.open_change == Some(change.id) {
        against_library::shown(ui, &view.change_against_library, TableFor::OtherMachine(Some(change.id)), out);
    }
    let picked = taps(ui, screen, new).or_else(|| leaves(ui, screen, new));
    out.extend(picked.map(|new| Edit::ReplaceChange(change.id, ChangeKind::OtherMachine(Box::new(new))).into()));
    if let Some(kind) = other_machine::unknown_part(screen.job, new) {
        label::question(ui, &changes::unknown_part(kind));
    }
}

fn table(ui: &mut Ui, screen: &Screen<'_>, id: ChangeId, new: &Replacement, out: &mut Vec<Action>) {
    label::caption(ui, picker::about(&new.table, screen.units));
    label::caption(ui, format!("Its table includes {}", job_panel::includes(&new.table)));
    let text = RichText::new("Choose another table…").font(theme::regular(theme::SMALL));
    let response = ui.add(Button::new(text).min_size(vec2(0.0, 24.0)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, "Choose another table for the new machine"));
    if response.clicked() {
        out.push(Action::PickMachine(Some(id)));
    }
}

/// The tap by the call's own map, where the table has the call, or one of the taps.
fn taps(ui: &mut Ui, screen: &Screen<'_>, new: &Replacement) -> Option<Replacement> {
    let word = new.table.motor.tap_word();
    let call = after_call(screen);
    let mapped = new.table.tap_of_call(call);
    label::caption(ui, format!("The {word} that runs for {}", call.name().to_lowercase()));
    let by_call = mapped.map(|tap| (format!("By the call: {tap}"), None));
    let by_hand = new.table.taps.iter().map(|tap| (tap.name.clone(), Some(tap.name.clone())));
    let all: Vec<(String, Option<String>)> = by_call.into_iter().chain(by_hand).collect();
    let options: Vec<(String, bool)> = all.iter().map(|(text, tap)| (text.clone(), *tap == new.tap)).collect();
    let index = choice::buttons(ui, &format!("New machine's {word}"), &options)?;
    Some(Replacement { tap: all[index].1.clone(), ..new.clone() })
}

fn after_call(screen: &Screen<'_>) -> crate::model::facts::blower::Call {
    let after = screen.answer.with_changes();
    after.map_or(screen.job.set().call, |after| after.system.blower.call)
}

/// A tick for each part of the equipment that can go; what the old table contains goes anyway.
fn leaves(ui: &mut Ui, screen: &Screen<'_>, new: &Replacement) -> Option<Replacement> {
    let able = other_machine::may_leave(screen.job);
    let path = &screen.job.path;
    let gone: Vec<String> = path
        .elements
        .iter()
        .filter(|element| screen.job.is_inside(element.id))
        .map(|element| element.name().to_lowercase())
        .collect();
    label::caption(ui, format!("Leaves with the old machine: {}, which its table contains", gone.join(", ")));
    let mut picked = None;
    for element in able {
        let mut is_gone = new.leaves.contains(&element.id);
        let response = ui.add(Checkbox::new(&mut is_gone, format!("{} leaves too", element.name())));
        if response.changed() {
            picked = Some(Replacement { leaves: with(&new.leaves, element.id, is_gone), ..new.clone() });
        }
    }
    picked
}

fn with(leaves: &[ElementId], id: ElementId, is_gone: bool) -> Vec<ElementId> {
    let mut leaves: Vec<ElementId> = leaves.iter().copied().filter(|other| *other != id).collect();
    if is_gone {
        leaves.push(id);
        leaves.sort_unstable();
    }
    leaves
}
