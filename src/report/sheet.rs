//! The cut sheet: what a cutter holds.

use std::fmt::Write as _;

use super::VERSION;
use super::text::{flags, stated};
use super::words::{self, CAUTION, NO_CORRECTION, SCRIBE};
use crate::figures::{CutPlace, Figures, Mark, MarkFrom, SlotFigures, Verdict, steel};
use crate::flag::Code;
use crate::job::{Folder, Slot};
use crate::measure::{Length, Show, Unit};
use crate::tally::Tally;

/// The width of the paper, in characters.
const WIDTH: usize = 78;

/// The whole sheet.
pub fn cut_sheet(folder: &Folder, figures: &Figures) -> String {
    let job = &folder.job;
    let mut text = String::new();
    let _ = writeln!(
        text,
        "CUT SHEET  {}",
        job.title.as_deref().unwrap_or("(no title)")
    );
    let hull = job.hulls.get(job.cut.hull);
    if let Some(hull) = hull {
        let _ = writeln!(
            text,
            "Cut from hull position {}: RT {} above {}",
            hull.name,
            both(folder, hull.rotary.height()),
            job.sea_datum
        );
    }
    let slots = job.slots.iter().zip(&folder.tallies).zip(&figures.slots);
    for (index, ((slot, tally), of_slot)) in slots.enumerate() {
        let _ = writeln!(text, "\n{}", "=".repeat(WIDTH));
        Block {
            folder,
            index,
            slot,
            tally,
            figures: of_slot,
            show: Show::new(job.units),
        }
        .write(&mut text);
    }
    let _ = writeln!(text, "\n{}", "=".repeat(WIDTH));
    whole(&mut text, folder, figures);
    for (file, why) in &folder.not_used {
        wrapped(&mut text, &format!("Not used: {file} ({why})"));
    }
    text.push('\n');
    wrapped(&mut text, SCRIBE);
    wrapped(&mut text, NO_CORRECTION);
    text.push('\n');
    wrapped(&mut text, CAUTION);
    let _ = writeln!(text, "\nkerfmark {VERSION}, inputs {}", folder.digest());
    text
}

/// A length in the job's unit and in the other system.
fn both(folder: &Folder, length: Length) -> String {
    let own = Show::new(folder.job.units);
    let other = Show::new(if own.unit() == Unit::Metre {
        Unit::FootInch
    } else {
        Unit::Metre
    });
    format!("{} ({})", own.text(length), other.text(length))
}

/// The target is read by people of both systems: always in metres and in feet and inches.
fn every_way(folder: &Folder, length: Length) -> String {
    let own = Show::new(folder.job.units);
    if own.unit() != Unit::Foot {
        return both(folder, length);
    }
    let (metres, inches) = (Show::new(Unit::Metre), Show::new(Unit::FootInch));
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
    for word in sentence.split_whitespace() {
        if has_word && line.chars().count() + 1 + word.chars().count() > WIDTH {
            let _ = writeln!(text, "{line}");
            line.clone_from(&indent);
            has_word = false;
        }
        if has_word {
            line.push(' ');
        }
        line.push_str(word);
        has_word = true;
    }
    let _ = writeln!(text, "{line}");
}

fn whole(text: &mut String, folder: &Folder, figures: &Figures) {
    let show = Show::new(folder.job.units);
    let spread = &figures.spread;
    match spread.value {
        Some(value) => wrapped(
            text,
            &format!(
                "Spread of {} cuts: {}, U {}: {}",
                spread.cuts,
                show.small(value),
                stated(show, spread.variance),
                spread.verdict.map_or("no limit given", Verdict::word)
            ),
        ),
        None => wrapped(
            text,
            &format!(
                "Spread: {} of {} conductors cut and judged, none to compare yet",
                spread.cuts,
                figures.slots.len()
            ),
        ),
    }
    if let Some(frame) = &figures.frame {
        let height = frame
            .above_mudline
            .map_or_else(|| "unknown".to_owned(), |height| show.text(height));
        wrapped(
            text,
            &format!(
                "Frame's base above the mudline: {height}, U {}: {}",
                stated(show, frame.variance),
                frame
                    .verdict
                    .map_or("no window given or no shoulder", Verdict::word)
            ),
        );
    }
    let mut raised = String::new();
    flags(&mut raised, &figures.flags);
    for line in raised.lines() {
        indented(text, "! ", line);
    }
}

