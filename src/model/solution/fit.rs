//! One fit over the reading sets of a visit: what every part that the sets tell apart takes, how sure that is, and what is left over.
//!
//! Pulling a part and reading again raises the airflow, so what the part takes is not the plain difference of two readings: every set is solved for its own airflow, and all of them together for the parts.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::facts::accuracy::{COVERAGE, from_95, from_limit};
use crate::model::facts::air_path::{Element, ElementId, ElementKind, PortId};
use crate::model::facts::readings::{CoilState, ReadAt};
use crate::model::path::parts::{Separated, ToldExponent, segments};
use crate::model::path::tesp::ReadDifference;
use crate::model::solution::budget::{shift, shift_ends};
use crate::model::solution::operating_point::Crossing;
use crate::model::solution::operation::{self, Inputs, Operation};
use crate::numerics::least_squares::{self, Learnt, Solution, chi_squared_95};
use crate::units::{Airflow, Pressure};

/// By how much a reading is moved to see what it does, in. w.c.
const STEP: f64 = 1e-3;
/// How often the weights are taken from the solution before, at most.
const ROUNDS: usize = 4;
/// A solution stands that moved by no more than this, in in. w.c. and in an exponent.
const STANDS: f64 = 1e-5;
/// Least span of airflow, most over least, over which an exponent can be told.
const TELLING_SPAN: f64 = 1.4;
/// Standard uncertainty that readings alone must leave an exponent with, or less, to be told.
const TELLING_DOUBT: f64 = 0.15;

/// A reading set, solved by itself.
#[derive(Debug)]
pub struct Solved<'a> {
    /// Its index in the job.
    pub set: usize,
    /// What it was solved from.
    pub inputs: Inputs<'a>,
    /// Its solution.
    pub operation: Operation,
}

/// What the sets of one path say together.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The airflow at which drops are told: that of the set that everything is judged by.
    pub airflow: Airflow,
    /// What parts take that the sets tell apart, in flow order.
    pub drops: Vec<FittedDrop>,
    /// What every stretch was read to take beyond the fit.
    pub residuals: Vec<Residual>,
    /// Weighted sum of squares of the residuals.
    pub chi_squared: f64,
    /// Readings beyond what the unknowns need.
    pub freedom: usize,
}

/// What a part, or several that no set tells apart, takes.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedDrop {
    /// The elements, in flow order.
    pub elements: Vec<ElementId>,
    /// Their drop at the fit's airflow, in air as warm as it was then.
    pub drop: Pressure,
    /// ± of it, 95 %.
    pub spread: Pressure,
    /// True for what wetting adds to a coil that was wet in some sets and dry in others: no part's own drop.
    pub wetting: bool,
    /// The exponent of its drop by airflow, where it is one part's and the sets tell it; covariances as warm as the drop.
    pub exponent: Option<ToldExponent>,
    /// Factor of that warm air on the drop, above zero.
    warm: f64,
}

/// What a stretch was read to take beyond the fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Residual {
    /// Index of the set.
    pub set: usize,
    /// The elements of the stretch.
    pub elements: Vec<ElementId>,
    /// What was read less what the fit says.
    pub off: Pressure,
    /// ± that its readings alone are known to, 95 %.
    pub spread: Pressure,
}

impl Residual {
    /// How far it is off, in what its readings are known to.
    pub fn in_spreads(&self) -> f64 {
        self.off.abs() / self.spread
    }
}

impl Fit {
    /// True where the readings can all be true: what is left over is no more than chance leaves in 95 of 100 visits.
    pub fn holds(&self) -> bool {
        self.freedom == 0 || self.chi_squared <= chi_squared_95(self.freedom)
    }

    /// Single elements that the sets tell apart from all others.
    pub fn separated(&self) -> Vec<Separated> {
        let of = |fitted: &FittedDrop| match fitted.elements[..] {
            [element] if !fitted.wetting => Some(Separated {
                element,
                drop: fitted.drop / fitted.warm,
                doubt: fitted.spread / (COVERAGE * fitted.warm),
                exponent: fitted.exponent.map(|told| ToldExponent { with_drop: told.with_drop / fitted.warm, ..told }),
            }),
            _ => None,
        };
        self.drops.iter().filter_map(of).collect()
    }
}

