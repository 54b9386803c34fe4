//! `kerfmark new DIR`

use std::path::Path;

use super::Done;
use crate::job::create;

pub(super) fn run(folder: &Path) -> Result<Done, String> {
    let made = create(folder).map_err(|error| error.to_string())?;
    let mut text = String::new();
    for path in made {
        text.push_str(&format!("written: {}\n", path.display()));
    }
    text.push_str(&format!("next: edit job.toml, then `kerfmark {}`\n", folder.display()));
    Ok(Done::text(text))
}
