//! Levels, drawn: the readings, the points with the lines between them, and what is under the cursor in full.

use super::opened::lines;
use super::rows::{point_place, points, reading, reading_place, readings, worked};
use super::state::{LevelsPage, OpenedLevel};
use super::wires::{Wire, WireLine, wires};
use crate::figures::Levels;
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::parts::list::scroll;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::parts::table::{Align, ScreenTable, head};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// From so many columns on readings and points stand side by side.
const BESIDE: u16 = 118;
/// From so many columns on all of what is under the cursor stands beside them.
const THREE_PANES: u16 = 170;
/// Its columns.
const OPENED: u16 = 54;
/// Rows for what is under the cursor.
const DETAIL: usize = 3;

/// Draws the levels.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some(levels) = worked(state) else {
        let why = state.levels.as_ref().err();
        let why = words::not_adjusted(why.map_or("", String::as_str));
        let room = usize::from(pen.area.width).saturating_sub(2);
        let lines = StyledLine::of(why, Role::Check).wrapped(room, 2);
        for (row, line) in lines.iter().enumerate() {
            pen.line(1, cells(row), line);
        }
        return;
    };
    let (columns, rows) = (pen.area.width, pen.area.height);
    heading(levels, pen);
    let is_wide = columns >= THREE_PANES;
    let detail = if is_wide {
        Vec::new()
    } else {
        detail(state, levels, pen)
    };
    let below = detail.len().min(DETAIL);
    let body = rows.saturating_sub(cells(2 + below));
    if columns >= BESIDE {
        // Names of readings with their slot need so much; the points take what is left.
        let all = if is_wide { columns - OPENED } else { columns };
        let left = (all * 11 / 20).max(70);
        list_readings(state, levels, &mut pen.part(0, 1, left, body));
        pen.upright(left, 1, body);
        let right = all.saturating_sub(left + 2);
        list_points(state, levels, &mut pen.part(left + 1, 1, right, body));
        if is_wide {
            pen.upright(all - 1, 1, body);
            under_cursor(state, levels, &mut pen.part(all + 1, 1, OPENED - 2, body));
        }
    } else {
        let mut part = pen.part(0, 1, columns, body);
        match state.at_level.page {
            LevelsPage::Readings => list_readings(state, levels, &mut part),
            LevelsPage::Points => list_points(state, levels, &mut part),
        }
    }
    let from = rows.saturating_sub(cells(below));
    for (row, line) in detail.iter().take(below).enumerate() {
        pen.line(1, from + cells(row), line);
    }
}

/// All of what is under the cursor.
fn under_cursor(state: &State, levels: &Levels, pen: &mut Pen<'_>) {
    let room = usize::from(pen.area.width);
    let point = super::rows::point(state, levels);
    let of = match point {
        Some(at) => Some(OpenedLevel::Point(levels.read.network.name(at).to_owned())),
        None => reading(state, levels)
            .and_then(|at| levels.reading(at))
            .map(OpenedLevel::Reading),
    };
    let lines = of.map_or_else(Vec::new, |of| lines(state, &of, room));
    for (row, line) in (0..).zip(&lines) {
        pen.line(0, row, line);
    }
}

/// How many readings there are, how many more than needed, and whether they agree.
fn heading(levels: &Levels, pen: &mut Pen<'_>) {
    let adjusted = &levels.adjusted;
    let counts = words::network_counts(
        adjusted.readings.len(),
        adjusted.points.len(),
        adjusted.degrees_of_freedom,
    );
    let is_loud = !levels.suspects.is_empty() || levels.is_above();
    let role = if is_loud { Role::Check } else { Role::Title };
    let verdict = words::network_verdict(levels);
    let line = StyledLine::of(counts, Role::Label)
        .and("  ", Role::Plain)
        .and(format!(" {verdict} "), role);
    let line = if levels.suspects.is_empty() {
        line
    } else {
        line.and(format!("  {}", words::WITH_SUSPECT), Role::Plain)
    };
    pen.line(1, 0, &line);
}

