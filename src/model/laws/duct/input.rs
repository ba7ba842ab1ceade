//! What the duct calculations take from a person, each with the range that makes sense, and the sentence for everything else.

use crate::units::{Airflow, Area, Density, Dimension, FrictionRate, Length, Pressure, UnitSystem, Velocity, show};

/// Largest side or diameter taken: no house has a duct of 100 in. (common practice, no source).
pub const LARGEST_SIZE: Dimension = Dimension::from_in(100.0);
/// Longest run taken (common practice, no source).
pub const LONGEST_RUN: Length = Length::from_ft(5000.0);
/// Largest airflow taken (common practice, no source).
pub const LARGEST_AIRFLOW: Airflow = Airflow::from_cfm(100_000.0);
/// Exponents that a part of an air path can have.
pub const EXPONENTS: (f64, f64) = (1.0, 2.2);

/// One thing that a duct calculation asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// Diameter of a round duct, in.
    Diameter,
    /// Width of a rectangular duct, in.
    Width,
    /// Height of a rectangular duct, in.
    Height,
    /// Long axis of a flat oval duct, in.
    MajorAxis,
    /// Short axis of a flat oval duct, in.
    MinorAxis,
    /// Width of a grille's or filter's face, in.
    FaceWidth,
    /// Height of a grille's or filter's face, in.
    FaceHeight,
    /// Depth of a filter's pleats, in.
    PleatDepth,
    /// Distance from pleat to pleat, in.
    PleatPitch,
    /// Area of a face, in².
    FaceArea,
    /// Area of a filter's media, in².
    MediaArea,
    /// Area of a duct's surface, in².
    SurfaceArea,
    /// Length of a run, ft.
    RunLength,
    /// Total effective length, ft.
    EffectiveLength,
    /// Airflow, cfm, zero allowed.
    Airflow,
    /// Airflow that something is sized for or spread over, cfm, above zero.
    DesignAirflow,
    /// Drop that a part may have, in. w.c.
    AllowedDrop,
    /// Drop as read or by data, in. w.c.
    ReadDrop,
    /// Static left for the ducts, in. w.c.
    AvailableStatic,
    /// Friction rate that a run may have, in. w.c./100 ft.
    FrictionRate,
    /// Velocity that a duct or face may have, fpm.
    AllowedVelocity,
    /// Roughness of a wall, in.
    Roughness,
    /// Roughness over diameter.
    RelativeRoughness,
    /// Loss coefficient.
    LossCoefficient,
    /// Coefficient of a power law.
    Coefficient,
    /// Exponent of a power law.
    Exponent,
    /// Free area over face area.
    FreeArea,
    /// Compression of flexible duct, as a fraction of its stretched length.
    Compression,
    /// Share of the flow.
    FlowShare,
    /// Ratio of the smaller diameter to the larger.
    DiameterRatio,
    /// Bend radius over diameter.
    BendRadius,
    /// Angle of a bend, degrees.
    BendAngle,
    /// Straight length over diameter.
    StraightLength,
    /// Density, lb/ft³.
    Density,
    /// Dynamic viscosity, µPa·s.
    Viscosity,
    /// How many branches or registers there are.
    Branches,
    /// How many of them are open.
    OpenBranches,
    /// Cooling capacity, tons.
    Capacity,
}

/// How a field's number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Size,
    Length,
    Face,
    Flow,
    Drop,
    Rate,
    Speed,
    Density,
    Percent,
    Plain(&'static str),
}

/// Name, kind of number and range of a field.
struct Rule {
    name: &'static str,
    kind: Kind,
    low: Low,
    high: f64,
}

/// The low end of a range.
#[derive(Clone, Copy)]
enum Low {
    Above(f64),
    From(f64),
}

impl Low {
    fn value(self) -> f64 {
        match self {
            Self::Above(value) | Self::From(value) => value,
        }
    }

