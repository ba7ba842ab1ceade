//! Command lines, and streams that fail.

use super::*;

fn parsed(words: &[&str]) -> Result<Invocation, UsageError> {
    parse(words.iter().map(OsString::from))
}

fn reported(jobs: &[&str], output: Output) -> Result<Invocation, UsageError> {
    written(jobs, Form::Json, output)
}

#[expect(clippy::unnecessary_wraps, reason = "stands beside the results that it is compared with")]
fn written(jobs: &[&str], form: Form, output: Output) -> Result<Invocation, UsageError> {
    // Those that name a paper name A4.
    let on_paper_of_settings = form.paper() == Some(Paper::Letter);
    Ok(Invocation::Report { jobs: jobs.iter().map(PathBuf::from).collect(), form, on_paper_of_settings, output })
}

#[expect(clippy::unnecessary_wraps, reason = "stands beside the results that it is compared with")]
fn window(job: Option<&str>) -> Result<Invocation, UsageError> {
    Ok(Invocation::Window { job: job.map(PathBuf::from) })
}

#[test]
fn every_form_of_the_command_line_is_understood() {
    let to_file = || Output::File("a.json".into());
    let cases: &[(&[&str], Result<Invocation, UsageError>)] = &[
        (&[], window(None)),
        (&["a.ron"], window(Some("a.ron"))),
        (&["--", "report"], window(Some("report"))),
        (&["./report"], window(Some("./report"))),
        (&["report", "a.ron"], reported(&["a.ron"], Output::Standard)),
        (&["report", "report"], reported(&["report"], Output::Standard)),
        (&["report", "a.ron", "--out", "-"], reported(&["a.ron"], Output::Standard)),
        (&["report", "a.ron", "--out=-"], reported(&["a.ron"], Output::Standard)),
        (&["report", "a.ron", "--out", "a.json"], reported(&["a.ron"], to_file())),
        (&["report", "--out=a.json", "a.ron"], reported(&["a.ron"], to_file())),
        (&["-o", "a.json", "report", "a.ron", "b.ron"], reported(&["a.ron", "b.ron"], to_file())),
        (&["report", "a.ron", "--out", "a.svg"], written(&["a.ron"], Form::Svg, Output::File("a.svg".into()))),
        (
            &["report", "a.ron", "b.ron", "--table=curves", "--out", "a.csv"],
            written(&["a.ron", "b.ron"], Form::Csv(Table::Curves), Output::File("a.csv".into())),
        ),
        (
            &["report", "a.ron", "--paper", "A4", "--out", "a.pdf"],
            written(&["a.ron"], Form::Pdf(Paper::A4), Output::File("a.pdf".into())),
        ),
        (
            &["report", "a.ron", "--scale", "4", "--out", "a.PNG"],
            written(&["a.ron"], Form::Png(Scale::new(4.0).unwrap()), Output::File("a.PNG".into())),
        ),
        (&["sheet"], written(&[], Form::FieldSheet(Paper::Letter), Output::Standard)),
        (
            &["report", "a.ron", "-o", "a.pdf"],
            written(&["a.ron"], Form::Pdf(Paper::Letter), Output::File("a.pdf".into())),
        ),
        (&["./sheet"], window(Some("./sheet"))),
        (&["report", "sheet"], reported(&["sheet"], Output::Standard)),
        (
            &["sheet", "a.ron", "--paper=a4", "-o", "a.PDF"],
            written(&["a.ron"], Form::FieldSheet(Paper::A4), Output::File("a.PDF".into())),
        ),
        (&["report", "--", "-a.ron"], reported(&["-a.ron"], Output::Standard)),
        (&["report", "--help"], Ok(Invocation::Help)),
        (&["-h"], Ok(Invocation::Help)),
        (&["--version"], Ok(Invocation::Version)),
        (&["-V", "a.ron"], Ok(Invocation::Version)),
    ];
    for (words, expected) in cases {
        assert_eq!(&parsed(words), expected, "{words:?}");
    }
}

