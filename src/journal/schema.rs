//! Every event and its keys: the table that reading, messages and documents use.

use crate::measure::Length;

/// What a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A text.
    Text,
    /// The name of a slot.
    Slot,
    /// A joint number.
    Joint,
    /// The name of a hull position.
    Hull,
    /// The name of a bench mark, `rotary`, `top`, `lower-plane` or `upper-plane`.
    Mark,
    /// A person's initials.
    Person,
    /// A length or elevation within these bounds.
    Length(Length, Length),
    /// A mass.
    Mass,
    /// A direction, in degrees from 0 to 360.
    Direction,
    /// A temperature in degrees Celsius.
    Temperature,
    /// A volume.
    Volume,
    /// One of a few words.
    Word(&'static [&'static str]),
    /// A moment.
    Moment,
    /// A day.
    Day,
    /// The sequence number of an entry.
    Entry,
    /// The number of a line of a file.
    Line,
    /// A path in the job's folder.
    Path,
    /// A SHA-256 in hexadecimal.
    Digest,
    /// `true`.
    True,
    /// A list of objects with these keys.
    List(&'static [KeySpec]),
}

/// One key of an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeySpec {
    /// Its name.
    pub name: &'static str,
    /// What its value is.
    pub kind: Kind,
    /// Whether it must be there.
    pub needed: bool,
}

/// One event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EventSpec {
    /// Its name.
    pub name: &'static str,
    /// Its own keys.
    pub keys: &'static [KeySpec],
    /// Who writes it: a person through `enter` and the screens, or the program alone.
    pub by_program: bool,
    /// What it says.
    pub meaning: &'static str,
}

const fn needed(name: &'static str, kind: Kind) -> KeySpec {
    KeySpec {
        name,
        kind,
        needed: true,
    }
}

const fn optional(name: &'static str, kind: Kind) -> KeySpec {
    KeySpec {
        name,
        kind,
        needed: false,
    }
}

const fn mm(from: i64, to: i64) -> Kind {
    Kind::Length(Length::from_mm(from), Length::from_mm(to))
}

/// A height on the rig or in the water, as job.toml bounds it.
const LEVEL: Kind = mm(-1_000_000, 1_000_000);
/// The overall length of a joint.
const JOINT: Kind = mm(50, 30_000);
/// A gap, a shim, an offset.
const SMALL: Kind = mm(0, 5_000);
/// A gap or offset of either sign.
const OFFSET: Kind = mm(-5_000, 5_000);
/// A standard deviation of a reading: above 0, for one that is exact would put all others in the wrong; and one that may be off by
/// more than half a metre is no reading.
const SIGMA: Kind = Kind::Length(Length::from_nm(1_000), Length::from_mm(500));
/// A difference of two elevations, the bottom of the hole included.
const RISE: Kind = mm(-13_000_000, 13_000_000);

const SLOT: KeySpec = needed("slot", Kind::Slot);
const WHY: KeySpec = needed("why", Kind::Text);
const REMARKS: KeySpec = optional("remarks", Kind::Text);
const CHECKED_BY: KeySpec = optional("checked_by", Kind::Person);
const INSTRUMENT: KeySpec = optional("instrument", Kind::Text);

const fn event(name: &'static str, keys: &'static [KeySpec], meaning: &'static str) -> EventSpec {
    EventSpec {
        name,
        keys,
        by_program: false,
        meaning,
    }
}

