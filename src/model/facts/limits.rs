//! Limits that verdicts use: data that a person may change, each with its source; and the ranges and sizes that a job can have, each declared here alone.

use crate::units::show;

use crate::units::{Pressure, Velocity};

/// Differences of static under this are not shown (half of the last digit, twice).
pub const SHOWN_DIFFERENCE: Pressure = Pressure::from_in_wc(0.01);
/// The editable limits of a job; where each comes from stands in its declaration ([`crate::model::facts::job_number::JobNumber`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Accepted difference from the target, as a fraction (0.10 is ten percent).
    pub accept_band: f64,
    /// Difference from the target within which a commissioned airflow passes, as a fraction.
    pub commissioned_airflow: f64,
    /// Most that the return grille and duct should take.
    pub return_drop: Pressure,
    /// What a filter between the rooms and the machine may take besides grille and duct.
    pub filter_drop: Pressure,
    /// What a wet coil between the rooms and the machine may take besides.
    pub coil_drop: Pressure,
    /// Old limit of a furnace's supply side, which files hold; nothing is held against it: the rated maximum less what the return side may take is.
    pub furnace_supply_drop: Pressure,
    /// Total external static under this points at a leak, an open panel or a missing part.
    pub least_static: Pressure,
    /// So does total external static under this share of the design static.
    pub least_of_design: f64,
    /// Most of the blower's air that leaks and bypass may keep from the rooms, as a fraction.
    pub lost_air: f64,
    /// Most of a path's drop that work on it takes out, as a fraction.
    pub most_out: f64,
    /// Velocity in a return duct past which it is heard.
    pub duct_velocity: Velocity,
    /// The same at the face of a return grille.
    pub grille_velocity: Velocity,
    /// Electric power for each cfm, W/cfm.
    pub watts_per_cfm: f64,
    /// The same of a gas furnace.
    pub furnace_watts_per_cfm: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            accept_band: 0.10,
            commissioned_airflow: 0.15,
            return_drop: Pressure::from_in_wc(0.15),
            filter_drop: Pressure::from_in_wc(0.20),
            coil_drop: Pressure::from_in_wc(0.30),
            furnace_supply_drop: Pressure::from_in_wc(0.60),
            least_static: Pressure::from_in_wc(0.20),
            least_of_design: 0.5,
            lost_air: 0.15,
            most_out: 0.75,
            duct_velocity: Velocity::from_fpm(700.0),
            grille_velocity: Velocity::from_fpm(500.0),
            watts_per_cfm: 0.58,
            furnace_watts_per_cfm: 0.45,
        }
    }
}

/// What a return grille, the registers or a damper takes where nobody knows better: 0.03 in. w.c. (ANSI/ACCA 1 Manual D, recalled from memory).
pub const OPENING_DROP: Pressure = Pressure::from_in_wc(0.03);

/// Most elements of an air path, those in ways included; a large house with every branch drawn has some sixty.
pub const MOST_ELEMENTS: usize = 200;
/// Most ports; nobody drills and plugs more than a dozen.
pub const MOST_PORTS: usize = 60;
/// Most looks at one place; a person takes three to ten.
pub const MOST_LOOKS: usize = 100;
/// Most grilles of a side; a large house has some forty.
pub const MOST_GRILLES: usize = 100;
/// Most reading sets; a job has one to five.
pub const MOST_SETS: usize = 100;
/// Most changes; a tray of twenty is long, and each one is worked out alone at every move of a hand.
pub const MOST_CHANGES: usize = 100;
/// Most options of a job; a customer compares two to four (common practice, no source).
pub const MOST_OPTIONS: usize = 6;
/// Most published points of one drop; a data sheet prints two to ten.
pub const MOST_POINTS: usize = 100;
/// Most taps, calls and heating stages of a table each; a motor with many settings has some twenty.
pub const MOST_TAPS: usize = 100;
/// Most rows of all columns of a table together; twenty settings of fifteen rows make three hundred.
pub const MOST_ROWS: usize = 5_000;
/// Most letters of a text on one line: a title, a name, a note on a change.
pub const LONGEST_LINE: usize = 1_000;
/// Most letters of notes: some thirty printed pages.
pub const LONGEST_NOTES: usize = 100_000;
/// Highest number of an element, a port or a change; new ones are counted on from the highest, which leaves room for as many again.
pub const HIGHEST_NUMBER: u32 = 1_000_000_000;

/// More than a job or a table holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TooMuch {
    /// Of these there are so many, and can be at most so many.
    Many(&'static str, usize, usize),
    /// A text of so many letters, which can have at most so many.
    Letters(&'static str, usize, usize),
}

impl TooMuch {
    /// One sentence; there is nothing in it that a unit would change.
    pub fn sentence(self) -> String {
        let shown = |count: usize| show::number(count as f64, 0);
        match self {
            Self::Many(what, count, most) => format!("{} {what} are too many; at most {most} can be", shown(count)),
            Self::Letters(what, count, most) => {
                format!("{what} of {} letters is too long; at most {} can be", shown(count), shown(most))
            }
        }
    }
}

/// Refuses more than can be held of something.
///
/// # Errors
/// How many there are, and can be.
pub const fn few(count: usize, most: usize, what: &'static str) -> Result<(), TooMuch> {
    if count <= most { Ok(()) } else { Err(TooMuch::Many(what, count, most)) }
}

/// Most taps of a table that the editor opens or a paste makes; printed tables have up to twenty or so (common practice, no source).
pub const MOST_TYPED_TAPS: usize = 40;
/// Most rows of a table that the editor opens or a paste makes; printed tables have up to twenty or so (common practice, no source).
pub const MOST_TYPED_ROWS: usize = 100;
