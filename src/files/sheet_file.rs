//! Files with blower tables for spreadsheets: text, whatever its letters are written as; and what is none is said in words.

use std::path::Path;

use anyhow::{Result, anyhow, bail};

use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::files::{blower_file, head};
use crate::model::facts::blower::BlowerTable;

/// Largest sheet that is read, in bytes: many times what two hundred tables take.
const LARGEST: u64 = 4 * MEGABYTE;

/// What a file of blower tables holds.
#[derive(Clone, Debug, PartialEq)]
pub enum TableFile {
    /// A table as this program writes it.
    Own(Box<BlowerTable>),
    /// The text of a sheet, and how its letters were read where that is not the usual way.
    Sheet(String, Option<&'static str>),
}

/// Endings of sheets, and of what people take for one.
const ENDINGS: [&str; 8] = ["csv", "tsv", "tab", "txt", "xls", "xlsx", "ods", "numbers"];

/// True for a file that is meant as blower tables, not as a job: by its ending, or by what it begins with.
pub fn is_meant(path: &Path) -> bool {
    let ends = |ending: &&str| path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    ENDINGS.iter().any(ends) || begins_as_table(path)
}

fn begins_as_table(path: &Path) -> bool {
    begins_as(path, head::BLOWER)
}

/// True for a file that begins as a job does, whatever it is called: no table takes its place.
pub fn is_job(path: &Path) -> bool {
    begins_as(path, head::JOB)
}

fn begins_as(path: &Path, name: &str) -> bool {
    let start = plain_file::read_start(path, 1000).unwrap_or_default();
    head::of(&String::from_utf8_lossy(&start)).name == name
}

/// Reads a file of blower tables.
///
/// # Errors
/// One sentence with the path where the file cannot be read, is too large or holds no text.
pub fn read(path: &Path) -> Result<TableFile> {
    let refused = |why: &dyn std::fmt::Display| anyhow!("{why}: {}", path.display());
    let bytes = plain_file::read_start(path, LARGEST + 1).map_err(|unread| refused(&unread))?;
    if bytes.len() as u64 > LARGEST {
        return Err(refused(&Unread::TooLarge(LARGEST)));
    }
    if let Some(kind) = not_text(&bytes) {
        bail!("{kind}: {}", path.display());
    }
    let (text, letters) = decoded(bytes).ok_or_else(|| refused(&Unread::NotText))?;
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        bail!("The file is empty: {}", path.display());
    }
    if head::of(&text).name == head::JOB {
        bail!("This is a job, not a blower table: {}", path.display());
    }
    if head::of(&text).name == head::BLOWER {
        let table = blower_file::parse(&text).map_err(|error| refused(&error))?;
        return Ok(TableFile::Own(Box::new(table)));
    }
    Ok(TableFile::Sheet(text, letters))
}

/// What a file is by its first letters, where that is no text.
fn not_text(bytes: &[u8]) -> Option<&'static str> {
    const SPREADSHEET: &str = "This is a spreadsheet's own file, not text; in the spreadsheet save it as CSV, or copy the table and paste it into the table editor (Ctrl+T)";
    const HEADS: [(&[u8], &str); 3] = [
        (b"PK\x03\x04", SPREADSHEET),
        (b"\xD0\xCF\x11\xE0", SPREADSHEET),
        (b"%PDF", "This is a PDF, not text; copy the table out of it and paste it into the table editor (Ctrl+T)"),
    ];
    HEADS.iter().find(|(head, _)| bytes.starts_with(head)).map(|(_, kind)| *kind)
}

/// The text of a file: UTF-8, UTF-16 in either order, else Windows-1252; nothing where it holds what no text does.
fn decoded(bytes: Vec<u8>) -> Option<(String, Option<&'static str>)> {
    if let Some(units) = sixteen_bits(&bytes) {
        let text = String::from_utf16(&units).ok().filter(|text| !text.contains('\0'))?;
        return Some((text, None));
    }
    let has_controls = |byte: &u8| *byte < b' ' && !matches!(byte, b'\t' | b'\n' | b'\r' | 0x0C);
    if bytes.iter().any(has_controls) {
        return None;
    }
    match String::from_utf8(bytes) {
        Ok(text) => Some((text, None)),
        Err(other) => {
            let letters = other.as_bytes().iter().map(|byte| western(*byte)).collect();
            Some((letters, Some("Its letters are no UTF-8 and were read as Western European (Windows-1252)")))
        }
    }
}

