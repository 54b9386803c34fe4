//! The JSON of `tally`.

use serde::Serialize;

use super::json::{FORMAT, FlagJson, flags, pretty};
use super::number::Number;
use super::words;
use crate::finding::Flag;
use crate::measure::{Length, LengthFormat};
use crate::tally::{Kind, PipeString, Tally};

#[derive(Serialize)]
struct TallyTree<'a> {
    format: u32,
    file: &'a str,
    units: &'static str,
    order: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    joints: Option<Vec<JointJson<'a>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    count: Option<usize>,
    string_length_m: Number,
    landing_length_m: Number,
    skipped: Vec<SkippedJson<'a>>,
    columns: Vec<ColumnJson<'a>>,
    encoding: &'a str,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    notes: Vec<String>,
    flags: Vec<FlagJson>,
}

#[derive(Serialize)]
struct JointJson<'a> {
    line: u32,
    joint: &'a str,
    serial: Option<&'a str>,
    kind: Option<&'static str>,
    length_m: Option<Number>,
    makeup_loss_m: Option<Number>,
    effective_m: Number,
    cumulative_m: Option<Number>,
}

#[derive(Serialize)]
struct SkippedJson<'a> {
    line: u32,
    why: String,
    text: &'a str,
}

#[derive(Serialize)]
struct ColumnJson<'a> {
    column: usize,
    heading: &'a str,
    used_as: Option<&'static str>,
    units: Option<&'static str>,
}

/// What was understood of one tally file, as text; `summary` counts the joints in place of listing
/// them.
pub fn tally(
    file: &str,
    tally: &Tally,
    string: &PipeString,
    raised: &[Flag],
    summary: bool,
) -> Result<String, serde_json::Error> {
    let conductor = string
        .pieces
        .iter()
        .enumerate()
        .map(|(at, piece)| (at, piece.effective, Some(piece.upper())));
    let landing = string
        .landing
        .iter()
        .map(|piece| (piece.joint, piece.effective, None));
    let joint = |(index, effective, cumulative): (usize, Length, Option<Length>)| {
        let joint = tally.joints.get(index)?;
        Some(JointJson {
            line: joint.line,
            joint: &joint.number,
            serial: joint.serial.as_deref(),
            kind: joint.kind.map(Kind::name),
            length_m: joint.overall().map(Number::metres),
            makeup_loss_m: joint.makeup_loss.map(Number::metres),
            effective_m: Number::metres(effective),
            cumulative_m: cumulative.map(Number::metres),
        })
    };
    let joints = (!summary).then(|| conductor.chain(landing).filter_map(joint).collect());
    pretty(&TallyTree {
        format: FORMAT,
        file,
        units: tally.unit.name(),
        order: tally.order.name(),
        joints,
        count: summary.then_some(tally.joints.len()),
        string_length_m: Number::metres(string.length),
        landing_length_m: Number::metres(string.landing_length),
        skipped: tally
            .skipped
            .iter()
            .map(|skipped| SkippedJson {
                line: skipped.line,
                why: words::skip_reason(skipped.why),
                text: &skipped.text,
            })
            .collect(),
        columns: tally
            .columns
            .iter()
            .map(|column| ColumnJson {
                column: column.number,
                heading: &column.heading,
                used_as: column.used_as,
                units: column.unit.map(crate::measure::Unit::name),
            })
            .collect(),
        encoding: &tally.encoding,
        notes: tally.notes.iter().map(words::file_note).collect(),
        flags: flags(raised, LengthFormat::new(tally.unit)),
    })
}
