//! What every kind of file can take: filled and stroked outlines, lines of text, and an area outside of which nothing shows.
//!
//! Lengths are points of paper (1/72 in.), from the sheet's left top corner rightward and down.

use crate::model::facts::company::Picture;

pub use vello_cpu::kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};

/// A colour with its opacity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ink {
    /// Red, green and blue of sRGB, not multiplied by the opacity.
    pub rgb: [u8; 3],
    /// 255 hides what lies under it, 0 shows nothing.
    pub opacity: u8,
}

impl Ink {
    /// True where nothing would be seen of it.
    pub const fn is_nothing(self) -> bool {
        self.opacity == 0
    }
}

/// A letter in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Letter {
    /// The letter itself, for whoever selects or searches the text.
    pub letter: char,
    /// The glyph in its face.
    pub glyph: u16,
    /// How far right of the line's begin it stands.
    pub x: f64,
    /// How much room it takes.
    pub advance: f64,
}

/// A text on one line, in one face, size and colour.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Where its base line begins.
    pub at: Point,
    /// Its letters, at least one.
    pub letters: Vec<Letter>,
    /// Index of the face, see [`crate::paper::faces::Faces`].
    pub face: usize,
    /// Size of the type, points.
    pub size: f64,
    /// Its colour.
    pub ink: Ink,
    /// What sets it off from the lines under it.
    pub halo: Option<Halo>,
}

impl Line {
    /// The text.
    pub fn text(&self) -> String {
        self.letters.iter().map(|letter| letter.letter).collect()
    }

    /// How far right of its begin it ends.
    pub fn width(&self) -> f64 {
        self.letters.last().map_or(0.0, |last| last.x + last.advance)
    }
}

/// An edge of another colour about letters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Halo {
    /// Its colour.
    pub ink: Ink,
    /// Width on either side of the letters' edges, points.
    pub width: f64,
}

/// Takes a drawing, from the lowest thing to the topmost.
pub trait Canvas {
    /// Shows what follows only within an area; nothing stands for the whole sheet.
    fn clip(&mut self, area: Option<Rect>);
    /// Fills an outline by the rule of nonzero winding.
    fn fill(&mut self, outline: &BezPath, ink: Ink);
    /// Draws along an outline, with flat ends and round corners.
    fn stroke(&mut self, outline: &BezPath, width: f64, ink: Ink);
    /// Writes a line.
    fn text(&mut self, line: &Line);
    /// Sets a picture into its place.
    fn picture(&mut self, picture: &Picture, at: Rect);
}
