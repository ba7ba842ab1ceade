//! What stands beside the grid: the machine, the basis of its table, calls, heat, corrections.

use eframe::egui::{self, Align, Id, Key, Label, Layout, RichText, Role, TextEdit, Ui, WidgetInfo, vec2};

use crate::model::facts::blower::{Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings};
use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::{
    AirflowUnit, Correction, DraftHead, DraftStage, HeadField, Place, PressureUnit,
};
use crate::ui::theme;
use crate::ui::view::table_editor::{GoTo, TableEditor};
use crate::ui::widgets::{choice, label};

/// Width of a field's name.
const NAME_WIDTH: f32 = 98.0;

/// Draws all fields.
pub(super) fn head(ui: &mut Ui, editor: &mut TableEditor) {
    name(ui, editor);
    rest(ui, editor);
}

/// Draws the name, on which the hand begins.
pub(super) fn name(ui: &mut Ui, editor: &mut TableEditor) {
    let id = Id::unique("table name");
    let is_bad = editor.remark_on(Place::Name).is_some();
    let entered = field(
        ui,
        &mut editor.draft.head.name,
        &Field { id, name: "Name", hint: "Model on the plate", unit: "", is_bad },
    );
    if editor.go_to == Some(GoTo::Name) {
        editor.go_to = None;
        ui.memory_mut(|memory| memory.request_focus(id));
    }
    if entered {
        editor.go_to_grid();
    }
}

/// Draws everything but the name.
pub(super) fn rest(ui: &mut Ui, editor: &mut TableEditor) {
    machine(ui, editor);
    printed_in(ui, editor);
    calls(ui, editor);
    heating(ui, editor);
    basis(ui, editor);
    corrections(ui, editor);
    words(ui, editor);
}

/// How a field is drawn.
struct Field<'a> {
    id: Id,
    name: &'a str,
    hint: &'a str,
    unit: &'a str,
    is_bad: bool,
}

/// Draws a named text field; true when Enter was pressed in it.
fn field(ui: &mut Ui, text: &mut String, spec: &Field<'_>) -> bool {
    let mut entered = false;
    row(ui, spec.name, |ui| {
        let unit_width = if spec.unit.is_empty() { 0.0 } else { 44.0 };
        entered = text_box(ui, text, spec, ui.available_width() - unit_width);
        if !spec.unit.is_empty() {
            let quiet = theme::palette(ui).quiet;
            ui.label(RichText::new(spec.unit).font(theme::regular(theme::SMALL)).color(quiet));
        }
    });
    entered
}

fn text_box(ui: &mut Ui, text: &mut String, spec: &Field<'_>, width: f32) -> bool {
    let palette = theme::palette(ui);
    let response = ui.add(
        TextEdit::singleline(text)
            .id(spec.id)
            .hint_text(spec.hint)
            .text_color(if spec.is_bad { palette.over } else { palette.ink })
            .desired_width(width)
            .align(egui::Align2::LEFT_CENTER)
            .margin(egui::Margin::symmetric(6, 4)),
    );
    let value = text.clone();
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::TextInput, true, spec.name);
        info.current_text_value = Some(value.clone());
        info
    });
    response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter))
}

/// A field's name with what belongs beside it.
fn row(ui: &mut Ui, name: &str, contents: impl FnOnce(&mut Ui)) {
    let quiet = theme::palette(ui).quiet;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        ui.allocate_ui_with_layout(vec2(NAME_WIDTH, 26.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(NAME_WIDTH);
            let text = RichText::new(name).font(theme::regular(theme::SMALL)).color(quiet);
            ui.add(Label::new(text).truncate());
        });
        contents(ui);
    });
}

/// A field of the head with the remarks on it.
fn head_field(
    ui: &mut Ui,
    editor: &mut TableEditor,
    field_of: HeadField,
    spec: (&str, &str, &str),
    text: fn(&mut DraftHead) -> &mut String,
) {
    let (name, hint, unit) = spec;
    let is_bad = editor.remark_on(Place::Head(field_of)).is_some_and(|remark| remark.severity == Severity::Error);
    let spec = Field { id: Id::unique(("table head", name)), name, hint, unit, is_bad };
    let entered = field(ui, text(&mut editor.draft.head), &spec);
    come(ui, editor, field_of, spec.id);
    if entered {
        editor.go_to_grid();
    }
}

