//! The tally of record and the bridge as a workbook whose sums are live: the receiving office checks
//! them in its own program. Every formula carries its result too, for programs that only show.

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, Formula, Workbook, Worksheet, XlsxError,
};

use super::record::Provenance;
use super::words;
use crate::measure::{Length, LengthFormat, visible};
use crate::reconcile::{Bridge, Record};
use crate::tally::{Joint, Kind, Pins, PipeString};

/// The number of a row of the sheet, counted from 0.
pub(super) type RowNumber = u32;

pub(super) struct WorkbookSheet<'s> {
    cells: &'s mut Worksheet,
    metres: Format,
    title: Format,
}

impl<'s> WorkbookSheet<'s> {
    /// A new sheet of a workbook.
    pub(super) fn new(book: &'s mut Workbook, name: &str) -> Result<Self, XlsxError> {
        Ok(Self {
            cells: book.add_worksheet().set_name(name)?,
            metres: Format::new().set_num_format("0.000###"),
            title: Format::new().set_bold(),
        })
    }

    pub(super) fn headings(&mut self, row: RowNumber, headings: &[&str]) -> Result<(), XlsxError> {
        for (column, head) in (0_u16..).zip(headings) {
            self.cells
                .write_string_with_format(row, column, *head, &self.title)?;
        }
        Ok(())
    }

    pub(super) fn text(
        &mut self,
        row: RowNumber,
        column: u16,
        text: &str,
    ) -> Result<(), XlsxError> {
        if !text.is_empty() {
            self.cells.write_string(row, column, visible(text))?;
        }
        Ok(())
    }

    pub(super) fn length(
        &mut self,
        row: RowNumber,
        column: u16,
        length: Option<Length>,
    ) -> Result<(), XlsxError> {
        if let Some(length) = length {
            let metres = length.real_metres();
            self.cells
                .write_number_with_format(row, column, metres, &self.metres)?;
        }
        Ok(())
    }

    /// A formula with its result: without one, programs that do not compute show 0.
    pub(super) fn formula(
        &mut self,
        row: RowNumber,
        column: u16,
        formula: String,
        result: Length,
    ) -> Result<(), XlsxError> {
        let formula = Formula::new(formula).set_result(result.exact_metres());
        self.cells
            .write_formula_with_format(row, column, formula, &self.metres)?;
        Ok(())
    }
}

/// An empty workbook. It names no time of its making, as the CSV of the same record does not: the same figures give
/// the same bytes. The format wants one, so it is the first that a zip file can hold.
pub(super) fn new_book() -> Result<Workbook, XlsxError> {
    let made = ExcelDateTime::from_ymd(1980, 1, 1)?;
    let mut book = Workbook::new();
    book.set_properties(&DocProperties::new().set_creation_datetime(&made));
    Ok(book)
}

/// The workbook's bytes: the record, and the bridge between the lists that it was made of.
pub fn workbook(
    record: &Record,
    bridge: &Bridge,
    provenance: &Provenance,
    pins: Pins,
    format: LengthFormat,
) -> Result<Vec<u8>, XlsxError> {
    let mut book = new_book()?;
    let mut sheet = WorkbookSheet::new(&mut book, "Tally of record")?;
    of_record(&mut sheet, record, provenance, pins)?;
    let mut sheet = WorkbookSheet::new(&mut book, "Bridge")?;
    let names = provenance.names.each_ref().map(String::as_str);
    of_bridge(&mut sheet, bridge, names, format)?;
    book.save_to_buffer()
}

/// The headings of a tally of record, as the reader knows them.
pub(super) const fn record_headings(effective_only: bool) -> [&'static str; 9] {
    [
        "joint",
        "serial",
        "kind",
        if effective_only {
            "effective length (m)"
        } else {
            "length (m)"
        },
        "makeup_loss (m)",
        "adds (m)",
        "cumulative (m)",
        "remarks",
        "source",
    ]
}

fn of_record(
    sheet: &mut WorkbookSheet<'_>,
    record: &Record,
    provenance: &Provenance,
    pins: Pins,
) -> Result<(), XlsxError> {
    let headings = record_headings(record.effective_only);
    let headings: Vec<&str> = headings.into_iter().chain(["note"]).collect();
    sheet.headings(0, &headings)?;
    let string = record.string(pins);
    let mut row: RowNumber = 1;
    for (at, entry) in record.rows.iter().enumerate() {
        let joint = &entry.joint;
        joint_cells(sheet, row, joint, (&string, at), pins)?;
        sheet.text(row, 7, joint.remarks().unwrap_or_default())?;
        let source = words::sources(&entry.sources, provenance.called());
        sheet.text(row, 8, &source)?;
        sheet.text(row, 9, &entry.notes.join("; "))?;
        row += 1;
    }
    total(sheet, row, &string)?;
    sheet.text(row + 2, 0, &provenance.words())?;
    if let Some(open) = words::not_decided(record.open, &provenance.names[0]) {
        sheet.text(row + 3, 0, &open)?;
    }
    Ok(())
}

