//! What a small terminal, plain signs and a mouse make of the screens.

use crate::common::on_screen::{drawn, press, sample, state_of, type_in};
use crossterm::event::KeyCode;
use kerfmark::finding::Code;
use kerfmark::folder::{ThemeName, open};
use kerfmark::screens::{
    Action, Effect, Overlay, Screen, State, TallyOrder, Theme, draw, show, update,
};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

const SAMPLES: [&str; 5] = [
    "four-slots",
    "one-night",
    "three-feet",
    "three-lists",
    "many-readings",
];
const SMALL: (u16, u16) = (80, 24);

/// Every screen of a sample with every slot in front.
fn all(sample: &str, size: (u16, u16)) -> Vec<State> {
    let mut states = Vec::new();
    let mut state = state_of(sample, size);
    for _ in 0..state.figures.slots.len() {
        for screen in Screen::ALL {
            update(&mut state, Action::Go(screen));
            states.push(state.clone());
        }
        press(&mut state, &[KeyCode::Tab]);
        update(&mut state, Action::Go(Screen::Overview));
        press(&mut state, &[KeyCode::Tab]);
    }
    states
}

#[test]
fn plain_signs_are_all_there_is_where_they_are_asked_for() {
    for sample in SAMPLES {
        for size in [SMALL, (120, 40), (200, 60)] {
            for state in all(sample, size) {
                let mut terminal =
                    Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
                let theme = Theme::of(ThemeName::Dark).ascii();
                let frame = terminal
                    .draw(|frame| draw(&state, &theme, frame))
                    .expect("a frame");
                let other = frame
                    .buffer
                    .content
                    .iter()
                    .find(|cell| !cell.symbol().is_ascii());
                assert!(other.is_none(), "{sample} {:?}: {other:?}", state.screen);
            }
        }
    }
}

#[test]
fn no_code_of_a_flag_is_ever_cut_short() {
    let codes: Vec<&str> = Code::ALL.iter().map(|code| code.name()).collect();
    for sample in SAMPLES {
        for size in [SMALL, (100, 30), (120, 40), (200, 60)] {
            for state in all(sample, size) {
                let text = drawn(&state, size);
                for line in text.lines() {
                    for (at, _) in line.match_indices('…') {
                        let before = line.split_at(at).0;
                        let word = before.rsplit([' ', ',', ':']).next().unwrap_or_default();
                        let is_part = |code: &&str| code.starts_with(word) && *code != word;
                        let cut = word.contains('-') && codes.iter().any(is_part);
                        assert!(!cut, "{sample} {:?}: {line}", state.screen);
                    }
                }
            }
        }
    }
}

/// All that a screen shows while its cursor goes through its rows.
fn through(state: &mut State, key: KeyCode, steps: usize) -> String {
    let mut seen = drawn(state, SMALL);
    for _ in 0..steps {
        press(state, &[key]);
        seen.push_str(&drawn(state, SMALL));
    }
    seen
}

