//! Changes in the real program: put on by key, click and drag, switched, edited, taken back.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use std::path::PathBuf;

use eframe::egui::{Key, Pos2, Role, Theme, Vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::blower::PartInTest;
use tapcross::model::facts::change::{
    ByData, ChangeId, ChangeKind, FilterLoading, LessByHand, MoreFilterArea, OtherDuct, SecondReturn,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::model::verdicts::system::Projection;
use tapcross::ui::view::action::Command;
use tapcross::units::{Airflow, Dimension, Pressure};
use window::{App, Look, app, app_in, app_of, press, run, says, select, texts, type_into};

const SECOND_RETURN: &str = "Put on: Second return";
const BY_DATA: &str = "Put on: New filter or coil";
const LOADING: &str = "Put on: Filter loading";

fn after_of(app: &App) -> &Projection {
    app.state().answer().with_changes().unwrap()
}

/// Airflow after the changes that are on.
fn after(app: &App) -> f64 {
    after_of(app).system.point().unwrap().airflow.cfm()
}

fn before(app: &App) -> f64 {
    app.state().answer().point().unwrap().now.airflow.cfm()
}

fn kinds(app: &App) -> Vec<&ChangeKind> {
    app.state().job().changes.iter().map(|change| &change.kind).collect()
}

#[test]
fn a_press_puts_a_second_return_on_and_opens_its_editor() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    assert!(matches!(kinds(&app)[..], [ChangeKind::SecondReturn { .. }]));
    assert!(after(&app) > before(&app) + 10.0, "{} then {}", before(&app), after(&app));
    app.get_by_role_and_label(Role::TextInput, "Grille face");
    assert!(says(&app, "Never from a garage"));
}

#[test]
fn what_several_elements_can_take_asks_which_and_escape_puts_it_back() {
    let mut app = app();
    press(&mut app, "Put on: Other duct");
    assert!(kinds(&app).is_empty());
    app.get_by_label("Other duct on: Return duct");
    app.key_press(Key::Escape);
    app.run_steps(4);
    assert!(app.query_by_label("Other duct on: Return duct").is_none());
    press(&mut app, "Put on: Other duct");
    press(&mut app, "Other duct on: Supply duct");
    let Some(ChangeKind::OtherDuct(OtherDuct { element, .. })) = kinds(&app).first() else {
        panic!("{:?}", kinds(&app));
    };
    assert_eq!(app.state().job().path.element(*element).unwrap().kind, ElementKind::SupplyDuct);
}

#[test]
fn the_keyboard_alone_puts_a_change_on() {
    let mut app = app();
    app.get_by_label(SECOND_RETURN).focus();
    app.run_steps(2);
    app.key_press(Key::Enter);
    app.run_steps(4);
    assert_eq!(kinds(&app).len(), 1);
}

#[test]
fn what_no_element_can_take_says_so_and_is_not_put_on() {
    let app = app_of(without(ElementKind::Filter));
    let card = app.get_by_label(LOADING);
    assert!(card.accesskit_node().is_disabled());
}

/// A loaded filter in a machine whose table was made with one: nothing to load until its drop is known.
#[test]
fn a_part_of_the_table_takes_a_change_once_its_drop_is_known() {
    let mut job = demo::heat_pump();
    let table = job.machine.as_mut().unwrap();
    table.basis.filter = PartInTest::Included;
    assert!(app_of(job.clone()).get_by_label(LOADING).accesskit_node().is_disabled());
    let airflow = Airflow::from_cfm(1200.0);
    let drop = DropData::at(airflow, Pressure::from_in_wc(0.1), 1.2).unwrap();
    job.machine.as_mut().unwrap().corrections.filter_as_tested = Some(drop);
    let mut app = app_of(job);
    app.get_by_label(LOADING).click();
    app.run_steps(4);
    assert!(matches!(kinds(&app)[..], [ChangeKind::FilterLoading(_)]), "{:?}", kinds(&app));
    assert_eq!(app.state().answer().with_changes().unwrap().refused, []);
}

fn without(kind: ElementKind) -> Job {
    let mut job = demo::heat_pump();
    let id = job.path.first(kind).unwrap().id;
    tapcross::edit::apply(&mut job, Edit::PartOut(id, true)).unwrap();
    job
}

#[test]
fn a_change_in_the_hand_is_known_while_it_is_dragged() {
    let mut app = app();
    let from = app.get_by_label(SECOND_RETURN).rect().center();
    let to = app.ctx.content_rect().center();
    carry(&mut app, from, to);
    assert_eq!(app.state().view().in_hand.map(|held| held.name), Some("Second return"));
    app.drop_at(to);
    app.run_steps(3);
    assert_eq!(app.state().view().in_hand, None);
}

#[test]
fn a_change_is_dragged_onto_the_element_that_takes_it() {
    let mut app = app();
    let from = app.get_by_label("Put on: More filter area").rect().center();
    let filter = app.get_by_label_contains("Filter, ").rect().center();
    drag(&mut app, from, filter);
    let [ChangeKind::MoreFilterArea(MoreFilterArea { element, .. })] = kinds(&app)[..] else {
        panic!("{:?}", kinds(&app));
    };
    assert_eq!(app.state().job().path.element(*element).unwrap().kind, ElementKind::Filter);
    app.get_by_role_and_label(Role::TextInput, "Filter area then");
}

/// Takes something up and moves it, without letting go.
fn carry(app: &mut App, from: Pos2, to: Pos2) {
    app.hover_at(from);
    app.run_steps(1);
    app.drag_at(from);
    app.run_steps(1);
    for share in [0.3, 0.7, 1.0] {
        app.hover_at(from.lerp(to, share));
        app.run_steps(1);
    }
    app.run_steps(1);
}

fn drag(app: &mut App, from: Pos2, to: Pos2) {
    carry(app, from, to);
    app.drop_at(to);
    app.run_steps(4);
}

#[test]
fn switching_off_gives_the_air_of_before_back_and_undo_takes_back_every_step() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    let eased = after(&app);
    press(&mut app, "On: Second return");
    assert!((after(&app) - before(&app)).abs() < 1e-6);
    assert!(says(&app, "All of them are off"));
    run(&mut app, Command::Undo.into());
    assert!((after(&app) - eased).abs() < 1e-9);
    run(&mut app, Command::Undo.into());
    assert!(kinds(&app).is_empty());
    run(&mut app, Command::Redo.into());
    assert!((after(&app) - eased).abs() < 1e-9);
}

