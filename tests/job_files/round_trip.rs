//! What is written comes back, to the last digit.

use super::*;

fn pressures() -> impl Strategy<Value = Pressure> {
    (-3.0..3.0).prop_map(Pressure::from_in_wc)
}

fn texts() -> impl Strategy<Value = String> {
    // What no line can show is read as a space (see [`a_text_with_what_no_line_can_show_opens_with_spaces`]).
    prop_oneof![any::<String>(), "[ -~\"]{0,40}"].prop_map(|text| plain_text::one_line(&text))
}

fn air() -> impl Strategy<Value = AirConditions> {
    let humidity = prop_oneof![0.0..=1.0, (0_u8..=100).prop_map(|percent| f64::from(percent) / 100.0)];
    let station =
        prop_oneof![(50.0..105.0).prop_map(Barometer::from_kpa), (20.0..31.0).prop_map(Barometer::from_in_hg)];
    (-1500.0..20_000.0, proptest::option::of(station), -40.0..150.0, humidity).prop_map(
        |(altitude, station_pressure, temperature, humidity)| AirConditions {
            altitude: Altitude::from_ft(altitude),
            station_pressure,
            temperature: Temperature::from_f(temperature),
            humidity,
        },
    )
}

fn sets() -> impl Strategy<Value = ReadingSet> {
    let looks = || proptest::collection::vec(pressures(), 0..4);
    let words = (texts(), proptest::option::of(texts()), any::<bool>(), any::<bool>(), 0_usize..5);
    let of_visit = (texts(), texts(), any::<bool>());
    let numbers = (proptest::option::of(1.0..2000.0), proptest::option::of(90.0..260.0));
    (words, of_visit, looks(), looks(), any::<bool>(), air(), numbers).prop_map(
        |(words, of_visit, first, second, total, air, numbers)| {
            let (time, note, after_repair) = of_visit;
            let (name, tap, wet, signs_confirmed, call) = words;
            let second_at = if total { ReadAt::Total } else { ReadAt::Port(SUPPLY_PORT) };
            ReadingSet {
                name,
                time,
                note,
                after_repair,
                otherwise: after_repair,
                call: Call::ALL[call],
                tap,
                readings: vec![
                    Reading { at: ReadAt::Port(RETURN_PORT), looks: first },
                    Reading { at: second_at, looks: second },
                ],
                coil: if wet { CoilState::Wet } else { CoilState::Dry },
                parts_out: if total { vec![ElementId(3)] } else { Vec::new() },
                air,
                power: numbers.0.map(Power::from_watts),
                voltage: numbers.1.map(Voltage::from_volts),
                heat: HeatRead {
                    rise: numbers.1.map(|number| TemperatureRise::from_f(number / 3.0)),
                    input: numbers.0.map(|number| HeatRate::from_btuh(number * 250.0)),
                    efficiency: numbers.1.map(|number| number / 300.0),
                    meter_seconds: numbers.0,
                    meter_dial: numbers.1.map(|number| number / 30.0),
                    heating_value: numbers.0.map(|number| number + 300.0),
                    amps: numbers.0.map(|number| number / 10.0),
                    phase: if wet { Phase::Three } else { Phase::Single },
                },
                airflow: AirflowRead {
                    supply_grilles: numbers.0.map(Airflow::from_cfm).into_iter().collect(),
                    return_grilles: numbers.0.into_iter().chain(numbers.1).map(Airflow::from_cfm).collect(),
                    plate: PlateRead {
                        airflow: numbers.0.map(|number| Airflow::from_cfm(number + 50.0)),
                        at_one: numbers.1.map(Airflow::from_cfm),
                        exponent: if wet { 0.5 } else { 0.62 },
                        drop: numbers.1.map(|number| Pressure::from_in_wc(number / 700.0)),
                        usual_static: numbers.0.map(|number| Pressure::from_in_wc(number / 5000.0)),
                        plate_static: numbers.1.map(|number| Pressure::from_in_wc(number / 900.0)),
                    },
                },
                signs_confirmed,
            }
        },
    )
}

fn targets() -> impl Strategy<Value = Target> {
    prop_oneof![
        (1.0..9000.0).prop_map(|cfm| Target::Airflow(Airflow::from_cfm(cfm))),
        (0.5..25.0, 200.0..600.0).prop_map(|(tons, cfm)| Target::PerTon {
            capacity: Capacity::from_tons(tons),
            per_ton: Airflow::from_cfm(cfm),
        }),
        (1000.0..200_000.0, 5.0..100.0).prop_map(|(btuh, rise)| Target::HeatRise {
            output: HeatRate::from_btuh(btuh),
            rise: TemperatureRise::from_f(rise),
        }),
    ]
}

