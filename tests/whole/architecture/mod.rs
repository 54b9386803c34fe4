//! The modules go one way: each uses only those before it in the flow of the job, no two files need
//! each other, and files, clock and terminal are for few. A file needs another if it names an item
//! defined there; `mod` lines, re-exports and tests do not count. Sources are parsed, so that no renamed
//! import escapes.

mod rules;
mod sentences;
mod sources;

use rules::{circles, forbidden, wrong_way};
use sentences::strays;
use sources::{Tree, of_this_project};

fn this_project() -> Tree {
    Tree::of(&of_this_project())
}

/// A tree of a few planted files.
fn planted(files: &[(&str, &str)]) -> Tree {
    let files: Vec<(String, String)> = files
        .iter()
        .map(|(file, text)| ((*file).to_owned(), (*text).to_owned()))
        .collect();
    Tree::of(&files)
}

#[test]
fn a_module_uses_only_those_before_it() {
    assert_eq!(wrong_way(&this_project()), Vec::<String>::new());
}

#[test]
fn files_clock_and_terminal_are_for_few() {
    assert_eq!(forbidden(&this_project()), Vec::<String>::new());
}

#[test]
fn no_two_files_need_each_other() {
    assert_eq!(circles(&this_project()), Vec::<Vec<String>>::new());
}

#[test]
fn sentences_are_made_in_one_place() {
    assert_eq!(strays(&of_this_project()), Vec::<String>::new());
}

#[test]
fn a_sentence_made_elsewhere_is_seen() {
    let strays = |file: &str, text: &str| strays(&[(file.to_owned(), text.to_owned())]).len();
    let sentence = r#"pub fn a(n: u8) -> String { format!("there are {n} of them too many") }"#;
    assert_eq!(strays("screens/floor/view.rs", sentence), 1);
    assert_eq!(strays("figures/cut.rs", sentence), 1);
    assert_eq!(strays("report/words/said.rs", sentence), 0);
    let inside = r#"pub fn a(n: u8) { let _ = vec![Some(format!("{n} is one joint too many"))]; }"#;
    assert_eq!(strays("screens/floor/view.rs", inside), 1);
    let label = r#"pub fn a(n: u8) -> String { format!(" slots {n} to {n} of {n}") }"#;
    assert_eq!(strays("screens/floor/view.rs", label), 0);
    let display = r#"impl fmt::Display for A { fn fmt(&self, f: &mut F) -> R {
        write!(f, "this is not what was expected here") } }"#;
    assert_eq!(strays("tally/damage.rs", display), 0);
}

#[test]
fn every_file_belongs_to_a_module_of_the_order() {
    let tree = this_project();
    assert!(tree.sources.len() > 100, "the sources are found");
    for source in &tree.sources {
        let known = source
            .module
            .first()
            .is_none_or(|first| rules::ORDER.contains(&first.as_str()));
        assert!(known, "{}", source.file);
    }
}

#[test]
fn a_renamed_import_of_a_later_module_is_seen() {
    let lib = (
        "lib.rs",
        "pub mod measure; pub mod report; pub mod figures;",
    );
    let report = ("report/mod.rs", "mod words; pub use words::flag;");
    let words = ("report/words.rs", "pub fn flag() {}");
    for text in [
        "use crate::report as elsewhere; pub fn a() { elsewhere::flag(); }",
        "use crate::{report::flag as said}; pub fn a() { said(); }",
        "pub fn a() { super::report::flag(); }",
        "use crate::report::{self as r}; pub fn a() { println!(\"{:?}\", r::flag()); }",
    ] {
        let tree = planted(&[lib, report, words, ("measure/mod.rs", text)]);
        assert_eq!(
            wrong_way(&tree),
            ["measure/mod.rs uses report (report/words.rs)"],
            "{text}"
        );
    }
    let other = "use crate::measure::Length as report; pub fn a(_: report) {}";
    let length = ("measure/mod.rs", "pub struct Length;");
    let tree = planted(&[lib, report, words, length, ("figures/mod.rs", other)]);
    assert_eq!(wrong_way(&tree), Vec::<String>::new());
}

#[test]
fn the_files_of_the_system_are_seen_in_a_module_that_may_not_use_them() {
    let lib = ("lib.rs", "pub mod reconcile; pub mod folder;");
    for (text, what) in [
        (
            "use std::fs; pub fn a() { let _ = fs::read(\"x\"); }",
            "std::fs",
        ),
        ("pub fn a() { let _ = std::fs::read(\"x\"); }", "std::fs"),
        (
            "use std as s; pub fn a() { let _ = s::fs::read(\"x\"); }",
            "std::fs",
        ),
        (
            "use std::{fs as f}; pub fn a() { let _ = f::read(\"x\"); }",
            "std::fs",
        ),
        (
            "use std::*; pub fn a() { let _ = fs::read(\"x\"); }",
            "std::*",
        ),
        (
            "use std::time::Instant; pub fn a() -> Instant { Instant::now() }",
            "std::time",
        ),
        (
            "pub fn a() { let _ = std::net::TcpStream::connect(\"x\"); }",
            "std::net",
        ),
        (
            "pub fn a() { assert!(std::fs::read(\"x\").is_ok()); }",
            "std::fs",
        ),
    ] {
        let tree = planted(&[lib, ("reconcile/mod.rs", text)]);
        let found = forbidden(&tree);
        assert!(
            found.contains(&format!("reconcile/mod.rs names {what}")),
            "{text}: {found:?}"
        );
        let allowed = planted(&[lib, ("folder/mod.rs", text)]);
        let network = text.contains("net") || text.contains('*');
        assert_eq!(forbidden(&allowed).is_empty(), !network, "{text}");
    }
}

#[test]
fn a_circle_of_files_is_seen_and_tests_and_re_exports_make_none() {
    let lib = ("lib.rs", "pub mod tally;");
    let folder = (
        "tally/mod.rs",
        "mod one; mod two; pub use one::One; pub use two::Two;",
    );
    let one = (
        "tally/one.rs",
        "use super::Two; pub struct One(Option<Box<Two>>);",
    );
    let two = (
        "tally/two.rs",
        "use crate::tally::one as first; pub struct Two(Option<Box<first::One>>);",
    );
    let tree = planted(&[lib, folder, one, two]);
    assert_eq!(circles(&tree), [["tally/one.rs", "tally/two.rs"]]);
    let tested = (
        "tally/two.rs",
        "pub struct Two; #[cfg(test)] mod tests { use super::super::One; fn a(_: One) {} }",
    );
    assert!(circles(&planted(&[lib, folder, one, tested])).is_empty());
    // Three in a ring are no better than two.
    let ring = [
        lib,
        ("tally/mod.rs", "mod a; mod b; mod c;"),
        ("tally/a.rs", "pub fn a() { super::b::b(); }"),
        ("tally/b.rs", "pub fn b() { super::c::c(); }"),
        ("tally/c.rs", "pub fn c() { super::a::a(); }"),
    ];
    assert_eq!(
        circles(&planted(&ring)),
        [["tally/a.rs", "tally/b.rs", "tally/c.rs"]]
    );
}
