//! Another machine, another call, a seal, a panel and a coil's other state in the real program: put on by key and pointer, edited live, judged in the tables and in words.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use std::path::PathBuf;

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, Theme};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::change::{ChangeKind, OtherCall, Replacement};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::target::Target;
use tapcross::model::verdicts::needs::Need;
use tapcross::model::verdicts::system::System;
use tapcross::model::verdicts::taps::TapPoint;
use tapcross::model::wording;
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::{Airflow, UnitSystem, show};
use window::{App, Look, app, app_in, app_of, key, press, run, says, texts, type_into};

const UNITS: UnitSystem = UnitSystem::InchPound;
const MACHINE: &str = "Put on: Another machine";
const CALL: &str = "Put on: Another call";
const SEAL: &str = "Put on: Seal the ducts";
const COIL: &str = "Put on: Coil wet or dry";

/// Presses the card, types into the picker and takes what it finds first.
fn exchange(app: &mut App, words: &str) {
    put_on(app, MACHINE);
    pick(app, words);
}

/// Puts a change on by key, which also brings its card into sight in a low window.
fn put_on(app: &mut App, card: &str) {
    window::open_palette(app);
    app.get_by_label(card).focus();
    app.run_steps(2);
    key(app, Key::Enter);
}

fn pick(app: &mut App, words: &str) {
    app.event(Event::Text(words.to_owned()));
    app.run_steps(4);
    key(app, Key::Enter);
}

fn after(app: &App) -> &System {
    &app.state().answer().with_changes().unwrap().system
}

fn then(app: &App) -> &TapPoint {
    after(app).taps[after(app).blower.in_use.unwrap()].reached().unwrap()
}

fn kinds(app: &App) -> Vec<&ChangeKind> {
    app.state().job().changes.iter().map(|change| &change.kind).collect()
}

fn new_machine(app: &App) -> &Replacement {
    match kinds(app)[..] {
        [ChangeKind::OtherMachine(new)] => new,
        ref other => panic!("{other:?}"),
    }
}

fn headline(app: &App) -> String {
    wording::verdict(app.state().job(), app.state().answer(), UNITS).headline
}

fn detail(app: &App) -> String {
    wording::verdict(app.state().job(), app.state().answer(), UNITS).detail
}

/// The heat-pump demo with 12 % of the air lost from its supply duct.
fn leaky() -> Job {
    let mut job = demo::heat_pump();
    let duct = job.path.first(ElementKind::SupplyDuct).unwrap().id;
    tapcross::edit::apply(&mut job, Edit::AddLeak(duct, 0.12)).unwrap();
    job
}

#[test]
fn a_machine_is_picked_by_key_and_stands_on_the_ducts_beside_the_old_one() {
    let mut app = app();
    let old = app.state().job().machine.clone();
    app.get_by_label(MACHINE).focus();
    app.run_steps(2);
    key(&mut app, Key::Enter);
    assert!(says(&app, "Choose the other machine for these ducts"), "{:?}", texts(&app));
    pick(&mut app, "48t");
    assert_eq!(app.state().job().machine, old, "the old machine stays the job's");
    assert!(new_machine(&app).table.name.starts_with("AH-48T"));
    assert!(says(&app, "says what size is right"));
    assert!(after(&app).blower.other.as_ref().is_some_and(|table| table.name.starts_with("AH-48T")));
    run(&mut app, Command::Undo.into());
    assert!(kinds(&app).is_empty());
}

#[test]
fn escape_leaves_the_job_alone_and_the_next_pick_is_the_jobs_own_again() {
    let mut app = app();
    press(&mut app, MACHINE);
    key(&mut app, Key::Escape);
    assert!(app.state().view().picker.is_none() && kinds(&app).is_empty());
    app.key_press_modifiers(Modifiers::COMMAND, Key::B);
    app.run_steps(4);
    assert!(says(&app, "Choose the blower"));
    pick(&mut app, "48t");
    assert!(app.state().job().machine.as_ref().unwrap().name.starts_with("AH-48T"));
    assert!(kinds(&app).is_empty());
}