/// A stretch of one set: what was read of it, as cold air would drop.
#[derive(Clone, Debug)]
struct Stretch {
    elements: Vec<ElementId>,
    /// Coils in it, by data or not.
    coils: Vec<ElementId>,
    drop: f64,
}

/// A row of the fit.
struct Row<'s> {
    set: usize,
    /// The tap that ran.
    tap: usize,
    elements: &'s [ElementId],
    coils: &'s [ElementId],
    drop: f64,
    /// The set's airflow over the fit's, and its density over the fit's.
    flow: f64,
    density: f64,
    /// How often its coils count what wetting adds: once where they were wet and in the fit's set dry, less once the other way round.
    wetted: f64,
}

/// Elements that every row has together or not at all, or what wetting adds to a coil: one unknown.
struct Column {
    elements: Vec<(ElementId, f64, f64)>,
    wetting: bool,
    /// Most over least airflow among the rows that have it.
    span: f64,
    /// What is added to each exponent, as far as the rows tell it.
    steeper: f64,
}

impl Column {
    /// Its drop in a row over its drop at the fit's airflow and density, and the slope of that by the ratio of airflow; nought where the row does not have it.
    fn in_row(&self, row: &Row<'_>) -> (f64, f64) {
        let (within, times) = if self.wetting { (row.coils, row.wetted) } else { (row.elements, 1.0) };
        let there = self.elements.iter().filter(|(id, ..)| within.contains(id));
        there.fold((0.0, 0.0), |sum, (_, weight, exponent)| {
            let exponent = exponent + self.steeper;
            let drop = times * weight * row.flow.powf(exponent) * row.density.powf(exponent - 1.0);
            (sum.0 + drop, sum.1 + exponent * drop / row.flow)
        })
    }

    /// The exponent of a single part, as it is told; `as_read` is the warmth of its drop.
    fn exponent(
        &self,
        ((steeper, learnt), index): (&(f64, Learnt), usize),
        assumed: f64,
        as_read: f64,
    ) -> Option<ToldExponent> {
        let [(_, _, usual)] = self.elements[..] else {
            return None;
        };
        let with_drop = Pressure::from_in_wc(as_read * assumed * learnt.with_unknowns[index]);
        Some(ToldExponent { value: usual + steeper, doubt: assumed * learnt.doubt, with_drop })
    }

    /// What the rows tell of its exponent over `assumed`, the standard uncertainty that it is assumed to: nothing of a lump, which the path takes by the exponents that are assumed, and nothing where the airflow spans too little, or the readings alone leave it too wide.
    fn told(&self, learnt: Learnt, assumed: f64) -> Option<(f64, Learnt)> {
        let by_readings = assumed * learnt.doubt / (1.0 - learnt.doubt.powi(2)).sqrt();
        let is_told =
            !self.wetting && self.elements.len() == 1 && self.span >= TELLING_SPAN && by_readings < TELLING_DOUBT;
        is_told.then_some((assumed * learnt.size, learnt))
    }
}

/// What every column is in every row: its drop and the slope of that, and the drops alone.
struct Design {
    shares: Vec<Shares>,
    drops: Vec<Vec<f64>>,
}

