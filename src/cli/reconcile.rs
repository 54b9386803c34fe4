//! `kerfmark reconcile A B`

use std::path::Path;

use super::args::ReconcileOptions;
use super::done::Done;
use super::error::CliError;
use super::option_words::PinWord;
use crate::folder::store;
use crate::folder::{Progress, ROWS, read_bytes, read_within};
use crate::journal::sha256;
use crate::measure::{LengthFormat, Unit};
use crate::reconcile::{
    Bridge, Decision, Stands, bridge, differences, read_decisions, record, unmatched_decisions,
};
use crate::report::{self, Provenance, words};
use crate::tally::import::read;
use crate::tally::{Options, Pins, ReadError, Tally};

pub(super) fn run(options: &ReconcileOptions) -> Result<Done, CliError> {
    // Both are read before anything is said, so that the problems of both are told at once.
    let files = [
        (&options.a, options.reading.reader_options()),
        (&options.b, options.reading_of_b().reader_options()),
    ];
    let progress = Progress::start();
    let outcomes = files.map(|(path, options)| {
        progress.say(words::reading_file(path));
        read_list(path, &options)
    });
    drop(progress);
    let ((a, sha_a), (b, sha_b)) = match outcomes {
        [Ok(a), Ok(b)] => (a, b),
        outcomes => {
            let errors = outcomes.into_iter().filter_map(Result::err);
            return Err(CliError::Tallies(errors.collect()));
        }
    };
    let pins = Pins {
        up: options.reading.pin == PinWord::Up,
        nominal_loss: None,
    };
    let bridge = bridge(&a, &b, pins);
    let names = [&options.a, &options.b].map(|path| path.display().to_string());
    if options.to_decide {
        return Ok(Done::text(report::to_decide(
            &differences(&a, &b, &bridge),
            LengthFormat::new(a.unit),
        )));
    }
    let decisions = match &options.decisions {
        Some(path) => decisions(path, &a, &b, &bridge)?,
        None => Vec::new(),
    };
    let mut remarks = Vec::new();
    if let Some(out) = &options.out {
        let provenance = Provenance {
            names: names.clone(),
            called: names.clone(),
            sha256: [sha_a, sha_b],
        };
        let record = record((&a, &b), &bridge, &decisions, pins);
        let bytes = match out.extension().and_then(|it| it.to_str()) {
            Some("csv") => report::record_csv(&record, &provenance, a.unit, pins).into_bytes(),
            Some("xlsx") => report::workbook(
                &record,
                &bridge,
                &provenance,
                pins,
                LengthFormat::new(a.unit),
            )
            .map_err(|error| CliError::Workbook {
                file: out.clone(),
                error: error.into(),
            })?,
            _ => return Err(CliError::OutEnding(out.clone())),
        };
        store::write_named(out, &bytes).map_err(|error| CliError::NotWritten {
            file: out.clone(),
            error,
        })?;
        remarks.push(words::record_written(out, record.rows.len(), record.open));
    }
    let names = names.each_ref().map(String::as_str);
    let text = if options.json {
        let json = report::bridge_json(names, &a, &bridge)?;
        json + "\n"
    } else {
        report::bridge_text(names, &a, &bridge)
    };
    Ok(Done {
        remarks,
        ..Done::text(text)
    })
}

/// A list, and the digest of the very bytes that it was read from.
fn read_list(path: &Path, options: &Options) -> Result<(Tally, String), ReadError> {
    let fail = |problems| ReadError::new(path, problems);
    let bytes = read_bytes(path).map_err(|problem| fail(vec![problem]))?;
    let tally = read(&bytes, options).map_err(fail)?;
    Ok((tally, sha256(&bytes)))
}

fn decisions(
    path: &Path,
    a: &Tally,
    b: &Tally,
    bridge: &Bridge,
) -> Result<Vec<Decision>, CliError> {
    let file = || path.to_owned();
    let bytes = read_within(path, ROWS).map_err(|problem| CliError::DecisionsFile {
        file: file(),
        problem: Box::new(problem),
    })?;
    let text = String::from_utf8(bytes).map_err(|_| CliError::DecisionsNotUtf8(file()))?;
    // Feet and inches have no bare form for a loss, so that bare numbers are decimal feet there.
    let unit = match a.unit {
        Unit::FootInch => Unit::Foot,
        unit => unit,
    };
    let decisions = read_decisions(&text, unit).map_err(|problems| CliError::Decisions {
        file: file(),
        problems,
    })?;
    let differences = differences(a, b, bridge);
    let strange = unmatched_decisions(&differences, &decisions).cloned();
    let strange: Vec<Decision> = strange.collect();
    if !strange.is_empty() {
        return Err(CliError::NoDifference {
            file: file(),
            decisions: strange,
        });
    }
    // Of two rows on one difference the later stands, as in the file that the screens add to; what is
    // measured in a row that no longer stands is not looked at.
    for decision in &decisions {
        let difference = differences
            .iter()
            .find(|it| it.decided(&decisions) == Some(decision));
        let joint = difference.and_then(|it| match (it.a, it.b) {
            (Some(at), _) => a.joints.get(at),
            (None, at) => b.joints.get(at?),
        });
        if let (Stands::Measured(length), Some(difference), Some(joint)) =
            (decision.stands, difference, joint)
            && let Some(refusal) = difference.refuses(joint, length)
        {
            return Err(CliError::DecisionRefused {
                file: file(),
                decision: Box::new(decision.clone()),
                refusal,
                show: LengthFormat::new(a.unit),
            });
        }
    }
    Ok(decisions)
}
