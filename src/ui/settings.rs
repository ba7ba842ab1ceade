//! Settings over the window: whose reports they are, what new jobs and new changes begin with, paper, units and looks.

use eframe::egui::{Frame, Id, Modal, ScrollArea, TextEdit, Ui};

use crate::files::settings::{Setting, Settings, ThemeChoice};
use crate::model::facts::company::Company;
use crate::model::facts::costs::LONGEST_CURRENCY;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::limits::{LONGEST_LINE, TooMuch};
use crate::model::facts::number::Number;
use crate::model::facts::numbers::job::PRICE;
use crate::model::facts::plain_text::fits;
use crate::model::firsts::{Firsts, priced_cards};
use crate::report::form::Paper;
use crate::ui::overlays;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{Chrome, Confirm, FieldKey, Figures, View};
use crate::ui::widgets::field::{self, FieldSpec};
use crate::ui::widgets::figure_source::{Typed, figure_source};
use crate::ui::widgets::{choice, hint, label};
use crate::units::UnitSystem;

/// Width of the sheet where the window has it, points.
const WIDTH: f32 = 1120.0;
/// Part of the window's height that it takes.
const OF_HEIGHT: f32 = 0.78;
/// Least width of a column, points.
const COLUMN: f32 = 260.0;
/// Width of a value's box.
const BOX: f32 = 68.0;
/// Width of the box of a price: "1,200.50" and larger.
const PRICE_BOX: f32 = 88.0;
/// What is asked before everything is reset.
const RESET: &str = "Everything set here goes back to what it was at first: company and logo, paper, units, looks, the figures of new jobs and the prices of changes. Recent files stay.";

/// Draws the sheet while it is open.
pub fn show(ui: &Ui, chrome: &Chrome<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(mut company) = view.settings.clone() else {
        return;
    };
    let frame = Frame::popup(ui.style()).inner_margin(theme::STEP * 2.0);
    let modal = Modal::new(Id::unique("settings")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(overlays::width(ui, WIDTH));
        let close = bar(ui, view);
        let height = ui.ctx().content_rect().height() * OF_HEIGHT;
        ScrollArea::vertical().id_salt("settings").max_height(height).min_scrolled_height(height).show(ui, |ui| {
            ui.set_width(ui.available_width() - theme::STEP * 1.5);
            in_columns(ui, |ui, column| match column {
                0 => {
                    of_company(ui, chrome.settings, &mut company, out);
                    of_program(ui, chrome.settings, out);
                }
                1 => new_jobs(ui, chrome.settings, view, out),
                _ => prices(ui, chrome.settings, view, out),
            });
            label::heading(ui, "Limits and other figures of new jobs");
            label::caption(ui, "A job that is there keeps its own, under Limits and accuracy.");
            others(ui, chrome.settings, view, out);
        });
        close
    });
    let is_covered = view.confirm.is_some() || view.path_prompt.is_some();
    let is_closed = (modal.inner || modal.should_close()) && !is_covered;
    // What is typed of the company counts once the hand is off the field.
    if is_closed || ui.ctx().memory(|memory| memory.focused().is_none()) {
        let typed = Company { logo: chrome.settings.company.logo.clone(), ..company.clone() };
        if typed != chrome.settings.company {
            out.push(Setting::Company(typed).into());
        }
    }
    view.settings = (!is_closed).then_some(company);
}

/// What it is, and the way out and back.
fn bar(ui: &mut Ui, view: &mut View) -> bool {
    let mut close = false;
    ui.horizontal(|ui| {
        label::strong(ui, "Settings");
        close = hint::and_under_the_pointer(ui.button("Close"), "What is set is kept already").clicked();
        if hint::and_under_the_pointer(ui.button("Reset…"), "Everything as it was at first, after a question").clicked()
        {
            view.confirm = Some(Confirm {
                question: RESET.to_owned(),
                yes: "Reset".to_owned(),
                no: "Keep them",
                third: None,
                action: Box::new(Setting::Reset.into()),
            });
        }
    });
    close
}

/// Three columns side by side, or one under the other where the sheet is narrow.
fn in_columns(ui: &mut Ui, mut draw: impl FnMut(&mut Ui, usize)) {
    if ui.available_width() < 3.0 * COLUMN {
        (0..3).for_each(|column| draw(ui, column));
        return;
    }
    ui.columns(3, |columns| {
        for (index, column) in columns.iter_mut().enumerate() {
            column.vertical(|ui| draw(ui, index));
        }
    });
}

fn of_company(ui: &mut Ui, settings: &Settings, company: &mut Company, out: &mut Vec<Action>) {
    label::heading(ui, "Company on reports");
    let texts = [
        ("Company", &mut company.name),
        ("Street", &mut company.address),
        ("Town", &mut company.town),
        ("Telephone, mail, licence", &mut company.contact),
    ];
    for (name, text) in texts {
        let caption = label::caption(ui, name);
        let width = ui.available_width();
        let response = ui.add(TextEdit::singleline(text).desired_width(width)).labelled_by(caption.id);
        hint::hint(&response, || format!("{name}: stands at the head of every report"));
    }
    let shown = settings.company.logo.as_ref();
    label::caption(
        ui,
        shown.map_or_else(
            || "Logo: none; a PNG of up to 2,000 pixels an edge".to_owned(),
            |logo| format!("Logo: {} by {} pixels", logo.width, logo.height),
        ),
    );
    ui.horizontal_wrapped(|ui| {
        if hint::and_under_the_pointer(ui.button("Choose a logo…"), "A PNG; a copy of it is kept").clicked() {
            out.push(Action::ChooseLogo);
        }
        if shown.is_some() && ui.button("Without a logo").clicked() {
            out.push(Action::ForgetLogo);
        }
    });
}

