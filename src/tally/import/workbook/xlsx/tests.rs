//! Cells as a general reader of workbooks (the crate calamine) gives them, against those read here.

use std::fs;
use std::io::{Cursor, Write as _};
use std::path::Path;

use calamine::{DataRef, Reader, Xlsx};
use compact_str::ToCompactString as _;
use proptest::prelude::*;
use rust_xlsxwriter::{Format, Formula, Workbook, XlsxError};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use super::super::super::cell::{CellValue, SheetMarks, SheetRow};
use super::super::super::error::Problem;
use super::super::cells::{LooseCells, clean, of_moment, of_text};
use super::super::opened::Parts;
use super::XlsxBook;
use crate::laws::laws;

/// A row of a sheet: its number, and what each cell holds and whether a formula gives it.
type Row = (u32, Vec<(CellValue, bool)>);

fn plain(rows: Vec<SheetRow>) -> Vec<Row> {
    let cells = |row: SheetRow| row.cells.into_iter().map(|it| (it.value, it.formula));
    rows.into_iter()
        .map(|row| (row.line, cells(row).collect()))
        .collect()
}

/// The rows of every sheet, as they are read here.
fn own(bytes: &[u8]) -> Result<Vec<(Vec<Row>, SheetMarks)>, Problem> {
    let mut book = XlsxBook::open(Parts::of(bytes)?)?;
    let names: Vec<String> = book.sheets().iter().map(|it| it.name.clone()).collect();
    let mut read = |name: String| {
        let mut loose = LooseCells::default();
        let marks = book.read(&name, &mut loose)?;
        Ok((plain(loose.into_rows()?), marks))
    };
    names.into_iter().map(&mut read).collect()
}

/// The same as the crate reads them.
fn by_the_crate(bytes: &[u8]) -> Vec<Vec<Row>> {
    let mut book = Xlsx::new(Cursor::new(bytes)).expect("a workbook");
    let names = book.sheet_names();
    let read = |name: String| {
        let mut loose = LooseCells::default();
        let mut cells = book.worksheet_cells_reader(&name).expect("a sheet");
        while let Some(cell) = cells.next_cell_with_formula_metadata().expect("a cell") {
            let formula = cell.formula.is_some();
            let value = value(&cell.value, formula);
            loose.add(cell.pos, value, formula).expect("a place");
        }
        plain(loose.into_rows().expect("rows"))
    };
    names.into_iter().map(read).collect()
}

fn value(data: &DataRef<'_>, formula: bool) -> CellValue {
    match data {
        DataRef::Int(number) => CellValue::Number(number.to_compact_string()),
        DataRef::Float(number) => match number.to_string() {
            zero if zero == "-0" => CellValue::Number("0".into()),
            text => CellValue::Number(text.into()),
        },
        DataRef::String(text) => of_text(text, formula),
        DataRef::SharedString(text) => of_text(text, formula),
        DataRef::Bool(truth) => CellValue::Text(if *truth { "TRUE" } else { "FALSE" }.into()),
        DataRef::DateTime(moment) => CellValue::Text(of_moment(moment).into()),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => {
            CellValue::Text(clean(text).as_ref().into())
        }
        DataRef::Error(error) => CellValue::Failed(error.to_compact_string()),
        DataRef::Empty => CellValue::Blank,
    }
}

#[test]
fn every_fixture_has_the_cells_that_a_general_reader_finds() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/workbooks");
    let mut read = 0;
    for file in fs::read_dir(folder).expect("the fixtures") {
        let path = file.expect("a file").path();
        if path.extension().is_some_and(|it| it == "xlsx") {
            let bytes = fs::read(&path).expect("its bytes");
            let own = own(&bytes).expect("a workbook");
            let rows: Vec<Vec<Row>> = own.into_iter().map(|(rows, _)| rows).collect();
            assert_eq!(rows, by_the_crate(&bytes), "{}", path.display());
            read += 1;
        }
    }
    assert!(read > 20, "{read}");
}

