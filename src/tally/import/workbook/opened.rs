//! The parts of a workbook, one by one.

use std::io::{BufReader, Cursor, Read};

use zip::ZipArchive;

use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::archive::damaged;
use super::limits::{MAX_UNPACKED, broken, unreadable};
use super::parts::End;

/// Bytes of a part that are unpacked at once.
const UNPACKED_AT_ONCE: usize = 64 * 1024;

/// What reads a part.
pub(super) type PartReader<'p> = BufReader<Box<dyn Read + 'p>>;

/// The parts of a workbook.
pub(super) struct Parts<'a> {
    archive: ZipArchive<Cursor<&'a [u8]>>,
    /// How many bytes they may still unpack to.
    left: u64,
}

impl<'a> Parts<'a> {
    /// The parts of an archive.
    pub(super) fn of(bytes: &'a [u8]) -> Result<Self, Problem> {
        let archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
        Ok(Self {
            archive,
            left: MAX_UNPACKED,
        })
    }

    /// A part by its name, in any case; the default where it is not there.
    pub(super) fn with<T: Default>(
        &mut self,
        name: &str,
        read: impl FnOnce(&mut PartReader<'_>) -> Result<T, Problem>,
    ) -> Result<T, Problem> {
        self.find(name, read).map(Option::unwrap_or_default)
    }

    /// The same; nothing where it is not there.
    pub(super) fn find<T>(
        &mut self,
        name: &str,
        read: impl FnOnce(&mut PartReader<'_>) -> Result<T, Problem>,
    ) -> Result<Option<T>, Problem> {
        let found = (0..self.archive.len()).find(|index| {
            self.archive.name_for_index(*index).is_some_and(|own| {
                own.is_ok_and(|own| {
                    let own = own.strip_prefix('/').unwrap_or(&own);
                    own.eq_ignore_ascii_case(name)
                })
            })
        });
        let Some(index) = found else {
            return Ok(None);
        };
        let part = self.archive.by_index(index);
        let part = part.map_err(|error| damaged(&error))?;
        let mut part = part.take(self.left.saturating_add(1));
        let boxed: Box<dyn Read + '_> = Box::new(&mut part);
        let read = read(&mut BufReader::with_capacity(UNPACKED_AT_ONCE, boxed));
        self.left = part.limit().saturating_sub(1);
        if self.left == 0 {
            return Err(broken(WorkbookDamage::UnpacksTo(MAX_UNPACKED)));
        }
        read.map(Some)
    }
}

/// A mistake in a part that the crate passes over would hide what comes after it.
pub(super) fn to_its_end(end: End) -> Result<(), Problem> {
    match end {
        End::Whole => Ok(()),
        End::Mistake(mistake) => Err(unreadable(&mistake)),
    }
}
