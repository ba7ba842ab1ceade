//! What a person's new jobs and new changes begin with: the figures of the own instrument, limits, costs, and the prices of usual changes.

use std::collections::BTreeMap;

use crate::model::change::Declaration;
use crate::model::change::kinds;
use crate::model::facts::change::ChangeKind;
use crate::model::facts::figure_source::Sources;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::units::show;

/// First guesses of a person's own; what is not named here is as the program has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Firsts {
    /// Numbers that a new job begins with, in their stored units.
    pub numbers: BTreeMap<JobNumber, f64>,
    /// Whose those numbers are, where a person named it.
    pub sources: Sources,
    /// How money is written in new jobs; dollars where nothing is.
    pub currency: String,
    /// Prices that new changes begin with, by the name of their card in the tray.
    pub prices: BTreeMap<&'static str, f64>,
}

impl Firsts {
    /// The numbers that new jobs can begin with, in the order in which they are shown: costs, then what the instrument is off by, then limits and the rest.
    pub fn may_be_set() -> impl Iterator<Item = JobNumber> {
        let (costs, instrument) = (Self::COSTS, Self::INSTRUMENT);
        let others = JobNumber::figures().filter(move |figure| !instrument.contains(figure));
        costs.into_iter().chain(instrument).chain(others)
    }

    /// What costs are reckoned with.
    pub const COSTS: [JobNumber; 5] =
        [JobNumber::FanHours, JobNumber::EnergyPrice, JobNumber::Tax, JobNumber::LabourTax, JobNumber::ValidDays];

    /// What a person's own manometer, wattmeter and thermometers are off by.
    pub const INSTRUMENT: [JobNumber; 6] = [
        JobNumber::ManometerFraction,
        JobNumber::ManometerFloor,
        JobNumber::PortOffset,
        JobNumber::ReadingScatter,
        JobNumber::WattmeterFraction,
        JobNumber::Thermometer,
    ];

    /// What a new job has there; nothing where it has nothing until somebody says it.
    pub fn number(&self, which: JobNumber) -> Option<f64> {
        self.numbers.get(&which).copied().or_else(|| which.of(&Job::default()))
    }

    /// An empty job that begins with them.
    pub fn job(&self) -> Job {
        let mut job = Job::default();
        job.costs.currency.clone_from(&self.currency);
        job.sources.clone_from(&self.sources);
        for (which, value) in &self.numbers {
            // A number that may be set can always be put.
            let _always_has_a_value = which.put(&mut job, Some(*value));
        }
        job
    }

    /// The price that a change on this job begins with; nothing where the list counts in another currency than the job.
    pub fn price(&self, kind: &ChangeKind, job: &Job) -> Option<f64> {
        self.listed(kind, job).filter(|_| self.counts_as(job))
    }

    /// The price that the list has for such a change, where it counts in another currency than the job.
    pub fn price_elsewhere(&self, kind: &ChangeKind, job: &Job) -> Option<f64> {
        self.listed(kind, job).filter(|_| !self.counts_as(job))
    }

    fn listed(&self, kind: &ChangeKind, job: &Job) -> Option<f64> {
        self.prices.get(card(kind, job)?.name).copied()
    }

    fn counts_as(&self, job: &Job) -> bool {
        show::currency_of(&self.currency) == show::currency_of(&job.costs.currency)
    }
}

/// The card of the tray that makes such a change.
pub fn card(kind: &ChangeKind, job: &Job) -> Option<&'static Declaration> {
    let on = kind.element().and_then(|id| job.path.element(id)).map(|element| element.kind);
    let is_of_kind = |card: &&Declaration| card.file == kind.declaration().file;
    let lands = |card: &&Declaration| on.is_none_or(|on| card.lands_on(on));
    kinds::tray().filter(is_of_kind).find(lands).or_else(|| kinds::tray().find(is_of_kind))
}

/// The cards that somebody is paid for.
pub fn priced_cards() -> impl Iterator<Item = &'static Declaration> {
    kinds::tray().filter(|card| kinds::blank(card).is_some_and(|kind| kind.is_bought()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air_path::{AirPath, ElementKind};
    use crate::model::facts::blower::{Basis, EquipmentKind};
    use crate::model::facts::change::CleanCoil;

    #[test]
    fn a_new_job_begins_with_the_own_figures_and_else_as_the_program_has_them() {
        let own = [(JobNumber::ManometerFraction, 0.005), (JobNumber::EnergyPrice, 0.21)];
        let firsts = Firsts { numbers: BTreeMap::from(own), ..Firsts::default() };
        let job = firsts.job();
        for (which, value) in own {
            assert_eq!((which.of(&job), firsts.number(which)), (Some(value), Some(value)));
        }
        assert_eq!(firsts.number(JobNumber::FanHours), None);
        assert_eq!(JobNumber::PortOffset.of(&job), JobNumber::PortOffset.of(&Job::default()));
        assert_eq!(Firsts::default().job(), Job::default());
    }

    /// The file names a number by its key: no two of those that may be set have one.
    #[test]
    fn every_number_that_may_be_set_is_named_once_and_has_a_key_of_its_own() {
        let all: Vec<JobNumber> = Firsts::may_be_set().collect();
        for (index, which) in all.iter().enumerate() {
            let is_same = |other: &JobNumber| other == which || other.number().file == which.number().file;
            assert!(!all[..index].iter().any(is_same), "{which:?}");
        }
    }

    #[test]
    fn a_filter_and_a_coil_that_are_cleaned_have_a_price_each() {
        let path = AirPath::for_equipment(EquipmentKind::Furnace, &Basis::default());
        let job = Job { path, ..Job::default() };
        let firsts =
            Firsts { prices: BTreeMap::from([("Clean filter", 20.0), ("Clean coil", 240.0)]), ..Firsts::default() };
        let price_on = |kind| {
            let element = job.path.all().iter().find(|element| element.kind == kind).unwrap().id;
            firsts.price(&CleanCoil { element, fraction: 0.3 }.into(), &job)
        };
        assert_eq!(price_on(ElementKind::Filter), Some(20.0));
        assert_eq!(price_on(ElementKind::Coil), Some(240.0));
        // A list in another currency than the job's puts no price on; nothing said is "$".
        let kind = job.path.first(ElementKind::Coil).map(|coil| CleanCoil { element: coil.id, fraction: 0.3 }.into());
        for (list, of_job, is_put) in [("EUR", "", false), ("", "EUR", false), ("$", "", true), ("EUR", "EUR", true)] {
            let firsts = Firsts { currency: list.to_owned(), ..firsts.clone() };
            let mut job = job.clone();
            job.costs.currency = of_job.to_owned();
            let kind = kind.as_ref().unwrap();
            let told = (firsts.price(kind, &job), firsts.price_elsewhere(kind, &job));
            let expected = if is_put { (Some(240.0), None) } else { (None, Some(240.0)) };
            assert_eq!(told, expected, "{list} and {of_job}");
        }
        assert!(priced_cards().any(|card| card.name == "Clean coil"));
        assert!(!priced_cards().any(|card| card.name == "Panel off"));
    }
}
