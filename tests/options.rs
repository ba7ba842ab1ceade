//! Options for a customer: named sets of changes, kept apart, worked out whole, and compared.

#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/three_options.rs"]
mod three_options;

use tapcross::edit::{self, Edit, OptionEdit};
use tapcross::files::{demo, job_file};
use tapcross::history::History;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::change::{ChangeId, ChangeKind, LessByHand, OtherMachine, OtherTap, Replacement, Switch};
use tapcross::model::facts::costs::Costs;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_check::{Field, Problem};
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::target::{CallTarget, Target};
use tapcross::model::search;
use tapcross::model::side_by_side::{self, Column, columns};
use tapcross::model::wording::{options, paper, prices};
use tapcross::report::json::Report;
use tapcross::units::{Airflow, HeatRate, Pressure, TemperatureRise, UnitSystem};

fn with(mut job: Job, edits: impl IntoIterator<Item = Edit>) -> Job {
    for one in edits {
        edit::apply(&mut job, one).unwrap();
    }
    job
}

const fn option(edit: OptionEdit) -> Edit {
    Edit::Option(edit)
}

/// A fraction less of the filter.
fn less(job: &Job, fraction: f64) -> ChangeKind {
    let element = job.path.first(ElementKind::Filter).unwrap().id;
    ChangeKind::LessByHand(LessByHand { element, fraction })
}

/// The furnace with a half and a whole of its filter taken out, each for its price, the second worked on.
fn two() -> Job {
    let job = demo::gas_furnace();
    let (half, whole) = (less(&job, 0.5), less(&job, 0.9));
    with(
        job,
        [
            Edit::AddChange(half),
            Edit::ChangePrice(ChangeId(1), Some(200.0)),
            option(OptionEdit::Name("Filter".to_owned())),
            option(OptionEdit::Copy),
            Edit::ReplaceChange(ChangeId(1), whole),
            Edit::ChangePrice(ChangeId(1), Some(500.0)),
            option(OptionEdit::Reason("Reaches the target".to_owned())),
        ],
    )
}

/// Copying an option and changing one thing in it is two actions, and leaves the first as it was.
#[test]
fn an_option_that_is_copied_and_changed_leaves_the_first_alone() {
    let job = two();
    let all = job.all_options();
    assert_eq!((job.options.count(), job.options.index()), (2, 1));
    assert_eq!([all[0].about.called(0), all[1].about.called(1)], ["Filter", "Option 2"]);
    assert_eq!(all[0].changes[0].kind, less(&job, 0.5));
    assert_eq!(all[1].changes[0].kind, less(&job, 0.9));
    assert_eq!(job.changes, all[1].changes);
    assert_eq!((all[0].about.reason.as_str(), all[1].about.reason.as_str()), ("", "Reaches the target"));
    // What an option says is what the job says with those changes alone.
    let alone = with(demo::gas_furnace(), [Edit::AddChange(less(&job, 0.5))]);
    let first = Answer::of(&with(job.clone(), [option(OptionEdit::Show(0))]));
    assert_eq!(first.with_changes().unwrap().system, Answer::of(&alone).with_changes().unwrap().system);
    // Shown and shown again it is the same job.
    assert_eq!(with(job.clone(), [option(OptionEdit::Show(0)), option(OptionEdit::Show(1))]), job);
}

/// Looking at another option is nothing to save and nothing to take back; what is typed is.
#[test]
fn looking_at_another_option_is_no_edit() {
    let mut history = History::of_saved(two());
    history.apply(option(OptionEdit::Show(0))).unwrap();
    assert!(!history.is_changed() && history.undo_label().is_none());
    assert_eq!(history.job().options.index(), 0);
    history.apply(option(OptionEdit::Name("Filter only".to_owned()))).unwrap();
    assert!(history.is_changed());
    assert_eq!(history.undo_label(), Some("name of the option"));
    history.undo();
    history.apply(option(OptionEdit::Show(1))).unwrap();
    assert!(!history.is_changed());
    assert_eq!(*history.job(), two());
}

