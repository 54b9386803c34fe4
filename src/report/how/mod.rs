//! How a figure came about: the formula with its numbers, and the lines of the files.

mod cut;
mod run;

use super::Figures;
use super::side_of_surface;
use super::slot::{Basis, SlotFigures};
use crate::job::{self, Inputs, Slot};
use crate::measure::{Elevation, Length, LengthFormat};
use crate::tally::{Joint, Tally};

/// A figure that can be opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// The length of the string.
    StringLength,
    /// The stick-up, read or to be read.
    StickUp,
    /// The top.
    Top,
    /// The shoe.
    Shoe,
    /// The landing shoulder.
    Shoulder,
    /// The cut's target.
    CutTarget,
    /// The cut below RT.
    CutBelowRotary,
    /// Which joint the cut lies in, and how far from connections.
    CutPlace,
    /// A mark, by its index.
    Mark(usize),
    /// The off-cut.
    Offcut,
    /// The finished top.
    AsCut,
    /// An accessory, by its index among the slot's.
    Accessory(usize),
    /// The lower make-up plane of a piece.
    Plane(usize),
    /// The frame's base, of the slot that carries it.
    Frame,
    /// The string with so many pieces in.
    Run(usize),
}

/// How a figure came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct How {
    /// What it is.
    pub title: String,
    /// The figure.
    pub result: String,
    /// From what, in order.
    pub steps: Vec<Step>,
}

/// One line of how a figure came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What it is, with the sign by which it counts.
    pub what: String,
    /// Its value.
    pub value: String,
    /// Where it comes from.
    pub source: String,
}

/// The figures of a slot that can be opened, in the order in which they are shown. Make-up planes
/// are left out: each joint's row opens its own.
pub fn subjects(whole: &Figures, slot: usize) -> Vec<Subject> {
    let Some(figures) = whole.slots.get(slot) else {
        return Vec::new();
    };
    let mut subjects = vec![Subject::StringLength];
    if figures.basis != Basis::None {
        subjects.extend([Subject::StickUp, Subject::Top, Subject::Shoe]);
    }
    if figures
        .shoulder
        .is_some_and(|shoulder| shoulder.elevation.is_some())
    {
        subjects.push(Subject::Shoulder);
    }
    subjects.extend([Subject::CutTarget, Subject::CutBelowRotary]);
    if let Some(place) = &figures.cut.place {
        subjects.push(Subject::CutPlace);
        subjects.extend((0..place.marks.len()).map(Subject::Mark));
        subjects.push(Subject::Offcut);
    }
    if figures.cut.as_cut.is_some() {
        subjects.push(Subject::AsCut);
    }
    let placed = figures
        .accessories
        .iter()
        .enumerate()
        .filter(|(_, place)| place.piece.is_some());
    subjects.extend(placed.map(|(index, _)| Subject::Accessory(index)));
    let frame = whole.frame.as_ref().filter(|frame| frame.slot == slot);
    if frame.is_some_and(|frame| frame.base.is_some()) {
        subjects.push(Subject::Frame);
    }
    subjects
}

/// How a figure of a slot came about; `None` where there is no such figure.
pub fn how(
    inputs: &Inputs,
    figures: &Figures,
    slot: usize,
    subject: Subject,
    show: LengthFormat,
) -> Option<How> {
    let derivation = Derivation {
        inputs,
        slot: inputs.job.slots.get(slot)?,
        tally: inputs.tallies.get(slot)?,
        figures: figures.slots.get(slot)?,
        show,
    };
    match subject {
        Subject::StringLength => Some(derivation.string_length()),
        Subject::StickUp => derivation.stick_up(),
        Subject::Top => derivation.top(),
        Subject::Shoe => derivation.shoe(),
        Subject::Shoulder => derivation.shoulder(),
        Subject::CutTarget => Some(derivation.cut_target(slot)),
        Subject::CutBelowRotary => Some(derivation.cut_below_rotary()),
        Subject::CutPlace => derivation.cut_place(),
        Subject::Mark(index) => derivation.mark(index),
        Subject::Offcut => derivation.offcut(),
        Subject::AsCut => derivation.as_cut(),
        Subject::Accessory(index) => derivation.accessory(index),
        Subject::Plane(piece) => derivation.plane(piece),
        Subject::Frame => derivation.frame(figures.frame.as_ref()?),
        Subject::Run(pieces_in) => derivation.run(pieces_in),
    }
}

struct Derivation<'a> {
    inputs: &'a Inputs,
    slot: &'a Slot,
    tally: &'a Tally,
    figures: &'a SlotFigures,
    show: LengthFormat,
}

fn step(what: impl Into<String>, value: impl Into<String>, source: impl Into<String>) -> Step {
    Step {
        what: what.into(),
        value: value.into(),
        source: source.into(),
    }
}

