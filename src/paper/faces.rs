//! The typefaces of a sheet: which one has a letter, and what the letter looks like.

use std::sync::Arc;

use eframe::egui::{FontData, FontDefinitions, FontFamily};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};

use crate::paper::canvas::{Affine, BezPath, Line};

/// What stands for a letter that no face has.
const STAND_IN: char = '?';

/// One face.
#[derive(Clone, Debug)]
pub struct Face {
    /// What the program calls it.
    pub name: String,
    /// The file as it is shipped.
    pub data: Arc<FontData>,
}

impl Face {
    /// The file's tables; nothing for what is no font.
    pub fn font(&self) -> Option<FontRef<'_>> {
        FontRef::from_index((*self.data.font).as_ref(), self.data.index).ok()
    }

    /// The glyph of a letter.
    fn glyph(&self, letter: char) -> Option<u16> {
        let glyph = self.font()?.charmap().map(letter)?;
        u16::try_from(glyph.to_u32()).ok().filter(|glyph| *glyph > 0)
    }

    /// How much room a glyph takes, in parts of the type's size.
    pub fn advance(&self, glyph: u16) -> f32 {
        let font = self.font();
        let metrics = font.map(|font| font.glyph_metrics(Size::new(1.0), LocationRef::default()));
        metrics.and_then(|metrics| metrics.advance_width(GlyphId::from(glyph))).unwrap_or_default()
    }
}

/// Every face of a sheet, in an order that does not change.
#[derive(Clone, Debug)]
pub struct Faces {
    faces: Vec<Face>,
    definitions: FontDefinitions,
}

impl Faces {
    /// The faces that a sheet was laid out in.
    pub fn of(definitions: FontDefinitions) -> Self {
        let faces = definitions.font_data.iter();
        Self {
            faces: faces.map(|(name, data)| Face { name: name.clone(), data: Arc::clone(data) }).collect(),
            definitions,
        }
    }

    /// A face by its index.
    pub fn get(&self, index: usize) -> Option<&Face> {
        self.faces.get(index)
    }

    /// The first face of a family that has a letter, with its glyph; what stands for it where none has.
    pub fn find(&self, family: &FontFamily, letter: char) -> Option<(usize, u16)> {
        let names = self.definitions.families.get(family)?;
        let of = |letter: char| {
            names.iter().find_map(|name| {
                let index = self.faces.iter().position(|face| face.name == *name)?;
                Some((index, self.faces[index].glyph(letter)?))
            })
        };
        let plain = if letter.is_whitespace() { ' ' } else { letter };
        of(letter).or_else(|| of(plain)).or_else(|| of(STAND_IN))
    }

    /// The outlines of a line's letters, on the sheet.
    pub fn outline(&self, line: &Line) -> BezPath {
        let mut pen = Pen(BezPath::new());
        let font = self.get(line.face).and_then(Face::font);
        let Some(glyphs) = font.map(|font| font.outline_glyphs()) else {
            return pen.0;
        };
        let mut whole = BezPath::new();
        for letter in &line.letters {
            let settings = DrawSettings::unhinted(Size::new(line.size as f32), LocationRef::default());
            let drawn = glyphs.get(GlyphId::from(letter.glyph)).map(|glyph| glyph.draw(settings, &mut pen));
            if matches!(drawn, Some(Ok(_))) {
                // A font's letters stand upward, a sheet's points downward.
                let place = Affine::translate((line.at.x + letter.x, line.at.y)) * Affine::FLIP_Y;
                whole.extend(place * &pen.0);
            }
            pen.0.truncate(0);
        }
        whole
    }
}

/// Takes a glyph's outline down.
struct Pen(BezPath);

impl OutlinePen for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((f64::from(x), f64::from(y)));
    }

    fn quad_to(&mut self, cx0: f32, cy0: f32, x: f32, y: f32) {
        self.0.quad_to((f64::from(cx0), f64::from(cy0)), (f64::from(x), f64::from(y)));
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        let [first, second, end] = [(cx0, cy0), (cx1, cy1), (x, y)].map(|(x, y)| (f64::from(x), f64::from(y)));
        self.0.curve_to(first, second, end);
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}
