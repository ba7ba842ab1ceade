//! One frame of the chart on the screen: lines, marks, labels, the read-out.

use eframe::egui::{self, Align2, Color32, Pos2, Rect, Stroke, Ui, pos2, vec2};
use egui_plot::PlotTransform;

use crate::model::answer::Answer;
use crate::model::path::tesp::Bound;
use crate::model::verdicts::system::Running;
use crate::model::wording::visit;
use crate::ui::chart::after::{Marks, Projected};
use crate::ui::chart::aside::{self, Aside};
use crate::ui::chart::labels::{self, Line, Look, Place, Placer, Wanted, Way};
use crate::ui::chart::scene::{self, Drawn, Scene};
use crate::ui::chart::visit::OtherReadings;
use crate::ui::chart::{handle, hover, paint, words};
use crate::ui::theme::{self, Palette};
use crate::ui::view::{Screen, View};
use crate::units::{Airflow, Pressure, show};

/// Under this width of the plot, its labels say less.
const NARROW: f32 = 460.0;

/// Width of a curve that stands back.
const QUIET: f32 = 1.0;

/// How taps are named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Naming {
    /// "tap 3".
    Full,
    /// "3", and "tap 4" in full for the tap in use.
    Short,
    /// "3" for every tap.
    Bare,
}

/// How far from the point its label may stand.
const POINT_RINGS: [f32; 7] = [paint::POINT, 19.0, 33.0, 51.0, 75.0, 110.0, 150.0];

/// Room over the frame for a label that finds none in it, and how much of it the axis' title takes.
const OVER_FRAME: f32 = 19.0;
const TITLE: f32 = 160.0;

/// How little a bare name is liked, in crossed points of line.
const SHORT: f32 = 7.0;

/// What one frame draws from.
pub struct Drawing<'a> {
    screen: &'a Screen<'a>,
    scene: &'a Scene<'a>,
    transform: PlotTransform,
    palette: &'a Palette,
    after: Option<Marks<'a>>,
    points: Vec<Vec<Pos2>>,
    /// Another machine's curves.
    then: Vec<Vec<Pos2>>,
    readings: OtherReadings,
    asides: Vec<Aside>,
}

impl<'a> Drawing<'a> {
    /// Brings everything to the screen.
    pub fn of(
        screen: &'a Screen<'a>,
        scene: &'a Scene<'a>,
        transform: PlotTransform,
        palette: &'a Palette,
        view: &View,
    ) -> Self {
        let after = Projected::of(screen).map(|projected| Marks::of(screen, scene, &transform, projected));
        let then = scene.then.as_ref().map(|then| then.points(&transform)).unwrap_or_default();
        let readings = OtherReadings::of(screen, &scene.plane, &transform, view.pointed_set);
        let asides = aside::all(screen, &transform, &view.options.hidden);
        Self { screen, scene, transform, palette, after, points: scene.points(&transform), then, readings, asides }
    }

    fn frame(&self) -> Rect {
        *self.transform.frame()
    }

    /// With another machine on, the old one's taps are quiet.
    fn stroke(&self, tap: &scene::TapLine<'_>) -> Stroke {
        if self.scene.then.is_some() {
            let ink = theme::standing_back(self.palette.quiet);
            return Stroke::new(if tap.in_use { theme::CURVE } else { QUIET }, ink);
        }
        paint::tap_stroke(self.palette, tap, self.scene.taps.len())
    }

    /// Another machine's taps.
    fn then_stroke(&self, tap: &scene::TapLine<'_>) -> Stroke {
        Stroke::new(if tap.in_use { theme::CURVE_IN_USE } else { QUIET + 0.4 }, self.palette.change)
    }

    /// The path's places on the screen, and as they are.
    fn path(&self, running: &Running) -> (Vec<egui_plot::PlotPoint>, Vec<Pos2>) {
        let places = scene::path_of(&self.scene.plane, &self.transform, &running.system);
        let points = places.iter().map(|place| self.transform.position_from_point(place)).collect();
        (places, points)
    }

