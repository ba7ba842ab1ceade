//! The job: blower, call and tap, target, air, state of the path, lengths of the ducts, words about it.

pub mod against_library;
mod ducts;
mod limits;
mod opinions;
mod visit;

use eframe::egui::text::LayoutJob;
use eframe::egui::{Button, CollapsingHeader, Label, RichText, TextEdit, Ui};

use crate::edit::{self, Edit};
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::blower::{BlowerTable, Call, CoilInTest, PartInTest, ReturnOpenings};
use crate::model::facts::caution::Caution;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Field;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::number::Number;
use crate::model::facts::numbers::job::{CAPACITY, HEAT_OUTPUT, HEAT_RISE, PER_TON, TARGET_AIRFLOW};
use crate::model::facts::readings::{CoilState, ReadAt};
use crate::model::facts::severity::Severity;
use crate::model::facts::target::Target;
use crate::model::typed::table_draft::TableFor;
use crate::model::wording::{cautions, problems, tables};
use crate::ui::reading_entry::{self, Side};
use crate::ui::theme;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::{caution, choice, focus, hint, label};
use crate::units::{Airflow, Capacity, Density, HeatRate, Power, Pressure, TemperatureRise, UnitSystem, show};

/// Lines that a machine's name has; the rest shows on hover.
const NAME_LINES: usize = 2;
/// Width of a value's box.
const BOX: f32 = 56.0;
/// The same for a long number: "200,000", "0.0008".
const LONG_BOX: f32 = 68.0;
/// Letters of a number that a box of the usual width shows whole.
const SHORT: usize = 5;

/// Draws the panel.
pub fn job_panel(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    equipment(ui, screen, view, out);
    if screen.job.machine.is_some() {
        call_and_tap(ui, screen, out);
        visit::visit(ui, screen, view, out);
    }
    target(ui, screen, view, out);
    air(ui, screen, view, out);
    if screen.job.machine.is_some() {
        state(ui, screen, view, out);
        opinions::opinions(ui, screen, view, out);
        ducts::ducts(ui, screen, view, out);
    }
    limits::limits(ui, screen, view, out);
    about(ui, screen, out);
    every_caution(ui, screen);
}

/// Draws the readings for a window too narrow for the air path beside the job.
pub fn readings(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    label::heading(ui, "Readings");
    let sides =
        [("Before the blower", Side::Return), ("After the blower", Side::Supply), ("Or the total", Side::Total)];
    for (name, side) in sides {
        ui.horizontal(|ui| {
            ui.add_sized([130.0, 28.0], Label::new(RichText::new(name).color(theme::palette(ui).quiet)));
            reading_entry::reading_box(ui, view, screen, side, 96.0, out);
            label::caption(ui, screen.units.pressure_unit());
        });
    }
    other_readings(ui, screen, view, out);
    remarks(ui, screen, &[Field::ReturnReading, Field::SupplyReading, Field::TotalReading, Field::AcrossReading]);
}

/// Every other port in flow order, and what was read across parts.
fn other_readings(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let path = &screen.job.path;
    let ports = path.ports.iter().filter_map(|port| Side::of_port(path, port.id));
    let others = ports.filter(|side| ![Side::Return, Side::Supply].contains(side));
    let across = screen.job.set().readings.iter().filter_map(|reading| match reading.at {
        ReadAt::Across(element) => Some(Side::Across(element)),
        ReadAt::Port(_) | ReadAt::Total => None,
    });
    for side in others.chain(across).collect::<Vec<_>>() {
        label::caption(ui, side.name(path));
        ui.horizontal(|ui| {
            reading_entry::reading_box(ui, view, screen, side, 96.0, out);
            label::caption(ui, screen.units.pressure_unit());
        });
        field::reason(ui, view, side.key());
    }
}

