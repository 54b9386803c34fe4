//! How long a network takes to be adjusted, with variances and redundancies. All networks are invented.

use divan::{Bencher, black_box};
use kerfmark::levels::{Network, Sigma, adjust};
use kerfmark::measure::{Elevation, Length};

fn main() {
    divan::main();
}

/// A small linear congruence, so that each run has the same numbers.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self, below: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (self.0 >> 33) % below
    }
}

fn read(network: &mut Network, numbers: &mut Numbers, from: usize, to: usize, tape: bool) {
    let off = i64::try_from(numbers.next(5_000_000)).unwrap_or_default();
    let place = |point: usize| i64::try_from(point).unwrap_or_default();
    let rise = Length::from_nm((place(to) - place(from)) * 12_000_000_000 + off);
    let tape = if tape { rise } else { Length::ZERO };
    let names = (format!("P{from}"), format!("P{to}"));
    network.read((&names.0, &names.1), rise, tape, Sigma::Of(4e-6));
}

/// Chains of points, every one of which is also read from some of twelve hubs.
fn hubs(points: usize, readings: usize) -> Network {
    let mut numbers = Numbers(1);
    let mut network = Network::new(Some(50e-6));
    network.fix("P0", Elevation::above_datum(Length::ZERO));
    for point in 1..points {
        read(&mut network, &mut numbers, point - 1, point, true);
    }
    for _ in points - 1..readings {
        let hub = usize::try_from(numbers.next(12)).unwrap_or_default();
        let of = points as u64 - 12;
        let point = 12 + usize::try_from(numbers.next(of)).unwrap_or_default();
        read(&mut network, &mut numbers, hub, point, false);
    }
    network
}

/// A strip in which each point is read from several of the eight before it.
fn strip(points: usize, readings: usize) -> Network {
    let mut numbers = Numbers(2);
    let mut network = Network::new(Some(50e-6));
    network.fix("P0", Elevation::above_datum(Length::ZERO));
    for point in 1..points {
        read(&mut network, &mut numbers, point - 1, point, true);
    }
    for _ in points - 1..readings {
        let of = points as u64 - 8;
        let point = 8 + usize::try_from(numbers.next(of)).unwrap_or_default();
        let back = 1 + usize::try_from(numbers.next(8)).unwrap_or_default();
        read(&mut network, &mut numbers, point - back, point, false);
    }
    network
}

const POINTS: [usize; 4] = [625, 1250, 2500, 5000];

#[divan::bench(args = POINTS)]
fn hubs_adjusted(bencher: Bencher<'_, '_>, points: usize) {
    let network = hubs(points, 4 * points);
    bencher.bench(|| adjust(black_box(&network)));
}

#[divan::bench(args = POINTS)]
fn strip_adjusted(bencher: Bencher<'_, '_>, points: usize) {
    let network = strip(points, 4 * points);
    bencher.bench(|| adjust(black_box(&network)));
}
