//! Which decimal mark a file uses: what is stated, else what its numbers show, else a question.

use super::error::Problem;
use super::grid::Grid;
use super::place::CellRef;
use super::problems::Problems;
use super::rows::{RowKind, Rows};
use super::synonyms::Field;
use super::table::TallyTable;
use crate::measure::{
    DecimalMark, Excerpt, LengthError, MAX_JOINT, MIN_JOINT, ParseOptions, Unit, is_gap,
    read_length,
};

/// What one number shows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum MarkSeen {
    Nothing,
    Point,
    Comma,
    /// `12,192`: a decimal, or twelve thousand.
    EitherComma,
    /// `12.192`: the same with a point.
    EitherPoint,
}

/// The decimal mark of a file.
pub(super) fn settle(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    stated: Option<DecimalMark>,
    problems: &mut Problems,
) -> DecimalMark {
    if let Some(mark) = stated {
        return mark;
    }
    let columns: Vec<usize> = (0..table.width())
        .filter(|column| table.field(*column).is_some_and(Field::is_length))
        .collect();
    let mut first: [Option<(usize, usize)>; 4] = [None; 4];
    let [point, comma, either_comma, either_point] = &mut first;
    for (row, kind) in rows.iter() {
        // Between commas no cell holds one, so that a point once seen is the mark.
        if point.is_some() && grid.is_between_commas(row) {
            continue;
        }
        if !matches!(
            kind,
            RowKind::Joint | RowKind::Total | RowKind::Forward | RowKind::LengthWithoutJoint
        ) {
            continue;
        }
        for column in &columns {
            // What a workbook keeps as a number was never written with a mark.
            if grid.is_number(row, *column) {
                continue;
            }
            let seen = match mark_seen(grid.cell(row, *column)) {
                MarkSeen::Nothing => continue,
                MarkSeen::Point => &mut *point,
                MarkSeen::Comma => &mut *comma,
                MarkSeen::EitherComma => &mut *either_comma,
                MarkSeen::EitherPoint => &mut *either_point,
            };
            seen.get_or_insert((row, *column));
        }
    }
    let at = |(row, column): (usize, usize)| -> (CellRef, Excerpt) {
        (table.at(grid, row, column), grid.excerpt(row, column))
    };
    match (*point, *comma) {
        (Some(point), Some(comma)) => {
            let ((comma_at, comma), (point_at, point)) = (at(comma), at(point));
            let point_line = point_at.line;
            problems.push(Problem::DecimalConflict {
                comma_at,
                comma,
                point_line,
                point,
            });
            return DecimalMark::Point;
        }
        (Some(_), None) => return DecimalMark::Point,
        (None, Some(_)) => return DecimalMark::Comma,
        (None, None) => {}
    }
    let in_millimetres =
        |(_, column): &(usize, usize)| table.unit(*column) == Some(Unit::Millimetre);
    let Some(doubtful) = (*either_comma).or(either_point.filter(in_millimetres)) else {
        return DecimalMark::Point;
    };
    match possible(grid, table, rows) {
        Possible::Only(mark) => mark,
        // Once the unit is known, one of the two is most often impossible: that is asked instead.
        Possible::NoUnit => DecimalMark::Point,
        Possible::Both => {
            let (at, text) = at(doubtful);
            problems.push(Problem::DecimalQuestion { at, text });
            DecimalMark::Point
        }
    }
}

/// Under which marks the lengths of all joints are possible.
enum Possible {
    /// Under this one alone.
    Only(DecimalMark),
    /// Under both or none.
    Both,
    /// Nobody can tell without a unit.
    NoUnit,
}

/// Reads the doubtful lengths either way: no joint is shorter than 50 mm or longer than 30 m.
fn possible(grid: &Grid, table: &TallyTable, rows: &Rows) -> Possible {
    let column = table.length();
    let (mut any, mut point, mut comma) = (false, true, true);
    for row in rows.joints() {
        let text = grid.cell(row, column);
        // Nothing certain was found, so that every mark is doubtful.
        let is_doubtful = !grid.is_number(row, column) && text.contains(['.', ',']);
        if !is_doubtful {
            continue;
        }
        any = true;
        for (mark, stays) in [
            (DecimalMark::Point, &mut point),
            (DecimalMark::Comma, &mut comma),
        ] {
            let rules = ParseOptions {
                bare: table.unit(column),
                decimal: mark,
            };
            match read_length(text, &rules) {
                Ok(read) => *stays &= (MIN_JOINT..=MAX_JOINT).contains(&read.length),
                Err(LengthError::NoUnit(_)) => return Possible::NoUnit,
                Err(_) => *stays = false,
            }
        }
    }
    match (point, comma) {
        (true, false) if any => Possible::Only(DecimalMark::Point),
        (false, true) if any => Possible::Only(DecimalMark::Comma),
        _ => Possible::Both,
    }
}

/// What the number in a cell shows of the decimal mark: in one pass, for it reads every cell.
///
/// A single mark is certainly a decimal mark unless one to three digits, no leading zero, are
/// before it and exactly three after it.
fn mark_seen(cell: &str) -> MarkSeen {
    let number = cell.trim_start_matches(['-', '+', '\u{2212}', ' ']);
    let (mut points, mut commas) = (0, 0);
    let (mut before_mark, mut after_mark, mut last) = (0, 0, b'.');
    for (at, byte) in number.bytes().enumerate() {
        match byte {
            b'0'..=b'9' => after_mark += 1,
            b'.' | b',' => {
                points += u32::from(byte == b'.');
                commas += u32::from(byte == b',');
                (before_mark, after_mark, last) = (at, 0, byte);
            }
            b' ' | b'\'' | 0x80.. if points + commas == 0 => return mark_after_gaps(number),
            _ => break,
        }
    }
    let could_group = (1..=3).contains(&before_mark) && !number.starts_with('0') && after_mark == 3;
    match (points, commas) {
        (0, 0) => MarkSeen::Nothing,
        (1, 0) if could_group => MarkSeen::EitherPoint,
        (0, 1) if could_group => MarkSeen::EitherComma,
        // Marks that repeat group thousands; of two kinds the last is the decimal one.
        (1, 0) | (0, 2..) => MarkSeen::Point,
        (0, 1) | (2.., 0) => MarkSeen::Comma,
        _ if last == b'.' => MarkSeen::Point,
        _ => MarkSeen::Comma,
    }
}

/// The same where spaces or apostrophes may set thousands apart: then no point or comma does.
#[cold]
fn mark_after_gaps(number: &str) -> MarkSeen {
    let mut gaps = false;
    for (at, letter) in number.char_indices() {
        let rest = number.get(at + letter.len_utf8()..).unwrap_or_default();
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        match letter {
            '0'..='9' => {}
            letter if is_gap(letter) && digits == 3 => gaps = true,
            '.' if gaps => return MarkSeen::Point,
            ',' if gaps => return MarkSeen::Comma,
            _ => break,
        }
    }
    MarkSeen::Nothing
}
