//! The picture with its marks: pressed, dragged, zoomed, and gone over by keys.

use eframe::egui::{
    Align2, Color32, Id, Image, Painter, Pos2, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo,
    pos2, vec2,
};

use crate::model::typed::chart_trace::AxisOf;
use crate::numerics::homography::Place;
use crate::ui::theme;
use crate::ui::view::chart_trace::{Hand, Mark, TraceView};
use crate::ui::widgets::hint;
use crate::ui::widgets::look::{self, Asked, Seen};
use crate::units::show;

/// How near a press takes hold of a mark, points of the screen.
const REACH: f32 = 11.0;
/// Room beside a mark for its letters.
const BESIDE: f32 = 9.0;

fn id() -> Id {
    Id::unique("traced picture")
}

/// Gives the picture the keys.
pub(super) fn take_keys(ui: &Ui) {
    ui.memory_mut(|memory| memory.request_focus(id()));
}

/// Draws the picture and takes what is done in it.
pub(super) fn canvas(ui: &mut Ui, trace: &mut TraceView, size: Vec2) {
    let (area, _) = ui.allocate_exact_size(size, Sense::hover());
    let response = ui.interact(area, id(), Sense::click_and_drag());
    let name = format!("Picture of the chart: press marks {}", next(trace));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &name));
    hint::hint(&response, || {
        "Picture: arrows move the cross, with Shift by 10; Enter marks, Backspace takes back, + and - zoom".to_owned()
    });
    let plane = trace.trace().size;
    look::zoom(ui, &mut trace.look, &response, plane);
    match look::keys(ui, &mut trace.look, &response, plane) {
        Some(Asked::Mark) => trace.press(trace.look.cross),
        Some(Asked::TakeBack) => trace.take_back(),
        None => {}
    }
    let seen = look::seen(&mut trace.look, area, plane);
    by_pointer(ui, trace, &response, seen);
    let seen = look::seen(&mut trace.look, area, plane);
    draw(ui, trace, &response, seen);
}

/// What the next press marks.
fn next(trace: &TraceView) -> String {
    match trace.hand {
        Hand::Corner => {
            let corners = ["left above", "right above", "right below", "left below"];
            corners
                .get(trace.trace().corners.len())
                .map_or_else(|| "the nearest corner anew".to_owned(), |corner| format!("the corner {corner}"))
        }
        Hand::Axis(of, index) => {
            format!("the {} point of the {} axis", if index == 0 { "first" } else { "second" }, of.name())
        }
        Hand::Tap(tap) => {
            let name = trace.trace().taps.get(tap).map_or("", |tap| tap.name.as_str());
            format!("a point of tap {name}")
        }
    }
}

/// Presses, marks that are dragged, and the picture pulled along.
fn by_pointer(ui: &Ui, trace: &mut TraceView, response: &Response, seen: Seen) {
    if response.clicked()
        && let Some(place) = response.interact_pointer_pos()
    {
        response.request_focus();
        trace.press(seen.to_picture(place));
        // What stands beside the picture was drawn before it.
        ui.ctx().request_repaint();
        return;
    }
    if response.drag_started() {
        let begun = ui.input(|input| input.pointer.press_origin());
        trace.dragged = begun.and_then(|place| mark_at(trace, seen, place));
    }
    if response.dragged() {
        if let (Some(mark), Some(place)) = (trace.dragged, response.interact_pointer_pos()) {
            let place = seen.to_picture(place);
            trace.move_mark(mark, place);
            trace.look.cross = place;
        } else {
            look::pull(&mut trace.look, response.drag_delta(), seen.scale);
        }
    }
    if response.drag_stopped() {
        trace.dragged = None;
    }
}

fn mark_at(trace: &TraceView, seen: Seen, place: Pos2) -> Option<Mark> {
    let far = |(_, at): &(Mark, Place)| seen.to_screen(*at).distance(place);
    let near = trace.marks().into_iter().filter(|mark| far(mark) <= REACH);
    near.min_by(|one, other| far(one).total_cmp(&far(other))).map(|(mark, _)| mark)
}

fn draw(ui: &mut Ui, trace: &mut TraceView, response: &Response, seen: Seen) {
    let palette = theme::palette(ui);
    let painter = ui.painter_at(seen.area);
    painter.rect_filled(seen.area, 4.0, palette.raised);
    let [width, height] = trace.trace().size;
    let whole = Rect::from_two_pos(seen.to_screen([0.0, 0.0]), seen.to_screen([width, height]));
    let texture = trace.look.texture(ui.ctx());
    let mut inner = ui.new_child(eframe::egui::UiBuilder::new().max_rect(seen.area));
    inner.set_clip_rect(seen.area.intersect(ui.clip_rect()));
    Image::new(&texture).paint_at(&inner, whole);
    marks(&painter, trace, seen, (palette.change, palette.over, palette.card));
    if response.has_focus() {
        look::cross(&painter, seen.to_screen(trace.look.cross), seen.area, palette.change);
    }
    let stroke = Stroke::new(1.0, if response.has_focus() { palette.tap_high } else { palette.hairline });
    painter.rect_stroke(seen.area, 4.0, stroke, StrokeKind::Inside);
    told(ui, &painter, trace, response, seen);
}

