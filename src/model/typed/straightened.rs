//! A photograph that was taken askew, straightened by four corners of something that is a rectangle on paper.

use crate::numerics::homography::{Homography, Place};

/// Least pixels of every side between corners: nearer ones multiply what a hand is off.
const LEAST_SIDE: f64 = 20.0;

/// Why corners straighten nothing yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CornerFault {
    /// One to three corners.
    Missing(usize),
    /// Corners that cross, lie on a line or nearly on one another.
    Cross,
}

impl CornerFault {
    /// One sentence.
    pub fn sentence(self) -> String {
        match self {
            Self::Missing(count) => {
                format!("{count} of 4 corners are marked: mark all of them, or none where the picture is straight")
            }
            Self::Cross => {
                "The corners cross or lie nearly on a line; mark them in order: left above, right above, right below, left below"
                    .to_owned()
            }
        }
    }
}

/// The rectangle between four corners as it lies flat, in pixels of about the picture's own size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flat {
    /// Its width and height.
    pub size: Place,
    corners: [Place; 4],
}

impl Flat {
    /// What corners straighten, left upper first, on in the clock's sense; nothing where none is marked.
    ///
    /// # Errors
    /// [`CornerFault`].
    pub fn between(corners: &[Place]) -> Result<Option<Self>, CornerFault> {
        let corners: [Place; 4] = match *corners {
            [] => return Ok(None),
            [a, b, c, d] => [a, b, c, d],
            ref some => return Err(CornerFault::Missing(some.len())),
        };
        let side = |index: usize| {
            let ([x, y], [u, v]) = (corners[index % 4], corners[(index + 1) % 4]);
            [u - x, v - y]
        };
        let turns: Vec<f64> =
            (0..4).map(|index| crossed(side(index), side(index + 1)) / length(side(index)).max(1.0)).collect();
        let is_short = (0..4).any(|index| length(side(index)) < LEAST_SIDE);
        // In a picture y grows downward, so that the clock's sense turns to the positive.
        if is_short || turns.iter().any(|turn| *turn < LEAST_SIDE / 2.0) {
            return Err(CornerFault::Cross);
        }
        let width = f64::midpoint(length(side(0)), length(side(2)));
        let height = f64::midpoint(length(side(1)), length(side(3)));
        Ok(Some(Self { size: [width, height], corners }))
    }

    /// The map from the picture.
    ///
    /// # Errors
    /// [`CornerFault::Cross`].
    pub fn from_picture(&self) -> Result<Homography, CornerFault> {
        Homography::between(self.corners, self.own()).map_err(|_no_map| CornerFault::Cross)
    }

    /// The map into the picture.
    ///
    /// # Errors
    /// [`CornerFault::Cross`].
    pub fn to_picture(&self) -> Result<Homography, CornerFault> {
        Homography::between(self.own(), self.corners).map_err(|_no_map| CornerFault::Cross)
    }

    const fn own(&self) -> [Place; 4] {
        let [width, height] = self.size;
        [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]]
    }
}

/// Marks the next of four corners, or the nearest one anew.
pub fn press_corner(corners: &mut Vec<Place>, place: Place) {
    let far = |[x, y]: &Place| (x - place[0]).hypot(y - place[1]);
    if corners.len() < 4 {
        corners.push(place);
    } else if let Some(nearest) = corners.iter_mut().min_by(|one, other| far(one).total_cmp(&far(other))) {
        *nearest = place;
    }
}

/// How long a way is.
pub fn length([x, y]: Place) -> f64 {
    x.hypot(y)
}

/// Twice the area between two ways; positive where the second lies to the right of the first in a picture.
pub fn crossed([a, b]: Place, [c, d]: Place) -> f64 {
    a * d - b * c
}
