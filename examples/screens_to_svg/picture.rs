//! A frame as an SVG picture: what a terminal shows, cell by cell.

use std::fmt::Write as _;

use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};

/// Width and height of a cell, and how far the base line lies below its upper edge.
const CELL: (u32, u32) = (10, 20);
const BASE: u32 = 15;
/// The margin round the frame.
const MARGIN: u32 = 10;
/// The ground and the letters of a terminal that has no others (xterm's, from memory).
const DEFAULT: (Rgb, Rgb) = ((0, 0, 0), (229, 229, 229));

/// Red, green and blue.
pub type Rgb = (u8, u8, u8);

/// The first sixteen colours (xterm's, from memory).
pub const SIXTEEN: [Rgb; 16] = [
    (0, 0, 0),
    (205, 0, 0),
    (0, 205, 0),
    (205, 205, 0),
    (0, 0, 238),
    (205, 0, 205),
    (0, 205, 205),
    (229, 229, 229),
    (127, 127, 127),
    (255, 0, 0),
    (0, 255, 0),
    (255, 255, 0),
    (92, 92, 255),
    (255, 0, 255),
    (0, 255, 255),
    (255, 255, 255),
];

/// A colour of the 256 that terminals have: sixteen, a cube of 6 x 6 x 6, and 24 greys.
pub fn indexed(index: u8) -> Rgb {
    if let Some(colour) = SIXTEEN.get(usize::from(index)) {
        return *colour;
    }
    if index >= 232 {
        let grey = 8 + 10 * (index - 232);
        return (grey, grey, grey);
    }
    let step = |part: u8| if part == 0 { 0 } else { 55 + 40 * part };
    let index = index - 16;
    (step(index / 36), step(index / 6 % 6), step(index % 6))
}

fn rgb(colour: Color, default: Rgb) -> Rgb {
    match colour {
        Color::Indexed(index) => indexed(index),
        _ => default,
    }
}

/// What a cell looks like: its letters, its ground, bold, underlined.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Look {
    text: Rgb,
    ground: Rgb,
    bold: bool,
    underlined: bool,
}

impl Look {
    fn of(cell: &Cell) -> Self {
        let has = |modifier| cell.modifier.contains(modifier);
        let (mut ground, mut text) = (rgb(cell.bg, DEFAULT.0), rgb(cell.fg, DEFAULT.1));
        if has(Modifier::DIM) {
            // Two thirds of the way, as many terminals have it.
            let mix = |text: u8, ground: u8| {
                u8::try_from((2 * u16::from(text) + u16::from(ground)) / 3).unwrap_or(text)
            };
            text = (
                mix(text.0, ground.0),
                mix(text.1, ground.1),
                mix(text.2, ground.2),
            );
        }
        if has(Modifier::REVERSED) {
            (ground, text) = (text, ground);
        }
        Self {
            text,
            ground,
            bold: has(Modifier::BOLD),
            underlined: has(Modifier::UNDERLINED),
        }
    }
}

fn hex((red, green, blue): Rgb) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

/// The parts of a cell that a block fills, in eighths: left, upper, wide, high; `None` for what is a letter.
fn block(symbol: &str) -> Option<(u32, u32, u32, u32)> {
    Some(match symbol {
        "█" => (0, 0, 8, 8),
        "▀" => (0, 0, 8, 4),
        "▄" => (0, 4, 8, 4),
        "▌" => (0, 0, 4, 8),
        "▐" => (4, 0, 4, 8),
        "▁" => (0, 7, 8, 1),
        "▔" => (0, 0, 8, 1),
        _ => return None,
    })
}

/// Whether a sign joins its neighbours, so that it must fill its cell exactly.
fn joins(symbol: &str) -> bool {
    symbol
        .chars()
        .all(|sign| ('\u{2500}'..='\u{257f}').contains(&sign))
}

/// The arms of a sign that draws lines: left, right, up, down, and whether they are heavy; `None` for others.
fn arms(symbol: &str) -> Option<([bool; 4], bool)> {
    let (arms, heavy) = match symbol {
        "─" => ("lr", false),
        "━" => ("lr", true),
        "│" => ("ud", false),
        "┃" => ("ud", true),
        "┌" => ("rd", false),
        "┐" => ("ld", false),
        "└" => ("ru", false),
        "┘" => ("lu", false),
        "├" => ("rud", false),
        "┤" => ("lud", false),
        "┬" => ("lrd", false),
        "┴" => ("lru", false),
        "┼" => ("lrud", false),
        "╴" => ("l", false),
        "╶" => ("r", false),
        _ => return None,
    };
    Some((['l', 'r', 'u', 'd'].map(|arm| arms.contains(arm)), heavy))
}

fn lines(svg: &mut String, symbol: &str, (x, y): (u32, u32), colour: Rgb) -> bool {
    let Some(([left, right, up, down], heavy)) = arms(symbol) else {
        return false;
    };
    let thick = if heavy { 4 } else { 2 };
    let (wide, high) = CELL;
    let (middle, centre) = (x + wide / 2 - thick / 2, y + high / 2 - thick / 2);
    let mut bar = |x: u32, y: u32, wide: u32, high: u32| {
        rect(svg, (x, y, wide, high), colour);
    };
    if left || right {
        let from = if left { x } else { middle };
        let to = if right { x + wide } else { middle + thick };
        bar(from, centre, to - from, thick);
    }
    if up || down {
        let from = if up { y } else { centre };
        let to = if down { y + high } else { centre + thick };
        bar(middle, from, thick, to - from);
    }
    true
}

