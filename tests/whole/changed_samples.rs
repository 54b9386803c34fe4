//! The screens on samples that were changed in one thing each: what must be said, and where.

use std::fs;

use crossterm::event::KeyCode;
use kerfmark::folder::open;
use kerfmark::journal::Inputs;
use kerfmark::report::cut_sheet;
use kerfmark::screens::{Action, Overlay, State, TallyRow, update};

/// A copy of a sample in which texts of its files are replaced.
fn changed(name: &str, changes: &[(&str, &str, &str)]) -> Inputs {
    let place = crate::common::copies::copy_of(name);
    for (file, from, to) in changes {
        let path = place.path().join(file);
        let text = fs::read_to_string(&path).expect("a file");
        assert!(text.contains(from), "`{from}` does not stand in {file}");
        fs::write(&path, text.replacen(from, to, 1)).expect("a change");
    }
    open(place.path()).expect("a job that opens")
}

fn state(name: &str, changes: &[(&str, &str, &str)]) -> State {
    State::new(changed(name, changes), (80, 24))
}

/// Keys in short: v for down, ^ for escape.
fn press(state: &mut State, keys: &str) {
    for letter in keys.chars() {
        let code = match letter {
            '\n' => KeyCode::Enter,
            '\t' => KeyCode::Tab,
            '^' => KeyCode::Esc,
            'v' => KeyCode::Down,
            letter => KeyCode::Char(letter),
        };
        crate::common::on_screen::press(state, &[code]);
    }
}

fn drawn(state: &State) -> String {
    crate::common::on_screen::drawn(state, state.size)
}

fn reload(state: &mut State, name: &str, changes: &[(&str, &str, &str)]) {
    let folder = changed(name, changes);
    update(state, Action::Reloaded(Box::new(Ok(folder.into()))));
}

const JOB: &str = "job.toml";

#[test]
fn what_stops_a_cut_stands_before_its_marks_and_stays_in_sight() {
    // The stick-up brings the connection down onto the cut.
    let onto_it = [(JOB, "stick_up = 0.960", "stick_up = 5.400")];
    let mut state = state("four-slots", &onto_it);
    press(&mut state, "5");
    let first = drawn(&state);
    let at = |text: &str| {
        first
            .find(text)
            .unwrap_or_else(|| panic!("{text}:\n{first}"))
    };
    assert!(at("STOP - DO NOT CUT") < at("lies in or touches"));
    let mut said_why = false;
    for _ in 0..30 {
        press(&mut state, "v");
        let text = drawn(&state);
        assert!(text.contains("STOP - DO NOT CUT"));
        assert!(
            !text.contains(" on a ") && !text.contains("DOWN from"),
            "{text}"
        );
        said_why |= text.contains(" NO MARKS  no marks are given while");
    }
    assert!(said_why);
    let sheet = cut_sheet(&state.inputs, &state.figures).concat();
    let slot = sheet.split("SLOT B").next().expect("slot A");
    let stop = slot.find("! stop: cut-near-connection").expect("the flag");
    assert!(
        slot.find("SLOT A   STOP - DO NOT CUT")
            .is_some_and(|at| at < stop)
    );
    assert!(stop < slot.find("NO MARKS").expect("why there are no marks"));
    assert!(!slot.contains("DOWN from"), "{slot}");
}

#[test]
fn a_cut_conductor_is_headed_so_however_far_one_scrolls_and_has_no_marks_to_set_out() {
    let mut state = state("four-slots", &[]);
    press(&mut state, "\t\t5");
    for _ in 0..40 {
        let text = drawn(&state);
        assert!(text.contains("ALREADY CUT - DO NOT CUT AGAIN"), "{text}");
        press(&mut state, "v");
    }
    press(&mut state, "g");
    let seen = drawn(&state);
    assert!(
        seen.contains("reading 4") && !seen.contains("DOWN from"),
        "{seen}"
    );
    press(&mut state, "6");
    assert!(drawn(&state).contains("ALREADY CUT"));
}

