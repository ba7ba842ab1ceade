//! The only part of the library that touches the disk: blower tables, jobs, settings, and how they are written safely.

pub mod atomic_write;
pub mod autosave;
pub mod blower_file;
pub mod demo;
pub mod fingerprint;
mod head;
pub mod job_file;
pub mod library;
pub mod out_file;
mod own_source;
pub mod picture_file;
pub mod places;
pub mod plain_file;
mod quantities;
mod ron_words;
pub mod settings;
pub mod sheet_file;
pub mod table_out;
mod table_text;
mod words;
