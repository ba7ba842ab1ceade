//! Units that a text names.

use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::model::typed::table_paste::numbers;
use crate::units::UnitSystem;

/// Unit in which static pressures stand in a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PrintedPressure {
    /// Inches of water column.
    InchesOfWater,
    /// Pascals.
    Pascals,
    /// Kilopascals.
    Kilopascals,
    /// Millimetres of water column.
    MillimetresOfWater,
}

impl PrintedPressure {
    /// Every unit, in the order of menus.
    pub const ALL: [Self; 4] = [Self::InchesOfWater, Self::Pascals, Self::Kilopascals, Self::MillimetresOfWater];

    /// As it is printed.
    pub const fn name(self) -> &'static str {
        match self {
            Self::InchesOfWater => "in. w.c.",
            Self::Pascals => "Pa",
            Self::Kilopascals => "kPa",
            Self::MillimetresOfWater => "mm w.c.",
        }
    }

    /// The table's unit that takes its numbers up, for those that no table is printed in with the unit behind them.
    pub(in crate::model::typed) const fn in_the_table(self) -> PressureUnit {
        match self {
            Self::InchesOfWater => PressureUnit::InchesOfWater,
            Self::Pascals | Self::Kilopascals | Self::MillimetresOfWater => PressureUnit::Pascals,
        }
    }

    /// The units in which its bare numbers are read.
    pub(in crate::model::typed) const fn system(self) -> UnitSystem {
        self.in_the_table().system()
    }

    /// What goes behind each number, so that the table's own unit is not meant.
    pub(super) const fn behind(self) -> &'static str {
        match self {
            Self::InchesOfWater | Self::Pascals => "",
            Self::Kilopascals => " kPa",
            Self::MillimetresOfWater => " mm",
        }
    }
}

impl From<PressureUnit> for PrintedPressure {
    fn from(unit: PressureUnit) -> Self {
        match unit {
            PressureUnit::InchesOfWater => Self::InchesOfWater,
            PressureUnit::Pascals => Self::Pascals,
        }
    }
}

/// The units that a text names, each once, the likelier first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::model::typed) struct Named {
    /// Of static pressure.
    pub(in crate::model::typed) pressures: Vec<PrintedPressure>,
    /// Of airflow.
    pub(in crate::model::typed) airflows: Vec<AirflowUnit>,
}

impl Named {
    /// What the headings name, else what stands behind numbers and in cells without one.
    pub(in crate::model::typed) fn of(heads: &[Vec<String>], body: &[Vec<String>]) -> Self {
        let by_heads = Self::in_words(heads.iter().flatten());
        let by_body = Self::in_words(body.iter().flatten().filter(|text| numbers::value(text).is_none()));
        Self {
            pressures: if by_heads.pressures.is_empty() { by_body.pressures } else { by_heads.pressures },
            airflows: if by_heads.airflows.is_empty() { by_body.airflows } else { by_heads.airflows },
        }
    }

    fn in_words<'a>(texts: impl Iterator<Item = &'a String>) -> Self {
        let all = texts.map(|text| text.to_lowercase()).collect::<Vec<_>>().join(" ");
        let words: Vec<&str> = all
            .split(|letter: char| letter.is_whitespace() || matches!(letter, '(' | ')' | '[' | ']' | ',' | ';' | ':'))
            .collect();
        let has = |wanted: &[&str]| words.iter().any(|word| wanted.contains(word));
        let water = has(&["w.c.", "wc", "w.c", "wg", "w.g.", "w.g"]);
        let millimetres = has(&["mm", "mmwc", "mmwg", "mmh2o", "mm.w.c."]);
        let inches = has(&["inwc", "inh2o", "\"wc", "\"w.c.", "in.w.c.", "iwc", "inches"]);
        let pressure = |unit: PrintedPressure| match unit {
            PrintedPressure::InchesOfWater => inches || water && (!millimetres || has(&["in", "in."])),
            PrintedPressure::Pascals => has(&["pa", "pascal", "pascals"]),
            PrintedPressure::Kilopascals => has(&["kpa"]),
            PrintedPressure::MillimetresOfWater => millimetres,
        };
        let airflow = |unit: AirflowUnit| match unit {
            AirflowUnit::Cfm => has(&["cfm", "scfm", "ft3/min", "ft³/min"]),
            AirflowUnit::LitresPerSecond => has(&["l/s", "lps"]),
            AirflowUnit::CubicMetresPerHour => has(&["m3/h", "m³/h", "cmh"]),
        };
        // Where a paste names both, pascals are what the other one was worked out of.
        let likelier = [
            PrintedPressure::Pascals,
            PrintedPressure::InchesOfWater,
            PrintedPressure::Kilopascals,
            PrintedPressure::MillimetresOfWater,
        ];
        Self {
            pressures: likelier.into_iter().filter(|unit| pressure(*unit)).collect(),
            airflows: AirflowUnit::ALL.into_iter().filter(|unit| airflow(*unit)).collect(),
        }
    }
}
