//! The photograph over the grid: its four corners are pressed, then it lies flat and comes to the row that is typed.

use eframe::egui::{
    Button, Color32, Id, Image, Label, Mesh, Painter, Pos2, Rect, Response, RichText, Role, Sense, Shape, Stroke,
    StrokeKind, TextureHandle, Ui, UiBuilder, Vec2, WidgetInfo, pos2, vec2,
};

use crate::model::typed::straightened::Flat;
use crate::numerics::homography::{Homography, Place};
use crate::ui::theme;
use crate::ui::view::table_editor::{GoTo, Spot, TableEditor};
use crate::ui::view::table_photo::PhotoView;
use crate::ui::widgets::look::{self, Asked, Seen};
use crate::ui::widgets::{hint, label};

/// How near a press takes hold of a corner, points of the screen.
const REACH: f32 = 11.0;
/// What is drawn about the rows that lie flat, as a share of them: the columns' names stand there.
const ABOUT: f64 = 0.25;
/// Pieces along each edge that the flat rows are drawn in; within one the photograph's perspective is less than a point.
const PIECES: u32 = 48;
/// Room about the rows when they are seen whole, as a factor on their width.
const ROOM: f64 = 1.06;

/// Draws the photograph with what can be done with it.
pub(super) fn photo(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) {
    let (spot, taps) = (editor.cursor, editor.draft.taps.len());
    let Some(view) = editor.photo.as_mut() else {
        return;
    };
    let top = ui.cursor().top();
    let close = head(ui, view, spot.row);
    let room = vec2(size.x, (size.y - (ui.cursor().top() - top)).max(60.0));
    // Once the rows lie flat they are typed.
    let begins = view.is_flat() && view.at.is_none();
    match view.photo.flat() {
        Ok(Some(flat)) => match flat.to_picture() {
            Ok(map) => lying_flat(ui, view, (&flat, &map), (spot, taps), room),
            Err(_crossed) => as_taken(ui, view, room),
        },
        Ok(None) | Err(_) => as_taken(ui, view, room),
    }
    if begins {
        editor.go_to = Some(GoTo::Grid(spot));
    }
    if close {
        editor.photo = None;
    }
}

/// What to do next, and the buttons; true where the photograph is to go.
fn head(ui: &mut Ui, view: &mut PhotoView, row: usize) -> bool {
    let mut close = false;
    // One line whatever it says, so that the picture stays where it is pressed.
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        let away = ui.button("Take it away");
        hint::hint(&away, || format!("Takes {} away; what is typed stays", view.look.file));
        close = away.clicked();
        let anew = ui.add_enabled(!view.photo.corners.is_empty(), Button::new("Corners anew"));
        if anew.clicked() {
            view.forget();
        }
        match view.photo.flat() {
            Ok(Some(_)) => printed(ui, view, row),
            Ok(None) | Err(_) if view.photo.corners.len() < 4 => {
                let text = format!("Press the {} of the rows of numbers; names stay outside", next(view));
                quiet(ui, text, theme::palette(ui).quiet);
            }
            Err(fault) => quiet(ui, fault.sentence(), theme::palette(ui).change),
            Ok(None) => {}
        }
    });
    close
}

/// A sentence on the rest of the line, whole under the pointer.
fn quiet(ui: &mut Ui, text: String, ink: Color32) {
    ui.add(Label::new(RichText::new(text).font(theme::regular(theme::SMALL)).color(ink)).truncate());
}

/// How many rows are printed between the corners.
fn printed(ui: &mut Ui, view: &mut PhotoView, row: usize) {
    let rows = view.photo.printed();
    label::caption(ui, "Rows in print");
    for (text, name, by) in [("\u{2212}", "One row in print less", -1), ("+", "One row in print more", 1)] {
        if by > 0 {
            label::strong(ui, rows.to_string());
        }
        let button = ui.button(text);
        button.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
        if button.clicked() {
            view.photo.print(rows.saturating_add_signed(by));
        }
    }
    if row > rows {
        quiet(ui, format!("Row {row} is past the last in print"), theme::palette(ui).change);
    }
}

/// Which corner the next press marks.
fn next(view: &PhotoView) -> &'static str {
    let corners = ["left upper corner", "right upper corner", "right lower corner", "left lower corner"];
    corners.get(view.photo.corners.len()).copied().unwrap_or("corner that is to be moved")
}

