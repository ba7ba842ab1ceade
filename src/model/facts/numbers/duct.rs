//! What the duct calculations take from a person; every range is common practice without a source, where nothing else is said.

use crate::model::facts::number::{Number, Range};
use crate::units::quantity::Quantity;
use crate::units::{Airflow, Dimension, Length};

/// Largest side or diameter taken: no house has a duct of 100 in. (common practice, no source).
pub const LARGEST_SIZE: Dimension = Dimension::from_in(100.0);
/// Longest run taken (common practice, no source).
pub const LONGEST_RUN: Length = Length::from_ft(5000.0);
/// Largest airflow taken (common practice, no source).
pub const LARGEST_AIRFLOW: Airflow = Airflow::from_cfm(100_000.0);
/// Exponents that a part of an air path can have.
pub const EXPONENTS: (f64, f64) = (1.0, 2.2);

const fn size(name: &'static str) -> Number {
    // No house has a larger duct.
    Number::new(name, Quantity::Dimension, Range::AboveTo(0.0, LARGEST_SIZE.inches()))
}

/// Diameter of a round duct, in.
pub static DIAMETER: Number = size("Duct diameter");
/// Width of a rectangular duct, in.
pub static WIDTH: Number = size("Duct width");
/// Height of a rectangular duct, in.
pub static HEIGHT: Number = size("Duct height");
/// Long axis of a flat oval duct, in.
pub static MAJOR_AXIS: Number = size("Long axis of the oval duct");
/// Short axis of a flat oval duct, in.
pub static MINOR_AXIS: Number = size("Short axis of the oval duct");
/// Width of a grille's or filter's face, in.
pub static FACE_WIDTH: Number = size("Face width");
/// Height of a grille's or filter's face, in.
pub static FACE_HEIGHT: Number = size("Face height");
/// Depth of a filter's pleats, in.
pub static PLEAT_DEPTH: Number = size("Pleat depth");
/// Distance from pleat to pleat, in.
pub static PLEAT_PITCH: Number = size("Distance between pleats");
/// Area of a face, in².
/// No opening of a house is larger.
pub static FACE_AREA: Number = Number::new("Face area", Quantity::Area, Range::AboveTo(0.0, 10_000.0));
/// Area of a filter's media, in².
/// No filter of a house has more.
pub static MEDIA_AREA: Number = Number::new("Media area", Quantity::Area, Range::AboveTo(0.0, 1_000_000.0));
/// Area of a duct's surface, in².
/// No house has more duct.
pub static SURFACE_AREA: Number = Number::new("Duct surface", Quantity::Area, Range::AboveTo(0.0, 10_000_000.0));
/// Length of a run, ft.
/// No house has a longer run.
pub static RUN_LENGTH: Number = Number::new("Duct length", Quantity::Length, Range::AboveTo(0.0, LONGEST_RUN.ft()));
/// Total effective length, ft.
/// No house has a longer run.
pub static EFFECTIVE_LENGTH: Number =
    Number::new("Total effective length", Quantity::Length, Range::AboveTo(0.0, LONGEST_RUN.ft()));
/// Airflow, cfm, zero allowed.
/// No machine of a house moves more.
pub static AIRFLOW: Number = Number::new("Airflow", Quantity::Airflow, Range::Between(0.0, LARGEST_AIRFLOW.cfm()));
/// Airflow that something is sized for or spread over, cfm, above zero.
/// No machine of a house moves more.
pub static DESIGN_AIRFLOW: Number =
    Number::new("Airflow", Quantity::Airflow, Range::AboveTo(0.0, LARGEST_AIRFLOW.cfm()));
/// Drop that a part may have, in. w.c.
/// No blower of a house makes more.
pub static ALLOWED_DROP: Number = Number::new("Allowed drop", Quantity::Pressure, Range::AboveTo(0.0, 10.0));
/// Drop as read or by data, in. w.c.
/// No blower of a house makes more.
pub static READ_DROP: Number = Number::new("Drop", Quantity::Pressure, Range::AboveTo(0.0, 10.0));
/// Static left for the ducts, in. w.c.
/// No blower of a house makes more.
pub static AVAILABLE_STATIC: Number =
    Number::new("Static left for the ducts", Quantity::Pressure, Range::AboveTo(0.0, 10.0));
