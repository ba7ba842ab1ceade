//! What the window says stands whole: nothing over anything else, no row behind an edge, no figure without its caveat.

#[path = "support/many_sets.rs"]
mod many_sets;
#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::accesskit::Role;
use eframe::egui::epaint::text::PlacedRow;
use eframe::egui::{Pos2, Rect, Shape};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::change::{ByData, ChangeId, ChangeKind, LessByHand, OtherTap};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::theme;
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::{Airflow, Pressure};
use window::{App, Look, WIDE, app_in, app_of, press, run, says, sized, texts, type_into};

/// The usual window, the smallest that shows every panel, and one at twice the size of its type.
const SIZES: [[f32; 2]; 3] = [WIDE, [1024.0, 700.0], [512.0, 384.0]];

/// The uppermost of what bears a name.
fn uppermost(app: &App, name: &str) -> Rect {
    let rects = app.query_all_by_label_contains(name).map(|node| node.rect());
    rects.min_by(|one, other| one.top().total_cmp(&other.top())).unwrap()
}

fn less(job: &Job, kind: ElementKind) -> ChangeKind {
    ChangeKind::LessByHand(LessByHand { element: job.path.first(kind).unwrap().id, fraction: 0.3 })
}

#[test]
fn the_heads_buttons_stand_over_the_line_of_cautions() {
    let mut in_doubt = demo::heat_pump();
    apply(&mut in_doubt, Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(0.52)])).unwrap();
    for size in SIZES {
        for (job, button) in [(Job::default(), "Choose a blower"), (in_doubt.clone(), "It is meant so")] {
            let app = sized(job, size);
            let (button, line) = (uppermost(&app, button), uppermost(&app, "Caution: Drilling"));
            assert!(button.bottom() <= line.top() + 1.0, "at {size:?} the button is {button:?}, the line {line:?}");
        }
    }
}

#[test]
fn a_refused_reading_has_its_sentence_in_the_head() {
    let mut job = Job::default();
    let (library, _) = Library::shipped();
    let table = library.entries[library.search("48t")[0]].table.clone();
    apply(&mut job, Edit::Machine(Box::new(table))).unwrap();
    for size in [WIDE, [1024.0, 700.0]] {
        let mut app = sized(job.clone(), size);
        type_into(&mut app, "Static before the blower", "12");
        let head = uppermost(&app, "That value is not possible");
        assert!(head.left() < 13.0 && head.width() > 400.0, "{head:?} at {size:?}");
        // At its place it is said without its field's name where that has no room; a text that is cut off has under four points a letter.
        let mut at_foot = app.query_all_by_label_contains("! ").filter_map(|node| {
            let told = node.accesskit_node();
            Some((told.label().or_else(|| told.value())?, node.rect()))
        });
        let (said, rect) = at_foot.find(|(said, _)| said.starts_with("! ")).unwrap();
        assert!(said.contains("12") && said.contains(" cannot be; "), "{said}");
        assert!(rect.width() > 4.5 * said.chars().count() as f32, "{said}: {rect:?} at {size:?}");
    }
}

#[test]
fn every_tap_has_its_row_and_its_spread_beside_the_chart() {
    for size in [WIDE, [1024.0, 700.0], [1024.0, 768.0]] {
        for changes in [vec![], vec![ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() })]] {
            let mut app = sized(demo::heat_pump(), size);
            for change in changes {
                run(&mut app, Edit::AddChange(change).into());
            }
            let foot = app.get_by_role_and_label(Role::Heading, "Changes").rect().top();
            for tap in 1..=5 {
                let row = app.get_by_label_contains(&format!("tap {tap}: ")).rect();
                assert!(row.bottom() < foot, "tap {tap} at {row:?}, the changes at {foot}, in {size:?}");
            }
            // The legend has its own room under the last row.
            let (row, legend) =
                (app.get_by_label_contains("tap 5: ").rect(), app.get_by_label_contains("± is 95").rect());
            assert!(row.bottom() <= legend.top() + 1.0 && legend.bottom() <= foot + 1.0, "{row:?} {legend:?} {size:?}");
            assert!(texts(&app).iter().any(|text| text == "±"), "{size:?}");
        }
    }
}

