//! The cut: its target, where it lies on the string, and what comes off.

use super::as_cut::{AsCut, as_cut};
use super::chain::{Basis, Chain, SlotView};
use super::connections::{Connection, gap};
use super::marks::{Mark, marks};
use super::said::Recorded;
use super::steel;
use crate::measure::{Depth, Elevation, Length};

/// The cut of one slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The elevation of the finished top: the lower edge of the kerf.
    pub target: Elevation,
    /// All allowances together.
    pub allowances: Length,
    /// Below RT at the hull position from which the cut is made.
    pub below_rotary: Depth,
    /// The elevation of a first, rough cut; `None` where none is given, and off the string.
    pub rough: Option<Elevation>,
    /// Where it lies on the string; `None` without a basis, or where it is not on the string.
    pub place: Option<CutPlace>,
    /// What the readings of the finished top say; `None` before it is cut.
    pub as_cut: Option<AsCut>,
    /// Whether the journal says that the final cut was made, surveyed or not.
    pub is_made: bool,
}

impl Cut {
    /// The cut of a slot whose string stands as the chain has it.
    pub(super) fn of(
        view: SlotView<'_>,
        chain: &Chain,
        connections: &[Connection],
        recorded: Recorded<'_>,
    ) -> Self {
        let allowances = view
            .job
            .allowances
            .iter()
            .filter(|allowance| allowance.slots.has(view.index))
            .map(|allowance| allowance.value)
            .sum();
        let target = view.job.deck.elevation + view.slot.cut_offset + allowances;
        let place = CutPlace::of(view, chain, connections, (target, recorded));
        // Where a string is known and the cut is not on it, nothing of the cut stands but its target.
        let off_the_string = chain.shoe.is_some() && place.is_none();
        let rough = view.job.cut.rough_above.map(|above| target + above);
        Self {
            target,
            allowances,
            below_rotary: chain.cut_rotary.depth_of(target),
            rough: rough.filter(|_| !off_the_string),
            place,
            as_cut: as_cut(view, target, recorded.at_rim()),
            is_made: recorded.is_cut(),
        }
    }

    /// Whether the conductor is cut already: nobody may cut it again.
    pub const fn is_cut(&self) -> bool {
        self.as_cut.is_some() || self.is_made
    }

    /// Whether it is cut and nothing says at which elevation.
    pub const fn is_unsurveyed(&self) -> bool {
        self.is_made && self.as_cut.is_none()
    }
}

/// Where a cut lies on its string.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPlace {
    /// The piece that contains it.
    pub piece: usize,
    /// Above that piece's lower make-up plane.
    pub above_lower_plane: Length,
    /// Below that piece's upper make-up plane; in the top piece, below the top.
    pub below_upper_plane: Length,
    /// Length of the piece above the kerf; never below 0.
    pub offcut_length: Length,
    /// Mass of the off-cut in kg; without its connectors where their mass is not given.
    pub offcut_mass: f64,
    /// Whether that mass leaves out connectors.
    pub offcut_mass_is_partial: bool,
    /// How many made-up connections the off-cut has.
    pub offcut_connections: usize,
    /// Least distance from the kerf to a connection.
    pub to_connection: Option<Length>,
    /// Distance from the kerf to the landing shoulder.
    pub to_shoulder: Option<Length>,
    /// The ways to find it.
    pub marks: Vec<Mark>,
    /// Those and the ways that no longer count: what was measured from them before still does.
    pub all_marks: Vec<Mark>,
}

impl CutPlace {
    fn of(
        view: SlotView<'_>,
        chain: &Chain,
        connections: &[Connection],
        (target, recorded): (Elevation, Recorded<'_>),
    ) -> Option<Self> {
        let top = chain.top?;
        let piece = chain.piece_at(target)?;
        let (lower, upper) = (chain.lower_plane(piece)?, chain.upper_plane(piece)?);
        let blade_top = target + view.job.cut.kerf;
        let lean = chain.lean;
        let offcut_length = lean.along(top - blade_top).max(Length::ZERO);
        let planes_above = (piece..chain.string.pieces.len()).filter(|piece| {
            let plane = chain.upper_plane(*piece);
            plane.is_some_and(|plane| plane > target && plane < top)
        });
        let offcut_connections = if offcut_length.is_zero() {
            0
        } else {
            planes_above.count()
        };
        let pipe = &view.slot.pipe;
        let steel = steel::mass_per_metre(pipe) * offcut_length.real_metres();
        #[allow(
            clippy::cast_precision_loss,
            reason = "a count of connections, far below 2^52"
        )]
        let connectors = |mass: f64| offcut_connections as f64 * mass;
        let whole = pipe.connector_mass.map(|mass| steel + connectors(mass));
        let all_marks = marks(view, chain, target, (piece, lower, upper));
        let void = recorded.void(view.tally, chain.basis == Basis::Read);
        let mut marks = all_marks.clone();
        marks.retain(|mark| !void.has(view.job, mark));
        Some(Self {
            piece,
            above_lower_plane: lean.along(target - lower),
            below_upper_plane: lean.along(upper - target),
            offcut_length,
            offcut_mass: whole.unwrap_or(steel),
            offcut_mass_is_partial: whole.is_none() && offcut_connections > 0,
            offcut_connections,
            to_connection: connections
                .iter()
                .map(|connection| connection.distance(target, blade_top))
                .min(),
            to_shoulder: chain
                .shoulder_elevation()
                .map(|shoulder| gap(shoulder, shoulder, target, blade_top)),
            marks,
            all_marks,
        })
    }

    /// Whether the kerf keeps a distance from connections and from the shoulder; a distance on the
    /// limit does.
    pub fn is_clear(&self, clearance: Length) -> bool {
        let keeps = |distance: Option<Length>| distance.is_none_or(|it| it >= clearance);
        keeps(self.to_connection) && keeps(self.to_shoulder)
    }

    /// The marks, the nearest first.
    pub fn nearest_first(&self) -> Vec<&Mark> {
        let mut marks: Vec<&Mark> = self.marks.iter().collect();
        marks.sort_by_key(|mark| mark.distance.value.abs());
        marks
    }
}
