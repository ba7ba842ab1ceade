//! A sheet as SVG 1.1: outlines as paths, text as text in the program's face or one like it.

use std::fmt::Write as _;

use crate::model::facts::company::Picture;
use crate::paper::canvas::{BezPath, Canvas, Halo, Ink, Line, PathEl, Point, Rect};
use crate::paper::drawing::draw;
use crate::paper::sheet::Sheet;

/// Faces that a reader of the file may have, the program's own first.
const FAMILY: &str = "Inter, 'Helvetica Neue', Helvetica, Arial, sans-serif";
/// Weight of the heavier face, as style sheets count it.
const STRONG: &str = "600";

/// The file.
pub fn svg(sheet: &Sheet, title: &str) -> String {
    let [width, height] = [sheet.paper.x, sheet.paper.y].map(|length| number(f64::from(length)));
    let mut canvas = SvgCanvas { sheet, body: String::new(), clips: 0, is_clipped: false };
    draw(sheet, &mut canvas);
    canvas.clip(None);
    let title = escaped(title);
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}pt\" height=\"{height}pt\" viewBox=\"0 0 {width} {height}\" font-family=\"{FAMILY}\">\n<title>{title}</title>\n{}</svg>\n",
        canvas.body
    )
}

struct SvgCanvas<'a> {
    sheet: &'a Sheet,
    body: String,
    /// How many areas were named so far.
    clips: usize,
    is_clipped: bool,
}

impl SvgCanvas<'_> {
    fn add(&mut self, text: &str) {
        self.body.push_str(text);
        self.body.push('\n');
    }

    fn is_strong(&self, face: usize) -> bool {
        self.sheet.faces.get(face).is_some_and(|face| face.name == "strong")
    }
}

impl Canvas for SvgCanvas<'_> {
    fn clip(&mut self, area: Option<Rect>) {
        if self.is_clipped {
            self.add("</g>");
        }
        self.is_clipped = area.is_some();
        if let Some(area) = area {
            self.clips += 1;
            let [x, y, width, height] = [area.x0, area.y0, area.width(), area.height()].map(number);
            let id = self.clips;
            self.add(&format!(
                "<clipPath id=\"c{id}\"><rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/></clipPath>\n<g clip-path=\"url(#c{id})\">"
            ));
        }
    }

    fn fill(&mut self, outline: &BezPath, ink: Ink) {
        let line = format!("<path d=\"{}\" {}/>", steps(outline), paint("fill", ink));
        self.add(&line);
    }

    fn stroke(&mut self, outline: &BezPath, width: f64, ink: Ink) {
        let line = format!(
            "<path d=\"{}\" fill=\"none\" {} stroke-width=\"{}\" stroke-linejoin=\"round\"/>",
            steps(outline),
            paint("stroke", ink),
            number(width)
        );
        self.add(&line);
    }

    fn text(&mut self, line: &Line) {
        let weight = if self.is_strong(line.face) { format!(" font-weight=\"{STRONG}\"") } else { String::new() };
        let halo = line.halo.map(around).unwrap_or_default();
        let [x, y, size, width] = [line.at.x, line.at.y, line.size, line.width()].map(number);
        let text = escaped(&line.text());
        let line = format!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{weight} {}{halo} textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\">{text}</text>",
            paint("fill", line.ink)
        );
        self.add(&line);
    }

    fn picture(&mut self, picture: &Picture, at: Rect) {
        let [x, y, width, height] = [at.x0, at.y0, at.width(), at.height()].map(number);
        // Pixels that are as many as they say can always be put into a file.
        let Ok(file) = png_of(picture) else { return };
        let image = format!(
            "<image x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" preserveAspectRatio=\"none\" href=\"data:image/png;base64,{}\"/>",
            base64(&file)
        );
        self.add(&image);
    }
}

fn png_of(picture: &Picture) -> Result<Vec<u8>, png::EncodingError> {
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, picture.width, picture.height);
    encoder.set_color(png::ColorType::Rgba);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&picture.rgba)?;
    writer.finish()?;
    Ok(file)
}

/// Bytes as letters (RFC 4648).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let [first, second, third] = [0, 1, 2].map(|at| u32::from(three.get(at).copied().unwrap_or_default()));
        let all = first << 16 | second << 8 | third;
        for place in 0..4 {
            let six = (all >> (18 - 6 * place)) as usize & 63;
            text.push(if place > three.len() { '=' } else { char::from(LETTERS[six]) });
        }
    }
    text
}

fn around(halo: Halo) -> String {
    let ink = paint("stroke", halo.ink);
    format!(" {ink} stroke-width=\"{}\" stroke-linejoin=\"round\" paint-order=\"stroke\"", number(2.0 * halo.width))
}

/// A colour as an attribute, with its opacity where it has one.
fn paint(what: &str, ink: Ink) -> String {
    let [red, green, blue] = ink.rgb;
    let colour = format!("{what}=\"#{red:02x}{green:02x}{blue:02x}\"");
    if ink.opacity == u8::MAX {
        return colour;
    }
    format!("{colour} {what}-opacity=\"{:.3}\"", f64::from(ink.opacity) / 255.0)
}

fn steps(outline: &BezPath) -> String {
    let mut steps = String::new();
    let mut step = |letter: char, points: &[Point]| {
        steps.push(letter);
        let places: Vec<String> = points.iter().map(|at| format!("{} {}", number(at.x), number(at.y))).collect();
        // Nothing can go wrong where a text grows in memory.
        write!(steps, "{}", places.join(" ")).ok();
    };
    for element in outline {
        match element {
            PathEl::MoveTo(at) => step('M', &[at]),
            PathEl::LineTo(at) => step('L', &[at]),
            PathEl::QuadTo(by, at) => step('Q', &[by, at]),
            PathEl::CurveTo(first, second, at) => step('C', &[first, second, at]),
            PathEl::ClosePath => step('Z', &[]),
        }
    }
    steps
}

/// A length with at most two decimals.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A text as XML holds it; letters that XML cannot hold are left out.
fn escaped(text: &str) -> String {
    let mut all = String::new();
    for letter in text.chars() {
        match letter {
            '&' => all.push_str("&amp;"),
            '<' => all.push_str("&lt;"),
            '>' => all.push_str("&gt;"),
            '"' => all.push_str("&quot;"),
            '\t' | '\n' | '\r' => all.push(' '),
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {}
            letter => all.push(letter),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::base64;

    /// The test vectors of RFC 4648, section 10.
    #[test]
    fn bytes_become_letters_as_the_standard_has_them() {
        let rows = [
            ("", ""),
            ("f", "Zg=="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (bytes, letters) in rows {
            assert_eq!(base64(bytes.as_bytes()), letters);
        }
    }
}
