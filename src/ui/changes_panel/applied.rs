//! The changes put on, as a list: a row each with what it brings alone and after the others and what it costs, and all of it together.

use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align2, Checkbox, Color32, FontId, Id, Label, Layout, Pos2, Rect, Response, RichText, Role, Sense, Ui, UiBuilder,
    WidgetInfo, pos2, vec2,
};

use crate::edit::Edit;
use crate::files::settings::Panel;
use crate::model::facts::change::{Change, ChangeId, Switch};
use crate::model::first_guess;
use crate::model::solution::gain::Gain;
use crate::model::solution::worth::Worth;
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::options::shortened;
use crate::model::wording::{changes, prices};
use crate::ui::theme;
use crate::ui::view::action::Action;

use crate::ui::view::{Screen, View};
use crate::ui::widgets::{fold, hint, label};
use crate::units::{Airflow, UnitSystem, show};

/// Worths whose sum is off the whole by more than this are said not to add up.
const ADDS_UP: Airflow = Airflow::from_cfm(5.0);
/// Height of a row: name over size.
pub(super) const ROW: f32 = 36.0;
/// Height of the heads of the columns.
pub(super) const HEADS: f32 = 20.0;
/// Height of the row of all together, with the rooms' air under it.
pub(super) const TOGETHER: f32 = 38.0;
/// Share of a row's height that its name has.
const UPPER: f32 = 0.52;
/// Room of the switch before a name.
const SWITCH: f32 = theme::FINGER;
/// Right ends of the columns alone, after the others and price in a row, and where they begin.
struct Columns {
    ends: [f32; 3],
    left: f32,
    /// True where there is room for the ± of a gain, and for whole words over it.
    is_wide: bool,
}

/// Width of a row from which its figures have room.
const WIDE: f32 = 352.0;

impl Columns {
    fn of(row: Rect) -> Self {
        let is_wide = row.width() >= WIDE;
        let [alone, after, price] = if is_wide { [66.0, 46.0, 58.0] } else { [42.0, 44.0, 58.0] };
        let right = row.right() - theme::STEP * 0.5;
        let ends = [right - price - after, right - price, right];
        Self { ends, left: right - alone - after - price, is_wide }
    }
}

/// Draws the heads of the columns.
pub fn heads(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), HEADS), Sense::hover());
    let palette = theme::palette(ui);
    let columns = Columns::of(rect);
    let mark = Rect::from_min_size(rect.min, vec2(fold::WIDTH, HEADS));
    if fold::mark(&mut ui.new_child(UiBuilder::new().max_rect(mark)), "Changes", false, HEADS) {
        out.push(Action::Fold(Panel::Changes));
    }
    // Which option they are, where a job has several.
    let options = &screen.job.options;
    let name =
        if options.count() > 1 { shortened(&options.shown.called(options.index())) } else { "Changes".to_owned() };
    let heading = cell(
        ui,
        rect.with_min_x(mark.right()).with_max_x(columns.left),
        &name,
        theme::strong(theme::SMALL),
        palette.quiet,
        Align2::LEFT_CENTER,
    );
    heading.widget_info(|| {
        let told = if options.count() > 1 { format!("Changes of {name}") } else { name.clone() };
        WidgetInfo::labeled(Role::Heading, true, told)
    });
    if screen.job.changes.is_empty() {
        return;
    }
    let [alone, after, price] = columns.ends;
    let font = theme::regular(theme::SMALL);
    let head = |ui: &mut Ui, name: &str, end, told: &str| {
        let at = pos2(end, rect.center().y);
        let response = text(ui, at, Align2::RIGHT_CENTER, name, font.clone(), palette.quiet);
        response.on_hover_text(told).rect
    };
    head(ui, "price", price, "What it costs: type it in the editor of the change");
    let name = if columns.is_wide { "after others" } else { "after" };
    let taken = head(ui, name, after, "What it brings once all the others are on");
    let taken = head(ui, "alone", alone.min(taken.left() - theme::STEP), "What it would bring if it were the only one");
    // A number stands in sight of its unit.
    head(ui, screen.units.airflow_unit(), taken.left() - theme::STEP, "Airflow gained at the blower");
}

/// Draws the rows.
pub fn applied(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = 0.0;
    if screen.job.changes.is_empty() {
        let quiet = "Nothing yet: drag a change onto the air path, or press one.";
        let unread = "Once a blower is chosen and read, fixes and faults can be put on its path.";
        label::caption(ui, if screen.job.machine.is_some() { quiet } else { unread });
        return;
    }
    if view.open_change.is_none() {
        ui.data_mut(|data| data.remove::<u32>(sight()));
    }
    for index in 0..screen.job.changes.len() {
        row(ui, screen, index, view, out);
    }
}

