//! The job's folder on disk: the only module that reads or writes files.
//!
//! [`Copier`] keeps a second folder up to date; [`Settings`] are those of the machine.
//! [`open`] reads a job once and yields one value, [`Inputs`](crate::journal::Inputs), with the digest of
//! every file; [`Watch`] reads it again when a file changed. [`store`] writes: whole or not at all, and on the disk before anyone is told.

mod book;
mod copies;
mod error;
mod files;
mod inside;
mod load;
mod parts;
mod progress;
mod readings;
mod seen;
mod settings;
pub mod store;
mod template;
mod watch;

pub use book::{Book, EnterError, now};
pub use copies::{Copier, CopyError, copy_job, copy_of};
pub use error::{JobFileError, OpenError, TallyError};
pub use files::{ENTRIES, ROWS, read_bytes, read_tally, read_within};
pub use inside::PathError;
pub use load::{decisions_file, locate, open, open_seen, open_telling};
pub use progress::Progress;
pub use readings::{ReadingsFileError, WhyNotRead, read_readings_file};
pub use seen::Seen;
pub use settings::{GlyphsName, Settings, SettingsError, ThemeName, UnitsName, with_home};
pub use store::StoreError;
pub use template::{CreateError, create};
pub use watch::{Outcome, Watch};
