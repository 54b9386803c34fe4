//! Workbooks: the cells of their sheets as rows.
//!
//! What a workbook says of itself is looked through before the crate that reads it sets anything
//! aside for it (`archive`, `parts`, `ole`), and a panic of that crate becomes an error (`guard`). What it
//! does not tell, hidden rows and struck texts, is read from the parts themselves (`marks`).

mod archive;
mod book;
mod cells;
mod guard;
mod limits;
mod marks;
mod marks_ods;
mod marks_xlsx;
mod ole;
mod opened;
mod parts;

pub(super) use book::{Book, holds_cells, is_hidden, is_one, open};
pub(super) use cells::clean;
