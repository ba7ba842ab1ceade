//! Undo and redo as labelled snapshots of the whole job.

use crate::edit::{self, CoalesceKey, Edit};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;

/// Steps that are kept.
pub const MOST_STEPS: usize = 200;

#[derive(Clone, Debug)]
struct Step {
    label: String,
    before: Job,
    key: Option<CoalesceKey>,
}

#[derive(Clone, Debug)]
struct Undone {
    label: String,
    after: Job,
}

/// The job with its past and its future.
#[derive(Clone, Debug, Default)]
pub struct History {
    job: Job,
    past: Vec<Step>,
    future: Vec<Undone>,
    saved: Option<Job>,
    revision: u64,
}

impl History {
    /// Begins with a job that counts as saved.
    pub fn of_saved(job: Job) -> Self {
        Self { saved: Some(job.clone()), job, ..Self::default() }
    }

    /// Begins with a job that is not on the disk (recovered work).
    pub fn of_unsaved(job: Job) -> Self {
        Self { job, ..Self::default() }
    }

    /// The same, counted on from the history that it follows in its window, so that no two states of the window's work share a revision.
    #[must_use]
    pub fn following(mut self, before: &Self) -> Self {
        self.revision = before.revision + 1;
        self
    }

    /// The job.
    pub const fn job(&self) -> &Job {
        &self.job
    }

    /// Changes whenever the job does.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Applies an edit as a step of its own, or as part of the last one when both belong together.
    ///
    /// # Errors
    /// What refuses it; nothing changes then.
    pub fn apply(&mut self, edit: Edit) -> Result<(), Refusal> {
        if edit.is_look() {
            return self.look(edit);
        }
        let (label, key) = (edit.label(), edit.coalesce_key());
        let mut changed = self.job.clone();
        edit::apply(&mut changed, edit)?;
        self.replace(label, key, changed);
        Ok(())
    }

    /// Shows another part of the job: nothing that undo would take back, and nothing to save. What is typed after it is a step of its own.
    fn look(&mut self, edit: Edit) -> Result<(), Refusal> {
        let mut shown = self.job.clone();
        edit::apply(&mut shown, edit)?;
        self.revision += u64::from(self.job != shown);
        self.job = shown;
        self.past.iter_mut().for_each(|step| step.key = None);
        Ok(())
    }

    fn replace(&mut self, label: String, key: Option<CoalesceKey>, changed: Job) {
        if self.job == changed {
            return;
        }
        let before = std::mem::replace(&mut self.job, changed);
        self.revision += 1;
        self.future.clear();
        let goes_on = key.is_some() && self.past.last().is_some_and(|step| step.key == key);
        if !goes_on {
            self.past.push(Step { label, before, key });
            let surplus = self.past.len().saturating_sub(MOST_STEPS);
            self.past.drain(..surplus);
        }
    }

    /// Applies several edits as one step under the first one's name.
    ///
    /// # Errors
    /// What refuses the first edit that is; nothing changes then.
    pub fn apply_together(&mut self, edits: Vec<Edit>) -> Result<(), Refusal> {
        let switches = edits.iter().filter(|edit| matches!(edit, Edit::SwitchChange(..))).count();
        let of_many = (switches > 1).then(|| "changes switched".to_owned());
        let Some(label) = of_many.or_else(|| Some(edits.first()?.label())) else {
            return Ok(());
        };
        let mut changed = self.job.clone();
        for edit in edits {
            edit::apply(&mut changed, edit)?;
        }
        self.replace(label, None, changed);
        Ok(())
    }

    /// Takes the last step back.
    pub fn undo(&mut self) -> Option<String> {
        let step = self.past.pop()?;
        let after = std::mem::replace(&mut self.job, step.before);
        self.future.push(Undone { label: step.label.clone(), after });
        self.revision += 1;
        Some(step.label)
    }

    /// Does the last undone step again.
    pub fn redo(&mut self) -> Option<String> {
        let undone = self.future.pop()?;
        let before = std::mem::replace(&mut self.job, undone.after);
        self.past.push(Step { label: undone.label.clone(), before, key: None });
        self.revision += 1;
        Some(undone.label)
    }

    /// What undo would take back.
    pub fn undo_label(&self) -> Option<&str> {
        self.past.last().map(|step| step.label.as_str())
    }

    /// What redo would do again.
    pub fn redo_label(&self) -> Option<&str> {
        self.future.last().map(|step| step.label.as_str())
    }

    /// Remembers that the job is on the disk as it is.
    pub fn mark_saved(&mut self) {
        self.saved = Some(self.job.clone());
        for step in &mut self.past {
            step.key = None;
        }
    }

