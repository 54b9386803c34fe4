//! The real program in a real terminal: it starts, walks, and gives the terminal back on q, on
//! signals and on a panic. Every wait is for a text or for the end, never for a time.

use std::io::Read;
use std::path::PathBuf;
use std::thread;
use std::time::{Duration, Instant};

use portable_pty::{CommandBuilder, PtySize, native_pty_system};

use crate::common::decided::decided;
use crate::session::{COLUMNS, PATIENCE, ROWS, SIZE, Session};

fn job() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let job = folder.path().join("job");
    kerfmark::folder::create(&job).expect("the template");
    (folder, job)
}

fn program() -> PathBuf {
    PathBuf::from(env!("CARGO_BIN_EXE_kerfmark"))
}

fn faulty() -> PathBuf {
    let folder = program().parent().expect("a folder").join("examples");
    let program = folder.join("panicking_screens");
    assert!(
        program.exists(),
        "examples are built by a plain `cargo test`; build this one by `cargo build --example panicking_screens`"
    );
    program
}

#[test]
fn a_walk_through_all_screens_ends_with_q_and_the_terminal_as_it_was() {
    let (_folder, job) = job();
    let mut session = Session::start(&program(), &job, false);
    session.wait_for("status");
    session.keys("2");
    session.wait_for("lower plane");
    session.keys("4");
    session.wait_for("above LAT");
    session.keys("5");
    session.wait_for("PLANNED - NOT FOR CUTTING");
    session.keys("?");
    session.wait_for("Help: Cut");
    session.keys("\u{1b}");
    session.wait_for("PLANNED");
    session.keys("6");
    session.wait_for("joints are run is not known");
    session.keys("++");
    session.wait_for("1 OF 8 JOINTS RUN, BY HAND");
    session.keys("/a-05\r");
    session.wait_for("A-05");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
}

#[test]
fn without_colours_the_walk_is_the_same() {
    let (_folder, job) = job();
    let mut session = Session::start(&program(), &job, true);
    session.wait_for("status");
    session.keys("2");
    session.wait_for("A-08");
    let screen = session.parser.screen();
    let inverse = |row| {
        (0..COLUMNS)
            .filter(|column| screen.cell(row, *column).is_some_and(vt100::Cell::inverse))
            .count()
    };
    assert!(
        // All but the drawing of the string beside it.
        (3..ROWS).any(|row| inverse(row) == usize::from(COLUMNS) - 6),
        "a row is selected"
    );
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
}

#[test]
fn a_storm_of_sizes_leaves_it_standing() {
    let (_folder, job) = job();
    let mut session = Session::start(&program(), &job, false);
    session.wait_for("status");
    for (rows, cols) in [(1, 1), (24, 10), (5, 200), (60, 200), (3, 80), (24, 80)] {
        let size = PtySize {
            rows,
            cols,
            pixel_width: 0,
            pixel_height: 0,
        };
        session.master.resize(size).expect("a size");
    }
    session.keys("5");
    session.wait_for("CUT TARGET");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
}

#[test]
fn three_differences_are_decided_and_the_tally_of_record_is_written_beside_its_sources() {
    // A sample in which one string has another list.
    let place = crate::common::copies::copy_of("four-slots");
    let job = place.path().to_owned();
    let sources = ["job.toml", "tallies/d.csv", "tallies/d-yard.csv"];
    let before = sources.map(|file| std::fs::read(job.join(file)).expect("a source"));
    let mut session = Session::start(&program(), &job, false);
    session.wait_for("status");
    session.keys("[3");
    session.wait_for("open 3");
    session.keys("lt");
    session.wait_for("who decides?");
    session.keys("i");
    session.wait_for("who enters, by initials:");
    session.keys("NK\r");
    session.wait_for("NK enters");
    session.keys("e12.034\r");
    session.wait_for("how it was measured (needed)");
    session.keys("steel tape\r");
    session.wait_for("decided: the length of joint D-04, entry 1");
    session.wait_for("open 2");
    session.keys("jjt\r");
    session.wait_for("the place of joint D-09");
    session.keys("jjht\r");
    session.wait_for("the makeup-loss of joint D-11");
    session.wait_for("open 0");
    session.keys("w");
    session.wait_for("written: tallies/D-of-record.csv, 0 not decided");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
    let after = sources.map(|file| std::fs::read(job.join(file)).expect("a source"));
    assert_eq!(before, after);
    let record = std::fs::read_to_string(job.join("tallies/D-of-record.csv")).expect("a record");
    assert!(
        record.contains("D-04,D4131,joint,12.034,0.152,"),
        "{record}"
    );
    assert!(
        record.contains("length: measured again (decided)"),
        "{record}"
    );
    let expected = [
        "length D-04 measured 12.034 m steel tape",
        "place D-09 yard",
        "makeup-loss D-11 record",
    ];
    assert_eq!(decided(&job), expected);
}

