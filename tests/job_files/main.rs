//! Job files, autosaves, settings and the demo jobs: what is written comes back, bad files are told in one sentence, and nothing is written over or lost.

mod bad_input;
mod demo_jobs;
mod golden;
mod nothing_is_written_over;
mod path_tree;
mod program_settings;
mod recovery;
mod round_trip;

use std::ffi::OsStr;
use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use proptest::prelude::*;

use tapcross::files::atomic_write::write_atomically;
use tapcross::files::autosave::{self, Autosave, Original, Work};
use tapcross::files::settings::{self, Panel, Settings, ThemeChoice};
use tapcross::files::{blower_file, demo, job_file};
use tapcross::model::answer::Answer;
use tapcross::model::facts::air::AirConditions;
use tapcross::model::facts::air_path::{AirPath, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::airflow_read::{AirflowRead, Anchor, OpinionKind, PlateRead};
use tapcross::model::facts::blower::{
    Basis, BlowerTable, Call, Cell, CoilInTest, EquipmentKind, MotorFamily, PartInTest, ReturnOpenings, Row, Tap,
    TapData,
};
use tapcross::model::facts::change::{
    BelowTable, ByData, Change, ChangeId, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea,
    OpenRegisters, Opening, OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun, Seal,
    SecondReturn, Switch,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::design::DuctDesign;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::figure_source::{NamedSource, SourcePart};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::plain_text;
use tapcross::model::facts::readings::{CoilState, HeatRead, Phase, ReadAt, Reading, ReadingSet};
use tapcross::model::facts::target::Target;
use tapcross::model::typed::table_draft::{TableDraft, TableFor, TableInHand};
use tapcross::units::{
    Airflow, Altitude, Area, Barometer, Capacity, Dimension, HeatRate, Length, Power, Pressure, Temperature,
    TemperatureRise, UnitSystem, Velocity, Voltage,
};

/// A job of format 1 that must open for as long as the program lives; it is never written again.
const GOLDEN: &str = include_str!("../data/jobs/v1-furnace.ron");

fn in_wc(values: &[f64]) -> Vec<Pressure> {
    values.iter().copied().map(Pressure::from_in_wc).collect()
}

fn readings(before: &[f64], after: &[f64]) -> Vec<Reading> {
    vec![
        Reading { at: ReadAt::Port(RETURN_PORT), looks: in_wc(before) },
        Reading { at: ReadAt::Port(SUPPLY_PORT), looks: in_wc(after) },
    ]
}

/// A small machine for files that need one.
fn small_machine() -> BlowerTable {
    let rows = [(0.1, 1100.0), (0.5, 950.0), (0.9, 700.0)].map(|(esp, cfm)| Row {
        esp: Pressure::from_in_wc(esp),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: None,
        speed: None,
    });
    BlowerTable {
        name: "Invented F-1".to_owned(),
        kind: EquipmentKind::Furnace,
        motor: MotorFamily::PermanentSplitCapacitor,
        illustrative: true,
        source: "Invented".to_owned(),
        rated_maximum: Some(Pressure::from_in_wc(0.5)),
        calls: vec![(Call::CoolingHigh, "High".to_owned())],
        taps: vec![Tap { name: "High".to_owned(), data: TapData::Column(rows.to_vec()) }],
        ..BlowerTable::default()
    }
}
