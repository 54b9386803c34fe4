//! What the reader has to say of a file beside its joints.

use crate::tally::{FileNote, SheetReason, SkipReason};

/// Why a line is not read as a joint.
pub fn skip_reason(why: SkipReason) -> String {
    let total = |what: &str, is_checked: bool| {
        if is_checked {
            format!("{what}: not summed, checked against the joints")
        } else {
            format!("{what}: not summed; it holds no figure that could be checked")
        }
    };
    let why = match why {
        SkipReason::AboveTable => "above the table",
        SkipReason::Summary => "summary: an average, a count or the like",
        SkipReason::HeaderAgain => "header again",
        SkipReason::UnitsAgain => "units again",
        SkipReason::TitleAgain => "title again",
        SkipReason::PageHead => "head of a page",
        SkipReason::Note => "note: neither a joint nor a length",
        SkipReason::BlankRow => "blank row",
        SkipReason::BlankLines(1) => "blank line",
        SkipReason::BlankLines(count) => return format!("{count} blank lines"),
        SkipReason::Total(is_checked) => return total("total", is_checked),
        SkipReason::CarryForward(is_checked) => return total("carry-forward", is_checked),
        SkipReason::NotRun(sign) => return format!("left out as not run: {sign}"),
        SkipReason::OutsideRows => "outside the rows that are read",
        SkipReason::UnlabelledTotal => "total without a label: equals the sum above it; not summed",
    };
    why.to_owned()
}

/// A remark on a file. What a cell held is told as it is in the file.
pub fn file_note(note: &FileNote) -> String {
    match note {
        FileNote::SheetNotUsed { sheet, why } => {
            let why = match why {
                SheetReason::AnotherNamed => "another one was named".to_owned(),
                SheetReason::NoCells => "it is a chart or a macro".to_owned(),
                SheetReason::Hidden => "it is hidden; --sheet takes it all the same".to_owned(),
                SheetReason::Empty => "it is empty".to_owned(),
                SheetReason::NoTable(without) => format!("it {without}"),
            };
            format!("sheet {sheet} is not used: {why}")
        }
        FileNote::CellMoved {
            cell,
            found,
            read_as,
        } => format!("cell {cell} moved to the grid: {found} read as {read_as}"),
        FileNote::OrderAgainstKinds { said } => {
            format!("the order is as stated, although {said}")
        }
        FileNote::TablesInTurn { tables } => {
            format!("{tables} tables side by side are read one after the other, from left to right")
        }
        FileNote::TablesByRow { tables } => {
            format!("{tables} tables side by side are read row by row, as their joint numbers go on")
        }
        FileNote::TablesNotRead { tables: 1 } => {
            "the table to the right of the first is not read".to_owned()
        }
        FileNote::TablesNotRead { tables } => {
            format!("{tables} tables to the right of the first are not read")
        }
        FileNote::MarksNotRead => {
            "hidden or filtered rows and lengths that are struck through were not looked for in this workbook (in .xls they never are)".to_owned()
        }
        FileNote::MoreCellsMoved(more) => format!("and {more} more cells moved to the grid"),
    }
}
