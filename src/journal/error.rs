//! Why an event is refused, and why a journal is not whole: data, with each sentence written once.

use thiserror::Error;

use super::schema::{EVENTS, Kind};
use crate::measure::{Excerpt, LengthError};

/// What is wrong with an event, and where on its line.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("column {column}: {what}")]
pub struct EventProblem {
    /// Counted from 1, in characters.
    pub column: usize,
    /// What is wrong.
    pub what: Wrong,
}

/// What is wrong with an event.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Wrong {
    /// A handover to the one who hands over.
    #[error("`to` is `{0}`, who hands over; expected the one who takes over")]
    ToOneself(Excerpt),
    /// A handover that another than the incoming person confirms.
    #[error("`confirmed_by` is `{found}`; expected `{to}`, who takes over")]
    NotIncoming {
        /// Who is named.
        found: Excerpt,
        /// Who takes over.
        to: Excerpt,
    },
    /// Not one JSON object.
    #[error(
        "{0}; expected one JSON object on the line, such as {{\"event\":\"note\",\"by\":\"NK\",\"text\":\"...\"}}"
    )]
    NotAnObject(String),
    /// Values that make no such event.
    #[error("its values are not those of {0}")]
    Values(&'static str),
    /// More bytes than an event may have.
    #[error("the line has {0} bytes; expected at most 65536")]
    TooLong(usize),
    /// Not UTF-8.
    #[error("the line is not UTF-8; expected a JSON object in UTF-8")]
    NotUtf8,
    /// A key twice.
    #[error("`{0}` occurs twice; expected each key once")]
    Twice(Excerpt),
    /// A key that the event does not have.
    #[error("`{key}` is no key of {event}; expected {expected}")]
    UnknownKey {
        /// The key.
        key: Excerpt,
        /// The event, or its list.
        event: &'static str,
        /// The keys that it has.
        expected: String,
    },
    /// A key that the program itself writes.
    #[error("`{0}` is written by the program; leave it out")]
    Own(&'static str),
    /// A key that must be there.
    #[error("`{key}` of {event} is missing; expected {expected}")]
    Missing {
        /// The key.
        key: &'static str,
        /// The event.
        event: &'static str,
        /// What it would hold.
        expected: String,
    },
    /// A value of another kind.
    #[error("`{key}` is {found}; expected {expected}")]
    Value {
        /// The key.
        key: &'static str,
        /// What was found.
        found: Excerpt,
        /// What it should be.
        expected: String,
    },
    /// A text that is no length.
    #[error("`{key}`: {error}")]
    Length {
        /// The key.
        key: &'static str,
        /// Why.
        error: LengthError,
    },
    /// A length beyond its bounds.
    #[error("`{key}`: {found} is beyond {limit}{}", .other.as_ref().map_or_else(String::new, |it| format!("; write \"{it}\" if that is meant")))]
    Beyond {
        /// The key.
        key: &'static str,
        /// The length as it is written.
        found: Excerpt,
        /// The bound.
        limit: String,
        /// The same number in a unit in which it would fit.
        other: Option<String>,
    },
    /// No such event.
    #[error("`{0}` is no event; expected one of {names}", names = event_names())]
    NoEvent(Excerpt),
    /// `hold-signed` comes by `sign` alone.
    #[error("`{0}` is written by `kerfmark sign` alone")]
    BySign(&'static str),
    /// A moment that is still to come.
    #[error("`at` is {at}, later than now ({now}); expected when it happened")]
    Later {
        /// What was written.
        at: String,
        /// The clock.
        now: String,
    },
    /// Initials that are not among the persons of the job.
    #[error("`{key}` is `{found}`, who is not in [people] of job.toml; expected one of {expected}")]
    Nobody {
        /// The key.
        key: &'static str,
        /// The initials.
        found: Excerpt,
        /// Those who are.
        expected: String,
    },
    /// A name that the job does not have.
    #[error("`{key}` is `{found}`, which the job does not have; expected {expected}")]
    NotInJob {
        /// The key.
        key: &'static str,
        /// The name.
        found: Excerpt,
        /// What it has.
        expected: String,
    },
    /// A joint that is in neither list.
    #[error(
        "joint `{joint}` is neither in the tally of slot {slot} nor in the list of the pipe on deck; expected a joint number as written there"
    )]
    NoJoint {
        /// The joint.
        joint: Excerpt,
        /// The slot.
        slot: Excerpt,
    },
    /// A joint that is in no list.
    #[error(
        "joint `{0}` is in no tally and not in the list of the pipe on deck; expected a joint number as written there"
    )]
    NoSuchJoint(Excerpt),
    /// A reading from a point to itself.
    #[error("`{0}` is read from itself; expected two points")]
    FromItself(Excerpt),
    /// A slot that stands twice in one event.
    #[error("slot {0} stands twice; expected each slot once")]
    SlotTwice(Excerpt),
    /// A reading whose standard deviation nothing states.
    #[error("{}", no_sigma(.0.as_ref()))]
    NoSigma(Option<Excerpt>),
    /// A decision on a joint that no list of the string has.
    #[error("joint `{0}` is in no list of this string; expected a joint number as written there")]
    NoListHas(Excerpt),
    /// A joint that hangs already.
    #[error(
        "joint `{joint}` hangs in slot {slot} already (entry {seq}); expected another joint, or that entry struck first"
    )]
    Hangs {
        /// The joint.
        joint: Excerpt,
        /// The slot in which it hangs.
        slot: Excerpt,
        /// The entry that says so.
        seq: u64,
    },
    /// A joint that was rejected.
    #[error("joint `{joint}` was rejected (entry {seq}) and cannot be run; expected another joint")]
    Rejected {
        /// The joint.
        joint: Excerpt,
        /// The entry that says so.
        seq: u64,
    },
    /// A joint that does not hang.
    #[error(
        "joint `{joint}` does not hang in slot {slot}; expected a joint that was run and not pulled"
    )]
    HangsNot {
        /// The joint.
        joint: Excerpt,
        /// The slot.
        slot: Excerpt,
    },
    /// More cropped than there is.
    #[error("`length`: of the top joint `{joint}` {left} are left; expected no more than that")]
    CroppedTooMuch {
        /// The top joint.
        joint: Excerpt,
        /// What is left of it.
        left: String,
    },
    /// No such entry to strike.
    #[error(
        "`strikes`: there is no entry {0} before this one; expected the `seq` of an earlier entry"
    )]
    NoEntry(u64),
    /// An entry that has been struck.
    #[error("`strikes`: entry {0} is struck already")]
    StruckAlready(u64),
    /// An entry that cannot be struck.
    #[error("`strikes`: entry {seq} is a {event}, which cannot be struck")]
    CannotBeStruck {
        /// The entry.
        seq: u64,
        /// What it is.
        event: &'static str,
    },
    /// Entries that could not be without the one that is struck.
    #[error("`strikes`: without entry {seq}, entry {later} could not be; strike that one first")]
    NeededBy {
        /// The entry to strike.
        seq: u64,
        /// The one that needs it.
        later: u64,
    },
    /// A later entry that could not be after this one.
    #[error(
        "entry {0}, which is later, could not be after this; strike that one first, or write another `at`"
    )]
    Contradicts(u64),
    /// A stick-up of what was cut.
    #[error(
        "slot {slot} was cut (entry {seq}): its top is no longer that of the string; expected a `reading`, or `as-cut` readings"
    )]
    CutAlready {
        /// The slot.
        slot: Excerpt,
        /// The entry that says so.
        seq: u64,
    },
    /// Something that cannot be once the final cut is made.
    #[error(
        "slot {slot} is cut (entry {seq}): nothing of its string is run, pulled, cropped or cut any more"
    )]
    IsCut {
        /// The slot.
        slot: Excerpt,
        /// The entry that says so.
        seq: u64,
    },
    /// Presence and place are not measured.
    #[error(
        "`choice`: only a length or a make-up loss can be measured; expected a list's name, or open"
    )]
    NotMeasurable,
    /// Entries that could not be with another tally.
    #[error(
        "entry {0} could not be with that tally of record; strike it first, or adopt another file"
    )]
    NotWithTally(u64),
    /// A flag that is no check.
    #[error("`flag`: {code} is a {severity}; expected a check: a {severity} cannot be waived")]
    NotACheck {
        /// The flag.
        code: &'static str,
        /// Its severity.
        severity: &'static str,
    },
    /// A flag that is not raised.
    #[error("`flag`: `{flag}` is not raised for slot {slot}; expected {expected}")]
    NotRaised {
        /// The flag.
        flag: Excerpt,
        /// The slot.
        slot: Excerpt,
        /// The checks that are.
        expected: String,
    },
    /// A file that is not what the entry says.
    #[error("`file`: {0}")]
    File(String),
}

