//! Lines of text that say of joints, by their numbers, that they were not run.

use std::collections::HashMap;

use super::cell_text::bare_number;
use super::grid::Grid;
use super::rows::Rows;
use super::sign_words::sign_word;
use super::table::TallyTable;
use crate::finding::RowSign;
use crate::tally::joint::split_number;
use crate::tally::remarks::without_reasons;

/// The lines that name joints.
#[derive(Default)]
pub(super) struct NamedJoints {
    lines: Vec<NamingLine>,
    /// The last of the lines that names each joint.
    by_number: HashMap<Number, usize>,
}

struct NamingLine {
    row: usize,
    word: &'static str,
    /// The sign of the row itself, where it may be that of a joint.
    own: Option<RowSign>,
    /// Whether a joint of the table is named.
    found: bool,
}

/// The beginning of a joint's number in lower case, and the digits at its end.
type Number = (String, Option<u64>);

impl NamedJoints {
    /// Takes what a row says, such as `Jt 5 rejected`; whether it names joints.
    pub(super) fn take(&mut self, grid: &Grid, row: usize, own: Option<RowSign>) -> bool {
        let text = grid.cells(row).collect::<Vec<_>>().join(" ");
        let Some(word) = sign_word(&without_reasons(&text)) else {
            return false;
        };
        let numbers = numbers(&text);
        let at = self.lines.len();
        if numbers.is_empty() {
            return false;
        }
        self.by_number
            .extend(numbers.into_iter().map(|number| (number, at)));
        self.lines.push(NamingLine {
            row,
            word,
            own,
            found: false,
        });
        true
    }

    /// The signs of the joints that are named. A row that looked like a joint's, and names another, is given
    /// as a remark; one that names none has its own sign.
    pub(super) fn signs(
        mut self,
        grid: &Grid,
        table: &TallyTable,
        rows: &Rows,
    ) -> (Vec<(usize, RowSign)>, Vec<usize>) {
        let mut signs = Vec::new();
        if self.lines.is_empty() {
            return (signs, Vec::new());
        }
        for row in rows.joints() {
            let number = number(grid.cell(row, table.joint()));
            let at = self.by_number.get(&number);
            if let Some(line) = at.and_then(|at| self.lines.get_mut(*at)) {
                line.found = true;
                let named = RowSign::Named {
                    word: line.word,
                    line: grid.line(line.row),
                };
                signs.push((row, named));
            }
        }
        let mut remarks = Vec::new();
        for line in self.lines {
            match line.own {
                Some(_) if line.found => remarks.push(line.row),
                Some(own) => signs.push((line.row, own)),
                None => {}
            }
        }
        (signs, remarks)
    }
}

/// The numbers that follow a word for joints: `7` and `9` of `joints 7 and 9 rejected, 30 in shoe`.
fn numbers(text: &str) -> Vec<Number> {
    let mut numbers = Vec::new();
    let mut follows = false;
    for token in text.split(|c: char| !c.is_alphanumeric() && !matches!(c, '-' | '/' | '.')) {
        let token = token.trim_matches(['-', '/', '.']).to_lowercase();
        match token.as_str() {
            "joint" | "joints" | "jt" | "jts" | "jnt" | "pipe" => follows = true,
            "" | "no" | "nos" | "nr" | "number" | "and" => {}
            _ if follows && token.bytes().any(|byte| byte.is_ascii_digit()) => {
                numbers.push(number(&token));
            }
            _ => follows = false,
        }
    }
    numbers
}

/// A joint number whatever its case, its leading zeros and the marks around it.
fn number(joint: &str) -> Number {
    let joint = bare_number(joint);
    match split_number(joint) {
        Some((prefix, number)) => (prefix.to_lowercase(), Some(number)),
        None => (joint.to_lowercase(), None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_after_a_word_for_joints_are_those_of_joints() {
        for (text, found) in [
            ("Jt 5 rejected", vec!["5"]),
            ("Joints 7 and 9 rejected, 30 in shoe", vec!["7", "9"]),
            ("Note: joint No. A-05 not run", vec!["a-05"]),
            ("joints 7, 9 & 11 laid out", vec!["7", "9", "11"]),
            ("Joint rejected on 3 May", vec![]),
            ("2 joints rejected", vec![]),
        ] {
            let found: Vec<Number> = found.iter().map(|joint| number(joint)).collect();
            assert_eq!(numbers(text), found, "{text}");
        }
    }

    #[test]
    fn a_joint_is_named_whatever_its_case_and_zeros() {
        for (joint, same) in [
            ("a-5", "A-05"),
            ("7", "07"),
            ("5a", "5A"),
            ("5", "(5)"),
            ("5", "5."),
        ] {
            assert_eq!(number(joint), number(same));
        }
        for (joint, other) in [("7", "17"), ("a-5", "B-5"), ("5", "5A")] {
            assert_ne!(number(joint), number(other));
        }
    }
}
