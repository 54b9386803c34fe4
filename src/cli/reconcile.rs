//! `kerfmark reconcile A B`

use super::Done;
use super::args::{PinWord, ReconcileOptions};
use crate::reconcile::bridge;
use crate::report;
use crate::tally::{Pins, ReadError, read::read_file};

pub(super) fn run(options: &ReconcileOptions) -> Result<Done, String> {
    // Both are read before anything is said, so that the problems of both are told at once.
    let read = [
        read_file(&options.a, &options.reading.reader_options()),
        read_file(&options.b, &options.reading_of_b().reader_options()),
    ];
    let problems: Vec<String> = read
        .iter()
        .filter_map(|read| read.as_ref().err().map(ReadError::to_string))
        .collect();
    let [Ok(a), Ok(b)] = read else {
        return Err(problems.join("\n"));
    };
    let pins = Pins {
        up: options.reading.pin == PinWord::Up,
        nominal_loss: None,
    };
    let bridge = bridge(&a, &b, pins);
    let names = [&options.a, &options.b].map(|path| path.display().to_string());
    let files = [names[0].as_str(), names[1].as_str()];
    let text = if options.json {
        let json = report::bridge_json(files, &a, &bridge).map_err(|error| error.to_string())?;
        json + "\n"
    } else {
        report::bridge_text(files, &a, &bridge)
    };
    Ok(Done::text(text))
}
