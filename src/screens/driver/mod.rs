//! The driver: it opens the job, holds the terminal, waits for events, takes what was read again of the
//! files, and gives the terminal back whatever happens.
//!
//! What a key asks to be written is written before the next event is looked at. So nothing that was
//! confirmed is lost by a key or a signal that follows.

mod effects;
mod ended;
mod held;
mod signals;
mod waiting;
mod watchdog;

use std::io::{self, IsTerminal as _, Stdout};
use std::mem::forget;
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use crossterm::clipboard::CopyToClipboard;
use crossterm::event::{Event, MouseButton, MouseEvent, MouseEventKind};
use crossterm::{execute, style};
use ratatui::backend::CrosstermBackend;
use ratatui::{Frame, Terminal};

use super::commands::action;
use super::loaded::Loaded;
use super::state::State;
use super::targets::Targets;
use super::theme::Theme;
use super::update::{Action, Effect, update};
use crate::folder::{self, Copier, Outcome, Progress, Settings, SettingsError, ThemeName, Watch};
use crate::journal::Moment;
use crate::measure::LengthFormat;
use crate::report::said::Said;
use crate::report::words;
use effects::carry_out;
pub use ended::Ended;
use held::{Held, give_back};
use signals::Signals;
use waiting::{Waiting, Waker};
use watchdog::Watchdog;

/// How long keys wait until what was written is read again.
const READ_BACK: Duration = Duration::from_millis(300);
/// How long to wait for one more event once one has come: what was typed or pasted at once is drawn once.
const DRAIN: Duration = Duration::from_millis(1);
/// The same once a signal asked to end: keys that were pressed before it came are on their way.
const LAST_KEYS: Duration = Duration::from_millis(20);
/// A minute, after which what is counted down is another.
const MINUTE: i64 = 60;
/// How many rows the wheel moves.
const WHEEL: usize = 3;
/// How many events are taken before one draw, so that no flood of them keeps the rest from its turn.
const EVENTS: usize = 1000;

/// What is asked of the screens for this once; what is left out is as the settings say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// How they look.
    pub theme: Option<ThemeName>,
    /// Whether they are drawn with plain signs.
    pub ascii: bool,
}

/// Opens the screens on a job, and says how they ended. A job that cannot be read is an error before
/// the terminal is touched. Once in a program: the thread that reads the keys ends with it.
pub fn run(path: &Path, asked: Asked) -> io::Result<Ended> {
    run_with(path, asked, super::show)
}

