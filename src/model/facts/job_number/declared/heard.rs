//! Velocities past which the air of a return is heard.

use super::{Always, Declared, in_job};
use crate::model::facts::number::{Number, Range};
use crate::units::Velocity;
use crate::units::quantity::Quantity;

/// Where they come from.
const MANUAL_D: &str = "ANSI/ACCA 1 Manual D, most for quiet, recalled";

/// In a return duct.
pub(super) const IN_DUCT: Declared = in_job(
    "Limits",
    Number {
        file: "duct_velocity_fpm",
        refusal: Some("A velocity in a return duct of {} cannot be; it lies"),
        first: 700.0,
        source: MANUAL_D,
        // Air slower than that moves nothing, and faster is no house's.
        ..Number::new("Return duct velocity", Quantity::Velocity, Range::Between(50.0, 5_000.0))
    },
    ("return duct velocity", "duct_velocity"),
    Always(|job| job.limits.duct_velocity.fpm(), |job, fpm| job.limits.duct_velocity = Velocity::from_fpm(fpm)),
);

/// At the face of a return grille.
pub(super) const AT_GRILLE: Declared = in_job(
    "Limits",
    Number {
        file: "grille_velocity_fpm",
        refusal: Some("A velocity at a return grille of {} cannot be; it lies"),
        first: 500.0,
        source: MANUAL_D,
        // Air slower than that moves nothing, and faster is no house's.
        ..Number::new("Return grille velocity", Quantity::Velocity, Range::Between(50.0, 5_000.0))
    },
    ("return grille velocity", "grille_velocity"),
    Always(|job| job.limits.grille_velocity.fpm(), |job, fpm| job.limits.grille_velocity = Velocity::from_fpm(fpm)),
);
