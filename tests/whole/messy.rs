//! One tally of thirteen invented joints, written in ten of the ways that people write tallies: all
//! make the same string, to the nanometre, and every line that is no joint is listed.

use crate::common::acting::{ACTING, has_acting};
use std::fs;
use std::path::PathBuf;

use kerfmark::finding::Code;
use kerfmark::measure::Length;
use kerfmark::report::words;
use kerfmark::tally::{Joint, Options, Order, Pins, PipeString, Tally, read, review};

/// 11 430 half inches: every length and loss is a whole number of them, so that metres, millimetres,
/// inches and feet-inches all write them exactly.
const STRING: Length = Length::from_nm(145_161_000_000);

fn fixture(name: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/messy");
    fs::read_to_string(folder.join(name)).expect(name)
}

fn tally(bytes: &[u8]) -> Tally {
    match read(bytes, &Options::default()) {
        Ok(tally) => tally,
        Err(problems) => panic!("{problems:#?}"),
    }
}

/// The string is the one expected, and the flags are those of `expected` and no others, whatever
/// their severity.
fn assert_same_string(tally: &Tally, expected: &[Code]) {
    let pins = Pins::default();
    let string = PipeString::make_up(tally, pins);
    assert_eq!(string.length, STRING);
    assert_eq!(tally.joints.len(), 13);
    let flags = review(tally, &string, pins);
    let codes: Vec<Code> = flags.iter().map(|flag| flag.code).collect();
    assert_eq!(codes, expected, "{flags:#?}");
}

fn assert_skipped(tally: &Tally, expected: &[(u32, &str)]) {
    let skipped: Vec<(u32, String)> = tally
        .skipped
        .iter()
        .map(|skipped| (skipped.line, words::skip_reason(skipped.why)))
        .collect();
    let skipped: Vec<(u32, &str)> = skipped.iter().map(|(line, why)| (*line, &**why)).collect();
    assert_eq!(skipped, expected);
}

/// What every way of writing must agree on.
fn figures(tally: &Tally) -> Vec<(Option<Length>, Length)> {
    let of = |joint: &Joint| (joint.overall(), joint.makeup_loss.unwrap_or_default());
    tally.joints.iter().map(of).collect()
}

/// Where a list has neither kinds nor remarks, nothing says that the twelfth joint is a pup.
const PUP: &[Code] = &[Code::LengthOutlier];

const TOTAL: &str = "total: not summed, checked against the joints";
const FORWARD: &str = "carry-forward: not summed, checked against the joints";
const TITLE: &str = "above the table";

#[test]
fn titles_above_the_header() {
    let tally = tally(fixture("titles.csv").as_bytes());
    assert_same_string(&tally, PUP);
    assert_skipped(&tally, &[(1, TITLE), (2, TITLE), (3, "blank line")]);
    assert_eq!(tally.joints[5].serial.as_deref(), Some("K435"));
}

#[test]
fn a_row_of_units_and_a_column_of_masses() {
    let tally = tally(fixture("units-row.csv").as_bytes());
    assert_same_string(&tally, &[]);
    assert_skipped(&tally, &[]);
}

#[test]
fn semicolons_and_decimal_commas() {
    let tally = tally(fixture("decimal-comma.csv").as_bytes());
    assert_same_string(&tally, PUP);
    assert_skipped(&tally, &[]);
    assert_eq!(tally.joints[3].remarks(), Some("thread, touched up"));
}

#[test]
fn tabs_with_feet_and_inches_in_two_columns() {
    let tally = tally(fixture("feet-and-inches.tsv").as_bytes());
    // The twelfth joint is called a pup in its remarks.
    assert_same_string(&tally, &[]);
    assert_skipped(&tally, &[]);
}

#[test]
fn top_first_with_net_lengths_and_running_totals() {
    let tally = tally(fixture("top-first.csv").as_bytes());
    assert_same_string(&tally, PUP);
    assert_eq!(tally.order, Order::TopFirst);
    assert_skipped(&tally, &[(15, TOTAL)]);
}

