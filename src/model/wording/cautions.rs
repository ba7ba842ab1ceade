//! Cautions: when each goes with a job, and what it says; window, report and changes have them from here (common practice, no source).

use crate::model::answer::Answer;
use crate::model::facts::air_path::{Element, ElementKind};
use crate::model::facts::blower::{BlowerTable, MotorFamily};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::ChangeKind;
use crate::model::facts::job::Job;
use crate::model::first_guess;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::System;
use crate::model::verdicts::taps::{RiseSide, TapAnswer};

/// A caution in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Told {
    /// What it is about, in a word or two.
    pub word: &'static str,
    /// The least that has to be said, without its period.
    pub short: &'static str,
    /// All of it, in sentences.
    pub sentence: &'static str,
}

/// Every caution that goes with a job and its answer, the gravest first and each once.
pub fn of_job(job: &Job, answer: &Answer) -> Vec<Caution> {
    let set = job.set();
    let is_out = |part: &Element| part.kind == ElementKind::Filter && set.parts_out.contains(&part.id);
    let has_taps = |table: &BlowerTable| table.taps.len() > 1;
    let always = [(is_starved_of_air(job, answer), Caution::NoHeat), (true, Caution::Drilling)];
    let by_the_rest = [
        (job.path.all().into_iter().any(is_out), Caution::Filter),
        (set.power.is_some() || set.voltage.is_some(), Caution::LiveCircuits),
        (job.machine.as_ref().is_some_and(has_taps), Caution::TapChange),
    ];
    let applies = |(applies, caution): (bool, Caution)| applies.then_some(caution);
    let of_changes = job.changes.iter().filter(|change| change.is_on()).flat_map(|change| of_change(&change.kind, job));
    let mut cautions: Vec<Caution> = Vec::new();
    for caution in
        always.into_iter().filter_map(applies).chain(of_changes).chain(by_the_rest.into_iter().filter_map(applies))
    {
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
    cautions
}

/// The cautions of a change, without those that what it is on has nothing to do with.
pub fn of_change<'a>(kind: &ChangeKind, job: &'a Job) -> impl Iterator<Item = Caution> + use<'a> {
    let on = kind.element().and_then(|id| job.path.element(id)).map(|element| element.kind);
    let concerns = move |caution: &&Caution| match caution {
        Caution::CoilWork => on == Some(ElementKind::Coil),
        Caution::Filter => on != Some(ElementKind::Coil),
        Caution::NoHeat
        | Caution::Drilling
        | Caution::LiveCircuits
        | Caution::TapChange
        | Caution::Venting
        | Caution::ReturnAir
        | Caution::Repairs
        | Caution::Machine
        | Caution::PanelOff => true,
    };
    kind.declaration().cautions.iter().filter(concerns).copied()
}

/// True where a heating stage gets hotter than its plate allows, or less air than it needs, on the tap that its call runs: as found or with the changes.
fn is_starved_of_air(job: &Job, answer: &Answer) -> bool {
    let starves = |finding: &Finding| {
        matches!(finding, Finding::LeastAirflow { air, .. } if air.is_missed())
            || matches!(finding, Finding::Rise { side: RiseSide::OverRange, .. })
    };
    answer.findings.iter().any(starves) || answer.with_changes().is_some_and(|after| is_starved(job, &after.system))
}

fn is_starved(job: &Job, system: &System) -> bool {
    let runs = |tap: &TapAnswer, call| system.runs_stage(call).is_some_and(|runs| runs.name == tap.name);
    let starves = |tap: &TapAnswer| {
        let mut rises = tap.reached().into_iter().flat_map(|point| &point.rises);
        rises.any(|rise| rise.is_starved() && runs(tap, rise.call))
    };
    system.taps.iter().any(starves) || system.heats(job).is_some_and(|rise| rise.is_starved())
}

/// What a caution says to a job: of a tap by the motor of the machine that stands there with the changes.
pub fn told(caution: Caution, job: &Job, answer: &Answer) -> Told {
    said(caution, first_guess::table_then(job, answer).map_or(MotorFamily::Unstated, |table| table.motor))
}

