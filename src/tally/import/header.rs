//! Which row is the header of the table.

use super::cell_text::starts_as_number;
use super::chosen::choose;
use super::error::Problem;
use super::grid::Grid;
use super::headings::{HeadingRole, of_two_rows};
use super::options::Options;
use super::side_by_side::SideBySide;
use super::synonyms::Field;
use crate::measure::{Excerpt, listed};

/// Title blocks are not longer than this many rows.
const HEADER_WITHIN: usize = 400;

/// How far under a header that is not known by its headings its first joint must be: a row of units may
/// be between.
const JOINT_WITHIN: usize = 2;

/// A header.
pub(super) struct Header {
    /// Its row.
    pub(super) row: usize,
    /// The second row of a header of two rows.
    pub(super) second: Option<usize>,
    /// What its headings say.
    pub(super) roles: Vec<HeadingRole>,
    /// Tables side by side, as the headings alone tell.
    pub(super) tables: Option<SideBySide>,
}

/// Finds the first header; of several above the lines that are read, the last.
pub(super) fn locate(grid: &Grid, options: &Options) -> Result<Header, Vec<Problem>> {
    let mut nearly = None;
    let mut found = None;
    let first_line = options.rows.map_or(0, |rows| rows.first);
    for row in 0..grid.len() {
        let is_above = grid.line(row) <= first_line;
        if !is_above && (row >= HEADER_WITHIN || found.is_some()) {
            break;
        }
        // `Joints, 13, Length, 145.2 m` above a table names columns but is no header.
        if grid.width(row) < 2 || grid.cells(row).any(starts_as_number) {
            continue;
        }
        let mut roles: Vec<HeadingRole> = grid.cells(row).map(HeadingRole::of_heading).collect();
        let two_rows = of_two_rows(grid, row, &roles);
        let second = two_rows.is_some().then_some(row + 1);
        roles = two_rows.unwrap_or(roles);
        let is_header = names_joint(&roles) && names_length(&roles);
        let tables = SideBySide::of(&roles);
        match choose(&mut roles, grid, row, &options.columns) {
            Ok(()) if is_header || heads_joints(grid, row, &roles) => {
                found = Some(Header {
                    row,
                    second,
                    roles,
                    tables,
                });
                continue;
            }
            Err(choice) if is_header && nearly.is_none() => {
                nearly = Some(Problem::NoSuchColumn {
                    role: choice.role.word(),
                    place: Excerpt::of(&choice.place),
                    line: grid.line(row),
                    found: headings(grid, row),
                });
            }
            _ => {}
        }
        let length = names_length(&roles);
        let sure_joint = roles
            .iter()
            .any(|role| role.field == Some(Field::Joint) && role.rank == 0);
        if nearly.is_none() && !is_header && (length || sure_joint) {
            let (line, found) = (grid.line(row), headings(grid, row));
            nearly = Some(if length {
                Problem::NoJointColumn { line, found }
            } else {
                Problem::NoLengthColumn { line, found }
            });
        }
    }
    found.ok_or_else(|| vec![nearly.unwrap_or(Problem::NoHeader)])
}

fn headings(grid: &Grid, row: usize) -> String {
    let named = grid.cells(row).filter(|cell| !cell.is_empty());
    listed(named.map(Excerpt::of))
}

fn names_joint(roles: &[HeadingRole]) -> bool {
    roles.iter().any(|role| role.field == Some(Field::Joint))
}

fn names_length(roles: &[HeadingRole]) -> bool {
    let feet_and_inches = roles
        .windows(2)
        .any(|pair| matches!(pair, [feet, inches] if feet.is_feet() && inches.is_inches()));
    feet_and_inches
        || roles.iter().any(|role| {
            matches!(
                role.field,
                Some(Field::Overall | Field::EitherLength | Field::Effective)
            )
        })
}

/// Whether the rows right under a row hold a joint in the columns that were named. Without that any title
/// would do for a header once letters name the columns.
fn heads_joints(grid: &Grid, row: usize, roles: &[HeadingRole]) -> bool {
    let column = |fields: &[Field]| {
        roles
            .iter()
            .position(|role| role.field.is_some_and(|field| fields.contains(&field)))
    };
    let (Some(joint), Some(length)) = (
        column(&[Field::Joint]),
        column(&[Field::Overall, Field::EitherLength, Field::Effective]),
    ) else {
        return false;
    };
    (row + 1..grid.len())
        .filter(|below| !grid.is_blank(*below))
        .take(JOINT_WITHIN)
        .any(|below| {
            !grid.cell(below, joint).is_empty() && starts_as_number(grid.cell(below, length))
        })
}
