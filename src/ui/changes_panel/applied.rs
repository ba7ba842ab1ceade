//! The changes put on: each with what it brings alone, and what they bring together.

use eframe::egui::{Align, Button, Checkbox, Id, Label, Layout, Rect, RichText, Role, Ui, WidgetInfo, vec2};

use crate::edit::Edit;
use crate::model::facts::change::{Change, ChangeId, Switch};
use crate::model::first_guess;
use crate::model::solution::gain::Gain;
use crate::model::solution::worth::Worth;
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::changes;
use crate::ui::changes_panel::editor;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::label;
use crate::units::{Airflow, UnitSystem, show};

/// Worths whose sum is off the whole by more than this are said not to add up.
const ADDS_UP: Airflow = Airflow::from_cfm(5.0);
/// Room for a change's worth, points.
const WORTH: f32 = 118.0;

/// Draws the list.
pub fn applied(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    if screen.job.changes.is_empty() {
        if screen.job.machine.is_some() {
            label::heading(ui, "Applied changes");
            label::caption(ui, "Nothing yet: drag a change onto the air path, or press one.");
        }
        return;
    }
    if view.open_change.is_none() {
        ui.data_mut(|data| data.remove::<u32>(sight()));
    }
    head(ui);
    for index in 0..screen.job.changes.len() {
        change(ui, screen, index, view, out);
    }
}

fn head(ui: &mut Ui) {
    label::heading(ui, "Applied changes, gain of each alone");
}

fn change(ui: &mut Ui, screen: &Screen<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) {
    let change = &screen.job.changes[index];
    let is_open = view.open_change == Some(change.id);
    let from = ui.cursor().min;
    first_line(ui, screen, index, out);
    if let Some(details) = change.kind.details(screen.job, screen.units) {
        let price = change.price.map(|price| format!(" · price {}", money(price))).unwrap_or_default();
        label::caption(ui, format!("{details}{price}"));
    } else if let Some(price) = change.price {
        label::caption(ui, format!("Price {}", money(price)));
    }
    if let Some(text) = worth_of(screen, change).and_then(|worth| to_rooms(worth, screen.units)) {
        label::caption(ui, text);
    }
    if let Some(text) = after_the_others(screen, change) {
        label::caption(ui, text);
    }
    remarks(ui, screen, change);
    actions(ui, screen, index, view, out);
    if is_open {
        editor::editor(ui, screen, change, view, out);
        ui.separator();
        // From within its first line on, so that nothing of what stands above it peeps in.
        show_once(ui, change.id, Rect::from_min_max(from + vec2(0.0, 4.0), ui.min_rect().max));
    }
}

/// Where the editor last brought into sight is remembered.
fn sight() -> Id {
    Id::unique("the editor brought into sight")
}

/// Brings an editor that has just been opened into sight.
fn show_once(ui: &Ui, id: ChangeId, editor: Rect) {
    let key = sight();
    let shown = ui.data(|data| data.get_temp::<u32>(key));
    if shown != Some(id.0) {
        ui.data_mut(|data| data.insert_temp(key, id.0));
        ui.scroll_to_rect(editor, None);
    }
}

/// A change's title, with a number where several bear the same.
pub(super) fn title(screen: &Screen<'_>, index: usize) -> String {
    let changes = &screen.job.changes;
    let title = changes[index].kind.title(screen.job);
    let same = |change: &&Change| change.kind.title(screen.job) == title;
    let before = changes[..index].iter().filter(same).count();
    if before == 0 { title } else { format!("{title} ({})", before + 1) }
}

/// Switch, name and worth.
fn first_line(ui: &mut Ui, screen: &Screen<'_>, index: usize, out: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let change = &screen.job.changes[index];
    let title = title(screen, index);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        let mut is_on = change.is_on();
        let response = ui.add(Checkbox::without_text(&mut is_on));
        response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, is_on, format!("On: {title}")));
        if response.changed() {
            let switch = if is_on { Switch::On } else { Switch::Off };
            out.push(Edit::SwitchChange(change.id, switch).into());
        }
        let worth = worth_of(screen, change).and_then(|worth| worth_text(screen, change, worth)).map(|text| {
            let ink = if change.is_on() { palette.change } else { palette.quiet };
            ui.painter().layout_no_wrap(text, theme::strong(theme::BODY), ink)
        });
        // A range is wider than a figure.
        let beside = worth.as_ref().map_or(0.0, |worth| worth.size().x + theme::STEP);
        let ink = if change.is_on() { palette.ink } else { palette.quiet };
        let width = ui.available_width() - WORTH.max(beside);
        ui.allocate_ui_with_layout(vec2(width, 24.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(width);
            ui.add(Label::new(RichText::new(&title).font(theme::strong(theme::BODY)).color(ink)).wrap());
        });
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if let Some(worth) = worth {
                ui.add(Label::new(worth).extend());
            }
        });
    });
}

