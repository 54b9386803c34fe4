//! What each quantity of a job file may be: the bounds are written here a second time, from the
//! description of the file, so that an error in the program's table is found.

use super::super::{JobProblem, parse};

/// A job with every quantity in it, each within its bounds.
const FULL: &str = r#"format = 1
[job]
units = "m"
sea_datum = "LAT"
[site]
mudline = -41.350
water_density = 1025
water_level = 1.20
[[hull]]
name = "one"
rotary = 32.400
stick_up_from = 0.620
[pipe.main]
od = 0.762
wall = 0.0381
density = 7850
mass_per_metre = 680
connector_mass = 310
makeup_loss = 0.152
connection_below = 0.45
connection_above = 0.30
[[slot]]
name = "A"
x = 0.0
y = 0.5
pipe = "main"
tally = "tallies/a.csv"
shoulder_offset = 1.250
plan_shoulder = -27.100
stick_up = 1.120
slot_mudline = -41.500
hole_bottom = -97.0
min_rathole = 0.5
cut_offset = 0.004
shoe_window = [-96.0, -94.0]
shoulder_window = [-28.0, -26.0]
top_window = [14.0, 60.0]
as_cut = [14.251, 14.249]
[[slot]]
name = "B"
pipe = "main"
tally = "tallies/b.csv"
plan_top = 14.400
[[allowance]]
value = 0.0015
[[keep_out]]
from = 2.0
to = 6.0
[[accessory]]
name = "guide"
accessory_elevation = -34.200
length = 0.60
[[bench]]
name = "plate"
bench_elevation = 17.905
uncertainty = 0.001
[frame]
slot = "A"
ring_above_base = 8.200
base_above_mudline = [0.5, 1.5]
frame_weight = 45000
[rig]
block_mass = 28000
[deck]
deck_elevation = 14.250
deck_weight = 180000
cog = [1.9, 2.1]
[cut]
kerf = 0.006
rough_above = 0.20
tolerance = 0.010
spread = 0.006
level = 0.003
clearance = 0.40
[reconcile]
open_above = 0.005
[uncertainty]
strap = 0.0015
connection = 0.0005
tape_scale = 50
u_stick_up = 0.002
u_rotary = 0.003
u_as_cut = 0.001
benchmark = 0.002
u_mudline = 0.030
"#;

/// Names in [`FULL`] for keys that occur more than once, each with the key itself.
const ALIASES: [(&str, &str); 10] = [
    ("slot_mudline", "mudline"),
    ("accessory_elevation", "elevation"),
    ("bench_elevation", "elevation"),
    ("deck_elevation", "elevation"),
    ("frame_weight", "weight"),
    ("deck_weight", "weight"),
    ("u_stick_up", "stick_up"),
    ("u_rotary", "rotary"),
    ("u_as_cut", "as_cut"),
    ("u_mudline", "mudline"),
];

/// The text of a job in which one line is replaced.
fn with(alias: &str, value: &str) -> String {
    let mut found = 0;
    let lines: Vec<String> = FULL
        .lines()
        .map(|line| match line.split_once(" = ") {
            Some((key, old)) => {
                let value = if key == alias {
                    found += 1;
                    value
                } else {
                    old
                };
                let plain = ALIASES.iter().find(|(alias, _)| *alias == key);
                let key = plain.map_or(key, |(_, key)| *key);
                format!("{key} = {value}\n")
            }
            None => format!("{line}\n"),
        })
        .collect();
    assert!(
        found == 1 || alias.is_empty(),
        "{alias} is there {found} times"
    );
    lines.concat()
}

fn problems(text: &str) -> Vec<String> {
    let problems: Vec<JobProblem> = parse(text).err().unwrap_or_default();
    problems.iter().map(ToString::to_string).collect()
}

