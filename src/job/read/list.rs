//! Lists of tables, and keys that are missing.

use std::ops::Range;
use std::path::PathBuf;

use super::super::paths::path_of;
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;

pub(super) fn missing(root: &Section<'_>, walk: &mut Walk<'_>, key: &str, expected: &str) {
    let what = What::Missing {
        key: key.to_owned(),
        expected: expected.to_owned(),
    };
    walk.report(&root.span_of(""), what);
}

/// A key that does not go with another.
pub(super) fn conflicting(section: &Section<'_>, walk: &mut Walk<'_>, key: &str, conflict: &str) {
    let what = What::Conflict {
        key: section.key(key),
        conflict: conflict.to_owned(),
    };
    walk.report(&section.span_of(key), what);
}

/// Every table of a list, each read by `item`; those with problems are left out.
pub(super) fn each<'t, T>(
    root: &Section<'t>,
    walk: &mut Walk<'t>,
    name: &'static str,
    item: impl Fn(&Section<'t>, &mut Walk<'t>) -> Option<T>,
) -> Vec<T> {
    let mut items = Vec::new();
    for section in root.tables(walk, name) {
        items.extend(item(&section, walk));
        section.finish(walk);
    }
    items
}

/// A path that stays inside the job's folder.
pub(super) fn inside(
    section: &Section<'_>,
    walk: &mut Walk<'_>,
    key: &str,
    span: &Range<usize>,
    path: &str,
) -> Option<PathBuf> {
    if let Some(path) = path_of(path) {
        return Some(path);
    }
    let what = What::Wrong {
        key: section.key(key),
        found: format!("the path {path:?}"),
        expected:
            "a path relative to the job's folder that does not leave it, with / between its parts"
                .to_owned(),
    };
    walk.report(span, what);
    None
}
