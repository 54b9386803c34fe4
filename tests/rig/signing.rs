//! Hold points: what is missing, what is signed, and what becomes of it. Every verdict on a signature is
//! compared with that of `ssh-keygen`, where there is one.

use std::process::{Command, Stdio};

use super::place::{CUT, PASSPHRASE, Place, RUN, kerfmark, key, text};
use super::verdicts::{row, ssh_keygen_agrees, states};

#[test]
fn a_string_is_signed_from_its_tally_to_its_finished_top() {
    let place = Place::released();
    let path = place.root().to_string_lossy().into_owned();
    let sheet = text(&kerfmark(&[&path], "").stdout);
    assert!(
        sheet.contains("SLOT A   RELEASED by NK, TM at 20"),
        "{sheet}"
    );
    place.enter(&CUT);
    place.pass("final");
    assert_eq!(states(&place), vec!["stands"; 10]);
    ssh_keygen_agrees(&place);
    let output = kerfmark(&["verify", &path], "");
    assert_eq!(output.status.code(), Some(0));
    // A statement says what it signs, what it rests on and what it does not claim.
    let statement = place.read("signed/A-final-checked-24.txt");
    for line in [
        "Slot: A",
        "Hold point: final",
        "cut.target_m = 14.0000 m",
        "cut.as_cut.state = within",
        "cut.as_cut.uncertainty_m = 0.004472136 m",
        "cut.marks[bench plate].distance_m = 1.0000 m",
        "NOT CLAIMED",
    ] {
        assert!(
            statement.lines().any(|it| it == line),
            "{line}: {statement}"
        );
    }
}

/// Scribed lines that do not do for a release: marks, who checked, and what is lacking.
const LINES_THAT_DO_NOT_DO: [(&str, &str, &str); 5] = [
    (
        r#"{"from":"rotary","distance":"12.003 m","by":"NK"}"#,
        "TM",
        "two marks that share no reading",
    ),
    (
        r#"{"from":"top","distance":"8.000 m","by":"NK"},{"from":"lower-plane","distance":"4.250 m","by":"TM"}"#,
        "RS",
        "two marks that share no reading",
    ),
    (
        r#"{"from":"rotary","distance":"12.003 m","by":"NK"},{"from":"bench plate","distance":"1.000 m","by":"NK"}"#,
        "RS",
        "two marks that share no reading, by two persons",
    ),
    (
        r#"{"from":"rotary","distance":"12.003 m","by":"NK"},{"from":"bench plate","distance":"1.000 m","by":"TM"}"#,
        "NK",
        "checked by NK, who measured it first",
    ),
    (
        r#"{"from":"rotary","distance":"12.053 m","by":"NK"},{"from":"bench plate","distance":"1.000 m","by":"TM"}"#,
        "RS",
        "it is stopped: scribe-disagrees",
    ),
];

