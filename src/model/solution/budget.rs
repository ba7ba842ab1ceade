//! The budget of errors of a job's figures, declared once: linear propagation moves one source after the other, Monte Carlo all of them at once.

use crate::model::facts::accuracy::{Accuracy, from_95, from_limit};
use crate::model::facts::air_path::{ElementId, PortId};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::laws::system_curve::SystemCurve;
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::parts::guesses::Guessed;
use crate::model::path::parts::{Separated, ToldExponent, segments};
use crate::model::path::tesp::{ReadAcross, ReadDifference, StaticSum};
use crate::model::solution::operating_point::Crossing;
use crate::model::solution::operation::Inputs;
use crate::numerics::monte_carlo::Distribution;
use crate::units::Pressure;

/// Moves what is solved by an error.
type Shift<'b, 'a> = Box<dyn Fn(&mut Inputs<'a>, f64) + 'b>;

/// An independent source of error.
pub struct Source<'b, 'a> {
    /// Its standard uncertainty, above zero, in the unit of what it moves.
    pub standard: f64,
    /// How its values are spread: a single limit evenly, what is stated at 95 % or adds up from several normally.
    pub distribution: Distribution,
    /// The elements that it parts otherwise, for a guess; none for what moves all.
    pub parts: Vec<ElementId>,
    shift: Shift<'b, 'a>,
}

impl<'a> Source<'_, 'a> {
    /// Moves what is solved by an error, in the unit of its standard uncertainty; errors of several sources may follow one another.
    ///
    /// Where the curve of the tap that ran goes through an opinion it is laid through it again once all are moved (`Inputs::lay_through_opinion`).
    pub fn shift(&self, inputs: &mut Inputs<'a>, by: f64) {
        (self.shift)(inputs, by);
    }
}

/// Every source of error that a job's figures share, as far as it is not nought.
pub fn budget<'b, 'a>(inputs: &'b Inputs<'a>, now: &'b Crossing, guesses: &'b [Guessed]) -> Vec<Source<'b, 'a>> {
    let (set, accuracy) = (inputs.job.set(), &inputs.job.accuracy);
    let mut budget = Budget { inputs, now, set, accuracy, sources: Vec::new() };
    budget.of_readings();
    budget.of_curves();
    budget.of_opinion();
    budget.of_guesses(guesses);
    budget.sources
}

/// Standard uncertainty of the total external static: one manometer's gain, each place's own offset, each reading's unsteadiness; those read across parts between ports and planes included.
pub fn of_static(sum: &StaticSum, set: &ReadingSet, accuracy: &Accuracy) -> Pressure {
    let places = match sum.read {
        ReadDifference::Ports { before, after } => vec![ReadAt::Port(before.0), ReadAt::Port(after.0)],
        ReadDifference::Total(_) => vec![ReadAt::Total],
    };
    let across = sum.read_across.parts.iter().map(|part| ReadAt::Across(*part));
    let total = sum.read.across() + sum.read_across.to_planes;
    of_readings(total, places.into_iter().chain(across), set, accuracy)
}

/// Standard uncertainty of what inside parts were read to drop, which the table entry takes in; nothing where none was read.
fn of_inside(sum: &StaticSum, set: &ReadingSet, accuracy: &Accuracy) -> Option<Pressure> {
    let inside = &sum.read_across.inside;
    let total = inside.iter().map(|inside| inside.drop).sum();
    let places = inside.iter().map(|inside| ReadAt::Across(inside.part));
    (!inside.is_empty()).then(|| of_readings(total, places, set, accuracy))
}

/// Of a sum of pressure differences, read at places.
fn of_readings(
    total: Pressure,
    places: impl Iterator<Item = ReadAt>,
    set: &ReadingSet,
    accuracy: &Accuracy,
) -> Pressure {
    let manometer = from_limit(accuracy.manometer_limit(total).in_wc());
    let each = places.map(|place| of_place(place, set, accuracy).in_wc());
    Pressure::from_in_wc(root_sum_square(each.chain([manometer])))
}

