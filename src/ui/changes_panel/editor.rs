//! The editor of an open change: its fields in the trade's terms, its slider, and what it does while the hand moves.

use eframe::egui::{Button, Label, RichText, Slider, Ui, WidgetInfo, vec2};

use crate::edit::{self, Edit};
use crate::model::alone;
use crate::model::change::stated::{Held, USUAL_COMPRESSION};
use crate::model::change::{Allowed, Asks};
use crate::model::facts::blower::Call;
use crate::model::facts::change::{Change, ChangeId, ChangeKind, OtherCall, OtherTap};
use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::number::{Number, OutOfRange, Slider as Reach};
use crate::model::facts::numbers::duct as given;
use crate::model::facts::numbers::job::{LABOUR, PRICE};
use crate::model::first_guess;
use crate::model::wording::{self, cautions, changes, heat};
use crate::ui::changes_panel::boxes::Slot;
use crate::ui::changes_panel::rows::{room, row};
use crate::ui::changes_panel::{fittings, machine, slots};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::{caution, choice, hint, label};
use crate::units::text;
use crate::units::{UnitSystem, show};

/// Width of a box, points.
const BOX: f32 = 76.0;
/// Width of a box for words or for a point, points.
const WIDE_BOX: f32 = 150.0;

/// Draws the editor of a change under its row.
pub fn editor(ui: &mut Ui, screen: &Screen<'_>, change: &Change, view: &mut View, out: &mut Vec<Action>) {
    for which in cautions::of_change(&change.kind, screen.job) {
        caution::caution(ui, screen, which);
    }
    machine::choices(ui, screen, change, view, out);
    walls(ui, change, out);
    taps(ui, screen, change, out);
    calls(ui, screen, change, out);
    if is_by_the_table(screen, &change.kind) {
        label::caption(
            ui,
            "This coil is part of the table: the table's own drop for a wet coil counts, no factor does",
        );
    } else {
        let sums = slots::fittings(&change.kind);
        for line in slots::lines(&change.kind, screen.units) {
            fields(ui, screen, change, &line, view, out);
            let is_of_fittings = |slot: &Slot| sums.iter().any(|sum| sum.number == slot.number);
            if line.slots.iter().any(is_of_fittings) {
                fittings::fittings(ui, screen, change, &sums, view, out);
            }
        }
        slider(ui, change, out);
    }
    results(ui, screen, change);
    other_way(ui, screen, change, view, out);
    price(ui, screen, change, view, out);
    note(ui, change, view, out);
}

/// A coil inside the machine of which the table prints the wet drop: no number of this change counts.
fn is_by_the_table(screen: &Screen<'_>, kind: &ChangeKind) -> bool {
    kind.particulars().coil.is_some_and(|coil| screen.job.prints_wet_drop_of(coil))
}

const fn width_of(slot: &Slot) -> f32 {
    if slot.is_wide { WIDE_BOX } else { BOX }
}

fn fields(
    ui: &mut Ui,
    screen: &Screen<'_>,
    change: &Change,
    line: &slots::Line,
    view: &mut View,
    out: &mut Vec<Action>,
) {
    let key = |slot: &Slot| FieldKey::ChangeField(change.id.0, slot.number);
    let boxes = line.slots.iter().map(|slot| room(width_of(slot))).sum();
    let mut committed = None;
    row(ui, &line.label, boxes, |ui| {
        for slot in &line.slots {
            let spec = spec(key(slot), &slot.name, &slot.shown, width_of(slot));
            if let Some(text) = field::text_box(ui, view, &spec) {
                committed = Some((slot.number, text));
            }
        }
    });
    for slot in &line.slots {
        field::reason(ui, view, key(slot));
    }
    if let Some((number, text)) = committed {
        let result = slots::typed(&change.kind, number, &text, screen.units)
            .and_then(|kind| refusal(screen, &change.kind, &kind).map_or(Ok(kind), Err));
        let result = result.map(|kind| Edit::ReplaceChange(change.id, kind));
        let key = FieldKey::ChangeField(change.id.0, number);
        out.extend(field::taken(ui, view, key, &text, result).map(Action::Edit));
    }
}

