//! The parts of the record: what each page holds.

use std::fmt::Write as _;

use super::model::{LETTERS, Paper, Part, Record};
use super::profile::profile;
use super::sketch::{independent, sketch};
use crate::figures::{CutStatus, Figures, SlotFigures, SlotView, Standing};
use crate::journal::{Entry, Event, Inputs, struck};
use crate::measure::LengthFormat;
use crate::report::sheet::slot_sheet;
use crate::report::{VERSION, bridge_text, words};
use crate::signing::{next_hold, verify};

/// What is printed.
#[derive(Clone, Debug, Default)]
pub struct Choice {
    /// One slot alone, by its index.
    pub slot: Option<usize>,
    /// The paper.
    pub paper: Paper,
    /// The time at which it is printed, where that is wanted on it.
    pub dated: Option<String>,
}

/// The whole record of a job.
pub fn record(inputs: &Inputs, figures: &Figures, choice: &Choice) -> Record {
    let title = inputs
        .job
        .title
        .as_deref()
        .unwrap_or("(no title)")
        .to_owned();
    let is_chosen = |index: usize| choice.slot.is_none_or(|slot| slot == index);
    let mut parts = vec![cover(inputs, figures, choice)];
    let views = SlotView::all(&inputs.job, &inputs.tallies);
    let all: Vec<(SlotView<'_>, &SlotFigures, &Standing)> = views
        .zip(figures.slots.iter().zip(&figures.standings))
        .map(|(view, (of_slot, standing))| (view, of_slot, standing))
        .filter(|(view, ..)| is_chosen(view.index))
        .collect();
    for (view, of_slot, standing) in &all {
        parts.push(to_cut_by(inputs, figures, (*view, of_slot, standing)));
    }
    let mut drawn = Part::new("Profile");
    drawn.draw(profile(inputs, figures, (510.0, 640.0)));
    parts.push(drawn);
    for (view, of_slot, _) in &all {
        parts.push(tally(inputs, *view, of_slot));
        parts.extend(lists(inputs, figures, *view));
    }
    parts.push(entries(inputs, choice));
    parts.push(signatures(inputs));
    parts.push(sources(inputs));
    Record {
        title,
        parts,
        foot: foot(inputs),
        letters: LETTERS,
        paper: choice.paper,
    }
}

/// What stands at the foot of every page: it may be torn off and be all that someone holds.
pub(super) fn foot(inputs: &Inputs) -> Vec<String> {
    let head = if inputs.journal.is_there {
        inputs.journal.head()
    } else {
        words::NO_JOURNAL
    };
    vec![
        format!("kerfmark {VERSION}, inputs {}", inputs.digest()),
        format!("journal {head}"),
        words::CAUTION_SHORT.to_owned(),
    ]
}

fn cover(inputs: &Inputs, figures: &Figures, choice: &Choice) -> Part {
    let mut part = Part::new("Record");
    let show = LengthFormat::new(inputs.job.units);
    if let Some(time) = &choice.dated {
        part.lines(&words::printed_at(time));
    }
    part.heading("Slots");
    let verified = verify(inputs);
    let slots = figures.slots.iter().zip(&figures.standings).enumerate();
    for (index, (of_slot, standing)) in slots {
        let Some(slot) = inputs.job.slots.get(index) else {
            continue;
        };
        if choice.slot.is_some_and(|only| only != index) {
            continue;
        }
        part.band(&format!("{:<8}{}", slot.name, words::cut_state(standing)));
        let target = words::target_of(slot.cut_offset, &of_slot.cut, show);
        part.lines(&format!("        {target}"));
        let next = next_hold(inputs, &verified, index);
        let next = next.map_or("none", |next| words::hold(next.hold));
        part.lines(&format!("        next hold point: {next}"));
    }
    part.heading("Flags of the job");
    if figures.flags.is_empty() {
        part.lines("none");
    }
    for flag in &figures.flags {
        let text = words::flag(flag, show);
        part.lines(&format!("{} {}: {text}", flag.severity.word(), flag.code));
    }
    part.heading("Caution");
    let held = words::corrections_held(&inputs.job, figures);
    for text in [words::PROOF, &held, words::CAUTION, words::TAIL] {
        part.lines(text);
    }
    part
}

/// The page by which a slot is cut.
fn to_cut_by(
    inputs: &Inputs,
    figures: &Figures,
    (view, of_slot, standing): (SlotView<'_>, &SlotFigures, &Standing),
) -> Part {
    let title = words::slot_page(&view.slot.name, of_slot.cut.is_cut());
    let mut part = Part::new(title);
    part.band(&format!(
        "SLOT {}   {}",
        view.slot.name,
        words::cut_state(standing)
    ));
    let sheet = slot_sheet(inputs, figures, view.index);
    // The first line is the band.
    let rest: Vec<&str> = sheet.lines().skip(1).collect();
    part.lines(&rest.join("\n"));
    read_on_it(inputs, view.index, &mut part);
    let is_marked = matches!(standing.status, CutStatus::Check | CutStatus::Clear);
    if let Some(place) = of_slot.cut.place.as_ref().filter(|_| is_marked)
        && !independent(of_slot, place).is_empty()
    {
        part.draw(sketch(view, of_slot, place));
    }
    part
}

/// The entries of what was marked on a conductor, set to it and read of it that apply now.
fn read_on_it(inputs: &Inputs, slot: usize, part: &mut Part) {
    let Some(said) = inputs.record.slots.get(slot) else {
        return;
    };
    let applies = [
        said.stick_ups.last().map(|it| it.seq),
        said.scribe.as_ref().map(|it| it.seq),
        said.cutter.as_ref().map(|it| it.seq),
        said.as_cut.as_ref().map(|it| it.seq),
    ];
    let entries = inputs.journal.entries.iter();
    let applies: Vec<&Entry> = entries
        .filter(|entry| applies.contains(&Some(entry.seq)))
        .collect();
    if applies.is_empty() {
        return;
    }
    part.heading(words::ENTERED);
    for entry in applies {
        let which = format!("entry {} by {}", entry.seq, entry.by);
        part.lines(&format!(
            "{:<12}{} ({which}, {})",
            entry.name,
            words::entry(entry),
            entry.at
        ));
    }
}

/// The tally of record with its running sums and where each length is written.
fn tally(inputs: &Inputs, view: SlotView<'_>, of_slot: &SlotFigures) -> Part {
    let mut part = Part::new(format!("Slot {}: tally of record", view.slot.name));
    let show = LengthFormat::new(inputs.job.units);
    let file = words::tally_of(inputs, view.index);
    part.lines(&file);
    part.heading(&format!(
        "{:<10}{:<14}{:<9}{:>13}{:>11}{:>15}{:>13}  line",
        "joint", "serial", "kind", "overall", "loss", "running total", "upper plane"
    ));
    let pieces = of_slot.chain.string.pieces.iter().enumerate();
    for ((at, piece), joint) in pieces.zip(&view.tally.joints) {
        let number = |length| show.number(length);
        let length = joint.length.map_or_else(String::new, number);
        let loss = joint.makeup_loss.map_or_else(String::new, number);
        let plane = of_slot.chain.upper_plane(at);
        let plane = plane.map_or_else(String::new, |it| show.number(it.height()));
        part.lines(&format!(
            "{:<10}{:<14}{:<9}{length:>13}{loss:>11}{:>15}{plane:>13}  {}",
            joint.number,
            joint.serial.as_deref().unwrap_or_default(),
            joint.kind.map_or("", |kind| kind.name()),
            show.number(piece.upper()),
            joint.line,
        ));
        if let Some(remarks) = &joint.remarks {
            part.lines(&format!("            {remarks}"));
        }
    }
    part.lines(&words::in_unit(show, of_slot.chain.string.length));
    part
}

/// The other lists of a slot's string, each bridged to the tally of record.
fn lists(inputs: &Inputs, figures: &Figures, view: SlotView<'_>) -> Vec<Part> {
    let lists = inputs.lists.get(view.index).into_iter().flatten();
    let of_lists = figures.lists.get(view.index).into_iter().flatten();
    let mut parts = Vec::new();
    for (list, of_list) in lists.zip(of_lists) {
        let mut part = Part::new(format!("Slot {}: list {}", view.slot.name, list.name));
        match of_list {
            Some(it) => part.lines(&bridge_text(
                ["tally of record", &list.name],
                view.tally,
                &it.bridge,
            )),
            None => part.lines(words::UNREADABLE_LIST),
        }
        if !list.decisions.is_empty() {
            part.heading("Decided");
        }
        for decision in &list.decisions {
            let mut line = format!("{} of {}", decision.topic.name(), decision.joint);
            if !decision.note.is_empty() {
                let _ = write!(line, ": {}", decision.note);
            }
            part.lines(&line);
        }
        parts.push(part);
    }
    parts
}

/// Every entry of the journal: what was run, read, scribed, surveyed, waived and struck.
fn entries(inputs: &Inputs, choice: &Choice) -> Part {
    let mut part = Part::new("Journal");
    let gone = struck(&inputs.journal.entries);
    let name = choice
        .slot
        .and_then(|slot| inputs.job.slots.get(slot))
        .map(|it| &it.name);
    let is_chosen = |entry: &&Entry| {
        let slot = entry.event.slot();
        name.is_none_or(|name| slot.is_none_or(|slot| slot == name))
    };
    let chosen: Vec<&Entry> = inputs.journal.entries.iter().filter(is_chosen).collect();
    if chosen.is_empty() {
        part.lines(words::NO_JOURNAL);
    }
    for entry in chosen {
        let slot = entry.event.slot().unwrap_or("-");
        let sign = if gone.contains(&entry.seq) { "x" } else { " " };
        let paper = if entry.from_paper { " (paper)" } else { "" };
        part.lines(&format!(
            "{:>5}{sign}{} {:<5}{slot:<6}{:<16}{}{paper}",
            entry.seq,
            entry.at,
            entry.by,
            entry.name,
            words::entry(entry)
        ));
        if let Event::Waiver { .. } = entry.event {
            part.lines(&format!("        {}", entry.own));
        }
    }
    if !gone.is_empty() {
        part.lines(words::STRUCK);
    }
    part
}

/// Every signature: a row, and under it the key, and what moved or is wrong.
fn signatures(inputs: &Inputs) -> Part {
    let mut part = Part::new("Signatures");
    let verified = verify(inputs);
    part.lines(words::TAIL);
    if verified.is_empty() {
        part.lines(words::NOTHING_SIGNED);
        return part;
    }
    part.heading(&format!(
        "{:<8}{:<14}{:<10}{:<8}state, time",
        "slot", "hold point", "role", "name"
    ));
    for of in &verified {
        let hold = of.hold.map_or("unknown", |hold| hold.name());
        let role = of.role.map_or("unknown", |role| role.name());
        let state = of.state.word();
        part.lines(&format!(
            "{:<8}{hold:<14}{role:<10}{:<8}{state}  {}",
            of.slot, of.name, of.at
        ));
        let how = match &of.fingerprint {
            Some(key) => key.as_str(),
            None if of.on_paper => words::ON_PAPER,
            None => "",
        };
        part.lines(&format!("        {} {how}", of.statement));
        for line in words::what_became_of(of) {
            part.lines(&format!("        {line}"));
        }
    }
    part
}

fn sources(inputs: &Inputs) -> Part {
    let mut part = Part::new("Files");
    for source in &inputs.sources {
        part.lines(&format!("{}  {}", source.sha256, source.name));
    }
    if let Some((_, digest)) = &inputs.signers {
        part.lines(&format!("{digest}  signers"));
    }
    part.lines(&format!(
        "{}  journal.jsonl, its head",
        inputs.journal.head()
    ));
    part
}
