//! Where the table starts and what each of its columns holds.

use super::error::Problem;
use super::grid::Grid;
use super::header::Header;
use super::headings::{HeadingRole, is_plain};
use super::options::{LengthColumn, LineSpan, Options};
use super::place::CellRef;
use super::synonyms::{Field, is_percent, split_heading, unit_cell};
use super::units::{title_unit, units_row};
use crate::measure::{Excerpt, Unit, visible};
use crate::tally::model::Column;

/// The header of a table, understood.
#[derive(Clone, Debug)]
pub(super) struct TallyTable {
    roles: Vec<HeadingRole>,
    /// The row of the header.
    pub(super) header: usize,
    /// The second row of a header of two rows.
    pub(super) second: Option<usize>,
    /// The row of units under it.
    pub(super) units: Option<usize>,
    /// Whether the file is of the plain form.
    pub(super) plain: bool,
    title_unit: Option<Unit>,
    joint: usize,
    length: usize,
    option_units: Option<Unit>,
    /// Whether columns in feet hold feet, a point and inches.
    with_point: bool,
    job_units: Option<Unit>,
    /// The lines that are read.
    pub(super) rows: Option<LineSpan>,
    /// Whether its cells have addresses.
    workbook: bool,
}

impl TallyTable {
    /// What each column of a header holds.
    pub(super) fn of_header(
        grid: &Grid,
        Header {
            row: header,
            second,
            roles,
            ..
        }: Header,
        options: &Options,
    ) -> Result<Self, Vec<Problem>> {
        let mut table = Self {
            plain: header == 0 && (grid.separator == b',' || grid.workbook) && is_plain(&roles),
            roles,
            header,
            second,
            units: None,
            title_unit: (0..header).find_map(|row| title_unit(&grid.joined(row))),
            joint: 0,
            length: 0,
            option_units: options
                .units
                .or(options.feet_point_inches.then_some(Unit::Foot)),
            with_point: options.feet_point_inches,
            rows: options.rows,
            job_units: options.job_units,
            workbook: grid.workbook,
        };
        // Nothing shifts the cells of a workbook, so that what is beside the table belongs to
        // columns without a name.
        if grid.workbook {
            let width = grid.widest_from(header).max(table.roles.len());
            table
                .roles
                .resize_with(width, || HeadingRole::of_heading(""));
        }
        let mut problems = Vec::new();
        table.units = units_row(grid, header, |column| table.field(column));
        table.take_units(grid, &mut problems);
        table.pair_inches();
        table.settle_repeats(grid, options, &mut problems);
        table.settle_lengths(grid, options, &mut problems);
        match table.column(Field::Joint) {
            Some(joint) => table.joint = joint,
            None => problems.push(Problem::NoHeader),
        }
        let length = table.overall().or_else(|| table.effective());
        table.length = length.unwrap_or(table.joint);
        let fits = |file: Unit| match options.units {
            Some(option) => file == option,
            None => !options.feet_point_inches || matches!(file, Unit::Foot | Unit::FootInch),
        };
        if let (Some(file), Some(column)) = (
            table.file_unit().filter(|file| !fits(*file)),
            table.overall().or_else(|| table.effective()),
        ) {
            problems.push(Problem::UnitConflict {
                at: table.at(grid, header, column),
                file,
                option: options.units.map_or("feet-point-inches", Unit::name),
            });
        }
        if problems.is_empty() {
            Ok(table)
        } else {
            Err(problems)
        }
    }

    /// Takes the units of the row under the header. A heading that says another unit than the row
    /// under it is a problem: one of the two is wrong.
    fn take_units(&mut self, grid: &Grid, problems: &mut Vec<Problem>) {
        let Some(units) = self.units else { return };
        while self.roles.len() < grid.width(units) {
            self.roles.push(HeadingRole::of_heading(""));
        }
        for column in 0..self.roles.len() {
            let below = unit_cell(grid.cell(units, column));
            let shares = is_percent(grid.cell(units, column));
            let at = self.at(grid, units, column);
            let Some(role) = self.roles.get_mut(column) else {
                continue;
            };
            if shares && role.field.is_some_and(Field::is_length) {
                role.field = None;
            }
            match (role.unit, below) {
                (Some(was), Some(now))
                    if was != now && role.field.is_some_and(Field::is_length) =>
                {
                    problems.push(Problem::UnitChange {
                        at,
                        was,
                        was_line: grid.line(self.header),
                        now,
                    });
                }
                (None, _) => role.unit = below,
                _ => {}
            }
        }
    }

