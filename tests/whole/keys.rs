//! The keys of a job file: what the reader knows, what the table of keys says, what the documents print
//! and what the template shows are the same.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use kerfmark::folder::create;
use kerfmark::job::{KeyRow, What, parse, schema};

const START: &str =
    "<!-- keys: written by `INSTA_UPDATE=always cargo test --test whole keys` -->\n";
const END: &str = "<!-- end of keys -->";

fn template() -> String {
    let place = tempfile::tempdir().expect("a folder");
    let root = place.path().join("job");
    create(&root).expect("the template");
    fs::read_to_string(root.join("job.toml")).expect("the job file")
}

/// The keys that the reader knows in a table, told by a key that it does not know.
fn known(text: &str, table: &str) -> BTreeSet<String> {
    let problems = parse(text).expect_err("a key that nobody knows");
    let mut found = problems.iter().filter_map(|problem| match &problem.what {
        What::UnknownKey { name, known, .. } if name == "nobody_knows" => {
            Some(known.iter().map(|key| format!("{table}{key}")).collect())
        }
        _ => None,
    });
    found
        .next()
        .unwrap_or_else(|| panic!("{table}: {problems:?}"))
}

/// Every table of a job file, as it is written, and as the table of keys names it.
const TABLES: [(&str, &str); 18] = [
    ("[job]", "job."),
    ("[roles]", "roles."),
    ("[holds]", "holds."),
    ("[site]", "site."),
    ("[[hull]]", "hull."),
    ("[pipe.main]", "pipe.NAME."),
    ("[[slot]]", "slot."),
    ("[[allowance]]", "allowance."),
    ("[[keep_out]]", "keep_out."),
    ("[[accessory]]", "accessory."),
    ("[[bench]]", "bench."),
    ("[[correction]]", "correction."),
    ("[frame]", "frame."),
    ("[rig]", "rig."),
    ("[deck]", "deck."),
    ("[cut]", "cut."),
    ("[uncertainty]", "uncertainty."),
    ("[agree]", "agree."),
];

#[test]
fn the_table_of_keys_has_every_key_that_the_reader_knows_and_no_other() {
    let text = template();
    let mut all: BTreeSet<String> = ["format", "people.INITIALS", "reconcile.open_above"]
        .map(str::to_owned)
        .into();
    for (table, name) in TABLES {
        let with = if text.contains(&format!("\n{table}\n")) {
            text.replacen(
                &format!("\n{table}\n"),
                &format!("\n{table}\nnobody_knows = 1\n"),
                1,
            )
        } else {
            format!("{text}\n{table}\nnobody_knows = 1\n")
        };
        all.extend(known(&with, name));
    }
    let listed: BTreeSet<String> = schema().iter().map(|row| row.key.to_owned()).collect();
    assert_eq!(listed, all);
}

#[test]
fn the_template_shows_every_key() {
    let text = template();
    for row in schema() {
        let leaf = match row.key.rsplit('.').next().expect("a name") {
            "INITIALS" => "NK",
            leaf => leaf,
        };
        let shows = |line: &str| {
            let line = line.trim_start_matches("# ");
            line.starts_with(&format!("{leaf} = "))
        };
        assert!(text.lines().any(shows), "{}", row.key);
    }
}

#[test]
fn the_documents_print_the_table_of_keys() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/files.md");
    let text = fs::read_to_string(&file).expect("the document");
    let (before, rest) = text.split_once(START).expect("the start of the table");
    let (printed, after) = rest.split_once(END).expect("its end");
    let line = |row: KeyRow| {
        format!(
            "| `{}` | {} | {} | {} | {} |\n",
            row.key, row.kind, row.bounds, row.left_out, row.meaning
        )
    };
    let mut table =
        "| key | value | from, to | left out | meaning |\n| --- | --- | --- | --- | --- |\n"
            .to_owned();
    table.extend(schema().into_iter().map(line));
    if std::env::var("INSTA_UPDATE").is_ok_and(|it| it == "always") {
        fs::write(&file, format!("{before}{START}{table}{END}{after}")).expect("written");
        return;
    }
    assert_eq!(printed, table);
}
