//! `kerfmark verify JOB`

use super::args::VerifyOptions;
use super::done::Done;
use super::error::CliError;
use crate::folder::open;
use crate::report;
use crate::signing::verify;

pub(super) fn run(options: &VerifyOptions) -> Result<Done, CliError> {
    let inputs = open(&options.job)?;
    let verified = verify(&inputs);
    let text = if options.json {
        let mut json = report::verify_json(&inputs, &verified)?;
        json.push('\n');
        json
    } else {
        report::verify_text(&inputs, &verified)
    };
    let is_whole = inputs.journal.broken.is_none() && inputs.journal.torn.is_none();
    Ok(Done {
        stop: !is_whole || verified.iter().any(|it| !it.state.stands()),
        ..Done::text(text)
    })
}
