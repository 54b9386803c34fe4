//! What a change of the files moved: every figure and every flag that differs, by name.

use crate::figures::{Figures, SlotFigures};
use crate::finding::Flag;
use crate::job::{Inputs, Job};
use crate::measure::{Elevation, Length, LengthFormat};
use crate::report::words;
use crate::tally::Tally;

/// A figure in a form in which two can be compared.
#[derive(PartialEq)]
enum Value {
    /// A length or an elevation: how far it moved is told.
    Length(Option<Length>),
    /// Words: what they were is told.
    Words(String),
    /// Heights of make-up planes: how many moved is told.
    Planes(Vec<Length>),
}

/// The named figures of a slot, or of the job as a whole.
struct Named(Vec<(String, Value)>);

impl Named {
    fn length(&mut self, name: impl Into<String>, length: Option<Length>) {
        self.0.push((name.into(), Value::Length(length)));
    }

    fn height(&mut self, name: impl Into<String>, elevation: Option<Elevation>) {
        self.length(name, elevation.map(Elevation::height));
    }

    fn words(&mut self, name: impl Into<String>, words: impl Into<String>) {
        self.0.push((name.into(), Value::Words(words.into())));
    }

    /// What differs from these to those, each with `of` before it.
    fn against(&self, now: &Self, of: &str, show: LengthFormat, moved: &mut Vec<String>) {
        let find = |all: &Self, name: &str| all.0.iter().position(|(other, _)| other == name);
        for (name, value) in &now.0 {
            let before = find(self, name).and_then(|at| self.0.get(at));
            let text = match (before.map(|(_, value)| value), value) {
                (Some(before), now) if before == now => continue,
                (Some(Value::Length(Some(before))), Value::Length(Some(now))) => {
                    format!("{name} {}", signed(show, *now - *before))
                }
                (_, Value::Length(Some(now))) => format!("{name} is now {}", show.text(*now)),
                (Some(Value::Length(Some(_))), _) => format!("{name} is no longer known"),
                (Some(Value::Words(before)), Value::Words(now)) => {
                    format!("{name} is {now}, was {before}")
                }
                (_, Value::Words(now)) => format!("{name} is {now}"),
                (Some(Value::Planes(before)), Value::Planes(now)) => {
                    let by = before.iter().zip(now).map(|(before, now)| *now - *before);
                    let moved: Vec<Length> = by.filter(|by| !by.is_zero()).collect();
                    let most = moved.iter().max_by_key(|by| by.abs());
                    let Some(most) = most.copied() else { continue };
                    let by = signed(show, most);
                    format!(
                        "{name}: {} of {} moved, by up to {by}",
                        moved.len(),
                        now.len()
                    )
                }
                _ => continue,
            };
            moved.push(format!("{of}{text}"));
        }
        for (name, _) in &self.0 {
            if find(now, name).is_none() {
                moved.push(format!("{of}{name} is gone"));
            }
        }
    }
}

fn signed(show: LengthFormat, length: Length) -> String {
    match show.heading() {
        "ft-in" => show.signed(length),
        unit => format!("{} {unit}", show.signed(length)),
    }
}

/// Every figure and flag that differs between two states of the files.
pub(super) fn between(
    show: LengthFormat,
    before: (&Inputs, &Figures),
    now: (&Inputs, &Figures),
) -> Vec<String> {
    let mut moved = Vec::new();
    for (index, slot) in now.0.job.slots.iter().enumerate() {
        let mut slots = before.0.job.slots.iter();
        let Some(was) = slots.position(|other| other.name == slot.name) else {
            moved.push(format!("{}: new slot", slot.name));
            continue;
        };
        let of = format!("{}: ", slot.name);
        if let (Some(was_slot), Some(now_slot), Some(was_tally), Some(now_tally)) = (
            before.1.slots.get(was),
            now.1.slots.get(index),
            before.0.tallies.get(was),
            now.0.tallies.get(index),
        ) {
            let was = of_slot(show, &before.0.job, was_tally, was_slot);
            let is = of_slot(show, &now.0.job, now_tally, now_slot);
            was.against(&is, &of, show, &mut moved);
            flags(show, &was_slot.flags, &now_slot.flags, &of, &mut moved);
        }
    }
    for slot in &before.0.job.slots {
        if !now.0.job.slots.iter().any(|other| other.name == slot.name) {
            moved.push(format!("{}: slot is gone", slot.name));
        }
    }
    of_job(show, before.1).against(&of_job(show, now.1), "", show, &mut moved);
    flags(show, &before.1.flags, &now.1.flags, "", &mut moved);
    moved
}

