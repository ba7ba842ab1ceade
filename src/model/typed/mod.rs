//! A blower table while it is typed, pasted, read from a sheet of a spreadsheet or traced from a picture: what is not a table yet.

pub mod chart_trace;
pub mod table_draft;
pub mod table_paste;
pub mod table_sheet;
