//! The words by which people say that a joint was not run, that it only lands the string, or that it is the
//! shoe joint.

use super::cell_text::is_plain_number;

/// The words, as messages name them. Between the words of one may be spaces or hyphens.
const WORDS: &[&str] = &[
    "not run",
    "not used",
    "unused",
    "do not run",
    "did not run",
    "do not use",
    "rejected",
    "rejects",
    "reject",
    "rej",
    "laid out",
    "laid down",
    "l/d",
    "left on deck",
    "scrapped",
    "scrap",
    "spares",
    "spare",
    "backloaded",
    "backload",
    "back loaded",
    "back load",
    "returned",
    "voided",
    "void",
    "cancelled",
    "canceled",
    "cancel",
];

/// Words of which a heading without a number is no section of joints.
const NONE: [&str; 4] = ["no", "none", "nil", "note"];

/// Words for joints, more than one.
const MANY: [&str; 5] = ["joints", "jts", "pipes", "pups", "lengths"];

/// How headings of joints that are not in the string begin, without one of [`WORDS`].
const ASIDE: [&str; 12] = [
    "pipe on deck",
    "pipes on deck",
    "joints on deck",
    "jts on deck",
    "on deck",
    "remaining on deck",
    "remaining joints",
    "joints remaining",
    "pipe on rack",
    "joints on rack",
    "surplus joints",
    "surplus pipe",
];

/// Words of a heading under which joints are in the string again.
const RUN: [&str; 6] = ["run", "string", "conductor", "installed", "used", "landing"];

/// Whether a text may hold one of [`WORDS`]: each of them has `re`, `ru`, `us`, `cr`, `ce`, `ck`,
/// `id`, or a slash. One after an n is passed over: a list may say `N/A` in each of its rows.
///
/// Every byte of every file goes through this. Sums in place of conditions, and no early end: so it goes many
/// bytes at a time.
pub(super) fn may_hold_words(text: &str) -> bool {
    let bytes = text.as_bytes();
    let after = bytes.get(1..).unwrap_or_default();
    let is = |byte: u8, letter: u8| u8::from(byte == letter);
    let seen = bytes.iter().zip(after).fold(0, |seen, (first, second)| {
        let (low, next) = (first | 0x20, second | 0x20);
        let e = is(next, b'e');
        seen | (is(low, b'r') & (e | is(next, b'u')))
            | (is(low, b'c') & (e | is(next, b'r') | is(next, b'k')))
            | (is(low, b'i') & is(next, b'd'))
            | (is(low, b'u') & is(next, b's'))
            | (is(*second, b'/') & u8::from(low != b'n'))
    });
    seen > 0
}

/// The first of the words in a text, as a whole word, in any case.
pub(super) fn sign_word(text: &str) -> Option<&'static str> {
    first_word(text).map(|(_, word)| word)
}

fn first_word(text: &str) -> Option<(usize, &'static str)> {
    let mut inside = false;
    for (at, letter) in text.char_indices() {
        let begins = !inside && letter.is_alphabetic();
        inside = letter.is_alphanumeric();
        if begins
            && matches!(
                letter.to_ascii_lowercase(),
                'n' | 'r' | 'l' | 's' | 'b' | 'v' | 'c' | 'u' | 'd'
            )
            && let Some(rest) = text.get(at..)
            && let Some(word) = WORDS.iter().find(|word| is_first(rest, word))
        {
            return Some((at, word));
        }
    }
    None
}

/// Whether a text begins with a word and goes on with another.
fn is_first(text: &str, word: &str) -> bool {
    let is_gap = |c: char| c.is_whitespace() || matches!(c, '-' | '_' | '.');
    let mut rest = text;
    for letter in word.chars() {
        let next = match letter {
            ' ' => {
                let after = rest.trim_start_matches(is_gap);
                (after.len() < rest.len()).then_some(after)
            }
            '/' => {
                let after = rest.trim_start_matches(char::is_whitespace);
                after
                    .strip_prefix('/')
                    .map(|it| it.trim_start_matches(char::is_whitespace))
            }
            letter => {
                let mut letters = rest.chars();
                letters
                    .next()
                    .is_some_and(|it| it.eq_ignore_ascii_case(&letter))
                    .then_some(letters.as_str())
            }
        };
        match next {
            Some(next) => rest = next,
            None => return false,
        }
    }
    !rest.starts_with(char::is_alphanumeric)
}

