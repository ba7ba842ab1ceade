//! An element's share of its segment and its exponent, as they are typed on its card; empty stands for the usual ones.

use eframe::egui::Ui;

use crate::model::facts::air_path::Element;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::along::Along;
use crate::ui::path_strip::card_fields;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::FieldSpec;
use crate::ui::widgets::label;
use crate::units::show;

/// Width of a box, points.
const BOX: f32 = 58.0;

const fn keys(element: &Element) -> [FieldKey; 2] {
    [FieldKey::ElementShare(element.id.0), FieldKey::ElementExponent(element.id.0)]
}

/// Draws the two fields, and hands out what they give.
pub fn fields(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    let [share_key, exponent_key] = keys(element);
    // A part with data of its own takes no share of a reading, and its data have their own exponent.
    if element.drop.is_some() {
        return;
    }
    let share = element.share.map_or_else(String::new, |share| show::trimmed(share * 100.0, 1));
    let exponent = element.exponent.map_or_else(String::new, |exponent| show::trimmed(exponent, 2));
    let specs = [
        FieldSpec {
            key: share_key,
            name: "Share of its stretch",
            shown: &share,
            edited: &share,
            unit: "%",
            width: BOX,
        },
        FieldSpec {
            key: exponent_key,
            name: "Exponent of its drop",
            shown: &exponent,
            edited: &exponent,
            unit: "",
            width: BOX,
        },
    ];
    // Ways side by side have the exponents of their own elements.
    let of_kind = if element.is_group() { 1 } else { 2 };
    for spec in &specs[..of_kind] {
        card_fields::typed(ui, (screen, view, out), spec);
    }
    label::caption(ui, usual(screen, element));
}

/// What holds while nothing is typed.
fn usual(screen: &Screen<'_>, element: &Element) -> String {
    let mut said = Vec::new();
    if element.share.is_none() {
        let profile = screen.answer.point().and_then(|running| running.system.profile.as_ref());
        let along = profile.and_then(|profile| Some((profile, profile.part(element.id)?)));
        said.push(match along {
            Some((_, Along { drop: Some(drop), standing: Some(PathStanding::Shared), .. })) => {
                let drop = show::pressure(*drop, screen.units);
                if element.is_group() {
                    return format!("Empty: its stretch's drop, or its part of it by usual weight, about {drop}");
                }
                format!("share by usual weight, about {drop}, assumed")
            }
            Some((profile, _)) => match profile.share(element.id) {
                Some(share) => format!("stands alone, {} of the external drop", show::percent(share)),
                None => "stands alone".to_owned(),
            },
            None => "share by usual weight once a change or a share splits the stretch, assumed".to_owned(),
        });
    }
    if element.exponent.is_none() && !element.is_group() {
        said.push(format!("exponent {}, usual for its kind, assumed", show::trimmed(element.drop_exponent(), 2)));
    }
    if said.is_empty() {
        return "Empty stands for the usual value".to_owned();
    }
    format!("Empty: {}", said.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Edit;
    use crate::files::demo;
    use crate::units::UnitSystem;

    #[test]
    fn share_and_exponent_take_what_people_type_and_refuse_what_cannot_be() {
        let job = demo::heat_pump();
        let element = &job.path.elements[0];
        let [share, exponent] = keys(element);
        let rows = [
            (share, "40", Ok(vec![Edit::Share(element.id, Some(0.4))])),
            (share, "12,5 %", Ok(vec![Edit::Share(element.id, Some(0.125))])),
            (share, "", Ok(vec![])),
            (share, "130", Err("A share of 130 % cannot be")),
            (exponent, "1.85", Ok(vec![Edit::Exponent(element.id, Some(1.85))])),
            (exponent, "3", Err("An exponent of 3 cannot be")),
            (exponent, "x", Err("Exponent of its drop: \"x\" is not a number")),
        ];
        for (key, typed, wanted) in rows {
            match (card_fields::edits_of((&job, UnitSystem::InchPound), key, typed, None), wanted) {
                (Ok(edits), Ok(wanted)) => assert_eq!(edits, wanted, "{typed}"),
                (Err(message), Err(fragment)) => assert!(message.contains(fragment), "{typed}: {message}"),
                (found, wanted) => panic!("{typed}: {found:?}, not {wanted:?}"),
            }
        }
    }
}
