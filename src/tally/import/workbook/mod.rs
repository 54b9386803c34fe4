//! Workbooks: the cells of their sheets as rows.
//!
//! Workbooks in XML are read here (`xlsx`), cells and what is hidden or struck through in one pass. Open documents and
//! old workbooks are read by a crate: what they say of themselves is looked through before it sets anything aside for
//! them (`archive`, `parts`, `ole`), and a panic of it becomes an error (`guard`). What it does not tell of open
//! documents, hidden rows and struck texts, is read from their parts (`marks_ods`).

mod archive;
mod book;
mod cells;
mod guard;
mod limits;
mod marks_ods;
mod ole;
mod opened;
mod parts;
mod xlsx;

pub(super) use book::{Book, SheetCells, holds_cells, is_hidden, is_one, open};
pub(super) use cells::clean;