    fn allows(self, value: f64) -> bool {
        match self {
            Self::Above(low) => value > low,
            Self::From(low) => value >= low,
        }
    }
}

impl Field {
    const fn rule(self) -> Rule {
        use Kind::{Drop, Face, Flow, Percent, Plain, Rate, Size, Speed};
        use Low::{Above, From};
        match self {
            Self::Diameter => sized("Duct diameter"),
            Self::Width => sized("Duct width"),
            Self::Height => sized("Duct height"),
            Self::MajorAxis => sized("Long axis of the oval duct"),
            Self::MinorAxis => sized("Short axis of the oval duct"),
            Self::FaceWidth => sized("Face width"),
            Self::FaceHeight => sized("Face height"),
            Self::PleatDepth => sized("Pleat depth"),
            Self::PleatPitch => sized("Distance between pleats"),
            Self::FaceArea => rule("Face area", Face, Above(0.0), 10_000.0),
            Self::MediaArea => rule("Media area", Face, Above(0.0), 1_000_000.0),
            Self::SurfaceArea => rule("Duct surface", Face, Above(0.0), 10_000_000.0),
            Self::RunLength => rule("Duct length", Kind::Length, Above(0.0), LONGEST_RUN.ft()),
            Self::EffectiveLength => rule("Total effective length", Kind::Length, Above(0.0), LONGEST_RUN.ft()),
            Self::Airflow => rule("Airflow", Flow, From(0.0), LARGEST_AIRFLOW.cfm()),
            Self::DesignAirflow => rule("Airflow", Flow, Above(0.0), LARGEST_AIRFLOW.cfm()),
            Self::AllowedDrop => rule("Allowed drop", Drop, Above(0.0), 10.0),
            Self::ReadDrop => rule("Drop", Drop, Above(0.0), 10.0),
            Self::AvailableStatic => rule("Static left for the ducts", Drop, Above(0.0), 10.0),
            Self::FrictionRate => rule("Friction rate", Rate, Above(0.0), 100.0),
            Self::AllowedVelocity => rule("Allowed velocity", Speed, Above(0.0), 10_000.0),
            Self::Roughness => rule("Roughness of the duct wall", Size, From(0.0), 1.0),
            Self::RelativeRoughness => rule("Roughness over diameter", Plain(""), From(0.0), 0.05),
            Self::LossCoefficient => rule("Loss coefficient", Plain(""), From(0.0), 1000.0),
            Self::Coefficient => rule("Coefficient of the power law", Plain(""), Above(0.0), f64::MAX),
            Self::Exponent => rule("Exponent", Plain(""), From(EXPONENTS.0), EXPONENTS.1),
            Self::FreeArea => rule("Free area", Percent, Above(0.0), 1.0),
            Self::Compression => rule("Compression of the flexible duct", Percent, From(0.0), 0.3),
            Self::FlowShare => rule("Share of the airflow", Percent, Above(0.0), 1.0),
            Self::DiameterRatio => rule("Smaller over larger diameter", Plain(""), Above(0.0), 1.0),
            Self::BendRadius => rule("Bend radius over diameter", Plain(""), From(0.5), 20.0),
            Self::BendAngle => rule("Bend angle", Plain("°"), Above(0.0), 180.0),
            Self::StraightLength => rule("Straight length over diameter", Plain(""), From(0.0), 1000.0),
            Self::Density => rule("Air density", Kind::Density, From(0.02), 0.15),
            Self::Viscosity => rule("Air viscosity", Plain(" µPa·s"), From(10.0), 40.0),
            Self::Branches => rule("Number of branches", Plain(""), From(1.0), 1000.0),
            Self::OpenBranches => rule("Number of open branches", Plain(""), From(1.0), 1000.0),
            Self::Capacity => rule("Cooling capacity", Plain(" ton"), Above(0.0), 50.0),
        }
    }

