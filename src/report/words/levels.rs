//! Words of readings of height differences: what the others say of each, and nothing that needs a course in statistics.

use super::standing::counted;
use crate::figures::{CorrectionLine, Levels, UntiedEntry};
use crate::finding::ReadingRef;
use crate::levels::{AdjustedReading, LIMIT, Tape};
use crate::measure::{Elevation, Excerpt, Length, LengthFormat};

/// Below this share of a mistake that shows, a reading is hardly checked.
const HARDLY: f64 = 0.1;

/// What stands behind a plus-minus and a U.
pub const PLUS_MINUS: &str =
    "\u{b1} and U are two standard deviations; readings are entered with one (sigma).";

/// That an entered reading is left out.
pub fn untied_entry((seq, points): &UntiedEntry) -> String {
    let points: Vec<String> = points
        .iter()
        .map(|it| Excerpt::of(it).to_string())
        .collect();
    format!(
        "entry {seq} is left out: no reading ties {} to a known elevation",
        points.join(" and ")
    )
}

/// What a correction adds to a reading.
pub fn correction(of: &ReadingRef, it: &CorrectionLine, show: LengthFormat) -> String {
    let value = show.small_signed(it.value);
    format!("correction: {}: {} {value}", reading_of(of), it.kind)
}

/// That a correction is for no reading.
pub fn idle_correction(how: &str) -> String {
    format!(
        "A CORRECTION ON {} CORRECTS NOTHING: no reading has that as its `how`",
        Excerpt::of(how)
    )
}

/// How many readings there are beyond those that are needed.
pub fn readings_to_spare(spare: usize) -> String {
    match spare {
        0 => "no reading to spare: nothing checks any of them".to_owned(),
        spare => format!("readings to spare, which check the others: {spare}"),
    }
}

/// Whether all readings together agree as well as they are said to be known.
pub fn together(value: f64, (lower, upper): (f64, f64), passes: bool) -> String {
    let verdict = if passes {
        "as well as they are said to be known"
    } else if value > upper {
        "WORSE THAN THEY ARE SAID TO BE KNOWN"
    } else {
        "better than they are said to be known"
    };
    format!(
        "together they agree {verdict} (chi-square {value:.3}; in 95 of 100 cases between {lower:.3} and {upper:.3})"
    )
}

/// What the scale error of the tape is found to be.
pub fn tape_found(tape: &Tape) -> String {
    let ppm = tape.scale * 1e6;
    let u = 2.0 * tape.variance.sqrt() * 1e6;
    format!("scale error of the tape, by all readings: {ppm:.1} ppm, U {u:.1} ppm")
}

/// A point with its elevation and U.
pub fn point(
    name: &str,
    at: Elevation,
    (is_fixed, u): (bool, Option<Length>),
    show: LengthFormat,
) -> String {
    let elevation = show.text(at.height());
    let u = match u {
        _ if is_fixed => "fixed".to_owned(),
        Some(u) => format!("U {}", show.small(u)),
        None => "U not stated".to_owned(),
    };
    format!("{}: {elevation}, {u}", Excerpt::of(name))
}

/// A reading: as it was read, and what the other readings say.
pub fn reading_said(
    name: &ReadingRef,
    shown: Length,
    (it, is_suspect): (&AdjustedReading, bool),
    show: LengthFormat,
) -> String {
    let read = format!("{}: read {}", reading_of(name), show.text(shown));
    format!("{read}; {}", others_say(shown, (it, is_suspect), show))
}

/// How many readings and points there are, and how many readings more than are needed.
pub fn network_counts(readings: usize, points: usize, spare: usize) -> String {
    let readings = counted(readings, "reading");
    let points = counted(points, "point");
    format!("{readings}, {points}, {spare} to spare")
}

/// Whether all readings together agree, in a few words.
pub fn network_verdict(levels: &Levels) -> String {
    match (levels.suspects.len(), levels.passes()) {
        (0, None) => "nothing checks any of them".to_owned(),
        (0, Some(true)) => "they agree as well as stated".to_owned(),
        (0, Some(false)) if levels.is_above() => "THEY DISAGREE MORE THAN STATED".to_owned(),
        (0, Some(false)) => "they agree better than stated".to_owned(),
        (1, _) if levels.suspects.iter().any(|it| it.readings.len() > 1) => {
            "ONE OF SEVERAL TO READ AGAIN".to_owned()
        }
        (1, _) => "ONE TO READ AGAIN".to_owned(),
        (several, _) => format!("{several} TO READ AGAIN, THE FIRST FIRST"),
    }
}

