//! What a flag says, in one sentence, with its quantities in the units in use.

use crate::finding::{
    CloseTo, Code, CutFinding, Figure, Finding, Flag, JobFinding, JointRef, KeepOutRef,
    ListFinding, Named, OpenItem, OpenList, Part, ProofOf, RowSign, SharedSerial, StringFinding,
    TallyFinding,
};
use crate::measure::{Elevation, Excerpt, Length, LengthFormat, listed};
use crate::tally::LOSS_SCATTER;

/// A flag in words.
pub fn flag(flag: &Flag, format: LengthFormat) -> String {
    Words(format).of(flag)
}

/// How quantities are written in sentences.
struct Words(LengthFormat);

impl Words {
    fn length(&self, length: Length) -> String {
        self.0.text(length)
    }

    fn at(&self, elevation: Elevation) -> String {
        self.0.text(elevation.height())
    }

    fn small(&self, length: Length) -> String {
        self.0.small(length)
    }

    /// A difference without its sign: words say which way.
    fn by(&self, length: Length) -> String {
        let by = self.0.difference(length.abs());
        by.trim_start_matches('+').to_owned()
    }

    fn known(&self, uncertainty: Option<Length>) -> String {
        uncertainty.map_or_else(|| "not stated".to_owned(), |it| self.small(it))
    }

    fn of(&self, flag: &Flag) -> String {
        match &flag.finding {
            Finding::Tally(found) => self.of_tally(flag.code, found),
            Finding::String(found) => self.of_string(flag.code, found),
            Finding::Cut(found) => self.of_cut(found),
            Finding::List(found) => self.of_lists(found),
            Finding::Job(found) => self.of_job(found),
        }
    }

    /// Flags of one tally.
    fn of_tally(&self, code: Code, found: &TallyFinding) -> String {
        match found {
            TallyFinding::OrderAssumed => {
                "nothing in the file says which end is the shoe; shoe first is assumed (state it with --order, in a job with read = { order = \"...\" })".to_owned()
            }
            TallyFinding::EffectiveOnly => {
                "the file gives effective lengths alone: overall lengths and make-up losses cannot be checked".to_owned()
            }
            TallyFinding::TotalDisagrees {
                line,
                figure,
                written,
                computed,
                others,
                gross,
            } => {
                let others = match others {
                    0 => String::new(),
                    1 => "; one more figure disagrees".to_owned(),
                    n => format!("; {n} more figures disagree"),
                };
                let gross = if *gross {
                    "; they agree with the overall lengths, so the make-up losses may not have been deducted"
                } else {
                    ""
                };
                format!(
                    "line {line}: {} {} is written, the joints give {} (written less computed {}){others}{gross}",
                    figure_name(*figure),
                    self.length(*written),
                    self.length(*computed),
                    self.0.difference(*written - *computed),
                )
            }
            TallyFinding::Duplicate { text, joints } => {
                let what = match code {
                    Code::DuplicateSerial => "serial",
                    _ => "joint number",
                };
                format!(
                    "{what} {} occurs more than once: {}",
                    Excerpt::of(text),
                    named(joints)
                )
            }
            TallyFinding::RowsDoubted { rows, count } => {
                let words = |(joint, sign): &(JointRef, RowSign)| {
                    format!("{}: {sign}", joint_words(joint))
                };
                let first: Vec<String> = rows.first.iter().map(words).collect();
                format!(
                    "{count} {} counted although they may not have been run: {}{}",
                    if *count == 1 { "row is" } else { "rows are" },
                    first.join("; "),
                    more(rows.more)
                )
            }
            TallyFinding::KindUnknown { words, count } => {
                let of_word = |(word, joint): &(String, JointRef)| {
                    format!("`{}` at {}", Excerpt::of(word), joint_words(joint))
                };
                let first: Vec<String> = words.first.iter().map(of_word).collect();
                format!(
                    "no kind of joint, read as blank on {count} {}: {}{}; the kinds are shoe, joint, running, pup, top and landing",
                    if *count == 1 { "row" } else { "rows" },
                    first.join(", "),
                    more(words.more)
                )
            }
            TallyFinding::LossOnOpenEnd { joint, loss } => format!(
                "joint {} has a make-up loss of {}, but nothing is made up on its pin: it is not deducted",
                joint_words(joint),
                self.small(*loss)
            ),
            TallyFinding::LossMissing { joints } => format!(
                "no make-up loss is given, and none is deducted, for {}",
                named(joints)
            ),
            TallyFinding::Outlying { median, joints } if code == Code::LossOutlier => format!(
                "more than {} from the median make-up loss of {}: {}",
                self.small(LOSS_SCATTER),
                self.small(*median),
                named(joints)
            ),
            TallyFinding::Outlying { median, joints } => format!(
                "less than half or more than one and a half times the median length of {}: {}",
                self.length(*median),
                named(joints)
            ),
            TallyFinding::GapInNumbers { before, after } => format!(
                "the numbers go from {} to {}: is a joint left out?",
                joint_words(before),
                joint_words(after)
            ),
        }
    }