#[test]
fn a_typed_size_moves_the_air_and_a_size_that_cannot_be_gets_its_sentence() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    let twelve = after(&app);
    type_into(&mut app, "Duct size", "16");
    let sixteen = after(&app);
    assert!(sixteen > twelve + 5.0, "{twelve} then {sixteen}");
    type_into(&mut app, "Duct size", "400");
    assert!(says(&app, "Duct diameter cannot be 400 in"), "{:?}", texts(&app));
    let [ChangeKind::SecondReturn(SecondReturn { run, .. })] = kinds(&app)[..] else {
        panic!("{:?}", kinds(&app));
    };
    assert_eq!(run.section, Section::round(Dimension::from_in(16.0)));
    assert!((after(&app) - sixteen).abs() < 1e-9);
}

#[test]
fn a_refused_text_goes_with_its_editor() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Duct size", "400");
    assert!(app.state().view().is_half_entered());
    run(&mut app, Command::Undo.into());
    assert!(!app.state().view().is_half_entered());
    assert_eq!(kinds(&app).len(), 1, "the text goes first, the change with the next step");
    run(&mut app, Command::Undo.into());
    assert!(kinds(&app).is_empty());
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Duct size", "400");
    press(&mut app, "Close: Second return");
    assert!(!app.state().view().is_half_entered());
}

