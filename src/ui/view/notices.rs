//! Short messages about what happened, kept until they are read.

/// How a notice weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Something was done.
    Done,
    /// Something went wrong; it stays until it is closed.
    Wrong,
}

/// One message.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// How it weighs.
    pub tone: Tone,
    /// What it says.
    pub text: String,
    /// When it came, in the window's seconds.
    pub since: f64,
    /// How long it holds.
    pub holds: Holds,
}

/// How long a message holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// As long as it is shown.
    Always,
    /// Until the next step of undo or redo: it tells of one.
    ThisStep,
}

/// Seconds that a message of something done stays.
pub const STAYS: f64 = 6.0;

/// Most messages that stand over the window at once; the others are counted.
pub const MOST_SHOWN: usize = 2;
/// Most messages that are kept; past it the oldest goes.
const MOST_KEPT: usize = 200;

/// The messages that are shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Notices(Vec<Notice>);

impl Notices {
    /// Shows a message.
    pub fn say(&mut self, tone: Tone, text: impl Into<String>, now: f64) {
        self.tell(tone, text.into(), now, Holds::Always);
    }

    /// Shows a message of a step, which goes when that is undone.
    pub fn say_of_step(&mut self, tone: Tone, text: impl Into<String>, now: f64) {
        self.tell(tone, text.into(), now, Holds::ThisStep);
    }

    fn tell(&mut self, tone: Tone, text: String, now: f64, holds: Holds) {
        self.take_back(&text);
        self.0.push(Notice { tone, text, since: now, holds });
        let surplus = self.0.len().saturating_sub(MOST_KEPT);
        self.0.drain(..surplus);
    }

    /// Takes a message back that no longer holds.
    pub fn take_back(&mut self, text: &str) {
        self.0.retain(|notice| notice.text != text);
    }

    /// Takes back what tells of a step that is undone or done again.
    pub fn step(&mut self) {
        self.0.retain(|notice| notice.holds == Holds::Always);
    }

    /// The messages to show now, oldest first.
    pub fn shown(&mut self, now: f64) -> &[Notice] {
        self.0.retain(|notice| notice.tone == Tone::Wrong || now - notice.since < STAYS);
        &self.0
    }

    /// Closes all of them.
    pub fn close_all(&mut self) {
        self.0.clear();
    }

    /// Closes one.
    pub fn close(&mut self, index: usize) {
        if index < self.0.len() {
            self.0.remove(index);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_went_wrong_stays_until_it_is_closed() {
        let mut notices = Notices::default();
        notices.say(Tone::Done, "Saved", 0.0);
        notices.say(Tone::Wrong, "Disk full", 0.0);
        assert_eq!(notices.shown(100.0).len(), 1);
        notices.close(0);
        assert!(notices.shown(100.0).is_empty());
    }
}
