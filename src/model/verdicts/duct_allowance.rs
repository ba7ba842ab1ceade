//! What is left of the static for the ducts, each side's share of it by length, and what the ducts take as read.
//!
//! The static that the ducts and parts may take together is the rated maximum, or the design static where one is stated.
//! Off it come the external parts whose drop is known: by data, by a reading of their own, or by a share that a person stated.
//! The rest is for the ducts, shared between return and supply by total effective length (see [`crate::model::laws::duct::available`]).
//! Everything is brought to one airflow, the target's where there is one, by each part's own law, so that it can be compared.
//!
//! What there is to share out is the lesser of the rated maximum and the static at which the tap that runs still delivers the target.
//! A grille, the registers or a damper that nobody knows takes the usual drop of one (see [`OPENING_DROP`]); any other part that nobody knows stays in the rest, and with a filter, a coil, a heater or a louvre the rest is *at most* what is shown.
//! Source: ANSI/ACCA 1 Manual D, recalled and not held against its text.

use crate::model::facts::air_path::{Element, ElementId, ElementKind};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::drop_data::AirRatio;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::limits::{OPENING_DROP, SHOWN_DIFFERENCE};
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::facts::standing::PathStanding;
use crate::model::laws::duct::available::{available_static, friction_rate, shared_by_length};
use crate::model::path::air;
use crate::model::path::parts::flows;
use crate::model::verdicts::needs::{Need, plate_limit};
use crate::model::verdicts::system::Running;
use crate::units::{Airflow, FrictionRate, Length, Pressure};

/// Where the static comes from that ducts and parts may take together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StaticFrom {
    /// The rating plate; in thin air what it allows as read.
    RatedMaximum,
    /// The highest static at which the tap that runs delivers the target, where that is under what the plate allows.
    Tap,
    /// Stated by a person.
    DesignStatic,
}

/// Which airflow everything was brought to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirflowFrom {
    /// The target's.
    Target,
    /// The one read, for there is no target.
    Reading,
}

/// A part that is taken off before the ducts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deduction {
    /// What it is.
    pub kind: ElementKind,
    /// Its drop at the allowance's airflow.
    pub drop: Pressure,
    /// How it is known.
    pub standing: PathStanding,
    /// True where nobody knows it and the usual drop of its kind was taken.
    pub is_usual: bool,
}

/// What the ducts of a side take.
#[derive(Clone, Debug, PartialEq)]
pub struct SideRead {
    /// Parts without a drop of their own that stand in it, in flow order.
    pub with: Vec<ElementKind>,
    /// Parts whose usual drop was taken off what was read, in flow order.
    pub less: Vec<ElementKind>,
    /// Drop at the airflow read.
    pub at_reading: Pressure,
    /// Drop brought to the allowance's airflow.
    pub at_allowance: Pressure,
    /// How it is known.
    pub standing: PathStanding,
}

impl SideRead {
    /// True where a part stands in it that takes too much to be counted with the ducts.
    pub fn holds_more(&self) -> bool {
        self.with.iter().any(|kind| weighs(*kind))
    }
}

/// The ducts of one side.
#[derive(Clone, Debug, PartialEq)]
pub struct DuctSide {
    /// Which one.
    pub side: PathSide,
    /// Its total effective length.
    pub length: Option<Length>,
    /// Its share of what is left; nothing while a length is missing or nothing is left.
    pub share: Option<Pressure>,
    /// What it takes; nothing where the readings do not tell the sides apart.
    pub read: Option<SideRead>,
}

impl DuctSide {
    /// Friction rate at the airflow read and at the allowance's; nothing while the length is not known, or while what was read is not the ducts' alone.
    pub fn rates(&self) -> Option<(FrictionRate, FrictionRate)> {
        let (read, length) = (self.read.as_ref().filter(|read| !read.holds_more()), self.length?);
        let read = read?;
        Some((friction_rate(read.at_reading, length).ok()?, friction_rate(read.at_allowance, length).ok()?))
    }

    /// What it takes over its share at the allowance's airflow; above 1 is too much.
    pub fn load(&self) -> Option<f64> {
        Some(self.read.as_ref()?.at_allowance / self.share?)
    }
}

/// What the length of a side's ducts says about what they take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthVerdict {
    /// More than their share.
    Over,
    /// Their share or less.
    Within,
    /// Not to be said: a length, a reading of the side or a part's data is missing, or nothing is left.
    NotSaid,
}