/// A file may leave names out: to look at such an option gives it none, and what is taken away before it leaves it its number.
#[test]
fn an_option_without_a_name_is_looked_at_as_it_is() {
    let text = job_file::write(&two()).replace("name: \"Filter\", ", "").replace("name: \"Filter\",", "");
    let job = job_file::parse(&text).unwrap();
    assert_eq!(job.all_options()[0].about.name, "");
    let mut history = History::of_saved(job.clone());
    for index in [0, 1] {
        history.apply(option(OptionEdit::Show(index))).unwrap();
        assert!(!history.is_changed() && history.undo_label().is_none());
    }
    assert_eq!(*history.job(), job);
}

#[test]
fn options_come_back_from_their_file_with_the_machines_of_each() {
    let mut job = two();
    let (library, _) = tapcross::files::library::Library::shipped();
    for (name, index) in [("ah-42t", 0), ("gf-80p", 1)] {
        let table = library.entries[library.search(name)[0]].table.clone();
        let other: OtherMachine =
            Box::new(Replacement { table, tap: None, leaves: Vec::new(), coil: None, filter: None, target: None });
        job = with(job, [option(OptionEdit::Show(index)), Edit::AddChange(ChangeKind::OtherMachine(other))]);
    }
    for shown in 0..2 {
        let job = job.with_option(shown).unwrap();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("options.ron");
        job_file::save(&path, &job).unwrap();
        assert_eq!(job_file::read(&path).unwrap(), job);
        let text = std::fs::read_to_string(&path).unwrap();
        assert!(text.contains(&format!("shown: {},", shown + 1)), "{text}");
        assert!(!text.contains("\n    changes:"), "{text}");
    }
    // Of a job without a word of options the file says nothing of them.
    let plain = job_file::write(&nine_changes::job());
    assert!(!plain.contains("option") && plain.contains("\n    changes:"), "{plain}");
}

#[test]
fn what_cannot_be_is_refused_in_words() {
    let refused =
        |job: &Job, edit| edit::check(job, &option(edit)).unwrap_err().sentence(tapcross::units::UnitSystem::InchPound);
    let one = demo::gas_furnace();
    assert_eq!(refused(&one, OptionEdit::Remove(0)), "The only option stays; take its changes away instead");
    assert_eq!(refused(&two(), OptionEdit::Show(2)), "There is no option 3; they are numbered from 1 to 2");
    assert_eq!(refused(&two(), OptionEdit::Remove(7)), "There is no option 8; they are numbered from 1 to 2");
    let six = with(two(), (0..4).map(|_| option(OptionEdit::Copy)));
    let told = refused(&six, OptionEdit::Copy);
    assert!(told.contains('7') && told.contains("options") && told.contains('6'), "{told}");
    let text = job_file::write(&two());
    let both = text.replace("    options:", "    changes: [(id: 1, what: OtherTap(tap: \"2\"))],\n    options:");
    let told = job_file::parse(&both).unwrap_err().to_string();
    assert_eq!(told, "Job: the same is given twice, as changes and options; one of them has to go");
    let told = job_file::parse(&text.replace("shown: 2", "shown: 0")).unwrap_err().to_string();
    assert!(told.contains("numbered from 1 to 2"), "{told}");
}

/// Nobody who was told of option 3 finds another under that number.
#[test]
fn an_option_keeps_its_number_when_one_before_it_goes() {
    let names = |job: &Job| job.all_options().into_iter().map(|option| option.about.name).collect::<Vec<_>>();
    let three = with(demo::gas_furnace(), (0..2).map(|_| option(OptionEdit::Copy)));
    assert_eq!(names(&three), ["Option 1", "Option 2", "Option 3"]);
    let two = with(three, [option(OptionEdit::Remove(1))]);
    assert_eq!(names(&two), ["Option 1", "Option 3"]);
    let again = with(two, [option(OptionEdit::Copy)]);
    assert!(names(&again).contains(&"Option 4".to_owned()) || names(&again).contains(&"Option 2".to_owned()));
    let all = names(&again);
    assert_eq!(all.iter().collect::<std::collections::BTreeSet<_>>().len(), 3, "{all:?}");
}

