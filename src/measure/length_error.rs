//! Why a text is not a length: data, with the sentence written once.

use thiserror::Error;

use super::Excerpt;

/// Why a text is not a length.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum LengthError {
    /// There is no text.
    #[error("it is blank; expected a length such as 12.192")]
    Blank,
    /// The text is no form of length.
    #[error(
        "`{0}` is not a length; expected a number such as 12.192, 12192 mm, 40.00 ft or 39'-4 1/2\""
    )]
    NotALength(Excerpt),
    /// A number that does not say its unit, where no unit is known.
    #[error("`{0}` has no unit; write one after it (m, mm, ft, in) or state the unit")]
    NoUnit(Excerpt),
    /// A bare decimal where the unit is feet and inches.
    #[error(
        "`{0}` could be decimal feet or feet and inches; write `{0} ft`, or a form such as 39'-6\""
    )]
    BareDecimal(Excerpt),
    /// A number and a fraction with a hyphen between them where the unit is feet and inches.
    #[error(
        "`{0}` could be feet and a fraction of an inch, or inches and their fraction; write it with marks, such as 11' 0 5/16\" or 11 5/16\""
    )]
    HyphenFraction(Excerpt),
    /// Digits after the point that are no inches, where they are stated to be inches.
    #[error(
        "`{0}` is not in feet, a point and inches; expected two digits from 00 to 11 after the point, such as 39.06 for 39 ft 6 in"
    )]
    FeetPointInches(Excerpt),
    /// A unit that is none of length.
    #[error("`{unit}` in `{text}` is no unit of length; expected m, mm, ft or in")]
    UnknownUnit {
        /// The whole text.
        text: Excerpt,
        /// The word that was taken for a unit.
        unit: Excerpt,
    },
    /// Inches of twelve or more after feet.
    #[error("`{0}` has 12 inches or more after the feet; expected inches below 12")]
    InchesTooMany(Excerpt),
    /// A fraction that no tape has.
    #[error(
        "`{0}` has a fraction that is on no tape; expected a denominator of 2, 4, 8, 16, 32 or 64 and a numerator below it"
    )]
    Fraction(Excerpt),
    /// More digits than a nanometre has.
    #[error("`{0}` is no whole number of nanometres; expected fewer decimals")]
    TooFine(Excerpt),
    /// A power of ten.
    #[error("`{0}` has an exponent; write the number out")]
    Exponent(Excerpt),
    /// The number is not finite.
    #[error("`{0}` is not a finite number; expected a length such as 12.192")]
    NotFinite(Excerpt),
    /// The marks for thousands are not where they belong.
    #[error(
        "`{text}` has `{mark}` where no thousands end, and `{decimal}` is the decimal mark here; write the number without marks for thousands, or state the decimal mark"
    )]
    Grouping {
        /// The whole text.
        text: Excerpt,
        /// The mark that stands wrong.
        mark: char,
        /// The decimal mark in force.
        decimal: char,
    },
    /// Longer than any length that is read.
    #[error("`{0}` is longer than 100 km, the longest length that is read")]
    TooLong(Excerpt),
}
