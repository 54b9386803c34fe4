//! What can be wrong with the bytes of a file before anything in them is read as a tally.

use thiserror::Error;

use crate::measure::Excerpt;

/// Why bytes are no text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NotText {
    /// A mark at its start says UTF-8.
    #[error("its mark says UTF-8, but byte {0} is not")]
    MarkedUtf8(usize),
    /// An encoding that is recognised, and broken.
    #[error("it looks like {0} but is not valid")]
    Invalid(&'static str),
    /// A byte that no text has.
    #[error("line {line} holds the control byte 0x{byte:02X}")]
    ControlByte {
        /// The line.
        line: usize,
        /// The byte.
        byte: u8,
    },
}

/// Why a workbook cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum WorkbookDamage {
    /// What the crate that reads it says.
    #[error("{0}")]
    Said(Excerpt),
    /// Its archive.
    #[error("its archive is damaged: {0}")]
    Archive(Excerpt),
    /// It is far larger than its bytes.
    #[error("it unpacks to more than {0} bytes")]
    UnpacksTo(u64),
    /// Two parts of one name: programs differ in which of them they read.
    #[error("it has two parts named `{0}`, and programs differ in which they read")]
    PartTwice(Excerpt),
    /// Too long a list of shared texts.
    #[error("it has more than {0} shared texts")]
    ManyTexts(usize),
    /// A sheet with too much text.
    #[error("a sheet holds more than {0} bytes of text")]
    TooMuchText(usize),
    /// Cells so far apart that all between them are too many.
    #[error("its cells are too many or lie too far apart: more than {0} places to look at")]
    Scattered(usize),
    /// A cell where a sheet has none.
    #[error("it has a cell beyond the edge of its sheet")]
    BeyondEdge,
    /// Two cells at one place.
    #[error("it has two cells {0}")]
    TwoCells(String),
    /// A cell that a program cannot have written.
    #[error("it has a cell of nothing but spaces")]
    OnlySpaces,
    /// A count that is none.
    #[error("`{text}` is no number for {name}")]
    NoNumber {
        /// What is there.
        text: Excerpt,
        /// Of what.
        name: String,
    },
    /// A list that is said to be longer than its bytes.
    #[error("it claims {claimed} texts in a list of {size} bytes")]
    ClaimsTexts {
        /// How many are claimed.
        claimed: u64,
        /// The bytes of the list.
        size: u64,
    },
    /// Elements that are closed more often than opened.
    #[error("content.xml ends more elements than it begins")]
    EndsTooMany,
    /// Elements that are not closed.
    #[error("content.xml ends within an element")]
    EndsWithin,
    /// Its sectors.
    #[error("its sectors are damaged")]
    Sectors,
    /// Its records.
    #[error("its records are damaged")]
    Records,
    /// So much so that reading it failed altogether.
    #[error("it is damaged")]
    Whole,
}
