//! What is fixed to a string, and connections that lie where none may.

use super::chain::{Chain, SlotView};
use super::connections::{Connection, gap};
use super::cut::Cut;
use crate::measure::{Elevation, Length};

/// Where an accessory goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AccessoryPlace {
    /// Its index in the job.
    pub accessory: usize,
    /// The piece that spans its lower edge; `None` off the string or without a basis.
    pub piece: Option<usize>,
    /// Its lower edge above that piece's lower make-up plane.
    pub above_lower_plane: Option<Length>,
    /// Where its lower edge ends up; `None` without a basis.
    pub elevation: Option<Elevation>,
    /// Whether it touches no connection; `None` without a basis.
    pub clear: Option<bool>,
}

/// A connection that lies where none may.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InKeepOut {
    /// The keep-out, as an index of the job.
    pub keep_out: usize,
    /// The connection, as an index of the slot's.
    pub connection: usize,
}

/// Keep-outs are open intervals, and those connections count that stay: whose plane lies below the
/// cut, or all where there is none. The open box at the top is no connection yet.
pub(super) fn in_keep_outs(
    view: SlotView<'_>,
    connections: &[Connection],
    cut: &Cut,
) -> Vec<InKeepOut> {
    let cut_at = cut.place.as_ref().map(|_| cut.target);
    let mut found = Vec::new();
    for (keep_out, zone) in view.job.keep_outs.iter().enumerate() {
        if !zone.slots.has(view.index) {
            continue;
        }
        for (number, connection) in connections.iter().enumerate() {
            let stays = !connection.open_box && cut_at.is_none_or(|cut| connection.plane < cut);
            if stays && connection.from < zone.to && connection.to > zone.from {
                found.push(InKeepOut {
                    keep_out,
                    connection: number,
                });
            }
        }
    }
    found
}

/// Where each accessory of a slot goes.
pub(super) fn accessories(
    view: SlotView<'_>,
    chain: &Chain,
    connections: &[Connection],
) -> Vec<AccessoryPlace> {
    let here = view
        .job
        .accessories
        .iter()
        .enumerate()
        .filter(|(_, accessory)| accessory.slots.has(view.index));
    here.map(|(number, accessory)| {
        let (from, to) = (accessory.elevation, accessory.elevation + accessory.length);
        let piece = chain.piece_at(from);
        let lower = piece.and_then(|piece| chain.lower_plane(piece));
        let touches =
            |connection: &Connection| gap(connection.from, connection.to, from, to).is_zero();
        AccessoryPlace {
            accessory: number,
            piece,
            above_lower_plane: lower.map(|lower| chain.lean.along(from - lower)),
            elevation: chain.shoe.map(|_| from),
            clear: chain.shoe.map(|_| !connections.iter().any(touches)),
        }
    })
    .collect()
}
