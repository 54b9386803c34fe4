//! The chain, the cut and the verdicts on small invented jobs, and laws that hold on random ones.

use std::fmt::Write as _;

use approx::assert_relative_eq;
use proptest::prelude::*;

use crate::laws::laws;
use statrs::distribution::{ContinuousCDF, Normal};

mod tops;

use super::*;
use crate::finding::{Code, CutFinding};
use crate::job::{Job, parse};
use crate::measure::{Elevation, Length, RationalLength, Unit};
use crate::tally::{Options, Piece, Tally, read};

/// Twelve joints of 12 m with a loss of 150 mm: 12 + 11 x 11.85 = 142.35 m.
const TWELVE: &str = "joint,kind,length,makeup_loss\n\
    1,shoe,12.000,0\n2,,12.000,0.150\n3,,12.000,0.150\n4,,12.000,0.150\n5,,12.000,0.150\n6,,12.000,0.150\n\
    7,,12.000,0.150\n8,running,12.000,0.150\n9,,12.000,0.150\n10,,12.000,0.150\n11,,12.000,0.150\n12,,12.000,0.150\n";

const HULLS: &str =
    "[[hull]]\nname = \"low\"\nrotary = 32.4\n[[hull]]\nname = \"high\"\nrotary = 39.1\n";

const SURE: &str = "[uncertainty]\nstrap = \"1.5 mm\"\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\nas_cut = \"1 mm\"\nrim = \"0.5 mm\"\nbenchmark = \"2 mm\"\nconnection = \"0.5 mm\"\ntape_scale = 50\nmudline = \"30 mm\"\n";

fn tally(text: &str) -> Tally {
    let options = Options {
        job_units: Some(Unit::Metre),
        ..Options::default()
    };
    read(text.as_bytes(), &options).expect("an invented tally that reads")
}