/// What is left for the ducts.
#[derive(Clone, Debug, PartialEq)]
pub struct DuctAllowance {
    /// Static that ducts and parts may take together.
    pub allowed: Pressure,
    /// Where it comes from.
    pub from: StaticFrom,
    /// The airflow that everything was brought to.
    pub airflow: Airflow,
    /// Where that comes from.
    pub airflow_from: AirflowFrom,
    /// The parts taken off, in flow order.
    pub taken: Vec<Deduction>,
    /// External parts without a drop of their own, in flow order.
    pub unknown: Vec<ElementKind>,
    /// What is left; zero or below means nothing.
    pub left: Pressure,
    /// Friction rate that spends it over both lengths.
    pub rate: Option<FrictionRate>,
    /// The sides that have a duct, as the air flows.
    pub sides: Vec<DuctSide>,
}

/// Works out what is left for the ducts; nothing unless a length or a design static is stated and there is a static to start from.
pub fn of(job: &Job, running: &Running) -> Option<DuctAllowance> {
    let table = job.machine.as_ref()?;
    let blower = &running.system.blower;
    if job.ducts.is_empty() {
        return None;
    }
    let (allowed, from) = match job.ducts.design_static {
        Some(design) => (design, StaticFrom::DesignStatic),
        None => to_share_out(running, table.rated_maximum)?,
    };
    let (airflow, airflow_from) = match blower.target {
        Some(target) => (target.actual, AirflowFrom::Target),
        None => (running.now.airflow, AirflowFrom::Reading),
    };
    let drops = drops(running, airflow);
    let data_air = air::over_standard(&job.set().air, blower.air.density);
    let places = external(job, table);
    let usual = |place: &Place| has_usual(place.kind).then(|| Deduction::usual(place.kind));
    let of_place = |place: &Place| taken(job, data_air, place, &drops, airflow).or_else(|| usual(place));
    let known: Vec<(Place, Deduction)> = places.iter().filter_map(|place| Some((*place, of_place(place)?))).collect();
    let is_unknown = |place: &&Place| !is_duct(place.kind) && known.iter().all(|(other, _)| other.id != place.id);
    let unknown: Vec<Place> = places.iter().filter(is_unknown).copied().collect();
    let side = |side: PathSide| {
        let duct = places.iter().find(|place| place.kind == side.duct() && place.side == side)?;
        let read = side_read(job, duct, (&known, &unknown), &drops, running.now.airflow / airflow);
        Some(DuctSide { side, length: job.ducts.length(side), share: None, read })
    };
    let parts: Vec<Pressure> = known.iter().map(|(_, taken)| taken.drop).collect();
    let mut allowance = DuctAllowance {
        allowed,
        from,
        airflow,
        airflow_from,
        left: available_static(allowed, &parts),
        taken: known.iter().map(|(_, taken)| *taken).collect(),
        unknown: unknown.iter().map(|place| place.kind).collect(),
        rate: None,
        sides: PathSide::BOTH.into_iter().filter_map(side).collect(),
    };
    allowance.share_by_length();
    Some(allowance)
}

/// The lesser of the rated maximum and the highest static at which the tap that runs delivers the target; nothing where neither is known.
fn to_share_out(running: &Running, rated_maximum: Option<Pressure>) -> Option<(Pressure, StaticFrom)> {
    let plate = rated_maximum.map(|plate| plate_limit(plate, running.system.blower.entry_ratio));
    let tap = running.system.running()?.need.as_ref().and_then(Need::highest);
    match (plate, tap) {
        (Some(plate), Some(tap)) if tap < plate => Some((tap, StaticFrom::Tap)),
        (Some(plate), _) => Some((plate, StaticFrom::RatedMaximum)),
        (None, tap) => Some((tap?, StaticFrom::Tap)),
    }
}

impl Deduction {
    /// A part that nobody knows, by the usual drop of its kind.
    const fn usual(kind: ElementKind) -> Self {
        Self { kind, drop: OPENING_DROP, standing: PathStanding::Assumed, is_usual: true }
    }
}

impl DuctAllowance {
    /// What the parts with data take together at the allowance's airflow.
    pub fn parts_take(&self) -> Pressure {
        self.taken.iter().map(|taken| taken.drop).sum()
    }

    /// True where the parts with data take all of it.
    pub fn is_spent(&self) -> bool {
        self.left <= Pressure::ZERO
    }

