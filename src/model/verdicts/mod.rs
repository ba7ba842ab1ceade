//! What a practitioner judges of a solved system: its taps, its plate, its ducts, what it needs, what is remarkable.

pub mod blower;
pub mod commissioning;
pub mod duct_allowance;
pub mod easier_path;
pub mod findings;
pub mod found;
pub mod most;
pub mod needs;
pub mod opinions;
pub mod plate;
pub mod projection;
pub mod system;
pub mod taps;
pub mod targets;