    /// Feet in one column and inches in the next are one length.
    fn pair_inches(&mut self) {
        let has_overall = self
            .roles
            .iter()
            .any(|role| role.field == Some(Field::Overall));
        for left in 0..self.roles.len() {
            let (Some(feet), Some(inches)) = (self.roles.get(left), self.roles.get(left + 1))
            else {
                break;
            };
            let feet_alone = feet.is_feet() && !has_overall;
            let feet_named =
                feet.field.is_some_and(Field::is_length) && feet.unit == Some(Unit::Foot);
            let inches_named = inches.unit == Some(Unit::Inch) || inches.is_inches();
            // `Length (ft)` beside `Wall (in)` is no pair: the second must have no name of its own.
            let nameless = inches.name.is_empty()
                || Unit::from_word(&inches.name).is_some()
                || inches.name == feet.name;
            let same = (inches.field.is_none() && nameless)
                || (inches.field.is_some() && inches.field == feet.field);
            if !(feet_alone || feet_named) || !inches_named || !same || inches.inches {
                continue;
            }
            let field = feet.field.or(Some(Field::Overall));
            if let Some(feet) = self.roles.get_mut(left) {
                feet.field = field;
                feet.unit = Some(Unit::FootInch);
            }
            if let Some(inches) = self.roles.get_mut(left + 1) {
                inches.field = None;
                inches.inches = true;
            }
        }
    }

    /// Where several columns name one field, the better name is taken; equal names are a question,
    /// unless the same figure is merely given in a second unit.
    fn settle_repeats(&mut self, grid: &Grid, options: &Options, problems: &mut Vec<Problem>) {
        let fields = [
            Field::Joint,
            Field::Serial,
            Field::Kind,
            Field::Overall,
            Field::EitherLength,
            Field::Loss,
            Field::Effective,
            Field::Running,
            Field::Remarks,
        ];
        for field in fields {
            let of_field: Vec<(usize, usize, Option<Unit>)> = self
                .roles
                .iter()
                .enumerate()
                .filter(|(_, role)| role.field == Some(field))
                .map(|(column, role)| (column, role.rank, role.unit))
                .collect();
            let Some(best) = of_field.iter().map(|(_, rank, _)| *rank).min() else {
                continue;
            };
            let equals: Vec<_> = of_field
                .iter()
                .filter(|(_, rank, _)| *rank == best)
                .collect();
            let wanted = equals
                .iter()
                .find(|(_, _, unit)| unit.is_some() && *unit == options.units);
            let Some((chosen, _, unit)) = wanted.or(equals.first()).copied().copied() else {
                continue;
            };
            let may_differ = matches!(field, Field::Remarks | Field::Serial | Field::Kind);
            if let Some((second, _, _)) = equals.iter().find(|(column, _, other)| {
                *column != chosen && !may_differ && !(field.is_length() && *other != unit)
            }) {
                problems.push(Problem::TwoColumns {
                    line: grid.line(self.header),
                    first: chosen + 1,
                    second: second + 1,
                    field: field.name(),
                });
            }
            for (column, _, _) in of_field {
                if column != chosen
                    && let Some(role) = self.roles.get_mut(column)
                {
                    role.field = None;
                }
            }
        }
    }

    /// Settles which length a column holds where its name leaves it open.
    fn settle_lengths(&mut self, grid: &Grid, options: &Options, problems: &mut Vec<Problem>) {
        if let Some(column) = self.column(Field::EitherLength) {
            let other = self.overall().is_some() || self.effective().is_some();
            let field = match options.length {
                _ if other => None,
                Some(LengthColumn::Overall) => Some(Field::Overall),
                Some(LengthColumn::Effective) => Some(Field::Effective),
                None => {
                    problems.push(Problem::OverallOrEffective {
                        at: self.at(grid, self.header, column),
                    });
                    Some(Field::Overall)
                }
            };
            self.set_field(column, field);
            return;
        }
        match (options.length, self.overall(), self.effective()) {
            (Some(LengthColumn::Effective), Some(overall), _) if self.says_overall(overall) => {
                problems.push(Problem::LengthConflict {
                    at: self.at(grid, self.header, overall),
                    says: "overall",
                    option: "effective",
                });
            }
            (Some(LengthColumn::Effective), Some(overall), effective) => {
                self.set_field(
                    overall,
                    if effective.is_some() {
                        None
                    } else {
                        Some(Field::Effective)
                    },
                );
            }
            (Some(LengthColumn::Overall), None, Some(effective)) => {
                problems.push(Problem::LengthConflict {
                    at: self.at(grid, self.header, effective),
                    says: "effective",
                    option: "overall",
                });
            }
            _ => {}
        }
    }

    fn set_field(&mut self, column: usize, field: Option<Field>) {
        if let Some(role) = self.roles.get_mut(column) {
            role.field = field;
        }
    }

    fn says_overall(&self, column: usize) -> bool {
        self.roles.get(column).is_some_and(|role| {
            ["oal", "overall", "gross", "o a l", "oa"]
                .iter()
                .any(|word| role.name.contains(word))
        })
    }

    /// Whether the heading of a column is a bare "length", which could be either kind.
    pub(super) fn says_only_length(&self, column: usize) -> bool {
        !self.says_overall(column)
    }

    /// How many columns were named.
    pub(super) fn named(&self) -> usize {
        self.roles
            .iter()
            .filter(|role| role.field.is_some())
            .count()
    }

    /// How many columns the header has.
    pub(super) fn width(&self) -> usize {
        self.roles.len()
    }

    fn column(&self, field: Field) -> Option<usize> {
        self.roles.iter().position(|role| role.field == Some(field))
    }

