//! Sheets as one PDF: vector drawing, text that can be selected and searched, the letters used of each face embedded.
//!
//! Nothing in the file depends on when or where it was written, so the same job gives the same bytes.

use std::collections::BTreeSet;

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Filter, Finish as _, Name, Pdf, Ref, Str, TextStr};

use crate::model::facts::company::Picture;
use crate::paper::canvas::{BezPath, Canvas, Ink, Line, PathEl, Point, Rect};
use crate::paper::drawing::draw;
use crate::paper::pdf_font::{Fonts, Numbers, PRESSED};
use crate::paper::sheet::Sheet;

/// What a reader of the file is told of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct About {
    /// Title, which stands in the reader's window.
    pub title: String,
    /// What it is of.
    pub subject: String,
    /// The program that made it, with its version.
    pub made_by: String,
}

/// The file.
///
/// # Errors
/// One sentence where a face cannot be embedded.
pub fn pdf(sheets: &[Sheet], about: &About) -> Result<Vec<u8>, String> {
    let mut numbers = Numbers::default();
    let (catalog, tree, info) = (numbers.next(), numbers.next(), numbers.next());
    let mut fonts = Fonts::default();
    let (mut opacities, mut pictures) = (BTreeSet::new(), Vec::new());
    let mut of = |sheet| content(sheet, &mut fonts, &mut opacities, &mut pictures);
    let drawn: Vec<Vec<u8>> = sheets.iter().map(&mut of).collect();
    let mut pdf = Pdf::new();
    pdf.set_version(1, 7);
    let mut root = pdf.catalog(catalog);
    root.pages(tree).lang(TextStr("en"));
    root.viewer_preferences().display_doc_title(true);
    root.finish();
    let mut told = pdf.document_info(info);
    told.title(TextStr(&about.title)).subject(TextStr(&about.subject));
    told.creator(TextStr(&about.made_by)).producer(TextStr(&about.made_by));
    told.finish();
    let faces = fonts.embed(sheets.first().map(|sheet| &sheet.faces), &mut pdf, &mut numbers)?;
    let states: Vec<(u8, Ref)> = opacities.into_iter().map(|opacity| (opacity, numbers.next())).collect();
    for (opacity, id) in &states {
        let share = f32::from(*opacity) / 255.0;
        pdf.ext_graphics(*id).non_stroking_alpha(share).stroking_alpha(share);
    }
    let pictures: Vec<Ref> = pictures.iter().map(|picture| embed(picture, &mut pdf, &mut numbers)).collect();
    let ids: Vec<(Ref, Ref)> = sheets.iter().map(|_| (numbers.next(), numbers.next())).collect();
    pdf.pages(tree).kids(ids.iter().map(|(page, _)| *page)).count(i32::try_from(ids.len()).unwrap_or(i32::MAX));
    for ((sheet, drawn), (page, stream)) in sheets.iter().zip(&drawn).zip(&ids) {
        let mut leaf = pdf.page(*page);
        leaf.parent(tree).contents(*stream).media_box(pdf_writer::Rect::new(0.0, 0.0, sheet.paper.x, sheet.paper.y));
        let mut resources = leaf.resources();
        let mut used = resources.fonts();
        for (name, id) in &faces {
            used.pair(Name(name.as_bytes()), *id);
        }
        used.finish();
        let mut used = resources.ext_g_states();
        for (opacity, id) in &states {
            used.pair(Name(state_name(*opacity).as_bytes()), *id);
        }
        used.finish();
        let mut used = resources.x_objects();
        for (index, id) in pictures.iter().enumerate() {
            used.pair(Name(picture_name(index).as_bytes()), *id);
        }
        used.finish();
        resources.finish();
        leaf.finish();
        pdf.stream(*stream, drawn).filter(Filter::FlateDecode);
    }
    Ok(pdf.finish())
}

fn picture_name(index: usize) -> String {
    format!("I{index}")
}