    /// Curves, the plate and the target.
    pub fn lines(&self, ui: &Ui, view: &View) {
        let painter = ui.painter().with_clip_rect(self.frame());
        let (frame, palette) = (self.frame(), self.palette);
        if let Some(was) = self.screen.was.and_then(Answer::point) {
            self.ghost(&painter, was);
        }
        self.readings.draw(&painter, palette);
        self.asides.iter().for_each(|aside| aside.draw(&painter, palette));
        if let Some(running) = self.as_found() {
            let (places, points) = self.path(running);
            if self.after.is_none() && !view.is_half_entered() {
                let share = scene::share_of_spread(&running.system);
                paint::band(&painter, &self.transform, &places, share, palette.found_band());
            }
            let stroke = Stroke::new(theme::CURVE, palette.quiet);
            if self.after.is_some() {
                painter.extend(egui::Shape::dashed_line(&points, stroke, 7.0, 5.0));
            } else {
                painter.add(egui::Shape::line(points, stroke));
            }
        }
        if let Some((limit, _)) = self.scene.counts().rated {
            let y = paint::y_of(&self.transform, &self.scene.plane, limit);
            painter.hline(frame.x_range(), y, Stroke::new(1.2, palette.over));
        }
        if let Some(x) = self.target_x() {
            paint::target_line(&painter, x, frame.y_range(), palette.target);
        }
        paint::taps(&painter, &self.transform, self.scene, &self.points, |tap| self.stroke(tap));
        if let Some(after) = self.after(view) {
            if let Some(then) = self.scene.then.as_deref() {
                paint::taps(&painter, &self.transform, then, &self.then, |tap| self.then_stroke(tap));
            }
            after.lines(&painter, &self.transform, palette);
        }
        if let Some((_, tesp)) = scene::bound(self.screen.answer) {
            let y = paint::y_of(&self.transform, &self.scene.plane, tesp);
            let line = [pos2(frame.left(), y), pos2(frame.right(), y)];
            painter.extend(egui::Shape::dashed_line(&line, Stroke::new(1.6, palette.ink), 10.0, 5.0));
        }
        let edge = Stroke::new(1.0, palette.hairline);
        ui.painter().rect_stroke(frame, 0.0, edge, egui::StrokeKind::Middle);
    }

    /// Where the point and its path stood before the hand took hold of it.
    fn ghost(&self, painter: &egui::Painter, was: &Running) {
        let ink = theme::standing_back(self.palette.quiet);
        painter.extend(egui::Shape::dotted_line(&self.path(was).1, ink, 5.0, 1.0));
        let place = self.scene.plane.place(was.now.airflow, was.now.tesp);
        let at = self.transform.position_from_point(&place);
        painter.circle_stroke(at, paint::POINT, Stroke::new(1.2, ink));
    }

