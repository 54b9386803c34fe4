//! Words of the lists of one string side by side.

use super::lists::effects;
use super::reconcile::mistake;
use crate::figures::{SlotLists, Trial};
use crate::job::Job;
use crate::measure::{Excerpt, LengthFormat, visible};
use crate::reconcile::many::{
    Against, Choice, ListChoice, ListRow, ListedJoint, RecordJoint, State, ValueSource, Why,
};
use crate::reconcile::{ReadingMistake, Topic};
use crate::report::NoRecord;
use crate::tally::{BETWEEN_PARTS, DECIDED_BY};

/// What the bridge of a workbook leads to.
pub const THIS_RECORD: &str = "this record";

/// Where a value comes from that no list gives.
pub const MEASURED_AGAIN: &str = "measured again";

/// Why no tally of record is made.
pub fn no_record(why: &NoRecord) -> String {
    const BACK: &str = "the tally of record could not be read back, so it is not written";
    match why {
        NoRecord::Unreadable(problems) => {
            let problems: Vec<String> = problems.iter().map(ToString::to_string).collect();
            format!("{BACK}: {}", problems.join("; "))
        }
        NoRecord::ReadsOtherwise => {
            format!("{BACK}: it reads to other figures than it was made of")
        }
        NoRecord::Workbook(error) => format!("the workbook could not be made: {error}"),
    }
}

/// Whether a joint is in the string.
pub const fn presence(is_in: bool) -> &'static str {
    if is_in {
        "in the string"
    } else {
        "not in the string"
    }
}

/// Where a joint is: above the joint of a row, or at the shoe.
pub fn above(all: &SlotLists, row: Option<usize>) -> String {
    let row = row.and_then(|row| all.lists.rows.get(row));
    row.map_or_else(
        || "at the shoe".to_owned(),
        |row| format!("above {}", Excerpt::of(&row.joint)),
    )
}

/// How many joints all lists agree on.
pub fn rows_agree(same: usize, other: usize) -> String {
    format!("joints on which all lists agree: {same}; on which they do not: {other}")
}

/// A joint on which lists do not agree: its names, and each thing with what stands and why.
pub fn list_row(all: &SlotLists, row: &ListRow, show: LengthFormat) -> Vec<String> {
    let serial = row.serial.as_ref();
    let serial = serial.map_or_else(String::new, |it| format!(", serial {}", Excerpt::of(it)));
    let mut lines = vec![format!("joint {}{serial}", Excerpt::of(&row.joint))];
    let things = Topic::ALL.into_iter();
    for of in things.filter(|of| row.state(*of) != State::Agreed) {
        let from: Vec<&str> = row.from(of).iter().map(|list| all.name(*list)).collect();
        let from = if from.is_empty() {
            String::new()
        } else {
            format!(" by {}", from.join(", "))
        };
        let why = why(all, row, of, show).map_or_else(String::new, |why| format!("; {why}"));
        let asks = of == Topic::Number && row.state(of) == State::Open;
        lines.push(format!(
            "  {}: {}: {}{from}{why}{}",
            of.name(),
            row.state(of).word(),
            stands(all, row, of, show),
            if asks { ": which is true?" } else { "" }
        ));
    }
    lines
}

/// What stands of a thing, in full.
pub fn stands(all: &SlotLists, row: &ListRow, of: Topic, show: LengthFormat) -> String {
    let nothing = || "nothing".to_owned();
    match of {
        Topic::Length => {
            let effective = || row.length_of().and_then(|it| length_said(it, show));
            let stands = row.length.stands.map(|it| show.text(it));
            stands.or_else(effective).unwrap_or_else(nothing)
        }
        Topic::MakeupLoss => row.loss.stands.map_or_else(nothing, |it| show.small(it)),
        Topic::Presence => presence(row.presence.stands == Some(true)).to_owned(),
        Topic::Place => above(all, row.place.stands.and_then(|it| it.above)),
        Topic::Number => Excerpt::of(row.true_number()).to_string(),
    }
}