/// Puts a picture into the file: its colours, and where it is seen through how much.
fn embed(picture: &Picture, pdf: &mut Pdf, numbers: &mut Numbers) -> Ref {
    let (width, height) = (picture.width.cast_signed(), picture.height.cast_signed());
    let (pixels, _) = picture.rgba.as_chunks::<4>();
    let colours: Vec<u8> = pixels.iter().flat_map(|[red, green, blue, _]| [*red, *green, *blue]).collect();
    let opacity: Vec<u8> = pixels.iter().map(|[.., opacity]| *opacity).collect();
    let mask = opacity.iter().any(|opacity| *opacity < u8::MAX).then(|| {
        let id = numbers.next();
        let pressed = compress_to_vec_zlib(&opacity, PRESSED);
        let mut object = pdf.image_xobject(id, &pressed);
        object.width(width).height(height).bits_per_component(8).filter(Filter::FlateDecode);
        object.color_space().device_gray();
        id
    });
    let id = numbers.next();
    let pressed = compress_to_vec_zlib(&colours, PRESSED);
    let mut object = pdf.image_xobject(id, &pressed);
    object.width(width).height(height).bits_per_component(8).filter(Filter::FlateDecode);
    object.color_space().device_rgb();
    if let Some(mask) = mask {
        object.s_mask(mask);
    }
    id
}

fn state_name(opacity: u8) -> String {
    format!("O{opacity}")
}

/// The drawing of a sheet, pressed.
fn content(sheet: &Sheet, fonts: &mut Fonts, opacities: &mut BTreeSet<u8>, pictures: &mut Vec<Picture>) -> Vec<u8> {
    let (content, opacity) = (Content::new(), u8::MAX);
    let mut canvas = PdfCanvas { sheet, content, fonts, opacities, pictures, opacity, is_clipped: false };
    // A sheet counts from its top, a page from its foot.
    canvas.content.transform([1.0, 0.0, 0.0, -1.0, 0.0, sheet.paper.y]);
    canvas.content.set_line_join(LineJoinStyle::RoundJoin).set_line_cap(LineCapStyle::ButtCap);
    draw(sheet, &mut canvas);
    canvas.clip(None);
    compress_to_vec_zlib(canvas.content.finish().as_slice(), PRESSED)
}

struct PdfCanvas<'a> {
    sheet: &'a Sheet,
    content: Content,
    fonts: &'a mut Fonts,
    /// Every opacity used but the full one.
    opacities: &'a mut BTreeSet<u8>,
    /// Every picture used.
    pictures: &'a mut Vec<Picture>,
    /// The opacity that holds just now.
    opacity: u8,
    is_clipped: bool,
}

impl PdfCanvas<'_> {
    fn opacity(&mut self, ink: Ink) {
        if self.opacity != ink.opacity {
            self.opacity = ink.opacity;
            self.opacities.insert(ink.opacity);
            self.content.set_parameters(Name(state_name(ink.opacity).as_bytes()));
        }
    }

    fn fill_ink(&mut self, ink: Ink) {
        self.opacity(ink);
        let [red, green, blue] = ink.rgb.map(share);
        self.content.set_fill_rgb(red, green, blue);
    }

    fn trace(&mut self, outline: &BezPath) {
        let at = |point: Point| (rounded(point.x), rounded(point.y));
        let mut last = Point::ZERO;
        for element in outline {
            match element {
                PathEl::MoveTo(to) => {
                    let (x, y) = at(to);
                    self.content.move_to(x, y);
                    last = to;
                }
                PathEl::LineTo(to) => {
                    let (x, y) = at(to);
                    self.content.line_to(x, y);
                    last = to;
                }
                PathEl::QuadTo(by, to) => {
                    // The same curve with two guides instead of one.
                    let guide = |end: Point| at(end.lerp(by, 2.0 / 3.0));
                    let ((x1, y1), (x2, y2), (x, y)) = (guide(last), guide(to), at(to));
                    self.content.cubic_to(x1, y1, x2, y2, x, y);
                    last = to;
                }
                PathEl::CurveTo(first, second, to) => {
                    let ((x1, y1), (x2, y2), (x, y)) = (at(first), at(second), at(to));
                    self.content.cubic_to(x1, y1, x2, y2, x, y);
                    last = to;
                }
                PathEl::ClosePath => {
                    self.content.close_path();
                }
            }
        }
    }
}

