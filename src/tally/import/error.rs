//! What can be wrong with a tally file: data, with the sentence written once.

use thiserror::Error;

use super::damage::{NotText, WorkbookDamage};
use super::limits::Limit;
use super::options::{LineSpan, MIB};
use super::order_signs::{Misplaced, OrderSign};
use super::place::CellRef;
use super::question::Question;
use crate::measure::{Excerpt, Length, LengthError, Unit};

/// One thing that keeps a tally from being read.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Problem {
    /// What the file leaves open.
    #[error(transparent)]
    Open(#[from] Question),
    /// The system refused.
    #[error("cannot be read: {reason}")]
    Unreadable {
        /// What the system said.
        reason: String,
    },
    /// A link of a job that leads elsewhere.
    #[error("cannot be read: it is a link that leaves the job's folder")]
    LinkOut,
    /// A folder where a file is meant.
    #[error("is a folder; expected a tally file")]
    IsFolder,
    /// A device, pipe or socket.
    #[error("is not a regular file; expected a tally file")]
    NotAFile,
    /// Larger than is read.
    #[error("is {bytes} bytes long; files above {most} bytes ({} MiB) are not read", most / MIB)]
    TooLarge {
        /// Its size.
        bytes: u64,
        /// Most bytes of its kind.
        most: u64,
    },
    /// Nothing in it.
    #[error("is empty; expected a tally with a header row and a row for each joint")]
    Empty,
    /// Not text.
    #[error(
        "is not text: {what}; expected comma, semicolon or tab separated text, or a workbook (.xlsx, .xls or .ods)"
    )]
    Binary {
        /// What was recognised.
        what: NotText,
    },
    /// An archive or document of another kind.
    #[error("is {what}; expected a tally as text or in a workbook (.xlsx, .xls or .ods)")]
    NoWorkbook {
        /// What it is.
        what: String,
    },
    /// A workbook that is damaged, or claims what cannot be.
    #[error(
        "is a workbook that cannot be read: {why}; open it in a spreadsheet program and save it again, or save the sheet as CSV"
    )]
    BrokenWorkbook {
        /// What is wrong with it.
        why: WorkbookDamage,
    },
    /// A workbook that only a password opens.
    #[error("is protected by a password; save it without one, or save the sheet as CSV")]
    PasswordProtected,
    /// A workbook with nothing in it that shows.
    #[error(
        "is a workbook without a visible sheet that holds anything{}; expected a sheet with a header row and a row for each joint",
        hidden_too(hidden)
    )]
    EmptyWorkbook {
        /// Sheets that are hidden, named.
        hidden: String,
    },
    /// The sheet that was asked for is not there.
    #[error("has no sheet called `{sheet}`; it has {sheets}")]
    NoSuchSheet {
        /// The sheet that was asked for.
        sheet: Excerpt,
        /// Those that are there, named.
        sheets: String,
    },
    /// The sheet that was asked for holds nothing that could be a tally.
    #[error("its sheet `{sheet}` {what}; expected one with a header row and a row for each joint")]
    SheetWithoutCells {
        /// The sheet that was asked for.
        sheet: Excerpt,
        /// What it is.
        what: &'static str,
    },
    /// Several sheets could be the tally.
    #[error(
        "which sheet is the tally? {sheets} each hold a table of joints; state it with --sheet NAME (in a job: read = {{ sheet = \"...\" }})"
    )]
    WhichSheet {
        /// Those sheets, named.
        sheets: String,
    },
    /// No sheet of several could be the tally.
    #[error(
        "has several sheets, none with a table of joints: {sheets}; expected one with a row that names at least the joint and its length"
    )]
    NoSheetWithTable {
        /// The sheets, named, each with what it has not.
        sheets: String,
    },
    /// A formula in a column that is read gives an error.
    #[error("{at}: the formula of this cell gives `{found}`; expected a value")]
    FormulaFailed {
        /// The cell.
        at: CellRef,
        /// What it gives.
        found: Excerpt,
    },
    /// Formulas that nobody computed.
    #[error(
        "{at}: every formula of this column has the value 0 or none, as in workbooks written by a program that does not compute; open it in a spreadsheet program and save it once"
    )]
    NotComputed {
        /// The first such cell.
        at: CellRef,
    },
    /// A sheet was named for a text file.
    #[error("is text and has no sheets; leave out --sheet (found `{sheet}`)")]
    NoSheets {
        /// The sheet that was asked for.
        sheet: Excerpt,
    },
    /// A column that was named is not there.
    #[error(
        "no column matches `{place}`, which is named as the column of {role}; the header on line {line} has {found}"
    )]
    NoSuchColumn {
        /// What it would hold.
        role: &'static str,
        /// The letter, number or heading that was named.
        place: Excerpt,
        /// The line of the header.
        line: u32,
        /// The columns that are there.
        found: String,
    },
    /// The rows that were named hold no joint.
    #[error(
        "has no joint on lines {} to {}, which alone are read; expected the first and the last line of the joints",
        rows.first,
        rows.last
    )]
    NoJointsInRows {
        /// The lines.
        rows: LineSpan,
    },
    /// No row names the columns.
    #[error(
        "has no header row; expected a row that names at least the joint and its length, such as `joint,length` or `Jt No,OAL (m)`"
    )]
    NoHeader,
    /// A header without lengths.
    #[error(
        "line {line}: the header has no length column; found {found}; expected one called length, OAL, overall length or effective length, or else --column length=WHERE"
    )]
    NoLengthColumn {
        /// The line of the header.
        line: u32,
        /// The headings found.
        found: String,
    },
    /// A header without joint numbers.
    #[error(
        "line {line}: the header has no joint column; found {found}; expected one called joint, Jt No, No. or the like"
    )]
    NoJointColumn {
        /// The line of the header.
        line: u32,
        /// The headings found.
        found: String,
    },
    /// A header but nothing under it.
    #[error("has a header on line {line} but no joint of the conductor under it")]
    NoJoints {
        /// The line of the header.
        line: u32,
    },
    /// Two columns that mean the same.
    #[error(
        "line {line}: columns {first} and {second} both say `{field}`; expected one of them: rename or remove the other, or say which is meant, such as --column length=WHERE"
    )]
    TwoColumns {
        /// The line of the header.
        line: u32,
        /// The first column, counted from 1.
        first: usize,
        /// The second.
        second: usize,
        /// What both say.
        field: &'static str,
    },
    /// A length column whose name does not say which length.
    #[error(
        "{at}: are these overall lengths, or effective lengths with the make-up loss taken off? State it with --length overall or --length effective (in a job: read = {{ length = \"...\" }})"
    )]
    OverallOrEffective {
        /// The column.
        at: CellRef,
    },
    /// The option says one kind of length, the heading another.
    #[error(
        "{at}: the heading says {says} length, the option says {option}; leave the option out or correct it"
    )]
    LengthConflict {
        /// The column.
        at: CellRef,
        /// What the heading says.
        says: &'static str,
        /// What the option says.
        option: &'static str,
    },
    /// No unit anywhere.
    #[error(
        "{at}: in which unit are these lengths? State it with --units m, mm, ft, in or ft-in (in a job: read = {{ units = \"...\" }}), or in the heading, such as `Length (m)`"
    )]
    UnitQuestion {
        /// The column.
        at: CellRef,
    },
    /// The option says one unit, the file another.
    #[error(
        "{at}: the file says {file}, the option says {option}; leave the option out or correct it"
    )]
    UnitConflict {
        /// The column.
        at: CellRef,
        /// What the file says.
        file: Unit,
        /// What the option says.
        option: &'static str,
    },
    /// One column, two units.
    #[error(
        "{at}: the unit is {now} here, but {was} in the header on line {was_line}; expected one unit in the whole column"
    )]
    UnitChange {
        /// The cell that says another unit.
        at: CellRef,
        /// The unit that was stated first.
        was: Unit,
        /// The line of the header.
        was_line: u32,
        /// The unit that is stated here.
        now: Unit,
    },
    /// A second table.
    #[error(
        "line {line}: another header, with other columns than the one on line {first}; expected one table with the same header on every page"
    )]
    OtherHeader {
        /// The line of the other header.
        line: u32,
        /// The line of the header.
        first: u32,
    },
    /// A text beside a length, in a list of numbered joints.
    #[error(
        "{at}: is `{text}` a joint, or a remark? its length column holds `{length}`; if it is a joint give it a number or a kind, else take the figure out of that column"
    )]
    PerhapsJoint {
        /// The cell of the joint number.
        at: CellRef,
        /// Its text.
        text: Excerpt,
        /// The length beside it.
        length: Excerpt,
    },
    /// Commas between cells that look like decimal commas.
    #[error(
        "{at}: is a comma both separator and decimal mark? Every length is a whole number with only digits in the cell after it, here `{text},{next}`; put such numbers in quotes, or confirm `{text}` with --decimal point (in a job: read = {{ decimal = \"point\" }})"
    )]
    CommaTwice {
        /// The first length.
        at: CellRef,
        /// Its text.
        text: Excerpt,
        /// The text of the next cell.
        next: Excerpt,
    },
    /// Make-up losses that are too long or too short for the unit that they take from the length column.
    #[error(
        "{at}: make-up losses such as `{example}` are too long or too short in {unit}, the unit of the length column; write their unit in the heading, such as `MUL (in)`, or confirm it with --units {unit} (in a job: read = {{ units = \"{unit}\" }})"
    )]
    LossUnit {
        /// The column.
        at: CellRef,
        /// One of them.
        example: Excerpt,
        /// The unit that they would have.
        unit: Unit,
    },
    /// A comma that may be a decimal mark or group thousands.
    #[error(
        "{at}: `{text}` may be a decimal or a number with a mark for thousands; state it with --decimal comma or --decimal point (in a job: read = {{ decimal = \"...\" }})"
    )]
    DecimalQuestion {
        /// The first such cell.
        at: CellRef,
        /// Its text.
        text: Excerpt,
    },
    /// Both marks are used as decimal marks.
    #[error(
        "{comma_at}: `{comma}` has a decimal comma, but line {point_line} has a decimal point in `{point}`; correct one, or state it with --decimal comma or --decimal point (in a job: read = {{ decimal = \"...\" }})"
    )]
    DecimalConflict {
        /// A cell with a decimal comma.
        comma_at: CellRef,
        /// Its text.
        comma: Excerpt,
        /// The line of a cell with a decimal point.
        point_line: u32,
        /// Its text.
        point: Excerpt,
    },
    /// The file says two things about its order.
    #[error(
        "which end is the shoe? {first}, but {second}; state it with --order shoe-first or --order top-first (in a job: read = {{ order = \"...\" }})"
    )]
    OrderQuestion {
        /// What one sign says.
        first: OrderSign,
        /// What the other says.
        second: OrderSign,
    },
    /// A kind where it cannot be.
    #[error("{at}: {what}")]
    KindMisplaced {
        /// The cell of the kind.
        at: CellRef,
        /// What is wrong and what is expected.
        what: Misplaced,
    },
    /// A cell that should be a length and is not.
    #[error("{at}: {error}")]
    Length {
        /// The cell.
        at: CellRef,
        /// What is wrong.
        error: LengthError,
    },
    /// A joint without a length.
    #[error("{at}: joint {joint} has no length; expected one above 0")]
    LengthMissing {
        /// The cell.
        at: CellRef,
        /// The joint.
        joint: Excerpt,
    },
    /// A length without a joint.
    #[error(
        "{at}: the length column holds `{length}`, but {}; expected one, or a word such as total",
        no_number(found)
    )]
    JointMissing {
        /// The cell of the joint number.
        at: CellRef,
        /// What is there.
        found: Excerpt,
        /// The length.
        length: Excerpt,
    },
    /// A length of zero or below.
    #[error("{at}: the length of joint {joint} is `{text}`; expected a length above 0")]
    NotAbove0 {
        /// The cell.
        at: CellRef,
        /// The joint.
        joint: Excerpt,
        /// Its text.
        text: Excerpt,
    },
    /// A length that no joint has.
    #[error(
        "{at}: joint {joint} would be `{text}` = {metres} m long; expected at least 0.05 m: {}",
        why_too_short(text)
    )]
    TooShort {
        /// The cell.
        at: CellRef,
        /// The joint.
        joint: Excerpt,
        /// Its text.
        text: Excerpt,
        /// The same in metres.
        metres: String,
    },
    /// A length that no joint has.
    #[error(
        "{at}: joint {joint} would be `{text}` = {metres} m long; expected at most 30 m: {}",
        why_too_long(text, metres)
    )]
    TooLong {
        /// The cell.
        at: CellRef,
        /// The joint.
        joint: Excerpt,
        /// Its text.
        text: Excerpt,
        /// The same in metres.
        metres: String,
    },
    /// A negative make-up loss.
    #[error(
        "{at}: the make-up loss of joint {joint} is `{text}`; expected {}",
        least_loss(*least)
    )]
    LossNegative {
        /// The cell.
        at: CellRef,
        /// The joint.
        joint: Excerpt,
        /// Its text.
        text: Excerpt,
        /// The least that is allowed.
        least: Length,
    },
    /// A landing joint that was named is not in the list.
    #[error(
        "no joint matches `{joint}`, which is named as a landing joint; expected the number of a joint as the list writes it"
    )]
    NoSuchLandingJoint {
        /// The joint that was named.
        joint: Excerpt,
    },
    /// A make-up loss that leaves nothing of the joint.
    #[error(
        "{at}: joint {joint} has a make-up loss of `{loss}` and a length of `{length}`; expected a loss below the length"
    )]
    LossTooLong {
        /// The cell.
        at: CellRef,
        /// The joint.
        joint: Excerpt,
        /// The loss as written.
        loss: Excerpt,
        /// The length as written.
        length: Excerpt,
    },
    /// A row shifted by a separator too many.
    #[error(
        "{at}: `{text}` follows a length, and the row has more cells than the header; expected as many (is a comma both separator and decimal mark?)"
    )]
    CellTooMany {
        /// The cell after the length.
        at: CellRef,
        /// Its text.
        text: Excerpt,
    },
    /// A quote that swallows rows.
    #[error(
        "line {line}: a quoted field holds what looks like rows, to the end of line {}; close the quote",
        line + lines.saturating_sub(1)
    )]
    OpenQuote {
        /// The line on which it starts.
        line: u32,
        /// How many lines it takes in.
        lines: u32,
    },
    /// More than is read.
    #[error("line {line}: {limit}")]
    Beyond {
        /// The line on which it is too much.
        line: u32,
        /// What there is too much of.
        limit: Limit,
    },
    /// The rest of a long list of problems.
    #[error("and {0} more problems of the same kinds")]
    More(usize),
    /// The rest of a list of problems that was not followed to its end.
    #[error(
        "and at least {0} more problems of the same kinds; the rest of the file was not looked at"
    )]
    AtLeast(usize),
}