/// The letters of a text in UTF-16: by its mark, or where every second byte of what it begins with is nought.
fn sixteen_bits(bytes: &[u8]) -> Option<Vec<u16>> {
    let of = |bytes: &[u8], join: fn([u8; 2]) -> u16| bytes.as_chunks().0.iter().map(|pair| join(*pair)).collect();
    let noughts = |first: usize| bytes.iter().take(100).skip(first).step_by(2).filter(|byte| **byte == 0).count();
    let most = bytes.len().min(100) / 2;
    match bytes {
        [0xFF, 0xFE, rest @ ..] => Some(of(rest, u16::from_le_bytes)),
        [0xFE, 0xFF, rest @ ..] => Some(of(rest, u16::from_be_bytes)),
        _ if most > 1 && noughts(1) == most && noughts(0) == 0 => Some(of(bytes, u16::from_le_bytes)),
        _ if most > 1 && noughts(0) == most && noughts(1) == 0 => Some(of(bytes, u16::from_be_bytes)),
        _ => None,
    }
}

/// A letter of Windows-1252 (the table that the Encoding Standard gives, whatwg.org).
fn western(byte: u8) -> char {
    const BETWEEN: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8D}', 'Ž', '\u{8F}', '\u{90}', '‘',
        '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9D}', 'ž', 'Ÿ',
    ];
    byte.checked_sub(0x80).and_then(|place| BETWEEN.get(usize::from(place))).copied().unwrap_or(char::from(byte))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(bytes: &[u8]) -> Result<TableFile> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("table.csv");
        std::fs::write(&path, bytes).unwrap();
        read(&path)
    }

    fn text(bytes: &[u8]) -> String {
        match sheet(bytes).unwrap() {
            TableFile::Sheet(text, _) => text,
            TableFile::Own(table) => panic!("{table:?}"),
        }
    }

    #[test]
    fn the_usual_ways_of_writing_letters_are_read() {
        let wanted = "ESP;Low (m³/h)\n0,1;1800\n";
        let sixteen = |join: fn(u16) -> [u8; 2]| wanted.encode_utf16().flat_map(join).collect::<Vec<u8>>();
        let (little, big) = (sixteen(u16::to_le_bytes), sixteen(u16::to_be_bytes));
        let western: Vec<u8> = wanted.chars().map(|letter| u8::try_from(u32::from(letter)).unwrap()).collect();
        let rows: [&[u8]; 6] = [
            wanted.as_bytes(),
            &[b"\xFF\xFE", &little[..]].concat(),
            &[b"\xFE\xFF", &big[..]].concat(),
            &little,
            &big,
            &western,
        ];
        for bytes in rows {
            assert_eq!(text(bytes), wanted, "{bytes:?}");
        }
        assert_eq!(text(b"\x80 \x93x\x94"), "€ “x”");
        assert!(matches!(sheet(&western).unwrap(), TableFile::Sheet(_, Some(_))));
    }

    #[test]
    fn what_is_no_text_is_said_in_words() {
        let rows: [(&[u8], &str); 8] = [
            (b"", "The file is empty"),
            (b"\xEF\xBB\xBF \r\n", "The file is empty"),
            (b"PK\x03\x04rest", "This is a spreadsheet's own file"),
            (b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", "This is a spreadsheet's own file"),
            (b"%PDF-1.7", "This is a PDF"),
            (b"0.1,\x001000", "The file is not text"),
            (b"\xFF\xFE\x00\xD8", "The file is not text"),
            (&vec![b'1'; 4 * 1024 * 1024 + 1], "The file is too large: it has more than 4 MB"),
        ];
        for (bytes, wanted) in rows {
            let said = sheet(bytes).unwrap_err().to_string();
            assert!(said.starts_with(wanted) && said.ends_with("table.csv"), "{said}");
        }
    }

    #[test]
    fn a_table_of_the_programs_own_is_known_whatever_it_is_called() {
        let table = include_str!("../../blowers/gf-80t.ron");
        assert!(matches!(sheet(table.as_bytes()).unwrap(), TableFile::Own(table) if table.name.starts_with("GF-80T")));
        let folder = tempfile::tempdir().unwrap();
        for (name, text, expected) in
            [("a.ron", table, true), ("b.ron", "(tapcross_job: 1)", false), ("c.CSV", "", true), ("d", "", false)]
        {
            let path = folder.path().join(name);
            std::fs::write(&path, text).unwrap();
            assert_eq!(is_meant(&path), expected, "{name}");
        }
    }
}
