//! Words of readings of height differences: what the others say of each, and nothing that needs a course in statistics.

use crate::finding::ReadingRef;
use crate::levels::{AdjustedReading, LIMIT, Tape};
use crate::measure::{Elevation, Excerpt, Length, LengthFormat};

/// Below this share of a mistake that shows, a reading is hardly checked.
const HARDLY: f64 = 0.1;

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
        ("tally", ..) => format!("tally of {}, {from} to {to}", slot(&it.from)),
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
pub fn others_say(
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
