//! What the command line takes.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::measure::{DecimalMark, Unit};
use crate::tally::import::LengthColumn;
use crate::tally::{Options, Order};

/// Keep the pipe tallies of a platform's conductors, see where every feature of each string stands,
/// and at which elevation each conductor is cut, with tolerances that are proven or not.
#[derive(Debug, Parser)]
#[command(
    name = "kerfmark",
    version,
    args_conflicts_with_subcommands = true,
    arg_required_else_help = true,
    after_help = AFTER
)]
pub struct Arguments {
    /// The job: its folder, or the job.toml in it. Opens the screens; where the output goes to
    /// no terminal, prints the cut sheet.
    #[arg(value_name = "JOB")]
    pub job: Option<PathBuf>,
    /// What else to do.
    #[command(subcommand)]
    pub command: Option<Command>,
}

const AFTER: &str = "Exit status: 0 done, 1 done and something stops the job, 2 the input could not be used.\n\
The program computes; it does not authorise. Verify by an independent measurement before any cut.";

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Print every figure of a job and everything flagged
    Figures(FiguresOptions),
    /// Print what was understood of one tally file, and what was skipped and why
    Tally(TallyOptions),
    /// Bridge two tallies of one string: every millimetre between their totals
    Reconcile(ReconcileOptions),
    /// List the mistakes that would explain why a measurement disagrees with a tally
    Suspects(SuspectsOptions),
    /// Make a job folder to start from, with a comment on every key
    New {
        /// The folder to make; it must not exist, or be empty.
        #[arg(value_name = "DIR")]
        folder: PathBuf,
    },
    /// Print what your shell needs to complete commands
    Completions {
        /// The shell.
        #[arg(value_enum, value_name = "SHELL")]
        shell: Shell,
    },
    /// Print the manual page
    Man,
}

/// Of `figures`.
#[derive(Debug, Args)]
pub struct FiguresOptions {
    /// The job: its folder, or the job.toml in it.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
    /// Also print how each figure came about.
    #[arg(long, conflicts_with = "json")]
    pub how: bool,
}

/// Of `tally`.
#[derive(Debug, Args)]
pub struct TallyOptions {
    /// The tally file.
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
    /// Count the joints in place of listing them.
    #[arg(long)]
    pub summary: bool,
    /// How to read the file.
    #[command(flatten)]
    pub reading: ReaderOptions,
}

/// Of `reconcile`.
#[derive(Debug, Args)]
pub struct ReconcileOptions {
    /// The one tally, such as the yard's.
    #[arg(value_name = "A")]
    pub a: PathBuf,
    /// The other tally of the same string, such as the strap on deck.
    #[arg(value_name = "B")]
    pub b: PathBuf,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
    /// A file of decisions, one row a difference: topic,joint,list,line,a,b,stands,note.
    #[arg(long, value_name = "FILE", requires = "out")]
    pub decisions: Option<PathBuf>,
    /// Write the tally of record that the decisions make to a new file, .csv or .xlsx. No file is ever
    /// overwritten. What is not decided stands as A says, and is marked so.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// List the differences as rows of a file of decisions, to fill in.
    #[arg(long, conflicts_with_all = ["json", "out", "decisions"])]
    pub to_decide: bool,
    /// The unit of columns of B that state none, where it is not that of A.
    #[arg(long, value_enum, value_name = "UNIT")]
    pub b_units: Option<UnitWord>,
    /// Which joint B begins with, where that is not as in A.
    #[arg(long, value_enum, value_name = "ORDER")]
    pub b_order: Option<OrderWord>,
    /// The mark before decimals in B, where it is not that of A.
    #[arg(long, value_enum, value_name = "MARK")]
    pub b_decimal: Option<DecimalWord>,
    /// What the length column of B holds, where that is not as in A.
    #[arg(long, value_enum, value_name = "WHICH")]
    pub b_length: Option<LengthWord>,
    /// The sheet of B, where it has another name than that of A.
    #[arg(long, value_name = "NAME")]
    pub b_sheet: Option<String>,
    /// How to read the files.
    #[command(flatten)]
    pub reading: ReaderOptions,
}

