//! All lists of one string side by side: planted mistakes are named with the list that holds them, in whatever unit
//! it is written, and agreement does not depend on the order of the lists. All lists are invented.

use std::fmt::Write as _;

use kerfmark::measure::{Length, Unit};
use kerfmark::reconcile::Topic;
use kerfmark::reconcile::many::{
    Choice, ListChoice, ListDecision, ListRow, ListsRecord, NamedList, State, StringLists,
    side_by_side,
};
use kerfmark::tally::{Options, Order, Pins, PipeString, Tally, read};
use proptest::prelude::*;

use crate::common::laws::laws;

/// A joint in millimetres.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    number: usize,
    length: i64,
    loss: i64,
}

fn truth(count: usize) -> Vec<Row> {
    let length = |number: usize| 11_750 + i64::try_from(number * 7_919 % 640).expect("small");
    (1..=count)
        .map(|number| Row {
            number,
            length: length(number),
            loss: if number == 1 { 0 } else { 152 },
        })
        .collect()
}

fn tally_of(text: &str, unit: Unit) -> Tally {
    let options = Options {
        units: Some(unit),
        // Edits move the shoe joint: nothing is to be asked.
        order: Some(Order::ShoeFirst),
        ..Options::default()
    };
    read(text.as_bytes(), &options).unwrap_or_else(|problems| panic!("{problems:?}\n{text}"))
}

fn list(rows: &[Row], unit: Unit, figure: impl Fn(i64) -> String) -> Tally {
    let mut text = String::from("joint,serial,length,makeup_loss\n");
    for row in rows {
        let (length, loss) = (figure(row.length), figure(row.loss));
        let _ = writeln!(
            text,
            "K-{:02},S{:03},{length},{loss}",
            row.number, row.number
        );
    }
    tally_of(&text, unit)
}

fn list_in_metres(rows: &[Row]) -> Tally {
    list(rows, Unit::Metre, in_metres)
}

fn in_metres(mm: i64) -> String {
    format!("{}.{:03}", mm / 1000, mm % 1000)
}

/// A list that gives what joints add alone.
fn effective_list(rows: &[Row]) -> Tally {
    let mut text = String::from("joint,serial,Eff. length (m)\n");
    for (at, row) in rows.iter().enumerate() {
        let adds = row.length - if at == 0 { 0 } else { row.loss };
        let _ = writeln!(
            text,
            "K-{:02},S{:03},{}",
            row.number,
            row.number,
            in_metres(adds)
        );
    }
    tally_of(&text, Unit::Metre)
}

/// To the nearest sixteenth of an inch.
fn in_sixteenths(mm: i64) -> String {
    let sixteenths = (mm * 160 + 127) / 254;
    let (feet, rest) = (sixteenths / 192, sixteenths % 192);
    format!("\"{feet}'-{} {}/16\"\"\"", rest / 16, rest % 16)
}

