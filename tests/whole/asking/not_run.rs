//! Rows that may not be in the string: rejected, hidden, struck through or under a merged word.

use std::fmt::Write as _;

use super::*;

#[test]
fn rows_that_may_not_be_in_the_string_are_left_out_or_counted_and_flagged() {
    assert_eq!(
        question(REJECTED, &Options::default()),
        "were these run? line 4 joint 3: column 5 says `no`; line 5 joint 4: `laid down` in column 6; \
         line 6 joint 5 (spare): `spare` in column 1. Leave them out with --not-run leave-out, or count them with \
         --not-run count (in a job: read = { not_run = \"...\" })"
    );
    let left = tally(REJECTED, &options(|it| it.not_run = Some(NotRun::LeaveOut)));
    assert_eq!(numbers(&left), ["1", "2", "6"]);
    assert_eq!(length(&left), mm(36_900 - 300));
    let skipped: Vec<(u32, String)> = left
        .skipped
        .iter()
        .map(|it| (it.line, words::skip_reason(it.why)))
        .collect();
    assert_eq!(
        skipped,
        [
            (4, "left out as not run: column 5 says `no`".to_owned()),
            (5, "left out as not run: `laid down` in column 6".to_owned()),
            (6, "left out as not run: `spare` in column 1".to_owned()),
        ]
    );
    let counted = tally(REJECTED, &options(|it| it.not_run = Some(NotRun::Count)));
    assert_eq!(length(&counted), mm(74_100 - 750));
    assert_eq!(
        said(&counted, Code::RowsDoubted),
        [
            "3 rows are counted although they may not have been run: 3 (line 4): column 5 says `no`; \
          4 (line 5): `laid down` in column 6; 5 (spare) (line 6): `spare` in column 1"
        ]
    );
    assert!(said(&left, Code::RowsDoubted).is_empty());
}

#[test]
fn rows_that_are_hidden_filtered_or_struck_through_are_asked_about() {
    for kind in ["xlsx", "ods"] {
        let plain = read_as(kind, &shown(&format!("plain.{kind}")), &Options::default());
        assert_eq!((plain.joints.len(), plain.notes.len()), (8, 0), "{kind}");
        for (name, sign, joints) in [
            ("hidden", "the row is hidden", 2),
            ("filtered", "the row is filtered out", 2),
            ("struck", "struck through", 2),
            ("part", "struck through", 1),
        ] {
            let bytes = shown(&format!("{name}.{kind}"));
            let second = format!("; line 5 joint C-04: {sign}");
            let second = if joints == 2 { &second } else { "" };
            assert_eq!(
                refusal(&bytes, &Options::default()),
                format!(
                    "were these run? line 4 joint C-03: {sign}{second}. Leave them out with --not-run leave-out, or \
                     count them with --not-run count (in a job: read = {{ not_run = \"...\" }})"
                ),
                "{name}.{kind}"
            );
            for (answer, left) in [(NotRun::LeaveOut, 8 - joints), (NotRun::Count, 8)] {
                let tally = read_as(name, &bytes, &options(|it| it.not_run = Some(answer)));
                assert_eq!(tally.joints.len(), left, "{name}.{kind}");
                let flagged = codes(&tally).contains(&Code::RowsDoubted);
                assert_eq!(flagged, answer == NotRun::Count, "{name}.{kind}");
            }
        }
    }
}

#[test]
fn an_old_workbook_says_that_nobody_looked_for_what_is_hidden_in_it() {
    for name in ["plain", "hidden", "struck"] {
        let old = read_as(name, &shown(&format!("{name}.xls")), &Options::default());
        assert_eq!(old.joints.len(), 8);
        let notes: Vec<String> = old.notes.iter().map(words::file_note).collect();
        assert_eq!(
            notes,
            [
                "hidden or filtered rows and lengths that are struck through were not looked for in this workbook (in .xls \
              they never are)"
            ]
        );
    }
}

