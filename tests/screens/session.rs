//! A program in a real terminal, and what it does to it. Every wait is for a text or for the end, never for
//! a time.

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::process::Command;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

pub const ROWS: u16 = 24;
pub const COLUMNS: u16 = 80;
/// Long enough for a machine that does much else.
pub const PATIENCE: Duration = Duration::from_secs(30);

/// The modes of a terminal that raw mode takes away: of its input, its output and its lines.
type Modes = [Vec<&'static str>; 3];

fn modes(master: &dyn MasterPty) -> Modes {
    let modes = master.get_termios().expect("the modes of a terminal");
    // By name, because a failure shall say which mode was not given back.
    let [mut input, mut output, mut lines] = [const { Vec::new() }; 3];
    input.extend(modes.input_flags.iter_names().map(|(name, _)| name));
    output.extend(modes.output_flags.iter_names().map(|(name, _)| name));
    lines.extend(modes.local_flags.iter_names().map(|(name, _)| name));
    [input, output, lines]
}

/// Whether keys are echoed, lines are edited and keys make signals, as a shell needs it.
fn is_cooked([_, _, lines]: &Modes) -> bool {
    ["ECHO", "ICANON", "ISIG"]
        .iter()
        .all(|mode| lines.contains(mode))
}

pub struct Session {
    pub child: Box<dyn Child + Send + Sync>,
    pub master: Box<dyn MasterPty + Send>,
    /// The modes before the program started, and whether they were ever others since.
    before: Modes,
    was_raw: bool,
    pub writer: Box<dyn Write + Send>,
    bytes: Receiver<Vec<u8>>,
    pub parser: vt100::Parser,
    pub all: Vec<u8>,
}

/// The size of the terminal.
pub const SIZE: PtySize = PtySize {
    rows: ROWS,
    cols: COLUMNS,
    pixel_width: 0,
    pixel_height: 0,
};

impl Session {
    pub fn start(program: &Path, job: &Path, no_color: bool) -> Self {
        Self::with_settings(program, job, no_color, Path::new("/nowhere/settings.toml"))
    }

    /// With a settings file of the machine.
    pub fn with_settings(program: &Path, job: &Path, no_color: bool, settings: &Path) -> Self {
        let pair = native_pty_system().openpty(SIZE).expect("a terminal");
        let before = modes(&*pair.master);
        assert!(is_cooked(&before), "there is nothing to give back");
        let mut command = CommandBuilder::new(program);
        command.arg(job);
        command.env("TERM", "xterm-256color");
        command.env("LC_ALL", "C.UTF-8");
        // A long trace would push what is looked for off the screen.
        command.env("RUST_BACKTRACE", "0");
        command.env("KERFMARK_SETTINGS", settings);
        command.env_remove("NO_COLOR");
        if no_color {
            command.env("NO_COLOR", "1");
        }
        let child = pair.slave.spawn_command(command).expect("the program");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("a reader");
        let writer = pair.master.take_writer().expect("a writer");
        let (send, bytes) = channel();
        thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(count) = reader.read(&mut buffer) {
                if count == 0 || send.send(buffer[..count].to_vec()).is_err() {
                    break;
                }
            }
        });
        let cells = |count| NonZero::new(count).expect("not none");
        let parser = vt100::Parser::new(cells(ROWS), cells(COLUMNS), 0);
        Self {
            child,
            master: pair.master,
            before,
            was_raw: false,
            writer,
            bytes,
            parser,
            all: Vec::new(),
        }
    }

    /// Takes what has come; whether more can come.
    pub fn take(&mut self, wait: Duration) -> bool {
        match self.bytes.recv_timeout(wait) {
            Ok(bytes) => {
                self.parser.process(&bytes);
                self.all.extend(bytes);
                self.was_raw |= !is_cooked(&modes(&*self.master));
                true
            }
            Err(RecvTimeoutError::Timeout) => true,
            Err(RecvTimeoutError::Disconnected) => false,
        }
    }

    pub fn wait_for(&mut self, text: &str) {
        let until = Instant::now() + PATIENCE;
        while !self.parser.screen().contents().contains(text) {
            assert!(
                Instant::now() < until && self.take(Duration::from_millis(100)),
                "`{text}` did not come:\n{}",
                self.parser.screen().contents()
            );
        }
    }

    pub fn wait_without(&mut self, text: &str) {
        let until = Instant::now() + PATIENCE;
        while self.parser.screen().contents().contains(text) {
            assert!(
                Instant::now() < until && self.take(Duration::from_millis(100)),
                "`{text}` stayed:\n{}",
                self.parser.screen().contents()
            );
        }
    }

    pub fn keys(&mut self, keys: &str) {
        self.writer.write_all(keys.as_bytes()).expect("keys");
        self.writer.flush().expect("keys");
    }

    pub fn signal(&self, name: &str) {
        let id = self.child.process_id().expect("a process");
        let done = Command::new("kill")
            .args([format!("-{name}"), id.to_string()])
            .status();
        assert!(done.expect("kill").success());
    }

    /// Waits until the program is stopped, and for all that it wrote until then.
    pub fn wait_until_stopped(&mut self) {
        let id = self.child.process_id().expect("a process").to_string();
        let until = Instant::now() + PATIENCE;
        loop {
            let state = Command::new("ps").args(["-o", "stat=", "-p", &id]).output();
            if state.expect("ps").stdout.starts_with(b"T") {
                break;
            }
            assert!(Instant::now() < until, "it was not stopped");
            self.take(Duration::from_millis(20));
        }
        let mut known = usize::MAX;
        while known != self.all.len() {
            known = self.all.len();
            self.take(Duration::from_millis(200));
        }
    }

    /// Waits until keys are taken one by one.
    pub fn wait_for_raw(&mut self) {
        let until = Instant::now() + PATIENCE;
        while is_cooked(&modes(&*self.master)) {
            assert!(Instant::now() < until, "raw mode was not entered");
            self.take(Duration::from_millis(20));
        }
    }

    /// Waits for the end and for all that was written until then, and gives the exit status.
    pub fn end(&mut self) -> u32 {
        let until = Instant::now() + PATIENCE;
        let status = loop {
            if let Some(status) = self.child.try_wait().expect("a child") {
                break status;
            }
            assert!(
                Instant::now() < until,
                "it did not end:\n{}",
                self.parser.screen().contents()
            );
            self.take(Duration::from_millis(20));
        };
        // The program was the last to hold its side of the terminal, so that no more can come.
        while self.take(Duration::from_millis(200)) {
            assert!(Instant::now() < until, "what it wrote does not end");
        }
        status.exit_code()
    }

    /// The terminal was used, and is as it was found: its own modes and screen, the cursor in sight.
    pub fn is_given_back(&self) {
        assert!(self.was_raw, "keys were taken one by one");
        assert_eq!(modes(&*self.master), self.before, "raw mode was not left");
        let screen = self.parser.screen();
        assert!(!screen.alternate_screen(), "the other screen was not left");
        assert!(!screen.hide_cursor(), "the cursor is still hidden");
        let text = String::from_utf8_lossy(&self.all);
        for (sequence, what) in [
            ("\u{1b}[?1049h", "the other screen was used"),
            ("\u{1b}[?25l", "the cursor was hidden"),
        ] {
            assert!(text.contains(sequence), "{what}");
        }
    }

    /// Nothing was ever done to the terminal.
    pub fn is_untouched(&self) {
        assert!(!self.was_raw, "raw mode was entered");
        assert_eq!(modes(&*self.master), self.before);
        let text = String::from_utf8_lossy(&self.all);
        assert!(!text.contains("\u{1b}[?"), "{text}");
    }
}