/// Standard uncertainty of what is read at a place besides the manometer's own: the offset of each end of the hose, or what the readings there scatter where that is more.
///
/// So several readings that agree within what one is known to are known as well as one.
fn of_place(place: ReadAt, set: &ReadingSet, accuracy: &Accuracy) -> Pressure {
    let ends: f64 = match place {
        ReadAt::Port(_) => 1.0,
        ReadAt::Total | ReadAt::Across(_) => 2.0,
    };
    let offset = accuracy.port_offset * from_limit(ends.sqrt());
    set.at(place).map_or(offset, |reading| reading.unsteadiness().max(offset))
}

/// The budget while it is declared.
struct Budget<'b, 'a> {
    inputs: &'b Inputs<'a>,
    now: &'b Crossing,
    set: &'b ReadingSet,
    accuracy: &'b Accuracy,
    sources: Vec<Source<'b, 'a>>,
}

impl<'b, 'a> Budget<'b, 'a> {
    fn of(
        &mut self,
        (standard, distribution): (f64, Distribution),
        parts: Vec<ElementId>,
        shift: impl Fn(&mut Inputs<'a>, f64) + 'b,
    ) {
        if standard > 0.0 {
            self.sources.push(Source { standard, distribution, parts, shift: Box::new(shift) });
        }
    }

    /// A single limit of error, by its standard uncertainty.
    fn within(&mut self, standard: f64, shift: impl Fn(&mut Inputs<'a>, f64) + 'b) {
        self.of((standard, Distribution::Even), Vec::new(), shift);
    }

    /// What is stated at 95 %, or adds up from several errors.
    fn about(&mut self, standard: f64, shift: impl Fn(&mut Inputs<'a>, f64) + 'b) {
        self.parting(standard, Vec::new(), shift);
    }

    /// The same for a guess of how elements part what they take.
    fn parting(&mut self, standard: f64, parts: Vec<ElementId>, shift: impl Fn(&mut Inputs<'a>, f64) + 'b) {
        self.of((standard, Distribution::Normal), parts, shift);
    }

    fn place(&self, at: ReadAt) -> f64 {
        of_place(at, self.set, self.accuracy).in_wc()
    }

    /// The manometer alike at every place, each place by itself, and what was read across parts.
    fn of_readings(&mut self) {
        let sum = &self.inputs.sum;
        match sum.read {
            ReadDifference::Total(_) => {
                let total = of_static(sum, self.set, self.accuracy).in_wc();
                self.about(total, |moved, by| shift(&mut moved.sum.read, by));
            }
            ReadDifference::Ports { before, after } => {
                let across = sum.read.across();
                let total = across + sum.read_across.to_planes;
                let manometer = from_limit(self.accuracy.manometer_limit(total).in_wc());
                let others = self.other_ports(before.0, after.0);
                let read: Vec<(PortId, Pressure)> = others.iter().map(|(port, read, _)| (*port, *read)).collect();
                self.within(manometer, move |moved, by| {
                    let fraction = by / across.in_wc();
                    scale(&mut moved.sum.read, fraction);
                    move_ports(moved, read.iter().map(|(port, read)| (*port, *read * fraction)));
                });
                let (at_before, at_after) = (self.place(ReadAt::Port(before.0)), self.place(ReadAt::Port(after.0)));
                self.within(at_before, |moved, by| shift_ends(&mut moved.sum.read, by, 0.0));
                self.within(at_after, |moved, by| shift_ends(&mut moved.sum.read, 0.0, by));
                let parts = sum.read_across.parts.iter();
                let across = root_sum_square(parts.map(|part| self.place(ReadAt::Across(*part))));
                self.about(across, |moved, by| shift(&mut moved.sum.read, by));
                // Ports besides the two that gave the difference across the machine move the split of the path only.
                for (port, _, place) in others {
                    self.within(place, move |moved, by| {
                        move_ports(moved, std::iter::once((port, Pressure::from_in_wc(by))));
                    });
                }
            }
        }
        for separated in self.inputs.separated {
            self.told_apart(separated);
        }
        for (element, doubt) in self.read_across() {
            self.known_apart(element, doubt);
        }
        if let Some(inside) = of_inside(sum, self.set, self.accuracy) {
            self.about(inside.in_wc(), |moved, by| {
                shift_inside(&mut moved.sum.read_across, Pressure::from_in_wc(by));
            });
        }
    }

    /// What reading sets tell of an element: its exponent takes its drop along as far as the two hang together, and what is left of the drop's doubt is its own.
    fn told_apart(&mut self, Separated { element, doubt, exponent, .. }: &Separated) {
        let element = *element;
        let Some(ToldExponent { doubt: of_exponent, with_drop, .. }) = *exponent else {
            self.known_apart(element, *doubt);
            return;
        };
        let along = with_drop / of_exponent.powi(2);
        self.parting(of_exponent, self.side_of(element), move |moved, by| {
            moved.moved.told_exponents.push((element, by));
            moved.moved.apart.push((element, along * by));
        });
        let own = doubt.in_wc().powi(2) - (along * of_exponent).in_wc().powi(2);
        self.known_apart(element, Pressure::from_in_wc(own.max(0.0).sqrt()));
    }

    /// What is known of an element apart from its neighbours, which take the rest of what was read.
    fn known_apart(&mut self, element: ElementId, doubt: Pressure) {
        self.parting(doubt.in_wc(), self.side_of(element), move |moved, by| {
            moved.moved.apart.push((element, Pressure::from_in_wc(by)));
        });
    }

    /// External parts that were read across within a stretch, and the standard uncertainty of that reading.
    fn read_across(&self) -> Vec<(ElementId, Pressure)> {
        let across = &self.inputs.sum.read_across;
        let is_in_the_sum =
            |id: ElementId| across.parts.contains(&id) || across.inside.iter().any(|inside| inside.part == id);
        let of = |reading: &Reading| match reading.at {
            ReadAt::Across(id) if !is_in_the_sum(id) => {
                let drop = self.set.across(id)?;
                let places = std::iter::once(ReadAt::Across(id));
                Some((id, of_readings(drop, places, self.set, self.accuracy)))
            }
            ReadAt::Across(_) | ReadAt::Port(_) | ReadAt::Total => None,
        };
        self.set.readings.iter().filter_map(of).collect()
    }

    /// The elements on the side of the blower where an element stands: what it takes, they do not.
    fn side_of(&self, id: ElementId) -> Vec<ElementId> {
        let path = &self.inputs.job.path;
        let is_before = |id: ElementId| path.index_of(id) < path.blower();
        let all = path.elements.iter().map(|element| element.id);
        all.filter(|other| is_before(*other) == is_before(id)).collect()
    }

    /// Ports besides the two that gave the difference across the machine, with what was read there and its own standard uncertainty.
    fn other_ports(&self, before: PortId, after: PortId) -> Vec<(PortId, Pressure, f64)> {
        let ports = self.inputs.job.path.ports.iter().map(|port| port.id);
        let read = |port| {
            let read = self.set.at(ReadAt::Port(port))?.average()?;
            Some((port, read, self.place(ReadAt::Port(port))))
        };
        ports.filter(|port| ![before, after].contains(port)).filter_map(read).collect()
    }

    /// The path's exponent, the table, the tap that was read, and published drops.
    fn of_curves(&mut self) {
        let (inputs, accuracy) = (self.inputs, self.accuracy);
        self.about(from_95(accuracy.exponent), |moved, by| moved.moved.exponent -= by);
        // A table that is scaled by other readings' opinion errs with that.
        let scaled_elsewhere = inputs.anchored.filter(|anchored| !anchored.is_here());
        if scaled_elsewhere.is_none() {
            self.about(from_95(accuracy.table_fraction), |moved, by| moved.scale_all(1.0 + by));
        }
        let is_known = scaled_elsewhere.is_some_and(|anchored| anchored.is_of_tap(inputs.in_use));
        self.about(own_of_tap(inputs.shapes.get(inputs.in_use), self.now, accuracy), move |moved, by| {
            // Scaled by what the tap itself was found to move, it is right and the others are off.
            if is_known {
                moved.scale_others(1.0 - by);
            } else {
                moved.scale_read_tap(1.0 + by);
            }
        });
        let data = if rests_on_data(inputs) { from_95(accuracy.data_fraction) } else { 0.0 };
        self.about(data, |moved, by| {
            moved.moved.data += by;
            let sum = &mut moved.sum;
            for curve in [&mut sum.to_planes, &mut sum.corrections, &mut sum.before_plane] {
                *curve = curve.scaled(1.0 + by);
            }
            sum.inside.iter_mut().for_each(|inside| inside.now = inside.now.scaled(1.0 + by));
        });
    }

    /// An opinion in the table's place, and what taps may be off by that it does not scale.
    fn of_opinion(&mut self) {
        let Some(anchored) = self.inputs.anchored else {
            return;
        };
        let in_use = self.inputs.in_use;
        let own = self.inputs.table.basis.own_of_tap(self.accuracy.tap_fraction);
        let of_other_tap = if anchored.is_here() || anchored.is_of_tap(in_use) { 0.0 } else { from_95(own) };
        self.about(anchored.doubt().hypot(of_other_tap), move |moved, by| {
            if anchored.is_here() {
                moved.anchored = Some(anchored.moved(by));
            } else {
                moved.scale_all(1.0 + by);
            }
        });
        self.about(anchored.apart(), |moved, by| moved.scale_others(1.0 + by));
    }

    fn of_guesses(&mut self, guesses: &'b [Guessed]) {
        for Guessed { guess, own, among } in guesses {
            let by = from_95(self.accuracy.guessed_odds.ln()) * own;
            self.parting(by, among.clone(), |moved, by| moved.moved.odds.push((*guess, by.exp())));
        }
    }
}

/// True where a drop that counts is by data.
fn rests_on_data(inputs: &Inputs<'_>) -> bool {
    let sum = &inputs.sum;
    let nothing = SystemCurve::default();
    sum.to_planes != nothing
        || sum.corrections != nothing
        || !sum.inside.is_empty()
        || inputs.job.path.all().iter().any(|element| element.drop.is_some())
}

/// Standard uncertainty of a tap by itself, as a fraction of its airflow: what it is off by, what it was read off a picture by, and what lies between rows far apart.
pub(super) fn own_of_tap(shape: Option<&TapShape>, crossing: &Crossing, accuracy: &Accuracy) -> f64 {
    let (between, read_off) = match shape {
        Some(TapShape::Curve(curve)) => {
            (from_limit(curve.wide_row_doubt(crossing.entry) / crossing.airflow), curve.reading_error() / 100.0)
        }
        Some(TapShape::Single(_) | TapShape::Unusable) | None => (0.0, 0.0),
    };
    from_95(accuracy.tap_fraction.hypot(read_off)).hypot(between)
}

/// Moves the difference across the machine, half of it at each end; in. w.c.
pub(super) fn shift(read: &mut ReadDifference, by: f64) {
    match read {
        ReadDifference::Ports { .. } => shift_ends(read, -by / 2.0, by / 2.0),
        ReadDifference::Total(total) => *total += Pressure::from_in_wc(by),
    }
}

/// Moves what was read before and after the machine; in. w.c.
pub(super) fn shift_ends(read: &mut ReadDifference, by_before: f64, by_after: f64) {
    if let ReadDifference::Ports { before, after } = read {
        before.1 += Pressure::from_in_wc(by_before);
        after.1 += Pressure::from_in_wc(by_after);
    }
}

/// Moves both ends by a fraction of what was read there.
fn scale(read: &mut ReadDifference, by: f64) {
    if let ReadDifference::Ports { before, after } = read {
        before.1 = before.1 * (1.0 + by);
        after.1 = after.1 * (1.0 + by);
    }
}

/// Moves what was read at ports besides the two that gave the difference across the machine.
fn move_ports(moved: &mut Inputs<'_>, by: impl Iterator<Item = (PortId, Pressure)>) {
    moved.moved.ports.extend(by);
    moved.sum.least = segments::least(moved.job, moved.table, &moved.sum.read, &moved.moved);
}

/// The whole of it on one part: only the sum moves the table entry, and the parts' exponents hardly differ.
fn shift_inside(read: &mut ReadAcross, by: Pressure) {
    if let Some(inside) = read.inside.first_mut() {
        inside.drop += by;
    }
}

pub(super) fn root_sum_square(parts: impl Iterator<Item = f64>) -> f64 {
    parts.map(|part| part * part).sum::<f64>().sqrt()
}
