//! What the command line takes.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};
use clap_complete::Shell;

use super::option_words::{
    BlocksWord, CardWord, DecimalWord, HoldWord, LengthWord, NotRunWord, OrderWord, PaperWord,
    PinWord, PlainWord, RoleWord, ThemeWord, UnitWord,
};
use crate::measure::{DecimalMark, Unit};
use crate::tally::import::{Blocks, ColumnChoice, LengthColumn, LineSpan, NotRun};
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
    /// How the screens look. Left out, as the settings say, else by what the terminal can do.
    #[arg(long, value_enum, value_name = "THEME", requires = "job")]
    pub theme: Option<ThemeWord>,
    /// Draw the screens with signs that every terminal has.
    #[arg(long, requires = "job")]
    pub ascii: bool,
    /// Print what a screen shows as plain lines, for scripts and for screen readers.
    #[arg(long, value_enum, value_name = "SCREEN", requires = "job")]
    pub plain: Option<PlainWord>,
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
    /// All lists of one string side by side, joint by joint: what agrees, what is decided, what is open
    Lists(ListsOptions),
    /// Adjust readings of height differences: what all together say of each point, and of each reading
    Levels(LevelsOptions),
    /// Seat the deck on its tops, as they are cut or as they shall be: contacts, tilt, gaps, trims
    Seat(SeatOptions),
    /// Add events to the journal, one JSON object a line; each is confirmed once it is on the disk
    Enter(EnterOptions),
    /// Sign a hold point: a statement of every figure of a slot, with an OpenSSH key
    Sign(SignOptions),
    /// Say whether every signature still holds, and what moved where it does not
    Verify(VerifyOptions),
    /// Write the printable record of a job: .pdf, .html, .txt, .csv, or the profile as .svg
    Report(ReportOptions),
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

/// Of `enter`.
#[derive(Debug, Args)]
pub struct EnterOptions {
    /// The job: its folder, or the job.toml in it.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// The file of events; standard input where it is left out.
    #[arg(value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// Who enters, where an event does not say: initials.
    #[arg(long, value_name = "INITIALS")]
    pub by: Option<String>,
}

/// Of `report`.
#[derive(Debug, Args)]
pub struct ReportOptions {
    /// The job: its folder, or the job.toml in it.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// The file to write; its ending says in which form. No file of the job is ever overwritten.
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// One slot alone.
    #[arg(long, value_name = "NAME")]
    pub slot: Option<String>,
    /// A sheet for the wall in place of the record, as .pdf, .html or .txt.
    #[arg(long, value_enum, value_name = "WHICH")]
    pub card: Option<CardWord>,
    /// The paper.
    #[arg(long, value_enum, value_name = "SIZE", default_value_t = PaperWord::A4)]
    pub paper: PaperWord,
    /// Print the time on it. Without it the same inputs make the same bytes.
    #[arg(long)]
    pub dated: bool,
}

/// Of `sign`.
#[derive(Debug, Args)]
pub struct SignOptions {
    /// The job: its folder, or the job.toml in it.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// The slot.
    #[arg(long, value_name = "NAME", required_unless_present = "all_ready")]
    pub slot: Option<String>,
    /// The hold point.
    #[arg(
        long,
        value_enum,
        value_name = "HOLD",
        required_unless_present = "all_ready"
    )]
    pub hold: Option<HoldWord>,
    /// In which role.
    #[arg(long, value_enum, value_name = "ROLE")]
    pub role: RoleWord,
    /// The private key, as `ssh-keygen -t ed25519` makes it. Its passphrase is asked for at a terminal,
    /// unless `KERFMARK_PASSPHRASE` holds it.
    #[arg(
        long,
        value_name = "FILE",
        required_unless_present = "paper",
        conflicts_with = "paper"
    )]
    pub key: Option<PathBuf>,
    /// Sign on paper, without a key: the statement is printed with a line for the pen.
    #[arg(long, requires = "by")]
    pub paper: bool,
    /// Who signs on paper: initials.
    #[arg(long, value_name = "NAME", conflicts_with = "key")]
    pub by: Option<String>,
    /// Sign the next hold point of every slot that lacks nothing else.
    #[arg(long, conflicts_with_all = ["slot", "hold"])]
    pub all_ready: bool,
}

/// Of `verify`.
#[derive(Debug, Args)]
pub struct VerifyOptions {
    /// The job: its folder, or the job.toml in it.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// For scripts: JSON.
    #[arg(long)]
    pub json: bool,
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
    /// What becomes of rows of B that may not be in the string, where it is not as in A.
    #[arg(long, value_enum, value_name = "WHAT")]
    pub b_not_run: Option<NotRunWord>,
    /// The landing joints of B, where they are not those of A; `none` if there are none.
    #[arg(long, value_delimiter = ',', value_name = "JOINT,...")]
    pub b_landing: Option<Vec<String>>,
    /// A column of B by its place, where that is not as in A.
    #[arg(long, value_name = "ROLE=WHERE")]
    pub b_column: Vec<ColumnChoice>,
    /// The lines of B that are read, where they are not those of A.
    #[arg(long, value_name = "FIRST-LAST")]
    pub b_rows: Option<LineSpan>,
    /// What becomes of tables side by side in B, where it is not as in A.
    #[arg(long, value_enum, value_name = "WHICH")]
    pub b_blocks: Option<BlocksWord>,
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
            not_run: self.b_not_run.or(a.not_run),
            landing: self.b_landing.clone().or(a.landing),
            column: if self.b_column.is_empty() {
                a.column
            } else {
                self.b_column.clone()
            },
            rows: self.b_rows.or(a.rows),
            blocks: self.b_blocks.or(a.blocks),
            pin: a.pin,
        }
    }
}

