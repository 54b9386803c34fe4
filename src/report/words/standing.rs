//! Words of every sheet, and small helpers of writing.

use crate::figures::Figures;
use crate::job::{Elevations, Job, SlotSet};
use crate::measure::{Length, LengthFormat, Unit};

/// The caution on every sheet.
pub const CAUTION: &str = "CAUTION: this sheet computes, it does not authorise. Verify by an independent measurement, by a second \
person and from another mark, before any cut. Cutting, lifting and work at height over water follow the permit, the lifting \
plan and the responsible person's instructions; local codes and licensed practice decide. A cut cannot be undone.";

/// What the scribed line is.
pub const SCRIBE: &str = "The scribed line is the finished top; the blade runs above it.";

/// By what rule something is proven, wherever a verdict is shown.
pub const PROOF: &str = "U = 2 u (k = 2). Within, outside and unproven by ISO 14253-1:2017, probability of conformity by JCGM 106:2012.";

/// What was not corrected.
pub const NO_CORRECTION: &str = "No temperature or stretch correction applied.";

/// Which conductors lean, and that the others are taken as upright.
fn inclinations(job: &Job) -> String {
    let leans = job.slots.iter().filter_map(|slot| {
        let degrees = slot.inclination?;
        Some(format!("{} {degrees} deg", slot.name))
    });
    let leans: Vec<String> = leans.collect();
    let all = leans.join(", ");
    match leans.len() {
        0 => "Every conductor is taken as upright.".to_owned(),
        some if some == job.slots.len() => format!("Inclination counts: {all}."),
        _ => format!("Inclination counts: {all}; the others are taken as upright."),
    }
}

/// Which corrections the figures of a job hold.
pub fn corrections_held(job: &Job, figures: &Figures) -> String {
    let levels = figures.levels.as_ref().map(|it| &it.levels.read);
    let done = levels.into_iter().flat_map(|it| &it.corrections);
    let mut kinds: Vec<&str> = done.map(|it| it.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let inclinations = inclinations(job);
    let none = kinds.is_empty();
    let kinds = kinds.join(", ");
    match (none, job.cut.elevations) {
        (true, _) => format!("{NO_CORRECTION} {inclinations}"),
        (false, Elevations::Chain) => format!(
            "{NO_CORRECTION} Corrections ({kinds}) are in the elevations by all readings alone. {inclinations}"
        ),
        (false, Elevations::Adjusted) => {
            format!("Corrected before all readings were adjusted: {kinds}. {inclinations}")
        }
    }
}

/// A count with its noun, `1 connection` or `2 connections`.
pub fn counted(count: usize, noun: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{ending}")
}

/// A length in the unit in use and in the other system.
pub fn both(show: LengthFormat, length: Length) -> [String; 2] {
    let other = LengthFormat::new(if show.unit() == Unit::Metre {
        Unit::FootInch
    } else {
        Unit::Metre
    });
    [show.text(length), other.text(length)]
}

/// The names of the slots that something applies to.
pub fn slot_names(slots: &SlotSet, job: &Job) -> String {
    match slots {
        SlotSet::All => "all slots".to_owned(),
        SlotSet::Some(slots) => slots
            .iter()
            .filter_map(|slot| job.slots.get(*slot))
            .map(|slot| slot.name.as_str())
            .collect::<Vec<_>>()
            .join(", "),
    }
}
