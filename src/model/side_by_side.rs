//! Options side by side: each worked out whole, in the call of the readings and in every other call that has a target.

use crate::model::answer::Answer;
use crate::model::facts::blower::Call;
use crate::model::facts::change::{Change, ChangeKind, OtherCall, Switch};
use crate::model::facts::costs::Costs;
use crate::model::facts::job::Job;
use crate::model::facts::options::Options;
use crate::model::solution::gain::Gain;
use crate::model::verdicts::system::{Projection, System};
use crate::model::verdicts::taps::TapPoint;
use crate::units::{Airflow, Power};

/// Watts of a kilowatt.
const WATTS_PER_KW: f64 = 1000.0;
/// No gain is told that is less: airflows are shown in steps of it.
const LEAST_TOLD: Airflow = Airflow::from_cfm(5.0);

/// An option, worked out.
#[derive(Clone, Debug)]
pub struct Column {
    /// The job with this option worked on.
    pub job: Job,
    /// What follows from it.
    pub answer: Answer,
    /// Where it runs in other calls that have a target, with the changes of the option.
    pub other_calls: Vec<(Call, Answer)>,
}

/// What was found, without any option; `of` works an answer out.
pub fn found(job: &Job, of: fn(&Job) -> Answer) -> Column {
    let found = Job { options: Options::default(), ..job.as_read(job.judged) };
    column(of(&found), found, of)
}

/// Every option of a job, in order; `answer` is the one to the job as it stands, `of` works the others out.
pub fn columns(job: &Job, answer: &Answer, of: fn(&Job) -> Answer) -> Vec<Column> {
    let options = (0..job.options.count()).filter_map(|index| job.with_option(index));
    let answered = |one: Job| {
        let answer = if one == *job { answer.clone() } else { of(&one) };
        column(answer, one, of)
    };
    options.map(answered).collect()
}

fn column(answer: Answer, job: Job, of: fn(&Job) -> Answer) -> Column {
    let read = job.set().call;
    let has_target = |call: &Call| *call != read && job.target_of(*call).is_some();
    let other_calls = Call::ALL.into_iter().filter(has_target).map(|call| (call, of(&in_call(&job, call))));
    let other_calls = other_calls.collect();
    Column { job, answer, other_calls }
}

/// The job with an option's changes in another call than the one that was read.
fn in_call(job: &Job, call: Call) -> Job {
    let mut then = job.clone();
    then.changes.retain(|change| !matches!(change.kind, ChangeKind::OtherCall(_)));
    let id = then.next_change();
    let kind = ChangeKind::OtherCall(OtherCall { call });
    then.changes.push(Change { id, kind, switch: Switch::On, price: None, labour: None, note: String::new() });
    then
}

impl Column {
    /// The option's name, or its number.
    pub fn called(&self) -> String {
        self.job.options.shown.called(self.job.options.index())
    }

    /// Its changes that are on, by their titles.
    pub fn work(&self) -> Vec<String> {
        self.job.changes.iter().filter(|change| change.is_on()).map(|change| change.kind.title(&self.job)).collect()
    }

    /// The changed system, where at least one change is put on.
    pub fn projection(&self) -> Option<&Projection> {
        self.answer.with_changes().filter(|after| after.counted(&self.job) > 0)
    }

    /// The system: changed, or as found where the option changes nothing.
    pub fn system(&self) -> Option<&System> {
        self.projection().map(|after| &after.system).or_else(|| Some(&self.answer.point()?.system))
    }

    /// Where it runs in the call of the readings.
    pub fn point(&self) -> Option<&TapPoint> {
        self.system()?.runs()
    }

    /// The system in each call that has a target, that of the readings first.
    pub fn systems(&self) -> Vec<(Call, Option<&System>)> {
        let others = self.other_calls.iter().map(|(call, answer)| (*call, answer.then()));
        [(self.job.set().call, self.system())].into_iter().chain(others).collect()
    }

    /// Where it runs in each of them.
    pub fn points(&self) -> Vec<(Call, Option<&TapPoint>)> {
        self.systems().into_iter().map(|(call, system)| (call, system.and_then(System::runs))).collect()
    }

