//! One flag: a code, where to look, and the quantities.

use serde::Serialize;

use super::code::{Code, Severity};
use super::of_cut::CutFinding;
use super::of_fits::FitFinding;
use super::of_job::JobFinding;
use super::of_journal::JournalFinding;
use super::of_levels::{LevelFinding, SeatFinding};
use super::of_lists::ListFinding;
use super::of_string::StringFinding;
use super::of_tally::TallyFinding;
use super::of_top::TopFinding;

/// Where a flag leads: what to look at, within its slot or at the top level.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// Another list of the slot's string, by its index.
    List(usize),
    /// The job or the slot as a whole.
    Whole,
    /// A joint, by its index in the tally, shoe first.
    Joint(usize),
    /// A line of the tally file.
    Line(u32),
    /// The cut and its marks.
    Cut,
    /// The landing shoulder.
    Shoulder,
    /// An accessory, by its index among the slot's.
    Accessory(usize),
}

/// What was found, by what it is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum Finding {
    /// One tally.
    Tally(TallyFinding),
    /// Where a string is.
    String(StringFinding),
    /// Connections and accessories.
    Fit(FitFinding),
    /// The cut.
    Cut(CutFinding),
    /// The finished top.
    Top(TopFinding),
    /// Other lists.
    List(ListFinding),
    /// The job as a whole.
    Job(JobFinding),
    /// The journal.
    Journal(JournalFinding),
    /// Readings of height differences.
    Level(LevelFinding),
    /// A deck on its tops.
    Seat(SeatFinding),
}

impl From<SeatFinding> for Finding {
    fn from(finding: SeatFinding) -> Self {
        Self::Seat(finding)
    }
}

impl From<LevelFinding> for Finding {
    fn from(finding: LevelFinding) -> Self {
        Self::Level(finding)
    }
}

impl From<TallyFinding> for Finding {
    fn from(finding: TallyFinding) -> Self {
        Self::Tally(finding)
    }
}

impl From<StringFinding> for Finding {
    fn from(finding: StringFinding) -> Self {
        Self::String(finding)
    }
}

impl From<CutFinding> for Finding {
    fn from(finding: CutFinding) -> Self {
        Self::Cut(finding)
    }
}

impl From<FitFinding> for Finding {
    fn from(finding: FitFinding) -> Self {
        Self::Fit(finding)
    }
}

impl From<TopFinding> for Finding {
    fn from(finding: TopFinding) -> Self {
        Self::Top(finding)
    }
}

impl From<ListFinding> for Finding {
    fn from(finding: ListFinding) -> Self {
        Self::List(finding)
    }
}

impl From<JobFinding> for Finding {
    fn from(finding: JobFinding) -> Self {
        Self::Job(finding)
    }
}

impl From<JournalFinding> for Finding {
    fn from(finding: JournalFinding) -> Self {
        Self::Journal(finding)
    }
}

/// One thing that the program has to say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flag {
    /// What it is about.
    pub code: Code,
    /// How much it matters here.
    pub severity: Severity,
    /// Where to look.
    pub place: Place,
    /// What was found, with its quantities.
    pub finding: Finding,
    /// The entry of the journal that waives it.
    pub waived: Option<u64>,
}

impl Flag {
    /// A flag of the code's own severity.
    pub fn new(code: Code, place: Place, finding: impl Into<Finding>) -> Self {
        Self {
            code,
            severity: code.severity(),
            place,
            finding: finding.into(),
            waived: None,
        }
    }

    /// Whether it counts: it is not waived.
    pub const fn counts(&self) -> bool {
        self.waived.is_none()
    }

    /// What it says, as data on one line: its code and its exact quantities, without the lines of files,
    /// which a comment moves. Two flags with the same content say the same.
    pub fn content(&self) -> String {
        // Findings are made of texts, numbers and lists of them, all of which JSON has.
        let finding = serde_json::to_string(&self.finding).unwrap_or_default();
        format!("{} {finding}", self.code.name())
    }
}

/// Puts flags in order: the worst first, then as the codes are listed.
pub fn sort(flags: &mut [Flag]) {
    flags.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
}

/// The worst severity among flags; `None` of none.
pub fn worst(flags: &[Flag]) -> Option<Severity> {
    flags.iter().map(|flag| flag.severity).max()
}
