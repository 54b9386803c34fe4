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
    /// An element or a text that is longer than any of a workbook.
    #[error("an element or a text in it is longer than {0} bytes")]
    LongPiece(usize),
    /// A part that ends before its elements do.
    #[error("a part of it ends within an element")]
    PartEndsWithin,
    /// A part that it names and does not have.
    #[error("it has no part `{0}`")]
    NoPart(Excerpt),
    /// A sheet without the list of its cells.
    #[error("a sheet of it has no cells, nor a place for them")]
    NoCells,
    /// A sheet that is in no part.
    #[error("it does not say where its sheet `{0}` is")]
    SheetNowhere(Excerpt),
    /// A name for letters that nobody knows.
    #[error("`&{0};` in it stands for no letter")]
    NoLetter(Excerpt),
    /// A kind of cell that nobody knows.
    #[error("`{0}` is no kind of cell")]
    NoKind(Excerpt),
    /// A place that no cell has.
    #[error("`{0}` is no place of a row or a cell")]
    NoPlace(Excerpt),
    /// A cell within another row than its own.
    #[error("its cell {cell} lies in row {row}")]
    CellInRow {
        /// The place that the cell says.
        cell: Excerpt,
        /// The row that it lies in.
        row: u32,
    },
    /// A cell that does not hold what it says.
    #[error("its cell {cell} holds `{found}`, which is no {of}")]
    NoValue {
        /// The cell.
        cell: String,
        /// What it holds.
        found: Excerpt,
        /// What it says that it holds.
        of: &'static str,
    },
    /// A cell that refers to a text that is not there.
    #[error("its cell {cell} refers to the shared text `{found}`, which is not in its list")]
    NoSharedText {
        /// The cell.
        cell: String,
        /// The number of the text, as it stands.
        found: Excerpt,
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
