//! The commissioning line: graded by hand, told alike in sentence, JSON and on paper.

use tapcross::edit::{self, Edit};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::figure_source::SourcePart;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::search;
use tapcross::model::verdicts::commissioning::{Commissioning, Grade};
use tapcross::model::wording;
use tapcross::model::wording::commissioning::{lines, sentences};
use tapcross::model::wording::paper;
use tapcross::report::json::Report;
use tapcross::units::UnitSystem;

fn with(mut job: Job, edits: impl IntoIterator<Item = Edit>) -> Job {
    for one in edits {
        edit::apply(&mut job, one).unwrap();
    }
    job
}

fn number(which: JobNumber, value: f64) -> Edit {
    Edit::Number(which, Some(value))
}

/// By hand, of the heat-pump demo: 1,200 of 1,385 cfm is 13 % short, ± 63/1,385 = 4.6 %: within 9 to 18 % lie both sides of 15 %.
#[test]
fn a_figure_is_graded_by_its_limit_and_by_its_doubt() {
    let job = demo::heat_pump();
    let of = |job: &Job| Commissioning::of(job, Answer::of(job).point().unwrap()).unwrap();
    let told = of(&job);
    let airflow = told.airflow.unwrap();
    assert!((airflow.value + 0.133).abs() < 0.003 && (airflow.spread - 0.046).abs() < 0.002, "{airflow:?}");
    assert_eq!(airflow.grade, Grade::CannotTell);
    assert_eq!(told.power, None, "nobody read watts");
    assert_eq!(told.rating.unwrap().2, Grade::Fail, "0.83 against 0.70");
    let limits = [(0.20, Grade::Pass), (0.05, Grade::Fail)];
    for (limit, grade) in limits {
        let job = with(job.clone(), [number(JobNumber::CommissionedAirflow, limit)]);
        assert_eq!(of(&job).airflow.unwrap().grade, grade, "{limit}");
    }
    // 450 W over 1,200 cfm are 0.375 W/cfm; ± of 3 %/√3·2 = 3.5 % and 5.3 % together make 6.3 %, 0.024.
    let read = with(job.clone(), [number(JobNumber::Power, 450.0)]);
    let power = of(&read).power.unwrap();
    assert!((power.value - 0.375).abs() < 0.003 && (power.spread - 0.0236).abs() < 0.001, "{power:?}");
    assert!((power.limit - 0.58).abs() < 1e-12 && power.grade == Grade::Pass);
    for (limit, grade) in [(0.37, Grade::CannotTell), (0.34, Grade::Fail)] {
        let job = with(read.clone(), [number(JobNumber::WattsPerCfm, limit)]);
        assert_eq!(of(&job).power.unwrap().grade, grade, "{limit}");
    }
    // A furnace has a limit of its own, and a test is not graded.
    let furnace = with(demo::gas_furnace(), [number(JobNumber::Power, 450.0)]);
    assert!((of(&furnace).power.unwrap().limit - 0.45).abs() < 1e-12);
    let test = with(job, [Edit::Otherwise(true)]);
    assert_eq!(Commissioning::of(&test, Answer::of(&test).point().unwrap()), None);
}

#[test]
fn the_line_says_figure_limit_source_and_grade_in_every_unit() {
    let job = with(demo::heat_pump(), [number(JobNumber::Power, 450.0)]);
    let answer = Answer::of(&job);
    let running = answer.point().unwrap();
    let told: Vec<String> = sentences(&job, running, UnitSystem::InchPound).into_iter().map(|(_, told)| told).collect();
    assert_eq!(
        told,
        [
            "Airflow against the target: −13 % ± 5 %, within ±15 %: cannot tell within the uncertainty (ANSI/RESNET/ACCA 310-2020, grade I, recalled)",
            "Blower's watts, as read: 0.37 W/cfm ± 0.02, at most 0.58 W/cfm: pass (Title 24 Part 6 §150.0(m)13, recalled)",
            "Total external static against the rating: 0.83 in. w.c. ± 0.02, at most 0.70 in. w.c.: fail (The machine's rating plate, as its table has it)",
        ]
    );
    let metric = lines(&job, running, UnitSystem::SiLitres);
    assert!(metric[1].found.contains("W per L/s") && metric[2].found.contains("Pa"), "{metric:?}");
    let unread = demo::heat_pump();
    let answer = Answer::of(&unread);
    let line = &lines(&unread, answer.point().unwrap(), UnitSystem::InchPound)[1];
    assert_eq!((line.found.as_str(), line.grade), ("not read", "cannot tell: read the watts"));
}

