//! What a practitioner would say of the numbers, each with the rule behind it.
//!
//! Findings are data; [`crate::model::wording`] puts them into sentences.

use crate::model::answer::plate::{PlateSide, PlateVerdict};
use crate::model::answer::taps::{Reach, RiseSide, TapAnswer, TapPoint};
use crate::model::answer::{Answer, Running};
use crate::model::blower::{BlowerTable, Call, EquipmentKind, MotorFamily};
use crate::model::job::Job;
use crate::model::needs::{Ease, Need};
use crate::model::tap_curve::TapShape;
use crate::model::tesp::Assumption;
use crate::units::{Airflow, Pressure, TemperatureRise};

/// Static under this share of the rated maximum, with the least-static limit, points at something open or missing (common practice, no source: "under half of design").
pub const LITTLE_OF_DESIGN: f64 = 0.5;
/// Plate of the furnaces that the trade's side limits are meant for.
pub const SIDE_LIMIT_PLATE: Pressure = Pressure::from_in_wc(0.8);

/// A tap that moves less than this multiple of today's airflow is no step up (rounding of printed tables).
pub const SAME_AIRFLOW: f64 = 1.005;

/// How a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Something to act on.
    Act,
    /// Something to look at.
    Look,
    /// Good to know.
    Note,
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// Over or at the rated maximum.
    Plate(PlateVerdict),
    /// The return side takes more than its limit.
    ReturnTakes {
        /// What it takes.
        taken: Pressure,
        /// Of the whole.
        total: Pressure,
        /// The limit.
        limit: Pressure,
    },
    /// The supply side of a furnace takes more than its limit.
    SupplyTakes {
        /// What it takes.
        taken: Pressure,
        /// Of the whole.
        total: Pressure,
        /// The limit.
        limit: Pressure,
    },
    /// Too little static for a sound system.
    LittleStatic {
        /// What was read.
        tesp: Pressure,
    },
    /// Above the accepted band.
    TooMuchAir {
        /// Airflow now.
        airflow: Airflow,
        /// Top of the band.
        high: Airflow,
        /// The lowest tap in the band, where there is one.
        lowest_in_band: Option<String>,
    },
    /// The next higher tap buys static faster than airflow.
    NextTap {
        /// Its name.
        name: String,
        /// Airflow now and there.
        airflow: (Airflow, Airflow),
        /// Static now and there.
        tesp: (Pressure, Pressure),
        /// True when it is over the plate there.
        over_plate: bool,
    },
    /// Taps that deliver the target's band at or under the plate, lowest first.
    TapsThatReach(Vec<String>),
    /// No tap reaches the target on this path under the plate; the easiest one and what it needs.
    NoTapReaches(Option<(String, Ease)>),
    /// A heating stage's rise is out of the plate's range on the tap that its call runs.
    Rise {
        /// The stage.
        call: Call,
        /// Its tap.
        tap: String,
        /// The rise.
        rise: TemperatureRise,
        /// The plate's range.
        range: (TemperatureRise, TemperatureRise),
        /// Which side.
        side: RiseSide,
    },
    /// Less airflow than the fitted heat needs, on the tap that its call runs.
    UnderHeatMinimum {
        /// The stage.
        call: Call,
        /// Its tap.
        tap: String,
        /// The airflow.
        airflow: Airflow,
        /// The least.
        least: Airflow,
    },
    /// More watts for each cfm than the limit.
    WattsPerCfm {
        /// What it is.
        value: f64,
        /// The limit.
        limit: f64,
    },
    /// The table bars the tap in use here.
    Barred {
        /// Its name.
        tap: String,
        /// The table's note.
        note: Option<String>,
    },
    /// A constant-airflow motor past its knee, or how far it has to it.
    Knee {
        /// Static now (as the table is entered).
        entry: Pressure,
        /// The knee.
        knee: Pressure,
    },
    /// Thin or dense air enters the table at another static.
    Density {
        /// TESP.
        tesp: Pressure,
        /// The table entry.
        entry: Pressure,
        /// ρ/ρ_table.
        ratio: f64,
    },
    /// Something taken for granted.
    Assumed(Assumption),
}

impl Finding {
    /// How it weighs.
    pub const fn weight(&self) -> Weight {
        match self {
            Self::Plate(_)
            | Self::Barred { .. }
            | Self::UnderHeatMinimum { .. }
            | Self::Rise { .. }
            | Self::NoTapReaches(_)
            | Self::TooMuchAir { .. } => Weight::Act,
            Self::ReturnTakes { .. }
            | Self::SupplyTakes { .. }
            | Self::LittleStatic { .. }
            | Self::WattsPerCfm { .. }
            | Self::NextTap { .. } => Weight::Look,
            Self::TapsThatReach(_) | Self::Knee { .. } | Self::Density { .. } | Self::Assumed(_) => Weight::Note,
        }
    }
}

/// Every finding of a solved job, weightiest first; empty while there is no point.
pub fn find(job: &Job, answer: &Answer) -> Vec<Finding> {
    let (Some(running), Some(table)) = (answer.point(), &job.machine) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    of_static(job, table, running, &mut findings);
    of_air(job, answer, running, &mut findings);
    of_heat(table, answer, &mut findings);
    of_motor(table, answer, running, &mut findings);
    of_density(answer, running, &mut findings);
    findings.extend(running.budget.assumptions.iter().cloned().map(Finding::Assumed));
    findings.sort_by_key(Finding::weight);
    findings
}