#[test]
fn each_worth_and_the_whole_are_shown_and_that_they_do_not_add_up() {
    let mut app = app();
    press(&mut app, "Put on: More filter area");
    let alone = after_of(&app).worths[0].clone();
    let whole = after_of(&app).system.spreads.taps[after_of(&app).system.blower.in_use.unwrap()].unwrap().gain;
    assert_eq!(alone.spread, Some(whole), "one change is the whole");
    press(&mut app, SECOND_RETURN);
    // Among several a change alone leaves out what the readings leave in doubt, a small part of its own.
    let among = after_of(&app).worths[0].spread.unwrap() / alone.spread.unwrap();
    assert!((0.9..=1.001).contains(&among), "another change takes hold of its neighbors: {among}");
    let after = app.state().answer().with_changes().unwrap();
    let alone: Vec<f64> = after.worths.iter().map(|worth| worth.gain.clone().unwrap().least.cfm()).collect();
    let now = app.state().answer().point().unwrap().now.airflow.cfm();
    // The gain that is shown is the difference of the airflows that are shown.
    let to_5 = |cfm: f64| (cfm / 5.0).round() * 5.0;
    for (gain, worth) in alone.iter().zip(&after.worths) {
        let spread = worth.spread.unwrap().cfm().round();
        let shown = format!("+{} ± {spread}", to_5(now + gain) - to_5(now));
        assert!(says(&app, &shown), "{shown}: {:?}", texts(&app));
    }
    assert!(texts(&app).contains(&"Together".to_owned()));
    let (_, spread) = tapcross::model::wording::changes::gain(after).unwrap();
    let then = after.system.point().unwrap().airflow.cfm();
    let together = format!("+{} ± {} cfm", to_5(then) - to_5(now), spread.cfm().round());
    assert!(says(&app, &together), "{together}: {:?}", texts(&app));
    let whole =
        after.system.point().unwrap().airflow.cfm() - app.state().answer().point().unwrap().airflow_before.cfm();
    assert_eq!(says(&app, "worths do not add up"), (alone.iter().sum::<f64>() - whole).abs() > 5.0);
}

#[test]
fn prices_add_up_and_say_what_has_none() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Price", "1,450");
    press(&mut app, "Put on: More filter area");
    let said = texts(&app);
    // In its own row, and in the last line with what has none.
    assert_eq!(said.iter().filter(|text| *text == "$1,450").count(), 1, "{said:?}");
    assert!(said.contains(&"$1,450 + 1 unpriced".to_owned()), "{said:?}");
    type_into(&mut app, "Price", "-3");
    assert!(says(&app, "A price of −3 cannot be; it is between 0 and"));
}

/// A part is replaced after something was done to the old one: that is neither counted, nor paid for, nor added up.
#[test]
fn a_change_that_has_come_to_nothing_is_not_counted_and_not_paid_for() {
    let mut job = demo::gas_furnace();
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.1), 1.3).unwrap();
    let kinds = [
        ChangeKind::LessByHand(LessByHand { element: filter, fraction: 0.3 }),
        ChangeKind::ByData(ByData { element: filter, data }),
    ];
    for (kind, id, price) in kinds.into_iter().zip(1..).zip([100.0, 200.0]).map(|((kind, id), price)| (kind, id, price))
    {
        tapcross::edit::apply(&mut job, Edit::AddChange(kind)).unwrap();
        tapcross::edit::apply(&mut job, Edit::ChangePrice(ChangeId(id), Some(price))).unwrap();
    }
    let app = app_of(job);
    assert!(says(&app, "is replaced by a new one after this"), "{:?}", texts(&app));
    let mut prices: Vec<String> = texts(&app).into_iter().filter(|text| text.starts_with('$')).collect();
    prices.sort();
    assert_eq!(prices, ["$100", "$200", "$200"], "each in its row, and the one that counts in the last line");
    assert!(!says(&app, "worths do not add up"), "one change has no sum");
}

#[test]
fn a_refused_text_that_no_answer_rests_on_holds_nothing_up() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Price", "-3");
    type_into(&mut app, "Allowed velocity", "many");
    assert!(says(&app, "\"many\" is not a number"), "{:?}", texts(&app));
    assert!(!app.state().view().is_half_entered());
    assert!(says(&app, "With the change "), "{:?}", texts(&app));
    type_into(&mut app, "Duct size", "many");
    assert!(app.state().view().is_half_entered());
}

#[test]
fn half_a_size_is_asked_for_the_other_side() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Grille face", "14x");
    assert!(says(&app, "\"14x\" is half a size"), "{:?}", texts(&app));
}

#[test]
fn an_allowed_drop_or_velocity_is_answered_with_a_size() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Allowed velocity", "700");
    assert!(says(&app, "the next stock size over"), "{:?}", texts(&app));
    press(&mut app, "Put on: More filter area");
    type_into(&mut app, "Allowed drop", "0.05");
    assert!(says(&app, "in² or more"), "{:?}", texts(&app));
    type_into(&mut app, "Allowed drop", "99");
    assert!(says(&app, "Allowed drop cannot be"));
}