impl Design {
    fn new(rows: &[Row<'_>], columns: &[Column]) -> Self {
        let of_row = |row: &Row<'_>| columns.iter().map(|column| column.in_row(row)).collect();
        let shares: Vec<Shares> = rows.iter().map(of_row).collect();
        let drops = shares.iter().map(|row| row.iter().map(|(drop, _)| *drop).collect()).collect();
        Self { shares, drops }
    }
}

/// A solution by the weights and the exponents of the one before.
struct Round {
    causes: Vec<Vec<f64>>,
    solution: Solution,
}

impl Round {
    /// Solved again with its own weights and exponents until it stands.
    fn settled(rows: &[Row<'_>], columns: &mut [Column], moves: &[Move], at: &Solved<'_>) -> Option<(Design, Self)> {
        let mut design = Design::new(rows, columns);
        let mut round = Self::new((rows, columns, moves), at, &design, None)?;
        for _ in 1..ROUNDS {
            let steeper: Vec<f64> = round.told(columns, at).map(|told| told.map_or(0.0, |(by, _)| by)).collect();
            let turned = largest(columns.iter().zip(&steeper).map(|(column, steeper)| column.steeper - steeper));
            if turned > 0.0 {
                columns.iter_mut().zip(steeper).for_each(|(column, steeper)| column.steeper = steeper);
                design = Design::new(rows, columns);
            }
            let next = Self::new((rows, columns, moves), at, &design, Some(&round.solution.unknowns))?;
            let moved = next.solution.unknowns.iter().zip(&round.solution.unknowns).map(|(next, before)| next - before);
            let stands = turned.max(largest(moved)) <= STANDS;
            round = next;
            if stands {
                break;
            }
        }
        Some((design, round))
    }

    fn new(
        (rows, columns, moves): (&[Row<'_>], &[Column], &[Move]),
        at: &Solved<'_>,
        design: &Design,
        before: Option<&[f64]>,
    ) -> Option<Self> {
        let read = rows.iter().map(|row| row.drop);
        // Any weights will do to begin with.
        let begin = || vec![start(read.clone().sum(), &design.drops); columns.len()];
        let unknowns = before.map_or_else(begin, <[f64]>::to_vec);
        let causes = causes((rows, &design.shares), moves, &unknowns, at);
        // By the law at the exponent so far, what an exponent off from the assumed one would add besides.
        let off = |row: usize| -> f64 {
            let steeper =
                columns.iter().zip(of_exponents(&causes, columns)).filter(|(column, _)| column.steeper != 0.0);
            steeper.map(|(column, cause)| cause[row] * (column.steeper / assumed_exponent(at))).sum()
        };
        let right: Vec<f64> = read.enumerate().map(|(row, read)| read + off(row)).collect();
        let solution = least_squares::non_negative(&design.drops, &right, &causes)?;
        Some(Self { causes, solution })
    }

    /// What is added to each column's exponents where the rows tell it, and what they say of it.
    fn told<'r>(&'r self, columns: &'r [Column], at: &Solved<'_>) -> impl Iterator<Item = Option<(f64, Learnt)>> + 'r {
        let assumed = assumed_exponent(at);
        let each = columns.iter().zip(of_exponents(&self.causes, columns));
        each.map(move |(column, cause)| column.told(self.solution.learnt(cause), assumed))
    }
}

fn largest(differences: impl Iterator<Item = f64>) -> f64 {
    differences.fold(0.0, |most, by| most.max(by.abs()))
}

/// The causes that are each column's exponent, the last ones.
fn of_exponents<'c>(causes: &'c [Vec<f64>], columns: &[Column]) -> &'c [Vec<f64>] {
    &causes[causes.len() - columns.len()..]
}

/// Standard uncertainty that an exponent is assumed to.
fn assumed_exponent(at: &Solved<'_>) -> f64 {
    from_95(at.inputs.job.accuracy.exponent)
}

