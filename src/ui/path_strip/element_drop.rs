//! An element's drop by data, as it is typed on its card: so much at such an airflow.

use eframe::egui::{Id, RichText, Ui};

use crate::edit::Edit;
use crate::model::facts::air_path::Element;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::numbers::job::{AIRFLOW_OF_DROP, DROP_BY_DATA, PUBLISHED_DENSITY};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::label;
use crate::units::{Airflow, Density, Pressure, UnitSystem, show};

/// What was typed into one of the fields.
enum Typed {
    Drop(String),
    Airflow(String),
    Air(String),
}

impl Typed {
    const fn text(&self) -> &String {
        match self {
            Self::Drop(text) | Self::Airflow(text) | Self::Air(text) => text,
        }
    }
}

/// Draws the fields, and hands out what they give.
pub fn fields(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    let units = screen.units;
    let id = element.id.0;
    let quiet = theme::palette(ui).quiet;
    let small = |text: &str| RichText::new(text).font(theme::regular(theme::SMALL)).color(quiet);
    let point = element.drop.as_ref().and_then(|data| data.points().last().copied());
    let drop = point.map_or_else(String::new, |(_, drop)| show::pressure_exact(drop, units).replace(',', ""));
    let airflow =
        airflow_shown(ui, screen, element).map_or_else(String::new, |airflow| show::airflow_exact(airflow, units));
    let mut typed = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        let spec = FieldSpec {
            key: FieldKey::ElementDrop(id),
            name: "Drop by data",
            shown: &drop,
            edited: &drop,
            unit: units.pressure_unit(),
            width: 70.0,
        };
        typed = field::text_box(ui, view, &spec).map(Typed::Drop);
        ui.label(small(&format!("{} at", units.pressure_unit())));
        let spec = FieldSpec {
            key: FieldKey::ElementAirflow(id),
            name: "Airflow of the drop",
            shown: &airflow,
            edited: &airflow,
            unit: units.airflow_unit(),
            width: 78.0,
        };
        if let Some(text) = field::text_box(ui, view, &spec) {
            typed = Some(Typed::Airflow(text));
        }
        ui.label(small(units.airflow_unit()));
    });
    if let Some(data) = &element.drop {
        typed = air_field(ui, units, (id, data), view).or(typed);
    }
    for key in keys(element) {
        field::reason(ui, view, key);
    }
    label::caption(ui, what_holds(element, units));
    if let Some(typed) = typed {
        take(ui, screen, element, &typed, view, out);
    }
}

/// The air that the drop was published in; empty for standard air.
fn air_field(ui: &mut Ui, units: UnitSystem, (id, data): (u32, &DropData), view: &mut View) -> Option<Typed> {
    let shown = data.published().map_or_else(String::new, |density| show::density_bare(density, units));
    let spec = FieldSpec {
        key: FieldKey::ElementAir(id),
        name: "Published in air of",
        shown: &shown,
        edited: &shown,
        unit: units.density_unit(),
        width: 70.0,
    };
    let standard = show::density(Density::STANDARD, units);
    let typed = ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        label::caption(ui, "in air of");
        let typed = field::text_box(ui, view, &spec);
        label::caption(ui, format!("{}; empty: {standard}", units.density_unit()));
        typed
    });
    typed.inner.map(Typed::Air)
}

const fn keys(element: &Element) -> [FieldKey; 3] {
    let id = element.id.0;
    [FieldKey::ElementDrop(id), FieldKey::ElementAirflow(id), FieldKey::ElementAir(id)]
}

fn what_holds(element: &Element, units: UnitSystem) -> String {
    let exponent = element.drop.as_ref().map_or_else(|| element.drop_exponent(), DropData::exponent);
    match element.drop.as_ref().map(DropData::points) {
        Some(points) if points.len() > 1 => {
            let list: Vec<String> = points
                .iter()
                .map(|(airflow, drop)| {
                    format!("{} at {}", show::pressure_bare(*drop, units), show::airflow_exact(*airflow, units))
                })
                .collect();
            format!("Holds {}; what is typed replaces them", list.join(", "))
        }
        _ => format!("By data, with airflow to the power {}; empty for none", show::trimmed(exponent, 2)),
    }
}

