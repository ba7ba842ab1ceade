//! From readings to total external static pressure and to the ESP with which the table is entered.
//!
//! TESP is static at the table's outlet plane minus static at its inlet plane; a port that does not stand at its plane is brought there by the drops between, by data.
//! The table entry adds what inside parts drop more (or less) than when they were tested.

use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, PortId};
use crate::model::facts::blower::{Basis, BlowerTable, CoilInTest, PartInTest, ReturnOpenings};
use crate::model::facts::change::Replacement;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::job::Job;
use crate::model::facts::readings::{CoilState, ReadAt, Reading, ReadingSet};
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::units::{Airflow, Pressure};

/// The raw difference that the manometer gave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadDifference {
    /// Two ports against the rooms.
    Ports {
        /// Port before the blower.
        before: (PortId, Pressure),
        /// Port after the blower.
        after: (PortId, Pressure),
    },
    /// One number, straight across the machine.
    Total(Pressure),
}

impl ReadDifference {
    /// Static after the blower minus static before it.
    pub fn across(&self) -> Pressure {
        match self {
            Self::Ports { before, after } => after.1 - before.1,
            Self::Total(total) => *total,
        }
    }
}

/// Why there is no total external static yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotRead {
    /// No readings at all.
    Nothing,
    /// Only the port after the blower is read.
    Before,
    /// Only the port before the blower is read.
    After,
}

/// Something that had to be taken for granted, and which way it errs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Assumption {
    /// An external part between port and plane has no data: TESP is at least what is shown.
    OutsideDropUnknown(ElementKind),
    /// An inside part between port and plane has no data: TESP is at most what is shown.
    InsideDropUnknown(ElementKind),
    /// The slot is empty, the table has the filter, its drop as tested is not printed: airflow errs on the low side.
    FilterAsTestedUnknown,
    /// The coil is wet, the table dry, and prints no correction: airflow errs on the high side.
    WetCoilUnknown,
    /// The coil is dry, the table wet, and prints no correction: airflow errs on the low side.
    DryCoilUnknown,
    /// The return enters in another way than in the test, and the table prints no correction.
    ReturnOpeningsDiffer,
    /// The supply voltage is not the table's, and the table prints no correction.
    VoltageDiffers,
    /// A part's drop was brought in by data, not read.
    ByData(ElementKind),
    /// Airflow at another supply voltage follows the table's printed factor.
    VoltageByTable,
}

/// Which way an airflow may differ from what is told, where a part's drop is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Bound {
    /// There may be less air, against more static: what is told is the most.
    pub less: bool,
    /// There may be more air, against less static: what is told is the least.
    pub more: bool,
}

impl Bound {
    /// True where nothing is left open.
    pub const fn is_exact(self) -> bool {
        !self.less && !self.more
    }

    /// Both together.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self { less: self.less || other.less, more: self.more || other.more }
    }
}

/// Readings, and what has to be added to them, at the flow that the answer gives.
#[derive(Clone, Debug, PartialEq)]
pub struct StaticSum {
    /// What the manometer gave.
    pub read: ReadDifference,
    /// Drops by data that bring the ports to the planes; inside ones count negative.
    pub to_planes: SystemCurve,
    /// Drops of inside parts as they are, less as they were tested.
    pub corrections: SystemCurve,
    /// Parts by data on the return side, signed, for the split by side.
    pub before_plane: SystemCurve,
    /// Drops read straight across parts between ports and planes, at the airflow of the readings.
    pub read_across: ReadAcross,
    /// Factor on the table's airflow for the supply voltage (1 at the table's own).
    pub airflow_factor: f64,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// ρ/ρ_table: drops by data are taken to be at the table's density and are brought to the job's.
    pub density_ratio: f64,
}

/// Drops that a manometer gave across single parts; they hold at the airflow of the readings only.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadAcross {
    /// Between ports and planes, signed like [`StaticSum::to_planes`].
    pub to_planes: Pressure,
    /// Of them, on the return side.
    pub before_plane: Pressure,
    /// The parts across which they were read.
    pub parts: Vec<ElementId>,
    /// Of inside parts, which the table has otherwise.
    pub inside: Vec<InsideRead>,
}

/// A drop read across a part that the table has otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InsideRead {
    /// The part.
    pub part: ElementId,
    /// Its drop at the airflow of the readings.
    pub drop: Pressure,
    /// Its exponent.
    pub exponent: f64,
}

impl StaticSum {
    /// A reading to which nothing has been added yet.
    fn bare(read: ReadDifference, density_ratio: f64) -> Self {
        Self {
            read,
            to_planes: SystemCurve::default(),
            corrections: SystemCurve::default(),
            before_plane: SystemCurve::default(),
            read_across: ReadAcross::default(),
            airflow_factor: 1.0,
            assumptions: Vec::new(),
            density_ratio,
        }
    }

