//! Changes in the file, both ways: each kind by its word, with what is stated of it under the keys that its declaration gives.

use std::fmt;
use std::sync::LazyLock;

use serde::de::{DeserializeSeed, EnumAccess, Error as _, MapAccess, VariantAccess as _, Visitor};
use serde::ser::SerializeStructVariant;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::files::quantities::OneLine;
use crate::model::change::Declaration;
use crate::model::change::kinds::{ALL, blank};
use crate::model::change::stated::{Held, Stated};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::{Change, ChangeId, ChangeKind, Switch};
use crate::model::facts::job::Job;
use crate::model::facts::options::{About, JobOption};
use crate::model::facts::plain_text::one_line;
use crate::units::Area;
use serde_with::As;

use super::common::{DropDto, Read, TargetDto, drop_data, given_once, percent_of};
use super::duct_file::{OpeningDto, RunDto, opening, opening_dto, run, run_dto};
use super::error::Misfit;
use crate::files::words::CallDto;

/// One change of the job.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChangeDto {
    id: u32,
    #[serde(default, with = "SwitchDto")]
    switch: Switch,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    price: Option<f64>,
    /// Part of the price that is labour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    labour: Option<f64>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    what: WhatDto,
}

/// An option with its changes.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OptionDto {
    #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    reason: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    changes: Vec<ChangeDto>,
}

impl OptionDto {
    /// For the file.
    pub(super) fn new(about: &About, changes: Vec<ChangeDto>) -> Self {
        Self { name: about.name.clone(), reason: about.reason.clone(), changes }
    }

    /// From the file; `machines` are the job's tables of other machines.
    pub(super) fn option(self, machines: &[BlowerTable]) -> Read<JobOption> {
        let changes = self.changes.into_iter().map(|dto| from_file(dto, machines)).collect::<Read<_>>()?;
        Ok(JobOption { about: About { name: self.name, reason: self.reason }, changes })
    }
}

/// The words of the file for a switch.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Switch")]
enum SwitchDto {
    On,
    Off,
}

/// What is done, and the number of another machine's table in the job's list, from 1; what a file gives and cannot be meant waits for the change's number.
#[derive(Debug)]
pub(super) struct WhatDto {
    kind: ChangeKind,
    machine: usize,
    fault: Option<Misfit>,
}

/// Tables of the machines that changes put on the ducts, in the order of those changes.
pub(super) fn machines<'c>(changes: impl Iterator<Item = &'c Change>) -> impl Iterator<Item = &'c BlowerTable> {
    changes.filter_map(|change| Some(&change.kind.particulars().machine?.table))
}

/// One change of a job, for the file; another machine is named by its number among [`machines`] of every option.
pub(super) fn to_file(change: &Change, job: &Job) -> ChangeDto {
    let before = job.changes_of_all().take_while(|other| !std::ptr::eq(*other, change));
    ChangeDto {
        id: change.id.0,
        switch: change.switch,
        price: change.price,
        labour: change.labour,
        note: change.note.clone(),
        what: WhatDto { kind: change.kind.clone(), machine: machines(before).count() + 1, fault: None },
    }
}

/// One change from the file; `machines` are the job's tables of other machines.
pub(super) fn from_file(dto: ChangeDto, machines: &[BlowerTable]) -> Read<Change> {
    let here = |misfit: Misfit| misfit.at(format!("Change {}", dto.id));
    let WhatDto { mut kind, machine, fault } = dto.what;
    fault.map_or(Ok(()), |misfit| Err(here(misfit)))?;
    for one in kind.stated() {
        if let Held::Machine(table) = one.held {
            let found = machine.checked_sub(1).and_then(|index| machines.get(index));
            *table = found.ok_or_else(|| here(Misfit::NoMachine(machine, machines.len())))?.clone();
        }
    }
    let note = one_line(&dto.note);
    Ok(Change { id: ChangeId(dto.id), kind, switch: dto.switch, price: dto.price, labour: dto.labour, note })
}

/// A fraction stands under its key in percent, or as itself under what is left of the key without this end, where no short number of percent gives it back.
const IN_PERCENT: &str = "_percent";

/// A call by its word.
#[derive(Serialize, Deserialize)]
#[serde(transparent)]
struct CallWord(#[serde(with = "CallDto")] Call);

impl Serialize for WhatDto {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut kind = self.kind.clone();
        let word = kind.declaration().file;
        let stated = kind.stated();
        let mut fields = serializer.serialize_struct_variant("WhatDto", 0, word, stated.len())?;
        for one in &stated {
            write(one, self.machine, &mut fields)?;
        }
        fields.end()
    }
}

