//! A part's pressure drop by data: one or more published points of airflow and drop.

use crate::model::facts::number::OutOfRange;
use crate::model::facts::numbers::duct::EXPONENT;
use crate::model::facts::numbers::job::PUBLISHED_DENSITY;
use crate::model::facts::told::told;
use crate::units::{Airflow, Density, Pressure, UnitSystem, show};

/// Exponent for a part known at one airflow only: a square law, the law of fittings and grilles.
pub const SQUARE_LAW: f64 = 2.0;
/// Exponent of a media filter known at one airflow: measured mean of Q ~ ΔP^0.85 (Li et al. 2022, Sep. Purif. Technol. 284:120209, as the LBNL Modelica Buildings library cites it).
pub const MEDIA_FILTER: f64 = 1.0 / 0.85;
/// Exponent of a dry coil known at one airflow (common practice, no source).
pub const DRY_COIL: f64 = 1.8;

/// Exponent with which a leak's flow follows pressure, `Q ~ Δp^0.65` (the handbook, eq. 37).
pub const LEAK_FLOW_EXPONENT: f64 = 0.65;
/// Exponent of a leak as an element, `Δp = C·Qⁿ`.
pub const LEAK_EXPONENT: f64 = 1.0 / LEAK_FLOW_EXPONENT;

/// Exponent of laminar flow, the least that a part of an air path has: past printed points no drop moves less than its airflow.
const LAMINAR: f64 = 1.0;

/// Drops at or below this say nothing of a law: no instrument of the trade shows them.
const LEAST_DROP: Pressure = Pressure::from_in_wc(1e-5);

/// Airflow below which a printed point cannot be meant, and a law through it could not be written as a number.
const LEAST_AIRFLOW: Airflow = Airflow::from_cfm(0.01);

/// Drop past which a printed point cannot be meant: the whole atmosphere weighs 407 in. w.c., and drops without end could not be added up.
const HIGHEST_DROP: Pressure = Pressure::from_in_wc(1000.0);

/// Airflow past which a printed point cannot be meant: fifty times what the largest machine here moves (assumed).
const HIGHEST_AIRFLOW: Airflow = Airflow::from_cfm(1e6);

/// Steepest exponent between two printed points: a square-law part printed to 0.01 in. w.c. shows up to about 4.5 at its lowest drops; more is a typing error (assumed).
pub const STEEPEST: f64 = 6.0;

/// Exponent of the power law through two points; nothing where a drop is too small to say.
fn law_between(from: (Airflow, Pressure), to: (Airflow, Pressure)) -> Option<f64> {
    (from.1 > LEAST_DROP && to.1 > LEAST_DROP).then(|| (to.1 / from.1).ln() / (to.0 / from.0).ln())
}

told! {
    /// Why drop data cannot be used.
    DropDataError in units;
    /// No points at all.
    Empty = "A drop by data needs at least one point";
    /// A point's airflow is not above zero (0.01 cfm) or its drop is negative, or one is not finite.
    BadPoint(airflow: Airflow, drop: Pressure) = format!("A drop of {} cannot be; the airflow has to be above zero and the drop not below it", point(*airflow, *drop, units));
    /// A drop or an airflow that no part has.
    TooMuch(airflow: Airflow, drop: Pressure) = format!("A drop of {} cannot be; no part drops more than {} or passes more than {}", point(*airflow, *drop, units), show::pressure(HIGHEST_DROP, units), exact(HIGHEST_AIRFLOW, units));
    /// Two points at the same airflow, or airflows that do not rise.
    NotRising(airflow: Airflow) = format!("A point at {} stands behind one of as much air or more; airflows must rise from one point to the next", exact(*airflow, units));
    /// A drop that falls while airflow rises, at this airflow.
    DropFalls(airflow: Airflow) = format!("The drop falls while airflow rises to {}; a part cannot drop less the more air it passes", exact(*airflow, units));
    /// A drop that rises up to this airflow more steeply than any part's (see [`STEEPEST`]).
    TooSteep(airflow: Airflow) = format!("No part's drop rises as steeply as this one up to {}; is a digit wrong?", exact(*airflow, units));
    /// The exponent is outside 1 to 2.2.
    BadExponent(exponent: OutOfRange) = exponent.sentence(units);
    /// The air that the points were published in is none.
    BadAir(density: OutOfRange) = density.sentence(units);
}