fn row(ui: &mut Ui, screen: &Screen<'_>, index: usize, view: &mut View, out: &mut Vec<Action>) {
    let change = &screen.job.changes[index];
    let palette = theme::palette(ui);
    let title = title(screen, index);
    let is_open = view.open_change == Some(change.id);
    let (told, told_ink) = match why_not(screen, change) {
        Some(why) => (why, palette.over),
        None => (change.kind.details(screen.job, screen.units).unwrap_or_default(), palette.quiet),
    };
    let is_refused = told_ink == palette.over;
    // What is refused is said whole, on as many lines as that takes.
    let mut lower_text = LayoutJob::simple(
        told.clone(),
        theme::regular(theme::SMALL),
        told_ink,
        ui.available_width() - SWITCH - theme::STEP * 0.5,
    );
    if !is_refused {
        lower_text.wrap.max_rows = 1;
    }
    let lower_text = ui.painter().layout_job(lower_text);
    let height = ROW.max(ROW * UPPER + lower_text.size().y + 2.0);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    // The switch before, the rest of the row selects.
    let pressed = ui.interact(
        rect.with_min_x(rect.left() + SWITCH),
        Id::unique(("row of a change", change.id.0)),
        Sense::click(),
    );
    let (verb, other) = if is_open { ("Close", None) } else { ("Edit", Some(change.id)) };
    let idle = if is_refused { ", does not count" } else { "" };
    pressed.widget_info(|| WidgetInfo::selected(Role::Button, true, is_open, format!("{verb}: {title}{idle}")));
    hint::hint(&pressed, || format!("{told}; Enter opens or closes its fields"));
    if is_open || pressed.hovered() || pressed.has_focus() {
        ui.painter().rect_filled(rect, 5.0, palette.raised);
    }
    if pressed.has_focus() {
        ui.painter().rect_stroke(rect, 5.0, (2.0, palette.tap_high), eframe::egui::StrokeKind::Inside);
    }
    if pressed.clicked() {
        view.open_change = other;
    }
    switch(ui, rect, change, &title, out);
    let ink = if change.is_on() { palette.ink } else { palette.quiet };
    let columns = Columns::of(rect);
    let words = Rect::from_min_max(pos2(rect.left() + SWITCH, rect.top()), pos2(columns.left, rect.bottom()));
    let (upper, lower) = words.split_top_bottom_at_y(rect.top() + ROW * UPPER);
    let name = RichText::new(&title).font(theme::strong(theme::SMALL)).color(ink);
    let name = if is_refused { name.strikethrough() } else { name };
    let label = Label::new(name).truncate().selectable(false).show_tooltip_when_elided(false);
    child(ui, upper, Align2::LEFT_CENTER).add(label).on_hover_text(&title);
    figures(ui, screen, change, upper.center().y, &columns);
    // Sizes have the room under the figures as well.
    let lower = lower.with_max_x(columns.ends[2]);
    let align = if is_refused { Align2::LEFT_TOP } else { Align2::LEFT_CENTER };
    child(ui, lower, align)
        .add(Label::new(lower_text).selectable(false).show_tooltip_when_elided(false))
        .on_hover_text(&told);
    if is_open {
        show_once(ui, change.id, rect);
    }
}

fn switch(ui: &mut Ui, row: Rect, change: &Change, title: &str, out: &mut Vec<Action>) {
    let mut is_on = change.is_on();
    // All of the row before its name: a finger need not find the box.
    let at = Rect::from_min_size(row.min, vec2(SWITCH, ROW));
    let mut place = child(ui, at, Align2::LEFT_CENTER);
    place.spacing_mut().interact_size.y = ROW;
    let response = place.add_sized(at.size(), Checkbox::without_text(&mut is_on));
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, is_on, format!("On: {title}")));
    hint::hint(&response, || format!("{title}: whether it is put on"));
    if response.changed() {
        let switch = if is_on { Switch::On } else { Switch::Off };
        out.push(Edit::SwitchChange(change.id, switch).into());
    }
}

