//! Shares of a drop and of an airflow that nobody stated, where a change takes hold of what they part; and what is moved to see how much hangs on them.

use crate::model::facts::air_path::{Element, ElementId, PortId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::path::parts::{ReadPoint, ToldExponent, segments};
use crate::units::Pressure;

/// What nobody stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guess {
    /// An element's share of the stretch that was read.
    Share(ElementId),
    /// A way's share of its group's air.
    Flow(ElementId, usize),
}

/// A guess that something hangs on.
#[derive(Clone, Debug, PartialEq)]
pub struct Guessed {
    /// What.
    pub guess: Guess,
    /// Elements of unstated share in the same stretch, it included; for a share of air the group.
    pub among: Vec<ElementId>,
    /// Part of the usual doubt in its odds that is its own: less than 1 where all that it is parted from are guesses as well.
    pub own: f64,
}

/// What is moved to see what it does, one thing or several at once; nothing for the answer itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Moved {
    /// Added to every exponent that is not by data.
    pub exponent: f64,
    /// Every drop by data is larger by this fraction.
    pub data: f64,
    /// Guesses, and the factor on the odds of each.
    pub odds: Vec<(Guess, f64)>,
    /// Elements that were read across, or that reading sets tell apart, and what is added to the drop of each.
    pub apart: Vec<(ElementId, Pressure)>,
    /// Elements whose exponent reading sets tell, and what is added to it.
    pub told_exponents: Vec<(ElementId, f64)>,
    /// Ports besides the two that gave the difference across the machine, and what is added to the reading of each.
    pub ports: Vec<(PortId, Pressure)>,
}

impl Moved {
    /// Factor on the weight of a guess.
    pub(super) fn weight(&self, of: Guess) -> f64 {
        self.odds.iter().filter(|(guess, _)| *guess == of).map(|(_, factor)| factor).product()
    }

    /// What is added to the drop of an element that is known apart from its neighbours.
    pub(super) fn of_known(&self, element: ElementId) -> Pressure {
        self.apart.iter().filter(|(id, _)| *id == element).map(|(_, by)| *by).sum()
    }

    /// What is added to an exponent that reading sets tell.
    fn of_told_exponent(&self, element: ElementId) -> f64 {
        self.told_exponents.iter().filter(|(id, _)| *id == element).map(|(_, by)| *by).sum()
    }

    /// The exponent of an element's law: as reading sets tell it, or else its own or the usual one.
    pub(super) fn exponent(&self, element: &Element, told: Option<&ToldExponent>) -> f64 {
        match told {
            Some(told) => told.value + self.of_told_exponent(element.id),
            None => element.drop_exponent() + self.exponent,
        }
    }

    /// What is added to a port's reading.
    pub(super) fn at_port(&self, port: PortId) -> Pressure {
        self.ports.iter().filter(|(id, _)| *id == port).map(|(_, by)| *by).sum()
    }

    /// Factor on drops by data.
    pub const fn data_factor(&self) -> f64 {
        1.0 + self.data
    }
}

/// Every guess that the elements which a change takes hold of rest on.
pub fn guesses(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Vec<Guessed> {
    let mut all = Vec::new();
    for segment in segments(job, table, at) {
        let elements: Vec<&Element> = segment.elements.iter().filter_map(|id| job.path.element(*id)).collect();
        all.extend(of_list(&elements, at.split));
    }
    for group in job.path.elements.iter().filter(|element| element.is_group()) {
        of_group(job, group, at.split, &mut all);
    }
    all
}

fn is_held(element: &Element, held: &[ElementId]) -> bool {
    held.iter().any(|id| element.within(*id).is_some())
}

/// Each one's own part of the doubt in how several part something among themselves, so that together every one's odds are in doubt as said (exactly where they weigh alike); nothing where there is nothing to part.
fn own_doubt(open: usize) -> Option<f64> {
    (open > 1).then(|| (1.0 - 1.0 / open as f64).sqrt())
}

fn of_list(elements: &[&Element], held: &[ElementId]) -> Vec<Guessed> {
    let open: Vec<&&Element> = elements.iter().filter(|element| element.share.is_none()).collect();
    let among: Vec<ElementId> = open.iter().map(|element| element.id).collect();
    let own = own_doubt(open.len()).filter(|_| open.iter().any(|element| is_held(element, held)));
    let guess = |own: f64| among.iter().map(move |id| (*id, own));
    let guessed = own.into_iter().flat_map(guess);
    guessed.map(|(id, own)| Guessed { guess: Guess::Share(id), among: among.clone(), own }).collect()
}

fn of_group(job: &Job, group: &Element, held: &[ElementId], all: &mut Vec<Guessed>) {
    let open: Vec<usize> = (0..group.ways.len()).filter(|way| group.ways[*way].flow.is_none()).collect();
    let holds = |way: &usize| group.ways[*way].elements.iter().any(|element| is_held(element, held));
    if let Some(own) = own_doubt(open.len()).filter(|_| open.iter().any(holds)) {
        let guess = |way: &usize| Guessed { guess: Guess::Flow(group.id, *way), among: vec![group.id], own };
        all.extend(open.iter().map(guess));
    }
    let set = job.set();
    let is_unknown = |element: &&Element| {
        !set.parts_out.contains(&element.id) && element.drop.is_none() && set.across(element.id).is_none()
    };
    for way in &group.ways {
        all.extend(of_list(&way.elements.iter().filter(is_unknown).collect::<Vec<_>>(), held));
        for within in way.elements.iter().filter(|element| element.is_group()) {
            of_group(job, within, held, all);
        }
    }
}
