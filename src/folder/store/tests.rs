//! Nothing is written outside the folder, and nothing is left half written.

use std::fs;
use std::path::{Path, PathBuf};

use super::write_new;

/// A folder with a folder of a job in it, and the job's path.
fn place() -> (tempfile::TempDir, PathBuf) {
    let place = tempfile::tempdir().expect("a folder");
    let job = place.path().join("job");
    fs::create_dir(&job).expect("a folder");
    (place, job)
}

/// Every file below a folder, links not followed.
fn files(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if entry.file_type().expect("a type").is_dir() {
            found.extend(files(&path));
        } else {
            found.push(path.to_string_lossy().into_owned());
        }
    }
    found
}

#[test]
fn no_path_leads_out_of_the_folder() {
    let (place, job) = place();
    let absolute = place.path().join("absolute.csv");
    let paths = [
        "",
        ".",
        "..",
        "../escaped.csv",
        "tallies/../../escaped.csv",
        "tallies/../a.csv",
        "/escaped.csv",
        absolute.to_str().expect("a path"),
    ];
    for path in paths {
        let path = Path::new(path);
        let new = write_new(&job, path, b"x").expect_err("a path out of the folder");
        assert!(
            new.to_string().contains("leads out of the job's folder"),
            "{path:?}: {new}"
        );
    }
    assert_eq!(files(place.path()), [""; 0]);
}

#[cfg(unix)]
#[test]
fn no_link_is_followed_when_writing() {
    use std::os::unix::fs::symlink;
    let (place, job) = place();
    let outside = place.path().join("outside");
    fs::create_dir(&outside).expect("a folder");
    fs::write(outside.join("there.csv"), "kept\n").expect("a file");
    symlink(&outside, job.join("decisions")).expect("a link");
    fs::create_dir(job.join("tallies")).expect("a folder");
    symlink(outside.join("there.csv"), job.join("tallies/there.csv")).expect("a link");
    symlink(outside.join("new.csv"), job.join("tallies/new.csv")).expect("a link");
    // A link that stays inside may be set to lead elsewhere in the next moment.
    symlink(job.join("tallies"), job.join("within")).expect("a link");
    for path in [
        "decisions/a.csv",
        "decisions/sub/a.csv",
        "tallies/there.csv",
        "tallies/new.csv",
        "within/a.csv",
    ] {
        let path = Path::new(path);
        let new = write_new(&job, path, b"x").expect_err("a link");
        assert!(new.to_string().contains("is a symbolic link"), "{new}");
    }
    let kept = fs::read_to_string(outside.join("there.csv")).expect("a file");
    assert_eq!(kept, "kept\n");
    assert_eq!(files(&outside).len(), 1);
}

#[cfg(unix)]
#[test]
fn a_folder_that_is_reached_by_a_link_is_written_in() {
    let (place, job) = place();
    let link = place.path().join("link");
    std::os::unix::fs::symlink(&job, &link).expect("a link");
    write_new(&link, Path::new("sub/a.csv"), b"x\n").expect("a file");
    let text = fs::read_to_string(job.join("sub/a.csv")).expect("a file");
    assert_eq!(text, "x\n");
}

#[test]
fn what_a_killed_run_left_is_removed_and_nothing_else() {
    let (_place, job) = place();
    let old = std::time::SystemTime::now() - super::LEFT * 2;
    let make = |name: &str, is_old: bool| {
        let path = job.join(name);
        fs::write(&path, "x").expect("a file");
        let file = fs::File::options().write(true).open(path);
        let file = file.expect("a file");
        if is_old {
            file.set_modified(old).expect("a time");
        }
    };
    make(".a.csv.4711.kerfmark-part", true);
    // One that is being written, and others that look like it.
    let kept = [
        (".a.csv.4712.kerfmark-part", false),
        (".a.csv.x.kerfmark-part", true),
        (".4711.kerfmark-part", true),
        ("a.csv.4711.kerfmark-part", true),
        (".a.csv.4711.part", true),
    ];
    for (name, is_old) in kept {
        make(name, is_old);
    }
    write_new(&job, Path::new("new.csv"), b"x\n").expect("a file");
    let mut left = files(&job);
    left.sort();
    let mut names: Vec<String> = kept.iter().map(|(name, _)| (*name).to_owned()).collect();
    names.push("new.csv".to_owned());
    let mut expected: Vec<String> = names
        .iter()
        .map(|name| job.join(name).to_string_lossy().into_owned())
        .collect();
    expected.sort();
    assert_eq!(left, expected);
}
