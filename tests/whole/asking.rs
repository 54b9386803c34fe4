//! Tallies that leave something open, as text and as workbooks: each is a question that names every row and
//! the options that settle it, and the answer gives the string that was meant. All data is invented.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::Command;

use crate::common::copies::copy_of;
use crate::common::forms::{forms, ods_of};
use kerfmark::finding::Code;
use kerfmark::measure::{Length, LengthFormat, Unit};
use kerfmark::report::words;
use kerfmark::tally::import::{Blocks, NotRun};
use kerfmark::tally::{Joint, Kind, Options, Pins, PipeString, Tally, read, review};

fn options(set: impl FnOnce(&mut Options)) -> Options {
    let mut options = Options::default();
    set(&mut options);
    options
}

fn column(text: &str) -> Options {
    options(|options| options.columns = vec![text.parse().expect("a column")])
}

fn landing(joints: &[&str]) -> Options {
    options(|options| {
        options.landing = Some(joints.iter().map(|joint| (*joint).to_owned()).collect());
    })
}

fn read_as(name: &str, bytes: &[u8], options: &Options) -> Tally {
    read(bytes, options).unwrap_or_else(|problems| {
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{name}: {}", said.join("\n"))
    })
}

/// What is said of a file that is not read.
fn refusal(bytes: &[u8], options: &Options) -> String {
    match read(bytes, options) {
        Ok(tally) => panic!("read as {:#?}", tally.joints),
        Err(problems) => {
            let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
            said.join("\n")
        }
    }
}

type Row = (String, Option<Kind>, Option<Length>, Option<Length>);

fn rows(tally: &Tally) -> Vec<Row> {
    let of = |joint: &Joint| {
        (
            joint.number.to_string(),
            joint.kind,
            joint.overall,
            joint.makeup_loss,
        )
    };
    tally.joints.iter().map(of).collect()
}

/// A table that reads the same in every form.
fn tally(text: &str, options: &Options) -> Tally {
    let [(_, text), others @ ..] = forms(text);
    let tally = read_as("text", &text, options);
    for (form, bytes) in others {
        assert_eq!(
            rows(&read_as(form, &bytes, options)),
            rows(&tally),
            "{form}"
        );
    }
    tally
}

/// A table that is a question in every form, which ends with the same options; what is said of the text.
fn question(text: &str, options: &Options) -> String {
    let [(_, text), others @ ..] = forms(text);
    let said = refusal(&text, options);
    let answers = |said: &str| -> Vec<String> {
        let words = said.split([' ', ';', '.', ',', ')']);
        let answers = words.filter(|word| word.starts_with("--") || word.contains('='));
        answers.map(str::to_owned).collect()
    };
    for (form, bytes) in others {
        let other = refusal(&bytes, options);
        assert_eq!(answers(&other), answers(&said), "{form}: {other}");
    }
    said
}

fn numbers(tally: &Tally) -> Vec<&str> {
    tally.joints.iter().map(|joint| &*joint.number).collect()
}

fn codes(tally: &Tally) -> Vec<Code> {
    let string = PipeString::make_up(tally, Pins::default());
    let flags = review(tally, &string, Pins::default());
    flags.iter().map(|flag| flag.code).collect()
}

/// The flags of a code in words.
fn said(tally: &Tally, code: Code) -> Vec<String> {
    let string = PipeString::make_up(tally, Pins::default());
    let flags = review(tally, &string, Pins::default());
    let format = LengthFormat::new(Unit::Metre);
    let flags = flags.iter().filter(|flag| flag.code == code);
    flags.map(|flag| words::flag(flag, format)).collect()
}

fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

fn length(tally: &Tally) -> Length {
    PipeString::make_up(tally, Pins::default()).length
}

const REJECTED: &str = "Jt No,S/N,OAL (m),MUL (m),Status,Remarks\n\
    1,S1,12.1,0.0,ok,\n2,S2,12.2,0.15,ok,\n3,S3,12.3,0.15,no,\n4,S4,12.4,0.15,ok,\"laid down, bent pin\"\n\
    5 (spare),S5,12.5,0.15,ok,\n6,REJ,12.6,0.15,ok,\n";

