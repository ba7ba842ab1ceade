//! A picture that is looked at while something is read off it: which part is seen, and where the keys have brought the cross.

use std::fmt;

use eframe::egui::{ColorImage, Context, TextureFilter, TextureHandle, TextureOptions};

use crate::model::facts::company::Picture;
use crate::numerics::homography::Place;

/// Most pixels along an edge of what is drawn; a larger picture is drawn coarser and read as fine as it is.
const MOST_DRAWN: usize = 4096;

/// Letters stay whole where many pixels make one of the screen's.
const SEEN_SMALL: TextureOptions =
    TextureOptions { mipmap_mode: Some(TextureFilter::Linear), ..TextureOptions::LINEAR };

/// A picture that is looked at.
#[derive(Clone)]
pub struct PictureLook {
    /// Its name.
    pub(in crate::ui) file: String,
    picture: Picture,
    drawn: Option<TextureHandle>,
    /// Points of the screen for each pixel; nothing while all of it is seen.
    pub(in crate::ui) zoom: Option<f32>,
    /// The pixel in the middle of what is seen.
    pub(in crate::ui) middle: Place,
    /// Where the keys have brought the cross.
    pub(in crate::ui) cross: Place,
}

impl fmt::Debug for PictureLook {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("PictureLook").field("file", &self.file).field("picture", &self.picture).finish_non_exhaustive()
    }
}

impl PictureLook {
    /// All of a picture.
    pub(in crate::ui) fn of(file: String, picture: Picture) -> Self {
        let middle = [f64::from(picture.width) / 2.0, f64::from(picture.height) / 2.0];
        Self { file, picture, drawn: None, zoom: None, middle, cross: middle }
    }

    /// The picture's name and the picture.
    pub(in crate::ui) fn into_picture(self) -> (String, Picture) {
        (self.file, self.picture)
    }

    /// The picture as it is drawn, made once.
    pub(in crate::ui) fn texture(&mut self, ctx: &Context) -> TextureHandle {
        let most = ctx.input(|input| input.max_texture_side).clamp(64, MOST_DRAWN);
        let picture = &self.picture;
        let make = || ctx.load_texture("picture looked at", coarser(picture, most), SEEN_SMALL);
        self.drawn.get_or_insert_with(make).clone()
    }
}

/// A picture of at most so many pixels along an edge: each the mean of a square of the larger one.
fn coarser(picture: &Picture, most: usize) -> ColorImage {
    let (width, height) = (picture.width as usize, picture.height as usize);
    let step = width.max(height).div_ceil(most).max(1);
    let size = [(width / step).max(1), (height / step).max(1)];
    let mut pixels = Vec::with_capacity(size[0] * size[1] * 4);
    for row in 0..size[1] {
        for column in 0..size[0] {
            for colour in 0..4 {
                let of = |index: usize| {
                    let (x, y) = (column * step + index % step, row * step + index / step);
                    u32::from(picture.rgba[(y.min(height - 1) * width + x.min(width - 1)) * 4 + colour])
                };
                let sum: u32 = (0..step * step).map(of).sum();
                let mean = sum as f32 / (step * step) as f32;
                pixels.push(mean.round() as u8);
            }
        }
    }
    ColorImage::from_rgba_unmultiplied(size, &pixels)
}
