//! Cautions where people act: in sight whichever panels are folded, and no remark takes their place.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::accesskit::Role;
use egui_kittest::kittest::Queryable as _;
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::files::settings::Panel;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT};
use tapcross::model::facts::blower::MotorFamily;
use tapcross::model::facts::change::{ChangeKind, CleanCoil, OtherTap, RepairRun};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::view::action::Action;
use tapcross::units::Pressure;
use window::{App, WIDE, app, app_of, press, run, says, sized, texts};

/// The usual window, and the smallest one that shows every panel at once.
const SIZES: [[f32; 2]; 2] = [WIDE, [1024.0, 700.0]];

fn cautions(app: &App) -> Vec<String> {
    texts(app).into_iter().filter_map(|text| text.strip_prefix("Caution: ").map(str::to_owned)).collect()
}

fn cautioned(app: &App, word: &str) -> bool {
    cautions(app).iter().any(|text| text.starts_with(word))
}

/// Every caution that begins so lies within the window and is not cut off.
fn is_whole(app: &App, word: &str, size: [f32; 2]) {
    let named = format!("Caution: {word}");
    let window = eframe::egui::Rect::from_min_size(eframe::egui::Pos2::ZERO, size.into());
    let rects: Vec<_> = app.query_all_by_label_contains(&named).map(|node| node.rect()).collect();
    assert!(rects.iter().any(|rect| window.contains_rect(*rect)), "{word} at {size:?}: {rects:?}");
}

fn fold_all(app: &mut App) {
    for panel in [Panel::Job, Panel::EveryTap, Panel::AirPath] {
        run(app, Action::Fold(panel));
    }
}

#[test]
fn drilling_is_cautioned_above_the_readings_whichever_panels_are_folded() {
    for size in SIZES {
        let mut app = sized(demo::heat_pump(), size);
        is_whole(&app, "Drilling", size);
        let field = app.get_by_label("Static before the blower").rect();
        let above =
            app.query_all_by_label_contains("Caution: Drilling").any(|node| node.rect().bottom() <= field.top());
        assert!(above, "above the first reading");
        fold_all(&mut app);
        is_whole(&app, "Drilling", size);
    }
}

#[test]
fn no_remark_takes_the_place_of_a_caution() {
    let mut job = demo::heat_pump();
    apply(&mut job, Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(0.52)])).unwrap();
    let app = app_of(job);
    assert!(says(&app, "? +0.52 before the blower"));
    assert!(cautioned(&app, "Drilling"));
    assert!(cautioned(&app_of(Job::default()), "Drilling"), "before there is anything to read");
}

#[test]
fn where_a_port_is_put_drilling_is_cautioned_once_more() {
    let mut app = app();
    let before = cautions(&app).iter().filter(|text| text.starts_with("Drilling")).count();
    app.get_by_label_contains("Return duct, ").click();
    window::settle(&mut app);
    press(&mut app, "Card In the path");
    app.get_by_label("Port after the return duct");
    let now = cautions(&app).iter().filter(|text| text.starts_with("Drilling")).count();
    assert_eq!(now, before + 1);
}

#[test]
fn a_tap_change_is_cautioned_beside_the_table_and_a_psc_motor_names_its_run_capacitor() {
    let app = app();
    let count = app.query_all_by_label_contains("Caution: Tap change").count();
    assert_eq!(count, 2, "in the line and beside the table");
    assert!(!says(&app, "run capacitor"), "a constant-torque motor has none");
    let mut job = demo::heat_pump();
    job.machine.as_mut().unwrap().motor = MotorFamily::PermanentSplitCapacitor;
    assert!(says(&app_of(job), "discharge the motor's run capacitor"));
}

#[test]
fn each_fix_brings_its_own_cautions_into_the_line_and_its_editor() {
    for size in SIZES {
        let mut app = sized(demo::heat_pump(), size);
        press(&mut app, "Put on: Second return");
        for word in ["Return air", "Venting"] {
            assert!(app.query_all_by_label_contains(&format!("Caution: {word}")).count() >= 2, "{word}");
        }
        assert!(says(&app, "draft of every vented appliance"));
        fold_all(&mut app);
        is_whole(&app, "Venting", size);
        is_whole(&app, "Drilling", size);
    }
    let mut job = demo::gas_furnace();
    let first = |job: &Job, kind| job.path.first(kind).unwrap().id;
    let kinds = [
        ChangeKind::CleanCoil(CleanCoil { element: first(&job, ElementKind::Coil), fraction: 0.2 }),
        ChangeKind::RepairRun(RepairRun { element: first(&job, ElementKind::ReturnDuct), fraction: 0.2 }),
        ChangeKind::OtherTap(OtherTap { tap: job.machine.as_ref().unwrap().taps[0].name.clone() }),
    ];
    for kind in kinds {
        apply(&mut job, Edit::AddChange(kind)).unwrap();
    }
    let app = app_of(job);
    for said in ["fins", "refrigerant", "insulation", "never two energized"] {
        assert!(says(&app, said), "{said}: {:?}", cautions(&app));
    }
}

#[test]
fn watts_and_voltage_are_cautioned_at_their_fields() {
    let mut app = sized(demo::heat_pump(), [1440.0, 2400.0]);
    let field = app.get_by_role_and_label(Role::TextInput, "Voltage").rect();
    let caution = app.get_by_label_contains("Caution: Watts and volts").rect();
    assert!((caution.top() - field.bottom()).abs() < 24.0, "{field:?} {caution:?}");
    run(&mut app, Edit::Number(JobNumber::Voltage, Some(208.0)).into());
    assert_eq!(
        app.query_all_by_label_contains("Caution: Watts and volts").count(),
        2,
        "in the line too once they are read"
    );
}