/// That figures are of all readings, the suspected among them.
pub const WITH_SUSPECT: &str = "every elevation here is with it";

/// Why there are no levels.
pub fn not_adjusted(why: &str) -> String {
    format!("The readings give no elevations: {why}")
}

/// What the other readings say of one, and how well they do; blank where nothing does.
pub fn others_briefly(shown: Length, it: &AdjustedReading, show: LengthFormat) -> (String, String) {
    let Some((by, sigma)) = it.others() else {
        return (String::new(), String::new());
    };
    let others = Length::nearest_to_metres(by).map(|by| show.number(shown + by));
    let u = Length::nearest_to_metres(2.0 * sigma).map(|it| show.small(it));
    (others.unwrap_or_default(), u.unwrap_or_default())
}

/// The verdict on a reading in two words.
pub fn reading_verdict(it: &AdjustedReading, is_suspect: bool) -> &'static str {
    match (it.redundancy, it.w()) {
        (None, _) => "takes no part",
        (Some(_), None) if it.sigma == Some(0.0) => "stated exact",
        (Some(_), None) => "NOT CHECKED",
        _ if is_suspect => "READ AGAIN",
        (_, Some(w)) if w.abs() > LIMIT => "off too",
        (Some(redundancy), _) if redundancy < HARDLY => "hardly",
        _ => "agrees",
    }
}

/// U of a point in a list.
pub fn point_u(levels: &Levels, point: usize, show: LengthFormat) -> String {
    let fixed = levels.read.network.points.get(point);
    if fixed.is_some_and(|it| it.fixed.is_some()) {
        return "fixed".to_owned();
    }
    let u = levels.u_of(point);
    u.map_or_else(|| "not stated".to_owned(), |it| show.small(it))
}

/// How many readings have no line in the picture.
pub fn wires_left_out(count: usize) -> String {
    format!("{count} not drawn")
}

/// What the lines of the picture are.
pub fn wires_legend(checked: char, loose: char) -> String {
    format!(
        "{checked} a reading that others check   {loose} one that nothing checks   ! one to read again   2: two of them"
    )
}

/// How many readings a point has.
pub fn readings_at(point: &str, count: usize) -> String {
    let readings = counted(count, "reading");
    format!("{}: {readings}; Enter lists them", Excerpt::of(point))
}

/// How the figures of a reading come about: each with its value.
pub fn reading_steps(
    levels: &Levels,
    at: usize,
    show: LengthFormat,
) -> Vec<(&'static str, String)> {
    let network = &levels.read.network;
    let (Some(reading), Some(it)) = (network.readings.get(at), levels.adjusted.readings.get(at))
    else {
        return Vec::new();
    };
    let small = |metres: f64| {
        let length = Length::nearest_to_metres(metres);
        length.map_or_else(String::new, |it| show.small_signed(it))
    };
    let bare = |metres: f64| small(metres).trim_start_matches('+').to_owned();
    let elevation = |point: usize| {
        let at = levels.adjusted.points.get(point).map(|it| it.elevation);
        let at = at.map_or_else(String::new, |at| show.text(at.height()));
        format!("{} at {at}", Excerpt::of(network.name(point)))
    };
    let shown = levels.read.shown.get(at).copied().unwrap_or(reading.rise);
    let mut steps = vec![("read", show.text(shown))];
    let rise = levels.read.rise_as_read(at);
    if shown != rise {
        steps.push(("so the rise between its points", show.text(rise)));
    }
    let corrections = levels.read.corrections.iter();
    let corrections: Vec<_> = corrections.filter(|it| it.reading == at).collect();
    for it in &corrections {
        let value = show.small_signed(it.value);
        steps.push(("correction", format!("{} {value}", it.kind)));
    }
    if !corrections.is_empty() {
        steps.push(("corrected", show.text(reading.rise)));
    }
    steps.push((
        "known within, as stated (2 standard deviations)",
        it.sigma.map_or_else(
            || "not stated: it takes no part".to_owned(),
            |it| bare(2.0 * it),
        ),
    ));
    steps.push(("from, by all readings", elevation(reading.from)));
    steps.push(("to, by all readings", elevation(reading.to)));
    if let Some(tape) = levels
        .adjusted
        .tape
        .as_ref()
        .filter(|_| !reading.tape.is_zero())
    {
        let adds = tape.scale * reading.tape.real_metres();
        steps.push(("of which the scale error of the tape", small(adds)));
    }
    steps.push(("all readings less this one", small(it.residual)));
    if let Some(redundancy) = it.redundancy {
        steps.push((
            "share of a mistake in it that would show there (redundancy)",
            format!("{:.1} %", redundancy * 100.0),
        ));
    }
    if let (Some(w), Some((by, sigma)), Some(least)) = (it.w(), it.others(), it.detectable()) {
        steps.push((
            "what the other readings say, more than read",
            format!("{} \u{b1} {}", small(by), bare(2.0 * sigma)),
        ));
        steps.push((
            "that in standard deviations (w); beyond 3.29 is one good reading in a thousand",
            format!("{w:.2}"),
        ));
        steps.push((
            "least mistake that would be found, in four cases of five",
            bare(least),
        ));
    }
    steps.push((
        "so it",
        reading_verdict(it, levels.is_suspect(at)).to_owned(),
    ));
    steps
}

