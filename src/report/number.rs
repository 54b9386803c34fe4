//! Numbers in JSON: exact lengths in metres, real figures with a stated number of decimals.

use serde::{Serialize, Serializer};
use serde_json::value::RawValue;

use crate::measure::{Depth, Elevation, Length};

/// A number that is written as its text stands.
#[derive(Clone, Debug)]
pub(super) struct Number(String);

impl Number {
    /// A length in metres with every digit that it has.
    pub(super) fn metres(length: Length) -> Self {
        Self(length.exact_metres())
    }

    pub(super) fn elevation(elevation: Elevation) -> Self {
        Self::metres(elevation.height())
    }

    pub(super) fn depth(depth: Depth) -> Self {
        Self::metres(depth.downward())
    }

    /// A count of millionths as a number, exactly.
    pub(super) fn millionths(count: i64) -> Self {
        Self::metres(Length::from_nm(count.saturating_mul(1_000)))
    }

    /// A real figure rounded to so many decimals, without an exponent and without a sign on zero.
    pub(super) fn real(value: f64, decimals: usize) -> Self {
        let text = format!("{value:.decimals$}");
        let trimmed = if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.')
        } else {
            &text
        };
        Self(if trimmed == "-0" {
            "0".to_owned()
        } else {
            trimmed.to_owned()
        })
    }
}

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let raw = RawValue::from_string(self.0.clone()).map_err(serde::ser::Error::custom)?;
        raw.serialize(serializer)
    }
}
