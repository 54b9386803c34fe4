//! The thin driver: it opens the job, owns the terminal, waits for events, watches the files, and
//! gives the terminal back whatever happens.

use std::io::{self, Stdout};
use std::panic;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant, SystemTime};

use crossterm::event::{self, Event};
use crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute, style};
use ratatui::backend::CrosstermBackend;
use ratatui::{Frame, Terminal};

use super::commands::action;
use super::state::State;
use super::theme::Theme;
use super::update::{Action, Effect, update};
use super::vigil::Vigil;
use crate::folder::{self, store};
use crate::job::Inputs;
use crate::reconcile::write_decision;

/// How long to wait for a key before looking at the files.
const PATIENCE: Duration = Duration::from_millis(250);
/// How long to wait for one more event once one has come: with no wait at all the terminal library
/// would not even look at what it has read already.
const DRAIN: Duration = Duration::from_millis(1);
/// How often to try again to read files that could not be read.
const RETRY: Duration = Duration::from_secs(2);

/// Opens the screens on a job, and says how they ended. A job that cannot be read is an error before
/// the terminal is touched.
pub fn run(path: &Path) -> io::Result<Ended> {
    run_with(path, super::draw)
}

/// How the screens ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// By the person.
    Asked,
    /// By a signal of this number.
    Signal(usize),
}

impl Ended {
    /// The exit status: 0, or 128 and the number of the signal, as shells have it.
    pub fn status(self) -> u8 {
        match self {
            Self::Asked => 0,
            Self::Signal(number) => u8::try_from(number).unwrap_or(0).saturating_add(128),
        }
    }
}

