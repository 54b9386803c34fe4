//! Two conductors with readings beside them, invented: a job whose figures an independent dense least-squares program
//! worked out.

use std::fs;

use serde_json::Value;

/// The job file.
pub const JOB: &str = r#"format = 1
[job]
title = "Two conductors with readings beside them (invented)"
units = "m"
sea_datum = "LAT"
[site]
mudline = -30.0
[[hull]]
name = "drilling"
rotary = 32.400
stick_up_from = "0.620 m"
[[hull]]
name = "deck landing"
rotary = 39.100
[pipe.main]
od = "30 in"
wall = "1.5 in"
[[slot]]
name = "A"
pipe = "main"
tally = "a.csv"
running_joint = "3"
shoulder_offset = 1.250
stick_up = 10.300
stick_up_hull = "drilling"
[[slot]]
name = "B"
x = 3
pipe = "main"
tally = "b.csv"
stick_up = 0.940
stick_up_hull = "drilling"
[[bench]]
name = "bench"
elevation = 17.905
uncertainty = "1 mm"
[deck]
elevation = 14.250
[uncertainty]
strap = "1.5 mm"
connection = "0.5 mm"
tape_scale = 50
stick_up = "2 mm"
rotary = "3 mm"
benchmark = "2 mm"
as_cut = "1 mm"
mudline = "30 mm"
"#;

/// Both tallies.
const JOINTS: &str = "joint,length (m),makeup_loss (m),kind\n1,12.115,,shoe\n2,12.204,0.105,joint\n3,12.051,0.107,joint\n\
    4,11.998,0.104,joint\n5,12.187,0.106,joint\n6,12.093,0.105,top\n";

/// Its readings.
pub const READINGS: &str = "from,to,rise,sigma,how\nrotary@drilling,rotary@deck landing,6.705,2 mm,\nA.top,B.top,-0.113,1 mm,\n\
    bench,B.top,16.051,2 mm,\ndatum,A.shoulder,-12.598,20 mm,\nB.top,bench,-16.053,1.5 mm,tape\n";

/// Its folder, with such a job file and such readings.
pub fn job(text: &str, readings: &str) -> tempfile::TempDir {
    let place = tempfile::tempdir().expect("a folder");
    let write = |file: &str, text: &str| fs::write(place.path().join(file), text).expect("a file");
    write("job.toml", text);
    write("a.csv", &format!("{JOINTS}L1,9.400,0.150,landing\n"));
    write("b.csv", JOINTS);
    write("readings.csv", readings);
    place
}

/// A number to so many places.
pub fn places(value: &Value, places: usize) -> String {
    let number = value.as_f64().expect("a number");
    format!("{number:.places$}")
}
