//! The numbers and serials of a tally as one text, in which a joint is found without a look at each.

use memchr::memmem;

use crate::tally::Tally;

/// The lower-case numbers and serials of a tally's joints.
#[derive(Clone, Debug, Default)]
pub struct JointNames {
    numbers: NameList,
    serials: NameList,
}

/// One name of each joint: each stands between two line ends, which no name has.
#[derive(Clone, Debug)]
struct NameList {
    text: String,
    /// Where the line end before each name is.
    starts: Vec<usize>,
}

impl Default for NameList {
    fn default() -> Self {
        Self {
            text: String::from(END),
            starts: Vec::new(),
        }
    }
}

/// What stands between two names.
const END: char = '\n';

/// How well a joint answers what is looked for, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Answer {
    /// It is its number.
    Number,
    /// It is its serial.
    Serial,
    /// It is in its number.
    InNumber,
    /// It is in its serial.
    InSerial,
}

impl Answer {
    /// All of them, the best first.
    pub const ALL: [Self; 4] = [Self::Number, Self::Serial, Self::InNumber, Self::InSerial];
}

impl JointNames {
    /// Those of a tally.
    pub fn of(tally: &Tally) -> Self {
        let mut names = Self::default();
        for joint in &tally.joints {
            names.numbers.add(&joint.number);
            names
                .serials
                .add(joint.serial.as_deref().unwrap_or_default());
        }
        names
    }

    /// The first joint at or after a row that gives this answer to a lower-case text.
    pub fn find(&self, wanted: &str, answer: Answer, from: usize) -> Option<usize> {
        if wanted.is_empty() || wanted.contains(END) {
            return None;
        }
        let whole = || format!("{END}{wanted}{END}");
        match answer {
            Answer::Number => self.numbers.find(&whole(), from),
            Answer::Serial => self.serials.find(&whole(), from),
            Answer::InNumber => self.numbers.find(wanted, from),
            Answer::InSerial => self.serials.find(wanted, from),
        }
    }
}

impl NameList {
    fn add(&mut self, name: &str) {
        self.starts.push(self.text.len() - END.len_utf8());
        if name.is_ascii() && !name.contains(END) {
            let from = self.text.len();
            self.text.push_str(name);
            if let Some(added) = self.text.get_mut(from..) {
                added.make_ascii_lowercase();
            }
        } else {
            self.text.push_str(&name.to_lowercase().replace(END, " "));
        }
        self.text.push(END);
    }

    fn find(&self, wanted: &str, from: usize) -> Option<usize> {
        let start = *self.starts.get(from)?;
        let text = self.text.get(start..)?;
        let at = start + memmem::find(text.as_bytes(), wanted.as_bytes())?;
        self.starts
            .partition_point(|start| *start <= at)
            .checked_sub(1)
    }
}

#[cfg(test)]
mod tests {
    use super::{Answer, NameList};

    #[test]
    fn a_name_is_found_from_a_row_on_whole_or_in_part() {
        let mut list = NameList::default();
        for name in ["A-1", "a-11", "", "Ä-1", "A-1"] {
            list.add(name);
        }
        let all = |wanted: &str| -> Vec<Option<usize>> {
            (0..6).map(|from| list.find(wanted, from)).collect()
        };
        let whole = [Some(0), Some(4), Some(4), Some(4), Some(4), None];
        assert_eq!(all("\na-1\n"), whole);
        let part = [Some(0), Some(1), Some(4), Some(4), Some(4), None];
        assert_eq!(all("a-1"), part);
        assert_eq!(all("ä-"), [Some(3), Some(3), Some(3), Some(3), None, None]);
        assert_eq!(all("b"), [None; 6]);
        let names = super::JointNames {
            numbers: list.clone(),
            serials: NameList::default(),
        };
        assert_eq!(names.find("a-1", Answer::Number, 1), Some(4));
        // What spans two names is in none.
        assert_eq!(names.find("1\na", Answer::InNumber, 0), None);
        assert_eq!(names.find("a-1", Answer::InSerial, 0), None);
    }
}