#[test]
fn rows_that_may_not_be_in_the_string_are_left_out_or_counted_and_flagged() {
    assert_eq!(
        question(REJECTED, &Options::default()),
        "were these run? line 4 joint 3: column 5 says `no`; line 5 joint 4: `laid down` in column 6; \
         line 6 joint 5 (spare): `spare` in column 1. Leave them out with --not-run leave-out, or count them with \
         --not-run count (in a job: read = { not_run = \"...\" })"
    );
    let left = tally(REJECTED, &options(|it| it.not_run = Some(NotRun::LeaveOut)));
    assert_eq!(numbers(&left), ["1", "2", "6"]);
    assert_eq!(length(&left), mm(36_900 - 300));
    let skipped: Vec<(u32, String)> = left
        .skipped
        .iter()
        .map(|it| (it.line, words::skip_reason(it.why)))
        .collect();
    assert_eq!(
        skipped,
        [
            (4, "left out as not run: column 5 says `no`".to_owned()),
            (5, "left out as not run: `laid down` in column 6".to_owned()),
            (6, "left out as not run: `spare` in column 1".to_owned()),
        ]
    );
    let counted = tally(REJECTED, &options(|it| it.not_run = Some(NotRun::Count)));
    assert_eq!(length(&counted), mm(74_100 - 750));
    assert_eq!(
        said(&counted, Code::RowsDoubted),
        [
            "3 rows are counted although they may not have been run: 3 (line 4): column 5 says `no`; \
          4 (line 5): `laid down` in column 6; 5 (spare) (line 6): `spare` in column 1"
        ]
    );
    assert!(said(&left, Code::RowsDoubted).is_empty());
}

fn shown(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/shown");
    fs::read(folder.join(name)).expect("a fixture")
}

#[test]
fn rows_that_are_hidden_filtered_or_struck_through_are_asked_about() {
    for kind in ["xlsx", "ods"] {
        let plain = read_as(kind, &shown(&format!("plain.{kind}")), &Options::default());
        assert_eq!((plain.joints.len(), plain.notes.len()), (8, 0), "{kind}");
        for (name, sign, joints) in [
            ("hidden", "the row is hidden", 2),
            ("filtered", "the row is filtered out", 2),
            ("struck", "struck through", 2),
            ("part", "struck through", 1),
        ] {
            let bytes = shown(&format!("{name}.{kind}"));
            let second = format!("; line 5 joint C-04: {sign}");
            let second = if joints == 2 { &second } else { "" };
            assert_eq!(
                refusal(&bytes, &Options::default()),
                format!(
                    "were these run? line 4 joint C-03: {sign}{second}. Leave them out with --not-run leave-out, or \
                     count them with --not-run count (in a job: read = {{ not_run = \"...\" }})"
                ),
                "{name}.{kind}"
            );
            for (answer, left) in [(NotRun::LeaveOut, 8 - joints), (NotRun::Count, 8)] {
                let tally = read_as(name, &bytes, &options(|it| it.not_run = Some(answer)));
                assert_eq!(tally.joints.len(), left, "{name}.{kind}");
                let flagged = codes(&tally).contains(&Code::RowsDoubted);
                assert_eq!(flagged, answer == NotRun::Count, "{name}.{kind}");
            }
        }
    }
}

#[test]
fn an_old_workbook_says_that_nobody_looked_for_what_is_hidden_in_it() {
    for name in ["plain", "hidden", "struck"] {
        let old = read_as(name, &shown(&format!("{name}.xls")), &Options::default());
        assert_eq!(old.joints.len(), 8);
        let notes: Vec<String> = old.notes.iter().map(words::file_note).collect();
        assert_eq!(
            notes,
            [
                "hidden or filtered rows and lengths that are struck through were not looked for in this workbook (in .xls \
              they never are)"
            ]
        );
    }
}

#[test]
fn styles_by_column_row_and_inheritance_strike_through_in_an_open_document() {
    let style = |name: &str, rest: &str| {
        format!(
            "<style:style style:name=\"{name}\" style:family=\"table-cell\"{rest}</style:style>"
        )
    };
    let strikes = "<style:text-properties style:text-line-through-style=\"solid\"/>";
    let not = "<style:text-properties style:text-line-through-style=\"none\"/>";
    let styles = format!(
        "{}{}{}",
        style("struck", &format!(">{strikes}")),
        style("heir", " style:parent-style-name=\"struck\">"),
        style(
            "plain",
            &format!(" style:parent-style-name=\"struck\">{not}")
        )
    );
    let cell = |text: &str, style: &str| {
        format!(
            "<table:table-cell office:value-type=\"string\"{style}><text:p>{text}</text:p></table:table-cell>"
        )
    };
    let row = |attributes: &str, joint: &str, style: &str| {
        format!(
            "<table:table-row{attributes}>{}{}</table:table-row>",
            cell(joint, " table:style-name=\"plain\""),
            cell("12.1", style)
        )
    };
    let named = |name: &str| format!(" table:style-name=\"{name}\"");
    let by_row = " table:default-cell-style-name=\"struck\"";
    let table = format!(
        "<table:table table:name=\"S\"><table:table-column/><table:table-column table:default-cell-style-name=\"heir\"/>\
         <table:table-row>{}{}</table:table-row>{}{}{}{}{}\
         <table:table-row table:number-rows-repeated=\"1000000\" table:visibility=\"collapse\"><table:table-cell/></table:table-row>\
         </table:table>",
        cell("joint", &named("plain")),
        cell("length (m)", &named("plain")),
        row("", "1", &named("plain")),
        row("", "2", ""),
        row(by_row, "3", ""),
        row("", "4", &named("heir")),
        row("", "5", &named("plain")),
    );
    // The body is ended and begun again, so that the styles come before it.
    let bytes = ods_of(&format!(
        "</office:spreadsheet></office:body><office:automatic-styles>{styles}</office:automatic-styles><office:body><office:spreadsheet>{table}"
    ));
    let said = refusal(&bytes, &Options::default());
    assert!(
        said.starts_with(
            "were these run? line 3 joint 2: struck through; line 4 joint 3: struck through; line 5 joint 4: struck \
             through. Leave"
        ),
        "{said}"
    );
}

