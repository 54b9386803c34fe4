//! What a measured length needs before it enters: the terms of surveying texts for tapes, and the stretch of a hung string.
//!
//! Lengths are in metres with the sign of the rise that they belong to, forces in newtons, areas in square metres. Each
//! term is added to the length as read; none is applied unless a job asks for it. Texts: C. D. Ghilani and P. R. Wolf,
//! *Elementary Surveying*, chapter on taping; API RP 7G for the stretch of a string in fluid.

/// Young's modulus of steel, in pascals.
pub const YOUNG: f64 = 207e9;
/// Poisson's ratio of steel, as the formula of drilling handbooks has it.
const POISSON: f64 = 0.28;
/// Acceleration of free fall, in metres a second squared (ISO 80000-3).
pub const GRAVITY: f64 = 9.806_65;

/// A tape that is really so long over its nominal length: a tape that is too long reads too little.
pub fn standardised(length: f64, nominal: f64, actual: f64) -> f64 {
    length * (actual - nominal) / nominal
}

/// A tape, or a string, that is so much warmer than its standard.
pub fn warmed(length: f64, warmer: f64, alpha: f64) -> f64 {
    alpha * length * warmer
}

/// A tape that is pulled by so much more than its standard.
pub fn pulled(length: f64, more: f64, area: f64, young: f64) -> f64 {
    more * length / (area * young)
}

/// A tape that hangs in spans of such a length, of a weight per length, under a pull.
pub fn sagged(length: f64, span: f64, weight: f64, pull: f64) -> f64 {
    let ratio = weight * span / pull;
    -length * ratio * ratio / 24.0
}

/// A string of one pipe that hangs from its top in a fluid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HungString {
    /// Its length.
    pub length: f64,
    /// The density of its steel, in kg/m3.
    pub steel: f64,
    /// The density of the fluid up to its top, inside and outside, in kg/m3.
    pub fluid: f64,
    /// Young's modulus.
    pub young: f64,
}

impl HungString {
    /// By how much it is longer between two depths below its top than it was strapped: what hangs below pulls, the fluid
    /// pushes its lower end up and its wall in. All of it comes to `g L^2 (steel - 2 (1 - nu) fluid) / (2 E)`.
    pub fn stretched(&self, from: f64, to: f64) -> f64 {
        let (first, second) = (to - from, to * to - from * from);
        let pull = self.steel * (self.length * first - second / 2.0);
        let end = self.fluid * self.length * first;
        let wall = POISSON * self.fluid * second;
        GRAVITY * (pull - end + wall) / self.young
    }
}
