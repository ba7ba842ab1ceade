//! The fold of second opinions on the airflow: what rise and heat, grilles and a plate say, and the fields that they are typed into.

use eframe::egui::Ui;

use super::{fact, fold, number, remarks};
use crate::edit::{self, Edit};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Field;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::readings::Phase;
use crate::model::wording::opinions;
use crate::ui::reading_entry;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::{choice, hint, label};
use crate::units::{Airflow, UnitSystem, show};

/// What the fold is called.
const FOLD: &str = "Second opinions on airflow";
/// Width of the box of a side's grilles, points.
const LIST_BOX: f32 = 132.0;

/// What a burner's heat is read by, besides the rise and the heat that goes in.
const OF_BURNER: [JobNumber; 4] =
    [JobNumber::BurnerEfficiency, JobNumber::MeterSeconds, JobNumber::MeterDial, JobNumber::HeatingValue];
/// What is read at a plate in the filter's slot.
const OF_PLATE: [JobNumber; 6] = [
    JobNumber::PlateAirflow,
    JobNumber::PlateConstant,
    JobNumber::PlateExponent,
    JobNumber::PlateDrop,
    JobNumber::UsualStatic,
    JobNumber::PlateStatic,
];

/// Draws the fold: closed until something is read in it, the call heats, or a person opens it.
pub(super) fn opinions(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let numbers = of_heat().chain(OF_PLATE).map(|which| FieldKey::Of(Field::Number(which)));
    let inside: Vec<FieldKey> = numbers.chain([FieldKey::SupplyGrilles, FieldKey::ReturnGrilles]).collect();
    if view.go_to.is_some_and(|key| inside.contains(&key)) {
        view.opinions_open = Some(true);
    }
    let open = view.opinions_open.unwrap_or_else(|| is_begun(screen.job));
    let is_pressed = fold(ui, FOLD, open, |ui| {
        list(ui, screen, view);
        anchor(ui, screen, out);
        if screen.job.set().call.is_heating() || !screen.job.set().heat.is_empty() {
            heat(ui, screen, view, out);
        }
        grilles(ui, screen, view, out);
        plate(ui, screen, view, out);
        for wanted in opinions::wanted(screen.job) {
            label::question(ui, wanted);
        }
    });
    if is_pressed {
        view.opinions_open = Some(!open);
    }
}

fn is_begun(job: &Job) -> bool {
    let set = job.set();
    job.anchor.is_some() || set.call.is_heating() || !set.heat.is_empty() || !set.airflow.is_empty()
}

/// What heat is read by, of a burner and of electric elements.
fn of_heat() -> impl Iterator<Item = JobNumber> {
    [JobNumber::MeasuredRise, JobNumber::HeatInput, JobNumber::HeaterAmps].into_iter().chain(OF_BURNER)
}

/// Every opinion with its ±, under the table's.
fn list(ui: &mut Ui, screen: &Screen<'_>, view: &View) {
    let Some(first) = screen.answer.opinions.first().filter(|_| !view.is_half_entered()) else {
        return;
    };
    let units = screen.units;
    let table = format!("{} ± {}", show::airflow(first.table, units), show::spread_bare(first.table_spread, units));
    fact(ui, "By the table", &table);
    for opinion in &screen.answer.opinions {
        let (name, figures) = opinions::line(opinion, units);
        fact(ui, &name, &figures);
    }
    ui.add_space(theme::STEP);
}