fn exact(airflow: Airflow, units: UnitSystem) -> String {
    format!("{} {}", show::airflow_exact(airflow, units), units.airflow_unit())
}

fn point(airflow: Airflow, drop: Pressure, units: UnitSystem) -> String {
    format!("{} {} at {}", show::pressure_exact(drop, units), units.pressure_unit(), exact(airflow, units))
}

/// Air over the air that drops hold for: density and dynamic viscosity, each as a ratio above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirRatio {
    /// Density over density.
    pub density: f64,
    /// Dynamic viscosity over dynamic viscosity.
    pub viscosity: f64,
}

/// Drop against airflow: a power law through one point, power laws between several.
///
/// Between two points the curve is `ΔP = C·Qⁿ` through both; past the ends the nearest pair's exponent goes on, or that of laminar flow where printed figures stand still.
/// Valid for airflow ≥ 0; drops are zero at no flow.
#[derive(Clone, Debug, PartialEq)]
pub struct DropData {
    points: Vec<(Airflow, Pressure)>,
    exponent: f64,
    published: Option<Density>,
}

impl DropData {
    /// Data through `points` (rising airflow), with `exponent` (1 to 2.2) where there is only one.
    ///
    /// # Errors
    /// Names the first point that is out of order or out of range.
    pub fn new(points: Vec<(Airflow, Pressure)>, exponent: f64) -> Result<Self, DropDataError> {
        if points.is_empty() {
            return Err(DropDataError::Empty);
        }
        EXPONENT.check(exponent).map_err(DropDataError::BadExponent)?;
        let usable = |&(airflow, drop): &(Airflow, Pressure)| {
            airflow.is_finite() && airflow >= LEAST_AIRFLOW && drop.is_finite() && drop >= Pressure::ZERO
        };
        if let Some(&(airflow, drop)) = points.iter().find(|point| !usable(point)) {
            return Err(DropDataError::BadPoint(airflow, drop));
        }
        if let Some(&(airflow, drop)) =
            points.iter().find(|(airflow, drop)| *airflow > HIGHEST_AIRFLOW || *drop > HIGHEST_DROP)
        {
            return Err(DropDataError::TooMuch(airflow, drop));
        }
        if let Some(pair) = points.windows(2).find(|pair| pair[1].0 <= pair[0].0) {
            return Err(DropDataError::NotRising(pair[1].0));
        }
        if let Some(pair) = points.windows(2).find(|pair| pair[1].1 < pair[0].1) {
            return Err(DropDataError::DropFalls(pair[1].0));
        }
        if let Some(pair) = points.windows(2).find(|pair| law_between(pair[0], pair[1]).is_some_and(|n| n > STEEPEST)) {
            return Err(DropDataError::TooSteep(pair[1].0));
        }
        Ok(Self { points, exponent, published: None })
    }

    /// Data known at one airflow.
    ///
    /// # Errors
    /// As [`DropData::new`].
    pub fn at(airflow: Airflow, drop: Pressure, exponent: f64) -> Result<Self, DropDataError> {
        Self::new(vec![(airflow, drop)], exponent)
    }

    /// The same points, published in air of another density than standard air's; nothing for standard air.
    ///
    /// # Errors
    /// A density that no air of a test has.
    pub fn published_in(self, density: Option<Density>) -> Result<Self, DropDataError> {
        let checked = density.map(|density| PUBLISHED_DENSITY.check(density.lb_ft3())).transpose();
        let published = checked.map_err(DropDataError::BadAir)?.map(Density::from_lb_ft3);
        Ok(Self { published, ..self })
    }

    /// Density of the air that its points were published in, where somebody said it.
    pub const fn published(&self) -> Option<Density> {
        self.published
    }

