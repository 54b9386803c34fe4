//! What the sentences of flags are written with.

use crate::finding::{JointRef, Named};
use crate::measure::{Elevation, Excerpt, Length, LengthFormat};

/// How quantities are written in sentences.
pub(super) struct Words(pub(super) LengthFormat);

impl Words {
    pub(super) fn length(&self, length: Length) -> String {
        self.0.text(length)
    }

    pub(super) fn at(&self, elevation: Elevation) -> String {
        self.0.text(elevation.height())
    }

    pub(super) fn small(&self, length: Length) -> String {
        self.0.small(length)
    }

    /// A difference without its sign: words say which way.
    pub(super) fn by(&self, length: Length) -> String {
        let by = self.0.difference(length.abs());
        by.trim_start_matches('+').to_owned()
    }

    /// What a value proves against a limit that it has to keep: how far it lies inside or beyond, with
    /// digits enough that one sees why.
    pub(super) fn proof(
        &self,
        (value, uncertainty, limit): (Length, Option<Length>, Length),
        (beyond, proven): (bool, bool),
    ) -> String {
        let value = value.abs();
        let Some(u) = uncertainty else {
            let side = if beyond { "beyond" } else { "inside" };
            return format!("{side} its limit of {}, not proven", self.small(limit));
        };
        let with_u = if beyond { value - u } else { value + u };
        let written = self.0.small_apart(&[value, limit, with_u]);
        let [_, limit, with_u] = written.as_slice() else {
            return String::new();
        };
        match (beyond, proven) {
            (true, true) => {
                format!("beyond its limit of {limit}, proven: less U it is {with_u}")
            }
            (true, false) => {
                format!("beyond its limit of {limit}, not proven: less U it is {with_u}")
            }
            (false, _) => format!("inside its limit of {limit}, not proven: with U it is {with_u}"),
        }
    }

    pub(super) fn known(&self, uncertainty: Option<Length>) -> String {
        uncertainty.map_or_else(|| "not stated".to_owned(), |it| self.small(it))
    }
}

/// `A-03 (line 4)`.
pub(super) fn joint_words(joint: &JointRef) -> String {
    format!("{} (line {})", Excerpt::of(&joint.number), joint.line)
}

/// `A-03 (line 4), A-05 (line 6) and 2 more`.
pub(super) fn named(joints: &Named<JointRef>) -> String {
    let first: Vec<String> = joints.first.iter().map(joint_words).collect();
    format!("{}{}", first.join(", "), more(joints.more))
}

pub(super) fn more(count: usize) -> String {
    match count {
        0 => String::new(),
        more => format!(" and {more} more"),
    }
}

/// `one, two, three, and 2 more`.
pub(super) fn some_of<T>(items: &Named<T>, words: impl Fn(&T) -> String) -> String {
    let mut named: Vec<String> = items.first.iter().map(words).collect();
    if items.more > 0 {
        named.push(format!("and {} more", items.more));
    }
    named.join(", ")
}
