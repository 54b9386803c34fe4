//! The job folder to start from.

use std::fs;
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::store::{StoreError, write_new};

/// The files of the template: path in the folder, and text.
const FILES: [(&str, &str); 2] = [
    ("job.toml", include_str!("template/job.toml")),
    ("tallies/a.csv", include_str!("template/a.csv")),
];

/// Why no job folder was made.
#[derive(Debug, Error)]
pub enum CreateError {
    /// Something is there already.
    #[error("{}: exists and is not an empty folder; expected a new name", .0.display())]
    Exists(PathBuf),
    /// A file could not be written.
    #[error("{}: cannot be written: {source}", path.display())]
    Store {
        /// What was being written.
        path: PathBuf,
        /// Why not.
        source: StoreError,
    },
}

/// Makes a commented job folder. Nothing that exists is overwritten; the files are on disk when
/// this returns.
pub fn create(folder: &Path) -> Result<Vec<PathBuf>, CreateError> {
    if folder.exists() {
        let is_empty_folder =
            fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_none());
        if !is_empty_folder {
            return Err(CreateError::Exists(folder.to_owned()));
        }
    }
    let mut made = Vec::with_capacity(FILES.len());
    for (name, text) in FILES {
        let path = folder.join(name);
        fs::create_dir_all(folder)
            .map_err(StoreError::from)
            .and_then(|()| write_new(folder, Path::new(name), text.as_bytes()))
            .map_err(|source| CreateError::Store {
                path: path.clone(),
                source,
            })?;
        made.push(path);
    }
    Ok(made)
}
