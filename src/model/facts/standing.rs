//! How well founded a number is: no airflow is shown without it.

/// Standing of a point on a tap's curve, best first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum CurveStanding {
    /// On or between the table's rows.
    #[default]
    Published,
    /// Past the table's first or last row.
    Extrapolated,
}

/// Standing of what is known of the air path, best first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum PathStanding {
    /// Rests on readings only.
    #[default]
    Measured,
    /// Split off a segment by shares.
    Shared,
    /// Rests on a default or on data that somebody should check.
    Assumed,
}

/// Both parts of the standing of a result; `max` gives the worse of each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// Of the tap's curve.
    pub curve: CurveStanding,
    /// Of the air path and the table's use.
    pub path: PathStanding,
}

impl Standing {
    /// The worse of each part.
    #[must_use]
    pub fn worse(self, other: Self) -> Self {
        Self { curve: self.curve.max(other.curve), path: self.path.max(other.path) }
    }

    /// The same with a path standing at least as bad as given.
    #[must_use]
    pub fn with_path(self, path: PathStanding) -> Self {
        Self { path: self.path.max(path), ..self }
    }

    /// The two words, as screens and reports write them.
    pub const fn words(self) -> (&'static str, &'static str) {
        (self.curve.word(), self.path.word())
    }
}

impl CurveStanding {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Extrapolated => "extrapolated",
        }
    }
}

impl PathStanding {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Shared => "shared",
            Self::Assumed => "assumed",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_result_is_no_better_than_its_worst_part() {
        let read = Standing::default();
        let doubtful = Standing { curve: CurveStanding::Extrapolated, path: PathStanding::Assumed };
        assert_eq!(read.worse(doubtful), doubtful);
        assert_eq!(doubtful.worse(read), doubtful);
    }
}
