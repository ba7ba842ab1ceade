//! Blower tables from sheets of spreadsheets and into them, without a window: what a sheet leaves open is given by options, and nothing is asked.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

use super::{Status, complain, path_first};
use crate::files::library;
use crate::files::out_file::{self, is_same};
use crate::files::sheet_file::{self, TableFile};
use crate::files::table_out::{self, NoFile};
use crate::model::facts::blower::{BlowerTable, EquipmentKind};
use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::{AirflowUnit, TableDraft};
use crate::model::typed::table_paste::units::PrintedPressure;
use crate::model::typed::table_sheet::{Choices, SheetQuestion, SheetReading, SheetRefusal};
use crate::model::wording::uncapital;

/// What is asked of tables.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tables {
    /// Sheets and tables of the program's own.
    pub files: Vec<PathBuf>,
    /// Where they go.
    pub out: PathBuf,
    /// What is said of the sheets.
    pub said: Said,
    /// Whether files that are there may be replaced.
    pub replaces: bool,
}

/// What options say of sheets.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// Kind of every machine.
    pub kind: Option<EquipmentKind>,
    /// Unit of the airflows.
    pub airflow: Option<AirflowUnit>,
    /// Unit of the static pressures.
    pub pressure: Option<PrintedPressure>,
    /// What the machine of a sheet without a name is called.
    pub name: Option<String>,
}

/// The options of tables that take a value, in the order of the help text.
pub(super) const OPTIONS: [&str; 4] = ["--kind", "--airflow", "--static", "--name"];
/// The option that lets files be replaced.
pub(super) const REPLACE: &str = "--replace";

impl Said {
    /// Takes an option with its value; true where it was given before, nothing where it does not take the value.
    pub(super) fn set(&mut self, option: &str, value: &str) -> Option<bool> {
        Some(match option {
            "--kind" => self.kind.replace(by_word(&EquipmentKind::ALL, kind_word, value)?).is_some(),
            "--airflow" => self.airflow.replace(by_word(&AirflowUnit::ALL, airflow_word, value)?).is_some(),
            "--static" => self.pressure.replace(by_word(&PrintedPressure::ALL, pressure_word, value)?).is_some(),
            _ => self.name.replace(Some(value.trim()).filter(|name| !name.is_empty())?.to_owned()).is_some(),
        })
    }

    fn choices(&self) -> Choices {
        Choices { kind: self.kind, airflow: self.airflow, pressure: self.pressure, ..Choices::default() }
    }
}

/// What an option of tables takes, in words.
pub(super) fn takes(option: &str) -> String {
    match option {
        "--kind" => EquipmentKind::ALL.map(kind_word).join(" or "),
        "--airflow" => AirflowUnit::ALL.map(airflow_word).join(" or "),
        "--static" => PrintedPressure::ALL.map(pressure_word).join(" or "),
        _ => "the machine's model".to_owned(),
    }
}

const fn kind_word(kind: EquipmentKind) -> &'static str {
    match kind {
        EquipmentKind::Furnace => "furnace",
        EquipmentKind::DrawThroughAirHandler => "draw-through",
        EquipmentKind::BlowThroughAirHandler => "blow-through",
        EquipmentKind::NoReturnDuct => "no-return-duct",
    }
}

const fn airflow_word(unit: AirflowUnit) -> &'static str {
    match unit {
        AirflowUnit::Cfm => "cfm",
        AirflowUnit::LitresPerSecond => "l/s",
        AirflowUnit::CubicMetresPerHour => "m3/h",
    }
}

const fn pressure_word(unit: PrintedPressure) -> &'static str {
    match unit {
        PrintedPressure::InchesOfWater => "in",
        PrintedPressure::Pascals => "pa",
        PrintedPressure::Kilopascals => "kpa",
        PrintedPressure::MillimetresOfWater => "mm",
    }
}

fn by_word<T: Copy>(all: &[T], word: fn(T) -> &'static str, typed: &str) -> Option<T> {
    all.iter().copied().find(|one| typed.eq_ignore_ascii_case(word(*one)))
}

/// What no sheet says and every table has.
const BASIS: &str = "taken as made without filter, coil and heater, its motor and calls not stated; open it in the window's table editor where the maker says otherwise";

