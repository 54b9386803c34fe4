//! The list of keys in the documents is that of the table of commands, and every command is in the palette where it
//! works. The list is written by `INSTA_UPDATE=always cargo test --test screens keys`.

use std::fmt::Write as _;
use std::fs;

use crate::common::on_screen::{press, state_of, type_in};
use crossterm::event::KeyCode;
use kerfmark::job::{Hold, Role};
use kerfmark::journal::Moment;
use kerfmark::report::Shown;
use kerfmark::screens::{
    Action, KeyCommand, Overlay, Palette, Screen, SignStage, Signing, State, commands, update,
};

const START: &str =
    "<!-- keys: written by `INSTA_UPDATE=always cargo test --test screens keys` -->\n";
const END: &str = "<!-- end of keys -->";

/// A state of a sample on a screen, after some keys.
fn on(sample: &str, screen: Screen, keys: &[KeyCode]) -> State {
    let mut state = state_of(sample, (120, 40));
    state.person = Some("NK".to_owned());
    update(&mut state, Action::Go(screen));
    press(&mut state, keys);
    state
}

/// Every screen, with what must be there for its commands.
fn screens() -> Vec<(Screen, State)> {
    Screen::ALL
        .into_iter()
        .flat_map(|screen| {
            let samples: &[&str] = match screen {
                Screen::Reconcile => &["three-lists"],
                Screen::Levels => &["many-readings"],
                Screen::Record => &["one-night"],
                _ => &["four-slots"],
            };
            let states = samples.iter().flat_map(move |sample| {
                // The first slot and the last, which is planned in one of the samples.
                [&[][..], &[KeyCode::BackTab]].map(|keys| on(sample, screen, keys))
            });
            states.map(move |state| (screen, state))
        })
        .collect()
}

/// What can lie over a screen, in the order in which it is listed.
fn over() -> Vec<(&'static str, State)> {
    let mut find = on("four-slots", Screen::Tally, &[]);
    type_in(&mut find, "/a");
    let help = on("four-slots", Screen::Cut, &[KeyCode::Char('?')]);
    let palette = on("four-slots", Screen::Cut, &[KeyCode::Char(':')]);
    let menu = on("one-night", Screen::Floor, &[KeyCode::Char('e')]);
    let form = on("one-night", Screen::Record, &[KeyCode::Char('x')]);
    let mut statement = on("one-night", Screen::Cut, &[]);
    statement.overlay = Overlay::Sign(Box::new(Signing {
        slot: "A".to_owned(),
        hold: Hold::Final,
        role: Role::Prepared,
        person: "NK".to_owned(),
        on_paper: false,
        shown: Shown {
            text: "a statement".to_owned(),
            at: Moment::parse("2026-03-02T10:00:00+01:00").expect("a time"),
        },
        stage: SignStage::Reading(0),
    }));
    let mut sought = on("four-slots", Screen::Overview, &[]);
    type_in(&mut sought, "/a-11\r");
    press(&mut sought, &[KeyCode::Enter]);
    let mut changed = on("four-slots", Screen::Overview, &[]);
    changed.old = Some("unreadable".to_owned());
    let mut rocks = on("four-slots", Screen::Deck, &[]);
    if let Some(Ok(seating)) = &mut rocks.seating {
        let again = seating.seat.rests.clone();
        seating.seat.rests.extend(again);
    }
    vec![
        ("after a search", sought),
        ("after a change of the files", changed),
        ("on a deck that rocks", rocks),
        ("while typing", find),
        ("over a screen", help),
        ("in the palette", palette),
        ("in a form", form),
        ("in a list of events or of what is missing", menu),
        ("over a statement", statement),
    ]
}

