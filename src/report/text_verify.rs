//! The text of `verify`.

use std::fmt::Write as _;

use super::json_verify::journal_state;
use super::words;
use crate::journal::Inputs;
use crate::signing::Verified;

/// Every signature on lines of its own, and the journal.
pub fn verify(inputs: &Inputs, verified: &[Verified]) -> String {
    let mut text = String::new();
    let _ = writeln!(
        text,
        "journal: {} entries, {}, head {}",
        inputs.journal.entries.len(),
        journal_state(inputs),
        inputs.journal.head()
    );
    if let Some(broken) = &inputs.journal.broken {
        let _ = writeln!(text, "  {broken}");
    }
    let _ = writeln!(text, "{}", words::TAIL);
    for of in verified {
        let hold = of.hold.map_or("unknown", |hold| hold.name());
        let role = of.role.map_or("unknown", |role| role.name());
        let labelled = [
            ("statement", of.statement.as_str()),
            ("slot", &of.slot),
            ("hold point", hold),
            ("role", role),
            ("name", &of.name),
            ("state", of.state.word()),
        ];
        text.push('\n');
        for (label, value) in labelled {
            let _ = writeln!(text, "{label}: {value}");
        }
        if of.on_paper {
            let _ = writeln!(text, "signed: {}", words::ON_PAPER);
        }
        if let Some(key) = &of.fingerprint {
            let _ = writeln!(text, "key: {key}");
        }
        for line in words::what_became_of(of) {
            let _ = writeln!(text, "{line}");
        }
    }
    if verified.is_empty() {
        let _ = writeln!(text, "\n{}", words::NOTHING_SIGNED);
    }
    text
}
