//! What the screens show of a job and is made of it once a reading, whatever is drawn how often.

use super::tally::{FilledColumns, JointNames};
use crate::figures::{self, Figures, Levels, levels_of};
use crate::journal::Inputs;
use crate::report::words;
use crate::signing;

/// A job as it was read, with what is derived from it.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The job with its tallies.
    pub inputs: Inputs,
    /// What is derived from it.
    pub figures: Figures,
    /// By slot, the code of its slip: it rests on every joint.
    pub slips: Vec<String>,
    /// By slot, what its joints are called.
    pub names: Vec<JointNames>,
    /// By slot, the columns of its tally that are not empty.
    pub filled: Vec<FilledColumns>,
    /// All readings of heights, adjusted, or why they are not.
    pub levels: Result<Levels, String>,
}

impl From<Inputs> for Loaded {
    fn from(inputs: Inputs) -> Self {
        let mut figures = figures::of_inputs(&inputs);
        signing::note_signatures(&inputs, &mut figures);
        let levels = match &figures.levels {
            Some(known) => Ok(known.levels.clone()),
            None => levels_of(&inputs).map(|(levels, _)| levels),
        };
        let slots = 0..figures.slots.len();
        Self {
            slips: slots
                .map(|slot| words::slip_code(&inputs, &figures, slot))
                .collect(),
            names: inputs.tallies.iter().map(JointNames::of).collect(),
            filled: inputs.tallies.iter().map(FilledColumns::of).collect(),
            levels: levels.map_err(|error| error.to_string()),
            inputs,
            figures,
        }
    }
}
