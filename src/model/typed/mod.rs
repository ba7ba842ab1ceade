//! A blower table while it is typed, off a photograph of it too, pasted, read from a sheet of a spreadsheet or traced from a picture: what is not a table yet.

pub mod chart_trace;
pub mod straightened;
pub mod table_draft;
pub mod table_paste;
pub mod table_photo;
pub mod table_sheet;
