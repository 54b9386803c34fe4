//! One table of a job file, and its values by their keys.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeArray, DeTable};

use super::bounds::{LengthKey, RealKey, leaf};
use super::problem::What;
use super::walk::{TomlValue, Walk};
use crate::measure::{Elevation, Length};

/// One table of the document, which remembers the keys that were asked for.
pub(super) struct Section<'t> {
    pub(super) path: String,
    table: &'t DeTable<'t>,
    span: Range<usize>,
    asked: RefCell<BTreeSet<&'static str>>,
}

impl<'t> Section<'t> {
    pub(super) fn new(path: impl Into<String>, table: &'t DeTable<'t>, span: Range<usize>) -> Self {
        Self {
            path: path.into(),
            table,
            span,
            asked: RefCell::default(),
        }
    }

    pub(super) fn key(&self, name: &str) -> String {
        if self.path.is_empty() {
            name.to_owned()
        } else {
            format!("{}.{name}", self.path)
        }
    }

    /// The value of a key, which counts as known from now on.
    pub(super) fn get(&self, name: &'static str) -> Option<&'t TomlValue<'t>> {
        self.asked.borrow_mut().insert(name);
        self.table.get(name)
    }

    /// The place of a key's value, or of the table itself.
    pub(super) fn span_of(&self, name: &str) -> Range<usize> {
        self.table
            .get(name)
            .map_or_else(|| self.span.clone(), Spanned::span)
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.table.contains_key(name)
    }

    fn required(
        &self,
        walk: &mut Walk<'t>,
        name: &'static str,
        expected: &str,
    ) -> Option<&'t TomlValue<'t>> {
        let value = self.get(name);
        if value.is_none() {
            walk.report(
                &self.span,
                What::Missing {
                    key: self.key(name),
                    expected: expected.to_owned(),
                },
            );
        }
        value
    }

