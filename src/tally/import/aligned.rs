//! Text whose columns are lined up by spaces, as old programs print it.

use super::cell_text::{is_figure, is_joint_like, starts_as_number};
use super::error::Problem;
use super::grid::Grid;
use super::headings::HeadingRole;
use super::limits::{Limit, MAX_GRID, MAX_ROW, MAX_ROWS};
use super::question::Question;
use super::synonyms::{Field, recognise, split_heading};
use crate::measure::Excerpt;

/// Title blocks are not longer than this many lines.
const HEADER_WITHIN: usize = 400;

/// Most pieces that are asked about.
const MOST: usize = 40;

/// A text between gaps of two or more spaces, with the places of its first letter and of what follows its
/// last, counted in letters.
#[derive(Clone, Copy)]
struct Piece<'t> {
    from: usize,
    to: usize,
    text: &'t str,
}

/// The cells of a text that has a header whose headings two or more spaces set apart; `None` without one.
pub(super) fn grid(text: &str) -> Option<Result<Grid<'static>, Vec<Problem>>> {
    let lines = || (1_u32..).zip(text.lines());
    let beyond = |line, limit| Some(Err(vec![Problem::Beyond { line, limit }]));
    if let Some((line, _)) = lines().find(|(_, text)| text.len() > MAX_ROW) {
        return beyond(line, Limit::Row);
    }
    let header = lines().take(HEADER_WITHIN).find_map(|(line, text)| {
        let pieces = pieces(text);
        names_columns(&pieces).then_some((line, pieces))
    })?;
    let (header_line, headings) = header;
    let mut grid = Grid::of_cells(text.len());
    let mut problems = Vec::new();
    // Rows with fewer texts than headings, and whether texts were taken in turn: then nobody can tell which is
    // missing.
    let (mut short, mut in_turn) = (Vec::new(), false);
    for (line, text) in lines() {
        if grid.len() >= MAX_ROWS {
            return beyond(line, Limit::Rows);
        }
        if grid.bytes() > MAX_GRID {
            return beyond(line, Limit::Memory);
        }
        if problems.len() >= MOST {
            break;
        }
        let pieces = pieces(text);
        if pieces.is_empty() {
            grid.push_blanks(line, 1);
        } else if line < header_line {
            grid.push_cells(pieces.iter().map(|piece| piece.text), line);
        } else {
            let not_aligned = |piece: &Piece<'_>| -> Problem {
                Question::NotAligned {
                    line,
                    text: Excerpt::of(piece.text),
                }
                .into()
            };
            match place(&headings, &pieces) {
                Ok(cells) => {
                    grid.push_cells(cells.iter().map(String::as_str), line);
                    let is_short = pieces.len() < headings.len() && !is_note(&pieces);
                    if is_short && short.len() < MOST {
                        short.extend(pieces.last().map(not_aligned));
                    }
                }
                // As many texts as headings are those of the headings, wherever they stand.
                Err(_) if pieces.len() == headings.len() => {
                    grid.push_cells(pieces.iter().map(|piece| piece.text), line);
                    in_turn = true;
                }
                Err(_) if is_note(&pieces) => {
                    grid.push_cells([text.trim()].into_iter(), line);
                }
                Err(piece) => problems.push(not_aligned(&piece)),
            }
        }
    }
    if in_turn {
        problems.append(&mut short);
    }
    problems.truncate(MOST);
    Some(if problems.is_empty() {
        Ok(grid)
    } else {
        Err(problems)
    })
}

/// A header whose words single spaces set apart.
pub(super) fn single_spaces(text: &str) -> Option<Problem> {
    let names = |line: &str| {
        let (mut joint, mut length) = (false, false);
        for word in line.split_whitespace() {
            match recognise(&split_heading(word).0) {
                Some((Field::Joint, _)) => joint = true,
                Some((Field::Overall | Field::EitherLength | Field::Effective, _)) => length = true,
                _ => {}
            }
        }
        joint && length && !line.contains([',', ';', '\t', '|'])
    };
    (1_u32..)
        .zip(text.lines().take(HEADER_WITHIN))
        .find(|(_, line)| names(line))
        .map(|(line, _)| Question::SingleSpaces { line }.into())
}

/// A line that does not begin as a joint's row does.
fn is_note(pieces: &[Piece<'_>]) -> bool {
    let figure = pieces.iter().skip(1).any(|piece| is_figure(piece.text));
    let joint = pieces.first().is_some_and(|piece| {
        let first = piece.text.split(' ').next().unwrap_or_default();
        is_joint_like(first)
    });
    !figure && !joint
}

fn pieces(line: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    // The first letter of the piece so far, its byte, and what follows its last letter that is no space.
    let mut begun: Option<(usize, usize)> = None;
    let mut end = (0_usize, 0_usize);
    let mut take = |begun: Option<(usize, usize)>, end: (usize, usize)| {
        if let Some((from, byte)) = begun {
            pieces.extend(line.get(byte..end.1).map(|text| Piece {
                from,
                to: end.0,
                text,
            }));
        }
    };
    for (place, (byte, letter)) in line.char_indices().enumerate() {
        if letter.is_whitespace() {
            continue;
        }
        if begun.is_none() || place > end.0 + 1 {
            take(begun, end);
            begun = Some((place, byte));
        }
        end = (place + 1, byte + letter.len_utf8());
    }
    take(begun, end);
    pieces
}

fn names_columns(pieces: &[Piece<'_>]) -> bool {
    let any = |wanted: fn(Field) -> bool| {
        pieces.iter().any(|piece| {
            HeadingRole::of_heading(piece.text)
                .field
                .is_some_and(wanted)
        })
    };
    any(|field| field == Field::Joint)
        && any(|field| {
            matches!(
                field,
                Field::Overall | Field::EitherLength | Field::Effective
            )
        })
        && !pieces.iter().any(|piece| starts_as_number(piece.text))
}

/// Each piece under its heading; the first that is under several, or under none, where it cannot be.
fn place<'t>(headings: &[Piece<'_>], pieces: &[Piece<'t>]) -> Result<Vec<String>, Piece<'t>> {
    let mut cells = vec![String::new(); headings.len()];
    for piece in pieces {
        let over = |heading: &Piece<'_>| piece.from < heading.to && heading.from < piece.to;
        let mut under = (0..headings.len()).filter(|at| headings.get(*at).is_some_and(over));
        let at = match (under.next(), under.next()) {
            (Some(at), None) => at,
            // A remark runs on under what is right of it, but a figure does not.
            (Some(_), Some(_)) => return Err(*piece),
            (None, _) => nearest(headings, piece).ok_or(*piece)?,
        };
        let Some(cell) = cells.get_mut(at) else {
            return Err(*piece);
        };
        if cell.is_empty() {
            cell.push_str(piece.text);
        } else if at + 1 == headings.len() && !is_figure(piece.text) {
            cell.push(' ');
            cell.push_str(piece.text);
        } else {
            return Err(*piece);
        }
    }
    Ok(cells)
}

/// The heading beside which a piece stands, if no other is nearly as near.
fn nearest(headings: &[Piece<'_>], piece: &Piece<'_>) -> Option<usize> {
    let distance = |heading: &Piece<'_>| {
        if heading.from >= piece.to {
            heading.from - piece.to
        } else {
            piece.from.saturating_sub(heading.to)
        }
    };
    let mut all: Vec<(usize, usize)> = headings.iter().map(distance).zip(0..).collect();
    all.sort_unstable();
    let (first, at) = *all.first()?;
    let alone = all.get(1).is_none_or(|(second, _)| first * 2 < *second);
    alone.then_some(at)
}