/// What lands a string and comes off it again, as messages name it.
const LANDING: &[&str] = &[
    "landing string",
    "landing joints",
    "landing joint",
    "landing jts",
    "landing jt",
    "running tools",
    "running tool",
    "handling joints",
    "handling joint",
    "handling jts",
    "handling jt",
];

/// The first mention of a landing string in a text.
pub(super) fn landing_word(text: &str) -> Option<&'static str> {
    if text.len() < 10 {
        return None;
    }
    word_starts(text).find_map(|rest| LANDING.iter().find(|word| is_first(rest, word)).copied())
}

/// What a joint is called that has the shoe.
const SHOE: [&str; 5] = [
    "shoe joint",
    "shoe jt",
    "float shoe",
    "guide shoe",
    "drive shoe",
];

/// Words by which a text that has the word shoe speaks of where it is, not of the joint that has it.
const WHERE: [&str; 8] = [
    "at", "to", "from", "above", "below", "off", "depth", "distance",
];

/// Whether a text names the shoe joint, or the shoe. `no shoe` and `shoe at 96.2` do not.
pub(super) fn names_shoe(text: &str) -> bool {
    let has = |text: &str, words: &[&str]| {
        word_starts(text).any(|rest| words.iter().any(|it| is_first(rest, it)))
    };
    let Some(shoe) = word_starts(text).find(|rest| is_first(rest, "shoe")) else {
        return false;
    };
    let before = text.strip_suffix(shoe).unwrap_or_default();
    !has(before, &["no", "not"]) && (has(text, &SHOE) || !has(text, &WHERE))
}

/// A text from each of its words on.
fn word_starts(text: &str) -> impl Iterator<Item = &str> {
    let mut inside = false;
    text.char_indices().filter_map(move |(at, letter)| {
        let begins = !inside && letter.is_alphabetic();
        inside = letter.is_alphanumeric();
        begins.then(|| text.get(at..)).flatten()
    })
}

/// One of the words in the cell of a joint number: `7 (rejected)`, `Spare 2`. Letters that a hyphen or
/// nothing joins to the number are a part of it: `REJ-07` is a number like any other.
pub(super) fn in_joint_cell(text: &str) -> Option<&'static str> {
    if text.len() < 4 || is_plain_number(text) {
        return None;
    }
    let (at, word) = first_word(text)?;
    let after = text.get(at + word.len()..).unwrap_or_default();
    let joined = after
        .strip_prefix(['-', '_', '/', '.'])
        .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    (at > 0 || !joined).then_some(word)
}

/// Whether a line of text heads joints that were not run (`Spare joints on deck`), heads others, or heads
/// nothing. A remark on one joint is no heading.
pub(super) fn is_section_heading(text: &str) -> Option<bool> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let any = |known: &[&str]| words.iter().any(|word| known.contains(&word.as_str()));
    let is_number = |word: &String| word.bytes().any(|byte| byte.is_ascii_digit());
    let numbered = words.windows(2).any(
        |pair| matches!(pair, [many, number] if MANY.contains(&many.as_str()) && is_number(number)),
    );
    // `Spare joints (2)` counts them and `spare 30 in conductor` sizes them; `joints 7 and 9 rejected` speaks
    // of two.
    let counts = first_word(text).is_some_and(|(at, _)| at == 0)
        && words.iter().filter(|word| is_number(word)).count() == 1
        && (any(&MANY) && (text.ends_with(')') || text.contains(" - ")) || is_sized(&words));
    let names_joints = words.iter().any(is_number) && (numbered || !any(&MANY)) && !counts;
    if words.len() > 8 || names_joints || any(&NONE) {
        return None;
    }
    let all = words.join(" ");
    if ASIDE.iter().any(|aside| all.starts_with(aside)) {
        return Some(true);
    }
    if let Some((at, _)) = first_word(text) {
        let first = text.find(char::is_alphanumeric) == Some(at);
        let of_joints = any(&MANY) || any(&["pipe"]);
        return (first || of_joints).then_some(true);
    }
    (words.len() <= 4 && any(&RUN)).then_some(false)
}

