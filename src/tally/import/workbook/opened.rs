//! The parts of a workbook that was looked through before, one by one.

use std::io::{BufRead, BufReader, Cursor, Read};

use zip::ZipArchive;

use super::super::error::Problem;
use super::limits::unreadable;
use super::parts::End;

/// The parts of a workbook that was looked through before.
pub(super) struct Parts<'a>(ZipArchive<Cursor<&'a [u8]>>);

impl<'a> Parts<'a> {
    /// The parts of an archive.
    pub(super) fn of(bytes: &'a [u8]) -> Result<Self, Problem> {
        let archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
        Ok(Self(archive))
    }

    /// A part by its name, in any case; the default where it is not there.
    pub(super) fn with<T: Default>(
        &mut self,
        name: &str,
        read: impl FnOnce(&mut dyn BufRead) -> Result<T, Problem>,
    ) -> Result<T, Problem> {
        self.find(name, read).map(Option::unwrap_or_default)
    }

    /// The same; nothing where it is not there.
    pub(super) fn find<T>(
        &mut self,
        name: &str,
        read: impl FnOnce(&mut dyn BufRead) -> Result<T, Problem>,
    ) -> Result<Option<T>, Problem> {
        let found = (0..self.0.len()).find(|index| {
            self.0.name_for_index(*index).is_some_and(|own| {
                own.is_ok_and(|own| {
                    let own = own.strip_prefix('/').unwrap_or(&own);
                    own.eq_ignore_ascii_case(name)
                })
            })
        });
        let Some(index) = found else {
            return Ok(None);
        };
        let part = self.0.by_index(index).map_err(|error| unreadable(&error))?;
        // Its size was bounded when the whole archive was unpacked as a trial.
        let boxed: Box<dyn Read + '_> = Box::new(part);
        read(&mut BufReader::new(boxed)).map(Some)
    }
}

/// A mistake in a part that the crate passes over would hide what comes after it.
pub(super) fn to_its_end(end: End) -> Result<(), Problem> {
    match end {
        End::Whole => Ok(()),
        End::Mistake(mistake) => Err(unreadable(&mistake)),
    }
}
