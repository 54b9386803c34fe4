//! Writing lengths for people. There is one formatter, and every output uses it.

use super::{Length, Unit};

/// How lengths are shown: in one unit everywhere at once.
///
/// A figure is rounded once, here, half away from zero as a tape is read: metres to 0.001, or to
/// 0.0001 where the tenths of a millimetre are not zero, so that what is written on paper adds up;
/// decimal feet to 0.001, feet and inches to 1/16 in. What rounds to nothing has no sign.
///
/// ```
/// use kerfmark::measure::{Length, LengthFormat, Unit};
/// let cut = Length::from_mm(14_250);
/// assert_eq!(LengthFormat::new(Unit::Metre).text(cut), "14.250 m");
/// assert_eq!(LengthFormat::new(Unit::Metre).number(Length::from_nm(14_251_500_000)), "14.2515");
/// assert_eq!(LengthFormat::new(Unit::Foot).text(cut), "46.752 ft");
/// assert_eq!(LengthFormat::new(Unit::FootInch).text(cut), "46' 9\"");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LengthFormat {
    unit: Unit,
}

impl LengthFormat {
    /// Shows in metres, decimal feet or feet and inches; the small units show as their system's.
    pub const fn new(unit: Unit) -> Self {
        let unit = match unit {
            Unit::Metre | Unit::Centimetre | Unit::Millimetre => Unit::Metre,
            Unit::Foot => Unit::Foot,
            Unit::Inch | Unit::FootInch => Unit::FootInch,
        };
        Self { unit }
    }

    /// The unit shown.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// The next unit in turn, for the key that switches them.
    #[must_use]
    pub const fn next(self) -> Self {
        let unit = match self.unit {
            Unit::Metre => Unit::Foot,
            Unit::Foot => Unit::FootInch,
            _ => Unit::Metre,
        };
        Self { unit }
    }

    /// The number alone, for columns that name their unit in the heading.
    pub fn number(self, length: Length) -> String {
        match self.unit {
            Unit::FootInch => feet_inches(length),
            unit => decimal(length, unit),
        }
    }

    /// The number with its unit.
    pub fn text(self, length: Length) -> String {
        match self.unit {
            Unit::FootInch => feet_inches(length),
            unit => format!("{} {}", decimal(length, unit), unit.name()),
        }
    }

    /// The number with a sign always in front, for deviations and for elevations.
    pub fn signed(self, length: Length) -> String {
        with_plus(self.number(length))
    }

    /// A small length (a tolerance, an uncertainty, a deviation) with its unit: millimetres to one
    /// decimal, or inches to two (three where the third is not zero).
    pub fn small(self, length: Length) -> String {
        match self.unit {
            Unit::Metre => format!("{} mm", rounded_decimal(length, Unit::Millimetre.nm(), 1)),
            _ => format!("{} in", with_one_more(length, Unit::Inch, 2)),
        }
    }

    /// Small lengths that are compared, with as few decimals as tell those apart that differ.
    pub fn small_apart(self, lengths: &[Length]) -> Vec<String> {
        let (unit, least) = match self.unit {
            Unit::Metre => (Unit::Millimetre, 1),
            _ => (Unit::Inch, 2),
        };
        let write = |places: u32| -> Vec<String> {
            let number = |length: &Length| match (self.unit, places == least) {
                (Unit::Metre, _) | (_, false) => rounded_decimal(*length, unit.nm(), places),
                _ => with_one_more(*length, unit, places),
            };
            lengths.iter().map(number).collect()
        };
        let apart = |written: &[String]| {
            let pairs = lengths.iter().zip(written);
            pairs.clone().enumerate().all(|(at, (length, text))| {
                pairs
                    .clone()
                    .skip(at + 1)
                    .all(|(other, other_text)| length == other || text != other_text)
            })
        };
        let mut tried = (least..=6).map(write);
        let written = tried.find(|written| apart(written));
        let written = written.unwrap_or_else(|| write(6));
        let suffix = unit.name();
        written
            .into_iter()
            .map(|number| format!("{number} {suffix}"))
            .collect()
    }

    /// A small length with a sign always in front.
    pub fn small_signed(self, length: Length) -> String {
        with_plus(self.small(length))
    }

    /// A difference with a sign always in front: small below a metre, as any length above it.
    pub fn difference(self, length: Length) -> String {
        if length.abs() < Length::from_mm(1000) {
            self.small_signed(length)
        } else {
            with_plus(self.text(length))
        }
    }

    /// The heading that names the unit of a column.
    pub const fn heading(self) -> &'static str {
        self.unit.name()
    }
}

fn with_plus(text: String) -> String {
    if text.starts_with('-') {
        text
    } else {
        format!("+{text}")
    }
}