/// Friction rate that a run may have, in. w.c./100 ft.
/// Air past any duct of a house loses less.
pub static FRICTION_RATE: Number = Number::new("Friction rate", Quantity::FrictionRate, Range::AboveTo(0.0, 100.0));
/// Velocity that a duct or face may have, fpm.
/// Air past a hundred miles an hour is no duct's.
pub static ALLOWED_VELOCITY: Number =
    Number::new("Allowed velocity", Quantity::Velocity, Range::AboveTo(0.0, 10_000.0));
/// Roughness of a wall, in.
/// A wall rougher than an inch is no wall.
pub static ROUGHNESS: Number = Number::new("Roughness of the duct wall", Quantity::Dimension, Range::Between(0.0, 1.0));
/// Roughness over diameter.
/// The friction formula ends there.
pub static RELATIVE_ROUGHNESS: Number =
    Number::new("Roughness over diameter", Quantity::Ratio, Range::Between(0.0, 0.05));
/// Loss coefficient.
/// More is a shut damper.
pub static LOSS_COEFFICIENT: Number = Number::new("Loss coefficient", Quantity::Ratio, Range::Between(0.0, 1000.0));
/// Coefficient of a power law.
/// A part of a path drops something.
pub static COEFFICIENT: Number = Number::new("Coefficient of the power law", Quantity::Ratio, Range::Above(0.0));
/// Exponent of a power law.
pub static EXPONENT: Number = Number {
    file: "exponent",
    refusal: Some("An exponent of {} cannot be; it lies"),
    first: 2.0,
    // Laminar flow has 1, turbulent flow about 2.
    ..Number::new("Exponent", Quantity::Ratio, Range::Between(EXPONENTS.0, EXPONENTS.1))
};
/// Free area over face area.
/// An opening is no more than its face.
pub static FREE_AREA: Number = Number::new("Free area", Quantity::Share, Range::AboveTo(0.0, 1.0));
/// Compression of flexible duct, as a fraction of its stretched length.
/// The handbook's figures end there.
pub static COMPRESSION: Number =
    Number::new("Compression of the flexible duct", Quantity::Share, Range::Between(0.0, 0.3));
/// Share of the flow.
/// It is a part of the whole.
pub static FLOW_SHARE: Number = Number::new("Share of the airflow", Quantity::Share, Range::AboveTo(0.0, 1.0));
/// Ratio of the smaller diameter to the larger.
/// It is the smaller over the larger.
pub static DIAMETER_RATIO: Number =
    Number::new("Smaller over larger diameter", Quantity::Ratio, Range::AboveTo(0.0, 1.0));
/// Bend radius over diameter.
/// No bend is tighter, and a wider one is straight.
pub static BEND_RADIUS: Number = Number::new("Bend radius over diameter", Quantity::Ratio, Range::Between(0.5, 20.0));
/// Angle of a bend, degrees.
/// A duct turns back at most.
pub static BEND_ANGLE: Number = Number::new("Bend angle", Quantity::Angle, Range::AboveTo(0.0, 180.0));
/// Straight length over diameter.
/// More says nothing new.
pub static STRAIGHT_LENGTH: Number =
    Number::new("Straight length over diameter", Quantity::Ratio, Range::Between(0.0, 1000.0));
/// Density, lb/ft³.
/// Air of houses lies between.
pub static DENSITY: Number = Number::new("Air density", Quantity::Density, Range::Between(0.02, 0.15));
/// Dynamic viscosity, µPa·s.
/// Air of houses lies between.
pub static VISCOSITY: Number = Number::new("Air viscosity", Quantity::Viscosity, Range::Between(10.0, 40.0));
/// How many branches or registers there are.
/// No house has more.
pub static BRANCHES: Number = Number::new("Number of branches", Quantity::Count, Range::Between(1.0, 1000.0));
/// How many of them are open.
/// No house has more.
pub static OPEN_BRANCHES: Number = Number::new("Number of open branches", Quantity::Count, Range::Between(1.0, 1000.0));
/// Cooling capacity, tons.
/// Larger machines are not a house's.
pub static CAPACITY: Number = Number::new("Cooling capacity", Quantity::Capacity, Range::AboveTo(0.0, 50.0));