/// The photograph's place, with its name.
fn place(ui: &mut Ui, room: Vec2, name: &str, explained: &'static str) -> Response {
    let (area, _) = ui.allocate_exact_size(room, Sense::hover());
    let response = ui.interact(area, Id::unique("photograph of the table"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, name));
    hint::hint(&response, || explained.to_owned());
    response
}

/// The whole photograph, in which corners are pressed.
fn as_taken(ui: &mut Ui, view: &mut PhotoView, room: Vec2) {
    let name = format!("Photograph of the table: press marks the {}", next(view));
    let keys = "Photograph: arrows move the cross, with Shift by 10; Enter marks, Backspace takes back, + and - zoom";
    let response = place(ui, room, &name, keys);
    let plane = view.photo.size;
    look::zoom(ui, &mut view.look, &response, plane);
    match look::keys(ui, &mut view.look, &response, plane) {
        Some(Asked::Mark) => view.press(view.look.cross),
        Some(Asked::TakeBack) => view.take_back(),
        None => {}
    }
    let seen = look::seen(&mut view.look, response.rect, plane);
    by_pointer(ui, view, &response, seen);
    let painter = ground(ui, seen.area);
    let texture = view.look.texture(ui.ctx());
    let whole = Rect::from_two_pos(seen.to_screen([0.0, 0.0]), seen.to_screen(plane));
    let mut inner = ui.new_child(UiBuilder::new().max_rect(seen.area));
    inner.set_clip_rect(seen.area.intersect(ui.clip_rect()));
    Image::new(&texture).paint_at(&inner, whole);
    corners(ui, &painter, view, seen);
    if response.has_focus() {
        look::cross(&painter, seen.to_screen(view.look.cross), seen.area, theme::palette(ui).change);
    }
    frame(ui, &painter, &response);
}

fn by_pointer(ui: &Ui, view: &mut PhotoView, response: &Response, seen: Seen) {
    if response.clicked()
        && let Some(at) = response.interact_pointer_pos()
    {
        response.request_focus();
        view.press(seen.to_picture(at));
        return;
    }
    if response.drag_started() {
        let begun = ui.input(|input| input.pointer.press_origin());
        let near = |at: Pos2| view.photo.corners.iter().position(|place| seen.to_screen(*place).distance(at) <= REACH);
        view.dragged = begun.and_then(near);
    }
    if response.dragged() {
        match (view.dragged, response.interact_pointer_pos()) {
            (Some(corner), Some(at)) => view.photo.corners[corner] = seen.to_picture(at),
            (None, _) | (_, None) => look::pull(&mut view.look, response.drag_delta(), seen.scale),
        }
    }
    if response.drag_stopped() {
        view.dragged = None;
    }
}

/// The rows as they lie flat, with the one that is typed in the middle.
fn lying_flat(
    ui: &mut Ui,
    view: &mut PhotoView,
    (flat, map): (&Flat, &Homography),
    (spot, taps): (Spot, usize),
    room: Vec2,
) {
    let name = format!("Photograph of the table at row {} of {}", spot.row, view.photo.printed());
    let keys = "Photograph: it follows the row that is typed; the wheel zooms, a drag pulls it along";
    let response = place(ui, room, &name, keys);
    follow(view, flat, (spot, taps), response.rect);
    look::zoom(ui, &mut view.look, &response, flat.size);
    if response.clicked() {
        response.request_focus();
    }
    if look::keys(ui, &mut view.look, &response, flat.size) == Some(Asked::TakeBack) {
        view.take_back();
    }
    let seen = look::seen(&mut view.look, response.rect, flat.size);
    if response.dragged() {
        look::pull(&mut view.look, response.drag_delta(), seen.scale);
    }
    let seen = Seen { middle: view.look.middle, ..seen };
    let painter = ground(ui, seen.area);
    let texture = view.look.texture(ui.ctx());
    painter.add(Shape::mesh(mesh(&texture, (flat, map), seen, view.photo.size)));
    if spot.row <= view.photo.printed() {
        band(ui, &painter, view.photo.band(flat, spot.row), seen);
    }
    frame(ui, &painter, &response);
}

