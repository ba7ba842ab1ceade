//! The air path as it was read: the total external static, the parts that it is made of, and what a change does to them.

pub mod contradictions;
pub mod effect;
pub mod parts;
pub mod tesp;
