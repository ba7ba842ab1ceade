//! Blower tables that come from files, and that are kept.

use std::path::{Path, PathBuf};

use eframe::egui::Context;

use crate::app::TapcrossApp;
use crate::files::library;
use crate::files::picture_file;
use crate::files::sheet_file::{self, TableFile};
use crate::model::facts::blower::BlowerTable;
use crate::model::typed::table_draft::TableFor;
use crate::ui::view::Confirm;
use crate::ui::view::action::{Action, Keeping};
use crate::ui::view::chart_trace::TraceView;
use crate::ui::view::path_prompt::Purpose;
use crate::ui::view::table_editor::TableEditor;
use crate::ui::view::table_sheet::TableSheet;

/// What opening a file means: looking at its blower tables, or at its job.
pub(super) fn opening(path: PathBuf) -> Action {
    if sheet_file::is_meant(&path) || picture_file::is_meant(&path) {
        Action::OpenTable(path)
    } else {
        Action::OpenPath(path)
    }
}

/// What a file is called without its folders.
fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// The tables of files that each hold one as the program writes it; nothing where another is among them.
fn tables_of(paths: &[PathBuf]) -> Option<Vec<BlowerTable>> {
    let table = |path: &PathBuf| match sheet_file::is_meant(path).then(|| sheet_file::read(path)) {
        Some(Ok(TableFile::Own(table))) => Some(*table),
        Some(Ok(TableFile::Sheet(..)) | Err(_)) | None => None,
    };
    paths.iter().map(table).collect()
}

/// Most tables that are named one by one when they could not be kept.
const TOLD: usize = 3;

impl TapcrossApp {
    /// Opens a file that was dropped on the window; several blower tables are kept among the person's own, and of several other files the first is opened.
    pub(super) fn take_dropped(&mut self, mut paths: Vec<PathBuf>, ctx: &Context) {
        if paths.len() > 1 {
            if let Some(tables) = tables_of(&paths) {
                self.run_after_the_field(Action::KeepTables(tables), ctx);
                return;
            }
            let more = paths.len() - 1;
            let left =
                if more == 1 { "the other one is left".to_owned() } else { format!("the {more} others are left") };
            self.wrong(format!(
                "One file is opened at a time, and {left}; several blower tables can be dropped at once"
            ));
        }
        self.run_after_the_field(opening(paths.swap_remove(0)), ctx);
    }

    /// Asks for a file of blower tables, for whatever the picker was open for, else for the job.
    pub(super) fn ask_for_a_table(&mut self, ctx: &Context) {
        if self.view.picker.take().is_none() {
            self.view.table_for = TableFor::Job;
        }
        self.dialogs.ask(Purpose::OpenTable, ctx);
    }

    /// Looks at the tables of a file, or opens the editor on the program's own.
    pub(super) fn open_table(&mut self, path: &Path) {
        if picture_file::is_meant(path) && self.view.table_editor.is_some() {
            self.lay_beside(path);
            return;
        }
        if self.view.table_editor.as_ref().is_some_and(TableEditor::is_changed) {
            self.wrong_path("A table is being typed: use it, keep it or close it before another is opened".to_owned());
            return;
        }
        if self.view.chart_trace.as_ref().is_some_and(|traced| !traced.trace().is_empty()) {
            self.wrong_path(
                "A picture is being traced: take its table or close it before another is opened".to_owned(),
            );
            return;
        }
        if picture_file::is_meant(path) {
            self.open_picture(path);
            return;
        }
        match sheet_file::read(path) {
            Ok(TableFile::Own(table)) => self.view.edit_table(Some(&table), self.view.table_for),
            Ok(TableFile::Sheet(text, letters)) => {
                let name = file_name(path);
                (self.view.table_editor, self.view.chart_trace) = (None, None);
                self.view.table_sheet = Some(TableSheet::open(name, text, letters));
            }
            Err(error) => {
                self.wrong_path(format!("{error:#}"));
                return;
            }
        }
        (self.view.picker, self.view.path_prompt) = (None, None);
    }

    /// Lays a photograph of the printed table over the grid that is typed.
    fn lay_beside(&mut self, path: &Path) {
        match (picture_file::read(path), self.view.table_editor.as_mut()) {
            (Ok(picture), Some(editor)) => {
                editor.lay_beside(file_name(path), picture);
                self.view.path_prompt = None;
            }
            (Ok(_), None) => {}
            (Err(error), _) => self.wrong_path(format!("{error:#}")),
        }
    }

    /// Begins to trace the fan chart in a picture.
    fn open_picture(&mut self, path: &Path) {
        match picture_file::read(path) {
            Ok(picture) => {
                let name = file_name(path);
                (self.view.table_editor, self.view.table_sheet) = (None, None);
                (self.view.picker, self.view.path_prompt) = (None, None);
                self.view.chart_trace = Some(TraceView::open(name, picture));
            }
            Err(error) => self.wrong_path(format!("{error:#}")),
        }
    }

    /// Keeps tables among the person's own; those whose name is taken are told and left alone.
    pub(super) fn keep_tables(&mut self, tables: Vec<BlowerTable>) {
        let Some(folder) = self.own_folder() else {
            self.wrong("Not kept: there is no folder to keep tables in; open them in the table editor one by one");
            return;
        };
        let (mut kept, mut failed) = (0, Vec::new());
        for table in tables {
            match library::save_own(&folder, &table) {
                Ok(path) => {
                    kept += 1;
                    self.among_own(path, table);
                }
                Err(error) => failed.push(format!("{error:#}")),
            }
        }
        let plural = if kept == 1 { "table is" } else { "tables are" };
        if kept > 0 {
            self.done(format!("{kept} {plural} among your own: {}", folder.display()));
        }
        let more = failed.len().saturating_sub(TOLD);
        failed.truncate(TOLD);
        if more > 0 {
            failed.push(format!("{more} more could not be kept either"));
        }
        if failed.is_empty() {
            self.view.table_sheet = None;
        }
        for sentence in failed {
            self.wrong(sentence);
        }
    }

    /// Keeps a table among the person's own and uses it in the job.
    pub(super) fn keep_table(&mut self, table: BlowerTable) {
        let keeping = self.view.table_editor.as_ref().map(|editor| editor.keeping.clone()).unwrap_or_default();
        if keeping != Keeping::AndUse {
            self.keep_in_unless_changed(table, keeping);
            return;
        }
        let Some(folder) = self.own_folder() else {
            self.wrong("The table is used in this job, but there is no folder to keep it in");
            self.use_table(table);
            return;
        };
        if let Some(path) = self.kept_under(&table.name) {
            self.view.confirm = Some(Confirm {
                question: format!("A table named \"{}\" is among your own already.", table.name),
                yes: "Replace it".to_owned(),
                no: "Keep the old one",
                third: None,
                action: Box::new(Action::ReplaceTable(path, Box::new(table))),
            });
            return;
        }
        match library::save_own(&folder, &table) {
            Ok(path) => self.kept(path, table),
            Err(error) => self.wrong(format!("{error:#}")),
        }
    }

    /// Puts a table in the place of one that was kept.
    pub(super) fn replace_table(&mut self, path: PathBuf, table: BlowerTable) {
        match library::replace_own(&path, &table) {
            Ok(()) => self.kept(path, table),
            Err(error) => self.wrong(format!("{error:#}")),
        }
    }

    fn kept(&mut self, path: PathBuf, table: BlowerTable) {
        self.done(format!("Table kept: {}", path.display()));
        self.among_own(path, table.clone());
        self.use_table(table);
    }
}
