//! From readings to total external static pressure and to the ESP with which the table is entered.
//!
//! TESP is static at the table's outlet plane minus static at its inlet plane; a port that does not stand at its plane is brought there by the drops between, by data.
//! The table entry adds what inside parts drop more (or less) than when they were tested.

use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, Whereabouts};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::blower::{BlowerTable, CoilInTest, MotorFamily, ReturnOpenings, same_supply};
use crate::model::facts::change::Replacement;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::job::Job;
use crate::model::facts::readings::{CoilState, ReadingSet};
use crate::model::facts::standing::PathStanding;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::model::path::air::{self, DataAir};
use crate::model::path::parts::segments::{self, Least};
use crate::model::path::parts::{Moved, Part, Route};
pub use crate::model::path::read::{NotRead, ReadDifference};
use crate::model::path::read::{is_machine, read_difference, read_over};
use crate::units::{Airflow, Pressure};

/// Something that had to be taken for granted, and which way it errs.
#[derive(Clone, Debug, PartialEq)]
pub enum Assumption {
    /// An external part between port and plane has no data: TESP is at least what is shown.
    OutsideDropUnknown(ElementKind),
    /// An inside part between port and plane has no data: TESP is at most what is shown.
    InsideDropUnknown(ElementKind),
    /// A part that the table was made with is not there, or cut off from the blower by one that the table has not, and its drop as tested is not known: airflow errs on the low side.
    AsTestedUnknown(ElementKind),
    /// The coil is wet, the table dry, and prints no correction: airflow errs on the high side.
    WetCoilUnknown,
    /// The coil is dry, the table wet, and prints no correction: airflow errs on the low side.
    DryCoilUnknown,
    /// The return enters in another way than in the test, and the table prints no correction.
    ReturnOpeningsDiffer,
    /// The supply voltage is not the table's, and the table prints no correction: what it does follows the motor's family.
    VoltageDiffers(MotorFamily),
    /// A part's drop was brought in by data, not read.
    ByData(ElementKind),
    /// Airflow at another supply voltage follows the table's printed factor.
    VoltageByTable,
    /// Every tap of the table is scaled by another opinion on the airflow.
    Scaled(OpinionKind),
    /// The table was read off a picture of a chart, each tap's airflow to so many percent (95 %).
    ReadOffChart(f64),
}

impl Assumption {
    /// True for one that says how a table came about, all of whose error is in the ±: what follows is no less well founded.
    pub const fn is_within_spread(&self) -> bool {
        match self {
            Self::ReadOffChart(_) => true,
            Self::OutsideDropUnknown(_)
            | Self::InsideDropUnknown(_)
            | Self::AsTestedUnknown(_)
            | Self::WetCoilUnknown
            | Self::DryCoilUnknown
            | Self::ReturnOpeningsDiffer
            | Self::VoltageDiffers(_)
            | Self::ByData(_)
            | Self::VoltageByTable
            | Self::Scaled(_) => false,
        }
    }
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
    /// Parts by data on the return side, signed, for the split by side.
    pub before_plane: SystemCurve,
    /// Drops read straight across parts between ports and planes, at the airflow of the readings.
    pub read_across: ReadAcross,
    /// What each side takes at least.
    pub least: Least,
    /// Inside parts as they are by data, where their drop as tested is known.
    pub inside: Vec<InsideByData>,
    /// What else the table has otherwise: inside parts as they were tested (negative), a wet coil, the return's openings.
    pub corrections: SystemCurve,
    /// Factor on the table's airflow: for the supply voltage (1 at the table's own), times what an opinion in its place scales it by.
    pub airflow_factor: f64,
    /// The tap that an opinion in the table's place has moved by itself, with its factor.
    pub tap_factor: Option<(usize, f64)>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// The air at the blower over that of the data.
    pub air: DataAir,
    /// How warm the air behind the blower is, see [`air::warmth`].
    pub warmth: Option<Airflow>,
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
    /// Of inside parts whose drop as tested is known.
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

/// A part that the table contains, as it is by data.
#[derive(Clone, Debug, PartialEq)]
pub struct InsideByData {
    /// The part.
    pub part: ElementId,
    /// What it drops.
    pub now: SystemCurve,
}

/// A drop and its slope, in in. w.c. and in in. w.c. a cfm.
type Drop = (f64, f64);

impl StaticSum {
    /// A reading to which nothing has been added yet.
    fn bare(read: ReadDifference, air: DataAir, warmth: Option<Airflow>) -> Self {
        Self {
            read,
            to_planes: SystemCurve::default(),
            before_plane: SystemCurve::default(),
            read_across: ReadAcross::default(),
            least: Least::default(),
            inside: Vec::new(),
            corrections: SystemCurve::default(),
            airflow_factor: 1.0,
            tap_factor: None,
            assumptions: Vec::new(),
            air,
            warmth,
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
            Assumption::AsTestedUnknown(_)
            | Assumption::WetCoilUnknown
            | Assumption::DryCoilUnknown
            | Assumption::ReturnOpeningsDiffer
            | Assumption::VoltageDiffers(_)
            | Assumption::ByData(_)
            | Assumption::VoltageByTable
            | Assumption::Scaled(_)
            | Assumption::ReadOffChart(_) => None,
        })
    }