/// The part of one slot.
struct Block<'a> {
    folder: &'a Folder,
    index: usize,
    slot: &'a Slot,
    tally: &'a Tally,
    figures: &'a SlotFigures,
    show: Show,
}

impl Block<'_> {
    fn write(&self, text: &mut String) {
        let job = &self.folder.job;
        let cut = &self.figures.cut;
        self.heading(text);
        let target = format!(
            "{} above {}",
            every_way(self.folder, cut.target.height()),
            job.sea_datum
        );
        indented(text, "Finished top at     ", &target);
        self.allowances(text);
        if let Some(place) = &cut.place {
            self.place(text, place);
        } else {
            self.no_place(text);
        }
        let mut raised = String::new();
        flags(&mut raised, &self.figures.flags);
        for line in raised.lines() {
            indented(text, "! ", line);
        }
    }

    /// Each allowance by itself, so that two which cancel are seen, and then what they come to.
    fn allowances(&self, text: &mut String) {
        let job = &self.folder.job;
        let here: Vec<_> = job
            .allowances
            .iter()
            .filter(|allowance| allowance.slots.has(self.index))
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
        let _ = writeln!(text, "SLOT {}   {state}", self.slot.name);
        if let Some(as_cut) = &self.figures.cut.as_cut {
            let probability = as_cut.probability.map_or_else(String::new, |probability| {
                format!(
                    ", probability of conformity {}",
                    words::probability(probability)
                )
            });
            let level = as_cut.out_of_level.map_or_else(
                || "not known (under 3 readings)".to_owned(),
                |out| self.show.small(out),
            );
            let verdict = format!(
                "mean of {} readings {}, {} from target, U {}: {}{probability}; out of level {level}",
                as_cut.readings,
                both(self.folder, as_cut.mean.rounded()),
                self.show.small_signed(as_cut.deviation.rounded()),
                stated(self.show, as_cut.variance),
                as_cut.verdict.map_or("no tolerance given", Verdict::word),
            );
            indented(text, "As cut              ", &verdict);
        } else if let Some(line) = words::unjudged(self.figures) {
            indented(text, "As cut              ", &line);
        }
    }

    fn no_place(&self, text: &mut String) {
        let codes = [Code::TooShort, Code::CutBelowShoe, Code::NoStickUp];
        let why = self
            .figures
            .flags
            .iter()
            .find(|flag| codes.contains(&flag.code));
        let why = why.map_or("its place on the string is not known", |flag| {
            flag.text.as_str()
        });
        indented(text, "NO CUT TO MARK      ", why);
    }

    fn number(&self, piece: usize) -> &str {
        let joint = self
            .figures
            .string
            .pieces
            .get(piece)
            .and_then(|piece| self.tally.joints.get(piece.joint));
        joint.map_or("", |joint| &joint.number)
    }

    fn place(&self, text: &mut String, place: &CutPlace) {
        let serial = self
            .figures
            .string
            .pieces
            .get(place.piece)
            .and_then(|piece| self.tally.joints.get(piece.joint))
            .and_then(|joint| joint.serial.as_deref())
            .map_or_else(String::new, |serial| format!(", serial {serial}"));
        indented(
            text,
            "In joint            ",
            &format!("{}{serial}", self.number(place.piece)),
        );
        let distance = |length: Option<Length>| {
            length.map_or_else(|| "none".to_owned(), |length| self.show.text(length))
        };
        let clear = format!(
            "{} to the nearest connection, {} to the landing shoulder (asked for: {})",
            distance(place.to_connection),
            distance(place.to_shoulder),
            self.folder.job.cut.clearance.map_or_else(
                || "no clearance".to_owned(),
                |clearance| self.show.text(clearance)
            ),
        );
        indented(text, "Clear of steel      ", &clear);
        if let Some(rough) = self.figures.cut.rough {
            indented(
                text,
                "Rough cut first at  ",
                &both(self.folder, rough.height()),
            );
        }
        let mass = format!(
            "{}, {:.0} kg = {:.2} t to be lifted, {} in it",
            both(self.folder, place.offcut_length),
            place.offcut_mass,
            place.offcut_mass / 1000.0,
            words::counted(place.offcut_connections, "made-up connection")
        );
        indented(text, "Off-cut             ", &mass);
        if let Some(pipe) = self.folder.job.pipes.get(self.slot.pipe) {
            let estimate = format!(
                "about {:.0} minutes: a first estimate from common practice, by steel area",
                steel::cutting_minutes(pipe)
            );
            indented(text, "Cold cut takes      ", &estimate);
        }
        self.marks(text, place);
    }

    fn marks(&self, text: &mut String, place: &CutPlace) {
        let heading = if self.figures.cut.is_cut() {
            "Marks it was to be found by, nearest first:"
        } else {
            "Marks, nearest first:"
        };
        let _ = writeln!(text, "{heading}");
        let mut marks: Vec<&Mark> = place.marks.iter().collect();
        marks.sort_by_key(|mark| mark.distance.abs());
        for mark in &marks {
            let line = format!(
                "{} {},  U {}",
                both(self.folder, mark.distance.abs()),
                self.direction(mark, place.piece),
                stated(self.show, mark.variance)
            );
            indented(text, "  - ", &line);
            indented(text, "      rests on ", &mark.rests_on.join("; "));
        }
        if let Some(shared) = Self::shared(&marks) {
            indented(text, "  ", &shared);
        }
    }

    /// `down from ...` or `up from ...`, the true way whatever the sign.
    fn direction(&self, mark: &Mark, piece: usize) -> String {
        let job = &self.folder.job;
        let upward = (mark.from == MarkFrom::LowerPlane) != mark.distance.is_negative();
        let way = if upward { "UP from" } else { "DOWN from" };
        let from = match mark.from {
            MarkFrom::Rotary => {
                format!(
                    "RT at hull position {}",
                    job.hulls.get(job.cut.hull).map_or("", |hull| &hull.name)
                )
            }
            MarkFrom::LowerPlane if piece == 0 => {
                format!("the lower end of {}", self.number(piece))
            }
            MarkFrom::LowerPlane => format!("the lower make-up plane of {}", self.number(piece)),
            MarkFrom::UpperPlane => format!("the upper make-up plane of {}", self.number(piece)),
            MarkFrom::Top => "the present top".to_owned(),
            MarkFrom::Bench(index) => format!(
                "bench {}",
                job.benches.get(index).map_or("", |bench| &bench.name)
            ),
        };
        format!("{way} {from}")
    }

    /// Marks that rest on one reading are not independent: their agreeing proves nothing about it.
    fn shared(marks: &[&Mark]) -> Option<String> {
        let all: Vec<&String> = marks.iter().flat_map(|mark| &mark.rests_on).collect();
        let mut shared: Vec<&str> = Vec::new();
        for reading in &all {
            let several = all.iter().filter(|other| other == &reading).count() > 1;
            if several && !shared.contains(&reading.as_str()) {
                shared.push(reading);
            }
        }
        (!shared.is_empty()).then(|| {
            format!(
                "Not independent: marks that rest on the same reading ({}) agree whether it is right or wrong.",
                shared.join("; ")
            )
        })
    }
}
