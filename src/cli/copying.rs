//! What a command writes goes to the second folder too, where the settings of the machine name one.

use std::path::Path;

use crate::folder::{Copier, Settings};
use crate::report::words;

/// The copy of a job in the second folder. What was confirmed is in the job's own folder whatever becomes of it.
pub(super) struct Copying(Result<Option<Copier>, String>);

impl Copying {
    /// Starts to copy, where a second folder is named.
    pub(super) fn start(job: &Path) -> Self {
        let settings = Settings::read().map_err(|error| error.to_string());
        Self(settings.and_then(|settings| {
            let copier = settings
                .copy_to
                .map(|copies| Copier::start(job, &copies, || {}));
            copier.transpose().map_err(|error| error.to_string())
        }))
    }

    /// Copies what was just written; nothing waits for it.
    pub(super) fn ask(&self) {
        if let Ok(Some(copier)) = &self.0 {
            copier.ask();
        }
    }

    /// Waits for the copy, and gives a remark where it is behind.
    pub(super) fn end(self) -> Option<String> {
        let why = match self.0 {
            Ok(copier) => copier?.finish(),
            Err(why) => Some(why),
        };
        why.map(|why| words::copy_behind(&why))
    }
}