#[test]
fn the_top_before_the_cut_is_never_called_the_top_of_a_conductor_that_is_cut() {
    for (tabs, is_cut) in [("", false), ("\t\t", true)] {
        let mut state = state("four-slots", &[]);
        state.size = (120, 60);
        press(&mut state, tabs);
        press(&mut state, "5");
        let text = drawn(&state);
        let has = |label: &str| text.lines().any(|line| line.starts_with(label));
        assert_eq!(has(" Top as landed, before the cut  "), is_cut, "{text}");
        assert_eq!(has(" Top    "), !is_cut, "{text}");
        assert_eq!(has(" Finished top "), is_cut, "{text}");
    }
}

#[test]
fn the_worst_flags_are_in_sight_when_there_are_many() {
    let far_down = [(JOB, "stick_up = 0.960", "stick_up = -7.000")];
    let state = state("four-slots", &far_down);
    let text = drawn(&state);
    let flags = text.split(" status").nth(1).expect("flags");
    assert!(flags.contains("stop   A    too-short"), "{text}");
    assert!(flags.contains("more below"), "{text}");
}

#[test]
fn the_overview_names_figures_by_the_slot_they_belong_to() {
    let mut state = state("four-slots", &[]);
    press(&mut state, "6\t\t\t1");
    let text = drawn(&state);
    assert!(
        text.contains("►○ D ") && text.contains(" D: joints 12"),
        "{text}"
    );
    press(&mut state, "2");
    assert!(drawn(&state).contains("Slot D planned"));
}

#[test]
fn no_fitting_is_left_out_on_the_floor_at_the_least_size() {
    let more = "[[accessory]]\nname = \"guide one\"\nelevation = -26.0\nlength = 0.3\n\n\
        [[accessory]]\nname = \"guide two\"\nelevation = -22.0\nlength = 0.3\n\n[[bench]]";
    let mut state = state("four-slots", &[(JOB, "[[bench]]", more)]);
    press(&mut state, "6");
    press(&mut state, &"-".repeat(11));
    press(&mut state, &"+".repeat(6));
    let text = drawn(&state);
    assert!(text.contains("THIS IS THE RUNNING JOINT"), "{text}");
    // The lower edges less the joint's lower make-up plane at -28.350, which docs/method.md gives.
    let one = "FIT GUIDE ONE: LOWER EDGE 2.350 m ABOVE THE LOWER MAKE-UP PLANE OF A-07";
    let two = "FIT GUIDE TWO: LOWER EDGE 6.350 m ABOVE THE LOWER MAKE-UP PLANE OF A-07";
    assert!(text.contains(one) && text.contains(two), "{text}");
    assert!(text.contains("STRING SO FAR") && text.contains("STILL TO LOWER"));
}

#[test]
fn the_floor_shows_where_a_landed_string_stands() {
    let mut state = state("four-slots", &[]);
    press(&mut state, "6");
    let text = drawn(&state);
    assert!(
        text.contains("SHOE, AS LANDED") && text.contains("STICK-UP, AS READ"),
        "{text}"
    );
    press(&mut state, "-");
    let text = drawn(&state);
    assert!(text.contains("AS IT WAS RUN"), "{text}");
    assert!(text.contains("SHOE DEPTH, TOP AT SPIDER"), "{text}");
}

#[test]
fn a_moved_bench_and_two_swapped_joints_are_no_silent_changes() {
    let mut bench = state("four-slots", &[]);
    reload(
        &mut bench,
        "four-slots",
        &[(JOB, "elevation = 17.905", "elevation = 17.705")],
    );
    let moved = bench.changes.join("\n");
    assert!(
        moved.contains("A: mark DOWN from bench mark spider deck plate -0.200 m"),
        "{moved}"
    );

    let mut swapped = state("four-slots", &[]);
    let file = "tallies/a.csv";
    let swap = [
        (file, "3.199", "x"),
        (file, "12.350", "3.199"),
        (file, "x", "12.350"),
    ];
    reload(&mut swapped, "four-slots", &swap);
    let moved = swapped.changes.join("\n");
    assert!(
        moved.contains("A: cut lies in is A-10, was A-11"),
        "{moved}"
    );
    assert!(
        moved.contains("make-up planes above the shoe: 2 of 11 moved"),
        "{moved}"
    );
    assert!(!moved.contains("string length"), "{moved}");
}

