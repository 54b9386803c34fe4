//! The mistakes that would explain a misclosure: one tally, and one measurement that disagrees.
//!
//! `off` is measured less computed string length. A mistake's effect is what correcting it adds to
//! the computed length (for a mistake on the measured side: measured as used less as corrected), and
//! what is left is `off` less that. A mistake fits when what is left is within the measurement's
//! uncertainty. Ties are common and all are listed: none of them is the culprit for being first.

use std::collections::{HashMap, HashSet};

use super::mistakes::{Mistake, TAPE_ENDS, corrections, loss_corrections};
use super::pairs::{Pair, best_pairs};
use crate::measure::{Length, LengthFormat, MAX_JOINT};
use crate::tally::{Claimed, Joint, Pins, PipeString, Summed, Tally};

/// Within what a measurement is taken to agree where nothing says how good it is.
const WITHIN: Length = Length::from_mm(5);

/// How far a make-up loss may lie from the median of the others: connectors are machined, and 25 mm is a
/// misread figure rather than scatter.
const LOSS_SCATTER: Length = Length::from_mm(25);

/// How many times `within` is looked at on either side to see what fits by chance.
const CHANCE: i64 = 50;

/// What was measured.
#[derive(Clone, Debug, Default)]
pub struct Measured {
    /// Measured less computed string length.
    pub off: Length,
    /// Up to what a mistake fits; 5 mm where it is not given.
    pub within: Option<Length>,
    /// Mistakes on the measured side that a job makes possible, with their effects.
    pub on_the_measured_side: Vec<(Mistake, Length, String)>,
    /// Whether pairs are wanted although a single mistake fits.
    pub pairs: bool,
}

/// A mistake that fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suspect {
    /// The mistake.
    pub mistake: Mistake,
    /// The joints concerned; none where it is all of them, or no joint at all.
    pub joints: Vec<String>,
    /// What correcting it adds; `None` for a joint left out that nobody can name.
    pub effect: Option<Length>,
    /// What is left then.
    pub left: Option<Length>,
    /// The mistake in words.
    pub text: String,
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
}

impl Suspects {
    /// Whether so many mistakes would fit by chance that a match says next to nothing.
    pub const fn cannot_tell(&self) -> bool {
        self.by_chance_millionths >= 1_000_000
    }
}

/// A mistake that could have been made, whether it fits or not.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub(super) mistake: Mistake,
    /// The joint, as an index of the tally, or after all of those an index of the pool; `None` for all
    /// joints at once, or for none.
    pub(super) place: Option<usize>,
    pub(super) effect: Length,
    detail: Detail,
}

/// What the words of a candidate need; they are made for those alone that fit.
#[derive(Clone, Copy, Debug)]
enum Detail {
    None,
    /// What was meant by a written length.
    Meant(Length),
    /// What was meant by a written make-up loss.
    MeantLoss(Length),
    /// A usual loss, a tape's end, or how many joints.
    Usual(Length),
    Count(i64),
    /// A written total, its line, and whether it was added twice.
    Page(Length, u32, bool),
    /// A mistake on the measured side, by its index.
    Said(usize),
}

/// Lists what would explain the misclosure of a tally.
pub fn suspects(tally: &Tally, pins: Pins, pool: Option<&Tally>, measured: &Measured) -> Suspects {
    let off = measured.off;
    let within = measured.within.unwrap_or(WITHIN);
    let string = PipeString::make_up(tally, pins);
    let list = List {
        tally,
        pins,
        pool,
        string: &string,
        said: &measured.on_the_measured_side,
        show: LengthFormat::new(tally.unit),
    };
    let mut candidates = list.candidates();
    for (index, (mistake, effect, _)) in measured.on_the_measured_side.iter().enumerate() {
        List::add(
            &mut candidates,
            *mistake,
            None,
            *effect,
            Detail::Said(index),
        );
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
    };
    if closes {
        return found;
    }
    found.singles = list.singles(&candidates, off, within);
    if found.singles.is_empty() || measured.pairs {
        found.pairs = best_pairs(&candidates, off, within, |candidate, left| {
            list.suspect(candidate, left)
        });
    }
    if pool.is_none() {
        found.singles.extend(list.unnamed_joint(off));
    }
    found
}

