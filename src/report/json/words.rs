//! The code words of the report, each the same for as long as the report's version stands.

use std::borrow::Borrow;

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::airflow_read::OpinionKind;
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
use crate::model::verdicts::taps::{InDoubt, LeastAir, LeastSide, Reach, RiseSide};

/// The words of the cases of some enums, a function each.
macro_rules! words {
    ($($name:ident: $of:ident {
        $($case:ident $(($($inner:tt)*))? $({$($field:tt)*})? = $word:literal),+ $(,)?
    })+) => {$(
        pub(super) fn $name(of: impl Borrow<$of>) -> &'static str {
            match of.borrow() {
                $($of::$case $(($($inner)*))? $({$($field)*})? => $word),+
            }
        }
    )+};
}

words! {
    call: Call {
        CoolingHigh = "cooling_high", CoolingLow = "cooling_low", HeatingHigh = "heating_high",
        HeatingLow = "heating_low", FanOnly = "fan_only",
    }
    opinion: OpinionKind {
        Heat = "heat", SupplySum = "supply_sum", ReturnSum = "return_sum", Plate = "plate", Watts = "watts",
    }
    in_doubt: InDoubt { Band = "band", Plate = "rated_maximum", Heating = "heating", LostAir = "lost_air" }
    kind: EquipmentKind {
        Furnace = "furnace", DrawThroughAirHandler = "draw_through_air_handler",
        BlowThroughAirHandler = "blow_through_air_handler", NoReturnDuct = "no_return_duct",
    }
    motor: MotorFamily {
        PermanentSplitCapacitor = "permanent_split_capacitor", ConstantTorque = "constant_torque",
        ConstantAirflow = "constant_airflow", Unstated = "unstated",
    }
    part: PartInTest { Without = "without", Included = "included" }
    coil_in_test: CoilInTest { Without = "without", Dry = "dry", Wet = "wet" }
    coil: CoilState { Dry = "dry", Wet = "wet" }
    return_openings: ReturnOpenings {
        Unstated = "unstated", Bottom = "bottom", OneSide = "one_side", TwoSides = "two_sides",
    }
    position: Position { Unstated = "unstated", Up = "up", Down = "down", Horizontal = "horizontal" }
    element: ElementKind {
        Louvre = "louvre", ReturnGrille = "return_grille", ReturnDuct = "return_duct", Filter = "filter",
        Blower = "blower", HeatExchanger = "heat_exchanger", Coil = "coil", Heater = "heater",
        SupplyDuct = "supply_duct", Registers = "registers", AirCleaner = "air_cleaner",
        Humidifier = "humidifier", Damper = "damper", Leak = "leak", Bypass = "bypass",
        SideBySide = "side_by_side",
    }
    reach: Reach { Short = "short", InBand = "in_band", TooMuch = "too_much", NotSaid = "not_said" }
    rise_side: RiseSide { UnderRange = "under_range", InRange = "in_range", OverRange = "over_range" }
    need: Need {
        None { .. } = "none", Ease(_) = "ease", NeverEnough { .. } = "never_enough",
        TooStrong { .. } = "too_strong", Barred { .. } = "barred", Unknown = "unknown",
    }
    plate_side: PlateSide { Under = "under", AtLimit = "at_limit", Over = "over" }
    deciding: Deciding { AsRead = "as_read", AtTableDensity = "at_table_density" }
    not_running: NotRunning {
        Shares(_) = "shares", NoMachine = "no_machine", NoTap = "no_tap", NoSuchTap(_) = "no_such_tap",
        NotRead(NotRead::Nothing) = "nothing_read", NotRead(NotRead::Before) = "before_not_read",
        NotRead(NotRead::After) = "after_not_read", SignInDoubt = "sign_in_doubt", Unsound = "unsound",
        NoRise(_) = "no_rise", PastTheEnd { .. } = "past_the_end", SingleRow(_) = "single_row",
        Unusable = "unusable", KeptBack = "kept_back",
    }
    no_crossing: NoCrossing { PastTheEnd { .. } = "past_the_end", SingleRow(_) = "single_row", Unusable = "unusable" }
    weight: Weight { Act = "act", Look = "look", Note = "note" }
    caution: Caution {
        NoHeat = "no_heat", Drilling = "drilling", LiveCircuits = "live_circuits",
        TapChange = "tap_change", Venting = "venting", ReturnAir = "return_air", CoilWork = "coil_work",
        Repairs = "repairs", Filter = "filter", Machine = "machine", PanelOff = "panel_off",
    }
    severity: Severity { Question = "question", Error = "error" }
    finding: Finding {
        CannotAllBeTrue = "cannot_all_be_true", Pulled(_) = "pulled", Plate(_) = "plate", PartTakes { .. } = "part_takes", ReturnTakes { .. } = "return_takes", SupplyTakes { .. } = "supply_takes",
        DuctsTake { .. } = "ducts_take", NothingLeft { .. } = "nothing_left", AirLost { .. } = "air_lost",
        LittleStatic { .. } = "little_static", TooMuchAir { .. } = "too_much_air",
        NextTap { .. } = "next_tap", TapsThatReach { .. } = "taps_that_reach",
        NoTapReaches(_) = "no_tap_reaches", UnderPlate { .. } = "under_plate", Rise { .. } = "rise",
        LeastAirflow { air: LeastAir { side: LeastSide::Missed | LeastSide::JustMissed, .. }, .. } = "under_heat_minimum",
        LeastAirflow { air: LeastAir { side: LeastSide::JustKept | LeastSide::Kept, .. }, .. } = "at_heat_minimum", WattsPerCfm { .. } = "watts_per_cfm",
        Anchored(_) = "anchored", WattsDiffer(_) = "watts_differ", Opinion(_) = "second_airflow", Together(_) = "opinions_together", Barred { .. } = "barred", Knee { .. } = "knee",
        NoKnee { .. } = "no_knee", OtherEnd(_) = "other_end", OneRow = "one_row",
        TotalDiffers { .. } = "total_differs", Corrected { .. } = "corrected",
        TakesMore { .. } = "takes_more", Density { .. } = "density", Assumed(_) = "assumed", Drawn(_) = "drawn",
    }
    assumption: Assumption {
        OutsideDropUnknown(_) = "outside_drop_unknown", InsideDropUnknown(_) = "inside_drop_unknown",
        AsTestedUnknown(ElementKind::Filter) = "filter_as_tested_unknown",
        AsTestedUnknown(_) = "as_tested_unknown", WetCoilUnknown = "wet_coil_unknown",
        DryCoilUnknown = "dry_coil_unknown", ReturnOpeningsDiffer = "return_openings_differ",
        VoltageDiffers(_) = "voltage_differs", ByData(_) = "by_data", VoltageByTable = "voltage_by_table",
        Scaled(_) = "table_scaled", ReadOffChart(_) = "read_off_chart",
    }
}

/// The side of the blower that something stands on.
pub(super) const fn side(before_blower: bool) -> &'static str {
    if before_blower { "return" } else { "supply" }
}

/// The element that an assumption is about, where it is about one.
pub(super) fn assumed_part(assumption: &Assumption) -> Option<&'static str> {
    match assumption {
        Assumption::OutsideDropUnknown(kind)
        | Assumption::InsideDropUnknown(kind)
        | Assumption::AsTestedUnknown(kind)
        | Assumption::ByData(kind) => Some(element(*kind)),
        Assumption::WetCoilUnknown
        | Assumption::DryCoilUnknown
        | Assumption::ReturnOpeningsDiffer
        | Assumption::VoltageDiffers(_)
        | Assumption::VoltageByTable
        | Assumption::Scaled(_)
        | Assumption::ReadOffChart(_) => None,
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
        Field::Anchor => "anchor",
        Field::Time => "time",
        Field::Date => "date",
        Field::ValidUntil => "prices_hold_until",
    }
}