/// A field of the panel: takes the text, or keeps it with the reason why not.
fn value(
    ui: &mut Ui,
    (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>),
    (spec, number): (&FieldSpec<'_>, &'static Number),
    read: impl Fn(&str) -> Result<Edit, String>,
) {
    let hint = || format!("{}: {}", number.name, number.said(screen.units));
    let Some(typed) = field::hinted_row(ui, view, spec, hint) else {
        return;
    };
    let checked = |edit: Edit| match edit::check(screen.job, &edit) {
        Ok(()) => Ok(edit),
        Err(refusal) => Err(refusal.sentence(screen.units)),
    };
    let edit = read(&typed).and_then(checked);
    out.extend(field::taken(ui, view, spec.key, &typed, edit).map(Action::Edit));
}

/// The field of a number of the job.
pub(super) fn number(ui: &mut Ui, (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>), which: JobNumber) {
    let (units, number) = (screen.units, which.number());
    let shown = which.of(screen.job).map(|value| number.quantity.bare(value, units)).unwrap_or_default();
    let key = FieldKey::Of(Field::Number(which));
    value(ui, (screen, view, out), (&spec(key, number, &shown, units), number), |typed| {
        which.typed(typed, units).map(|value| Edit::Number(which, value))
    });
}

/// The field of a number of the target.
fn target_number(
    ui: &mut Ui,
    (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>),
    key: FieldKey,
    (number, now): (&'static Number, f64),
    target: impl Fn(f64) -> Target,
) {
    let units = screen.units;
    let shown = number.quantity.bare(now, units);
    let call = target_call(screen, view);
    value(ui, (screen, view, out), (&spec(key, number, &shown, units), number), |typed| {
        number.typed(typed, units).map(|value| target_edit(screen, call, Some(target(value))))
    });
}

fn spec<'a>(key: FieldKey, number: &'static Number, shown: &'a str, units: UnitSystem) -> FieldSpec<'a> {
    let width = if shown.chars().count() > SHORT { LONG_BOX } else { BOX };
    FieldSpec { key, name: number.name, shown, edited: shown, unit: number.quantity.unit(units), width }
}

pub(super) fn remarks(ui: &mut Ui, screen: &Screen<'_>, fields: &[Field]) {
    for problem in screen.answer.problems.iter().filter(|problem| fields.contains(&problem.field)) {
        match problem.severity {
            Severity::Error => label::error(ui, &problems::sentence(&problem.what, screen.units)),
            Severity::Question => label::question(ui, &problems::sentence(&problem.what, screen.units)),
        };
    }
}

/// A part of the panel that can be folded away; true when its name was pressed.
fn fold(ui: &mut Ui, name: &str, open: bool, contents: impl FnOnce(&mut Ui)) -> bool {
    ui.add_space(theme::STEP);
    let text = RichText::new(name).font(theme::strong(theme::SMALL)).color(theme::palette(ui).quiet);
    let fold = CollapsingHeader::new(text).id_salt(name).open(Some(open));
    let header = fold.show_unindented(ui, contents).header_response;
    hint::hint(&header, || format!("{name}: Enter opens or closes it"));
    header.clicked()
}

fn fact(ui: &mut Ui, name: &str, value: &str) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(name).color(theme::palette(ui).quiet));
        ui.label(RichText::new(value).font(theme::strong(theme::BODY)));
    });
}

fn equipment(ui: &mut Ui, screen: &Screen<'_>, view: &View, out: &mut Vec<Action>) {
    label::heading(ui, "Equipment");
    if let Some(table) = &screen.job.machine {
        let ink = theme::palette(ui).ink;
        let mut name = LayoutJob::simple(table.name.clone(), theme::strong(theme::BODY), ink, ui.available_width());
        name.wrap.max_rows = NAME_LINES;
        ui.add(Label::new(name).show_tooltip_when_elided(false)).on_hover_text(&table.name);
        let origin = if table.illustrative { " · illustrative table" } else { "" };
        label::caption(ui, format!("{} · {}{origin}", table.kind.name(), table.motor.name()));
        let plate =
            table.rated_maximum.map_or_else(|| "not said".to_owned(), |plate| show::pressure(plate, screen.units));
        fact(ui, "Rated maximum", &plate);
        fact(ui, "Table includes", &includes(table));
        for (_, said) in tables::remarks(screen.job, &screen.answer.table_problems, screen.units).take(3) {
            label::question(ui, &said);
        }
        against_library::shown(ui, &view.against_library, TableFor::Job, out);
    } else {
        label::caption(ui, "No blower yet. Choose one, or type its table from the door panel.");
    }
    ui.horizontal_wrapped(|ui| {
        if command_button(ui, "Choose…", Command::PickBlower).clicked() {
            out.push(Command::PickBlower.into());
        }
        let (name, command) = match screen.job.machine {
            Some(_) => ("Change table…", Command::EditTable),
            None => ("Type a table…", Command::TypeTable),
        };
        if command_button(ui, name, command).clicked() {
            out.push(command.into());
        }
    });
}

