//! The numbers that every job has a place for: each declared once, with what undo and the report call it and where it stands.
//!
//! Fields, edits, the check of a job and the check of a file iterate [`JobNumber::ALL`].

use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, OutOfRange, Range};
use crate::model::facts::numbers::job::{CAPACITY, HIGHEST_STATIC};
use crate::model::facts::readings::{ReadingSet, name_of_set};
use crate::units::quantity::Quantity;
use crate::units::{Altitude, Barometer, Capacity, Length, Power, Pressure, Temperature, UnitSystem, Voltage};

/// A number of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum JobNumber {
    /// Height of the house.
    Altitude,
    /// Pressure read at the place, if it was.
    StationPressure,
    /// Temperature of the return air.
    Temperature,
    /// Relative humidity of the return air.
    Humidity,
    /// Blower's watts, if read.
    Power,
    /// Supply voltage, if read.
    Voltage,
    /// Capacity of the outdoor unit, where it differs from the table's nominal one.
    OutdoorUnit,
    /// Total effective length of the return, if stated.
    ReturnLength,
    /// Total effective length of the supply, if stated.
    SupplyLength,
    /// Static that the system was designed for, if stated.
    DesignStatic,
    /// Accepted band about the target.
    AcceptBand,
    /// Most that the return should take.
    ReturnDrop,
    /// Most that the supply side of a furnace should take.
    FurnaceSupplyDrop,
    /// Total external static under which something is open or missing.
    LeastStatic,
    /// Electric power for each cfm.
    WattsPerCfm,
    /// Manometer's error as a share of the reading.
    ManometerFraction,
    /// Manometer's least error.
    ManometerFloor,
    /// Error of each port.
    PortOffset,
    /// Error of the table against this machine.
    TableFraction,
    /// Error of a path's exponent.
    ExponentError,
}

/// What is declared of a number of a job.
#[derive(Clone, Copy, Debug)]
struct Declared {
    number: Number,
    /// What undo calls it.
    undo: &'static str,
    /// What the report calls it.
    report: &'static str,
    stands: Stands,
}

/// Where a number stands.
#[derive(Clone, Copy, Debug)]
enum Stands {
    /// In every reading set.
    InSet(Slot<ReadingSet>),
    /// In the job, in a part of its file that sentences name.
    InJob(&'static str, Slot<Job>),
}

/// How a number is read and written.
#[derive(Debug)]
enum Slot<T: 'static> {
    /// It is always there.
    Always(fn(&T) -> f64, fn(&mut T, f64)),
    /// It may be left out.
    Maybe(fn(&T) -> Option<f64>, fn(&mut T, Option<f64>)),
}

impl<T> Clone for Slot<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Slot<T> {}

impl<T> Slot<T> {
    fn of(self, holder: &T) -> Option<f64> {
        match self {
            Self::Always(of, _) => Some(of(holder)),
            Self::Maybe(of, _) => of(holder),
        }
    }

    /// True when the value was put; nothing cannot be put where a number is always there.
    fn put(self, holder: &mut T, value: Option<f64>) -> bool {
        match (self, value) {
            (Self::Always(_, put), Some(value)) => put(holder, value),
            (Self::Always(..), None) => return false,
            (Self::Maybe(_, put), value) => put(holder, value),
        }
        true
    }
}

impl JobNumber {
    /// Every one, in the order of a job's file.
    pub const ALL: [Self; 20] = [
        Self::OutdoorUnit,
        Self::Altitude,
        Self::Temperature,
        Self::Humidity,
        Self::StationPressure,
        Self::Voltage,
        Self::Power,
        Self::ReturnLength,
        Self::SupplyLength,
        Self::DesignStatic,
        Self::AcceptBand,
        Self::ReturnDrop,
        Self::FurnaceSupplyDrop,
        Self::LeastStatic,
        Self::WattsPerCfm,
        Self::ManometerFraction,
        Self::ManometerFloor,
        Self::PortOffset,
        Self::TableFraction,
        Self::ExponentError,
    ];

    /// A side's total effective length.
    pub const fn of_length(side: PathSide) -> Self {
        match side {
            PathSide::Return => Self::ReturnLength,
            PathSide::Supply => Self::SupplyLength,
        }
    }