impl Wrong {
    /// The key whose value it is about.
    pub const fn key(&self) -> Option<&'static str> {
        match self {
            Self::Nobody { key, .. } | Self::NotInJob { key, .. } => Some(key),
            Self::NotIncoming { .. } => Some("confirmed_by"),
            Self::ToOneself(_) | Self::FromItself(_) => Some("to"),
            Self::NoSigma(_) => Some("sigma"),
            Self::SlotTwice(_) => Some("slots"),
            Self::Later { .. } => Some("at"),
            Self::NoJoint { .. }
            | Self::NoSuchJoint(_)
            | Self::NoListHas(_)
            | Self::Hangs { .. }
            | Self::Rejected { .. }
            | Self::HangsNot { .. } => Some("joint"),
            Self::CroppedTooMuch { .. } => Some("length"),
            Self::NoEntry(_)
            | Self::StruckAlready(_)
            | Self::CannotBeStruck { .. }
            | Self::NeededBy { .. } => Some("strikes"),
            Self::NotACheck { .. } | Self::NotRaised { .. } => Some("flag"),
            Self::File(_) => Some("file"),
            Self::NotMeasurable => Some("choice"),
            _ => None,
        }
    }
}

fn event_names() -> String {
    let names: Vec<&str> = EVENTS.iter().map(|event| event.name).collect();
    names.join(", ")
}

