//! The map of a plane that a photograph makes of a flat page: straight lines stay straight, four points say all of it.
//!
//! A point (x, y) goes to ((a x + b y + c) / w, (d x + e y + f) / w) with w = g x + h y + 1.
//! Its eight numbers follow from four pairs of points (R. Hartley, A. Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed., section 4.1.2, the inhomogeneous solution; the same equations as of `getPerspectiveTransform` in `OpenCV`).

/// A place in a plane, x and y.
pub type Place = [f64; 2];

/// A map of a plane onto another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography([f64; 8]);

/// Why four points make no map.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoMap {
    /// Three of them lie on a line, or two on one another.
    OnALine,
}

/// Least share of the largest number of its column that a pivot has; under it rounding makes the rest of it.
const LEAST_PIVOT: f64 = 1e-12;

impl Homography {
    /// The map that takes each of four points to its partner; no three of either may lie on a line.
    ///
    /// # Errors
    /// [`NoMap`].
    pub fn between(from: [Place; 4], to: [Place; 4]) -> Result<Self, NoMap> {
        let mut rows = [[0.0; 9]; 8];
        for (index, ([x, y], [u, v])) in from.into_iter().zip(to).enumerate() {
            rows[2 * index] = [x, y, 1.0, 0.0, 0.0, 0.0, -x * u, -y * u, u];
            rows[2 * index + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -x * v, -y * v, v];
        }
        solved(rows).map(Self).ok_or(NoMap::OnALine)
    }

    /// Where a point goes; nothing for one that lies on the horizon of the map.
    pub fn of(&self, [x, y]: Place) -> Option<Place> {
        let [a, b, c, d, e, f, g, h] = self.0;
        let w = g * x + h * y + 1.0;
        let place = [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
        place.iter().all(|number| number.is_finite()).then_some(place)
    }
}

/// Solves eight equations by elimination, the largest pivot of each column first; nothing where they do not say it.
fn solved(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    let largest = |rows: &[[f64; 9]; 8], column: usize| rows.iter().map(|row| row[column].abs()).fold(0.0, f64::max);
    let scales: Vec<f64> = (0..8).map(|column| largest(&rows, column)).collect();
    for column in 0..8 {
        let pivot = (column..8).max_by(|one, other| rows[*one][column].abs().total_cmp(&rows[*other][column].abs()))?;
        rows.swap(column, pivot);
        if rows[column][column].abs() <= LEAST_PIVOT * scales[column] || scales[column] <= 0.0 {
            return None;
        }
        for row in 0..8 {
            if row == column {
                continue;
            }
            let factor = rows[row][column] / rows[column][column];
            let above = rows[column];
            for (number, over) in rows[row].iter_mut().zip(above).skip(column) {
                *number -= factor * over;
            }
        }
    }
    let mut found = [0.0; 8];
    for (place, number) in found.iter_mut().enumerate() {
        *number = rows[place][8] / rows[place][place];
    }
    found.iter().all(|number| number.is_finite()).then_some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows that `tests/reference/homography.py` prints: numpy's solution of the published equations.
    #[test]
    fn points_go_where_numpy_takes_them() {
        let unit = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let tilted = [[102.0, 87.0], [1841.0, 203.0], [1702.0, 1190.0], [211.0, 1304.0]];
        let far = [[0.0, 0.0], [4000.0, 300.0], [3600.0, 2900.0], [250.0, 2500.0]];
        let page = [[0.0, 0.0], [1600.0, 0.0], [1600.0, 900.0], [0.0, 900.0]];
        let upright = [[10.0, 20.0], [110.0, 20.0], [110.0, 220.0], [10.0, 220.0]];
        let rows = [
            (unit, upright, [0.25, 0.75], [35.0, 170.0]),
            (tilted, unit, [900.5, 640.25], [0.408_104_225_646_557, 0.410_526_022_895_246]),
            (tilted, unit, [1841.0, 1304.0], [1.133_226_267_005_43, 1.153_400_074_751_26]),
            (far, page, [2000.0, 1500.0], [842.888_770_483_649, 435.438_755_499_893]),
        ];
        for (from, to, point, wanted) in rows {
            let found = Homography::between(from, to).unwrap().of(point).unwrap();
            for (found, wanted) in found.into_iter().zip(wanted) {
                assert!((found - wanted).abs() <= 1e-9 * wanted.abs().max(1.0), "{point:?}: {found} for {wanted}");
            }
        }
    }

    #[test]
    fn each_corner_goes_to_its_partner_and_back() {
        let tilted = [[102.0, 87.0], [1841.0, 203.0], [1702.0, 1190.0], [211.0, 1304.0]];
        let page = [[0.0, 0.0], [1600.0, 0.0], [1600.0, 900.0], [0.0, 900.0]];
        let (there, back) = (Homography::between(tilted, page).unwrap(), Homography::between(page, tilted).unwrap());
        for (corner, partner) in tilted.into_iter().zip(page) {
            let [x, y] = there.of(corner).unwrap();
            assert!((x - partner[0]).abs() < 1e-8 && (y - partner[1]).abs() < 1e-8, "{corner:?}: {x}, {y}");
        }
        let point = [733.0, 911.0];
        let [x, y] = back.of(there.of(point).unwrap()).unwrap();
        assert!((x - point[0]).abs() < 1e-8 && (y - point[1]).abs() < 1e-8, "{x}, {y}");
    }

    #[test]
    fn points_on_a_line_make_no_map() {
        let unit = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        for from in [
            [[0.0, 0.0], [1.0, 1.0], [2.0, 2.0], [0.0, 5.0]],
            [[3.0, 3.0], [3.0, 3.0], [9.0, 2.0], [0.0, 5.0]],
            [[0.0; 2]; 4],
        ] {
            assert_eq!(Homography::between(from, unit), Err(NoMap::OnALine), "{from:?}");
        }
    }
}
