//! Results written for other programs and for paper; nothing here computes, everything comes from [`crate::model::answer::Answer`].

pub mod csv;
pub mod form;
pub mod json;
pub mod text;
