//! The report over the window as it would print: as many pages as are printed, drawn anew with paper and job, saved from there.

#[path = "support/three_options.rs"]
mod three_options;
#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::facts::job::Job;
use tapcross::paper::printed::{Reported, Shown, pictures};
use tapcross::report::form::Paper;
use tapcross::ui::view::action::Command;
use window::{App, app_of, run, says, settle};

/// The window with the report over it.
fn seen(job: Job) -> App {
    let mut app = app_of(job);
    app.key_press_modifiers(Modifiers::NONE, Key::F5);
    settle(&mut app);
    assert!(says(&app, "The pages are being drawn…"));
    drawn(&mut app);
    app
}

fn drawn(app: &mut App) -> usize {
    let context = app.ctx.clone();
    loop {
        let pages = app.state_mut().wait_for_pages(&context);
        settle(app);
        if !says(app, "the pages are being drawn again") {
            return pages;
        }
    }
}

#[test]
fn every_page_that_would_print_is_seen_and_drawn_anew_with_job_and_paper() {
    let mut app = seen(three_options::job());
    assert!(says(&app, "2 pages, as they would print"));
    for page in ["Page 1 of 2", "Page 2 of 2"] {
        assert!(app.query_by_role_and_label(Role::Image, page).is_some(), "{page}");
    }
    let shape = |app: &App| {
        let at = app.get_by_role_and_label(Role::Image, "Page 1 of 2").rect();
        at.width() / at.height()
    };
    assert!((shape(&app) - 612.0 / 792.0).abs() < 0.01);
    // Whole pages are whole: all of each is within the window.
    let window = app.ctx.content_rect();
    assert!(window.contains_rect(app.get_by_role_and_label(Role::Image, "Page 2 of 2").rect()));
    app.get_by_label("Paper A4").click();
    settle(&mut app);
    drawn(&mut app);
    assert_eq!(app.state().settings().paper, Paper::A4);
    assert!((shape(&app) - 595.0 / 842.0).abs() < 0.01);
    let narrow = app.get_by_role_and_label(Role::Image, "Page 1 of 2").rect().width();
    app.get_by_label("Size Page width").click();
    settle(&mut app);
    drawn(&mut app);
    assert!(app.get_by_role_and_label(Role::Image, "Page 1 of 2").rect().width() > 1.8 * narrow);
    // Another job, other pages; as long as they are drawn the old ones say that they are old.
    run(&mut app, Edit::Notes("A line of notes. ".repeat(400)).into());
    assert!(says(&app, "As it was a moment ago"));
    assert!(drawn(&mut app) > 2);
    app.key_press(Key::Escape);
    settle(&mut app);
    assert!(app.query_by_role_and_label(Role::Image, "Page 1 of 3").is_none());
}

#[test]
fn a_page_is_as_wide_as_it_was_asked_for_and_is_what_is_printed() {
    let reported = Reported::of("a.ron", demo::heat_pump());
    let pages = pictures(&reported, &Shown::default(), Paper::Letter, 306);
    assert!(pages.iter().all(|page| (page.width, page.height) == (306, 396)));
    let inked = |page: &tapcross::paper::png::Pixels| page.rgb.iter().filter(|value| **value < 200).count();
    assert!(pages.iter().all(|page| inked(page) > 500), "every page is drawn on");
}

/// From there the report is saved, and an empty job is seen too.
#[test]
fn the_report_is_saved_from_its_preview() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = seen(Job::default());
    assert!(says(&app, "One page, as it would print"));
    app.get_by_role_and_label(Role::Button, "Save as PDF…").click();
    settle(&mut app);
    run(&mut app, tapcross::ui::view::action::Action::ReportTo(folder.path().join("a.pdf")));
    let context = app.ctx.clone();
    app.state_mut().wait_for_the_disk(&context);
    assert!(folder.path().join("a.pdf").exists());
    run(&mut app, Command::Preview.into());
    assert!(!says(&app, "One page, as it would print"));
}

/// Who is about to print what a customer signs is told in a sentence that not all of it is priced.
#[test]
fn changes_without_a_price_are_told_before_anybody_signs() {
    let job = three_options::job();
    let mut app = seen(job.clone());
    assert!(!says(&app, "Not all is priced"));
    run(&mut app, Edit::ChangePrice(job.changes[0].id, None).into());
    assert!(says(&app, "Not all is priced that is signed for: the only change of Larger filter has no price"));
}
