//! Single files: their bytes, within a bound, and the tally that they hold.

use std::path::Path;
use std::{fs, io};

use crate::tally::import::{MAX_FILE, Problem, read};
use crate::tally::{Options, ReadError, Tally};

/// Reads a tally from a file.
pub fn read_tally(path: &Path, options: &Options) -> Result<Tally, ReadError> {
    let fail = |problem| ReadError::new(path, vec![problem]);
    let bytes = read_bytes(path).map_err(fail)?;
    read(&bytes, options).map_err(|problems| ReadError::new(path, problems))
}

/// The bytes of a file of at most [`MAX_FILE`].
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, Problem> {
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
    if about.len() > MAX_FILE {
        return Err(Problem::TooLarge { bytes: about.len() });
    }
    fs::read(path).map_err(cannot)
}
