//! How the figures of the chain came about: string length, stick-up, top, shoe, landing shoulder.

use std::ops::Range;

use super::derivation::{Derivation, DerivationStep, How, step};
use crate::figures::Basis;
use crate::job::Plan;
use crate::measure::Length;
use crate::report::words::{second_of_stick_up, side_of_surface};

impl Derivation<'_> {
    /// The length of the string, without its steps: there is one for each joint.
    pub(super) fn string_length_alone(&self) -> How {
        let string = &self.figures.chain.string;
        How {
            title: format!(
                "String length of {}: the sum of {} effective lengths",
                self.view.slot.name,
                string.pieces.len()
            ),
            result: self.length(string.length),
            steps: Vec::new(),
        }
    }

    /// The same with the steps of some of its joints.
    pub(super) fn string_length(&self, joints: Range<usize>) -> How {
        let string = &self.figures.chain.string;
        let steps = string
            .pieces
            .iter()
            .zip(&self.view.tally.joints)
            .skip(joints.start)
            .take(joints.len())
            .map(|(piece, joint)| {
                step(
                    format!("+ effective length of {}", joint.number),
                    self.length(piece.effective),
                    self.effective_of(joint, piece.effective),
                )
            })
            .collect();
        How {
            steps,
            ..self.string_length_alone()
        }
    }

    fn surface_steps(&self) -> Vec<DerivationStep> {
        let hull = &self.view.slot.hull;
        let (name, rotary) = (&hull.name, hull.rotary);
        let from = hull.stick_up_from;
        vec![
            step(
                format!("RT at hull position {name}"),
                self.elevation(rotary),
                self.rotary_source(hull),
            ),
            step(
                "+ spider above RT (stick_up_from)",
                self.length(from),
                "job.toml",
            ),
        ]
    }

    pub(super) fn stick_up(&self) -> Option<How> {
        let stick_up = self.figures.chain.stick_up?;
        let steps = if self.figures.chain.basis == Basis::Read {
            vec![step(
                "read (negative: below)",
                self.length(stick_up),
                self.stick_up_source(),
            )]
        } else {
            let mut steps = vec![step(
                "planned top",
                self.elevation(self.figures.chain.top?),
                self.plan(),
            )];
            steps.extend(self.landing_step("+"));
            let surface = self.surface_steps();
            steps.extend(surface.into_iter().map(|step| DerivationStep {
                what: format!("- {}", step.what.trim_start_matches("+ ")),
                ..step
            }));
            steps
        };
        Some(How {
            title: format!(
                "Stick-up of {} ({})",
                self.view.slot.name,
                self.figures.chain.basis.word()
            ),
            result: format!("{} {}", self.length(stick_up.abs()), self.surface(stick_up)),
            steps,
        })
    }

    fn stick_up_source(&self) -> String {
        let plan = self.figures.chain.plan(self.view.slot);
        let second = second_of_stick_up(plan, self.show);
        format!("{}; {second}", self.stick_up_from())
    }

    /// `ABOVE SPIDER`.
    fn surface(&self, stick_up: Length) -> String {
        format!(
            "{} {}",
            side_of_surface(stick_up),
            self.view.slot.hull.surface_name()
        )
    }

    fn plan(&self) -> String {
        match self.view.slot.plan {
            Some(Plan::Shoulder(shoulder)) => {
                format!("from plan_shoulder {}", self.elevation(shoulder))
            }
            Some(Plan::Top(_)) => "job.toml, plan_top".to_owned(),
            None => "job.toml".to_owned(),
        }
    }

    fn landing_step(&self, sign: &str) -> Option<DerivationStep> {
        let string = &self.figures.chain.string;
        (!string.landing.is_empty()).then(|| {
            step(
                format!("{sign} landing string, {} pieces", string.landing.len()),
                self.length(string.landing_length),
                self.view.slot.tally.display().to_string(),
            )
        })
    }

    pub(super) fn top(&self) -> Option<How> {
        let top = self.figures.chain.top?;
        let steps = if self.figures.chain.basis == Basis::Read {
            let mut steps = self.surface_steps();
            steps.push(step(
                "+ stick-up",
                self.length(self.figures.chain.stick_up?),
                self.stick_up_source(),
            ));
            steps.extend(self.landing_step("-"));
            let landing = self.figures.chain.string.landing_length;
            let leans = self.by_inclination(landing).filter(|_| !landing.is_zero());
            steps.extend(leans);
            let read = self.figures.as_read().top?;
            steps.extend(self.by_all_readings(read, top));
            steps
        } else if let Some(Plan::Shoulder(shoulder)) = self.view.slot.plan {
            let height = top - shoulder;
            vec![
                step(
                    "planned shoulder",
                    self.elevation(shoulder),
                    "job.toml, plan_shoulder",
                ),
                step(
                    "+ string above the shoulder",
                    self.length(height),
                    self.view.slot.tally.display().to_string(),
                ),
            ]
        } else {
            vec![step(
                "planned top",
                self.elevation(top),
                "job.toml, plan_top",
            )]
        };
        Some(How {
            title: format!(
                "Top of {} ({})",
                self.view.slot.name,
                self.figures.chain.basis.word()
            ),
            result: self.elevation(top),
            steps,
        })
    }

    pub(super) fn shoe(&self) -> Option<How> {
        let (top, shoe) = (self.figures.chain.top?, self.figures.chain.shoe?);
        let (name, rotary) = (&self.view.slot.hull.name, self.figures.chain.rotary);
        let mudline = self.view.mudline();
        let length = self.figures.chain.string.length;
        let mut steps = vec![
            step("top", self.elevation(top), "see the top"),
            step(
                "- string length",
                self.length(length),
                "see the string length",
            ),
        ];
        steps.extend(self.by_inclination(length));
        let lean = self.figures.chain.lean;
        steps.extend(self.by_all_readings(top - lean.rise(length), shoe));
        steps.extend([
            step(
                format!("depth below RT at hull position {name}"),
                self.length(rotary.depth_of(shoe).downward()),
                "RT less shoe",
            ),
            step(
                "below the mudline",
                self.length(mudline - shoe),
                "mudline less shoe",
            ),
        ]);
        Some(How {
            title: format!(
                "Shoe of {} ({})",
                self.view.slot.name,
                self.figures.chain.basis.word()
            ),
            result: self.elevation(shoe),
            steps,
        })
    }

    pub(super) fn shoulder(&self) -> Option<How> {
        let shoulder = self.figures.chain.shoulder?;
        let elevation = shoulder.elevation?;
        let lower = self.figures.chain.lower_plane(shoulder.piece)?;
        let (name, rotary) = (&self.view.slot.hull.name, self.figures.chain.rotary);
        let mudline = self.view.mudline();
        Some(How {
            title: format!(
                "Landing shoulder of {} on {}",
                self.view.slot.name,
                self.number(shoulder.piece)
            ),
            result: self.elevation(elevation),
            steps: vec![
                step(
                    self.lower_end(shoulder.piece),
                    self.elevation(lower),
                    "shoe plus the effective lengths below it",
                ),
                step(
                    "+ shoulder offset",
                    self.length(self.view.slot.shoulder_offset?),
                    "job.toml, shoulder_offset",
                ),
                step(
                    format!("depth below RT at hull position {name}"),
                    self.length(rotary.depth_of(elevation).downward()),
                    "RT less shoulder",
                ),
                step(
                    "above the mudline",
                    self.length(elevation - mudline),
                    "shoulder less mudline",
                ),
                step(
                    "above the deck plane (negative: below)",
                    self.length(elevation - self.inputs.job.deck.elevation),
                    "shoulder less deck elevation",
                ),
            ],
        })
    }
}
