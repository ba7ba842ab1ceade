//! Laws of curves, ducts and air on typed quantities: they know no readings and no air path.

pub mod duct;
pub mod flow_plate;
pub mod other_airflow;
pub mod system_curve;
pub mod table_curves;
pub mod tap_curve;
pub mod thin_air;
