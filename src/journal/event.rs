//! Events by their types: what happened on the rig.

use super::time::{Day, Moment};
use super::values::Values;
use crate::job::{Hold, Role};
use crate::measure::{Elevation, Length};

/// The state of a string when its stick-up is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StringState {
    /// It hangs: the reading is of a moment while it is run.
    Hung,
    /// It is landed.
    Landed,
    /// It is cemented or grouted.
    Cemented,
    /// Its weight is slacked off.
    SlackedOff,
}

impl StringState {
    /// The word in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hung => "hung",
            Self::Landed => "landed",
            Self::Cemented => "cemented",
            Self::SlackedOff => "slacked-off",
        }
    }

    fn from_word(word: &str) -> Option<Self> {
        let all = [Self::Hung, Self::Landed, Self::Cemented, Self::SlackedOff];
        all.into_iter().find(|state| state.word() == word)
    }

    /// Whether the string no longer hangs in the spider.
    pub fn is_at_rest(self) -> bool {
        self != Self::Hung
    }
}

/// A joint that was made up.
#[derive(Clone, Debug, PartialEq)]
pub struct JointRun {
    /// The slot.
    pub slot: String,
    /// The joint's number.
    pub joint: String,
    /// Its serial, where it was read.
    pub serial: Option<String>,
    /// The stick-up before it was made up.
    pub before: Option<Length>,
    /// The stick-up after, at the same hang-off.
    pub after: Option<Length>,
    /// The gap left in its connection.
    pub gap: Option<Length>,
    /// Remarks.
    pub remarks: Option<String>,
}

/// A stick-up that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct StickUp {
    /// The slot.
    pub slot: String,
    /// The hull position.
    pub hull: String,
    /// The top above the surface that stick-ups are measured from.
    pub value: Length,
    /// The state of the string.
    pub state: StringState,
    /// The instrument.
    pub instrument: Option<String>,
}

/// One mark from which the scribed line was measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScribeMark {
    /// The mark, by its name in JSON.
    pub from: String,
    /// How far the line is from it, in the direction of that mark.
    pub distance: Length,
    /// Who measured.
    pub by: String,
}

/// The scribed line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scribe {
    /// The slot.
    pub slot: String,
    /// The marks from which it was measured.
    pub marks: Vec<ScribeMark>,
    /// Who checked it.
    pub checked_by: String,
}

/// One reading of a rim: an elevation, or a blade above the line, with its direction in degrees.
#[derive(Clone, Debug, PartialEq)]
pub struct AtRim<T> {
    /// The value.
    pub value: T,
    /// The direction from the centre.
    pub azimuth: Option<f64>,
}

/// Elevations round a finished top.
#[derive(Clone, Debug, PartialEq)]
pub struct AsCutReadings {
    /// The slot.
    pub slot: String,
    /// The readings.
    pub readings: Vec<AtRim<Elevation>>,
    /// The instrument.
    pub instrument: String,
    /// The height reference.
    pub reference: String,
    /// Who surveyed.
    pub surveyor: Option<String>,
    /// The temperature in degrees Celsius.
    pub temperature: Option<f64>,
    /// The set-up of the instrument.
    pub setup: Option<String>,
}

/// What one list said of a joint when something of it was decided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MadeOf {
    /// The list; the tally of record is `record`.
    pub list: String,
    /// The line that lists the joint there.
    pub line: Option<u64>,
    /// The figure that it gives; `None` where that is no figure, or is blank.
    pub value: Option<Length>,
}