fn list_readings(state: &State, levels: &Levels, pen: &mut Pen<'_>) {
    let show = state.show;
    let listed = readings(levels);
    let at = reading_place(state, levels, &listed);
    let headings = vec![
        head("reading", Align::Left, 9),
        head("read", Align::Point, 8),
        head("others say", Align::Point, 7),
        head("\u{b1} U", Align::Right, 5),
        head("", Align::Left, 10),
    ];
    let height = rows_of(listed.len(), pen);
    let first = scroll(at, listed.len(), height);
    let mut table = ScreenTable::new(headings);
    for index in listed.iter().skip(first).take(height) {
        let found = (
            levels.reading(*index),
            levels.read.shown.get(*index),
            levels.adjusted.readings.get(*index),
        );
        let (Some(name), Some(shown), Some(it)) = found else {
            continue;
        };
        let is_suspect = levels.is_suspect(*index);
        let (others, u) = words::others_briefly(*shown, it, show);
        let verdict = words::reading_verdict(it, is_suspect);
        let role = if is_suspect { Role::Check } else { Role::Plain };
        table.add(vec![
            (
                shortened(&words::reading_of(&name), pen.area.width),
                Role::Plain,
            ),
            (show.number(*shown), Role::Plain),
            (others, Role::Figure),
            (u, Role::Label),
            (verdict.to_owned(), role),
        ]);
    }
    let is_here = state.at_level.page == LevelsPage::Readings;
    let selected = is_here.then(|| at.saturating_sub(first));
    table.draw(pen, 0..height, selected, None);
    let wide = pen.area.width;
    for row in 0..height.min(listed.len() - first) {
        pen.target((0, cells(row + 1), wide), Action::ToRow(first + row));
    }
    more(first, listed.len().saturating_sub(first + height), pen);
}

/// The rows that a list of so many has below its heading: the last is kept for how many are out of sight.
fn rows_of(count: usize, pen: &Pen<'_>) -> usize {
    let all = usize::from(pen.area.height).saturating_sub(1);
    if count > all {
        all.saturating_sub(1)
    } else {
        all
    }
}

/// How many are out of sight, on the last row.
fn more(above: usize, below: usize, pen: &mut Pen<'_>) {
    if above + below > 0 {
        let last = pen.area.height.saturating_sub(1);
        pen.right(
            last,
            &format!(" {} ", words::more(above, below)),
            Role::Label,
        );
    }
}

/// The name of a reading, in a column that leaves room for its figures: long names of points lose their middle, which the line
/// below has in full.
fn shortened(name: &str, columns: u16) -> String {
    let room = usize::from(columns).saturating_sub(46).max(20);
    if width(name) <= room {
        return name.to_owned();
    }
    let letters: Vec<char> = name.chars().collect();
    let (head, tail) = (room / 2, room - room / 2 - 2);
    let first: String = letters.iter().take(head).collect();
    let last: String = letters
        .iter()
        .skip(letters.len().saturating_sub(tail))
        .collect();
    format!("{first}..{last}")
}

