//! A statement as a person reads and signs it.

use std::fmt::Write as _;

use super::sheet::indented;
use super::words;
use crate::figures::{Figures, SlotFigures};
use crate::finding::{Flag, Severity};
use crate::job::Hold;
use crate::journal::{Inputs, sha256};
use crate::measure::LengthFormat;
use crate::signing::{FIGURES, INPUTS, Statement};

/// The text of a statement. A figure's line is its key, ` = ` and its value, so that a program reads it too.
pub fn statement(inputs: &Inputs, figures: &Figures, slot: usize, of: &Statement) -> String {
    let mut text = String::from("STATEMENT OF A HOLD POINT\n\n");
    let job = &inputs.job;
    if let Some(title) = &job.title {
        let _ = writeln!(text, "Job: {title}");
    }
    for (label, value) in of.heading() {
        let _ = writeln!(text, "{label}: {value}");
    }
    if of.on_paper {
        text.push('\n');
        text.push_str(words::BY_PEN);
    }
    text.push('\n');
    let Some(of_slot) = figures.slots.get(slot) else {
        return text;
    };
    in_words(&mut text, inputs, of_slot, of);
    let _ = writeln!(text, "\n{FIGURES}");
    for figure in &of.figures {
        let _ = writeln!(text, "{} = {}", figure.key, figure.text);
    }
    let _ = writeln!(text, "\n{INPUTS}");
    for (name, digest) in &of.inputs {
        let _ = writeln!(text, "{name} = {digest}");
    }
    flags(&mut text, inputs, figures, slot);
    decided(&mut text, inputs, slot);
    text.push_str("\nNOT CLAIMED\n");
    for line in words::not_claimed(of.hold, of_slot) {
        indented(&mut text, "- ", &line);
    }
    text.push('\n');
    indented(&mut text, "", words::PROOF);
    indented(&mut text, "", &words::corrections_held(job, figures));
    indented(&mut text, "", words::CAUTION);
    text
}

/// What a person signs, in a few lines.
fn in_words(text: &mut String, inputs: &Inputs, figures: &SlotFigures, of: &Statement) {
    let show = LengthFormat::new(inputs.job.units);
    let known = |length: Option<crate::measure::Elevation>| {
        length.map_or_else(|| "not known".to_owned(), |it| show.text(it.height()))
    };
    let chain = &figures.chain;
    let mut line = |label: &str, value: String| {
        let _ = writeln!(text, "  {label:<22}{value}");
    };
    if figures.adjusted.is_some() {
        line("Elevations", words::elevations_are(chain).to_owned());
    }
    line("Joints", chain.string.pieces.len().to_string());
    line("String length", show.text(chain.string.length));
    let top = if figures.cut.is_cut() {
        "Top before the cut"
    } else {
        "Top"
    };
    line(top, known(chain.top));
    line("Shoe", known(chain.shoe));
    if chain.shoulder.is_some() {
        line("Landing shoulder", known(chain.shoulder_elevation()));
    }
    let datum = &inputs.job.sea_datum;
    let target = show.text(figures.cut.target.height());
    line("Cut target", format!("{target} above {datum}"));
    if let Some(as_cut) = &figures.cut.as_cut {
        let state = as_cut.verdict.map_or("not judged", |it| it.word());
        let mean = show.text(as_cut.mean.value.rounded());
        line("Finished top", format!("{mean}, {state}"));
    }
    if of.hold == Hold::OffCutLift
        && let Some(place) = &figures.cut.place
    {
        line("Off-cut", show.text(place.offcut_length));
        line("", words::lift(place));
    }
    if matches!(of.hold, Hold::OffCutLift | Hold::Final) {
        let said = inputs.record.slots.iter().zip(&inputs.job.slots);
        let mut said = said.filter(|(_, slot)| slot.name == of.slot);
        let set = said.next().and_then(|(said, _)| said.cutter.as_ref());
        line("Blade", words::blade(set, show));
    }
}

fn flags(text: &mut String, inputs: &Inputs, figures: &Figures, slot: usize) {
    let show = LengthFormat::new(inputs.job.units);
    text.push_str("\nFLAGS AND WAIVERS\n");
    let own = figures.slots.get(slot).map(|it| &it.flags);
    let of_job = figures.standings.get(slot).map(|it| &it.of_job);
    let flags: Vec<&Flag> = own.into_iter().chain(of_job).flatten().collect();
    if flags.is_empty() {
        text.push_str("none\n");
    }
    for flag in flags {
        let words = words::flag(flag, show);
        let line = format!("{} {}: {words}", flag.severity.word(), flag.code);
        indented(text, "- ", &line);
        let waiver = flag.waived.filter(|_| flag.severity == Severity::Check);
        let mut waivers = inputs.record.slots.iter().flat_map(|it| &it.waivers);
        if let Some(said) = waiver.and_then(|seq| waivers.find(|it| it.seq == seq)) {
            let line = format!(
                "waived by {} (entry {}): {}",
                said.by, said.seq, said.what.why
            );
            indented(text, "  ", &line);
        }
    }
}

/// What was decided on the lists of the slot's string.
fn decided(text: &mut String, inputs: &Inputs, slot: usize) {
    text.push_str("\nDECISIONS ON LISTS\n");
    let lists = inputs.lists.get(slot).into_iter().flatten();
    let mut any = false;
    for list in lists {
        for decision in &list.decisions {
            any = true;
            let line = format!(
                "{}: {} of joint {}",
                list.name,
                decision.topic.name(),
                decision.joint
            );
            indented(text, "- ", &line);
        }
    }
    if !any {
        text.push_str("none\n");
    }
}

/// The line for the pen under a printed statement, with the digest that ties it to the file.
pub fn pen_line(text: &str) -> String {
    words::pen_line(&sha256(text.as_bytes()))
}
