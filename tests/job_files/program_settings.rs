//! The settings file.

use super::*;

fn changed() -> Settings {
    Settings {
        theme: ThemeChoice::Dark,
        units: UnitSystem::SiCubicMetres,
        zoom_percent: 175,
        recent: vec!["b.ron".into(), "a \"quoted\" name.ron".into()],
        folded: [Panel::AirPath, Panel::Job].into(),
        window_points: Some((1440, 900)),
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
