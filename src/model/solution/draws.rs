//! The budget of errors drawn: worlds in which every source errs at once, each solved anew (Monte Carlo, JCGM 101:2008).
//!
//! What linear propagation tells is checked by it, and where the standard uncertainties differ by more than half a unit of their first digit the draws' are told.

use std::sync::Arc;

use crate::model::facts::accuracy::COVERAGE;
use crate::model::facts::change::Change;
use crate::model::laws::tap_curve::TapShape;
use crate::model::solution::budget::{Source, budget};
use crate::model::solution::changed::Found;
use crate::model::solution::operating_point::{self, Crossing};
use crate::model::solution::operation::{Inputs, Operation, moved_operation};
use crate::model::solution::uncertainty::{Spread, Spreads, own_fraction};
use crate::model::solution::worth::{self, Solved, Wobble};
use crate::numerics::monte_carlo::{Distribution, Random, Scatter, doubt_of_standard, first_digit_tolerance, scatter};
use crate::units::Airflow;

/// Draws after which figures that agree are left alone.
const FIRST_DRAWS: usize = 2_000;
/// Draws where they do not, or where so few cannot tell.
const ALL_DRAWS: usize = 20_000;
/// The same job has the same draws.
const SEED: u64 = 101;
/// What no figure of a screen or a report's sentence shows, cfm.
const LEAST_SHOWN: f64 = 0.5;

/// A figure's standard uncertainty by both ways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Checked {
    /// By linear propagation.
    pub linear: Airflow,
    /// By draws.
    pub drawn: Airflow,
    /// ± that holds 95 of 100 draws.
    pub spread: Airflow,
}

impl Checked {
    fn new(linear_spread: Airflow, drawn: Scatter) -> Self {
        Self {
            linear: linear_spread / COVERAGE,
            drawn: Airflow::from_cfm(drawn.standard),
            spread: Airflow::from_cfm(drawn.within),
        }
    }

    fn off(&self) -> f64 {
        (self.drawn - self.linear).abs().cfm()
    }

    /// What the two may differ by.
    fn tolerance(&self) -> f64 {
        first_digit_tolerance(self.linear.cfm()).max(LEAST_SHOWN)
    }

    /// True where the two differ by more than half a unit of the first digit: the draws' is told.
    pub fn differs(&self) -> bool {
        self.off() > self.tolerance()
    }

    /// True where more draws would not change that they agree.
    fn surely_agrees(&self, draws: usize) -> bool {
        self.off() + self.drawn.cfm() * doubt_of_standard(draws) <= self.tolerance()
    }
}

/// What draws say of a job's figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draws {
    /// How many worlds were drawn.
    pub count: usize,
    /// How many of them lead off the curve of the tap that ran, where no airflow is known.
    pub lost: usize,
    /// Of today's airflow; nothing where more than one in twenty draws leads off the curve.
    pub now: Option<Checked>,
    /// Of the airflow of the tap that runs with the changes that are on; nothing without any as well.
    pub then: Option<Checked>,
    /// Of what they bring.
    pub gain: Option<Checked>,
}

impl Draws {
    /// Part of the worlds that lead off the curve.
    pub fn lost_fraction(&self) -> f64 {
        self.lost as f64 / self.count as f64
    }

    /// Every figure that was checked.
    pub fn all(&self) -> impl Iterator<Item = Checked> {
        [self.now, self.then, self.gain].into_iter().flatten()
    }

    /// True where any figure's ± is told by draws.
    pub fn is_told(&self) -> bool {
        self.all().any(|checked| checked.differs())
    }

    /// Puts what is told by draws into the spreads of the system as found.
    pub fn put_into_found(&self, spreads: &mut Spreads, in_use: usize) {
        if let Some(now) = told(self.now) {
            spreads.now = now;
            of_tap(spreads, in_use, |tap| tap.airflow = now);
        }
    }

    /// The same for the system with changes, of which the tap runs.
    pub fn put_into_changed(&self, spreads: &mut Spreads, in_use: usize) {
        if let Some(now) = told(self.now) {
            spreads.now = now;
        }
        if let Some(then) = told(self.then) {
            of_tap(spreads, in_use, |tap| tap.airflow = then);
        }
        if let Some(gain) = told(self.gain) {
            of_tap(spreads, in_use, |tap| tap.gain = gain);
        }
    }
}

fn told(checked: Option<Checked>) -> Option<Airflow> {
    checked.filter(Checked::differs).map(|checked| checked.spread)
}

fn of_tap(spreads: &mut Spreads, index: usize, put: impl FnOnce(&mut Spread)) {
    if let Some(Some(tap)) = spreads.taps.get_mut(index) {
        put(tap);
    }
}

/// Draws a job's budget; `now` is the linear ± of today's airflow, `then` that of the tap that runs with the changes that are on.
pub fn draw(found: &Found<'_>, solved: Option<&Solved<'_>>, now: Airflow, then: Option<Spread>) -> Option<Draws> {
    let guesses = found.inputs.guesses(found.operation);
    let sources = budget(found.inputs, &found.operation.now, &guesses);
    let changed = solved.zip(then).and_then(|(solved, spread)| Some((changed(found, solved)?, spread)));
    let needed = [Some(found.inputs.in_use), changed.as_ref().map(|(changed, _)| changed.in_use)];
    let worlds =
        Worlds { found, base: thinned(found.inputs, &needed), sources, changed: changed.as_ref().map(|of| &of.0) };
    let mut drawn = Drawn::default();
    let mut random = Random::of(SEED);
    let mut draws = None;
    for count in [FIRST_DRAWS, ALL_DRAWS] {
        worlds.add(&mut drawn, &mut random, count);
        let of_changed = changed.as_ref().map(|(changed, spread)| (changed.crossing.airflow, *spread));
        let checked = drawn.checked((found.operation.now.airflow, now), of_changed);
        let is_settled = checked.all().all(|checked| checked.surely_agrees(count));
        draws = Some(checked);
        if is_settled {
            break;
        }
    }
    draws
}

