//! The physics and the trade's rules, pure: no screen, no disk, no clock.
//!
//! A [`facts::job::Job`] is what a person decided and read; [`answer::Answer`] is everything that follows from it.
//! The folders are layers, and each imports only from those above it in this list; `tests/architecture.rs` holds that.

pub mod facts;

pub mod laws;

pub mod path;

pub mod change;

pub mod solution;

pub mod verdicts;

pub mod answer;

pub mod alone;
pub mod curves;
pub mod first_guess;
pub mod firsts;
pub mod read_next;
pub mod search;
pub mod side_by_side;
pub mod typed;
pub mod wording;
