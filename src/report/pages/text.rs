//! The record as text: the same lines, a form feed between pages.

use std::fmt::Write as _;

use super::layout::{Page, pages};
use super::model::{Item, Record};

/// The record as text.
pub fn text(record: &Record) -> String {
    let all = pages(record);
    let count = all.len();
    let of_page = |(number, page): (usize, &Page<'_>)| {
        let mut text = format!("{}\n{}\n\n", record.title, page.title);
        for item in &page.items {
            match item {
                Item::Line(line, _) => text.push_str(line),
                Item::Drawing(drawing) => {
                    let _ = write!(text, "[{}]", drawing.title);
                }
            }
            text.push('\n');
        }
        text.push('\n');
        for line in &record.foot {
            text.push_str(line);
            text.push('\n');
        }
        let _ = writeln!(text, "page {number} of {count}");
        text
    };
    let texts: Vec<String> = (1..).zip(&all).map(of_page).collect();
    texts.join("\u{c}")
}