#[test]
fn what_is_missing_is_listed_and_nothing_is_written() {
    let place = Place::new();
    let refused = |hold: &str, role: &str, lacks: &[&str]| {
        let before = place
            .root()
            .join("journal.jsonl")
            .metadata()
            .map_or(0, |it| it.len());
        let output = place.sign(hold, role);
        assert_eq!(output.status.code(), Some(1), "{}", text(&output.stderr));
        let said = text(&output.stdout);
        assert!(
            said.starts_with(&format!("slot A, {hold}: not signed")),
            "{said}"
        );
        for lack in lacks {
            assert!(said.contains(lack), "{lack}: {said}");
        }
        let after = place
            .root()
            .join("journal.jsonl")
            .metadata()
            .map_or(0, |it| it.len());
        assert_eq!(before, after);
    };
    refused(
        "landed",
        "prepared",
        &[
            "- tally-frozen is not signed as prepared",
            "- no stick-up is read",
        ],
    );
    place.pass("tally-frozen");
    refused(
        "tally-frozen",
        "prepared",
        &["- NK has signed it in this role already"],
    );
    place.enter(&RUN);
    refused(
        "cut-release",
        "prepared",
        &[
            "- landed is not signed as prepared",
            "- the string is not landed",
            "- no line is scribed",
        ],
    );
    refused(
        "final",
        "prepared",
        &[
            "- cut-release is not signed as checked",
            "- the finished top is not surveyed",
        ],
    );
    place.enter(&super::place::LANDED[..4]);
    place.pass("landed");
    for (marks, checked_by, lack) in LINES_THAT_DO_NOT_DO {
        place.enter(&[&format!(
            r#"{{"event":"scribe","slot":"A","checked_by":"{checked_by}","marks":[{marks}]}}"#
        )]);
        refused("cut-release", "prepared", &[lack]);
    }
    place.enter(&super::place::LANDED[4..]);
    // It is earlier than those above: they count as later. Struck, it applies.
    for seq in ["13", "14", "15", "16", "17"] {
        let strike = format!(
            r#"{{"event":"strike","strikes":{},"why":"tried"}}"#,
            seq.parse::<u32>().unwrap() + 2
        );
        place.enter(&[&strike]);
    }
    place.enter(&[r#"{"event":"placed","slot":"A","what":"grout","until":"2026-03-03T06:00:00+01:00","at":"2026-03-02T04:00:00+01:00"}"#]);
    refused(
        "cut-release",
        "prepared",
        &["no stick-up at rest was read from 2026-03-03T06:00:00+01:00 on"],
    );
    place.enter(&[r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.401 m","state":"slacked-off","at":"2026-03-03T07:00:00+01:00"}"#]);
    place.pass("cut-release");
}

#[test]
fn a_key_that_does_not_count_signs_nothing() {
    let place = Place::new();
    for (file, role, status, said) in [
        ("xx", "prepared", 1, "is not in `signers`"),
        ("ec", "prepared", 2, "it is not an ed25519 private key"),
        ("nk.pub", "prepared", 2, "it is not an ed25519 private key"),
        ("none", "prepared", 2, "No such file"),
        ("nk", "checked", 1, "NK does not hold the role checked"),
        ("nk", "accepted", 1, "the role accepted does not sign"),
    ] {
        let output = place.sign_with("tally-frozen", role, &key(file));
        let all = text(&output.stdout) + &text(&output.stderr);
        assert_eq!(output.status.code(), Some(status), "{file}: {all}");
        assert!(all.contains(said), "{file}: {all}");
        assert!(!place.root().join("signed").exists());
    }
    // A line of signers that is good for another namespace does not count.
    place.replace(
        "signers",
        "NK namespaces=\"kerfmark\"",
        "NK namespaces=\"other\"",
    );
    let output = place.sign("tally-frozen", "prepared");
    assert_eq!(output.status.code(), Some(1));
}

#[test]
fn a_passphrase_comes_from_the_environment_or_it_ends_at_once() {
    let place = Place::new();
    let path = place.root().to_string_lossy().into_owned();
    let tm = key("tm").to_string_lossy().into_owned();
    for (passphrase, status, said) in [
        (None, 1, "it has a passphrase"),
        (Some("another"), 1, "the passphrase is not that of this key"),
        (Some(PASSPHRASE), 0, ""),
    ] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_kerfmark"));
        command.args(["sign", &path, "--slot", "A", "--hold", "tally-frozen"]);
        command
            .args(["--role", "checked", "--key", &tm])
            .stdin(Stdio::null());
        command.env_remove("KERFMARK_PASSPHRASE");
        if let Some(passphrase) = passphrase {
            command.env("KERFMARK_PASSPHRASE", passphrase);
        }
        let output = command.output().expect("it ends");
        assert_eq!(output.status.code(), Some(status));
        assert!(
            text(&output.stderr).contains(said),
            "{}",
            text(&output.stderr)
        );
    }
}

#[test]
fn a_hold_point_is_signed_on_paper_and_says_that_it_is_weaker() {
    let place = Place::new();
    let path = place.root().to_string_lossy().into_owned();
    let paper = |role: &str, by: &str| {
        let arguments = [
            "sign",
            &path,
            "--slot",
            "A",
            "--hold",
            "tally-frozen",
            "--role",
            role,
            "--paper",
            "--by",
            by,
        ];
        kerfmark(&arguments, "")
    };
    let output = paper("prepared", "NK");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let said = text(&output.stdout);
    let statement = place.read("signed/A-tally-frozen-prepared-1.txt");
    let digest = kerfmark::journal::sha256(statement.as_bytes());
    for part in [
        "Signed: on paper",
        &digest,
        "Signature: ____",
        "cut.target_m = 14.0000 m",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(
        !place
            .root()
            .join("signed/A-tally-frozen-prepared-1.txt.sig")
            .exists()
    );
    let of = row(&place, "tally-frozen", "prepared");
    assert_eq!(
        (&of["state"], &of["paper"]),
        (&"stands".into(), &true.into())
    );
    let journal = place.read("journal.jsonl");
    assert!(journal.contains("\"paper\":true"), "{journal}");
    let shown = text(&kerfmark(&["verify", &path], "").stdout);
    assert!(
        shown.contains("signed: on paper, not proven by a key"),
        "{shown}"
    );
    // Its figures are followed all the same.
    place.replace("tallies/a.csv", "12.350", "12.351");
    assert_eq!(row(&place, "tally-frozen", "prepared")["state"], "lapsed");
    let output = paper("checked", "NK");
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stdout).contains("NK does not hold the role checked"));
}

#[test]
fn every_slot_that_is_ready_is_signed_at_once() {
    let place = Place::new();
    let path = place.root().to_string_lossy().into_owned();
    let nk = key("nk").to_string_lossy().into_owned();
    let all = [
        "sign",
        &path,
        "--all-ready",
        "--role",
        "prepared",
        "--key",
        &nk,
    ];
    let output = kerfmark(&all, "");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(
        text(&output.stdout),
        "signed: signed/A-tally-frozen-prepared-1.txt (entry 1)\n"
    );
    let output = kerfmark(&all, "");
    assert_eq!(output.status.code(), Some(1));
    assert!(
        text(&output.stderr).contains("no slot is ready"),
        "{}",
        text(&output.stderr)
    );
}

#[test]
fn hold_points_that_the_job_does_not_use_are_left_out() {
    let job = super::place::JOB.replace("[site]", "[holds]\ncut-release = [\"checked\"]\n[site]");
    let place = Place::with(&job);
    place.run_and_land();
    let output = place.sign("landed", "prepared");
    assert!(
        text(&output.stdout).contains("this job does not use it"),
        "{}",
        text(&output.stdout)
    );
    let output = place.sign("cut-release", "prepared");
    assert!(
        text(&output.stdout).contains("the role prepared does not sign"),
        "{}",
        text(&output.stdout)
    );
    let output = place.sign("cut-release", "checked");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stdout));
    let path = place.root().to_string_lossy().into_owned();
    let sheet = text(&kerfmark(&[&path], "").stdout);
    assert!(sheet.contains("SLOT A   RELEASED by TM at"), "{sheet}");
}

