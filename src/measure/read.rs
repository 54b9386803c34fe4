//! Reading a length from text: a small grammar with exact results and no guesses.
//!
//! What is accepted: a decimal number, bare or with a unit (`12.192`, `12192 mm`, `40.00 ft`), feet
//! alone (`40'`), feet and inches (`39'-4 1/2"`, `39 ft 4.5 in`, `38′ 7¼″`), and inches alone
//! (`6"`). One sign may stand in front and holds for the whole. Everything else is an error that
//! says what was found and what would have been read.

use super::length_error::LengthError;
use super::{Excerpt, Length, MAX_LENGTH, Unit};

mod tokens;

pub use tokens::is_gap;
use tokens::{Token, tokenise};

/// Which mark stands before the decimals; the other one then groups thousands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DecimalMark {
    /// `12.192`, and `12,192` is twelve thousand.
    #[default]
    Point,
    /// `12,192`, and `12.192` is twelve thousand.
    Comma,
}

impl DecimalMark {
    const fn mark(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }

    const fn grouping(self) -> char {
        match self {
            Self::Point => ',',
            Self::Comma => '.',
        }
    }
}

/// How to read the text of a length.
#[derive(Clone, Copy, Debug, Default)]
pub struct ParseOptions {
    /// The unit of a number that states none; `None` makes a bare number an error.
    pub bare: Option<Unit>,
    /// The decimal mark.
    pub decimal: DecimalMark,
}

/// A length as it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ParsedLength {
    /// The value.
    pub length: Length,
    /// One unit of the last place that was written: 1 mm for `12.192 m`, 1/4 in for `38' 7 1/4"`.
    pub last_place: Length,
    /// Digits after the decimal mark; 0 for whole numbers and fractions.
    pub decimals: u8,
    /// The unit in which it was written.
    pub unit: Unit,
    /// Whether the text itself stated the unit.
    pub stated: bool,
}

/// Reads one length.
///
/// ```
/// use kerfmark::measure::{Length, ParseOptions, Unit, read_length};
/// let feet_inches = ParseOptions { bare: Some(Unit::FootInch), ..ParseOptions::default() };
/// let read = |text| read_length(text, &feet_inches).map(|r| r.length);
/// assert_eq!(read("39-4½"), Ok(Length::from_nm(12_001_500_000)));
/// assert_eq!(read("39'-4 1/2\""), read("39 ft 4.5 in"));
/// assert!(read("39.5").is_err(), "feet and tenths, or feet and inches?");
/// ```
pub fn read_length(text: &str, rules: &ParseOptions) -> Result<ParsedLength, LengthError> {
    if let Some(reading) = read_plain(text, *rules) {
        return Ok(reading);
    }
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(LengthError::Blank);
    }
    let (negative, body) = split_sign(trimmed);
    let tokens = tokenise(trimmed, body)?;
    let reading = combine(trimmed, &tokens, *rules)?;
    let length = if negative {
        -reading.length
    } else {
        reading.length
    };
    Ok(ParsedLength { length, ..reading })
}

/// The common case, `12.192` in a decimal unit, without the detour through tokens; `None` says nothing.
#[inline]
pub(crate) fn read_plain(text: &str, rules: ParseOptions) -> Option<ParsedLength> {
    let unit = rules.bare.filter(|unit| *unit != Unit::FootInch)?;
    if rules.decimal != DecimalMark::Point || text.len() > 12 {
        return None;
    }
    let mut mantissa = 0_i64;
    let mut point = None;
    for (at, byte) in text.bytes().enumerate() {
        let digit = byte.wrapping_sub(b'0');
        if digit <= 9 {
            // Twelve digits at most.
            mantissa = mantissa.wrapping_mul(10).wrapping_add(i64::from(digit));
        } else if byte == b'.' && point.is_none() {
            point = Some(at);
        } else {
            return None;
        }
    }
    let places = match point {
        None if text.is_empty() => return None,
        None => 0,
        Some(0) => return None,
        Some(point) => u32::try_from(text.len() - point - 1).ok()?,
    };
    if places > 6 || (places == 0 && point.is_some()) {
        return None;
    }
    let (last_place, rest) = over_power_of_ten(unit.nm(), places)?;
    let length = if rest == 0 {
        mantissa.checked_mul(last_place)?
    } else {
        // The last place is no whole number of nanometres, but the length may be.
        let (length, rest) = over_power_of_ten(mantissa.checked_mul(unit.nm())?, places)?;
        if rest != 0 {
            return None;
        }
        length
    };
    if length > MAX_LENGTH.nm() {
        return None;
    }
    Some(ParsedLength {
        length: Length::from_nm(length),
        last_place: Length::from_nm(last_place),
        decimals: u8::try_from(places).unwrap_or(u8::MAX),
        unit,
        stated: false,
    })
}

/// A number over ten to a power of at most six, and what is left: by constants, which costs a tenth of a division.
const fn over_power_of_ten(number: i64, power: u32) -> Option<(i64, i64)> {
    Some(match power {
        0 => (number, 0),
        1 => (number / 10, number % 10),
        2 => (number / 100, number % 100),
        3 => (number / 1_000, number % 1_000),
        4 => (number / 10_000, number % 10_000),
        5 => (number / 100_000, number % 100_000),
        6 => (number / 1_000_000, number % 1_000_000),
        _ => return None,
    })
}