#[test]
fn no_screen_loses_a_figure_at_eighty_columns_in_any_unit() {
    for sample in SAMPLES {
        let mut state = state_of(sample, SMALL);
        for _ in 0..3 {
            press(&mut state, &[KeyCode::Char('u')]);
            let format = state.show;
            for slot in 0..state.figures.slots.len() {
                let name = state.inputs.job.slots[slot].name.clone();
                while state.slot != name {
                    press(&mut state, &[KeyCode::Tab]);
                }
                let figures = state.figures.slots[slot].clone();
                let chain = &figures.chain;
                let shoulder = chain.shoulder.and_then(|it| it.elevation);
                let heights = [Some(figures.cut.target), chain.shoe, shoulder];
                let mut wanted: Vec<String> = heights
                    .into_iter()
                    .flatten()
                    .map(|at| format.signed(at.height()))
                    .collect();
                let only_here = [
                    Some(format.number(chain.string.length)),
                    figures
                        .cut
                        .place
                        .as_ref()
                        .map(|it| format.number(it.offcut_length)),
                ];
                update(&mut state, Action::Go(Screen::Overview));
                let overview = drawn(&state, SMALL);
                for figure in wanted.iter().chain(only_here.iter().flatten()) {
                    assert!(
                        overview.contains(figure),
                        "{figure} of {name} in {sample}:\n{overview}"
                    );
                }
                update(&mut state, Action::Go(Screen::Profile));
                press(&mut state, &[KeyCode::Home]);
                let profile = through(&mut state, KeyCode::Char('f'), 24);
                wanted.extend(
                    chain
                        .top
                        .filter(|_| !figures.cut.is_cut())
                        .map(|at| format.signed(at.height())),
                );
                // Where it was to be cut is no longer drawn once it is.
                let first = usize::from(figures.cut.is_cut());
                if chain.shoe.is_some() {
                    for figure in wanted.iter().skip(first) {
                        let plain = figure.trim_start_matches('+');
                        assert!(
                            profile.contains(plain),
                            "{figure} of {name} in {sample}:\n{profile}"
                        );
                    }
                }
                update(&mut state, Action::Go(Screen::Tally));
                press(&mut state, &[KeyCode::Home]);
                let tally = state.inputs.tallies[slot].clone();
                let rows = through(&mut state, KeyCode::Down, tally.joints.len());
                let pieces = chain.string.pieces.iter().enumerate();
                for ((at, piece), joint) in pieces.zip(&tally.joints) {
                    let lower = chain.lower_plane(at);
                    let below = lower.map(|it| chain.rotary.depth_of(it).downward());
                    let figures = [
                        joint.overall().map(|it| format.number(it)),
                        Some(format.number(piece.effective)),
                        Some(format.number(piece.upper())),
                        lower.map(|it| format.signed(it.height())),
                        below.map(|it| format.number(it)),
                    ];
                    for figure in figures.into_iter().flatten() {
                        assert!(
                            rows.contains(&figure),
                            "{figure} of {} in {sample}",
                            joint.number
                        );
                    }
                }
                update(&mut state, Action::Go(Screen::Cut));
                press(&mut state, &[KeyCode::Home]);
                let sheet = through(&mut state, KeyCode::Down, 45);
                let place = figures.cut.place.as_ref();
                let marks = place.into_iter().flat_map(|it| &it.marks);
                let is_marked = sheet.contains(" Mark on ") || sheet.contains(" Marks on ");
                for mark in marks.filter(|_| is_marked) {
                    let figure = format.number(mark.distance.value.abs());
                    assert!(
                        sheet.contains(&figure),
                        "{figure} of {name} in {sample}:\n{sheet}"
                    );
                }
            }
        }
    }
}

#[test]
fn deck_keeps_every_gap_and_top_at_eighty_columns_in_any_unit() {
    let mut state = state_of("four-slots", SMALL);
    update(&mut state, Action::Go(Screen::Deck));
    for _ in 0..3 {
        press(&mut state, &[KeyCode::Char('u')]);
        let text = through(&mut state.clone(), KeyCode::Down, 20);
        let Some(Ok(seating)) = &state.seating else {
            panic!("it is seated");
        };
        for top in &seating.tops {
            let figure = state.show.signed(top.z);
            assert!(text.contains(&figure), "{figure}:\n{text}");
        }
    }
}

#[test]
fn a_click_selects_what_is_under_it_and_the_wheel_is_for_the_driver() {
    let size = (120, 40);
    let mut state = state_of("four-slots", size);
    let click = |state: &mut State, word: &str| {
        let text = drawn(state, size);
        let (row, line) = text
            .lines()
            .enumerate()
            .find(|(_, line)| line.contains(word))
            .expect(word);
        let column = line.split(word).next().expect("before").chars().count();
        let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
        let mut targets = None;
        let theme = Theme::of(ThemeName::Dark);
        terminal
            .draw(|frame| targets = Some(show(state, &theme, frame)))
            .expect("a frame");
        let at = (
            u16::try_from(column).expect("small"),
            u16::try_from(row).expect("small"),
        );
        let found = targets.expect("drawn").at(at.0, at.1).cloned();
        update(state, found.expect("something to click"));
    };
    click(&mut state, "Tally");
    assert_eq!(state.screen, Screen::Tally);
    click(&mut state, "A-05");
    let text = drawn(&state, size);
    let row = text.lines().find(|line| line.contains('►')).expect("a row");
    assert!(row.contains("A-05"), "{row}");
    click(&mut state, "Overview");
    click(&mut state, "■ C");
    assert_eq!(state.slot, "C");
    click(&mut state, "loss-outlier");
    assert_eq!(
        state.overview.flag.as_ref().map(|it| it.code.name()),
        Some("loss-outlier")
    );
    // Taken and given back by a key, and said.
    assert_eq!(
        press(&mut state, &[KeyCode::Char('M')]),
        [Effect::Mouse(true)]
    );
    assert!(
        state
            .message()
            .is_some_and(|it| it.contains("M gives it back"))
    );
    assert_eq!(
        press(&mut state, &[KeyCode::Char('M')]),
        [Effect::Mouse(false)]
    );
}