/// Gives the hand to a field that it goes to.
fn come(ui: &Ui, editor: &mut TableEditor, field: HeadField, id: Id) {
    if editor.go_to != Some(GoTo::Head(field)) {
        return;
    }
    editor.go_to = None;
    ui.memory_mut(|memory| memory.request_focus(id));
    if let Some(response) = ui.ctx().read_response(id) {
        response.scroll_to_me(None);
    }
}

/// A list of names of which one is chosen.
fn pick<T: Copy + PartialEq>(ui: &mut Ui, name: &str, chosen: &mut T, options: &[(T, &str)]) {
    let texts: Vec<&str> = options.iter().map(|(_, text)| *text).collect();
    let now = options.iter().find(|(option, _)| option == chosen).map_or("", |(_, text)| *text);
    row(ui, name, |ui| {
        let picked = choice::list(ui, name, now, &texts).and_then(|index| options.get(index));
        if let Some((option, _)) = picked {
            *chosen = *option;
        }
    });
}

fn machine(ui: &mut Ui, editor: &mut TableEditor) {
    let draft = &mut editor.draft.head;
    pick(ui, "Machine", &mut draft.kind, &EquipmentKind::ALL.map(|kind| (kind, kind.name())));
    pick(ui, "Motor", &mut draft.motor, &MotorFamily::ALL.map(|motor| (motor, motor.name())));
    let pressure = draft.pressure_unit.name();
    let capacity = draft.airflow_unit.system().capacity_unit();
    head_field(ui, editor, HeadField::RatedMaximum, ("Rated maximum", "Plate", pressure), |head| {
        &mut head.rated_maximum
    });
    head_field(ui, editor, HeadField::Cooling, ("Nominal cooling", "If it cools", capacity), |head| &mut head.cooling);
    if editor.opened.head.illustrative {
        ui.checkbox(&mut editor.draft.head.illustrative, "Invented machine (illustrative)");
    }
}

fn printed_in(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "Printed in");
    let head = &mut editor.draft.head;
    pick(ui, "Airflow unit", &mut head.airflow_unit, &AirflowUnit::ALL.map(|unit| (unit, unit.name())));
    pick(ui, "Static unit", &mut head.pressure_unit, &PressureUnit::ALL.map(|unit| (unit, unit.name())));
    label::caption(ui, "The numbers stay as typed; only what they are in changes");
}

fn calls(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "Which tap each call runs");
    let taps = editor.draft.taps.clone();
    let mut options = vec!["not said"];
    options.extend(taps.iter().map(String::as_str));
    for call in Call::ALL {
        let calls = &editor.draft.head.calls;
        let chosen =
            calls.iter().find(|(mapped, _)| *mapped == call).map_or("not said", |(_, tap)| tap.as_str()).to_owned();
        let mut picked = None;
        row(ui, call.name(), |ui| picked = choice::list(ui, call.name(), &chosen, &options));
        if let Some(index) = picked {
            map_call(&mut editor.draft.head.calls, call, options[index], index > 0);
        }
    }
}

fn map_call(calls: &mut Vec<(Call, String)>, call: Call, tap: &str, is_said: bool) {
    let here = calls.iter().position(|(mapped, _)| *mapped == call);
    match (here, is_said) {
        (Some(place), true) => tap.clone_into(&mut calls[place].1),
        (Some(place), false) => {
            calls.remove(place);
        }
        (None, true) => calls.push((call, tap.to_owned())),
        (None, false) => {}
    }
}

fn heating(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "Heating stages");
    let mut removed = None;
    for index in 0..editor.draft.head.heating.len() {
        if stage(ui, editor, index) {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        editor.draft.head.heating.remove(index);
    }
    if ui.button("Add heating stage").clicked() {
        let used = |call: &Call| editor.draft.head.heating.iter().any(|stage| stage.call == *call);
        let call =
            [Call::HeatingHigh, Call::HeatingLow].into_iter().find(|call| !used(call)).unwrap_or(Call::HeatingHigh);
        editor.draft.head.heating.push(DraftStage { call, ..DraftStage::default() });
    }
}

