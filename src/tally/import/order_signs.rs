//! What in a file tells which end of the page the shoe is at.

use std::fmt;

use crate::tally::joint::Kind;

/// A sign of the order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderSign {
    /// The joint of a kind is on this line.
    Kind(Kind, u32),
    /// Landing joints are on this line.
    Landing(u32),
    /// The written running total rises down the page.
    TotalRises,
    /// It falls.
    TotalFalls,
    /// Joint numbers rise from 1 to this one.
    NumbersRise(u64),
    /// Joint numbers fall from this one to 1.
    NumbersFall(u64),
    /// The joint on this line alone has no make-up loss; whether the pins are up.
    LossOpen(u32, bool),
    /// The remarks on this line name the shoe.
    ShoeNamed(u32),
}

impl fmt::Display for OrderSign {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Kind(kind, line) => write!(f, "the {} joint is on line {line}", kind.name()),
            Self::Landing(line) => write!(f, "landing joints are on line {line}"),
            Self::TotalRises => f.write_str("the running total rises down the page"),
            Self::TotalFalls => f.write_str("the running total falls down the page"),
            Self::NumbersRise(last) => write!(f, "the joint numbers rise from 1 to {last}"),
            Self::LossOpen(line, false) => write!(
                f,
                "the joint on line {line} alone has no make-up loss, as the shoe joint has none (with --pin up it is the top joint)"
            ),
            Self::LossOpen(line, true) => write!(
                f,
                "the joint on line {line} alone has no make-up loss, as the top joint has none with pins up"
            ),
            Self::ShoeNamed(line) => write!(f, "line {line} names the shoe"),
            Self::NumbersFall(first) => write!(f, "the joint numbers fall from {first} to 1"),
        }
    }
}

/// How a kind can be where it cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misplaced {
    /// A second joint of a kind of which there is one.
    Second(Kind),
    /// Landing joints among those of the conductor.
    LandingAmong,
    /// A kind of one end in the middle.
    InMiddle(Kind),
    /// Two kinds that say two things.
    Contradiction(OrderSign, OrderSign),
}

impl fmt::Display for Misplaced {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Second(kind) => write!(
                f,
                "a second joint of kind {}; expected one at most",
                kind.name()
            ),
            Self::LandingAmong => f.write_str(
                "landing joints are among the joints of the conductor; expected them above all others",
            ),
            Self::InMiddle(kind) => write!(
                f,
                "kind {} is in the middle of the list; expected it first or last of the conductor",
                kind.name()
            ),
            Self::Contradiction(first, second) => {
                write!(f, "the kinds contradict each other: {first}, but {second}")
            }
        }
    }
}