fn write<F: SerializeStructVariant>(one: &Stated<'_>, machine: usize, fields: &mut F) -> Result<(), F::Error> {
    let key = one.key;
    match &one.held {
        Held::Element(id) => fields.serialize_field(key, &id.0),
        Held::Number(number, value) if one.is_usual_left_out && value.total_cmp(&number.first).is_eq() => Ok(()),
        Held::Number(_, value) => match (key.strip_suffix(IN_PERCENT), percent_of(**value)) {
            (Some(_), (Some(percent), _)) => fields.serialize_field(key, &percent),
            (Some(itself), _) => fields.serialize_field(itself, *value),
            (None, _) => fields.serialize_field(key, *value),
        },
        Held::Area(_, _, area) => fields.serialize_field(key, &area.in2()),
        Held::Count(count, _) => fields.serialize_field(key, *count),
        Held::Run(run) => fields.serialize_field(key, &run_dto(run)),
        Held::Opening(opening) => fields.serialize_field(key, &opening_dto(opening)),
        Held::Drop(data) => fields.serialize_field(key, &DropDto::from(&**data)),
        Held::OwnDrop(_, data) => {
            data.as_ref().map_or(Ok(()), |data| fields.serialize_field(key, &DropDto::from(data)))
        }
        Held::Call(call) => fields.serialize_field(key, &CallWord(**call)),
        Held::Tap(tap) => fields.serialize_field(key, *tap),
        Held::OwnTap(tap) => tap.as_ref().map_or(Ok(()), |tap| fields.serialize_field(key, tap)),
        Held::Leaves(elements) if elements.is_empty() => Ok(()),
        Held::Leaves(elements) => fields.serialize_field(key, &elements.iter().map(|id| id.0).collect::<Vec<u32>>()),
        Held::Machine(_) => fields.serialize_field(key, &machine),
        Held::Target(target) => target.map_or(Ok(()), |target| fields.serialize_field(key, &TargetDto::from(target))),
    }
}

/// The words of the kinds, and the keys of each.
static WORDS: LazyLock<Vec<&'static str>> = LazyLock::new(|| ALL.iter().map(|declared| declared.file).collect());
static KEYS: LazyLock<Vec<Vec<&'static str>>> = LazyLock::new(|| {
    let keys = |declared: &&'static Declaration| {
        let mut kind = blank(declared);
        let stated = kind.as_mut().map(ChangeKind::stated).unwrap_or_default();
        stated.iter().flat_map(|one| [Some(one.key), one.key.strip_suffix(IN_PERCENT)]).flatten().collect()
    };
    ALL.iter().map(keys).collect()
});

/// One of some words, by its place among them.
struct OneOf {
    words: &'static [&'static str],
    is_key: bool,
}

impl<'de> DeserializeSeed<'de> for &OneOf {
    type Value = usize;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<usize, D::Error> {
        deserializer.deserialize_identifier(self)
    }
}

impl Visitor<'_> for &OneOf {
    type Value = usize;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.is_key { "field identifier" } else { "variant identifier" })
    }

    fn visit_str<E: serde::de::Error>(self, word: &str) -> Result<usize, E> {
        self.words.iter().position(|other| *other == word).ok_or_else(|| {
            if self.is_key { E::unknown_field(word, self.words) } else { E::unknown_variant(word, self.words) }
        })
    }
}

impl<'de> Deserialize<'de> for WhatDto {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_enum("WhatDto", &WORDS, What)
    }
}

struct What;

impl<'de> Visitor<'de> for What {
    type Value = WhatDto;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("enum WhatDto")
    }

    fn visit_enum<A: EnumAccess<'de>>(self, data: A) -> Result<WhatDto, A::Error> {
        let (index, fields) = data.variant_seed(&OneOf { words: &WORDS, is_key: false })?;
        let (Some(declared), Some(keys)) = (ALL.get(index), KEYS.get(index)) else {
            return Err(A::Error::custom("no such kind of change"));
        };
        let kind = blank(declared).ok_or_else(|| A::Error::custom("no such kind of change"))?;
        fields.struct_variant(keys, Fields { kind, keys: OneOf { words: keys, is_key: true } })
    }
}

struct Fields {
    kind: ChangeKind,
    keys: OneOf,
}

