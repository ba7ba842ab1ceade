//! One setting that a person changes.

use crate::files::settings::own::line;
use crate::files::settings::{RECENT_FILES, Settings};
use crate::model::facts::company::Company;
use crate::model::facts::costs::LONGEST_CURRENCY;
use crate::model::facts::figure_source::{NamedSource, SourcePart};
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::limits::{LONGEST_LINE, TooMuch};
use crate::model::facts::numbers::job::PRICE;
use crate::model::facts::plain_text::fits;
use crate::report::form::Paper;

/// What is set.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// Whose reports they are.
    Company(Company),
    /// Paper of reports.
    Paper(Paper),
    /// A number that new jobs begin with, or nothing for the program's own.
    Number(JobNumber, Option<f64>),
    /// Whose a number of new jobs is, or of when; nothing typed names nobody.
    Source(JobNumber, SourcePart, String),
    /// The price that a new change begins with, by the name of its card; nothing for none.
    Price(&'static str, Option<f64>),
    /// How money is written in new jobs.
    Currency(String),
    /// Everything as it was before anybody set it; recent files stay.
    Reset,
}

impl Settings {
    /// Sets it.
    ///
    /// # Errors
    /// One sentence for a number that cannot be, in the units shown; everything then stays as it was.
    pub fn set(&mut self, setting: Setting) -> Result<(), String> {
        let units = self.units;
        match setting {
            Setting::Company(company) => {
                let [name, address, town, contact] = company.texts().map(line);
                self.company = Company { name, address, town, contact, logo: company.logo };
            }
            Setting::Paper(paper) => self.paper = paper,
            Setting::Number(which, None) => {
                self.firsts.numbers.remove(&which);
                self.firsts.sources.remove(which.number().file);
            }
            Setting::Source(which, part, text) => {
                fits(part.called(), &text, LONGEST_LINE).map_err(TooMuch::sentence)?;
                NamedSource::put(&mut self.firsts.sources, which.number().file, part, &line(&text));
            }
            Setting::Number(which, Some(value)) => {
                which.number().check(value).map_err(|refused| refused.sentence(units))?;
                self.firsts.numbers.insert(which, value);
            }
            Setting::Price(card, None) => drop(self.firsts.prices.remove(card)),
            Setting::Price(card, Some(price)) => {
                PRICE.check(price).map_err(|refused| refused.sentence(units))?;
                self.firsts.prices.insert(card, price);
            }
            Setting::Currency(text) => {
                fits("A currency", &text, LONGEST_CURRENCY).map_err(TooMuch::sentence)?;
                self.firsts.currency = line(&text);
            }
            Setting::Reset => {
                let mut recent = std::mem::take(&mut self.recent);
                recent.truncate(RECENT_FILES);
                let (window_points, window_place) = (self.window_points, self.window_place);
                *self = Self { recent, window_points, window_place, ..Self::default() };
            }
        }
        Ok(())
    }
}
