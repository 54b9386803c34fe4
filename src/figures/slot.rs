//! The figures of one slot, all from its chain.

use super::chain::{Chain, SlotView};
use super::checks::{self, Checked};
use super::connections::{self, Connection};
use super::cut::Cut;
use super::fits::{self, AccessoryPlace, InKeepOut};
use super::said::Recorded;
use crate::finding::{self, Flag};
use crate::tally;

/// The figures of one slot.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotFigures {
    /// Where its parts are.
    pub chain: Chain,
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
        more: impl FnOnce(&Checked<'_>) -> Vec<Flag>,
    ) -> Self {
        let chain = Chain::of(view);
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
        finding::sort(&mut flags);
        Self {
            chain,
            connections,
            cut,
            accessories,
            in_keep_outs,
            flags,
        }
    }
}