/// To the nearest hundredth of a foot.
fn in_feet(mm: i64) -> String {
    let hundredths = (mm * 1000 + 1524) / 3048;
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

fn beside(lists: &[(&str, &Tally)]) -> StringLists {
    let named: Vec<NamedList<'_>> = lists
        .iter()
        .map(|(name, tally)| NamedList {
            name,
            from: None,
            tally,
        })
        .collect();
    side_by_side(&named, &[], Pins::default())
}

/// Each thing on which the lists do not all agree: the joint, of what, how far, and the lists against it.
fn apart(all: &StringLists, names: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    for row in &all.rows {
        let against = [
            row.length
                .against
                .iter()
                .map(|it| it.list)
                .collect::<Vec<_>>(),
            row.loss.against.iter().map(|it| it.list).collect(),
            row.presence.against.iter().map(|it| it.list).collect(),
            row.place.against.iter().map(|it| it.list).collect(),
        ];
        for ((topic, state), lists) in row.states().into_iter().zip(against) {
            if state != State::Agreed {
                let lists: Vec<&str> = lists.iter().map(|list| names[*list]).collect();
                found.push(format!(
                    "{} {} {} {}",
                    row.joint,
                    topic.name(),
                    state.word(),
                    lists.join("+")
                ));
            }
        }
    }
    found
}

#[test]
fn ten_mistakes_in_three_lists_are_named_with_the_list_that_holds_each() {
    let truth = truth(24);
    let change = |rows: &mut Vec<Row>, number: usize, to: &dyn Fn(&mut Row)| {
        let row = rows.iter_mut().find(|row| row.number == number);
        to(row.expect("a row"));
    };
    let (mut record, mut yard, mut strap) = (truth.clone(), truth.clone(), truth.clone());
    change(&mut record, 3, &|row| row.length += 270);
    change(&mut record, 7, &|row| row.loss = 251);
    record.retain(|row| row.number != 11);
    // A foot too much; another length; a joint left out; two joints in each other's place.
    change(&mut yard, 5, &|row| row.length += 305);
    change(&mut yard, 13, &|row| row.length -= 90);
    yard.retain(|row| row.number != 17);
    let (one, other) = (18, 20);
    yard.swap(one, other);
    change(&mut strap, 9, &|row| row.length += 610);
    change(&mut strap, 15, &|row| row.loss = 91);
    change(&mut strap, 22, &|row| row.length -= 61);
    strap.push(Row {
        number: 99,
        length: 12_001,
        loss: 152,
    });
    let lists = [
        ("record", list(&record, Unit::Metre, in_metres)),
        ("yard", list(&yard, Unit::FootInch, in_sixteenths)),
        ("strap", list(&strap, Unit::Foot, in_feet)),
    ];
    let named: Vec<(&str, &Tally)> = lists.iter().map(|(name, tally)| (*name, tally)).collect();
    let all = beside(&named);
    let mut found = apart(&all, &["record", "yard", "strap"]);
    // Which of two joints that changed places is the one that moved is a matter of reading.
    let places: Vec<String> = found.extract_if(.., |it| it.contains(" place ")).collect();
    assert!(
        !places.is_empty() && places.iter().all(|it| it.ends_with("majority yard")),
        "{places:?}"
    );
    assert_eq!(
        found,
        [
            "K-03 length majority record",
            "K-05 length majority yard",
            "K-07 makeup-loss majority record",
            "K-09 length majority strap",
            "K-11 presence majority record",
            "K-13 length majority yard",
            "K-15 makeup-loss majority strap",
            "K-17 presence majority yard",
            "K-22 length majority strap",
            "K-99 presence majority strap",
        ]
    );
    // What stands is the finest of those that agree.
    let row = all
        .rows
        .iter()
        .find(|row| row.joint == "K-09")
        .expect("a row");
    let length = truth
        .iter()
        .find(|it| it.number == 9)
        .map(|it| Length::from_mm(it.length));
    assert_eq!(
        (row.length.stands, row.length.from.first()),
        (length, Some(&0))
    );
    assert_eq!(all.open, 0);
}

#[test]
fn a_list_that_was_made_from_another_is_no_second_witness() {
    let mut changed = truth(6);
    changed[2].length += 10;
    let (record, other) = (
        list(&truth(6), Unit::Metre, in_metres),
        list(&changed, Unit::Metre, in_metres),
    );
    let state = |from: Option<&str>| {
        let named = [
            NamedList {
                name: "record",
                from: None,
                tally: &record,
            },
            NamedList {
                name: "yard",
                from: None,
                tally: &other,
            },
            NamedList {
                name: "copy",
                from,
                tally: &other,
            },
        ];
        side_by_side(&named, &[], Pins::default()).rows[2]
            .length
            .state
    };
    assert_eq!(state(None), State::Majority);
    assert_eq!(state(Some("yard")), State::Open);
}

#[test]
fn a_decision_stands_for_what_it_was_made_of_and_changes_no_other_joint() {
    let mut changed = truth(6);
    changed[2].length += 10;
    changed[4].length += 10;
    let (record, other) = (
        list(&truth(6), Unit::Metre, in_metres),
        list(&changed, Unit::Metre, in_metres),
    );
    let named = [
        NamedList {
            name: "record",
            from: None,
            tally: &record,
        },
        NamedList {
            name: "yard",
            from: None,
            tally: &other,
        },
    ];
    let said = |mm: i64| Some(Length::from_mm(mm));
    let decision = |choices: &[(&str, Choice)], yard: i64| ListDecision {
        topic: Topic::Length,
        joint: "K-03".to_owned(),
        line: None,
        choices: choices
            .iter()
            .map(|(by, choice)| ListChoice {
                by: (*by).to_owned(),
                at: String::new(),
                choice: choice.clone(),
                note: "tape".to_owned(),
            })
            .collect(),
        said: vec![
            ("record".to_owned(), said(changed[2].length - 10)),
            ("yard".to_owned(), said(yard)),
        ],
    };
    let of = |decision: &ListDecision| {
        let decisions = [decision.clone()];
        let all = side_by_side(&named, &decisions, Pins::default());
        let others: Vec<ListRow> = all
            .rows
            .iter()
            .filter(|it| it.joint != "K-03")
            .cloned()
            .collect();
        (all.rows[2].length.clone(), others, all.open)
    };
    let none = side_by_side(&named, &[], Pins::default());
    let (before, rest) = (none.open, none.rows.iter().filter(|it| it.joint != "K-03"));
    let rest: Vec<ListRow> = rest.cloned().collect();
    let yard = Choice::List("yard".to_owned());
    let (length, others, open) = of(&decision(&[("NK", yard.clone())], changed[2].length));
    assert_eq!(
        (length.state, length.stands),
        (State::Decided, said(changed[2].length))
    );
    assert_eq!((others == rest, before - open), (true, 1));
    let measured = Choice::Measured(Length::from_mm(12_000));
    let both = decision(&[("NK", yard.clone()), ("TM", measured)], changed[2].length);
    let (length, _, open) = of(&both);
    assert_eq!((length.state, open), (State::Conflict, before));
    // The yard's list says something else by now: it is open again.
    let (length, ..) = of(&decision(&[("NK", yard)], changed[2].length - 3));
    assert_eq!(length.state, State::Open);
}

/// One planted change of a list.
#[derive(Clone, Debug)]
enum Edit {
    Longer(usize, i64),
    Loss(usize, i64),
    Gone(usize),
    Swapped(usize, usize),
}

fn edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        (0..12_usize, 1..900_i64).prop_map(|(at, by)| Edit::Longer(at, by)),
        (0..12_usize, 1..90_i64).prop_map(|(at, by)| Edit::Loss(at, by)),
        (0..12_usize).prop_map(Edit::Gone),
        (0..12_usize, 0..12_usize).prop_map(|(one, other)| Edit::Swapped(one, other)),
    ]
}

