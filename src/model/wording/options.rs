//! Options side by side in words: a row for each thing that is compared, with a cell for what was found and for each option.

use crate::model::facts::blower::Call;
use crate::model::facts::job::Job;
use crate::model::side_by_side::{self, Column};
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::System;
use crate::model::verdicts::taps::{Reach, StageRise, TapPoint};
use crate::model::wording::changes::{gain_bare, listed};
use crate::model::wording::{capital, delivered, heat, prices, tap_word, uncapital, visit};
use crate::units::show::{self, airflow_bare, number, percent, pressure_bare, spread_bare};
use crate::units::{Airflow, UnitSystem};

/// A price of a unit of airflow from which it is told whole.
const LEAST_WHOLE: f64 = 5.0;
/// The row that names an option's changes; on paper they have a table of their own.
pub const WORK: &str = "What is done";
/// The row of what they cost; on paper it stands in that table.
pub const PRICE: &str = "Price";
/// Energy is told in steps of so many kWh.
const TOLD_KWH: f64 = 10.0;
/// What stands where nothing can be said.
const NOTHING: &str = "–";

/// Most letters of a name in a label, and where it has least room.
const LONGEST_NAME: usize = 20;
const LEAST_NAME: usize = 14;

/// A name as a label has room for it.
pub fn shortened(name: &str) -> String {
    cut(name, LONGEST_NAME)
}

/// What a half of the head stands under where it has least room: the option's name, or "then" where there is one only.
pub(super) fn then(job: &Job) -> String {
    let options = &job.options;
    if options.count() > 1 { cut(&options.shown.called(options.index()), LEAST_NAME) } else { "then".to_owned() }
}

fn cut(name: &str, most: usize) -> String {
    let short: String = name.chars().take(most).collect();
    if short.len() < name.len() { format!("{}…", short.trim_end()) } else { short }
}

/// One thing that is compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What it is, with its unit.
    pub name: String,
    /// As found, then of each option in order.
    pub cells: Vec<String>,
}

/// What an option's work stands under: its name, and why a customer would take it.
pub fn what_is_done(option: &Column) -> String {
    let (name, reason) = (option.called(), &option.job.options.shown.reason);
    if reason.is_empty() { format!("What is done: {name}") } else { format!("What is done: {name} ({reason})") }
}

/// Which options are an answer, and which of those costs least; nothing where no call has a target.
pub fn answers(found: &Column, options: &[Column]) -> Option<String> {
    let (answers, least) = side_by_side::answers(options)?;
    let called = |index: usize| format!("\"{}\"", options[index].called());
    let names = |indexes: &mut dyn Iterator<Item = usize>| listed(&indexes.map(called).collect::<Vec<_>>());
    if found.is_answer() == Some(true) {
        let lost = names(&mut (0..options.len()).filter(|index| !answers.contains(index)));
        let but = if lost.is_empty() { String::new() } else { format!("; with {lost} one is not") };
        let near = if found.is_near_an_edge() { ", ± past an edge" } else { "" };
        return Some(format!("As found every call is in its band within the limits{near}{but}"));
    }
    let does = "every call into its band within the limits";
    let told = names(&mut answers.iter().copied());
    Some(match (&answers[..], least) {
        ([], _) => format!("None brings {does}"),
        ([_], _) => format!("Only {told} brings {does}"),
        (_, Some(least)) => format!("{told} bring {does}; {} costs least", called(least)),
        (_, None) => format!("{told} bring {does}"),
    })
}

/// Names of the columns: what was found, then each option.
pub fn heads(job: &Job, options: &[Column]) -> Vec<String> {
    [capital(&visit::found(job))].into_iter().chain(options.iter().map(Column::called)).collect()
}

