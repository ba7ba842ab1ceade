//! What is typed on a card about the path itself: names, ways' shares of the air, leaks, the bypass.

use eframe::egui::Ui;

use crate::edit::{self, Edit};
use crate::model::facts::air_path::{Bypass, Element, ElementId};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::drop_data::LEAK_EXPONENT;
use crate::model::facts::job::Job;
use crate::model::facts::numbers::job::READING;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::label;
use crate::units::text::{self, Comma, TextError};
use crate::units::{UnitSystem, show};

/// Longest name of an element, letters.
const LONGEST: usize = 40;
/// Share that a leak by test is put in with before its data take its place; it never shows and never counts.
const STAND_IN: f64 = 0.1;

/// How much a leak takes, as a person knows it.
#[derive(Clone, Debug, PartialEq)]
enum LeakSize {
    /// Share of the air where it is, as a fraction.
    Share(f64),
    /// Airflow at a pressure, by a duct leakage test.
    Test(DropData),
}

/// Draws a field of the card and hands out what it gives.
pub fn typed(ui: &mut Ui, (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>), spec: &FieldSpec<'_>) {
    let Some(text) = field::row(ui, view, spec) else {
        return;
    };
    let joins = view.card.joins.map(ElementId);
    let edits = edits_of((screen.job, screen.units), spec.key, &text, joins);
    if let Some(edits) = field::taken(ui, view, spec.key, &text, edits) {
        after(screen, spec.key, &edits, view);
        hand_out(edits, out);
    }
}

fn hand_out(mut edits: Vec<Edit>, out: &mut Vec<Action>) {
    match edits.len() {
        0 => {}
        1 => out.extend(edits.pop().map(Action::Edit)),
        _ => out.push(Action::Edits(edits)),
    }
}

/// What has just been put in is opened.
fn after(screen: &Screen<'_>, key: FieldKey, edits: &[Edit], view: &mut View) {
    let next = screen.job.path.next_element().0;
    let of_key = [(matches!(key, FieldKey::NewLeak(_)), next + 1), (matches!(key, FieldKey::NewBypass(_)), next)];
    if let Some((_, put_in)) = of_key.into_iter().find(|(is_new, _)| *is_new && !edits.is_empty()) {
        view.open_element = Some(put_in);
        view.card = crate::ui::view::CardState::default();
    }
}

/// Takes what stands half typed when the card closes; what cannot be is left as it was.
pub fn take_what_is_typed(view: &mut View, screen: &Screen<'_>, out: &mut Vec<Action>) {
    view.refused.retain(|key, _| !is_of_card(*key));
    let typed = view.entry.take_if(|entry| is_of_card(entry.key)).filter(|entry| entry.text != entry.before);
    // Something new is only put in by Enter.
    let stays = typed.filter(|entry| !matches!(entry.key, FieldKey::NewLeak(_) | FieldKey::NewBypass(_)));
    let Some(entry) = stays else {
        return;
    };
    if let FieldKey::AcrossReading(id) = entry.key {
        let side = crate::ui::reading_entry::Side::Across(ElementId(id));
        let name = side.name(&screen.job.path);
        let looks = crate::ui::reading_entry::parse_looks(&entry.text, screen.units, side, &name);
        out.extend(looks.ok().map(|looks| Action::Edit(Edit::Reading(side.at(), looks))));
        return;
    }
    hand_out(edits_of((screen.job, screen.units), entry.key, &entry.text, None).unwrap_or_default(), out);
}

const fn is_of_card(key: FieldKey) -> bool {
    matches!(
        key,
        FieldKey::AcrossReading(_)
            | FieldKey::ElementName(_)
            | FieldKey::ElementShare(_)
            | FieldKey::ElementExponent(_)
            | FieldKey::WayFlow(..)
            | FieldKey::LeakAir(_)
            | FieldKey::NewLeak(_)
            | FieldKey::BypassAir
            | FieldKey::NewBypass(_)
    )
}

