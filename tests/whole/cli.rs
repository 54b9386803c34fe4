//! The real program: what it prints, where, and with which exit status.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn kerfmark(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .args(arguments)
        .output()
        .expect("the program starts")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn sample(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("sample-tallies")
        .join(name)
        .to_string_lossy()
        .into_owned()
}

/// Every file below a folder with its bytes.
fn everything(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            all.extend(everything(&path));
        } else {
            all.push((
                path.to_string_lossy().into_owned(),
                fs::read(&path).expect("a file"),
            ));
        }
    }
    all.sort();
    all
}

#[test]
fn the_samples_open_and_nothing_stops_them() {
    for name in ["four-slots", "three-feet", "one-night"] {
        let output = kerfmark(&["figures", &sample(name), "--json"]);
        assert_eq!(
            output.status.code(),
            Some(0),
            "{name}: {}",
            text(&output.stderr)
        );
        let tree: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert_eq!(tree["format"], 1);
    }
}

#[test]
fn the_planted_troubles_of_the_samples_are_found() {
    for (name, codes) in [
        ("four-slots", vec!["duplicate-serial", "loss-outlier"]),
        (
            "three-feet",
            vec![
                "total-disagrees",
                "gap-in-numbers",
                "uncertainty-missing",
                "rim-readings-few",
                "offcut-mass-partial",
            ],
        ),
    ] {
        let lines = text(&kerfmark(&["figures", &sample(name)]).stdout);
        for code in codes {
            assert!(
                lines.contains(&format!("{code}: ")),
                "{name}: {code} in\n{lines}"
            );
        }
    }
}

#[test]
fn the_hand_calculation_of_the_method_page_is_what_the_program_prints() {
    // docs/method.md works slot A of sample-tallies/four-slots line by line.
    let output = kerfmark(&["figures", &sample("four-slots"), "--json"]);
    let tree: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let slot = &tree["slots"][0];
    for (path, by_hand) in [
        ("/string_length_m", "122.6"),
        ("/top_elevation_m", "21.98"),
        ("/shoe/elevation_m", "-100.62"),
        ("/shoe/below_rotary_m", "121.02"),
        ("/shoe/below_mudline_m", "59.27"),
        ("/shoulder/elevation_m", "-27.1"),
        ("/shoulder/below_rotary_m", "47.5"),
        ("/cut/target_m", "14.2515"),
        ("/cut/below_rotary_m", "12.8485"),
        ("/cut/above_lower_plane_m", "4.4695"),
        ("/cut/offcut_length_m", "7.7225"),
        ("/cut/status", "\"clear\""),
        ("/cut/marks/0/uncertainty_m", "0.007324673"),
        ("/cut/marks/1/uncertainty_m", "0.008865512"),
        ("/cut/marks/3/uncertainty_m", "0.004487035"),
    ] {
        let printed = slot
            .pointer(path)
            .map(ToString::to_string)
            .unwrap_or_default();
        assert_eq!(printed, by_hand, "{path}");
    }
    let method = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/method.md"))
        .expect("the page");
    for figure in [
        "122.600", "21.980", "-100.620", "14.2515", "12.8485", "4.4695", "7.7225", "7.324673",
        "8.865512", "4.487035",
    ] {
        assert!(method.contains(figure), "docs/method.md has {figure}");
    }
}

#[test]
fn a_pipe_gets_the_cut_sheet_with_the_caution_and_the_digest() {
    let sheet = text(&kerfmark(&[&sample("four-slots")]).stdout);
    for part in [
        "CUT SHEET",
        "ALREADY CUT - DO NOT CUT AGAIN",
        "PLANNED - NOT FOR CUTTING",
        "The scribed line is the finished top; the blade runs above it.",
        "No temperature or stretch correction applied.",
        "CAUTION",
        "inputs ",
    ] {
        assert!(sheet.contains(part), "{part} in\n{sheet}");
    }
    assert!(
        sheet.lines().all(|line| line.chars().count() <= 78),
        "no line is wider than the paper"
    );
}

