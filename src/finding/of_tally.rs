//! What one tally gives reason to look at. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use serde::Serialize;

use super::names::{JointRef, Named};
use crate::measure::Length;

/// A figure that a tally file writes beside its joints.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Figure {
    /// The effective length of one joint.
    Effective,
    /// The running total at one joint.
    Running,
    /// A total carried forward from the page before.
    CarryForward,
    /// A subtotal or total.
    Total,
}

/// A sign that a row of a tally may not be in the string.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum RowSign {
    /// A word such as `rejected`.
    Word {
        /// The word.
        word: &'static str,
        /// The column that has it, counted from 1.
        column: usize,
    },
    /// What a column says that is headed run, status, used or the like.
    Status {
        /// What it says; nothing where it is blank.
        says: &'static str,
        /// The column, counted from 1.
        column: usize,
    },
    /// The row is hidden.
    Hidden,
    /// The row is filtered out.
    Filtered,
    /// Its length or its number is struck through, or a part of it.
    Struck,
    /// It is under a heading such as `joints not run` on this line.
    Under(u32),
    /// A line without a joint of its own says so of it.
    Named {
        /// The word.
        word: &'static str,
        /// The line.
        #[serde(skip)]
        line: u32,
    },
}

/// What one tally gives reason to look at.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum TallyFinding {
    /// Nothing says which end of the tally is the shoe.
    OrderAssumed,
    /// The tally gives effective lengths alone.
    EffectiveOnly,
    /// Written figures disagree with the joints.
    TotalDisagrees {
        /// The line of the first that does.
        #[serde(skip)]
        line: u32,
        /// What it claims to be.
        figure: Figure,
        /// As written.
        written: Length,
        /// As the joints have it.
        computed: Length,
        /// How many more disagree.
        others: usize,
        /// Whether all of them agree with the overall lengths.
        gross: bool,
    },
    /// A joint number or a serial occurs more than once.
    Duplicate {
        /// The number or serial.
        text: String,
        /// Where.
        joints: Named<JointRef>,
    },
    /// Rows count although a sign says that they may not have been run.
    RowsDoubted {
        /// The joints, each with its sign.
        rows: Named<(JointRef, RowSign)>,
        /// How many there are.
        count: usize,
    },
    /// Words in the column of kinds that are no kind.
    KindUnknown {
        /// Each word with the first joint that has it.
        words: Named<(String, JointRef)>,
        /// How many joints have such a word.
        count: usize,
    },
    /// A make-up loss at the open pin end.
    LossOnOpenEnd {
        /// The joint.
        joint: JointRef,
        /// The loss that is not deducted.
        loss: Length,
    },
    /// Joints without a make-up loss, and no nominal one.
    LossMissing {
        /// The joints.
        joints: Named<JointRef>,
    },
    /// Lengths or losses far from the median.
    Outlying {
        /// The median.
        median: Length,
        /// The joints.
        joints: Named<JointRef>,
    },
    /// The joint numbers have a gap.
    GapInNumbers {
        /// The joint before it, in the order of the page.
        before: JointRef,
        /// The joint after it.
        after: JointRef,
    },
}
