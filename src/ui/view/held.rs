//! What a hand holds and has not let go of: what the job would be then is worked out here alone, and every panel draws from it.

use crate::edit::{self, Edit};
use crate::model::answer::Answer;
use crate::model::facts::job::Job;

/// What is held.
#[derive(Clone, Debug, PartialEq)]
pub enum Held {
    /// The measured point, with the edits that would make its readings.
    Point(Vec<Edit>),
    /// A change over an element that can take it, with the edit that would put it on.
    Change(Edit),
    /// The path's curve, with the factor on its drop that is wished for.
    Wish(f64),
}

impl Held {
    fn edits(&self) -> &[Edit] {
        match self {
            Self::Point(edits) => edits,
            Self::Change(edit) => std::slice::from_ref(edit),
            Self::Wish(_) => &[],
        }
    }
}

/// The job as it would be with what is held.
#[derive(Debug)]
pub struct Trial {
    /// What is held.
    pub held: Held,
    /// The job.
    pub job: Job,
    /// What follows from it.
    pub answer: Answer,
}

/// What a job would be with some edits; nothing where it would not run.
pub fn would(job: &Job, edits: &[Edit]) -> Option<(Job, Answer)> {
    let mut job = job.clone();
    for edit in edits {
        edit::apply(&mut job, edit.clone()).ok()?;
    }
    let answer = Answer::of(&job);
    answer.point().is_some().then_some((job, answer))
}

/// The trial of what is held, worked out once for each place that it is held at.
#[derive(Debug, Default)]
pub struct Trials {
    tried: Option<(Held, u64)>,
    trial: Option<Box<Trial>>,
}

impl Trials {
    /// Follows the hand; true where panels have something else to draw than before.
    pub fn follow(&mut self, held: Option<Held>, job: &Job, revision: u64) -> bool {
        let asked = held.map(|held| (held, revision));
        if asked == self.tried {
            return false;
        }
        let had_one = self.trial.is_some();
        self.trial = asked.as_ref().and_then(|(held, _)| {
            let (job, answer) = match held {
                Held::Wish(factor) => (job.clone(), Answer::wished(job, *factor)),
                Held::Point(_) | Held::Change(_) => would(job, held.edits())?,
            };
            Some(Box::new(Trial { held: held.clone(), job, answer }))
        });
        self.tried = asked;
        had_one || self.trial.is_some()
    }

    /// The one to draw.
    pub fn shown(&self) -> Option<&Trial> {
        self.trial.as_deref()
    }
}