#[test]
fn an_unchanged_reload_reports_no_change_where_accessories_have_one_name() {
    // Three accessories of one name.
    let guide = "[[accessory]]\nname = \"guide\"\nelevation = 16.0\nlength = 0.3\n\n\
        [[accessory]]\nname = \"guide\"\nelevation = 17.0\nlength = 0.3\n\n[[bench]]";
    let twice = [(JOB, "[[bench]]", guide)];
    let mut state = state("four-slots", &twice);
    reload(&mut state, "four-slots", &twice);
    assert!(state.changes.is_empty(), "{:#?}", state.changes);
    // Of the three guides it is the last that moves.
    let higher = guide.replace("elevation = 17.0", "elevation = 17.5");
    let moved = [(JOB, "[[bench]]", higher.as_str())];
    reload(&mut state, "four-slots", &moved);
    let expected = "A: guide (3) above its lower plane +0.500 m".to_owned();
    assert!(state.changes.contains(&expected), "{:#?}", state.changes);
}

#[test]
fn a_second_change_hides_nothing_of_the_first_until_someone_looked() {
    let raised = (JOB, "rotary = 27.100", "rotary = 33.800");
    let named = (JOB, "Zevrik shoal,", "Zevrik shoal;");
    let mut state = state("four-slots", &[]);
    reload(&mut state, "four-slots", &[raised]);
    reload(&mut state, "four-slots", &[raised, named]);
    assert!(
        state
            .changes
            .contains(&"A: cut below RT +6.700 m".to_owned())
    );
    press(&mut state, "m");
    assert_eq!(state.overlay, Overlay::Changes(0));
    press(&mut state, "^");
    reload(&mut state, "four-slots", &[raised]);
    assert!(state.changes.is_empty(), "{:?}", state.changes);
    let said = state.message();
    assert_eq!(
        said.as_deref(),
        Some("files read again: no figure and no flag changed")
    );
}

#[test]
fn flags_that_are_raised_and_cleared_are_told() {
    let mut state = state("four-slots", &[]);
    let narrow = (JOB, "clearance = \"0.40 m\"", "clearance = \"4.40 m\"");
    reload(&mut state, "four-slots", &[narrow]);
    let raised = "A: flag stop cut-near-connection raised: ";
    assert!(
        state.changes.iter().any(|it| it.starts_with(raised)),
        "{:?}",
        state.changes
    );
    press(&mut state, "m^");
    reload(&mut state, "four-slots", &[]);
    let cleared = "A: flag cut-near-connection cleared".to_owned();
    assert!(state.changes.contains(&cleared), "{:?}", state.changes);
}

#[test]
fn where_one_was_on_the_floor_follows_the_name_of_the_slot() {
    let mut state = state("four-slots", &[]);
    press(&mut state, "6\t");
    press(&mut state, &"-".repeat(4));
    assert!(drawn(&state).contains("7 OF 11 JOINTS RUN, BY HAND"));
    let before = "[[slot]]\nname = \"Z\"\nx = 9\ny = 9\npipe = \"main\"\ntally = \"tallies/a.csv\"\n\n[[slot]]\nname = \"A\"";
    reload(
        &mut state,
        "four-slots",
        &[(JOB, "[[slot]]\nname = \"A\"", before)],
    );
    let seen = drawn(&state);
    assert_eq!(state.slot_index(), 2);
    assert!(
        seen.contains("SLOT B ") && seen.contains("7 OF 11 JOINTS RUN, BY HAND"),
        "{seen}"
    );
    // Read meanwhile: the string is landed, with all in.
    press(&mut state, "\t\t++");
    assert!(drawn(&state).contains("1 OF 12 JOINTS RUN, BY HAND"));
    let stick_up = "tally = \"tallies/d.csv\"\nstick_up = 4.365\nstick_up_hull = \"running\"";
    let read = [
        (JOB, "tally = \"tallies/d.csv\"", stick_up),
        (JOB, "plan_shoulder = -27.100\nhole", "hole"),
    ];
    reload(&mut state, "four-slots", &read);
    let seen = drawn(&state);
    assert!(
        seen.contains("12 OF 12 JOINTS RUN") && !seen.contains("BY HAND"),
        "{seen}"
    );
}

