//! Single files: their bytes, within a bound, and the tally that they hold.

use std::path::Path;
use std::{fs, io};

use crate::tally::import::{MAX_FILE, MIB, Problem, read};
use crate::tally::{Options, ReadError, Tally};

/// Reads a tally from a file.
pub fn read_tally(path: &Path, options: &Options) -> Result<Tally, ReadError> {
    let fail = |problem| ReadError::new(path, vec![problem]);
    let bytes = read_bytes(path).map_err(fail)?;
    read(&bytes, options).map_err(|problems| ReadError::new(path, problems))
}

/// Most bytes of a file that a person writes by hand: a job file, keys, a statement. One of a hundred slots with a
/// remark to every key has a tenth of it, and parsing takes a hundred bytes for each.
pub(super) const BY_HAND: u64 = MIB;

/// Most bytes of a list of readings or of decisions: a hundred thousand rows.
pub const ROWS: u64 = 8 * MIB;

/// Most bytes of events to enter at once: a hundred thousand entries.
pub const ENTRIES: u64 = 32 * MIB;

/// The bytes of a file of at most [`MAX_FILE`].
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, Problem> {
    read_within(path, MAX_FILE)
}

/// The bytes of a file of at most so many.
pub fn read_within(path: &Path, most: u64) -> Result<Vec<u8>, Problem> {
    let cannot = |error: io::Error| Problem::Unreadable {
        reason: error.to_string(),
    };
    let about = fs::metadata(path).map_err(cannot)?;
    if about.is_dir() {
        return Err(Problem::IsFolder);
    }
    if !about.is_file() {
        return Err(Problem::NotAFile);
    }
    let bytes = about.len();
    if bytes > most {
        return Err(Problem::TooLarge { bytes, most });
    }
    fs::read(path).map_err(cannot)
}
