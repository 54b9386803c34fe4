//! How a figure came about, and what the parts of that are written with.

use crate::figures::{SecondWay, SlotFigures, SlotView, Term, Variance, total};
use crate::job::Hull;
use crate::journal::Inputs;
use crate::measure::{Elevation, Length, LengthFormat};
use crate::report::words;
use crate::tally::Joint;

/// How a figure came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct How {
    /// What it is.
    pub title: String,
    /// The figure.
    pub result: String,
    /// From what, in order.
    pub steps: Vec<DerivationStep>,
}

/// One line of how a figure came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DerivationStep {
    /// What it is, with the sign by which it counts.
    pub what: String,
    /// Its value.
    pub value: String,
    /// Where it comes from.
    pub source: String,
}

/// What a derivation is made from: one slot, in one unit.
pub(super) struct Derivation<'a> {
    pub(super) inputs: &'a Inputs,
    pub(super) view: SlotView<'a>,
    pub(super) figures: &'a SlotFigures,
    pub(super) ways: &'a [SecondWay],
    pub(super) show: LengthFormat,
}

/// One line.
pub(super) fn step(
    what: impl Into<String>,
    value: impl Into<String>,
    source: impl Into<String>,
) -> DerivationStep {
    DerivationStep {
        what: what.into(),
        value: value.into(),
        source: source.into(),
    }
}

impl Derivation<'_> {
    /// Where an RT comes from, and what its second way says.
    pub(super) fn rotary_source(&self, hull: &Hull) -> String {
        let second = words::second_of_rotary(self.ways, hull, self.show);
        format!("job.toml; {second}")
    }

    pub(super) fn length(&self, length: Length) -> String {
        self.show.text(length)
    }

    pub(super) fn elevation(&self, elevation: Elevation) -> String {
        format!(
            "{} {}",
            self.show.text(elevation.height()),
            self.inputs.job.sea_datum
        )
    }

    pub(super) fn tally_line(&self, joint: &Joint) -> String {
        format!("{} line {}", self.view.slot.tally.display(), joint.line)
    }

    pub(super) fn joint(&self, piece: usize) -> Option<&Joint> {
        let piece = self.figures.chain.string.pieces.get(piece)?;
        self.view.tally.joints.get(piece.joint)
    }

    pub(super) fn number(&self, piece: usize) -> &str {
        self.figures.chain.number(self.view.tally, piece)
    }

    pub(super) fn lower_end(&self, piece: usize) -> String {
        words::counted_from(&self.figures.chain, self.view.tally, piece)
    }

    /// `12.192 - 0.152, tallies/a.csv line 5`.
    pub(super) fn effective_of(&self, joint: &Joint, effective: Length) -> String {
        let line = self.tally_line(joint);
        match joint.overall {
            Some(overall) if overall != effective => {
                format!(
                    "{} - {}, {line}",
                    self.show.number(overall),
                    self.show.number(overall - effective)
                )
            }
            Some(_) => format!("overall, nothing deducted, {line}"),
            None => format!("as written, {line}"),
        }
    }

    /// An expanded uncertainty and the independent terms that it is made of.
    pub(super) fn uncertainty(&self, terms: &[Term]) -> Vec<DerivationStep> {
        let value = |variance: Option<Variance>| words::stated(self.show, variance);
        let mut steps: Vec<DerivationStep> = terms
            .iter()
            .map(|term| {
                step(
                    format!("  2 u of {}", words::source(term, &self.inputs.job)),
                    value(term.variance()),
                    format!("job.toml, {}", term.key),
                )
            })
            .collect();
        steps.push(step(
            "U = 2 u, all of these",
            value(total(terms)),
            "root of the sum of squares",
        ));
        steps
    }
}