fn pending(element: &Element) -> Id {
    Id::unique(("airflow of a drop not typed yet", element.id.0))
}

/// The airflow in the field: the data's own, the one typed before there is a drop, the target, or the answer's.
fn airflow_shown(ui: &Ui, screen: &Screen<'_>, element: &Element) -> Option<Airflow> {
    let of_data = element.drop.as_ref().and_then(|data| data.points().last()).map(|point| point.0);
    of_data
        .or_else(|| ui.data(|data| data.get_temp::<f64>(pending(element))).map(Airflow::from_cfm))
        .or_else(|| suggested(screen))
}

/// As it is shown elsewhere: no figure that nobody read stands in the field.
fn suggested(screen: &Screen<'_>) -> Option<Airflow> {
    let target = screen.answer.blower().target.map(|target| target.actual);
    let airflow = target.or_else(|| screen.answer.point().map(|point| point.now.airflow))?;
    Some(show::airflow_as_shown(airflow, screen.units))
}

fn take(ui: &Ui, screen: &Screen<'_>, element: &Element, typed: &Typed, view: &mut View, out: &mut Vec<Action>) {
    let (key, result) = match typed {
        Typed::Drop(text) => (
            FieldKey::ElementDrop(element.id.0),
            drop_edit(text, screen.units, element, airflow_shown(ui, screen, element)).map(Some),
        ),
        Typed::Airflow(text) => {
            let airflow = airflow_of(text, screen.units).inspect(|airflow| {
                if element.drop.is_none() {
                    ui.data_mut(|data| data.insert_temp(pending(element), airflow.cfm()));
                }
            });
            let edit = airflow.and_then(|airflow| moved(element, airflow, screen.units));
            (FieldKey::ElementAirflow(element.id.0), edit)
        }
        Typed::Air(text) => (FieldKey::ElementAir(element.id.0), published(element, text, screen.units)),
    };
    let edit = field::taken(ui, view, key, typed.text(), result).flatten();
    out.extend(edit.filter(|edit| is_new(element, edit)).map(Action::Edit));
}

/// Takes what stands half typed when the card closes; what cannot be is left as it was.
pub fn take_what_is_typed(view: &mut View, screen: &Screen<'_>, element: &Element, out: &mut Vec<Action>) {
    let keys = keys(element);
    for key in keys {
        view.refused.remove(&key);
    }
    let Some(entry) = view.entry.take_if(|entry| keys.contains(&entry.key)).filter(|entry| entry.text != entry.before)
    else {
        return;
    };
    let of_data = element.drop.as_ref().and_then(|data| data.points().last()).map(|point| point.0);
    let edit = if entry.key == keys[0] {
        drop_edit(&entry.text, screen.units, element, of_data.or_else(|| suggested(screen))).ok()
    } else if entry.key == keys[2] {
        published(element, &entry.text, screen.units).ok().flatten()
    } else {
        airflow_of(&entry.text, screen.units).and_then(|airflow| moved(element, airflow, screen.units)).ok().flatten()
    };
    out.extend(edit.map(Action::Edit));
}

fn is_new(element: &Element, edit: &Edit) -> bool {
    !matches!(edit, Edit::ElementDrop(_, drop) if *drop == element.drop)
}

/// The edit that a typed drop makes; an empty text takes the data away.
fn drop_edit(typed: &str, units: UnitSystem, element: &Element, airflow: Option<Airflow>) -> Result<Edit, String> {
    if typed.trim().is_empty() {
        return Ok(Edit::ElementDrop(element.id, None));
    }
    let drop = DROP_BY_DATA.typed(typed, units).map(Pressure::from_in_wc)?;
    let airflow = airflow.ok_or("Type the airflow at which it drops so much, then the drop")?;
    data(element, airflow, drop, units)
}

