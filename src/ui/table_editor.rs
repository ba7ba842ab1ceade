//! The table editor.
use crate::app::action::Action;
use crate::model::blower::BlowerTable;
use crate::ui::view::{Screen, View};
use eframe::egui::Ui;

/// A table while it is typed.
#[derive(Debug, Clone)]
pub struct TableEditor {}

impl TableEditor {
    /// Opens on a table, or on an empty grid.
    pub fn open(_table: Option<&BlowerTable>) -> Self {
        Self {}
    }
}

/// Draws the editor while `view.table_editor` is there.
pub fn show(_ui: &mut Ui, _screen: &Screen<'_>, _view: &mut View, _out: &mut Vec<Action>) {}
