//! Names of lists that no list of a job may have, because a decision says them.

/// The tally of record among the lists of a string.
pub const RECORD: &str = "record";
/// The joints that were run and not pulled, in their order.
pub const AS_RUN: &str = "as-run";
/// A value that was measured again.
pub const MEASURED: &str = "measured";
/// That nothing is decided any more.
pub const OPEN: &str = "open";

/// All of them.
pub(super) const RESERVED: [&str; 4] = [RECORD, AS_RUN, MEASURED, OPEN];
