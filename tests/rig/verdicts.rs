//! Verdicts on signatures, compared with those of `ssh-keygen`, where there is one.

use std::process::{Command, Stdio};

use super::place::Place;

pub fn row(place: &Place, hold: &str, role: &str) -> serde_json::Value {
    let verified = place.verify();
    let rows = verified["signatures"].as_array().expect("signatures");
    let mut rows = rows.iter().rev();
    let row = rows.find(|it| it["hold"] == hold && it["role"] == role);
    row.unwrap_or_else(|| panic!("{hold} {role}: {verified}"))
        .clone()
}

pub fn states(place: &Place) -> Vec<String> {
    let verified = place.verify();
    let rows = verified["signatures"]
        .as_array()
        .expect("signatures")
        .iter();
    rows.map(|it| it["state"].as_str().expect("a state").to_owned())
        .collect()
}

/// Whether `ssh-keygen` accepts every signature that this program does not call invalid, and no other.
/// Says so where there is no such program.
pub fn ssh_keygen_agrees(place: &Place) {
    let verified = place.verify();
    for row in verified["signatures"].as_array().expect("signatures") {
        if row["paper"] == true {
            continue;
        }
        let word = |key: &str| row[key].as_str().expect("a text");
        let statement = place.root().join(word("statement"));
        let Ok(file) = std::fs::File::open(&statement) else {
            continue;
        };
        let mut signature = statement.into_os_string();
        signature.push(".sig");
        let checked = Command::new("ssh-keygen")
            .args(["-Y", "verify", "-f"])
            .arg(place.root().join("signers"))
            .args(["-I", word("name"), "-n", "kerfmark", "-s"])
            .arg(signature)
            .stdin(file)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status();
        let Ok(checked) = checked else {
            println!("LEFT OUT: there is no ssh-keygen here");
            return;
        };
        let key_stands = row["key"].is_string();
        assert_eq!(checked.success(), key_stands, "{row}");
    }
}

pub fn ssh_keygen_agrees_that_it_is_bad(place: &Place, statement: &str) {
    let file = std::fs::File::open(place.root().join(statement)).expect("a file");
    let checked = Command::new("ssh-keygen")
        .args(["-Y", "verify", "-f"])
        .arg(place.root().join("signers"))
        .args(["-I", "NK", "-n", "kerfmark", "-s"])
        .arg(place.root().join(format!("{statement}.sig")))
        .stdin(file)
        .output();
    match checked {
        Ok(output) => assert!(!output.status.success()),
        Err(_) => println!("LEFT OUT: there is no ssh-keygen here"),
    }
}
