//! Where a table in the job is not the library's of its name: in what, and what can be done about it.

use eframe::egui::{Role, Ui, WidgetInfo};

use crate::model::typed::table_draft::TableFor;
use crate::ui::view::action::Action;
use crate::ui::view::library::AgainstLibrary;
use crate::ui::widgets::{hint, label};

/// Says it, and takes the library's table or keeps this one; nothing where both mean the same.
pub fn shown(ui: &mut Ui, held: &AgainstLibrary, what_for: TableFor, out: &mut Vec<Action>) {
    let (Some((sentence, library)), Some(own)) = (&held.differs, &held.machine) else {
        return;
    };
    let whose = match what_for {
        TableFor::Job => "",
        TableFor::OtherMachine(_) => " for the new machine",
    };
    label::question(ui, sentence);
    ui.horizontal_wrapped(|ui| {
        let mut button = |name: &str, about: &str| {
            let response = ui.button(name);
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{name}{whose}")));
            hint::and_under_the_pointer(response, about).clicked()
        };
        if button("Take the library's", "The library's table takes the place of this copy; undo brings this one back") {
            out.push(Action::TakeFromLibrary(Box::new(library.clone()), what_for));
        }
        if button("Put this one into my tables…", "This copy becomes a table of the library; the job stays as it is")
        {
            out.push(Action::KeepJobsTable(Box::new(own.clone())));
        }
    });
}
