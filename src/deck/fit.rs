//! The plane that fits tops best by least squares.

use super::DeckTop;

/// `z = a + b x + c y`, in metres.
#[derive(Clone, Debug, PartialEq)]
pub struct BestFit {
    /// Its height at the origin.
    pub a: f64,
    /// Its rise along x.
    pub b: f64,
    /// Its rise along y.
    pub c: f64,
    /// Each top less the plane.
    pub residuals: Vec<f64>,
}

/// The plane; `None` where the tops lie in one line in plan.
pub fn best_fit(tops: &[DeckTop]) -> Option<BestFit> {
    let count = f64::from(u32::try_from(tops.len()).ok()?);
    let real: Vec<[f64; 3]> = tops
        .iter()
        .map(|top| [top.x, top.y, top.z].map(crate::measure::Length::real_metres))
        .collect();
    let mean = |of: usize| {
        real.iter()
            .map(|it| it.get(of).copied().unwrap_or_default())
            .sum::<f64>()
            / count
    };
    let (mx, my, mz) = (mean(0), mean(1), mean(2));
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for [x, y, z] in &real {
        let (x, y, z) = (x - mx, y - my, z - mz);
        xx += x * x;
        xy += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    let determinant = xx * yy - xy * xy;
    // In one line: what is left of the product is rounding.
    if tops.len() < 3 || determinant <= 1e-12 * xx * yy {
        return None;
    }
    let b = (xz * yy - yz * xy) / determinant;
    let c = (yz * xx - xz * xy) / determinant;
    let residuals = real
        .iter()
        .map(|[x, y, z]| z - mz - b * (x - mx) - c * (y - my));
    Some(BestFit {
        a: mz - b * mx - c * my,
        b,
        c,
        residuals: residuals.collect(),
    })
}
