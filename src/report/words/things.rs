//! Words of one thing of a joint in the lists of its string: for the cells of a table, and for the lines beside it.

use super::many::{decided_by, reasons, stands};
use crate::figures::SlotLists;
use crate::job::MEASURED;
use crate::measure::{Excerpt, Length, LengthFormat};
use crate::reconcile::Topic;
use crate::reconcile::many::{Choice, ListChoice, ListRow, State};
use crate::report::said::ThingName;

/// What of a joint, as a label under its number.
pub const fn thing_label(of: Topic) -> &'static str {
    match of {
        Topic::Length => "length",
        Topic::MakeupLoss => "loss",
        Topic::Presence => "in string",
        Topic::Place => "stands on",
        Topic::Number => "number",
    }
}

/// `length of joint D-04, serial D4131`.
pub fn thing_title(row: &ListRow, of: Topic) -> String {
    let serial = row.serial.as_ref();
    let serial = serial.map_or_else(String::new, |it| format!(", serial {}", Excerpt::of(it)));
    format!("{} of joint {}{serial}", of.name(), Excerpt::of(&row.joint))
}

/// What a list says, without a unit: effective lengths in brackets, `-` where it does not have the joint.
pub fn thing_cell(
    all: &SlotLists,
    row: &ListRow,
    of: Topic,
    list: usize,
    show: LengthFormat,
) -> String {
    let none = || "-".to_owned();
    let listed = row.listed_in(list);
    if of == Topic::Presence {
        return if listed.is_some() { "yes" } else { "no" }.to_owned();
    }
    let Some(listed) = listed else {
        return none();
    };
    let number = |it: Option<Length>| it.map(|it| show.number(it));
    match of {
        Topic::Length => {
            let effective = || Some(format!("({})", show.number(listed.effective?)));
            number(listed.length)
                .or_else(effective)
                .unwrap_or_else(none)
        }
        Topic::MakeupLoss => number(listed.loss).unwrap_or_else(none),
        Topic::Presence => none(),
        Topic::Place => below(all, listed.above),
        Topic::Number => listed.number.clone(),
    }
}

/// The joint below, as in a cell.
fn below(all: &SlotLists, row: Option<usize>) -> String {
    let row = row.and_then(|row| all.lists.rows.get(row));
    row.map_or_else(|| "shoe".to_owned(), |row| row.joint.clone())
}

/// What stands, as in a cell.
pub fn thing_stands(all: &SlotLists, row: &ListRow, of: Topic, show: LengthFormat) -> String {
    let number = |it: Option<Length>| it.map_or_else(|| "-".to_owned(), |it| show.number(it));
    match of {
        Topic::Length => match (row.length.stands, row.length.from.first()) {
            (None, Some(list)) => thing_cell(all, row, of, *list, show),
            (stands, _) => number(stands),
        },
        Topic::MakeupLoss => number(row.loss.stands),
        Topic::Presence => {
            let is_in = row.presence.stands == Some(true);
            if is_in { "yes" } else { "no" }.to_owned()
        }
        Topic::Place => below(all, row.place.stands.and_then(|it| it.above)),
        Topic::Number => row.true_number().to_owned(),
    }
}

fn chosen(choice: &Choice) -> &str {
    match choice {
        Choice::List(name) => name,
        Choice::Measured(_) => MEASURED,
    }
}

/// How far lists agree, in a few words.
pub fn thing_agreement(all: &SlotLists, row: &ListRow, of: Topic) -> String {
    let by = row.decided_by(of);
    match row.state(of) {
        State::Agreed => "all agree".to_owned(),
        State::Majority => {
            let against: Vec<&str> = row.against(of).iter().map(|it| all.name(it.list)).collect();
            format!("most, not {}", against.join(", "))
        }
        State::Open => "open".to_owned(),
        State::Decided => {
            let who: Vec<&str> = by.iter().map(|it| it.by.as_str()).collect();
            let choice = by.last().map_or("", |it| chosen(&it.choice));
            format!("{choice}: {}", who.join(", "))
        }
        State::Conflict => {
            let who: Vec<String> = by
                .iter()
                .map(|it| format!("{}: {}", it.by, chosen(&it.choice)))
                .collect();
            format!("CONTRADICT {}", who.join(", "))
        }
    }
}

/// How far lists agree and what stands, in a sentence; then what speaks against it.
pub fn thing_state(all: &SlotLists, row: &ListRow, of: Topic, show: LengthFormat) -> Vec<String> {
    let stands = stands(all, row, of, show);
    let from: Vec<&str> = row.from(of).iter().map(|it| all.name(*it)).collect();
    let from = from.join(", ");
    let first = match row.state(of) {
        State::Agreed => format!("all lists agree: {stands}"),
        State::Majority => format!("most lists agree: {stands} by {from}"),
        State::Open => format!("open: {stands} by {from} applies until it is decided"),
        State::Decided => format!("decided: {stands}"),
        State::Conflict => {
            "decisions contradict each other: no tally of record is written".to_owned()
        }
    };
    let mut lines = vec![first];
    lines.extend(reasons(all, row, of, show));
    lines
}

/// A decision that another one overrides.
pub fn overridden(by: &ListChoice, show: LengthFormat) -> String {
    let what = match &by.choice {
        Choice::List(name) => format!("chose {name}"),
        Choice::Measured(length) => format!("MEASURED IT AGAIN: {}", show.text(*length)),
    };
    format!("{} {what} ({})", by.by, decided_by(by))
}

