//! A field that a value is typed into: it shows the stored value, takes what people type, and keeps a refused text with its reason.

use eframe::egui::{self, Align, Id, Key, RichText, Role, TextEdit, Ui, WidgetInfo, vec2};

use crate::ui::theme;
use crate::ui::view::{Entry, FieldKey, Refused, View};
use crate::ui::widgets::{hint, label};

/// Space between a box's edge and its text, points.
const BOX_MARGIN: f32 = 8.0;
/// Room for the unit behind a box, points.
const UNIT_WIDTH: f32 = 44.0;

/// What a field is called and shows.
#[derive(Clone, Copy, Debug)]
pub struct FieldSpec<'a> {
    /// Which field.
    pub key: FieldKey,
    /// Its name beside it, and for screen readers.
    pub name: &'a str,
    /// The stored value as it is shown at rest.
    pub shown: &'a str,
    /// The stored value as it is edited.
    pub edited: &'a str,
    /// Its unit, shown inside.
    pub unit: &'a str,
    /// Width of the box, points.
    pub width: f32,
}

/// Id of a field's box, the same wherever the field is drawn.
pub fn id(key: FieldKey) -> Id {
    Id::unique(("field", format!("{key:?}")))
}

/// What is said of a field that says no more of itself.
fn plainly(spec: &FieldSpec<'_>) -> String {
    format!("{}: Enter or Tab takes it, Escape leaves it", spec.name)
}

/// Draws the box alone; gives the text that was committed by Enter, Tab or leaving.
pub fn text_box(ui: &mut Ui, view: &mut View, spec: &FieldSpec<'_>) -> Option<String> {
    hinted_box(ui, view, spec, || plainly(spec))
}

/// The same with what is said of it while it has the keys.
pub fn hinted_box(ui: &mut Ui, view: &mut View, spec: &FieldSpec<'_>, hint: impl Fn() -> String) -> Option<String> {
    let id = id(spec.key);
    if view.go_to == Some(spec.key) {
        // In the frame after something closed over the window, its fields cannot have the keys yet.
        if ui.memory(|memory| memory.allows_interaction(ui.layer_id())) {
            view.go_to = None;
            ui.memory_mut(|memory| memory.request_focus(id));
        } else {
            ui.ctx().request_repaint();
        }
    }
    let held = view.entry.as_ref().filter(|entry| entry.key == spec.key);
    let refused = view.refused.get(&spec.key);
    let mut text = match (held, refused) {
        (Some(entry), _) => entry.text.clone(),
        (None, Some(refused)) => refused.text.clone(),
        (None, None) => spec.shown.to_owned(),
    };
    let is_refused = refused.is_some();
    let palette = theme::palette(ui);
    let ink = if is_refused { palette.over } else { palette.ink };
    let edit = TextEdit::singleline(&mut text)
        .id(id)
        .font(theme::strong(theme::BODY))
        .text_color(ink)
        .align(egui::Align2::RIGHT_CENTER)
        .desired_width(spec.width)
        .margin(egui::Margin::from(vec2(BOX_MARGIN, 5.0)));
    let output = edit.show(ui);
    let response = output.response;
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::TextInput, true, spec.name);
        info.current_text_value = Some(text.clone());
        info
    });
    hint::hint(&response, hint);
    if response.gained_focus() {
        let start = refused.map_or_else(|| spec.edited.to_owned(), |refused| refused.text.clone());
        select_all(ui, id, &start);
        view.entry = Some(Entry { key: spec.key, text: start.clone(), before: start });
        return None;
    }
    if response.has_focus()
        && let Some(entry) = view.entry.as_mut().filter(|entry| entry.key == spec.key)
    {
        entry.text = text;
        return None;
    }
    if !response.lost_focus() {
        return None;
    }
    let entry = view.entry.take_if(|entry| entry.key == spec.key)?;
    if ui.input(|input| input.key_pressed(Key::Escape)) {
        view.refused.remove(&spec.key);
        return None;
    }
    let changed = text != entry.before || ui.input(|input| input.key_pressed(Key::Enter));
    changed.then_some(text)
}

