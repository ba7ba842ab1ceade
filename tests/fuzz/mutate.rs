//! Text mutated by its structure: words, numbers, entries of lists, brackets within brackets.
#![expect(clippy::ptr_arg, reason = "mutations are of one type, and most change how many tokens there are")]

use std::ops::Range;

use fastrand::Rng;

/// Most mutations one after another.
const MOST_AT_ONCE: usize = 5;
/// Longest text that is made, in tokens.
const MOST_TOKENS: usize = 60_000;

/// Longest text that is made, in bytes.
const MOST_BYTES: usize = 256 * 1024;

/// Numbers that break readers.
const NASTY_NUMBERS: &[&str] = &[
    "0",
    "-0",
    "0.0",
    "1",
    "-1",
    "2",
    "3",
    "1e308",
    "1e309",
    "-1e309",
    "5e-324",
    "1e-400",
    "NaN",
    "inf",
    "-inf",
    "0x10",
    "0b1",
    "1_000",
    "1e",
    ".5",
    "5.",
    ".",
    "1.2.3",
    "255",
    "256",
    "65536",
    "2147483648",
    "4294967295",
    "4294967296",
    "18446744073709551616",
    "9007199254740993",
    "0.30000000000000004",
    "0.1",
    "0.5",
    "90",
    "100",
    "1,000",
    "1.000,5",
    "٣",
    "½",
    "−1",
    "+1",
    "1'000",
];

/// Letters and pieces that stand nowhere in the kept inputs.
const ODD_PIECES: &[&str] = &[
    "\0",
    "\r",
    "\r\n",
    "\u{feff}",
    "\u{a0}",
    "\u{202f}",
    "\u{202e}",
    "\u{300}",
    "ß",
    "İ",
    "ﬁ",
    "Ω",
    "🜁",
    "½",
    "−",
    "″",
    "°",
    "\"",
    "'",
    "\\",
    "\\u{0}",
    "\\u{d800}",
    "\\x00",
    "\\n",
    "r#\"",
    "\"#",
    "/*",
    "*/",
    "//",
    "#![enable(implicit_some)]",
    "Some(",
    "None",
    "()",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    ",",
    ":",
    ";",
    "\t",
    "\n",
    " ",
    "|",
    "x",
    "-",
    "\u{7f}",
    "\u{1b}[31m",
    "\u{fffd}",
    "\u{10ffff}",
];

/// Which mutation, as often as it stands here.
const MUTATIONS: &[fn(&mut Vec<String>, &mut Mutator)] = &[
    nudge_number,
    nudge_number,
    nudge_number,
    nudge_number,
    nasty_number,
    nasty_number,
    other_word,
    other_word,
    other_word,
    swap_tokens,
    cut_tokens,
    double_tokens,
    splice_tokens,
    splice_tokens,
    odd_piece,
    odd_piece,
    cut_end,
    take_entry_out,
    take_entry_out,
    double_entry,
    double_entry,
    move_entry,
    move_entry,
    entry_from_elsewhere,
    entry_from_elsewhere,
    nest,
    nest,
    line_ends,
    long_token,
    cut_letters,
];

/// Makes inputs out of others.
pub(crate) struct Mutator {
    rng: Rng,
    words: Vec<String>,
    other: Vec<String>,
}

impl Mutator {
    /// A mutator whose words are those of the kept inputs.
    pub(crate) fn new(seed: u64, kept: &[Vec<u8>]) -> Self {
        let mut words: Vec<String> = kept.iter().flat_map(|input| tokens(&String::from_utf8_lossy(input))).collect();
        words.retain(|word| word.starts_with(char::is_alphabetic));
        words.sort();
        words.dedup();
        words.push("x".to_owned());
        Self { rng: Rng::with_seed(seed), words, other: Vec::new() }
    }

    /// An input made of one that is there, and mostly of a new one rather than of an old one.
    pub(crate) fn child(&mut self, parents: &[Vec<u8>]) -> Vec<u8> {
        let newest = if self.rng.bool() { parents.len() - parents.len() / 4 - 1 } else { 0 };
        let parent = &parents[self.rng.usize(newest..parents.len())];
        let other = &parents[self.rng.usize(..parents.len())];
        self.other = tokens(&String::from_utf8_lossy(other));
        let mut text = tokens(&String::from_utf8_lossy(parent));
        for _ in 0..=self.rng.usize(..MOST_AT_ONCE) {
            let mutation = MUTATIONS[self.rng.usize(..MUTATIONS.len())];
            mutation(&mut text, self);
            text.truncate(MOST_TOKENS);
        }
        let mut whole = text.concat();
        whole.truncate(whole.floor_char_boundary(MOST_BYTES));
        let mut bytes = whole.into_bytes();
        if self.rng.u8(..) == 0 && !bytes.is_empty() {
            let at = self.rng.usize(..bytes.len());
            bytes[at] = self.rng.u8(..);
        }
        bytes
    }

