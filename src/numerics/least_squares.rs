//! Linear least squares with unknowns that are not below zero, weighted by the full covariance of the rows.

/// Smallest part of its own row's size that a pivot may have; below it the matrix says nothing of that unknown.
const LEAST_PIVOT: f64 = 1e-12;

/// A weighted solution.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// The unknowns, none below zero.
    pub unknowns: Vec<f64>,
    /// Their covariance where none is held at zero, `(Aᵀ·V⁻¹·A)⁻¹`.
    pub covariance: Vec<Vec<f64>>,
    /// Weighted sum of squares of what is left, `rᵀ·V⁻¹·r`.
    pub chi_squared: f64,
    /// L of `V = L·Lᵀ`, and with it the columns of A and what is left as rows that nothing correlates: `L⁻¹·A`, `L⁻¹·r`.
    lower: Vec<Vec<f64>>,
    columns: Vec<Vec<f64>>,
    left: Vec<f64>,
}

/// What the rows say of one of the causes of their own error, in its standard uncertainties.
#[derive(Clone, Debug, PartialEq)]
pub struct Learnt {
    /// How large it was, most likely.
    pub size: f64,
    /// Standard uncertainty of that: 1 where the rows say nothing of it.
    pub doubt: f64,
    /// Covariance of that with every unknown.
    pub with_unknowns: Vec<f64>,
}

impl Solution {
    /// What is learnt of a cause that V contains: the conditional mean of a normal error given the rows, `cᵀ·V⁻¹·r`, its variance `1 − cᵀ·P·c` with `P = V⁻¹ − V⁻¹·A·(Aᵀ·V⁻¹·A)⁻¹·Aᵀ·V⁻¹`, and `−(Aᵀ·V⁻¹·A)⁻¹·Aᵀ·V⁻¹·c` (best linear unbiased prediction: Henderson, *Biometrics* 31 (1975) 423, recalled from memory).
    pub fn learnt(&self, cause: &[f64]) -> Learnt {
        let own = forward(&self.lower, cause.iter().copied());
        let along: Vec<f64> = self.columns.iter().map(|column| dot(column, &own)).collect();
        let with_unknowns: Vec<f64> = self.covariance.iter().map(|row| -dot(row, &along)).collect();
        let told = dot(&own, &own) + dot(&along, &with_unknowns);
        Learnt { size: dot(&own, &self.left), doubt: (1.0 - told).max(0.0).sqrt(), with_unknowns }
    }
}

/// Solves `min (y − A·x)ᵀ·V⁻¹·(y − A·x)` with `x ≥ 0`.
///
/// `rows` are those of A, `right` is y. V is the sum over independent `causes` of error, each of which says by how much its standard uncertainty moves every row (GUM 5.2.2 with common causes).
/// The active set is that of Lawson and Hanson, *Solving Least Squares Problems* (1974), chapter 23, on the normal equations, whose unknowns are few.
/// Nothing where the causes leave a row without any doubt, the rows cannot tell the unknowns apart, or any of it is too large to be a number.
pub fn non_negative(rows: &[Vec<f64>], right: &[f64], causes: &[Vec<f64>]) -> Option<Solution> {
    let lower = cholesky(&covariance_of(rows.len(), causes))?;
    let unknowns = rows.first()?.len();
    let columns: Vec<Vec<f64>> =
        (0..unknowns).map(|column| forward(&lower, rows.iter().map(|row| row[column]))).collect();
    let seen = forward(&lower, right.iter().copied());
    let normal: Vec<Vec<f64>> =
        columns.iter().map(|one| columns.iter().map(|other| dot(one, other)).collect()).collect();
    let towards: Vec<f64> = columns.iter().map(|column| dot(column, &seen)).collect();
    let covariance = inverse(&normal)?;
    let unknowns = not_below_zero(&normal, &towards)?;
    let of_row = |row: usize| seen[row] - columns.iter().zip(&unknowns).map(|(column, x)| column[row] * x).sum::<f64>();
    let left: Vec<f64> = (0..seen.len()).map(of_row).collect();
    let chi_squared = dot(&left, &left);
    let is_number = chi_squared.is_finite() && covariance.iter().flatten().chain(&unknowns).all(|one| one.is_finite());
    is_number.then_some(Solution { unknowns, covariance, chi_squared, lower, columns, left })
}

