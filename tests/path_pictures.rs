//! Pictures of air paths with ways side by side, leaks, a bypass and many ports, and of changes under the hand, in every size and theme.
//!
//! As `tests/pictures.rs`: without a software Vulkan the suite says that it skipped, and `TAPCROSS_PICTURES=DIR` writes them as PNG, for eyes.

#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/pictures.rs"]
mod pictures;
#[path = "support/rich_path.rs"]
mod rich_path;
#[path = "support/three_and_three.rs"]
mod three_and_three;

use eframe::egui::{Theme, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::files::settings::ThemeChoice;
use tapcross::model::facts::air_path::chain::Beside;
use tapcross::model::facts::air_path::{Bypass, ElementId, ElementKind, PortId};
use tapcross::model::facts::change::{ChangeKind, LessByHand, Seal};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::view::action::Action;
use tapcross::units::Pressure;

const WIDE: [f32; 2] = [1440.0, 900.0];
const SMALL: [f32; 2] = [1024.0, 700.0];
/// A screen on its side, where an editor stands whole.
const TALL: [f32; 2] = [1080.0, 1600.0];
/// 1440x900 pixels at 200 %.
const DOUBLE: [f32; 2] = [720.0, 450.0];

fn edited(mut job: Job, edits: impl IntoIterator<Item = Edit>) -> Job {
    for edit in edits {
        let said = format!("{edit:?}");
        apply(&mut job, edit).unwrap_or_else(|message| panic!("{said}: {message}"));
    }
    job
}

fn first(job: &Job, kind: ElementKind) -> ElementId {
    job.path.first(kind).unwrap_or_else(|| panic!("no {kind:?}")).id
}

fn read(port: u32, in_wc: f64) -> Edit {
    Edit::Reading(ReadAt::Port(PortId(port)), vec![Pressure::from_in_wc(in_wc)])
}

/// A furnace whose two returns have a filter grille each.
fn two_returns() -> Job {
    let job = demo::gas_furnace();
    let (grille, duct) = (first(&job, ElementKind::ReturnGrille), first(&job, ElementKind::ReturnDuct));
    let filter = first(&job, ElementKind::Filter);
    let job = edited(job, [Edit::RemoveElement(filter), Edit::AddElement(ElementKind::Filter, Beside::After(grille))]);
    let job = edited(job, [Edit::LayBeside(grille, duct)]);
    let group = first(&job, ElementKind::SideBySide);
    edited(job, [Edit::RenameElement(group, "Two returns".to_owned()), Edit::WayFlow(group, 0, Some(0.6))])
}

/// Three zones with a damper each.
fn zones() -> Job {
    let job = demo::heat_pump();
    let registers = first(&job, ElementKind::Registers);
    let job = edited(job, [Edit::AddElement(ElementKind::Damper, Beside::Before(registers))]);
    let damper = first(&job, ElementKind::Damper);
    let job = edited(job, [Edit::LayBeside(damper, registers)]);
    let group = first(&job, ElementKind::SideBySide);
    edited(
        job,
        [
            Edit::AddWay(group),
            Edit::RenameElement(group, "Three zones".to_owned()),
            Edit::WayFlow(group, 0, Some(0.45)),
        ],
    )
}

/// A supply that leaks 12 %.
fn leak() -> Job {
    let job = demo::heat_pump();
    let duct = first(&job, ElementKind::SupplyDuct);
    edited(job, [Edit::AddLeak(duct, 0.12)])
}

/// A bypass from the supply duct back to the return.
fn bypass() -> Job {
    let job = demo::heat_pump();
    let (leaves_after, joins_after) = (first(&job, ElementKind::SupplyDuct), first(&job, ElementKind::ReturnDuct));
    let id = job.path.next_element();
    edited(job, [Edit::Bypass(Some(Bypass { id, leaves_after, joins_after, flow: 0.1 }))])
}

/// Ports on both sides of the machine, all read, and the coil read across.
fn ports() -> Job {
    let job = demo::heat_pump();
    let (grille, duct, coil) =
        (first(&job, ElementKind::ReturnGrille), first(&job, ElementKind::ReturnDuct), first(&job, ElementKind::Coil));
    let supply = first(&job, ElementKind::SupplyDuct);
    edited(
        job,
        [
            Edit::AddPort(grille),
            Edit::AddPort(duct),
            Edit::AddPort(supply),
            read(3, -0.08),
            read(4, -0.30),
            read(5, 0.12),
            Edit::Reading(ReadAt::Across(coil), vec![Pressure::from_in_wc(0.22)]),
        ],
    )
}

/// Three returns and three zones with a port and a change, and a bypass.
fn everything() -> Job {
    let job = three_and_three::job();
    let grille = first(&job, ElementKind::ReturnGrille);
    edited(job, [Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: grille, fraction: 0.5 }))])
}

