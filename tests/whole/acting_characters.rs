//! Control characters and marks of direction of a job's files reach no terminal: every output of the real
//! program and every screen shows them as their code.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::common::acting::has_acting;
use crate::common::copies::copy_of;
use crate::common::on_screen::{drawn, press, type_in};
use crossterm::event::KeyCode;
use kerfmark::folder;
use kerfmark::screens::State;

/// What a text of a job file may hold: marks of direction. C0 and C1 are refused there.
const IN_A_TEXT: &str = "\u{202e}\u{200f}";

/// The sample in metres, with such characters in every text that it carries.
fn hostile() -> tempfile::TempDir {
    let place = copy_of("four-slots");
    let file = place.path().join("job.toml");
    let mut text = fs::read_to_string(&file).expect("a job file");
    for (from, to) in [
        ("\"Zevrik", "\"@Zevrik"),
        ("\"LAT\"", "\"@LAT\""),
        ("\"running\"", "\"@running\""),
        ("\"cutting\"", "\"@cutting\""),
        ("[pipe.main]", "[pipe.\"@main\"]"),
        ("\"main\"", "\"@main\""),
        ("\"shortening", "\"@shortening"),
        ("\"splash", "\"@splash"),
        ("\"grout", "\"@grout"),
        ("\"guide", "\"@guide"),
        ("\"spider", "\"@spider"),
        ("name = \"B\"", "name = \"B\u{202e}\""),
        ("\"B\", \"C\"]", "\"B\u{202e}\", \"C\"]"),
        ("yard =", "\"ya\u{202e}rd\" ="),
        ("\"B-07\"", "\"B\u{202e}-07\""),
    ] {
        assert!(text.contains(from), "the sample has {from}");
        text = text.replace(from, &to.replace('@', IN_A_TEXT));
    }
    fs::write(&file, text).expect("a change");
    for (tally, from, to) in [
        ("b.csv", "B-07", "B\u{202e}-07"),
        ("d.csv", "D-03", "D-03\u{9b}"),
        ("d-yard.csv", "D-04", "D-04\u{2066}"),
    ] {
        let file = place.path().join("tallies").join(tally);
        let text = fs::read_to_string(&file).expect("a tally");
        assert!(text.contains(from), "{tally} has {from}");
        fs::write(file, text.replace(from, to)).expect("a change");
    }
    place
}

/// What the real program prints, and its complaints.
fn printed(folder: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .expect("the program starts");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    text(&output.stdout) + &text(&output.stderr)
}

#[test]
fn acting_characters_of_a_job_are_shown_as_their_code_in_every_output() {
    let place = hostile();
    let (d, yard) = ("tallies/d.csv", "tallies/d-yard.csv");
    for arguments in [
        vec!["."],
        vec!["figures", "."],
        vec!["figures", "--how", "."],
        vec!["figures", "--json", "."],
        vec!["tally", "tallies/b.csv"],
        vec!["tally", "--json", "tallies/b.csv"],
        vec!["reconcile", d, yard],
        vec!["reconcile", "--json", d, yard],
        vec!["reconcile", "--to-decide", d, yard],
        vec!["suspects", "tallies/b.csv", "--off", "0.1 m", "--pairs"],
        vec!["suspects", ".", "--slot", "A", "--off", "-6.7 m"],
        vec!["suspects", "--json", ".", "--slot", "A", "--off", "-6.7 m"],
        vec!["suspects", ".", "--slot", "\u{9b}B", "--off", "0.1 m"],
        vec!["tally", "no\u{9b}31m\u{202e}such.csv"],
    ] {
        // Between the pages of a sheet goes a form feed of the program's own.
        let said = printed(place.path(), &arguments).replace('\u{c}', "");
        assert!(!has_acting(&said), "{arguments:?}: {said:?}");
        let codes = [
            r"\u{9b}",
            r"\u{202e}",
            r"\u{2066}",
            r"\u009b",
            r"\u202e",
            r"\u2066",
        ];
        let is_told = codes.iter().any(|code| said.contains(code));
        assert!(is_told, "{arguments:?}: {said}");
    }
    // What a script reads of JSON is the text as it is in the file.
    let json = printed(place.path(), &["figures", "--json", "."]);
    let tree: serde_json::Value = serde_json::from_str(&json).expect(&json);
    assert_eq!(tree["slots"][1]["slot"], "B\u{202e}");
    // Messages about a key and about a text.
    let file = place.path().join("job.toml");
    let text = fs::read_to_string(&file).expect("a job file");
    for (from, to) in [
        ("x = 3.0", "\"x\u{9b}\" = \"\u{202e}\""),
        ("Zevrik", r"\u001b[2J\u009b31m"),
        ("pipe = \"", "pipe = \"\u{9b}\u{202e}"),
    ] {
        let wrong = text.replace(from, to);
        assert_ne!(wrong, text, "the sample has {from}");
        fs::write(&file, wrong).expect("a change");
        let said = printed(place.path(), &["figures", "."]);
        assert!(!has_acting(&said) && said.contains(r"\u{9b}"), "{said:?}");
    }
}

#[test]
fn acting_characters_of_a_job_are_shown_as_their_code_on_every_screen() {
    let place = hostile();
    let inputs = folder::open(place.path()).expect("a job that opens");
    let mut state = State::new(inputs, (120, 40));
    let mut told = 0;
    for _ in 0..4 {
        for screen in "123456".chars() {
            type_in(&mut state, &screen.to_string());
            for keys in [
                vec![],
                vec![KeyCode::Enter],
                vec![KeyCode::Esc, KeyCode::Down],
            ] {
                press(&mut state, &keys);
                let drawn = drawn(&state, (120, 40));
                assert!(!has_acting(&drawn), "{screen}: {drawn:?}");
                told += drawn.matches(r"\u{202e}").count();
            }
            press(&mut state, &[KeyCode::Esc]);
        }
        press(&mut state, &[KeyCode::Tab]);
    }
    assert!(told > 40, "{told}");
}