/// The lower triangle of the covariance of so many rows; most causes move few of them, so only those count.
fn covariance_of(size: usize, causes: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let mut sum = vec![vec![0.0; size]; size];
    let mut moved = Vec::with_capacity(size);
    for cause in causes {
        moved.clear();
        moved.extend(cause.iter().copied().enumerate().filter(|(_, by)| *by != 0.0));
        for (at, (one, by)) in moved.iter().enumerate() {
            for (other, beside) in &moved[..=at] {
                sum[*one][*other] += by * beside;
            }
        }
    }
    sum
}

/// The lower triangle L with `L·Lᵀ` the matrix, of which only that is looked at; nothing where that is not positive definite.
fn cholesky(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let mut lower = vec![vec![0.0; matrix.len()]; matrix.len()];
    for row in 0..matrix.len() {
        for column in 0..=row {
            let before = dot(&lower[row][..column], &lower[column][..column]);
            let rest = matrix[row][column] - before;
            lower[row][column] = if row > column {
                rest / lower[column][column]
            } else if rest > LEAST_PIVOT * matrix[row][row].abs() {
                rest.sqrt()
            } else {
                return None;
            };
        }
    }
    Some(lower)
}

/// `L⁻¹·b`.
fn forward(lower: &[Vec<f64>], right: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut solved: Vec<f64> = Vec::with_capacity(lower.len());
    for (row, right) in lower.iter().zip(right) {
        let at = solved.len();
        solved.push((right - dot(&row[..at], &solved)) / row[at]);
    }
    solved
}

/// The inverse of a positive definite matrix, `L⁻ᵀ·L⁻¹`.
fn inverse(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let lower = cholesky(matrix)?;
    let size = matrix.len();
    let unit = |at: usize| (0..size).map(move |index| if index == at { 1.0 } else { 0.0 });
    let columns: Vec<Vec<f64>> = (0..size).map(|at| forward(&lower, unit(at))).collect();
    Some(columns.iter().map(|one| columns.iter().map(|other| dot(one, other)).collect()).collect())
}

/// The solution of the normal equations with no unknown below zero; nothing where it is not found, which rounding alone could bring about.
fn not_below_zero(normal: &[Vec<f64>], towards: &[f64]) -> Option<Vec<f64>> {
    let size = towards.len();
    let scale = towards.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    let mut free = vec![false; size];
    let mut solved = vec![0.0; size];
    for _ in 0..10 * size {
        let downhill = |at: usize| towards[at] - dot(&normal[at], &solved);
        let steepest =
            (0..size).filter(|at| !free[*at]).max_by(|one, other| downhill(*one).total_cmp(&downhill(*other)));
        let Some(next) = steepest.filter(|at| downhill(*at) > LEAST_PIVOT * scale) else {
            return Some(solved);
        };
        free[next] = true;
        loop {
            let wanted = of_free(normal, towards, &free)?;
            let step = (0..size)
                .filter(|at| free[*at] && wanted[*at] <= 0.0)
                .map(|at| (solved[at] / (solved[at] - wanted[at]), at))
                .min_by(|one, other| one.0.total_cmp(&other.0));
            let Some((step, stops)) = step else {
                solved = wanted;
                break;
            };
            for at in 0..size {
                solved[at] += step * (wanted[at] - solved[at]);
            }
            (free[stops], solved[stops]) = (false, 0.0);
        }
    }
    None
}

