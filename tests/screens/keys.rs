//! The screens without a terminal: keys change states, states are drawn, at every size.

use crate::common::copies::copy_of;
use crate::common::on_screen::{drawn, key, press, state, state_of, type_in};
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use kerfmark::figures::catalogue::{Subject, subjects};
use kerfmark::folder::{ThemeName, open};
use kerfmark::measure::Excerpt;
use kerfmark::screens::{
    Action, Effect, Overlay, Screen, State, TallyRow, Theme, action, commands, draw, update,
};
use kerfmark::tally::{FileNote, SheetReason};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::layout::Rect;
use ratatui::{TerminalOptions, Viewport};

/// Everything that can be in front: each screen, each thing that lies over one, in each unit.
fn all_states(size: (u16, u16)) -> Vec<State> {
    let mut states = Vec::new();
    for sample in ["four-slots", "three-feet"] {
        let slots = state_of(sample, size).figures.slots.len();
        for screen in Screen::ALL {
            for slot in 1..slots {
                let mut state = state_of(sample, size);
                update(&mut state, Action::Go(screen));
                press(&mut state, &vec![KeyCode::Tab; slot]);
                states.push(state);
            }
            let mut state = state_of(sample, size);
            update(&mut state, Action::Go(screen));
            states.push(state.clone());
            press(
                &mut state,
                &[
                    KeyCode::Char('u'),
                    KeyCode::Char('u'),
                    KeyCode::Tab,
                    KeyCode::End,
                ],
            );
            states.push(state.clone());
            if screen == Screen::Cut {
                press(
                    &mut state,
                    &[
                        KeyCode::Home,
                        KeyCode::Down,
                        KeyCode::Down,
                        KeyCode::Enter,
                        KeyCode::End,
                    ],
                );
                states.push(state.clone());
                press(&mut state, &[KeyCode::Char('?'), KeyCode::End]);
                states.push(state.clone());
                press(&mut state, &[KeyCode::Char('/')]);
                type_in(&mut state, "a-0");
                state.old = Some("job.toml: line 3, column 1: something is wrong".to_owned());
                states.push(state);
            }
        }
    }
    states
}

#[test]
fn the_walks_over_states_reach_every_screen_with_every_slot_and_a_list_with_differences() {
    let states = all_states((80, 24));
    for screen in Screen::ALL {
        for slot in 0..4 {
            assert!(
                states.iter().any(|it| it.screen == screen
                    && it.slot_index() == slot
                    && it.figures.slots.len() == 4),
                "{screen:?} of slot {slot}"
            );
        }
    }
    let differs = |state: &State| {
        let lists = &state.figures.lists[state.slot_index()];
        state.screen == Screen::Reconcile
            && lists.iter().flatten().any(|it| !it.differences.is_empty())
    };
    assert!(states.iter().any(differs));
}

#[test]
fn every_screen_can_be_drawn_at_every_size() {
    let mut states = all_states((80, 24));
    let widths =
        (1..=200_u16).flat_map(|width| [1, 5, 10, 24, 40, 60].map(|height| (width, height)));
    let heights =
        (1..=60_u16).flat_map(|height| [1, 20, 40, 80, 120, 200].map(|width| (width, height)));
    let options = TerminalOptions {
        viewport: Viewport::Fixed(Rect::new(0, 0, 200, 60)),
    };
    let backend = TestBackend::new(200, 60);
    let mut terminal = Terminal::with_options(backend, options).expect("a terminal");
    for (width, height) in widths.chain(heights) {
        terminal
            .resize(Rect::new(0, 0, width, height))
            .expect("another size");
        for (index, state) in states.iter_mut().enumerate() {
            // Small sizes show one line alone; of the others each size has its share of the states.
            let small = width < 80 || height < 24;
            let turn = usize::from(width) + usize::from(height);
            if (small && index > 1) || (!small && (index + turn) % 12 != 0) {
                continue;
            }
            update(state, Action::Resize(width, height));
            let theme = if index % 2 == 0 {
                Theme::of(ThemeName::Dark)
            } else {
                Theme::of(ThemeName::Mono).ascii()
            };
            terminal
                .draw(|frame| draw(state, &theme, frame))
                .expect("a frame");
        }
    }
}

