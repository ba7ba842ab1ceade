//! From the readings to the parts: segments shared out, ways side by side divided, parts by data added.

use crate::model::facts::air_path::{Element, ElementId, ElementKind, Way};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::drop_data::{DropData, SQUARE_LAW};
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::duct::parallel::Resistance as _;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::model::path::parts::guesses::Guess;
use crate::model::path::parts::segments::{self, Mark, external, through};
use crate::model::path::parts::{Part, ReadPoint, Route, Segment, known_drop, shares};
use crate::model::path::tesp;
use crate::units::{Airflow, Pressure};

/// How far the drops known in a way may differ from what was read across it before that is a contradiction, as a fraction (assumed: two readings and their ports).
const ACROSS_AGREE: f64 = 0.10;

/// What every step needs.
struct Ground<'a> {
    job: &'a Job,
    table: &'a BlowerTable,
    at: &'a ReadPoint<'a>,
}

/// A part of one element, and its index in the chain, before ways are laid out.
struct Placed {
    index: usize,
    part: Part,
}

/// Everything that the path is made of at the airflow of the readings.
///
/// # Errors
/// A sentence when shares of a drop or of an airflow cannot be used.
pub fn parts(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Result<Vec<Part>, String> {
    let ground = Ground { job, table, at };
    let segments = segments::segments(job, table, at);
    let covered: Vec<ElementId> = segments.iter().flat_map(|segment| segment.elements.iter().copied()).collect();
    let mut placed = ground.known(&covered);
    for Placed { part, .. } in &mut placed {
        if let Some(segment) = segments.iter().find(|segment| segment.known.iter().any(|id| part.is(*id))) {
            part.own = part.own.scaled(segment.factor());
        }
    }
    for segment in &segments {
        placed.extend(ground.of_segment(segment)?);
    }
    ground.lay_ways(&mut placed)?;
    let mut parts: Vec<Part> = placed.into_iter().map(|placed| placed.part).collect();
    parts.extend(ground.bypass(&parts));
    Ok(parts)
}

impl Ground<'_> {
    /// External elements with a known drop of their own, wherever they stand.
    fn known(&self, covered: &[ElementId]) -> Vec<Placed> {
        external(self.job, self.table)
            .filter(|(_, element)| !covered.contains(&element.id))
            .filter_map(|(index, element)| {
                let flow = through(&self.job.path, index, self.at);
                Some(Placed { index, part: self.by_itself(element, index, flow)? })
            })
            .collect()
    }

    /// A part known apart from any segment: read across, or by its data, or by a drop that the table prints.
    fn by_itself(&self, element: &Element, index: usize, flow: Airflow) -> Option<Part> {
        let blank = self.blank(vec![element.id], index, flow);
        if let Some(read) = self.job.set().across(element.id) {
            let own = self.law(flow, read, element.drop_exponent());
            return Some(Part { own, standing: PathStanding::Measured, ..blank });
        }
        let data = element.drop.as_ref().or_else(|| tesp::printed_drop(element, self.table, false))?;
        let mut own = SystemCurve::default();
        own.add_data(data, data.density_factor(self.at.density_ratio) * self.at.moved.data_factor());
        Some(Part { own, standing: PathStanding::Assumed, ..blank })
    }

    fn blank(&self, elements: Vec<ElementId>, index: usize, flow: Airflow) -> Part {
        let path = &self.job.path;
        Part {
            elements,
            before_blower: path.blower().is_some_and(|blower| index < blower),
            route: if path.is_beyond_bypass(index) { Route::Rooms } else { Route::Blower },
            own: SystemCurve::default(),
            ways: Vec::new(),
            warmth: None,
            flow,
            leaks: false,
            standing: PathStanding::Measured,
        }
    }

    fn law(&self, flow: Airflow, drop: Pressure, exponent: f64) -> SystemCurve {
        let mut curve = SystemCurve::default();
        curve.add_law(PowerLaw::through(flow, drop, exponent + self.at.moved.exponent));
        curve
    }

    fn of_segment(&self, segment: &Segment) -> Result<Vec<Placed>, String> {
        let path = &self.job.path;
        let elements: Vec<(usize, &Element)> =
            segment.elements.iter().filter_map(|id| Some((path.index_of(*id)?, path.element(*id)?))).collect();
        let at = self.at;
        let takes_hold = |element: &Element| {
            let held = at.split.iter().any(|id| element.within(*id).is_some());
            held || element.share.is_some() || element.is_group()
        };
        let straddles = |elements: &[(usize, &Element)]| {
            let beyond = elements.iter().filter(|(index, _)| path.is_beyond_bypass(*index)).count();
            beyond > 0 && beyond < elements.len()
        };
        let is_split =
            elements.len() == 1 || elements.iter().any(|(_, element)| takes_hold(element)) || straddles(&elements);
        if !is_split || segment.drop <= Pressure::ZERO {
            let blower = path.blower().unwrap_or_default();
            let index =
                elements.first().map_or(if segment.before_blower { 0 } else { blower + 1 }, |(index, _)| *index);
            let flow = through(path, index, at);
            let blank = self.blank(segment.elements.clone(), index, flow);
            let own = self.law(flow, segment.drop, SQUARE_LAW);
            return Ok(vec![Placed { index, part: Part { own, before_blower: segment.before_blower, ..blank } }]);
        }
        let standing = if elements.len() == 1 { PathStanding::Measured } else { PathStanding::Shared };
        let shares = shares::shares(&elements.iter().map(|(_, element)| *element).collect::<Vec<_>>(), &at.moved)?;
        let place = |(&(index, element), share): (&(usize, &Element), f64)| {
            let flow = through(path, index, at);
            let own = self.law(flow, segment.drop * share, element.drop_exponent());
            Placed { index, part: Part { own, standing, ..self.blank(vec![element.id], index, flow) } }
        };
        Ok(elements.iter().zip(shares).map(place).collect())
    }

    /// Gives every group its ways, now that the drop of each element of the chain is known.
    fn lay_ways(&self, placed: &mut [Placed]) -> Result<(), String> {
        let drops: Vec<(usize, Pressure)> =
            placed.iter().map(|placed| (placed.index, placed.part.own.drop_at(placed.part.flow))).collect();
        let blower = self.job.path.blower().unwrap_or_default();
        for Placed { index, part } in placed {
            let Some(group) = self.job.path.elements.get(*index).filter(|element| element.is_group()) else {
                continue;
            };
            if !part.is(group.id) {
                continue;
            }
            let passed: Pressure = drops
                .iter()
                .filter(|(other, _)| if *index < blower { other < index } else { other >= index })
                .map(|(_, drop)| *drop)
                .sum();
            let before = if *index < blower { -passed } else { passed };
            let drop = part.own.drop_at(part.flow);
            self.fill(part, group, drop, before)?;
        }
        Ok(())
    }

    /// Replaces a group's own law by its ways; `drop` is across it and `before` the pressure against the rooms where the air enters.
    fn fill(&self, part: &mut Part, group: &Element, drop: Pressure, before: Pressure) -> Result<(), String> {
        let divided = self.divide(group, part, drop)?;
        part.own = SystemCurve::default();
        part.standing = part.standing.max(PathStanding::Shared);
        part.ways = group
            .ways
            .iter()
            .zip(divided)
            .map(|(way, flow)| self.way(&way.elements, part, flow, drop, before))
            .collect::<Result<_, _>>()?;
        Ok(())
    }

    /// Airflow of each way of a group: by data where every element of a way has some, else by shares.
    fn divide(&self, group: &Element, part: &Part, drop: Pressure) -> Result<Vec<Airflow>, String> {
        if drop <= Pressure::ZERO {
            return Err(format!("{} takes no pressure, so nothing says how the air is divided in it", group.name()));
        }
        let by_data: Vec<Option<f64>> =
            group.ways.iter().map(|way| Some(self.flow_by_data(way, drop)? / part.flow)).collect();
        let known: f64 = by_data.iter().flatten().sum();
        let ways = group.ways.iter().zip(&by_data).enumerate();
        let open: Vec<(Guess, &Way)> = ways
            .filter(|(_, (_, known))| known.is_none())
            .map(|(index, (way, _))| (Guess::Flow(group.id, index), way))
            .collect();
        if known >= 1.0 || (open.is_empty() && known > 0.0) {
            return Err(format!(
                "{}: by their data its ways take {:.0} % of the air at the drop there; at least one has to be left without data",
                group.name(),
                known * 100.0
            ));
        }
        let mut rest = shares::flows(&open, 1.0 - known, &self.at.moved)?.into_iter();
        Ok(by_data.into_iter().map(|known| part.flow * known.or_else(|| rest.next()).unwrap_or_default()).collect())
    }

    fn flow_by_data(&self, way: &Way, drop: Pressure) -> Option<Airflow> {
        let mut curve = SystemCurve::default();
        for element in way.elements.iter().filter(|element| !self.job.set().parts_out.contains(&element.id)) {
            let data: &DropData = element.drop.as_ref()?;
            curve.add_data(data, data.density_factor(self.at.density_ratio) * self.at.moved.data_factor());
        }
        Some(Airflow::from_cfm(curve.flow_and_slope(drop.in_wc())?.0))
    }

    /// The parts of one way: ports within it part its drop, known elements take theirs, the rest is shared.
    fn way(
        &self,
        list: &[Element],
        group: &Part,
        flow: Airflow,
        drop: Pressure,
        before: Pressure,
    ) -> Result<Vec<Part>, String> {
        let mut marks = vec![
            Mark { passed: 0, pressure: before, port: None },
            Mark { passed: list.len(), pressure: before - drop, port: None },
        ];
        let ports = segments::of_ports(self.job, list, &self.at.moved, &|_| None);
        // A port whose pressure lies outside what the group leaves cannot part it, nor one where the ways join (see [`super::astray`]).
        let parts_it =
            |mark: &Mark| mark.passed < list.len() && mark.pressure < before && mark.pressure > before - drop;
        marks.extend(ports.into_iter().filter(parts_it));
        marks.sort_by(|one, other| {
            one.passed.cmp(&other.passed).then(other.pressure.in_wc().total_cmp(&one.pressure.in_wc()))
        });
        marks.dedup_by(|later, earlier| later.pressure > earlier.pressure && later.port.is_some());
        let mut parts = Vec::new();
        for pair in marks.windows(2) {
            parts.extend(self.of_way(
                &list[pair[0].passed..pair[1].passed],
                group,
                flow,
                pair[0].pressure,
                pair[1].pressure,
            )?);
        }
        Ok(parts)
    }

    fn of_way(
        &self,
        list: &[Element],
        group: &Part,
        flow: Airflow,
        from: Pressure,
        to: Pressure,
    ) -> Result<Vec<Part>, String> {
        let set = self.job.set();
        let present: Vec<&Element> = list.iter().filter(|element| !set.parts_out.contains(&element.id)).collect();
        let known: Vec<Option<Pressure>> = present
            .iter()
            .map(|element| known_drop(element, set, tesp::printed_drop(element, self.table, false), self.at, flow))
            .collect();
        let open: Vec<&Element> =
            present.iter().zip(&known).filter(|(_, known)| known.is_none()).map(|(element, _)| *element).collect();
        let taken: Pressure = known.iter().flatten().copied().sum();
        let rest = from - to - taken;
        // Where every drop is known, what was read across each one shares out what was read across all.
        let agree = taken > Pressure::ZERO && ((from - to) / taken - 1.0).abs() <= ACROSS_AGREE;
        let is_sound = if open.is_empty() { agree } else { rest > Pressure::ZERO };
        if !is_sound {
            return Err(way_sentence(&present, rest, flow));
        }
        let factor = if open.is_empty() { (from - to) / taken } else { 1.0 };
        let mut shares = shares::shares(&open, &self.at.moved)?.into_iter();
        let mut pressure = from;
        let mut parts = Vec::new();
        for (element, known) in present.iter().zip(known) {
            let drop = known.map_or_else(|| rest * shares.next().unwrap_or_default(), |known| known * factor);
            let Some(mut part) = self.in_way(element, group, flow, known.is_none().then_some(drop)) else { continue };
            part.own = part.own.scaled(factor);
            if element.is_group() {
                self.fill(&mut part, element, drop, pressure)?;
            }
            pressure = pressure - drop;
            parts.push(part);
        }
        Ok(parts)
    }

    /// A part within a way: by itself, or with a shared drop.
    fn in_way(&self, element: &Element, group: &Part, flow: Airflow, shared: Option<Pressure>) -> Option<Part> {
        let side = Part {
            elements: vec![element.id],
            ways: Vec::new(),
            own: SystemCurve::default(),
            leaks: element.kind == ElementKind::Leak,
            flow,
            ..group.clone()
        };
        if let Some(drop) = shared {
            let own = self.law(flow, drop, element.drop_exponent());
            return Some(Part { own, standing: PathStanding::Shared, ..side });
        }
        let known = self.by_itself(element, 0, flow)?;
        Some(Part { own: known.own, standing: known.standing.max(PathStanding::Shared), ..side })
    }

    /// The bypass as a part: it drops what the rooms' side drops during the readings.
    fn bypass(&self, parts: &[Part]) -> Option<Part> {
        let bypass = self.job.path.bypass.as_ref()?;
        let flow = self.at.airflow * bypass.flow;
        let drop: Pressure =
            parts.iter().filter(|part| part.route == Route::Rooms).map(|part| part.drop_at(part.flow)).sum();
        let mut blank = self.blank(vec![bypass.id], self.job.path.elements.len(), flow);
        blank.route = Route::Bypass;
        blank.own = self.law(flow, drop, ElementKind::Bypass.usual_exponent());
        blank.standing = PathStanding::Assumed;
        Some(blank)
    }
}

fn way_sentence(present: &[&Element], rest: Pressure, flow: Airflow) -> String {
    let names: Vec<String> = present.iter().map(|element| element.name().to_lowercase()).collect();
    if names.is_empty() {
        return "A way side by side has nothing in it that takes pressure; all its parts are out of the path"
            .to_owned();
    }
    format!(
        "Side by side: by their data {} take {:.2} in. w.c. more at {:.0} cfm than was read across that way; its share of the air or the data is wrong",
        names.join(", "),
        (-rest).max(Pressure::ZERO).in_wc(),
        flow.cfm()
    )
}
