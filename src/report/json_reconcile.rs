//! The JSON of `reconcile` and `suspects`.

use serde::Serialize;

use super::json::{FORMAT, pretty};
use super::number::Number;
use super::words;
use crate::measure::LengthFormat;
use crate::reconcile::{Bridge, BridgeDetail, Cause, Pair, Suspect, Suspects};
use crate::tally::Tally;

#[derive(Serialize)]
struct BridgeTree<'a> {
    format: u32,
    a: BridgedListJson<'a>,
    b: BridgedListJson<'a>,
    difference_m: Number,
    bridge: Vec<LineJson<'a>>,
    remainder_m: Number,
    planes: Vec<PlaneJson<'a>>,
    notes: Vec<String>,
}

#[derive(Serialize)]
struct BridgedListJson<'a> {
    file: &'a str,
    string_length_m: Number,
}

#[derive(Serialize)]
struct LineJson<'a> {
    cause: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    joint: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    joints: Option<usize>,
    effect_m: Number,
    text: String,
}

#[derive(Serialize)]
struct PlaneJson<'a> {
    joint: &'a str,
    moved_m: Number,
}

/// The bridge between two tallies; `files` are their names.
pub fn bridge(files: [&str; 2], a: &Tally, bridge: &Bridge) -> Result<String, serde_json::Error> {
    let [file_a, file_b] = files;
    let format = LengthFormat::new(a.unit);
    pretty(&BridgeTree {
        format: FORMAT,
        a: BridgedListJson {
            file: file_a,
            string_length_m: Number::metres(bridge.a),
        },
        b: BridgedListJson {
            file: file_b,
            string_length_m: Number::metres(bridge.b),
        },
        difference_m: Number::metres(bridge.difference()),
        bridge: bridge
            .lines
            .iter()
            .map(|line| LineJson {
                cause: line.cause.name(),
                joint: (line.cause != Cause::Rounding).then_some(line.joint.as_str()),
                joints: match line.detail {
                    BridgeDetail::Rounding { joints } => Some(joints),
                    _ => None,
                },
                effect_m: Number::metres(line.effect),
                text: words::bridge_line(line, format),
            })
            .collect(),
        remainder_m: Number::metres(bridge.remainder()),
        notes: bridge.notes.iter().map(words::note).collect(),
        planes: bridge
            .planes
            .iter()
            .filter_map(|plane| {
                Some(PlaneJson {
                    joint: &a.joints.get(plane.a)?.number,
                    moved_m: Number::metres(plane.by),
                })
            })
            .collect(),
    })
}

#[derive(Serialize)]
struct SuspectsTree<'a> {
    format: u32,
    off_m: Number,
    within_m: Number,
    closes: bool,
    suspects: Vec<SuspectJson<'a>>,
    by_chance: Number,
    by_chance_pairs: Option<Number>,
}

#[derive(Serialize)]
pub(super) struct SuspectJson<'a> {
    mistake: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    joints: Option<&'a [String]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    parts: Option<Vec<SuspectJson<'a>>>,
    effect_m: Option<Number>,
    left_m: Option<Number>,
    text: String,
}

pub(super) fn single(suspect: &Suspect, format: LengthFormat) -> SuspectJson<'_> {
    SuspectJson {
        mistake: suspect.mistake.name(),
        joints: Some(&suspect.joints),
        parts: None,
        effect_m: suspect.effect.map(Number::metres),
        left_m: suspect.left.map(Number::metres),
        text: words::suspect(suspect, format),
    }
}

fn pair(pair: &Pair, format: LengthFormat) -> SuspectJson<'_> {
    let [one, other] = &pair.parts;
    SuspectJson {
        mistake: "pair",
        joints: None,
        parts: Some(vec![single(one, format), single(other, format)]),
        effect_m: Some(Number::metres(pair.effect)),
        left_m: Some(Number::metres(pair.left)),
        text: words::pair(pair, format),
    }
}

/// What would explain a misclosure: single mistakes, then pairs, and last a joint that nobody can name.
pub fn suspects(found: &Suspects, format: LengthFormat) -> Result<String, serde_json::Error> {
    let (named, unnamed): (Vec<_>, Vec<_>) =
        found.singles.iter().partition(|it| it.effect.is_some());
    let mut suspects: Vec<SuspectJson<'_>> =
        named.into_iter().map(|it| single(it, format)).collect();
    suspects.extend(found.pairs.iter().map(|it| pair(it, format)));
    suspects.extend(unnamed.into_iter().map(|it| single(it, format)));
    pretty(&SuspectsTree {
        format: FORMAT,
        off_m: Number::metres(found.off),
        within_m: Number::metres(found.within),
        closes: found.closes,
        suspects,
        by_chance: Number::millionths(found.by_chance_millionths),
        by_chance_pairs: found.pairs_by_chance_millionths.map(Number::millionths),
    })
}