/// A workbook with one sheet of this XML, and these shared texts and styles.
fn book_of(sheet: &str, texts: &str, styles: &str) -> Vec<u8> {
    let relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let parts = [
        (
            "_rels/.rels",
            format!(
                "<Relationships><Relationship Id='r' Type='{relation}/officeDocument' Target='xl/workbook.xml'/></Relationships>"
            ),
        ),
        (
            "xl/workbook.xml",
            "<workbook><sheets><sheet name='S' sheetId='1' r:id='a'/></sheets></workbook>"
                .to_owned(),
        ),
        (
            "xl/_rels/workbook.xml.rels",
            format!(
                "<Relationships><Relationship Id='a' Type='{relation}/worksheet' Target='worksheets/sheet1.xml'/>\
                 <Relationship Id='b' Type='{relation}/sharedStrings' Target='/xl/sharedStrings.xml'/>\
                 <Relationship Id='c' Type='{relation}/styles' Target='styles.xml'/></Relationships>"
            ),
        ),
        ("xl/sharedStrings.xml", format!("<sst>{texts}</sst>")),
        (
            "xl/styles.xml",
            format!("<styleSheet>{styles}</styleSheet>"),
        ),
        ("xl/worksheets/sheet1.xml", sheet.to_owned()),
    ];
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        writer
            .start_file(name, SimpleFileOptions::default())
            .expect("a part");
        writer.write_all(text.as_bytes()).expect("its bytes");
    }
    writer.finish().expect("an archive").into_inner()
}

fn rows_of(cells: &str) -> String {
    format!("<worksheet><sheetData>{cells}</sheetData></worksheet>")
}

