//! The program, run in a folder.

use std::path::Path;
use std::process::Command;

/// Its exit status, and what it wrote to standard output and to standard error.
pub fn kerfmark(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}
