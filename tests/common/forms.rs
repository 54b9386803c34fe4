//! One table as text and as workbooks of two kinds.

use std::fmt::Write as _;
use std::io::{Cursor, Write as _};

use rust_xlsxwriter::Workbook;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// The same table in each form that a tally may have: its name and its bytes.
pub fn forms(text: &str) -> [(&'static str, Vec<u8>); 3] {
    let rows = rows(text);
    [
        ("csv", text.as_bytes().to_vec()),
        ("xlsx", xlsx(&rows)),
        ("ods", ods(&rows)),
    ]
}

fn rows(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let cells = |row: csv::StringRecord| row.iter().map(str::to_owned).collect();
    reader
        .records()
        .map(|row| cells(row.expect("a row")))
        .collect()
}

/// What a spreadsheet program would keep as a number.
fn number(text: &str) -> Option<f64> {
    let plain = text
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse().ok().filter(|_| plain && text.contains('.'))
}

fn xlsx(rows: &[Vec<String>]) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, cells) in (0_u32..).zip(rows) {
        for (column, text) in (0_u16..).zip(cells) {
            if let Some(number) = number(text) {
                sheet.write_number(row, column, number).expect("a cell");
            } else if !text.is_empty() {
                sheet.write_string(row, column, text).expect("a cell");
            }
        }
    }
    book.save_to_buffer().expect("a workbook")
}

/// A text as XML has it.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

fn ods(rows: &[Vec<String>]) -> Vec<u8> {
    let mut body = String::new();
    for cells in rows {
        body.push_str("<table:table-row>");
        for text in cells {
            let shown = escaped(text);
            let value = match number(text) {
                Some(number) => format!(" office:value-type=\"float\" office:value=\"{number}\""),
                None => " office:value-type=\"string\"".to_owned(),
            };
            let _ = if text.is_empty() {
                write!(body, "<table:table-cell/>")
            } else {
                write!(
                    body,
                    "<table:table-cell{value}><text:p>{shown}</text:p></table:table-cell>"
                )
            };
        }
        body.push_str("</table:table-row>");
    }
    ods_of(&format!(
        "<table:table table:name=\"Sheet\">{body}</table:table>"
    ))
}

/// An open document with these tables.
pub fn ods_of(tables: &str) -> Vec<u8> {
    const MIME: &str = "application/vnd.oasis.opendocument.spreadsheet";
    let space =
        |name: &str| format!("xmlns:{name}=\"urn:oasis:names:tc:opendocument:xmlns:{name}:1.0\"");
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content {} {} {} {} office:version=\"1.3\">\
         <office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>",
        space("office"),
        space("table"),
        space("text"),
        space("style"),
    );
    let manifest = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\">\
         <manifest:file-entry manifest:full-path=\"/\" manifest:media-type=\"{MIME}\"/></manifest:manifest>"
    );
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, text) in [
        ("mimetype", MIME),
        ("META-INF/manifest.xml", manifest.as_str()),
        ("content.xml", content.as_str()),
    ] {
        archive.start_file(name, stored).expect("a part");
        archive.write_all(text.as_bytes()).expect("a part");
    }
    archive.finish().expect("an archive").into_inner()
}
