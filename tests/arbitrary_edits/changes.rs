//! Changes of every kind, on elements that can take them and on others.

use tapcross::model::change::Lands;
use tapcross::model::change::kinds::{ALL, blank};
use tapcross::model::change::stated::Held;
use tapcross::model::facts::air_path::ElementKind as K;
use tapcross::model::facts::change::{ChangeKind, Opening};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::units::{Airflow, Area, Dimension, Length, Pressure};

use super::Wild;

/// Kinds of [`ChangeKind`] that [`Wild::change_kind_of`] makes.
pub(crate) const CHANGE_KINDS: usize = ALL.len();

const ANY: [K; 11] = [
    K::Louvre,
    K::ReturnGrille,
    K::ReturnDuct,
    K::Filter,
    K::Coil,
    K::Heater,
    K::SupplyDuct,
    K::Registers,
    K::AirCleaner,
    K::Humidifier,
    K::Damper,
];

impl Wild<'_> {
    /// Any change on a job.
    pub(crate) fn change_kind(&mut self, job: &Job) -> ChangeKind {
        let kind = self.below(CHANGE_KINDS);
        self.change_kind_of(kind, job)
    }

    /// A change of a kind, by number below [`CHANGE_KINDS`], with whatever is stated of it wild.
    pub(crate) fn change_kind_of(&mut self, kind: usize, job: &Job) -> ChangeKind {
        let kinds: &[K] = match ALL[kind].lands {
            Lands::On(kinds) => kinds,
            Lands::OnReturn | Lands::OnBlower => &ANY,
        };
        let mut change = blank(ALL[kind]).expect("every kind has a blank");
        let mut first_tap = None;
        for stated in change.stated() {
            match stated.held {
                Held::Element(id) => *id = self.element_of(job, kinds),
                Held::Number(number, value) => {
                    *value = self.number(number.range.low().unwrap_or(0.0), number.range.high().unwrap_or(1e3));
                }
                Held::Area(_, _, area) => *area = self.area(900.0),
                Held::Count(count, _) => *count = self.count(),
                Held::Run(run) => *run = self.run(),
                Held::Opening(opening) => *opening = self.opening(),
                Held::Drop(data) => *data = self.sure_data(),
                Held::OwnDrop(_, data) => *data = self.drop_data(),
                Held::Call(call) => *call = self.call(),
                Held::Tap(tap) => *tap = self.tap(job),
                Held::OwnTap(tap) => {
                    let own = if self.once_in(3) { Some(self.text()) } else { first_tap.take() };
                    *tap = self.maybe(2, |_| own).flatten();
                }
                Held::Leaves(elements) => *elements = (0..self.below(3)).map(|_| self.element(job)).collect(),
                Held::Machine(table) => {
                    *table = self.table();
                    first_tap = table.taps.first().map(|tap| tap.name.clone());
                }
                Held::Target(target) => *target = self.maybe(2, Self::target),
            }
        }
        change
    }

    /// Drop data as they come, else everyday ones.
    fn sure_data(&mut self) -> DropData {
        let everyday = || DropData::at(Airflow::from_cfm(1000.0), Pressure::from_in_wc(0.1), 1.2).expect("sound");
        self.drop_data().unwrap_or_else(everyday)
    }

    fn area(&mut self, most: f64) -> Area {
        Area::from_in2(self.number(1.0, most))
    }

    fn opening(&mut self) -> Opening {
        Opening { face: self.area(900.0), free_area: self.number(0.1, 1.0) }
    }

    fn count(&mut self) -> u32 {
        if self.once_in(8) {
            self.one_of(&[0, 2000, u32::MAX])
        } else {
            u32::try_from(1 + self.below(12)).expect("few")
        }
    }

    fn run(&mut self) -> Run {
        let mut side = || Dimension::from_in(self.number(4.0, 40.0));
        let (one, other) = (side(), side());
        let section = match self.below(3) {
            0 => Section::round(one),
            1 => Section::rectangular(one, other),
            _ => Section::flat_oval(one, other),
        };
        let wall = match self.below(3) {
            0 => Wall::Flexible { compression: self.number(0.0, 0.3) },
            1 => Wall::Stiff(Dimension::from_in(self.number(0.0, 0.1))),
            _ => Wall::from(self.one_of(&Material::ALL)),
        };
        Run { section, length: Length::from_ft(self.number(1.0, 200.0)), wall, fittings: self.number(0.0, 20.0) }
    }
}
