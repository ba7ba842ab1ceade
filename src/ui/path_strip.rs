//! The air path.
use crate::app::action::Action;
use crate::ui::view::{Screen, View};
use eframe::egui::Ui;

/// Draws the air path.
pub fn path_strip(_ui: &mut Ui, _screen: &Screen<'_>, _view: &mut View, _out: &mut Vec<Action>) {}
