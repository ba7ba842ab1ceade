//! The chart.
use crate::app::action::Action;
use crate::ui::view::{Screen, View};
use eframe::egui::Ui;

/// Draws the chart.
pub fn chart(_ui: &mut Ui, _screen: &Screen<'_>, _view: &mut View, _out: &mut Vec<Action>) {}
