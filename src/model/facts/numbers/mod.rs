//! Every number that a person or a file can give, each declared here alone.

pub mod duct;
pub mod job;
pub mod table;
