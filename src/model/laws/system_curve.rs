//! Pressure drop of an air path against airflow: power laws and published drop data, added up in series.

use smallvec::SmallVec;

use crate::model::facts::drop_data::{AirRatio, DropData, SQUARE_LAW};
use crate::model::laws::duct::parallel::Ways;
use crate::units::{Airflow, Pressure};

/// `ΔP = C·Qⁿ`, Q in cfm, ΔP in in. w.c.; C may be negative where a drop is taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerLaw {
    /// Coefficient, in. w.c. a cfmⁿ.
    pub coefficient: f64,
    /// Exponent, 1 to 2.2.
    pub exponent: f64,
}

impl PowerLaw {
    /// The law with an exponent that passes through a measured point (airflow above zero).
    pub fn through(airflow: Airflow, drop: Pressure, exponent: f64) -> Self {
        Self { coefficient: drop.in_wc() / airflow.cfm().powf(exponent), exponent }
    }
}

/// A sum of drops.
///
/// Square-law parts are kept as one coefficient, so that the common case costs one multiplication.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemCurve {
    square: f64,
    laws: SmallVec<[PowerLaw; 2]>,
    beyond: Option<Box<Beyond>>,
}

/// What is no law of its own, which few paths have: data, ways side by side, warmed air.
#[derive(Clone, Debug, Default, PartialEq)]
struct Beyond {
    data: Vec<(DropData, f64)>,
    side_by_side: Vec<Ways>,
    warmed: Vec<(f64, SystemCurve)>,
}

impl SystemCurve {
    /// The square-law curve through one measured point.
    pub fn square_through(airflow: Airflow, drop: Pressure) -> Self {
        let mut curve = Self::default();
        curve.add_law(PowerLaw::through(airflow, drop, SQUARE_LAW));
        curve
    }

    /// Adds a power law in series.
    pub fn add_law(&mut self, law: PowerLaw) {
        if law.exponent.total_cmp(&SQUARE_LAW).is_eq() {
            self.square += law.coefficient;
            return;
        }
        match self.laws.iter_mut().find(|other| other.exponent.total_cmp(&law.exponent).is_eq()) {
            Some(other) => other.coefficient += law.coefficient,
            None => self.laws.push(law),
        }
    }

    /// Adds ducts that carry air warmed behind the blower: at a blower airflow Q they drop `1 + k/Q` times what they would at the blower's density.
    ///
    /// `k` is the airflow at which the heat would double the air's absolute temperature; the factor is the blower's density over the supply's, of an ideal gas at one pressure.
    pub fn add_warmed(&mut self, k: Airflow, curve: Self) {
        self.beyond().warmed.push((k.cfm(), curve));
    }

    /// Adds (factor 1) or takes off (factor −1) a part known by data.
    pub fn add_data(&mut self, data: &DropData, factor: f64) {
        match data.points() {
            [(airflow, drop)] => {
                let law = PowerLaw::through(*airflow, *drop * factor, data.exponent());
                self.add_law(law);
            }
            _ => self.beyond().data.push((data.clone(), factor)),
        }
    }

    /// Adds ways side by side, in series with the rest: flows add at equal drop (see [`crate::model::laws::duct::parallel`]).
    ///
    /// Each way must drop more the more air it passes.
    pub fn add_side_by_side(&mut self, ways: Vec<Self>) {
        self.beyond().side_by_side.push(Ways::new(ways));
    }

    fn beyond(&mut self) -> &mut Beyond {
        self.beyond.get_or_insert_default()
    }

