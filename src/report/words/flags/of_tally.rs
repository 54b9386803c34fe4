//! Flags of one tally.

use super::parts::{Words, joint_words, more, named};
use crate::finding::{Code, Figure, JointRef, RowSign, TallyFinding};
use crate::measure::Excerpt;
use crate::tally::LOSS_SCATTER;

impl Words {
    /// Flags of one tally.
    pub(super) fn of_tally(&self, code: Code, found: &TallyFinding) -> String {
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
}

const fn figure_name(figure: Figure) -> &'static str {
    match figure {
        Figure::Effective => "effective length",
        Figure::Running => "running total",
        Figure::CarryForward => "carry-forward",
        Figure::Total => "total",
    }
}