#[test]
fn a_figure_is_copied_as_it_is_shown_and_handed_to_the_terminal() {
    let mut state = state_of("four-slots", SMALL);
    press(&mut state, &[KeyCode::Char('5')]);
    assert_eq!(
        press(&mut state, &[KeyCode::Char('y')]),
        [Effect::Copy("14.2515 m LAT".to_owned())]
    );
    assert_eq!(
        state.message().as_deref(),
        Some("sent to the terminal: 14.2515 m LAT")
    );
    press(&mut state, &[KeyCode::Down]);
    assert_eq!(press(&mut state, &[KeyCode::Char('y')]), []);
    assert_eq!(
        state.message().as_deref(),
        Some("there is nothing under the cursor to copy")
    );
    for screen in Screen::ALL {
        let sample = if screen == Screen::Record {
            "one-night"
        } else {
            "four-slots"
        };
        let mut state = state_of(sample, SMALL);
        update(&mut state, Action::Go(screen));
        if screen == Screen::Reconcile {
            press(&mut state, &[KeyCode::BackTab]);
        }
        let effects = press(&mut state, &[KeyCode::Char('y')]);
        assert!(
            matches!(effects.as_slice(), [Effect::Copy(_)]),
            "{screen:?}: {effects:?}"
        );
    }
}

#[test]
fn the_tally_turns_round_and_the_cursor_stays_on_its_joint() {
    let mut state = state_of("four-slots", SMALL);
    press(&mut state, &[KeyCode::Char('2')]);
    type_in(&mut state, "/a-05");
    press(&mut state, &[KeyCode::Enter]);
    let row = |state: &State| {
        let text = drawn(state, SMALL);
        let row = text.lines().position(|line| line.contains('►'));
        assert!(
            text.lines()
                .any(|line| line.contains('►') && line.contains("A-05"))
        );
        row.expect("a row")
    };
    let top_up = row(&state);
    press(&mut state, &[KeyCode::Char('o')]);
    assert_eq!(state.tally_order, TallyOrder::ShoeUp);
    assert_ne!(row(&state), top_up);
    press(&mut state, &[KeyCode::Char('o'), KeyCode::Down]);
    let text = drawn(&state, SMALL);
    assert!(
        text.lines()
            .any(|line| line.contains('►') && line.contains("A-04")),
        "{text}"
    );
}

#[test]
fn unreadable_files_leave_the_figures_without_marks_or_large_digits() {
    let mut state = State::new(open(&sample("four-slots")).expect("a job"), (120, 40));
    press(&mut state, &[KeyCode::Char('5')]);
    update(
        &mut state,
        Action::Reloaded(Box::new(Err("job.toml: line 1".to_owned()))),
    );
    let text = drawn(&state, (120, 40));
    assert!(text.contains("OLD FIGURES - DO NOT MARK BY THEM"), "{text}");
    assert!(
        !text.contains("CUT TARGET") && !text.contains("DOWN from"),
        "{text}"
    );
    press(&mut state, &[KeyCode::Char('1')]);
    let text = drawn(&state, (120, 40));
    assert!(!text.contains("DOWN from"), "{text}");
    assert_eq!(state.overlay, Overlay::None);
}
