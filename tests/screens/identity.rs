//! What a cursor or an overlay is on, found again after the files were read again.

use crate::common::copies::copy_of;
use crate::common::on_screen::{drawn, press, state_of, type_in};
use crossterm::event::KeyCode;
use kerfmark::folder::open;
use kerfmark::reconcile::Topic;
use kerfmark::screens::{Action, Overlay, Screen, State, TallyRow, update};
use std::fs;
use tempfile::TempDir;

const JOB: &str = "job.toml";
const A: &str = "tallies/a.csv";
const YARD: &str = "tallies/d-yard.csv";
const MORE: &str = "A-02,A4114,joint,12.184,0.151,";

/// The sample in a copy of its own, with one of its files to be changed while it is open.
struct Job {
    place: TempDir,
    state: State,
}

impl Job {
    fn open() -> Self {
        let place = copy_of("four-slots");
        let inputs = open(place.path()).expect("a job that opens");
        let state = State::new(inputs, (120, 40));
        Self { place, state }
    }

    fn keys(&mut self, keys: &str) {
        for letter in keys.chars() {
            let code = match letter {
                '\n' => KeyCode::Enter,
                '\t' => KeyCode::Tab,
                'v' => KeyCode::Down,
                '>' => KeyCode::Right,
                letter => KeyCode::Char(letter),
            };
            press(&mut self.state, &[code]);
        }
    }

    fn change(&mut self, file: &str, from: &str, to: &str) {
        let path = self.place.path().join(file);
        let text = fs::read_to_string(&path).expect("a file");
        assert!(text.contains(from), "`{from}` is not in {file}");
        fs::write(&path, text.replacen(from, to, 1)).expect("a change");
        let read = open(self.place.path()).map_err(|error| error.to_string());
        update(
            &mut self.state,
            Action::Reloaded(Box::new(read.map(Into::into))),
        );
    }

    /// The text of the row that is marked as selected.
    fn drawn(&self) -> String {
        drawn(&self.state, self.state.size)
    }

    fn said(&self) -> String {
        self.state.message().unwrap_or_default()
    }

    fn joint(&self) -> &str {
        match &self.state.cursors[&self.state.slot].tally {
            Some(TallyRow::Joint(joint)) => &joint.number,
            row => unreachable!("{row:?}"),
        }
    }
}

/// A slot before all others.
const FIRST: &str = "[[slot]]\nname = \"Z\"\nx = 9\ny = 9\npipe = \"main\"\ntally = \"tallies/a.csv\"\n\n[[slot]]\nname = \"A\"";

#[test]
fn the_tally_stays_on_its_joint_where_rows_are_added_above_it() {
    let mut job = Job::open();
    job.keys("2ovvvv");
    job.change(
        A,
        MORE,
        "A-02,A4114,joint,12.184,0.151,\nA-02b,A9114,pup,3.184,0.151,",
    );
    assert_eq!(job.joint(), "A-05");
    let row = job.drawn();
    let row = row.lines().find(|line| line.contains('►'));
    assert!(row.expect("a row").contains(" A-05 "), "{row:?}");
    // It is no longer there: the cursor is on what has its place now, and that is said.
    job.change(A, "A-05,A4138,joint,11.818,0.151,\n", "");
    assert_eq!(job.joint(), "A-06");
    assert!(
        job.said().starts_with("joint A-05 is no longer there; "),
        "{}",
        job.said()
    );
}

#[test]
fn the_slot_in_front_and_what_lies_over_it_stay_where_a_slot_comes_before_it() {
    let mut job = Job::open();
    job.keys("\t5vvvv\n");
    let before = job.drawn();
    assert!(before.contains("How it came about"), "{before}");
    job.change(JOB, "[[slot]]\nname = \"A\"", FIRST);
    assert_eq!(job.state.slot, "B");
    let title = |text: &str| text.lines().nth(4).map(str::to_owned);
    assert_eq!(title(&job.drawn()), title(&before));
    // The slot goes: its overlay is closed, and that is said.
    let path = job.place.path().join(JOB);
    let text = fs::read_to_string(path).expect("the job");
    let (start, end) = (
        text.find("[[slot]]\nname = \"B\"").expect("slot B"),
        text.find("[[slot]]\nname = \"C\"").expect("slot C"),
    );
    let slot = text[start..end].to_owned();
    job.change(
        JOB,
        "slots = [\"A\", \"B\", \"C\"]",
        "slots = [\"A\", \"C\"]",
    );
    job.change(JOB, &slot, "");
    assert_eq!(job.state.overlay, Overlay::None);
    let said = job.said();
    assert!(
        said.starts_with("closed: the figure of slot B that was open is no longer there; slot B is no longer there; "),
        "{said}"
    );
}

