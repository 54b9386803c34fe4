//! Figures and tallies as plain lines, `label: value`, for people, scripts and screen readers.

use std::fmt::Write as _;

use super::VERSION;
use super::how::{figure, how};
use super::words::{self, CAUTION, PROOF, known};
use crate::figures::catalogue::{Subject, subjects};
use crate::figures::{Basis, Figures, SlotFigures, SlotView};
use crate::finding::{Flag, Severity};
use crate::journal::Inputs;
use crate::measure::LengthFormat;
use crate::tally::{PipeString, Tally};

/// Every figure of a job, each with how it came about if `with_how`.
pub fn figures(inputs: &Inputs, figures: &Figures, with_how: bool) -> String {
    let job = &inputs.job;
    let show = LengthFormat::new(job.units);
    let mut text = String::new();
    let _ = writeln!(
        text,
        "job: {}",
        job.title.as_deref().unwrap_or("(no title)")
    );
    let _ = writeln!(text, "elevations: above {}", job.sea_datum);
    for hull in &job.hulls {
        let _ = writeln!(
            text,
            "{}",
            words::rotary_line(
                &hull.name,
                &show.text(hull.rotary.height()),
                &words::stated_rotary(inputs, figures, hull, show)
            )
        );
    }
    let _ = writeln!(
        text,
        "deck: {} ({})",
        show.text(job.deck.elevation.height()),
        words::second_of_deck(&figures.second_ways, show)
    );
    let slots = figures.slots.iter().zip(&figures.standings);
    for (view, (of_slot, standing)) in SlotView::all(job, &inputs.tallies).zip(slots) {
        let index = view.index;
        let _ = writeln!(text, "\nslot: {}", view.slot.name);
        let state = words::cut_state(standing);
        let _ = writeln!(text, "status: {}: {state}", standing.status.word());
        let head = words::head_flags(of_slot, standing);
        flags(&mut text, head, show);
        let _ = writeln!(text, "basis: {}", of_slot.chain.basis.word());
        if of_slot.chain.basis == Basis::Read {
            let second = words::second_of_stick_up(of_slot.chain.plan(view.slot), show);
            let _ = writeln!(text, "second way to the stick-up: {second}");
        }
        let no_marks = words::no_marks(of_slot, standing, show);
        if let Some(why) = &no_marks {
            let _ = writeln!(text, "no marks: {why}");
        }
        let used = words::elevations_used(view, of_slot, show);
        if let Some(used) = used.filter(|_| no_marks.is_none()) {
            let _ = writeln!(text, "{used}");
        }
        let _ = writeln!(text, "joints: {}", of_slot.chain.string.pieces.len());
        for subject in subjects(figures, index) {
            let found = if with_how { how } else { figure };
            let Some(how) = found(inputs, figures, index, subject, show) else {
                continue;
            };
            let mark = of_mark(view, of_slot, subject);
            // Below RT is a mark too: where none may be set out it is not given.
            let is_mark = matches!(subject, Subject::Mark(_) | Subject::CutBelowRotary);
            let is_left_out = matches!(subject, Subject::Mark(_)) && mark.is_none();
            if is_left_out || (is_mark && no_marks.is_some()) {
                continue;
            }
            let line = mark.unwrap_or_else(|| format!("{}: {}", how.title, how.result));
            let _ = writeln!(text, "{line}");
            if with_how {
                for step in how.steps {
                    let _ = writeln!(text, "    {}: {} ({})", step.what, step.value, step.source);
                }
            }
        }
        let notes = of_slot.flags.iter();
        let notes = notes.filter(|flag| flag.severity == Severity::Note);
        flags(&mut text, notes, show);
    }
    text.push('\n');
    let spread = words::spread(&figures.spread, figures.slots.len(), job.cut.spread, show);
    let _ = writeln!(text, "{spread}");
    flags(&mut text, figures.flags.iter(), show);
    let keys = job.not_used();
    if !keys.is_empty() {
        let _ = writeln!(text, "{}", words::keys_not_used(&keys));
    }
    let _ = writeln!(text, "{PROOF}");
    let _ = writeln!(text, "{}", words::corrections_held(job, figures));
    let _ = writeln!(text, "{CAUTION}");
    let _ = writeln!(text, "kerfmark {VERSION}, inputs {}", inputs.digest());
    text
}

