//! Blunders of input, each planted in a sample that is quiet without it: refused with what was probably
//! meant, or flagged at the head of its slot. All invented.

use std::fs;
use std::path::Path;

use crate::common::copies::copy_of;
use kerfmark::figures::{self, CutStatus};
use kerfmark::finding::Severity;
use kerfmark::folder::open;
use kerfmark::report::words::head_flags;

/// What has to come of a blunder.
enum Caught {
    /// The job is refused, and the message has this in it.
    Refused(&'static str),
    /// This flag stands at the head of this slot.
    At(&'static str, &'static str),
}

use Caught::{At, Refused};

const JOB: &str = "job.toml";
const A: &str = "tallies/a.csv";

/// A blunder, the changes that make it (file, from, to), and what has to come of it.
type Blunder = (
    &'static str,
    &'static [(&'static str, &'static str, &'static str)],
    Caught,
);

const AS_CUT: &str = "as_cut = [14.2525, 14.2518, 14.2522, 14.2516]";

#[rustfmt::skip]
const BLUNDERS: &[Blunder] = &[
    ("the sign of the deck's elevation", &[(JOB, "elevation = 14.250", "elevation = -14.250")], At("cut-below-sea", "A")),
    ("the deck's depth below RT as its elevation", &[(JOB, "elevation = 14.250", "elevation = 12.850")], At("deck-disagrees", "A")),
    ("digits of the deck's elevation swapped", &[(JOB, "elevation = 14.250", "elevation = 14.520")], At("deck-disagrees", "B")),
    ("a slipped decimal in a stick-up", &[(JOB, "stick_up = 0.960", "stick_up = 9.600")], At("off-plan", "A")),
    ("digits of a stick-up swapped", &[(JOB, "stick_up = 0.960", "stick_up = 0.690")], At("off-plan", "A")),
    ("the sign of a stick-up", &[(JOB, "stick_up = 0.960", "stick_up = -0.960")], At("off-plan", "A")),
    ("a stick-up in feet, written as metres", &[(JOB, "stick_up = 0.960", "stick_up = 3.15")], At("off-plan", "A")),
    ("a stick-up at the wrong hull position", &[(JOB, "stick_up = 0.960\nstick_up_hull = \"running\"", "stick_up = 0.960\nstick_up_hull = \"cutting\"")], At("off-plan", "A")),
    ("the cut from the wrong hull position", &[(JOB, "hull = \"cutting\"\nkerf", "hull = \"running\"\nkerf")], At("deck-disagrees", "A")),
    ("digits of an RT swapped", &[(JOB, "rotary = 27.100", "rotary = 27.010")], At("rotary-disagrees", "A")),
    ("the RT of another hull position copied", &[(JOB, "rotary = 27.100", "rotary = 20.400")], At("rotary-disagrees", "B")),
    ("the sign of how far the hull was raised", &[(JOB, "raised = 6.700", "raised = -6.700")], At("rotary-disagrees", "A")),
    ("an air gap misread", &[(JOB, "air_gap = 10.150", "air_gap = 12.150")], At("rotary-disagrees", "A")),
    ("the air gap without the sea surface", &[(JOB, "water_at_reading = 1.050\n", "")], Refused("expected air_gap, water_at_reading and rotary_above_hull")),
    ("a tolerance in millimetres read as metres", &[(JOB, "tolerance = \"10 mm\"", "tolerance = 10")], Refused("write \"10 mm\" if that is meant")),
    ("a kerf in millimetres read as metres", &[(JOB, "kerf = \"6 mm\"", "kerf = 6")], Refused("write \"6 mm\" if that is meant")),
    ("an allowance in millimetres read as metres", &[(JOB, "value = \"1.5 mm\"", "value = 1.5")], Refused("write \"1.5 mm\" if that is meant")),
    ("a diameter in inches written as millimetres", &[(JOB, "od = \"30 in\"", "od = \"30 mm\"")], Refused("write \"30 in\" if that is meant")),
    ("a wall in millimetres read as metres", &[(JOB, "wall = \"1.5 in\"", "wall = 38.1")], Refused("write \"38.1 mm\" if that is meant")),
    ("the tape's scale as a ratio", &[(JOB, "tape_scale = 50", "tape_scale = 0.00005")], Refused("parts per million")),
    ("a strap uncertainty in metres", &[(JOB, "strap = \"1.5 mm\"", "strap = 1.5")], Refused("write \"1.5 mm\" if that is meant")),
    ("a reading of a top with a wrong digit", &[(JOB, AS_CUT, "as_cut = [14.2525, 14.2518, 14.2822, 14.2516]")], At("cut-outside", "C")),
    ("a top 60 mm out of level whose mean is right", &[(JOB, AS_CUT, "as_cut = [14.2815, 14.2215, 14.2515, 14.2515]")], At("out-of-level", "C")),
    ("two readings round a top", &[(JOB, AS_CUT, "as_cut = [14.2525, 14.2518]")], At("rim-readings-few", "C")),
    ("no limit for how level a top is", &[(JOB, "level = \"3 mm\"\n", "")], At("level-unstated", "C")),
    ("an uncertainty left out, which would make U smaller", &[(JOB, "benchmark = \"2 mm\"\n", "")], At("uncertainty-missing", "C")),
    ("the uncertainty of a bench mark left out", &[(JOB, "uncertainty = \"1 mm\"\n", "")], At("uncertainty-missing", "A")),
    ("a finished top of a string that is not run", &[(JOB, "name = \"D\" ", "name = \"D\"\nas_cut = [14.2525, 14.2518, 14.2522, 14.2516] # ")], At("as-cut-before-run", "D")),
    ("a finished top above the top of the string", &[(JOB, AS_CUT, "as_cut = [24.2525, 24.2518, 24.2522, 24.2516]")], At("cut-above-top", "C")),
    ("as-cut readings without any", &[(JOB, AS_CUT, "as_cut = []")], Refused("is empty")),
    ("the sign of the mudline", &[(JOB, "mudline = -41.350", "mudline = 41.350")], At("cut-below-mudline", "A")),
    ("the spider left out, though stick-ups are read from it", &[(JOB, "stick_up_from = \"0.620 m\"        # top of spider above RT\n", "")], At("surface-assumed", "A")),
    ("a bench mark on the rig, measured before it was raised", &[(JOB, "uncertainty = \"1 mm\"", "uncertainty = \"1 mm\"\nhull = \"running\"")], At("bench-moved", "A")),
    ("the shoulder's offset from the wrong plane", &[(JOB, "shoulder_offset = 1.250\nplan_shoulder = -27.100\nstick_up", "shoulder_offset = 12.500\nplan_shoulder = -27.100\nstick_up")], At("shoulder-off-joint", "A")),
    ("a running joint that is not in the tally", &[(JOB, "running_joint = \"A-07\"", "running_joint = \"A-70\"")], At("no-running-joint", "A")),
    ("a hull position raised from nothing", &[(JOB, "rotary = 20.400", "rotary = 20.400\nraised = 6.700")], Refused("first hull position")),
    ("a joint listed twice", &[(A, "A-03,", "A-02,")], At("duplicate-joint", "A")),
    ("a joint that is in another slot too", &[(A, "A-05,A4138", "A-05,B4129")], At("serial-in-two-slots", "A")),
    ("a make-up loss with a slipped digit", &[(A, "11.840,0.153", "11.840,0.513")], At("loss-outlier", "A")),
    ("a length with a slipped digit", &[(A, "12.328", "21.328")], At("length-outlier", "A")),
    ("a joint that was not run, left in the list", &[(A, "A-05,A4138,joint,11.818,0.151,", "A-05,A4138,joint,11.818,0.151,NOT RUN")], Refused("--not-run")),
    ("a joint that was rejected, by its number", &[(A, "A-05,", "A-05 REJ,")], Refused("--not-run")),
    ("spare joints under a heading of their own", &[(A, "A-11,A4179,top,12.350,0.152,", "A-11,A4179,top,12.350,0.152,\nSpare joints on deck,,,,,\nA-12,A4190,joint,12.100,0.152,")], Refused("--not-run")),
    ("a landing joint that is called so in its remarks alone", &[(A, "A-11,A4179,top,12.350,0.152,", "A-11,A4179,,12.350,0.152,landing joint")], Refused("--landing")),
    ("a length in millimetres among metres", &[(A, "12.328", "12328")], Refused("millimetres taken for metres")),
    ("a number in a column without a heading", &[(A, "remarks", ""), (A, "12.328,0.151,", "12.328,0.151,12.1")], Refused("column")),
    ("a slot copied, its tally not changed", &[(JOB, "tally = \"tallies/b.csv\"", "tally = \"tallies/a.csv\""), (JOB, "running_joint = \"B-07\"", "running_joint = \"A-07\"")], At("tally-in-two-slots", "A")),
    ("an allowance for no slot", &[(JOB, "value = \"1.5 mm\"", "value = \"1.5 mm\"\nslots = []")], Refused("names no slot")),
    ("a length without quotes round its unit", &[(JOB, "stick_up = 0.960", "stick_up = 960 mm")], Refused("is written in quotes")),
    ("a decimal comma in the job file", &[(JOB, "stick_up = 0.960", "stick_up = 0,960")], Refused("is a point")),
    ("one table where there may be several", &[(JOB, "[[bench]]", "[bench]")], Refused("[[bench]]")),
    ("a hole that is not as deep as the string", &[(JOB, "hole_bottom = -104.0\nmin_rathole = \"1.0 m\"\nshoulder_window", "hole_bottom = -94.0\nmin_rathole = \"1.0 m\"\nshoulder_window")], At("shoe-on-bottom", "A")),
    ("the sea above the cut", &[(JOB, "water_level = 1.20", "water_level = 21.20")], At("cut-below-sea", "A")),
];