#[test]
fn a_decision_is_not_written_through_a_link_out_of_the_folder() {
    let place = crate::common::copies::copy_of("four-slots");
    let outside = tempfile::tempdir().expect("a folder");
    let mut session = Session::start(&program(), place.path(), false);
    session.wait_for("status");
    session.keys("[3");
    session.wait_for("open 3");
    session.keys("iNK\r");
    session.wait_for("NK enters");
    let journal = place.path().join("journal.jsonl");
    std::os::unix::fs::symlink(outside.path().join("there"), journal).expect("a link");
    session.keys("t\r");
    session.wait_for("NOT ENTERED: ");
    // The bottom line is drawn last.
    session.wait_for("Esc cancel");
    session.keys("\u{1b}");
    session.wait_for("Arrows move");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
    let written = std::fs::read_dir(outside.path()).expect("a folder").count();
    assert_eq!(written, 0);
}

#[test]
fn a_changed_file_is_noticed_and_what_moved_is_named() {
    let (_folder, job) = job();
    let mut session = Session::start(&program(), &job, false);
    session.wait_for("status");
    let file = job.join("job.toml");
    let text = std::fs::read_to_string(&file).expect("the job");
    let raised = text.replace("rotary = 24.700", "rotary = 31.400");
    std::fs::write(&file, &raised).expect("a change");
    session.wait_for("A: status of the cut is stop, was planned");
    std::fs::write(&file, raised.replace("[deck]", "[dekc]")).expect("a change");
    session.wait_for("OLD FIGURES: job.toml: line");
    std::fs::write(&file, text).expect("a change");
    // Told from what the person last looked at: there and back is no change.
    session.wait_for("no figure and no flag changed");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
}

#[test]
fn a_list_that_is_mended_is_read_without_a_key() {
    let place = crate::common::copies::copy_of("four-slots");
    let yard = place.path().join("tallies/d-yard.csv");
    let good = std::fs::read_to_string(&yard).expect("a list");
    std::fs::remove_file(&yard).expect("a list");
    let mut session = Session::start(&program(), place.path(), false);
    session.wait_for("status");
    session.keys("[3");
    session.wait_for("yard cannot be read");
    std::fs::write(&yard, good).expect("a list");
    session.wait_for("open 3");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
}

/// Reconcile in front on a copy of a sample with three differences in D, with someone who decides.
fn reconcile() -> (tempfile::TempDir, Session) {
    let place = crate::common::copies::copy_of("four-slots");
    let mut session = Session::start(&program(), place.path(), false);
    session.wait_for("status");
    session.keys("[3");
    session.wait_for("open 3");
    session.keys("iNK\r");
    session.wait_for("NK enters");
    (place, session)
}

#[test]
fn a_decision_is_on_the_disk_though_q_follows_at_once() {
    let (place, mut session) = reconcile();
    session.keys("t\rq");
    assert_eq!(session.end(), 0);
    session.is_given_back();
    assert_eq!(decided(place.path()), ["length D-04 record"]);
}

#[test]
fn decisions_typed_in_one_go_are_all_on_the_disk_in_their_order() {
    let (place, mut session) = reconcile();
    session.keys("t\rjjlt\rjjht\rq");
    assert_eq!(session.end(), 0);
    let expected = [
        "length D-04 record",
        "place D-09 yard",
        "makeup-loss D-11 record",
    ];
    assert_eq!(decided(place.path()), expected);
}

