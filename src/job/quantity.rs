//! The lengths and real numbers of a job file, from their source text.

use toml::de::DeValue;

use super::problem::What;
use super::walk::{Value, Walk};
use crate::measure::{DecimalMark, Length, ParseOptions, Unit, read_length};

/// What a length may be.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    Any,
    NotNegative,
    Positive,
}

impl<'t> Walk<'t> {
    pub(super) fn length_of(&mut self, value: &Value<'t>, key: &str, sign: Sign) -> Option<Length> {
        let expected = match self.unit {
            Unit::FootInch => "a length such as 46 (feet) or \"46' 9 1/2\\\"\"",
            Unit::Foot => "a length such as 46.75 (feet) or \"14.25 m\"",
            _ => "a length such as 14.250 (metres) or \"14250 mm\"",
        };
        let text = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_owned(),
            DeValue::Float(number) => number.as_str().to_owned(),
            _ => {
                self.wrong(value, key.to_owned(), expected);
                return None;
            }
        };
        let rules = ParseOptions {
            bare: Some(self.unit),
            decimal: DecimalMark::Point,
        };
        let length = match read_length(&text, &rules) {
            Ok(reading) => reading.length,
            Err(error) => {
                self.report(
                    &value.span(),
                    What::Length {
                        key: key.to_owned(),
                        error,
                    },
                );
                return None;
            }
        };
        let allowed = match sign {
            Sign::Any => true,
            Sign::NotNegative => !length.is_negative(),
            Sign::Positive => length > Length::ZERO,
        };
        if !allowed {
            let expected = if sign == Sign::Positive {
                "a length above 0"
            } else {
                "a length of 0 or more"
            };
            self.wrong(value, key.to_owned(), expected);
            return None;
        }
        Some(length)
    }

    pub(super) fn lengths_of(&mut self, value: &Value<'t>, key: &str) -> Option<Vec<Length>> {
        let Some(items) = value.get_ref().as_array() else {
            self.wrong(
                value,
                key.to_owned(),
                "a list of lengths, such as [14.251, 14.249]",
            );
            return None;
        };
        let lengths: Vec<Option<Length>> = items
            .iter()
            .enumerate()
            .map(|(index, item)| self.length_of(item, &format!("{key}[{index}]"), Sign::Any))
            .collect();
        lengths.into_iter().collect()
    }
}

/// A finite number of 0 or more, written out.
pub(super) fn plain_real(text: &str) -> Option<f64> {
    let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    text.parse::<f64>()
        .ok()
        .filter(|real| digits && real.is_finite())
}