impl ReconcileOptions {
    /// How to read B: as A, but for what is said of B alone.
    pub fn reading_of_b(&self) -> ReaderOptions {
        let a = self.reading.clone();
        ReaderOptions {
            units: self.b_units.or(a.units),
            order: self.b_order.or(a.order),
            decimal: self.b_decimal.or(a.decimal),
            length: self.b_length.or(a.length),
            sheet: self.b_sheet.clone().or(a.sheet),
            pin: a.pin,
        }
    }
}

/// Of `suspects`.
#[derive(Debug, Args)]
pub struct SuspectsOptions {
    /// The tally file; or a job, with --slot.
    #[arg(value_name = "TALLY|JOB")]
    pub path: PathBuf,
    /// The slot of the job.
    #[arg(long, value_name = "NAME")]
    pub slot: Option<String>,
    /// Measured less computed string length; a bare number is in the unit of the length column.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub off: String,
    /// Up to what a mistake fits. Left out: 5 mm; in a job the uncertainty of the string's length.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub within: Option<String>,
    /// A tally of the pipe on deck, to name joints that may have been left out.
    #[arg(long, value_name = "FILE")]
    pub pool: Option<PathBuf>,
    /// Also list pairs of mistakes where a single one fits.
    #[arg(long)]
    pub pairs: bool,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
    /// How to read the file.
    #[command(flatten)]
    pub reading: ReaderOptions,
}

/// Answers to what a tally file may leave open.
#[derive(Clone, Debug, Args)]
#[command(next_help_heading = "ReaderOptions the file")]
pub struct ReaderOptions {
    /// The unit of columns that state none.
    #[arg(long, value_enum, value_name = "UNIT")]
    pub units: Option<UnitWord>,
    /// Which joint the list begins with.
    #[arg(long, value_enum, value_name = "ORDER")]
    pub order: Option<OrderWord>,
    /// The mark before decimals.
    #[arg(long, value_enum, value_name = "MARK")]
    pub decimal: Option<DecimalWord>,
    /// What the length column holds: overall lengths, or effective ones with the make-up loss taken off.
    #[arg(long, value_enum, value_name = "WHICH")]
    pub length: Option<LengthWord>,
    /// The sheet of a workbook that is the tally; needed where several could be, or where it is
    /// hidden.
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Which end of a joint carries the pin.
    #[arg(long, value_enum, value_name = "END", default_value_t = PinWord::Down)]
    pub pin: PinWord,
}

/// Units as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum UnitWord {
    /// metres
    M,
    /// millimetres
    Mm,
    /// decimal feet
    Ft,
    /// inches
    In,
    /// feet and inches
    FtIn,
}

/// Orders as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum OrderWord {
    /// the shoe joint first
    ShoeFirst,
    /// the top joint first
    TopFirst,
}

/// Decimal marks as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum DecimalWord {
    /// 12.192
    Point,
    /// 12,192
    Comma,
}

/// Kinds of length as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum LengthWord {
    /// pin nose to box face
    Overall,
    /// make-up loss taken off
    Effective,
}

/// Ends of a joint as options name them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PinWord {
    /// pins down
    Down,
    /// pins up
    Up,
}

impl ReaderOptions {
    /// Whether any answer is given.
    pub fn is_given(&self) -> bool {
        self.units.is_some()
            || self.order.is_some()
            || self.decimal.is_some()
            || self.length.is_some()
            || self.sheet.is_some()
            || self.pin != PinWord::Down
    }

    /// The answers for the reader.
    pub fn reader_options(&self) -> Options {
        Options {
            units: self.units.map(|unit| match unit {
                UnitWord::M => Unit::Metre,
                UnitWord::Mm => Unit::Millimetre,
                UnitWord::Ft => Unit::Foot,
                UnitWord::In => Unit::Inch,
                UnitWord::FtIn => Unit::FootInch,
            }),
            job_units: None,
            order: self.order.map(|order| match order {
                OrderWord::ShoeFirst => Order::ShoeFirst,
                OrderWord::TopFirst => Order::TopFirst,
            }),
            decimal: self.decimal.map(|mark| match mark {
                DecimalWord::Point => DecimalMark::Point,
                DecimalWord::Comma => DecimalMark::Comma,
            }),
            length: self.length.map(|length| match length {
                LengthWord::Overall => LengthColumn::Overall,
                LengthWord::Effective => LengthColumn::Effective,
            }),
            sheet: self.sheet.clone(),
        }
    }
}
