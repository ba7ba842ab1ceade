//! A blower table while it is typed, pasted or read from a sheet of a spreadsheet: text that is not a table yet.

pub mod table_draft;
pub mod table_paste;
pub mod table_sheet;
