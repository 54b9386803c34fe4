//! Very large signs, three dots wide and five high, to be read from across the floor.

use super::pen::{Pen, cells, width};
use super::theme::Role;

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

/// How many cells a text is wide at a scale; `None` where a sign is missing.
fn extent(text: &str, scale: usize) -> Option<usize> {
    let mut total = 0;
    for sign in text.chars() {
        let dots = rows(sign)?.first().map_or(0, |row| row.len());
        total += (dots * 2 + 1) * scale;
    }
    Some(total.saturating_sub(scale))
}

/// Writes a text as large as fits into the part, and gives its width and height in cells. What is
/// too long or has other signs is written as it is.
pub(super) fn write(pen: &mut Pen<'_>, text: &str, role: Role) -> (u16, u16) {
    let (room, height) = (usize::from(pen.area.width), usize::from(pen.area.height));
    let fits = |scale: &usize| {
        HEIGHT * scale <= height && extent(text, *scale).is_some_and(|width| width <= room)
    };
    let Some(scale) = (1..=4).rev().find(fits) else {
        // At least the eye is led to it.
        pen.text(
            0,
            2.min(pen.area.height.saturating_sub(1)),
            text,
            Role::Selected,
        );
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
                for (dx, dy) in (0..2 * scale).flat_map(|dx| (0..scale).map(move |dy| (dx, dy))) {
                    let x = x + column * 2 * scale + dx;
                    pen.sign(cells(x), cells(row * scale + dy), block, role);
                }
            }
        }
        x += (dots * 2 + 1) * scale;
    }
    (cells(x.saturating_sub(scale)), cells(HEIGHT * scale))
}