    /// True where every call that has a target is in its band with it, and keeps every limit of the machine by the figures themselves, as the cheapest sets do.
    ///
    /// Nothing where no call has a target.
    pub fn is_answer(&self) -> Option<bool> {
        let judged = |(call, point): (Call, Option<&TapPoint>)| {
            point.is_some_and(|point| {
                let heat_is_kept = point.rise_of(call).is_none_or(|stage| !stage.is_starved() && !stage.is_cold());
                point.is_answer() && heat_is_kept && point.plate.is_none_or(|plate| plate.is_kept())
            })
        };
        let has_target = |call: Call| self.job.target_of(call).is_some();
        let calls: Vec<_> = self.points().into_iter().filter(|(call, _)| has_target(*call)).collect();
        (!calls.is_empty()).then(|| calls.into_iter().all(judged))
    }

    /// True where the ± of a call's airflow reaches past an edge of its band.
    pub fn is_near_an_edge(&self) -> bool {
        let near = |system: &System| {
            system.blower.target.zip(system.runs()).is_some_and(|(target, point)| point.is_near_edge(&target))
        };
        self.systems().into_iter().any(|(_, system)| system.is_some_and(near))
    }

    /// What it brings over what was found, and its ± (95 %).
    pub fn gain(&self) -> Option<(Gain, Airflow)> {
        let point = self.projection()?.system.runs()?;
        Some((point.gain, point.spread.gain))
    }

    /// What its changes cost before tax, and how many of them that are bought have no price; nothing where none has one.
    pub fn price(&self) -> Option<(f64, usize)> {
        self.projection()?.price(&self.job)
    }

    /// What of that is labour; nothing unless every priced change says it.
    pub fn labour(&self) -> Option<f64> {
        self.projection()?.labour(&self.job)
    }

    /// What of it is material.
    pub fn material(&self) -> Option<f64> {
        Some(self.price()?.0 - self.labour()?)
    }

    /// The same with the taxes that are stated; what has no labour apart is taxed whole as prices are.
    pub fn price_with_tax(&self) -> Option<f64> {
        self.projection()?.price_with_tax(&self.job)
    }

    /// Price of a unit of airflow gained, money/cfm; nothing where a price is missing, or the gain is no more than its ± or than airflows are told to.
    pub fn price_per_airflow(&self) -> Option<f64> {
        let (price, unpriced) = self.price()?;
        let (gain, spread) = self.gain()?;
        let is_told = unpriced == 0 && gain.most.is_none() && gain.least > spread.max(LEAST_TOLD);
        is_told.then(|| price / gain.least.cfm())
    }

    /// Energy that the blower takes in a year as it runs in the call of the readings, kWh.
    pub fn energy(&self) -> Option<f64> {
        energy(self.point()?.power?, &self.job.costs)
    }

    /// What that costs.
    pub fn energy_cost(&self) -> Option<f64> {
        Some(self.energy()? * self.job.costs.energy_price?)
    }
}

/// The options that bring every call into its band within the limits, by their places, and which of them costs least; nothing where no call has a target.
pub fn answers(options: &[Column]) -> Option<(Vec<usize>, Option<usize>)> {
    let judged: Vec<bool> = options.iter().map(Column::is_answer).collect::<Option<_>>()?;
    let answers: Vec<usize> = (0..options.len()).filter(|index| judged[*index]).collect();
    let whole = |index: &usize| options[*index].price().filter(|(_, unpriced)| *unpriced == 0).map(|(price, _)| price);
    let prices: Option<Vec<(usize, f64)>> = answers.iter().map(|index| Some((*index, whole(index)?))).collect();
    let least = prices.and_then(|prices| prices.into_iter().min_by(|one, other| one.1.total_cmp(&other.1)));
    Some((answers, least.map(|(index, _)| index)))
}

/// Energy of a blower in a year, kWh: watts × hours / 1,000.
pub fn energy(power: Power, costs: &Costs) -> Option<f64> {
    Some(power.watts() * costs.fan_hours? / WATTS_PER_KW)
}
