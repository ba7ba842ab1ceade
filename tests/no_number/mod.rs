//! Whether a report, written as RON, claims a figure that is none.

/// The surroundings of the first figure that is not a number or has no end, as a fault.
pub(crate) fn check(plain: &str) -> Result<(), String> {
    no_number(plain).map_or(Ok(()), |at| Err(format!("the report claims what is no number: {}", near(plain, at))))
}

/// Where RON says that a figure is not a number or has no end; texts between quotes are left out.
fn no_number(plain: &str) -> Option<usize> {
    let mut is_quoted = false;
    let mut before = ' ';
    for (index, letter) in plain.char_indices() {
        match letter {
            '"' if before != '\\' => is_quoted = !is_quoted,
            'N' | 'i' if !is_quoted && !before.is_alphanumeric() && before != '_' => {
                let word: String =
                    plain[index..].chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
                if word == "NaN" || word == "inf" {
                    return Some(index);
                }
            }
            _ => {}
        }
        before = if before == '\\' && letter == '\\' { ' ' } else { letter };
    }
    None
}

/// The surroundings of a figure that is none.
fn near(plain: &str, at: usize) -> String {
    let before: Vec<char> = plain[..at].chars().rev().take(120).collect();
    before.into_iter().rev().chain(plain[at..].chars().take(20)).collect()
}
