//! Autosave beside the person's own file: soon after the last edit, and at the latest some seconds after the first; gone after a save.
//!
//! When it is due is settled on the drawing thread, and a thread of its own writes and removes, one after the other in the order of the orders.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::time::{Duration, SystemTime};

use eframe::egui;

use crate::files::autosave::{Autosave, Recovered, Work, window_id};
use crate::files::fingerprint::Fingerprint;
use crate::files::places::Places;
use crate::model::facts::job::Job;
use crate::model::typed::table_draft::TableInHand;
use crate::ui::view::at_stake::{AtStake, Stamp};
use crate::worker::{Heard, Teller, Worker};

/// Seconds without an edit before an autosave.
const QUIET: f64 = 2.0;
/// Most seconds that an edit waits while others follow; with the writing itself it stays under five.
const LONGEST: f64 = 4.0;
/// Seconds before an autosave that failed is tried again.
const TRY_AGAIN: f64 = 5.0;

/// What a person has to know about the autosave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// It failed, and why.
    Failed(String),
    /// It failed before and works again.
    WorksAgain,
}

/// Keeps the work in the window safe from a crash.
///
/// Dropping it waits for what is being written.
#[derive(Default)]
pub struct KeepSafe {
    /// Nothing is kept without.
    keeper: Option<Worker<Order, Option<String>>>,
    /// What was ordered and is not known to be done, oldest first: the work of a writing, or nothing of another order.
    open: VecDeque<Option<Stamp>>,
    /// The work as it was last seen, and when that was.
    seen: Option<(Stamp, f64)>,
    /// The work as it was last ordered to be written, unless that failed.
    kept: Option<Stamp>,
    /// Since when something waits to be written.
    waiting_since: Option<f64>,
    /// When it is tried next, after it failed.
    not_before: f64,
    /// The failure that a person was told.
    failure: Option<String>,
}

impl KeepSafe {
    /// Takes a place for this window's autosave; without places nothing is kept.
    pub fn begin(places: Option<&Places>, ctx: &egui::Context) -> (Self, Option<Told>) {
        let mut begun = Self::default();
        let failed = places.and_then(|places| begun.begin_to_keep(places.autosaves.clone(), ctx.clone()).err());
        let told = failed.and_then(|error| begun.failed(&format!("{error:#}"), 0.0));
        (begun, told)
    }

    fn begin_to_keep(&mut self, folder: PathBuf, ctx: egui::Context) -> anyhow::Result<()> {
        let mut keeper = Keeper { folder, autosave: None, adopted: None };
        let taken = keeper.take_place().map(|_| ());
        let carry_out = move |order: Order, teller: &Teller<Option<String>>| {
            teller.tell(keeper.carry_out(order).err().map(|error| format!("{error:#}")));
        };
        self.keeper = Some(Worker::begin("autosave", move || ctx.request_repaint(), carry_out)?);
        taken
    }

    fn order(&mut self, order: Order, stamp: Option<Stamp>) {
        if let Some(keeper) = &self.keeper {
            keeper.order(order);
            self.open.push_back(stamp);
        }
    }

    /// Has the autosave written or removed as the work asks, and says what became of earlier orders.
    pub fn tend(&mut self, work: &AtStake<'_>, now: f64, ctx: &egui::Context) -> Option<Told> {
        let told = self.hear(now);
        if self.keeper.is_some() {
            self.have_kept(work, now, ctx);
        }
        told
    }

    fn have_kept(&mut self, work: &AtStake<'_>, now: f64, ctx: &egui::Context) {
        if work.is_nothing_to_keep() {
            self.nothing_to_keep();
            return;
        }
        let stamp = work.stamp();
        if self.kept.as_ref() == Some(&stamp) {
            self.waiting_since = None;
            return;
        }
        let seen_at = self.see(&stamp, now);
        let since = *self.waiting_since.get_or_insert(now);
        let due = (seen_at + QUIET).min(since + LONGEST).max(self.not_before);
        if now < due {
            ctx.request_repaint_after(Duration::from_secs_f64(due - now));
        } else if self.open.is_empty() {
            // On a slow disk what is written next is the work as it is by then; the end of the writing wakes the window.
            self.write(work);
        }
    }

    fn write(&mut self, work: &AtStake<'_>) {
        let stamp = work.stamp();
        self.kept = Some(stamp.clone());
        self.waiting_since = None;
        self.order(Order::Write(Box::new(Kept::of(&work.work()))), Some(stamp));
    }

    /// Takes in what became of the orders.
    fn hear(&mut self, now: f64) -> Option<Told> {
        let mut told = None;
        loop {
            match self.keeper.as_ref().map_or(Heard::NothingYet, Worker::poll) {
                Heard::NothingYet => return told,
                Heard::Told(failure) => told = self.done(failure, now).or(told),
                Heard::Ended => {
                    self.keeper = None;
                    self.open.clear();
                    return self.failed("It broke down, which is a fault of the program", now);
                }
            }
        }
    }

