//! The names that columns go by. To teach the reader a new one, add it to [`SYNONYMS`].

use crate::measure::Unit;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Field {
    /// The joint number.
    Joint,
    /// The serial.
    Serial,
    /// The kind of joint.
    Kind,
    /// Overall length.
    Overall,
    /// A length that may be overall or effective.
    EitherLength,
    /// Make-up loss.
    Loss,
    /// Effective length.
    Effective,
    /// Running total.
    Running,
    /// Remarks.
    Remarks,
}

impl Field {
    /// What it is called in messages.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Joint => "joint",
            Self::Serial => "serial",
            Self::Kind => "kind",
            Self::Overall | Self::EitherLength => "length",
            Self::Loss => "makeup_loss",
            Self::Effective => "effective length",
            Self::Running => "running total",
            Self::Remarks => "remarks",
        }
    }

    /// Whether it holds lengths.
    pub(super) const fn is_length(self) -> bool {
        matches!(
            self,
            Self::Overall | Self::EitherLength | Self::Loss | Self::Effective | Self::Running
        )
    }
}

/// Each field with the names it goes by, in lists of falling rank: where two columns name one field,
/// the one of the earlier list is taken. Names are written in lower case with single spaces; signs
/// such as `.`, `_`, `/`, `#` and `-` count as spaces.
const SYNONYMS: &[(Field, &[&[&str]])] = &[
    (
        Field::Joint,
        &[
            &[
                "joint",
                "joint no",
                "joint nr",
                "joint number",
                "joint id",
                "jt",
                "jt no",
                "jt nr",
                "jt number",
                "jnt",
                "jnt no",
                "joints",
            ],
            &[
                "no",
                "nr",
                "number",
                "pipe",
                "pipe no",
                "pipe number",
                "tally no",
                "running no",
            ],
            &["item", "item no", "pos", "seq", "sequence", "row"],
        ],
    ),
    (
        Field::Serial,
        &[
            &[
                "serial",
                "serial no",
                "serial nr",
                "serial number",
                "s n",
                "sn",
                "pipe serial",
                "ser no",
            ],
            &["heat", "heat no", "heat number", "pipe id", "mark"],
        ],
    ),
    (
        Field::Kind,
        &[
            &["kind", "joint kind", "joint type", "kind of joint"],
            &["type", "description"],
        ],
    ),
    (
        Field::Overall,
        &[&[
            "length",
            "len",
            "oal",
            "o a l",
            "oa length",
            "o a length",
            "overall",
            "overall length",
            "length overall",
            "overall len",
            "oa len",
            "measured length",
            "strapped length",
            "strap length",
            "strap",
            "gross",
            "gross length",
            "joint length",
            "pipe length",
            "length oal",
            "length measured",
            "length strapped",
            "tape length",
            "taped length",
            "actual length",
            "jt length",
            "jnt length",
        ]],
    ),
    (
        Field::EitherLength,
        &[&[
            "tally length",
            "run length",
            "length tally",
            "tallied length",
        ]],
    ),
    (
        Field::Loss,
        &[&[
            "makeup loss",
            "make up loss",
            "makeup",
            "make up",
            "mul",
            "mu",
            "m u",
            "m u l",
            "m u loss",
            "mu loss",
            "loss",
            "connection loss",
            "make up deduction",
            "makeup deduction",
            "make up length",
            "makeup length",
            "m u length",
            "mu length",
            "makeup loss length",
            "pin loss",
        ]],
    ),
    (
        Field::Effective,
        &[&[
            "effective",
            "effective length",
            "eff",
            "eff length",
            "eff len",
            "effective len",
            "net",
            "net length",
            "length effective",
            "length net",
            "made up length",
            "madeup length",
            "length made up",
        ]],
    ),
    (
        Field::Running,
        &[&[
            "cum",
            "cumulative",
            "cumulative length",
            "cum length",
            "cum len",
            "cum total",
            "running total",
            "running length",
            "total",
            "total length",
            "accumulated",
            "accumulated length",
            "string length",
            "running",
        ]],
    ),
    (
        Field::Remarks,
        &[&["remarks", "remark", "comments", "comment", "notes", "note"]],
    ),
];

/// The field that a heading names, with the rank of that name: 0 is the best. Units must be taken
/// off before.
pub(super) fn recognise(name: &str) -> Option<(Field, usize)> {
    SYNONYMS.iter().find_map(|(field, ranks)| {
        let rank = ranks.iter().position(|names| names.contains(&name))?;
        Some((*field, rank))
    })
}

/// A heading taken apart: its name in the form of [`SYNONYMS`], and the unit that it states in
/// brackets, after a comma, or as its last word (`OAL m`, `length_m`, `Length in feet`).
pub(super) fn split_heading(heading: &str) -> (String, Option<Unit>) {
    let lower = heading.to_lowercase();
    // A share of something is never a length, whatever else the heading says.
    if lower.contains('%') {
        return (normalise(&lower.replace('%', " percent ")), None);
    }
    if let Some((outside, unit)) = unit_in_brackets(&lower) {
        return (normalise(&outside), Some(unit));
    }
    if let Some((before, after)) = lower.rsplit_once([',', ' ', '/', '_', ':'])
        && let Some(unit) = Unit::from_word(after)
    {
        let name = normalise(before);
        for name in [&name, name.trim_end_matches(" in")] {
            if recognise(name).is_some_and(|(field, _)| field.is_length()) {
                return (name.to_owned(), Some(unit));
            }
        }
    }
    (normalise(&lower), None)
}

/// The first unit in brackets and the heading without it: `Length (measured) (m)` is in metres.
fn unit_in_brackets(heading: &str) -> Option<(String, Unit)> {
    let mut before = String::new();
    let mut rest = heading;
    while let Some((head, tail)) = rest.split_once(['(', '[']) {
        let (inside, after) = tail.split_once([')', ']'])?;
        if let Some(unit) = Unit::from_word(inside) {
            return Some((format!("{before}{head} {after}"), unit));
        }
        before.push_str(head);
        before.push(' ');
        before.push_str(inside);
        before.push(' ');
        rest = after;
    }
    None
}

/// Letters and digits in lower case, everything else a single space.
pub(super) fn normalise(text: &str) -> String {
    if text.trim() == "#" {
        return "no".to_owned();
    }
    text.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// Whether a cell in a row of units says that its column holds shares.
pub(super) fn is_percent(cell: &str) -> bool {
    matches!(
        normalise(&cell.replace('%', " percent ")).as_str(),
        "percent" | "per cent" | "pct"
    )
}

/// The unit of a cell in a row of units: `m`, `(ft)`, `[in]`.
pub(super) fn unit_cell(cell: &str) -> Option<Unit> {
    Unit::from_word(cell.trim_matches(['(', ')', '[', ']', ' ']))
}