#[test]
fn the_one_before_is_worked_on_where_the_shown_one_goes() {
    let six = with(two(), (0..4).map(|_| option(OptionEdit::Copy)));
    assert_eq!(six.options.index(), 5);
    let five = with(six.clone(), [option(OptionEdit::Remove(5))]);
    assert_eq!((five.options.count(), five.options.index()), (5, 4));
    let before = with(five, [option(OptionEdit::Remove(0))]);
    assert_eq!((before.options.count(), before.options.index()), (4, 3));
    let first = with(six, [option(OptionEdit::Show(0)), option(OptionEdit::Remove(0))]);
    assert_eq!((first.options.index(), first.changes[0].kind.clone()), (0, less(&two(), 0.9)));
}

/// The found cheapest sets become options in one step, each with its fixes on and the others off.
#[test]
fn found_sets_become_options_in_one() {
    let job = nine_changes::job();
    let best = search::to_the_end(&job).best;
    let sets: Vec<_> = best.iter().take(3).map(|set| set.changes.clone()).collect();
    assert!(!sets.is_empty());
    let then = with(job.clone(), [option(OptionEdit::Take(sets.clone()))]);
    assert_eq!((then.options.count(), then.options.index()), (1 + sets.len(), 1));
    for (on, made) in sets.iter().zip(then.all_options().iter().skip(1)) {
        for change in &made.changes {
            assert_eq!(change.switch == Switch::On, on.contains(&change.id), "{:?}", change.id);
        }
    }
    assert_eq!(then.all_options()[0].changes, job.changes);
}

/// By hand: 200 for a gain of g cfm is 200/g a cfm; 365 W for 2,000 h is 730 kWh, at 0.15 each 109.50; 7 % of tax on 200 makes 214.
#[test]
fn an_option_is_told_with_its_price_its_energy_and_what_a_cfm_costs() {
    let job = with(
        two(),
        [
            Edit::Number(JobNumber::FanHours, Some(2_000.0)),
            Edit::Number(JobNumber::EnergyPrice, Some(0.15)),
            Edit::Number(JobNumber::Tax, Some(0.07)),
        ],
    );
    let compared = columns(&job, &Answer::of(&job), Answer::of);
    assert_eq!(compared.iter().map(Column::called).collect::<Vec<_>>(), ["Filter", "Option 2"]);
    for (column, price) in compared.iter().zip([200.0, 500.0]) {
        assert_eq!(column.price(), Some((price, 0)));
        assert!((column.price_with_tax().unwrap() - 1.07 * price).abs() < 1e-9);
        let watts = column.point().unwrap().power.unwrap().watts();
        assert!((column.energy().unwrap() - 2.0 * watts).abs() < 1e-9);
        assert!((column.energy_cost().unwrap() - 0.30 * watts).abs() < 1e-9);
        let gain = column.gain().unwrap().0.least;
        assert!(gain > Airflow::ZERO);
        assert!((column.price_per_airflow().unwrap() - price / gain.cfm()).abs() < 1e-9);
    }
    let gains: Vec<_> = compared.iter().map(|column| column.gain().unwrap().0.least).collect();
    assert!(gains[1] > gains[0], "more out, more air: {gains:?}");
    // Without a price, or without a gain that can be told, nothing is said of what a cfm costs.
    let unpriced = with(job.clone(), [Edit::ChangePrice(ChangeId(1), None)]);
    assert_eq!(columns(&unpriced, &Answer::of(&unpriced), Answer::of)[1].price_per_airflow(), None);
    let little = with(job, [Edit::ReplaceChange(ChangeId(1), less(&two(), 0.001))]);
    assert_eq!(columns(&little, &Answer::of(&little), Answer::of)[1].price_per_airflow(), None);
}

