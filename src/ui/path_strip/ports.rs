//! The readings at their ports: a field under each, and what moves the port along the path.

use eframe::egui::{Align2, Button, Label, Layout, Pos2, Rect, Role, Ui, UiBuilder, WidgetInfo, pos2, vec2};

use crate::edit::Edit;
use crate::model::facts::air_path::{ElementId, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::job::Job;
use crate::ui::path_strip::frame::Strip;
use crate::ui::path_strip::port_widths::{BOX, MOVE, WIDE_BOX, moves_always, sides, width_of};
use crate::ui::path_strip::{draw, layout, lettering};
use crate::ui::reading_entry::{self, Side};
use crate::ui::theme;
use crate::ui::view::View;
use crate::ui::view::action::Action;
use crate::ui::widgets::{field, hint};

/// A field with its place in the row.
#[derive(Clone, Copy, Debug)]
struct Place {
    side: Side,
    /// The port, where there is one.
    port: Option<PortId>,
    /// Where it is marked on the line.
    ring: Option<Pos2>,
    is_read: bool,
    field: Rect,
    /// True where it has room for what moves it.
    moves: bool,
}

/// Draws the marks of the ports, their fields and what moves them.
pub fn ports(ui: &mut Ui, strip: &Strip<'_>, view: &mut View, out: &mut Vec<Action>) {
    let places = places(strip, view);
    for place in &places {
        if let Some(ring) = place.ring {
            draw::port(ui, ring, place.field, place.is_read);
        }
    }
    for place in &places {
        let mut inner = child(ui, place.field, ("reading", format!("{:?}", place.side.key())));
        reading_entry::reading_box(&mut inner, view, &strip.screen, place.side, place.field.width(), out);
        come_into_view(ui, place.side, place.field);
        caption(ui, strip, place, &places);
    }
    in_ways(ui, strip, view, out);
    for place in places.iter().filter(|place| place.moves) {
        if let Some(port) = place.port {
            move_buttons(ui, strip.screen.job, port, place.field, out);
        }
    }
    unit(ui, strip, &places);
}

/// The marks of the ports, and under each what was read there, as they are printed.
pub fn printed(ui: &mut Ui, strip: &Strip<'_>, view: &View) {
    let places = places(strip, view);
    let said = |side: Side| reading_entry::at_rest(strip.screen.job.set().at(side.at()), strip.screen.units, side);
    let palette = theme::palette(ui);
    for place in places.iter().filter(|place| place.is_read) {
        if let Some(ring) = place.ring {
            draw::port(ui, ring, place.field, true);
        }
        let font = theme::strong(theme::BODY);
        ui.painter().text(place.field.center(), Align2::CENTER_CENTER, said(place.side), font, palette.ink);
        caption(ui, strip, place, &places);
    }
    let in_ways = strip.ways.ports.iter().filter(|_| !strip.total_only);
    for (place, side) in in_ways.filter_map(|place| Some((place, Side::of_port(&strip.screen.job.path, place.port)?))) {
        let font = theme::strong(theme::SMALL);
        ui.painter().text(place.field.center(), Align2::CENTER_CENTER, said(side), font, palette.ink);
    }
    unit(ui, strip, &places);
}

/// The fields of ports that stand in ways.
fn in_ways(ui: &mut Ui, strip: &Strip<'_>, view: &mut View, out: &mut Vec<Action>) {
    let path = &strip.screen.job.path;
    for place in strip.ways.ports.iter().filter(|_| !strip.total_only) {
        let Some(side) = Side::of_port(path, place.port) else {
            continue;
        };
        let mut inner = child(ui, place.field, ("reading in a way", place.port.0));
        reading_entry::reading_box(&mut inner, view, &strip.screen, side, place.field.width(), out);
        come_into_view(ui, side, place.field);
    }
}

/// A field that the keys have just come to is scrolled to.
fn come_into_view(ui: &Ui, side: Side, field: Rect) {
    if ui.ctx().read_response(field::id(side.key())).is_some_and(|response| response.gained_focus()) {
        // Several looks make the field wider in the next frame.
        ui.scroll_to_rect(field.expand2(vec2(WIDE_BOX * 0.75, 0.0)), None);
    }
}

fn child(ui: &mut Ui, rect: Rect, salt: impl std::hash::Hash + std::fmt::Debug) -> Ui {
    let layout = Layout::left_to_right(eframe::egui::Align::Center);
    ui.new_child(UiBuilder::new().id_salt(salt).max_rect(rect).layout(layout))
}

fn places(strip: &Strip<'_>, view: &View) -> Vec<Place> {
    let path = &strip.screen.job.path;
    let mut places: Vec<Place> = match (strip.total_only, path.elements.is_empty()) {
        (true, _) => vec![total_place(strip)],
        (_, true) => [Side::Return, Side::Supply].map(|side| empty_place(strip, side)).to_vec(),
        _ => sides(path).into_iter().filter_map(|(side, port)| port_place(strip, side, port)).collect(),
    };
    let all: f32 = places.iter().map(|place| width_of(place.side, place.port.is_some(), view) + theme::STEP).sum();
    for place in &mut places {
        place.moves = place.port.is_some_and(|port| all <= strip.rect.width() || moves_always(port));
    }
    let around = |place: &Place| {
        if place.moves { 2.0 * (MOVE + 2.0) } else { 0.0 }
    };
    let centres: Vec<f32> = places.iter().map(|place| place.field.center().x).collect();
    let widths: Vec<f32> = places.iter().map(|place| width_of(place.side, place.moves, view)).collect();
    let (left, right) = (strip.rect.left(), strip.rect.right());
    let lefts = layout::side_by_side(&centres, &widths, left, right, theme::STEP);
    for ((place, left), width) in places.iter_mut().zip(lefts).zip(widths) {
        let margin = around(place) / 2.0;
        let range = left + margin..=left + width - margin;
        place.field = Rect::from_x_y_ranges(range, strip.fields.y_range());
    }
    places
}

fn total_place(strip: &Strip<'_>) -> Place {
    let centre = strip.inside_span().map_or(strip.plot.center().x, eframe::egui::Rangef::center);
    let field = about(strip, centre);
    Place { side: Side::Total, port: None, ring: None, is_read: strip.total.is_some(), field, moves: false }
}

/// A field under its part of an empty path, where there is no port yet.
fn empty_place(strip: &Strip<'_>, side: Side) -> Place {
    let share = if side == Side::Return { 0.33 } else { 0.67 };
    let field = about(strip, strip.rect.left() + strip.rect.width() * share);
    Place { side, port: None, ring: None, is_read: false, field, moves: false }
}

/// A field under its port.
fn port_place(strip: &Strip<'_>, side: Side, port: PortId) -> Option<Place> {
    let x = *strip.columns.edges.get(strip.screen.job.path.elements_before(port)?)?;
    let reading = strip.ports.iter().find(|read| read.id == port);
    let level = reading.map_or(0.0, |read| read.reading.in_wc());
    let ring = Some(pos2(x, strip.scale.height_of(level)));
    Some(Place { side, port: Some(port), ring, is_read: reading.is_some(), field: about(strip, x), moves: true })
}

fn about(strip: &Strip<'_>, centre: f32) -> Rect {
    Rect::from_center_size(pos2(centre, strip.fields.center().y), vec2(BOX, strip.fields.height()))
}

/// What stands under a field, in the longest wording that leaves the neighbors' room alone: which reading it is, and how it was read.
fn caption(ui: &mut Ui, strip: &Strip<'_>, place: &Place, places: &[Place]) {
    let reading = strip.screen.job.set().at(place.side.at());
    let looks = reading.and_then(|reading| reading_entry::looks_caption(reading, strip.screen.units));
    let name = side_words(place.side);
    let wordings = match (looks, name) {
        (Some([long, short]), Some([whole, name])) => {
            let both = [format!("{whole} · {long}"), format!("{whole} · {short}"), format!("{name} · {short}")];
            both.into_iter().chain([whole.to_owned(), name.to_owned()]).collect()
        }
        (Some(looks), None) => looks.to_vec(),
        (None, Some(names)) => names.map(str::to_owned).to_vec(),
        (None, None) => return,
    };
    let apart = |other: &Place| (other.field.center().x - place.field.center().x).abs();
    let room = places.iter().map(apart).filter(|apart| *apart > 0.0).fold(f32::INFINITY, f32::min);
    let to_the_end = (place.field.center().x - strip.rect.left()).min(strip.rect.right() - place.field.center().x);
    let room = (room - theme::STEP).min(2.0 * to_the_end);
    let fits = |text: &&String| lettering::width_of(ui.painter(), text, theme::regular(theme::SMALL)) <= room;
    let Some(text) = wordings.iter().find(fits).or(wordings.last()) else {
        return;
    };
    let at = pos2(place.field.center().x, strip.captions.center().y);
    let galley = ui.painter().layout_no_wrap(text.clone(), theme::regular(theme::SMALL), theme::palette(ui).quiet);
    let mut inner =
        child(ui, Rect::from_center_size(at, galley.size()), ("caption", format!("{:?}", place.side.key())));
    inner.add(Label::new(galley).selectable(false).extend());
}

/// What a reading is called, whole and shorter; nothing for a port more of a side.
const fn side_words(side: Side) -> Option<[&'static str; 2]> {
    match side {
        Side::Return => Some(["before the blower (return)", "before the blower"]),
        Side::Supply => Some(["after the blower (supply)", "after the blower"]),
        Side::Total => Some(["total external static", "total"]),
        Side::PortBefore(_) | Side::PortAfter(_) | Side::Across(_) => None,
    }
}

/// The unit of the fields at the left end of their row, where it has room.
fn unit(ui: &Ui, strip: &Strip<'_>, places: &[Place]) {
    let what = if strip.total_only { "total" } else { "ports" };
    let unit = strip.screen.units.pressure_unit();
    let palette = theme::palette(ui);
    let font = theme::regular(theme::SMALL);
    let first = places.iter().map(|place| place.field.left() - MOVE - theme::STEP).fold(strip.rect.right(), f32::min);
    let wordings = [format!("{what}, {unit}"), unit.to_owned()];
    let fitting = wordings
        .iter()
        .find(|wording| strip.rect.left() + lettering::width_of(ui.painter(), wording, font.clone()) <= first);
    let (text, y) = match fitting {
        Some(wording) => (wording, strip.fields.center().y),
        None => (&wordings[1], strip.captions.center().y),
    };
    ui.painter().text(pos2(strip.rect.left(), y), Align2::LEFT_CENTER, text, font, palette.quiet);
}

/// The element before and after a port's place on its own side, where the port can go.
fn neighbours(job: &Job, port: PortId) -> (Option<ElementId>, Option<ElementId>) {
    let path = &job.path;
    let (Some(boundary), Some(is_before), Some(blower)) =
        (path.elements_before(port), path.is_before_blower(port), path.blower())
    else {
        return (None, None);
    };
    // Past the last element is the room, where nothing is read.
    let (least, most) = if is_before { (1, blower) } else { (blower + 1, path.elements.len() - 1) };
    let after = |boundary: usize| {
        let element = path.elements.get(boundary.checked_sub(1)?)?;
        let is_free = !path.ports.iter().any(|other| other.id != port && other.after == element.id);
        ((least..=most).contains(&boundary) && is_free).then_some(element.id)
    };
    (boundary.checked_sub(1).and_then(after), after(boundary + 1))
}

fn move_buttons(ui: &mut Ui, job: &Job, port: PortId, field: Rect, out: &mut Vec<Action>) {
    let (back, on) = neighbours(job, port);
    let size = vec2(MOVE, field.height());
    let left = Rect::from_center_size(pos2(field.left() - 2.0 - MOVE / 2.0, field.center().y), size);
    let right = Rect::from_center_size(pos2(field.right() + 2.0 + MOVE / 2.0, field.center().y), size);
    for (rect, mark, to, way) in [(left, "‹", back, "back"), (right, "›", on, "on")] {
        let which = match port {
            RETURN_PORT => "the port before the blower".to_owned(),
            SUPPLY_PORT => "the port after the blower".to_owned(),
            PortId(number) => format!("port {number}"),
        };
        let name = format!("Move {which} {way}");
        let mut inner = child(ui, rect, (port, way));
        inner.spacing_mut().button_padding = vec2(2.0, 2.0);
        let button = Button::new(mark).frame_when_inactive(false).min_size(size);
        let response = inner.add_enabled(to.is_some(), button);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, to.is_some(), &name));
        let Some(to) = to else {
            continue;
        };
        let there = job.path.name_of(to).unwrap_or_default().to_lowercase();
        let told = format!("The port was after the {there}");
        if hint::and_under_the_pointer(response, &told).clicked() {
            out.push(Edit::MovePort(port, to).into());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::demo;

    #[test]
    fn a_port_goes_to_every_gap_of_its_own_side_and_no_further() {
        let mut job = demo::heat_pump();
        let mut gaps = Vec::new();
        while let (Some(back), _) = neighbours(&job, RETURN_PORT) {
            crate::edit::apply(&mut job, Edit::MovePort(RETURN_PORT, back)).unwrap();
        }
        while let (_, Some(on)) = neighbours(&job, RETURN_PORT) {
            gaps.push(job.path.elements_before(RETURN_PORT).unwrap());
            crate::edit::apply(&mut job, Edit::MovePort(RETURN_PORT, on)).unwrap();
        }
        assert_eq!(gaps, [1, 2, 3]);
        assert_eq!(job.path.elements_before(RETURN_PORT), job.path.blower());
        while let (_, Some(on)) = neighbours(&job, SUPPLY_PORT) {
            crate::edit::apply(&mut job, Edit::MovePort(SUPPLY_PORT, on)).unwrap();
        }
        assert_eq!(job.path.elements_before(SUPPLY_PORT), Some(job.path.elements.len() - 1));
    }
}
