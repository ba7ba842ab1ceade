//! File, undo, units, theme and size.

use eframe::egui::containers::menu::{MenuButton, MenuConfig};
use eframe::egui::{
    Align, Button, Label, Layout, Popup, PopupCloseBehavior, Rect, Response, RichText, Role, Ui, WidgetInfo,
};

use crate::files::settings::{Panel, ThemeChoice};
use crate::ui::theme;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::{Chrome, Screen, Tab};
use crate::ui::widgets::{choice, focus, hint};
use crate::units::UnitSystem;

/// Under this width of a bar with tabs the program's name, which stands over the window, is left out.
const NAMELESS: f32 = 780.0;
/// Under this width the tabs have a row of their own.
const OWN_ROW: f32 = 650.0;

/// Width of what is left of the bar from which the job's name stands beside a hint, and its share of that.
const NAME_AND_HINT: f32 = 640.0;
const NAME_BESIDE_HINT: f32 = 0.45;

/// Draws the bar.
///
/// In a narrow window `tabs` takes the place of the job's name; in a low one too, the air path is one of them.
/// Gives where there is room for a message, beside that name.
pub fn top_bar(
    ui: &mut Ui,
    screen: &Screen<'_>,
    chrome: &Chrome<'_>,
    tabs: Option<&mut Tab>,
    is_low: bool,
    out: &mut Vec<Action>,
) -> Option<Rect> {
    let width = ui.available_width();
    let mut tabs = tabs;
    let mut room = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = if width < NAMELESS { theme::STEP } else { theme::STEP * 1.5 };
        if tabs.is_none() || width >= NAMELESS {
            ui.label(RichText::new("Tapcross").font(theme::strong(17.0)));
        }
        file_menu(ui, chrome, out);
        step_button(ui, Command::Undo, chrome.undo, out);
        step_button(ui, Command::Redo, chrome.redo, out);
        // In a narrow window it stands in the menu alone.
        let has_room = tabs.is_none() || width >= NAMELESS;
        if has_room {
            command_button(ui, Command::Help, Command::Help.name(), out);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            view_menu(ui, chrome, out);
            units_menu(ui, chrome.settings.units, out);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| match tabs.as_deref_mut() {
                Some(tab) if width >= OWN_ROW => tab_buttons(ui, tab, is_low),
                Some(_) => {}
                None => room = Some(name_and_hint(ui, screen, chrome)),
            });
        });
    });
    if let Some(tab) = tabs.filter(|_| width < OWN_ROW) {
        tab_buttons(ui, tab, is_low);
    }
    room
}

/// The job's name, and what the thing under the keys is for; where both have no room, the latter while there is one.
///
/// A message comes before that: it stands where this gives room for it, and nothing under it.
fn name_and_hint(ui: &mut Ui, screen: &Screen<'_>, chrome: &Chrome<'_>) -> Rect {
    let hint = hint::shown(ui.ctx()).filter(|_| !chrome.has_message);
    let (room, is_alone) = (ui.available_width(), hint.is_none() && !chrome.has_message);
    if is_alone || room >= NAME_AND_HINT {
        job_name(ui, screen, chrome, if is_alone { room } else { room * NAME_BESIDE_HINT });
    }
    let free = ui.available_rect_before_wrap();
    if let Some(hint) = hint {
        hint_line(ui, &hint);
    }
    free
}

/// What the thing under the keys is for, on one line.
pub fn hint_line(ui: &mut Ui, hint: &str) {
    let text = RichText::new(hint).font(theme::regular(theme::SMALL)).color(theme::palette(ui).ink);
    let response = ui.add(Label::new(text).truncate());
    response.widget_info(|| WidgetInfo::labeled(Role::Status, true, hint));
}

fn job_name(ui: &mut Ui, screen: &Screen<'_>, chrome: &Chrome<'_>, width: f32) {
    let quiet = theme::palette(ui).quiet;
    let title = if screen.job.title.is_empty() { "Untitled job" } else { &screen.job.title };
    let room = width - 150.0;
    ui.scope(|ui| {
        ui.set_max_width(room.max(60.0));
        ui.add(Label::new(RichText::new(title).font(theme::strong(theme::BODY))).truncate());
    });
    let state = match (chrome.is_changed, chrome.file) {
        (true, _) => "not saved",
        (false, Some(_)) => "saved",
        (false, None) if screen.job.illustrative => "invented demo",
        (false, None) => "new",
    };
    ui.label(RichText::new(state).font(theme::regular(theme::SMALL)).color(quiet));
}

fn tab_buttons(ui: &mut Ui, tab: &mut Tab, is_low: bool) {
    let mut tabs = vec![("Job", Tab::Job), ("Chart", Tab::Chart)];
    if is_low {
        tabs.push(("Air path", Tab::Path));
    }
    tabs.push(("Changes, taps", Tab::Taps));
    let options: Vec<(String, bool)> = tabs.iter().map(|(name, each)| ((*name).to_owned(), each == tab)).collect();
    if let Some(index) = choice::buttons(ui, "Part", &options) {
        *tab = tabs[index].1;
    }
}

/// The first line of the file menu, by the name that it is called by.
const FIRST_LINE: &str = "first line of the file menu";

