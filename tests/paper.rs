//! What leaves the program as a drawing: read back by libraries that are not ours, and the same bytes every time.

use std::collections::BTreeSet;

use tapcross::files::demo;
use tapcross::model::facts::job::Job;
use tapcross::model::search;
use tapcross::paper::printed::{Asked, Reported, Shown, bytes};
use tapcross::report::form::{Form, Scale};

fn jobs() -> [(&'static str, Job); 3] {
    [("heat pump", demo::heat_pump()), ("gas furnace", demo::gas_furnace()), ("empty", Job::default())]
}

fn written(form: Form, job: &Job) -> Vec<u8> {
    let reported = [Reported::of("job.ron", job.clone())];
    bytes(form, &reported, Asked::One, Shown::default(), &search::to_the_end).unwrap()
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for (name, job) in jobs() {
        for form in [Form::Svg, Form::Png(Scale::new(0.5).unwrap())] {
            assert!(written(form, &job) == written(form, &job), "{name}: {form:?}");
        }
    }
}

/// Every text of an SVG, in the order in which it is drawn.
fn texts(svg: &str) -> Vec<String> {
    let document = roxmltree::Document::parse(svg).unwrap();
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    texts.map(|node| node.text().unwrap_or_default().replace('\u{a0}', " ")).collect()
}

#[test]
fn an_svg_is_sound_and_says_each_label_once() {
    for (name, job) in jobs() {
        let svg = String::from_utf8(written(Form::Svg, &job)).unwrap();
        let document = roxmltree::Document::parse(&svg).unwrap();
        assert_eq!(document.root_element().tag_name().name(), "svg", "{name}");
        let clips: BTreeSet<&str> = document
            .descendants()
            .filter(|node| node.has_tag_name("clipPath"))
            .filter_map(|node| node.attribute("id"))
            .collect();
        for used in document.descendants().filter_map(|node| node.attribute("clip-path")) {
            let id = used.trim_start_matches("url(#").trim_end_matches(')');
            assert!(clips.contains(id), "{name}: {used}");
        }
        for path in document.descendants().filter_map(|node| node.attribute("d")) {
            assert!(path.starts_with('M') && !path.contains("NaN") && !path.contains("inf"), "{name}: {path}");
        }
    }
    let said = texts(&String::from_utf8(written(Form::Svg, &demo::heat_pump())).unwrap());
    for label in ["tap 4", "tap 5", "as found", "Airflow, cfm", "1,200 · 0.83"] {
        assert_eq!(said.iter().filter(|text| *text == label).count(), 1, "{label}: {said:?}");
    }
}

#[test]
fn a_picture_has_its_size_and_is_drawn_on() {
    for (scale, width, height) in [(1.0, 720, 475), (2.0, 1440, 950)] {
        let file = written(Form::Png(Scale::new(scale).unwrap()), &demo::heat_pump());
        let mut reader = png::Decoder::new(std::io::Cursor::new(&file)).read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let frame = reader.next_frame(&mut pixels).unwrap();
        assert_eq!((frame.width, frame.height), (width, height));
        let inked = pixels.chunks_exact(3).filter(|pixel| **pixel != [255, 255, 255]).count();
        let share = inked as f64 / f64::from(width * height);
        assert!((0.05..0.95).contains(&share), "{share}");
    }
}
