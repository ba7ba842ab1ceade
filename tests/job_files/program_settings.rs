//! The settings file.

use super::*;
use tapcross::model::facts::company::Company;
use tapcross::model::facts::figure_source::NamedSource;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::firsts::Firsts;
use tapcross::report::form::Paper;

fn changed() -> Settings {
    Settings {
        theme: ThemeChoice::Dark,
        units: UnitSystem::SiCubicMetres,
        zoom_percent: 175,
        paper: Paper::A4,
        company: Company {
            name: "Alder Air (invented)".to_owned(),
            address: "1 Alder Street".to_owned(),
            town: "Nowhere".to_owned(),
            contact: "555 0100 \"day\"".to_owned(),
            logo: None,
        },
        firsts: Firsts {
            numbers: [(JobNumber::EnergyPrice, 0.21), (JobNumber::ManometerFloor, 0.002)].into(),
            sources: [("manometer_floor_in_wc", NamedSource { name: "Its maker".to_owned(), date: "2025".to_owned() })]
                .into(),
            currency: "EUR".to_owned(),
            prices: [("Clean filter", 40.0), ("Second return", 900.5)].into(),
        },
        recent: vec!["b.ron".into(), "a \"quoted\" name.ron".into()],
        folded: [Panel::AirPath, Panel::Job].into(),
        window_points: Some((1440, 900)),
        window_place: Some((-1200, 60)),
    }
}

#[test]
fn settings_come_back_as_they_were() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made").join("settings.ron");
    assert_eq!(settings::read(&path), (Settings::default(), None));
    for one in [changed(), Settings::default()] {
        settings::save(&path, &one).unwrap();
        assert_eq!(settings::read(&path), (one, None));
    }
}

#[test]
fn recent_files_stand_once_each_latest_first_and_twelve_at_most() {
    let mut settings = Settings::default();
    for number in 0..20 {
        settings.opened(Path::new(&format!("{number}.ron")));
    }
    settings.opened(Path::new("15.ron"));
    settings.forget(Path::new("18.ron"));
    let names = ["15", "19", "17", "16", "14", "13", "12", "11", "10", "9", "8"];
    assert_eq!(settings.recent, names.map(|name| PathBuf::from(format!("{name}.ron"))));
}

#[test]
fn unusable_settings_give_the_usual_ones_and_a_sentence() {
    let rows = [
        ("gibberish", "The settings cannot be read, so the usual ones are used ("),
        ("(tapcross_settings: 1, theme: Purple)", "The settings cannot be read, so the usual ones are used ("),
        (
            "(tapcross_settings: 3, sound: Loud)",
            "The settings were written by a newer Tapcross (format 3) and stay as they are",
        ),
        (
            "(tapcross_settings: 1, zoom_percent: 900)",
            "zoom_percent in the settings is 900; it lies between 100 and 250, so 100 is used",
        ),
    ];
    for (text, right) in rows {
        let (settings, told) = settings::parse(text);
        assert_eq!(settings, Settings::default());
        assert!(told.as_deref().is_some_and(|told| told.starts_with(right)), "{text}: {told:?}");
    }
}

#[test]
fn settings_of_a_newer_program_are_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("settings.ron");
    let newer = "(tapcross_settings: 2, sound: Loud)";
    fs::write(&path, newer).unwrap();
    assert!(settings::save(&path, &changed()).is_err());
    assert_eq!(fs::read_to_string(&path).unwrap(), newer);
}

#[test]
fn recent_files_in_a_file_written_by_hand_are_put_in_order() {
    let many: Vec<String> = (0..30).map(|number| format!("\"{}.ron\"", number % 14)).collect();
    let (settings, told) = settings::parse(&format!("(tapcross_settings: 1, recent: [{}])", many.join(", ")));
    assert_eq!((settings.recent.len(), told), (12, None));
}

/// What is in a folder, by name.
fn texts(folder: &Path) -> Vec<(String, String)> {
    let read = |entry: fs::DirEntry| {
        (entry.file_name().into_string().unwrap(), fs::read_to_string(entry.path()).unwrap_or_default())
    };
    let mut found: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| read(entry.unwrap())).collect();
    found.sort();
    found
}

#[test]
fn settings_that_cannot_be_read_are_kept_aside_and_never_over_another_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("settings.ron");
    for (number, name) in
        ["settings-damaged.ron", "settings-damaged-2.ron", "settings-damaged-3.ron"].iter().enumerate()
    {
        let damaged = format!("(tapcross_settings: 1, theme: Purple{number})");
        fs::write(&path, &damaged).unwrap();
        let told = settings::read(&path).1.unwrap();
        assert!(told.contains(&format!("the file will be kept as {name}")), "{told}");
        assert!(told.ends_with(&path.display().to_string()), "{told}");
        settings::save(&path, &changed()).unwrap();
        assert_eq!(fs::read_to_string(folder.path().join(name)).unwrap(), damaged);
        assert_eq!(settings::read(&path), (changed(), None));
    }
    assert_eq!(texts(folder.path()).len(), 4);
}

#[test]
fn damaged_settings_stay_where_they_are_when_there_is_no_name_left_for_them() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("settings.ron");
    fs::write(&path, "gibberish").unwrap();
    for number in 1..=9 {
        let name =
            if number == 1 { "settings-damaged.ron".to_owned() } else { format!("settings-damaged-{number}.ron") };
        fs::write(folder.path().join(name), "older").unwrap();
    }
    let before = texts(folder.path());
    let told = settings::save(&path, &changed()).unwrap_err().to_string();
    assert!(told.contains("cannot be kept under another name"), "{told}");
    assert_eq!(texts(folder.path()), before);
}

#[cfg(unix)]
#[test]
fn settings_and_the_folder_made_for_them_are_for_their_owner_alone() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made").join("settings.ron");
    settings::save(&path, &changed()).unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode(&path), mode(path.parent().unwrap())), (0o600, 0o700));
}
