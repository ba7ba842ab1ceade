//! One declaration a number that a person or a file can give: what it is called, what it is of, what it can be, and the sentence for everything else.

use crate::units::quantity::Quantity;
use crate::units::show;
use crate::units::text::TextError;
use crate::units::{Pressure, UnitSystem};

/// A number that can be given, declared once; fields, edits, files, sliders and documentation ask it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// The name that a person sees.
    pub name: &'static str,
    /// Its key in a file; empty where no file holds it.
    pub file: &'static str,
    /// What it is of; its stored unit follows.
    pub quantity: Quantity,
    /// What it can be meant as, in the stored unit.
    pub range: Range,
    /// What a file may hold where that is more than can be meant: such a job opens, and its answer says what cannot be right.
    pub held: Option<Range>,
    /// What is usual in the trade, lowest and highest; a refusal names it.
    pub usual: Option<(f64, f64)>,
    /// Up to which size the value is an everyday one; a refusal then asks whether a decimal point slipped, or pascals were meant.
    pub everyday: Option<f64>,
    /// Begin of the refusal with `{}` for the value, up to where the range is said: "An altitude of {} cannot be; houses stand".
    pub refusal: Option<&'static str>,
    /// What it is at first, or an everyday one as an example.
    pub first: f64,
    /// What a slider reaches, where there is one.
    pub slider: Option<Slider>,
    /// Where the figure that it is at first comes from, for a person who may know better; empty for what is read or measured.
    pub source: &'static str,
}

/// What a number can be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Range {
    /// From the first to the second, both of them allowed.
    Between(f64, f64),
    /// Above the first and below the second.
    Inside(f64, f64),
    /// Above the first and at most the second.
    AboveTo(f64, f64),
    /// Anything above it.
    Above(f64),
    /// It or anything above it.
    AtLeast(f64),
    /// Any number.
    Any,
}

/// What a slider reaches; more can be typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slider {
    /// Lowest, stored unit.
    pub low: f64,
    /// Highest, stored unit.
    pub high: f64,
    /// From one stop to the next, stored unit.
    pub step: f64,
}

/// A number out of its range; [`OutOfRange::sentence`] says it in the units shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// Which number.
    pub number: &'static Number,
    /// What was given, in the stored unit.
    pub value: f64,
}

impl Number {
    /// A number with its range, and with nothing besides; its declaration says why it cannot be anything else.
    pub const fn new(name: &'static str, quantity: Quantity, range: Range) -> Self {
        Self {
            name,
            file: "",
            quantity,
            range,
            held: None,
            usual: None,
            everyday: None,
            refusal: None,
            first: 0.0,
            slider: None,
            source: "",
        }
    }

    /// The value itself where it can be meant.
    ///
    /// # Errors
    /// [`OutOfRange`], also for what is no finite number.
    #[inline]
    pub const fn check(&'static self, value: f64) -> Result<f64, OutOfRange> {
        self.within(self.range, value)
    }

    /// The value itself where a file may hold it: whatever can be meant, and more where [`Number::held`] says so.
    ///
    /// # Errors
    /// As [`Number::check`].
    pub const fn check_held(&'static self, value: f64) -> Result<f64, OutOfRange> {
        match self.held {
            Some(held) => self.within(held, value),
            None => self.check(value),
        }
    }

    #[inline]
    const fn within(&'static self, range: Range, value: f64) -> Result<f64, OutOfRange> {
        if range.has(value) { Ok(value) } else { Err(OutOfRange { number: self, value }) }
    }

    /// The value of a typed text.
    ///
    /// # Errors
    /// A sentence that names the number, the text and what would be right, in the units shown.
    pub fn typed(&'static self, typed: &str, units: UnitSystem) -> Result<f64, String> {
        let refused = |error: TextError| error.of_field(self.name, &self.example(units));
        let value = self.quantity.typed(typed, units).map_err(refused)?;
        self.check(value).map_err(|refused| refused.sentence(units))
    }

    /// What it can be and what is usual, in the units shown: "between 100 and 1,000 cfm/ton, and 350 to 450 is usual".
    pub fn said(&self, units: UnitSystem) -> String {
        let right = self.range.said(self.quantity, units);
        let usual = self.usual.map_or_else(String::new, |(low, high)| {
            let bare = |value| end(self.quantity, value, units);
            if low < high {
                format!(", and {} to {} is usual", bare(low), bare(high))
            } else {
                format!(", and {} is usual", bare(low))
            }
        });
        format!("{right}{usual}")
    }

