//! What a person can do, as values: panels hand them out, `run_action` carries them out.

use std::path::PathBuf;

use eframe::egui::{Context, Key, KeyboardShortcut, Modifiers};

use crate::edit::Edit;
use crate::files::settings::{Panel, Setting, ThemeChoice};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::change::ChangeId;
use crate::model::typed::table_draft::TableFor;
use crate::ui::view::at_stake::Stamp;
use crate::units::UnitSystem;

/// What keeping the table of the editor means.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Keeping {
    /// It is kept among a person's own under its name, and used at once.
    #[default]
    AndUse,
    /// It goes back to the person's own file that it came from, and nothing else changes.
    Over(PathBuf),
    /// It is kept as another one in this folder of the library, and nothing else changes.
    Beside(PathBuf),
}

/// Which tables are written to a file.
#[derive(Clone, Debug, PartialEq)]
pub enum Tables {
    /// The job's.
    Job,
    /// These of the library.
    These(Vec<BlowerTable>),
}

/// One thing to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Change the job; undoable.
    Edit(Edit),
    /// Several changes that belong together; one step of undo.
    Edits(Vec<Edit>),
    /// A command.
    Command(Command),
    /// Open a job file.
    OpenPath(PathBuf),
    /// Show another job's file on the chart, beside this one.
    ShowBeside(PathBuf),
    /// Save the job here, then do what was asked before; a file that is not the job's own as it was opened is asked about first.
    SaveTo {
        /// Where.
        path: PathBuf,
        /// What waits for it.
        then: Option<Box<Self>>,
    },
    /// Save the job where it came from, or ask for a path, and then do this.
    SaveThen(Box<Self>),
    /// Write the report here; a file that is there is asked about first.
    ReportTo(PathBuf),
    /// Write a blank field sheet here; a file that is there is asked about first.
    SheetTo(PathBuf),
    /// Save or write, whatever file is there.
    Replace(Box<Self>),
    /// Do this, which gives up work that is not saved: a person agreed to that for the work as it stood then.
    GiveUp(Box<Stamp>, Box<Self>),
    /// Open an autosave that a killed window left, by its file.
    Restore(PathBuf),
    /// Remove such an autosave, once a person has said so twice.
    ThrowAway(PathBuf),
    /// Show other units.
    Units(UnitSystem),
    /// Light, dark, or as the system says.
    Theme(ThemeChoice),
    /// Fold a panel away or back.
    Fold(Panel),
    /// Change a setting.
    Set(Box<Setting>),
    /// Ask for a picture that stands at the head of reports.
    ChooseLogo,
    /// Take this picture for it.
    TakeLogo(PathBuf),
    /// Print without one.
    ForgetLogo,
    /// Use a table in the job.
    UseTable(Box<BlowerTable>),
    /// Keep a table in a person's own library and use it in the job.
    KeepTable(Box<BlowerTable>),
    /// Put a table in the place of one that a person kept before, and use it in the job.
    ReplaceTable(PathBuf, Box<BlowerTable>),
    /// Look at the blower tables of a file.
    OpenTable(PathBuf),
    /// Keep tables in a person's own library.
    KeepTables(Vec<BlowerTable>),
    /// Ask where tables are written to.
    WriteTables(Tables),
    /// Write tables here; a file that is there is asked about first.
    TableTo(PathBuf, Tables),
    /// Open the editor on a table of the library, and say where it is kept.
    ChangeTable(Box<BlowerTable>, Keeping),
    /// Move a person's own table to another folder of the library.
    MoveTable {
        /// Its file.
        file: PathBuf,
        /// The folder, from the library's own.
        folder: PathBuf,
    },
    /// Use a table of the library in the place of the job's own copy, of its machine or of another one on its ducts.
    TakeFromLibrary(Box<BlowerTable>, TableFor),
    /// Keep one of the job's own copies as a table of the library; where another of its name is there, that is asked about first.
    KeepJobsTable(Box<BlowerTable>),
    /// Keep a table in the library alone, whatever file is there.
    KeepIn(Box<BlowerTable>, Keeping),
    /// Pick the table of another machine on the ducts: of a change that is there, or of a new one.
    PickMachine(Option<ChangeId>),
    /// Search the cheapest sets of changes that reach the target.
    Search,
    /// End that search.
    StopSearch,
}

