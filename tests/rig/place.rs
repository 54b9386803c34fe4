//! The job of `sample-tallies/one-night`, invented like its readings, before anything is entered: one string of six
//! joints that these tests run, land, scribe, cut and sign.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

pub const JOB: &str = include_str!("../../sample-tallies/one-night/job.toml");

pub const TALLY: &str = include_str!("../../sample-tallies/one-night/tallies/a.csv");

pub const DECK: &str = include_str!("../../sample-tallies/one-night/tallies/deck.csv");

/// The passphrase of the throw-away key `tm`.
pub const PASSPHRASE: &str = "a throw-away passphrase";

pub struct Place {
    /// Kept, because the folder is gone with it.
    _place: tempfile::TempDir,
    root: PathBuf,
}

pub fn key(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/fixtures/keys")
        .join(name)
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// Runs the program, with a text for its standard input.
pub fn kerfmark(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .args(arguments)
        .env_remove("KERFMARK_PASSPHRASE")
        .env("KERFMARK_PASSPHRASE", PASSPHRASE)
        .env("KERFMARK_SETTINGS", "/nowhere/settings.toml")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut pipe = child.stdin.take().expect("a pipe");
    // A program that refuses at once has closed its end.
    let _ = pipe.write_all(input.as_bytes());
    drop(pipe);
    child.wait_with_output().expect("it ends")
}

impl Place {
    pub fn new() -> Self {
        Self::with(JOB)
    }

    pub fn with(job: &str) -> Self {
        Self::made(job, "")
    }

    /// In a folder of this name, beside which there is room for others.
    pub fn inside(folder: &str) -> Self {
        Self::made(JOB, folder)
    }

    fn made(job: &str, folder: &str) -> Self {
        let place = tempfile::tempdir().expect("a folder");
        let root = place.path().join(folder);
        fs::create_dir_all(root.join("tallies")).expect("a folder");
        let it = Self {
            _place: place,
            root,
        };
        it.write("job.toml", job);
        it.write("tallies/a.csv", TALLY);
        it.write("tallies/deck.csv", DECK);
        let signer = |name: &str, key_name: &str| {
            let public = fs::read_to_string(key(&format!("{key_name}.pub"))).expect("a key");
            format!("{name} namespaces=\"kerfmark\" {public}")
        };
        it.write("signers", &(signer("NK", "nk") + &signer("TM", "tm")));
        it
    }

    /// A copy of the sample as it was run, cut and signed.
    pub fn signed_sample() -> Self {
        let place = tempfile::tempdir().expect("a folder");
        let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-tallies/one-night");
        for folder in ["", "tallies", "signed"] {
            let (from, to) = (sample.join(folder), place.path().join(folder));
            fs::create_dir_all(&to).expect("a folder");
            for file in fs::read_dir(from).expect("a folder") {
                let file = file.expect("a file");
                if file.file_type().expect("a kind").is_file() {
                    fs::copy(file.path(), to.join(file.file_name())).expect("a copy");
                }
            }
        }
        let root = place.path().to_owned();
        Self {
            _place: place,
            root,
        }
    }

    pub fn root(&self) -> &Path {
        &self.root
    }

    pub fn write(&self, name: &str, text: &str) {
        fs::write(self.root().join(name), text).expect("a file");
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.root().join(name)).expect("a file")
    }

    pub fn replace(&self, name: &str, from: &str, to: &str) {
        let whole = self.read(name);
        assert!(whole.contains(from), "{name} has no {from}");
        self.write(name, &whole.replacen(from, to, 1));
    }

    fn path(&self) -> String {
        self.root().to_string_lossy().into_owned()
    }

    /// Enters events as NK; all must be confirmed.
    pub fn enter(&self, events: &[&str]) {
        let input = events.join("\n");
        let output = kerfmark(&["enter", &self.path(), "--by", "NK"], &input);
        assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
        assert_eq!(text(&output.stdout).lines().count(), events.len());
    }

    /// Enters events of which the last is refused, and gives what is said.
    pub fn refused(&self, events: &[&str]) -> String {
        let output = kerfmark(&["enter", &self.path(), "--by", "NK"], &events.join("\n"));
        assert_eq!(output.status.code(), Some(2), "{}", text(&output.stdout));
        assert_eq!(text(&output.stdout).lines().count(), events.len() - 1);
        text(&output.stderr)
    }

    pub fn json(&self, arguments: &[&str]) -> serde_json::Value {
        let path = self.path();
        let mut all = vec![arguments[0], &path];
        all.extend(&arguments[1..]);
        let output = kerfmark(&all, "");
        serde_json::from_slice(&output.stdout)
            .unwrap_or_else(|error| panic!("{error}: {}", text(&output.stderr)))
    }

    pub fn figures(&self) -> serde_json::Value {
        self.json(&["figures", "--json"])
    }

    pub fn verify(&self) -> serde_json::Value {
        self.json(&["verify", "--json"])
    }

    /// `severity code` of the flags of the slot, then of the job.
    pub fn flags(&self) -> Vec<String> {
        let figures = self.figures();
        let of = |list: &serde_json::Value| -> Vec<String> {
            let flags = list.as_array().expect("flags").iter();
            flags
                .map(|flag| {
                    let word = |key: &str| flag[key].as_str().expect("a text").to_owned();
                    format!("{} {}", word("severity"), word("code"))
                })
                .collect()
        };
        let mut all = of(&figures["slots"][0]["flags"]);
        all.extend(of(&figures["flags"]));
        all
    }

    pub fn status(&self) -> String {
        let figures = self.figures();
        let status = figures["slots"][0]["cut"]["status"].as_str();
        status.expect("a status").to_owned()
    }

    /// Signs with the key of NK as prepared, or of TM as checked.
    pub fn sign(&self, hold: &str, role: &str) -> Output {
        let file = key(if role == "prepared" { "nk" } else { "tm" });
        self.sign_with(hold, role, &file)
    }

    pub fn sign_with(&self, hold: &str, role: &str, key: &Path) -> Output {
        let (path, key) = (self.path(), key.to_string_lossy().into_owned());
        let arguments = [
            "sign", &path, "--slot", "A", "--hold", hold, "--role", role, "--key", &key,
        ];
        kerfmark(&arguments, "")
    }

    /// Signs a hold point in both roles.
    pub fn pass(&self, hold: &str) {
        for role in ["prepared", "checked"] {
            let output = self.sign(hold, role);
            let said = text(&output.stdout) + &text(&output.stderr);
            assert_eq!(output.status.code(), Some(0), "{hold} {role}: {said}");
        }
    }

    /// Runs all joints, lands the string and scribes the line.
    pub fn run_and_land(&self) {
        self.enter(&RUN);
        self.enter(&LANDED);
    }

    /// Run, landed, scribed and released.
    pub fn released() -> Self {
        let place = Self::new();
        place.pass("tally-frozen");
        place.run_and_land();
        place.pass("landed");
        place.pass("cut-release");
        place.pass("off-cut-lift");
        place
    }
}

