//! The code words of the report, each the same for as long as the report's version stands.

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::blower::{Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings};
use crate::model::facts::caution::Caution;
use crate::model::facts::job_check::Field;
use crate::model::facts::readings::CoilState;
use crate::model::facts::severity::Severity;
use crate::model::path::tesp::{Assumption, NotRead};
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::findings::{Finding, Weight};
use crate::model::verdicts::needs::Need;
use crate::model::verdicts::plate::{Deciding, PlateSide};
use crate::model::verdicts::system::NotRunning;
use crate::model::verdicts::taps::{InDoubt, Reach, RiseSide};

/// The side of the blower that something stands on.
pub(super) const fn side(before_blower: bool) -> &'static str {
    if before_blower { "return" } else { "supply" }
}

pub(super) const fn call(call: Call) -> &'static str {
    match call {
        Call::CoolingHigh => "cooling_high",
        Call::CoolingLow => "cooling_low",
        Call::HeatingHigh => "heating_high",
        Call::HeatingLow => "heating_low",
        Call::FanOnly => "fan_only",
    }
}

pub(super) const fn in_doubt(doubt: InDoubt) -> &'static str {
    match doubt {
        InDoubt::Band => "band",
        InDoubt::Plate => "rated_maximum",
    }
}

pub(super) const fn kind(kind: EquipmentKind) -> &'static str {
    match kind {
        EquipmentKind::Furnace => "furnace",
        EquipmentKind::DrawThroughAirHandler => "draw_through_air_handler",
        EquipmentKind::BlowThroughAirHandler => "blow_through_air_handler",
        EquipmentKind::NoReturnDuct => "no_return_duct",
    }
}

pub(super) const fn motor(motor: MotorFamily) -> &'static str {
    match motor {
        MotorFamily::PermanentSplitCapacitor => "permanent_split_capacitor",
        MotorFamily::ConstantTorque => "constant_torque",
        MotorFamily::ConstantAirflow => "constant_airflow",
        MotorFamily::Unstated => "unstated",
    }
}

pub(super) const fn part(part: PartInTest) -> &'static str {
    match part {
        PartInTest::Without => "without",
        PartInTest::Included => "included",
    }
}

pub(super) const fn coil_in_test(coil: CoilInTest) -> &'static str {
    match coil {
        CoilInTest::Without => "without",
        CoilInTest::Dry => "dry",
        CoilInTest::Wet => "wet",
    }
}

pub(super) const fn coil(coil: CoilState) -> &'static str {
    match coil {
        CoilState::Dry => "dry",
        CoilState::Wet => "wet",
    }
}

pub(super) const fn return_openings(openings: ReturnOpenings) -> &'static str {
    match openings {
        ReturnOpenings::Unstated => "unstated",
        ReturnOpenings::Bottom => "bottom",
        ReturnOpenings::OneSide => "one_side",
        ReturnOpenings::TwoSides => "two_sides",
    }
}

pub(super) const fn position(position: Position) -> &'static str {
    match position {
        Position::Unstated => "unstated",
        Position::Up => "up",
        Position::Down => "down",
        Position::Horizontal => "horizontal",
    }
}

pub(super) const fn element(kind: ElementKind) -> &'static str {
    match kind {
        ElementKind::Louvre => "louvre",
        ElementKind::ReturnGrille => "return_grille",
        ElementKind::ReturnDuct => "return_duct",
        ElementKind::Filter => "filter",
        ElementKind::Blower => "blower",
        ElementKind::HeatExchanger => "heat_exchanger",
        ElementKind::Coil => "coil",
        ElementKind::Heater => "heater",
        ElementKind::SupplyDuct => "supply_duct",
        ElementKind::Registers => "registers",
        ElementKind::AirCleaner => "air_cleaner",
        ElementKind::Humidifier => "humidifier",
        ElementKind::Damper => "damper",
        ElementKind::Leak => "leak",
        ElementKind::Bypass => "bypass",
        ElementKind::SideBySide => "side_by_side",
    }
}

pub(super) const fn reach(reach: Reach) -> &'static str {
    match reach {
        Reach::Short => "short",
        Reach::InBand => "in_band",
        Reach::TooMuch => "too_much",
        Reach::NotSaid => "not_said",
    }
}

pub(super) const fn rise_side(side: RiseSide) -> &'static str {
    match side {
        RiseSide::UnderRange => "under_range",
        RiseSide::InRange => "in_range",
        RiseSide::OverRange => "over_range",
    }
}

pub(super) const fn need(need: &Need) -> &'static str {
    match need {
        Need::None { .. } => "none",
        Need::Ease(_) => "ease",
        Need::NeverEnough { .. } => "never_enough",
        Need::TooStrong { .. } => "too_strong",
        Need::Barred { .. } => "barred",
        Need::Unknown => "unknown",
    }
}

pub(super) const fn plate_side(side: PlateSide) -> &'static str {
    match side {
        PlateSide::Under => "under",
        PlateSide::AtLimit => "at_limit",
        PlateSide::Over => "over",
    }
}

pub(super) const fn deciding(deciding: Deciding) -> &'static str {
    match deciding {
        Deciding::AsRead => "as_read",
        Deciding::AtTableDensity => "at_table_density",
    }
}

