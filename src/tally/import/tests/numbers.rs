//! Encodings, line ends, quotes, separators, decimal marks.

use super::*;
use crate::tally::SkipReason;

fn decimal(mark: DecimalMark) -> Options {
    Options {
        decimal: Some(mark),
        ..Options::default()
    }
}

const TEXT: &str = "Jt,OAL (m),Remarks\n1,12.1,½ box\n2,12.2,Ø 762\n3,12.3,\n";

fn utf16(text: &str, bytes_of: fn(u16) -> [u8; 2]) -> Vec<u8> {
    text.encode_utf16().flat_map(bytes_of).collect()
}

#[test]
fn every_encoding_gives_the_same_joints() {
    let plain = tally(TEXT).joints;
    let with_mark = |mark: &[u8], body: Vec<u8>| [mark, &body].concat();
    let ascii: Vec<u8> = TEXT
        .chars()
        .map(|c| u8::try_from(u32::from(c)).expect("Latin letters"))
        .collect();
    let cases = [
        (
            "UTF-8",
            with_mark(b"\xEF\xBB\xBF", TEXT.as_bytes().to_vec()),
        ),
        (
            "UTF-16LE",
            with_mark(b"\xFF\xFE", utf16(TEXT, u16::to_le_bytes)),
        ),
        (
            "UTF-16BE",
            with_mark(b"\xFE\xFF", utf16(TEXT, u16::to_be_bytes)),
        ),
        ("UTF-16LE", utf16(TEXT, u16::to_le_bytes)),
        ("UTF-16BE", utf16(TEXT, u16::to_be_bytes)),
        ("windows-1252", ascii),
    ];
    for (encoding, bytes) in cases {
        let read = read(&bytes, &Options::default()).expect(encoding);
        assert_eq!((&*read.encoding, &read.joints), (encoding, &plain));
    }
}

#[test]
fn every_line_end_gives_the_same_lines() {
    let plain = tally(TEXT);
    for end in ["\r\n", "\r", "\n"] {
        let read = tally(&TEXT.replace('\n', end));
        assert_eq!(read.joints, plain.joints, "{end:?}");
        let blank = tally(&TEXT.replace("\n2,", "\n\n\n2,").replace('\n', end));
        assert_eq!(skipped(&blank), [(3, SkipReason::BlankLines(2))], "{end:?}");
        assert_eq!(blank.joints[1].line, 5, "{end:?}");
    }
    assert_eq!(
        tally(TEXT.trim_end()).joints,
        plain.joints,
        "no line end at the end"
    );
}

#[test]
fn quoted_fields_may_hold_separators_quotes_and_line_ends() {
    let tally = tally(
        "\"Jt\",\"OAL (m)\",\"Remarks\"\n\"1\",\"12.1\",\"a, b\"\n\"2\",\"12.2\",\"6\"\" mark\ntwo lines\"\n3,12.3,\n",
    );
    assert_eq!(tally.joints[0].remarks(), Some("a, b"));
    assert_eq!(tally.joints[1].remarks(), Some("6\" mark\ntwo lines"));
    assert_eq!(tally.joints[2].line, 5);
}

#[test]
fn a_quote_that_swallows_rows_is_a_problem() {
    for text in [
        "Jt,OAL (m),Remarks\n1,12.1,\"note\n2,12.2,\n3,12.3,\n",
        "Jt,OAL (m),Remarks\n1,12.1,\"note\n2,12.2\n3,12.3\"\n4,12.1\n",
        "Jt,OAL (m),MUL (m)\n1,12.1,\n\"2,12.2,0.1\n",
        "Jt,OAL (m)\n\"1,12.1\n2\",12.2\n3,12.3\n",
    ] {
        let refused = refusal(text);
        assert!(refused.contains("close the quote"), "{text}\n{refused}");
    }
}

