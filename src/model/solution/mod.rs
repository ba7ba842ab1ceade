//! Where taps and path cross: as found, with changes on, and how sure that is.

pub mod anchor;
pub mod budget;
pub mod changed;
pub mod draws;
pub mod fit;
pub mod gain;
mod laid_through;
pub mod operating_point;
pub mod operation;
pub mod other_call;
pub mod other_machine;
pub mod uncertainty;
pub mod worth;