#[test]
fn a_table_that_is_typed_for_the_ducts_leaves_the_jobs_machine_alone() {
    let mut app = app();
    let old = app.state().job().machine.clone();
    press(&mut app, MACHINE);
    pick(&mut app, "no such blower");
    assert!(app.state().view().table_editor.is_some(), "the last row is a new table");
    let typed = tapcross::files::library::Library::shipped().0.entries[0].table.clone();
    run(&mut app, Action::UseTable(Box::new(typed.clone())));
    assert!(app.state().view().table_editor.is_none());
    assert_eq!(app.state().job().machine, old);
    assert_eq!(new_machine(&app).table, typed);
}

#[test]
fn every_tap_of_the_new_machine_says_what_the_answer_says() {
    let mut app = app();
    exchange(&mut app, "48t");
    press(&mut app, "What it takes");
    let running = app.state().answer().point().unwrap();
    let found = format!(
        "As found: {}, tap 4, {} at {}",
        app.state().job().machine.as_ref().unwrap().name,
        show::airflow(running.now.airflow, UNITS),
        show::pressure(running.now.tesp, UNITS)
    );
    assert!(says(&app, &found), "{found}: {:?}", texts(&app));
    assert_eq!(after(&app).taps.len(), 5);
    let target = after(&app).blower.target.unwrap();
    let each = then(&app).per_ton.unwrap() * 4.0;
    assert!((each / then(&app).airflow() - target.standard / target.actual).abs() < 1e-9, "by four tons: {each:?}");
    assert_ne!(
        target.actual,
        app.state().answer().blower().target.unwrap().actual,
        "a four-ton machine has its own target"
    );
    for tap in after(&app).taps.clone() {
        let point = tap.reached().unwrap();
        let row = format!(
            "New machine, tap {}: {} at {}, {} of the target",
            tap.name,
            show::airflow(point.airflow(), UNITS),
            show::pressure(point.crossing.tesp, UNITS),
            show::percent(point.airflow() / target.actual)
        );
        let shown = texts(&app).into_iter().find(|text| text.starts_with(&row));
        let shown = shown.unwrap_or_else(|| panic!("{row}: {:?}", texts(&app)));
        let limit = after(&app).blower.other.as_ref().unwrap().rated_maximum.unwrap();
        let is_near = (point.crossing.tesp - limit).abs() < limit * 0.05;
        assert!(is_near || shown.contains("over the rated maximum") == (point.crossing.tesp > limit), "{shown}");
        assert_eq!(shown.contains("not allowed"), point.barred.is_some(), "{shown}");
        // Past the last row the table has no watts.
        assert_eq!(point.watts_per_cfm().is_some(), tap.name != "5");
        let watts_each = point.watts_per_cfm().map_or_else(|| "–".to_owned(), |each| show::number(each, 2));
        assert!(texts(&app).contains(&watts_each), "{watts_each} W/cfm");
        for need in [tap.into_band, tap.need] {
            if let Some(Need::Ease(ease)) = need {
                let cell = show::pressure_bare(ease.remove, UNITS);
                assert!(texts(&app).contains(&cell), "tap {} needs {cell} less", tap.name);
            }
        }
        for rise in &point.rises {
            let shown = show::rise_bare(rise.rise, UNITS);
            assert!(texts(&app).iter().any(|text| text.contains(&shown)), "rise {shown}");
        }
    }
    let still = format!("What {} cfm would take, new machine", wording::target(&target, UNITS));
    assert!(says(&app, &still), "{still}");
    assert!(says(&app, "Watts, and rise in heating, °F"));
}