const fn spec<'a>(key: FieldKey, name: &'a str, shown: &'a str, width: f32) -> FieldSpec<'a> {
    FieldSpec { key, name, shown, edited: shown, unit: "", width }
}

/// The sentence why a change as typed cannot be put on; a sentence that held before the typing stands in the list already.
fn refusal(screen: &Screen<'_>, before: &ChangeKind, typed: &ChangeKind) -> Option<String> {
    if let Err(refusal) = typed.check() {
        return Some(refusal.sentence(screen.units));
    }
    let refused = |kind| alone::eased(screen.job, screen.answer, kind).err();
    let refusal = refused(typed)?;
    (refused(before).as_ref() != Some(&refusal)).then(|| refusal.sentence(screen.units))
}

/// Stiff or flexible, for each run of the change.
fn walls(ui: &mut Ui, change: &Change, out: &mut Vec<Action>) {
    let mut kind = change.kind.clone();
    let mut is_picked = false;
    for one in kind.stated() {
        if let Held::Run(run) = one.held
            && let Some(picked) = wall(ui, &one.side.named("Wall"), one.side.said(one.label), run)
        {
            *run = picked;
            is_picked = true;
        }
    }
    if is_picked {
        out.push(Edit::ReplaceChange(change.id, kind).into());
    }
}

fn wall(ui: &mut Ui, name: &str, short: &str, run: &Run) -> Option<Run> {
    let is_flexible = matches!(run.wall, Wall::Flexible { .. });
    let options = [("Galvanized".to_owned(), !is_flexible), ("Flexible".to_owned(), is_flexible)];
    let mut picked = None;
    row(ui, short, 188.0, |ui| picked = choice::buttons(ui, name, &options));
    let wall = match picked? {
        0 if is_flexible => Wall::from(Material::Galvanized),
        1 if !is_flexible => Wall::Flexible { compression: USUAL_COMPRESSION },
        _ => return None,
    };
    Some(Run { wall, ..*run })
}

fn taps(ui: &mut Ui, screen: &Screen<'_>, change: &Change, out: &mut Vec<Action>) {
    let (ChangeKind::OtherTap(OtherTap { tap: chosen }), Some(table)) =
        (&change.kind, first_guess::table_then(screen.job, screen.answer))
    else {
        return;
    };
    let options: Vec<(String, bool)> = table.taps.iter().map(|tap| (tap.name.clone(), tap.name == *chosen)).collect();
    if let Some(index) = choice::buttons(ui, &format!("Then {}", table.motor.tap_word()), &options) {
        out.push(
            Edit::ReplaceChange(change.id, ChangeKind::OtherTap(OtherTap { tap: options[index].0.clone() })).into(),
        );
    }
}

/// The calls that the machine's table maps to a tap; and the rise where the call heats.
fn calls(ui: &mut Ui, screen: &Screen<'_>, change: &Change, out: &mut Vec<Action>) {
    let (ChangeKind::OtherCall(OtherCall { call: chosen }), Some(table)) =
        (&change.kind, first_guess::table_then(screen.job, screen.answer))
    else {
        return;
    };
    let mapped: Vec<Call> = Call::ALL.into_iter().filter(|call| table.tap_of_call(*call).is_some()).collect();
    let options: Vec<(String, bool)> = mapped.iter().map(|call| (call.name().to_owned(), call == chosen)).collect();
    if let Some(index) = choice::buttons(ui, "Then call", &options) {
        out.push(Edit::ReplaceChange(change.id, ChangeKind::OtherCall(OtherCall { call: mapped[index] })).into());
    }
    if let Some(tap) = table.tap_of_call(*chosen) {
        label::caption(ui, format!("By the table's map it runs {} {tap}", table.motor.tap_word()));
    }
    let after = screen.answer.with_changes();
    let rises = after.filter(|after| after.system.blower.call == *chosen).and_then(|after| after.system.runs());
    for rise in rises.into_iter().flat_map(|point| &point.rises).filter(|rise| rise.call == *chosen) {
        let colour = theme::palette(ui).change;
        let text = heat::rise(table, rise, screen.units);
        ui.add(Label::new(RichText::new(text).font(theme::strong(theme::SMALL)).color(colour)).wrap());
    }
}

