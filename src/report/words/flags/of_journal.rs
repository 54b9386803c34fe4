//! Flags that the journal raises.

use super::parts::{Words, some_of};
use crate::finding::{BrokenLine, FoundByMark, JournalFinding, StickUpAt};
use crate::measure::{Elevation, Excerpt, Length};

impl Words {
    /// Flags that the journal raises.
    pub(super) fn of_journal(&self, found: &JournalFinding) -> String {
        match found {
            JournalFinding::Broken { number, by } => {
                let how = match by {
                    BrokenLine::NotALine => "it is not a line of a journal",
                    BrokenLine::Changed => "it was changed since it was written",
                    BrokenLine::NotNext => {
                        "it does not follow the line before it: one of the two was changed, left out or put in"
                    }
                };
                format!(
                    "journal.jsonl, line {number}: {how}. The entries from there on are not used, and nothing more is entered"
                )
            }
            JournalFinding::Torn { number } => format!(
                "journal.jsonl, line {number} was cut off while it was written and was never confirmed: enter it again; the next entry moves the piece to journal.torn"
            ),
            JournalFinding::ClockBack { entries } => format!(
                "the clock was behind that of the entry before at {}",
                some_of(entries, |seq| format!("entry {seq}"))
            ),
            JournalFinding::HullMoving { seq, why } => format!(
                "the hull moves ({}, entry {seq}): every mark from RT, and from bench marks on the rig, is void until the RT of its next position is entered",
                Excerpt::of(why)
            ),
            JournalFinding::AsRunDiffers {
                run,
                tally,
                place,
                joint_run,
                joint_listed,
            } => {
                let name = |joint: &Option<String>| {
                    joint
                        .as_ref()
                        .map_or("none".to_owned(), |it| Excerpt::of(it).to_string())
                };
                format!(
                    "{run} joints were run and the tally of record has {tally}; from the shoe they differ first at joint {place}: run {}, listed {}. Strike what was entered wrongly; or decide for as-run on Reconcile, write the record and adopt it",
                    name(joint_run),
                    name(joint_listed)
                )
            }
            JournalFinding::FromHungReading { seq } => format!(
                "the elevations rest on a stick-up that was read while the string hung (entry {seq}): read it again once it is at rest"
            ),
            JournalFinding::SlackedOffEarly { seq, at, until } => format!(
                "the string was slacked off at {at} (entry {seq}), and the order lets it be from {until} on"
            ),
            JournalFinding::InstrumentExpired { readings } => format!(
                "past its due day when it was used: {}",
                some_of(readings, |(id, due, day, seq)| format!(
                    "{} (due {due}, used {day}, entry {seq})",
                    Excerpt::of(id)
                ))
            ),
            JournalFinding::InstrumentUnstated { readings } => format!(
                "used and never entered as an instrument: {}",
                some_of(readings, |(id, seq)| format!(
                    "{} (entry {seq})",
                    Excerpt::of(id)
                ))
            ),
            JournalFinding::TallyChanged { file, seq } => format!(
                "{} is not the file that entry {seq} adopted as the tally of record: its SHA-256 is another",
                Excerpt::of(file)
            ),
            JournalFinding::NotUsed { entries } => format!(
                "of no effect: {}",
                some_of(entries, |(seq, why)| format!("entry {seq}: {why}"))
            ),
            JournalFinding::DecisionsContradict { things } => format!(
                "decided differently: {}. Strike one, or set it to open",
                some_of(things, |(of, joint, one, other)| format!(
                    "{of} of joint {} by {} and {}",
                    Excerpt::of(joint),
                    Excerpt::of(one),
                    Excerpt::of(other)
                ))
            ),
            JournalFinding::CutNotReleased { seq, is_planned } => format!(
                "the final cut was made (entry {seq}){}",
                if *is_planned {
                    ", and no stick-up says that the string was landed"
                } else {
                    ", and no release of it is signed"
                }
            ),
            JournalFinding::StatementsWithoutEntry { files } => format!(
                "the journal does not name {}: entries were taken out of it, or the file is of another job",
                some_of(files, |file| Excerpt::of(file).to_string())
            ),
            JournalFinding::SignersChanged { entries } => format!(
                "`signers` or [roles] are not as they were at {}",
                some_of(entries, |seq| format!("the signature of entry {seq}"))
            ),
            _ => self.of_readings(found),
        }
    }

