//! One target's run: every kept input first, then mutated ones until the time is up; what goes wrong is kept in a file.

use std::any::Any;
use std::collections::HashSet;
use std::fs::{self, File};
use std::hash::{BuildHasher as _, BuildHasherDefault, DefaultHasher};
use std::io::{Seek as _, Write as _};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::mutate::Mutator;

/// Mutated inputs of a target where nobody says how long: a number, so that no run fails by the pace of its machine.
const USUAL_INPUTS: usize = 150;
/// The seed where nobody says, so that a run does not fail by chance.
pub(crate) const USUAL_SEED: u64 = 20_261_129;
/// Inputs longer than this are tried but not mutated further.
const LONGEST_PARENT: usize = 32 * 1024;
/// Most inputs that are mutated further.
const MOST_PARENTS: usize = 4000;
/// Most different findings before a run gives up.
const MOST_FINDINGS: usize = 20;

/// Most letters of a fault that are printed.
const MOST_LETTERS: usize = 1000;

/// What came of an input: its shape, which is new where the reader did something new, or what is wrong.
pub(crate) type Verdict = Result<String, String>;

/// How long and from which seed.
#[derive(Clone, Copy)]
pub(crate) struct Run {
    pub(crate) time: Option<Duration>,
    pub(crate) seed: u64,
}

impl Run {
    /// As the environment says.
    pub(crate) fn of_environment() -> Self {
        let said = |name: &str| std::env::var(name).ok();
        let time = said("TAPCROSS_FUZZ_SECONDS")
            .map(|text| Duration::from_secs_f64(text.parse().expect("TAPCROSS_FUZZ_SECONDS is a number of seconds")));
        let seed = said("TAPCROSS_FUZZ_SEED")
            .map_or(USUAL_SEED, |text| text.parse().expect("TAPCROSS_FUZZ_SEED is a whole number"));
        Self { time, seed }
    }
}

/// Tries every kept input, then mutated ones, and fails with the file of each that went wrong.
pub(crate) fn run(name: &str, kept: Vec<Vec<u8>>, judge: impl Fn(&[u8]) -> Verdict) {
    let mut mutator = Mutator::new(Run::of_environment().seed, &kept);
    run_with(name, kept, |parents| mutator.child(parents), judge);
}

/// The same with inputs that are made in a way of their own.
pub(crate) fn run_with(
    name: &str,
    kept: Vec<Vec<u8>>,
    mut child: impl FnMut(&[Vec<u8>]) -> Vec<u8>,
    judge: impl Fn(&[u8]) -> Verdict,
) {
    let run = Run::of_environment();
    let mut campaign = Campaign::begin(name, run);
    for input in &kept {
        campaign.attempt(input, &judge);
    }
    campaign.parents = kept;
    let began = Instant::now();
    let is_over = |tried: usize| run.time.map_or(tried >= USUAL_INPUTS, |time| began.elapsed() >= time);
    let kept = campaign.tried;
    while !is_over(campaign.tried - kept) && campaign.findings.len() < MOST_FINDINGS {
        let input = child(&campaign.parents);
        if campaign.attempt(&input, &judge) && input.len() <= LONGEST_PARENT && campaign.parents.len() < MOST_PARENTS {
            campaign.parents.push(input);
        }
    }
    campaign.end();
}

/// What a target has tried and found so far.
struct Campaign {
    name: String,
    run: Run,
    folder: PathBuf,
    at_hand: File,
    parents: Vec<Vec<u8>>,
    shapes: HashSet<u64>,
    faults: HashSet<String>,
    findings: Vec<String>,
    tried: usize,
    slowest: (Duration, Vec<u8>),
}

