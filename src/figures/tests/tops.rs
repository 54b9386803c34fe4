//! Finished tops: their height, their level, and both together.

use super::{HULLS, TWELVE, compute, has, job, one, tally};
use crate::figures::{AsCut, CutStatus, Verdict};
use crate::finding::{Code, Flag};

/// What is found of a cut conductor with these readings; level 3 mm, tolerance 10 mm, deck at 14.250 m.
fn cut_with(as_cut: &str, uncertainty: &str) -> (AsCut, Vec<Flag>) {
    cut_within("3 mm", as_cut, uncertainty)
}

/// The same with another limit of level.
fn cut_within(level: &str, as_cut: &str, uncertainty: &str) -> (AsCut, Vec<Flag>) {
    let slot = format!("stick_up = 1.12\nas_cut = {as_cut}");
    let limits =
        format!("[cut]\ntolerance = \"10 mm\"\nlevel = \"{level}\"\n[uncertainty]\n{uncertainty}");
    let figures = one(&job(HULLS, "", &slot, &limits), TWELVE);
    let flags = figures.flags;
    (figures.cut.as_cut.expect("readings"), flags)
}

/// U of the mean 2 mm, of the range of four readings 0.7366 mm.
const CLOSE: &str = "as_cut = \"0.6 mm\"\nrim = \"0.2 mm\"\nbenchmark = \"0.8 mm\"";

#[test]
fn a_finished_top_is_judged_by_its_height_and_its_level() {
    use Verdict::{Outside, Unproven, Within};
    for (readings, height, level, whole, code) in [
        // +8 mm with U 2 mm is on the limit.
        (
            "[14.2575, 14.2585, 14.2580, 14.2580]",
            Within,
            Within,
            Within,
            None,
        ),
        (
            "[14.2595, 14.2600, 14.2595, 14.2600]",
            Unproven,
            Within,
            Unproven,
            Some(Code::CutUnproven),
        ),
        // The mean is right and its top lies askew by 60 mm.
        (
            "[14.280, 14.220, 14.250, 14.250]",
            Within,
            Outside,
            Outside,
            Some(Code::OutOfLevel),
        ),
        // Beyond the limit of 3 mm, and not by more than its U of 0.74 mm.
        (
            "[14.2500, 14.2535, 14.2510, 14.2520]",
            Within,
            Unproven,
            Unproven,
            Some(Code::OutOfLevel),
        ),
        (
            "[14.2500, 14.2525, 14.2510, 14.2520]",
            Within,
            Unproven,
            Unproven,
            Some(Code::LevelUnproven),
        ),
        (
            "[14.2630, 14.2630, 14.2631, 14.2630]",
            Outside,
            Within,
            Outside,
            Some(Code::CutOutside),
        ),
        // Three readings never prove that a top is level.
        (
            "[14.2500, 14.2501, 14.2500]",
            Within,
            Unproven,
            Unproven,
            Some(Code::RimReadingsFew),
        ),
    ] {
        let (as_cut, flags) = cut_with(readings, CLOSE);
        assert_eq!(
            (as_cut.height, as_cut.level, as_cut.verdict),
            (Some(height), Some(level), Some(whole)),
            "{readings}"
        );
        let judged = [
            Code::CutOutside,
            Code::CutUnproven,
            Code::OutOfLevel,
            Code::LevelUnproven,
            Code::RimReadingsFew,
        ];
        match code {
            Some(code) => assert!(has(&flags, code), "{readings}: {flags:?}"),
            None => assert!(!judged.iter().any(|code| has(&flags, *code)), "{flags:?}"),
        }
    }
}

#[test]
fn one_reading_beyond_the_tolerance_is_never_within() {
    // The mean is at +7.9 mm; the highest reading, at +10.05 mm, is beyond, and not by more than U.
    let readings = "[14.26005, 14.25718, 14.25718, 14.25718]";
    let (as_cut, flags) = cut_with(readings, CLOSE);
    assert_eq!(as_cut.height, Some(Verdict::Within));
    assert_eq!(as_cut.verdict, Some(Verdict::Unproven));
    assert!(has(&flags, Code::CutOutside) && !has(&flags, Code::CutUnproven));
    // By more than U it is outside, though the mean and the level are within.
    let readings = "[14.2625, 14.2560, 14.2560, 14.2560]";
    let (as_cut, _) = cut_within("9 mm", readings, CLOSE);
    let within = Some(Verdict::Within);
    assert_eq!((as_cut.height, as_cut.level), (within, within));
    assert_eq!(as_cut.verdict, Some(Verdict::Outside));
}

#[test]
fn leaving_an_uncertainty_out_proves_nothing_in_either_direction() {
    let without = "as_cut = \"0.6 mm\"\nrim = \"0.2 mm\"";
    for readings in [
        "[14.250, 14.250, 14.250, 14.250]",
        "[14.350, 14.350, 14.350, 14.350]",
    ] {
        let (as_cut, _) = cut_with(readings, without);
        assert_eq!(as_cut.height, Some(Verdict::Unproven), "{readings}");
        assert_eq!(
            (as_cut.verdict, as_cut.probability),
            (Some(Verdict::Unproven), None)
        );
    }
    let (_, flags) = cut_with("[14.350, 14.350, 14.350, 14.350]", without);
    assert!(
        has(&flags, Code::CutOutside),
        "it lies beyond, proven or not"
    );
}

#[test]
fn what_is_made_up_no_time_needs_no_uncertainty() {
    // A single joint has no connection: that of a make-up, not stated, is not needed.
    let text = "joint,length,makeup_loss\n1,28.000,\n";
    let stated = "[uncertainty]\nstrap = \"1.5 mm\"\ntape_scale = 50\nstick_up = \"2 mm\"\nrotary = \"3 mm\"";
    let job = job(HULLS, "", "stick_up = 1.12", stated);
    let figures = compute(&job, &[tally(text)]);
    let place = figures.slots[0]
        .cut
        .place
        .as_ref()
        .expect("a cut on the string");
    assert!(
        place
            .marks
            .iter()
            .all(|mark| mark.distance.variance().is_some())
    );
    assert!(!has(&figures.flags, Code::UncertaintyMissing));
}

#[test]
fn an_rt_that_disagrees_concerns_slots_that_are_read_at_or_cut_from_it() {
    let hulls = "[[hull]]\nname = \"low\"\nrotary = 32.4\nstick_up_from = 0\nair_gap = 10\nwater_at_reading = 0\n\
                 rotary_above_hull = 10\n[[hull]]\nname = \"high\"\nrotary = 39.1\nstick_up_from = 0\n";
    for (slot, status) in [
        ("stick_up = 1.12", CutStatus::Stop),
        ("plan_top = 33.5", CutStatus::Planned),
        ("", CutStatus::Planned),
    ] {
        let figures = compute(&job(hulls, "", slot, ""), &[tally(TWELVE)]);
        assert!(has(&figures.flags, Code::RotaryDisagrees));
        assert_eq!(figures.standings[0].status, status, "{slot}");
    }
}
