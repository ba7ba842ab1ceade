//! What a person states of money besides each change's price.

/// Figures that costs are reckoned with, in the person's own money; all of them may be left out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Costs {
    /// Hours that the blower runs in a year as it does in the call of the readings, 0 to 8,784.
    pub fan_hours: Option<f64>,
    /// Price of a kilowatt-hour.
    pub energy_price: Option<f64>,
    /// Tax on prices, as a fraction.
    pub tax: Option<f64>,
}

impl Costs {
    /// True where nothing was stated.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