/// Every event.
pub const EVENTS: &[EventSpec] = &[
    event(
        "joint-run",
        &[
            SLOT,
            needed("joint", Kind::Joint),
            optional("serial", Kind::Text),
            optional("before", LEVEL),
            optional("after", LEVEL),
            optional("gap", OFFSET),
            REMARKS,
        ],
        "a joint was made up and hangs; before and after are stick-ups at one hang-off",
    ),
    event(
        "joint-pulled",
        &[SLOT, needed("joint", Kind::Joint), WHY],
        "a joint that hung was taken off again",
    ),
    event(
        "stick-up",
        &[
            SLOT,
            needed("hull", Kind::Hull),
            needed("value", LEVEL),
            needed(
                "state",
                Kind::Word(&["hung", "landed", "cemented", "slacked-off"]),
            ),
            INSTRUMENT,
            REMARKS,
        ],
        "the top of the string above the surface that stick-ups are measured from; negative below it",
    ),
    event(
        "hull-position",
        &[
            needed("hull", Kind::Hull),
            needed("rotary", LEVEL),
            needed("how", Kind::Text),
        ],
        "the hull is at this position, and the elevation of RT was found there",
    ),
    event(
        "hull-moving",
        &[WHY],
        "the hull begins to move: every mark from RT is void until its next position is entered",
    ),
    event(
        "frame",
        &[
            SLOT,
            optional("heading", Kind::Direction),
            optional("base_above_mudline", LEVEL),
            needed("how", Kind::Text),
        ],
        "the frame's heading, and its base above the mudline",
    ),
    event(
        "cropped",
        &[SLOT, needed("length", mm(1, 30_000)), WHY],
        "so much was cut off the top joint; the shoe stays",
    ),
    event(
        "scribe",
        &[
            SLOT,
            needed(
                "marks",
                Kind::List(&[
                    needed("from", Kind::Mark),
                    needed("distance", LEVEL),
                    needed("by", Kind::Person),
                ]),
            ),
            needed("checked_by", Kind::Person),
        ],
        "the line that is marked round the conductor, measured again from each mark",
    ),
    event(
        "cutter-set",
        &[
            SLOT,
            needed(
                "readings",
                Kind::List(&[needed("azimuth", Kind::Direction), needed("offset", OFFSET)]),
            ),
            needed("checked_by", Kind::Person),
        ],
        "the blade's lower edge above the line, round the conductor",
    ),
    event(
        "cut-made",
        &[SLOT, needed("cut", Kind::Word(&["rough", "final"]))],
        "the conductor was cut",
    ),
    event(
        "as-cut",
        &[
            SLOT,
            needed(
                "readings",
                Kind::List(&[
                    needed("elevation", LEVEL),
                    optional("azimuth", Kind::Direction),
                ]),
            ),
            needed("instrument", Kind::Text),
            needed("reference", Kind::Text),
            optional("surveyor", Kind::Text),
            optional("temperature", Kind::Temperature),
            optional("setup", Kind::Text),
        ],
        "elevations measured round the finished top",
    ),
    event(
        "instrument",
        &[
            needed("id", Kind::Text),
            needed("what", Kind::Text),
            needed("due", Kind::Day),
            optional("certificate", Kind::Text),
            optional("sigma", SIGMA),
        ],
        "an instrument, and the day up to which its calibration is good",
    ),
    event(
        "reading",
        &[
            needed("from", Kind::Text),
            needed("to", Kind::Text),
            needed("rise", RISE),
            optional("sigma", SIGMA),
            optional("how", Kind::Text),
            INSTRUMENT,
            REMARKS,
        ],
        "a difference of two elevations that was measured: to less from",
    ),
    event(
        "decision",
        &[
            SLOT,
            needed(
                "of",
                Kind::Word(&["length", "makeup-loss", "presence", "place", "number"]),
            ),
            needed("joint", Kind::Text),
            needed("choice", Kind::Text),
            optional("value", mm(-20, 30_000)),
            optional("note", Kind::Text),
            optional("line", Kind::Line),
            optional(
                "made_of",
                Kind::List(&[
                    needed("list", Kind::Text),
                    optional("line", Kind::Line),
                    optional("value", mm(-20, 30_000)),
                ]),
            ),
            optional("taken_from", Kind::Text),
        ],
        "which list's value applies, or one that was measured; or it is open again",
    ),
    event(
        "tally-of-record",
        &[
            SLOT,
            needed("file", Kind::Path),
            needed("sha256", Kind::Digest),
        ],
        "this file is the tally of record from now on",
    ),
    event(
        "waiver",
        &[
            SLOT,
            needed("flag", Kind::Text),
            WHY,
            optional("of", Kind::Text),
        ],
        "a check is accepted as it is, for what it says now",
    ),
    event(
        "joint-checked",
        &[
            needed("joint", Kind::Joint),
            needed("result", Kind::Word(&["accepted", "rejected"])),
            optional("strap", JOINT),
            optional("drift", Kind::Text),
            optional("connector", Kind::Text),
            CHECKED_BY,
        ],
        "a joint was looked at before it is run",
    ),
    event(
        "connection",
        &[
            SLOT,
            needed("joint", Kind::Joint),
            needed("state", Kind::Word(&["locked", "weld-released"])),
            CHECKED_BY,
        ],
        "the connection below this joint is made up",
    ),
    event(
        "hook-load",
        &[
            SLOT,
            needed("value", Kind::Mass),
            needed("moment", Kind::Word(&["before-landing", "after-landing"])),
        ],
        "what the weight indicator reads",
    ),
    event(
        "placed",
        &[
            SLOT,
            needed("what", Kind::Word(&["grout", "cement"])),
            needed("until", Kind::Moment),
            optional("volume", Kind::Volume),
            optional("returns", Kind::Text),
            REMARKS,
        ],
        "grout or cement is in place, and the string must not be slacked off before this time",
    ),
    event(
        "deck-landed",
        &[
            needed(
                "slots",
                Kind::List(&[SLOT, needed("gap", SMALL), optional("shim", SMALL)]),
            ),
            REMARKS,
        ],
        "the deck is on its tops",
    ),
    event("note", &[needed("text", Kind::Text)], "anything else"),
    event(
        "handover",
        &[
            needed("text", Kind::Text),
            needed("to", Kind::Person),
            optional("open", Kind::Text),
            optional("confirmed_by", Kind::Person),
        ],
        "the shift changes; what is open is listed with it",
    ),
    event(
        "strike",
        &[needed("strikes", Kind::Entry), WHY],
        "an earlier entry has no effect; it stays in the journal",
    ),
    EventSpec {
        name: "hold-signed",
        keys: &[
            SLOT,
            needed(
                "hold",
                Kind::Word(&[
                    "tally-frozen",
                    "landed",
                    "cut-release",
                    "off-cut-lift",
                    "final",
                ]),
            ),
            needed("role", Kind::Word(&["prepared", "checked", "accepted"])),
            needed("name", Kind::Text),
            needed("statement", Kind::Text),
            needed("statement_sha256", Kind::Digest),
            optional("target", LEVEL),
            optional("signers_sha256", Kind::Digest),
            optional("paper", Kind::True),
        ],
        by_program: true,
        meaning: "a statement was signed",
    },
];

/// The event of a name.
pub fn event_named(name: &str) -> Option<&'static EventSpec> {
    EVENTS.iter().find(|event| event.name == name)
}