#[test]
fn the_verdict_and_the_chart_speak_of_the_new_machine() {
    let mut app = app();
    exchange(&mut app, "48t");
    let point = then(&app).crossing;
    let tap = after(&app).tap().unwrap().to_owned();
    let name = new_machine(&app).table.name.clone();
    let (flow, tesp) = (show::airflow(point.airflow, UNITS), show::pressure(point.tesp, UNITS));
    let said = format!("With the change {flow} on tap {tap} of {name} (1,200 as found)");
    assert!(headline(&app).starts_with(&said), "{said}: {}", headline(&app));
    assert!(headline(&app).contains(&format!("Total external static {tesp} (")), "{}", headline(&app));
    let in_use = &after(&app).taps[after(&app).blower.in_use.unwrap()];
    let (Some(Need::Ease(band)), Some(Need::Ease(full))) = (in_use.into_band, in_use.need) else {
        panic!("the narrow ducts of the demo choke a four-ton machine");
    };
    let need = format!(
        "Tap {tap} needs {} less drop at {} to come into the band, {} of the path, and {} for the full target",
        show::pressure(band.remove, UNITS),
        show::airflow(band.at, UNITS),
        show::percent(band.share()),
        show::pressure_bare(full.remove, UNITS)
    );
    assert!(detail(&app).contains(&need), "{need}: {}", detail(&app));
    for tap in &after(&app).taps.clone() {
        let curve = format!("Curve of new machine's tap {}", tap.name);
        assert!(app.query_by_label(&curve).is_some(), "{curve}: {:?}", texts(&app));
    }
    assert!(app.query_by_label("Curve of tap 4").is_none(), "the old family bears no names");
    assert!(says(&app, "new machine's rated maximum"));
}

#[test]
fn a_row_of_the_new_machine_lets_it_run_on_that_tap() {
    let mut app = app();
    exchange(&mut app, "48t");
    assert_eq!(new_machine(&app).tap, None, "its own map of calls decides at first");
    let before = then(&app).airflow();
    press(&mut app, "Close: Another machine");
    let name = |app: &App| {
        texts(app).into_iter().find(|text| text.starts_with("New machine, tap 2:")).expect("the row of tap 2")
    };
    let row = name(&app);
    press(&mut app, &row);
    assert_eq!(new_machine(&app).tap.as_deref(), Some("2"));
    assert!(then(&app).airflow() < before);
}

#[test]
fn what_leaves_with_the_old_machine_is_a_tick_and_moves_the_air() {
    let mut app = app_of(demo::gas_furnace());
    exchange(&mut app, "80t");
    let coil = app.state().job().path.first(ElementKind::Coil).unwrap().id;
    assert_eq!(new_machine(&app).leaves, [coil], "the outside coil leaves at first");
    assert!(says(&app, "No drop is known of the new machine's coil"));
    assert!(detail(&app).contains("static is at least what is shown"), "{}", detail(&app));
    let without = then(&app).airflow();
    app.get_by_label("Coil leaves too").focus();
    app.run_steps(2);
    key(&mut app, Key::Space);
    assert!(new_machine(&app).leaves.is_empty());
    assert!(then(&app).airflow() < without, "the old coil stays in the way");
    assert!(!says(&app, "No drop is known"));
}

#[test]
fn the_coil_of_the_new_machine_is_typed_by_its_data() {
    let mut app = app_of(demo::gas_furnace());
    exchange(&mut app, "80t");
    let without = then(&app).airflow();
    type_into(&mut app, "Coil by its published drop", "0.25 at 1200");
    assert!(then(&app).airflow() < without);
    assert!(!detail(&app).contains("No drop is known"), "{}", detail(&app));
    type_into(&mut app, "Coil by its published drop, second point", "0.40 at 1600");
    assert_eq!(new_machine(&app).coil.as_ref().unwrap().points().len(), 2);
    type_into(&mut app, "Coil by its published drop", "0.25");
    assert!(says(&app, "type the drop and its airflow"), "{:?}", texts(&app));
}

/// Until the new coil's drop is said, what the exchange brings is at most what is told: on the chart, in the list, and of all together.
#[test]
fn with_an_unknown_coil_every_gain_is_at_most() {
    let mut app = app_of(demo::gas_furnace());
    exchange(&mut app, "gf-80t");
    let card = |app: &App| texts(app).into_iter().find(|text| text.starts_with("with changes: ")).unwrap();
    assert!(card(&app).starts_with("with changes: at most "), "{}", card(&app));
    let at_most = |app: &App| texts(app).iter().filter(|text| text.starts_with("at most +")).count();
    assert_eq!(at_most(&app), 2, "in its row and in the line of all together: {:?}", texts(&app));
    type_into(&mut app, "Coil by its published drop", "0.25 at 1200");
    assert_eq!(at_most(&app), 0, "{:?}", texts(&app));
    assert!(!card(&app).contains("at most"), "{}", card(&app));
}

