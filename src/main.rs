//! The program: parse the command line, run it, give its exit status.

use std::process::ExitCode;

fn main() -> ExitCode {
    kerfmark::cli::run(std::env::args_os())
}