    /// The points it was made of.
    pub fn points(&self) -> &[(Airflow, Pressure)] {
        &self.points
    }

    /// The exponent for a single point.
    pub const fn exponent(&self) -> f64 {
        self.exponent
    }

    /// Coefficient and exponent of the power law that holds at an airflow, `ΔP = C·Qⁿ` with Q in cfm and ΔP in in. w.c.
    pub fn law_at(&self, airflow: Airflow) -> (f64, f64) {
        let [.., last] = &self.points[..] else {
            return (0.0, self.exponent);
        };
        let pair = self.points.windows(2).find(|pair| airflow <= pair[1].0).or_else(|| self.points.windows(2).last());
        let between = pair.and_then(|pair| Some((pair[0], law_between(pair[0], pair[1])?)));
        let (point, exponent) = match between {
            Some((first, exponent)) if airflow < first.0 => (first, exponent.max(LAMINAR)),
            Some((_, exponent)) if airflow > last.0 => (*last, exponent.max(LAMINAR)),
            Some(within) => within,
            None => (*last, self.exponent),
        };
        (point.1.in_wc() / point.0.cfm().powf(exponent), exponent)
    }

    /// The same part in other air: with d and m the ratios of density and viscosity a point (Q, ΔP) becomes (Q·m/d, ΔP·m²/d), where Reynolds number and loss coefficient are the same.
    ///
    /// Data of which somebody said the air they were published in start from that air's density, in place of the one that the ratio is over.
    /// So `ΔP = C·Qⁿ` goes with d^(n − 1)·m^(2 − n) whatever n is there: a square-law part follows density, a laminar filter viscosity, and several points stay a curve without a step.
    #[must_use]
    pub fn in_air(&self, AirRatio { density, viscosity }: AirRatio) -> Self {
        let density = density * self.published.map_or(1.0, |published| Density::STANDARD / published);
        let similar = |(airflow, drop): &(Airflow, Pressure)| {
            (*airflow * (viscosity / density), *drop * (viscosity * viscosity / density))
        };
        Self { points: self.points.iter().map(similar).collect(), exponent: self.exponent, published: None }
    }

    /// The same part against an airflow of which only a share (above zero) passes it: past a bypass, or beside more of its kind.
    #[must_use]
    pub fn of_share(&self, share: f64) -> Self {
        let points = self.points.iter().map(|(airflow, drop)| (*airflow / share, *drop));
        Self { points: points.collect(), exponent: self.exponent, published: self.published }
    }

