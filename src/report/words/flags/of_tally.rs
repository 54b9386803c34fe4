//! Flags of one tally.

use super::parts::{Words, joint_words, named};
use crate::finding::{Code, Figure, TallyFinding};
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
