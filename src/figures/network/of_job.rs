//! The network of a job, put together reading by reading in the order in which they are listed.

use std::collections::{BTreeMap, BTreeSet};

use super::doubted::doubted;
use super::outdated::{last_moved, outdated};
use super::read::{
    DATUM, ReadNetwork, ReadingOf, is_by_tape, repeated, rotary_point, top_point, variance,
};
use super::string::{HungSlot, StringPoint, StringPoints};
use crate::figures::chain::{Chain, SlotView};
use crate::figures::corrections::{Corrected, StringPart, corrections, without_readings};
use crate::job::{Job, Slot, Uncertainty};
use crate::journal::{Event, Inputs, struck};
use crate::levels::{FileReading, Network, Sigma};
use crate::measure::{Elevation, Length};

/// How a tally is divided into readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Divided {
    /// At its shoulder and where readings name its planes.
    AsNamed,
    /// At every plane.
    Everywhere,
}

/// Where a string is divided.
struct Division {
    height: Length,
    point: StringPoint,
    /// The piece that begins there or holds it.
    piece: usize,
    /// Whether a reading asks for it, or the rules do.
    is_asked_for: bool,
}

/// A part of a string between two divisions.
struct DividedPart {
    low: Length,
    high: Length,
    rise: Length,
    tape: Length,
    sigma: Sigma,
}

struct JobNetwork<'a> {
    inputs: &'a Inputs,
    job: &'a Job,
    stated: &'a Uncertainty,
    file: &'a [FileReading],
    divided: Divided,
    /// Numbers of the entries that do not count.
    gone: BTreeSet<u64>,
    read: ReadNetwork,
}

impl ReadNetwork {
    /// All readings of a job, those of its file of readings among them.
    pub fn of_job(inputs: &Inputs) -> Self {
        Self::without(inputs, &BTreeSet::new())
    }

    /// All readings of a job but those that these entries of its journal are.
    pub(in crate::figures) fn without(inputs: &Inputs, entries: &BTreeSet<u64>) -> Self {
        Self::of_inputs(inputs, entries, Divided::AsNamed).0
    }

    /// The same with every string divided at each of its planes, and where those are; no other elevation is
    /// different for it.
    pub(in crate::figures) fn divided(
        inputs: &Inputs,
        without: &BTreeSet<u64>,
    ) -> (Self, Vec<StringPoints>) {
        Self::of_inputs(inputs, without, Divided::Everywhere)
    }

    fn of_inputs(
        inputs: &Inputs,
        without: &BTreeSet<u64>,
        divided: Divided,
    ) -> (Self, Vec<StringPoints>) {
        let job = &inputs.job;
        let scale = job.uncertainty.tape_scale.map(|ppm| ppm * 1e-6);
        let mut network = Network::new(scale);
        network.fix(DATUM, Elevation::above_datum(Length::ZERO));
        let views = SlotView::all(job, &inputs.tallies);
        let slots: Vec<HungSlot<'_>> = views
            .map(|view| HungSlot {
                at: view.index,
                slot: view.slot,
                tally: view.tally,
                chain: Chain::of(view),
            })
            .collect();
        let mut all = JobNetwork {
            inputs,
            job,
            stated: &job.uncertainty,
            file: &inputs.readings,
            divided,
            gone: {
                let mut gone = struck(&inputs.journal.entries);
                gone.extend(without);
                gone.extend(inputs.record.impossible.iter().map(|(seq, _)| *seq));
                gone
            },
            read: Self {
                network,
                of: Vec::new(),
                shown: Vec::new(),
                corrections: Vec::new(),
                idle_corrections: Vec::new(),
                doubted: Vec::new(),
                repeated: Vec::new(),
                outdated: Vec::new(),
            },
        };
        all.rotaries();
        let stuck_up: Vec<bool> = slots.iter().map(|slot| all.stick_ups(slot)).collect();
        let with_stick_ups = slots.iter().zip(stuck_up);
        let points = with_stick_ups
            .map(|(slot, stuck_up)| all.tally(slot, stuck_up))
            .collect();
        all.marks();
        all.tops();
        all.written();
        all.read.doubted = doubted(all.job, all.inputs, &all.read);
        (all.read, points)
    }
}