fn edited(edits: &[Edit]) -> Vec<Row> {
    let mut rows = truth(12);
    for edit in edits {
        match edit {
            Edit::Longer(at, by) => rows[*at].length += by,
            Edit::Loss(at, by) => rows[*at].loss += by,
            Edit::Gone(_) | Edit::Swapped(..) => {}
        }
    }
    let gone = |row: &Row| {
        edits
            .iter()
            .any(|it| matches!(it, Edit::Gone(at) if at + 1 == row.number))
    };
    for edit in edits {
        if let Edit::Swapped(one, other) = edit {
            rows.swap(*one, *other);
        }
    }
    rows.retain(|row| !gone(row));
    rows
}

proptest! {
    #![proptest_config(laws())]

    /// Deciding everything for one list makes a record of its length, with its joints in its order.
    #[test]
    fn deciding_everything_for_a_list_makes_its_string(
        edits in prop::collection::vec(prop::collection::vec(edit(), 0..4), 3),
        chosen in 0..3_usize,
        effective in prop::option::of(0..3_usize),
    ) {
        let names = ["record", "yard", "strap"];
        let rows: Vec<Vec<Row>> = edits.iter().map(|edits| edited(edits)).collect();
        let lists: Vec<Tally> = rows
            .iter()
            .enumerate()
            .map(|(at, rows)| {
                if effective == Some(at) {
                    effective_list(rows)
                } else {
                    list(rows, Unit::Metre, in_metres)
                }
            })
            .collect();
        let named: Vec<NamedList<'_>> = names
            .into_iter()
            .zip(&lists)
            .map(|(name, tally)| NamedList { name, from: None, tally })
            .collect();
        let pins = Pins::default();
        let before = side_by_side(&named, &[], pins);
        let decisions: Vec<ListDecision> = before
            .rows
            .iter()
            .flat_map(|row| Topic::ALL.map(|topic| (row, topic)))
            .map(|(row, topic)| ListDecision {
                topic,
                joint: row.joint.clone(),
                line: None,
                choices: vec![ListChoice {
                    by: "NK".to_owned(),
                    at: String::new(),
                    choice: Choice::List(names[chosen].to_owned()),
                    note: String::new(),
                }],
                said: Vec::new(),
            })
            .collect();
        let all = side_by_side(&named, &decisions, pins);
        let record = ListsRecord::of(&named, &all, pins).expect("no conflict");
        let tally = record.tally();
        let numbers = |tally: &Tally| -> Vec<String> {
            tally.joints.iter().map(|joint| joint.number.to_string()).collect()
        };
        prop_assert_eq!(numbers(&tally), numbers(&lists[chosen]));
        let length = |tally: &Tally| PipeString::make_up(tally, pins).length;
        prop_assert_eq!(length(&tally), length(&lists[chosen]));
    }

    /// How far lists agree on a joint does not depend on which of them is named first.
    #[test]
    fn agreement_does_not_depend_on_the_order_of_the_lists(
        edits in prop::collection::vec(prop::collection::vec(edit(), 0..4), 3),
        turn in 1..3_usize,
    ) {
        let lists: Vec<Tally> = edits
            .iter()
            .map(|edits| list(&edited(edits), Unit::Metre, in_metres))
            .collect();
        let names = ["one", "two", "three"];
        let in_order: Vec<(&str, &Tally)> = names.into_iter().zip(&lists).collect();
        let mut turned = in_order.clone();
        turned.rotate_left(turn);
        let states = |all: &StringLists| {
            let mut states: Vec<(Option<String>, [State; 3])> = all
                .rows
                .iter()
                .map(|row| {
                    let states = [row.length.state, row.loss.state, row.presence.state];
                    (row.serial.clone(), states)
                })
                .collect();
            states.sort_by(|a, b| a.0.cmp(&b.0));
            states
        };
        prop_assert_eq!(states(&beside(&in_order)), states(&beside(&turned)));
    }

    /// A decision on one thing of one joint changes nothing of any other joint, and the bridge from the tally of
    /// record to the record that follows has no remainder.
    #[test]
    fn a_decision_changes_no_other_joint_and_the_bridge_to_the_record_closes(
        edits in prop::collection::vec(prop::collection::vec(edit(), 0..4), 3),
        at in any::<prop::sample::Index>(),
        of in 0..5_usize,
        choice in 0..4_usize,
        measured in 11_000..13_000_i64,
        effective in prop::option::of(0..3_usize),
    ) {
        let names = ["record", "yard", "strap"];
        let lists: Vec<Tally> = edits
            .iter()
            .enumerate()
            .map(|(list, edits)| {
                if effective == Some(list) {
                    effective_list(&edited(edits))
                } else {
                    list_in_metres(&edited(edits))
                }
            })
            .collect();
        let named: Vec<NamedList<'_>> = names
            .into_iter()
            .zip(&lists)
            .map(|(name, tally)| NamedList { name, from: None, tally })
            .collect();
        let pins = Pins::default();
        let before = side_by_side(&named, &[], pins);
        let decided = at.index(before.rows.len());
        let of = Topic::ALL[of];
        let choice = match (choice, of) {
            (3, Topic::Length) => Choice::Measured(Length::from_mm(measured)),
            (3, Topic::MakeupLoss) => Choice::Measured(Length::from_mm(measured / 100)),
            (list, _) => Choice::List(names[list % 3].to_owned()),
        };
        let decisions = [ListDecision {
            topic: of,
            joint: before.rows[decided].joint.clone(),
            line: None,
            choices: vec![ListChoice {
                by: "NK".to_owned(),
                at: String::new(),
                choice,
                note: String::new(),
            }],
            said: Vec::new(),
        }];
        let after = side_by_side(&named, &decisions, pins);
        for (at, (was, is)) in before.rows.iter().zip(&after.rows).enumerate() {
            // Of two neighbours that changed places either may be the one that is told of.
            let of_exchange = of == Topic::Place && was.place.state != State::Agreed;
            if at != decided && !of_exchange {
                prop_assert_eq!(was, is);
            }
            for other in Topic::ALL.into_iter().filter(|it| at == decided && *it != of) {
                prop_assert_eq!(was.state(other), is.state(other));
                prop_assert_eq!(was.from(other), is.from(other));
            }
        }
        let record = |all: &StringLists| ListsRecord::of(&named, all, pins).expect("no conflict").tally();
        let (one, two) = (record(&before), record(&after));
        // Beside the one that is decided, joints keep what they say; where it ends the string, or is none of it, its
        // neighbour becomes the open end and its effective length another.
        let of_others = |tally: &Tally| -> Vec<(String, Option<Length>)> {
            let others = tally.joints.iter().filter(|it| it.number != before.rows[decided].joint);
            others.map(|it| (it.number.to_string(), it.overall())).collect()
        };
        if one.effective_only == two.effective_only && of != Topic::Place {
            prop_assert_eq!(of_others(&one), of_others(&two));
        }
        for tally in [&one, &two] {
            let bridge = kerfmark::reconcile::bridge(&lists[0], tally, pins);
            prop_assert_eq!(bridge.remainder(), Length::ZERO);
            prop_assert_eq!(bridge.b, PipeString::make_up(tally, pins).length);
        }
    }
}
