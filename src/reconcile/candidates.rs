//! Every single mistake that could have been made with one tally.

use std::collections::HashSet;
use std::ops::Range;

use super::mistakes::{Mistake, TAPE_ENDS, corrections, loss_corrections};
use super::suspect::{Candidate, SuspectDetail};
use crate::measure::{Length, MAX_JOINT};
use crate::tally::{Claimed, Joint, LOSS_SCATTER, Pins, PipeString, Summed, Tally};

/// A tally, the string that it makes, and the pipe on deck where that is known.
pub(super) struct MistakeSearch<'a> {
    pub(super) tally: &'a Tally,
    pub(super) pins: Pins,
    pub(super) pool: Option<&'a Tally>,
    pub(super) string: &'a PipeString,
}

impl MistakeSearch<'_> {
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
    pub(super) fn candidates(&self) -> Vec<Candidate> {
        let mut all = Vec::new();
        self.left_out(&mut all);
        self.twice(&mut all);
        self.losses(&mut all);
        self.lengths(&mut all);
        self.carried(&mut all);
        all
    }

    /// Keeps mistakes in some of the joints, and joints left out. Where it is one joint, others that could have
    /// been run in its place are added.
    pub(super) fn only_among(&self, all: &mut Vec<Candidate>, among: &Range<usize>) {
        let own = self.tally.joints.len();
        all.retain(|it| it.place.is_some_and(|at| at >= own || among.contains(&at)));
        let piece = self.string.pieces.get(among.start);
        let (Some(piece), 1, Some(pool)) = (piece, among.len(), self.pool) else {
            return;
        };
        let is_open = among.start == self.string.open_end();
        for (at, joint) in pool.joints.iter().take(pool.conductor_joints()).enumerate() {
            let lost = if is_open {
                Length::ZERO
            } else {
                self.loss(joint)
            };
            let adds = joint
                .effective()
                .or_else(|| joint.overall().map(|length| length - lost));
            if let Some(adds) = adds {
                let effect = adds - piece.effective;
                let place = Some(own + at);
                Self::add(
                    all,
                    Mistake::OtherJoint,
                    place,
                    effect,
                    SuspectDetail::OtherJoint,
                );
            }
        }
    }

    pub(super) fn add(
        all: &mut Vec<Candidate>,
        mistake: Mistake,
        place: Option<usize>,
        effect: Length,
        detail: SuspectDetail,
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
                .effective()
                .or_else(|| Some(joint.overall()? - self.loss(joint)))
                .unwrap_or_default();
            let place = Some(self.tally.joints.len() + at);
            let in_full = joint.effective().is_none() && self.loss(joint).is_zero();
            let detail = SuspectDetail::FromPool { in_full };
            Self::add(all, Mistake::JointLeftOut, place, adds, detail);
        }
    }

    fn twice(&self, all: &mut Vec<Candidate>) {
        let open = self.string.open_end();
        for ((at, joint), piece) in self.joints().zip(self.string.pieces.iter()) {
            let mut effect = -piece.effective;
            // Without the joint at the open end its neighbour is there, and keeps its loss.
            let neighbour = if self.pins.up {
                at.checked_sub(1)
            } else {
                Some(at + 1)
            };
            if at == open
                && joint.effective().is_none()
                && let Some(joint) = neighbour.and_then(|at| self.string.joint(self.tally, at))
            {
                effect += self.loss(joint);
            }
            Self::add(
                all,
                Mistake::JointTwice,
                Some(at),
                effect,
                SuspectDetail::Twice,
            );
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
                let detail = SuspectDetail::LossMissing { usual };
                Self::add(all, Mistake::LossNotDeducted, Some(at), -usual, detail);
            }
            if count > 1 {
                let effect = -usual.times(count);
                let detail = SuspectDetail::LossesMissing { joints: count };
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
                SuspectDetail::LossTwice,
            );
        }
        if count > 1 {
            let detail = SuspectDetail::AllLossesTwice;
            Self::add(all, Mistake::LossDeductedTwice, None, sum, detail);
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
        // The losses of one connector are mostly alike, and what may have been meant by them is.
        let mut last = None;
        for (at, joint, loss) in written {
            if let Some(how) = joint.loss_written {
                let same = last.take().filter(|(of, by, _)| (*of, *by) == (loss, how));
                let (.., may_mean) =
                    same.unwrap_or_else(|| (loss, how, loss_corrections(loss, how)));
                for (mistake, meant) in may_mean.iter().copied() {
                    let possible = joint.overall().is_none_or(|length| meant < length);
                    if possible {
                        let detail = SuspectDetail::LossWritten {
                            written: loss,
                            meant,
                        };
                        Self::add(all, mistake, Some(at), loss - meant, detail);
                    }
                }
                last = Some((loss, how, may_mean));
            }
            if let Some(usual) = median_of_others(&sorted, loss)
                && (loss - usual).abs() > LOSS_SCATTER
            {
                let detail = SuspectDetail::LossOutlier {
                    written: loss,
                    usual,
                };
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
            let Some(length) = joint.length else {
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
                let detail = SuspectDetail::LengthWritten {
                    written: length,
                    meant,
                };
                Self::add(all, mistake, Some(at), effect, detail);
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
                Self::add(all, mistake, None, effect, SuspectDetail::EveryLength);
            }
        }
        for end in TAPE_ENDS {
            let effect = -end.times(count);
            let detail = SuspectDetail::TapeEnd { end };
            Self::add(all, Mistake::TapeEnd, None, effect, detail);
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
                // One total may be in two columns of its line.
                || !seen.insert((claim.line, claim.value))
            {
                continue;
            }
            for (effect, twice) in [(claim.value, true), (-claim.value, false)] {
                let detail = SuspectDetail::PageTotal {
                    total: claim.value,
                    line: claim.line,
                    twice,
                };
                Self::add(all, Mistake::CarryForward, None, effect, detail);
            }
        }
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