/// The solution with the unknowns that are not free at zero.
fn of_free(normal: &[Vec<f64>], towards: &[f64], free: &[bool]) -> Option<Vec<f64>> {
    let open: Vec<usize> = (0..free.len()).filter(|at| free[*at]).collect();
    let reduced: Vec<Vec<f64>> =
        open.iter().map(|row| open.iter().map(|column| normal[*row][*column]).collect()).collect();
    let inverse = inverse(&reduced)?;
    let right: Vec<f64> = open.iter().map(|at| towards[*at]).collect();
    let mut solved = vec![0.0; free.len()];
    for (at, row) in open.iter().zip(&inverse) {
        solved[*at] = dot(row, &right);
    }
    Some(solved)
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

/// The value that chi-squared of so many degrees of freedom stays below in 95 of 100 cases, by Wilson and Hilferty, *Proc. Natl. Acad. Sci.* 17 (1931) 684: within 3 % from one degree on.
pub fn chi_squared_95(freedom: usize) -> f64 {
    /// What a standard normal variable stays below in 95 of 100 cases.
    const NORMAL_95: f64 = 1.644_853_627;
    let freedom = freedom as f64;
    let ninth = 2.0 / (9.0 * freedom);
    freedom * (1.0 - ninth + NORMAL_95 * ninth.sqrt()).powi(3)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn alone(sizes: &[f64]) -> Vec<Vec<f64>> {
        let of = |at: usize| (0..sizes.len()).map(|row| if row == at { sizes[at] } else { 0.0 }).collect();
        (0..sizes.len()).map(of).collect()
    }

    /// Two readings of one thing, 1.0 ± 0.1 and 2.0 ± 0.2: weights 100 and 25, mean (100·1 + 25·2)/125 = 1.2, u = 1/√125.
    #[test]
    fn two_readings_of_one_thing_are_weighed_by_their_doubt() {
        let solution = non_negative(&[vec![1.0], vec![1.0]], &[1.0, 2.0], &alone(&[0.1, 0.2])).unwrap();
        assert!((solution.unknowns[0] - 1.2).abs() < 1e-12);
        assert!((solution.covariance[0][0] - 1.0 / 125.0).abs() < 1e-12);
        assert!((solution.chi_squared - (0.04 * 100.0 + 0.64 * 25.0)).abs() < 1e-9);
    }

    /// A common error of both readings is no reason to doubt their difference.
    #[test]
    fn what_both_rows_share_drops_out_of_their_difference() {
        let mut causes = alone(&[0.01, 0.01]);
        causes.push(vec![0.5, 0.5]);
        // x + z and x: z is the difference of the two.
        let solution = non_negative(&[vec![1.0, 1.0], vec![1.0, 0.0]], &[3.0, 2.0], &causes).unwrap();
        assert!((solution.unknowns[1] - 1.0).abs() < 1e-9);
        assert!((solution.covariance[1][1].sqrt() - 0.01 * 2.0_f64.sqrt()).abs() < 1e-6);
        assert!(solution.covariance[0][0].sqrt() > 0.49);
    }

    /// One thing read twice, the second time with an error c of standard uncertainty 1 besides: x from the first alone would be 1 ± 0.1, so c is 2.0 − 1.0 shrunk by 1/(1 + 0.01 + 0.01), and as sure as both readings together make it.
    #[test]
    fn a_cause_is_learnt_as_far_as_the_rows_tell_it() {
        let mut causes = alone(&[0.1, 0.1]);
        causes.push(vec![0.0, 1.0]);
        let solution = non_negative(&[vec![1.0], vec![1.0]], &[1.0, 2.0], &causes).unwrap();
        let learnt = solution.learnt(&[0.0, 1.0]);
        assert!((learnt.size - 1.0 / 1.02).abs() < 1e-12, "{learnt:?}");
        assert!((learnt.doubt - (1.0 - 1.0 / 1.02_f64).sqrt()).abs() < 1e-12, "{learnt:?}");
        // Where x is too high, c is too low.
        assert!((learnt.with_unknowns[0] + solution.covariance[0][0] / 1.01).abs() < 1e-12, "{learnt:?}");
        assert!((solution.learnt(&[0.0, 0.0]).doubt - 1.0).abs() < 1e-15);
    }

    /// The unconstrained solution is (2, −1); with the second at zero the first is the mean of 1 and 2.
    #[test]
    fn no_unknown_falls_below_zero() {
        let solution = non_negative(&[vec![1.0, 1.0], vec![1.0, 0.0]], &[1.0, 2.0], &alone(&[1.0, 1.0])).unwrap();
        assert!((solution.unknowns[0] - 1.5).abs() < 1e-12 && solution.unknowns[1] == 0.0, "{solution:?}");
    }

    #[test]
    fn rows_that_tell_nothing_apart_have_no_solution() {
        let rows = [vec![1.0, 2.0], vec![2.0, 4.0]];
        assert_eq!(non_negative(&rows, &[1.0, 2.0], &alone(&[1.0, 1.0])), None);
        assert_eq!(non_negative(&[vec![1.0]], &[1.0], &[vec![0.0]]), None);
        // Readings so far off that their square is no number.
        assert_eq!(non_negative(&[vec![1.0], vec![1.0]], &[1e200, -1e200], &alone(&[0.1, 0.2])), None);
    }

    /// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4: 3.841, 5.991, 11.070, 18.307, 31.410.
    #[test]
    fn chi_squared_is_that_of_the_tables() {
        for (freedom, right) in [(1, 3.841), (2, 5.991), (5, 11.070), (10, 18.307), (20, 31.410)] {
            assert!((chi_squared_95(freedom) / right - 1.0).abs() < 0.03, "{freedom}: {}", chi_squared_95(freedom));
        }
    }
}