#[test]
fn below_the_least_size_one_line_says_which_is_needed() {
    let state = state();
    let small = drawn(&state, (79, 24));
    assert_eq!(
        small.trim(),
        "kerfmark needs 80 x 24; this is 79 x 24. Ctrl-C quits."
    );
}

#[test]
fn number_keys_go_to_the_screens_and_escape_goes_back() {
    let mut state = state();
    for (index, screen) in Screen::ALL.into_iter().enumerate() {
        let digit =
            char::from_digit(u32::try_from(index + 1).expect("small"), 10).expect("a digit");
        press(&mut state, &[KeyCode::Char(digit)]);
        assert_eq!(state.screen, screen);
    }
    press(&mut state, &[KeyCode::Char('?')]);
    assert_eq!(state.overlay, Overlay::Help(0));
    press(&mut state, &[KeyCode::Esc]);
    assert_eq!(
        (state.overlay.clone(), state.screen),
        (Overlay::None, Screen::Record)
    );
    press(&mut state, &[KeyCode::Esc]);
    assert_eq!(state.screen, Screen::Overview);
}

/// The number of the joint that the cursor of the tally is on.
fn joint_in_front(state: &State) -> Option<&str> {
    match &state.cursors[&state.slot].tally {
        Some(TallyRow::Joint(joint)) => Some(&joint.number),
        _ => None,
    }
}

#[test]
fn units_switch_everywhere_and_come_round() {
    let mut state = state();
    let metres = drawn(&state, (80, 24));
    assert!(metres.contains("122.600"));
    press(&mut state, &[KeyCode::Char('u')]);
    assert!(drawn(&state, (80, 24)).contains("402.231"));
    press(&mut state, &[KeyCode::Char('u'), KeyCode::Char('u')]);
    assert_eq!(drawn(&state, (80, 24)), metres);
}

#[test]
fn a_joint_is_found_by_number_or_serial_in_any_slot() {
    let mut state = state();
    type_in(&mut state, "/c-07");
    assert_eq!(state.overlay, Overlay::Find("c-07".to_owned()));
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(
        (state.screen, state.slot.as_str(), joint_in_front(&state)),
        (Screen::Tally, "C", Some("C-07"))
    );
    type_in(&mut state, "/no such joint");
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(
        state.message().as_deref(),
        Some("no joint matches `no such joint`")
    );
    assert_eq!(joint_in_front(&state), Some("C-07"));
}

#[test]
fn while_a_joint_is_typed_letters_are_no_commands() {
    let mut state = state();
    type_in(&mut state, "/q1u?");
    assert_eq!(state.overlay, Overlay::Find("q1u?".to_owned()));
    press(&mut state, &[KeyCode::Backspace]);
    assert_eq!(state.overlay, Overlay::Find("q1u".to_owned()));
    press(&mut state, &[KeyCode::Esc]);
    assert_eq!(
        (state.overlay.clone(), state.screen),
        (Overlay::None, Screen::Overview)
    );
}

#[test]
fn a_flag_leads_to_its_place() {
    let mut state = state();
    let slots = state.figures.slots.len();
    press(&mut state, &vec![KeyCode::Down; slots]);
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!((state.screen, state.slot.as_str()), (Screen::Tally, "B"));
    let joint = joint_in_front(&state).expect("a joint");
    assert!(["B-03", "B-05"].contains(&joint), "{joint}");
}