fn of_static(job: &Job, table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    let total = running.now.tesp;
    if let Some(plate) = running.plate
        && plate.side != PlateSide::Under
    {
        findings.push(Finding::Plate(plate));
    }
    if let Some(taken) = running.return_side
        && taken > job.limits.return_drop
    {
        findings.push(Finding::ReturnTakes { taken, total, limit: job.limits.return_drop });
    }
    let side_limits_apply = matches!(table.kind, EquipmentKind::Furnace | EquipmentKind::NoReturnDuct)
        && !table.basis.coil.is_included()
        && table.rated_maximum.is_some_and(|plate| plate >= SIDE_LIMIT_PLATE);
    if let Some(taken) = running.supply_side
        && side_limits_apply
        && taken > job.limits.furnace_supply_drop
    {
        findings.push(Finding::SupplyTakes { taken, total, limit: job.limits.furnace_supply_drop });
    }
    if total < job.limits.least_static {
        findings.push(Finding::LittleStatic { tesp: total });
    }
}

fn of_air(job: &Job, answer: &Answer, running: &Running, findings: &mut Vec<Finding>) {
    let airflow = running.now.airflow;
    if let Some(finding) = next_tap(answer, running) {
        findings.push(finding);
    }
    let Some(target) = answer.target else {
        return;
    };
    let answers: Vec<String> = by_airflow(answer)
        .into_iter()
        .filter(|tap| tap.reached().is_some_and(TapPoint::is_answer))
        .map(|tap| tap.name.clone())
        .collect();
    if airflow > target.high {
        let lowest_in_band = answers.first().cloned();
        findings.push(Finding::TooMuchAir { airflow, high: target.high, lowest_in_band });
    } else if answers.is_empty() {
        findings.push(Finding::NoTapReaches(easiest(answer)));
    } else {
        findings.push(Finding::TapsThatReach(answers));
    }
    let watts_per_cfm = running.power.map(|power| power.watts() / airflow.cfm());
    if let Some(value) = watts_per_cfm.filter(|value| *value > job.limits.watts_per_cfm) {
        findings.push(Finding::WattsPerCfm { value, limit: job.limits.watts_per_cfm });
    }
}

/// Taps with a point, lowest airflow first.
pub fn by_airflow(answer: &Answer) -> Vec<&TapAnswer> {
    let mut taps: Vec<(&TapAnswer, f64)> =
        answer.taps.iter().filter_map(|tap| Some((tap, tap.reached()?.airflow().cfm()))).collect();
    taps.sort_by(|one, other| one.1.total_cmp(&other.1));
    taps.into_iter().map(|(tap, _)| tap).collect()
}

fn next_tap(answer: &Answer, running: &Running) -> Option<Finding> {
    let (before, static_now) = (running.airflow_before, running.now.tesp);
    let next = by_airflow(answer)
        .into_iter()
        .find(|tap| tap.reached().is_some_and(|point| !tap.in_use && point.airflow() > before * SAME_AIRFLOW))?;
    let point = next.reached()?;
    Some(Finding::NextTap {
        name: next.name.clone(),
        airflow: (before, point.airflow()),
        tesp: (static_now, point.crossing.tesp),
        over_plate: point.plate.is_some_and(|plate| plate.side == PlateSide::Over),
    })
}

/// The tap that needs the least drop taken out.
fn easiest(answer: &Answer) -> Option<(String, Ease)> {
    answer
        .taps
        .iter()
        .filter_map(|tap| match tap.need {
            Some(Need::Ease(ease)) => Some((tap.name.clone(), ease)),
            _ => None,
        })
        .min_by(|one, other| one.1.remove.in_wc().total_cmp(&other.1.remove.in_wc()))
}

fn of_heat(table: &BlowerTable, answer: &Answer, findings: &mut Vec<Finding>) {
    for stage in &table.heating {
        let Some(tap) = table.tap_of_call(stage.call) else {
            continue;
        };
        let tap_answer = answer.taps.iter().find(|candidate| candidate.name == tap);
        let Some(point) = tap_answer.and_then(TapAnswer::reached) else {
            continue;
        };
        let Some(rise) = point.rises.iter().find(|rise| rise.call == stage.call) else {
            continue;
        };
        if let (Some(side), Some(range)) = (rise.side, stage.rise)
            && side != RiseSide::InRange
        {
            findings.push(Finding::Rise { call: stage.call, tap: tap.to_owned(), rise: rise.rise, range, side });
        }
        if let (true, Some(least)) = (rise.under_minimum, stage.minimum_airflow) {
            findings.push(Finding::UnderHeatMinimum {
                call: stage.call,
                tap: tap.to_owned(),
                airflow: point.airflow(),
                least,
            });
        }
    }
}

fn of_motor(table: &BlowerTable, answer: &Answer, running: &Running, findings: &mut Vec<Finding>) {
    let in_use = answer.tap_in_use();
    if let Some(tap) = in_use
        && let Some(note) = tap.reached().and_then(|point| point.barred.clone())
    {
        findings.push(Finding::Barred { tap: tap.name.clone(), note });
    }
    let shape = answer.in_use.and_then(|index| answer.shapes.get(index));
    if table.motor == MotorFamily::ConstantAirflow
        && let Some(TapShape::Curve(curve)) = shape
        && let Some(knee) = curve.knee()
    {
        findings.push(Finding::Knee { entry: running.now.entry, knee });
    }
}

fn of_density(answer: &Answer, running: &Running, findings: &mut Vec<Finding>) {
    if (1.0 - answer.density_ratio).abs() > crate::model::thin_air::DENSITY_DOUBT {
        findings.push(Finding::Density {
            tesp: running.now.tesp,
            entry: running.now.entry,
            ratio: answer.density_ratio,
        });
    }
}

/// Whether the airflow now is short of, in, or over the band.
pub fn reach_now(answer: &Answer) -> Option<Reach> {
    let target = answer.target?;
    let airflow = answer.point()?.now.airflow;
    Some(crate::model::answer::taps::reach(airflow, target.low, target.high))
}
