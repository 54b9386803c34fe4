//! The look: roles, not colours, and one table of glyphs. Sixteen colours on the terminal's own
//! ground; where colour is not wanted, modifiers alone.

use ratatui::style::{Color, Modifier, Style};

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
}

impl Role {
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

/// The signs of the drawings.
#[derive(Debug)]
pub struct Glyphs {
    pub(super) wall: char,
    pub(super) gone: char,
    pub(super) joint: [char; 3],
    pub(super) top: [char; 3],
    pub(super) shoe: [char; 3],
    pub(super) shoulder: [char; 3],
    pub(super) accessory: [char; 3],
    pub(super) cut: char,
    pub(super) line: char,
    pub(super) sea: char,
    pub(super) mudline: char,
    pub(super) ground: char,
    pub(super) keep_out: char,
    pub(super) here: char,
    pub(super) block: char,
    pub(super) more: char,
    pub(super) end: char,
    pub(super) end_loose: char,
    pub(super) bears: char,
    pub(super) floats: char,
    pub(super) arrows: [char; 8],
    pub(super) dot: char,
}

static UNICODE: Glyphs = Glyphs {
    wall: '│',
    gone: '┊',
    joint: ['╞', '═', '╡'],
    top: ['┌', '─', '┐'],
    shoe: ['└', ' ', '┘'],
    shoulder: ['◢', '█', '◣'],
    accessory: ['┤', ' ', '├'],
    cut: '━',
    line: '─',
    sea: '~',
    mudline: '▒',
    ground: '·',
    keep_out: '░',
    here: '►',
    block: '█',
    more: '…',
    end: '●',
    end_loose: '○',
    bears: '■',
    floats: '□',
    arrows: ['→', '↗', '↑', '↖', '←', '↙', '↓', '↘'],
    dot: '·',
};

static ASCII: Glyphs = Glyphs {
    wall: '|',
    gone: ':',
    joint: ['+', '=', '+'],
    top: ['.', '-', '.'],
    shoe: ['\'', ' ', '\''],
    shoulder: ['/', '#', '\\'],
    accessory: ['}', ' ', '{'],
    cut: 'X',
    line: '-',
    sea: '~',
    mudline: '%',
    ground: '.',
    keep_out: ':',
    here: '>',
    block: '#',
    more: '~',
    end: 'o',
    end_loose: '.',
    bears: '#',
    floats: 'O',
    arrows: ['>', '/', '^', '\\', '<', '/', 'v', '\\'],
    dot: '.',
};

/// How everything looks.
#[derive(Clone, Copy, Debug)]
pub struct Theme {
    colour: bool,
    pub(super) glyphs: &'static Glyphs,
}

impl Theme {
    /// Sixteen colours, Unicode signs.
    pub fn colour() -> Self {
        Self {
            colour: true,
            glyphs: &UNICODE,
        }
    }

    /// Modifiers alone, Unicode signs.
    pub fn mono() -> Self {
        Self {
            colour: false,
            glyphs: &UNICODE,
        }
    }

    /// The same with ASCII signs.
    #[must_use]
    pub fn ascii(self) -> Self {
        Self {
            glyphs: &ASCII,
            ..self
        }
    }

    /// What the environment asks for: `NO_COLOR` takes the colours away, a locale that is not UTF-8
    /// the signs.
    pub fn from_environment() -> Self {
        let set = |name: &str| std::env::var(name).ok().filter(|value| !value.is_empty());
        let theme = if std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()) {
            Self::mono()
        } else {
            Self::colour()
        };
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
        let utf8 = locale.is_none_or(|locale| {
            let locale = locale.to_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        });
        if utf8 { theme } else { theme.ascii() }
    }

    /// The style of a role.
    pub fn style(self, role: Role) -> Style {
        let modifier = match role {
            Role::Plain
            | Role::Within
            | Role::Unproven
            | Role::Note
            | Role::Water
            | Role::Steel
            | Role::Accessory => Modifier::empty(),
            Role::Label | Role::Ground | Role::KeepOut => Modifier::DIM,
            Role::Figure
            | Role::Title
            | Role::Key
            | Role::Outside
            | Role::Check
            | Role::Shoulder
            | Role::Cut => Modifier::BOLD,
            Role::Differs => Modifier::BOLD.union(Modifier::UNDERLINED),
            Role::Selected => Modifier::REVERSED,
            Role::Stop | Role::Old => Modifier::BOLD.union(Modifier::REVERSED),
        };
        let style = Style::new().add_modifier(modifier);
        // Without colour none is set at all: an empty colour command would undo the modifiers.
        if !self.colour {
            return style;
        }
        // Words that people act on stand on a ground of their own, whatever that of the terminal is: with
        // black on the light colours and white on red the contrast is above 4.5 in the classic palettes.
        let filled = |ground, text| {
            let filled = style.remove_modifier(Modifier::REVERSED);
            filled.bg(ground).fg(text)
        };
        match role {
            Role::Within => filled(Color::LightCyan, Color::Black),
            Role::Unproven | Role::Check | Role::Differs => {
                filled(Color::LightYellow, Color::Black)
            }
            Role::Outside | Role::Stop | Role::Old => filled(Color::Red, Color::White),
            Role::Cut => style.fg(Color::Red),
            Role::Accessory => style.fg(Color::Cyan),
            Role::Water => style.fg(Color::Blue),
            Role::Shoulder => style.fg(Color::Magenta),
            _ => style,
        }
    }
}
