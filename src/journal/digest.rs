//! The SHA-256 of bytes, as `sha256sum` prints it.

use std::fmt::Write;

use sha2::{Digest, Sha256};

/// The SHA-256 of some bytes, in hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// The SHA-256 of a text that is written piece by piece, and kept nowhere.
#[derive(Clone, Debug, Default)]
pub struct DigestWriter {
    digest: Sha256,
    /// Pieces that are too short to be worth a call.
    waiting: String,
}

impl DigestWriter {
    /// How much waits at most, beside the piece that comes last.
    const MUCH: usize = 4096;

    /// The digest of all that was written.
    pub fn finish(mut self) -> String {
        self.digest.update(self.waiting.as_bytes());
        hexadecimal(&self.digest.finalize())
    }
}

impl Write for DigestWriter {
    fn write_str(&mut self, piece: &str) -> std::fmt::Result {
        self.waiting.push_str(piece);
        if self.waiting.len() >= Self::MUCH {
            self.digest.update(self.waiting.as_bytes());
            self.waiting.clear();
        }
        Ok(())
    }
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

#[cfg(test)]
mod tests {
    use super::{DigestWriter, sha256};
    use std::fmt::Write as _;

    #[test]
    fn a_text_written_in_pieces_has_the_digest_of_the_whole() {
        for count in [0, 1, 700, 5000] {
            let mut writer = DigestWriter::default();
            let mut whole = String::new();
            for piece in 0..count {
                let _ = write!(writer, "{piece} {:?};", "\u{b1}a");
                let _ = write!(whole, "{piece} {:?};", "\u{b1}a");
            }
            assert_eq!(writer.finish(), sha256(whole.as_bytes()));
        }
        // FIPS 180-4's example message "abc"; its digest from memory.
        let mut writer = DigestWriter::default();
        let _ = writer.write_str("abc");
        let digest = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(writer.finish(), digest);
    }
}
