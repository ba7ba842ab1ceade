//! A picture that is looked at: zoomed about the pointer, pulled along, and gone over by keys with a cross.

use eframe::egui::{Color32, EventFilter, Key, Modifiers, Painter, Pos2, Rect, Response, Stroke, Ui, Vec2, vec2};

use crate::numerics::homography::Place;
use crate::ui::view::picture_look::PictureLook;

/// Most points of the screen that a pixel is drawn as.
const MOST_ZOOM: f32 = 24.0;
/// Pixels that an arrow moves the cross by, and with Shift.
const STEPS: [f64; 2] = [1.0, 10.0];
/// Factor of one step of zoom.
const ZOOM_STEP: f32 = 1.25;

/// Where what is looked at lies on the screen.
#[derive(Clone, Copy, Debug)]
pub struct Seen {
    /// The place for it.
    pub area: Rect,
    /// Points for each pixel of it.
    pub scale: f32,
    /// The pixel in the middle of the place.
    pub middle: Place,
}

impl Seen {
    /// Where a pixel lies.
    pub fn to_screen(self, [x, y]: Place) -> Pos2 {
        let from = vec2((x - self.middle[0]) as f32, (y - self.middle[1]) as f32);
        self.area.center() + from * self.scale
    }

    /// The pixel at a place of the screen.
    pub fn to_picture(self, place: Pos2) -> Place {
        let from = (place - self.area.center()) / self.scale;
        [self.middle[0] + f64::from(from.x), self.middle[1] + f64::from(from.y)]
    }
}

/// What the keys ask for besides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// A mark at the cross.
    Mark,
    /// The last mark taken back.
    TakeBack,
}

/// The scale at which a plane of this size is seen as a whole.
fn fit(area: Rect, [width, height]: Place) -> f32 {
    (area.width() / width as f32).min(area.height() / height as f32).max(1e-4)
}

/// What is seen of a plane of this size.
pub fn seen(look: &mut PictureLook, area: Rect, plane: Place) -> Seen {
    let [width, height] = plane;
    let scale = look.zoom.unwrap_or_else(|| fit(area, plane));
    if look.zoom.is_none() {
        look.middle = [width / 2.0, height / 2.0];
    }
    look.middle = [look.middle[0].clamp(0.0, width), look.middle[1].clamp(0.0, height)];
    Seen { area, scale, middle: look.middle }
}

/// Takes what zooms while the pointer is over it.
pub fn zoom(ui: &Ui, look: &mut PictureLook, response: &Response, plane: Place) {
    if !response.hovered() {
        return;
    }
    let (turned, pinched) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
    let factor = pinched * (turned / 200.0).exp();
    if (factor - 1.0).abs() > 1e-4
        && let Some(pointer) = response.hover_pos()
    {
        zoom_by(look, factor, (response.rect, plane), pointer);
    }
}

/// Zooms so that what lies under a place of the screen stays there.
fn zoom_by(look: &mut PictureLook, factor: f32, (area, plane): (Rect, Place), about: Pos2) {
    let before = seen(look, area, plane);
    let held = before.to_picture(about);
    let scale = (before.scale * factor).min(MOST_ZOOM);
    if scale <= fit(area, plane) {
        look.zoom = None;
        return;
    }
    look.zoom = Some(scale);
    let from = (about - area.center()) / scale;
    look.middle = [held[0] - f64::from(from.x), held[1] - f64::from(from.y)];
}

/// Pulls what is seen along with the hand.
pub fn pull(look: &mut PictureLook, by: Vec2, scale: f32) {
    let by = by / scale;
    look.middle = [look.middle[0] - f64::from(by.x), look.middle[1] - f64::from(by.y)];
}

/// Takes the keys while it has them: arrows move the cross, plus and minus zoom about it.
pub fn keys(ui: &Ui, look: &mut PictureLook, response: &Response, plane: Place) -> Option<Asked> {
    if !response.has_focus() {
        return None;
    }
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let moved = move_cross(ui, look, plane);
    let pressed = |keys: &[Key]| ui.input_mut(|input| keys.iter().any(|key| input.consume_key(Modifiers::NONE, *key)));
    let cross = seen(look, response.rect, plane).to_screen(look.cross);
    if pressed(&[Key::Plus, Key::Equals]) {
        zoom_by(look, ZOOM_STEP, (response.rect, plane), cross);
    }
    if pressed(&[Key::Minus]) {
        zoom_by(look, 1.0 / ZOOM_STEP, (response.rect, plane), cross);
    }
    if moved && look.zoom.is_some() && !response.rect.shrink(20.0).contains(cross) {
        look.middle = look.cross;
    }
    if pressed(&[Key::Enter, Key::Space]) {
        return Some(Asked::Mark);
    }
    pressed(&[Key::Backspace]).then_some(Asked::TakeBack)
}

fn move_cross(ui: &Ui, look: &mut PictureLook, [width, height]: Place) -> bool {
    let arrows = [
        (Key::ArrowLeft, [-1.0, 0.0]),
        (Key::ArrowRight, [1.0, 0.0]),
        (Key::ArrowUp, [0.0, -1.0]),
        (Key::ArrowDown, [0.0, 1.0]),
    ];
    let mut moved = false;
    for (modifiers, step) in [(Modifiers::SHIFT, STEPS[1]), (Modifiers::NONE, STEPS[0])] {
        for (key, [x, y]) in arrows {
            let presses = ui.input_mut(|input| input.count_and_consume_key(modifiers, key)) as f64;
            look.cross = [look.cross[0] + presses * step * x, look.cross[1] + presses * step * y];
            moved |= presses > 0.0;
        }
    }
    look.cross = [look.cross[0].clamp(0.0, width), look.cross[1].clamp(0.0, height)];
    moved
}

/// Draws the cross of the keys.
pub fn cross(painter: &Painter, at: Pos2, area: Rect, ink: Color32) {
    let stroke = Stroke::new(1.0, ink);
    painter.hline(area.x_range(), at.y, stroke);
    painter.vline(at.x, area.y_range(), stroke);
}
