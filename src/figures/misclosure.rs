//! Where what was measured while a string is run and landed is not what its joints make: by how much, and
//! the single mistakes that would explain it.
//!
//! Once a string is lowered there is nothing to compare its stick-up with, so two differences alone are
//! looked at: the stick-ups before and after a joint at one hang-off, and the stick-up of the string when it is
//! landed at its plan.

use std::ops::Range;

use super::chain::{Basis, PlanOf, SlotView};
use super::limits::{LEAST_OFF, after_joint};
use super::running::running_joint;
use super::slot::SlotFigures;
use crate::journal::{Hanging, Inputs, Said, SlotRecord, Source};
use crate::measure::Length;
use crate::reconcile::{Measured, Suspects, suspects};
use crate::tally::{Joint, Tally};

/// What was compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MisclosureOf {
    /// The stick-ups before and after a joint: its number, and the entry.
    Joint(String, u64),
    /// The stick-up of the landed string with the plan of its shoulder: the entry.
    Landing(u64),
}

/// A misclosure of a string that is run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misclosure {
    /// What was compared.
    pub of: MisclosureOf,
    /// By how much measured and computed differ, what would explain it, and how much would by chance.
    pub suspects: Suspects,
}

/// How many possible causes are named at first.
const FIRST: usize = 3;

impl Misclosure {
    /// The first possible causes.
    pub fn first(&self) -> impl Iterator<Item = &crate::reconcile::Suspect> {
        self.suspects.singles.iter().take(FIRST)
    }

    /// The misclosure of a slot's string: of its landing, else of the last joint that does not close; `None`
    /// where all closes, or nothing can be compared.
    pub(super) fn of(inputs: &Inputs, view: SlotView<'_>, figures: &SlotFigures) -> Option<Self> {
        let said = inputs.record.slots.get(view.index)?;
        let hanging = &said.hanging;
        let string = || Comparison {
            run: Tally::of_joints(
                hanging.iter().map(|it| it.what.joint.clone()).collect(),
                view.tally.effective_only,
            ),
            pool: not_run(inputs, view, said),
            view,
        };
        if let Some(found) = landing(inputs, view, figures, hanging) {
            let agree = view.job.agree.plan;
            return (found.off.abs() > agree).then(|| Self {
                of: MisclosureOf::Landing(found.seq),
                suspects: string().suspects(found.off, agree, found.among),
            });
        }
        let allowed = after_joint(&view.job.uncertainty).unwrap_or(LEAST_OFF);
        let off = |it: &Said<Hanging>| {
            let run = &it.what.run;
            Some(run.after? - run.before? - it.what.adds)
        };
        let all = hanging.iter().enumerate();
        let (at, it, off) = all
            .rev()
            .filter_map(|(at, it)| Some((at, it, off(it)?)))
            .find(|(.., off)| off.abs() > allowed)?;
        Some(Self {
            of: MisclosureOf::Joint(it.what.run.joint.clone(), it.seq),
            suspects: string().suspects(off, allowed, at..at + 1),
        })
    }
}

/// What is compared: the joints that hang, and those that do not.
struct Comparison<'a> {
    run: Tally,
    pool: Tally,
    view: SlotView<'a>,
}

impl Comparison<'_> {
    fn suspects(&self, off: Length, within: Length, among: Range<usize>) -> Suspects {
        let measured = Measured {
            off,
            within: Some(within),
            among: Some(among),
            ..Measured::default()
        };
        let pins = self.view.slot.pipe.pins;
        suspects(&self.run, pins, Some(&self.pool), &measured)
    }
}

/// The landing of a string against its plan.
struct Landing {
    seq: u64,
    /// Measured less computed length from the running joint's lower make-up plane to the top.
    off: Length,
    /// The joints of that length.
    among: Range<usize>,
}

/// The landing, where the string is at rest, its shoulder has a plan, and its running joint hangs.
fn landing(
    inputs: &Inputs,
    view: SlotView<'_>,
    figures: &SlotFigures,
    hanging: &[Said<Hanging>],
) -> Option<Landing> {
    let read = inputs.stick_ups.get(view.index)?.as_ref()?;
    let chain = figures.as_read();
    if chain.basis != Basis::Read || !read.what.state.is_at_rest() {
        return None;
    }
    let plan = chain.plan(view.slot)?;
    if plan.of != PlanOf::Shoulder {
        return None;
    }
    let numbers = hanging.iter().map(|it| it.what.run.joint.as_str());
    let running = running_joint(view, numbers)?;
    let above: Length = hanging.iter().skip(running).map(|it| it.what.adds).sum();
    let top = chain.top? + chain.lean.rise(chain.string.landing_length);
    let plane = plan.planned - chain.lean.rise(view.slot.shoulder_offset?);
    Some(Landing {
        seq: read.seq,
        off: chain.lean.along(top - plane) - above,
        among: running..hanging.len(),
    })
}

/// The pipe that may be in the string without being entered: joints of the tally and of the pipe on deck that
/// hang nowhere.
fn not_run(inputs: &Inputs, view: SlotView<'_>, said: &SlotRecord) -> Tally {
    let hangs = |source: Source| said.hanging.iter().any(|it| it.what.source == source);
    let of_tally = view.tally.joints.iter().enumerate();
    let mut joints: Vec<Joint> = of_tally
        .filter(|(at, _)| !hangs(Source::Tally(*at)))
        .map(|(_, joint)| joint.clone())
        .collect();
    let hangs_anywhere = |source: Source| {
        let slots = inputs.record.slots.iter().flat_map(|slot| &slot.hanging);
        slots.into_iter().any(|it| it.what.source == source)
    };
    let of_pool = inputs.pool.iter().flat_map(|pool| &pool.joints).enumerate();
    let is_listed = |joint: &Joint| {
        let mut listed = view.tally.joints.iter();
        listed.any(|it| it.number == joint.number && it.serial == joint.serial)
    };
    joints.extend(
        of_pool
            .filter(|(at, joint)| !hangs_anywhere(Source::Pool(*at)) && !is_listed(joint))
            .map(|(_, joint)| joint.clone()),
    );
    Tally::of_joints(joints, view.tally.effective_only)
}