#[test]
fn cells_in_every_form_of_the_standard_are_what_a_general_reader_finds() {
    let texts = "<si><t>plain</t></si><si/><si><t> kept </t></si><si><t xml:space='preserve'> kept _x0041_</t></si>\
         <si><r><t>rich</t></r><r><rPr><b/></rPr><t xml:space='preserve'> text</t></r><rPh><t>spoken</t></rPh></si>\
         <si><t>a &amp; b&#x2019;s &lt;1&gt;</t></si><si><t><![CDATA[c & d]]></t></si>";
    let styles = "<numFmts><numFmt numFmtId='164' formatCode='yyyy\\-mm\\-dd'/>\
         <numFmt numFmtId='165' formatCode='0.000&quot; d&quot;'/></numFmts>\
         <fonts><font/></fonts><cellXfs><xf numFmtId='0'/><xf numFmtId='164'/><xf numFmtId='165'/><xf numFmtId='46'/></cellXfs>\
         <dxfs><dxf><numFmt numFmtId='0' formatCode='yyyy'/></dxf></dxfs>";
    for cells in [
        "<row r='2'><c r='A2' t='s'><v>0</v></c><c r='C2' t='s'><v>1</v></c><c r='D2' t='s'><v>2</v></c>\
         <c r='E2' t='s'><v>3</v></c><c r='F2' t='s'><v>4</v></c><c r='G2' t='s'><v>5</v></c><c r='H2' t='s'><v>6</v></c></row>",
        // Without places.
        "<row><c><v>1</v></c><c/><c><v>2</v></c></row><row/><row><c t='n'><v>3.5</v></c></row>",
        "<row r='7'><c r='B7'><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>",
        "<row r='1'><c r='A1' t='inlineStr'><is><t>inline</t></is></c>\
         <c r='B1' t='inlineStr'><v>copy</v><is><r><t>in</t></r><r><t>line</t></r></is></c><c r='C1' t='inlineStr'/></row>",
        "<row r='1'><c r='A1'><f>B1+1</f><v>12.190000000000001</v></c><c r='B1' t='str'><f>\"a\"</f><v>a_x000D_b</v></c>\
         <c r='C1'><f t='shared' si='0' ref='C1:D1'>A1</f><v>1</v></c><c r='D1'><f t='shared' si='0'/><v>2</v></c>\
         <c r='E1'><f>A1</f></c><c r='F1' t='e'><f>1/0</f><v>#DIV/0!</v></c><c r='G1' t='e'><v>#N/A</v></c></row>",
        "<row r='1'><c r='A1' t='b'><v>1</v></c><c r='B1' t='b'><v>0</v></c><c r='C1' t='b'><v>true</v></c>\
         <c r='D1' t='d'><v>2026-03-01T08:00:00</v></c><c r='E1'><v>twelve</v></c><c r='F1'><v></v></c></row>",
        "<row r='1'><c r='A1' s='1'><v>45000</v></c><c r='B1' s='2'><v>45000</v></c><c r='C1' s='3'><v>1.5</v></c>\
         <c r='D1' s='0'><v>1E-3</v></c><c r='E1' s='9'><v>45000.5</v></c><c r='F1' s='1' t='s'><v>0</v></c></row>",
        "<row r='1'><c r='A1'><v>012.10</v></c><c r='B1'><v>-0</v></c><c r='C1'><v>123456789012345678</v></c>\
         <c r='D1'><v>0.1000000000000000055</v></c><c r='E1'><v>1e30</v></c><c r='F1'><v>.5</v></c><c r='G1'><v>5.</v></c>\
         <c r='H1'><v>-12.19</v></c><c r='I1'><v>123456789.1234567</v></c><c r='J1'><v>0</v></c><c r='K1'><v>+7</v></c></row>",
        // Rows whose cells alone say where they are.
        "<row><c r='A3'><v>1</v></c><c r='B3'><v>2</v></c></row><row><c r='A4'><v>3</v></c></row><row><c r='B9'><v>4</v></c></row>",
        // Rows and cells out of order.
        "<row r='3'><c r='C3'><v>3</v></c><c r='A3'><v>1</v></c></row><row r='1'><c r='B1'><v>2</v></c></row>",
    ] {
        let bytes = book_of(&rows_of(cells), texts, styles);
        let own = own(&bytes).unwrap_or_else(|problem| panic!("{problem}: {cells}"));
        let own: Vec<Vec<Row>> = own.into_iter().map(|(rows, _)| rows).collect();
        assert_eq!(own, by_the_crate(&bytes), "{cells}");
        assert!(!own[0].is_empty(), "{cells}");
    }
}

#[test]
fn what_is_hidden_struck_through_or_merged_comes_with_the_cells() {
    let texts = "<si><t>whole</t></si><si><r><rPr><strike/></rPr><t>out</t></r><r><t> in</t></r></si>\
         <si><r><rPr><strike val='0'/></rPr><t>in</t></r></si>";
    let styles = "<fonts><font/><font><strike/></font><font><strike val='false'/></font></fonts>\
         <cellXfs><xf fontId='0'/><xf fontId='1'/><xf fontId='2'/></cellXfs>\
         <dxfs><dxf><font><strike/></font></dxf></dxfs>";
    let sheet = "<worksheet><sheetData>\
         <row r='1'><c r='A1' s='1'><v>1</v></c><c r='B1' s='2'><v>1</v></c><c r='C1' s='1'/><c r='D1' s='1'><f>A1</f></c></row>\
         <row r='2' hidden='1'><c r='A2' t='s'><v>0</v></c><c r='B2' t='s'><v>1</v></c><c r='C2' t='s'><v>2</v></c></row>\
         <row r='3' ht='0' customHeight='1'><c r='A3' t='inlineStr'><is><r><rPr><strike/></rPr><t>x</t></r></is></c></row>\
         <row r='4' ht='15'><c r='A4'><v>2</v></c></row><row hidden='true'/><row r='9' hidden='0' ht='0.0'/><row hidden='1'><c r='A12'><v>1</v></c></row>\
         </sheetData><autoFilter ref='A2:C3'/><mergeCells><mergeCell ref='B3:B5'/><mergeCell ref='A1:C1'/></mergeCells></worksheet>";
    let bytes = book_of(sheet, texts, styles);
    let (_, marks) = own(&bytes).expect("a workbook").remove(0);
    let hidden: Vec<(u32, bool)> = marks.hidden.into_iter().collect();
    assert_eq!(
        hidden,
        [(2, false), (3, true), (5, false), (9, false), (12, false)]
    );
    let struck: Vec<(u32, usize)> = marks.struck.into_iter().collect();
    assert_eq!(struck, [(1, 0), (2, 1), (3, 0)]);
    let merged: Vec<((usize, u32), u32)> = marks.merged.into_iter().collect();
    assert_eq!(merged, [((1, 3), 5)]);
}