/// Two returns, two zones, a bypass and a leak, with the leak sealed and a grille widened.
fn rich() -> Job {
    let job = rich_path::job();
    let (leak, grille) = (first(&job, ElementKind::Leak), first(&job, ElementKind::ReturnGrille));
    edited(
        job,
        [
            Edit::AddChange(ChangeKind::Seal(Seal { element: leak, fraction: 0.8 })),
            Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: grille, fraction: 0.5 })),
        ],
    )
}

/// The rich path with nine changes.
fn rich_and_nine() -> Job {
    nine_changes::on(rich_path::job())
}

/// A job of files, with a group in a way of a group.
fn nested() -> Job {
    tapcross::files::job_file::parse(include_str!("data/jobs/v1-ways.ron")).unwrap()
}

struct Shot {
    name: &'static str,
    size: [f32; 2],
    scale: f32,
    theme: Theme,
    job: fn() -> Job,
    /// Label that begins what is pressed first, and the card's half.
    press: &'static [&'static str],
}

const fn shot(
    name: &'static str,
    (size, scale): ([f32; 2], f32),
    theme: Theme,
    job: fn() -> Job,
    press: &'static [&'static str],
) -> Shot {
    Shot { name, size, scale, theme, job, press }
}

const SHOTS: [Shot; 34] = [
    shot("path-nine-light", (WIDE, 1.0), Theme::Light, rich_and_nine, &[]),
    shot("path-nine-dark", (WIDE, 1.0), Theme::Dark, rich_and_nine, &[]),
    shot("hands-nine-edited-light", (WIDE, 1.0), Theme::Light, nine_changes::job, &["Edit: Other duct: return"]),
    shot("hands-nine-edited-dark-small", (SMALL, 1.0), Theme::Dark, nine_changes::job, &["Edit: Clean: filter"]),
    shot(
        "hands-fittings-light",
        (TALL, 1.0),
        Theme::Light,
        nine_changes::job,
        &["Edit: Second return", "Fittings of known loss"],
    ),
    shot("hands-put-it-on-dark", (WIDE, 1.0), Theme::Dark, demo::heat_pump, &["Put on: Other duct"]),
    shot("hands-put-it-on-small", (SMALL, 1.0), Theme::Light, demo::heat_pump, &["Put on: Reduce by %"]),
    shot("hands-card-light", (WIDE, 1.0), Theme::Light, demo::heat_pump, &["Filter, ", "Card Changes"]),
    shot("hands-card-small", (SMALL, 1.0), Theme::Dark, rich, &["Return grille, ", "Card Changes"]),
    shot("path-rich-light", (WIDE, 1.0), Theme::Light, rich, &[]),
    shot("path-rich-dark", (WIDE, 1.0), Theme::Dark, rich, &[]),
    shot("path-rich-small", (SMALL, 1.0), Theme::Light, rich, &[]),
    shot("path-nested-light", (WIDE, 1.0), Theme::Light, nested, &[]),
    shot("path-nested-small", (SMALL, 1.0), Theme::Dark, nested, &[]),
    shot("path-returns-light", (WIDE, 1.0), Theme::Light, two_returns, &[]),
    shot("path-returns-dark-small", (SMALL, 1.0), Theme::Dark, two_returns, &[]),
    shot("path-returns-double", (DOUBLE, 2.0), Theme::Light, two_returns, &["Part Air path"]),
    shot("path-zones-light", (WIDE, 1.0), Theme::Light, zones, &[]),
    shot("path-zones-small", (SMALL, 1.0), Theme::Light, zones, &[]),
    shot("path-leak-light", (WIDE, 1.0), Theme::Light, leak, &[]),
    shot("path-leak-small", (SMALL, 1.0), Theme::Light, leak, &[]),
    shot("path-bypass-dark", (WIDE, 1.0), Theme::Dark, bypass, &[]),
    shot("path-bypass-small", (SMALL, 1.0), Theme::Light, bypass, &[]),
    shot("path-ports-light", (WIDE, 1.0), Theme::Light, ports, &[]),
    shot("path-ports-small", (SMALL, 1.0), Theme::Dark, ports, &[]),
    shot("path-ports-double", (DOUBLE, 2.0), Theme::Dark, ports, &["Part Air path"]),
    shot("path-everything-light", (WIDE, 1.0), Theme::Light, everything, &[]),
    shot("path-everything-dark", (WIDE, 1.0), Theme::Dark, everything, &[]),
    shot("path-everything-small", (SMALL, 1.0), Theme::Light, everything, &[]),
    shot("path-card-drop-light", (WIDE, 1.0), Theme::Light, ports, &["Coil, "]),
    shot("path-card-path-light", (WIDE, 1.0), Theme::Light, ports, &["Supply duct, ", "Card In the path"]),
    shot("path-card-ways-dark", (WIDE, 1.0), Theme::Dark, two_returns, &["Two returns, "]),
    shot("path-card-path-small", (SMALL, 1.0), Theme::Light, zones, &["Supply duct, ", "Card In the path"]),
    shot(
        "path-card-path-double",
        (DOUBLE, 2.0),
        Theme::Dark,
        zones,
        &["Part Air path", "Supply duct, ", "Card In the path"],
    ),
];

