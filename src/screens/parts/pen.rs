//! Writing into the frame: every call clips, so that no size of terminal can go wrong.

use std::borrow::Cow;

use crate::measure::visible;
use crate::screens::action::Action;
use crate::screens::targets::Targets;
use crate::screens::theme::{Role, Theme};
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use unicode_width::UnicodeWidthStr;

/// A coordinate from a count, as large as there is.
pub fn cells(count: usize) -> u16 {
    u16::try_from(count).unwrap_or(u16::MAX)
}

/// How many cells a text takes.
pub fn width(text: &str) -> usize {
    // Nearly every text is ASCII, each letter of which takes a cell.
    if text.is_ascii() {
        text.len()
    } else {
        text.width()
    }
}

/// A text for terminals that have letters alone: what they have no sign for is a question mark.
fn ascii(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            letter if letter.is_ascii() => plain.push(letter),
            '\u{b1}' => plain.push_str("+/-"),
            '\u{b7}' => plain.push('.'),
            '\u{d7}' => plain.push('x'),
            _ => plain.push('?'),
        }
    }
    plain
}

/// A line of text with roles.
#[derive(Clone, Debug, Default)]
pub struct StyledLine(pub Vec<(String, Role)>);

impl StyledLine {
    pub fn of(text: impl Into<String>, role: Role) -> Self {
        Self::default().and(text, role)
    }

    #[must_use]
    pub fn and(mut self, text: impl Into<String>, role: Role) -> Self {
        let text = text.into();
        // As wide as it will be drawn, tabs in a line that a person wrote as spaces.
        let shown = match visible(&text) {
            Cow::Owned(_) => Some(visible(&text.replace('\t', "  ")).into_owned()),
            Cow::Borrowed(_) => None,
        };
        self.0.push((shown.unwrap_or(text), role));
        self
    }

    /// The parts of another line after its own.
    #[must_use]
    pub fn with(mut self, other: Self) -> Self {
        self.0.extend(other.0);
        self
    }

    pub fn width(&self) -> usize {
        self.0.iter().map(|(text, _)| width(text)).sum()
    }

    /// The line broken between its parts, or inside a long part at spaces; later lines start under
    /// an indent.
    pub fn wrapped(self, limit: usize, indent: usize) -> Vec<Self> {
        if self.width() <= limit || limit <= indent + 8 {
            return vec![self];
        }
        let mut lines = Vec::new();
        let mut line = Self::default();
        let mut used = 0;
        for (text, role) in self.0 {
            let whole = width(&text) <= 48.min(limit - indent);
            let words = if whole {
                vec![text.as_str()]
            } else {
                pieces(&text)
            };
            // What of the text goes into the line.
            let (mut from, mut to) = (0, 0);
            for word in words {
                let starts = used > indent && used + width(bare(word)) > limit;
                let mut wide = width(word);
                if starts {
                    line.push(text.get(from..to), role);
                    lines.push(line);
                    line = Self::of(" ".repeat(indent), Role::Plain);
                    let spaces = word.len() - word.trim_start().len();
                    from = to + spaces;
                    wide = indent + wide - spaces;
                    used = 0;
                }
                used += wide;
                to += word.len();
            }
            line.push(text.get(from..to), role);
        }
        lines.push(line);
        lines
    }

    /// Adds a piece of a text that was made visible before.
    fn push(&mut self, piece: Option<&str>, role: Role) {
        match piece {
            None | Some("") => {}
            Some(piece) => self.0.push((piece.to_owned(), role)),
        }
    }
}

/// Units that stay with their numbers.
const UNITS: [&str; 9] = ["m", "mm", "ft", "in", "kg", "t", "deg", "%", "ppm"];

/// A text in pieces that are never broken: words, and figures of several words, as feet, inches and their fraction, or a
/// number and its unit.
fn pieces(text: &str) -> Vec<&str> {
    let mut pieces = Vec::with_capacity(text.len() / 4);
    let (mut from, mut to) = (0, 0);
    for word in text.split_inclusive(' ') {
        let piece = text.get(from..to).unwrap_or_default();
        if to > from && !goes_on(bare(piece), bare(word)) {
            pieces.push(piece);
            from = to;
        }
        to += word.len();
    }
    pieces.extend(text.get(from..to));
    pieces
}

/// A word without the space that ends it.
fn bare(word: &str) -> &str {
    word.strip_suffix(' ').unwrap_or(word)
}