#[test]
fn what_is_no_sheet_says_what_is_wrong() {
    let long = "x".repeat(2_000_000);
    for (sheet, said) in [
        (
            rows_of("<row r='2'><c r='A3'><v>1</v></c></row>"),
            "its cell A3 lies in row 2",
        ),
        (
            rows_of("<row r='2'><c r='2A'><v>1</v></c></row>"),
            "`2A` is no place of a row or a cell",
        ),
        (
            rows_of("<row r='2'><c r='B'><v>1</v></c></row>"),
            "`B` is no place of a row or a cell",
        ),
        (
            rows_of("<row r='0'><c><v>1</v></c></row>"),
            "`0` is no place of a row or a cell",
        ),
        (
            rows_of("<row r='two'/>"),
            "`two` is no place of a row or a cell",
        ),
        (
            rows_of("<row r='1'><c r=A1><v>1</v></c></row>"),
            "attribute value",
        ),
        (
            rows_of("<row r='1'><c r='B1' t='s'><v>1</v></c></row>"),
            "its cell B1 refers to the shared text `1`, which is not in its list",
        ),
        (
            rows_of("<row r='1'><c r='B1' t='s'><v>-1</v></c></row>"),
            "its cell B1 refers to the shared text `-1`, which is not in its list",
        ),
        (
            rows_of("<row r='1'><c r='B1' t='n'><v>12,19</v></c></row>"),
            "its cell B1 holds `12,19`, which is no number",
        ),
        (
            rows_of("<row r='1'><c r='B1' t='n'><v>1e400</v></c></row>"),
            "its cell B1 holds `1e400`, which is no number",
        ),
        (
            rows_of("<row r='1'><c r='B1' t='b'><v>2</v></c></row>"),
            "its cell B1 holds `2`, which is no truth",
        ),
        (
            rows_of("<row r='1'><c r='B1' t='z'><v>2</v></c></row>"),
            "`z` is no kind of cell",
        ),
        (
            rows_of("<row r='1'><c r='A1'><v>1</v></c></rows>"),
            "expected",
        ),
        (
            "<worksheet><sheetData><row r='1'>".to_owned(),
            "ends within an element",
        ),
        ("<worksheet/>".to_owned(), "a sheet of it has no cells"),
        (
            rows_of("<row r='1'><c r='A1' t='str'><v>&unknown;</v></c></row>"),
            "`&unknown;` in it stands for no letter",
        ),
        (
            rows_of(&format!(
                "<row r='1'><c r='A1' t='str'><v>{long}</v></c></row>"
            )),
            "an element or a text in it is longer than 1048576 bytes",
        ),
        (
            rows_of(&format!(
                "<row r='1'><c r='A1' s='{long}'><v>1</v></c></row>"
            )),
            "an element or a text in it is longer than 1048576 bytes",
        ),
    ] {
        let problem = own(&book_of(&sheet, "<si><t>one</t></si>", "")).expect_err("no sheet");
        let shown: String = sheet.chars().take(120).collect();
        assert!(problem.to_string().contains(said), "{problem}: {shown}");
    }
}

