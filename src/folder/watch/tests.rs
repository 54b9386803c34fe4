//! Every file that a job names is noticed, whether it was there or not. Waiting ends with an event, never
//! with a time, but where nothing shall come.

use std::fs;
use std::path::PathBuf;
use std::time::Duration;

use super::{Outcome, Watch};
use crate::folder::{create, open_seen};
use crate::journal::Inputs;

/// How old a file is made that shall not change any more.
const HOUR: Duration = Duration::from_hours(1);

/// Long enough for a machine that does much else.
const PATIENCE: Duration = Duration::from_secs(30);

struct Job {
    _place: tempfile::TempDir,
    root: PathBuf,
    watch: Watch<Inputs>,
}

impl Job {
    /// A job whose slot names a list that is not there.
    fn new() -> Self {
        let place = tempfile::tempdir().expect("a folder");
        let root = place.path().join("job");
        create(&root).expect("the template");
        let file = root.join("job.toml");
        let text = fs::read_to_string(&file).expect("the job file");
        let tally = "tally = \"tallies/a.csv\"";
        let lists = format!("{tally}\nlists = {{ yard = \"tallies/yard.csv\" }}");
        fs::write(&file, text.replacen(tally, &lists, 1)).expect("the job file");
        let (inputs, seen) = open_seen(&root, &|_| {}).expect("a job that opens");
        assert!(inputs.lists[0][0].tally.is_err());
        let watch = Watch::start(&root, (&inputs, seen), || {}).expect("a thread");
        Self {
            _place: place,
            root,
            watch,
        }
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.root.join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(path, text).expect("a file");
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.root.join(name)).expect("a file")
    }

    /// Takes what comes until it is as wanted.
    fn until(&mut self, wanted: impl Fn(&Outcome<Inputs>) -> bool) -> Outcome<Inputs> {
        loop {
            let outcome = self.watch.wait(PATIENCE).expect("a change is noticed");
            if wanted(&outcome) {
                return outcome;
            }
        }
    }
}

fn list(outcome: &Outcome<Inputs>) -> &crate::journal::OtherList {
    &outcome.loaded.as_ref().expect("a job").lists[0][0]
}

#[test]
fn a_list_that_appears_and_one_that_is_mended_are_read() {
    let mut job = Job::new();
    let good = job.read("tallies/a.csv");
    job.write("tallies/yard.csv", "neither head nor joint\n");
    let said =
        |outcome: &Outcome<Inputs>| list(outcome).tally.as_ref().err().map(ToString::to_string);
    job.until(|outcome| said(outcome).is_some_and(|it| !it.contains("cannot be read")));
    job.write("tallies/yard.csv", &good);
    job.until(|outcome| said(outcome).is_none());
    fs::remove_file(job.root.join("tallies/yard.csv")).expect("a file");
    job.until(|outcome| said(outcome).is_some());
}

#[test]
fn a_decisions_file_that_appears_and_one_that_is_mended_are_read() {
    let mut job = Job::new();
    let head = "matter,joint,list,line,a,b,stands,note\n";
    job.write("decisions/A-yard.csv", "no head\n");
    job.until(|outcome| list(outcome).decisions_problem.is_some());
    job.write(
        "decisions/A-yard.csv",
        &format!("{head}length,A-02,a,3,1 m,2 m,a,\n"),
    );
    let outcome = job.until(|outcome| list(outcome).decisions_problem.is_none());
    assert_eq!(list(&outcome).decisions.len(), 1);
}

#[test]
fn a_tally_that_is_mended_is_read_though_the_job_could_not_be() {
    let mut job = Job::new();
    let good = job.read("tallies/a.csv");
    fs::remove_file(job.root.join("tallies/a.csv")).expect("a file");
    job.until(|outcome| outcome.loaded.is_err());
    job.write("tallies/a.csv", &good);
    job.until(|outcome| outcome.loaded.is_ok());
}

#[test]
fn a_job_file_that_is_mended_is_read_with_what_it_names_by_then() {
    let mut job = Job::new();
    let good = job.read("job.toml");
    job.write("job.toml", "format = 2\n");
    job.until(|outcome| outcome.loaded.is_err());
    job.write("job.toml", &good.replace("yard.csv", "deck.csv"));
    job.until(|outcome| outcome.loaded.is_ok());
    let tally = job.read("tallies/a.csv");
    job.write("tallies/deck.csv", &tally);
    job.until(|outcome| list(outcome).tally.is_ok());
}

#[test]
fn readings_and_a_journal_that_appear_are_told() {
    let mut job = Job::new();
    job.write(
        "readings.csv",
        "from,to,rise,sigma\ndatum,A.shoe,-110,0.1\n",
    );
    job.until(|outcome| {
        let loaded = outcome.loaded.as_ref();
        loaded.is_ok_and(|it| it.readings.len() == 1)
    });
    job.write("journal.jsonl", "torn");
    job.until(|outcome| {
        let loaded = outcome.loaded.as_ref();
        loaded.is_ok_and(|it| it.journal.torn == Some(1))
    });
    job.write("signers", "x");
    job.until(|outcome| {
        let loaded = outcome.loaded.as_ref();
        loaded.is_ok_and(|it| it.signers.is_some())
    });
}

#[test]
fn a_question_is_answered_though_nothing_changed_and_else_nothing_is_told() {
    let mut job = Job::new();
    let number = job.watch.ask();
    assert!(job.watch.is_asked());
    let outcome = job.watch.wait(PATIENCE).expect("an answer");
    assert_eq!(outcome.answered, number);
    assert!(outcome.loaded.is_ok() && !job.watch.is_asked());
    // The same bytes again.
    let text = job.read("tallies/a.csv");
    job.write("tallies/a.csv", &text);
    let told = job.watch.wait(Duration::from_millis(700));
    assert!(told.is_none(), "{told:?}");
}

#[test]
fn a_job_whose_files_are_old_is_not_read_again_at_opening() {
    let job = Job::new();
    let (_, seen) = open_seen(&job.root, &|_| {}).expect("a job that opens");
    assert!(seen.is_young() && !seen.has_changed());
    let files = || seen.files().filter(|file| file.is_file());
    assert!(files().count() >= 2);
    for file in files() {
        let file = fs::File::options().write(true).open(file).expect("a file");
        let before = std::time::SystemTime::now() - HOUR;
        file.set_modified(before).expect("a time");
    }
    assert!(seen.has_changed());
    let (_, seen) = open_seen(&job.root, &|_| {}).expect("a job that opens");
    assert!(!seen.is_young() && !seen.has_changed());
}

#[test]
fn a_list_that_the_journal_adopted_is_watched() {
    let job = Job::new();
    let bytes = job.read("tallies/a.csv");
    job.write("tallies/again.csv", &bytes);
    let digest = crate::journal::sha256(bytes.as_bytes());
    let event = format!(
        r#"{{"event":"tally-of-record","by":"N. Okt","slot":"A","file":"tallies/again.csv","sha256":"{digest}"}}"#
    );
    let mut book = crate::folder::Book::open(&job.root).expect("a journal");
    let entered = book.enter_text(&event, None, crate::folder::now);
    entered.expect("an entry");
    let (_, seen) = open_seen(&job.root, &|_| {}).expect("a job that opens");
    let adopted = job.root.join("tallies/again.csv");
    assert!(seen.files().any(|file| file == adopted));
}
