//! Settings in the window: company and logo, what new jobs and changes begin with, paper, the way back, and what is kept of all that.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use std::path::{Path, PathBuf};

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::files::places::Places;
use tapcross::files::settings::{self, logo};
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{BelowTable, CleanCoil};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::report::form::Paper;
use tapcross::ui::view::action::{Action, Command};
use window::{App, run, says, type_into};

fn opened(folder: &Path, answers: Vec<Option<PathBuf>>) -> App {
    let places = Some(Places::within(folder));
    let start = Start { places, dialogs: Box::new(ScriptedDialogs::answering(answers)), ..Start::alone() };
    // High enough that every row of the sheet is seen.
    let mut app = Harness::builder()
        .with_size(Vec2::new(1440.0, 2400.0))
        .with_max_steps(20)
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, start));
    app.run_steps(3);
    app
}

/// With the sheet open, by its keys.
fn sheet(folder: &Path, answers: Vec<Option<PathBuf>>) -> App {
    let mut app = opened(folder, answers);
    app.key_press_modifiers(Modifiers::COMMAND, Key::Comma);
    app.run_steps(4);
    assert!(app.query_by_label("Company on reports").is_some());
    app
}

fn click(app: &mut App, name: &str) {
    app.get_by_role_and_label(Role::Button, name).click();
    app.run_steps(4);
}

/// A picture of one colour.
fn png(path: &Path, width: u32, height: u32) -> PathBuf {
    let file = std::fs::File::create(path).unwrap();
    let mut encoder = png::Encoder::new(file, width, height);
    encoder.set_color(png::ColorType::Rgba);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(&[10, 90, 160, 200].repeat((width * height) as usize)).unwrap();
    path.to_path_buf()
}

#[test]
fn what_is_set_is_kept_and_is_what_new_jobs_and_new_changes_begin_with() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = sheet(folder.path(), vec![]);
    app.get_by_role_and_label(Role::TextInput, "Company").focus();
    app.run_steps(2);
    app.event(Event::Text("Alder Air".to_owned()));
    app.run_steps(3);
    type_into(&mut app, "Energy", "0.21");
    type_into(&mut app, "Manometer's error", "0.5");
    type_into(&mut app, "Clean filter", "40");
    app.get_by_label("Paper A4").click();
    app.run_steps(3);
    let kept = settings::read(&Places::within(folder.path()).settings).0;
    assert_eq!(&kept, app.state().settings());
    assert_eq!((kept.company.name.as_str(), kept.paper), ("Alder Air", Paper::A4));
    click(&mut app, "Close");
    run(&mut app, Command::New.into());
    let job = app.state().job().clone();
    assert_eq!(JobNumber::EnergyPrice.of(&job), Some(0.21));
    assert!((job.accuracy.manometer_fraction - 0.005).abs() < 1e-12);
    // Nothing of it touches a job that is there.
    run(&mut app, Command::DemoHeatPump.into());
    assert_eq!(app.state().job(), &demo::heat_pump());
    let filter = app.state().job().path.first(ElementKind::Filter).unwrap().id;
    run(&mut app, Edit::AddChange(CleanCoil { element: filter, fraction: 0.4 }.into()).into());
    let put = app.state().job().changes.last().unwrap();
    assert_eq!(put.price, Some(40.0));
    let (title, before) = (put.kind.title(app.state().job()), app.state().job().changes.len());
    app.get_by_label(&format!("Edit: {title}")).click();
    app.run_steps(4);
    assert!(says(&app, "As the price list in the settings has it"));
    // Change and price are one step of undo.
    run(&mut app, Command::Undo.into());
    assert_eq!(app.state().job().changes.len(), before - 1);
    run(&mut app, Edit::AddChange(BelowTable { factor: 0.9 }.into()).into());
    assert_eq!(app.state().job().changes.last().unwrap().price, None, "nobody is paid for a fault");
}

/// Whose a figure of new jobs is goes with it into new jobs, and goes with it where the program's own is asked for again.
#[test]
fn whose_a_figure_of_new_jobs_is_is_kept_and_goes_into_new_jobs() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = sheet(folder.path(), vec![]);
    type_into(&mut app, "Manometer's error", "0.5");
    click(&mut app, "Changed, no source named");
    type_into(&mut app, "Whose it is", "Its own certificate");
    type_into(&mut app, "Of when", "2026-03-01");
    let kept = settings::read(&Places::within(folder.path()).settings).0;
    assert_eq!(&kept, app.state().settings());
    assert!(says(&app, "Its own certificate, 2026-03-01"));
    let job = kept.firsts.job();
    assert_eq!(job.sources[JobNumber::ManometerFraction.number().file].name, "Its own certificate");
    click(&mut app, "As the program has it");
    assert_eq!(app.state().settings().firsts, settings::Settings::default().firsts);
}

