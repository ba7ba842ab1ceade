//! Airflow at the blower and in the rooms, where leaks or a bypass make them two numbers.

use crate::model::facts::limits::Limits;
use crate::model::path::parts::flows::Delivered;
use crate::units::show::{airflow, airflow_bare, airflow_gained, percent, spread_bare};
use crate::units::{Airflow, UnitSystem};

/// True where the rooms get or give another figure than the blower moves, as far as it is shown.
pub fn differs(delivered: &Delivered, units: UnitSystem) -> bool {
    let shown = |flow| airflow_bare(flow, units);
    let blower = shown(delivered.blower);
    shown(delivered.to_rooms) != blower || shown(delivered.from_rooms) != blower
}

/// True where the rooms get less than what the blower moves past a bypass, as far as it is shown.
pub(super) fn leaks(delivered: &Delivered, units: UnitSystem) -> bool {
    airflow_bare(delivered.to_rooms, units) != airflow_bare(delivered.blower - delivered.bypassed, units)
}

/// "1,230 cfm at the blower, 1,085 to the rooms; 12 % leaks out of the supply", without its period, and what to do where that is more than may be; nothing where they are one number.
pub fn sentence(delivered: &Delivered, limits: &Limits, units: UnitSystem) -> Option<String> {
    if !differs(delivered, units) {
        return None;
    }
    let figures = format!(
        "{} at the blower, {} to the rooms",
        airflow(delivered.blower, units),
        airflow_bare(delivered.to_rooms, units)
    );
    Some(std::iter::once(figures).chain(reasons(delivered, limits, SEAL)).collect::<Vec<_>>().join("; "))
}

/// What the rooms get with changes, and what both figures gain: a seal may cost the blower air while the rooms get more.
///
/// "1,140 cfm reach the rooms: +55 ± 14, at the blower −15 ± 6; 6 % leaks out of the supply"; `spreads` are at the blower and to the rooms.
///
/// What a panel that is off draws from around the cabinet is no leak of the ducts.
pub fn change(
    (before, then): (&Delivered, &Delivered),
    spreads: Option<(Airflow, Airflow)>,
    panel_is_off: bool,
    (limits, units): (&Limits, UnitSystem),
) -> Option<String> {
    if !differs(before, units) && !differs(then, units) {
        return None;
    }
    let (at_blower, to_rooms) = spreads.unzip();
    let gained = |from, to, spread: Option<Airflow>| {
        let spread = spread.map(|spread| format!(" ± {}", spread_bare(spread, units))).unwrap_or_default();
        format!("{}{spread}", airflow_gained(from, to, units))
    };
    let figures = format!(
        "{} reach the rooms: {}, at the blower {}",
        airflow(then.to_rooms, units),
        gained(before.to_rooms, then.to_rooms, to_rooms),
        gained(before.blower, then.blower, at_blower)
    );
    Some(
        std::iter::once(figures)
            .chain(reasons(then, limits, if panel_is_off { PUT_BACK } else { SEAL }))
            .collect::<Vec<_>>()
            .join("; "),
    )
}

/// Where the difference goes, as shares of the blower's air that show; and what to do about more than may be lost.
fn reasons(delivered: &Delivered, limits: &Limits, on_return: &'static str) -> Option<String> {
    let Delivered { blower, to_rooms, from_rooms, bypassed } = *delivered;
    let shares = [
        ((blower - bypassed - to_rooms) / blower, "leaks out of the supply", SEAL),
        ((blower - bypassed - from_rooms) / blower, "is not drawn from the rooms", on_return),
        (bypassed / blower, "takes the bypass", "shut the bypass"),
    ];
    let shown: Vec<_> = shares.into_iter().filter(|(share, _, _)| *share >= LEAST_SHARE).collect();
    let told: Vec<String> = shown.iter().map(|(share, what, _)| format!("{} {what}", percent(*share))).collect();
    let mut todo: Vec<&str> = shown.iter().map(|(_, _, todo)| *todo).collect();
    todo.dedup();
    let most = percent(limits.lost_air);
    let more = match (&told[..], delivered.is_lost(limits)) {
        ([], _) => return None,
        (_, false) => String::new(),
        ([_], true) => format!(", more than {most}: {}", todo.join(" and ")),
        (_, true) => format!("; more than {most} is lost: {}", todo.join(" and ")),
    };
    Some(format!("{}{more}", told.join(", ")))
}

/// What is done about a leak.
const SEAL: &str = "seal the ducts";
/// What is done about a panel that is off.
const PUT_BACK: &str = "put the panel back";

/// Shares under this read as 0 %.
const LEAST_SHARE: f64 = 0.005;

#[cfg(test)]
mod tests {
    use super::*;

    const UNITS: UnitSystem = UnitSystem::InchPound;

    fn of([blower, to_rooms, from_rooms, bypassed]: [f64; 4]) -> Delivered {
        let cfm = Airflow::from_cfm;
        Delivered { blower: cfm(blower), to_rooms: cfm(to_rooms), from_rooms: cfm(from_rooms), bypassed: cfm(bypassed) }
    }

    #[test]
    fn blower_and_rooms_are_two_numbers_only_where_they_differ() {
        assert_eq!(sentence(&of([1200.0, 1200.0, 1200.0, 0.0]), &Limits::default(), UNITS), None);
        let cases = [
            (
                [1230.0, 1085.0, 1230.0, 0.0],
                "1,230 cfm at the blower, 1,085 to the rooms; 12 % leaks out of the supply",
            ),
            (
                [1000.0, 1000.0, 900.0, 0.0],
                "1,000 cfm at the blower, 1,000 to the rooms; 10 % is not drawn from the rooms",
            ),
            (
                [1000.0, 800.0, 800.0, 200.0],
                "1,000 cfm at the blower, 800 to the rooms; 20 % takes the bypass, more than 15 %: shut the bypass",
            ),
        ];
        for (flows, said) in cases {
            assert_eq!(sentence(&of(flows), &Limits::default(), UNITS).as_deref(), Some(said));
        }
    }

    #[test]
    fn a_seal_says_both_gains_with_their_own_signs() {
        let limits = Limits::default();
        let spreads = Some((Airflow::from_cfm(6.0), Airflow::from_cfm(14.4)));
        let said = change(
            (&of([1230.0, 1085.0, 1230.0, 0.0]), &of([1215.0, 1140.0, 1215.0, 0.0])),
            spreads,
            false,
            (&limits, UNITS),
        );
        let wanted = "1,140 cfm reach the rooms: +55 ± 14, at the blower −15 ± 6; 6 % leaks out of the supply";
        assert_eq!(said.as_deref(), Some(wanted));
        // 1,087 is shown as 1,085 and 1,143 as 1,145: the gain is what a person makes of these.
        let said = change(
            (&of([1230.0, 1087.0, 1230.0, 0.0]), &of([1215.0, 1143.0, 1215.0, 0.0])),
            None,
            false,
            (&limits, UNITS),
        );
        assert!(said.as_deref().is_some_and(|said| said.starts_with("1,145 cfm reach the rooms: +60,")), "{said:?}");
    }
}
