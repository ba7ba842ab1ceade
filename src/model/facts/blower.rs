//! A blower table as an equipment maker publishes it, with the basis on which it was made.

use crate::model::facts::drop_data::DropData;
use crate::model::facts::element_kind::ElementKind;
use crate::units::{Airflow, Altitude, Capacity, Density, HeatRate, Power, Pressure, Speed, TemperatureRise, Voltage};

/// What kind of machine holds the blower; sets the first order of the air path.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum EquipmentKind {
    /// Gas or oil furnace: filter, blower, heat exchanger, then a coil outside the cabinet.
    #[default]
    Furnace,
    /// Air handler whose coil stands before the blower: filter, coil, blower, heater.
    DrawThroughAirHandler,
    /// Air handler whose coil stands after the blower: filter, blower, coil.
    BlowThroughAirHandler,
    /// Furnace that breathes through a closet door or louvre: filter, blower, heat exchanger, coil.
    NoReturnDuct,
}

impl EquipmentKind {
    /// Every kind, in the order of menus.
    pub const ALL: [Self; 4] =
        [Self::Furnace, Self::DrawThroughAirHandler, Self::BlowThroughAirHandler, Self::NoReturnDuct];

    /// True for a machine that burns gas or oil; an air handler heats by electric elements.
    pub const fn burns(self) -> bool {
        match self {
            Self::Furnace | Self::NoReturnDuct => true,
            Self::DrawThroughAirHandler | Self::BlowThroughAirHandler => false,
        }
    }

    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Furnace => "Furnace",
            Self::DrawThroughAirHandler => "Air handler, draw-through",
            Self::BlowThroughAirHandler => "Air handler, blow-through",
            Self::NoReturnDuct => "Furnace, no return duct",
        }
    }
}

/// How the motor behaves when the static pressure changes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum MotorFamily {
    /// Permanent split capacitor: airflow falls steadily as static rises.
    PermanentSplitCapacitor,
    /// Constant torque: falls less.
    ConstantTorque,
    /// Constant airflow: flat up to a knee; watts rise with static.
    ConstantAirflow,
    /// The table does not say.
    #[default]
    Unstated,
}

impl MotorFamily {
    /// Every family, in the order of menus.
    pub const ALL: [Self; 4] =
        [Self::PermanentSplitCapacitor, Self::ConstantTorque, Self::ConstantAirflow, Self::Unstated];

    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::PermanentSplitCapacitor => "PSC",
            Self::ConstantTorque => "constant torque",
            Self::ConstantAirflow => "constant airflow",
            Self::Unstated => "motor not stated",
        }
    }

    /// What one of its columns is called: a constant-airflow motor has settings, the others have taps.
    pub const fn tap_word(self) -> &'static str {
        match self {
            Self::ConstantAirflow => "setting",
            Self::PermanentSplitCapacitor | Self::ConstantTorque | Self::Unstated => "tap",
        }
    }
}

/// What the thermostat asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Call {
    /// Cooling, high or only stage.
    #[default]
    CoolingHigh,
    /// Cooling, low stage.
    CoolingLow,
    /// Heating, high or only stage.
    HeatingHigh,
    /// Heating, low stage.
    HeatingLow,
    /// Fan only.
    FanOnly,
}

impl Call {
    /// Every call, in the order of menus.
    pub const ALL: [Self; 5] =
        [Self::CoolingHigh, Self::CoolingLow, Self::HeatingHigh, Self::HeatingLow, Self::FanOnly];

    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::CoolingHigh => "Cooling, high",
            Self::CoolingLow => "Cooling, low",
            Self::HeatingHigh => "Heating, high",
            Self::HeatingLow => "Heating, low",
            Self::FanOnly => "Fan only",
        }
    }

    /// True when the coil is cold during this call.
    pub const fn is_cooling(self) -> bool {
        matches!(self, Self::CoolingHigh | Self::CoolingLow)
    }

    /// True for a call that heats.
    pub const fn is_heating(self) -> bool {
        matches!(self, Self::HeatingHigh | Self::HeatingLow)
    }
}

/// Whether the blower's own parts stood in the air while the table was made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PartInTest {
    /// The part was not there.
    #[default]
    Without,
    /// The part was there.
    Included,
}

/// The coil while the table was made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum CoilInTest {
    /// No coil: whatever is fitted is external.
    #[default]
    Without,
    /// A dry coil.
    Dry,
    /// A wet coil.
    Wet,
}

impl CoilInTest {
    /// True when the coil belongs to the table.
    pub const fn is_included(self) -> bool {
        !matches!(self, Self::Without)
    }
}

/// Where the return enters the cabinet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ReturnOpenings {
    /// Not said.
    #[default]
    Unstated,
    /// Through the bottom.
    Bottom,
    /// Through one side.
    OneSide,
    /// Through two sides, or one side and the bottom.
    TwoSides,
}