    /// One of some.
    fn one<'a>(&mut self, of: &'a [&'a str]) -> &'a str {
        of[self.rng.usize(..of.len())]
    }

    /// A place in a text, its end included.
    fn place(&mut self, text: &[String]) -> usize {
        self.rng.usize(..=text.len())
    }

    /// A stretch of a text, mostly a short one.
    fn stretch(&mut self, text: &[String]) -> Range<usize> {
        let from = self.place(text);
        let most = if self.rng.u8(..4) == 0 { text.len() - from } else { (text.len() - from).min(12) };
        from..from + self.rng.usize(..=most)
    }

    /// The place of a token of a kind.
    fn find(&mut self, text: &[String], is_right: impl Fn(&str) -> bool) -> Option<usize> {
        let found: Vec<usize> = (0..text.len()).filter(|index| is_right(&text[*index])).collect();
        (!found.is_empty()).then(|| found[self.rng.usize(..found.len())])
    }

    /// A pair of brackets with what lies between.
    fn group(&mut self, text: &[String]) -> Option<Range<usize>> {
        let open = self.find(text, |token| matches!(token, "(" | "["))?;
        closing(text, open).map(|close| open..close + 1)
    }

    /// An entry of a list or a field with its value, the comma behind it included.
    fn entry(&mut self, text: &[String]) -> Option<Range<usize>> {
        let group = self.group(text)?;
        let entries = entries(text, &group);
        (!entries.is_empty()).then(|| entries[self.rng.usize(..entries.len())].clone())
    }
}

/// Words, numbers, and every other letter by itself; put together they are the text again.
fn tokens(text: &str) -> Vec<String> {
    let is_of_word = |letter: char| letter.is_alphanumeric() || matches!(letter, '_' | '.');
    let mut found: Vec<String> = Vec::new();
    let mut in_word = false;
    for letter in text.chars() {
        let goes_on = in_word && is_of_word(letter);
        in_word = is_of_word(letter);
        match found.last_mut() {
            Some(word) if goes_on => word.push(letter),
            _ => found.push(letter.to_string()),
        }
    }
    found
}

fn is_number(token: &str) -> bool {
    token.starts_with(|letter: char| letter.is_ascii_digit())
}

/// Where the bracket that opens at a place is closed.
fn closing(text: &[String], open: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (index, token) in text.iter().enumerate().skip(open) {
        match token.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth == 0 {
            return Some(index);
        }
    }
    None
}

/// What stands between the commas of a group, each with its comma.
fn entries(text: &[String], group: &Range<usize>) -> Vec<Range<usize>> {
    let (mut found, mut depth, mut from) = (Vec::new(), 0_i32, group.start + 1);
    for (index, token) in text.iter().enumerate().take(group.end - 1).skip(group.start + 1) {
        match token.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth -= 1,
            "," if depth == 0 => {
                found.push(from..index + 1);
                from = index + 1;
            }
            _ => {}
        }
    }
    if from + 1 < group.end {
        found.push(from..group.end - 1);
    }
    found
}

fn repeated(piece: &[String], times: usize) -> Vec<String> {
    std::iter::repeat_n(piece, times).flatten().cloned().collect()
}

fn nudge_number(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(at) = mutator.find(text, is_number) else { return };
    let Ok(value) = text[at].parse::<f64>() else { return };
    text[at] = match mutator.rng.u8(..6) {
        0 => format!("{}", value + 1.0),
        1 => format!("-{}", text[at]),
        2 => format!("{}", value * 10.0),
        3 => format!("{:?}", value * mutator.rng.f64() * 2.0),
        4 => format!("{:.0}", (value * mutator.rng.f64()).trunc()),
        _ => format!("{}", value / 100.0),
    };
}

fn nasty_number(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(at) = mutator.find(text, is_number) else { return };
    text[at] = match mutator.rng.u8(..8) {
        0 => "9".repeat(mutator.rng.usize(1..400)),
        1 => format!("0.{}1", "0".repeat(mutator.rng.usize(..400))),
        _ => mutator.one(NASTY_NUMBERS).to_owned(),
    };
}

