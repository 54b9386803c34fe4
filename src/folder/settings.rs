//! Settings of this machine: a file of its own, in no job.

use std::fs;
use std::path::{Path, PathBuf};

use etcetera::{BaseStrategy as _, choose_base_strategy, home_dir};
use serde::Deserialize;
use thiserror::Error;

/// Names another settings file, for tests and for several set-ups on one machine.
const OVERRIDE: &str = "KERFMARK_SETTINGS";

/// What a person sets once for a machine.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// A second folder, on a stick or a share, to which every entry and every file of a job goes too.
    pub copy_to: Option<PathBuf>,
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
    #[error("{}: {reason}; expected `copy_to = \"/path/of/a/folder\"`", file.display())]
    Wrong {
        /// The file.
        file: PathBuf,
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
        let mut settings: Self = toml::from_str(&text).map_err(|error| SettingsError::Wrong {
            // One line: what the library says beside it draws the place in the file.
            reason: error.message().to_owned(),
            file,
        })?;
        settings.copy_to = settings.copy_to.map(|folder| with_home(&folder));
        Ok(settings)
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
