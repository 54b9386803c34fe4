//! Parts of a network that hang together.

/// Points joined to parts.
#[derive(Clone, Debug)]
pub struct Parts {
    above: Vec<usize>,
}

impl Parts {
    /// So many points, each by itself.
    pub fn new(points: usize) -> Self {
        Self {
            above: (0..points).collect(),
        }
    }

    /// The part of a point, by one of its points. The way to it is made shorter each time.
    pub fn of(&mut self, point: usize) -> usize {
        let mut at = point;
        while let Some(up) = self.above.get(at).copied().filter(|up| *up != at) {
            let over = self.above.get(up).copied().unwrap_or(up);
            if let Some(place) = self.above.get_mut(at) {
                *place = over;
            }
            at = up;
        }
        at
    }

    /// Joins the parts of two points.
    pub fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.of(one), self.of(other));
        if let Some(place) = self.above.get_mut(one) {
            *place = other;
        }
    }
}
