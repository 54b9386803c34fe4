//! The door through which files are written: whole or not at all, and on the disk before anyone is told.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::Path;

/// Writes a file that is not there yet. Under its own name it is whole or not there at all; a file of
/// that name is never overwritten.
pub fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    if path.exists() {
        return Err(io::Error::new(
            io::ErrorKind::AlreadyExists,
            "there is such a file already; expected a name that is free",
        ));
    }
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
        match fs::hard_link(&part, path) {
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists && !path.exists() => {
                fs::rename(&part, path)
            }
            outcome => outcome,
        }?;
        sync_folder(path)
    })();
    // After a rename it is gone already.
    let _ = fs::remove_file(&part);
    written
}

/// Adds to the end of a file, making it where it is not there; `text` is told whether it is new.
pub fn append(path: &Path, text: impl FnOnce(bool) -> String) -> io::Result<()> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    let mut file = OpenOptions::new().append(true).create(true).open(path)?;
    let is_new = file.metadata()?.len() == 0;
    let mut bytes = text(is_new).into_bytes();
    if !is_new && !fs::read(path)?.ends_with(b"\n") {
        // Someone edited it by hand: its last row shall not run into the next.
        bytes.insert(0, b'\n');
    }
    file.write_all(&bytes)?;
    file.sync_all()?;
    sync_folder(path)
}

/// Makes a new name in a folder last.
fn sync_folder(path: &Path) -> io::Result<()> {
    let folder = path.parent().filter(|it| !it.as_os_str().is_empty());
    if cfg!(unix) {
        File::open(folder.unwrap_or(Path::new(".")))?.sync_all()?;
    }
    Ok(())
}