fn command_button(ui: &mut Ui, name: &str, command: Command) -> eframe::egui::Response {
    hint::and_under_the_pointer(ui.add(Button::new(name)), &command.told(ui.ctx()))
}

/// What the parts of a table's basis are: "dry coil, no filter".
pub(super) fn includes(table: &BlowerTable) -> String {
    let coil = match table.basis.coil {
        CoilInTest::Without => "no coil",
        CoilInTest::Dry => "dry coil",
        CoilInTest::Wet => "wet coil",
    };
    let filter = match table.basis.filter {
        PartInTest::Without => "no filter",
        PartInTest::Included => "filter",
    };
    format!("{coil}, {filter}")
}

fn call_and_tap(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let Some(table) = &screen.job.machine else {
        return;
    };
    let set = screen.job.set();
    label::heading(ui, "Call during the readings");
    let names: Vec<&str> = Call::ALL.iter().map(|call| call.name()).collect();
    if let Some(index) = choice::list(ui, focus::CALL, set.call.name(), &names) {
        out.push(Edit::Call(Call::ALL[index]).into());
    }
    let word = table.motor.tap_word();
    label::heading(ui, &format!("{} that ran while reading", if word == "tap" { "Tap" } else { "Setting" }));
    let in_use = screen.job.tap_in_use();
    let options: Vec<(String, bool)> =
        table.taps.iter().map(|tap| (tap.name.clone(), in_use == Some(tap.name.as_str()))).collect();
    if let Some(index) = choice::buttons(ui, word, &options) {
        out.push(Edit::Tap(Some(table.taps[index].name.clone())).into());
    }
    let by_call = table.tap_of_call(set.call);
    match (&set.tap, by_call) {
        (None, Some(tap)) => {
            label::caption(ui, format!("{} runs {word} {tap}, by the table's map", set.call.name()));
        }
        (Some(said), Some(tap)) if said != tap => {
            label::caption(ui, format!("By the table's map this call runs {word} {tap}"));
        }
        _ => {}
    }
    remarks(ui, screen, &[Field::Tap]);
}

fn target(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    label::heading(ui, "Target airflow");
    let names: Vec<&str> = Call::ALL.iter().map(|call| call.name()).collect();
    if let Some(index) = choice::list(ui, "Target of", target_call(screen, view).name(), &names) {
        view.target_call = Some(Call::ALL[index]);
    }
    let call = target_call(screen, view);
    let target = screen.job.target_of(call);
    let kinds = [
        ("tons", matches!(target, Some(Target::PerTon { .. }))),
        ("heat", matches!(target, Some(Target::HeatRise { .. }))),
        (screen.units.airflow_unit(), matches!(target, Some(Target::Airflow(_)))),
        ("none", target.is_none()),
    ];
    let options = kinds.map(|(name, chosen)| (name.to_owned(), chosen));
    if let Some(index) = choice::buttons(ui, "Target from", &options)
        && !options[index].1
    {
        out.push(target_edit(screen, call, fresh_target(screen, index, call)).into());
    }
    match target {
        Some(Target::PerTon { capacity, per_ton }) => per_ton_fields(ui, (screen, view, out), capacity, per_ton),
        Some(Target::HeatRise { output, rise }) => heat_fields(ui, (screen, view, out), output, rise),
        Some(Target::Airflow(airflow)) => {
            let key = FieldKey::Of(Field::Target);
            target_number(ui, (screen, view, out), key, (&TARGET_AIRFLOW, airflow.cfm()), |cfm| {
                Target::Airflow(Airflow::from_cfm(cfm))
            });
        }
        None => {
            label::caption(ui, "No target: this call is judged by the rated maximum and its heat alone");
        }
    }
    if target.is_some() {
        limits::with_source(ui, screen, view, out, JobNumber::AcceptBand);
        target_sum(ui, screen);
    }
    remarks(ui, screen, &[Field::Target, Field::Number(JobNumber::OutdoorUnit), Field::Number(JobNumber::AcceptBand)]);
}