/// [`run`] with another way to draw, for tests of the driver.
pub fn run_with(
    path: &Path,
    asked: Asked,
    draw: fn(&State, &Theme, &mut Frame<'_>) -> Targets,
) -> io::Result<Ended> {
    let settings = Settings::read();
    let waiting = Waiting::new();
    let (inputs, watch) = {
        let progress = Progress::start();
        let told = |file: &Path| progress.say(words::reading_file(file));
        let opened = folder::open_seen(path, &told);
        let (inputs, seen) = opened.map_err(|error| io::Error::other(error.to_string()))?;
        let waker = waiting.waker();
        let watch = Watch::start(path, (&inputs, seen), move || waker.wake())?;
        (inputs, watch)
    };
    let used = settings.clone().unwrap_or_default();
    let theme = Theme::chosen((asked.theme, asked.ascii), &used);
    // The theme alone decides on colour: what the terminal library sends instead of a colour when
    // NO_COLOR is set would take the modifiers away.
    style::force_color_output(true);
    let had_terminal = io::stdout().is_terminal();
    let busy = Arc::new(Mutex::new(()));
    let watchdog = Watchdog::start(Arc::clone(&busy), give_back)?;
    let signals = Signals::register(waiting.waker(), watchdog.end())?;
    let held = Held::new()?;
    let mut terminal = Terminal::new(CrosstermBackend::new(io::stdout()))?;
    let size = terminal.size()?;
    let (copier, no_copy) = copier(path, &settings, waiting.waker());
    let mut state = State::new(inputs, (size.width, size.height));
    if let Some(units) = used.units {
        state.show = LengthFormat::new(units.into());
    }
    let mut driver = Driver {
        copier,
        no_copy,
        state,
        watch,
        said: Vec::new(),
        waiting,
        writing: busy,
        targets: Targets::default(),
        changed: true,
        quit: false,
    };
    if used.mouse {
        driver.act(Action::Mouse);
    }
    driver.waiting.read_events()?;
    let ended = driver.drive(&mut terminal, &signals, |state, frame| {
        draw(state, &theme, frame)
    });
    // It would say, on a terminal that is gone, that it is. What it gives back at its end is given back below.
    forget(terminal);
    drop(watchdog);
    drop(held);
    let is_gone = had_terminal && !io::stdout().is_terminal();
    match ended {
        // Whatever failed first.
        Err(_) if is_gone => Ok(Ended::Signal(watchdog::HANG_UP)),
        ended => ended,
    }
}

/// Starts to copy, where the settings name a second folder; else why it cannot. Nothing waits for a copy, so
/// that is no reason not to open a job.
fn copier(
    job: &Path,
    settings: &Result<Settings, SettingsError>,
    waker: Waker,
) -> (Option<Copier>, Option<String>) {
    let settings = match settings {
        Ok(settings) => settings,
        Err(error) => return (None, Some(error.to_string())),
    };
    let folder = settings.copy_to.as_ref();
    match folder.map(|folder| Copier::start(job, folder, move || waker.wake())) {
        None => (None, None),
        Some(Ok(copier)) => (Some(copier), None),
        Some(Err(error)) => (None, Some(error.to_string())),
    }
}

struct Driver {
    state: State,
    watch: Watch<Loaded>,
    /// What copies entries to a second folder, where the settings name one.
    copier: Option<Copier>,
    /// Why nothing is copied although the settings may ask for it.
    no_copy: Option<String>,
    /// What was said of files that were written, until they are read again: by the number of the
    /// question.
    said: Vec<(usize, Said)>,
    waiting: Waiting,
    /// Locked while files are written.
    writing: Arc<Mutex<()>>,
    /// What can be clicked in the last picture.
    targets: Targets,
    /// Whether there is something new to draw.
    changed: bool,
    quit: bool,
}

impl Driver {
    /// Until q or a signal.
    fn drive(
        &mut self,
        terminal: &mut Terminal<CrosstermBackend<Stdout>>,
        signals: &Signals,
        draw: impl Fn(&State, &mut Frame<'_>) -> Targets,
    ) -> io::Result<Ended> {
        loop {
            let stop = signals.take_stop();
            if stop {
                give_back();
                signals::stop()?;
            }
            // Also where the program was stopped without being asked first.
            if signals.take_go_on() || stop {
                held::take()?;
                held::mouse(self.state.mouse);
                // A new one believes nothing of what is on the screen.
                *terminal = Terminal::new(CrosstermBackend::new(io::stdout()))?;
                let size = terminal.size()?;
                self.act(Action::Resize(size.width, size.height));
            }
            let end = signals.end();
            if end != 0 {
                // Keys that were pressed before the signal came are not lost.
                self.take_events(Some(LAST_KEYS))?;
                return Ok(Ended::Signal(end));
            }
            if self.changed {
                terminal.draw(|frame| self.targets = draw(&self.state, frame))?;
                self.changed = false;
            }
            self.take_events(self.until_next_minute())?;
            if self.quit {
                return Ok(Ended::Asked);
            }
            self.look_at_clock();
            self.look_at_copies();
            if let Some(outcome) = self.watch.take() {
                self.read_again(outcome);
            }
        }
    }

    /// Waits until there is something to do, and takes all events that have come by then.
    fn take_events(&mut self, mut wait: Option<Duration>) -> io::Result<()> {
        for _ in 0..EVENTS {
            let Some(event) = self.waiting.wait(wait)? else {
                break;
            };
            wait = Some(DRAIN);
            match event {
                Event::Key(key) if key.is_press() => {
                    update(&mut self.state, Action::Clock(folder::now()));
                    // What the last key came to was seen: it is not said again over what this one does.
                    self.said.clear();
                    if let Some(action) = action(&self.state, key) {
                        self.act(action);
                    }
                }
                Event::Mouse(mouse) => self.take_mouse(mouse),
                Event::Paste(text) => self.act(Action::Paste(text)),
                Event::Resize(columns, rows) => self.act(Action::Resize(columns, rows)),
                _ => {}
            }
            if self.quit {
                break;
            }
        }
        Ok(())
    }

    /// What a click does, where the picture is of the state that it would change; the wheel moves three rows.
    fn take_mouse(&mut self, mouse: MouseEvent) {
        let wheel = |action| vec![action; WHEEL];
        let actions = match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) if !self.changed => {
                let found = self.targets.at(mouse.column, mouse.row);
                found.cloned().into_iter().collect()
            }
            MouseEventKind::ScrollUp => wheel(Action::Up),
            MouseEventKind::ScrollDown => wheel(Action::Down),
            _ => Vec::new(),
        };
        for action in actions {
            self.act(action);
        }
    }

    /// Says that the copy in the second folder is behind, or that it caught up.
    fn look_at_copies(&mut self) {
        let behind = self.copier.as_ref().and_then(Copier::behind);
        let behind = behind.or_else(|| self.no_copy.clone());
        if behind != self.state.copy_behind {
            self.state.copy_behind = behind;
            self.changed = true;
        }
    }

    /// While something is counted down, the picture is drawn again when a minute is over.
    fn look_at_clock(&mut self) {
        if !self.state.counts_down() {
            return;
        }
        let now = folder::now();
        let minute = |it: &Moment| it.seconds().div_euclid(MINUTE);
        if self.state.now.as_ref().map(minute) != Some(minute(&now)) {
            self.act(Action::Clock(now));
        }
    }

    /// How long the picture stays as it is with nothing new; without end where nothing is counted down.
    fn until_next_minute(&self) -> Option<Duration> {
        let left = || MINUTE - folder::now().seconds().rem_euclid(MINUTE);
        let left = self.state.counts_down().then(left)?;
        Some(Duration::from_secs(left.unsigned_abs()))
    }

    /// Changes the state, and does at once what that asks for.
    fn act(&mut self, action: Action) {
        self.changed = true;
        for effect in update(&mut self.state, action) {
            match effect {
                Effect::Quit => self.quit = true,
                Effect::Reload => {
                    self.watch.ask();
                }
                Effect::Copy(text) => {
                    // Whether the terminal takes it cannot be known: it does not answer.
                    let _ = execute!(io::stdout(), CopyToClipboard::to_clipboard_from(text));
                }
                Effect::Mouse(is_taken) => held::mouse(is_taken),
                effect => self.write(effect),
            }
        }
    }

    fn write(&mut self, effect: Effect) {
        let said = {
            let _writing = self.writing.lock();
            carry_out(&self.state.inputs.root, effect)
        };
        if let Some(said) = said {
            // What was written is read again at once, so that it is seen.
            let number = self.watch.ask();
            update(&mut self.state, Action::Said(said.clone()));
            self.said.push((number, said));
            // The next key acts on what this one wrote; what takes longer to read comes after it.
            let until = Instant::now() + READ_BACK;
            while self.watch.is_asked() && Instant::now() < until {
                let left = until.saturating_duration_since(Instant::now());
                if let Some(outcome) = self.watch.wait(left) {
                    self.read_again(outcome);
                }
            }
        }
    }

    /// Takes what was read again.
    fn read_again(&mut self, outcome: Outcome<Loaded>) {
        self.changed = true;
        // What another window wrote is copied too.
        if let Some(copier) = &self.copier {
            copier.ask();
        }
        update(&mut self.state, Action::Reloaded(Box::new(outcome.loaded)));
        // What was done by a key matters more than that the files were read.
        let answered = |(number, _): &mut (usize, Said)| *number <= outcome.answered;
        if let Some((_, said)) = self.said.extract_if(.., answered).last() {
            update(&mut self.state, Action::Said(said));
        }
    }
}