/// Every row that at least one column has something to say in.
pub fn rows(found: &Column, options: &[Column], units: UnitSystem) -> Vec<Row> {
    let all: Vec<&Column> = [found].into_iter().chain(options).collect();
    let job = &found.job;
    let airflow = units.airflow_unit();
    let row = |name: &str, cell: &dyn Fn(&Column) -> Option<String>| Row {
        name: name.to_owned(),
        cells: all.iter().map(|column| cell(column).unwrap_or_else(|| NOTHING.to_owned())).collect(),
    };
    let is_cooling = job.set().call.is_cooling();
    let money = |price: f64| show::money(price, &job.costs.currency);
    let mut rows = vec![
        row(WORK, &|column| Some(column.work().join("; ")).filter(|work| !work.is_empty())),
        row(&format!("Airflow, {airflow}"), &|column| Some(with_spread(column.point()?, units))),
        row(&format!("Gained, {airflow}"), &|column| {
            let (gain, spread) = column.gain()?;
            let told = format!("{} ± {}", gain_bare(gain, units), spread_bare(spread, units));
            Some(if gain.least.abs() > spread { told } else { format!("{told}, not told from none") })
        }),
        row(&format!("To the rooms, {airflow}"), &|column| {
            let air = column.system()?.delivered.filter(|air| delivered::differs(air, units))?;
            Some(airflow_bare(air.to_rooms, units))
        }),
        row(&capital(tap_word(job)), &|column| Some(column.system()?.tap()?.to_owned())),
        row(&format!("Total external static, {}", units.pressure_unit()), &|column| {
            Some(pressure_bare(column.point()?.crossing.tesp, units))
        }),
    ];
    rows.extend(against_targets(&all));
    rows.extend(rises(&all, units));
    rows.push(row(&format!("Standard {airflow} a ton"), &|column| {
        Some(number(units.airflow_number(column.point()?.per_ton.filter(|_| is_cooling)?), 0))
    }));
    rows.push(row("Limits", &|column| Some(limits(column))));
    let is_priced = options.iter().any(|column| column.price().is_some());
    rows.push(row(PRICE, &|column| {
        let after = column.projection()?;
        // Beside options that have a price, one without any says so.
        prices::price(&column.job, after).or_else(|| prices::none_priced(&column.job, after).filter(|_| is_priced))
    }));
    rows.push(row(prices::APART, &|column| prices::labour_and_material(&column.job, column.projection()?)));
    rows.push(row(&prices::with_tax(&job.costs), &|column| prices::price_with_tax(&column.job, column.projection()?)));
    rows.push(row(
        &format!(
            "Price of a {airflow} gained{}",
            if prices::rates(&job.costs).is_empty() { "" } else { ", before tax" }
        ),
        &|column| {
            // No gain is so sure that cents of it mean anything.
            let each = column.price_per_airflow()? / units.airflow_number(Airflow::from_cfm(1.0));
            Some(money(if each < LEAST_WHOLE { each } else { each.round() }))
        },
    ));
    rows.push(row(&format!("Blower, W and W/{airflow}"), &|column| {
        let point = column.point()?;
        let each = number(point.power?.watts() / units.airflow_number(point.airflow()), 2);
        Some(format!("{}, {each}", show::power_bare(point.power?)))
    }));
    // As watts are told to 5, and a whole unit of money is less than those.
    rows.push(row("Its energy a year", &|column| {
        let energy = format!("{} kWh", number((column.energy()? / TOLD_KWH).round() * TOLD_KWH, 0));
        Some(column.energy_cost().map_or_else(|| energy.clone(), |cost| format!("{energy}, {}", money(cost.round()))))
    }));
    rows.push(row("Standing: table, path", &|column| {
        let (curve, path) = column.point()?.standing.words();
        Some(format!("{curve}, {path}"))
    }));
    rows.retain(|row| row.cells.iter().any(|cell| cell != NOTHING));
    rows
}

fn with_spread(point: &TapPoint, units: UnitSystem) -> String {
    let spread = spread_bare(point.spread.airflow, units);
    match point.below {
        Some(below) => format!("under {}", airflow_bare(below, units)),
        None => format!("{} ± {spread}", airflow_bare(point.airflow(), units)),
    }
}

