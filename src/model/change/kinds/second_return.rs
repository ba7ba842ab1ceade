//! A second return beside grille and duct, joined before the filter, or beside the filter too where it has its own.

use crate::model::change::on_parts::{OnParts, Place, before_blower, lay_beside, opening_law, with_room};
use crate::model::change::stated::{Ask, Held, Stated, USUAL_COMPRESSION};
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, Way};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::{Opening, SecondReturn};
use crate::model::facts::drop_data::{DropData, MEDIA_FILTER};
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::{Beside, Refusal};
use crate::model::facts::standing::PathStanding;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::{Area, Dimension, Length, Pressure, show};

impl Kind for SecondReturn {
    const DECLARATION: Declaration = Declaration {
        name: "Second return",
        file: "SecondReturn",
        does: "Another run beside grille and duct; flows add at equal drop",
        assumes: "Drawn from the rooms served, never from a garage, a combustion-air space or near a vented appliance",
        source: "Parallel rule; Darcy–Weisbach with Colebrook; grille by its free area (Blevins 1984)",
        cautions: &[Caution::ReturnAir, Caution::Venting],
        lands: Lands::OnReturn,
        role: Role::Fix,
        stage: Stage::BesideDucts,
        asks: Asks::Velocity,
    };

    fn first(_element: ElementId, start: &Start<'_>) -> Option<Self> {
        let half = start.airflow / 2.0;
        let own = || DropData::at(half, Pressure::from_in_wc(0.10), MEDIA_FILTER).ok();
        Some(Self {
            run: Run {
                section: Section::round(Dimension::from_in(12.0)),
                length: Length::from_ft(20.0),
                wall: Wall::Flexible { compression: USUAL_COMPRESSION },
                fittings: 1.0,
            },
            grille: Opening { face: Area::from_in2(14.0 * 20.0), free_area: 0.70 },
            filter: would_pass_by_filters(&start.job.path).then(own).flatten(),
        })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { run, grille, filter } = self;
        let own = Ask { exponent: MEDIA_FILTER, points: 1 };
        vec![
            Stated::one("run", "Duct", "Duct", Held::Run(run)),
            Stated::one("grille", "Grille", "Grille", Held::Opening(grille)),
            Stated::one("filter", "Own filter", "Own filter", Held::OwnDrop(own, filter)),
        ]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        if self.filter.is_none() && would_pass_by_filters(place.path) {
            return Err(Refusal::NoFilter);
        }
        let own = self.way(place)?;
        let beside = joined(place.path, self.filter.is_some());
        let stands = |part: &Part| !part.elements.is_empty() && part.elements.iter().all(|id| beside.contains(id));
        lay_beside(parts, Beside::Return, stands, |first| Part {
            elements: Vec::new(),
            own,
            ways: Vec::new(),
            leaks: false,
            apart: None,
            standing: PathStanding::Assumed,
            ..first.clone()
        })
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { new_way: Some((self.run, self.grille)), ..Particulars::default() }
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        let own = if self.filter.is_some() { ", own filter" } else { "" };
        Some(format!(
            "{}, {}; grille {}{own}",
            told::section_and_wall(&self.run, units),
            show::length(self.run.length, units),
            show::area(self.grille.face, units)
        ))
    }

    fn holds(&self, path: &AirPath) -> Vec<ElementId> {
        joined(path, self.filter.is_some())
    }

    fn stage(&self) -> Stage {
        if self.filter.is_some() { Stage::BesideFilters } else { Stage::BesideDucts }
    }
}

impl SecondReturn {
    /// The new run with its grille and, where it has one, its filter.
    fn way(&self, place: &Place<'_>) -> Result<SystemCurve, Refusal> {
        // Half the read airflow: the law of a duct hardly changes about it (its exponent is taken there).
        let airflow = place.airflow / 2.0;
        let lost = self.run.drop_at(airflow, place.air)?;
        let mut way = SystemCurve::default();
        way.add_law(PowerLaw::through(airflow, lost.total(), lost.exponent()));
        way.add_law(opening_law(&self.grille, place.air)?);
        if let Some(filter) = &self.filter {
            way.add_data(&filter.in_air(place.data_air), 1.0);
        }
        with_room(way, place.airflow)
    }
}

/// The elements that a second return stands beside: all up to where it joins, behind the last grille or duct, or behind the last filter where it brings its own.
fn joined(path: &AirPath, with_filter: bool) -> Vec<ElementId> {
    let before = before_blower(path);
    let end = before.iter().rposition(|element| is_of_return(element, with_filter)).map_or(0, |last| last + 1);
    before[..end].iter().map(|element| element.id).collect()
}

/// True where all that filters the return's air stands before the place at which a second return without a filter joins.
fn would_pass_by_filters(path: &AirPath) -> bool {
    let beside = joined(path, false);
    let has_filter =
        |element: &&Element| element.kind == ElementKind::Filter || element.ways.iter().any(way_has_filter);
    let mut filters = before_blower(path).iter().filter(has_filter).peekable();
    filters.peek().is_some() && filters.all(|element| beside.contains(&element.id))
}

fn way_has_filter(way: &Way) -> bool {
    way.elements.iter().any(|element| element.kind == ElementKind::Filter || element.ways.iter().any(way_has_filter))
}

fn is_of_return(element: &Element, with_filter: bool) -> bool {
    use ElementKind as K;
    match element.kind {
        K::Louvre | K::ReturnGrille | K::ReturnDuct | K::Leak => true,
        K::Filter => with_filter,
        // Filters in the grilles of a group are its own: what joins behind the group stands beside them as well.
        K::SideBySide => element.ways.iter().flat_map(|way| &way.elements).all(|within| is_of_return(within, true)),
        K::Blower
        | K::HeatExchanger
        | K::Coil
        | K::Heater
        | K::SupplyDuct
        | K::Registers
        | K::AirCleaner
        | K::Humidifier
        | K::Damper
        | K::Bypass => false,
    }
}