#[test]
fn an_unproven_top_is_signed_once_that_is_waived() {
    let place = Place::released();
    // Two readings never prove how level a top is; the deck would have to be level within 3 mm.
    let two = CUT[2].replace(r#",{"elevation":"14.001 m","azimuth":"180 deg"},{"elevation":"14.0015 m","azimuth":"270 deg"}"#, "");
    place.enter(&[CUT[0], CUT[1], &two]);
    let output = place.sign("final", "prepared");
    assert!(
        text(&output.stdout).contains("that is not waived: level-unproven"),
        "{}",
        text(&output.stdout)
    );
    place.enter(&[r#"{"event":"waiver","slot":"A","flag":"level-unproven","why":"rim ground flat, seen by RS"}"#]);
    place.pass("final");
}

#[test]
fn what_a_cut_off_signature_left_is_completed_or_removed() {
    let place = Place::new();
    place.pass("tally-frozen");
    let statement = "signed/A-tally-frozen-checked-2.txt";
    let rename = |from: &str, to: &str| {
        std::fs::rename(place.root().join(from), place.root().join(to)).expect("a file");
    };
    // As if the power failed after the entry and before the names.
    for file in [statement.to_owned(), format!("{statement}.sig")] {
        rename(&file, &format!("{file}.part"));
    }
    place.write(
        "signed/A-landed-checked-9.txt.part",
        "of a signature that has no entry",
    );
    assert_eq!(
        row(&place, "tally-frozen", "checked")["why"],
        "its statement is not in signed/"
    );
    place.enter(&RUN[..1]);
    assert_eq!(row(&place, "tally-frozen", "checked")["state"], "stands");
    let left = std::fs::read_dir(place.root().join("signed"))
        .expect("a folder")
        .flatten();
    let parts = left.filter(|it| it.file_name().to_string_lossy().ends_with(".part"));
    assert_eq!(parts.count(), 0);
}
