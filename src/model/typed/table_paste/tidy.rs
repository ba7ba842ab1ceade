//! What was pasted in one form: plain points, no thousands, empty places.

use crate::model::typed::table_draft::{PressureUnit, is_no_value};
use crate::model::typed::table_paste::Pasted;
use crate::model::typed::table_paste::numbers::{joined, small_value};
use crate::units::text::{self, Comma};

/// Brings every number to a plain point and no thousands, and every sign for no value to an empty cell.
pub(super) fn tidy(pasted: &mut Pasted) {
    let decimal_comma = pasted.esps.iter().any(|esp| esp.contains(','));
    for esp in &mut pasted.esps {
        *esp = plain(esp, Comma::Decimal);
    }
    for column in &mut pasted.columns {
        for cell in &mut column.cells {
            *cell = tidy_cell(cell, decimal_comma);
        }
    }
    guess_pascals(pasted);
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
    let text = cell.trim().trim_matches('"').trim();
    if is_no_value(text) {
        return String::new();
    }
    let groups: Vec<&str> = text.split('.').collect();
    let point_groups = groups.len() > 1
        && groups.iter().all(|group| !group.is_empty() && group.chars().all(|letter| letter.is_ascii_digit()))
        && groups[0].len() <= 3
        && groups[1..].iter().all(|group| group.len() == 3);
    if point_groups && (decimal_comma || groups.len() > 2) {
        return groups.concat();
    }
    plain(text, Comma::Thousands)
}

/// A bare number with a plain point; any other text as it is.
fn plain(text: &str, comma: Comma) -> String {
    let joined = joined(text);
    match text::number(&joined, comma) {
        Ok(number) if number.unit.is_empty() => {
            let keeps_its_form = joined.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
            if keeps_its_form {
                joined
            } else if comma == Comma::Decimal {
                joined.replace(',', ".").replace(['−', '–', '—'], "-")
            } else {
                number.value.to_string()
            }
        }
        _ => text.trim().trim_matches('"').trim().to_owned(),
    }
}
