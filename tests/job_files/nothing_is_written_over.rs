//! Saving refuses rather than losing what is there.

use super::*;

/// Saves over a file and expects a refusal that leaves it as it is.
fn check_refused(there: &str, job: &Job, right: &str) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    fs::write(&path, there).unwrap();
    let told = job_file::save(&path, job).unwrap_err().to_string();
    assert!(told.starts_with(right) && told.ends_with(&path.display().to_string()), "{told}");
    assert_eq!(fs::read_to_string(&path).unwrap(), there);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_job_of_a_newer_format_stays() {
    let newer = "(tapcross_job: 2, rooms: [";
    check_refused(newer, &Job::default(), "Not saved: the file there was written by a newer Tapcross (format 2)");
}

#[test]
fn a_job_that_would_not_open_again_stays_in_memory_and_the_old_file_on_the_disk() {
    let mut job = job_file::parse(GOLDEN).unwrap();
    job.sets[0].air.humidity = f64::NAN;
    let right = "Not saved, for it would not open again: Set 1 (As found): A relative humidity of NaN % cannot be";
    check_refused(GOLDEN, &job, right);
}

#[test]
fn a_saved_job_opens_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    for job in [Job::default(), job_file::parse(GOLDEN).unwrap()] {
        job_file::save(&path, &job).unwrap();
        assert_eq!(job_file::read(&path).unwrap(), job);
    }
}

#[test]
fn a_folder_that_is_not_there_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let told = job_file::save(&folder.path().join("no").join("house.ron"), &Job::default());
    let told = told.unwrap_err().to_string();
    assert!(told.starts_with("Not saved: the folder does not exist: "), "{told}");
}
