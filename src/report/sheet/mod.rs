//! The cut sheet: what a cutter holds. One slot a page, and the job as a whole on the last.

mod paper;
mod slot;

use std::fmt::Write as _;

use super::VERSION;
use super::text::flags;
use super::words::{self, CAUTION, PROOF, SCRIBE, known};
use crate::figures::{Figures, SlotView, Verdict};
use crate::journal::Inputs;
use crate::measure::LengthFormat;
pub(super) use paper::indented;
use paper::{both, wrapped};
use slot::Page;

/// The pages of the sheet: one for each slot, and one for the job as a whole.
pub fn cut_sheet(inputs: &Inputs, figures: &Figures) -> Vec<String> {
    let job = &inputs.job;
    let views = SlotView::all(job, &inputs.tallies);
    let slots = views.zip(figures.slots.iter().zip(&figures.standings));
    let mut pages: Vec<String> = slots
        .map(|(view, (of_slot, standing))| {
            let mut text = String::new();
            heading(&mut text, inputs);
            Page {
                inputs,
                view,
                figures: of_slot,
                standing,
                ways: &figures.second_ways,
                show: LengthFormat::new(job.units),
                is_for_record: false,
            }
            .write(&mut text);
            foot(&mut text, (inputs, figures), Some(&view.slot.name));
            text
        })
        .collect();
    let mut text = String::new();
    heading(&mut text, inputs);
    whole(&mut text, inputs, figures);
    foot(&mut text, (inputs, figures), None);
    pages.push(text);
    pages
}

/// The page of one slot without what stands above and below it: no marks are given of a planned one.
pub(super) fn slot_sheet(inputs: &Inputs, figures: &Figures, slot: usize) -> String {
    let mut text = String::new();
    let mut views = SlotView::all(&inputs.job, &inputs.tallies);
    if let (Some(view), Some(of_slot), Some(standing)) = (
        views.nth(slot),
        figures.slots.get(slot),
        figures.standings.get(slot),
    ) {
        Page {
            inputs,
            view,
            figures: of_slot,
            standing,
            ways: &figures.second_ways,
            show: LengthFormat::new(inputs.job.units),
            is_for_record: true,
        }
        .write(&mut text);
    }
    text
}

fn heading(text: &mut String, inputs: &Inputs) {
    let title = inputs.job.title.as_deref().unwrap_or("(no title)");
    let _ = writeln!(text, "CUT SHEET  {title}");
}

/// What every page ends with: it may be torn off and be all that someone holds.
fn foot(text: &mut String, (inputs, figures): (&Inputs, &Figures), slot: Option<&str>) {
    text.push('\n');
    if slot.is_some() {
        wrapped(text, SCRIBE);
    }
    wrapped(text, PROOF);
    wrapped(text, &words::corrections_held(&inputs.job, figures));
    text.push('\n');
    wrapped(text, CAUTION);
    let slot = slot.map_or_else(String::new, |slot| format!(", slot {slot}"));
    let _ = writeln!(
        text,
        "\nkerfmark {VERSION}, inputs {}{slot}",
        inputs.digest()
    );
}

/// The page of the job as a whole.
fn whole(text: &mut String, inputs: &Inputs, figures: &Figures) {
    let show = LengthFormat::new(inputs.job.units);
    text.push_str("ALL SLOTS\n");
    let mut raised = String::new();
    flags(&mut raised, &figures.flags, show);
    for line in raised.lines() {
        indented(text, "! ", line);
    }
    // One under the other, so that an odd target is seen.
    let slots = figures.slots.iter().zip(&figures.standings);
    for (view, (of_slot, standing)) in SlotView::all(&inputs.job, &inputs.tallies).zip(slots) {
        let state = words::cut_state(standing);
        let _ = writeln!(text, "Slot {:<15}{state}", view.slot.name);
        let target = words::target_of(view.slot.cut_offset, &of_slot.cut, show);
        indented(text, "                    ", &target);
    }
    text.push('\n');
    let spread = words::spread(
        &figures.spread,
        figures.slots.len(),
        inputs.job.cut.spread,
        show,
    );
    wrapped(text, &spread);
    if let Some(frame) = &figures.frame {
        let above = frame.above_mudline.as_ref();
        let height = above.map_or_else(|| "unknown".to_owned(), |it| show.text(it.value));
        let uncertainty = above.map_or_else(|| "not stated".to_owned(), |it| known(show, it));
        let verdict = frame
            .verdict
            .map_or("no window given or no shoulder", Verdict::word);
        wrapped(
            text,
            &format!("Frame's base above the mudline: {height}, U {uncertainty}: {verdict}"),
        );
    }
    for hull in &inputs.job.hulls {
        let second = words::stated_rotary(inputs, figures, hull, show);
        let rotary = both(inputs, hull.rotary.height());
        wrapped(text, &words::rotary_line(&hull.name, &rotary, &second));
    }
    let keys = inputs.job.not_used();
    if !keys.is_empty() {
        wrapped(text, &words::keys_not_used(&keys));
    }
}
