//! Job files that must be refused, each with the message that a tired person reads: file, line,
//! column, key, what was found, what was expected. Nothing on disk changes.

use std::fs;

use crate::common::digests::{digests, without_folder};
use kerfmark::folder::{OpenError, create, open};

/// Opens a job whose file was changed in some places, and gives what was said.
fn refusal(changes: &[(&str, &str)]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path().join("job");
    create(&root).expect("the template");
    let file = root.join("job.toml");
    let mut text = fs::read_to_string(&file).expect("the job file");
    for (from, to) in changes {
        assert!(text.contains(from), "the template has no `{from}`");
        text = text.replacen(from, to, 1);
    }
    fs::write(&file, text).expect("the job file");
    let before = digests(&root);
    let said = match open(&root) {
        Ok(_) => panic!("was read with {changes:#?}"),
        Err(error) => without_folder(&error.to_string(), &root),
    };
    assert_eq!(digests(&root), before, "opening changed something");
    said
}

/// Each change with what was said of it.
fn refusals(cases: &[(&str, &str)]) -> String {
    let blocks: Vec<String> = cases
        .iter()
        .map(|(from, to)| format!("{from}  ->  {to}\n{}\n", refusal(&[(*from, *to)])))
        .collect();
    blocks.join("\n")
}

#[test]
fn a_job_file_larger_than_any_is_refused_before_it_is_read() {
    let remark = format!("# {}\n", "x".repeat(1024 * 1024));
    let said = refusal(&[("format = 1", &format!("{remark}format = 1"))]);
    assert!(
        said.ends_with("bytes long; files above 1048576 bytes (1 MiB) are not read"),
        "{said}"
    );
    let remark = remark.replacen("xxxxxxxxxxxxxxxx", "", 2000);
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path().join("job");
    create(&root).expect("the template");
    let file = root.join("job.toml");
    let text = fs::read_to_string(&file).expect("the job file");
    fs::write(&file, format!("{remark}{text}")).expect("the job file");
    assert!(open(&root).is_ok());
    // A journal is never too long for a job to be opened, short of what no file may be.
    let journal = root.join("journal.jsonl");
    fs::write(&journal, "{\"a\":1}\n".repeat(5_000_000)).expect("a journal");
    assert!(open(&root).is_ok());
    fs::remove_file(&journal).expect("a journal");
    // Readings have a bound of their own.
    let row = "datum,A.shoe,-110,0.1\n";
    let readings = format!("from,to,rise,sigma\n{}", row.repeat(400_000));
    fs::write(root.join("readings.csv"), readings).expect("readings");
    let said = open(&root).err().map(|error| error.to_string());
    let said = said.expect("a refusal");
    assert!(
        said.ends_with(
            "readings.csv: is 8800019 bytes long; files above 8388608 bytes (8 MiB) are not read"
        ),
        "{said}"
    );
}

const TITLE: &str = "title = \"New job (invented figures)\"";
const PLAN: &str = "plan_shoulder = -27.100";
const TALLY: &str = "tally = \"tallies/a.csv\"";

