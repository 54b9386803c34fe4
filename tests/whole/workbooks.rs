//! Tallies in workbooks: the same figures as from text, and a plain word where something is amiss.
//! The files are made by `fixtures/workbooks/make.py`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use kerfmark::measure::Length;
use kerfmark::report::words;
use kerfmark::tally::{FileNote, Options, Pins, PipeString, SkipReason, Tally, read, review};

fn place(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/fixtures/workbooks")
        .join(name)
}

fn bytes(name: &str) -> Vec<u8> {
    fs::read(place(name)).expect("a fixture")
}

fn with(name: &str, options: &Options) -> Tally {
    read(&bytes(name), options).unwrap_or_else(|problems| {
        let sentences: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{name}: {}", sentences.join("\n"))
    })
}

fn tally(name: &str) -> Tally {
    with(name, &Options::default())
}

fn refusal_with(name: &str, options: &Options) -> String {
    match read(&bytes(name), options) {
        Ok(tally) => panic!("{name} was read as {:#?}", tally.joints),
        Err(problems) => {
            let sentences: Vec<String> = problems.iter().map(ToString::to_string).collect();
            sentences.join("\n")
        }
    }
}

fn refusal(name: &str) -> String {
    refusal_with(name, &Options::default())
}

fn sheet(name: &str) -> Options {
    Options {
        sheet: Some(name.to_owned()),
        ..Options::default()
    }
}

fn lengths(tally: &Tally) -> Vec<i64> {
    let length = |joint: &kerfmark::tally::Joint| joint.overall().map(Length::nm);
    tally.joints.iter().filter_map(length).collect()
}

fn losses(tally: &Tally) -> Vec<Option<i64>> {
    let loss = |joint: &kerfmark::tally::Joint| joint.makeup_loss.map(Length::nm);
    tally.joints.iter().map(loss).collect()
}

/// What is said of a file, but for what was not looked for in it: that is said of every old workbook.
fn notes(tally: &Tally) -> Vec<String> {
    let notes = tally.notes.iter();
    notes
        .filter(|note| **note != FileNote::MarksNotRead)
        .map(words::file_note)
        .collect()
}

const KINDS: [&str; 3] = ["xlsx", "xls", "ods"];

#[test]
fn a_tally_is_the_same_joint_by_joint_as_text_and_in_every_kind_of_workbook() {
    let text = tally("tally.csv");
    let flags = |tally: &Tally| {
        let string = PipeString::make_up(tally, Pins::default());
        let flags = review(tally, &string, Pins::default());
        let texts = flags.iter().map(|flag| flag.finding.clone());
        (string.length, texts.collect::<Vec<_>>())
    };
    for kind in KINDS {
        let book = tally(&format!("tally.{kind}"));
        assert_eq!(book.joints, text.joints, "{kind}");
        assert_eq!(book.claims, text.claims, "{kind}");
        assert_eq!(book.order_assumed, text.order_assumed, "{kind}");
        assert_eq!(flags(&book), flags(&text), "{kind}");
        let lines = |tally: &Tally| -> Vec<(u32, String)> {
            let skipped = tally.skipped.iter();
            skipped
                .map(|skip| (skip.line, words::skip_reason(skip.why)))
                .collect()
        };
        assert_eq!(lines(&book), lines(&text), "{kind}");
        assert_eq!(book.encoding, "workbook sheet Tally");
        assert_eq!(notes(&book), Vec::<String>::new());
        let untold = book.notes.contains(&FileNote::MarksNotRead);
        assert_eq!(untold, kind == "xls");
    }
}

#[test]
fn the_one_sheet_with_a_table_is_taken_and_the_others_are_listed() {
    for kind in KINDS {
        let book = tally(&format!("one-of-three.{kind}"));
        assert_eq!(book.joints.len(), 3, "{kind}");
        assert_eq!(book.encoding, "workbook sheet Joints");
        assert_eq!(
            notes(&book),
            [
                "sheet Blank is not used: it is empty",
                "sheet Cover is not used: it has no header row"
            ],
            "{kind}"
        );
    }
}

