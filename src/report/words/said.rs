//! What the screens say once.

use super::reader::{file_note, skip_reason};
use super::reconcile::refusal;
use crate::job::name_of;
use crate::measure::LengthFormat;
use crate::report::said::{Closed, Gone, Lost, RowName, Said, ThingName};

/// What a key or a change of the files came to.
pub fn said(said: &Said, format: LengthFormat) -> String {
    match said {
        Said::Entered { .. }
        | Said::NotEntered(_)
        | Said::Signed { .. }
        | Said::NotSigned(_)
        | Said::ReadFirst
        | Said::WhoSigns
        | Said::FieldMissing(_)
        | Said::LeaveForm
        | Said::EntersNow(_) => entered(said),
        Said::NoFigure => "there is no figure here to open".to_owned(),
        Said::CountNotKnown => {
            "how many joints are run is not known: a enters one, Down counts by hand".to_owned()
        }
        Said::CountAgain => {
            "the list changed below the joint that was next: count again".to_owned()
        }
        Said::NothingToCopy => "there is nothing under the cursor to copy".to_owned(),
        Said::Copied(text) => format!("sent to the terminal: {text}"),
        Said::Mouse(true) => {
            "mouse: a click selects, the wheel moves. M gives it back to the terminal".to_owned()
        }
        Said::Mouse(false) => "the terminal has the mouse".to_owned(),
        Said::NothingDiffers => "nothing differs here that could be opened".to_owned(),
        Said::NoList => "there is no list here to make a tally of record with".to_owned(),
        Said::NoElevations => {
            "there are no elevations: no stick-up is read and none planned".to_owned()
        }
        Said::LandingPiece => {
            "a landing piece is recovered: it is never part of the conductor".to_owned()
        }
        Said::NotAJoint { line, why } => {
            format!("line {line} is not read as a joint: {}", skip_reason(*why))
        }
        Said::Note(note) => file_note(note),
        Said::NoJoint(sought) => format!("no joint matches `{sought}`"),
        Said::JointFound {
            joint,
            serial,
            is_it,
            sought,
        } => {
            let serial = serial
                .as_ref()
                .map_or_else(String::new, |serial| format!(", serial {serial}"));
            let how = if *is_it { "is" } else { "contains" };
            format!("joint {joint}{serial}: {how} `{sought}`")
        }
        Said::PasteIgnored => {
            "a paste is text, and here nothing is being typed: it is ignored".to_owned()
        }
        Said::NotDecided(..)
        | Said::LookAgain(..)
        | Said::StandsAlready(_)
        | Said::ListSaysNothing { .. }
        | Said::NoMajority
        | Said::NothingRounded
        | Said::NotDecidedYet(_)
        | Said::NothingToTakeBack(_)
        | Said::CorrectDecisions(_)
        | Said::NoteMissing
        | Said::Decided { .. }
        | Said::DecidedInPart { .. }
        | Said::NoRecord(_)
        | Said::WhoDecides => deciding(said),
        Said::Refused(length, why) => {
            format!("{}: {}", format.text(*length), refusal(*why, format))
        }
        Said::NotMeasurable => {
            "this cannot be measured: choose what one of the lists says".to_owned()
        }
        Said::Landed { slot, joint } => format!(
            "{slot} is run and landed: joint {joint} cannot be measured again; choose what one of the lists says"
        ),
        Said::NoLength(error) => error.to_string(),
        Said::NoJointLength(text) => format!("`{text}` is not a possible joint length"),
        Said::NothingWritten => {
            "nothing was written for this slot since the program started: w writes a tally of record".to_owned()
        }
        Said::WrittenIsOld(file) => format!(
            "NOT ADOPTED: lists or decisions changed since {} was written: w writes another",
            name_of(file)
        ),
        Said::RecordWritten { file, open, .. } => format!(
            "written: {}, {open} not decided. T adopts it as the tally of record",
            name_of(file)
        ),
        Said::RecordNotWritten { file, error } => {
            format!("NOT WRITTEN: {}: {error}", file.display())
        }
        Said::NamesTaken { stem, tried } => {
            format!("NOT WRITTEN: there are {tried} files of the name {stem} already")
        }
        Said::ReadAgain {
            closed,
            lost,
            changes,
        } => read_again(closed.as_ref(), lost.as_ref(), changes),
    }
}

/// What reading the files again came to: first what was taken from the person, then what changed.
fn read_again(closed: Option<&Closed>, lost: Option<&Lost>, changes: &[String]) -> String {
    let mut all = Vec::new();
    all.extend(closed.map(closed_words));
    all.extend(lost.map(lost_words));
    all.push(match changes {
        [] => "files read again: no figure and no flag changed".to_owned(),
        [only] => only.clone(),
        many => format!("{} changes (m lists them): {}", many.len(), many.join("; ")),
    });
    all.join("; ")
}