/// What a value of a kind is, for messages.
pub(super) fn expected(kind: Kind) -> String {
    match kind {
        Kind::Text | Kind::Mark => "a text in quotes, without control characters".to_owned(),
        Kind::Slot => "the name of a slot in quotes".to_owned(),
        Kind::Joint => "a joint number in quotes".to_owned(),
        Kind::Hull => "the name of a hull position in quotes".to_owned(),
        Kind::Person => "a person's initials in quotes".to_owned(),
        Kind::Length(..) => "a length in quotes with its unit, such as \"1.120 m\"".to_owned(),
        Kind::Mass => {
            "a mass in quotes with its unit (kg, t, lb, klb), such as \"182 t\"".to_owned()
        }
        Kind::Direction => "degrees from 0 to 360 in quotes, such as \"42.5 deg\"".to_owned(),
        Kind::Temperature => "degrees Celsius in quotes, such as \"8.5 C\"".to_owned(),
        Kind::Volume => {
            "a volume in quotes with its unit (m3, bbl, l, ft3), such as \"4.2 m3\"".to_owned()
        }
        Kind::Word(words) => {
            let words: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
            words.join(" or ")
        }
        Kind::Moment => {
            "a time to the second with its offset, such as \"2026-03-01T03:05:00+01:00\"".to_owned()
        }
        Kind::Day => "a day such as \"2026-03-01\"".to_owned(),
        Kind::Entry => "the number of an earlier entry, without quotes".to_owned(),
        Kind::Line => "the number of a line, without quotes".to_owned(),
        Kind::Path => "a path relative to the job's folder in quotes".to_owned(),
        Kind::Digest => "a SHA-256 in 64 hexadecimal digits in quotes".to_owned(),
        Kind::True => "true".to_owned(),
        Kind::List(keys) => {
            let keys: Vec<String> = keys
                .iter()
                .map(|key| format!("\"{}\":...", key.name))
                .collect();
            format!("a list of objects, such as [{{{}}}]", keys.join(","))
        }
    }
}

/// Why a journal is not whole from some line on.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("line {line}: {why}")]
pub struct Break {
    /// The changed line, or the one after it.
    pub line: usize,
    /// Why.
    pub why: BrokenBy,
}

/// Why a line of a journal does not follow from the one before.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum BrokenBy {
    /// It is not one of the program's lines.
    #[error("it is not a line of a journal: {0}")]
    NotALine(Box<EventProblem>),
    /// It does not begin or end as every line does.
    #[error("its keys are not those of a journal, in their order")]
    Keys,
    /// Another number than the next.
    #[error("its number is {found}, not {expected}")]
    Number {
        /// The number found.
        found: u64,
        /// The next one.
        expected: u64,
    },
    /// It was changed.
    #[error("it was changed since it was written: its hash is not that of its text")]
    Changed,
    /// It does not name the line before.
    #[error(
        "it does not follow the line before it: one of the two was changed, left out or put in"
    )]
    Previous,
}

/// Why a reading has no standard deviation.
fn no_sigma(instrument: Option<&Excerpt>) -> String {
    match instrument {
        None => "sigma is missing; expected the standard deviation, or the instrument that has one"
            .to_owned(),
        Some(instrument) => format!(
            "sigma is missing, and no entry states that of the instrument {instrument}; expected it here, or in an entry of the instrument"
        ),
    }
}
