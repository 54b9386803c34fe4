//! `kerfmark new DIR`

use std::fmt::Write as _;
use std::path::Path;

use super::done::Done;
use crate::folder::create;

pub(super) fn run(folder: &Path) -> Result<Done, String> {
    let made = create(folder).map_err(|error| error.to_string())?;
    let mut text = String::new();
    for path in made {
        let _ = writeln!(text, "written: {}", path.display());
    }
    let _ = writeln!(
        text,
        "next: edit job.toml, then `kerfmark {}`",
        folder.display()
    );
    Ok(Done::text(text))
}