/// Selects all of a text that the hand comes to; what the box showed at rest is nothing to come back to.
fn select_all(ui: &Ui, id: Id, text: &str) {
    let mut state = TextEdit::load_state(ui.ctx(), id).unwrap_or_default();
    state.clear_undoer();
    let end = egui::text::CCursor::new(text.chars().count());
    let all = egui::text::CCursorRange::two(egui::text::CCursor::new(0), end);
    state.cursor.set_char_range(Some(all));
    state.store(ui.ctx(), id);
}

/// Draws name, box and unit in a row, a name that has no room there over it, and the reason under it when the text was refused.
pub fn row(ui: &mut Ui, view: &mut View, spec: &FieldSpec<'_>) -> Option<String> {
    hinted_row(ui, view, spec, || plainly(spec))
}

/// The same with what is said of it while it has the keys.
pub fn hinted_row(ui: &mut Ui, view: &mut View, spec: &FieldSpec<'_>, hint: impl Fn() -> String) -> Option<String> {
    let quiet = theme::palette(ui).quiet;
    let gap = theme::STEP * 0.75;
    let taken = spec.width + 2.0 * BOX_MARGIN + UNIT_WIDTH + 2.0 * gap;
    let name_width = (ui.available_width() - taken).max(60.0);
    let name = egui::Label::new(RichText::new(spec.name).color(quiet));
    let wanted = ui.painter().layout_no_wrap(spec.name.to_owned(), theme::regular(theme::BODY), quiet).size().x;
    // A name that is a little too long takes the room of a unit that is not there, before it goes over its box.
    let name_width = if spec.unit.is_empty() && wanted > name_width { name_width + UNIT_WIDTH } else { name_width };
    let beside = if wanted > name_width {
        ui.add(name.wrap());
        None
    } else {
        Some(name)
    };
    let mut committed = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = gap;
        ui.allocate_ui_with_layout(vec2(name_width, 28.0), egui::Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(name_width);
            beside.map(|name| ui.add(name));
        });
        committed = hinted_box(ui, view, spec, hint);
        ui.label(RichText::new(spec.unit).font(theme::regular(theme::SMALL)).color(quiet));
    });
    reason(ui, view, spec.key);
    committed
}

/// What a committed text gives: its value, or nothing, and then the text stays in its field beside the reason.
///
/// After Enter the hand stays in a field whose text was refused, all of it selected, so that it can be typed anew.
pub fn taken<T>(ui: &Ui, view: &mut View, key: FieldKey, text: &str, result: Result<T, String>) -> Option<T> {
    match result {
        Ok(value) => {
            view.refused.remove(&key);
            Some(value)
        }
        Err(message) => {
            view.refused.insert(key, Refused { text: text.to_owned(), message });
            // Nothing else moves for a refused text; an editor ends where its last field does.
            if key.change().is_some() {
                ui.data_mut(|data| data.insert_temp(due(), (key, BROUGHT)));
            }
            if ui.input(|input| input.key_pressed(Key::Enter)) {
                view.go_to = Some(key);
                ui.ctx().request_repaint();
            }
            None
        }
    }
}

/// Frames in which a reason is brought into sight: the field under the hand comes into sight in the first of them.
const BROUGHT: u8 = 3;

/// Where the field is remembered whose reason has to be brought into sight.
fn due() -> Id {
    Id::unique("the reason to bring into sight")
}

/// The sentence of a refused text, which comes into sight once in the editor of a change when the text is refused.
pub fn reason(ui: &mut Ui, view: &View, key: FieldKey) {
    if let Some(refused) = view.refused.get(&key) {
        let told = label::error(ui, &refused.message);
        let left = ui.data(|data| data.get_temp::<(FieldKey, u8)>(due()));
        if let Some((_, left)) = left.filter(|(of, left)| *of == key && *left > 0) {
            ui.data_mut(|data| data.insert_temp(due(), (key, left - 1)));
            told.scroll_to_me(None);
            ui.ctx().request_repaint();
        }
    }
}
