//! What the screens write.

use std::path::Path;

use crate::folder::store;
use crate::job::name_of;
use crate::reconcile::write_decision;
use crate::screens::update::Effect;

/// How many names are tried for a new file.
const NAMES: usize = 1000;

/// Writes what is to be written, and says so only once it is on the disk; `None` for what writes
/// nothing.
pub(super) fn carry_out(root: &Path, effect: Effect) -> Option<String> {
    match effect {
        Effect::Quit | Effect::Reload => None,
        Effect::Decide { file, decision, .. } => {
            let written = store::append(root, &file, |is_new| write_decision(&decision, is_new));
            Some(match written {
                Ok(torn) => {
                    let moved = torn.map_or_else(String::new, |torn| {
                        format!(
                            "; the line before it was cut off and is in {}",
                            torn.display()
                        )
                    });
                    format!(
                        "decided and written to {}: the {} of joint {}{moved}",
                        file.display(),
                        decision.topic.name(),
                        decision.joint
                    )
                }
                Err(error) => format!("NOT DECIDED: {} cannot be written: {error}", file.display()),
            })
        }
        Effect::Write {
            folder,
            stem,
            text,
            open,
            ..
        } => {
            let mut names = (1..NAMES).map(|count| match count {
                1 => folder.join(format!("{stem}.csv")),
                count => folder.join(format!("{stem}-{count}.csv")),
            });
            let Some(file) = names.find(|file| root.join(file).symlink_metadata().is_err()) else {
                return Some(format!(
                    "NOT WRITTEN: there are {NAMES} files of the name {stem} already"
                ));
            };
            Some(match store::write_new(root, &file, text.as_bytes()) {
                Ok(()) => format!(
                    "written: {}, {open} not decided. To use it: tally = \"{}\" in job.toml",
                    file.display(),
                    name_of(&file)
                ),
                Err(error) => format!("NOT WRITTEN: {}: {error}", file.display()),
            })
        }
    }
}
