//! The path's curve under the hand: how easy must the path become, and what has to come out for it.
//!
//! A wish is the window's, not the job's: it is let go with Escape, a fitted chart or another job.

use eframe::egui::{
    Button, CursorIcon, Frame, Id, Key, Label, Margin, Pos2, Rect, Response, RichText, Role, Sense, Shape, Stroke, Ui,
    UiBuilder, Vec2, WidgetInfo, accesskit, pos2, vec2,
};
use egui_plot::PlotTransform;

use crate::model::curves;
use crate::model::facts::standing::CurveStanding;
use crate::model::verdicts::easier_path::{self, EasierPath, FACTORS, Present};
use crate::model::verdicts::needs::Need;
use crate::model::verdicts::taps::TapAnswer;
use crate::model::wording;
use crate::ui::chart::handle;
use crate::ui::chart::paint::{self, GRIP};
use crate::ui::chart::scene::{self, Scene};
use crate::ui::theme::{self, Palette};
use crate::ui::view::{ChartView, Screen};
use crate::ui::widgets::hint;
use crate::units::{Airflow, Pressure, show};

/// Where on the curve the grip rather stands, in shares of the airflow of the point; the first that covers no label and no mark is taken.
const AHEAD: [f64; 6] = [1.10, 1.16, 1.22, 1.30, 0.90, 0.80];
/// Where else it may stand, in hundredths of that airflow, and how far apart.
const ELSEWHERE: (u8, u8, usize) = (20, 200, 2);
/// Width of the note at most.
const NOTE: f32 = 336.0;
/// Most of the frame's width that the note takes.
const NOTE_SHARE: f32 = 0.56;
/// Under this width the note says less.
const NARROW_NOTE: f32 = 280.0;
/// One press of an arrow key, on the factor.
const STEP: f64 = 0.01;

/// The wish on the screen.
pub struct Wish<'a> {
    present: Present<'a>,
    /// What it would bring; nothing while nothing is wished.
    pub wished: Option<EasierPath>,
    tap: &'a TapAnswer,
    target: Option<Airflow>,
}

impl<'a> Wish<'a> {
    /// The path that can be wished easier: with its changes, else as read.
    pub fn of(screen: &Screen<'a>, view: &ChartView) -> Option<Self> {
        let running = screen.answer.point()?;
        let changed = crate::model::wording::changes::with_changes(screen.job, screen.answer);
        let system = changed.map_or(&running.system, |(_, after)| &after.system);
        let present = Present::of(system, running.start()?)?;
        let target = system.blower.target.map(|target| target.actual);
        let wished = view.wish.map(|factor| easier_path::wished(&present, factor, target));
        Some(Self { present, wished, tap: system.running()?, target })
    }

    /// Where the grip would stand on the curve, at a share of the airflow of the point; nothing off the chart.
    fn grip_at(
        &self,
        ahead: f64,
        scene: &Scene<'_>,
        transform: &PlotTransform,
        view: &ChartView,
    ) -> Option<(Airflow, Pos2)> {
        let now = self.tap.reached().map_or(self.present.start.published, |point| point.crossing.airflow);
        let airflow = now * ahead;
        let tesp = self.present.tesp(airflow) * view.wish.unwrap_or(1.0);
        let at = transform.position_from_point(&scene.plane.place(airflow, tesp));
        (now > Airflow::ZERO && transform.frame().contains(at)).then_some((airflow, at))
    }

    fn factor_to_target(&self) -> Option<f64> {
        self.tap.need.as_ref().and_then(Need::ease).map(easier_path::factor_for)
    }
}

/// Id of the grip.
pub fn id() -> Id {
    Id::unique("wished path")
}

