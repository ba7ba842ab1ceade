//! The library as a person keeps it: tables changed, copied, moved and given away, and the job's own copy beside them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::Context;

use crate::app::TapcrossApp;
use crate::files::atomic_write::write_atomically;
use crate::files::library::{self, Library, LibraryEntry, Origin};
use crate::files::table_out::{self, NoFile};
use crate::model::facts::blower::BlowerTable;
use crate::model::typed::table_draft::{TableDraft, TableFor, too_large};
use crate::model::wording::table_differences;
use crate::ui::view::Confirm;
use crate::ui::view::action::{Action, Keeping, Tables};
use crate::ui::view::library::{AgainstLibrary, Picker};
use crate::ui::view::path_prompt::Purpose;

/// What is said where the job has no table.
const NO_TABLE: &str = "The job has no blower table to write yet: choose or type one first";
/// What is said where the system names no folder for a person's own tables.
const NO_FOLDER: &str = "Not kept: there is no folder to keep tables in";

impl TapcrossApp {
    /// The folder of a person's own tables.
    pub(super) fn own_folder(&self) -> Option<PathBuf> {
        self.places.as_ref().map(|places| places.blowers.clone())
    }

    /// Lists a table that was kept: in the place of the one of that file, else first among the person's own.
    pub(super) fn among_own(&mut self, path: PathBuf, table: BlowerTable) {
        let folder = self.folder_of(&path);
        self.library.put_own(LibraryEntry::in_folder(table, Origin::Own(path), folder));
    }

    /// The person's own file of a table's name.
    pub(super) fn kept_under(&self, name: &str) -> Option<PathBuf> {
        let mut named = self.library.named(name).iter().filter_map(|index| self.library.entries.get(*index));
        named.find_map(|entry| entry.own_file().map(Path::to_path_buf))
    }

    /// Opens the editor on a table of the library, unless that is past all typing.
    pub(super) fn change_table(&mut self, table: &BlowerTable, keeping: &Keeping) {
        let draft = TableDraft::from_table(table);
        if let Some(sentence) = too_large(draft.rows.len(), draft.taps.len()) {
            self.wrong(format!("The table cannot be changed here: {sentence}"));
            return;
        }
        self.view.picker = None;
        self.view.edit_table(Some(table), self.view.table_for);
        self.view.table_editor.iter_mut().for_each(|editor| editor.keeping = keeping.clone());
    }

    /// Keeps the editor's table in the library; a file that is not what was read here is asked about first.
    pub(super) fn keep_in_unless_changed(&mut self, table: BlowerTable, keeping: Keeping) {
        if let Keeping::Over(path) = &keeping
            && self.is_another_now(path)
        {
            let beside = Keeping::Beside(self.folder_of(path));
            self.view.confirm = Some(Confirm {
                question: format!(
                    "The table's file is not what was read here: another window or program has written it: {}",
                    path.display()
                ),
                yes: "Replace it".to_owned(),
                no: "Keep the file as it is",
                third: Some(("Keep both", Box::new(Action::KeepIn(Box::new(table.clone()), beside)))),
                action: Box::new(Action::KeepIn(Box::new(table), keeping)),
            });
            return;
        }
        self.keep_in(table, keeping);
    }

    /// True where a file of the library now holds something else than the library's table of it; one that is gone holds nothing that could be lost.
    fn is_another_now(&self, path: &Path) -> bool {
        let mut entries = self.library.entries.iter();
        let known = entries.find(|entry| entry.own_file() == Some(path)).map(|entry| &entry.table);
        path.exists() && library::read_own(path).ok().as_ref() != known
    }

    /// The library's folder that a file lies in.
    fn folder_of(&self, path: &Path) -> PathBuf {
        let root = self.own_folder().unwrap_or_default();
        path.parent().and_then(|folder| folder.strip_prefix(root).ok()).unwrap_or(Path::new("")).to_path_buf()
    }

    /// Keeps a table in the library alone, over a file of the person's own or in a folder beside the others; from the editor it goes back to the list.
    pub(super) fn keep_in(&mut self, table: BlowerTable, keeping: Keeping) {
        let Some(root) = self.own_folder() else {
            self.wrong(NO_FOLDER);
            return;
        };
        let written = match keeping {
            Keeping::Over(path) => library::replace_own(&path, &table).map(|()| path),
            Keeping::Beside(folder) => library::save_beside(&root.join(folder), &table),
            Keeping::AndUse => return self.keep_table(table),
        };
        match written {
            Ok(path) => {
                self.done(format!("Table kept: {}", path.display()));
                if self.view.table_editor.take().is_some() {
                    self.view.picker = Some(Picker { words: table.name.clone(), ..Picker::default() });
                }
                self.among_own(path, table);
            }
            Err(error) => self.wrong(format!("{error:#}")),
        }
    }

    /// Moves a person's own table to another folder of the library.
    pub(super) fn move_table(&mut self, file: &Path, folder: &Path) {
        let Some(root) = self.own_folder() else {
            self.wrong(NO_FOLDER);
            return;
        };
        match library::move_own(&root, file, folder) {
            Ok(path) => {
                self.done(format!("Table moved: {}", path.display()));
                self.library.moved_own(file, path, folder.to_path_buf());
                self.view.picker.iter_mut().for_each(|picker| picker.moving = None);
            }
            Err(error) => {
                let problem = format!("{error:#}");
                match self.view.picker.as_mut().and_then(|picker| picker.moving.as_mut()) {
                    Some(moving) => moving.problem = Some(problem),
                    None => self.wrong(problem),
                }
            }
        }
    }

