//! A blower table while it is typed or pasted: text that is not a table yet.

pub mod table_draft;
pub mod table_paste;