/// A list that cannot be read.
pub fn list_not_read(name: &str, file: &str, reason: &str) -> String {
    format!("{name}: {}: CANNOT BE READ: {reason}", visible(file))
}

/// That no other list can be read, so that nothing is compared.
pub const ONE_LIST: &str = "only one list can be read: nothing is compared";

/// That no serial of a list is in the tally of record.
pub fn serials_apart(list: &str) -> String {
    format!(
        "no serial of {list} is in the tally of record: another string, or serials of another kind"
    )
}

/// A joint that is not in a record, with who decided that, when and why.
pub fn without_joint(row: &ListRow) -> String {
    let serial = row.serial.as_ref();
    let serial = serial.map_or_else(String::new, |it| format!(", serial {}", Excerpt::of(it)));
    let mut parts = vec![format!("without {}{serial}", Excerpt::of(&row.joint))];
    let by = row.presence.by.iter();
    parts.extend(by.map(|by| reason(Topic::Presence, by)));
    parts.join(BETWEEN_PARTS)
}

/// A reason as a reader tells it from what a list says of a joint.
fn reason(of: Topic, by: &ListChoice) -> String {
    format!("{}: {}", of.name(), decided_by(by).replace(';', ","))
}

/// That a list numbers joints its own way, so that nobody is asked which number is true.
pub fn numbers_apart(list: &str) -> String {
    format!("{list} numbers joints its own way; they are told by serial and place")
}

/// Who decided a thing, and which lists say something else, each with its likely reason; nothing where all agree.
pub fn reasons(all: &SlotLists, row: &ListRow, of: Topic, show: LengthFormat) -> Vec<String> {
    if row.state(of) == State::Agreed {
        return Vec::new();
    }
    let by = row.decided_by(of).iter().map(decided_by);
    let against = row.against(of).iter().filter_map(|it| {
        let said = says(all, row, of, it.list, show)?;
        Some(format!("{} {said}{}", all.name(it.list), cause(it)))
    });
    by.chain(against).collect()
}