#[test]
fn styles_by_column_row_and_inheritance_strike_through_in_an_open_document() {
    let style = |name: &str, rest: &str| {
        format!(
            "<style:style style:name=\"{name}\" style:family=\"table-cell\"{rest}</style:style>"
        )
    };
    let strikes = "<style:text-properties style:text-line-through-style=\"solid\"/>";
    let not = "<style:text-properties style:text-line-through-style=\"none\"/>";
    let styles = format!(
        "{}{}{}",
        style("struck", &format!(">{strikes}")),
        style("heir", " style:parent-style-name=\"struck\">"),
        style(
            "plain",
            &format!(" style:parent-style-name=\"struck\">{not}")
        )
    );
    let cell = |text: &str, style: &str| {
        format!(
            "<table:table-cell office:value-type=\"string\"{style}><text:p>{text}</text:p></table:table-cell>"
        )
    };
    let row = |attributes: &str, joint: &str, style: &str| {
        format!(
            "<table:table-row{attributes}>{}{}</table:table-row>",
            cell(joint, " table:style-name=\"plain\""),
            cell("12.1", style)
        )
    };
    let named = |name: &str| format!(" table:style-name=\"{name}\"");
    let by_row = " table:default-cell-style-name=\"struck\"";
    let table = format!(
        "<table:table table:name=\"S\"><table:table-column/><table:table-column table:default-cell-style-name=\"heir\"/>\
         <table:table-row>{}{}</table:table-row>{}{}{}{}{}\
         <table:table-row table:number-rows-repeated=\"1000000\" table:visibility=\"collapse\"><table:table-cell/></table:table-row>\
         </table:table>",
        cell("joint", &named("plain")),
        cell("length (m)", &named("plain")),
        row("", "1", &named("plain")),
        row("", "2", ""),
        row(by_row, "3", ""),
        row("", "4", &named("heir")),
        row("", "5", &named("plain")),
    );
    // The body is ended and begun again, so that the styles come before it.
    let bytes = ods_of(&format!(
        "</office:spreadsheet></office:body><office:automatic-styles>{styles}</office:automatic-styles><office:body><office:spreadsheet>{table}"
    ));
    let said = refusal(&bytes, &Options::default());
    assert!(
        said.starts_with(
            "were these run? line 3 joint 2: struck through; line 4 joint 3: struck through; line 5 joint 4: struck \
             through. Leave"
        ),
        "{said}"
    );
}

/// Five joints, of which a text beside the second is merged over so many rows.
fn merged(text: &str, rows: u16) -> [(&'static str, Vec<u8>); 2] {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let mut table = String::new();
    for (column, heading) in (0_u16..).zip(["Jt", "OAL (m)", "Remarks"]) {
        sheet.write_string(0, column, heading).expect("a cell");
        let _ = write!(
            table,
            "<table:table-cell office:value-type=\"string\"><text:p>{heading}</text:p></table:table-cell>"
        );
    }
    table = format!("<table:table-row>{table}</table:table-row>");
    for joint in 1..=5_u16 {
        let (row, length) = (u32::from(joint), 12.0 + f64::from(joint) / 8.0);
        sheet.write_number(row, 0, joint).expect("a cell");
        sheet.write_number(row, 1, length).expect("a cell");
        let remark = match joint {
            2 => format!(
                "<table:table-cell office:value-type=\"string\" table:number-rows-spanned=\"{rows}\"><text:p>{text}</text:p></table:table-cell>"
            ),
            _ if joint > 2 && joint < 2 + rows => "<table:covered-table-cell/>".to_owned(),
            _ => "<table:table-cell/>".to_owned(),
        };
        let _ = write!(
            table,
            "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>{joint}</text:p></table:table-cell>\
             <table:table-cell office:value-type=\"float\" office:value=\"{length}\"/>{remark}</table:table-row>"
        );
    }
    let format = rust_xlsxwriter::Format::new();
    sheet
        .merge_range(2, 2, 1 + u32::from(rows), 2, text, &format)
        .expect("cells");
    let table = format!("<table:table table:name=\"Sheet\">{table}</table:table>");
    [
        ("xlsx", book.save_to_buffer().expect("a workbook")),
        ("ods", ods_of(&table)),
    ]
}

#[test]
fn a_word_in_a_cell_that_is_merged_over_rows_is_a_sign_of_each() {
    for (form, bytes) in merged("REJECTED", 3) {
        assert_eq!(
            refusal(&bytes, &Options::default()).split(". Leave").next(),
            Some(
                "were these run? line 3 joint 2: `rejected` in column 3; line 4 joint 3: `rejected` in column 3; \
                 line 5 joint 4: `rejected` in column 3"
            ),
            "{form}"
        );
    }
    for (form, bytes) in merged("strapped twice", 3) {
        assert_eq!(
            read_as(form, &bytes, &Options::default()).joints.len(),
            5,
            "{form}"
        );
    }
}

#[test]
fn a_merged_cell_beside_another_table_is_read_in_its_own() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (column, heading) in (0_u16..).zip(["Jt", "OAL (m)", "Remarks", "Jt", "OAL (m)", "Remarks"])
    {
        sheet.write_string(0, column, heading).expect("a cell");
    }
    for joint in 1..=6_u16 {
        let (row, column) = if joint <= 3 {
            (joint, 0)
        } else {
            (joint - 3, 3)
        };
        sheet
            .write_number(row.into(), column, joint)
            .expect("a cell");
        let length = 12.0 + f64::from(joint) / 8.0;
        sheet
            .write_number(row.into(), column + 1, length)
            .expect("a cell");
    }
    let format = rust_xlsxwriter::Format::new();
    sheet
        .merge_range(1, 5, 2, 5, "laid out", &format)
        .expect("cells");
    let bytes = book.save_to_buffer().expect("a workbook");
    assert_eq!(
        refusal(&bytes, &Options::default()).split(". Leave").next(),
        Some(
            "were these run? line 2 joint 4: `laid out` in column 6; line 3 joint 5: `laid out` in column 6"
        )
    );
}