    /// What parts between the ports and the planes leave open whose drop nobody gave.
    pub fn bound(&self) -> Bound {
        let any = |test: fn(&Assumption) -> bool| self.assumptions.iter().any(test);
        Bound {
            less: any(|assumption| matches!(assumption, Assumption::OutsideDropUnknown(_))),
            more: any(|assumption| matches!(assumption, Assumption::InsideDropUnknown(_))),
        }
    }

    /// The first part that [`StaticSum::bound`] rests on.
    pub fn unknown_part(&self) -> Option<ElementKind> {
        self.assumptions.iter().find_map(|assumption| match assumption {
            Assumption::OutsideDropUnknown(kind) | Assumption::InsideDropUnknown(kind) => Some(*kind),
            Assumption::FilterAsTestedUnknown
            | Assumption::WetCoilUnknown
            | Assumption::DryCoilUnknown
            | Assumption::ReturnOpeningsDiffer
            | Assumption::VoltageDiffers
            | Assumption::ByData(_)
            | Assumption::VoltageByTable => None,
        })
    }

    /// Total external static at the airflow of the readings.
    pub fn tesp(&self, airflow: Airflow) -> Pressure {
        self.read.across() + self.read_across.to_planes + self.to_planes.drop_at(airflow)
    }

    /// Static that the return side takes, from the rooms to the inlet plane; unknown from a single total.
    pub fn return_side(&self, airflow: Airflow) -> Option<Pressure> {
        match self.read {
            ReadDifference::Ports { before, .. } => {
                Some(-before.1 + self.read_across.before_plane + self.before_plane.drop_at(airflow))
            }
            ReadDifference::Total(_) => None,
        }
    }

    /// Drops of inside parts as they are less as they were tested, at the airflow of the readings.
    pub fn inside(&self, airflow: Airflow) -> Pressure {
        let read: Pressure = self.read_across.inside.iter().map(|inside| inside.drop).sum();
        read + self.corrections.drop_at(airflow)
    }

    /// The same as a curve, once the airflow of the readings is known.
    pub fn corrections_from(&self, airflow: Airflow) -> SystemCurve {
        let mut curve = self.corrections.clone();
        for inside in &self.read_across.inside {
            curve.add_law(PowerLaw::through(airflow, inside.drop, inside.exponent));
        }
        curve
    }
}

/// Which readings of a set give the difference across the machine.
///
/// With a total and two ports both read, the ports win, for they say more.
///
/// # Errors
/// Says which side is missing.
pub fn read_difference(path: &AirPath, basis: &Basis, set: &ReadingSet) -> Result<ReadDifference, NotRead> {
    let inside = path.inside(basis);
    let nearest = |before_blower: bool, plane: usize| {
        path.ports
            .iter()
            .filter(|port| path.is_before_blower(port.id) == Some(before_blower))
            .filter_map(|port| {
                // A port within a way reads a part of the air only.
                let passed = path.elements_before(port.id)?;
                Some((passed, port.id, set.at(ReadAt::Port(port.id))?.average()?))
            })
            .min_by_key(|(passed, ..)| passed.abs_diff(plane))
            .map(|(_, id, pressure)| (id, pressure))
    };
    let before = nearest(true, *inside.start());
    let after = nearest(false, *inside.end() + 1);
    let total = set.at(ReadAt::Total).and_then(Reading::average);
    match (before, after, total) {
        (Some(before), Some(after), _) => Ok(ReadDifference::Ports { before, after }),
        (_, _, Some(total)) => Ok(ReadDifference::Total(total)),
        (None, None, None) => Err(NotRead::Nothing),
        (None, Some(_), None) => Err(NotRead::Before),
        (Some(_), None, None) => Err(NotRead::After),
    }
}

/// Everything between the readings of a job's first set and the table.
///
/// # Errors
/// Says which side has not been read.
pub fn sum(job: &Job, table: &BlowerTable) -> Result<StaticSum, NotRead> {
    let set = job.set();
    let read = read_difference(&job.path, &table.basis, set)?;
    let mut sum = StaticSum::bare(read, density_ratio(job, table));
    bring_to_planes(&mut sum, &job.path, table, set);
    correct_filter(&mut sum, &job.path, table, set);
    correct_coil(&mut sum, &job.path, table, set);
    correct_return_openings(&mut sum, job.return_openings, table);
    correct_voltage(&mut sum, table, set);
    Ok(sum)
}

/// Density at the blower over the table's.
pub fn density_ratio(job: &Job, table: &BlowerTable) -> f64 {
    let air = job.set().air.at_blower(table.kind, job.set().call);
    air.density / table.basis.table_density()
}

