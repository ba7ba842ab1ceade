//! What the window remembers that is not the job: what is open, where the hand is, what was typed and refused. Beside it what panels hand out.
//!
//! Everything here stands below the panels, which import it and which it does not know.

pub mod action;
pub mod at_stake;
pub mod beside;
pub mod chart_trace;
mod field_key;
pub mod held;
pub mod library;
pub mod notices;
pub mod other_tap;
pub mod path_prompt;
pub mod picture_look;
pub mod preview;
pub mod search;
pub mod table_editor;
pub mod table_photo;
pub mod table_sheet;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use crate::files::library::Library;
use crate::files::settings::Settings;
use crate::model::answer::Answer;
use crate::model::change::{Allowed, Declaration};
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::ChangeId;
use crate::model::facts::company::Company;
use crate::model::facts::duct::fitting::FittingSum;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::firsts::Firsts;
use crate::model::read_next::Proposals;
use crate::model::side_by_side::Column;
use crate::model::typed::table_draft::{TableDraft, TableFor, TableInHand};
pub use field_key::{FieldKey, Figures};

use crate::ui::view::action::Action;
use crate::ui::view::beside::Beside;
use crate::ui::view::chart_trace::TraceView;
use crate::ui::view::held::{Held, Trial};
use crate::ui::view::library::{AgainstLibrary, Picker};
use crate::ui::view::path_prompt::PathPrompt;
use crate::ui::view::preview::PreviewView;
use crate::ui::view::search::Search;
use crate::ui::view::table_editor::TableEditor;
use crate::ui::view::table_sheet::TableSheet;
use crate::units::{Airflow, Pressure, UnitSystem};

/// What every panel draws from; nothing here is changed by drawing.
#[derive(Clone, Copy)]
pub struct Screen<'a> {
    /// The job.
    pub job: &'a Job,
    /// Everything that follows from it.
    pub answer: &'a Answer,
    /// Units that numbers are typed and shown in.
    pub units: UnitSystem,
    /// Blowers that can be picked.
    pub library: &'a Library,
    /// The answer as the job stands, while the measured point is under the hand and job and answer are those that it would make.
    pub was: Option<&'a Answer>,
    /// What a change in the hand would bring where it is held.
    pub in_hand: Option<&'a Answer>,
    /// What the path under the hand would bring if it were as easy as it is pulled.
    pub wished: Option<&'a Answer>,
    /// Another job on the chart, as it was read.
    pub beside: Option<&'a Beside>,
    /// What was found and every option, worked out, where the job stands as it stood then.
    pub options: Option<(&'a Column, &'a [Column])>,
    /// Whose reports they are, where it is known.
    pub company: Option<&'a Company>,
    /// What new changes begin with, where a person has said so.
    pub firsts: Option<&'a Firsts>,
}

impl<'a> Screen<'a> {
    /// A job and what follows from it, with nothing in the hand.
    pub const fn of(job: &'a Job, answer: &'a Answer, units: UnitSystem, library: &'a Library) -> Self {
        Self {
            job,
            answer,
            units,
            library,
            was: None,
            in_hand: None,
            wished: None,
            beside: None,
            options: None,
            company: None,
            firsts: None,
        }
    }

    /// The same with what the hand holds.
    #[must_use]
    pub fn holding(self, trial: Option<&'a Trial>) -> Self {
        match trial {
            Some(Trial { held: Held::Point(_), job, answer }) => Self { job, answer, was: Some(self.answer), ..self },
            Some(Trial { held: Held::Change(_), answer, .. }) => Self { in_hand: Some(answer), ..self },
            Some(Trial { held: Held::Wish(_), answer, .. }) => Self { wished: Some(answer), ..self },
            None => self,
        }
    }

    /// The same as head and table tell it: with the path that is wished for while a hand pulls at it.
    #[must_use]
    pub fn as_wished(self) -> Self {
        Self { answer: self.wished.unwrap_or(self.answer), ..self }
    }

    /// The answer as the job stands, whatever is in the hand.
    pub fn as_it_stands(&self) -> &'a Answer {
        self.was.unwrap_or(self.answer)
    }
}

