//! From classified rows to joints, claims and the list of what was skipped.

use compact_str::CompactString;

use super::super::claim::{Claim, Claimed};
use super::super::{Joint, Kind, Skipped, Written};
use super::columns::Table;
use super::doubts::{doubt_lengths, doubt_losses};
use super::error::Problem;
use super::grid::Grid;
use super::problems::Problems;
use super::rows::{RowKind, Rows};
use super::synonyms::{Field, split_heading, unit_cell};
use super::totals::Totals;
use super::{MAX_JOINTS, Options};
use crate::measure::{DecimalMark, Excerpt, Length, MAX_JOINT, ParsedLength, Unit, visible_lines};

/// What the rows of a table hold, in the order of the page.
pub(super) struct Read {
    pub(super) joints: Vec<Joint>,
    pub(super) claims: Vec<Claim>,
    pub(super) skipped: Vec<Skipped>,
    pub(super) unit: Unit,
}

pub(super) struct Reader<'a> {
    pub(super) grid: &'a Grid<'a>,
    pub(super) table: &'a Table,
    pub(super) decimal: DecimalMark,
    serial: Option<usize>,
    kind: Option<usize>,
    overall: Option<usize>,
    loss: Option<usize>,
    effective: Option<usize>,
    running: Option<usize>,
    remarks: Option<usize>,
    /// The unit of each column's bare numbers.
    pub(super) units: Vec<Option<Unit>>,
    /// Columns about whose unit a question was asked already.
    pub(super) asked: Vec<usize>,
    pub(super) unit: Option<Unit>,
    /// Whether the columns turned out to mean something else from here on.
    lost: bool,
    pub(super) totals: Totals,
    pub(super) out: Read,
}

/// Reads the joints; problems are added to the list, and reading goes on to find them all.
pub(super) fn read(
    grid: &Grid,
    table: &Table,
    rows: &Rows,
    decimal: DecimalMark,
    options: &Options,
    problems: &mut Problems,
) -> Read {
    let joints = rows.joints().count();
    let kind = table
        .optional(Field::Kind)
        .filter(|column| holds_kinds(grid, table, rows, *column));
    let mut reader = Reader {
        grid,
        table,
        decimal,
        serial: table.optional(Field::Serial),
        kind,
        overall: table.overall(),
        loss: table
            .optional(Field::Loss)
            .filter(|_| table.overall().is_some()),
        effective: table.effective(),
        running: table.optional(Field::Running),
        remarks: table.optional(Field::Remarks),
        units: (0..table.width())
            .map(|column| table.unit(column))
            .collect(),
        asked: Vec::new(),
        unit: table.unit(table.length()),
        lost: false,
        totals: Totals::default(),
        out: Read {
            joints: Vec::with_capacity(joints.min(MAX_JOINTS)),
            claims: Vec::new(),
            skipped: Vec::new(),
            unit: Unit::Metre,
        },
    };
    reader.skip_titles();
    for (row, kind) in rows.iter() {
        if reader.out.joints.len() >= MAX_JOINTS && kind == RowKind::Joint {
            problems.push(Problem::TooManyJoints {
                line: grid.line(row),
                most: MAX_JOINTS,
            });
            break;
        }
        reader.take(row, kind, problems);
        if reader.lost {
            break;
        }
    }
    reader.skip_blanks();
    let mut out = reader.out;
    out.unit = reader.unit.unwrap_or(Unit::Metre);
    if problems.is_empty()
        && !out
            .joints
            .iter()
            .any(|joint| joint.kind != Some(Kind::Landing))
    {
        problems.push(Problem::NoJoints {
            line: grid.line(table.header),
        });
    }
    doubt_losses(grid, table, rows, &out, problems);
    doubt_lengths(grid, table, options, &out, problems);
    out
}

/// A column called `kind` holds kinds. One called `type` or `description` does if all its texts are
/// kinds; otherwise it is left unused.
fn holds_kinds(grid: &Grid, table: &Table, rows: &Rows, column: usize) -> bool {
    if !matches!(table.name(column), "type" | "description") {
        return true;
    }
    rows.joints()
        .map(|row| grid.cell(row, column))
        .all(|text| text.is_empty() || Kind::from_word(text).is_some())
}

