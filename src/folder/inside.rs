//! Paths of a job's folder that may be written: below the folder, and through no symbolic link.

use std::ffi::OsStr;
use std::io;
use std::path::{Component, Path, PathBuf};

use thiserror::Error;

/// Why a path of the job's folder is not used.
#[derive(Debug, Error)]
pub enum PathError {
    /// It is absolute, names no file, or has `..` in it.
    #[error("it leads out of the job's folder; expected a path below it")]
    Leaves,
    /// A part of it is a symbolic link.
    #[error("{} is a symbolic link; expected a file or folder of the job itself", .0.display())]
    Link(PathBuf),
    /// A name that is none on this system.
    #[error("{0:?} is no name of a file on this system")]
    Name(String),
    /// The system refused.
    #[error(transparent)]
    Io(#[from] io::Error),
}

/// The full path of a file below `root`. What of it exists is no symbolic link and lies in `root`, also
/// after the system has resolved it.
pub(super) fn inside(root: &Path, relative: &Path) -> Result<PathBuf, PathError> {
    let names = names(relative)?;
    let root = root.canonicalize()?;
    let mut path = root.clone();
    let mut deepest = root.clone();
    let mut so_far = PathBuf::new();
    let mut exists = true;
    for name in names {
        path.push(name);
        so_far.push(name);
        if !exists {
            continue;
        }
        match path.symlink_metadata() {
            Ok(about) if about.is_symlink() => return Err(PathError::Link(so_far)),
            Ok(_) => deepest.clone_from(&path),
            Err(error) if error.kind() == io::ErrorKind::NotFound => exists = false,
            Err(error) => return Err(error.into()),
        }
    }
    // A system may have other ways than links to make one folder refer to another.
    if deepest.canonicalize()?.starts_with(&root) {
        Ok(path)
    } else {
        Err(PathError::Leaves)
    }
}

/// The names that a path consists of, if it consists of names alone.
fn names(relative: &Path) -> Result<Vec<&OsStr>, PathError> {
    let names: Option<Vec<&OsStr>> = relative
        .components()
        .map(|part| match part {
            Component::Normal(name) => Some(name),
            _ => None,
        })
        .collect();
    let names = names.filter(|names| !names.is_empty());
    let names = names.ok_or(PathError::Leaves)?;
    for name in &names {
        // On Windows a colon begins a second stream of bytes behind the file before it.
        if cfg!(windows) && name.to_string_lossy().contains(':') {
            return Err(PathError::Name(name.to_string_lossy().into_owned()));
        }
    }
    Ok(names)
}
