//! Entering in the screens: keys fill in forms, forms make events, and the real program writes them.

use std::fs;

use crossterm::event::KeyCode::{self, BackTab, Backspace, Char, Down, Enter, Esc, Left, Right};
use kerfmark::folder::{Book, now, open};
use kerfmark::journal::{Draft, EVENTS, Moment};
use kerfmark::screens::{Action, Effect, Form, Overlay, Stage, State, update};

use crate::common::copies::copy_of;
use crate::common::on_screen::{drawn, press, state, type_in};

/// An invented job whose first slot is not run yet, with persons and pipe on deck.
fn planned() -> tempfile::TempDir {
    let place = copy_of("four-slots");
    let file = place.path().join("job.toml");
    let text = fs::read_to_string(&file).expect("the job file");
    let text = text.replacen("stick_up = 0.960\n", "", 1).replacen(
        "[site]",
        "[people]\nNK = \"N. K.\"\nTM = \"T. M.\"\n\n[site]",
        1,
    );
    let text = text.replacen(
        "units = \"m\"",
        "units = \"m\"\npool = \"tallies/deck.csv\"",
        1,
    );
    fs::write(&file, text).expect("the job file");
    let deck =
        "joint,serial,length (m),makeup_loss\nX-1,Q7001,12.100,0.152\nX-2,Q7002,12.200,0.152\n";
    fs::write(place.path().join("tallies/deck.csv"), deck).expect("the pipe on deck");
    place
}

fn state_at(root: &std::path::Path) -> State {
    State::new(open(root).expect("a job"), (80, 24))
}

/// Gives keys and carries out what they ask for, as the driver does; the state is that of the files after.
fn enter(root: &std::path::Path, state: &mut State, keys: &[KeyCode]) -> Result<u64, String> {
    let effects = press(state, keys);
    let [Effect::Enter(event)] = effects.as_slice() else {
        return Err(format!("{effects:?}"));
    };
    let mut book = Book::open(root).map_err(|error| error.to_string())?;
    let entry = book
        .enter_text(event, None, now)
        .map_err(|error| error.to_string())?;
    let person = state.person.clone();
    let screen = state.screen;
    *state = state_at(root);
    state.person = person;
    state.screen = screen;
    Ok(entry.seq)
}

fn form(state: &State) -> &Form {
    match &state.overlay {
        Overlay::Form(form) => form,
        other => panic!("no form: {other:?}"),
    }
}

#[test]
fn a_joint_is_run_with_three_keys_and_the_floor_follows_the_journal() {
    let place = planned();
    let mut state = state_at(place.path());
    press(&mut state, &[Char('6'), Char('i')]);
    assert_eq!(state.person.as_deref(), Some("NK"));
    for seq in 1..=3 {
        assert_eq!(
            enter(place.path(), &mut state, &[Char('a'), Enter, Enter]),
            Ok(seq)
        );
    }
    let shown = drawn(&state, (80, 24));
    assert!(shown.contains("3 OF 11 JOINTS RUN"), "{shown}");
    // What is entered says how many are run: plus and minus have no say any more.
    press(&mut state, &[Char('+'), Down]);
    assert!(drawn(&state, (80, 24)).contains("3 OF 11 JOINTS RUN"));
    // The next one is offered.
    press(&mut state, &[Char('a')]);
    assert_eq!(form(&state).text("joint"), "A-04");
}

#[test]
fn another_joint_is_chosen_by_part_of_its_serial_and_a_swap_is_named_at_once() {
    let place = planned();
    let mut state = state_at(place.path());
    press(&mut state, &[Char('6'), Char('i')]);
    let run = |state: &mut State, keys: &[KeyCode]| enter(place.path(), state, keys);
    run(&mut state, &[Char('a'), Enter, Enter]).expect("an entry");
    press(&mut state, &[Char('a')]);
    press(&mut state, &[Backspace; 4]);
    type_in(&mut state, "7002");
    press(&mut state, &[Enter]);
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("X-2") && shown.contains("Q7002") && shown.contains("12.200 m"),
        "{shown}"
    );
    // It is not written before it is confirmed, and Esc goes back to change it.
    press(&mut state, &[Esc]);
    assert_eq!(form(&state).stage, Stage::Filling);
    assert_eq!(run(&mut state, &[Enter, Enter]), Ok(2));
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("NOT AS LISTED FROM JOINT 2 ON: RUN X-2, LISTED A-02"),
        "{shown}"
    );
}

