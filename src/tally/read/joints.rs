//! From classified rows to joints, claims and the list of what was skipped.

use super::super::claims::{Claim, Claimed};
use super::super::{Joint, Kind, Skipped};
use super::columns::Table;
use super::error::{Problem, Problems};
use super::grid::Grid;
use super::rows::RowKind;
use super::synonyms::Field;
use super::{MAX_JOINTS, Options};
use crate::measure::{
    DecimalMark, Length, LengthError, MAX_JOINT, Reading, Rules, Unit, read_length,
};

/// Losses above this are no make-up losses: 0.6 m is twice what the longest pins swallow.
const LONG_LOSS: Length = Length::from_mm(600);

/// What the rows of a table hold, in the order of the page.
pub(super) struct Read {
    pub(super) joints: Vec<Joint>,
    pub(super) claims: Vec<Claim>,
    pub(super) skipped: Vec<Skipped>,
    pub(super) unit: Unit,
}

struct Reader<'a> {
    grid: &'a Grid,
    table: &'a Table,
    decimal: DecimalMark,
    serial: Option<usize>,
    kind: Option<usize>,
    overall: Option<usize>,
    loss: Option<usize>,
    effective: Option<usize>,
    running: Option<usize>,
    remarks: Option<usize>,
    /// The unit of each column's bare numbers.
    units: Vec<Option<Unit>>,
    /// Columns about whose unit a question was asked already.
    asked: Vec<usize>,
    page_start: usize,
    unit: Option<Unit>,
    out: Read,
}