fn split_sign(text: &str) -> (bool, &str) {
    let mut rest = text.chars();
    match rest.next() {
        Some('-' | '\u{2212}') => (true, rest.as_str()),
        Some('+') => (false, rest.as_str()),
        _ => (false, text),
    }
}

/// What a run of tokens means; `text` is only for messages.
fn combine(
    text: &str,
    tokens: &[Token<'_>],
    rules: ParseOptions,
) -> Result<ParsedLength, LengthError> {
    use Token::{Foot, Hyphen, Inch, Metric, Number};
    let not_a_length = || LengthError::NotALength(Excerpt::of(text));
    let feet_inches = rules.bare == Some(Unit::FootInch);
    match tokens {
        [Number(number)] => {
            let unit = rules
                .bare
                .ok_or_else(|| LengthError::NoUnit(Excerpt::of(text)))?;
            if feet_inches && !is_whole(number) {
                return Err(LengthError::BareDecimal(Excerpt::of(text)));
            }
            let reading = decimal(text, number, unit, rules.decimal)?;
            Ok(ParsedLength {
                stated: false,
                ..reading
            })
        }
        [Number(number), Metric(unit)] => decimal(text, number, *unit, rules.decimal),
        [Number(number), Foot] => decimal(text, number, Unit::Foot, rules.decimal),
        // `11-5/16` is eleven and a bit inches, or eleven feet and a bit of an inch.
        [Number(_), Hyphen, Token::Fraction(..)]
        | [Number(_), Hyphen, Token::Fraction(..), Inch]
            if feet_inches =>
        {
            Err(LengthError::HyphenFraction(Excerpt::of(text)))
        }
        [Number(_), Hyphen, Token::Fraction(..), Inch] => inch_part(
            text,
            tokens.split_last().map_or(&[], |(_, inches)| inches),
            rules.decimal,
        ),
        [inches @ .., Inch] if !inches.contains(&Foot) && !inches.contains(&Hyphen) => {
            inch_part(text, inches, rules.decimal)
        }
        [Number(feet), Foot, Hyphen, inches @ .., Inch]
        | [Number(feet), Foot, Hyphen, inches @ ..]
        | [Number(feet), Foot, inches @ .., Inch]
        | [Number(feet), Foot, inches @ ..] => feet_and_inches(text, feet, inches, rules.decimal),
        [Number(feet), Hyphen, inches @ .., Inch] | [Number(feet), Hyphen, inches @ ..]
            if feet_inches =>
        {
            feet_and_inches(text, feet, inches, rules.decimal)
        }
        [Token::Word(word)]
            if matches!(word.to_lowercase().as_str(), "inf" | "infinity" | "nan") =>
        {
            Err(LengthError::NotFinite(Excerpt::of(text)))
        }
        [Number(_), Token::Word(word), ..] if is_exponent(word, tokens) => {
            Err(LengthError::Exponent(Excerpt::of(text)))
        }
        [Number(_), Token::Word(word)] => Err(LengthError::UnknownUnit {
            text: Excerpt::of(text),
            unit: Excerpt::of(word),
        }),
        fraction if rules.bare == Some(Unit::Inch) => {
            let reading = inch_part(text, fraction, rules.decimal)?;
            Ok(ParsedLength {
                stated: false,
                ..reading
            })
        }
        _ => Err(not_a_length()),
    }
}

/// Whether a number has no decimals but zeros: `8.0` is eight feet whether its decimals are tenths of
/// a foot or inches.
fn is_whole(number: &str) -> bool {
    let decimals = number
        .split_once(['.', ','])
        .map_or("", |(_, decimals)| decimals);
    decimals.bytes().all(|byte| byte == b'0')
}

/// `1e3`, `1E+3`, `1e-3`: a number, an `e`, and digits after it with or without a sign.
fn is_exponent(word: &str, tokens: &[Token<'_>]) -> bool {
    let digits_follow = matches!(
        tokens.get(2..),
        Some([Token::Number(_)] | [Token::Hyphen, Token::Number(_)])
    ) || matches!(tokens.get(2..), Some([Token::Word("+"), Token::Number(_)]));
    word.eq_ignore_ascii_case("e") && digits_follow
}

fn feet_and_inches(
    text: &str,
    feet: &str,
    inches: &[Token<'_>],
    mark: DecimalMark,
) -> Result<ParsedLength, LengthError> {
    if !feet.bytes().all(|b| b.is_ascii_digit()) {
        return Err(LengthError::NotALength(Excerpt::of(text)));
    }
    let feet = decimal(text, feet, Unit::Foot, mark)?;
    let inches = inch_part(text, inches, mark)?;
    if inches.length.nm() >= Unit::Foot.nm() {
        return Err(LengthError::InchesTooMany(Excerpt::of(text)));
    }
    Ok(ParsedLength {
        length: feet.length + inches.length,
        last_place: inches.last_place,
        decimals: inches.decimals,
        unit: Unit::FootInch,
        stated: true,
    })
}

/// Inches: a number, a fraction, or a whole number and a fraction, joined by a hyphen or not.
fn inch_part(
    text: &str,
    tokens: &[Token<'_>],
    mark: DecimalMark,
) -> Result<ParsedLength, LengthError> {
    let (whole, fraction) = match tokens {
        [Token::Number(number)] => return decimal(text, number, Unit::Inch, mark),
        [Token::Fraction(top, bottom)] => ("0", (*top, *bottom)),
        [Token::Number(whole), Token::Fraction(top, bottom)]
        | [
            Token::Number(whole),
            Token::Hyphen,
            Token::Fraction(top, bottom),
        ] if whole.bytes().all(|b| b.is_ascii_digit()) => (*whole, (*top, *bottom)),
        _ => return Err(LengthError::NotALength(Excerpt::of(text))),
    };
    let (top, bottom) = fraction;
    if !matches!(bottom, 2 | 4 | 8 | 16 | 32 | 64) || top >= bottom {
        return Err(LengthError::Fraction(Excerpt::of(text)));
    }
    let whole = decimal(text, whole, Unit::Inch, mark)?;
    let part = Length::from_nm(Unit::Inch.nm() / i64::from(bottom));
    Ok(ParsedLength {
        length: whole.length + part.times(i64::from(top)),
        last_place: part,
        decimals: 0,
        unit: Unit::Inch,
        stated: true,
    })
}

/// A decimal number of some unit, exactly.
fn decimal(
    text: &str,
    number: &str,
    unit: Unit,
    mark: DecimalMark,
) -> Result<ParsedLength, LengthError> {
    let number = ungroup(text, number, mark)?;
    let (whole, decimals) = number.split_once('.').unwrap_or((&number, ""));
    let significant = decimals.trim_end_matches('0');
    if significant.len() > 15 {
        return Err(LengthError::TooFine(Excerpt::of(text)));
    }
    let digits = format!("{}{significant}", whole.trim_start_matches('0'));
    if digits.len() > 30 {
        return Err(LengthError::TooLong(Excerpt::of(text)));
    }
    let mantissa: i128 = if digits.is_empty() {
        0
    } else {
        digits
            .parse()
            .map_err(|_| LengthError::NotALength(Excerpt::of(text)))?
    };
    let product = mantissa
        .checked_mul(i128::from(unit.nm()))
        .ok_or_else(|| LengthError::TooLong(Excerpt::of(text)))?;
    let scale = power_of_ten(significant.len());
    if product % scale != 0 {
        return Err(LengthError::TooFine(Excerpt::of(text)));
    }
    let nanometres = i64::try_from(product / scale)
        .ok()
        .filter(|nm| *nm <= MAX_LENGTH.nm())
        .ok_or_else(|| LengthError::TooLong(Excerpt::of(text)))?;
    let last_place = i128::from(unit.nm()) / power_of_ten(decimals.len().min(15));
    Ok(ParsedLength {
        length: Length::from_nm(nanometres),
        last_place: Length::from_nm(i64::try_from(last_place).unwrap_or(0)),
        decimals: u8::try_from(decimals.len()).unwrap_or(u8::MAX),
        unit,
        stated: true,
    })
}

fn power_of_ten(exponent: usize) -> i128 {
    (0..exponent).fold(1, |power, _| power * 10)
}

/// The number with a point for its decimals and no marks for thousands; spaces and apostrophes group too.
fn ungroup(text: &str, number: &str, mark: DecimalMark) -> Result<String, LengthError> {
    let wrong = |found: char| LengthError::Grouping {
        text: Excerpt::of(text),
        mark: found,
        decimal: mark.mark(),
    };
    let (whole, decimals) = match number.split_once(mark.mark()) {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (number, None),
    };
    if let Some(decimals) = decimals {
        if decimals.is_empty() {
            return Err(LengthError::NotALength(Excerpt::of(text)));
        }
        if let Some(stray) = decimals.chars().find(|c| !c.is_ascii_digit()) {
            return Err(wrong(stray));
        }
    }
    let is_group = |c: char| c == mark.grouping() || is_gap(c);
    let mut groups = whole.split(is_group);
    let first = groups.next().unwrap_or_default();
    let rest: Vec<&str> = groups.collect();
    if !rest.is_empty() {
        let well_grouped = (1..=3).contains(&first.len())
            && !first.starts_with('0')
            && rest.iter().all(|group| group.len() == 3);
        if !well_grouped {
            return Err(wrong(
                whole
                    .chars()
                    .find(|c| is_group(*c))
                    .unwrap_or(mark.grouping()),
            ));
        }
    }
    if first.is_empty() && decimals.is_none() {
        return Err(LengthError::NotALength(Excerpt::of(text)));
    }
    let mut plain = String::with_capacity(number.len());
    plain.push_str(first);
    for group in rest {
        plain.push_str(group);
    }
    if let Some(decimals) = decimals {
        plain.push('.');
        plain.push_str(decimals);
    }
    Ok(plain)
}
