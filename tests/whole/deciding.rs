//! Deciding between two lists on the screen, without touching a source.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use crate::common::decided::decided;
use crate::common::on_screen::{drawn, press, type_in};
use crossterm::event::KeyCode;
use kerfmark::figures;
use kerfmark::finding::{Code, Flag};
use kerfmark::folder::{self, Book, now};
use kerfmark::journal::sha256;
use kerfmark::measure::{Length, LengthFormat, Unit};
use kerfmark::report::said::Said;
use kerfmark::report::words;
use kerfmark::screens::{Action, Effect, Overlay, Screen, State, update};
use kerfmark::tally::{Options, Pins, PipeString, read};

/// A copy of the sample whose slot D has a yard list that differs in three things.
pub fn sample() -> tempfile::TempDir {
    crate::common::copies::copy_of("four-slots")
}

pub fn open(folder: &Path) -> State {
    State::new(folder::open(folder).expect("a job that opens"), (80, 24))
}

pub fn reconcile_d(folder: &Path) -> State {
    let mut state = open(folder);
    press(&mut state, &[KeyCode::BackTab, KeyCode::Char('3')]);
    assert_eq!(state.screen, Screen::Reconcile);
    state.person = Some("NK".to_owned());
    state
}

/// Takes what a list says of the thing in front, as a person does who gives no reason.
pub fn take(state: &mut State, list: &str) -> Vec<Effect> {
    press(state, &[KeyCode::Left; 9]);
    if list == "yard" {
        press(state, &[KeyCode::Right]);
    }
    press(state, &[KeyCode::Char('t'), KeyCode::Enter])
}

/// To the next thing: between two of them stands the length of the joint, on which the lists agree.
pub const NEXT: [KeyCode; 2] = [KeyCode::Down; 2];

pub fn decide(folder: &Path, effects: &[Effect]) {
    for effect in effects {
        let Effect::Decide(all) = effect else {
            continue;
        };
        let mut book = Book::open(folder).expect("a job");
        for it in all {
            book.enter_text(&it.event, None, now)
                .expect("a decision on the disk");
        }
    }
}

