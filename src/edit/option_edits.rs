//! Edits of a job's options: named sets of changes, of which one is worked on.

use super::brought::Brought;
use crate::model::facts::change::{ChangeId, Switch};
use crate::model::facts::job::Job;
use crate::model::facts::limits::LONGEST_LINE;
use crate::model::facts::options::{About, JobOption};
use crate::model::facts::refusal::Refusal;

/// One change of a job's options.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OptionEdit {
    /// Another option after the one that is worked on, with the same changes; it is worked on from then on.
    Copy,
    /// Another option worked on, by its index.
    Show(usize),
    /// An option taken away, by its index; the last one stays.
    Remove(usize),
    /// What the option that is worked on is called.
    Name(String),
    /// Why a customer would take it.
    Reason(String),
    /// Options after the one that is worked on, each with these of its changes on and the others off; the first of them is worked on.
    Take(Vec<Vec<ChangeId>>),
}

impl OptionEdit {
    /// What undo calls it.
    pub(super) const fn label(&self) -> &'static str {
        match self {
            Self::Copy => "new option",
            Self::Show(_) => "other option shown",
            Self::Remove(_) => "option removed",
            Self::Name(_) => "name of the option",
            Self::Reason(_) => "reason of the option",
            Self::Take(_) => "new options",
        }
    }

    /// What it brings.
    pub(super) const fn brings(&mut self) -> Brought<'_> {
        match self {
            Self::Name(text) => Brought::Text("An option's name", text, LONGEST_LINE),
            Self::Reason(text) => Brought::Text("An option's reason", text, LONGEST_LINE),
            Self::Copy | Self::Show(_) | Self::Remove(_) | Self::Take(_) => Brought::Nothing,
        }
    }
}

/// Carries it out.
pub(super) fn change(job: &mut Job, edit: OptionEdit) -> Result<(), Refusal> {
    let (mut all, shown) = (job.all_options(), job.options.index());
    let no_such = |index| Refusal::NoSuchOption(index, job.options.count());
    let show = match edit {
        OptionEdit::Name(name) => {
            job.options.shown.name = name;
            return Ok(());
        }
        OptionEdit::Reason(reason) => {
            job.options.shown.reason = reason;
            return Ok(());
        }
        OptionEdit::Show(index) => index,
        OptionEdit::Copy => {
            all.insert(shown + 1, JobOption { about: About::default(), changes: job.changes.clone() });
            name_all(&mut all);
            shown + 1
        }
        OptionEdit::Remove(index) if index >= all.len() => return Err(no_such(index)),
        OptionEdit::Remove(_) if all.len() == 1 => return Err(Refusal::LastOption),
        OptionEdit::Remove(index) => {
            name_all(&mut all);
            all.remove(index);
            if shown >= index { shown.saturating_sub(1) } else { shown }
        }
        OptionEdit::Take(sets) => {
            let taken = sets.into_iter().map(|on| with_these_on(job, &on));
            let after = all.split_off(shown + 1);
            all.extend(taken.chain(after));
            name_all(&mut all);
            (shown + 1).min(all.len() - 1)
        }
    };
    *job = job.with_options(&all, show).ok_or_else(|| no_such(show))?;
    Ok(())
}

/// Gives each of several options a name that it keeps, whichever goes: nobody who was told of option 3 may find another under that number.
fn name_all(all: &mut [JobOption]) {
    if all.len() < 2 {
        return;
    }
    for index in 0..all.len() {
        if all[index].about.name.is_empty() {
            let is_free = |name: &String| all.iter().all(|other| other.about.name != *name);
            let mut numbered = (index..).map(|index| About::default().called(index));
            all[index].about.name = numbered.find(is_free).unwrap_or_default();
        }
    }
}

/// The changes that are worked on, these of them on and no others.
fn with_these_on(job: &Job, on: &[ChangeId]) -> JobOption {
    let mut changes = job.changes.clone();
    for change in &mut changes {
        change.switch = if on.contains(&change.id) { Switch::On } else { Switch::Off };
    }
    JobOption { about: About::default(), changes }
}
