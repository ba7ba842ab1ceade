//! The ducts' lengths in the real program: the fold, its fields, what is said of them in the panel and under the air path.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::design::PathSide;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::ui::view::action::Command;
use tapcross::units::{Airflow, Length, Pressure};
use window::{says, sized, type_then};

const FOLD: &str = "Ducts by length";
const RETURN: &str = "Return length";
const SUPPLY: &str = "Supply length";
const DESIGN: &str = "Design static";

/// The first demo with its filter by data, which leaves both sides to be judged.
fn with_filter() -> Job {
    let mut job = demo::heat_pump();
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    let data = DropData::at(Airflow::from_cfm(1400.0), Pressure::from_in_wc(0.2), 1.2).unwrap();
    apply(&mut job, Edit::ElementDrop(filter, Some(data))).unwrap();
    job
}

fn with_lengths() -> Job {
    let mut job = with_filter();
    for edit in [Edit::Number(JobNumber::ReturnLength, Some(120.0)), Edit::Number(JobNumber::SupplyLength, Some(180.0))]
    {
        apply(&mut job, edit).unwrap();
    }
    job
}

#[test]
fn the_fold_is_closed_until_a_person_opens_it_by_key_or_pointer() {
    let mut app = sized(with_filter(), [1440.0, 2000.0]);
    assert!(app.query_by_label(RETURN).is_none(), "a technician in a hurry does not see it");
    app.get_by_label(FOLD).focus();
    app.run_steps(4);
    app.key_press(Key::Enter);
    app.run_steps(8);
    assert!(app.query_by_role_and_label(Role::TextInput, RETURN).is_some());
    assert!(says(&app, "Total effective length of each side"));
    assert_eq!(app.get_by_label(FOLD).accesskit_node().data().is_expanded(), Some(true));
    app.get_by_label(FOLD).click();
    app.run_steps(8);
    assert!(app.query_by_label(RETURN).is_none());
}

#[test]
fn a_job_with_lengths_opens_the_fold_by_itself() {
    let app = sized(with_lengths(), [1440.0, 2000.0]);
    assert_eq!(app.get_by_role_and_label(Role::TextInput, RETURN).value().as_deref(), Some("120"));
    assert_eq!(app.get_by_role_and_label(Role::TextInput, SUPPLY).value().as_deref(), Some("180"));
}

#[test]
fn typed_lengths_give_the_limits_and_name_the_worst_side() {
    let mut app = sized(with_filter(), [1440.0, 2000.0]);
    assert!(says(&app, "Never drill"), "before there is something to say of the ducts");
    app.get_by_label(FOLD).click();
    app.run_steps(8);
    type_then(&mut app, RETURN, "120", Key::Enter);
    assert!(says(&app, "? The supply length is missing"));
    assert!(says(&app, "Never drill"));
    type_then(&mut app, SUPPLY, "54.864 m", Key::Enter);
    let lengths = PathSide::BOTH.map(|side| app.state().job().ducts.length(side).unwrap().ft());
    assert!((lengths[0] - 120.0).abs() < 1e-9 && (lengths[1] - 180.0).abs() < 1e-9, "{lengths:?}");
    // Tap 4 delivers 1,387 cfm up to 0.42; the filter takes 0.20 there, grille and registers the usual 0.03 each: 0.16 over 300 ft.
    assert!(says(&app, "Left for the ducts: 0.16 in. w.c., 0.05 per 100 ft"));
    assert!(says(&app, "▲ Return: 0.07 in. w.c. left, takes 0.44 · most over"));
    assert!(says(&app, "▲ Supply: 0.10 in. w.c. left, takes 0.38 · over"));
    assert!(says(&app, "▲ Ducts: 0.07 in. w.c. left for the return, 0.33 read, 0.44 at 1,385 cfm"));
    assert!(says(&app, "Never drill"), "no remark takes the place of a caution");
    type_then(&mut app, DESIGN, "0.15", Key::Enter);
    assert!(says(&app, "The parts with data take 0.26 of 0.15 in. w.c. at 1,385 cfm; nothing is left for the ducts"));
    type_then(&mut app, DESIGN, "", Key::Enter);
    assert_eq!(app.state().job().ducts.design_static, None);
}

#[test]
fn each_of_them_is_one_step_of_undo_with_its_name() {
    let mut app = sized(with_lengths(), [1440.0, 2000.0]);
    type_then(&mut app, RETURN, "90", Key::Enter);
    type_then(&mut app, DESIGN, "0.6", Key::Enter);
    let ctx = app.ctx.clone();
    for back in [90.0, 120.0] {
        app.state_mut().run(Command::Undo.into(), &ctx);
        app.run_steps(4);
        let ducts = app.state().job().ducts;
        assert_eq!((ducts.design_static, ducts.return_length), (None, Some(Length::from_ft(back))));
    }
    assert!(says(&app, "▲ Return: 0.07 in. w.c. left"), "what is said follows");
    let labels = [
        Edit::Number(JobNumber::ReturnLength, None),
        Edit::Number(JobNumber::SupplyLength, None),
        Edit::Number(JobNumber::DesignStatic, None),
    ]
    .map(|edit| edit.label());
    assert_eq!(labels, ["return length", "supply length", "design static"]);
}

#[test]
fn what_cannot_be_is_refused_where_it_is_typed() {
    let cases = [
        (RETURN, "0", "A return length of 0 ft cannot be; a total effective length is above 0 and at most 2,000 ft"),
        (SUPPLY, "2,001", "A supply length of 2,001 ft cannot be"),
        (SUPPLY, "180 cfm", "no unit of this field; it takes ft, in or m"),
        (DESIGN, "50", "A design static of 50.00 in. w.c. cannot be; it lies between 0.05 and 5 in. w.c."),
        (DESIGN, "-0.5", "A design static of −0.50 in. w.c. cannot be"),
    ];
    for (field, typed, sentence) in cases {
        let mut app = sized(with_lengths(), [1440.0, 2000.0]);
        type_then(&mut app, field, typed, Key::Enter);
        assert_eq!(app.state().job(), &with_lengths(), "{field} {typed}");
        assert!(says(&app, sentence), "{field} {typed}: {:?}", app.state().view().refused);
        assert!(!says(&app, "Left for the ducts"), "no confident answer while {field} is refused");
        assert!(says(&app, "Never drill"), "nor under the air path");
    }
}

#[test]
fn the_foot_is_never_cut_short_where_a_shorter_wording_fits() {
    for (width, wording) in [
        (
            1920.0,
            "▲ Ducts: 0.07 in. w.c. left for the return, 0.33 read, 0.44 at 1,385 cfm; 0.05 per 100 ft allowed, 0.37 taken",
        ),
        (1024.0, "▲ Return ducts: 0.44 of 0.07"),
    ] {
        let app = sized(with_lengths(), [width, 700.0]);
        let found = app.query_by_label(wording).map(|node| node.rect());
        let rect = found.unwrap_or_else(|| panic!("no \"{wording}\" at {width}"));
        // What stands beside the chart is at least this wide.
        assert!(rect.right() <= width - 368.0, "{rect:?}");
    }
}
