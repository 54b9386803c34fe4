//! What a job file may say, and how it is told where it is wrong.

use super::*;
use crate::measure::{DecimalMark, Elevation, Length, Unit};
use crate::tally::import::{Blocks, ColumnRole, LineSpan, NotRun};
use crate::tally::{Order, Pins};

mod bounds;

/// The least that a job needs.
const LEAST: &str = r#"format = 1
[job]
units = "m"
sea_datum = "LAT"
[site]
mudline = -41.350
[[hull]]
name = "one"
rotary = 32.400
[pipe.main]
od = "30 in"
wall = "1.5 in"
[[slot]]
name = "A"
pipe = "main"
tally = "tallies/a.csv"
[deck]
elevation = 14.250
"#;

fn job(text: &str) -> Job {
    match parse(text) {
        Ok(job) => job,
        Err(problems) => panic!("{text}\n{}", sentences(&problems).join("\n")),
    }
}

fn sentences(problems: &[JobProblem]) -> Vec<String> {
    problems.iter().map(ToString::to_string).collect()
}

fn refusal(text: &str) -> Vec<String> {
    match parse(text) {
        Ok(job) => panic!("{text}\nwas read as {job:#?}"),
        Err(problems) => sentences(&problems),
    }
}

/// The one problem of a job file to which some lines were added.
fn one(added: &str) -> String {
    let problems = refusal(&format!("{LEAST}{added}"));
    assert_eq!(problems.len(), 1, "{problems:#?}");
    problems.concat()
}

/// The one problem after a part of the least job was replaced.
fn one_with(from: &str, to: &str) -> String {
    assert!(LEAST.contains(from), "{from}");
    let problems = refusal(&LEAST.replacen(from, to, 1));
    assert_eq!(problems.len(), 1, "{problems:#?}");
    problems.concat()
}

fn metres(millimetres: i64) -> Elevation {
    Elevation::above_datum(Length::from_mm(millimetres))
}

#[test]
fn the_least_job_is_read_with_its_defaults() {
    let job = job(LEAST);
    assert_eq!((job.units, job.sea_datum.as_str()), (Unit::Metre, "LAT"));
    assert_eq!(job.site.mudline, metres(-41_350));
    assert_eq!(job.site.water_level, metres(0));
    assert_eq!(job.hulls[0].stick_up_from, Length::ZERO);
    let pipe = &job.pipes[0];
    assert_eq!(
        (pipe.od, pipe.wall),
        (Length::from_mm(762), Length::from_nm(38_100_000))
    );
    assert!((pipe.density - 7850.0).abs() < f64::EPSILON);
    assert_eq!(
        pipe.pins,
        Pins {
            up: false,
            nominal_loss: None
        }
    );
    let slot = &job.slots[0];
    assert_eq!(
        (slot.hull.name.as_str(), slot.pipe.name.as_str()),
        ("one", "main")
    );
    assert_eq!((slot.stick_up, slot.plan), (None, None));
    assert_eq!(slot.cut_offset, Length::ZERO);
    assert_eq!(
        (job.cut.hull.name.as_str(), job.cut.kerf, job.cut.tolerance),
        ("one", Length::ZERO, None)
    );
}

#[test]
fn a_bare_number_is_in_the_jobs_unit_and_a_text_in_its_own() {
    let feet = LEAST
        .replace("units = \"m\"", "units = \"ft\"")
        .replace("rotary = 32.400", "rotary = \"32.400 m\"");
    let read = job(&feet);
    assert_eq!(read.deck.elevation.height().nm(), 14_250 * 304_800);
    assert_eq!(read.hulls[0].rotary, metres(32_400));
    let feet_inches = LEAST
        .replace("units = \"m\"", "units = \"ft-in\"")
        .replace("-41.350", "-135")
        .replace("32.400", "\"106' 3 1/2\\\"\"")
        .replace("14.250", "\"46'-9\\\"\"");
    let read = job(&feet_inches);
    assert_eq!(read.site.mudline.height().nm(), -135 * 304_800_000);
    assert_eq!(
        read.deck.elevation.height().nm(),
        (46 * 12 + 9) * 25_400_000
    );
    let refused = refusal(&feet_inches.replace("-135", "-135.5"));
    assert!(
        refused[0].contains("could be decimal feet or feet and inches"),
        "{refused:#?}"
    );
}

