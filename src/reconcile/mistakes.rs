//! The mistakes that people make when they write a length down, and what was meant.

use super::lengths::LONGEST_LOSS;
use crate::measure::{Length, MAX_JOINT, Unit};
use crate::tally::Written;

/// A mistake, in the order in which equals are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mistake {
    /// A joint that was run is not in the list.
    JointLeftOut,
    /// Another joint was run than was entered.
    OtherJoint,
    /// A joint is listed twice.
    JointTwice,
    /// A make-up loss was not deducted.
    LossNotDeducted,
    /// A make-up loss was deducted twice.
    LossDeductedTwice,
    /// A make-up loss is far from the others.
    LossOutlier,
    /// Two neighbouring digits are swapped.
    DigitsSwapped,
    /// One digit is misread.
    DigitMisread,
    /// One metre or foot too much or too little: 11 for 12.
    WholeUnit,
    /// The tape was read from its burnt end: 0.1 m, 1 m or 1 ft too long.
    TapeEnd,
    /// The decimal mark is one place off.
    DecimalShifted,
    /// Inches written as tenths of a foot.
    InchesAsTenths,
    /// Feet taken as metres.
    FeetAsMetres,
    /// Metres taken as feet.
    MetresAsFeet,
    /// A page's total carried forward not at all, or twice.
    CarryForward,
    /// The sign of the stick-up.
    StickUpSign,
    /// The stick-up was measured from RT, not from the spider.
    StickUpSurface,
    /// The RT elevation of another hull position.
    WrongHull,
}

impl Mistake {
    /// The name in JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::JointLeftOut => "joint-left-out",
            Self::OtherJoint => "other-joint",
            Self::JointTwice => "joint-twice",
            Self::LossNotDeducted => "loss-not-deducted",
            Self::LossDeductedTwice => "loss-deducted-twice",
            Self::LossOutlier => "loss-outlier",
            Self::DigitsSwapped => "digits-swapped",
            Self::DigitMisread => "digit-misread",
            Self::WholeUnit => "whole-unit",
            Self::TapeEnd => "tape-end",
            Self::DecimalShifted => "decimal-shifted",
            Self::InchesAsTenths => "inches-as-tenths",
            Self::FeetAsMetres => "feet-as-metres",
            Self::MetresAsFeet => "metres-as-feet",
            Self::CarryForward => "carry-forward",
            Self::StickUpSign => "stick-up-sign",
            Self::StickUpSurface => "stick-up-surface",
            Self::WrongHull => "wrong-hull",
        }
    }
}

/// Digits that are taken for each other, by long practice (no source).
const MISREAD: [(u8, u8); 5] = [(3, 8), (1, 7), (6, 0), (5, 6), (4, 9)];

/// What a burnt tape end adds: the first decimetre, metre or foot of a tape.
pub(super) const TAPE_ENDS: [Length; 3] = [
    Length::from_mm(100),
    Length::from_mm(1000),
    Length::from_nm(304_800_000),
];

/// A number as it stands on paper: whole steps of `unit / 10^decimals`.
struct WrittenNumber {
    steps: i64,
    decimals: u32,
    unit: i64,
}

impl WrittenNumber {
    /// `None` where the length is no whole number of steps, as where it was written as a fraction.
    fn of(length: Length, unit: Unit, decimals: u8) -> Option<Self> {
        let decimals = u32::from(decimals);
        let scale = 10_i64.checked_pow(decimals)?;
        let scaled = i128::from(length.nm()) * i128::from(scale);
        let unit = unit.nm();
        (scaled % i128::from(unit) == 0).then(|| Self {
            steps: i64::try_from(scaled / i128::from(unit)).unwrap_or(i64::MAX),
            decimals,
            unit,
        })
    }

    /// The length of so many steps; `None` where it is no whole number of nanometres.
    fn length(&self, steps: i64) -> Option<Length> {
        let scale = i128::from(10_i64.checked_pow(self.decimals)?);
        let scaled = i128::from(steps) * i128::from(self.unit);
        (scaled % scale == 0).then_some(())?;
        i64::try_from(scaled / scale).ok().map(Length::from_nm)
    }

    /// Its digits, the last one first; at least one before the decimal mark.
    fn digits(&self) -> Vec<u8> {
        let mut digits = Vec::new();
        let mut rest = self.steps;
        while rest > 0 || digits.len() <= usize::try_from(self.decimals).unwrap_or(0) {
            digits.push(u8::try_from(rest % 10).unwrap_or(0));
            rest /= 10;
        }
        digits
    }

    /// Every figure that differs from this one by two neighbouring digits swapped.
    fn swapped(&self) -> Vec<i64> {
        let digits = self.digits();
        let mut place = 1_i64;
        let mut all = Vec::new();
        for pair in digits.windows(2) {
            if let [low, high] = pair {
                // The pair reads high, low; swapped, low, high.
                let by = (i64::from(*low) - i64::from(*high)) * 9 * place;
                if by != 0 {
                    all.push(self.steps + by);
                }
            }
            place = place.saturating_mul(10);
        }
        all
    }

