//! Renders the real window in every size, theme and state, and checks what a picture can show: nothing is cut off, nothing is blank.
//!
//! Pictures need a software Vulkan; without one the suite says that it skipped, unless `TAPCROSS_NEED_PICTURES` is set, as CI sets it.
//! `TAPCROSS_PICTURES=DIR` also writes them as PNG, for eyes.

#[path = "support/many_sets.rs"]
mod many_sets;
#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/pictures.rs"]
mod pictures;
#[path = "support/three_options.rs"]
mod three_options;

use eframe::egui::{Theme, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::{Edit, OptionEdit};
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::files::settings::Setting;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::change::{ChangeKind, LessByHand, OtherCall, Seal, Switch};
use tapcross::model::facts::company::Company;
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::figure_source::SourcePart;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::{Airflow, Pressure, UnitSystem};

type App = Harness<'static, TapcrossApp>;

/// A picture to take.
struct Shot {
    name: &'static str,
    size: [f32; 2],
    scale: f32,
    theme: Theme,
    prepare: fn(&mut TapcrossApp, &eframe::egui::Context),
}

fn no_change(_: &mut TapcrossApp, _: &eframe::egui::Context) {}

fn furnace(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(demo::gas_furnace());
}

fn metric(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.run(Action::Units(UnitSystem::SiLitres), ctx);
}

fn empty(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(Job::default());
}

/// A job whose table is not the library's of that name.
fn against_library(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(demo::heat_pump());
    let mut table = app.job().machine.clone().unwrap();
    table.rated_maximum = Some(Pressure::from_in_wc(0.8));
    "Read again from the door panel".clone_into(&mut table.notes);
    app.run(Edit::Machine(Box::new(table)).into(), ctx);
}

fn picker(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.run(Command::New.into(), ctx);
}

fn editor(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.run(Command::EditTable.into(), ctx);
}

fn job_on(name: &str, before: f64, after: f64, altitude: f64) -> Job {
    let (library, _) = Library::shipped();
    let found = library.search(name);
    let mut job = Job::default();
    let reading = |port, value| Edit::Reading(ReadAt::Port(port), vec![Pressure::from_in_wc(value)]);
    for edit in [
        Edit::Title(format!("{name} (invented)")),
        Edit::Machine(Box::new(library.entries[found[0]].table.clone())),
        Edit::Number(JobNumber::Altitude, Some(altitude)),
        reading(RETURN_PORT, before),
        reading(SUPPLY_PORT, after),
    ] {
        tapcross::edit::apply(&mut job, edit).unwrap();
    }
    let tap = job.machine.as_ref().unwrap().taps.last().unwrap().name.clone();
    if job.tap_in_use().is_none() {
        tapcross::edit::apply(&mut job, Edit::Tap(Some(tap))).unwrap();
    }
    job
}

fn knee(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(job_on("ah-36v", -0.42, 0.40, 0.0));
}

fn mountain(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(job_on("gf-80p", -0.25, 0.30, 5280.0));
}

fn off_the_table(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(job_on("ah-42t", -1.40, 0.60, 0.0));
}

fn plus_at_the_return(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(job_on("gf-80p", 0.31, 0.30, 0.0));
}

fn no_readings(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(job_on("ah-48t", -0.2, 0.2, 0.0));
    for port in [RETURN_PORT, SUPPLY_PORT] {
        app.run(Edit::Reading(ReadAt::Port(port), Vec::new()).into(), ctx);
    }
}

/// The heat-pump demo with another machine of the library on its ducts, its editor open.
fn machine(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(demo::heat_pump());
    exchange(app, ctx, "ah-48t");
}

/// The gas-furnace demo with a furnace of another size, whose coil nobody knows.
fn machine_furnace(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(demo::gas_furnace());
    exchange(app, ctx, "gf-80t");
}

fn exchange(app: &mut TapcrossApp, ctx: &eframe::egui::Context, name: &str) {
    let (library, _) = Library::shipped();
    let table = library.entries[library.search(name)[0]].table.clone();
    app.run(Action::PickMachine(None), ctx);
    app.run(Action::UseTable(Box::new(table)), ctx);
}

/// A leaky supply duct, half of it sealed.
fn sealed(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(demo::heat_pump());
    let duct = app.job().path.first(ElementKind::SupplyDuct).unwrap().id;
    app.run(Edit::AddLeak(duct, 0.12).into(), ctx);
    let element = app.job().path.first(ElementKind::Leak).unwrap().id;
    app.run(Edit::AddChange(ChangeKind::Seal(Seal { element, fraction: 0.5 })).into(), ctx);
}

fn nine(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(nine_changes::job());
}

/// The same with another machine on the ducts.
fn nine_machine(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(nine_changes::job());
    exchange(app, ctx, "ah-48t");
}

/// Twenty reading sets.
fn sets(app: &mut TapcrossApp, _: &eframe::egui::Context) {
    app.show_job(many_sets::job());
}

/// The same with the legend of the chart's marks.
fn legend(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(many_sets::job());
    app.run(Command::Legend.into(), ctx);
}

/// Another job on the chart, with the legend.
fn beside(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.ron");
    tapcross::files::job_file::save(&path, &demo::gas_furnace()).unwrap();
    app.run(Action::ShowBeside(path), ctx);
    app.run(Command::Legend.into(), ctx);
}

/// Three options side by side.
fn options(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(nine_changes::job());
    app.run(Edit::Option(OptionEdit::Name("Everything".to_owned())).into(), ctx);
    for (switched, name, reason) in [(0, "Without the filter", "Half the price, and quieter"), (3, "Duct work", "")] {
        app.run(Command::CopyOption.into(), ctx);
        let id = app.job().changes[switched].id;
        app.run(Edit::SwitchChange(id, Switch::Off).into(), ctx);
        app.run(Edit::Option(OptionEdit::Name(name.to_owned())).into(), ctx);
        app.run(Edit::Option(OptionEdit::Reason(reason.to_owned())).into(), ctx);
    }
    app.run(Edit::Number(JobNumber::FanHours, Some(2_000.0)).into(), ctx);
    app.run(Edit::Number(JobNumber::EnergyPrice, Some(0.15)).into(), ctx);
    app.run(Command::Options.into(), ctx);
}

/// The report of three options as it would print.
fn preview(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(three_options::job());
    app.run(Command::Preview.into(), ctx);
}

/// The settings, with something set.
fn settings(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    let company = Company {
        name: "Alder Air (invented)".to_owned(),
        address: "1 Alder Street".to_owned(),
        town: "Nowhere".to_owned(),
        contact: "555 0100".to_owned(),
        logo: None,
    };
    app.run(Setting::Company(company).into(), ctx);
    app.run(Setting::Number(JobNumber::EnergyPrice, Some(0.21)).into(), ctx);
    app.run(Setting::Number(JobNumber::ManometerFraction, Some(0.005)).into(), ctx);
    app.run(
        Setting::Source(JobNumber::ManometerFraction, SourcePart::Name, "Its certificate (invented)".to_owned()).into(),
        ctx,
    );
    app.run(Setting::Source(JobNumber::ManometerFraction, SourcePart::Date, "2026-03-01".to_owned()).into(), ctx);
    app.run(Setting::Price("Clean filter", Some(40.0)).into(), ctx);
    app.run(Command::Settings.into(), ctx);
}

/// The same, put away.
fn options_shut(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    options(app, ctx);
    app.run(Command::Options.into(), ctx);
}

/// A message, and one before it.
fn message(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    sets(app, ctx);
    app.run(Action::OpenPath("a folder that is not there/with a job of a long name.ron".into()), ctx);
    app.run(Command::CopyResults.into(), ctx);
}

/// The gas furnace with one change and the legend.
fn furnace_legend(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    furnace(app, ctx);
    let element = app.job().path.first(ElementKind::SupplyDuct).unwrap().id;
    app.run(Edit::AddChange(ChangeKind::LessByHand(LessByHand { element, fraction: 0.3 })).into(), ctx);
    app.run(Command::Legend.into(), ctx);
}

/// Nine changes with the legend.
fn nine_legend(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(nine_changes::job());
    app.run(Command::Legend.into(), ctx);
}

/// The gas furnace while it heats.
fn call(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    app.show_job(demo::gas_furnace());
    app.run(Edit::AddChange(ChangeKind::OtherCall(OtherCall { call: Call::HeatingHigh })).into(), ctx);
}

/// The first demo with a filter by data and both lengths stated, so that its ducts are judged.
fn lengths(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    let filter = app.job().path.first(ElementKind::Filter).unwrap().id;
    let data = DropData::at(Airflow::from_cfm(1400.0), Pressure::from_in_wc(0.2), 1.2).unwrap();
    for edit in [
        Edit::ElementDrop(filter, Some(data)),
        Edit::Number(JobNumber::ReturnLength, Some(120.0)),
        Edit::Number(JobNumber::SupplyLength, Some(180.0)),
    ] {
        app.run(edit.into(), ctx);
    }
}

/// The same without the filter's data, where only a bound can be given.
fn lengths_bound(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    lengths(app, ctx);
    let filter = app.job().path.first(ElementKind::Filter).unwrap().id;
    app.run(Edit::ElementDrop(filter, None).into(), ctx);
}

/// Nothing is left for the ducts.
fn lengths_spent(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    lengths(app, ctx);
    app.run(Edit::Number(JobNumber::DesignStatic, Some(0.15)).into(), ctx);
}

/// Ducts that take no more than their lengths leave them, in SI.
fn lengths_within(app: &mut TapcrossApp, ctx: &eframe::egui::Context) {
    lengths(app, ctx);
    app.run(Edit::Number(JobNumber::DesignStatic, Some(1.4)).into(), ctx);
    app.run(Action::Units(UnitSystem::SiLitres), ctx);
}

const WIDE: [f32; 2] = [1440.0, 900.0];
const SMALL: [f32; 2] = [1024.0, 700.0];
/// 1440x900 pixels after four steps of zoom, at 140 %.
const FOUR_STEPS: [f32; 2] = [1029.0, 643.0];
/// 1440x900 pixels at 200 %.
const DOUBLE: [f32; 2] = [720.0, 450.0];

const fn shot(
    name: &'static str,
    size: [f32; 2],
    scale: f32,
    theme: Theme,
    prepare: fn(&mut TapcrossApp, &eframe::egui::Context),
) -> Shot {
    Shot { name, size, scale, theme, prepare }
}

const SHOTS: [Shot; 85] = [
    shot("preview-light", WIDE, 1.0, Theme::Light, preview),
    shot("preview-dark", WIDE, 1.0, Theme::Dark, preview),
    shot("preview-small-light", SMALL, 1.0, Theme::Light, preview),
    shot("preview-double-dark", DOUBLE, 2.0, Theme::Dark, preview),
    shot("settings-light", WIDE, 1.0, Theme::Light, settings),
    shot("settings-dark", WIDE, 1.0, Theme::Dark, settings),
    shot("settings-small-light", SMALL, 1.0, Theme::Light, settings),
    shot("settings-double-dark", DOUBLE, 2.0, Theme::Dark, settings),
    shot("sets-light", WIDE, 1.0, Theme::Light, sets),
    shot("sets-dark", WIDE, 1.0, Theme::Dark, sets),
    shot("sets-small-light", SMALL, 1.0, Theme::Light, sets),
    shot("sets-message-light", WIDE, 1.0, Theme::Light, message),
    shot("message-small-dark", SMALL, 1.0, Theme::Dark, message),
    shot("furnace-legend-small-light", SMALL, 1.0, Theme::Light, furnace_legend),
    shot("main-five-light", [960.0, 600.0], 1.5, Theme::Light, no_change),
    shot("sets-double-dark", DOUBLE, 2.0, Theme::Dark, sets),
    shot("legend-light", WIDE, 1.0, Theme::Light, legend),
    shot("legend-dark", WIDE, 1.0, Theme::Dark, legend),
    shot("beside-light", WIDE, 1.0, Theme::Light, beside),
    shot("beside-small-dark", SMALL, 1.0, Theme::Dark, beside),
    shot("options-light", WIDE, 1.0, Theme::Light, options),
    shot("options-dark", WIDE, 1.0, Theme::Dark, options),
    shot("options-small-light", SMALL, 1.0, Theme::Light, options),
    shot("options-shut-light", WIDE, 1.0, Theme::Light, options_shut),
    shot("options-shut-small-dark", SMALL, 1.0, Theme::Dark, options_shut),
    shot("legend-small-dark", SMALL, 1.0, Theme::Dark, nine_legend),
    // 1440x900 pixels after four steps of zoom.
    shot("legend-four-light", FOUR_STEPS, 1.4, Theme::Light, legend),
    shot("legend-four-nine-dark", FOUR_STEPS, 1.4, Theme::Dark, nine_legend),
    // 1024x768 pixels at 120 and 200 %, 1920x1080 at 150 and 250 %.
    shot("legend-class-120-light", [853.0, 640.0], 1.2, Theme::Light, legend),
    shot("legend-class-200-light", [512.0, 384.0], 2.0, Theme::Light, legend),
    shot("legend-class-100-light", [1024.0, 768.0], 1.0, Theme::Light, legend),
    shot("legend-hall-150-light", [1280.0, 720.0], 1.5, Theme::Light, legend),
    shot("legend-hall-250-light", [768.0, 432.0], 2.5, Theme::Light, nine_legend),
    shot("nine-machine-light", WIDE, 1.0, Theme::Light, nine_machine),
    shot("nine-machine-dark", WIDE, 1.0, Theme::Dark, nine_machine),
    shot("nine-machine-small-dark", SMALL, 1.0, Theme::Dark, nine_machine),
    shot("nine-light", WIDE, 1.0, Theme::Light, nine),
    shot("nine-dark", WIDE, 1.0, Theme::Dark, nine),
    shot("nine-small-light", SMALL, 1.0, Theme::Light, nine),
    shot("nine-double-light", DOUBLE, 2.0, Theme::Light, nine),
    // 1024x768 pixels at 150, 200 and 250 %.
    shot("nine-class-150-light", [683.0, 512.0], 1.5, Theme::Light, nine),
    shot("nine-class-200-dark", [512.0, 384.0], 2.0, Theme::Dark, nine),
    shot("nine-class-250-light", [410.0, 307.0], 2.5, Theme::Light, nine),
    // 1920x1080 pixels at 150 and 250 %.
    shot("nine-hall-150-dark", [1280.0, 720.0], 1.5, Theme::Dark, nine),
    shot("nine-hall-250-light", [768.0, 432.0], 2.5, Theme::Light, nine),
    shot("main-light", WIDE, 1.0, Theme::Light, no_change),
    shot("main-dark", WIDE, 1.0, Theme::Dark, no_change),
    shot("main-small-light", SMALL, 1.0, Theme::Light, no_change),
    shot("main-small-dark", SMALL, 1.0, Theme::Dark, no_change),
    shot("main-double-light", DOUBLE, 2.0, Theme::Light, no_change),
    shot("main-double-dark", DOUBLE, 2.0, Theme::Dark, no_change),
    shot("furnace-light", WIDE, 1.0, Theme::Light, furnace),
    shot("furnace-dark-small", SMALL, 1.0, Theme::Dark, furnace),
    shot("metric-light", WIDE, 1.0, Theme::Light, metric),
    shot("knee-light", WIDE, 1.0, Theme::Light, knee),
    shot("mountain-light", WIDE, 1.0, Theme::Light, mountain),
    shot("off-the-table-light", WIDE, 1.0, Theme::Light, off_the_table),
    shot("plus-at-the-return-light", WIDE, 1.0, Theme::Light, plus_at_the_return),
    shot("no-readings-dark", WIDE, 1.0, Theme::Dark, no_readings),
    shot("empty-light", WIDE, 1.0, Theme::Light, empty),
    shot("lengths-light", WIDE, 1.0, Theme::Light, lengths),
    shot("lengths-dark", WIDE, 1.0, Theme::Dark, lengths),
    shot("lengths-small-light", SMALL, 1.0, Theme::Light, lengths),
    shot("lengths-double-dark", DOUBLE, 2.0, Theme::Dark, lengths),
    shot("lengths-bound-dark-small", SMALL, 1.0, Theme::Dark, lengths_bound),
    shot("lengths-spent-light", WIDE, 1.0, Theme::Light, lengths_spent),
    shot("lengths-within-metric-light", WIDE, 1.0, Theme::Light, lengths_within),
    shot("limits-light", WIDE, 1.0, Theme::Light, furnace),
    shot("limits-metric-dark-small", SMALL, 1.0, Theme::Dark, metric),
    shot("picker-light", WIDE, 1.0, Theme::Light, picker),
    shot("picker-small-dark", SMALL, 1.0, Theme::Dark, picker),
    shot("against-library-light", WIDE, 1.0, Theme::Light, against_library),
    shot("against-library-small-dark", SMALL, 1.0, Theme::Dark, against_library),
    shot("editor-light", WIDE, 1.0, Theme::Light, editor),
    shot("editor-dark-small", SMALL, 1.0, Theme::Dark, editor),
    shot("machine-light", WIDE, 1.0, Theme::Light, machine),
    shot("machine-dark-small", SMALL, 1.0, Theme::Dark, machine),
    shot("machine-double-light", DOUBLE, 2.0, Theme::Light, machine),
    shot("machine-furnace-light", WIDE, 1.0, Theme::Light, machine_furnace),
    shot("machine-metric-dark", WIDE, 1.0, Theme::Dark, |app, ctx| {
        metric(app, ctx);
        machine(app, ctx);
    }),
    shot("sealed-light", WIDE, 1.0, Theme::Light, sealed),
    shot("sealed-dark-small", SMALL, 1.0, Theme::Dark, sealed),
    shot("sealed-double-dark", DOUBLE, 2.0, Theme::Dark, sealed),
    shot("call-light", WIDE, 1.0, Theme::Light, call),
    shot("call-dark-small", SMALL, 1.0, Theme::Dark, call),
];

/// Builds the window of a shot, or nothing where no picture can be taken.
fn window(shot: &Shot) -> App {
    let mut app = Harness::builder()
        .with_size(Vec2::from(shot.size))
        .with_pixels_per_point(shot.scale)
        .with_theme(shot.theme)
        .with_render_cursor(false)
        .wgpu()
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
    let theme = match shot.theme {
        Theme::Light => tapcross::files::settings::ThemeChoice::Light,
        Theme::Dark => tapcross::files::settings::ThemeChoice::Dark,
    };
    let ctx = app.ctx.clone();
    app.state_mut().run(Action::Theme(theme), &ctx);
    (shot.prepare)(app.state_mut(), &ctx);
    app.run_steps(4);
    if shot.name.starts_with("preview") {
        app.state_mut().wait_for_pages(&ctx);
        app.run_steps(4);
    }
    if shot.name.starts_with("lengths") {
        show_fold(&mut app, "By ANSI/ACCA 1 Manual D, recalled.");
    }
    if shot.name.starts_with("limits") {
        show_fold(&mut app, "Limits and accuracy");
        app.get_by_label("Limits and accuracy").click();
        app.run_steps(8);
        show_fold(&mut app, "Port's error");
        app.get_by_label(JobNumber::PortOffset.number().source).click();
        app.run_steps(8);
    }
    app
}

/// Scrolls to a text of the job's panel, on its tab where the window is narrow.
fn show_fold(app: &mut App, text: &str) {
    if let Some(tab) = app.query_by_label("Part Job") {
        tab.click();
        app.run_steps(4);
    }
    app.query_all_by_label(text).next().unwrap().scroll_to_me();
    app.run_steps(8);
}

#[test]
fn every_state_of_the_window_makes_a_picture() {
    if pictures::cannot_be_taken() {
        return;
    }
    let only = std::env::var("TAPCROSS_ONLY").unwrap_or_default();
    for shot in SHOTS.iter().filter(|shot| shot.name.contains(&only)) {
        let mut app = window(shot);
        pictures::take(&mut app, shot.name);
    }
}
