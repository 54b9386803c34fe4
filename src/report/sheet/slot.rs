//! The page of one slot.

use std::fmt::Write as _;

use super::super::words::{self, known};
use super::paper::{WIDTH, blank, both, indented, labelled};
use crate::figures::{
    AsCut, Basis, CutPlace, CutStatus, SecondWay, SlotFigures, SlotView, Standing, Verdict,
};
use crate::finding::{Flag, Severity};
use crate::job::Elevations;
use crate::journal::Inputs;
use crate::measure::{Length, LengthFormat, Unit};

/// The page of one slot.
pub(super) struct Page<'a> {
    pub(super) inputs: &'a Inputs,
    pub(super) view: SlotView<'a>,
    pub(super) figures: &'a SlotFigures,
    pub(super) standing: &'a Standing,
    pub(super) ways: &'a [SecondWay],
    pub(super) show: LengthFormat,
    /// Whether it is part of the record, which gives no marks of a planned slot.
    pub(super) is_for_record: bool,
}

impl Page<'_> {
    /// What may not be overlooked first: whether it may be cut, and what is flagged; then the figures.
    pub(super) fn write(&self, text: &mut String) {
        let state = words::cut_state(self.standing);
        let _ = writeln!(text, "SLOT {}   {state}", self.view.slot.name);
        if let Some(fallen) = words::fallen(self.standing.fallen) {
            indented(text, "! ", &fallen);
        }
        for flag in words::head_flags(self.figures, self.standing) {
            self.flag(text, flag);
        }
        let _ = writeln!(text, "{}", "-".repeat(WIDTH));
        if let Some(as_cut) = &self.figures.cut.as_cut {
            self.as_cut(text, as_cut);
        }
        self.heights(text);
        self.limits(text);
        if let Some(place) = &self.figures.cut.place {
            self.place(text, place);
        }
        match self.no_marks() {
            Some(why) => indented(text, "NO MARKS            ", &why),
            None => self.marks(text),
        }
        let notes = self.figures.flags.iter();
        for flag in notes.filter(|flag| flag.severity == Severity::Note) {
            self.flag(text, flag);
        }
        self.blanks(text);
    }

    /// Why no marks are given; nothing where they are.
    fn no_marks(&self) -> Option<String> {
        if self.is_for_record && self.standing.status == CutStatus::Planned {
            return Some(words::PLANNED_NO_MARKS.to_owned());
        }
        words::no_marks(self.figures, self.standing, self.show)
    }

    /// Whether marks are given.
    fn is_marked(&self) -> bool {
        self.no_marks().is_none()
    }

    fn flag(&self, text: &mut String, flag: &Flag) {
        let words = words::flag(flag, self.show);
        let line = format!("{}: {}: {words}", flag.severity.word(), flag.code);
        indented(text, "! ", &line);
    }

    /// What was cut, and what that proves.
    fn as_cut(&self, text: &mut String, as_cut: &AsCut) {
        let limits = &self.inputs.job.cut;
        let word = |verdict: Option<Verdict>, without| verdict.map_or(without, Verdict::word);
        let whole = word(as_cut.verdict, "no tolerance given");
        labelled(text, "Finished top", whole);
        let height = format!(
            "{}: {}",
            word(as_cut.height, "no tolerance given"),
            words::height_verdict(as_cut, limits.tolerance, self.show)
        );
        labelled(text, "  its height", &height);
        let level = format!(
            "{}: {}",
            word(as_cut.level, "not judged"),
            words::level_words(as_cut, limits.level, self.show)
        );
        labelled(text, "  its level", &level);
        if let Some(rim) = words::rim_words(as_cut, self.show) {
            labelled(text, "  its rim", &rim);
        }
        let mean = format!(
            "{}, mean of {}",
            both(self.inputs, as_cut.mean.value.rounded()),
            words::counted(as_cut.readings, "reading")
        );
        labelled(text, "  measured at", &mean);
        let readings = self.view.slot.as_cut.iter();
        let readings: Vec<String> = readings
            .map(|reading| self.show.text(reading.height()))
            .collect();
        labelled(text, "  readings", &readings.join("  "));
    }

    /// The target, and RT at the hull positions that the cut hangs on, each with its second way.
    fn heights(&self, text: &mut String) {
        let job = &self.inputs.job;
        let cut = &self.figures.cut;
        let target = format!(
            "{} above {}",
            self.every_way(cut.target.height()),
            job.sea_datum
        );
        labelled(text, "Cut target", &target);
        let deck = format!(
            "{} ({})",
            self.show.text(job.deck.elevation.height()),
            words::second_of_deck(self.ways, self.show)
        );
        labelled(text, "  deck", &deck);
        if !self.view.slot.cut_offset.is_zero() {
            let offset = words::moves_target(self.view.slot.cut_offset, self.show);
            let offset = format!("{offset} ({})", words::ONE_READING);
            labelled(text, "  slot's offset", &offset);
        }
        self.allowances(text);
        let hull = &job.cut.hull;
        let is_marked = self.is_marked();
        let below = cut.below_rotary.downward();
        let below = words::below_rotary(below, &both(self.inputs, below.abs()), &hull.name);
        // Below RT is a mark too: where none may be set out it is not given.
        if is_marked {
            labelled(text, "  is", &below);
        }
        let mut hulls = vec![hull];
        let read_at = &self.view.slot.hull;
        if self.figures.chain.basis != Basis::None && read_at.name != hull.name {
            hulls.push(read_at);
        }
        for hull in hulls {
            let used = self.figures.chain.rotary_at(self.view.slot, job, hull);
            let second = words::second_of_rotary(self.ways, hull, self.show);
            let second = if self.figures.chain.elevations() == Elevations::Adjusted {
                words::rotary_as_stated(hull.rotary, &second, self.show)
            } else {
                second
            };
            let rotary = format!(
                "{} at hull position {} ({second})",
                both(self.inputs, used.height()),
                hull.name,
            );
            labelled(text, "RT", &rotary);
        }
        self.stick_up(text);
    }

    fn stick_up(&self, text: &mut String) {
        let chain = &self.figures.chain;
        let Some(stick_up) = chain.stick_up else {
            labelled(text, "Stick-up", "not read, none planned");
            return;
        };
        let second = match chain.basis {
            Basis::Read => words::second_of_stick_up(chain.plan(self.view.slot), self.show),
            Basis::Planned | Basis::None => "planned, still to be read".to_owned(),
        };
        let line = format!(
            "{} {} {} at hull position {} ({second})",
            both(self.inputs, stick_up.abs()),
            words::side_of_surface(stick_up),
            self.view.slot.hull.surface_name(),
            self.view.slot.hull.name
        );
        labelled(text, "Stick-up", &line);
    }

    /// The target is read by people of both systems: always in metres and in feet and inches.
    fn every_way(&self, length: Length) -> String {
        if self.show.unit() != Unit::Foot {
            return both(self.inputs, length);
        }
        let (metres, inches) = (
            LengthFormat::new(Unit::Metre),
            LengthFormat::new(Unit::FootInch),
        );
        format!(
            "{} ({}, {})",
            self.show.text(length),
            metres.text(length),
            inches.text(length)
        )
    }

    /// Each allowance by itself, so that two which cancel are seen, and then what they come to.
    fn allowances(&self, text: &mut String) {
        let all = self.inputs.job.allowances.iter();
        let here: Vec<_> = all.filter(|it| it.slots.has(self.view.index)).collect();
        for allowance in &here {
            let value = words::moves_target(allowance.value, self.show);
            labelled(
                text,
                "  with allowance",
                &format!("{value} {}", allowance.why),
            );
        }
        if here.len() > 1 {
            let sum = self.show.small_signed(self.figures.cut.allowances);
            labelled(text, "  together", &sum);
        }
    }

    /// The tolerances of the cut, and the kerf that the blade needs above the line.
    fn limits(&self, text: &mut String) {
        let limits = words::limits(&self.inputs.job.cut, self.show);
        labelled(text, "Tolerances", &limits);
    }

    /// Where the cut lies, and what comes off.
    fn place(&self, text: &mut String, place: &CutPlace) {
        let (chain, tally) = (&self.figures.chain, self.view.tally);
        let serial = chain
            .string
            .joint(tally, place.piece)
            .and_then(|joint| joint.serial.as_deref())
            .map_or_else(String::new, |serial| format!(", serial {serial}"));
        let mut joint = format!("{}{serial}", chain.number(tally, place.piece));
        if self.is_marked() {
            let above = self.show.text(place.above_lower_plane);
            let from = words::counted_from(chain, tally, place.piece);
            let _ = write!(joint, ", {above} above the {from}");
        }
        labelled(text, "In joint", &joint);
        let required = self.inputs.job.cut.clearance;
        let clear = words::clearances_on_paper(
            words::clearance_word(place, required),
            place.to_connection,
            place.to_shoulder,
            required,
            self.show,
        );
        labelled(text, "Clearance", &clear);
        let rough = self.inputs.job.cut.rough_above.zip(self.figures.cut.rough);
        if let Some((above, at)) = rough.filter(|_| self.is_marked()) {
            let rough = words::rough_cut(above, &both(self.inputs, at.height()), self.show);
            labelled(text, "Rough cut first", &rough);
        }
        let pipe = &self.view.slot.pipe;
        labelled(text, "Pipe", &words::pipe(pipe));
        let mass = format!(
            "{}, {}: {}",
            both(self.inputs, place.offcut_length),
            words::lift_word(self.figures),
            words::offcut_mass(place)
        );
        labelled(text, "Off-cut", &mass);
        if self.is_marked() {
            labelled(text, "Cutting takes", &words::cutting_time(pipe));
        }
    }

    fn marks(&self, text: &mut String) {
        let Some(place) = &self.figures.cut.place else {
            return;
        };
        let _ = writeln!(text, "Marks, nearest first:");
        for mark in words::marks_to_set_out(self.figures, place) {
            let line = format!(
                "{} {},  U {}",
                both(self.inputs, mark.distance.value.abs()),
                words::direction(self.view, self.figures, mark),
                known(self.show, &mark.distance)
            );
            indented(text, "  - ", &line);
            let rests_on = words::rests_on(self.view, self.figures, mark, self.show).join("; ");
            indented(text, "      rests on ", &rests_on);
        }
        if let Some(used) = words::elevations_used(self.view, self.figures, self.show) {
            indented(text, "  ", &used);
        }
        if let Some(shared) = words::not_independent(self.view, self.figures, place, self.show) {
            indented(text, "  ", &shared);
        }
    }

    /// Where those write who mark, measure and check: readings of two marks side by side.
    fn blanks(&self, text: &mut String) {
        // Nobody is asked to sign for marks that are not given, or not for cutting.
        let status = self.standing.status;
        if !matches!(status, CutStatus::Check | CutStatus::Clear) || !self.is_marked() {
            return;
        }
        text.push('\n');
        let marks = self.inputs.job.agree.marks;
        let mut agree = self.show.small(marks);
        if !self.show.unit().is_metric() {
            let _ = write!(agree, " ({})", LengthFormat::new(Unit::Metre).small(marks));
        }
        indented(text, "", &words::marks_must_agree(&agree));
        for label in ["Marked by", "Measured by", "Checked by"] {
            let line = [(label, 26), ("from", 18), ("reading", 16), ("at", 18)];
            let line = line.map(|(label, columns)| blank(label, columns)).concat();
            let _ = writeln!(text, "{}", line.trim_end());
        }
        let _ = writeln!(text, "{}", words::READING_AT);
    }
}