/// Whether a number among the words is that of a size: `30 in`.
fn is_sized(words: &[String]) -> bool {
    words.windows(2).any(|pair| {
        matches!(pair, [number, unit] if number.bytes().all(|byte| byte.is_ascii_digit())
            && matches!(unit.as_str(), "in" | "inch" | "ft" | "m" | "mm"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_that_holds_a_word_is_passed_over() {
        for word in WORDS {
            for text in [
                (*word).to_owned(),
                word.to_uppercase(),
                format!("1,12.1,{word},"),
                word.replace(' ', "-"),
                word.replace('/', " / "),
            ] {
                assert!(
                    sign_word(&text).is_some() && may_hold_words(&text),
                    "{text}"
                );
            }
        }
        assert!(!may_hold_words("A-12,S0000123,joint,12.192,0.152,"));
        assert!(!may_hold_words("A-12,N/A,joint,12.192,0.152,n/a"));
    }

    #[test]
    fn whole_words_alone_are_signs_in_any_case() {
        for (text, word) in [
            ("not run", Some("not run")),
            ("NOT-RUN", Some("not run")),
            ("joint rejected, bent pin", Some("rejected")),
            ("Rej.", Some("rej")),
            ("L/D", Some("l/d")),
            ("l / d on 3rd", Some("l/d")),
            ("laid-out", Some("laid out")),
            ("left on  deck", Some("left on deck")),
            ("Spare", Some("spare")),
            ("void", Some("void")),
            ("\u{a0}returned\u{a0}", Some("returned")),
            ("projected", None),
            ("respare", None),
            ("spared", None),
            ("avoid", None),
            ("voids filled", None),
            ("rejoin", None),
            ("not running", None),
            ("laid", None),
            ("", None),
        ] {
            assert_eq!(sign_word(text), word, "{text}");
        }
    }

    #[test]
    fn the_number_of_a_joint_is_no_sign_and_what_follows_it_is() {
        for (text, word) in [
            ("7 (rejected)", Some("rejected")),
            ("A-07 REJ", Some("rej")),
            ("7-spare", Some("spare")),
            ("Spare 2", Some("spare")),
            ("REJ-07", None),
            ("SPARE-1", None),
            ("VOID7", None),
            ("A-07", None),
            ("PUP-1", None),
        ] {
            assert_eq!(in_joint_cell(text), word, "{text}");
        }
    }

    #[test]
    fn headings_of_sections_are_no_remarks() {
        for (text, heads) in [
            ("Joints not run", Some(true)),
            ("SPARE JOINTS ON DECK:", Some(true)),
            ("Rejected", Some(true)),
            ("Pipe left on deck", Some(true)),
            ("Joints run", Some(false)),
            ("Landing string", Some(false)),
            ("No joints rejected", None),
            ("Joint 7 rejected", None),
            ("Joints 7 and 9 rejected", None),
            ("Spare joints on deck (2)", Some(true)),
            ("3 joints not run", Some(true)),
            ("Spare joints (2)", Some(true)),
            ("Rejected joints - 2", Some(true)),
            ("Spare 30 in conductor", Some(true)),
            ("Rejected joint 7", None),
            ("Pipe on deck", Some(true)),
            ("Remaining on deck:", Some(true)),
            ("Pipe strapped on deck by NK", None),
            (
                "one of them was rejected after inspection by the third party on deck",
                None,
            ),
            ("Strapped by NK", None),
        ] {
            assert_eq!(is_section_heading(text), heads, "{text}");
        }
    }
}
