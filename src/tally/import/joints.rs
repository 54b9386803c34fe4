//! From classified rows to joints, claims and the list of what was skipped.

use compact_str::CompactString;
use memchr::memchr2;

use super::cell_text::{is_figure, says_nothing};
use super::error::Problem;
use super::found::FoundRows;
use super::grid::{Grid, GridRow};
use super::landing::Landing;
use super::lengths::LengthReader;
use super::limits::{Limit, MAX_JOINTS, MAX_READING};
use super::number_order::NumberOrder;
use super::options::{ColumnRole, Options};
use super::place::letters;
use super::problems::Problems;
use super::question::Question;
use super::rows::{RowKind, Rows};
use super::synonyms::{Field, split_heading, unit_cell};
use super::table::TallyTable;
use super::totals::Totals;
use crate::measure::{DecimalMark, Excerpt, Length, MAX_JOINT, MIN_JOINT, ParsedLength, Unit};
use crate::tally::claim::Claimed;
use crate::tally::joint::{Joint, Kind, LengthKind, Written};
use crate::tally::remarks::{SkipReason, Skipped, UnknownKind};

/// After how many rows it is looked again how much memory what was found takes.
const ROWS_BETWEEN: usize = 32;

/// The columns that a joint's row is read from.
struct JointReader<'a> {
    cells: LengthReader<'a>,
    serial: Option<usize>,
    kind: Option<usize>,
    overall: Option<usize>,
    loss: Option<usize>,
    effective: Option<usize>,
    running: Option<usize>,
    remarks: Option<usize>,
    /// Whether that column was named by the person who reads.
    named_remarks: bool,
    landing: Landing<'a>,
    /// The least make-up loss.
    least_loss: Length,
    /// Whether the columns turned out to mean something else from here on.
    table_ended: bool,
    totals: Totals,
    found: FoundRows,
}

/// Reads the joints; problems are added to the list, and reading goes on to find them all.
pub(super) fn read(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    decimal: DecimalMark,
    options: &Options,
    problems: &mut Problems,
) -> FoundRows {
    let joints = rows.joints().count();
    let kind = table.optional(Field::Kind).filter(|column| {
        let named = options.columns.iter().any(|it| it.role == ColumnRole::Kind);
        named || holds_kinds(grid, table, rows, *column)
    });
    let mut reader = JointReader {
        cells: LengthReader::new(grid, table, decimal),
        serial: table.optional(Field::Serial),
        kind,
        overall: table.overall(),
        loss: table
            .optional(Field::Loss)
            .filter(|_| table.overall().is_some()),
        effective: table.effective(),
        running: table.optional(Field::Running),
        remarks: table.optional(Field::Remarks),
        named_remarks: options
            .columns
            .iter()
            .any(|choice| choice.role == ColumnRole::Remarks),
        landing: Landing::new(table, options.landing.as_deref()),
        least_loss: options.least_loss,
        table_ended: false,
        totals: Totals::default(),
        found: FoundRows {
            joints: Vec::with_capacity(joints.min(MAX_JOINTS)),
            claims: Vec::new(),
            skipped: Vec::new(),
            unknown_kinds: Vec::new(),
            unit: table.unit(table.length()),
            ends: Vec::new(),
            numbers: NumberOrder::default(),
            kept: 0,
        },
    };
    for row in 0..table.header {
        reader.found.skip(grid, row, SkipReason::AboveTable);
    }
    let room = MAX_READING.saturating_sub(grid.bytes());
    for (row, kind) in rows.iter() {
        let beyond = if reader.found.joints.len() >= MAX_JOINTS && kind == RowKind::Joint {
            Some(Limit::Joints)
        } else {
            // What a few rows take is less than what there is to spare.
            let is_beyond = row % ROWS_BETWEEN == 0 && reader.found.is_beyond(room);
            is_beyond.then_some(Limit::Memory)
        };
        if let Some(limit) = beyond {
            let line = grid.line(row);
            problems.push(Problem::Beyond { line, limit });
            break;
        }
        if problems.are_too_many() {
            break;
        }
        if kind == RowKind::LeftOut {
            if let Some(sign) = rows.left_out(row) {
                reader.skip(row, SkipReason::NotRun(sign));
            }
            continue;
        }
        reader.take(row, kind, problems);
        if reader.table_ended {
            break;
        }
    }
    reader.landing.finish(problems);
    let mut found = reader.found;
    list_blanks(grid, &mut found);
    let of_conductor = |joint: &Joint| joint.kind != Some(Kind::Landing);
    if problems.is_empty() && !found.joints.iter().any(of_conductor) {
        problems.push(match table.rows {
            Some(rows) => Problem::NoJointsInRows { rows },
            None => Problem::NoJoints {
                line: grid.line(table.header),
            },
        });
    }
    found
}

