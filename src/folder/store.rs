//! Writing: whole or not at all, on the disk before anyone is told, and never outside the folder.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read as _, Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, Instant};

use thiserror::Error;

use super::inside::{PathError, inside};

/// How long to wait for another program that is adding to the same folder; an addition takes
/// milliseconds.
const LOCK_PATIENCE: Duration = Duration::from_secs(5);
/// How long to wait before the lock is tried again.
const LOCK_RETRY: Duration = Duration::from_millis(10);

/// What ends the name of a file that is being written: no other program's files end so.
const PART: &str = ".kerfmark-part";
/// After so long nobody is writing it any more.
const LEFT: Duration = Duration::from_mins(10);

/// Why nothing was written.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The path is not one of the folder.
    #[error(transparent)]
    Path(#[from] PathError),
    /// The system refused.
    #[error(transparent)]
    Io(#[from] io::Error),
    /// A statement of that name is there already.
    #[error("{} is there already, of an entry that the journal does not have any more: find out what became of it, and move it away", .0.display())]
    Taken(PathBuf),
    /// Another program holds the lock.
    #[error("another program has been adding to this folder for 5 s; try again once it is done")]
    Locked,
    /// A part was written and taken back.
    #[error("{0}; what was written of it was taken back")]
    TakenBack(io::Error),
    /// A part was written and could not be taken back.
    #[error("{write}; a part of it is left at the end of the file: {back}")]
    PartLeft {
        /// Why it was not written whole.
        write: io::Error,
        /// Why the part could not be taken back.
        back: io::Error,
    },
}

/// Writes a file that the person named, wherever it is, as [`write_new`] does.
pub fn write_named(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let name = path.file_name().ok_or(PathError::Leaves)?;
    write_new(folder_of(path), Path::new(name), bytes)
}

/// Writes a file that the person named. One that is there is replaced, whole or not at all, unless it lies in
/// the job's folder: nothing of a job is ever overwritten.
pub fn replace_outside(root: &Path, path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let folder = folder_of(path).canonicalize()?;
    let name = path.file_name().ok_or(PathError::Leaves)?;
    let target = folder.join(name);
    let is_of_job = root
        .canonicalize()
        .is_ok_and(|root| folder.starts_with(root));
    if is_of_job || target.symlink_metadata().is_err() {
        return write_named(path, bytes);
    }
    if !target.symlink_metadata()?.is_file() {
        return Err(StoreError::Io(io::Error::other("it is no plain file")));
    }
    let plain = name.to_string_lossy();
    let part = part_of(&folder.join(&*plain));
    let written = (|| {
        write_whole(&part, bytes)?;
        fs::rename(&part, &target)?;
        sync_folder(&folder)
    })();
    let _ = fs::remove_file(&part);
    Ok(written?)
}

/// The name under which a file is written until it is whole. What a killed run left in that folder is removed.
fn part_of(path: &Path) -> PathBuf {
    sweep(folder_of(path));
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}.{}{PART}", std::process::id()))
}