    /// The sentence for nothing where a number has to be.
    pub fn nothing_typed(&self, units: UnitSystem) -> String {
        TextError::Empty.of_field(self.name, &self.example(units))
    }

    /// A text that would be right: what the number is at first, else the most that it can be.
    fn example(&self, units: UnitSystem) -> String {
        let right = if self.range.has(self.first) { self.first } else { self.range.high().unwrap_or(1.0) };
        self.quantity.bare(right, units)
    }
}

impl Range {
    /// True for a finite number within.
    #[inline]
    pub const fn has(self, value: f64) -> bool {
        value.is_finite()
            && match self {
                Self::Between(low, high) => low <= value && value <= high,
                Self::Inside(low, high) => low < value && value < high,
                Self::AboveTo(low, high) => low < value && value <= high,
                Self::Above(low) => low < value,
                Self::AtLeast(low) => low <= value,
                Self::Any => true,
            }
    }

    /// The low end, which may itself be shut out.
    pub const fn low(self) -> Option<f64> {
        match self {
            Self::Between(low, _)
            | Self::Inside(low, _)
            | Self::AboveTo(low, _)
            | Self::Above(low)
            | Self::AtLeast(low) => Some(low),
            Self::Any => None,
        }
    }

    /// The high end.
    pub const fn high(self) -> Option<f64> {
        match self {
            Self::Between(_, high) | Self::Inside(_, high) | Self::AboveTo(_, high) => Some(high),
            Self::Above(_) | Self::AtLeast(_) | Self::Any => None,
        }
    }

    /// "between −1,500 and 20,000 ft".
    fn said(self, quantity: Quantity, units: UnitSystem) -> String {
        let bare = |value| end(quantity, value, units);
        let full = |value| quantity.with_unit(&bare(value), units);
        match self {
            Self::Between(low, high) if low + high == 0.0 => format!("within ±{}", full(high)),
            Self::Between(low, high) => format!("between {} and {}", bare(low), full(high)),
            Self::Inside(low, high) => format!("above {} and below {}", bare(low), full(high)),
            Self::AboveTo(low, high) => format!("above {} and at most {}", bare(low), full(high)),
            Self::Above(0.0) => "above zero".to_owned(),
            Self::Above(low) => format!("above {}", full(low)),
            Self::AtLeast(0.0) => "zero or more".to_owned(),
            Self::AtLeast(low) => format!("{} or more", full(low)),
            Self::Any => "any number".to_owned(),
        }
    }
}

/// An end of a range, with as many digits as it has.
fn end(quantity: Quantity, value: f64, units: UnitSystem) -> String {
    match (quantity, units) {
        // Half a ton is written ½ in a field only.
        (Quantity::Capacity, UnitSystem::InchPound) => show::trimmed(value, 2),
        (other, _) => show::without_trailing_zeros(&other.bare(value, units)).to_owned(),
    }
}

impl OutOfRange {
    /// One sentence that names the number and the value and says what would be right, in the units shown.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let Self { number, value } = *self;
        let right = number.said(units);
        let value = self.value_said(value, units);
        let refusal = match number.refusal {
            Some(refusal) => refusal.replace("{}", &value),
            None => format!("{} cannot be {value}; it must be", number.name),
        };
        format!("{refusal} {right}{}", self.meant(units))
    }

    /// What a pressure past all reason may have been meant as: its decimal point slipped, or pascals.
    fn meant(&self, units: UnitSystem) -> String {
        let Some(everyday) = self.number.everyday.filter(|everyday| self.value.abs() > *everyday) else {
            return String::new();
        };
        let mut meant = Vec::new();
        if (self.value / 100.0).abs() <= everyday {
            meant.push(self.number.quantity.written(self.value / 100.0, units));
        }
        if units == UnitSystem::InchPound && Pressure::from_pa(self.value).in_wc().abs() <= everyday {
            meant.push(format!("{} Pa", show::trimmed(self.value, 1)));
        }
        if meant.is_empty() { String::new() } else { format!("; was {} meant?", meant.join(" or ")) }
    }

    /// The value with its unit; one that would be written like the end that it is past is said to be just past it.
    fn value_said(&self, value: f64, units: UnitSystem) -> String {
        let quantity = self.number.quantity;
        let said = quantity.written(value, units);
        let bare = end(quantity, value, units);
        let looks_like = |other: Option<f64>| other.is_some_and(|other| end(quantity, other, units) == bare);
        let range = self.number.range;
        match range {
            Range::Between(..) | Range::AtLeast(_) if looks_like(range.low()) => format!("just under {said}"),
            Range::Between(..) | Range::AboveTo(..) if looks_like(range.high()) => format!("just over {said}"),
            Range::Between(..)
            | Range::Inside(..)
            | Range::AboveTo(..)
            | Range::Above(_)
            | Range::AtLeast(_)
            | Range::Any => said,
        }
    }
}