const LANDING: &str = "Jt,OAL (m),MUL (m),Remarks\n\
    1,12.1,0.0,shoe\n2,12.2,0.15,\n3,12.3,0.15,\n4,9.0,0.1,Landing joint no 4\nRunning tool,1.5,0.1,\n";

#[test]
fn landing_strings_in_a_list_without_kinds_are_asked_about() {
    assert_eq!(
        question(LANDING, &Options::default()),
        "are these part of a landing string, which comes off again? line 5 joint 4: `landing joint` in column 4; \
         line 6 joint Running tool: `running tool` in column 1. Name those that are with --landing 4,Running tool, or \
         say --landing none (in a job: read = { landing = [\"...\"] }), or give the list a column of kinds"
    );
    let landed = tally(LANDING, &landing(&["4", "running tool"]));
    assert_eq!(landed.conductor_joints(), 3);
    assert_eq!(length(&landed), mm(36_600 - 300));
    let none = tally(LANDING, &landing(&[]));
    assert_eq!(
        (none.conductor_joints(), length(&none)),
        (5, mm(47_100 - 500))
    );
    assert_eq!(
        question(LANDING, &landing(&["4", "Running tool", "9"])),
        "no joint matches `9`, which is named as a landing joint; expected the number of a joint as the list writes it"
    );
    // A column of kinds settles it, and a kind that is given is not asked about.
    let kinds = "Jt,Kind,OAL (m),Remarks\n1,shoe,12.1,\n2,joint,12.2,below landing joint\nL,landing,9.0,landing joint\n";
    assert_eq!(tally(kinds, &Options::default()).conductor_joints(), 2);
    let blank = kinds.replace("L,landing", "L,tool");
    assert!(
        question(&blank, &Options::default())
            .contains("line 4 joint L: `landing joint` in column 4")
    );
}

#[test]
fn kinds_go_by_many_names_and_an_unknown_one_is_blank_and_flagged() {
    let text = "Jt,Kind,OAL (m),MUL (m)\n1,Float shoe,12.1,0.0\n2,Standard,12.2,0.15\n3,RJ,12.3,0.15\n4,std,12.2,0.15\n\
                5,Short joint,2.5,0.15\n6,Crossover,1.5,0.15\n7,Pup Joint,3.5,0.15\n8,joint,12.1,0.15\n9,,12.2,0.15\n\
                10,jont,12.2,0.15\n11,Handling joint,9.1,0.1\n";
    let tally = tally(text, &Options::default());
    let kinds: Vec<Option<&str>> = tally
        .joints
        .iter()
        .map(|joint| joint.kind.map(Kind::name))
        .collect();
    assert_eq!(
        kinds,
        [
            Some("shoe"),
            Some("joint"),
            Some("running"),
            Some("joint"),
            Some("pup"),
            Some("pup"),
            Some("pup"),
            Some("joint"),
            None,
            None,
            Some("landing")
        ]
    );
    assert_eq!(
        said(&tally, Code::KindUnknown),
        [
            "no kind of joint, read as blank on 1 row: `jont` at 10 (line 11); the kinds are shoe, joint, running, pup, \
          top and landing"
        ]
    );
    assert_eq!(codes(&tally), [Code::KindUnknown], "a pup is no outlier");
}

#[test]
fn a_heading_of_shares_is_never_a_length_or_a_loss() {
    for heading in [
        "Length (%)",
        "Length %",
        "Length percent",
        "Length per cent",
        "Eff. length / %",
    ] {
        let text = format!("Jt,{heading},OAL (m),Loss %\n1,98,12.1,1.2\n2,99,12.2,1.2\n");
        let tally = tally(&text, &Options::default());
        assert_eq!(length(&tally), mm(24_300), "{heading}");
        assert_eq!(rows(&tally)[1].3, None);
    }
    let below = "Jt,OAL,Loss,MUL\n,m,%,m\n1,12.1,1.2,0.15\n2,12.2,1.2,0.15\n";
    assert_eq!(length(&tally(below, &Options::default())), mm(24_300 - 150));
}

const POINT: &str =
    "Jt,OAL (ft)\n1,39.06\n2,40.00\n3,39.11\n4,40.01\n5,39.10\n6,39.04\n7,40.03\n8,39.05\n";

