//! Drawing a frame of each screen on a job of eight strings of two hundred joints, and the time from
//! starting the program to its first whole frame in a terminal. Run with `cargo bench --bench frame`.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a benchmark may stop"
)]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use divan::{Bencher, black_box};
use kerfmark::folder::{ThemeName, open};
use kerfmark::screens::{Action, Screen, State, Theme, draw, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

fn main() {
    divan::main();
}

/// An invented job on disk.
fn job(place: &Path) -> PathBuf {
    let mut text = String::from(
        "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -41.35\n\
         [[hull]]\nname = \"low\"\nrotary = 32.4\n[pipe.main]\nod = \"30 in\"\nwall = \"1.5 in\"\nconnector_mass = 310\n\
         [deck]\nelevation = 14.25\n[cut]\ntolerance = \"10 mm\"\nclearance = 0.4\nspread = \"6 mm\"\n\
         [uncertainty]\nstrap = \"1.5 mm\"\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\nas_cut = \"1 mm\"\n\
         [[keep_out]]\nfrom = 2.0\nto = 6.0\n[[accessory]]\nname = \"guide\"\nelevation = 3.0\nlength = 0.4\n",
    );
    for slot in 0..8 {
        let mut tally = String::from("joint,serial,kind,length (m),makeup_loss (m),remarks\n");
        for joint in 1..=200 {
            let kind = if joint == 1 { "shoe" } else { "joint" };
            let length = 11_800 + (joint * 7_919) % 600;
            let _ = writeln!(
                tally,
                "{slot}-{joint},S{slot}{joint:05},{kind},{}.{:03},0.152,",
                length / 1000,
                length % 1000
            );
        }
        fs::write(place.join(format!("{slot}.csv")), tally).expect("a tally");
        let _ = write!(
            text,
            "[[slot]]\nname = \"{slot}\"\npipe = \"main\"\ntally = \"{slot}.csv\"\nrunning_joint = \"{slot}-50\"\n\
             shoulder_offset = 1.25\nstick_up = 1.12\n"
        );
    }
    fs::write(place.join("job.toml"), text).expect("a job");
    place.to_owned()
}

const SIZES: [(u16, u16); 2] = [(80, 24), (200, 60)];

fn frames(bencher: Bencher<'_, '_>, screen: Screen, size: (u16, u16)) {
    let place = tempfile::tempdir().expect("a folder");
    let folder = open(&job(place.path())).expect("a job that opens");
    let mut state = State::new(folder, size);
    update(&mut state, Action::Go(screen));
    let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
    let theme = Theme::of(ThemeName::Dark);
    bencher.bench_local(|| {
        terminal
            .draw(|frame| draw(black_box(&state), &theme, frame))
            .expect("drawn");
    });
}

#[divan::bench(args = SIZES)]
fn overview(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Overview, size);
}

#[divan::bench(args = SIZES)]
fn tally(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Tally, size);
}

#[divan::bench(args = SIZES)]
fn profile(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Profile, size);
}

#[divan::bench(args = SIZES)]
fn cut(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Cut, size);
}

#[divan::bench(args = SIZES)]
fn levels(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Levels, size);
}

#[divan::bench(args = SIZES)]
fn record(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Record, size);
}

#[divan::bench(args = SIZES)]
fn floor(bencher: Bencher<'_, '_>, size: (u16, u16)) {
    frames(bencher, Screen::Floor, size);
}

/// Ends the program when the measured part is over: ending takes its own time.
#[cfg(unix)]
struct Running(Box<dyn portable_pty::Child + Send + Sync>);

#[cfg(unix)]
impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
    }
}

/// From the start of the program to the bottom line of its first frame, read off a terminal.
#[cfg(unix)]
#[divan::bench(sample_count = 20, sample_size = 1)]
fn start_to_first_frame(bencher: Bencher<'_, '_>) {
    use portable_pty::{CommandBuilder, PtySize, native_pty_system};
    use std::io::Read;

    let place = tempfile::tempdir().expect("a folder");
    let job = job(place.path());
    let open = || {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).expect("a terminal");
        let reader = pair.master.try_clone_reader().expect("a reader");
        (pair, reader)
    };
    bencher
        .with_inputs(open)
        .bench_local_values(|(pair, mut reader)| {
            let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_kerfmark"));
            command.arg(&job);
            command.env("TERM", "xterm-256color");
            let child = pair.slave.spawn_command(command).expect("the program");
            let mut seen = Vec::new();
            let mut buffer = [0; 8192];
            while !seen.ends_with(b"quit") && !String::from_utf8_lossy(&seen).contains("quit") {
                let count = reader.read(&mut buffer).expect("bytes");
                seen.extend_from_slice(&buffer[..count]);
            }
            (pair, reader, Running(child))
        });
}