/// Adds (1) or takes off (−1) a part by data at the job's density.
fn add_at_density(curve: &mut SystemCurve, data: &DropData, sign: f64, density_ratio: f64) {
    curve.add_data(data, sign * data.density_factor(density_ratio));
}

fn bring_to_planes(sum: &mut StaticSum, path: &AirPath, table: &BlowerTable, set: &ReadingSet) {
    let ReadDifference::Ports { before, after } = sum.read else {
        return;
    };
    let inside = path.inside(&table.basis);
    let inlet = *inside.start();
    let outlet = *inside.end() + 1;
    let before = path.elements_before(before.0).unwrap_or(inlet);
    let after = path.elements_before(after.0).unwrap_or(outlet);
    let elements = |from: usize, to: usize| path.elements.get(from..to).unwrap_or_default();
    let mut bring = |part: &[Element], side: Side, sign: f64| {
        for element in part.iter().filter(|element| !set.parts_out.contains(&element.id)) {
            let share = path.index_of(element.id).map_or(1.0, |index| path.share_through(index));
            add_part(sum, element, table, set, Stands { side, sign, share });
        }
    };
    bring(elements(before, inlet.max(before)), Side::Return, 1.0);
    bring(elements(inlet.min(before), before), Side::Return, -1.0);
    bring(elements(outlet.min(after), after), Side::Supply, 1.0);
    bring(elements(after, outlet.max(after)), Side::Supply, -1.0);
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Return,
    Supply,
}

/// How a part stands between a port and its plane.
#[derive(Clone, Copy)]
struct Stands {
    side: Side,
    /// Added (1) or taken off (−1).
    sign: f64,
    /// Share of the blower's air that passes it.
    share: f64,
}

/// Adds or takes off a part that stands between a port and its plane.
fn add_part(
    sum: &mut StaticSum,
    element: &Element,
    table: &BlowerTable,
    set: &ReadingSet,
    Stands { side, sign, share }: Stands,
) {
    if matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger) {
        return;
    }
    if let Some(read) = set.across(element.id) {
        sum.read_across.to_planes += read * sign;
        sum.read_across.parts.push(element.id);
        if side == Side::Return {
            sum.read_across.before_plane += read * sign;
        }
        return;
    }
    match element.drop.as_ref().or_else(|| printed_drop(element, table, sign < 0.0)) {
        Some(data) => {
            let data = data.of_share(share);
            add_at_density(&mut sum.to_planes, &data, sign, sum.density_ratio);
            if side == Side::Return {
                add_at_density(&mut sum.before_plane, &data, sign, sum.density_ratio);
            }
            sum.assumptions.push(Assumption::ByData(element.kind));
        }
        None if sign > 0.0 => sum.assumptions.push(Assumption::OutsideDropUnknown(element.kind)),
        None => sum.assumptions.push(Assumption::InsideDropUnknown(element.kind)),
    }
}

/// Drop that the table itself prints for an element: its filter's where that is part of the table, its heater's.
pub(crate) fn printed_drop<'a>(element: &Element, table: &'a BlowerTable, is_inside: bool) -> Option<&'a DropData> {
    let corrections = &table.corrections;
    if element.kind == ElementKind::Filter && is_inside {
        return corrections.filter_as_tested.as_ref();
    }
    corrections.heater.as_ref().filter(|_| element.kind == ElementKind::Heater)
}

fn cabinet_part<'a>(path: &'a AirPath, kind: ElementKind, out: &[ElementId]) -> Option<&'a Element> {
    path.elements.iter().find(|element| {
        element.kind == kind
            && element.whereabouts == crate::model::facts::air_path::Whereabouts::Cabinet
            && !out.contains(&element.id)
    })
}

/// A filter that the table has and the cabinet has not makes the table too pessimistic, and the other way round for one that is dirtier than as tested.
fn correct_filter(sum: &mut StaticSum, path: &AirPath, table: &BlowerTable, set: &ReadingSet) {
    if table.basis.filter == PartInTest::Without {
        return;
    }
    let tested = table.corrections.filter_as_tested.as_ref();
    match (cabinet_part(path, ElementKind::Filter, &set.parts_out), tested) {
        (None, _) => empty_slot(sum, table),
        (Some(filter), Some(tested)) => {
            if let Some(read) = set.across(filter.id) {
                sum.read_across.inside.push(InsideRead {
                    part: filter.id,
                    drop: read,
                    exponent: filter.drop_exponent(),
                });
                add_at_density(&mut sum.corrections, tested, -1.0, sum.density_ratio);
            } else if let Some(now) = &filter.drop {
                add_at_density(&mut sum.corrections, now, 1.0, sum.density_ratio);
                add_at_density(&mut sum.corrections, tested, -1.0, sum.density_ratio);
            }
        }
        (Some(_), None) => {}
    }
}

