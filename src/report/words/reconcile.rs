//! What two lists and a misclosure give reason to say, in the unit in use.

use crate::measure::{Excerpt, Length, LengthFormat};
use crate::reconcile::{
    BridgeDetail, BridgeLine, Difference, LengthMistake, LengthReason, ListedLoss, MeasuredSide,
    Mistake, Note, Pair, RecordSource, Refusal, Side, Stands, Suspect, SuspectDetail, Topic,
};
use crate::tally::Kind;

/// A line of the bridge.
pub fn bridge_line(line: &BridgeLine, format: LengthFormat) -> String {
    detail(&line.joint, &line.detail, format)
}

/// A difference that asks for a decision.
pub fn difference(difference: &Difference, format: LengthFormat) -> String {
    detail(&difference.joint, &difference.detail, format)
}

const fn side(list: Side) -> &'static str {
    match list {
        Side::A => "A",
        Side::B => "B",
    }
}

/// A difference of two lengths, whichever way.
fn by(format: LengthFormat, length: Length) -> String {
    let by = format.difference(length.abs());
    by.trim_start_matches('+').to_owned()
}

fn detail(joint: &str, detail: &BridgeDetail, format: LengthFormat) -> String {
    let joint = Excerpt::of(joint);
    match detail {
        BridgeDetail::Alone {
            list,
            twice,
            line,
            adds,
        } => format!(
            "joint {joint} is {} {} (line {line}): it adds {} there",
            if *twice { "listed twice in" } else { "only in" },
            side(*list),
            format.text(*adds)
        ),
        BridgeDetail::Moved {
            places: [in_a, in_b],
            lines: [line_a, line_b],
        } => format!(
            "joint {joint} is in a different position: number {in_a} from the shoe in A (line {line_a}), number {in_b} in B (line {line_b})"
        ),
        BridgeDetail::Length {
            lengths: [in_a, in_b],
            lines: [line_a, line_b],
            called_in_b,
            reason,
        } => format!(
            "joint {joint}{} is {} in B by {}: {} in A (line {line_a}), {} in B (line {line_b}); {}",
            called_in_b
                .as_ref()
                .map_or_else(String::new, |number| format!(
                    " ({} in B)",
                    Excerpt::of(number)
                )),
            if in_b < in_a { "shorter" } else { "longer" },
            by(format, *in_b - *in_a),
            format.text(*in_a),
            format.text(*in_b),
            length_reason(reason)
        ),
        BridgeDetail::MakeupLoss {
            losses: [in_a, in_b],
            lines: [line_a, line_b],
            reason,
        } => format!(
            "the make-up loss of joint {joint} is {} in A (line {line_a}), {} in B (line {line_b}){}",
            listed_loss(*in_a, format),
            listed_loss(*in_b, format),
            reason.map_or_else(String::new, |reason| format!(
                "; possible cause: {} in A or in B",
                mistake(reason)
            ))
        ),
        BridgeDetail::Rounding { joints } => format!(
            "{} no more than the last places of the two lists",
            if *joints == 1 {
                "1 joint differs by".to_owned()
            } else {
                format!("{joints} joints differ by")
            }
        ),
        BridgeDetail::OpenEnd { open_in } => {
            let (open, made_up) = match open_in {
                Side::A => ("A", "B"),
                Side::B => ("B", "A"),
            };
            format!(
                "joint {joint} is the open end in {open} and made up in {made_up}: its make-up loss counts in {made_up} alone"
            )
        }
    }
}

fn listed_loss(loss: ListedLoss, format: LengthFormat) -> String {
    match loss {
        ListedLoss::Written(loss) => format.small(loss),
        ListedLoss::Nominal(nominal) => format!("blank, the pipe's {}", format.small(nominal)),
        ListedLoss::None => "blank, none deducted".to_owned(),
    }
}