/// The counts over the table of a slot's lists.
pub fn lists_heading(all: &SlotLists) -> [(String, bool); 3] {
    let count = |wanted: &[State]| {
        let rows = all.lists.rows.iter();
        rows.flat_map(|row| Topic::ALL.map(|of| row.state(of)))
            .filter(|state| wanted.contains(state))
            .count()
    };
    let open = count(&[State::Open, State::Conflict]);
    [
        (format!("open {open}"), open > 0),
        (format!("decided {}", count(&[State::Decided])), false),
        (format!("most agree {}", count(&[State::Majority])), false),
    ]
}

/// The heading of how far lists agree, with how many lists are out of sight.
pub fn agreement_heading(hidden: usize) -> String {
    match hidden {
        0 => "agreement".to_owned(),
        1 => "agreement (1 list more)".to_owned(),
        more => format!("agreement ({more} lists more)"),
    }
}

/// That no joint is shown, because none differs.
pub const ALL_AGREE: &str = "All lists agree on every joint.";

/// The same of one joint.
pub const ALL_AGREE_ON_IT: &str = "All lists agree on this joint.";

/// That a list does not have a joint.
pub const NOT_LISTED: &str = "not in this list";

/// That taking what the tally of record says moves nothing in use.
pub const AS_IT_IS: &str = "as it is in use";

/// Before what taking a list would move.
pub fn if_taken(list: &str) -> String {
    format!("t takes {list}: ")
}

/// What else differs between a list and the tally of record.
pub fn also(list: &str, note: &str) -> String {
    format!("{list}: also: {note}")
}

/// What a list says of a thing, with its line.
pub fn thing_line(
    all: &SlotLists,
    row: &ListRow,
    of: Topic,
    list: usize,
    show: LengthFormat,
) -> String {
    match row.listed_in(list) {
        None => NOT_LISTED.to_owned(),
        Some(listed) if of == Topic::Presence => format!("line {}", listed.line),
        Some(listed) => format!(
            "{}, line {}",
            thing_cell(all, row, of, list, show),
            listed.line
        ),
    }
}

/// Over all that is decided.
pub const DECIDED_SO_FAR: &str = "Decided so far";

/// That nothing is.
pub const NOTHING_DECIDED: &str = "nothing yet";

/// One decision.
pub fn decided_line(row: &ListRow, of: Topic, by: &ListChoice, show: LengthFormat) -> String {
    let choice = match &by.choice {
        Choice::List(name) => name.clone(),
        Choice::Measured(length) => format!("measured, {}", show.text(*length)),
    };
    format!(
        "{} of {}: {choice} ({})",
        of.name(),
        Excerpt::of(&row.joint),
        decided_by(by)
    )
}

/// Over what is about to be decided.
pub fn deciding_heading(person: &str) -> String {
    format!("TO BE DECIDED BY {person}: nothing is written yet")
}

/// A decision that is about to be taken back.
pub fn taking_back(seq: u64, of: &ThingName, choice: &str) -> String {
    format!(
        "Entry {seq} is struck: the {} of joint {}, {choice}. It stays in the record, and has no effect.",
        of.of.name(),
        Excerpt::of(&of.joint)
    )
}

/// Before the reason that is typed.
pub const fn why_asked(is_needed: bool) -> &'static str {
    if is_needed {
        "why, and how it was measured (needed): "
    } else {
        "why (may be blank): "
    }
}

/// What Enter and Esc do.
pub const ENTER_WRITES: &str = "Enter writes it, Esc does not";

/// What a decision sets open again.
pub const fn set_open() -> &'static str {
    "open again, for everyone"
}

/// What is chosen, by a list.
pub fn chosen_list(list: &str, said: &str) -> String {
    format!("what {list} says: {said}")
}

/// What is chosen, by a value that was measured again.
pub fn chosen_measured(length: Length, show: LengthFormat) -> String {
    format!("measured again: {}", show.text(length))
}

/// Before what is chosen.
pub const DECIDED_THEN: &str = "then   ";

/// Before what it moves.
pub const MOVES_THEN: &str = "against the tally in use: ";

/// That a choice overrides others, and what follows.
pub const fn overriding(contradicts: bool) -> &'static str {
    if contradicts {
        "This decides otherwise: two decisions that contradict each other stop the slot until one gives way. Say why."
    } else {
        "This overrides it. Say why."
    }
}

/// How many things are decided at once.
pub fn things_decided(count: usize) -> String {
    format!("{count} things are decided, each by an entry of its own:")
}

/// One of them: the joint, what of it, and the list.
pub fn thing_by(row: &ListRow, of: Topic, cell: &str, list: &str) -> String {
    let joint = Excerpt::of(&row.joint);
    match of {
        Topic::Length => format!("{joint} {cell} {list}"),
        of => format!("{joint} {} {cell} {list}", thing_label(of)),
    }
}

/// How many figures stand as another list writes them, finer than the tally of record.
pub fn rounded(count: usize) -> String {
    format!("{count} figures stand as another list writes them finer (d keeps the record's)")
}

/// A tally of record that is about to be adopted.
pub fn adopting(file: &str, open: usize) -> String {
    let open = match open {
        0 => "what nobody decided stands as most lists have it".to_owned(),
        1 => "one thing is not decided".to_owned(),
        open => format!("{open} things are not decided"),
    };
    format!("{file} becomes the tally of record; {open}")
}

/// What becomes of every figure then.
pub const FROM_THEN_ON: &str =
    "Every figure of the slot rests on it from then on; what was signed may lapse.";
