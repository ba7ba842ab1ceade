//! The declarations of a job's numbers, one row each.

mod air;
mod costs;
mod heard;
mod heat;
mod plate;
mod reading;

use crate::model::facts::job::Job;
use crate::model::facts::job_number::Slot::{Always, Maybe};
use crate::model::facts::job_number::Stands::InSet;
use crate::model::facts::job_number::{Declared, Slot, Stands};
use crate::model::facts::number::{Number, Range};
use crate::model::facts::numbers::job::{BLOWER_POWER, CAPACITY, HIGHEST_STATIC};
use crate::units::quantity::Quantity;
use crate::units::{Capacity, Length, Power, Pressure, Voltage};

/// Where most limits of the trade come from.
const PRACTICE: &str = "Common practice, no source";
/// Where the limits of power come from.
const POWER_LIMITS: &str = "Title 24 Part 6 §150.0(m)13, recalled";
/// Where the limits of a manometer come from.
const MANOMETER: &str = "CEC Residential Appendices RA3.7.2.1";

/// A share of something that instruments and tables are off by.
const fn error_share(name: &'static str, refusal: &'static str, first: f64, source: &'static str) -> Number {
    Number {
        source,
        refusal: Some(refusal),
        first,
        // It is a part of the whole.
        ..Number::new(name, Quantity::Share, Range::Between(0.0, 1.0))
    }
}

/// A pressure that instruments are off by.
const fn error_pressure(name: &'static str, refusal: &'static str, first: f64, source: &'static str) -> Number {
    Number {
        source,
        refusal: Some(refusal),
        first,
        // No reading would be left.
        ..Number::new(name, Quantity::Pressure, Range::Between(0.0, 1.0))
    }
}

/// Least length that is taken, ft: nothing shorter is a duct, and static over nothing has no rate.
const LEAST_LENGTH: f64 = 0.01;

const fn length(name: &'static str, file: &'static str, refusal: &'static str) -> Number {
    Number {
        file,
        refusal: Some(refusal),
        first: 120.0,
        // No house has a longer run (common practice, no source).
        ..Number::new(name, Quantity::Length, Range::AboveTo(LEAST_LENGTH, 2000.0))
    }
}

const fn limit(name: &'static str, file: &'static str, refusal: &'static str, range: Range, first: f64) -> Number {
    // It is a drop.
    Number { file, refusal: Some(refusal), first, source: PRACTICE, ..Number::new(name, Quantity::Pressure, range) }
}

/// A number that stands in a part of the job.
const fn in_job(
    part: &'static str,
    number: Number,
    (undo, report): (&'static str, &'static str),
    slot: Slot<Job>,
) -> Declared {
    Declared { number, undo, report, stands: Stands::InJob(part, slot) }
}

