//! Workbooks that are damaged, protected, or claim what cannot be: each is an error that says so, and
//! none stops the program or takes the memory of the machine.

use std::fs;
use std::io::{Cursor, Read, Write};
use std::path::Path;

use crate::common::laws::laws;
use kerfmark::tally::{Options, read};
use proptest::prelude::*;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

fn bytes(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/workbooks");
    fs::read(folder.join(name)).expect("a fixture")
}

fn refusal(bytes: &[u8]) -> String {
    match read(bytes, &Options::default()) {
        Ok(tally) => panic!("was read as {:#?}", tally.joints),
        Err(problems) => {
            let sentences: Vec<String> = problems.iter().map(ToString::to_string).collect();
            sentences.join("\n")
        }
    }
}

/// The parts of an archive.
fn parts(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).expect("an archive");
    (0..archive.len())
        .map(|index| {
            let mut part = archive.by_index(index).expect("a part");
            let mut content = Vec::new();
            part.read_to_end(&mut content).expect("its bytes");
            (part.name().expect("a name").into_owned(), content)
        })
        .collect()
}

/// An archive of parts, whose check sums are right whatever the parts hold.
fn archive(parts: &[(String, Vec<u8>)]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, content) in parts {
        writer.start_file(name, options).expect("a part");
        writer.write_all(content).expect("its bytes");
    }
    writer.finish().expect("an archive").into_inner()
}

/// A workbook with the text of one part changed.
fn changed(name: &str, part: &str, from: &str, to: &str) -> Vec<u8> {
    let mut all = parts(&bytes(name));
    let (_, content) = all
        .iter_mut()
        .find(|(name, _)| name == part)
        .expect("that part");
    let text = String::from_utf8(content.clone()).expect("text");
    assert!(text.contains(from), "{from} in {text}");
    *content = text.replacen(from, to, 1).into_bytes();
    archive(&all)
}

/// The bytes with one run of them replaced by another of the same length.
fn patched(mut bytes: Vec<u8>, from: &[u8], to: &[u8]) -> Vec<u8> {
    let at = bytes
        .windows(from.len())
        .position(|window| window == from)
        .expect("those bytes");
    bytes[at..at + to.len()].copy_from_slice(to);
    bytes
}

fn utf16(text: &str) -> Vec<u8> {
    text.encode_utf16().flat_map(u16::to_le_bytes).collect()
}

#[test]
fn other_archives_and_documents_say_what_they_are() {
    assert_eq!(
        refusal(&bytes("not-one.zip")),
        "is a zip archive, but no workbook; expected a tally as text or in a workbook (.xlsx, .xls or .ods)"
    );
    let document = archive(&[(
        "mimetype".to_owned(),
        b"application/vnd.oasis.opendocument.text".to_vec(),
    )]);
    assert!(refusal(&document).starts_with("is a text document (.odt);"));
    let other = archive(&[(
        "mimetype".to_owned(),
        b"application/vnd.oasis.opendocument.graphics".to_vec(),
    )]);
    assert!(refusal(&other).starts_with("is a document, but no workbook;"));
    let word = archive(&[("word/document.xml".to_owned(), Vec::new())]);
    assert!(refusal(&word).starts_with("is a text document (.docx);"));
    let binary = archive(&[("xl/workbook.bin".to_owned(), Vec::new())]);
    assert!(refusal(&binary).contains("(.xlsb), which is not read; save it as .xlsx"));
    let old = patched(bytes("tally.xls"), &utf16("Workbook"), &utf16("WordDocu"));
    assert!(refusal(&old).starts_with("is an old document, but no workbook;"));
    let doc = patched(
        bytes("tally.xls"),
        &utf16("Workbook\0\0\0\0\0"),
        &utf16("WordDocument\0"),
    );
    assert!(refusal(&doc).starts_with("is an old text document (.doc);"));
    assert!(
        refusal(b"PK\x05\x06\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0").starts_with("is an archive;")
    );
}