#[test]
fn feet_a_point_and_inches_are_a_question_from_eight_rows_up() {
    assert_eq!(
        question(POINT, &Options::default()),
        "line 2, column 2 (OAL (ft)): is `39.06` in feet and hundredths, or in feet and inches with a point between \
         them? No two digits after a point are above 11. State it with --units ft or --units feet-point-inches (in a \
         job: read = { units = \"...\" })"
    );
    let inches = |feet: i64, inches: i64| Some(Length::from_nm((feet * 12 + inches) * 25_400_000));
    let with_point = tally(POINT, &options(|it| it.feet_point_inches = true));
    let lengths: Vec<Option<Length>> = rows(&with_point).into_iter().map(|row| row.2).collect();
    assert_eq!(
        lengths,
        [
            inches(39, 6),
            inches(40, 0),
            inches(39, 11),
            inches(40, 1),
            inches(39, 10),
            inches(39, 4),
            inches(40, 3),
            inches(39, 5)
        ]
    );
    let feet = tally(POINT, &options(|it| it.units = Some(Unit::Foot)));
    assert_eq!(rows(&feet)[0].2, Some(Length::from_nm(3_906 * 3_048_000)));
    // Seven rows, one above .11, or nothing above .00 are plain feet.
    for fine in [
        POINT.rsplit_once("8,").expect("a row").0.to_owned(),
        POINT.replace("39.05", "39.12"),
        "Jt,OAL (ft)\n1,39.00\n2,40.00\n3,39.00\n4,40.00\n5,39.00\n6,39.00\n7,40.00\n8,39.00\n"
            .to_owned(),
    ] {
        tally(&fine, &Options::default());
    }
    let beyond = question(
        &POINT.replace("39.05", "39.12"),
        &options(|it| it.feet_point_inches = true),
    );
    assert!(
        beyond.contains("`39.12` is not in feet, a point and inches"),
        "{beyond}"
    );
}

#[test]
fn tables_side_by_side_are_read_one_after_the_other_where_their_numbers_go_on() {
    let text = "Tally of slot K,,,,,\nJt,OAL (m),,Jt,OAL (m),\n1,12.1,,4,12.4,\n2,12.2,,5,12.5,\n3,12.3,,6,12.6,\n\
                Total,36.6,,Total,37.5,\nJt,OAL (m),,Jt,OAL (m),\n7,12.1,,9,12.3,\n8,12.2,,,,\n";
    let whole = tally(text, &Options::default());
    assert_eq!(
        numbers(&whole),
        ["1", "2", "3", "4", "5", "6", "7", "8", "9"]
    );
    assert_eq!(length(&whole), mm(110_700));
    let notes: Vec<String> = whole.notes.iter().map(words::file_note).collect();
    assert_eq!(
        notes,
        ["2 tables side by side are read one after the other, from left to right"]
    );
    assert!(!codes(&whole).contains(&Code::TotalDisagrees));
    // Each page's total is checked against its own table.
    let wrong = tally(&text.replace("37.5", "37.9"), &Options::default());
    assert!(codes(&wrong).contains(&Code::TotalDisagrees));

    let totals = "No,OAL (m),Cum (m),No,OAL (m),Cum (m)\nK1,12.1,12.1,M1,12.3,36.6\nK2,12.2,24.3,M2,12.4,49.0\n";
    assert_eq!(
        numbers(&tally(totals, &Options::default())),
        ["K1", "K2", "M1", "M2"]
    );
}

#[test]
fn tables_side_by_side_that_do_not_go_on_are_a_question() {
    let text = "Jt,OAL (m),Jt,OAL (m)\n1,12.1,1,12.4\n2,12.2,2,12.5\n";
    assert_eq!(
        question(text, &Options::default()),
        "line 1: how are these 2 tables side by side to be read? Neither joint numbers nor running totals go on from \
         each to the next. Read them one after the other with --blocks across, or the first alone with --blocks first \
         (in a job: read = { blocks = \"...\" })"
    );
    let across = tally(text, &options(|it| it.blocks = Some(Blocks::Across)));
    assert_eq!(numbers(&across), ["1", "2", "1", "2"]);
    let first = tally(text, &options(|it| it.blocks = Some(Blocks::First)));
    assert_eq!(numbers(&first), ["1", "2"]);
    assert_eq!(
        words::file_note(&first.notes[0]),
        "the table to the right of the first is not read"
    );
    // Numbers that go on along the rows are followed once it is said that all tables count.
    let by_row = "Jt,OAL (m),Jt,OAL (m)\n1,12.1,2,12.2\n3,12.3,4,12.4\n";
    assert!(question(by_row, &Options::default()).contains("--blocks across"));
    let across = tally(by_row, &options(|it| it.blocks = Some(Blocks::Across)));
    assert_eq!(numbers(&across), ["1", "2", "3", "4"]);
    // A cell of the second table is named by its own column.
    let wrong = question(
        &text.replace("2,12.5", "2,twelve"),
        &options(|it| it.blocks = Some(Blocks::Across)),
    );
    assert!(
        wrong.starts_with("line 3, column 4 (OAL (m)): `twelve`"),
        "{wrong}"
    );
}

