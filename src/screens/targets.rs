//! Where a click leads: drawing notes each place that can be clicked.

use ratatui::layout::{Position, Rect};

use super::action::Action;

/// The places of one frame that can be clicked, with what a click there does.
#[derive(Debug, Default)]
pub struct Targets(Vec<(Rect, Action)>);

impl Targets {
    /// Notes a place. What is noted later lies over what was noted before.
    pub(super) fn add(&mut self, area: Rect, action: Action) {
        self.0.push((area, action));
    }

    /// What a click on a cell does.
    pub fn at(&self, column: u16, row: u16) -> Option<&Action> {
        let position = Position::new(column, row);
        let mut places = self.0.iter().rev();
        let found = places.find(|(area, _)| area.contains(position));
        found.map(|(_, action)| action)
    }
}
