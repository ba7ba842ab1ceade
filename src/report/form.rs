//! The kinds of file that a report can be, told by the ending of the file's name.

use std::path::Path;

use crate::units::show;

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Every result, for other programs.
    Json,
    /// A table for spreadsheets.
    Csv(Table),
    /// The chart as a drawing that can be enlarged.
    Svg,
    /// The chart as a picture.
    Png(Scale),
    /// All of it on paper.
    Pdf(Paper),
    /// A blank sheet on which readings are written down; a PDF that no ending asks for.
    FieldSheet(Paper),
}

/// The paper that a report is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 8½ by 11 inches.
    #[default]
    Letter,
    /// 210 by 297 millimetres (ISO 216).
    A4,
}

impl Paper {
    /// Every paper.
    pub const ALL: [Self; 2] = [Self::Letter, Self::A4];

    /// What it is called on a command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "a4",
        }
    }

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Letter => "Letter",
            Self::A4 => "A4",
        }
    }

    /// Width and height, points (1/72 in.).
    pub const fn size(self) -> (f32, f32) {
        match self {
            Self::Letter => (612.0, 792.0),
            Self::A4 => (595.0, 842.0),
        }
    }
}

/// Which table a spreadsheet gets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Table {
    /// Every tap, as found and with changes.
    #[default]
    Taps,
    /// The curves of taps and path, point by point.
    Curves,
    /// The options side by side.
    Options,
}

impl Table {
    /// Every table.
    pub const ALL: [Self; 3] = [Self::Taps, Self::Curves, Self::Options];

    /// What it is called on a command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Taps => "taps",
            Self::Curves => "curves",
            Self::Options => "options",
        }
    }
}

/// Pixels of a picture for each point of the drawing (1/72 in.).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale(f32);

/// Least and most of [`Scale`]: under it letters cannot be read, over it a picture has more pixels than any paper.
pub const SCALES: (f32, f32) = (0.5, 10.0);

/// The scale where nothing is asked: as fine as a laptop's screen.
const USUAL_SCALE: f32 = 2.0;

// A scale is always a number.
impl Eq for Scale {}

impl Scale {
    /// A scale; nothing outside of [`SCALES`].
    pub fn new(factor: f32) -> Option<Self> {
        (SCALES.0..=SCALES.1).contains(&factor).then_some(Self(factor))
    }

    /// The number.
    pub const fn factor(self) -> f32 {
        self.0
    }
}

impl Default for Scale {
    fn default() -> Self {
        Self(USUAL_SCALE)
    }
}

/// ".pdf, .json, .csv".
pub fn endings() -> String {
    Form::ALL.map(|form| format!(".{}", form.ending())).join(", ")
}

/// "0.5 to 10".
pub fn scales() -> String {
    let [least, most] = [SCALES.0, SCALES.1].map(|scale| show::trimmed(f64::from(scale), 2));
    format!("{least} to {most}")
}

impl Form {
    /// Every form that an ending asks for, as it is where nothing else is asked.
    pub const ALL: [Self; 5] =
        [Self::Pdf(Paper::Letter), Self::Json, Self::Csv(Table::Taps), Self::Svg, Self::Png(Scale(USUAL_SCALE))];

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Json => "Results (JSON)",
            Self::Csv(_) => "Every tap (CSV)",
            Self::Svg => "Chart (SVG)",
            Self::Png(_) => "Chart (PNG)",
            Self::Pdf(_) => "Report (PDF)",
            Self::FieldSheet(_) => "Field sheet (PDF)",
        }
    }

    /// What is told of once it is written, and whether that is one or several: "Results are", "Field sheet is".
    pub const fn result(self) -> (&'static str, &'static str) {
        match self {
            Self::Json | Self::Csv(_) | Self::Svg | Self::Png(_) | Self::Pdf(_) => ("Results", "are"),
            Self::FieldSheet(_) => ("Field sheet", "is"),
        }
    }

    /// The form of a file's ending, as it is where nothing else is asked: JSON where it has none; nothing for an ending that no report has.
    pub fn of(file: &Path) -> Option<Self> {
        let Some(ending) = file.extension() else {
            return Some(Self::Json);
        };
        Self::ALL.into_iter().find(|form| ending.eq_ignore_ascii_case(form.ending()))
    }

    /// The same on another paper, where it is on any.
    #[must_use]
    pub const fn on(self, paper: Paper) -> Self {
        match self {
            Self::Pdf(_) => Self::Pdf(paper),
            Self::FieldSheet(_) => Self::FieldSheet(paper),
            Self::Json | Self::Csv(_) | Self::Svg | Self::Png(_) => self,
        }
    }

    /// A field sheet into this file; nothing for an ending that no PDF has.
    pub fn field_sheet(file: &Path, paper: Paper) -> Option<Self> {
        let sheet = Self::FieldSheet(paper);
        file.extension().is_none_or(|ending| ending.eq_ignore_ascii_case(sheet.ending())).then_some(sheet)
    }

    /// The ending of its files.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Json => "json",
            Self::Csv(_) => "csv",
            Self::Svg => "svg",
            Self::Png(_) => "png",
            Self::Pdf(_) | Self::FieldSheet(_) => "pdf",
        }
    }

    /// The paper of what is printed on pages.
    pub const fn paper(self) -> Option<Paper> {
        match self {
            Self::Pdf(paper) | Self::FieldSheet(paper) => Some(paper),
            Self::Json | Self::Csv(_) | Self::Svg | Self::Png(_) => None,
        }
    }

    /// True for what holds one job.
    pub const fn is_of_one_job(self) -> bool {
        match self {
            Self::Json | Self::Csv(_) | Self::Pdf(_) | Self::FieldSheet(_) => false,
            Self::Svg | Self::Png(_) => true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_says_what_is_written() {
        let rows = [
            ("a.json", Some(Form::Json)),
            ("A.CSV", Some(Form::Csv(Table::Taps))),
            ("a.b/chart.svg", Some(Form::Svg)),
            ("a.Pdf", Some(Form::Pdf(Paper::Letter))),
            ("chart.png", Some(Form::Png(Scale::default()))),
            ("/dev/stdout", Some(Form::Json)),
            ("report.docx", None),
        ];
        for (file, expected) in rows {
            assert_eq!(Form::of(Path::new(file)), expected, "{file}");
        }
        for form in Form::ALL {
            assert_eq!(Form::of(Path::new(&format!("a.{}", form.ending()))), Some(form));
        }
    }

    #[test]
    fn a_scale_outside_of_its_range_is_none() {
        for (factor, is_one) in [(0.49, false), (0.5, true), (10.0, true), (10.1, false), (f32::NAN, false)] {
            assert_eq!(Scale::new(factor).is_some(), is_one, "{factor}");
        }
    }
}
