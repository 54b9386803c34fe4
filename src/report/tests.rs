#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

use std::fs;
use std::path::Path;

use super::{CAUTION, NO_CORRECTION, cut_sheet, figures_json, figures_text, words};
use crate::figures::{SlotView, compute};
use crate::folder::{create, open};
use crate::journal::Inputs;

/// The template's job with some of its text replaced, and more written under it.
fn opened(place: &Path, changes: &[(&str, &str)], more: &str) -> Inputs {
    let root = place.join("job");
    create(&root).expect("a job folder");
    let file = root.join("job.toml");
    let mut text = fs::read_to_string(&file).expect("the job file");
    for (from, to) in changes {
        assert!(text.contains(from), "the template has {from}");
        text = text.replace(from, to);
    }
    text.push_str(more);
    fs::write(&file, text).expect("written");
    open(&root).expect("a valid job")
}

fn sheet(changes: &[(&str, &str)], more: &str) -> String {
    let place = tempfile::tempdir().expect("a folder");
    let inputs = opened(place.path(), changes, more);
    let figures = compute(&inputs.job, &inputs.tallies);
    cut_sheet(&inputs, &figures).concat()
}

/// Once landed: the stick-up replaces the plan.
const LANDED: [(&str, &str); 2] = [
    ("# stick_up = 0.986  ", "stick_up = 0.986 "),
    ("plan_shoulder = -27.100 ", "# plan_shoulder "),
];

#[test]
fn the_sheet_of_a_planned_slot() {
    let sheet = sheet(&[], "");
    // The digest changes with every word of the template; what it is has its own test.
    let (body, foot) = sheet.trim_end().rsplit_once('\n').expect("a last line");
    assert!(foot.starts_with("kerfmark ") && foot.contains(", inputs "));
    insta::assert_snapshot!(body);
}

#[test]
fn a_landed_slot_says_that_it_is_not_cut_yet_and_a_measured_one_that_it_is() {
    assert!(sheet(&LANDED, "").contains("SLOT A   CHECK BEFORE CUTTING\n"));
    let mut cut = LANDED.to_vec();
    cut.push(("# as_cut", "as_cut"));
    let sheet = sheet(&cut, "");
    assert!(sheet.contains("SLOT A   ALREADY CUT - DO NOT CUT AGAIN\n"));
    assert!(sheet.contains("NO MARKS            it is cut"), "{sheet}");
}

#[test]
fn a_string_found_too_short_after_the_cut_is_still_called_cut() {
    let changes = [
        ("# stick_up = 0.986  ", "stick_up = -40.000 "),
        LANDED[1],
        ("# as_cut", "as_cut"),
    ];
    let sheet = sheet(&changes, "");
    assert!(
        sheet.contains("SLOT A   ALREADY CUT - DO NOT CUT AGAIN\n"),
        "{sheet}"
    );
    assert!(sheet.contains("mean of 4 readings"), "{sheet}");
    assert!(sheet.contains("NO MARKS            it is cut"), "{sheet}");
}

#[test]
fn each_allowance_stands_by_itself_even_where_they_cancel() {
    let more = "\n[[allowance]]\nwhy = \"settlement\"\nvalue = \"2 mm\"\n\
                [[allowance]]\nwhy = \"shortening\"\nvalue = \"-2 mm\"\n";
    let sheet = sheet(&[], more);
    for line in [
        "  with allowance    +2.0 mm (higher) settlement\n",
        "  with allowance    -2.0 mm (LOWER) shortening\n",
        "  together          +0.0 mm\n",
    ] {
        assert!(sheet.contains(line), "{line} in\n{sheet}");
    }
}

#[test]
fn the_target_stands_in_metres_and_in_feet_and_inches_whatever_the_job_is_in() {
    for (units, line) in [
        ("m", "14.250 m (46' 9\") above LAT"),
        ("ft-in", "46' 9\" (14.250 m) above LAT"),
        ("ft", "46.752 ft (14.250 m, 46' 9\") above LAT"),
    ] {
        let place = tempfile::tempdir().expect("a folder");
        let inputs = opened(place.path(), &[], "");
        let figures = compute(&inputs.job, &inputs.tallies);
        let mut shown = inputs;
        shown.job.units = units.parse().expect("a unit");
        let sheet = cut_sheet(&shown, &figures).concat();
        assert!(sheet.contains(line), "{line} in\n{sheet}");
    }
}

#[test]
fn what_is_not_stated_is_not_shown_as_known() {
    let changes = LANDED;
    let place = tempfile::tempdir().expect("a folder");
    let inputs = opened(place.path(), &changes, "");
    let figures = compute(&inputs.job, &inputs.tallies);
    let sheet = cut_sheet(&inputs, &figures).concat();
    assert!(
        sheet.contains("U not stated") && !sheet.contains("U 0"),
        "{sheet}"
    );
    let json = figures_json(&inputs, &figures).expect("JSON");
    let tree: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let marks = tree["slots"][0]["cut"]["marks"].as_array().expect("marks");
    assert!(!marks.is_empty() && marks.iter().all(|mark| mark["uncertainty_m"].is_null()));
}

#[test]
fn the_figures_as_text_carry_the_cautions_and_their_marks_in_the_order_of_the_sheet() {
    let place = tempfile::tempdir().expect("a folder");
    let inputs = opened(place.path(), &LANDED, "");
    let figures = compute(&inputs.job, &inputs.tallies);
    let (text, sheet) = (
        figures_text(&inputs, &figures, false),
        cut_sheet(&inputs, &figures).concat(),
    );
    assert!(
        text.contains(NO_CORRECTION) && text.contains(CAUTION),
        "{text}"
    );
    // Lines of the sheet are broken at 78 characters, those of the text are not.
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (text, sheet) = (words(&text), words(&sheet));
    let place = figures.slots[0].cut.place.as_ref().expect("a cut to mark");
    let view = SlotView::all(&inputs.job, &inputs.tallies).next();
    let view = view.expect("a slot");
    let ways = place
        .nearest_first()
        .into_iter()
        .map(|mark| words::direction(view, &figures.slots[0], mark));
    let ways: Vec<String> = ways.collect();
    assert!(ways.len() >= 3, "{ways:?}");
    for output in [text, sheet] {
        let places = ways.iter().map(|way| output.find(way.as_str()));
        let places: Vec<Option<usize>> = places.collect();
        assert!(places.iter().all(Option::is_some), "{ways:?}\n{output}");
        assert!(places.is_sorted(), "{places:?} of {ways:?}\n{output}");
    }
}