#[test]
fn the_units_hold_wherever_the_job_table_stands() {
    let (head, rest) = LEAST.split_once("[site]").expect("a site");
    let (format, job_table) = head.split_once('\n').expect("a first line");
    let moved =
        format!("{format}\n[site]{rest}{job_table}").replace("units = \"m\"", "units = \"ft\"");
    assert_eq!(job(&moved).deck.elevation.height().nm(), 14_250 * 304_800);
}

#[test]
fn a_slot_carries_the_answers_to_the_readers_questions() {
    let text = LEAST.replace(
        "tally = \"tallies/a.csv\"",
        "tally = \"tallies/a.csv\"\nread = { order = \"top-first\", units = \"ft\", decimal = \"comma\", sheet = \"S1\" }\nlists = { yard = \"tallies/y.csv\" }",
    );
    let job = job(&text);
    let read = &job.slots[0].read;
    assert_eq!(
        (read.order, read.units, read.decimal),
        (
            Some(Order::TopFirst),
            Some(Unit::Foot),
            Some(DecimalMark::Comma)
        )
    );
    assert_eq!(
        (read.job_units, read.sheet.as_deref()),
        (Some(Unit::Metre), Some("S1"))
    );
    assert_eq!(job.slots[0].lists[0].name, "yard");
}

#[test]
fn a_plan_is_kept_beside_the_stick_up() {
    let slot = "tally = \"tallies/a.csv\"";
    let with = |keys: &str| {
        let job = job(&LEAST.replace(slot, &format!("{slot}\n{keys}")));
        (job.slots[0].stick_up, job.slots[0].plan)
    };
    let at = |mm| Elevation::above_datum(Length::from_mm(mm));
    assert_eq!(
        with("stick_up = -0.4\nplan_top = 15.0"),
        (Some(Length::from_mm(-400)), Some(Plan::Top(at(15_000))))
    );
    assert_eq!(
        with("plan_shoulder = -27.1\nshoulder_offset = 1.25"),
        (None, Some(Plan::Shoulder(at(-27_100))))
    );
}

#[test]
fn every_missing_key_is_named_at_once() {
    let refused = refusal("");
    for key in [
        "`format`",
        "`job.units`",
        "`job.sea_datum`",
        "`site.mudline`",
        "`hull`",
        "`pipe`",
        "`slot`",
        "`deck.elevation`",
    ] {
        assert!(
            refused
                .iter()
                .any(|line| line.contains(&format!("{key} is missing"))),
            "{key}: {refused:#?}"
        );
    }
    let refused = refusal("format = 1\n[job]\n[site]\n[[hull]]\n[pipe.main]\n[[slot]]\n[deck]\n");
    for (line, key) in [
        (2, "job.units"),
        (2, "job.sea_datum"),
        (3, "site.mudline"),
        (4, "hull[1].name"),
        (4, "hull[1].rotary"),
        (5, "pipe.main.od"),
        (5, "pipe.main.wall"),
        (6, "slot[1].name"),
        (6, "slot[1].pipe"),
        (6, "slot[1].tally"),
        (7, "deck.elevation"),
    ] {
        let start = format!("line {line}, column ");
        let named = format!("`{key}` is missing; expected ");
        assert!(
            refused
                .iter()
                .any(|text| text.starts_with(&start) && text.contains(&named)),
            "{key}: {refused:#?}"
        );
    }
}

#[test]
fn an_unknown_key_is_named_with_the_one_that_was_meant() {
    assert_eq!(
        one("[cut]\ntolerence = \"10 mm\"\n"),
        "line 20, column 1: `cut.tolerence` is no key of a job file; expected `tolerance`"
    );
    let far = one("[cut]\nwhatever = 1\n");
    assert!(
        far.contains("`cut.whatever` is no key")
            && far.contains("one of clearance, elevations, hull"),
        "{far}"
    );
    assert!(one("[[allowence]]\nvalue = 1\n").contains("expected `allowance`"));
}