#[test]
fn a_reading_that_is_far_off_is_asked_for_twice() {
    let place = planned();
    let mut state = state_at(place.path());
    press(&mut state, &[Char('6'), Char('i'), Char('s')]);
    // Landed as planned the stick-up is 0.960 m; a digit slipped.
    type_in(&mut state, "1.960");
    press(&mut state, &[Down, Right, Enter]);
    assert!(
        matches!(form(&state).stage, Stage::Again(..)),
        "{:?}",
        form(&state).stage
    );
    let shown = drawn(&state, (80, 24));
    assert!(shown.contains("Read it again and type it again"), "{shown}");
    type_in(&mut state, "0.961");
    press(&mut state, &[Enter]);
    assert_eq!(form(&state).stage, Stage::Confirming);
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("0.961 m (3' 1 13/16\") ABOVE SPIDER"),
        "{shown}"
    );
    assert!(
        shown.contains("the plan makes 0.960 m: read 0.961 m, +1.0 mm off"),
        "{shown}"
    );
    // The same far reading twice is a reading.
    press(&mut state, &[Esc, Esc, Esc, Char('s')]);
    type_in(&mut state, "1.960");
    press(&mut state, &[Down, Right, Enter]);
    type_in(&mut state, "1.960");
    press(&mut state, &[Enter]);
    assert_eq!(form(&state).stage, Stage::Confirming);
    assert!(drawn(&state, (80, 24)).contains("FAR OFF"));
    assert_eq!(enter(place.path(), &mut state, &[Enter]), Ok(1));
}

#[test]
fn what_is_typed_is_not_lost_by_one_key() {
    let mut state = state();
    press(&mut state, &[Char('9'), Char('e')]);
    let note = EVENTS
        .iter()
        .filter(|it| !it.by_program)
        .position(|it| it.name == "note");
    press(&mut state, &vec![Down; note.expect("an event")]);
    press(&mut state, &[Enter]);
    assert_eq!(form(&state).event.name, "note");
    type_in(&mut state, "NK");
    press(&mut state, &[Down]);
    type_in(&mut state, "q is a letter here");
    press(&mut state, &[Esc]);
    assert_eq!(form(&state).text("text"), "q is a letter here");
    assert!(drawn(&state, (80, 24)).contains("Esc again drops what is typed"));
    press(&mut state, &[Esc]);
    assert_eq!(state.overlay, Overlay::None);
}

#[test]
fn what_is_wrong_is_said_where_it_is_typed_and_nothing_is_written() {
    let place = planned();
    let mut state = state_at(place.path());
    press(&mut state, &[Char('6'), Char('i'), Char('s')]);
    type_in(&mut state, "1.x2");
    assert!(press(&mut state, &[Enter]).is_empty());
    let shown = drawn(&state, (80, 24));
    assert!(shown.contains("reading: `1.x2` is not a length"), "{shown}");
    // A missing field is gone to.
    press(&mut state, &[Backspace; 4]);
    press(&mut state, &[Down, Enter]);
    assert_eq!(form(&state).fields[form(&state).at].key, "value");
    assert!(!place.path().join("journal.jsonl").exists());
}

#[test]
fn the_list_of_events_says_how_many_are_out_of_sight() {
    let mut state = state();
    press(&mut state, &[Char('e')]);
    let shown = drawn(&state, (80, 24));
    let hidden = EVENTS.iter().filter(|it| !it.by_program);
    let hidden = hidden.filter(|it| !shown.contains(&format!(" {:<17} ", it.name)));
    let hidden = hidden.count();
    assert!(hidden > 0, "{shown}");
    assert!(shown.contains(&format!(" {hidden} more below")), "{shown}");
}

