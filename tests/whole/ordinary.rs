//! Ordinary tallies and jobs, without a mistake, as people of many habits write them: all are read without a
//! question and to the figures that an independent calculation gave, and none raises a flag above note. All
//! are invented; `fixtures/ordinary/README.txt` says what habit each shows.

use std::fs;
use std::path::{Path, PathBuf};

use kerfmark::figures::{self, Figures};
use kerfmark::finding::{Flag, Severity};
use kerfmark::folder::{open, read_tally};
use kerfmark::measure::Elevation;
use kerfmark::tally::{Options, Pins, PipeString, review};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/ordinary")
}

/// The flags above note, as text.
fn alarms<'a>(flags: impl IntoIterator<Item = &'a Flag>) -> Vec<String> {
    flags
        .into_iter()
        .filter(|flag| flag.severity > Severity::Note)
        .map(|flag| format!("{}: {:?}", flag.code, flag.finding))
        .collect()
}

#[test]
fn sixty_ordinary_tallies_are_read_without_a_question_and_without_an_alarm() {
    let folder = fixtures().join("tallies");
    let expected = fs::read_to_string(folder.join("expected.csv")).expect("what is expected");
    let mut wrong = Vec::new();
    let mut count = 0;
    let mut rows = csv::Reader::from_reader(expected.as_bytes());
    for row in rows.records() {
        let row = row.expect("a row");
        let (file, joints, length) = (&row[0], &row[1], &row[2]);
        count += 1;
        let tally = match read_tally(&folder.join(file), &Options::default()) {
            Ok(tally) => tally,
            Err(error) => {
                wrong.push(error.to_string());
                continue;
            }
        };
        let pins = Pins::default();
        let string = PipeString::make_up(&tally, pins);
        let flags = review(&tally, &string, pins);
        let raised = alarms(&flags);
        if !raised.is_empty() {
            wrong.push(format!("{file}: {raised:?}"));
        }
        let found = (
            string.pieces.len().to_string(),
            string.length.exact_metres(),
        );
        if found != (joints.to_owned(), length.to_owned()) {
            wrong.push(format!("{file}: {found:?}, expected {joints} and {length}"));
        }
    }
    assert_eq!(count, 60);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// What differs from what is expected of one slot.
fn of_slot(figures: &Figures, index: usize, expected: &serde_json::Value) -> Vec<String> {
    let slot = &figures.slots[index];
    let height = |at: Option<Elevation>| at.map(|at| at.height().exact_metres());
    let texts = [
        ("basis", Some(slot.chain.basis.word().to_owned())),
        (
            "string_length_m",
            Some(slot.chain.string.length.exact_metres()),
        ),
        ("top_elevation_m", height(slot.chain.top)),
        ("shoe_elevation_m", height(slot.chain.shoe)),
        ("target_m", height(Some(slot.cut.target))),
        (
            "status",
            Some(figures.standings[index].status.word().to_owned()),
        ),
    ];
    texts
        .into_iter()
        .filter(|(key, found)| expected[*key].as_str() != found.as_deref())
        .map(|(key, found)| format!("{key}: {found:?}, expected {}", expected[key]))
        .collect()
}

#[test]
fn sixty_ordinary_jobs_raise_no_alarm() {
    let folder = fixtures().join("jobs");
    let expected = fs::read_to_string(folder.join("expected.json")).expect("what is expected");
    let expected: serde_json::Value = serde_json::from_str(&expected).expect("JSON");
    let expected = expected.as_object().expect("a table");
    assert_eq!(expected.len(), 60);
    let mut wrong = Vec::new();
    for (job, slots) in expected {
        let inputs = match open(&folder.join(job)) {
            Ok(inputs) => inputs,
            Err(error) => {
                wrong.push(error.to_string());
                continue;
            }
        };
        let figures = figures::of_inputs(&inputs);
        let flags = figures.slots.iter().flat_map(|slot| &slot.flags);
        let raised = alarms(flags.chain(&figures.flags));
        if !raised.is_empty() {
            wrong.push(format!("{job}: {raised:?}"));
        }
        for (index, slot) in inputs.job.slots.iter().enumerate() {
            let off = of_slot(&figures, index, &slots[&slot.name]);
            if !off.is_empty() {
                wrong.push(format!("{job}, {}: {off:?}", slot.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
