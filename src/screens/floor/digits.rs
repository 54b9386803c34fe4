//! Very large signs, three dots wide and five high, to be read from across the floor.

use crate::screens::parts::pen::{Pen, cells, width};
use crate::screens::theme::Role;

const HEIGHT: usize = 5;

/// The rows of a sign; `None` for one that there is none of.
fn rows(sign: char) -> Option<[&'static str; HEIGHT]> {
    Some(match sign.to_ascii_uppercase() {
        '0' => ["###", "# #", "# #", "# #", "###"],
        '1' => [" # ", "## ", " # ", " # ", "###"],
        '2' => ["###", "  #", "###", "#  ", "###"],
        '3' => ["###", "  #", "###", "  #", "###"],
        '4' => ["# #", "# #", "###", "  #", "  #"],
        '5' => ["###", "#  ", "###", "  #", "###"],
        '6' => ["###", "#  ", "###", "# #", "###"],
        '7' => ["###", "  #", "  #", "  #", "  #"],
        '8' => ["###", "# #", "###", "# #", "###"],
        '9' => ["###", "# #", "###", "  #", "###"],
        'A' => [" # ", "# #", "###", "# #", "# #"],
        'B' => ["## ", "# #", "## ", "# #", "## "],
        'C' => [" ##", "#  ", "#  ", "#  ", " ##"],
        'D' => ["## ", "# #", "# #", "# #", "## "],
        'E' => ["###", "#  ", "## ", "#  ", "###"],
        'F' => ["###", "#  ", "## ", "#  ", "#  "],
        'G' => [" ##", "#  ", "# #", "# #", " ##"],
        'H' => ["# #", "# #", "###", "# #", "# #"],
        'I' => ["###", " # ", " # ", " # ", "###"],
        'J' => ["  #", "  #", "  #", "# #", " # "],
        'K' => ["# #", "# #", "## ", "# #", "# #"],
        'L' => ["#  ", "#  ", "#  ", "#  ", "###"],
        'M' => ["#   #", "## ##", "# # #", "#   #", "#   #"],
        'N' => ["#  #", "## #", "# ##", "#  #", "#  #"],
        'O' => [" # ", "# #", "# #", "# #", " # "],
        'P' => ["## ", "# #", "## ", "#  ", "#  "],
        'Q' => [" # ", "# #", "# #", "###", " ##"],
        'R' => ["## ", "# #", "## ", "# #", "# #"],
        'S' => [" ##", "#  ", " # ", "  #", "## "],
        'T' => ["###", " # ", " # ", " # ", " # "],
        'U' => ["# #", "# #", "# #", "# #", "###"],
        'V' => ["# #", "# #", "# #", "# #", " # "],
        'W' => ["#   #", "#   #", "# # #", "## ##", "#   #"],
        'X' => ["# #", "# #", " # ", "# #", "# #"],
        'Y' => ["# #", "# #", " # ", " # ", " # "],
        'Z' => ["###", "  #", " # ", "#  ", "###"],
        '-' => ["   ", "   ", "###", "   ", "   "],
        '+' => ["   ", " # ", "###", " # ", "   "],
        '.' => [" ", " ", " ", " ", "#"],
        '\'' => ["#", "#", " ", " ", " "],
        '"' => ["# #", "# #", "   ", "   ", "   "],
        '/' => ["  #", "  #", " # ", "#  ", "#  "],
        ' ' => [" ", " ", " ", " ", " "],
        _ => return None,
    })
}

/// Cells of one dot, wide and high, the largest first. The last is narrow, for long texts.
const DOTS: [(usize, usize); 5] = [(8, 4), (6, 3), (4, 2), (2, 1), (1, 1)];

/// How many cells a text is wide with dots of a width; `None` where a sign is missing.
fn extent(text: &str, dot: usize) -> Option<usize> {
    let mut total = 0;
    for sign in text.chars() {
        let dots = rows(sign)?.first().map_or(0, |row| row.len());
        total += dots * dot + gap(dot);
    }
    Some(total.saturating_sub(gap(dot)))
}

/// The cells between two signs.
fn gap(dot: usize) -> usize {
    (dot / 2).max(1)
}

/// The width of a text at the size of one row a dot, as far as all its signs are known.
pub fn plain_extent(text: &str) -> Option<u16> {
    extent(text, 2).map(cells)
}

/// Writes a text as large as fits into the part, and gives its width and height in cells. What is
/// too long or has other signs is written as it is.
pub fn write(pen: &mut Pen<'_>, text: &str, role: Role) -> (u16, u16) {
    let (room, height) = (usize::from(pen.area.width), usize::from(pen.area.height));
    let fits = |(wide, high): &(usize, usize)| {
        HEIGHT * high <= height && extent(text, *wide).is_some_and(|width| width <= room)
    };
    let Some((wide, high)) = DOTS.into_iter().find(fits) else {
        // At least the eye is led to it.
        let middle = 2.min(pen.area.height.saturating_sub(1));
        pen.text(0, middle, text, Role::Selected);
        return (cells(width(text)), cells(HEIGHT).min(pen.area.height));
    };
    let block = pen.theme.glyphs.block;
    let mut x = 0;
    for sign in text.chars() {
        let Some(rows) = rows(sign) else { continue };
        let mut dots = 0;
        for (row, line) in rows.iter().enumerate() {
            dots = line.len();
            for (column, _) in line.char_indices().filter(|(_, dot)| *dot == '#') {
                let cells_of_dot = (0..wide).flat_map(|dx| (0..high).map(move |dy| (dx, dy)));
                for (dx, dy) in cells_of_dot {
                    let (x, y) = (x + column * wide + dx, row * high + dy);
                    pen.sign(cells(x), cells(y), block, role);
                }
            }
        }
        x += dots * wide + gap(wide);
    }
    (cells(x.saturating_sub(gap(wide))), cells(HEIGHT * high))
}