/// What it brings alone and after the others, and its price, struck through where nothing comes of the change.
fn figures(ui: &mut Ui, screen: &Screen<'_>, change: &Change, y: f32, columns: &Columns) {
    let palette = theme::palette(ui);
    let strong = if change.is_on() { palette.change } else { palette.quiet };
    let alone = worth_of(screen, change).and_then(|worth| worth_text(screen, change, worth, columns.is_wide));
    let after = after_the_others(screen, change);
    let price = change.price.map(|price| show::money(price, &screen.job.costs.currency));
    let cells = [(alone, palette.quiet, false), (after, strong, true), (price, palette.ink, false)];
    for ((told, ink, is_strong), end) in cells.into_iter().zip(columns.ends) {
        let font = if is_strong { theme::strong(theme::CHART) } else { theme::regular(theme::CHART) };
        if let Some(told) = told {
            let rect = text(ui, pos2(end, y), Align2::RIGHT_CENTER, &told, font, ink).rect;
            if !counts(screen, change) {
                ui.painter().hline(rect.x_range(), rect.center().y, (1.0, ink));
            }
        }
    }
}

/// A text in a row, cut where it is wider than its room.
fn cell(ui: &mut Ui, rect: Rect, told: &str, font: FontId, ink: Color32, align: Align2) -> Response {
    let label = Label::new(RichText::new(told).font(font).color(ink)).truncate().selectable(false);
    child(ui, rect, align).add(label)
}

/// A text about a place, never cut.
fn text(ui: &mut Ui, at: Pos2, align: Align2, told: &str, font: FontId, ink: Color32) -> Response {
    let galley = ui.painter().layout_no_wrap(told.to_owned(), font, ink);
    let rect = align.anchor_size(at, galley.size());
    child(ui, rect, align).add(Label::new(galley).selectable(false).extend())
}

/// A place within a row, which leaves the row's own alone.
fn child(ui: &mut Ui, rect: Rect, align: Align2) -> Ui {
    ui.new_child(UiBuilder::new().max_rect(rect).layout(Layout::left_to_right(align.y())))
}

/// Where the row last brought into sight is remembered.
fn sight() -> Id {
    Id::unique("the change brought into sight")
}

/// Brings the row of a change whose editor has just been opened into sight.
fn show_once(ui: &Ui, id: ChangeId, row: Rect) {
    let key = sight();
    let shown = ui.data(|data| data.get_temp::<u32>(key));
    if shown != Some(id.0) {
        ui.data_mut(|data| data.insert_temp(key, id.0));
        ui.scroll_to_rect(row, None);
    }
}

/// A change's title, with a number where several bear the same.
pub(super) fn title(screen: &Screen<'_>, index: usize) -> String {
    let changes = &screen.job.changes;
    let title = changes[index].kind.title(screen.job);
    let same = |change: &&Change| change.kind.title(screen.job) == title;
    let before = changes[..index].iter().filter(same).count();
    if before == 0 { title } else { format!("{title} ({})", before + 1) }
}

fn after<'a>(screen: &Screen<'a>) -> Option<(&'a Running, &'a Projection)> {
    let point = screen.answer.point()?;
    Some((point, screen.answer.with_changes()?))
}

fn worth_of<'a>(screen: &Screen<'a>, change: &Change) -> Option<&'a Worth> {
    let (_, after) = after(screen)?;
    after.worths.iter().find(|worth| worth.id == change.id)
}

fn worth(screen: &Screen<'_>, change: &Change) -> Option<Gain> {
    worth_of(screen, change)?.gain.clone().ok()
}

/// "+85 ± 25", or "at most +85 ± 25"; the ± where it would not read as nothing.
fn worth_text(screen: &Screen<'_>, change: &Change, worth: &Worth, with_spread: bool) -> Option<String> {
    let (gain, units) = (*worth.gain.as_ref().ok()?, screen.units);
    let spread = worth.spread.map(|spread| show::spread_bare(spread, units)).filter(|text| with_spread && text != "0");
    let spread = spread.map(|spread| format!(" ± {spread}")).unwrap_or_default();
    let mark = changes::at_most(changes::unknown_alone(screen.job, change));
    Some(format!("{mark}{}{spread}", changes::gain_bare(gain, units)))
}

/// What a change brings after the others.
fn after_the_others(screen: &Screen<'_>, change: &Change) -> Option<String> {
    let (_, after) = after(screen)?;
    let gain = after.after_others.iter().find(|gain| gain.id == change.id)?;
    Some(changes::gain_bare(gain.gain, screen.units))
}