/// The call whose target is shown: that of the readings until a person has chosen another.
fn target_call(screen: &Screen<'_>, view: &View) -> Call {
    view.target_call.unwrap_or(screen.job.set().call)
}

fn target_edit(screen: &Screen<'_>, call: Call, target: Option<Target>) -> Edit {
    if call == screen.job.set().call { Edit::Target(target) } else { Edit::TargetOf(call, target) }
}

/// A first target of a kind, from what the machine says; every number of it is shown and can be typed over. The last kind is none.
fn fresh_target(screen: &Screen<'_>, kind: usize, call: Call) -> Option<Target> {
    let job = screen.job;
    let capacity = job.capacity().unwrap_or(Capacity::from_tons(3.0));
    let per_ton = edit::NOMINAL_PER_TON;
    let now = screen.answer.blower().target.map(|target| show::airflow_as_shown(target.actual, screen.units));
    Some(match kind {
        0 => Target::PerTon { capacity, per_ton },
        1 => {
            let table = job.machine.as_ref();
            let stage = table.and_then(|table| table.heat_stage(call).or_else(|| table.heating.first()));
            let share = table.map_or(1.0, |table| table.heat_share(job.set().air.altitude, job.set().voltage));
            let own = screen.answer.tap_in_use().and_then(|tap| tap.reached()?.power).map(Power::as_heat);
            let output =
                stage.map_or(HeatRate::from_btuh(46_000.0), |stage| stage.output * share + own.unwrap_or_default());
            let output = HeatRate::from_btuh((output.btuh() / 100.0).round() * 100.0);
            let middle = stage.and_then(|stage| stage.rise).map(|(low, high)| (low + high) / 2.0);
            Target::HeatRise { output, rise: middle.unwrap_or(TemperatureRise::from_f(45.0)) }
        }
        2 => Target::Airflow(now.unwrap_or(per_ton * capacity.tons())),
        _ => return None,
    })
}

fn per_ton_fields(
    ui: &mut Ui,
    (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>),
    capacity: Capacity,
    per_ton: Airflow,
) {
    let key = FieldKey::Of(Field::Number(JobNumber::OutdoorUnit));
    target_number(ui, (screen, view, out), key, (&CAPACITY, capacity.tons()), |tons| Target::PerTon {
        capacity: Capacity::from_tons(tons),
        per_ton,
    });
    target_number(ui, (screen, view, out), FieldKey::PerTon, (&PER_TON, per_ton.cfm()), |cfm| Target::PerTon {
        capacity,
        per_ton: Airflow::from_cfm(cfm),
    });
}

fn heat_fields(
    ui: &mut Ui,
    (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>),
    output: HeatRate,
    rise: TemperatureRise,
) {
    target_number(ui, (screen, view, out), FieldKey::HeatOutput, (&HEAT_OUTPUT, output.btuh()), |btuh| {
        Target::HeatRise { output: HeatRate::from_btuh(btuh), rise }
    });
    target_number(ui, (screen, view, out), FieldKey::HeatRise, (&HEAT_RISE, rise.f()), |f| Target::HeatRise {
        output,
        rise: TemperatureRise::from_f(f),
    });
    label::caption(ui, "Output with the blower's own heat, 3.412 Btu/h a watt");
}

