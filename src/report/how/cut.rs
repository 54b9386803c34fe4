//! How the cut, its marks, the off-cut, the finished top and what is fixed to the string came about.

use super::{Derivation, How, Step, step};
use crate::figures::accuracy::{Verdict, probability_words};
use crate::figures::connections::Connection;
use crate::figures::cut::{Mark, MarkFrom, plane_uncertainty};
use crate::figures::steel;
use crate::measure::Elevation;

impl Derivation<'_> {
    pub(super) fn cut_target(&self, index: usize) -> How {
        let job = &self.inputs.job;
        let mut steps = vec![
            step(
                "deck elevation",
                self.elevation(job.deck.elevation),
                "job.toml, deck.elevation",
            ),
            step(
                "+ slot's cut offset",
                self.length(self.slot.cut_offset),
                "job.toml, cut_offset",
            ),
        ];
        let allowances = job
            .allowances
            .iter()
            .filter(|allowance| allowance.slots.has(index));
        steps.extend(allowances.map(|allowance| {
            step(
                format!("+ allowance: {}", allowance.why),
                self.show.small_signed(allowance.value),
                format!("job.toml, {}", allowance.slots.names(job)),
            )
        }));
        How {
            title: format!("Cut target of {}: the finished top", self.slot.name),
            result: self.elevation(self.figures.cut.target),
            steps,
        }
    }

    pub(super) fn cut_below_rotary(&self) -> How {
        let (name, rotary) = self.hull(self.inputs.job.cut.hull);
        let target = self.figures.cut.target;
        How {
            title: format!("Cut of {} below RT", self.slot.name),
            result: self.length(self.figures.cut.below_rotary.downward()),
            steps: vec![
                step(
                    format!("RT at hull position {name}, from which the cut is measured"),
                    self.elevation(rotary),
                    "job.toml",
                ),
                step("- cut target", self.elevation(target), "see the cut target"),
            ],
        }
    }

    pub(super) fn cut_place(&self) -> Option<How> {
        let place = self.figures.cut.place.as_ref()?;
        let (target, kerf) = (self.figures.cut.target, self.inputs.job.cut.kerf);
        let lower = self.figures.lower_plane(place.piece)?;
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
            title: format!("Where the cut of {} lies", self.slot.name),
            result: format!("in {}", self.number(place.piece)),
            steps,
        })
    }

    fn clearance(&self, connection: &Connection) -> Step {
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

    pub(super) fn mark(&self, index: usize) -> Option<How> {
        let place = self.figures.cut.place.as_ref()?;
        let mark = place.marks.get(index)?;
        let (from, elevation) = self.mark_reference(mark, place.piece)?;
        let mut steps = vec![
            step(
                from.clone(),
                self.elevation(elevation),
                mark.rests_on.join(", "),
            ),
            step(
                "cut target",
                self.elevation(self.figures.cut.target),
                "see the cut target",
            ),
        ];
        steps.extend(self.uncertainty(&mark.terms));
        let way = if mark.is_upward() { "UP" } else { "DOWN" };
        Some(How {
            title: format!("Cut of {} from {from}", self.slot.name),
            result: format!("{} {way} from it", self.length(mark.distance.abs())),
            steps,
        })
    }

    fn mark_reference(&self, mark: &Mark, piece: usize) -> Option<(String, Elevation)> {
        let job = &self.inputs.job;
        Some(match mark.from {
            MarkFrom::Rotary => {
                let (name, rotary) = self.hull(job.cut.hull);
                (format!("RT at hull position {name}"), rotary)
            }
            MarkFrom::LowerPlane => (
                format!("the {}", self.lower_end(piece)),
                self.figures.lower_plane(piece)?,
            ),
            MarkFrom::UpperPlane => (
                format!("the upper make-up plane of {}", self.number(piece)),
                self.figures.lower_plane(piece + 1)?,
            ),
            MarkFrom::Top => (
                "the top as landed, before any cut".to_owned(),
                self.figures.top?,
            ),
            MarkFrom::Bench(index) => {
                let bench = job.benches.get(index)?;
                (format!("bench {}", bench.name), bench.elevation)
            }
        })
    }

    pub(super) fn offcut(&self) -> Option<How> {
        let place = self.figures.cut.place.as_ref()?;
        let job = &self.inputs.job;
        let pipe = job.pipes.get(self.slot.pipe)?;
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
            title: format!("Off-cut of {}: what the crane must lift", self.slot.name),
            result: format!(
                "{}, {:.0} kg",
                self.length(place.offcut_length),
                place.offcut_mass
            ),
            steps: vec![
                step("top", self.elevation(self.figures.top?), "see the top"),
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
        let readings = self.slot.as_cut.iter().enumerate();
        let mut steps: Vec<Step> = readings
            .map(|(index, elevation)| {
                step(
                    format!("reading {}", index + 1),
                    self.elevation(*elevation),
                    "job.toml, as_cut",
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
        steps.extend(self.uncertainty(&as_cut.terms));
        if let Some(tolerance) = self.inputs.job.cut.tolerance {
            steps.push(step(
                "tolerance, either way",
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
        let verdict = as_cut.verdict.map_or("no tolerance given", Verdict::word);
        Some(How {
            title: format!("Finished top of {}", self.slot.name),
            result: format!("{}: {verdict}", self.length(as_cut.mean.rounded())),
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
            title: format!("Where {} goes on {}", accessory.name, self.slot.name),
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
                    self.elevation(self.figures.lower_plane(piece)?),
                    self.joint(piece)
                        .map_or_else(String::new, |joint| self.tally_line(joint)),
                ),
                step("its length", self.length(accessory.length), clear),
            ],
        })
    }

    pub(super) fn plane(&self, piece: usize) -> Option<How> {
        let at = self.figures.string.pieces.get(piece)?;
        let lower = self.figures.elevation_of(at.lower)?;
        let upper = self.figures.elevation_of(at.upper)?;
        let joint = self.joint(piece)?;
        let (name, rotary) = self.hull(self.slot.hull);
        let mut steps = vec![
            step("shoe", self.elevation(self.figures.shoe?), "see the shoe"),
            step(
                "+ effective lengths of the joints below it",
                self.length(at.lower),
                "see the string length",
            ),
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
        ];
        if piece > 0 {
            steps.extend(self.uncertainty(&plane_uncertainty(
                &self.inputs.job.uncertainty,
                &self.figures.string,
                piece,
            )));
        }
        Some(How {
            title: self.lower_end(piece),
            result: self.elevation(lower),
            steps,
        })
    }
}
