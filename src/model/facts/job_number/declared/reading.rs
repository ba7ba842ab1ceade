//! What a reading of static pressure may be off by besides the manometer's own error.

use super::{Always, Declared, error_pressure, in_job};
use crate::model::facts::number::Number;
use crate::units::Pressure;

/// Each port's constant error.
pub(super) const PORT_OFFSET: Declared = in_job(
    "Accuracy",
    Number {
        file: "port_offset_in_wc",
        ..error_pressure(
            "Port's error",
            "A port's error of {} cannot be; it lies",
            0.01,
            "Assumed: a tip not square to the flow, turbulence",
        )
    },
    ("port's error", "port_offset"),
    Always(|job| job.accuracy.port_offset.in_wc(), |job, in_wc| job.accuracy.port_offset = Pressure::from_in_wc(in_wc)),
);

/// What the same reading taken again differs by.
pub(super) const SCATTER: Declared = in_job(
    "Accuracy",
    Number {
        file: "reading_scatter_in_wc",
        ..error_pressure(
            "A reading again",
            "A scatter of readings of {} cannot be; it lies",
            0.005,
            "Common practice, no source: half of the last digit that instruments show",
        )
    },
    ("scatter of a reading", "reading_scatter"),
    Always(
        |job| job.accuracy.reading_scatter.in_wc(),
        |job, in_wc| job.accuracy.reading_scatter = Pressure::from_in_wc(in_wc),
    ),
);
