//! Paths side by side: flows add at equal drop.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::numerics::root;
use crate::units::{Airflow, Pressure};

/// Agreement of a drop or a flow found, relative to its shifted logarithm (1e-13 in the quantity itself).
const TOLERANCE: f64 = 1e-15;
/// Keeps logarithms away from zero, where a relative tolerance would never be met.
const LOG_SHIFT: f64 = 100.0;
/// Airflows in cfm between which a branch's own flow is looked for.
const FLOWS: (f64, f64) = (1e-30, 1e12);

/// One way that air can take: its drop rises with its airflow.
pub trait Resistance {
    /// Drop in in. w.c. and its slope in in. w.c. a cfm at an airflow in cfm above zero.
    fn drop_and_slope(&self, cfm: f64) -> (f64, f64);

    /// Airflow in cfm and its slope in cfm an in. w.c. at a drop in in. w.c. above zero; `None` where no airflow has it.
    fn flow_and_slope(&self, in_wc: f64) -> Option<(f64, f64)> {
        let off = |log_cfm: f64| {
            let cfm = (log_cfm - LOG_SHIFT).exp();
            let (drop, slope) = self.drop_and_slope(cfm);
            ((drop / in_wc).ln(), cfm * slope / drop)
        };
        let ends = (FLOWS.0.ln() + LOG_SHIFT, FLOWS.1.ln() + LOG_SHIFT);
        let cfm = (root::bracketed(off, ends.0, ends.1, TOLERANCE).ok()? - LOG_SHIFT).exp();
        let slope = self.drop_and_slope(cfm).1;
        (slope > 0.0).then(|| (cfm, 1.0 / slope))
    }
}

impl Resistance for PowerLaw {
    fn drop_and_slope(&self, cfm: f64) -> (f64, f64) {
        let drop = self.coefficient * cfm.powf(self.exponent);
        (drop, self.exponent * drop / cfm)
    }

    fn flow_and_slope(&self, in_wc: f64) -> Option<(f64, f64)> {
        let cfm = (in_wc / self.coefficient).powf(1.0 / self.exponent);
        cfm.is_finite().then(|| (cfm, cfm / (self.exponent * in_wc)))
    }
}

impl Resistance for SystemCurve {
    fn drop_and_slope(&self, cfm: f64) -> (f64, f64) {
        self.value_and_slope(cfm)
    }
}

/// Drop at which a way takes nothing: shared with others it would leave them airflows too small to be numbers, and no reading is as small.
pub const NOTHING: Pressure = Pressure::from_in_wc(1e-30);

/// How a group of parallel branches stands at an airflow.
#[derive(Clone, Debug, PartialEq)]
pub struct ParallelFlow {
    /// Drop across every branch.
    pub drop: Pressure,
    /// Airflow of each branch, in their order.
    pub flows: Vec<Airflow>,
}

impl ParallelFlow {
    /// Share of each branch in the whole flow, adding up to 1; all zero without flow.
    pub fn shares(&self) -> Vec<f64> {
        let all: Airflow = self.flows.iter().copied().sum();
        let share = |flow: &Airflow| if all > Airflow::ZERO { *flow / all } else { 0.0 };
        self.flows.iter().map(share).collect()
    }
}

/// A power law that a branch can have.
///
/// # Errors
/// A coefficient that is not above zero, an exponent outside 1 to 2.2.
pub fn checked_law(law: PowerLaw) -> Result<PowerLaw, InputError> {
    given::COEFFICIENT.check(law.coefficient)?;
    given::EXPONENT.check(law.exponent)?;
    Ok(law)
}