#[test]
fn a_decision_is_on_the_disk_though_a_signal_comes_with_it() {
    for (name, status) in [("TERM", 143), ("HUP", 129), ("INT", 130), ("QUIT", 131)] {
        let (place, mut session) = reconcile();
        // Key and signal are both there before the program can see either.
        session.signal("STOP");
        session.wait_until_stopped();
        session.keys("t\r");
        session.signal(name);
        session.signal("CONT");
        assert_eq!(session.end(), status, "after {name}");
        session.is_given_back();
        assert_eq!(decided(place.path()).len(), 1, "after {name}");
    }
}

#[test]
fn a_paste_is_no_keys() {
    let (place, mut session) = reconcile();
    session.keys("\u{1b}[200~abw\u{1b}[201~");
    session.wait_for("a paste is text");
    session.keys("/");
    session.wait_for("find joint");
    session.keys("\u{1b}[200~D-\r\n0\u{7}7\u{1b}[201~");
    session.wait_for("find joint or serial: D-07");
    session.keys("\rq");
    assert_eq!(session.end(), 0);
    session.is_given_back();
    assert_eq!(decided(place.path()), [""; 0]);
    assert!(!place.path().join("tallies/D-of-record.csv").exists());
    let bytes = String::from_utf8_lossy(&session.all).into_owned();
    let on = bytes.rfind("\u{1b}[?2004h").expect("switched on");
    let off = bytes.rfind("\u{1b}[?2004l").expect("switched off");
    assert!(on < off, "it is switched off at the end");
}

#[test]
fn a_stopped_program_gives_the_terminal_back_and_takes_it_again() {
    let (_folder, job) = job();
    let mut session = Session::start(&program(), &job, false);
    session.wait_for("status");
    for _ in 0..2 {
        session.signal("TSTP");
        session.wait_until_stopped();
        session.is_given_back();
        session.signal("CONT");
        // All is drawn again on the other screen.
        session.wait_for("status");
        session.wait_for_raw();
    }
    session.keys("2");
    session.wait_for("lower plane");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
}

#[test]
fn the_terminal_is_given_back_on_signals() {
    // 128 and the number of the signal, as shells have it.
    for (name, status) in [("TERM", 143), ("HUP", 129), ("QUIT", 131)] {
        let (_folder, job) = job();
        let mut session = Session::start(&program(), &job, false);
        session.wait_for("status");
        session.signal(name);
        assert_eq!(session.end(), status, "after {name}");
        session.is_given_back();
    }
}

#[test]
fn it_ends_when_its_terminal_is_gone() {
    let (place, job) = job();
    let pair = native_pty_system().openpty(SIZE).expect("a terminal");
    // A shell that ignores the hang-up stands between, as it may on a rig: then no signal comes.
    let line = r#"trap "" HUP; "$0" "$1"; echo $? > "$2.part"; mv "$2.part" "$2""#;
    let note = place.path().join("ended");
    let mut command = CommandBuilder::new("sh");
    command.args(["-c", line]);
    command.args([program().as_path(), &job, &note]);
    command.env("TERM", "xterm-256color");
    let mut child = pair.slave.spawn_command(command).expect("a shell");
    drop(pair.slave);
    // No thread may hold the other end: only when its last holder is gone is the terminal gone.
    let mut reader = pair.master.try_clone_reader().expect("a reader");
    let mut seen = Vec::new();
    let mut buffer = [0; 4096];
    while !String::from_utf8_lossy(&seen).contains("quit") {
        let count = reader.read(&mut buffer).expect("bytes");
        assert!(count > 0, "it ended before it was drawn");
        seen.extend_from_slice(&buffer[..count]);
    }
    drop(reader);
    drop(pair.master);
    let until = Instant::now() + PATIENCE;
    while !note.exists() {
        if Instant::now() > until {
            child.kill().expect("killed");
            panic!("it runs on without a terminal");
        }
        thread::sleep(Duration::from_millis(20));
    }
    // As if the signal had come, and not as a fault of the program that can no more say so.
    let status = std::fs::read_to_string(note).expect("a status");
    assert_eq!(status.trim(), "129");
}