impl Action {
    /// The verb of what gives up the job in the window, or nothing for what leaves it.
    pub fn gives_up(&self) -> Option<&'static str> {
        match self {
            Self::OpenPath(_) => Some("Open"),
            Self::Restore(_) => Some("Restore"),
            Self::Command(
                command @ (Command::New | Command::DemoHeatPump | Command::DemoFurnace | Command::Open | Command::Quit),
            ) => Some(command.name().trim_end_matches('…')),
            Self::Edit(_)
            | Self::Edits(_)
            | Self::Command(_)
            | Self::ShowBeside(_)
            | Self::SaveTo { .. }
            | Self::SaveThen(_)
            | Self::ReportTo(_)
            | Self::SheetTo(_)
            | Self::Replace(_)
            | Self::GiveUp(..)
            | Self::ThrowAway(_)
            | Self::Units(_)
            | Self::Theme(_)
            | Self::Fold(_)
            | Self::Set(_)
            | Self::ChooseLogo
            | Self::TakeLogo(_)
            | Self::ForgetLogo
            | Self::UseTable(_)
            | Self::KeepTable(_)
            | Self::ReplaceTable(..)
            | Self::OpenTable(_)
            | Self::KeepTables(_)
            | Self::WriteTables(_)
            | Self::TableTo(..)
            | Self::ChangeTable(..)
            | Self::MoveTable { .. }
            | Self::TakeFromLibrary(..)
            | Self::KeepJobsTable(_)
            | Self::KeepIn(..)
            | Self::PickMachine(_)
            | Self::Search
            | Self::StopSearch => None,
        }
    }
}

/// A command with a name and, mostly, keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// An empty job.
    New,
    /// A job from the disk.
    Open,
    /// Write the job where it came from.
    Save,
    /// Write the job elsewhere.
    SaveAs,
    /// The same job as a new one.
    Duplicate,
    /// What killed windows left, to be restored or thrown away.
    Recovered,
    /// A report for people, or the chart, as a file of its own.
    Print,
    /// The report as it would print.
    Preview,
    /// Every result as JSON.
    Report,
    /// A blank sheet to write readings on, as PDF.
    FieldSheet,
    /// Verdict, taps and changes as text on the clipboard.
    CopyResults,
    /// The chart as a picture on the clipboard.
    CopyChart,
    /// The heat-pump demo.
    DemoHeatPump,
    /// The gas-furnace demo.
    DemoFurnace,
    /// One step back.
    Undo,
    /// One step forward.
    Redo,
    /// Pick a blower.
    PickBlower,
    /// Type a table.
    TypeTable,
    /// Change the job's table.
    EditTable,
    /// Blower tables from a file.
    OpenTable,
    /// The job's table as a file.
    WriteTable,
    /// The chart as it fits.
    FitChart,
    /// The chart's axes as they are, whatever changes.
    HoldAxes,
    /// The legend of the chart's marks, beside it or put away.
    Legend,
    /// Another job on the chart, beside this one.
    ShowBeside,
    /// This job alone on the chart again.
    ShowAlone,
    /// The options side by side.
    Options,
    /// Another option with the same changes.
    CopyOption,
    /// The option after this one.
    NextOption,
    /// The option before this one.
    PreviousOption,
    /// What a person has set about the program.
    Settings,
    /// The whole screen, or a window again.
    FullScreen,
    /// The manual.
    Help,
    /// Larger type.
    ZoomIn,
    /// Smaller type.
    ZoomOut,
    /// Type as it was.
    ZoomReset,
    /// To the static before the blower.
    GoToReadings,
    /// To the call that ran during the readings.
    GoToCall,
    /// The file menu.
    FileMenu,
    /// To the next part of the window.
    NextPart,
    /// To the part before it.
    PreviousPart,
    /// Run on the next tap up: a change.
    NextTap,
    /// Run on the next tap down: a change.
    PreviousTap,
    /// The readings after these.
    NextReadings,
    /// The readings before these.
    PreviousReadings,
    /// Keep every answer back until it is asked for, or show them all again.
    HideAnswers,
    /// Show the answers to these readings.
    ShowAnswers,
    /// End.
    Quit,
}