/// Whether a word belongs to the figure before it.
fn goes_on(piece: &str, word: &str) -> bool {
    let starts_with_digit = word.starts_with(|it: char| it.is_ascii_digit());
    match piece.bytes().next_back() {
        Some(b'\'') => starts_with_digit,
        Some(b'0'..=b'9') => {
            let is_fraction = starts_with_digit && piece.contains('\'') && word.contains('/');
            is_fraction || UNITS.contains(&word.trim_end_matches([',', '.', ';', ':', ')']))
        }
        _ => false,
    }
}

/// A part of the frame to write into.
pub struct Pen<'a> {
    buffer: &'a mut Buffer,
    pub area: Rect,
    pub theme: &'a Theme,
    targets: &'a mut Targets,
}

impl<'a> Pen<'a> {
    pub fn new(
        buffer: &'a mut Buffer,
        area: Rect,
        theme: &'a Theme,
        targets: &'a mut Targets,
    ) -> Self {
        let area = area.intersection(buffer.area);
        Self {
            buffer,
            area,
            theme,
            targets,
        }
    }

    /// Notes what a click on cells of a row does.
    pub fn target(&mut self, (x, y, width): (u16, u16, u16), action: Action) {
        if x < self.area.width && y < self.area.height {
            let area = Rect {
                x: self.area.x + x,
                y: self.area.y + y,
                width: width.min(self.area.width - x),
                height: 1,
            };
            self.targets.add(area, action);
        }
    }

