//! The expected hook load against a handbook's buoyancy factor, and against a sum worked out by hand.

use kerfmark::figures::of_inputs;
use kerfmark::job::parse;
use kerfmark::journal::{Draft, Inputs, Journal, Moment, NO_HASH, Parts};
use kerfmark::tally::{Options, import};

/// An invented job; what the checks need is put in.
fn job(water_level: &str, pipe: &str, rest: &str) -> String {
    format!(
        "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -120\n{water_level}\n\
         [[hull]]\nname = \"low\"\nrotary = 20\nstick_up_from = 0.6\n[pipe.main]\n{pipe}\n\
         [[slot]]\nname = \"A\"\npipe = \"main\"\ntally = \"a.csv\"\nrunning_joint = \"2\"\nshoulder_offset = 1\nplan_top = 5\n\
         [deck]\nelevation = 14\n{rest}\n"
    )
}

/// The figures with the first joints of a tally run.
fn with_run(job: &str, tally: &str, joints: &[&str]) -> kerfmark::figures::Running {
    let now = Moment::at(1_772_330_700, 0).expect("a moment");
    let (mut bytes, mut head) = (Vec::new(), NO_HASH.to_owned());
    for (seq, joint) in (1_u64..).zip(joints) {
        let text = format!(
            "{{\"event\":\"joint-run\",\"slot\":\"A\",\"joint\":\"{joint}\",\"by\":\"NK\"}}"
        );
        let draft = Draft::read(&text, None).expect("an event");
        let (entry, line) = draft.into_entry(seq, &now, &head);
        head = entry.hash;
        bytes.extend_from_slice(format!("{line}\n").as_bytes());
    }
    let inputs = Inputs::from(Parts {
        root: std::path::PathBuf::new(),
        stated: parse(job).expect("a job"),
        journal: Journal::read(&bytes),
        signers: None,
        signed_files: Vec::new(),
        pool: None,
        tallies: vec![import::read(tally.as_bytes(), &Options::default()).expect("a tally")],
        tally_files: std::collections::BTreeMap::new(),
        lists: vec![Vec::new()],
        sources: Vec::new(),
        readings: Vec::new(),
    });
    of_inputs(&inputs).running.swap_remove(0)
}

/// Lyons, Carter and Lapeyrouse, Formulas and Calculations for Drilling, Production and Workover, 3rd ed.
/// 2012, p. 24: buoyancy factor (65.5 - mud weight) / 65.5, mud weight in lb/gal; of 8.55 lb/gal 0.8695.
/// 1 lb/gal is 119.826427 kg/m3 (NIST SP 811: 0.45359237 kg over 231 cubic inches).
#[test]
fn a_string_that_is_all_below_the_surface_weighs_what_the_buoyancy_factor_says() {
    let steel = 65.5 * 119.826_427;
    let water = 8.55 * 119.826_427;
    // 25 lb/ft: 37.204 kg/m.
    let pipe = format!(
        "od = \"10 in\"\nwall = \"0.25 in\"\ndensity = {steel:.3}\nmass_per_metre = 37.2041\nmakeup_loss = 0\nconnector_mass = 0"
    );
    let site = format!("water_level = 25\nwater_density = {water:.3}");
    let running = with_run(
        &job(&site, &pipe, ""),
        "joint,kind,length (m),makeup_loss\n1,shoe,12.192,0\n2,running,12.192,0\n3,top,12.192,0\n",
        &["1", "2", "3"],
    );
    let load = running.hook_load.expect("a load");
    // Three joints of 40 ft at 25 lb/ft: 3000 lb in air.
    let air_lb = load.below_surface / 0.453_592_37;
    assert!((air_lb - 3000.0).abs() < 0.1, "{air_lb}");
    assert!(load.in_air.abs() < 1e-9);
    assert!(
        (load.total() / load.below_surface - 0.8695).abs() < 5e-5,
        "{load:?}"
    );
}

/// By hand: 30 in x 1 in pipe weighs 461.41 kg/m (0.0246615 (D - t) t, API 5L). Four joints of 48.450 m hang
/// with their top at the spider at 20.600 m: 19.400 m in air, 29.050 m in water of 1025 kg/m3 whose surface is
/// at 1.200 m; two of three connections of 300 kg are under water. The shoulder has picked up a frame of 45 t,
/// and the block is 28 t.
#[test]
fn the_load_is_the_sum_that_is_worked_out_by_hand() {
    let pipe = "od = \"30 in\"\nwall = \"1 in\"\nmakeup_loss = \"0.1 m\"\nconnector_mass = 300";
    let site = "water_level = 1.2\nwater_density = 1025";
    let rest = "[frame]\nslot = \"A\"\nring_above_base = 8\nweight = \"45 t\"\n[rig]\nblock_mass = \"28 t\"";
    let tally = "joint,kind,length (m),makeup_loss\n1,shoe,12.1,\n2,running,12.2,0.1\n3,joint,12.3,0.1\n4,joint,12.15,0.1\n5,top,12.35,0.1\n";
    let running = with_run(&job(site, pipe, rest), tally, &["1", "2", "3", "4"]);
    let load = running.hook_load.expect("a load");
    let by_hand = 461.41 * 19.4
        + 300.0
        + (461.41 * 29.05 + 600.0) * (1.0 - 1025.0 / 7850.0)
        + 45_000.0
        + 28_000.0;
    assert!(
        (load.total() - by_hand).abs() < 1.0,
        "{} {by_hand}",
        load.total()
    );
    assert_eq!(
        load.leaves_out.len(),
        2,
        "fluid inside, drag: {:?}",
        load.leaves_out
    );
    assert_eq!(
        (running.joints_run, running.next, running.joints_to_run),
        (4, Some(4), 1)
    );
    assert_eq!(running.hanging.exact_metres(), "48.45");
    assert_eq!(running.to_run.exact_metres(), "12.25");
    // The planned top is at 5.000 m, 15.600 m below the spider; with the last joint run its top is there.
    assert_eq!(
        running
            .stick_up_at_landing
            .map(kerfmark::measure::Length::exact_metres)
            .as_deref(),
        Some("-15.6")
    );
    assert_eq!(
        running
            .still_to_lower
            .map(kerfmark::measure::Length::exact_metres)
            .as_deref(),
        Some("27.85")
    );
    // With the running joint on top nothing hangs from the shoulder yet.
    let running = with_run(&job(site, pipe, rest), tally, &["1", "2"]);
    assert_eq!(running.hook_load.expect("a load").frame, None);
    // What is not known is not a number.
    let dry = with_run(
        &job("water_level = 1.2", pipe, rest),
        tally,
        &["1", "2", "3", "4"],
    );
    assert_eq!(dry.hook_load, None);
}
