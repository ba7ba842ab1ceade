#![doc = include_str!("../../assets/formats/report.md")]

mod changes;
mod commissioning;
mod ducts;
mod given;
mod judged;
mod monte_carlo;
mod opinions;
mod options;
mod part;
mod point;
mod read_next;
mod remarks;
mod sizes;
mod system;
mod taps;
mod tree;
mod visit;
mod whole;
mod words;
mod written;

pub use whole::{REPORT_VERSION, Report, every_option, taps_of_both};
pub use written::{many, one};

#[cfg(test)]
mod tests;
