//! Why a sheet cannot be taken as it stands.

use crate::model::typed::table_paste::grid::Line;
use crate::model::typed::table_sheet::{MOST_COLUMNS, MOST_LINES, MOST_TABLES};
use crate::units::show;
use crate::units::text::cut;

/// Why a sheet cannot be taken as it stands; each with what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetRefusal {
    /// Nothing on it looks like a table.
    NothingFound,
    /// No column holds static pressures.
    NoStatic,
    /// A list without such a column.
    NoLane(&'static str),
    /// The headings name several units of one kind.
    MixedUnits(&'static str, Vec<&'static str>),
    /// Two columns give the same of one tap.
    TapTwice(String, &'static str),
    /// Two lines give one reading.
    ReadingTwice {
        /// The tap.
        tap: String,
        /// The static pressure, as it stands there.
        esp: String,
        /// The lines, counted from 1.
        lines: (usize, usize),
    },
    /// Two machines of one name.
    MachineTwice(String),
    /// More lines than a sheet of tables has.
    TooManyLines(usize),
    /// More columns likewise, in this line.
    TooManyColumns(usize, usize),
    /// More machines likewise.
    TooManyTables(usize),
    /// A table is larger than the editor takes.
    TooLarge(String),
}

/// What a sheet does not say, and nobody may assume: a wrong guess would make another machine of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetQuestion {
    /// What kind of machine it is of.
    Kind,
    /// The unit of airflows beside statics that are not in in. w.c.
    AirflowUnit,
}

impl SheetQuestion {
    /// One sentence.
    pub const fn sentence(self) -> &'static str {
        match self {
            Self::Kind => {
                "What kind of machine is it? The sheet does not say: pick it under Machine; it decides what the table's static takes in"
            }
            Self::AirflowUnit => {
                "In what unit is the airflow? The sheet does not say, and its static is not in in. w.c.: pick it under Airflow in"
            }
        }
    }
}

impl SheetRefusal {
    /// One sentence.
    pub fn sentence(&self) -> String {
        let shown = |count: &usize| show::number(*count as f64, 0);
        match self {
            Self::NothingFound => {
                "Nothing here looks like a blower table: it takes static pressures and, for each tap, airflows".to_owned()
            }
            Self::NoStatic => {
                "No column holds static pressures that rise from row to row; say under the heading which one does, or how the readings lie"
                    .to_owned()
            }
            Self::NoLane(what) => format!("A row a reading needs a column of {what}; say under the heading which one it is"),
            Self::MixedUnits(what, names) => {
                format!("Two units of {what} are named, {}; say which one counts, and leave the other column out", names.join(" and "))
            }
            Self::TapTwice(name, what) => {
                format!("Two columns give the {what} of \"{}\"; leave one out, or give it another name in the file", cut(name))
            }
            Self::ReadingTwice { tap, esp, lines: (first, second) } => {
                format!("Lines {first} and {second} both give \"{}\" at {}; one reading is given once", cut(tap), cut(esp))
            }
            Self::MachineTwice(name) => format!("Two tables are named \"{}\"; give one another name in the file", cut(name)),
            Self::TooManyLines(count) => {
                format!("{} lines are too many; a file of tables here has at most {}", shown(count), shown(&MOST_LINES))
            }
            Self::TooManyColumns(line, count) => {
                format!("Line {line} has {} columns, which are too many; a table here has at most {MOST_COLUMNS}", shown(count))
            }
            Self::TooManyTables(count) => {
                format!("{} machines are too many for one file; at most {MOST_TABLES} can be taken at once", shown(count))
            }
            Self::TooLarge(sentence) => sentence.clone(),
        }
    }
}

/// More lines or columns than a sheet of tables has.
pub(super) fn too_much(lines: &[Line]) -> Option<SheetRefusal> {
    if lines.len() > MOST_LINES {
        return Some(SheetRefusal::TooManyLines(lines.len()));
    }
    let wide = lines.iter().find(|line| line.cells.len() > MOST_COLUMNS)?;
    Some(SheetRefusal::TooManyColumns(wide.number, wide.cells.len()))
}