    /// What the two sides take at an airflow in cfm, from the rooms to the planes; nothing from a single total.
    fn sides(&self, cfm: f64) -> Option<(Drop, Drop)> {
        let ReadDifference::Ports { before: (_, before), after: (_, after) } = self.read else {
            return None;
        };
        let (planes, return_side) = (self.to_planes.value_and_slope(cfm), self.before_plane.value_and_slope(cfm));
        let across = &self.read_across;
        let behind = across.to_planes - across.before_plane;
        let at_least = |(drop, slope): Drop, least: Option<Pressure>| match least.map(Pressure::in_wc) {
            Some(least) if drop < least => (least, 0.0),
            Some(_) | None => (drop, slope),
        };
        let before = (return_side.0 + (across.before_plane - before).in_wc(), return_side.1);
        let after = (planes.0 - return_side.0 + (after + behind).in_wc(), planes.1 - return_side.1);
        Some((at_least(before, self.least.before), at_least(after, self.least.after)))
    }

    /// Total external static, and its slope, at an airflow in cfm.
    fn static_at(&self, cfm: f64) -> Drop {
        self.sides(cfm).map_or_else(
            || (self.read.across().in_wc(), 0.0),
            |(before, after)| (before.0 + after.0, before.1 + after.1),
        )
    }

    /// The static with which the table is entered, before the air's density counts, and its slope, at an airflow in cfm.
    pub fn entry_at(&self, cfm: f64) -> Drop {
        let by_data = self.inside.iter().map(|inside| inside.now.value_and_slope(cfm));
        let read = self.read_across.inside.iter().map(|inside| (inside.drop.in_wc(), 0.0));
        let all = by_data.chain(read).chain([self.corrections.value_and_slope(cfm)]);
        all.fold(self.static_at(cfm), |sum, next| (sum.0 + next.0, sum.1 + next.1))
    }

    /// Total external static at the airflow of the readings.
    pub fn tesp(&self, airflow: Airflow) -> Pressure {
        Pressure::from_in_wc(self.static_at(airflow.cfm()).0)
    }

    /// Static that the return side takes, from the rooms to the inlet plane; unknown from a single total.
    pub fn return_side(&self, airflow: Airflow) -> Option<Pressure> {
        Some(Pressure::from_in_wc(self.sides(airflow.cfm())?.0.0))
    }

    /// What the table has otherwise, as far as it follows from data.
    pub fn corrections_by_data(&self) -> SystemCurve {
        let mut curve = self.corrections.clone();
        self.inside.iter().for_each(|inside| curve.add(&inside.now));
        curve
    }