/// Sliders that move the change while they are held, where one number says it all.
fn slider(ui: &mut Ui, change: &Change, out: &mut Vec<Action>) {
    let mut kind = change.kind.clone();
    for mut one in kind.stated() {
        let Some((mut value, reach)) = one.slider() else {
            continue;
        };
        let moved = slide(ui, &mut value, reach);
        let name = format!("Slide: {}", one.side.named(one.name).to_lowercase());
        moved.widget_info(|| WidgetInfo::slider(true, value, &name));
        hint::hint(&moved, || format!("{name}: Left and Right move it"));
        moved.ctx.accesskit_node_builder(moved.id, |node| {
            // A typed value may lie past the slider's end.
            node.set_min_numeric_value(reach.low.min(value));
            node.set_max_numeric_value(reach.high.max(value));
        });
        if moved.changed() {
            one.slide_to(value);
        }
    }
    if kind != change.kind {
        out.push(Edit::ReplaceChange(change.id, kind).into());
    }
}

fn slide(ui: &mut Ui, value: &mut f64, reach: Reach) -> eframe::egui::Response {
    ui.spacing_mut().slider_width = ui.available_width() - theme::STEP;
    // A typed value past the slider's end stays until the slider is moved.
    let clamping = eframe::egui::SliderClamping::Never;
    ui.add(Slider::new(value, reach.low..=reach.high).step_by(reach.step).show_value(false).clamping(clamping))
}

/// What the change does alone, as long as it can be put on; a refusal stands in its row.
fn results(ui: &mut Ui, Screen { job, answer, units, .. }: &Screen<'_>, change: &Change) {
    let eased = alone::eased(job, answer, &change.kind).ok().flatten();
    let by_air = alone::by_air(job, answer, change);
    let told = eased.map(|eased| wording::alone::eased(&eased, *units));
    for text in told.into_iter().chain(by_air.map(|told| wording::alone::by_air(&told, *units))) {
        let colour = theme::palette(ui).change;
        ui.add(Label::new(RichText::new(text).font(theme::strong(theme::SMALL)).color(colour)).wrap());
    }
    for question in wording::alone::questions(job, answer, &change.kind, *units) {
        label::question(ui, &question);
    }
    if let Ok(Some(way)) = alone::new_way(job, answer, &change.kind) {
        label::caption(ui, wording::alone::new_way(&way, &job.limits, *units));
    }
}

/// The question the other way round: which size an allowed drop or velocity asks for.
fn other_way(ui: &mut Ui, screen: &Screen<'_>, change: &Change, view: &mut View, out: &mut Vec<Action>) {
    let units = screen.units;
    let asks = change.kind.declaration().asks;
    let allowed = view.allowed.get(&change.id.0).copied().filter(|allowed| allowed.asks() == asks);
    let (name, unit) = match asks {
        Asks::Nothing => return,
        Asks::Drop => ("drop", units.pressure_unit()),
        Asks::Velocity => ("velocity", units.velocity_unit()),
    };
    let shown = allowed.map(|allowed| match allowed {
        Allowed::Drop(drop) => show::pressure_exact(drop, units),
        Allowed::Velocity(velocity) => show::velocity_bare(velocity, units),
    });
    let (name, label_text) = (format!("Allowed {name}"), format!("Size for a {name} of, {unit}"));
    let shown = shown.unwrap_or_default();
    let key = FieldKey::ChangeField(change.id.0, FieldKey::ALLOWED);
    let mut committed = None;
    row(ui, &label_text, room(BOX), |ui| committed = field::text_box(ui, view, &spec(key, &name, &shown, BOX)));
    field::reason(ui, view, key);
    if let Some(text) = committed
        && let Some(allowed) = field::taken(ui, view, key, &text, allowed_from(&text, asks, screen.units))
    {
        match allowed {
            Some(allowed) => view.allowed.insert(change.id.0, allowed),
            None => view.allowed.remove(&change.id.0),
        };
    }
    match allowed.map_or(Ok(None), |allowed| alone::size_for(screen.job, screen.answer, &change.kind, allowed)) {
        Ok(Some(size)) => {
            label::caption(ui, wording::alone::size(size, units));
            if let Some(then) = alone::resized(&change.kind, size)
                && ui.add(Button::new("Take this size").min_size(vec2(0.0, theme::FINGER))).clicked()
            {
                out.push(Action::Edits(vec![Edit::ReplaceChange(change.id, then)]));
            }
        }
        Err(refusal) => {
            label::error(ui, &refusal.sentence(units));
        }
        Ok(None) => {}
    }
}

