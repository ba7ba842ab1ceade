//! The job file: one [`Job`] as RON that a person can read, write and compare line by line.
//!
//! Every number says its unit in its field's name. Texts are in double quotes; a comment runs from `//` to the end of the line.
//! The first field says the format; a file of a newer format is refused, and never written over.
//!
//! ```
//! let text = r#"
//! #![enable(implicit_some)]
//! (
//!     tapcross_job: 1,                     // the format; always the first field
//!     title: "Hall furnace",               // these four may be left out
//!     place: "Invented Lane 3",
//!     date: "2026-01-31",
//!     notes: "",
//!     illustrative: true,                  // an invented job; left out, it is a real one
//!     outdoor_unit_tons: 2.5,              // left out: the table's nominal capacity (0.5 to 25)
//!     return_openings: OneSide,            // Unstated, Bottom, OneSide, TwoSides
//!     // In flow order, from the rooms to the rooms. `in` is Cabinet or House.
//!     // A part known by data says its drop at one or more rising airflows, and the exponent that holds where there is only one.
//!     // It may say density_lb_ft3 as well (0.03 to 0.1), of the air that its drops were published in; left out, standard air.
//!     path: [
//!         Element(id: 1, kind: ReturnGrille, in: House),
//!         Element(id: 2, kind: ReturnDuct, in: House, name: "Hall return"), // name may be left out
//!         Element(id: 3, kind: Filter, in: Cabinet, drop: (points: [(airflow_cfm: 1000.0, drop_in_wc: 0.12)], exponent: 1.2)),
//!         Element(id: 4, kind: Blower, in: Cabinet),
//!         Element(id: 5, kind: HeatExchanger, in: Cabinet),
//!         Element(id: 6, kind: Coil, in: House),
//!         // Both may be left out: the element's share of the stretch between two ports (or share_fraction, 0 to 1), and the exponent of its drop (1 to 2.2).
//!         Element(id: 7, kind: SupplyDuct, in: House, share_percent: 60.0, exponent: 1.9),
//!         // Two or more ways side by side, each with its elements in flow order, groups among them (three deep at most).
//!         // A way's share of the group's air, as flow_percent or flow_fraction, may be left out, but not a leak's that has no drop; a leak stands alone in its way.
//!         // A group may have name, share, drop and exponent as an element has.
//!         SideBySide(id: 9, name: "Upstairs and down", ways: [
//!             (flow_percent: 35.0, elements: [Element(id: 10, kind: Damper, in: House), Element(id: 11, kind: Registers, in: House)]),
//!             (elements: [Element(id: 8, kind: Registers, in: House)]),
//!             (flow_percent: 5.0, elements: [Element(id: 12, kind: Leak, in: House)]),
//!         ]),
//!     ],
//!     // Where static pressure is read against the rooms served: the air has just left the element `after`.
//!     // Port 1 is the one before the blower, port 2 the one after it.
//!     ports: [
//!         (id: 1, after: 3),
//!         (id: 2, after: 5),
//!     ],
//!     // A way past the rooms, from behind a supply element to behind a return element of the list itself; left out: none.
//!     // Its share of the blower's air (or flow_fraction) lies above 0 and below 90 %. Its number is from the same row as the elements'.
//!     bypass: (id: 13, leaves_after: 6, joins_after: 2, flow_percent: 10.0),
//!     // The visit: readings taken together, in the order in which they were taken.
//!     sets: [
//!         (
//!             name: "As found",
//!             time: "10:20",               // as typed; may be left out, as the next two
//!             note: "",
//!             after_repair: false,         // true: of the path after the repair, held against what the changes promised
//!             otherwise: false,            // true: a panel off, a zone shut, the bypass open: compared, and left out of the fit
//!             call: CoolingHigh,           // CoolingHigh, CoolingLow, HeatingHigh, HeatingLow, FanOnly
//!             tap: "3",                    // left out: the tap that the machine's map gives for the call
//!             // Each look with its sign, negative before the blower; looks are averaged.
//!             // `at` is Port(1), Port(2), …, Total (total external static as one number) or Across(3): what element 3 drops, positive.
//!             readings: [
//!                 (at: Port(1), looks_in_wc: [-0.31, -0.3, -0.32]),
//!                 (at: Port(2), looks_in_wc: [0.38]),
//!                 (at: Across(6), looks_in_wc: [0.15]),
//!             ],
//!             coil: Wet,                   // Dry or Wet
//!             parts_out: [],               // numbers of elements that were out of the path; may be left out
//!             air: (
//!                 altitude_ft: 350.0,      // -1500 to 20000
//!                 station_pressure_in_hg: 29.5, // or station_pressure_kpa; left out: the standard atmosphere
//!                 temperature_f: 75.0,     // return air, -40 to 150
//!                 humidity_percent: 50.0,  // or humidity_fraction, 0 to 1
//!             ),
//!             power_watts: 410.0,          // left out: not read
//!             voltage_volts: 232.0,        // left out: not read
//!             // Of a heating call's heat; each may be left out, and the whole line. The meter's three make the heat input where that is left out.
//!             heat: (measured_rise_f: 55.0, heat_input_btuh: 80000.0, burner_efficiency: 0.8, meter_turn_seconds: 45.0, meter_dial_ft3: 1.0, heating_value_btu_ft3: 1000.0),
//!             // Electric elements instead: heater_amps, by phase: Single (left out) or Three, at voltage_volts.
//!             // The airflow by other means; each may be left out, and the whole line. Grilles are added up, one number is their sum.
//!             // The plate in the filter's slot: the airflow on its own scale, or its maker's law, airflow = at_one · drop ^ exponent (0.5 where left out) with drop in in. w.c.; and the supply plenum's static without and with it.
//!             airflow: (supply_grilles_cfm: [120.0, 95.0, 110.0], return_grilles_cfm: [340.0], plate: (airflow_cfm: 1090.0, at_one_in_wc_cfm: 2500.0, exponent: 0.5, drop_in_wc: 0.2, usual_static_in_wc: 0.3, plate_static_in_wc: 0.28)),
//!             signs_confirmed: false,      // true: an unusual sign was asked about and stands; may be left out
//!         ),
//!     ],
//!     judged: 1,                           // number of the set that everything is judged by; left out: the first
//!     // The opinion on the airflow in the table's place: Heat, SupplySum, ReturnSum, Plate or Watts of a set, by its number; left out: the table.
//!     // scale_table: true, where every tap is scaled by it; left out: only the tap that ran is taken by it.
//!     anchor: (by: SupplySum, set: 1, scale_table: true),
//!     // What the ducts are judged by; each may be left out, and the whole line.
//!     // Lengths are total effective lengths, above 0 to 2000; without a design static (0.05 to 5) the rated maximum counts.
//!     ducts: (return_length_ft: 120.0, supply_length_ft: 180.0, design_static_in_wc: 0.5),
//!     // Fixes and faults in the person's order; the list may be left out. Each has a number of its own.
//!     // One on an element or a tap that is no longer there opens all the same; the answer says that it cannot be put on.
//!     changes: [
//!         // switch On or Off, price in the person's own money, and note may be left out
//!         (id: 1, switch: On, price: 240.0, labour: 90.0, note: "4 in. deep", what: PartByData(element: 3, drop: (points: [(airflow_cfm: 1000.0, drop_in_wc: 0.08)], exponent: 1.2))),
//!         (id: 2, what: MoreFilterArea(element: 3, now_in2: 400.0, then_in2: 500.0)),   // media, or face between like filters
//!         (id: 3, what: FilterLoading(element: 3, factor: 1.5)),                        // 0.05 to 20
//!         (id: 4, what: CleanCoil(element: 6, fraction_percent: 25.0)),                 // or fraction, 0 to 1; taken away
//!         (id: 5, what: RepairRun(element: 2, fraction_percent: 25.0)),
//!         (id: 6, what: LessByHand(element: 7, fraction_percent: 10.0)),
//!         // Sections: Round(diameter_in: …), Rectangular(width_in: …, height_in: …), FlatOval(major_in: …, minor_in: …).
//!         // Walls: Galvanized, GalvanizedManyJoints, Plastic, Aluminium, DuctBoard, LinedFaced, LinedCoated, Flexible(compression_percent: 4.0) (or compression, 0 to 0.3), Rough(roughness_in: 0.0036); materials of one roughness are one wall, written by the first name.
//!         // fittings: sum of their loss coefficients
//!         (id: 7, what: OtherDuct(
//!             element: 2,
//!             now: (section: Rectangular(width_in: 20.0, height_in: 8.0), length_ft: 20.0, wall: Galvanized, fittings: 1.0),
//!             then: (section: Round(diameter_in: 18.0), length_ft: 20.0, wall: Galvanized, fittings: 1.0),
//!             of_drop_percent: 60.0,       // or of_drop, above 0 to 1: the run's part of the drop; left out: all of it
//!         )),
//!         (id: 8, switch: Off, what: SecondReturn(
//!             run: (section: Round(diameter_in: 12.0), length_ft: 20.0, wall: Flexible(compression_percent: 4.0), fittings: 1.0),
//!             grille: (face_in2: 280.0, free_area_percent: 70.0),                       // or free_area, above 0 to 1
//!             // filter: its own, as a drop; left out: it joins before the filter
//!         )),
//!         (id: 9, what: OtherOpening(element: 1, now: (face_in2: 400.0, free_area_percent: 70.0), then: (face_in2: 600.0, free_area_percent: 70.0))),
//!         (id: 10, what: OpenRegisters(element: 8, now: 8, then: 10, of: 10)),
//!         (id: 11, what: OtherTap(tap: "4")),
//!         (id: 12, what: BelowTable(factor: 0.9)),                                      // 0.5 to 1
//!         (id: 13, what: Seal(element: 12, fraction_percent: 80.0)),                    // a leak, or the bypass by its number
//!         (id: 14, what: OtherCoilState(element: 6, factor: 0.8)),                      // drop then over drop now, 0.3 to 3
//!         (id: 15, what: PanelOff(area_in2: 40.0)),
//!         (id: 16, what: OtherCall(call: HeatingHigh)),
//!         // Another machine: its number among other_machines, from 1. All else may be left out: its tap (else its own map decides),
//!         // the elements that leave with the old machine, its own coil and filter as a drop, its own target.
//!         (id: 17, switch: Off, what: OtherMachine(machine: 1, tap: "2", leaves: [3, 6], coil: (points: [(airflow_cfm: 1000.0, drop_in_wc: 0.2)], exponent: 1.8), target: Airflow(cfm: 900.0))),
//!     ],
//!     // Instead of `changes`, where a customer chooses between options: up to six, each with a name and a reason, which may be left out, and its own changes as above;
//!     // options: [(name: "Filter", reason: "Quieter", changes: [(id: 1, price: 240.0, what: …)]), (name: "Filter and return", changes: [ … ])],
//!     // shown: 2,                  // number of the one that is worked on; left out: the first
//!     // Each may be left out, and the whole line: hours that the blower runs in a year (0 to 8784), and tax as a fraction of prices.
//!     // with another tax on labour, how money is written (dollars where nothing is), and how long prices hold: days, or until a date as typed.
//!     costs: (fan_hours: 2000.0, energy_price_per_kwh: 0.15, tax_fraction: 0.07, labour_tax_fraction: 0.0, currency: "EUR", prices_hold_days: 30.0, prices_hold_until: "2026-12-31"),
//!     // Tables of other machines as blower files have them; the list may be left out.
//!     other_machines: [
//!         (
//!             tapcross_blower: 1,
//!             name: "Invented F-40",
//!             kind: Furnace,
//!             motor: ConstantTorque,
//!             source: "Invented",
//!             units: (airflow: Cfm, pressure: InchesOfWater),
//!             calls: [(CoolingHigh, "2")],
//!             taps: ["1", "2"],
//!             airflow: [
//!                 (0.10, [820, 1010]),
//!                 (0.50, [740, 930]),
//!                 (0.90, [600, 800]),
//!             ],
//!         ),
//!     ],
//!     // Airflow(cfm: 1000.0), PerTon(capacity_tons: 2.5, per_ton_cfm: 400.0) or HeatRise(output_btuh: 42700.0, rise_f: 47.0); left out: none yet
//!     target: PerTon(capacity_tons: 2.5, per_ton_cfm: 400.0),
//!     // targets of other calls than that one's, which is tons' cooling, a heat's heating, an airflow's as read; left out: none
//!     call_targets: [(call: HeatingHigh, target: HeatRise(output_btuh: 42700.0, rise_f: 47.0))],
//!     limits: (
//!         accept_band_fraction: 0.1,       // accepted difference from the target
//!         commissioned_airflow_fraction: 0.15, // within which a commissioned airflow passes; left out where it is the usual figure
//!         return_drop_in_wc: 0.15,
//!         filter_drop_in_wc: 0.2,          // besides; this and those marked likewise may be left out
//!         coil_drop_in_wc: 0.3,            // likewise
//!         furnace_supply_drop_in_wc: 0.6,  // no longer used
//!         least_static_in_wc: 0.2,
//!         least_of_design: 0.5,            // likewise
//!         lost_air_fraction: 0.15,         // likewise
//!         most_out_of_path_fraction: 0.75, // likewise
//!         duct_velocity_fpm: 700.0,        // likewise; in a return duct
//!         grille_velocity_fpm: 500.0,      // likewise; at a return grille's face
//!         watts_per_cfm: 0.58,
//!         furnace_watts_per_cfm: 0.45,     // likewise
//!     ),
//!     accuracy: (
//!         manometer_fraction: 0.01,        // of the reading
//!         manometer_floor_in_wc: 0.0008,
//!         port_offset_in_wc: 0.01,
//!         reading_scatter_in_wc: 0.005, // may be left out
//!         table_fraction: 0.05,            // of the airflow, at 95 %
//!         tap_fraction: 0.02,              // each tap by itself; may be left out
//!         data_fraction: 0.1,              // of published drops; may be left out
//!         table_power_fraction: 0.1,       // of the table's watts; may be left out
//!         wattmeter_fraction: 0.03,        // of what it reads; may be left out
//!         thermometer_f: 1.0,              // each of two; may be left out
//!         heat_fraction: 0.05,             // of the heat that goes in; may be left out
//!         rated_heat_fraction: 0.1,        // of the heat by the rating plate; may be left out
//!         hood_fraction: 0.1,              // of grilles added up; may be left out
//!         plate_fraction: 0.07,            // of a plate's airflow; may be left out
//!         exponent: 0.2,
//!         change_fraction: 0.25,         // of what a change does; may be left out
//!         guessed_odds: 2.0,               // of a share that nobody stated; may be left out
//!     ),
//!     // Whose limits and accuracy are, by their fields, where a person named it; each may be left out, and the whole list.
//!     // A figure that differs from the usual one and is not named here is said to be of nobody.
//!     figure_sources: {"accept_band_fraction": (name: "City of Elm (invented)", date: "2024")},
//!     // machine: (tapcross_blower: 1, …), // the job's own copy of a blower file; left out: none chosen yet
//! )
//! "#;
//! let job = tapcross::files::job_file::parse(text).unwrap();
//! assert_eq!(job.title, "Hall furnace");
//! assert_eq!(job.ducts.supply_length.map(|length| length.ft()), Some(180.0));
//! assert_eq!(job.changes.len(), 17);
//! assert_eq!(job.sources.len(), 1);
//! assert_eq!(job.path.all().len(), 12);
//! assert!((job.return_reading().unwrap().in_wc() + 0.31).abs() < 1e-12);
//! ```
//!
//! Sizes past all reason are refused in one sentence ([`crate::model::facts::limits`]); control characters in texts are read as spaces.
//! A table in `other_machines` that no change names is left out when the job is written again; one that two changes name is written once for each.
//! Numbers are written with as many digits as bring back the very same number. Some have a second field for that:
//! what no short number of percent or inches of mercury gives exactly is written as a fraction (`humidity_fraction`, `share_fraction`, `flow_fraction`, `fraction`, `free_area`, `compression`) or as `station_pressure_kpa`.

