//! The physics and the trade's rules, pure: no screen, no disk, no clock.
//!
//! A [`job::Job`] is what a person decided and read; [`answer::Answer`] is everything that follows from it.

pub mod accuracy;
pub mod air;
pub mod air_path;
pub mod answer;
pub mod blower;
pub mod change;
pub mod drop_data;
pub mod duct;
pub mod duct_budget;
pub mod easier_path;
pub mod findings;
pub mod gain;
pub mod holdable;
pub mod job;
pub mod job_check;
pub mod limits;
pub mod needs;
pub mod operating_point;
pub mod path_parts;
pub mod plain_text;
pub mod readings;
pub mod search;
pub mod standing;
pub mod system_curve;
pub mod table_check;
pub mod table_draft;
pub mod table_paste;
pub mod tap_curve;
pub mod target;
pub mod tesp;
pub mod thin_air;
pub mod uncertainty;
pub mod wording;
