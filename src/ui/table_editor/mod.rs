//! The table editor: a blower table typed as it is printed, checked and drawn while it is typed.

mod grid;
mod head;
mod keys;
mod preview;
mod remarks;

use eframe::egui::{self, Button, Event, Id, Key, Modal, Modifiers, RichText, ScrollArea, Ui, Vec2, vec2};

use crate::app::action::Action;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::table_check::Severity;
use crate::model::typed::table_draft::{Block, DraftProblem, HeadField, Place, TableDraft};
use crate::model::typed::table_paste;
use crate::ui::theme;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{focus, label};
use keys::Spot;

/// Largest that the editor gets, points.
const LARGEST: Vec2 = vec2(1100.0, 760.0);
/// Under this width the parts stand under each other.
const SIDE_BY_SIDE: f32 = 820.0;
/// Width of the fields beside the grid.
const HEAD_WIDTH: f32 = 264.0;
/// Width of the preview and the remarks.
const PREVIEW_WIDTH: f32 = 244.0;

/// Where the hand goes next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum GoTo {
    /// The name.
    Name,
    /// A field beside the grid.
    Head(HeadField),
    /// A place of the grid.
    Grid(Spot),
}

/// Whether the question before throwing a table away stands open.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Leaving {
    #[default]
    No,
    Asking,
}

/// What follows from the draft.
#[derive(Debug, Clone)]
struct Reading {
    of: TableDraft,
    table: BlowerTable,
    problems: Vec<DraftProblem>,
    curves: Vec<preview::Curve>,
}

impl Reading {
    fn of(draft: &TableDraft) -> Self {
        let (table, problems) = draft.read();
        let curves = preview::curves(&table);
        Self { of: draft.clone(), table, problems, curves }
    }

    fn errors(&self) -> usize {
        self.problems.iter().filter(|problem| problem.severity == Severity::Error).count()
    }
}

/// A table while it is typed.
#[derive(Debug, Clone)]
pub struct TableEditor {
    draft: TableDraft,
    opened: TableDraft,
    reading: Reading,
    block: Block,
    cursor: Spot,
    go_to: Option<GoTo>,
    leaving: Leaving,
    /// What the last paste did.
    said: Vec<String>,
    /// The draft before a paste or a removal, to be put back.
    before: Option<Box<TableDraft>>,
}

impl TableEditor {
    /// Opens on a table, or on an empty grid.
    pub fn open(table: Option<&BlowerTable>) -> Self {
        let draft = table.map_or_else(TableDraft::empty, TableDraft::from_table);
        Self {
            reading: Reading::of(&draft),
            opened: draft.clone(),
            draft,
            block: Block::Airflow,
            cursor: Spot { row: 1, column: 1 },
            go_to: Some(GoTo::Name),
            leaving: Leaving::No,
            said: Vec::new(),
            before: None,
        }
    }

    /// Goes on with a table that was half typed when the program ended.
    pub fn resume(draft: TableDraft) -> Self {
        Self { opened: TableDraft::empty(), reading: Reading::of(&draft), draft, ..Self::open(None) }
    }

    /// The texts as they stand.
    pub const fn draft(&self) -> &TableDraft {
        &self.draft
    }

    /// The table that stands in the texts, and every remark on it.
    pub fn read(&self) -> (&BlowerTable, &[DraftProblem]) {
        (&self.reading.table, &self.reading.problems)
    }

    /// True when something was typed that closing would lose.
    pub fn is_changed(&self) -> bool {
        self.draft != self.opened
    }

    fn read_again(&mut self) {
        if self.reading.of != self.draft {
            self.reading = Reading::of(&self.draft);
        }
    }

    /// Keeps the draft as it is, to be put back after what comes now.
    fn remember(&mut self) {
        self.before = Some(Box::new(self.draft.clone()));
    }

    /// The gravest remark on a place.
    fn remark_on(&self, place: Place) -> Option<&DraftProblem> {
        let here = self.reading.problems.iter().filter(|problem| problem.place == place);
        here.max_by_key(|problem| problem.severity)
    }

    /// Goes to the first cell of the grid in hand that has nothing typed.
    fn go_to_grid(&mut self) {
        let empty = |row: usize, tap: usize| self.draft.rows[row].cells[tap].text(self.block).trim().is_empty();
        let spots = (0..self.draft.rows.len()).flat_map(|row| (0..self.draft.taps.len()).map(move |tap| (row, tap)));
        let (row, tap) = spots.into_iter().find(|(row, tap)| empty(*row, *tap)).unwrap_or_default();
        self.go_to = Some(GoTo::Grid(Spot { row: row + 1, column: tap + 1 }));
    }
}

/// How the editor ends.
#[derive(Clone, Copy)]
enum Ending {
    Use,
    Keep,
    Leave,
}

/// Draws the editor while `view.table_editor` is there.
pub fn show(ui: &mut Ui, _screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(editor) = view.table_editor.as_mut() else {
        return;
    };
    let size = (ui.ctx().content_rect().size() - Vec2::splat(64.0)).min(LARGEST);
    let frame = egui::Frame::popup(ui.style()).inner_margin(16);
    let modal = Modal::new(Id::unique("table editor")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(size.x);
        ui.set_height(size.y);
        contents(ui, editor, size)
    });
    let mut ending = modal.inner;
    if ending.is_none() && editor.leaving == Leaving::No && modal.should_close() {
        ending = Some(Ending::Leave);
    }
    if editor.leaving == Leaving::Asking {
        match ask(ui) {
            Some(Answer::Keep) => keep_typing(editor),
            Some(Answer::ThrowAway) => view.table_editor = None,
            None => {}
        }
        return;
    }
    match ending {
        Some(Ending::Use) => out.push(Action::UseTable(Box::new(editor.reading.table.clone()))),
        Some(Ending::Keep) => out.push(Action::KeepTable(Box::new(editor.reading.table.clone()))),
        Some(Ending::Leave) if editor.is_changed() => editor.leaving = Leaving::Asking,
        Some(Ending::Leave) => view.table_editor = None,
        None => {}
    }
}

