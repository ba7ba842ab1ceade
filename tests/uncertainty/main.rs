//! How sure each airflow is, and each difference of two.

#[path = "../support/standard_air.rs"]
mod standard_air;

mod anchored;
mod by_hand;
mod by_library;
mod coverage;
mod draws;
