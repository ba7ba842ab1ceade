//! Choosing one of few: a row of buttons, or a list that drops down.

use eframe::egui::style::ScrollAnimation;
use eframe::egui::{
    Button, ComboBox, Event, EventFilter, Key, Modifiers, Popup, Rect, Response, RichText, Role, Sense, Ui, WidgetInfo,
    vec2,
};

use crate::ui::theme;
use crate::ui::widgets::{focus, hint};

/// A row of buttons of which one is chosen; gives the one that was pressed.
///
/// `name` says to screen readers what is chosen ("Tap").
/// By key the row is one stop: Tab comes to the chosen button, arrows choose another.
pub fn buttons(ui: &mut Ui, name: &str, options: &[(String, bool)]) -> Option<usize> {
    let chosen: Vec<bool> = options.iter().map(|(_, chosen)| *chosen).collect();
    let pick = |ui: &mut Ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        pick(ui, name, &chosen, |ui, index| {
            let (text, chosen) = &options[index];
            (Button::new(worded(ui, text, *chosen)).min_size(vec2(34.0, theme::FINGER)), text.clone())
        })
    };
    ui.horizontal_wrapped(pick).inner.0.pressed
}

/// What a hand does with one of a few.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Picked {
    /// The one that was pressed.
    pub pressed: Option<usize>,
    /// The one under the pointer.
    pub pointed_at: Option<usize>,
}

/// The same with a line for each, its name whole at the left and its figures at the right: for few that are compared.
///
/// The chosen line comes into view when it has become another, and at no other time.
pub fn lines(ui: &mut Ui, name: &str, options: &[(String, String, bool)]) -> Picked {
    let chosen: Vec<bool> = options.iter().map(|(.., chosen)| *chosen).collect();
    ui.spacing_mut().item_spacing.y = theme::STEP * 0.25;
    let (picked, chosen_line) = pick(ui, name, &chosen, |ui, index| {
        let (text, figures, chosen) = &options[index];
        let wide = vec2(ui.available_width(), theme::FINGER);
        let figures_shown = worded(ui, figures, *chosen);
        let button = Button::new(worded(ui, text, *chosen)).right_text(figures_shown).wrap().min_size(wide);
        (button, format!("{text}, {figures}").trim_end_matches(", ").to_owned())
    });
    let now = chosen.iter().position(|chosen| *chosen);
    let key = ui.scope_id().with(("chosen line", name));
    let before = ui.data_mut(|data| data.get_temp::<Option<usize>>(key));
    ui.data_mut(|data| data.insert_temp(key, now));
    if before.is_some_and(|before| before != now) {
        ui.scroll_to_rect_animation(chosen_line, None, ScrollAnimation::none());
    }
    picked
}

fn worded(ui: &Ui, text: &str, chosen: bool) -> RichText {
    let palette = theme::palette(ui);
    let (ink, font) =
        if chosen { (palette.on_tap, theme::strong(theme::BODY)) } else { (palette.ink, theme::regular(theme::BODY)) };
    RichText::new(text).font(font).color(ink)
}

/// Draws the buttons that `button` makes with what each is called to screen readers, and takes press and arrow; gives the place of the chosen one too.
fn pick<'b>(
    ui: &mut Ui,
    name: &str,
    chosen: &[bool],
    button: impl Fn(&Ui, usize) -> (Button<'b>, String),
) -> (Picked, Rect) {
    let palette = theme::palette(ui);
    let stop = chosen.iter().position(|chosen| *chosen).unwrap_or_default();
    let follows = ui.scope_id().with(("follows", name));
    let Picked { mut pressed, mut pointed_at } = Picked::default();
    let mut chosen_place = Rect::NOTHING;
    let count = chosen.len();
    for (index, chosen) in chosen.iter().copied().enumerate() {
        let fill = if chosen { palette.tap_high } else { palette.raised };
        let sense = if index == stop { Sense::click() } else { Sense::CLICK };
        let (button, said) = button(ui, index);
        let response = ui.add(button.fill(fill).sense(sense));
        response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, chosen, format!("{name} {said}")));
        hint::hint(&response, || format!("{name}: arrow keys choose"));
        if response.clicked() {
            pressed = Some(index);
        }
        if response.hovered() {
            pointed_at = Some(index);
        }
        if index == stop {
            chosen_place = response.rect;
            if ui.data_mut(|data| data.remove_temp::<()>(follows)).is_some() {
                response.request_focus();
            }
            pressed = pressed.or_else(|| by_arrow(ui, &response, index, count));
        }
    }
    if pressed.is_some() {
        ui.data_mut(|data| data.insert_temp(follows, ()));
    }
    (Picked { pressed, pointed_at }, chosen_place)
}

