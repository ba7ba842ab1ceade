//! How the blower's air is divided among the parts, and how much of it the rooms get.

use crate::model::facts::air_path::ElementId;
use crate::model::facts::limits::Limits;
use crate::model::laws::duct::parallel::{NOTHING, Resistance, in_parallel};
use crate::model::laws::system_curve::SystemCurve;
use crate::model::path::parts::{Part, Route, curve_of, in_series};
use crate::units::{Airflow, Pressure};

/// One part with the air that passes it.
#[derive(Clone, Copy, Debug)]
pub struct Passing<'a> {
    /// The part.
    pub part: &'a Part,
    /// Airflow through it.
    pub airflow: Airflow,
    /// Its drop at that airflow.
    pub drop: Pressure,
}

/// The blower's air where it counts: blower, registers and return are one number without leaks and bypass, and three with them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Delivered {
    /// What the blower moves.
    pub blower: Airflow,
    /// What comes out in the rooms.
    pub to_rooms: Airflow,
    /// What is drawn from the rooms.
    pub from_rooms: Airflow,
    /// What takes the bypass.
    pub bypassed: Airflow,
}

impl Delivered {
    /// Part of the blower's air that does not come out in the rooms, or is not drawn from them, whichever is more.
    pub fn lost(&self) -> f64 {
        1.0 - self.to_rooms.min(self.from_rooms) / self.blower
    }

    /// True where the ± of what is lost leaves open whether it is more than may be.
    pub fn may_be_lost(&self, spread: Airflow, limits: &Limits) -> bool {
        (self.lost() - limits.lost_air).abs() <= spread / self.blower
    }

    /// True where more is lost on the way than may be: the blower's air is what coil and heat exchanger get, and the rooms go short of it.
    pub fn is_lost(&self, limits: &Limits) -> bool {
        self.lost() > limits.lost_air
    }
}

/// Airflow through the parts of a route at a blower airflow.
pub fn through(parts: &[Part], route: Route, blower: Airflow) -> Airflow {
    if matches!(route, Route::Blower | Route::Inside) || !parts.iter().any(|part| part.route == Route::Bypass) {
        return if route == Route::Bypass { Airflow::ZERO } else { blower };
    }
    let of = |route: Route| {
        let mut curve = SystemCurve::default();
        for part in parts.iter().filter(|part| part.route == route) {
            part.add_to(&mut curve);
        }
        curve
    };
    let split = divided(&[of(Route::Rooms), of(Route::Bypass)], blower);
    let index = usize::from(route == Route::Bypass);
    split.get(index).copied().unwrap_or(blower)
}

/// Every part, those in ways included, with the air that passes it, in the order of the parts.
pub fn passing(parts: &[Part], blower: Airflow) -> Vec<Passing<'_>> {
    let rooms = through(parts, Route::Rooms, blower);
    let bypass = blower - rooms;
    let mut all = Vec::new();
    for part in parts {
        let airflow = match part.route {
            Route::Blower | Route::Inside => blower,
            Route::Rooms => rooms,
            Route::Bypass => bypass,
        };
        pass(part, airflow, 1.0, &mut all);
    }
    all
}

/// `warm` is the factor of the warm air that passes the group in which a part stands.
fn pass<'a>(part: &'a Part, airflow: Airflow, warm: f64, all: &mut Vec<Passing<'a>>) {
    all.push(Passing { part, airflow, drop: part.drop_at(airflow) * warm });
    let warm = warm * part.warm_factor(airflow);
    for (way, flow) in part.ways.iter().zip(of_ways(part, airflow)) {
        for within in way {
            pass(within, flow, warm, all);
        }
    }
}

/// Airflow and drop of an element at a blower airflow, wherever it stands; nothing where it is no part of its own.
pub fn at_element(parts: &[Part], id: ElementId, blower: Airflow) -> Option<(Airflow, Pressure)> {
    let found = passing(parts, blower).into_iter().find(|passing| passing.part.is(id))?;
    Some((found.airflow, found.drop))
}

/// Drop of the whole path at a blower airflow.
pub fn total(parts: &[Part], blower: Airflow) -> Pressure {
    curve_of(parts).drop_at(blower)
}

/// Drop of the external path before the blower.
pub fn before_blower(parts: &[Part], blower: Airflow) -> Pressure {
    let side = parts.iter().filter(|part| part.before_blower && part.is_external());
    side.map(|part| part.drop_at(through(parts, part.route, blower))).sum()
}

/// How much of the blower's air the rooms get and give.
pub fn delivered(parts: &[Part], blower: Airflow) -> Delivered {
    let rooms = through(parts, Route::Rooms, blower);
    let reaching = |before_blower: bool| {
        let side = parts.iter().filter(|part| part.before_blower == before_blower && part.is_external());
        side.fold(rooms, |airflow, part| {
            let flow = if part.route == Route::Blower { blower } else { rooms };
            airflow * kept(part, flow)
        })
    };
    Delivered { blower, to_rooms: reaching(false), from_rooms: reaching(true), bypassed: blower - rooms }
}

/// Fraction of a part's air that does not leak.
fn kept(part: &Part, airflow: Airflow) -> f64 {
    if part.ways.is_empty() || airflow <= Airflow::ZERO {
        return 1.0;
    }
    let kept: Airflow = part
        .ways
        .iter()
        .zip(of_ways(part, airflow))
        .filter(|(way, _)| !way.iter().any(|within| within.leaks))
        .map(|(way, flow)| way.iter().fold(flow, |flow, within| flow * kept(within, flow)))
        .sum();
    kept / airflow
}

/// Airflow of each way of a part.
pub fn of_ways(part: &Part, airflow: Airflow) -> Vec<Airflow> {
    let curves: Vec<SystemCurve> = part.ways.iter().map(|way| in_series(way)).collect();
    divided(&curves, airflow)
}

/// Air divided among curves at equal drop; alike where they cannot be solved, which no built path has.
fn divided(curves: &[SystemCurve], airflow: Airflow) -> Vec<Airflow> {
    if airflow <= Airflow::ZERO {
        return vec![Airflow::ZERO; curves.len()];
    }
    let free = |curve: &&SystemCurve| curve.drop_at(airflow) <= NOTHING;
    let frees = curves.iter().filter(free).count();
    if frees > 0 {
        let each = airflow / frees as f64;
        return curves.iter().map(|curve| if free(&curve) { each } else { Airflow::ZERO }).collect();
    }
    let branches: Vec<&dyn Resistance> = curves.iter().map(|curve| curve as &dyn Resistance).collect();
    in_parallel(&branches, airflow)
        .map_or_else(|_| vec![airflow / curves.len().max(1) as f64; curves.len()], |flow| flow.flows)
}