    /// Drop at an airflow (≥ 0), in the air of the data.
    pub fn at_airflow(&self, airflow: Airflow) -> Pressure {
        let (coefficient, exponent) = self.law_at(airflow);
        Pressure::from_in_wc(coefficient * airflow.cfm().max(0.0).powf(exponent))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(cfm: f64, in_wc: f64) -> (Airflow, Pressure) {
        (Airflow::from_cfm(cfm), Pressure::from_in_wc(in_wc))
    }

    #[test]
    fn two_points_give_coefficient_and_exponent() {
        let filter = DropData::new(vec![point(800.0, 0.10), point(1600.0, 0.25)], SQUARE_LAW).unwrap();
        let (_, exponent) = filter.law_at(Airflow::from_cfm(1200.0));
        assert!((exponent - 2.5_f64.log2()).abs() < 1e-12);
        assert!((filter.at_airflow(Airflow::from_cfm(1600.0)).in_wc() - 0.25).abs() < 1e-12);
        assert!((filter.at_airflow(Airflow::from_cfm(800.0)).in_wc() - 0.10).abs() < 1e-12);
    }

    /// Drops printed to a hundredth stand still between two airflows; past them no part takes as much at no air at all.
    #[test]
    fn past_printed_points_a_drop_falls_and_rises_at_least_as_fast_as_the_airflow() {
        for flat in [0.50, 0.4995] {
            let filter = DropData::new(vec![point(400.0, flat), point(800.0, 0.50)], SQUARE_LAW).unwrap();
            let at = |cfm| filter.at_airflow(Airflow::from_cfm(cfm)).in_wc();
            for (cfm, drop) in [(400.0, flat), (800.0, 0.50), (200.0, flat / 2.0), (4.0, flat / 100.0), (1600.0, 1.0)] {
                assert!((at(cfm) - drop).abs() < 1e-12, "{flat}: {} at {cfm}, not {drop}", at(cfm));
            }
        }
    }

    #[test]
    fn one_point_follows_its_exponent() {
        let grille = DropData::at(Airflow::from_cfm(1000.0), Pressure::from_in_wc(0.05), SQUARE_LAW).unwrap();
        assert!((grille.at_airflow(Airflow::from_cfm(2000.0)).in_wc() - 0.20).abs() < 1e-12);
        assert!(grille.at_airflow(Airflow::ZERO).in_wc().abs() < 1e-12);
    }

    #[test]
    fn a_square_law_part_follows_density_and_a_laminar_one_viscosity() {
        let at = Airflow::from_cfm(1000.0);
        let thin = AirRatio { density: 0.8, viscosity: 1.05 };
        let part = |exponent| DropData::at(at, Pressure::from_in_wc(0.20), exponent).unwrap().in_air(thin);
        assert!((part(SQUARE_LAW).at_airflow(at).in_wc() - 0.16).abs() < 1e-12);
        assert!((part(1.0).at_airflow(at).in_wc() - 0.21).abs() < 1e-12);
    }

    /// A filter tested at 5,000 ft, ρ = 0.0624 lb/ft³, there drops what was printed; in standard air by (0.075/0.0624)^(n − 1) more.
    #[test]
    fn data_start_from_the_air_that_they_were_published_in() {
        let (at, drop) = point(1000.0, 0.20);
        let high = Density::from_lb_ft3(0.0624);
        for (exponent, factor) in [(SQUARE_LAW, 0.075 / 0.0624), (1.2, (0.075_f64 / 0.0624).powf(0.2)), (1.0, 1.0)] {
            let data = DropData::at(at, drop, exponent).unwrap().published_in(Some(high)).unwrap();
            let in_air = |density| data.in_air(AirRatio { density, viscosity: 1.0 }).at_airflow(at) / drop;
            assert!((in_air(0.0624 / 0.075) - 1.0).abs() < 1e-12, "{exponent}");
            assert!((in_air(1.0) - factor).abs() < 1e-12, "{exponent}");
        }
        let none = DropData::at(at, drop, SQUARE_LAW).unwrap().published_in(Some(Density::from_lb_ft3(0.75)));
        assert!(none.unwrap_err().sentence(UnitSystem::InchPound).contains("0.75"));
    }

    #[test]
    fn a_part_past_a_bypass_drops_what_its_share_of_the_air_drops() {
        let filter = DropData::new(vec![point(800.0, 0.10), point(1600.0, 0.25)], SQUARE_LAW).unwrap();
        let past = filter.of_share(0.75);
        for cfm in [500.0, 1200.0, 2600.0] {
            let right = filter.at_airflow(Airflow::from_cfm(0.75 * cfm));
            assert!((past.at_airflow(Airflow::from_cfm(cfm)) / right - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn points_out_of_order_are_named() {
        assert_eq!(
            DropData::new(vec![point(1600.0, 0.25), point(800.0, 0.10)], SQUARE_LAW),
            Err(DropDataError::NotRising(Airflow::from_cfm(800.0)))
        );
        assert_eq!(
            DropData::new(vec![point(1835.0, 0.005), point(1855.0, 0.43)], SQUARE_LAW),
            Err(DropDataError::TooSteep(Airflow::from_cfm(1855.0)))
        );
        // 0.014 and 0.016 printed as 0.01 and 0.02 are steep, and meant.
        assert!(DropData::new(vec![point(790.0, 0.01), point(900.0, 0.02)], SQUARE_LAW).is_ok());
        assert_eq!(
            DropData::new(vec![point(800.0, -0.10)], SQUARE_LAW),
            Err(DropDataError::BadPoint(Airflow::from_cfm(800.0), Pressure::from_in_wc(-0.10)))
        );
    }
}