/// Draws a heating stage; true when it is to be taken away.
fn stage(ui: &mut Ui, editor: &mut TableEditor, index: usize) -> bool {
    let is_bad = editor.remark_on(Place::Head(HeadField::Heating(index))).is_some();
    let system = editor.draft.head.airflow_unit.system();
    let Some(stage) = editor.draft.head.heating.get_mut(index) else {
        return false;
    };
    let calls = [Call::HeatingHigh, Call::HeatingLow].map(|call| (call, call.name()));
    pick(ui, &format!("Stage {}", index + 1), &mut stage.call, &calls);
    let number = index + 1;
    let boxes = |ui: &mut Ui, text: &mut String, name: &str, hint: &str, width: f32| {
        let name = format!("{name} of heating stage {number}");
        let spec = Field { id: Id::unique(("heating", name.as_str())), name: &name, hint, unit: "", is_bad };
        text_box(ui, text, &spec, width);
    };
    row(ui, "Heat output", |ui| boxes(ui, &mut stage.output, "Heat output", system.heat_unit(), ui.available_width()));
    row(ui, "Rise, from to", |ui| {
        let width = (ui.available_width() - 4.0) / 2.0;
        boxes(ui, &mut stage.rise_from, "Lowest rise", system.rise_unit(), width);
        boxes(ui, &mut stage.rise_to, "Highest rise", system.rise_unit(), width);
    });
    row(ui, "Least airflow", |ui| {
        boxes(ui, &mut stage.minimum_airflow, "Least airflow", system.airflow_unit(), ui.available_width());
    });
    let removed = ui.button(format!("Remove stage {number}")).clicked();
    let output = format!("Heat output of heating stage {number}");
    come(ui, editor, HeadField::Heating(index), Id::unique(("heating", output.as_str())));
    removed
}

fn basis(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "How the table was made");
    let head = &mut editor.draft.head;
    let part = [(PartInTest::Without, "Without"), (PartInTest::Included, "In place")];
    pick(ui, "Filter", &mut head.filter, &part);
    pick(
        ui,
        "Coil",
        &mut head.coil,
        &[(CoilInTest::Without, "Without"), (CoilInTest::Dry, "Dry coil"), (CoilInTest::Wet, "Wet coil")],
    );
    pick(ui, "Heater", &mut head.heater, &part);
    let openings = [
        (ReturnOpenings::Unstated, "Not said"),
        (ReturnOpenings::Bottom, "Bottom"),
        (ReturnOpenings::OneSide, "One side"),
        (ReturnOpenings::TwoSides, "Two sides"),
    ];
    pick(ui, "Return openings", &mut head.return_openings, &openings);
    let positions = [
        (Position::Unstated, "Not said"),
        (Position::Up, "Air out at the top"),
        (Position::Down, "Air out at the bottom"),
        (Position::Horizontal, "Air out at the side"),
    ];
    pick(ui, "Position", &mut head.position, &positions);
    let density = if head.pressure_unit == PressureUnit::Pascals { "kg/m³" } else { "lb/ft³" };
    head_field(ui, editor, HeadField::Voltage, ("Voltage", "If said", "V"), |head| &mut head.voltage);
    head_field(ui, editor, HeadField::Density, ("Air density", "Standard", density), |head| &mut head.density);
    let read_off = ("Reading error", "If read off a chart", "%");
    head_field(ui, editor, HeadField::ReadingError, read_off, |head| &mut head.reading_error);
}

fn corrections(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "Corrections that the table prints");
    let texts: [fn(&mut DraftHead) -> &mut String; 5] = [
        |head| &mut head.corrections[0],
        |head| &mut head.corrections[1],
        |head| &mut head.corrections[2],
        |head| &mut head.corrections[3],
        |head| &mut head.corrections[4],
    ];
    for (which, text) in Correction::ALL.into_iter().zip(texts) {
        let hint = if which == Correction::LowVoltage { "208 V: 0.97" } else { "0.04 at 1000; 0.07 at 1400" };
        head_field(ui, editor, HeadField::Correction(which), (which.name(), hint, ""), text);
    }
}

fn words(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "In words");
    let mut entered = false;
    for (name, hint, text) in [
        ("Source", "Read from the door panel", &mut editor.draft.head.source),
        ("Notes", "What else the table says", &mut editor.draft.head.notes),
    ] {
        entered |=
            field(ui, text, &Field { id: Id::unique(("table words", name)), name, hint, unit: "", is_bad: false });
    }
    if entered {
        editor.go_to_grid();
    }
}
