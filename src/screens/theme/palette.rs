//! The colours of the themes, by their numbers in the 256-colour table of terminals: 0 to 15 are the
//! terminal's own sixteen, those above are the same everywhere.

use super::role::Role;

/// A ground, and what is written on it.
type Filled = (u8, u8);

/// The colours of a theme.
#[derive(Debug)]
pub(super) struct Palette {
    /// The ground of the screen, and running text on it.
    pub(super) screen: Filled,
    label: u8,
    bright: u8,
    quiet: u8,
    steel: u8,
    selected: Filled,
    chip: Filled,
    good: Filled,
    doubt: Filled,
    bad: Filled,
    cut: u8,
    shoulder: u8,
    accessory: u8,
    water: u8,
    seabed: u8,
}

pub(super) static DARK: Palette = Palette {
    screen: (234, 252),
    label: 247,
    bright: 255,
    quiet: 243,
    steel: 245,
    selected: (24, 255),
    chip: (250, 16),
    good: (79, 16),
    doubt: (220, 16),
    bad: (160, 231),
    cut: 219,
    shoulder: 150,
    accessory: 116,
    water: 110,
    seabed: 180,
};

pub(super) static LIGHT: Palette = Palette {
    screen: (255, 234),
    label: 240,
    bright: 16,
    quiet: 243,
    steel: 243,
    selected: (25, 231),
    chip: (239, 231),
    good: (23, 231),
    doubt: (220, 16),
    bad: (160, 231),
    cut: 126,
    shoulder: 22,
    accessory: 24,
    water: 25,
    seabed: 94,
};

/// The terminal's own sixteen: readable in the palettes that terminals ship.
pub(super) static SIXTEEN: Palette = Palette {
    screen: (0, 15),
    label: 7,
    bright: 15,
    quiet: 7,
    steel: 7,
    selected: (4, 15),
    chip: (7, 0),
    good: (14, 0),
    doubt: (11, 0),
    bad: (1, 15),
    cut: 11,
    shoulder: 10,
    accessory: 14,
    water: 6,
    seabed: 7,
};

impl Palette {
    /// The ground of a role and its text.
    pub(super) fn of(&self, role: Role) -> Filled {
        let on_screen = |text| (self.screen.0, text);
        match role {
            Role::Screen | Role::Plain | Role::Note => self.screen,
            Role::Steel => on_screen(self.steel),
            Role::Label => on_screen(self.label),
            Role::Figure | Role::Title | Role::Key => on_screen(self.bright),
            Role::Quiet | Role::KeepOut | Role::Band => on_screen(self.quiet),
            Role::Selected => self.selected,
            Role::Chip => self.chip,
            Role::Within => self.good,
            Role::Unproven | Role::Check | Role::Differs => self.doubt,
            Role::Outside | Role::Stop | Role::Old => self.bad,
            Role::Cut | Role::Blur => on_screen(self.cut),
            Role::Shoulder => on_screen(self.shoulder),
            Role::Accessory => on_screen(self.accessory),
            Role::Water => on_screen(self.water),
            Role::Ground => on_screen(self.seabed),
        }
    }
}
