//! The look: roles, not colours, and one table of signs. A theme with colours draws on its own ground, so that its
//! contrast is known whatever the terminal's is; without colour there are modifiers alone.

mod glyphs;
mod palette;
mod role;

use ratatui::style::{Color, Modifier, Style};

use crate::folder::{GlyphsName, Settings, ThemeName};
pub use glyphs::Glyphs;
use palette::Palette;
pub use role::Role;

/// How everything looks.
#[derive(Clone, Copy, Debug)]
pub struct Theme {
    /// Its colours; without any, modifiers alone.
    palette: Option<&'static Palette>,
    pub(super) glyphs: &'static Glyphs,
}

/// A variable of the environment, where it is set to something.
fn set(name: &str) -> Option<String> {
    std::env::var(name).ok().filter(|value| !value.is_empty())
}

impl Theme {
    /// A theme with Unicode signs.
    pub const fn of(name: ThemeName) -> Self {
        let palette = match name {
            ThemeName::Dark => Some(&palette::DARK),
            ThemeName::Light => Some(&palette::LIGHT),
            ThemeName::Sixteen => Some(&palette::SIXTEEN),
            ThemeName::Mono => None,
        };
        Self {
            palette,
            glyphs: &glyphs::UNICODE,
        }
    }

    /// The same with ASCII signs.
    #[must_use]
    pub const fn ascii(self) -> Self {
        Self {
            glyphs: &glyphs::ASCII,
            ..self
        }
    }

    /// What was asked for on the command line, else what the settings say, else what the terminal can do.
    pub fn chosen(asked: (Option<ThemeName>, bool), settings: &Settings) -> Self {
        let name = asked.0.or(settings.theme);
        let theme = Self::of(name.unwrap_or_else(ThemeName::of_terminal));
        let glyphs = if asked.1 {
            Some(GlyphsName::Ascii)
        } else {
            settings.glyphs
        };
        match glyphs.unwrap_or_else(GlyphsName::of_terminal) {
            GlyphsName::Ascii => theme.ascii(),
            GlyphsName::Unicode => theme,
        }
    }

    /// Whether it sets colours.
    pub const fn has_colour(self) -> bool {
        self.palette.is_some()
    }

    /// Whether it draws with plain signs alone.
    pub(super) const fn is_ascii(self) -> bool {
        self.glyphs.wall == '|'
    }

    /// The style of a role. Without colours none is set at all: an empty colour command would undo the modifiers.
    pub fn style(self, role: Role) -> Style {
        let style = Style::new().add_modifier(self.modifier(role));
        let Some(palette) = self.palette else {
            return style;
        };
        let (ground, text) = palette.of(role);
        style.bg(Color::Indexed(ground)).fg(Color::Indexed(text))
    }

    /// The ground of the screen; `None` where it is the terminal's own.
    pub(super) fn ground(self) -> Option<Color> {
        Some(Color::Indexed(self.palette?.screen.0))
    }

    fn modifier(self, role: Role) -> Modifier {
        match role {
            Role::Figure
            | Role::Title
            | Role::Key
            | Role::Shoulder
            | Role::Cut
            | Role::Stop
            | Role::Outside
            | Role::Old => Modifier::BOLD,
            Role::Differs => Modifier::BOLD.union(Modifier::UNDERLINED),
            _ => Modifier::empty(),
        }
        .union(if self.palette.is_some() {
            Modifier::empty()
        } else {
            Self::in_place_of_colour(role)
        })
    }

    /// What distinguishes a role where no colour does.
    const fn in_place_of_colour(role: Role) -> Modifier {
        match role {
            Role::Selected | Role::Chip | Role::Stop | Role::Outside | Role::Old => {
                Modifier::REVERSED
            }
            Role::Check | Role::Unproven => Modifier::BOLD.union(Modifier::UNDERLINED),
            Role::Quiet | Role::KeepOut | Role::Band | Role::Blur => Modifier::DIM,
            _ => Modifier::empty(),
        }
    }
}

impl ThemeName {
    /// What the terminal can do: `NO_COLOR` takes the colours away; more than sixteen are used where it says that it
    /// has them.
    pub fn of_terminal() -> Self {
        let has = |name, words: &[&str]| {
            set(name).is_some_and(|value| words.iter().any(|word| value.contains(word)))
        };
        let has_many =
            has("TERM", &["256color", "direct"]) || has("COLORTERM", &["truecolor", "24bit"]);
        match (set("NO_COLOR"), has_many) {
            (Some(_), _) => Self::Mono,
            (None, true) => Self::Dark,
            (None, false) => Self::Sixteen,
        }
    }
}

impl GlyphsName {
    /// Plain signs where the locale is not UTF-8.
    pub fn of_terminal() -> Self {
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
        let is_utf8 = locale.is_none_or(|locale| {
            let locale = locale.to_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        });
        if is_utf8 { Self::Unicode } else { Self::Ascii }
    }
}