mod airflow_file;
mod change_file;
mod common;
mod dto;
mod duct_file;
mod error;
mod layout;
mod path;

use std::io::ErrorKind;
use std::path::Path;

use crate::files::atomic_write::write_atomically;
use crate::files::fingerprint::Fingerprint;
use crate::files::head;
use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::files::ron_words;
use crate::model::change;
use crate::model::facts::holdable;
use crate::model::facts::job::Job;
use crate::units::UnitSystem;
use anyhow::{Result, anyhow, bail};

use error::NotTaken;

pub use error::{JobFileError, Misfit};

/// The format that this program writes, and the newest that it reads.
pub const FORMAT: u32 = 1;

/// Largest file that is read and written, in bytes; the largest job with the largest blower table is far smaller.
const LARGEST: u64 = 16 * MEGABYTE;

/// Reads a job from the text of a job file.
///
/// # Errors
/// One sentence: a newer format, another kind of file, the line and column where it is cut short or cannot be read, or the field that cannot be meant with its value and what would be right.
pub fn parse(text: &str) -> Result<Job, JobFileError> {
    let text = text.trim_start_matches('\u{feff}');
    check_first_field(text)?;
    let job = dto::job(ron_words::read(text, "job").map_err(JobFileError::Text)?)?;
    check(&job)?;
    Ok(job)
}