/// Drop across branches in parallel at a total airflow, and each one's flow, whatever their exponents.
///
/// Solves `Σ Q_i(Δp) = Q` by Newton's steps in the logarithms of all flows, and where those do not settle by a bracketed search for the drop.
///
/// # Errors
/// No branches, an airflow out of range, or a branch whose drop does not rise with its airflow ([`checked_law`] finds such power laws beforehand).
///
/// ```
/// use tapcross::model::laws::{duct::parallel::in_parallel, system_curve::PowerLaw};
/// use tapcross::units::Airflow;
/// let duct = PowerLaw { coefficient: 5e-7, exponent: 2.0 };
/// let filter = PowerLaw { coefficient: 9e-6, exponent: 1.5 };
/// let both = in_parallel(&[&duct, &filter], Airflow::from_cfm(1200.0)).unwrap();
/// // scipy 1.17.1 gives 0.1499575748
/// assert!((both.drop.in_wc() - 0.149_957_574_8).abs() < 1e-9);
/// ```
pub fn in_parallel(branches: &[&dyn Resistance], airflow: Airflow) -> Result<ParallelFlow, InputError> {
    given::AIRFLOW.check(airflow.cfm())?;
    let mut flows = vec![0.0; branches.len()];
    let (drop, _) = solve(branches, airflow.cfm(), &mut flows)?;
    Ok(ParallelFlow { drop: Pressure::from_in_wc(drop), flows: flows.into_iter().map(Airflow::from_cfm).collect() })
}

/// Branches up to which a group is solved without asking for memory.
const FEW: usize = 8;

/// Drop across the group in in. w.c. and its slope in in. w.c. a cfm, at a total airflow in cfm (zero or above).
///
/// # Errors
/// As [`in_parallel`].
pub fn drop_and_slope(branches: &[&dyn Resistance], cfm: f64) -> Result<(f64, f64), InputError> {
    match [0.0; FEW].get_mut(..branches.len()) {
        Some(flows) => solve(branches, cfm, flows),
        None => solve(branches, cfm, &mut vec![0.0; branches.len()]),
    }
}

/// Drop and slope at a total airflow; the branches' flows go into `flows`, which is as long as `branches`.
fn solve(branches: &[&dyn Resistance], cfm: f64, flows: &mut [f64]) -> Result<(f64, f64), InputError> {
    if branches.is_empty() {
        return Err(InputError::NoBranches);
    }
    if cfm <= 0.0 {
        return Ok((0.0, 0.0));
    }
    flows.fill(cfm / branches.len() as f64);
    match newton(|branch, flow| branches[branch].drop_and_slope(flow), cfm, flows) {
        Some(found) => Ok(found),
        None => bracketed(branches, cfm, flows),
    }
}

/// Largest change of a flow's logarithm at which the flows stand; the error left is about its square.
const FLOWS_STAND: f64 = 1e-7;
/// Largest change of a flow's logarithm in one step.
const LONGEST_STEP: f64 = 3.0;
/// Newton's steps at most before the bracketed way is taken.
const MOST_STEPS: usize = 25;

/// A branch as a straight line in logarithms about its present flow.
#[derive(Clone, Copy, Default)]
struct Line {
    log_drop: f64,
    exponent: f64,
}

/// All flows at once, from those in `flows` on: each branch a straight line in logarithms, the sum of flows linear in them, until nothing moves.
///
/// `drop_and_slope` tells a branch's drop in in. w.c. and slope at its flow in cfm.
#[inline]
fn newton(drop_and_slope: impl Fn(usize, f64) -> (f64, f64), cfm: f64, flows: &mut [f64]) -> Option<(f64, f64)> {
    let mut few = [Line::default(); FEW];
    let mut many = Vec::new();
    let lines: &mut [Line] = if let Some(lines) = few.get_mut(..flows.len()) {
        lines
    } else {
        many.resize(flows.len(), Line::default());
        &mut many
    };
    for _ in 0..MOST_STEPS {
        let (mut all, mut ease, mut weighted) = (0.0, 0.0, 0.0);
        for (index, (line, flow)) in lines.iter_mut().zip(flows.iter()).enumerate() {
            let (drop, slope) = drop_and_slope(index, *flow);
            *line = Line { log_drop: drop.ln(), exponent: flow * slope / drop };
            // q/n, the flow that an e-fold of drop brings.
            let gain = flow / line.exponent;
            all += flow;
            ease += gain;
            weighted += gain * line.log_drop;
        }
        let log_drop = (cfm - all + weighted) / ease;
        if step(lines, flows, log_drop)? <= FLOWS_STAND {
            let drop = log_drop.exp();
            return Some((drop, drop / ease));
        }
    }
    None
}

