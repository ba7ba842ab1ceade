//! Titles over the blocks of a sheet: the machine's name, and what stands behind it of units and quantities.

use crate::model::facts::blower::EquipmentKind;
use crate::model::typed::table_draft::Block;
use crate::model::typed::table_paste::numbers;
use crate::model::typed::table_paste::units::Named;

/// A title in its parts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Title {
    /// The machine's name; empty where the title has none.
    pub(super) name: String,
    /// The units that stand behind it; empty where none does.
    pub(super) units: String,
    /// What the block gives, where a unit says so.
    pub(super) block: Option<Block>,
}

/// Words that say of what the units are, which no name ends with.
const QUANTITIES: [&str; 18] = [
    "airflow", "airflows", "flow", "volume", "air", "watts", "power", "rpm", "static", "pressure", "external", "esp",
    "at", "by", "against", "vs", "vs.", "in",
];

impl Title {
    /// "Model A36 airflow (cfm)" names "Model A36", whose airflow is in cfm; a title without a unit is a name as it stands.
    pub(super) fn of(text: &str) -> Self {
        let (mut name, mut units) = (text.trim(), Vec::new());
        while let Some((before, unit)) = unit_behind(name) {
            units.push(unit);
            name = without_quantity(before);
        }
        if units.is_empty() {
            return Self { name: name.to_owned(), ..Self::default() };
        }
        Self { name: name.to_owned(), units: units.join(" "), block: numbers::block_of(&units.join(" ")) }
    }
}

/// What stands before a unit in brackets, or behind a comma or a dash, at a text's end; and the unit.
fn unit_behind(text: &str) -> Option<(&str, &str)> {
    let inner = |open: char, close: char| text.strip_suffix(close)?.rsplit_once(open);
    let behind = [", ", " - ", " – ", " in "].into_iter().filter_map(|mark| text.rsplit_once(mark));
    let all = [inner('(', ')'), inner('[', ']')].into_iter().flatten().chain(behind);
    all.into_iter().find(|(_, unit)| is_unit(unit)).map(|(before, unit)| (before, unit.trim()))
}

fn is_unit(text: &str) -> bool {
    let named = Named::of(&[vec![text.to_owned()]], &[]);
    let is_named = !named.pressures.is_empty() || !named.airflows.is_empty();
    numbers::is_unit(text) && (is_named || ["w", "watts", "rpm"].contains(&text.trim().to_lowercase().as_str()))
}

/// A name without what says of what its units are.
fn without_quantity(text: &str) -> &str {
    let is_between = |letter: char| letter.is_whitespace() || ",-–:".contains(letter);
    let mut kept = text.trim_end_matches(is_between);
    let is_quantity = |word: &&str| QUANTITIES.contains(&word.to_lowercase().as_str());
    while let Some(word) = kept.split_whitespace().next_back().filter(is_quantity) {
        kept = kept[..kept.len() - word.len()].trim_end_matches(is_between);
    }
    kept
}

/// The kind of machine that titles name, where all that name one name the same: a guess that somebody has to confirm.
pub(super) fn kind_of<'a>(titles: impl Iterator<Item = &'a str>) -> Option<EquipmentKind> {
    const WORDS: [(&str, EquipmentKind); 4] = [
        ("furnace", EquipmentKind::Furnace),
        ("air handler", EquipmentKind::DrawThroughAirHandler),
        ("air-handler", EquipmentKind::DrawThroughAirHandler),
        ("fan coil", EquipmentKind::DrawThroughAirHandler),
    ];
    let mut named = titles.filter_map(|title| {
        let small = title.to_lowercase();
        WORDS.iter().find(|(word, _)| small.contains(word)).map(|(_, kind)| *kind)
    });
    let first = named.next()?;
    named.all(|kind| kind == first).then_some(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_is_a_name_with_its_units_taken_off() {
        let rows = [
            ("Model A36 airflow (cfm)", "Model A36", "cfm", Some(Block::Airflow)),
            ("Furnace 80 [L/s]", "Furnace 80", "L/s", Some(Block::Airflow)),
            ("A36, air volume in m³/h", "A36", "m³/h", Some(Block::Airflow)),
            ("A36 - CFM", "A36", "CFM", Some(Block::Airflow)),
            ("A36 airflow (cfm) at external static (in. w.c.)", "A36", "in. w.c. cfm", Some(Block::Airflow)),
            ("A36 power (W)", "A36", "W", Some(Block::Watts)),
            ("A36 static pressure (Pa)", "A36", "Pa", None),
            ("Airflow (cfm)", "", "cfm", Some(Block::Airflow)),
            // No unit, or none that is one.
            ("Model A36 airflow", "Model A36 airflow", "", None),
            ("A36 (left hand)", "A36 (left hand)", "", None),
            ("Furnace, upflow", "Furnace, upflow", "", None),
            ("Made in Elm", "Made in Elm", "", None),
        ];
        for (text, name, units, block) in rows {
            let expected = Title { name: name.to_owned(), units: units.to_owned(), block };
            assert_eq!(Title::of(text), expected, "{text}");
        }
    }

    #[test]
    fn titles_name_a_kind_where_all_that_do_name_the_same() {
        let kind = |titles: &[&str]| kind_of(titles.iter().copied());
        assert_eq!(kind(&["Furnace F-40", "F-50"]), Some(EquipmentKind::Furnace));
        assert_eq!(kind(&["AIR HANDLER A36"]), Some(EquipmentKind::DrawThroughAirHandler));
        assert_eq!(kind(&["Furnace F-40", "Fan coil C"]), None);
        assert_eq!(kind(&["A36", ""]), None);
    }
}
