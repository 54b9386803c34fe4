//! What a cursor, an overlay or an effect speaks of, by names and figures that a reload of the files
//! does not move; never by a place in a list.

use std::collections::HashMap;

/// Names that may occur more than once, each made unique: `guide`, `guide (2)`.
pub(super) fn numbered<'a>(names: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let mut counts: HashMap<&str, usize> = HashMap::new();
    let mut number = |name: &'a str| {
        let count = counts.entry(name).or_default();
        *count += 1;
        match *count {
            1 => name.to_owned(),
            count => format!("{name} ({count})"),
        }
    };
    names.into_iter().map(&mut number).collect()
}