    /// The path as found; with a change in the hand, split as the change needs it.
    fn as_found(&self) -> Option<&'a Running> {
        let in_hand = self.after.as_ref().filter(|after| after.is_in_hand());
        in_hand.map(Marks::running).or_else(|| self.screen.answer.point())
    }

    /// The changed path, unless what is half typed could make it untrue.
    fn after(&self, view: &View) -> Option<&Marks<'a>> {
        self.after.as_ref().filter(|_| !view.is_half_entered())
    }

    fn target_x(&self) -> Option<f32> {
        let target = self.scene.counts().target?;
        let place = self.scene.plane.place(target.actual, Pressure::ZERO);
        Some(self.transform.position_from_point(&place).x).filter(|x| self.frame().x_range().contains(*x))
    }

    fn point(&self, view: &View) -> Option<(Pos2, Airflow, Pressure)> {
        let (airflow, tesp) = handle::shown(self.screen.answer.point()?, &view.chart);
        let at = self.transform.position_from_point(&self.scene.plane.place(airflow, tesp));
        self.frame().expand(1.0).contains(at).then_some((at, airflow, tesp))
    }

    /// Crossings and the measured point.
    pub fn marks(&self, ui: &Ui, view: &View, held: bool) {
        let painter = ui.painter().with_clip_rect(self.frame().expand(paint::POINT));
        let in_hand = self.after.as_ref().is_some_and(Marks::is_in_hand);
        if !in_hand && self.scene.then.is_none() {
            for cross in self.scene.crosses.iter().filter(|cross| Some(cross.tap) != self.screen.answer.blower().in_use)
            {
                let at = self.transform.position_from_point(&cross.place);
                if let Some(tap) = self.scene.tap(cross.tap)
                    && self.frame().contains(at)
                {
                    paint::crossing(&painter, at, cross, self.stroke(tap), self.palette.card);
                }
            }
        }
        self.asides.iter().for_each(|aside| aside.mark(&painter, self.palette));
        if let Some(after) = self.after(view) {
            after.points(&painter, self.point(view).map(|(at, ..)| at), self.palette);
        }
        if let Some((at, ..)) = self.point(view) {
            let ink = match (view.chart.dragged, view.is_half_entered()) {
                (Some(_), _) => self.palette.change,
                (None, true) => self.palette.quiet,
                (None, false) => self.palette.ink,
            };
            paint::ring(&painter, at, ink, self.palette.card, held);
        }
    }

    /// Names of everything, each in a free place off the note; gives the areas that are taken now, with those of the marks.
    pub fn labels(&self, ui: &Ui, view: &View, note: Option<Rect>) -> Vec<Rect> {
        let lines = self.inked(view);
        let title = Rect::from_min_size(self.frame().left_top() - vec2(40.0, 22.0), vec2(40.0 + TITLE, 22.0));
        let taken = self.marked(view).into_iter().chain(note).chain([title]).collect();
        let mut placer = Placer::new(self.frame(), taken, &lines);
        let card = self.after(view).and_then(|after| after.card(self.palette));
        let first: Vec<Wanted> = match card {
            Some(card) => self.fixed_labels().into_iter().chain([card]).chain(self.point_label(view)).collect(),
            None => self.point_label(view).into_iter().chain(self.fixed_labels()).collect(),
        };
        let mut placed = placer.place_all(ui, &first);
        let seen: Vec<Vec<Pos2>> = self.family(view).map(|(_, points)| self.within(points)).collect();
        let ways = [Naming::Full, Naming::Short, Naming::Bare]
            .into_iter()
            .flat_map(|naming| Way::ALL.map(|way| (naming, way)));
        placed.extend(placer.place_family(ui, ways.map(|(naming, way)| self.tap_labels(view, &seen, naming, way))));
        placed.extend(placer.place_all(ui, &self.readings.numbers(self.screen.job, self.palette)));
        placed.extend(
            placer.place_all(ui, &self.asides.iter().map(|aside| aside.label(self.palette)).collect::<Vec<_>>()),
        );
        let with_changes = self.after(view).map(|after| after.path_label(self.palette, self.frame()));
        for ways in with_changes.into_iter().chain(self.path_label(view)) {
            placed.extend(placer.place_family(ui, ways.into_iter()));
        }
        for label in &placed {
            labels::paint(ui, label, self.palette.card);
        }
        placed.iter().map(|label| label.area).chain(self.marked(view)).collect()
    }

    /// Areas that labels keep off: points and crossings.
    fn marked(&self, view: &View) -> Vec<Rect> {
        let square = |at: Pos2, radius: f32| Rect::from_center_size(at, vec2(2.0 * radius, 2.0 * radius));
        let crosses = self
            .scene
            .crosses
            .iter()
            .map(|cross| square(self.transform.position_from_point(&cross.place), paint::CROSS));
        let point = self.point(view).map(|(at, ..)| square(at, paint::POINT));
        let after = self.after(view).map(Marks::taken).unwrap_or_default();
        crosses
            .filter(Rect::is_finite)
            .chain(point)
            .chain(after)
            .chain(self.readings.taken())
            .chain(self.asides.iter().map(Aside::taken))
            .collect()
    }

    /// Every line, which labels rather keep off.
    fn inked(&self, view: &View) -> Vec<Line> {
        let frame = self.frame();
        let mut lines: Vec<Line> = self.family(view).map(|(_, points)| Line::of(points, frame)).collect();
        if let Some(running) = self.as_found() {
            lines.push(Line::of(&self.path(running).1, frame));
        }
        lines.extend(self.after(view).map(|after| Line::of(&after.path, frame)));
        lines.extend(self.readings.paths().map(|path| Line::of(path, frame)));
        lines.extend(self.asides.iter().flat_map(Aside::lines).map(|line| Line::of(line, frame)));
        if let Some(x) = self.target_x() {
            lines.push(Line::of(&[pos2(x, frame.top()), pos2(x, frame.bottom())], frame));
        }
        lines
    }

    fn point_label(&self, view: &View) -> Option<Wanted> {
        let (at, airflow, tesp) = self.point(view).filter(|_| !view.is_half_entered())?;
        let units = self.screen.units;
        let bare = (show::airflow_bare(airflow, units), show::pressure_bare(tesp, units));
        let (most, least) = match self.screen.answer.point().map(|running| running.sum.bound()) {
            Some(Bound { less: true, more: false }) => ("≤ ", "≥ "),
            Some(Bound { less: false, more: true }) => ("≥ ", "≤ "),
            _ => ("", ""),
        };
        let text = format!("{most}{} · {least}{}", bare.0, bare.1);
        let ink = if view.chart.dragged.is_some() { self.palette.change } else { self.palette.ink };
        Some(Wanted {
            name: text.clone(),
            text,
            font: theme::strong(theme::BODY),
            ink,
            look: Look::Halo,
            over: 0.0,
            of: Some(at),
            places: labels::farther_and_farther(at, &POINT_RINGS),
        })
    }

    /// Points that lie within the frame.
    fn within(&self, points: &[Pos2]) -> Vec<Pos2> {
        points.iter().copied().filter(|point| self.frame().contains(*point)).collect()
    }

    /// The taps that bear names: another machine's, where one is drawn.
    fn family(&self, view: &View) -> impl Iterator<Item = (&scene::TapLine<'a>, &Vec<Pos2>)> {
        let is_then = self.scene.then.is_some() && self.after(view).is_some();
        let (scene, points) = if is_then { (self.scene.counts(), &self.then) } else { (self.scene, &self.points) };
        scene.taps.iter().zip(points)
    }

    /// Where taps lie close together, all but the one in use go by their bare name.
    ///
    /// `seen` are the points of every curve that lie within the frame.
    fn tap_labels(&self, view: &View, seen: &[Vec<Pos2>], naming: Naming, way: Way) -> Vec<Wanted> {
        let of_new = self.scene.then.is_some() && self.after(view).is_some();
        let labels = self.family(view).zip(seen).map(|((tap, points), seen)| {
            let mut places = match (&tap.drawn, points.first()) {
                (Drawn::Mark(_), Some(at)) => labels::around(*at, 6.0),
                (Drawn::Mark(_), None) | (Drawn::Curve { .. }, _) => way.places(seen),
            };
            let is_short = match naming {
                Naming::Full => false,
                Naming::Short => !tap.in_use,
                Naming::Bare => true,
            };
            let dislike = if is_short && tap.in_use { 2.0 * SHORT } else { SHORT };
            for place in places.iter_mut().filter(|_| is_short) {
                place.dislike += dislike;
            }
            let text = if is_short { tap.bare_name } else { &tap.name };
            let font = if tap.in_use { theme::strong(theme::CHART) } else { theme::regular(theme::CHART) };
            let in_use = if of_new { self.palette.change } else { self.palette.tap_high };
            let ink = if tap.in_use { in_use } else { self.palette.quiet };
            let machine = if of_new { "new machine's " } else { "" };
            let name = format!("Curve of {machine}{}", tap.name);
            Wanted { text: text.to_owned(), name, font, ink, look: Look::Halo, over: 0.0, of: None, places }
        });
        labels.filter(|wanted| !wanted.places.is_empty()).collect()
    }

    fn path_label(&self, view: &View) -> Option<Vec<Vec<Wanted>>> {
        let running = self.as_found()?;
        let point = self.point(view).map(|(at, ..)| at);
        let places = labels::along(&self.path(running).1, point, self.frame());
        let name = plain(visit::found(self.screen.job), self.palette.quiet, places);
        Some(labels::or_by_a_thread(name, point))
    }

    /// The target, the plate, and a static past the end.
    fn fixed_labels(&self) -> Vec<Wanted> {
        let (frame, palette) = (self.frame(), self.palette);
        let y_of = |tesp| paint::y_of(&self.transform, &self.scene.plane, tesp);
        let short = frame.width() < NARROW;
        let mut wanted = Vec::new();
        if let (Some(text), Some(x)) = (words::target(self.screen, self.scene, short), self.target_x()) {
            let steps = (frame.height() / 20.0).clamp(12.0, 40.0) as u8;
            let beside = (0..steps).flat_map(|step| {
                let y = frame.top() + 8.0 + 20.0 * f32::from(step);
                [(pos2(x + labels::GAP, y), Align2::LEFT_TOP), (pos2(x - labels::GAP, y), Align2::RIGHT_TOP)]
            });
            let over = [0.0, 60.0, -60.0].map(|aside| (pos2(x + aside, frame.top() - 2.0), Align2::CENTER_BOTTOM));
            let places = labels::in_order(beside.chain(over));
            let over = OVER_FRAME;
            wanted.push(Wanted { font: theme::strong(theme::CHART), over, ..plain(text, palette.target, places) });
        }
        if let (Some(text), Some((limit, _))) =
            (words::rated(self.screen, self.scene, short), self.scene.counts().rated)
            && frame.y_range().contains(y_of(limit))
        {
            let name = words::rated(self.screen, self.scene, false).unwrap_or_default();
            wanted.push(Wanted { name, ..plain(text, palette.over, self.over_a_line(y_of(limit))) });
        }
        if let (Some(text), Some((_, tesp))) =
            (words::past_the_end(self.screen, self.scene), scene::bound(self.screen.answer))
        {
            let label = plain(text, palette.ink, self.over_a_line(y_of(tesp)));
            wanted.push(Wanted { font: theme::strong(theme::CHART), ..label });
        }
        wanted
    }

    /// Places over a level line, the left end first; close under it where none is free, for farther down it would name what lies there.
    fn over_a_line(&self, y: f32) -> Vec<Place> {
        let frame = self.frame();
        let levels = [
            (-5.0, Align2::LEFT_BOTTOM),
            (4.0, Align2::LEFT_TOP),
            (-24.0, Align2::LEFT_BOTTOM),
            (-44.0, Align2::LEFT_BOTTOM),
            (-64.0, Align2::LEFT_BOTTOM),
        ];
        labels::in_order(levels.into_iter().flat_map(|(down, anchor)| {
            (0..24_u8).map(move |step| {
                let x = frame.left() + 10.0 + f32::from(step) * frame.width() / 26.0;
                (pos2(x, y + down), anchor)
            })
        }))
    }

    /// The read-out under the pointer; gives the tap that it is of, where that is one of the machine that runs.
    pub fn hover(&self, ui: &Ui, labels: &[Rect]) -> Option<&'a str> {
        let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|at| self.frame().contains(*at))?;
        let change = Stroke::new(theme::CURVE, self.palette.change);
        let of_changes = || Some((self.after.as_ref()?.read_out(pointer)?, change));
        let of_new = || {
            let then = self.scene.then.as_deref()?;
            Some((hover::read_out(then, &self.transform, &self.then, pointer)?, change))
        };
        let of_found = || {
            let found = hover::read_out(self.scene, &self.transform, &self.points, pointer)?;
            let stroke = self.stroke(self.scene.tap(found.tap)?);
            Some((found, stroke))
        };
        let of_running = of_changes().or_else(of_new);
        let is_of_old = of_running.is_none() && self.scene.then.is_some();
        let (found, stroke) = of_running.or_else(of_found)?;
        hover::card(ui, &found, pointer, self.frame(), labels, stroke);
        let tap = self.scene.counts().tap(found.tap)?;
        (!is_of_old).then_some(tap.bare_name)
    }
}

fn plain(text: String, ink: Color32, places: Vec<Place>) -> Wanted {
    Wanted {
        name: text.clone(),
        text,
        font: theme::regular(theme::CHART),
        ink,
        look: Look::Halo,
        over: 0.0,
        of: None,
        places,
    }
}