/// What the bar shows beside the job.
#[derive(Clone, Copy, Debug)]
pub struct Chrome<'a> {
    /// The job's file.
    pub file: Option<&'a Path>,
    /// True when the job differs from its file.
    pub is_changed: bool,
    /// What undo would take back.
    pub undo: Option<&'a str>,
    /// What redo would do again.
    pub redo: Option<&'a str>,
    /// True while work of killed windows waits to be restored or thrown away.
    pub has_recovered: bool,
    /// True while a message stands over the window.
    pub has_message: bool,
    /// The settings.
    pub settings: &'a Settings,
}

/// A text that was refused, with the sentence that says why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// What was typed.
    pub text: String,
    /// Why it cannot be.
    pub message: String,
}

/// The field under the hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Which one.
    pub key: FieldKey,
    /// What stands in it.
    pub text: String,
    /// What stood in it when the hand came.
    pub before: String,
}

/// The measured point while it is dragged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DraggedPoint {
    /// Airflow under the pointer.
    pub airflow: Airflow,
    /// Static under the pointer.
    pub tesp: Pressure,
    /// Where the pointer took hold, from the point's middle, points of the screen.
    pub grip: eframe::egui::Vec2,
}

/// Which part a narrow window shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tab {
    /// Job and readings.
    Job,
    /// Chart and air path.
    #[default]
    Chart,
    /// The air path by itself, where a window is too low for it under the chart.
    Path,
    /// Every tap and what it would take.
    Taps,
}

/// What an element's card shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CardState {
    /// Which part of it.
    pub tab: CardTab,
    /// What is being put in or laid.
    pub pane: CardPane,
    /// Why the last edit could not be.
    pub refusal: Option<String>,
    /// The element that a bypass being laid joins behind.
    pub joins: Option<u32>,
}

/// Parts of an element's card.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CardTab {
    /// What is known of its drop.
    #[default]
    Drop,
    /// The changes that it can take.
    Changes,
    /// Its place in the path.
    Path,
}

/// What is being put in or laid from an element's card.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CardPane {
    /// Nothing: the actions are listed.
    #[default]
    Actions,
    /// An element before it.
    PutBefore,
    /// An element after it.
    PutAfter,
    /// A way beside it.
    WayBeside,
    /// A leak after it.
    Leak,
    /// A bypass from it.
    Bypass,
}

/// A kind of change that is dragged; what the drag carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InHand(pub &'static Declaration);

/// The chart's visible part; nothing means fitted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ChartView {
    /// The visible part where zoomed, in the units shown: least airflow, least static, most airflow, most static.
    pub zoomed: Option<[f64; 4]>,
    /// The measured point under the hand.
    pub dragged: Option<DraggedPoint>,
    /// Factor on the path's drop that a person wishes for; nothing for the path as it is.
    pub wish: Option<f64>,
    /// Far corner of the fitted part as it was drawn last, in the units shown: it stays while something moves.
    pub fitted: Option<[f64; 2]>,
    /// True while the axes stay as they are whatever changes.
    pub holds_axes: bool,
    /// Where the wish's grip stands on the curve, in shares of the airflow of the point.
    pub grip_ahead: Option<f64>,
    /// True while the legend of its marks stands beside it.
    pub legend: bool,
}

impl ChartView {
    /// The same as it fits again, with nothing held or wished; the legend stays.
    #[must_use]
    pub fn fit(&self) -> Self {
        Self { legend: self.legend, ..Self::default() }
    }
}

/// Where the legend of the chart's marks stands while it is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LegendPlace {
    /// Beside the chart or under it.
    #[default]
    ByTheChart,
    /// In the job's place, for want of room beside the chart.
    ForTheJob,
}

/// A question that waits for an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Confirm {
    /// The question.
    pub question: String,
    /// What happens on yes, as a verb for the button.
    pub yes: String,
    /// The button that leaves everything as it is.
    pub no: &'static str,
    /// A third way out: its name and what it does.
    pub third: Option<(&'static str, Box<Action>)>,
    /// The action.
    pub action: Box<Action>,
}

