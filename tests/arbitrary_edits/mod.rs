//! Edits of every kind, with every number, text and name that a type can hold, from any source of random numbers.
//!
//! [`Wild`] asks a closure for numbers, so that a property test with its own shrinking and a plain seeded loop drive the same generator:
//!
//! ```ignore
//! let mut numbers = arbitrary_edits::seeded(7);
//! let edit = Wild::new(&mut numbers).edit(&job);
//! ```

mod changes;
mod tables;

use tapcross::edit::{Direction, Edit, OptionEdit};
use tapcross::files::{demo, job_file};
use tapcross::model::facts::air_path::chain::{Beside, CAN_BE_ADDED};
use tapcross::model::facts::air_path::{Bypass, ElementId, ElementKind, PortId, Whereabouts};
use tapcross::model::facts::airflow_read::OpinionKind;
use tapcross::model::facts::blower::{Call, ReturnOpenings};
use tapcross::model::facts::change::{ChangeId, Switch};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::design::PathSide;
use tapcross::model::facts::figure_source::SourcePart;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::{CoilState, Phase, ReadAt};
use tapcross::model::facts::target::Target;
use tapcross::units::{Airflow, Capacity, Density, HeatRate, Pressure, TemperatureRise};

pub(crate) use changes::CHANGE_KINDS;

/// Kinds of [`Edit`] that [`Wild::edit_of`] makes.
pub(crate) const KINDS: usize = 62;

/// The numbers of a seed: the same seed, the same numbers (`SplitMix64`).
pub(crate) fn seeded(seed: u64) -> impl FnMut() -> u64 {
    let mut state = seed;
    move || {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }
}

/// Jobs to begin with, each with a name for messages: an empty one, the demos, and those that earlier versions wrote.
pub(crate) fn beginnings() -> Vec<(String, Job)> {
    let mut jobs = vec![
        ("an empty job".to_owned(), Job::default()),
        ("the heat pump".to_owned(), demo::heat_pump()),
        ("the gas furnace".to_owned(), demo::gas_furnace()),
    ];
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/jobs");
    let files = std::fs::read_dir(folder).expect("the folder of old jobs");
    let mut paths: Vec<_> = files.map(|file| file.expect("a file").path()).collect();
    paths.sort();
    for path in paths {
        let text = std::fs::read_to_string(&path).expect("a text");
        jobs.push((path.display().to_string(), job_file::parse(&text).expect("an old job opens")));
    }
    jobs
}

/// Makes wild things out of the numbers of a closure.
pub(crate) struct Wild<'a> {
    pub(crate) next: &'a mut dyn FnMut() -> u64,
    /// True where every third number is tiny, huge, or an end of what is usual.
    pub(crate) far: bool,
}

impl<'a> Wild<'a> {
    /// On a source of numbers.
    pub(crate) fn new(next: &'a mut dyn FnMut() -> u64) -> Self {
        Self { next, far: false }
    }

