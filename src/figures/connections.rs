//! Connections: a make-up plane is where lengths meet, a connection is the steel around it.

use super::chain::{Chain, SlotView};
use crate::measure::{Elevation, Length};

/// The steel of one connection, from its lowest to its highest point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Connection {
    /// The make-up plane; for the open box, the top of the string.
    pub plane: Elevation,
    /// The lowest point.
    pub from: Elevation,
    /// The highest point.
    pub to: Elevation,
    /// The index of the piece below the plane.
    pub below: usize,
    /// The open box at the top (pins down): nothing is made up in it.
    pub open_box: bool,
}

impl Connection {
    /// The distance from a span of elevations to this connection; 0 where they touch or overlap.
    pub fn distance(&self, from: Elevation, to: Elevation) -> Length {
        gap(self.from, self.to, from, to)
    }
}

/// The distance between two closed intervals; 0 where they touch or overlap.
pub(super) fn gap(
    a_from: Elevation,
    a_to: Elevation,
    b_from: Elevation,
    b_to: Elevation,
) -> Length {
    (b_from - a_to).max(a_from - b_to).max(Length::ZERO)
}

/// Every connection of a string from the bottom up, the open box at the top included; none without a
/// basis.
///
/// A connection reaches from its plane down by `connection_below` and up by `connection_above`;
/// where one is not given it is the make-up loss on the pin's side and 0 on the other.
pub(super) fn all(view: SlotView<'_>, chain: &Chain) -> Vec<Connection> {
    let (pipe, string) = (&view.slot.pipe, &chain.string);
    let loss = |piece: usize| {
        let own = string.joint(view.tally, piece);
        let own = own.and_then(|joint| joint.makeup_loss);
        let loss = own.or(pipe.pins.nominal_loss).unwrap_or(Length::ZERO);
        // A root gap lies between the ends of two pipes: nothing reaches past the plane.
        loss.max(Length::ZERO)
    };
    let mut connections = Vec::with_capacity(string.pieces.len());
    for index in 0..string.pieces.len() {
        let Some(plane) = chain.upper_plane(index) else {
            continue;
        };
        let is_top = index + 1 == string.pieces.len();
        if is_top && string.pins_up {
            continue;
        }
        let (below, above) = if is_top {
            let box_below = pipe.connection_below.unwrap_or_else(|| loss(index));
            // What was cropped off the top joint was the upper part of its box, or all of it.
            let crops = view.slot.cropped.iter();
            let crops = crops.filter(|(joint, _)| *joint == index);
            let cropped: Length = crops.map(|(_, length)| *length).sum();
            if !cropped.is_zero() && cropped >= box_below {
                continue;
            }
            (box_below - cropped, Length::ZERO)
        } else if string.pins_up {
            (
                pipe.connection_below.unwrap_or_default(),
                pipe.connection_above.unwrap_or_else(|| loss(index)),
            )
        } else {
            (
                pipe.connection_below.unwrap_or_else(|| loss(index + 1)),
                pipe.connection_above.unwrap_or_default(),
            )
        };
        connections.push(Connection {
            plane,
            from: plane - below,
            to: plane + above,
            below: index,
            open_box: is_top,
        });
    }
    connections
}