    /// The same path with every drop multiplied by a factor (≥ 0).
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        self.each(
            |_exponent| factor,
            |beyond| Beyond {
                data: beyond.data.iter().map(|(data, sign)| (data.clone(), sign * factor)).collect(),
                side_by_side: beyond.side_by_side.iter().map(|ways| ways.scaled(factor)).collect(),
                warmed: beyond.warmed.iter().map(|(k, curve)| (*k, curve.scaled(factor))).collect(),
            },
        )
    }

    /// The same part against an airflow of which only a share (above zero) passes it: `drop(Q)` becomes `drop(share·Q)`, whatever its law.
    ///
    /// Above 1 for a part that got smaller: at the old drop it passes less.
    #[must_use]
    pub fn of_share(&self, share: f64) -> Self {
        self.each(
            |exponent| share.powf(exponent),
            |beyond| Beyond {
                data: beyond.data.iter().map(|(data, sign)| (data.of_share(share), *sign)).collect(),
                side_by_side: beyond.side_by_side.iter().map(|ways| ways.each_way(|way| way.of_share(share))).collect(),
                warmed: beyond.warmed.iter().map(|(k, curve)| (k / share, curve.of_share(share))).collect(),
            },
        )
    }

    /// The same path in air of another density, at the same airflow: every drop times `ratio^(n − 1)` with its own exponent n, so that a square-law part follows density.
    ///
    /// `ratio` is the air's density over the one that the curve holds for, above zero; viscosity is left alone.
    #[must_use]
    pub fn at_density(&self, ratio: f64) -> Self {
        let air = AirRatio { density: ratio, viscosity: 1.0 };
        self.each(
            |exponent| ratio.powf(exponent - 1.0),
            |beyond| Beyond {
                data: beyond.data.iter().map(|(data, sign)| (data.in_air(air), *sign)).collect(),
                side_by_side: beyond
                    .side_by_side
                    .iter()
                    .map(|ways| ways.each_way(|way| way.at_density(ratio)))
                    .collect(),
                warmed: beyond.warmed.iter().map(|(k, curve)| (*k, curve.at_density(ratio))).collect(),
            },
        )
    }

    /// Every law by a factor that its exponent tells, and what is no law by itself.
    fn each(&self, factor: impl Fn(f64) -> f64, beyond: impl Fn(&Beyond) -> Beyond) -> Self {
        let law = |law: &PowerLaw| PowerLaw { coefficient: law.coefficient * factor(law.exponent), ..*law };
        Self {
            square: self.square * factor(SQUARE_LAW),
            laws: self.laws.iter().map(law).collect(),
            beyond: self.beyond.as_deref().map(|rest| Box::new(beyond(rest))),
        }
    }

    /// Every part of another curve, in series.
    pub fn add(&mut self, other: &Self) {
        self.square += other.square;
        for law in &other.laws {
            self.add_law(*law);
        }
        if let Some(more) = &other.beyond {
            let beyond = self.beyond();
            beyond.data.extend_from_slice(&more.data);
            beyond.side_by_side.extend_from_slice(&more.side_by_side);
            beyond.warmed.extend_from_slice(&more.warmed);
        }
    }

    /// Drop at an airflow (≥ 0).
    pub fn drop_at(&self, airflow: Airflow) -> Pressure {
        Pressure::from_in_wc(self.value_and_slope(airflow.cfm()).0)
    }

    /// Drop in in. w.c. and its slope in in. w.c. a cfm, at an airflow in cfm.
    #[inline]
    pub fn value_and_slope(&self, cfm: f64) -> (f64, f64) {
        let cfm = cfm.max(0.0);
        let mut value = self.square * cfm * cfm;
        let mut slope = 2.0 * self.square * cfm;
        if (self.beyond.is_none() && self.laws.is_empty()) || cfm == 0.0 {
            return (value, slope);
        }
        let logarithm = cfm.ln();
        let mut steepness = 0.0;
        for law in &self.laws {
            let drop = law.coefficient * (law.exponent * logarithm).exp();
            value += drop;
            steepness += law.exponent * drop;
        }
        slope += steepness / cfm;
        let Some(beyond) = &self.beyond else {
            return (value, slope);
        };
        let (rest, rate) = beyond.value_and_slope(cfm);
        (value + rest, slope + rate)
    }
}

impl Beyond {
    /// Drop in in. w.c. and its slope at an airflow in cfm above zero; apart, so that what most paths are made of stays small enough to be put in line.
    #[inline(never)]
    fn value_and_slope(&self, cfm: f64) -> (f64, f64) {
        let (mut value, mut slope) = (0.0, 0.0);
        for (data, factor) in &self.data {
            let (coefficient, exponent) = data.law_at(Airflow::from_cfm(cfm));
            let drop = factor * coefficient * cfm.powf(exponent);
            value += drop;
            slope += exponent * drop / cfm;
        }
        for ways in &self.side_by_side {
            let (drop, rate) = ways.drop_and_slope(cfm);
            value += drop;
            slope += rate;
        }
        for (k, curve) in &self.warmed {
            let (drop, rate) = curve.value_and_slope(cfm);
            let factor = 1.0 + k / cfm;
            value += drop * factor;
            slope += rate * factor - drop * k / (cfm * cfm);
        }
        (value, slope)
    }
}

/// What a tap has to work against, in the table's own terms.
///
/// The table is entered with `(ΔP_path + corrections) / r`, r by the motor's own law; the plate is compared with ΔP_path alone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemLoad {
    /// External drop of the path, at the job's density.
    pub external: SystemCurve,
    /// Inside parts as they are less as they were tested, at the job's density.
    pub corrections: SystemCurve,
    /// What the static is divided by before the table is entered, above zero (see [`crate::model::laws::thin_air::entry_ratio`]).
    pub entry_ratio: f64,
}

