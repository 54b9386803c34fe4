//! A value that was measured again, typed for one difference between two lists.

use std::fs;
use std::path::Path;

use super::deciding::{NEXT, decide, kerfmark, reconcile_d, sample, take};
use crate::common::decided::decided;
use crate::common::on_screen::{drawn, press, type_in};
use crossterm::event::KeyCode;
use kerfmark::folder::{self, Book, now};
use kerfmark::measure::Length;
use kerfmark::report::said::Gone;
use kerfmark::screens::{Action, Overlay, State, update};
use kerfmark::tally::{Options, Pins, PipeString, Tally, read};

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
            .is_some_and(|text| text.contains("say why"))
    );
    assert!(drawn(&state, (80, 24)).contains("say why: who measured it and how"));
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
    assert!(prompt.contains("measured again: 12.034 m"), "{prompt}");
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
fn a_value_typed_for_something_that_the_lists_say_otherwise_by_now_is_not_written_before_it_is_seen()
 {
    for to in ["12,033", "12,203"] {
        let place = sample();
        let mut state = reconcile_d(place.path());
        press(&mut state, &[KeyCode::Char('e')]);
        type_in(&mut state, "12.03");
        change(&mut state, place.path(), YARD, "12,303", to);
        assert_eq!(state.overlay, Overlay::None, "{to}");
        let seen = drawn(&state, (80, 24));
        let said = "NOT DECIDED: slot D, joint D-04, length: the lists say something else now";
        assert!(seen.contains(said), "{seen}");
        // What is about to be written is shown anew, with what is typed of its reason.
        let place = sample();
        let mut state = reconcile_d(place.path());
        press(&mut state, &[KeyCode::Char('e')]);
        type_in(&mut state, "12.034");
        press(&mut state, &[KeyCode::Enter]);
        type_in(&mut state, "tap");
        change(&mut state, place.path(), YARD, "12,303", to);
        let seen = drawn(&state, (120, 40));
        let said = "NOT YET WRITTEN: slot D, joint D-04, length: the lists say something else now. Look again";
        assert!(seen.contains(said), "{seen}");
        assert!(seen.contains("(needed): tap"), "{seen}");
    }
}

#[test]
fn what_changed_on_the_disk_and_was_not_seen_is_not_decided() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    press(&mut state, &[KeyCode::Char('t')]);
    press(
        &mut state,
        &[KeyCode::Esc, KeyCode::Right, KeyCode::Char('t')],
    );
    // The yard's list is another by now, and this window has not read it again.
    let yard = place.path().join(YARD);
    let text = fs::read_to_string(&yard).expect("a list");
    fs::write(&yard, text.replace("12,303", "12,203")).expect("a change");
    let effects = press(&mut state, &[KeyCode::Enter]);
    let [kerfmark::screens::Effect::Decide(all)] = effects.as_slice() else {
        unreachable!("{effects:?}");
    };
    let inputs = folder::open(place.path()).expect("a job");
    assert_eq!(all[0].thing.changed_in(&inputs), Some(Gone::Figures));
}

#[test]
fn of_two_who_decide_in_the_same_moment_the_second_is_told_under_the_lock() {
    let place = sample();
    // Both read the job before either writes.
    let states = ["NK", "TM"].map(|person| {
        let mut state = reconcile_d(place.path());
        state.person = Some(person.to_owned());
        state
    });
    let books = [(); 2].map(|()| Book::open(place.path()).expect("a job"));
    let entered = states.into_iter().zip(books).map(|(mut state, mut book)| {
        let effects = take(&mut state, "yard");
        let [kerfmark::screens::Effect::Decide(all)] = effects.as_slice() else {
            unreachable!("{effects:?}");
        };
        let mut changed = None;
        let entry = book.enter_if(&all[0].event, now, |inputs| {
            changed = all[0].thing.changed_in(inputs);
            changed.is_none()
        });
        (entry.expect("no error").is_some(), changed)
    });
    let by_first = Gone::Decided(vec![("NK".to_owned(), "yard".to_owned())]);
    let entered: Vec<(bool, Option<Gone>)> = entered.collect();
    assert_eq!(entered, [(true, None), (false, Some(by_first))]);
    assert_eq!(decided(place.path()), ["length D-04 yard"]);
}

#[test]
fn a_joint_that_is_run_cannot_be_measured_again_nor_can_an_order() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    press(&mut state, &NEXT);
    press(&mut state, &[KeyCode::Char('e')]);
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
fn a_length_that_was_measured_again_keeps_its_loss_where_another_list_gives_effective_lengths() {
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
    let effects = press(&mut state, &[KeyCode::Enter]);
    decide(place.path(), &effects);
    let record = |out: &str| {
        let done = kerfmark(place.path(), &["lists", ".", "--slot", "D", "--out", out]);
        assert_eq!(done.status.code(), Some(0), "{done:?}");
        let bytes = fs::read(place.path().join(out)).expect("a record");
        read(&bytes, &Options::default()).expect("a record that reads")
    };
    let length = |tally: &Tally| PipeString::make_up(tally, Pins::default()).length;
    // The strap's 125.581 m, and 1 mm more.
    assert_eq!(length(&record("tallies/one.csv")), Length::from_mm(125_582));
    // A joint of which the effective length stands gets its loss back: all other lengths are as they were.
    let mut book = Book::open(place.path()).expect("a job");
    let event =
        r#"{"event":"decision","by":"NK","slot":"D","of":"length","joint":"D-05","choice":"yard"}"#;
    book.enter_text(event, None, now).expect("a decision");
    let both = record("tallies/two.csv");
    assert!(!both.effective_only);
    assert_eq!(length(&both), Length::from_mm(125_582));
    let joint = &both.joints[4];
    let [overall, loss] = [joint.overall(), joint.makeup_loss];
    assert_eq!(overall, Some(Length::from_mm(12_288)));
    assert_eq!(loss, Some(Length::from_mm(151)));
}
