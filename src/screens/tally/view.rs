//! Tally: one string joint by joint, with what lies in each row, and what the reader skipped.

use super::drawing;
use super::state::{count, note};
use super::update::row as row_in_front;
use crate::figures::SlotFigures;
use crate::figures::catalogue::Subject;
use crate::finding::Place;
use crate::measure::{Length, Unit};
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::parts::how;
use crate::screens::parts::list::scroll;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::parts::table::{Align, ColumnHead, ScreenTable, TableCell, head};
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::tally::Piece;
use crate::tally::{Joint, Tally};

/// Rows at the foot: what is marked, and two for what has no room in the row.
const FOOT: usize = 3;
/// From so many columns on it stands beside the table how the plane of the joint came about.
const TWO_PANES: u16 = 170;
/// Its columns.
const HOW: u16 = 56;

/// The rows under the joints: what each is, and its text.
fn under_joints(tally: &Tally) -> impl Iterator<Item = (String, &str)> {
    let skipped = tally.skipped.iter().map(|skip| {
        let what = format!(
            "line {:>4} skipped: {}  ",
            skip.line,
            words::skip_reason(skip.why)
        );
        (what, skip.text.trim())
    });
    let notes = tally.notes.iter().map(|note| (words::file_note(note), ""));
    skipped.chain(notes)
}

/// What lies in the row of a piece, the most important first.
fn marks(state: &State, piece: usize, joint: &Joint, in_full: bool) -> Vec<(String, Role)> {
    let mut marks = Vec::new();
    let Some((_, _, figures)) = state.current() else {
        return marks;
    };
    let job = &state.inputs.job;
    if figures
        .cut
        .place
        .as_ref()
        .is_some_and(|it| it.piece == piece)
    {
        let word = if figures.cut.is_cut() {
            "is cut"
        } else {
            "cut here"
        };
        marks.push((word.to_owned(), Role::Cut));
    }
    if figures.chain.shoulder.is_some_and(|it| it.piece == piece) {
        marks.push(("shoulder".to_owned(), Role::Shoulder));
    }
    let here = |place: &Place| match place {
        Place::Joint(index) => *index == piece,
        Place::Line(line) => *line == joint.line,
        _ => false,
    };
    for flag in figures.flags.iter().filter(|flag| here(&flag.place)) {
        let role = Role::of_severity(flag.severity);
        // A code that is cut short names nothing: where there is no room, the word alone; the code is at
        // the foot.
        let word = flag.severity.word();
        let code = in_full.then(|| format!("{word}: {}", flag.code));
        marks.push((code.unwrap_or_else(|| word.to_owned()), role));
    }
    marks.extend(keep_outs(state, figures, piece, in_full));
    for place in figures
        .accessories
        .iter()
        .filter(|it| it.piece == Some(piece))
    {
        if let Some(accessory) = job.accessories.get(place.accessory) {
            marks.push((accessory.name.clone(), Role::Accessory));
        }
    }
    marks
}

/// The keep-outs that a piece passes through, and whether the connection at its top lies in one.
fn keep_outs(
    state: &State,
    figures: &SlotFigures,
    piece: usize,
    in_full: bool,
) -> Vec<(String, Role)> {
    let planes = (
        figures.chain.lower_plane(piece),
        figures.chain.upper_plane(piece),
    );
    let (Some(lower), Some(upper)) = planes else {
        return Vec::new();
    };
    let lies_in = |keep_out: usize| {
        figures.in_keep_outs.iter().any(|found| {
            let connection = figures.connections.get(found.connection);
            found.keep_out == keep_out && connection.is_some_and(|it| it.below == piece)
        })
    };
    state
        .inputs
        .job
        .keep_outs
        .iter()
        .enumerate()
        .filter(|(_, it)| it.slots.has(state.slot_index()) && it.from < upper && lower < it.to)
        .map(|(index, it)| {
            if lies_in(index) {
                let role = Role::of_severity(it.severity);
                (words::keep_out(&it.why, true), role)
            } else if in_full {
                (words::keep_out(&it.why, false), Role::Plain)
            } else {
                (words::KEEP_OUT.to_owned(), Role::Plain)
            }
        })
        .collect()
}

