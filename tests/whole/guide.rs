//! The guide for contributors names what is there.

use std::fs;
use std::path::Path;

use crate::common::on_screen::sample;
use kerfmark::figures;
use kerfmark::folder::open;
use kerfmark::report::cut_sheet;

#[test]
fn the_walk_of_one_length_has_ten_stops_that_are_there_and_its_figures_hold() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let guide = fs::read_to_string(root.join("DEVELOPERS.md")).expect("the guide");
    let walk = guide
        .split("\n## ")
        .find(|part| part.starts_with("One length"));
    let walk = walk.expect("the walk");
    let mut seen = Vec::new();
    for stop in walk
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
    {
        let named: Vec<&str> = stop.split('`').skip(1).step_by(2).collect();
        let text = fs::read_to_string(root.join(named[0])).expect(named[0]);
        assert!(
            text.contains(&format!("fn {}(", named[1]))
                || text.contains(&format!("fn {}<", named[1])),
            "{stop}"
        );
        assert!(!seen.contains(&named[0]), "visited twice: {stop}");
        seen.push(named[0]);
    }
    assert_eq!(seen.len(), 10);
    let inputs = open(&sample("four-slots")).expect("a sample that opens");
    let figures = figures::of_inputs(&inputs);
    let chain = &figures.slots[0].chain;
    let piece = chain.string.pieces.get(10).expect("eleven joints");
    let joint = &inputs.tallies[0].joints[10];
    assert_eq!((joint.number.as_str(), joint.line), ("A-11", 12));
    for (figure, said) in [
        (joint.overall().expect("a length").exact_metres(), "12.35"),
        (piece.effective.exact_metres(), "12.198"),
        (piece.lower.exact_metres(), "110.402"),
        (piece.upper().exact_metres(), "122.6"),
    ] {
        assert_eq!(figure, said);
        assert!(walk.contains(said), "{said}");
    }
    let heights = [chain.top, chain.shoe, chain.lower_plane(10)];
    for (height, said) in heights.into_iter().zip(["21.98", "-100.62", "9.782"]) {
        assert_eq!(height.expect("an elevation").height().exact_metres(), said);
        assert!(walk.contains(said), "{said}");
    }
    let sheet = cut_sheet(&inputs, &figures).concat();
    let line = "A-11, serial A4179, 4.4695 m above the lower make-up plane";
    assert!(walk.contains("4.4695 m") && sheet.contains(line), "{sheet}");
}
