//! From what the toolkit painted to a canvas.
//!
//! Texts stand level: nothing that is printed turns them.

use std::sync::Arc;

use eframe::egui::epaint::text::PlacedRow;
use eframe::egui::epaint::{
    CircleShape, ClippedShape, ColorMode, PathShape, RectShape, TessellationOptions, Tessellator, TextShape, Vertex,
};
use eframe::egui::text::{ByteRange, LayoutSection};
use eframe::egui::{self, Color32, CornerRadius, Galley, Mesh, Pos2, Stroke, StrokeKind};
use vello_cpu::kurbo::{Circle, RoundedRect, RoundedRectRadii};

use crate::model::facts::company::Picture;
use crate::paper::canvas::{BezPath, Canvas, Halo, Ink, Letter, Line, Point, Rect, Shape as _};
use crate::paper::sheet::Sheet;

/// How far a curve may miss its circle, points.
const TRUE_TO: f64 = 0.01;
/// Copies of a text farther from it than this, in points of the layout, are texts of their own and no halo.
const HALO_REACH: f32 = 4.0;

/// Draws a sheet.
pub fn draw(sheet: &Sheet, canvas: &mut impl Canvas) {
    let mut hand = Hand { sheet, canvas, clip: None, halo: None };
    let mut flat = Vec::new();
    for ClippedShape { clip_rect, shape, .. } in &sheet.shapes {
        flatten(*clip_rect, shape, &mut flat);
    }
    for (index, (clip, shape)) in flat.iter().enumerate() {
        hand.shape(*clip, shape, flat.get(index + 1).map(|(_, next)| *next));
    }
}

fn flatten<'a>(clip: egui::Rect, shape: &'a egui::Shape, flat: &mut Vec<(egui::Rect, &'a egui::Shape)>) {
    if let egui::Shape::Vec(inner) = shape {
        for shape in inner {
            flatten(clip, shape, flat);
        }
    } else {
        flat.push((clip, shape));
    }
}

/// Draws one shape after another.
struct Hand<'a, C> {
    sheet: &'a Sheet,
    canvas: &'a mut C,
    /// The area that shows just now.
    clip: Option<Rect>,
    /// The copy of the text that comes next which lies under it, and its colour.
    halo: Option<(Pos2, Color32)>,
}