    /// Parts without data that take too much to stay in the rest; with any of them the rest is at most what is shown.
    pub fn missing(&self) -> Vec<ElementKind> {
        self.unknown.iter().copied().filter(|kind| weighs(*kind)).collect()
    }

    /// The ducts of a side.
    pub fn side(&self, side: PathSide) -> Option<&DuctSide> {
        self.sides.iter().find(|candidate| candidate.side == side)
    }

    /// What the length of a side's ducts says about what they take at the allowance's airflow.
    pub fn verdict(&self, side: PathSide) -> LengthVerdict {
        let Some(DuctSide { share: Some(share), read: Some(read), .. }) = self.side(side) else {
            return LengthVerdict::NotSaid;
        };
        if read.holds_more() {
            return LengthVerdict::NotSaid;
        }
        if read.at_allowance - *share > SHOWN_DIFFERENCE {
            // The share is at most this, so that it is over all the more.
            return LengthVerdict::Over;
        }
        if self.missing().is_empty() { LengthVerdict::Within } else { LengthVerdict::NotSaid }
    }

    /// The side whose ducts go furthest over their share.
    pub fn worst(&self) -> Option<&DuctSide> {
        let over = self.sides.iter().filter(|side| self.verdict(side.side) == LengthVerdict::Over);
        over.max_by(|one, other| one.load().unwrap_or_default().total_cmp(&other.load().unwrap_or_default()))
    }

    fn share_by_length(&mut self) {
        let lengths: Option<Vec<Length>> = self.sides.iter().map(|side| side.length).collect();
        let Some(lengths) = lengths else {
            return;
        };
        let Ok(rate) = friction_rate(self.left, lengths.iter().copied().sum()) else {
            return;
        };
        let shares = match lengths[..] {
            [back, out] => shared_by_length(self.left, back, out).map(|(back, out)| vec![back, out]).ok(),
            _ => Some(vec![self.left]),
        };
        self.rate = Some(rate);
        for (side, share) in self.sides.iter_mut().zip(shares.unwrap_or_default()) {
            side.share = Some(share);
        }
    }
}

/// Kinds that are ducts.
const fn is_duct(kind: ElementKind) -> bool {
    matches!(kind, ElementKind::ReturnDuct | ElementKind::SupplyDuct)
}

/// Kinds that take too much to be left in with the ducts when their drop is not known.
const fn weighs(kind: ElementKind) -> bool {
    matches!(kind, ElementKind::Filter | ElementKind::Coil | ElementKind::Heater | ElementKind::Louvre)
}

/// Kinds that take [`OPENING_DROP`] where nobody knows better.
const fn has_usual(kind: ElementKind) -> bool {
    matches!(kind, ElementKind::ReturnGrille | ElementKind::Registers | ElementKind::Damper)
}

/// An external element and where it stands.
#[derive(Clone, Copy, Debug)]
struct Place {
    index: usize,
    id: ElementId,
    kind: ElementKind,
    side: PathSide,
}

/// What an element counts as; ways side by side count as what weighs most in them, else as the duct they hold.
fn kind_of(element: &Element) -> ElementKind {
    let within: Vec<ElementKind> = element.all().iter().map(|within| within.kind).collect();
    let found = within.iter().find(|kind| weighs(**kind)).or_else(|| within.iter().find(|kind| is_duct(**kind)));
    found.copied().unwrap_or(element.kind)
}

/// External elements of the system, in flow order; a filter belongs to it even while it is out of its slot.
fn external(job: &Job, table: &BlowerTable) -> Vec<Place> {
    let inside = job.path.inside(&table.basis);
    let blower = job.path.blower().unwrap_or_default();
    let out = &job.set().parts_out;
    let elements = job.path.elements.iter().enumerate();
    elements
        .filter(|(index, element)| {
            let belongs = !out.contains(&element.id) || element.kind == ElementKind::Filter;
            let is_machine = matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger);
            belongs && !is_machine && !inside.contains(index)
        })
        .map(|(index, element)| Place {
            index,
            id: element.id,
            kind: kind_of(element),
            side: if index < blower { PathSide::Return } else { PathSide::Supply },
        })
        .collect()
}

/// A part of the path as found, at the airflow read and at the allowance's.
struct PartDrop {
    elements: Vec<ElementId>,
    standing: PathStanding,
    at_reading: Pressure,
    at_allowance: Pressure,
}

