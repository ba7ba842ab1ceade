//! What every sentence for a person must be, whatever it is about.

/// Words of programmers that a person must never read, unless the person's own text has them.
const PROGRAMMERS_WORDS: &[&str] = &[
    "Dto",
    "serde",
    "recursion_limit",
    "recursion limit",
    "struct",
    "tuple",
    "enum",
    "variant",
    "identifier",
    "Option",
    "Some(",
    "deserial",
    "parse",
    "utf8",
    "UTF-8",
    "EOF",
    "panic",
    "unwrap",
    "NaN",
    "f64",
    "f32",
    "u32",
    "u64",
    "u16",
    "i64",
    "usize",
    "newtype",
    "RON",
    "Json",
    "JSON",
    "`",
];

/// Longest sentence; one that quotes a value says the beginning of a long one.
const LONGEST: usize = 1500;

/// What is wrong with a sentence about a text, if anything.
pub(crate) fn check(sentence: &str, about: &str) -> Result<(), String> {
    let count = sentence.chars().count();
    if count == 0 || count > LONGEST {
        let begins: String = sentence.chars().take(200).collect();
        return Err(format!("a sentence of {count} letters: {begins}"));
    }
    if let Some(letter) = sentence.chars().find(|letter| letter.is_control()) {
        return Err(format!("a sentence with {letter:?} in it: {}", sentence.escape_debug()));
    }
    let strange = PROGRAMMERS_WORDS.iter().find(|word| sentence.contains(**word) && !about.contains(**word));
    strange.map_or(Ok(()), |word| Err(format!("a sentence with {word:?} in it: {sentence}")))
}