/// Fits the sets; `judged` is the set at whose airflow drops are told.
///
/// Nothing where there is only one, or the sets do not tell the unknowns apart.
/// The table's own error stays out: a table wrong by a factor leaves the drops at the read airflow exact.
pub fn fit(sets: &[Solved<'_>], judged: usize) -> Option<Fit> {
    let at = sets.iter().find(|solved| solved.set == judged)?;
    let airflow = at.operation.now.airflow;
    let stretches: Vec<Vec<Stretch>> =
        sets.iter().map(|solved| stretches(&solved.inputs, &solved.operation.now)).collect();
    let rows: Vec<Row<'_>> = sets.iter().zip(&stretches).flat_map(|(solved, own)| rows_of(solved, own, at)).collect();
    let mut columns = columns(&rows, at);
    if sets.len() < 2 || columns.is_empty() {
        return None;
    }
    let moves: Vec<Move> = sets.iter().zip(&stretches).flat_map(|(solved, own)| moves_of(solved, own)).collect();
    let (design, round) = Round::settled(&rows, &mut columns, &moves, at)?;
    let told: Vec<_> = round.told(&columns, at).collect();
    let Round { causes, solution } = &round;
    let point = at.inputs.at(airflow, at.operation.now.tesp);
    let path = &at.inputs.job.path;
    // A single total is one stretch, of which nobody knows how much is warm: its parts are told as they were read.
    let is_cold = matches!(at.inputs.sum.read, ReadDifference::Ports { .. });
    let drops = columns.iter().enumerate().map(|(index, column)| {
        let elements: Vec<ElementId> = column.elements.iter().map(|(id, ..)| *id).collect();
        let warm = point.warm(elements.first().and_then(|id| path.index_of(*id)) < path.blower());
        let as_read = if is_cold { warm } else { 1.0 };
        FittedDrop {
            elements,
            drop: Pressure::from_in_wc(as_read * solution.unknowns[index]),
            spread: Pressure::from_in_wc(as_read * COVERAGE * solution.covariance[index][index].sqrt()),
            wetting: column.wetting,
            exponent: told[index]
                .as_ref()
                .and_then(|told| column.exponent((told, index), assumed_exponent(at), as_read)),
            warm,
        }
    });
    let residuals = rows.iter().enumerate().map(|(index, row)| {
        let fitted: f64 = design.drops[index].iter().zip(&solution.unknowns).map(|(share, drop)| share * drop).sum();
        let doubt: f64 = causes.iter().map(|cause| cause[index].powi(2)).sum();
        Residual {
            set: row.set,
            elements: row.elements.to_vec(),
            off: Pressure::from_in_wc(row.drop - fitted),
            spread: Pressure::from_in_wc(COVERAGE * doubt.sqrt()),
        }
    });
    Some(Fit {
        airflow,
        drops: drops.collect(),
        residuals: residuals.collect(),
        chi_squared: solution.chi_squared,
        freedom: rows.len().saturating_sub(columns.len()),
    })
}

/// A drop of the right size for every unknown.
fn start(read: f64, design: &[Vec<f64>]) -> f64 {
    let shares: f64 = design.iter().flatten().sum();
    read / shares.max(1.0)
}

/// The read stretches of a set that have elements of unknown drop.
fn stretches(inputs: &Inputs<'_>, now: &Crossing) -> Vec<Stretch> {
    let at = inputs.at(now.airflow, now.tesp);
    let all = segments::segments(inputs.job, inputs.table, &at).into_iter();
    let path = &inputs.job.path;
    let is_coil = |id: &&ElementId| path.element(**id).is_some_and(|element| element.kind == ElementKind::Coil);
    let cold = |segment: segments::Segment| Stretch {
        drop: segment.drop.in_wc() / at.warm(segment.before_blower),
        coils: segment.elements.iter().chain(&segment.known).filter(is_coil).copied().collect(),
        elements: segment.elements,
    };
    all.filter(|segment| !segment.elements.is_empty()).map(cold).collect()
}

fn rows_of<'s>(solved: &Solved<'_>, own: &'s [Stretch], at: &Solved<'_>) -> Vec<Row<'s>> {
    let flow = solved.operation.now.airflow / at.operation.now.airflow;
    let density = solved.inputs.sum.air.own.density / at.inputs.sum.air.own.density;
    let is_wet = |solved: &Solved<'_>| solved.inputs.job.set().coil == CoilState::Wet;
    let wetted = f64::from(u8::from(is_wet(solved))) - f64::from(u8::from(is_wet(at)));
    let row = |stretch: &'s Stretch| Row {
        set: solved.set,
        tap: solved.inputs.in_use,
        elements: &stretch.elements,
        coils: &stretch.coils,
        drop: stretch.drop,
        flow,
        density,
        wetted,
    };
    own.iter().map(row).collect()
}