/// A job of one slot: `slot` holds its keys, `rest` whole tables.
fn job(hulls: &str, pipe: &str, slot: &str, rest: &str) -> Job {
    let text = format!(
        "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -41.35\n{hulls}\
         [pipe.main]\nod = \"30 in\"\nwall = \"1.5 in\"\n{pipe}\n\
         [[slot]]\nname = \"A\"\npipe = \"main\"\ntally = \"a.csv\"\n{slot}\n{rest}\n[deck]\nelevation = 14.25\n"
    );
    parse(&text).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn one(job: &Job, text: &str) -> SlotFigures {
    let figures = compute(job, &[tally(text)]);
    figures.slots.into_iter().next().expect("one slot")
}

/// The elevation of exactly so many millimetres.
fn at_mm(height: i64) -> Elevation {
    Elevation::above_datum(Length::from_mm(height))
}

fn has(flags: &[crate::finding::Flag], code: Code) -> bool {
    flags.iter().any(|flag| flag.code == code)
}

#[test]
fn raising_the_hull_leaves_every_elevation_and_lengthens_the_mark_from_the_rotary() {
    let slot =
        "running_joint = \"8\"\nshoulder_offset = 1.25\nstick_up = 1.12\nstick_up_hull = \"low\"";
    let before = one(&job(HULLS, "", slot, "[cut]\nhull = \"low\""), TWELVE);
    let after = one(&job(HULLS, "", slot, "[cut]\nhull = \"high\""), TWELVE);
    assert_eq!(before.chain.top, Some(at_mm(33_520)));
    assert_eq!(before.chain.shoe, Some(at_mm(33_520 - 142_350)));
    assert_eq!(
        (before.chain.top, before.chain.shoe, before.chain.shoulder),
        (after.chain.top, after.chain.shoe, after.chain.shoulder)
    );
    assert_eq!(before.cut.target, after.cut.target);
    let longer = after.cut.below_rotary.downward() - before.cut.below_rotary.downward();
    assert_eq!(longer, Length::from_mm(6_700));
    let marks = |figures: &SlotFigures| {
        figures
            .cut
            .place
            .as_ref()
            .map(|place| place.marks.clone())
            .unwrap_or_default()
    };
    let (before, after) = (marks(&before), marks(&after));
    assert_eq!(
        after[0].distance.value - before[0].distance.value,
        Length::from_mm(6_700)
    );
    for (low, high) in before.iter().zip(&after).skip(1) {
        assert_eq!(
            low.distance.value, high.distance.value,
            "only the mark from the rotary moves"
        );
    }
}

#[test]
fn a_cut_exactly_on_a_make_up_plane_lies_in_the_upper_joint() {
    // The plane between 11 and 12 lies 11.85 m below the top: put it at the deck.
    let figures = one(
        &job(HULLS, "", "plan_top = 26.10", "[cut]\nclearance = 0.4"),
        TWELVE,
    );
    let place = figures.cut.place.expect("a cut on the string");
    assert_eq!((place.piece, place.above_lower_plane), (11, Length::ZERO));
    assert!(has(&figures.flags, Code::CutNearConnection));
    assert!(
        place
            .marks
            .iter()
            .all(|mark| mark.from != MarkFrom::UpperPlane),
        "the upper plane is the top"
    );
}

#[test]
fn a_string_that_is_too_short_has_no_cut_and_no_marks() {
    let figures = one(
        &job(HULLS, "", "plan_top = 14.0", "[cut]\nrough_above = 0.2"),
        TWELVE,
    );
    assert!(figures.cut.place.is_none() && figures.cut.rough.is_none());
    let flag = figures
        .flags
        .iter()
        .find(|flag| flag.code == Code::TooShort)
        .expect("too-short");
    let (top, target) = (at_mm(14_000), at_mm(14_250));
    let finding = CutFinding::TooShort { top, target };
    assert_eq!(flag.finding, finding.into(), "the shortfall is stated");
}

#[test]
fn a_cut_exactly_at_the_top_leaves_no_offcut() {
    let figures = one(
        &job(
            HULLS,
            "connector_mass = 310",
            "plan_top = 14.25",
            "[cut]\nkerf = \"6 mm\"",
        ),
        TWELVE,
    );
    let place = figures.cut.place.expect("a cut at the top");
    assert_eq!(
        (place.piece, place.offcut_length, place.offcut_connections),
        (11, Length::ZERO, 0)
    );
    assert!(place.offcut_mass.abs() < 1e-12);
}

#[test]
fn a_running_joint_that_is_not_in_the_tally_stops_the_job() {
    let slot = "running_joint = \"99\"\nshoulder_offset = 1.25\nstick_up = 1.12";
    let figures = one(&job(HULLS, "", slot, ""), TWELVE);
    assert!(figures.chain.shoulder.is_none() && has(&figures.flags, Code::NoRunningJoint));
    assert_eq!(
        figures.chain.top,
        Some(at_mm(33_520)),
        "the rest of the chain stands"
    );
}

#[test]
fn a_string_of_the_shoe_joint_alone_counts_from_its_lower_end() {
    let figures = one(
        &job(HULLS, "", "plan_top = 20.0", SURE),
        "joint,kind,length\n1,shoe,12.000\n",
    );
    let place = figures.cut.place.expect("a cut in the shoe joint");
    assert_eq!(place.above_lower_plane, Length::from_mm(6_250));
    assert!(has(&figures.flags, Code::CutInShoeJoint));
    assert!(
        !has(&figures.flags, Code::LossMissing),
        "nothing is made up on its pin"
    );
}

#[test]
fn pins_up_take_the_loss_at_the_other_end() {
    let text = TWELVE.replace("12,,12.000,0.150", "12,,12.000,0.120");
    let down = one(&job(HULLS, "", "plan_top = 20.0", ""), &text);
    let up = one(&job(HULLS, "pin = \"up\"", "plan_top = 20.0", ""), &text);
    assert_eq!(
        down.chain.string.length,
        Length::from_mm(144_000 - 10 * 150 - 120)
    );
    assert_eq!(
        up.chain.string.length,
        Length::from_mm(144_000 - 10 * 150),
        "the shoe's loss is written as 0"
    );
    assert!(has(&up.flags, Code::LossOnOpenEnd) && !has(&down.flags, Code::LossOnOpenEnd));
}

#[test]
fn a_landing_string_lowers_the_top_and_is_no_part_of_the_string() {
    let text = format!("{TWELVE}L1,landing,9.000,0.150\n");
    let plain = one(&job(HULLS, "", "stick_up = 1.12", ""), TWELVE);
    let landed = one(&job(HULLS, "", "stick_up = 9.97", ""), &text);
    assert_eq!(landed.chain.string.landing_length, Length::from_mm(8_850));
    assert_eq!(
        (landed.chain.string.length, landed.chain.top),
        (plain.chain.string.length, plain.chain.top)
    );
}

#[test]
fn a_slot_that_is_not_run_yet_says_planned_and_gives_the_stick_up_to_land_at() {
    let hulls = "[[hull]]\nname = \"low\"\nrotary = 32.4\nstick_up_from = \"0.62 m\"\n";
    let slot = "running_joint = \"8\"\nshoulder_offset = 1.25\nplan_shoulder = -27.1";
    let figures = one(&job(hulls, "", slot, ""), TWELVE);
    assert_eq!(figures.chain.basis, Basis::Planned);
    // Above the shoulder: joints 8 to 12 less the offset, 5 x 11.85 - 1.25 = 58 m.
    assert_eq!(figures.chain.top, Some(at_mm(30_900)));
    assert_eq!(
        figures.chain.stick_up,
        Some(Length::from_mm(30_900 - 33_020))
    );
    // That it would be below RT is news once it is read.
    assert!(!has(&figures.flags, Code::TopBelowRotary));
}

#[test]
fn without_a_stick_up_or_a_plan_there_are_no_elevations() {
    let figures = one(&job(HULLS, "", "", "[cut]\nrough_above = 0.2"), TWELVE);
    assert_eq!(
        (figures.chain.basis, figures.chain.top, figures.chain.shoe),
        (Basis::None, None, None)
    );
    assert!(figures.cut.place.is_none() && figures.cut.rough.is_some());
    assert!(has(&figures.flags, Code::NoStickUp));
}

#[test]
fn an_uncertainty_that_nobody_stated_proves_nothing() {
    let slot = "stick_up = 1.12\nas_cut = [14.250, 14.250, 14.250, 14.250]";
    let limits = "[cut]\ntolerance = \"10 mm\"\nlevel = \"3 mm\"";
    let unstated = compute(&job(HULLS, "", slot, limits), &[tally(TWELVE)]);
    let cut = unstated.slots[0].cut.as_cut.as_ref().expect("readings");
    assert_eq!(
        (cut.verdict, cut.probability),
        (Some(Verdict::Unproven), None)
    );
    assert!(
        has(&unstated.flags, Code::UncertaintyMissing)
            && has(&unstated.slots[0].flags, Code::CutUnproven)
    );
    let stated = compute(
        &job(HULLS, "", slot, &format!("{limits}\n{SURE}")),
        &[tally(TWELVE)],
    );
    assert_eq!(
        stated.slots[0]
            .cut
            .as_cut
            .as_ref()
            .and_then(|cut| cut.verdict),
        Some(Verdict::Within)
    );
    assert!(!has(&stated.flags, Code::UncertaintyMissing));
}

#[test]
fn the_catalogue_has_every_figure_once() {
    let slot = "running_joint = \"8\"\nshoulder_offset = 1.25\nstick_up = 1.12\nas_cut = [14.25]";
    let rest = "[[accessory]]\nname = \"guide\"\nelevation = 2.0\n[[bench]]\nname = \"b\"\nelevation = 17.0";
    let job = job(HULLS, "", slot, rest);
    let tallies = [tally(TWELVE)];
    let figures = compute(&job, &tallies);
    let view = SlotView::all(&job, &tallies).next().expect("a slot");
    let entries = catalogue::of_slot(view, &figures.slots[0], figures.standings[0].status);
    for (at, entry) in entries.iter().enumerate() {
        for other in entries.iter().skip(at + 1) {
            assert_ne!(entry.id, other.id);
            assert!(
                entry.key.is_none() || entry.key != other.key,
                "{:?}",
                entry.key
            );
        }
    }
    // Whatever can be opened is in it.
    let opened = |subject| entries.iter().any(|entry| entry.subject == Some(subject));
    for subject in catalogue::subjects(&figures, 0) {
        assert!(opened(subject), "{subject:?}");
    }
}

#[test]
fn verdicts_follow_iso_14253_1_with_the_limits_in() {
    let mm = |mm: i64| RationalLength::from(Length::from_mm(mm));
    let one_mm = Some(Variance::of(Length::from_mm(1)));
    assert_eq!(
        judge(mm(8), mm(10), one_mm),
        Verdict::Within,
        "8 + 2 = 10 is on the limit"
    );
    assert_eq!(judge(mm(-8), mm(10), one_mm), Verdict::Within);
    assert_eq!(judge(mm(9), mm(10), one_mm), Verdict::Unproven);
    assert_eq!(
        judge(mm(12), mm(10), one_mm),
        Verdict::Unproven,
        "12 - 2 = 10 is not beyond"
    );
    assert_eq!(judge(mm(13), mm(10), one_mm), Verdict::Outside);
    assert_eq!(judge(mm(10), mm(10), None), Verdict::Unproven);
    assert_eq!(judge(mm(11), mm(10), None), Verdict::Unproven);
    assert_eq!(judge(mm(10), mm(10), Some(Variance::ZERO)), Verdict::Within);
}

#[test]
fn probabilities_agree_with_jcgm_106_and_with_printed_two_sided_cases() {
    // JCGM 106:2012, two-sided example (motor oil): 13.6 in 12.5 to 16.3, u 1.8. Inputs and the
    // printed 0.66 are from memory; the fourth decimal was computed with a reference library.
    let middle = f64::midpoint(12.5, 16.3);
    assert_relative_eq!(
        probability_within(13.6 - middle, 1.9, 1.8),
        0.662_630,
        epsilon = 1e-6
    );
    // Total outside 9 to 11 for N(10, 0.4), N(10.5, 0.4) and N(12, 0.4), as printed in the tests of
    // the metrology package suncal (test_risk).
    for (mean, outside) in [(10.0, 0.012_42), (10.5, 0.105_74), (12.0, 0.993_79)] {
        assert_relative_eq!(
            1.0 - probability_within(mean - 10.0, 1.0, 0.4),
            outside,
            epsilon = 6e-6
        );
    }
    // JCGM 106 table 1 (from memory): z for a one-sided probability of 0.95 and 0.99. With the other
    // limit far away the two-sided probability is the same.
    for (z, probability) in [(1.644_854, 0.95), (2.326_348, 0.99)] {
        assert_relative_eq!(
            probability_within(100.0 - z, 100.0, 1.0),
            probability,
            epsilon = 1e-6
        );
    }
}

#[test]
fn plain_end_mass_agrees_with_the_formula_of_api_5l_and_asme_b36_10m() {
    // 0.0246615 (D - t) t kg/m, the constant from memory; it is pi x 7850 / 10^6.
    for (od, wall, table) in [
        (762, 12_700, 234.68),
        (508, 12_700, 155.13),
        (914, 19_050, 420.45),
    ] {
        let (od, wall) = (Length::from_mm(od), Length::from_nm(wall * 1_000));
        let mass = steel::plain_end_mass_per_metre(od, wall, 7850.0);
        // Tabulated rows of ASME B36.10M, from memory, to 0.01 kg/m.
        assert_relative_eq!(mass, table, epsilon = 0.006);
        let by_formula = 0.024_661_5 * (od - wall).real_metres() * wall.real_metres() * 1e6;
        assert_relative_eq!(mass, by_formula, max_relative = 1e-7);
    }
}

proptest! {
    #![proptest_config(laws())]

    #[test]
    fn probability_is_that_of_an_independent_normal_distribution(
        deviation in -30.0_f64..30.0, tolerance in 0.0_f64..20.0, standard in 0.01_f64..10.0
    ) {
        let normal = Normal::new(deviation, standard).expect("a normal distribution");
        let reference = normal.cdf(tolerance) - normal.cdf(-tolerance);
        prop_assert!((probability_within(deviation, tolerance, standard) - reference).abs() < 1e-9);
    }

    #[test]
    fn the_chain_closes_to_the_nanometre(
        joints in prop::collection::vec((500_000_000_i64..14_000_000_000, 0_i64..200_000_000), 1..40),
        stick_up in -5_000_i64..20_000,
        up in any::<bool>(),
    ) {
        let mut text = String::from("joint,length (m),makeup_loss (m)\n");
        for (index, (length, loss)) in joints.iter().enumerate() {
            let (length, loss) = (Length::from_nm(*length).exact_metres(), Length::from_nm(*loss).exact_metres());
            let _ = writeln!(text, "{},{length},{loss}", index + 1);
        }
        let pin = if up { "pin = \"up\"" } else { "" };
        let slot = format!("stick_up = \"{stick_up} mm\"");
        let figures = one(&job(HULLS, pin, &slot, ""), &text);
        let (top, shoe) = (figures.chain.top.expect("read"), figures.chain.shoe.expect("read"));
        prop_assert_eq!(top - shoe, figures.chain.string.length);
        let sum: Length = figures.chain.string.pieces.iter().map(|piece| piece.effective).sum();
        prop_assert_eq!(sum, figures.chain.string.length);
        let pieces: Vec<Piece> = figures.chain.string.pieces.iter().collect();
        for pair in pieces.windows(2) {
            prop_assert_eq!(pair[0].upper(), pair[1].lower);
        }
        if let Some(place) = &figures.cut.place {
            let piece = pieces[place.piece];
            prop_assert_eq!(place.above_lower_plane + place.below_upper_plane, piece.effective);
            let by_mark = |from| place.marks.iter().find(|mark| mark.from == from).map(|mark| mark.distance.value);
            prop_assert_eq!(by_mark(MarkFrom::Top), Some(top - figures.cut.target));
            prop_assert_eq!(by_mark(MarkFrom::LowerPlane).map(|up| shoe + piece.lower + up), Some(figures.cut.target));
        }
    }
}
