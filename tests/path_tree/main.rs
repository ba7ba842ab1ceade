//! Paths with ways side by side, leaks, a bypass and readings across parts, and what changes do to them: held against hand arithmetic, reference rows and a plain bisection of their own.

#[path = "../reference/checks.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod checks;
#[path = "../support/standard_air.rs"]
mod standard_air;

mod across;
mod again;
mod as_found;
mod bypass;
mod calls;
mod contradictions;
mod data_air;
mod edits;
mod heated;
mod house;
mod inside;
mod joins;
mod laws;
mod leaks;
mod machines;
mod many;
mod order;
mod own_tap;
mod panel;
mod rises;
mod ways;