/// The lowest and the highest value of each key, and what lies just beyond them. Bare numbers: metres,
/// kilograms, kg/m, kg/m3, parts per million.
#[rustfmt::skip]
const BOUNDS: &[(&[&str], [&str; 2], [&str; 2])] = &[
    (&["tolerance", "spread", "level"], ["0.000001", "0.5"], ["0", "0.500001"]),
    (&["min_rathole"], ["0.000001", "50"], ["0", "50.000001"]),
    (&["value"], ["-0.5", "0.5"], ["-0.500001", "0.500001"]),
    (&["open_above"], ["0", "0.5"], ["-0.000001", "0.500001"]),
    (&["kerf"], ["0", "0.05"], ["-0.000001", "0.050001"]),
    (&["clearance", "rough_above", "connection_below", "connection_above", "makeup_loss", "length"],
        ["0", "5"], ["-0.000001", "5.000001"]),
    (&["stick_up_from"], ["-5", "5"], ["-5.000001", "5.000001"]),
    (&["strap", "connection", "u_stick_up", "u_as_cut", "uncertainty"], ["0", "0.2"], ["-0.000001", "0.200001"]),
    (&["u_rotary", "benchmark"], ["0", "0.5"], ["-0.000001", "0.500001"]),
    (&["u_mudline"], ["0", "5"], ["-0.000001", "5.000001"]),
    (&["tape_scale"], ["1", "2000"], ["0.999", "2000.001"]),
    (&["tape_scale"], ["0", "0.0"], ["-1", "1000000000000000"]),
    // The wall of the job goes with each of these.
    (&["od"], ["0.0763", "3"], ["0.049999", "3.000001"]),
    (&["wall"], ["0.002", "0.380999"], ["0.001999", "0.381"]),
    (&["density"], ["1000", "12000"], ["999.9", "12000.1"]),
    (&["water_density"], ["900", "1500"], ["899.9", "1500.1"]),
    (&["water_level", "rotary", "x", "y", "plan_shoulder", "plan_top", "stick_up", "cut_offset", "shoulder_offset",
        "ring_above_base", "accessory_elevation", "bench_elevation", "deck_elevation"],
        ["-1000", "1000"], ["-1000.000001", "1000.000001"]),
    (&["from"], ["-1000", "5.9"], ["-1000.000001", "1000.000001"]),
    (&["to"], ["2.1", "1000"], ["-1000.000001", "1000.000001"]),
    (&["shoe_window", "shoulder_window", "top_window", "as_cut", "base_above_mudline", "cog"],
        ["[-1000, -1000]", "[1000, 1000]"], ["[-1000.000001, 0]", "[0, 1000.000001]"]),
    (&["mudline", "slot_mudline", "hole_bottom"], ["-12000", "1000"], ["-12000.000001", "1000.000001"]),
    (&["frame_weight", "deck_weight", "block_mass"], ["0", "\"20000 t\""], ["-1", "\"20000.001 t\""]),
    (&["connector_mass"], ["0", "20000"], ["-1", "20000.001"]),
    (&["mass_per_metre"], ["0", "10000"], ["-1", "10000.001"]),
];

#[test]
fn every_quantity_has_its_bounds() {
    assert_eq!(problems(&with("", "")), [""; 0]);
    let mut wrong = Vec::new();
    for (keys, inside, outside) in BOUNDS {
        for key in *keys {
            for value in inside {
                let said = problems(&with(key, value));
                if !said.is_empty() {
                    wrong.push(format!("{key} = {value} is refused: {said:?}"));
                }
            }
            for value in outside {
                let said = problems(&with(key, value));
                if said.len() != 1 {
                    wrong.push(format!("{key} = {value}: {said:?}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_quantity_of_the_job_file_is_tried_at_its_bounds() {
    let tried: Vec<&str> = BOUNDS
        .iter()
        .flat_map(|(keys, _, _)| *keys)
        .copied()
        .collect();
    let texts = [
        "units",
        "sea_datum",
        "name",
        "pipe",
        "tally",
        "slot",
        "format",
    ];
    for line in FULL.lines() {
        if let Some((key, _)) = line.split_once(" = ") {
            assert!(
                tried.contains(&key) || texts.contains(&key),
                "{key} is not tried"
            );
        }
    }
}

#[test]
fn a_value_beyond_its_bound_is_told_with_the_unit_that_may_have_been_meant() {
    let said = |key, value| problems(&with(key, value)).join("\n");
    let cases = [
        ("tolerance", "15"),
        ("tolerance", "\"15 m\""),
        ("tolerance", "\"0.6 m\""),
        ("kerf", "6"),
        ("od", "30"),
        ("od", "762"),
        ("od", "\"0.762 mm\""),
        ("value", "-15"),
        ("stick_up", "1120"),
        ("mudline", "-20000"),
        ("deck_elevation", "200000"),
        ("deck_elevation", "250000000"),
        ("deck_elevation", "\"5000' 6\\\"\""),
        ("clearance", "\"40 ft\""),
        ("as_cut", "[14.251, 14249]"),
        ("tape_scale", "1000000000000000"),
        ("tape_scale", "0.5"),
        ("tape_scale", "1e15"),
        ("tape_scale", "1e305"),
        ("density", "7.85"),
        ("connector_mass", "\"310 t\""),
        ("frame_weight", "45000000"),
        ("wall", "0.4"),
    ];
    let all: Vec<String> = cases
        .iter()
        .map(|(key, value)| format!("{key} = {value}\n  {}", said(key, value)))
        .collect();
    insta::assert_snapshot!(all.join("\n"));
}

#[test]
fn in_feet_the_bound_is_told_in_feet_too_and_inches_are_offered() {
    let feet = super::LEAST.replace("units = \"m\"", "units = \"ft\"");
    let feet_inches = feet
        .replace("\"ft\"", "\"ft-in\"")
        .replace("-41.350", "-135")
        .replace("32.400", "106")
        .replace("14.250", "46");
    let mut all = Vec::new();
    for least in [feet, feet_inches] {
        for added in [
            "tolerance = 15",
            "kerf = \"1 ft\"",
            "clearance = \"16' 6\\\"\"",
        ] {
            all.push(format!(
                "{added}\n  {}",
                problems(&format!("{least}[cut]\n{added}\n")).join("\n")
            ));
        }
    }
    insta::assert_snapshot!(all.join("\n"));
}