pub(super) fn flags<'a>(
    text: &mut String,
    flags: impl IntoIterator<Item = &'a Flag>,
    format: LengthFormat,
) {
    for flag in flags {
        let _ = writeln!(
            text,
            "{}: {}: {}",
            flag.severity.word(),
            flag.code,
            words::flag(flag, format)
        );
    }
}

/// A mark that may be set out: which way, how well it is known, and what it rests on; `None` for all
/// else.
fn of_mark(view: SlotView<'_>, of_slot: &SlotFigures, subject: Subject) -> Option<String> {
    let Subject::Mark(from) = subject else {
        return None;
    };
    let place = of_slot.cut.place.as_ref()?;
    let mut marks = words::marks_to_set_out(of_slot, place).into_iter();
    let mark = marks.find(|mark| mark.from == from)?;
    let show = LengthFormat::new(view.job.units);
    Some(format!(
        "Mark: {} {}, U {}, rests on {}",
        show.text(mark.distance.value.abs()),
        words::direction(view, of_slot, mark),
        known(show, &mark.distance),
        words::rests_on(view, of_slot, mark, show).join("; ")
    ))
}

/// What was understood of one tally file.
pub fn tally(
    file: &str,
    tally: &Tally,
    string: &PipeString,
    raised: &[Flag],
    summary: bool,
) -> String {
    let show = LengthFormat::new(tally.unit);
    let mut text = String::new();
    let _ = writeln!(text, "file: {file}");
    let _ = writeln!(
        text,
        "read as: {}, lengths in {}, {}",
        tally.encoding,
        tally.unit,
        tally.order.name()
    );
    for column in &tally.columns {
        let unit = column
            .unit
            .map_or_else(String::new, |unit| format!(" in {unit}"));
        let used = column
            .used_as
            .map_or_else(|| "not used".to_owned(), |field| format!("{field}{unit}"));
        let _ = writeln!(
            text,
            "column {} `{}`: {used}",
            column.number, column.heading
        );
    }
    let _ = writeln!(text, "joints of the conductor: {}", string.pieces.len());
    let _ = writeln!(text, "string length: {}", show.text(string.length));
    if !string.landing.is_empty() {
        let _ = writeln!(
            text,
            "landing pieces: {}, {}",
            string.landing.len(),
            show.text(string.landing_length)
        );
    }
    if !summary {
        let unit = show.heading();
        let _ = writeln!(
            text,
            "\n{:>5}  {:<12} {:<12} {:<8} {:>16} {:>16} {:>16} {:>16}",
            "line",
            "joint",
            "serial",
            "kind",
            format!("overall {unit}"),
            "make-up loss",
            "effective",
            "running total"
        );
        let conductor = string
            .pieces
            .iter()
            .enumerate()
            .map(|(at, piece)| (at, piece.effective, Some(piece.upper())));
        let landing = string
            .landing
            .iter()
            .map(|piece| (piece.joint, piece.effective, None));
        for (index, effective, running) in conductor.chain(landing) {
            let Some(joint) = tally.joints.get(index) else {
                continue;
            };
            let number = |length: Option<_>| {
                length.map_or_else(|| "-".to_owned(), |length| show.number(length))
            };
            let _ = writeln!(
                text,
                "{:>5}  {:<12} {:<12} {:<8} {:>16} {:>16} {:>16} {:>16}",
                joint.line,
                joint.number,
                joint.serial.as_deref().unwrap_or("-"),
                joint.kind.map_or("-", crate::tally::Kind::name),
                number(joint.overall()),
                number(joint.makeup_loss),
                show.number(effective),
                number(running)
            );
        }
    }
    if !tally.skipped.is_empty() {
        let _ = writeln!(text, "\nlines not read as joints: {}", tally.skipped.len());
        for skipped in &tally.skipped {
            let _ = writeln!(
                text,
                "  line {}: {}: {}",
                skipped.line,
                words::skip_reason(skipped.why),
                skipped.text
            );
        }
    }
    if !tally.notes.is_empty() {
        text.push('\n');
        for note in &tally.notes {
            let _ = writeln!(text, "note: {}", words::file_note(note));
        }
    }
    if !raised.is_empty() {
        text.push('\n');
        flags(&mut text, raised, show);
    }
    text
}