/// Whether answers are kept back: a class works them out first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum KeptBack {
    /// They stand where they belong.
    #[default]
    No,
    /// All of them.
    All,
    /// All but those of one reading set, which somebody has asked for.
    But(usize),
}

impl KeptBack {
    /// True where a reading set's are.
    pub fn keeps(self, set: usize) -> bool {
        self != Self::No && self != Self::But(set)
    }
}

/// How the options are seen.
#[derive(Clone, Debug, Default)]
pub struct OptionsView {
    /// True while they stand side by side over the window.
    pub is_open: bool,
    /// Those that are kept off the chart, by their index.
    pub hidden: BTreeSet<usize>,
}

/// All of it.
#[derive(Debug, Default)]
pub struct View {
    /// Texts that were refused, by field.
    pub refused: BTreeMap<FieldKey, Refused>,
    /// The field under the hand.
    pub entry: Option<Entry>,
    /// The field that the hand goes to next.
    pub go_to: Option<FieldKey>,
    /// The blower picker.
    pub picker: Option<Picker>,
    /// What the picker's or the editor's table is for.
    pub table_for: TableFor,
    /// The table editor.
    pub table_editor: Option<TableEditor>,
    /// A file of blower tables that is looked at before it is taken.
    pub table_sheet: Option<TableSheet>,
    /// A picture of a fan chart that is traced.
    pub chart_trace: Option<TraceView>,
    /// The job's own copy of its table against the library's.
    pub against_library: AgainstLibrary,
    /// That of the machine which the change in hand puts on the ducts.
    pub change_against_library: AgainstLibrary,
    /// A question.
    pub confirm: Option<Confirm>,
    /// A path to type, where the system has no dialog.
    pub path_prompt: Option<PathPrompt>,
    /// The chart.
    pub chart: ChartView,
    /// Where the legend of the chart's marks stands while it is shown.
    pub legend_place: LegendPlace,
    /// Part shown in a narrow window.
    pub tab: Tab,
    /// True while a total is typed instead of two ports.
    pub total_only: bool,
    /// The element whose drop by data is open for typing.
    pub open_element: Option<u32>,
    /// What the card of that element shows.
    pub card: CardState,
    /// Whether the palette of changes is unfolded; nothing until the job is first drawn.
    pub palette_open: Option<bool>,
    /// The kind of change that is dragged.
    pub in_hand: Option<&'static Declaration>,
    /// The kind of change that was picked up by key or click and waits for its element.
    pub in_hand_by_key: Option<&'static Declaration>,
    /// The change whose editor is open.
    pub open_change: Option<ChangeId>,
    /// What sizes may cost, by change.
    pub allowed: BTreeMap<u32, Allowed>,
    /// What sums of loss coefficients were made of, by change and field, the newest last.
    pub made_of: BTreeMap<(u32, u8), Vec<FittingSum>>,
    /// Whether the fittings of known loss are listed in an editor.
    pub fittings_open: bool,
    /// The call whose target is shown; nothing for that of the readings.
    pub target_call: Option<Call>,
    /// Whether the fold of the ducts' lengths is open; nothing until a person has opened or closed it.
    pub ducts_open: Option<bool>,
    /// Whether the fold of second opinions is open; nothing until a person has opened or closed it.
    pub opinions_open: Option<bool>,
    /// Whether the fold of limits and accuracy is open.
    pub limits_open: bool,
    /// The figure whose source is open to be named.
    pub source_open: Option<(Figures, JobNumber)>,
    /// The search for the cheapest sets of changes, or what it brought.
    pub search: Option<Search>,
    /// Places of the window's parts as they were drawn last, in the order in which the keys go through them.
    pub parts: Vec<eframe::egui::Rect>,
    /// Where the bar has room for a message, beside the job's name; nothing in a narrow window.
    pub message_place: Option<eframe::egui::Rect>,
    /// What the hand holds, as the panels drawn last have it.
    pub held: Option<Held>,
    /// How the options are seen.
    pub options: OptionsView,
    /// The company as it is typed, while the settings are open.
    pub settings: Option<Company>,
    /// The report, while it is seen.
    pub preview: Option<PreviewView>,
    /// The page of the manual that is open.
    pub help: Option<usize>,
    /// Revisions of the job: the one at which something first was half entered, and the one that it stands at; nothing while all that was typed is a value.
    pub half_entered: Option<[u64; 2]>,
    /// Whether answers are kept back until they are asked for.
    pub back: KeptBack,
    /// What to read next, by the revision of the job that it was worked out for.
    pub read_next: Option<(u64, Proposals)>,
    /// The readings that the pointer is over in the list of the visit, by their place in it.
    pub pointed_set: Option<usize>,
    /// Where the chart was drawn last, in points; nothing where it is not in sight.
    pub chart_place: Option<eframe::egui::Rect>,
}