    /// What became of the oldest order.
    fn done(&mut self, failure: Option<String>, now: f64) -> Option<Told> {
        let written = self.open.pop_front().flatten();
        match failure {
            Some(failure) => {
                self.kept.take_if(|kept| Some(&*kept) == written.as_ref());
                self.failed(&failure, now)
            }
            None => written.and_then(|_| self.failure.take()).map(|_told| Told::WorksAgain),
        }
    }

    /// When the work came to be as it is.
    fn see(&mut self, stamp: &Stamp, now: f64) -> f64 {
        match &self.seen {
            Some((seen, at)) if seen == stamp => *at,
            _ => {
                self.seen = Some((stamp.clone(), now));
                now
            }
        }
    }

    /// The same failure is told once.
    fn failed(&mut self, why: &str, now: f64) -> Option<Told> {
        self.not_before = now + TRY_AGAIN;
        let text = format!("The autosave does not work, so save often. {why}");
        (self.failure.as_ref() != Some(&text)).then(|| {
            self.failure = Some(text.clone());
            Told::Failed(text)
        })
    }

    /// An autosave of work that was undone again would only bring it back.
    fn nothing_to_keep(&mut self) {
        self.seen = None;
        self.waiting_since = None;
        if self.kept.take().is_some() {
            self.order(Order::Remove, None);
        }
    }

    /// Holds a recovered autosave until its work is autosaved here.
    pub fn adopt(&mut self, recovered: Recovered) {
        self.order(Order::Adopt(Box::new(recovered)), None);
    }

    /// The work is on the disk, or gone on purpose: nothing is left to recover.
    pub fn forget(&mut self) {
        self.seen = None;
        self.kept = None;
        self.waiting_since = None;
        self.order(Order::Forget, None);
    }

    /// The window ends: what is still at stake is written once more and left for recovery.
    pub fn end(&mut self, at_stake: Option<&AtStake<'_>>) {
        // What has failed meanwhile is written once more; nobody is there to read a message.
        let _nobody_reads_it = self.wait(0.0);
        match at_stake {
            Some(work) if self.kept != Some(work.stamp()) => self.write(work),
            Some(_) => {}
            None => self.order(Order::End, None),
        }
        self.finish();
    }

    /// Waits until every order is carried out, and says what became of them.
    pub fn wait(&mut self, now: f64) -> Option<Told> {
        let mut told = None;
        while !self.open.is_empty()
            && let Some(failure) = self.keeper.as_ref().and_then(Worker::wait)
        {
            told = self.done(failure, now).or(told);
        }
        told
    }

    fn finish(&mut self) {
        if let Some(keeper) = self.keeper.take() {
            keeper.finish();
        }
    }
}

impl Drop for KeepSafe {
    fn drop(&mut self) {
        self.finish();
    }
}

/// What the keeper is to do.
enum Order {
    /// Write the work, and let go of the recovered autosave that it came from.
    Write(Box<Kept>),
    /// Remove the window's autosave; its place stays taken.
    Remove,
    /// Hold a recovered autosave.
    Adopt(Box<Recovered>),
    /// Remove the window's autosave and the recovered one.
    Forget,
    /// The same, and leave the place.
    End,
}

/// The work as it was when the order was given.
struct Kept {
    job: Job,
    original: Option<PathBuf>,
    opened: Option<Fingerprint>,
    table: Option<TableInHand>,
}

impl Kept {
    fn of(&Work { job, original, opened, table }: &Work<'_>) -> Self {
        Self { job: job.clone(), original: original.map(Into::into), opened, table: table.cloned() }
    }

    fn work(&self) -> Work<'_> {
        let Self { job, original, opened, table } = self;
        Work { job, original: original.as_deref(), opened: *opened, table: table.as_ref() }
    }
}

/// What stands on the disk, in the hands of the thread that writes.
struct Keeper {
    folder: PathBuf,
    autosave: Option<Autosave>,
    adopted: Option<Recovered>,
}

impl Keeper {
    /// Takes a place where none is held yet.
    fn take_place(&mut self) -> anyhow::Result<&mut Autosave> {
        let begun = match self.autosave.take() {
            Some(autosave) => autosave,
            None => Autosave::begin(&self.folder, &window_id(std::process::id(), SystemTime::now()))?,
        };
        Ok(self.autosave.insert(begun))
    }

    fn carry_out(&mut self, order: Order) -> anyhow::Result<()> {
        match order {
            Order::Write(kept) => {
                self.take_place()?.write(&kept.work())?;
                self.let_go_of_adopted()
            }
            Order::Remove => self.autosave.as_ref().map_or(Ok(()), Autosave::discard),
            Order::Adopt(recovered) => {
                self.adopted = Some(*recovered);
                Ok(())
            }
            Order::Forget => {
                let own = self.autosave.as_ref().map_or(Ok(()), Autosave::discard);
                own.and(self.let_go_of_adopted())
            }
            Order::End => {
                // A file that cannot be removed is offered at the next start.
                let own = self.autosave.take().map_or(Ok(()), Autosave::finish);
                own.and(self.let_go_of_adopted())
            }
        }
    }

    fn let_go_of_adopted(&mut self) -> anyhow::Result<()> {
        self.adopted.take().map_or(Ok(()), Recovered::discard)
    }
}