/// Reads every table and writes all of them, or none.
pub(super) fn convert(asked: &Tables, err: &mut dyn Write) -> Status {
    let (mut tables, mut is_whole, mut has_sheet) = (Vec::new(), true, false);
    for path in &asked.files {
        match read(path, &asked.said, &mut has_sheet, err) {
            Ok(read) => tables.extend(read),
            Err(sentences) => {
                is_whole = false;
                for sentence in sentences {
                    complain(err, &format!("{}: {sentence}", path.display()));
                }
            }
        }
    }
    if !is_whole {
        return Status::Failed;
    }
    if !has_sheet && asked.said != Said::default() {
        complain(
            err,
            "the options of a sheet say nothing of tables of the program's own, which say all of it themselves",
        );
        return Status::Failed;
    }
    match targets(&tables, asked).and_then(|targets| written(&targets, asked.replaces)) {
        Ok(()) => Status::Done,
        Err(reason) => {
            complain(err, &reason);
            Status::Failed
        }
    }
}

/// The tables of a file; what was guessed of a sheet is told.
fn read(path: &Path, said: &Said, has_sheet: &mut bool, err: &mut dyn Write) -> Result<Vec<BlowerTable>, Vec<String>> {
    let first = |refused: &anyhow::Error| {
        let told = path_first(path, refused);
        vec![told.strip_prefix(&format!("{}: ", path.display())).unwrap_or(&told).to_owned()]
    };
    match sheet_file::read(path).map_err(|refused| first(&refused))? {
        TableFile::Own(table) => Ok(vec![*table]),
        TableFile::Sheet(text, letters) => {
            *has_sheet = true;
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
            contradicted(&SheetReading::of(&text, &name, &Choices::default()), said)?;
            let reading = SheetReading::of(&text, &name, &said.choices());
            let named = unnamed(&reading, said);
            let guessed = letters.into_iter().map(str::to_owned).chain(reading.said.iter().cloned());
            let guessed: Vec<String> = guessed.chain([BASIS.to_owned()]).collect();
            let tables = of_sheet(reading, said)?;
            named?;
            for told in guessed {
                complain(err, &format!("{}: {told}", path.display()));
            }
            Ok(tables)
        }
    }
}

/// The tables of a sheet, each of them sound; or everything that is in the way.
fn of_sheet(reading: SheetReading, said: &Said) -> Result<Vec<BlowerTable>, Vec<String>> {
    let refused = reading.refused.iter().map(refusal);
    let asked = reading.asked.iter().map(|question| open(*question, reading.kind_named));
    let open: Vec<String> = refused.chain(asked).collect();
    if !open.is_empty() {
        return Err(open);
    }
    let (mut tables, mut errors) = (Vec::new(), Vec::new());
    for mut draft in reading.tables {
        if draft.head.name.trim().is_empty() {
            match &said.name {
                Some(name) => draft.head.name.clone_from(name),
                None => return Err(vec!["the sheet does not say what the machine is called; give --name".to_owned()]),
            }
        }
        match sound(&draft) {
            Ok(table) => tables.push(table),
            Err(told) => errors.extend(told),
        }
    }
    if errors.is_empty() { Ok(tables) } else { Err(errors) }
}

fn sound(draft: &TableDraft) -> Result<BlowerTable, Vec<String>> {
    let (table, problems) = draft.read();
    let errors = problems.into_iter().filter(|problem| problem.severity == Severity::Error);
    let errors: Vec<String> = errors.map(|problem| format!("{}: {}", draft.head.name, problem.message)).collect();
    if errors.is_empty() { Ok(table) } else { Err(errors) }
}

/// Refuses a unit that the sheet itself names otherwise, or of which it names two: its numbers would be read as what they are not.
fn contradicted(reading: &SheetReading, said: &Said) -> Result<(), Vec<String>> {
    let mixed = reading.refused.iter().find(|refused| matches!(refused, SheetRefusal::MixedUnits(..)));
    if let Some(mixed) = mixed {
        return Err(vec![format!("{} of the sheet", mixed.sentence())]);
    }
    let told = |option: &str, named: &str| {
        format!("the sheet itself says {named}, and {option} something else; leave {option} out")
    };
    let airflow = said.airflow.filter(|unit| reading.names_airflow && *unit != reading.settled.airflow);
    let pressure = said.pressure.filter(|unit| reading.names_pressure && *unit != reading.settled.pressure);
    let airflow = airflow.map(|_| told("--airflow", reading.settled.airflow.name()));
    let pressure = pressure.map(|_| told("--static", reading.settled.pressure.name()));
    let all: Vec<String> = airflow.into_iter().chain(pressure).collect();
    if all.is_empty() { Ok(()) } else { Err(all) }
}