fn moved(element: &Element, airflow: Airflow, units: UnitSystem) -> Result<Option<Edit>, String> {
    let drop = element.drop.as_ref().and_then(|data| data.points().last()).map(|point| point.1);
    drop.map(|drop| data(element, airflow, drop, units)).transpose()
}

/// The edit that a typed density of the air makes; an empty text means standard air.
fn published(element: &Element, typed: &str, units: UnitSystem) -> Result<Option<Edit>, String> {
    let density = match typed.trim() {
        "" => None,
        typed => Some(PUBLISHED_DENSITY.typed(typed, units).map(Density::from_lb_ft3)?),
    };
    let data = element.drop.clone().map(|data| data.published_in(density)).transpose();
    let data = data.map_err(|refused| refused.sentence(units))?;
    Ok(data.map(|data| Edit::ElementDrop(element.id, Some(data))))
}

fn airflow_of(typed: &str, units: UnitSystem) -> Result<Airflow, String> {
    AIRFLOW_OF_DROP.typed(typed, units).map(Airflow::from_cfm)
}

fn data(element: &Element, airflow: Airflow, drop: Pressure, units: UnitSystem) -> Result<Edit, String> {
    let exponent = element.drop.as_ref().map_or_else(|| element.drop_exponent(), DropData::exponent);
    let published = element.drop.as_ref().and_then(DropData::published);
    let data = DropData::at(airflow, drop, exponent).and_then(|data| data.published_in(published));
    let data = data.map_err(|refused| refused.sentence(units))?;
    Ok(Edit::ElementDrop(element.id, Some(data)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air_path::{ElementId, ElementKind, Whereabouts};
    use crate::model::facts::drop_data;

    fn filter() -> Element {
        Element::new(ElementId(3), ElementKind::Filter, Whereabouts::Cabinet)
    }

    fn typed(text: &str, airflow: Option<Airflow>) -> Result<Edit, String> {
        drop_edit(text, UnitSystem::InchPound, &filter(), airflow)
    }

    #[test]
    fn a_drop_is_taken_at_the_airflow_beside_it_with_the_exponent_of_its_kind() {
        let Ok(Edit::ElementDrop(id, Some(data))) = typed("0,18", Some(Airflow::from_cfm(1200.0))) else {
            panic!("no data");
        };
        assert_eq!(id, ElementId(3));
        assert!((data.at_airflow(Airflow::from_cfm(1200.0)).in_wc() - 0.18).abs() < 1e-12);
        assert!((data.exponent() - drop_data::MEDIA_FILTER).abs() < 1e-12);
        assert_eq!(typed(" ", None), Ok(Edit::ElementDrop(ElementId(3), None)));
    }

    #[test]
    fn a_typed_drop_has_the_exponent_that_its_element_has_without_one() {
        for kind in [ElementKind::Heater, ElementKind::ReturnDuct, ElementKind::Leak, ElementKind::Louvre] {
            let element = Element::new(ElementId(3), kind, Whereabouts::House);
            let edit = drop_edit("0.1", UnitSystem::InchPound, &element, Some(Airflow::from_cfm(1000.0)));
            let Ok(Edit::ElementDrop(_, Some(data))) = edit else { panic!("no data of {kind:?}") };
            assert!((data.exponent() - element.drop_exponent()).abs() < 1e-12, "{kind:?}");
        }
    }

    #[test]
    fn what_cannot_be_a_drop_gets_a_sentence() {
        let flow = Some(Airflow::from_cfm(1200.0));
        for (text, airflow, fragment) in [
            ("-0.2", flow, "it lies between 0 and 5 in. w.c."),
            ("12", flow, "12.00 in. w.c."),
            ("x", flow, "Drop by data: \"x\" is not a number"),
            ("0.2", None, "Type the airflow"),
        ] {
            let message = typed(text, airflow).unwrap_err();
            assert!(message.contains(fragment), "{text}: {message}");
        }
        let message = airflow_of("90,000", UnitSystem::InchPound).unwrap_err();
        assert!(message.contains("90,000 cfm") && message.contains("20,000 cfm"), "{message}");
    }
}