/// A signature on a statement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldSigned {
    /// The slot.
    pub slot: String,
    /// The hold point.
    pub hold: Hold,
    /// The role.
    pub role: Role,
    /// Who signed.
    pub name: String,
    /// The statement's path in the job's folder.
    pub statement: String,
    /// The SHA-256 of its bytes.
    pub statement_sha256: String,
    /// The cut target that it states.
    pub target: Option<Elevation>,
    /// The digest of who may sign, as it was.
    pub signers_sha256: Option<String>,
    /// Whether it is on paper, not proven by a key.
    pub on_paper: bool,
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "the table of events says what each key is")]
pub enum Event {
    JointRun(JointRun),
    JointPulled {
        slot: String,
        joint: String,
        why: String,
    },
    StickUp(StickUp),
    HullPosition {
        hull: String,
        rotary: Elevation,
        how: String,
    },
    HullMoving {
        why: String,
    },
    Frame {
        slot: String,
        heading: Option<f64>,
        base_above_mudline: Option<Length>,
        how: String,
    },
    Cropped {
        slot: String,
        length: Length,
        why: String,
    },
    Scribe(Scribe),
    CutterSet {
        slot: String,
        readings: Vec<AtRim<Length>>,
        checked_by: String,
    },
    CutMade {
        slot: String,
        is_final: bool,
    },
    AsCut(AsCutReadings),
    Instrument {
        id: String,
        what: String,
        due: Day,
        certificate: Option<String>,
        /// How well it reads a height difference: one standard deviation.
        sigma: Option<Length>,
    },
    Reading {
        from: String,
        to: String,
        rise: Length,
        /// Its standard deviation; that of its instrument where it is left out.
        sigma: Option<Length>,
        how: Option<String>,
        instrument: Option<String>,
    },
    Decision {
        slot: String,
        of: String,
        joint: String,
        choice: String,
        value: Option<Length>,
        note: Option<String>,
        line: Option<u64>,
        made_of: Vec<MadeOf>,
        taken_from: Option<String>,
    },
    TallyOfRecord {
        slot: String,
        file: String,
        sha256: String,
    },
    Waiver {
        slot: String,
        flag: String,
        why: String,
        of: Option<String>,
    },
    JointChecked {
        joint: String,
        is_accepted: bool,
        checked_by: Option<String>,
    },
    Connection {
        slot: String,
        joint: String,
        state: String,
        checked_by: Option<String>,
    },
    HookLoad {
        slot: String,
        kilograms: f64,
        is_before_landing: bool,
    },
    Placed {
        slot: String,
        what: String,
        until: Moment,
    },
    DeckLanded {
        slots: Vec<(String, Length, Option<Length>)>,
    },
    Note {
        text: String,
    },
    Handover {
        text: String,
        to: String,
        open: Option<String>,
        confirmed_by: Option<String>,
    },
    Strike {
        strikes: u64,
        why: String,
    },
    HoldSigned(HoldSigned),
}

impl Event {
    /// The event of a name, of values that were read by its table; `None` where one is missing that the
    /// table says is there.
    pub(super) fn of(name: &str, values: &Values) -> Option<Self> {
        let text = |key| values.text(key);
        let slot = || values.text("slot");
        let elevation = |key| values.length(key).map(Elevation::above_datum);
        Some(match name {
            "joint-run" => Self::JointRun(JointRun {
                slot: slot()?,
                joint: text("joint")?,
                serial: text("serial"),
                before: values.length("before"),
                after: values.length("after"),
                gap: values.length("gap"),
                remarks: text("remarks"),
            }),
            "joint-pulled" => Self::JointPulled {
                slot: slot()?,
                joint: text("joint")?,
                why: text("why")?,
            },
            "stick-up" => Self::StickUp(StickUp {
                slot: slot()?,
                hull: text("hull")?,
                value: values.length("value")?,
                state: StringState::from_word(&text("state")?)?,
                instrument: text("instrument"),
            }),
            "hull-position" => Self::HullPosition {
                hull: text("hull")?,
                rotary: elevation("rotary")?,
                how: text("how")?,
            },
            "hull-moving" => Self::HullMoving { why: text("why")? },
            "frame" => Self::Frame {
                slot: slot()?,
                heading: values.real("heading"),
                base_above_mudline: values.length("base_above_mudline"),
                how: text("how")?,
            },
            "cropped" => Self::Cropped {
                slot: slot()?,
                length: values.length("length")?,
                why: text("why")?,
            },
            "scribe" => Self::Scribe(Scribe {
                slot: slot()?,
                marks: values
                    .list("marks")
                    .iter()
                    .map(|mark| {
                        Some(ScribeMark {
                            from: mark.text("from")?,
                            distance: mark.length("distance")?,
                            by: mark.text("by")?,
                        })
                    })
                    .collect::<Option<_>>()?,
                checked_by: text("checked_by")?,
            }),
            "cutter-set" => Self::CutterSet {
                slot: slot()?,
                readings: rim(values, |it| it.length("offset"))?,
                checked_by: text("checked_by")?,
            },
            "cut-made" => Self::CutMade {
                slot: slot()?,
                is_final: text("cut")? == "final",
            },
            "as-cut" => Self::AsCut(AsCutReadings {
                slot: slot()?,
                readings: rim(values, |it| {
                    it.length("elevation").map(Elevation::above_datum)
                })?,
                instrument: text("instrument")?,
                reference: text("reference")?,
                surveyor: text("surveyor"),
                temperature: values.real("temperature"),
                setup: text("setup"),
            }),
            _ => return Self::of_record(name, values),
        })
    }

