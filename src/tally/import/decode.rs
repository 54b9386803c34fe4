//! From bytes to text: a byte-order mark decides, else valid UTF-8, else Windows-1252.
//!
//! No guessing by letter frequency: on the few signs of this trade (± ½ Ø ″) such guesses go wrong.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::damage::NotText;
use super::error::Problem;
use super::limits::{Limit, MAX_DECODED};

/// The text of a file and how it was encoded.
#[derive(Clone, Debug)]
pub struct Decoded<'a> {
    /// The text, without a byte-order mark.
    pub text: Cow<'a, str>,
    /// The name of the encoding.
    pub encoding: &'static str,
}

/// Decodes the bytes of a tally file.
pub fn decode(bytes: &[u8]) -> Result<Decoded<'_>, Problem> {
    if bytes.is_empty() {
        return Err(Problem::Empty);
    }
    if let Some(what) = kind_of_file(bytes) {
        return Err(Problem::NoWorkbook {
            what: what.to_owned(),
        });
    }
    let (encoding, mark) = Encoding::for_bom(bytes)
        .or_else(|| utf16_without_mark(bytes).map(|encoding| (encoding, 0)))
        .unwrap_or((UTF_8, 0));
    let body = bytes.get(mark..).unwrap_or_default();
    let refuse_long = || {
        if bytes.len() <= MAX_DECODED {
            return Ok(());
        }
        let limit = Limit::Decoded;
        Err(Problem::Beyond { line: 1, limit })
    };
    let (text, encoding) = if encoding == UTF_8 {
        match std::str::from_utf8(body) {
            Ok(text) => (Cow::Borrowed(text), UTF_8),
            Err(_) if mark == 0 => {
                refuse_long()?;
                let text = WINDOWS_1252.decode_without_bom_handling(body).0;
                (text, WINDOWS_1252)
            }
            Err(error) => {
                return Err(Problem::Binary {
                    what: NotText::MarkedUtf8(mark + error.valid_up_to() + 1),
                });
            }
        }
    } else {
        refuse_long()?;
        let (text, failed) = encoding.decode_without_bom_handling(body);
        if failed {
            return Err(Problem::Binary {
                what: NotText::Invalid(encoding.name()),
            });
        }
        (text, encoding)
    };
    if text.trim().is_empty() {
        return Err(Problem::Empty);
    }
    // Looked for without an early end first: that goes many bytes at a time.
    let any = text
        .bytes()
        .fold(false, |found, byte| found | is_binary(byte));
    if any && let Some((before, control)) = first_binary(&text) {
        let line = before.lines().count().max(1);
        return Err(Problem::Binary {
            what: NotText::ControlByte {
                line,
                byte: control,
            },
        });
    }
    Ok(Decoded {
        text,
        encoding: encoding.name(),
    })
}

/// The first control byte, and the text up to and with it.
fn first_binary(text: &str) -> Option<(&str, u8)> {
    let at = text.bytes().position(is_binary)?;
    Some((text.get(..=at)?, *text.as_bytes().get(at)?))
}

const fn is_binary(byte: u8) -> bool {
    byte < 0x20 && !matches!(byte, b'\t' | b'\n' | b'\r' | 0x0C | 0x1A)
}

/// How much of a file is looked at to know another kind by its words.
const KIND_WITHIN: usize = 1_024;

/// What kind of file it is, if another than text: whatever its name says.
fn kind_of_file(bytes: &[u8]) -> Option<&'static str> {
    const KINDS: &[(&[u8], &str)] = &[
        // Archives that hold nothing, or a part of one: workbooks begin otherwise.
        (b"PK\x05\x06", "an archive"),
        (b"PK\x07\x08", "an archive"),
        (b"\xD0\xCF\x11\xE0", "an old document"),
        (b"%PDF", "a PDF"),
        (b"{\\rtf", "a text document in rich text format (.rtf)"),
        (b"\x89PNG", "a picture"),
        (b"\xFF\xD8\xFF", "a picture"),
        (b"GIF8", "a picture"),
        (b"II*\0", "a picture"),
        (b"MM\0*", "a picture"),
        (b"\x7FELF", "a program"),
        (b"\x1F\x8B", "a compressed file"),
        (b"7z\xBC\xAF\x27\x1C", "an archive"),
        (b"Rar!", "an archive"),
    ];
    let known = KINDS.iter().find(|(start, _)| bytes.starts_with(start));
    known.map(|(_, what)| *what).or_else(|| markup(bytes))
}

/// Pages and documents in markup: programs save them under the names of workbooks.
fn markup(bytes: &[u8]) -> Option<&'static str> {
    let head = bytes
        .get(..bytes.len().min(KIND_WITHIN))
        .unwrap_or_default();
    let (encoding, mark) = Encoding::for_bom(head)
        .or_else(|| utf16_without_mark(head).map(|encoding| (encoding, 0)))
        .unwrap_or((WINDOWS_1252, 0));
    let body = head.get(mark..).unwrap_or_default();
    let text = encoding.decode_without_bom_handling(body).0.to_lowercase();
    let text = text.trim_start();
    if !text.starts_with('<') {
        return text
            .starts_with("mime-version:")
            .then_some("a web page saved as one file");
    }
    let is_page = [
        "<!doctype html",
        "<html",
        "<head",
        "<body",
        "<table",
        "<meta",
    ]
    .iter()
    .any(|start| text.starts_with(start));
    Some(if is_page {
        "a web page (HTML), whatever its name says"
    } else if text.contains("<office:document") {
        "a flat open document (.fods), which is not read; save it as .ods"
    } else if text.contains("urn:schemas-microsoft-com:office:spreadsheet")
        || text.contains("progid=\"excel.sheet\"")
    {
        "a spreadsheet in plain XML, which is not read; save it as .xlsx"
    } else if text.contains("<html") {
        "a web page (HTML), whatever its name says"
    } else if text.starts_with("<?xml") || text.starts_with("<!--") {
        "an XML document, but no workbook"
    } else {
        return None;
    })
}

/// UTF-16 without a mark shows in its zero bytes: every second one, in a text of Latin letters.
fn utf16_without_mark(bytes: &[u8]) -> Option<&'static Encoding> {
    let sample = bytes.get(..bytes.len().min(400)).unwrap_or_default();
    if sample.len() < 8 || !bytes.len().is_multiple_of(2) {
        return None;
    }
    let zeros = |odd: usize| {
        sample
            .iter()
            .skip(odd)
            .step_by(2)
            .filter(|byte| **byte == 0)
            .count()
    };
    let half = sample.len() / 2;
    let most = half * 9 / 10;
    match (zeros(0), zeros(1)) {
        (0, high) if high >= most => Some(UTF_16LE),
        (high, 0) if high >= most => Some(UTF_16BE),
        _ => None,
    }
}
