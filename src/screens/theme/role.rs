//! What a piece of text is.

use crate::figures::{CutStatus, Verdict};
use crate::finding::Severity;

/// What a piece of text is, so that drawing code names no colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Running text.
    Plain,
    /// What names a figure.
    Label,
    /// A figure.
    Figure,
    /// A heading.
    Title,
    /// The row or cell that the keys act on.
    Selected,
    /// The name of a key.
    Key,
    /// Proven to be within its tolerance.
    Within,
    /// Not proven either way.
    Unproven,
    /// Proven to be outside.
    Outside,
    /// A flag that stops the job.
    Stop,
    /// A flag to look at.
    Check,
    /// A flag that is good to know.
    Note,
    /// The landing shoulder.
    Shoulder,
    /// The cut.
    Cut,
    /// The sea.
    Water,
    /// The seabed.
    Ground,
    /// Pipe.
    Steel,
    /// What is fixed to the pipe.
    Accessory,
    /// Where no connection may lie.
    KeepOut,
    /// Digits that differ from what stands.
    Differs,
    /// Figures that are no longer those of the files.
    Old,
    /// The ground of the whole screen.
    Screen,
    /// A word of no judgement on a ground of its own: a state, the screen in front.
    Chip,
    /// Lines, rulers and frames: no text.
    Quiet,
    /// The distance that the cut keeps from connections.
    Band,
    /// How far from a mark the cut may lie (U).
    Blur,
}

impl Role {
    /// All of them, for what must hold of each.
    pub const ALL: [Self; 26] = [
        Self::Plain,
        Self::Label,
        Self::Figure,
        Self::Title,
        Self::Selected,
        Self::Key,
        Self::Within,
        Self::Unproven,
        Self::Outside,
        Self::Stop,
        Self::Check,
        Self::Note,
        Self::Shoulder,
        Self::Cut,
        Self::Water,
        Self::Ground,
        Self::Steel,
        Self::Accessory,
        Self::KeepOut,
        Self::Differs,
        Self::Old,
        Self::Chip,
        Self::Quiet,
        Self::Band,
        Self::Blur,
        Self::Screen,
    ];

    /// The role of a verdict's word.
    pub const fn of_verdict(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Within => Self::Within,
            Verdict::Unproven => Self::Unproven,
            Verdict::Outside => Self::Outside,
        }
    }

    /// The role of the words that say whether a conductor may be cut.
    pub const fn of_status(status: CutStatus) -> Self {
        match status {
            CutStatus::Cut | CutStatus::Stop => Self::Stop,
            CutStatus::Planned | CutStatus::Check => Self::Check,
            CutStatus::Clear => Self::Title,
        }
    }

    /// The role of a severity's word.
    pub const fn of_severity(severity: Severity) -> Self {
        match severity {
            Severity::Note => Self::Note,
            Severity::Check => Self::Check,
            Severity::Stop => Self::Stop,
        }
    }
}