/// The unknowns, in flow order: elements that the same rows have are one, parted by their usual weights; what wetting adds to a coil is one more.
fn columns(rows: &[Row<'_>], at: &Solved<'_>) -> Vec<Column> {
    let path = &at.inputs.job.path;
    let mut alike: BTreeMap<Vec<bool>, Vec<&Element>> = BTreeMap::new();
    for element in &path.elements {
        let seen: Vec<bool> = rows.iter().map(|row| row.elements.contains(&element.id)).collect();
        if seen.contains(&true) {
            alike.entry(seen).or_default().push(element);
        }
    }
    let column = |(seen, elements): (Vec<bool>, Vec<&Element>)| {
        let all: f64 = elements.iter().map(|element| element.usual_weight()).sum();
        let alike = 1.0 / elements.len() as f64;
        let weight = |element: &Element| if all > 0.0 { element.usual_weight() / all } else { alike };
        let parted = |element: &&Element| (element.id, weight(element), element.drop_exponent());
        let elements = elements.iter().map(parted).collect();
        Column { elements, wetting: false, span: span(rows, seen), steeper: 0.0 }
    };
    let mut columns: Vec<Column> = alike.into_iter().map(column).collect();
    let is_wetted = |element: &&Element| rows.iter().any(|row| row.wetted != 0.0 && row.coils.contains(&element.id));
    columns.extend(path.elements.iter().filter(is_wetted).map(|coil| Column {
        elements: vec![(coil.id, 1.0, coil.drop_exponent())],
        wetting: true,
        span: 1.0,
        steeper: 0.0,
    }));
    columns.sort_by_key(|column| column.elements.first().and_then(|(id, ..)| path.index_of(*id)));
    columns
}

/// Most over least airflow among the rows that are seen.
fn span(rows: &[Row<'_>], seen: Vec<bool>) -> f64 {
    let seen = rows.iter().zip(seen).filter(|(_, seen)| *seen).map(|(row, _)| row.flow);
    let (least, most) = seen.fold((f64::INFINITY, 0.0_f64), |(least, most), flow| (least.min(flow), most.max(flow)));
    most / least
}

/// What an inch of water more at one place of one set does to its own rows.
struct Move {
    set: usize,
    place: ReadAt,
    /// What was read there.
    read: Pressure,
    /// Standard uncertainty of the reading by itself.
    own: f64,
    /// By how much each of its rows' drops changes, and its airflow in cfm.
    drops: Vec<f64>,
    airflow: f64,
}

fn moves_of(solved: &Solved<'_>, own: &[Stretch]) -> Vec<Move> {
    let inputs = &solved.inputs;
    let set = inputs.job.set();
    let accuracy = &inputs.job.accuracy;
    let ends = match inputs.sum.read {
        ReadDifference::Ports { before, after } => vec![ReadAt::Port(before.0), ReadAt::Port(after.0)],
        ReadDifference::Total(_) => vec![ReadAt::Total],
    };
    let others = inputs.job.path.ports.iter().map(|port| ReadAt::Port(port.id));
    let others = others.filter(|place| ends.len() > 1 && !ends.contains(place));
    let places: Vec<ReadAt> = ends.iter().copied().chain(others).collect();
    let moved = |place: ReadAt| {
        let reading = set.at(place)?;
        let mut there = inputs.clone();
        move_reading(&mut there, place, &ends);
        let now = operation::moved_point(&there, &solved.operation.now).ok()?;
        let then = stretches(&there, &now);
        // Where the path parts otherwise after so small a step, the step says nothing.
        let is_same = then.len() == own.len() && then.iter().zip(own).all(|(then, own)| then.elements == own.elements);
        let drops = then.iter().zip(own).map(|(then, own)| (then.drop - own.drop) / STEP).collect();
        let scatter = from_limit(accuracy.reading_scatter.in_wc()).max(reading.unsteadiness().in_wc());
        is_same.then(|| Move {
            set: solved.set,
            place,
            read: reading.average().unwrap_or_default(),
            own: scatter.hypot(from_limit(accuracy.manometer_floor.in_wc())),
            drops,
            airflow: (now.airflow - solved.operation.now.airflow).cfm() / STEP,
        })
    };
    places.into_iter().filter_map(moved).collect()
}

/// Moves a reading up by the step.
fn move_reading(inputs: &mut Inputs<'_>, place: ReadAt, ends: &[ReadAt]) {
    match place {
        ReadAt::Total | ReadAt::Across(_) => shift(&mut inputs.sum.read, STEP),
        ReadAt::Port(_) if ends.first() == Some(&place) => shift_ends(&mut inputs.sum.read, STEP, 0.0),
        ReadAt::Port(_) if ends.contains(&place) => shift_ends(&mut inputs.sum.read, 0.0, STEP),
        ReadAt::Port(port) => move_port(inputs, port),
    }
}

fn move_port(inputs: &mut Inputs<'_>, port: PortId) {
    inputs.moved.ports.push((port, Pressure::from_in_wc(STEP)));
    inputs.sum.least = segments::least(inputs.job, inputs.table, &inputs.sum.read, &inputs.moved);
}

/// What every column is in a row, see [`Column::in_row`].
type Shares = Vec<(f64, f64)>;

/// Every independent cause of error, by what its standard uncertainty does to every row's residual: the manometer's gain and each place's offset alike in all sets, each reading by itself, each tap of the table by itself, each unknown's exponent. `shares` is what every column is in every row ([`Column::in_row`]).
///
/// A reading moves what was read of a stretch and the airflow that the stretch is judged at, J = I − n·drop·Q′/Q; one of the judged set moves the airflow at which all drops are told.
fn causes((rows, shares): (&[Row<'_>], &[Shares]), moves: &[Move], unknowns: &[f64], at: &Solved<'_>) -> Vec<Vec<f64>> {
    let accuracy = &at.inputs.job.accuracy;
    let gain = from_limit(accuracy.manometer_fraction);
    let offset = from_limit(accuracy.port_offset.in_wc());
    let slope_of = |row: &Shares| -> f64 { row.iter().zip(unknowns).map(|((_, slope), drop)| drop * slope).sum() };
    let slopes: Vec<f64> = shares.iter().map(slope_of).collect();
    let residual = |step: &Move| -> Vec<f64> {
        let mut own = step.drops.iter();
        let by = step.airflow / at.operation.now.airflow.cfm();
        let of_row = |(row, slope): (&Row<'_>, &f64)| {
            let (drop, of_own) = if row.set == step.set { (own.next().copied(), by) } else { (None, 0.0) };
            let of_fit = if step.set == at.set { row.flow * by } else { 0.0 };
            drop.unwrap_or_default() - slope * (of_own - of_fit)
        };
        rows.iter().zip(&slopes).map(of_row).collect()
    };
    let mut shared: BTreeMap<Option<ReadAt>, Vec<f64>> = BTreeMap::new();
    let mut causes = Vec::new();
    for step in moves {
        let moved = residual(step);
        causes.push(moved.iter().map(|row| row * step.own).collect());
        for (cause, size) in [(None, gain * step.read.in_wc()), (Some(step.place), offset)] {
            let sum = shared.entry(cause).or_insert_with(|| vec![0.0; rows.len()]);
            sum.iter_mut().zip(&moved).for_each(|(sum, row)| *sum += row * size);
        }
    }
    causes.extend(shared.into_values());
    let own = from_95(at.inputs.table.basis.own_of_tap(accuracy.tap_fraction));
    let ran =
        |row: &Row<'_>, tap: usize| f64::from(u8::from(row.tap == tap)) - f64::from(u8::from(at.inputs.in_use == tap));
    let taps: BTreeSet<usize> = rows.iter().map(|row| row.tap).collect();
    causes.extend(taps.iter().map(|tap| {
        let of_row = |(row, slope): (&Row<'_>, &f64)| -slope * row.flow * ran(row, *tap) * own;
        rows.iter().zip(&slopes).map(of_row).collect()
    }));
    let exponent = assumed_exponent(at);
    causes.extend(unknowns.iter().enumerate().map(|(column, drop)| {
        let of_row = |(row, shares): (&Row<'_>, &Shares)| drop * shares[column].0 * row.flow.ln() * exponent;
        rows.iter().zip(shares).map(of_row).collect()
    }));
    causes
}