    /// Its declaration.
    pub fn number(self) -> &'static Number {
        &self.declared().number
    }

    /// What undo calls it.
    pub fn undo(self) -> &'static str {
        self.declared().undo
    }

    /// What the report calls it.
    pub fn report(self) -> &'static str {
        self.declared().report
    }

    /// Its value in a job, by the first reading set where it stands in one.
    pub fn of(self, job: &Job) -> Option<f64> {
        match self.declared().stands {
            Stands::InSet(slot) => slot.of(job.set()),
            Stands::InJob(_, slot) => slot.of(job),
        }
    }

    /// Puts a value, or takes it away.
    ///
    /// # Errors
    /// A sentence where it cannot be left out; the job is then unchanged.
    pub fn put(self, job: &mut Job, value: Option<f64>) -> Result<(), String> {
        let put = match self.declared().stands {
            Stands::InSet(slot) => job.sets.first_mut().is_none_or(|set| slot.put(set, value)),
            Stands::InJob(_, slot) => slot.put(job, value),
        };
        if put { Ok(()) } else { Err(self.number().nothing_typed(UnitSystem::InchPound)) }
    }

    /// The value of a typed text; nothing typed takes it away where it may be left out.
    ///
    /// # Errors
    /// See [`Number::typed`].
    pub fn typed(self, typed: &str, units: UnitSystem) -> Result<Option<f64>, String> {
        let may_be_left_out = match self.declared().stands {
            Stands::InSet(slot) => matches!(slot, Slot::Maybe(..)),
            Stands::InJob(_, slot) => matches!(slot, Slot::Maybe(..)),
        };
        if may_be_left_out && typed.trim().is_empty() {
            return Ok(None);
        }
        self.number().typed(typed, units).map(Some)
    }

    /// Refuses the first value that a file cannot hold, with the place where it stands: "Set 1 (As found)".
    ///
    /// # Errors
    /// Place and refusal.
    pub fn check_held(self, job: &Job) -> Result<(), (String, OutOfRange)> {
        let held = |value: Option<f64>| value.map_or(Ok(()), |value| self.number().check_held(value).map(drop));
        match self.declared().stands {
            Stands::InSet(slot) => job.sets.iter().enumerate().try_for_each(|(index, set)| {
                held(slot.of(set)).map_err(|refused| (name_of_set(index, &set.name), refused))
            }),
            Stands::InJob(place, slot) => held(slot.of(job)).map_err(|refused| (place.to_owned(), refused)),
        }
    }
}

/// A share of something that instruments and tables are off by.
const fn error_share(name: &'static str, refusal: &'static str, first: f64) -> Number {
    Number {
        refusal: Some(refusal),
        first,
        ..Number::new(name, Quantity::Share, Range::Between(0.0, 1.0), "it is a part of the whole")
    }
}

/// A pressure that instruments are off by.
const fn error_pressure(name: &'static str, refusal: &'static str, first: f64) -> Number {
    Number {
        refusal: Some(refusal),
        first,
        ..Number::new(name, Quantity::Pressure, Range::Between(0.0, 1.0), "no reading would be left")
    }
}

const fn length(name: &'static str, file: &'static str, refusal: &'static str) -> Number {
    Number {
        file,
        refusal: Some(refusal),
        first: 120.0,
        ..Number::new(
            name,
            Quantity::Length,
            Range::AboveTo(0.0, 2000.0),
            "no house has a longer run (common practice, no source)",
        )
    }
}

const fn limit(name: &'static str, file: &'static str, refusal: &'static str, range: Range, first: f64) -> Number {
    Number { file, refusal: Some(refusal), first, ..Number::new(name, Quantity::Pressure, range, "it is a drop") }
}

