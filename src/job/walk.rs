//! The walk over a TOML document: its text, the unit of its bare numbers, and the problems found so far,
//! so that all problems of a file are reported together, each with its place.

use std::ops::Range;

use toml::Spanned;
use toml::de::DeValue;

use super::places::Places;
use super::problem::{JobProblem, What};
use crate::measure::Unit;

/// A value with its place.
pub(super) type TomlValue<'t> = Spanned<DeValue<'t>>;

/// The document and the problems found so far.
pub(super) struct Walk<'t> {
    pub(super) unit: Unit,
    /// Each with its byte in the text.
    found: Vec<(usize, What)>,
    places: Places<'t>,
}

impl<'t> Walk<'t> {
    /// A walk over this text.
    pub(super) const fn new(text: &'t str) -> Self {
        Self {
            unit: Unit::Metre,
            found: Vec::new(),
            places: Places::new(text),
        }
    }

    /// Line and column of a byte.
    pub(super) fn place(&mut self, offset: usize) -> (usize, usize) {
        self.places.of(offset)
    }

    /// Notes a problem.
    pub(super) fn report(&mut self, span: &Range<usize>, what: What) {
        self.found.push((span.start, what));
    }

    /// All problems, in the order of the file.
    pub(super) fn finish(mut self) -> Vec<JobProblem> {
        self.found.sort_by_key(|(offset, _)| *offset);
        self.found
            .into_iter()
            .map(|(offset, what)| {
                let (line, column) = self.places.of(offset);
                JobProblem { line, column, what }
            })
            .collect()
    }

    pub(super) fn wrong(
        &mut self,
        value: &TomlValue<'t>,
        key: String,
        expected: impl Into<String>,
    ) {
        let found = describe(value.get_ref());
        self.report(
            &value.span(),
            What::Wrong {
                key,
                found,
                expected: expected.into(),
            },
        );
    }
}

/// A value as a message shows it.
fn describe(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text {text:?}"),
        DeValue::Integer(number) => format!("the number {number}"),
        DeValue::Float(number) => format!("the number {number}"),
        DeValue::Boolean(flag) => format!("{flag}"),
        DeValue::Datetime(time) => format!("the date or time {time}"),
        DeValue::Array(items) => format!("a list of {}", items.len()),
        DeValue::Table(_) => "a table".to_owned(),
    }
}