#[test]
fn the_new_target_is_by_tons_or_an_airflow_and_another_table_keeps_the_coil() {
    let mut app = app_of(demo::gas_furnace());
    exchange(&mut app, "80t");
    type_into(&mut app, "New target airflow", "1100");
    let wanted = Some(Target::Airflow(Airflow::from_cfm(1100.0)));
    assert_eq!(new_machine(&app).target, wanted);
    assert!((after(&app).blower.target.unwrap().actual.cfm() - 1100.0).abs() < 1e-9);
    type_into(&mut app, "Coil by its published drop", "0.25 at 1200");
    // Typing has scrolled the editor on.
    app.get_by_label("Choose another table for the new machine").click_accesskit();
    app.run_steps(4);
    pick(&mut app, "52t");
    assert!(new_machine(&app).table.name.starts_with("GF-52T"), "{}", new_machine(&app).table.name);
    assert_eq!(new_machine(&app).coil.as_ref().unwrap().points().len(), 1);
    assert_eq!(app.state().job().changes.len(), 1);
}

#[test]
fn another_call_is_chosen_among_those_of_the_map_and_says_its_rise() {
    let mut app = app_of(demo::gas_furnace());
    press(&mut app, CALL);
    let [ChangeKind::OtherCall(OtherCall { call })] = kinds(&app)[..] else {
        panic!("{:?}", kinds(&app));
    };
    assert_eq!(*call, Call::HeatingHigh);
    let table = app.state().job().machine.clone().unwrap();
    let tap = table.tap_of_call(Call::HeatingHigh).unwrap();
    assert_eq!(after(&app).tap(), Some(tap));
    let rise = then(&app).rises.iter().find(|rise| rise.call == Call::HeatingHigh).unwrap();
    let said = format!("Rise {}, ± {}, ", show::rise(rise.rise, UNITS), show::rise_bare(rise.spread, UNITS));
    // The other stage is told on its own tap.
    press(&mut app, "What it takes");
    for call in [Call::HeatingHigh, Call::HeatingLow] {
        let tap = table.tap_of_call(call).unwrap();
        let of_tap = after(&app).taps.iter().find(|found| found.name == tap).unwrap().reached().unwrap();
        let rise = of_tap.rises.iter().find(|rise| rise.call == call).unwrap();
        let told = format!("{}: rise {} on tap {tap}", call.name(), show::rise(rise.rise, UNITS));
        assert!(says(&app, &told), "{told}: {:?}", texts(&app));
    }
    key(&mut app, Key::Escape);
    assert!(headline(&app).contains(&said), "heating is held to its rise: {}", headline(&app));
    assert!(!headline(&app).contains("short of") && !detail(&app).contains("less drop"), "{}", detail(&app));
    press(&mut app, "Then call Heating, low");
    assert!(matches!(kinds(&app)[..], [ChangeKind::OtherCall(OtherCall { call: Call::HeatingLow })]));
    assert_eq!(after(&app).tap(), table.tap_of_call(Call::HeatingLow));
    assert!(app.query_by_label("On: Another call: heating, low").is_some());
}

#[test]
fn a_seal_shows_both_airflows_and_its_slider_moves_them_apart() {
    let mut app = app_of(leaky());
    let found = app.state().answer().point().unwrap().delivered();
    let lost = format!(
        "{} at the blower, {} to the rooms; 12 % leaks out of the supply",
        show::airflow(found.blower, UNITS),
        show::airflow_bare(found.to_rooms, UNITS)
    );
    assert!(detail(&app).replace('\u{a0}', " ").contains(&lost), "{lost}: {}", detail(&app));
    press(&mut app, SEAL);
    let half = after(&app).delivered.unwrap();
    assert!(half.blower < found.blower && half.to_rooms > found.to_rooms, "{found:?} then {half:?}");
    let reach = format!("{} reach the rooms: +", show::airflow(half.to_rooms, UNITS));
    assert!(detail(&app).contains(&reach), "{reach}: {}", detail(&app));
    let from_to = format!(
        "to the rooms {} → {} cfm",
        show::airflow_bare(found.to_rooms, UNITS),
        show::airflow_bare(half.to_rooms, UNITS)
    );
    assert!(says(&app, &from_to), "{from_to}: {:?}", texts(&app));
    app.get_by_label("Slide: closed").focus();
    app.run_steps(2);
    for _ in 0..10 {
        key(&mut app, Key::ArrowRight);
    }
    let more = after(&app).delivered.unwrap();
    assert!(more.to_rooms > half.to_rooms && more.blower < half.blower, "{half:?} then {more:?}");
    type_into(&mut app, "Closed", "100");
    let shut = after(&app).delivered.unwrap();
    assert!((shut.blower - shut.to_rooms).abs() < Airflow::from_cfm(1e-6), "{shut:?}");
    assert!(!detail(&app).contains("leaks out"), "{}", detail(&app));
    type_into(&mut app, "Closed", "120");
    assert!(says(&app, "between 0 and 100 %"), "{:?}", texts(&app));
}

