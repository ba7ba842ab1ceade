//! Changes: a tray of fixes and faults to drag from, and the ones put on with what each brings.

pub mod applied;
pub mod boxes;
pub mod cheapest;
pub mod editor;
pub mod fittings;
pub mod machine;
pub mod rows;
pub mod slots;
pub mod target_slots;
pub mod tray;

use eframe::egui::{
    Align, Button, CentralPanel, Frame, Id, Label, Layout, Panel, RichText, Role, ScrollArea, Ui, Vec2, WidgetInfo,
    vec2,
};

use crate::edit::Edit;
use crate::model::change::{Declaration, Kind as _, Lands};
use crate::model::facts::air_path::{Element, ElementId, ElementKind};
use crate::model::facts::change::{ChangeId, OtherCoilState, OtherMachine};
use crate::model::first_guess;
use crate::ui::theme;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{focus, hint, label, whole_rows};

/// Height of the line at the head of the drawer.
const BAR: f32 = theme::FINGER + 2.0;
/// Most of the panel that the palette takes.
const PALETTE_MOST: f32 = 1.0 / 3.0;
/// Height of the panel under which the palette stays folded once a change is put on, for the list's sake.
const LOW: f32 = 600.0;
/// Rows of the list that stay in sight while a change is edited, and where the panel is low.
const ROWS: (f32, f32) = (4.0, 1.0);
/// Least height of an editor, whatever becomes of the list.
const EDITOR_LEAST: f32 = 92.0;
/// Room under an editor, for a line that comes while it is open.
const EDITOR_SPARE: f32 = 20.0;
/// Widest that an editor's rows are drawn.
const EDITOR_WIDEST: f32 = 440.0;

/// Draws the panel: the list with its last line, and under it the drawer, which holds the palette or the editor of the selected change.
///
/// `panel` is the height of the whole panel beside the chart, of which the palette takes a third at most.
pub fn changes_panel(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, panel: f32, out: &mut Vec<Action>) {
    let edited = edited(screen, view);
    let is_open = *view.palette_open.get_or_insert(screen.job.changes.is_empty());
    if edited.is_some() && panel < LOW {
        view.palette_open = Some(false);
    }
    let height = match edited {
        Some(index) => {
            let rows = if panel < LOW { ROWS.1 } else { ROWS.0 };
            let most = (ui.available_height() - list_height(rows)).max(EDITOR_LEAST);
            editor_height(ui, screen.job.changes[index].id).map_or(most, |height| most.min(height))
        }
        None if is_open && screen.job.machine.is_some() => {
            let list = if screen.job.changes.is_empty() { 0.0 } else { list_height(1.0) };
            (panel * PALETTE_MOST).floor().min((ui.available_height() - list).max(BAR))
        }
        None => BAR,
    };
    Panel::bottom("drawer").frame(Frame::NONE).exact_size(height).resizable(false).show(ui, |ui| {
        drawer(ui, screen, view, edited, out);
    });
    if !screen.job.changes.is_empty() {
        Panel::bottom("together").frame(Frame::NONE).exact_size(applied::TOGETHER).resizable(false).show(ui, |ui| {
            part(ui, |ui| applied::together(ui, screen));
        });
    }
    CentralPanel::default().frame(Frame::NONE).show(ui, |ui| {
        part(ui, |ui| applied::heads(ui, screen, out));
        whole_rows::bar_in_sight(ui);
        let most = whole_rows_of(ui.available_height(), screen.job.changes.len());
        scrolled(ui, "changes", most, |ui| {
            applied::applied(ui, screen, view, out);
            applied::notes(ui, screen);
            cheapest::cheapest(ui, screen, view, out);
        });
    });
}

/// Height of the list with so many rows in sight, its heads and its last line.
fn list_height(rows: f32) -> f32 {
    applied::HEADS + rows * applied::ROW + applied::TOGETHER + 2.0 * theme::STEP
}

/// How much of a height the list of so many changes takes: to the end of a row where not all of them have room.
fn whole_rows_of(room: f32, changes: usize) -> f32 {
    if changes as f32 * applied::ROW <= room { room } else { (room / applied::ROW).floor().max(1.0) * applied::ROW }
}

/// The same where there is no room for parts that stay: all of it in one column, in a part that scrolls.
pub fn in_a_column(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    part(ui, |ui| {
        list(ui, screen, view, out);
        in_the_drawer(ui, screen, view, out);
        applied::notes(ui, screen);
        cheapest::cheapest(ui, screen, view, out);
    });
}

/// The same with what is edited before the list, where little more than that is in sight.
pub fn editor_first(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    part(ui, |ui| {
        if let Some(index) = edited(screen, view) {
            edit(ui, screen, index, view, out);
            ui.horizontal_wrapped(|ui| {
                row_buttons(ui, screen, index, view, out);
                if small_button(ui, "Put on another", "Changes to put on", true) {
                    view.palette_open = Some(true);
                    view.open_change = None;
                }
            });
        }
        list(ui, screen, view, out);
        applied::notes(ui, screen);
    });
}

fn list(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    applied::heads(ui, screen, out);
    applied::applied(ui, screen, view, out);
    if !screen.job.changes.is_empty() {
        applied::together(ui, screen);
    }
}

fn in_the_drawer(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let edited = edited(screen, view);
    drawer_bar(ui, screen, view, edited, out);
    match edited {
        Some(index) => edit(ui, screen, index, view, out),
        None if view.palette_open != Some(false) => tray::tray(ui, screen, view, out),
        None => {}
    }
}