    /// A part of this part.
    pub fn part(&mut self, x: u16, y: u16, width: u16, height: u16) -> Pen<'_> {
        let x = x.min(self.area.width);
        let y = y.min(self.area.height);
        let area = Rect {
            x: self.area.x + x,
            y: self.area.y + y,
            width: width.min(self.area.width - x),
            height: height.min(self.area.height - y),
        };
        Pen {
            buffer: self.buffer,
            area,
            theme: self.theme,
            targets: self.targets,
        }
    }

    /// Writes a text and says where the next one would start. Where it does not fit, it ends in the
    /// sign for more.
    pub fn text(&mut self, x: u16, y: u16, text: &str, role: Role) -> u16 {
        if y >= self.area.height || x >= self.area.width {
            return x;
        }
        if text.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
            return self.letters(x, y, text, role);
        }
        // The buffer leaves control characters out, and a mark of direction turns the rest of the row.
        let text = &*visible(text);
        let plain = self.theme.is_ascii().then(|| ascii(text));
        let text = plain.as_deref().unwrap_or(text);
        let room = self.area.width - x;
        let style = self.theme.style(role);
        let at = (self.area.x + x, self.area.y + y);
        // A style is laid over the one before it: what was drawn here must not show through.
        let wide = width(text);
        for cell in self.row(x, y, cells(wide).min(room)) {
            cell.reset();
        }
        let (end, _) = self
            .buffer
            .set_stringn(at.0, at.1, text, usize::from(room), style);
        self.more((x, y), text, wide);
        end.saturating_sub(self.area.x)
    }

    /// [`text`](Self::text) of printing ASCII letters, as nearly all are: each takes one cell, whatever stands beside it.
    fn letters(&mut self, x: u16, y: u16, text: &str, role: Role) -> u16 {
        let mut blank = Cell::EMPTY;
        blank.set_style(self.theme.style(role));
        let row = self.row(x, y, self.area.width - x);
        for (cell, letter) in row.iter_mut().zip(text.chars()) {
            cell.clone_from(&blank);
            // An empty cell shows a space.
            if letter != ' ' {
                cell.set_char(letter);
            }
        }
        let end = x.saturating_add(cells(text.len())).min(self.area.width);
        self.more((x, y), text, text.len());
        end
    }

    /// Puts the sign for more at the end of a text that has no room.
    fn more(&mut self, (x, y): (u16, u16), text: &str, wide: usize) {
        let room = usize::from(self.area.width - x);
        // Spaces at the end are nothing that would be missed.
        if wide > room
            && width(text.trim_end()) > room
            && let Some(cell) = self
                .buffer
                .cell_mut((self.area.right() - 1, self.area.y + y))
        {
            cell.set_char(self.theme.glyphs.more);
        }
    }

    /// Cells of one row of the part, none where they do not lie within the buffer.
    fn row(&mut self, x: u16, y: u16, count: u16) -> &mut [Cell] {
        let of = self.buffer.area;
        let (x, y) = (self.area.x.saturating_add(x), self.area.y.saturating_add(y));
        if x < of.left() || y < of.top() || y >= of.bottom() || x >= of.right() {
            return &mut [];
        }
        let start = usize::from(y - of.y) * usize::from(of.width) + usize::from(x - of.x);
        let end = start + usize::from(count.min(of.right() - x));
        self.buffer.content.get_mut(start..end).unwrap_or_default()
    }

    /// Writes a text that ends at the right edge.
    pub fn right(&mut self, y: u16, text: &str, role: Role) {
        let x = self.area.width.saturating_sub(cells(width(text)));
        self.text(x, y, text, role);
    }

    pub fn line(&mut self, x: u16, y: u16, line: &StyledLine) -> u16 {
        let mut x = x;
        for (text, role) in &line.0 {
            x = self.text(x, y, text, *role);
        }
        x
    }

    /// One sign; nothing where there is no such cell.
    pub fn sign(&mut self, x: u16, y: u16, sign: char, role: Role) {
        if x < self.area.width && y < self.area.height {
            let style = self.theme.style(role);
            if let Some(cell) = self.buffer.cell_mut((self.area.x + x, self.area.y + y)) {
                cell.reset();
                cell.set_char(sign).set_style(style);
            }
        }
    }

    /// An upright line between two panes.
    pub fn upright(&mut self, x: u16, y: u16, rows: u16) {
        let wall = self.theme.glyphs.wall;
        for row in y..y.saturating_add(rows) {
            self.sign(x, row, wall, Role::Quiet);
        }
    }

    /// Two squares of different looks in one cell.
    pub fn halves(&mut self, x: u16, y: u16, (upper, lower): (Role, Role)) {
        let style = self.theme.style(upper);
        let ground = self.theme.style(lower).fg;
        let style = ground.map_or(style, |ground| style.bg(ground));
        if x < self.area.width
            && y < self.area.height
            && let Some(cell) = self.buffer.cell_mut((self.area.x + x, self.area.y + y))
        {
            cell.reset();
            cell.set_char(self.theme.glyphs.upper).set_style(style);
        }
    }

    /// Whether nothing is written in a cell yet.
    pub fn is_free(&self, x: u16, y: u16) -> bool {
        x < self.area.width
            && y < self.area.height
            && self
                .buffer
                .cell((self.area.x + x, self.area.y + y))
                .is_some_and(|cell| cell.symbol() == " ")
    }

    /// Gives cells the look of what is selected, whatever is in them. A word that has a ground of its own keeps its
    /// colours in a row that is selected as a whole; alone it has them turned round.
    pub fn select(&mut self, x: u16, y: u16, width: u16) {
        let style = self.theme.style(Role::Selected);
        let ground = self.theme.ground();
        for x in x..x.saturating_add(width).min(self.area.width) {
            if y < self.area.height
                && let Some(cell) = self.buffer.cell_mut((self.area.x + x, self.area.y + y))
            {
                if ground.is_none_or(|ground| cell.bg == ground) {
                    cell.set_style(style);
                } else if width < self.area.width {
                    cell.set_style(Style::new().add_modifier(Modifier::REVERSED));
                }
            }
        }
    }

    /// Gives blanks the letters' colour of what stands before them, which nobody sees: between two looks there is one
    /// change then, not two, and over a slow line each costs as much as twenty letters.
    pub fn calm_blanks(&mut self) {
        let unseen = Modifier::BOLD.union(Modifier::DIM);
        for y in 0..self.area.height {
            let mut row = self.row(0, y, self.area.width).iter_mut();
            let look = |cell: &Cell| (cell.fg, cell.modifier.intersection(unseen));
            let Some(mut before) = row.next().map(|cell| look(cell)) else {
                continue;
            };
            for cell in row {
                if look(cell) == before {
                    continue;
                }
                if unseen.contains(cell.modifier) && cell.symbol() == " " {
                    (cell.fg, cell.modifier) = before;
                } else {
                    before = look(cell);
                }
            }
        }
    }

    /// Gives all of the part the ground of the screen.
    pub fn clear(&mut self) {
        let style = self.theme.style(Role::Screen);
        if self.theme.has_colour() {
            for y in 0..self.area.height {
                for cell in self.row(0, y, self.area.width) {
                    cell.set_style(style);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_never_broken() {
        assert_eq!(
            pieces("RT 88' 11 1/16\" off, 0.400 m, 11 of 12"),
            [
                "RT ",
                "88' 11 1/16\" ",
                "off, ",
                "0.400 m, ",
                "11 ",
                "of ",
                "12"
            ]
        );
        let text =
            "a text of many words with the figure 88' 11 1/16\" in it and 12.350 m behind that";
        for limit in 20..60 {
            let lines = StyledLine::of(text, Role::Plain).wrapped(limit, 2);
            let texts: Vec<String> = lines
                .iter()
                .map(|line| line.0.iter().map(|(text, _)| text.as_str()).collect())
                .collect();
            let has = |figure: &str| texts.iter().any(|line| line.contains(figure));
            assert!(has("88' 11 1/16\"") && has("12.350 m"), "{texts:?}");
        }
    }
}