fn list_blanks(grid: &Grid, found: &mut FoundRows) {
    for (line, lines) in grid.blanks() {
        found.skipped.push(Skipped {
            line: *line,
            why: SkipReason::BlankLines(*lines),
            text: String::new(),
        });
    }
    found.skipped.sort_by_key(|skipped| skipped.line);
}

/// A column called `kind` holds kinds. One called `type` or `description` does if most of its texts are
/// kinds; otherwise it is left unused.
fn holds_kinds(grid: &Grid, table: &TallyTable, rows: &Rows, column: usize) -> bool {
    if !matches!(table.name(column), "type" | "description") {
        return true;
    }
    let (mut texts, mut kinds) = (0_usize, 0_usize);
    for text in rows.joints().map(|row| grid.cell(row, column)) {
        texts += usize::from(!text.is_empty());
        kinds += usize::from(Kind::from_word(text).is_some());
    }
    kinds * 2 > texts
}

impl JointReader<'_> {
    fn skip(&mut self, row: usize, why: SkipReason) {
        self.found.skip(self.cells.grid, row, why);
    }

    fn take(&mut self, row: usize, kind: RowKind, problems: &mut Problems) {
        match kind {
            RowKind::Joint => self.joint(row, problems),
            RowKind::PerhapsJoint => self.perhaps_joint(row, problems),
            RowKind::JointWithoutLength => problems.push(Problem::LengthMissing {
                at: self
                    .cells
                    .table
                    .at(self.cells.grid, row, self.cells.table.length()),
                joint: self.cells.grid.excerpt(row, self.cells.table.joint()),
            }),
            RowKind::LengthWithoutJoint => {
                let Self {
                    cells,
                    totals,
                    found,
                    ..
                } = self;
                totals.unlabelled(cells, row, found, problems);
            }
            RowKind::Total => self.totals.total(&self.cells, row, &mut self.found),
            RowKind::Forward => self.totals.forward(&self.cells, row, &mut self.found),
            RowKind::Summary => self.skip(row, SkipReason::Summary),
            RowKind::OwnUnits | RowKind::LeftOut => {}
            RowKind::Outside => self.skip(row, SkipReason::OutsideRows),
            RowKind::Header => {
                self.same_units(row, problems, |cell| split_heading(cell).1);
                self.skip(row, SkipReason::HeaderAgain);
            }
            RowKind::Units => {
                self.same_units(row, problems, unit_cell);
                self.skip(row, SkipReason::UnitsAgain);
            }
            RowKind::OtherHeader => {
                self.table_ended = true;
                problems.push(Problem::OtherHeader {
                    line: self.cells.grid.line(row),
                    first: self.cells.grid.line(self.cells.table.header),
                });
            }
            RowKind::Title => self.skip(row, SkipReason::TitleAgain),
            RowKind::Page => self.skip(row, SkipReason::PageHead),
            RowKind::Note => self.skip(row, SkipReason::Note),
            RowKind::Blank => self.skip(row, SkipReason::BlankRow),
        }
    }

    /// A row that states units again must state those that hold.
    fn same_units(
        &mut self,
        row: usize,
        problems: &mut Problems,
        unit: impl Fn(&str) -> Option<Unit>,
    ) {
        for column in 0..self.cells.table.width() {
            let Some(now) = unit(self.cells.grid.cell(row, column)) else {
                continue;
            };
            let is_length = self.cells.table.field(column).is_some_and(Field::is_length);
            let was = self
                .cells
                .table
                .written_unit(self.cells.grid, column)
                .or_else(|| self.cells.table.unit(column));
            if let Some(was) = was.filter(|was| is_length && *was != now) {
                self.table_ended = true;
                problems.push(Problem::UnitChange {
                    at: self.cells.table.at(self.cells.grid, row, column),
                    was,
                    was_line: self.cells.grid.line(self.cells.table.header),
                    now,
                });
            }
        }
    }

    /// A text that is no joint number beside a length: a remark if the length does not read as one,
    /// else nobody can tell.
    fn perhaps_joint(&mut self, row: usize, problems: &mut Problems) {
        let column = self.cells.table.length();
        if self.cells.reading(row, column).is_err() {
            self.skip(row, SkipReason::Note);
            return;
        }
        problems.push(Problem::PerhapsJoint {
            at: self
                .cells
                .table
                .at(self.cells.grid, row, self.cells.table.joint()),
            text: self.cells.grid.excerpt(row, self.cells.table.joint()),
            length: self.cells.grid.excerpt(row, column),
        });
    }

    fn joint(&mut self, row: usize, problems: &mut Problems) {
        let is_longer = self.cells.grid.width(row) > self.cells.table.width();
        if let Some(column) = is_longer.then(|| self.figure_beyond(row)).flatten() {
            let remarks = self.remarks.unwrap_or(column);
            problems.push(Question::TooManyCells {
                at: self.cells.table.at(self.cells.grid, row, column),
                text: self.cells.grid.excerpt(row, column),
                columns: self.cells.table.width(),
                remarks: letters(self.cells.grid.column(row, remarks)),
            });
            return;
        }
        if let Some(column) = is_longer.then(|| self.shifted(row)).flatten() {
            problems.push(Problem::CellTooMany {
                at: self.cells.table.at(self.cells.grid, row, column),
                text: self.cells.grid.excerpt(row, column),
            });
            return;
        }
        let grid = self.cells.grid;
        let cells = &grid.row(row);
        let number = cells.cell(self.cells.table.joint());
        if memchr2(b'\n', b'\r', number.as_bytes()).is_some() {
            let lines = number.lines().count();
            problems.push(Problem::OpenQuote {
                line: self.cells.grid.line(row),
                lines: u32::try_from(lines).unwrap_or(u32::MAX),
            });
            return;
        }
        let kind = self
            .kind
            .and_then(|column| self.joint_kind(row, cells.cell(column)));
        let kind = self.landing.kind(self.cells.grid, row, number, kind);
        let length_column = self.cells.table.length();
        let length = self.joint_length(cells, (row, length_column), number, problems);
        let loss = self
            .loss
            .and_then(|column| self.joint_loss(cells, (row, column), (number, length), problems));
        let stated = self
            .overall
            .and(self.effective)
            .and_then(|column| self.cells.optional(cells, (row, column), problems));
        let running = self
            .running
            .and_then(|column| self.cells.optional(cells, (row, column), problems));
        let Some(length) = length else { return };
        let at = self.found.joints.len();
        let line = self.cells.grid.line(row);
        let mut makeup_loss = loss.map(|reading| reading.length);
        if let Some(stated) = stated {
            let difference = length.length - stated.length;
            if self.loss.is_none() && difference >= self.least_loss {
                // Overall and effective length without a column of losses: the loss is their difference.
                makeup_loss = Some(difference);
            } else {
                self.found
                    .claim(line, Claimed::Effective { row: at }, stated);
            }
        }
        if let Some(running) = running {
            self.found
                .claim(line, Claimed::Running { row: at }, running);
        }
        let text = |column: Option<usize>| {
            let text = column.map(|column| cells.cell(column));
            text.filter(|text| !text.is_empty())
        };
        // No serial is no text that joints could share.
        let serial = text(self.serial).filter(|text| !says_nothing(text));
        let spilled = is_longer.then(|| self.spilled(row)).flatten();
        let remarks = spilled.or_else(|| text(self.remarks).map(|text| grid.kept(text)));
        self.totals.add(length.length, makeup_loss);
        // Of the texts as the file has them: what was just written is slow to look at.
        self.found.note(number, kind);
        self.found
            .keep([number, serial.unwrap_or_default()], remarks.as_deref());
        // Filled in where it stays: a joint that is made elsewhere must be moved there, for which the processor waits until
        // all its bytes are written.
        self.found.joints.push(Joint::BLANK);
        let Some(joint) = self.found.joints.last_mut() else {
            return;
        };
        joint.line = line;
        joint.kind = kind;
        joint.written = Written::new(length.unit, length.decimals);
        joint.loss_written = loss.map(|loss| Written::new(loss.unit, loss.decimals));
        joint.length_kind = match self.overall {
            Some(_) => LengthKind::Overall,
            None => LengthKind::Effective,
        };
        joint.length = Some(length.length);
        joint.makeup_loss = makeup_loss;
        grid.keep(number, &mut joint.number);
        if let Some(serial) = serial {
            grid.keep(serial, joint.serial.insert(CompactString::const_new("")));
        }
        joint.remarks = remarks.map(Box::new);
    }

    /// The first figure in a cell that no heading is above. Text there is a remark that spilled over, and so is
    /// a figure where the column of remarks was named.
    #[cold]
    fn figure_beyond(&self, row: usize) -> Option<usize> {
        let grid = self.cells.grid;
        if self.named_remarks {
            return None;
        }
        (self.cells.table.width()..grid.width(row))
            .find(|column| is_figure(grid.cell(row, *column)))
    }

    /// A remark that runs on beyond the last column, as one text.
    #[cold]
    fn spilled(&self, row: usize) -> Option<CompactString> {
        let (grid, width) = (self.cells.grid, self.cells.table.width());
        let mut beyond = (width..grid.width(row))
            .map(|column| grid.cell(row, column))
            .filter(|text| !text.is_empty())
            .peekable();
        beyond.peek()?;
        let own = self.remarks.map(|column| grid.cell(row, column));
        let texts: Vec<&str> = own
            .filter(|text| !text.is_empty())
            .into_iter()
            .chain(beyond)
            .collect();
        let between = format!("{} ", char::from(grid.separator));
        Some(grid.kept(&texts.join(&between)))
    }

    /// The figure after a length where a row has more cells than the header: a length was split in
    /// two, `0,15` and `24`, though the last of the cells is blank.
    #[cold]
    fn shifted(&self, row: usize) -> Option<usize> {
        (1..self.cells.table.width()).find(|column| {
            let takes_anything =
                matches!(self.cells.table.field(*column), None | Some(Field::Remarks));
            let text = self.cells.grid.cell(row, *column);
            takes_anything
                && !self.cells.table.has_inches(column - 1)
                && self
                    .cells
                    .table
                    .field(column - 1)
                    .is_some_and(Field::is_length)
                && !text.is_empty()
                && text
                    .bytes()
                    .all(|byte| byte.is_ascii_digit() || byte == b'.')
        })
    }

    fn joint_kind(&mut self, row: usize, text: &str) -> Option<Kind> {
        if says_nothing(text) {
            return None;
        }
        let kind = Kind::from_word(text);
        if kind.is_none() {
            self.found.unknown_kinds.push(UnknownKind {
                line: self.cells.grid.line(row),
                word: Excerpt::of(text),
            });
        }
        kind
    }

    fn joint_length(
        &mut self,
        cells: &GridRow<'_>,
        (row, column): (usize, usize),
        joint: &str,
        problems: &mut Problems,
    ) -> Option<ParsedLength> {
        let text = cells.cell(column);
        let reading = match self.cells.plain(text, row, column) {
            Some(reading) => reading,
            None => match self.cells.reading_of(text, row, column) {
                Ok(reading) => reading,
                Err(error) => {
                    self.cells.report(row, column, error, problems);
                    return None;
                }
            },
        };
        let at = || self.cells.table.at(self.cells.grid, row, column);
        let text = || self.cells.grid.excerpt(row, column);
        if reading.length <= Length::ZERO {
            problems.push(Problem::NotAbove0 {
                at: at(),
                joint: Excerpt::of(joint),
                text: text(),
            });
            return None;
        }
        if reading.length < MIN_JOINT {
            problems.push(Problem::TooShort {
                at: at(),
                joint: Excerpt::of(joint),
                text: text(),
                metres: reading.length.exact_metres(),
            });
            return None;
        }
        if reading.length > MAX_JOINT {
            problems.push(Problem::TooLong {
                at: at(),
                joint: Excerpt::of(joint),
                text: text(),
                metres: reading.length.exact_metres(),
            });
            return None;
        }
        self.found.unit.get_or_insert(reading.unit);
        Some(reading)
    }

    fn joint_loss(
        &mut self,
        cells: &GridRow<'_>,
        (row, column): (usize, usize),
        (joint, length): (&str, Option<ParsedLength>),
        problems: &mut Problems,
    ) -> Option<ParsedLength> {
        let loss = self.cells.optional(cells, (row, column), problems)?;
        let at = || self.cells.table.at(self.cells.grid, row, column);
        let text = || self.cells.grid.excerpt(row, column);
        if loss.length < self.least_loss {
            problems.push(Problem::LossNegative {
                at: at(),
                joint: Excerpt::of(joint),
                text: text(),
                least: self.least_loss,
            });
            return None;
        }
        if length.is_some_and(|length| loss.length >= length.length) {
            problems.push(Problem::LossTooLong {
                at: at(),
                joint: Excerpt::of(joint),
                loss: text(),
                length: self.cells.grid.excerpt(row, self.cells.table.length()),
            });
            return None;
        }
        Some(loss)
    }
}