impl PartDrop {
    fn is(&self, id: ElementId) -> bool {
        self.elements == [id]
    }

    fn is_shared(&self) -> bool {
        self.standing == PathStanding::Shared
    }
}

/// The parts of the path as found; the only place here that looks into them.
fn drops(running: &Running, airflow: Airflow) -> Vec<PartDrop> {
    let parts = &running.system.parts;
    parts
        .iter()
        .filter(|part| part.is_external())
        .map(|part| PartDrop {
            elements: part.elements.clone(),
            standing: part.standing,
            at_reading: part.drop_at(part.flow),
            at_allowance: part.drop_at(flows::through(parts, part.route, airflow)),
        })
        .collect()
}

/// What a part with a drop of its own takes; one that was split off by the usual weights has none, nor has a duct.
fn taken(job: &Job, air: AirRatio, place: &Place, drops: &[PartDrop], airflow: Airflow) -> Option<Deduction> {
    if is_duct(place.kind) {
        return None;
    }
    let element = job.path.element(place.id)?;
    if let Some(drop) = drops.iter().find(|drop| drop.is(place.id)) {
        let is_known = !drop.is_shared() || element.share.is_some();
        return is_known.then_some(Deduction {
            kind: place.kind,
            drop: drop.at_allowance,
            standing: drop.standing,
            is_usual: false,
        });
    }
    let data = element.drop.as_ref().filter(|_| job.set().parts_out.contains(&place.id))?;
    let drop = data.in_air(air).at_airflow(airflow);
    Some(Deduction { kind: place.kind, drop, standing: PathStanding::Assumed, is_usual: false })
}

/// What the ducts of a side take: with the unknown parts that no reading tells apart from them, and less those that the usual drop is taken for.
///
/// `share` is the airflow read over the allowance's, by whose square a usual drop is brought to the reading.
fn side_read(
    job: &Job,
    duct: &Place,
    (known, unknown): (&[(Place, Deduction)], &[Place]),
    drops: &[PartDrop],
    share: f64,
) -> Option<SideRead> {
    let own = drops.iter().find(|drop| drop.elements.contains(&duct.id))?;
    let usual = || known.iter().filter(|(_, taken)| taken.is_usual).map(|(place, _)| place);
    let is_beside = |place: &Place| place.side == duct.side && own.elements.contains(&place.id);
    let is_of_this_side = |id: &ElementId| {
        *id == duct.id || unknown.iter().chain(usual()).any(|place| place.id == *id && is_beside(place))
    };
    if !own.elements.iter().all(is_of_this_side) {
        // A lump over both sides of the blower tells nothing of either.
        return None;
    }
    let shared = |place: &Place| {
        let drop = drops.iter().find(|drop| drop.is(place.id) && drop.is_shared())?;
        (own.is_shared() && place.side == duct.side && !port_between(job, place, duct)).then_some(drop)
    };
    let mut read = SideRead {
        with: Vec::new(),
        less: Vec::new(),
        at_reading: own.at_reading,
        at_allowance: own.at_allowance,
        standing: own.standing,
    };
    for place in unknown.iter().chain(usual()) {
        let split_off = shared(place);
        if let Some(drop) = split_off {
            read.at_reading += drop.at_reading;
            read.at_allowance += drop.at_allowance;
        }
        if split_off.is_none() && !is_beside(place) {
            continue;
        }
        if has_usual(place.kind) {
            read.less.push(place.kind);
            read.at_reading = (read.at_reading - OPENING_DROP * share * share).max(Pressure::ZERO);
            read.at_allowance = (read.at_allowance - OPENING_DROP).max(Pressure::ZERO);
        } else {
            read.with.push(place.kind);
        }
    }
    if own.is_shared() && !known.iter().any(|(place, taken)| !taken.is_usual && shared(place).is_some()) {
        // Put together again, it is the stretch that was read.
        read.standing = PathStanding::Measured;
    }
    Some(read)
}

/// Whether a port that was read stands between two elements.
fn port_between(job: &Job, one: &Place, other: &Place) -> bool {
    let between = one.index.min(other.index) + 1..=one.index.max(other.index);
    job.path.ports.iter().any(|port| {
        let is_read = job.set().at(ReadAt::Port(port.id)).and_then(Reading::average).is_some();
        is_read && job.path.elements_before(port.id).is_some_and(|passed| between.contains(&passed))
    })
}
