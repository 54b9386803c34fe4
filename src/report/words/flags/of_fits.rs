//! Flags of connections and accessories.

use super::parts::Words;
use crate::finding::{Code, FitFinding, KeepOutRef};
use crate::measure::{Elevation, Excerpt, listed};

impl Words {
    /// Flags of connections and accessories.
    pub(super) fn of_fits(&self, code: Code, found: &FitFinding) -> String {
        match found {
            FitFinding::ConnectionsInKeepOut { connections } => {
                let words = |it: &KeepOutRef| {
                    format!(
                        "{}/{} at {} ({})",
                        Excerpt::of(&it.below),
                        Excerpt::of(&it.above),
                        self.at(it.plane),
                        Excerpt::of(&it.why)
                    )
                };
                format!(
                    "connections where none may lie: {}",
                    listed(connections.iter().map(words))
                )
            }
            FitFinding::Accessories { accessories } => {
                let what = match code {
                    Code::AccessoryOnConnection => "would touch a connection",
                    Code::AccessoryOffString => "would lie off the string",
                    _ => "would lie above the cut",
                };
                let words = |(name, at): &(String, Elevation)| {
                    format!("{} at {}", Excerpt::of(name), self.at(*at))
                };
                format!("{what}: {}", listed(accessories.iter().map(words)))
            }
        }
    }
}
