//! Sentences, each written once, with their quantities in the units in use.

mod cut;
mod figures;
mod flags;
mod lists;
mod places;
mod reader;
mod reconcile;
mod sources;
mod standing;
mod verdicts;

pub use cut::{
    clearance_word, cut_state, lift_word, marks_heading, may_be_cut, no_place, not_independent,
    offcut_mass, stops, unjudged,
};
pub use figures::{accessory_name, change, figure_name, plain_name};
pub use flags::flag;
pub use lists::effect;
pub use places::{
    counted_from, direction, mark_name, reading, reference, rests_on, side_of_surface,
};
pub use reader::{file_note, skip_reason};
pub use reconcile::{bridge_line, difference, mistake, note, pair, refusal, sources, suspect};
pub use sources::source;
pub use standing::{CAUTION, NO_CORRECTION, SCRIBE, both, counted, counted_as_zero, slot_names};
pub use verdicts::{height_verdict, known, level_words, probability_words, stated};
