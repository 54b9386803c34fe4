//! The tally of record of all lists of a string as a workbook: its joints with live sums, the bridge from the tally of
//! record before it, what every list says, and who decided what, when and why.

use rust_xlsxwriter::XlsxError;

use super::workbook::{
    RowNumber, WorkbookSheet, joint_cells, new_book, of_bridge, record_headings, total,
};
use super::{VERSION, words};
use crate::figures::SlotLists;
use crate::measure::{LengthFormat, Unit};
use crate::reconcile::many::{Choice, ListsRecord, State};
use crate::reconcile::{Topic, bridge};
use crate::tally::{Pins, PipeString, Tally};

/// The workbook's bytes. `before` is the tally of record that it takes the place of.
pub(super) fn lists_workbook(
    all: &SlotLists,
    record: &ListsRecord,
    (before, pins): (Option<&Tally>, Pins),
    unit: Unit,
) -> Result<Vec<u8>, XlsxError> {
    let mut book = new_book()?;
    of_record(
        &mut WorkbookSheet::new(&mut book, "Tally of record")?,
        all,
        record,
        pins,
    )?;
    if let Some(before) = before {
        let to = record.tally();
        let bridge = bridge(before, &to, pins);
        let mut sheet = WorkbookSheet::new(&mut book, "Bridge")?;
        let names = [
            all.files.first().map_or("", String::as_str),
            words::THIS_RECORD,
        ];
        of_bridge(&mut sheet, &bridge, names, LengthFormat::new(unit))?;
    }
    let show = LengthFormat::new(unit);
    of_decisions(&mut WorkbookSheet::new(&mut book, "Decisions")?, all, show)?;
    of_lists(
        &mut WorkbookSheet::new(&mut book, "What each list says")?,
        all,
    )?;
    book.save_to_buffer()
}

fn of_record(
    sheet: &mut WorkbookSheet<'_>,
    all: &SlotLists,
    record: &ListsRecord,
    pins: Pins,
) -> Result<(), XlsxError> {
    sheet.headings(0, &record_headings(record.effective_only))?;
    let string = PipeString::make_up(&record.tally(), pins);
    let mut row: RowNumber = 1;
    for (at, it) in record.joints.iter().enumerate() {
        joint_cells(sheet, row, &it.joint, (&string, at), pins)?;
        let kept = it.joint.remarks().unwrap_or_default();
        sheet.text(row, 7, &words::with_reasons(all, it, kept))?;
        sheet.text(row, 8, &words::values_from(all, it))?;
        row += 1;
    }
    total(sheet, row, &string)?;
    row += 2;
    let left_out = all.left_out().map(words::without_joint);
    let open = words::not_decided(record.open, all.name(0));
    let lines = left_out
        .chain([words::made_of_lists(VERSION, all)])
        .chain(open);
    for line in lines {
        sheet.text(row, 0, &line)?;
        row += 1;
    }
    Ok(())
}

/// Who decided what, when and why, and what is not decided.
fn of_decisions(
    sheet: &mut WorkbookSheet<'_>,
    all: &SlotLists,
    show: LengthFormat,
) -> Result<(), XlsxError> {
    let headings = [
        "of joint", "what", "state", "stands", "by list", "person", "when", "why",
    ];
    sheet.headings(0, &headings)?;
    let mut at: RowNumber = 1;
    for row in &all.lists.rows {
        for of in Topic::ALL {
            let state = row.state(of);
            if state == State::Agreed {
                continue;
            }
            let by = row.decided_by(of);
            for decided in by.iter().map(Some).chain(by.is_empty().then_some(None)) {
                sheet.text(at, 0, row.true_number())?;
                sheet.text(at, 1, of.name())?;
                sheet.text(at, 2, state.word())?;
                sheet.text(at, 3, &words::stands(all, row, of, show))?;
                let from: Vec<&str> = row.from(of).iter().map(|it| all.name(*it)).collect();
                sheet.text(at, 4, &from.join(", "))?;
                if let Some(decided) = decided {
                    if let Choice::Measured(_) = decided.choice {
                        sheet.text(at, 4, words::MEASURED_AGAIN)?;
                    }
                    sheet.text(at, 5, &decided.by)?;
                    sheet.text(at, 6, &decided.at)?;
                    sheet.text(at, 7, &decided.note)?;
                }
                at += 1;
            }
        }
    }
    Ok(())
}

/// A row a joint, two columns a list.
fn of_lists(sheet: &mut WorkbookSheet<'_>, all: &SlotLists) -> Result<(), XlsxError> {
    let mut headings = vec!["of joint".to_owned()];
    for name in &all.names {
        headings.push(format!("by {name} (m)"));
        headings.push(format!("off by {name} (m)"));
    }
    headings.push("stands (m)".to_owned());
    headings.push("state".to_owned());
    let headings: Vec<&str> = headings.iter().map(String::as_str).collect();
    sheet.headings(0, &headings)?;
    for (at, row) in (1..).zip(&all.lists.rows) {
        sheet.text(at, 0, row.true_number())?;
        let mut column = 1;
        for list in 0..all.names.len() {
            let listed = row.listed_in(list);
            let length = listed.and_then(|it| it.length.or(it.effective));
            sheet.length(at, column, length)?;
            sheet.length(at, column + 1, listed.and_then(|it| it.loss))?;
            column += 2;
        }
        sheet.length(at, column, row.length.stands)?;
        sheet.text(at, column + 1, row.length.state.word())?;
    }
    Ok(())
}