#[test]
fn a_column_named_by_hand_leaves_no_table_beside_it_out() {
    let text = "Jt,OAL (m),Lost (m),Jt,OAL (m),Lost (m)\n1,12.1,0.0,3,12.3,0.15\n2,12.2,0.15,4,12.4,0.15\n";
    let tally = tally(text, &column("loss=Lost (m)"));
    assert_eq!(numbers(&tally), ["1", "2", "3", "4"]);
    assert_eq!(length(&tally), mm(49_000 - 450));
    let by_number = read_as("text", text.as_bytes(), &column("joint=1"));
    assert_eq!(numbers(&by_number), ["1", "2", "3", "4"]);
}

#[test]
fn numbers_that_no_heading_names_are_a_question_beside_joints() {
    let text = "Jt,OAL (m),,\n1,12.1,,0.15\n2,12.2,,0.16\n3,12.3,,0.15\n";
    assert_eq!(
        question(text, &Options::default()),
        "line 2, column 4: what is `0.15`? Numbers stand beside joints in a column that no heading names. If they are \
         not part of the tally confirm the column of lengths with --column length=B; if they are, name that column, \
         such as --column loss=D (in a job: read = { columns = { length = \"B\" } }); of lists side by side --blocks \
         first reads the first alone"
    );
    let named = tally(text, &column("loss=D"));
    assert_eq!(length(&named), mm(36_600 - 310));
    let confirmed = tally(text, &column("length=B"));
    assert_eq!(length(&confirmed), mm(36_600));
    tally(text, &options(|it| it.blocks = Some(Blocks::First)));
    // A column that only numbers the rows, and one of texts, are none.
    for fine in [
        ",Jt,OAL (m)\n1,K7,12.1\n2,K3,12.2\n3,K5,12.3\n",
        "Jt,OAL (m),\n1,12.1,ok\n2,12.2,ok\n",
    ] {
        assert!(tally(fine, &Options::default()).joints.len() > 1);
    }
}

#[test]
fn columns_are_named_by_letter_number_or_heading() {
    let text = "Yard list,invented\nPiece,Mark,Strapped,Swallowed,Said\n1,S1,12.1,0.0,\n2,S2,12.2,0.15,dent\n";
    let by = |joint: &str, length: &str, loss: &str| {
        options(|it| {
            it.units = Some(Unit::Metre);
            it.columns = [
                format!("joint={joint}"),
                format!("length={length}"),
                format!("loss={loss}"),
                "remarks=Said".to_owned(),
            ]
            .iter()
            .map(|text| text.parse().expect("a column"))
            .collect();
        })
    };
    for named in [
        by("A", "C", "D"),
        by("1", "3", "4"),
        by("piece", "Strapped", "swallowed"),
    ] {
        let tally = tally(text, &named);
        assert_eq!(length(&tally), mm(24_150));
        assert_eq!(tally.joints[1].remarks.as_deref(), Some("dent"));
    }
    // A choice outranks what the headings say.
    let two = "Jt,OAL (m),OAL strapped again (m)\n1,12.1,12.3\n2,12.2,12.4\n";
    assert_eq!(length(&tally(two, &column("length=C"))), mm(24_700));
    let gone = question(two, &column("length=H"));
    assert_eq!(
        gone,
        "no column matches `H`, which is named as the column of length; the header on line 1 has Jt, OAL (m), OAL \
         strapped again (m)"
    );
}

#[test]
fn rows_are_lines_of_the_file_and_the_header_may_lie_outside() {
    let text = "Jt,OAL (m)\n1,12.1\n2,12.2\n3,12.3\nJt,MUL (m),OAL (m)\n1,0.0,11.1\n2,0.1,11.2\n";
    assert!(question(text, &Options::default()).contains("another header"));
    let upper = tally(text, &options(|it| it.rows = "3-4".parse().ok()));
    assert_eq!(length(&upper), mm(24_500));
    let skipped: Vec<(u32, String)> = upper
        .skipped
        .iter()
        .map(|it| (it.line, words::skip_reason(it.why)))
        .collect();
    let outside = "outside the rows that are read";
    assert_eq!(skipped, [2, 5, 6, 7].map(|line| (line, outside.to_owned())));
    let lower = tally(text, &options(|it| it.rows = "6-7".parse().ok()));
    assert_eq!(length(&lower), mm(22_300 - 100));
}

