//! `kerfmark enter JOB [FILE]`

use std::io::{self, BufRead, BufReader, Read, Write};

use super::args::EnterOptions;
use super::copying::Copying;
use super::done::Done;
use super::error::CliError;
use crate::folder::{Book, ENTRIES, EnterError, now, read_within};
use crate::journal::{EventProblem, MAX_LINE, Wrong};

/// Enters one event a line. Each is confirmed on standard output, flushed, once it is on the disk; the
/// first that cannot be ends it, and those before it stay.
pub(super) fn run(options: &EnterOptions) -> Result<Done, CliError> {
    let book = Book::open(&options.job)?;
    let copying = Copying::start(&options.job);
    let entered = enter_events(options, book, &copying);
    let remark = copying.end();
    entered?;
    Ok(Done {
        remarks: remark.into_iter().collect(),
        ..Done::text(String::new())
    })
}

fn enter_events(options: &EnterOptions, mut book: Book, copying: &Copying) -> Result<(), CliError> {
    let by = options.by.as_deref();
    let Some(file) = &options.file else {
        let lines = BufReader::new(io::stdin().lock());
        return enter_all(&mut book, ("standard input", by), lines, copying);
    };
    let bytes = read_within(file, ENTRIES).map_err(|problem| CliError::EventsFile {
        file: file.clone(),
        problem: Box::new(problem),
    })?;
    let name = file.display().to_string();
    let lines = BufReader::new(bytes.as_slice());
    enter_all(&mut book, (&name, by), lines, copying)
}

fn enter_all(
    book: &mut Book,
    (name, by): (&str, Option<&str>),
    mut lines: impl BufRead,
    copying: &Copying,
) -> Result<(), CliError> {
    let mut out = io::stdout().lock();
    let mut number = 0_usize;
    loop {
        number += 1;
        let mut bytes = Vec::new();
        let most = u64::try_from(MAX_LINE).unwrap_or(u64::MAX) + 2;
        let read = (&mut lines).take(most).read_until(b'\n', &mut bytes)?;
        if read == 0 {
            return Ok(());
        }
        let refused = |error: EnterError| CliError::Refused {
            file: name.to_owned(),
            line: number,
            error: Box::new(error),
        };
        let line = trimmed(&bytes, number);
        let wrong = |what| EnterError::Event(vec![EventProblem { column: 1, what }]);
        if line.len() > MAX_LINE {
            return Err(refused(wrong(Wrong::TooLong(line.len()))));
        }
        let text = std::str::from_utf8(line).map_err(|_| refused(wrong(Wrong::NotUtf8)))?;
        if text.trim().is_empty() {
            continue;
        }
        let entry = book.enter_text(text, by, now).map_err(refused)?;
        writeln!(out, "{{\"seq\":{},\"hash\":\"{}\"}}", entry.seq, entry.hash)
            .and_then(|()| out.flush())
            .map_err(CliError::Output)?;
        copying.ask();
    }
}

/// A line without its end, and the first without a byte-order mark.
fn trimmed(bytes: &[u8], number: usize) -> &[u8] {
    let line = bytes.strip_suffix(b"\n").unwrap_or(bytes);
    let line = line.strip_suffix(b"\r").unwrap_or(line);
    match line.strip_prefix(b"\xef\xbb\xbf") {
        Some(rest) if number == 1 => rest,
        _ => line,
    }
}