#[test]
fn keys() {
    let said = refusals(&[
        (TITLE, "titel = \"x\""),
        ("kerf = ", "kerfs = "),
        ("clearance = ", "distance_to_connection = "),
        ("[uncertainty]", "[uncertainties]"),
        ("makeup_loss = \"152 mm\"", "loss = \"152 mm\""),
        ("format = 1", ""),
        ("units = \"m\"", ""),
        ("sea_datum = \"LAT\"", ""),
        ("mudline = -41.350", ""),
        ("od = \"30 in\"", ""),
        (TALLY, ""),
        ("elevation = 14.250", ""),
        ("rotary = 24.700", ""),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn values() {
    let said = refusals(&[
        ("format = 1", "format = 2"),
        ("units = \"m\"", "units = \"yards\""),
        ("mudline = -41.350", "mudline = [-41.350]"),
        ("mudline = -41.350", "mudline = \"about -41\""),
        ("mudline = -41.350", "mudline = nan"),
        ("rotary = 18.000", "rotary = 3.24e1"),
        ("od = \"30 in\"", "od = \"30 kg\""),
        ("od = \"30 in\"", "od = \"-30 in\""),
        ("od = \"30 in\"", "od = \"2 in\""),
        ("connector_mass = 310", "connector_mass = \"310 m\""),
        ("connector_mass = 310", "connector_mass = -310"),
        ("pin = \"down\"", "pin = \"sideways\""),
        ("kerf = \"6 mm\"", "kerf = \"-6 mm\""),
        ("kerf = \"6 mm\"", "kerf = 2024-05-01"),
        ("# tape_scale = 50", "tape_scale = \"20 percent\""),
        ("name = \"A\"", "name = \"\""),
        ("[cut]", "[[cut]]"),
        ("[[slot]]", "[slot]"),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn names_and_paths() {
    let said = refusals(&[
        ("pipe = \"main\"", "pipe = \"mian\""),
        ("[cut]\nhull = \"cutting\"", "[cut]\nhull = \"landing\""),
        ("name = \"cutting\"", "name = \"running\""),
        (TALLY, "tally = \"../a.csv\""),
        (TALLY, "tally = \"/tmp/a.csv\""),
        (TALLY, "tally = \"tallies\\\\a.csv\""),
        (TALLY, "tally = \"tallies\""),
        (
            "[deck]",
            "[[allowance]]\nvalue = \"1.5 mm\"\nslots = [\"A\", \"B\"]\n[deck]",
        ),
        (
            "[deck]",
            "[frame]\nslot = \"B\"\nring_above_base = 8.200\n[deck]",
        ),
        (
            "[deck]",
            "[[accessory]]\nname = \"guide\"\nelevation = -34.200\nslots = \"A\"\n[deck]",
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn names_that_files_are_named_after() {
    let said = refusals(&[
        ("name = \"A\"", "name = \"../../escaped\""),
        ("name = \"A\"", "name = '..\\escaped'"),
        ("name = \"A\"", "name = \"..\""),
        ("name = \"A\"", "name = \".\""),
        ("name = \"A\"", "name = \"A\\u0000\""),
        (
            TALLY,
            "tally = \"tallies/a.csv\"\nlists = { \"../yard\" = \"tallies/a.csv\", \"\" = \"tallies/a.csv\", \"y\\u009Bd\" = \"tallies/a.csv\" }",
        ),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn names_of_all_alphabets_and_with_spaces_are_names() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path().join("job");
    create(&root).expect("the template");
    let file = root.join("job.toml");
    let text = fs::read_to_string(&file).expect("the job file");
    for name in ["Slot 1", "Ä-7", "Скв. 12", "槽一", "A.b", "..."] {
        let named = text.replace("name = \"A\"", &format!("name = \"{name}\""));
        let lists = format!("{TALLY}\nlists = {{ \"{name}\" = \"tallies/a.csv\" }}");
        fs::write(&file, named.replace(TALLY, &lists)).expect("the job file");
        let inputs = open(&root).expect("a job that opens");
        assert_eq!(inputs.job.slots[0].name, name);
        assert_eq!(inputs.lists[0][0].name, name);
    }
}

#[test]
fn keys_that_contradict_each_other() {
    let said = refusals(&[
        (PLAN, "plan_shoulder = -27.100\nplan_top = 15.000"),
        ("shoulder_offset = 1.250", ""),
        (PLAN, "shoe_window = [-94.0, -96.0]"),
        (PLAN, "shoe_window = [-94.0]"),
        ("[deck]", "[[keep_out]]\nfrom = 6.0\nto = 2.0\n[deck]"),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn syntax() {
    let said = refusals(&[
        ("[site]", "[site"),
        (TITLE, "title = \"New job"),
        ("pipe = \"main\"", "pipe = main"),
        (TITLE, "title = \"a\"\ntitle = \"b\""),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn all_problems_are_told_at_once_in_the_order_of_the_file() {
    let said = refusal(&[
        ("sea_datum", "sea_dautm"),
        ("-41.350", "\"deep\""),
        ("wall = \"1.5 in\"", "wall = \"1.5 lb\""),
        ("pipe = \"main\"", "pipe = \"mian\""),
        ("[cut]\nhull = \"cutting\"", "[cut]\nhull = \"landing\""),
        ("tolerance", "tolerence"),
    ]);
    insta::assert_snapshot!(said);
}

#[test]
fn of_8000_bad_keys_all_are_found_and_the_first_50_are_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path().join("job");
    create(&root).expect("the template");
    let file = root.join("job.toml");
    let mut text = fs::read_to_string(&file).expect("the job file");
    let cut = text.find("kerf = ").expect("a key");
    let line = text[..cut].lines().count() + 1;
    let keys: Vec<String> = (0..8000).map(|key| format!("kerf{key} = 6\n")).collect();
    text.insert_str(cut, &keys.concat());
    fs::write(&file, &text).expect("the job file");
    let error = open(&root).expect_err("bad keys");
    let OpenError::Job { problems, .. } = &error else {
        panic!("{error}");
    };
    assert_eq!(problems.len(), 8000);
    let said = without_folder(&error.to_string(), &root);
    let told: Vec<&str> = said.lines().collect();
    assert_eq!(told.len(), 51);
    for (key, told) in told.iter().take(50).enumerate() {
        let line = line + key;
        let start = format!("job.toml: line {line}, column 1: `cut.kerf{key}` is no key");
        assert!(told.starts_with(&start), "{told}");
    }
    assert_eq!(told[50], "and 7950 more problems");
}

#[test]
fn a_bad_tally_is_told_with_the_place_that_names_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path().join("job");
    create(&root).expect("the template");
    fs::write(
        root.join("tallies/a.csv"),
        "joint,length\n1,12.100\n2,-12.200\n",
    )
    .expect("a tally");
    let before = digests(&root);
    let error = open(&root)
        .err()
        .map(|error| without_folder(&error.to_string(), &root));
    assert_eq!(digests(&root), before);
    let said = error.unwrap_or_default().replace('\\', "/");
    insta::assert_snapshot!(said);
}

#[test]
fn a_job_that_is_not_there_or_not_text_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path();
    let said = |name: &str| match open(&root.join(name)) {
        Ok(_) => panic!("{name} was opened"),
        Err(error) => without_folder(&error.to_string(), root),
    };
    let nowhere = said("nowhere");
    assert!(
        nowhere.starts_with("nowhere: cannot be read: "),
        "{nowhere}"
    );
    assert!(said("nowhere/job.toml").contains("there is no such folder or file"));
    fs::create_dir(root.join("bare")).expect("a folder");
    assert!(said("bare").contains("expected a job file (`kerfmark new DIR` makes one)"));
    fs::create_dir(root.join("bytes")).expect("a folder");
    fs::write(root.join("bytes/job.toml"), b"format = 1\n# \xFF\n").expect("a file");
    assert!(said("bytes").contains("line 2 is not UTF-8"));
}

#[cfg(unix)]
#[test]
fn a_tally_behind_a_link_that_leaves_the_folder_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = folder.path().join("job");
    create(&root).expect("the template");
    let outside = folder.path().join("outside.csv");
    fs::rename(root.join("tallies/a.csv"), &outside).expect("moved");
    std::os::unix::fs::symlink(&outside, root.join("tallies/a.csv")).expect("a link");
    let error = open(&root)
        .err()
        .map(|error| error.to_string())
        .unwrap_or_default();
    assert!(
        error.contains("it is a link that leaves the job's folder"),
        "{error}"
    );
}
