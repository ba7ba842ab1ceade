//! Tapcross draws the system curve of a duct system over the speed-tap curves of its blower.
//!
//! From the bottom up: [`units`] and [`numerics`] know nothing of jobs; [`model`] is the physics and the trade's rules; [`edit`] and [`history`] change a job; [`files`] is the disk; [`report`] writes results; [`worker`] works off the drawing thread; [`ui`] draws; [`paper`] puts drawings into files; [`app`] holds the window together; [`cli`] reads the command line.
#![cfg_attr(not(test), deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::wildcard_enum_match_arm))]

pub mod app;
pub mod cli;
pub mod edit;
pub mod files;
pub mod history;
pub mod model;
pub mod numerics;
pub mod paper;
pub mod report;
pub mod ui;
pub mod units;
pub mod worker;