#[test]
fn a_coil_in_the_table_goes_by_the_table_and_one_outside_by_its_factor() {
    let mut inside = app();
    press(&mut inside, COIL);
    assert!(says(&inside, "the table's own drop for a wet coil counts"), "{:?}", texts(&inside));
    assert!(inside.query_by_label("Factor on its drop").is_none());
    assert!(then(&inside).airflow() > inside.state().answer().point().unwrap().now.airflow, "dry instead of wet");
    let mut outside = app_of(demo::gas_furnace());
    press(&mut outside, COIL);
    let before = then(&outside).airflow();
    assert!(before > outside.state().answer().point().unwrap().now.airflow, "dry instead of wet at first");
    type_into(&mut outside, "Factor on its drop", "0.5");
    assert!(then(&outside).airflow() > before);
    type_into(&mut outside, "Factor on its drop", "9");
    assert!(says(&outside, "between 0.3 and 3"), "{:?}", texts(&outside));
}

#[test]
fn a_panel_off_says_its_caution_and_takes_the_return_out_of_the_way() {
    let mut app = app();
    press(&mut app, "Put on: Panel off");
    assert!(says(&app, "Never run a machine so"), "{:?}", texts(&app));
    let delivered = after(&app).delivered.unwrap();
    assert!(delivered.from_rooms < delivered.blower * 0.5, "most comes through the hole: {delivered:?}");
    assert!(detail(&app).contains("is not drawn from the rooms"), "{}", detail(&app));
    let wide = then(&app).airflow();
    type_into(&mut app, "Open area", "20");
    assert!(then(&app).airflow() < wide, "a smaller hole chokes more");
}

#[test]
fn what_the_target_takes_stands_for_the_path_with_changes_too() {
    let mut app = app();
    press(&mut app, "Put on: Second return");
    press(&mut app, "What it takes");
    for which in ["with changes", "as found"] {
        let heading = format!("What 1,385 (1,400 at standard air) cfm would take, {which}");
        assert!(says(&app, &heading), "{heading}: {:?}", texts(&app));
    }
    for tap in after(&app).taps.clone() {
        if let Some(Need::Ease(ease)) = tap.into_band {
            assert!(texts(&app).contains(&show::pressure_bare(ease.remove, UNITS)), "tap {}", tap.name);
        }
    }
    assert!(says(&app, "less drop at"), "{:?}", texts(&app));
}

