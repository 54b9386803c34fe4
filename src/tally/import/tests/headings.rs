//! Headers of two rows.

use super::*;
use crate::tally::SkipReason;

#[test]
fn names_under_a_heading_say_which_length_each_column_holds() {
    let read = tally(
        "Joint,Serial,Length (m),,,Remarks\n,,Effective,Overall,Make-up loss,\n1,S-1,12.0,12.0,0,\n\
         2,S-2,11.848,12.0,0.152,\n",
    );
    assert_eq!(lengths(&read), [mm(12_000), mm(12_000)]);
    assert_eq!(losses(&read), [Some(mm(0)), Some(mm(152))]);
    assert_eq!(string_length(&read), mm(23_848));
    assert_eq!(skipped(&read), []);
    let headings: Vec<&str> = read
        .columns
        .iter()
        .map(|column| column.heading.as_str())
        .collect();
    assert_eq!(
        headings,
        [
            "Joint",
            "Serial",
            "Length (m) Effective",
            "Length (m) Overall",
            "Length (m) Make-up loss",
            "Remarks"
        ]
    );
}

#[test]
fn a_heading_of_lengths_in_the_plural_leaves_the_naming_to_the_row_under_it() {
    let read = tally("Jt No,Lengths,\n,OAL (ft),MUL (in)\n1,40.00,\n2,40.00,6\n");
    assert_eq!(read.unit, Unit::Foot);
    assert_eq!(losses(&read), [None, Some(Length::from_nm(6 * 25_400_000))]);
}

#[test]
fn losses_take_no_unit_from_the_heading_over_them() {
    let refused = refusal("Joint,Length (m),\n,Overall,MUL\n1,12.0,5.5\n2,12.1,5.5\n3,12.2,5.5\n");
    assert!(
        refused.contains("make-up losses such as `5.5`"),
        "{refused}"
    );
}

#[test]
fn a_first_joint_is_no_second_row_of_the_header() {
    let refused = refusal("joint,kind,length (m)\nTop,running,\nA-2,joint,12.0\n");
    assert!(refused.contains("joint Top has no length"), "{refused}");
    let read = tally("joint,length (m),remarks\n,(pin to box),\nA-1,12.1,\nA-2,12.0,\n");
    assert_eq!(skipped(&read), [(2, SkipReason::Note)]);
}
