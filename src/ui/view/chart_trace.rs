//! A fan chart's picture while it is traced: what is marked, what the hand marks next, and which part is seen.

use std::fmt;

use eframe::egui::{ColorImage, Context, Id, TextureHandle, TextureOptions};

use crate::model::facts::company::Picture;
use crate::model::typed::chart_trace::{AxisOf, ChartTrace, TapTrace, TraceFault};
use crate::model::typed::table_draft::TableDraft;
use crate::numerics::homography::Place;

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

/// Most pixels along an edge of what is drawn; a larger picture is drawn coarser and read as fine as it is.
const MOST_DRAWN: usize = 4096;

/// A picture while it is traced.
#[derive(Clone)]
pub struct TraceView {
    /// Its name.
    pub(in crate::ui) file: String,
    picture: Picture,
    drawn: Option<TextureHandle>,
    trace: ChartTrace,
    /// What a press marks.
    pub(in crate::ui) hand: Hand,
    /// Points of the screen for each pixel; nothing while all of it is seen.
    pub(in crate::ui) zoom: Option<f32>,
    /// The pixel in the middle of what is seen.
    pub(in crate::ui) middle: Place,
    /// Where the keys have brought the cross.
    pub(in crate::ui) cross: Place,
    /// The mark that is dragged.
    pub(in crate::ui) dragged: Option<Mark>,
    /// The field that the hand goes to next.
    pub(in crate::ui) go_to: Option<Id>,
    /// Whether the question before the marks are thrown away stands open.
    pub(in crate::ui) asks: bool,
}

impl fmt::Debug for TraceView {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("TraceView").field("file", &self.file).field("trace", &self.trace).finish_non_exhaustive()
    }
}

impl TraceView {
    /// Opens a picture with nothing marked.
    pub fn open(file: String, picture: Picture) -> Self {
        let middle = [f64::from(picture.width) / 2.0, f64::from(picture.height) / 2.0];
        Self {
            trace: ChartTrace::of(picture.width, picture.height),
            file,
            picture,
            drawn: None,
            hand: Hand::Axis(AxisOf::Airflow, 0),
            zoom: None,
            middle,
            cross: middle,
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
        self.trace.draft(&self.file)
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
        self.cross = place;
        match self.hand {
            Hand::Corner => {
                if self.trace.corners.len() < 4 {
                    self.trace.corners.push(place);
                } else if let Some(nearest) = nearest(&self.trace.corners, place) {
                    self.trace.corners[nearest] = place;
                }
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

    /// The picture as it is drawn, made once.
    pub(in crate::ui) fn texture(&mut self, ctx: &Context) -> TextureHandle {
        let most = ctx.input(|input| input.max_texture_side).clamp(64, MOST_DRAWN);
        let picture = &self.picture;
        let make = || ctx.load_texture("traced picture", coarser(picture, most), TextureOptions::LINEAR);
        self.drawn.get_or_insert_with(make).clone()
    }
}

/// Id of the field of an axis point's value.
pub(in crate::ui) fn value_id(of: AxisOf, index: usize) -> Id {
    Id::unique(("value of axis point", of.name(), index))
}

fn nearest(places: &[Place], to: Place) -> Option<usize> {
    let far = |place: &Place| (place[0] - to[0]).hypot(place[1] - to[1]);
    (0..places.len()).min_by(|one, other| far(&places[*one]).total_cmp(&far(&places[*other])))
}

/// A picture of at most so many pixels along an edge: each the mean of a square of the larger one.
fn coarser(picture: &Picture, most: usize) -> ColorImage {
    let (width, height) = (picture.width as usize, picture.height as usize);
    let step = width.max(height).div_ceil(most).max(1);
    let size = [(width / step).max(1), (height / step).max(1)];
    let mut pixels = Vec::with_capacity(size[0] * size[1] * 4);
    for row in 0..size[1] {
        for column in 0..size[0] {
            for colour in 0..4 {
                let of = |index: usize| {
                    let (x, y) = (column * step + index % step, row * step + index / step);
                    u32::from(picture.rgba[(y.min(height - 1) * width + x.min(width - 1)) * 4 + colour])
                };
                let sum: u32 = (0..step * step).map(of).sum();
                let mean = sum as f32 / (step * step) as f32;
                pixels.push(mean.round() as u8);
            }
        }
    }
    ColorImage::from_rgba_unmultiplied(size, &pixels)
}
