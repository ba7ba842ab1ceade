//! The scope of work: every change that is on with sizes and prices, of one option or of several side by side.

use crate::model::facts::limits::MOST_OPTIONS;
use crate::model::side_by_side::Column as Compared;
use crate::model::verdicts::system::Projection;
use crate::model::wording::{self, changes, prices};
use crate::ui::changes_panel::applied::{self, Told};
use crate::ui::page::block::{self, Block};
use crate::ui::page::row::{Column, Row, Weight, figures, words};
use crate::ui::view::Screen;

/// Columns of the changes of one option.
const CHANGES: &[Column] = &[words(5.0), figures(1.5), figures(1.3), figures(1.3)];
/// Columns of those of several: what is done, its price, and one for each option.
const OF_OPTIONS: [Column; 2 + MOST_OPTIONS] =
    [words(3.4), figures(0.8), figures(1.2), figures(1.2), figures(1.2), figures(1.2), figures(1.2), figures(1.2)];
/// What stands where an option does without a change.
const WITHOUT: &str = "–";

/// What is done.
pub(super) fn work(screen: &Screen<'_>) -> Vec<Block> {
    match screen.options.filter(|(_, columns)| columns.len() > 1) {
        None => of_one(screen),
        Some((_, columns)) => of_several(screen, columns),
    }
}

fn of_one(screen: &Screen<'_>) -> Vec<Block> {
    let told = applied::told(screen);
    if told.is_empty() {
        return Vec::new();
    }
    let several = told.len() > 1;
    let unit = screen.units.airflow_unit();
    let heads =
        ["Scope of work".to_owned(), format!("alone, {unit}"), format!("after others, {unit}"), "price".to_owned()];
    let mut rows = vec![Row::new(CHANGES, Weight::Head, heads)];
    rows.extend(told.into_iter().map(|told| {
        let under = told.why_not.map_or(told.details, |why| format!("not put on: {why}"));
        let figures = [told.alone, told.after_others, told.price].map(|text| (text, String::new()));
        let cells = std::iter::once((told.title, under)).chain(figures).collect();
        Row { columns: CHANGES, cells, weight: Weight::Plain, goes_on: true }
    }));
    if let Some((gain, price)) = applied::told_together(screen) {
        rows.push(Row::new(CHANGES, Weight::Sum, ["Together".to_owned(), String::new(), gain, price]));
    }
    rows.extend(screen.answer.with_changes().into_iter().flat_map(|after| costs(screen, after)));
    let mut blocks = block::table("What is done", rows);
    blocks.extend(several.then(|| Block::Quiet(wording::ended(changes::DO_NOT_ADD_UP))));
    blocks
}

/// What all of it costs, labour and material apart, and with tax.
fn costs(screen: &Screen<'_>, after: &Projection) -> Vec<Row> {
    let apart = prices::labour_and_material(screen.job, after).map(|told| (prices::APART.to_owned(), told));
    let taxed = prices::price_with_tax(screen.job, after).map(|told| (prices::with_tax(&screen.job.costs), told));
    let row = |weight, (name, told)| Row::new(CHANGES, weight, [name, String::new(), String::new(), told]);
    let apart = apart.map(|told| row(Weight::Plain, told));
    apart.into_iter().chain(taxed.map(|told| row(Weight::Strong, told))).collect()
}

/// A change that one option at least has, with what it brings in each once all others of it are on.
struct Line {
    told: Told,
    gains: Vec<Option<String>>,
    why_not: Vec<String>,
}

fn of_several(screen: &Screen<'_>, columns: &[Compared]) -> Vec<Block> {
    let screens: Vec<Screen<'_>> =
        columns.iter().map(|column| Screen { job: &column.job, answer: &column.answer, ..*screen }).collect();
    let lines = lines(&screens, columns);
    if lines.is_empty() {
        return Vec::new();
    }
    let of = OF_OPTIONS.get(..2 + columns.len()).unwrap_or(&OF_OPTIONS);
    let plain = |text: &str| (text.to_owned(), String::new());
    let row = |cells, weight| Row { columns: of, cells, weight, goes_on: true };
    let unit = screen.units.airflow_unit();
    // Beside the reasons of the options it takes no room of its own.
    let why = if lines.len() > 1 { changes::DO_NOT_ADD_UP } else { "" };
    let head = (format!("Scope of work, with what each brings after the others, {unit}"), why.to_owned());
    let heads = [head, plain("price")];
    let named = columns.iter().map(|column| (column.called(), column.job.options.shown.reason.clone()));
    let mut rows = vec![row(heads.into_iter().chain(named).collect(), Weight::Head)];
    rows.extend(lines.into_iter().map(|line| {
        let name = match line.told.details.as_str() {
            "" => line.told.title,
            details => format!("{} ({details})", line.told.title),
        };
        let gains = line.gains.into_iter().map(|gain| (gain.unwrap_or_else(|| WITHOUT.to_owned()), String::new()));
        let first = [(name, line.why_not.join("; ")), (line.told.price, String::new())];
        row(first.into_iter().chain(gains).collect(), Weight::Plain)
    }));
    let (gains, mut sums): (Vec<String>, Vec<String>) =
        screens.iter().map(|screen| applied::told_together(screen).unwrap_or_default()).unzip();
    if sums.iter().any(|sum| !sum.is_empty()) {
        // Beside options that have a price, one without any says so.
        for (sum, screen) in sums.iter_mut().zip(&screens).filter(|(sum, _)| sum.is_empty()) {
            let none = screen.answer.with_changes().and_then(|after| prices::none_priced(screen.job, after));
            *sum = none.unwrap_or_default();
        }
    }
    for (name, sums, weight) in [("Together", gains, Weight::Sum), ("Price", sums, Weight::Strong)] {
        let cells = [plain(name), plain("")].into_iter().chain(sums.iter().map(|told| plain(told)));
        rows.push(row(cells.collect(), weight));
    }
    block::table("What is done", rows)
}

/// Every change of the options once, in the order in which they come.
fn lines(screens: &[Screen<'_>], columns: &[Compared]) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for (index, (screen, column)) in screens.iter().zip(columns).enumerate() {
        for told in applied::told(screen) {
            let is_same = |line: &Line| {
                let known = (&line.told.title, &line.told.details, &line.told.price);
                known == (&told.title, &told.details, &told.price) && line.gains[index].is_none()
            };
            let gain = if told.why_not.is_some() { "not put on".to_owned() } else { told.after_others.clone() };
            let why = told.why_not.as_ref().map(|why| format!("not put on in {}: {why}", column.called()));
            // What brings no figure after the others, as the last one of a list, brings what it brings alone.
            let gain = if gain.is_empty() { told.alone.clone() } else { gain };
            let at = lines.iter().position(is_same).unwrap_or_else(|| {
                lines.push(Line { told, gains: vec![None; screens.len()], why_not: Vec::new() });
                lines.len() - 1
            });
            lines[at].gains[index] = Some(gain);
            lines[at].why_not.extend(why);
        }
    }
    lines
}
