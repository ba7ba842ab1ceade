//! The chart in the whole window, through the accessibility tree.

use eframe::egui::{self, Key, Pos2, Rect, Theme, accesskit::Role, pos2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::Harness;
use tapcross::app::{Start, TapcrossApp};
use tapcross::app::action::Action;
use tapcross::edit::{self, Edit};
use tapcross::files::demo;
use tapcross::model::air_path::{RETURN_PORT, SUPPLY_PORT};
use tapcross::model::job::Job;
use tapcross::model::readings::ReadAt;
use tapcross::units::{Altitude, Pressure, UnitSystem};

type Window<'a> = Harness<'a, TapcrossApp>;

fn window<'a>(job: Job, size: [f32; 2], theme: Theme) -> Window<'a> {
    let mut window = Harness::builder()
        .with_size(size)
        .with_theme(theme)
        .with_max_steps(12)
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
    window.state_mut().show_job(job);
    window.run_steps(6);
    window
}

fn job_with(job: Job, edits: Vec<Edit>) -> Job {
    let mut job = job;
    for edit in edits {
        edit::apply(&mut job, edit).unwrap();
    }
    job
}

fn library_job(name: &str) -> Job {
    let (library, _) = tapcross::files::library::Library::shipped();
    let entry = library.entries.iter().find(|entry| entry.table.name.contains(name)).unwrap();
    job_with(
        Job::default(),
        vec![
            Edit::Machine(Box::new(entry.table.clone())),
            Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(-0.30)]),
            Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![Pressure::from_in_wc(0.30)]),
        ],
    )
}

fn read(job: Job, before: f64, after: f64) -> Job {
    job_with(
        job,
        vec![
            Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(before)]),
            Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![Pressure::from_in_wc(after)]),
        ],
    )
}

fn unread(job: Job) -> Job {
    job_with(job, vec![Edit::Reading(ReadAt::Port(RETURN_PORT), vec![]), Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![])])
}

#[test]
fn pictures() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/target/chart");
    std::fs::create_dir_all(folder).unwrap();
    let thin = job_with(demo::heat_pump(), vec![Edit::Altitude(Altitude::from_ft(5280.0))]);
    let ip = UnitSystem::InchPound;
    let si = UnitSystem::SiLitres;
    let rows: Vec<(&str, Job, [f32; 2], Theme, UnitSystem)> = vec![
        ("hp-1440-light", demo::heat_pump(), [1440.0, 900.0], Theme::Light, ip),
        ("hp-1440-dark", demo::heat_pump(), [1440.0, 900.0], Theme::Dark, ip),
        ("hp-1024-si", demo::heat_pump(), [1024.0, 700.0], Theme::Light, si),
        ("hp-720", demo::heat_pump(), [720.0, 450.0], Theme::Light, ip),
        ("gf-1440-dark", demo::gas_furnace(), [1440.0, 900.0], Theme::Dark, UnitSystem::SiCubicMetres),
        ("gf-1024", demo::gas_furnace(), [1024.0, 700.0], Theme::Light, ip),
        ("60v-1440", library_job("AH-60V"), [1440.0, 900.0], Theme::Light, ip),
        ("36b-1440", library_job("AH-36B"), [1440.0, 900.0], Theme::Light, ip),
        ("thin-1440", thin, [1440.0, 900.0], Theme::Light, ip),
        ("bound-1440", read(demo::heat_pump(), -0.9, 0.6), [1440.0, 900.0], Theme::Light, ip),
        ("unread-1440", unread(demo::heat_pump()), [1440.0, 900.0], Theme::Dark, ip),
        ("empty-1024", Job::default(), [1024.0, 700.0], Theme::Light, ip),
    ];
    for (name, job, size, theme, units) in rows {
        let mut window = Harness::builder()
            .with_size(size)
            .with_theme(theme)
            .with_max_steps(12)
            .wgpu()
            .with_render_cursor(false)
            .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
        let ctx = window.ctx.clone();
        let choice = if theme == Theme::Dark { tapcross::files::settings::ThemeChoice::Dark } else { tapcross::files::settings::ThemeChoice::Light };
        window.state_mut().run(Action::Theme(choice), &ctx);
        window.state_mut().run(Action::Units(units), &ctx);
        window.state_mut().show_job(job);
        window.run_steps(6);
        window.render().unwrap().save(format!("{folder}/{name}.png")).unwrap();
    }
}
