//! What a job's journal says was decided.

use std::path::Path;

/// Each decision in the journal of a folder: of what, of which joint, its choice, and where they are given its value
/// and its note.
pub fn decided(folder: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(folder.join("journal.jsonl")).unwrap_or_default();
    let entries = text
        .lines()
        .map(|line| serde_json::from_str::<serde_json::Value>(line).expect("JSON"));
    let decisions = entries.filter(|entry| entry["event"] == "decision");
    decisions
        .map(|entry| {
            let words = ["of", "joint", "choice", "value", "note"].map(|key| entry[key].as_str());
            words.into_iter().flatten().collect::<Vec<_>>().join(" ")
        })
        .collect()
}
