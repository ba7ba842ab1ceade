//! A sheet as a picture of points, by the renderer that the toolkit draws its letters with.

use ::png::{BitDepth, ColorType, Encoder, EncodingError, PixelDimensions, Unit};
use std::sync::Arc;

use vello_cpu::color::{AlphaColor, PremulRgba8, Srgb};
use vello_cpu::kurbo::{Cap, Join, Stroke};
use vello_cpu::peniko::{ImageQuality, ImageSampler};
use vello_cpu::{Image, ImageSource, Pixmap, RenderContext, Resources};

use crate::model::facts::company::Picture;
use crate::paper::canvas::{Affine, BezPath, Canvas, Ink, Line, Rect, Shape as _};
use crate::paper::drawing::draw;
use crate::paper::sheet::Sheet;

/// Most pixels along an edge: 65,535 is all that the renderer counts, and a picture near that is no use to anybody.
pub const MOST_PIXELS: f32 = 16_000.0;

/// Pixels of a picture, row by row from the top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pixels {
    /// Columns.
    pub width: u16,
    /// Rows.
    pub height: u16,
    /// Red, green and blue of each.
    pub rgb: Vec<u8>,
}

/// Draws a sheet with so many pixels a point of paper, on white; never more than [`MOST_PIXELS`] along an edge.
pub fn pixels(sheet: &Sheet, per_point: f32) -> Pixels {
    let least = sheet.paper.max_elem().max(1.0);
    let per_point = per_point.min(MOST_PIXELS / least);
    let [width, height] =
        [sheet.paper.x, sheet.paper.y].map(|length| (length * per_point).round().clamp(1.0, MOST_PIXELS) as u16);
    let mut target = Pixmap::new(width, height);
    let mut canvas = PngCanvas { sheet, context: RenderContext::new(width, height), is_clipped: false };
    canvas.context.set_transform(Affine::IDENTITY);
    let paper = Rect::new(0.0, 0.0, f64::from(width), f64::from(height));
    canvas.context.set_paint(AlphaColor::<vello_cpu::color::Srgb>::WHITE);
    canvas.context.fill_rect(&paper);
    canvas.context.set_transform(Affine::scale(f64::from(per_point)));
    draw(sheet, &mut canvas);
    canvas.clip(None);
    canvas.context.flush();
    canvas.context.render(&mut target, &mut Resources::new());
    // Paper is not seen through: what the renderer says of opacity is its rounding.
    Pixels { width, height, rgb: target.data().iter().flat_map(|pixel| [pixel.r, pixel.g, pixel.b]).collect() }
}

impl Pixels {
    /// The file; `per_point` says how large it is meant to be printed.
    ///
    /// # Errors
    /// When the pixels are not as many as width and height say.
    pub fn png(&self, per_point: f32) -> Result<Vec<u8>, EncodingError> {
        /// Points in a metre.
        const IN_A_METRE: f32 = 72.0 / 0.0254;
        let mut file = Vec::new();
        let mut encoder = Encoder::new(&mut file, u32::from(self.width), u32::from(self.height));
        encoder.set_color(ColorType::Rgb);
        encoder.set_depth(BitDepth::Eight);
        let density = (per_point * IN_A_METRE).round() as u32;
        encoder.set_pixel_dims(Some(PixelDimensions { xppu: density, yppu: density, unit: Unit::Meter }));
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&self.rgb)?;
        writer.finish()?;
        Ok(file)
    }
}

struct PngCanvas<'a> {
    sheet: &'a Sheet,
    context: RenderContext,
    is_clipped: bool,
}

impl PngCanvas<'_> {
    fn paint(&mut self, ink: Ink) {
        let [red, green, blue] = ink.rgb;
        self.context.set_paint(AlphaColor::<vello_cpu::color::Srgb>::from_rgba8(red, green, blue, ink.opacity));
    }
}

impl Canvas for PngCanvas<'_> {
    fn clip(&mut self, area: Option<Rect>) {
        if self.is_clipped {
            self.context.pop_clip_path();
        }
        self.is_clipped = area.is_some();
        if let Some(area) = area {
            self.context.push_clip_path(&area.to_path(0.1));
        }
    }

    fn fill(&mut self, outline: &BezPath, ink: Ink) {
        self.paint(ink);
        self.context.fill_path(outline);
    }

    fn stroke(&mut self, outline: &BezPath, width: f64, ink: Ink) {
        self.paint(ink);
        self.context.set_stroke(Stroke::new(width).with_caps(Cap::Butt).with_join(Join::Round));
        self.context.stroke_path(outline);
    }

    fn picture(&mut self, picture: &Picture, at: Rect) {
        let (Ok(width), Ok(height)) = (u16::try_from(picture.width), u16::try_from(picture.height)) else {
            return;
        };
        let (pixels, _) = picture.rgba.as_chunks::<4>();
        let pixels = pixels.iter().map(|pixel| AlphaColor::<Srgb>::from_rgba8(pixel[0], pixel[1], pixel[2], pixel[3]));
        let pixels: Vec<PremulRgba8> = pixels.map(|pixel| pixel.premultiply().to_rgba8()).collect();
        let image = ImageSource::Pixmap(Arc::new(Pixmap::from_parts(pixels, width, height)));
        let sampler = ImageSampler { quality: ImageQuality::Medium, ..ImageSampler::default() };
        self.context.set_paint(Image { image, sampler });
        let scale = Affine::scale_non_uniform(at.width() / f64::from(width), at.height() / f64::from(height));
        self.context.set_paint_transform(Affine::translate((at.x0, at.y0)) * scale);
        self.context.fill_rect(&at);
        self.context.set_paint_transform(Affine::IDENTITY);
    }

    fn text(&mut self, line: &Line) {
        let letters = self.sheet.faces.outline(line);
        if let Some(halo) = line.halo {
            self.stroke(&letters, 2.0 * halo.width, halo.ink);
        }
        self.fill(&letters, line.ink);
    }
}
