//! Copies of the samples, to be changed.

use std::fs;
use std::path::Path;

/// A sample in a folder of its own, which is gone with what is given back.
pub fn copy_of(name: &str) -> tempfile::TempDir {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("sample-tallies")
        .join(name);
    let place = tempfile::tempdir().expect("a folder");
    for folder in ["", "tallies"] {
        fs::create_dir_all(place.path().join(folder)).expect("a folder");
        let entries = fs::read_dir(sample.join(folder)).expect("a sample");
        for entry in entries.flatten().filter(|entry| entry.path().is_file()) {
            let to = place.path().join(folder).join(entry.file_name());
            fs::copy(entry.path(), to).expect("a copy");
        }
    }
    place
}
