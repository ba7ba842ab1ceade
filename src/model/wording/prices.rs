//! What changes cost, in words: what is not priced is said beside every sum, so that none can be taken for the whole.

use crate::model::facts::change::Change;
use crate::model::facts::costs::Costs;
use crate::model::facts::job::Job;
use crate::model::facts::options::JobOption;
use crate::model::verdicts::system::Projection;
use crate::units::show;

/// What stands before what changes cost of labour and of material.
pub const APART: &str = "Labour and material";

/// What a change costs; of one that is bought and has no price, where others of the job have one, that it is not priced.
pub fn of_change(job: &Job, change: &Change) -> String {
    let is_missing = || change.kind.is_bought() && job.changes_of_all().any(|other| other.price.is_some());
    let missing = || if is_missing() { "not priced".to_owned() } else { String::new() };
    change.price.map_or_else(missing, |price| show::money(price, &job.costs.currency))
}

/// "$1,450", "$1,450, 1 of 3 not priced"; nothing where nothing is priced.
pub fn price(job: &Job, after: &Projection) -> Option<String> {
    Some(with_unpriced(job, after, after.price(job)?.0))
}

/// "none of 3 priced", of changes of which somebody has to pay for some.
pub fn none_priced(job: &Job, after: &Projection) -> Option<String> {
    let bought = after.bought(job);
    (bought > 0 && after.price(job).is_none()).then(|| format!("none of {bought} priced"))
}

/// "$90 + $150"; nothing unless every priced change says what of it is labour.
pub fn labour_and_material(job: &Job, after: &Projection) -> Option<String> {
    let labour = after.labour(job)?;
    let money = |price: f64| show::money(price, &job.costs.currency);
    Some(format!("{} + {}", money(labour), money(after.price(job)?.0 - labour)))
}

/// The price with tax; nothing where no tax is stated.
pub fn price_with_tax(job: &Job, after: &Projection) -> Option<String> {
    Some(with_unpriced(job, after, after.price_with_tax(job)?))
}

/// "Price with tax (7 %, labour 0 %)".
pub fn with_tax(costs: &Costs) -> String {
    format!("Price with tax{}", rates(costs))
}

/// The rates of tax: " (7 %, labour 0 %)"; empty where none is stated.
pub fn rates(costs: &Costs) -> String {
    let told = |rate: f64| format!("{} %", show::trimmed(rate * 100.0, 2));
    match (costs.tax, costs.labour_tax) {
        (None, None) => String::new(),
        (Some(tax), None) => format!(" ({})", told(tax)),
        (tax, Some(labour)) => format!(" ({}, labour {})", told(tax.unwrap_or(0.0)), told(labour)),
    }
}

fn with_unpriced(job: &Job, after: &Projection, price: f64) -> String {
    let told = show::money(price, &job.costs.currency);
    match after.price(job) {
        Some((_, unpriced)) if unpriced > 0 => format!("{told}, {unpriced} of {} not priced", after.bought(job)),
        Some(_) | None => told,
    }
}

/// What is said before a report is printed whose changes are not all priced, though somebody signs for them: a sentence without its period; nothing where all are.
pub fn before_signing(job: &Job) -> Option<String> {
    let several = job.options.count() > 1;
    let of_option = |(index, option): (usize, JobOption)| {
        let bought: Vec<&Change> = option.changes.iter().filter(|one| one.is_on() && one.kind.is_bought()).collect();
        let unpriced = bought.iter().filter(|change| change.price.is_none()).count();
        let called = if several { format!(" of {}", option.about.called(index)) } else { String::new() };
        let those = if bought.len() == 1 {
            "the only change".to_owned()
        } else {
            format!("{unpriced} of the {} changes", bought.len())
        };
        (unpriced > 0).then(|| (unpriced, format!("{those}{called}")))
    };
    let (counts, told): (Vec<usize>, Vec<String>) =
        job.all_options().into_iter().enumerate().filter_map(of_option).unzip();
    let verb = if counts.iter().sum::<usize>() == 1 { "has" } else { "have" };
    (!told.is_empty()).then(|| format!("Not all is priced that is signed for: {} {verb} no price", told.join(", ")))
}