impl SystemLoad {
    /// Total external static at an airflow.
    pub fn tesp(&self, airflow: Airflow) -> Pressure {
        self.external.drop_at(airflow)
    }

    /// ESP with which the table is entered at an airflow.
    pub fn entry(&self, airflow: Airflow) -> Pressure {
        Pressure::from_in_wc(self.entry_and_slope(airflow.cfm()).0)
    }

    /// Table entry in in. w.c. and its slope at an airflow in cfm.
    #[inline]
    pub fn entry_and_slope(&self, cfm: f64) -> (f64, f64) {
        let (external, external_slope) = self.external.value_and_slope(cfm);
        let (inside, inside_slope) = self.corrections.value_and_slope(cfm);
        ((external + inside) / self.entry_ratio, (external_slope + inside_slope) / self.entry_ratio)
    }

    /// TESP that corresponds to a table entry at an airflow.
    pub fn tesp_for_entry(&self, entry: Pressure, airflow: Airflow) -> Pressure {
        entry * self.entry_ratio - self.corrections.drop_at(airflow)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_square_law_passes_through_its_point() {
        let curve = SystemCurve::square_through(Airflow::from_cfm(1225.0), Pressure::from_in_wc(0.83));
        assert!((curve.drop_at(Airflow::from_cfm(1225.0)).in_wc() - 0.83).abs() < 1e-15);
        assert!((curve.drop_at(Airflow::from_cfm(2450.0)).in_wc() - 3.32).abs() < 1e-12);
    }

    /// A path with a law of each sort in it.
    fn of_every_sort() -> SystemCurve {
        let at = Airflow::from_cfm(1000.0);
        let law = |drop, exponent| {
            let mut curve = SystemCurve::default();
            curve.add_law(PowerLaw::through(at, Pressure::from_in_wc(drop), exponent));
            curve
        };
        let points =
            [(800.0, 0.10), (1600.0, 0.25)].map(|(cfm, drop)| (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop)));
        let mut curve = SystemCurve::square_through(at, Pressure::from_in_wc(0.4));
        curve.add(&law(0.2, 1.2));
        curve.add_data(&DropData::new(points.to_vec(), SQUARE_LAW).unwrap(), 1.0);
        curve.add_side_by_side(vec![law(0.9, 1.9), law(0.7, 1.1)]);
        curve.add_warmed(Airflow::from_cfm(100.0), law(0.3, 1.8));
        curve
    }

    #[test]
    fn a_share_of_the_air_takes_what_that_air_takes() {
        let curve = of_every_sort();
        for share in [0.5, 1.6] {
            for cfm in [600.0, 1000.0, 1900.0] {
                let right = curve.drop_at(Airflow::from_cfm(share * cfm));
                let found = curve.of_share(share).drop_at(Airflow::from_cfm(cfm));
                assert!((found / right - 1.0).abs() < 1e-9, "{share} of {cfm}: {found:?}, not {right:?}");
            }
        }
    }

    /// Square laws follow density, laminar ones do not, and ways side by side do each by its own.
    #[test]
    fn density_moves_each_law_by_its_own_exponent() {
        let at = Airflow::from_cfm(1000.0);
        let law = |exponent| {
            let mut curve = SystemCurve::default();
            curve.add_law(PowerLaw::through(at, Pressure::from_in_wc(0.2), exponent));
            curve
        };
        for (exponent, right) in [(2.0, 0.16), (1.0, 0.20), (1.5, 0.2 * 0.8_f64.sqrt())] {
            assert!((law(exponent).at_density(0.8).drop_at(at).in_wc() - right).abs() < 1e-12, "{exponent}");
            let mut alike = SystemCurve::default();
            alike.add_side_by_side(vec![law(exponent), law(exponent)]);
            let ratio = alike.at_density(0.8).drop_at(at) / alike.drop_at(at);
            assert!((ratio - right / 0.2).abs() < 1e-9, "side by side, {exponent}: {ratio}");
        }
    }

    #[test]
    fn the_slope_is_the_derivative() {
        let mut curve = SystemCurve::square_through(Airflow::from_cfm(1000.0), Pressure::from_in_wc(0.4));
        curve.add_law(PowerLaw::through(Airflow::from_cfm(1000.0), Pressure::from_in_wc(0.2), 1.2));
        let (below, _) = curve.value_and_slope(999.9);
        let (above, _) = curve.value_and_slope(1000.1);
        let (_, slope) = curve.value_and_slope(1000.0);
        assert!((slope - (above - below) / 0.2).abs() < 1e-9);
    }
}