/// A row for each heating call that is compared: the rise against the plate's range.
fn rises(all: &[&Column], units: UnitSystem) -> Vec<Row> {
    let calls = all.first().map(|first| first.systems()).unwrap_or_default().into_iter().map(|(call, _)| call);
    let told = |column: &Column, index: usize, call: Call| {
        let system = column.systems().into_iter().nth(index)?.1?;
        let (table, stage) = (system.blower.table(&column.job)?, system.runs()?.rise_of(call)?);
        Some(heat::rise_and_range(table, stage, "", units))
    };
    let heating = calls.enumerate().filter(|(_, call)| matches!(call, Call::HeatingHigh | Call::HeatingLow));
    let row = |(index, call): (usize, Call)| Row {
        name: format!("Rise, {}", uncapital(call.name())),
        cells: all.iter().map(|column| told(column, index, call).unwrap_or_else(|| NOTHING.to_owned())).collect(),
    };
    heating.map(row).collect()
}

/// A row for each call that has a target; with the tap where that is another than in the call that was read.
fn against_targets(all: &[&Column]) -> Vec<Row> {
    let Some(first) = all.first() else {
        return Vec::new();
    };
    let word = tap_word(&first.job);
    let calls: Vec<Call> = first.points().into_iter().map(|(call, _)| call).collect();
    let row = |(index, call): (usize, Call)| Row {
        name: format!("Of the target, {}", uncapital(call.name())),
        cells: all
            .iter()
            .map(|column| {
                let at = column.systems().into_iter().nth(index).and_then(|(_, system)| {
                    let (told, tap) = (against(system?)?, system?.tap()?);
                    let is_same = column.system().and_then(System::tap) == Some(tap);
                    Some(if is_same { told } else { format!("{told}, {word} {tap}") })
                });
                at.unwrap_or_else(|| NOTHING.to_owned())
            })
            .collect(),
    };
    calls.into_iter().enumerate().map(row).collect()
}

/// "96 %, in the band".
fn against(system: &System) -> Option<String> {
    let point = system.runs()?;
    let share = percent(point.of_target?);
    let is_open = system.blower.target.is_some_and(|target| point.is_near_edge(&target));
    Some(match (point.reach?, is_open) {
        (Reach::Short, _) => format!("{share}, short"),
        (Reach::InBand, false) => format!("{share}, in the band"),
        (Reach::InBand, true) => format!("{share}, in the band, ± past its edge"),
        (Reach::TooMuch, _) => format!("{share}, too much"),
        (Reach::NotSaid, _) => format!("{share} or less"),
    })
}

/// What of the machine's limits an option keeps, in every call that is compared.
pub fn limits(column: &Column) -> String {
    let mut said = Vec::new();
    for (index, (call, point)) in column.points().into_iter().enumerate() {
        let Some(point) = point else {
            said.push("cannot be told".to_owned());
            continue;
        };
        let when = if index == 0 { String::new() } else { format!(" in {}", uncapital(call.name())) };
        said.extend(broken(point, call).into_iter().map(|what| format!("{what}{when}")));
    }
    if said.is_empty() { "kept".to_owned() } else { said.join("; ") }
}

fn broken(point: &TapPoint, call: Call) -> Vec<&'static str> {
    let mut said = Vec::new();
    match point.plate.map(|plate| plate.side) {
        Some(PlateSide::Over) => said.push("over the rated maximum"),
        Some(PlateSide::AtLimit) => said.push("at the rated maximum"),
        Some(PlateSide::Under) | None => {}
    }
    if point.barred.is_some() {
        said.push("not allowed by the table");
    }
    let stage = point.rise_of(call);
    if stage.is_some_and(StageRise::is_starved) {
        said.push("too little air for the heat");
    } else if stage.is_some_and(StageRise::is_cold) {
        said.push("too much air for the heat");
    }
    said
}