/// By hand: 500 of which 200 are labour, at 7 % on material and 20 % on labour: 300 × 1.07 + 200 × 1.2 = 561.
#[test]
fn labour_and_material_are_told_apart_each_with_its_tax() {
    let numbers = [Edit::Number(JobNumber::Tax, Some(0.07)), Edit::Number(JobNumber::LabourTax, Some(0.2))];
    let job = with(two(), numbers);
    let job = with(job, [Edit::ChangeLabour(ChangeId(1), Some(200.0)), Edit::Currency("EUR".to_owned())]);
    let compared = columns(&job, &Answer::of(&job), Answer::of);
    let [whole, apart] = &compared[..] else { panic!("two options") };
    assert_eq!((whole.labour(), whole.material()), (None, None), "nobody says what of the first is labour");
    assert!((whole.price_with_tax().unwrap() - 214.0).abs() < 1e-9);
    assert_eq!((apart.labour(), apart.material()), (Some(200.0), Some(300.0)));
    assert!((apart.price_with_tax().unwrap() - 561.0).abs() < 1e-9);
    let found = side_by_side::found(&job, Answer::of);
    let rows = options::rows(&found, &compared, UnitSystem::InchPound);
    let told = |name: &str| rows.iter().find(|row| row.name == name).unwrap().cells.clone();
    assert_eq!(told("Labour and material"), ["–", "–", "200\u{a0}EUR + 300\u{a0}EUR"]);
    assert_eq!(told("Price with tax (7 %, labour 20 %)"), ["–", "214\u{a0}EUR", "561\u{a0}EUR"]);
    let report = serde_json::to_value(Report::of("a", &job, &Answer::of(&job), search::to_the_end(&job))).unwrap();
    assert_eq!(report["options"][1]["labour"], 200.0);
    assert_eq!(report["options"][1]["material"], 300.0);
    assert_eq!((&report["changes"][0]["labour"], &report["job"]["currency"]), (&200.0.into(), &"EUR".into()));
}

#[test]
fn labour_is_never_more_than_its_price() {
    let job = with(two(), [Edit::ChangeLabour(ChangeId(1), Some(200.0))]);
    let mut then = job.clone();
    let refused = edit::apply(&mut then, Edit::ChangeLabour(ChangeId(1), Some(500.5))).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "Option 2: Change 1: Labour is a part of the price and cannot be more than it; type the price first"
    );
    assert_eq!(then, job);
    let less = with(job.clone(), [Edit::ChangePrice(ChangeId(1), Some(150.0))]);
    assert_eq!((less.changes[0].price, less.changes[0].labour), (Some(150.0), None));
    let more = with(job, [Edit::ChangePrice(ChangeId(1), Some(900.0))]);
    assert_eq!(more.changes[0].labour, Some(200.0));
}

/// Every call that has a target is told: heating beside the cooling that was read.
#[test]
fn an_option_is_told_in_every_call_that_has_a_target() {
    let heat = Target::HeatRise { output: HeatRate::from_btuh(64_000.0), rise: TemperatureRise::from_f(50.0) };
    let job = with(two(), [Edit::TargetOf(Call::HeatingHigh, Some(heat))]);
    for column in columns(&job, &Answer::of(&job), Answer::of) {
        let points = column.points();
        assert_eq!(points.iter().map(|(call, _)| *call).collect::<Vec<_>>(), [Call::CoolingHigh, Call::HeatingHigh]);
        let share = |at: usize| points[at].1.and_then(|point| point.of_target).unwrap();
        assert!(share(0) > 0.9 && share(0) < 1.1 && share(1) > 0.8, "{} and {}", share(0), share(1));
        // Two calls are two figures: the coil is dry in heating.
        assert!((share(0) - share(1)).abs() > 1e-3);
    }
}

