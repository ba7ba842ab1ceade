//! The faces of a PDF: of each, only the letters that are used, with the text that they stand for.

use std::collections::BTreeMap;

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish as _, Name, Pdf, Ref, Str};
use skrifa::instance::{LocationRef, Size};
use skrifa::raw::types::Tag;
use skrifa::{FontRef, MetadataProvider as _};
use subsetter::GlyphRemapper;

use crate::paper::canvas::Letter;
use crate::paper::faces::{Face, Faces};

/// How hard drawings and faces are pressed: the best that takes no noticeable time.
pub(super) const PRESSED: u8 = 6;

/// Gives numbers to the parts of a file.
#[derive(Default)]
pub(super) struct Numbers(i32);

impl Numbers {
    /// The number after the last one.
    pub(super) const fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// What a glyph's code in the file counts.
const IDENTITY: SystemInfo<'static> = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// The letters used of every face.
#[derive(Default)]
pub(super) struct Fonts {
    used: BTreeMap<usize, Used>,
}

/// The letters used of a face.
#[derive(Default)]
struct Used {
    /// From the glyphs of the face to those of the file.
    glyphs: GlyphRemapper,
    /// The letter that a glyph of the file stands for.
    letters: BTreeMap<u16, char>,
}

impl Fonts {
    /// What a face is called on a page.
    pub(super) fn name(face: usize) -> String {
        format!("F{face}")
    }

    /// The code of a letter in the file.
    pub(super) fn code(&mut self, face: usize, letter: &Letter) -> u16 {
        let used = self.used.entry(face).or_default();
        let code = used.glyphs.remap(letter.glyph);
        used.letters.entry(code).or_insert(letter.letter);
        code
    }

    /// Puts the faces into a file; gives what they are called on a page.
    pub(super) fn embed(
        &self,
        faces: Option<&Faces>,
        pdf: &mut Pdf,
        numbers: &mut Numbers,
    ) -> Result<Vec<(String, Ref)>, String> {
        let of = |index: &usize| faces.and_then(|faces| faces.get(*index));
        let known = self.used.iter().filter_map(|(index, used)| Some((*index, of(index)?, used)));
        known.map(|(index, face, used)| Ok((Self::name(index), embed(face, used, pdf, numbers)?))).collect()
    }
}

fn embed(face: &Face, used: &Used, pdf: &mut Pdf, numbers: &mut Numbers) -> Result<Ref, String> {
    let refused =
        || format!("the typeface \"{}\" cannot be put into the file, which is a fault of the program", face.name);
    let subset =
        subsetter::subset((*face.data.font).as_ref(), face.data.index, &used.glyphs).map_err(|_fault| refused())?;
    let whole = face.font().ok_or_else(refused)?;
    // Letters of cubic curves stand in a table of their own, which is all that a PDF wants of such a face.
    let cubic = FontRef::new(&subset).ok().and_then(|font| font.table_data(Tag::new(b"CFF ")));
    let kind = if cubic.is_some() { CidFontType::Type0 } else { CidFontType::Type2 };
    let outlines = cubic.map_or(&subset[..], |table| table.as_bytes());
    let name = format!("TAPCRS+Face-{}", face.name);
    let [font, descendant, descriptor, file, map] = [(); 5].map(|()| numbers.next());
    pdf.type0_font(font)
        .base_font(Name(name.as_bytes()))
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(descendant)
        .to_unicode(map);
    let mut cid = pdf.cid_font(descendant);
    cid.subtype(kind).base_font(Name(name.as_bytes())).system_info(IDENTITY).font_descriptor(descriptor);
    cid.default_width(0.0);
    if cubic.is_none() {
        cid.cid_to_gid_map_predefined(Name(b"Identity"));
    }
    cid.widths().consecutive(0, used.glyphs.remapped_gids().map(|glyph| face.advance(glyph) * 1000.0));
    cid.finish();
    describe(&whole, Name(name.as_bytes()), (descriptor, file, cubic.is_some()), pdf);
    let pressed = compress_to_vec_zlib(outlines, PRESSED);
    let mut stream = pdf.stream(file, &pressed);
    stream.filter(Filter::FlateDecode);
    if cubic.is_some() {
        stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
    }
    stream.finish();
    let mut letters = UnicodeCmap::new(Name(b"Letters"), IDENTITY);
    used.letters.iter().for_each(|(code, letter)| letters.pair(*code, *letter));
    let pressed = compress_to_vec_zlib(letters.finish().as_slice(), PRESSED);
    pdf.cmap(map, &pressed).filter(Filter::FlateDecode);
    Ok(font)
}

/// Measures of a face, in thousandths of its size.
fn describe(font: &FontRef<'_>, name: Name<'_>, (id, file, is_cubic): (Ref, Ref, bool), pdf: &mut Pdf) {
    let metrics = font.metrics(Size::new(1000.0), LocationRef::default());
    let bounds = metrics.bounds.unwrap_or_default();
    let mut told = pdf.font_descriptor(id);
    told.name(name)
        .flags(FontFlags::SYMBOLIC)
        .bbox(pdf_writer::Rect::new(bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max))
        .italic_angle(metrics.italic_angle)
        .ascent(metrics.ascent)
        .descent(metrics.descent)
        .cap_height(metrics.cap_height.unwrap_or(metrics.ascent))
        // Of no use to any reader that has the outlines; a heavy face's is about twice as much.
        .stem_v(80.0);
    if is_cubic {
        told.font_file3(file);
    } else {
        told.font_file2(file);
    }
}
