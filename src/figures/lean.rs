//! How lengths along a string become heights, where its inclination was surveyed.

use crate::job::Slot;
use crate::measure::Length;

/// How a string leans. One whose inclination is not stated is taken as upright, exactly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// The cosine of its inclination; `None` where it is upright.
    cosine: Option<f64>,
}

impl Lean {
    /// That of a slot's string.
    pub fn of(slot: &Slot) -> Self {
        let leans = slot.inclination.filter(|it| *it > 0.0);
        Self {
            cosine: leans.map(|degrees| libm::cos(degrees.to_radians())),
        }
    }

    /// Whether it is upright.
    pub const fn is_upright(self) -> bool {
        self.cosine.is_none()
    }

    /// The height of a length along it, rounded to the nanometre.
    #[must_use]
    pub fn rise(self, along: Length) -> Length {
        self.scaled(along, |length, cosine| length * cosine)
    }

    /// The length along it of a height, rounded to the nanometre.
    #[must_use]
    pub fn along(self, rise: Length) -> Length {
        self.scaled(rise, |height, cosine| height / cosine)
    }

    fn scaled(self, length: Length, by: impl Fn(f64, f64) -> f64) -> Length {
        let scaled = self.cosine.map(|cosine| by(length.real_metres(), cosine));
        scaled.and_then(Length::nearest_to_metres).unwrap_or(length)
    }
}
