//! Looks through the archive that a workbook of today is: which kind it is; and of an open document, before the
//! crate that reads it trusts what it says of itself, how large it grows, and how many cells it claims.

use std::collections::BTreeSet;
use std::io::{self, BufReader, Cursor, Read};

use zip::ZipArchive;
use zip::result::ZipError;

use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::limits::{BookKind, MAX_UNPACKED, broken, told, unreadable};
use super::parts::{inspect_manifest, inspect_tables};
use crate::measure::Excerpt;

type Archive<'a> = ZipArchive<Cursor<&'a [u8]>>;

/// Which kind of workbook an archive is. The parts of an open document are unpacked as a trial.
pub(super) fn inspect(bytes: &[u8]) -> Result<BookKind, Problem> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
    let kind = kind(&mut archive)?;
    if let Some(name) = part_twice(bytes, archive.central_directory_start()) {
        return Err(broken(WorkbookDamage::PartTwice(name)));
    }
    if kind == BookKind::Ods {
        inspect_document(archive)?;
    }
    Ok(kind)
}

fn inspect_document(mut archive: Archive<'_>) -> Result<(), Problem> {
    let mut left = MAX_UNPACKED;
    for index in 0..archive.len() {
        let part = archive.by_index(index).map_err(|error| damaged(&error))?;
        let name = part.name().map_err(|error| damaged(&error))?.to_lowercase();
        let mut part = BufReader::new(part.take(left.saturating_add(1)));
        match name.as_str() {
            "content.xml" => inspect_tables(&mut part)?,
            "meta-inf/manifest.xml" => inspect_manifest(&mut part)?,
            _ => {}
        }
        // To its end, where its check sum is compared.
        io::copy(&mut part, &mut io::sink()).map_err(|error| unreadable(&error))?;
        left = part.into_inner().limit().saturating_sub(1);
        if left == 0 {
            return Err(broken(WorkbookDamage::UnpacksTo(MAX_UNPACKED)));
        }
    }
    Ok(())
}

/// The first name that two parts have, in any case: the crate that reads archives keeps the last of them, and says
/// nothing of the other. The list of parts is as .ZIP's specification (APPNOTE 6.3, 4.3.12) has it, the offsets from
/// memory.
fn part_twice(bytes: &[u8], list: u64) -> Option<Excerpt> {
    const HEAD: usize = 46;
    let mut names = BTreeSet::new();
    let mut rest = bytes.get(usize::try_from(list).ok()?..)?;
    while rest.starts_with(b"PK\x01\x02") {
        let length = |at: usize| {
            let two = rest.get(at..at + 2).and_then(|two| two.try_into().ok());
            two.map(|two| usize::from(u16::from_le_bytes(two)))
        };
        let (name, extra, remark) = (length(28)?, length(30)?, length(32)?);
        let text = String::from_utf8_lossy(rest.get(HEAD..HEAD + name)?);
        let text = text.strip_prefix('/').unwrap_or(&text);
        if !names.insert(text.to_lowercase()) {
            return Some(Excerpt::of(text));
        }
        rest = rest.get(HEAD + name + extra + remark..)?;
    }
    None
}

pub(super) fn damaged(error: &ZipError) -> Problem {
    match error {
        ZipError::UnsupportedArchive(why) if *why == ZipError::PASSWORD_REQUIRED => {
            Problem::PasswordProtected
        }
        other => broken(WorkbookDamage::Archive(told(other))),
    }
}

fn kind(archive: &mut Archive<'_>) -> Result<BookKind, Problem> {
    let none = |what: &str| Problem::NoWorkbook {
        what: what.to_owned(),
    };
    let mut mime = String::new();
    if let Ok(part) = archive.by_name("mimetype") {
        // What is no text is no kind that is known.
        let _ = part.take(100).read_to_string(&mut mime);
    }
    let has = |archive: &Archive<'_>, wanted: &str| {
        archive.file_names_raw().any(|name| {
            let name = name.strip_prefix(b"/").unwrap_or(name);
            name.eq_ignore_ascii_case(wanted.as_bytes())
        })
    };
    if has(archive, "encrypted-package") {
        return Err(Problem::PasswordProtected);
    }
    match mime.trim() {
        "application/vnd.oasis.opendocument.spreadsheet" => return Ok(BookKind::Ods),
        "application/vnd.oasis.opendocument.text" => {
            return Err(none("a text document (.odt)"));
        }
        other if other.starts_with("application/") => {
            return Err(none("a document, but no workbook"));
        }
        _ => {}
    }
    if has(archive, "xl/workbook.xml") {
        Ok(BookKind::Xlsx)
    } else if has(archive, "xl/workbook.bin") {
        Err(none(
            "a workbook of the binary form (.xlsb), which is not read; save it as .xlsx",
        ))
    } else if has(archive, "word/document.xml") {
        Err(none("a text document (.docx)"))
    } else if has(archive, "ppt/presentation.xml") {
        Err(none("a file of slides (.pptx)"))
    } else {
        Err(none("a zip archive, but no workbook"))
    }
}
