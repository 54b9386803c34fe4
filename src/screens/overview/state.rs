//! Where the cursor of the overview is.

use crate::screens::identity::FlagId;

/// The cursor of the overview.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OverviewCursor {
    /// The flag that it is on; `None` where it is on the slot in front.
    pub flag: Option<FlagId>,
    /// The column of the table of slots.
    pub column: usize,
}
