//! The readings of a job: those that its chain rests on, and those that were written beside them.

use std::collections::{BTreeMap, BTreeSet};

use super::chain::{Chain, RunningJoint, SlotView};
use super::corrections::{Corrected, CorrectionLine, StringPart, corrections, without_readings};
use crate::job::{Job, Slot, Uncertainty};
use crate::journal::{Event, Inputs, Said, SlotRecord, StringState, struck};
use crate::levels::{FileReading, Network, Sigma};
use crate::measure::{Elevation, Length};
use crate::tally::Tally;

/// What a reading is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadingOf {
    /// RT at a hull position, by its index in the job.
    Rotary(usize),
    /// The stick-up of a slot at a hull position, by their indices.
    StickUp(usize, usize),
    /// The tally of a slot between two of its points.
    Tally(usize),
    /// A bench, by its index.
    Bench(usize),
    /// The mudline; that of a slot where it has its own.
    Mudline(Option<usize>),
    /// The height reference of an as-cut survey.
    Benchmark,
    /// The finished top of a slot.
    AsCut(usize),
    /// A row of a file of readings, by its line.
    File(u32),
    /// An entry of the journal, by its number.
    Journal(u64),
}

impl ReadingOf {
    /// The word in JSON.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Rotary(_) => "rotary",
            Self::StickUp(..) => "stick-up",
            Self::Tally(_) => "tally",
            Self::Bench(_) => "bench",
            Self::Mudline(_) => "mudline",
            Self::Benchmark => "benchmark",
            Self::AsCut(_) => "as-cut",
            Self::File(_) => "file",
            Self::Journal(_) => "journal",
        }
    }
}

/// A network whose readings are known for what they are.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadNetwork {
    /// The network.
    pub network: Network,
    /// What each of its readings is of.
    pub of: Vec<ReadingOf>,
    /// What each was read as: its rise, but for stick-ups.
    pub shown: Vec<Length>,
    /// What was added to rises before they entered.
    pub corrections: Vec<CorrectionLine>,
    /// What corrections are on that no reading is.
    pub idle_corrections: Vec<String>,
}

/// What a reading was made with, where the common tape was.
pub const BY_TAPE: &str = "tape";

/// The name of the point of an elevation of 0.
pub const DATUM: &str = "datum";

/// A point of a slot's string.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum StringPoint {
    Shoe,
    /// The lower make-up plane of a piece.
    Plane(usize),
    Shoulder,
    Top,
}

/// A slot with where its string's parts are.
struct HungSlot<'a> {
    at: usize,
    slot: &'a Slot,
    tally: &'a Tally,
    chain: Chain,
}

/// The points of a slot's string in a network, by their indices.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct StringPoints {
    /// The lower make-up plane of each piece, from the shoe up; empty where the string is not divided at each.
    pub(super) planes: Vec<usize>,
    /// The landing shoulder.
    pub(super) shoulder: Option<usize>,
}

/// How a tally is divided into readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Divided {
    /// At its shoulder and where readings name its planes.
    AsNamed,
    /// At every plane.
    Everywhere,
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
    pub(super) fn without(inputs: &Inputs, entries: &BTreeSet<u64>) -> Self {
        Self::of_inputs(inputs, entries, Divided::AsNamed).0
    }

    /// The same with every string divided at each of its planes, and where those are; no other elevation is
    /// different for it.
    pub(super) fn divided(inputs: &Inputs, without: &BTreeSet<u64>) -> (Self, Vec<StringPoints>) {
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
        (all.read, points)
    }

    /// The readings of a file alone, with what is fixed. A tape has no scale error there: nothing states one.
    pub fn of_file(file: &[FileReading], fixed: &[(String, Elevation)]) -> Self {
        let mut read = Self {
            network: Network::new(None),
            of: Vec::new(),
            shown: Vec::new(),
            corrections: Vec::new(),
            idle_corrections: Vec::new(),
        };
        for (name, at) in fixed {
            read.network.fix(name, *at);
        }
        for it in file {
            read.add(
                (&it.from, &it.to),
                (it.rise, Length::ZERO),
                it.sigma(),
                ReadingOf::File(it.line),
            );
        }
        read
    }

    /// The rise of a reading as it was read, before anything was added.
    pub fn rise_as_read(&self, reading: usize) -> Length {
        let rise = self.network.readings.get(reading).map(|it| it.rise);
        let added = self.corrections.iter().filter(|it| it.reading == reading);
        rise.unwrap_or_default() - added.map(|it| it.value).sum()
    }

    /// Adds corrections to the last reading.
    fn correct(&mut self, added: Vec<(&'static str, Length)>) {
        let Some(reading) = self.network.readings.len().checked_sub(1) else {
            return;
        };
        for (kind, value) in added {
            self.network.raise(reading, value);
            self.corrections.push(CorrectionLine {
                reading,
                kind,
                value,
            });
        }
    }

    fn add(
        &mut self,
        points: (&str, &str),
        (rise, tape): (Length, Length),
        sigma: Sigma,
        of: ReadingOf,
    ) {
        let ends = (self.network.point(points.0), self.network.point(points.1));
        self.add_between(ends, (rise, tape), sigma, of);
    }

    fn add_between(
        &mut self,
        ends: (usize, usize),
        (rise, tape): (Length, Length),
        sigma: Sigma,
        of: ReadingOf,
    ) {
        self.network.read_between(ends, (rise, tape), sigma);
        self.of.push(of);
        self.shown.push(rise);
    }
}

