//! Numerical methods that know nothing of air: each is tested alone.

pub mod homography;
pub mod least_squares;
pub mod monte_carlo;
pub mod pchip;
pub mod root;