fn other_word(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(at) = mutator.find(text, |token| token.starts_with(char::is_alphabetic)) else { return };
    text[at].clone_from(&mutator.words[mutator.rng.usize(..mutator.words.len())]);
}

fn swap_tokens(text: &mut Vec<String>, mutator: &mut Mutator) {
    if !text.is_empty() {
        let (one, other) = (mutator.rng.usize(..text.len()), mutator.rng.usize(..text.len()));
        text.swap(one, other);
    }
}

fn cut_tokens(text: &mut Vec<String>, mutator: &mut Mutator) {
    let stretch = mutator.stretch(text);
    text.drain(stretch);
}

fn double_tokens(text: &mut Vec<String>, mutator: &mut Mutator) {
    let stretch = mutator.stretch(text);
    let times = if mutator.rng.u8(..8) == 0 { 200 } else { 1 };
    let piece = repeated(&text[stretch.clone()], times);
    text.splice(stretch.end..stretch.end, piece);
}

fn splice_tokens(text: &mut Vec<String>, mutator: &mut Mutator) {
    let other = std::mem::take(&mut mutator.other);
    let (piece, here) = (mutator.stretch(&other), mutator.stretch(text));
    text.splice(here, other[piece].iter().cloned());
    mutator.other = other;
}

fn odd_piece(text: &mut Vec<String>, mutator: &mut Mutator) {
    let at = mutator.place(text);
    let piece = mutator.one(ODD_PIECES).to_owned();
    text.insert(at, piece);
}

fn cut_end(text: &mut Vec<String>, mutator: &mut Mutator) {
    let at = mutator.place(text);
    text.truncate(at);
}

fn cut_letters(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(at) = mutator.find(text, |token| token.len() > 1) else { return };
    let keep = mutator.rng.usize(1..text[at].chars().count().max(2));
    text[at] = text[at].chars().take(keep).collect();
}

fn long_token(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(at) = mutator.find(text, |token| token.len() > 1) else { return };
    text[at] = text[at].repeat(mutator.rng.usize(2..300));
}

fn line_ends(text: &mut Vec<String>, mutator: &mut Mutator) {
    let end = mutator.one(&["\r\n", "\r", "\n\n", "\u{2028}"]);
    text.iter_mut().filter(|token| *token == "\n").for_each(|token| end.clone_into(token));
}

fn take_entry_out(text: &mut Vec<String>, mutator: &mut Mutator) {
    if let Some(entry) = mutator.entry(text) {
        text.drain(entry);
    }
}

fn double_entry(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(entry) = mutator.entry(text) else { return };
    let mut copy = text[entry.clone()].to_vec();
    let times = if mutator.rng.u8(..10) == 0 { 60 } else { 1 };
    if copy.last().is_none_or(|last| last != ",") {
        copy.push(",".to_owned());
    }
    let copies = repeated(&copy, times);
    text.splice(entry.start..entry.start, copies);
}

fn move_entry(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(entry) = mutator.entry(text) else { return };
    let piece: Vec<String> = text.drain(entry).collect();
    let at = mutator.entry(text).map_or(text.len(), |there| there.start);
    text.splice(at..at, piece);
}

fn entry_from_elsewhere(text: &mut Vec<String>, mutator: &mut Mutator) {
    let other = std::mem::take(&mut mutator.other);
    if let (Some(piece), Some(here)) = (mutator.entry(&other), mutator.entry(text)) {
        let replaced = if mutator.rng.bool() { here.clone() } else { here.start..here.start };
        text.splice(replaced, other[piece].iter().cloned());
    }
    mutator.other = other;
}

/// Brackets around brackets, or a group within itself.
fn nest(text: &mut Vec<String>, mutator: &mut Mutator) {
    let Some(group) = mutator.group(text) else { return };
    let whole = text[group.clone()].to_vec();
    if mutator.rng.bool() {
        let deep = [1, 2, 40, 130, 5000][mutator.rng.usize(..5)];
        let (open, close) = (whole[0].clone(), whole[whole.len() - 1].clone());
        text.splice(group.end..group.end, vec![close; deep]);
        text.splice(group.start..group.start, vec![open; deep]);
        return;
    }
    let Some(inner) = mutator.group(&whole).filter(|inner| inner.start > 0) else { return };
    let times = mutator.rng.usize(1..5);
    let mut nested = whole.clone();
    for _ in 0..times {
        let within = std::mem::replace(&mut nested, whole.clone());
        nested.splice(inner.clone(), within);
    }
    text.splice(group, nested);
}