/// A state of the window that has to fit in every size.
type State = (&'static str, fn() -> Job, fn(&mut App));

const STATES: [State; 6] = [
    ("machine", demo::heat_pump, |app| exchange(app, "48t")),
    ("machine-furnace", demo::gas_furnace, |app| exchange(app, "80t")),
    ("machine-setting", demo::heat_pump, |app| exchange(app, "60v")),
    ("sealed", leaky, |app| put_on(app, SEAL)),
    ("call", demo::gas_furnace, |app| put_on(app, CALL)),
    ("panel", demo::heat_pump, |app| put_on(app, "Put on: Panel off")),
];

/// `TAPCROSS_PICTURES=DIR` writes each state, for eyes.
#[test]
fn nothing_is_cut_off_in_any_size() {
    let folder = std::env::var_os("TAPCROSS_PICTURES").map(PathBuf::from);
    let sizes = [
        ("wide", [1440.0, 900.0], Theme::Light),
        ("small", [1024.0, 700.0], Theme::Dark),
        // 1440x900 pixels at 200 %.
        ("double", [720.0, 450.0], Theme::Light),
    ];
    for ((state, job, prepare), (size_name, size, theme)) in
        STATES.iter().flat_map(|state| sizes.iter().map(move |size| (state, size)))
    {
        let mut app = app_in(job(), Look { size: *size, theme: *theme, pictured: folder.is_some(), ..Look::default() });
        if app.query_by_label("Part Changes, taps").is_some() {
            press(&mut app, "Part Changes, taps");
        }
        prepare(&mut app);
        let name = format!("{state}-{size_name}");
        picture(&mut app, folder.as_ref(), &name);
        fits(&app, size[0], &name);
        // Where a change's editor stands beside the chart, the taps wait until it is closed.
        if app.query_by_label("What it takes").is_none() {
            assert_eq!(*size_name, "double", "{name}");
            continue;
        }
        press(&mut app, "What it takes");
        picture(&mut app, folder.as_ref(), &format!("{name}-takes"));
        fits(&app, size[0], &name);
    }
}

fn picture(app: &mut App, folder: Option<&PathBuf>, name: &str) {
    let Some(folder) = folder else {
        return;
    };
    std::fs::create_dir_all(folder).unwrap();
    app.render().unwrap().save(folder.join(format!("{name}.png"))).unwrap();
}

/// Nothing beside the chart reaches past the panel, which keeps room for its scroll bar.
fn fits(app: &App, width: f32, name: &str) {
    let left = app.get_by_role_and_label(Role::Heading, "Changes").rect().left();
    let elements = app.state().job().path.all().into_iter().map(|element| format!("{}, ", element.name()));
    let elements: Vec<String> = elements.collect();
    for node in app.root().children_recursive() {
        let access = node.accesskit_node();
        let Some(bounds) = access.bounding_box() else {
            continue;
        };
        let is_in_panel = bounds.x0 >= f64::from(left) && bounds.y0 > 100.0;
        let fits = bounds.x1 <= f64::from(width - 12.0) + 1.0;
        let text = access.label().or_else(|| access.value());
        // Elements of the air path lie past its edge where it scrolls.
        let is_of_path = |text: &String| elements.iter().any(|name| text.starts_with(name));
        let is_in_panel = is_in_panel && !text.as_ref().is_some_and(is_of_path);
        assert!(!is_in_panel || fits, "{name}: {text:?} reaches {}", bounds.x1);
    }
}

/// 3½ tons of 400 are 1,400 wherever a target is shown; the blower's cold air makes 1,387 of them, which is said once, beside it.
#[test]
fn a_target_is_shown_as_it_was_typed() {
    let app = app_in(demo::heat_pump(), Look { size: [1440.0, 2400.0], ..Look::default() });
    for shown in
        ["1,400 cfm", "at standard air; 1,385 cfm in the air at the blower", "target 1,385 (1,400 at standard air)"]
    {
        assert!(says(&app, shown), "{shown}: {:?}", texts(&app));
    }
}

/// Each call's target is chosen and typed by itself; the verdict stays with the call that was read.
#[test]
fn the_target_of_another_call_is_typed_beside_that_of_the_readings() {
    let mut app = app_in(demo::gas_furnace(), Look { size: [1440.0, 2400.0], ..Look::default() });
    let before = headline(&app);
    app.get_by_label("Target of").click();
    app.run_steps(4);
    press(&mut app, "Heating, high");
    press(&mut app, "Target from heat");
    let job = app.state().job();
    assert!(matches!(job.target_of(Call::HeatingHigh), Some(Target::HeatRise { .. })), "{:?}", job.call_targets);
    assert!(matches!(job.target_of(Call::CoolingHigh), Some(Target::PerTon { .. })), "{:?}", job.target);
    assert_eq!(headline(&app), before);
    // One press takes it away, and undo brings it back.
    let with = job.call_targets.clone();
    press(&mut app, "Target from none");
    assert_eq!(app.state().job().target_of(Call::HeatingHigh), None);
    let context = app.ctx.clone();
    app.state_mut().run(Action::Command(Command::Undo), &context);
    assert_eq!(app.state().job().call_targets, with);
}
