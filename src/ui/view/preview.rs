//! The report as it is seen over the window.

/// How large the pages of the report are seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fit {
    /// Whole, side by side.
    #[default]
    Pages,
    /// As wide as the sheet, one under the other.
    Width,
}

impl Fit {
    /// Every one.
    pub const ALL: [Self; 2] = [Self::Pages, Self::Width];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pages => "Whole pages",
            Self::Width => "Page width",
        }
    }
}

/// The report as it is seen over the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PreviewView {
    /// How large its pages are.
    pub fit: Fit,
    /// How many pixels wide a page is wanted; none before it was first drawn.
    pub pixels: u32,
}
