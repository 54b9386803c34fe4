//! Words that options take.

use clap::ValueEnum;

use crate::folder::ThemeName;
use crate::job::{Hold, Role};
use crate::report::pages::{Card, Paper};

/// Themes as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum ThemeWord {
    /// light letters on a dark ground, for terminals of 256 colours
    Dark,
    /// dark letters on a light ground, for terminals of 256 colours
    Light,
    /// the sixteen colours of the terminal
    Sixteen,
    /// no colour at all
    Mono,
}

impl From<ThemeWord> for ThemeName {
    fn from(word: ThemeWord) -> Self {
        match word {
            ThemeWord::Dark => Self::Dark,
            ThemeWord::Light => Self::Light,
            ThemeWord::Sixteen => Self::Sixteen,
            ThemeWord::Mono => Self::Mono,
        }
    }
}

/// Screens as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum PlainWord {
    /// a row a slot, and what is flagged
    Overview,
    /// the joints of every string
    Tally,
    /// the lists of every string side by side
    Reconcile,
    /// what lies on every conductor, from the top
    Profile,
    /// the sheet by which the conductors are cut
    Cut,
    /// the joint that is next, and what is still to lower
    Floor,
    /// every reading of heights
    Levels,
    /// how the deck sits on its tops
    Deck,
    /// every entry of the journal
    Record,
}

/// Paper as options name it.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum PaperWord {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 in
    Letter,
}

/// Sheets for the wall as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum CardWord {
    /// joint by joint, with blanks to tick and to write
    Run,
    /// one page a slot to cut by
    Cut,
    /// the hull positions and the RT in force
    Rt,
    /// what is to be seen when a string lands
    Landing,
}

/// Hold points as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum HoldWord {
    /// the tally of record is fixed
    TallyFrozen,
    /// the string is landed
    Landed,
    /// the conductor may be cut at its target
    CutRelease,
    /// the off-cut may be lifted
    OffCutLift,
    /// the finished top is accepted
    Final,
}

/// Roles as options name them.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum RoleWord {
    /// prepared the figures
    Prepared,
    /// checked them
    Checked,
    /// accepts them
    Accepted,
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
    /// feet, a point and inches of two digits: 39.06 is 39 ft 6 in
    FeetPointInches,
}

/// What becomes of doubtful rows, as options name it.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum NotRunWord {
    /// listed as not run
    LeaveOut,
    /// counted, and flagged
    Count,
}

/// What becomes of tables side by side, as options name it.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum BlocksWord {
    /// read one after the other
    Across,
    /// the first alone
    First,
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

impl From<PaperWord> for Paper {
    fn from(word: PaperWord) -> Self {
        match word {
            PaperWord::A4 => Self::A4,
            PaperWord::Letter => Self::Letter,
        }
    }
}

impl From<CardWord> for Card {
    fn from(word: CardWord) -> Self {
        match word {
            CardWord::Run => Self::Run,
            CardWord::Cut => Self::Cut,
            CardWord::Rt => Self::Rotary,
            CardWord::Landing => Self::Landing,
        }
    }
}

impl From<HoldWord> for Hold {
    fn from(word: HoldWord) -> Self {
        match word {
            HoldWord::TallyFrozen => Self::TallyFrozen,
            HoldWord::Landed => Self::Landed,
            HoldWord::CutRelease => Self::CutRelease,
            HoldWord::OffCutLift => Self::OffCutLift,
            HoldWord::Final => Self::Final,
        }
    }
}

impl From<RoleWord> for Role {
    fn from(word: RoleWord) -> Self {
        match word {
            RoleWord::Prepared => Self::Prepared,
            RoleWord::Checked => Self::Checked,
            RoleWord::Accepted => Self::Accepted,
        }
    }
}
