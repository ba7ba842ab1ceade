//! Fittings of known loss: each added to a run's sum by a press, and what that sum is made of.

use eframe::egui::{Button, RichText, Role, Ui, Vec2, WidgetInfo};

use crate::edit::Edit;
use crate::model::alone;
use crate::model::change::stated::Side;
use crate::model::facts::change::Change;
use crate::model::facts::duct::fitting::{Fitting, FittingSum};
use crate::model::wording;
use crate::ui::changes_panel::rows::{room, row};
use crate::ui::changes_panel::slots::{self, FittingsSlot};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::label;
use crate::units::show;

/// Width of a button that adds, points.
const ADD: f32 = 60.0;

/// Draws what the sums are made of, and under a fold the fittings.
pub fn fittings(
    ui: &mut Ui,
    screen: &Screen<'_>,
    change: &Change,
    sums: &[FittingsSlot],
    view: &mut View,
    out: &mut Vec<Action>,
) {
    for slot in sums {
        if let Some(made) = made_of(view, change, slot).filter(|made| !made.fittings.is_empty()) {
            label::caption(ui, wording::alone::fittings(slot.side.said("ΣC"), &made));
        }
    }
    let mark = if view.fittings_open { "▲" } else { "▼" };
    let text = RichText::new(format!("Fittings {mark}")).font(theme::regular(theme::SMALL));
    let fold = ui.add(Button::new(text).min_size(Vec2::splat(theme::FINGER)));
    let is_open = view.fittings_open;
    fold.widget_info(|| WidgetInfo::selected(Role::Button, true, is_open, "Fittings of known loss"));
    if fold.clicked() {
        view.fittings_open = !is_open;
    }
    if is_open {
        for of_source in alone::fittings().chunk_by(|one, next| one.source == next.source) {
            for fitting in of_source {
                offered(ui, screen, change, *fitting, sums, view, out);
            }
            label::caption(ui, of_source[0].source);
        }
    }
}

/// A fitting with its coefficient, and a button for each sum that it can be added to.
fn offered(
    ui: &mut Ui,
    screen: &Screen<'_>,
    change: &Change,
    fitting: Fitting,
    sums: &[FittingsSlot],
    view: &mut View,
    out: &mut Vec<Action>,
) {
    let Fitting { name, coefficient, .. } = fitting;
    let buttons = room(ADD) * sums.len() as f32;
    row(ui, &format!("{}  {name}", show::number(coefficient, 2)), buttons, |ui| {
        for slot in sums {
            let to = match slot.side {
                Side::Alone => "Add".to_owned(),
                Side::Now | Side::Then => format!("Add to {}", slot.side.said("").to_lowercase()),
            };
            let text = if slot.side == Side::Alone {
                "+".to_owned()
            } else {
                format!("+ {}", slot.side.said("").to_lowercase())
            };
            let button = Button::new(RichText::new(text).font(theme::regular(theme::SMALL)));
            let response = ui.add(button.min_size(Vec2::new(ADD, theme::FINGER)));
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{to}: {name}")));
            if response.clicked() {
                add(screen, change, slot, fitting, view, out);
            }
        }
    });
}

/// Adds one; what the sum was made of before is kept, for undo brings it back.
fn add(
    screen: &Screen<'_>,
    change: &Change,
    slot: &FittingsSlot,
    fitting: Fitting,
    view: &mut View,
    out: &mut Vec<Action>,
) {
    let typed = FittingSum { typed: slot.sum, ..FittingSum::default() };
    let made = made_of(view, change, slot).unwrap_or(typed).with(fitting);
    let text = show::trimmed(made.sum(), 3);
    // A sum past what can be is left as it is.
    if let Ok(kind) = slots::typed(&change.kind, slot.number, &text, screen.units) {
        // A press is a step of undo by itself, as a slide is not.
        out.push(Action::Edits(vec![Edit::ReplaceChange(change.id, kind)]));
        view.made_of.entry((change.id.0, slot.number)).or_default().push(made);
    }
}

/// What makes the sum as it stands, the newest first; nothing where it was typed.
fn made_of(view: &View, change: &Change, slot: &FittingsSlot) -> Option<FittingSum> {
    let known = view.made_of.get(&(change.id.0, slot.number))?;
    known.iter().rfind(|made| made.makes(slot.sum)).cloned()
}