#[test]
fn every_figure_of_a_slot_can_be_opened_on_its_cut_screen() {
    for slot in 0..4 {
        let mut state = state();
        press(&mut state, &vec![KeyCode::Tab; slot]);
        press(&mut state, &[KeyCode::Char('5')]);
        let mut opened = Vec::new();
        for _ in 0..60 {
            press(&mut state, &[KeyCode::Enter]);
            if let Overlay::How { figure, .. } = &state.overlay {
                let subject = figure.subject(&state.inputs, &state.figures, slot);
                let subject = subject.expect("a figure of the slot");
                let name = format!("{subject:?}");
                if !opened.contains(&name) {
                    opened.push(name);
                }
                press(&mut state, &[KeyCode::Esc]);
            }
            press(&mut state, &[KeyCode::Down]);
        }
        let is_cut = state.figures.slots[slot].cut.is_cut();
        let mut expected: Vec<String> = subjects(&state.figures, slot)
            .iter()
            // Of a cut conductor the marks of the past are no longer shown.
            .filter(|subject| !(is_cut && matches!(subject, Subject::Mark(_))))
            .map(|subject| format!("{subject:?}"))
            .collect();
        opened.sort();
        expected.sort();
        assert_eq!(opened, expected);
        assert!(expected.len() >= 12, "{expected:?}");
    }
}

/// The screen from which the length of a string of so many joints is open.
fn opened_length(joints: usize) -> State {
    let place = copy_of("four-slots");
    let row = |at: usize| format!("A-{at},S{at},,12.{:03},0.151\n", at % 1_000);
    let rows: String = (1..=joints).map(row).collect();
    let list = format!("joint,serial,kind,length (m),makeup_loss (m)\n{rows}");
    std::fs::write(place.path().join("tallies/a.csv"), list).expect("a list");
    let mut state = State::new(open(place.path()).expect("a job"), (120, 40));
    press(&mut state, &[KeyCode::Char('5')]);
    for _ in 0..60 {
        press(&mut state, &[KeyCode::Enter]);
        if let Overlay::How { figure, .. } = &state.overlay {
            let subject = figure.subject(&state.inputs, &state.figures, 0);
            if subject == Some(Subject::StringLength) {
                return state;
            }
            press(&mut state, &[KeyCode::Esc]);
        }
        press(&mut state, &[KeyCode::Down]);
    }
    panic!("the length of the string cannot be opened");
}

#[test]
fn every_joint_of_a_long_string_can_be_scrolled_to_in_its_length() {
    for joints in [100, 999, 1_001, 2_777] {
        let mut state = opened_length(joints);
        let look = |state: &State| drawn(state, (120, 40));
        let shows =
            |page: &str, joint: usize| page.contains(&format!("+ effective length of A-{joint} "));
        let mut page = look(&state);
        assert!(shows(&page, 1) && !shows(&page, joints), "{joints}");
        let mut seen = 0;
        loop {
            let next = (seen + 1..=joints).find(|joint| !shows(&page, *joint));
            let last = next.map_or(joints, |next| next - 1);
            assert!(last > seen, "{last} of {joints} is followed by another");
            seen = last;
            if seen == joints {
                break;
            }
            press(&mut state, &[KeyCode::PageDown]);
            page = look(&state);
        }
        assert!(!page.contains("more below"));
        press(&mut state, &[KeyCode::Home]);
        assert!(shows(&look(&state), 1));
        press(&mut state, &[KeyCode::End]);
        let page = look(&state);
        assert!(shows(&page, joints) && !shows(&page, 1));
    }
}

#[test]
fn what_is_to_be_said_of_a_workbook_stands_under_the_lines_of_its_tally() {
    let mut folder = state().inputs;
    let notes = [
        "sheet Old is not used: it is hidden; --sheet takes it all the same",
        "cell D2 moved to the grid: 12.190000000000001 read as 12.19",
    ];
    folder.tallies[0].notes = vec![
        FileNote::SheetNotUsed {
            sheet: Excerpt::of("Old"),
            why: SheetReason::Hidden,
        },
        FileNote::CellMoved {
            cell: "D2".to_owned(),
            found: "12.190000000000001".to_owned(),
            read_as: "12.19".to_owned(),
        },
    ];
    folder.tallies[0].encoding = "workbook sheet Joints".into();
    let mut state = State::new(folder, (120, 24));
    state.screen = Screen::Tally;
    press(&mut state, &[KeyCode::End]);
    let text = drawn(&state, (120, 24));
    assert!(
        text.contains("in m, read as workbook sheet Joints"),
        "{text}"
    );
    for note in notes {
        assert!(text.contains(note), "{text}");
    }
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(state.message().as_deref(), Some(notes[1]));
}

