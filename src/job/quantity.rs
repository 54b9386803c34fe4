//! The lengths and real numbers of a job file: from their source text, within their bounds.

use toml::de::DeValue;

use super::bounds::{LengthKey, RealKey, RealUnit};
use super::problem::{Bound, What};
use super::walk::{TomlValue, Walk};
use crate::measure::{
    DecimalMark, Length, LengthError, LengthFormat, ParseOptions, Unit, read_length,
};

impl<'t> Walk<'t> {
    /// The length that a value is, if it is one that the key may hold; `key` is its full name.
    pub(super) fn length_of(
        &mut self,
        value: &TomlValue<'t>,
        key: &str,
        row: &LengthKey,
    ) -> Option<Length> {
        let expected = match self.unit {
            Unit::FootInch => "a length such as 46 (feet) or \"46' 9 1/2\\\"\"",
            Unit::Foot => "a length such as 46.75 (feet) or \"14.25 m\"",
            _ => "a length such as 14.250 (metres) or \"14250 mm\"",
        };
        let Some(text) = source(value) else {
            self.wrong(value, key.to_owned(), expected);
            return None;
        };
        let length = match self.read(&text) {
            Ok(length) => Some(length),
            // Longer than any bound.
            Err(LengthError::TooLong(_)) => None,
            Err(error) => {
                let key = key.to_owned();
                self.report(&value.span(), What::Length { key, error });
                return None;
            }
        };
        if let Some(length) = length.filter(|length| row.allows(*length)) {
            return Some(length);
        }
        let is_negative = length.map_or_else(
            || text.trim_start().starts_with(['-', '\u{2212}']),
            Length::is_negative,
        );
        if (row.above || row.from > Length::ZERO)
            && (is_negative || length.is_some_and(Length::is_zero))
        {
            self.wrong(value, key.to_owned(), "a length above 0");
        } else if is_negative && !row.from.is_negative() {
            self.wrong(value, key.to_owned(), "a length of 0 or more");
        } else {
            let is_low = is_negative || length.is_some_and(|length| length < row.from);
            let bound = self.length_bound(&text, row, is_low);
            let key = key.to_owned();
            self.report(&value.span(), What::OutOfBounds { key, bound });
        }
        None
    }

    fn read(&self, text: &str) -> Result<Length, LengthError> {
        let rules = ParseOptions {
            bare: Some(self.unit),
            decimal: DecimalMark::Point,
        };
        read_length(text, &rules).map(|read| read.length)
    }

    /// The bound that a length of this text is beyond, with the unit in which its number would fit.
    fn length_bound(&self, text: &str, row: &LengthKey, is_low: bool) -> Bound {
        let text = text.trim();
        let number = text.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.');
        let unit = text.get(number.len()..).unwrap_or_default();
        let is_plain = number
            .chars()
            .all(|c| c.is_ascii_digit() || ".,+-".contains(c));
        let units = if Unit::from_word(unit).unwrap_or(self.unit).is_metric() {
            ["mm", "m", "in", "ft"]
        } else {
            ["in", "ft", "mm", "m"]
        };
        let other = units
            .iter()
            .map(|unit| format!("{number} {unit}"))
            .filter(|_| is_plain)
            .find(|text| self.read(text).is_ok_and(|length| row.allows(length)));
        let limit = if is_low { row.from } else { row.to };
        Bound {
            found: if unit.is_empty() {
                format!("{text} {}", bare_unit(self.unit))
            } else {
                text.to_owned()
            },
            is_low: is_low && !limit.is_negative(),
            limit: self.limit(limit),
            other,
            why: row.why,
        }
    }

    /// A bound as people read it: exactly, and in the job's unit beside it where that is another system.
    fn limit(&self, limit: Length) -> String {
        let small = !limit.is_zero() && limit.abs() < Length::from_mm(100);
        let exact = limit.exact(if small { Unit::Millimetre } else { Unit::Metre });
        if self.unit.is_metric() {
            return exact;
        }
        format!("{exact} ({})", LengthFormat::new(self.unit).text(limit))
    }

