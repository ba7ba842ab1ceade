//! What a person states of a change, each value with its name and its unit.

use serde::Serialize;

use super::words;
use crate::model::change::stated::{Held, Side};
use crate::model::facts::change::ChangeKind;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::number::Number;
use crate::model::facts::numbers::duct as given;
use crate::units::quantity::Quantity;
use crate::units::{Airflow, UnitSystem};

#[derive(Debug, Serialize)]
pub(super) struct SizePart {
    name: String,
    when: Option<&'static str>,
    value: Option<f64>,
    unit: Option<&'static str>,
    at_cfm: Option<f64>,
    text: Option<String>,
}

/// Everything that is stated of a change besides what it is on, in the order of the job file.
pub(super) fn of(kind: &ChangeKind) -> Vec<SizePart> {
    let mut kind = kind.clone();
    let mut all = Vec::new();
    for stated in kind.stated() {
        let when = match stated.side {
            Side::Alone => None,
            Side::Now => Some("now"),
            Side::Then => Some("then"),
        };
        Parts { all: &mut all, when }.held(stated.name, &stated.held);
    }
    all
}

/// What is being told of one side.
struct Parts<'a> {
    all: &'a mut Vec<SizePart>,
    when: Option<&'static str>,
}

impl Parts<'_> {
    fn push(&mut self, name: &str, value: Option<f64>, unit: Option<&'static str>) -> Option<&mut SizePart> {
        let name = name.to_owned();
        self.all.push(SizePart { name, when: self.when, value, unit, at_cfm: None, text: None });
        self.all.last_mut()
    }

    fn number(&mut self, declared: &Number, value: f64) {
        self.push(declared.name, Some(value), Some(stored_unit(declared.quantity)));
    }

    fn text(&mut self, name: &str, text: &str) {
        if let Some(part) = self.push(name, None, None) {
            part.text = Some(text.to_owned());
        }
    }

    fn held(&mut self, name: &str, held: &Held<'_>) {
        match held {
            Held::Element(_) | Held::Target(_) => {}
            Held::Number(declared, value) => self.number(declared, **value),
            Held::Area(declared, _, area) => self.number(declared, area.in2()),
            Held::Count(count, _) => {
                self.push(name, Some(f64::from(**count)), Some("count"));
            }
            Held::Run(run) => self.run(run),
            Held::Opening(opening) => {
                self.number(&given::FACE_AREA, opening.face.in2());
                self.number(&given::FREE_AREA, opening.free_area);
            }
            Held::Drop(data) => self.drop(name, data),
            Held::OwnDrop(_, data) => data.iter().for_each(|data| self.drop(name, data)),
            Held::Call(call) => self.text(name, words::call(**call)),
            Held::Tap(tap) => self.text(name, tap),
            Held::OwnTap(tap) => tap.iter().for_each(|tap| self.text(name, tap)),
            Held::Leaves(elements) => elements.iter().for_each(|id| self.text(name, &id.0.to_string())),
            Held::Machine(table) => self.text(name, &table.name),
        }
    }

    fn run(&mut self, run: &Run) {
        match run.section {
            Section::Round { diameter } => self.number(&given::DIAMETER, diameter.inches()),
            Section::Rectangular { width, height } => {
                self.number(&given::WIDTH, width.inches());
                self.number(&given::HEIGHT, height.inches());
            }
            Section::FlatOval { major, minor } => {
                self.number(&given::MAJOR_AXIS, major.inches());
                self.number(&given::MINOR_AXIS, minor.inches());
            }
        }
        self.number(&given::RUN_LENGTH, run.length.ft());
        self.number(&given::LOSS_COEFFICIENT, run.fittings);
        match run.wall {
            Wall::Stiff(roughness) => self.number(&given::ROUGHNESS, roughness.inches()),
            Wall::Flexible { compression } => self.number(&given::COMPRESSION, compression),
        }
    }

    fn drop(&mut self, name: &str, data: &DropData) {
        for (airflow, drop) in data.points() {
            if let Some(part) = self.push(name, Some(drop.in_wc()), Some(stored_unit(Quantity::Pressure))) {
                part.at_cfm = Some(Airflow::cfm(*airflow));
            }
        }
        self.number(&given::EXPONENT, data.exponent());
    }
}

/// The unit of a value as it is stored.
fn stored_unit(quantity: Quantity) -> &'static str {
    match quantity.unit(UnitSystem::InchPound) {
        "%" => "fraction",
        "" => "ratio",
        unit => unit,
    }
}
