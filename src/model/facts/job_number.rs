//! The numbers that every job has a place for: each declared once, with what undo and the report call it and where it stands.
//!
//! Fields, edits, the check of a job and the check of a file iterate [`JobNumber::ALL`].

mod declared;

use crate::model::facts::figure_source::Whose;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, OutOfRange};
use crate::model::facts::readings::{ReadingSet, name_of_set};
use crate::units::UnitSystem;

pub use declared::JobNumber;

/// What is declared of a number of a job.
#[derive(Clone, Copy, Debug)]
struct Declared {
    number: Number,
    /// What undo calls it.
    undo: &'static str,
    /// What the report calls it.
    report: &'static str,
    stands: Stands,
}

/// Where a number stands.
#[derive(Clone, Copy, Debug)]
enum Stands {
    /// In every reading set.
    InSet(Slot<ReadingSet>),
    /// In the job, in a part of its file that sentences name.
    InJob(&'static str, Slot<Job>),
}

/// How a number is read and written.
#[derive(Debug)]
enum Slot<T: 'static> {
    /// It is always there.
    Always(fn(&T) -> f64, fn(&mut T, f64)),
    /// It may be left out.
    Maybe(fn(&T) -> Option<f64>, fn(&mut T, Option<f64>)),
}

impl<T> Clone for Slot<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Slot<T> {}

impl<T> Slot<T> {
    fn of(self, holder: &T) -> Option<f64> {
        match self {
            Self::Always(of, _) => Some(of(holder)),
            Self::Maybe(of, _) => of(holder),
        }
    }

    /// True when the value was put; nothing cannot be put where a number is always there.
    fn put(self, holder: &mut T, value: Option<f64>) -> bool {
        match (self, value) {
            (Self::Always(_, put), Some(value)) => put(holder, value),
            (Self::Always(..), None) => return false,
            (Self::Maybe(_, put), value) => put(holder, value),
        }
        true
    }
}