impl JobNetwork<'_> {
    fn rotaries(&mut self) {
        for (at, hull) in self.job.hulls.iter().enumerate() {
            let rise = hull.rotary.height();
            self.read.add(
                (DATUM, &rotary_point(&hull.name)),
                (rise, Length::ZERO),
                variance(&[(1, self.stated.rotary)]),
                ReadingOf::Rotary(at),
            );
        }
    }

    /// The stick-ups of a slot. Gives whether it has any.
    fn stick_ups(&mut self, of: &HungSlot<'_>) -> bool {
        let stick_ups = self.stick_ups_of(of);
        let string = &of.chain.string;
        let landing = string.landing.len();
        for (hull, value) in &stick_ups {
            let Some(stated) = self.job.hulls.get(*hull) else {
                continue;
            };
            let landed = of.chain.lean.rise(string.landing_length);
            let rise = stated.stick_up_from + *value - landed;
            let parts = [
                (1, self.stated.stick_up),
                (landing, self.stated.strap),
                (landing, self.stated.connection),
            ];
            self.read.add(
                (&rotary_point(&stated.name), &top_point(&of.slot.name)),
                (rise, -landed),
                variance(&parts),
                ReadingOf::StickUp(of.at, *hull),
            );
            if let Some(shown) = self.read.shown.last_mut() {
                *shown = *value;
            }
        }
        !stick_ups.is_empty()
    }

    /// The stick-ups of a slot, one a hull position: those of the journal since the string last moved, else the one in force.
    fn stick_ups_of(&self, of: &HungSlot<'_>) -> Vec<(usize, Length)> {
        let index = |name: &str| self.job.hulls.iter().position(|it| it.name == name);
        let said = self.inputs.record.slots.get(of.at);
        let moved = last_moved(self.inputs, &self.gone, of.at, true);
        let read = said.into_iter().flat_map(|said| &said.stick_ups);
        let mut found: Vec<(usize, Length)> = Vec::new();
        for read in read.filter(|it| moved.is_none_or(|moved| it.order() >= moved)) {
            let Some(hull) = index(&read.what.hull) else {
                continue;
            };
            match found.iter_mut().find(|(known, _)| *known == hull) {
                Some((_, value)) => *value = read.what.value,
                None => found.push((hull, read.what.value)),
            }
        }
        if found.is_empty() {
            let in_force = of.slot.stick_up.zip(index(&of.slot.hull.name));
            found.extend(in_force.map(|(value, hull)| (hull, value)));
        }
        found
    }

    /// The tally of a slot, divided where its points are asked for. Gives those that are.
    fn tally(&mut self, of: &HungSlot<'_>, is_stuck_up: bool) -> StringPoints {
        let named = self.named_points(of);
        if !is_stuck_up && named.is_empty() {
            return StringPoints::default();
        }
        let string = &of.chain.string;
        let hung = of.shoulder().filter(|it| !of.is_on_its_joint(*it));
        let divisions = self.divisions(of, &named);
        let mut at: Vec<(StringPoint, usize)> = Vec::with_capacity(divisions.len());
        for division in &divisions {
            let point = self.point_of(of, division.point, &named);
            at.push((division.point, point));
        }
        for (part, ends) in self.parts(of, &divisions).into_iter().zip(at.windows(2)) {
            let [from, to] = ends else { continue };
            let ends = (from.1, to.1);
            let reading = ReadingOf::Tally(of.at);
            let lengths = (part.rise, part.tape);
            self.read.add_between(ends, lengths, part.sigma, reading);
            let corrected = StringPart {
                slot: of.at,
                length: string.length,
                below_top: (string.length - part.high, string.length - part.low),
            };
            let corrected = Corrected::Tally(corrected);
            self.read
                .correct(corrections(self.job, part.rise, corrected));
        }
        let index = |point| at.iter().find(|it| it.0 == point).map(|it| it.1);
        // A shoulder that is not on its joint is flagged; it hangs on that joint's plane all the same.
        if let Some((piece, offset)) = hung
            && let Some(plane) = index(StringPoint::Plane(piece))
        {
            let shoulder = self.point_of(of, StringPoint::Shoulder, &named);
            at.push((StringPoint::Shoulder, shoulder));
            let offset = of.chain.lean.rise(offset);
            let is_taped = self.stated.tape_scale.is_some();
            let tape = if is_taped { offset } else { Length::ZERO };
            let reading = ReadingOf::Tally(of.at);
            self.read
                .add_between((plane, shoulder), (offset, tape), Sigma::Exact, reading);
        }
        let planes = at.iter().filter_map(|(point, at)| match point {
            StringPoint::Plane(piece) => Some((*piece, *at)),
            _ => None,
        });
        let planes: BTreeMap<usize, usize> = planes.collect();
        let is_whole = planes.len() == string.pieces.len();
        let shoulder = at.iter().find(|it| it.0 == StringPoint::Shoulder);
        StringPoints {
            planes: planes.into_values().filter(|_| is_whole).collect(),
            shoulder: shoulder.map(|it| it.1),
        }
    }

    /// Where a string is divided, from the shoe up.
    fn divisions(&self, of: &HungSlot<'_>, named: &[StringPoint]) -> Vec<Division> {
        let shoulder = of.shoulder();
        let hung = shoulder.filter(|it| !of.is_on_its_joint(*it));
        let hung_plane = hung.map(|(piece, _)| StringPoint::Plane(piece));
        let mut points = vec![StringPoint::Shoe, StringPoint::Top];
        points.extend(hung_plane);
        points.extend(
            shoulder
                .filter(|_| hung.is_none())
                .map(|_| StringPoint::Shoulder),
        );
        let is_hung_shoulder = |it: &StringPoint| hung.is_some() && *it == StringPoint::Shoulder;
        points.extend(named.iter().filter(|it| !is_hung_shoulder(it)));
        if self.divided == Divided::Everywhere {
            let pieces = 0..of.chain.string.pieces.len();
            points.extend(pieces.map(StringPoint::Plane));
        }
        let mut divided: Vec<(Length, StringPoint, usize)> = points
            .into_iter()
            .filter_map(|point| {
                let (height, piece) = of.height(point)?;
                Some((height, point, piece))
            })
            .collect();
        divided.sort_unstable();
        divided.dedup();
        let divisions = divided.into_iter().map(|(height, point, piece)| Division {
            height,
            point,
            piece,
            is_asked_for: !matches!(point, StringPoint::Plane(_))
                || named.contains(&point)
                || hung_plane == Some(point),
        });
        divisions.collect()
    }

    /// The parts of a string between its divisions.
    fn parts(&self, of: &HungSlot<'_>, divisions: &[Division]) -> Vec<DividedPart> {
        let string = &of.chain.string;
        let sigma = |first: usize, end: usize| {
            let joints = end.saturating_sub(first);
            let made_up = string.connections_from(first);
            let made_up = made_up.saturating_sub(string.connections_from(end));
            let parts = [
                (joints, self.stated.strap),
                (made_up, self.stated.connection),
            ];
            (variance(&parts), joints + made_up)
        };
        // Of each division the piece of the next one above it that is asked for.
        let mut above = vec![None; divisions.len()];
        let mut next = None;
        for (place, division) in above.iter_mut().zip(divisions).rev() {
            *place = next;
            if division.is_asked_for {
                next = Some(division.piece);
            }
        }
        let mut below = 0;
        let mut parts = Vec::with_capacity(divisions.len());
        for (pair, above) in divisions.windows(2).zip(above) {
            let [from, to] = pair else { continue };
            if from.is_asked_for {
                below = from.piece;
            }
            // A part of what is not stated as a whole is not stated either: to divide it changes no other figure.
            let whole = above.map(|above| sigma(below, above).0);
            let (own, measured) = sigma(from.piece, to.piece);
            let lean = of.chain.lean;
            let rise = lean.rise(to.height) - lean.rise(from.height);
            // What is no joint is exact, whether or not the tape's scale is stated.
            let is_taped = measured > 0 || self.stated.tape_scale.is_some();
            parts.push(DividedPart {
                low: from.height,
                high: to.height,
                rise,
                tape: if is_taped { rise } else { Length::ZERO },
                sigma: match whole {
                    Some(Sigma::NotStated) => Sigma::NotStated,
                    _ => own,
                },
            });
        }
        parts
    }

    /// The point of a network that a point of a string is. A plane that no reading names has none of its name: two
    /// joints may have one number.
    fn point_of(&mut self, of: &HungSlot<'_>, point: StringPoint, named: &[StringPoint]) -> usize {
        let name = of.name(point);
        match point {
            StringPoint::Plane(_) if !named.contains(&point) => {
                self.read.network.unnamed_point(name)
            }
            _ => self.read.network.point(&name),
        }
    }

    /// The entered readings that are not struck, with their numbers.
    fn entered(&self) -> impl Iterator<Item = (u64, &Event)> {
        let entries = self.inputs.journal.entries.iter();
        let live = entries.filter(|entry| !self.gone.contains(&entry.seq));
        live.filter(|entry| matches!(entry.event, Event::Reading { .. }))
            .map(|entry| (entry.seq, &entry.event))
    }

    /// The points of a slot's string that written and entered readings name.
    fn named_points(&self, of: &HungSlot<'_>) -> Vec<StringPoint> {
        let written = self.file.iter().flat_map(|it| [it.from.as_str(), &it.to]);
        let entered = self.entered().filter_map(|(_, event)| match event {
            Event::Reading { from, to, .. } => Some([from.as_str(), to]),
            _ => None,
        });
        let names = written.chain(entered.flatten());
        let mut found: Vec<StringPoint> = names.filter_map(|name| of.point(name)).collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Benches and mudlines.
    fn marks(&mut self) {
        for (at, bench) in self.job.benches.iter().enumerate() {
            self.read.add(
                (DATUM, &bench.name),
                (bench.elevation.height(), Length::ZERO),
                variance(&[(1, bench.uncertainty)]),
                ReadingOf::Bench(at),
            );
        }
        let sigma = variance(&[(1, self.stated.mudline)]);
        let site = self.job.site.mudline.height();
        self.read.add(
            (DATUM, "mudline"),
            (site, Length::ZERO),
            sigma,
            ReadingOf::Mudline(None),
        );
        for (at, slot) in self.job.slots.iter().enumerate() {
            if let Some(mudline) = slot.mudline {
                self.read.add(
                    (DATUM, &format!("{}.mudline", slot.name)),
                    (mudline.height(), Length::ZERO),
                    sigma,
                    ReadingOf::Mudline(Some(at)),
                );
            }
        }
    }

    /// Finished tops, and the height references of their surveys.
    fn tops(&mut self) {
        let survey = |slot: &Slot| match &slot.as_cut_setup {
            Some(setup) => format!("survey@{setup}"),
            None => "survey".to_owned(),
        };
        let cut = |slot: &&Slot| !slot.as_cut.is_empty();
        let mut surveys: Vec<String> = self.job.slots.iter().filter(cut).map(survey).collect();
        surveys.sort_unstable();
        surveys.dedup();
        for name in &surveys {
            self.read.add(
                (DATUM, name),
                (Length::ZERO, Length::ZERO),
                variance(&[(1, self.stated.benchmark)]),
                ReadingOf::Benchmark,
            );
        }
        for (at, slot) in self.job.slots.iter().enumerate().filter(|(_, it)| cut(it)) {
            self.read.add(
                (&survey(slot), &format!("{}.cut", slot.name)),
                (mean(&slot.as_cut), Length::ZERO),
                variance(&[(1, self.stated.as_cut)]),
                ReadingOf::AsCut(at),
            );
        }
    }

    /// What is written in the file of readings, and what was entered.
    fn written(&mut self) {
        for it in self.file {
            let by_tape = is_by_tape(it.how.as_deref());
            let tape = if by_tape { it.rise } else { Length::ZERO };
            self.read.add(
                (&it.from, &it.to),
                (it.rise, tape),
                it.sigma(),
                ReadingOf::File(it.line),
            );
            self.correct_as(it.rise, it.how.as_deref());
        }
        let entered: Vec<(u64, Event)> = self
            .entered()
            .map(|(seq, event)| (seq, event.clone()))
            .collect();
        for (seq, event) in &entered {
            if let Event::Reading {
                from,
                to,
                rise,
                sigma,
                how,
                instrument,
            } = event
            {
                let of_instrument = || self.inputs.record.sigma_of(instrument.as_deref());
                let sigma = sigma.or_else(of_instrument);
                let by_tape = is_by_tape(how.as_deref());
                let tape = if by_tape { *rise } else { Length::ZERO };
                self.read.add(
                    (from, to),
                    (*rise, tape),
                    variance(&[(1, sigma)]),
                    ReadingOf::Journal(*seq),
                );
                self.correct_as(*rise, how.as_deref());
            }
        }
        self.read.repeated = repeated(self.file);
        self.read.outdated = outdated(self.inputs, &self.gone);
        let written = self.file.iter().filter_map(|it| it.how.as_deref());
        let said = entered.iter().filter_map(|(_, event)| match event {
            Event::Reading { how, .. } => how.as_deref(),
            _ => None,
        });
        let hows: Vec<&str> = written.chain(said).collect();
        let idle = without_readings(self.job, &hows).into_iter();
        self.read.idle_corrections = idle.map(str::to_owned).collect();
    }

    /// Corrects the last reading, which was made so.
    fn correct_as(&mut self, rise: Length, how: Option<&str>) {
        let added = how.map(|how| corrections(self.job, rise, Corrected::How(how)));
        self.read.correct(added.unwrap_or_default());
    }
}

/// The mean of readings, rounded to the nanometre.
fn mean(readings: &[Elevation]) -> Length {
    let sum: i128 = readings.iter().map(|it| i128::from(it.height().nm())).sum();
    let count = i128::try_from(readings.len()).unwrap_or(1).max(1);
    let half = if sum < 0 { -count / 2 } else { count / 2 };
    Length::from_nm(i64::try_from((sum + half) / count).unwrap_or_default())
}
