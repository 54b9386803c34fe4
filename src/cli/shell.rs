//! `kerfmark completions SHELL` and `kerfmark man`

use clap::CommandFactory;
use clap_complete::Shell;

use super::{Arguments, Done};

pub(super) fn completions(shell: Shell) -> Done {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "kerfmark", &mut bytes);
    Done::text(String::from_utf8_lossy(&bytes).into_owned())
}

pub(super) fn manual() -> Result<Done, String> {
    let mut bytes = Vec::new();
    clap_mangen::Man::new(Arguments::command())
        .render(&mut bytes)
        .map_err(|error| error.to_string())?;
    Ok(Done::text(String::from_utf8_lossy(&bytes).into_owned()))
}
