//! `kerfmark figures JOB`

use super::args::FiguresOptions;
use super::done::Done;
use super::error::CliError;
use super::open::compute;
use crate::report;

pub(super) fn run(options: &FiguresOptions) -> Result<Done, CliError> {
    let (inputs, figures, done) = compute(&options.job)?;
    let text = if options.json {
        let mut json = report::figures_json(&inputs, &figures)?;
        json.push('\n');
        json
    } else {
        report::figures_text(&inputs, &figures, options.how)
    };
    Ok(Done {
        pages: vec![text],
        ..done
    })
}
