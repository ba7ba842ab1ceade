//! What a person states of money besides each change's price.

/// Most letters of a currency: "EUR", "kr.", "US dollars".
pub const LONGEST_CURRENCY: usize = 12;

/// Figures that costs are reckoned with, in the person's own money; all of them may be left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Costs {
    /// Hours that the blower runs in a year as it does in the call of the readings, 0 to 8,784.
    pub fan_hours: Option<f64>,
    /// Price of a kilowatt-hour.
    pub energy_price: Option<f64>,
    /// Tax on prices, as a fraction.
    pub tax: Option<f64>,
    /// Tax on labour, as a fraction, where it is another one.
    pub labour_tax: Option<f64>,
    /// How the money is written; dollars where nothing is.
    pub currency: String,
    /// For how many days prices hold, from the day that a report is signed on.
    pub valid_days: Option<f64>,
    /// Until when they hold, as typed (ISO 8601 is suggested).
    pub valid_until: String,
}

impl Costs {
    /// True where nothing was stated.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The price with tax, of which so much is labour; nothing where no tax is stated.
    pub fn with_tax(&self, price: f64, labour: f64) -> Option<f64> {
        let on_rest = self.tax.or(self.labour_tax.map(|_| 0.0))?;
        let on_labour = self.labour_tax.unwrap_or(on_rest);
        Some((price - labour) * (1.0 + on_rest) + labour * (1.0 + on_labour))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labour_and_the_rest_are_taxed_each_as_stated() {
        let rows = [
            // Tax, tax on labour, and 100 of which 40 are labour with them.
            (None, None, None),
            (Some(0.1), None, Some(110.0)),
            (Some(0.1), Some(0.0), Some(106.0)),
            (Some(0.1), Some(0.2), Some(114.0)),
            (None, Some(0.2), Some(108.0)),
        ];
        for (tax, labour_tax, expected) in rows {
            let costs = Costs { tax, labour_tax, ..Costs::default() };
            let told = costs.with_tax(100.0, 40.0);
            assert_eq!(told.map(|told| (told * 100.0).round() / 100.0), expected, "{tax:?} {labour_tax:?}");
        }
    }
}
