//! `kerfmark tally FILE`

use std::mem::ManuallyDrop;

use super::args::TallyOptions;
use super::done::Done;
use super::error::CliError;
use super::option_words::PinWord;
use crate::finding::{self, Severity};
use crate::folder::{Progress, read_tally};
use crate::report::{self, words};
use crate::tally::{Pins, PipeString, review};

pub(super) fn run(options: &TallyOptions) -> Result<Done, CliError> {
    let progress = Progress::start();
    progress.say(words::reading_file(&options.file));
    let tally = read_tally(&options.file, &options.reading.reader_options())?;
    // Not given back joint by joint, but all at once where the program ends, which is soon.
    let tally = ManuallyDrop::new(tally);
    drop(progress);
    let pins = Pins {
        up: options.reading.pin == PinWord::Up,
        nominal_loss: None,
    };
    let string = PipeString::make_up(&tally, pins);
    let mut flags = review(&tally, &string, pins);
    finding::sort(&mut flags);
    let file = options.file.display().to_string();
    let text = if options.json {
        let mut json = report::tally_json(&file, &tally, &string, &flags, options.summary)?;
        json.push('\n');
        json
    } else {
        report::tally_text(&file, &tally, &string, &flags, options.summary)
    };
    Ok(Done {
        stop: finding::worst(&flags) == Some(Severity::Stop),
        ..Done::text(text)
    })
}
