//! What is read of a file at most: what is beyond is refused soon and by its line.

use super::super::limits::{Limit, MAX_ROW};
use super::*;

fn problems(text: &str) -> Vec<Problem> {
    read(text.as_bytes(), &Options::default()).expect_err("refused")
}

#[test]
fn a_row_of_more_than_a_mebibyte_is_refused() {
    let beyond = |line| {
        let limit = Limit::Row;
        [Problem::Beyond { line, limit }]
    };
    for letter in ["x", ",", ";", " "] {
        assert_eq!(problems(&format!("a{}", letter.repeat(MAX_ROW))), beyond(1));
    }
    let long = format!(
        "joint,length (m)\n1,12.1,{}\n2,12.2\n",
        "x,".repeat(MAX_ROW / 2)
    );
    assert_eq!(problems(&long), beyond(2));
    let fits = format!(
        "joint,length (m),remarks\n1,12.1,{}\n2,12.2\n",
        "x".repeat(MAX_ROW - 10)
    );
    let tally = tally(&fits);
    assert_eq!(tally.joints[0].remarks().map(str::len), Some(MAX_ROW - 10));
}

#[test]
fn a_quote_that_is_not_closed_within_a_mebibyte_is_told_by_its_line() {
    let open = |text: &str| match &problems(text)[..] {
        [Problem::OpenQuote { line, .. }] => *line,
        problems => panic!("{problems:?}"),
    };
    assert_eq!(
        open(&format!(
            "joint,length (m)\n1,12.1\n\"{}",
            "x".repeat(MAX_ROW)
        )),
        3
    );
    assert_eq!(
        open(&format!(
            "joint,length (m)\n1,\"{}",
            "1,12.1\n".repeat(MAX_ROW / 5)
        )),
        2
    );
    // In the heading it hides all that follows.
    assert_eq!(
        open(&format!("\"joint,length (m)\n{}", "1,12.1\n".repeat(20))),
        1
    );
    assert_eq!(
        open(&format!(
            "joint,\"length (m)\n{}",
            "1,12.1\n".repeat(MAX_ROW / 5)
        )),
        1
    );
}

#[test]
fn long_rows_and_short_ones_are_read_alike() {
    let remark = "a remark of more than two hundred and fifty-five letters, ".repeat(5);
    let tally = tally(&format!(
        "joint;serial;length (m);remarks\n1;S1;12.1;\n2;S2;12.2;{remark}\n3;S3;12.3;\"{remark};\"\n4;S4;12.4;-\n"
    ));
    let rows: Vec<_> = tally
        .joints
        .iter()
        .map(|it| (it.line, it.serial.as_deref()))
        .collect();
    assert_eq!(
        rows,
        [
            (2, Some("S1")),
            (3, Some("S2")),
            (4, Some("S3")),
            (5, Some("S4"))
        ]
    );
    assert_eq!(tally.joints[1].remarks(), Some(remark.trim()));
    assert_eq!(
        tally.joints[2].remarks(),
        Some(format!("{remark};").as_str())
    );
    assert_eq!(tally.joints[3].length, Some(mm(12_400)));
}

#[test]
fn a_text_that_is_not_utf_8_may_be_shorter() {
    let mut bytes = b"joint,length (m),remarks\n1,12.1,\xE9\n".to_vec();
    bytes.resize(33 * 1024 * 1024, b'\n');
    let limit = Limit::Decoded;
    let refused = read(&bytes, &Options::default()).expect_err("refused");
    assert_eq!(refused, [Problem::Beyond { line: 1, limit }]);
    bytes.truncate(1_000);
    assert!(read(&bytes, &Options::default()).is_ok());
}

#[test]
fn a_file_that_is_wrong_throughout_is_not_read_to_its_end() {
    let text = format!("joint,length (m)\n{}", "A-1,xx\n".repeat(101_000));
    assert!(matches!(
        problems(&text).last(),
        Some(Problem::AtLeast(100_000))
    ));
}
