//! The lines of the cut's sheet, by what they are.

use crate::screens::identity::{FigureKey, FlagId};

/// A line of the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LineId {
    /// Whose sheet it is, and whether it may be cut.
    Head,
    /// A labelled line, with the figure that it opens; the last counts those that are alike.
    Figure(String, Option<FigureKey>, usize),
    /// A flag.
    Flag(FlagId),
    /// A sentence, by what it is about.
    Text(&'static str),
}
