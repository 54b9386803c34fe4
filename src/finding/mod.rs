//! What the program has to say about a figure or an input, as data: a code, a place, and the exact
//! quantities. No sentence is written here: `report::words` renders one in the units in use.

mod code;
mod flag;
mod names;
mod of_cut;
mod of_job;
mod of_lists;
mod of_string;
mod of_tally;

pub use code::{Code, Severity};
pub use flag::{Finding, Flag, Place, sort, worst};
pub use names::{JointRef, Named};
pub use of_cut::{CloseTo, CutFinding, ProofOf};
pub use of_job::{JobFinding, SharedSerial};
pub use of_lists::{ListFinding, OpenItem, OpenList};
pub use of_string::{KeepOutRef, Part, StringFinding};
pub use of_tally::{Figure, RowSign, TallyFinding};
