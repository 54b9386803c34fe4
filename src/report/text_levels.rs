//! A network of readings as plain lines.

use std::fmt::Write as _;

use super::words;
use crate::figures::Levels;
use crate::measure::{Length, LengthFormat};

/// Every point, every reading with what the others say of it, and what is flagged.
pub fn levels(levels: &Levels, show: LengthFormat) -> String {
    let adjusted = &levels.adjusted;
    let mut text = String::new();
    let _ = writeln!(text, "points: {}", adjusted.points.len());
    let _ = writeln!(text, "readings: {}", adjusted.readings.len());
    let _ = writeln!(
        text,
        "{}",
        words::readings_to_spare(adjusted.degrees_of_freedom)
    );
    if let (Some(passes), Some(bounds)) = (levels.passes(), adjusted.bounds()) {
        let together = words::together(adjusted.chi_square, (bounds.lower, bounds.upper), passes);
        let _ = writeln!(text, "{together}");
    }
    if let Some(tape) = &adjusted.tape {
        let _ = writeln!(text, "{}", words::tape_found(tape));
    }
    for flag in levels.flags() {
        let _ = writeln!(
            text,
            "{}: {}: {}",
            flag.severity.word(),
            flag.code,
            words::flag(&flag, show)
        );
    }
    let _ = writeln!(text);
    for (point, it) in levels.read.network.points.iter().zip(&adjusted.points) {
        let u = it
            .sigma()
            .and_then(|it| Length::nearest_to_metres(2.0 * it));
        let line = words::point(&point.name, it.elevation, (point.fixed.is_some(), u), show);
        let _ = writeln!(text, "point: {line}");
    }
    let _ = writeln!(text);
    for (at, it) in adjusted.readings.iter().enumerate() {
        if let (Some(name), Some(shown)) = (levels.reading(at), levels.read.shown.get(at)) {
            let _ = writeln!(
                text,
                "reading: {}",
                words::reading_said(&name, *shown, (it, levels.is_suspect(at)), show)
            );
        }
    }
    for it in &levels.read.corrections {
        if let Some(name) = levels.reading(it.reading) {
            let _ = writeln!(text, "{}", words::correction(&name, it, show));
        }
    }
    for how in &levels.read.idle_corrections {
        let _ = writeln!(text, "{}", words::idle_correction(how));
    }
    let _ = writeln!(text, "\n{}", words::PLUS_MINUS);
    let _ = writeln!(text, "\n{}", words::CAUTION);
    text
}
