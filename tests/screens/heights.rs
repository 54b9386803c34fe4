//! The screens of heights: readings and points, and the deck on its tops.

use std::fs;
use std::path::Path;

use super::looks::{SIZES, snapshots};
use crate::common::copies::copy_of;
use crate::common::on_screen::{drawn, press, state_of, type_in};
use crossterm::event::KeyCode::{self, Char, Down, End, Enter, Esc, Home, Left, Right};
use kerfmark::folder::open;
use kerfmark::report::said::Said;
use kerfmark::screens::{Action, LevelsPage, Loaded, Overlay, Stage, State, update};

/// The sample of readings with finished tops at these heights, in the order of its slots.
fn cut(tops: [&str; 4], size: (u16, u16)) -> State {
    let place = copy_of("many-readings");
    let file = place.path().join("job.toml");
    let mut text = fs::read_to_string(&file).expect("the job");
    for (slot, top) in ["k", "l", "m", "n"].iter().zip(tops) {
        let tally = format!("tally = \"tallies/{slot}.csv\"\n");
        assert!(text.contains(&tally));
        text = text.replace(
            &tally,
            &format!("{tally}as_cut = [{top}, {top}, {top}, {top}]\n"),
        );
    }
    fs::write(&file, text).expect("the job");
    State::new(open(place.path()).expect("a job"), size)
}

#[test]
fn points_a_reading_in_full_and_decks_look_as_they_should() {
    snapshots().bind(|| {
        for size in SIZES {
            let name = |what: &str| format!("{what}-{}x{}", size.0, size.1);
            let mut state = state_of("many-readings", size);
            press(&mut state, &[Char('7'), Right, Down, Down]);
            insta::assert_snapshot!(name("points"), drawn(&state, size));
            press(&mut state, &[Left, Enter]);
            insta::assert_snapshot!(name("reading"), drawn(&state, size));
            let mut state = cut(["14.250", "14.258", "14.251", "14.2575"], size);
            press(&mut state, &[Char('8')]);
            insta::assert_snapshot!(name("deck-rocks"), drawn(&state, size));
            press(&mut state, &[Right]);
            insta::assert_snapshot!(name("deck-rocks-other"), drawn(&state, size));
        }
        let size = (80, 24);
        let mut state = state_of("three-lists", size);
        press(&mut state, &[Char('8')]);
        insta::assert_snapshot!("deck-not-seated", drawn(&state, size));
    });
}