/// Reads the joints; problems are added to the list, and reading goes on to find them all.
pub(super) fn read(
    grid: &Grid,
    table: &Table,
    rows: &[(usize, RowKind)],
    decimal: DecimalMark,
    options: &Options,
    problems: &mut Problems,
) -> Read {
    let joints = rows
        .iter()
        .filter(|(_, kind)| *kind == RowKind::Joint)
        .count();
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
        page_start: 0,
        unit: table.unit(table.length()),
        out: Read {
            joints: Vec::with_capacity(joints.min(MAX_JOINTS)),
            claims: Vec::new(),
            skipped: Vec::new(),
            unit: Unit::Metre,
        },
    };
    reader.skip_titles();
    for (row, kind) in rows {
        if reader.out.joints.len() >= MAX_JOINTS && *kind == RowKind::Joint {
            problems.push(Problem::TooManyJoints {
                line: grid.line(*row),
                most: MAX_JOINTS,
            });
            break;
        }
        reader.take(*row, *kind, problems);
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
fn holds_kinds(grid: &Grid, table: &Table, rows: &[(usize, RowKind)], column: usize) -> bool {
    if !matches!(table.name(column), "type" | "description") {
        return true;
    }
    rows.iter()
        .filter(|(_, kind)| *kind == RowKind::Joint)
        .map(|(row, _)| grid.cell(*row, column))
        .all(|text| text.is_empty() || Kind::from_word(text).is_some())
}

impl Reader<'_> {
    fn skip(&mut self, row: usize, why: &str) {
        self.out.skipped.push(Skipped {
            line: self.grid.line(row),
            why: why.to_owned(),
            text: self.grid.joined(row),
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
                    self.out.joints.push(joint);
                }
            }
            RowKind::JointWithoutLength => problems.push(Problem::LengthMissing {
                at: self.table.at(self.grid, row, self.table.length()),
                joint: self.grid.cell(row, self.table.joint()).to_owned(),
            }),
            RowKind::LengthWithoutJoint => self.unlabelled(row, problems),
            RowKind::Total => {
                self.claim_totals(row, false);
                self.skip(row, "total: not summed, checked against the joints");
                self.page_start = self.out.joints.len();
            }
            RowKind::Forward => {
                self.claim_totals(row, true);
                self.skip(row, "carry-forward: not summed, checked against the joints");
            }
            RowKind::Header => self.skip(row, "header again"),
            RowKind::Units => self.skip(row, "units again"),
            RowKind::Page => self.skip(row, "head of a page"),
            RowKind::Note => self.skip(row, "note: neither a joint nor a length"),
            RowKind::Blank => self.skip(row, "blank row"),
        }
    }

    fn joint(&mut self, row: usize, problems: &mut Problems) -> Option<Joint> {
        if let Some(column) = (self.table.width()..self.grid.width(row))
            .find(|column| !self.grid.cell(row, *column).is_empty())
        {
            problems.push(Problem::TooManyCells {
                at: self.table.at(self.grid, row, column),
                text: self.grid.cell(row, column).to_owned(),
                columns: self.table.width(),
            });
            return None;
        }
        let number = self.grid.cell(row, self.table.joint());
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
                .map(|column| self.grid.cell(row, column))
                .filter(|text| !text.is_empty())
                .map(Box::from)
        };
        Some(Joint {
            line,
            number: Box::from(number),
            serial: text(self.serial),
            kind,
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

    fn joint_kind(&self, row: usize, column: usize, problems: &mut Problems) -> Option<Kind> {
        let text = self.grid.cell(row, column);
        if text.is_empty() {
            return None;
        }
        let kind = Kind::from_word(text);
        if kind.is_none() {
            problems.push(Problem::UnknownKind {
                at: self.table.at(self.grid, row, column),
                text: text.to_owned(),
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
    ) -> Option<Reading> {
        let reading = match self.reading(row, column) {
            Ok(reading) => reading,
            Err(error) => {
                self.report(row, column, error, problems);
                return None;
            }
        };
        let at = || self.table.at(self.grid, row, column);
        let text = || self.grid.cell(row, column).to_owned();
        if reading.length <= Length::ZERO {
            problems.push(Problem::NotAbove0 {
                at: at(),
                joint: joint.to_owned(),
                text: text(),
            });
            return None;
        }
        if reading.length > MAX_JOINT {
            problems.push(Problem::TooLong {
                at: at(),
                joint: joint.to_owned(),
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
        length: Option<Reading>,
        problems: &mut Problems,
    ) -> Option<Reading> {
        let loss = self.optional(row, column, problems)?;
        let at = || self.table.at(self.grid, row, column);
        let text = || self.grid.cell(row, column).to_owned();
        if loss.length.is_negative() {
            problems.push(Problem::LossNegative {
                at: at(),
                joint: joint.to_owned(),
                text: text(),
            });
            return None;
        }
        if length.is_some_and(|length| loss.length >= length.length) {
            problems.push(Problem::LossTooLong {
                at: at(),
                joint: joint.to_owned(),
                loss: text(),
                length: self.grid.cell(row, self.table.length()).to_owned(),
            });
            return None;
        }
        Some(loss)
    }

    /// A length that may be blank; a dash counts as blank.
    fn optional(&mut self, row: usize, column: usize, problems: &mut Problems) -> Option<Reading> {
        let blank = matches!(self.grid.cell(row, column), "" | "-" | "–" | "—");
        if blank && !(self.table.has_inches(column) && !self.grid.cell(row, column + 1).is_empty())
        {
            return None;
        }
        match self.reading(row, column) {
            Ok(reading) => Some(reading),
            Err(error) => {
                self.report(row, column, error, problems);
                None
            }
        }
    }

    fn reading(&self, row: usize, column: usize) -> Result<Reading, LengthError> {
        let bare = self.units.get(column).copied().flatten();
        let rules = Rules {
            bare,
            decimal: self.decimal,
        };
        let text = self.grid.cell(row, column);
        if self.table.has_inches(column) {
            let inches = self.grid.cell(row, column + 1);
            let feet = if text.is_empty() { "0" } else { text };
            let joined = if inches.is_empty() {
                format!("{feet}'")
            } else {
                format!("{feet}' {inches}\"")
            };
            return read_length(&joined, &rules);
        }
        read_length(text, &rules)
    }

    fn report(&mut self, row: usize, column: usize, error: LengthError, problems: &mut Problems) {
        let at = self.table.at(self.grid, row, column);
        if matches!(error, LengthError::NoUnit(_)) {
            // One question for the column, not one for each of its rows.
            if !self.asked.contains(&column) {
                self.asked.push(column);
                problems.push(Problem::UnitQuestion { at });
            }
            return;
        }
        problems.push(Problem::Length { at, error });
    }

    fn claim(&mut self, line: u32, claimed: Claimed, reading: Reading) {
        self.out.claims.push(Claim {
            line,
            claimed,
            value: reading.length,
            last_place: reading.last_place,
        });
    }

    /// The figures of a total row. Under a column of lengths they are totals of it; elsewhere only a
    /// number with decimals or a unit is one (a whole number counts joints).
    fn claim_totals(&mut self, row: usize, forward: bool) {
        for column in 0..self.grid.width(row) {
            let text = self.grid.cell(row, column);
            let field = self.table.field(column).filter(|field| field.is_length());
            let elsewhere = field.is_none();
            if text.is_empty() || (elsewhere && !text.contains(['.', ',', '\'', 'm', 'f'])) {
                continue;
            }
            let reading = if elsewhere {
                let rules = Rules {
                    bare: self.unit,
                    decimal: self.decimal,
                };
                read_length(text, &rules)
            } else {
                self.reading(row, column)
            };
            let Ok(reading) = reading else { continue };
            let claimed = Claimed::Total {
                page_start: self.page_start,
                row: self.out.joints.len(),
                of_losses: field == Some(Field::Loss),
                running: forward || field == Some(Field::Running),
            };
            self.claim(self.grid.line(row), claimed, reading);
        }
    }

    /// A length without a joint number is a total if it is the sum of what stands above it.
    fn unlabelled(&mut self, row: usize, problems: &mut Problems) {
        let column = self.table.length();
        let missing = || Problem::JointMissing {
            at: self.table.at(self.grid, row, self.table.joint()),
            length: self.grid.cell(row, column).to_owned(),
        };
        let Ok(reading) = self.reading(row, column) else {
            problems.push(missing());
            return;
        };
        let is_total = [0, self.page_start].into_iter().any(|start| {
            let above = self.out.joints.get(start..).unwrap_or_default();
            let full: Length = above
                .iter()
                .filter_map(|joint| joint.overall.or(joint.effective))
                .sum();
            let losses: Length = above.iter().filter_map(|joint| joint.makeup_loss).sum();
            let terms = i64::try_from(above.len()).unwrap_or(i64::MAX);
            let allowed = reading.last_place.nm().saturating_mul(terms);
            above.len() > 1
                && [full, full - losses]
                    .into_iter()
                    .any(|sum| (reading.length - sum).abs().nm().saturating_mul(2) <= allowed)
        });
        if is_total {
            self.claim_totals(row, false);
            self.skip(
                row,
                "total without a label: equals the sum above it; not summed",
            );
            self.page_start = self.out.joints.len();
        } else {
            problems.push(missing());
        }
    }
}

/// Losses that took their unit from the length column and are far too long in it are a question.
fn doubt_losses(
    grid: &Grid,
    table: &Table,
    rows: &[(usize, RowKind)],
    out: &Read,
    problems: &mut Problems,
) {
    let Some(column) = table
        .optional(Field::Loss)
        .filter(|column| table.unit_is_inferred(*column))
    else {
        return;
    };
    let losses = || {
        out.joints
            .iter()
            .filter_map(|joint| joint.makeup_loss)
            .filter(|loss| !loss.is_zero())
    };
    let (count, long) = (
        losses().count(),
        losses().filter(|loss| *loss > LONG_LOSS).count(),
    );
    if long * 2 <= count {
        return;
    }
    let example = rows
        .iter()
        .filter(|(_, kind)| *kind == RowKind::Joint)
        .map(|(row, _)| (*row, grid.cell(*row, column)))
        .find(|(_, text)| text.contains(|c: char| matches!(c, '1'..='9')));
    if let (Some((row, text)), Some(unit)) = (example, table.unit(column)) {
        problems.push(Problem::LossUnit {
            at: table.at(grid, row, column),
            example: text.to_owned(),
            unit,
        });
    }
}

/// A column that is only called length, beside losses, whose running total adds it up undiminished:
/// either it holds effective lengths, or the running total forgot the losses.
fn doubt_lengths(
    grid: &Grid,
    table: &Table,
    options: &Options,
    out: &Read,
    problems: &mut Problems,
) {
    let Some(column) = table
        .overall()
        .filter(|column| table.says_only_length(*column))
    else {
        return;
    };
    if options.length.is_some() || table.effective().is_some() {
        return;
    }
    let running: Vec<Length> = out
        .claims
        .iter()
        .filter(|claim| matches!(claim.claimed, Claimed::Running { .. }))
        .map(|claim| claim.value)
        .collect();
    if running.len() < 3 || running.len() != out.joints.len() {
        return;
    }
    let rises = running.first() < running.last();
    let adds_undiminished = running
        .windows(2)
        .zip(out.joints.windows(2))
        .all(|(total, joints)| match (total, joints) {
            ([before, after], [upper, lower]) => {
                let adds = if rises { lower.overall } else { upper.overall };
                Some((*after - *before).abs()) == adds
            }
            _ => false,
        });
    let inner_losses = out
        .joints
        .iter()
        .filter(|joint| joint.makeup_loss.is_some_and(|loss| !loss.is_zero()))
        .count();
    if adds_undiminished && inner_losses >= 2 {
        problems.push(Problem::OverallOrEffective {
            at: table.at(grid, table.header, column),
        });
    }
}
