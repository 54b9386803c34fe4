//! How a sheet is shown: rows that are hidden or filtered out, and texts that are struck through. The crate
//! that reads workbooks says nothing of either.

use super::super::cell::SheetMarks;
use super::super::error::Problem;
use super::limits::BookKind;
use super::opened::Parts;
use super::{marks_ods, marks_xlsx};

/// What is hidden or struck through in a sheet; `None` where that is not known: of old workbooks, and where
/// the sheet is not where its workbook says.
pub(super) fn of_sheet(
    bytes: &[u8],
    kind: BookKind,
    sheet: &str,
) -> Result<Option<SheetMarks>, Problem> {
    Ok(match kind {
        BookKind::Xlsx => marks_xlsx::of_sheet(&mut Parts::of(bytes)?, sheet)?,
        BookKind::Ods => marks_ods::of_sheet(&mut Parts::of(bytes)?, sheet)?,
        BookKind::Xls => None,
    })
}