/// Refuses whatever is not a job of a known format.
fn check_first_field(text: &str) -> Result<(), JobFileError> {
    let head = head::of(text);
    match (head.name, head.format()) {
        (head::JOB, None | Some(0)) => Err(JobFileError::NoFormat),
        (head::JOB, _) => head.newer_than(FORMAT).map_or(Ok(()), |format| Err(JobFileError::Newer(format))),
        (head::BLOWER, _) => Err(JobFileError::BlowerTable),
        (head::SETTINGS, _) => Err(JobFileError::Settings),
        _ if text.trim().is_empty() => Err(JobFileError::Empty),
        _ => Err(JobFileError::NotAJob),
    }
}

/// Writes a job as the text of a job file; the same job always gives the same text, and [`parse`] gives the same job back.
///
/// A job that [`parse`] would refuse is written all the same; [`save`] refuses it before a file is touched.
pub fn write(job: &Job) -> String {
    layout::text(job)
}

/// Says what [`parse`] would refuse about a job, so that it can be put right before it is saved.
///
/// # Errors
/// The first field whose value cannot be meant, with what would be right.
pub fn check(job: &Job) -> Result<(), JobFileError> {
    let held = holdable::check(job).and_then(|()| change::can_be_held(job.changes_of_all()));
    held.map_err(JobFileError::Contents)
}

