//! Places in one list for places in another, four bytes each.

/// For each place of a list a place in another, or none yet.
pub(super) struct Partners(Vec<u32>);

/// No place: lists have a few millions of joints at most.
const NONE: u32 = u32::MAX;

impl Partners {
    /// None yet for so many places.
    pub(super) fn none(places: usize) -> Self {
        Self(vec![NONE; places])
    }

    /// How many places there are.
    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    /// The partner of a place.
    pub(super) fn get(&self, place: usize) -> Option<usize> {
        let partner = *self.0.get(place)?;
        (partner != NONE).then(|| long(partner))
    }

    /// Gives a place its partner.
    pub(super) fn set(&mut self, place: usize, partner: usize) {
        if let Some(of) = self.0.get_mut(place) {
            *of = short(partner);
        }
    }

    /// Whether a place is one of the list, and has no partner.
    pub(super) fn is_free(&self, place: usize) -> bool {
        self.0.get(place) == Some(&NONE)
    }

    /// The partner of each place.
    pub(super) fn iter(&self) -> impl Iterator<Item = Option<usize>> + '_ {
        (0..self.0.len()).map(|place| self.get(place))
    }
}

/// A place as it is kept.
pub(super) fn short(place: usize) -> u32 {
    u32::try_from(place).unwrap_or(NONE)
}

/// A place that was kept.
pub(super) fn long(place: u32) -> usize {
    usize::try_from(place).unwrap_or(usize::MAX)
}
