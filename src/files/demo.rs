//! Two complete invented jobs that the program carries, so that there is something to drag at once.
//!
//! They are job files like any other, in `assets/demo`; a test holds their machines against the shipped blower files.

use crate::files::job_file;
use crate::model::facts::job::Job;

const HEAT_PUMP: &str = include_str!("../../assets/demo/heat-pump.ron");
const GAS_FURNACE: &str = include_str!("../../assets/demo/gas-furnace.ron");

/// A 3½-ton heat-pump air handler in a raised-floor house with one hallway return (invented): too little air, and over the plate.
pub fn heat_pump() -> Job {
    embedded(HEAT_PUMP)
}

/// An 80,000 Btu/h gas furnace with a coil outside its cabinet (invented).
pub fn gas_furnace() -> Job {
    embedded(GAS_FURNACE)
}

/// A demo job; a broken one would say so in its title, and a test sees to it that none is.
fn embedded(text: &str) -> Job {
    job_file::parse(text)
        .unwrap_or_else(|broken| Job { title: format!("The demo job cannot be read: {broken}"), ..Job::default() })
}
