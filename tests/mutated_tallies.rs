//! Tallies with bytes flipped, cut out and put in, and bytes that never were a tally. The reader may
//! refuse them; it may not panic, invent joints, or drop a line in silence.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use kerfmark::measure::{DecimalMark, Length, MAX_JOINT, Unit};
use kerfmark::tally::read::{LengthColumn, decode};
use kerfmark::tally::{Options, Order, Pins, PipeString, Tally, read, review};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};

const LAYOUTS: [&str; 10] = [
    "titles.csv",
    "units-row.csv",
    "decimal-comma.csv",
    "feet-and-inches.tsv",
    "top-first.csv",
    "thousands.csv",
    "feet-inch-text.txt",
    "quoted.csv",
    "pages.csv",
    "effective-only.txt",
];

/// What people and editors put into files by accident, beside single bytes.
const SCRAPS: [&str; 24] = [
    "\n",
    "\r\n",
    "\r",
    "\n\n",
    ",",
    ";",
    "\t",
    "|",
    "\"",
    " ",
    ".",
    "-",
    "1",
    "Total",
    "Page 2",
    "Jt,OAL (m)\n",
    "shoe",
    "landing",
    "½",
    "″",
    "\u{feff}",
    "12,192",
    "ft",
    "x,12.1\n",
];

fn layout(name: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/messy");
    fs::read_to_string(folder.join(name)).expect(name)
}

