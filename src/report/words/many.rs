//! Words of the lists of one string side by side.

use super::reconcile::mistake;
use crate::figures::SlotLists;
use crate::measure::{Excerpt, Length, LengthFormat};
use crate::reconcile::many::{
    Against, Agreement, ListChoice, ListRow, RecordJoint, State, ValueSource, Why,
};
use crate::reconcile::{ReadingMistake, Topic};

/// A record that reads to other figures than it was made of.
pub const READS_OTHERWISE: &str = "it reads to other figures than it was made of";

/// How many joints all lists agree on.
pub fn rows_agree(same: usize, other: usize) -> String {
    format!("joints on which all lists agree: {same}; on which they do not: {other}")
}

/// A joint on which lists do not agree: its names, and each thing with what stands and why.
pub fn list_row(all: &SlotLists, row: &ListRow, show: LengthFormat) -> Vec<String> {
    let serial = row.serial.as_ref();
    let serial = serial.map_or_else(String::new, |it| format!(", serial {}", Excerpt::of(it)));
    let mut lines = vec![format!("joint {}{serial}", Excerpt::of(&row.joint))];
    for (list, name) in row.other_names() {
        lines.push(format!(
            "  it is {} in {}: which name is true?",
            Excerpt::of(name),
            all.name(list)
        ));
    }
    let figure = |what: &str, of: &Agreement<Length>, why: Option<String>| {
        let stands = of
            .stands
            .map_or_else(|| "nothing".to_owned(), |it| show.text(it));
        (of.state != State::Agreed).then(|| line(all, what, of, &stands, why))
    };
    lines.extend(figure("length", &row.length, length_why(all, row, show)));
    lines.extend(figure("makeup-loss", &row.loss, loss_why(all, row, show)));
    if row.presence.state != State::Agreed {
        let stands = if row.presence.stands == Some(true) {
            "in the string"
        } else {
            "not in the string"
        };
        let why = presence_why(all, row);
        lines.push(line(all, "presence", &row.presence, stands, why));
    }
    if row.place.state != State::Agreed {
        let above = row.place.stands.and_then(|it| it.above);
        let above = above.and_then(|above| all.lists.rows.get(above));
        let stands = above.map_or_else(
            || "at the shoe".to_owned(),
            |row| format!("above {}", Excerpt::of(&row.joint)),
        );
        lines.push(line(all, "place", &row.place, &stands, place_why(all, row)));
    }
    lines
}

fn line<T>(
    all: &SlotLists,
    what: &str,
    of: &Agreement<T>,
    stands: &str,
    why: Option<String>,
) -> String {
    let from: Vec<&str> = of.from.iter().map(|list| all.name(*list)).collect();
    let from = if from.is_empty() {
        String::new()
    } else {
        format!(" by {}", from.join(", "))
    };
    let why = why.map_or_else(String::new, |why| format!("; {why}"));
    format!("  {what}: {}: {stands}{from}{why}", of.state.word())
}

/// Why a length does not agree, or who decided it; `None` where all lists agree.
pub fn length_why(all: &SlotLists, row: &ListRow, show: LengthFormat) -> Option<String> {
    why(all, &row.length, |list| {
        let listed = row.listed_in(list)?;
        Some(
            listed
                .length
                .map_or_else(|| "an effective length".to_owned(), |it| show.text(it)),
        )
    })
}

/// The same of a make-up loss.
pub fn loss_why(all: &SlotLists, row: &ListRow, show: LengthFormat) -> Option<String> {
    why(all, &row.loss, |list| {
        Some(show.small(row.listed_in(list)?.loss?))
    })
}

/// The same of whether a joint is in the string.
pub fn presence_why(all: &SlotLists, row: &ListRow) -> Option<String> {
    why(all, &row.presence, |list| {
        let has = row.listed_in(list).is_some();
        Some(if has { "has it" } else { "has it not" }.to_owned())
    })
}

/// The same of its place.
pub fn place_why(all: &SlotLists, row: &ListRow) -> Option<String> {
    why(all, &row.place, |list| {
        let place = row.listed_in(list)?.place;
        Some(format!("number {place} from the shoe"))
    })
}

fn why<T>(
    all: &SlotLists,
    of: &Agreement<T>,
    says: impl Fn(usize) -> Option<String>,
) -> Option<String> {
    if of.state == State::Agreed {
        return None;
    }
    let by: Vec<String> = of.by.iter().map(decided_by).collect();
    let against = of.against.iter().filter_map(|it| {
        let said = says(it.list)?;
        Some(format!("{} {said}{}", all.name(it.list), cause(it)))
    });
    let parts: Vec<String> = by.into_iter().chain(against).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
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
    format!("decided by {}{at}{note}", choice.by)
}

/// The lists that the values of a joint of record come from.
pub fn values_from(all: &SlotLists, of: &RecordJoint) -> String {
    let value = |it: &ValueSource| {
        let from: Vec<&str> = it.from.iter().map(|list| all.name(*list)).collect();
        let from = if from.is_empty() {
            "measured again".to_owned()
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
    for (list, name) in &of.other_names {
        parts.push(format!("called {name} in {}", all.name(*list)));
    }
    for it in &of.sources {
        for by in &it.by {
            parts.push(format!("{}: {}", it.topic.name(), decided_by(by)));
        }
    }
    parts.join("; ")
}

/// What a record of all lists was made of.
pub fn made_of_lists(version: &str, all: &SlotLists) -> String {
    let lists = all.names.iter().zip(&all.files);
    let lists: Vec<String> = lists
        .map(|(name, file)| format!("{name} ({file})"))
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