impl Command {
    /// Every command, in the order in which menus and the key list show them.
    pub const ALL: [Self; 48] = [
        Self::New,
        Self::Open,
        Self::Save,
        Self::SaveAs,
        Self::Duplicate,
        Self::Recovered,
        Self::Preview,
        Self::Print,
        Self::Report,
        Self::FieldSheet,
        Self::CopyResults,
        Self::CopyChart,
        Self::DemoHeatPump,
        Self::DemoFurnace,
        Self::Undo,
        Self::Redo,
        Self::PickBlower,
        Self::TypeTable,
        Self::EditTable,
        Self::OpenTable,
        Self::WriteTable,
        Self::FitChart,
        Self::HoldAxes,
        Self::Legend,
        Self::ShowBeside,
        Self::ShowAlone,
        Self::Options,
        Self::CopyOption,
        Self::NextOption,
        Self::PreviousOption,
        Self::ZoomIn,
        Self::ZoomOut,
        Self::ZoomReset,
        Self::Settings,
        Self::FullScreen,
        Self::Help,
        Self::GoToReadings,
        Self::GoToCall,
        Self::FileMenu,
        Self::NextPart,
        Self::PreviousPart,
        Self::NextTap,
        Self::PreviousTap,
        Self::NextReadings,
        Self::PreviousReadings,
        Self::HideAnswers,
        Self::ShowAnswers,
        Self::Quit,
    ];

