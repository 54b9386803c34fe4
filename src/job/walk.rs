//! The walk over a TOML document: its text, the unit of its bare numbers, and the problems found so far,
//! so that all problems of a file are reported together, each with its place.

use std::ops::Range;

use toml::Spanned;
use toml::de::DeValue;

use super::problem::{JobProblem, What};
use crate::measure::Unit;

/// A value with its place.
pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// The document and the problems found so far.
pub(super) struct Walk<'t> {
    text: &'t str,
    pub(super) unit: Unit,
    pub(super) problems: Vec<JobProblem>,
}

impl<'t> Walk<'t> {
    /// A walk over this text.
    pub(super) const fn new(text: &'t str) -> Self {
        Self {
            text,
            unit: Unit::Metre,
            problems: Vec::new(),
        }
    }

    /// Line and column, counted from 1, the column in characters.
    pub(super) fn place(&self, offset: usize) -> (usize, usize) {
        let before = self.text.get(..offset).unwrap_or(self.text);
        let line = before.matches('\n').count() + 1;
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        let column = before.get(start..).unwrap_or_default().chars().count() + 1;
        (line, column)
    }

    pub(super) fn report(&mut self, span: &Range<usize>, what: What) {
        let (line, column) = self.place(span.start);
        self.problems.push(JobProblem { line, column, what });
    }

    pub(super) fn wrong(&mut self, value: &Value<'t>, key: String, expected: impl Into<String>) {
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