fn closed_words(closed: &Closed) -> String {
    match closed {
        Closed::Deciding(of, why) => format!("NOT DECIDED: {}: {}", thing_name(of), gone(why)),
        Closed::Thing(of, why) => format!("closed: {}: {}", thing_name(of), gone(why)),
        Closed::Figure(slot) => {
            format!("closed: the figure of slot {slot} that was open is no longer there")
        }
        Closed::Level => "closed: that reading or point is no more".to_owned(),
        Closed::Flag(code) => format!("closed: flag {code} is cleared"),
    }
}

fn lost_words(what: &Lost) -> String {
    match what {
        Lost::Slot(slot) => format!("slot {slot} is no longer there"),
        Lost::Flag(code) => format!("flag {code} is cleared"),
        Lost::Row(RowName::Joint(number)) => format!("joint {number} is no longer there"),
        Lost::Row(RowName::Line(line)) => format!("line {line} is no longer there"),
        Lost::Row(RowName::Note) => "the note is no longer there".to_owned(),
        Lost::List(list) => format!("list {list} is no longer there"),
        Lost::Thing(topic, joint) => {
            format!("the {} of joint {joint} differs no longer", topic.name())
        }
        Lost::CutLine => "the line under the cursor is no longer there".to_owned(),
    }
}

fn gone(gone: &Gone) -> String {
    match gone {
        Gone::Slot => "the slot is no longer there".to_owned(),
        Gone::Joint => "no list has the joint any more".to_owned(),
        Gone::Figures => "the lists say something else now".to_owned(),
        Gone::Decided(by) if by.is_empty() => "it was set open again meanwhile".to_owned(),
        Gone::Decided(by) => {
            let by: Vec<String> = by
                .iter()
                .map(|(who, what)| format!("{who} decided {what}"))
                .collect();
            format!("decided meanwhile: {}", by.join(", "))
        }
    }
}

/// `slot D, joint D-04, length`.
fn thing_name(of: &ThingName) -> String {
    format!("slot {}, joint {}, {}", of.slot, of.joint, of.of.name())
}

/// What became of a decision.
fn deciding(said: &Said) -> String {
    match said {
        Said::NotDecided(of, why) => {
            format!("NOT DECIDED: {}: {}", thing_name(of), gone(why))
        }
        Said::LookAgain(of, why) => format!(
            "NOT YET WRITTEN: {}: {}. Look again",
            thing_name(of),
            gone(why)
        ),
        Said::StandsAlready(of) => format!("{}: decided so already", thing_name(of)),
        Said::ListSaysNothing { list, joint } => {
            format!("{list} says nothing of this of joint {joint}: choose another list")
        }
        Said::NoMajority => "nothing is left here on which most lists agree".to_owned(),
        Said::NothingRounded => {
            "nothing differs from the tally of record by rounding alone".to_owned()
        }
        Said::NotDecidedYet(of) => format!("{}: not decided", thing_name(of)),
        Said::NothingToTakeBack(person) => {
            format!("{person} has no decision here to take back")
        }
        Said::CorrectDecisions(error) => format!("correct the decisions file first: {error}"),
        Said::NoteMissing => "say why: who measured it and how, or why it is overridden".to_owned(),
        Said::Decided {
            seq,
            count: 1,
            first,
        } => format!(
            "decided: the {} of joint {}, entry {seq}",
            first.of.name(),
            first.joint
        ),
        Said::Decided { seq, count, .. } => {
            format!("decided: {count} things, the last is entry {seq}")
        }
        Said::DecidedInPart { count: 0, why, .. } => format!("NOT ENTERED: {why}"),
        Said::DecidedInPart { count, left, why } => {
            format!("{count} decided, {left} NOT ENTERED: {why}")
        }
        Said::NoRecord(why) => format!("NOT WRITTEN: {why}"),
        Said::WhoDecides => "who decides? i says who you are; then the key again".to_owned(),
        _ => String::new(),
    }
}

/// What became of an entry or a signature.
fn entered(said: &Said) -> String {
    match said {
        Said::Entered { seq, event } => format!("entered: {event}, entry {seq}"),
        Said::NotEntered(error) => format!("NOT ENTERED: {error}"),
        Said::Signed {
            file,
            seq,
            on_paper: false,
        } => format!("signed: {file}, entry {seq}"),
        Said::Signed {
            file,
            seq,
            on_paper: true,
        } => format!("entry {seq}: signed on paper; print {file} and sign it by pen"),
        Said::NotSigned(why) => format!("not signed: {why}"),
        Said::ReadFirst => super::READ_ON.to_owned(),
        Said::WhoSigns => "who signs? i says who you are; then Enter again".to_owned(),
        Said::FieldMissing(key) => format!("{} must be filled", super::field_label(key)),
        Said::LeaveForm => "Esc again drops what is typed; nothing of it is entered".to_owned(),
        Said::EntersNow(person) => format!("{person} enters from now on"),
        _ => String::new(),
    }
}