#[test]
fn an_accessory_that_is_open_stays_open_where_another_is_put_before_it() {
    let mut job = Job::open();
    job.keys("5");
    while !matches!(&job.state.overlay, Overlay::How { .. } if job.drawn().contains("guide")) {
        press(&mut job.state, &[KeyCode::Esc]);
        job.keys("5v\n");
    }
    let title = job.drawn().lines().nth(4).map(str::to_owned);
    let seal = "[[accessory]]\nname = \"ring\"\nelevation = -20.0\nlength = 0.4\n\n";
    job.change(JOB, "[[accessory]]\n", &format!("{seal}[[accessory]]\n"));
    assert_eq!(job.drawn().lines().nth(4).map(str::to_owned), title);
    job.change(JOB, "[[accessory]]\nname = \"guide\"\nslots = [\"A\", \"B\", \"C\"]\nelevation = -10.000\nlength = 0.40\n", "");
    assert_eq!(job.state.overlay, Overlay::None);
    assert!(job.said().starts_with("closed: "), "{}", job.said());
}

#[test]
fn a_thing_stays_in_front_where_another_comes_before_it_and_its_end_is_said() {
    let mut job = Job::open();
    job.keys("\t\t\t3vvvv");
    let key = |job: &Job| job.state.cursors["D"].reconcile.thing.clone();
    let thing = |job: &Job| key(job).map(|key| (key.joint, key.of));
    let loss = Some(("D-11".to_owned(), Topic::MakeupLoss));
    assert_eq!(thing(&job), loss);
    job.change(YARD, "D4114;11,899", "D4114;11,889");
    assert_eq!(thing(&job), loss);
    job.keys("\n");
    assert!(job.drawn().contains("joint D-11"), "{}", job.drawn());
    // What is open of the joint stays open, and says that the lists agree by now.
    job.change(YARD, "0,135", "0,153");
    assert!(
        job.drawn().contains("All lists agree on this joint."),
        "{}",
        job.drawn()
    );
    let said = job.said();
    let gone = "the makeup-loss of joint D-11 differs no longer; ";
    assert!(said.starts_with(gone), "{said}");
    assert_eq!(thing(&job), Some(("D-09".to_owned(), Topic::Place)));
    // A joint that no list has any more closes it.
    let mut job = Job::open();
    job.keys("\t\t\t3\n");
    job.change(YARD, "D-04;D4131;12,303;0,152;\n", "");
    job.change("tallies/d.csv", "D-04,D4131,joint,12.033,0.152,\n", "");
    assert_eq!(job.state.overlay, Overlay::None);
    let closed = "closed: slot D, joint D-04, length: no list has the joint any more";
    assert!(job.said().starts_with(closed), "{}", job.said());
}

#[test]
fn what_the_cursor_is_on_at_first_stays_in_front_too() {
    let mut job = Job::open();
    job.keys("\t\t\t3");
    job.change(YARD, "D4114;11,899", "D4114;11,889");
    let drawn = job.drawn();
    assert!(drawn.contains("length of joint D-04"), "{drawn}");
    let mut job = Job::open();
    job.keys("2o");
    let first = "A-01,A4108,shoe,12.111,0.000,";
    job.change(
        A,
        first,
        "A-00,A4001,shoe,12.001,0.000,\nA-01,A4108,joint,12.111,0.152,",
    );
    assert_eq!(job.joint(), "A-01");
}

#[test]
fn a_flag_stays_under_the_cursor_of_the_overview_where_worse_ones_come_before_it() {
    let mut job = Job::open();
    job.keys("vvvvvv");
    let code = |job: &Job| job.state.overview.flag.clone().map(|it| (it.slot, it.code));
    let before = code(&job).expect("a flag");
    assert_eq!(before.0.as_deref(), Some("D"));
    job.change(JOB, "clearance = \"0.40 m\"", "clearance = \"4.40 m\"");
    assert_eq!(code(&job), Some(before));
    assert!(!job.said().contains("is cleared"), "{}", job.said());
}

#[test]
fn the_line_of_the_cut_stays_under_the_cursor_where_flags_come_above_it() {
    let mut job = Job::open();
    job.keys("5vvvvvvvv");
    let line = |job: &Job| job.state.cursors["A"].cut.clone();
    let before = line(&job);
    job.keys("\n");
    let open = job.state.overlay.clone();
    assert!(matches!(open, Overlay::How { .. }));
    press(&mut job.state, &[KeyCode::Esc]);
    job.change(JOB, "clearance = \"0.40 m\"", "clearance = \"4.40 m\"");
    assert_eq!(line(&job), before);
    job.keys("\n");
    assert_eq!(job.state.overlay, open);
}

#[test]
fn the_list_in_front_stays_in_front_where_another_is_named_before_it() {
    let mut job = Job::open();
    job.keys("\t\t\t3>");
    assert!(job.drawn().contains("t takes yard"), "{}", job.drawn());
    let more = "lists = { other = \"tallies/d.csv\", yard = ";
    job.change(JOB, "lists = { yard = ", more);
    assert!(job.drawn().contains("t takes yard"), "{}", job.drawn());
}