#[test]
fn what_cannot_be_is_refused_at_its_field_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = sheet(folder.path(), vec![]);
    let rows = [
        ("Energy", "-1", "A price of −1 per kWh cannot be; energy costs between 0 and 10,000 per kWh"),
        ("Blower runs", "9000", "A blower cannot run for 9,000 h a year; that lies between 0 and 8,784 h a year"),
        ("Clean filter", "-5", "A price of −5 cannot be; it is between 0 and"),
        ("Manometer's error", "300", "cannot be; it lies between 0 and 100 %"),
        ("Tax on prices", "a lot", "Tax on prices: "),
    ];
    for (field, typed, told) in rows {
        type_into(&mut app, field, typed);
        assert!(
            says(&app, told),
            "{field}: {:?}",
            window::texts(&app).iter().filter(|text| text.contains("cannot")).collect::<Vec<_>>()
        );
    }
    assert_eq!(app.state().settings().firsts, settings::Settings::default().firsts);
}

#[test]
fn a_logo_is_a_picture_that_is_kept_or_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    std::fs::write(path("text.png"), "no picture").unwrap();
    std::fs::write(path("heavy.png"), vec![0_u8; 3 * 1024 * 1024]).unwrap();
    std::fs::create_dir(path("folder.png")).unwrap();
    let whole = png(&path("cut.png"), 60, 20);
    let bytes = std::fs::read(&whole).unwrap();
    std::fs::write(&whole, &bytes[..bytes.len() / 2]).unwrap();
    let rows = [
        (path("text.png"), "it is no PNG picture, or a damaged one"),
        (whole, "it is no PNG picture, or a damaged one"),
        (path("heavy.png"), "it is larger than 2 MB"),
        (path("folder.png"), "this is a folder, not a plain file"),
        (path("gone.png"), "there is no such file"),
        (png(&path("wide.png"), 2_001, 1), "it has 2,001 by 1 pixels; each edge has at most 2,000"),
        (png(&path("dot.png"), 1, 1), "it has 1 by 1 pixels; each edge takes at least 16"),
        (png(&path("line.png"), 60, 15), "it has 60 by 15 pixels; each edge takes at least 16"),
    ];
    let mut app = sheet(folder.path(), rows.iter().map(|(path, _)| Some(path.clone())).collect());
    for (path, told) in &rows {
        click(&mut app, "Choose a logo…");
        let said = app.state_mut().notices().pop().unwrap();
        assert!(said.contains(told) && said.ends_with(&path.display().to_string()), "{said}");
    }
    assert_eq!(app.state().settings().company.logo, None);
    let place = logo::place(&Places::within(folder.path()).settings);
    assert!(!place.exists(), "nothing half kept");
    let mut app = sheet(folder.path(), vec![Some(png(&path("own.png"), 60, 20))]);
    click(&mut app, "Choose a logo…");
    assert!(says(&app, "Logo: 60 by 20 pixels") && place.exists());
    let kept = settings::read(&Places::within(folder.path()).settings).0.company.logo.unwrap();
    assert_eq!((kept.width, kept.height, &kept.rgba[..4]), (60, 20, &[10, 90, 160, 200][..]));
    click(&mut app, "Without a logo");
    assert!(!place.exists() && says(&app, "Logo: none"));
}

#[test]
fn a_reset_asks_and_puts_everything_back_but_recent_files() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = sheet(folder.path(), vec![]);
    type_into(&mut app, "Clean filter", "40");
    click(&mut app, "Reset…");
    click(&mut app, "Keep them");
    assert_eq!(app.state().settings().firsts.prices.len(), 1);
    click(&mut app, "Reset…");
    click(&mut app, "Reset");
    assert_eq!(app.state().settings().firsts, settings::Settings::default().firsts);
    assert_eq!(settings::read(&Places::within(folder.path()).settings).0.firsts.prices.len(), 0);
    assert!(app.query_by_label("Company on reports").is_some(), "the sheet stays open");
    app.key_press(Key::Escape);
    app.run_steps(4);
    assert!(app.query_by_label("Company on reports").is_none());
}

/// Reports by the window are on the paper that is set.
#[test]
fn the_window_prints_on_the_paper_that_is_set() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("a.pdf");
    let mut app = opened(folder.path(), vec![]);
    run(&mut app, settings::Setting::Paper(Paper::A4).into());
    run(&mut app, Action::ReportTo(out.clone()));
    let context = app.ctx.clone();
    app.state_mut().wait_for_the_disk(&context);
    let bytes = std::fs::read(out).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains("/MediaBox [0 0 595 842]"));
    assert_ne!(app.state().job(), &Job::default());
}