/// Flags that came, went, or say something else now.
fn flags(show: LengthFormat, before: &[Flag], now: &[Flag], of: &str, moved: &mut Vec<String>) {
    let find = |flags: &[Flag], flag: &Flag| flags.iter().position(|it| it.code == flag.code);
    for flag in now {
        match find(before, flag).and_then(|at| before.get(at)) {
            None => moved.push(format!(
                "{of}flag {} {} came: {}",
                flag.severity.word(),
                flag.code,
                words::flag(flag, show)
            )),
            Some(was) if was != flag => {
                moved.push(format!(
                    "{of}flag {} {} now says: {}",
                    flag.severity.word(),
                    flag.code,
                    words::flag(flag, show)
                ));
            }
            Some(_) => {}
        }
    }
    for flag in before {
        if find(now, flag).is_none() {
            moved.push(format!("{of}flag {} is gone", flag.code));
        }
    }
}

fn of_job(show: LengthFormat, figures: &Figures) -> Named {
    let mut named = Named(Vec::new());
    let verdict = |verdict: Option<crate::figures::Verdict>| verdict.map_or("none", |it| it.word());
    named.length("spread", figures.spread.value);
    named.words("verdict on the spread", verdict(figures.spread.verdict));
    named.words(
        "U of the spread",
        words::stated(show, figures.spread.variance),
    );
    if let Some(frame) = &figures.frame {
        named.height("frame's base", frame.base);
        named.length("frame's base above the mudline", frame.above_mudline);
        named.words("U of the frame's base", words::stated(show, frame.variance));
        named.words("verdict on the frame's base", verdict(frame.verdict));
    }
    named
}

/// Every figure of a slot by its name.
fn of_slot(show: LengthFormat, job: &Job, tally: &Tally, figures: &SlotFigures) -> Named {
    let mut named = Named(Vec::new());
    let cut = &figures.cut;
    named.length("cut below RT", Some(cut.below_rotary.downward()));
    named.height("cut target", Some(cut.target));
    named.length("allowances", Some(cut.allowances));
    named.height("rough cut", cut.rough);
    if let Some(place) = &cut.place {
        named.words("cut lies in", figures.number(tally, place.piece));
        for mark in &place.marks {
            let way = words::direction(job, tally, figures, mark);
            named.length(format!("mark {way}"), Some(mark.distance));
            named.words(
                format!("U of the mark {way}"),
                words::stated(show, mark.variance),
            );
        }
        named.length("cut to the nearest connection", place.to_connection);
        named.length("cut to the shoulder", place.to_shoulder);
        named.length("off-cut", Some(place.offcut_length));
        named.words("off-cut's mass", format!("{:.0} kg", place.offcut_mass));
    }
    if let Some(as_cut) = &cut.as_cut {
        named.length("finished top", Some(as_cut.mean.rounded()));
        named.length("out of level", as_cut.out_of_level);
        named.words(
            "U of the finished top",
            words::stated(show, as_cut.variance),
        );
        let verdict = as_cut.verdict.map_or("none", |verdict| verdict.word());
        named.words("verdict on its height", verdict);
    }
    named.words("readings of the finished top", cut.readings.to_string());
    named.height("top", figures.top);
    named.height(
        "shoulder",
        figures.shoulder.and_then(|shoulder| shoulder.elevation),
    );
    if let Some(shoulder) = figures.shoulder {
        named.words("running joint", figures.number(tally, shoulder.piece));
    }
    named.height("shoe", figures.shoe);
    named.length("stick-up", figures.stick_up);
    named.length("string length", Some(figures.string.length));
    named.length("landing string", Some(figures.string.landing_length));
    named.words("basis", figures.basis.word());
    named.words("count of joints", figures.string.pieces.len().to_string());
    for place in &figures.accessories {
        let Some(accessory) = job.accessories.get(place.accessory) else {
            continue;
        };
        let name = &accessory.name;
        let on = place
            .piece
            .map_or("no joint", |piece| figures.number(tally, piece));
        named.words(format!("{name} goes on"), on);
        named.length(
            format!("{name} above its lower plane"),
            place.above_lower_plane,
        );
    }
    let planes = figures.string.pieces.iter().map(|piece| piece.upper);
    named.0.push((
        "make-up planes above the shoe".to_owned(),
        Value::Planes(planes.collect()),
    ));
    named
}
