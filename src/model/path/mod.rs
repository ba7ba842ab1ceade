//! The air path as it was read: the total external static and the parts that it is made of.

pub mod air;
pub mod contradictions;
pub mod parts;
pub mod read;
pub mod tesp;
