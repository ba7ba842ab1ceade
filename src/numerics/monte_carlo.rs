//! Propagation of distributions by Monte Carlo: random numbers by a seed, and what draws say of a figure (JCGM 101:2008, clauses 6.4, 7.5 to 7.9 and 8).

/// How the values that an error may have are spread, of a standard deviation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Distribution {
    /// Alike between two limits (JCGM 101, 6.4.2).
    Even,
    /// Gaussian (JCGM 101, 6.4.7).
    Normal,
}

/// A row of random numbers that is the same for the same seed.
#[derive(Clone, Debug)]
pub struct Random(fastrand::Rng);

impl Random {
    /// The row of a seed.
    pub fn of(seed: u64) -> Self {
        Self(fastrand::Rng::with_seed(seed))
    }

    /// A value about nought, of standard deviation 1.
    pub fn standard(&mut self, distribution: Distribution) -> f64 {
        match distribution {
            Distribution::Even => 3.0_f64.sqrt() * (2.0 * self.0.f64() - 1.0),
            // By Box and Muller, of which one of the two is taken.
            Distribution::Normal => {
                let size = (-2.0 * (1.0 - self.0.f64()).ln()).sqrt();
                size * (std::f64::consts::TAU * self.0.f64()).cos()
            }
        }
    }
}

/// Part of the draws that an interval of 95 % holds.
const HELD: f64 = 0.95;

/// How far draws lie off a figure that is told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scatter {
    /// Their root mean square: the standard uncertainty of what is told.
    pub standard: f64,
    /// Within this much of it 95 of 100 draws lie.
    pub within: f64,
}

/// The scatter of draws about a figure; `lost` are those that came to no value, which count as further off than any other.
///
/// Nothing where there is no draw, or so many are lost that no interval holds 95 of 100.
pub fn scatter(told: f64, draws: &[f64], lost: usize) -> Option<Scatter> {
    let mut off: Vec<f64> = draws.iter().map(|draw| (draw - told).abs()).collect();
    off.sort_by(f64::total_cmp);
    let rank = (HELD * (off.len() + lost) as f64).ceil();
    let held = (1..).zip(&off).find(|(number, _)| f64::from(*number) >= rank);
    let square: f64 = off.iter().map(|off| off * off).sum();
    held.map(|(_, within)| Scatter { standard: (square / off.len() as f64).sqrt(), within: *within })
}

/// Half a unit of the first significant digit of a standard uncertainty above zero: what another way of working it out may differ by (JCGM 101, 7.9.2 with one digit, and 8.1).
pub fn first_digit_tolerance(standard: f64) -> f64 {
    0.5 * 10_f64.powf(standard.log10().floor())
}

/// How far the standard uncertainty of so many draws may itself be off, as a fraction of it, at 95 %: of a normal distribution (JCGM 101, 7.9.4).
pub fn doubt_of_standard(draws: usize) -> f64 {
    2.0 / (2.0 * draws as f64).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use Distribution::{Even, Normal};

    const DRAWS: usize = 200_000;

    /// Draws of what follows from errors of these standard deviations and distributions.
    fn draws(errors: &[(f64, Distribution)], figure: impl Fn(&[f64]) -> f64) -> Vec<f64> {
        let mut random = Random::of(101);
        let one = |_| {
            let drawn: Vec<f64> = errors.iter().map(|(u, distribution)| u * random.standard(*distribution)).collect();
            figure(&drawn)
        };
        (0..DRAWS).map(one).collect()
    }

    /// JCGM 101:2008, 9.2, the additive model: four normal inputs, four even ones, and one even one ten times as wide; standard uncertainty and half of the 95 % interval as printed (recalled from memory).
    #[test]
    fn sums_of_four_are_those_of_the_guide() {
        let even = [(1.0, Even); 4];
        let wide = [(1.0, Even), (1.0, Even), (1.0, Even), (10.0, Even)];
        for (errors, standard, within) in [([(1.0, Normal); 4], 2.0, 3.92), (even, 2.0, 3.88), (wide, 10.1, 17.0)] {
            let scatter = scatter(0.0, &draws(&errors, |drawn| drawn.iter().sum()), 0).unwrap();
            assert!((scatter.standard / standard - 1.0).abs() < 0.01, "{scatter:?}, not {standard}");
            assert!((scatter.within / within - 1.0).abs() < 0.01, "{scatter:?}, not {within}");
        }
    }

    /// JCGM 101:2008, 9.4, comparison loss Y = X₁² + X₂², u(X) = 0.005 each, X₂ = 0: at X₁ = 0 the first-order u is nought and the right one 50·10⁻⁶, at 0.010 it is 100·10⁻⁶ beside 112·10⁻⁶, at 0.050 500·10⁻⁶ beside 502·10⁻⁶ (recalled from memory, and by the moments of a normal distribution).
    #[test]
    fn near_nought_draws_say_more_than_the_tangent() {
        for (at, standard, tangent) in [(0.0, 50e-6, 0.0), (0.010, 112e-6, 100e-6), (0.050, 502e-6, 500e-6)] {
            let drawn = draws(&[(0.005, Normal); 2], |drawn| (at + drawn[0]).powi(2) + drawn[1].powi(2));
            let mean = drawn.iter().sum::<f64>() / drawn.len() as f64;
            let right = scatter(mean, &drawn, 0).unwrap().standard;
            assert!((right / standard - 1.0).abs() < 0.02, "at {at}: {right}, not {standard}");
            assert_eq!((right - tangent).abs() > first_digit_tolerance(right), at == 0.0, "at {at}: {right} {tangent}");
        }
    }

    #[test]
    fn the_tolerance_is_half_a_unit_of_the_first_digit() {
        for (standard, tolerance) in [(31.0, 5.0), (9.4, 0.5), (0.022, 0.005), (1.0, 0.5)] {
            assert!((first_digit_tolerance(standard) - tolerance).abs() < 1e-12, "{standard}");
        }
    }

    #[test]
    fn lost_draws_are_the_furthest_and_too_many_leave_nothing_to_tell() {
        let drawn: Vec<f64> = (1..=95).map(f64::from).collect();
        let within = |draws: &[f64], lost| scatter(0.0, draws, lost).map(|scatter| scatter.within);
        assert_eq!([within(&drawn, 5), within(&drawn, 6)], [Some(95.0), None]);
        assert_eq!([within(&drawn, 0), within(&[], 0)], [Some(91.0), None]);
    }

    /// Of two hundred rows of 2,000 draws each about 190 lie within what is told of them.
    #[test]
    fn the_doubt_of_a_standard_uncertainty_is_what_rows_of_draws_scatter() {
        let mut random = Random::of(5);
        let standard = |_| {
            let row: Vec<f64> = (0..2_000).map(|_| random.standard(Normal)).collect();
            scatter(0.0, &row, 0).unwrap().standard
        };
        let within = (0..200).map(standard).filter(|u| (u - 1.0).abs() <= doubt_of_standard(2_000)).count();
        assert!((180..=198).contains(&within), "{within}");
    }
}
