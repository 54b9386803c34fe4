//! Which thing of which joint, and which list, is in front.

use super::thing::ThingKey;

/// The cursor in the lists of a slot.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ListCursor {
    /// The list, by its name; `None` for the tally of record.
    pub list: Option<String>,
    /// The thing; `None` for the first that is open.
    pub thing: Option<ThingKey>,
    /// Whether joints on which all lists agree are shown too.
    pub all_joints: bool,
}
