//! The units of the real numbers of a job file, the first one for bare numbers.

/// Units of mass, the first one for bare numbers; the pound is 0.45359237 kg exactly (NIST SP 811).
pub(super) const MASS: &[(&str, f64)] = &[("kg", 1.0), ("t", 1000.0), ("lb", 0.453_592_37)];
/// Units of mass per length.
pub(super) const MASS_PER_LENGTH: &[(&str, f64)] =
    &[("kg/m", 1.0), ("lb/ft", 0.453_592_37 / 0.3048)];
/// Units of density.
pub(super) const DENSITY: &[(&str, f64)] = &[("kg/m3", 1.0), ("kg/m³", 1.0)];