/// Reads a job file.
///
/// # Errors
/// As [`parse`], and for a file that is not there, too large or not text; the path comes last.
pub fn read(path: &Path) -> Result<Job> {
    open(path).map(|(job, _)| job)
}

/// Reads a job file to work on it; the fingerprint later tells whether the file still is what it was.
///
/// # Errors
/// As [`read`].
pub fn open(path: &Path) -> Result<(Job, Fingerprint)> {
    let text = read_text(path)?;
    let job = parse(&text).map_err(|why| not_taken("", why, path))?;
    Ok((job, Fingerprint::of(text.as_bytes())))
}

/// Why a job file was not opened or not saved, `what` being the beginning of the sentence; [`told`] says it in the units shown.
pub(super) fn not_taken(what: &'static str, why: JobFileError, path: &Path) -> anyhow::Error {
    NotTaken { what, why, path: path.to_path_buf() }.into()
}

/// What [`open`] or [`save`] refused, in the units shown.
pub fn told(refused: &anyhow::Error, units: UnitSystem) -> String {
    refused.downcast_ref::<NotTaken>().map_or_else(|| format!("{refused:#}"), |not_taken| not_taken.sentence(units))
}

/// True for a file that is there and is not what it was when it was opened.
pub fn is_another(path: &Path, opened: Option<Fingerprint>) -> bool {
    path.exists() && read_text(path).map(|text| Fingerprint::of(text.as_bytes())).ok() != opened
}