fn hidden_too(hidden: &str) -> String {
    if hidden.is_empty() {
        String::new()
    } else {
        format!(" ({hidden}: hidden, taken only where --sheet names it)")
    }
}

/// What a make-up loss is at least.
fn least_loss(least: Length) -> String {
    if least.is_negative() {
        format!("{} m or more", least.exact_metres())
    } else {
        "0 or more (pipe that is welded with a root gap says so in its job: connection = \"weld\")"
            .to_owned()
    }
}

/// What is in place of a joint number.
fn no_number(found: &Excerpt) -> String {
    if found.is_empty() {
        "there is no joint number beside it".to_owned()
    } else {
        format!("`{found}` beside it is not a joint number")
    }
}

/// What makes a length too long: most often feet taken for metres, or millimetres, or the decimal
/// mark taken for one of thousands.
fn why_too_long(text: &Excerpt, metres: &str) -> &'static str {
    let kilometres = metres
        .split('.')
        .next()
        .is_some_and(|whole| whole.len() > 3);
    if kilometres && text.as_str().contains(['.', ',']) {
        "is the decimal mark right (--decimal), and the unit?"
    } else if kilometres {
        "is the unit right (millimetres taken for metres)?"
    } else {
        "is the unit right (feet taken for metres)?"
    }
}

/// What makes a length too short: metres taken for millimetres, or a mark for thousands for the decimal
/// one.
fn why_too_short(text: &Excerpt) -> &'static str {
    if text.as_str().contains(['.', ',']) {
        "is the decimal mark right (--decimal), and the unit?"
    } else {
        "is the unit right (metres taken for millimetres)?"
    }
}

impl Problem {
    /// How far reading got before this problem, to choose which attempt explains best.
    pub(super) const fn reached(&self) -> u8 {
        match self {
            Self::NoHeader => 0,
            Self::NoLengthColumn { .. } | Self::NoJointColumn { .. } => 1,
            _ => 2,
        }
    }
}
