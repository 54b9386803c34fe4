//! A drawing in half cells: each cell is two squares, one above the other, so that heights have twice the rows. Where
//! there are no colours a cell has the sign of the most important thing in it.

use super::pen::Pen;
use crate::screens::theme::{Glyphs, Role};

/// Squares of a part of the frame, two in each cell.
pub struct Canvas {
    columns: u16,
    squares: Vec<Option<Role>>,
}

/// How much something matters where two share a cell without colours.
fn weight(role: Role) -> u8 {
    match role {
        Role::Cut => 4,
        Role::Shoulder => 3,
        Role::Accessory => 2,
        Role::Label => 1,
        _ => 0,
    }
}

fn sign(glyphs: &Glyphs, role: Role) -> char {
    match role {
        Role::Cut => glyphs.cut,
        Role::Shoulder => glyphs.shoulder,
        Role::Accessory => glyphs.accessory,
        Role::Label => glyphs.bar,
        _ => glyphs.steel,
    }
}

impl Canvas {
    /// Nothing is drawn on it yet.
    pub fn new(columns: u16, rows: u16) -> Self {
        Self {
            columns,
            squares: vec![None; usize::from(columns) * usize::from(rows) * 2],
        }
    }

    /// Fills squares; what lies outside is left out.
    pub fn fill(
        &mut self,
        columns: std::ops::Range<u16>,
        squares: std::ops::Range<u16>,
        role: Option<Role>,
    ) {
        for row in squares {
            for column in columns.start..columns.end.min(self.columns) {
                let at = usize::from(row) * usize::from(self.columns) + usize::from(column);
                if let Some(square) = self.squares.get_mut(at) {
                    *square = role;
                }
            }
        }
    }

    /// Draws it over what is there.
    pub fn draw(&self, pen: &mut Pen<'_>) {
        let wide = usize::from(self.columns).max(1);
        let glyphs = pen.theme.glyphs;
        for (y, rows) in (0..).zip(self.squares.chunks(2 * wide)) {
            let (above, below) = rows.split_at(wide.min(rows.len()));
            for (x, (upper, lower)) in (0..).zip(above.iter().zip(below)) {
                let heavier = match (*upper, *lower) {
                    (None, None) => continue,
                    (Some(one), Some(other)) if weight(one) >= weight(other) => one,
                    (_, Some(other)) => other,
                    (Some(one), None) => one,
                };
                if !pen.theme.has_colour() || pen.theme.is_ascii() {
                    pen.sign(x, y, sign(glyphs, heavier), heavier);
                    continue;
                }
                match (*upper, *lower) {
                    (Some(one), Some(other)) if one == other => pen.sign(x, y, glyphs.block, one),
                    (Some(one), Some(other)) => pen.halves(x, y, (one, other)),
                    (Some(one), None) => pen.sign(x, y, glyphs.upper, one),
                    (None, Some(other)) => pen.sign(x, y, glyphs.lower, other),
                    (None, None) => {}
                }
            }
        }
    }

    /// Draws it with full cells wherever anything is, for letters: where there are no colours too.
    pub fn draw_solid(&self, pen: &mut Pen<'_>) {
        let wide = usize::from(self.columns).max(1);
        let glyphs = pen.theme.glyphs;
        for (y, rows) in (0..).zip(self.squares.chunks(2 * wide)) {
            let (above, below) = rows.split_at(wide.min(rows.len()));
            for (x, squares) in (0..).zip(above.iter().zip(below)) {
                match squares {
                    (Some(role), Some(_)) => pen.sign(x, y, glyphs.block, *role),
                    (Some(role), None) => pen.sign(x, y, glyphs.upper, *role),
                    (None, Some(role)) => pen.sign(x, y, glyphs.lower, *role),
                    (None, None) => {}
                }
            }
        }
    }
}