const fn said(caution: Caution, motor: MotorFamily) -> Told {
    match caution {
        Caution::NoHeat => Told {
            word: "Do not heat, too little air",
            short: "not until more passes the heater, and the rise is read again",
            sentence: "Too little air passes the heat exchanger or the electric heater. Do not heat until that is mended: the exchanger can crack, limits trip, and fumes may follow. Then the temperature rise is read again and held against the rating plate.",
        },
        Caution::Drilling => Told {
            word: "Drilling",
            short: "never near exchanger, coil, lines or wiring; plug the holes",
            sentence: "Power off before a panel comes off: moving parts, live circuits, hot surfaces, gas. Never drill where a heat exchanger, coil, refrigerant line, drain pan, wiring or control could be; plug the holes afterwards. Read with the panels on and the filter in, unless the reading says otherwise. The maker's instructions, the rating plate and local codes come first, and a licensed practitioner where they ask for one.",
        },
        Caution::LiveCircuits => Told {
            word: "Watts and volts",
            short: "live circuits, only for who is trained and equipped",
            sentence: "Watts, amps and voltage are read on live circuits: only by somebody trained and allowed to, with a meter, leads and gloves rated for the voltage, nothing loose near the wheel, and the panel back on afterwards.",
        },
        Caution::TapChange => tap_change(motor),
        Caution::Venting => Told {
            word: "Venting",
            short: "check combustion air and draft afterwards",
            sentence: "Sealed ducts, another return or another duct change the pressure in the house and around its burners. Afterwards check combustion air and the draft of every vented appliance, with doors shut and every exhaust fan running.",
        },
        Caution::ReturnAir => Told {
            word: "Return air",
            short: "never from a garage or near a vented appliance",
            sentence: "Return air is drawn from the rooms served. Never from a garage, a combustion-air space, or near a vented appliance: fumes would go to every room.",
        },
        Caution::CoilWork => Told {
            word: "Coil",
            short: "power off; mind fins, drain and refrigerant",
            sentence: "Power off and locked out before a coil is reached. Its fins cut and bend: clean along them, with what its maker allows, and leave the drain open. The refrigerant circuit stays shut: to open it, for another coil too, is licensed practice.",
        },
        Caution::Repairs => Told {
            word: "Attic",
            short: "mind footing, wiring and old insulation",
            sentence: "In attics and crawl spaces step on joists only, and mind heat, nails and live wiring. Old insulation and duct wrap may hold asbestos: do not touch it before somebody has said what it is. Insulation and vapor barrier go back on, or the duct sweats.",
        },
        Caution::Filter => Told {
            word: "Filter",
            short: "must fit its rack; never run without one",
            sentence: "A filter must fit its rack without gaps, its arrow along the air: the rack says what size and depth go in. Never run without one but for the moment of a reading: coil and wheel foul.",
        },
        Caution::Machine => Told {
            word: "Another machine",
            short: "a load calculation says what size is right",
            sentence: "A load calculation, not the old machine, says what size is right. The exchange, with its gas, venting, refrigerant and wiring, is licensed practice.",
        },
        Caution::PanelOff => Told {
            word: "Panel off",
            short: "to show it only; never run a machine so",
            sentence: "To show it only: with a panel off the blower draws from where it stands, fumes included. Never run a machine so.",
        },
    }
}

const fn tap_change(motor: MotorFamily) -> Told {
    match motor {
        MotorFamily::PermanentSplitCapacitor => Told {
            word: "Tap change",
            short: "power off and locked out, run capacitor discharged",
            sentence: "Power off and locked out; wait for a control's stored charge to bleed off, as the maker says, and discharge the motor's run capacitor through a resistor before a lead is touched. One lead a tap, unused leads capped, never two energized. Afterwards read static, watts or amps and temperature rise again, in heating and in cooling. The maker's instructions come first.",
        },
        MotorFamily::ConstantTorque | MotorFamily::Unstated => Told {
            word: "Tap change",
            short: "power off, locked out, stored charge bled off",
            sentence: "Power off and locked out; wait for the motor control's stored charge to bleed off, as the maker says. One lead a tap, unused leads capped, never two energized. Afterwards read static, watts or amps and temperature rise again, in heating and in cooling. The maker's instructions come first.",
        },
        MotorFamily::ConstantAirflow => Told {
            word: "Setting",
            short: "power off, locked out, stored charge bled off",
            sentence: "Power off and locked out before a jumper or a switch is moved; wait for the motor control's stored charge to bleed off, as the maker says. Afterwards read static, watts or amps and temperature rise again, in heating and in cooling. The maker's instructions come first.",
        },
    }
}