    /// The name that a person sees.
    pub const fn name(self) -> &'static str {
        self.rule().name
    }

    /// The smallest and the largest number in the stored unit; the smallest may itself be shut out.
    pub fn range(self) -> (f64, f64) {
        let rule = self.rule();
        (rule.low.value(), rule.high)
    }

    /// The number itself when it is finite and in range.
    ///
    /// # Errors
    /// [`InputError::OutOfRange`].
    #[inline]
    pub fn check(self, value: f64) -> Result<f64, InputError> {
        let rule = self.rule();
        if rule.low.allows(value) && value <= rule.high && value.is_finite() {
            Ok(value)
        } else {
            Err(InputError::OutOfRange { field: self, value })
        }
    }
}

const fn rule(name: &'static str, kind: Kind, low: Low, high: f64) -> Rule {
    Rule { name, kind, low, high }
}

const fn sized(name: &'static str) -> Rule {
    rule(name, Kind::Size, Low::Above(0.0), LARGEST_SIZE.inches())
}

impl Kind {
    fn written(self, value: f64, units: UnitSystem) -> String {
        if !value.is_finite() {
            return "no number".to_owned();
        }
        match self {
            Self::Size => sized_text(value, units),
            Self::Length => show::length(Length::from_ft(value), units),
            Self::Face => show::area(Area::from_in2(value), units),
            Self::Flow => {
                format!("{} {}", show::airflow_exact(Airflow::from_cfm(value), units), units.airflow_unit())
            }
            Self::Drop => {
                format!("{} {}", show::pressure_exact(Pressure::from_in_wc(value), units), units.pressure_unit())
            }
            Self::Rate => show::friction_rate(FrictionRate::from_in_wc_100ft(value), units),
            Self::Speed => show::velocity(Velocity::from_fpm(value), units),
            Self::Density => show::density(Density::from_lb_ft3(value), units),
            Self::Percent => format!("{} %", show::trimmed(value * 100.0, 1)),
            Self::Plain(unit) => format!("{}{unit}", show::trimmed(value, 4)),
        }
    }
}

fn sized_text(inches: f64, units: UnitSystem) -> String {
    show::dimension(Dimension::from_in(inches), units)
}

/// Why a duct calculation has no answer; [`InputError::sentence`] says it in the units shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InputError {
    /// A number that is not finite or outside its field's range.
    OutOfRange {
        /// Which field.
        field: Field,
        /// The number, in the field's stored unit.
        value: f64,
    },
    /// A flat oval duct whose short axis is longer than its long one.
    AxesSwapped {
        /// Long axis as given.
        major: Dimension,
        /// Short axis as given.
        minor: Dimension,
    },
    /// More branches open than there are.
    MoreOpenThanThere {
        /// Said to be open.
        open: u32,
        /// All of them.
        of: u32,
    },
    /// Filters of different depth compared by area alone.
    OtherDepth {
        /// Depth of the filter as it is.
        now: Dimension,
        /// Depth of the new one.
        then: Dimension,
    },
    /// A parallel group without branches.
    NoBranches,
    /// A branch whose drop does not rise with its airflow.
    NotRising,
    /// Even the largest size drops more than allowed.
    NoSizeIsEnough {
        /// Drop with the largest size.
        drop: Pressure,
        /// Drop allowed.
        allowed: Pressure,
    },
    /// Even the smallest size drops less than allowed.
    AnySizeIsEnough {
        /// Drop allowed.
        allowed: Pressure,
    },
}

