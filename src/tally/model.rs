//! A tally as a value: its joints, and all that the reader has to say of the file.

use std::borrow::Cow;

use super::claim::Claim;
use super::joint::{Joint, Kind};
use super::remarks::{Doubted, FileNote, Skipped, UnknownKind};
use crate::measure::Unit;

/// Which end of the page the shoe is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// The first row is the shoe joint.
    ShoeFirst,
    /// The first row is the top joint.
    TopFirst,
}

impl Order {
    /// The name in options and in JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::ShoeFirst => "shoe-first",
            Self::TopFirst => "top-first",
        }
    }
}

/// One column of the file's table and what it was taken for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Counted from 1.
    pub number: usize,
    /// The heading as the file writes it.
    pub heading: String,
    /// What it was used as; `None` if it was not used.
    pub used_as: Option<&'static str>,
    /// The unit of its lengths, where it has any.
    pub unit: Option<Unit>,
}

/// A tally as it was understood.
#[derive(Clone, Debug)]
pub struct Tally {
    /// The joints, always shoe first, landing joints last.
    pub joints: Vec<Joint>,
    /// How the file listed them.
    pub order: Order,
    /// Whether the order was assumed because nothing told it and the file is not of the plain form.
    pub order_assumed: bool,
    /// The unit of the length column.
    pub unit: Unit,
    /// Whether the file gives effective lengths alone.
    pub effective_only: bool,
    /// The encoding in which the file was read, or the sheet of a workbook.
    pub encoding: Cow<'static, str>,
    /// The columns and what they were taken for.
    pub columns: Vec<Column>,
    /// Lines not read as joints.
    pub skipped: Vec<Skipped>,
    /// What else is to be said of the file: sheets that are not used, cells that were moved.
    pub notes: Vec<FileNote>,
    /// Totals and lengths that the file claims beside the joints.
    pub claims: Vec<Claim>,
    /// Rows that count although a sign says that they may not have been run.
    pub doubted: Vec<Doubted>,
    /// Words in the column of kinds that are no kind.
    pub unknown_kinds: Vec<UnknownKind>,
}

impl Tally {
    /// Whether what is read as serials are numbers of heats: many joints are made of one.
    pub fn serials_are_heats(&self) -> bool {
        self.columns.iter().any(|column| {
            let heading = column.heading.trim_start();
            let start = heading.get(..4).unwrap_or_default();
            column.used_as == Some("serial") && start.eq_ignore_ascii_case("heat")
        })
    }

    /// A list that was made, not read: shoe first, in metres.
    pub fn of_joints(joints: Vec<Joint>, effective_only: bool) -> Self {
        Self {
            joints,
            order: Order::ShoeFirst,
            order_assumed: false,
            unit: Unit::Metre,
            effective_only,
            encoding: Cow::Borrowed("UTF-8"),
            columns: Vec::new(),
            skipped: Vec::new(),
            notes: Vec::new(),
            claims: Vec::new(),
            doubted: Vec::new(),
            unknown_kinds: Vec::new(),
        }
    }

    /// How many of the joints belong to the conductor; the rest, above them, are landing joints.
    pub fn conductor_joints(&self) -> usize {
        // Landing joints are last, so that they need not all be looked at.
        self.joints
            .partition_point(|joint| joint.kind != Some(Kind::Landing))
    }
}
