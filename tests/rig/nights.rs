//! Nights without a mistake, simulated with the uncertainties that the job states: how often each check is
//! raised all the same, and how often a mistake of 20 mm is seen. `NIGHTS=10000 cargo test --release --test rig
//! nights -- --nocapture` simulates more.
//!
//! The limits of `top-moved` and `scribe-disagrees` are two standard uncertainties of what they compare: of
//! errors that are normally distributed 4.55 % lie beyond (tables of the normal distribution). A job sets
//! `agree.marks` to 2.6 of them for fewer alarms on its scribed lines.

use std::collections::BTreeMap;

use kerfmark::figures::of_inputs;
use kerfmark::job::parse;
use kerfmark::journal::{Draft, Inputs, Journal, Moment, NO_HASH, Parts};
use kerfmark::tally::{Options, import};

use super::place::{JOB, TALLY};

/// Nights in an ordinary run.
const NIGHTS: usize = 400;

/// Normal errors from a fixed seed: xorshift and the method of Box and Muller, from memory.
struct Errors(u64);

impl Errors {
    fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let bits = u32::try_from(self.0 >> 32).expect("32 bits");
        (f64::from(bits) + 0.5) / 4_294_967_296.0
    }

    /// An error in millimetres of this standard uncertainty.
    fn mm(&mut self, sigma: f64) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        sigma * radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// What is planted in a night, in millimetres.
#[derive(Clone, Copy, Default)]
struct Planted {
    after: f64,
    stick_up: f64,
    rotary: f64,
    scribe: f64,
}

fn inputs(journal: Journal) -> Inputs {
    let job = JOB.replace("plan_top = 22", "stick_up = 1.4");
    let tally = import::read(TALLY.as_bytes(), &Options::default()).expect("a tally");
    Inputs::from(Parts {
        root: std::path::PathBuf::new(),
        stated: parse(&job).expect("a job"),
        journal,
        signers: None,
        signed_files: Vec::new(),
        pool: None,
        tallies: vec![tally],
        tally_files: std::collections::BTreeMap::new(),
        lists: vec![Vec::new()],
        sources: Vec::new(),
        readings: Vec::new(),
    })
}

/// The codes that a night raises. What is read is what is true with an error of its instrument.
fn night(errors: &mut Errors, planted: Planted) -> Vec<&'static str> {
    let mut events: Vec<String> = Vec::new();
    let mut add = |rest: String| events.push(rest);
    // Effective lengths as the tally has them; the pipe itself differs by the strap's and the make-up's errors.
    let effective = [12_100.0, 12_100.0, 12_200.0, 12_050.0, 12_150.0, 12_250.0];
    for (at, length) in effective.iter().enumerate() {
        let number = at + 1;
        let stick_ups = if at == 0 {
            String::new()
        } else {
            let adds = length + errors.mm(1.0) + errors.mm(0.5);
            let before = 800.0 + errors.mm(2.0);
            let mistake = if at == 3 { planted.after } else { 0.0 };
            let after = 800.0 + adds + errors.mm(2.0) + mistake;
            format!(",\"before\":\"{before:.1} mm\",\"after\":\"{after:.1} mm\"")
        };
        add(format!(
            "\"event\":\"joint-run\",\"slot\":\"A\",\"joint\":\"A-{number}\"{stick_ups}"
        ));
    }
    let mut stick_up = |errors: &mut Errors, state: &str, mistake: f64| {
        let value = 1_400.0 + errors.mm(2.0) + mistake;
        add(format!(
            "\"event\":\"stick-up\",\"slot\":\"A\",\"hull\":\"low\",\"value\":\"{value:.1} mm\",\"state\":\"{state}\""
        ));
    };
    stick_up(errors, "landed", 0.0);
    stick_up(errors, "cemented", planted.stick_up);
    let rotary_error = errors.mm(3.0) + planted.rotary;
    let rotary = 26_000.0 + rotary_error;
    add(format!(
        "\"event\":\"hull-position\",\"hull\":\"high\",\"rotary\":\"{rotary:.1} mm\",\"how\":\"level\""
    ));
    // The line is set out from the plate, the better mark, and measured again from RT.
    let plate = 1_000.0;
    let line = 15_000.0 + errors.mm(1.0) - plate + errors.mm(2.0);
    let from_rotary = 26_000.0 - line + errors.mm(2.0) + planted.scribe;
    add(format!(
        "\"event\":\"scribe\",\"slot\":\"A\",\"checked_by\":\"RS\",\"marks\":[{{\"from\":\"bench plate\",\"distance\":\"{plate:.1} mm\",\"by\":\"NK\"}},{{\"from\":\"rotary\",\"distance\":\"{from_rotary:.1} mm\",\"by\":\"TM\"}}]"
    ));
    let now = Moment::at(1_772_330_700, 0).expect("a moment");
    let mut bytes = Vec::new();
    let mut head = NO_HASH.to_owned();
    for (seq, rest) in (1_u64..).zip(&events) {
        let draft = Draft::read(&format!("{{{rest}}}"), Some("NK")).expect("an event");
        let (entry, line) = draft.into_entry(seq, &now, &head);
        head = entry.hash;
        bytes.extend_from_slice(line.as_bytes());
        bytes.push(b'\n');
    }
    let figures = of_inputs(&inputs(Journal::read(&bytes)));
    let flags = figures.slots[0].flags.iter().chain(&figures.flags);
    let mut codes: Vec<&str> = flags.map(|flag| flag.code.name()).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