    /// Every figure that differs from this one by one digit that is easily misread.
    fn misread(&self) -> Vec<i64> {
        let mut place = 1_i64;
        let mut all = Vec::new();
        for digit in self.digits() {
            for (one, other) in MISREAD {
                let meant = match digit {
                    d if d == one => other,
                    d if d == other => one,
                    _ => continue,
                };
                all.push(self.steps + (i64::from(meant) - i64::from(digit)) * place);
            }
            place = place.saturating_mul(10);
        }
        all
    }
}

/// Every length that may have been meant where `length` was written so, each with the mistake; those
/// that are not possible are left out.
pub fn corrections(length: Length, written: Written) -> Vec<(Mistake, Length)> {
    let mut all: Vec<(Mistake, Length)> = Vec::new();
    let mut digits = |figure: &WrittenNumber, rest: Length| {
        for (mistake, steps) in [
            (Mistake::DigitsSwapped, figure.swapped()),
            (Mistake::DigitMisread, figure.misread()),
        ] {
            let lengths = steps.into_iter().filter_map(|steps| figure.length(steps));
            all.extend(lengths.map(|length| (mistake, length + rest)));
        }
    };
    match written.unit() {
        Unit::FootInch => {
            // Feet and inches are two numbers, and what is misread is one of them.
            let feet = Length::from_nm(length.nm() - length.nm() % Unit::Foot.nm());
            let inches = length - feet;
            let whole = Length::from_nm(inches.nm() - inches.nm() % Unit::Inch.nm());
            if let Some(figure) = WrittenNumber::of(feet, Unit::Foot, 0) {
                digits(&figure, inches);
            }
            if let Some(figure) = WrittenNumber::of(whole, Unit::Inch, 0) {
                digits(&figure, length - whole);
            }
        }
        unit => {
            if let Some(figure) = WrittenNumber::of(length, unit, written.decimals()) {
                digits(&figure, Length::ZERO);
                all.extend(shifted(&figure).map(|it| (Mistake::DecimalShifted, it)));
                all.extend(other_unit(&figure, unit));
            }
        }
    }
    let whole = match written.unit() {
        Unit::Metre | Unit::Centimetre | Unit::Millimetre => Length::from_mm(1000),
        Unit::Foot | Unit::FootInch | Unit::Inch => Length::from_nm(Unit::Foot.nm()),
    };
    all.extend([length + whole, length - whole].map(|it| (Mistake::WholeUnit, it)));
    all.extend(TAPE_ENDS.map(|end| (Mistake::TapeEnd, length - end)));
    all.retain(|(_, meant)| *meant > Length::ZERO && *meant <= MAX_JOINT && *meant != length);
    all
}

/// Every make-up loss that may have been meant where `loss` was written so: mistakes in its digits and
/// its decimal mark. A tape's end or a whole metre are no mistakes of losses, which are machined.
pub fn loss_corrections(loss: Length, written: Written) -> Vec<(Mistake, Length)> {
    let mut all = corrections(loss, written);
    all.retain(|(mistake, meant)| {
        let of_digits = matches!(
            mistake,
            Mistake::DigitsSwapped | Mistake::DigitMisread | Mistake::DecimalShifted
        );
        of_digits && *meant <= LONGEST_LOSS
    });
    all
}

/// The decimal mark one place further on either side.
fn shifted(figure: &WrittenNumber) -> impl Iterator<Item = Length> {
    let tenth = WrittenNumber {
        decimals: figure.decimals + 1,
        ..*figure
    };
    let more = figure
        .steps
        .checked_mul(10)
        .and_then(|it| figure.length(it));
    [more, tenth.length(figure.steps)].into_iter().flatten()
}

/// The same number in another unit, or its tenths as inches.
fn other_unit(figure: &WrittenNumber, unit: Unit) -> Vec<(Mistake, Length)> {
    let same_number = |unit: Unit| {
        let other = WrittenNumber {
            unit: unit.nm(),
            ..*figure
        };
        other.length(figure.steps)
    };
    match unit {
        Unit::Metre => same_number(Unit::Foot)
            .map(|it| (Mistake::FeetAsMetres, it))
            .into_iter()
            .collect(),
        Unit::Foot => {
            let mut all = Vec::new();
            all.extend(same_number(Unit::Metre).map(|it| (Mistake::MetresAsFeet, it)));
            let scale = 10_i64.pow(figure.decimals.min(9));
            let (feet, inches) = (figure.steps / scale, figure.steps % scale);
            if (1..=2).contains(&figure.decimals) && (1..12).contains(&inches) {
                let meant = feet * Unit::Foot.nm() + inches * Unit::Inch.nm();
                all.push((Mistake::InchesAsTenths, Length::from_nm(meant)));
            }
            all
        }
        _ => Vec::new(),
    }
}