fn has_open(folder: &Path) -> bool {
    let figures = figures::of_inputs(&folder::open(folder).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    flags.iter().any(|flag| flag.code == Code::DifferenceOpen)
}

pub fn kerfmark(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program starts")
}

#[test]
fn a_flag_on_an_open_difference_leads_to_it_and_goes_when_all_is_decided() {
    let place = sample();
    let mut state = open(place.path());
    state.person = Some("NK".to_owned());
    // Four slots and two flags of B stand before it.
    press(&mut state, &[KeyCode::Down; 6]);
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(
        (state.screen, state.slot.as_str()),
        (Screen::Reconcile, "D")
    );
    assert!(has_open(place.path()));
    let effects = take(&mut state, "record");
    decide(place.path(), &effects);
    press(&mut state, &NEXT);
    let effects = take(&mut state, "yard");
    decide(place.path(), &effects);
    assert!(has_open(place.path()));
    press(&mut state, &NEXT);
    let effects = take(&mut state, "yard");
    decide(place.path(), &effects);
    assert!(!has_open(place.path()));
}

#[test]
fn only_what_moves_an_elevation_by_more_than_the_job_allows_is_flagged() {
    let place = sample();
    let file = place.path().join("job.toml");
    let text = fs::read_to_string(&file).expect("the job");
    // The pups in one order: what is left moves 0.270 m and 0.018 m.
    let yard = place.path().join("tallies/d-yard.csv");
    let list = fs::read_to_string(&yard).expect("a list");
    let pups = "D-10;D4170;3,109;0,152;pup\nD-09;D4164;3,088;0,151;pup\n";
    assert!(list.contains(pups));
    let in_order = "D-09;D4164;3,088;0,151;pup\nD-10;D4170;3,109;0,152;pup\n";
    fs::write(&yard, list.replace(pups, in_order)).expect("a change");
    let limit = |above: &str| {
        let reconcile = format!("{text}\n[reconcile]\nopen_above = \"{above}\"\n");
        fs::write(&file, reconcile).expect("a change");
        has_open(place.path())
    };
    assert!(limit("0.28 m"));
    assert!(!limit("0.3 m"));
    fs::write(
        &file,
        format!("{text}\n[reconcile]\nopen_above = \"-0.5 m\"\n"),
    )
    .expect("a change");
    let refused = folder::open(place.path()).expect_err("a negative limit");
    assert!(refused.to_string().contains("open_above"), "{refused}");
}

/// The sentence of a flag, in metres.
fn said(flag: Option<&Flag>) -> String {
    words::flag(flag.expect("a flag"), LengthFormat::new(Unit::Metre))
}

#[test]
fn a_list_that_cannot_be_read_is_said_and_the_figures_stand() {
    let place = sample();
    let list = place.path().join("tallies/d-yard.csv");
    fs::write(&list, "Jt No,OAL (m)\n1,12.x\n").expect("a change");
    let folder = folder::open(place.path()).expect("a job that opens");
    let figures = figures::of_inputs(&folder);
    let flags = &figures.slots[3].flags;
    let flag = flags.iter().find(|flag| flag.code == Code::ListUnreadable);
    assert!(said(flag).contains("line 2, column 2"), "{flags:?}");
    assert!(!has_open(place.path()));
    fs::remove_file(list).expect("gone");
    let state = reconcile_d(place.path());
    assert!(drawn(&state, (80, 24)).contains("yard cannot be read"));
}

#[test]
fn decisions_that_cannot_be_read_are_flagged_and_no_row_is_added_to_them() {
    let place = sample();
    fs::create_dir(place.path().join("decisions")).expect("a folder");
    let file = place.path().join("decisions/D-yard.csv");
    let text = "matter,joint,list,line,a,b,stands,note\nlength,D-04,a,5,,,c,\n";
    fs::write(&file, text).expect("a file");
    let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    let flag = flags.iter().find(|flag| flag.code == Code::ListUnreadable);
    let text = said(flag);
    assert!(text.contains("D-yard.csv: line 2, column 7"), "{text}");
    let mut state = reconcile_d(place.path());
    assert!(press(&mut state, &[KeyCode::Char('t')]).is_empty());
    let said = state.message().unwrap_or_default();
    assert!(
        said.starts_with("correct the decisions file first"),
        "{said}"
    );
}

#[test]
fn decisions_of_two_persons_that_contradict_each_other_stop_the_slot_until_one_gives_way() {
    let place = sample();
    let mut book = Book::open(place.path()).expect("a job");
    let mut enter = |by: &str, choice: &str| {
        let event = format!(
            r#"{{"event":"decision","by":"{by}","slot":"D","of":"length","joint":"D-04","choice":"{choice}"}}"#
        );
        book.enter_text(&event, None, now).expect("an entry");
        let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
        let mut flags = figures.slots[3].flags.iter();
        flags.any(|it| it.code == Code::DecisionsContradict)
    };
    assert!(!enter("NK", "yard"));
    assert!(!enter("NK", "record"), "one person may think again");
    assert!(enter("TM", "yard"));
    assert!(!enter("TM", "record"));
    assert!(enter("TM", "yard"));
    assert!(!enter("NK", "open"), "it is open again for everyone");
}

#[test]
fn a_decision_that_the_tally_of_record_does_not_follow_is_flagged_until_it_does() {
    let place = sample();
    let codes = |folder: &Path| -> Vec<Code> {
        let figures = figures::of_inputs(&folder::open(folder).expect("a job that opens"));
        figures.slots[3]
            .flags
            .iter()
            .map(|flag| flag.code)
            .collect()
    };
    let mut state = reconcile_d(place.path());
    for list in ["yard", "record", "record"] {
        let effects = take(&mut state, list);
        decide(place.path(), &effects);
        press(&mut state, &NEXT);
    }
    assert_eq!(codes(place.path()), [Code::DecisionNotFollowed]);
    let tally = place.path().join("tallies/d.csv");
    let text = fs::read_to_string(&tally).expect("a tally");
    fs::write(&tally, text.replace("12.033,", "12.303,")).expect("a change");
    assert!(codes(place.path()).is_empty());
}

#[test]
fn small_differences_of_one_sign_are_flagged_for_what_they_move_together() {
    let place = sample();
    let tally = fs::read_to_string(place.path().join("tallies/d.csv")).expect("a tally");
    // Every joint 1 mm longer, as by a tape's scale: none alone is above 5 mm.
    let longer: Vec<String> = tally
        .lines()
        .map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if let Ok(metres) = cells[3].replace('.', "").parse::<i64>() {
                cells[3] = format!("{}.{:03}", (metres + 1) / 1000, (metres + 1) % 1000);
            }
            cells.join(",")
        })
        .collect();
    fs::write(place.path().join("tallies/d-yard.csv"), longer.join("\n")).expect("a change");
    let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    let flag = flags.iter().find(|flag| flag.code == Code::DifferenceOpen);
    let text = said(flag);
    assert!(
        text.contains("12 small ones that move a make-up plane by 12.0 mm together"),
        "{text}"
    );
}