#[test]
fn what_moved_is_named_after_a_reload() {
    let mut state = state();
    let mut folder = state.inputs.clone();
    folder.job.cut.hull = folder.job.hulls[0].clone();
    update(&mut state, Action::Reloaded(Box::new(Ok(folder.into()))));
    assert!(
        state
            .changes
            .contains(&"A: cut below RT -6.700 m".to_owned()),
        "{:?}",
        state.changes
    );
    assert!(
        state
            .message()
            .as_deref()
            .is_some_and(|text| text.contains("A: cut below RT -6.700 m"))
    );
}

#[test]
fn old_figures_stay_under_a_banner_until_the_files_are_right_again() {
    let mut state = state();
    let good = state.inputs.clone();
    let reason = "job.toml: line 7, column 1: `rotray` is no key".to_owned();
    update(&mut state, Action::Reloaded(Box::new(Err(reason))));
    let text = drawn(&state, (80, 24));
    assert!(
        text.contains("OLD FIGURES: job.toml: line 7, column 1"),
        "{text}"
    );
    assert!(text.contains("122.600"), "the last good figures stay");
    press(&mut state, &[KeyCode::Char('2')]);
    assert!(drawn(&state, (80, 24)).contains("OLD FIGURES"));
    update(&mut state, Action::Reloaded(Box::new(Ok(good.into()))));
    assert!(!drawn(&state, (80, 24)).contains("OLD FIGURES"));
}

#[test]
fn q_and_control_c_quit() {
    let mut state = state();
    assert_eq!(press(&mut state, &[KeyCode::Char('q')]), [Effect::Quit]);
    let control_c = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
    let quit = action(&state, control_c).expect("a command");
    assert_eq!(update(&mut state, quit), [Effect::Quit]);
}

#[test]
fn q_closes_what_lies_over_a_screen_and_does_not_quit() {
    let open: [&[KeyCode]; 4] = [
        &[KeyCode::Char('?')],
        // How the cut's target came about.
        &[
            KeyCode::Char('5'),
            KeyCode::Down,
            KeyCode::Down,
            KeyCode::Enter,
        ],
        // A difference in full.
        &[KeyCode::BackTab, KeyCode::Char('3'), KeyCode::Enter],
        // What changed.
        &[KeyCode::Char('m')],
    ];
    for keys in open {
        let mut state = state();
        let mut inputs = state.inputs.clone();
        inputs.job.cut.hull = inputs.job.hulls[0].clone();
        update(&mut state, Action::Reloaded(Box::new(Ok(inputs.into()))));
        press(&mut state, keys);
        assert_ne!(state.overlay, Overlay::None, "{keys:?}");
        let screen = state.screen;
        assert_eq!(press(&mut state, &[KeyCode::Char('q')]), [], "{keys:?}");
        assert_eq!(
            (&state.overlay, state.screen),
            (&Overlay::None, screen),
            "{keys:?}"
        );
        assert_eq!(press(&mut state, &[KeyCode::Char('q')]), [Effect::Quit]);
    }
}