struct List<'a> {
    tally: &'a Tally,
    pins: Pins,
    pool: Option<&'a Tally>,
    string: &'a PipeString,
    said: &'a [(Mistake, Length, String)],
    show: LengthFormat,
}

impl List<'_> {
    fn joints(&self) -> impl Iterator<Item = (usize, &Joint)> {
        let count = self.string.pieces.len();
        self.tally.joints.iter().take(count).enumerate()
    }

    fn loss(&self, joint: &Joint) -> Length {
        joint
            .makeup_loss
            .or(self.pins.nominal_loss)
            .unwrap_or_default()
    }

    /// Every single mistake that could have been made.
    fn candidates(&self) -> Vec<Candidate> {
        let mut all = Vec::new();
        self.left_out(&mut all);
        self.twice(&mut all);
        self.losses(&mut all);
        self.lengths(&mut all);
        self.carried(&mut all);
        all
    }

    fn add(
        all: &mut Vec<Candidate>,
        mistake: Mistake,
        place: Option<usize>,
        effect: Length,
        detail: Detail,
    ) {
        if !effect.is_zero() {
            all.push(Candidate {
                mistake,
                place,
                effect,
                detail,
            });
        }
    }

    /// A joint of the pipe on deck that is in the string and not in the list.
    fn left_out(&self, all: &mut Vec<Candidate>) {
        let Some(pool) = self.pool else { return };
        let count = pool.conductor_joints();
        for (at, joint) in pool.joints.iter().take(count).enumerate() {
            let adds = joint
                .effective
                .or_else(|| Some(joint.overall? - self.loss(joint)))
                .unwrap_or_default();
            let place = Some(self.tally.joints.len() + at);
            let in_full = joint.effective.is_none() && self.loss(joint).is_zero();
            let detail = if in_full {
                Detail::Usual(Length::ZERO)
            } else {
                Detail::None
            };
            Self::add(all, Mistake::JointLeftOut, place, adds, detail);
        }
    }

    fn twice(&self, all: &mut Vec<Candidate>) {
        let open = self.string.open_end();
        for ((at, joint), piece) in self.joints().zip(&self.string.pieces) {
            let mut effect = -piece.effective;
            // Without the joint at the open end its neighbour stands there, and keeps its loss.
            let neighbour = if self.pins.up {
                at.checked_sub(1)
            } else {
                Some(at + 1)
            };
            if at == open
                && joint.effective.is_none()
                && let Some(neighbour) = neighbour.and_then(|at| self.string.pieces.get(at))
                && let Some(joint) = self.tally.joints.get(neighbour.joint)
            {
                effect += self.loss(joint);
            }
            Self::add(all, Mistake::JointTwice, Some(at), effect, Detail::None);
        }
    }

    /// Losses that were not deducted, or deducted twice.
    fn losses(&self, all: &mut Vec<Candidate>) {
        if self.tally.effective_only {
            return;
        }
        let open = self.string.open_end();
        let made_up = || self.joints().filter(move |(at, _)| *at != open);
        let written: Vec<Length> = made_up()
            .filter_map(|(_, joint)| joint.makeup_loss)
            .filter(|loss| !loss.is_zero())
            .collect();
        let usual = median(written).or(self.pins.nominal_loss);
        let bare = || made_up().filter(|(_, joint)| self.loss(joint).is_zero());
        if let Some(usual) = usual {
            let mut count = 0;
            for (at, _) in bare() {
                count += 1;
                let detail = Detail::Usual(usual);
                Self::add(all, Mistake::LossNotDeducted, Some(at), -usual, detail);
            }
            if count > 1 {
                let effect = -usual.times(count);
                let detail = Detail::Count(count);
                Self::add(all, Mistake::LossNotDeducted, None, effect, detail);
            }
        }
        let mut sum = Length::ZERO;
        let mut count = 0;
        for (at, joint) in made_up() {
            let loss = self.loss(joint);
            if loss.is_zero() {
                continue;
            }
            sum += loss;
            count += 1;
            Self::add(
                all,
                Mistake::LossDeductedTwice,
                Some(at),
                loss,
                Detail::None,
            );
        }
        if count > 1 {
            Self::add(all, Mistake::LossDeductedTwice, None, sum, Detail::None);
        }
        self.written_losses(all);
    }

    /// Losses of which a digit is wrong, or that are far from the others. A loss that is too small
    /// leaves the string too long, so that correcting it makes it shorter.
    fn written_losses(&self, all: &mut Vec<Candidate>) {
        let open = self.string.open_end();
        let written: Vec<(usize, &Joint, Length)> = self
            .joints()
            .filter(|(at, _)| *at != open)
            .filter_map(|(at, joint)| Some((at, joint, joint.makeup_loss?)))
            .filter(|(_, _, loss)| !loss.is_zero())
            .collect();
        let mut sorted: Vec<Length> = written.iter().map(|(_, _, loss)| *loss).collect();
        sorted.sort_unstable();
        for (at, joint, loss) in written {
            if let Some(how) = joint.loss_written {
                for (mistake, meant) in loss_corrections(loss, how) {
                    let possible = joint.overall.is_none_or(|length| meant < length);
                    if possible {
                        let detail = Detail::MeantLoss(meant);
                        Self::add(all, mistake, Some(at), loss - meant, detail);
                    }
                }
            }
            if let Some(usual) = median_of_others(&sorted, loss)
                && (loss - usual).abs() > LOSS_SCATTER
            {
                let detail = Detail::MeantLoss(usual);
                Self::add(all, Mistake::LossOutlier, Some(at), loss - usual, detail);
            }
        }
    }

    /// Mistakes in writing one length, and those made with all of them.
    fn lengths(&self, all: &mut Vec<Candidate>) {
        let mut feet = (Length::ZERO, 0);
        let mut metres = (Length::ZERO, 0);
        let mut count = 0;
        for (at, joint) in self.joints() {
            let Some(length) = joint.overall.or(joint.effective) else {
                continue;
            };
            count += 1;
            for (mistake, meant) in corrections(length, joint.written) {
                let effect = meant - length;
                for (of, sum) in [
                    (Mistake::FeetAsMetres, &mut feet),
                    (Mistake::MetresAsFeet, &mut metres),
                ] {
                    if mistake == of {
                        *sum = (sum.0 + effect, sum.1 + 1);
                    }
                }
                Self::add(all, mistake, Some(at), effect, Detail::Meant(meant));
            }
        }
        if count < 2 {
            return;
        }
        for (mistake, (effect, made)) in [
            (Mistake::FeetAsMetres, feet),
            (Mistake::MetresAsFeet, metres),
        ] {
            if made == count {
                Self::add(all, mistake, None, effect, Detail::None);
            }
        }
        for end in TAPE_ENDS {
            let effect = -end.times(count);
            Self::add(all, Mistake::TapeEnd, None, effect, Detail::Usual(end));
        }
    }

    /// A written page total that was carried forward not at all, or twice.
    fn carried(&self, all: &mut Vec<Candidate>) {
        let mut seen: HashSet<(u32, Length)> = HashSet::new();
        for claim in &self.tally.claims {
            let Claimed::Total { of, running, .. } = claim.claimed else {
                continue;
            };
            if running || of == Summed::Losses || claim.value > MAX_JOINT.times(1_000)
                // One total may stand in two columns of its line.
                || !seen.insert((claim.line, claim.value))
            {
                continue;
            }
            for (effect, twice) in [(claim.value, true), (-claim.value, false)] {
                let detail = Detail::Page(claim.value, claim.line, twice);
                Self::add(all, Mistake::CarryForward, None, effect, detail);
            }
        }
    }

    /// The mistakes that fit, the best of each kind and place, sorted by what is left.
    fn singles(&self, candidates: &[Candidate], off: Length, within: Length) -> Vec<Suspect> {
        let left = |candidate: &Candidate| off - candidate.effect;
        let mut best: HashMap<(Mistake, usize), &Candidate> = HashMap::new();
        for (order, candidate) in candidates.iter().enumerate() {
            if left(candidate).abs() > within {
                continue;
            }
            // Those of all joints, or of none, stand each for itself.
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
            text: self.words(candidate, joint),
        }
    }

    fn words(&self, candidate: &Candidate, joint: Option<&Joint>) -> String {
        let number = joint.map_or("", |joint| joint.number.as_str());
        match (candidate.mistake, candidate.detail) {
            (_, Detail::Said(index)) => {
                let said = self.said.get(index);
                said.map_or_else(String::new, |(_, _, text)| text.clone())
            }
            (Mistake::JointLeftOut, Detail::Usual(_)) => format!(
                "{number} of the pipe on deck is in the string (it gives no make-up loss: counted in full)"
            ),
            (Mistake::JointLeftOut, _) => format!("{number} of the pipe on deck is in the string"),
            (Mistake::JointTwice, _) => format!("joint {number} is listed twice"),
            (_, Detail::Count(count)) => {
                format!("no make-up loss is deducted from {count} joints")
            }
            (Mistake::LossNotDeducted, Detail::Usual(usual)) => format!(
                "joint {number} has no make-up loss deducted; the others lose {}",
                self.show.small(usual)
            ),
            (_, Detail::Usual(end)) => format!(
                "every length is read from a burnt tape end, {} too long",
                self.show.text(end)
            ),
            (Mistake::LossDeductedTwice, _) if joint.is_some() => {
                format!("the make-up loss of joint {number} is deducted twice")
            }
            (Mistake::LossDeductedTwice, _) => {
                "every make-up loss is deducted twice: the lengths are effective already".to_owned()
            }
            (Mistake::LossOutlier, Detail::MeantLoss(usual)) => format!(
                "the make-up loss of joint {number}, {}, is far from the others, whose median is {}",
                self.show
                    .small(joint.map(|joint| self.loss(joint)).unwrap_or_default()),
                self.show.small(usual)
            ),
            (mistake, Detail::MeantLoss(meant)) => format!(
                "the make-up loss of joint {number}: {} written for {}, {}",
                self.show
                    .small(joint.map(|joint| self.loss(joint)).unwrap_or_default()),
                self.show.small(meant),
                mistake.words()
            ),
            (mistake, Detail::Meant(meant)) => {
                let written = joint.and_then(|joint| joint.overall.or(joint.effective));
                format!(
                    "joint {number}: {} written for {}, {}",
                    self.show.text(written.unwrap_or_default()),
                    self.show.text(meant),
                    mistake.words()
                )
            }
            (_, Detail::Page(total, line, twice)) => format!(
                "the page total of line {line}, {}, was {} when it was carried forward",
                self.show.text(total),
                if twice { "added twice" } else { "missed" }
            ),
            (mistake, Detail::None) => format!("{} in every length", mistake.words()),
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
            text: "a joint was run that is not in the list: it is about as long (give the pipe on deck with --pool to name it)".to_owned(),
        })
    }
}

/// The middle of some lengths, or half-way between the two in the middle.
fn median(mut lengths: Vec<Length>) -> Option<Length> {
    lengths.sort_unstable();
    middle(lengths.len(), |place| lengths.get(place).copied())
}

/// The median of sorted lengths but for one of them.
fn median_of_others(sorted: &[Length], one: Length) -> Option<Length> {
    let left_out = sorted.partition_point(|length| *length < one);
    let others = sorted.len().checked_sub(1)?;
    middle(others, |place| {
        sorted.get(place + usize::from(place >= left_out)).copied()
    })
}

/// The middle one of so many lengths in order, or half-way between the two in the middle.
fn middle(count: usize, at: impl Fn(usize) -> Option<Length>) -> Option<Length> {
    let half = count / 2;
    if count % 2 == 1 {
        return at(half);
    }
    let (lower, upper) = (at(half.checked_sub(1)?)?, at(half)?);
    Some(Length::from_nm((lower + upper).nm() / 2))
}
