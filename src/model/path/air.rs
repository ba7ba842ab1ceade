//! The air that passes the parts: over the air in which their drops are published, and warm behind the blower of a call that heats.

use crate::model::facts::air::AirConditions;
use crate::model::facts::air_path::{AirPath, Element};
use crate::model::facts::blower::{BlowerTable, Call, HeatStage};
use crate::model::facts::drop_data::{AirRatio, DropData};
use crate::model::facts::readings::ReadingSet;
use crate::model::facts::target::rise_at;
use crate::model::laws::duct::air_properties::sutherland_viscosity;
use crate::units::{Airflow, Density, Temperature};

/// Temperature of standard air, at which its viscosity is taken.
const STANDARD_TEMPERATURE: Temperature = Temperature::from_f(70.0);

/// The air at the blower over the airs that drops are published in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DataAir {
    /// Over standard air: what whoever makes a part publishes of it.
    pub own: AirRatio,
    /// Over the table's air: what the table prints.
    pub printed: AirRatio,
}

impl DataAir {
    /// Of a machine's blower that breathes air of a density.
    pub fn of(rooms: &AirConditions, blower: Density, table: &BlowerTable) -> Self {
        let own = over_standard(rooms, blower);
        Self { own, printed: AirRatio { density: blower / table.basis.table_density(), ..own } }
    }
}

/// Air of a density at the blower, and of the rooms' viscosity, over standard air.
pub fn over_standard(rooms: &AirConditions, blower: Density) -> AirRatio {
    let viscosity = |temperature| sutherland_viscosity(temperature).pa_s();
    AirRatio {
        density: blower / Density::STANDARD,
        viscosity: viscosity(rooms.temperature) / viscosity(STANDARD_TEMPERATURE),
    }
}

/// What an element drops by its own data, else as the table prints it, in the air at the blower.
pub fn by_data(element: &Element, table: &BlowerTable, air: DataAir) -> Option<DropData> {
    let own = element.drop.as_ref().map(|data| data.in_air(air.own));
    own.or_else(|| Some(printed(element, table)?.in_air(air.printed)))
}

/// True where [`by_data`] knows something.
pub fn has_data(element: &Element, table: &BlowerTable) -> bool {
    element.drop.is_some() || printed(element, table).is_some()
}

/// What the table prints for an element: its filter's drop where that is part of the table, its heater's wherever that stands.
fn printed<'a>(element: &Element, table: &'a BlowerTable) -> Option<&'a DropData> {
    use crate::model::facts::air_path::ElementKind as K;
    let is_told = element.kind != K::Filter || AirPath::is_inside(element, &table.basis);
    table.corrections.drop_of(element.kind).filter(|_| is_told)
}

/// What an element dropped when the table was made that contains it: as the table prints it, else by its own data, which are taken for a clean part in the state of the readings.
pub fn as_tested(element: &Element, table: &BlowerTable, air: DataAir) -> Option<DropData> {
    let printed = table.corrections.drop_of(element.kind).map(|data| data.in_air(air.printed));
    printed.or_else(|| Some(element.drop.as_ref()?.in_air(air.own)))
}

/// Airflow at which a call's heat would double the absolute temperature of the blower's air; nothing for a call that does not heat, or of unknown heat.
///
/// At a blower airflow Q the air behind the blower is then `1 + k/Q` times as warm, of an ideal gas at one pressure as much thinner, and drops that much more.
pub fn warmth(set: &ReadingSet, table: &BlowerTable, call: Call) -> Option<Airflow> {
    let rooms = &set.air;
    let stage: &HeatStage = table.heat_stage(call)?;
    let at = Airflow::from_cfm(1000.0);
    let heat = stage.output * table.heat_share(rooms.altitude, set.voltage);
    let rise = rise_at(heat, at, rooms.at_blower(table.kind, call).density);
    Some(at * (rise.f() / absolute_f(rooms.temperature)))
}

/// Absolute temperature in degrees of Fahrenheit's size.
pub fn absolute_f(temperature: Temperature) -> f64 {
    temperature.f() + 459.67
}

/// Factor on a drop behind the blower for its warm air, at a blower airflow.
pub fn warm_factor(warmth: Option<Airflow>, blower: Airflow) -> f64 {
    warmth.map_or(1.0, |k| 1.0 + k / blower)
}