/// Of `lists`.
#[derive(Debug, Args)]
pub struct ListsOptions {
    /// The job: its folder or its job.toml.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// The slot.
    #[arg(long, value_name = "NAME")]
    pub slot: String,
    /// Write the tally of record that follows to a new file, .csv or .xlsx.
    #[arg(long, value_name = "FILE", conflicts_with = "json")]
    pub out: Option<PathBuf>,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
}

/// Of `levels`.
#[derive(Debug, Args)]
pub struct LevelsOptions {
    /// The job: its folder or its job.toml; or a file of readings, with --fix.
    #[arg(value_name = "JOB|READINGS.csv")]
    pub path: PathBuf,
    /// A point of a file of readings whose elevation is known; bare numbers are metres. May be given several times.
    #[arg(long, value_name = "NAME=ELEVATION", allow_hyphen_values = true)]
    pub fix: Vec<String>,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
}

/// Of `seat`.
#[derive(Debug, Args)]
pub struct SeatOptions {
    /// The job: its folder or its job.toml.
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// How often tops are drawn at random for the chance that the deck sits within its limits.
    #[arg(long, value_name = "N", default_value_t = 10_000, value_parser = clap::value_parser!(u32).range(1..=10_000_000))]
    pub draws: u32,
    /// The seed of these draws: the same gives the same.
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
    /// For scripts: JSON, lengths in metres.
    #[arg(long)]
    pub json: bool,
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
    /// Measured less computed string length; a bare number is in the unit of the length column, here and below.
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        group = "measurement",
        required = true
    )]
    pub off: Option<String>,
    /// The string length as measured.
    #[arg(long, value_name = "LENGTH", group = "measurement")]
    pub measured: Option<String>,
    /// In a job: the stick-up as measured, at the slot's hull position.
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        group = "measurement",
        requires = "slot"
    )]
    pub measured_stick_up: Option<String>,
    /// In a job: the depth of the shoe below RT as measured, at the slot's hull position.
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        group = "measurement",
        requires = "slot"
    )]
    pub measured_shoe: Option<String>,
    /// In a job: the elevation of the top as measured.
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        group = "measurement",
        requires = "slot"
    )]
    pub measured_top: Option<String>,
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
#[command(next_help_heading = "Reading the file")]
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
    /// What becomes of rows that may not be in the string: rejected, laid out, hidden, struck through.
    #[arg(long, value_enum, value_name = "WHAT")]
    pub not_run: Option<NotRunWord>,
    /// The joints of the landing string, by number, where the list has no kinds; `none` if there are none.
    #[arg(long, value_delimiter = ',', value_name = "JOINT,...")]
    pub landing: Option<Vec<String>>,
    /// What a column holds: joint, serial, kind, length, effective, loss or remarks, and the column's letter,
    /// its number or its heading, such as length=E. Once for each column.
    #[arg(long, value_name = "ROLE=WHERE")]
    pub column: Vec<ColumnChoice>,
    /// The lines of the file that are read, such as 5-28. The header may lie outside.
    #[arg(long, value_name = "FIRST-LAST")]
    pub rows: Option<LineSpan>,
    /// What becomes of tables side by side.
    #[arg(long, value_enum, value_name = "WHICH")]
    pub blocks: Option<BlocksWord>,
    /// Which end of a joint carries the pin.
    #[arg(long, value_enum, value_name = "END", default_value_t = PinWord::Down)]
    pub pin: PinWord,
}

impl ReaderOptions {
    /// Whether any answer is given.
    pub fn is_given(&self) -> bool {
        self.units.is_some()
            || self.order.is_some()
            || self.decimal.is_some()
            || self.length.is_some()
            || self.sheet.is_some()
            || self.not_run.is_some()
            || self.landing.is_some()
            || !self.column.is_empty()
            || self.rows.is_some()
            || self.blocks.is_some()
            || self.pin != PinWord::Down
    }

    /// The answers for the reader.
    pub fn reader_options(&self) -> Options {
        Options {
            units: self.units.and_then(|unit| match unit {
                UnitWord::M => Some(Unit::Metre),
                UnitWord::Mm => Some(Unit::Millimetre),
                UnitWord::Ft => Some(Unit::Foot),
                UnitWord::In => Some(Unit::Inch),
                UnitWord::FtIn => Some(Unit::FootInch),
                UnitWord::FeetPointInches => None,
            }),
            feet_point_inches: matches!(self.units, Some(UnitWord::FeetPointInches)),
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
            not_run: self.not_run.map(|word| match word {
                NotRunWord::LeaveOut => NotRun::LeaveOut,
                NotRunWord::Count => NotRun::Count,
            }),
            landing: self.landing.as_ref().map(|joints| {
                let named = joints.iter().map(|joint| joint.trim());
                let named = named.filter(|joint| !joint.is_empty() && *joint != "none");
                named.map(str::to_owned).collect()
            }),
            columns: self.column.clone(),
            rows: self.rows,
            blocks: self.blocks.map(|word| match word {
                BlocksWord::Across => Blocks::Across,
                BlocksWord::First => Blocks::First,
            }),
            pins_up: self.pin == PinWord::Up,
            ..Options::default()
        }
    }
}
