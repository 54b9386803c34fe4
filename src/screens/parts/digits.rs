//! Very large signs, three dots wide and five high, to be read from across the floor.

use super::canvas::Canvas;
use super::pen::{Pen, cells};
use crate::screens::theme::{Role, Theme};

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
        // Wider than figures, so that none of them is taken for one.
        'B' => ["### ", "#  #", "### ", "#  #", "### "],
        'C' => [" ##", "#  ", "#  ", "#  ", " ##"],
        'D' => ["### ", "#  #", "#  #", "#  #", "### "],
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
        'O' => [" ## ", "#  #", "#  #", "#  #", " ## "],
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
        ',' => [" ", " ", " ", "#", "#"],
        '\'' => ["#", "#", " ", " ", " "],
        '"' => ["# #", "# #", "   ", "   ", "   "],
        '/' => ["  #", "  #", " # ", "#  ", "#  "],
        ' ' => ["   ", "   ", "   ", "   ", "   "],
        _ => return None,
    })
}

/// The size of the dots of large figures: so many columns and so many half rows. As many of both make them square; half
/// as many columns make narrow signs of the same height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DotSize {
    columns: usize,
    squares: usize,
}

impl DotSize {
    /// The sizes that a theme can draw, the highest first and of two the wider.
    pub fn all(theme: &Theme) -> impl Iterator<Item = Self> {
        let has_halves = theme.has_colour() && !theme.is_ascii();
        let sizes = [
            (8, 8),
            (4, 8),
            (6, 6),
            (3, 6),
            (5, 5),
            (4, 4),
            (2, 4),
            (3, 3),
            (2, 2),
            (1, 2),
            (1, 1),
        ];
        let fits = move |(columns, squares): &(usize, usize)| {
            squares % 2 == 0 || (has_halves && columns == squares)
        };
        let sizes = sizes.into_iter().filter(fits);
        sizes.map(|(columns, squares)| Self { columns, squares })
    }

    /// The largest in which each text fits its own room of columns, and all are no higher than so many rows.
    pub fn fitting(theme: &Theme, texts: &[(&str, u16)], rows: u16) -> Option<Self> {
        let mut sizes = Self::all(theme);
        sizes.find(|size| {
            let all_fit = texts.iter().all(|(text, room)| {
                size.width(text)
                    .is_some_and(|width| width <= usize::from(*room))
            });
            all_fit && size.rows() <= rows
        })
    }

    /// The rows of a figure.
    pub fn rows(self) -> u16 {
        cells((HEIGHT * self.squares).div_ceil(2))
    }

    /// The columns of a text; `None` where it has a sign that there is none of.
    pub fn width(self, text: &str) -> Option<usize> {
        let mut total = 0;
        for sign in text.chars() {
            let dots = rows(sign)?.first().map_or(0, |row| row.len());
            total += (dots + 1) * self.columns;
        }
        Some(total.saturating_sub(self.columns))
    }

    /// Writes a text at the upper left of the part, and gives the column after it.
    pub fn write(self, pen: &mut Pen<'_>, text: &str, role: Role) -> u16 {
        let mut canvas = Canvas::new(pen.area.width, self.rows());
        let mut x = 0;
        for sign in text.chars() {
            let Some(rows) = rows(sign) else { continue };
            let mut dots = 0;
            for (row, line) in rows.iter().enumerate() {
                dots = line.len();
                for (column, _) in line.char_indices().filter(|(_, dot)| *dot == '#') {
                    let from = cells(x + column * self.columns);
                    let above = cells(row * self.squares);
                    let columns = from..from + cells(self.columns);
                    canvas.fill(columns, above..above + cells(self.squares), Some(role));
                }
            }
            x += (dots + 1) * self.columns;
        }
        canvas.draw_solid(pen);
        cells(x.saturating_sub(self.columns))
    }
}