fn list_points(state: &State, levels: &Levels, pen: &mut Pen<'_>) {
    let show = state.show;
    let listed = points(levels);
    let at = point_place(state, levels, &listed);
    let name = |at: usize| levels.read.network.name(at);
    let names = listed.iter().map(|at| width(name(*at))).max().unwrap_or(0);
    let names = names.clamp(6, usize::from(pen.area.width / 3).max(18));
    let figures: Vec<(String, String)> = listed
        .iter()
        .map(|at| {
            let it = levels.adjusted.points.get(*at);
            let elevation = it.map_or_else(String::new, |it| show.signed(it.elevation.height()));
            (elevation, words::point_u(levels, *at, show))
        })
        .collect();
    let wide = |of: &dyn Fn(&(String, String)) -> usize| figures.iter().map(of).max().unwrap_or(0);
    let (elevations, us) = (wide(&|it| width(&it.0)), wide(&|it| width(&it.1)).max(3));
    pen.text(1, 0, "point", Role::Label);
    let x = names + 2;
    pen.text(
        cells(x + elevations.saturating_sub(9)),
        0,
        "elevation",
        Role::Label,
    );
    pen.text(
        cells(x + elevations + 1 + us.saturating_sub(3)),
        0,
        "\u{b1} U",
        Role::Label,
    );
    let drawn_from = x + elevations + us + 3;
    let room = usize::from(pen.area.width).saturating_sub(drawn_from + 1);
    let chosen = super::rows::point(state, levels);
    let under = reading(state, levels).filter(|_| chosen.is_none());
    let is_selected = |reading: usize| match chosen {
        Some(point) => {
            let it = levels.read.network.readings.get(reading);
            it.is_some_and(|it| it.from == point || it.to == point)
        }
        None => under == Some(reading),
    };
    let (lines, left_out) = wires(levels, &listed, is_selected, room / 2);
    let height = rows_of(listed.len(), pen);
    // Of a reading that is looked at, its upper point stays in sight.
    let shown_row = match under.and_then(|at| levels.read.network.readings.get(at)) {
        Some(it) => listed
            .iter()
            .position(|row| *row == it.from || *row == it.to),
        None => None,
    };
    let first = scroll(shown_row.unwrap_or(at), listed.len(), height);
    for (row, (point, (elevation, u))) in listed
        .iter()
        .zip(&figures)
        .enumerate()
        .skip(first)
        .take(height)
    {
        let y = cells(row - first + 1);
        let text = name(*point);
        pen.part(1, y, cells(names), 1)
            .text(0, 0, text, Role::Plain);
        let gap = elevations - width(elevation).min(elevations);
        pen.text(cells(x + gap), y, elevation, Role::Figure);
        let gap = us - width(u).min(us);
        pen.text(cells(x + elevations + 1 + gap), y, u, Role::Label);
        pen.target((0, y, cells(drawn_from)), Action::ToPoint(row));
        if chosen == Some(*point) {
            pen.select(0, y, cells(drawn_from));
        }
    }
    let mut part = pen.part(cells(drawn_from), 1, cells(room + 1), cells(height));
    for line in &lines {
        draw_wire(line, first, &mut part);
    }
    let text = match left_out {
        0 => String::new(),
        more => format!("{} ", words::wires_left_out(more)),
    };
    // Where it would run into the heads of the columns it is left out: the lines are there to be counted.
    if width(&text) <= room {
        pen.right(0, &text, Role::Label);
    }
    more(first, listed.len().saturating_sub(first + height), pen);
}

fn draw_wire(line: &WireLine, first: usize, pen: &mut Pen<'_>) {
    let glyphs = pen.theme.glyphs;
    let (sign, end, role) = match line.wire {
        Wire::Loose => (glyphs.gone, glyphs.end_loose, Role::Label),
        Wire::Checked => (glyphs.wall, glyphs.end, Role::Plain),
        Wire::Suspect => (glyphs.wall, '!', Role::Check),
        Wire::Selected => (glyphs.wall, glyphs.end, Role::Selected),
    };
    let middle = line.from + (line.to - line.from) / 2;
    for row in line.from..=line.to {
        let Some(y) = row.checked_sub(first) else {
            continue;
        };
        let is_end = row == line.from || row == line.to;
        let sign = match (is_end, line.count) {
            (true, _) => end,
            (false, count @ 2..=9) if row == middle => {
                char::from_digit(u32::try_from(count).unwrap_or(2), 10).unwrap_or(sign)
            }
            (false, _) => sign,
        };
        pen.sign(cells(2 * line.column), cells(y), sign, role);
    }
}

/// What is under the cursor, in full.
fn detail(state: &State, levels: &Levels, pen: &Pen<'_>) -> Vec<StyledLine> {
    let room = usize::from(pen.area.width).saturating_sub(2);
    let line = if let Some(at) = super::rows::point(state, levels) {
        let count = levels.read.network.readings.iter();
        let count = count.filter(|it| it.from == at || it.to == at).count();
        let text = words::readings_at(levels.read.network.name(at), count);
        let glyphs = pen.theme.glyphs;
        let legend = words::wires_legend(glyphs.wall, glyphs.gone);
        return [(text, Role::Plain), (legend, Role::Label)]
            .into_iter()
            .flat_map(|(text, role)| StyledLine::of(text, role).wrapped(room, 2))
            .collect();
    } else {
        let found = reading(state, levels);
        let found = found.and_then(|at| Some((at, levels.reading(at)?)));
        let Some((at, name)) = found else {
            return Vec::new();
        };
        let (Some(shown), Some(it)) = (levels.read.shown.get(at), levels.adjusted.readings.get(at))
        else {
            return Vec::new();
        };
        let is_suspect = levels.is_suspect(at);
        let said = words::reading_said(&name, *shown, (it, is_suspect), state.show);
        let role = if is_suspect { Role::Check } else { Role::Plain };
        StyledLine::of(said, role)
    };
    line.wrapped(room, 2)
}
