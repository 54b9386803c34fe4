//! Where the person is in the record.

/// Where the person is in the record.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RecordCursor {
    /// The entry, by its number; `None` for the last.
    pub seq: Option<u64>,
    /// Whether only those of the slot in front are listed, and of the job.
    pub of_slot: bool,
}