/// What the airflow is taken by: the table, or an opinion of these readings; and whether the table is scaled by it.
fn anchor(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let job = screen.job;
    if screen.answer.opinions.is_empty() && job.anchor.is_none() {
        return;
    }
    let here = job.anchor.filter(|anchor| anchor.set == job.judged);
    let kinds: Vec<OpinionKind> = screen.answer.opinions.iter().map(|opinion| opinion.kind).collect();
    let options: Vec<Option<OpinionKind>> = std::iter::once(None).chain(kinds.into_iter().map(Some)).collect();
    let is_chosen = |by: Option<OpinionKind>| match job.anchor {
        None => by.is_none(),
        Some(_) => by.is_some() && here.map(|here| here.by) == by,
    };
    let name = |by: Option<OpinionKind>| by.map_or("table", OpinionKind::name).to_owned();
    let shown: Vec<(String, bool)> = options.iter().map(|by| (name(*by), is_chosen(*by))).collect();
    label::caption(ui, "Take the airflow by");
    if let Some(index) = choice::buttons(ui, "Airflow by", &shown) {
        out.push(Edit::Anchor(options[index]).into());
    }
    if let Some(anchor) = job.anchor {
        let mut scales = anchor.scales;
        let slot = ui.checkbox(&mut scales, "Scale the table by it");
        hint::hint(&slot, || {
            "On: every tap is off as much as the one that ran; off: only that one is taken by it".to_owned()
        });
        if slot.clicked() {
            out.push(Edit::ScaleTable(scales).into());
        }
        if here.is_none() {
            label::caption(ui, opinions::anchored_elsewhere(job, anchor));
        }
    }
    remarks(ui, screen, &[Field::Anchor]);
    ui.add_space(theme::STEP);
}

/// The rise that was read and the heat that goes in.
fn heat(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let burns = screen.job.machine.as_ref().is_some_and(|table| table.kind.burns());
    for which in [JobNumber::MeasuredRise, JobNumber::HeatInput] {
        number(ui, (screen, view, out), which);
    }
    if burns {
        for which in OF_BURNER {
            number(ui, (screen, view, out), which);
        }
    } else {
        number(ui, (screen, view, out), JobNumber::HeaterAmps);
        let phase = screen.job.set().heat.phase;
        let options = [("One phase", Phase::Single), ("Three phases", Phase::Three)];
        let shown = options.map(|(name, of)| (name.to_owned(), of == phase));
        if let Some(index) = choice::buttons(ui, "Heater's supply", &shown) {
            out.push(Edit::Phase(options[index].1).into());
        }
    }
    let what = if burns {
        "Heat input, or the clocked meter in its place; efficiency is one less the flue's loss"
    } else {
        "Heat input is what the elements take, without the blower; or their current, at the voltage above"
    };
    label::caption(ui, what);
    remarks(ui, screen, &of_heat().map(Field::Number).collect::<Vec<_>>());
}

/// The grilles of both sides, added up.
fn grilles(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let sides = [
        ("Supply grilles", FieldKey::SupplyGrilles, PathSide::Supply),
        ("Return grilles", FieldKey::ReturnGrilles, PathSide::Return),
    ];
    for (name, key, side) in sides {
        let units = screen.units;
        let shown = typed_back(screen.job.set().airflow.grilles(side), units);
        let spec = FieldSpec { key, name, shown: &shown, edited: &shown, unit: units.airflow_unit(), width: LIST_BOX };
        let hint = || format!("{name}: each grille's airflow, which add up, or one sum of all");
        if let Some(typed) = field::hinted_row(ui, view, &spec, hint) {
            let read = reading_entry::parse_grilles(&typed, units, name).map(|read| Edit::Grilles(side, read));
            let checked = read.and_then(|edit| match edit::check(screen.job, &edit) {
                Ok(()) => Ok(edit),
                Err(refusal) => Err(refusal.sentence(units)),
            });
            let edit = field::taken(ui, view, key, &typed, checked);
            // What stood there is not rounded by passing through.
            out.extend(edit.filter(|_| typed.trim() != shown).map(Action::Edit));
        }
        if let Some(sum) = opinions::added_up(screen.job, side, units) {
            label::caption(ui, sum);
        }
    }
    label::caption(ui, "By a hood, one grille after the other, in the air as it is there");
}

/// Airflows as their field shows them; typed back they give the same.
fn typed_back(grilles: &[Airflow], units: UnitSystem) -> String {
    let shown: Vec<String> = grilles.iter().map(|grille| show::airflow_exact(*grille, units)).collect();
    shown.join(" ")
}

/// A plate or grid in the filter's slot.
fn plate(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    for which in OF_PLATE {
        number(ui, (screen, view, out), which);
    }
    label::caption(
        ui,
        "A plate or grid in the filter's slot: the airflow on its scale, or its maker's law, airflow at 1 in. w.c. × difference to the exponent. The supply plenum's static without and with it undoes what it takes itself",
    );
    remarks(ui, screen, &OF_PLATE.map(Field::Number));
}
