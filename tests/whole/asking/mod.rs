//! Tallies that leave something open, as text and as workbooks: each is a question that names every row and
//! the options that settle it, and the answer gives the string that was meant. All data is invented.

mod not_run;
mod tables;

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
            joint.overall(),
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

/// A workbook of `tests/fixtures/shown`.
fn shown(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/shown");
    fs::read(folder.join(name)).expect("a fixture")
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