fn length_reason(reason: &LengthReason) -> String {
    match reason {
        LengthReason::Mistakes(mistakes) => {
            let causes: Vec<String> = mistakes
                .iter()
                .map(|it| match it {
                    LengthMistake::Written(made, list) => {
                        format!("{} in {}", mistake(*made), side(*list))
                    }
                    LengthMistake::LossTakenOff(list) => {
                        format!("the make-up loss is taken off already in {}", side(*list))
                    }
                })
                .collect();
            format!("possible cause: {}", causes.join(", or "))
        }
        LengthReason::Straps => {
            "no known mistake; two straps of one joint may differ so".to_owned()
        }
        LengthReason::Unknown => "no known mistake".to_owned(),
    }
}

/// What differs besides lengths.
pub fn note(note: &Note) -> String {
    match note {
        Note::Kinds {
            joint,
            kinds,
            lines: [line_a, line_b],
            ..
        } => {
            let [in_a, in_b] = kinds.map(|kind| kind.map_or("none", Kind::name));
            format!(
                "joint {} is of kind {in_a} in A (line {line_a}), {in_b} in B (line {line_b})",
                Excerpt::of(joint)
            )
        }
        Note::Serials {
            joint,
            serials,
            lines: [line_a, line_b],
        } => {
            let [in_a, in_b] = serials
                .each_ref()
                .map(|serial| Excerpt::of(serial.as_deref().unwrap_or("none")));
            format!(
                "joint {} has serial {in_a} in A (line {line_a}) and {in_b} in B (line {line_b}): two joints, or one serial misread?",
                Excerpt::of(joint)
            )
        }
    }
}

/// Why a value that was measured again is refused.
pub fn refusal(refusal: Refusal, format: LengthFormat) -> String {
    match refusal {
        Refusal::NotMeasurable => "this cannot be measured".to_owned(),
        Refusal::EffectiveOnly => {
            "one of the lists gives effective lengths alone, and a tape does not: A or B stands"
                .to_owned()
        }
        Refusal::WithinLoss => "a joint cannot be shorter than its make-up loss".to_owned(),
        Refusal::LossOfWholeJoint => "a make-up loss cannot be as long as its joint".to_owned(),
        Refusal::LossTooLong => "no pin is that long: is the unit right?".to_owned(),
        Refusal::Far { most } => format!(
            "it is more than {} from what either list says: is it the joint, and the unit?",
            format.text(most)
        ),
    }
}

/// `strap (B) is longer than yard (A) by 90.0 mm`.
pub fn compared_lengths(show: LengthFormat, [a, b]: [&str; 2], difference: Length) -> String {
    if difference.is_zero() {
        return format!("{b} (B) is as long as {a} (A)");
    }
    let side = if difference.is_negative() {
        "shorter"
    } else {
        "longer"
    };
    let by = show.difference(difference.abs());
    format!(
        "{b} (B) is {side} than {a} (A) by {}",
        by.trim_start_matches('+')
    )
}

/// A mistake in words.
pub const fn mistake(mistake: Mistake) -> &'static str {
    match mistake {
        Mistake::JointLeftOut => "a joint left out",
        Mistake::OtherJoint => "another joint than was entered",
        Mistake::JointTwice => "a joint listed twice",
        Mistake::LossNotDeducted => "make-up loss not deducted",
        Mistake::LossDeductedTwice => "make-up loss deducted twice",
        Mistake::LossOutlier => "a make-up loss far from the others",
        Mistake::DigitsSwapped => "two digits swapped",
        Mistake::DigitMisread => "one digit misread",
        Mistake::WholeUnit => "a whole unit misread",
        Mistake::TapeEnd => "a burnt tape end",
        Mistake::DecimalShifted => "decimal mark shifted",
        Mistake::InchesAsTenths => "inches written as tenths of a foot",
        Mistake::FeetAsMetres => "feet taken as metres",
        Mistake::MetresAsFeet => "metres taken as feet",
        Mistake::CarryForward => "a page's carry-forward missed or added twice",
        Mistake::StickUpSign => "the sign of the stick-up",
        Mistake::StickUpSurface => "stick-up measured from RT, not from the spider",
        Mistake::WrongHull => "the RT elevation of another hull position",
    }
}