    /// The lengths of a list.
    pub(super) fn lengths_of(
        &mut self,
        value: &TomlValue<'t>,
        key: &str,
        row: &LengthKey,
    ) -> Option<Vec<Length>> {
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
            .map(|(index, item)| self.length_of(item, &format!("{key}[{index}]"), row))
            .collect();
        lengths.into_iter().collect()
    }

    /// The real number that a value is, bare or with one of the key's units, if it is one that the key
    /// may hold; `key` is its full name.
    pub(super) fn real_of(
        &mut self,
        value: &TomlValue<'t>,
        key: String,
        row: &RealKey,
    ) -> Option<f64> {
        let bare = row.units.first().map_or("", |(unit, _)| *unit);
        let parsed = source(value).and_then(|text| {
            let text = text.trim();
            // A unit such as `kg/m3` ends in a digit: it is taken off whole.
            let (number, unit, factor) = row
                .units
                .iter()
                .find_map(|(unit, factor)| {
                    Some((text.strip_suffix(unit)?.trim_end(), *unit, *factor))
                })
                .unwrap_or((text, bare, 1.0));
            let real = plain_real(number, row)?;
            Some((number.to_owned(), unit, real, real * factor))
        });
        let Some((number, unit, count, real)) = parsed else {
            let names: Vec<&str> = row.units.iter().map(|(unit, _)| *unit).collect();
            let least = if row.from < 0.0 { "" } else { " of 0 or more" };
            let expected = format!(
                "a number{least} in {bare}, or text with a unit ({})",
                names.join(", ")
            );
            self.wrong(value, key, expected);
            return None;
        };
        if row.allows(real) {
            return Some(real);
        }
        let is_low = real < row.from;
        let limit = if is_low { row.from } else { row.to };
        // Kilograms are taken for tonnes, not for pounds.
        let is_far = |factor: f64| !(0.1..10.0).contains(&(factor * count / real));
        let fits = |(_, factor): &&RealUnit| row.allows(count * factor) && is_far(*factor);
        let other = row.units.iter().find(fits);
        let bound = Bound {
            found: format!("{number} {unit}"),
            is_low,
            limit: match row.units {
                [_, ("t", tonne), ..] if limit >= *tonne => format!("{} t", limit / tonne),
                _ => format!("{limit} {bare}"),
            },
            other: other.map(|(unit, _)| format!("{number} {unit}")),
            why: row.why,
        };
        self.report(&value.span(), What::OutOfBounds { key, bound });
        None
    }
}

/// The unit of a bare number, which in feet and inches is a foot.
const fn bare_unit(unit: Unit) -> &'static str {
    match unit {
        Unit::FootInch => Unit::Foot.name(),
        unit => unit.name(),
    }
}

/// The text of a value that is a number or a text.
fn source(value: &TomlValue<'_>) -> Option<String> {
    match value.get_ref() {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Integer(number) if number.radix() == 10 => Some(number.as_str().to_owned()),
        DeValue::Float(number) => Some(number.as_str().to_owned()),
        _ => None,
    }
}

/// A finite number of 0 or more, written out; with a sign or an exponent where its key may have that.
fn plain_real(text: &str, row: &RealKey) -> Option<f64> {
    let unsigned = match text.strip_prefix('-') {
        Some(rest) if row.from < 0.0 => rest,
        _ => text,
    };
    let plain = match unsigned.split_once(['e', 'E']) {
        Some((number, exponent)) if row.exponent => {
            let exponent = exponent.strip_prefix('-').unwrap_or(exponent);
            let is_whole = !exponent.is_empty() && exponent.bytes().all(|b| b.is_ascii_digit());
            if is_whole { number } else { "" }
        }
        _ => unsigned,
    };
    let digits = !plain.is_empty() && plain.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    text.parse::<f64>()
        .ok()
        .filter(|real| digits && real.is_finite())
}
