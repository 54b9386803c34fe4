//! Other lists of a string against the tally of record. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use serde::Serialize;

use super::names::Named;
use crate::measure::Length;

/// One thing of another list that nobody has decided.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum OpenItem {
    /// A difference of one joint that matters by itself: its topic, the joint, and how far it moves
    /// make-up planes.
    Difference {
        /// The topic, as files name it.
        topic: &'static str,
        /// The joint's number.
        joint: String,
        /// How far make-up planes move, without a sign.
        moves: Length,
    },
    /// Small differences that matter together.
    Together {
        /// How many.
        count: usize,
        /// How far they move a make-up plane together.
        moves: Length,
    },
    /// One of the lists alone marks this joint as the running joint.
    RunningJoint {
        /// The joint's number.
        joint: String,
        /// The lines that list it, in the tally of record and in the other list.
        #[serde(skip)]
        lines: [u32; 2],
    },
}

/// What of one list is open.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpenList {
    /// The list.
    pub list: String,
    /// What is open.
    pub items: Named<OpenItem>,
}

/// Other lists of a string against the tally of record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum ListFinding {
    /// Other lists, or decisions on them, that cannot be read.
    Unreadable {
        /// Each list with the reason.
        lists: Vec<(String, String)>,
    },
    /// Differences that nobody has decided.
    Open {
        /// From how far a plane must move to count.
        above: Length,
        /// What is open in each list.
        lists: Vec<OpenList>,
    },
    /// Decisions that the tally of record does not follow.
    NotFollowed {
        /// For each list the topics and joints.
        lists: Vec<(String, Named<(&'static str, String)>)>,
    },
}