    /// The inside parts whose drop as it is and as tested are known, once the airflow of the readings is.
    pub fn inside_parts(&self, airflow: Airflow) -> Vec<Part> {
        let part = |id, own| Part {
            elements: vec![id],
            before_blower: true,
            route: Route::Inside,
            own,
            ways: Vec::new(),
            warmth: None,
            flow: airflow,
            leaks: false,
            apart: None,
            standing: PathStanding::Measured,
        };
        let read = self.read_across.inside.iter().map(|inside| {
            let mut own = SystemCurve::default();
            own.add_law(PowerLaw::through(airflow, inside.drop, inside.exponent));
            part(inside.part, own)
        });
        self.inside.iter().map(|inside| part(inside.part, inside.now.clone())).chain(read).collect()
    }
}

/// Everything between the readings of a job's first set and the table.
///
/// # Errors
/// Says which side has not been read.
pub fn sum(job: &Job, table: &BlowerTable) -> Result<StaticSum, NotRead> {
    let set = job.set();
    let read = read_difference(&job.path, table, set)?;
    let blower = set.air.at_blower(table.kind, set.call).density;
    let data_air = DataAir::of(&set.air, blower, table);
    let mut sum = StaticSum::bare(read, data_air, air::warmth(set, table, set.call));
    sum.least = segments::least(job, table, &sum.read, &Moved::default());
    bring_to_planes(&mut sum, &job.path, table, set);
    for kind in IN_TABLES {
        correct_part(&mut sum, &job.path, table, set, kind);
    }
    correct_return_openings(&mut sum, job.return_openings, table);
    correct_voltage(&mut sum, table, set);
    sum.assumptions.extend(table.basis.reading_error.map(Assumption::ReadOffChart));
    Ok(sum)
}

/// Density at the blower over the table's.
pub fn density_ratio(job: &Job, table: &BlowerTable) -> f64 {
    let air = job.set().air.at_blower(table.kind, job.set().call);
    air.density / table.basis.table_density()
}

