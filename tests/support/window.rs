//! A window with a job in it, and the hands that the suites use it with.

use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Theme};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::demo;
use tapcross::files::settings::ThemeChoice;
use tapcross::model::facts::job::Job;
use tapcross::ui::view::action::Action;

pub(crate) type App = Harness<'static, TapcrossApp>;

/// The window's usual size.
pub(crate) const WIDE: [f32; 2] = [1440.0, 900.0];

/// How a window looks.
#[derive(Clone, Copy)]
pub(crate) struct Look {
    pub(crate) size: [f32; 2],
    pub(crate) scale: f32,
    pub(crate) theme: Theme,
    /// True where pictures are taken of it.
    pub(crate) pictured: bool,
}

impl Default for Look {
    fn default() -> Self {
        Self { size: WIDE, scale: 1.0, theme: Theme::Light, pictured: false }
    }
}

/// A wide window with a job.
pub(crate) fn app_of(job: Job) -> App {
    app_in(job, Look::default())
}

/// A wide window with the first demo job.
pub(crate) fn app() -> App {
    app_of(demo::heat_pump())
}

/// A window of a size with a job.
pub(crate) fn sized(job: Job, size: [f32; 2]) -> App {
    app_in(job, Look { size, ..Look::default() })
}

/// A window with a job.
pub(crate) fn app_in(job: Job, Look { size, scale, theme, pictured }: Look) -> App {
    let builder = Harness::builder().with_size(size).with_pixels_per_point(scale).with_max_steps(12).with_theme(theme);
    let builder = builder.with_render_cursor(false);
    let builder = if pictured { builder.wgpu() } else { builder };
    let mut app = builder.build_eframe(|context| TapcrossApp::new(&context.egui_ctx, Start::alone()));
    app.state_mut().show_job(job);
    run(&mut app, Action::Theme(if theme == Theme::Dark { ThemeChoice::Dark } else { ThemeChoice::Light }));
    app
}

/// Lets what was done be drawn.
pub(crate) fn settle(app: &mut App) {
    app.run_steps(4);
}

/// Does what a person could ask for.
pub(crate) fn run(app: &mut App, action: Action) {
    let context = app.ctx.clone();
    app.state_mut().run(action, &context);
    settle(app);
}

/// Presses what bears a name; a card of the palette after the palette is opened.
pub(crate) fn press(app: &mut App, name: &str) {
    if name.starts_with(CARD) {
        open_palette(app);
    }
    app.get_by_label(name).click();
    settle(app);
}

/// How the cards of the palette are named.
const CARD: &str = "Put on: ";

/// Opens the palette, where an editor stands in its place or it is folded, so that its first cards are in sight.
pub(crate) fn open_palette(app: &mut App) {
    if app.query_all_by_label_contains(CARD).next().is_none() {
        app.get_by_label("Changes to put on").click();
        settle(app);
    }
}

/// Selects a change, so that its editor and its buttons stand under the list.
pub(crate) fn select(app: &mut App, title: &str) {
    press(app, &format!("Edit: {title}"));
}

/// Presses a key.
pub(crate) fn key(app: &mut App, key: Key) {
    app.key_press(key);
    settle(app);
}

/// Puts the hand into a field, types over what stands there, and presses Enter.
pub(crate) fn type_into(app: &mut App, name: &str, text: &str) {
    type_then(app, name, text, Key::Enter);
}

/// The same with another key at the end.
pub(crate) fn type_then(app: &mut App, name: &str, text: &str, end: Key) {
    app.get_by_role_and_label(Role::TextInput, name).focus();
    settle(app);
    if text.is_empty() {
        app.key_press(Key::Delete);
    } else {
        app.get_by_role_and_label(Role::TextInput, name).type_text(text);
    }
    settle(app);
    key(app, end);
}

/// Every text that a screen reader could read.
pub(crate) fn texts(app: &App) -> Vec<String> {
    let nodes = app.root().children_recursive();
    nodes.filter_map(|node| node.accesskit_node().label().or_else(|| node.accesskit_node().value())).collect()
}

/// True where a text on the screen holds a fragment.
pub(crate) fn says(app: &App, fragment: &str) -> bool {
    texts(app).iter().any(|text| text.contains(fragment))
}