impl std::fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.sentence(UnitSystem::InchPound))
    }
}

impl std::error::Error for OutOfRange {}

#[cfg(test)]
mod tests {
    use super::*;

    static ALTITUDE: Number = Number {
        refusal: Some("An altitude of {} cannot be; houses stand"),
        // Nobody lives elsewhere.
        ..Number::new("Altitude", Quantity::Altitude, Range::Between(-1500.0, 20_000.0))
    };
    /// No house has a larger duct.
    static DIAMETER: Number = Number::new("Duct diameter", Quantity::Dimension, Range::AboveTo(0.0, 100.0));
    static READING: Number = Number {
        refusal: Some("A reading of {} cannot be; it lies"),
        // No such blower makes more.
        ..Number::new("Reading", Quantity::Pressure, Range::Between(-5.0, 5.0))
    };
    static PER_TON: Number = Number {
        usual: Some((350.0, 450.0)),
        held: Some(Range::Above(0.0)),
        refusal: Some("A target of {} cannot be; it lies"),
        // 400 is nominal.
        ..Number::new("Airflow", Quantity::AirflowPerTon, Range::Between(100.0, 1000.0))
    };
    static PRICE: Number = Number {
        refusal: Some("A price of {} cannot be; it is"),
        // Nobody is paid for a fix.
        ..Number::new("Price", Quantity::Money, Range::AtLeast(0.0))
    };

    #[test]
    fn a_number_out_of_range_gets_one_sentence_in_the_units_shown() {
        let (ip, si) = (UnitSystem::InchPound, UnitSystem::SiLitres);
        let cases = [
            (&ALTITUDE, 40_000.0, ip, "An altitude of 40,000 ft cannot be; houses stand between −1,500 and 20,000 ft"),
            (&ALTITUDE, 40_000.0, si, "An altitude of 12,192 m cannot be; houses stand between −457 and 6,096 m"),
            (
                &ALTITUDE,
                20_000.1,
                ip,
                "An altitude of just over 20,000 ft cannot be; houses stand between −1,500 and 20,000 ft",
            ),
            (&ALTITUDE, f64::NAN, ip, "An altitude of NaN ft cannot be; houses stand between −1,500 and 20,000 ft"),
            (&DIAMETER, 400.0, ip, "Duct diameter cannot be 400 in; it must be above 0 and at most 100 in"),
            (&DIAMETER, 0.0, si, "Duct diameter cannot be 0 mm; it must be above 0 and at most 2,540 mm"),
            (&READING, -12.0, ip, "A reading of −12.00 in. w.c. cannot be; it lies within ±5 in. w.c."),
            (&READING, -12.0, si, "A reading of −2,989.1 Pa cannot be; it lies within ±1,245.4 Pa"),
            (
                &PER_TON,
                0.0,
                ip,
                "A target of 0 cfm/ton cannot be; it lies between 100 and 1,000 cfm/ton, and 350 to 450 is usual",
            ),
            (&PRICE, -5.0, ip, "A price of −5 cannot be; it is zero or more"),
        ];
        for (number, value, units, sentence) in cases {
            assert_eq!(number.check(value).unwrap_err().sentence(units), sentence);
        }
    }

    #[test]
    fn a_range_takes_its_ends_as_it_says_and_a_file_may_hold_more() {
        assert!(ALTITUDE.check(-1500.0).is_ok() && ALTITUDE.check(20_000.0).is_ok());
        assert!(DIAMETER.check(0.0).is_err() && DIAMETER.check(100.0).is_ok());
        assert!(PRICE.check(0.0).is_ok() && PRICE.check(f64::INFINITY).is_err());
        assert!(PER_TON.check(60.0).is_err() && PER_TON.check_held(60.0).is_ok() && PER_TON.check_held(0.0).is_err());
    }

    #[test]
    fn a_typed_text_gives_its_value_or_a_sentence_with_the_name() {
        let units = UnitSystem::SiLitres;
        assert!((ALTITUDE.typed("300 ft", units).unwrap() - 300.0).abs() < 1e-9);
        let empty = DIAMETER.typed("", units).unwrap_err();
        assert_eq!(empty, "Duct diameter: nothing is typed; it takes a number such as 2,540");
        assert_eq!(
            DIAMETER.typed("9 m", units).unwrap_err(),
            "Duct diameter cannot be 9,000 mm; it must be above 0 and at most 2,540 mm"
        );
    }
}