#[test]
fn text_lined_up_by_two_or_more_spaces_is_read_as_columns() {
    let text = "Tally of slot K   invented\n\n\
                Jt     S/N      OAL (m)   MUL (m)   Remarks\n\
                1      S-01      12.100     0.000\n\
                2      S-02      12.200     0.150   box  dented\n\
                3                12.300     0.150\n\
                4      S-04      12.400\n\
                Total            49.000\n\
                Strapped by two hands on the pipe deck\n";
    let tally = read_as("aligned", text.as_bytes(), &Options::default());
    assert_eq!(numbers(&tally), ["1", "2", "3", "4"]);
    assert_eq!(length(&tally), mm(49_000 - 300));
    assert_eq!(tally.joints[1].remarks.as_deref(), Some("box dented"));
    assert_eq!(tally.joints[2].serial, None);
    assert_eq!(tally.joints[2].line, 6);
    let skipped: Vec<u32> = tally.skipped.iter().map(|it| it.line).collect();
    assert_eq!(skipped, [1, 2, 8, 9]);
    // Two spaces that line nothing up will do where no cell is blank, and no further.
    let in_turn = "Joint No  OAL (m)  MUL (m)\n1  12.1  0.00\n2  12.2  0.15\n";
    let tally = read_as("in turn", in_turn.as_bytes(), &Options::default());
    assert_eq!(length(&tally), mm(24_150));
    let blank = format!("{in_turn}3  12.3\n");
    assert!(
        refusal(blank.as_bytes(), &Options::default()).starts_with("line 4: `12.3` is not under"),
        "{}",
        refusal(blank.as_bytes(), &Options::default())
    );
    // A figure under no heading, and single spaces.
    let crooked = text.replace(
        "2      S-02      12.200     0.150",
        "2      S-02    9  12.200     0.150",
    );
    let said = refusal(crooked.as_bytes(), &Options::default());
    assert!(
        said.starts_with("line 5: `12.200` is not under one heading"),
        "{said}"
    );
    assert_eq!(
        refusal(
            b"Slot K\njoint length_m loss_m\n1 12.1 0\n2 12.2 0.15\n",
            &Options::default()
        ),
        "line 2: the columns are set apart by single spaces, so that nobody can tell where a cell ends; expected two or \
         more spaces, or a comma, semicolon or tab between them"
    );
}

#[test]
fn files_of_another_kind_are_named_for_what_they_are() {
    for (bytes, what) in [
        (
            &b"<html><table><tr><td>Jt</td></tr></table>"[..],
            "a web page (HTML), whatever its name says",
        ),
        (
            b"\xEF\xBB\xBF \n<!DOCTYPE HTML>\n<html>",
            "a web page (HTML), whatever its name says",
        ),
        (
            b"<table border=1><tr><td>Jt",
            "a web page (HTML), whatever its name says",
        ),
        (
            b"<?xml version=\"1.0\"?>\n<html xmlns=\"x\">",
            "a web page (HTML), whatever its name says",
        ),
        (
            b"<?xml version=\"1.0\"?><a/>",
            "an XML document, but no workbook",
        ),
        (
            b"MIME-Version: 1.0\nContent-Type: x\n",
            "a web page saved as one file",
        ),
        (b"%PDF-1.7\n", "a PDF"),
        (b"{\\rtf1 Jt}", "a text document in rich text format (.rtf)"),
        (b"\xFF\xD8\xFF\xE0", "a picture"),
    ] {
        let said = refusal(bytes, &Options::default());
        assert_eq!(
            said,
            format!("is {what}; expected a tally as text or in a workbook (.xlsx, .xls or .ods)")
        );
    }
    let flat = refusal(&shown("plain.fods"), &Options::default());
    assert!(
        flat.starts_with("is a flat open document (.fods), which is not read; save it as .ods;"),
        "{flat}"
    );
    // A name in angle brackets above a tally is a title.
    read_as(
        "title",
        b"<slot K>\nJt,OAL (m)\n1,12.1\n2,12.2\n",
        &Options::default(),
    );
}

#[test]
fn remarks_that_spill_over_are_remarks_and_figures_are_a_question() {
    let text = b"Jt,OAL (m),Remarks\n1,12.1,dent, 3 mm deep, passed\n2,12.2,\n";
    let tally = read_as("spilled", text, &Options::default());
    assert_eq!(
        tally.joints[0].remarks.as_deref(),
        Some("dent, 3 mm deep, passed")
    );
    // What spills over is looked through as well.
    let rejected = refusal(
        b"Jt,OAL (m),Remarks\n1,12.1,dent, rejected\n2,12.2,\n",
        &Options::default(),
    );
    assert!(
        rejected.contains("line 2 joint 1: `rejected` in column 4"),
        "{rejected}"
    );
    let figures = b"Jt,OAL (m),Remarks\n1,12.1,dent, 12.3\n2,12.2,\n";
    let said = refusal(figures, &Options::default());
    assert_eq!(
        said,
        "line 2, column 4: `12.3` is beyond the last column of the header; expected at most 3 cells (is a comma both \
         separator and decimal mark?); if it belongs to a remark say so with --column remarks=C (in a job: read = { \
         columns = { remarks = \"C\" } })"
    );
    let named = read_as("named", figures, &column("remarks=C"));
    assert_eq!(named.joints[0].remarks.as_deref(), Some("dent, 12.3"));
}