    /// Its name, a verb first.
    pub const fn name(self) -> &'static str {
        match self {
            Self::New => "New job",
            Self::Open => "Open…",
            Self::Save => "Save",
            Self::SaveAs => "Save as…",
            Self::Duplicate => "Duplicate as a new job",
            Self::Recovered => "Recovered work…",
            Self::Preview => "Look at the report…",
            Self::Print => "Write report…",
            Self::Report => "Write results as JSON…",
            Self::FieldSheet => "Write a blank field sheet…",
            Self::CopyResults => "Copy results as text",
            Self::CopyChart => "Copy the chart as a picture",
            Self::DemoHeatPump => "Open the heat-pump demo",
            Self::DemoFurnace => "Open the gas-furnace demo",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::PickBlower => "Choose a blower…",
            Self::TypeTable => "Type a new table…",
            Self::EditTable => "Change this table…",
            Self::OpenTable => "Blower tables from a file…",
            Self::WriteTable => "Write the blower table…",
            Self::FitChart => "Fit the chart",
            Self::HoldAxes => "Hold the axes",
            Self::Legend => "Legend of the marks",
            Self::ShowBeside => "Another job on the chart…",
            Self::ShowAlone => "This job alone on the chart",
            Self::Options => "Options side by side…",
            Self::CopyOption => "Another option like this",
            Self::NextOption => "Work on the next option",
            Self::PreviousOption => "Work on the option before",
            Self::Settings => "Settings…",
            Self::FullScreen => "Full screen",
            Self::Help => "Help",
            Self::ZoomIn => "Larger",
            Self::ZoomOut => "Smaller",
            Self::ZoomReset => "Ordinary size",
            Self::GoToReadings => "Go to the readings",
            Self::GoToCall => "Go to the call",
            Self::FileMenu => "Open the file menu",
            Self::NextPart => "Go to the next part of the window",
            Self::PreviousPart => "Go to the part before",
            Self::NextTap => "Run on the next tap up",
            Self::PreviousTap => "Run on the next tap down",
            Self::NextReadings => "Show the next readings",
            Self::PreviousReadings => "Show the readings before",
            Self::HideAnswers => "Keep the answers back",
            Self::ShowAnswers => "Show the answers",
            Self::Quit => "Quit",
        }
    }

    /// Its name with its keys, for who has come to its button: "Choose a blower… (Ctrl+B)".
    pub fn told(self, ctx: &Context) -> String {
        let keys = self.shortcut().map(|keys| format!(" ({})", ctx.format_shortcut(&keys)));
        format!("{}{}", self.name(), keys.unwrap_or_default())
    }

    /// Its keys.
    pub fn shortcut(self) -> Option<KeyboardShortcut> {
        let with = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND, key));
        let alone = |key| Some(KeyboardShortcut::new(Modifiers::NONE, key));
        let shifted = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key));
        match self {
            Self::New => with(Key::N),
            Self::Open => with(Key::O),
            Self::Save => with(Key::S),
            Self::SaveAs => shifted(Key::S),
            Self::Duplicate => with(Key::D),
            Self::Preview => alone(Key::F5),
            Self::Print => with(Key::P),
            Self::Report => with(Key::E),
            Self::CopyResults => shifted(Key::C),
            Self::CopyChart => shifted(Key::P),
            Self::Undo => with(Key::Z),
            Self::Redo => shifted(Key::Z),
            Self::PickBlower => with(Key::B),
            Self::TypeTable => with(Key::T),
            Self::EditTable => shifted(Key::T),
            Self::OpenTable => with(Key::I),
            Self::WriteTable => shifted(Key::I),
            Self::FitChart => with(Key::F),
            Self::HoldAxes => with(Key::H),
            Self::Legend => with(Key::M),
            Self::ShowBeside => shifted(Key::O),
            Self::Options => alone(Key::F9),
            Self::CopyOption => Some(KeyboardShortcut::new(Modifiers::NONE.plus(Modifiers::SHIFT), Key::F9)),
            Self::NextOption => Some(KeyboardShortcut::new(Modifiers::ALT, Key::PageDown)),
            Self::PreviousOption => Some(KeyboardShortcut::new(Modifiers::ALT, Key::PageUp)),
            Self::Settings => with(Key::Comma),
            Self::FullScreen => alone(Key::F11),
            Self::Help => alone(Key::F1),
            Self::ZoomIn => with(Key::Plus),
            Self::ZoomOut => with(Key::Minus),
            Self::ZoomReset => with(Key::Num0),
            Self::GoToReadings => with(Key::R),
            Self::GoToCall => with(Key::L),
            Self::FileMenu => alone(Key::F10),
            Self::NextPart => alone(Key::F6),
            Self::PreviousPart => Some(KeyboardShortcut::new(Modifiers::SHIFT, Key::F6)),
            Self::NextTap => Some(KeyboardShortcut::new(Modifiers::ALT, Key::ArrowUp)),
            Self::PreviousTap => Some(KeyboardShortcut::new(Modifiers::ALT, Key::ArrowDown)),
            Self::NextReadings => alone(Key::PageDown),
            Self::PreviousReadings => alone(Key::PageUp),
            Self::HideAnswers => alone(Key::F7),
            Self::ShowAnswers => alone(Key::F8),
            Self::Quit => with(Key::Q),
            Self::Recovered | Self::FieldSheet | Self::DemoHeatPump | Self::DemoFurnace | Self::ShowAlone => None,
        }
    }
}

impl From<Command> for Action {
    fn from(command: Command) -> Self {
        Self::Command(command)
    }
}

impl From<Setting> for Action {
    fn from(setting: Setting) -> Self {
        Self::Set(Box::new(setting))
    }
}

impl From<Edit> for Action {
    fn from(edit: Edit) -> Self {
        Self::Edit(edit)
    }
}
