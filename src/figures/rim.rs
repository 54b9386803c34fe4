//! How a finished top lies, by readings round its rim whose directions were noted: the plane that fits them best.

use crate::deck::{DeckTop, best_fit};
use crate::journal::AtRim;
use crate::measure::{Elevation, Length};

/// The plane of a rim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rim {
    /// The height of its high side above its low side, across the pipe.
    pub across: Length,
    /// The direction from the centre to the low side, in degrees from 0 to below 360; `None` where it is level.
    pub low_side: Option<f64>,
    /// By how much the reading that is furthest from the plane is off it.
    pub off_plane: Length,
}

/// The plane of a rim of this diameter; `None` where directions are missing, or readings stand in under three of them.
pub(super) fn rim(readings: &[AtRim<Elevation>], diameter: Length) -> Option<Rim> {
    let radius = diameter.real_metres() / 2.0;
    let at_rim = readings.iter().map(|it| {
        let azimuth = it.azimuth?.to_radians();
        Some(DeckTop {
            x: Length::nearest_to_metres(radius * azimuth.sin())?,
            y: Length::nearest_to_metres(radius * azimuth.cos())?,
            z: it.value.height(),
        })
    });
    let at_rim: Option<Vec<DeckTop>> = at_rim.collect();
    let plane = best_fit(&at_rim?)?;
    let slope = plane.b.hypot(plane.c);
    let across = Length::nearest_to_metres(slope * diameter.real_metres())?;
    let low = (-plane.b).atan2(-plane.c).to_degrees().rem_euclid(360.0);
    let furthest = plane
        .residuals
        .iter()
        .map(|it| it.abs())
        .fold(0.0, f64::max);
    Some(Rim {
        across,
        low_side: (!across.is_zero()).then_some(low),
        off_plane: Length::nearest_to_metres(furthest)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(all: &[(f64, i64)]) -> Vec<AtRim<Elevation>> {
        let all = all.iter().map(|(azimuth, nm)| AtRim {
            value: Elevation::above_datum(Length::from_nm(14_000_000_000 + nm)),
            azimuth: Some(*azimuth),
        });
        all.collect()
    }

    #[test]
    fn a_tilted_rim_gives_its_tilt_its_low_side_and_what_is_off_it() {
        // 2 mm high at 90 degrees, 2 mm low at 270: low towards 270, and all in one plane.
        let plane = readings(&[(0.0, 0), (90.0, 2_000_000), (180.0, 0), (270.0, -2_000_000)]);
        let found = rim(&plane, Length::from_mm(762)).expect("a plane");
        assert_eq!(found.across, Length::from_mm(4));
        assert!((found.low_side.expect("a side") - 270.0).abs() < 1e-3);
        assert_eq!(found.off_plane, Length::ZERO);
        // A saddle is no tilt: all of it is off the plane.
        let saddle = readings(&[
            (0.0, 1_000_000),
            (90.0, -1_000_000),
            (180.0, 1_000_000),
            (270.0, -1_000_000),
        ]);
        let found = rim(&saddle, Length::from_mm(762)).expect("a plane");
        assert_eq!((found.across, found.low_side), (Length::ZERO, None));
        assert_eq!(found.off_plane, Length::from_mm(1));
    }

    #[test]
    fn readings_without_directions_or_from_two_sides_alone_have_no_plane() {
        let two = readings(&[(0.0, 0), (180.0, 1_000_000), (0.0, 0)]);
        assert_eq!(rim(&two, Length::from_mm(762)), None);
        let mut unknown = readings(&[(0.0, 0), (90.0, 0), (180.0, 0)]);
        unknown[1].azimuth = None;
        assert_eq!(rim(&unknown, Length::from_mm(762)), None);
    }
}
