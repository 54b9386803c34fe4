//! `kerfmark new DIR`

use std::fmt::Write as _;
use std::path::Path;

use super::done::Done;
use super::error::CliError;
use crate::folder::create;
use crate::report::words;

pub(super) fn run(folder: &Path) -> Result<Done, CliError> {
    let made = create(folder)?;
    let mut text = String::new();
    for path in made {
        let _ = writeln!(text, "written: {}", path.display());
    }
    let _ = writeln!(text, "{}", words::after_new(folder));
    Ok(Done::text(text))
}
