//! Words of forms and of the record: labels of fields, what an entry says, how a reading compares.

use super::places::side_of_surface;
use crate::figures::{Doubt, Expected, ExpectedOf, HookLoad, Misclosure, MisclosureOf};
use crate::journal::{AsCutReadings, Entry, Event, Moment};
use crate::measure::{Excerpt, Length, LengthFormat};

/// The label of a field.
pub fn field_label(key: &str) -> &str {
    match key {
        "by" => "entered by",
        "joint" => "joint number",
        "before" => "stick-up before",
        "after" => "stick-up after",
        "gap" => "gap left",
        "hull" => "hull position",
        "rotary" => "RT, elevation",
        "value" => "reading",
        "how" => "how it was found",
        "why" => "why",
        "base_above_mudline" => "base above mudline",
        "checked_by" => "checked by",
        "confirmed_by" => "confirmed by",
        "from" => "measured from",
        "distance" => "distance",
        "offset" => "blade above line",
        "reference" => "height reference",
        "setup" => "set-up",
        "due" => "calibration good to",
        "until" => "not slacked off till",
        "at" => "22:10, if not now",
        "source" => "first on paper",
        "strikes" => "entry to strike",
        "sha256" => "SHA-256 of the file",
        "cut" => "which cut",
        "to" => "to",
        "rise" => "to above from",
        "sigma" => "standard deviation",
        "text" => "text",
        other => other,
    }
}

/// The heading of a group of fields.
pub fn group_label(list: &str, group: usize) -> String {
    let name = match list {
        "marks" => "Mark",
        "slots" => "Slot",
        _ => "Reading",
    };
    format!("{name} {}", group + 1)
}

/// Who measured from a mark.
pub const MEASURED_BY: &str = "measured by";

/// Above the fields: the keys, and the unit of numbers without one.
pub fn fill(unit: &str) -> String {
    format!("Up, Down: field   Left, Right: choose   Enter: go on   Esc: leave   in {unit}")
}
/// Above what is shown once more.
pub const CONFIRM: &str = "Enter writes it to the journal. Esc goes back to change it.";
/// Above a reading that is typed again.
pub const AGAIN: &str =
    "This reading is far from what is expected. Read it again and type it again.";
/// A mark that the one who measures the second must not see.
pub const HIDDEN: &str = "(hidden until the other mark is measured)";

/// A length as it will be entered; a stick-up with its surface and side in words.
pub fn echo(length: Length, surface: Option<&str>, show: LengthFormat) -> String {
    let [one, other] = super::both(show, length.abs());
    let sign = if length.is_negative() { "-" } else { "" };
    match surface {
        Some(surface) => format!("{one} ({other}) {} {surface}", side_of_surface(length)),
        None => format!("{sign}{one} ({sign}{other})"),
    }
}

/// How a reading compares with what is expected.
pub fn compares(it: &Expected, show: LengthFormat) -> String {
    let what = match &it.of {
        ExpectedOf::StickUpAfter => "stick-up before and effective length make".to_owned(),
        ExpectedOf::StickUpPlanned => "the plan makes".to_owned(),
        ExpectedOf::StickUpRead => "the reading in force makes".to_owned(),
        ExpectedOf::Rotary => "job.toml states".to_owned(),
        ExpectedOf::Mark(mark) => format!("from {mark} the target is"),
        ExpectedOf::Target => "the target is".to_owned(),
        ExpectedOf::Rise => "the readings so far make".to_owned(),
    };
    let far = if it.is_far() { "  FAR OFF" } else { "" };
    format!(
        "{what} {}: read {}, {} off{far}",
        show.text(it.expected),
        show.text(it.found),
        show.difference(it.off())
    )
}

/// Nothing is entered.
pub const NO_ENTRIES: &str = "No entries yet: e enters one.";