fn file_menu(ui: &mut Ui, chrome: &Chrome<'_>, out: &mut Vec<Action>) {
    let is_called = focus::is_called(ui, focus::FILE);
    let menu = ui.menu_button(focus::FILE, |ui| {
        let first = item(ui, Command::New, out);
        if focus::is_called(ui, FIRST_LINE) {
            first.request_focus();
        }
        for command in [
            Command::Open,
            Command::Save,
            Command::SaveAs,
            Command::Duplicate,
            Command::OpenTable,
            Command::WriteTable,
            Command::Preview,
            Command::Print,
            Command::Report,
            Command::FieldSheet,
            Command::CopyResults,
            Command::CopyChart,
        ] {
            item(ui, command, out);
        }
        ui.separator();
        if chrome.has_recovered {
            item(ui, Command::Recovered, out);
        }
        recent(ui, chrome, out);
        item(ui, Command::DemoHeatPump, out);
        item(ui, Command::DemoFurnace, out);
        ui.separator();
        item(ui, Command::Settings, out);
        item(ui, Command::Quit, out);
    });
    hint::hint(&menu.response, || "Jobs, results and demos (F10)".to_owned());
    if is_called {
        Popup::open_id(ui.ctx(), Popup::default_response_id(&menu.response));
        focus::call(ui.ctx(), FIRST_LINE);
    }
}

fn recent(ui: &mut Ui, chrome: &Chrome<'_>, out: &mut Vec<Action>) {
    if chrome.settings.recent.is_empty() {
        return;
    }
    ui.menu_button("Recent", |ui| {
        for path in &chrome.settings.recent {
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
            let response = ui.button(name).on_hover_text(path.display().to_string());
            if response.clicked() {
                out.push(Action::OpenPath(path.clone()));
                ui.close();
            }
        }
    });
    ui.separator();
}

/// A menu's line of a command, with its keys.
fn item(ui: &mut Ui, command: Command, out: &mut Vec<Action>) -> Response {
    let mut button = Button::new(command.name());
    if let Some(shortcut) = command.shortcut() {
        button = button.shortcut_text(ui.ctx().format_shortcut(&shortcut));
    }
    let response = ui.add(button);
    if response.clicked() {
        out.push(command.into());
        ui.close();
    }
    response
}

fn step_button(ui: &mut Ui, command: Command, label: Option<&str>, out: &mut Vec<Action>) {
    let keys = command.shortcut().map(|keys| ui.ctx().format_shortcut(&keys)).unwrap_or_default();
    let response = ui.add_enabled(label.is_some(), Button::new(command.name()).frame(false));
    let told = format!("{} {} ({keys})", command.name(), label.unwrap_or_default());
    if hint::and_under_the_pointer(response, &told).clicked() {
        out.push(command.into());
    }
}

/// A command's button in the bar.
fn command_button(ui: &mut Ui, command: Command, name: &str, out: &mut Vec<Action>) {
    let response = ui.add(Button::new(name).frame(false));
    if hint::and_under_the_pointer(response, &command.told(ui.ctx())).clicked() {
        out.push(command.into());
    }
}

fn units_menu(ui: &mut Ui, units: UnitSystem, out: &mut Vec<Action>) {
    let menu = ui.menu_button(units.name(), |ui| {
        for choice in UnitSystem::ALL {
            if ui.selectable_label(choice == units, choice.name()).clicked() {
                out.push(Action::Units(choice));
                ui.close();
            }
        }
    });
    hint::hint(&menu.response, || "Units shown and typed; what is stored stays as it is".to_owned());
}

fn view_menu(ui: &mut Ui, chrome: &Chrome<'_>, out: &mut Vec<Action>) {
    // Several ticks in a row are set in one visit.
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let (menu, _) = MenuButton::new("View").config(stays).ui(ui, |ui| {
        for (choice, name) in
            [(ThemeChoice::Light, "Light"), (ThemeChoice::Dark, "Dark"), (ThemeChoice::System, "As the system")]
        {
            if ui.selectable_label(chrome.settings.theme == choice, name).clicked() {
                out.push(Action::Theme(choice));
                ui.close();
            }
        }
        ui.separator();
        for (panel, name) in [
            (Panel::Job, "Job"),
            (Panel::EveryTap, "Every tap"),
            (Panel::Changes, "Changes"),
            (Panel::AirPath, "Air path"),
        ] {
            let mut shown = !chrome.settings.folded.contains(&panel);
            if ui.checkbox(&mut shown, name).clicked() {
                out.push(Action::Fold(panel));
            }
        }
        ui.separator();
        for command in [
            Command::ZoomIn,
            Command::ZoomOut,
            Command::ZoomReset,
            Command::FullScreen,
            Command::FitChart,
            Command::HoldAxes,
            Command::Legend,
            Command::ShowBeside,
            Command::ShowAlone,
            Command::Options,
            Command::CopyOption,
            Command::NextOption,
            Command::PreviousOption,
            Command::HideAnswers,
            Command::ShowAnswers,
            Command::Help,
        ] {
            item(ui, command, out);
        }
        ui.label(format!("{} %", chrome.settings.zoom_percent));
    });
    hint::hint(&menu, || "Light or dark, which parts are shown, and the size of type".to_owned());
}