#[test]
fn what_is_not_understood_is_said_in_one_line() {
    let cases: &[(&[&str], &str)] = &[
        (&["--verbose"], "unknown option --verbose; see tapcross --help"),
        (&["report", "-x", "a.ron"], "unknown option -x; see tapcross --help"),
        (&["--help=yes"], "--help takes no value; see tapcross --help"),
        (&["report"], "report needs a job: tapcross report JOB.ron --out FILE.json"),
        (&["report", "a.ron", "--out"], "--out needs a file, or - for standard output"),
        (&["report", "a.ron", "--out="], "--out needs a file, or - for standard output"),
        (&["report", "a.ron", "-o", "b", "-o", "c"], "--out is given twice; all jobs go into one report"),
        (&["a.ron", "--out", "b.json"], "--out belongs to a report: tapcross report JOB.ron --out FILE.json"),
        (
            &["report", "a.ron", "--out", "a.docx"],
            "--out a.docx has an ending that no report has; a report ends in one of .pdf, .json, .csv, .svg, .png",
        ),
        (
            &["report", "a.ron", "b.ron", "--out", "a.svg"],
            "a .svg holds the chart of one job, and 2 are named; name one",
        ),
        (&["report", "a.ron", "-o", "a.png", "--scale", "0"], "--scale is given 0; it takes a number from 0.5 to 10"),
        (&["report", "a.ron", "-o", "a.png", "--scale"], "--scale is given nothing; it takes a number from 0.5 to 10"),
        (&["report", "a.ron", "-o", "a.pdf", "--paper=a5"], "--paper is given a5; it takes letter or a4"),
        (
            &["report", "a.ron", "-o", "a.csv", "--table=all"],
            "--table is given all; it takes taps or curves or options",
        ),
        (
            &["report", "a.ron", "--table", "taps", "--table", "taps", "-o", "a.csv"],
            "--table is given twice; it takes one value",
        ),
        (
            &["report", "a.ron", "--table", "taps"],
            "--table says nothing of this file; it belongs to one that ends in .csv",
        ),
        (
            &["report", "a.ron", "--scale", "2", "-o", "a.csv"],
            "--scale says nothing of this file; it belongs to one that ends in .png",
        ),
        (&["a.ron", "--scale", "2"], "--scale belongs to a report: tapcross report JOB.ron --out FILE --scale ..."),
        (&["sheet", "-o", "a.json"], "--out a.json is no name of a field sheet, which is a PDF; name a .pdf file"),
        (
            &["sheet", "--scale", "2", "-o", "a.pdf"],
            "--scale says nothing of this file; it belongs to one that ends in .png",
        ),
        (&["sheet", "-"], "jobs and tables are read from files, not from standard input (-)"),
        (&["report", "-"], "jobs and tables are read from files, not from standard input (-)"),
        (&["tables", "a.csv"], "tables needs a file and a place: tapcross tables FILE.csv --kind NAME --out FILE.ron"),
        (
            &["tables", "-o", "a.ron"],
            "tables needs a file and a place: tapcross tables FILE.csv --kind NAME --out FILE.ron",
        ),
        (
            &["tables", "a.csv", "-o", "a.ron", "--kind", "boiler"],
            "--kind is given boiler; it takes furnace or draw-through or blow-through or no-return-duct",
        ),
        (&["tables", "a.csv", "-o", "a.ron", "--airflow=cm"], "--airflow is given cm; it takes cfm or l/s or m3/h"),
        (
            &["tables", "a.csv", "--scale=2", "-o", "a.ron"],
            "--scale belongs to a report: tapcross report JOB.ron --out FILE --scale ...",
        ),
        (
            &["report", "a.ron", "--replace"],
            "--replace belongs to tables: tapcross tables FILE.csv --out FILE.ron --replace ...",
        ),
        (&["a.ron", "b.ron"], "the window opens one job, and 2 are named; for several use tapcross report"),
    ];
    for (words, sentence) in cases {
        assert_eq!(parsed(words).unwrap_err().to_string(), *sentence, "{words:?}");
    }
}

/// `tapcross report --out *.ron` would put a report in the place of the first job.
#[test]
fn a_report_never_takes_a_jobs_place() {
    for words in [
        &["report", "--out", "a.ron", "b.ron"][..],
        &["report", "b.ron", "--out", "new.RON"],
        &["report", "job", "--out", "./job"],
        &["sheet", "a.pdf", "--out", "./a.pdf"],
        &["sheet", "--out", "a.ron"],
    ] {
        assert!(matches!(parsed(words), Err(UsageError::OutIsAJob(_))), "{words:?}");
    }
}

/// A stream that answers every write with one kind of error.
struct Broken(ErrorKind);

impl Write for Broken {
    fn write(&mut self, _bytes: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Err(self.0.into())
    }
}

#[test]
fn a_reader_that_has_seen_enough_is_no_error_and_a_full_disk_is_one() {
    assert_eq!(to_stream(&mut Broken(ErrorKind::BrokenPipe), b"text"), Ok(()));
    let full = to_stream(&mut Broken(ErrorKind::StorageFull), b"text").unwrap_err();
    assert!(full.starts_with("standard output cannot be written ("), "{full}");
}

#[test]
fn an_error_is_one_line_with_the_path_first() {
    let refused = anyhow::anyhow!("There is no such file: a b.ron");
    assert_eq!(path_first(Path::new("a b.ron"), &refused), "a b.ron: There is no such file");
    let mut err = Vec::new();
    complain(&mut err, "two\nlines");
    assert_eq!(err, b"tapcross: two lines\n");
}

#[cfg(unix)]
#[test]
fn names_that_are_not_text_are_taken_as_they_are() {
    use std::os::unix::ffi::OsStringExt as _;
    let name = OsString::from_vec(b"caf\xe9.ron".to_vec());
    let expected = Invocation::Window { job: Some(name.clone().into()) };
    assert_eq!(parse([name]), Ok(expected));
    let option = OsString::from_vec(b"--caf\xe9".to_vec());
    assert!(matches!(parse([option]), Err(UsageError::UnknownOption(_))));
}