#[test]
fn millimetres_with_marks_for_thousands() {
    let tally = tally(fixture("thousands.csv").as_bytes());
    assert_same_string(&tally, &[]);
    assert_skipped(&tally, &[(15, TOTAL)]);
}

#[test]
fn feet_and_inches_as_text_in_utf_16() {
    let text = fixture("feet-inch-text.txt");
    let mut bytes = vec![0xFF, 0xFE];
    bytes.extend(text.encode_utf16().flat_map(u16::to_le_bytes));
    let tally = tally(&bytes);
    assert_eq!(tally.encoding, "UTF-16LE");
    assert_same_string(&tally, PUP);
    assert_skipped(&tally, &[(1, TITLE)]);
}

#[test]
fn quoted_fields_in_windows_1252_with_cr_lf() {
    let text = fixture("quoted.csv").replace('\n', "\r\n");
    let bytes: Vec<u8> = text
        .chars()
        .map(|c| u8::try_from(u32::from(c)).expect("a letter of Windows-1252"))
        .collect();
    let tally = tally(&bytes);
    assert_eq!(tally.encoding, "windows-1252");
    assert_same_string(&tally, PUP);
    assert_skipped(&tally, &[]);
    assert_eq!(tally.joints[4].remarks(), Some("said \"good\" by K"));
    assert_eq!(tally.joints[12].line, 15);
}

#[test]
fn pages_with_totals_carry_forwards_and_notes() {
    let tally = tally(fixture("pages.csv").as_bytes());
    assert_same_string(&tally, PUP);
    assert_skipped(
        &tally,
        &[
            (1, TITLE),
            (8, TOTAL),
            (9, FORWARD),
            (10, "blank line"),
            (11, "head of a page"),
            (12, "header again"),
            (13, FORWARD),
            (16, "blank line"),
            (17, "note: neither a joint nor a length"),
            (21, TOTAL),
            (22, FORWARD),
            (23, "blank line"),
            (24, "head of a page"),
            (25, "header again"),
            (26, FORWARD),
            (30, TOTAL),
            (31, TOTAL),
            (32, "blank row"),
            (33, "summary: an average, a count or the like"),
            (34, "note: neither a joint nor a length"),
        ],
    );
}

#[test]
fn effective_lengths_alone() {
    let tally = tally(fixture("effective-only.txt").as_bytes());
    assert_same_string(&tally, &[Code::EffectiveOnly]);
    assert_skipped(&tally, &[(1, TITLE), (2, TITLE)]);
}

#[test]
fn every_way_gives_the_same_lengths_and_losses() {
    let first = figures(&tally(fixture("titles.csv").as_bytes()));
    for name in [
        "units-row.csv",
        "decimal-comma.csv",
        "feet-and-inches.tsv",
        "top-first.csv",
        "thousands.csv",
        "feet-inch-text.txt",
        "quoted.csv",
        "pages.csv",
    ] {
        assert_eq!(figures(&tally(fixture(name).as_bytes())), first, "{name}");
    }
}

/// Every text that a tally carries out of its file.
fn texts(tally: &Tally) -> Vec<String> {
    let mut all: Vec<String> = tally.notes.iter().map(words::file_note).collect();
    for joint in &tally.joints {
        all.push(joint.number.to_string());
        all.extend(joint.serial.iter().map(ToString::to_string));
        all.extend(joint.remarks.iter().map(ToString::to_string));
    }
    all.extend(tally.columns.iter().map(|column| column.heading.clone()));
    for skipped in &tally.skipped {
        all.push(skipped.text.clone());
    }
    all.push(tally.encoding.to_string());
    all
}