impl JobNumber {
    /// Its declaration.
    pub fn number(self) -> &'static Number {
        &self.declared().number
    }

    /// The figures that a person may know better, of which each says where it comes from.
    pub fn figures() -> impl Iterator<Item = Self> {
        Self::ALL.into_iter().filter(|figure| !figure.number().source.is_empty())
    }

    /// What undo calls it.
    pub fn undo(self) -> &'static str {
        self.declared().undo
    }

    /// What the report calls it.
    pub fn report(self) -> &'static str {
        self.declared().report
    }

    /// Its value in a job, by the judged reading set where it stands in one.
    pub fn of(self, job: &Job) -> Option<f64> {
        match self.declared().stands {
            Stands::InSet(slot) => slot.of(job.set()),
            Stands::InJob(_, slot) => slot.of(job),
        }
    }

    /// Its value as the program has it; nothing for what a new job does not have.
    pub fn built_in(self) -> Option<f64> {
        self.of(&Job::default())
    }

    /// Whose its value in a job is; a value that a person changed is never of the program's own source.
    pub fn whose(self, job: &Job) -> Whose {
        match job.sources.get(self.number().file) {
            Some(named) => Whose::Named(named.clone()),
            None if self.of(job) == self.built_in() => Whose::BuiltIn(self.number().source),
            None => Whose::Unsaid,
        }
    }

    /// Puts a value, or takes it away.
    ///
    /// # Errors
    /// The number, where it cannot be left out; the job is then unchanged.
    pub fn put(self, job: &mut Job, value: Option<f64>) -> Result<(), &'static Number> {
        let put = match self.declared().stands {
            Stands::InSet(slot) => job.set_mut().is_none_or(|set| slot.put(set, value)),
            Stands::InJob(_, slot) => slot.put(job, value),
        };
        if put { Ok(()) } else { Err(self.number()) }
    }

    /// The value of a typed text; nothing typed takes it away where it may be left out.
    ///
    /// # Errors
    /// See [`Number::typed`].
    pub fn typed(self, typed: &str, units: UnitSystem) -> Result<Option<f64>, String> {
        let may_be_left_out = match self.declared().stands {
            Stands::InSet(slot) => matches!(slot, Slot::Maybe(..)),
            Stands::InJob(_, slot) => matches!(slot, Slot::Maybe(..)),
        };
        if may_be_left_out && typed.trim().is_empty() {
            return Ok(None);
        }
        self.number().typed(typed, units).map(Some)
    }

    /// Refuses the first value that a file cannot hold, with the place where it stands: "Set 1 (As found)".
    ///
    /// # Errors
    /// Place and refusal.
    pub fn check_held(self, job: &Job) -> Result<(), (String, OutOfRange)> {
        let held = |value: Option<f64>| value.map_or(Ok(()), |value| self.number().check_held(value).map(drop));
        match self.declared().stands {
            Stands::InSet(slot) => job.sets.iter().enumerate().try_for_each(|(index, set)| {
                held(slot.of(set)).map_err(|refused| (name_of_set(index, &set.name), refused))
            }),
            Stands::InJob(place, slot) => held(slot.of(job)).map_err(|refused| (place.to_owned(), refused)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air::{WEATHER_SWING, standard_pressure};
    use crate::model::facts::figure_source::{NamedSource, SourcePart};
    use crate::units::Altitude;

    #[test]
    fn the_barometer_reads_what_weather_makes_where_houses_stand() {
        let (altitude, barometer) = (JobNumber::Altitude.number().range, JobNumber::StationPressure.number().range);
        let at = |feet: Option<f64>, swing| standard_pressure(Altitude::from_ft(feet.unwrap())).kpa() * (1.0 + swing);
        assert!((at(altitude.high(), -WEATHER_SWING) - barometer.low().unwrap()).abs() < 1e-9);
        assert!((at(altitude.low(), WEATHER_SWING) - barometer.high().unwrap()).abs() < 1e-9);
    }

    /// Only the old limit of a furnace's supply has no source, for nothing is held against it.
    #[test]
    fn every_limit_and_every_accuracy_says_where_it_comes_from() {
        let part = |figure: JobNumber| match figure.declared().stands {
            Stands::InJob(part, _) => part,
            Stands::InSet(_) => "",
        };
        let of_part = |figure: &JobNumber| ["Limits", "Accuracy"].contains(&part(*figure));
        let figures: Vec<JobNumber> = JobNumber::figures().chain([JobNumber::FurnaceSupplyDrop]).collect();
        for figure in JobNumber::ALL {
            assert_eq!(figures.contains(&figure), of_part(&figure), "{figure:?}");
        }
    }

    #[test]
    fn a_changed_figure_is_of_nobody_until_somebody_is_named() {
        for figure in JobNumber::figures() {
            let (mut job, key) = (Job::default(), figure.number().file);
            assert_eq!(figure.whose(&job), Whose::BuiltIn(figure.number().source), "{figure:?}");
            figure.put(&mut job, figure.built_in().map(|value| value * 0.9)).unwrap();
            assert_eq!(figure.whose(&job), Whose::Unsaid, "{figure:?}");
            NamedSource::put(&mut job.sources, key, SourcePart::Name, " Elm City ");
            NamedSource::put(&mut job.sources, key, SourcePart::Date, "2024");
            let named = NamedSource { name: "Elm City".to_owned(), date: "2024".to_owned() };
            assert_eq!(figure.whose(&job), Whose::Named(named), "{figure:?}");
            NamedSource::put(&mut job.sources, key, SourcePart::Name, " ");
            NamedSource::put(&mut job.sources, key, SourcePart::Date, "");
            assert!(job.sources.is_empty(), "{figure:?}");
        }
    }

    #[test]
    fn every_number_comes_back_as_it_was_put_and_a_new_job_has_its_first() {
        for number in JobNumber::ALL {
            let mut job = Job::default();
            let declared = number.number();
            assert!(!declared.file.is_empty() && declared.check(declared.first).is_ok(), "{number:?}");
            let stood = number.of(&job);
            assert!(
                stood.is_none_or(|value| (value - declared.first).abs() < 1e-15),
                "{number:?} is {stood:?} at first"
            );
            let other = declared.first + 0.01;
            number.put(&mut job, Some(other)).unwrap();
            assert_eq!(number.of(&job), Some(other), "{number:?}");
            assert_eq!(number.put(&mut job, None).is_ok(), stood.is_none(), "{number:?} may be left out or not");
        }
    }

    #[test]
    fn whoever_reads_metres_is_told_metres() {
        assert_eq!(
            JobNumber::Altitude.typed("40000", UnitSystem::SiLitres).unwrap_err(),
            "An altitude of 40,000 m cannot be; houses stand between −457 and 6,096 m"
        );
        assert_eq!(JobNumber::Voltage.typed(" ", UnitSystem::SiLitres), Ok(None));
    }
}