#[test]
fn the_bottom_line_names_only_keys_that_work() {
    let sizes = [(80, 24), (200, 60)];
    for (size, state) in sizes
        .map(|size| all_states(size).into_iter().map(move |it| (size, it)))
        .into_iter()
        .flatten()
    {
        let text = drawn(&state, size);
        let line = text.lines().last().expect("a bottom line").to_owned();
        assert!(!line.contains('…'), "cut short: {line}");
        for command in commands().filter(|command| !command.short.is_empty()) {
            let named = line.contains(&format!("{} {}  ", command.hint, command.short))
                || line.ends_with(&format!("{} {}", command.hint, command.short));
            if named {
                assert!(command.is_available(&state), "{} in {line}", command.id);
                assert!(action(&state, key(command.keys[0])).is_some());
            }
        }
    }
}

#[test]
fn no_key_of_any_state_breaks_it() {
    let codes: Vec<KeyCode> = commands()
        .flat_map(|command| command.keys)
        .copied()
        .filter(|code| *code != KeyCode::Char('q'))
        .collect();
    for (sample, start) in [("three-feet", 12_345), ("four-slots", 54_321)] {
        let mut state = state_of(sample, (80, 24));
        let mut reached = std::collections::BTreeSet::new();
        // A walk that is the same each time: a small linear congruence picks the keys.
        let mut seed: usize = start;
        for step in 0..30_000 {
            seed = seed.wrapping_mul(1_103_515_245).wrapping_add(12_345) & 0x7fff_ffff;
            press(&mut state, &[codes[(seed >> 8) % codes.len()]]);
            assert!(state.index_of(&state.slot).is_some());
            reached.insert((state.screen.name(), state.slot_index()));
            if step % 40 == 0 {
                drawn(&state, (80, 24));
            }
        }
        let all = Screen::ALL.len() * state.figures.slots.len();
        assert_eq!(
            reached.len(),
            all,
            "the walk reaches every screen of every slot"
        );
    }
}

#[test]
fn a_conductor_that_is_cut_is_never_called_uncut_even_where_its_string_is_found_too_short() {
    let place = tempfile::tempdir().expect("a folder");
    let job = place.path().join("job");
    kerfmark::folder::create(&job).expect("a template");
    let file = job.join("job.toml");
    let text = std::fs::read_to_string(&file).expect("the job file");
    let text = text.replace(
        "plan_shoulder = -27.100 ",
        "stick_up = -20.0\nas_cut = [14.251, 14.249, 14.252, 14.250]\n# ",
    );
    std::fs::write(&file, text).expect("written");
    let folder = open(&job).expect("a job that opens");
    let mut state = State::new(folder, (120, 40));
    assert!(
        state.figures.slots[0].cut.place.is_none(),
        "it is too short"
    );
    for (screen, words) in [
        (Screen::Cut, "ALREADY CUT - DO NOT CUT AGAIN"),
        (Screen::Overview, "cut, stop"),
    ] {
        update(&mut state, Action::Go(screen));
        let seen = drawn(&state, (120, 40));
        assert!(seen.contains(words), "{words} in\n{seen}");
        assert!(!seen.contains("not cut yet"), "{seen}");
    }
}

#[test]
fn a_paste_fills_what_is_typed_and_no_more_and_does_nothing_elsewhere() {
    let place = tempfile::tempdir().expect("a folder");
    let job = place.path().join("job");
    kerfmark::folder::create(&job).expect("a template");
    let mut state = State::new(open(&job).expect("a job that opens"), (120, 40));
    update(&mut state, Action::Paste("q2w".to_owned()));
    assert_eq!(
        (state.screen, &state.overlay),
        (Screen::Overview, &Overlay::None)
    );
    assert!(
        state
            .message()
            .is_some_and(|it| it.contains("a paste is text"))
    );
    state.message = None;
    update(&mut state, Action::Find);
    update(&mut state, Action::Type('A'));
    update(&mut state, Action::Paste("-\r\n\t\u{9b}0\u{0}4".to_owned()));
    assert_eq!(state.overlay, Overlay::Find("A-04".to_owned()));
    update(&mut state, Action::Paste("x".repeat(1000)));
    let Overlay::Find(text) = &state.overlay else {
        panic!("{:?}", state.overlay);
    };
    assert_eq!(text.chars().count(), 60);
}
