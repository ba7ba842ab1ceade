//! What a person states of a change: its values, each with its name, its key in the job file and the number that it is of.

use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::Opening;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::run::Run;
use crate::model::facts::limits::{MOST_ELEMENTS, few};
use crate::model::facts::number::{Number, Slider};
use crate::model::facts::numbers::duct as given;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::Target;
use crate::model::facts::{holdable, table_check};
use crate::units::Area;

/// Compression that a flexible duct starts with: hung with ordinary care (the handbook's example).
pub const USUAL_COMPRESSION: f64 = 0.04;

/// One thing that is stated.
#[derive(Debug)]
pub struct Stated<'a> {
    /// Its key in the job file.
    pub key: &'static str,
    /// What its box or its row says; empty for what no box asks for.
    pub label: &'static str,
    /// Its name for screen readers and in refusals, without "now" or "then".
    pub name: &'static str,
    /// Whether it is of now or of then.
    pub side: Side,
    /// The value.
    pub held: Held<'a>,
    /// True for a number that a file may leave out where it is the usual one.
    pub is_usual_left_out: bool,
}

/// Whether something is stated of now, of then, or of neither.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// There is but one.
    Alone,
    /// As it is.
    Now,
    /// As it will be.
    Then,
}

/// A value, to be read or written.
#[derive(Debug)]
pub enum Held<'a> {
    /// The element that the change is on.
    Element(&'a mut ElementId),
    /// A declared number.
    Number(&'static Number, &'a mut f64),
    /// A face or a filter's media.
    Area(&'static Number, Option<Slider>, &'a mut Area),
    /// How many, and how many a slider reaches where there is one.
    Count(&'a mut u32, Option<u32>),
    /// A run of duct.
    Run(&'a mut Run),
    /// A grille's or register's face.
    Opening(&'a mut Opening),
    /// A part by its published drop.
    Drop(&'a mut DropData),
    /// A part by its published drop, or none.
    OwnDrop(Ask, &'a mut Option<DropData>),
    /// A call of the thermostat.
    Call(&'a mut Call),
    /// A tap by its name.
    Tap(&'a mut String),
    /// A tap by its name, or the one that the table's map gives.
    OwnTap(&'a mut Option<String>),
    /// Elements that leave.
    Leaves(&'a mut Vec<ElementId>),
    /// The table of another machine.
    Machine(&'a mut BlowerTable),
    /// Its target, or the job's.
    Target(&'a mut Option<Target>),
}

/// How a part that may be there is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ask {
    /// Exponent of its drop where one point is given.
    pub exponent: f64,
    /// How many points there are boxes for; none where it need not be asked for.
    pub points: usize,
}

impl<'a> Stated<'a> {
    /// Something of which there is but one.
    pub const fn one(key: &'static str, label: &'static str, name: &'static str, held: Held<'a>) -> Self {
        Self { key, label, name, side: Side::Alone, held, is_usual_left_out: false }
    }

    /// Something of now or of then.
    pub const fn of(side: Side, key: &'static str, label: &'static str, name: &'static str, held: Held<'a>) -> Self {
        Self { key, label, name, side, held, is_usual_left_out: false }
    }

    /// The element that the change is on.
    pub const fn element(id: &'a mut ElementId) -> Self {
        Self::one("element", "", "Element", Held::Element(id))
    }

    /// A declared number.
    pub const fn number(number: &'static Number, value: &'a mut f64) -> Self {
        Self::one(number.file, number.name, number.name, Held::Number(number, value))
    }

    /// The same, left out of a file where it is the number's usual value.
    #[must_use]
    pub const fn or_usual(self) -> Self {
        Self { is_usual_left_out: true, ..self }
    }

    /// Whether the value can be meant; what a machine is, its target and what it leaves are looked at elsewhere.
    ///
    /// # Errors
    /// The number that cannot be.
    pub fn check(&self) -> Result<(), Refusal> {
        match &self.held {
            Held::Number(number, value) => {
                number.check(**value)?;
            }
            Held::Area(number, _, area) => {
                number.check(area.in2())?;
            }
            Held::Run(run) => {
                run.checked()?;
            }
            Held::Opening(opening) => {
                given::FACE_AREA.check(opening.face.in2())?;
                given::FREE_AREA.check(opening.free_area)?;
            }
            Held::Element(_)
            | Held::Count(..)
            | Held::Drop(_)
            | Held::OwnDrop(..)
            | Held::Call(_)
            | Held::Tap(_)
            | Held::OwnTap(_)
            | Held::Leaves(_)
            | Held::Machine(_)
            | Held::Target(_) => {}
        }
        Ok(())
    }
}

impl Stated<'_> {
    /// Whether the value can be meant, besides what [`Stated::check`] says: a machine with a table and a target that the job would take itself.
    ///
    /// # Errors
    /// What cannot be.
    pub fn can_be_meant(&self) -> Result<(), Refusal> {
        match &self.held {
            Held::Machine(table) => table_can_be_meant(table),
            Held::Target(target) => target.map_or(Ok(()), |target| Ok(target.check().map(drop)?)),
            Held::Element(_)
            | Held::Number(..)
            | Held::Area(..)
            | Held::Count(..)
            | Held::Run(_)
            | Held::Opening(_)
            | Held::Drop(_)
            | Held::OwnDrop(..)
            | Held::Call(_)
            | Held::Tap(_)
            | Held::OwnTap(_)
            | Held::Leaves(_) => Ok(()),
        }
    }

    /// Where a slider of it stands and what it reaches; nothing for what no slider moves.
    pub fn slider(&mut self) -> Option<(f64, Slider)> {
        self.slid(None)
    }

    /// Moves it to where its slider stands.
    pub fn slide_to(&mut self, value: f64) {
        self.slid(Some(value));
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a slider of a count reaches from 1 to a count, and the cast saturates"
    )]
    fn slid(&mut self, to: Option<f64>) -> Option<(f64, Slider)> {
        match &mut self.held {
            Held::Number(number, value) => {
                **value = to.unwrap_or(**value);
                number.slider.map(|slider| (**value, slider))
            }
            Held::Area(_, slider, area) => {
                **area = to.map_or(**area, Area::from_in2);
                slider.map(|slider| (area.in2(), slider))
            }
            Held::Count(count, most) => {
                **count = to.map_or(**count, |to| to.round() as u32);
                let reach = |most: u32| Slider { low: 1.0, high: f64::from(most.max(1)), step: 1.0 };
                most.map(|most| (f64::from(**count), reach(most)))
            }
            Held::Element(_)
            | Held::Run(_)
            | Held::Opening(_)
            | Held::Drop(_)
            | Held::OwnDrop(..)
            | Held::Call(_)
            | Held::Tap(_)
            | Held::OwnTap(_)
            | Held::Leaves(_)
            | Held::Machine(_)
            | Held::Target(_) => None,
        }
    }

    /// Whether a job can hold the value, besides what [`Stated::check`] says.
    ///
    /// # Errors
    /// Too many points, too many elements, a target that is none.
    pub(super) fn can_be_held(&self) -> Result<(), Refusal> {
        match &self.held {
            Held::Drop(data) => holdable::points(data),
            Held::OwnDrop(_, data) => data.as_ref().map_or(Ok(()), holdable::points),
            Held::Leaves(elements) => Ok(few(elements.len(), MOST_ELEMENTS, "elements that leave")?),
            Held::Target(target) => {
                let told = |refused: Refusal| refused.at("its target");
                target.as_ref().map_or(Ok(()), |target| holdable::target(target).map_err(told))
            }
            Held::Element(_)
            | Held::Number(..)
            | Held::Area(..)
            | Held::Count(..)
            | Held::Run(_)
            | Held::Opening(_)
            | Held::Call(_)
            | Held::Tap(_)
            | Held::OwnTap(_)
            | Held::Machine(_) => Ok(()),
        }
    }
}

/// Whether a table can be taken up by a job, or by another machine on its ducts.
///
/// # Errors
/// What cannot be.
pub fn table_can_be_meant(table: &BlowerTable) -> Result<(), Refusal> {
    table_check::can_be_taken_up(table).map_err(|problem| Refusal::Table(Box::new((table.clone(), problem))))
}

impl Side {
    /// "Now" or "Then", or a label where there is but one.
    pub const fn said(self, label: &'static str) -> &'static str {
        match self {
            Self::Alone => label,
            Self::Now => "Now",
            Self::Then => "Then",
        }
    }

    /// A name with the side behind it: "Duct size now".
    pub fn named(self, name: &str) -> String {
        match self {
            Self::Alone => name.to_owned(),
            Self::Now => format!("{name} now"),
            Self::Then => format!("{name} then"),
        }
    }
}