#[test]
fn a_root_gap_is_a_loss_below_zero_of_pipe_that_is_welded_alone() {
    let text = "Jt,OAL (m),MUL (mm)\n1,12.1,0\n2,12.2,-3\n3,12.3,-20\n4,12.3,2\n";
    let said = question(text, &Options::default());
    assert!(
        said.contains("joint 2 is `-3`; expected 0 or more"),
        "{said}"
    );
    let weld = options(|it| it.least_loss = Length::from_mm(-20));
    assert_eq!(length(&tally(text, &weld)), mm(48_900 + 21));
    let wide = question(&text.replace("-20", "-20.5"), &weld);
    assert!(wide.contains("`-20.5`; expected -0.02 m or more"), "{wide}");

    let job = copy_of("four-slots");
    let file = job.path().join("job.toml");
    let toml = fs::read_to_string(&file).expect("a job");
    let tally = fs::read_to_string(job.path().join("tallies/a.csv")).expect("a tally");
    fs::write(
        job.path().join("tallies/a.csv"),
        tally.replacen("0.152", "-0.003", 1),
    )
    .expect("a tally");
    let figures = || {
        let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
            .arg("figures")
            .arg(job.path())
            .output()
            .expect("the program starts");
        (
            output.status.code(),
            String::from_utf8_lossy(&output.stdout).into_owned(),
            String::from_utf8_lossy(&output.stderr).into_owned(),
        )
    };
    let (code, _, refused) = figures();
    assert_eq!(code, Some(2), "{refused}");
    assert!(refused.contains("expected 0 or more"), "{refused}");
    let welded = toml.replacen("[pipe.main]\n", "[pipe.main]\nconnection = \"weld\"\n", 1);
    assert_ne!(welded, toml);
    fs::write(&file, welded).expect("a job");
    let (code, text, refused) = figures();
    assert!(matches!(code, Some(0 | 1)), "{refused}");
    assert!(text.contains("String length"), "{text}");
}

