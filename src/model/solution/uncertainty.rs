//! How sure each airflow is, and each difference of two: common causes are kept common.
//!
//! Each cause is moved by its standard uncertainty and everything is solved again (GUM 5.1.3, note 2); ± is two standard uncertainties, 95 %.

use crate::model::facts::accuracy::{Accuracy, COVERAGE, from_95, from_limit};
use crate::model::facts::air_path::{Element, ElementId, PortId};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::laws::system_curve::{SystemCurve, SystemLoad};
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::parts::guesses::Guessed;
use crate::model::path::parts::{Part, Separated, flows, segments};
use crate::model::path::tesp::{ReadAcross, ReadDifference, StaticSum};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{Inputs, Operation, moved_operation};
use crate::units::{Airflow, Pressure};

/// ± of one tap's airflow and of its difference from the tap in use, both 95 %.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// Of the airflow.
    pub airflow: Airflow,
    /// Of the difference from today's airflow.
    pub gain: Airflow,
}

/// ± of today's airflow and static, and of every tap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spreads {
    /// Of today's airflow.
    pub now: Airflow,
    /// Of the total external static read.
    pub tesp: Pressure,
    /// Of each tap, in the table's order; nothing where the tap has no crossing.
    pub taps: Vec<Option<Spread>>,
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

/// One cause of doubt, moved by its standard uncertainty, and what the readings lead to then.
#[derive(Clone, Debug)]
pub struct Cause<'a> {
    /// What is solved then.
    pub inputs: Inputs<'a>,
    /// Its solution.
    pub operation: Operation,
    /// The elements that it parts otherwise, for a guess; none for what moves all.
    parts: Vec<ElementId>,
}

impl Cause<'_> {
    /// Whether it is a guess of how elements part what they take, of which one or what is in it is held.
    pub fn parts_any(&self, held: &[ElementId]) -> bool {
        let is_held = |element: &Element| held.iter().any(|id| element.within(*id).is_some());
        let parted = self.parts.iter().filter_map(|id| self.inputs.job.path.element(*id));
        parted.into_iter().any(is_held)
    }
}

/// What else readings, table, data and guesses could mean: each cause that a job's figures share.
#[derive(Clone, Debug)]
pub struct Doubt<'a> {
    tesp: Pressure,
    causes: Vec<Cause<'a>>,
    /// What nobody stated of the parts that changes take hold of.
    pub guesses: Vec<Guessed>,
}

impl<'a> Doubt<'a> {
    /// Solves each cause; one that leads off the curve is moved the other way.
    pub fn of(inputs: &Inputs<'a>, operation: &Operation) -> Self {
        let (set, accuracy) = (inputs.job.set(), &inputs.job.accuracy);
        let mut causes = Causes { inputs, now: &operation.now, set, accuracy, solved: Vec::new() };
        causes.of_readings();
        causes.of_curves();
        causes.of_opinion();
        let guesses = inputs.guesses(operation);
        causes.of_guesses(&guesses);
        Self { tesp: of_static(&inputs.sum, set, accuracy), causes: causes.solved, guesses }
    }

    /// What an element takes at its airflow and ± of that, 95 %; nothing for one that is no part of its own.
    pub fn of_drop(&self, now: &Operation, id: ElementId) -> Option<(Pressure, Pressure)> {
        let of = |at: &Operation| Some(flows::at_element(&at.parts, id, at.now.airflow)?.1);
        let drop = of(now)?;
        let moved = self.causes.iter().filter_map(|cause| of(&cause.operation));
        let doubt = root_sum_square(moved.map(|moved| (moved - drop).in_wc()));
        Some((drop, Pressure::from_in_wc(COVERAGE * doubt)))
    }
}

/// Causes while they are solved one after the other.
struct Causes<'c, 'a> {
    inputs: &'c Inputs<'a>,
    now: &'c Crossing,
    set: &'c ReadingSet,
    accuracy: &'c Accuracy,
    solved: Vec<Cause<'a>>,
}

