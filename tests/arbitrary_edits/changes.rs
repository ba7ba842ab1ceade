//! Changes of every kind, on elements that can take them and on others.

use tapcross::model::facts::air_path::ElementKind as K;
use tapcross::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, Opening,
    OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun, Replacement, Seal, SecondReturn,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::units::{Airflow, Area, Dimension, Length, Pressure};

use super::Wild;

/// Kinds of [`ChangeKind`] that [`Wild::change_kind_of`] makes.
pub(crate) const CHANGE_KINDS: usize = 17;

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

    /// A change of a kind, by number below [`CHANGE_KINDS`].
    pub(crate) fn change_kind_of(&mut self, kind: usize, job: &Job) -> ChangeKind {
        match kind {
            0 => ChangeKind::LessByHand(LessByHand {
                element: self.element_of(job, &ANY),
                fraction: self.number(0.0, 1.0),
            }),
            1 => ChangeKind::ByData(ByData {
                element: self.element_of(job, &[K::Filter, K::Coil]),
                data: self.sure_data(),
            }),
            2 => ChangeKind::MoreFilterArea(MoreFilterArea {
                element: self.element_of(job, &[K::Filter]),
                now: self.area(900.0),
                then: self.area(900.0),
            }),
            3 => ChangeKind::FilterLoading(FilterLoading {
                element: self.element_of(job, &[K::Filter]),
                factor: self.number(0.05, 20.0),
            }),
            4 => ChangeKind::CleanCoil(CleanCoil {
                element: self.element_of(job, &[K::Coil]),
                fraction: self.number(0.0, 1.0),
            }),
            5 => ChangeKind::OtherDuct(OtherDuct {
                element: self.element_of(job, &[K::ReturnDuct, K::SupplyDuct]),
                now: self.run(),
                then: self.run(),
                of_drop: self.number(0.0, 1.0),
            }),
            6 => ChangeKind::SecondReturn(SecondReturn {
                run: self.run(),
                grille: self.opening(),
                filter: self.drop_data(),
            }),
            7 => ChangeKind::OtherOpening(OtherOpening {
                element: self.element_of(job, &[K::ReturnGrille, K::Registers]),
                now: self.opening(),
                then: self.opening(),
            }),
            8 => ChangeKind::OpenRegisters(OpenRegisters {
                element: self.element_of(job, &[K::Registers]),
                now: self.count(),
                then: self.count(),
                of: self.count(),
            }),
            9 => ChangeKind::RepairRun(RepairRun {
                element: self.element_of(job, &[K::ReturnDuct, K::SupplyDuct]),
                fraction: self.number(0.0, 1.0),
            }),
            10 => ChangeKind::Seal(Seal {
                element: self.element_of(job, &[K::Leak, K::Bypass]),
                fraction: self.number(0.0, 1.0),
            }),
            11 => ChangeKind::OtherCoilState(OtherCoilState {
                element: self.element_of(job, &[K::Coil]),
                factor: self.number(0.3, 3.0),
            }),
            12 => ChangeKind::PanelOff(PanelOff { area: self.area(400.0) }),
            13 => ChangeKind::OtherCall(OtherCall { call: self.call() }),
            14 => ChangeKind::OtherMachine(Box::new(self.replacement(job))),
            15 => ChangeKind::OtherTap(OtherTap { tap: self.tap(job) }),
            _ => ChangeKind::BelowTable(BelowTable { factor: self.number(0.5, 1.0) }),
        }
    }

    fn replacement(&mut self, job: &Job) -> Replacement {
        let table = self.table();
        let tap = if self.once_in(3) { Some(self.text()) } else { table.taps.first().map(|tap| tap.name.clone()) };
        Replacement {
            tap: self.maybe(2, |_| tap).flatten(),
            leaves: (0..self.below(3)).map(|_| self.element(job)).collect(),
            coil: self.drop_data(),
            filter: self.drop_data(),
            target: self.maybe(2, Self::target),
            table,
        }
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
