//! From the bytes of a file to a [`Tally`](super::Tally), each step knowing only those before it:
//!
//! 1. `decode` makes text of bytes, `workbook` makes cells of a workbook's sheets.
//! 2. `text` and `sheets` make a `grid` of cells.
//! 3. `table` finds the header and names the columns (`headings`, `units`, `synonyms`).
//! 4. `rows` says what each row is: a joint, a total, a note.
//! 5. `not_run` finds rows that may not be in the string (`sign_words`, `status`).
//! 6. `decimal`, `lengths`, `totals` and `joints` read the rows.
//! 7. `ambiguities` and `order` ask what the file leaves open. `reader` walks these steps.
//!
//! None of them guesses: where two readings are possible the result is a [`Problem`] that names the
//! option which settles it, and every line that is not used as a joint is listed with the reason.

mod aligned;
mod ambiguities;
mod cell;
mod cell_text;
mod chosen;
mod damage;
mod decimal;
mod decode;
mod error;
mod found;
mod grid;
mod header;
mod headings;
mod joints;
mod landing;
mod layout;
mod lengths;
mod limits;
mod marks;
mod named_joints;
mod not_run;
mod number_order;
mod options;
mod order;
mod order_signs;
mod place;
mod problems;
mod question;
mod reader;
mod row_store;
mod rows;
mod sheets;
mod side_by_side;
mod sign_words;
mod status;
mod synonyms;
mod table;
mod text;
mod totals;
mod units;
mod unnamed;
mod workbook;

pub use damage::{NotText, WorkbookDamage};
pub use decode::decode;
pub use error::Problem;
pub use limits::{Limit, MAX_JOINTS};
pub use options::{
    AnswerError, Blocks, ColumnChoice, ColumnRole, LengthColumn, LineSpan, MAX_FILE, MIB, NotRun,
    Options,
};
pub use order_signs::{Misplaced, OrderSign};
pub use place::CellRef;
pub use problems::ReadError;
pub use question::{DoubtedRow, Question};
pub use reader::read;
pub use synonyms::Field;

#[cfg(test)]
mod tests;
