//! The words of files for the model's choices, and what lets a mirror of a model's type stand for it; the compiler holds both against the model.

use serde::{Deserialize, Serialize};
use serde_with::SerializeAs;
use serde_with::ser::SerializeAsWrap;

use crate::model::facts::air_path::{ElementKind, Whereabouts};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::blower::{Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings};
use crate::model::facts::readings::{CoilState, Phase};
use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};

/// Lets mirrors (`#[serde(remote = "…")]`) stand in `#[serde_as(as = "…")]` for the model's types, within options, lists and pairs too.
macro_rules! mirrors {
    ($($mirror:ident: $model:ty),+ $(,)?) => {$(
        impl serde_with::SerializeAs<$model> for $mirror {
            fn serialize_as<S: serde::Serializer>(model: &$model, serializer: S) -> Result<S::Ok, S::Error> {
                Self::serialize(model, serializer)
            }
        }

        impl<'de> serde_with::DeserializeAs<'de, $model> for $mirror {
            fn deserialize_as<D: serde::Deserializer<'de>>(deserializer: D) -> Result<$model, D::Error> {
                Self::deserialize(deserializer)
            }
        }
    )+};
}
pub(super) use mirrors;

/// The word of a choice, by its mirror.
pub(super) fn word<M: SerializeAs<T>, T>(choice: &T) -> String {
    // A word that cannot be written is told in the file's place: such a text does not open again, so saving refuses it.
    ron::to_string(&SerializeAsWrap::<T, M>::new(choice)).unwrap_or_else(|fault| format!("!{fault}"))
}

/// A choice of the model with the same words in files.
macro_rules! words {
    ($($mirror:ident = $remote:literal $model:ident [$($word:ident),+];)+) => {$(
        #[derive(Serialize, Deserialize)]
        #[serde(remote = $remote)]
        pub(super) enum $mirror {
            $($word),+
        }

        mirrors!($mirror: $model);
    )+};
}

words! {
    KindDto = "EquipmentKind" EquipmentKind [Furnace, DrawThroughAirHandler, BlowThroughAirHandler, NoReturnDuct];
    MotorDto = "MotorFamily" MotorFamily [PermanentSplitCapacitor, ConstantTorque, ConstantAirflow, Unstated];
    CallDto = "Call" Call [CoolingHigh, CoolingLow, HeatingHigh, HeatingLow, FanOnly];
    PartDto = "PartInTest" PartInTest [Without, Included];
    CoilDto = "CoilInTest" CoilInTest [Without, Dry, Wet];
    OpeningsDto = "ReturnOpenings" ReturnOpenings [Unstated, Bottom, OneSide, TwoSides];
    PositionDto = "Position" Position [Unstated, Up, Down, Horizontal];
    AirflowUnitDto = "AirflowUnit" AirflowUnit [Cfm, LitresPerSecond, CubicMetresPerHour];
    PressureUnitDto = "PressureUnit" PressureUnit [InchesOfWater, Pascals];
    CoilStateDto = "CoilState" CoilState [Dry, Wet];
    OpinionDto = "OpinionKind" OpinionKind [Heat, SupplySum, ReturnSum, Plate, Watts];
    PhaseDto = "Phase" Phase [Single, Three];
    WhereaboutsDto = "Whereabouts" Whereabouts [Cabinet, House];
    ElementKindDto = "ElementKind" ElementKind [
        Louvre, ReturnGrille, ReturnDuct, Filter, Blower, HeatExchanger, Coil, Heater, SupplyDuct, Registers, AirCleaner,
        Humidifier, Damper, Leak, Bypass, SideBySide
    ];
}