#[test]
fn a_slide_is_one_step_of_undo() {
    let mut app = app();
    press(&mut app, LOADING);
    let slider = app.get_by_label("Slide: factor on its drop").rect();
    drag(&mut app, slider.left_center() + Vec2::new(60.0, 0.0), slider.right_center() - Vec2::new(30.0, 0.0));
    let factor = |app: &App| match kinds(app)[..] {
        [ChangeKind::FilterLoading(FilterLoading { factor, .. })] => *factor,
        _ => panic!("{:?}", kinds(app)),
    };
    assert!(factor(&app) > 3.0, "{}", factor(&app));
    run(&mut app, Command::Undo.into());
    assert!((factor(&app) - 1.5).abs() < 1e-9, "{}", factor(&app));
}

#[test]
fn rows_are_moved_doubled_and_removed() {
    let mut app = app_in(demo::heat_pump(), Look { size: [1440.0, 1200.0], ..Look::default() });
    press(&mut app, SECOND_RETURN);
    press(&mut app, LOADING);
    press(&mut app, "Move up: Filter loading: filter");
    assert!(matches!(kinds(&app)[..], [ChangeKind::FilterLoading { .. }, ChangeKind::SecondReturn { .. }]));
    assert!(app.query_by_label("Duplicate: Second return").is_none(), "only the selected row has its buttons");
    select(&mut app, "Second return");
    press(&mut app, "Duplicate: Second return");
    assert_eq!(kinds(&app).len(), 3);
    app.get_by_label("On: Second return (2)");
    select(&mut app, "Filter loading: filter");
    press(&mut app, "Remove: Filter loading: filter");
    assert!(matches!(kinds(&app)[..], [ChangeKind::SecondReturn { .. }, ChangeKind::SecondReturn { .. }]));
}

#[test]
fn everything_in_every_editor_has_a_name() {
    let mut app = app();
    for declared in tapcross::model::change::kinds::tray() {
        let card = format!("Put on: {}", declared.name);
        window::open_palette(&mut app);
        if app.get_by_label(&card).accesskit_node().is_disabled() {
            continue;
        }
        press(&mut app, &card);
        let several = format!("{} on: ", declared.name);
        if let Some(on) = app.query_all_by_label_contains(&several).next() {
            on.click();
        }
        app.run_steps(4);
        if app.state().view().picker.is_some() {
            // Another machine: the first table that is found.
            app.key_press(Key::Enter);
            app.run_steps(4);
        }
        let mut nameless = Vec::new();
        for node in app.root().children_recursive() {
            let access = node.accesskit_node();
            let acts = matches!(
                access.role(),
                Role::Button | Role::TextInput | Role::CheckBox | Role::RadioButton | Role::ComboBox | Role::Slider
            );
            if acts && access.label().is_none_or(|label| label.trim().is_empty()) {
                nameless.push(format!("{:?} {:?}", access.role(), access.bounding_box()));
            }
        }
        assert!(nameless.is_empty(), "{}: {nameless:#?}", declared.name);
    }
    assert!(kinds(&app).iter().any(|kind| matches!(kind, ChangeKind::OtherMachine(_))), "{:?}", kinds(&app));
    assert!(kinds(&app).len() >= 13, "{:?}", kinds(&app));
}

/// The list of nine changes on the first demo: their titles in its order.
fn nine() -> (Job, Vec<String>) {
    let mut job = demo::heat_pump();
    let id = |kind| job.path.first(kind).unwrap().id;
    let places = [ElementKind::ReturnGrille, ElementKind::ReturnDuct, ElementKind::Filter, ElementKind::SupplyDuct];
    let places: Vec<_> = places.into_iter().map(id).collect();
    for element in places.iter().cycle().take(9).copied() {
        tapcross::edit::apply(&mut job, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element, fraction: 0.1 })))
            .unwrap();
    }
    let titles = job.changes.iter().map(|change| change.kind.title(&job)).collect();
    (job, titles)
}