#[test]
fn a_value_of_the_wrong_kind_says_what_stands_there() {
    assert_eq!(
        one_with("= -41.350", "= true"),
        "line 6, column 11: `site.mudline` is true; expected a length such as 14.250 (metres) or \"14250 mm\""
    );
    assert!(one_with("format = 1", "format = 2").contains("`format` is the number 2; expected 1"));
    assert!(
        one_with("units = \"m\"", "units = \"yd\"")
            .contains("`job.units` is the text \"yd\"; expected \"m\" or \"ft\" or \"ft-in\"")
    );
    assert!(
        one_with("\"tallies/a.csv\"", "7")
            .contains("`slot[1].tally` is the number 7; expected a text in quotes")
    );
    assert!(one("[cut]\nkerf = \"6 kg\"\n").contains("`kg` in `6 kg` is no unit of length"));
    assert!(
        one("[rig]\nblock_mass = \"28 m\"\n").contains(
            "`rig.block_mass` is the text \"28 m\"; expected a number of 0 or more in kg"
        )
    );
    assert!(one("[cut]\nkerf = \"-6 mm\"\n").contains("expected a length of 0 or more"));
    assert!(one_with("\"1.5 in\"", "\"16 in\"").contains("half the outside diameter or more"));
    for bad in ["inf", "nan", "1e3", "0x10"] {
        assert!(
            one_with("-41.350", bad).starts_with("line 6, column 11: `site.mudline`"),
            "{bad}"
        );
    }
}

#[test]
fn a_list_may_not_have_a_name_that_a_decision_says_of_something_else() {
    for name in ["record", "as-run", "measured", "open"] {
        let lists = format!("tally = \"tallies/a.csv\"\nlists = {{ {name} = \"tallies/b.csv\" }}");
        let refused = one_with("tally = \"tallies/a.csv\"", &lists);
        assert!(refused.contains("expected another name"), "{refused}");
    }
}

#[test]
fn a_path_may_not_leave_the_folder() {
    for path in [
        "../a.csv",
        "/a.csv",
        "tallies/../../a.csv",
        "..\\\\a.csv",
        "C:\\\\a.csv",
        ".",
        "tallies/..",
    ] {
        let refused = one_with("\"tallies/a.csv\"", &format!("\"{path}\""));
        assert!(
            refused.starts_with("line 16, column 9: `slot[1].tally`"),
            "{refused}"
        );
    }
    assert_eq!(
        job(&LEAST.replace("tallies/a.csv", "tallies/../a.csv"))
            .slots
            .len(),
        1
    );
}

#[test]
fn names_must_lead_somewhere() {
    assert!(
        one_with("pipe = \"main\"", "pipe = \"mian\"").contains(
            "`slot[1].pipe` is the text \"mian\"; expected \"main\", the only one defined"
        )
    );
    assert!(one("[cut]\nhull = \"two\"\n").contains("`cut.hull` is the text \"two\""));
    assert!(
        one("[[allowance]]\nvalue = 0.001\nslots = [\"B\"]\n")
            .contains("`allowance[1].slots` is the text \"B\"; expected \"A\"")
    );
    assert!(one("[frame]\nslot = \"B\"\nring_above_base = 8.2\n").contains("`frame.slot`"));
}

#[test]
fn a_slip_in_one_slot_is_no_slip_elsewhere() {
    let text = LEAST.replace("pipe = \"main\"", "pipe = \"mian\"")
        + "[[allowance]]\nvalue = 0.001\nslots = [\"A\"]\n";
    let refused = refusal(&text);
    assert_eq!(refused.len(), 1, "{refused:#?}");
    let text = LEAST.replace("rotary = 32.400", "rotary = \"high\"") + "[cut]\nhull = \"one\"\n";
    assert_eq!(refusal(&text).len(), 1);
}

#[test]
fn a_name_given_twice_is_placed_at_the_second() {
    let second = one("[[slot]]\nname = \"A\"\npipe = \"main\"\ntally = \"tallies/b.csv\"\n");
    assert_eq!(
        second,
        "line 20, column 8: `slot` has the name \"A\" twice; expected each name once"
    );
}

#[test]
fn keys_that_do_not_go_together_are_named() {
    let slot = "tally = \"tallies/a.csv\"";
    let with = |keys: &str| one_with(slot, &format!("{slot}\n{keys}"));
    assert!(
        with("plan_top = 1.0\nshoulder_offset = 1.0\nplan_shoulder = 2.0")
            .contains("plan_top are both given")
    );
    assert!(with("running_joint = \"7\"").contains("needs shoulder_offset"));
    assert!(with("shoe_window = [-94.0, -96.0]").contains("higher limit first"));
    assert!(one("[[keep_out]]\nfrom = 6.0\nto = 2.0\n").contains("is not below `to`"));
}

