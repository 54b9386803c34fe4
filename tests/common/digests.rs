//! What several tests need.

use std::fs;
use std::path::Path;

use sha2::{Digest, Sha256};

/// Every file below a folder with the digest of its bytes, in order of name.
pub fn digests(folder: &Path) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            all.push((path.display().to_string(), "folder".to_owned()));
            all.extend(digests(&path));
            continue;
        }
        let length = entry.metadata().expect("a file").len();
        // A sparse file of hundreds of MiB is known well enough by its length.
        let digest = if length > 1 << 20 {
            format!("{length} bytes")
        } else {
            format!("{:x?}", Sha256::digest(fs::read(&path).expect("bytes")))
        };
        all.push((path.display().to_string(), digest));
    }
    all.sort();
    all
}

/// A message without the folder of the test, and with the line ends of every system alike.
pub fn without_folder(message: &str, folder: &Path) -> String {
    let prefix = format!("{}{}", folder.display(), std::path::MAIN_SEPARATOR);
    message
        .replace(&prefix, "")
        .replace(&folder.display().to_string(), ".")
}
