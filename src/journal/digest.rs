//! The SHA-256 of bytes, as `sha256sum` prints it.

use std::fmt::Write as _;

use sha2::{Digest, Sha256};

/// The SHA-256 of some bytes, in hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes
        .iter()
        .fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
            // Writing into memory cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
}