#[test]
fn a_decision_holds_for_the_figures_it_was_made_of_and_for_the_record_that_came_of_it() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    for list in ["yard", "record", "record"] {
        let effects = take(&mut state, list);
        decide(place.path(), &effects);
        press(&mut state, &NEXT);
    }
    assert!(!has_open(place.path()));
    let tally = place.path().join("tallies/d.csv");
    let text = fs::read_to_string(&tally).expect("a tally");
    // The tally of record says by now what was decided; a line more moves the rows below it.
    fs::write(
        &tally,
        format!("Strap of D,,,,,\n{text}").replace("12.033,", "12.303,"),
    )
    .expect("a change");
    assert!(!has_open(place.path()));
    // The yard sends another list: what it says now, nobody has decided on.
    let yard = place.path().join("tallies/d-yard.csv");
    let text = fs::read_to_string(&yard).expect("a list");
    fs::write(&yard, text.replace("0,135", "0,173")).expect("a change");
    assert!(has_open(place.path()));
}

/// The sample of one string in three lists, on Reconcile.
fn three_lists() -> (tempfile::TempDir, State) {
    let place = crate::common::copies::copy_of("three-lists");
    let mut state = open(place.path());
    press(&mut state, &[KeyCode::Char('3')]);
    state.person = Some("NK".to_owned());
    (place, state)
}

/// Reads the job again, as after an entry.
fn again(state: &mut State, folder: &Path) {
    let read = folder::open(folder).map_err(|error| error.to_string());
    update(state, Action::Reloaded(Box::new(read.map(Into::into))));
}

fn length_of_record(folder: &Path, out: &str) -> Length {
    let done = kerfmark(folder, &["lists", ".", "--slot", "K", "--out", out]);
    assert_eq!(done.status.code(), Some(0), "{done:?}");
    let bytes = fs::read(folder.join(out)).expect("a record");
    let tally = read(&bytes, &Options::default()).expect("a record that reads");
    PipeString::make_up(&tally, Pins::default()).length
}

#[test]
fn all_within_rounding_is_kept_as_the_tally_of_record_has_it_once_that_is_confirmed() {
    let (place, mut state) = three_lists();
    press(&mut state, &[KeyCode::Char('d')]);
    let seen = drawn(&state, (80, 24));
    assert!(
        seen.contains("things are decided, each by an entry of its own"),
        "{seen}"
    );
    assert!(decided(place.path()).is_empty(), "only Enter writes");
    let effects = press(&mut state, &[KeyCode::Enter]);
    decide(place.path(), &effects);
    let decisions = decided(place.path());
    let of_record = |it: &String| it.ends_with(" record") && it.starts_with("makeup-loss ");
    // To the hundredth of an inch the yard is finer than the millimetre, in losses alone.
    assert!(decisions.iter().all(of_record), "{decisions:?}");
    assert_eq!(decisions.len(), 20, "{decisions:?}");
    // By hand: the 274.679 m of the tally of record; K-04 as the yard has it, 39 ft 5 3/4 in for 12.303 m; the loss of
    // K-07 5.98 in for 0.125 m; and K-12, 39 ft 6 3/8 in less 5.98 in.
    let record = length_of_record(place.path(), "tallies/one.csv");
    let by_hand = Length::from_nm(
        274_679_000_000 - (12_303_000_000 - 12_033_250_000) - (151_892_000 - 125_000_000)
            + (12_049_125_000 - 151_892_000),
    );
    assert_eq!(record, by_hand);
    again(&mut state, place.path());
    press(&mut state, &[KeyCode::Char('d')]);
    let said = state.message().unwrap_or_default();
    assert_eq!(
        said,
        "nothing differs from the tally of record by rounding alone"
    );
}