#[test]
fn control_characters_of_a_file_are_shown_as_their_code_in_all_that_is_read_of_it() {
    let text = format!(
        "Yard {ACTING} list\n\
         joint,serial,length (m),remarks,bay {ACTING}\n\
         A\u{9b}31m\u{202e}1,S{ACTING}1,12.100,\"dent {ACTING}\nseen\tonce\",\n\
         A2,S2,12.200,,\n\
         note {ACTING} only\n\
         Total {ACTING},,24.300,,\n"
    );
    let tally = tally(text.as_bytes());
    let all = texts(&tally);
    for text in &all {
        assert!(!has_acting(text), "{text:?}");
    }
    assert_eq!(tally.joints[0].number, r"A\u{9b}31m\u{202e}1");
    let told = all.iter().filter(|text| text.contains(r"\u{9b}31m"));
    assert!(told.count() >= 7, "{all:#?}");
    let remarks = tally.joints[0].remarks().expect("remarks");
    assert!(remarks.ends_with("\nseen\tonce"), "{remarks}");
}

#[test]
fn control_characters_of_a_file_are_shown_as_their_code_in_messages() {
    for text in [
        format!("joint,length (m) {ACTING}\n1,twelve\n"),
        format!("joint,length (m)\n1,12{ACTING}\n"),
        format!("joint,length (m)\n1,12.1\n{ACTING} a,12.2\n"),
        format!("joint,kind,length (m)\n1,joint,12.1\n2 {ACTING} rejected,,12.1\n"),
        format!("joint,serial{ACTING}\n1,2\n"),
    ] {
        let problems = read(text.as_bytes(), &Options::default()).expect_err("a problem");
        for problem in problems {
            let said = problem.to_string();
            assert!(!has_acting(&said), "{said:?}");
            assert!(said.contains(r"\u{9b}31m"), "{said}");
        }
    }
}

/// The tallies in a page of documentation: the blocks that begin with a header of the plain form.
fn tallies_in(page: &str) -> Vec<String> {
    let blocks = page.split("```").skip(1).step_by(2);
    blocks
        .filter_map(|block| block.split_once('\n').map(|(_, text)| text))
        .filter(|text| text.starts_with("joint,"))
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_tally_of_the_samples_the_template_and_the_docs_reads_alone_without_a_question() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let mut all: Vec<(String, Vec<u8>)> = Vec::new();
    let made = tempfile::tempdir().expect("a folder");
    let template = made.path().join("job");
    kerfmark::folder::create(&template).expect("the template");
    let mut folders = vec![template.join("tallies")];
    for sample in fs::read_dir(root.join("sample-tallies")).expect("samples") {
        folders.push(sample.expect("a sample").path().join("tallies"));
    }
    for folder in folders {
        for file in fs::read_dir(folder).expect("tallies") {
            let path = file.expect("a tally").path();
            all.push((path.display().to_string(), fs::read(&path).expect("bytes")));
        }
    }
    let mut pages = vec![root.join("README.md")];
    for page in fs::read_dir(root.join("docs")).expect("docs") {
        let path = page.expect("a page").path();
        if path.is_file() {
            pages.push(path);
        }
    }
    let mut of_docs = 0;
    for page in pages {
        for text in tallies_in(&fs::read_to_string(&page).expect("a page")) {
            of_docs += 1;
            all.push((page.display().to_string(), text.into_bytes()));
        }
    }
    assert!(of_docs > 0 && all.len() >= 10, "{} tallies", all.len());
    for (name, bytes) in all {
        if let Err(problems) = read(&bytes, &Options::default()) {
            panic!("{name}: {problems:#?}");
        }
    }
}

#[test]
fn tabs_that_separate_cells_stay_in_the_text_of_lines_that_are_not_used() {
    let tally = tally(b"Yard\tlist\njoint\tlength (m)\n1\t12.1\n2\t12.2\n");
    assert_eq!(tally.skipped[0].text, "Yard\tlist");
}

#[test]
fn control_characters_that_text_files_may_hold_are_shown_as_their_code_too() {
    for letter in ["\u{c}", "\u{1a}", "\u{7f}"] {
        let text = format!("joint,serial,length (m)\n1,S{letter}1,12.1\n2,S2,12.2\n{letter}end\n");
        let tally = tally(text.as_bytes());
        let code = format!("S{}1", letter.escape_unicode());
        assert_eq!(tally.joints[0].serial.as_deref(), Some(code.as_str()));
        assert!(texts(&tally).iter().all(|text| !has_acting(text)));
    }
}
