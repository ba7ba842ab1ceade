//! A fan chart in a picture, traced by hand: two points on each axis, each tap's curve point by point.
//!
//! A photograph that was taken askew is straightened first, by the four corners of the chart's frame ([`crate::numerics::homography`]).
//! What is left of a tilt is undone by the axes themselves: a point counts along the line through each axis' two points.

mod read;

use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::numerics::homography::Place;

pub use read::{TraceFault, TracedPoint, TracedTap};

/// How values lie along an axis.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scale {
    /// The same step everywhere.
    #[default]
    Linear,
    /// The same factor everywhere.
    Logarithmic,
}

impl Scale {
    /// Both, in the order of menus.
    pub const ALL: [Self; 2] = [Self::Linear, Self::Logarithmic];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Logarithmic => "logarithmic",
        }
    }
}

/// A point of an axis.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AxisMark {
    /// Where it is in the picture, pixels from its left upper corner.
    pub at: Option<Place>,
    /// The value there, as typed.
    pub value: String,
}

/// One of the two axes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TraceAxis {
    /// Two of its points.
    pub marks: [AxisMark; 2],
    /// How values lie along it.
    pub scale: Scale,
}

/// Which axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxisOf {
    /// Of airflow, mostly across.
    Airflow,
    /// Of static pressure, mostly up.
    Static,
}

impl AxisOf {
    /// Both, in the order in which they are marked.
    pub const ALL: [Self; 2] = [Self::Airflow, Self::Static];

    /// What it is called within a sentence.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Airflow => "airflow",
            Self::Static => "static",
        }
    }
}

/// One tap's curve as far as it is traced.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TapTrace {
    /// The tap's name.
    pub name: String,
    /// Points of its curve in the picture, in any order.
    pub points: Vec<Place>,
}

/// A chart while it is traced.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartTrace {
    /// Width and height of the picture, pixels.
    pub size: Place,
    /// The corners of the chart's frame, left upper first, on in the clock's sense; all four or none count.
    pub corners: Vec<Place>,
    /// The axis of airflow.
    pub airflow: TraceAxis,
    /// The axis of static pressure.
    pub esp: TraceAxis,
    /// Unit of the airflows.
    pub airflow_unit: AirflowUnit,
    /// Unit of the static pressures.
    pub pressure_unit: PressureUnit,
    /// The taps.
    pub taps: Vec<TapTrace>,
}

/// Most points of one tap; a dozen says a curve.
pub const MOST_POINTS: usize = 60;

impl ChartTrace {
    /// Nothing marked yet in a picture of that many pixels.
    pub fn of(width: u32, height: u32) -> Self {
        Self {
            size: [f64::from(width), f64::from(height)],
            corners: Vec::new(),
            airflow: TraceAxis::default(),
            esp: TraceAxis::default(),
            airflow_unit: AirflowUnit::default(),
            pressure_unit: PressureUnit::default(),
            taps: vec![TapTrace { name: "1".to_owned(), points: Vec::new() }],
        }
    }

    /// An axis.
    pub const fn axis(&self, of: AxisOf) -> &TraceAxis {
        match of {
            AxisOf::Airflow => &self.airflow,
            AxisOf::Static => &self.esp,
        }
    }

    /// An axis, to be changed.
    pub const fn axis_mut(&mut self, of: AxisOf) -> &mut TraceAxis {
        match of {
            AxisOf::Airflow => &mut self.airflow,
            AxisOf::Static => &mut self.esp,
        }
    }

    /// True when nothing is marked.
    pub fn is_empty(&self) -> bool {
        let has_mark = |axis: &TraceAxis| axis.marks.iter().any(|mark| mark.at.is_some());
        let has_axes = AxisOf::ALL.into_iter().any(|of| has_mark(self.axis(of)));
        self.corners.is_empty() && !has_axes && self.taps.iter().all(|tap| tap.points.is_empty())
    }
}

#[cfg(test)]
mod tests;