/// What a text allows; nothing where it is empty.
fn allowed_from(typed: &str, asks: Asks, units: UnitSystem) -> Result<Option<Allowed>, String> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let out_of_range = |refused: OutOfRange| refused.sentence(units);
    match asks {
        Asks::Nothing => Ok(None),
        Asks::Drop => {
            let drop = text::pressure(typed, units).map_err(|error| format!("Allowed drop: {error}"))?;
            given::ALLOWED_DROP.check(drop.in_wc()).map_err(out_of_range)?;
            Ok(Some(Allowed::Drop(drop)))
        }
        Asks::Velocity => {
            let velocity = text::velocity(typed, units).map_err(|error| format!("Allowed velocity: {error}"))?;
            given::ALLOWED_VELOCITY.check(velocity.fpm()).map_err(out_of_range)?;
            Ok(Some(Allowed::Velocity(velocity)))
        }
    }
}

fn price(ui: &mut Ui, screen: &Screen<'_>, change: &Change, view: &mut View, out: &mut Vec<Action>) {
    let currency = show::currency_of(&screen.job.costs.currency);
    let of_list = screen.firsts.and_then(|firsts| firsts.price(&change.kind, screen.job));
    let whole = (&PRICE, FieldKey::PRICE, change.price);
    money(ui, screen, (&format!("Price, {currency}"), whole), change, view, out, Edit::ChangePrice);
    if of_list.is_some() && of_list == change.price {
        label::caption(ui, "As the price list in the settings has it");
    }
    let elsewhere = screen.firsts.and_then(|firsts| {
        Some(changes::price_elsewhere(firsts.price_elsewhere(&change.kind, screen.job)?, &firsts.currency, currency))
    });
    if let Some(told) = elsewhere.filter(|_| change.price.is_none()) {
        label::caption(ui, told);
    }
    if change.price.is_some() {
        let labour = (&LABOUR, FieldKey::LABOUR, change.labour);
        money(ui, screen, ("Of it labour", labour), change, view, out, Edit::ChangeLabour);
    }
}

/// A field of money: its label, and its number, place and value.
type Money<'a> = (&'a str, (&'static Number, u8, Option<f64>));

fn money(
    ui: &mut Ui,
    screen: &Screen<'_>,
    (told, (number, slot, value)): Money<'_>,
    change: &Change,
    view: &mut View,
    out: &mut Vec<Action>,
    edit: fn(ChangeId, Option<f64>) -> Edit,
) {
    let shown = value.map(|value| number.quantity.bare(value, screen.units)).unwrap_or_default();
    let key = FieldKey::ChangeField(change.id.0, slot);
    let mut committed = None;
    row(ui, told, room(BOX), |ui| {
        committed = field::text_box(ui, view, &spec(key, number.name, &shown, BOX));
    });
    field::reason(ui, view, key);
    if let Some(text) = committed {
        let typed = if text.trim().is_empty() { Ok(None) } else { number.typed(&text, screen.units).map(Some) };
        let taken = |edit: Edit| match edit::check(screen.job, &edit) {
            Ok(()) => Ok(edit),
            Err(refusal) => Err(refusal.sentence(screen.units)),
        };
        let result = typed.map(|value| edit(change.id, value)).and_then(taken);
        out.extend(field::taken(ui, view, key, &text, result).map(Action::Edit));
    }
}

fn note(ui: &mut Ui, change: &Change, view: &mut View, out: &mut Vec<Action>) {
    let key = FieldKey::ChangeField(change.id.0, FieldKey::NOTE);
    let wide = ui.available_width() - 84.0;
    let mut committed = None;
    row(ui, "Note", room(wide), |ui| {
        committed = field::text_box(ui, view, &spec(key, "Note on the change", &change.note, wide));
    });
    out.extend(committed.map(|text| Edit::ChangeNote(change.id, text).into()));
}
