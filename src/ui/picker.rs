//! The blower picker.
use crate::app::action::Action;
use crate::ui::view::{Screen, View};
use eframe::egui::Ui;

/// Draws the picker while `view.picker` is there.
pub fn show(_ui: &mut Ui, _screen: &Screen<'_>, _view: &mut View, _out: &mut Vec<Action>) {}
