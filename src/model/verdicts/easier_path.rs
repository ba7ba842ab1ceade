//! A path that is wished for: every drop on it times one factor, what a tap would then move, and what has to come out for it.
//!
//! It is a wish and no change: it says nothing of how, so whatever rests on it is `assumed`.

use crate::model::facts::air_path::ElementId;
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::parts::{Part, Route, flows};
use crate::model::solution::gain::{Gain, Start};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::tap_crossing;
use crate::model::verdicts::needs::Ease;
use crate::model::verdicts::system::System;
use crate::units::{Airflow, Pressure};

/// Factors that can be wished for: a path ten times as easy, to one twice as hard.
pub const FACTORS: (f64, f64) = (0.1, 2.0);

/// A path as it is, and the tap that runs on it.
#[derive(Clone, Copy, Debug)]
pub struct Present<'a> {
    /// What it is made of.
    pub parts: &'a [Part],
    /// What the tap works against.
    pub load: &'a SystemLoad,
    /// The tap's curve.
    pub shape: &'a TapShape,
    /// What gains are counted from.
    pub start: Start<'a>,
}

impl<'a> Present<'a> {
    /// A system's path with the tap that runs on it; nothing while none does.
    pub fn of(system: &'a System, start: Start<'a>) -> Option<Self> {
        let shape = system.blower.shapes.get(system.blower.in_use?)?;
        Some(Self { parts: &system.parts, load: &system.load, shape, start })
    }

    /// Total external static at an airflow.
    pub fn tesp(&self, airflow: Airflow) -> Pressure {
        self.load.tesp(airflow)
    }

    /// The path with every external drop times a factor.
    pub fn eased(&self, factor: f64) -> SystemLoad {
        SystemLoad { external: self.load.external.scaled(factor), ..self.load.clone() }
    }
}

/// One part of what has to come out.
#[derive(Clone, Debug, PartialEq)]
pub struct Portion {
    /// The part's elements.
    pub elements: Vec<ElementId>,
    /// True before the blower.
    pub before_blower: bool,
    /// What it drops there now.
    pub drop: Pressure,
    /// Its portion, if every part gives in proportion to what it drops.
    pub remove: Pressure,
    /// True when it drops as much as has to come out of the whole path: it alone drops that much.
    pub alone: bool,
}

/// A wished path.
#[derive(Clone, Debug, PartialEq)]
pub struct EasierPath {
    /// Factor on every drop.
    pub factor: f64,
    /// Where the tap would run.
    pub crossing: Result<Crossing, NoCrossing>,
    /// Gain of airflow over before, where there is a crossing.
    pub gain: Option<Gain>,
    /// Airflow at which the drops below are meant: the target, else where the tap would run.
    pub at: Airflow,
    /// Drop that has to come out there; below zero where the path would be harder.
    pub remove: Pressure,
    /// What the path drops there now.
    pub drop: Pressure,
    /// The parts, in their order.
    pub portions: Vec<Portion>,
}

impl EasierPath {
    /// Share of the path's drop that has to come out.
    pub fn share(&self) -> f64 {
        self.remove / self.drop
    }
}

/// The path with every external drop times a factor within [`FACTORS`]; drops are told at `target`, or where the tap would run.
pub fn wished(present: &Present<'_>, factor: f64, target: Option<Airflow>) -> EasierPath {
    let crossing = tap_crossing(present.shape, &present.eased(factor), None);
    let reached = crossing.as_ref().ok().map(|crossing| crossing.airflow);
    let at = target.or(reached).unwrap_or(present.start.published);
    let drop = present.tesp(at);
    let remove = drop * (1.0 - factor);
    let rooms = flows::through(present.parts, Route::Rooms, at);
    let portion = |part: &Part| {
        let flow = match part.route {
            Route::Rooms => rooms,
            Route::Blower | Route::Bypass | Route::Inside => at,
        };
        let own = part.drop_at(flow);
        Portion {
            elements: part.elements.clone(),
            before_blower: part.before_blower,
            drop: own,
            remove: own * (1.0 - factor),
            alone: own >= remove,
        }
    };
    let is_passed = |part: &&Part| part.is_external();
    EasierPath {
        factor,
        gain: crossing.as_ref().ok().map(|crossing| present.start.gain(crossing, present.shape)),
        crossing,
        at,
        remove,
        drop,
        portions: present.parts.iter().filter(is_passed).map(portion).collect(),
    }
}

/// The factor that takes out just what a tap needs to deliver the target.
pub fn factor_for(ease: &Ease) -> f64 {
    (ease.allowed / ease.path).clamp(FACTORS.0, FACTORS.1)
}