#[test]
fn what_statistics_calls_things_is_never_said_without_what_it_means() {
    let size = (160, 48);
    let mut state = state_of("many-readings", size);
    press(&mut state, &[Char('7')]);
    for keys in [&[][..], &[Right], &[Enter], &[Esc, Left]] {
        press(&mut state, keys);
        let text = drawn(&state, size);
        for word in text.split(|letter: char| !letter.is_alphanumeric()) {
            assert_ne!(word, "w", "{text}");
            assert_ne!(word, "sigma", "{text}");
        }
        assert!(!text.contains("redundancy"), "{text}");
    }
    press(&mut state, &[Enter]);
    let text = drawn(&state, size);
    for said in [
        "share of a mistake in it that would show there (redundancy)",
        "in standard deviations (w); beyond 3.29 is one good reading in a thousand",
        "so it: READ AGAIN",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

/// What stands at the foot of the readings: the one under the cursor.
fn detail(state: &State) -> String {
    // Where what is under the cursor stands below the lists.
    let text = drawn(state, (160, 48));
    let mut lines = text.lines().rev().skip(1);
    lines
        .find(|it| !it.trim().is_empty())
        .expect("a line")
        .to_owned()
}

#[test]
fn the_cursor_stays_on_its_reading_when_rows_are_written_above_it() {
    let place = copy_of("many-readings");
    let mut state = State::new(open(place.path()).expect("a job"), (200, 60));
    press(&mut state, &[Char('7'), End]);
    let last = detail(&state);
    press(&mut state, &[KeyCode::Up]);
    let before = detail(&state);
    assert_ne!(before, last);
    let file = place.path().join("readings.csv");
    let text = fs::read_to_string(&file).expect("readings");
    let (head, rows) = text.split_once('\n').expect("rows");
    let row = "K.top,beacon,1.000,5 mm,,,,";
    fs::write(&file, format!("{head}\n{row}\n{rows}")).expect("readings");
    let loaded = Loaded::from(open(place.path()).expect("a job"));
    update(&mut state, Action::Reloaded(Box::new(Ok(loaded))));
    let now = detail(&state);
    let points = |text: &str| {
        let (name, _) = text.split_once(": read").expect("a reading");
        name.split_once(", ").expect("points").1.to_owned()
    };
    assert_eq!(points(&now), points(&before));
    press(&mut state, &[Home]);
    assert!(detail(&state).contains("line 22"), "{}", detail(&state));
}

#[test]
fn a_reading_that_is_looked_at_closes_when_it_is_gone() {
    let place = copy_of("many-readings");
    let mut state = State::new(open(place.path()).expect("a job"), (80, 24));
    press(&mut state, &[Char('7'), Enter]);
    assert!(matches!(state.overlay, Overlay::Level(..)));
    fs::write(place.path().join("readings.csv"), "from,to,rise,sigma\n").expect("readings");
    let loaded = Loaded::from(open(place.path()).expect("a job"));
    update(&mut state, Action::Reloaded(Box::new(Ok(loaded))));
    assert_eq!(state.overlay, Overlay::None);
}

#[test]
fn left_and_right_go_between_readings_and_points_and_between_the_rests_of_a_deck() {
    let mut state = cut(["14.250", "14.258", "14.251", "14.2575"], (80, 24));
    press(&mut state, &[Char('7'), Right]);
    assert_eq!(state.at_level.page, LevelsPage::Points);
    press(&mut state, &[Left]);
    assert_eq!(state.at_level.page, LevelsPage::Readings);
    press(&mut state, &[Char('8')]);
    let one = drawn(&state, (80, 24));
    press(&mut state, &[Right]);
    let other = drawn(&state, (80, 24));
    assert!(
        one.contains("rest 1 of 2") && other.contains("rest 2 of 2"),
        "{one}{other}"
    );
    press(&mut state, &[Right]);
    assert_eq!(drawn(&state, (80, 24)), other);
}

#[test]
fn a_reading_is_entered_by_its_form() {
    let mut state = state_of("many-readings", (80, 24));
    press(&mut state, &[Char('7'), Char('a')]);
    let Overlay::Form(form) = &state.overlay else {
        panic!("{:?}", state.overlay);
    };
    assert_eq!(form.event.name, "reading");
    let confirming = |fields: [&str; 5]| {
        let mut state = state_of("many-readings", (120, 40));
        press(&mut state, &[Char('7'), Char('a')]);
        for field in fields {
            type_in(&mut state, field);
            press(&mut state, &[Enter]);
        }
        // What may be left out.
        let is_filling = |state: &State| matches!(&state.overlay, Overlay::Form(form) if form.stage == Stage::Filling);
        for _ in 0..5 {
            if is_filling(&state) {
                press(&mut state, &[Enter]);
            }
        }
        drawn(&state, (120, 40))
    };
    let wrong = confirming(["NK", "K.top", "N.top", "0.086", "2 mm"]);
    assert!(wrong.contains("Read it again and type it again"), "{wrong}");
    let new = confirming(["NK", "K.top", "K.topp", "0.086", "2 mm"]);
    assert!(new.contains("NO READING NAMES K.topp YET"), "{new}");
    let good = confirming(["NK", "K.top", "N.top", "-0.087", "2 mm"]);
    assert!(
        good.contains("-0.0862 m: read -0.087 m") && !good.contains("FAR OFF"),
        "{good}"
    );
    let coarse = confirming(["NK", "K.top", "N.top", "-0.087", "0.4"]);
    assert!(coarse.contains("A STANDARD DEVIATION OF 0.4 m"), "{coarse}");
    assert!(!good.contains("STANDARD DEVIATION OF"), "{good}");
    let plane = confirming(["NK", "K.plane@K-09", "N.top", "-0.087", "2 mm"]);
    assert!(!plane.contains("NO READING NAMES"), "{plane}");
}

#[test]
fn the_cursor_goes_to_a_reading_that_was_entered() {
    let place = copy_of("many-readings");
    let mut state = State::new(open(place.path()).expect("a job"), (200, 60));
    press(&mut state, &[Char('7'), Char('a')]);
    for field in ["NK", "K.top", "N.top", "-0.087", "2 mm"] {
        type_in(&mut state, field);
        press(&mut state, &[Enter]);
    }
    for _ in 0..8 {
        if matches!(state.overlay, Overlay::Form(_)) {
            press(&mut state, &[Enter]);
        }
    }
    let event =
        r#"{"event":"reading","from":"K.top","to":"N.top","rise":"-0.087 m","sigma":"2 mm"}"#;
    fs::write(place.path().join("events.txt"), event).expect("an event");
    let entered = ["enter", ".", "events.txt", "--by", "NK"];
    let status = std::process::Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .args(entered)
        .current_dir(place.path())
        .status();
    assert!(status.expect("it runs").success());
    let loaded = Loaded::from(open(place.path()).expect("a job"));
    update(&mut state, Action::Reloaded(Box::new(Ok(loaded))));
    let said = Said::Entered {
        seq: 1,
        event: "reading",
    };
    update(&mut state, Action::Said(said));
    // The same again.
    let mut again = State::new(open(place.path()).expect("a job"), (120, 40));
    press(&mut again, &[Char('7'), Char('a')]);
    for field in ["NK", "K.top", "N.top", "-0.087", "2 mm"] {
        type_in(&mut again, field);
        press(&mut again, &[Enter]);
    }
    let said = drawn(&again, (120, 40));
    assert!(said.contains("ENTRY 1 SAYS THE SAME"), "{said}");
    assert!(
        detail(&state).contains("entry 1, K.top to N.top"),
        "{}",
        detail(&state)
    );
}

#[test]
fn a_job_whose_readings_give_no_elevations_says_why() {
    let place = copy_of("many-readings");
    let text = fs::read_to_string(place.path().join("job.toml")).expect("the job");
    fs::write(place.path().join("job.toml"), text).expect("the job");
    let mut state = State::new(open(place.path()).expect("a job"), (80, 24));
    state.levels = Err("nothing is tied".to_owned());
    press(&mut state, &[Char('7'), Down, Right, Enter]);
    let shown = drawn(&state, (80, 24));
    assert!(shown.contains("nothing is tied"), "{shown}");
    assert!(Path::new(&state.inputs.root).is_dir());
}