/// [`run`] with another way to draw, for tests of the driver.
pub fn run_with(path: &Path, draw: fn(&State, &Theme, &mut Frame<'_>)) -> io::Result<Ended> {
    let mut watch = Watch::default();
    let inputs = folder::open(path).map_err(|error| io::Error::other(error.to_string()))?;
    watch.note(&inputs);
    let theme = Theme::from_environment();
    // The theme alone decides on colour: what the terminal library sends instead of a colour when
    // NO_COLOR is set would take the modifiers away.
    style::force_color_output(true);
    let signal = signals()?;
    let guard = Guard::take()?;
    let vigil = Vigil::keep(Arc::clone(&signal), give_back)?;
    let mut terminal = Terminal::new(CrosstermBackend::new(io::stdout()))?;
    let size = terminal.size()?;
    let mut state = State::new(inputs, (size.width, size.height));
    let ended = drive(
        &mut terminal,
        &mut state,
        &theme,
        path,
        watch,
        &signal,
        draw,
    );
    drop(vigil);
    drop(guard);
    Ok(match ended? {
        0 => Ended::Asked,
        number => Ended::Signal(number),
    })
}

/// Until q or a signal, whose number is given back.
fn drive(
    terminal: &mut Terminal<CrosstermBackend<Stdout>>,
    state: &mut State,
    theme: &Theme,
    path: &Path,
    mut watch: Watch,
    signal: &AtomicUsize,
    draw: fn(&State, &Theme, &mut Frame<'_>),
) -> io::Result<usize> {
    let mut changed = true;
    loop {
        if changed {
            terminal.draw(|frame| draw(state, theme, frame))?;
        }
        changed = false;
        let mut wait = PATIENCE;
        let mut effects = Vec::new();
        // All that waits is drained before one draw. A signal may cut the waiting short.
        while poll(wait)? {
            wait = DRAIN;
            match event::read()? {
                Event::Key(key) if key.is_press() => {
                    if let Some(action) = action(state, key) {
                        effects.extend(update(state, action));
                        changed = true;
                    }
                }
                Event::Resize(columns, rows) => {
                    update(state, Action::Resize(columns, rows));
                    changed = true;
                }
                _ => {}
            }
            if effects.contains(&Effect::Quit) {
                return Ok(0);
            }
        }
        let number = signal.load(Ordering::Relaxed);
        if number != 0 {
            return Ok(number);
        }
        let mut asked = effects.contains(&Effect::Reload);
        for effect in effects {
            if let Some(said) = carry_out(&state.inputs.root, effect) {
                // What was written is read again at once, so that it is seen.
                reload(state, path, &mut watch, true);
                update(state, Action::Said(said));
                (changed, asked) = (true, false);
            }
        }
        if asked || watch.has_changed() || (state.old.is_some() && watch.is_time_to_retry()) {
            changed |= reload(state, path, &mut watch, asked);
        }
    }
}

/// Writes what is to be written, and says so only once it is on the disk; `None` for what writes
/// nothing.
fn carry_out(root: &Path, effect: Effect) -> Option<String> {
    match effect {
        Effect::Quit | Effect::Reload => None,
        Effect::Decide { file, decision, .. } => {
            let written = store::append(&root.join(&file), |is_new| {
                write_decision(&decision, is_new)
            });
            Some(match written {
                Ok(()) => format!(
                    "decided and written to {}: the {} of joint {}",
                    file.display(),
                    decision.topic.name(),
                    decision.joint
                ),
                Err(error) => format!("NOT DECIDED: {} cannot be written: {error}", file.display()),
            })
        }
        Effect::Write {
            folder,
            stem,
            text,
            open,
            ..
        } => {
            let names = (1..1000).map(|count| match count {
                1 => folder.join(format!("{stem}.csv")),
                count => folder.join(format!("{stem}-{count}.csv")),
            });
            let file = names.into_iter().find(|file| !root.join(file).exists())?;
            Some(match store::write_new(&root.join(&file), text.as_bytes()) {
                Ok(()) => format!(
                    "written: {}, {open} not decided. To use it: tally = \"{}\" in job.toml",
                    file.display(),
                    file.display()
                ),
                Err(error) => format!("NOT WRITTEN: {}: {error}", file.display()),
            })
        }
    }
}

fn poll(wait: Duration) -> io::Result<bool> {
    match event::poll(wait) {
        Err(error) if error.kind() == io::ErrorKind::Interrupted => Ok(false),
        outcome => outcome,
    }
}

/// Reads the files again; whether there is something new to draw.
fn reload(state: &mut State, path: &Path, watch: &mut Watch, asked: bool) -> bool {
    watch.look();
    let read = folder::open(path).map_err(|error| error.to_string());
    if let Ok(inputs) = &read {
        watch.note(inputs);
        // Touched, not changed.
        if !asked && state.old.is_none() && inputs.digest() == state.inputs.digest() {
            return false;
        }
    }
    let before = state.old.clone();
    update(state, Action::Reloaded(Box::new(read)));
    state.old.is_none() || state.old != before
}

/// When the files were last seen to change.
#[derive(Default)]
struct Watch {
    files: Vec<std::path::PathBuf>,
    seen: Vec<Option<(SystemTime, u64)>>,
    /// Whether a file may have changed between its reading and its first stamp.
    unsure: bool,
    tried: Option<Instant>,
}

impl Watch {
    fn stamps(&self) -> Vec<Option<(SystemTime, u64)>> {
        let stamp = |path: &std::path::PathBuf| {
            let about = std::fs::metadata(path).ok()?;
            Some((about.modified().ok()?, about.len()))
        };
        self.files.iter().map(stamp).collect()
    }

    /// Watches the files of a folder that was just read.
    fn note(&mut self, inputs: &Inputs) {
        let files = folder::watched(inputs);
        // Files that were watched keep the stamp from before they were read, so that a change during
        // the reading is not missed.
        if files != self.files {
            self.files = files;
            self.seen = self.stamps();
            self.unsure = true;
        }
    }

    fn look(&mut self) {
        self.seen = self.stamps();
        self.unsure = false;
        self.tried = Some(Instant::now());
    }

    fn has_changed(&self) -> bool {
        self.unsure || self.stamps() != self.seen
    }

    fn is_time_to_retry(&self) -> bool {
        self.tried.is_none_or(|tried| tried.elapsed() >= RETRY)
    }
}

/// The number of the signal that asked to end; 0 for none.
fn signals() -> io::Result<Arc<AtomicUsize>> {
    let signal = Arc::new(AtomicUsize::new(0));
    #[cfg(unix)]
    for number in [
        signal_hook::consts::SIGTERM,
        signal_hook::consts::SIGHUP,
        signal_hook::consts::SIGINT,
    ] {
        let value = usize::try_from(number).unwrap_or(1);
        signal_hook::flag::register_usize(number, Arc::clone(&signal), value)?;
    }
    Ok(signal)
}

/// Holds the terminal in raw mode on its other screen, and gives it back when dropped or when the
/// program panics.
struct Guard;

impl Guard {
    fn take() -> io::Result<Self> {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            give_back();
            before(info);
        }));
        enable_raw_mode()?;
        // From here on dropping it undoes what was done, also where the next step fails.
        let guard = Self;
        execute!(io::stdout(), EnterAlternateScreen, cursor::Hide)?;
        Ok(guard)
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        give_back();
    }
}

fn give_back() {
    // There is nobody to tell when this fails.
    let _ = execute!(io::stdout(), LeaveAlternateScreen, cursor::Show);
    let _ = disable_raw_mode();
}