/// How often the threads of a process were woken up to now.
#[cfg(target_os = "linux")]
fn woken(process: u32) -> u64 {
    let tasks = std::fs::read_dir(format!("/proc/{process}/task")).expect("threads");
    let of = |task: std::io::Result<std::fs::DirEntry>| -> u64 {
        let status = task.expect("a thread").path().join("status");
        let status = std::fs::read_to_string(status).expect("a status");
        let line = status
            .lines()
            .find_map(|line| line.strip_prefix("voluntary_ctxt_switches:"));
        line.expect("a count").trim().parse().expect("a number")
    };
    tasks.map(of).sum()
}

#[test]
#[cfg(target_os = "linux")]
fn nothing_runs_and_nothing_is_written_while_nothing_happens() {
    const SECONDS: u64 = 6;
    let place = crate::common::copies::copy_of("four-slots");
    let mut session = Session::start(&program(), place.path(), false);
    session.wait_for("status");
    // The files were made just now, and are read once more when they are no longer young.
    let until = Instant::now() + Duration::from_secs(3);
    while Instant::now() < until {
        session.take(Duration::from_millis(100));
    }
    let process = session.child.process_id().expect("a process");
    let (before, written) = (woken(process), session.all.len());
    thread::sleep(Duration::from_secs(SECONDS));
    session.take(Duration::from_millis(100));
    let wakes = woken(process) - before;
    assert!(wakes < SECONDS, "{wakes} in {SECONDS} s");
    assert_eq!(session.all.len(), written);
    session.keys("q");
    assert_eq!(session.end(), 0);
}

#[test]
fn the_terminal_is_given_back_on_a_panic() {
    let (_folder, job) = job();
    let mut session = Session::start(&faulty(), &job, false);
    session.wait_for("status");
    session.keys("6");
    assert_eq!(session.end(), 101);
    session.is_given_back();
    session.wait_for("planted fault");
}

#[test]
fn a_job_that_cannot_be_read_is_an_error_before_the_terminal_is_touched() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut session = Session::start(&program(), &folder.path().join("none"), false);
    assert_eq!(session.end(), 2);
    session.wait_for("cannot be read");
    session.is_untouched();
}

#[test]
fn the_mouse_is_taken_by_a_key_alone_and_given_back() {
    let (_folder, job) = job();
    let mut session = Session::start(&program(), &job, false);
    session.wait_for("status");
    let mouse = |session: &Session| session.parser.screen().mouse_protocol_mode();
    assert_eq!(mouse(&session), vt100::MouseProtocolMode::None);
    session.keys("M");
    session.wait_for("M gives it back");
    assert_ne!(mouse(&session), vt100::MouseProtocolMode::None);
    // A click on the second screen, in the coding that terminals use (SGR): column and row from 1.
    session.keys("\u{1b}[<0;14;1M");
    session.wait_for("lower plane");
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
    assert_eq!(mouse(&session), vt100::MouseProtocolMode::None);
}

#[test]
fn the_theme_that_is_asked_for_is_drawn_and_a_wrong_one_is_told() {
    let (_folder, job) = job();
    let settings = job
        .parent()
        .expect("a folder")
        .join("settings-of-a-test.toml");
    std::fs::write(
        &settings,
        "theme = \"light\"\nunits = \"ft\"\nmouse = true\n",
    )
    .expect("written");
    let mut session = Session::with_settings(&program(), &job, false, &settings);
    session.wait_for("feet");
    session.wait_for(" quit");
    let screen = session.parser.screen();
    let ground = screen.cell(20, 70).map(vt100::Cell::bgcolor);
    assert_eq!(ground, Some(vt100::Color::Idx(255)), "a light ground");
    assert_ne!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
    session.keys("q");
    assert_eq!(session.end(), 0);
    let output = std::process::Command::new(program())
        .arg(&job)
        .args(["--theme", "drak"])
        .output()
        .expect("the program");
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("dark, light, sixteen, mono"), "{said}");
}
