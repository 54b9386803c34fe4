//! The mistakes that would explain a misclosure: one tally, and one measurement that disagrees.
//!
//! `off` is measured less computed string length. A mistake's effect is what correcting it adds to
//! the computed length (for a mistake on the measured side: measured as used less as corrected), and
//! what is left is `off` less that. A mistake fits when what is left is within the measurement's
//! uncertainty. Ties are common and all are listed: none of them is the culprit for being first.

use std::collections::HashMap;
use std::ops::Range;

use super::candidates::MistakeSearch;
use super::mistakes::Mistake;
use super::pairs::{Pair, best_pairs, pairs_near};
use super::suspect::{Candidate, MeasuredSide, Suspect, SuspectDetail};
use crate::measure::Length;
use crate::tally::{Pins, PipeString, Tally};

/// Within what a measurement is taken to agree where nothing says how good it is.
const WITHIN: Length = Length::from_mm(5);

/// How many times `within` is looked at on either side to see what fits by chance.
const CHANCE: i64 = 50;

/// From how many by chance on a match says next to nothing, in millionths.
const CANNOT_TELL: i64 = 500_000;

/// What was measured.
#[derive(Clone, Debug, Default)]
pub struct Measured {
    /// Measured less computed string length.
    pub off: Length,
    /// Up to what a mistake fits; 5 mm where it is not given.
    pub within: Option<Length>,
    /// Mistakes on the measured side that a job makes possible, with their effects.
    pub on_the_measured_side: Vec<(MeasuredSide, Length)>,
    /// Whether pairs are wanted although a single mistake fits.
    pub pairs: bool,
    /// The joints between which it was measured, by their indices, where that is not the whole string: only
    /// a mistake in one of them, or a joint left out, can explain it. Where it is one joint alone, another
    /// of the pool may have been run in its place.
    pub among: Option<Range<usize>>,
}

/// What would explain a misclosure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suspects {
    /// Measured less computed.
    pub off: Length,
    /// Up to what a mistake fits.
    pub within: Length,
    /// Whether it closes already.
    pub closes: bool,
    /// Single mistakes that fit, the best first.
    pub singles: Vec<Suspect>,
    /// Pairs that fit, the best first.
    pub pairs: Vec<Pair>,
    /// How many single mistakes would fit by chance, in millionths.
    pub by_chance_millionths: i64,
    /// How many pairs of them would; `None` where pairs were not looked for.
    pub pairs_by_chance_millionths: Option<i64>,
}

impl Suspects {
    /// Whether so many mistakes, or pairs where those are listed, would fit by chance that a match says next to
    /// nothing: half of one or more.
    pub fn cannot_tell(&self) -> bool {
        let pairs = self
            .pairs_by_chance_millionths
            .filter(|_| !self.pairs.is_empty());
        self.by_chance_millionths.max(pairs.unwrap_or_default()) >= CANNOT_TELL
    }
}

/// Lists what would explain the misclosure of a tally.
pub fn suspects(tally: &Tally, pins: Pins, pool: Option<&Tally>, measured: &Measured) -> Suspects {
    let off = measured.off;
    let within = measured.within.unwrap_or(WITHIN);
    let string = PipeString::make_up(tally, pins);
    let list = MistakeSearch {
        tally,
        pins,
        pool,
        string: &string,
    };
    let mut candidates = list.candidates();
    if let Some(among) = &measured.among {
        list.only_among(&mut candidates, among);
    }
    for (side, effect) in &measured.on_the_measured_side {
        let detail = SuspectDetail::Measured(side.clone());
        MistakeSearch::add(&mut candidates, side.mistake(), None, *effect, detail);
    }
    let window = within.times(CHANCE);
    let near = candidates
        .iter()
        .filter(|candidate| (candidate.effect - off).abs() <= window)
        .count();
    let near = i64::try_from(near).unwrap_or(i64::MAX);
    let closes = off.abs() <= within;
    let mut found = Suspects {
        off,
        within,
        closes,
        singles: Vec::new(),
        pairs: Vec::new(),
        by_chance_millionths: near.saturating_mul(1_000_000 / CHANCE),
        pairs_by_chance_millionths: None,
    };
    if closes {
        return found;
    }
    found.singles = list.singles(&candidates, off, within);
    if found.singles.is_empty() || measured.pairs {
        let near = pairs_near(&candidates, off, window);
        found.pairs_by_chance_millionths = Some(near.saturating_mul(1_000_000 / CHANCE));
        found.pairs = best_pairs(&candidates, off, within, |candidate, left| {
            list.suspect(candidate, left)
        });
    }
    if pool.is_none() && measured.among.is_none() {
        found.singles.extend(list.unnamed_joint(off));
    }
    found
}

impl MistakeSearch<'_> {
    /// The mistakes that fit, the best of each kind and place, sorted by what is left.
    fn singles(&self, candidates: &[Candidate], off: Length, within: Length) -> Vec<Suspect> {
        let left = |candidate: &Candidate| off - candidate.effect;
        let mut best: HashMap<(Mistake, usize), &Candidate> = HashMap::new();
        for (order, candidate) in candidates.iter().enumerate() {
            if left(candidate).abs() > within {
                continue;
            }
            // Those of all joints, or of none, are entries of their own.
            let place = candidate.place.unwrap_or(usize::MAX - order);
            let entry = best.entry((candidate.mistake, place)).or_insert(candidate);
            if left(candidate).abs() < left(entry).abs() {
                *entry = candidate;
            }
        }
        let mut fits: Vec<&Candidate> = best.into_values().collect();
        fits.sort_by_key(|candidate| {
            (
                left(candidate).abs(),
                candidate.mistake,
                candidate.place.unwrap_or(usize::MAX),
                candidate.effect,
            )
        });
        fits.into_iter()
            .map(|candidate| self.suspect(candidate, left(candidate)))
            .collect()
    }

    fn suspect(&self, candidate: &Candidate, left: Length) -> Suspect {
        let own = self.tally.joints.len();
        let joint = candidate
            .place
            .and_then(|place| match place.checked_sub(own) {
                None => self.tally.joints.get(place),
                Some(place) => self.pool.and_then(|pool| pool.joints.get(place)),
            });
        Suspect {
            mistake: candidate.mistake,
            joints: joint
                .map(|joint| joint.number.to_string())
                .into_iter()
                .collect(),
            effect: Some(candidate.effect),
            left: Some(left),
            detail: candidate.detail.clone(),
        }
    }

    /// A joint left out that nobody can name: offered where `off` is about as long as a joint is.
    fn unnamed_joint(&self, off: Length) -> Option<Suspect> {
        let adds = || self.string.pieces.iter().map(|piece| piece.effective);
        let (least, most) = (adds().min()?, adds().max()?);
        (least <= off && off <= most).then(|| Suspect {
            mistake: Mistake::JointLeftOut,
            joints: Vec::new(),
            effect: None,
            left: None,
            detail: SuspectDetail::Unnamed,
        })
    }
}