#[test]
fn the_second_mark_is_measured_without_sight_of_the_first_and_of_the_target() {
    let mut state = state();
    press(&mut state, &[Char('5'), Char('e')]);
    let scribe = EVENTS
        .iter()
        .filter(|it| !it.by_program)
        .position(|it| it.name == "scribe");
    press(&mut state, &vec![Down; scribe.expect("an event")]);
    press(&mut state, &[Enter]);
    type_in(&mut state, "NK");
    press(&mut state, &[Down, Down, Right, Down]);
    type_in(&mut state, "12.848");
    assert!(drawn(&state, (80, 24)).contains("12.848"));
    press(&mut state, &[Down]);
    type_in(&mut state, "NK");
    press(&mut state, &[Down, Right]);
    let shown = drawn(&state, (80, 24));
    assert!(
        !shown.contains("12.848") && !shown.contains("14.2515"),
        "{shown}"
    );
    assert!(
        shown.contains("hidden until the other mark is measured"),
        "{shown}"
    );
    press(&mut state, &[Left, BackTab]);
}

#[test]
fn every_form_can_be_opened_and_filled_by_its_choices() {
    let place = planned();
    let mut state = state_at(place.path());
    press(&mut state, &[Char('i')]);
    let offered: Vec<_> = EVENTS.iter().filter(|it| !it.by_program).collect();
    for (at, event) in offered.iter().enumerate() {
        press(&mut state, &[Esc, Esc, Esc, Char('9'), Char('e')]);
        press(&mut state, &vec![Down; at]);
        press(&mut state, &[Enter]);
        assert_eq!(form(&state).event.name, event.name);
        let count = form(&state).fields.len();
        for _ in 0..count {
            press(&mut state, &[Right, Down]);
            drawn(&state, (80, 24));
        }
        let text = form(&state).json();
        // Whatever is missing is missing: it is one JSON object.
        let problems = Draft::read(&text, None).err().unwrap_or_default();
        let is_json = problems
            .iter()
            .all(|it| !it.to_string().contains("expected one JSON object"));
        assert!(is_json, "{text}: {problems:?}");
    }
}

#[test]
fn an_entry_is_struck_in_the_record_and_stays_in_it() {
    let place = planned();
    let mut state = state_at(place.path());
    press(&mut state, &[Char('6'), Char('i')]);
    for _ in 0..2 {
        enter(place.path(), &mut state, &[Char('a'), Enter, Enter]).expect("an entry");
    }
    press(&mut state, &[Char('9'), Char('x')]);
    assert_eq!(form(&state).text("strikes"), "2");
    type_in(&mut state, "wrong joint");
    press(&mut state, &[Enter]);
    assert_eq!(enter(place.path(), &mut state, &[Enter]), Ok(3));
    press(&mut state, &[Char('9'), KeyCode::Up]);
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("2x") && shown.contains("struck by entry 3"),
        "{shown}"
    );
    press(&mut state, &[Char('6')]);
    assert!(drawn(&state, (80, 24)).contains("1 OF 11 JOINTS RUN"));
}

#[test]
fn what_the_next_hold_point_lacks_leads_to_where_it_is_entered() {
    let place = planned();
    let file = place.path().join("job.toml");
    let text = fs::read_to_string(&file).expect("the job file");
    let roles = "[roles]\nprepared = [\"NK\"]\n[holds]\nlanded = [\"prepared\"]\n\n[site]";
    fs::write(&file, text.replacen("[site]", roles, 1)).expect("the job file");
    let mut state = state_at(place.path());
    press(&mut state, &[Char('i'), Char('p')]);
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("the next hold point of slot A is landed; it lacks:"),
        "{shown}"
    );
    assert!(shown.contains("> no stick-up is read"), "{shown}");
    assert!(
        shown.contains("  to be signed as prepared by NK"),
        "{shown}"
    );
    press(&mut state, &[Enter]);
    assert_eq!(form(&state).event.name, "stick-up");
    press(&mut state, &[Esc, Char('p'), BackTab]);
    assert!(
        drawn(&state, (80, 24)).contains("of slot D"),
        "{}",
        drawn(&state, (80, 24))
    );
}