/// Taps, and eight of nine changes at the usual size and four at the smallest, stand in sight without a scroll or a press.
#[test]
fn taps_and_most_of_nine_changes_are_in_sight_at_once() {
    for (size, least) in [([1440.0, 900.0], 8), ([1024.0, 700.0], 4)] {
        let (job, titles) = nine();
        let app = app_in(job, Look { size, ..Look::default() });
        let list_end = app.get_by_label("Together").rect().top();
        let rows: Vec<_> = app.query_all_by_label_contains("Edit: ").map(|node| node.rect()).collect();
        assert_eq!(rows.len(), titles.len());
        let seen = rows.iter().filter(|row| row.bottom() <= list_end + 0.5).count();
        assert!(seen >= least, "{size:?}: {seen} of {rows:?}, the list ends at {list_end}");
        for tap in ["1", "2", "3", "4", "5"] {
            let row = app.get_by_label_contains(&format!("tap {tap}: ")).rect();
            // Over the line of marks, and so not scrolled away.
            let end = app.get_by_role_and_label(Role::Heading, "Changes").rect().top() - 16.0;
            assert!(row.bottom() <= end && row.height() > 15.0, "{size:?}: tap {tap} at {row:?}, marks end at {end}");
        }
    }
}

/// The palette folds, and never takes more than a third of its panel; an editor takes its place and gives it back.
#[test]
fn the_palette_is_a_drawer_of_a_third_of_the_panel() {
    for size in [[1440.0, 900.0], [1024.0, 700.0]] {
        let mut app = app_in(demo::heat_pump(), Look { size, ..Look::default() });
        let panel = app.get_by_label("What it takes").rect().top()..size[1] - 8.0;
        let drawer = app.get_by_label("Changes to put on").rect().top();
        assert!(size[1] - 8.0 - drawer <= (panel.end - panel.start) / 3.0 + 1.0, "{size:?}: {drawer} of {panel:?}");
        app.get_by_label(SECOND_RETURN);
        press(&mut app, "Changes to put on");
        assert!(app.query_by_label(SECOND_RETURN).is_none(), "folded");
        press(&mut app, SECOND_RETURN);
        app.get_by_role_and_label(Role::TextInput, "Grille face");
        press(&mut app, "Close: Second return");
        assert!(app.query_by_label("Grille face").is_none());
    }
}

/// What cannot be put on says why in the palette itself, not only under the pointer.
#[test]
fn a_card_that_cannot_be_put_on_says_why_in_sight() {
    let app = app();
    assert!(app.get_by_label("Put on: Clean coil").accesskit_node().is_disabled());
    assert!(says(&app, "Not here: Clean coil, Seal the ducts: such a part is in the table"), "{:?}", texts(&app));
}

/// As the trade writes sizes and money.
#[test]
fn sizes_and_prices_stand_as_the_trade_writes_them() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Price", "1850");
    assert!(says(&app, "12 in. flex, 20 ft"), "{:?}", texts(&app));
    assert!(texts(&app).contains(&"$1,850".to_owned()), "{:?}", texts(&app));
    type_into(&mut app, "Duct size", "18x8");
    assert!(says(&app, "18x8"), "{:?}", texts(&app));
}

/// Only for eyes: `TAPCROSS_PICTURES=DIR` writes the states of the panel.
#[test]
fn the_panel_keeps_its_width_in_every_size_and_theme() {
    let folder = std::env::var_os("TAPCROSS_PICTURES").map(PathBuf::from);
    for (name, size, theme) in [
        ("changes-light", [1440.0, 900.0], Theme::Light),
        ("changes-dark", [1440.0, 900.0], Theme::Dark),
        ("changes-small-light", [1024.0, 700.0], Theme::Light),
        ("changes-small-dark", [1024.0, 700.0], Theme::Dark),
    ] {
        let mut app = app_in(demo::heat_pump(), Look { size, theme, pictured: folder.is_some(), ..Look::default() });
        press(&mut app, SECOND_RETURN);
        take_picture(&mut app, folder.as_ref(), &format!("{name}-return"));
        press(&mut app, "Close: Second return");
        press(&mut app, BY_DATA);
        if let Some(on) = app.query_by_label("New filter or coil on: Filter") {
            on.click();
            app.run_steps(4);
        }
        take_picture(&mut app, folder.as_ref(), name);
        press(&mut app, "Close: New filter or coil: filter");
        press(&mut app, "Put on: Other duct");
        take_picture(&mut app, folder.as_ref(), &format!("{name}-picked-up"));
        press(&mut app, "Other duct on: Supply duct");
        type_into(&mut app, "Allowed drop", "0.2");
        take_picture(&mut app, folder.as_ref(), &format!("{name}-duct"));
        let panel = heading_left(&app)..size[0] - 12.0;
        for node in app.root().children_recursive() {
            let access = node.accesskit_node();
            let Some(bounds) = access.bounding_box() else {
                continue;
            };
            let is_in_panel = bounds.x0 >= f64::from(panel.start) && bounds.y0 > 100.0;
            let fits = bounds.x1 <= f64::from(panel.end) + 1.0;
            assert!(!is_in_panel || fits, "{name}: {:?} reaches {}", access.label(), bounds.x1);
        }
    }
}