/// Brings the row that is typed into the middle once the hand comes to it, and its column where not all of them are seen.
fn follow(view: &mut PhotoView, flat: &Flat, (spot, taps): (Spot, usize), area: Rect) {
    let across = area.width() / (flat.size[0] * ROOM) as f32;
    // Whole while nobody has zoomed, however wide the window becomes.
    if view.at.is_none() || view.look.zoom == view.fitted {
        (view.look.zoom, view.fitted) = (Some(across), Some(across));
    }
    let now = Some([spot.row, spot.column, view.photo.printed()]);
    if view.at == now {
        return;
    }
    view.at = now;
    let [top, foot] = view.photo.band(flat, spot.row);
    let across = view.look.zoom.map_or(f64::INFINITY, |zoom| f64::from(area.width() / zoom));
    let column = (spot.column as f64 + 0.5) / (taps as f64 + 1.0) * flat.size[0];
    let free = (flat.size[0] - across).max(0.0) / 2.0;
    let middle = flat.size[0] / 2.0;
    view.look.middle = [column.clamp(middle - free, middle + free), f64::midpoint(top, foot)];
}

/// The photograph laid flat: pieces of it, each where its corners belong.
fn mesh(texture: &TextureHandle, (flat, map): (&Flat, &Homography), seen: Seen, picture: Place) -> Mesh {
    let mut mesh = Mesh::with_texture(texture.id());
    let share = |step: u32| f64::from(step) / f64::from(PIECES) * (1.0 + 2.0 * ABOUT) - ABOUT;
    let mut within = Vec::new();
    for row in 0..=PIECES {
        for column in 0..=PIECES {
            let place = [share(column) * flat.size[0], share(row) * flat.size[1]];
            let at = map.of(place).map(|[x, y]| [x / picture[0], y / picture[1]]);
            within.push(at.is_some_and(|at| at.iter().all(|share| (0.0..=1.0).contains(share))));
            let [u, v] = at.unwrap_or_default().map(|share| share.clamp(0.0, 1.0) as f32);
            mesh.vertices.push(eframe::egui::epaint::Vertex {
                pos: seen.to_screen(place),
                uv: pos2(u, v),
                color: theme::UNTINTED,
            });
        }
    }
    let line = PIECES + 1;
    for row in 0..PIECES {
        for column in 0..PIECES {
            let first = row * line + column;
            let all = [first, first + 1, first + line, first + line + 1];
            if all.iter().all(|index| within[*index as usize]) {
                mesh.add_triangle(all[0], all[1], all[2]);
                mesh.add_triangle(all[1], all[2], all[3]);
            }
        }
    }
    mesh
}

/// What lies beside the row that is typed stands back, and two lines hold it.
fn band(ui: &Ui, painter: &Painter, [top, foot]: [f64; 2], seen: Seen) {
    let palette = theme::palette(ui);
    let [top, foot] = [top, foot].map(|y| seen.to_screen([0.0, y]).y);
    let (above, below) = (seen.area.with_max_y(top), seen.area.with_min_y(foot));
    for beside in [above, below] {
        if beside.is_positive() {
            painter.rect_filled(beside.intersect(seen.area), 0.0, palette.card.gamma_multiply(0.45));
        }
    }
    for y in [top, foot] {
        painter.hline(seen.area.x_range(), y, Stroke::new(1.5, palette.change));
    }
}

fn ground(ui: &Ui, area: Rect) -> Painter {
    let painter = ui.painter_at(area);
    painter.rect_filled(area, 4.0, theme::palette(ui).raised);
    painter
}

fn frame(ui: &Ui, painter: &Painter, response: &Response) {
    let palette = theme::palette(ui);
    let ink = if response.has_focus() { palette.tap_high } else { palette.hairline };
    painter.rect_stroke(response.rect, 4.0, Stroke::new(1.0, ink), StrokeKind::Inside);
}

/// Corners with the frame between them.
fn corners(ui: &Ui, painter: &Painter, view: &PhotoView, seen: Seen) {
    let palette = theme::palette(ui);
    let places: Vec<Pos2> = view.photo.corners.iter().map(|place| seen.to_screen(*place)).collect();
    for pair in places.windows(2) {
        painter.line_segment([pair[0], pair[1]], Stroke::new(1.0, palette.over));
    }
    for at in places {
        painter.circle_stroke(at, 6.0, Stroke::new(3.0, palette.card));
        painter.circle_stroke(at, 6.0, Stroke::new(1.5, palette.over));
        painter.circle_filled(at, 1.2, palette.over);
    }
}
