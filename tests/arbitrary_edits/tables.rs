//! Blower tables: the library's own, bent a little, and made up ones.

use tapcross::files::blower_file;
use tapcross::model::facts::blower::{
    Basis, BlowerTable, Cell, CoilInTest, Corrections, EquipmentKind, HeatStage, LowVoltage, MotorFamily, PartInTest,
    Position, Row, Tap, TapData,
};
use tapcross::units::{Airflow, Capacity, Density, HeatRate, Power, Speed, TemperatureRise, Voltage};

use super::Wild;

/// Shipped tables, which are sound.
const SHIPPED: [&str; 3] = [
    include_str!("../../blowers/gf-80p.ron"),
    include_str!("../../blowers/ah-42t.ron"),
    include_str!("../../blowers/ah-60v.ron"),
];

impl Wild<'_> {
    /// A shipped table, a shipped one bent, or one made up.
    pub(crate) fn table(&mut self) -> BlowerTable {
        if self.once_in(3) {
            return self.made_up();
        }
        let mut table = blower_file::parse(self.one_of(&SHIPPED)).expect("a shipped table");
        for _ in 0..self.below(3) {
            self.bend(&mut table);
        }
        table
    }

    fn bend(&mut self, table: &mut BlowerTable) {
        match self.below(9) {
            0 => table.name = self.text(),
            1 => table.cooling = Some(Capacity::from_tons(self.number(0.5, 25.0))),
            2 => table.basis = self.basis(),
            3 => table.rated_maximum = Some(self.pressure(0.1, 2.0)),
            4 => table.kind = self.one_of(&EquipmentKind::ALL),
            5 => table.corrections = self.corrections(),
            6 => table.heating.push(self.stage()),
            7 => {
                let tap = self.made_up_tap();
                table.taps.push(tap);
            }
            _ => table.taps.truncate(self.below(3)),
        }
    }

    fn made_up(&mut self) -> BlowerTable {
        let taps = (0..self.below(4)).map(|_| self.made_up_tap()).collect();
        BlowerTable {
            name: self.text(),
            kind: self.one_of(&EquipmentKind::ALL),
            motor: self.one_of(&MotorFamily::ALL),
            illustrative: self.once_in(2),
            source: self.text(),
            notes: self.text(),
            cooling: self.maybe(2, |wild| Capacity::from_tons(wild.number(0.5, 25.0))),
            rated_maximum: self.maybe(2, |wild| wild.pressure(0.1, 2.0)),
            basis: self.basis(),
            corrections: self.corrections(),
            calls: (0..self.below(3)).map(|_| (self.call(), self.tap_name())).collect(),
            heating: (0..self.below(3)).map(|_| self.stage()).collect(),
            taps,
        }
    }

    fn tap_name(&mut self) -> String {
        if self.once_in(6) { self.text() } else { self.one_of(&["1", "2", "3"]).to_owned() }
    }

    fn made_up_tap(&mut self) -> Tap {
        let data = if self.once_in(4) {
            TapData::Range { airflow: self.airflow(), from: self.pressure(0.0, 0.4), to: self.pressure(0.4, 1.0) }
        } else {
            TapData::Column(self.rows())
        };
        Tap { name: self.tap_name(), data }
    }

    /// Rows that mostly rise in static and fall in airflow.
    fn rows(&mut self) -> Vec<Row> {
        let count = if self.once_in(60) { 700 } else { self.below(7) };
        let mut rows: Vec<Row> = (0..count).map(|_| self.row()).collect();
        if !self.once_in(5) {
            rows.sort_by(|one, other| one.esp.in_wc().total_cmp(&other.esp.in_wc()));
        }
        rows
    }

    fn row(&mut self) -> Row {
        let esp = self.pressure(0.0, 1.2);
        let cell = match self.below(12) {
            0 => Cell::NotGiven,
            1 => Cell::NotAllowed(self.maybe(2, Self::text)),
            2 => Cell::Airflow(self.airflow(), Some(self.text())),
            3 => Cell::Airflow(self.airflow(), None),
            _ => Cell::Airflow(Airflow::from_cfm((1500.0 - 500.0 * esp.in_wc()).round()), None),
        };
        Row {
            esp,
            cell,
            power: (!self.once_in(3)).then(|| Power::from_watts(self.number(50.0, 900.0))),
            speed: self.once_in(3).then(|| Speed::from_rpm(self.number(300.0, 1200.0))),
        }
    }

    fn part(&mut self) -> PartInTest {
        self.one_of(&[PartInTest::Without, PartInTest::Included])
    }

    fn basis(&mut self) -> Basis {
        let mut basis = Basis {
            filter: self.part(),
            coil: self.one_of(&[CoilInTest::Without, CoilInTest::Dry, CoilInTest::Wet]),
            heater: self.part(),
            return_openings: self.openings(),
            position: self.one_of(&[Position::Unstated, Position::Up, Position::Down, Position::Horizontal]),
            voltage: self.maybe(2, |wild| Voltage::from_volts(wild.number(100.0, 250.0))),
            density: self.maybe(2, |wild| Density::from_lb_ft3(wild.number(0.03, 0.1))),
            ..Basis::default()
        };
        basis.reading_error = basis.density.map(|density| density.lb_ft3() * 100.0);
        basis
    }

    fn corrections(&mut self) -> Corrections {
        let low = |wild: &mut Self| LowVoltage {
            voltage: Voltage::from_volts(wild.number(190.0, 250.0)),
            airflow_factor: wild.number(0.5, 1.2),
        };
        Corrections {
            filter_as_tested: self.printed_data(),
            wet_coil: self.printed_data(),
            heater: self.printed_data(),
            one_side_return: self.printed_data(),
            low_voltage: self.maybe(2, low),
        }
    }

    fn stage(&mut self) -> HeatStage {
        let rise =
            |wild: &mut Self| [wild.number(20.0, 50.0), wild.number(50.0, 90.0)].map(TemperatureRise::from_f).into();
        HeatStage {
            call: self.call(),
            output: HeatRate::from_btuh(self.number(1e4, 1e5)),
            rise: self.maybe(2, rise),
            minimum_airflow: self.maybe(2, Self::airflow),
        }
    }
}
