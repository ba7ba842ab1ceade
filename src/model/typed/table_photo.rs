//! A photograph of a printed table that lies beside the grid while it is typed: straightened by the four corners of its rows of numbers, and which of them is typed now.

use crate::model::facts::limits::MOST_TYPED_ROWS;
use crate::model::typed::straightened::{CornerFault, Flat, press_corner};
use crate::model::typed::table_draft::TableDraft;
use crate::numerics::homography::Place;

/// A photograph of a table with its marks.
#[derive(Clone, Debug, PartialEq)]
pub struct TablePhoto {
    /// Width and height of the picture, pixels.
    pub size: Place,
    /// The corners of the rows of numbers, the row of names left out: left upper first, on in the clock's sense.
    pub corners: Vec<Place>,
    /// How many rows lie between them, 1 to [`MOST_ROWS`].
    printed: usize,
}

impl TablePhoto {
    /// Nothing marked yet in a picture of that many pixels, with as many rows as a draft has.
    pub fn of(width: u32, height: u32, draft: &TableDraft) -> Self {
        let mut photo = Self { size: [f64::from(width), f64::from(height)], corners: Vec::new(), printed: 1 };
        photo.print(draft.rows.len());
        photo
    }

    /// How many rows are printed.
    pub const fn printed(&self) -> usize {
        self.printed
    }

    /// Says how many rows are printed, or the nearest that a table has.
    pub fn print(&mut self, rows: usize) {
        self.printed = rows.clamp(1, MOST_TYPED_ROWS);
    }

    /// Marks the next corner, or the nearest one anew where there are four.
    pub fn press(&mut self, [x, y]: Place) {
        let place = [x.clamp(0.0, self.size[0]), y.clamp(0.0, self.size[1])];
        press_corner(&mut self.corners, place);
    }

    /// The rows of numbers as they lie flat; nothing while no corner is marked.
    ///
    /// # Errors
    /// [`CornerFault`].
    pub fn flat(&self) -> Result<Option<Flat>, CornerFault> {
        Flat::between(&self.corners)
    }

    /// Where a row of the grid lies in the flat rows, its top and its foot: row 0, the columns' names, lies above them, and one past the printed rows is the last.
    pub fn band(&self, flat: &Flat, row: usize) -> [f64; 2] {
        let step = flat.size[1] / self.printed as f64;
        let top = (row.min(self.printed) as f64 - 1.0) * step;
        [top, top + step]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A page of eight rows of 40 pixels, seen askew.
    fn askew() -> TablePhoto {
        let mut photo = TablePhoto::of(1200, 900, &TableDraft::empty());
        for corner in [[210.0, 130.0], [1010.0, 190.0], [960.0, 640.0], [180.0, 560.0]] {
            photo.press(corner);
        }
        photo.print(8);
        photo
    }

    #[test]
    fn the_band_of_a_row_lies_on_it_in_the_photograph() {
        let photo = askew();
        let flat = photo.flat().unwrap().unwrap();
        let map = flat.to_picture().unwrap();
        let [top, _] = photo.band(&flat, 1);
        let [_, foot] = photo.band(&flat, 8);
        for (place, corner) in [([0.0, top], 0), ([flat.size[0], top], 1), ([flat.size[0], foot], 2), ([0.0, foot], 3)]
        {
            let [x, y] = map.of(place).unwrap();
            let [u, v] = photo.corners[corner];
            assert!((x - u).abs() < 1e-6 && (y - v).abs() < 1e-6, "{place:?}");
        }
        // One row ends where the next begins, and what is right of it is right of it in the photograph.
        for row in 0..8 {
            assert!((photo.band(&flat, row)[1] - photo.band(&flat, row + 1)[0]).abs() < 1e-9);
        }
        assert!(photo.band(&flat, 0)[1].abs() < 1e-9, "the names lie above the first row");
        let (past, last) = (photo.band(&flat, 30), photo.band(&flat, 8));
        assert!((past[0] - last[0]).abs() < 1e-9);
        let back = flat.from_picture().unwrap();
        let [x, y] = back.of(map.of([100.0, 200.0]).unwrap()).unwrap();
        assert!((x - 100.0).abs() < 1e-6 && (y - 200.0).abs() < 1e-6);
    }

    #[test]
    fn four_corners_are_marked_and_the_nearest_is_marked_anew() {
        let mut photo = askew();
        photo.press([1000.0, 200.0]);
        assert!((photo.corners[1][0] - 1000.0).abs() < 1e-9);
        assert_eq!(photo.corners.len(), 4);
        photo.corners.pop();
        assert_eq!(photo.flat(), Err(CornerFault::Missing(3)));
        photo.press([5000.0, -3.0]);
        assert!((photo.corners[3][0] - 1200.0).abs() < 1e-9 && photo.corners[3][1].abs() < 1e-9);
        assert_eq!(photo.flat(), Err(CornerFault::Cross));
        photo.print(0);
        assert_eq!(photo.printed(), 1);
    }
}
