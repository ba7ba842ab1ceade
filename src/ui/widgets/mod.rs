//! Small parts that several panels use.

pub mod caution;
pub mod choice;
pub mod field;
pub mod figure_source;
pub mod focus;
pub mod fold;
pub mod hint;
pub mod label;
pub mod look;
pub mod picture;
pub mod sheet;
pub mod whole_rows;