impl<'de> Visitor<'de> for Fields {
    type Value = WhatDto;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "struct variant WhatDto::{}", self.kind.declaration().file)
    }

    fn visit_map<A: MapAccess<'de>>(mut self, mut map: A) -> Result<WhatDto, A::Error> {
        let mut given = Given::default();
        let mut seen = Vec::new();
        let mut stated = self.kind.stated();
        while let Some(index) = map.next_key_seed(&self.keys)? {
            let key = self.keys.words[index];
            if seen.contains(&key) {
                return Err(A::Error::duplicate_field(key));
            }
            seen.push(key);
            let is_it = |one: &&mut Stated<'_>| one.key == key || one.key.strip_suffix(IN_PERCENT) == Some(key);
            if let Some(one) = stated.iter_mut().find(is_it) {
                given.read(one, key, &mut map)?;
            }
        }
        for one in &mut stated {
            given.settle(one);
            if !seen.contains(&one.key) && is_needed(one) {
                return Err(A::Error::missing_field(one.key));
            }
        }
        Ok(WhatDto { kind: self.kind, machine: given.machine, fault: given.fault })
    }
}

/// A fraction has its fault told with its place, and what may be left out is left out.
fn is_needed(one: &Stated<'_>) -> bool {
    match one.held {
        Held::Number(..) => !one.key.ends_with(IN_PERCENT),
        Held::OwnDrop(..) | Held::OwnTap(_) | Held::Leaves(_) | Held::Target(_) => false,
        Held::Element(_)
        | Held::Area(..)
        | Held::Count(..)
        | Held::Run(_)
        | Held::Opening(_)
        | Held::Drop(_)
        | Held::Call(_)
        | Held::Tap(_)
        | Held::Machine(_) => true,
    }
}

/// What a change's fields give besides its values.
#[derive(Default)]
struct Given {
    machine: usize,
    percent: Option<f64>,
    fraction: Option<f64>,
    fault: Option<Misfit>,
}

impl Given {
    fn read<'de, A: MapAccess<'de>>(&mut self, one: &mut Stated<'_>, key: &str, map: &mut A) -> Result<(), A::Error> {
        match &mut one.held {
            Held::Element(id) => **id = ElementId(map.next_value()?),
            Held::Number(..) if key.ends_with(IN_PERCENT) => self.percent = map.next_value()?,
            Held::Number(..) if key != one.key => self.fraction = map.next_value()?,
            Held::Number(_, value) => **value = map.next_value()?,
            Held::Area(_, _, area) => **area = Area::from_in2(map.next_value()?),
            Held::Count(count, _) => **count = map.next_value()?,
            Held::Run(held) => self.keep(&mut **held, run(&map.next_value::<RunDto>()?)),
            Held::Opening(held) => self.keep(&mut **held, opening(&map.next_value::<OpeningDto>()?)),
            Held::Drop(data) => self.keep(&mut **data, drop_data(&map.next_value()?)),
            Held::OwnDrop(_, data) => {
                let dto: Option<DropDto> = map.next_value()?;
                self.keep(&mut **data, dto.as_ref().map(drop_data).transpose());
            }
            Held::Call(call) => **call = map.next_value::<CallWord>()?.0,
            Held::Tap(tap) => **tap = one_line(&map.next_value::<String>()?),
            Held::OwnTap(tap) => **tap = map.next_value::<Option<String>>()?.as_deref().map(one_line),
            Held::Leaves(elements) => {
                **elements = map.next_value::<Vec<u32>>()?.into_iter().map(ElementId).collect();
            }
            Held::Machine(_) => self.machine = map.next_value()?,
            Held::Target(target) => {
                **target = map.next_value::<Option<TargetDto>>()?.map(Into::into);
            }
        }
        Ok(())
    }

    /// A fraction out of its two fields.
    fn settle(&mut self, one: &mut Stated<'_>) {
        let is_left_out = one.is_usual_left_out && self.percent.is_none() && self.fraction.is_none();
        if let (false, Held::Number(_, value), Some(itself)) =
            (is_left_out, &mut one.held, one.key.strip_suffix(IN_PERCENT))
        {
            let given = given_once([one.key, itself], self.percent.take(), self.fraction.take());
            self.keep(&mut **value, given);
        }
    }

    /// The value, or the first fault.
    fn keep<T>(&mut self, held: &mut T, read: Result<T, Misfit>) {
        match read {
            Ok(value) => *held = value,
            Err(fault) => self.fault = self.fault.take().or(Some(fault)),
        }
    }
}