/// The button that an arrow key asks for while the row has the focus; the ends of the row are its ends.
fn by_arrow(ui: &Ui, stop: &Response, index: usize, count: usize) -> Option<usize> {
    if !stop.has_focus() {
        return None;
    }
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(stop.id, arrows));
    let pressed =
        |keys: [Key; 2]| ui.input_mut(|input| keys.iter().any(|key| input.consume_key(Modifiers::NONE, *key)));
    if pressed([Key::ArrowRight, Key::ArrowDown]) {
        Some(index + 1).filter(|next| *next < count)
    } else if pressed([Key::ArrowLeft, Key::ArrowUp]) {
        index.checked_sub(1)
    } else {
        None
    }
}

/// A list that drops down; gives the one that was picked.
///
/// Down opens it on what is chosen, as does the key that calls for it; a letter goes to the next line that begins with it, and the focus comes back when it closes.
pub fn list(ui: &mut Ui, name: &str, chosen: &str, options: &[&str]) -> Option<usize> {
    let mut picked = None;
    let width = ui.available_width();
    let begins = ui.scope_id().with(("begins", name));
    let to_chosen = ui.data_mut(|data| data.remove_temp::<()>(begins)).is_some();
    let was_open = ui.scope_id().with(("was open", name));
    let response = ComboBox::from_id_salt(name)
        .selected_text(chosen)
        .width(width)
        .truncate()
        .show_ui(ui, |ui| {
            let lines: Vec<Response> =
                options.iter().map(|option| ui.selectable_label(*option == chosen, *option)).collect();
            picked = lines.iter().position(Response::clicked);
            let at_chosen = options.iter().position(|option| *option == chosen);
            let here = lines.iter().position(Response::has_focus).or(at_chosen);
            let goes_to = if to_chosen { at_chosen.or(Some(0)) } else { by_letter(ui, options, here) };
            if let Some(line) = goes_to.and_then(|index| lines.get(index)) {
                line.request_focus();
            }
        })
        .response;
    let popup = response.id.with("popup");
    let is_called = focus::is_called(ui, name);
    let is_open = Popup::is_id_open(ui.ctx(), popup);
    let has_closed = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(was_open), is_open)) && !is_open;
    let is_nowhere = ui.memory(|memory| memory.focused().is_none());
    if picked.is_some() || is_called || (has_closed && is_nowhere) {
        response.request_focus();
    }
    let goes_down = || response.has_focus() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::ArrowDown));
    if !is_open && (is_called || goes_down()) {
        Popup::open_id(ui.ctx(), popup);
        ui.data_mut(|data| data.insert_temp(begins, ()));
        ui.ctx().request_repaint();
    }
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::ComboBox, true, name);
        info.current_text_value = Some(chosen.to_owned());
        info
    });
    hint::hint(&response, || format!("{name}: Down opens the list, a letter goes to its line"));
    picked
}

/// The next line after this one that begins with the letter typed, round to the first again.
fn by_letter(ui: &Ui, options: &[&str], here: Option<usize>) -> Option<usize> {
    let typed = ui.input(|input| {
        let mut letters = input
            .events
            .iter()
            .filter_map(|event| if let Event::Text(text) = event { text.chars().next() } else { None });
        letters.next_back()
    })?;
    let begins = |index: &usize| {
        let first = options.get(*index).and_then(|option| option.chars().next());
        first.is_some_and(|first| first.to_lowercase().eq(typed.to_lowercase()))
    };
    let from = here.map_or(0, |here| here + 1);
    (from..options.len()).chain(0..from.min(options.len())).find(begins)
}
