//! Where the table is and what its columns hold.

use super::*;

#[test]
fn tables_side_by_side_are_read_one_after_the_other_where_their_numbers_go_on() {
    let text = "Tally of slot K,,,,,\nJt,OAL (m),,Jt,OAL (m),\n1,12.1,,4,12.4,\n2,12.2,,5,12.5,\n3,12.3,,6,12.6,\n\
                Total,36.6,,Total,37.5,\nJt,OAL (m),,Jt,OAL (m),\n7,12.1,,9,12.3,\n8,12.2,,,,\n";
    let whole = tally(text, &Options::default());
    assert_eq!(
        numbers(&whole),
        ["1", "2", "3", "4", "5", "6", "7", "8", "9"]
    );
    assert_eq!(length(&whole), mm(110_700));
    let notes: Vec<String> = whole.notes.iter().map(words::file_note).collect();
    assert_eq!(
        notes,
        ["2 tables side by side are read one after the other, from left to right"]
    );
    assert!(!codes(&whole).contains(&Code::TotalDisagrees));
    // Each page's total is checked against its own table.
    let wrong = tally(&text.replace("37.5", "37.9"), &Options::default());
    assert!(codes(&wrong).contains(&Code::TotalDisagrees));

    let totals = "No,OAL (m),Cum (m),No,OAL (m),Cum (m)\nK1,12.1,12.1,M1,12.3,36.6\nK2,12.2,24.3,M2,12.4,49.0\n";
    assert_eq!(
        numbers(&tally(totals, &Options::default())),
        ["K1", "K2", "M1", "M2"]
    );
}

#[test]
fn tables_side_by_side_that_do_not_go_on_are_a_question() {
    let text = "Jt,OAL (m),Jt,OAL (m)\n1,12.1,1,12.4\n2,12.2,2,12.5\n";
    assert_eq!(
        question(text, &Options::default()),
        "line 1: how are these 2 tables side by side to be read? Neither joint numbers nor running totals go on from \
         each to the next. Read them one after the other with --blocks across, or the first alone with --blocks first \
         (in a job: read = { blocks = \"...\" })"
    );
    let across = tally(text, &options(|it| it.blocks = Some(Blocks::Across)));
    assert_eq!(numbers(&across), ["1", "2", "1", "2"]);
    let first = tally(text, &options(|it| it.blocks = Some(Blocks::First)));
    assert_eq!(numbers(&first), ["1", "2"]);
    assert_eq!(
        words::file_note(&first.notes[0]),
        "the table to the right of the first is not read"
    );
    // Numbers that go on along the rows are followed once it is said that all tables count.
    let by_row = "Jt,OAL (m),Jt,OAL (m)\n1,12.1,2,12.2\n3,12.3,4,12.4\n";
    assert!(question(by_row, &Options::default()).contains("--blocks across"));
    let across = tally(by_row, &options(|it| it.blocks = Some(Blocks::Across)));
    assert_eq!(numbers(&across), ["1", "2", "3", "4"]);
    // A cell of the second table is named by its own column.
    let wrong = question(
        &text.replace("2,12.5", "2,twelve"),
        &options(|it| it.blocks = Some(Blocks::Across)),
    );
    assert!(
        wrong.starts_with("line 3, column 4 (OAL (m)): `twelve`"),
        "{wrong}"
    );
}

#[test]
fn a_title_of_spare_joints_above_a_table_beside_asks_about_it() {
    let text =
        "In the string,,Spare joints,\nJt,OAL (m),Jt,OAL (m)\n1,12.1,3,12.4\n2,12.2,4,12.5\n";
    assert_eq!(
        question(text, &Options::default()),
        "line 1: are the joints under `Spare joints` in the string? It stands above one of 2 tables side by side. \
         Read all of them with --blocks across, or the first alone with --blocks first \
         (in a job: read = { blocks = \"...\" })"
    );
    let first = tally(text, &options(|it| it.blocks = Some(Blocks::First)));
    assert_eq!(numbers(&first), ["1", "2"]);
    let across = tally(text, &options(|it| it.blocks = Some(Blocks::Across)));
    assert_eq!(numbers(&across), ["1", "2", "3", "4"]);
    let page = text.replace("Spare joints", "Page 1");
    assert_eq!(numbers(&tally(&page, &Options::default())).len(), 4);
}

#[test]
fn a_column_named_by_hand_leaves_no_table_beside_it_out() {
    let text = "Jt,OAL (m),Lost (m),Jt,OAL (m),Lost (m)\n1,12.1,0.0,3,12.3,0.15\n2,12.2,0.15,4,12.4,0.15\n";
    let tally = tally(text, &column("loss=Lost (m)"));
    assert_eq!(numbers(&tally), ["1", "2", "3", "4"]);
    assert_eq!(length(&tally), mm(49_000 - 450));
    let by_number = read_as("text", text.as_bytes(), &column("joint=1"));
    assert_eq!(numbers(&by_number), ["1", "2", "3", "4"]);
}