fn after<'a>(screen: &Screen<'a>) -> Option<(&'a Running, &'a Projection)> {
    let point = screen.answer.point()?;
    Some((point, screen.answer.with_changes()?))
}

fn worth_of<'a>(screen: &Screen<'a>, change: &Change) -> Option<&'a Worth> {
    let (_, after) = after(screen)?;
    after.worths.iter().find(|worth| worth.id == change.id)
}

fn worth(screen: &Screen<'_>, change: &Change) -> Option<Gain> {
    worth_of(screen, change)?.gain.clone().ok()
}

/// "≈ +85 ± 25 cfm", or "at most +85 ± 25 cfm"; the ± where it would not read as nothing.
fn worth_text(screen: &Screen<'_>, change: &Change, worth: &Worth) -> Option<String> {
    let (gain, units) = (*worth.gain.as_ref().ok()?, screen.units);
    let spread = worth.spread.map(|spread| show::number(units.airflow_number(spread), 0)).filter(|text| text != "0");
    let spread = spread.map(|spread| format!(" ± {spread}")).unwrap_or_default();
    let mark = if changes::unknown_alone(screen.job, change).is_some() { "at most" } else { "≈" };
    Some(format!("{mark} {}{spread} {}", changes::gain_bare(gain, units), units.airflow_unit()))
}

/// What the last change brings after the others, in its own row.
fn after_the_others(screen: &Screen<'_>, change: &Change) -> Option<String> {
    let (_, after) = after(screen)?;
    let last = after.last.filter(|last| last.id == change.id)?;
    let most = changes::at_most(after.system.unknown_part);
    let gain = changes::gain_bare(last.gain, screen.units);
    Some(format!("After the others: {most}{gain} {}", screen.units.airflow_unit()))
}

/// What the rooms get more, where that is another figure than the blower's.
fn to_rooms(worth: &Worth, units: UnitSystem) -> Option<String> {
    let (gain, rooms) = (changes::gain_bare(*worth.gain.as_ref().ok()?, units), worth.to_rooms?);
    let rooms = changes::gain_bare(rooms, units);
    let rooms_text = format!("{rooms} {}", units.airflow_unit());
    (rooms != gain).then(|| format!("At the blower {gain}, to the rooms ≈ {rooms_text}"))
}

/// Refusals, and a worth that is smaller than the readings can tell.
fn remarks(ui: &mut Ui, screen: &Screen<'_>, change: &Change) {
    let Some((_, after)) = after(screen) else {
        return;
    };
    let refused = after.refused.iter().find(|(id, _)| *id == change.id).map(|(_, refusal)| refusal);
    let alone = after.worths.iter().find(|worth| worth.id == change.id);
    let alone = alone.and_then(|worth| worth.gain.as_ref().err());
    if let Some(refusal) = refused.or(alone) {
        label::error(ui, &refusal.sentence(screen.units));
    }
    if let Some(running) = screen.answer.point().filter(|_| alone.is_none()) {
        for guess in changes::guesses(screen.job, running, change, screen.units) {
            label::caption(ui, guess);
        }
    }
    // The ± belongs to all changes together; where even the whole lies within it, it is too small a worth that lies within it too.
    if let (Some(gain), Some((whole, spread))) = (worth(screen, change), changes::gain(after))
        && gain.most.is_none()
        && gain.least.abs() < spread
        && whole.least.abs() < spread
    {
        label::caption(ui, "Not above its uncertainty: these readings cannot show it");
    }
}

