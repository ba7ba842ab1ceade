//! An element's share of its segment and its exponent, as they are typed on its card; empty stands for the usual ones.

use eframe::egui::Ui;

use crate::edit::{self, Edit};
use crate::model::facts::air_path::Element;
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::along::Along;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::label;
use crate::units::text::{self, Comma, TextError};
use crate::units::{UnitSystem, show};

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
        if let Some(text) = field::row(ui, view, spec) {
            let edit = edit_of((screen.job, screen.units), element, spec.key, &text);
            out.extend(field::taken(ui, view, spec.key, &text, edit).flatten().map(Action::Edit));
        }
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

/// Takes what stands half typed when the card closes; what cannot be is left as it was.
pub fn take_what_is_typed(view: &mut View, screen: &Screen<'_>, element: &Element, out: &mut Vec<Action>) {
    let keys = keys(element);
    for key in keys {
        view.refused.remove(&key);
    }
    let typed = view.entry.take_if(|entry| keys.contains(&entry.key)).filter(|entry| entry.text != entry.before);
    if let Some(entry) = typed {
        out.extend(
            edit_of((screen.job, screen.units), element, entry.key, &entry.text).ok().flatten().map(Action::Edit),
        );
    }
}

/// The edit that a typed text makes; nothing where it changes nothing.
fn edit_of(
    (job, units): (&Job, UnitSystem),
    element: &Element,
    key: FieldKey,
    typed: &str,
) -> Result<Option<Edit>, String> {
    let is_share = matches!(key, FieldKey::ElementShare(_));
    let (name, parsed) = if is_share {
        ("Share of its stretch", text::percent(typed))
    } else {
        ("Exponent of its drop", text::number(typed, Comma::Decimal).map(|number| number.value))
    };
    let value = match parsed {
        Err(TextError::Empty) => None,
        other => Some(other.map_err(|error| format!("{name}: {error}"))?),
    };
    let edit = if is_share { Edit::Share(element.id, value) } else { Edit::Exponent(element.id, value) };
    let old = if is_share { element.share } else { element.exponent };
    edit::check(job, &edit).map_err(|refusal| refusal.sentence(units))?;
    Ok((value != old).then_some(edit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::demo;

    #[test]
    fn share_and_exponent_take_what_people_type_and_refuse_what_cannot_be() {
        let job = demo::heat_pump();
        let element = &job.path.elements[0];
        let [share, exponent] = keys(element);
        let rows = [
            (share, "40", Ok(Some(Edit::Share(element.id, Some(0.4))))),
            (share, "12,5 %", Ok(Some(Edit::Share(element.id, Some(0.125))))),
            (share, "", Ok(None)),
            (share, "130", Err("A share of 130 % cannot be")),
            (exponent, "1.85", Ok(Some(Edit::Exponent(element.id, Some(1.85))))),
            (exponent, "3", Err("An exponent of 3 cannot be")),
            (exponent, "x", Err("Exponent of its drop: \"x\" is not a number")),
        ];
        for (key, typed, wanted) in rows {
            match (edit_of((&job, UnitSystem::InchPound), element, key, typed), wanted) {
                (Ok(edit), Ok(wanted)) => assert_eq!(edit, wanted, "{typed}"),
                (Err(message), Err(fragment)) => assert!(message.contains(fragment), "{typed}: {message}"),
                (found, wanted) => panic!("{typed}: {found:?}, not {wanted:?}"),
            }
        }
    }
}
