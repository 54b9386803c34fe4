//! Tallies with bytes flipped, cut out and put in, and bytes that never were a tally. The reader may
//! refuse them; it may not panic, invent joints, or drop a line in silence.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use crate::common::laws::laws;
use kerfmark::measure::{DecimalMark, Length, MAX_JOINT, Unit, visible};
use kerfmark::tally::import::{LengthColumn, NotRun, decode};
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
const SCRAPS: [&str; 30] = [
    "rejected",
    "spare",
    "Not run\n",
    "landing joint",
    "%",
    "  ",
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
    let not_run = select(vec![None, Some(NotRun::LeaveOut), Some(NotRun::Count)]);
    let rows = select(vec![None, None, None, "3-9".parse().ok()]);
    let landing = select(vec![None, Some(Vec::new()), Some(vec!["3".to_owned()])]);
    let column = select(vec![None, None, None, "length=B".parse().ok()]);
    let first = (units, order, decimal, length);
    let second = (not_run, rows, landing, column);
    (first, second).prop_map(
        |((units, order, decimal, length), (not_run, rows, landing, column))| Options {
            job_units: units,
            order,
            decimal,
            length,
            not_run,
            rows,
            landing,
            columns: column.into_iter().collect(),
            ..Options::default()
        },
    )
}

/// The lines of a text, with every line end that there is.
fn lines(text: &str) -> Vec<String> {
    text.replace("\r\n", "\n")
        .replace('\r', "\n")
        .split('\n')
        .map(str::to_owned)
        .collect()
}

/// The laws of a tally that was read: what it breaks, if anything.
fn honest(tally: &Tally, text: &str) -> Result<(), String> {
    let lines = lines(text);
    let of_joints: BTreeSet<u32> = tally.joints.iter().map(|joint| joint.line).collect();
    if of_joints.len() != tally.joints.len() {
        return Err("two joints from one line".to_owned());
    }
    for joint in &tally.joints {
        let length = joint.length.unwrap_or_default();
        if length <= Length::ZERO || length > MAX_JOINT {
            return Err(format!("joint {} cannot be so long", joint.number));
        }
        if joint
            .makeup_loss
            .is_some_and(|loss| loss.is_negative() || loss >= length)
        {
            return Err(format!("joint {} cannot lose so much", joint.number));
        }
    }
    let skipped: BTreeSet<u32> = tally.skipped.iter().map(|skipped| skipped.line).collect();
    if !skipped.is_disjoint(&of_joints) {
        return Err("a line is both a joint and skipped".to_owned());
    }
    if text.contains('"') {
        // A row may take several lines.
        return Ok(());
    }
    let silent: Vec<u32> = (1_u32..)
        .zip(&lines)
        .filter(|(line, text)| {
            !text.trim().is_empty() && !of_joints.contains(line) && !skipped.contains(line)
        })
        .map(|(line, _)| line)
        .collect();
    // The header of one row or two, and the row of units that may follow it.
    let header: Vec<&str> = silent
        .iter()
        .filter_map(|line| lines.get(usize::try_from(*line).ok()?.checked_sub(1)?))
        .map(String::as_str)
        .collect();
    // Nothing of it begins as a figure does, and it stands above the joints.
    let figure = |line: &&str| {
        let mut cells = line.split([',', ';', '\t', '|']);
        cells.any(|cell| cell.trim().starts_with(|c: char| c.is_ascii_digit()))
    };
    let below = silent.last() > of_joints.first();
    if !(1..=3).contains(&header.len()) || header.iter().any(figure) || below {
        return Err(format!("lines {silent:?} are dropped in silence"));
    }
    // Headings are told with control characters as their code.
    let header = visible(&header.join(" ")).into_owned();
    for column in &tally.columns {
        let mut words = column.heading.split_whitespace();
        if !words.all(|word| header.contains(word)) {
            return Err(format!("{header:?} does not say `{}`", column.heading));
        }
    }
    Ok(())
}

fn assert_honest(tally: &Tally, text: &str) {
    if let Err(broken) = honest(tally, text) {
        panic!("{broken}:\n{text}");
    }
}

#[test]
fn the_laws_are_broken_by_wrong_answers_and_kept_by_right_ones() {
    let text = "Jt,OAL (m)\n1,12.1\n2,12.2\nTotal,24.3\n";
    let right = read(text.as_bytes(), &Options::default()).expect("a tally");
    assert_eq!(honest(&right, text), Ok(()));
    let wrong = |change: &dyn Fn(&mut Tally), broken: &str| {
        let mut tally = right.clone();
        change(&mut tally);
        let found = honest(&tally, text).expect_err(broken);
        assert!(found.contains(broken), "{broken}: {found}");
    };
    wrong(&|it| drop(it.skipped.pop()), "dropped in silence");
    wrong(&|it| drop(it.joints.remove(0)), "dropped in silence");
    wrong(&|it| it.joints[1].line = 2, "two joints from one line");
    wrong(&|it| it.skipped[0].line = 2, "both a joint and skipped");
    wrong(
        &|it| it.joints[0].length = Some(Length::from_mm(30_001)),
        "cannot be so long",
    );
    wrong(
        &|it| it.joints[0].makeup_loss = Some(Length::from_mm(-1)),
        "cannot lose so much",
    );
    wrong(
        &|it| it.columns[1].heading = "Overall".to_owned(),
        "does not say `Overall`",
    );
    let long = format!("{text}3,12.3\n4,12.4\n5,12.5\n");
    let all = read(long.as_bytes(), &Options::default()).expect("a tally");
    assert_eq!(honest(&all, &long), Ok(()));
    assert!(honest(&right, &long).is_err_and(|it| it.contains("dropped in silence")));
}

/// What a random run found once: of a header that is there twice the first is misspelt, so that the
/// two are the rows of one header.
#[test]
fn a_header_given_twice_with_a_slip_in_the_first_is_read_honestly() {
    for header in [
        "Jt,OXL (m),MUL (m)",
        "Jt,OA (m),MUL (m)",
        "Jt No,OAL (m),M L (m)",
    ] {
        for second in ["Jt,OAL (m),MUL (m)", ",OAL (m),MUL (m)"] {
            let text = format!("{header}\n{second}\n1,12.1,0\n2,12.2,0.152\n");
            check(text.as_bytes(), &Options::default());
        }
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

proptest! {
    #![proptest_config(laws())]

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