fn keep_typing(editor: &mut TableEditor) {
    editor.leaving = Leaving::No;
    editor.go_to = Some(GoTo::Grid(editor.cursor));
}

/// What to do with a table half typed.
enum Answer {
    Keep,
    ThrowAway,
}

fn ask(ui: &Ui) -> Option<Answer> {
    let mut answer = None;
    let modal = Modal::new(Id::unique("leave the table")).show(ui.ctx(), |ui| {
        ui.set_width(340.0);
        label::strong(ui, "This table is not in the job yet. Throw away what was typed?");
        ui.add_space(theme::STEP);
        ui.horizontal(|ui| {
            let keep = ui.button("Keep typing");
            if ui.memory(|memory| memory.focused().is_none()) {
                keep.request_focus();
            }
            if keep.clicked() {
                answer = Some(Answer::Keep);
            }
            if ui.button(RichText::new("Throw the table away").color(theme::palette(ui).over)).clicked() {
                answer = Some(Answer::ThrowAway);
            }
        });
    });
    if answer.is_none() && modal.should_close() {
        answer = Some(Answer::Keep);
    }
    answer
}

fn contents(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) -> Option<Ending> {
    let accept =
        editor.leaving == Leaving::No && ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
    take_paste(ui, editor);
    let title = if editor.opened.has_no_cells() { "Type a blower table" } else { "Change the blower table" };
    label::strong(ui, title);
    label::caption(ui, "Type the maker's own table for this very model; its notes and limits come first");
    let body = vec2(size.x, (size.y - 86.0).max(120.0));
    if size.x >= SIDE_BY_SIDE {
        side_by_side(ui, editor, body);
    } else {
        under_each_other(ui, editor, body);
    }
    editor.read_again();
    foot(ui, editor, accept)
}

fn side_by_side(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) {
    let middle = size.x - HEAD_WIDTH - PREVIEW_WIDTH - 4.0 * theme::STEP;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0 * theme::STEP;
        column(ui, "head", vec2(HEAD_WIDTH, size.y), |ui| head::head(ui, editor));
        column(ui, "grid", vec2(middle, size.y), |ui| grid::grid(ui, editor));
        column(ui, "preview", vec2(PREVIEW_WIDTH, size.y), |ui| {
            preview::preview(ui, &editor.reading);
            remarks::remarks(ui, editor);
        });
    });
}

fn column(ui: &mut Ui, salt: &str, size: Vec2, contents: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(size, egui::Layout::top_down(egui::Align::Min), |ui| {
        ui.set_min_size(size);
        ui.spacing_mut().item_spacing = vec2(theme::STEP, theme::STEP * 0.5);
        ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| {
            // Room for the scroll bar.
            ui.set_max_width(size.x - theme::STEP);
            contents(ui);
            focus::follow(ui);
        });
    });
}

fn under_each_other(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) {
    column(ui, "all", size, |ui| {
        head::name(ui, editor);
        grid::grid(ui, editor);
        remarks::remarks(ui, editor);
        preview::preview(ui, &editor.reading);
        head::rest(ui, editor);
    });
}

fn foot(ui: &mut Ui, editor: &mut TableEditor, accept: bool) -> Option<Ending> {
    let errors = editor.reading.errors();
    let mut ending = None;
    ui.add_space(theme::STEP * 0.5);
    ui.horizontal(|ui| {
        let button = |text: &str, strong: bool| {
            let font = if strong { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
            Button::new(RichText::new(text).font(font))
        };
        if ui.add_enabled(errors == 0, button("Use in this job", true)).clicked() || accept && errors == 0 {
            ending = Some(Ending::Use);
        }
        if ui.add_enabled(errors == 0, button("Keep in my tables", false)).clicked() {
            ending = Some(Ending::Keep);
        }
        if ui.button("Close").clicked() {
            ending = Some(Ending::Leave);
        }
        if errors == 0 {
            label::caption(ui, "Ctrl+Enter uses it in this job");
            return;
        }
        if ui.button("Go to the first").clicked() {
            remarks::go_to_first_error(editor);
        }
        let places = if errors == 1 { "One place".to_owned() } else { format!("{errors} places") };
        label::error(ui, &format!("{places} must be mended first"));
    });
    ending
}

/// Takes a pasted block before a field sees it.
fn take_paste(ui: &Ui, editor: &mut TableEditor) {
    let taken = ui.input_mut(|input| {
        let place =
            input.events.iter().position(|event| matches!(event, Event::Paste(text) if table_paste::is_block(text)))?;
        match input.events.remove(place) {
            Event::Paste(text) => Some(text),
            _ => None,
        }
    });
    let Some(text) = taken else {
        return;
    };
    editor.remember();
    let (row, tap) = (editor.cursor.row.saturating_sub(1), editor.cursor.column.checked_sub(1));
    editor.said = table_paste::parse(&text).put_into(&mut editor.draft, editor.block, row, tap);
    editor.cursor = editor.cursor.within(&editor.draft);
    editor.go_to = Some(GoTo::Grid(editor.cursor));
    editor.read_again();
}