/// What an entry says, in a line: the event's own keys as they were written.
pub fn entry(entry: &Entry) -> String {
    let said = |length: &Option<Length>| {
        length.map_or_else(String::new, |it| format!(" {} m", metres(it)))
    };
    match &entry.event {
        Event::JointRun(run) => {
            let serial = run
                .serial
                .as_ref()
                .map_or(String::new(), |it| format!(" ({it})"));
            let after = run.after.map_or_else(String::new, |_| {
                format!(", before{} after{}", said(&run.before), said(&run.after))
            });
            let remarks = run
                .remarks
                .as_ref()
                .map_or(String::new(), |it| format!(", {it}"));
            format!("{}{serial}{after}{remarks}", run.joint)
        }
        Event::JointPulled { joint, why, .. } => format!("{joint}: {why}"),
        Event::StickUp(read) => format!(
            "{} m, {} at {}",
            metres(read.value),
            read.state.word(),
            read.hull
        ),
        Event::HullPosition { hull, rotary, how } => {
            format!("{hull}: RT {} m, {how}", metres(rotary.height()))
        }
        Event::HullMoving { why } => why.clone(),
        Event::Cropped { length, why, .. } => format!("{} m: {why}", metres(*length)),
        Event::Scribe(scribe) => {
            let marks: Vec<String> = scribe
                .marks
                .iter()
                .map(|it| format!("{} {} m by {}", it.from, metres(it.distance), it.by))
                .collect();
            format!("{}; checked by {}", marks.join(", "), scribe.checked_by)
        }
        Event::CutterSet {
            readings,
            checked_by,
            ..
        } => {
            let all: Vec<String> = readings
                .iter()
                .map(|it| format!("{} m{}", metres(it.value), azimuth(it.azimuth)))
                .collect();
            format!("{}; checked by {checked_by}", all.join(", "))
        }
        Event::CutMade { is_final, .. } => if *is_final { "final" } else { "rough" }.to_owned(),
        Event::AsCut(read) => as_cut(read),
        Event::Instrument { id, what, due, .. } => format!("{id}: {what}, good to {due}"),
        Event::Waiver { flag, why, .. } => format!("{flag}: {why}"),
        Event::Placed { what, until, .. } => format!("{what}, not slacked off till {until}"),
        Event::HookLoad { kilograms, .. } => format!("{:.1} t", kilograms / 1000.0),
        Event::Decision {
            of,
            joint,
            choice,
            value,
            note,
            ..
        } => {
            let value = said(value);
            let note = note
                .as_ref()
                .map_or_else(String::new, |it| format!(": {it}"));
            format!("the {of} of {joint}: {choice}{value}{note}")
        }
        Event::Note { text } => text.clone(),
        Event::Handover {
            text,
            to,
            open,
            confirmed_by,
        } => {
            let open = open.as_ref().map_or("nothing", |open| open);
            let confirmed = match confirmed_by {
                Some(who) => format!("confirmed by {who}"),
                None => format!("NOT CONFIRMED by {to}"),
            };
            format!("to {to}: {text}; {confirmed}; open: {open}")
        }
        Event::Strike { strikes, why } => format!("entry {strikes}: {why}"),
        Event::HoldSigned(signed) => {
            let paper = if signed.on_paper { ", on paper" } else { "" };
            format!(
                "{} as {} by {}{paper}",
                signed.hold.name(),
                signed.role.name(),
                signed.name
            )
        }
        _ => entry.own.replace('"', ""),
    }
}

/// Readings round a finished top.
fn as_cut(read: &AsCutReadings) -> String {
    let all: Vec<String> = read
        .readings
        .iter()
        .map(|it| format!("{}{}", metres(it.value.height()), azimuth(it.azimuth)))
        .collect();
    let surveyor = read.surveyor.as_ref();
    let surveyor = surveyor.map_or_else(String::new, |who| format!(", surveyed by {who}"));
    format!(
        "{} m with {} from {}{surveyor}",
        all.join(", "),
        read.instrument,
        read.reference
    )
}

/// Exact metres with three decimals at least.
fn metres(length: Length) -> String {
    let exact = length.exact_metres();
    let (whole, decimals) = exact.split_once('.').unwrap_or((&exact, ""));
    format!("{whole}.{decimals:0<3}")
}

/// Where on a rim something was read.
fn azimuth(degrees: Option<f64>) -> String {
    degrees.map_or_else(String::new, |it| format!(" at {it} deg"))
}

/// That an entry has no effect any more.
pub fn struck_by(seq: u64) -> String {
    format!("struck by entry {seq}")
}

/// What is unlikely of an event that is about to be entered.
pub fn doubt(doubt: &Doubt) -> String {
    match doubt {
        Doubt::NotTopmost(above) => {
            format!(
                "NOT THE TOPMOST: {above} joints hang above it. A wrong entry is struck, not pulled"
            )
        }
        Doubt::AtRest(seq) => format!("THE STRING IS AT REST ALREADY (entry {seq})"),
        Doubt::NotAllRun(missing) => {
            format!("{missing} JOINTS OF THE TALLY DO NOT HANG: land it all the same?")
        }
        Doubt::NotNext(listed) => {
            format!(
                "NOT AS LISTED: {} comes next in the tally",
                Excerpt::of(listed)
            )
        }
        Doubt::NewPoints(names) => {
            let names: Vec<String> = names.iter().map(|it| Excerpt::of(it).to_string()).collect();
            format!(
                "NO READING NAMES {} YET: a new point, or a name that was meant otherwise?",
                names.join(" AND ")
            )
        }
        Doubt::SameReading(seq) => {
            format!("ENTRY {seq} SAYS THE SAME: enter it again only if it was read again")
        }
        Doubt::Sigma(sigma) => {
            format!(
                "A STANDARD DEVIATION OF {} m: is that meant?",
                sigma.exact_metres()
            )
        }
        Doubt::CheckedBySame => "SET AND CHECKED BY ONE PERSON".to_owned(),
    }
}

