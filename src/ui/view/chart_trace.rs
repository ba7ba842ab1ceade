//! A fan chart's picture while it is traced: what is marked, what the hand marks next, and which part is seen.

use eframe::egui::Id;

use crate::model::facts::company::Picture;
use crate::model::typed::chart_trace::{AxisOf, ChartTrace, TapTrace, TraceFault};
use crate::model::typed::straightened::press_corner;
use crate::model::typed::table_draft::TableDraft;
use crate::numerics::homography::Place;
use crate::ui::view::picture_look::PictureLook;

/// What a press in the picture marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// The next corner of the chart's frame, or a corner anew.
    Corner,
    /// A point of an axis.
    Axis(AxisOf, usize),
    /// A point of a tap's curve.
    Tap(usize),
}

/// A mark in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ui) enum Mark {
    Corner(usize),
    Axis(AxisOf, usize),
    Point(usize, usize),
}

/// A picture while it is traced.
#[derive(Clone, Debug)]
pub struct TraceView {
    /// The picture and what is seen of it.
    pub(in crate::ui) look: PictureLook,
    trace: ChartTrace,
    /// What a press marks.
    pub(in crate::ui) hand: Hand,
    /// The mark that is dragged.
    pub(in crate::ui) dragged: Option<Mark>,
    /// The field that the hand goes to next.
    pub(in crate::ui) go_to: Option<Id>,
    /// Whether the question before the marks are thrown away stands open.
    pub(in crate::ui) asks: bool,
}

impl TraceView {
    /// Opens a picture with nothing marked.
    pub fn open(file: String, picture: Picture) -> Self {
        Self {
            trace: ChartTrace::of(picture.width, picture.height),
            look: PictureLook::of(file, picture),
            hand: Hand::Axis(AxisOf::Airflow, 0),
            dragged: None,
            go_to: None,
            asks: false,
        }
    }

    /// What is marked.
    pub const fn trace(&self) -> &ChartTrace {
        &self.trace
    }

    pub(in crate::ui) const fn trace_mut(&mut self) -> &mut ChartTrace {
        &mut self.trace
    }

    /// The table of what is marked, once it says one.
    ///
    /// # Errors
    /// The first thing that is missing.
    pub fn draft(&self) -> Result<TableDraft, TraceFault> {
        self.trace.draft(&self.look.file)
    }

    /// The table that its marks make so far.
    pub(in crate::ui) fn in_hand(&self) -> Option<TableDraft> {
        self.draft().ok().filter(|draft| !draft.taps.is_empty())
    }

    /// True where something is marked that makes no table yet.
    pub(in crate::ui) fn has_loose_marks(&self) -> bool {
        !self.trace.is_empty() && self.in_hand().is_none()
    }

    /// What a press here marks, and what the next one will.
    pub(in crate::ui) fn press(&mut self, place: Place) {
        let [width, height] = self.trace.size;
        let place = [place[0].clamp(0.0, width), place[1].clamp(0.0, height)];
        self.look.cross = place;
        match self.hand {
            Hand::Corner => {
                press_corner(&mut self.trace.corners, place);
                if self.trace.corners.len() == 4 {
                    self.hand = self.next_unmarked();
                }
            }
            Hand::Axis(of, index) => {
                self.trace.axis_mut(of).marks[index].at = Some(place);
                self.go_to = Some(value_id(of, index));
                self.hand = self.next_unmarked();
            }
            Hand::Tap(tap) => {
                if let Some(tap) = self.trace.taps.get_mut(tap) {
                    tap.points.push(place);
                }
            }
        }
    }

    /// The first point of an axis that is not marked, else the last tap.
    pub(in crate::ui) fn next_unmarked(&self) -> Hand {
        let marks = AxisOf::ALL.into_iter().flat_map(|of| [(of, 0), (of, 1)]);
        let missing = marks.into_iter().find(|(of, index)| self.trace.axis(*of).marks[*index].at.is_none());
        missing.map_or(Hand::Tap(self.trace.taps.len().saturating_sub(1)), |(of, index)| Hand::Axis(of, index))
    }

    /// Takes the last point of what the hand marks away.
    pub(in crate::ui) fn take_back(&mut self) {
        match self.hand {
            Hand::Corner => {
                self.trace.corners.pop();
            }
            Hand::Axis(of, index) => self.trace.axis_mut(of).marks[index].at = None,
            Hand::Tap(tap) => {
                if let Some(tap) = self.trace.taps.get_mut(tap) {
                    tap.points.pop();
                }
            }
        }
    }

    /// Another tap, named by the next number.
    pub(in crate::ui) fn next_tap(&mut self) {
        let name = (self.trace.taps.len() + 1).to_string();
        self.trace.taps.push(TapTrace { name, points: Vec::new() });
        self.hand = Hand::Tap(self.trace.taps.len() - 1);
    }

    /// Every mark with its place.
    pub(in crate::ui) fn marks(&self) -> Vec<(Mark, Place)> {
        let corners = self.trace.corners.iter().enumerate().map(|(index, place)| (Mark::Corner(index), *place));
        let axes = AxisOf::ALL.into_iter().flat_map(|of| {
            let marks = self.trace.axis(of).marks.iter().enumerate();
            marks.filter_map(move |(index, mark)| Some((Mark::Axis(of, index), mark.at?)))
        });
        let points = self.trace.taps.iter().enumerate().flat_map(|(tap, traced)| {
            traced.points.iter().enumerate().map(move |(index, place)| (Mark::Point(tap, index), *place))
        });
        corners.chain(axes).chain(points).collect()
    }

    /// Moves a mark.
    pub(in crate::ui) fn move_mark(&mut self, mark: Mark, place: Place) {
        match mark {
            Mark::Corner(index) => self.trace.corners.iter_mut().skip(index).take(1).for_each(|corner| *corner = place),
            Mark::Axis(of, index) => self.trace.axis_mut(of).marks[index].at = Some(place),
            Mark::Point(tap, index) => {
                let points = self.trace.taps.iter_mut().skip(tap).take(1).flat_map(|tap| &mut tap.points);
                points.skip(index).take(1).for_each(|point| *point = place);
            }
        }
    }
}

/// Id of the field of an axis point's value.
pub(in crate::ui) fn value_id(of: AxisOf, index: usize) -> Id {
    Id::unique(("value of axis point", of.name(), index))
}
