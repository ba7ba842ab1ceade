//! What the manometer said, where, and in what state the path was.

use crate::model::facts::air::AirConditions;
use crate::model::facts::air_path::{ElementId, PortId};
use crate::model::facts::airflow_read::AirflowRead;
use crate::model::facts::blower::Call;
use crate::units::{HeatRate, Power, Pressure, TemperatureRise, Voltage};

/// Where a difference of static pressure was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ReadAt {
    /// At a port, against the rooms served.
    Port(PortId),
    /// Straight across the machine: total external static as one number.
    Total,
    /// Across one element: what it drops, positive.
    Across(ElementId),
}

/// One or more looks at the same place; they are averaged.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Where.
    pub at: ReadAt,
    /// Each look, with its sign (negative before the blower).
    pub looks: Vec<Pressure>,
}

impl Reading {
    /// Average of the looks, or nothing when there are none.
    pub fn average(&self) -> Option<Pressure> {
        if self.looks.is_empty() {
            return None;
        }
        let total: Pressure = self.looks.iter().copied().sum();
        Some(total / self.looks.len() as f64)
    }

    /// Standard uncertainty of the average from the spread of the looks (zero for a single look).
    pub fn unsteadiness(&self) -> Pressure {
        let (Some(average), true) = (self.average(), self.looks.len() > 1) else {
            return Pressure::ZERO;
        };
        let count = self.looks.len() as f64;
        let squares: f64 = self.looks.iter().map(|look| (*look - average).in_wc().powi(2)).sum();
        Pressure::from_in_wc((squares / (count - 1.0) / count).sqrt())
    }
}

/// The coil while the readings were taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CoilState {
    /// Dry: heating, fan only, or a coil that has not yet wetted.
    #[default]
    Dry,
    /// Wet: cooling that has run long enough for water to leave the drain.
    Wet,
}

/// Readings taken together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadingSet {
    /// What a person calls it ("as found").
    pub name: String,
    /// When it was taken, as typed.
    pub time: String,
    /// Anything else.
    pub note: String,
    /// True where it was taken after the repair: of another path than the one that the readings before it are of.
    pub after_repair: bool,
    /// True where something else of the path was otherwise than in the readings before (a panel off, a zone shut, the bypass open): compared with them, and no part of what they say together.
    pub otherwise: bool,
    /// What the thermostat asked for.
    pub call: Call,
    /// The tap that ran; where nothing is said, the machine's own map from calls to taps decides.
    pub tap: Option<String>,
    /// Pressures.
    pub readings: Vec<Reading>,
    /// State of the coil.
    pub coil: CoilState,
    /// Elements that were out of the path.
    pub parts_out: Vec<ElementId>,
    /// State of the air.
    pub air: AirConditions,
    /// Electric power of the blower, if read.
    pub power: Option<Power>,
    /// Supply voltage, if read.
    pub voltage: Option<Voltage>,
    /// What was read of the heat, in a heating call.
    pub heat: HeatRead,
    /// What was read of the airflow by other means.
    pub airflow: AirflowRead,
    /// A typed plus at the return (or minus at the supply) that a person has confirmed.
    pub signs_confirmed: bool,
}

/// What was read of a heating call's heat: the rise, and what goes in.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HeatRead {
    /// Temperature rise from return to supply, out of sight of the heat exchanger or the elements.
    pub rise: Option<TemperatureRise>,
    /// Heat that goes in: gas by its meter, or what the electric elements take.
    pub input: Option<HeatRate>,
    /// Part of a burner's input that the air gets: one less the flue's loss, by combustion analysis or the rating plate.
    pub efficiency: Option<f64>,
    /// Time of a turn of the gas meter's dial, s.
    pub meter_seconds: Option<f64>,
    /// Gas of a turn, ft³.
    pub meter_dial: Option<f64>,
    /// Heating value of the gas, Btu/ft³.
    pub heating_value: Option<f64>,
    /// Current that the electric elements take, A.
    pub amps: Option<f64>,
    /// How they are supplied.
    pub phase: Phase,
}

/// How electric elements are supplied.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Phase {
    /// By one phase: volts × amps.
    #[default]
    Single,
    /// By three: volts between two of them × amps of one × √3.
    Three,
}

impl Phase {
    /// Watts of a resistance for each volt and ampere.
    pub fn factor(self) -> f64 {
        match self {
            Self::Single => 1.0,
            Self::Three => 3.0_f64.sqrt(),
        }
    }
}

impl HeatRead {
    /// Heat that goes in by the clocked meter: 3,600 / seconds of a turn × gas of a turn × heating value.
    fn clocked(&self) -> Option<HeatRate> {
        let (seconds, dial) = self.meter_seconds.zip(self.meter_dial)?;
        Some(HeatRate::from_btuh(3600.0 / seconds * dial * self.heating_value?))
    }

