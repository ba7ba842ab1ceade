//! Readings as they are typed.
use crate::app::action::Action;
use crate::ui::view::{Screen, View};
use eframe::egui::Ui;

/// Which reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Before the blower.
    Return,
    /// After the blower.
    Supply,
    /// Total.
    Total,
}

/// Draws a reading's box.
pub fn reading_box(_ui: &mut Ui, _view: &mut View, _screen: &Screen<'_>, _side: Side, _out: &mut Vec<Action>) {}
