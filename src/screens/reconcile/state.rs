//! Which list, and which of its differences, is in front.

use crate::screens::identity::DifferenceKey;

/// The cursor among the other lists of a slot.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ListCursor {
    /// The list, by its name; `None` for the first.
    pub list: Option<String>,
    /// The difference; `None` for the first.
    pub difference: Option<DifferenceKey>,
}
