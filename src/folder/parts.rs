//! Files of a signature under names that do not count yet: until the journal has its entry.

use std::fs::{self, OpenOptions};
use std::io::Write as _;
use std::path::Path;

use super::inside::inside;
use super::load::SIGNED;
use super::store::{StoreError, make_folder, sync_folder};
use crate::journal::{Event, Journal};

/// What is added to the name of a file until it counts.
const PART: &str = ".part";

/// Writes a file under its name with `.part` after it, on the disk when this returns.
pub(super) fn write_part(root: &Path, relative: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let mut name = relative.as_os_str().to_owned();
    name.push(PART);
    let path = inside(root, Path::new(&name))?;
    let folder = path.parent().unwrap_or(root);
    make_folder(folder)?;
    let mut file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(true)
        .open(&path)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    Ok(sync_folder(folder)?)
}

/// Whether a name is free. A statement that is there is of an entry that the journal lost: it is never
/// overwritten.
pub(super) fn not_there(root: &Path, relative: &Path) -> Result<(), StoreError> {
    if inside(root, relative)?.symlink_metadata().is_err() {
        return Ok(());
    }
    Err(StoreError::Taken(relative.to_owned()))
}

/// Gives the files of signatures that the journal has their names, and removes those of others. Nothing
/// that has its name is overwritten.
pub(super) fn finish_parts(root: &Path, journal: &Journal) -> Result<(), StoreError> {
    let folder = root.join(SIGNED);
    let Ok(entries) = fs::read_dir(&folder) else {
        return Ok(());
    };
    let mut is_changed = false;
    for entry in entries.filter_map(Result::ok) {
        let name = entry.file_name().to_string_lossy().into_owned();
        let Some(whole) = name.strip_suffix(PART) else {
            continue;
        };
        let statement = whole.strip_suffix(".sig").unwrap_or(whole);
        let statement = format!("{SIGNED}/{statement}");
        let mut events = journal.entries.iter().rev().map(|entry| &entry.event);
        let is_signed = events.any(
            |event| matches!(event, Event::HoldSigned(signed) if signed.statement == statement),
        );
        let part = inside(root, Path::new(&format!("{SIGNED}/{name}")))?;
        let target = inside(root, Path::new(&format!("{SIGNED}/{whole}")))?;
        if is_signed && !target.exists() {
            fs::rename(&part, &target)?;
        } else {
            fs::remove_file(&part)?;
        }
        is_changed = true;
    }
    if is_changed {
        sync_folder(&folder)?;
    }
    Ok(())
}
