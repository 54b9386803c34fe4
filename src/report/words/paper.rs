//! Sentences of the sheet, the texts and the record.

use std::path::Path;

use super::screens::or_none;
use super::verdicts::known;
use crate::figures::{Cut, Spread, Verdict};
use crate::measure::{Length, LengthFormat};
use crate::reconcile::MOST_PAIRS;

/// RT at a hull position, with what its second way says.
pub fn rotary_line(hull: &str, rotary: &str, second: &str) -> String {
    format!("RT at hull position {hull}: {rotary} ({second})")
}

/// Keys that are given and that no figure is computed from.
pub fn keys_not_used(keys: &[&str]) -> String {
    format!(
        "Given in job.toml and not used by this version: {}",
        keys.join(", ")
    )
}

/// That two persons set out two marks, and how far those may be apart.
pub fn marks_must_agree(within: &str) -> String {
    format!(
        "Marks must agree within {within}, or within their U together where that is more: scribed from one mark, measured by a second person from another."
    )
}

/// What the blanks for readings mean.
pub const READING_AT: &str =
    "from: the mark measured from; reading: to the scribed line; at: date and time";

/// What to do with a new job folder.
pub fn after_new(folder: &Path) -> String {
    format!("next: edit job.toml, then `kerfmark {}`", folder.display())
}

/// The target of a slot, and what it is made of beside the deck.
pub fn target_of(offset: Length, cut: &Cut, show: LengthFormat) -> String {
    format!(
        "target {}: deck, offset {}, allowances {}",
        show.text(cut.target.height()),
        show.small_signed(offset),
        show.small_signed(cut.allowances)
    )
}

/// How far the cuts lie apart.
pub fn spread(spread: &Spread, slots: usize, limit: Option<Length>, show: LengthFormat) -> String {
    match &spread.value {
        Some(value) => format!(
            "Spread of {} cuts: {}, U {}: {}",
            spread.cuts,
            show.small(value.value),
            known(show, value),
            verdict_on_spread(spread, limit)
        ),
        None => format!(
            "Spread: {} of {slots} conductors cut and judged, no two to compare yet",
            spread.cuts
        ),
    }
}

fn verdict_on_spread(spread: &Spread, limit: Option<Length>) -> &'static str {
    let is_beyond = spread.exact.zip(limit);
    match (
        spread.verdict,
        is_beyond.is_some_and(|(value, limit)| value > limit.into()),
    ) {
        (None, _) => "no limit given",
        (Some(Verdict::Unproven), true) => "beyond its limit, not proven",
        (Some(verdict), _) => verdict.word(),
    }
}

/// How far a cut is from what it must be clear of, on paper.
pub fn clearances_on_paper(
    word: &str,
    to_connection: Option<Length>,
    to_shoulder: Option<Length>,
    required: Option<Length>,
    show: LengthFormat,
) -> String {
    let [connection, shoulder, required] =
        [to_connection, to_shoulder, required].map(|it| or_none(it, show));
    format!(
        "{word}: {connection} to the nearest connection, {shoulder} to the landing shoulder (required: {required})"
    )
}

/// What a tally of record was made of: the program, and the name and SHA-256 of each list.
pub fn made_of(version: &str, [a, b]: &[String; 2], [sha_a, sha_b]: &[String; 2]) -> String {
    format!(
        "Tally of record by kerfmark {version} of {a} (SHA-256 {sha_a}) and {b} (SHA-256 {sha_b})"
    )
}

/// How many differences are not decided, where there are any, and which list applies until then.
pub fn not_decided(open: usize, first: &str) -> Option<String> {
    (open > 0).then(|| format!("Differences not decided: {open}. {first} applies until decided."))
}

/// How many make-up planes lie elsewhere in the second list.
pub fn planes_elsewhere(planes: usize) -> String {
    format!("lower make-up planes in a different position above the shoe in B: {planes}")
}

/// A misclosure, and within what it would close.
pub fn misclosure(off: Length, within: Length, show: LengthFormat) -> String {
    format!(
        "measured less computed: {}; it would close within {}",
        show.difference(off),
        show.small(within)
    )
}

/// That a misclosure is none.
pub const CLOSES: &str = "it closes: no mistake is looked for";

/// Heads the single mistakes that fit.
pub const SINGLES_FIT: &str = "single mistakes that fit, the best first:";

/// That the tally has more explanations than it can tell apart.
pub const CANNOT_TELL: &str =
    "so many fit by chance that the tally cannot tell: measure again, and more closely";

/// How many pairs would fit by chance.
pub fn pairs_by_chance(millionths: i64, within: Length, show: LengthFormat) -> String {
    format!(
        "of pairs, {}.{:02} would fit by chance within {}",
        millionths / 1_000_000,
        millionths % 1_000_000 / 10_000,
        show.small(within)
    )
}

/// Heads the pairs that fit, of which no more than a few are listed.
pub fn pairs_fit(listed: usize) -> String {
    let cut = if listed == MOST_PAIRS {
        format!(" (the best {MOST_PAIRS} alone)")
    } else {
        String::new()
    };
    format!("pairs that fit, the best first{cut}:")
}

/// How many single mistakes would fit by chance, in millionths of one.
pub fn by_chance(millionths: i64, within: Length, show: LengthFormat) -> String {
    format!(
        "of single mistakes, {}.{:02} would fit by chance within {}",
        millionths / 1_000_000,
        millionths % 1_000_000 / 10_000,
        show.small(within)
    )
}