/// Adds (1) or takes off (−1) what the table prints, in the job's air.
fn add_printed(sum: &mut StaticSum, data: &DropData, sign: f64) {
    sum.corrections.add_data(&data.in_air(sum.air.printed), sign);
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
    if is_machine(element) {
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
    match air::by_data(element, table, sum.air) {
        Some(data) => {
            let mut own = SystemCurve::default();
            own.add_data(&data.of_share(share), sign);
            match (side, sum.warmth) {
                (Side::Supply, Some(k)) => sum.to_planes.add_warmed(k, own),
                (Side::Supply, None) => sum.to_planes.add(&own),
                (Side::Return, _) => {
                    sum.to_planes.add(&own);
                    sum.before_plane.add(&own);
                }
            }
            sum.assumptions.push(Assumption::ByData(element.kind));
        }
        None if sign > 0.0 => sum.assumptions.push(Assumption::OutsideDropUnknown(element.kind)),
        None => sum.assumptions.push(Assumption::InsideDropUnknown(element.kind)),
    }
}

/// Kinds of parts that a table may have been made with.
const IN_TABLES: [ElementKind; 4] =
    [ElementKind::Filter, ElementKind::Coil, ElementKind::Heater, ElementKind::HeatExchanger];

/// A part of the table as it is, less as it was tested; what is not there, or stands outside the planes and is read with the rest of the static, was tested all the same.
fn correct_part(sum: &mut StaticSum, path: &AirPath, table: &BlowerTable, set: &ReadingSet, kind: ElementKind) {
    let is_of_table = |element: &&Element| element.kind == kind && AirPath::is_inside(element, &table.basis);
    let mut of_table = path.elements.iter().filter(is_of_table);
    let there = of_table.clone().find(|element| !set.parts_out.contains(&element.id));
    let part = there.or_else(|| of_table.next());
    let tested = match part {
        Some(element) => air::as_tested(element, table, sum.air),
        None => table.corrections.drop_of(kind).map(|data| data.in_air(sum.air.printed)),
    };
    let inside = path.inside(&table.basis);
    let within = there.and_then(|element| Some((element, path.index_of(element.id)?)));
    let within = within.filter(|(_, index)| inside.contains(index));
    if kind == ElementKind::Coil && (within.is_some() || there.is_some() && tested.is_some()) {
        wet_or_dry(sum, table, set.coil);
    }
    match (within, tested) {
        (Some((element, index)), Some(tested)) => {
            if let Some(drop) = read_over(path, set, index) {
                let read = InsideRead { part: element.id, drop, exponent: element.drop_exponent() };
                sum.read_across.inside.push(read);
            } else {
                let now = air::by_data(element, table, sum.air).unwrap_or_else(|| tested.clone());
                stands_inside(sum, element.id, &now);
            }
            sum.corrections.add_data(&tested, -1.0);
        }
        (None, Some(tested)) if table.basis.contains(kind) => sum.corrections.add_data(&tested, -1.0),
        (None, None) if table.basis.contains(kind) && kind != ElementKind::HeatExchanger => {
            sum.assumptions.push(Assumption::AsTestedUnknown(kind));
        }
        (Some(_) | None, _) => {}
    }
}

/// A part inside the planes as it is by data.
fn stands_inside(sum: &mut StaticSum, part: ElementId, now: &DropData) {
    let mut own = SystemCurve::default();
    own.add_data(now, 1.0);
    sum.inside.push(InsideByData { part, now: own });
}

/// What the table's own wet-coil drop has to be counted, and how often, for a coil in a state: +1 wet on a dry table, −1 dry on a wet one.
fn wet_coil_sign(table: &BlowerTable, state: CoilState) -> f64 {
    match (table.basis.coil, state) {
        (CoilInTest::Dry, CoilState::Wet) => 1.0,
        (CoilInTest::Wet, CoilState::Dry) => -1.0,
        (CoilInTest::Without, CoilState::Dry | CoilState::Wet)
        | (CoilInTest::Dry, CoilState::Dry)
        | (CoilInTest::Wet, CoilState::Wet) => 0.0,
    }
}

/// The step of an inside coil from one state to another: sign, and the drop that the table prints for it; nothing where it prints none.
pub(crate) fn wet_coil_step(table: &BlowerTable, now: CoilState, then: CoilState) -> Option<(f64, &DropData)> {
    let wet = table.corrections.wet_coil.as_ref()?;
    Some((wet_coil_sign(table, then) - wet_coil_sign(table, now), wet))
}

/// What stands between the table of a machine that is not there yet and the house: its inside parts as they will be less as they were tested, the house's return openings and voltage.
///
/// Its parts are as tested, or as stated, unless those of the house stay where the old table did not hold them.
pub(crate) fn sum_then(job: &Job, new: &Replacement, data_air: DataAir) -> StaticSum {
    let (set, table) = (job.set(), &new.table);
    let mut sum = StaticSum::bare(ReadDifference::Total(Pressure::ZERO), data_air, None);
    for (kind, stated) in
        [(ElementKind::Filter, &new.filter), (ElementKind::Coil, &new.coil), (ElementKind::Heater, &None)]
    {
        if table.basis.contains(kind) {
            comes_with(&mut sum, job, new, kind, stated.as_ref());
        }
    }
    correct_return_openings(&mut sum, job.return_openings, table);
    correct_voltage(&mut sum, table, set);
    sum.assumptions.extend(table.basis.reading_error.map(Assumption::ReadOffChart));
    sum
}

/// A part of a new machine's table: as stated, else as tested, in the place of the old one; what stays in the house in its stead leaves its place empty.
fn comes_with(sum: &mut StaticSum, job: &Job, new: &Replacement, kind: ElementKind, stated: Option<&DropData>) {
    let printed = new.table.corrections.drop_of(kind).map(|data| data.in_air(sum.air.printed));
    let stated = stated.map(|data| data.in_air(sum.air.own));
    let stays = stays_outside(job, new, kind).filter(|_| stated.is_none());
    let tested = match stays {
        Some(old) if old.whereabouts == Whereabouts::Cabinet => air::as_tested(old, &new.table, sum.air),
        Some(_) | None => printed.clone().or_else(|| stated.clone()),
    };
    if kind == ElementKind::Coil && (stays.is_none() || tested.is_some()) {
        wet_or_dry(sum, &new.table, job.set().coil);
    }
    let mut all = job.path.elements.iter();
    let old = all.find(|element| element.kind == kind && element.whereabouts == Whereabouts::Cabinet);
    match (stays, stated.or(printed), &tested) {
        (None, Some(now), Some(_)) => match old {
            Some(old) => stands_inside(sum, old.id, &now),
            None => sum.corrections.add_data(&now, 1.0),
        },
        (Some(_), _, None) => sum.assumptions.push(Assumption::AsTestedUnknown(kind)),
        (Some(_) | None, ..) => {}
    }
    if let Some(tested) = tested {
        sum.corrections.add_data(&tested, -1.0);
    }
}

/// A part of the house that stays where the old machine's planes do not hold it: a filter anywhere while its slot was empty, a coil or heater of the old table that is cut off from the blower.
fn stays_outside<'a>(job: &'a Job, new: &Replacement, kind: ElementKind) -> Option<&'a Element> {
    let is_there = |element: &&Element| {
        let gone = job.set().parts_out.contains(&element.id) || new.leaves.contains(&element.id);
        element.kind == kind && !gone
    };
    let here: Vec<&Element> = job.path.all().into_iter().filter(is_there).collect();
    let was_held = here.iter().any(|element| job.is_inside(element.id));
    let of_table = |element: &&Element| {
        let table = job.machine.as_ref();
        kind == ElementKind::Filter || table.is_some_and(|table| AirPath::is_inside(element, &table.basis))
    };
    here.into_iter().find(of_table).filter(|_| !was_held)
}