    /// Reports every key that nobody asked for.
    pub(super) fn finish(self, walk: &mut Walk<'t>) {
        let known = self.asked.take();
        let all: Arc<[&'static str]> = known.iter().copied().collect();
        for key in self.table.keys() {
            let name = key.get_ref().as_ref();
            if known.contains(name) {
                continue;
            }
            let what = What::UnknownKey {
                key: self.key(name),
                name: name.to_owned(),
                known: Arc::clone(&all),
            };
            walk.report(&key.span(), what);
        }
    }

    pub(super) fn text(&self, walk: &mut Walk<'t>, name: &'static str) -> Option<String> {
        let value = self.get(name)?;
        match value.get_ref().as_str() {
            // A control character would reach the terminal that shows the text.
            Some(text) if text.chars().any(char::is_control) => {
                walk.wrong(value, self.key(name), "a text without control characters");
                None
            }
            Some(text) if !text.trim().is_empty() => Some(text.trim().to_owned()),
            Some(_) => {
                walk.wrong(value, self.key(name), "a text that is not blank");
                None
            }
            None => {
                walk.wrong(value, self.key(name), "a text in quotes");
                None
            }
        }
    }

    pub(super) fn required_text(
        &self,
        walk: &mut Walk<'t>,
        name: &'static str,
        expected: &str,
    ) -> Option<String> {
        self.required(walk, name, expected)?;
        self.text(walk, name)
    }

    /// A name that files are named after.
    pub(super) fn required_file_name(
        &self,
        walk: &mut Walk<'t>,
        name: &'static str,
        expected: &str,
    ) -> Option<String> {
        let text = self.required_text(walk, name, expected)?;
        if is_file_name(&text) {
            return Some(text);
        }
        let span = self.span_of(name);
        let what = What::Wrong {
            key: self.key(name),
            found: format!("the text {text:?}"),
            expected: FILE_NAME.to_owned(),
        };
        walk.report(&span, what);
        None
    }

    /// One of a few words.
    pub(super) fn word<T: Copy>(
        &self,
        walk: &mut Walk<'t>,
        name: &'static str,
        words: &[(&str, T)],
    ) -> Option<T> {
        let value = self.get(name)?;
        let found = value
            .get_ref()
            .as_str()
            .and_then(|text| words.iter().find(|(word, _)| *word == text));
        if let Some((_, meaning)) = found {
            return Some(*meaning);
        }
        let list = words
            .iter()
            .map(|(word, _)| format!("{word:?}"))
            .collect::<Vec<_>>()
            .join(" or ");
        walk.wrong(value, self.key(name), list);
        None
    }

    /// A length, or an elevation as its height above the sea datum.
    pub(super) fn length(&self, walk: &mut Walk<'t>, row: &LengthKey) -> Option<Length> {
        let name = leaf(row.name);
        let value = self.get(name)?;
        walk.length_of(value, &self.key(name), row)
    }

    pub(super) fn required_length(&self, walk: &mut Walk<'t>, row: &LengthKey) -> Option<Length> {
        self.required(walk, leaf(row.name), "a length")?;
        self.length(walk, row)
    }

    pub(super) fn elevation(&self, walk: &mut Walk<'t>, row: &LengthKey) -> Option<Elevation> {
        self.length(walk, row).map(Elevation::above_datum)
    }

    pub(super) fn required_elevation(
        &self,
        walk: &mut Walk<'t>,
        row: &LengthKey,
    ) -> Option<Elevation> {
        self.required(walk, leaf(row.name), "an elevation above the sea datum")?;
        self.elevation(walk, row)
    }

    pub(super) fn lengths(&self, walk: &mut Walk<'t>, row: &LengthKey) -> Option<Vec<Length>> {
        let name = leaf(row.name);
        let value = self.get(name)?;
        walk.lengths_of(value, &self.key(name), row)
    }

    /// Two lengths.
    pub(super) fn pair(&self, walk: &mut Walk<'t>, row: &LengthKey) -> Option<(Length, Length)> {
        let lengths = self.lengths(walk, row)?;
        if let [first, second] = lengths.as_slice() {
            return Some((*first, *second));
        }
        let name = leaf(row.name);
        let value = self.get(name)?;
        walk.wrong(value, self.key(name), "a list of two");
        None
    }

    /// Two lengths, the first not above the second.
    pub(super) fn window(&self, walk: &mut Walk<'t>, row: &LengthKey) -> Option<(Length, Length)> {
        let (from, to) = self.pair(walk, row)?;
        if from <= to {
            return Some((from, to));
        }
        let name = leaf(row.name);
        let conflict = "has its higher limit first; expected the lower first".to_owned();
        walk.report(
            &self.span_of(name),
            What::Conflict {
                key: self.key(name),
                conflict,
            },
        );
        None
    }

    /// A real number: bare, or text with one of the key's units.
    pub(super) fn real(&self, walk: &mut Walk<'t>, row: &RealKey) -> Option<f64> {
        let name = leaf(row.name);
        let value = self.get(name)?;
        walk.real_of(value, self.key(name), row)
    }

    /// A table below this one.
    pub(super) fn table(&self, walk: &mut Walk<'t>, name: &'static str) -> Option<Self> {
        let value = self.get(name)?;
        let table = value.get_ref().as_table();
        if table.is_none() {
            walk.wrong(
                value,
                self.key(name),
                format!("a table, [{}]", self.key(name)),
            );
        }
        table.map(|table| Self::new(self.key(name), table, value.span()))
    }

    /// Every table of a list of tables; nothing where the key is left out.
    pub(super) fn tables(&self, walk: &mut Walk<'t>, name: &'static str) -> Vec<Self> {
        let Some(value) = self.get(name) else {
            return Vec::new();
        };
        let Some(items) = value.get_ref().as_array() else {
            walk.wrong(
                value,
                self.key(name),
                format!("a list of tables, each headed [[{}]]", self.key(name)),
            );
            return Vec::new();
        };
        self.tables_of(walk, name, items)
    }

    fn tables_of(&self, walk: &mut Walk<'t>, name: &str, items: &'t DeArray<'t>) -> Vec<Self> {
        let mut sections = Vec::with_capacity(items.len());
        for (index, item) in items.iter().enumerate() {
            let path = format!("{}[{}]", self.key(name), index + 1);
            match item.get_ref().as_table() {
                Some(table) => sections.push(Self::new(path, table, item.span())),
                None => walk.wrong(item, path, "a table"),
            }
        }
        sections
    }

    /// Every entry of this table, for tables whose keys are names.
    pub(super) fn entries(&self) -> impl Iterator<Item = (&'t str, &'t TomlValue<'t>)> {
        self.table
            .iter()
            .map(|(key, value)| (key.get_ref().as_ref(), value))
    }

    /// The same where files are named after the names; the others are reported and left out.
    pub(super) fn file_entries(&self, walk: &mut Walk<'t>) -> Vec<(&'t str, &'t TomlValue<'t>)> {
        let mut entries = Vec::with_capacity(self.table.len());
        for (key, value) in self.table {
            let name = key.get_ref().as_ref();
            if is_file_name(name) {
                entries.push((name, value));
                continue;
            }
            let what = What::Wrong {
                key: self.path.clone(),
                found: format!("a table with the name {name:?}"),
                expected: FILE_NAME.to_owned(),
            };
            walk.report(&key.span(), what);
        }
        entries
    }

    /// The name of each table of a list, with its place; blank where it has none.
    pub(super) fn names(&self, key: &str) -> impl Iterator<Item = (&'t str, Range<usize>)> {
        let tables = self
            .table
            .get(key)
            .and_then(|value| value.get_ref().as_array());
        tables.into_iter().flat_map(|items| {
            items.iter().map(|item| {
                let name = item
                    .get_ref()
                    .as_table()
                    .and_then(|table| table.get("name"));
                let text = name.and_then(|name| name.get_ref().as_str());
                (
                    text.unwrap_or_default().trim(),
                    name.map_or_else(|| item.span(), Spanned::span),
                )
            })
        })
    }

    /// A list of texts.
    pub(super) fn texts(
        &self,
        walk: &mut Walk<'t>,
        name: &'static str,
    ) -> Option<Vec<(String, Range<usize>)>> {
        let value = self.get(name)?;
        let texts = value.get_ref().as_array().and_then(|items| {
            items
                .iter()
                .map(|item| Some((item.get_ref().as_str()?.to_owned(), item.span())))
                .collect()
        });
        if texts.is_none() {
            walk.wrong(
                value,
                self.key(name),
                "a list of texts, such as [\"A\", \"B\"]",
            );
        }
        texts
    }
}

/// What a name must be that files are named after.
const FILE_NAME: &str = "a name without `/`, `\\` and control characters that is not `.` or `..`: files are named after it";

/// Whether files may be named after a name: it cannot lead to another folder.
fn is_file_name(name: &str) -> bool {
    let is_plain = |c: char| !c.is_control() && c != '/' && c != '\\';
    !name.trim().is_empty() && name.chars().all(is_plain) && name != "." && name != ".."
}