#[test]
fn numbers_that_no_heading_names_are_a_question_beside_joints() {
    let text = "Jt,OAL (m),,\n1,12.1,,0.15\n2,12.2,,0.16\n3,12.3,,0.15\n";
    assert_eq!(
        question(text, &Options::default()),
        "line 2, column 4: what is `0.15`? Numbers stand beside joints in a column that no heading names. If they are \
         not part of the tally confirm the column of lengths with --column length=B; if they are, name that column, \
         such as --column loss=D (in a job: read = { columns = { length = \"B\" } }); of lists side by side --blocks \
         first reads the first alone"
    );
    let named = tally(text, &column("loss=D"));
    assert_eq!(length(&named), mm(36_600 - 310));
    let confirmed = tally(text, &column("length=B"));
    assert_eq!(length(&confirmed), mm(36_600));
    tally(text, &options(|it| it.blocks = Some(Blocks::First)));
    // A column that only numbers the rows, and one of texts, are none.
    for fine in [
        ",Jt,OAL (m)\n1,K7,12.1\n2,K3,12.2\n3,K5,12.3\n",
        "Jt,OAL (m),\n1,12.1,ok\n2,12.2,ok\n",
    ] {
        assert!(tally(fine, &Options::default()).joints.len() > 1);
    }
}

#[test]
fn columns_are_named_by_letter_number_or_heading() {
    let text = "Yard list,invented\nPiece,Mark,Strapped,Swallowed,Said\n1,S1,12.1,0.0,\n2,S2,12.2,0.15,dent\n";
    let by = |joint: &str, length: &str, loss: &str| {
        options(|it| {
            it.units = Some(Unit::Metre);
            it.columns = [
                format!("joint={joint}"),
                format!("length={length}"),
                format!("loss={loss}"),
                "remarks=Said".to_owned(),
            ]
            .iter()
            .map(|text| text.parse().expect("a column"))
            .collect();
        })
    };
    for named in [
        by("A", "C", "D"),
        by("1", "3", "4"),
        by("piece", "Strapped", "swallowed"),
    ] {
        let tally = tally(text, &named);
        assert_eq!(length(&tally), mm(24_150));
        assert_eq!(tally.joints[1].remarks(), Some("dent"));
    }
    // A choice outranks what the headings say.
    let two = "Jt,OAL (m),OAL strapped again (m)\n1,12.1,12.3\n2,12.2,12.4\n";
    assert_eq!(length(&tally(two, &column("length=C"))), mm(24_700));
    let gone = question(two, &column("length=H"));
    assert_eq!(
        gone,
        "no column matches `H`, which is named as the column of length; the header on line 1 has Jt, OAL (m), OAL \
         strapped again (m)"
    );
}

#[test]
fn rows_are_lines_of_the_file_and_the_header_may_lie_outside() {
    let text = "Jt,OAL (m)\n1,12.1\n2,12.2\n3,12.3\nJt,MUL (m),OAL (m)\n1,0.0,11.1\n2,0.1,11.2\n";
    assert!(question(text, &Options::default()).contains("another header"));
    let upper = tally(text, &options(|it| it.rows = "3-4".parse().ok()));
    assert_eq!(length(&upper), mm(24_500));
    let skipped: Vec<(u32, String)> = upper
        .skipped
        .iter()
        .map(|it| (it.line, words::skip_reason(it.why)))
        .collect();
    let outside = "outside the rows that are read";
    assert_eq!(skipped, [2, 5, 6, 7].map(|line| (line, outside.to_owned())));
    let lower = tally(text, &options(|it| it.rows = "6-7".parse().ok()));
    assert_eq!(length(&lower), mm(22_300 - 100));
}