/// The grip on the curve, off the labels and marks in `taken`: takes drags and keys, and draws the wished curve; gives the factor that is wished for while a hand pulls at it.
pub fn grip(
    ui: &mut Ui,
    screen: &Screen<'_>,
    scene: &Scene<'_>,
    transform: &PlotTransform,
    view: &mut ChartView,
    taken: &[Rect],
) -> Option<f64> {
    let Some(wish) = Wish::of(screen, view) else {
        view.wish = None;
        return None;
    };
    let is_free = |(_, at): &(Airflow, Pos2)| {
        let square = Rect::from_center_size(*at, Vec2::splat(2.0 * GRIP + 3.0));
        !taken.iter().any(|label| label.intersects(square))
    };
    // Under a hand it stays where it was taken hold of, wherever labels go meanwhile.
    let held = view.wish.and(view.grip_ahead);
    let (from, to, step) = ELSEWHERE;
    let elsewhere = (from..=to).step_by(step).map(|hundredths| f64::from(hundredths) / 100.0);
    let mut places = AHEAD.into_iter().chain(elsewhere);
    let free = || places.find(|ahead| wish.grip_at(*ahead, scene, transform, view).is_some_and(|at| is_free(&at)));
    let ahead = held.or_else(free).unwrap_or(AHEAD[0]);
    view.grip_ahead = Some(ahead);
    let (airflow, at) = wish.grip_at(ahead, scene, transform, view)?;
    let factor = view.wish.unwrap_or(1.0);
    let area = Rect::from_center_size(at, Vec2::splat(theme::HANDLE));
    let response = ui.interact(area, id(), Sense::click_and_drag()).on_hover_cursor(CursorIcon::ResizeVertical);
    let response =
        hint::and_under_the_pointer(response, "Drag it, or press Up and Down, to ask: how easy must this path become?");
    let name = format!("How easy the path must become: {} of its drop", show::percent(factor));
    response.widget_info(|| WidgetInfo::slider(true, factor * 100.0, name.clone()));
    ui.ctx().accesskit_node_builder(id(), |node| {
        node.set_min_numeric_value(FACTORS.0 * 100.0);
        node.set_max_numeric_value(FACTORS.1 * 100.0);
        node.set_numeric_value_step(STEP * 100.0);
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
    hold(ui, &response, &wish, (scene, transform, airflow), view);
    draw(ui, &wish, scene, transform, at, &response, view);
    view.wish.filter(|_| response.dragged())
}

fn hold(
    ui: &Ui,
    response: &Response,
    wish: &Wish<'_>,
    (scene, transform, airflow): (&Scene<'_>, &PlotTransform, Airflow),
    view: &mut ChartView,
) {
    if response.dragged()
        && let Some(pointer) = response.interact_pointer_pos()
    {
        let shown = transform.value_from_position(pointer).y;
        let wanted = scene.plane.units.pressure_of(shown);
        let now = wish.present.tesp(airflow);
        view.wish = Some((wanted / now).clamp(FACTORS.0, FACTORS.1));
        ui.ctx().set_cursor_icon(CursorIcon::ResizeVertical);
    }
    if response.clicked() {
        response.request_focus();
    }
    let presses = handle::presses(ui, response);
    if presses != 0 {
        let factor = view.wish.unwrap_or(1.0) + f64::from(presses) * STEP;
        view.wish = Some(((factor * 100.0).round() / 100.0).clamp(FACTORS.0, FACTORS.1));
    }
    let lets_go = |key| ui.input(|input| input.key_pressed(key));
    if view.wish.is_some() && (lets_go(Key::Escape) || (response.has_focus() && lets_go(Key::Delete))) {
        view.wish = None;
        ui.ctx().stop_dragging();
    }
}

fn draw(
    ui: &Ui,
    wish: &Wish<'_>,
    scene: &Scene<'_>,
    transform: &PlotTransform,
    at: Pos2,
    response: &Response,
    view: &ChartView,
) {
    let palette = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(*transform.frame());
    if let (Some(factor), Some(wished)) = (view.wish, &wish.wished) {
        let edge = scene.plane.units.airflow_of(transform.bounds().max()[0]);
        let places = scene::path(&scene.plane, &curves::path(&wish.present.eased(factor), edge));
        let points: Vec<Pos2> = places.iter().map(|place| transform.position_from_point(place)).collect();
        painter.extend(Shape::dashed_line(&points, Stroke::new(theme::CURVE + 0.4, palette.change), 4.0, 4.0));
        if let Ok(crossing) = &wished.crossing {
            let met = transform.position_from_point(&scene.plane.place(crossing.airflow, crossing.tesp));
            painter.circle(met, GRIP, palette.card, Stroke::new(2.2, palette.change));
        }
    }
    let is_held = response.hovered() || response.dragged() || response.has_focus();
    let ink = if view.wish.is_some() || is_held { palette.change } else { palette.quiet };
    let side = if is_held { GRIP + 1.5 } else { GRIP };
    paint::grip(&painter, at, side, ink, palette.card);
}

/// The area of the note, where there is one: the corner of high static and little air, where no curve of a machine in use runs.
pub fn note_area(frame: Rect) -> Rect {
    let width = NOTE.min(frame.width() * NOTE_SHARE);
    Rect::from_min_size(frame.left_top() + vec2(8.0, 8.0), vec2(width, 132.0_f32.min(frame.height() * 0.5)))
}

/// What the wish would bring, in words, with the two things to do about it.
pub fn note(ui: &mut Ui, screen: &Screen<'_>, frame: Rect, view: &mut ChartView) {
    let Some(wish) = Wish::of(screen, view).filter(|wish| wish.wished.is_some()) else { return };
    let palette = theme::palette(ui);
    let area = note_area(frame);
    let mut child =
        ui.new_child(UiBuilder::new().max_rect(Rect::from_min_max(area.min, pos2(area.right(), frame.bottom()))));
    Frame::new()
        .fill(palette.card)
        .stroke(Stroke::new(1.0, palette.change))
        .corner_radius(4)
        .inner_margin(Margin::symmetric(8, 6))
        .show(&mut child, |ui| note_inside(ui, screen, &wish, palette, view));
}

fn note_inside(ui: &mut Ui, screen: &Screen<'_>, wish: &Wish<'_>, palette: &Palette, view: &mut ChartView) {
    let font = theme::regular(theme::CHART);
    let is_short = ui.available_width() < NARROW_NOTE;
    let said = if is_short { short_sentence(screen, wish) } else { sentence(screen, wish) };
    let note = ui.add(Label::new(RichText::new(said).font(font.clone()).color(palette.ink)).wrap());
    if is_short {
        note.on_hover_text(sentence(screen, wish));
    }
    ui.horizontal_wrapped(|ui| {
        if let Some(factor) = wish.factor_to_target() {
            let word = format!("To the target on {} {}", wording::tap_word(screen.job), wish.tap.name);
            let shown = if is_short { "To the target" } else { &word };
            let button = ui.add(Button::new(RichText::new(shown).font(font.clone())));
            button.widget_info(|| WidgetInfo::labeled(Role::Button, true, &word));
            if button.clicked() {
                view.wish = Some(factor);
            }
        }
        if ui.add(Button::new(RichText::new("Let go").font(font))).clicked() {
            view.wish = None;
        }
    });
}

/// Where there is little room: "If the path were this easy: 1,330 cfm (+105), assumed; 0.21 less, 24 %".
fn short_sentence(screen: &Screen<'_>, wish: &Wish<'_>) -> String {
    let Some(wished) = &wish.wished else { return String::new() };
    let units = screen.units;
    let lead = wording::changes::wished(wished.factor);
    let (Ok(crossing), Some(gain)) = (&wished.crossing, wished.gain) else {
        return format!("{lead}: past the end of the table");
    };
    let airflow = show::airflow(crossing.airflow, units);
    format!("{lead}: {airflow} ({}), assumed{}", wording::changes::gain_bare(gain, units), less(wished, screen))
}

/// "; 0.21 in. w.c. less at the target, 24 %".
fn less(wished: &EasierPath, screen: &Screen<'_>) -> String {
    if wished.remove <= Pressure::ZERO {
        return String::new();
    }
    let lost = show::pressure(wished.remove, screen.units);
    format!("; {lost} less at {}, {}", show::airflow(wished.at, screen.units), show::percent(wished.share()))
}

/// "If the path were this easy: 1,330 cfm on tap 3 (+105), assumed. It needs 0.21 in. w.c. less drop at 1,400 cfm …".
fn sentence(screen: &Screen<'_>, wish: &Wish<'_>) -> String {
    let Some(wished) = &wish.wished else { return String::new() };
    let units = screen.units;
    let tap = format!("{} {}", wording::tap_word(screen.job), wish.tap.name);
    let first = match (&wished.crossing, wished.gain) {
        (Ok(crossing), Some(gain)) => {
            let off = if crossing.standing == CurveStanding::Extrapolated { ", extrapolated" } else { "" };
            format!(
                "{} on {tap} ({}{off})",
                show::airflow(crossing.airflow, units),
                wording::changes::gain_bare(gain, units)
            )
        }
        _ => format!("past the end of {tap}"),
    };
    let lead = wording::changes::wished(wished.factor);
    let at = show::airflow(wished.at, units);
    let target = if wish.target.is_some() { ", the target," } else { "," };
    if wished.remove <= Pressure::ZERO {
        return format!("{lead}: {first}, assumed.");
    }
    format!(
        "{lead}: {first}, assumed. It needs {} less drop at {at}{target} {}: {} in proportion{}.",
        show::pressure(wished.remove, units),
        show::percent(wished.share()),
        portions(screen, wished),
        alone(screen, wished)
    )
}

/// "return duct 0.08, filter 0.04".
fn portions(screen: &Screen<'_>, wished: &EasierPath) -> String {
    let said: Vec<String> = wished
        .portions
        .iter()
        .filter(|portion| portion.remove > Pressure::ZERO)
        .map(|portion| format!("{} {}", part_name(screen, portion), show::pressure_bare(portion.remove, screen.units)))
        .collect();
    said.join(", ")
}

/// "; the supply side alone drops that much".
fn alone(screen: &Screen<'_>, wished: &EasierPath) -> String {
    let able: Vec<String> =
        wished.portions.iter().filter(|portion| portion.alone).map(|portion| part_name(screen, portion)).collect();
    if wished.portions.len() < 2 {
        return String::new();
    }
    match able.as_slice() {
        [] => "; no part alone drops that much".to_owned(),
        [one] => format!("; the {one} alone drops that much"),
        more => format!("; {} each drop that much", more.join(" and ")),
    }
}

/// One element's name, or the side of several.
fn part_name(screen: &Screen<'_>, portion: &easier_path::Portion) -> String {
    let path = &screen.job.path;
    if let [one] = portion.elements.as_slice() {
        return path.name_of(*one).unwrap_or("part").to_lowercase();
    }
    let is_after = portion.elements.iter().any(|id| path.holder_of(*id) > path.blower());
    let name = match (portion.before_blower, is_after) {
        (true, true) => "path",
        (true, false) => "return side",
        (false, _) => "supply side",
    };
    name.to_owned()
}