    /// Events of the record: instruments, decisions, what was checked, and signatures.
    fn of_record(name: &str, values: &Values) -> Option<Self> {
        let text = |key| values.text(key);
        let slot = || values.text("slot");
        Some(match name {
            "instrument" => Self::Instrument {
                id: text("id")?,
                what: text("what")?,
                due: values.day("due")?,
                certificate: text("certificate"),
                sigma: values.length("sigma"),
            },
            "reading" => Self::Reading {
                from: text("from")?,
                to: text("to")?,
                rise: values.length("rise")?,
                sigma: values.length("sigma"),
                how: text("how"),
                instrument: text("instrument"),
            },
            "decision" => Self::Decision {
                slot: slot()?,
                of: text("of")?,
                joint: text("joint")?,
                choice: text("choice")?,
                value: values.length("value"),
                note: text("note"),
                line: values.count("line"),
                made_of: values.list("made_of").iter().filter_map(made_of).collect(),
                taken_from: text("taken_from"),
            },
            "tally-of-record" => Self::TallyOfRecord {
                slot: slot()?,
                file: text("file")?,
                sha256: text("sha256")?,
            },
            "waiver" => Self::Waiver {
                slot: slot()?,
                flag: text("flag")?,
                why: text("why")?,
                of: text("of"),
            },
            "joint-checked" => Self::JointChecked {
                joint: text("joint")?,
                is_accepted: text("result")? == "accepted",
                checked_by: text("checked_by"),
            },
            "connection" => Self::Connection {
                slot: slot()?,
                joint: text("joint")?,
                state: text("state")?,
                checked_by: text("checked_by"),
            },
            "hook-load" => Self::HookLoad {
                slot: slot()?,
                kilograms: values.real("value")?,
                is_before_landing: text("moment")? == "before-landing",
            },
            "placed" => Self::Placed {
                slot: slot()?,
                what: text("what")?,
                until: values.moment("until")?,
            },
            "deck-landed" => Self::DeckLanded {
                slots: values
                    .list("slots")
                    .iter()
                    .map(|it| Some((it.text("slot")?, it.length("gap")?, it.length("shim"))))
                    .collect::<Option<_>>()?,
            },
            "note" => Self::Note {
                text: text("text")?,
            },
            "handover" => Self::Handover {
                text: text("text")?,
                to: text("to")?,
                open: values.text("open"),
                confirmed_by: values.text("confirmed_by"),
            },
            "strike" => Self::Strike {
                strikes: values.count("strikes")?,
                why: text("why")?,
            },
            "hold-signed" => Self::HoldSigned(HoldSigned {
                slot: slot()?,
                hold: Hold::from_name(&text("hold")?)?,
                role: Role::from_name(&text("role")?)?,
                name: text("name")?,
                statement: text("statement")?,
                statement_sha256: text("statement_sha256")?,
                target: values.length("target").map(Elevation::above_datum),
                signers_sha256: text("signers_sha256"),
                on_paper: values.is_true("paper"),
            }),
            _ => return None,
        })
    }

    /// The slot that it is about, where it is about one.
    pub fn slot(&self) -> Option<&str> {
        match self {
            Self::JointRun(JointRun { slot, .. })
            | Self::StickUp(StickUp { slot, .. })
            | Self::Scribe(Scribe { slot, .. })
            | Self::AsCut(AsCutReadings { slot, .. })
            | Self::HoldSigned(HoldSigned { slot, .. })
            | Self::JointPulled { slot, .. }
            | Self::Frame { slot, .. }
            | Self::Cropped { slot, .. }
            | Self::CutterSet { slot, .. }
            | Self::CutMade { slot, .. }
            | Self::Decision { slot, .. }
            | Self::TallyOfRecord { slot, .. }
            | Self::Waiver { slot, .. }
            | Self::Connection { slot, .. }
            | Self::HookLoad { slot, .. }
            | Self::Placed { slot, .. } => Some(slot),
            _ => None,
        }
    }

    /// The instrument that it was read with, where it names one.
    pub fn instrument(&self) -> Option<&str> {
        match self {
            Self::StickUp(read) => read.instrument.as_deref(),
            Self::AsCut(read) => Some(&read.instrument),
            Self::Reading { instrument, .. } => instrument.as_deref(),
            _ => None,
        }
    }
}

/// The readings round a rim.
fn rim<T>(values: &Values, of: impl Fn(&Values) -> Option<T>) -> Option<Vec<AtRim<T>>> {
    let readings = values.list("readings").iter();
    readings
        .map(|it| {
            Some(AtRim {
                value: of(it)?,
                azimuth: it.real("azimuth"),
            })
        })
        .collect()
}

fn made_of(values: &Values) -> Option<MadeOf> {
    Some(MadeOf {
        list: values.text("list")?,
        line: values.count("line"),
        value: values.length("value"),
    })
}