#[test]
fn what_was_measured_again_is_overridden_only_with_a_reason_and_can_be_set_open_or_taken_back() {
    let (place, mut state) = three_lists();
    press(&mut state, &[KeyCode::Char('e')]);
    type_in(&mut state, "12.034");
    press(&mut state, &[KeyCode::Enter]);
    type_in(&mut state, "tape, twice");
    let effects = press(&mut state, &[KeyCode::Enter]);
    decide(place.path(), &effects);
    again(&mut state, place.path());
    press(&mut state, &[KeyCode::Right, KeyCode::Char('t')]);
    let seen = drawn(&state, (80, 24));
    assert!(seen.contains("NK MEASURED IT AGAIN: 12.034 m"), "{seen}");
    assert!(press(&mut state, &[KeyCode::Enter]).is_empty());
    let said = state.message().unwrap_or_default();
    assert!(said.starts_with("say why"), "{said}");
    type_in(&mut state, "tape was burnt");
    let effects = press(&mut state, &[KeyCode::Enter]);
    decide(place.path(), &effects);
    again(&mut state, place.path());
    // The same once more is no decision.
    press(&mut state, &[KeyCode::Char('t')]);
    let said = state.message().unwrap_or_default();
    assert_eq!(said, "slot K, joint K-04, length: decided so already");
    let open = |state: &mut State, keys: &[KeyCode]| {
        let effects = press(state, keys);
        decide(place.path(), &effects);
        effects
    };
    let effects = open(&mut state, &[KeyCode::Char('z'), KeyCode::Enter]);
    let [Effect::Enter(event)] = effects.as_slice() else {
        unreachable!("{effects:?}");
    };
    let event: serde_json::Value = serde_json::from_str(event).expect("JSON");
    assert_eq!(
        (&event["event"], &event["strikes"]),
        (&"strike".into(), &2.into())
    );
    let mut book = Book::open(place.path()).expect("a job");
    book.enter_text(&event.to_string(), None, now)
        .expect("a strike");
    again(&mut state, place.path());
    assert!(
        drawn(&state, (80, 24)).contains("measured: NK"),
        "the first applies again"
    );
    // What was measured is set open with a reason too.
    press(&mut state, &[KeyCode::Char('o'), KeyCode::Enter]);
    let said = state.message().unwrap_or_default();
    assert!(said.starts_with("say why"), "{said}");
    type_in(&mut state, "to be measured a third time");
    open(&mut state, &[KeyCode::Enter]);
    again(&mut state, place.path());
    press(&mut state, &[KeyCode::Char('o')]);
    let said = state.message().unwrap_or_default();
    assert_eq!(said, "slot K, joint K-04, length: not decided");
    let last = "length K-04 open to be measured a third time";
    assert_eq!(decided(place.path()).last().map(String::as_str), Some(last));
}

#[test]
fn all_joints_are_shown_where_they_are_asked_for_and_the_cursor_stays_on_its_own() {
    let (_place, mut state) = three_lists();
    press(&mut state, &[KeyCode::Down; 3]);
    let before = drawn(&state, (200, 60));
    assert!(before.contains("makeup-loss of joint K-07"), "{before}");
    assert!(!before.contains(" K-08 "), "{before}");
    press(&mut state, &[KeyCode::Char('f')]);
    let after = drawn(&state, (200, 60));
    assert!(after.contains("makeup-loss of joint K-07"), "{after}");
    assert!(after.contains(" K-08 "), "{after}");
}

#[test]
fn a_tally_of_record_is_adopted_once_it_was_shown_what_moves_and_only_while_it_follows() {
    let (place, mut state) = three_lists();
    let written = |state: &mut State| {
        let effects = press(state, &[KeyCode::Char('w')]);
        let [
            Effect::Write {
                stem, open, bytes, ..
            },
        ] = effects.as_slice()
        else {
            unreachable!("{effects:?}");
        };
        let file = format!("tallies/{stem}.csv");
        fs::write(place.path().join(&file), bytes).expect("a record");
        let said = Said::RecordWritten {
            file: file.into(),
            open: *open,
            sha256: sha256(bytes),
        };
        update(state, Action::Said(said));
    };
    press(&mut state, &[KeyCode::Char('T')]);
    let said = state.message().unwrap_or_default();
    assert!(
        said.starts_with("nothing was written for this slot"),
        "{said}"
    );
    written(&mut state);
    assert!(press(&mut state, &[KeyCode::Char('T')]).is_empty());
    let seen = drawn(&state, (80, 24));
    assert!(
        seen.contains("becomes the tally of record; what nobody decided"),
        "{seen}"
    );
    assert!(
        seen.contains("against the tally in use: string 11.6028 m longer"),
        "{seen}"
    );
    let effects = press(&mut state, &[KeyCode::Enter]);
    assert!(
        matches!(effects.as_slice(), [Effect::Adopt { .. }]),
        "{effects:?}"
    );
    // Someone decides otherwise after it was written: it is old.
    let event = r#"{"event":"decision","by":"RS","slot":"K","of":"length","joint":"K-04","choice":"record","note":"tape"}"#;
    let mut book = Book::open(place.path()).expect("a job");
    book.enter_text(event, None, now).expect("a decision");
    again(&mut state, place.path());
    press(&mut state, &[KeyCode::Char('T')]);
    let said = state.message().unwrap_or_default();
    assert!(
        said.starts_with("NOT ADOPTED: lists or decisions changed since"),
        "{said}"
    );
    assert_eq!(state.overlay, Overlay::None);
}