/// The cells of a joint: what names it, its length and loss, and as formulas what it adds and the running total.
pub(super) fn joint_cells(
    sheet: &mut WorkbookSheet<'_>,
    row: RowNumber,
    joint: &Joint,
    (string, at): (&PipeString, usize),
    pins: Pins,
) -> Result<(), XlsxError> {
    sheet.text(row, 0, &joint.number)?;
    sheet.text(row, 1, joint.serial.as_deref().unwrap_or_default())?;
    sheet.text(row, 2, joint.kind.map_or("", Kind::name))?;
    sheet.length(row, 3, joint.length)?;
    sheet.length(row, 4, joint.makeup_loss)?;
    // Rows are counted from 1 in formulas.
    let here = row + 1;
    let Some(piece) = string.pieces.get(at) else {
        return Ok(());
    };
    let adds = if joint.effective().is_some() || at == string.open_end() {
        format!("=D{here}")
    } else if let (None, Some(nominal)) = (joint.makeup_loss, pins.nominal_loss) {
        format!("=D{here}-{}", nominal.exact_metres())
    } else {
        format!("=D{here}-E{here}")
    };
    sheet.formula(row, 5, adds, piece.effective)?;
    let sum = if at == 0 {
        format!("=F{here}")
    } else {
        format!("=G{row}+F{here}")
    };
    sheet.formula(row, 6, sum, piece.upper())
}

/// The row of the total.
pub(super) fn total(
    sheet: &mut WorkbookSheet<'_>,
    row: RowNumber,
    string: &PipeString,
) -> Result<(), XlsxError> {
    let last = u32::try_from(string.pieces.len()).unwrap_or(u32::MAX - 1) + 1;
    sheet.text(row, 0, "Total")?;
    sheet.formula(row, 5, format!("=SUM(F2:F{last})"), string.length)?;
    // Under the running total, where a reader compares it.
    sheet.formula(row, 6, format!("=F{}", row + 1), string.length)
}

/// The bridge from one list to another.
pub(super) fn of_bridge(
    sheet: &mut WorkbookSheet<'_>,
    bridge: &Bridge,
    [name_a, name_b]: [&str; 2],
    format: LengthFormat,
) -> Result<(), XlsxError> {
    sheet.headings(
        0,
        &["cause", "joint", "effect (m)", "running total (m)", "text"],
    )?;
    sheet.text(1, 0, "A")?;
    sheet.text(1, 4, name_a)?;
    sheet.length(1, 3, Some(bridge.a))?;
    let mut row: RowNumber = 2;
    let mut sum = bridge.a;
    for line in &bridge.lines {
        sum += line.effect;
        sheet.text(row, 0, line.cause.name())?;
        sheet.text(row, 1, &line.joint)?;
        sheet.length(row, 2, Some(line.effect))?;
        sheet.formula(row, 3, format!("=D{row}+C{}", row + 1), sum)?;
        sheet.text(row, 4, &words::bridge_line(line, format))?;
        row += 1;
    }
    sheet.text(row, 0, "B")?;
    sheet.text(row, 4, name_b)?;
    sheet.length(row, 3, Some(bridge.b))?;
    sheet.text(row + 1, 0, "remainder")?;
    // Adding up in binary leaves specks far below a nanometre.
    let remainder = format!("=ROUND(D{}-D{row},9)", row + 1);
    sheet.formula(row + 1, 3, remainder, bridge.remainder())
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Read as _};

    use super::{WorkbookSheet, new_book};

    #[test]
    fn a_workbook_names_no_time_of_its_making() {
        let mut book = new_book().expect("a workbook");
        WorkbookSheet::new(&mut book, "Bridge").expect("a sheet");
        let bytes = book.save_to_buffer().expect("bytes");
        let mut parts = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip file");
        let mut about = String::new();
        let mut part = parts.by_name("docProps/core.xml").expect("a part");
        part.read_to_string(&mut about).expect("text");
        let times = about.matches(":W3CDTF\">").count();
        assert_eq!(
            times,
            about.matches(">1980-01-01T00:00:00Z<").count(),
            "{about}"
        );
        assert!(times > 0);
    }
}