/// What the rooms get more, where that is another figure than the blower's.
fn to_rooms(worth: &Worth, units: UnitSystem) -> Option<String> {
    let (gain, rooms) = (changes::gain_bare(*worth.gain.as_ref().ok()?, units), worth.to_rooms?);
    let rooms = changes::gain_bare(rooms, units);
    let spread = worth.to_rooms_spread.map(|spread| format!(" ± {}", show::spread_bare(spread, units)));
    let rooms_text = format!("{rooms}{} {}", spread.unwrap_or_default(), units.airflow_unit());
    (rooms != gain).then(|| format!("At the blower {gain}, to the rooms ≈ {rooms_text}"))
}

/// False for a change that is on and that nothing comes of: its price counts in no sum.
fn counts(screen: &Screen<'_>, change: &Change) -> bool {
    after(screen).is_none_or(|(_, after)| !change.is_on() || after.counts(change))
}

/// Why a change is not put on, or its worth cannot be worked out.
fn why_not(screen: &Screen<'_>, change: &Change) -> Option<String> {
    let (_, after) = after(screen)?;
    let refused = after.refused.iter().find(|(id, _)| *id == change.id).map(|(_, refusal)| refusal);
    let alone = || worth_of(screen, change)?.gain.as_ref().err();
    refused.or_else(alone).map(|refusal| refusal.sentence(screen.units))
}

/// A change as its row on paper tells it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// What is done, and to what.
    pub title: String,
    /// Its sizes.
    pub details: String,
    /// Gain alone, with its ±.
    pub alone: String,
    /// Gain once all the others are on.
    pub after_others: String,
    /// Price.
    pub price: String,
    /// Why it is not put on.
    pub why_not: Option<String>,
}

/// The changes that are on, in the job's order.
pub fn told(screen: &Screen<'_>) -> Vec<Told> {
    let on = screen.job.changes.iter().enumerate().filter(|(_, change)| change.is_on());
    on.map(|(index, change)| Told {
        title: title(screen, index),
        details: details(screen, change),
        alone: worth_of(screen, change).and_then(|worth| worth_text(screen, change, worth, true)).unwrap_or_default(),
        after_others: after_the_others(screen, change).unwrap_or_default(),
        price: prices::of_change(screen.job, change),
        why_not: why_not(screen, change),
    })
    .collect()
}

/// Its sizes, and what a person notes of it: a customer reads what is bought.
fn details(screen: &Screen<'_>, change: &Change) -> String {
    let sizes = change.kind.details(screen.job, screen.units);
    let note = Some(change.note.clone()).filter(|note| !note.is_empty());
    sizes.into_iter().chain(note).collect::<Vec<_>>().join("; ")
}

/// What the changes that count bring together, in the unit shown, and what they cost; nothing where they bring no figure.
pub fn told_together(screen: &Screen<'_>) -> Option<(String, String)> {
    let (_, after) = after(screen)?;
    (after.counted(screen.job) > 0).then_some(())?;
    Some((gain_together(after, screen.units)?, prices::price(screen.job, after).unwrap_or_default()))
}

/// "+175 ± 40 cfm".
fn gain_together(after: &Projection, units: UnitSystem) -> Option<String> {
    let (gain, spread) = changes::gain(after)?;
    let most = changes::at_most(after.system.unknown_part);
    let spread = show::spread_bare(spread, units);
    Some(format!("{most}{} ± {spread} {}", changes::gain_bare(gain, units), units.airflow_unit()))
}

/// "$1,450 + 2 unpriced", where there is room for no more.
fn price_together(screen: &Screen<'_>, after: &Projection) -> Option<String> {
    let (price, unpriced) = after.price(screen.job)?;
    let price = show::money(price, &screen.job.costs.currency);
    Some(if unpriced == 0 { price } else { format!("{price} + {unpriced} unpriced") })
}

/// What the row of a change has no room for.
pub(super) fn remarks(ui: &mut Ui, screen: &Screen<'_>, change: &Change) {
    let Some((running, after)) = after(screen) else {
        return;
    };
    if let Some(why) = why_not(screen, change) {
        label::error(ui, &why);
    }
    if let Some(text) = worth_of(screen, change).and_then(|worth| to_rooms(worth, screen.units)) {
        label::caption(ui, text);
    }
    if worth(screen, change).is_some() {
        for guess in changes::guesses(screen.job, running, change, screen.units) {
            label::caption(ui, guess);
        }
    }
    // The ± belongs to all changes together; where even the whole lies within it, it is too small a worth that lies within it too.
    let of_one = worth_of(screen, change).and_then(|worth| Some((worth.gain.clone().ok()?, worth.to_rooms)));
    let (of_rooms, whole) = (changes::rooms_gain(running, after), changes::gain(after));
    if let (Some((gain, rooms)), Some((whole, spread))) = (of_one, of_rooms.or(whole))
        && changes::is_unsure(rooms.filter(|_| of_rooms.is_some()).unwrap_or(gain), spread)
        && changes::is_unsure(whole, spread)
    {
        label::caption(ui, "Not above its uncertainty: these readings cannot show it");
    }
}

