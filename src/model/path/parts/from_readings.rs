//! From the readings to the parts: segments shared out, ways side by side divided, parts by data added.

use crate::model::facts::air_path::{Element, ElementId, ElementKind, Way};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::drop_data::{DropData, SQUARE_LAW};
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::duct::parallel::Resistance as _;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::model::path::air;
use crate::model::path::parts::guesses::Guess;
use crate::model::path::parts::segments::{self, Mark, external, through};
use crate::model::path::parts::shares::Undivided;
use crate::model::path::parts::{Part, ReadPoint, Route, Segment, shares};
use crate::units::{Airflow, Pressure};

/// How far the drops known in a way may differ from what was read across it before that is a contradiction, as a fraction (assumed: two readings and their ports).
const ACROSS_AGREE: f64 = 0.10;

/// The house as it was read, which every step needs.
struct AsRead<'a> {
    job: &'a Job,
    table: &'a BlowerTable,
    at: &'a ReadPoint<'a>,
}

/// A part of one element, and its index in the chain, before groups get their ways.
struct Placed {
    index: usize,
    part: Part,
}

/// Everything that the path is made of at the airflow of the readings.
///
/// # Errors
/// Shares of a drop or of an airflow that cannot be used.
pub fn parts(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Result<Vec<Part>, Undivided> {
    let as_read = AsRead { job, table, at };
    let segments = segments::segments(job, table, at);
    let covered: Vec<ElementId> = segments.iter().flat_map(|segment| segment.elements.iter().copied()).collect();
    let mut placed = as_read.known(&covered);
    for Placed { part, .. } in &mut placed {
        if let Some(segment) = segments.iter().find(|segment| segment.known.iter().any(|id| part.is(*id))) {
            part.own = part.own.scaled(segment.factor());
        }
    }
    for segment in &segments {
        placed.extend(as_read.of_segment(segment)?);
    }
    as_read.divide_groups(&mut placed)?;
    let mut parts: Vec<Part> = placed.into_iter().map(|placed| placed.part).collect();
    parts.extend(as_read.bypass(&parts));
    Ok(parts)
}

impl AsRead<'_> {
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
        let across = self.at.read_across(self.job, element.id);
        let across = across.map(|read| read / self.at.warm(blank.before_blower));
        if let Some(read) = across.or_else(|| self.at.told_apart(element.id)) {
            let told = self.at.separated(element.id).and_then(|separated| separated.exponent.as_ref());
            let own = law_through(flow, read, self.at.moved.exponent(element, told));
            return Some(Part { own, standing: PathStanding::Measured, ..blank });
        }
        let mut own = SystemCurve::default();
        own.add_data(&air::by_data(element, self.table, self.at.air)?, self.at.moved.data_factor());
        Some(Part { own, standing: PathStanding::Assumed, ..blank })
    }

    /// A part of elements of the chain, of which one stands at an index, with the warm air that passes it behind the blower.
    fn blank(&self, elements: Vec<ElementId>, index: usize, flow: Airflow) -> Part {
        let path = &self.job.path;
        let behind = self.weight_behind(&elements, index);
        Part {
            elements,
            before_blower: path.blower().is_some_and(|blower| index < blower),
            route: if path.is_beyond_bypass(index) { Route::Rooms } else { Route::Blower },
            own: SystemCurve::default(),
            ways: Vec::new(),
            // The air is warmed by the blower's airflow; past a bypass a part passes its share of that.
            warmth: self.at.warmth.filter(|_| behind > 0.0).map(|k| k * behind * (flow / self.at.airflow)),
            flow,
            leaks: false,
            apart: None,
            standing: PathStanding::Measured,
        }
    }

    /// How much of a part that stands at an index lies behind the blower, as a fraction: by usual weights, where it was read across the blower as one.
    fn weight_behind(&self, elements: &[ElementId], index: usize) -> f64 {
        let path = &self.job.path;
        let blower = path.blower().unwrap_or_default();
        let weight = |ids: &mut dyn Iterator<Item = &ElementId>| -> f64 {
            ids.filter_map(|id| path.element(*id)).map(Element::usual_weight).sum()
        };
        let is_behind = |id: &&ElementId| path.index_of(**id).is_some_and(|index| index > blower);
        let all = weight(&mut elements.iter());
        if all > 0.0 { weight(&mut elements.iter().filter(is_behind)) / all } else { f64::from(index > blower) }
    }

    fn law(&self, flow: Airflow, drop: Pressure, exponent: f64) -> SystemCurve {
        law_through(flow, drop, exponent + self.at.moved.exponent)
    }

    fn of_segment(&self, segment: &Segment) -> Result<Vec<Placed>, Undivided> {
        let path = &self.job.path;
        let elements: Vec<(usize, &Element)> =
            segment.elements.iter().filter_map(|id| Some((path.index_of(*id)?, path.element(*id)?))).collect();
        let at = self.at;
        let is_apart = |element: &Element| element.share.is_some() || element.is_group();
        let straddles = |elements: &[(usize, &Element)]| {
            let beyond = elements.iter().filter(|(index, _)| path.is_beyond_bypass(*index)).count();
            beyond > 0 && beyond < elements.len()
        };
        let is_stated =
            elements.len() == 1 || elements.iter().any(|(_, element)| is_apart(element)) || straddles(&elements);
        let is_held = elements.iter().any(|(_, element)| at.split.iter().any(|id| element.within(*id).is_some()));
        let ids = segment.elements.clone();
        let blower = path.blower().unwrap_or_default();
        let index = elements.first().map_or(if segment.before_blower { 0 } else { blower + 1 }, |(index, _)| *index);
        let flow = through(path, index, at);
        let lump = Part { before_blower: segment.before_blower, ..self.blank(ids, index, flow) };
        let is_lump = !(is_stated || is_held) || segment.drop <= Pressure::ZERO;
        let cold = segment.drop / air::warm_factor(lump.warmth, flow);
        // Sets that tell parts apart do it by the exponents of all that they pass, and so the path goes on by those; what takes nothing has none.
        let goes_by_parts = !at.separated.is_empty() && segment.drop > Pressure::ZERO;
        if is_lump && !goes_by_parts {
            let own = self.law(flow, cold, SQUARE_LAW);
            return Ok(vec![Placed { index, part: Part { own, ..lump } }]);
        }
        let shares = shares::shares(&elements.iter().map(|(_, element)| *element).collect::<Vec<_>>(), at.moved)?;
        if is_lump {
            let mut own = SystemCurve::default();
            for ((_, element), share) in elements.iter().zip(shares) {
                own.add(&self.law(flow, cold * share, element.drop_exponent()));
            }
            return Ok(vec![Placed { index, part: Part { own, ..lump } }]);
        }
        let standing = if elements.len() == 1 { PathStanding::Measured } else { PathStanding::Shared };
        // As it was read it was as warm as its elements behind the blower make it.
        let warm: f64 = elements.iter().zip(&shares).map(|((index, _), share)| share * at.warm(*index < blower)).sum();
        let place = |(&(index, element), share): (&(usize, &Element), f64)| {
            let flow = through(path, index, at);
            // That a change takes hold of an element moves no other figure: its stretch keeps the square law of the reading.
            let is_of_lump = !(is_stated || goes_by_parts);
            let apart = is_of_lump.then(|| element.drop_exponent());
            let exponent = if is_of_lump { SQUARE_LAW } else { element.drop_exponent() };
            let own = self.law(flow, segment.drop / warm * share, exponent);
            Placed { index, part: Part { own, apart, standing, ..self.blank(vec![element.id], index, flow) } }
        };
        Ok(elements.iter().zip(shares).map(place).collect())
    }

    /// Gives every group its ways, now that the drop of each element of the chain is known.
    fn divide_groups(&self, placed: &mut [Placed]) -> Result<(), Undivided> {
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
            self.put_ways_in(part, group, drop, before)?;
        }
        Ok(())
    }

    /// Replaces a group's own law by its ways; `drop` is across it and `before` the pressure against the rooms where the air enters, as they would be in air that nothing has warmed.
    fn put_ways_in(&self, part: &mut Part, group: &Element, drop: Pressure, before: Pressure) -> Result<(), Undivided> {
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
    fn divide(&self, group: &Element, part: &Part, drop: Pressure) -> Result<Vec<Airflow>, Undivided> {
        if drop <= Pressure::ZERO {
            return Err(Undivided::NoDrop(group.name().to_owned()));
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
            return Err(Undivided::AllByData(group.name().to_owned(), known));
        }
        let mut rest = shares::flows(&open, 1.0 - known, self.at.moved)?.into_iter();
        Ok(by_data.into_iter().map(|known| part.flow * known.or_else(|| rest.next()).unwrap_or_default()).collect())
    }

    fn flow_by_data(&self, way: &Way, drop: Pressure) -> Option<Airflow> {
        let mut curve = SystemCurve::default();
        for element in way.elements.iter().filter(|element| !self.job.set().parts_out.contains(&element.id)) {
            let data: &DropData = element.drop.as_ref()?;
            curve.add_data(&data.in_air(self.at.air.own), self.at.moved.data_factor());
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
    ) -> Result<Vec<Part>, Undivided> {
        let mut marks = vec![
            Mark { passed: 0, pressure: before, port: None },
            Mark { passed: list.len(), pressure: before - drop, port: None },
        ];
        let warm = self.at.warm(group.before_blower);
        let ports = segments::of_ports(self.job, list, self.at.moved, &|_| None)
            .into_iter()
            .map(|mark| Mark { pressure: mark.pressure / warm, ..mark });
        // A port whose pressure lies outside what the group leaves cannot part it, nor one where the ways join (see [`super::unused_readings`]).
        let parts_it =
            |mark: &Mark| mark.passed < list.len() && mark.pressure < before && mark.pressure > before - drop;
        marks.extend(ports.filter(parts_it));
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
    ) -> Result<Vec<Part>, Undivided> {
        let set = self.job.set();
        let present: Vec<&Element> = list.iter().filter(|element| !set.parts_out.contains(&element.id)).collect();
        let known: Vec<Option<Pressure>> = present
            .iter()
            .map(|element| {
                let known = self.at.known_drop(element, (self.job, self.table), flow, group.before_blower)?;
                Some(known / self.at.warm(group.before_blower))
            })
            .collect();
        let open: Vec<&Element> =
            present.iter().zip(&known).filter(|(_, known)| known.is_none()).map(|(element, _)| *element).collect();
        let taken: Pressure = known.iter().flatten().copied().sum();
        let rest = from - to - taken;
        // Where every drop is known, what was read across each one shares out what was read across all.
        let agree = taken > Pressure::ZERO && ((from - to) / taken - 1.0).abs() <= ACROSS_AGREE;
        let is_sound = if open.is_empty() { agree } else { rest > Pressure::ZERO };
        if !is_sound {
            let of_known: Vec<&Element> =
                present.iter().zip(&known).filter(|(_, known)| known.is_some()).map(|(element, _)| *element).collect();
            let warm = self.at.warm(group.before_blower);
            return Err(contradicted(self.job, &of_known, (taken * warm, (from - to) * warm), flow));
        }
        let factor = if open.is_empty() { (from - to) / taken } else { 1.0 };
        let mut shares = shares::shares(&open, self.at.moved)?.into_iter();
        let mut pressure = from;
        let mut parts = Vec::new();
        for (element, known) in present.iter().zip(known) {
            let drop = known.map_or_else(|| rest * shares.next().unwrap_or_default(), |known| known * factor);
            let Some(mut part) = self.in_way(element, group, flow, known.is_none().then_some(drop)) else { continue };
            part.own = part.own.scaled(factor);
            if element.is_group() {
                self.put_ways_in(&mut part, element, drop, pressure)?;
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
            // The group as a whole carries the warm air.
            warmth: None,
            flow,
            ..group.clone()
        };
        if let Some(drop) = shared {
            let own = self.law(flow, drop, element.drop_exponent());
            return Some(Part { own, standing: PathStanding::Shared, ..side });
        }
        let known = self.by_itself(element, self.job.path.holder_of(element.id)?, flow)?;
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
        blank.own = self.law(flow, drop / self.at.warm(false), ElementKind::Bypass.usual_exponent());
        blank.standing = PathStanding::Assumed;
        Some(blank)
    }
}

/// The power law through a point.
fn law_through(flow: Airflow, drop: Pressure, exponent: f64) -> SystemCurve {
    let mut curve = SystemCurve::default();
    curve.add_law(PowerLaw::through(flow, drop, exponent));
    curve
}

/// Why what is known of a way and what was read across it cannot both hold; `taken` as the air was that passed.
fn contradicted(job: &Job, known: &[&Element], (taken, read): (Pressure, Pressure), flow: Airflow) -> Undivided {
    let names: Vec<String> = known.iter().map(|element| element.name().to_lowercase()).collect();
    if names.is_empty() {
        Undivided::NothingInWay
    } else if known.iter().all(|element| job.set().across(element.id).is_some()) {
        Undivided::ReadOtherwise(names, taken, read)
    } else {
        Undivided::DataOtherwise(names, taken, read, flow)
    }
}
