//! Numerical methods that know nothing of air: each is tested alone.

pub mod pchip;
pub mod root;
