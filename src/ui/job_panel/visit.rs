//! The visit: each set of readings with its static and airflow, one press for more, and what all of them say together.

use eframe::egui::{CollapsingHeader, Ui};

use super::{remarks, words};
use crate::edit::Edit;
use crate::model::answer::visit::Visit;
use crate::model::facts::job_check::Field;
use crate::model::wording::{self, read_next, visit};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::{choice, field, hint, label};

/// Draws the sets in a row, the one that everything is judged by in full, and what they say.
pub(super) fn visit(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let job = screen.job;
    // The figures of a line say their unit once, over them.
    let figures_of = if job.sets.len() > 1 {
        format!(" ({} · {})", screen.units.pressure_unit(), screen.units.airflow_unit())
    } else {
        String::new()
    };
    label::heading(ui, &format!("Readings of this visit{figures_of}"));
    let figures = |set: usize| Some(visit::figures(screen.answer.visit.as_ref()?.sets.get(set)?, screen.units));
    let line = |set| (visit::name(job, set), figures(set).unwrap_or_default(), set == job.judged);
    let lines: Vec<(String, String, bool)> = (0..job.sets.len()).map(line).collect();
    // One alone is no choice.
    if lines.len() > 1 {
        let picked = choice::lines(ui, "Readings", &lines);
        view.pointed_set = picked.pointed_at;
        out.extend(picked.pressed.map(|set| Edit::JudgeSet(set).into()));
    }
    ui.horizontal_wrapped(|ui| {
        let add = ui.button("As these, but…");
        if hint::and_under_the_pointer(add, "New readings: as these, but for what you then say and type").clicked() {
            out.push(Edit::AddSet.into());
        }
        if job.sets.len() > 1 {
            let remove = ui.button("Remove these");
            if hint::and_under_the_pointer(remove, "Take these readings out of the visit").clicked() {
                out.push(Edit::RemoveSet(job.judged).into());
            }
        }
    });
    if let Some(told) = &screen.answer.visit {
        about_several(ui, screen, told, out);
    }
    let next = read_next::sentences(job, &view.next_readings(), screen.units);
    if screen.answer.point().is_some() && !next.is_empty() {
        label::heading(ui, "What to read next");
        for told in next {
            label::caption(ui, wording::ended(&told));
        }
    }
}

/// What a visit of several sets says, and what is said of the set that is shown.
fn about_several(ui: &mut Ui, screen: &Screen<'_>, told: &Visit, out: &mut Vec<Action>) {
    let job = screen.job;
    let step = visit::step(job, told, job.judged, screen.units);
    for said in step.into_iter().chain(visit::together(job, screen.answer, screen.units)) {
        label::caption(ui, wording::ended(&said));
        ui.add_space(theme::STEP * 0.5);
    }
    let set = job.set();
    let mut after = set.after_repair;
    let repaired = ui.checkbox(&mut after, "Read after the repair");
    let held_against = "On: held against what the changes that are on promise, and left out of the fit";
    if hint::and_under_the_pointer(repaired, held_against).clicked() {
        out.push(Edit::AfterRepair(after).into());
    }
    let mut otherwise = set.otherwise;
    let ticked = ui.checkbox(&mut otherwise, "Something else was different");
    let left_out = "On: a panel off, a zone shut, the bypass open: compared with the others, left out of the fit, and no verdict on the system";
    if hint::and_under_the_pointer(ticked, left_out).clicked() {
        out.push(Edit::Otherwise(otherwise).into());
    }
    remarks(ui, screen, &[Field::Time]);
    let about = CollapsingHeader::new("About these readings").show_unindented(ui, |ui| {
        words(ui, "Name of these readings", &set.name, 1, out, Edit::NameSet, field::id(FieldKey::SetName));
        words(ui, "Time", &set.time, 1, out, Edit::SetTime, field::id(FieldKey::SetTime));
        words(ui, "Note", &set.note, 1, out, Edit::SetNote, field::id(FieldKey::SetNote));
    });
    hint::hint(&about.header_response, || "Name, time and a note: Enter opens or closes it".to_owned());
}
