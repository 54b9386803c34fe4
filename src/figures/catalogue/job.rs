//! The figures of the job as a whole.

use super::entry::{Entry, FigureId, Value};
use super::subject::Subject;
use crate::figures::estimate::Estimate;
use crate::figures::whole::Figures;
use crate::job::Job;

/// The frame and the spread of the cuts, in the order of JSON.
pub fn of_job(job: &Job, figures: &Figures) -> Vec<Entry> {
    let mut entries = Vec::with_capacity(9);
    match &figures.frame {
        None => entries.push(Entry::new(FigureId::Frame, "frame", Value::Absent)),
        Some(frame) => {
            let slot = job.slots.get(frame.slot).map(|slot| slot.name.clone());
            let above = frame.above_mudline.as_ref();
            entries.extend([
                Entry::new(FigureId::FrameSlot, "frame.slot", Value::Name(slot)),
                Entry::new(
                    FigureId::FrameBase,
                    "frame.base_elevation_m",
                    Value::Elevation(frame.base),
                )
                .opens(Subject::Frame),
                Entry::new(
                    FigureId::FrameAboveMudline,
                    "frame.base_above_mudline_m",
                    Value::Length(above.map(|above| above.value)),
                )
                .opens(Subject::Frame),
                Entry::new(
                    FigureId::FrameUncertainty,
                    "frame.uncertainty_m",
                    Value::Uncertainty(above.and_then(Estimate::variance)),
                )
                .opens(Subject::Frame),
                Entry::new(
                    FigureId::FrameState,
                    "frame.state",
                    Value::Verdict(frame.verdict),
                )
                .opens(Subject::Frame),
            ]);
        }
    }
    let spread = &figures.spread;
    let value = spread.value.as_ref();
    entries.extend([
        Entry::new(FigureId::Cuts, "spread.cuts", Value::Count(spread.cuts)),
        Entry::new(
            FigureId::Spread,
            "spread.value_m",
            Value::Length(value.map(|value| value.value)),
        ),
        Entry::new(
            FigureId::SpreadUncertainty,
            "spread.uncertainty_m",
            Value::Uncertainty(value.and_then(Estimate::variance)),
        ),
        Entry::new(
            FigureId::SpreadState,
            "spread.state",
            Value::Verdict(spread.verdict),
        ),
    ]);
    entries
}
