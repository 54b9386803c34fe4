//! The cut sheet: what a cutter holds.

use std::fmt::Write as _;

use super::VERSION;
use super::text::flags;
use super::words::{self, CAUTION, NO_CORRECTION, SCRIBE, known};
use crate::figures::{CutPlace, Figures, SlotFigures, SlotView, Verdict};
use crate::finding::{Flag, Severity};
use crate::job::Inputs;
use crate::measure::{Length, LengthFormat, Unit};

/// The width of the paper, in characters.
const WIDTH: usize = 78;

/// The whole sheet.
pub fn cut_sheet(inputs: &Inputs, figures: &Figures) -> String {
    let job = &inputs.job;
    let mut text = String::new();
    let _ = writeln!(
        text,
        "CUT SHEET  {}",
        job.title.as_deref().unwrap_or("(no title)")
    );
    let hull = &job.cut.hull;
    let _ = writeln!(
        text,
        "{}",
        words::cut_from(
            &hull.name,
            &both(inputs, hull.rotary.height()),
            &job.sea_datum
        )
    );
    let views = SlotView::all(job, &inputs.tallies);
    for (view, of_slot) in views.zip(&figures.slots) {
        let _ = writeln!(text, "\n{}", "=".repeat(WIDTH));
        Block {
            inputs,
            view,
            figures: of_slot,
            show: LengthFormat::new(job.units),
        }
        .write(&mut text);
    }
    let _ = writeln!(text, "\n{}", "=".repeat(WIDTH));
    whole(&mut text, inputs, figures);
    for (file, why) in &inputs.not_used {
        wrapped(&mut text, &format!("Not used: {file} ({why})"));
    }
    text.push('\n');
    wrapped(&mut text, SCRIBE);
    wrapped(&mut text, NO_CORRECTION);
    text.push('\n');
    wrapped(&mut text, CAUTION);
    let _ = writeln!(text, "\nkerfmark {VERSION}, inputs {}", inputs.digest());
    text
}

/// A length in the job's unit and in the other system.
fn both(inputs: &Inputs, length: Length) -> String {
    let [own, other] = words::both(LengthFormat::new(inputs.job.units), length);
    format!("{own} ({other})")
}

/// The target is read by people of both systems: always in metres and in feet and inches.
fn every_way(inputs: &Inputs, length: Length) -> String {
    let own = LengthFormat::new(inputs.job.units);
    if own.unit() != Unit::Foot {
        return both(inputs, length);
    }
    let (metres, inches) = (
        LengthFormat::new(Unit::Metre),
        LengthFormat::new(Unit::FootInch),
    );
    format!(
        "{} ({}, {})",
        own.text(length),
        metres.text(length),
        inches.text(length)
    )
}

fn wrapped(text: &mut String, sentence: &str) {
    indented(text, "", sentence);
}

/// A sentence broken at spaces, its later lines under the text of the first.
fn indented(text: &mut String, lead: &str, sentence: &str) {
    let indent = " ".repeat(lead.chars().count());
    let mut line = lead.to_owned();
    let mut has_word = false;
    for word in kept_together(sentence) {
        if has_word && line.chars().count() + 1 + word.chars().count() > WIDTH {
            let _ = writeln!(text, "{line}");
            line.clone_from(&indent);
            has_word = false;
        }
        if has_word {
            line.push(' ');
        }
        line.push_str(&word);
        has_word = true;
    }
    let _ = writeln!(text, "{line}");
}