/// Where the joints that hang are not those of the tally, in its order.
pub fn run_otherwise(place: usize, run: &str, listed: &str) -> String {
    format!("NOT AS LISTED FROM JOINT {place} ON: RUN {run}, LISTED {listed}")
}

/// That a string does not close, and what may be the cause: short lines for the floor.
pub fn misclosure(found: &Misclosure, show: LengthFormat) -> Vec<String> {
    let off = found.suspects.off;
    let side = if off.is_negative() {
        "SHORTER"
    } else {
        "LONGER"
    };
    let off = show.text(off.abs());
    let mut lines = vec![match &found.of {
        MisclosureOf::Joint(joint, _) => {
            let joint = Excerpt::of(joint);
            format!("{joint} CAME OUT {off} {side} THAN LISTED: MEASURE AGAIN")
        }
        MisclosureOf::Landing(_) => {
            format!("LANDED {off} {side} ABOVE THE SHOULDER THAN ENTERED: COUNT THE JOINTS AGAIN")
        }
    }];
    let causes: Vec<String> = found.first().map(|it| super::suspect(it, show)).collect();
    let chance = super::by_chance(
        found.suspects.by_chance_millionths,
        found.suspects.within,
        show,
    );
    lines.push(if causes.is_empty() {
        format!(
            "POSSIBLE CAUSES: no single mistake fits within {}",
            show.small(found.suspects.within)
        )
    } else {
        format!("POSSIBLE CAUSES: {}; {chance}", causes.join("; or "))
    });
    lines
}

/// Until when a string must not be slacked off, and the seconds that are left of it where the time is known.
pub fn not_slacked_off(what: &str, until: &Moment, left: Option<i64>) -> String {
    let what = what.to_uppercase();
    match left {
        Some(seconds) if seconds <= 0 => format!(
            "{what}: WAITED TILL {} {}. READ THE STICK-UP ONCE IT IS SLACKED OFF",
            until.date(),
            until.clock()
        ),
        left => {
            let left = left.map_or_else(String::new, |seconds| {
                // Rounded up: a minute that has begun is not over.
                let minutes = (seconds + 59) / 60;
                format!(": {} h {:02} min LEFT", minutes / 60, minutes % 60)
            });
            format!(
                "{what} IN PLACE: NOT TO BE SLACKED OFF BEFORE {} {}{left}",
                until.date(),
                until.clock()
            )
        }
    }
}

/// The hook load that is expected, and what it leaves out; or why it is not known.
pub fn hook_load(load: Option<&HookLoad>) -> String {
    let Some(load) = load else {
        return "HOOK LOAD NOT WORKED OUT: site.water_density is not given".to_owned();
    };
    let leaves_out = load.leaves_out.iter().map(|it| super::left_out(*it));
    format!(
        "EXPECTED HOOK LOAD {:.1} t, without {}",
        load.total() / 1000.0,
        leaves_out.collect::<Vec<_>>().join(", ")
    )
}

/// The length of the joint that comes next, and its serial, a line each.
pub fn next_joint(length: &str, serial: Option<&str>) -> Vec<String> {
    let serial = serial.map(|it| Excerpt::of(it).to_string());
    std::iter::once(format!("{length} LONG"))
        .chain(serial)
        .collect()
}

/// The mass of the next joint.
pub fn next_lift(kilograms: f64) -> String {
    format!("NEXT LIFT {kilograms:.0} kg of steel, without connectors and rigging")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::{Draft, Moment};

    #[test]
    fn a_blade_is_said_by_its_readings_round_the_conductor() {
        let text = r#"{"event":"cutter-set","by":"TM","slot":"A","checked_by":"RS","readings":[{"azimuth":"0 deg","offset":"0.5 mm"},{"azimuth":"180 deg","offset":"-1 mm"}]}"#;
        let now = Moment::parse("2026-03-02T04:40:00+01:00").expect("a time");
        let (entry_read, _) =
            Draft::read(text, None)
                .expect("an event")
                .into_entry(1, &now, crate::journal::NO_HASH);
        assert_eq!(
            entry(&entry_read),
            "0.0005 m at 0 deg, -0.001 m at 180 deg; checked by RS"
        );
    }
}