#[test]
fn a_count_by_hand_is_asked_again_when_the_list_changed_below_the_next_joint() {
    let mut state = state("four-slots", &[]);
    press(&mut state, "6\t\t\t");
    let seen = drawn(&state);
    assert!(
        seen.contains("How many joints are run is not known") && !seen.contains("NEXT JOINT"),
        "{seen}"
    );
    press(&mut state, "+++++");
    assert!(drawn(&state).contains("4 OF 12 JOINTS RUN, BY HAND"));
    // A joint above the next one: the count is of what is below.
    reload(
        &mut state,
        "four-slots",
        &[("tallies/d.csv", "12.276", "12.277")],
    );
    assert!(drawn(&state).contains("4 OF 12 JOINTS RUN, BY HAND"));
    // One below it.
    reload(
        &mut state,
        "four-slots",
        &[("tallies/d.csv", "12.003", "12.004")],
    );
    let said = state.message();
    assert_eq!(
        said.as_deref(),
        Some("the list changed below the joint that was next: count again")
    );
    let seen = drawn(&state);
    assert!(!seen.contains("NEXT JOINT"), "{seen}");
}

#[test]
fn a_joint_itself_is_found_before_one_whose_serial_contains_the_text() {
    // Joint 5 of Q was laid down, and a serial of it holds a 5: P has a joint 5.
    let mut state = state("three-feet", &[]);
    press(&mut state, "\t/5\n");
    let row = &state.cursors[&state.slot].tally;
    assert!(
        matches!(row, Some(TallyRow::Joint(joint)) if joint.number == "5"),
        "{row:?}"
    );
    assert_eq!(state.message().as_deref(), Some("joint 5: is `5`"));
    let serial = state
        .inputs
        .tallies
        .iter()
        .flat_map(|tally| &tally.joints)
        .find_map(|joint| joint.serial.clone())
        .expect("a serial");
    let part: String = serial.chars().skip(1).collect();
    press(&mut state, &format!("/{part}\n"));
    let said = state.message().expect("what was found");
    assert!(
        said.contains(&format!("serial {serial}: contains")),
        "{said}"
    );
}

#[test]
fn the_tally_calls_a_connection_in_a_keep_out_where_the_flags_do() {
    let zone = [(JOB, "from = 2.0\nto = 6.0", "from = -2.5\nto = 6.0")];
    let mut state = state("four-slots", &zone);
    state.size = (160, 48);
    press(&mut state, "2");
    let text = drawn(&state);
    let row = text
        .lines()
        .find(|line| line.contains(" A-09 "))
        .expect("a row");
    assert!(row.contains("CONNECTION ABOVE IT IN splash zone"), "{text}");
    assert_eq!(text.matches("CONNECTION ABOVE").count(), 1, "{text}");
    let flagged = state.figures.slots[0].in_keep_outs.len();
    assert_eq!(flagged, 1);
}

#[test]
fn the_profile_shows_all_of_a_figure_or_none_and_nothing_runs_through_it() {
    for (name, units) in [("four-slots", 3), ("three-feet", 3)] {
        let mut state = state(name, &[]);
        press(&mut state, "4");
        for _ in 0..units {
            press(&mut state, "u");
            for width in (80..=200).step_by(5) {
                update(&mut state, Action::Resize(width, 40));
                let text = drawn(&state);
                for word in ["cut ", "shoe ", "shoulder ", "top "] {
                    for (at, _) in text.match_indices(word) {
                        let rest = text.split_at(at + word.len()).1;
                        if !rest.starts_with(['-', '+']) {
                            continue;
                        }
                        let is_whole = state.figures.slots.iter().any(|slot| {
                            let all = [
                                Some(slot.cut.target),
                                slot.chain.top,
                                slot.chain.shoe,
                                slot.chain.shoulder.and_then(|it| it.elevation),
                                slot.cut.as_cut.as_ref().map(|it| {
                                    let mean = it.mean.value.rounded();
                                    kerfmark::measure::Elevation::above_datum(mean)
                                }),
                            ];
                            all.into_iter().flatten().any(|elevation| {
                                let number = state.show.signed(elevation.height());
                                rest.strip_prefix(&number).is_some_and(|after| {
                                    after.starts_with([' ', '\n']) || after.is_empty()
                                })
                            })
                        });
                        let line = rest.lines().next();
                        assert!(is_whole, "{word}{line:?} at {width} in\n{text}");
                    }
                }
            }
        }
    }
}