/// The last line of the list: what the changes bring together, and what they cost.
pub fn together(ui: &mut Ui, screen: &Screen<'_>) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), TOGETHER), Sense::hover());
    let palette = theme::palette(ui);
    ui.painter().hline(rect.x_range(), rect.top(), (1.0, palette.hairline));
    let [_, end, price_end] = Columns::of(rect).ends;
    let (upper, lower) = rect.split_top_bottom_at_fraction(UPPER);
    let y = upper.center().y;
    let left = pos2(rect.left(), y);
    let say = |ui: &mut Ui, told: &str, ink| {
        cell(ui, rect, told, theme::regular(theme::SMALL), ink, Align2::LEFT_CENTER);
    };
    let Some((point, after)) = after(screen) else {
        return say(ui, changes::none_told(screen.job, screen.answer), palette.quiet);
    };
    if screen.job.changes.iter().all(|change| !change.is_on()) {
        return say(ui, "All of them are off.", palette.quiet);
    }
    if after.counted(screen.job) == 0 {
        return say(ui, "None of them can be put on.", palette.over);
    }
    let Some(((gain, _), told)) = changes::gain(after).zip(gain_together(after, screen.units)) else {
        return say(ui, &format!("The curve of {} does not reach the changed path", tap(screen, after)), palette.over);
    };
    let strong = theme::strong(theme::CHART);
    text(ui, left, Align2::LEFT_CENTER, "Together", strong.clone(), palette.ink);
    let units = screen.units;
    let price = price_together(screen, after);
    let price =
        price.map(|price| text(ui, pos2(price_end, y), Align2::RIGHT_CENTER, &price, strong.clone(), palette.ink));
    let end = price.map_or(end, |price| end.min(price.rect.left() - theme::STEP));
    text(ui, pos2(end, y), Align2::RIGHT_CENTER, &told, strong, palette.change);
    if let Some(rooms) = rooms_gain(point, after, gain, units) {
        let at = pos2(end, lower.center().y);
        text(ui, at, Align2::RIGHT_CENTER, &rooms, theme::regular(theme::SMALL), palette.change);
    }
}

/// "tap 4", of the machine that runs with the changes.
fn tap(screen: &Screen<'_>, after: &Projection) -> String {
    let word = first_guess::table_then(screen.job, screen.answer).map_or("tap", |table| table.motor.tap_word());
    after.system.tap().map(|tap| format!("{word} {tap}")).unwrap_or_default()
}

/// "to the rooms +175 cfm", where that is another gain than the blower's.
fn rooms_gain(point: &Running, after: &Projection, gain: Gain, units: UnitSystem) -> Option<String> {
    let (rooms, spread) = changes::rooms_gain(point, after)?;
    let (rooms, spread) = (changes::gain_bare(rooms, units), show::spread_bare(spread, units));
    let told = || format!("to the rooms {rooms} ± {spread} {}", units.airflow_unit());
    (rooms != changes::gain_bare(gain, units)).then(told)
}

/// What the line of all together has no room for: worths that do not add up.
pub fn notes(ui: &mut Ui, screen: &Screen<'_>) {
    let Some((_, after)) = after(screen) else {
        return;
    };
    let Some((gain, _)) = changes::gain(after).filter(|_| after.counted(screen.job) > 0) else {
        return;
    };
    sum_of_worths(ui, screen, after, gain);
}

fn sum_of_worths(ui: &mut Ui, screen: &Screen<'_>, after: &Projection, whole: Gain) {
    let counted = || screen.job.changes.iter().filter(|change| after.counts(change));
    let worths = || counted().filter_map(|change| worth(screen, change));
    // Ranges have no sum that would say anything.
    if worths().chain([whole]).any(|gain| gain.most.is_some()) {
        return;
    }
    // The sum of what stands in the list, for that is what a person adds up.
    let sum: Airflow =
        worths().map(|gain| show::gained_as_shown(gain.from, gain.from + gain.least, screen.units)).sum();
    if counted().count() > 1 && (sum - whole.least).abs() > ADDS_UP {
        label::caption(
            ui,
            format!(
                "Alone they make {} {} in sum. {}",
                show::airflow_signed(sum, screen.units),
                screen.units.airflow_unit(),
                changes::DO_NOT_ADD_UP
            ),
        );
    }
}