    /// What electric elements take, as heat: volts × amps, of three phases times √3.
    fn electric(&self, volts: Option<Voltage>) -> Option<HeatRate> {
        let watts = volts?.volts() * self.amps? * self.phase.factor();
        Some(Power::from_watts(watts).as_heat())
    }

    /// True where nothing was read.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl ReadingSet {
    /// Heat that goes in: as typed, else by the clocked meter, else by what electric elements take.
    pub fn heat_input(&self) -> Option<HeatRate> {
        self.heat.input.or_else(|| self.heat.clocked()).or_else(|| self.heat.electric(self.voltage))
    }

    /// The same as a start for the next readings: without its name, and without what is of its own air alone and has to be read again (grilles, plate, rise, watts).
    #[must_use]
    pub fn as_a_start(&self) -> Self {
        Self {
            name: String::new(),
            time: String::new(),
            note: String::new(),
            power: None,
            heat: HeatRead { rise: None, ..self.heat },
            airflow: AirflowRead::default(),
            ..self.clone()
        }
    }

    /// True where it has the very readings of an earlier one, whatever is said to be different: nobody has typed what was read.
    pub fn repeats(&self, earlier: &Self) -> bool {
        let of_own_air = |set: &Self| (set.power, set.heat.rise, set.airflow.clone());
        let is_a_start = of_own_air(self) == (None, None, AirflowRead::default());
        let is_same = is_a_start || of_own_air(self) == of_own_air(earlier);
        is_same && !self.readings.is_empty() && self.readings == earlier.readings
    }

    /// Average of what was read across an element; nothing where it is below zero, for no part gives pressure to the air.
    pub fn across(&self, id: ElementId) -> Option<Pressure> {
        self.at(ReadAt::Across(id))?.average().filter(|drop| *drop >= Pressure::ZERO)
    }

    /// Average reading at a place.
    pub fn at(&self, at: ReadAt) -> Option<&Reading> {
        self.readings.iter().find(|reading| reading.at == at)
    }
}

/// How sentences name a reading set.
pub fn name_of_set(index: usize, name: &str) -> String {
    let number = index + 1;
    if name.is_empty() {
        return format!("Set {number}");
    }
    format!("Set {number} ({name})")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 230 V × 43.5 A = 10,005 W, by 3.412142 Btu/h a watt 34,138 Btu/h; three phases take √3 of that. A typed input stands before both.
    #[test]
    fn electric_heat_is_volts_times_amps() {
        let mut set = ReadingSet {
            voltage: Some(Voltage::from_volts(230.0)),
            heat: HeatRead { amps: Some(43.5), ..HeatRead::default() },
            ..ReadingSet::default()
        };
        let btuh = |set: &ReadingSet| set.heat_input().unwrap().btuh();
        assert!((btuh(&set) - 34_138.5).abs() < 1.0, "{}", btuh(&set));
        set.heat.phase = Phase::Three;
        assert!((btuh(&set) - 34_138.5 * 1.732_05).abs() < 1.0, "{}", btuh(&set));
        set.heat.input = Some(HeatRate::from_btuh(30_000.0));
        assert!((btuh(&set) - 30_000.0).abs() < 1e-9);
        let without_volts = ReadingSet { voltage: None, heat: HeatRead { input: None, ..set.heat }, ..set };
        assert_eq!(without_volts.heat_input(), None);
    }

    /// A cubic foot in 45 s is 80 ft³ an hour; of 1,000 Btu each, 80,000 Btu/h.
    #[test]
    fn a_clocked_meter_is_3600_over_its_seconds() {
        let clocked = HeatRead {
            meter_seconds: Some(45.0),
            meter_dial: Some(1.0),
            heating_value: Some(1_000.0),
            ..HeatRead::default()
        };
        let set = ReadingSet { heat: clocked, ..ReadingSet::default() };
        assert!((set.heat_input().unwrap().btuh() - 80_000.0).abs() < 1e-9);
    }

    #[test]
    fn looks_are_averaged_and_their_spread_kept() {
        let looks = [0.50, 0.52, 0.54].map(Pressure::from_in_wc).to_vec();
        let reading = Reading { at: ReadAt::Total, looks };
        assert!((reading.average().unwrap().in_wc() - 0.52).abs() < 1e-12);
        // Standard deviation of the mean: 0.02 / √3.
        assert!((reading.unsteadiness().in_wc() - 0.02 / 3.0_f64.sqrt()).abs() < 1e-12);
    }
}