fn wet_or_dry(sum: &mut StaticSum, table: &BlowerTable, coil: CoilState) {
    let sign = wet_coil_sign(table, coil);
    let unknown = if sign > 0.0 { Assumption::WetCoilUnknown } else { Assumption::DryCoilUnknown };
    match &table.corrections.wet_coil {
        _ if sign == 0.0 => {}
        Some(wet) => add_printed(sum, wet, sign),
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
            add_printed(sum, data, 1.0);
        }
        _ => sum.assumptions.push(Assumption::ReturnOpeningsDiffer),
    }
}

/// What a PSC motor loses of its airflow at 208 V on a 230 V table (assumed).
const PSC_LOSES: f64 = 0.05;
/// Share of the table's voltage that this goes with.
const PSC_LOW_BY: f64 = 1.0 - 208.0 / 230.0;

/// Factor on the table's airflow at another supply, where the table prints none: a PSC motor slips, electronics hold torque or airflow (assumed).
fn at_other_supply(motor: MotorFamily, share: f64) -> f64 {
    match motor {
        MotorFamily::PermanentSplitCapacitor => (1.0 - PSC_LOSES * (1.0 - share) / PSC_LOW_BY).max(0.5),
        MotorFamily::ConstantTorque | MotorFamily::ConstantAirflow | MotorFamily::Unstated => 1.0,
    }
}

fn correct_voltage(sum: &mut StaticSum, table: &BlowerTable, set: &ReadingSet) {
    let (Some(read), Some(tested)) = (set.voltage, table.basis.voltage) else {
        return;
    };
    if same_supply(read, tested) {
        return;
    }
    match table.corrections.low_voltage {
        Some(low) if same_supply(read, low.voltage) => {
            sum.airflow_factor = low.airflow_factor;
            sum.assumptions.push(Assumption::VoltageByTable);
        }
        _ => {
            sum.airflow_factor = at_other_supply(table.motor, read / tested);
            sum.assumptions.push(Assumption::VoltageDiffers(table.motor));
        }
    }
}
