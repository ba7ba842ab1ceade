//! How readings are typed and shown, wherever their fields stand: the rules of signs, looks and units, and the box itself.

mod grilles;
mod looks;

pub use grilles::parse_grilles;
pub use looks::parse_looks;

use eframe::egui::{Key, Ui};

use crate::edit::Edit;
use crate::model::facts::air_path::{AirPath, ElementId, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Field;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::wording::paper::read_at;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Refused, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::units::{Pressure, UnitSystem, show};

/// Which reading a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Static before the blower: negative unless a plus is typed.
    Return,
    /// Static after the blower: positive unless a minus is typed.
    Supply,
    /// Total external static as one number: positive unless a minus is typed.
    Total,
    /// Static at any other port before the blower: negative unless a plus is typed.
    PortBefore(PortId),
    /// Static at any other port after the blower: positive unless a minus is typed.
    PortAfter(PortId),
    /// The drop straight across an element: positive unless a minus is typed.
    Across(ElementId),
}

impl Side {
    /// The field of a port; nothing for one that the path does not have.
    pub fn of_port(path: &AirPath, port: PortId) -> Option<Self> {
        Some(match (port, path.is_before_blower(port)?) {
            (RETURN_PORT, _) => Self::Return,
            (SUPPLY_PORT, _) => Self::Supply,
            (_, true) => Self::PortBefore(port),
            (_, false) => Self::PortAfter(port),
        })
    }

    /// Where the reading belongs.
    pub const fn at(self) -> ReadAt {
        match self {
            Self::Return => ReadAt::Port(RETURN_PORT),
            Self::Supply => ReadAt::Port(SUPPLY_PORT),
            Self::Total => ReadAt::Total,
            Self::PortBefore(port) | Self::PortAfter(port) => ReadAt::Port(port),
            Self::Across(element) => ReadAt::Across(element),
        }
    }

    /// Its field.
    pub const fn key(self) -> FieldKey {
        match self {
            Self::PortBefore(port) | Self::PortAfter(port) => FieldKey::PortReading(port.0),
            Self::Across(element) => FieldKey::AcrossReading(element.0),
            Self::Return | Self::Supply | Self::Total => FieldKey::Of(Field::of_reading(self.at())),
        }
    }

    /// Its name, for screen readers and in sentences.
    pub fn name(self, path: &AirPath) -> String {
        read_at(path, self.at())
    }

    /// What can be typed there.
    const fn hint(self) -> &'static str {
        match (self.is_at_port(), self.is_before()) {
            (true, true) => "a bare number is taken as negative; several readings stand side by side",
            (true, false) => "a bare number is taken as positive; several readings stand side by side",
            _ => "a drop without a sign; several readings stand side by side",
        }
    }

    /// True where a bare number is meant as negative.
    const fn is_before(self) -> bool {
        matches!(self, Self::Return | Self::PortBefore(_))
    }

    /// True where a reading shows its sign: at a port.
    const fn is_at_port(self) -> bool {
        !matches!(self, Self::Total | Self::Across(_))
    }

    /// The sign that a bare number takes, as it stands quietly in the box.
    const fn quiet_sign(self) -> &'static str {
        match (self.is_at_port(), self.is_before()) {
            (true, true) => "−",
            (true, false) => "+",
            _ => "",
        }
    }
}

/// True for a job that was read as one total and not at two ports; its screen begins with the total's field.
pub fn is_total_only(job: &Job) -> bool {
    let has = |side: Side| job.set().at(side.at()).is_some();
    has(Side::Total) && !has(Side::Return) && !has(Side::Supply)
}

/// The average as it stands in a field at rest: signed at a port, empty without a reading.
pub fn at_rest(reading: Option<&Reading>, units: UnitSystem, side: Side) -> String {
    match (reading.and_then(Reading::average), side) {
        (None, _) => String::new(),
        (Some(average), side) if side.is_at_port() => show::pressure_signed(average, units),
        (Some(average), _) => show::pressure_bare(average, units),
    }
}

/// The looks as they stand in a field under the hand; typed back they give the same looks.
pub fn as_looks(reading: Option<&Reading>, units: UnitSystem, side: Side) -> String {
    let looks = reading.map_or(&[][..], |reading| &reading.looks);
    let texts: Vec<String> = looks.iter().map(|look| exact(*look, units, side)).collect();
    texts.join(" ")
}

fn exact(look: Pressure, units: UnitSystem, side: Side) -> String {
    // Without the comma at thousands, which a reading's field takes for a decimal sign.
    let bare = show::pressure_exact(look, units).replace(',', "");
    if side.is_at_port() && look > Pressure::ZERO { format!("+{bare}") } else { bare }
}

/// What several readings are called under their field: how many, and how far apart; longest wording first.
///
/// The spread is the standard uncertainty of the average.
pub fn looks_caption(reading: &Reading, units: UnitSystem) -> Option<[String; 2]> {
    if reading.looks.len() < 2 {
        return None;
    }
    let count = reading.looks.len();
    let spread = show::pressure_bare(reading.unsteadiness(), units);
    let is_zero = spread.chars().all(|letter| matches!(letter, '0' | '.'));
    let spread = if is_zero { String::new() } else { format!(", ±{spread}") };
    Some([format!("mean of {count} readings{spread}"), format!("mean of {count}{spread}")])
}

/// The text that a reading's field shows in this frame.
fn visible_text(view: &View, key: FieldKey, shown: &str) -> String {
    let held = view.entry.as_ref().filter(|entry| entry.key == key).map(|entry| entry.text.clone());
    held.or_else(|| view.refused.get(&key).map(|refused| refused.text.clone())).unwrap_or_else(|| shown.to_owned())
}

