//! Settings of this machine: a file of its own, in no job.

use std::fs;
use std::path::{Path, PathBuf};

use etcetera::{BaseStrategy as _, choose_base_strategy, home_dir};
use serde::Deserialize;
use thiserror::Error;

use crate::measure::Unit;

/// Names another settings file, for tests and for several set-ups on one machine.
const OVERRIDE: &str = "KERFMARK_SETTINGS";

/// What a person sets once for a machine.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// A second folder, on a stick or a share, to which every entry and every file of a job goes too.
    pub copy_to: Option<PathBuf>,
    /// How the screens look; left out, what the terminal can do.
    pub theme: Option<ThemeName>,
    /// The signs of the drawings; left out, what the locale can do.
    pub glyphs: Option<GlyphsName>,
    /// The units that the screens begin with; left out, those of the job.
    pub units: Option<UnitsName>,
    /// Whether the screens take the mouse at once.
    #[serde(default)]
    pub mouse: bool,
}

/// The themes of the screens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ThemeName {
    /// Light letters on a dark ground, for terminals of 256 colours.
    Dark,
    /// Dark letters on a light ground, for terminals of 256 colours.
    Light,
    /// The sixteen colours of the terminal.
    Sixteen,
    /// No colour at all.
    Mono,
}

/// The signs of the drawings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum GlyphsName {
    /// Lines and blocks.
    Unicode,
    /// Letters and signs that every terminal has.
    Ascii,
}

/// The units of the screens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitsName {
    /// Metres.
    M,
    /// Decimal feet.
    Ft,
    /// Feet, inches and sixteenths.
    FtIn,
}

impl From<UnitsName> for Unit {
    fn from(name: UnitsName) -> Self {
        match name {
            UnitsName::M => Self::Metre,
            UnitsName::Ft => Self::Foot,
            UnitsName::FtIn => Self::FootInch,
        }
    }
}

/// Why the settings cannot be used.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum SettingsError {
    /// The file cannot be read.
    #[error("{}: {reason}", file.display())]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// Why.
        reason: String,
    },
    /// It is not what it should be.
    #[error("{}: line {line}, column {column}: {reason}", file.display())]
    Wrong {
        /// The file.
        file: PathBuf,
        /// The line.
        line: usize,
        /// The column.
        column: usize,
        /// What, and where.
        reason: String,
    },
}

impl Settings {
    /// The settings of this machine; the defaults where there is no file.
    pub fn read() -> Result<Self, SettingsError> {
        let Some(file) = Self::file() else {
            return Ok(Self::default());
        };
        if !file.exists() {
            return Ok(Self::default());
        }
        let text = fs::read_to_string(&file).map_err(|error| SettingsError::Unreadable {
            reason: error.to_string(),
            file: file.clone(),
        })?;
        let mut settings = Self::parse(&text, &file)?;
        settings.copy_to = settings.copy_to.map(|folder| with_home(&folder));
        Ok(settings)
    }

    /// The settings that the text of a file states.
    fn parse(text: &str, file: &Path) -> Result<Self, SettingsError> {
        toml::from_str(text).map_err(|error| {
            let at = error.span().map_or(0, |span| span.start);
            let before = text.get(..at).unwrap_or_default();
            let (_, own) = before.rsplit_once('\n').unwrap_or(("", before));
            SettingsError::Wrong {
                // One line: what the library says beside it draws the place in the file.
                reason: error.message().to_owned(),
                line: before.matches('\n').count() + 1,
                column: own.chars().count() + 1,
                file: file.to_owned(),
            }
        })
    }

    /// Where the file is; `None` on a machine without a folder for settings.
    pub fn file() -> Option<PathBuf> {
        if let Some(file) = std::env::var_os(OVERRIDE) {
            return Some(file.into());
        }
        let places = choose_base_strategy().ok()?;
        Some(places.config_dir().join("kerfmark").join("settings.toml"))
    }
}

/// A path that begins with `~` in the person's own folder.
pub fn with_home(path: &Path) -> PathBuf {
    match (path.strip_prefix("~"), home_dir()) {
        (Ok(rest), Ok(home)) => home.join(rest),
        _ => path.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(text: &str) -> Result<Settings, String> {
        let file = Path::new("settings.toml");
        Settings::parse(text, file).map_err(|error| error.to_string())
    }

    #[test]
    fn every_setting_is_read_and_none_is_needed() {
        assert_eq!(parsed(""), Ok(Settings::default()));
        let text = "theme = \"light\"\nunits = \"ft-in\"\nglyphs = \"ascii\"\nmouse = true\ncopy_to = \"/x\"\n";
        let settings = parsed(text).unwrap();
        assert_eq!(settings.theme, Some(ThemeName::Light));
        assert_eq!(settings.units.map(Unit::from), Some(Unit::FootInch));
        assert_eq!(settings.glyphs, Some(GlyphsName::Ascii));
        assert!(settings.mouse);
        assert_eq!(settings.copy_to, Some(PathBuf::from("/x")));
    }

    #[test]
    fn what_is_wrong_is_told_with_its_place_and_what_is_expected() {
        assert_eq!(
            parsed("mouse = true\ntheme = \"drak\"\n"),
            Err("settings.toml: line 2, column 9: unknown variant `drak`, expected one of `dark`, `light`, `sixteen`, `mono`".to_owned())
        );
        assert_eq!(
            parsed("mouse = 1\n"),
            Err(
                "settings.toml: line 1, column 9: invalid type: integer `1`, expected a boolean"
                    .to_owned()
            )
        );
    }
}
