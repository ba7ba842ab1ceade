//! A visit of several reading sets: drops told apart by one fit, held against a house that is known.

#[path = "../reference/checks.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod checks;
#[path = "../path_tree/house.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod house;
#[path = "../support/standard_air.rs"]
mod standard_air;

mod coverage;
mod exponents;
mod fitted;
mod truth;
mod without_airflow;