impl Reader<'_> {
    pub(super) fn skip(&mut self, row: usize, why: impl Into<String>) {
        self.out.skipped.push(Skipped {
            line: self.grid.line(row),
            why: why.into(),
            text: visible_lines(&self.grid.joined(row)).into_owned(),
        });
    }

    fn skip_titles(&mut self) {
        for row in 0..self.table.header {
            self.skip(row, "above the table");
        }
    }

    fn skip_blanks(&mut self) {
        for (line, lines) in self.grid.blanks() {
            let why = if *lines == 1 {
                "blank line".to_owned()
            } else {
                format!("{lines} blank lines")
            };
            self.out.skipped.push(Skipped {
                line: *line,
                why,
                text: String::new(),
            });
        }
        self.out.skipped.sort_by_key(|skipped| skipped.line);
    }

    fn take(&mut self, row: usize, kind: RowKind, problems: &mut Problems) {
        match kind {
            RowKind::Joint => {
                if let Some(joint) = self.joint(row, problems) {
                    self.totals.add(&joint);
                    self.out.joints.push(joint);
                }
            }
            RowKind::PerhapsJoint => self.perhaps_joint(row, problems),
            RowKind::JointWithoutLength => problems.push(Problem::LengthMissing {
                at: self.table.at(self.grid, row, self.table.length()),
                joint: self.grid.excerpt(row, self.table.joint()),
            }),
            RowKind::LengthWithoutJoint => self.unlabelled(row, problems),
            RowKind::Total => self.total(row),
            RowKind::Forward => self.forward(row),
            RowKind::Summary => self.skip(row, "summary: an average, a count or the like"),
            RowKind::OwnUnits => {}
            RowKind::Header => {
                self.same_units(row, problems, |cell| split_heading(cell).1);
                self.skip(row, "header again");
            }
            RowKind::Units => {
                self.same_units(row, problems, unit_cell);
                self.skip(row, "units again");
            }
            RowKind::OtherHeader => {
                self.lost = true;
                problems.push(Problem::OtherHeader {
                    line: self.grid.line(row),
                    first: self.grid.line(self.table.header),
                });
            }
            RowKind::Title => self.skip(row, "title again"),
            RowKind::Page => self.skip(row, "head of a page"),
            RowKind::Note => self.skip(row, "note: neither a joint nor a length"),
            RowKind::Blank => self.skip(row, "blank row"),
        }
    }

    /// A row that states units again must state those that hold.
    fn same_units(
        &mut self,
        row: usize,
        problems: &mut Problems,
        unit: impl Fn(&str) -> Option<Unit>,
    ) {
        for column in 0..self.table.width() {
            let Some(now) = unit(self.grid.cell(row, column)) else {
                continue;
            };
            let is_length = self.table.field(column).is_some_and(Field::is_length);
            let was = self
                .table
                .written_unit(self.grid, column)
                .or_else(|| self.table.unit(column));
            if let Some(was) = was.filter(|was| is_length && *was != now) {
                self.lost = true;
                problems.push(Problem::UnitChange {
                    at: self.table.at(self.grid, row, column),
                    was,
                    was_line: self.grid.line(self.table.header),
                    now,
                });
            }
        }
    }

    /// A text that is no joint number beside a length: a remark if the length does not read as one,
    /// else nobody can tell.
    fn perhaps_joint(&mut self, row: usize, problems: &mut Problems) {
        let column = self.table.length();
        if self.reading(row, column).is_err() {
            self.skip(row, "note: neither a joint nor a length");
            return;
        }
        problems.push(Problem::PerhapsJoint {
            at: self.table.at(self.grid, row, self.table.joint()),
            text: self.grid.excerpt(row, self.table.joint()),
            length: self.grid.excerpt(row, column),
        });
    }

    fn joint(&mut self, row: usize, problems: &mut Problems) -> Option<Joint> {
        if let Some(column) = (self.table.width()..self.grid.width(row))
            .find(|column| !self.grid.cell(row, *column).is_empty())
        {
            problems.push(Problem::TooManyCells {
                at: self.table.at(self.grid, row, column),
                text: self.grid.excerpt(row, column),
                columns: self.table.width(),
            });
            return None;
        }
        if let Some(column) = self.shifted(row) {
            problems.push(Problem::CellTooMany {
                at: self.table.at(self.grid, row, column),
                text: self.grid.excerpt(row, column),
            });
            return None;
        }
        let number = self.grid.cell(row, self.table.joint());
        if number.contains(['\n', '\r']) {
            let lines = number.lines().count();
            problems.push(Problem::OpenQuote {
                line: self.grid.line(row),
                lines: u32::try_from(lines).unwrap_or(u32::MAX),
            });
            return None;
        }
        let kind = self
            .kind
            .and_then(|column| self.joint_kind(row, column, problems));
        let length_column = self.table.length();
        let length = self.joint_length(row, length_column, number, problems);
        let loss = self
            .loss
            .and_then(|column| self.joint_loss(row, column, number, length, problems));
        let stated = self
            .overall
            .and(self.effective)
            .and_then(|column| self.optional(row, column, problems));
        let running = self
            .running
            .and_then(|column| self.optional(row, column, problems));
        let length = length?;
        let at = self.out.joints.len();
        let line = self.grid.line(row);
        let mut makeup_loss = loss.map(|reading| reading.length);
        if let Some(stated) = stated {
            let difference = length.length - stated.length;
            if self.loss.is_none() && !difference.is_negative() {
                // Overall and effective length without a column of losses: the loss is their difference.
                makeup_loss = Some(difference);
            } else {
                self.claim(line, Claimed::Effective { row: at }, stated);
            }
        }
        if let Some(running) = running {
            self.claim(line, Claimed::Running { row: at }, running);
        }
        let text = |column: Option<usize>| {
            column
                .map(|column| self.grid.shown(row, column))
                .filter(|text| !text.is_empty())
                .map(CompactString::from)
        };
        Some(Joint {
            line,
            number: CompactString::from(self.grid.shown(row, self.table.joint())),
            serial: text(self.serial),
            kind,
            written: Written::new(length.unit, length.decimals),
            loss_written: loss.map(|loss| Written::new(loss.unit, loss.decimals)),
            overall: self.overall.map(|_| length.length),
            makeup_loss,
            effective: if self.overall.is_none() {
                Some(length.length)
            } else {
                None
            },
            remarks: text(self.remarks),
        })
    }

    /// The figure after a length where a row has more cells than the header: a length was split in
    /// two, `0,15` and `24`, though the last of the cells is blank.
    fn shifted(&self, row: usize) -> Option<usize> {
        if self.grid.width(row) <= self.table.width() {
            return None;
        }
        (1..self.table.width()).find(|column| {
            let takes_anything = matches!(self.table.field(*column), None | Some(Field::Remarks));
            let text = self.grid.cell(row, *column);
            takes_anything
                && !self.table.has_inches(column - 1)
                && self.table.field(column - 1).is_some_and(Field::is_length)
                && !text.is_empty()
                && text
                    .bytes()
                    .all(|byte| byte.is_ascii_digit() || byte == b'.')
        })
    }

    fn joint_kind(&self, row: usize, column: usize, problems: &mut Problems) -> Option<Kind> {
        let text = self.grid.cell(row, column);
        if text.is_empty() {
            return None;
        }
        let kind = Kind::from_word(text);
        if kind.is_none() {
            problems.push(Problem::UnknownKind {
                at: self.table.at(self.grid, row, column),
                text: Excerpt::of(text),
            });
        }
        kind
    }

    fn joint_length(
        &mut self,
        row: usize,
        column: usize,
        joint: &str,
        problems: &mut Problems,
    ) -> Option<ParsedLength> {
        let reading = match self.reading(row, column) {
            Ok(reading) => reading,
            Err(error) => {
                self.report(row, column, error, problems);
                return None;
            }
        };
        let at = || self.table.at(self.grid, row, column);
        let text = || self.grid.excerpt(row, column);
        if reading.length <= Length::ZERO {
            problems.push(Problem::NotAbove0 {
                at: at(),
                joint: Excerpt::of(joint),
                text: text(),
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
        self.unit.get_or_insert(reading.unit);
        Some(reading)
    }

    fn joint_loss(
        &mut self,
        row: usize,
        column: usize,
        joint: &str,
        length: Option<ParsedLength>,
        problems: &mut Problems,
    ) -> Option<ParsedLength> {
        let loss = self.optional(row, column, problems)?;
        let at = || self.table.at(self.grid, row, column);
        let text = || self.grid.excerpt(row, column);
        if loss.length.is_negative() {
            problems.push(Problem::LossNegative {
                at: at(),
                joint: Excerpt::of(joint),
                text: text(),
            });
            return None;
        }
        if length.is_some_and(|length| loss.length >= length.length) {
            problems.push(Problem::LossTooLong {
                at: at(),
                joint: Excerpt::of(joint),
                loss: text(),
                length: self.grid.excerpt(row, self.table.length()),
            });
            return None;
        }
        Some(loss)
    }
}