impl<'a> Causes<'_, 'a> {
    /// Moves what is solved by a standard uncertainty, one way or, where that leads off the curve, the other.
    fn either_way(&mut self, by: f64, change: impl Fn(&mut Inputs<'a>, f64)) {
        self.parting(Vec::new(), by, change);
    }

    /// The same for a guess of how elements part what they take.
    fn parting(&mut self, parts: Vec<ElementId>, by: f64, change: impl Fn(&mut Inputs<'a>, f64)) {
        let solved = [1.0, -1.0].into_iter().filter(|_| by > 0.0).find_map(|way| {
            let mut moved = self.inputs.clone();
            change(&mut moved, by * way);
            moved.lay_through_opinion();
            Some((moved_operation(&moved, self.now).ok()?, moved))
        });
        self.solved.extend(solved.map(|(operation, inputs)| Cause { inputs, operation, parts }));
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
                self.either_way(total, |moved, by| shift(&mut moved.sum.read, by));
            }
            ReadDifference::Ports { before, after } => {
                let across = sum.read.across();
                let total = across + sum.read_across.to_planes;
                let manometer = from_limit(self.accuracy.manometer_limit(total).in_wc());
                self.either_way(manometer, |moved, by| scale(&mut moved.sum.read, by / across.in_wc()));
                let (at_before, at_after) = (self.place(ReadAt::Port(before.0)), self.place(ReadAt::Port(after.0)));
                self.either_way(at_before, |moved, by| shift_ends(&mut moved.sum.read, by, 0.0));
                self.either_way(at_after, |moved, by| shift_ends(&mut moved.sum.read, 0.0, by));
                let parts = sum.read_across.parts.iter();
                let across = root_sum_square(parts.map(|part| self.place(ReadAt::Across(*part))));
                self.either_way(across, |moved, by| shift(&mut moved.sum.read, by));
                self.of_other_ports(before.0, after.0);
            }
        }
        for Separated { element, doubt, .. } in self.inputs.separated {
            self.known_apart(*element, *doubt);
        }
        for (element, doubt) in self.read_across() {
            self.known_apart(element, doubt);
        }
        if let Some(inside) = of_inside(sum, self.set, self.accuracy) {
            self.either_way(inside.in_wc(), |moved, by| {
                shift_inside(&mut moved.sum.read_across, Pressure::from_in_wc(by));
            });
        }
    }

    /// What is known of an element apart from its neighbours, which take the rest of what was read.
    fn known_apart(&mut self, element: ElementId, doubt: Pressure) {
        self.parting(self.side_of(element), doubt.in_wc(), |moved, by| {
            moved.moved.apart = Some((element, Pressure::from_in_wc(by)));
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

    /// Ports besides the two that gave the difference across the machine move the split of the path only.
    fn of_other_ports(&mut self, before: PortId, after: PortId) {
        let ports = self.inputs.job.path.ports.iter().map(|port| port.id);
        for port in ports.filter(|port| ![before, after].contains(port)) {
            let read = self.set.at(ReadAt::Port(port)).map(|_| self.place(ReadAt::Port(port)));
            self.either_way(read.unwrap_or_default(), |moved, by| {
                moved.moved.port = Some((port, Pressure::from_in_wc(by)));
                moved.sum.least = segments::least(moved.job, moved.table, &moved.sum.read, &moved.moved);
            });
        }
    }

    /// The path's exponent, the table, the tap that was read, and published drops.
    fn of_curves(&mut self) {
        let (inputs, accuracy) = (self.inputs, self.accuracy);
        self.either_way(from_95(accuracy.exponent), |moved, by| moved.moved.exponent = -by);
        // A table that is scaled by other readings' opinion errs with that.
        let scaled_elsewhere = inputs.anchored.filter(|anchored| !anchored.is_here());
        if scaled_elsewhere.is_none() {
            self.either_way(from_95(accuracy.table_fraction), |moved, by| moved.scale_all(1.0 + by));
        }
        let is_known = scaled_elsewhere.is_some_and(|anchored| anchored.is_of_tap(inputs.in_use));
        self.either_way(own_of_tap(inputs.shapes.get(inputs.in_use), self.now, accuracy), |moved, by| {
            // Scaled by what the tap itself was found to move, it is right and the others are off.
            if is_known {
                moved.scale_others(1.0 - by);
            } else {
                moved.scale_read_tap(1.0 + by);
            }
        });
        let data = if rests_on_data(inputs) { from_95(accuracy.data_fraction) } else { 0.0 };
        self.either_way(data, |moved, by| {
            moved.moved.data = by;
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
        let of_other_tap =
            if anchored.is_here() || anchored.is_of_tap(in_use) { 0.0 } else { from_95(self.accuracy.tap_fraction) };
        self.either_way(anchored.doubt().hypot(of_other_tap), |moved, by| {
            if anchored.is_here() {
                moved.anchored = Some(anchored.moved(by));
            } else {
                moved.scale_all(1.0 + by);
            }
        });
        self.either_way(anchored.apart(), |moved, by| moved.scale_others(1.0 + by));
    }

    fn of_guesses(&mut self, guesses: &[Guessed]) {
        for Guessed { guess, own, among } in guesses {
            let by = from_95(self.accuracy.guessed_odds.ln()) * own;
            self.parting(among.clone(), by, |moved, by| moved.moved.odds = Some((*guess, by.exp())));
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

/// Standard uncertainty of a tap by itself, as a fraction of its airflow: what it is off by, and what lies between rows far apart.
fn own_of_tap(shape: Option<&TapShape>, crossing: &Crossing, accuracy: &Accuracy) -> f64 {
    let between = match shape {
        Some(TapShape::Curve(curve)) => from_limit(curve.wide_row_doubt(crossing.entry) / crossing.airflow),
        Some(TapShape::Single(_) | TapShape::Unusable) | None => 0.0,
    };
    from_95(accuracy.tap_fraction).hypot(between)
}

/// What of the blower's air is told of a path's parts: all of it, what the rooms get, what is lost on the way.
pub type Told = fn(&[Part], Airflow) -> Airflow;

/// All of the blower's air.
pub const AT_BLOWER: Told = |_, blower| blower;

/// Taps whose spreads are wanted, one after the other in a table.
pub struct Taps<'a> {
    /// What is told of each.
    pub told: Told,
    /// The parts of the path that they are on, and of the path as found.
    pub parts: [&'a [Part]; 2],
    /// Index of the first.
    pub first: usize,
    /// What each does.
    pub crossings: &'a [Result<Crossing, NoCrossing>],
    /// Their curves.
    pub shapes: &'a [TapShape],
    /// What they work against.
    pub load: &'a SystemLoad,
    /// The causes that are reckoned with.
    pub counts: &'a dyn Fn(&Cause<'_>) -> bool,
    /// What is told of each where a cause is moved.
    pub project: &'a dyn Fn(&Cause<'_>) -> Vec<Option<Airflow>>,
    /// The tap of these whose own error moves today's airflow as well; none on another machine, whose table errs for itself.
    pub read: Option<usize>,
    /// How far each thing that moves these taps alone moves what is told of one of them, cfm.
    pub alone: &'a dyn Fn(usize, &Crossing) -> Vec<f64>,
}

/// Spreads of taps; `now` is today's airflow.
pub fn spreads(doubt: &Doubt<'_>, now: Airflow, accuracy: &Accuracy, taps: &Taps<'_>) -> Spreads {
    let (told, [parts, as_found]) = (taps.told, taps.parts);
    let today = told(as_found, now);
    let moved: Vec<(f64, Vec<Option<Airflow>>)> = doubt
        .causes
        .iter()
        .filter(|cause| (taps.counts)(cause))
        .map(|cause| {
            let Operation { now, parts, .. } = &cause.operation;
            ((told(parts, now.airflow) - today).cfm(), (taps.project)(cause))
        })
        .collect();
    let of_now = root_sum_square(moved.iter().map(|(now, _)| *now));
    let spread = |(index, crossing): (usize, &Result<Crossing, NoCrossing>)| {
        let crossing = crossing.as_ref().ok()?;
        let then = told(parts, crossing.airflow);
        let shifts = || moved.iter().filter_map(|(now, taps)| Some((now, ((*taps.get(index)?)? - then).cfm())));
        let alone = (taps.alone)(index, crossing);
        let alone = || alone.iter().copied().chain([taps.own(index, crossing, accuracy)]);
        let airflow = root_sum_square(shifts().map(|(_, tap)| tap).chain(alone()));
        let gain = root_sum_square(shifts().map(|(now, tap)| tap - now).chain(alone()));
        Some(Spread { airflow: at_95(airflow), gain: at_95(gain) })
    };
    let taps = taps.crossings.iter().enumerate().map(spread).collect();
    Spreads { now: at_95(of_now), tesp: doubt.tesp * COVERAGE, taps }
}

fn at_95(cfm: f64) -> Airflow {
    Airflow::from_cfm(COVERAGE * cfm)
}

impl Taps<'_> {
    /// How far the error of a tap's own curve moves it along the path, and what is told of it, cfm: its own, and its table's where that is another's.
    fn own(&self, index: usize, crossing: &Crossing, accuracy: &Accuracy) -> f64 {
        let shape = self.shapes.get(index);
        let own = own_of_tap(shape, crossing, accuracy);
        let fraction = match self.read {
            Some(read) if read == self.first + index => return 0.0,
            Some(_) => own,
            None => own.hypot(from_95(accuracy.table_fraction)),
        };
        let slope = match shape {
            Some(TapShape::Curve(curve)) => curve.value_and_slope(crossing.entry.in_wc()).1,
            Some(TapShape::Single(_) | TapShape::Unusable) | None => 0.0,
        };
        let asked = self.load.entry_and_slope(crossing.airflow.cfm()).1;
        let by = crossing.airflow * (fraction / (1.0 - slope * asked));
        let told = |airflow| (self.told)(self.parts[0], airflow);
        (told(crossing.airflow + by) - told(crossing.airflow)).cfm()
    }
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

/// The whole of it on one part: only the sum moves the table entry, and the parts' exponents hardly differ.
fn shift_inside(read: &mut ReadAcross, by: Pressure) {
    if let Some(inside) = read.inside.first_mut() {
        inside.drop += by;
    }
}

fn root_sum_square(parts: impl Iterator<Item = f64>) -> f64 {
    parts.map(|part| part * part).sum::<f64>().sqrt()
}