    /// True when the job on the disk is another, whichever readings are shown.
    pub fn is_changed(&self) -> bool {
        self.saved.as_ref().is_none_or(|saved| !saved.is_but_for_the_look(&self.job))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::job_number::JobNumber;

    fn warm(f: f64) -> Edit {
        Edit::Number(JobNumber::Temperature, Some(f))
    }

    #[test]
    fn undo_and_redo_are_each_others_inverse() {
        let mut history = History::of_saved(Job::default());
        history.apply(warm(75.0)).unwrap();
        history.apply(Edit::Number(JobNumber::Humidity, Some(0.3))).unwrap();
        let end = history.job().clone();
        assert_eq!(history.undo().as_deref(), Some("humidity"));
        assert_eq!(history.undo().as_deref(), Some("temperature"));
        assert_eq!(history.job(), &Job::default());
        assert!(!history.is_changed());
        history.redo();
        history.redo();
        assert_eq!(history.job(), &end);
        assert!(history.is_changed());
    }

    #[test]
    fn typing_a_name_is_one_step() {
        let mut history = History::of_saved(Job::default());
        for text in ["A", "Al", "Ald"] {
            history.apply(Edit::Title(text.to_owned())).unwrap();
        }
        history.undo();
        assert_eq!(history.job().title, "");
    }

    #[test]
    fn edits_that_belong_together_are_one_step_or_none() {
        let mut history = History::of_saved(Job::default());
        history.apply_together(vec![warm(75.0), Edit::Number(JobNumber::Humidity, Some(0.3))]).unwrap();
        let both = history.job().clone();
        assert!(history.apply_together(vec![warm(80.0), Edit::Number(JobNumber::Humidity, Some(3.0))]).is_err());
        assert_eq!(history.job(), &both, "half of what belongs together must not stay");
        history.undo();
        assert_eq!(history.job(), &Job::default());
    }

    #[test]
    fn looking_at_other_readings_is_no_edit() {
        let mut history = History::of_saved(Job::default());
        history.apply(Edit::AddSet).unwrap();
        history.mark_saved();
        let (revision, both) = (history.revision(), history.job().clone());
        history.apply(Edit::JudgeSet(0)).unwrap();
        assert!(history.job().judged == 0 && history.revision() > revision, "it is shown");
        assert!(!history.is_changed(), "nothing is to be saved");
        assert_eq!(history.undo_label(), Some("new readings"), "nothing is to be taken back");
        history.apply(warm(75.0)).unwrap();
        assert!(history.is_changed());
        history.undo();
        history.apply(Edit::JudgeSet(1)).unwrap();
        assert_eq!(history.job(), &both);
        assert_eq!(history.redo_label(), Some("temperature"), "looking forgets nothing that was undone");
        assert!(history.apply(Edit::JudgeSet(2)).is_err());
    }

    /// What is typed after a look into a field of the same name belongs to other readings.
    #[test]
    fn a_look_parts_what_is_typed_before_and_after_it() {
        let mut history = History::of_saved(Job::default());
        history.apply(Edit::AddSet).unwrap();
        history.apply(Edit::NameSet("second".to_owned())).unwrap();
        history.apply(Edit::JudgeSet(0)).unwrap();
        history.apply(Edit::NameSet("first".to_owned())).unwrap();
        history.undo();
        assert_eq!(history.job().sets[1].name, "second");
        assert_eq!(history.job().sets[0].name, "As found");
    }

    #[test]
    fn several_switches_are_called_that() {
        use crate::model::facts::change::ChangeId;
        use crate::model::facts::change::Switch;
        use crate::model::facts::change::{BelowTable, ChangeKind};
        let mut history = History::of_saved(Job::default());
        for factor in [0.8, 0.9] {
            history.apply(Edit::AddChange(ChangeKind::BelowTable(BelowTable { factor }))).unwrap();
        }
        let off = |id| Edit::SwitchChange(ChangeId(id), Switch::Off);
        history.apply_together(vec![off(1), off(2)]).unwrap();
        assert_eq!(history.undo_label(), Some("changes switched"));
        history.undo();
        history.apply_together(vec![off(2)]).unwrap();
        assert_eq!(history.undo_label(), Some("change off"));
    }

    #[test]
    fn an_edit_that_changes_nothing_is_no_step() {
        let mut history = History::of_saved(Job::default());
        history.apply(Edit::Title(String::new())).unwrap();
        assert_eq!(history.undo_label(), None);
        let revision = history.revision();
        assert!(history.apply(Edit::Number(JobNumber::Humidity, Some(2.0))).is_err());
        assert_eq!(history.revision(), revision);
    }

    #[test]
    fn a_new_edit_forgets_what_was_undone() {
        let mut history = History::of_saved(Job::default());
        history.apply(warm(75.0)).unwrap();
        history.undo();
        history.apply(warm(80.0)).unwrap();
        assert_eq!(history.redo(), None);
    }
}
