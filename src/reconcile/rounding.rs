//! How finely a list is written, and when two readings are the same but for that.
//!
//! Two readings agree within rounding where they are written to different last places and differ by less than
//! half the sum of those; of equal last places they agree only where they are equal. The last place of a
//! reading is the finest that is written in its column.

use crate::measure::{Length, Unit};
use crate::tally::{Tally, Written};

/// The finest fraction of an inch that is read.
const FINEST_FRACTION: i64 = 64;

/// The last places of the columns of a list; `None` where a column is not there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LastPlaces {
    /// Of its lengths.
    pub length: Option<Length>,
    /// Of its make-up losses.
    pub loss: Option<Length>,
}

impl LastPlaces {
    /// Those of a tally.
    pub fn of(tally: &Tally) -> Self {
        let mut places = Self::default();
        for joint in &tally.joints {
            let length = joint.length;
            finer(&mut places.length, length, Some(joint.written));
            finer(&mut places.loss, joint.makeup_loss, joint.loss_written);
        }
        places
    }
}

/// Keeps the finer of two last places. A zero needs no digits and tells nothing.
fn finer(place: &mut Option<Length>, value: Option<Length>, written: Option<Written>) {
    let (Some(value), Some(written)) = (value.filter(|it| !it.is_zero()), written) else {
        return;
    };
    let own = last_place(value, written);
    *place = Some(place.map_or(own, |it| it.min(own)));
}

/// The last place of one reading as it is written.
fn last_place(value: Length, written: Written) -> Length {
    let (unit, decimals) = (written.unit(), written.decimals());
    let is_inches = matches!(unit, Unit::FootInch | Unit::Inch);
    let whole = if is_inches { Unit::Inch } else { unit }.nm();
    if is_inches && decimals == 0 {
        // A fraction is known by what it is a multiple of.
        let mut parts = 1;
        while parts < FINEST_FRACTION && value.nm() % (whole / parts) != 0 {
            parts *= 2;
        }
        return Length::from_nm(whole / parts);
    }
    let scale = 10_i64.checked_pow(u32::from(decimals));
    Length::from_nm(scale.map_or(1, |scale| (whole / scale).max(1)))
}

/// By how much two readings of these last places may differ and still agree.
pub fn allowed(one: Option<Length>, other: Option<Length>) -> Length {
    match (one, other) {
        (Some(one), Some(other)) if one != other => {
            // Less than half the sum, in whole nanometres.
            Length::from_nm((one.nm() + other.nm() - 1).div_euclid(2))
        }
        _ => Length::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::{LastPlaces, allowed};
    use crate::measure::{Length, Unit};
    use crate::tally::{Options, read};

    fn places(text: &str, unit: Unit) -> LastPlaces {
        let options = Options {
            units: Some(unit),
            ..Options::default()
        };
        LastPlaces::of(&read(text.as_bytes(), &options).expect("an invented tally"))
    }

    #[test]
    fn the_last_place_is_the_finest_that_is_written_in_the_column() {
        let metres = places(
            "joint,length,makeup_loss\n1,12.1,\n2,12.115,0.15\n",
            Unit::Metre,
        );
        assert_eq!(metres.length, Some(Length::from_mm(1)));
        assert_eq!(metres.loss, Some(Length::from_mm(10)));
        let inches = places(
            "joint,length\n1,39'-9\"\n2,39'-6 5/16\"\n3,39'-6 1/2\"\n",
            Unit::FootInch,
        );
        assert_eq!(inches.length, Some(Length::from_nm(1_587_500)));
        let feet = places("joint,length\n1,39.7\n2,39.75\n", Unit::Foot);
        assert_eq!(feet.length, Some(Length::from_nm(3_048_000)));
        assert_eq!(feet.loss, None);
    }

    /// The contract's own example: 1 mm against 1/16 in is less than 1.29375 mm.
    #[test]
    fn a_millimetre_against_a_sixteenth_of_an_inch_agrees_below_half_their_sum() {
        let (mm, sixteenth) = (Some(Length::from_mm(1)), Some(Length::from_nm(1_587_500)));
        assert_eq!(allowed(mm, sixteenth), Length::from_nm(1_293_749));
        assert_eq!(allowed(mm, mm), Length::ZERO);
        assert_eq!(allowed(mm, None), Length::ZERO);
    }
}