/// The edits that a typed text makes; none where it changes nothing.
pub(super) fn edits_of(
    (job, units): (&Job, UnitSystem),
    key: FieldKey,
    typed: &str,
    joins: Option<ElementId>,
) -> Result<Vec<Edit>, String> {
    let edits = match key {
        FieldKey::ElementName(id) => vec![rename(job, ElementId(id), typed)?],
        FieldKey::ElementShare(id) => {
            vec![Edit::Share(ElementId(id), or_nothing("Share of its stretch", text::percent(typed))?)]
        }
        FieldKey::ElementExponent(id) => {
            let number = text::number(typed, Comma::Decimal).map(|number| number.value);
            vec![Edit::Exponent(ElementId(id), or_nothing("Exponent of its drop", number)?)]
        }
        FieldKey::WayFlow(group, way) => {
            let flow = or_nothing(&format!("Share of way {}", way + 1), text::percent(typed))?;
            vec![Edit::WayFlow(ElementId(group), way as usize, flow)]
        }
        FieldKey::LeakAir(id) => leak_edits(job, ElementId(id), &leak_size(typed, units)?)?,
        FieldKey::NewLeak(after) => new_leak(job, ElementId(after), leak_size(typed, units)?),
        FieldKey::BypassAir => {
            let old = job.path.bypass.as_ref().ok_or("The air path has no bypass")?;
            vec![Edit::Bypass(Some(Bypass { flow: share("Bypass", typed)?, ..old.clone() }))]
        }
        FieldKey::NewBypass(from) => vec![new_bypass(job, ElementId(from), joins, typed)?],
        FieldKey::Of(_)
        | FieldKey::Title
        | FieldKey::Place
        | FieldKey::Date
        | FieldKey::PerTon
        | FieldKey::HeatOutput
        | FieldKey::HeatRise
        | FieldKey::ElementDrop(_)
        | FieldKey::ElementAirflow(_)
        | FieldKey::ElementAir(_)
        | FieldKey::SetName
        | FieldKey::SetTime
        | FieldKey::OptionName
        | FieldKey::OptionReason
        | FieldKey::Currency
        | FieldKey::ValidUntil
        | FieldKey::SetNote
        | FieldKey::SupplyGrilles
        | FieldKey::ReturnGrilles
        | FieldKey::PortReading(_)
        | FieldKey::AcrossReading(_)
        | FieldKey::NewJobs(_)
        | FieldKey::Source(..)
        | FieldKey::NewCurrency
        | FieldKey::ListPrice(_)
        | FieldKey::ChangeField(..) => Vec::new(),
    };
    let mut then = job.clone();
    for edit in &edits {
        edit::apply(&mut then, edit.clone()).map_err(|refusal| refusal.sentence(units))?;
    }
    Ok(if then == *job { Vec::new() } else { edits })
}

/// A name; that of its kind stands for none of its own.
fn rename(job: &Job, id: ElementId, typed: &str) -> Result<Edit, String> {
    let kind = job.path.element(id).map(|element| element.kind.name());
    let name = Some(typed.trim()).filter(|name| Some(*name) != kind).unwrap_or_default();
    let letters = name.chars().count();
    if letters > LONGEST {
        return Err(format!("A name of {letters} letters does not fit; {LONGEST} do"));
    }
    Ok(Edit::RenameElement(id, name.to_owned()))
}

/// A number that may be left out.
fn or_nothing(name: &str, typed: Result<f64, TextError>) -> Result<Option<f64>, String> {
    match typed {
        Err(TextError::Empty) => Ok(None),
        other => other.map(Some).map_err(|error| format!("{name}: {error}")),
    }
}

fn share(name: &str, typed: &str) -> Result<f64, String> {
    text::percent(typed).map_err(|error| format!("{name}: {error}; its share of the air looks like 12 or 12 %"))
}

fn leak_size(typed: &str, units: UnitSystem) -> Result<LeakSize, String> {
    let Some((airflow, pressure)) = typed.split_once(" at ") else {
        let share = text::percent(typed)
            .map_err(|error| format!("Leak: {error}; it looks like 12 for a share, or like {}", example(units)))?;
        return Ok(LeakSize::Share(share));
    };
    let airflow = text::airflow(airflow, units).map_err(|error| format!("Leak: {error}"))?;
    let pressure = text::pressure(pressure, units).map_err(|error| format!("Leak: {error}"))?;
    READING.check(pressure.in_wc()).map_err(|refused| refused.sentence(units))?;
    let positive = airflow.cfm() > 0.0 && pressure.in_wc() > 0.0;
    let data = DropData::at(airflow, pressure, LEAK_EXPONENT).ok().filter(|_| positive);
    data.map(LeakSize::Test)
        .ok_or_else(|| format!("Leak: airflow and pressure of a leakage test are above 0, like {}", example(units)))
}

/// A duct leakage test in a person's units; 25 Pa is the pressure that duct testing standards use.
fn example(units: UnitSystem) -> String {
    let airflow = crate::units::Airflow::from_cfm(120.0);
    format!("{} at 25 Pa", show::airflow_exact(airflow, units))
}