/// Asks for the units that neither the sheet nor an option names: a guess would be read as what it is not.
fn unnamed(reading: &SheetReading, said: &Said) -> Result<(), Vec<String>> {
    let ask = |what: &str, option: &str| format!("the sheet names no unit of {what}; give {option} {}", takes(option));
    let airflow = (!reading.names_airflow && said.airflow.is_none()).then(|| ask("airflow", "--airflow"));
    let pressure = (!reading.names_pressure && said.pressure.is_none()).then(|| ask("static pressure", "--static"));
    let all: Vec<String> = airflow.into_iter().chain(pressure).collect();
    if all.is_empty() { Ok(()) } else { Err(all) }
}

/// Why a sheet cannot be taken, with the option that would settle it.
fn refusal(refused: &SheetRefusal) -> String {
    let told = refused.sentence();
    match refused {
        SheetRefusal::NoStatic | SheetRefusal::NoLane(_) => {
            format!("{told} (in the window: Ctrl+I opens it there)")
        }
        SheetRefusal::NothingFound
        | SheetRefusal::MixedUnits(..)
        | SheetRefusal::TapTwice(..)
        | SheetRefusal::ReadingTwice { .. }
        | SheetRefusal::MachineTwice(_)
        | SheetRefusal::TooManyLines(_)
        | SheetRefusal::TooManyColumns(..)
        | SheetRefusal::TooManyTables(_)
        | SheetRefusal::TooLarge(_) => told,
    }
}

/// What the sheet does not say, with the option that says it.
fn open(question: SheetQuestion, kind: Option<EquipmentKind>) -> String {
    let (what, option) = match question {
        SheetQuestion::Kind => ("what kind of machine it is of", "--kind"),
        SheetQuestion::AirflowUnit => ("in what unit its airflow is, and its static is not in in. w.c.", "--airflow"),
    };
    let guess = kind.filter(|_| question == SheetQuestion::Kind);
    let guess = guess.map(|kind| format!(" (its name says {})", kind_word(kind)));
    format!("the sheet does not say {what}{}; give {option} {}", guess.unwrap_or_default(), takes(option))
}

/// The files that are written, each with its text.
fn targets(tables: &[BlowerTable], asked: &Tables) -> Result<Vec<(PathBuf, String)>, String> {
    let out = &asked.out;
    let text = |path: PathBuf, tables: &[&BlowerTable]| match table_out::text_of(&path, tables) {
        Ok(text) => Ok((path, text)),
        Err(why) => Err(no_file(&why, &path)),
    };
    let targets = if out.is_dir() {
        tables.iter().map(|table| text(own(out, table)?, &[table])).collect::<Result<Vec<_>, _>>()?
    } else {
        vec![text(out.clone(), &tables.iter().collect::<Vec<_>>())?]
    };
    let mut names = BTreeSet::new();
    for (path, _) in &targets {
        if !names.insert(path) {
            return Err(format!(
                "two tables would be written into {}; give one another name in the sheet",
                path.display()
            ));
        }
        if asked.files.iter().any(|file| is_same(file, path)) {
            return Err(format!(
                "{} is read, and its own table would take its place; name another --out",
                path.display()
            ));
        }
    }
    Ok(targets)
}

/// Why tables are not written there.
fn no_file(why: &NoFile, path: &Path) -> String {
    let path = path.display();
    match why {
        NoFile::Job => format!("{path} is a job, and the table would take its place; name another --out"),
        NoFile::TwoNamed(name) => {
            format!("two tables are called {name}, and a sheet would run them together; write them one by one")
        }
        NoFile::Several(count) => format!("{count} tables do not go into one {path}; name a folder for --out"),
        NoFile::WouldNotOpen(refused) => format!("{path}: not written, for it would not open again: {refused}"),
        NoFile::Ending => format!(
            "--out {path} is no folder that is there and no name of a table; a table ends in .csv or .tsv for a spreadsheet, in .ron for all of it"
        ),
    }
}

/// A table's own file in a folder, by its name.
fn own(folder: &Path, table: &BlowerTable) -> Result<PathBuf, String> {
    let name = library::file_name(&table.name).map_err(|refused| uncapital(&refused.to_string()))?;
    Ok(folder.join(name))
}

/// Writes all of them, or none where one cannot be written.
fn written(targets: &[(PathBuf, String)], replaces: bool) -> Result<(), String> {
    if let Some((there, _)) = targets.iter().find(|(path, _)| !replaces && path.symlink_metadata().is_ok()) {
        return Err(format!("{} is there already, and nothing is written; {REPLACE} writes over it", there.display()));
    }
    out_file::write_all(targets).map_err(|(path, refused)| path_first(&path, &refused))
}
