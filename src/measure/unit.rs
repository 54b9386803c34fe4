//! The units in which lengths are written.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// A way to write lengths. The foot is the international foot, 0.3048 m exactly (NIST SP 811); the
/// inch is its twelfth, 25.4 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Metres.
    Metre,
    /// Centimetres: read where a file says so, never shown.
    Centimetre,
    /// Millimetres.
    Millimetre,
    /// Decimal feet.
    Foot,
    /// Inches, decimal or with a binary fraction.
    Inch,
    /// Feet and inches, with binary fractions of the inch.
    FootInch,
}

/// A word that names no unit of length.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("`{0}` is no unit of length; write m, mm, ft, in or ft-in")]
pub struct UnitError(pub String);

impl Unit {
    /// Nanometres in one of this unit; of feet and inches, in one foot.
    pub const fn nm(self) -> i64 {
        match self {
            Self::Metre => 1_000_000_000,
            Self::Centimetre => 10_000_000,
            Self::Millimetre => 1_000_000,
            Self::Foot | Self::FootInch => 304_800_000,
            Self::Inch => 25_400_000,
        }
    }

    /// Whether it belongs to the metric system.
    pub const fn is_metric(self) -> bool {
        matches!(self, Self::Metre | Self::Centimetre | Self::Millimetre)
    }

    /// The short name, as options and files write it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Metre => "m",
            Self::Centimetre => "cm",
            Self::Millimetre => "mm",
            Self::Foot => "ft",
            Self::Inch => "in",
            Self::FootInch => "ft-in",
        }
    }

    /// The unit that a word or mark in a file names, in any case; `None` if it names none.
    pub fn from_word(word: &str) -> Option<Self> {
        let word = word.trim().trim_end_matches('.').to_lowercase();
        Some(match word.as_str() {
            "m" | "metre" | "metres" | "meter" | "meters" | "mtr" | "mtrs" => Self::Metre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "ft" | "feet" | "foot" | "'" | "′" => Self::Foot,
            "in" | "inch" | "inches" | "ins" | "\"" | "″" => Self::Inch,
            "ft-in" | "ft in" | "ft.in" | "ft. in" | "ft/in" | "ft & in" | "ft+in"
            | "feet-inches" | "feet inches" | "feet & inches" | "feet and inches" | "ft and in"
            | "ft'in\"" => Self::FootInch,
            _ => return None,
        })
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl FromStr for Unit {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        match text {
            "m" => Ok(Self::Metre),
            "mm" => Ok(Self::Millimetre),
            "ft" => Ok(Self::Foot),
            "in" => Ok(Self::Inch),
            "ft-in" => Ok(Self::FootInch),
            other => Err(UnitError(other.to_owned())),
        }
    }
}