fn leak_edits(job: &Job, leak: ElementId, size: &LeakSize) -> Result<Vec<Edit>, String> {
    let (group, way) = job.path.way_of(leak).ok_or_else(|| format!("The air path has no leak {}", leak.0))?;
    Ok(match size {
        LeakSize::Share(share) => vec![Edit::ElementDrop(leak, None), Edit::WayFlow(group.id, way, Some(*share))],
        LeakSize::Test(data) => {
            vec![Edit::ElementDrop(leak, Some(data.clone())), Edit::WayFlow(group.id, way, None)]
        }
    })
}

fn new_leak(job: &Job, after: ElementId, size: LeakSize) -> Vec<Edit> {
    let group = job.path.next_element();
    match size {
        LeakSize::Share(share) => vec![Edit::AddLeak(after, share)],
        LeakSize::Test(data) => vec![
            Edit::AddLeak(after, STAND_IN),
            Edit::ElementDrop(ElementId(group.0 + 1), Some(data)),
            Edit::WayFlow(group, 1, None),
        ],
    }
}

fn new_bypass(job: &Job, from: ElementId, joins: Option<ElementId>, typed: &str) -> Result<Edit, String> {
    let joins = joins.ok_or("Say first behind which return element it joins")?;
    let flow = share("Bypass", typed)?;
    let bypass = Bypass { id: job.path.next_element(), leaves_after: from, joins_after: joins, flow };
    Ok(Edit::Bypass(Some(bypass)))
}

/// How much a leak takes, as a field and its sentence.
pub fn leak(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    let shown = leak_shown(screen, element);
    let key = FieldKey::LeakAir(element.id.0);
    leak_field(ui, (screen, view, out), key, &shown);
}

/// How much a new leak after an element takes; Enter puts it in.
pub fn leak_to_be(ui: &mut Ui, screen: &Screen<'_>, element: &Element, view: &mut View, out: &mut Vec<Action>) {
    leak_field(ui, (screen, view, out), FieldKey::NewLeak(element.id.0), "");
}

fn leak_field(
    ui: &mut Ui,
    (screen, view, out): (&Screen<'_>, &mut View, &mut Vec<Action>),
    key: FieldKey,
    shown: &str,
) {
    let spec = FieldSpec { key, name: "Leak", shown, edited: shown, unit: "", width: 130.0 };
    typed(ui, (screen, view, out), &spec);
    let units = screen.units;
    label::caption(
        ui,
        format!(
            "A share of the air there in percent, or {} at a pressure by a duct leakage test: 12, or {}",
            units.airflow_unit(),
            example(units)
        ),
    );
}

fn leak_shown(screen: &Screen<'_>, element: &Element) -> String {
    if let Some((airflow, pressure)) = element.drop.as_ref().and_then(|data| data.points().last()) {
        let airflow = show::airflow_exact(*airflow, screen.units).replace(',', "");
        return format!("{airflow} at {} Pa", show::trimmed(pressure.pa(), 1));
    }
    let stated = screen.job.path.way_of(element.id).and_then(|(group, way)| group.ways.get(way)?.flow);
    stated.map_or_else(String::new, |share| format!("{} %", show::trimmed(share * 100.0, 1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Airflow, Pressure};

    #[test]
    fn a_leak_is_a_share_or_an_airflow_at_a_pressure() {
        let units = UnitSystem::InchPound;
        assert_eq!(leak_size("12", units), Ok(LeakSize::Share(0.12)));
        assert_eq!(leak_size("12,5 %", units), Ok(LeakSize::Share(0.125)));
        let Ok(LeakSize::Test(data)) = leak_size("120 at 25 Pa", units) else {
            panic!("no test");
        };
        let at = |pa: f64| {
            let (coefficient, exponent) = data.law_at(Airflow::from_cfm(120.0));
            (Pressure::from_pa(pa).in_wc() / coefficient).powf(1.0 / exponent)
        };
        assert!((at(25.0) - 120.0).abs() < 1e-6);
        // Airflow follows pressure to the power 0.65.
        assert!((at(50.0) / at(25.0) - 2.0_f64.powf(0.65)).abs() < 1e-9);
        for (text, fragment) in [
            ("", "it looks like 12"),
            ("x", "\"x\" is not a number"),
            ("0 at 25 Pa", "above 0"),
            ("120 at 0", "above 0"),
            ("120 at furlong", "Leak: "),
        ] {
            let message = leak_size(text, units).unwrap_err();
            assert!(message.contains(fragment), "{text}: {message}");
        }
    }
}
