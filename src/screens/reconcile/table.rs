//! The table of Reconcile: a row a thing of a joint, a column a list, and how far the lists agree.

use super::details::of_state;
use super::lookup::{ThingAt, list_in_front};
use crate::figures::SlotLists;
use crate::reconcile::Topic;
use crate::reconcile::many::{ListRow, State as Agreed};
use crate::report::words;
use crate::screens::parts::list::scroll;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The most columns of a joint's number.
const LABEL: usize = 16;
/// The most columns of how far lists agree, and the least.
const AGREEMENT: (usize, usize) = (17, 24);

/// A row that is in sight.
struct ShownRow<'a> {
    /// Its place among all things.
    at: usize,
    of: Topic,
    row: &'a ListRow,
    label: String,
    /// What each list says.
    says: Vec<String>,
    stands: String,
    agreement: String,
}

/// A column of a list.
struct ListColumn {
    list: usize,
    /// Its first and last columns.
    edges: (usize, usize),
    /// Letters behind the decimal point, and the point.
    decimals: usize,
}

/// Draws it: headings, the length of the string by each list, and the rows round the cursor. Gives the columns that
/// it takes.
pub fn draw(
    state: &State,
    pen: &mut Pen<'_>,
    all: &SlotLists,
    (things, at): (&[ThingAt], usize),
) -> u16 {
    let height = usize::from(pen.area.height).saturating_sub(2);
    let is_cut = things.len() > height;
    let height = height.saturating_sub(usize::from(is_cut));
    let first = scroll(at, things.len(), height);
    let in_sight = things.iter().copied().enumerate().skip(first).take(height);
    let rows: Vec<ShownRow<'_>> = in_sight
        .filter_map(|(at, thing)| shown(state, all, (at, at == first), thing))
        .collect();
    let labels = rows.iter().map(|it| width(&it.label));
    let labels = labels.chain([
        width(&string_label(state)),
        width(words::thing_label(Topic::Presence)) + 2,
    ]);
    let label_wide = labels.max().unwrap_or(0).min(LABEL) + 1;
    let agreements = rows.iter().map(|it| width(&it.agreement));
    let agreement_wide = agreements
        .max()
        .unwrap_or(0)
        .clamp(AGREEMENT.0, AGREEMENT.1)
        + 3;
    let room = usize::from(pen.area.width).saturating_sub(label_wide + agreement_wide + 2);
    let cursor = list_in_front(state);
    let columns = columns(state, all, &rows, (1 + label_wide, room, cursor));
    let agreement_at = columns.last().map_or(label_wide, |it| it.edges.1) + 2;
    headings(state, pen, all, &columns, agreement_at);
    if rows.is_empty() {
        pen.text(1, 3, words::ALL_AGREE, Role::Within);
    }
    for (y, row) in (2..).zip(&rows) {
        let is_here = row.at == at;
        let role = match (row.of, is_here) {
            (_, true) => Role::Title,
            (Topic::Length, false) => Role::Plain,
            _ => Role::Label,
        };
        if is_here {
            let here = pen.theme.glyphs.here;
            pen.sign(0, y, here, Role::Plain);
        }
        let mut part = pen.part(1, y, cells(label_wide), 1);
        part.text(0, 0, &row.label, role);
        for column in &columns {
            cell(pen, y, row, column);
            if is_here && column.list == cursor {
                let (from, to) = column.edges;
                pen.select(cells(from + 1), y, cells(to - from - 1));
            }
        }
        let role = of_state(row.row.state(row.of));
        let text = match role {
            Role::Label | Role::Plain => row.agreement.clone(),
            _ => format!(" {} ", row.agreement),
        };
        pen.text(cells(agreement_at), y, &text, role);
    }
    if is_cut {
        let below = things.len().saturating_sub(first + height);
        let text = format!(" {} ", words::more(first, below));
        pen.right(cells(height + 2), &text, Role::Label);
    }
    cells(agreement_at + agreement_wide)
}

fn shown<'a>(
    state: &State,
    all: &'a SlotLists,
    (at, is_first): (usize, bool),
    thing: ThingAt,
) -> Option<ShownRow<'a>> {
    let row = all.lists.rows.get(thing.row)?;
    let lists = 0..all.names.len();
    Some(ShownRow {
        at,
        of: thing.of,
        row,
        label: match thing.of {
            Topic::Length => row.joint.clone(),
            // The first row in sight names its joint in any case.
            of if is_first => format!("{} {}", row.joint, words::thing_label(of)),
            of => format!("  {}", words::thing_label(of)),
        },
        says: lists
            .map(|list| words::thing_cell(all, row, thing.of, list, state.show))
            .collect(),
        stands: words::thing_stands(all, row, thing.of, state.show),
        agreement: words::thing_agreement(all, row, thing.of),
    })
}