/// The same in one line.
pub fn why(all: &SlotLists, row: &ListRow, of: Topic, show: LengthFormat) -> Option<String> {
    let parts = reasons(all, row, of, show);
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// The length that a list gives, an effective one called so.
fn length_said(listed: &ListedJoint, show: LengthFormat) -> Option<String> {
    let effective = || Some(format!("{} effective", show.text(listed.effective?)));
    listed.length.map(|it| show.text(it)).or_else(effective)
}

/// What a list says of a thing; `None` where it says nothing.
fn says(
    all: &SlotLists,
    row: &ListRow,
    of: Topic,
    list: usize,
    show: LengthFormat,
) -> Option<String> {
    let listed = row.listed_in(list);
    Some(match of {
        Topic::Length => length_said(listed?, show)?,
        Topic::MakeupLoss => show.small(listed?.loss?),
        Topic::Presence => if listed.is_some() {
            "has it"
        } else {
            "has it not"
        }
        .to_owned(),
        Topic::Place => format!("has it {}", above(all, listed?.above)),
        Topic::Number => format!("has it as {}", Excerpt::of(&listed?.number)),
    })
}

/// What would move by each choice of a thing of a joint, against what the tally of record says of it: the lists that
/// say something else, and what.
pub fn choices(
    all: &SlotLists,
    trial: &Trial<'_>,
    (row, of): (usize, Topic),
    (job, show): (&Job, LengthFormat),
) -> Vec<String> {
    let mut found: Vec<(Vec<&str>, String)> = Vec::new();
    for name in all.names.iter().skip(1) {
        let moved = trial.if_chosen([(row, of, Choice::List(name.clone()))]);
        if moved.is_empty() {
            continue;
        }
        let text = effects(&moved, job, show);
        match found.iter_mut().find(|(_, known)| *known == text) {
            Some((names, _)) => names.push(name),
            None => found.push((vec![name], text)),
        }
    }
    let lines = found.into_iter();
    lines
        .map(|(names, text)| format!("by {}: {text}", names.join(" or ")))
        .collect()
}

/// Who decided, when and why.
pub fn decided_by(choice: &ListChoice) -> String {
    let at = if choice.at.is_empty() {
        String::new()
    } else {
        format!(" at {}", choice.at)
    };
    let note = if choice.note.is_empty() {
        String::new()
    } else {
        format!(": {}", choice.note)
    };
    format!("{DECIDED_BY}{}{at}{note}", choice.by)
}

/// The lists that the values of a joint of record come from.
pub fn values_from(all: &SlotLists, of: &RecordJoint) -> String {
    let value = |it: &ValueSource| {
        let from: Vec<&str> = it.from.iter().map(|list| all.name(*list)).collect();
        let from = if from.is_empty() {
            MEASURED_AGAIN.to_owned()
        } else {
            from.join(" and ")
        };
        format!("{}: {} ({})", it.topic.name(), from, it.state.word())
    };
    let is_plain = |it: &&ValueSource| it.state == State::Agreed;
    let first = of.sources.first().filter(is_plain);
    // Where all lists agree on everything their names say it.
    if let Some(first) = first
        && of
            .sources
            .iter()
            .all(|it| is_plain(&it) && it.from == first.from)
    {
        let from: Vec<&str> = first.from.iter().map(|list| all.name(*list)).collect();
        return from.join(" and ");
    }
    let values: Vec<String> = of.sources.iter().map(value).collect();
    values.join("; ")
}

/// The remarks of a joint of record, with its other names and with what was decided of it, by whom, when and why.
pub fn with_reasons(all: &SlotLists, of: &RecordJoint, kept: &str) -> String {
    let mut parts: Vec<String> = Vec::new();
    parts.extend((!kept.is_empty()).then(|| kept.to_owned()));
    let names = of.other_names.iter();
    let names = names.map(|(list, name)| format!("called {name} in {}", all.name(*list)));
    // A record that was made of this one has them already.
    parts.extend(names.filter(|it| !kept.contains(it)));
    let numbered = of.named_by.iter().map(|by| (Topic::Number, by));
    let others = of.sources.iter();
    let others = others.flat_map(|it| it.by.iter().map(|by| (it.topic, by)));
    for (of, by) in numbered.chain(others) {
        let part = reason(of, by);
        if !kept.contains(&part) {
            parts.push(part);
        }
    }
    parts.join(BETWEEN_PARTS)
}

/// What a record of all lists was made of.
pub fn made_of_lists(version: &str, all: &SlotLists) -> String {
    let lists = all.names.iter().zip(&all.files);
    let lists: Vec<String> = lists
        .map(|(name, file)| format!("{} ({})", visible(name), visible(file)))
        .collect();
    format!(
        "tally of record made by kerfmark {version} of {}",
        lists.join(", ")
    )
}

/// Things on which decisions contradict each other.
pub fn contradicting(things: &[(String, Topic)]) -> String {
    let things: Vec<String> = things
        .iter()
        .map(|(joint, topic)| format!("the {} of joint {}", topic.name(), Excerpt::of(joint)))
        .collect();
    format!(
        "decisions contradict each other: {}; no tally of record is written",
        things.join(", ")
    )
}

/// The likely reason of a list that does not agree.
fn cause(against: &Against) -> String {
    match &against.why {
        Why::Mistakes(mistakes) => {
            let causes: Vec<String> = mistakes
                .iter()
                .map(|it| match it {
                    ReadingMistake::Written(made) => mistake(*made).to_owned(),
                    ReadingMistake::LossTakenOff => {
                        "the make-up loss is taken off already".to_owned()
                    }
                })
                .collect();
            format!(" (possible cause: {})", causes.join(", or "))
        }
        Why::Straps => " (two straps of one joint may differ so)".to_owned(),
        Why::Unknown => String::new(),
    }
}