#[test]
fn a_decision_is_on_the_thing_that_was_shown_though_another_comes_before_it() {
    let mut job = Job::open();
    job.keys("\t\t\t3>");
    job.state.person = Some("NK".to_owned());
    job.keys("t");
    // Before it is confirmed, another difference comes to the front of the list.
    job.change(YARD, "D4114;11,899", "D4114;11,889");
    assert!(
        job.drawn().contains("length of joint D-04"),
        "{}",
        job.drawn()
    );
    let effects = press(&mut job.state, &[KeyCode::Enter]);
    let [kerfmark::screens::Effect::Decide(all)] = effects.as_slice() else {
        unreachable!("{effects:?}");
    };
    let event: serde_json::Value = serde_json::from_str(&all[0].event).expect("JSON");
    let words =
        ["slot", "joint", "of", "choice"].map(|key| event[key].as_str().unwrap_or_default());
    assert_eq!(words, ["D", "D-04", "length", "yard"]);
    // It is no longer there meanwhile: nothing is decided.
    let mut job = Job::open();
    job.keys("\t\t\t3>");
    job.state.person = Some("NK".to_owned());
    job.keys("t");
    job.change(YARD, "D-04;D4131;12,303;0,152;\n", "");
    job.change("tallies/d.csv", "D-04,D4131,joint,12.033,0.152,\n", "");
    assert_eq!(job.state.overlay, Overlay::None);
    assert!(press(&mut job.state, &[KeyCode::Enter]).is_empty());
}

#[test]
fn units_switch_in_flags_too() {
    let mut state = state_of("four-slots", (80, 24));
    let outlier = |state: &State| {
        let drawn = drawn(state, (80, 24));
        let lines = drawn
            .lines()
            .skip_while(|line| !line.contains("loss-outlier"));
        lines.take(2).collect::<String>()
    };
    let open = |state: &State| {
        let drawn = drawn(state, (80, 24));
        let lines = drawn
            .lines()
            .skip_while(|line| !line.contains("difference-open:"));
        lines.take(2).collect::<String>()
    };
    assert!(outlier(&state).contains("25.0 mm") && outlier(&state).contains("151.0 mm"));
    assert!(open(&state).contains("5.0 mm"), "{}", open(&state));
    type_in(&mut state, "u");
    // 25 and 151 mm in inches of 25.4 mm; 5 mm likewise.
    assert!(
        outlier(&state).contains("0.984 in") && outlier(&state).contains("5.945 in"),
        "{}",
        outlier(&state)
    );
    assert!(open(&state).contains("0.197 in"), "{}", open(&state));
    for line in [outlier(&state), open(&state)] {
        assert!(!line.contains(" mm"), "{line}");
    }
}

#[test]
fn units_switch_in_what_lies_over_a_screen_too() {
    let mut job = Job::open();
    // A difference, what changed, and a flag of the job as a whole.
    job.keys("\t\t\t3\n");
    assert!(job.drawn().contains("12.303 m"), "{}", job.drawn());
    job.keys("u");
    assert_eq!(job.state.screen, Screen::Reconcile);
    assert!(job.drawn().contains("40.364"), "{}", job.drawn());
    assert!(!job.drawn().contains("12.303 m"), "{}", job.drawn());
    let mut job = Job::open();
    job.change(JOB, "stick_up = 0.960", "stick_up = 0.950");
    job.keys("m");
    assert!(job.drawn().contains("A: top -0.010 m"), "{}", job.drawn());
    job.keys("u");
    assert!(job.drawn().contains("A: top -0.033 ft"), "{}", job.drawn());
    type_in(&mut job.state, "q");
    job.change(JOB, "stick_up = 0.950", "stick_up = 0.940");
    let changes = job.state.changes.join("; ");
    assert!(changes.contains("A: top -0.033 ft"), "told anew: {changes}");
}

#[test]
fn nothing_of_the_overview_is_kept_over_a_change() {
    let mut job = Job::open();
    let has = |job: &Job, text: &str| job.drawn().contains(text);
    // The top of A, in the table.
    assert!(has(&job, "+21.980") && !has(&job, "+22.000"));
    job.change(JOB, "stick_up = 0.960", "stick_up = 0.980");
    assert!(!has(&job, "+21.980") && has(&job, "+22.000"));
    // 22.000 / 0.3048 = 72.178.
    job.keys("u");
    assert!(!has(&job, "+22.000") && has(&job, "+72.178"));
    job.keys("uu");
    assert!(has(&job, "+22.000"));
    // The two lengths of D-04 that differ are a flag for as long as they do.
    assert!(has(&job, "(270.0 mm)"), "{}", job.drawn());
    job.change(YARD, "D-04;D4131;12,303;", "D-04;D4131;12,033;");
    assert!(!has(&job, "(270.0 mm)"), "{}", job.drawn());
    assert!(!has(&job, "7.7425    old"));
    job.change(JOB, "stick_up = 0.980", "stick_up = ");
    assert!(has(&job, "7.7425    old"), "{}", job.drawn());
}