fn paths() -> impl Strategy<Value = AirPath> {
    let drop = (1.0..4000.0, 0.0..2.0, 1.0..=2.2);
    (
        0_usize..4,
        any::<bool>(),
        proptest::option::of(drop),
        0_usize..7,
        proptest::option::of(fractions()),
        proptest::option::of(1.0..=2.2),
    )
        .prop_map(|(kind, coil, drop, element, share, exponent)| {
            let basis = Basis {
                filter: PartInTest::Included,
                coil: if coil { CoilInTest::Dry } else { CoilInTest::Without },
                ..Basis::default()
            };
            let mut path = AirPath::for_equipment(EquipmentKind::ALL[kind], &basis);
            let last = path.elements.len() - 1;
            path.elements[last - element.min(last)].share = share;
            path.elements[0].exponent = exponent;
            path.elements[element.min(last)].drop = drop.map(|(cfm, loss, exponent)| {
                DropData::at(Airflow::from_cfm(cfm), Pressure::from_in_wc(loss), exponent).unwrap()
            });
            path
        })
}

fn fractions() -> impl Strategy<Value = f64> {
    prop_oneof![0.0..=1.0, (0_u8..=100).prop_map(|percent| f64::from(percent) / 100.0)]
}

fn data() -> impl Strategy<Value = DropData> {
    let rises = (proptest::collection::vec((1.0..900.0_f64, 0.0..0.4_f64, 0.0..5.9_f64), 1..4), 1.0..=2.2);
    rises.prop_map(|(steps, exponent)| {
        let mut at: (f64, f64) = (0.0, 0.0);
        let points = steps.into_iter().map(|(cfm, first, steepness)| {
            // No part's drop rises more steeply than the sixth power.
            let drop = if at.1 == 0.0 { first } else { at.1 * ((at.0 + cfm) / at.0).powf(steepness) };
            // Nor does one drop more than twice what the atmosphere weighs.
            at = (at.0 + cfm, drop.min(1000.0));
            (Airflow::from_cfm(at.0), Pressure::from_in_wc(at.1))
        });
        DropData::new(points.collect(), exponent).unwrap()
    })
}

fn runs() -> impl Strategy<Value = Run> {
    let section = (4.0..90.0, 0.3..1.0, 0_u8..3).prop_map(|(size, part, kind)| {
        let (long, short) = (Dimension::from_in(size), Dimension::from_in(size * part));
        match kind {
            0 => Section::round(long),
            1 => Section::rectangular(short, long),
            _ => Section::flat_oval(long, short),
        }
    });
    let wall = prop_oneof![
        (0_usize..8).prop_map(|index| Wall::from(Material::ALL[index])),
        (0.0..=0.3).prop_map(|compression| Wall::Flexible { compression }),
        (0.0..0.05).prop_map(|inches| Wall::Stiff(Dimension::from_in(inches))),
    ];
    (section, 0.1..5000.0, wall, 0.0..50.0).prop_map(|(section, length, wall, fittings)| Run {
        section,
        length: Length::from_ft(length),
        wall,
        fittings,
    })
}

fn openings() -> impl Strategy<Value = Opening> {
    (1.0..9999.0, fractions())
        .prop_map(|(face, free)| Opening { face: Area::from_in2(face), free_area: free.max(0.01) })
}

/// Every kind of change, on elements that may be gone.
fn kinds() -> impl Strategy<Value = ChangeKind> {
    let element = || (0_u32..12).prop_map(ElementId);
    let area = || (1.0..9999.0).prop_map(Area::from_in2);
    let stated = (element(), fractions(), 0_u8..3).prop_map(|(element, fraction, kind)| match kind {
        0 => ChangeKind::LessByHand(LessByHand { element, fraction }),
        1 => ChangeKind::CleanCoil(CleanCoil { element, fraction }),
        _ => ChangeKind::RepairRun(RepairRun { element, fraction }),
    });
    prop_oneof![
        stated,
        (element(), data()).prop_map(|(element, data)| ChangeKind::ByData(ByData { element, data })),
        (element(), area(), area()).prop_map(|(element, now, then)| ChangeKind::MoreFilterArea(MoreFilterArea {
            element,
            now,
            then
        })),
        (element(), 0.05..=20.0)
            .prop_map(|(element, factor)| ChangeKind::FilterLoading(FilterLoading { element, factor })),
        (element(), runs(), runs(), prop_oneof![Just(1.0), 0.01..=1.0]).prop_map(|(element, now, then, of_drop)| {
            ChangeKind::OtherDuct(OtherDuct { element, now, then, of_drop })
        }),
        (runs(), openings(), proptest::option::of(data()))
            .prop_map(|(run, grille, filter)| ChangeKind::SecondReturn(SecondReturn { run, grille, filter })),
        (element(), openings(), openings()).prop_map(|(element, now, then)| ChangeKind::OtherOpening(OtherOpening {
            element,
            now,
            then
        })),
        (element(), 1_u32..9, 1_u32..9).prop_map(|(element, now, then)| ChangeKind::OpenRegisters(OpenRegisters {
            element,
            now,
            then,
            of: now.max(then)
        })),
        texts().prop_map(|tap| ChangeKind::OtherTap(OtherTap { tap })),
        (0.5..=1.0).prop_map(|factor| ChangeKind::BelowTable(BelowTable { factor })),
    ]
}

