//! The JSON of `lists`.

use serde::Serialize;

use super::json::{FORMAT, pretty};
use super::number::Number;
use super::words;
use crate::figures::SlotLists;
use crate::measure::{Length, LengthFormat};
use crate::reconcile::Topic;
use crate::reconcile::many::{Agreement, ListRow, ListedJoint};

#[derive(Serialize)]
struct ListsTree<'a> {
    format: u32,
    slot: &'a str,
    lists: Vec<ListJson<'a>>,
    rows: Vec<RowJson<'a>>,
    open: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    unreadable: Vec<UnreadableJson<'a>>,
}

#[derive(Serialize)]
struct UnreadableJson<'a> {
    name: &'a str,
    file: &'a str,
    why: &'a str,
}

#[derive(Serialize)]
struct ListJson<'a> {
    name: &'a str,
    file: &'a str,
    joints: usize,
    string_length_m: Number,
}

#[derive(Serialize)]
struct RowJson<'a> {
    joint: &'a str,
    serial: Option<&'a str>,
    r#in: Vec<InJson<'a>>,
    length: FigureJson<'a>,
    makeup_loss: FigureJson<'a>,
    presence: PresenceJson<'a>,
    place: PlaceJson<'a>,
}

#[derive(Serialize)]
struct InJson<'a> {
    list: &'a str,
    joint: &'a str,
    line: u32,
    place: usize,
    length_m: Option<Number>,
    makeup_loss_m: Option<Number>,
}

#[derive(Serialize)]
struct FigureJson<'a> {
    state: &'static str,
    stands_m: Option<Number>,
    from: Vec<&'a str>,
    why: Option<String>,
}

#[derive(Serialize)]
struct PresenceJson<'a> {
    state: &'static str,
    stands: bool,
    from: Vec<&'a str>,
    why: Option<String>,
}

#[derive(Serialize)]
struct PlaceJson<'a> {
    state: &'static str,
    stands: Option<usize>,
    above: Option<&'a str>,
    from: Vec<&'a str>,
    why: Option<String>,
}

/// All lists of a slot's string, row by row.
pub fn lists(slot: &str, all: &SlotLists, show: LengthFormat) -> Result<String, serde_json::Error> {
    let lists = all.names.iter().zip(&all.files);
    let totals = all.lists.joints.iter().zip(&all.lists.lengths);
    pretty(&ListsTree {
        format: FORMAT,
        slot,
        lists: lists
            .zip(totals)
            .map(|((name, file), (joints, length))| ListJson {
                name,
                file,
                joints: *joints,
                string_length_m: Number::metres(*length),
            })
            .collect(),
        rows: all.lists.rows.iter().map(|it| row(all, it, show)).collect(),
        open: all.lists.open,
        unreadable: all
            .unreadable
            .iter()
            .map(|(name, file, why)| UnreadableJson { name, file, why })
            .collect(),
    })
}

fn row<'a>(all: &'a SlotLists, of: &'a ListRow, show: LengthFormat) -> RowJson<'a> {
    let presence = &of.presence;
    let place = &of.place;
    let above = place.stands.and_then(|it| it.above);
    RowJson {
        joint: &of.joint,
        serial: of.serial.as_deref(),
        r#in: of.listed.iter().map(|it| listed(all, it)).collect(),
        length: figure(all, &of.length, words::why(all, of, Topic::Length, show)),
        makeup_loss: figure(all, &of.loss, words::why(all, of, Topic::MakeupLoss, show)),
        presence: PresenceJson {
            state: presence.state.word(),
            stands: presence.stands.unwrap_or_default(),
            from: from(all, presence),
            why: words::why(all, of, Topic::Presence, show),
        },
        place: PlaceJson {
            state: place.state.word(),
            stands: place.stands.map(|it| it.place),
            above: above.and_then(|row| Some(all.lists.rows.get(row)?.joint.as_str())),
            from: from(all, place),
            why: words::why(all, of, Topic::Place, show),
        },
    }
}

fn listed<'a>(all: &'a SlotLists, it: &'a ListedJoint) -> InJson<'a> {
    InJson {
        list: all.name(it.list),
        joint: &it.number,
        line: it.line,
        place: it.place,
        length_m: it.length.map(Number::metres),
        makeup_loss_m: it.loss.map(Number::metres),
    }
}

fn from<'a, T>(all: &'a SlotLists, agreement: &Agreement<T>) -> Vec<&'a str> {
    let lists = agreement.from.iter();
    lists.map(|list| all.name(*list)).collect()
}

fn figure<'a>(
    all: &'a SlotLists,
    agreement: &Agreement<Length>,
    why: Option<String>,
) -> FigureJson<'a> {
    FigureJson {
        state: agreement.state.word(),
        stands_m: agreement.stands.map(Number::metres),
        from: from(all, agreement),
        why,
    }
}
