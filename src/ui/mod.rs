//! Everything that is drawn: one file a panel, each a function of the job and its answer that hands out actions.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "points on the screen are f32 and counts of marks are small; both come from bounded f64 values"
)]

pub mod changes_panel;
pub mod chart;
pub mod chart_trace;
pub mod help;
pub mod job_panel;
pub mod options;
pub mod overlays;
pub mod page;
pub mod path_strip;
pub mod picker;
pub mod preview;
pub mod reading_entry;
pub mod recovered;
pub mod settings;
pub mod table_editor;
pub mod table_sheet;
pub mod taps_panel;
pub mod theme;
pub mod top_bar;
pub mod verdict_strip;
pub mod view;
pub mod widgets;
pub mod window;
