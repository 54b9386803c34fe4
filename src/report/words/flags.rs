//! What a flag says, in one sentence.

use crate::flag::Flag;
use crate::measure::LengthFormat;

/// A flag in words.
pub fn flag(flag: &Flag, _format: LengthFormat) -> String {
    flag.text.clone()
}