    /// Asks where tables are written to; the list of blowers gives way to that.
    pub(super) fn ask_where_tables_go(&mut self, which: Tables, ctx: &Context) {
        let name = match &which {
            Tables::Job if self.history.job().machine.is_none() => {
                self.wrong(NO_TABLE);
                return;
            }
            Tables::Job => self.suggested("csv"),
            Tables::These(tables) => match tables.as_slice() {
                [one] => library::file_name(&one.name).unwrap_or_else(|_nameless| "blower-table.ron".to_owned()),
                _ => "blower-tables.csv".to_owned(),
            },
        };
        self.view.picker = None;
        self.dialogs.ask(Purpose::SaveTable(name, which), ctx);
    }

    /// Writes tables: as a sheet for spreadsheets, or one whole as the program's own, by the ending.
    pub(super) fn tables_to(&mut self, path: &Path, which: &Tables) {
        let tables: Vec<&BlowerTable> = match which {
            Tables::Job => self.history.job().machine.iter().collect(),
            Tables::These(tables) => tables.iter().collect(),
        };
        if tables.is_empty() {
            self.wrong_path(NO_TABLE.to_owned());
            return;
        }
        let text = match table_out::text_of(path, &tables) {
            Ok(text) => text,
            Err(why) => {
                self.wrong_path(no_file(&why, path));
                return;
            }
        };
        let count = tables.len();
        match write_atomically(path, text.as_bytes()) {
            Ok(()) => {
                self.view.path_prompt = None;
                let what = if count == 1 { "Table".to_owned() } else { format!("{count} tables") };
                self.done(format!("{what} written: {}", path.display()));
            }
            Err(error) => self.wrong_path(format!("{error:#}")),
        }
    }

    /// Puts a table of the library in the place of the job's own copy, of its machine or of another one on its ducts; one step of undo.
    pub(super) fn take_from_library(&mut self, table: BlowerTable, what_for: TableFor) {
        self.view.table_for = what_for;
        self.use_table(table);
    }

    /// Keeps the job's own copy among the person's own; where one of its name is there, asks which of both is to stay.
    pub(super) fn keep_jobs_table(&mut self, table: BlowerTable) {
        let beside = Keeping::Beside(PathBuf::new());
        let Some(path) = self.kept_under(&table.name) else {
            self.keep_in(table, beside);
            return;
        };
        let keep = |keeping| Box::new(Action::KeepIn(Box::new(table.clone()), keeping));
        self.view.confirm = Some(Confirm {
            question: format!("Another table named \"{}\" is among your own: {}", table.name, path.display()),
            yes: "Replace that one".to_owned(),
            no: "Keep that one alone",
            third: Some(("Keep both", keep(beside))),
            action: keep(Keeping::Over(path)),
        });
    }

    /// The library's tables of the name of the job's, for what is printed.
    pub(super) fn library_of_job(&self) -> Arc<Library> {
        let machine = self.history.job().machine.as_ref();
        Arc::new(machine.map(|table| self.library.only_named(&table.name)).unwrap_or_default())
    }

    /// Holds the job's own copies against the library, that of its machine and that of the change in hand, once anything is another.
    pub(super) fn hold_against_library(&mut self) {
        let job = self.history.job();
        let open = self.view.open_change.and_then(|id| job.changes.iter().find(|change| change.id == id));
        let put_on = open.and_then(|change| change.kind.particulars().machine).map(|new| &new.table);
        let machine = self.held(job.machine.as_ref(), &self.view.against_library);
        let other = self.held(put_on, &self.view.change_against_library);
        self.view.against_library = machine.unwrap_or(std::mem::take(&mut self.view.against_library));
        self.view.change_against_library = other.unwrap_or(std::mem::take(&mut self.view.change_against_library));
    }

    /// A table held against the library; nothing where it was `before`.
    fn held(&self, table: Option<&BlowerTable>, before: &AgainstLibrary) -> Option<AgainstLibrary> {
        let (changes, units) = (self.library.changes(), self.settings.units);
        if before.changes == changes && before.units == units && before.machine.as_ref() == table {
            return None;
        }
        let other = table.and_then(|table| Some((table, self.library.differing(table)?)));
        let told = other.and_then(|(table, entry)| table_differences::job_and_library(table, &entry.table, units));
        let library = other.map(|(_, entry)| entry.table.clone());
        Some(AgainstLibrary { machine: table.cloned(), changes, units, differs: told.zip(library) })
    }
}

/// Why tables cannot be written there.
fn no_file(why: &NoFile, path: &Path) -> String {
    let path = path.display();
    match why {
        NoFile::Job => format!("The table would replace a job; give another name: {path}"),
        NoFile::TwoNamed(name) => format!(
            "Two of these tables are named \"{name}\", and a sheet could not tell them apart; give one another name first"
        ),
        NoFile::Several(count) => format!(
            "A .ron holds one table, and these are {count}; give .csv or .tsv for all of them on one sheet: {path}"
        ),
        NoFile::WouldNotOpen(refused) => format!("Not written, for it would not open again: {refused}: {path}"),
        NoFile::Ending => {
            format!("No table has that ending; give .csv or .tsv for a spreadsheet, .ron for all of it: {path}")
        }
    }
}
