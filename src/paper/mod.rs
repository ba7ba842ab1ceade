//! What is drawn once and leaves the program: pages and charts as PDF, SVG and PNG.
//!
//! The window's own drawing functions lay a sheet out without a window ([`sheet`]); what they painted goes through one converter ([`drawing`]) onto a [`canvas::Canvas`], of which there is one for each kind of file: [`pdf`], [`svg`], [`png`].
//! It stands over [`crate::ui`], whose drawing it uses, and below the command line and the window's life, which ask it for whole files.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "files hold lengths as f32 and pixels as u16; both come from a sheet's size, which is bounded"
)]

pub mod canvas;
pub mod drawing;
pub mod faces;
pub mod pdf;
pub mod pdf_font;
pub mod png;
pub mod printed;
pub mod sheet;
pub mod svg;