/// Left end of the panel of taps and changes.
fn heading_left(app: &App) -> f32 {
    app.get_by_role_and_label(Role::Heading, "Changes").rect().left()
}

fn take_picture(app: &mut App, folder: Option<&PathBuf>, name: &str) {
    let Some(folder) = folder else {
        return;
    };
    std::fs::create_dir_all(folder).unwrap();
    app.render().unwrap().save(folder.join(format!("{name}.png"))).unwrap();
}

/// What each brings after the others is less than alone, for the others have eased the path already; both stand in its row.
#[test]
fn each_change_says_what_it_brings_after_the_others() {
    let mut app = app();
    press(&mut app, SECOND_RETURN);
    assert_eq!(after_of(&app).after_others, [], "there are no others");
    let first = after(&app);
    press(&mut app, BY_DATA);
    let both = after(&app);
    press(&mut app, "On: Second return");
    let second = after(&app);
    press(&mut app, "On: Second return");
    let (units, cfm) = (tapcross::units::UnitSystem::InchPound, Airflow::from_cfm);
    for without in [second, first] {
        let said = tapcross::units::show::airflow_gained(cfm(without), cfm(both), units);
        assert!(texts(&app).contains(&said), "{said}: {:?}", texts(&app));
    }
}

/// The obvious comes first: the filter of the first demo is cleaned by one press, which is no kind of its own.
#[test]
fn fixes_begin_with_a_clean_filter_put_on_in_one_press() {
    let mut app = app();
    let cards: Vec<String> = texts(&app).into_iter().filter(|text| text.starts_with("Put on: ")).collect();
    assert_eq!(cards[..2], ["Put on: Clean filter".to_owned(), "Put on: Clean coil".to_owned()]);
    press(&mut app, "Put on: Clean filter");
    let [ChangeKind::CleanCoil(cleaned)] = kinds(&app)[..] else {
        panic!("{:?}", kinds(&app));
    };
    assert_eq!(app.state().job().path.element(cleaned.element).unwrap().kind, ElementKind::Filter);
    assert!(after(&app) > before(&app), "{} then {}", before(&app), after(&app));
    assert!(says(&app, "Clean: filter"), "{:?}", texts(&app));
    assert!(app.query_all_by_label_contains("Caution: Filter").count() >= 2, "in its editor and in the line");
    app.get_by_role_and_label(Role::TextInput, "Reduced by");
}

/// At 1,200 cfm a 16 in round run of 20 ft with ΣC 1 takes 0.046 of velocity pressure and some 0.01 of friction, a quarter of what the stretch's share says; a 12 in one takes 0.146 and 0.05, which is its share.
#[test]
fn another_duct_asks_where_its_own_sizes_and_its_share_disagree_by_more_than_half() {
    let mut app = app_in(demo::heat_pump(), Look { size: [1440.0, 1200.0], ..Look::default() });
    press(&mut app, "Put on: Other duct");
    press(&mut app, "Other duct on: Supply duct");
    assert!(says(&app, "? By its own sizes the supply duct takes 0.06 in. w.c."), "{:?}", texts(&app));
    type_into(&mut app, "Duct size now", "12");
    assert!(!says(&app, "By its own sizes"), "{:?}", texts(&app));
    type_into(&mut app, "Duct size now", "8");
    assert!(says(&app, "? By its own sizes the supply duct takes 1."), "{:?}", texts(&app));
}

/// A refused price says why in sight, under the field that stands last in its editor.
#[test]
fn why_a_price_is_refused_stands_in_sight() {
    let mut app = app_of(demo::gas_furnace());
    press(&mut app, SECOND_RETURN);
    type_into(&mut app, "Price", "-5");
    app.run_steps(12);
    let told = app.get_by_label_contains("A price of −5 cannot be").rect();
    let seen = app.ctx.content_rect();
    assert!(seen.shrink(8.0).contains_rect(told), "{told} of {seen}");
}