    /// A number below `end`, which is above zero.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        usize::try_from((self.next)() % end as u64).expect("below a usize")
    }

    /// True once in `times`.
    pub(crate) fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// One of several.
    pub(crate) fn one_of<T: Clone>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())].clone()
    }

    /// Something, or nothing once in `times`.
    pub(crate) fn maybe<T>(&mut self, times: usize, of: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.once_in(times) { None } else { Some(of(self)) }
    }

    /// Mostly a number from `low` to `high`, sometimes an end or just past it, sometimes anything that a double can be.
    pub(crate) fn number(&mut self, low: f64, high: f64) -> f64 {
        let odd = [
            0.0,
            -0.0,
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::MIN_POSITIVE,
            1e-310,
            1e-9,
            -1.0,
            1e9,
            1e300,
            -1e300,
        ];
        if self.far && self.once_in(3) {
            return self.one_of(&[low, high, f64::MIN_POSITIVE, 1e-200, 1e-60, 1e-9, 1e9, 1e60, 1e200, f64::MAX]);
        }
        match self.below(24) {
            0 => self.one_of(&odd),
            1 => f64::from_bits((self.next)()),
            2 => self.one_of(&[low, high]),
            3 => self.one_of(&[low - (high - low) * 0.01, high + (high - low) * 0.01, low / 2.0, high * 2.0]),
            // As a person types it.
            4..12 => ((low + (high - low) * self.share()) * 100.0).round() / 100.0,
            _ => low + (high - low) * self.share(),
        }
    }

    /// From 0 to below 1.
    fn share(&mut self) -> f64 {
        ((self.next)() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Any text: plain words, none, letters of many scripts, what ends a line, a string or a window, and long ones.
    pub(crate) fn text(&mut self) -> String {
        let texts = [
            "",
            " ",
            "Hall furnace",
            "a\nb",
            "a\r\nb",
            "a\rb",
            "\r",
            "a\tb",
            "NUL\0in it",
            "\u{1b}[31m",
            "\u{7f}",
            "\u{85}\u{2028}\u{2029}",
            "\u{feff}bom",
            "\u{202e}from the right",
            "quote \" backslash \\ end",
            "// no comment",
            "r#\"raw\"#",
            "ñandú ½ 空気 🌬",
            "e\u{301}\u{301}\u{301}",
            ")\n)",
            "    (indented",
        ];
        match self.below(12) {
            0 => "x".repeat(self.below(3000)),
            1 => (0..self.below(12)).filter_map(|_| self.letter()).collect(),
            2 => [self.one_of(&texts), self.one_of(&texts)].concat(),
            _ => self.one_of(&texts).to_owned(),
        }
    }

    fn letter(&mut self) -> Option<char> {
        char::from_u32(u32::try_from(self.below(0x11_0000)).ok()?)
    }

    /// An element of the job, the bypass, or a number that nothing has.
    pub(crate) fn element(&mut self, job: &Job) -> ElementId {
        let mut ids: Vec<ElementId> = job.path.all().iter().map(|element| element.id).collect();
        ids.extend(job.path.bypass.as_ref().map(|bypass| bypass.id));
        if ids.is_empty() || self.once_in(12) {
            return ElementId(self.one_of(&[0, 1, 99, u32::MAX]));
        }
        self.one_of(&ids)
    }

    /// Mostly an element of a kind.
    pub(crate) fn element_of(&mut self, job: &Job, kinds: &[ElementKind]) -> ElementId {
        let all = job.path.all().into_iter();
        let of_kind: Vec<ElementId> =
            all.filter(|element| kinds.contains(&element.kind)).map(|element| element.id).collect();
        if of_kind.is_empty() || self.once_in(8) { self.element(job) } else { self.one_of(&of_kind) }
    }

    fn port(&mut self, job: &Job) -> PortId {
        let ids: Vec<PortId> = job.path.ports.iter().map(|port| port.id).collect();
        if ids.is_empty() || self.once_in(12) {
            return PortId(self.one_of(&[0, 1, 2, 77, u32::MAX]));
        }
        self.one_of(&ids)
    }

    fn place(&mut self, job: &Job) -> ReadAt {
        match self.below(6) {
            0 => ReadAt::Total,
            1 | 2 => ReadAt::Across(self.element(job)),
            _ => ReadAt::Port(self.port(job)),
        }
    }

    fn change(&mut self, job: &Job) -> ChangeId {
        if job.changes.is_empty() || self.once_in(12) {
            return ChangeId(self.one_of(&[0, 1, 50, u32::MAX]));
        }
        job.changes[self.below(job.changes.len())].id
    }

    /// A tap that the machine has, or any name.
    pub(crate) fn tap(&mut self, job: &Job) -> String {
        let taps = job.machine.as_ref().map(|table| table.taps.as_slice()).unwrap_or_default();
        if taps.is_empty() || self.once_in(8) { self.text() } else { taps[self.below(taps.len())].name.clone() }
    }

    pub(crate) fn pressure(&mut self, low: f64, high: f64) -> Pressure {
        Pressure::from_in_wc(self.number(low, high))
    }

    pub(crate) fn airflow(&mut self) -> Airflow {
        Airflow::from_cfm(self.number(200.0, 2000.0))
    }

    pub(crate) fn call(&mut self) -> Call {
        self.one_of(&Call::ALL)
    }

    /// Drop data, published in any air, where its points can be; nothing otherwise.
    pub(crate) fn drop_data(&mut self) -> Option<DropData> {
        let density = self.maybe(2, |one| Density::from_lb_ft3(one.number(0.03, 0.10)));
        self.printed_data()?.published_in(density).ok()
    }

    /// The same as a table prints it, in the table's own air.
    pub(crate) fn printed_data(&mut self) -> Option<DropData> {
        let count = 1 + self.below(3);
        let mut points: Vec<(f64, f64)> =
            (0..count).map(|_| (self.number(200.0, 2000.0), self.number(0.0, 0.5))).collect();
        points.sort_by(|one, other| one.0.total_cmp(&other.0));
        let points = points.into_iter().map(|(cfm, drop)| (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop)));
        DropData::new(points.collect(), self.number(1.0, 2.2)).ok()
    }

    pub(crate) fn target(&mut self) -> Target {
        match self.below(3) {
            0 => Target::Airflow(self.airflow()),
            1 => Target::PerTon {
                capacity: Capacity::from_tons(self.number(0.5, 25.0)),
                per_ton: Airflow::from_cfm(self.number(100.0, 1000.0)),
            },
            _ => Target::HeatRise {
                output: HeatRate::from_btuh(self.number(1_000.0, 500_000.0)),
                rise: TemperatureRise::from_f(self.number(5.0, 150.0)),
            },
        }
    }

    fn looks(&mut self) -> Vec<Pressure> {
        let many = if self.once_in(40) { 5000 } else { self.below(4) };
        (0..many).map(|_| self.pressure(-0.8, 0.8)).collect()
    }

    fn grilles(&mut self) -> Vec<Airflow> {
        let many = if self.once_in(40) { 5000 } else { self.below(4) };
        (0..many).map(|_| Airflow::from_cfm(self.number(1.0, 400.0))).collect()
    }

    fn bypass(&mut self, job: &Job) -> Bypass {
        let id = if self.once_in(3) { self.element(job) } else { job.path.next_element() };
        Bypass {
            id,
            leaves_after: self.element_of(job, &[ElementKind::Coil, ElementKind::SupplyDuct, ElementKind::Blower]),
            joins_after: self.element_of(job, &[ElementKind::ReturnGrille, ElementKind::ReturnDuct]),
            flow: self.number(0.0, 0.9),
        }
    }

    /// Any edit on a job.
    pub(crate) fn edit(&mut self, job: &Job) -> Edit {
        let kind = self.below(KINDS);
        self.edit_of(kind, job)
    }

    /// An edit of a kind, by number below [`KINDS`].
    pub(crate) fn edit_of(&mut self, kind: usize, job: &Job) -> Edit {
        match kind {
            0..22 => self.of_job(kind, job),
            22..42 => self.of_path(kind, job),
            42..51 if self.once_in(7) => Edit::Option(self.of_options(job)),
            42..51 => self.of_changes(kind, job),
            _ => self.of_visit(kind, job),
        }
    }

    fn of_visit(&mut self, kind: usize, job: &Job) -> Edit {
        match kind {
            51 => Edit::AddSet,
            52 => Edit::JudgeSet(self.below(job.sets.len() + 1)),
            53 => Edit::RemoveSet(self.below(job.sets.len() + 1)),
            54 => Edit::NameSet(self.text()),
            55 => Edit::SetTime(self.text()),
            56 => Edit::SetNote(self.text()),
            57 if self.once_in(2) => Edit::Otherwise(self.once_in(2)),
            57 => Edit::AfterRepair(self.once_in(2)),
            58 => Edit::Phase(self.one_of(&[Phase::Single, Phase::Three])),
            59 => Edit::Anchor(self.maybe(4, |wild| wild.one_of(&OpinionKind::ALL))),
            60 => Edit::ScaleTable(self.once_in(2)),
            _ => Edit::Grilles(self.one_of(&[PathSide::Supply, PathSide::Return]), self.grilles()),
        }
    }

    fn of_job(&mut self, kind: usize, job: &Job) -> Edit {
        match kind {
            0 => Edit::Title(self.text()),
            1 => Edit::Place(self.text()),
            2 => Edit::Date(self.text()),
            3 => Edit::Notes(self.text()),
            4 => Edit::Machine(Box::new(self.table())),
            5 => Edit::Call(self.call()),
            6 => Edit::Tap(self.maybe(4, |wild| wild.tap(job))),
            7 => Edit::Reading(self.place(job), self.looks()),
            8 => Edit::ConfirmSigns,
            9 => Edit::Coil(self.one_of(&[CoilState::Dry, CoilState::Wet])),
            10 => Edit::PartOut(self.element(job), self.once_in(2)),
            11 => Edit::ReturnOpenings(self.openings()),
            12 if self.once_in(2) => Edit::Target(self.maybe(6, Self::target)),
            12 => Edit::TargetOf(self.call(), self.maybe(6, Self::target)),
            _ => self.of_numbers(),
        }
    }

    fn of_numbers(&mut self) -> Edit {
        let number = self.one_of(&JobNumber::ALL);
        let range = number.number().range;
        let (low, high) = (range.low().unwrap_or(-1.0), range.high().unwrap_or(10.0));
        Edit::Number(number, self.maybe(6, |wild| wild.number(low, high)))
    }

    fn openings(&mut self) -> ReturnOpenings {
        use ReturnOpenings as R;
        self.one_of(&[R::Unstated, R::Bottom, R::OneSide, R::TwoSides])
    }

    fn of_path(&mut self, kind: usize, job: &Job) -> Edit {
        match kind {
            22 => Edit::ElementDrop(self.element(job), self.drop_data()),
            23 => Edit::MovePort(self.port(job), self.element(job)),
            24 | 25 => Edit::AddPort(self.element(job)),
            26 => Edit::RemovePort(self.port(job)),
            27 | 28 => Edit::AddElement(self.added(), self.beside(job)),
            29 => Edit::RemoveElement(self.element(job)),
            30 => Edit::ShiftElement(self.element(job), self.one_of(&[Direction::Earlier, Direction::Later])),
            31 => Edit::RenameElement(self.element(job), self.text()),
            32 => Edit::Whereabouts(self.element(job), self.one_of(&[Whereabouts::Cabinet, Whereabouts::House])),
            33 | 34 => Edit::LayBeside(self.element(job), self.element(job)),
            35 => Edit::AddWay(self.element_of(job, &[ElementKind::SideBySide])),
            36 => Edit::RemoveWay(self.element_of(job, &[ElementKind::SideBySide]), self.way()),
            37 => {
                let group = self.element_of(job, &[ElementKind::SideBySide]);
                Edit::WayFlow(group, self.way(), self.maybe(4, |wild| wild.number(0.0, 1.0)))
            }
            38 => Edit::AddLeak(self.element(job), self.number(0.0, 1.0)),
            39 => Edit::Bypass(self.maybe(4, |wild| wild.bypass(job))),
            40 => Edit::Share(self.element(job), self.maybe(4, |wild| wild.number(0.0, 1.0))),
            _ => Edit::Exponent(self.element(job), self.maybe(4, |wild| wild.number(1.0, 2.2))),
        }
    }

    fn way(&mut self) -> usize {
        if self.once_in(20) { usize::MAX } else { self.below(4) }
    }

    fn added(&mut self) -> ElementKind {
        use ElementKind as K;
        let never = [K::Blower, K::HeatExchanger, K::Leak, K::Bypass, K::SideBySide];
        if self.once_in(6) { self.one_of(&never) } else { self.one_of(&CAN_BE_ADDED) }
    }

    fn beside(&mut self, job: &Job) -> Beside {
        let id = self.element(job);
        if self.once_in(2) { Beside::Before(id) } else { Beside::After(id) }
    }

    fn of_options(&mut self, job: &Job) -> OptionEdit {
        let index = self.below(job.options.count() + 1);
        match self.below(6) {
            0 => OptionEdit::Copy,
            1 => OptionEdit::Show(index),
            2 => OptionEdit::Remove(index),
            3 => OptionEdit::Name(self.text()),
            4 => OptionEdit::Reason(self.text()),
            _ => {
                let sets = 0..self.below(3);
                OptionEdit::Take(sets.map(|_| vec![self.change(job), self.change(job)]).collect())
            }
        }
    }

    fn of_changes(&mut self, kind: usize, job: &Job) -> Edit {
        match kind {
            42 | 43 => Edit::AddChange(self.change_kind(job)),
            44 => Edit::ReplaceChange(self.change(job), self.change_kind(job)),
            45 => Edit::SwitchChange(self.change(job), self.one_of(&[Switch::On, Switch::Off])),
            46 => Edit::MoveChange(self.change(job), self.one_of(&[-1, 1, 0, 7, isize::MIN, isize::MAX])),
            47 => Edit::DuplicateChange(self.change(job)),
            48 => Edit::RemoveChange(self.change(job)),
            49 => match self.below(6) {
                0 => Edit::ChangeLabour(self.change(job), self.maybe(4, |wild| wild.number(0.0, 5000.0))),
                1 => Edit::Currency(self.text()),
                2 => Edit::ValidUntil(self.text()),
                3 => Edit::Source(
                    self.one_of(&[JobNumber::AcceptBand, JobNumber::LostAir, JobNumber::HoodFraction]),
                    self.one_of(&SourcePart::ALL),
                    self.text(),
                ),
                _ => Edit::ChangePrice(self.change(job), self.maybe(4, |wild| wild.number(0.0, 5000.0))),
            },
            _ => Edit::ChangeNote(self.change(job), self.text()),
        }
    }
}