/// Moves every flow to where its line has the drop; the largest move, or nothing where one is no number.
#[inline]
fn step(lines: &[Line], flows: &mut [f64], log_drop: f64) -> Option<f64> {
    let mut moved: f64 = 0.0;
    for (line, flow) in lines.iter().zip(flows.iter_mut()) {
        let by = (log_drop - line.log_drop) / line.exponent;
        if !by.is_finite() || line.exponent <= 0.0 {
            return None;
        }
        *flow *= by.clamp(-LONGEST_STEP, LONGEST_STEP).exp();
        moved = moved.max(by.abs());
    }
    Some(moved)
}

/// Ways side by side in a system curve, with the shares of the air that they took at one airflow: a start for every other.
#[derive(Clone, Debug, PartialEq)]
pub struct Ways {
    each: Vec<SystemCurve>,
    shares: Vec<f64>,
}

/// Airflow at which the shares of [`Ways`] are found; any of a house's does, for shares hardly move with the whole.
const USUAL_AIRFLOW: Airflow = Airflow::from_cfm(1000.0);

impl Ways {
    /// Ways side by side; each must drop more the more air it passes.
    pub fn new(each: Vec<SystemCurve>) -> Self {
        let branches: Vec<&dyn Resistance> = each.iter().map(|way| way as &dyn Resistance).collect();
        let alike = || vec![1.0 / each.len().max(1) as f64; each.len()];
        let shares = in_parallel(&branches, USUAL_AIRFLOW).map_or_else(|_| alike(), |flow| flow.shares());
        Self { each, shares }
    }

    /// Every drop multiplied by a factor above zero.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        Self { each: self.each.iter().map(|way| way.scaled(factor)).collect(), shares: self.shares.clone() }
    }

    /// The same ways, each with another law.
    #[must_use]
    pub fn each_way(&self, of_way: impl Fn(&SystemCurve) -> SystemCurve) -> Self {
        Self::new(self.each.iter().map(of_way).collect())
    }

    /// Drop across them in in. w.c. and its slope, as [`drop_and_slope`]; not a number where a way does not rise, which no built path has.
    #[inline]
    pub fn drop_and_slope(&self, cfm: f64) -> (f64, f64) {
        if cfm <= 0.0 {
            return (0.0, 0.0);
        }
        let mut few = [0.0; FEW];
        let start = few.get_mut(..self.shares.len()).and_then(|flows| {
            flows.iter_mut().zip(&self.shares).for_each(|(flow, share)| *flow = share * cfm);
            newton(|way, flow| self.each[way].value_and_slope(flow), cfm, flows)
        });
        start.unwrap_or_else(|| {
            // A way that takes nothing leaves nothing for the others to take.
            if self.each.iter().any(|way| way.value_and_slope(cfm).0 <= NOTHING.in_wc()) {
                return (0.0, 0.0);
            }
            let branches: Vec<&dyn Resistance> = self.each.iter().map(|way| way as &dyn Resistance).collect();
            drop_and_slope(&branches, cfm).unwrap_or((f64::NAN, f64::NAN))
        })
    }
}

/// The sure way: the drop between that of the easiest branch with an equal share and with all of the flow.
fn bracketed(branches: &[&dyn Resistance], cfm: f64, flows: &mut [f64]) -> Result<(f64, f64), InputError> {
    let easiest = |cfm: f64| branches.iter().map(|branch| branch.drop_and_slope(cfm).0).fold(f64::INFINITY, f64::min);
    let ends = (easiest(cfm / branches.len() as f64) * (1.0 - 1e-9), easiest(cfm) * (1.0 + 1e-9));
    if !(ends.0 > 0.0 && ends.1.is_finite()) {
        return Err(InputError::NotRising);
    }
    let off = |log_drop: f64| {
        let drop = (log_drop - LOG_SHIFT).exp();
        let (flow, slope) = all_flows(branches, drop);
        ((flow / cfm).ln(), drop * slope / flow)
    };
    let found = root::bracketed(off, ends.0.ln() + LOG_SHIFT, ends.1.ln() + LOG_SHIFT, TOLERANCE);
    let drop = (found.map_err(|_none| InputError::NotRising)? - LOG_SHIFT).exp();
    for (branch, flow) in branches.iter().zip(flows.iter_mut()) {
        *flow = branch.flow_and_slope(drop).ok_or(InputError::NotRising)?.0;
    }
    Ok((drop, 1.0 / all_flows(branches, drop).1))
}

