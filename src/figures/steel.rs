//! Masses of steel: real numbers, because density is measured.

use crate::job::Pipe;
use crate::measure::Length;

/// Plain-end mass per metre of a pipe in kg: `pi (D - t) t rho`, which at 7850 kg/m3 is
/// `0.0246615 (D - t) t` with D and t in mm (API 5L / ISO 3183, ASME B36.10M).
pub fn plain_end_mass_per_metre(od: Length, wall: Length, density: f64) -> f64 {
    steel_area(od, wall) * density
}

/// Area of the steel in a cross-section, in square metres.
pub fn steel_area(od: Length, wall: Length) -> f64 {
    std::f64::consts::PI * (od - wall).real_metres() * wall.real_metres()
}

/// Mass per metre of a pipe in kg: weighed, else from its dimensions.
pub fn mass_per_metre(pipe: &Pipe) -> f64 {
    pipe.weighed_mass_per_metre
        .unwrap_or_else(|| plain_end_mass_per_metre(pipe.od, pipe.wall, pipe.density))
}

/// A first estimate of the minutes that a cold cut takes. Common practice, no source: 45 minutes for
/// 30 in x 1.5 in, scaled with the steel area.
pub fn cutting_minutes(pipe: &Pipe) -> f64 {
    let reference = steel_area(Length::from_mm(762), Length::from_nm(38_100_000));
    45.0 * steel_area(pipe.od, pipe.wall) / reference
}