/// How the cabinet stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Position {
    /// Not said.
    #[default]
    Unstated,
    /// Air leaves at the top.
    Up,
    /// Air leaves at the bottom.
    Down,
    /// Air leaves at the side.
    Horizontal,
}

/// How the table was made.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Basis {
    /// The filter in the cabinet's own slot.
    pub filter: PartInTest,
    /// The coil in the cabinet.
    pub coil: CoilInTest,
    /// The electric heater in the cabinet.
    pub heater: PartInTest,
    /// Return openings used.
    pub return_openings: ReturnOpenings,
    /// Position of the cabinet.
    pub position: Position,
    /// Supply voltage, where said.
    pub voltage: Option<Voltage>,
    /// Air density, where said; standard air is meant otherwise.
    pub density: Option<Density>,
    /// What each tap's airflow may be off by for having been read off a picture, percent at 95 % (0 to 20); nothing for a table that prints its numbers.
    pub reading_error: Option<f64>,
}

impl Basis {
    /// True where a part of a kind that stands in the cabinet is part of the table.
    pub const fn contains(&self, kind: ElementKind) -> bool {
        match kind {
            ElementKind::Blower | ElementKind::HeatExchanger => true,
            ElementKind::Filter => matches!(self.filter, PartInTest::Included),
            ElementKind::Coil => self.coil.is_included(),
            ElementKind::Heater => matches!(self.heater, PartInTest::Included),
            ElementKind::Louvre
            | ElementKind::ReturnGrille
            | ElementKind::ReturnDuct
            | ElementKind::SupplyDuct
            | ElementKind::Registers
            | ElementKind::AirCleaner
            | ElementKind::Humidifier
            | ElementKind::Damper
            | ElementKind::Leak
            | ElementKind::Bypass
            | ElementKind::SideBySide => false,
        }
    }

    /// What each tap may be off by itself, as a fraction of airflow at 95 %: what every table's may, and what this one was read off by.
    pub fn own_of_tap(&self, tap_fraction: f64) -> f64 {
        tap_fraction.hypot(self.reading_error.unwrap_or_default() / 100.0)
    }

    /// Density of the table's air: what it says, else standard air.
    pub fn table_density(&self) -> Density {
        self.density.unwrap_or(Density::STANDARD)
    }
}

/// Airflow at a supply voltage other than the table's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LowVoltage {
    /// The other voltage.
    pub voltage: Voltage,
    /// Airflow there as a fraction of the table's (0.5 to 1.2).
    pub airflow_factor: f64,
}

/// Corrections that the table itself prints.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Corrections {
    /// Drop of the filter that the table was made with.
    pub filter_as_tested: Option<DropData>,
    /// What a wet coil drops more than a dry one.
    pub wet_coil: Option<DropData>,
    /// Drop of the electric heater.
    pub heater: Option<DropData>,
    /// What a one-side return costs against the openings of the basis.
    pub one_side_return: Option<DropData>,
    /// Airflow at another supply voltage.
    pub low_voltage: Option<LowVoltage>,
}

impl Corrections {
    /// The whole drop that is printed for a part of a kind.
    pub const fn drop_of(&self, kind: ElementKind) -> Option<&DropData> {
        match kind {
            ElementKind::Filter => self.filter_as_tested.as_ref(),
            ElementKind::Heater => self.heater.as_ref(),
            ElementKind::Louvre
            | ElementKind::ReturnGrille
            | ElementKind::ReturnDuct
            | ElementKind::Blower
            | ElementKind::HeatExchanger
            | ElementKind::Coil
            | ElementKind::SupplyDuct
            | ElementKind::Registers
            | ElementKind::AirCleaner
            | ElementKind::Humidifier
            | ElementKind::Damper
            | ElementKind::Leak
            | ElementKind::Bypass
            | ElementKind::SideBySide => None,
        }
    }
}

/// One heating stage of the machine.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatStage {
    /// The call that runs it.
    pub call: Call,
    /// Heat delivered to the air (input × thermal efficiency, without the blower's own heat).
    pub output: HeatRate,
    /// Temperature rise that the rating plate allows, lowest and highest.
    pub rise: Option<(TemperatureRise, TemperatureRise)>,
    /// Least airflow for this heat, where the maker states one (electric heat).
    pub minimum_airflow: Option<Airflow>,
}

/// What one place of the grid says.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// An airflow, with the table's note where it carries one.
    Airflow(Airflow, Option<String>),
    /// The table leaves it out.
    NotGiven,
    /// The tap is barred here, with the table's note where it carries one.
    NotAllowed(Option<String>),
}

impl Cell {
    /// The airflow, where there is one.
    pub const fn airflow(&self) -> Option<Airflow> {
        match self {
            Self::Airflow(airflow, _) => Some(*airflow),
            Self::NotGiven | Self::NotAllowed(_) => None,
        }
    }
}

