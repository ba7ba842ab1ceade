//! Duct physics: what a run, a fitting, a grille, a filter or a group of branches costs, and which size keeps to an allowed drop.
//!
//! Everything here works at the job's own air ([`air_properties::DuctAir`]) and answers a bad size with [`crate::model::facts::duct::refusal::InputError`], one sentence each.
//! Sources are named beside each formula; "the handbook" is the ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Duct Design, read in an unofficial copy.

pub mod air_properties;
pub mod available;
pub mod between_conditions;
pub mod filter;
pub mod fitting;
pub mod fitting_table;
pub mod flexible;
pub mod friction;
pub mod leak;
pub mod opening;
pub mod parallel;
pub mod registers;
pub mod return_minimum;
pub mod run;
pub mod size;
pub mod stock;
pub mod velocity_pressure;