fn actions(ui: &mut Ui, screen: &Screen<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) {
    let change = &screen.job.changes[index];
    let title = title(screen, index);
    let is_open = view.open_change == Some(change.id);
    let last = screen.job.changes.len() - 1;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        ui.spacing_mut().button_padding = vec2(theme::STEP * 0.75, theme::STEP * 0.25);
        let mut press = |text: &str, name: &str, can: bool| {
            let text = RichText::new(text).font(theme::regular(theme::SMALL));
            let response = ui.add_enabled(can, Button::new(text).min_size(vec2(28.0, 24.0)));
            response.widget_info(|| WidgetInfo::labeled(Role::Button, can, format!("{name}: {title}")));
            response.clicked()
        };
        let (open, open_name) = if is_open { ("Done", "Close") } else { ("Edit", "Edit") };
        if press(open, open_name, true) {
            view.open_change = (!is_open).then_some(change.id);
        }
        if press("▲", "Move up", index > 0) {
            out.push(Edit::MoveChange(change.id, -1).into());
        }
        if press("▼", "Move down", index < last) {
            out.push(Edit::MoveChange(change.id, 1).into());
        }
        if press("Duplicate", "Duplicate", true) {
            out.push(Edit::DuplicateChange(change.id).into());
        }
        if press("Remove", "Remove", true) {
            view.allowed.remove(&change.id.0);
            out.push(Edit::RemoveChange(change.id).into());
        }
    });
}

/// What the changes bring together, beside the sum of what they bring alone, and what they cost.
pub fn together(ui: &mut Ui, screen: &Screen<'_>) {
    if screen.job.changes.is_empty() {
        return;
    }
    ui.add_space(theme::STEP);
    let units = screen.units;
    let on = || screen.job.changes.iter().filter(|change| change.is_on());
    let Some((point, after)) = after(screen) else {
        label::caption(ui, "The readings will say what each of them brings.");
        return;
    };
    let word = first_guess::table_then(screen.job, screen.answer).map_or("tap", |table| table.motor.tap_word());
    let tap = after.system.tap().map(|tap| format!("{word} {tap}")).unwrap_or_default();
    if on().count() == 0 {
        label::caption(ui, "All of them are off.");
        return;
    }
    match changes::gain(after) {
        Some((gain, spread)) => {
            let spread = show::number(units.airflow_number(spread), 0);
            let unit = units.airflow_unit();
            let most = changes::at_most(after.system.unknown_part);
            let gain_text = changes::gain_bare(gain, units);
            label::strong(ui, format!("Together {most}{gain_text} ± {spread} {unit} on {tap}"));
            if let Some(delivered) = &after.system.delivered {
                let rooms = show::airflow_gained(point.delivered().to_rooms, delivered.to_rooms, units);
                if gain.most.is_none() && rooms != changes::gain_bare(gain, units) {
                    label::caption(ui, format!("To the rooms {rooms} {unit}"));
                }
            }
            sum_of_worths(ui, screen, after, gain);
        }
        None => {
            label::error(ui, &format!("The curve of {tap} does not reach the changed path"));
        }
    }
    if let Some((price, unpriced)) = after.price(screen.job) {
        let rest = if unpriced > 0 { format!("; {unpriced} without a price") } else { String::new() };
        label::caption(ui, format!("Price together {}{rest}", money(price)));
    }
}

fn sum_of_worths(ui: &mut Ui, screen: &Screen<'_>, after: &Projection, whole: Gain) {
    let counted = || screen.job.changes.iter().filter(|change| after.counts(change));
    let worths = || counted().filter_map(|change| worth(screen, change));
    // Ranges have no sum that would say anything.
    if worths().chain([whole]).any(|gain| gain.most.is_some()) {
        return;
    }
    // The sum of what stands in the list, for that is what a person adds up.
    let sum: Airflow =
        worths().map(|gain| show::gained_as_shown(gain.from, gain.from + gain.least, screen.units)).sum();
    if counted().count() > 1 && (sum - whole.least).abs() > ADDS_UP {
        label::caption(
            ui,
            format!(
                "Alone they make {} {} in sum. Worths do not add up: each change meets the air and the drop that the others leave",
                show::airflow_signed(sum, screen.units),
                screen.units.airflow_unit()
            ),
        );
    }
}

/// A person's own money, whole or to hundredths.
pub(super) fn money(price: f64) -> String {
    show::number(price, if (price.fract()).abs() < 0.005 { 0 } else { 2 })
}