/// One row of one tap's column.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// External static pressure, as tested.
    pub esp: Pressure,
    /// Airflow or the reason for a gap.
    pub cell: Cell,
    /// Electric power, where the table has it.
    pub power: Option<Power>,
    /// Wheel speed, where the table has it.
    pub speed: Option<Speed>,
}

/// What the table gives for one tap.
#[derive(Clone, Debug, PartialEq)]
pub enum TapData {
    /// A column of rows, rising in ESP.
    Column(Vec<Row>),
    /// One airflow over a range of ESP ("1,200 cfm, 0.1 to 0.8").
    Range {
        /// The airflow.
        airflow: Airflow,
        /// Lowest ESP.
        from: Pressure,
        /// Highest ESP.
        to: Pressure,
    },
}

impl TapData {
    /// Every airflow that is printed.
    pub fn airflows(&self) -> impl Iterator<Item = Airflow> {
        let alone = match self {
            Self::Range { airflow, .. } => Some(*airflow),
            Self::Column(_) => None,
        };
        alone.into_iter().chain(self.rows().iter().filter_map(|row| row.cell.airflow()))
    }

    /// The rows of a column; a range has none.
    pub fn rows(&self) -> &[Row] {
        match self {
            Self::Column(rows) => rows,
            Self::Range { .. } => &[],
        }
    }
}

/// One speed tap of a motor, or one airflow setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Tap {
    /// As the door panel names it.
    pub name: String,
    /// What the table gives for it.
    pub data: TapData,
}

/// A whole blower table with what the rating plate says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BlowerTable {
    /// Model as a person would search it.
    pub name: String,
    /// Kind of machine.
    pub kind: EquipmentKind,
    /// Kind of motor.
    pub motor: MotorFamily,
    /// True for an invented machine.
    pub illustrative: bool,
    /// Where the numbers come from.
    pub source: String,
    /// Anything the table adds in words.
    pub notes: String,
    /// Nominal cooling capacity.
    pub cooling: Option<Capacity>,
    /// Highest ESP that the rating plate allows.
    pub rated_maximum: Option<Pressure>,
    /// How the table was made.
    pub basis: Basis,
    /// Corrections that it prints.
    pub corrections: Corrections,
    /// Which tap each call runs, by name, as shipped or as found.
    pub calls: Vec<(Call, String)>,
    /// Heating stages.
    pub heating: Vec<HeatStage>,
    /// The columns, in the order of the door panel.
    pub taps: Vec<Tap>,
}

/// Altitude up to which a gas burner gives its full heat, ft (usual rule of North American gas codes and makers' instructions, from memory).
pub const FULL_HEAT_UP_TO: f64 = 2000.0;
/// Share of its heat that a burner loses above that for every 1,000 ft of altitude, counted from the sea (the same source).
pub const LOST_PER_1000_FT: f64 = 0.04;

/// Voltages closer than this share are the same supply (common practice, no source).
const SAME_VOLTAGE: f64 = 0.03;
/// What the elements of an electric heater on a 208 to 240 V supply are rated for; at 208 V they give 75 % (common practice, from memory).
const ELEMENTS_RATED: Voltage = Voltage::from_volts(240.0);

/// True where a supply is the other one.
pub fn same_supply(supply: Voltage, other: Voltage) -> bool {
    (supply / other - 1.0).abs() <= SAME_VOLTAGE
}

impl BlowerTable {
    /// Share of its heat that the machine gives where nobody says what its burner was set to or its elements were rated for: less than 1 for a burner on high ground and for electric heat at a low supply.
    pub fn heat_share(&self, altitude: Altitude, supply: Option<Voltage>) -> f64 {
        if self.kind.burns() {
            let feet = altitude.ft();
            return if feet > FULL_HEAT_UP_TO { 1.0 - LOST_PER_1000_FT * feet / 1000.0 } else { 1.0 };
        }
        let tested = self.basis.voltage;
        match supply.filter(|supply| tested.is_none_or(|tested| !same_supply(*supply, tested))) {
            // Heat of a resistance.
            Some(supply) if !same_supply(supply, ELEMENTS_RATED) => {
                let is_usual = tested.is_none_or(|tested| (208.0..=ELEMENTS_RATED.volts()).contains(&tested.volts()));
                let rated = tested.filter(|_| !is_usual).unwrap_or(ELEMENTS_RATED);
                (supply / rated).powi(2)
            }
            Some(_) | None => 1.0,
        }
    }

    /// The tap of a name.
    pub fn tap(&self, name: &str) -> Option<&Tap> {
        self.taps.iter().find(|tap| tap.name == name)
    }

    /// The tap that a call runs.
    pub fn tap_of_call(&self, call: Call) -> Option<&str> {
        let (_, name) = self.calls.iter().find(|(mapped, _)| *mapped == call)?;
        Some(name)
    }

    /// The heating stage of a call.
    pub fn heat_stage(&self, call: Call) -> Option<&HeatStage> {
        self.heating.iter().find(|stage| stage.call == call)
    }
}
