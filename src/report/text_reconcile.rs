//! The bridge and the suspects as plain lines.

use std::fmt::Write as _;
use std::path::Path;

use super::words;
use crate::measure::{Length, LengthFormat};
use crate::reconcile::{Bridge, Difference, Suspect, Suspects};
use crate::tally::Tally;

/// Most planes that are listed one by one.
const PLANES: usize = 40;

/// The bridge between two tallies; `files` are their names, and the lengths are in the unit of the
/// first.
pub fn bridge(files: [&str; 2], a: &Tally, bridge: &Bridge) -> String {
    let show = LengthFormat::new(a.unit);
    let [file_a, file_b] = files;
    let mut text = String::new();
    let difference = bridge.difference();
    let _ = writeln!(text, "A: {file_a}: {}", show.text(bridge.a));
    let _ = writeln!(text, "B: {file_b}: {}", show.text(bridge.b));
    let names = [called(file_a), called(file_b)];
    let _ = writeln!(text, "{}", words::compared_lengths(show, names, difference));
    if bridge.lines.is_empty() {
        let _ = writeln!(text, "\nno joint differs");
    } else {
        let _ = writeln!(text);
    }
    let mut sum = bridge.a;
    for line in &bridge.lines {
        sum += line.effect;
        let _ = writeln!(
            text,
            "{:>12}  to {}  {}: {}",
            show.difference(line.effect),
            show.text(sum),
            line.cause.name(),
            words::bridge_line(line, show)
        );
    }
    let _ = writeln!(text, "\nremainder: {}", show.text(bridge.remainder()));
    for note in &bridge.notes {
        let _ = writeln!(text, "also: {}", words::note(note));
    }
    if !bridge.planes.is_empty() {
        let _ = writeln!(text, "\n{}", words::planes_elsewhere(bridge.planes.len()));
        for plane in bridge.planes.iter().take(PLANES) {
            if let Some(joint) = a.joints.get(plane.a) {
                let _ = writeln!(text, "  {}: {}", joint.number, show.difference(plane.by));
            }
        }
        if let Some(more) = bridge
            .planes
            .len()
            .checked_sub(PLANES)
            .filter(|more| *more > 0)
        {
            let _ = writeln!(text, "  and {more} more");
        }
    }
    text
}

/// The name of a file without folder and ending, as people call a list.
fn called(file: &str) -> &str {
    let stem = Path::new(file).file_stem();
    stem.and_then(|stem| stem.to_str()).unwrap_or(file)
}

/// What would explain a misclosure.
pub fn suspects(tally: &Tally, found: &Suspects) -> String {
    let show = LengthFormat::new(tally.unit);
    let mut text = String::new();
    let _ = writeln!(text, "{}", words::misclosure(found.off, found.within, show));
    if found.closes {
        let _ = writeln!(text, "{}", words::CLOSES);
        return text;
    }
    if found.cannot_tell() {
        let _ = writeln!(text, "{}", words::CANNOT_TELL);
    }
    let (named, unnamed): (Vec<&Suspect>, Vec<&Suspect>) =
        found.singles.iter().partition(|it| it.effect.is_some());
    if named.is_empty() {
        let _ = writeln!(text, "no single mistake fits");
    } else {
        let _ = writeln!(text, "\n{}", words::SINGLES_FIT);
    }
    for suspect in named {
        let or_blank =
            |length: Option<Length>| length.map_or_else(String::new, |it| show.difference(it));
        let _ = writeln!(
            text,
            "  effect {:>10}  left {:>9}  {}: {}",
            or_blank(suspect.effect),
            or_blank(suspect.left),
            suspect.mistake.name(),
            words::suspect(suspect, show)
        );
    }
    if !found.pairs.is_empty() {
        let _ = writeln!(text, "\n{}", words::pairs_fit(found.pairs.len()));
    }
    for pair in &found.pairs {
        let _ = writeln!(
            text,
            "  effect {:>10}  left {:>9}  {}",
            show.difference(pair.effect),
            show.difference(pair.left),
            words::pair(pair, show)
        );
    }
    for suspect in unnamed {
        let _ = writeln!(text, "\nor: {}", words::suspect(suspect, show));
    }
    let _ = writeln!(
        text,
        "\n{}",
        words::by_chance(found.by_chance_millionths, found.within, show)
    );
    if let Some(pairs) = found.pairs_by_chance_millionths {
        let _ = writeln!(
            text,
            "{}",
            words::pairs_by_chance(pairs, found.within, show)
        );
    }
    text
}

/// The differences as rows of a file of decisions: the decision is left to be filled in, and the note
/// says what the difference is.
pub fn to_decide(differences: &[Difference], show: LengthFormat) -> String {
    let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
    // Writing into memory cannot fail.
    let _ = writer.write_record([
        "matter", "joint", "list", "line", "a", "b", "stands", "note",
    ]);
    for difference in differences {
        let line = difference.line.to_string();
        let metres = |length: Option<Length>| {
            length.map_or_else(String::new, |length| format!("{} m", length.exact_metres()))
        };
        let [a, b] = difference.said.map(metres);
        let row = [
            difference.topic.name(),
            &difference.joint,
            if difference.in_b() { "b" } else { "a" },
            &line,
            &a,
            &b,
            "",
            &words::difference(difference, show),
        ];
        let _ = writer.write_record(row);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}
