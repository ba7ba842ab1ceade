//! Whose a limit or a figure of accuracy is, under its field: said in a line that opens, and typed over there.

use eframe::egui::{Button, RichText, Ui, vec2};

use crate::model::facts::day::day;
use crate::model::facts::figure_source::{NamedSource, SourcePart, Whose};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Oddity;
use crate::model::facts::job_number::JobNumber;
use crate::model::wording::figures;
use crate::ui::theme;
use crate::ui::view::{FieldKey, Figures, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::{hint, label};
use crate::units::UnitSystem;

/// Room beside the box of a text: its margins.
const MARGINS: f32 = 20.0;
/// What gives the program's own figure back.
const BACK: &str = "As the program has it";

/// What a person did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    /// Typed a part of the source.
    Part(SourcePart, String),
    /// Asked for the program's own figure and source.
    BuiltIn,
}

/// Draws where a figure of a job, or of new jobs, comes from; gives what follows from what was typed, which `taken` makes of it or refuses.
pub fn figure_source<T>(
    ui: &mut Ui,
    view: &mut View,
    (figures, figure, job): (Figures, JobNumber, &Job),
    taken: impl Fn(Typed) -> Result<T, String>,
) -> Option<T> {
    let (is_open, whose) = (view.source_open == Some((figures, figure)), figure.whose(job));
    if line(ui, &figures::source(job, figure)) {
        view.source_open = (!is_open).then_some((figures, figure));
        view.go_to = view.source_open.map(|_| FieldKey::Source(figures, figure, SourcePart::Name));
    }
    if !is_open {
        return None;
    }
    let named = match &whose {
        Whose::Named(named) => named.clone(),
        Whose::BuiltIn(_) | Whose::Unsaid => NamedSource::default(),
    };
    let mut given = None;
    for part in SourcePart::ALL {
        let key = FieldKey::Source(figures, figure, part);
        given = typed(ui, view, key, (part, &named), &taken).or(given);
    }
    if !matches!(whose, Whose::BuiltIn(_))
        && hint::and_under_the_pointer(ui.button(BACK), "Figure and source are the built-in ones again").clicked()
    {
        given = taken(Typed::BuiltIn).ok();
    }
    given
}

/// The source in its line; true when it is pressed.
fn line(ui: &mut Ui, source: &str) -> bool {
    ui.scope(|ui| {
        ui.spacing_mut().button_padding = vec2(0.0, 0.0);
        ui.spacing_mut().interact_size.y = 0.0;
        let text = RichText::new(source).font(theme::regular(theme::SMALL)).color(theme::palette(ui).quiet);
        let told = ui.add(Button::new(text).frame(false).wrap());
        hint::and_under_the_pointer(told, "Whose it is, and of when: press to name it").clicked()
    })
    .inner
}

fn typed<T>(
    ui: &mut Ui,
    view: &mut View,
    key: FieldKey,
    (part, named): (SourcePart, &NamedSource),
    taken: impl Fn(Typed) -> Result<T, String>,
) -> Option<T> {
    let name = match part {
        SourcePart::Name => "Whose it is",
        SourcePart::Date => "Of when",
    };
    label::caption(ui, name);
    let width = (ui.available_width() - MARGINS).max(MARGINS);
    let (shown, unit) = (named.part(part), "");
    let text = field::text_box(ui, view, &FieldSpec { key, name, shown, edited: shown, unit, width });
    field::reason(ui, view, key);
    let text = text?;
    let result = match (part, day(&text)) {
        (SourcePart::Date, Err(none)) => Err(Oddity::NoSuchDay(none).sentence(UnitSystem::default())),
        (SourcePart::Name, _) | (SourcePart::Date, Ok(_)) => taken(Typed::Part(part, text.clone())),
    };
    field::taken(ui, view, key, &text, result)
}
