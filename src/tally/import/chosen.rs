//! Columns that the person who reads a file names, whatever their headings say.

use super::grid::Grid;
use super::headings::HeadingRole;
use super::options::ColumnChoice;
use super::place::column_of_letters;
use super::synonyms::{Field, normalise, split_heading};
use crate::measure::Unit;

/// Gives the columns that were named their roles, or says which of them is not there.
pub(super) fn choose<'o>(
    roles: &mut Vec<HeadingRole>,
    grid: &Grid,
    row: usize,
    choices: &'o [ColumnChoice],
) -> Result<(), &'o ColumnChoice> {
    let mut columns = Vec::with_capacity(choices.len());
    for choice in choices {
        columns.push((
            place(roles, grid, row, &choice.place).ok_or(choice)?,
            choice,
        ));
    }
    for (column, choice) in columns {
        while roles.len() <= column {
            roles.push(HeadingRole::of_heading(""));
        }
        let field = choice.role.field();
        for role in roles.iter_mut() {
            let is_same = role.field == Some(field)
                || (field == Field::Overall && role.field == Some(Field::EitherLength));
            if is_same {
                role.field = None;
            }
        }
        if let Some(role) = roles.get_mut(column) {
            // Feet with inches beside them stay one length.
            if role.is_feet() {
                role.unit = Some(Unit::Foot);
            }
            role.field = Some(field);
            role.rank = 0;
        }
    }
    Ok(())
}

/// A column by its heading, its number or its letters, in this order.
fn place(roles: &[HeadingRole], grid: &Grid, row: usize, text: &str) -> Option<usize> {
    let wanted = normalise(text);
    let (name, _) = split_heading(text);
    let whole = |role: &HeadingRole| normalise(&role.heading) == wanted;
    let bare = |role: &HeadingRole| role.name == name;
    let by_heading = || {
        roles
            .iter()
            .position(whole)
            .or_else(|| roles.iter().position(bare))
    };
    if !wanted.is_empty()
        && let Some(column) = by_heading()
    {
        return Some(column);
    }
    let column = match text.parse::<usize>() {
        Ok(number) => number.checked_sub(1)?,
        Err(_) => column_of_letters(text)?,
    };
    let is_there = column < roles.len() || column < grid.widest_from(row);
    is_there.then_some(column)
}