/// Sum of the branches' flows and slopes at a drop; not a number where one branch has none.
fn all_flows(branches: &[&dyn Resistance], drop: f64) -> (f64, f64) {
    branches.iter().fold((0.0, 0.0), |sum, branch| {
        let (flow, slope) = branch.flow_and_slope(drop).unwrap_or((f64::NAN, f64::NAN));
        (sum.0 + flow, sum.1 + slope)
    })
}

/// Coefficient of branches of one exponent in parallel, `C = (Σ C_i^(−1/n))^(−n)`.
///
/// # Errors
/// No branches, a coefficient that is not above zero, an exponent outside 1 to 2.2.
///
/// ```
/// use tapcross::model::laws::duct::parallel::equal_exponents;
/// let two_returns = equal_exponents(&[4.5e-7, 4.5e-7], 2.0).unwrap();
/// assert!((two_returns.coefficient - 1.125e-7).abs() < 1e-20);
/// ```
pub fn equal_exponents(coefficients: &[f64], exponent: f64) -> Result<PowerLaw, InputError> {
    let exponent = given::EXPONENT.check(exponent)?;
    if coefficients.is_empty() {
        return Err(InputError::NoBranches);
    }
    let mut ease = 0.0;
    for coefficient in coefficients {
        ease += given::COEFFICIENT.check(*coefficient)?.powf(-1.0 / exponent);
    }
    Ok(PowerLaw { coefficient: ease.powf(-exponent), exponent })
}

