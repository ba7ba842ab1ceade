//! What a report says, in the order in which it is asked: where it runs, where it is lost, what is done about it, and what all that rests on.

use std::collections::BTreeSet;

use crate::model::facts::air_path::ElementId;
use crate::model::facts::limits::MOST_OPTIONS;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::Part;
use crate::model::path::parts::along::Profile;
use crate::model::verdicts::findings::Weight as Gravity;
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::System;
use crate::model::verdicts::taps::{Reach, TapAnswer, TapPoint};
use crate::model::wording::commissioning as lines;
use crate::model::wording::headline::{self, Beside, Head};
use crate::model::wording::{self, cautions, options, paper, table_differences};
use crate::ui::page::block::{self, Block, Side};
use crate::ui::page::row::{Column, Row, Weight, figures, words};
use crate::ui::page::scope;
use crate::ui::view::Screen;
use crate::units::{Airflow, UnitSystem, show};

/// Columns of the taps.
const TAPS: &[Column] = &[
    words(1.1),
    figures(0.7),
    figures(0.5),
    figures(0.8),
    figures(0.9),
    figures(0.6),
    figures(0.7),
    words(1.4),
    words(1.4),
    words(2.3),
];
/// Columns of the options: the names of the rows, what was found, and one for each.
const OPTIONS: [Column; 2 + MOST_OPTIONS] =
    [words(1.3), words(1.0), words(1.0), words(1.0), words(1.0), words(1.0), words(1.0), words(1.0)];
/// Columns of the commissioning line.
const COMMISSIONING: &[Column] = &[words(2.2), words(1.7), words(1.5), words(1.9), words(2.5)];
/// Columns of what takes the static.
const PARTS: &[Column] = &[words(3.0), figures(0.7), figures(0.8), words(1.1), figures(0.9), figures(0.8), words(1.1)];

/// Everything on paper.
pub fn blocks(screen: &Screen<'_>) -> Vec<Block> {
    let head = screen.answer.point().map(|running| headline::head(screen.job, screen.answer, running, screen.units));
    let company = screen.company.filter(|company| !company.is_empty());
    let mut all: Vec<Block> = company.map(|company| Block::Company(Box::new(company.clone()))).into_iter().collect();
    all.push(Block::Title(super::title(screen).to_owned(), super::about(screen).join(super::SEPARATOR)));
    all.extend(answers(screen, head.as_ref()));
    if screen.job.machine.is_some() {
        all.push(Block::Chart);
        all.push(Block::Path);
    }
    all.extend(head.iter().flat_map(numbers_say));
    all.extend(commissioning(screen));
    all.extend(scope::work(screen));
    all.extend(side_by_side(screen));
    all.extend(paper::prices_hold(&screen.job.costs).map(Block::Lead));
    all.extend(every_tap(screen));
    all.extend(takes_the_static(screen));
    all.extend(measured(screen));
    all.extend(before_acting(screen));
    all
}

/// Both answers, or what is missing.
fn answers(screen: &Screen<'_>, head: Option<&Head>) -> Vec<Block> {
    let Some(head) = head else {
        let verdict = wording::verdict(screen.job, screen.answer, screen.units);
        let problems = screen.answer.problems.iter().map(|problem| problem.what.sentence(screen.units));
        let said = problems.map(|told| Block::Said(Gravity::Act, wording::ended(&told)));
        let lead = [verdict.headline, verdict.detail].into_iter().filter(|told| !told.is_empty());
        return lead.map(Block::Lead).chain(said).collect();
    };
    let side = match &head.beside {
        Beside::Then(then) => Side::Then(Box::new(then.clone())),
        Beside::Wanted { title, sentence } => Side::Wanted(title, sentence.clone()),
    };
    vec![Block::Halves(Box::new(head.found.clone()), side)]
}

/// Every finding, in its chapter.
fn numbers_say(head: &Head) -> Vec<Block> {
    let chapter = |(heading, all): &(String, Vec<(Gravity, String)>)| {
        // The first sentence says what stands in the halves.
        let said = all.iter().skip(1).map(|(weight, told)| Block::Said(*weight, told.clone()));
        std::iter::once(Block::Heading(format!("What the numbers say: {}", wording::uncapital(heading))))
            .chain(said)
            .collect::<Vec<_>>()
    };
    head.all.iter().filter(|(_, all)| all.len() > 1).flat_map(chapter).collect()
}

/// What a commissioning sheet asks.
fn commissioning(screen: &Screen<'_>) -> Vec<Block> {
    let told = |running| lines::lines(screen.job, running, screen.units);
    let lines = screen.answer.point().map(told).unwrap_or_default();
    if lines.is_empty() {
        return Vec::new();
    }
    let heads = ["what was found", "", "limit", "grade", "by"].map(str::to_owned);
    let mut rows = vec![Row::new(COMMISSIONING, Weight::Head, heads)];
    rows.extend(lines.into_iter().map(|line| {
        let cells = [line.what.to_owned(), line.found, line.limit, line.grade.to_owned(), line.source];
        Row::new(COMMISSIONING, Weight::Plain, cells)
    }));
    block::table(&lines::title(screen.job), rows)
}