    /// Flags of where a string is, its running joint and what is fixed to it.
    fn of_string(&self, code: Code, found: &StringFinding) -> String {
        match found {
            StringFinding::NoStickUp { plan_without_joint } => format!(
                "nothing fixes the elevations: {}",
                if *plan_without_joint {
                    "the plan needs a running joint that the tally does not give"
                } else {
                    "give stick_up once it is read, or plan_shoulder or plan_top before"
                }
            ),
            StringFinding::TopBelowRotary { below } => {
                format!("the top is {} below RT", self.length(*below))
            }
            StringFinding::ShoeOnBottom { above, required } => {
                let side = if above.is_negative() {
                    "below"
                } else {
                    "above"
                };
                format!(
                    "the shoe would be {} {side} the bottom of the hole; required: at least {} above it",
                    self.length(above.abs()),
                    self.length(*required)
                )
            }
            StringFinding::NoRunningJoint { number } => number.as_ref().map_or_else(
                || "the tally has no single joint of kind running to carry the shoulder".to_owned(),
                |number| {
                    format!(
                        "the running joint {} is not in the tally",
                        Excerpt::of(number)
                    )
                },
            ),
            StringFinding::RunningJointTwice { number, times } => format!(
                "the running joint {} occurs {times} times in the tally: where the shoulder is cannot be told",
                Excerpt::of(number)
            ),
            StringFinding::RunningJointAtBottom => {
                "the running joint is the bottom joint: its shoulder counts from its lower end"
                    .to_owned()
            }
            StringFinding::RunningJointOther { job, tally } => format!(
                "the job says {}, the tally marks {} as running",
                Excerpt::of(job),
                joint_words(tally)
            ),
            StringFinding::ShoulderOffJoint {
                offset,
                joint,
                effective,
            } => format!(
                "the shoulder's offset of {} lies off {}, whose effective length is {}",
                self.length(*offset),
                Excerpt::of(joint),
                self.length(*effective)
            ),
            StringFinding::OutsideWindow { part, at, from, to } => format!(
                "the {} is at {}, outside {} to {}",
                part_name(*part),
                self.at(*at),
                self.at(*from),
                self.at(*to)
            ),
            StringFinding::ConnectionsInKeepOut { connections } => {
                let words = |it: &KeepOutRef| {
                    format!(
                        "{}/{} at {} ({})",
                        Excerpt::of(&it.below),
                        Excerpt::of(&it.above),
                        self.at(it.plane),
                        Excerpt::of(&it.why)
                    )
                };
                format!(
                    "connections where none may lie: {}",
                    listed(connections.iter().map(words))
                )
            }
            StringFinding::Accessories { accessories } => {
                let what = match code {
                    Code::AccessoryOnConnection => "would touch a connection",
                    Code::AccessoryOffString => "would lie off the string",
                    _ => "would lie above the cut",
                };
                let words = |(name, at): &(String, Elevation)| {
                    format!("{} at {}", Excerpt::of(name), self.at(*at))
                };
                format!("{what}: {}", listed(accessories.iter().map(words)))
            }
        }
    }