/// A last day of prices that never was, or lies before the job's own date, is asked about: a customer reads it on paper.
#[test]
fn a_day_that_never_was_and_an_offer_that_has_run_out_are_asked_about() {
    let asked = |date: &str, until: &str| {
        let job = with(demo::gas_furnace(), [Edit::Date(date.to_owned()), Edit::ValidUntil(until.to_owned())]);
        let problems = Answer::of(&job).problems.into_iter();
        let told = |problem: Problem| (problem.field, problem.what.sentence(UnitSystem::InchPound));
        problems.map(told).filter(|(field, _)| [Field::Date, Field::ValidUntil].contains(field)).collect::<Vec<_>>()
    };
    for (date, until, field, begin) in [
        ("2026-08-05", "2026-02-30", Field::ValidUntil, "2026-02-30 is no day of the calendar"),
        ("2026-02-31", "2026-12-31", Field::Date, "2026-02-31 is no day of the calendar"),
        (
            "2026-08-05",
            "2020-01-01",
            Field::ValidUntil,
            "Prices hold until 2020-01-01, before the job's own date of 2026-08-05: an offer that has run out",
        ),
    ] {
        let told = asked(date, until);
        assert!(told.len() == 1 && told[0].0 == field && told[0].1.starts_with(begin), "{told:?}");
    }
    // What never was is no promise to a customer either; words are.
    let printed = |until: &str| {
        paper::prices_hold(&Costs { valid_until: until.to_owned(), ..Costs::default() }).unwrap_or_default()
    };
    assert_eq!(printed("2026-02-30"), "");
    assert_eq!(printed("end of March"), "Prices hold until end of March.");
    assert_eq!(printed("2026-03-30"), "Prices hold until 2026-03-30.");
    for (date, until) in [("2026-08-05", "2026-08-05"), ("2026-08-05", ""), ("", "2020-01-01"), ("Monday", "Friday")] {
        assert_eq!(asked(date, until), Vec::new(), "{date} and {until}");
    }
}

/// The rates stand beside the price with tax, and what is counted before it says so.
#[test]
fn prices_with_tax_name_their_rates() {
    let names = |tax: Option<f64>, labour: Option<f64>| {
        let numbers = [(JobNumber::Tax, tax), (JobNumber::LabourTax, labour)];
        let job = with(two(), numbers.map(|(number, value)| Edit::Number(number, value)));
        let columns = columns(&job, &Answer::of(&job), Answer::of);
        let rows = options::rows(&side_by_side::found(&job, Answer::of), &columns, UnitSystem::InchPound);
        rows.into_iter().map(|row| row.name).filter(|name| name.contains("tax") || name.contains("gained")).collect()
    };
    let told: Vec<String> = names(Some(0.07), Some(0.0));
    assert_eq!(told, ["Price with tax (7 %, labour 0 %)", "Price of a cfm gained, before tax"]);
    let told: Vec<String> = names(Some(0.0825), None);
    assert_eq!(told, ["Price with tax (8.25 %)", "Price of a cfm gained, before tax"]);
    let told: Vec<String> = names(None, None);
    assert_eq!(told, ["Price of a cfm gained"]);
}

