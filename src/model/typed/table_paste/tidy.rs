//! What was pasted in one form: plain points, no thousands, empty places.

use crate::model::typed::table_draft::{PressureUnit, is_no_value};
use crate::model::typed::table_paste::Pasted;
use crate::model::typed::table_paste::numbers::{have_decimal_comma, is_bare, joined, small_value, unquoted};
use crate::model::typed::table_paste::units::PrintedPressure;
use crate::units::text::{self, Comma};

/// Brings every number to a plain point and no thousands, and every sign for no value to an empty cell.
pub(super) fn tidy(pasted: &mut Pasted, said: Option<bool>, unit: Option<PrintedPressure>) {
    let decimal_comma = said.unwrap_or_else(|| has_decimal_comma(pasted));
    // A comma in a static pressure is a decimal one unless somebody says otherwise.
    for esp in &mut pasted.esps {
        *esp = static_text(esp, said != Some(false), unit);
    }
    cells(pasted, decimal_comma);
}

/// A static pressure in one form, with its unit where that is not a table's own.
pub(in crate::model::typed) fn static_text(esp: &str, decimal_comma: bool, unit: Option<PrintedPressure>) -> String {
    let mut text = plain(esp, if decimal_comma { Comma::Decimal } else { Comma::Thousands });
    if is_bare(&text) {
        text.push_str(unit.map_or("", PrintedPressure::behind));
    }
    text
}

/// The same for every cell of the columns; static pressures that no table has in inches are taken as pascals.
pub(in crate::model::typed) fn cells(pasted: &mut Pasted, decimal_comma: bool) {
    for column in &mut pasted.columns {
        for cell in &mut column.cells {
            *cell = tidy_cell(cell, decimal_comma);
        }
    }
    guess_pascals(pasted);
}

/// True where the text writes a decimal comma.
fn has_decimal_comma(pasted: &Pasted) -> bool {
    let cells = || pasted.columns.iter().flat_map(|column| &column.cells);
    pasted.esps.iter().any(|esp| esp.contains(',')) || have_decimal_comma(cells().map(String::as_str))
}

/// Static pressures without a unit that no table has in inches.
fn guess_pascals(pasted: &mut Pasted) {
    let most = pasted.esps.iter().filter_map(|esp| small_value(esp)).fold(0.0, f64::max);
    if pasted.pressure_unit.is_none() && most >= 30.0 {
        pasted.pressure_unit = Some(PressureUnit::Pascals);
        pasted.remarks.push(format!("Static pressures up to {most} were taken as Pa"));
    }
}

fn tidy_cell(cell: &str, decimal_comma: bool) -> String {
    let text = unquoted(cell);
    if is_no_value(text) {
        return String::new();
    }
    let points = text.matches('.').count();
    if is_in_groups(text) && points > 0 && (decimal_comma || points > 1) {
        return text.replace('.', "");
    }
    if decimal_comma && let Some((whole, behind)) = text.split_once(',').filter(|(whole, _)| is_in_groups(whole)) {
        return plain(&format!("{},{behind}", whole.replace('.', "")), Comma::Decimal);
    }
    plain(text, if decimal_comma { Comma::Decimal } else { Comma::Thousands })
}

/// True for digits with a point before every three.
fn is_in_groups(whole: &str) -> bool {
    let is_digits = |group: &str| !group.is_empty() && group.chars().all(|letter| letter.is_ascii_digit());
    let mut groups = whole.split('.');
    groups.next().is_some_and(|first| is_digits(first) && first.len() <= 3)
        && groups.all(|group| is_digits(group) && group.len() == 3)
}

/// A bare number with a plain point; any other text as it is.
fn plain(text: &str, comma: Comma) -> String {
    let joined = joined(text);
    match text::number(&joined, comma) {
        Ok(number) if number.unit.is_empty() => {
            let keeps_its_form = joined.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
            if keeps_its_form {
                joined
            } else if comma == Comma::Decimal && joined.matches(',').count() == 1 && !joined.contains('.') {
                joined.replace(',', ".").replace(['−', '–', '—'], "-")
            } else {
                number.value.to_string()
            }
        }
        _ => unquoted(text).to_owned(),
    }
}
