//! The cheapest sets of changes that reach the target: the button, the wait, and what was found.

use eframe::egui::{Align, Button, Id, Label, ProgressBar, Role, Ui, WidgetInfo, vec2};

use crate::edit::{Edit, OptionEdit};
use crate::model::facts::change::{ChangeId, Switch};
use crate::model::facts::job::Job;
use crate::model::facts::limits::MOST_OPTIONS;
use crate::model::facts::standing::CurveStanding;
use crate::model::search::{FoundSet, SearchResult};
use crate::model::{first_guess, wording};
use crate::ui::changes_panel::applied;
use crate::ui::theme;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::search::{Search, Stage, Standing};
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{hint, label};
use crate::units::show;

/// Height of the bar that fills while it is searched, points.
const BAR: f32 = 6.0;

/// Draws the part, where there are changes, a target and a point to judge them by.
pub fn cheapest(ui: &mut Ui, screen: &Screen<'_>, view: &View, out: &mut Vec<Action>) {
    let can_be_judged = screen.answer.blower().target.is_some() && screen.answer.point().is_some();
    if screen.job.changes.is_empty() || !can_be_judged {
        return;
    }
    label::heading(ui, "The cheapest way to the target");
    match view.search.as_ref().map(|search| (search, search.stage())) {
        None => begin(ui, out),
        Some((_, Stage::Looking(share))) => wait(ui, *share, out),
        Some((_, Stage::Lost)) => {
            begin(ui, out);
            label::error(ui, "The search ended without a result, which is a fault of the program");
        }
        Some((search, Stage::Done(result))) => {
            begin(ui, out);
            let answer = ui.scope(|ui| brought(ui, screen, search, result, out)).response;
            // What was asked for is brought into view once.
            if ui.data_mut(|data| data.remove_temp::<()>(asked_for())).is_some() {
                answer.scroll_to_me(Some(Align::Min));
            }
        }
    }
}

fn begin(ui: &mut Ui, out: &mut Vec<Action>) {
    let button = ui.button("Find the cheapest set");
    hint::hint(&button, || "Which of the priced changes reach the target for the least money".to_owned());
    if button.clicked() {
        ui.data_mut(|data| data.insert_temp(asked_for(), ()));
        out.push(Action::Search);
    }
}

/// Where it is kept that a person waits for the answer.
fn asked_for() -> Id {
    Id::unique("a search was asked for")
}

fn wait(ui: &mut Ui, share: f32, out: &mut Vec<Action>) {
    let text = format!("Looking at every set: {}", show::percent(f64::from(share)));
    label::caption(ui, &text);
    let bar = ProgressBar::new(share).desired_height(BAR).fill(theme::palette(ui).quiet);
    let response = ui.add(bar);
    response.widget_info(|| WidgetInfo {
        value: Some(f64::from(share * 100.0).floor()),
        ..WidgetInfo::labeled(Role::ProgressIndicator, true, "Sets looked at, percent")
    });
    let stop = ui.button("Stop");
    hint::hint(&stop, || "Ends the search".to_owned());
    if stop.clicked() {
        out.push(Action::StopSearch);
    }
}

fn brought(ui: &mut Ui, screen: &Screen<'_>, search: &Search, result: &SearchResult, out: &mut Vec<Action>) {
    if search.standing() == Standing::OfEarlierJob {
        label::question(ui, "For the job before its last edit; find again for the job as it stands");
    }
    if let Some(reason) = &result.none_reason {
        label::caption(ui, reason.sentence());
    }
    let searched = Screen { job: search.job(), ..*screen };
    if let Some(near) = &result.nearest {
        let names: Vec<String> = near.changes.iter().map(|id| name(&searched, *id)).collect();
        let told = wording::changes::nearest(search.job(), near, tap_word(&searched), &names, screen.units);
        label::caption(ui, wording::ended(&told));
    }
    let first_unpriced = result.best.iter().position(|found| !found.unpriced.is_empty());
    for index in 0..result.best.len() {
        if first_unpriced.is_some_and(|first| first == index && index > 0) {
            ui.add_space(theme::STEP * 0.5);
            label::caption(ui, "With fixes that have no price yet:");
        }
        row(ui, screen, &searched, index, result, search.standing(), out);
    }
    for (id, refusal) in &result.refused {
        let name = name(&searched, *id);
        label::caption(ui, format!("In no set: {name}. {}", refusal.sentence(screen.units)));
    }
    if !result.best.is_empty() {
        ui.add_space(theme::STEP * 0.5);
        make_options(ui, screen, search, result, out);
        label::caption(ui, format!("Held against: {}", lower_first(result.checked)));
    }
}