/// The table has a filter and the slot has none.
fn empty_slot(sum: &mut StaticSum, table: &BlowerTable) {
    match &table.corrections.filter_as_tested {
        _ if table.basis.filter == PartInTest::Without => {}
        Some(tested) => add_at_density(&mut sum.corrections, tested, -1.0, sum.density_ratio),
        None => sum.assumptions.push(Assumption::FilterAsTestedUnknown),
    }
}

/// What the table's own wet-coil drop has to be counted, and how often, for a coil in a state: +1 wet on a dry table, −1 dry on a wet one.
fn wet_coil_sign(table: &BlowerTable, state: CoilState) -> f64 {
    match (table.basis.coil, state) {
        (CoilInTest::Dry, CoilState::Wet) => 1.0,
        (CoilInTest::Wet, CoilState::Dry) => -1.0,
        _ => 0.0,
    }
}

/// The step of an inside coil from one state to another: sign, and the drop that the table prints for it; nothing where it prints none.
pub(crate) fn wet_coil_step(table: &BlowerTable, now: CoilState, then: CoilState) -> Option<(f64, &DropData)> {
    let wet = table.corrections.wet_coil.as_ref()?;
    Some((wet_coil_sign(table, then) - wet_coil_sign(table, now), wet))
}

/// What stands between the table of a machine that is not there yet and the house: its inside parts as they will be less as they were tested, the house's return openings and voltage.
///
/// Its slot holds a filter as tested, unless the old slot was empty and a filter elsewhere stays.
pub(crate) fn sum_then(job: &Job, new: &Replacement, density_ratio: f64) -> StaticSum {
    let (set, table) = (job.set(), &new.table);
    let mut sum = StaticSum::bare(ReadDifference::Total(Pressure::ZERO), density_ratio);
    let is_there = |element: &&Element| element.kind == ElementKind::Filter && !set.parts_out.contains(&element.id);
    let mut filters = job.path.all().into_iter().filter(is_there).filter(|filter| !new.leaves.contains(&filter.id));
    let was_in_slot = filters.clone().any(|filter| job.is_inside(filter.id));
    if !was_in_slot && filters.next().is_some() {
        empty_slot(&mut sum, table);
    }
    if table.basis.coil.is_included() {
        wet_or_dry(&mut sum, table, set.coil);
    }
    correct_return_openings(&mut sum, job.return_openings, table);
    correct_voltage(&mut sum, table, set);
    sum
}

fn correct_coil(sum: &mut StaticSum, path: &AirPath, table: &BlowerTable, set: &ReadingSet) {
    if cabinet_part(path, ElementKind::Coil, &set.parts_out).is_some() {
        wet_or_dry(sum, table, set.coil);
    }
}

fn wet_or_dry(sum: &mut StaticSum, table: &BlowerTable, coil: CoilState) {
    let sign = wet_coil_sign(table, coil);
    let unknown = if sign > 0.0 { Assumption::WetCoilUnknown } else { Assumption::DryCoilUnknown };
    match &table.corrections.wet_coil {
        _ if sign == 0.0 => {}
        Some(wet) => add_at_density(&mut sum.corrections, wet, sign, sum.density_ratio),
        None => sum.assumptions.push(unknown),
    }
}

fn correct_return_openings(sum: &mut StaticSum, openings: ReturnOpenings, table: &BlowerTable) {
    let tested = table.basis.return_openings;
    let unsaid = [openings, tested].contains(&ReturnOpenings::Unstated);
    if unsaid || openings == tested {
        return;
    }
    match &table.corrections.one_side_return {
        Some(data) if openings == ReturnOpenings::OneSide => {
            add_at_density(&mut sum.corrections, data, 1.0, sum.density_ratio);
        }
        _ => sum.assumptions.push(Assumption::ReturnOpeningsDiffer),
    }
}

/// Voltages closer than this share of the table's are the same supply (common practice, no source).
pub const SAME_VOLTAGE: f64 = 0.03;

fn correct_voltage(sum: &mut StaticSum, table: &BlowerTable, set: &ReadingSet) {
    let (Some(read), Some(tested)) = (set.voltage, table.basis.voltage) else {
        return;
    };
    let is_near = |other: crate::units::Voltage| (read / other - 1.0).abs() <= SAME_VOLTAGE;
    if is_near(tested) {
        return;
    }
    match table.corrections.low_voltage {
        Some(low) if is_near(low.voltage) => {
            sum.airflow_factor = low.airflow_factor;
            sum.assumptions.push(Assumption::VoltageByTable);
        }
        _ => sum.assumptions.push(Assumption::VoltageDiffers),
    }
}
