//! Figures that can be read from three metres: all of one size, each under its own label.

use crate::screens::parts::digits::DotSize;
use crate::screens::parts::pen::{Pen, cells, width};
use crate::screens::theme::{Role, Theme};

/// The least columns between two figures: wider than what is between the signs of one.
const BETWEEN: u16 = 4;

/// The columns between two figures of a size.
fn between(size: DotSize) -> u16 {
    BETWEEN.max(size.rows())
}

/// One large figure: what it is, the figure, and the words behind it.
#[derive(Clone, Debug)]
pub struct Large {
    pub label: String,
    pub text: String,
    pub after: Vec<String>,
    pub role: Role,
}

impl Large {
    /// The columns of the words behind it.
    fn after(&self) -> u16 {
        let words = self.after.iter().map(|word| width(word)).max();
        words.map_or(0, |words| cells(words + 2))
    }

    /// The columns that it takes in a size.
    fn width(&self, size: DotSize) -> Option<u16> {
        let label = cells(width(&self.label));
        Some((cells(size.width(&self.text)?) + self.after()).max(label))
    }
}

/// Whether rows of figures fit in a size.
fn fits(rows: &[Vec<Large>], size: DotSize, (wide, high): (u16, u16)) -> bool {
    let row_fits = |row: &Vec<Large>| {
        let widths: Option<Vec<u16>> = row.iter().map(|it| it.width(size)).collect();
        let between = between(size) * cells(row.len().saturating_sub(1));
        widths.is_some_and(|widths| widths.iter().sum::<u16>() + between <= wide)
    };
    let needed = (size.rows() + 1).saturating_mul(cells(rows.len()));
    needed <= high && rows.iter().all(row_fits)
}

/// Of several ways to set figures in rows, the one with the largest size that fits, the first where several do.
pub fn chosen(
    theme: &Theme,
    ways: &[Vec<Vec<Large>>],
    room: (u16, u16),
) -> Option<(Vec<Vec<Large>>, DotSize)> {
    let sizes: Vec<DotSize> = DotSize::all(theme).collect();
    sizes.into_iter().find_map(|size| {
        let mut ways = ways.iter();
        let way = ways.find(|way| fits(way, size, room))?;
        Some((way.clone(), size))
    })
}

/// Draws rows of figures, and gives the row after them.
pub fn draw(pen: &mut Pen<'_>, rows: &[Vec<Large>], size: DotSize) -> u16 {
    let mut y = 0;
    let high = size.rows();
    let spare = pen
        .area
        .height
        .saturating_sub((high + 1) * cells(rows.len()));
    let gap = (spare / cells(rows.len().max(1))).min(1 + high / 8);
    for row in rows {
        let mut x = 0;
        for figure in row {
            pen.text(x, y, &figure.label, Role::Label);
            let wide = pen.area.width.saturating_sub(x);
            let end = {
                let mut part = pen.part(x, y + 1, wide, high);
                size.write(&mut part, &figure.text, figure.role)
            };
            let first = y + 1 + high.saturating_sub(cells(figure.after.len()));
            for (row, word) in (first..).zip(&figure.after) {
                pen.text(x + end + 2, row, word, Role::Figure);
            }
            x += figure.width(size).unwrap_or(end) + between(size);
        }
        y += high + 1 + gap;
    }
    y
}