    /// Flags of the cut and of the finished top.
    fn of_cut(&self, found: &CutFinding) -> String {
        let not_judged = |unjudged: bool| {
            if unjudged {
                "; the readings of the finished top are not judged"
            } else {
                ""
            }
        };
        match found {
            CutFinding::BelowMudline { target, below } => format!(
                "the cut at {} lies {} below the mudline",
                self.at(*target),
                self.length(*below)
            ),
            CutFinding::TooShort {
                top,
                target,
                unjudged,
            } => format!(
                "the string is too short by {}: its top is at {}, the cut at {}{}",
                self.length(*target - *top),
                self.at(*top),
                self.at(*target),
                not_judged(*unjudged)
            ),
            CutFinding::BelowShoe {
                shoe,
                target,
                unjudged,
            } => format!(
                "the cut at {} lies below the shoe at {}{}",
                self.at(*target),
                self.at(*shoe),
                not_judged(*unjudged)
            ),
            CutFinding::ToleranceBelowUncertainty {
                of,
                uncertainty,
                limit,
            } => {
                let (what, limit_name) = match of {
                    ProofOf::Top => ("a finished top is", "the tolerance is"),
                    ProofOf::Spread => ("the spread of the cuts is", "its limit is"),
                };
                format!(
                    "{what} known to {} (U), {limit_name} {}: nothing can be proven within it",
                    self.small(*uncertainty),
                    self.small(*limit)
                )
            }
            CutFinding::InShoeJoint { joint } => {
                format!("the cut lies in {}, the bottom joint", Excerpt::of(joint))
            }
            CutFinding::Near {
                to,
                distance,
                required,
            } => {
                let what = match to {
                    CloseTo::Connection => "the nearest connection",
                    CloseTo::Shoulder => "the landing shoulder",
                };
                let how = if distance.is_zero() {
                    format!("the cut lies in or touches {what}")
                } else {
                    format!("the cut comes within {} of {what}", self.length(*distance))
                };
                format!("{how}; minimum {}", self.length(*required))
            }
            CutFinding::OffcutMassPartial { pairs } => format!(
                "the off-cut's mass leaves out its connectors, whose mass is not given: made-up pairs {pairs}"
            ),
            CutFinding::MarksTooLoose { tolerance } => format!(
                "no mark finds the cut within the tolerance of {}",
                self.small(*tolerance)
            ),
            CutFinding::Deviation {
                deviation,
                uncertainty,
                tolerance,
                outside,
            } => format!(
                "the finished top is {} from its target (U {}), which {} {}",
                self.0.small_signed(*deviation),
                self.known(*uncertainty),
                verdict(*outside),
                self.small(*tolerance)
            ),
            CutFinding::RimReadingsFew { readings } => {
                format!("readings round the finished top: {readings}; four show how it lies")
            }
            CutFinding::OutOfLevel { value, allowed } => format!(
                "the finished top is {} out of level; {} is allowed",
                self.small(*value),
                self.small(*allowed)
            ),
        }
    }

