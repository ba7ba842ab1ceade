//! How the settings file holds a person's company and first guesses.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::files::own_source::{self, SourceDto};
use crate::model::facts::company::Company;
use crate::model::facts::costs::LONGEST_CURRENCY;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::limits::LONGEST_LINE;
use crate::model::facts::numbers::job::PRICE;
use crate::model::facts::plain_text::one_line;
use crate::model::firsts::{Firsts, priced_cards};
use crate::report::form::Paper;
use crate::units::UnitSystem;

/// The words of the file for a paper; the compiler holds them against the program's.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Paper")]
pub(super) enum PaperDto {
    Letter,
    A4,
}

/// The company without its logo.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default, rename = "Company")]
pub(super) struct CompanyDto {
    name: String,
    address: String,
    town: String,
    contact: String,
}

impl CompanyDto {
    /// For the file.
    pub(super) fn of(company: &Company) -> Self {
        let [name, address, town, contact] = company.texts().map(str::to_owned);
        Self { name, address, town, contact }
    }

    /// From the file.
    pub(super) fn company(self) -> Company {
        let [name, address, town, contact] =
            [&self.name, &self.address, &self.town, &self.contact].map(|text| line(text));
        Company { name, address, town, contact, logo: None }
    }
}

/// A text as a line of a report holds it.
pub(super) fn line(text: &str) -> String {
    one_line(text).chars().take(LONGEST_LINE).collect()
}

/// The numbers of new jobs by the keys that a job's file has for them.
pub(super) fn numbers_by_key(firsts: &Firsts) -> BTreeMap<String, f64> {
    firsts.numbers.iter().map(|(which, value)| (which.number().file.to_owned(), *value)).collect()
}

/// First guesses from the file; what cannot be meant is left out, and told.
pub(super) fn firsts(
    (numbers, sources): (BTreeMap<String, f64>, BTreeMap<String, SourceDto>),
    currency: &str,
    prices: BTreeMap<String, f64>,
) -> (Firsts, Vec<String>) {
    let currency = line(currency).chars().take(LONGEST_CURRENCY).collect();
    let mut firsts = Firsts { currency, ..Firsts::default() };
    let mut told = Vec::new();
    for (key, value) in numbers {
        match number(&key, value) {
            Ok(which) => drop(firsts.numbers.insert(which, value)),
            Err(why) => told.push(why),
        }
    }
    for (key, source) in sources {
        match own_source::from_file(&key, &source) {
            Ok(named) => firsts.sources.extend(named),
            Err(key) => told.push(left_out("sources_of_new_jobs", &key)),
        }
    }
    for (name, price) in prices {
        match card(&name, price) {
            Ok(name) => drop(firsts.prices.insert(name, price)),
            Err(why) => told.push(why),
        }
    }
    (firsts, told)
}

fn number(key: &str, value: f64) -> Result<JobNumber, String> {
    let named = Firsts::may_be_set().find(|which| which.number().file == key);
    let which = named.ok_or_else(|| left_out("new_jobs", key))?;
    let checked = which.number().check(value);
    checked.map(|_| which).map_err(|refused| format!("In the settings: {}", refused.sentence(UnitSystem::InchPound)))
}

fn card(name: &str, price: f64) -> Result<&'static str, String> {
    let named = priced_cards().find(|card| card.name == name).ok_or_else(|| left_out("prices", name))?;
    let checked = PRICE.check(price);
    let told = |why: String| format!("In the settings, {name}: {why}");
    checked.map(|_| named.name).map_err(|refused| told(refused.sentence(UnitSystem::InchPound)))
}

fn left_out(of: &str, key: &str) -> String {
    let key: String = key.chars().take(40).collect();
    format!("{of} in the settings names \"{key}\", which is not known there and is left out")
}
