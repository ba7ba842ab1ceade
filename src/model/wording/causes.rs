//! Likely causes of a drop that is too high, the likeliest first, each with what settles it.
//!
//! Both the causes and their order are common practice, no source.

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;

/// A cause, and what settles whether it is the one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cause {
    /// Why the part takes so much.
    pub why: &'static str,
    /// What to look at or to read.
    pub settled_by: &'static str,
}

const fn cause(why: &'static str, settled_by: &'static str) -> Cause {
    Cause { why, settled_by }
}

/// Why a part takes more than it should, the likeliest cause first; nothing for what takes no static, or only what is in it does.
pub const fn of_kind(kind: ElementKind) -> &'static [Cause] {
    match kind {
        ElementKind::Filter => {
            const {
                &[
                    cause("dirt", "pull it and look, and read with a clean one"),
                    cause(
                        "too little face for this air",
                        "measure it, and hold its printed drop at this airflow against the reading",
                    ),
                    cause("denser media than the rack was made for", "look up its printed drop"),
                ]
            }
        }
        ElementKind::Coil => {
            const {
                &[
                    cause("dirt", "look at the face where the air enters"),
                    cause("ice", "let it thaw and read again; the charge is for whoever is licensed for it"),
                    cause("a coil too small for this air", "look up its printed wet drop"),
                ]
            }
        }
        ElementKind::ReturnGrille | ElementKind::Louvre => {
            const {
                &[
                    cause("too little free area", "measure its face, and read again with it off"),
                    cause("dust, or furniture before it", "look"),
                ]
            }
        }
        ElementKind::ReturnDuct => {
            const {
                &[
                    cause("too small for this air", "measure it, and work out its velocity"),
                    cause("flexible duct kinked or crushed", "look along it"),
                    cause("a boot or a turn too tight at the machine", "read before and behind it"),
                ]
            }
        }
        ElementKind::SupplyDuct => {
            const {
                &[
                    cause("dampers not fully open", "look at every handle"),
                    cause("flexible duct kinked or crushed", "look along it"),
                    cause("too small for this air", "measure it, and work out its velocity"),
                ]
            }
        }
        ElementKind::Registers => {
            const {
                &[
                    cause("closed or covered", "open all of them and read again"),
                    cause("too few or too small", "count them, and read again with their faces off"),
                ]
            }
        }
        ElementKind::Damper => const { &[cause("not fully open", "look at its handle or run it to its end")] },
        ElementKind::AirCleaner => const { &[cause("dirt", "look at its cells or media")] },
        ElementKind::Heater => {
            const { &[cause("dirt or something caught in it", "look, with power off and locked out")] }
        }
        ElementKind::Humidifier => const { &[cause("scale on its pad", "look")] },
        ElementKind::Blower
        | ElementKind::HeatExchanger
        | ElementKind::Leak
        | ElementKind::Bypass
        | ElementKind::SideBySide => &[],
    }
}

/// In which order the parts of a stretch are looked at that no reading tells apart: what is dirty before what is small, what is seen before what is in a wall.
const LOOKED_AT: [ElementKind; 10] = [
    ElementKind::Filter,
    ElementKind::AirCleaner,
    ElementKind::Coil,
    ElementKind::Heater,
    ElementKind::Registers,
    ElementKind::Damper,
    ElementKind::ReturnGrille,
    ElementKind::Louvre,
    ElementKind::Humidifier,
    ElementKind::ReturnDuct,
];

/// The likely causes of a finding, in order, each as "dirt (pull it and look, and read with a clean one)"; none for a finding that is of no part.
pub fn of_finding(job: &Job, finding: &Finding) -> Vec<String> {
    let mut kinds = kinds_of(job, finding);
    if let [one] = kinds[..] {
        return of_kind(one).iter().map(|cause| format!("{} ({})", cause.why, cause.settled_by)).collect();
    }
    kinds.sort_by_key(|kind| LOOKED_AT.iter().position(|one| one == kind).unwrap_or(LOOKED_AT.len()));
    let first = |kind: &ElementKind| {
        let Cause { why, settled_by } = of_kind(*kind).first()?;
        Some(format!("{}: {why} ({settled_by})", kind.name().to_lowercase()))
    };
    kinds.iter().filter_map(first).collect()
}

/// "Likely, in order: dirt (…); too little face for this air (…)", without its period.
pub fn sentence(job: &Job, finding: &Finding) -> Option<String> {
    let causes = of_finding(job, finding);
    let order = if causes.len() > 1 { ", in order" } else { "" };
    (!causes.is_empty()).then(|| format!("Likely{order}: {}", causes.join("; ")))
}

/// What a finding of too high a drop is of, each kind once.
fn kinds_of(job: &Job, finding: &Finding) -> Vec<ElementKind> {
    let on_side = |before: bool| {
        let blower = job.path.blower();
        let on = job.path.elements.iter().enumerate().filter(|(at, _)| (Some(*at) < blower) == before);
        let external = on.filter(|(_, element)| !job.is_inside(element.id));
        let mut kinds: Vec<ElementKind> =
            external.flat_map(|(_, element)| element.all()).map(|part| part.kind).collect();
        kinds.sort_by_key(|kind| *kind as u8);
        kinds.dedup();
        kinds
    };
    if let Finding::PartTakes { parts, .. } = finding {
        return parts.clone();
    }
    let is_of_return = matches!(finding, Finding::ReturnTakes { .. });
    let is_of_side = is_of_return || matches!(finding, Finding::SupplyTakes { .. });
    if is_of_side { on_side(is_of_return) } else { Vec::new() }
}