fn share(nights: usize, planted: Planted) -> BTreeMap<&'static str, f64> {
    let mut errors = Errors(0x6B65_7266);
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for _ in 0..nights {
        for code in night(&mut errors, planted) {
            *counts.entry(code).or_default() += 1;
        }
    }
    let all = f64::from(u32::try_from(nights).expect("few"));
    counts
        .into_iter()
        .map(|(code, count)| (code, f64::from(count) / all))
        .collect()
}

#[test]
fn checks_are_raised_as_often_as_their_limits_say_and_mistakes_are_seen() {
    let nights = std::env::var("NIGHTS").ok().and_then(|it| it.parse().ok());
    let nights = nights.unwrap_or(NIGHTS);
    let of = |shares: &BTreeMap<&str, f64>, code: &str| shares.get(code).copied().unwrap_or(0.0);
    let clean = share(nights, Planted::default());
    println!("{nights} nights without a mistake: {clean:?}");
    let known = [
        "journal-disagrees",
        "scribe-disagrees",
        "stick-up-off",
        "top-moved",
    ];
    for code in clean.keys() {
        assert!(known.contains(code), "nothing else is raised: {code}");
    }
    assert!(of(&clean, "stick-up-off") <= 0.01);
    assert!(of(&clean, "journal-disagrees") <= 0.01);
    let all = f64::from(u32::try_from(nights).expect("few"));
    // Four standard deviations of a count.
    let near = |share: f64, expected: f64| {
        (share - expected).abs() <= 4.0 * (expected * (1.0 - expected) / all).sqrt()
    };
    assert!(near(of(&clean, "top-moved"), 0.0455), "{clean:?}");
    for (planted, code, least) in [
        (
            Planted {
                after: 20.0,
                ..Planted::default()
            },
            "stick-up-off",
            0.95,
        ),
        (
            Planted {
                stick_up: 20.0,
                ..Planted::default()
            },
            "top-moved",
            0.99,
        ),
        (
            Planted {
                scribe: 20.0,
                ..Planted::default()
            },
            "scribe-disagrees",
            0.95,
        ),
        (
            Planted {
                rotary: 20.0,
                ..Planted::default()
            },
            "journal-disagrees",
            0.3,
        ),
        (
            Planted {
                rotary: 20.0,
                ..Planted::default()
            },
            "scribe-disagrees",
            0.95,
        ),
    ] {
        let shares = share(nights / 4, planted);
        let seen = of(&shares, code);
        println!(
            "20 mm planted: {code} in {:.1} % of {} nights",
            seen * 100.0,
            nights / 4
        );
        assert!(seen >= least, "{code}: {shares:?}");
    }
}
