//! `kerfmark figures JOB`

use super::args::FiguresOptions;
use super::done::Done;
use super::open::compute;
use crate::report;

pub(super) fn run(options: &FiguresOptions) -> Result<Done, String> {
    let (inputs, figures, done) = compute(&options.job)?;
    let text = if options.json {
        let mut json =
            report::figures_json(&inputs, &figures).map_err(|error| error.to_string())?;
        json.push('\n');
        json
    } else {
        report::figures_text(&inputs, &figures, options.how)
    };
    Ok(Done { text, ..done })
}
