//! The curves that the grid gives, drawn small while it is typed.

use eframe::egui::{Align2, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::model::curves::SmallCurve;
use crate::model::facts::standing::CurveStanding;
use crate::ui::theme;
use crate::ui::view::table_editor::Reading;
use crate::ui::widgets::label;
use crate::units::{Airflow, Pressure};

/// Height of the drawing, points.
const HEIGHT: f32 = 210.0;
/// Room for the numbers on the axes.
const AXIS: (f32, f32) = (30.0, 20.0);

/// Draws the curves, or says what is missing.
pub(super) fn preview(ui: &mut Ui, reading: &Reading) {
    label::heading(ui, "As it is drawn");
    if reading.curves.is_empty() {
        label::caption(ui, "Two airflows in a column make the first curve");
        return;
    }
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width().min(420.0), HEIGHT), Sense::hover());
    let said = format!("Preview: {} curves", reading.curves.len());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &said));
    let painter = ui.painter_at(rect.expand(2.0));
    let paper = Paper::over(rect, reading);
    paper.axes(ui, &painter);
    paper.plate(ui, &painter, reading.table.rated_maximum);
    let palette = theme::palette(ui);
    for (rank, curve) in reading.curves.iter().enumerate() {
        paper.curve(&painter, curve, palette.tap(rank, reading.curves.len()));
    }
    label::caption(ui, "Solid: as printed. Dashed: extrapolated");
}

/// Where airflow and static stand on the drawing.
struct Paper<'a> {
    inner: Rect,
    most_airflow: f64,
    most_static: f64,
    reading: &'a Reading,
}

impl<'a> Paper<'a> {
    fn over(rect: Rect, reading: &'a Reading) -> Self {
        let points = || reading.curves.iter().flat_map(|curve| &curve.points);
        let head = &reading.of.head;
        let airflow = |point: &(Airflow, Pressure, _)| head.airflow_unit.system().airflow_number(point.0);
        let pressure = |point: &(Airflow, Pressure, _)| head.pressure_unit.system().pressure_number(point.1);
        Self {
            inner: Rect::from_min_max(
                pos2(rect.min.x + AXIS.0, rect.min.y + 14.0),
                pos2(rect.max.x - 6.0, rect.max.y - AXIS.1),
            ),
            most_airflow: points().map(airflow).fold(1.0, f64::max) * 1.05,
            most_static: points().map(pressure).fold(0.01, f64::max) * 1.12,
            reading,
        }
    }

    fn at(&self, airflow: f64, pressure: f64) -> Pos2 {
        let share = |value: f64, most: f64| (value / most) as f32;
        pos2(
            self.inner.min.x + share(airflow, self.most_airflow) * self.inner.width(),
            self.inner.max.y - share(pressure, self.most_static) * self.inner.height(),
        )
    }

    fn of(&self, airflow: Airflow, pressure: Pressure) -> Pos2 {
        let head = &self.reading.of.head;
        self.at(
            head.airflow_unit.system().airflow_number(airflow),
            head.pressure_unit.system().pressure_number(pressure),
        )
    }

    fn axes(&self, ui: &Ui, painter: &Painter) {
        let palette = theme::palette(ui);
        let small = theme::regular(11.0);
        let head = &self.reading.of.head;
        for value in ticks(self.most_static) {
            let at = self.at(0.0, value);
            painter.hline(self.inner.x_range(), at.y, Stroke::new(1.0, palette.grid));
            painter.text(at - vec2(5.0, 0.0), Align2::RIGHT_CENTER, trimmed(value), small.clone(), palette.quiet);
        }
        for value in ticks(self.most_airflow) {
            let at = self.at(value, 0.0);
            painter.vline(at.x, self.inner.y_range(), Stroke::new(1.0, palette.grid));
            if value > 0.0 {
                painter.text(at + vec2(0.0, 4.0), Align2::CENTER_TOP, trimmed(value), small.clone(), palette.quiet);
            }
        }
        let corner = pos2(self.inner.min.x - AXIS.0, self.inner.min.y - 14.0);
        let units = format!("{} over {}", head.pressure_unit.name(), head.airflow_unit.name());
        painter.text(corner, Align2::LEFT_TOP, units, small, palette.quiet);
    }

    fn plate(&self, ui: &Ui, painter: &Painter, plate: Option<Pressure>) {
        let Some(plate) = plate else {
            return;
        };
        let over = theme::palette(ui).over;
        let at = self.of(Airflow::ZERO, plate);
        if !self.inner.y_range().contains(at.y) {
            return;
        }
        painter.hline(self.inner.x_range(), at.y, Stroke::new(1.0, over));
        painter.text(at + vec2(4.0, -1.0), Align2::LEFT_BOTTOM, "rated maximum", theme::regular(11.0), over);
    }

    fn curve(&self, painter: &Painter, curve: &SmallCurve, colour: eframe::egui::Color32) {
        let place = |point: &(Airflow, Pressure, CurveStanding)| self.of(point.0, point.1);
        let stroke = Stroke::new(theme::CURVE, colour);
        for pair in curve.points.windows(2) {
            let published = pair.iter().all(|point| point.2 == CurveStanding::Published);
            let line = [place(&pair[0]), place(&pair[1])];
            if published {
                painter.line_segment(line, stroke);
            } else {
                painter.extend(Shape::dashed_line(&line, stroke, 3.0, 3.0));
            }
        }
        if let [only] = &curve.points[..] {
            painter.circle_filled(place(only), 3.0, colour);
        }
        if let Some(end) = curve.points.last() {
            painter.text(place(end) - vec2(0.0, 2.0), Align2::CENTER_BOTTOM, &curve.name, theme::strong(11.0), colour);
        }
    }
}

/// Round numbers from zero on, about four of them.
fn ticks(most: f64) -> Vec<f64> {
    let rough = most / 4.0;
    let power = 10.0_f64.powf(rough.log10().floor());
    let step =
        [1.0, 2.0, 5.0, 10.0].into_iter().map(|factor| factor * power).find(|step| *step >= rough).unwrap_or(rough);
    (0..=6_u32).map(|count| f64::from(count) * step).take_while(|value| *value <= most).collect()
}

fn trimmed(value: f64) -> String {
    crate::units::show::trimmed(value, 2)
}
