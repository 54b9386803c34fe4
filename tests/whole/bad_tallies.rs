//! Tallies that must be refused, each with the message that a tired person reads: file, line, column,
//! what was found, what was expected, and the option where one settles it. Nothing on disk changes.

use std::fmt::Write as _;
use std::fs::{self, File};
use std::path::Path;

use crate::common::digests::{digests, without_folder};
use kerfmark::folder::read_tally;
use kerfmark::measure::{DecimalMark, LengthFormat, Unit};
use kerfmark::report::words;
use kerfmark::tally::import::{LengthColumn, MAX_FILE};
use kerfmark::tally::{Options, Pins, PipeString, read, review};

/// Writes each file, reads it, and lists what was said; a file that is read after all fails the test.
fn messages(cases: &[(&str, &[u8], Options)]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, bytes, _) in cases {
        fs::write(folder.path().join(name), bytes).expect("a file");
    }
    let before = digests(folder.path());
    let mut said = String::new();
    for (name, _, options) in cases {
        said.push_str(&message(folder.path(), name, options));
    }
    assert_eq!(digests(folder.path()), before, "reading changed something");
    said
}

fn message(folder: &Path, name: &str, options: &Options) -> String {
    match read_tally(&folder.join(name), options) {
        Ok(tally) => panic!("{name} was read: {:#?}", tally.joints),
        Err(error) => {
            let mut text = without_folder(&error.to_string(), folder);
            text.push_str("\n\n");
            text
        }
    }
}

/// Cases with no options.
fn plain(cases: &[(&'static str, &'static str)]) -> String {
    let cases: Vec<_> = cases
        .iter()
        .map(|(name, text)| (*name, text.as_bytes(), Options::default()))
        .collect();
    messages(&cases)
}

#[test]
fn files_that_are_no_tally() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path();
    fs::write(root.join("empty.csv"), "").expect("a file");
    fs::write(root.join("blank.csv"), " \n\n\t\n").expect("a file");
    fs::write(root.join("workbook.csv"), b"PK\x03\x04\x14\0\x06\0").expect("a file");
    fs::write(
        root.join("bytes.csv"),
        b"joint,length\n1,\x01\x02\xFF\xFE\n",
    )
    .expect("a file");
    fs::write(root.join("half.csv"), b"\xFF\xFEj\0o\0i").expect("a file");
    fs::write(
        root.join("marked.csv"),
        b"\xEF\xBB\xBFjoint,length\n1,\xFF\n",
    )
    .expect("a file");
    fs::create_dir(root.join("folder.csv")).expect("a folder");
    let large = File::create(root.join("large.csv")).expect("a file");
    large.set_len(300 * 1024 * 1024).expect("a sparse file");
    const { assert!(300 * 1024 * 1024 > MAX_FILE) };
    let before = digests(root);
    let mut said = String::new();
    for name in [
        "empty.csv",
        "blank.csv",
        "workbook.csv",
        "bytes.csv",
        "half.csv",
        "marked.csv",
        "folder.csv",
        "large.csv",
    ] {
        said.push_str(&message(root, name, &Options::default()));
    }
    assert_eq!(digests(root), before);
    insta::assert_snapshot!(said);
    // What the system says of a missing file differs from system to system.
    let missing = message(root, "missing.csv", &Options::default());
    assert!(
        missing.starts_with("missing.csv: cannot be read: "),
        "{missing}"
    );
}