#[test]
fn several_sheets_with_tables_are_a_question_that_the_option_answers() {
    for kind in KINDS {
        let name = format!("two-tallies.{kind}");
        assert_eq!(
            refusal(&name),
            "which sheet is the tally? `North`, `South` each hold a table of joints; state it with --sheet NAME \
             (in a job: read = { sheet = \"...\" })"
        );
        let south = with(&name, &sheet("South"));
        assert_eq!(south.joints.len(), 4, "{kind}");
        assert_eq!(
            notes(&south).first().map(String::as_str),
            Some("sheet North is not used: another one was named")
        );
        assert_eq!(
            refusal_with(&name, &sheet("West")),
            "has no sheet called `West`; it has `North`, `South`, `Notes`"
        );
    }
}

#[test]
fn hidden_sheets_are_listed_and_taken_only_by_name() {
    for kind in KINDS {
        let name = format!("hidden.{kind}");
        let shown = tally(&name);
        assert_eq!(shown.joints.len(), 3, "{kind}");
        assert_eq!(
            notes(&shown),
            ["sheet Old is not used: it is hidden; --sheet takes it all the same"],
            "{kind}"
        );
        assert_eq!(with(&name, &sheet("Old")).joints.len(), 5, "{kind}");
        let all = refusal(&format!("all-hidden.{kind}"));
        assert!(
            all.contains("without a visible sheet") && all.contains("`Old`: hidden"),
            "{all}"
        );
        let other = refusal_with(&name, &sheet("New"));
        assert!(other.ends_with("it has `Shown`, `Old` (hidden)"), "{other}");
    }
}

#[test]
fn workbooks_without_a_table_say_what_each_sheet_has_not() {
    assert_eq!(
        refusal("no-table.xlsx"),
        "has several sheets, none with a table of joints: `One` has no header row, `Two` has no length column in the \
         header on line 1; expected one with a row that names at least the joint and its length"
    );
    assert!(refusal("empty.xlsx").contains("without a visible sheet that holds anything;"));
    let named = refusal_with("all-hidden.ods", &sheet("Shown"));
    assert!(named.starts_with("its sheet `Shown` is empty"), "{named}");
}

#[test]
fn binary_fractions_become_the_decimals_that_were_meant_and_are_listed() {
    for kind in KINDS {
        let book = tally(&format!("noise.{kind}"));
        assert_eq!(
            lengths(&book),
            [
                12_190_000_000,
                12_200_000_000,
                12_250_000_000,
                12_375_000_000
            ],
            "{kind}"
        );
        assert_eq!(losses(&book).get(2), Some(&Some(152_000_000)));
        assert_eq!(
            notes(&book),
            [
                "cell D2 moved to the grid: 12.190000000000001 read as 12.19",
                "cell D3 moved to the grid: 12.200000000000001 read as 12.2",
                "cell E4 moved to the grid: 0.15200000000000002 read as 0.152",
            ],
            "{kind}"
        );
    }
    let feet = tally("noise-feet.xlsx");
    // 38 ft 7 1/4 in, and 39.37 ft.
    assert_eq!(lengths(&feet), [11_766_550_000, 11_999_976_000]);
    assert_eq!(feet.notes.len(), 2);
}

#[test]
fn numbers_that_lie_off_the_grid_stay_an_error() {
    assert_eq!(
        refusal("too-fine.xlsx"),
        "line 3, cell D3 (length (m)): `12.1234567890123` is no whole number of nanometres; expected fewer decimals"
    );
}

