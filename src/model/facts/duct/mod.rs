//! What a person says of a duct: its section, wall and run, and what the ducts were designed for.

pub mod design;
pub mod fitting;
pub mod material;
pub mod refusal;
pub mod run;
pub mod section;