fn rect(svg: &mut String, (x, y, wide, high): (u32, u32, u32, u32), colour: Rgb) {
    // Writing into memory cannot fail.
    let _ = writeln!(
        svg,
        "<rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" fill=\"{}\"/>",
        hex(colour)
    );
}

/// The picture of a frame, with a title for those who cannot see it.
pub fn picture(buffer: &Buffer, title: &str) -> String {
    let (columns, rows) = (buffer.area.width, buffer.area.height);
    let (wide, high) = (
        u32::from(columns) * CELL.0 + 2 * MARGIN,
        u32::from(rows) * CELL.1 + 2 * MARGIN,
    );
    let ground = buffer
        .cell((0, rows.saturating_sub(1)))
        .map_or(DEFAULT.0, |cell| rgb(cell.bg, DEFAULT.0));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 {wide} {high}\" width=\"{wide}\" height=\"{high}\" \
         font-family=\"'DejaVu Sans Mono', Menlo, Consolas, monospace\" font-size=\"16\" xml:space=\"preserve\">\n<title>{}</title>\n",
        escaped(title)
    );
    let _ = writeln!(
        svg,
        "<rect width=\"{wide}\" height=\"{high}\" rx=\"8\" fill=\"{}\"/>",
        hex(ground)
    );
    for row in 0..rows {
        let cells: Vec<&Cell> = (0..columns)
            .filter_map(|column| buffer.cell((column, row)))
            .collect();
        draw_row(&mut svg, row, &cells, ground);
    }
    svg.push_str("</svg>\n");
    svg
}

fn draw_row(svg: &mut String, row: u16, cells: &[&Cell], ground: Rgb) {
    let y = MARGIN + u32::from(row) * CELL.1;
    let left = |column: usize| MARGIN + u32::try_from(column).unwrap_or(0) * CELL.0;
    let looks: Vec<Look> = cells.iter().map(|cell| Look::of(cell)).collect();
    let mut from = 0;
    while from < cells.len() {
        let same =
            |at: &usize| looks.get(*at).map(|it| it.ground) == looks.get(from).map(|it| it.ground);
        let to = (from..cells.len())
            .find(|at| !same(at))
            .unwrap_or(cells.len());
        if let Some(look) = looks.get(from).filter(|look| look.ground != ground) {
            rect(
                svg,
                (left(from), y, left(to) - left(from), CELL.1),
                look.ground,
            );
        }
        from = to;
    }
    let mut at = 0;
    while let (Some(cell), Some(look)) = (cells.get(at), looks.get(at)) {
        let symbol = cell.symbol();
        if symbol == " " && !look.underlined {
            at += 1;
        } else if let Some((x, upper, wide, high)) = block(symbol) {
            let (w, h) = (CELL.0 * wide / 8, CELL.1 * high / 8);
            rect(
                svg,
                (left(at) + CELL.0 * x / 8, y + CELL.1 * upper / 8, w, h),
                look.text,
            );
            at += 1;
        } else if joins(symbol) && lines(svg, symbol, (left(at), y), look.text) {
            at += 1;
        } else {
            at = draw_text(svg, (at, left(at), y), (cells, &looks));
        }
    }
}

/// Letters of one look from a cell on; gives the cell after them.
fn draw_text(
    svg: &mut String,
    (from, x, y): (usize, u32, u32),
    (cells, looks): (&[&Cell], &[Look]),
) -> usize {
    let mut text = String::new();
    let mut to = from;
    while let (Some(cell), Some(look)) = (cells.get(to), looks.get(to)) {
        let symbol = cell.symbol();
        let is_letter = symbol.is_ascii();
        let same = Some(look) == looks.get(from);
        // A space at a time: two end the run.
        let gap = symbol == " " && cells.get(to + 1).is_none_or(|next| next.symbol() == " ");
        if to > from && (!same || !is_letter || (gap && !look.underlined)) {
            break;
        }
        text.push_str(symbol);
        to += 1;
        if !is_letter {
            break;
        }
    }
    let Some(look) = looks.get(from) else {
        return from + 1;
    };
    // Spaces at the end have no width in a picture.
    let shown = if look.underlined {
        text.as_str()
    } else {
        text.trim_end()
    };
    let wide = u32::try_from(shown.chars().count()).unwrap_or(1) * CELL.0;
    let bold = if look.bold {
        " font-weight=\"bold\""
    } else {
        ""
    };
    let line = if look.underlined {
        " text-decoration=\"underline\""
    } else {
        ""
    };
    let _ = writeln!(
        svg,
        "<text x=\"{x}\" y=\"{}\" textLength=\"{wide}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"{bold}{line}>{}</text>",
        y + BASE,
        hex(look.text),
        escaped(shown)
    );
    to
}