/// A mistake that fits, with its joint and its figures.
pub fn suspect(suspect: &Suspect, format: LengthFormat) -> String {
    let joint = Excerpt::of(suspect.joints.first().map_or("", String::as_str));
    match &suspect.detail {
        SuspectDetail::FromPool { in_full: true } => format!(
            "{joint} of the pipe on deck is in the string (it gives no make-up loss: counted in full)"
        ),
        SuspectDetail::FromPool { in_full: false } => {
            format!("{joint} of the pipe on deck is in the string")
        }
        SuspectDetail::OtherJoint => format!("{joint} was run in its place"),
        SuspectDetail::Unnamed => "a joint was run that is not in the list: it is about as long (give the pipe on deck with --pool to name it)".to_owned(),
        SuspectDetail::Twice => format!("joint {joint} is listed twice"),
        SuspectDetail::LossMissing { usual } => format!(
            "joint {joint} has no make-up loss deducted; the others lose {}",
            format.small(*usual)
        ),
        SuspectDetail::LossesMissing { joints } => {
            format!("no make-up loss is deducted from {joints} joints")
        }
        SuspectDetail::LossTwice => format!("the make-up loss of joint {joint} is deducted twice"),
        SuspectDetail::AllLossesTwice => {
            "every make-up loss is deducted twice: the lengths are effective already".to_owned()
        }
        SuspectDetail::LossOutlier { written, usual } => format!(
            "the make-up loss of joint {joint}, {}, is far from the others, whose median is {}",
            format.small(*written),
            format.small(*usual)
        ),
        SuspectDetail::LossWritten { written, meant } => format!(
            "the make-up loss of joint {joint}: {} written for {}, {}",
            format.small(*written),
            format.small(*meant),
            mistake(suspect.mistake)
        ),
        SuspectDetail::LengthWritten { written, meant } => format!(
            "joint {joint}: {} written for {}, {}",
            format.text(*written),
            format.text(*meant),
            mistake(suspect.mistake)
        ),
        SuspectDetail::TapeEnd { end } => format!(
            "every length is read from a burnt tape end, {} too long",
            format.text(*end)
        ),
        SuspectDetail::EveryLength => format!("{} in every length", mistake(suspect.mistake)),
        SuspectDetail::PageTotal { total, line, twice } => format!(
            "the page total of line {line}, {}, was {} when it was carried forward",
            format.text(*total),
            if *twice { "added twice" } else { "missed" }
        ),
        SuspectDetail::Measured(side) => measured_side(side),
    }
}

/// Two mistakes that fit together.
pub fn pair(pair: &Pair, format: LengthFormat) -> String {
    let [one, other] = pair.parts.each_ref().map(|part| suspect(part, format));
    format!("{one}; and {other}")
}

fn measured_side(side: &MeasuredSide) -> String {
    match side {
        MeasuredSide::StickUpSign => "the stick-up has the wrong sign".to_owned(),
        MeasuredSide::StickUpSurface => {
            "the stick-up was measured from RT, not from the spider".to_owned()
        }
        MeasuredSide::WrongHull { hull } => {
            format!("the stick-up was read at hull position {hull}")
        }
    }
}

/// Where the figures of a joint of record come from; `names` are what the lists are called.
pub fn sources(sources: &[RecordSource], names: [&str; 2]) -> String {
    let [name_a, name_b] = names;
    let name = |list: Side| match list {
        Side::A => name_a,
        Side::B => name_b,
    };
    let words: Vec<String> = sources
        .iter()
        .map(|source| match source {
            RecordSource::Both => format!("{name_a} and {name_b}"),
            RecordSource::List(list) => name(*list).to_owned(),
            RecordSource::Alone {
                list,
                decided: true,
            } => format!("{} alone", name(*list)),
            RecordSource::Alone {
                list,
                decided: false,
            } => format!("{} alone, not decided", name(*list)),
            RecordSource::Figure { topic, stands } => {
                let stands = match stands {
                    None => format!("{name_a}, not decided"),
                    Some(Stands::A) => name_a.to_owned(),
                    Some(Stands::B) => name_b.to_owned(),
                    Some(Stands::Measured(_)) => "measured again".to_owned(),
                };
                let topic = match topic {
                    Topic::MakeupLoss => "loss",
                    other => other.name(),
                };
                format!("{topic}: {stands}")
            }
            RecordSource::CalledInB(number) => format!("called {number} in {name_b}"),
        })
        .collect();
    words.join("; ")
}