/// Enters events by the command line's way, and gives the state of the files after, on the floor.
fn after(root: &std::path::Path, events: &[&str]) -> State {
    let mut book = Book::open(root).expect("a job");
    for event in events {
        book.enter_text(event, Some("NK"), now).expect("an event");
    }
    let mut state = state_at(root);
    press(&mut state, &[Char('6')]);
    state
}

#[test]
fn the_floor_counts_down_to_the_time_from_which_a_string_may_be_slacked_off() {
    let place = planned();
    let placed = r#"{"event":"placed","slot":"A","what":"grout","until":"2026-03-01T20:00:00+01:00","at":"2026-03-01T08:00:00+01:00"}"#;
    let mut state = after(place.path(), &[placed]);
    assert!(state.counts_down());
    let clock = |text: &str| Action::Clock(Moment::parse(text).expect("a moment"));
    let mut at = |text: &str| {
        update(&mut state, clock(text));
        drawn(&state, (120, 40))
    };
    let shown = at("2026-03-01T16:44:30+01:00");
    let said = "GROUT IN PLACE: NOT TO BE SLACKED OFF BEFORE 2026-03-01 20:00: 3 h 16 min LEFT";
    assert!(shown.contains(said), "{shown}");
    // A minute that has begun is not over.
    assert!(at("2026-03-01T19:59:59+01:00").contains("0 h 01 min LEFT"));
    let shown = at("2026-03-01T20:00:00+01:00");
    assert!(
        shown.contains("GROUT: WAITED TILL 2026-03-01 20:00"),
        "{shown}"
    );
    // Once the stick-up was read after it there is nothing to wait for.
    let read = r#"{"event":"stick-up","slot":"A","hull":"running","value":"0.96 m","state":"slacked-off","at":"2026-03-01T20:30:00+01:00"}"#;
    assert!(!after(place.path(), &[read]).counts_down());
}

#[test]
fn the_floor_names_possible_causes_where_a_joint_came_out_otherwise() {
    let place = planned();
    let events = [
        r#"{"event":"joint-run","slot":"A","joint":"A-01"}"#,
        r#"{"event":"joint-run","slot":"A","joint":"A-02","before":"1.000 m","after":"13.177 m"}"#,
    ];
    // A-02 adds 12.033 m and A-03 12.177 m: it was that one.
    let state = after(place.path(), &events);
    let shown = drawn(&state, (120, 40));
    assert!(
        shown.contains("A-02 CAME OUT 0.144 m LONGER THAN LISTED"),
        "{shown}"
    );
    assert!(
        shown.contains("POSSIBLE CAUSES:") && shown.contains("A-03 was run in its place"),
        "{shown}"
    );
    assert!(shown.contains("would fit by chance"), "{shown}");
}

#[test]
fn what_is_unlikely_is_said_before_it_is_entered() {
    let place = planned();
    let joints: Vec<String> = (1..=3)
        .map(|at| format!(r#"{{"event":"joint-run","slot":"A","joint":"A-{at:02}"}}"#))
        .collect();
    let events: Vec<&str> = joints.iter().map(String::as_str).collect();
    let mut state = after(place.path(), &events);
    state.person = Some("NK".to_owned());
    // Another joint than the tally lists next; part of its number without the hyphen is enough.
    press(&mut state, &[Char('a')]);
    type_in(&mut state, "a07");
    press(&mut state, &[Enter]);
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("NOT AS LISTED: A-04 comes next in the tally"),
        "{shown}"
    );
    press(&mut state, &[Esc, Esc, Esc]);
    // Landed with joints missing.
    press(&mut state, &[Char('s')]);
    type_in(&mut state, "0.96");
    press(&mut state, &[Down, Right, Enter]);
    let shown = drawn(&state, (80, 24));
    assert!(
        shown.contains("8 JOINTS OF THE TALLY DO NOT HANG"),
        "{shown}"
    );
}