/// Removes the parts of files of which a run was killed while it wrote them.
fn sweep(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten();
    for entry in entries.filter_map(Result::ok) {
        let name = entry.file_name().to_string_lossy().into_owned();
        let run = name
            .strip_suffix(PART)
            .and_then(|it| it.strip_prefix('.')?.rsplit_once('.'));
        let is_part = run.is_some_and(|(file, run)| !file.is_empty() && run.parse::<u32>().is_ok());
        let written = entry.metadata().ok().filter(fs::Metadata::is_file);
        let written = written.and_then(|about| about.modified().ok());
        let is_left = written.is_some_and(|at| at.elapsed().is_ok_and(|age| age > LEFT));
        if is_part && is_left {
            // It is in nobody's way, should that fail.
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Writes a file that is not there yet, and waits until it is on the disk.
fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
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
    let part = part_of(&path);
    let written = (|| {
        write_whole(&part, bytes)?;
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

/// How bytes come onto the disk; tests put one in its place that fails.
pub(super) trait Disk {
    /// Writes bytes at the end of the file.
    fn write(&mut self, file: &mut File, bytes: &[u8]) -> io::Result<()>;

    /// Waits until they are on the disk.
    fn sync(&mut self, file: &File) -> io::Result<()> {
        file.sync_all()
    }
}

impl<F: FnMut(&mut File, &[u8]) -> io::Result<()>> Disk for F {
    fn write(&mut self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        self(file, bytes)
    }
}

/// Adds bytes to the end of a file, on the disk when this returns; what was written of them is taken back
/// where that fails.
pub(super) fn write_back(
    file: &mut File,
    bytes: &[u8],
    mut disk: impl Disk,
) -> Result<(), StoreError> {
    let end = file.seek(SeekFrom::End(0))?;
    let written = disk.write(file, bytes).and_then(|()| disk.sync(file));
    written.map_err(
        |error| match file.set_len(end).and_then(|()| file.sync_all()) {
            Ok(()) => StoreError::TakenBack(error),
            Err(back) => StoreError::PartLeft { write: error, back },
        },
    )
}

/// Moves a last line without its line end to the file `beside`, and gives that path.
pub(super) fn move_torn(
    root: &Path,
    beside: &Path,
    file: &mut File,
) -> Result<Option<PathBuf>, StoreError> {
    let mut bytes = Vec::new();
    file.seek(SeekFrom::Start(0))?;
    file.read_to_end(&mut bytes)?;
    let (whole, piece) = split_torn(&bytes);
    if piece.is_empty() {
        return Ok(None);
    }
    let path = inside(root, beside)?;
    let mut kept = OpenOptions::new().append(true).create(true).open(&path)?;
    kept.write_all(piece)?;
    kept.write_all(b"\n")?;
    kept.sync_all()?;
    sync_folder(folder_of(&path))?;
    // The piece is on the disk under its other name before it goes from this file.
    file.set_len(u64::try_from(whole.len()).unwrap_or_default())?;
    file.sync_all()?;
    Ok(Some(beside.to_owned()))
}

/// The whole lines, and the last line where it has no line end.
pub(super) fn split_torn(bytes: &[u8]) -> (&[u8], &[u8]) {
    let end = bytes.iter().rposition(|byte| *byte == b'\n');
    bytes.split_at(end.map_or(0, |at| at + 1))
}

/// Where the torn last line of a file is kept.
pub(super) fn torn_file(relative: &Path) -> PathBuf {
    let name = relative.file_name().unwrap_or_default().to_string_lossy();
    relative.with_file_name(format!("{name}.torn"))
}

/// Holds the lock of a folder until it is dropped.
pub(super) fn lock(root: &Path, relative: &Path) -> Result<File, StoreError> {
    let path = inside(root, relative)?;
    let file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(false)
        .open(path)?;
    let until = Instant::now() + LOCK_PATIENCE;
    loop {
        match file.try_lock() {
            Ok(()) => return Ok(file),
            Err(fs::TryLockError::WouldBlock) if Instant::now() < until => {
                thread::sleep(LOCK_RETRY);
            }
            Err(fs::TryLockError::WouldBlock) => return Err(StoreError::Locked),
            Err(fs::TryLockError::Error(error)) => return Err(error.into()),
        }
    }
}

/// Makes a folder and those above it that are not there, each of them lasting.
pub(super) fn make_folder(folder: &Path) -> io::Result<()> {
    if folder.is_dir() {
        return Ok(());
    }
    let above = folder_of(folder);
    make_folder(above)?;
    match fs::create_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
        outcome => outcome?,
    }
    sync_folder(folder)?;
    sync_folder(above)
}

fn folder_of(path: &Path) -> &Path {
    path.parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

/// Makes the names in a folder last. Windows needs no such call and has none.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
