//! What a statement says, and the lines in which it says what is compared later.

use thiserror::Error;

use super::figures::SignedFigure;
use crate::job::{Hold, Role};

/// What a person signs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Statement {
    /// The slot.
    pub slot: String,
    /// The hold point.
    pub hold: Hold,
    /// In which role.
    pub role: Role,
    /// Who.
    pub name: String,
    /// When.
    pub at: String,
    /// How many entries the journal had, which is the number of the last.
    pub entries: u64,
    /// The hash of the last.
    pub head: String,
    /// Whether it is signed on paper, without a key.
    pub on_paper: bool,
    /// The digest of who may sign.
    pub signers_sha256: String,
    /// The figures signed for.
    pub figures: Vec<SignedFigure>,
    /// The files that they rest on: name and SHA-256.
    pub inputs: Vec<(String, String)>,
}

/// The heading over the figures.
pub const FIGURES: &str = "FIGURES SIGNED FOR";
/// The heading over the files.
pub const INPUTS: &str = "FILES THAT THE FIGURES REST ON";

/// Why a text is no statement.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("it is not a statement of this program")]
pub struct NotAStatement;

impl Statement {
    /// The heading lines: a label, and what it says.
    pub fn heading(&self) -> [(&'static str, String); 8] {
        let signed = if self.on_paper { "on paper" } else { "by key" };
        [
            ("Slot", self.slot.clone()),
            ("Hold point", self.hold.name().to_owned()),
            ("Role", self.role.name().to_owned()),
            ("Name", self.name.clone()),
            ("Time", self.at.clone()),
            ("Journal", format!("{} {}", self.entries, self.head)),
            ("Signers", self.signers_sha256.clone()),
            ("Signed", signed.to_owned()),
        ]
    }

    /// Reads what a statement says.
    pub fn read(text: &str) -> Result<Self, NotAStatement> {
        let heading = |label: &str| {
            let mut lines = text.lines().take_while(|line| *line != FIGURES);
            lines.find_map(|line| {
                line.strip_prefix(label)?
                    .strip_prefix(": ")
                    .map(str::to_owned)
            })
        };
        let needed = |label: &str| heading(label).ok_or(NotAStatement);
        let journal = needed("Journal")?;
        let (entries, head) = journal.split_once(' ').ok_or(NotAStatement)?;
        let part = |title: &str| -> Vec<(String, String)> {
            let lines = text.lines().skip_while(|line| *line != title).skip(1);
            let lines = lines.take_while(|line| !line.is_empty());
            lines
                .filter_map(key_and_value)
                .map(|(key, value)| (key.to_owned(), value.to_owned()))
                .collect()
        };
        let figures = part(FIGURES);
        if figures.is_empty() {
            return Err(NotAStatement);
        }
        Ok(Self {
            slot: needed("Slot")?,
            hold: Hold::from_name(&needed("Hold point")?).ok_or(NotAStatement)?,
            role: Role::from_name(&needed("Role")?).ok_or(NotAStatement)?,
            name: needed("Name")?,
            at: needed("Time")?,
            entries: entries.parse().map_err(|_| NotAStatement)?,
            head: head.to_owned(),
            on_paper: needed("Signed")? == "on paper",
            signers_sha256: needed("Signers")?,
            figures: figures
                .into_iter()
                .map(|(key, text)| SignedFigure { key, text })
                .collect(),
            inputs: part(INPUTS),
        })
    }

    /// The path of the statement that is the entry of this number, in the job's folder.
    pub fn file_name(slot: &str, hold: Hold, role: Role, seq: u64) -> String {
        let plain: String = slot
            .chars()
            .map(|c| {
                if c.is_alphanumeric() || matches!(c, '-' | '_') {
                    c
                } else {
                    '_'
                }
            })
            .collect();
        format!("signed/{plain}-{}-{}-{seq}.txt", hold.name(), role.name())
    }
}

/// The key of a line and its value. A name in brackets may itself have ` = ` in it.
fn key_and_value(line: &str) -> Option<(&str, &str)> {
    let (first, _) = line.split_once(" = ")?;
    if !first.contains('[') {
        return line.split_once(" = ");
    }
    line.match_indices("].").find_map(|(at, _)| {
        let (key, value) = line.get(at..)?.split_once(" = ")?;
        let is_key = key
            .bytes()
            .skip(2)
            .all(|byte| byte.is_ascii_lowercase() || byte == b'_');
        Some((line.get(..at + key.len())?, value)).filter(|_| is_key)
    })
}

#[cfg(test)]
mod tests {
    use super::{Statement, key_and_value};
    use crate::job::{Hold, Role};

    #[test]
    fn a_line_has_its_key_whatever_a_name_holds() {
        for (line, key, value) in [
            ("cut.target_m = 1.0000 m", "cut.target_m", "1.0000 m"),
            ("shoulder.joint = A = 1", "shoulder.joint", "A = 1"),
            (
                "m[bench a = b].from = bench a = b",
                "m[bench a = b].from",
                "bench a = b",
            ),
            ("m[x].y = z].w = 1", "m[x].y", "z].w = 1"),
        ] {
            assert_eq!(key_and_value(line), Some((key, value)), "{line}");
        }
        assert_eq!(key_and_value("no value"), None);
    }

    #[test]
    fn a_statement_is_named_after_its_entry() {
        let name = Statement::file_name("A 1/é", Hold::CutRelease, Role::Checked, 12);
        assert_eq!(name, "signed/A_1_é-cut-release-checked-12.txt");
    }
}