/// What is said of a changed sample: the refusal, or the flags at the head of a slot.
fn said(changes: &[(&str, &str, &str)], slot: &str) -> Result<Vec<String>, String> {
    let place = copy_of("four-slots");
    for (file, from, to) in changes {
        let path = place.path().join(Path::new(file));
        let text = fs::read_to_string(&path).expect(file);
        assert!(text.contains(from), "{file} has no `{from}`");
        fs::write(&path, text.replacen(from, to, 1)).expect(file);
    }
    let inputs = open(place.path()).map_err(|error| error.to_string())?;
    let figures = figures::of_inputs(&inputs);
    let index = inputs.job.slots.iter().position(|it| it.name == slot);
    let index = index.expect("a slot of the sample");
    let standing = &figures.standings[index];
    let head = head_flags(&figures.slots[index], standing);
    // What is flagged there keeps its slot from being clear.
    assert!(head.is_empty() || standing.status != CutStatus::Clear);
    assert!(head.iter().all(|flag| flag.severity > Severity::Note));
    Ok(head
        .iter()
        .map(|flag| flag.code.name().to_owned())
        .collect())
}

#[test]
fn every_planted_blunder_is_refused_or_flagged_at_the_head_of_its_slot() {
    assert!(BLUNDERS.len() >= 40, "{}", BLUNDERS.len());
    let mut missed = Vec::new();
    for (blunder, changes, caught) in BLUNDERS {
        let (slot, wanted) = match caught {
            Refused(_) => ("A", None),
            At(code, slot) => (*slot, Some(*code)),
        };
        let said = said(changes, slot);
        let is_caught = match (&said, wanted, caught) {
            (Ok(codes), Some(code), _) => codes.iter().any(|it| it == code),
            (Err(message), None, Refused(part)) => message.contains(part),
            _ => false,
        };
        println!("{blunder}: {said:?}");
        if !is_caught {
            missed.push(format!("{blunder}: {said:?}"));
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

#[test]
fn without_a_blunder_the_slot_is_quiet() {
    for slot in ["A", "C"] {
        assert_eq!(said(&[], slot), Ok(Vec::new()), "{slot}");
    }
}