/// Where a command works.
fn place(command: &KeyCommand, screens: &[(Screen, State)], over: &[(&str, State)]) -> String {
    let on: Vec<&str> = Screen::ALL
        .into_iter()
        .filter(|screen| {
            let mut states = screens.iter().filter(|(it, _)| it == screen);
            states.any(|(_, state)| command.is_available(state))
        })
        .map(Screen::name)
        .collect();
    match on.len() {
        0 => {
            let mut found = over.iter().filter(|(_, state)| command.is_available(state));
            let (name, _) = found
                .next()
                .unwrap_or_else(|| panic!("{} never works", command.id));
            (*name).to_owned()
        }
        9 => "every screen".to_owned(),
        6..=8 => {
            let others = Screen::ALL.into_iter().map(Screen::name);
            let others: Vec<&str> = others.filter(|name| !on.contains(name)).collect();
            format!("all but {}", others.join(", "))
        }
        _ => on.join(", "),
    }
}

#[test]
fn the_list_of_keys_in_the_documents_is_that_of_the_table_of_commands() {
    let (screens, over) = (screens(), over());
    let mut text = String::from("| key | command | where | does |\n| --- | --- | --- | --- |\n");
    for command in commands() {
        let _ = writeln!(
            text,
            "| `{}` | {} | {} | {} |",
            command.hint,
            command.name(),
            place(command, &screens, &over),
            command.help
        );
    }
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/screens.md");
    let page = fs::read_to_string(file).expect("the page");
    let (before, rest) = page.split_once(START).expect("where the list begins");
    let (there, after) = rest.split_once(END).expect("where it ends");
    if std::env::var("INSTA_UPDATE").is_ok_and(|it| it == "always") {
        fs::write(file, format!("{before}{START}{text}{END}{after}")).expect("written");
        return;
    }
    assert_eq!(
        there, text,
        "INSTA_UPDATE=always cargo test --test screens keys writes it"
    );
}

#[test]
fn every_command_is_found_in_the_palette_by_its_name_and_does_what_its_key_does() {
    let states = screens().into_iter().map(|(_, state)| state);
    let over = over().into_iter().map(|(_, state)| state);
    let typed = |state: &State| state.overlay.is_typed_into();
    for state in states.chain(over).filter(|state| !typed(state)) {
        for command in commands().filter(|it| it.is_available(&state) && it.id != "palette") {
            let mut by_key = state.clone();
            let mut by_name = state.clone();
            let Some(action) = (command.action)(&by_key) else {
                continue;
            };
            // An earlier command may have the key here: the palette does what the table says.
            let effects = update(&mut by_key, action);
            by_name.overlay = Overlay::Palette(Box::new(Palette {
                text: command.name(),
                at: 0,
                under: state.overlay.clone(),
            }));
            let effects_by_name = press(&mut by_name, &[KeyCode::Enter]);
            assert_eq!(effects, effects_by_name, "{}", command.id);
            assert_eq!(by_key.overlay, by_name.overlay, "{}", command.id);
            assert_eq!(by_key.screen, by_name.screen, "{}", command.id);
            assert_eq!(by_key.slot, by_name.slot, "{}", command.id);
        }
    }
}

#[test]
fn the_palette_finds_by_parts_of_words_and_leaves_all_as_it_was_on_escape() {
    let mut state = on("four-slots", Screen::Profile, &[]);
    type_in(&mut state, ":zo i");
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(state.overlay, Overlay::None);
    let whole = on("four-slots", Screen::Profile, &[]).view.span;
    assert!(state.view.span < whole, "zoomed in");
    type_in(&mut state, ":nothing of this name");
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(
        (state.overlay.clone(), state.screen),
        (Overlay::None, Screen::Profile)
    );
    type_in(&mut state, ":deck");
    press(&mut state, &[KeyCode::Esc]);
    assert_eq!(
        (state.overlay.clone(), state.screen),
        (Overlay::None, Screen::Profile)
    );
}

#[test]
fn help_lists_the_keys_of_the_screen_in_front_alone() {
    for (screen, mut state) in screens() {
        let works: Vec<String> = commands()
            .filter(|it| it.is_available(&state))
            .map(|it| it.help.to_owned())
            .collect();
        state.size = (200, 200);
        press(&mut state, &[KeyCode::Char('?')]);
        let text = crate::common::on_screen::drawn(&state, (200, 200));
        for command in commands() {
            let is_listed = text.contains(command.help);
            let is_own = works.iter().any(|it| it.contains(command.help));
            assert!(is_listed || !is_own, "{screen:?}: {}", command.id);
        }
    }
}
