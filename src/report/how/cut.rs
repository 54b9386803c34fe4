//! How the cut, its marks, the off-cut, the finished top and what is fixed to the string came about.

use super::derivation::{Derivation, DerivationStep, How, step};
use crate::figures::{Connection, Mark, MarkFrom, Verdict, plane_estimate, steel};
use crate::measure::Elevation;
use crate::report::words::{self, probability_words, reference, rests_on, slot_names};

impl Derivation<'_> {
    pub(super) fn cut_target(&self) -> How {
        let job = &self.inputs.job;
        let mut steps = vec![
            step(
                "deck elevation",
                self.elevation(job.deck.elevation),
                format!(
                    "job.toml, deck.elevation; {}",
                    words::second_of_deck(self.ways, self.show)
                ),
            ),
            step(
                "+ slot's cut offset",
                self.length(self.view.slot.cut_offset),
                "job.toml, cut_offset",
            ),
        ];
        let allowances = job
            .allowances
            .iter()
            .filter(|allowance| allowance.slots.has(self.view.index));
        steps.extend(allowances.map(|allowance| {
            step(
                format!("+ allowance: {}", allowance.why),
                self.show.small_signed(allowance.value),
                format!("job.toml, {}", slot_names(&allowance.slots, job)),
            )
        }));
        How {
            title: format!("Cut target of {}: the finished top", self.view.slot.name),
            result: self.elevation(self.figures.cut.target),
            steps,
        }
    }

    pub(super) fn cut_below_rotary(&self) -> How {
        let hull = &self.inputs.job.cut.hull;
        let (name, rotary) = (&hull.name, hull.rotary);
        let target = self.figures.cut.target;
        let mut steps = vec![step(
            format!("RT at hull position {name}, from which the cut is measured"),
            self.elevation(rotary),
            self.rotary_source(hull),
        )];
        steps.extend(self.by_all_readings(rotary, self.figures.chain.cut_rotary));
        steps.push(step(
            "- cut target",
            self.elevation(target),
            "see the cut target",
        ));
        How {
            title: format!("Cut of {} below RT", self.view.slot.name),
            result: self.length(self.figures.cut.below_rotary.downward()),
            steps,
        }
    }

    pub(super) fn cut_place(&self) -> Option<How> {
        let place = self.figures.cut.place.as_ref()?;
        let (target, kerf) = (self.figures.cut.target, self.inputs.job.cut.kerf);
        let lower = self.figures.chain.lower_plane(place.piece)?;
        let nearest = self
            .figures
            .connections
            .iter()
            .min_by_key(|connection| connection.distance(target, target + kerf));
        let mut steps = vec![
            step(
                self.lower_end(place.piece),
                self.elevation(lower),
                self.joint(place.piece)
                    .map_or_else(String::new, |joint| self.tally_line(joint)),
            ),
            step(
                "cut above it",
                self.length(place.above_lower_plane),
                "target less plane",
            ),
            step(
                "cut below the upper plane",
                self.length(place.below_upper_plane),
                "plane less target",
            ),
        ];
        steps.extend(nearest.map(|connection| self.clearance(connection)));
        steps.extend(place.to_shoulder.map(|distance| {
            step(
                "kerf to the landing shoulder",
                self.length(distance),
                "see the shoulder",
            )
        }));
        Some(How {
            title: format!("Where the cut of {} lies", self.view.slot.name),
            result: format!("in {}", self.number(place.piece)),
            steps,
        })
    }

    fn clearance(&self, connection: &Connection) -> DerivationStep {
        let (target, kerf) = (self.figures.cut.target, self.inputs.job.cut.kerf);
        let what = if connection.open_box {
            "kerf to the open box at the top".to_owned()
        } else {
            format!(
                "kerf to the connection {}/{}",
                self.number(connection.below),
                self.number(connection.below + 1)
            )
        };
        let span = format!(
            "it reaches from {} to {}",
            self.show.number(connection.from.height()),
            self.show.number(connection.to.height())
        );
        step(
            what,
            self.length(connection.distance(target, target + kerf)),
            span,
        )
    }

    pub(super) fn mark(&self, from: MarkFrom) -> Option<How> {
        let place = self.figures.cut.place.as_ref()?;
        let mark = place.marks.iter().find(|mark| mark.from == from)?;
        let elevation = self.mark_reference(mark, place.piece)?;
        let from = reference(self.view, self.figures, from);
        let mut steps = vec![
            step(
                from.clone(),
                self.elevation(elevation),
                rests_on(self.view, self.figures, mark, self.show).join(", "),
            ),
            step(
                "cut target",
                self.elevation(self.figures.cut.target),
                "see the cut target",
            ),
        ];
        steps.extend(self.uncertainty(&mark.distance));
        let way = if mark.is_upward() { "UP" } else { "DOWN" };
        Some(How {
            title: format!("Cut of {} from {from}", self.view.slot.name),
            result: format!("{} {way} from it", self.length(mark.distance.value.abs())),
            steps,
        })
    }

    /// The elevation of what a mark is measured from.
    fn mark_reference(&self, mark: &Mark, piece: usize) -> Option<Elevation> {
        match mark.from {
            MarkFrom::Rotary => Some(self.figures.chain.cut_rotary),
            MarkFrom::LowerPlane => self.figures.chain.lower_plane(piece),
            MarkFrom::UpperPlane => self.figures.chain.lower_plane(piece + 1),
            MarkFrom::Top => self.figures.chain.top,
            MarkFrom::Bench(index) => self.figures.chain.benches.get(index).copied(),
        }
    }

    pub(super) fn offcut(&self) -> Option<How> {
        let place = self.figures.cut.place.as_ref()?;
        let job = &self.inputs.job;
        let pipe = &self.view.slot.pipe;
        let per_metre = steel::mass_per_metre(pipe);
        let origin = if pipe.weighed_mass_per_metre.is_some() {
            "job.toml, mass_per_metre"
        } else {
            "pi (D - t) t x density"
        };
        let connector = pipe.connector_mass.map_or_else(
            || "not given".to_owned(),
            |mass| format!("{mass:.1} kg each"),
        );
        Some(How {
            title: format!(
                "Off-cut of {}: what the crane must lift",
                self.view.slot.name
            ),
            result: format!(
                "{}, {:.0} kg",
                self.length(place.offcut_length),
                place.offcut_mass
            ),
            steps: vec![
                step(
                    "top",
                    self.elevation(self.figures.chain.top?),
                    "see the top",
                ),
                step(
                    "- cut target",
                    self.elevation(self.figures.cut.target),
                    "see the cut target",
                ),
                step(
                    "- kerf",
                    self.show.small(job.cut.kerf),
                    "job.toml, cut.kerf",
                ),
                step("mass per metre", format!("{per_metre:.2} kg/m"), origin),
                step(
                    format!("connectors in it: {}", place.offcut_connections),
                    connector,
                    "job.toml, connector_mass",
                ),
            ],
        })
    }

    pub(super) fn as_cut(&self) -> Option<How> {
        let as_cut = self.figures.cut.as_cut.as_ref()?;
        let readings = self.view.slot.as_cut.iter().enumerate();
        let mut steps: Vec<DerivationStep> = readings
            .map(|(index, elevation)| {
                step(
                    format!("reading {}", index + 1),
                    self.elevation(*elevation),
                    self.as_cut_from(),
                )
            })
            .collect();
        steps.push(step(
            "cut target",
            self.elevation(self.figures.cut.target),
            "see the cut target",
        ));
        steps.push(step(
            "deviation of the mean",
            self.show.small_signed(as_cut.deviation.rounded()),
            "mean less target",
        ));
        steps.extend(self.uncertainty(&as_cut.mean));
        if let Some(tolerance) = self.inputs.job.cut.tolerance {
            steps.push(step(
                "tolerance (±)",
                self.show.small(tolerance),
                "job.toml, cut.tolerance",
            ));
        }
        if let Some(probability) = as_cut.probability {
            steps.push(step(
                "probability of conformity",
                probability_words(probability),
                "normal distribution, JCGM 106",
            ));
        }
        if let Some(level) = &as_cut.out_of_level {
            steps.push(step(
                "highest less lowest reading",
                self.show.small(level.value),
                "how level the top is",
            ));
            steps.extend(self.uncertainty(level));
        }
        let word = |verdict: Option<Verdict>| verdict.map_or("not judged", Verdict::word);
        let verdicts = [("its height", as_cut.height), ("its level", as_cut.level)];
        steps.extend(verdicts.map(|(what, verdict)| step(what, word(verdict), words::PROOF)));
        let verdict = as_cut.verdict.map_or("no tolerance given", Verdict::word);
        Some(How {
            title: format!("Finished top of {}", self.view.slot.name),
            result: format!("{}: {verdict}", self.length(as_cut.mean.value.rounded())),
            steps,
        })
    }

    pub(super) fn accessory(&self, index: usize) -> Option<How> {
        let place = self.figures.accessories.get(index)?;
        let accessory = self.inputs.job.accessories.get(place.accessory)?;
        let piece = place.piece?;
        let clear = match place.clear {
            Some(true) => "clear of connections",
            Some(false) => "TOUCHES a connection",
            None => "",
        };
        Some(How {
            title: format!("Where {} goes on {}", accessory.name, self.view.slot.name),
            result: format!(
                "on {}, its lower edge {} above {}",
                self.number(piece),
                self.length(place.above_lower_plane?),
                self.lower_end(piece)
            ),
            steps: vec![
                step(
                    "lower edge must end at",
                    self.elevation(accessory.elevation),
                    "job.toml, accessory",
                ),
                step(
                    format!("- {}", self.lower_end(piece)),
                    self.elevation(self.figures.chain.lower_plane(piece)?),
                    self.joint(piece)
                        .map_or_else(String::new, |joint| self.tally_line(joint)),
                ),
                step("its length", self.length(accessory.length), clear),
            ],
        })
    }

    pub(super) fn plane(&self, piece: usize) -> Option<How> {
        let at = self.figures.chain.string.pieces.get(piece)?;
        let chain = &self.figures.chain;
        let (lower, upper) = (chain.lower_plane(piece)?, chain.upper_plane(piece)?);
        let shoe = chain.shoe?;
        let joint = self.joint(piece)?;
        let (name, rotary) = (&self.view.slot.hull.name, chain.rotary);
        let mut steps = vec![
            step("shoe", self.elevation(shoe), "see the shoe"),
            step(
                "+ effective lengths of the joints below it",
                self.length(at.lower),
                "see the string length",
            ),
        ];
        steps.extend(self.by_inclination(at.lower));
        steps.extend(self.by_all_readings(shoe + chain.lean.rise(at.lower), lower));
        steps.extend([
            step(
                format!("depth below RT at hull position {name}"),
                self.length(rotary.depth_of(lower).downward()),
                "RT less plane",
            ),
            step(
                format!("effective length of {}", joint.number),
                self.length(at.effective),
                self.effective_of(joint, at.effective),
            ),
            step(
                "its upper end",
                self.elevation(upper),
                "plane plus effective length",
            ),
        ]);
        if piece > 0 {
            let plane = plane_estimate(self.view, &self.figures.chain, piece);
            steps.extend(self.uncertainty(&plane));
        }
        Some(How {
            title: self.lower_end(piece),
            result: self.elevation(lower),
            steps,
        })
    }
}
