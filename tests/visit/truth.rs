//! A house whose every drop is known, and what a manometer would read in it.

use tapcross::model::facts::air_path::{ElementId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, Call, EquipmentKind, MotorFamily, Tap};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading, ReadingSet};
use tapcross::model::laws::tap_curve::TapCurve;

use super::checks;
use super::house::{COIL, FILTER, GRILLE, REGISTERS, RETURN, SUPPLY, curve_in, furnace, in_wc, torque};

/// Elements of the return and of the supply, with the drop of each at 1,000 cfm and its exponent: those of their kinds, so that nothing but the readings is in doubt.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Truth {
    pub(crate) parts: [(ElementId, f64, f64); 6],
    /// What the machine moves over its table.
    pub(crate) of_table: f64,
}

/// What the manometer does to every reading: the error of its gain, and of each port.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Errors {
    pub(crate) gain: f64,
    pub(crate) ports: [f64; 2],
}

impl Truth {
    /// A grille, a return duct, a filter; a coil, a supply duct, registers.
    pub(crate) fn of(drops: [f64; 6]) -> Self {
        let [grille, duct, filter, coil, supply, registers] = drops;
        let parts = [
            (GRILLE, grille, 2.0),
            (RETURN, duct, 1.9),
            (FILTER, filter, 1.0 / 0.85),
            (COIL, coil, 1.8),
            (SUPPLY, supply, 1.9),
            (REGISTERS, registers, 2.0),
        ];
        Self { parts, of_table: 1.0 }
    }

    /// What the return and the supply take at an airflow without some parts.
    pub(crate) fn sides(&self, flow: f64, out: &[ElementId]) -> [f64; 2] {
        let drop = |(id, drop, exponent): &(ElementId, f64, f64)| {
            if out.contains(id) { 0.0 } else { drop * (flow / 1000.0).powf(*exponent) }
        };
        [self.parts[..3].iter().map(drop).sum(), self.parts[3..].iter().map(drop).sum()]
    }

    /// The airflow that it runs at, by bisection.
    pub(crate) fn airflow(&self, tap: &TapCurve, out: &[ElementId]) -> f64 {
        let (mut low, mut high) = (10.0, 3000.0);
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            let path: f64 = self.sides(middle, out).iter().sum();
            if self.of_table * tap.value_and_slope(path).0 > middle { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// The readings of a set without some parts.
    pub(crate) fn read(&self, out: &[ElementId], tap: &str, errors: Errors, scatter: [f64; 2]) -> ReadingSet {
        let sides = self.sides(self.airflow(&curve_in(&machine(tap), tap), out), out);
        let look = |side: usize, sign: f64| {
            in_wc(sign * sides[side] * (1.0 + errors.gain) + errors.ports[side] + scatter[side])
        };
        let reading = |port, look| Reading { at: ReadAt::Port(port), looks: vec![look] };
        ReadingSet {
            tap: Some(tap.to_owned()),
            parts_out: out.to_vec(),
            readings: vec![reading(RETURN_PORT, look(0, -1.0)), reading(SUPPLY_PORT, look(1, 1.0))],
            ..machine(tap).sets.swap_remove(0)
        }
    }

    /// Drop of a part at an airflow.
    pub(crate) fn drop_of(&self, id: ElementId, flow: f64) -> f64 {
        let part = self.parts.iter().find(|(part, ..)| *part == id);
        part.map_or(0.0, |(_, drop, exponent)| drop * (flow / 1000.0).powf(*exponent))
    }
}

/// A machine with a tap of that name, in air of its table's: A and B move almost the same, 1 and 2 do not, low moves three fifths of high, and even moves the same whatever the path, all but.
pub(crate) fn machine(tap: &str) -> Job {
    if ["A", "B"].contains(&tap) {
        return furnace();
    }
    let mut job = torque(EquipmentKind::Furnace, Basis::default());
    let table = job.machine.as_mut().expect("a machine");
    if ["low", "high"].contains(&tap) {
        let rows = [(0.1, 1440.0), (0.3, 1371.0), (0.5, 1300.0), (0.7, 1228.0), (0.9, 1151.0)];
        let tap = |name: &str, part: f64| Tap {
            name: name.to_owned(),
            ..checks::tap_of(rows.map(|(esp, cfm)| (esp, part * cfm, None)))
        };
        table.taps = vec![tap("low", 0.6), tap("high", 1.0)];
        table.calls = vec![(Call::FanOnly, "high".to_owned())];
    }
    if tap == "even" {
        let rows = [(0.1, 1215.0), (0.3, 1210.0), (0.5, 1200.0), (0.7, 1190.0), (0.9, 1175.0)];
        table.motor = MotorFamily::ConstantAirflow;
        table.taps = vec![Tap { name: "even".to_owned(), ..checks::tap_of(rows.map(|(esp, cfm)| (esp, cfm, None))) }];
        table.calls = vec![(Call::FanOnly, "even".to_owned())];
    }
    table.basis.density = Some(job.sets[0].air.at_blower(table.kind, job.sets[0].call).density);
    job
}

/// A job of these sets, the first of which is judged.
pub(crate) fn job_of(sets: Vec<ReadingSet>) -> Job {
    let tap = sets.first().and_then(|set| set.tap.clone()).expect("a tap");
    Job { sets, ..machine(&tap) }
}