    /// Readings that do not agree.
    fn of_readings(&self, found: &JournalFinding) -> String {
        match found {
            JournalFinding::RotaryDiffers { hulls, allowed } => {
                let words = |(hull, stated, found, seq): &(String, Elevation, Elevation, u64)| {
                    format!(
                        "RT at hull position {} is {} in job.toml and {} in entry {seq}, which applies: they differ by {}",
                        Excerpt::of(hull),
                        self.at(*stated),
                        self.at(*found),
                        self.apart(*stated - *found, *allowed)
                    )
                };
                let all: Vec<String> = hulls.iter().map(words).collect();
                all.join("; ")
            }
            JournalFinding::StickUpDiffers {
                hull,
                stated,
                found,
                seq,
                allowed,
            } => format!(
                "the stick-up at hull position {} is {} in job.toml and {} in entry {seq}, which applies: they differ by {}",
                Excerpt::of(hull),
                self.length(*stated),
                self.length(*found),
                self.apart(*stated - *found, *allowed)
            ),
            JournalFinding::TopMoved {
                entries: (first, second),
                tops: (one, other),
                allowed,
            } => format!(
                "the top is at {} by entry {first} and at {} by entry {second}: they differ by {}",
                self.at(*one),
                self.at(*other),
                self.apart(*one - *other, *allowed)
            ),
            JournalFinding::StickUpOff { joints, allowed } => {
                let words = |it: &StickUpAt| {
                    format!(
                        "{} (entry {}): after it {} was read, {} expected, {} off",
                        Excerpt::of(&it.joint),
                        it.seq,
                        self.length(it.found),
                        self.length(it.expected),
                        self.by(it.found - it.expected)
                    )
                };
                format!(
                    "stick-up before, and the joint's effective length, do not make the stick-up after: {}. Up to {} passes",
                    some_of(joints, words),
                    self.small(*allowed)
                )
            }
            JournalFinding::TargetMoved { signed, now, seq } => format!(
                "the target is {} and was released for cutting as {} (entry {seq}): sign the release again, or find what moved it",
                self.at(*now),
                self.at(*signed)
            ),
            _ => self.of_line(found),
        }
    }

    /// The scribed line, and the blade on it.
    fn of_line(&self, found: &JournalFinding) -> String {
        match found {
            JournalFinding::ScribeApart {
                seq,
                apart,
                off,
                target,
            } => {
                let mut parts: Vec<String> = apart
                    .iter()
                    .map(|(one, other, allowed)| {
                        format!(
                            "{} by {} and {} by {}: they differ by {}",
                            self.at(one.elevation),
                            by_mark(one),
                            self.at(other.elevation),
                            by_mark(other),
                            self.apart(one.elevation - other.elevation, *allowed)
                        )
                    })
                    .collect();
                parts.extend(off.iter().map(|(by, allowed)| {
                    format!(
                        "{} by {}, and the target is {}: they differ by {}",
                        self.at(by.elevation),
                        by_mark(by),
                        self.at(*target),
                        self.apart(by.elevation - *target, *allowed)
                    )
                }));
                format!("the scribed line (entry {seq}) is at {}", parts.join("; "))
            }
            JournalFinding::BladeOffLine {
                seq,
                range: (low, high),
                allowed,
            } => format!(
                "the blade's lower edge (entry {seq}) is from {} to {} above the line: up to {} either way passes; a blade below the line cuts too low",
                self.0.difference(*low),
                self.0.difference(*high),
                self.small(*allowed)
            ),
            _ => String::new(),
        }
    }

    /// `25.0 mm, up to 20.0 mm passes`.
    fn apart(&self, off: Length, allowed: Length) -> String {
        let off = off.abs();
        if off < Length::from_mm(1000) {
            let written = self.0.small_apart(&[off, allowed]);
            if let [off, allowed] = written.as_slice() {
                return format!("{off}, up to {allowed} passes");
            }
        }
        format!("{}, up to {} passes", self.by(off), self.small(allowed))
    }
}

/// A mark by its name.
fn by_mark(found: &FoundByMark) -> String {
    let name = Excerpt::of(match found.mark.as_str() {
        "rotary" => "RT",
        "lower-plane" => "the lower plane",
        "upper-plane" => "the upper plane",
        "top" => "the top",
        bench => bench,
    });
    if found.is_as_stated {
        format!("{name} as stated")
    } else {
        name.to_string()
    }
}