impl InputError {
    /// One sentence naming the field, the value and what would be right.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let size = |dimension: Dimension| show::dimension(dimension, units);
        let pressure = |pressure: Pressure| Kind::Drop.written(pressure.in_wc(), units);
        match *self {
            Self::OutOfRange { field, value } => out_of_range(field, value, units),
            Self::AxesSwapped { major, minor } => format!(
                "The oval duct's short axis of {} is longer than its long axis of {}; swap the two",
                size(minor),
                size(major)
            ),
            Self::MoreOpenThanThere { open, of } => {
                format!("{open} branches are said to be open where there are {of}; at most {of} can be")
            }
            Self::OtherDepth { now, then } => format!(
                "A filter {} deep cannot be judged from one {} deep by its face area; give its own drop data",
                size(then),
                size(now)
            ),
            Self::NoBranches => "The parallel group has no branches; it takes at least one".to_owned(),
            Self::NotRising => {
                "A branch of the parallel group does not drop more at more airflow; its drops must be above zero"
                    .to_owned()
            }
            Self::NoSizeIsEnough { drop, allowed } => format!(
                "No duct up to {} keeps to {}; the largest still drops {}",
                size(LARGEST_SIZE),
                pressure(allowed),
                pressure(drop)
            ),
            Self::AnySizeIsEnough { allowed } => format!(
                "Any duct drops less than the {} allowed at this airflow; check the airflow, the length and the drop",
                pressure(allowed)
            ),
        }
    }
}

fn out_of_range(field: Field, value: f64, units: UnitSystem) -> String {
    let rule = field.rule();
    let written = |value| rule.kind.written(value, units);
    let right = match rule.low {
        _ if rule.high >= f64::MAX => "above 0".to_owned(),
        Low::Above(low) => format!("above {} and at most {}", written(low), written(rule.high)),
        Low::From(low) => format!("from {} to {}", written(low), written(rule.high)),
    };
    format!("{} cannot be {}; it must be {right}", rule.name, written(value))
}

impl std::fmt::Display for InputError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.sentence(UnitSystem::InchPound))
    }
}

impl std::error::Error for InputError {}

/// A number of branches as a factor.
///
/// # Errors
/// Zero, more than 1,000, or more open than there are.
pub(super) fn open_of(open: u32, of: u32) -> Result<f64, InputError> {
    Field::Branches.check(f64::from(of))?;
    Field::OpenBranches.check(f64::from(open))?;
    if open > of {
        return Err(InputError::MoreOpenThanThere { open, of });
    }
    Ok(f64::from(of) / f64::from(open))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(field: Field, value: f64, units: UnitSystem, sentence: &str) {
        assert_eq!(field.check(value).unwrap_err().sentence(units), sentence);
    }

    #[test]
    fn every_bad_number_gets_one_sentence_in_the_units_shown() {
        let (ip, si) = (UnitSystem::InchPound, UnitSystem::SiLitres);
        check(Field::Diameter, 0.0, ip, "Duct diameter cannot be 0 in; it must be above 0 in and at most 100 in");
        check(
            Field::Diameter,
            400.0,
            si,
            "Duct diameter cannot be 10,160 mm; it must be above 0 mm and at most 2,540 mm",
        );
        check(Field::RunLength, 0.0, ip, "Duct length cannot be 0 ft; it must be above 0 ft and at most 5,000 ft");
        check(Field::Exponent, 2.5, ip, "Exponent cannot be 2.5; it must be from 1 to 2.2");
        check(Field::Airflow, f64::NAN, ip, "Airflow cannot be no number; it must be from 0 cfm to 100,000 cfm");
        check(Field::FreeArea, 1.2, ip, "Free area cannot be 120 %; it must be above 0 % and at most 100 %");
        check(Field::Coefficient, -1.0, ip, "Coefficient of the power law cannot be −1; it must be above 0");
    }

    #[test]
    fn numbers_in_range_pass_and_their_bounds_are_as_said() {
        assert!(Field::Exponent.check(1.0).is_ok() && Field::Exponent.check(2.2).is_ok());
        assert!(Field::Diameter.check(100.0).is_ok() && Field::Diameter.check(f64::INFINITY).is_err());
        assert!(Field::Airflow.check(0.0).is_ok() && Field::DesignAirflow.check(0.0).is_err());
        assert_eq!(Field::Compression.range(), (0.0, 0.3));
    }
}
