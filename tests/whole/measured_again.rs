//! A value that was measured again, typed for one difference between two lists.

use std::fs;
use std::path::Path;

use super::deciding::{decide, reconcile_d, sample};
use crate::common::decided::decided;
use crate::common::on_screen::{drawn, press, type_in};
use crossterm::event::KeyCode;
use kerfmark::folder;
use kerfmark::screens::{Action, Overlay, State, update};

#[test]
fn a_measured_value_needs_a_length_and_a_note() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    press(&mut state, &[KeyCode::Char('e')]);
    type_in(&mut state, "twelve");
    assert!(press(&mut state, &[KeyCode::Enter]).is_empty());
    assert!(drawn(&state, (120, 40)).contains("`twelve` is not a length"));
    press(&mut state, &[KeyCode::Backspace; 6]);
    type_in(&mut state, "12.034");
    press(&mut state, &[KeyCode::Enter]);
    assert!(press(&mut state, &[KeyCode::Enter]).is_empty());
    assert!(
        state
            .message()
            .as_deref()
            .is_some_and(|text| text.contains("needs a note"))
    );
    assert!(drawn(&state, (80, 24)).contains("a measured value needs a note"));
    type_in(&mut state, "steel tape, q a b");
    let effects = press(&mut state, &[KeyCode::Enter]);
    decide(place.path(), &effects);
    let measured = "length D-04 measured 12.034 m steel tape, q a b";
    assert_eq!(decided(place.path()), [measured]);
    assert_eq!(state.overlay, Overlay::None);
}

/// Reads the files of the job again, after one of them was changed.
fn change(state: &mut State, folder: &Path, file: &str, from: &str, to: &str) {
    let path = folder.join(file);
    let text = fs::read_to_string(&path).expect("a file");
    assert!(text.contains(from), "`{from}` is not in {file}");
    fs::write(&path, text.replacen(from, to, 1)).expect("a change");
    let read = folder::open(folder).map_err(|error| error.to_string());
    update(state, Action::Reloaded(Box::new(read.map(Into::into))));
}

const YARD: &str = "tallies/d-yard.csv";

#[test]
fn a_measured_value_is_written_for_the_joint_it_was_typed_for_though_the_file_changes_meanwhile() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    press(&mut state, &[KeyCode::Char('e')]);
    let prompt = drawn(&state, (80, 24));
    assert!(prompt.contains("slot D, joint D-04, length"), "{prompt}");
    type_in(&mut state, "12.034");
    // Another joint before it differs by now, and a line more stands before all joints.
    let d_02 = "D4114;11,899";
    change(&mut state, place.path(), YARD, d_02, "D4114;11,889");
    press(&mut state, &[KeyCode::Enter]);
    let prompt = drawn(&state, (80, 24));
    assert!(
        prompt.contains("slot D, joint D-04, length 12.034 m"),
        "{prompt}"
    );
    type_in(&mut state, "tape");
    let title = "Strap of D,,,,,\njoint,serial";
    change(
        &mut state,
        place.path(),
        "tallies/d.csv",
        "joint,serial",
        title,
    );
    let effects = press(&mut state, &[KeyCode::Enter]);
    decide(place.path(), &effects);
    let measured = "length D-04 measured 12.034 m tape";
    assert_eq!(decided(place.path()), [measured]);
    let journal = fs::read_to_string(place.path().join("journal.jsonl")).expect("a journal");
    // What it was decided of, as it is by then: the tally has a line more.
    let made_of = r#""made_of":[{"list":"record","line":6,"value":"12.033 m"},{"list":"yard","line":6,"value":"12.303 m"}]"#;
    assert!(journal.contains(made_of), "{journal}");
}

#[test]
fn a_value_typed_for_a_difference_that_is_gone_or_says_something_else_is_refused_and_not_written() {
    for (to, why) in [
        ("12,033", "it differs no longer"),
        ("12,203", "its figures changed"),
    ] {
        for typed in ["", "12.034", "12.034\ntap"] {
            let place = sample();
            let mut state = reconcile_d(place.path());
            press(&mut state, &[KeyCode::Char('e')]);
            for part in typed.split_inclusive('\n') {
                type_in(&mut state, part.trim_end());
                if part.ends_with('\n') {
                    press(&mut state, &[KeyCode::Enter]);
                }
            }
            change(&mut state, place.path(), YARD, "12,303", to);
            assert_eq!(state.overlay, Overlay::None, "{to} after {typed:?}");
            let seen = drawn(&state, (80, 24));
            let said = format!("NOT WRITTEN: slot D, list yard, joint D-04, length: {why}");
            assert!(seen.contains(&said), "{seen}");
            for key in [KeyCode::Enter, KeyCode::Enter] {
                let effects = press(&mut state, &[key]);
                assert!(effects.is_empty(), "{effects:?}");
            }
        }
    }
}

#[test]
fn a_joint_that_is_run_cannot_be_measured_again_nor_can_an_order() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    press(&mut state, &[KeyCode::Down, KeyCode::Char('e')]);
    assert!(
        state
            .message()
            .as_deref()
            .is_some_and(|text| text.contains("cannot be measured"))
    );
    assert_eq!(state.overlay, Overlay::None);
    let file = place.path().join("job.toml");
    let text = fs::read_to_string(&file).expect("the job");
    let run = text.replace(
        "tally = \"tallies/d.csv\"",
        "tally = \"tallies/d.csv\"\nstick_up = 4.365\nstick_up_hull = \"running\"",
    );
    let run = run.replacen("shoulder_offset = 1.250\nplan_shoulder = -27.100\nhole_bottom = -104.0\nmin_rathole = \"1.0 m\"\n\n[[allowance]]", "shoulder_offset = 1.250\nhole_bottom = -104.0\nmin_rathole = \"1.0 m\"\n\n[[allowance]]", 1);
    fs::write(&file, run).expect("a change");
    let mut state = reconcile_d(place.path());
    press(&mut state, &[KeyCode::Char('e')]);
    let said = state.message().unwrap_or_default();
    assert!(
        said.contains("D is run and landed: joint D-04 cannot be measured again"),
        "{said}"
    );
}

#[test]
fn a_measured_length_never_stands_among_effective_ones() {
    let place = sample();
    // The yard gives what joints add, D-04 by 2 mm more than the strap does.
    let list = "Jt No,S/N,Eff. length (m)\nD-01,D4108,12.143\nD-02,D4114,11.747\nD-03,D4122,11.851\n\
        D-04,D4131,11.883\nD-05,D4136,12.137\nD-06,D4144,12.087\nD-07,D4151,11.768\nD-08,D4159,12.053\n\
        D-09,D4164,2.937\nD-10,D4170,2.957\nD-11,D4178,12.123\nD-12,D4184,11.897\n";
    fs::write(place.path().join("tallies/d-yard.csv"), list).expect("a change");
    let mut state = reconcile_d(place.path());
    press(&mut state, &[KeyCode::Char('e')]);
    type_in(&mut state, "12.034");
    press(&mut state, &[KeyCode::Enter]);
    type_in(&mut state, "tape");
    assert!(press(&mut state, &[KeyCode::Enter]).is_empty());
    let said = state.message().unwrap_or_default();
    assert!(said.contains("effective lengths alone"), "{said}");
}