#[test]
fn syntax_errors_have_a_place_too() {
    let refused = refusal("format = 1\n[job\nunits = \"m\"\n");
    assert!(refused[0].starts_with("line 2, column "), "{refused:#?}");
}

#[test]
fn all_problems_come_in_the_order_of_the_file() {
    let text = LEAST
        .replace("sea_datum", "sea_dautm")
        .replace("-41.350", "\"deep\"")
        .replace("\"1.5 in\"", "\"1.5 lb\"")
        .replace("\"tallies/a.csv\"", "\"../a.csv\"");
    let refused = refusal(&text);
    let lines: Vec<usize> = parse(&text)
        .err()
        .into_iter()
        .flatten()
        .map(|problem| problem.line)
        .collect();
    assert_eq!(lines, [2, 4, 6, 12, 16], "{refused:#?}");
}

#[test]
fn the_template_is_a_sound_job() {
    let read = job(include_str!("../folder/template/job.toml"));
    assert_eq!(read.slots.len(), 1);
}

#[test]
fn the_answers_to_the_reader_are_read_with_their_places() {
    let read = |table: &str| format!("tally = \"tallies/a.csv\"\nread = {{ {table} }}\n");
    let with = |table: &str| job(&LEAST.replacen("tally = \"tallies/a.csv\"\n", &read(table), 1));
    let slot = with(
        "units = \"feet-point-inches\", not_run = \"leave-out\", landing = [\"L1\", \"L2\"], \
         columns = { length = \"E\", joint = 2, remarks = \"Comment\" }, rows = \"5-28\", blocks = \"across\"",
    )
    .slots
    .remove(0);
    let options = slot.read;
    assert!(options.feet_point_inches && options.units.is_none());
    assert_eq!(options.not_run, Some(NotRun::LeaveOut));
    assert_eq!(
        options.landing,
        Some(vec!["L1".to_owned(), "L2".to_owned()])
    );
    let columns: Vec<(ColumnRole, &str)> = options
        .columns
        .iter()
        .map(|choice| (choice.role, choice.place.as_str()))
        .collect();
    assert_eq!(
        columns,
        [
            (ColumnRole::Joint, "2"),
            (ColumnRole::Length, "E"),
            (ColumnRole::Remarks, "Comment")
        ]
    );
    assert_eq!(options.rows, Some(LineSpan { first: 5, last: 28 }));
    assert_eq!(options.blocks, Some(Blocks::Across));
    let none = with("landing = [\"none\"], not_run = \"count\", blocks = \"first\"");
    assert_eq!(none.slots[0].read.landing, Some(Vec::new()));
    let mut said = String::new();
    for table in [
        "not_run = \"maybe\"",
        "landing = \"L1\"",
        "columns = { lenght = \"E\" }",
        "columns = { length = 1.5 }",
        "columns = \"E\"",
        "rows = \"28-5\"",
        "rows = 5",
        "blocks = \"all\"",
        "block = \"first\"",
    ] {
        let text = LEAST.replacen("tally = \"tallies/a.csv\"\n", &read(table), 1);
        let problems = refusal(&text);
        said.push_str(&problems.join("\n"));
        said.push('\n');
    }
    insta::assert_snapshot!(said);
}

#[test]
fn a_pipe_that_is_welded_may_have_a_root_gap() {
    let pipe = |keys: &str| {
        LEAST.replacen(
            "wall = \"1.5 in\"\n",
            &format!("wall = \"1.5 in\"\n{keys}\n"),
            1,
        )
    };
    let welded = job(&pipe("connection = \"weld\"\nmakeup_loss = \"-3 mm\""));
    assert_eq!(welded.pipes[0].joining, Joining::Weld);
    assert_eq!(welded.pipes[0].pins.nominal_loss, Some(Length::from_mm(-3)));
    assert_eq!(welded.slots[0].read.least_loss, Length::from_mm(-20));
    let made_up = job(&pipe("connection = \"connector\""));
    assert_eq!(made_up.slots[0].read.least_loss, Length::ZERO);
    assert_eq!(job(LEAST).pipes[0].joining, Joining::Connector);
    let mut said = String::new();
    for keys in [
        "makeup_loss = \"-3 mm\"",
        "connection = \"weld\"\nmakeup_loss = \"-21 mm\"",
        "connection = \"glue\"",
    ] {
        said.push_str(&refusal(&pipe(keys)).join("\n"));
        said.push('\n');
    }
    insta::assert_snapshot!(said);
}
