//! Another machine on the ducts as read, and what comes and goes with it.

use crate::model::change::on_parts::Place;
use crate::model::change::stated::{Ask, Held, Stated};
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind};
use crate::model::facts::blower::{BlowerTable, PartInTest};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::{OtherMachine, Replacement};
use crate::model::facts::drop_data::{DRY_COIL, DropData, MEDIA_FILTER};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::{NOMINAL_PER_TON, Target};
use crate::model::path::parts::Part;
use crate::units::UnitSystem;

impl Kind for OtherMachine {
    const DECLARATION: Declaration = Declaration {
        name: "Another machine",
        file: "OtherMachine",
        does: "Its own table, coil, filter and calls on the ducts as read",
        assumes: "The ducts stay; a load calculation, not the old machine, says what size is right",
        source: "Its blower table; the path as read without the parts that leave",
        cautions: &[Caution::Machine],
        lands: Lands::OnBlower,
        role: Role::Condition,
        stage: Stage::Machine,
        asks: Asks::Nothing,
    };

    /// Nothing to start from until a person has picked its table.
    fn first(_element: ElementId, start: &Start<'_>) -> Option<Self> {
        Some(Self::new(replacement(start.job, start.table?.clone())))
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Replacement { table, tap, leaves, coil, filter, target } = &mut **self;
        let own = |is_asked, data: &Option<DropData>, exponent| {
            let points = if data.is_some() { 2 } else { 1 };
            Ask { exponent, points: if is_asked { points } else { 0 } }
        };
        let of_coil = own(!table.basis.coil.is_included(), coil, DRY_COIL);
        let of_filter = own(table.basis.filter == PartInTest::Without, filter, MEDIA_FILTER);
        vec![
            Stated::one("machine", "", "Machine", Held::Machine(table)),
            Stated::one("tap", "", "Tap", Held::OwnTap(tap)),
            Stated::one("leaves", "", "Leaves", Held::Leaves(leaves)),
            Stated::one("coil", "Its coil: drop at", "Coil by its published drop", Held::OwnDrop(of_coil, coil)),
            Stated::one(
                "filter",
                "Its filter: drop at",
                "Filter by its published drop",
                Held::OwnDrop(of_filter, filter),
            ),
            Stated::one("target", "", "Target", Held::Target(target)),
        ]
    }

    fn put_on(&self, _parts: &mut Vec<Part>, _place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
        Ok(Effect::Machine(self))
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { machine: Some(&**self), ..Particulars::default() }
    }

    fn details(&self, job: &Job, units: UnitSystem) -> Option<String> {
        let word = self.table.motor.tap_word();
        let tap = match &self.tap {
            Some(tap) => format!("{word} {tap}"),
            None => format!("{word} by its call"),
        };
        let mut said = vec![self.table.name.clone(), tap];
        let name = |id: &ElementId| Some(job.path.name_of(*id)?.to_lowercase());
        let names: Vec<String> = self.leaves.iter().filter_map(name).collect();
        if !names.is_empty() {
            said.push(format!("leaves: {}", names.join(", ")));
        }
        let data = [("coil", &self.coil), ("filter", &self.filter)];
        said.extend(
            data.iter().filter_map(|(what, data)| Some(format!("{what} {}", told::drop_data(data.as_ref()?, units)))),
        );
        Some(said.join("; "))
    }

    fn holds(&self, _path: &AirPath) -> Vec<ElementId> {
        self.leaves.clone()
    }
}

/// Another machine as it is first put on the ducts of a job: the old machine's coil and heater outside its table leave, its cabinet filter too where the new table has one; a nominal capacity brings its own target.
///
/// The tap is left to the new table's map of calls where that has the call of the readings.
pub fn replacement(job: &Job, table: BlowerTable) -> Replacement {
    let call = job.set().call;
    let first_tap = || Some(table.calls.first().map_or(table.taps.first()?.name.as_str(), |(_, tap)| tap.as_str()));
    let tap = if table.tap_of_call(call).is_some() { None } else { first_tap().map(str::to_owned) };
    let leaves =
        may_leave(job).into_iter().filter(|element| leaves_at_first(element, &table)).map(|element| element.id);
    let per_ton = match job.target {
        Some(Target::PerTon { per_ton, .. }) => per_ton,
        Some(Target::Airflow(_) | Target::HeatRise { .. }) | None => NOMINAL_PER_TON,
    };
    Replacement {
        tap,
        leaves: leaves.collect(),
        coil: None,
        filter: None,
        target: table.cooling.map(|capacity| Target::PerTon { capacity, per_ton }),
        table,
    }
}

fn leaves_at_first(element: &Element, new: &BlowerTable) -> bool {
    matches!(element.kind, ElementKind::Coil | ElementKind::Heater)
        || (element.kind == ElementKind::Filter && AirPath::is_inside(element, &new.basis))
}

/// Elements that a person may let go with the old machine: parts of the equipment with a drop of their own. What the old table contains leaves anyway; ducts, grilles and registers stay as read.
pub fn may_leave(job: &Job) -> Vec<&Element> {
    let is_equipment = |kind| {
        use ElementKind as K;
        matches!(kind, K::Filter | K::Coil | K::Heater | K::AirCleaner | K::Humidifier | K::Damper)
    };
    let all = job.path.all().into_iter();
    all.filter(|element| is_equipment(element.kind) && !job.is_inside(element.id)).collect()
}

/// A part that a new machine will have and that nothing gives a drop of, so that static is at least what is shown: a coil or a filter that left with the old machine, not in the new table, and without data.
pub fn unknown_part(job: &Job, new: &Replacement) -> Option<ElementKind> {
    let stays = |kind| {
        let mut external = may_leave(job).into_iter();
        external.any(|element| element.kind == kind && !new.leaves.contains(&element.id) && !is_out(job, element))
    };
    let had = |kind| job.path.all().iter().any(|element| element.kind == kind && !is_out(job, element));
    let lacks =
        |kind, in_table: bool, data: &Option<DropData>| had(kind) && !in_table && data.is_none() && !stays(kind);
    let basis = &new.table.basis;
    if lacks(ElementKind::Coil, basis.coil.is_included(), &new.coil) {
        return Some(ElementKind::Coil);
    }
    lacks(ElementKind::Filter, basis.filter == PartInTest::Included, &new.filter).then_some(ElementKind::Filter)
}

fn is_out(job: &Job, element: &Element) -> bool {
    job.set().parts_out.contains(&element.id)
}