fn of_program(ui: &mut Ui, settings: &Settings, out: &mut Vec<Action>) {
    label::heading(ui, "Paper");
    let papers = Paper::ALL.map(|paper| (paper.title().to_owned(), paper == settings.paper));
    if let Some(index) = choice::buttons(ui, "Paper", &papers) {
        out.push(Setting::Paper(Paper::ALL[index]).into());
    }
    label::heading(ui, "Units");
    let units = UnitSystem::ALL.map(|units| (units.name().to_owned(), units == settings.units));
    if let Some(index) = choice::buttons(ui, "Units", &units) {
        out.push(Action::Units(UnitSystem::ALL[index]));
    }
    label::heading(ui, "Looks");
    let all = [(ThemeChoice::Light, "Light"), (ThemeChoice::Dark, "Dark"), (ThemeChoice::System, "As the system")];
    let looks = all.map(|(choice, name)| (name.to_owned(), choice == settings.theme));
    if let Some(index) = choice::buttons(ui, "Looks", &looks) {
        out.push(Action::Theme(all[index].0));
    }
}

fn new_jobs(ui: &mut Ui, settings: &Settings, view: &mut View, out: &mut Vec<Action>) {
    label::heading(ui, "What new jobs begin with: costs");
    for which in Firsts::COSTS {
        number(ui, settings, view, out, which);
    }
    currency(ui, settings, view, out);
    label::heading(ui, "What new jobs begin with: your instruments");
    for which in Firsts::INSTRUMENT {
        with_source(ui, settings, view, out, which);
    }
}

/// How money is written in new jobs.
fn currency(ui: &mut Ui, settings: &Settings, view: &mut View, out: &mut Vec<Action>) {
    let (key, shown) = (FieldKey::NewCurrency, settings.firsts.currency.as_str());
    let spec = FieldSpec { key, name: "Currency", shown, edited: shown, unit: "$, EUR", width: BOX };
    if let Some(text) = field::row(ui, view, &spec) {
        let letters = text.chars().count();
        let long = || format!("A currency of {letters} letters is too long; at most {LONGEST_CURRENCY} can be");
        let result = if letters > LONGEST_CURRENCY { Err(long()) } else { Ok(Setting::Currency(text.clone())) };
        out.extend(field::taken(ui, view, key, &text, result).map(Action::from));
    }
}

fn others(ui: &mut Ui, settings: &Settings, view: &mut View, out: &mut Vec<Action>) {
    let all: Vec<JobNumber> = Firsts::may_be_set().skip(Firsts::COSTS.len() + Firsts::INSTRUMENT.len()).collect();
    let each = all.len().div_ceil(3);
    in_columns(ui, |ui, column| {
        for which in all.iter().skip(column * each).take(each) {
            with_source(ui, settings, view, out, *which);
        }
    });
}

/// A figure that new jobs begin with, and whose it is.
fn with_source(ui: &mut Ui, settings: &Settings, view: &mut View, out: &mut Vec<Action>, which: JobNumber) {
    number(ui, settings, view, out, which);
    let taken = |typed| match typed {
        Typed::Part(part, text) => {
            fits(part.called(), &text, LONGEST_LINE).map_err(TooMuch::sentence)?;
            Ok(Setting::Source(which, part, text).into())
        }
        Typed::BuiltIn => Ok(Setting::Number(which, None).into()),
    };
    out.extend(figure_source(ui, view, (Figures::OfNewJobs, which, &settings.firsts.job()), taken));
}

/// A number that new jobs begin with; nothing typed gives the program's own back.
fn number(ui: &mut Ui, settings: &Settings, view: &mut View, out: &mut Vec<Action>, which: JobNumber) {
    let (units, number) = (settings.units, which.number());
    let shown = settings.firsts.number(which).map(|value| number.quantity.bare(value, units)).unwrap_or_default();
    let key = FieldKey::NewJobs(which);
    let set = |value| Setting::Number(which, value);
    out.extend(typed(ui, view, (key, number.name, &shown), (number, units), set).map(Action::from));
}

fn prices(ui: &mut Ui, settings: &Settings, view: &mut View, out: &mut Vec<Action>) {
    label::heading(ui, "Price list of usual changes");
    label::caption(ui, "A change that is newly put on begins with its price here and says so.");
    for (index, card) in priced_cards().enumerate() {
        let price = settings.firsts.prices.get(card.name);
        let shown = price.map(|price| PRICE.quantity.bare(*price, settings.units)).unwrap_or_default();
        let key = FieldKey::ListPrice(index as u8);
        let set = |price| Setting::Price(card.name, price);
        out.extend(typed(ui, view, (key, card.name, &shown), (&PRICE, settings.units), set).map(Action::from));
    }
}

/// A field that takes a number or nothing; gives what is set by what was taken.
fn typed(
    ui: &mut Ui,
    view: &mut View,
    (key, name, shown): (FieldKey, &str, &str),
    (number, units): (&'static Number, UnitSystem),
    set: impl Fn(Option<f64>) -> Setting,
) -> Option<Setting> {
    let width = if matches!(key, FieldKey::ListPrice(_)) { PRICE_BOX } else { BOX };
    let spec = FieldSpec { key, name, shown, edited: shown, unit: number.quantity.unit(units), width };
    let text = field::hinted_row(ui, view, &spec, || format!("{name}: {}", number.said(units)))?;
    let result = if text.trim().is_empty() { Ok(None) } else { number.typed(&text, units).map(Some) };
    field::taken(ui, view, key, &text, result.map(set))
}