#[test]
fn semicolons_tabs_and_bars_separate_too() {
    for separator in [";", "\t", "|"] {
        let text = TEXT.replace(',', separator);
        assert_eq!(
            lengths(&tally(&text)),
            [mm(12_100), mm(12_200), mm(12_300)],
            "{separator:?}"
        );
    }
}

#[test]
fn a_decimal_comma_is_seen_from_the_numbers() {
    let tally = tally("Jt;OAL (m);MUL (m)\n1;12,1;0,000\n2;12,192;0,152\n3;12,3;0,152\n");
    assert_eq!(lengths(&tally), [mm(12_100), mm(12_192), mm(12_300)]);
    assert_eq!(losses(&tally)[1], Some(mm(152)));
}

#[test]
fn marks_for_thousands_are_seen_from_the_numbers() {
    let comma = tally("Jt;OAL (mm);MUL (mm)\n1;12,100;0.5\n2;12,192;152.0\n");
    assert_eq!(lengths(&comma), [mm(12_100), mm(12_192)]);
    let point = tally("Jt;OAL (mm);MUL (mm)\n1;12.100;0,5\n2;12.192,0;152,0\n");
    assert_eq!(lengths(&point), [mm(12_100), mm(12_192)]);
    let space = tally("Jt;OAL (mm)\n1;12 100\n2;12 192\n");
    assert_eq!(lengths(&space), [mm(12_100), mm(12_192)]);
}

#[test]
fn a_number_that_may_be_either_is_one_question_that_names_the_option() {
    // The lengths say nothing, and a running total may be either.
    let text = "Jt;OAL (m);Cum (m)\n1;12;12\n2;12;1,024\n";
    let refused = refusal(text);
    assert_eq!(
        refused,
        "line 3, column 3 (Cum (m)): `1,024` may be a decimal or a number with a mark for thousands; state it with \
         --decimal comma or --decimal point (in a job: read = { decimal = \"...\" })"
    );
    assert_eq!(lengths(&with(text, &decimal(DecimalMark::Point))).len(), 2);
}

#[test]
fn of_two_readings_one_of_which_is_impossible_the_other_is_taken() {
    for (text, expected) in [
        ("Jt;OAL (m)\n1;12,192\n2;12,115\n", [12_192, 12_115]),
        ("Jt;OAL (mm)\n1;12,192\n2;11,999\n", [12_192, 11_999]),
        ("Jt;OAL (mm)\n1;12.192\n2;12.191\n", [12_192, 12_191]),
        ("Jt;OAL (m)\n1;12.192\n2;12.191\n", [12_192, 12_191]),
        ("Jt;OAL\n1;12,192 mm\n2;12,115 mm\n", [12_192, 12_115]),
    ] {
        assert_eq!(lengths(&tally(text)), expected.map(mm), "{text}");
    }
    let feet = tally("Jt;OAL (ft)\n1;39,370\n2;40,000\n");
    assert_eq!(lengths(&feet)[1], mm(12_192));
    // What is neither is still asked about, and without a unit the unit is what settles it.
    assert!(refusal("Jt;OAL (in)\n1;1,200\n2;1,300\n").contains("--decimal"));
    let no_unit = refusal("Jt;OAL\n1;12,192\n2;12,115\n");
    assert!(
        no_unit.contains("in which unit") && !no_unit.contains("--decimal"),
        "{no_unit}"
    );
}

#[test]
fn a_zero_needs_no_unit() {
    let feet = Options {
        job_units: Some(Unit::Foot),
        ..Options::default()
    };
    let text = "Jt,OAL (m),MUL\n1,12.1,0\n2,12.2,0.000\n3,12.3,0\n";
    assert_eq!(losses(&with(text, &feet)), [Some(mm(0)); 3]);
    assert!(refusal_with(&text.replace("0.000", "0.152"), &feet).contains("in which unit"));
}

