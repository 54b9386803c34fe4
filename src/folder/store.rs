//! Writing: whole or not at all, on the disk before anyone is told, and never outside the folder.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::Path;

use thiserror::Error;

use super::inside::{PathError, inside};

/// Why nothing was written.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The path is not one of the folder.
    #[error(transparent)]
    Path(#[from] PathError),
    /// The system refused.
    #[error(transparent)]
    Io(#[from] io::Error),
}

/// Writes a file that the person named, wherever it is, as [`write_new`] does.
pub fn write_named(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let name = path.file_name().ok_or(PathError::Leaves)?;
    write_new(folder_of(path), Path::new(name), bytes)
}

/// Writes a file of `root` that is not there yet. Under its own name it is whole or not there at all; a
/// file of that name is never overwritten. Folders on the way are made.
pub fn write_new(root: &Path, relative: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let path = inside(root, relative)?;
    if path.symlink_metadata().is_ok() {
        return Err(StoreError::Io(io::Error::new(
            io::ErrorKind::AlreadyExists,
            "there is such a file already; expected a name that is free",
        )));
    }
    make_folder(folder_of(&path))?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let part = path.with_file_name(format!(".{name}.{}.part", std::process::id()));
    let written = (|| {
        let mut file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&part)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        // A link, unlike a rename, fails where someone was quicker. Not every disk has links.
        match fs::hard_link(&part, &path) {
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists && !path.exists() => {
                fs::rename(&part, &path)
            }
            outcome => outcome,
        }?;
        sync_folder(folder_of(&path))
    })();
    // After a rename it is gone already.
    let _ = fs::remove_file(&part);
    Ok(written?)
}

/// Adds to the end of a file of `root`, making it and its folder where they are not there; `text` is
/// told whether the file is empty.
pub fn append(
    root: &Path,
    relative: &Path,
    text: impl FnOnce(bool) -> String,
) -> Result<(), StoreError> {
    let path = inside(root, relative)?;
    make_folder(folder_of(&path))?;
    let mut file = OpenOptions::new().append(true).create(true).open(&path)?;
    let is_new = file.metadata()?.len() == 0;
    let mut bytes = text(is_new).into_bytes();
    if !is_new && !fs::read(&path)?.ends_with(b"\n") {
        // Someone edited it by hand: its last row shall not run into the next.
        bytes.insert(0, b'\n');
    }
    file.write_all(&bytes)?;
    file.sync_all()?;
    Ok(sync_folder(folder_of(&path))?)
}

/// Makes a folder and those above it that are not there.
fn make_folder(folder: &Path) -> io::Result<()> {
    fs::create_dir_all(folder)
}

fn folder_of(path: &Path) -> &Path {
    path.parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

/// Makes the names in a folder last. Windows needs no such call and has none.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