#[test]
fn numbers_raise_no_question_about_marks_and_text_beside_them_keeps_its_own() {
    assert_eq!(
        losses(&tally("millimetres.xlsx")).get(1),
        Some(&Some(152_125_000))
    );
    let as_text = read(
        b"joint,length (mm),makeup loss (mm)\n1,12192,0\n2,11987,152.125\n",
        &Options::default(),
    );
    assert!(as_text.is_err(), "the same as text is a question");
    for kind in KINDS {
        let book = tally(&format!("text-with-commas.{kind}"));
        assert_eq!(
            lengths(&book),
            [
                12_000_000_000,
                12_125_000_000,
                12_250_000_000,
                12_375_000_000
            ],
            "{kind}"
        );
    }
    // As thousands of metres it would be no length, so that the comma is a decimal one.
    assert_eq!(
        lengths(&tally("doubtful-comma.xlsx")),
        [12_000_000_000, 12_125_000_000, 12_250_000_000]
    );
}

#[test]
fn a_formula_that_fails_is_named_where_it_is_read_and_passed_over_elsewhere() {
    for kind in ["xlsx", "ods"] {
        assert_eq!(
            refusal(&format!("failed.{kind}")),
            "line 3, cell D3 (length (m)): the formula of this cell gives `#DIV/0!`; expected a value"
        );
    }
    assert_eq!(tally("failed-unused.xlsx").joints.len(), 3);
}

#[test]
fn formulas_that_nobody_computed_are_no_lengths_of_zero() {
    for name in [
        "zeros.xlsx",
        "zeros.xls",
        "zeros.ods",
        "never-computed.xlsx",
        "never-computed.ods",
    ] {
        let said = refusal(name);
        assert!(
            said.starts_with(
                "line 2, cell D2 (length (m)): every formula of this column has the value 0 or none"
            ) && said.ends_with("open it in a spreadsheet program and save it once"),
            "{name}: {said}"
        );
    }
    let losses = refusal("zero-losses.xlsx");
    assert!(
        losses.starts_with("line 3, cell E3 (makeup_loss (m)): every formula"),
        "{losses}"
    );
    assert_eq!(tally("one-zero-loss.xlsx").joints.len(), 4);
    assert_eq!(tally("computed-zero-losses.xlsx").joints.len(), 4);
}

#[test]
fn dates_disturb_only_where_a_length_is_wanted() {
    for kind in KINDS {
        let book = tally(&format!("dates.{kind}"));
        assert_eq!(losses(&book).get(1), Some(&Some(151_000_000)), "{kind}");
        let wrong = refusal(&format!("date-for-length.{kind}"));
        assert!(
            wrong.starts_with("line 3, cell D3 (length (m)): `2026-03-01` is not a length"),
            "{kind}: {wrong}"
        );
    }
}

#[test]
fn merged_titles_and_headers_name_the_right_columns() {
    assert_eq!(tally("merged-title.xlsx").joints.len(), 3);
    let book = tally("merged-header.xlsx");
    assert_eq!(
        lengths(&book),
        [12_000_000_000, 12_000_000_000, 12_125_000_000]
    );
    assert_eq!(losses(&book).get(1), Some(&Some(152_000_000)));
    assert!(!book.effective_only);
    let pair = tally("merged-feet-inches.xlsx");
    // 39 ft 4 1/2 in and 40 ft, the second less 5 1/2 in.
    assert_eq!(lengths(&pair), [12_001_500_000, 12_192_000_000]);
    assert_eq!(losses(&pair).get(1), Some(&Some(139_700_000)));
}

#[test]
fn blank_rows_count_and_what_stands_beside_the_table_is_a_column_without_use() {
    for kind in KINDS {
        let book = tally(&format!("gaps.{kind}"));
        let lines: Vec<u32> = book.joints.iter().map(|joint| joint.line).collect();
        assert_eq!(lines, [2, 5, 6], "{kind}");
        let blank = book.skipped.first().map(|skip| (skip.line, skip.why));
        assert_eq!(blank, Some((3, SkipReason::BlankLines(2))), "{kind}");
        assert!(
            book.columns
                .iter()
                .any(|column| column.number == 8 && column.used_as.is_none())
        );
    }
}