/// The columns that are in sight: the tally of record always, and of the others those round the cursor.
fn columns(
    state: &State,
    all: &SlotLists,
    rows: &[ShownRow<'_>],
    (from, room, cursor): (usize, usize, usize),
) -> Vec<ListColumn> {
    let of_list = |list: usize| {
        let total = all.lists.lengths.get(list).map(|it| state.show.number(*it));
        let says = rows.iter().filter_map(|row| row.says.get(list).cloned());
        let texts: Vec<String> = says
            .chain(total)
            .chain([all.name(list).to_owned()])
            .collect();
        let decimals = texts.iter().map(|it| decimals(it)).max().unwrap_or(0);
        let wide = |text: &String| match self::decimals(text) {
            0 => width(text),
            own => width(text) + decimals - own,
        };
        (texts.iter().map(wide).max().unwrap_or(0) + 2, decimals)
    };
    let widths: Vec<(usize, usize)> = (0..all.names.len()).map(of_list).collect();
    let mut x = from;
    in_sight(&widths, room, cursor)
        .into_iter()
        .filter_map(|list| {
            let (wide, decimals) = *widths.get(list)?;
            let edges = (x, x + wide);
            x += wide;
            Some(ListColumn {
                list,
                edges,
                decimals,
            })
        })
        .collect()
}

fn in_sight(widths: &[(usize, usize)], room: usize, cursor: usize) -> Vec<usize> {
    let Some((first, _)) = widths.first() else {
        return Vec::new();
    };
    let mut from = 1;
    loop {
        let mut left = room.saturating_sub(*first);
        let mut shown = vec![0];
        for (list, (wide, _)) in widths.iter().enumerate().skip(from) {
            if *wide > left {
                break;
            }
            left -= wide;
            shown.push(list);
        }
        if cursor < from || shown.contains(&cursor) || from + 1 >= widths.len() {
            return shown;
        }
        from += 1;
    }
}

fn string_label(state: &State) -> String {
    format!("string ({})", state.show.heading())
}

fn headings(
    state: &State,
    pen: &mut Pen<'_>,
    all: &SlotLists,
    columns: &[ListColumn],
    agreement_at: usize,
) {
    pen.text(1, 0, "joint", Role::Label);
    pen.text(1, 1, &string_label(state), Role::Label);
    let cursor = list_in_front(state);
    for column in columns {
        let role = if column.list == cursor {
            Role::Title
        } else {
            Role::Label
        };
        let name = all.name(column.list);
        pen.text(cells(column.edges.1 - width(name)), 0, name, role);
        let total = all.lists.lengths.get(column.list);
        let total = total.map_or_else(String::new, |it| state.show.number(*it));
        let at = starts_at(&total, column);
        pen.text(cells(at), 1, &total, Role::Figure);
    }
    let hidden = all.names.len() - columns.len();
    let heading = words::agreement_heading(hidden);
    pen.text(cells(agreement_at), 0, &heading, Role::Label);
}

fn cell(pen: &mut Pen<'_>, y: u16, row: &ShownRow<'_>, column: &ListColumn) {
    let text = row.says.get(column.list).map_or("", String::as_str);
    let mut against = row.row.against(row.of).iter();
    let line = if against.any(|it| it.list == column.list) {
        marked(text, &row.stands)
    } else if row.row.state(row.of) == Agreed::Agreed {
        StyledLine::of(text, Role::Plain)
    } else {
        StyledLine::of(text, Role::Figure)
    };
    pen.line(cells(starts_at(text, column)), y, &line);
}

/// Where a text starts so that numbers stand under each other on their decimal points.
fn starts_at(text: &str, column: &ListColumn) -> usize {
    let after = match decimals(text) {
        0 => 0,
        own => column.decimals - own.min(column.decimals),
    };
    column.edges.1.saturating_sub(width(text) + after)
}

/// How many letters stand behind the decimal point of a number, and the point.
fn decimals(text: &str) -> usize {
    let is_number = text.ends_with(|it: char| it.is_ascii_digit() || it == ')')
        && text.bytes().filter(|it| *it == b'.').count() == 1;
    let at = text.find('.').filter(|_| is_number);
    at.map_or(0, |at| text.len() - at)
}

/// A text whose letters are marked where they differ from what stands: numbers under each other on their decimal
/// points, so that a digit more is no difference of all digits.
fn marked(text: &str, stands: &str) -> StyledLine {
    let point = |text: &str| text.chars().position(|it| it == '.');
    let is_alike = match (point(text), point(stands)) {
        (Some(here), Some(there)) => here == there,
        (None, None) => text.chars().count() == stands.chars().count(),
        _ => false,
    };
    if !is_alike {
        return StyledLine::of(text, Role::Differs);
    }
    let mut line = StyledLine::default();
    let others = stands.chars().map(Some).chain(std::iter::repeat(None));
    for (letter, other) in text.chars().zip(others) {
        let is_same = other.is_none_or(|other| other == letter);
        let role = if is_same { Role::Figure } else { Role::Differs };
        match line.0.last_mut() {
            Some((part, known)) if *known == role => part.push(letter),
            _ => line.0.push((letter.to_string(), role)),
        }
    }
    line
}
