//! Paths with ways side by side, leaks, a bypass and readings across parts, and what changes do to them: held against hand arithmetic, reference rows and a plain bisection of their own.

#[path = "../reference/checks.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod checks;

mod across;
mod bypass;
mod calls;
mod contradictions;
mod edits;
mod house;
mod laws;
mod leaks;
mod machines;
mod many;
mod own_tap;
mod panel;
mod rises;
mod ways;
