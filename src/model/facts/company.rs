//! Who writes a report: a person's own company.

use std::fmt;
use std::sync::Arc;

/// The company that a report is of; all of it may be empty.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Company {
    /// What it is called.
    pub name: String,
    /// Where it is: street.
    pub address: String,
    /// Where it is: town, state.
    pub town: String,
    /// How it is reached: telephone, mail, licence number.
    pub contact: String,
    /// Its own mark.
    pub logo: Option<Picture>,
}

impl Company {
    /// True where nothing would stand in its head.
    pub fn is_empty(&self) -> bool {
        self.texts().iter().all(|text| text.is_empty()) && self.logo.is_none()
    }

    /// Its lines, the name first.
    pub fn texts(&self) -> [&str; 4] {
        [&self.name, &self.address, &self.town, &self.contact]
    }
}

/// A picture, row by row from the top.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    /// Columns, 1 or more.
    pub width: u32,
    /// Rows, 1 or more.
    pub height: u32,
    /// Red, green, blue and opacity of each, not multiplied.
    pub rgba: Arc<[u8]>,
}

impl fmt::Debug for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Picture({} x {})", self.width, self.height)
    }
}