impl<C: Canvas> Hand<'_, C> {
    fn shape(&mut self, clip: egui::Rect, shape: &egui::Shape, next: Option<&egui::Shape>) {
        let area = shape.visual_bounding_rect();
        if !clip.is_positive() || !clip.intersects(area.expand(1.0)) {
            return;
        }
        // What lies within its clip anyway needs none.
        let wanted = (!clip.contains_rect(area)).then(|| self.rect(clip));
        if wanted != self.clip {
            self.canvas.clip(wanted);
            self.clip = wanted;
        }
        match shape {
            egui::Shape::Noop | egui::Shape::Callback(_) => {}
            egui::Shape::Vec(inner) => inner.iter().for_each(|shape| self.shape(clip, shape, None)),
            egui::Shape::Circle(circle) => self.circle(circle),
            egui::Shape::LineSegment { points, stroke } => self.along(points, false, *stroke),
            egui::Shape::Path(path) => self.path(path),
            egui::Shape::Rect(rect) => self.rectangle(rect),
            egui::Shape::Text(text) => self.text(text, next),
            egui::Shape::Mesh(mesh) => self.mesh(mesh),
            other @ (egui::Shape::Ellipse(_)
            | egui::Shape::Band(_)
            | egui::Shape::QuadraticBezier(_)
            | egui::Shape::CubicBezier(_)) => self.as_triangles(other),
        }
    }

    /// The picture behind a texture.
    fn picture_of(&self, id: egui::TextureId) -> Option<Picture> {
        let found = self.sheet.pictures.iter().find(|(other, _)| *other == id);
        found.map(|(_, picture)| picture.clone())
    }

    fn point(&self, at: Pos2) -> Point {
        let scale = f64::from(self.sheet.scale);
        Point::new(f64::from(at.x) * scale, f64::from(at.y) * scale)
    }

    fn length(&self, length: f32) -> f64 {
        f64::from(length) * f64::from(self.sheet.scale)
    }

    fn rect(&self, rect: egui::Rect) -> Rect {
        Rect::from_points(self.point(rect.min), self.point(rect.max))
    }

    fn fill(&mut self, outline: &BezPath, colour: Color32) {
        let ink = ink(colour);
        if !ink.is_nothing() {
            self.canvas.fill(outline, ink);
        }
    }

    fn stroke(&mut self, outline: &BezPath, stroke: Stroke) {
        let ink = ink(stroke.color);
        if stroke.width > 0.0 && !ink.is_nothing() {
            self.canvas.stroke(outline, self.length(stroke.width), ink);
        }
    }

    /// A line through points.
    fn along(&mut self, points: &[Pos2], is_closed: bool, stroke: Stroke) {
        let outline = self.outline(points, is_closed);
        self.stroke(&outline, stroke);
    }

    fn outline(&self, points: &[Pos2], is_closed: bool) -> BezPath {
        let mut outline = BezPath::new();
        for (index, at) in points.iter().enumerate() {
            if index == 0 {
                outline.move_to(self.point(*at));
            } else {
                outline.line_to(self.point(*at));
            }
        }
        if is_closed {
            outline.close_path();
        }
        outline
    }

    fn circle(&mut self, circle: &CircleShape) {
        let outline = Circle::new(self.point(circle.center), self.length(circle.radius)).to_path(TRUE_TO);
        self.fill(&outline, circle.fill);
        self.stroke(&outline, circle.stroke);
    }

    fn path(&mut self, path: &PathShape) {
        match (&path.stroke.color, path.stroke.kind) {
            (ColorMode::Solid(colour), StrokeKind::Middle) => {
                let outline = self.outline(&path.points, path.closed);
                self.fill(&outline, path.fill);
                self.stroke(&outline, Stroke::new(path.stroke.width, *colour));
            }
            (ColorMode::Solid(_) | ColorMode::UV(_), _) => self.as_triangles(&egui::Shape::Path(path.clone())),
        }
    }

    fn rectangle(&mut self, shape: &RectShape) {
        if let Some(picture) = shape.brush.as_ref().and_then(|brush| self.picture_of(brush.fill_texture_id)) {
            let at = self.rect(shape.rect);
            self.canvas.picture(&picture, at);
            return;
        }
        let is_plain = shape.brush.is_none() && shape.blur_width == 0.0 && shape.angle == 0.0;
        if !is_plain {
            self.as_triangles(&egui::Shape::Rect(shape.clone()));
            return;
        }
        let off = match shape.stroke_kind {
            StrokeKind::Inside => -0.5,
            StrokeKind::Middle => 0.0,
            StrokeKind::Outside => 0.5,
        } * shape.stroke.width;
        let filled = self.rounded(shape.rect, shape, 0.0);
        let edge = self.rounded(shape.rect.expand(off), shape, off);
        self.fill(&filled, shape.fill);
        self.stroke(&edge, shape.stroke);
    }

    fn rounded(&self, rect: egui::Rect, shape: &RectShape, more: f32) -> BezPath {
        let corner = |radius: u8| if radius == 0 { 0.0 } else { self.length((f32::from(radius) + more).max(0.0)) };
        let corners = shape.corner_radius;
        if corners == CornerRadius::ZERO {
            return self.rect(rect).to_path(TRUE_TO);
        }
        let radii =
            RoundedRectRadii::new(corner(corners.nw), corner(corners.ne), corner(corners.se), corner(corners.sw));
        RoundedRect::from_rect(self.rect(rect), radii).to_path(TRUE_TO)
    }

    /// What has no outline of its own.
    fn as_triangles(&mut self, shape: &egui::Shape) {
        let options = TessellationOptions { feathering: false, ..TessellationOptions::default() };
        let mut mesh = Mesh::default();
        Tessellator::new(1.0, options, [1, 1], Vec::new()).tessellate_shape(shape.clone(), &mut mesh);
        self.mesh(&mesh);
    }

    /// Triangles of one colour as one outline, so that no seam shows between them.
    fn mesh(&mut self, mesh: &Mesh) {
        let corners = |triangle: &[u32]| -> Option<[Vertex; 3]> {
            let corner = |index: usize| mesh.vertices.get(*triangle.get(index)? as usize).copied();
            Some([corner(0)?, corner(1)?, corner(2)?])
        };
        let triangles: Vec<[Vertex; 3]> = mesh.indices.chunks_exact(3).filter_map(corners).collect();
        for alike in triangles.chunk_by(|one, other| mean(one) == mean(other)) {
            let mut outline = BezPath::new();
            for [a, b, c] in alike.iter().map(|triangle| triangle.map(|vertex| vertex.pos)) {
                let turns_left = (b - a).rot90().dot(c - a) < 0.0;
                let points = if turns_left { [a, c, b] } else { [a, b, c] };
                outline.extend(self.outline(&points, true));
            }
            if let Some(first) = alike.first() {
                self.fill(&outline, mean(first));
            }
        }
    }

    /// Writes a text; a copy of the next one close under it is kept as that one's halo.
    fn text(&mut self, text: &TextShape, next: Option<&egui::Shape>) {
        if let (Some(ink), Some(egui::Shape::Text(next))) = (text.override_text_color, next)
            && Arc::ptr_eq(&text.galley, &next.galley)
            && text.pos.distance(next.pos) < 2.0 * HALO_REACH
        {
            self.halo = Some((text.pos, ink));
            return;
        }
        let halo =
            self.halo.take().map(|(at, colour)| Halo { ink: ink(colour), width: self.length(at.distance(text.pos)) });
        for row in &text.galley.rows {
            self.row(text, row, halo);
        }
    }

    fn row(&mut self, text: &TextShape, row: &PlacedRow, halo: Option<Halo>) {
        let before = letters_before(&text.galley, row);
        let mut line: Option<Line> = None;
        for (index, glyph) in row.row.glyphs.iter().enumerate() {
            let Some(section) = section(&text.galley, before + index) else {
                continue;
            };
            let format = &section.format;
            let Some((face, id)) = self.sheet.faces.find(&format.font_id.family, glyph.chr) else {
                continue;
            };
            let at = self.point(text.pos + row.pos.to_vec2() + glyph.pos.to_vec2());
            let ink = text_ink(text, format.color);
            let size = self.length(format.font_id.size);
            let advance = self.length(glyph.advance_width);
            let is_new = line.as_ref().is_none_or(|line| !is_one_line(line, (face, ink), size, at));
            if is_new {
                self.write(line.take());
            }
            let line = line.get_or_insert_with(|| Line { at, letters: Vec::new(), face, size, ink, halo });
            line.letters.push(Letter { letter: glyph.chr, glyph: id, x: at.x - line.at.x, advance });
        }
        self.write(line);
    }

    fn write(&mut self, line: Option<Line>) {
        let is_seen =
            |line: &Line| !line.ink.is_nothing() && line.letters.iter().any(|letter| !letter.letter.is_whitespace());
        if let Some(line) = line.filter(is_seen) {
            self.canvas.text(&line);
        }
    }
}

