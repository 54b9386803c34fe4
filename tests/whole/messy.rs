//! One tally of thirteen invented joints, written in ten of the ways that people write tallies: all
//! make the same string, to the nanometre, and every line that is no joint is listed.

use std::fs;
use std::path::PathBuf;

use kerfmark::finding::Code;
use kerfmark::measure::Length;
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
    let skipped: Vec<(u32, &str)> = tally
        .skipped
        .iter()
        .map(|skipped| (skipped.line, skipped.why.as_str()))
        .collect();
    assert_eq!(skipped, expected);
}

/// What every way of writing must agree on.
fn figures(tally: &Tally) -> Vec<(Option<Length>, Length)> {
    let of = |joint: &Joint| (joint.overall, joint.makeup_loss.unwrap_or_default());
    tally.joints.iter().map(of).collect()
}

/// Where a list has no kinds, nothing says that the twelfth joint is a pup.
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
    assert_eq!(
        tally.joints[3].remarks.as_deref(),
        Some("thread, touched up")
    );
}

#[test]
fn tabs_with_feet_and_inches_in_two_columns() {
    let tally = tally(fixture("feet-and-inches.tsv").as_bytes());
    assert_same_string(&tally, PUP);
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
    assert_eq!(
        tally.joints[4].remarks.as_deref(),
        Some("said \"good\" by K")
    );
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
    assert_same_string(&tally, &[Code::EffectiveOnly, Code::LengthOutlier]);
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
