//! What of the path is known apart: the parts whose drops a reading, or data, tells from the others'.

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::limits::Limits;
use crate::model::facts::read_ports::{ReadPort, read_ports};
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::Part;
use crate::units::Pressure;

/// What has a limit of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Holds {
    /// Grille, duct, registers, damper: the ducts of a side have one limit together.
    Ducts,
    /// Each filter.
    Filter,
    /// Each coil.
    Coil,
    /// What no limit is known for.
    Other,
}

/// Elements whose drops are known together, and apart from all others.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Stretch {
    /// What it is, each kind once, in flow order.
    pub kinds: Vec<ElementKind>,
    /// What it takes as read.
    pub drop: Pressure,
    holds: Vec<(PathSide, Holds)>,
}

impl Stretch {
    /// True where all of it is on one side.
    pub(super) fn is_on(&self, side: PathSide) -> bool {
        self.holds.iter().all(|(on, _)| *on == side)
    }

    /// True where ducts are in it.
    pub(super) fn holds_ducts(&self) -> bool {
        self.holds.iter().any(|(_, holds)| *holds == Holds::Ducts)
    }

    /// The filters and coils in it, each kind once.
    pub(super) fn with(&self) -> impl Iterator<Item = ElementKind> {
        let has_limit = |kind: &&ElementKind| matches!(**kind, ElementKind::Filter | ElementKind::Coil);
        self.kinds.iter().filter(has_limit).copied()
    }

    /// What its filters and coils may take; nothing where there are none.
    pub(super) fn of_parts(&self, limits: &Limits) -> Option<Pressure> {
        let each = self.holds.iter().filter_map(|(_, holds)| match holds {
            Holds::Filter => Some(limits.filter_drop),
            Holds::Coil => Some(limits.coil_drop),
            Holds::Ducts | Holds::Other => None,
        });
        each.reduce(|one, other| one + other)
    }

    /// What all of it may take, where the ducts of its side may take so much; nothing where that is not known.
    pub(super) fn limit(&self, limits: &Limits, of_ducts: Option<Pressure>) -> Option<Pressure> {
        let parts = self.of_parts(limits);
        if self.holds_ducts() { Some(of_ducts? + parts.unwrap_or_default()) } else { parts }
    }

    /// True where both have something that is judged together.
    fn meets(&self, other: &Self) -> bool {
        self.holds.iter().any(|held| other.holds.contains(held))
    }

    fn join(mut self, other: Self) -> Self {
        let new = other.kinds.into_iter().filter(|kind| !self.kinds.contains(kind)).collect::<Vec<_>>();
        self.kinds.extend(new);
        for held in other.holds {
            if held.1 != Holds::Ducts || !self.holds.contains(&held) {
                self.holds.push(held);
            }
        }
        self.drop += other.drop;
        self
    }
}

/// The external path in stretches, as far as readings and data tell them apart; what a guess split is one again.
pub(super) fn of(job: &Job, parts: &[Part]) -> Vec<Stretch> {
    let ports = read_ports(job);
    let mut lumps: Vec<(Option<usize>, Stretch)> = Vec::new();
    for part in parts.iter().filter(|part| part.is_external()) {
        let Some(stretch) = of_part(job, part) else {
            continue;
        };
        let between = (part.standing == PathStanding::Shared).then(|| ports_before(job, &ports, part));
        match lumps.iter_mut().find(|(place, _)| place.is_some() && *place == between) {
            Some((_, lump)) => *lump = lump.clone().join(stretch),
            None => lumps.push((between, stretch)),
        }
    }
    let mut apart: Vec<Stretch> = Vec::new();
    for (_, lump) in lumps {
        let (meet, others): (Vec<_>, Vec<_>) = apart.into_iter().partition(|one| one.meets(&lump));
        apart = others;
        apart.push(meet.into_iter().chain([lump]).reduce(Stretch::join).unwrap_or_default());
    }
    apart
}

/// How many ports were read before a part.
fn ports_before(job: &Job, ports: &[ReadPort], part: &Part) -> usize {
    let first = part.elements.iter().filter_map(|id| job.path.index_of(*id)).min().unwrap_or_default();
    ports.iter().filter(|port| port.boundary <= first).count()
}

fn of_part(job: &Job, part: &Part) -> Option<Stretch> {
    let blower = job.path.blower()?;
    let mut found = Stretch { drop: part.drop_at(part.flow), ..Stretch::default() };
    for id in &part.elements {
        let side = if job.path.index_of(*id)? < blower { PathSide::Return } else { PathSide::Supply };
        let mut of_element = Stretch::default();
        // Filters of ways side by side stand beside each other: the air passes one of them.
        for kind in job.path.element(*id)?.all().iter().map(|within| within.kind) {
            let Some(holds) = holds(kind) else { continue };
            if !of_element.kinds.contains(&kind) {
                of_element.kinds.push(kind);
            }
            if !of_element.holds.contains(&(side, holds)) {
                of_element.holds.push((side, holds));
            }
        }
        found = found.join(of_element);
    }
    (!found.holds.is_empty()).then_some(found)
}

const fn holds(kind: ElementKind) -> Option<Holds> {
    match kind {
        ElementKind::ReturnGrille
        | ElementKind::ReturnDuct
        | ElementKind::SupplyDuct
        | ElementKind::Registers
        | ElementKind::Louvre
        | ElementKind::Damper => Some(Holds::Ducts),
        ElementKind::Filter => Some(Holds::Filter),
        ElementKind::Coil => Some(Holds::Coil),
        ElementKind::Heater | ElementKind::HeatExchanger | ElementKind::AirCleaner | ElementKind::Humidifier => {
            Some(Holds::Other)
        }
        ElementKind::Blower | ElementKind::Leak | ElementKind::Bypass | ElementKind::SideBySide => None,
    }
}