#[test]
fn the_command_line_takes_every_answer() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = |name: &str, text: &str, arguments: &[&str]| {
        let file = folder.path().join(name);
        fs::write(&file, text).expect("a file");
        let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
            .arg("tally")
            .arg(&file)
            .args(arguments)
            .args(["--json", "--summary"])
            .output()
            .expect("the program starts");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let json = String::from_utf8_lossy(&output.stdout).into_owned();
        (output.status.code(), json, said)
    };
    let two = "Jt,OAL (m),Jt,OAL (m)\n1,12.1,1,12.4\n2,12.2,2,12.5\n";
    for (text, arguments, joints) in [
        (REJECTED, &["--not-run", "leave-out"][..], 3),
        (REJECTED, &["--not-run", "count"], 6),
        (LANDING, &["--landing", "4,Running tool"], 5),
        (LANDING, &["--landing", "none"], 5),
        (POINT, &["--units", "feet-point-inches"], 8),
        (two, &["--blocks", "across"], 4),
        (two, &["--blocks", "first"], 2),
        (
            "Jt,OAL (m),\n1,12.1,0.5\n2,12.2,0.5\n",
            &["--column", "loss=C"],
            2,
        ),
        (
            "Jt,OAL (m)\n1,12.1\n2,12.2\n3,12.3\n",
            &["--rows", "2-3"],
            2,
        ),
    ] {
        let (code, json, said) = run("a.csv", text, arguments);
        assert_eq!(code, Some(0), "{arguments:?}: {said}");
        assert!(
            json.contains(&format!("\"count\": {joints}")),
            "{arguments:?}: {json}"
        );
    }
    for (arguments, wrong) in [
        (
            &["--rows", "9-2"][..],
            "names no lines; expected the first and the last, such as 5-28",
        ),
        (
            &["--column", "size=B"],
            "names no column; expected ROLE=WHERE, such as length=E",
        ),
        (
            &["--not-run", "maybe"],
            "[possible values: leave-out, count]",
        ),
    ] {
        let (code, json, said) = run("b.csv", LANDING, arguments);
        assert_eq!((code, json.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(said.contains(wrong), "{said}");
    }
}

#[test]
fn what_is_ordinary_raises_no_flag() {
    let rows = |from: u32, to: u32| -> String {
        (from..=to).fold(String::new(), |all, n| {
            format!("{all}{n};11.9{n:02};0.146\n")
        })
    };
    // Pups numbered apart among joints numbered from 1, heats for serials, and `MU` for make-up.
    let pups = format!(
        "Joint no.;Length (m);Loss (m)\n1;11.922;\n{}Pup 1;3.231;0.146\n{}Pup 2;5.073;0.146\n",
        rows(2, 7),
        rows(8, 9)
    );
    let heats = "Joint,Heat,Length (m),MU (mm)\n1,E22,12.191,\n2,E22,12.198,149\n3,E22,12.187,149\n\
                 4,E23,12.240,148\n5,E23,12.244,148\n6,E23,6.02,149\n";
    let noted = heats
        .replace("6,E23,6.02,149", "6,E23,6.02,149,half-length pup joint")
        .replace("MU (mm)", "MU (mm),Remarks");
    for text in [&pups, &noted] {
        let tally = read(text.as_bytes(), &Options::default()).expect("a tally that reads");
        let string = PipeString::make_up(&tally, Pins::default());
        let flags = kerfmark::tally::review(&tally, &string, Pins::default());
        let codes: Vec<&str> = flags.iter().map(|flag| flag.code.name()).collect();
        assert_eq!(codes, Vec::<&str>::new(), "{text}");
    }
}

#[test]
fn messages_of_lengths_and_columns_that_cannot_be_read() {
    let mut all = String::new();
    let weld = options(|it| it.least_loss = Length::from_mm(-20));
    let point = options(|it| it.feet_point_inches = true);
    let default = Options::default();
    for (text, options) in [
        ("Jt,OAL (ft-in)\n1,11-5/16\n2,38-11-5/16\n", &default),
        ("Jt,OAL (ft)\n1,39.06\n2,39.12\n3,39.6\n4,39' 6\"\n", &point),
        ("Jt,OAL (m),MUL (m)\n1,12.1,0\n2,12.2,-0.021\n", &weld),
        ("Jt,OAL (mm)\n1,12.1\n2,12100\n", &default),
        (
            "Jt   OAL (m)   MUL (m)\n1    12.1      0\n2    12.2  0.1 0.2\n3  12.3  1  2\n",
            &default,
        ),
        (
            "Jt,OAL (m),Cum (m)\n1,12.1,36.6\n2,12.2,24.5\n3,12.3,12.3\n",
            &default,
        ),
        (
            "Jt,Kind,OAL (m)\n1,,12.1\n2,landing,9.1\n3,,12.2\n",
            &default,
        ),
    ] {
        all.push_str(&refusal(text.as_bytes(), options));
        all.push_str("\n\n");
    }
    insta::assert_snapshot!(all);
}

/// Five joints, of which a text beside the second is merged over so many rows.
fn merged(text: &str, rows: u16) -> [(&'static str, Vec<u8>); 2] {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let mut table = String::new();
    for (column, heading) in (0_u16..).zip(["Jt", "OAL (m)", "Remarks"]) {
        sheet.write_string(0, column, heading).expect("a cell");
        let _ = write!(
            table,
            "<table:table-cell office:value-type=\"string\"><text:p>{heading}</text:p></table:table-cell>"
        );
    }
    table = format!("<table:table-row>{table}</table:table-row>");
    for joint in 1..=5_u16 {
        let (row, length) = (u32::from(joint), 12.0 + f64::from(joint) / 8.0);
        sheet.write_number(row, 0, joint).expect("a cell");
        sheet.write_number(row, 1, length).expect("a cell");
        let remark = match joint {
            2 => format!(
                "<table:table-cell office:value-type=\"string\" table:number-rows-spanned=\"{rows}\"><text:p>{text}</text:p></table:table-cell>"
            ),
            _ if joint > 2 && joint < 2 + rows => "<table:covered-table-cell/>".to_owned(),
            _ => "<table:table-cell/>".to_owned(),
        };
        let _ = write!(
            table,
            "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>{joint}</text:p></table:table-cell>\
             <table:table-cell office:value-type=\"float\" office:value=\"{length}\"/>{remark}</table:table-row>"
        );
    }
    let format = rust_xlsxwriter::Format::new();
    sheet
        .merge_range(2, 2, 1 + u32::from(rows), 2, text, &format)
        .expect("cells");
    let table = format!("<table:table table:name=\"Sheet\">{table}</table:table>");
    [
        ("xlsx", book.save_to_buffer().expect("a workbook")),
        ("ods", ods_of(&table)),
    ]
}

#[test]
fn a_word_in_a_cell_that_is_merged_over_rows_is_a_sign_of_each() {
    for (form, bytes) in merged("REJECTED", 3) {
        assert_eq!(
            refusal(&bytes, &Options::default()).split(". Leave").next(),
            Some(
                "were these run? line 3 joint 2: `rejected` in column 3; line 4 joint 3: `rejected` in column 3; \
                 line 5 joint 4: `rejected` in column 3"
            ),
            "{form}"
        );
    }
    for (form, bytes) in merged("strapped twice", 3) {
        assert_eq!(
            read_as(form, &bytes, &Options::default()).joints.len(),
            5,
            "{form}"
        );
    }
}