/// The variance of so many of each, in square metres; `None` where one that is needed is not stated.
fn variance(parts: &[(usize, Option<Length>)]) -> Sigma {
    let needed = parts.iter().filter(|(count, _)| *count > 0);
    let terms = needed.map(|(count, sigma)| {
        let sigma = sigma.as_ref()?.real_metres();
        let count = f64::from(u32::try_from(*count).unwrap_or(u32::MAX));
        Some(count * sigma * sigma)
    });
    Sigma::of_variance(terms.sum())
}

/// The name of a hull position's point.
pub fn rotary_point(hull: &str) -> String {
    format!("rotary@{hull}")
}

/// The name of the point at the top of a slot's conductor.
pub fn top_point(slot: &str) -> String {
    format!("{slot}.top")
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
        let moved = said.and_then(|said| self.last_moved(&of.slot.name, said));
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

    /// When the string of a slot last moved: a joint was run or pulled, its top cropped, or it was slacked off.
    fn last_moved(&self, slot: &str, said: &SlotRecord) -> Option<(i64, u64)> {
        let entries = self.inputs.journal.entries.iter().filter(|entry| {
            let moves = matches!(
                entry.event,
                Event::JointRun(_) | Event::JointPulled { .. } | Event::Cropped { .. }
            );
            moves && entry.event.slot() == Some(slot) && !self.gone.contains(&entry.seq)
        });
        let entries = entries.map(|entry| (entry.at.seconds(), entry.seq));
        let slacked_off = said.stick_ups.iter();
        let slacked_off = slacked_off
            .filter(|it| it.what.state == StringState::SlackedOff)
            .map(Said::order);
        entries.chain(slacked_off).max()
    }

    /// The tally of a slot, divided where its points are asked for. Gives those that are.
    fn tally(&mut self, of: &HungSlot<'_>, is_stuck_up: bool) -> StringPoints {
        let named = self.named_points(of);
        if !is_stuck_up && named.is_empty() {
            return StringPoints::default();
        }
        let string = &of.chain.string;
        let mut points = vec![StringPoint::Shoe, StringPoint::Top];
        let shoulder = of.shoulder();
        let hung = shoulder.filter(|it| !of.is_on_its_joint(*it));
        match (shoulder, hung) {
            (_, Some((piece, _))) => points.push(StringPoint::Plane(piece)),
            (Some(_), None) => points.push(StringPoint::Shoulder),
            (None, None) => {}
        }
        points.extend(
            named
                .iter()
                .filter(|it| hung.is_none() || **it != StringPoint::Shoulder),
        );
        if self.divided == Divided::Everywhere {
            points.extend((0..string.pieces.len()).map(StringPoint::Plane));
        }
        let divided = points.into_iter().filter_map(|point| {
            let (height, piece) = of.height(point)?;
            Some((height, point, piece))
        });
        let mut divided: Vec<(Length, StringPoint, usize)> = divided.collect();
        divided.sort_unstable();
        divided.dedup();
        let mut at: Vec<(StringPoint, usize)> = Vec::with_capacity(divided.len());
        for (_, point, _) in &divided {
            at.push((*point, self.point_of(of, *point, &named)));
        }
        for (pair, ends) in divided.windows(2).zip(at.windows(2)) {
            let ([(low, _, first), (high, _, end)], [from, to]) = (pair, ends) else {
                continue;
            };
            let lean = of.chain.lean;
            let rise = lean.rise(*high) - lean.rise(*low);
            let joints = end.saturating_sub(*first);
            let made_up = string.connections_from(*first);
            let made_up = made_up.saturating_sub(string.connections_from(*end));
            let parts = [
                (joints, self.stated.strap),
                (made_up, self.stated.connection),
            ];
            let ends = (from.1, to.1);
            self.read.add_between(
                ends,
                (rise, rise),
                variance(&parts),
                ReadingOf::Tally(of.at),
            );
            let part = StringPart {
                slot: of.at,
                length: string.length,
                below_top: (string.length - *high, string.length - *low),
            };
            self.read
                .correct(corrections(self.job, rise, Corrected::Tally(part)));
        }
        let index = |point| at.iter().find(|it| it.0 == point).map(|it| it.1);
        // A shoulder that is not on its joint is flagged; it hangs on that joint's plane all the same.
        if let Some((piece, offset)) = hung
            && let Some(plane) = index(StringPoint::Plane(piece))
        {
            let shoulder = self.point_of(of, StringPoint::Shoulder, &named);
            at.push((StringPoint::Shoulder, shoulder));
            let ends = (plane, shoulder);
            let offset = of.chain.lean.rise(offset);
            self.read.add_between(
                ends,
                (offset, offset),
                Sigma::Exact,
                ReadingOf::Tally(of.at),
            );
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
            let by_tape = it.how.as_deref() == Some(BY_TAPE);
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
                let by_tape = how.as_deref() == Some(BY_TAPE);
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

impl HungSlot<'_> {
    /// The piece of the landing shoulder, and the shoulder's height above its lower plane.
    fn shoulder(&self) -> Option<(usize, Length)> {
        let offset = self.slot.shoulder_offset?;
        match self.chain.running {
            RunningJoint::At(piece) => Some((piece, offset)),
            _ => None,
        }
    }

    /// Whether a shoulder lies between the planes of its joint.
    fn is_on_its_joint(&self, (piece, offset): (usize, Length)) -> bool {
        let piece = self.chain.string.pieces.get(piece);
        piece.is_some_and(|it| !offset.is_negative() && it.lower + offset <= it.upper)
    }

    /// A point of the string: its height above the shoe, and the piece in which it is or that begins there; past the last
    /// for the top.
    fn height(&self, point: StringPoint) -> Option<(Length, usize)> {
        let string = &self.chain.string;
        match point {
            StringPoint::Shoe => Some((Length::ZERO, 0)),
            StringPoint::Top => Some((string.length, string.pieces.len())),
            StringPoint::Plane(piece) => Some((string.pieces.get(piece)?.lower, piece)),
            StringPoint::Shoulder => {
                let (piece, offset) = self.shoulder()?;
                Some((string.pieces.get(piece)?.lower + offset, piece))
            }
        }
    }

    /// The point of a name, where it is one of this string.
    fn point(&self, name: &str) -> Option<StringPoint> {
        let rest = name
            .strip_prefix(self.slot.name.as_str())?
            .strip_prefix('.')?;
        match rest {
            "shoe" => Some(StringPoint::Shoe),
            "top" => Some(StringPoint::Top),
            "shoulder" => self.shoulder().map(|_| StringPoint::Shoulder),
            other => {
                let joint = other.strip_prefix("plane@")?;
                let pieces = 0..self.chain.string.pieces.len();
                let mut pieces = pieces.filter(|it| self.chain.number(self.tally, *it) == joint);
                pieces.next().map(StringPoint::Plane)
            }
        }
    }

    fn name(&self, point: StringPoint) -> String {
        let slot = &self.slot.name;
        match point {
            StringPoint::Shoe => format!("{slot}.shoe"),
            StringPoint::Top => top_point(slot),
            StringPoint::Shoulder => format!("{slot}.shoulder"),
            StringPoint::Plane(piece) => {
                format!("{slot}.plane@{}", self.chain.number(self.tally, piece))
            }
        }
    }
}
