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
    Number::new(name, Quantity::Dimension, Range::AboveTo(0.0, LARGEST_SIZE.inches()), "no house has a larger duct")
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
pub static FACE_AREA: Number =
    Number::new("Face area", Quantity::Area, Range::AboveTo(0.0, 10_000.0), "no opening of a house is larger");
/// Area of a filter's media, in².
pub static MEDIA_AREA: Number =
    Number::new("Media area", Quantity::Area, Range::AboveTo(0.0, 1_000_000.0), "no filter of a house has more");
/// Area of a duct's surface, in².
pub static SURFACE_AREA: Number =
    Number::new("Duct surface", Quantity::Area, Range::AboveTo(0.0, 10_000_000.0), "no house has more duct");
/// Length of a run, ft.
pub static RUN_LENGTH: Number =
    Number::new("Duct length", Quantity::Length, Range::AboveTo(0.0, LONGEST_RUN.ft()), "no house has a longer run");
/// Total effective length, ft.
pub static EFFECTIVE_LENGTH: Number = Number::new(
    "Total effective length",
    Quantity::Length,
    Range::AboveTo(0.0, LONGEST_RUN.ft()),
    "no house has a longer run",
);
/// Airflow, cfm, zero allowed.
pub static AIRFLOW: Number = Number::new(
    "Airflow",
    Quantity::Airflow,
    Range::Between(0.0, LARGEST_AIRFLOW.cfm()),
    "no machine of a house moves more",
);
/// Airflow that something is sized for or spread over, cfm, above zero.
pub static DESIGN_AIRFLOW: Number = Number::new(
    "Airflow",
    Quantity::Airflow,
    Range::AboveTo(0.0, LARGEST_AIRFLOW.cfm()),
    "no machine of a house moves more",
);
/// Drop that a part may have, in. w.c.
pub static ALLOWED_DROP: Number =
    Number::new("Allowed drop", Quantity::Pressure, Range::AboveTo(0.0, 10.0), "no blower of a house makes more");
/// Drop as read or by data, in. w.c.
pub static READ_DROP: Number =
    Number::new("Drop", Quantity::Pressure, Range::AboveTo(0.0, 10.0), "no blower of a house makes more");
/// Static left for the ducts, in. w.c.
pub static AVAILABLE_STATIC: Number = Number::new(
    "Static left for the ducts",
    Quantity::Pressure,
    Range::AboveTo(0.0, 10.0),
    "no blower of a house makes more",
);
/// Friction rate that a run may have, in. w.c./100 ft.
pub static FRICTION_RATE: Number = Number::new(
    "Friction rate",
    Quantity::FrictionRate,
    Range::AboveTo(0.0, 100.0),
    "air past any duct of a house loses less",
);
/// Velocity that a duct or face may have, fpm.
pub static ALLOWED_VELOCITY: Number = Number::new(
    "Allowed velocity",
    Quantity::Velocity,
    Range::AboveTo(0.0, 10_000.0),
    "air past a hundred miles an hour is no duct's",
);
/// Roughness of a wall, in.
pub static ROUGHNESS: Number = Number::new(
    "Roughness of the duct wall",
    Quantity::Dimension,
    Range::Between(0.0, 1.0),
    "a wall rougher than an inch is no wall",
);
/// Roughness over diameter.
pub static RELATIVE_ROUGHNESS: Number = Number::new(
    "Roughness over diameter",
    Quantity::Ratio,
    Range::Between(0.0, 0.05),
    "the friction formula ends there",
);
/// Loss coefficient.
pub static LOSS_COEFFICIENT: Number =
    Number::new("Loss coefficient", Quantity::Ratio, Range::Between(0.0, 1000.0), "more is a shut damper");
/// Coefficient of a power law.
pub static COEFFICIENT: Number =
    Number::new("Coefficient of the power law", Quantity::Ratio, Range::Above(0.0), "a part of a path drops something");
/// Exponent of a power law.
pub static EXPONENT: Number = Number {
    file: "exponent",
    refusal: Some("An exponent of {} cannot be; it lies"),
    first: 2.0,
    ..Number::new(
        "Exponent",
        Quantity::Ratio,
        Range::Between(EXPONENTS.0, EXPONENTS.1),
        "laminar flow has 1, turbulent flow about 2",
    )
};
/// Free area over face area.
pub static FREE_AREA: Number =
    Number::new("Free area", Quantity::Share, Range::AboveTo(0.0, 1.0), "an opening is no more than its face");
/// Compression of flexible duct, as a fraction of its stretched length.
pub static COMPRESSION: Number = Number::new(
    "Compression of the flexible duct",
    Quantity::Share,
    Range::Between(0.0, 0.3),
    "the handbook's figures end there",
);
/// Share of the flow.
pub static FLOW_SHARE: Number =
    Number::new("Share of the airflow", Quantity::Share, Range::AboveTo(0.0, 1.0), "it is a part of the whole");
/// Ratio of the smaller diameter to the larger.
pub static DIAMETER_RATIO: Number = Number::new(
    "Smaller over larger diameter",
    Quantity::Ratio,
    Range::AboveTo(0.0, 1.0),
    "it is the smaller over the larger",
);
/// Bend radius over diameter.
pub static BEND_RADIUS: Number = Number::new(
    "Bend radius over diameter",
    Quantity::Ratio,
    Range::Between(0.5, 20.0),
    "no bend is tighter, and a wider one is straight",
);
/// Angle of a bend, degrees.
pub static BEND_ANGLE: Number =
    Number::new("Bend angle", Quantity::Angle, Range::AboveTo(0.0, 180.0), "a duct turns back at most");
/// Straight length over diameter.
pub static STRAIGHT_LENGTH: Number =
    Number::new("Straight length over diameter", Quantity::Ratio, Range::Between(0.0, 1000.0), "more says nothing new");
/// Density, lb/ft³.
pub static DENSITY: Number =
    Number::new("Air density", Quantity::Density, Range::Between(0.02, 0.15), "air of houses lies between");
/// Dynamic viscosity, µPa·s.
pub static VISCOSITY: Number =
    Number::new("Air viscosity", Quantity::Viscosity, Range::Between(10.0, 40.0), "air of houses lies between");
/// How many branches or registers there are.
pub static BRANCHES: Number =
    Number::new("Number of branches", Quantity::Count, Range::Between(1.0, 1000.0), "no house has more");
/// How many of them are open.
pub static OPEN_BRANCHES: Number =
    Number::new("Number of open branches", Quantity::Count, Range::Between(1.0, 1000.0), "no house has more");
/// Cooling capacity, tons.
pub static CAPACITY: Number =
    Number::new("Cooling capacity", Quantity::Capacity, Range::AboveTo(0.0, 50.0), "larger machines are not a house's");
