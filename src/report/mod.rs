//! Figures as JSON for scripts and as text for people. Nothing is computed here; every sentence is
//! written in [`words`].

mod changes;
pub mod how;
mod json;
mod json_figures;
mod json_levels;
mod json_lists;
mod json_reconcile;
mod json_running;
mod json_seat;
mod json_tally;
mod json_verify;
mod lists_record;
mod lists_workbook;
mod number;
pub mod pages;
pub mod plain;
mod record;
mod record_file;
pub mod said;
pub mod scene;
mod sheet;
mod signature;
mod statement;
mod text;
mod text_levels;
mod text_lists;
mod text_reconcile;
mod text_seat;
mod text_verify;
pub mod words;
mod workbook;

pub use changes::changes;
pub use json_figures::figures as figures_json;
pub use json_levels::levels as levels_json;
pub use json_lists::lists as lists_json;
pub use json_reconcile::{bridge as bridge_json, suspects as suspects_json};
pub use json_seat::seat as seat_json;
pub use json_tally::tally as tally_json;
pub use json_verify::verify as verify_json;
pub use lists_record::lists_record;
pub use record::{Provenance, record_csv};
pub use record_file::{NoRecord, RecordFile};
pub use sheet::cut_sheet;
pub use signature::{Shown, shown, sign};
pub use statement::{pen_line, statement};
pub use text::{figures as figures_text, tally as tally_text};
pub use text_levels::levels as levels_text;
pub use text_lists::lists as lists_text;
pub use text_reconcile::{bridge as bridge_text, suspects as suspects_text, to_decide};
pub use text_seat::seat as seat_text;
pub use text_verify::verify as verify_text;
pub use words::{CAUTION, NO_CORRECTION, PROOF, SCRIBE};
pub use workbook::workbook;

/// The version of the program, on paper and in JSON.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

#[cfg(test)]
mod tests;