impl Derivation<'_> {
    fn length(&self, length: Length) -> String {
        self.show.text(length)
    }

    fn elevation(&self, elevation: Elevation) -> String {
        format!(
            "{} {}",
            self.show.text(elevation.height()),
            self.inputs.job.sea_datum
        )
    }

    fn tally_line(&self, joint: &Joint) -> String {
        format!("{} line {}", self.slot.tally.display(), joint.line)
    }

    fn joint(&self, piece: usize) -> Option<&Joint> {
        self.tally
            .joints
            .get(self.figures.string.pieces.get(piece)?.joint)
    }

    fn number(&self, piece: usize) -> &str {
        self.figures.number(self.tally, piece)
    }

    fn lower_end(&self, piece: usize) -> String {
        self.figures.counted_from(self.tally, piece)
    }

    fn hull(&self, index: usize) -> (&str, Elevation) {
        let zero = Elevation::above_datum(Length::ZERO);
        self.inputs
            .job
            .hulls
            .get(index)
            .map_or(("", zero), |hull| (hull.name.as_str(), hull.rotary))
    }

    fn string_length(&self) -> How {
        let string = &self.figures.string;
        let joint_of = |index: usize| self.tally.joints.get(index);
        let steps = string
            .pieces
            .iter()
            .filter_map(|piece| Some((piece, joint_of(piece.joint)?)))
            .map(|(piece, joint)| {
                step(
                    format!("+ effective length of {}", joint.number),
                    self.length(piece.effective),
                    self.effective_of(joint, piece.effective),
                )
            })
            .collect();
        How {
            title: format!(
                "String length of {}: the sum of {} effective lengths",
                self.slot.name,
                string.pieces.len()
            ),
            result: self.length(string.length),
            steps,
        }
    }

    /// `12.192 - 0.152, tallies/a.csv line 5`.
    fn effective_of(&self, joint: &Joint, effective: Length) -> String {
        let line = self.tally_line(joint);
        match joint.overall {
            Some(overall) if overall != effective => {
                format!(
                    "{} - {}, {line}",
                    self.show.number(overall),
                    self.show.number(overall - effective)
                )
            }
            Some(_) => format!("overall, nothing deducted, {line}"),
            None => format!("as written, {line}"),
        }
    }

    fn surface_steps(&self) -> Vec<Step> {
        let (name, rotary) = self.hull(self.slot.hull);
        let from = self
            .inputs
            .job
            .hulls
            .get(self.slot.hull)
            .map_or(Length::ZERO, |hull| hull.stick_up_from);
        vec![
            step(
                format!("RT at hull position {name}"),
                self.elevation(rotary),
                "job.toml",
            ),
            step(
                "+ spider above RT (stick_up_from)",
                self.length(from),
                "job.toml",
            ),
        ]
    }

    fn stick_up(&self) -> Option<How> {
        let stick_up = self.figures.stick_up?;
        let steps = if self.figures.basis == Basis::Read {
            vec![step(
                "read (negative: below)",
                self.length(stick_up),
                "job.toml, stick_up",
            )]
        } else {
            let mut steps = vec![step(
                "planned top",
                self.elevation(self.figures.top?),
                self.plan(),
            )];
            steps.extend(self.landing_step("+"));
            let surface = self.surface_steps();
            steps.extend(surface.into_iter().map(|step| Step {
                what: format!("- {}", step.what.trim_start_matches("+ ")),
                ..step
            }));
            steps
        };
        Some(How {
            title: format!(
                "Stick-up of {} ({})",
                self.slot.name,
                self.figures.basis.word()
            ),
            result: format!("{} {}", self.length(stick_up.abs()), self.surface(stick_up)),
            steps,
        })
    }

    /// `ABOVE SPIDER`.
    fn surface(&self, stick_up: Length) -> String {
        let hull = self.inputs.job.hulls.get(self.slot.hull);
        let surface = hull.map_or("RT", job::Hull::surface_name);
        format!("{} {surface}", side_of_surface(stick_up))
    }

    fn plan(&self) -> String {
        match self.slot.basis {
            job::Basis::PlanShoulder(shoulder) => {
                format!("from plan_shoulder {}", self.elevation(shoulder))
            }
            job::Basis::PlanTop(_) => "job.toml, plan_top".to_owned(),
            _ => "job.toml".to_owned(),
        }
    }

    fn landing_step(&self, sign: &str) -> Option<Step> {
        let string = &self.figures.string;
        (!string.landing.is_empty()).then(|| {
            step(
                format!("{sign} landing string, {} pieces", string.landing.len()),
                self.length(string.landing_length),
                self.slot.tally.display().to_string(),
            )
        })
    }

    fn top(&self) -> Option<How> {
        let top = self.figures.top?;
        let steps = if self.figures.basis == Basis::Read {
            let mut steps = self.surface_steps();
            steps.push(step(
                "+ stick-up",
                self.length(self.figures.stick_up?),
                "job.toml, stick_up",
            ));
            steps.extend(self.landing_step("-"));
            steps
        } else if let job::Basis::PlanShoulder(shoulder) = self.slot.basis {
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
                    self.slot.tally.display().to_string(),
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
            title: format!("Top of {} ({})", self.slot.name, self.figures.basis.word()),
            result: self.elevation(top),
            steps,
        })
    }

    fn shoe(&self) -> Option<How> {
        let (top, shoe) = (self.figures.top?, self.figures.shoe?);
        let (name, rotary) = self.hull(self.slot.hull);
        let mudline = self.inputs.job.mudline(self.slot);
        Some(How {
            title: format!("Shoe of {} ({})", self.slot.name, self.figures.basis.word()),
            result: self.elevation(shoe),
            steps: vec![
                step("top", self.elevation(top), "see the top"),
                step(
                    "- string length",
                    self.length(self.figures.string.length),
                    "see the string length",
                ),
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
            ],
        })
    }

    fn shoulder(&self) -> Option<How> {
        let shoulder = self.figures.shoulder?;
        let elevation = shoulder.elevation?;
        let lower = self.figures.lower_plane(shoulder.piece)?;
        let (name, rotary) = self.hull(self.slot.hull);
        let mudline = self.inputs.job.mudline(self.slot);
        Some(How {
            title: format!(
                "Landing shoulder of {} on {}",
                self.slot.name,
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
                    self.length(self.slot.shoulder_offset?),
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