fn window(shot: &Shot) -> Harness<'static, TapcrossApp> {
    let job = (shot.job)();
    let mut app = Harness::builder()
        .with_size(Vec2::from(shot.size))
        .with_pixels_per_point(shot.scale)
        .with_theme(shot.theme)
        .with_render_cursor(false)
        .wgpu()
        .build_eframe(move |cc| {
            let mut app = TapcrossApp::new(&cc.egui_ctx, Start::alone());
            app.show_job(job);
            app
        });
    let theme = match shot.theme {
        Theme::Light => ThemeChoice::Light,
        Theme::Dark => ThemeChoice::Dark,
    };
    let ctx = app.ctx.clone();
    app.state_mut().run(Action::Theme(theme), &ctx);
    app.run_steps(4);
    for label in shot.press {
        let node = app.get_all_by_label_contains(label).next().unwrap();
        // What lies past the edge is brought into view first.
        if node.rect().right() > shot.size[0] * 0.6 && shot.size[0] < WIDE[0] {
            node.focus();
            app.run_steps(40);
        }
        app.get_all_by_label_contains(label).next().unwrap().click();
        app.run_steps(4);
    }
    app
}

#[test]
fn every_kind_of_air_path_makes_a_picture() {
    if pictures::cannot_be_taken() {
        return;
    }
    let only = std::env::var("TAPCROSS_ONLY").unwrap_or_default();
    for shot in SHOTS.iter().filter(|shot| shot.name.contains(&only)) {
        let mut app = window(shot);
        assert!(app.state().answer().point().is_some(), "{}: {:?}", shot.name, app.state().answer().found);
        pictures::take(&mut app, shot.name);
    }
}