/// Airflow at which a branch reaches a higher drop, `Q₂ = Q₁·(Δp₂/Δp₁)^(1/n)`: balancing a branch against its neighbour.
///
/// Source: the handbook, eq. 42 (n = 2) and Example 9.
///
/// # Errors
/// A number out of range.
///
/// ```
/// use tapcross::model::laws::duct::parallel::airflow_at_drop;
/// use tapcross::units::{Airflow, Pressure};
/// let flow = airflow_at_drop(Airflow::from_lps(850.0), Pressure::from_pa(762.0), Pressure::from_pa(850.0), 2.0).unwrap();
/// assert!((flow.lps() - 900.0).abs() < 3.0);
/// ```
pub fn airflow_at_drop(now: Airflow, drop: Pressure, wanted: Pressure, exponent: f64) -> Result<Airflow, InputError> {
    given::DESIGN_AIRFLOW.check(now.cfm())?;
    let ratio = given::ALLOWED_DROP.check(wanted.in_wc())? / given::READ_DROP.check(drop.in_wc())?;
    Ok(now * ratio.powf(1.0 / given::EXPONENT.check(exponent)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn law(coefficient: f64, exponent: f64) -> PowerLaw {
        PowerLaw { coefficient, exponent }
    }

    fn cfm(value: f64) -> Airflow {
        Airflow::from_cfm(value)
    }

    #[test]
    fn the_solved_group_is_the_closed_form_where_there_is_one() {
        let branches = [law(4e-7, 1.9), law(9e-7, 1.9), law(3e-6, 1.9)];
        let ways: Vec<&dyn Resistance> = branches.iter().map(|branch| branch as &dyn Resistance).collect();
        let closed = equal_exponents(&branches.map(|branch| branch.coefficient), 1.9).unwrap();
        for flow in [1.0, 300.0, 2400.0] {
            let solved = in_parallel(&ways, cfm(flow)).unwrap().drop.in_wc();
            assert!((solved / (closed.coefficient * flow.powf(1.9)) - 1.0).abs() < 1e-12, "{flow} cfm");
        }
    }

    #[test]
    fn flows_add_up_at_one_drop_in_branches_of_several_parts() {
        let mut second_return = SystemCurve::default();
        second_return.add_law(law(2e-7, 2.0));
        second_return.add_law(law(4e-5, 1.2));
        second_return.add_law(law(5e-7, 1.9));
        let first = law(6e-7, 2.0);
        let flow = in_parallel(&[&first, &second_return], cfm(1200.0)).unwrap();
        assert!((flow.flows.iter().copied().sum::<Airflow>().cfm() - 1200.0).abs() < 1e-9);
        assert!((first.drop_and_slope(flow.flows[0].cfm()).0 / flow.drop.in_wc() - 1.0).abs() < 1e-12);
        assert!((second_return.drop_at(flow.flows[1]) / flow.drop - 1.0).abs() < 1e-12);
        assert!((flow.shares().iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_quick_way_and_the_sure_way_agree() {
        let mut grille_and_filter = SystemCurve::default();
        grille_and_filter.add_law(law(2e-7, 2.0));
        grille_and_filter.add_law(law(9e-4, 1.0));
        let (leak, steep, easy) = (law(3e-4, 1.0 / 0.65), law(1e-9, 2.2), law(8e-7, 1.9));
        let ways: [&dyn Resistance; 4] = [&grille_and_filter, &leak, &steep, &easy];
        for flow in [0.01, 5.0, 700.0, 1200.0, 90_000.0] {
            let (mut quick, mut sure) = ([0.0; 4], [0.0; 4]);
            quick.fill(flow / 4.0);
            let by_newton = newton(|way, flow| ways[way].drop_and_slope(flow), flow, &mut quick).unwrap();
            let by_bracket = bracketed(&ways, flow, &mut sure).unwrap();
            assert!((by_newton.0 / by_bracket.0 - 1.0).abs() < 1e-12, "{flow} cfm: {by_newton:?} and {by_bracket:?}");
            assert!((by_newton.1 / by_bracket.1 - 1.0).abs() < 1e-6, "{flow} cfm: {by_newton:?} and {by_bracket:?}");
            assert!(quick.iter().zip(sure).all(|(quick, sure)| (quick / sure - 1.0).abs() < 1e-11), "{flow} cfm");
        }
    }

    #[test]
    fn the_slope_is_that_of_the_drop() {
        let (first, second) = (law(5e-7, 2.0), law(9e-6, 1.5));
        let at = |flow: f64| drop_and_slope(&[&first, &second], flow).unwrap();
        let numeric = (at(1200.1).0 - at(1199.9).0) / 0.2;
        assert!((at(1200.0).1 / numeric - 1.0).abs() < 1e-6);
    }

    #[test]
    fn one_branch_is_itself_and_no_air_has_no_drop() {
        let only = law(6e-7, 2.0);
        let flow = in_parallel(&[&only], cfm(1000.0)).unwrap();
        assert!((flow.drop.in_wc() - 0.6).abs() < 1e-12);
        let still = in_parallel(&[&only], Airflow::ZERO).unwrap();
        assert_eq!((still.drop, still.shares()), (Pressure::ZERO, vec![0.0]));
    }

    #[test]
    fn branches_that_cannot_be_are_refused_in_words() {
        let negative = law(-1e-7, 2.0);
        assert_eq!(in_parallel(&[], cfm(1.0)).unwrap_err(), InputError::NoBranches);
        assert_eq!(in_parallel(&[&negative], cfm(1.0)).unwrap_err(), InputError::NotRising);
        assert!(checked_law(negative).is_err() && checked_law(law(1e-7, 0.5)).is_err());
        assert!(equal_exponents(&[], 2.0).is_err() && equal_exponents(&[0.0], 2.0).is_err());
        assert_eq!(
            checked_law(law(1e-7, 2.5)).unwrap_err().to_string(),
            "An exponent of 2.5 cannot be; it lies between 1 and 2.2"
        );
    }
}
