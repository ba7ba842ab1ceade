//! A plate or grid in the filter's slot, and how far it and a hood may be off.

use super::{Always, Declared, InSet, Maybe, error_share, in_job};
use crate::model::facts::number::{Number, Range};
use crate::model::facts::numbers::job::{HIGHEST_STATIC, LARGEST_AIRFLOW};
use crate::units::quantity::Quantity;
use crate::units::{Airflow, Pressure};

const fn airflow(name: &'static str, file: &'static str, refusal: &'static str, first: f64) -> Number {
    Number {
        file,
        refusal: Some(refusal),
        held: Some(Range::Above(0.0)),
        first,
        // No machine of a house moves less or more.
        ..Number::new(name, Quantity::Airflow, Range::Between(50.0, LARGEST_AIRFLOW))
    }
}

/// Airflow read off its own scale, if it was.
pub(super) const AIRFLOW: Declared = Declared {
    number: airflow("Plate, its scale", "airflow_cfm", "A plate's airflow of {} cannot be; it lies", 1_100.0),
    undo: "plate's airflow",
    report: "plate_airflow",
    stands: InSet(Maybe(
        |set| set.airflow.plate.airflow.map(Airflow::cfm),
        |set, cfm| set.airflow.plate.airflow = cfm.map(Airflow::from_cfm),
    )),
};

/// Airflow at 1 in. w.c. by its maker's law, if known.
pub(super) const AT_ONE: Declared = Declared {
    number: airflow(
        "Plate, at 1 in. w.c.",
        "at_one_in_wc_cfm",
        "A plate that passes {} at 1 in. w.c. cannot be; it lies",
        2_500.0,
    ),
    undo: "plate's law",
    report: "plate_at_one",
    stands: InSet(Maybe(
        |set| set.airflow.plate.at_one.map(Airflow::cfm),
        |set, cfm| set.airflow.plate.at_one = cfm.map(Airflow::from_cfm),
    )),
};

/// Exponent of that law.
pub(super) const EXPONENT: Declared = Declared {
    number: Number {
        file: "exponent",
        refusal: Some("A plate's exponent of {} cannot be; it lies"),
        first: 0.5,
        // From a sharp edge, whose drop goes with the square, to a mat, whose drop goes with the airflow itself.
        ..Number::new("Plate, exponent", Quantity::Ratio, Range::Between(0.45, 1.0))
    },
    undo: "plate's exponent",
    report: "plate_exponent",
    stands: InSet(Always(|set| set.airflow.plate.exponent, |set, n| set.airflow.plate.exponent = n)),
};

const fn pressure(name: &'static str, file: &'static str, refusal: &'static str, first: f64) -> Number {
    Number {
        file,
        refusal: Some(refusal),
        held: Some(Range::Above(0.0)),
        first,
        // Less no manometer tells, and no blower of a house makes more.
        ..Number::new(name, Quantity::Pressure, Range::Between(0.005, HIGHEST_STATIC))
    }
}

/// Pressure difference read at it, if it was.
pub(super) const DROP: Declared = Declared {
    number: pressure("Plate, difference", "drop_in_wc", "A plate's difference of {} cannot be; it lies", 0.2),
    undo: "plate's difference",
    report: "plate_drop",
    stands: InSet(Maybe(
        |set| set.airflow.plate.drop.map(Pressure::in_wc),
        |set, in_wc| set.airflow.plate.drop = in_wc.map(Pressure::from_in_wc),
    )),
};

/// Static in the supply plenum without it, if read.
pub(super) const USUAL_STATIC: Declared = Declared {
    number: pressure(
        "Plenum without plate",
        "usual_static_in_wc",
        "A static of {} in the supply plenum without the plate cannot be; it lies",
        0.25,
    ),
    undo: "static without the plate",
    report: "usual_static",
    stands: InSet(Maybe(
        |set| set.airflow.plate.usual_static.map(Pressure::in_wc),
        |set, in_wc| set.airflow.plate.usual_static = in_wc.map(Pressure::from_in_wc),
    )),
};

/// The same with the plate in.
pub(super) const PLATE_STATIC: Declared = Declared {
    number: pressure(
        "Plenum with plate",
        "plate_static_in_wc",
        "A static of {} in the supply plenum with the plate cannot be; it lies",
        0.25,
    ),
    undo: "static with the plate",
    report: "plate_static",
    stands: InSet(Maybe(
        |set| set.airflow.plate.plate_static.map(Pressure::in_wc),
        |set, in_wc| set.airflow.plate.plate_static = in_wc.map(Pressure::from_in_wc),
    )),
};

/// Error of grilles read by a hood and added up.
pub(super) const HOOD_ERROR: Declared = in_job(
    "Accuracy",
    Number {
        file: "hood_fraction",
        ..error_share(
            "Hood's error",
            "A hood's error of {} cannot be; it lies",
            0.10,
            "Common practice, no source: of the sum of all grilles",
        )
    },
    ("hood's error", "hood_fraction"),
    Always(|job| job.accuracy.hood_fraction, |job, share| job.accuracy.hood_fraction = share),
);

/// Error of the plate.
pub(super) const PLATE_ERROR: Declared = in_job(
    "Accuracy",
    Number {
        file: "plate_fraction",
        ..error_share(
            "Plate's error",
            "A plate's error of {} cannot be; it lies",
            0.07,
            "Common practice, no source: air beside the plate, uneven flow",
        )
    },
    ("plate's error", "plate_fraction"),
    Always(|job| job.accuracy.plate_fraction, |job, share| job.accuracy.plate_fraction = share),
);