fn changes() -> impl Strategy<Value = Vec<Change>> {
    let rest = (kinds(), proptest::option::of(0.0..9e5), texts(), any::<bool>());
    proptest::collection::vec(rest, 0..5).prop_map(|all| {
        let numbered = all.into_iter().zip(3..);
        numbered
            .map(|((kind, price, note, on), id)| Change {
                id: ChangeId(id),
                kind,
                switch: if on { Switch::On } else { Switch::Off },
                price,
                labour: price.filter(|_| id % 2 == 0).map(|price| price / 3.0),
                note,
            })
            .collect()
    })
}

fn ducts() -> impl Strategy<Value = DuctDesign> {
    let length = || proptest::option::of((1e-6..=2000.0).prop_map(Length::from_ft));
    (length(), length(), proptest::option::of((0.05..=5.0).prop_map(Pressure::from_in_wc))).prop_map(
        |(return_length, supply_length, design_static)| DuctDesign { return_length, supply_length, design_static },
    )
}

fn jobs() -> impl Strategy<Value = Job> {
    let about = (texts(), texts(), texts(), texts(), any::<bool>());
    let limits = (0.0..1.0, 0.001..1.0, 0.001..1.0, 0.0..1.0, 0.01..2.0);
    let rest = (proptest::option::of(0.5..25.0), 0_usize..4, any::<bool>(), limits);
    (
        about,
        paths(),
        proptest::collection::vec(sets(), 1..4),
        proptest::option::of(targets()),
        rest,
        (changes(), ducts()),
    )
        .prop_map(|(about, path, sets, target, (tons, openings, machine, limits), (changes, ducts))| {
            let (title, place, date, notes, illustrative) = about;
            let mut job = Job {
                title,
                place,
                date,
                notes,
                illustrative,
                machine: machine.then(small_machine),
                outdoor_unit: tons.map(Capacity::from_tons),
                return_openings: [
                    ReturnOpenings::Unstated,
                    ReturnOpenings::Bottom,
                    ReturnOpenings::OneSide,
                    ReturnOpenings::TwoSides,
                ][openings],
                path,
                judged: sets.len() - 1,
                sets,
                target,
                changes,
                ducts,
                ..Job::default()
            };
            job.limits.accept_band = limits.0;
            NamedSource::put(&mut job.sources, "accept_band_fraction", SourcePart::Name, &job.title);
            NamedSource::put(&mut job.sources, "guessed_odds", SourcePart::Date, &job.date);
            job.limits.return_drop = Pressure::from_in_wc(limits.1);
            job.limits.furnace_supply_drop = Pressure::from_in_wc(limits.2);
            job.limits.filter_drop = Pressure::from_in_wc(limits.3 / 2.0);
            job.limits.coil_drop = Pressure::from_in_wc(limits.1 / 2.0);
            job.limits.least_of_design = limits.0;
            job.limits.lost_air = limits.0 / 2.0;
            job.limits.most_out = 1.0 - limits.0 / 2.0;
            job.limits.duct_velocity = Velocity::from_fpm(1000.0 * limits.3 + 60.0);
            job.limits.grille_velocity = Velocity::from_fpm(900.0 * limits.3 + 60.0);
            job.limits.furnace_watts_per_cfm = limits.4 / 2.0;
            job.limits.least_static = Pressure::from_in_wc(limits.3);
            job.limits.watts_per_cfm = limits.4;
            job.accuracy.manometer_fraction = limits.0 / 7.0;
            job.accuracy.thermometer = TemperatureRise::from_f(limits.3);
            job.accuracy.heat_fraction = limits.0 / 3.0;
            job.accuracy.rated_heat_fraction = limits.0 / 2.0;
            job.accuracy.hood_fraction = limits.0 / 5.0;
            job.anchor = (limits.0 > 0.05).then(|| Anchor {
                by: if limits.1 > 0.3 { OpinionKind::SupplySum } else { OpinionKind::Watts },
                set: job.sets.len() - 1,
                scales: limits.2 > 0.4,
            });
            job.accuracy.plate_fraction = limits.0 / 6.0;
            job.accuracy.exponent = limits.3 / 3.0;
            job
        })
}

