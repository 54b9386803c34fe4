//! What holds of every tally that the reader gives, whatever the bytes.

use kerfmark::measure::{DecimalMark, Length, MAX_JOINT, Unit};
use kerfmark::report;
use kerfmark::tally::import::{Blocks, LengthColumn, MAX_JOINTS, NotRun, ReadError, read};
use kerfmark::tally::{Options, Order, Pins, PipeString, Tally, review};

/// The answers to the reader's questions that are tried: none, and two sets that settle most of them.
pub fn answers() -> [Options; 3] {
    [
        Options::default(),
        Options {
            units: Some(Unit::Metre),
            order: Some(Order::ShoeFirst),
            decimal: Some(DecimalMark::Point),
            length: Some(LengthColumn::Overall),
            not_run: Some(NotRun::LeaveOut),
            landing: Some(Vec::new()),
            blocks: Some(Blocks::Across),
            ..Options::default()
        },
        Options {
            units: Some(Unit::FootInch),
            order: Some(Order::TopFirst),
            decimal: Some(DecimalMark::Comma),
            length: Some(LengthColumn::Effective),
            not_run: Some(NotRun::Count),
            landing: Some(Vec::new()),
            blocks: Some(Blocks::First),
            ..Options::default()
        },
    ]
}

/// Reads the bytes with each set of answers.
pub fn read_all(bytes: &[u8]) {
    for options in answers() {
        match read(bytes, &options) {
            Ok(tally) => holds(&tally),
            Err(problems) => {
                assert!(!problems.is_empty(), "refused without a reason");
                let said = ReadError::new("fuzz".as_ref(), problems).to_string();
                assert!(!said.trim().is_empty());
            }
        }
    }
}

fn holds(tally: &Tally) {
    assert!(!tally.joints.is_empty() && tally.joints.len() <= MAX_JOINTS);
    for joint in &tally.joints {
        let lengths = [joint.overall(), joint.effective()];
        for length in lengths.into_iter().flatten() {
            assert!(length <= MAX_JOINT && length > -MAX_JOINT, "{joint:?}");
        }
        if let Some(overall) = joint.overall() {
            assert!(overall > Length::ZERO, "{joint:?}");
        }
    }
    for up in [false, true] {
        let pins = Pins {
            up,
            nominal_loss: Some(Length::from_mm(152)),
        };
        let string = PipeString::make_up(tally, pins);
        let flags = review(tally, &string, pins);
        let json = report::tally_json("fuzz", tally, &string, &flags, false).expect("JSON");
        assert!(json.starts_with('{'));
        let text = report::tally_text("fuzz", tally, &string, &flags, false);
        assert!(!text.is_empty());
    }
}
