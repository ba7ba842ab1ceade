//! A path that is wished for: every drop on it times one factor, what a tap would then move, and what has to come out for it.
//!
//! It is a wish and no change: it says nothing of how, so whatever rests on it is `assumed`.

use crate::model::air_path::ElementId;
use crate::model::answer::operation::tap_crossing;
use crate::model::needs::Ease;
use crate::model::operating_point::{Crossing, NoCrossing};
use crate::model::path_parts::{Part, Route, flows};
use crate::model::system_curve::SystemLoad;
use crate::model::tap_curve::TapShape;
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
    /// Airflow that gains are counted from.
    pub airflow_before: Airflow,
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
    /// True when it drops as much as has to come out of the whole path: it alone could give it.
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
    pub gain: Option<Airflow>,
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
    let load = SystemLoad { external: present.load.external.scaled(factor), ..present.load.clone() };
    let crossing = tap_crossing(present.shape, &load);
    let reached = crossing.as_ref().ok().map(|crossing| crossing.airflow);
    let at = target.or(reached).unwrap_or(present.airflow_before);
    let drop = present.load.tesp(at);
    let remove = drop * (1.0 - factor);
    let rooms = flows::through(present.parts, Route::Rooms, at);
    let portion = |part: &Part| {
        let flow = match part.route {
            Route::Rooms => rooms,
            _ => at,
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
    let is_passed = |part: &&Part| part.route != Route::Bypass;
    EasierPath {
        factor,
        gain: reached.map(|airflow| airflow - present.airflow_before),
        crossing,
        at,
        remove,
        drop,
        portions: present.parts.iter().filter(is_passed).map(portion).collect(),
    }
}

/// The factor that takes out just what a tap needs to deliver the target.
pub fn factor_for(ease: &Ease) -> f64 {
    (ease.allowed / ease.path_at_target).clamp(FACTORS.0, FACTORS.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::demo;
    use crate::model::answer::Answer;
    use crate::model::needs::Need;

    fn present(answer: &Answer) -> Present<'_> {
        let running = answer.point().unwrap();
        Present {
            parts: &running.parts,
            load: &running.load,
            shape: &answer.shapes[answer.in_use.unwrap()],
            airflow_before: running.airflow_before,
        }
    }

    #[test]
    fn a_factor_of_one_takes_nothing_out_and_runs_where_it_ran() {
        let answer = Answer::of(&demo::heat_pump());
        let same = wished(&present(&answer), 1.0, None);
        let now = answer.point().unwrap().now.airflow;
        assert!((same.crossing.unwrap().airflow / now - 1.0).abs() < 1e-9);
        assert!(same.remove.in_wc().abs() < 1e-12 && same.gain.unwrap().cfm().abs() < 1e-6);
    }

    #[test]
    fn half_the_drop_of_a_square_law_path_is_worked_out_by_hand() {
        // One lump through (Q, P): at the target T it drops P·(T/Q)², and half of that has to come out.
        let answer = Answer::of(&demo::heat_pump());
        let now = answer.point().unwrap().now;
        let target = Airflow::from_cfm(1400.0);
        let half = wished(&present(&answer), 0.5, Some(target));
        let by_hand = 0.5 * now.tesp.in_wc() * (1400.0 / now.airflow.cfm()).powi(2);
        assert!((half.remove.in_wc() / by_hand - 1.0).abs() < 1e-9);
        assert!((half.share() - 0.5).abs() < 1e-12);
        assert!(half.crossing.unwrap().airflow > now.airflow);
    }

    #[test]
    fn the_parts_give_together_what_the_path_gives() {
        let answer = Answer::of(&demo::gas_furnace());
        let eased = wished(&present(&answer), 0.7, Some(Airflow::from_cfm(1200.0)));
        let total: Pressure = eased.portions.iter().map(|portion| portion.remove).sum();
        assert!(eased.portions.len() > 1 && (total / eased.remove - 1.0).abs() < 1e-9);
        assert!(eased.portions.iter().all(|portion| portion.alone == (portion.drop >= eased.remove)));
        assert!(eased.portions.iter().any(|portion| portion.before_blower));
    }

    #[test]
    fn the_factor_of_a_need_takes_out_what_the_need_says_and_reaches_the_target() {
        let mut job = demo::heat_pump();
        job.machine.as_mut().unwrap().rated_maximum = None;
        let answer = Answer::of(&job);
        let target = answer.target.unwrap().actual;
        let Some(Need::Ease(ease)) = answer.tap_in_use().unwrap().need else {
            panic!("the demo's tap in use needs an easier path");
        };
        let eased = wished(&present(&answer), factor_for(&ease), Some(target));
        assert!((eased.remove / ease.remove - 1.0).abs() < 1e-9);
        assert!((eased.crossing.unwrap().airflow / target - 1.0).abs() < 1e-9);
    }
}