/// The joints in their order, with the stick-ups before and after.
pub const RUN: [&str; 6] = [
    r#"{"event":"joint-run","slot":"A","joint":"A-1","at":"2026-03-01T01:00:00+01:00"}"#,
    r#"{"event":"joint-run","slot":"A","joint":"A-2","before":"0.800 m","after":"12.901 m","at":"2026-03-01T01:20:00+01:00"}"#,
    r#"{"event":"joint-run","slot":"A","joint":"A-3","before":"0.700 m","after":"12.899 m","at":"2026-03-01T01:40:00+01:00"}"#,
    r#"{"event":"joint-run","slot":"A","joint":"A-4","at":"2026-03-01T02:00:00+01:00"}"#,
    r#"{"event":"joint-run","slot":"A","joint":"A-5","at":"2026-03-01T02:20:00+01:00"}"#,
    r#"{"event":"joint-run","slot":"A","joint":"A-6","at":"2026-03-01T02:40:00+01:00"}"#,
];

/// Landed, the hull raised, and the line scribed. The top is at 22.000 m, the shoe at -50.850 m; the cut at
/// 14.000 m lies in A-6, 4.250 m above its lower plane, 12.000 m below RT at the high position.
pub const LANDED: [&str; 5] = [
    r#"{"event":"instrument","id":"T-1","what":"steel tape 30 m","due":"2026-12-31","certificate":"C-7"}"#,
    r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.400 m","state":"landed","instrument":"T-1","at":"2026-03-01T03:00:00+01:00"}"#,
    r#"{"event":"hull-moving","why":"to the deck's height","at":"2026-03-02T01:00:00+01:00"}"#,
    r#"{"event":"hull-position","hull":"high","rotary":"26.003 m","how":"level to the plate","at":"2026-03-02T02:00:00+01:00"}"#,
    r#"{"event":"scribe","slot":"A","checked_by":"RS","marks":[{"from":"rotary","distance":"12.002 m","by":"NK"},{"from":"bench plate","distance":"1.000 m","by":"TM"}],"at":"2026-03-02T03:00:00+01:00"}"#,
];

/// Cut and surveyed.
pub const CUT: [&str; 3] = [
    r#"{"event":"cut-made","slot":"A","cut":"final","at":"2026-03-02T06:00:00+01:00"}"#,
    r#"{"event":"instrument","id":"L-1","what":"digital level","due":"2026-12-31"}"#,
    r#"{"event":"as-cut","slot":"A","instrument":"L-1","reference":"plate","surveyor":"RS","temperature":"8.5 C","setup":"1","readings":[{"elevation":"14.001 m","azimuth":"0 deg"},{"elevation":"14.0005 m","azimuth":"90 deg"},{"elevation":"14.001 m","azimuth":"180 deg"},{"elevation":"14.0015 m","azimuth":"270 deg"}],"at":"2026-03-02T08:00:00+01:00"}"#,
];
