//! How the figures with so many pieces in, and those of the frame, came about.

use super::derivation::{Derivation, How, step};
use crate::figures::{FrameFigures, Verdict, pieces_to_run, run_step};
use crate::report::words::side_of_surface;

impl Derivation<'_> {
    /// What the floor shows with so many pieces in.
    pub(super) fn run(&self, pieces_in: usize) -> Option<How> {
        let job = &self.inputs.job;
        let hull = &self.view.slot.hull;
        (pieces_in <= pieces_to_run(self.figures)).then_some(())?;
        let run = run_step(hull, self.figures, pieces_in);
        let (name, surface) = (&hull.name, hull.surface_name());
        let mut steps = vec![
            step(
                "length of what is in",
                self.length(run.length),
                format!("sum of {pieces_in} effective lengths"),
            ),
            step(
                format!("{surface} at hull position {name}"),
                self.elevation(hull.stick_up_surface()),
                format!("{}, rotary + stick_up_from", self.rotary_from(hull)),
            ),
            step(
                format!("shoe below RT, with the top level with {surface}"),
                self.length(run.shoe_below_rotary.downward()),
                "RT less surface plus length",
            ),
        ];
        if let (Some(stick_up), Some(shoe)) = (run.stick_up_at_place, self.figures.chain.shoe) {
            steps.extend([
                step("shoe at its place", self.elevation(shoe), "see the shoe"),
                step(
                    "+ length in = its top at its place",
                    self.elevation(shoe + run.length),
                    "shoe plus length",
                ),
                step(
                    "stick-up at its place",
                    format!(
                        "{} {} {surface}",
                        self.length(stick_up.abs()),
                        side_of_surface(stick_up)
                    ),
                    "top less surface; what is below remains to be lowered",
                ),
            ]);
        }
        for place in &run.fit {
            if let Some((accessory, height)) = job
                .accessories
                .get(place.accessory)
                .zip(place.above_lower_plane)
            {
                steps.push(step(
                    format!("fit {}: lower edge at", accessory.name),
                    self.elevation(accessory.elevation),
                    format!(
                        "{} above the {}",
                        self.length(height),
                        self.lower_end(pieces_in)
                    ),
                ));
            }
        }
        Some(How {
            title: format!("{} with {pieces_in} in", self.view.slot.name),
            result: format!("{} in", self.length(run.length)),
            steps,
        })
    }

    /// The frame's base, in the slot that carries it.
    pub(super) fn frame(&self, frame: &FrameFigures) -> Option<How> {
        let job = &self.inputs.job;
        let given = job.frame.as_ref()?;
        let (base, above) = (frame.base?, frame.above_mudline.as_ref()?);
        let shoulder = self.figures.chain.shoulder?.elevation?;
        let mut steps = vec![
            step(
                "landing shoulder",
                self.elevation(shoulder),
                "see the shoulder",
            ),
            step(
                "- landing ring above the frame's base",
                self.length(given.ring_above_base),
                "job.toml, frame.ring_above_base",
            ),
            step("= frame's base", self.elevation(base), "shoulder less ring"),
            step(
                "- mudline",
                self.elevation(self.view.mudline()),
                "job.toml, mudline",
            ),
        ];
        steps.extend(self.uncertainty(above));
        if let Some(window) = given.base_above_mudline {
            steps.push(step(
                "window",
                format!(
                    "{} to {}",
                    self.show.number(window.from),
                    self.length(window.to)
                ),
                "job.toml, frame.base_above_mudline",
            ));
        }
        let verdict = frame.verdict.map_or("no window given", Verdict::word);
        Some(How {
            title: "Frame's base above the mudline".to_owned(),
            result: format!("{}: {verdict}", self.length(above.value)),
            steps,
        })
    }
}
