//! Nothing is written outside the folder, and nothing is left half written.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use super::{append, append_by, write_new};

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
        let added = append(&job, path, |_| "x".to_owned()).expect_err("a path out of the folder");
        for error in [new, added] {
            assert!(
                error.to_string().contains("leads out of the job's folder"),
                "{path:?}: {error}"
            );
        }
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
        let added = append(&job, path, |_| "x".to_owned()).expect_err("a link");
        for error in [new, added] {
            assert!(error.to_string().contains("is a symbolic link"), "{error}");
        }
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
    append(&link, Path::new("decisions/a.csv"), |_| "x\n".to_owned()).expect("a row");
    write_new(&link, Path::new("a.csv"), b"x").expect("a file");
    let text = fs::read_to_string(job.join("decisions/a.csv")).expect("a file");
    assert_eq!(text, "x\n");
}

const ROWS: &str = "decisions/a.csv";

fn add(job: &Path, row: &'static str) -> Option<PathBuf> {
    append(job, Path::new(ROWS), |is_new| {
        format!("{}{row}\n", if is_new { "head\n" } else { "" })
    })
    .expect("a row")
}

fn text(job: &Path, name: &str) -> String {
    fs::read_to_string(job.join(name)).expect("a file")
}

#[test]
fn a_short_write_is_taken_back_and_the_next_one_follows_on_whole_rows() {
    let (_place, job) = place();
    add(&job, "one");
    let stops_short = |file: &mut File, bytes: &[u8]| {
        file.write_all(&bytes[..3])?;
        Err(io::Error::from(io::ErrorKind::StorageFull))
    };
    let error = append_by(
        &job,
        Path::new(ROWS),
        |_| "second\n".to_owned(),
        stops_short,
    )
    .expect_err("no room");
    assert!(error.to_string().contains("taken back"), "{error}");
    assert_eq!(text(&job, ROWS), "head\none\n");
    add(&job, "three");
    assert_eq!(text(&job, ROWS), "head\none\nthree\n");
}

#[test]
fn a_short_write_into_a_new_file_leaves_it_empty_and_the_next_writes_the_head() {
    let (_place, job) = place();
    let stops_short = |file: &mut File, bytes: &[u8]| {
        file.write_all(&bytes[..3])?;
        Err(io::Error::from(io::ErrorKind::StorageFull))
    };
    append_by(&job, Path::new(ROWS), |_| "head\n".to_owned(), stops_short).expect_err("no room");
    assert_eq!(text(&job, ROWS), "");
    add(&job, "one");
    assert_eq!(text(&job, ROWS), "head\none\n");
}

#[test]
fn a_row_that_was_cut_off_is_kept_beside_and_blocks_nothing() {
    let (_place, job) = place();
    add(&job, "one");
    let torn = |piece: &str| {
        let whole = text(&job, ROWS);
        fs::write(job.join(ROWS), format!("{whole}{piece}")).expect("a file");
    };
    torn("tw");
    let beside = Some(PathBuf::from("decisions/a.csv.torn"));
    assert_eq!(add(&job, "three"), beside);
    assert_eq!(text(&job, ROWS), "head\none\nthree\n");
    assert_eq!(add(&job, "four"), None);
    // A second piece does not take the place of the first.
    torn("fi");
    assert_eq!(add(&job, "six"), beside);
    assert_eq!(text(&job, "decisions/a.csv.torn"), "tw\nfi\n");
    assert_eq!(text(&job, ROWS), "head\none\nthree\nfour\nsix\n");
    // Of a file that is one piece nothing is left, and it gets its head again.
    fs::write(job.join(ROWS), "he").expect("a file");
    assert_eq!(add(&job, "one"), beside);
    assert_eq!(text(&job, ROWS), "head\none\n");
}

#[test]
fn several_programs_add_one_after_the_other() {
    let (_place, job) = place();
    // Each writes its row in two parts with time between them.
    let slowly = |file: &mut File, bytes: &[u8]| {
        let (first, rest) = bytes.split_at(bytes.len() / 2);
        file.write_all(first)?;
        thread::yield_now();
        file.write_all(rest)
    };
    thread::scope(|scope| {
        for writer in 0..4 {
            let job = &job;
            scope.spawn(move || {
                for row in 0..25 {
                    let row = |is_new| {
                        let head = if is_new { "head\n" } else { "" };
                        format!("{head}row {row} of {writer}\n")
                    };
                    append_by(job, Path::new(ROWS), row, slowly).expect("a row");
                }
            });
        }
    });
    let text = text(&job, ROWS);
    assert_eq!(text.lines().next(), Some("head"));
    let mut rows: Vec<&str> = text.lines().skip(1).collect();
    let is_row = |row: &&&str| row.starts_with("row ") && row.contains(" of ");
    assert_eq!(rows.iter().filter(is_row).count(), 100);
    rows.sort_unstable();
    rows.dedup();
    assert_eq!(rows.len(), 100);
}

#[test]
fn a_lock_that_another_holds_is_waited_for() {
    let (_place, job) = place();
    add(&job, "one");
    let lock = File::options()
        .write(true)
        .open(job.join("decisions/.lock"))
        .expect("a lock file");
    lock.lock().expect("the lock");
    let (tell, told) = channel();
    thread::scope(|scope| {
        let job = &job;
        let row = move |_| {
            tell.send(()).expect("a listener");
            "two\n".to_owned()
        };
        let added = scope.spawn(move || append(job, Path::new(ROWS), row));
        // The row is made under the lock: not while another holds it.
        let early = told.recv_timeout(Duration::from_millis(50));
        assert_eq!(early, Err(RecvTimeoutError::Timeout));
        drop(lock);
        added.join().expect("an end").expect("a row");
    });
    assert_eq!(text(&job, ROWS), "head\none\ntwo\n");
}