    /// The column of joint numbers.
    pub(super) const fn joint(&self) -> usize {
        self.joint
    }

    /// The column of a field that a file may leave out.
    pub(super) fn optional(&self, field: Field) -> Option<usize> {
        self.column(field)
    }

    /// The column of overall lengths.
    pub(super) fn overall(&self) -> Option<usize> {
        self.column(Field::Overall)
    }

    /// The column of effective lengths.
    pub(super) fn effective(&self) -> Option<usize> {
        self.column(Field::Effective)
    }

    /// The column whose lengths make the string.
    pub(super) const fn length(&self) -> usize {
        self.length
    }

    /// The field of a column.
    pub(super) fn field(&self, column: usize) -> Option<Field> {
        self.roles.get(column).and_then(|role| role.field)
    }

    /// The heading of a column, in the form in which names are compared.
    pub(super) fn name(&self, column: usize) -> &str {
        self.roles.get(column).map_or("", |role| &role.name)
    }

    /// Whether a column has no heading and no use.
    pub(super) fn is_unnamed(&self, column: usize) -> bool {
        self.roles.get(column).is_some_and(|role| {
            role.heading.is_empty() && role.field.is_none() && !role.inches && role.unit.is_none()
        })
    }

    /// Whether the column after this one holds the inches to its feet.
    pub(super) fn has_inches(&self, column: usize) -> bool {
        self.roles.get(column + 1).is_some_and(|role| role.inches)
    }

    /// Whether a column holds the inches to the feet of the column before it.
    pub(super) fn is_inches(&self, column: usize) -> bool {
        self.roles.get(column).is_some_and(|role| role.inches)
    }

    /// The unit that the length column, or a title above the table, states.
    fn file_unit(&self) -> Option<Unit> {
        self.roles
            .get(self.length())
            .and_then(|role| role.unit)
            .or(self.title_unit)
    }

    /// The unit of a column's bare numbers: its own, else the option, else what the file says of its
    /// lengths, else the job's. For make-up losses in a job the job's unit comes before that of the
    /// length column: within one system of units a wrong choice shows, being off by a factor of ten or
    /// more, but feet against metres would not, so that such losses have none, which is a question.
    pub(super) fn unit(&self, column: usize) -> Option<Unit> {
        let role = self.roles.get(column)?;
        let told = role.unit.or(self.option_units);
        let file = self.file_unit();
        match (file, self.job_units) {
            (Some(file), Some(job)) if role.field == Some(Field::Loss) && told.is_none() => {
                (file.is_metric() == job.is_metric()).then_some(job)
            }
            _ => told.or(file).or(self.job_units),
        }
    }

    /// Whether the numbers of a column are feet, a point and inches of two digits.
    pub(super) fn feet_point_inches(&self, column: usize) -> bool {
        self.with_point
            && !self.has_inches(column)
            && matches!(self.unit(column), Some(Unit::Foot | Unit::FootInch))
    }

    /// Whether that is in question: the column is in feet, and no option says so.
    pub(super) fn may_be_feet_point_inches(&self, column: usize) -> bool {
        self.option_units.is_none()
            && !self.has_inches(column)
            && self.unit(column) == Some(Unit::Foot)
    }

    /// The unit that the header or the row of units gives a column, before feet and inches in two
    /// columns are taken together.
    pub(super) fn written_unit(&self, grid: &Grid, column: usize) -> Option<Unit> {
        let heading = self.roles.get(column).map_or("", |role| &role.heading);
        split_heading(heading)
            .1
            .or_else(|| self.units.and_then(|row| unit_cell(grid.cell(row, column))))
    }

    /// Whether a column's unit is neither in its heading nor confirmed by the option.
    pub(super) fn unit_is_inferred(&self, column: usize) -> bool {
        self.option_units.is_none()
            && self
                .roles
                .get(column)
                .is_some_and(|role| role.unit.is_none())
    }

    /// The place of a cell, for messages.
    pub(super) fn at(&self, grid: &Grid, row: usize, column: usize) -> CellRef {
        CellRef {
            column: grid.column(row, column),
            ..self.place(grid.line(row), column)
        }
    }

    /// The same by its line.
    pub(super) fn place(&self, line: u32, column: usize) -> CellRef {
        CellRef {
            line,
            column: column + 1,
            heading: self
                .roles
                .get(column)
                .map_or_else(Excerpt::default, |role| Excerpt::of(&role.heading)),
            in_sheet: self.workbook,
        }
    }

    /// What each column was taken for; `length_unit` is the unit that the lengths turned out to have.
    pub(super) fn described(&self, length_unit: Unit) -> Vec<Column> {
        let describe = |(column, role): (usize, &HeadingRole)| {
            let is_length = role.field.is_some_and(Field::is_length);
            Column {
                number: column + 1,
                heading: visible(&role.heading).into_owned(),
                used_as: if role.inches {
                    Some("inches of the column before")
                } else {
                    role.field.map(Field::name)
                },
                unit: is_length.then(|| self.unit(column).unwrap_or(length_unit)),
            }
        };
        self.roles.iter().enumerate().map(describe).collect()
    }
}
