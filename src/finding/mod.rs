//! What the program has to say about a figure or an input, as data: a code, a place, and the exact
//! quantities. No sentence is written here: `report::words` renders one in the units in use.

mod code;
mod flag;
mod names;
mod of_cut;
mod of_fits;
mod of_job;
mod of_journal;
mod of_levels;
mod of_lists;
mod of_string;
mod of_tally;
mod of_top;

pub use code::{Code, Severity};
pub use flag::{Finding, Flag, Place, sort, worst};
pub use names::{JointRef, Named};
pub use of_cut::{CloseTo, CutFinding};
pub use of_fits::{FitFinding, KeepOutRef};
pub use of_job::{JobFinding, SecondWayBy, SharedSerial, TwoWays};
pub use of_journal::{BrokenLine, FoundByMark, JournalFinding, StickUpAt};
pub use of_levels::{
    AdjustedPoint, AdjustedPointRef, LandedOtherwise, LevelFinding, ReadingRef, SeatFinding,
    SlotLength, SuspectRef,
};
pub use of_lists::{ListFinding, OpenItem, OpenList};
pub use of_string::{Part, StringFinding};
pub use of_tally::{Figure, RowSign, TallyFinding};
pub use of_top::{ProofOf, TopFinding};