fn target_sum(ui: &mut Ui, screen: &Screen<'_>) {
    let Some(target) = screen.answer.blower().target else {
        return;
    };
    let units = screen.units;
    // Tons are meant at standard air, which comes first; any other target is of the air that is there.
    let of_tons = matches!(target.from, Target::PerTon { .. });
    let (actual, standard) = (show::airflow(target.actual, units), show::airflow(target.standard, units));
    let far = (screen.answer.blower().air.density / Density::STANDARD - 1.0).abs() > 0.005;
    fact(ui, "Target", if of_tons { &standard } else { &actual });
    if far {
        let other = if of_tons {
            format!("at standard air; {actual} in the air at the blower")
        } else {
            format!("actual air; {standard} at standard air")
        };
        label::caption(ui, other);
    }
}

fn air(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let units = screen.units;
    label::heading(ui, "Air");
    for which in OF_AIR {
        number(ui, (screen, view, out), which);
    }
    if screen.job.machine.is_some() {
        let behind = if screen.answer.blower().air.behind_cold_coil {
            ", behind the cold coil (55 °F, 90 %, assumed)"
        } else {
            ""
        };
        label::caption(
            ui,
            format!(
                "At the blower {}{behind}: {} of the table's",
                show::density(screen.answer.blower().air.density, units),
                show::percent(screen.answer.blower().density_ratio)
            ),
        );
    }
    remarks(ui, screen, &OF_AIR.map(Field::Number));
}

fn state(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    label::heading(ui, "During the readings");
    let set = screen.job.set();
    if screen.job.path.first(ElementKind::Coil).is_some() {
        let options =
            [("Coil wet".to_owned(), set.coil == CoilState::Wet), ("Coil dry".to_owned(), set.coil == CoilState::Dry)];
        if let Some(index) = choice::buttons(ui, "State", &options) {
            let state = [CoilState::Wet, CoilState::Dry][index];
            out.push(Edit::Coil(state).into());
        }
    }
    if let Some(filter) = screen.job.path.first(ElementKind::Filter) {
        let mut inside = !set.parts_out.contains(&filter.id);
        let slot = ui.checkbox(&mut inside, "Filter in its slot");
        hint::hint(&slot, || "Off: it was out of its slot while reading".to_owned());
        if slot.clicked() {
            out.push(Edit::PartOut(filter.id, !inside).into());
        }
    }
    if let Some(heater) = screen.job.path.first(ElementKind::Heater) {
        let mut inside = !set.parts_out.contains(&heater.id);
        let fitted = ui.checkbox(&mut inside, "Electric heater fitted");
        hint::hint(&fitted, || "Off: this machine has none in its slot".to_owned());
        if fitted.clicked() {
            out.push(Edit::PartOut(heater.id, !inside).into());
        }
    }
    openings(ui, screen, out);
    optional_fields(ui, screen, view, out);
}

fn openings(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let all = [
        (ReturnOpenings::Unstated, "not said"),
        (ReturnOpenings::Bottom, "bottom"),
        (ReturnOpenings::OneSide, "one side"),
        (ReturnOpenings::TwoSides, "two sides"),
    ];
    let names = all.map(|(_, name)| name);
    let chosen =
        all.iter().find(|(openings, _)| *openings == screen.job.return_openings).map_or("not said", |(_, name)| name);
    ui.horizontal(|ui| {
        ui.label(RichText::new("Return enters").color(theme::palette(ui).quiet));
        if let Some(index) = choice::list(ui, "Return enters", chosen, &names) {
            out.push(Edit::ReturnOpenings(all[index].0).into());
        }
    });
}

/// What the air is given by.
const OF_AIR: [JobNumber; 4] =
    [JobNumber::Altitude, JobNumber::Temperature, JobNumber::Humidity, JobNumber::StationPressure];

fn optional_fields(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    for which in [JobNumber::Power, JobNumber::Voltage] {
        number(ui, (screen, view, out), which);
    }
    caution::caution(ui, screen, Caution::LiveCircuits);
    remarks(ui, screen, &[Field::Number(JobNumber::Power), Field::Number(JobNumber::Voltage), Field::Path]);
}

/// A line about the job: field, name, stored text, the edit that a typed text becomes.
type AboutLine<'a> = (FieldKey, &'a str, &'a str, fn(String) -> Edit);