impl Canvas for PdfCanvas<'_> {
    fn clip(&mut self, area: Option<Rect>) {
        if self.is_clipped {
            self.content.restore_state();
            // What held before the area is not known any more.
            self.opacity = 0;
        }
        self.is_clipped = area.is_some();
        if let Some(area) = area {
            self.content.save_state();
            let [x, y, width, height] = [area.x0, area.y0, area.width(), area.height()].map(rounded);
            self.content.rect(x, y, width, height).clip_nonzero().end_path();
        }
    }

    fn fill(&mut self, outline: &BezPath, ink: Ink) {
        self.fill_ink(ink);
        self.trace(outline);
        self.content.fill_nonzero();
    }

    fn stroke(&mut self, outline: &BezPath, width: f64, ink: Ink) {
        self.opacity(ink);
        let [red, green, blue] = ink.rgb.map(share);
        self.content.set_stroke_rgb(red, green, blue).set_line_width(rounded(width));
        self.trace(outline);
        self.content.stroke();
    }

    fn text(&mut self, line: &Line) {
        if let Some(halo) = line.halo {
            // As an outline: a reader that copies the text finds it once.
            self.stroke(&self.sheet.faces.outline(line), 2.0 * halo.width, halo.ink);
        }
        self.fill_ink(line.ink);
        let faces = &self.sheet.faces;
        let codes: Vec<u16> = line.letters.iter().map(|letter| self.fonts.code(line.face, letter)).collect();
        let size = line.size as f32;
        self.content.begin_text();
        self.content.set_font(Name(Fonts::name(line.face).as_bytes()), size);
        self.content.set_text_matrix([1.0, 0.0, 0.0, -1.0, rounded(line.at.x), rounded(line.at.y)]);
        let mut shown = self.content.show_positioned();
        let mut items = shown.items();
        let mut x = 0.0;
        for (letter, code) in line.letters.iter().zip(codes) {
            // Thousandths of the size by which the letter stands off the end of the one before it.
            let off = (x - letter.x) / line.size * 1000.0;
            if off.abs() >= 1.0 {
                items.adjust(off.round() as f32);
                x -= off.round() * line.size / 1000.0;
            }
            items.show(Str(&code.to_be_bytes()));
            x += f64::from(faces.get(line.face).map_or(0.0, |face| face.advance(letter.glyph))) * line.size;
        }
        items.finish();
        shown.finish();
        self.content.end_text();
    }

    fn picture(&mut self, picture: &Picture, at: Rect) {
        let known = self.pictures.iter().position(|other| other == picture);
        let index = known.unwrap_or(self.pictures.len());
        if known.is_none() {
            self.pictures.push(picture.clone());
        }
        self.opacity(Ink { rgb: [0; 3], opacity: u8::MAX });
        let [x, y, width, height] = [at.x0, at.y1, at.width(), at.height()].map(rounded);
        self.content.save_state();
        // A picture counts from its foot.
        self.content.transform([width, 0.0, 0.0, -height, x, y]);
        self.content.x_object(Name(picture_name(index).as_bytes()));
        self.content.restore_state();
    }
}

fn share(channel: u8) -> f32 {
    (f32::from(channel) / 255.0 * 1000.0).round() / 1000.0
}

/// A length to a thousandth of a point.
fn rounded(length: f64) -> f32 {
    ((length * 1000.0).round() / 1000.0) as f32
}
