//! Sentences of what cannot be right, or is odd, in what a person typed.

use crate::model::facts::air_path::{RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::day::NotADay;
use crate::model::facts::job_check::{Oddity, PartsNothing};
use crate::model::facts::numbers::job::PER_TON;
use crate::model::facts::readings::ReadAt;
use crate::model::wording::changes;
use crate::units::show::{self, pressure, pressure_bare, pressure_signed};
use crate::units::{Pressure, Temperature, UnitSystem, text};

impl Oddity {
    /// The same sentence.
    pub fn sentence(&self, units: UnitSystem) -> String {
        sentence(self, units)
    }
}

/// One remark on a job as a sentence without its period.
#[expect(clippy::too_many_lines, reason = "a table of sentences, one arm each")]
pub fn sentence(what: &Oddity, units: UnitSystem) -> String {
    match what {
        Oddity::OutOfRange(refused) => refused.sentence(units),
        Oddity::UnknownTap { word, tap, there } => {
            format!("The table has no {word} \"{}\"; it has {}", text::cut(tap), there.join(", "))
        }
        Oddity::Path(fault) => fault.sentence(units),
        Oddity::SeaLevelPressure { station, altitude, standard } => format!(
            "{} at {} looks like the weather service's sea-level figure; the place itself would read about {}",
            show::barometer(*station, units),
            show::altitude(*altitude, units),
            show::barometer(*standard, units)
        ),
        Oddity::DesignOverPlate { design, plate } => format!(
            "A design static of {} is over the rated maximum of {}; is it meant so?",
            pressure(*design, units),
            pressure_bare(*plate, units)
        ),
        Oddity::OddReading(average) => format!(
            "{} is ten times an everyday reading; is it {}?",
            pressure(*average, units),
            pressure_bare(*average / 10.0, units)
        ),
        Oddity::OutOfOrder { set, earlier, times: [own, other] } => format!(
            "{set} was taken at {own}, before {earlier} at {other}: the visit is told in the order of its list; mend a time, or type these readings again where they belong"
        ),
        Oddity::NoSuchDay(NotADay(text)) => {
            format!("{text} is no day of the calendar; a date is year, month and day, such as 2026-08-05")
        }
        Oddity::RunOut { until, date } => format!(
            "Prices hold until {until}, before the job's own date of {date}: an offer that has run out; is one of the two mistyped?"
        ),
        Oddity::NoOpinion(by, set) => format!(
            "The airflow cannot be taken by the {} of {set}, which gives none: what they need is not read, and the table stands for itself",
            by.name()
        ),
        Oddity::UnusualSign(at, average) => unusual_sign(*at, *average, units),
        Oddity::Rises { by, from, to, may_be_a_widening } => {
            let why = if *may_be_a_widening {
                "a widening duct or the two readings may explain it."
            } else {
                "no widening explains that; is a sign, a hose or the place of a port wrong?"
            };
            format!(
                "Static rises by {} along the flow from {} to {}: {why} What lies about it is taken as one stretch",
                pressure(*by, units),
                port_after(from.as_deref()),
                port_after(to.as_deref())
            )
        }
        Oddity::ContradictedData { parts, by_reading: true, known, read, .. } => format!(
            "{}: {} read across it, but {} was read over the stretch; one of the readings, a hose or the place of a port is wrong",
            parts.join(" and "),
            pressure(*known, units),
            pressure_bare(*read, units)
        ),
        Oddity::ContradictedData { parts, by_reading: false, known, airflow, read } => format!(
            "{}: {} by data at {}, but {} was read over the stretch; the data, the reading or the place of a port is wrong. What was read counts",
            parts.join(" and "),
            pressure(*known, units),
            show::airflow(*airflow, units),
            pressure_bare(*read, units)
        ),
        Oddity::NothingToHoldAgainst { name, read } => format!(
            "{} is read across the {name}, which the table contains, and nothing says what it dropped when the table was made; give its clean drop by data, and what is over that counts",
            pressure(*read, units)
        ),
        Oddity::OtherDegrees { given, meant } => {
            let in_f = show::temperature(Temperature::from_f(meant.f().round()), UnitSystem::InchPound);
            let in_c = show::temperature(Temperature::from_c(meant.c().round()), UnitSystem::SiLitres);
            let (first, second) = if meant > given { (in_c, in_f) } else { (in_f, in_c) };
            format!("Return air of {}; is that {first} ({second})?", show::temperature(*given, units))
        }
        Oddity::TonsDoNotFit { capacity, least, most } => {
            let low = show::airflow_bare(*least, units);
            let (tons, high) = (show::capacity(*capacity, units), show::airflow(*most, units));
            let (from, to) = PER_TON.usual.unwrap_or((PER_TON.first, PER_TON.first));
            let usual = format!("{} to {}", PER_TON.quantity.bare(from, units), PER_TON.quantity.written(to, units));
            format!(
                "{tons} do not fit this machine: its table moves {low} to {high}, and {usual} is usual; is the capacity another one?"
            )
        }
        Oddity::TonsDiffer { outdoor, target } => format!(
            "The outdoor unit is {}, the target is for {}; which is right?",
            show::capacity(*outdoor, units),
            show::capacity(*target, units)
        ),
        Oddity::NoStatic { side, parts } => {
            let parts: Vec<String> = parts.iter().map(|part| format!("the {part}")).collect();
            let drop = if parts.len() == 1 { "drops" } else { "drop" };
            format!(
                "{} {} the blower, though {} {drop} there: is a hose off, the gauge not zeroed, the blower off, or the port in another place?",
                pressure_bare(Pressure::ZERO, units),
                side.word(),
                changes::listed(&parts)
            )
        }
        Oddity::LooksApart { at, low, high } => format!(
            "Readings from {} to {}{} are too far apart; is one of them mistyped?",
            pressure_signed(*low, units),
            pressure_signed(*high, units),
            match at {
                ReadAt::Port(RETURN_PORT) => " before the blower",
                ReadAt::Port(SUPPLY_PORT) => " after the blower",
                ReadAt::Port(_) | ReadAt::Total | ReadAt::Across(_) => "",
            }
        ),
        Oddity::TapOfNoCall { word, tap, mapped, call } => format!(
            "The table runs {word} {mapped} for {}; did {word} {tap} run while this was read?",
            call.name().to_lowercase()
        ),
        Oddity::AirNotDivided(name) => {
            format!(
                "{name}: how is its air divided? Nobody said, so every way is taken to pass as much; give each one's share"
            )
        }
        Oddity::AcrossOut(name, read) => format!(
            "The {name} is said to be out of the path, and {} is read across it; which of them is right?",
            pressure(*read, units)
        ),
        Oddity::AcrossOverPort { name, across, read, side } => format!(
            "{} is read across the {name}, more than the {} that the port {} the blower reads in all; is one of them older, or is a hose wrong?",
            pressure(*across, units),
            pressure_bare(*read, units),
            side.word()
        ),
        Oddity::PartsNothing { after, read, why } => parts_nothing(after, *read, *why, units),
    }
}

fn port_after(name: Option<&str>) -> String {
    name.map_or_else(|| "the rooms".to_owned(), |name| format!("the port after the {name}"))
}

fn unusual_sign(at: ReadAt, average: Pressure, units: UnitSystem) -> String {
    let shown = pressure_signed(average, units);
    let size = pressure_bare(average.abs(), units);
    match at {
        ReadAt::Port(RETURN_PORT) => {
            format!("{shown} before the blower: is the return pressurized, are the hoses swapped, or is it −{size}?")
        }
        ReadAt::Port(_) => format!("{shown} after the blower: are the hoses swapped, or is it +{size}?"),
        ReadAt::Total => format!("A total of {shown}: are the hoses swapped, or is it {size}?"),
        ReadAt::Across(_) => format!(
            "{shown} across a part, which gives the air no pressure: are the hoses swapped, or is it {size}? Until then it counts for nothing"
        ),
    }
}

fn parts_nothing(after: &str, read: Pressure, why: PartsNothing, units: UnitSystem) -> String {
    let read = pressure_signed(read, units);
    let why = match why {
        PartsNothing::TooHigh(much) => format!("which is {} higher than before them", pressure(much, units)),
        PartsNothing::TooLow(much) => format!("which is {} lower than behind the ways", pressure(much, units)),
        PartsNothing::AtTheEnd => "where the ways join".to_owned(),
        PartsNothing::WithinMachine => {
            return format!(
                "The port after the {after}, which reads {read}, stands between the two ports that the machine is read across; nothing is worked out from it"
            );
        }
    };
    format!(
        "The port after the {after}, in one of several ways side by side, reads {read}, {why}; nothing is split by it"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_reads_pascals_is_asked_in_pascals() {
        let of = Pressure::from_in_wc;
        let cases = [
            (Oddity::OddReading(of(3.1)), "772 Pa is ten times an everyday reading; is it 77?"),
            (
                Oddity::UnusualSign(ReadAt::Port(RETURN_PORT), of(0.3)),
                "+75 before the blower: is the return pressurized, are the hoses swapped, or is it −75?",
            ),
            (
                Oddity::DesignOverPlate { design: of(0.8), plate: of(0.5) },
                "A design static of 199 Pa is over the rated maximum of 125; is it meant so?",
            ),
        ];
        for (what, said) in cases {
            assert_eq!(sentence(&what, UnitSystem::SiLitres), said);
        }
    }
}