#[test]
fn protected_workbooks_of_every_kind_say_so() {
    let name = utf16("EncryptedPackage\0");
    let mut protected = vec![
        bytes("protected.ods"),
        // A workbook of today that is encrypted is a stream in a file of sectors.
        patched(
            bytes("tally.xls"),
            &utf16("Workbook\0\0\0\0\0\0\0\0\0"),
            &name,
        ),
    ];
    // Interface header, one of the first records, turned into the one that begins an encrypted part.
    protected.push(patched(
        bytes("tally.xls"),
        b"\xE1\x00\x02\x00",
        b"\x2F\x00\x02\x00",
    ));
    let mut all = parts(&bytes("tally.ods"));
    all.push(("encrypted-package".to_owned(), vec![1, 2, 3]));
    protected.push(archive(&all));
    for bytes in protected {
        assert_eq!(
            refusal(&bytes),
            "is protected by a password; save it without one, or save the sheet as CSV"
        );
    }
}

#[test]
fn claims_that_would_take_all_memory_are_refused_before_room_is_made() {
    // No room is made for what a list of texts says that it has.
    let texts = changed(
        "tally.xlsx",
        "xl/sharedStrings.xml",
        "uniqueCount=\"",
        "uniqueCount=\"99999999999",
    );
    let as_it_was = read(&bytes("tally.xlsx"), &Options::default()).map(|it| it.joints);
    assert_eq!(
        read(&texts, &Options::default()).map(|it| it.joints),
        as_it_was
    );
    // Many of them, in few bytes.
    let many = changed(
        "tally.xlsx",
        "xl/sharedStrings.xml",
        "</sst>",
        &format!("{}</sst>", "<si/>".repeat(2_000_001)),
    );
    assert!(refusal(&many).contains("it has more than 2000000 shared texts"));
    let far = changed(
        "tally.xlsx",
        "xl/worksheets/sheet1.xml",
        "r=\"A1\"",
        "r=\"ZZZZZ1\"",
    );
    assert!(refusal(&far).contains("is a workbook that cannot be read"));
    // One text of two million letters.
    let long = changed(
        "tally.xlsx",
        "xl/sharedStrings.xml",
        "<si><t",
        &format!("<si><t>{}</t></si><si><t", "x".repeat(2_000_000)),
    );
    assert!(refusal(&long).contains("an element or a text in it is longer than 1048576 bytes"));
    let wide = changed(
        "tally.ods",
        "content.xml",
        "<table:table-row>",
        "<table:table-row table:number-rows-repeated=\"1000000\"><table:table-cell office:value-type=\"float\" \
         office:value=\"1\" table:number-columns-repeated=\"16384\"/></table:table-row><table:table-row>",
    );
    assert!(refusal(&wide).contains("its cells are too many or lie too far apart"));
    // A thousand million letters, in few bytes.
    let long = changed(
        "tally.ods",
        "content.xml",
        "<table:table-row>",
        &format!(
            "<table:table-row table:number-rows-repeated=\"10000\"><table:table-cell office:value-type=\"string\" \
             table:number-columns-repeated=\"10\"><text:p>{}</text:p></table:table-cell></table:table-row><table:table-row>",
            "x".repeat(10_000)
        ),
    );
    assert!(refusal(&long).contains("a sheet holds more than 33554432 bytes of text"));
    let spaces = changed(
        "tally.ods",
        "content.xml",
        "<text:p>",
        "<text:p><text:s text:c=\"99999999999\"/>",
    );
    assert!(refusal(&spaces).contains("a cell of nothing but spaces"));
    // The rows that a sheet claims, at the beginning of that record.
    let rows = patched(
        bytes("tally.xls"),
        b"\x00\x02\x0E\x00\0\0\0\0",
        b"\x00\x02\x0E\x00\0\0\0\0\xFF\xFF\xFF\x7F",
    );
    assert!(refusal(&rows).contains("its cells are too many or lie too far apart"));
}

#[test]
fn two_parts_of_one_name_are_refused() {
    let mut all = parts(&bytes("tally.xlsx"));
    let sheet = all
        .iter()
        .find(|(name, _)| name == "xl/worksheets/sheet1.xml");
    let (_, sheet) = sheet.expect("a sheet").clone();
    // In another case: what writes archives here does not write one name twice.
    all.push(("XL/worksheets/sheet1.xml".to_owned(), sheet));
    let said = refusal(&archive(&all));
    assert!(
        said.contains("it has two parts named `XL/worksheets/sheet1.xml`"),
        "{said}"
    );
    // The same name, by its bytes in the list of parts and before the part itself.
    let same = patched(
        patched(
            archive(&all),
            b"XL/worksheets/sheet1.xml",
            b"xl/worksheets/sheet1.xml",
        ),
        b"XL/worksheets/sheet1.xml",
        b"xl/worksheets/sheet1.xml",
    );
    let said = refusal(&same);
    assert!(
        said.contains("it has two parts named `xl/worksheets/sheet1.xml`"),
        "{said}"
    );
}

