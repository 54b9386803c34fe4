//! How a figure came about, and what the parts of that are written with.

use crate::figures::{Estimate, Figures, SecondWay, SlotFigures, SlotView, Variance, total};
use crate::job::{Elevations, Hull};
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

impl<'a> Derivation<'a> {
    /// Of a slot.
    pub(super) fn of(
        inputs: &'a Inputs,
        figures: &'a Figures,
        slot: usize,
        show: LengthFormat,
    ) -> Option<Self> {
        Some(Self {
            inputs,
            view: SlotView::all(&inputs.job, &inputs.tallies).nth(slot)?,
            figures: figures.slots.get(slot)?,
            ways: &figures.second_ways,
            show,
        })
    }
}

impl Derivation<'_> {
    /// Where an RT comes from, and what its second way says.
    pub(super) fn rotary_source(&self, hull: &Hull) -> String {
        let second = words::second_of_rotary(self.ways, hull, self.show);
        format!("{}; {second}", self.rotary_from(hull))
    }

    /// The entry that an RT is from, or the job file.
    pub(super) fn rotary_from(&self, hull: &Hull) -> String {
        let mut found = self.inputs.record.positions.iter().rev();
        let found = found.find(|it| it.what.0 == hull.name && it.what.1 == hull.rotary);
        found.map_or_else(
            || "job.toml".to_owned(),
            |it| words::from_entry(it.seq, &it.by),
        )
    }

    /// The entry that the stick-up is from, or the job file.
    pub(super) fn stick_up_from(&self) -> String {
        let index = self.view.index;
        match self.inputs.stick_ups.get(index).and_then(Option::as_ref) {
            Some(read) => {
                let said = self.inputs.record.slots.get(index);
                let is_cropped =
                    said.is_some_and(|said| !said.cropped_since(Some(read.order())).is_zero());
                let entry = words::from_entry(read.seq, &read.by);
                if is_cropped {
                    words::less_cropped(&entry)
                } else {
                    entry
                }
            }
            None => "job.toml, stick_up".to_owned(),
        }
    }

    /// The entry that readings of the finished top are from, or the job file.
    pub(super) fn as_cut_from(&self) -> String {
        let said = self.inputs.record.slots.get(self.view.index);
        let read = said.and_then(|said| said.as_cut.as_ref());
        read.map_or_else(
            || "job.toml, as_cut".to_owned(),
            |it| words::from_entry(it.seq, &it.by),
        )
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
        self.figures.chain.string.joint(self.view.tally, piece)
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
        match joint.overall() {
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

    /// By how much all readings together move what follows from those before; nothing where the chain is in force.
    pub(super) fn by_all_readings(
        &self,
        chain: Elevation,
        used: Elevation,
    ) -> Option<DerivationStep> {
        let is_used = self.figures.chain.elevations() == Elevations::Adjusted;
        is_used.then(|| {
            let moved = self.show.small_signed(used - chain);
            step(words::BY_ALL_READINGS, moved, words::SEE_LEVELS)
        })
    }

    /// What a length along the string is longer than the height that it makes; nothing where it is upright.
    pub(super) fn by_inclination(&self, along: Length) -> Option<DerivationStep> {
        let lean = self.figures.chain.lean;
        (!lean.is_upright()).then(|| {
            let less = self.show.small(along - lean.rise(along));
            step(words::BY_INCLINATION, less, "job.toml, inclination")
        })
    }

    /// An expanded uncertainty and the independent terms that it is made of.
    pub(super) fn uncertainty<T>(&self, of: &Estimate<T>) -> Vec<DerivationStep> {
        let value = |variance: Option<Variance>| words::stated(self.show, variance);
        if of.by_readings.is_some() {
            return vec![step(
                "U = 2 u",
                value(of.by_readings),
                words::KNOWN_BY_ALL_READINGS,
            )];
        }
        let terms = &of.terms;
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