/// True where a letter goes on with a line.
fn is_one_line(line: &Line, (face, ink): (usize, Ink), size: f64, at: Point) -> bool {
    let is_same = |one: f64, other: f64| (one - other).abs() < TRUE_TO;
    line.face == face && line.ink == ink && is_same(line.size, size) && is_same(line.at.y, at.y)
}

/// Letters of a galley that stand before a row, with the breaks between paragraphs.
fn letters_before(galley: &Galley, row: &PlacedRow) -> usize {
    let before = galley.rows.iter().take_while(|other| !std::ptr::eq(*other, row));
    before.map(|row| row.row.glyphs.len() + usize::from(row.ends_with_newline)).sum()
}

/// The section of a galley's text that a letter belongs to; the last one for what was put at the end of a text that was cut.
fn section(galley: &Galley, letter: usize) -> Option<&LayoutSection> {
    let text = &galley.job.text;
    let byte = text.char_indices().nth(letter).map_or(text.len(), |(byte, _)| byte);
    let holds = |ByteRange { start, end }: &ByteRange| start.0 <= byte && byte < end.0;
    let sections = &galley.job.sections;
    sections.iter().find(|section| holds(&section.byte_range)).or_else(|| sections.last())
}

fn text_ink(text: &TextShape, own: Color32) -> Ink {
    let own = if own == Color32::PLACEHOLDER { text.fallback_color } else { own };
    ink(text.override_text_color.unwrap_or(own).gamma_multiply(text.opacity_factor))
}

fn ink(colour: Color32) -> Ink {
    let [red, green, blue, opacity] = colour.to_srgba_unmultiplied();
    Ink { rgb: [red, green, blue], opacity }
}

/// The colour in the middle of a triangle.
fn mean(triangle: &[Vertex; 3]) -> Color32 {
    let [a, b, c] = triangle.map(|vertex| vertex.color);
    if a == b && b == c { a } else { a.lerp_to_gamma(b, 0.5).lerp_to_gamma(c, 1.0 / 3.0) }
}