/// Readings of which one is meant, where nothing tells them apart.
pub fn one_of(all: &[ReadingRef]) -> String {
    let names: Vec<String> = all.iter().map(reading_of).collect();
    let names = names.join(" or ");
    if all.len() > 1 {
        format!("{names} (nothing tells which)")
    } else {
        names
    }
}

/// What a reading is of.
pub fn reading_of(it: &ReadingRef) -> String {
    let (from, to) = (Excerpt::of(&it.from), Excerpt::of(&it.to));
    let hull = |point: &str| {
        let hull = point.strip_prefix("rotary@").unwrap_or(point);
        Excerpt::of(hull).to_string()
    };
    let slot = |point: &str| {
        let slot = point.rsplit_once('.').map_or(point, |(slot, _)| slot);
        Excerpt::of(slot).to_string()
    };
    match (it.of, it.line, it.entry) {
        ("tape", ..) => "the scale of the tape".to_owned(),
        ("rotary", ..) => format!("RT at {}", hull(&it.to)),
        ("stick-up", ..) => format!("stick-up of {} at {}", slot(&it.to), hull(&it.from)),
        ("tally", ..) => format!("tally {from} to {to}"),
        ("bench", ..) => format!("bench {to}"),
        ("mudline", ..) => to.to_string(),
        ("benchmark", ..) => format!("height reference of the survey, {to}"),
        ("as-cut", ..) => format!("finished top of {}", slot(&it.to)),
        (_, Some(line), _) => format!("line {line}, {from} to {to}"),
        (_, _, Some(entry)) => format!("entry {entry}, {from} to {to}"),
        (of, ..) => format!("{of}, {from} to {to}"),
    }
}

/// What the other readings say of one.
fn others_say(
    shown: Length,
    (it, is_suspect): (&AdjustedReading, bool),
    show: LengthFormat,
) -> String {
    let Some(redundancy) = it.redundancy else {
        return "how well it is known is not stated: it takes no part".to_owned();
    };
    let (Some((by, sigma)), Some(w)) = (it.others(), it.w()) else {
        return if it.sigma == Some(0.0) {
            "stated as exact: nothing checks it".to_owned()
        } else {
            "nothing checks it".to_owned()
        };
    };
    let small = |metres: f64| {
        let length = Length::nearest_to_metres(metres.abs());
        length.map_or_else(String::new, |it| show.small(it))
    };
    let others = Length::nearest_to_metres(by).map(|by| show.text(shown + by));
    let others = format!(
        "the other readings say {} ± {}",
        others.unwrap_or_default(),
        small(2.0 * sigma)
    );
    let way = if by < 0.0 { "less" } else { "more" };
    if is_suspect {
        return format!("{others}, {} {way}: READ IT AGAIN", small(by));
    }
    if w.abs() > LIMIT {
        return format!(
            "{others}, {} {way}: a suspect among those may be why",
            small(by)
        );
    }
    if redundancy < HARDLY {
        let hidden = small(it.detectable().unwrap_or_default());
        return format!("{others}: hardly checked, a mistake under {hidden} stays hidden");
    }
    format!("{others}: agrees")
}
