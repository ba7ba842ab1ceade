//! Fittings of a run with their published loss coefficients, and a sum of them.

/// A fitting with its loss coefficient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitting {
    /// What it is.
    pub name: &'static str,
    /// Its loss coefficient C, to a hundredth, on the run's own velocity pressure.
    pub coefficient: f64,
    /// Where that comes from, with the proportions it holds for.
    pub source: &'static str,
}

/// What a sum of loss coefficients is made of.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FittingSum {
    /// What was typed, of fittings that are not known.
    pub typed: f64,
    /// Fittings, each with how many of them.
    pub fittings: Vec<(Fitting, u32)>,
}

/// Two sums nearer to each other than this are one, as they are typed: to a thousandth.
const SAME_SUM: f64 = 0.0005;

impl FittingSum {
    /// ΣC.
    pub fn sum(&self) -> f64 {
        let of = |(fitting, count): &(Fitting, u32)| fitting.coefficient * f64::from(*count);
        self.typed + self.fittings.iter().map(of).sum::<f64>()
    }

    /// Whether it makes a sum that stands in a field.
    pub fn makes(&self, sum: f64) -> bool {
        (self.sum() - sum).abs() < SAME_SUM
    }

    /// The same with one fitting more.
    #[must_use]
    pub fn with(mut self, fitting: Fitting) -> Self {
        match self.fittings.iter_mut().find(|(other, _)| *other == fitting) {
            Some((_, count)) => *count += 1,
            None => self.fittings.push((fitting, 1)),
        }
        self
    }
}
