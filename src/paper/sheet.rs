//! A sheet laid out by the window's own drawing functions, without a window.

use eframe::egui::{
    Context, CornerRadius, Frame, Margin, RawInput, Rect, Stroke, TextureId, Theme, Ui, Vec2, ViewportId,
    epaint::ClippedShape,
};

use crate::model::facts::company::Picture;
use crate::paper::faces::Faces;
use crate::ui::theme;
use crate::ui::widgets::picture;

/// Passes in which sizes settle: the last one is taken.
const PASSES: usize = 3;
/// Pixels a point that the layout rounds to: the finer, the closer to what a printer draws.
const FINENESS: f32 = 4.0;

/// What was drawn, with what is needed to write it.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Size of the paper, points.
    pub paper: Vec2,
    /// Points of paper for each point that it was laid out in.
    pub scale: f32,
    /// What was drawn, the lowest first, in points of the layout.
    pub shapes: Vec<ClippedShape>,
    /// The faces of its texts.
    pub faces: Faces,
    /// The pictures that stand on it, by their textures.
    pub pictures: Vec<(TextureId, Picture)>,
}

/// Lays out sheets, one after another, in the light theme.
pub struct Layout {
    ctx: Context,
}

impl Default for Layout {
    fn default() -> Self {
        let ctx = Context::default();
        theme::install(&ctx);
        ctx.set_theme(Theme::Light);
        Self { ctx }
    }
}

impl Layout {
    /// A sheet of paper of a size in points, drawn `1 / scale` times as large and brought to that size.
    pub fn sheet(&self, paper: Vec2, scale: f32, mut draw: impl FnMut(&mut Ui)) -> Sheet {
        let size = paper / scale;
        let mut shapes = Vec::new();
        for _ in 0..PASSES {
            let mut output = self.ctx.run_ui(input(size), |ui| {
                Frame::new()
                    .inner_margin(Margin::ZERO)
                    .corner_radius(CornerRadius::ZERO)
                    .stroke(Stroke::NONE)
                    .show(ui, &mut draw);
            });
            // There is no graphics card to hand glyphs to.
            output.textures_delta.clear();
            shapes = output.shapes;
        }
        let definitions = self.ctx.fonts(|fonts| fonts.definitions().clone());
        Sheet { paper, scale, shapes, faces: Faces::of(definitions), pictures: picture::known(&self.ctx) }
    }
}

fn input(size: Vec2) -> RawInput {
    let mut input = RawInput {
        screen_rect: Some(Rect::from_min_size(eframe::egui::Pos2::ZERO, size)),
        time: Some(0.0),
        ..RawInput::default()
    };
    input.viewports.entry(ViewportId::ROOT).or_default().native_pixels_per_point = Some(FINENESS);
    input
}
