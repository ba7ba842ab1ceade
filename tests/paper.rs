//! What leaves the program as a drawing: read back by libraries that are not ours, and the same bytes every time.

#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/rich_path.rs"]
mod rich_path;
#[path = "support/three_options.rs"]
mod three_options;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use serde_json::Value;

use tapcross::edit::{Edit, OptionEdit, apply};
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::answer::Answer;
use tapcross::model::change::kinds;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::caution::Caution;
use tapcross::model::facts::change::{ByData, ChangeId, LessByHand, OtherTap};
use tapcross::model::facts::company::{Company, Picture};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::limits::MOST_TYPED_TAPS;
use tapcross::model::facts::options::Options;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::target::Target;
use tapcross::model::first_guess;
use tapcross::model::search;
use tapcross::model::side_by_side::columns;
use tapcross::model::wording::{cautions, paper, prices};
use tapcross::paper::printed::{Asked, Reported, Shown, bytes};
use tapcross::report::form::{Form, Paper, Scale};
use tapcross::report::json::Report;
use tapcross::units::{Airflow, HeatRate, Power, Pressure, TemperatureRise, UnitSystem, show};

fn jobs() -> [(&'static str, Job); 6] {
    [
        ("heat-pump", demo::heat_pump()),
        ("gas-furnace", demo::gas_furnace()),
        ("nine-changes", nine_changes::job()),
        ("rich-path", rich_path::job()),
        ("three-options", three_options::job()),
        ("empty", Job::default()),
    ]
}

fn written(form: Form, job: &Job) -> Vec<u8> {
    let reported = [Reported::of("job.ron", job.clone())];
    bytes(form, &reported, Asked::One, &Shown::default(), &search::to_the_end).unwrap()
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for (name, job) in jobs() {
        for form in [Form::Svg, Form::Png(Scale::new(0.5).unwrap()), Form::Pdf(Paper::A4), Form::FieldSheet(Paper::A4)]
        {
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

/// What `pdftotext` and `pdftoppm` make of a PDF; nothing, and said so, where they are missing.
///
/// # Panics
/// Where `TAPCROSS_NEED_PICTURES` is set.
fn poppler(tool: &str, words: &[&str], file: &Path, rest: &[&str]) -> Option<Vec<u8>> {
    let ran = Command::new(tool).args(words).arg(file).args(rest).output();
    match ran {
        Ok(output) => {
            assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&output.stderr));
            assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{tool} has something to say of the file");
            Some(output.stdout)
        }
        Err(error) => {
            assert!(
                std::env::var_os("TAPCROSS_NEED_PICTURES").is_none(),
                "{tool} ({error}), and TAPCROSS_NEED_PICTURES is set"
            );
            println!("skipped: no {tool} here (Debian's poppler-utils)");
            None
        }
    }
}

/// A PDF of a job in a folder, and its text on one line.
fn printed(folder: &Path, name: &str, job: &Job, paper: Paper) -> Option<(PathBuf, String)> {
    let file = folder.join(format!("{name}-{}.pdf", paper.name()));
    std::fs::write(&file, written(Form::Pdf(paper), job)).unwrap();
    let text = text_of(&file, &[])?;
    Some((file, text))
}

/// The text of a PDF on one line; `-layout` reads it line by line as it stands.
fn text_of(file: &Path, words: &[&str]) -> Option<String> {
    let text = poppler("pdftotext", &[&["-enc", "UTF-8"], words].concat(), file, &["-"])?;
    let text = String::from_utf8(text).unwrap().replace('\u{a0}', " ");
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Every figure of a report's JSON that is on paper, as the paper shows it.
fn shown_figures(json: &Value) -> Vec<String> {
    let units = UnitSystem::InchPound;
    let flow = |value: &Value| Some(show::airflow_bare(Airflow::from_cfm(value.as_f64()?), units));
    let drop = |value: &Value| Some(show::pressure_bare(Pressure::from_in_wc(value.as_f64()?), units));
    let spread = |value: &Value| Some(show::spread_bare(Airflow::from_cfm(value.as_f64()?), units));
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let point = &json["operating_point"];
    let mut all = vec![flow(&point["airflow_cfm"]), spread(&point["u95_airflow_cfm"]), drop(&point["tesp_in_wc"])];
    for tap in list(&json["taps"]).iter().chain(&list(&json["after"]["taps"])) {
        let point = &tap["point"];
        all.extend([flow(&point["airflow_cfm"]), spread(&point["u95_airflow_cfm"]), drop(&point["tesp_in_wc"])]);
        all.push(point["of_target_fraction"].as_f64().map(show::percent));
        all.push(point["power_watts"].as_f64().map(|watts| show::power_bare(Power::from_watts(watts))));
    }
    for read in list(&json["readings"]["places"]) {
        all.push(drop(&read["average_in_wc"]));
    }
    let on = list(&json["changes"]).into_iter().filter(|change| change["on"] == true);
    all.extend(on.map(|change| change["price"].as_f64().map(|price| format!("${}", show::trimmed(price, 2)))));
    all.into_iter().flatten().collect()
}

#[test]
fn every_figure_on_paper_is_that_of_the_json() {
    let folder = tempfile::tempdir().unwrap();
    for (name, job) in jobs() {
        let report = Report::of("job.ron", &job, &tapcross::model::answer::Answer::of(&job), search::to_the_end(&job));
        let json = serde_json::to_value(&report).unwrap();
        let Some((_, text)) = printed(folder.path(), name, &job, Paper::Letter) else {
            return;
        };
        let figures = shown_figures(&json);
        assert!(figures.len() > 20 || job == Job::default(), "{name}: {figures:?}");
        for figure in &figures {
            assert!(
                text.split(' ').any(|word| word.trim_matches(|letter| "(),.;:".contains(letter)) == figure)
                    || figure.contains(' ') && text.contains(figure.as_str()),
                "{name}: {figure} is not in: {text}"
            );
        }
        for sentence in json["findings"].as_array().unwrap().iter().chain(json["cautions"].as_array().unwrap()) {
            let sentence = sentence["sentence"].as_str().unwrap().trim_end_matches('.');
            assert!(text.contains(sentence), "{name}: {sentence} is not in: {text}");
        }
        if !job.title.is_empty() {
            assert!(text.contains(&job.title), "{name}");
        }
        // A text under its halo is found once.
        assert!(text.matches("as found 1").count() < 2, "{name}");
    }
}

/// How many pages a PDF has, and all that is told of it.
fn pages_of(file: &Path) -> (usize, String) {
    let told = String::from_utf8(poppler("pdfinfo", &[], file, &[]).unwrap()).unwrap();
    let pages = told.lines().find(|line| line.starts_with("Pages:")).unwrap()[6..].trim().parse().unwrap();
    (pages, told)
}

/// The pages as pictures, where a person wants to look at them.
fn pictured(file: &Path, name: &str, paper: Paper) {
    if let Some(out) = std::env::var_os("TAPCROSS_PICTURES").map(PathBuf::from) {
        std::fs::create_dir_all(&out).unwrap();
        let stem = out.join(format!("{name}-{}", paper.name()));
        poppler("pdftoppm", &["-r", "100", "-png"], file, &[&stem.to_string_lossy()]);
    }
}

#[test]
fn a_report_is_drawn_on_every_page_of_either_paper() {
    let folder = tempfile::tempdir().unwrap();
    for (name, job) in jobs() {
        for paper in Paper::ALL {
            let Some((file, text)) = printed(folder.path(), name, &job, paper) else {
                return;
            };
            let (pages, told) = pages_of(&file);
            assert!((1..=3).contains(&pages), "{name}: {pages} pages");
            assert!(text.contains(&format!("page {pages} of {pages}")), "{name}");
            let (width, height) = paper.size();
            assert!(told.contains(&format!("{width} x {height} pts")), "{name}: {told}");
            let fonts = String::from_utf8(poppler("pdffonts", &[], &file, &[]).unwrap()).unwrap();
            for line in fonts.lines().skip(2) {
                assert!(line.contains("Identity-H       yes yes yes"), "embedded, cut down, with its letters: {line}");
            }
            pictured(&file, name, paper);
        }
    }
}

/// A company with a logo whose left half is seen through.
fn company() -> Company {
    let (width, height) = (120_u32, 40_u32);
    let pixel = |at: u32| if at % width < width / 2 { [200, 60, 20, 120] } else { [20, 90, 160, 255] };
    let rgba: Vec<u8> = (0..width * height).flat_map(pixel).collect();
    Company {
        name: "Alder Air (invented)".to_owned(),
        address: "1 Alder Street".to_owned(),
        town: "Nowhere".to_owned(),
        contact: "555 0100".to_owned(),
        logo: Some(Picture { width, height, rgba: rgba.into() }),
    }
}

/// A price whose letters stood on two lines would read as another: long ones, of currencies with letters too, beside as many options as a job has.
#[test]
fn no_price_is_broken_on_paper() {
    let folder = tempfile::tempdir().unwrap();
    for (currency, options) in [("", 3), ("EUR", 3), ("EUR", 6)] {
        let mut job = three_options::job();
        apply(&mut job, Edit::Currency(currency.to_owned())).unwrap();
        for _ in 3..options {
            apply(&mut job, Edit::Option(OptionEdit::Copy)).unwrap();
        }
        let dear = job.changes[0].id;
        apply(&mut job, Edit::ChangePrice(dear, Some(11_850.5))).unwrap();
        let Some((_, text)) = printed(folder.path(), "dear", &job, Paper::Letter) else {
            return;
        };
        let totals = columns(&job, &Answer::of(&job), Answer::of).into_iter().filter_map(|option| option.price());
        for price in totals.map(|(price, _)| price).chain([11_850.5]) {
            let told = show::money(price, currency);
            let number = told.split_whitespace().next().unwrap_or_default();
            assert!(text.contains(number), "{number} of {options} options: {text}");
        }
    }
}

/// What could be left with a customer today: two pages of either paper, with whose they are, how long prices hold and where to sign.
#[test]
fn three_options_and_their_company_are_two_pages() {
    let folder = tempfile::tempdir().unwrap();
    let job = three_options::job();
    let reported = [Reported::of("job.ron", job.clone())];
    let shown = Shown { company: Some(Arc::new(company())), ..Shown::default() };
    for paper in Paper::ALL {
        let file = folder.path().join(format!("three-{}.pdf", paper.name()));
        let made = bytes(Form::Pdf(paper), &reported, Asked::One, &shown, &search::to_the_end).unwrap();
        assert!(made == bytes(Form::Pdf(paper), &reported, Asked::One, &shown, &search::to_the_end).unwrap());
        std::fs::write(&file, made).unwrap();
        let Some(text) = text_of(&file, &[]) else {
            return;
        };
        pictured(&file, "three-with-company", paper);
        assert_eq!(pages_of(&file).0, 2, "{}", paper.name());
        let rest = [
            "Alder Air (invented)",
            "1 Alder Street · Nowhere · 555 0100",
            "Prices hold for 30 days from the day that the technician signs below.",
            "Worths do not add up",
            "Option chosen",
            "Customer, date",
            "Larger filter",
            "The least work, done in a morning",
            "Labour and material",
            "$1,894.05",
            "Tapcross 0.1.0",
        ];
        for told in rest {
            assert!(text.contains(told), "{told} is not in: {text}");
        }
        let images = String::from_utf8(poppler("pdfimages", &["-list"], &file, &[]).unwrap()).unwrap();
        let told: Vec<Vec<&str>> = images.lines().skip(2).map(|line| line.split_whitespace().collect()).collect();
        let kinds: Vec<[&str; 4]> = told.iter().map(|of| [of[2], of[3], of[4], of[5]]).collect();
        assert_eq!(kinds, [["image", "120", "40", "rgb"], ["smask", "120", "40", "gray"]], "{images}");
    }
}

/// The gas-furnace demo with three options of up to four changes, one of them not priced, held against a target in cooling and one in heating.
fn four_changes_with_heating() -> Job {
    let mut job = demo::gas_furnace();
    let element = |job: &Job, kind| job.path.first(kind).unwrap().id;
    let (filter, duct) = (element(&job, ElementKind::Filter), element(&job, ElementKind::SupplyDuct));
    let data = DropData::at(Airflow::from_cfm(1_000.0), Pressure::from_in_wc(0.08), 1.2).unwrap();
    let second = kinds::tray().find(|card| card.name == "Second return").unwrap();
    let on = element(&job, ElementKind::ReturnDuct);
    let second = first_guess::first(second, on, &job, &Answer::of(&job)).unwrap();
    let rise = TemperatureRise::from_f(55.0);
    let heat = Target::HeatRise { output: HeatRate::from_btuh(64_000.0), rise };
    let price = |id, price| Edit::ChangePrice(ChangeId(id), Some(price));
    let option = |edit| Edit::Option(edit);
    let named = |name: &str| Edit::Option(OptionEdit::Name(name.to_owned()));
    let edits = [
        Edit::TargetOf(Call::HeatingHigh, Some(heat)),
        Edit::Number(JobNumber::FanHours, Some(2_000.0)),
        Edit::Number(JobNumber::EnergyPrice, Some(0.15)),
        Edit::Number(JobNumber::Tax, Some(0.07)),
        Edit::AddChange(ByData { element: filter, data }.into()),
        price(1, 240.0),
        named("Filter"),
        option(OptionEdit::Reason("Least work, no dust from cutting".to_owned())),
        option(OptionEdit::Copy),
        Edit::AddChange(second),
        price(2, 690.0),
        named("Filter and second return"),
        option(OptionEdit::Reason("Quieter, and cools the far room".to_owned())),
        option(OptionEdit::Copy),
        Edit::AddChange(LessByHand { element: duct, fraction: 0.4 }.into()),
        price(3, 1_850.0),
        Edit::AddChange(OtherTap { tap: "3".to_owned() }.into()),
        named("Supply duct as well"),
        option(OptionEdit::Reason(String::new())),
        option(OptionEdit::Show(1)),
    ];
    for one in edits {
        apply(&mut job, one).unwrap();
    }
    job
}

/// A customer gets two pages of either paper with all of it.
#[test]
fn options_of_four_changes_with_heating_are_two_pages() {
    let folder = tempfile::tempdir().unwrap();
    for paper in Paper::ALL {
        let job = four_changes_with_heating();
        let Some((file, text)) = printed(folder.path(), "four", &job, paper) else {
            return;
        };
        pictured(&file, "four-changes", paper);
        assert_eq!(pages_of(&file).0, 2, "{}", paper.name());
        for told in ["Rise, heating, high", "730 kWh, $109", "$2,780, 1 of 4 not priced", "$995.10", "Option chosen"] {
            assert!(text.contains(told), "{told} is not in: {text}");
        }
    }
}

/// A report without alternatives has its price with labour, tax and total as well; what is not priced is said beside each sum.
#[test]
fn a_report_of_one_option_says_labour_tax_and_total() {
    let folder = tempfile::tempdir().unwrap();
    let three = three_options::job();
    let (changes, option) = (three.all_options()[1].changes.clone(), Options::default());
    let mut one = Job { changes, options: option, ..three };
    for (name, prices) in [
        ("all", ["$1,830", "$915 + $915", "$1,894.05"]),
        ("some", ["$380, 1 of 2 not priced", "$190 + $190", "$393.30, 1 of 2 not priced"]),
    ] {
        if name == "some" {
            (one.changes[1].price, one.changes[1].labour) = (None, None);
        }
        assert_eq!(prices::of_change(&one, &one.changes[1]), if name == "all" { "$1,450" } else { "not priced" });
        let Some((file, text)) = printed(folder.path(), name, &one, Paper::Letter) else {
            return;
        };
        pictured(&file, &format!("one-option-{name}"), Paper::Letter);
        for told in prices.into_iter().chain(["Labour and material", "Price with tax (7 %, labour 0 %)"]) {
            assert!(text.contains(told), "{name}: {told} is not in: {text}");
        }
    }
}

/// A colleague who checks the report has to know that another table of that name is kept.
#[test]
fn a_table_that_is_not_that_of_the_library_says_so_on_paper() {
    let folder = tempfile::tempdir().unwrap();
    let same = demo::heat_pump();
    let mut other = same.clone();
    other.machine.as_mut().unwrap().rated_maximum = Some(Pressure::from_in_wc(0.8));
    let library = Arc::new(Library::shipped().0);
    for (job, library, is_told) in
        [(&other, Arc::clone(&library), true), (&same, library, false), (&other, Arc::default(), false)]
    {
        let file = folder.path().join("report.pdf");
        let shown = Shown { library, ..Shown::default() };
        let reported = [Reported::of("job.ron", job.clone())];
        let made = bytes(Form::Pdf(Paper::Letter), &reported, Asked::One, &shown, &search::to_the_end).unwrap();
        std::fs::write(&file, made).unwrap();
        let Some(text) = text_of(&file, &[]) else {
            return;
        };
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let told = "This job's table is not the library's of that name; job against library: rated maximum: 0.80 against 0.70 in. w.c.";
        assert_eq!(words.contains(told), is_told, "{words}");
    }
}

/// The heat-pump demo with a machine of as many taps as can be typed, each by a name of several words.
fn of_many_taps() -> Job {
    let mut job = demo::heat_pump();
    let table = job.machine.as_mut().unwrap();
    let first = table.taps[0].clone();
    table.calls.clear();
    table.taps = (1..=MOST_TYPED_TAPS)
        .map(|number| {
            let mut tap = first.clone();
            tap.name = format!("jumper {number} up");
            tap
        })
        .collect();
    job.sets[0].tap = Some("jumper 3 up".to_owned());
    job.changes.clear();
    job
}

#[test]
fn a_field_sheet_is_one_page_with_every_tap_call_port_and_caution_and_nothing_that_was_read() {
    let folder = tempfile::tempdir().unwrap();
    for (name, job) in jobs().into_iter().chain([("many-taps", of_many_taps())]) {
        let answer = Answer::of(&job);
        for on in Paper::ALL {
            let file = folder.path().join(format!("sheet-{name}-{}.pdf", on.name()));
            std::fs::write(&file, written(Form::FieldSheet(on), &job)).unwrap();
            let Some(text) = text_of(&file, &["-layout"]) else {
                return;
            };
            pictured(&file, &format!("sheet-{name}"), on);
            let has = |wanted: &str| assert!(text.contains(wanted), "{name}: {wanted} is not in: {text}");
            let (pages, told) = pages_of(&file);
            let (width, height) = on.size();
            assert!(pages == 1 && told.contains(&format!("{width} x {height} pts")), "{name}: {told}");
            assert!(told.contains("Field sheet"), "{name}: {told}");
            has(&Call::ALL.map(Call::name).join(" "));
            let taps: Vec<&str> =
                job.machine.iter().flat_map(|table| &table.taps).map(|tap| tap.name.as_str()).collect();
            has(&taps.join(" "));
            for port in &job.path.ports {
                has(&paper::read_at(&job.path, ReadAt::Port(port.id)));
                has(&job.path.said(port.after));
            }
            for side in ["Static before the blower", "Static after the blower", "Total external static"] {
                has(side);
            }
            for caution in cautions::of_job(&job, &answer).into_iter().chain([Caution::LiveCircuits]) {
                let told = cautions::told(caution, &job, &answer);
                let said = if caution == Caution::Drilling { told.sentence } else { told.short };
                has(&format!("{}: {}", told.word, said));
            }
            has(&job.title);
            has(&job.place);
            for reading in job.sets.iter().flat_map(|set| &set.readings) {
                let read = show::pressure_bare(reading.average().unwrap(), UnitSystem::InchPound);
                assert!(!text.contains(read.trim_start_matches('−')), "{name}: {read} was read");
            }
            let burns = job.machine.as_ref().map(|table| table.kind.burns());
            assert_eq!(text.contains("Gas meter"), burns != Some(false), "{name}");
            assert_eq!(text.contains("heater's current"), burns != Some(true), "{name}");
        }
    }
}

#[test]
fn a_field_sheet_has_the_units_that_are_shown() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sheet.pdf");
    let reported = [Reported::of("job.ron", demo::gas_furnace())];
    let shown = Shown { units: UnitSystem::SiLitres, ..Shown::default() };
    let form = Form::FieldSheet(Paper::A4);
    std::fs::write(&file, bytes(form, &reported, Asked::One, &shown, &search::to_the_end).unwrap()).unwrap();
    let Some(text) = text_of(&file, &["-layout"]) else {
        return;
    };
    for unit in ["rooms, Pa,", "°C", "Supply grilles, L/s"] {
        assert!(text.contains(unit), "{unit}: {text}");
    }
    assert!(!text.contains("in. w.c.") && !text.contains("cfm") && !text.contains("°F"), "{text}");
}
