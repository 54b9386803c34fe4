//! Blunders among readings of one height, against published examples of outliers. With the standard deviation of the sample as
//! sigma, the largest w times the root of 1 - 1/n is the printed statistic: the largest deviation from the mean over that
//! standard deviation.

use super::beside::Printed;
use kerfmark::levels::{Adjusted, Network, Sigma, SuspectReading, adjust, suspects};
use kerfmark::measure::{Elevation, Length};

/// The readings of one point, in units of the source taken as metres.
fn readings(values: &[f64], sigma: f64) -> (Network, Adjusted) {
    let mut network = Network::new(None);
    network.fix("datum", Elevation::above_datum(Length::ZERO));
    for value in values {
        let rise = Length::nearest_to_metres(*value).expect("a rise");
        let sigma = Sigma::of_variance(Some(sigma * sigma));
        network.read(("datum", "P"), rise, Length::ZERO, sigma);
    }
    let all = adjust(&network).expect("a network");
    (network, all)
}

fn standard_deviation(values: &[f64]) -> f64 {
    let count = f64::from(u32::try_from(values.len()).expect("few"));
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|it| (it - mean) * (it - mean)).sum();
    (squares / (count - 1.0)).sqrt()
}

/// The reading with the largest w, and its deviation from the mean in standard deviations.
fn furthest(all: &Adjusted) -> (usize, f64) {
    let count = f64::from(u32::try_from(all.readings.len()).expect("few"));
    let w = all.readings.iter().map(|it| it.w().expect("checked").abs());
    let worst = w.enumerate().max_by(|one, other| one.1.total_cmp(&other.1));
    let (at, w) = worst.expect("readings");
    (at, w * (1.0 - 1.0 / count).sqrt())
}

/// NIST/SEMATECH *e-Handbook of Statistical Methods*, 1.3.5.17.1, Grubbs' test on eight measurements of Tietjen and Moore (1979):
/// G = 2.4687, the largest value is the outlier (from memory; the data give that G).
#[test]
fn the_outlier_of_tietjen_and_moore_is_named_and_its_size_told() {
    let table = Printed::by("NIST e-Handbook, Grubbs' test");
    let values = [
        199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57,
    ];
    let (_, all) = readings(&values, standard_deviation(&values));
    let (at, g) = furthest(&all);
    table.text("the outlier", "245.57", &values[at].to_string());
    table.text(
        "G, to the digits that are printed",
        "2.4687",
        &cut_off(g, 4),
    );
    // As well known as the seven others are among themselves, it is suspected, and its size is what it is above their mean.
    let (network, all) = readings(&values, standard_deviation(&values[..7]));
    let found = suspects(&network, &all).expect("a network");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].readings, [SuspectReading::Reading(7)]);
    let others = values[..7].iter().sum::<f64>() / 7.0;
    let size = found[0].blunder.expect("a size");
    approx::assert_relative_eq!(size, 245.57 - others, max_relative = 1e-12);
}

/// The same, 1.3.5.17.3: the generalised test of Rosner (1983) takes the furthest of 54 values away ten times and prints each
/// deviation; three are outliers (from memory; the data give these).
#[test]
fn the_outliers_of_rosner_are_found_one_after_the_other() {
    let table = Printed::by("NIST e-Handbook, Rosner");
    let mut values = vec![
        -0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58,
        1.65, 1.69, 1.70, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15,
        2.23, 2.24, 2.26, 2.35, 2.37, 2.40, 2.47, 2.54, 2.62, 2.64, 2.90, 2.92, 2.92, 2.93, 3.21,
        3.26, 3.30, 3.59, 3.68, 4.30, 4.64, 5.34, 5.42, 6.01,
    ];
    let printed = [
        "3.118", "2.942", "3.179", "2.810", "2.815", "2.848", "2.279", "2.310", "2.101", "2.067",
    ];
    for (step, printed) in printed.iter().enumerate() {
        let (_, all) = readings(&values, standard_deviation(&values));
        let (at, deviation) = furthest(&all);
        let outlier = values.remove(at).to_string();
        let outliers = ["6.01", "5.42", "5.34"];
        assert!(
            outliers.get(step).is_none_or(|it| *it == outlier),
            "{outlier}"
        );
        let what = format!("deviation {} ({outlier})", step + 1);
        table.text(&what, printed, &cut_off(deviation, 3));
    }
}

/// A number with so many places, the rest cut off as the source does it.
fn cut_off(value: f64, places: usize) -> String {
    let text = format!("{value:.9}");
    let point = text.find('.').expect("places");
    text[..=point + places].to_owned()
}
