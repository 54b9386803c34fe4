//! All lists of one string side by side: a row a joint, a column a list, and how far they agree.
//!
//! The first list is the tally of record. Readings agree to within rounding; a group agrees where every pair does. A
//! list that was made from another is no second witness: both count once.

mod agree;
mod decided;
mod merge;
mod numbers;
mod record;
mod row;
mod states;

pub use agree::State;
pub use record::{ListsRecord, RecordJoint, ValueSource};
pub use row::{
    Against, Agreement, Choice, ListChoice, ListDecision, ListRow, ListedJoint, Place, StringLists,
    Why,
};
pub use states::side_by_side;

use crate::tally::Tally;

/// One list of a string.
#[derive(Clone, Copy, Debug)]
pub struct NamedList<'a> {
    /// Its name; the tally of record is `record`.
    pub name: &'a str,
    /// The list that it was made from.
    pub from: Option<&'a str>,
    /// What it says.
    pub tally: &'a Tally,
}
