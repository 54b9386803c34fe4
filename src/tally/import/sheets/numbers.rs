//! Numbers of cells, which are binary fractions, brought back to the decimals that were meant.
//!
//! All of it is done on the digits of the shortest text: no figure passes through floating point.

use crate::measure::{DecimalMark, LengthError, ParseOptions, Unit, read_length};

/// Most decimals that are read as they stand; more are what binary fractions leave behind.
const DECIMALS: usize = 9;

/// One part in so many is how far a number may lie from the grid.
const NEAR: i128 = 1_000_000_000;

/// Grids finer than any tape, in nanometres: 0.1 mm; 0.001 ft and 1/64 in; 0.001 in and 1/64 in.
const METRIC: &[i128] = &[100_000];
const FEET: &[i128] = &[304_800, 396_875];
const INCHES: &[i128] = &[25_400, 396_875];

/// The text of a number on the grid of its unit, if it cannot be read as it stands and lies on the
/// grid but for a part in a thousand million.
pub(super) fn on_the_grid(text: &str, unit: Unit) -> Option<String> {
    let rules = ParseOptions {
        bare: Some(unit),
        decimal: DecimalMark::Point,
    };
    let decimals = text
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let reads = match read_length(text, &rules) {
        Ok(_) => decimals <= DECIMALS,
        Err(LengthError::TooFine(_)) => false,
        // Another fault, which the grid does not correct.
        Err(_) => true,
    };
    if reads {
        return None;
    }
    let (negative, digits) = match text.strip_prefix('-') {
        Some(digits) => (true, digits),
        None => (false, text),
    };
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    // Seventeen digits with zeros before them; numbers so small are near no point of the grid.
    if decimals.len() > 24 || whole.len() > 9 {
        return None;
    }
    let number: i128 = format!("{whole}{decimals}").parse().ok()?;
    let scale = 10_i128.checked_pow(u32::try_from(decimals.len()).ok()?)?;
    let value = number.checked_mul(i128::from(unit.nm()))?;
    let grids = match unit {
        Unit::Metre | Unit::Centimetre | Unit::Millimetre => METRIC,
        Unit::Foot => FEET,
        Unit::Inch => INCHES,
        // A bare decimal is a question there.
        Unit::FootInch => return None,
    };
    let near = |grid: &i128| {
        let step = grid.checked_mul(scale)?;
        let point = (value + step / 2) / step;
        let off = (value - point * step).abs();
        (off <= value / NEAR).then_some(point * grid)
    };
    let nanometres = grids.iter().find_map(near)?;
    let sign = if negative { "-" } else { "" };
    Some(format!("{sign}{}", written(nanometres, unit)))
}

/// A length in its unit: as a decimal where it has one that ends, else in feet and inches.
fn written(nanometres: i128, unit: Unit) -> String {
    let of = i128::from(unit.nm());
    if let Some(text) = decimal(nanometres, of) {
        return text;
    }
    let foot = i128::from(Unit::Foot.nm());
    let inches = decimal(nanometres % foot, i128::from(Unit::Inch.nm())).unwrap_or_default();
    format!("{}' {inches}\"", nanometres / foot)
}

/// A quotient as a decimal of at most nine places, if it is one.
fn decimal(top: i128, bottom: i128) -> Option<String> {
    let scaled = top.checked_mul(NEAR)?;
    if scaled % bottom != 0 {
        return None;
    }
    let digits = scaled / bottom;
    let text = format!("{}.{:09}", digits / NEAR, digits % NEAR);
    Some(text.trim_end_matches('0').trim_end_matches('.').to_owned())
}

/// How many decimals a number is written with.
pub(super) fn places(text: &str) -> usize {
    text.split_once('.')
        .map_or(0, |(_, decimals)| decimals.len())
}

/// The number with zeros after it, to as many decimals. A cell drops the zeros at the end of a
/// number, and with them what its last place was.
pub(super) fn padded(text: &str, decimals: usize) -> String {
    let missing = decimals.saturating_sub(places(text));
    let point = if missing > 0 && !text.contains('.') {
        "."
    } else {
        ""
    };
    format!("{text}{point}{}", "0".repeat(missing))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::laws::laws;
    use proptest::prelude::*;

    #[test]
    fn what_reads_stays_and_what_lies_near_the_grid_moves_onto_it() {
        for (text, unit, moved) in [
            ("12.19", Unit::Metre, None),
            ("12.19005", Unit::Metre, None),
            ("12.190000000000001", Unit::Metre, Some("12.19")),
            ("-1.1200000000000001", Unit::Metre, Some("-1.12")),
            ("12190.000000000002", Unit::Millimetre, Some("12190")),
            ("1219.0000000000002", Unit::Centimetre, Some("1219")),
            ("12.1900500000001", Unit::Metre, None),
            ("12.3456789", Unit::Metre, None),
            ("12.34567891234", Unit::Metre, None),
            ("39.370000000000005", Unit::Foot, Some("39.37")),
            ("38.604166666666664", Unit::Foot, Some("38' 7.25\"")),
            ("38.604166667", Unit::Foot, Some("38' 7.25\"")),
            ("39.37007874015748", Unit::Foot, None),
            ("463.20000000000005", Unit::Inch, Some("463.2")),
            ("463.01562500000006", Unit::Inch, Some("463.015625")),
            ("39.50000000000001", Unit::FootInch, None),
            ("0.0000000000000017763568394002505", Unit::Metre, None),
            ("1000000000000000000000.5", Unit::Metre, None),
        ] {
            assert_eq!(on_the_grid(text, unit).as_deref(), moved, "{text} {unit}");
        }
    }

    #[test]
    fn zeros_that_a_cell_dropped_come_back() {
        assert_eq!(padded("12", 3), "12.000");
        assert_eq!(padded("12.1", 3), "12.100");
        assert_eq!(padded("12.125", 3), "12.125");
        assert_eq!(padded("12", 0), "12");
    }

    proptest! {
        #![proptest_config(laws())]

        #[test]
        fn a_moved_number_reads_as_a_length_near_it(tenths in 1_i64..300_000, noise in 1_i64..1_000) {
            // A length in tenths of a millimetre, with digits where a binary fraction has its noise.
            let text = format!("{}.{:04}{:012}", tenths / 10_000, tenths % 10_000, noise);
            let moved = on_the_grid(&text, Unit::Metre);
            let rules = ParseOptions { bare: Some(Unit::Metre), decimal: DecimalMark::Point };
            let read = read_length(&moved.expect("near the grid"), &rules).expect("a length");
            prop_assert_eq!(read.length.nm(), tenths * 100_000);
        }
    }
}
