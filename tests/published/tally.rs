//! Units and tally practice against printed numbers. The source stands beside each; `from memory` is
//! said of those that were recalled and not seen in a source.

use std::fmt::Write as _;

use kerfmark::measure::{Length, LengthFormat, ParseOptions, Unit, read_length};
use kerfmark::tally::{Options, Pins, PipeString, Tally, read};

fn length(text: &str) -> Length {
    read_length(text, &ParseOptions::default())
        .expect(text)
        .length
}

fn tally(text: &str) -> Tally {
    read(text.as_bytes(), &Options::default()).expect("a tally")
}

/// A list of so many joints, all alike, in the words of the rack.
fn list(joints: u32, length: &str, loss: &str) -> String {
    let mut text = "Jt No,OAL (ft),MUL (in)\n".to_owned();
    for joint in 1..=joints {
        let _ = writeln!(text, "{joint},{length},{loss}");
    }
    text
}

fn made_up(list: &str) -> PipeString {
    PipeString::make_up(&tally(list), Pins::default())
}

#[test]
fn the_foot_is_the_international_foot_and_the_inch_its_twelfth() {
    // Federal Register 85 (193), 5 October 2020, document 2020-21902: the foot is 0.3048 m exactly,
    // the US survey foot 1200/3937 m, not to be used after 31 December 2022.
    assert_eq!(length("1 ft").exact_metres(), "0.3048");
    assert_eq!(length("1 in").exact_metres(), "0.0254");
    // The same source: the two feet part by 0.010 56 ft in a mile, which is 1609.347 218 694 m in
    // survey feet, by the ratio above. No reading is ever of that foot.
    let survey_mile = Length::from_nm(1_609_347_218_694);
    let apart = survey_mile - length("5280 ft") - length("0.01056 ft");
    let last_place = length("0.00001 ft");
    assert!(apart.abs().times(2) <= last_place, "{apart:?}");
    assert_eq!(length("5280 ft").exact_metres(), "1609.344");
}

#[test]
fn the_finest_divisions_of_tapes_are_whole_nanometres() {
    // From the definition of the inch as 25.4 mm: 1/64 in = 0.396 875 mm, 0.01 ft = 3.048 mm.
    assert_eq!(length("1/64\"").nm(), 396_875);
    assert_eq!(length("0.01 ft").nm(), 3_048_000);
}

#[test]
fn the_ranges_of_pipe_lie_within_what_a_joint_may_be() {
    // API Spec 5CT, ranges 1 to 3: 16-25, 25-34 and 34-48 ft.
    for text in ["16", "25", "34", "48"] {
        let listed = tally(&format!("Jt No,OAL (ft)\n1,{text}\n2,{text}\n"));
        assert_eq!(listed.joints.len(), 2);
    }
    // 48 ft taken for metres is not.
    assert!(read(b"Jt No,OAL (m)\n1,48\n2,48\n", &Options::default()).is_err());
}

#[test]
fn make_up_loss_adds_up_over_ten_thousand_feet() {
    // Rahman and Chilingarian, Casing Design: Theory and Practice, "Makeup loss": 9 5/8 in, 47 lb/ft,
    // short round thread loses 3.375 in a joint. Over 10 000 ft tallied, computed apart from this
    // program: joints of 40 ft lose 70.3125 ft. The shoe joint's pin is not made up, so one loss stays.
    let string = made_up(&list(250, "40", "3.375"));
    let one_loss = length("3 3/8\"");
    let expected = length("10000 ft") - length("70.3125 ft") + one_loss;
    assert_eq!(string.length, expected);
    // Joints of 25 ft (400 of them) lose 112.5 ft; the rate is one loss a joint whatever the length.
    let shorter = made_up(&list(400, "25", "3.375"));
    assert_eq!(
        length("10000 ft") - shorter.length,
        length("112.5 ft") - one_loss
    );
}

#[test]
fn ten_thousand_feet_made_up_take_one_loss_a_joint_more() {
    // The loss above; computed apart from this program: with joints of 40 ft, 251.7703 joints,
    // 10 070.8104 ft tallied, make up 10 000 ft. The part of a joint is 30.8104 ft long, and loses
    // that part of 3.375 in.
    let whole = list(251, "40", "3.375");
    let one_loss = length("3.375 in");
    let string = made_up(&format!("{whole}252,30.8104,2.5998\n"));
    let places = LengthFormat::new(Unit::Foot);
    assert_eq!(places.number(string.length - one_loss), "10000.000");
    // Whole joints: 251 fall short and 252 pass.
    let feet = |joints| made_up(&list(joints, "40", "3.375")).length - one_loss;
    assert!(feet(251) < length("10000 ft") && length("10000 ft") < feet(252));
}

#[test]
fn a_tally_is_the_sum_from_box_face_to_the_point_where_the_box_face_stops() {
    // ISO 10405 / API RP 5C1, from memory: each length is measured from the outermost face of the box
    // to the point on the pin where the box face stops when made up, to 0.01 ft; the sum is the
    // unloaded length. Here the tape was laid pin nose to box face, and the pin swallowed 0.50 ft: the
    // two ways of measuring give one string, but for the shoe joint, whose nose is the shoe.
    let by_overall =
        tally("Jt No,OAL (ft),MUL (ft)\n1,40.12,0.50\n2,39.87,0.50\n3,40.05,0.50\n4,38.96,0.50\n");
    let by_tally = tally("Jt No,Eff. length (ft)\n1,40.12\n2,39.37\n3,39.55\n4,38.46\n");
    let [one, other] =
        [&by_overall, &by_tally].map(|list| PipeString::make_up(list, Pins::default()));
    assert_eq!(one.length, length("157.50 ft"));
    assert_eq!(other.length, one.length);
    // Each connection stands at the sum of what lies below it.
    let heights: Vec<String> = one
        .pieces
        .iter()
        .map(|piece| LengthFormat::new(Unit::Foot).number(piece.upper()))
        .collect();
    assert_eq!(heights, ["40.120", "79.490", "119.040", "157.500"]);
}

#[test]
fn inches_written_as_tenths_of_a_foot_are_a_mistake_of_known_size() {
    // 39 ft 6 in is 39.5 ft; written 39.6 it is 0.1 ft long. From the definition of the foot.
    assert_eq!(length("39.6 ft") - length("39' 6\""), length("1.2 in"));
    let bare = ParseOptions {
        bare: Some(Unit::FootInch),
        ..ParseOptions::default()
    };
    assert!(
        read_length("39.6", &bare).is_err(),
        "feet and tenths, or feet and inches?"
    );
}
