//! The figures of one slot, all from its chain.

use super::adjusted::{AdjustedFigures, JobLevels};
use super::chain::{Basis, Chain, SlotView};
use super::checks::{self, Checked};
use super::connections::{self, Connection};
use super::cut::Cut;
use super::fits::{self, AccessoryPlace, InKeepOut};
use super::said::Recorded;
use crate::finding::{self, Flag};
use crate::job::Elevations;
use crate::tally;

/// The figures of one slot.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotFigures {
    /// Where its parts are.
    pub chain: Chain,
    /// Where they are as read, where `chain` has all readings in its place.
    pub as_read: Option<Box<Chain>>,
    /// What all readings say beside the chain; `None` where they are no more than that.
    pub adjusted: Option<AdjustedFigures>,
    /// Every connection from the bottom up, the open box at the top included; empty without a basis.
    pub connections: Vec<Connection>,
    /// The cut.
    pub cut: Cut,
    /// The accessories of this slot.
    pub accessories: Vec<AccessoryPlace>,
    /// Connections that stay and lie where none may.
    pub in_keep_outs: Vec<InKeepOut>,
    /// What there is to say, the worst first.
    pub flags: Vec<Flag>,
}

impl SlotFigures {
    /// The figures of a slot; `more` gives flags of what else is known of it.
    pub(super) fn of(
        view: SlotView<'_>,
        recorded: Recorded<'_>,
        levels: Option<&JobLevels>,
        more: impl FnOnce(&Checked<'_>) -> Vec<Flag>,
    ) -> Self {
        let read = Chain::of(view);
        let adjusted = levels.and_then(|levels| levels.compared(view, &read));
        let by_readings = levels.filter(|_| {
            view.job.cut.elevations == Elevations::Adjusted && read.basis == Basis::Read
        });
        let by_readings = by_readings.and_then(|levels| levels.of_slot(view));
        let (chain, as_read) = match by_readings {
            Some(all) => (read.hung_by(all), Some(Box::new(read))),
            None => (read, None),
        };
        let connections = connections::all(view, &chain);
        let cut = Cut::of(view, &chain, &connections, recorded);
        let accessories = fits::accessories(view, &chain, &connections);
        let in_keep_outs = fits::in_keep_outs(view, &connections, &cut);
        let mut flags = tally::review(view.tally, &chain.string, view.slot.pipe.pins);
        let checked = Checked {
            view,
            chain: &chain,
            connections: &connections,
            cut: &cut,
            accessories: &accessories,
            in_keep_outs: &in_keep_outs,
        };
        flags.extend(checks::slot(&checked));
        flags.extend(more(&checked));
        if let Some(levels) = levels {
            let finished = levels.finished(view);
            flags.extend(levels.disagrees(view.job, adjusted.as_ref(), finished.as_ref()));
        }
        finding::sort(&mut flags);
        Self {
            chain,
            as_read,
            adjusted,
            connections,
            cut,
            accessories,
            in_keep_outs,
            flags,
        }
    }

    /// Where its parts are by RT, the stick-up and the tally alone.
    pub fn as_read(&self) -> &Chain {
        self.as_read.as_deref().unwrap_or(&self.chain)
    }
}