#[test]
fn the_template_opens_and_raises_no_flag_above_note_but_that_uncertainties_are_not_stated() {
    let place = tempfile::tempdir().expect("a folder");
    let job = place.path().join("job");
    let job = job.to_string_lossy();
    assert_eq!(kerfmark(&["new", &job]).status.code(), Some(0));
    let output = kerfmark(&["figures", &job]);
    let lines = text(&output.stdout);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let raised = |word| lines.lines().filter(move |line| line.starts_with(word));
    assert_eq!(raised("stop: ").count(), 0, "{lines}");
    assert!(
        raised("check: ").all(|line| line.starts_with("check: uncertainty-missing: ")),
        "{lines}"
    );
    let before = everything(place.path());
    assert_eq!(
        kerfmark(&["new", &job]).status.code(),
        Some(2),
        "what exists is not overwritten"
    );
    assert_eq!(everything(place.path()), before);
}

#[test]
fn what_cannot_be_used_exits_2_says_why_and_prints_nothing() {
    let place = tempfile::tempdir().expect("a folder");
    let bad = place.path().join("bad.csv");
    fs::write(&bad, "joint,length\nA-01,abc\n").expect("written");
    let before = everything(place.path());
    for arguments in [
        vec![],
        vec!["no such job"],
        vec!["figures"],
        vec!["figures", "no such job", "--json"],
        vec!["tally", "no such file"],
        vec!["tally", &*bad.to_string_lossy()],
        vec!["tally", &*bad.to_string_lossy(), "--units", "yards"],
        vec!["completions", "no-shell"],
    ] {
        let output = kerfmark(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(
            output.stdout.is_empty() && !output.stderr.is_empty(),
            "{arguments:?}"
        );
    }
    assert_eq!(everything(place.path()), before, "nothing on disk changed");
}

#[test]
fn a_stop_flag_exits_1() {
    let place = tempfile::tempdir().expect("a folder");
    let job = place.path().join("job");
    assert_eq!(
        kerfmark(&["new", &job.to_string_lossy()]).status.code(),
        Some(0)
    );
    let file = job.join("job.toml");
    let text = fs::read_to_string(&file).expect("the job file");
    fs::write(
        &file,
        text.replace("elevation = 14.250 ", "elevation = 40.000 "),
    )
    .expect("written");
    assert_eq!(
        kerfmark(&["figures", &job.to_string_lossy()]).status.code(),
        Some(1)
    );
}

#[test]
fn help_version_completions_and_manual_are_printed() {
    for arguments in [
        vec!["--help"],
        vec!["--version"],
        vec!["man"],
        vec!["completions", "bash"],
        vec!["tally", "--help"],
    ] {
        let output = kerfmark(&arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert!(text(&output.stdout).contains("kerfmark"), "{arguments:?}");
    }
}

#[test]
fn no_argument_at_all_gets_the_help_on_standard_error() {
    let output = kerfmark(&[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let help = text(&output.stderr);
    assert!(
        help.contains("Usage:") && help.contains("figures"),
        "{help}"
    );
}

#[test]
fn a_reader_that_closes_the_pipe_is_no_error() {
    let sample = sample("four-slots");
    for arguments in [
        vec!["--help"],
        vec!["man"],
        vec![&*sample],
        vec!["figures", &*sample, "--how"],
        vec!["figures", &*sample, "--json"],
    ] {
        // The reading end is closed before the program starts, so that every write meets it.
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
            .args(&arguments)
            .stdout(Stdio::from(writer))
            .stderr(Stdio::piped())
            .output()
            .expect("the program starts");
        let said = text(&output.stderr);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {said}");
        assert!(said.is_empty(), "{arguments:?}: {said}");
    }
}

#[test]
fn what_a_job_file_says_cannot_act_on_the_terminal() {
    let place = tempfile::tempdir().expect("a folder");
    let job = place.path().join("job");
    let name = job.to_string_lossy().into_owned();
    assert_eq!(kerfmark(&["new", &name]).status.code(), Some(0));
    let file = job.join("job.toml");
    let template = fs::read_to_string(&file).expect("the job file");
    for (from, to) in [
        (
            "title = \"New job (invented figures)\"",
            "title = \"A\\u001b[2J\"",
        ),
        ("[site]", "[site]\n\"a\\u001b[2J\" = 1"),
    ] {
        fs::write(&file, template.replace(from, to)).expect("written");
        let output = kerfmark(&["figures", &name]);
        assert_eq!(output.status.code(), Some(2), "{to}");
        assert!(output.stdout.is_empty());
        assert!(!output.stderr.contains(&0x1b), "{}", text(&output.stderr));
    }
}