/// Thousandths, and the ten-thousandths of a metre where there are any.
fn decimal(length: Length, unit: Unit) -> String {
    if unit != Unit::Metre {
        return rounded_decimal(length, unit.nm(), 3);
    }
    with_one_more(length, unit, 3)
}

/// So many decimals, and one more where it is not zero.
fn with_one_more(length: Length, unit: Unit, decimals: u32) -> String {
    let fine = rounded_decimal(length, unit.nm(), decimals + 1);
    fine.strip_suffix('0').map_or(fine.clone(), str::to_owned)
}

/// `length` in units of `unit_nm` with so many decimals, rounded half away from zero.
fn rounded_decimal(length: Length, unit_nm: i64, decimals: u32) -> String {
    let scale = 10_i128.pow(decimals);
    let unit_nm = i128::from(unit_nm);
    let scaled = i128::from(length.nm()).abs() * scale;
    let steps = (2 * scaled + unit_nm) / (2 * unit_nm);
    let sign = if length.is_negative() && steps != 0 {
        "-"
    } else {
        ""
    };
    let (whole, rest) = (steps / scale, steps % scale);
    let width = usize::try_from(decimals).unwrap_or(0);
    format!("{sign}{whole}.{rest:0width$}")
}

/// Feet, inches and sixteenths: `46' 9 1/16"`.
fn feet_inches(length: Length) -> String {
    // 1/16 in is 1 587 500 nm.
    let sixteenth = Unit::Inch.nm() / 16;
    let steps = (2 * length.nm().abs() + sixteenth) / (2 * sixteenth);
    let sign = if length.is_negative() && steps != 0 {
        "-"
    } else {
        ""
    };
    let (feet, rest) = (steps / 192, steps % 192);
    let (inches, mut part) = (rest / 16, rest % 16);
    if part == 0 {
        return format!("{sign}{feet}' {inches}\"");
    }
    let mut whole = 16;
    while part % 2 == 0 {
        part /= 2;
        whole /= 2;
    }
    format!("{sign}{feet}' {inches} {part}/{whole}\"")
}

impl Length {
    /// The value in `unit` with every digit, such that [`super::read_length`] gives the same value
    /// back; in metres where the unit has no finite form for it.
    ///
    /// ```
    /// use kerfmark::measure::{Length, Unit};
    /// assert_eq!(Length::from_nm(12_001_500_000).exact(Unit::FootInch), "39' 4 1/2\"");
    /// assert_eq!(Length::from_nm(1).exact(Unit::Foot), "0.000000001 m");
    /// ```
    pub fn exact(self, unit: Unit) -> String {
        let metres = || format!("{} m", self.exact_metres());
        match unit {
            Unit::FootInch => self.exact_feet_inches().unwrap_or_else(metres),
            unit => exact_decimal(self, unit.nm())
                .map_or_else(metres, |number| format!("{number} {}", unit.name())),
        }
    }

    /// The same as a number alone; `None` where the unit has no finite form for it.
    pub fn exact_number(self, unit: Unit) -> Option<String> {
        match unit {
            Unit::FootInch => self.exact_feet_inches(),
            unit => exact_decimal(self, unit.nm()),
        }
    }

    fn exact_feet_inches(self) -> Option<String> {
        let part = Unit::Inch.nm() / 64;
        let magnitude = self.nm().abs();
        if magnitude % part != 0 {
            return None;
        }
        let sixty_fourths = magnitude / part;
        let sign = if self.is_negative() { "-" } else { "" };
        let (feet, rest) = (sixty_fourths / 768, sixty_fourths % 768);
        let (inches, mut top) = (rest / 64, rest % 64);
        let mut bottom = 64;
        while top != 0 && top % 2 == 0 {
            top /= 2;
            bottom /= 2;
        }
        Some(if top == 0 {
            format!("{sign}{feet}' {inches}\"")
        } else {
            format!("{sign}{feet}' {inches} {top}/{bottom}\"")
        })
    }
}

/// The shortest exact decimal of at most twelve places, if there is one.
fn exact_decimal(length: Length, unit_nm: i64) -> Option<String> {
    let unit_nm = i128::from(unit_nm);
    let magnitude = i128::from(length.nm()).abs();
    let mut scale = 1_i128;
    for decimals in 0..=12_usize {
        let scaled = magnitude * scale;
        if scaled % unit_nm == 0 {
            let steps = scaled / unit_nm;
            let sign = if length.is_negative() { "-" } else { "" };
            let (whole, rest) = (steps / scale, steps % scale);
            return Some(if decimals == 0 {
                format!("{sign}{whole}")
            } else {
                format!("{sign}{whole}.{rest:0decimals$}")
            });
        }
        scale *= 10;
    }
    None
}
