//! A deck on its tops as plain lines.

use std::fmt::Write as _;

use super::words;
use crate::figures::Seating;
use crate::job::Job;
use crate::measure::{Length, LengthFormat};

/// How it rests, the gap at each slot, and what would have to be trimmed or shimmed.
pub fn seat(job: &Job, seating: &Seating, show: LengthFormat) -> String {
    let mut text = String::new();
    let mut say = |line: String| {
        let _ = writeln!(text, "{line}");
    };
    say(words::seat_state(seating.seat.state));
    if let Some(margin) = seating.seat.margin.and_then(Length::nearest_to_metres) {
        say(words::cog_margin(margin, show));
    }
    if let Some(line) = words::legs_as_designed(job, seating) {
        say(line);
    }
    for flag in &seating.flags {
        let said = words::flag(flag, show);
        say(format!("{}: {}: {said}", flag.severity.word(), flag.code));
    }
    let name = |at: usize| job.slots.get(at).map_or("", |slot| slot.name.as_str());
    for (at, rest) in seating.seat.rests.iter().enumerate() {
        let contacts: Vec<&str> = rest.contacts.iter().map(|it| name(*it)).collect();
        say(String::new());
        say(words::seat_rests_on(&contacts, words::tilt(rest)));
        for (slot, (top, gap)) in seating.tops.iter().zip(seating.gaps(at)).enumerate() {
            let source = seating.sources.get(slot).map_or("", |it| it.word());
            let of_slot = job.slots.get(slot);
            let leg = of_slot.and_then(|it| it.leg_deviation);
            let offset = of_slot.map(|it| it.cut_offset).unwrap_or_default();
            let at = top.z - leg.unwrap_or_default() + offset;
            say(words::seat_slot(
                (name(slot), source),
                (at, gap),
                (offset, leg),
                show,
            ));
        }
    }
    say(String::new());
    if let Some(flatness) = Length::nearest_to_metres(seating.flatness) {
        say(words::flat_to(flatness, seating.within, show));
    }
    let trims = words::trims_said(job, seating, show).into_iter();
    let remedies = words::remedies_said(job, seating, show);
    let landed = words::landed_said(job, seating, show);
    for line in trims.chain(remedies).chain(landed) {
        say(line);
    }
    if let Some(chance) = &seating.chance {
        say(words::chance_within(chance, seating.drawn));
    }
    if let Some(line) = words::reference_said(job, seating) {
        say(line);
    }
    say(words::SEAT_STIFF.to_owned());
    say(words::CAUTION.to_owned());
    text
}