/// By hand: the furnace is short of its target as found and under its plate; half a filter less does not bring it into the band, nine tenths less do or do not as its point says.
#[test]
fn the_options_that_are_an_answer_are_told_with_the_least_price() {
    let told = |job: &Job| {
        let answer = Answer::of(job);
        let (found, columns) = (side_by_side::found(job, Answer::of), columns(job, &answer, Answer::of));
        let each: Vec<Option<bool>> = columns.iter().map(Column::is_answer).collect();
        (found.is_answer(), each, options::answers(&found, &columns))
    };
    let mut job = two();
    job.call_targets.clear();
    let airflow = |cfm: f64| Some(Target::Airflow(Airflow::from_cfm(cfm)));
    // More than any brings.
    job.target = airflow(1500.0);
    let (found, each, said) = told(&job);
    assert_eq!((found, each), (Some(false), vec![Some(false); 2]));
    assert_eq!(said.unwrap(), "None brings every call into its band within the limits");
    // What every one reaches, and the house as found does not.
    let now = Answer::of(&job).point().unwrap().now.airflow.cfm();
    job.target = airflow(now / 0.89);
    let (found, each, said) = told(&job);
    assert_eq!((found, each), (Some(false), vec![Some(true); 2]));
    assert_eq!(
        said.unwrap(),
        "\"Filter\" and \"Option 2\" bring every call into its band within the limits; \"Filter\" costs least"
    );
    // Where one has no price nobody says which costs least.
    job.changes[0].price = None;
    assert!(!told(&job).2.unwrap().contains("least"));
    job.changes[0].price = Some(500.0);
    job.target = airflow(now);
    assert_eq!(told(&job).2.unwrap(), "As found every call is in its band within the limits");
    job.target = airflow(now / 0.905);
    let near = "As found every call is in its band within the limits, ± past an edge";
    assert_eq!(told(&job).2.unwrap(), near);
    // An option that ends outside is named.
    let slower = job.machine.as_ref().unwrap().taps[0].name.clone();
    let with_tap = with(job.clone(), [Edit::AddChange(ChangeKind::OtherTap(OtherTap { tap: slower }))]);
    assert_eq!(told(&with_tap).2.unwrap(), format!("{near}; with \"Option 2\" one is not"));
    job.target = airflow(now);
    // Over the plate nothing is an answer, whatever it moves.
    let plate = job.machine.as_mut().unwrap().rated_maximum.replace(Pressure::from_in_wc(0.3));
    assert_eq!(told(&job).1, vec![Some(false); 2]);
    // A hair over it is no answer either, though the readings cannot tell it from the rated maximum.
    let tesp = columns(&job, &Answer::of(&job), Answer::of)[0].point().unwrap().crossing.tesp;
    job.machine.as_mut().unwrap().rated_maximum = Some(tesp * 0.999);
    assert_eq!(told(&job).1[0], Some(false));
    job.machine.as_mut().unwrap().rated_maximum = plate;
    // Nor where a heating call gets hotter than the plate allows.
    let target = Target::Airflow(Airflow::from_cfm(now));
    job.call_targets = vec![CallTarget { call: Call::HeatingHigh, target }];
    assert_eq!(told(&job).1, vec![Some(true); 2]);
    let [least, most] = [10.0, 20.0].map(TemperatureRise::from_f);
    job.machine.as_mut().unwrap().heating.iter_mut().for_each(|stage| stage.rise = Some((least, most)));
    assert_eq!(told(&job).1, vec![Some(false); 2]);
    (job.target, job.call_targets) = (None, Vec::new());
    assert_eq!(told(&job).2, None);
}

/// What is not priced is said in words beside every sum: by hand, of three changes 380 and 90 are priced, and the second return is not.
#[test]
fn a_sum_of_some_prices_says_how_many_changes_are_not_priced() {
    let three = three_options::job();
    let last = with(three, [option(OptionEdit::Show(2))]);
    let second_return = last.changes[1].id;
    let unpriced = with(last, [Edit::ChangePrice(second_return, None)]);
    let compared = columns(&unpriced, &Answer::of(&unpriced), Answer::of);
    let rows = options::rows(&side_by_side::found(&unpriced, Answer::of), &compared, UnitSystem::InchPound);
    let told = |name: &str| rows.iter().find(|row| row.name.starts_with(name)).unwrap().cells.clone();
    assert_eq!(told("Price")[1..], ["$380", "$1,830", "$470, 1 of 3 not priced"]);
    assert_eq!(told("Price with tax")[3], "$486.45, 1 of 3 not priced");
    let asked = "Not all is priced that is signed for: 1 of the 3 changes of All, on tap 5 has no price";
    assert_eq!(prices::before_signing(&unpriced).as_deref(), Some(asked));
    // Beside priced options one without any price says so, and all of a job without prices have none to tell.
    let none = with(unpriced, [ChangeId(1), ChangeId(3)].map(|id| Edit::ChangePrice(id, None)));
    let compared = columns(&none, &Answer::of(&none), Answer::of);
    let rows = options::rows(&side_by_side::found(&none, Answer::of), &compared, UnitSystem::InchPound);
    let price = rows.iter().find(|row| row.name == "Price").unwrap();
    assert_eq!(price.cells[3], "none of 3 priced");
    assert_eq!(prices::before_signing(&three_options::job()), None);
    assert_eq!(prices::before_signing(&demo::heat_pump()), None, "nothing is done");
    let one = with(demo::gas_furnace(), [Edit::AddChange(less(&demo::gas_furnace(), 0.3))]);
    let asked = "Not all is priced that is signed for: the only change has no price";
    assert_eq!(prices::before_signing(&one).as_deref(), Some(asked));
}
