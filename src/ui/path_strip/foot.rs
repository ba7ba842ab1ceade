//! The row at the strip's foot: two ports or one total, and the one sentence that matters most just now.

use eframe::egui::{Align, Label, Layout, Rect, RichText, Ui, UiBuilder};

use crate::edit::Edit;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Field;
use crate::model::facts::severity::Severity;
use crate::model::verdicts::system::NotRunning;
use crate::model::wording::{self, ducts, problems};
use crate::ui::path_strip::frame::{Strip, Trust};
use crate::ui::path_strip::lettering;
use crate::ui::reading_entry::Side;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Refused, View};
use crate::ui::widgets::choice;
use crate::units::text;

/// What is said, and how gravely.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Said {
    /// Longest wording first.
    Refused(Vec<String>),
    Asked(String),
    Noted(String),
    Nothing,
    /// What the ducts take against their lengths, longest wording first, and whether that is too much.
    Ducts(Vec<String>, bool),
}

/// Draws the row.
pub fn foot(ui: &mut Ui, rect: Rect, strip: &Strip<'_>, view: &mut View, out: &mut Vec<Action>) {
    let layout = Layout::left_to_right(Align::Center);
    let mut row = ui.new_child(UiBuilder::new().id_salt("foot").max_rect(rect).layout(layout));
    let options = [("two ports".to_owned(), !view.total_only), ("total".to_owned(), view.total_only)];
    if let Some(index) = choice::buttons(&mut row, "Read as", &options) {
        view.total_only = index == 1;
    }
    if view.total_only && both_ports_read(strip.screen.job) && row.button("Use the total").clicked() {
        out.push(Action::Edits([Side::Return, Side::Supply].map(|side| Edit::Reading(side.at(), Vec::new())).to_vec()));
    }
    sentence(&mut row, &said(strip, view));
}

fn sentence(row: &mut Ui, said: &Said) {
    let palette = theme::palette(row);
    let (text, colour) = match said {
        Said::Refused(wordings) => (format!("! {}", fitting(row, wordings, "! ")), palette.over),
        Said::Asked(text) => (format!("? {text}"), palette.change),
        Said::Noted(text) => (text.clone(), palette.quiet),
        Said::Nothing => return,
        Said::Ducts(wordings, is_over) => {
            let mark = if *is_over { "▲ " } else { "" };
            let colour = if *is_over { palette.over } else { palette.ink };
            (format!("{mark}{}", fitting(row, wordings, mark)), colour)
        }
    };
    let shown = RichText::new(&text).font(theme::regular(theme::SMALL)).color(colour);
    row.add(Label::new(shown).truncate().show_tooltip_when_elided(false)).on_hover_text(text);
}

/// The longest wording that fits into what is left of the row.
fn fitting<'a, Wording: AsRef<str>>(row: &Ui, wordings: &'a [Wording], mark: &str) -> &'a str {
    let width =
        |wording: &str| lettering::width_of(row.painter(), &format!("{mark}{wording}"), theme::regular(theme::SMALL));
    let fits = |wording: &&Wording| width(wording.as_ref()) <= row.available_width();
    wordings.iter().find(fits).or_else(|| wordings.last()).map_or("", AsRef::as_ref)
}

fn both_ports_read(job: &Job) -> bool {
    [Side::Return, Side::Supply].iter().all(|side| job.set().at(side.at()).is_some())
}

fn said(strip: &Strip<'_>, view: &View) -> Said {
    let sides: &[Side] = if strip.total_only { &[Side::Total] } else { &[Side::Return, Side::Supply] };
    // The field stands over the sentence, and the head says it whole.
    let of_side = |side: &Side| {
        let Refused { text, message } = view.refused.get(&side.key())?;
        let name = format!("{}: ", side.name(&strip.screen.job.path));
        let without_name = message.strip_prefix(&name).map(wording::capital);
        let least = format!("\"{}\" cannot be; the head says why", text::cut(text));
        Some([message.clone()].into_iter().chain(without_name).chain([least]).collect())
    };
    let refused: Option<Vec<String>> = sides.iter().find_map(of_side);
    let at_port = || view.refused.iter().find(|(key, _)| matches!(key, FieldKey::PortReading(_))).map(|found| found.1);
    if let Some(wordings) = refused.or_else(|| Some(vec![at_port()?.message.clone()])) {
        return Said::Refused(wordings);
    }
    let found = strip.screen.answer.problems.iter();
    let is_here = |field: Field| sides.iter().any(|side| side.key() == FieldKey::Of(field)) || field == Field::Path;
    let mut here = found.filter(|problem| is_here(problem.field));
    if let Some(problem) = here.next() {
        return match problem.severity {
            Severity::Error => Said::Refused(vec![problems::sentence(&problem.what, strip.screen.units)]),
            Severity::Question => Said::Asked(problems::sentence(&problem.what, strip.screen.units)),
        };
    }
    let job = strip.screen.job;
    if strip.total_only && both_ports_read(job) {
        return Said::Asked("The two ports count while both are read".to_owned());
    }
    if !strip.total_only && strip.total.is_some() && !both_ports_read(job) {
        return Said::Noted("The total counts until both ports are read".to_owned());
    }
    if let Some(NotRunning::Shares(why)) = strip.screen.answer.why_not() {
        return Said::Refused(vec![why.sentence(strip.screen.units)]);
    }
    if let Some(problem) = job.path.problem().filter(|_| !job.path.elements.is_empty()) {
        return Said::Refused(vec![problem.sentence(strip.screen.units)]);
    }
    if let Some(allowance) = strip.screen.answer.ducts.as_ref().filter(|_| strip.trust == Trust::Full) {
        let wordings = ducts::foot(allowance, strip.screen.units);
        if !wordings.is_empty() {
            return Said::Ducts(wordings, allowance.is_spent() || allowance.worst().is_some());
        }
    }
    Said::Nothing
}