/// The columns of the table by their places: those in which no joint has anything are left out.
fn columns(state: &State) -> Vec<(usize, ColumnHead<'static>)> {
    let all = [
        head("#", Align::Right, 8),
        head("joint", Align::Left, 20),
        head("kind", Align::Left, 7),
        head("overall", Align::Point, 6),
        head("loss", Align::Point, 5),
        head("effective", Align::Point, 17),
        head("running", Align::Point, 16),
        head("lower plane", Align::Point, 18),
        head("below RT", Align::Point, 12),
        // What has no room stands at the foot, for the row that is selected.
        head("serial", Align::Left, 4),
        head("line", Align::Right, 3),
        head("remarks", Align::Left, 2),
        head("marks", Align::Left, 19),
    ];
    let Some((_, _, figures)) = state.current() else {
        return Vec::new();
    };
    let filled = state.filled.get(state.slot_index());
    let filled = filled.copied().unwrap_or_default();
    let has_basis = figures.chain.shoe.is_some();
    let is_shown = |column: &usize| match column {
        2 => filled.kind,
        3 => filled.overall,
        4 => filled.loss,
        7 | 8 => has_basis,
        9 => filled.serial,
        11 => state.size.0 >= 110 && filled.remarks,
        _ => true,
    };
    let all = all.into_iter().enumerate();
    all.filter(|(column, _)| is_shown(column)).collect()
}

fn row(state: &State, index: usize, joint: &Joint) -> Vec<TableCell> {
    let Some((_, _, figures)) = state.current() else {
        return Vec::new();
    };
    let show = state.show;
    let number = |length: Option<Length>| {
        length.map_or_else(|| "-".to_owned(), |length| show.number(length))
    };
    let plain = |text: String| -> TableCell { (text, Role::Plain) };
    let conductor = figures.chain.string.pieces.len();
    let piece = figures.chain.string.pieces.get(index);
    let landing = figures
        .chain
        .string
        .landing
        .get(index.saturating_sub(conductor));
    let lower = figures.chain.lower_plane(index);
    let rotary = figures.chain.rotary;
    let effective = piece
        .map(|piece| piece.effective)
        .or(landing.map(|piece| piece.effective));
    let mut row = vec![
        (format!("{}", index + 1), Role::Label),
        (joint.number.to_string(), Role::Title),
        plain(joint.kind.map_or("", |kind| kind.name()).to_owned()),
        plain(number(joint.overall())),
        plain(joint.makeup_loss.map_or_else(
            || "-".to_owned(),
            // In sixteenths of an inch the losses of one connector would all look alike.
            |loss| match show.unit() {
                Unit::FootInch => show.small(loss),
                _ => show.number(loss),
            },
        )),
        plain(number(effective)),
        plain(number(piece.map(Piece::upper))),
        plain(lower.map_or_else(|| "-".to_owned(), |lower| show.signed(lower.height()))),
        plain(number(lower.map(|lower| rotary.depth_of(lower).downward()))),
    ];
    row.extend([
        plain(joint.serial.as_deref().unwrap_or_default().to_owned()),
        (joint.line.to_string(), Role::Label),
    ]);
    let remarks = joint.remarks().unwrap_or_default();
    row.push((words::shortened(remarks, 40), Role::Label));
    let marks = if piece.is_some() {
        marks(state, index, joint, state.size.0 >= 110)
    } else {
        vec![("landing piece".to_owned(), Role::Label)]
    };
    let role = marks.first().map_or(Role::Plain, |(_, role)| *role);
    let words: Vec<String> = marks.into_iter().map(|(word, _)| word).collect();
    row.push((words.join(", "), role));
    row
}

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, tally, figures)) = state.current() else {
        return;
    };
    let title = StyledLine::of(format!("Slot {} ", slot.name), Role::Title)
        .and(format!("{}  ", figures.chain.basis.word()), Role::Plain)
        .and(
            format!(
                "{} joints, {}  ",
                figures.chain.string.pieces.len(),
                state.show.text(figures.chain.string.length)
            ),
            Role::Figure,
        )
        .and(
            format!(
                "{}  ",
                words::at_hull(&slot.hull.name, pen.area.width >= 120)
            ),
            Role::Label,
        );
    let room = usize::from(pen.area.width).saturating_sub(title.width() + 2);
    let file = words::shortened(&words::tally_file(slot, tally), room);
    let title = title.and(file, Role::Label);
    pen.line(1, 0, &title);
    let selected = row_in_front(state).unwrap_or(0);
    let order = state.tally_order;
    let (width, height) = (pen.area.width, usize::from(pen.area.height));
    let table_to = if width >= TWO_PANES {
        width - HOW
    } else {
        width
    };
    // The title, the headings, and lines at the foot for what the selected row has no room for.
    let room = height.saturating_sub(2 + FOOT).max(1);
    let (joints, count) = (tally.joints.len(), count(tally));
    let at = order.shown(selected, joints);
    let first = scroll(at, count, room);
    let shown: Vec<usize> = (first..joints.min(first + room))
        .map(|row| order.shown(row, joints))
        .collect();
    let columns = columns(state);
    let cells_of = |index: usize, joint: &Joint| -> Vec<TableCell> {
        let row = row(state, index, joint);
        let kept = columns.iter().filter_map(|(column, _)| row.get(*column));
        kept.cloned().collect()
    };
    let mut table = ScreenTable::new(columns.iter().map(|(_, head)| *head).collect());
    for index in &shown {
        if let Some(joint) = tally.joints.get(*index) {
            table.add(cells_of(*index, joint));
        }
    }
    let drawn = table.len();
    // The longest running length is the last: the columns do not jump while one scrolls.
    if let Some(last) = figures.chain.string.pieces.len().checked_sub(1)
        && let Some(joint) = tally.joints.get(last)
    {
        table.add(cells_of(last, joint));
    }
    let marked = (selected < joints).then(|| at.saturating_sub(first));
    for (y, index) in (2..).zip(&shown) {
        drawing::joint(state, pen, y, *index);
        pen.target((0, y, width), Action::ToRow(*index));
    }
    let left_out = {
        let wide = table_to.saturating_sub(drawing::WIDE);
        let mut part = pen.part(drawing::WIDE, 1, wide, cells(drawn + 1));
        table.draw(&mut part, 0..drawn, marked, None)
    };
    let below = under_joints(tally).enumerate();
    let lines = below.skip(first.saturating_sub(joints)).take(room - drawn);
    for (y, (index, (what, text))) in (cells(drawn + 2)..).zip(lines) {
        let line = StyledLine::of(what, Role::Label).and(text.to_owned(), Role::Label);
        pen.line(1, y, &line);
        pen.target((0, y, width), Action::ToRow(index + joints));
        if index + joints == selected {
            pen.select(0, y, width);
        }
    }
    let lines = drawn + (count - joints).min(room - drawn);
    let foot_at = height.saturating_sub(FOOT);
    let under = cells((lines + 3).min(foot_at));
    let wide = if width >= TWO_PANES {
        let from = width - HOW;
        let rows = pen.area.height;
        pen.upright(from, 0, rows);
        let mut part = pen.part(from + 2, 0, HOW - 3, rows);
        if let Some(how) = how::of_subject(state, Subject::Plane(selected)) {
            how::draw_steps(&mut part, how);
        }
        from
    } else {
        width
    };
    let part = &mut pen.part(0, under, wide, cells(FOOT));
    foot(state, part, selected, left_out);
}