    /// Flags of other lists of a string.
    fn of_lists(&self, found: &ListFinding) -> String {
        match found {
            ListFinding::Unreadable { lists } => {
                let words = |(list, reason): &(String, String)| {
                    format!("{list}: {}", reason.replace('\n', "; "))
                };
                let lists: Vec<String> = lists.iter().map(words).collect();
                format!(
                    "it cannot be read, so that nothing is compared: {}",
                    lists.join(" | ")
                )
            }
            ListFinding::Open { above, lists } => {
                let words = |it: &OpenList| {
                    format!(
                        "{}: {}",
                        it.list,
                        some_of(&it.items, |it| self.open_item(it))
                    )
                };
                let lists: Vec<String> = lists.iter().map(words).collect();
                format!(
                    "differences that move an elevation by more than {}, alone or together, are not decided: {}",
                    self.small(*above),
                    lists.join(" | ")
                )
            }
            ListFinding::NotFollowed { lists } => {
                let words = |(list, items): &(String, Named<(&'static str, String)>)| {
                    let item = |(topic, joint): &(&'static str, String)| {
                        format!("{topic} of joint {}", Excerpt::of(joint))
                    };
                    format!("{list}: {}", some_of(items, item))
                };
                let lists: Vec<String> = lists.iter().map(words).collect();
                format!(
                    "decided, but the figures here still rest on the tally as it was; write the tally of record and name it in job.toml: {}",
                    lists.join(" | ")
                )
            }
        }
    }

    fn open_item(&self, item: &OpenItem) -> String {
        match item {
            OpenItem::Difference {
                topic,
                joint,
                moves,
            } => format!(
                "{topic} of joint {} ({})",
                Excerpt::of(joint),
                self.by(*moves)
            ),
            OpenItem::Together { count, moves } => format!(
                "{count} small ones that move a make-up plane by {} together",
                self.by(*moves)
            ),
            OpenItem::RunningJoint {
                joint,
                lines: [line, other],
            } => format!(
                "joint {} is the running joint in one list alone (line {line}, there line {other})",
                Excerpt::of(joint)
            ),
        }
    }

    /// Flags of the job as a whole.
    fn of_job(&self, found: &JobFinding) -> String {
        match found {
            JobFinding::FrameBase {
                height,
                uncertainty,
                outside,
            } => format!(
                "the frame's base is {} above the mudline (U {}), which {} its window",
                self.length(*height),
                self.known(*uncertainty),
                verdict(*outside)
            ),
            JobFinding::Spread {
                value,
                uncertainty,
                limit,
                outside,
            } => format!(
                "the cuts differ by {} (U {}), which {} {}",
                self.small(*value),
                self.known(*uncertainty),
                verdict(*outside),
                self.small(*limit)
            ),
            JobFinding::UncertaintyMissing { keys } => format!(
                "not stated in [uncertainty]: {}. What needs them is unproven, not exact",
                keys.join(", ")
            ),
            JobFinding::SharedSerials { serials } => {
                let words = |it: &SharedSerial| {
                    format!(
                        "{} in {} and {} (line {})",
                        Excerpt::of(&it.serial),
                        Excerpt::of(&it.first),
                        Excerpt::of(&it.second),
                        it.line
                    )
                };
                let first: Vec<String> = serials.first.iter().map(words).collect();
                format!(
                    "one pipe cannot be in two strings: {}{}",
                    first.join(", "),
                    more(serials.more)
                )
            }
        }
    }
}

const fn figure_name(figure: Figure) -> &'static str {
    match figure {
        Figure::Effective => "effective length",
        Figure::Running => "running total",
        Figure::CarryForward => "carry-forward",
        Figure::Total => "total",
    }
}

const fn part_name(part: Part) -> &'static str {
    match part {
        Part::Shoe => "shoe",
        Part::Shoulder => "landing shoulder",
        Part::Top => "top",
    }
}

const fn verdict(outside: bool) -> &'static str {
    if outside {
        "is outside"
    } else {
        "is not proven to be within"
    }
}

/// `A-03 (line 4)`.
fn joint_words(joint: &JointRef) -> String {
    format!("{} (line {})", Excerpt::of(&joint.number), joint.line)
}

/// `A-03 (line 4), A-05 (line 6) and 2 more`.
fn named(joints: &Named<JointRef>) -> String {
    let first: Vec<String> = joints.first.iter().map(joint_words).collect();
    format!("{}{}", first.join(", "), more(joints.more))
}

fn more(count: usize) -> String {
    match count {
        0 => String::new(),
        more => format!(" and {more} more"),
    }
}

/// `one, two, three, and 2 more`.
fn some_of<T>(items: &Named<T>, words: impl Fn(&T) -> String) -> String {
    let mut named: Vec<String> = items.first.iter().map(words).collect();
    if items.more > 0 {
        named.push(format!("and {} more", items.more));
    }
    named.join(", ")
}