/// The selected change, by its place.
pub fn edited(screen: &Screen<'_>, view: &View) -> Option<usize> {
    screen.job.changes.iter().position(|change| view.open_change == Some(change.id))
}

fn drawer(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, edited: Option<usize>, out: &mut Vec<Action>) {
    ui.painter().hline(ui.max_rect().x_range(), ui.max_rect().top(), (1.0, theme::palette(ui).hairline));
    part(ui, |ui| drawer_bar(ui, screen, view, edited, out));
    match edited {
        Some(index) => {
            let height = scrolled(ui, "editor", f32::INFINITY, |ui| edit(ui, screen, index, view, out));
            remember_height(ui, screen.job.changes[index].id, height);
        }
        None if view.palette_open == Some(true) => {
            scrolled(ui, "palette", f32::INFINITY, |ui| tray::tray(ui, screen, view, out));
        }
        None => {}
    }
}

/// The drawer's own line: what it holds, and the way between palette and editor.
fn drawer_bar(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, edited: Option<usize>, out: &mut Vec<Action>) {
    if screen.job.machine.is_none() {
        return;
    }
    let size = vec2(ui.available_width(), BAR - 2.0);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_size(size);
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        ui.spacing_mut().button_padding = vec2(theme::STEP * 0.75, theme::STEP * 0.25);
        let is_open = edited.is_none() && view.palette_open == Some(true);
        let text = match (edited, is_open) {
            (Some(_), _) => "Put on another",
            (None, true) => "Fold ▼",
            (None, false) => "Open ▲",
        };
        if small_button(ui, text, "Changes to put on", true) {
            view.palette_open = Some(!is_open);
            view.open_change = None;
        }
        if let Some(index) = edited {
            row_buttons(ui, screen, index, view, out);
            return;
        }
        if !screen.job.changes.is_empty() || !screen.job.options.are_unsaid() {
            let name = Command::Options.told(ui.ctx());
            if small_button(ui, "Options", &name, true) {
                out.push(Command::Options.into());
            }
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            let quiet = theme::palette(ui).quiet;
            let text = RichText::new("Drag onto the air path, or press").font(theme::strong(theme::SMALL));
            ui.add(Label::new(text.color(quiet)).truncate());
        });
    });
}

/// What can be done with the selected change.
fn row_buttons(ui: &mut Ui, screen: &Screen<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) {
    let id = screen.job.changes[index].id;
    let title = applied::title(screen, index);
    let last = screen.job.changes.len() - 1;
    let press = |ui: &mut Ui, text: &str, name: &str, can| small_button(ui, text, &format!("{name}: {title}"), can);
    if press(ui, "Remove", "Remove", true) {
        view.allowed.remove(&id.0);
        out.push(Edit::RemoveChange(id).into());
    }
    if press(ui, "Duplicate", "Duplicate", true) {
        out.push(Edit::DuplicateChange(id).into());
    }
    if press(ui, "▼", "Move down", index < last) {
        out.push(Edit::MoveChange(id, 1).into());
    }
    if press(ui, "▲", "Move up", index > 0) {
        out.push(Edit::MoveChange(id, -1).into());
    }
}

fn small_button(ui: &mut Ui, text: &str, name: &str, can: bool) -> bool {
    let text = RichText::new(text).font(theme::regular(theme::SMALL));
    let response = ui.add_enabled(can, Button::new(text).min_size(Vec2::splat(theme::FINGER)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, can, name));
    hint::hint(&response, || name.to_owned());
    response.clicked()
}

fn edit(ui: &mut Ui, screen: &Screen<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) {
    ui.set_max_width(ui.available_width().min(EDITOR_WIDEST));
    ui.spacing_mut().item_spacing.y = theme::STEP * 0.5;
    let change = &screen.job.changes[index];
    label::strong(ui, applied::title(screen, index));
    applied::remarks(ui, screen, change);
    editor::editor(ui, screen, change, view, out);
}

/// Drops what was typed and refused in an editor that is closed or whose change is gone, so that no unseen text holds the answer up.
pub fn forget_closed(screen: &Screen<'_>, view: &mut View) {
    let open = view.open_change.filter(|id| screen.job.changes.iter().any(|change| change.id == *id));
    view.refused.retain(|key, _| key.change().is_none_or(|id| open == Some(id)));
}

/// A part that scrolls, at most so high; gives the height of what is in it.
fn scrolled(ui: &mut Ui, salt: &str, most: f32, contents: impl FnOnce(&mut Ui)) -> f32 {
    let area = ScrollArea::vertical().id_salt(salt).max_height(most).min_scrolled_height(0.0).auto_shrink(false);
    let shown = area.show(ui, |ui| {
        part(ui, contents);
        focus::follow(ui);
    });
    shown.content_size.y
}

/// Where the height of the open editor is remembered.
fn editor_key() -> Id {
    Id::unique("the height of the open editor")
}

/// Height of the drawer for the editor of a change as it was opened; it stays while the editor is open, so that no field slides under the hand.
fn editor_height(ui: &Ui, id: ChangeId) -> Option<f32> {
    let (of, height) = ui.data(|data| data.get_temp::<(u32, f32)>(editor_key()))?;
    (of == id.0).then_some(height + BAR + EDITOR_SPARE)
}

fn remember_height(ui: &Ui, id: ChangeId, height: f32) {
    if editor_height(ui, id).is_none() {
        ui.data_mut(|data| data.insert_temp(editor_key(), (id.0, height)));
        ui.ctx().request_repaint();
    }
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
