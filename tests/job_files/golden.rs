//! A job of the first format opens for as long as the program lives.

use super::*;

#[test]
fn the_first_format_still_opens_and_means_the_same() {
    let job = job_file::parse(GOLDEN).unwrap();
    assert_eq!(job.title, "Two sets, \"quoted\", with é");
    assert!(job.illustrative);
    assert_eq!(job.outdoor_unit, Some(Capacity::from_tons(2.0)));
    assert_eq!(job.return_openings, ReturnOpenings::OneSide);
    let kinds: Vec<ElementKind> = job.path.elements.iter().map(|element| element.kind).collect();
    let furnace = AirPath::for_equipment(EquipmentKind::Furnace, &Basis::default());
    assert_eq!(kinds, furnace.elements.iter().map(|element| element.kind).collect::<Vec<_>>());
    assert_eq!(job.path.ports, furnace.ports);
    let filter = job.path.first(ElementKind::Filter).unwrap().drop.as_ref().unwrap();
    assert_eq!(filter, &DropData::at(Airflow::from_cfm(1000.0), Pressure::from_in_wc(0.12), 1.2).unwrap());
    assert!(job.changes.is_empty());
    assert!(job.path.elements.iter().all(|element| element.share.is_none() && element.exponent.is_none()));
    assert_eq!(job.sets.len(), 2);
    let set = job.set();
    assert_eq!((set.name.as_str(), set.call, set.tap.as_deref()), ("As found", Call::CoolingHigh, Some("3")));
    assert_eq!(set.readings, readings(&[-0.26, -0.25, -0.27], &[0.34]));
    assert_eq!((set.coil, set.power, set.voltage), (CoilState::Wet, Some(Power::from_watts(410.0)), None));
    assert_eq!(set.air.altitude, Altitude::from_ft(5280.0));
    assert_eq!(set.air.station_pressure, Some(Barometer::from_in_hg(24.7)));
    assert!((set.air.humidity - 0.45).abs() < f64::EPSILON);
    assert_eq!(job.sets[1].parts_out, [ElementId(3)]);
    assert_eq!(job.sets[1].readings[0], Reading { at: ReadAt::Total, looks: in_wc(&[0.53]) });
    let heat_rise = Target::HeatRise { output: HeatRate::from_btuh(42_700.0), rise: TemperatureRise::from_f(47.0) };
    assert_eq!(job.target, Some(heat_rise));
    assert!((job.limits.accept_band - 0.12).abs() < f64::EPSILON);
    assert_eq!(job.accuracy.port_offset, Pressure::from_in_wc(0.02));
    let machine = job.machine.unwrap();
    assert_eq!((machine.name.as_str(), machine.taps.len()), ("Invented F-53", 3));
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_change_nothing() {
    let windows = format!("\u{feff}{}", GOLDEN.replace('\n', "\r\n"));
    assert_eq!(job_file::parse(&windows), job_file::parse(GOLDEN));
}

#[test]
fn every_cut_is_told_as_a_cut_with_the_place_where_the_file_ends() {
    let after_format = GOLDEN.find("tapcross_job: 1").unwrap() + "tapcross_job: 1".len();
    let last = GOLDEN.trim_end().len() - 1;
    for (end, _) in GOLDEN.char_indices().filter(|(end, _)| (after_format..=last).contains(end)) {
        let told = job_file::parse(&GOLDEN[..end]).unwrap_err().to_string();
        let line = GOLDEN[..end].trim_end().matches('\n').count() + 1;
        let right = format!("The job is cut short: the file ends at line {line}, column ");
        assert!(
            told.starts_with(&right),
            "cut at byte {end} (…{:?}): {told}",
            &GOLDEN[..end].chars().rev().take(20).collect::<String>()
        );
    }
}