/// What a cell of a made workbook holds.
#[derive(Clone, Debug)]
enum Made {
    Nothing,
    Number(f64),
    Formatted(f64, &'static str),
    Text(String),
    Rich(String, String),
    Truth(bool),
    Formula(&'static str, String),
}

fn made() -> impl Strategy<Value = Made> {
    let formats = prop::sample::select(vec![
        "General",
        "0.000",
        "#,##0.00 \"m\"",
        "yyyy-mm-dd",
        "[$-409]d/m/yyyy;@",
        "h:mm AM/PM",
        "[h]:mm:ss",
        "[mm]:ss",
        "0.00;dd",
        "\\d0.0",
        "_d0.0",
        "[Red]0.00",
        "# ??/??",
        "0.00E+00",
        "@",
        "m/d/yy h:mm",
    ]);
    let number = |text: String| text.parse::<f64>().expect("a number");
    let numbers = prop_oneof![
        "-?[1-9][0-9]{0,3}\\.[0-9]{3}".prop_map(number),
        any::<f64>().prop_filter("a number", |it| it.is_finite()),
        (0_u32..100_000).prop_map(f64::from),
        // What computing in binary leaves behind.
        "[1-9][0-9]\\.[0-9]{2}(0{12}[1-9]|9{12}[1-9])".prop_map(number),
    ];
    let texts = "[ -~\n\t\u{e9}\u{85}\u{1F600}_x0D]{0,24}";
    let results = prop::sample::select(vec![
        "12.19", "", "0", "#DIV/0!", "#N/A", "box up", "1e3", " 7 ", "TRUE",
    ]);
    prop_oneof![
        Just(Made::Nothing),
        numbers.clone().prop_map(Made::Number),
        (numbers, formats).prop_map(|(number, format)| Made::Formatted(number, format)),
        texts.prop_map(Made::Text),
        ("[ -~]{1,8}", "[ -~\u{e9}]{1,8}").prop_map(|(first, then)| Made::Rich(first, then)),
        any::<bool>().prop_map(Made::Truth),
        (prop::sample::select(vec!["=A1+1", "=\"a\"&\"b\""]), results)
            .prop_map(|(formula, result)| Made::Formula(formula, result.to_owned())),
    ]
}

fn workbook(rows: &[Vec<Made>]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let (bold, plain) = (Format::new().set_bold(), Format::new());
    for (row, cells) in (0_u32..).zip(rows) {
        for (column, cell) in (0_u16..).zip(cells) {
            match cell {
                Made::Nothing => {}
                Made::Number(number) => {
                    sheet.write(row, column, *number)?;
                }
                Made::Formatted(number, format) => {
                    let format = Format::new().set_num_format(*format);
                    sheet.write_with_format(row, column, *number, &format)?;
                }
                Made::Text(text) => {
                    sheet.write(row, column, text)?;
                }
                Made::Rich(first, then) => {
                    let runs = [(&bold, first.as_str()), (&plain, then.as_str())];
                    sheet.write_rich_string(row, column, &runs)?;
                }
                Made::Truth(truth) => {
                    sheet.write(row, column, *truth)?;
                }
                Made::Formula(formula, result) => {
                    sheet.write(row, column, Formula::new(*formula).set_result(result))?;
                }
            }
        }
    }
    book.save_to_buffer()
}

proptest! {
    #![proptest_config(laws())]

    #[test]
    fn a_made_workbook_has_the_cells_that_a_general_reader_finds(
        rows in prop::collection::vec(prop::collection::vec(made(), 0..6), 0..8),
    ) {
        let bytes = workbook(&rows).expect("a workbook");
        let own = own(&bytes).expect("that is read");
        let own: Vec<Vec<Row>> = own.into_iter().map(|(rows, _)| rows).collect();
        prop_assert_eq!(own, by_the_crate(&bytes));
    }
}