proptest! {
    #[test]
    fn every_job_comes_back_to_the_last_digit(job in jobs()) {
        let text = job_file::write(&job);
        let back = job_file::parse(&text).map_err(|refused| TestCaseError::fail(format!("{refused}\n{text}")))?;
        prop_assert_eq!(&back, &job, "{}", text);
        prop_assert_eq!(job_file::write(&back), text);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in any::<String>(), at in 0_usize..3000, junk in "[(\\[\\])\"0-9a-z,:]{0,6}") {
        prop_assert!(job_file::parse(&text).is_err());
        let at = GOLDEN.char_indices().map(|(index, _)| index).nth(at).unwrap_or(0);
        let spoiled = format!("{}{junk}{}", &GOLDEN[..at], &GOLDEN[at..]);
        if let Err(refused) = job_file::parse(&spoiled) {
            let told = refused.to_string();
            prop_assert!(!told.is_empty() && !told.contains('\n'), "{}", told);
        }
    }
}

#[test]
fn a_typed_humidity_and_station_pressure_stand_in_the_file_as_typed() {
    for percent in 0_u8..=100 {
        let mut job = Job::default();
        job.sets[0].air.humidity = f64::from(percent) / 100.0;
        job.sets[0].air.station_pressure = Some(Barometer::from_in_hg(24.7));
        let text = job_file::write(&job);
        assert!(text.contains(&format!("humidity_percent: {percent}.0")), "{text}");
        assert!(text.contains("station_pressure_in_hg: 24.7,"), "{text}");
    }
}

#[test]
fn an_empty_job_keeps_readings_typed_before_a_machine_is_chosen() {
    let mut job = Job::default();
    job.sets[0].readings = readings(&[-0.3], &[0.4]);
    assert_eq!(job_file::parse(&job_file::write(&job)), Ok(job));
}

#[test]
fn a_typed_share_and_change_stand_in_the_file_as_typed() {
    let mut job = job_file::parse(GOLDEN).unwrap();
    job.path.elements[1].share = Some(0.35);
    let element = job.path.elements[1].id;
    let kind = ChangeKind::RepairRun(RepairRun { element, fraction: 0.29 });
    job.changes.push(Change {
        id: ChangeId(1),
        kind,
        switch: Switch::Off,
        price: Some(240.0),
        labour: Some(90.0),
        note: "crushed".to_owned(),
    });
    let text = job_file::write(&job);
    for typed in [
        "Element(id: 2, kind: ReturnDuct, in: House, share_percent: 35.0),",
        "(id: 1, switch: Off, price: 240.0, labour: 90.0, note: \"crushed\", what: RepairRun(element: 2, fraction_percent: 29.0)),",
    ] {
        assert!(text.contains(typed), "{typed} is not in\n{text}");
    }
}

#[test]
fn what_is_stated_of_money_stands_in_one_line_and_comes_back() {
    let mut job = job_file::parse(GOLDEN).unwrap();
    assert!(!job_file::write(&job).contains("costs"));
    job.costs.labour_tax = Some(0.0);
    job.costs.currency = "EUR".to_owned();
    job.costs.valid_days = Some(30.0);
    job.costs.valid_until = "2026-12-31".to_owned();
    let line = "\n    costs: (labour_tax_fraction: 0.0, currency: \"EUR\", prices_hold_days: 30.0, prices_hold_until: \"2026-12-31\"),\n";
    assert!(job_file::write(&job).contains(line), "{}", job_file::write(&job));
    assert_eq!(job_file::parse(&job_file::write(&job)), Ok(job));
}

#[test]
fn stated_lengths_and_design_static_stand_in_one_line_and_nothing_stated_in_none() {
    let mut job = job_file::parse(GOLDEN).unwrap();
    assert!(job.ducts.is_empty() && !job_file::write(&job).contains("ducts"));
    job.ducts.return_length = Some(Length::from_ft(120.0));
    assert!(job_file::write(&job).contains("\n    ducts: (return_length_ft: 120.0),\n"), "{}", job_file::write(&job));
    job.ducts.supply_length = Some(Length::from_ft(180.5));
    job.ducts.design_static = Some(Pressure::from_in_wc(0.65));
    let line = "\n    ducts: (return_length_ft: 120.0, supply_length_ft: 180.5, design_static_in_wc: 0.65),\n";
    assert!(job_file::write(&job).contains(line), "{}", job_file::write(&job));
    assert_eq!(job_file::parse(&job_file::write(&job)), Ok(job));
}

#[test]
fn one_more_look_changes_one_line() {
    let before = job_file::parse(GOLDEN).unwrap();
    let mut after = before.clone();
    after.sets[0].readings[1].looks.push(Pressure::from_in_wc(0.39));
    let (before, after) = (job_file::write(&before), job_file::write(&after));
    let changed = before.lines().zip(after.lines()).filter(|(old, new)| old != new).count();
    assert_eq!((changed, before.lines().count()), (1, after.lines().count()), "{after}");
}