/// The options side by side, where there are several.
fn side_by_side(screen: &Screen<'_>) -> Vec<Block> {
    let Some((found, columns)) = screen.options.filter(|(_, columns)| columns.len() > 1) else {
        return Vec::new();
    };
    let of = OPTIONS.get(..2 + columns.len()).unwrap_or(&OPTIONS);
    let heads = std::iter::once("Options".to_owned()).chain(options::heads(screen.job, columns));
    let mut rows = vec![Row::new(of, Weight::Head, heads)];
    rows.extend(
        options::rows(found, columns, screen.units)
            .into_iter()
            .filter(|row| ![options::WORK, options::PRICE].contains(&row.name.as_str()))
            .map(|row| Row::new(of, Weight::Plain, std::iter::once(row.name).chain(row.cells))),
    );
    let told = options::answers(found, columns).map(|told| format!(". {told}")).unwrap_or_default();
    block::table(&format!("The options side by side{told}"), rows)
}

/// Every tap of the system as found, and of the one with changes.
fn every_tap(screen: &Screen<'_>) -> Vec<Block> {
    let word = wording::tap_word(screen.job);
    let found = wording::visit::as_found(screen.job);
    let mut all = taps(screen, &format!("Every {word}, {found}"), word, screen.answer.taps());
    if let Some(after) = screen.answer.with_changes() {
        let word = wording::changes::word_then(screen.job, after);
        let of = after.system.blower.other.as_ref().map(|table| format!(" of {}", table.name)).unwrap_or_default();
        all.extend(taps(screen, &format!("Every {word}{of}, with changes"), word, &after.system.taps));
    }
    all
}

fn taps(screen: &Screen<'_>, heading: &str, word: &str, taps: &[TapAnswer]) -> Vec<Block> {
    if taps.iter().all(|tap| tap.reached().is_none()) {
        return Vec::new();
    }
    let (air, static_unit) = (screen.units.airflow_unit(), screen.units.pressure_unit());
    let heads = [word, air, "±", static_unit, "of target", "W", "W/cfm", "target", "rating", "standing"];
    let mut rows = vec![Row::new(TAPS, Weight::Head, heads.map(str::to_owned))];
    rows.extend(taps.iter().map(|tap| tap_row(screen, tap)));
    block::table(heading, rows)
}

fn tap_row(screen: &Screen<'_>, tap: &TapAnswer) -> Row {
    let weight = if tap.in_use { Weight::Strong } else { Weight::Plain };
    let name = if tap.in_use { format!("{}, runs", tap.name) } else { tap.name.clone() };
    let figures = tap.reached().map(|point| point_cells(screen, point));
    let nothing = || std::array::from_fn(|cell| if cell == 8 { "no point on this path" } else { "–" }.to_owned());
    Row::new(TAPS, weight, std::iter::once(name).chain(figures.unwrap_or_else(nothing)))
}

fn point_cells(screen: &Screen<'_>, point: &TapPoint) -> [String; 9] {
    let units = screen.units;
    let or_none = |told: Option<String>| told.unwrap_or_else(|| "–".to_owned());
    let (curve, path) = point.standing.words();
    let per_air = |per_cfm: f64| show::number(per_cfm / units.airflow_number(Airflow::from_cfm(1.0)), 2);
    [
        show::airflow_bare(point.airflow(), units),
        show::spread_bare(point.spread.airflow, units),
        show::pressure_bare(point.crossing.tesp, units),
        or_none(point.of_target.map(show::percent)),
        or_none(point.power.map(show::power_bare)),
        or_none(point.watts_per_cfm().map(per_air)),
        against_target(point).to_owned(),
        against_rating(point).to_owned(),
        format!("{curve}, {path}"),
    ]
}

const fn against_target(point: &TapPoint) -> &'static str {
    match point.reach {
        Some(Reach::InBand) => "in the band",
        Some(Reach::Short) => "short",
        Some(Reach::TooMuch) => "too much",
        Some(Reach::NotSaid) => "cannot be told",
        None => "–",
    }
}

const fn against_rating(point: &TapPoint) -> &'static str {
    match (&point.barred, &point.plate) {
        (Some(_), _) => "not allowed",
        (None, None) => "–",
        (None, Some(plate)) => match plate.side {
            PlateSide::Under => "under",
            PlateSide::AtLimit => "at it, within ±",
            PlateSide::Over => "over",
        },
    }
}