#[test]
fn headers_that_do_not_say_enough() {
    let said = plain(&[
        ("no-header.csv", "1,12.100\n2,12.200\n"),
        (
            "no-length.csv",
            "joint,serial,kind\n1,K400,shoe\n2,K407,joint\n",
        ),
        (
            "no-joint.csv",
            "serial,length (m)\nK400,12.100\nK407,12.200\n",
        ),
        ("no-joints.csv", "joint,length (m)\n"),
        (
            "only-landing.csv",
            "joint,kind,length (m)\nL1,landing,9.100\n",
        ),
        (
            "two-lengths.csv",
            "joint,length (m),OAL (m)\n1,12.100,12.100\n2,12.200,12.200\n",
        ),
        (
            "either-length.csv",
            "joint,tally length (m)\n1,12.100\n2,12.200\n",
        ),
        (
            "two-tables.csv",
            "joint,length (m),makeup_loss (m)\n1,12.100,0.152\njoint,makeup_loss (m),length (m)\n2,0.152,12.200\n",
        ),
        (
            "other-unit-below.csv",
            "joint,length (m)\n,ft\n1,12.100\n2,12.200\n",
        ),
        (
            "other-unit-later.csv",
            "joint,length (m)\n1,12.100\n2,12.200\njoint,length (ft)\n3,40.00\n",
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn lengths_that_are_none() {
    let said = plain(&[
        (
            "text.csv",
            "joint,length (m)\n1,12.100\n2,twelve\n3,12.l00\n",
        ),
        ("blank.csv", "joint,length (m)\n1,12.100\n2,\n3,12.300\n"),
        ("negative.csv", "joint,length (m)\n1,12.100\n2,-12.200\n"),
        ("zero.csv", "joint,length (m)\n1,12.100\n2,0.000\n"),
        (
            "feet-as-metres.csv",
            "joint,length (m)\n1,39.500\n2,39.42\n",
        ),
        ("exponent.csv", "joint,length (m)\n1,1.21e1\n2,12.200\n"),
        ("infinite.csv", "joint,length (m)\n1,inf\n2,NaN\n"),
        (
            "too-fine.csv",
            "joint,length (m)\n1,12.1000000001\n2,12.200\n",
        ),
        (
            "thirteen-inches.csv",
            "joint,length (ft-in)\n1,39'-13\"\n2,39'-6\"\n",
        ),
        (
            "bad-fraction.csv",
            "joint,length (ft-in)\n1,39'-6 1/3\"\n2,39'-6 5/4\"\n3,39'-6\"\n",
        ),
        ("bare-decimal.csv", "joint,length (ft-in)\n1,39.6\n2,39-6\n"),
        (
            "unit-of-mass.csv",
            "joint,length (m)\n1,12.100 kg\n2,12.200\n",
        ),
        ("spaced-out.csv", "joint,length (m)\n1,1 2.100\n2,12.200\n"),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn losses_that_are_none() {
    let said = plain(&[
        (
            "longer-than-its-joint.csv",
            "joint,length (m),makeup_loss (m)\n1,12.100,0\n2,1.500,1.520\n",
        ),
        (
            "negative.csv",
            "joint,length (m),makeup_loss (m)\n1,12.100,0\n2,12.200,-0.152\n",
        ),
        (
            "text.csv",
            "joint,length (m),makeup_loss (m)\n1,12.100,0\n2,12.200,same\n",
        ),
        (
            "inches-under-feet.csv",
            "joint,length (ft),makeup_loss\n1,40.00,0\n2,39.50,6\n3,39.40,6\n",
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn cells_out_of_place() {
    let said = plain(&[
        ("comma-twice.csv", "joint,length (m)\n1,12.100\n2,12,200\n"),
        (
            "comma-always-twice.csv",
            "joint,length (m),remarks\n1,12,100\n2,12,200\n",
        ),
        ("both-marks.csv", "joint;length (m)\n1;12,10\n2;12.20\n"),
        (
            "decimal-or-thousands.csv",
            "joint;length (m);cum (m)\n1;12;12\n2;12;1,024\n",
        ),
        (
            "open-quote.csv",
            "joint,length (m),remarks\n1,12.100,\"dent\n2,12.200,\n3,12.300,\n",
        ),
        (
            "no-number.csv",
            "joint,length (m)\n1,12.100\n,12.200\n3,12.300\n",
        ),
        (
            "remark-with-a-figure.csv",
            "joint,length (m)\n1,12.100\n2,12.200\nstick-up,1.120\n",
        ),
        (
            "shoe-in-the-middle.csv",
            "joint,kind,length (m)\n1,,12.100\n2,shoe,12.200\n3,,12.300\n",
        ),
        (
            "two-tops.csv",
            "joint,kind,length (m)\n1,shoe,12.100\n2,top,12.200\n3,top,12.300\n",
        ),
        (
            "landing-in-the-middle.csv",
            "joint,kind,length (m)\n1,shoe,12.100\n2,landing,9.200\n3,top,12.300\n",
        ),
        (
            "both-ends-shoe.csv",
            "joint,kind,length (m)\n1,shoe,12.100\n2,,12.200\nL1,landing,9.100\n3,,12.100\n",
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn answers_that_contradict_the_file() {
    let with = |set: fn(&mut Options)| {
        let mut options = Options::default();
        set(&mut options);
        options
    };
    let metres = b"joint,OAL (m)\n1,12.100\n2,12.200\n".as_slice();
    let kinds = b"joint,kind,length (m)\n1,shoe,12.100\n2,,12.200\n3,top,12.300\n".as_slice();
    let said = messages(&[
        (
            "units.csv",
            metres,
            with(|options| options.units = Some(Unit::Foot)),
        ),
        (
            "feet-point-inches.csv",
            metres,
            with(|options| options.feet_point_inches = true),
        ),
        (
            "landing.csv",
            kinds,
            with(|options| options.landing = Some(vec!["L1".to_owned()])),
        ),
        (
            "column.csv",
            kinds,
            with(|options| {
                options.columns = vec!["length=F".parse().expect("a column")];
            }),
        ),
        (
            "rows.csv",
            kinds,
            with(|options| options.rows = "7-9".parse().ok()),
        ),
        (
            "length.csv",
            metres,
            with(|options| options.length = Some(LengthColumn::Effective)),
        ),
        (
            "decimal.csv",
            metres,
            with(|options| options.decimal = Some(DecimalMark::Comma)),
        ),
        (
            "sheet.csv",
            metres,
            with(|options| options.sheet = Some("Slot A".to_owned())),
        ),
        (
            "no-unit.csv",
            b"joint,length\n1,12.100\n2,12.200\n",
            Options::default(),
        ),
        (
            "order-open.csv",
            b"joint,length (m),cum (m)\n1,12.100,24.300\n2,12.200,12.200\n",
            Options::default(),
        ),
        (
            "kinds-and-totals.csv",
            b"joint,kind,length (m),cum (m)\nP,shoe,12.100,24.300\nQ,,12.200,12.200\n",
            Options::default(),
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn many_problems_are_told_at_once_and_then_counted() {
    let mut text = "joint,length (m)\n".to_owned();
    for joint in 1..=60 {
        let _ = writeln!(text, "{joint},x{joint}");
    }
    let said = messages(&[("sixty.csv", text.as_bytes(), Options::default())]);
    let lines: Vec<&str> = said.trim_end().lines().collect();
    assert_eq!(lines.len(), 41);
    assert_eq!(
        lines.last(),
        Some(&"sixty.csv: and 20 more problems of the same kinds")
    );
}

/// The longest run of the letter `z` in a text, and the length of the text in bytes.
fn repeated(text: &str) -> usize {
    text.split(|letter| letter != 'z')
        .map(|run| run.chars().count())
        .max()
        .unwrap_or(0)
}

#[test]
fn no_message_repeats_more_than_eighty_characters_of_a_cell_or_is_longer_than_4_kib() {
    let long = "z".repeat(300_000);
    let heading = "joint,kind,length (m),makeup_loss (m),remarks";
    let cases = [
        long.clone(),
        format!("{long},{long},{long}\n"),
        format!("{}\n", vec!["zzzz"; 60_000].join(",")),
        format!("joint,{}\n1,2\n", vec!["zzzz"; 60_000].join(",")),
        format!("length,{}\n1,2\n", vec!["zzzz"; 60_000].join(",")),
        format!("joint,length {long}\n1,12.1\n"),
        format!("joint,{long},length (m)\n1,,12.1\n,,12.2\n"),
        format!("joint,length (m) {long}\n1,twelve\n"),
        format!("joint,length ({long})\n1,12.1\n"),
        format!("{heading}\n1,,{long},0.1,\n2,,12.1,0.1,\n"),
        format!("{heading}\n1,,1{long},0.1,\n2,,12.1,0.1,\n"),
        format!("{heading}\n1,,12.1 {long},0.1,\n2,,12.1,0.1,\n"),
        format!("{heading}\n1,,12.1,{long},\n2,,12.1,0.1,\n"),
        format!("{heading}\n1,{long},12.1,0.1,\n2,,12.1,0.1,rejected\n"),
        format!("{heading}\n{long} rejected,,12.1,0.1,\n2,,12.1,0.1,\n"),
        format!("{heading}\n1,,12.1,0.1,\n{long},,12.1,0.1,landing joint {long}\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n{long},joint,12.1,20,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n{long},joint,99,0.1,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n{long},joint,-9,0.1,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n{long},joint,,0.1,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n{long},,12.1,,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n2,,12.1,0.1,,12.5,{long}\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n{long}: x y z,,12.1,,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\n,,1{long},,\n"),
        format!("{heading}\n1,joint,12.1,0.1,\"{long}\n2,joint,12.1,0.1,\n"),
        format!("joint;length (m)\n1;12,1{long}\n2;12.1{long}\n"),
        format!("joint;length (m)\n1;12,100 {long}\n2;12,200\n"),
        format!("joint,length (ft),makeup_loss {long}\n1,39,6\n2,39,6\n3,39,6\n"),
        format!("joint,length (m) {long},cum (m)\n1,12.1,24.3\n2,12.2,12.2\n"),
    ];
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("long.csv");
    for text in &cases {
        fs::write(&file, text).expect("a file");
        let begins: String = text.chars().take(90).collect();
        let Err(error) = read_tally(&file, &Options::default()) else {
            panic!("{begins}… was read");
        };
        for problem in &error.problems {
            let said = problem.to_string();
            assert!(said.len() <= 4096, "{begins}: {} bytes", said.len());
            assert!(repeated(&said) <= 80, "{begins}: {said}");
        }
    }
    // A sheet that is named but not there, and one that is named for a text.
    let options = Options {
        sheet: Some(long),
        ..Options::default()
    };
    for bytes in [
        b"joint,length (m)\n1,12.1\n".as_slice(),
        include_bytes!("../fixtures/workbooks/two-tallies.xlsx"),
    ] {
        fs::write(&file, bytes).expect("a file");
        let error = read_tally(&file, &options).expect_err("no such sheet");
        assert!(repeated(&error.to_string()) <= 80, "{error}");
    }
}

#[test]
fn no_flag_repeats_more_than_eighty_characters_of_a_cell_or_is_longer_than_4_kib() {
    let long = "x".repeat(5_000);
    let text = format!(
        "joint,serial,length (m),makeup_loss (m)\n1,{long},12.1,0\n2,{long},12.2,0.15\n\
         {long}3,S,12.3,0.15\n{long}3,T,12.3,0.15\n"
    );
    let tally = read(text.as_bytes(), &Options::default()).expect("a tally that reads");
    let string = PipeString::make_up(&tally, Pins::default());
    let flags = review(&tally, &string, Pins::default());
    assert!(flags.len() >= 2, "{flags:?}");
    for flag in flags {
        let said = words::flag(&flag, LengthFormat::new(Unit::Metre));
        assert!(
            said.len() < 4_096 && !said.contains(&"x".repeat(81)),
            "{said}"
        );
    }
}
