//! Which ports of the chain have fields, and how wide these are.

use crate::model::facts::air_path::{AirPath, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::ui::reading_entry::Side;
use crate::ui::theme;
use crate::ui::view::{Screen, View};

/// Width of a field.
pub const BOX: f32 = 72.0;
/// Width of a field while several looks are typed into it.
pub const WIDE_BOX: f32 = 160.0;
/// Width of a button that moves a port.
pub const MOVE: f32 = theme::FINGER;

/// Width of a port's field with what stands at its sides.
pub fn width_of(side: Side, moves: bool, view: &View) -> f32 {
    let typed = view.entry.as_ref().filter(|entry| entry.key == side.key());
    let field = if typed.is_some_and(|entry| entry.text.chars().count() > 6) { WIDE_BOX } else { BOX };
    if moves { field + 2.0 * (MOVE + 2.0) } else { field }
}

/// Sides of the chain's ports, in flow order.
pub fn sides(path: &AirPath) -> Vec<(Side, PortId)> {
    let of_chain = path.ports.iter().filter(|port| path.index_of(port.after).is_some());
    of_chain.filter_map(|port| Some((Side::of_port(path, port.id)?, port.id))).collect()
}

/// Whether a port shows what moves it, where not all have room.
pub fn moves_always(port: PortId) -> bool {
    [RETURN_PORT, SUPPLY_PORT].contains(&port)
}

/// Width that the fields need at least, without room for moving any but the first two ports.
pub fn least_width(screen: &Screen<'_>, view: &View) -> f32 {
    if view.total_only {
        return 0.0;
    }
    let sides = sides(&screen.job.path);
    let all: f32 = sides.iter().map(|(side, port)| width_of(*side, moves_always(*port), view) + theme::STEP).sum();
    all
}