/// Draws the box of a reading, `width` points wide, and hands out what is typed.
///
/// Enter in the field before the blower moves on to the one after it; a refused text stays under the hand with its reason.
pub fn reading_box(ui: &mut Ui, view: &mut View, screen: &Screen<'_>, side: Side, width: f32, out: &mut Vec<Action>) {
    let reading = screen.job.set().at(side.at());
    let shown = at_rest(reading, screen.units, side);
    let edited = as_looks(reading, screen.units, side);
    let key = side.key();
    let name = side.name(&screen.job.path);
    let spec =
        FieldSpec { key, name: &name, shown: &shown, edited: &edited, unit: screen.units.pressure_unit(), width };
    let at = ui.cursor().min;
    let visible = visible_text(view, key, &shown);
    // The Enter that sends the hand here would be taken for an Enter in this field.
    let entering = ui.input(|input| input.key_pressed(Key::Enter));
    let next = view.go_to.take_if(|next| entering && *next == key);
    let committed = field::hinted_box(ui, view, &spec, || format!("{name}: {}", side.hint()));
    if next.is_some() {
        view.go_to = next;
        ui.ctx().request_repaint();
    }
    quiet_sign(ui, side, &visible, at);
    let Some(typed) = committed else {
        return;
    };
    let taken = take(&typed, &edited, view, screen, side, out);
    if entering {
        view.go_to = match (taken, side) {
            (Entered::Refused, _) => Some(key),
            (Entered::Accepted, Side::Return) => Some(Side::Supply.key()),
            (
                Entered::Accepted,
                Side::Supply | Side::Total | Side::PortBefore(_) | Side::PortAfter(_) | Side::Across(_),
            ) => view.go_to,
        };
    }
}

fn quiet_sign(ui: &Ui, side: Side, visible: &str, at: eframe::egui::Pos2) {
    let is_signed = visible.trim_start().starts_with(['+', '-', '−', '–', '—']);
    if is_signed || visible.chars().count() > 4 {
        return;
    }
    let centre = eframe::egui::pos2(at.x + theme::STEP, ui.min_rect().center().y);
    let font = theme::strong(theme::BODY);
    ui.painter().text(centre, eframe::egui::Align2::LEFT_CENTER, side.quiet_sign(), font, theme::palette(ui).quiet);
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Entered {
    Accepted,
    Refused,
}

fn take(typed: &str, edited: &str, view: &mut View, screen: &Screen<'_>, side: Side, out: &mut Vec<Action>) -> Entered {
    match parse_looks(typed, screen.units, side, &side.name(&screen.job.path)) {
        Ok(looks) => {
            view.refused.remove(&side.key());
            // What stood there is not rounded by passing through.
            if typed.trim() != edited {
                out.push(Edit::Reading(side.at(), looks).into());
            }
            Entered::Accepted
        }
        Err(message) => {
            view.refused.insert(side.key(), Refused { text: typed.to_owned(), message });
            Entered::Refused
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_field_shows_for_editing_gives_the_same_looks_when_typed_back() {
        let looks: Vec<Pressure> = [-0.52, -0.5125, 0.31, 0.0].map(Pressure::from_in_wc).to_vec();
        let steep: Vec<Pressure> = [-1100.5, 1200.0].map(Pressure::from_pa).to_vec();
        for (looks, units) in [(looks, UnitSystem::InchPound), (steep, UnitSystem::SiLitres)] {
            let sides = [
                Side::Return,
                Side::Supply,
                Side::Total,
                Side::PortBefore(PortId(3)),
                Side::PortAfter(PortId(4)),
                Side::Across(ElementId(2)),
            ];
            for side in sides {
                let reading = Reading { at: side.at(), looks: looks.clone() };
                let text = as_looks(Some(&reading), units, side);
                let back = parse_looks(&text, units, side, "Static").unwrap();
                assert_eq!(back.len(), looks.len(), "{text}");
                for (one, other) in back.iter().zip(&looks) {
                    assert!((*one - *other).abs().in_wc() < 1e-9, "{side:?} {text}");
                }
            }
        }
    }

    #[test]
    fn at_rest_a_port_shows_its_sign_and_a_total_does_not() {
        let reading = |in_wc: f64| Reading { at: ReadAt::Total, looks: vec![Pressure::from_in_wc(in_wc)] };
        let units = UnitSystem::InchPound;
        assert_eq!(at_rest(Some(&reading(-0.52)), units, Side::Return), "−0.52");
        assert_eq!(at_rest(Some(&reading(0.31)), units, Side::Supply), "+0.31");
        assert_eq!(at_rest(Some(&reading(0.83)), units, Side::Total), "0.83");
        assert_eq!(at_rest(None, units, Side::Return), "");
    }

    #[test]
    fn several_looks_say_how_many_and_how_far_apart() {
        let of = |looks: &[f64]| Reading {
            at: ReadAt::Total,
            looks: looks.iter().copied().map(Pressure::from_in_wc).collect(),
        };
        let units = UnitSystem::InchPound;
        assert_eq!(looks_caption(&of(&[0.5]), units), None);
        let wordings = ["mean of 3 readings, ±0.01", "mean of 3, ±0.01"].map(str::to_owned);
        assert_eq!(looks_caption(&of(&[0.50, 0.52, 0.54]), units), Some(wordings));
        assert_eq!(looks_caption(&of(&[0.5, 0.5]), units).unwrap()[0], "mean of 2 readings");
    }
}