fn about(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    label::heading(ui, "About the job");
    let job = screen.job;
    let lines: [AboutLine<'_>; 3] = [
        (FieldKey::Title, "Name", &job.title, Edit::Title),
        (FieldKey::Place, "Place", &job.place, Edit::Place),
        (FieldKey::Date, "Date", &job.date, Edit::Date),
    ];
    for (key, name, stored, edit) in lines {
        words(ui, name, stored, 1, out, edit, field::id(key));
    }
    remarks(ui, screen, &[Field::Date]);
    words(ui, "Notes", &job.notes, 3, out, Edit::Notes, eframe::egui::Id::unique("notes field"));
}

pub(super) fn words(
    ui: &mut Ui,
    name: &str,
    stored: &str,
    rows: usize,
    out: &mut Vec<Action>,
    edit: impl Fn(String) -> Edit,
    id: eframe::egui::Id,
) {
    let mut text = stored.to_owned();
    let caption = label::caption(ui, name);
    let width = ui.available_width();
    let typed =
        if rows == 1 { TextEdit::singleline(&mut text) } else { TextEdit::multiline(&mut text).desired_rows(rows) };
    let response = ui.add(typed.id(id).desired_width(width)).labelled_by(caption.id);
    hint::hint(&response, || format!("{name}: for who reads the job; no result rests on it"));
    if response.changed() {
        out.push(edit(text).into());
    }
}

/// Every caution of the job in full.
fn every_caution(ui: &mut Ui, screen: &Screen<'_>) {
    label::heading(ui, "Before you act");
    for caution in cautions::of_job(screen.job, screen.answer) {
        let told = cautions::told(caution, screen.job, screen.answer);
        label::caption(ui, format!("{}: {}", told.word, told.sentence));
    }
}

/// The answers to a question about a sign; where both ports are odd, their hoses may have hung at each other's.
pub fn sign_buttons(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let exchanged = exchanged(screen.job);
    let signs = if exchanged.is_some() { "Turn the signs round" } else { "Turn the sign round" };
    let turn = ui.button(signs);
    hint::hint(&turn, || "The gauge's hoses hung the other way round".to_owned());
    if turn.clicked() {
        out.push(Action::Edits(turned(screen)));
    }
    if let Some(edits) = exchanged
        && hint::and_under_the_pointer(ui.button("Exchange the two"), "The two hoses hung at each other's port")
            .clicked()
    {
        out.push(Action::Edits(edits));
    }
    let meant = ui.button("It is meant so");
    hint::hint(&meant, || "The signs stay as they were typed".to_owned());
    if meant.clicked() {
        out.push(Edit::ConfirmSigns.into());
    }
}

/// Edits that give each of the two ports what was read at the other; nothing unless it would mend both signs.
fn exchanged(job: &Job) -> Option<Vec<Edit>> {
    let (before, after) = job.return_reading().zip(job.supply_reading())?;
    let looks = |side: Side| job.set().at(side.at()).map(|reading| reading.looks.clone());
    let (of_return, of_supply) = looks(Side::Return).zip(looks(Side::Supply))?;
    let is_swapped = before > Pressure::ZERO && after < Pressure::ZERO;
    is_swapped.then(|| vec![Edit::Reading(Side::Return.at(), of_supply), Edit::Reading(Side::Supply.at(), of_return)])
}

/// Edits that give each doubtful reading the usual sign.
fn turned(screen: &Screen<'_>) -> Vec<Edit> {
    let doubtful = |field: Field| {
        screen.answer.problems.iter().any(|problem| problem.field == field && problem.severity == Severity::Question)
    };
    screen
        .job
        .set()
        .readings
        .iter()
        // A question is only ever asked of the two first ports and the total; other ports keep their signs.
        .filter(|reading| [Side::Return, Side::Supply, Side::Total].iter().any(|side| side.at() == reading.at))
        .filter(|reading| doubtful(Field::of_reading(reading.at)))
        .map(|reading| {
            let sign = if Field::of_reading(reading.at) == Field::ReturnReading { -1.0 } else { 1.0 };
            let looks = reading.looks.iter().map(|look| look.abs() * sign).collect();
            Edit::Reading(reading.at, looks)
        })
        .collect()
}
