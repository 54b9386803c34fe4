//! Flags of the other lists of a string.

use super::parts::{Words, some_of};
use crate::finding::{ListFinding, Named, OpenItem, OpenList};
use crate::measure::Excerpt;

impl Words {
    /// Flags of other lists of a string.
    pub(super) fn of_lists(&self, found: &ListFinding) -> String {
        match found {
            ListFinding::Unreadable { lists } => {
                let words = |(list, reason): &(String, String)| {
                    format!("{list}: {}", reason.replace('\n', "; "))
                };
                let lists: Vec<String> = lists.iter().map(words).collect();
                format!(
                    "it cannot be read, so that nothing is compared: {}",
                    lists.join(" | ")
                )
            }
            ListFinding::Open { above, lists } => {
                let words = |it: &OpenList| {
                    format!(
                        "{}: {}",
                        it.list,
                        some_of(&it.items, |it| self.open_item(it))
                    )
                };
                let lists: Vec<String> = lists.iter().map(words).collect();
                format!(
                    "differences that move an elevation by more than {}, alone or together, are not decided: {}",
                    self.small(*above),
                    lists.join(" | ")
                )
            }
            ListFinding::NotFollowed { lists } => {
                let words = |(list, items): &(String, Named<(&'static str, String)>)| {
                    let item = |(topic, joint): &(&'static str, String)| {
                        format!("{topic} of joint {}", Excerpt::of(joint))
                    };
                    format!("{list}: {}", some_of(items, item))
                };
                let lists: Vec<String> = lists.iter().map(words).collect();
                format!(
                    "decided, but the figures here still rest on the tally as it was; write the tally of record and name it in job.toml: {}",
                    lists.join(" | ")
                )
            }
        }
    }

    fn open_item(&self, item: &OpenItem) -> String {
        match item {
            OpenItem::Difference {
                topic,
                joint,
                moves,
            } => format!(
                "{topic} of joint {} ({})",
                Excerpt::of(joint),
                self.by(*moves)
            ),
            OpenItem::Together { count, moves } => format!(
                "{count} small ones that move a make-up plane by {} together",
                self.by(*moves)
            ),
            OpenItem::RunningJoint {
                joint,
                lines: [line, other],
            } => format!(
                "joint {} is the running joint in one list alone (line {line}, there line {other})",
                Excerpt::of(joint)
            ),
        }
    }
}
