//! The kinds of changes, a file each, and the one list of them.

mod below_table;
mod by_data;
mod clean_coil;
mod filter_loading;
mod less_by_hand;
mod more_filter_area;
mod open_registers;
mod other_call;
mod other_coil_state;
mod other_duct;
pub mod other_machine;
mod other_opening;
mod other_tap;
mod panel_off;
mod repair_run;
mod seal;
mod second_return;
mod taken_away;

use crate::model::change::on_parts::Place;
use crate::model::change::stated::Stated;
use crate::model::change::{AllowedDrop, Declaration, Effect, Kind, Particulars, Size, Stage, Start};
use crate::model::facts::air_path::{AirPath, ElementId};
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, OtherCall,
    OtherCoilState, OtherDuct, OtherMachine, OtherOpening, OtherTap, PanelOff, RepairRun, Seal, SecondReturn,
};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::Part;
use crate::units::{Airflow, UnitSystem};

pub use other_coil_state::WET_OVER_DRY;

/// The cards of the tray, the obvious first: every declaration, of which one may have a card for each part that it goes on.
pub fn tray() -> impl Iterator<Item = &'static Declaration> {
    let others = ALL.into_iter().filter(|declared| declared.file != CleanCoil::DECLARATION.file);
    clean_coil::CARDS.iter().chain(others)
}

/// Asks the kind behind a [`ChangeKind`]; of every kind of change the compiler wants its case there.
macro_rules! kinds {
    ($($kind:ident),+ $(,)?) => {
        /// Every declaration.
        pub const ALL: [&Declaration; [$(stringify!($kind)),+].len()] = [$(&<$kind as Kind>::DECLARATION),+];

        /// A first version of a declared change on an element; nothing when it has nothing to start from.
        pub fn first(declared: &Declaration, on: ElementId, start: &Start<'_>) -> Option<ChangeKind> {
            $(if declared.file == <$kind as Kind>::DECLARATION.file {
                return <$kind as Kind>::first(on, start).map(ChangeKind::from);
            })+
            None
        }

        impl ChangeKind {
            /// Its declaration.
            pub const fn declaration(&self) -> &'static Declaration {
                match self { $(Self::$kind(_) => &<$kind as Kind>::DECLARATION),+ }
            }

            /// Everything that a person states of it, in the order of the job file.
            pub fn stated(&mut self) -> Vec<Stated<'_>> {
                match self { $(Self::$kind(kind) => kind.stated()),+ }
            }

            pub(super) fn put_on_unchecked(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
                match self { $(Self::$kind(kind) => kind.put_on(parts, place)),+ }
            }

            /// Its numbers in a line; nothing where its title says all.
            pub fn details(&self, job: &Job, units: UnitSystem) -> Option<String> {
                match self { $(Self::$kind(kind) => kind.details(job, units)),+ }
            }

            /// What it goes to, where that is no element: "tap 4".
            pub fn goes_to(&self, job: &Job) -> Option<String> {
                match self { $(Self::$kind(kind) => kind.goes_to(job)),+ }
            }

            /// When it is put on.
            pub fn stage(&self) -> Stage {
                match self { $(Self::$kind(kind) => kind.stage()),+ }
            }

            pub(super) fn holds(&self, path: &AirPath) -> Vec<ElementId> {
                match self { $(Self::$kind(kind) => kind.holds(path)),+ }
            }

            pub(super) fn goes_together(&self) -> Result<(), Refusal> {
                match self { $(Self::$kind(kind) => kind.goes_together()),+ }
            }

            /// The size with which its part drops no more than is allowed; nothing for a kind whose size is not asked for by a drop.
            ///
            /// # Errors
            /// A number that cannot be, an element that is gone.
            pub fn size_for_drop(&self, asked: &AllowedDrop<'_>) -> Result<Option<Size>, Refusal> {
                match self { $(Self::$kind(kind) => kind.size_for_drop(asked)),+ }
            }

            /// What else is asked of some kinds.
            pub fn particulars(&self) -> Particulars<'_> {
                match self { $(Self::$kind(kind) => kind.particulars()),+ }
            }
        }

        $(impl From<$kind> for ChangeKind {
            fn from(kind: $kind) -> Self {
                Self::$kind(kind)
            }
        })+
    };
}

// In the order of the tray.
kinds! {
    ByData,
    MoreFilterArea,
    SecondReturn,
    OtherDuct,
    OtherOpening,
    OpenRegisters,
    CleanCoil,
    RepairRun,
    Seal,
    LessByHand,
    OtherTap,
    OtherMachine,
    OtherCall,
    OtherCoilState,
    FilterLoading,
    PanelOff,
    BelowTable,
}

/// A change of a declared kind whose values a file is about to give.
pub fn blank(declared: &Declaration) -> Option<ChangeKind> {
    let start = Start {
        job: &Job::default(),
        airflow: Airflow::from_cfm(1200.0),
        table: Some(&BlowerTable::default()),
        next_tap: &|| Some(String::new()),
        next_call: &|| Some(Call::FanOnly),
    };
    first(declared, ElementId(0), &start)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_blank_and_words_of_its_own() {
        for (index, declared) in ALL.into_iter().enumerate() {
            assert_eq!(blank(declared).map(|kind| kind.declaration()), Some(declared));
            let others = &ALL[..index];
            assert!(others.iter().all(|other| other.name != declared.name && other.file != declared.file));
        }
    }

    #[test]
    fn every_first_guess_can_be_meant() {
        for declared in ALL {
            assert_eq!(blank(declared).unwrap().check(), Ok(()), "{}", declared.name);
        }
    }

    #[test]
    fn a_change_on_an_element_states_it_first_and_no_key_twice() {
        for declared in ALL {
            let mut kind = blank(declared).unwrap();
            let keys: Vec<_> = kind.stated().iter().map(|one| one.key).collect();
            assert!(keys.iter().enumerate().all(|(index, key)| !keys[..index].contains(key)), "{keys:?}");
            assert_eq!(keys.contains(&"element"), keys[0] == "element", "{}", declared.name);
        }
    }
}
