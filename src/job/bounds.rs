//! What each quantity of a job file may be: one table, a row a key, with the reason of its bounds.
//!
//! A bound is no tolerance of the trade. A value beyond it can only be an error: a wrong unit, a wrong
//! key, a digit too many. A quantity is read by its row, so that there is none without bounds.

use crate::measure::Length;

/// A key that holds a length, an elevation, or a list of them.
#[derive(Clone, Copy, Debug)]
pub(super) struct LengthKey {
    /// Its table and its name: `cut.kerf`.
    pub(super) name: &'static str,
    /// The lowest value.
    pub(super) from: Length,
    /// The highest value.
    pub(super) to: Length,
    /// Whether the lowest value itself is refused.
    pub(super) above: bool,
    /// Why no value beyond can be meant, as the end of a message.
    pub(super) why: &'static str,
}

/// A unit of a real number, and how many of the first unit of its key it is.
pub(super) type RealUnit = (&'static str, f64);

/// A key that holds a real number.
#[derive(Clone, Copy, Debug)]
pub(super) struct RealKey {
    /// Its table and its name: `pipe.density`.
    pub(super) name: &'static str,
    /// Its units, the first one for bare numbers and for the bounds.
    pub(super) units: &'static [RealUnit],
    /// The lowest value.
    pub(super) from: f64,
    /// The highest value.
    pub(super) to: f64,
    /// Whether 0 is allowed although it is below the lowest.
    pub(super) or_zero: bool,
    /// Whether it may be written with an exponent.
    pub(super) exponent: bool,
    /// Why no value beyond can be meant, as the end of a message.
    pub(super) why: &'static str,
}

/// The name of a key in its own table.
pub(super) fn leaf(name: &'static str) -> &'static str {
    name.rsplit_once('.').map_or(name, |(_, leaf)| leaf)
}

impl LengthKey {
    /// Whether a value is within the bounds.
    pub(super) fn allows(&self, length: Length) -> bool {
        let low = if self.above {
            length > self.from
        } else {
            length >= self.from
        };
        low && length <= self.to
    }
}

impl RealKey {
    /// Whether a value is within the bounds.
    pub(super) fn allows(&self, real: f64) -> bool {
        (self.from..=self.to).contains(&real) || (self.or_zero && real.to_bits() == 0)
    }
}

const fn length(name: &'static str, mm: (i64, i64), why: &'static str) -> LengthKey {
    LengthKey {
        name,
        from: Length::from_mm(mm.0),
        to: Length::from_mm(mm.1),
        above: false,
        why,
    }
}

/// A length above 0, up to so many millimetres.
const fn above_zero(name: &'static str, mm: i64, why: &'static str) -> LengthKey {
    LengthKey {
        above: true,
        ..length(name, (0, mm), why)
    }
}

/// An elevation, a plan position, or a difference of two elevations.
const fn position(name: &'static str) -> LengthKey {
    length(
        name,
        (-1_000_000, 1_000_000),
        "no part of a platform or of the rig beside it is 1000 m from the sea datum",
    )
}

/// An elevation of the ground.
const fn ground(name: &'static str) -> LengthKey {
    length(
        name,
        (-12_000_000, 1_000_000),
        "no seabed is deeper than 11 km",
    )
}

const fn real(
    name: &'static str,
    units: &'static [RealUnit],
    from: f64,
    to: f64,
    why: &'static str,
) -> RealKey {
    RealKey {
        name,
        units,
        from,
        to,
        or_zero: false,
        exponent: false,
        why,
    }
}

/// Units of mass; the pound is 0.45359237 kg exactly (NIST SP 811).
const MASS: &[RealUnit] = &[("kg", 1.0), ("t", 1000.0), ("lb", 0.453_592_37)];
/// Units of mass per length.
const MASS_PER_LENGTH: &[RealUnit] = &[("kg/m", 1.0), ("lb/ft", 0.453_592_37 / 0.3048)];
/// Units of density.
const DENSITY: &[RealUnit] = &[("kg/m3", 1.0), ("kg/m³", 1.0)];
/// Parts per million.
const SCALE: &[RealUnit] = &[("ppm", 1.0)];

/// Degrees.
const TEMPERATURE: &[RealUnit] = &[("C", 1.0)];
/// An angle.
const DEGREES: &[RealUnit] = &[("deg", 1.0)];
/// Units of force; the pound of force is 4.4482216152605 N exactly (NIST SP 811).
const FORCE: &[RealUnit] = &[("N", 1.0), ("lbf", 4.448_221_615_260_5)];
/// Units of area; the inch is 25.4 mm exactly.
const AREA: &[RealUnit] = &[("mm2", 1.0), ("in2", 645.16)];
/// Thermal expansion.
const EXPANSION: &[RealUnit] = &[("1/C", 1.0)];

const TAPE: &str = "no tape that is used on a rig is like that";
const LIMIT: &str = "a limit of half a metre would limit nothing";
const AGREE: &str = "two ways that may differ by more compare nothing";
const WELD: &str = "no root gap is wider than 20 mm, and no connection longer than 5 m";
const CONNECTION: &str = "no connection and no fitting is longer than 5 m";
const READING: &str = "a reading that may be off by more is no reading";
const WEIGHT: &str = "no deck or frame that a jack-up sets weighs 20000 t";

macro_rules! table {
    ($kind:ty: $($key:ident = $row:expr;)*) => {
        $(pub(super) const $key: $kind = $row;)*
    };
}

table! { LengthKey:
    SITE_MUDLINE = ground("site.mudline");
    WATER_LEVEL = position("site.water_level");
    ROTARY = position("hull.rotary");
    STICK_UP_FROM = length("hull.stick_up_from", (-5_000, 5_000), "a spider is within 5 m of the rotary table");
    RAISED = position("hull.raised");
    AIR_GAP = position("hull.air_gap");
    WATER_AT_READING = position("hull.water_at_reading");
    ROTARY_ABOVE_HULL = position("hull.rotary_above_hull");
    OD = length("pipe.od", (50, 3_000), "no conductor is that wide or that narrow");
    WALL = length("pipe.wall", (2, 1_500), "no conductor has such a wall");
    MAKEUP_LOSS = length("pipe.makeup_loss", (0, 5_000), CONNECTION);
    MAKEUP_LOSS_OF_WELD = length("pipe.makeup_loss", (-20, 5_000), WELD);
    CONNECTION_BELOW = length("pipe.connection_below", (0, 5_000), CONNECTION);
    CONNECTION_ABOVE = length("pipe.connection_above", (0, 5_000), CONNECTION);
    SLOT_X = position("slot.x");
    SLOT_Y = position("slot.y");
    SHOULDER_OFFSET = position("slot.shoulder_offset");
    PLAN_SHOULDER = position("slot.plan_shoulder");
    PLAN_TOP = position("slot.plan_top");
    STICK_UP = position("slot.stick_up");
    SLOT_MUDLINE = ground("slot.mudline");
    HOLE_BOTTOM = ground("slot.hole_bottom");
    MIN_RATHOLE = above_zero("slot.min_rathole", 50_000, "no hole is drilled so much deeper than its string");
    LEG_DEVIATION = length("slot.leg_deviation", (-500, 500), "no deck is built with a leg half a metre off");
    LEG_UNCERTAINTY = length("slot.leg_uncertainty", (0, 200), READING);
    CUT_OFFSET = position("slot.cut_offset");
    SHOE_WINDOW = position("slot.shoe_window");
    SHOULDER_WINDOW = position("slot.shoulder_window");
    TOP_WINDOW = position("slot.top_window");
    AS_CUT = position("slot.as_cut");
    ALLOWANCE = length("allowance.value", (-500, 500), "an allowance is a correction, not an elevation");
    KEEP_OUT_FROM = position("keep_out.from");
    KEEP_OUT_TO = position("keep_out.to");
    ACCESSORY = position("accessory.elevation");
    ACCESSORY_LENGTH = length("accessory.length", (0, 5_000), CONNECTION);
    BENCH = position("bench.elevation");
    BENCH_UNCERTAINTY = length("bench.uncertainty", (0, 200), READING);
    RING_ABOVE_BASE = position("frame.ring_above_base");
    BASE_ABOVE_MUDLINE = position("frame.base_above_mudline");
    DECK = position("deck.elevation");
    BELOW_ROTARY = position("deck.below_rotary");
    SEAT_WITHIN = length("deck.seat_within", (0, 500), LIMIT);
    COG = position("deck.cog");
    KERF = length("cut.kerf", (0, 50), "no cutter removes so much");
    ROUGH_ABOVE = length("cut.rough_above", (0, 5_000), "a rough cut is near the final one");
    TOLERANCE = above_zero("cut.tolerance", 500, LIMIT);
    SPREAD = above_zero("cut.spread", 500, LIMIT);
    LEVEL = above_zero("cut.level", 500, LIMIT);
    CLEARANCE = length("cut.clearance", (0, 5_000), "few joints would be left to cut in");
    OPEN_ABOVE = length("reconcile.open_above", (0, 500), LIMIT);
    AGREE_PLAN = length("agree.plan", (0, 5_000), AGREE);
    AGREE_RAISE = length("agree.raise", (0, 500), AGREE);
    AGREE_AIR_GAP = length("agree.air_gap", (0, 5_000), AGREE);
    AGREE_DECK = length("agree.deck", (0, 500), AGREE);
    AGREE_MARKS = length("agree.marks", (0, 500), AGREE);
    U_STRAP = length("uncertainty.strap", (0, 200), READING);
    U_CONNECTION = length("uncertainty.connection", (0, 200), READING);
    U_STICK_UP = length("uncertainty.stick_up", (0, 200), READING);
    U_ROTARY = length("uncertainty.rotary", (0, 500), READING);
    U_AS_CUT = length("uncertainty.as_cut", (0, 200), READING);
    U_RIM = length("uncertainty.rim", (0, 200), READING);
    U_BENCHMARK = length("uncertainty.benchmark", (0, 500), READING);
    TAPE_NOMINAL = length("correction.nominal", (100, 500_000), TAPE);
    TAPE_ACTUAL = length("correction.actual", (100, 500_000), TAPE);
    SPAN = length("correction.span", (100, 500_000), TAPE);
    U_MUDLINE = length("uncertainty.mudline", (0, 5_000), "a seabed that is known no better is not known");
}

table! { RealKey:
    WATER_DENSITY = real("site.water_density", DENSITY, 900.0, 1500.0, "no sea is that light or that dense");
    STEEL_DENSITY = real("pipe.density", DENSITY, 1000.0, 12000.0, "no pipe is that light or that dense");
    MASS_PER_METRE = real("pipe.mass_per_metre", MASS_PER_LENGTH, 0.0, 10_000.0, "no conductor weighs 10 t a metre");
    CONNECTOR_MASS = real("pipe.connector_mass", MASS, 0.0, 20_000.0, "no pair of connectors weighs 20 t");
    FRAME_WEIGHT = real("frame.weight", MASS, 0.0, 20_000_000.0, WEIGHT);
    BLOCK_MASS = real("rig.block_mass", MASS, 0.0, 20_000_000.0, WEIGHT);
    DECK_WEIGHT = real("deck.weight", MASS, 0.0, 20_000_000.0, WEIGHT);
    AT_TEMPERATURE = real("correction.at", TEMPERATURE, -60.0, 90.0, "no tape and no pipe is read at that");
    STANDARD_TEMPERATURE = real("correction.standard", TEMPERATURE, -60.0, 90.0, "no tape is right at that");
    ALPHA = RealKey {
        exponent: true,
        ..real("correction.alpha", EXPANSION, 1e-7, 1e-4, "no tape and no pipe expands by that")
    };
    AT_PULL = real("correction.at", FORCE, 0.0, 1e7, "nothing that is measured is pulled by that");
    STANDARD_PULL = real("correction.standard", FORCE, 0.0, 1e7, "nothing that is measured is pulled by that");
    TAPE_AREA = real("correction.area", AREA, 0.1, 1e6, "no tape and no pipe has such a section");
    TAPE_MASS = real("correction.mass_per_metre", MASS_PER_LENGTH, 0.001, 10.0, TAPE);
    PULL = real("correction.pull", FORCE, 1.0, 1e4, TAPE);
    FLUID_DENSITY = real("correction.fluid_density", DENSITY, 0.0, 3000.0, "no fluid in a conductor is that dense");
    INCLINATION = real("slot.inclination", DEGREES, 0.0, 10.0, "no conductor of a small platform leans so far");
    // Between 0 and 1 lies a scale that was written as a part of 1 instead of a million.
    TAPE_SCALE = RealKey {
        or_zero: true,
        ..real("uncertainty.tape_scale", SCALE, 1.0, 2000.0, "expected 0, or 1 to 2000 parts per million")
    };
}