#[test]
fn the_program_reads_a_workbook_whatever_its_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let renamed = folder.path().join("tally.csv");
    fs::copy(place("one-of-three.xlsx"), &renamed).expect("a copy");
    let run = |path: &Path, more: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_kerfmark"))
            .arg("tally")
            .arg(path)
            .args(more)
            .output()
            .expect("the program starts")
    };
    let json = run(&renamed, &["--json"]);
    assert_eq!(json.status.code(), Some(0));
    let tree: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!(tree["encoding"], "workbook sheet Joints");
    assert_eq!(tree["joints"][1]["length_m"].to_string(), "12.125");
    assert_eq!(tree["joints"][1]["line"], 3);
    assert_eq!(tree["notes"][0], "sheet Blank is not used: it is empty");
    let text = run(&renamed, &[]);
    let text = String::from_utf8_lossy(&text.stdout).into_owned();
    assert!(
        text.contains("read as: workbook sheet Joints, lengths in m"),
        "{text}"
    );
    assert!(
        text.contains("\nnote: sheet Cover is not used: it has no header row\n"),
        "{text}"
    );
    let question = run(&place("two-tallies.ods"), &[]);
    assert_eq!(question.status.code(), Some(2));
    assert!(question.stdout.is_empty());
    let answered = run(
        &place("two-tallies.ods"),
        &["--sheet", "North", "--summary"],
    );
    assert_eq!(answered.status.code(), Some(0));
    let text = run(&place("tally.csv"), &["--sheet", "North"]);
    assert!(String::from_utf8_lossy(&text.stderr).contains("is text and has no sheets"));
}

#[test]
fn a_job_takes_its_tally_from_a_workbook_and_names_the_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let job = folder.path().join("job");
    let run = |arguments: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_kerfmark"))
            .args(arguments)
            .output()
            .expect("the program starts")
    };
    let path = job.to_string_lossy().into_owned();
    assert_eq!(run(&["new", &path]).status.code(), Some(0));
    fs::write(
        job.join("job.toml"),
        "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -41.35\n[[hull]]\nname = \"drilling\"\n\
         rotary = 32.4\n[pipe.main]\nod = \"30 in\"\nwall = \"1.5 in\"\n[deck]\nelevation = 14.25\n[[slot]]\nname = \"A\"\n\
         pipe = \"main\"\ntally = \"tallies/two.xlsx\"\nread = { sheet = \"South\" }\n",
    )
    .expect("a job");
    fs::create_dir_all(job.join("tallies")).expect("a folder");
    fs::copy(place("two-tallies.xlsx"), job.join("tallies/two.xlsx")).expect("a copy");
    let figures = run(&["figures", &path, "--json"]);
    let tree: serde_json::Value = serde_json::from_slice(&figures.stdout).unwrap_or_else(|_| {
        panic!("{}", String::from_utf8_lossy(&figures.stderr));
    });
    assert_eq!(tree["slots"][0]["joints"], 4);
    assert_eq!(tree["slots"][0]["string_length_m"].to_string(), "48.294");
}

#[test]
fn control_characters_of_a_workbook_are_shown_as_their_code() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Slot \u{202e}A").expect("a name");
    for (column, text) in (0_u16..).zip(["\u{200e}joint", "length (m)", "remarks"]) {
        sheet.write_string(0, column, text).expect("a cell");
    }
    sheet.write_string(1, 0, "A\u{9b}1").expect("a cell");
    sheet.write_number(1, 1, 12.1).expect("a cell");
    sheet.write_string(1, 2, "de\u{2066}nt").expect("a cell");
    let bytes = book.save_to_buffer().expect("a workbook");
    let tally = read(&bytes, &Options::default()).expect("a tally");
    assert_eq!(tally.joints[0].number, r"A\u{9b}1");
    assert_eq!(tally.joints[0].remarks(), Some(r"de\u{2066}nt"));
    assert_eq!(tally.encoding, r"workbook sheet Slot \u{202e}A");
    assert_eq!(tally.columns[0].heading, r"\u{200e}joint");
}