#[test]
fn the_report_has_what_the_line_says() {
    let job = with(demo::heat_pump(), [number(JobNumber::Power, 450.0)]);
    let answer = Answer::of(&job);
    let told = Commissioning::of(&job, answer.point().unwrap()).unwrap();
    let report = Report::of("a.ron", &job, &answer, search::to_the_end(&job));
    let json = &serde_json::to_value(&report).unwrap()["commissioning"];
    assert_eq!(json["airflow"]["off_target_fraction"], told.airflow.unwrap().value);
    assert_eq!(json["airflow"]["grade"], "cannot_tell");
    assert_eq!(json["power"]["watts_per_cfm"], told.power.unwrap().value);
    assert_eq!((&json["power"]["grade"], &json["rating"]["grade"]), (&"pass".into(), &"fail".into()));
    assert_eq!(json["rating"]["limit_in_wc"], 0.7);
}

/// A figure that a person changed never bears the name of the source that the program's own figure has: it is of whom they name, or of nobody.
#[test]
fn a_changed_limit_is_of_whom_it_is_named_after_and_else_of_nobody() {
    let named = |which, name: &str, date: &str| {
        [(SourcePart::Name, name), (SourcePart::Date, date)]
            .map(|(part, text)| Edit::Source(which, part, text.to_owned()))
    };
    let (airflow, watts) = (JobNumber::CommissionedAirflow, JobNumber::WattsPerCfm);
    let changed =
        with(demo::heat_pump(), [number(airflow, 0.2), number(watts, 0.5), number(JobNumber::ReturnDrop, 0.1)]);
    let sources = |job: &Job| {
        let answer = Answer::of(job);
        let told = lines(job, answer.point().unwrap(), UnitSystem::InchPound);
        let json = serde_json::to_value(Report::of("a.ron", job, &answer, search::to_the_end(job))).unwrap();
        assert_eq!(json["commissioning"]["airflow"]["source"], told[0].source.as_str());
        let of = |which: JobNumber| {
            let all = json["figure_sources"].as_array().unwrap();
            all.iter().find(|one| one["figure"] == which.report()).unwrap().clone()
        };
        let returns = answer.findings.iter().map(|one| wording::sentence(job, one, UnitSystem::InchPound));
        let returns: Vec<String> = returns.filter(|told| told.contains("is a warning")).collect();
        (told[0].source.clone(), told[1].source.clone(), of(airflow), returns.concat())
    };
    let (of_airflow, of_watts, json, of_return) = sources(&changed);
    assert_eq!((of_airflow.as_str(), of_watts.as_str()), ("Changed, no source named", "Changed, no source named"));
    assert_eq!((&json["from"], &json["name"]), (&"unsaid".into(), &"".into()));
    assert!(of_return.contains("(changed, no source named)") && !of_return.contains("common practice"), "{of_return}");
    let whose = with(
        changed,
        named(airflow, "City of Elm (invented)", "2024").into_iter().chain(named(
            JobNumber::ReturnDrop,
            "Our own rule",
            "",
        )),
    );
    let (of_airflow, of_watts, json, of_return) = sources(&whose);
    assert_eq!((of_airflow.as_str(), of_watts.as_str()), ("City of Elm (invented), 2024", "Changed, no source named"));
    assert_eq!((&json["from"], &json["date"]), (&"named".into(), &"2024".into()));
    assert!(of_return.contains("(Our own rule)"), "{of_return}");
    let said = paper::accuracy(&whose, UnitSystem::InchPound);
    assert!(said.contains("20 % (City of Elm (invented), 2024)") && !said.contains("practice"), "{said}");
    // The program's own figure again, and nobody named.
    let back = with(whose, named(airflow, "", " ").into_iter().chain([number(airflow, 0.15)]));
    let (of_airflow, _, json, _) = sources(&back);
    assert_eq!((of_airflow.as_str(), &json["from"]), (airflow.number().source, &"built_in".into()));
}