#[test]
fn what_makes_the_crate_that_reads_workbooks_panic_is_an_error() {
    // A sheet that begins after its end.
    let rows = patched(
        bytes("tally.xls"),
        b"\x00\x02\x0E\x00\0\0\0\0",
        b"\x00\x02\x0E\x00\xFF\0\0\0",
    );
    for _ in 0..3 {
        assert_eq!(
            refusal(&rows),
            "is a workbook that cannot be read: it is damaged; open it in a spreadsheet program and save it again, or save \
             the sheet as CSV"
        );
    }
}

#[test]
fn elements_that_never_end_and_chains_that_come_round_are_refused() {
    let open = changed("tally.ods", "content.xml", "</office:document-content>", "");
    assert!(refusal(&open).contains("content.xml ends within an element"));
    let renamed = changed(
        "tally.ods",
        "content.xml",
        "</table:table>",
        "</table:tabl>",
    );
    assert!(refusal(&renamed).contains("is a workbook that cannot be read"));
    let mut cut = parts(&bytes("tally.ods"));
    for (name, content) in &mut cut {
        if name == "content.xml" {
            content.truncate(content.len() / 2);
        }
    }
    assert!(refusal(&archive(&cut)).contains("is a workbook that cannot be read"));
    // Every sector follows itself.
    let file = bytes("tally.xls");
    let table = u32::from_le_bytes(file[76..80].try_into().expect("four bytes"));
    let start = (usize::try_from(table).expect("a place") + 1) * 512;
    let mut round = file;
    for sector in 0..128_u32 {
        let at = start + usize::try_from(sector).expect("a place") * 4;
        round[at..at + 4].copy_from_slice(&sector.to_le_bytes());
    }
    assert!(refusal(&round).contains("its sectors are damaged"));
}

#[test]
fn a_workbook_cut_off_anywhere_is_an_error() {
    for name in ["tally.xlsx", "tally.xls", "tally.ods"] {
        let whole = bytes(name);
        for end in (0..whole.len() - 1).step_by(37) {
            // What is missing at the end of an old workbook may be padding.
            if read(&whole[..end], &Options::default()).is_ok() {
                assert!(
                    name == "tally.xls" && end + 1_536 > whole.len(),
                    "{name} {end}"
                );
            }
        }
    }
}

#[test]
fn no_damaged_byte_stops_the_reader() {
    for name in ["tally.xlsx", "tally.xls", "tally.ods"] {
        let whole = bytes(name);
        for at in 0..whole.len() {
            let mut damaged = whole.clone();
            damaged[at] ^= [0xFF, 0x80, 0x01][at % 3];
            // Either is right: what counts is that there is an answer.
            let _ = read(&damaged, &Options::default());
        }
    }
}

proptest! {
    #![proptest_config(laws())]

    #[test]
    fn no_damaged_part_stops_the_reader(
        kind in 0_usize..2,
        part in any::<prop::sample::Index>(),
        slips in prop::collection::vec((any::<prop::sample::Index>(), 0_u8..4, any::<u8>()), 1..6),
    ) {
        let mut all = parts(&bytes(["tally.xlsx", "tally.ods"][kind]));
        let index = part.index(all.len());
        for (place, slip, byte) in slips {
            let content = &mut all[index].1;
            if content.is_empty() {
                continue;
            }
            let at = place.index(content.len());
            match slip {
                0 => content[at] = byte,
                1 => { content.remove(at); }
                2 => content.truncate(at),
                // A digit more makes a count or a place another.
                _ => content.insert(at, b'0' + byte % 10),
            }
        }
        let _ = read(&archive(&all), &Options::default());
    }

    #[test]
    fn no_damage_to_an_old_workbook_stops_the_reader(
        slips in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
    ) {
        let mut damaged = bytes("tally.xls");
        for (place, byte) in slips {
            let at = place.index(damaged.len());
            damaged[at] = byte;
        }
        let _ = read(&damaged, &Options::default());
    }
}