impl JobNumber {
    #[expect(clippy::too_many_lines, reason = "a table, one row each")]
    const fn declared(self) -> &'static Declared {
        use Slot::{Always, Maybe};
        use Stands::{InJob, InSet};
        match self {
            Self::Altitude => {
                const {
                    &Declared {
                        number: Number {
                            file: "altitude_ft",
                            refusal: Some("An altitude of {} cannot be; houses stand"),
                            ..Number::new(
                                "Altitude",
                                Quantity::Altitude,
                                Range::Between(-1500.0, 20_000.0),
                                "below the Dead Sea's shore nobody lives, and the standard atmosphere's first layer ends at 36,089 ft",
                            )
                        },
                        undo: "altitude",
                        report: "altitude",
                        stands: InSet(Always(
                            |set| set.air.altitude.ft(),
                            |set, ft| set.air.altitude = Altitude::from_ft(ft),
                        )),
                    }
                }
            }
            Self::StationPressure => {
                const {
                    &Declared {
                        number: Number {
                            file: "station_pressure_in_hg",
                            refusal: Some("A station pressure of {} cannot be; it lies"),
                            first: 101.325,
                            ..Number::new(
                                "Barometer",
                                Quantity::Barometer,
                                // The standard atmosphere at the ends of the altitude, and what weather moves it by: a test holds that.
                                Range::Between(44.234_938_014_952_89, 112.286_295_103_677_4),
                                "weather makes no other where people live",
                            )
                        },
                        undo: "station pressure",
                        report: "station_pressure",
                        stands: InSet(Maybe(
                            |set| set.air.station_pressure.map(Barometer::kpa),
                            |set, kpa| set.air.station_pressure = kpa.map(Barometer::from_kpa),
                        )),
                    }
                }
            }
            Self::Temperature => {
                const {
                    &Declared {
                        number: Number {
                            file: "temperature_f",
                            refusal: Some("Return air of {} cannot be; it lies"),
                            first: 70.0,
                            ..Number::new(
                                "Return air",
                                Quantity::Temperature,
                                Range::Between(-40.0, 150.0),
                                "from a frozen house to a test oven (common practice, no source)",
                            )
                        },
                        undo: "temperature",
                        report: "temperature",
                        stands: InSet(Always(
                            |set| set.air.temperature.f(),
                            |set, f| set.air.temperature = Temperature::from_f(f),
                        )),
                    }
                }
            }
            Self::Humidity => {
                const {
                    &Declared {
                        number: Number {
                            file: "humidity_percent",
                            refusal: Some("A relative humidity of {} cannot be; it lies"),
                            first: 0.5,
                            ..Number::new(
                                "Humidity",
                                Quantity::Share,
                                Range::Between(0.0, 1.0),
                                "air holds no more water",
                            )
                        },
                        undo: "humidity",
                        report: "humidity",
                        stands: InSet(Always(|set| set.air.humidity, |set, share| set.air.humidity = share)),
                    }
                }
            }
            Self::Power => {
                const {
                    &Declared {
                        number: Number {
                            file: "power_watts",
                            refusal: Some("A blower of {} cannot be; it lies"),
                            held: Some(Range::Above(0.0)),
                            first: 400.0,
                            ..Number::new(
                                "Blower watts",
                                Quantity::Power,
                                Range::Between(5.0, 10_000.0),
                                "no blower of a house takes less or more",
                            )
                        },
                        undo: "watts",
                        report: "power",
                        stands: InSet(Maybe(
                            |set| set.power.map(Power::watts),
                            |set, watts| set.power = watts.map(Power::from_watts),
                        )),
                    }
                }
            }
            Self::Voltage => {
                const {
                    &Declared {
                        number: Number {
                            file: "voltage_volts",
                            refusal: Some("A supply of {} cannot be; it lies"),
                            held: Some(Range::Above(0.0)),
                            first: 230.0,
                            ..Number::new(
                                "Voltage",
                                Quantity::Voltage,
                                Range::Between(90.0, 500.0),
                                "no machine of a house is supplied otherwise",
                            )
                        },
                        undo: "voltage",
                        report: "voltage",
                        stands: InSet(Maybe(
                            |set| set.voltage.map(Voltage::volts),
                            |set, volts| set.voltage = volts.map(Voltage::from_volts),
                        )),
                    }
                }
            }
            Self::OutdoorUnit => {
                const {
                    &Declared {
                        number: Number { file: "outdoor_unit_tons", ..CAPACITY },
                        undo: "outdoor unit",
                        report: "capacity",
                        stands: InJob(
                            "Outdoor unit",
                            Maybe(
                                |job| job.outdoor_unit.map(Capacity::tons),
                                |job, tons| job.outdoor_unit = tons.map(Capacity::from_tons),
                            ),
                        ),
                    }
                }
            }
            Self::ReturnLength => {
                const {
                    &Declared {
                        number: length(
                            "Return length",
                            "return_length_ft",
                            "A return length of {} cannot be; a total effective length is",
                        ),
                        undo: "return length",
                        report: "return_length",
                        stands: InJob(
                            "Ducts",
                            Maybe(
                                |job| job.ducts.return_length.map(Length::ft),
                                |job, ft| job.ducts.return_length = ft.map(Length::from_ft),
                            ),
                        ),
                    }
                }
            }
            Self::SupplyLength => {
                const {
                    &Declared {
                        number: length(
                            "Supply length",
                            "supply_length_ft",
                            "A supply length of {} cannot be; a total effective length is",
                        ),
                        undo: "supply length",
                        report: "supply_length",
                        stands: InJob(
                            "Ducts",
                            Maybe(
                                |job| job.ducts.supply_length.map(Length::ft),
                                |job, ft| job.ducts.supply_length = ft.map(Length::from_ft),
                            ),
                        ),
                    }
                }
            }
            Self::DesignStatic => {
                const {
                    &Declared {
                        number: Number {
                            file: "design_static_in_wc",
                            refusal: Some("A design static of {} cannot be; it lies"),
                            first: 0.5,
                            ..Number::new(
                                "Design static",
                                Quantity::Pressure,
                                Range::Between(0.05, HIGHEST_STATIC),
                                "no system of a house is laid out for less or more (common practice, no source)",
                            )
                        },
                        undo: "design static",
                        report: "design_static",
                        stands: InJob(
                            "Ducts",
                            Maybe(
                                |job| job.ducts.design_static.map(Pressure::in_wc),
                                |job, in_wc| job.ducts.design_static = in_wc.map(Pressure::from_in_wc),
                            ),
                        ),
                    }
                }
            }
            Self::AcceptBand => {
                const {
                    &Declared {
                        number: Number {
                            file: "accept_band_fraction",
                            refusal: Some("An accepted band of ±{} cannot be; it lies"),
                            held: Some(Range::Between(0.0, 1.0)),
                            first: 0.10,
                            ..Number::new(
                                "Accepted ±",
                                Quantity::Share,
                                Range::Between(0.01, 0.5),
                                "less no reading tells apart, and more accepts everything",
                            )
                        },
                        undo: "accepted band",
                        report: "accept_band",
                        stands: InJob(
                            "Limits",
                            Always(|job| job.limits.accept_band, |job, share| job.limits.accept_band = share),
                        ),
                    }
                }
            }
            Self::ReturnDrop => {
                const {
                    &Declared {
                        number: limit(
                            "Limit of the return",
                            "return_drop_in_wc",
                            "A limit of the return of {} cannot be; it has to be",
                            Range::Above(0.0),
                            0.15,
                        ),
                        undo: "limit of the return",
                        report: "return_drop",
                        stands: InJob(
                            "Limits",
                            Always(
                                |job| job.limits.return_drop.in_wc(),
                                |job, in_wc| job.limits.return_drop = Pressure::from_in_wc(in_wc),
                            ),
                        ),
                    }
                }
            }
            Self::FurnaceSupplyDrop => {
                const {
                    &Declared {
                        number: limit(
                            "Limit of a furnace's supply",
                            "furnace_supply_drop_in_wc",
                            "A limit of a furnace's supply of {} cannot be; it has to be",
                            Range::Above(0.0),
                            0.60,
                        ),
                        undo: "limit of a furnace's supply",
                        report: "furnace_supply_drop",
                        stands: InJob(
                            "Limits",
                            Always(
                                |job| job.limits.furnace_supply_drop.in_wc(),
                                |job, in_wc| job.limits.furnace_supply_drop = Pressure::from_in_wc(in_wc),
                            ),
                        ),
                    }
                }
            }
            Self::LeastStatic => {
                const {
                    &Declared {
                        number: limit(
                            "Least static",
                            "least_static_in_wc",
                            "A least static of {} cannot be; it has to be",
                            Range::AtLeast(0.0),
                            0.20,
                        ),
                        undo: "least static",
                        report: "least_static",
                        stands: InJob(
                            "Limits",
                            Always(
                                |job| job.limits.least_static.in_wc(),
                                |job, in_wc| job.limits.least_static = Pressure::from_in_wc(in_wc),
                            ),
                        ),
                    }
                }
            }
            Self::WattsPerCfm => {
                const {
                    &Declared {
                        number: Number {
                            file: "watts_per_cfm",
                            refusal: Some("A limit of the blower of {} cannot be; it has to be"),
                            first: 0.58,
                            ..Number::new(
                                "Limit of the blower",
                                Quantity::PowerPerAirflow,
                                Range::Above(0.0),
                                "air takes some power",
                            )
                        },
                        undo: "limit of the blower",
                        report: "watts_per_cfm",
                        stands: InJob(
                            "Limits",
                            Always(|job| job.limits.watts_per_cfm, |job, watts| job.limits.watts_per_cfm = watts),
                        ),
                    }
                }
            }
            Self::ManometerFraction => {
                const {
                    &Declared {
                        number: Number {
                            file: "manometer_fraction",
                            ..error_share("Manometer's error", "A manometer's error of {} cannot be; it lies", 0.01)
                        },
                        undo: "manometer's error",
                        report: "manometer_fraction",
                        stands: InJob(
                            "Accuracy",
                            Always(
                                |job| job.accuracy.manometer_fraction,
                                |job, share| job.accuracy.manometer_fraction = share,
                            ),
                        ),
                    }
                }
            }
            Self::ManometerFloor => {
                const {
                    &Declared {
                        number: Number {
                            file: "manometer_floor_in_wc",
                            ..error_pressure(
                                "Manometer's least error",
                                "A manometer's least error of {} cannot be; it lies",
                                Pressure::from_pa(0.2).in_wc(),
                            )
                        },
                        undo: "manometer's least error",
                        report: "manometer_floor",
                        stands: InJob(
                            "Accuracy",
                            Always(
                                |job| job.accuracy.manometer_floor.in_wc(),
                                |job, in_wc| job.accuracy.manometer_floor = Pressure::from_in_wc(in_wc),
                            ),
                        ),
                    }
                }
            }
            Self::PortOffset => {
                const {
                    &Declared {
                        number: Number {
                            file: "port_offset_in_wc",
                            ..error_pressure("Port's error", "A port's error of {} cannot be; it lies", 0.01)
                        },
                        undo: "port's error",
                        report: "port_offset",
                        stands: InJob(
                            "Accuracy",
                            Always(
                                |job| job.accuracy.port_offset.in_wc(),
                                |job, in_wc| job.accuracy.port_offset = Pressure::from_in_wc(in_wc),
                            ),
                        ),
                    }
                }
            }
            Self::TableFraction => {
                const {
                    &Declared {
                        number: Number {
                            file: "table_fraction",
                            ..error_share("Table's error", "A table's error of {} cannot be; it lies", 0.05)
                        },
                        undo: "table's error",
                        report: "table_fraction",
                        stands: InJob(
                            "Accuracy",
                            Always(|job| job.accuracy.table_fraction, |job, share| job.accuracy.table_fraction = share),
                        ),
                    }
                }
            }
            Self::ExponentError => {
                const {
                    &Declared {
                        number: Number {
                            file: "exponent",
                            refusal: Some("An exponent's error of {} cannot be; it lies"),
                            first: 0.2,
                            ..Number::new(
                                "Exponent's error",
                                Quantity::Ratio,
                                Range::Between(0.0, 1.0),
                                "exponents lie from 1 to 2.2",
                            )
                        },
                        undo: "exponent's error",
                        report: "exponent",
                        stands: InJob(
                            "Accuracy",
                            Always(|job| job.accuracy.exponent, |job, error| job.accuracy.exponent = error),
                        ),
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air::{WEATHER_SWING, standard_pressure};

    #[test]
    fn the_barometer_reads_what_weather_makes_where_houses_stand() {
        let (altitude, barometer) = (JobNumber::Altitude.number().range, JobNumber::StationPressure.number().range);
        let at = |feet: Option<f64>, swing| standard_pressure(Altitude::from_ft(feet.unwrap())).kpa() * (1.0 + swing);
        assert!((at(altitude.high(), -WEATHER_SWING) - barometer.low().unwrap()).abs() < 1e-9);
        assert!((at(altitude.low(), WEATHER_SWING) - barometer.high().unwrap()).abs() < 1e-9);
    }

    #[test]
    fn every_number_comes_back_as_it_was_put_and_a_new_job_has_its_first() {
        for number in JobNumber::ALL {
            let mut job = Job::default();
            let declared = number.number();
            assert!(!declared.file.is_empty() && declared.check(declared.first).is_ok(), "{number:?}");
            let stood = number.of(&job);
            assert!(
                stood.is_none_or(|value| (value - declared.first).abs() < 1e-15),
                "{number:?} is {stood:?} at first"
            );
            let other = declared.first + 0.01;
            number.put(&mut job, Some(other)).unwrap();
            assert_eq!(number.of(&job), Some(other), "{number:?}");
            assert_eq!(number.put(&mut job, None).is_ok(), stood.is_none(), "{number:?} may be left out or not");
        }
    }

    #[test]
    fn whoever_reads_metres_is_told_metres() {
        assert_eq!(
            JobNumber::Altitude.typed("40000", UnitSystem::SiLitres).unwrap_err(),
            "An altitude of 40,000 m cannot be; houses stand between −457 and 6,096 m"
        );
        assert_eq!(JobNumber::Voltage.typed(" ", UnitSystem::SiLitres), Ok(None));
    }
}
