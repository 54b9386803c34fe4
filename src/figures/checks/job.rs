//! Flags of the job as a whole: the frame, the spread of the cuts, what is not stated.

use std::collections::HashMap;

use crate::figures::chain::SlotView;
use crate::figures::slot::SlotFigures;
use crate::figures::together::{FrameFigures, Spread, spread_variance};
use crate::figures::verdict::Verdict;
use crate::finding::{Code, CutFinding, Flag, JobFinding, Named, Place, ProofOf, SharedSerial};
use crate::job::Job;
use crate::tally::Kind;

/// Most shared serials that are named.
const NAMED: usize = 6;

/// The flags of a job, in no set order.
pub(in crate::figures) fn job(
    job: &Job,
    views: &[SlotView<'_>],
    slots: &[SlotFigures],
    frame: Option<&FrameFigures>,
    spread: &Spread,
) -> Vec<Flag> {
    let mut flags = Vec::new();
    flags.extend(frame.and_then(frame_flag));
    flags.extend(spread_flag(job, spread));
    if let (Some(limit), Some(variance)) = (job.cut.spread, spread_variance(job))
        && !variance.expanded_is_within(limit)
    {
        flags.push(Flag::new(
            Code::ToleranceBelowUncertainty,
            Place::Whole,
            CutFinding::ToleranceBelowUncertainty {
                of: ProofOf::Spread,
                uncertainty: variance.expanded(),
                limit,
            },
        ));
    }
    let keys = missing_uncertainties(job, slots, frame);
    if !keys.is_empty() {
        flags.push(Flag::new(
            Code::UncertaintyMissing,
            Place::Whole,
            JobFinding::UncertaintyMissing { keys },
        ));
    }
    flags.extend(serial_in_two_slots(views));
    flags
}

fn frame_flag(frame: &FrameFigures) -> Option<Flag> {
    let above = frame.above_mudline.as_ref()?;
    let (code, outside) = match frame.verdict? {
        Verdict::Within => return None,
        Verdict::Unproven => (Code::FrameUnproven, false),
        Verdict::Outside => (Code::FrameOutside, true),
    };
    let finding = JobFinding::FrameBase {
        height: above.value,
        uncertainty: above.expanded(),
        outside,
    };
    Some(Flag::new(code, Place::Whole, finding))
}

fn spread_flag(job: &Job, spread: &Spread) -> Option<Flag> {
    let (value, limit) = (spread.value.as_ref()?, job.cut.spread?);
    let (code, outside) = match spread.verdict? {
        Verdict::Within => return None,
        Verdict::Unproven => (Code::SpreadUnproven, false),
        Verdict::Outside => (Code::SpreadOutside, true),
    };
    let finding = JobFinding::Spread {
        value: value.value,
        uncertainty: value.expanded(),
        limit,
        outside,
    };
    Some(Flag::new(code, Place::Whole, finding))
}

/// The keys without a default that a figure which is shown needs.
fn missing_uncertainties(
    job: &Job,
    slots: &[SlotFigures],
    frame: Option<&FrameFigures>,
) -> Vec<&'static str> {
    let stated = &job.uncertainty;
    let marked = slots.iter().any(|slot| slot.cut.place.is_some());
    let frame_shown = frame.is_some_and(|frame| frame.base.is_some());
    let elevations = marked || frame_shown;
    let measured = slots.iter().any(|slot| slot.cut.as_cut.is_some());
    // Marks from planes rest on joints, and so does the frame; every place has such a mark.
    [
        ("strap", elevations && stated.strap.is_none()),
        ("stick_up", elevations && stated.stick_up.is_none()),
        ("rotary", elevations && stated.rotary.is_none()),
        ("as_cut", measured && stated.as_cut.is_none()),
    ]
    .into_iter()
    .filter(|(_, missing)| *missing)
    .map(|(key, _)| key)
    .collect()
}

fn serial_in_two_slots(views: &[SlotView<'_>]) -> Option<Flag> {
    let mut first_in: HashMap<&str, &SlotView<'_>> = HashMap::new();
    let mut shared: Vec<SharedSerial> = Vec::new();
    let mut more = 0;
    for view in views {
        let joints = view.tally.joints.iter();
        for joint in joints.filter(|joint| joint.kind != Some(Kind::Landing)) {
            let Some(serial) = joint.serial.as_deref() else {
                continue;
            };
            let first = *first_in.entry(serial).or_insert(view);
            if first.index == view.index {
                continue;
            }
            if shared.len() == NAMED {
                more += 1;
                continue;
            }
            shared.push(SharedSerial {
                serial: serial.to_owned(),
                first: first.slot.name.clone(),
                second: view.slot.name.clone(),
                line: joint.line,
            });
        }
    }
    let serials = Named {
        first: shared,
        more,
    };
    (!serials.first.is_empty()).then(|| {
        Flag::new(
            Code::SerialInTwoSlots,
            Place::Whole,
            JobFinding::SharedSerials { serials },
        )
    })
}