/// The words of a sentence, a figure and its unit as one: `8.2` alone at the end of a line is read
/// as something else.
fn kept_together(sentence: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in sentence.split_whitespace() {
        let unit = word.trim_end_matches([',', ';', ':', ')', '.']);
        let after_figure = words
            .last()
            .is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()));
        match words.last_mut() {
            Some(before) if after_figure && ["m", "mm", "in", "ft", "kg"].contains(&unit) => {
                before.push(' ');
                before.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn whole(text: &mut String, inputs: &Inputs, figures: &Figures) {
    let show = LengthFormat::new(inputs.job.units);
    let spread = words::spread(&figures.spread, figures.slots.len(), show);
    wrapped(text, &spread);
    if let Some(frame) = &figures.frame {
        let above = frame.above_mudline.as_ref();
        let height = above.map_or_else(|| "unknown".to_owned(), |it| show.text(it.value));
        let uncertainty = above.map_or_else(|| "not stated".to_owned(), |it| known(show, it));
        wrapped(
            text,
            &format!(
                "Frame's base above the mudline: {height}, U {uncertainty}: {}",
                frame
                    .verdict
                    .map_or("no window given or no shoulder", Verdict::word)
            ),
        );
    }
    let mut raised = String::new();
    flags(&mut raised, &figures.flags, show);
    for line in raised.lines() {
        indented(text, "! ", line);
    }
    if let Some(zero) = words::counted_as_zero(&inputs.job) {
        wrapped(text, &zero);
    }
}

/// The part of one slot.
struct Block<'a> {
    inputs: &'a Inputs,
    view: SlotView<'a>,
    figures: &'a SlotFigures,
    show: LengthFormat,
}

impl Block<'_> {
    fn write(&self, text: &mut String) {
        let job = &self.inputs.job;
        let cut = &self.figures.cut;
        self.heading(text);
        // What stops the job comes before anything that could be set out with a tape.
        self.flags(text, |flag| flag.severity == Severity::Stop);
        let target = format!(
            "{} above {}",
            every_way(self.inputs, cut.target.height()),
            job.sea_datum
        );
        indented(text, "Cut target          ", &target);
        self.allowances(text);
        self.limits(text);
        if let Some(place) = &cut.place {
            self.place(text, place);
        } else {
            indented(
                text,
                "NO CUT TO MARK      ",
                &words::no_place(self.figures, self.show),
            );
        }
        self.flags(text, |flag| flag.severity != Severity::Stop);
    }

    fn flags(&self, text: &mut String, which: fn(&Flag) -> bool) {
        let chosen: Vec<Flag> = self
            .figures
            .flags
            .iter()
            .filter(|flag| which(flag))
            .cloned()
            .collect();
        let mut raised = String::new();
        flags(&mut raised, &chosen, self.show);
        for line in raised.lines() {
            indented(text, "! ", line);
        }
    }

    /// The tolerances of the cut, and the kerf that the blade needs above the line.
    fn limits(&self, text: &mut String) {
        let limits = &self.inputs.job.cut;
        let or_none = |limit: Option<Length>| {
            limit.map_or_else(|| "none given".to_owned(), |limit| self.show.small(limit))
        };
        let line = format!(
            "±{}, out of level {}; kerf {}",
            or_none(limits.tolerance),
            or_none(limits.level),
            self.show.small(limits.kerf)
        );
        indented(text, "Tolerances          ", &line);
    }

    /// Each allowance by itself, so that two which cancel are seen, and then what they come to.
    fn allowances(&self, text: &mut String) {
        let job = &self.inputs.job;
        let here: Vec<_> = job
            .allowances
            .iter()
            .filter(|allowance| allowance.slots.has(self.view.index))
            .collect();
        for allowance in &here {
            let line = format!(
                "{} {}",
                self.show.small_signed(allowance.value),
                allowance.why
            );
            indented(text, "  with allowance    ", &line);
        }
        if here.len() > 1 {
            let sum = self.show.small_signed(self.figures.cut.allowances);
            indented(text, "  together          ", &sum);
        }
    }

    /// Whether it is cut already comes first, so that nobody cuts twice. The readings themselves
    /// say so: a string that is found too short has no verdict on them, and is cut all the same.
    fn heading(&self, text: &mut String) {
        let state = words::cut_state(self.figures);
        let _ = writeln!(text, "SLOT {}   {state}", self.view.slot.name);
        if let Some(as_cut) = &self.figures.cut.as_cut {
            let limits = &self.inputs.job.cut;
            let height = format!(
                "{}: {}",
                as_cut.verdict.map_or("no tolerance given", Verdict::word),
                words::height_verdict(as_cut, limits.tolerance, self.show)
            );
            indented(text, "Height of the top   ", &height);
            let measured = format!(
                "{}, mean of {}; {}",
                both(self.inputs, as_cut.mean.value.rounded()),
                words::counted(as_cut.readings, "reading"),
                words::level_words(as_cut, limits.level, self.show)
            );
            indented(text, "Finished top        ", &measured);
        } else if let Some(line) = words::unjudged(self.figures) {
            indented(text, "As cut              ", &line);
        }
    }

    fn place(&self, text: &mut String, place: &CutPlace) {
        let serial = self
            .figures
            .chain
            .string
            .pieces
            .get(place.piece)
            .and_then(|piece| self.view.tally.joints.get(piece.joint))
            .and_then(|joint| joint.serial.as_deref())
            .map_or_else(String::new, |serial| format!(", serial {serial}"));
        indented(
            text,
            "In joint            ",
            &format!(
                "{}{serial}, {} above the {}",
                self.figures.chain.number(self.view.tally, place.piece),
                self.show.text(place.above_lower_plane),
                words::counted_from(&self.figures.chain, self.view.tally, place.piece)
            ),
        );
        let required = self.inputs.job.cut.clearance;
        let clear = words::clearances_on_paper(
            words::clearance_word(place, required),
            place.to_connection,
            place.to_shoulder,
            required,
            self.show,
        );
        indented(text, "Clearance           ", &clear);
        let is_cut = self.figures.cut.is_cut();
        if let Some(rough) = self.figures.cut.rough.filter(|_| !is_cut) {
            indented(
                text,
                "Rough cut first at  ",
                &both(self.inputs, rough.height()),
            );
        }
        let pipe = &self.view.slot.pipe;
        let mass = format!(
            "{}, {}: {}",
            both(self.inputs, place.offcut_length),
            words::lift_word(self.figures),
            words::offcut_mass(place)
        );
        indented(text, "Off-cut             ", &mass);
        if !is_cut {
            let estimate = words::cutting_time(pipe);
            indented(text, "Cutting takes       ", &estimate);
        }
        self.marks(text, place);
    }

    fn marks(&self, text: &mut String, place: &CutPlace) {
        let heading = words::marks_heading(self.figures);
        let _ = writeln!(text, "{heading}, nearest first:");
        for mark in place.nearest_first() {
            let line = format!(
                "{} {},  U {}",
                both(self.inputs, mark.distance.value.abs()),
                words::direction(self.view, self.figures, mark),
                known(self.show, &mark.distance)
            );
            indented(text, "  - ", &line);
            indented(
                text,
                "      rests on ",
                &words::rests_on(self.view, self.figures, mark).join("; "),
            );
        }
        if let Some(shared) = words::not_independent(self.view, self.figures, place) {
            indented(text, "  ", &shared);
        }
    }
}
