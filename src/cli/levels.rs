//! `kerfmark levels JOB` and `kerfmark levels READINGS.csv --fix NAME=ELEVATION`

use std::path::Path;

use super::args::LevelsOptions;
use super::done::Done;
use super::error::CliError;
use crate::figures::{Levels, ReadNetwork, levels_of};
use crate::folder::{open, read_readings_file};
use crate::measure::{Elevation, LengthFormat, ParseOptions, Unit, read_length};
use crate::report::{self, words};

pub(super) fn run(options: &LevelsOptions) -> Result<Done, CliError> {
    let mut left_out = Vec::new();
    let (levels, unit) = if is_job(&options.path) {
        if !options.fix.is_empty() {
            return Err(CliError::FixOfJob);
        }
        let inputs = open(&options.path)?;
        let (levels, untied) = levels_of(&inputs)?;
        left_out.extend(untied.iter().map(words::untied_entry));
        (levels, inputs.job.units)
    } else {
        let file = read_readings_file(&options.path, Unit::Metre)?;
        let fixed: Result<Vec<_>, CliError> = options.fix.iter().map(|it| fixed(it)).collect();
        let levels = Levels::of(ReadNetwork::of_file(&file, &fixed?))?;
        (levels, Unit::Metre)
    };
    let show = LengthFormat::new(unit);
    let text = if options.json {
        report::levels_json(&levels, show)? + "\n"
    } else {
        report::levels_text(&levels, show)
    };
    Ok(Done {
        remarks: left_out,
        ..Done::text(text)
    })
}

/// A folder, or its job file.
fn is_job(path: &Path) -> bool {
    path.is_dir() || path.file_name().is_some_and(|name| name == "job.toml")
}

/// `NAME=ELEVATION`: bare numbers are metres.
fn fixed(text: &str) -> Result<(String, Elevation), CliError> {
    let fail = |why: Option<_>| CliError::Fix {
        text: text.to_owned(),
        why,
    };
    // A name may hold the sign, an elevation never does.
    let (name, elevation) = text.rsplit_once('=').ok_or_else(|| fail(None))?;
    if name.trim().is_empty() {
        return Err(fail(None));
    }
    let rules = ParseOptions {
        bare: Some(Unit::Metre),
        ..ParseOptions::default()
    };
    let read = read_length(elevation.trim(), &rules).map_err(|error| fail(Some(error)))?;
    Ok((name.trim().to_owned(), Elevation::above_datum(read.length)))
}