#[test]
fn all_together_says_what_has_no_price_and_what_the_rooms_get() {
    let mut job = demo::heat_pump();
    let duct = job.path.first(ElementKind::SupplyDuct).unwrap().id;
    apply(&mut job, Edit::AddLeak(duct, 0.12)).unwrap();
    for kind in [ElementKind::ReturnDuct, ElementKind::SupplyDuct, ElementKind::ReturnGrille] {
        let change = less(&job, kind);
        apply(&mut job, Edit::AddChange(change)).unwrap();
    }
    apply(&mut job, Edit::ChangePrice(ChangeId(1), Some(45.0))).unwrap();
    for size in [WIDE, [1024.0, 700.0]] {
        let app = sized(job.clone(), size);
        let price = app.get_by_label("$45 + 2 unpriced").rect();
        let gain = app.get_by_label_contains("to the rooms +").rect();
        let name = app.get_by_label("Together").rect();
        assert!(name.right() < gain.left() && gain.right() < price.left(), "{name:?} {gain:?} {price:?}");
    }
}

#[test]
fn a_change_of_which_nothing_is_left_says_whole_why() {
    let mut job = demo::heat_pump();
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.1), 1.3).unwrap();
    for change in [less(&job, ElementKind::Filter), ChangeKind::ByData(ByData { element: filter, data })] {
        apply(&mut job, Edit::AddChange(change)).unwrap();
    }
    apply(&mut job, Edit::ChangePrice(ChangeId(1), Some(45.0))).unwrap();
    let app = app_of(job);
    app.get_by_label_contains(", does not count");
    let why = app.get_by_label_contains("is replaced by a new one after this").rect();
    assert!(why.height() > 25.0, "{why:?}");
}

#[test]
fn the_list_has_the_room_that_an_open_editor_leaves() {
    let mut app = sized(demo::heat_pump(), WIDE);
    for kind in [ElementKind::ReturnDuct, ElementKind::SupplyDuct, ElementKind::ReturnGrille, ElementKind::Filter] {
        let change = less(app.state().job(), kind);
        run(&mut app, Edit::AddChange(change).into());
    }
    let names: Vec<String> = texts(&app).into_iter().filter(|text| text.starts_with("Edit: ")).collect();
    press(&mut app, &names[0]);
    window::settle(&mut app);
    let together = app.get_by_label("Together").rect().top();
    let rows = app.query_all_by_label_contains("Edit: ").chain(app.query_all_by_label_contains("Close: "));
    let whole = rows.filter(|row| row.rect().bottom() <= together).count();
    assert_eq!(whole, 4, "rows over the line of all together at {together}");
}

#[test]
fn what_all_findings_hold_does_not_point_to_the_findings() {
    let mut app = app_of(demo::heat_pump());
    press(&mut app, "All findings and cautions");
    assert!(says(&app, "What the numbers say") || says(&app, "As found"));
    assert!(!says(&app, "the findings tell which"), "{:?}", texts(&app));
}

#[test]
fn no_part_takes_most_by_a_share_that_nobody_said() {
    let mut app = app_of(demo::heat_pump());
    let change = less(app.state().job(), ElementKind::Filter);
    run(&mut app, Edit::AddChange(change).into());
    let guessed: Vec<String> = texts(&app).into_iter().filter(|text| text.contains("by its share")).collect();
    assert!(guessed.iter().all(|text| !text.contains("more than any other")), "{guessed:?}");
}

#[test]
fn a_machines_long_name_leaves_the_call_in_sight() {
    let mut job = demo::heat_pump();
    if let Some(table) = job.machine.as_mut() {
        table.name = "long name ".repeat(200);
    }
    let app = app_of(job);
    let call = app.get_by_role_and_label(Role::Heading, "Call during the readings").rect();
    assert!(call.bottom() < WIDE[1] / 2.0, "{call:?}");
}

/// A display of this many pixels at a zoom in percent, in points.
fn at_zoom([width, height]: [f32; 2], percent: u16) -> [f32; 2] {
    let zoom = f32::from(percent) / 100.0;
    [(width / zoom).round(), (height / zoom).round()]
}

