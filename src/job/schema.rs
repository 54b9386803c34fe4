//! Every key of a job file with its kind, its bounds and its meaning: the table that the documents
//! print.

use super::bounds::{self, LengthKey, RealKey};
use crate::measure::{Length, Unit};

/// One key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyRow {
    /// Its table and its name: `cut.kerf`.
    pub key: &'static str,
    /// What its value is.
    pub kind: String,
    /// Its bounds, both in; blank where it has none.
    pub bounds: String,
    /// What holds where it is left out.
    pub left_out: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

enum Kind {
    Length(LengthKey),
    Lengths(LengthKey, &'static str),
    Real(RealKey),
    Other(&'static str),
}

use Kind::{Length as L, Lengths as Ls, Other as O, Real as R};

/// Must be there.
const NEEDED: &str = "needed";
/// Nothing holds in its place.
const NONE: &str = "";
/// Checked, and no figure is computed from it yet.
const UNUSED: &str = "not used yet";

type Row = (&'static str, Kind, &'static str, &'static str);

#[rustfmt::skip]
const ROWS: &[Row] = &[
    ("format", O("1"), NEEDED, "the form of this file"),
    ("job.title", O("text"), NONE, "stands on every output"),
    ("job.units", O("m, ft, ft-in"), NEEDED, "the unit of bare numbers, and of what is shown"),
    ("job.sea_datum", O("text"), NEEDED, "the name of the zero of all elevations, such as LAT"),
    ("job.pool", O("path"), NONE, "list of the pipe on deck, from which other joints than the tally's may be run"),
    ("people.INITIALS", O("text"), "anyone may enter", "a person's name; once there is one, entries and signatures carry these initials alone"),
    ("roles.prepared", O("initials"), "nobody signs", "who signs as having prepared the figures"),
    ("roles.checked", O("initials"), "nobody signs", "who signs as having checked them"),
    ("roles.accepted", O("initials"), "nobody signs", "who signs as accepting them"),
    ("holds.tally-frozen", O("roles"), "all roles, if no hold point is named", "which roles sign this hold point; of those named none other is used"),
    ("holds.landed", O("roles"), "so too", "the string is landed"),
    ("holds.cut-release", O("roles"), "so too", "the conductor may be cut at its target"),
    ("holds.off-cut-lift", O("roles"), "so too", "the off-cut may be lifted"),
    ("holds.final", O("roles"), "so too", "the finished top is accepted"),
    ("site.mudline", L(bounds::SITE_MUDLINE), NEEDED, "elevation of the seabed"),
    ("site.water_density", R(bounds::WATER_DENSITY), "no hook load below the surface", "for buoyancy"),
    ("site.water_level", L(bounds::WATER_LEVEL), "0", "elevation of the sea surface; nothing is cut at or below it"),
    ("hull.name", O("text"), NEEDED, "a hull position; they stand in order of time"),
    ("hull.rotary", L(bounds::ROTARY), NEEDED, "elevation of the rotary table's top face there"),
    ("hull.stick_up_from", L(bounds::STICK_UP_FROM), "0, and `surface-assumed`", "height above RT of the surface that stick-ups are read from"),
    ("hull.raised", L(bounds::RAISED), NONE, "second way to this RT: how far the hull was raised from the position before"),
    ("hull.air_gap", L(bounds::AIR_GAP), NONE, "second way to this RT, with the next two: underside of the hull above the sea surface as read"),
    ("hull.water_at_reading", L(bounds::WATER_AT_READING), NONE, "elevation of the sea surface at that moment"),
    ("hull.rotary_above_hull", L(bounds::ROTARY_ABOVE_HULL), NONE, "RT above the underside of the hull"),
    ("pipe.NAME.od", L(bounds::OD), NEEDED, "outside diameter"),
    ("pipe.NAME.wall", L(bounds::WALL), NEEDED, "wall thickness, below half of the outside diameter"),
    ("pipe.NAME.density", R(bounds::STEEL_DENSITY), "7850 kg/m3", "density of the steel"),
    ("pipe.NAME.mass_per_metre", R(bounds::MASS_PER_METRE), "from od, wall and density", "mass per length as weighed"),
    ("pipe.NAME.connector_mass", R(bounds::CONNECTOR_MASS), "`offcut-mass-partial`", "mass of a made-up pair of connectors"),
    ("pipe.NAME.pin", O("down, up"), "down", "which end of a joint carries the pin"),
    ("pipe.NAME.connection", O("connector, weld"), "connector", "weld: a make-up loss may be negative, a root gap, down to -20 mm"),
    ("pipe.NAME.makeup_loss", L(bounds::MAKEUP_LOSS), "0, and `loss-missing`", "for joints whose own is blank"),
    ("pipe.NAME.connection_below", L(bounds::CONNECTION_BELOW), "the make-up loss, pins down", "how far a connection reaches below its make-up plane"),
    ("pipe.NAME.connection_above", L(bounds::CONNECTION_ABOVE), "the make-up loss, pins up", "how far it reaches above"),
    ("slot.name", O("text"), NEEDED, "a slot"),
    ("slot.x", L(bounds::SLOT_X), "0", "plan position"),
    ("slot.y", L(bounds::SLOT_Y), "0", "plan position"),
    ("slot.pipe", O("name of a pipe"), NEEDED, "its pipe"),
    ("slot.tally", O("path"), NEEDED, "the tally of record"),
    ("slot.lists", O("{ NAME = path, ... }"), NONE, "other lists of the same string; `{ file = path, from = NAME }` for one that was made from another, which is no second witness then"),
    ("slot.read", O("{ ... }"), NONE, "answers to the reader's questions: units, order, decimal, length, sheet, not_run, landing, columns, rows, blocks"),
    ("slot.running_joint", O("joint number"), "the one row of kind running, with `shoulder_offset`", "the joint that carries the landing shoulder"),
    ("slot.shoulder_offset", L(bounds::SHOULDER_OFFSET), "no shoulder", "the shoulder above that joint's lower make-up plane"),
    ("slot.plan_shoulder", L(bounds::PLAN_SHOULDER), NONE, "where the shoulder shall be; second way to the stick-up once that is read"),
    ("slot.plan_top", L(bounds::PLAN_TOP), NONE, "where the top shall be; one of the two"),
    ("slot.stick_up", L(bounds::STICK_UP), "not read yet", "top of the string above the surface that stick-ups are read from; negative below it"),
    ("slot.stick_up_hull", O("name of a hull position"), "the first", "where it was read"),
    ("slot.mudline", L(bounds::SLOT_MUDLINE), "`site.mudline`", "the seabed at this slot"),
    ("slot.hole_bottom", L(bounds::HOLE_BOTTOM), NONE, "bottom of the hole"),
    ("slot.min_rathole", L(bounds::MIN_RATHOLE), "0", "the shoe at least so far above it"),
    ("slot.inclination", R(bounds::INCLINATION), "upright, which is said", "of the conductor as surveyed: turns lengths along it into heights"),
    ("slot.leg_deviation", L(bounds::LEG_DEVIATION), "as designed, which `seat` says", "the deck's leg at this slot as surveyed, less as designed: positive longer"),
    ("slot.leg_uncertainty", L(bounds::LEG_UNCERTAINTY), "no chances, where the leg is surveyed", "its standard uncertainty"),
    ("slot.cut_offset", L(bounds::CUT_OFFSET), "0", "added to the deck's elevation for this slot's cut"),
    ("slot.shoe_window", Ls(bounds::SHOE_WINDOW, "lowest and highest"), NONE, "where the shoe may be"),
    ("slot.shoulder_window", Ls(bounds::SHOULDER_WINDOW, "lowest and highest"), NONE, "where the landing shoulder may be"),
    ("slot.top_window", Ls(bounds::TOP_WINDOW, "lowest and highest"), NONE, "where the top may be"),
    ("slot.as_cut", Ls(bounds::AS_CUT, "one or more"), "not cut yet", "elevations measured round the finished top"),
    ("allowance.why", O("text"), "allowance", "what it is for"),
    ("allowance.value", L(bounds::ALLOWANCE), NEEDED, "added to the cut target; positive cuts higher"),
    ("allowance.slots", O("names of slots"), "all", "where; so below"),
    ("keep_out.from", L(bounds::KEEP_OUT_FROM), NEEDED, "elevations in which no connection may lie: the lower end"),
    ("keep_out.to", L(bounds::KEEP_OUT_TO), NEEDED, "the upper end"),
    ("keep_out.why", O("text"), "keep-out", "why"),
    ("keep_out.severity", O("check, stop"), "check", "how much it matters"),
    ("keep_out.slots", O("names of slots"), "all", "where"),
    ("accessory.name", O("text"), NEEDED, "what is fixed to a conductor as it runs"),
    ("accessory.slots", O("names of slots"), "all", "where"),
    ("accessory.elevation", L(bounds::ACCESSORY), NEEDED, "where its lower edge must end up"),
    ("accessory.length", L(bounds::ACCESSORY_LENGTH), "0", "its length upward"),
    ("bench.name", O("text"), NEEDED, "a mark of known elevation from which a cut can be measured"),
    ("bench.elevation", L(bounds::BENCH), NEEDED, "its elevation"),
    ("bench.uncertainty", L(bounds::BENCH_UNCERTAINTY), "not stated", "its standard uncertainty"),
    ("bench.hull", O("name of a hull position"), "it does not move", "for a mark on the rig: the only hull position at which it counts"),
    ("correction.on", O("tally, or how readings were made"), NEEDED, "which readings are corrected before all are adjusted; the chain stays as read"),
    ("correction.kind", O("standard, temperature, pull, sag, stretch"), NEEDED, "what is corrected"),
    ("correction.slots", O("names of slots"), "all", "whose tallies"),
    ("correction.nominal", L(bounds::TAPE_NOMINAL), "needed by standard", "what the tape should be long"),
    ("correction.actual", L(bounds::TAPE_ACTUAL), "needed by standard", "what it is long"),
    ("correction.at", O("number: C for temperature; N, lbf for pull"), "needed by temperature and pull", "as it was read, or is in use"),
    ("correction.standard", O("number: C for temperature; N, lbf for pull"), "needed by temperature and pull", "at which the tape is right, or the pipe was strapped"),
    ("correction.alpha", R(bounds::ALPHA), "11.6e-6", "thermal expansion a degree, for temperature"),
    ("correction.area", R(bounds::TAPE_AREA), "needed by pull", "the tape's cross-section"),
    ("correction.mass_per_metre", R(bounds::TAPE_MASS), "needed by sag", "the tape's mass"),
    ("correction.pull", R(bounds::PULL), "needed by sag", "the pull on the tape"),
    ("correction.span", L(bounds::SPAN), "needed by sag", "how far its supports are apart"),
    ("correction.fluid_density", R(bounds::FLUID_DENSITY), "needed by stretch", "of the fluid in which the string hangs"),
    ("frame.slot", O("name of a slot"), NEEDED, "whose running joint carries the frame"),
    ("frame.ring_above_base", L(bounds::RING_ABOVE_BASE), NEEDED, "its landing ring above its own base"),
    ("frame.base_above_mudline", Ls(bounds::BASE_ABOVE_MUDLINE, "lowest and highest"), "no verdict", "window of its base above the mudline"),
    ("frame.weight", R(bounds::FRAME_WEIGHT), "left out of the hook load, which says so", "submerged mass: joins the hook load once it is picked up"),
    ("rig.block_mass", R(bounds::BLOCK_MASS), "left out of the hook load, which says so", "what the weight indicator reads with nothing hung"),
    ("deck.elevation", L(bounds::DECK), NEEDED, "the plane on which the deck lands, at a slot with offset 0"),
    ("deck.below_rotary", L(bounds::BELOW_ROTARY), NONE, "second way to it: its depth below RT as the order gives it"),
    ("deck.below_rotary_hull", O("name of a hull position"), "the cut's", "at this hull position"),
    ("deck.weight", R(bounds::DECK_WEIGHT), UNUSED, "its mass"),
    ("deck.cog", Ls(bounds::COG, "x and y"), "the deck is not seated", "centre of gravity in plan, for `kerfmark seat`"),
    ("deck.seat_within", L(bounds::SEAT_WITHIN), "`cut.tolerance`", "how far a top may lie from one plane, and the most that a gap may be"),
    ("cut.hull", O("name of a hull position"), "the last", "from which the cut is measured"),
    ("cut.elevations", O("chain, adjusted"), "chain", "by which elevations is cut: RT, stick-up and tally of the slot, or all readings adjusted"),
    ("cut.kerf", L(bounds::KERF), "0", "width of material that the cut removes"),
    ("cut.rough_above", L(bounds::ROUGH_ABOVE), "none", "a first, rough cut this much above the final one"),
    ("cut.tolerance", L(bounds::TOLERANCE), "no verdict", "each cut against its target, either way"),
    ("cut.spread", L(bounds::SPREAD), "no verdict", "highest to lowest of the cuts' deviations from their targets"),
    ("cut.level", L(bounds::LEVEL), "no verdict, and `level-unstated`", "highest to lowest round one top"),
    ("cut.clearance", L(bounds::CLEARANCE), "not checked", "minimum distance of the cut from a connection and from the shoulder"),
    ("uncertainty.strap", L(bounds::U_STRAP), "not stated", "standard uncertainty (k = 1) of each joint's length"),
    ("uncertainty.connection", L(bounds::U_CONNECTION), "not stated", "of each make-up"),
    ("uncertainty.tape_scale", R(bounds::TAPE_SCALE), "not stated", "of the tape's scale, common to all that it measures"),
    ("uncertainty.stick_up", L(bounds::U_STICK_UP), "not stated", "of a stick-up or any one marking reading"),
    ("uncertainty.rotary", L(bounds::U_ROTARY), "not stated", "of RT at each hull position"),
    ("uncertainty.as_cut", L(bounds::U_AS_CUT), "not stated", "of one cut against another"),
    ("uncertainty.rim", L(bounds::U_RIM), "`as_cut`", "of one reading of a top against another of the same top"),
    ("uncertainty.benchmark", L(bounds::U_BENCHMARK), "not stated", "of the height reference of the as-cut survey"),
    ("uncertainty.mudline", L(bounds::U_MUDLINE), "not stated", "of the mudline"),
    ("agree.plan", L(bounds::AGREE_PLAN), "0.25 m", "how far a reading and its plan may differ"),
    ("agree.raise", L(bounds::AGREE_RAISE), "20 mm", "an RT, and the RT before with how far the hull was raised"),
    ("agree.air_gap", L(bounds::AGREE_AIR_GAP), "0.25 m", "an RT and the air gap"),
    ("agree.deck", L(bounds::AGREE_DECK), "1 mm", "the deck's elevation and its depth below RT"),
    ("agree.marks", L(bounds::AGREE_MARKS), "5 mm", "two marks that are set out"),
    ("reconcile.open_above", L(bounds::OPEN_ABOVE), "5 mm", "an undecided difference between lists that moves an elevation by more is flagged"),
];

/// Every key of a job file, in the order of its tables.
pub fn schema() -> Vec<KeyRow> {
    let rows = ROWS.iter();
    rows.map(|(key, kind, left_out, meaning)| {
        let (kind, bounds) = match kind {
            L(row) => ("length".to_owned(), row.span()),
            Ls(row, which) => (format!("lengths: {which}"), row.span()),
            R(row) => {
                let units: Vec<&str> = row.units.iter().map(|(unit, _)| *unit).collect();
                (format!("number: {}", units.join(", ")), row.span())
            }
            O(kind) => ((*kind).to_owned(), String::new()),
        };
        KeyRow {
            key,
            kind,
            bounds,
            left_out,
            meaning,
        }
    })
    .collect()
}

impl LengthKey {
    /// `0 to 50 mm`.
    fn span(&self) -> String {
        let limit = |length: Length| {
            let small = !length.is_zero() && length.abs() < Length::from_mm(100);
            let unit = if small { Unit::Millimetre } else { Unit::Metre };
            length.exact(unit)
        };
        let from = if self.above {
            "above 0".to_owned()
        } else if self.from.is_zero() {
            "0".to_owned()
        } else {
            limit(self.from)
        };
        format!("{from} to {}", limit(self.to))
    }
}

impl RealKey {
    /// `900 to 1500`, in the first of its units.
    fn span(&self) -> String {
        let zero = if self.or_zero { "0, or " } else { "" };
        format!("{zero}{} to {}", self.from, self.to)
    }
}