impl View {
    /// What is seen of another job that takes the place of this one: the same part of the window, and none of what was open.
    #[must_use]
    pub fn of_another(&self, total_only: bool) -> Self {
        Self { tab: self.tab, chart: self.chart.fit(), total_only, ..Self::default() }
    }

    /// True while a person types a value that the answer rests on.
    fn is_being_typed(&self) -> bool {
        self.entry.as_ref().is_some_and(|entry| {
            entry.text != entry.before
                && matches!(
                    entry.key,
                    FieldKey::Of(_)
                        | FieldKey::PerTon
                        | FieldKey::HeatOutput
                        | FieldKey::HeatRise
                        | FieldKey::PortReading(_)
                        | FieldKey::AcrossReading(_)
                )
        })
    }

    /// The first text that was refused where the answer rests on the field; one of a name, of something not put in yet, or of an aid holds nothing up.
    pub fn refused_value(&self) -> Option<&Refused> {
        self.refused.iter().find(|(key, _)| key.bears_on_answer()).map(|(_, refused)| refused)
    }

    /// True when something typed is not yet a value: no answer may look confident then.
    pub fn is_half_entered(&self) -> bool {
        self.is_being_typed() || self.refused_value().is_some()
    }

    /// Follows the job: whether it has gone on while something was half entered.
    pub fn follow(&mut self, revision: u64) {
        let first = self.half_entered.map_or(revision, |[first, _]| first);
        self.half_entered = self.is_half_entered().then_some([first, revision]);
    }

    /// The readings that are worth most now.
    pub fn next_readings(&self) -> Proposals {
        self.read_next.map(|(_, proposals)| proposals).unwrap_or_default()
    }

    /// What marks every answer while something typed is not yet a value: it is of all but that, or of what stood before it.
    pub fn mark(&self) -> Option<&'static str> {
        let went_on = self.half_entered.is_some_and(|[first, now]| first != now);
        let mark = if went_on { "Without the refused value" } else { "Last good answer" };
        self.is_half_entered().then_some(mark)
    }

    /// The table that is being typed or traced, where closing the editor or the picture would lose something.
    pub fn table_in_hand(&self) -> Option<TableInHand> {
        let typed = || Some(self.table_editor.as_ref().filter(|editor| editor.is_changed())?.draft().clone());
        let traced = || self.chart_trace.as_ref()?.in_hand();
        typed().or_else(traced).map(|draft| TableInHand { what_for: self.table_for, draft })
    }

    /// Opens the editor again on a table that was half typed.
    pub fn resume_table(&mut self, table: TableInHand) {
        self.table_for = table.what_for;
        self.table_editor = Some(TableEditor::resume(table.draft));
    }

    /// True while a list or a table stands over the job.
    pub const fn is_over_the_job(&self) -> bool {
        let is_table = self.table_editor.is_some() || self.table_sheet.is_some();
        self.picker.is_some() || is_table || self.chart_trace.is_some()
    }

    /// Opens the editor on texts that came from elsewhere; closing it asks, for they are in no job yet.
    pub fn take_draft(&mut self, draft: TableDraft) {
        (self.table_sheet, self.chart_trace) = (None, None);
        self.table_editor = Some(TableEditor::resume(draft));
    }

    /// Opens the editor on a table, or on an empty one; says what the table is for.
    pub fn edit_table(&mut self, table: Option<&BlowerTable>, table_for: TableFor) {
        self.table_for = table_for;
        self.table_editor = Some(TableEditor::open(table));
    }
}