/// What every part of the path takes, before and after.
fn takes_the_static(screen: &Screen<'_>) -> Vec<Block> {
    let found = screen.answer.point().and_then(|running| Known::of(&running.system));
    let then = screen.answer.with_changes().and_then(|after| Known::of(&after.system));
    let Some(found) = found else {
        return Vec::new();
    };
    let parts = in_flow_order(screen, &found, then.as_ref());
    if parts.is_empty() {
        return Vec::new();
    }
    let (air, unit) = (screen.units.airflow_unit(), screen.units.pressure_unit());
    let told = [air, unit, "standing"];
    let mut heads = vec!["part".to_owned()];
    heads.extend(told.map(str::to_owned));
    if then.is_some() {
        // A drop with changes is that of its own airflow.
        heads.extend([format!("{air} then"), format!("{unit} then"), "standing".to_owned()]);
    }
    let row = |ids: &Vec<ElementId>| {
        let names: Vec<&str> = ids.iter().filter_map(|id| screen.job.path.name_of(*id)).collect();
        let figures = std::iter::once(&found).chain(&then).flat_map(|known| known.cells(ids, screen.units));
        Row::new(PARTS, Weight::Plain, std::iter::once(names.join(" + ")).chain(figures))
    };
    let rows = std::iter::once(Row::new(PARTS, Weight::Head, heads)).chain(parts.iter().map(row));
    block::table("What takes the static", rows.collect())
}

/// What is known of a system's parts.
struct Known<'a> {
    profile: &'a Profile,
    parts: &'a [Part],
}

impl<'a> Known<'a> {
    fn of(system: &'a System) -> Option<Self> {
        Some(Self { profile: system.profile.as_ref()?, parts: &system.parts })
    }

    /// Elements that have a drop of their own on the external path.
    fn single(&self) -> impl Iterator<Item = ElementId> {
        let all = self.profile.elements.iter();
        all.filter(|along| along.standing.is_some() && along.drop.is_some()).map(|along| along.element)
    }

    /// Airflow, drop and standing of an element, or of several that are known together; a dash where it is not known by itself.
    fn cells(&self, ids: &[ElementId], units: UnitSystem) -> [String; 3] {
        let along = ids.first().and_then(|id| self.profile.at(*id));
        let airflow = along.map(|along| show::airflow_bare(along.airflow, units)).unwrap_or_default();
        let (drop, standing) = if let [one] = ids {
            (self.profile.drop(*one), self.profile.at(*one).and_then(|along| along.standing))
        } else {
            let together = self.profile.together.iter().find(|(of, _)| of == ids).map(|(_, drop)| *drop);
            (together, self.parts.iter().find(|part| part.elements == ids).map(|part| part.standing))
        };
        match drop {
            Some(drop) => {
                let standing = standing.map_or("", PathStanding::word).to_owned();
                [airflow, show::pressure_bare(drop, units), standing]
            }
            None => [airflow, "–".to_owned(), String::new()],
        }
    }
}

/// The parts that are known apart, as found or with changes, and of what is not those that are known together.
fn in_flow_order(screen: &Screen<'_>, found: &Known<'_>, then: Option<&Known<'_>>) -> Vec<Vec<ElementId>> {
    let known = || std::iter::once(found).chain(then);
    let single: BTreeSet<ElementId> = known().flat_map(Known::single).collect();
    let several = known().flat_map(|known| known.profile.together.iter().map(|(ids, _)| ids));
    let several = several.filter(|ids| ids.iter().all(|id| !single.contains(id))).cloned();
    let all: BTreeSet<Vec<ElementId>> = single.iter().map(|id| vec![*id]).chain(several).collect();
    let order: Vec<ElementId> = screen.job.path.all().iter().map(|element| element.id).collect();
    let mut all: Vec<Vec<ElementId>> = all.into_iter().collect();
    all.sort_by_key(|ids| ids.first().and_then(|first| order.iter().position(|id| id == first)));
    all
}

/// What was measured and how.
fn measured(screen: &Screen<'_>) -> Vec<Block> {
    let facts = paper::measured(screen.job, screen.answer, screen.units).into_iter().map(Block::Fact);
    let visited = paper::visited(screen.job, screen.answer, screen.units);
    let visited = visited.into_iter().map(|told| Block::Said(Gravity::Note, wording::ended(&told)));
    let notes = (!screen.job.notes.is_empty()).then(|| Block::Fact(("Notes".to_owned(), screen.job.notes.clone())));
    let against_library = screen.job.machine.as_ref().and_then(|table| {
        let library = screen.library.differing(table)?;
        table_differences::job_and_library(table, &library.table, screen.units)
    });
    let against_library = against_library.map(|told| Block::Said(Gravity::Note, wording::ended(&told)));
    std::iter::once(Block::Heading("What was measured, and how".to_owned()))
        .chain(facts)
        .chain(against_library)
        .chain(notes)
        .chain(visited)
        .chain([Block::Quiet(paper::accuracy(screen.job, screen.units))])
        .collect()
}

/// What has to be minded, for what this holds, and who stands for it.
fn before_acting(screen: &Screen<'_>) -> Vec<Block> {
    let told = |caution| {
        let told = cautions::told(caution, screen.job, screen.answer);
        Block::Said(Gravity::Act, format!("{}: {}", told.word, told.sentence))
    };
    let all = cautions::of_job(screen.job, screen.answer).into_iter().map(told);
    let last = [paper::VALID, paper::ADVISES].map(|told| Block::Quiet(told.to_owned()));
    std::iter::once(Block::Heading("Before anybody acts on it".to_owned()))
        .chain(all)
        .chain(last)
        .chain([Block::Signature(paper::signed(screen.job))])
        .collect()
}