/// One slip of a hand or an editor.
#[derive(Clone, Debug)]
enum Slip {
    Put(Index, &'static str),
    Cut(Index, usize),
    Repeat(Index),
    Swap(Index, Index),
    Flip(Index, u8),
}

fn slip() -> impl Strategy<Value = Slip> {
    let place = any::<Index>;
    prop_oneof![
        (place(), select(&SCRAPS[..])).prop_map(|(at, scrap)| Slip::Put(at, scrap)),
        (place(), 1_usize..20).prop_map(|(at, count)| Slip::Cut(at, count)),
        place().prop_map(Slip::Repeat),
        (place(), place()).prop_map(|(one, other)| Slip::Swap(one, other)),
        (place(), any::<u8>()).prop_map(|(at, byte)| Slip::Flip(at, byte)),
    ]
}

fn slipped(text: &str, slips: &[Slip]) -> String {
    let mut text = text.to_owned();
    for slip in slips {
        let mut letters: Vec<char> = text.chars().collect();
        let mut lines: Vec<&str> = text.lines().collect();
        if letters.is_empty() || lines.is_empty() {
            break;
        }
        text = match slip {
            Slip::Put(at, scrap) => {
                let at = at.index(letters.len());
                letters.splice(at..at, scrap.chars());
                letters.into_iter().collect()
            }
            Slip::Cut(at, count) => {
                let at = at.index(letters.len());
                letters.drain(at..letters.len().min(at + count));
                letters.into_iter().collect()
            }
            Slip::Repeat(at) => {
                let at = at.index(lines.len());
                lines.insert(at, lines[at]);
                lines.join("\n")
            }
            Slip::Swap(one, other) => {
                let (one, other) = (one.index(lines.len()), other.index(lines.len()));
                lines.swap(one, other);
                lines.join("\n")
            }
            Slip::Flip(at, byte) => {
                let at = at.index(letters.len());
                letters[at] = char::from(*byte);
                letters.into_iter().collect()
            }
        };
    }
    text
}

fn encoded(text: &str, encoding: u8) -> Vec<u8> {
    let little = || text.encode_utf16().flat_map(u16::to_le_bytes);
    match encoding {
        0 => text.as_bytes().to_vec(),
        1 => b"\xFF\xFE".iter().copied().chain(little()).collect(),
        2 => little().collect(),
        3 => text.encode_utf16().flat_map(u16::to_be_bytes).collect(),
        _ => text
            .chars()
            .map(|c| u8::try_from(u32::from(c)).unwrap_or(b'?'))
            .collect(),
    }
}

fn options() -> impl Strategy<Value = Options> {
    let units = select(vec![
        None,
        Some(Unit::Metre),
        Some(Unit::Millimetre),
        Some(Unit::Foot),
        Some(Unit::FootInch),
    ]);
    let order = select(vec![
        None,
        None,
        Some(Order::ShoeFirst),
        Some(Order::TopFirst),
    ]);
    let decimal = select(vec![
        None,
        None,
        Some(DecimalMark::Point),
        Some(DecimalMark::Comma),
    ]);
    let length = select(vec![
        None,
        None,
        None,
        Some(LengthColumn::Overall),
        Some(LengthColumn::Effective),
    ]);
    (units, order, decimal, length).prop_map(|(units, order, decimal, length)| Options {
        units: None,
        job_units: units,
        order,
        decimal,
        length,
        sheet: None,
    })
}

/// The lines of a text, with every line end that there is.
fn lines(text: &str) -> Vec<String> {
    text.replace("\r\n", "\n")
        .replace('\r', "\n")
        .split('\n')
        .map(str::to_owned)
        .collect()
}

/// The laws of a tally that was read.
fn assert_honest(tally: &Tally, text: &str) {
    let lines = lines(text);
    assert!(
        tally.joints.len() < lines.len(),
        "more joints than lines under the header"
    );
    let of_joints: BTreeSet<u32> = tally.joints.iter().map(|joint| joint.line).collect();
    assert_eq!(
        of_joints.len(),
        tally.joints.len(),
        "two joints from one line"
    );
    for joint in &tally.joints {
        let length = joint.overall.or(joint.effective).expect("a length");
        assert!(length > Length::ZERO && length <= MAX_JOINT);
        assert!(
            joint
                .makeup_loss
                .is_none_or(|loss| !loss.is_negative() && loss < length)
        );
    }
    let skipped: BTreeSet<u32> = tally.skipped.iter().map(|skipped| skipped.line).collect();
    assert!(skipped.is_disjoint(&of_joints));
    if text.contains('"') {
        // A row may take several lines.
        return;
    }
    let silent: Vec<u32> = (1_u32..)
        .zip(&lines)
        .filter(|(line, text)| {
            !text.trim().is_empty() && !of_joints.contains(line) && !skipped.contains(line)
        })
        .map(|(line, _)| line)
        .collect();
    // The header, and the row of units that may follow it.
    assert!(
        (1..=2).contains(&silent.len()),
        "lines {silent:?} are dropped in silence:\n{text}"
    );
    let header = &lines[usize::try_from(silent[0]).expect("small") - 1];
    for column in &tally.columns {
        let words = column.heading.split_whitespace();
        assert!(
            words.into_iter().all(|word| header.contains(word)),
            "{header:?} is no header"
        );
    }
}

fn check(bytes: &[u8], options: &Options) {
    let Ok(tally) = read(bytes, options) else {
        return;
    };
    let text = decode(bytes).expect("it was read").text.into_owned();
    assert_honest(&tally, &text);
    for up in [false, true] {
        let pins = Pins {
            up,
            nominal_loss: None,
        };
        let string = PipeString::make_up(&tally, pins);
        let sum: Length = string.pieces.iter().map(|piece| piece.effective).sum();
        assert_eq!(sum, string.length);
        let _ = review(&tally, &string, pins);
    }
}

/// Four hundred cases of each, or as many more as `PROPTEST_CASES` asks for.
fn soak() -> ProptestConfig {
    let asked = ProptestConfig::default();
    ProptestConfig {
        cases: asked.cases.max(400),
        ..asked
    }
}

proptest! {
    #![proptest_config(soak())]

    #[test]
    fn a_mutated_tally_is_refused_or_read_honestly(
        name in select(&LAYOUTS[..]),
        slips in vec(slip(), 0..6),
        encoding in 0_u8..5,
        flips in vec((any::<Index>(), any::<u8>()), 0..3),
        options in options(),
    ) {
        let mut bytes = encoded(&slipped(&layout(name), &slips), encoding);
        for (at, byte) in flips {
            if !bytes.is_empty() {
                let at = at.index(bytes.len());
                bytes[at] = byte;
            }
        }
        check(&bytes, &options);
    }

    #[test]
    fn a_slip_or_two_in_plain_text_is_refused_or_read_honestly(
        name in select(&LAYOUTS[..]),
        slips in vec(slip(), 1..3),
    ) {
        check(slipped(&layout(name), &slips).as_bytes(), &Options::default());
    }

    #[test]
    fn raw_bytes_are_never_too_much(bytes in vec(any::<u8>(), 0..400), options in options()) {
        check(&bytes, &options);
    }

    #[test]
    fn rows_of_anything_under_a_header_are_all_accounted_for(
        rows in vec(vec(select(&["", "1", "A-7", "12.1", "12,192", "m", "-", "Total", "shoe", "landing", "note", "Page 3",
            "joint", "length", "39'-6", "0.152", "x y z w", "é"][..]), 0..6), 0..12),
        separator in select(&[",", ";", "\t"][..]),
        options in options(),
    ) {
        let mut text = ["joint", "length (m)", "makeup_loss (m)", "remarks"].join(separator);
        for row in rows {
            text.push('\n');
            text.push_str(&row.join(separator));
        }
        check(text.as_bytes(), &options);
    }
}

#[test]
fn every_layout_is_honest_as_it_stands() {
    for name in LAYOUTS {
        let bytes = layout(name).into_bytes();
        assert!(read(&bytes, &Options::default()).is_ok(), "{name}");
        check(&bytes, &Options::default());
    }
}