/// The bar on a projector: every word whole, on one line, over nothing else.
#[test]
fn bar_and_tabs_neither_overlap_nor_break_at_any_size_of_type() {
    let mut bad = Vec::new();
    for display in [[1024.0, 768.0], [1920.0, 1080.0], [1440.0, 900.0], [1024.0, 700.0]] {
        for percent in (100..=250).step_by(10) {
            let size = at_zoom(display, percent);
            let mut job = demo::heat_pump();
            job.title = "A job with a name that no bar has room for, however wide its window is".to_owned();
            let app = sized(job, size);
            let window = Rect::from_min_size(Pos2::ZERO, size.into());
            let first = app.get_by_role_and_label(Role::Button, "File").rect();
            let names = ["File", "Undo", "Redo", "Help", "cfm · in. w.c.", "View"];
            let buttons = names.iter().flat_map(|name| app.query_all_by_label(name));
            let tabs = app.query_all_by_label_contains("Part ");
            let places: Vec<(String, Rect)> = buttons
                .chain(tabs)
                .map(|node| (node.accesskit_node().label().unwrap_or_default(), node.rect()))
                .filter(|(_, rect)| rect.top() < first.bottom() + 60.0)
                .collect();
            assert!(places.len() >= 5, "{places:?}");
            for (index, (name, rect)) in places.iter().enumerate() {
                let over = places[index + 1..].iter().find(|(_, other)| rect.shrink(0.5).intersects(*other));
                if let Some((other, _)) = over {
                    bad.push(format!("{name} over {other} at {size:?}"));
                }
                // A word on two lines is taller than a finger is wide.
                if rect.height() > theme::FINGER + 1.0 || !window.contains_rect(*rect) {
                    bad.push(format!("{name} is {rect:?} at {size:?}"));
                }
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

#[test]
fn the_table_editor_shows_every_column_at_twice_the_size_of_type() {
    for (size, scale) in [([512.0, 350.0], 2.0), ([720.0, 450.0], 2.0), ([1024.0, 700.0], 1.0)] {
        let mut app = app_in(demo::heat_pump(), Look { size, scale, ..Look::default() });
        run(&mut app, Command::EditTable.into());
        let window = Rect::from_min_size(Pos2::ZERO, size.into());
        let mut columns: Vec<Rect> = vec![app.get_by_label("Static pressure of row 1").rect()];
        columns.extend((1..=5).map(|tap| app.get_by_label_contains(&format!("Airflow of {tap}, row 1,")).rect()));
        let names = (1..=5).map(|column| app.get_by_label(&format!("Name of column {column}")).rect());
        for place in names.chain(columns.iter().copied()) {
            assert!(window.shrink(8.0).contains_rect(place), "{place:?} at {size:?}");
        }
        assert!(columns.windows(2).all(|pair| pair[0].right() <= pair[1].left()), "{columns:?}");
        // Rows enough to see where one types.
        let rows = app.query_all_by_label_contains("Airflow of 1, row ").map(|node| node.rect());
        let seen = rows.filter(|row| row.is_positive() && window.contains_rect(*row)).count();
        let foot = app.get_by_label("Use in this job").rect();
        assert!(seen >= 3 && window.contains_rect(foot), "{seen} rows, {foot:?} at {size:?}");
    }
}

/// Whoever slides a change in a narrow window sees the curve follow.
#[test]
fn a_changes_slider_and_the_chart_are_seen_together_in_a_narrow_window() {
    for size in [[720.0, 450.0], [683.0, 512.0], [512.0, 384.0], [512.0, 350.0], [768.0, 432.0], [410.0, 307.0]] {
        let mut job = demo::heat_pump();
        let change = less(&job, ElementKind::SupplyDuct);
        apply(&mut job, Edit::AddChange(change)).unwrap();
        let mut app = sized(job, size);
        press(&mut app, "Part Changes, taps");
        let row = texts(&app).into_iter().find(|text| text.starts_with("Edit: ")).unwrap();
        app.get_by_label(&row).scroll_to_me();
        app.run_steps(20);
        press(&mut app, &row);
        let slider = app.get_by_label_contains("Slide: ");
        slider.scroll_to_me();
        app.run_steps(20);
        let slider = app.get_by_label_contains("Slide: ").rect();
        let chart = app.query_by_role(Role::GraphicsDocument).map(|node| node.rect());
        let chart = chart.unwrap_or_else(|| panic!("no chart at {size:?}"));
        let window = Rect::from_min_size(Pos2::ZERO, size.into());
        assert!(window.contains_rect(chart) && window.contains_rect(slider), "{chart:?} {slider:?} at {size:?}");
        assert!(chart.width() > 120.0 && chart.height() > 60.0, "{chart:?} at {size:?}");
        assert!(!chart.intersects(slider) && slider.width() > 60.0, "{chart:?} {slider:?} at {size:?}");
    }
}

/// "Do not heat" alone does not say how long.
#[test]
fn what_must_not_be_heated_says_why_and_how_long_wherever_it_stands() {
    // Tap 1 of a 10 kW air handler moves 925 cfm where the heat needs 1,100.
    let mut job = demo::heat_pump();
    let read = |port, value| Edit::Reading(ReadAt::Port(port), vec![Pressure::from_in_wc(value)]);
    for edit in [
        Edit::Call(Call::HeatingHigh),
        Edit::Tap(Some("1".to_owned())),
        read(RETURN_PORT, -0.30),
        read(SUPPLY_PORT, 0.20),
    ] {
        apply(&mut job, edit).unwrap();
    }
    for size in [WIDE, [1024.0, 700.0], [720.0, 450.0], [512.0, 384.0], [410.0, 307.0]] {
        let mut app = sized(job.clone(), size);
        let caution = app.query_all_by_label_contains("Caution: Do not heat").next().expect("it is too hot");
        let node = caution.accesskit_node();
        let spoken = node.label().or_else(|| node.value()).unwrap_or_default();
        // The word before the first period is the least that ever stands there.
        assert!(spoken.starts_with("Caution: Do not heat, too little air. Too little air"), "{spoken}");
        assert!(spoken.contains("until that is mended"), "{spoken}");
        let place = app.query_all_by_label_contains("Caution: Do not heat").next().unwrap().rect();
        app.hover_at(place.center());
        app.run_steps(60);
        let told = texts(&app).iter().filter(|text| text.contains("the exchanger can crack")).count();
        assert!(told >= 2, "the tooltip says the rest at {size:?}");
    }
}

/// Where the table has not room for every tap it ends with a whole row.
#[test]
fn no_row_of_the_table_of_taps_is_cut_through() {
    for size in [[1029.0, 643.0], [1024.0, 600.0], [1024.0, 620.0], [1100.0, 660.0], [1200.0, 590.0], WIDE] {
        for job in [demo::heat_pump(), nine_changes::job()] {
            let app = sized(job, size);
            let first = app.get_by_label_contains("tap 1: ").rect();
            let row = app.get_by_label_contains("tap 2: ").rect().top() - first.top();
            let end = app.get_by_label_contains("± is 95").rect().top();
            let rows = (end - first.top()) / row;
            assert!((rows - rows.round()).abs() * row <= 6.0, "{rows} rows at {size:?}");
            let head = app.get_by_role_and_label(Role::Heading, "Changes").rect();
            let under = app.query_all_by_label_contains("Edit: ").map(|node| node.rect()).next();
            assert!(under.is_none_or(|first| first.top() >= head.bottom() - 1.0), "{under:?} under {head:?}");
        }
    }
}

/// In the usual window the whole palette is seen, without a scroll.
#[test]
fn every_card_of_the_palette_is_in_sight() {
    let app = sized(demo::heat_pump(), WIDE);
    let cards: Vec<Rect> = app.query_all_by_label_contains("Put on: ").map(|node| node.rect()).collect();
    assert!(cards.len() >= 18, "{}", cards.len());
    let end = WIDE[1] - 8.0;
    assert!(cards.iter().all(|card| card.bottom() <= end + 0.5), "{cards:?} end at {end}");
}

/// A message never lies over the line of hints at the foot.
#[test]
fn messages_stand_over_the_line_of_hints() {
    for size in [[880.0, 700.0], [800.0, 600.0], [720.0, 450.0]] {
        let mut app = sized(demo::heat_pump(), size);
        run(&mut app, Command::CopyResults.into());
        app.get_by_role_and_label(Role::Button, "File").focus();
        app.run_steps(4);
        let hint = app.query_by(|node| node.role() == Role::Status).unwrap().rect();
        let close = app.get_by_label("Close").rect();
        assert!(hint.top() > size[1] - 30.0, "the hint is at the foot: {hint:?}");
        assert!(close.bottom() < hint.top(), "{close:?} over {hint:?} at {size:?}");
    }
}

/// Texts as they are drawn: whole, and row by row.
fn drawn(app: &App) -> Vec<(String, Vec<String>)> {
    fn of(shape: &Shape, told: &mut Vec<(String, Vec<String>)>) {
        match shape {
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| of(shape, told)),
            Shape::Text(text) => {
                let row = |row: &PlacedRow| format!("{}{}", row.text(), if row.ends_with_newline { "\n" } else { "" });
                let rows = text.galley.rows.iter().map(row).collect();
                told.push((text.galley.text().to_owned(), rows));
            }
            _ => {}
        }
    }
    let mut told = Vec::new();
    app.output().shapes.iter().for_each(|clipped| of(&clipped.shape, &mut told));
    told
}

fn visits() -> [Job; 3] {
    [demo::heat_pump(), many_sets::job(), nine_changes::job()]
}

/// A number is read in one glance: neither its ± nor its last figure stands on another line.
#[test]
fn no_line_ends_within_a_number_or_after_its_plus_minus() {
    for size in [WIDE, [1024.0, 700.0], [512.0, 384.0]] {
        for job in visits() {
            for part in ["Part Job", "Part Chart", "Part Changes, taps"] {
                let mut app = sized(job.clone(), size);
                if app.query_by_label(part).is_some() {
                    press(&mut app, part);
                }
                for (_, rows) in drawn(&app) {
                    for pair in rows.windows(2) {
                        let (end, begin) = (pair[0].chars().last(), pair[1].chars().next());
                        let is_figure = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
                        let is_split = is_figure(end) && is_figure(begin);
                        assert!(!is_split && !pair[0].trim_end_matches(' ').ends_with('±'), "{rows:?} at {size:?}");
                    }
                }
            }
        }
    }
}

/// The key at the chart's foot is never cut.
#[test]
fn the_key_at_the_charts_foot_stands_whole() {
    for size in [WIDE, [1024.0, 700.0], [960.0, 600.0], [512.0, 384.0]] {
        for job in [demo::gas_furnace(), nine_changes::job()] {
            let app = sized(job, size);
            let all = drawn(&app);
            let (text, rows) = all.iter().find(|(text, _)| text.contains("dashed: extrapolated")).unwrap();
            assert_eq!(*text, rows.concat(), "at {size:?}");
        }
    }
}

/// What every ± means stands under the table, however many marks have to be said.
#[test]
fn the_tables_key_says_what_plus_minus_means() {
    for size in [WIDE, [1024.0, 700.0], [1029.0, 643.0], [1100.0, 660.0]] {
        for machine in [None, Some("ah-48t")] {
            let mut app = sized(nine_changes::job(), size);
            if let Some(name) = machine {
                let (library, _) = Library::shipped();
                let table = library.entries[library.search(name)[0]].table.clone();
                run(&mut app, Action::PickMachine(None));
                run(&mut app, Action::UseTable(Box::new(table)));
            }
            let shown: Vec<String> = drawn(&app).into_iter().map(|(_, rows)| rows.concat()).collect();
            assert!(shown.iter().any(|text| text.contains("± is 95")), "{machine:?} at {size:?}: {shown:?}");
        }
    }
}

/// Whoever compares readings reads their names.
#[test]
fn names_of_the_visits_readings_are_not_cut() {
    for size in [WIDE, [1100.0, 800.0]] {
        let app = sized(many_sets::job(), size);
        let shown: Vec<(String, Vec<String>)> =
            drawn(&app).into_iter().filter(|(text, _)| text.starts_with("3 Filter")).collect();
        assert!(
            !shown.is_empty() && shown.iter().all(|(_, rows)| !rows.concat().contains('…')),
            "{shown:?} at {size:?}"
        );
    }
}

fn plot(app: &App) -> Rect {
    app.get_by_role(Role::GraphicsDocument).rect()
}

/// The legend takes nothing of a chart that has nothing to spare, and all of it is in sight.
#[test]
fn the_legend_leaves_the_chart_its_height() {
    for size in [[1024.0, 700.0], [1029.0, 643.0], [1024.0, 768.0], [1200.0, 700.0]] {
        let mut app = sized(demo::heat_pump(), size);
        let change = less(app.state().job(), ElementKind::Filter);
        run(&mut app, Edit::AddChange(change).into());
        let before = plot(&app);
        run(&mut app, Command::Legend.into());
        let after = plot(&app);
        assert!((before.min - after.min).length() + (before.max - after.max).length() < 0.5, "{before:?} {after:?}");
        assert!(size[1] < 700.0 || after.height() >= 200.0, "{after:?} at {size:?}");
        let window = Rect::from_min_size(Pos2::ZERO, size.into());
        let marks: Vec<Rect> = app.get_all_by_role(Role::ListItem).map(|node| node.rect()).collect();
        assert!(marks.len() > 8 && marks.iter().all(|mark| window.contains_rect(*mark)), "{marks:?} at {size:?}");
    }
}

/// The palette leaves the list at least one row, whole.
#[test]
fn an_open_palette_leaves_a_whole_row_of_the_list() {
    for size in [[1024.0, 700.0], [1024.0, 768.0], [1100.0, 660.0], WIDE] {
        let mut app = sized(demo::heat_pump(), size);
        let change = less(app.state().job(), ElementKind::Filter);
        run(&mut app, Edit::AddChange(change).into());
        window::open_palette(&mut app);
        let row = app.get_by_label_contains("Edit: ").rect();
        let (head, together) =
            (app.get_by_role_and_label(Role::Heading, "Changes").rect(), app.get_by_label("Together").rect());
        assert!(
            head.bottom() <= row.top() + 4.0 && row.bottom() <= together.top() + 1.0,
            "{row:?} {together:?} {size:?}"
        );
    }
}

/// The list beside an open editor ends with a whole row, however low the window.
#[test]
fn an_open_editor_leaves_a_whole_row_of_the_list() {
    for size in [[1024.0, 700.0], [1029.0, 643.0], [1024.0, 640.0]] {
        let mut app = sized(nine_changes::job(), size);
        window::select(&mut app, "Clean: filter");
        let row = app.get_by_label("Close: Clean: filter").rect();
        let together = app.get_by_label("Together").rect();
        assert!(row.bottom() <= together.top() + 1.0, "{row:?} {together:?} at {size:?}");
    }
}

/// The grip of the path's curve lies over no label and no mark.
#[test]
fn the_grip_lies_over_nothing() {
    for display in [[1440.0, 900.0], [1024.0, 700.0]] {
        for percent in [100, 150, 200, 225] {
            let size = at_zoom(display, percent);
            for job in visits() {
                let mut app = sized(job, size);
                if app.query_by_label("Part Chart").is_some() {
                    press(&mut app, "Part Chart");
                }
                let Some(grip) = app.query_by_label_contains("How easy the path must become") else { continue };
                let grip = Rect::from_center_size(grip.rect().center(), [14.0, 14.0].into());
                let within = plot(&app);
                let labels = app.query_all_by_role(Role::Label).filter(|node| within.intersects(node.rect()));
                for label in labels {
                    let told = label.accesskit_node();
                    let said = told.label().or_else(|| told.value()).unwrap_or_default();
                    assert!(!label.rect().intersects(grip), "{said} {:?} under {grip:?} at {size:?}", label.rect());
                }
            }
        }
    }
}

/// A message stands where nothing is read or typed: beside the job's name, over neither the head nor the line of hints.
#[test]
fn messages_lie_over_nothing_that_is_read() {
    for size in [WIDE, [1100.0, 700.0], [1280.0, 720.0], [1024.0, 700.0]] {
        let mut app = sized(demo::heat_pump(), size);
        run(&mut app, Command::CopyResults.into());
        app.get_by_role_and_label(Role::Button, "File").focus();
        app.run_steps(4);
        let close = app.get_by_label("Close").rect();
        let head = app.get_by_label_contains("Verdict: ").rect();
        assert!(close.bottom() < head.top(), "{close:?} over {head:?} at {size:?}");
        let read: Vec<Rect> = ["Undo", "Redo", "Help", "View", "cfm · in. w.c."]
            .iter()
            .map(|name| app.get_by_label(name).rect())
            .collect();
        let message = app.get_by_label_contains("on the clipboard").rect().union(close);
        assert!(read.iter().all(|rect| !rect.intersects(message)), "{message:?} over {read:?} at {size:?}");
        let hint = app.query_by(|node| node.role() == Role::Status).map(|node| node.rect());
        assert!(hint.is_none_or(|hint| !hint.intersects(message)), "{message:?} over {hint:?} at {size:?}");
    }
}