/// Each number of a job with its declaration.
macro_rules! job_numbers {
    ($($(#[$doc:meta])+ $number:ident = $declared:expr;)+) => {
        /// A number of a job.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum JobNumber {
            $($(#[$doc])+ $number),+
        }

        impl JobNumber {
            /// Every one, in the order of a job's file.
            pub const ALL: [Self; [$(stringify!($number)),+].len()] = [$(Self::$number),+];

            pub(super) const fn declared(self) -> &'static Declared {
                match self { $(Self::$number => const { &$declared }),+ }
            }
        }
    };
}

// In the order of a job's file.
job_numbers! {
    /// Capacity of the outdoor unit, where it differs from the table's nominal one.
    OutdoorUnit = in_job(
        "Outdoor unit",
        Number { file: "outdoor_unit_tons", ..CAPACITY },
        ("outdoor unit", "capacity"),
        Maybe(
            |job| job.outdoor_unit.map(Capacity::tons),
            |job, tons| job.outdoor_unit = tons.map(Capacity::from_tons),
        ),
    );
    /// Height of the house.
    Altitude = air::ALTITUDE;
    /// Temperature of the return air.
    Temperature = air::TEMPERATURE;
    /// Relative humidity of the return air.
    Humidity = air::HUMIDITY;
    /// Pressure read at the place, if it was.
    StationPressure = air::STATION_PRESSURE;
    /// Supply voltage, if read.
    Voltage = Declared {
        number: Number {
            file: "voltage_volts",
            refusal: Some("A supply of {} cannot be; it lies"),
            held: Some(Range::Above(0.0)),
            first: 230.0,
            // No machine of a house is supplied otherwise.
            ..Number::new("Voltage", Quantity::Voltage, Range::Between(90.0, 500.0))
        },
        undo: "voltage",
        report: "voltage",
        stands: InSet(Maybe(
            |set| set.voltage.map(Voltage::volts),
            |set, volts| set.voltage = volts.map(Voltage::from_volts),
        )),
    };
    /// Blower's watts, if read.
    Power = Declared {
        number: BLOWER_POWER,
        undo: "watts",
        report: "power",
        stands: InSet(Maybe(
            |set| set.power.map(Power::watts),
            |set, watts| set.power = watts.map(Power::from_watts),
        )),
    };
    /// Temperature rise, if read.
    MeasuredRise = heat::RISE;
    /// Heat that goes in, if read.
    HeatInput = heat::INPUT;
    /// Part of a burner's input that the air gets, if known.
    BurnerEfficiency = heat::EFFICIENCY;
    /// Time of a turn of the gas meter's dial, if clocked.
    MeterSeconds = heat::METER_SECONDS;
    /// Gas of that turn.
    MeterDial = heat::METER_DIAL;
    /// Heating value of the gas, if known.
    HeatingValue = heat::HEATING_VALUE;
    /// Current that electric elements take, if read.
    HeaterAmps = heat::AMPS;
    /// Airflow read off the scale of a plate in the filter's slot, if it was.
    PlateAirflow = plate::AIRFLOW;
    /// Airflow at 1 in. w.c. by the plate's law, if known.
    PlateConstant = plate::AT_ONE;
    /// Exponent of that law.
    PlateExponent = plate::EXPONENT;
    /// Pressure difference read at the plate, if it was.
    PlateDrop = plate::DROP;
    /// Static in the supply plenum without the plate, if read.
    UsualStatic = plate::USUAL_STATIC;
    /// The same with the plate in.
    PlateStatic = plate::PLATE_STATIC;
    /// Total effective length of the return, if stated.
    ReturnLength = in_job(
        "Ducts",
        length(
            "Return length",
            "return_length_ft",
            "A return length of {} cannot be; a total effective length is",
        ),
        ("return length", "return_length"),
        Maybe(
            |job| job.ducts.return_length.map(Length::ft),
            |job, ft| job.ducts.return_length = ft.map(Length::from_ft),
        ),
    );
    /// Total effective length of the supply, if stated.
    SupplyLength = in_job(
        "Ducts",
        length(
            "Supply length",
            "supply_length_ft",
            "A supply length of {} cannot be; a total effective length is",
        ),
        ("supply length", "supply_length"),
        Maybe(
            |job| job.ducts.supply_length.map(Length::ft),
            |job, ft| job.ducts.supply_length = ft.map(Length::from_ft),
        ),
    );
    /// Hours that the blower runs in a year, if stated.
    FanHours = costs::FAN_HOURS;
    /// Price of a kilowatt-hour, if stated.
    EnergyPrice = costs::ENERGY_PRICE;
    /// Tax on prices, if stated.
    Tax = costs::TAX;
    /// Tax on labour, if it is another one.
    LabourTax = costs::LABOUR_TAX;
    /// Days for which prices hold, if stated.
    ValidDays = costs::VALID_DAYS;
    /// Static that the system was designed for, if stated.
    DesignStatic = in_job(
        "Ducts",
        Number {
            file: "design_static_in_wc",
            refusal: Some("A design static of {} cannot be; it lies"),
            first: 0.5,
            // No system of a house is laid out for less or more (common practice, no source).
            ..Number::new("Design static", Quantity::Pressure, Range::Between(0.05, HIGHEST_STATIC))
        },
        ("design static", "design_static"),
        Maybe(
            |job| job.ducts.design_static.map(Pressure::in_wc),
            |job, in_wc| job.ducts.design_static = in_wc.map(Pressure::from_in_wc),
        ),
    );
    /// Accepted band about the target.
    AcceptBand = in_job(
        "Limits",
        Number {
            file: "accept_band_fraction",
            refusal: Some("An accepted band of ±{} cannot be; it lies"),
            held: Some(Range::Between(0.0, 1.0)),
            first: 0.10,
            source: "Common practice; ANSI/RESNET/ACCA 310 grade I accepts ±15 %, recalled",
            // Less no reading tells apart, and more accepts everything.
            ..Number::new("Accepted ±", Quantity::Share, Range::Between(0.01, 0.5))
        },
        ("accepted band", "accept_band"),
        Always(|job| job.limits.accept_band, |job, share| job.limits.accept_band = share),
    );
    /// Difference from the target within which a commissioned airflow passes.
    CommissionedAirflow = in_job(
        "Limits",
        Number {
            file: "commissioned_airflow_fraction",
            refusal: Some("A commissioned airflow within ±{} cannot be; it lies"),
            first: 0.15,
            source: "ANSI/RESNET/ACCA 310-2020, grade I, recalled",
            // Less no reading tells apart, and more accepts everything.
            ..Number::new("Commissioned airflow ±", Quantity::Share, Range::Between(0.01, 0.5))
        },
        ("limit of a commissioned airflow", "commissioned_airflow"),
        Always(|job| job.limits.commissioned_airflow, |job, share| job.limits.commissioned_airflow = share),
    );
    /// Most that the return should take.
    ReturnDrop = in_job(
        "Limits",
        limit(
            "Limit of the return",
            "return_drop_in_wc",
            "A limit of the return of {} cannot be; it has to be",
            Range::Above(0.0),
            0.15,
        ),
        ("limit of the return", "return_drop"),
        Always(
            |job| job.limits.return_drop.in_wc(),
            |job, in_wc| job.limits.return_drop = Pressure::from_in_wc(in_wc),
        ),
    );
    /// What a filter may take besides.
    FilterDrop = in_job(
        "Limits",
        limit(
            "Filter besides",
            "filter_drop_in_wc",
            "A filter's limit of {} cannot be; it has to be",
            Range::AtLeast(0.0),
            0.20,
        ),
        ("filter's limit", "filter_drop"),
        Always(
            |job| job.limits.filter_drop.in_wc(),
            |job, in_wc| job.limits.filter_drop = Pressure::from_in_wc(in_wc),
        ),
    );
    /// What a coil before the blower may take besides.
    CoilDrop = in_job(
        "Limits",
        limit(
            "Wet coil besides",
            "coil_drop_in_wc",
            "A coil's limit of {} cannot be; it has to be",
            Range::AtLeast(0.0),
            0.30,
        ),
        ("coil's limit", "coil_drop"),
        Always(
            |job| job.limits.coil_drop.in_wc(),
            |job, in_wc| job.limits.coil_drop = Pressure::from_in_wc(in_wc),
        ),
    );
    /// Most that the supply side of a furnace should take.
    FurnaceSupplyDrop = in_job(
        "Limits",
        Number {
            // Read from files and held against nothing: the supply's limit follows from the rated maximum.
            source: "",
            ..limit(
                "Limit of a furnace's supply",
                "furnace_supply_drop_in_wc",
                "A limit of a furnace's supply of {} cannot be; it has to be",
                Range::Above(0.0),
                0.60,
            )
        },
        ("limit of a furnace's supply", "furnace_supply_drop"),
        Always(
            |job| job.limits.furnace_supply_drop.in_wc(),
            |job, in_wc| job.limits.furnace_supply_drop = Pressure::from_in_wc(in_wc),
        ),
    );
    /// Total external static under which something is open or missing.
    LeastStatic = in_job(
        "Limits",
        limit(
            "Least static",
            "least_static_in_wc",
            "A least static of {} cannot be; it has to be",
            Range::AtLeast(0.0),
            0.20,
        ),
        ("least static", "least_static"),
        Always(
            |job| job.limits.least_static.in_wc(),
            |job, in_wc| job.limits.least_static = Pressure::from_in_wc(in_wc),
        ),
    );
    /// The same as a share of the design static.
    LeastOfDesign = in_job(
        "Limits",
        Number {
            file: "least_of_design",
            refusal: Some("A least share of the design static of {} cannot be; it lies"),
            first: 0.5,
            source: PRACTICE,
            // All of it would call every system too open.
            ..Number::new("Least of design static", Quantity::Share, Range::Between(0.0, 1.0))
        },
        ("least of design static", "least_of_design"),
        Always(|job| job.limits.least_of_design, |job, share| job.limits.least_of_design = share),
    );
    /// Most of the blower's air that may be lost on the way to the rooms.
    LostAir = in_job(
        "Limits",
        Number {
            file: "lost_air_fraction",
            refusal: Some("A limit of lost air of {} cannot be; it lies"),
            first: 0.15,
            source: "Title 24 Part 6 (2016) §150.2(b)1: ducts that stand leak at most 15 % of the airflow, recalled",
            // It is a part of the blower's air.
            ..Number::new("Air lost on the way", Quantity::Share, Range::Between(0.0, 1.0))
        },
        ("limit of lost air", "lost_air"),
        Always(|job| job.limits.lost_air, |job, share| job.limits.lost_air = share),
    );
    /// Most of a path's drop that work on it takes out.
    MostOut = in_job(
        "Limits",
        Number {
            file: "most_out_of_path_fraction",
            refusal: Some("A limit of what comes out of a path of {} cannot be; it lies"),
            first: 0.75,
            source: "Own reckoning: three quarters out takes ducts a third wider throughout (drop falls with the fifth power of the diameter), and as much off coil and filter",
            // All of it leaves no path.
            ..Number::new("Most out of a path", Quantity::Share, Range::Between(0.1, 1.0))
        },
        ("most out of a path", "most_out"),
        Always(|job| job.limits.most_out, |job, share| job.limits.most_out = share),
    );
    /// Velocity in a return duct past which it is heard.
    DuctVelocity = heard::IN_DUCT;
    /// The same at a return grille's face.
    GrilleVelocity = heard::AT_GRILLE;
    /// Electric power for each cfm.
    WattsPerCfm = in_job(
        "Limits",
        Number {
            file: "watts_per_cfm",
            refusal: Some("A limit of the blower of {} cannot be; it has to be"),
            first: 0.58,
            source: POWER_LIMITS,
            // Air takes some power.
            ..Number::new("Limit of the blower", Quantity::PowerPerAirflow, Range::Above(0.0))
        },
        ("limit of the blower", "watts_per_cfm"),
        Always(|job| job.limits.watts_per_cfm, |job, watts| job.limits.watts_per_cfm = watts),
    );
    /// The same of a gas furnace.
    FurnaceWattsPerCfm = in_job(
        "Limits",
        Number {
            file: "furnace_watts_per_cfm",
            refusal: Some("A limit of a furnace's blower of {} cannot be; it has to be"),
            first: 0.45,
            source: POWER_LIMITS,
            // Air takes some power.
            ..Number::new("Limit of a furnace's blower", Quantity::PowerPerAirflow, Range::Above(0.0))
        },
        ("limit of a furnace's blower", "furnace_watts_per_cfm"),
        Always(|job| job.limits.furnace_watts_per_cfm, |job, watts| job.limits.furnace_watts_per_cfm = watts,),
    );
    /// Manometer's error as a share of the reading.
    ManometerFraction = in_job(
        "Accuracy",
        Number {
            file: "manometer_fraction",
            ..error_share("Manometer's error", "A manometer's error of {} cannot be; it lies", 0.01, MANOMETER,)
        },
        ("manometer's error", "manometer_fraction"),
        Always(|job| job.accuracy.manometer_fraction, |job, share| job.accuracy.manometer_fraction = share,),
    );
    /// Manometer's least error.
    ManometerFloor = in_job(
        "Accuracy",
        Number {
            file: "manometer_floor_in_wc",
            ..error_pressure(
                "Manometer's least error",
                "A manometer's least error of {} cannot be; it lies",
                Pressure::from_pa(0.2).in_wc(),
                MANOMETER,
            )
        },
        ("manometer's least error", "manometer_floor"),
        Always(
            |job| job.accuracy.manometer_floor.in_wc(),
            |job, in_wc| job.accuracy.manometer_floor = Pressure::from_in_wc(in_wc),
        ),
    );
    /// Error of each port.
    PortOffset = reading::PORT_OFFSET;
    /// Scatter of a reading.
    ReadingScatter = reading::SCATTER;
    /// Error of the table against this machine.
    TableFraction = in_job(
        "Accuracy",
        Number {
            file: "table_fraction",
            ..error_share(
                "Table's error",
                "A table's error of {} cannot be; it lies",
                0.05,
                "Assumed, at 95 %; 10 % is fair for a machine neither clean nor new",
            )
        },
        ("table's error", "table_fraction"),
        Always(|job| job.accuracy.table_fraction, |job, share| job.accuracy.table_fraction = share),
    );
    /// What each tap of the table is off by itself.
    TapFraction = in_job(
        "Accuracy",
        Number {
            file: "tap_fraction",
            ..error_share(
                "Each tap's own error",
                "A tap's own error of {} cannot be; it lies",
                0.02,
                "Assumed, at 95 %",
            )
        },
        ("each tap's own error", "tap_fraction"),
        Always(|job| job.accuracy.tap_fraction, |job, share| job.accuracy.tap_fraction = share),
    );
    /// Error of published drops.
    DataFraction = in_job(
        "Accuracy",
        Number {
            file: "data_fraction",
            ..error_share(
                "Published drops' error",
                "An error of published drops of {} cannot be; it lies",
                0.10,
                "Assumed, at 95 %",
            )
        },
        ("published drops' error", "data_fraction"),
        Always(|job| job.accuracy.data_fraction, |job, share| job.accuracy.data_fraction = share),
    );
    /// Error of the table's watts.
    TablePowerFraction = in_job(
        "Accuracy",
        Number {
            file: "table_power_fraction",
            ..error_share(
                "Table's watts' error",
                "An error of the table's watts of {} cannot be; it lies",
                0.10,
                "Assumed, at 95 %"
            )
        },
        ("table's watts' error", "table_power_fraction"),
        Always(|job| job.accuracy.table_power_fraction, |job, share| job.accuracy.table_power_fraction = share),
    );
    /// Wattmeter's error as a share of what it reads.
    WattmeterFraction = in_job(
        "Accuracy",
        Number {
            file: "wattmeter_fraction",
            ..error_share(
                "Wattmeter's error",
                "A wattmeter's error of {} cannot be; it lies",
                0.03,
                "Assumed: a clamp wattmeter of the trade"
            )
        },
        ("wattmeter's error", "wattmeter_fraction"),
        Always(|job| job.accuracy.wattmeter_fraction, |job, share| job.accuracy.wattmeter_fraction = share),
    );
    /// Each thermometer's error.
    Thermometer = heat::THERMOMETER;
    /// Error of the heat that goes in.
    HeatFraction = heat::INPUT_ERROR;
    /// Error of the heat by the rating plate.
    RatedHeatFraction = heat::RATED_ERROR;
    /// Error of grilles read by a hood and added up.
    HoodFraction = plate::HOOD_ERROR;
    /// Error of a plate in the filter's slot.
    PlateFraction = plate::PLATE_ERROR;
    /// Error of a path's exponent.
    ExponentError = in_job(
        "Accuracy",
        Number {
            file: "exponent",
            refusal: Some("An exponent's error of {} cannot be; it lies"),
            first: 0.2,
            source: "Assumed, at 95 %: coils, filters and straight duct lie under 2",
            // Exponents lie from 1 to 2.2.
            ..Number::new("Exponent's error", Quantity::Ratio, Range::Between(0.0, 1.0))
        },
        ("exponent's error", "exponent"),
        Always(|job| job.accuracy.exponent, |job, error| job.accuracy.exponent = error),
    );
    /// Error of what a change does.
    ChangeFraction = in_job(
        "Accuracy",
        Number {
            file: "change_fraction",
            ..error_share(
                "Error of a change",
                "An error of a change of {} cannot be; it lies",
                0.25,
                "Assumed, at 95 %: its sizes are somebody's, not read",
            )
        },
        ("error of a change", "change_fraction"),
        Always(|job| job.accuracy.change_fraction, |job, share| job.accuracy.change_fraction = share),
    );
    /// Range of a share that nobody stated.
    GuessedOdds = in_job(
        "Accuracy",
        Number {
            file: "guessed_odds",
            refusal: Some("A factor on the odds of a guess of {} cannot be; it lies"),
            first: 2.0,
            source: "Assumed, at 95 %: a share that nobody stated, from its odds over this to its odds times this",
            // One is no doubt at all, and ten says nothing of a share.
            ..Number::new("Odds of a guess", Quantity::Ratio, Range::Between(1.0, 10.0))
        },
        ("odds of a guess", "guessed_odds"),
        Always(|job| job.accuracy.guessed_odds, |job, odds| job.accuracy.guessed_odds = odds),
    );
}