impl Campaign {
    fn begin(name: &str, run: Run) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("fuzz").join(name);
        fs::create_dir_all(&folder).expect("a folder under the target folder can be made");
        let at_hand = at_hand(&folder);
        if at_hand.exists() {
            // The process ended while it was at this input: a stack that was used up, or a hand that stopped it.
            fs::rename(&at_hand, folder.join("ended-at")).expect("a file of an earlier run can be renamed");
            println!("{name}: an earlier run ended at {}", folder.join("ended-at").display());
        }
        Self {
            name: name.to_owned(),
            run,
            at_hand: File::create(&at_hand).expect("a file under the target folder can be made"),
            folder,
            parents: Vec::new(),
            shapes: HashSet::new(),
            faults: HashSet::new(),
            findings: Vec::new(),
            tried: 0,
            slowest: (Duration::ZERO, Vec::new()),
        }
    }

    /// Tries one input; true where the reader did something new.
    fn attempt(&mut self, input: &[u8], judge: &impl Fn(&[u8]) -> Verdict) -> bool {
        self.note_at_hand(input);
        let began = Instant::now();
        let verdict = catch_unwind(AssertUnwindSafe(|| judge(input)));
        let took = began.elapsed();
        self.tried += 1;
        if took > self.slowest.0 {
            self.slowest = (took, input.to_vec());
        }
        match verdict.unwrap_or_else(|payload| Err(format!("panic: {}", said(payload.as_ref())))) {
            Ok(shape) => self.shapes.insert(number_of(shape.as_bytes())),
            Err(fault) => {
                self.keep(input, &fault);
                false
            }
        }
    }

    /// The input is on the disk before it is tried, for a fault that ends the process.
    fn note_at_hand(&mut self, input: &[u8]) {
        let written = self.at_hand.rewind().and_then(|()| self.at_hand.write_all(input));
        written.and_then(|()| self.at_hand.set_len(input.len() as u64)).expect("the input at hand can be noted");
    }

    fn keep(&mut self, input: &[u8], fault: &str) {
        if !self.faults.insert(kind_of(fault)) {
            return;
        }
        let path = self.folder.join(format!("finding-{:016x}", number_of(input)));
        fs::write(&path, input).expect("a finding can be kept");
        let brief: String = fault.chars().take(MOST_LETTERS).collect();
        self.findings.push(format!("{brief}\n    input: {}", path.display()));
    }

    fn end(self) {
        drop(self.at_hand);
        fs::remove_file(at_hand(&self.folder)).expect("the note of the input at hand can be removed");
        let slowest = self.folder.join("slowest");
        fs::write(&slowest, &self.slowest.1).expect("the slowest input can be kept");
        println!(
            "{}: {} inputs of {} shapes from seed {}; the slowest took {:.1} ms: {}",
            self.name,
            self.tried,
            self.shapes.len(),
            self.run.seed,
            self.slowest.0.as_secs_f64() * 1000.0,
            slowest.display()
        );
        if std::env::var_os("TAPCROSS_FUZZ_GROW").is_some() {
            crate::corpus::grow(&self.name, &self.parents);
        }
        assert!(
            self.findings.is_empty(),
            "{}: {} findings from seed {}\n{}",
            self.name,
            self.findings.len(),
            self.run.seed,
            self.findings.join("\n")
        );
    }
}

fn at_hand(folder: &Path) -> PathBuf {
    folder.join("at-hand")
}

/// What a panic said.
fn said(payload: &(dyn Any + Send)) -> String {
    let text = payload.downcast_ref::<String>().cloned();
    text.or_else(|| payload.downcast_ref::<&str>().map(|text| (*text).to_owned())).unwrap_or_default()
}

/// A text without its digits and without what it quotes: the same for faults and sentences of one kind.
pub(crate) fn shape_of(text: &str) -> String {
    let unquoted = text.split('"').step_by(2).collect::<String>();
    unquoted.chars().filter(|letter| !letter.is_ascii_digit()).take(400).collect()
}

/// What a fault says before it quotes anything: once is enough of each kind.
fn kind_of(fault: &str) -> String {
    let general = ["a sentence of ", "a sentence with '"].into_iter().find(|begins| fault.starts_with(begins));
    let own = fault.split(['"', '`']).step_by(2).take(2).collect::<String>();
    let own = general.map_or(own, str::to_owned);
    own.chars().filter(|letter| !letter.is_ascii_digit()).take(90).collect()
}

/// The same number for the same bytes at every run.
pub(crate) fn number_of(bytes: &[u8]) -> u64 {
    BuildHasherDefault::<DefaultHasher>::default().hash_one(bytes)
}
