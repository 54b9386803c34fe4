//! Whether a conductor may be cut, in one word, from all that is flagged.

use super::chain::{Basis, SlotView};
use super::second_ways::SecondWay;
use super::slot::SlotFigures;
use crate::finding::{Code, Finding, Flag, JobFinding, JournalFinding, Severity};
use crate::job::Job;

/// Whether a conductor may be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutStatus {
    /// It is cut already.
    Cut,
    /// Something stops the cut.
    Stop,
    /// Its string is not run and landed yet.
    Planned,
    /// Someone must look first.
    Check,
    /// Nothing that the program knows speaks against it. That is no permission.
    Clear,
}

impl CutStatus {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Stop => "stop",
            Self::Planned => "planned",
            Self::Check => "check",
            Self::Clear => "clear",
        }
    }
}

/// How far a slot has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlotState {
    /// Nothing of its string hangs.
    Planned,
    /// Its string is being run.
    Running,
    /// Its string is landed: a stick-up is read.
    Landed,
    /// The conductor is cut.
    Cut,
    /// Its finished top is accepted: all have signed it.
    Signed,
}

impl SlotState {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Planned => "planned",
            Self::Running => "running",
            Self::Landed => "landed",
            Self::Cut => "cut",
            Self::Signed => "signed",
        }
    }

    /// By what is known of a slot, and how many joints of it hang by the journal.
    pub fn of(figures: &SlotFigures, standing: &Standing, joints_run: usize) -> Self {
        match figures.chain.basis {
            _ if standing.is_accepted => Self::Signed,
            _ if figures.cut.is_cut() => Self::Cut,
            // Read while it still hung: it is not landed yet.
            Basis::Read if figures.flags.iter().any(is_hung) => Self::Running,
            Basis::Read => Self::Landed,
            _ if joints_run > 0 => Self::Running,
            Basis::Planned | Basis::None => Self::Planned,
        }
    }
}

fn is_hung(flag: &Flag) -> bool {
    flag.code == Code::CutFromHungReading
}

/// Who released a conductor for cutting, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Release {
    /// Who signed.
    pub names: Vec<String>,
    /// When the last of them did.
    pub at: String,
    /// Whether a signature is on paper, not proven by a key.
    pub on_paper: bool,
}

/// How a slot stands: its status, and the flags of the job that concern it.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The status of its cut.
    pub status: CutStatus,
    /// Whether it is cut and nothing says at which elevation.
    pub is_unsurveyed: bool,
    /// Who released it for cutting, where it is clear and all signatures stand; `signing` notes it.
    pub release: Option<Release>,
    /// Whether its finished top is accepted: the last hold point is signed in every role, and all of it stands;
    /// `signing` notes it.
    pub is_accepted: bool,
    /// How many roles of its hold points signed last what does not stand any more; `signing` notes it.
    pub fallen: usize,
    /// Flags of the job as a whole that concern this slot, the worst first.
    pub of_job: Vec<Flag>,
}

impl Standing {
    /// How a slot stands among the flags of its job.
    pub(super) fn of(
        view: SlotView<'_>,
        figures: &SlotFigures,
        of_job: &[Flag],
        ways: &[SecondWay],
    ) -> Self {
        let concerns = |flag: &&Flag| concerns(flag, view, figures, ways);
        let of_job: Vec<Flag> = of_job.iter().filter(concerns).cloned().collect();
        let mut standing = Self {
            status: CutStatus::Planned,
            is_unsurveyed: figures.cut.is_unsurveyed(),
            release: None,
            is_accepted: false,
            fallen: 0,
            of_job,
        };
        standing.judge(figures);
        standing
    }

    /// The status by the flags that count.
    pub(super) fn judge(&mut self, figures: &SlotFigures) {
        let has = |severity| {
            let mut flags = figures.flags.iter().chain(&self.of_job);
            flags.any(|flag| flag.severity == severity && flag.counts())
        };
        self.status = if figures.cut.is_cut() {
            CutStatus::Cut
        } else if has(Severity::Stop) {
            CutStatus::Stop
        } else if figures.chain.basis != Basis::Read {
            CutStatus::Planned
        } else if has(Severity::Check) {
            CutStatus::Check
        } else {
            CutStatus::Clear
        };
    }
}

/// Whether a flag of the job concerns a slot.
fn concerns(flag: &Flag, view: SlotView<'_>, figures: &SlotFigures, ways: &[SecondWay]) -> bool {
    let carries_frame = |job: &Job| {
        let frame = job.frame.as_ref();
        frame.is_some_and(|frame| frame.slot == view.index)
    };
    match flag.code {
        Code::FrameOutside | Code::FrameUnproven => carries_frame(view.job),
        Code::SpreadOutside | Code::SpreadUnproven => figures.cut.as_cut.is_some(),
        // Of what the cut goes by alone.
        Code::AdjustedUnsound => figures.chain.basis == Basis::Read,
        Code::DeckDisagrees
        | Code::JournalBroken
        | Code::JournalTorn
        | Code::EntryNotUsed
        | Code::StatementWithoutEntry
        | Code::HullMoving => true,
        Code::JournalDisagrees => match &flag.finding {
            Finding::Journal(JournalFinding::RotaryDiffers { hulls, .. }) => {
                let is_read = figures.chain.basis == Basis::Read;
                let mut names = hulls.iter().map(|(name, ..)| name);
                names.any(|name| {
                    *name == view.job.cut.hull.name || (is_read && *name == view.slot.hull.name)
                })
            }
            _ => false,
        },
        Code::RotaryDisagrees => {
            let mut ways = ways.iter().filter(|it| it.is_to_rotary() && !it.agrees());
            let is_read = figures.chain.basis == Basis::Read;
            ways.any(|way| {
                way.concerns(&view.job.cut.hull) || (is_read && way.concerns(&view.slot.hull))
            })
        }
        Code::SerialInTwoSlots => match &flag.finding {
            Finding::Job(JobFinding::SharedSerials { slots, .. }) => {
                slots.contains(&view.slot.name)
            }
            _ => false,
        },
        Code::TallyInTwoSlots => match &flag.finding {
            Finding::Job(JobFinding::SharedTallies { pairs }) => pairs
                .iter()
                .any(|(one, other)| [one, other].contains(&&view.slot.name)),
            _ => false,
        },
        Code::UncertaintyMissing => match &flag.finding {
            Finding::Job(JobFinding::UncertaintyMissing { keys, benches })
                if keys.as_slice() == ["mudline"] && benches.is_empty() =>
            {
                carries_frame(view.job)
            }
            _ => true,
        },
        _ => false,
    }
}