/// What is solved, with the curves of those taps alone that are needed: the others would only be moved along.
fn thinned<'a>(inputs: &Inputs<'a>, needed: &[Option<usize>]) -> Inputs<'a> {
    let of = |(index, shape): (usize, &TapShape)| {
        if needed.contains(&Some(index)) { shape.clone() } else { TapShape::Unusable }
    };
    let shapes: Arc<[TapShape]> = inputs.shapes.iter().enumerate().map(of).collect();
    Inputs { shapes, ..inputs.clone() }
}

/// The system with the changes that are on, as far as worlds need it.
struct ChangedTap<'a> {
    on: Vec<&'a Change>,
    in_use: usize,
    crossing: Crossing,
    /// What of the changes is in doubt by itself.
    wobbles: Vec<Wobble>,
    /// Standard uncertainty of the tap's own curve, as a fraction; nought for the one that was read.
    own: f64,
}

fn changed<'a>(found: &Found<'a>, solved: &Solved<'a>) -> Option<ChangedTap<'a>> {
    let (changed, inputs) = (&solved.changed, found.inputs);
    let on: Vec<&Change> = inputs.job.changes.iter().filter(|change| change.is_on()).collect();
    let crossing = *solved.crossings.get(changed.in_use)?.as_ref().ok()?;
    let read = changed.replacement.is_none().then_some(inputs.in_use);
    let own = own_fraction(read, (changed.in_use, changed.shapes.get(changed.in_use)), &crossing, &inputs.job.accuracy);
    let wobbles = (!on.is_empty()).then(|| worth::wobbles(found, &on, changed, &crossing))?;
    Some(ChangedTap { on, in_use: changed.in_use, crossing, wobbles, own })
}

/// What is solved in one world, and its solution.
type Moved<'a> = (Inputs<'a>, Operation);

/// Worlds that can be drawn.
struct Worlds<'w, 'a> {
    found: &'w Found<'a>,
    base: Inputs<'a>,
    sources: Vec<Source<'w, 'a>>,
    changed: Option<&'w ChangedTap<'a>>,
}

impl<'a> Worlds<'_, 'a> {
    /// Draws on until there are so many.
    fn add(&self, drawn: &mut Drawn, random: &mut Random, count: usize) {
        while drawn.count < count {
            drawn.count += 1;
            let Some((now, moved)) = self.today(random) else {
                continue;
            };
            drawn.now.push(now.cfm());
            if let Some(then) = self.changed.and_then(|changed| self.then(changed, &moved, random)) {
                drawn.then.push(then.cfm());
                drawn.gain.push((then - now).cfm());
            }
        }
    }

    /// Today's airflow in one world, and what is solved there.
    fn today(&self, random: &mut Random) -> Option<(Airflow, Moved<'a>)> {
        let mut moved = self.base.clone();
        for source in &self.sources {
            source.shift(&mut moved, source.standard * random.standard(source.distribution));
        }
        moved.lay_through_opinion();
        let operation = moved_operation(&moved, &self.found.operation.now).ok()?;
        Some((operation.now.airflow, (moved, operation)))
    }

    /// Airflow with the changes in that world.
    fn then(&self, changed: &ChangedTap<'_>, (inputs, operation): &Moved<'_>, random: &mut Random) -> Option<Airflow> {
        let mut normal = || random.standard(Distribution::Normal);
        let (mut steeper, mut besides) = (0.0, Airflow::ZERO);
        for wobble in &changed.wobbles {
            match wobble {
                Wobble::Path(coefficient) => steeper += coefficient * normal(),
                Wobble::Airflow(by) => besides += *by * normal(),
            }
        }
        let own = 1.0 + changed.own * normal();
        let there = Found { inputs, operation, crossings: self.found.crossings, wish: None };
        let there = there.with(changed.on.iter().copied(), |_, _| {});
        let load = there.load();
        match there.shapes.get(changed.in_use)? {
            TapShape::Curve(curve) => {
                // A curve times a factor meets a path where the curve meets it at that times the airflow.
                let demand = |cfm: f64| {
                    let cfm = own * cfm;
                    let (entry, slope) = load.entry_and_slope(cfm);
                    (entry + steeper * cfm * cfm, own * (slope + 2.0 * steeper * cfm))
                };
                Some(operating_point::moved_airflow(curve, demand, changed.crossing.entry)? * own + besides)
            }
            TapShape::Single(row) => operating_point::single_row(*row, &load).ok().map(|at| at.airflow * own),
            TapShape::Unusable => None,
        }
    }
}

/// What came of the worlds that were drawn, cfm; fewer of a figure than were drawn where it was lost.
#[derive(Default)]
struct Drawn {
    count: usize,
    now: Vec<f64>,
    then: Vec<f64>,
    gain: Vec<f64>,
}

impl Drawn {
    /// Held against what is told: today's airflow with its linear ±, the one with the changes likewise.
    fn checked(&self, (now, spread): (Airflow, Airflow), changed: Option<(Airflow, Spread)>) -> Draws {
        let of = |told: Airflow, linear: Airflow, drawn: &[f64]| {
            Some(Checked::new(linear, scatter(told.cfm(), drawn, self.count - drawn.len())?))
        };
        Draws {
            count: self.count,
            lost: self.count - self.now.len(),
            now: of(now, spread, &self.now),
            then: changed.and_then(|(then, spread)| of(then, spread.airflow, &self.then)),
            gain: changed.and_then(|(then, spread)| of(then - now, spread.gain, &self.gain)),
        }
    }
}