#[test]
fn thousands_are_set_apart_by_spaces_and_apostrophes_of_every_kind() {
    for gap in [" ", "\u{a0}", "\u{202f}", "\u{2009}", "'", "\u{2019}"] {
        let text = format!("Jt;OAL (mm);MUL (mm)\n1;12{gap}100,5;0\n2;12{gap}192,0;152\n");
        let tally = tally(&text);
        assert_eq!(lengths(&tally)[1], mm(12_192), "{gap:?}");
        assert_eq!(lengths(&tally)[0].nm(), 12_100_500_000, "{gap:?}");
    }
    // In Windows-1252 the space at which no line breaks is one byte.
    let bytes = b"Jt;OAL (mm);Note\n1;12\xA0100;\xD8 762\n2;12\xA0192;\n";
    let tally = read(bytes, &Options::default()).expect("a tally");
    assert_eq!(tally.encoding, "windows-1252");
    assert_eq!(lengths(&tally), [mm(12_100), mm(12_192)]);
}

#[test]
fn a_length_below_fifty_millimetres_asks_about_its_unit() {
    let refused = refusal("Jt,Kind,OAL (mm)\n1,,12100\n2,,12.2\nL1,landing,49\nL2,landing,50\n");
    assert_eq!(
        refused,
        "line 3, column 3 (OAL (mm)): joint 2 would be `12.2` = 0.0122 m long; expected at least 0.05 m: \
         is the decimal mark right (--decimal), and the unit?\n\
         line 4, column 3 (OAL (mm)): joint L1 would be `49` = 0.049 m long; expected at least 0.05 m: \
         is the unit right (metres taken for millimetres)?"
    );
}

#[test]
fn both_marks_as_decimals_are_a_conflict_that_names_both_cells() {
    let refused = refusal("Jt;OAL (m)\n1;12,1\n2;12.2\n");
    assert!(
        refused.contains("`12,1` has a decimal comma, but line 3 has a decimal point in `12.2`"),
        "{refused}"
    );
}

#[test]
fn a_comma_that_is_both_separator_and_decimal_mark_is_found_out() {
    let beyond = refusal("Jt,OAL (m)\n1,12.1\n2,12,191\n");
    assert!(
        beyond.contains("beyond the last column") && beyond.contains("is a comma both"),
        "{beyond}"
    );
    let hidden = refusal("Jt,OAL (m),Remarks\n1,12,192\n2,12,191\n");
    assert!(
        hidden.contains("`12,192`") && hidden.contains("--decimal point"),
        "{hidden}"
    );
    let confirmed = with(
        "Jt,OAL (m),Remarks\n1,12,192\n2,12,191\n",
        &decimal(DecimalMark::Point),
    );
    assert_eq!(lengths(&confirmed), [mm(12_000), mm(12_000)]);
    // Round lengths with a remark here and there are no such case.
    assert_eq!(tally("Jt,OAL (m),Remarks\n1,12,\n2,12,7\n").joints.len(), 2);
}

#[test]
fn a_row_within_one_cell_is_a_joint_without_a_length() {
    for row in [
        "\"A-02,K4001,12.2000,0.1520,,running\"",
        "2;12.2;0.152",
        "A-02 | 12.2000 | 0.1520 | running joint",
    ] {
        let text = format!("Jt,Serial,OAL (m),MUL (m),Note,Kind\nA-01,K4000,12.1,0,,\n{row}\n");
        let refused = refusal(&text);
        assert!(
            refused.contains("line 3, column 3 (OAL (m)): joint "),
            "{refused}"
        );
    }
}

#[test]
fn a_length_split_by_a_separator_is_found_in_its_row() {
    let refused =
        refusal("Jt,OAL (m),MUL (m),Remarks\n1,12.1,0.152,\n2,12.2,0,152,\n3,12.3,0.152,\n");
    assert!(
        refused.contains("line 3, column 4 (Remarks): `152` follows a length"),
        "{refused}"
    );
    // A separator at the end of every row does no harm.
    assert_eq!(
        tally("Jt,OAL (m),Remarks\n1,12.1,,\n2,12.2,new,\n")
            .joints
            .len(),
        2
    );
}