#[test]
fn text_lined_up_by_two_or_more_spaces_is_read_as_columns() {
    let text = "Tally of slot K   invented\n\n\
                Jt     S/N      OAL (m)   MUL (m)   Remarks\n\
                1      S-01      12.100     0.000\n\
                2      S-02      12.200     0.150   box  dented\n\
                3                12.300     0.150\n\
                4      S-04      12.400\n\
                Total            49.000\n\
                Strapped by two hands on the pipe deck\n";
    let tally = read_as("aligned", text.as_bytes(), &Options::default());
    assert_eq!(numbers(&tally), ["1", "2", "3", "4"]);
    assert_eq!(length(&tally), mm(49_000 - 300));
    assert_eq!(tally.joints[1].remarks(), Some("box dented"));
    assert_eq!(tally.joints[2].serial, None);
    assert_eq!(tally.joints[2].line, 6);
    let skipped: Vec<u32> = tally.skipped.iter().map(|it| it.line).collect();
    assert_eq!(skipped, [1, 2, 8, 9]);
    // Two spaces that line nothing up will do where no cell is blank, and no further.
    let in_turn = "Joint No  OAL (m)  MUL (m)\n1  12.1  0.00\n2  12.2  0.15\n";
    let tally = read_as("in turn", in_turn.as_bytes(), &Options::default());
    assert_eq!(length(&tally), mm(24_150));
    let blank = format!("{in_turn}3  12.3\n");
    assert!(
        refusal(blank.as_bytes(), &Options::default()).starts_with("line 4: `12.3` is not under"),
        "{}",
        refusal(blank.as_bytes(), &Options::default())
    );
    // A figure under no heading, and single spaces.
    let crooked = text.replace(
        "2      S-02      12.200     0.150",
        "2      S-02    9  12.200     0.150",
    );
    let said = refusal(crooked.as_bytes(), &Options::default());
    assert!(
        said.starts_with("line 5: `12.200` is not under one heading"),
        "{said}"
    );
    assert_eq!(
        refusal(
            b"Slot K\njoint length_m loss_m\n1 12.1 0\n2 12.2 0.15\n",
            &Options::default()
        ),
        "line 2: the columns are set apart by single spaces, so that nobody can tell where a cell ends; expected two or \
         more spaces, or a comma, semicolon or tab between them"
    );
}

#[test]
fn files_of_another_kind_are_named_for_what_they_are() {
    for (bytes, what) in [
        (
            &b"<html><table><tr><td>Jt</td></tr></table>"[..],
            "a web page (HTML), whatever its name says",
        ),
        (
            b"\xEF\xBB\xBF \n<!DOCTYPE HTML>\n<html>",
            "a web page (HTML), whatever its name says",
        ),
        (
            b"<table border=1><tr><td>Jt",
            "a web page (HTML), whatever its name says",
        ),
        (
            b"<?xml version=\"1.0\"?>\n<html xmlns=\"x\">",
            "a web page (HTML), whatever its name says",
        ),
        (
            b"<?xml version=\"1.0\"?><a/>",
            "an XML document, but no workbook",
        ),
        (
            b"MIME-Version: 1.0\nContent-Type: x\n",
            "a web page saved as one file",
        ),
        (b"%PDF-1.7\n", "a PDF"),
        (b"{\\rtf1 Jt}", "a text document in rich text format (.rtf)"),
        (b"\xFF\xD8\xFF\xE0", "a picture"),
    ] {
        let said = refusal(bytes, &Options::default());
        assert_eq!(
            said,
            format!("is {what}; expected a tally as text or in a workbook (.xlsx, .xls or .ods)")
        );
    }
    let flat = refusal(&shown("plain.fods"), &Options::default());
    assert!(
        flat.starts_with("is a flat open document (.fods), which is not read; save it as .ods;"),
        "{flat}"
    );
    // A name in angle brackets above a tally is a title.
    read_as(
        "title",
        b"<slot K>\nJt,OAL (m)\n1,12.1\n2,12.2\n",
        &Options::default(),
    );
}

#[test]
fn remarks_that_spill_over_are_remarks_and_figures_are_a_question() {
    let text = b"Jt,OAL (m),Remarks\n1,12.1,dent, 3 mm deep, passed\n2,12.2,\n";
    let tally = read_as("spilled", text, &Options::default());
    assert_eq!(tally.joints[0].remarks(), Some("dent, 3 mm deep, passed"));
    // What spills over is looked through as well.
    let rejected = refusal(
        b"Jt,OAL (m),Remarks\n1,12.1,dent, rejected\n2,12.2,\n",
        &Options::default(),
    );
    assert!(
        rejected.contains("line 2 joint 1: `rejected` in column 4"),
        "{rejected}"
    );
    let figures = b"Jt,OAL (m),Remarks\n1,12.1,dent, 12.3\n2,12.2,\n";
    let said = refusal(figures, &Options::default());
    assert_eq!(
        said,
        "line 2, column 4: `12.3` is beyond the last column of the header; expected at most 3 cells (is a comma both \
         separator and decimal mark?); if it belongs to a remark say so with --column remarks=C (in a job: read = { \
         columns = { remarks = \"C\" } })"
    );
    let named = read_as("named", figures, &column("remarks=C"));
    assert_eq!(named.joints[0].remarks(), Some("dent, 12.3"));
}