#[test]
fn every_label_of_the_profile_stands_on_the_row_of_its_elevation() {
    let mut judged = 0;
    for name in ["four-slots", "three-feet"] {
        let mut state = state(name, &[]);
        press(&mut state, "4");
        for (keys, height) in ["u", "u", "u", "+", "++"]
            .iter()
            .flat_map(|keys| (24..=60).map(move |height| (keys, height)))
        {
            press(&mut state, if height == 24 { keys } else { "" });
            // Wider ones show the cut beside it, at another scale.
            for width in [80, 100, 120, 160] {
                update(&mut state, Action::Resize(width, height));
                judged += judge_labels(&state, &drawn(&state));
            }
        }
    }
    assert!(judged > 5000, "{judged}");
}

/// How many figures of conductors and levels a drawing of the profile shows, each on its own row.
fn judge_labels(state: &State, text: &str) -> usize {
    // Four rows of the terminal and the names are no picture, nor where it is narrow three lines below it; it starts on
    // the fifth row.
    let others = if state.size.0 < 118 { 8 } else { 5 };
    let rows = i128::from(state.size.1) - others;
    let view = state.view;
    let row_of = |at: kerfmark::measure::Elevation| {
        let below = i128::from((view.top - at).nm());
        (below * rows).div_euclid(i128::from(view.span.nm())) + 4
    };
    let mut labels = Vec::new();
    for slot in &state.figures.slots {
        let shoulder = slot.chain.shoulder.and_then(|it| it.elevation);
        let all = [
            ("cut", Some(slot.cut.target)),
            ("shoulder", shoulder),
            ("top", slot.chain.top),
            ("shoe", slot.chain.shoe),
        ];
        labels.extend(all.into_iter().filter_map(|(word, at)| {
            Some((format!("{word} {}", state.show.signed(at?.height())), at?))
        }));
    }
    for hull in &state.inputs.job.hulls {
        let number = state.show.signed(hull.rotary.height());
        labels.push((format!("RT {} {number}", hull.name), hull.rotary));
    }
    let mut judged = 0;
    for (row, line) in text.lines().enumerate().take(state.size.1.into()).skip(4) {
        for (label, _) in labels.iter().filter(|(label, _)| line.contains(label)) {
            let own = labels.iter().filter(|(other, _)| other == label);
            let rows: Vec<i128> = own.map(|(_, at)| row_of(*at)).collect();
            let here = i128::try_from(row).expect("a row");
            // On another row only with a leader to its own.
            let before = line.split(label.as_str()).next().expect("what is before");
            let leads = match before.chars().last() {
                Some('└') => rows.iter().any(|own| (1..=4).contains(&(here - own))),
                Some('┌') => rows.iter().any(|own| (1..=4).contains(&(own - here))),
                _ => false,
            };
            assert!(
                rows.contains(&here) || leads,
                "`{label}`: row {row}, its own {rows:?}:\n{text}"
            );
            judged += 1;
        }
    }
    judged
}

#[test]
fn what_belongs_to_the_job_as_a_whole_opens_in_full() {
    let unstated = [(JOB, "strap = \"1.5 mm\"", "")];
    let mut state = state("four-slots", &unstated);
    press(&mut state, "vvvvv\n");
    let text = drawn(&state);
    assert!(
        text.contains("not stated in [uncertainty]: strap. What needs them"),
        "{text}"
    );
    assert!(!text.contains('…'), "{text}");
}

#[test]
fn uncertainties_that_are_left_out_or_stated_as_0_are_named_on_every_output() {
    let one_line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    for (changes, named) in [
        (
            [
                (JOB, "benchmark = \"2 mm\"", ""),
                (JOB, "tape_scale = 50", ""),
            ],
            "not stated in [uncertainty]: tape_scale, benchmark. What needs them is unproven, not exact",
        ),
        (
            [
                (JOB, "benchmark = \"2 mm\"", "benchmark = 0"),
                (JOB, "strap = \"1.5 mm\"", "strap = 0"),
            ],
            "stated as 0 in [uncertainty]: strap, benchmark. What is proven with them is proven by that 0",
        ),
    ] {
        let state = state("four-slots", &changes);
        assert!(one_line(&cut_sheet(&state.inputs, &state.figures).concat()).contains(named));
        let text = kerfmark::report::figures_text(&state.inputs, &state.figures, false);
        assert!(text.contains(named), "{text}");
        assert!(
            one_line(&drawn(&state)).contains(named),
            "{}",
            drawn(&state)
        );
    }
}