/// Saves a job, whole or not at all; gives the fingerprint of what is there now.
///
/// # Errors
/// When the file there is of a newer format, when the job would not open again, and as [`write_atomically`]; the file that was there is then untouched.
pub fn save(path: &Path, job: &Job) -> Result<Fingerprint> {
    refuse_newer(path)?;
    let what = "Not saved, for it would not open again: ";
    let text = text_that_opens_again(job).map_err(|why| not_taken(what, why, path))?;
    write_atomically(path, text.as_bytes())?;
    Ok(Fingerprint::of(text.as_bytes()))
}

/// The text of a job, read back and found to say the same.
///
/// # Errors
/// As [`parse`], or a sentence when the text comes back different.
fn text_that_opens_again(job: &Job) -> Result<String, JobFileError> {
    let text = write(job);
    if text.len() as u64 > LARGEST {
        return Err(JobFileError::TooLarge(text.len() as u64));
    }
    if write(&parse(&text)?) == text {
        return Ok(text);
    }
    Err(JobFileError::Changed)
}

/// Refuses to touch a job file of a newer format, and what is no plain file.
fn refuse_newer(path: &Path) -> Result<()> {
    let start = match plain_file::read_start(path, LARGEST) {
        Ok(start) => start,
        Err(Unread::Missing) => return Ok(()),
        Err(Unread::System(error)) if error.kind() == ErrorKind::NotADirectory => return Ok(()),
        Err(unread) => bail!("Not saved, for the file there cannot be looked at: {unread}: {}", path.display()),
    };
    match check_first_field(&String::from_utf8_lossy(&start)) {
        Err(JobFileError::Newer(format)) => bail!(
            "Not saved: the file there was written by a newer Tapcross (format {format}) and stays as it is; choose another name: {}",
            path.display()
        ),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// The text of a file that a person named.
pub(super) fn read_text(path: &Path) -> Result<String> {
    plain_file::read_text(path, LARGEST).map_err(|unread| anyhow!("{unread}: {}", path.display()))
}