/// The foot: what did not fit of the selected row, and everything that is marked in it.
fn foot(state: &State, pen: &mut Pen<'_>, selected: usize, left_out: Option<StyledLine>) {
    let Some((_, tally, _)) = state.current() else {
        return;
    };
    let y = 0;
    let mut line = StyledLine::default();
    if let Some(joint) = tally.joints.get(selected) {
        line = line.and(format!("{}: ", joint.number), Role::Title);
        for (word, role) in marks(state, selected, joint, true) {
            line = line.and(word, role).and("  ", Role::Plain);
        }
        if let Some(remarks) = &joint.remarks {
            line = line.and(remarks.to_string(), Role::Label);
        }
        let room = usize::from(pen.area.width).saturating_sub(2);
        let left_out = left_out.unwrap_or_default().wrapped(room, 2);
        for (row, line) in (y + 1..).zip(&left_out) {
            pen.line(1, row, line);
        }
    } else if let Some(skip) = tally
        .skipped
        .get(selected.saturating_sub(tally.joints.len()))
    {
        line = StyledLine::of(
            format!("line {}: {}", skip.line, skip.text.trim()),
            Role::Plain,
        );
    } else if let Some(note) = note(tally, selected) {
        line = StyledLine::of(words::file_note(note), Role::Plain);
    }
    if !tally.skipped.is_empty() && selected < tally.joints.len() {
        let of = words::row_of(selected + 1, tally.joints.len(), tally.skipped.len());
        let text = format!(" {of}");
        let room = usize::from(pen.area.width).saturating_sub(line.width() + 2);
        if room >= width(&text) {
            pen.right(y, &text, Role::Label);
        }
    }
    pen.line(1, y, &line);
}