/// What the next press marks, and what is read under the pointer or the cross.
fn told(ui: &Ui, painter: &Painter, trace: &TraceView, response: &Response, seen: Seen) {
    let palette = theme::palette(ui);
    let place = response.hover_pos().map_or(trace.look.cross, |pointer| seen.to_picture(pointer));
    let read = trace.trace().at(place).map(|point| {
        let (airflow, esp) = (trace.trace().airflow_unit, trace.trace().pressure_unit);
        let cfm = show::trimmed(airflow.system().airflow_number(point.airflow), 0);
        let static_pressure =
            show::trimmed(esp.system().pressure_number(point.esp), esp.system().pressure_decimals() + 1);
        format!(" · here {cfm} {} at {static_pressure} {}", airflow.name(), esp.name())
    });
    let text = format!("A press marks {}{}", next(trace), read.unwrap_or_default());
    let font = theme::regular(theme::SMALL);
    let galley = painter.layout(text, font, palette.ink, seen.area.width() - 16.0);
    let at = pos2(seen.area.left() + 8.0, seen.area.bottom() - galley.size().y - 8.0);
    painter.rect_filled(Rect::from_min_size(at, galley.size()).expand2(vec2(6.0, 3.0)), 4.0, palette.card);
    painter.galley(at, galley, palette.ink);
}

/// Corners with the frame between them, axis points with what they are, curves with their points.
fn marks(painter: &Painter, trace: &TraceView, seen: Seen, (ink, of_corners, ground): (Color32, Color32, Color32)) {
    let corners: Vec<Pos2> = trace.trace().corners.iter().map(|place| seen.to_screen(*place)).collect();
    for (index, corner) in corners.iter().enumerate() {
        if let Some(next) = corners.get((index + 1) % 4).filter(|_| corners.len() == 4 || index + 1 < corners.len()) {
            painter.line_segment([*corner, *next], Stroke::new(1.0, of_corners));
        }
    }
    for (tap, traced) in trace.trace().taps.iter().enumerate() {
        let mut places: Vec<Place> = traced.points.clone();
        places.sort_by(|one, other| one[1].total_cmp(&other[1]));
        let line: Vec<Pos2> = places.iter().map(|place| seen.to_screen(*place)).collect();
        let width = if trace.hand == Hand::Tap(tap) { theme::CURVE_IN_USE } else { theme::CURVE };
        painter.line(line, Stroke::new(width * 0.6, ink));
    }
    let mut told: Vec<Rect> = Vec::new();
    for (mark, place) in trace.marks() {
        let at = seen.to_screen(place);
        let (ink, name) = match mark {
            Mark::Corner(index) => (of_corners, (index + 1).to_string()),
            Mark::Axis(of, index) => {
                let value = trace.trace().axis(of).marks[index].value.trim();
                (ink, format!("{} {}", of.name(), if value.is_empty() { "?" } else { value }))
            }
            Mark::Point(tap, 0) => (ink, trace.trace().taps.get(tap).map(|tap| tap.name.clone()).unwrap_or_default()),
            Mark::Point(..) => (ink, String::new()),
        };
        painter.circle_stroke(at, 6.0, Stroke::new(3.0, ground));
        painter.circle_stroke(at, 6.0, Stroke::new(1.5, ink));
        painter.circle_filled(at, 1.2, ink);
        if !name.is_empty() {
            let galley = painter.layout_no_wrap(name, theme::strong(theme::FINE), ink);
            let place = free(&told, beside(mark, at, galley.size()));
            told.push(place);
            painter.rect_filled(place.expand2(vec2(3.0, 1.0)), 3.0, ground);
            painter.galley(place.min, galley, ink);
        }
    }
}

/// Where a mark's letters may stand, the best place first.
fn beside(mark: Mark, at: Pos2, size: Vec2) -> Vec<Rect> {
    let right_above = || Align2::LEFT_BOTTOM.anchor_size(at + vec2(BESIDE, -4.0), size);
    let right_below = || Align2::LEFT_TOP.anchor_size(at + vec2(BESIDE, 4.0), size);
    let left_above = || Align2::RIGHT_BOTTOM.anchor_size(at + vec2(-BESIDE, -4.0), size);
    let left_below = || Align2::RIGHT_TOP.anchor_size(at + vec2(-BESIDE, 4.0), size);
    match mark {
        Mark::Axis(AxisOf::Airflow, _) => vec![
            Align2::CENTER_TOP.anchor_size(at + vec2(0.0, BESIDE), size),
            Align2::CENTER_BOTTOM.anchor_size(at - vec2(0.0, BESIDE), size),
        ],
        Mark::Axis(AxisOf::Static, _) => vec![
            Align2::RIGHT_CENTER.anchor_size(at - vec2(BESIDE, 0.0), size),
            Align2::LEFT_CENTER.anchor_size(at + vec2(BESIDE, 0.0), size),
        ],
        Mark::Corner(_) | Mark::Point(..) => vec![right_above(), right_below(), left_above(), left_below()],
    }
}

/// The first place that covers no letters that stand already; the first of all where each does.
fn free(told: &[Rect], places: Vec<Rect>) -> Rect {
    let first = places.first().copied().unwrap_or(Rect::NOTHING);
    let is_free = |place: &Rect| told.iter().all(|other| !other.expand2(vec2(3.0, 1.0)).intersects(*place));
    places.into_iter().find(is_free).unwrap_or(first)
}
