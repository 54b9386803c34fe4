//! What shows on the disk that a file changed since it was read.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// A file that changed so shortly before it was read may change again without a change of its time.
pub(super) const YOUNG: Duration = Duration::from_secs(2);

/// What shows that a file changed: its time and size, and where the system has them its number and the
/// time of its last change of any kind. Nothing where there is no such file.
type Stamp = Option<(Option<SystemTime>, u64, (u64, i64, i64))>;

fn stamp(path: &Path) -> Stamp {
    let about = fs::metadata(path).ok()?;
    #[cfg(unix)]
    let more = {
        use std::os::unix::fs::MetadataExt as _;
        (about.ino(), about.ctime(), about.ctime_nsec())
    };
    #[cfg(not(unix))]
    let more = (0, 0, 0);
    Some((about.modified().ok(), about.len(), more))
}

/// The files on which a reading of a job rests, there or not, each as it was before it was read.
#[derive(Clone, Debug, Default)]
pub struct Seen {
    files: Vec<(PathBuf, Stamp)>,
    is_young: bool,
}

impl Seen {
    /// Notes how a file is, unless it was noted before. Called before the file is read, so that a change
    /// during the reading is not missed.
    pub(super) fn note(&mut self, file: PathBuf) {
        if self.files.iter().any(|(seen, _)| *seen == file) {
            return;
        }
        let stamp = stamp(&file);
        let modified = stamp.and_then(|(modified, _, _)| modified);
        self.is_young |= modified.is_some_and(|at| at.elapsed().is_ok_and(|age| age < YOUNG));
        self.files.push((file, stamp));
    }

    /// The files.
    pub(super) fn files(&self) -> impl Iterator<Item = &Path> {
        self.files.iter().map(|(file, _)| file.as_path())
    }

    /// Whether a file is another now.
    pub(super) fn has_changed(&self) -> bool {
        self.files.iter().any(|(file, seen)| stamp(file) != *seen)
    }

    /// Whether a file may have changed again without showing it.
    pub(super) fn is_young(&self) -> bool {
        self.is_young
    }
}
