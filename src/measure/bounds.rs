//! The limits on quantities, in one place, each with its reason.

use super::Length;

/// Longest length that may be read, either sign: 100 km.
///
/// No figure of this trade comes near it, and the sum of as many of them as fit in a file of the
/// largest size that is read (see `tally::import`) stays far inside an `i64` of nanometres.
pub const MAX_LENGTH: Length = Length::from_nm(100_000_000_000_000);

/// Longest overall length of one joint: 30 m.
///
/// Pipe comes in ranges up to 48 ft (API Spec 5CT range 3); what reads longer than 30 m is a wrong
/// unit, most often feet taken for metres.
pub const MAX_JOINT: Length = Length::from_nm(30_000_000_000);

/// Shortest overall length of one joint: 50 mm.
///
/// No piece of a string is shorter; what reads so is a wrong unit or a wrong decimal mark.
pub const MIN_JOINT: Length = Length::from_mm(50);