pub(super) const fn not_running(reason: &NotRunning) -> &'static str {
    match reason {
        NotRunning::Shares(_) => "shares",
        NotRunning::NoMachine => "no_machine",
        NotRunning::NoTap => "no_tap",
        NotRunning::NoSuchTap(_) => "no_such_tap",
        NotRunning::NotRead(NotRead::Nothing) => "nothing_read",
        NotRunning::NotRead(NotRead::Before) => "before_not_read",
        NotRunning::NotRead(NotRead::After) => "after_not_read",
        NotRunning::SignInDoubt => "sign_in_doubt",
        NotRunning::Unsound => "unsound",
        NotRunning::NoRise(_) => "no_rise",
        NotRunning::PastTheEnd { .. } => "past_the_end",
        NotRunning::SingleRow(_) => "single_row",
        NotRunning::Unusable => "unusable",
    }
}

pub(super) const fn no_crossing(reason: &NoCrossing) -> &'static str {
    match reason {
        NoCrossing::PastTheEnd { .. } => "past_the_end",
        NoCrossing::SingleRow(_) => "single_row",
        NoCrossing::Unusable => "unusable",
    }
}

pub(super) const fn weight(weight: Weight) -> &'static str {
    match weight {
        Weight::Act => "act",
        Weight::Look => "look",
        Weight::Note => "note",
    }
}

pub(super) const fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::NoHeat => "no_heat",
        Caution::Drilling => "drilling",
        Caution::LiveCircuits => "live_circuits",
        Caution::TapChange => "tap_change",
        Caution::Venting => "venting",
        Caution::ReturnAir => "return_air",
        Caution::CoilWork => "coil_work",
        Caution::Repairs => "repairs",
        Caution::Filter => "filter",
        Caution::Machine => "machine",
        Caution::PanelOff => "panel_off",
    }
}

pub(super) const fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Question => "question",
        Severity::Error => "error",
    }
}

pub(super) const fn finding(finding: &Finding) -> &'static str {
    match finding {
        Finding::Plate(_) => "plate",
        Finding::ReturnTakes { .. } => "return_takes",
        Finding::SupplyTakes { .. } => "supply_takes",
        Finding::DuctsTake { .. } => "ducts_take",
        Finding::NothingLeft { .. } => "nothing_left",
        Finding::AirLost { .. } => "air_lost",
        Finding::LittleStatic { .. } => "little_static",
        Finding::TooMuchAir { .. } => "too_much_air",
        Finding::NextTap { .. } => "next_tap",
        Finding::TapsThatReach { .. } => "taps_that_reach",
        Finding::NoTapReaches(_) => "no_tap_reaches",
        Finding::Rise { .. } => "rise",
        Finding::UnderHeatMinimum { .. } => "under_heat_minimum",
        Finding::WattsPerCfm { .. } => "watts_per_cfm",
        Finding::WattsDiffer { .. } => "watts_differ",
        Finding::Barred { .. } => "barred",
        Finding::Knee { .. } => "knee",
        Finding::NoKnee { .. } => "no_knee",
        Finding::OtherEnd(_) => "other_end",
        Finding::OneRow => "one_row",
        Finding::TotalDiffers { .. } => "total_differs",
        Finding::Corrected { .. } => "corrected",
        Finding::TakesMore { .. } => "takes_more",
        Finding::Density { .. } => "density",
        Finding::Assumed(_) => "assumed",
    }
}

pub(super) const fn assumption(assumption: &Assumption) -> &'static str {
    match assumption {
        Assumption::OutsideDropUnknown(_) => "outside_drop_unknown",
        Assumption::InsideDropUnknown(_) => "inside_drop_unknown",
        Assumption::AsTestedUnknown(ElementKind::Filter) => "filter_as_tested_unknown",
        Assumption::AsTestedUnknown(_) => "as_tested_unknown",
        Assumption::WetCoilUnknown => "wet_coil_unknown",
        Assumption::DryCoilUnknown => "dry_coil_unknown",
        Assumption::ReturnOpeningsDiffer => "return_openings_differ",
        Assumption::VoltageDiffers(_) => "voltage_differs",
        Assumption::ByData(_) => "by_data",
        Assumption::VoltageByTable => "voltage_by_table",
    }
}

/// The element that an assumption is about, where it is about one.
pub(super) const fn assumed_part(assumption: &Assumption) -> Option<&'static str> {
    match assumption {
        Assumption::OutsideDropUnknown(kind)
        | Assumption::InsideDropUnknown(kind)
        | Assumption::AsTestedUnknown(kind)
        | Assumption::ByData(kind) => Some(element(*kind)),
        Assumption::WetCoilUnknown
        | Assumption::DryCoilUnknown
        | Assumption::ReturnOpeningsDiffer
        | Assumption::VoltageDiffers(_)
        | Assumption::VoltageByTable => None,
    }
}

pub(super) fn field(field: Field) -> &'static str {
    match field {
        Field::ReturnReading => "return_reading",
        Field::SupplyReading => "supply_reading",
        Field::AcrossReading => "across_reading",
        Field::TotalReading => "total_reading",
        Field::Tap => "tap",
        Field::Target => "target",
        Field::Number(number) => number.report(),
        Field::Path => "path",
    }
}
