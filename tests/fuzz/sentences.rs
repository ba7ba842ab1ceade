//! What every sentence for a person must be, whatever it is about.

/// Words of programmers that a person must never read, unless the person's own text has them.
const PROGRAMMERS_WORDS: &[&str] = &[
    "Dto",
    "serde",
    "recursion_limit",
    "recursion limit",
    "struct",
    "tuple",
    " enum ",
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
    let ours = unquoted(sentence);
    let strange = PROGRAMMERS_WORDS.iter().find(|word| ours.contains(**word) && !is_of(about, word));
    strange.map_or(Ok(()), |word| Err(format!("a sentence with {word:?} in it: {sentence}")))
}

/// Our own words of a sentence: what it quotes is a person's.
fn unquoted(sentence: &str) -> String {
    sentence.split('"').step_by(2).collect()
}

/// Whether a person's text has a word, as it was typed or as a unit is read: in small letters, without spaces and dots.
fn is_of(about: &str, word: &str) -> bool {
    let as_unit = || about.split(|letter: char| letter.is_whitespace() || letter == '.').collect::<String>();
    about.contains(word) || as_unit().to_lowercase().contains(word)
}

#[test]
fn a_word_that_a_person_typed_is_not_taken_for_ours() {
    let quoted = "\"°f64kbtu\" is no unit of this field; it takes in. w.c. or Pa";
    assert_eq!(check(quoted, "3 °F 64 kBtu"), Ok(()));
    let with_a_quote_of_its_own = "\"\"f64\" is no unit of this field; it takes in. w.c. or Pa";
    assert_eq!(check(with_a_quote_of_its_own, "3 \"F.64"), Ok(()));
    assert_eq!(check("The path has no element f64", "f64"), Ok(()));
}

#[test]
fn a_programmers_word_of_ours_is_found_beside_what_is_quoted() {
    let told = check("\"abc\" is no f64; it takes \"0.3\"", "abc");
    assert_eq!(told, Err("a sentence with \"f64\" in it: \"abc\" is no f64; it takes \"0.3\"".to_owned()));
}