/// The sets found as options of the job, beside those that it has, as many as it has room for.
fn make_options(ui: &mut Ui, screen: &Screen<'_>, search: &Search, result: &SearchResult, out: &mut Vec<Action>) {
    let room = MOST_OPTIONS - screen.job.options.count().min(MOST_OPTIONS);
    let sets: Vec<_> = result.best.iter().take(room).map(|set| set.changes.clone()).collect();
    let can = search.standing() == Standing::OfThisJob && !sets.is_empty();
    let button = ui.add_enabled(can, Button::new("Make these options"));
    button.widget_info(|| WidgetInfo::labeled(Role::Button, can, "Make these sets options of the job"));
    hint::hint(&button, || {
        format!("Each set becomes an option after the one that is shown; a job has {MOST_OPTIONS} at most")
    });
    if button.clicked() {
        out.push(Edit::Option(OptionEdit::Take(sets)).into());
        out.push(Command::Options.into());
    }
}

fn row(
    ui: &mut Ui,
    screen: &Screen<'_>,
    searched: &Screen<'_>,
    index: usize,
    result: &SearchResult,
    standing: Standing,
    out: &mut Vec<Action>,
) {
    let units = screen.units;
    let Some(found) = result.best.get(index) else { return };
    let names = names(searched, found);
    ui.add_space(theme::STEP * 0.5);
    label::strong(ui, format!("{}. {}", index + 1, price(found, &searched.job.costs.currency)));
    ui.add(Label::new(&names).wrap());
    let tap = format!("{} {}", tap_word(searched), found.tap);
    let airflow = show::airflow(found.crossing.airflow, units);
    let off = if found.crossing.standing == CurveStanding::Extrapolated { ", extrapolated" } else { "" };
    let tesp = format!("{}{off}", show::pressure(found.crossing.tesp, units));
    let plus_or_minus = |spread| format!(" ± {}", show::spread_bare(spread, units));
    let spread = found.runs.as_ref().map(|runs| plus_or_minus(runs.spread.gain)).unwrap_or_default();
    let watts = found.runs.as_ref().and_then(|runs| runs.power).map(|power| format!(", {} W", show::power_bare(power)));
    let rooms = found.delivered.filter(|air| wording::delivered::differs(air, units));
    let rooms = rooms.map(|air| format!(", {} to the rooms,", show::airflow_bare(air.to_rooms, units)));
    let rooms = rooms.unwrap_or_default();
    label::caption(
        ui,
        format!(
            "{airflow}{rooms} at {tesp} on {tap}: {}{spread} {}{}",
            wording::changes::gain_bare(found.gain, units),
            units.airflow_unit(),
            watts.unwrap_or_default()
        ),
    );
    for doubt in result.target.map(|target| found.doubts(&target)).unwrap_or_default() {
        label::question(ui, wording::changes::in_doubt(doubt));
    }
    if !found.conditions.is_empty() {
        let names: Vec<String> = found.conditions.iter().map(|id| name(searched, *id)).collect();
        let beside = wording::ended(&wording::changes::beside_set(&names, found.only_with_conditions));
        if found.only_with_conditions {
            label::question(ui, &beside);
        } else {
            label::caption(ui, beside);
        }
    }
    if is_in_use(screen.job, found) && standing == Standing::OfThisJob {
        label::caption(ui, "In use: these are on and the others off");
        return;
    }
    let can = standing == Standing::OfThisJob;
    let button = Button::new("Use this set").min_size(vec2(0.0, 24.0));
    let response = ui.add_enabled(can, button);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, can, format!("Use this set: {names}")));
    hint::hint(&response, || format!("Puts on {names} and switches the others off"));
    if response.clicked() {
        out.push(Action::Edits(switches(screen.job, found)));
    }
}

/// One step of undo: the set's changes on, all others off.
fn switches(job: &Job, found: &FoundSet) -> Vec<Edit> {
    let switch = |id| if found.changes.contains(&id) { Switch::On } else { Switch::Off };
    job.changes.iter().map(|change| Edit::SwitchChange(change.id, switch(change.id))).collect()
}

fn is_in_use(job: &Job, found: &FoundSet) -> bool {
    job.changes.iter().all(|change| change.is_on() == found.changes.contains(&change.id))
}

/// "Price 150; without a price: 1 of them".
fn price(found: &FoundSet, currency: &str) -> String {
    match (found.told_price(), found.unpriced.len()) {
        (None, _) => "Without a price".to_owned(),
        (Some(price), 0) => format!("Price {}", show::money(price, currency)),
        (Some(price), some) => format!("Price {}; without a price: {some} of them", show::money(price, currency)),
    }
}

fn names(searched: &Screen<'_>, found: &FoundSet) -> String {
    if found.changes.is_empty() {
        let none = "No change at all: the path does it as read";
        return if found.conditions.is_empty() { none } else { "No fix" }.to_owned();
    }
    found.changes.iter().map(|id| name(searched, *id)).collect::<Vec<_>>().join("; ")
}

fn name(searched: &Screen<'_>, id: ChangeId) -> String {
    let index = searched.job.changes.iter().position(|change| change.id == id);
    index.map(|index| applied::title(searched, index)).unwrap_or_default()
}

/// The word for a tap of the machine that runs with the changes.
fn tap_word(screen: &Screen<'_>) -> &'static str {
    first_guess::table_then(screen.job, screen.answer).map_or("tap", |table| table.motor.tap_word())
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}
