//! Joints of a landing string in lists that have no kinds: they come off once the conductor is fixed, and
//! counted as conductor they put every elevation off by their length.

use super::error::Problem;
use super::grid::Grid;
use super::problems::Problems;
use super::question::{DoubtedRow, Question};
use super::sign_words::landing_word;
use super::synonyms::Field;
use super::table::TallyTable;
use crate::finding::RowSign;
use crate::measure::Excerpt;
use crate::tally::joint::Kind;
use crate::tally::remarks::without_reasons;

/// Most rows of a question that are kept; those beyond are counted.
const KEPT: usize = 200;

/// Finds the joints of the landing string as the rows are read.
pub(super) struct Landing<'o> {
    /// Those that are stated, each with whether it was found.
    stated: Option<Vec<(&'o str, bool)>>,
    asked: Vec<DoubtedRow>,
    more: usize,
    /// The columns whose texts may name a landing string.
    columns: Vec<usize>,
}

impl<'o> Landing<'o> {
    pub(super) fn new(table: &TallyTable, stated: Option<&'o [String]>) -> Self {
        let is_text = |column: &usize| match table.field(*column) {
            Some(field) => matches!(field, Field::Joint | Field::Kind | Field::Remarks),
            None => matches!(table.name(*column), "type" | "description" | "remarks"),
        };
        Self {
            stated: stated.map(|joints| joints.iter().map(|it| (it.as_str(), false)).collect()),
            asked: Vec::new(),
            more: 0,
            columns: (0..table.width()).filter(is_text).collect(),
        }
    }

    /// The kind of a joint: what is stated goes before what is written.
    pub(super) fn kind(
        &mut self,
        grid: &Grid,
        row: usize,
        number: &str,
        written: Option<Kind>,
    ) -> Option<Kind> {
        if let Some(stated) = &mut self.stated {
            let mut named = stated
                .iter_mut()
                .filter(|(joint, _)| joint.eq_ignore_ascii_case(number))
                .peekable();
            let is_landing = named.peek().is_some();
            named.for_each(|(_, found)| *found = true);
            return if is_landing {
                Some(Kind::Landing)
            } else {
                written
            };
        }
        if written.is_none() {
            let sign = self.columns.iter().find_map(|column| {
                let word = landing_word(&without_reasons(grid.cell(row, *column)))?;
                let column = grid.column(row, *column);
                Some(RowSign::Word { word, column })
            });
            match sign {
                Some(_) if self.asked.len() >= KEPT => self.more += 1,
                Some(sign) => self.asked.push(DoubtedRow {
                    line: grid.line(row),
                    joint: Excerpt::of(number),
                    sign,
                }),
                None => {}
            }
        }
        written
    }

    /// Asks about joints that may be of a landing string, and names stated ones that are not there.
    pub(super) fn finish(self, problems: &mut Problems) {
        if !self.asked.is_empty() {
            problems.push(Question::LandingQuestion {
                rows: self.asked,
                more: self.more,
            });
        }
        for (joint, found) in self.stated.into_iter().flatten() {
            if !found {
                problems.push(Problem::NoSuchLandingJoint {
                    joint: Excerpt::of(joint),
                });
            }
        }
    }
}
