//! The record as one HTML file: no scripts, no links to anything outside; it prints as it is read.

use std::fmt::Write as _;

use super::layout::pages;
use super::model::{Item, Record, Style};
use super::svg::{escaped, svg};

const STYLES: &str = "body{font-family:monospace;font-size:9pt;line-height:1.25;margin:2em;color:#000;background:#fff}\
section{border-bottom:1px solid #999;padding:1em 0;page-break-after:always}\
pre{margin:0;font:inherit;white-space:pre-wrap}h1{font-size:12pt}h2{font-size:10pt}\
.heading{font-weight:bold}.band{font-weight:bold;background:#d8d8d8;border:1.5px solid #000;padding:.2em .4em}\
.foot{color:#000;margin-top:1em;border-top:1px solid #000}\
@media print{body{margin:0}section{border:0}}";

/// The record as HTML.
pub fn html(record: &Record) -> String {
    let all = pages(record);
    let title = escaped(&record.title);
    let mut text = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n<style>{STYLES}body{{font-size:{}pt}}@page{{size:{};margin:14mm}}</style>\n</head>\n<body>\n",
        record.letters,
        record.paper.name()
    );
    let count = all.len();
    for (number, page) in (1..).zip(&all) {
        // Writing into memory cannot fail.
        let _ = writeln!(
            text,
            "<section>\n<h1>{title}</h1>\n<h2>{}</h2>",
            escaped(page.title)
        );
        for item in &page.items {
            match item {
                Item::Line(line, style) => {
                    let class = match style {
                        Style::Plain => "",
                        Style::Heading => " class=\"heading\"",
                        Style::Band => " class=\"band\"",
                    };
                    let _ = writeln!(text, "<pre{class}>{}</pre>", escaped(line));
                }
                Item::Drawing(drawing) => text.push_str(&svg(drawing)),
            }
        }
        text.push_str("<pre class=\"foot\">");
        for line in &record.foot {
            let _ = writeln!(text, "{}", escaped(line));
        }
        let _ = writeln!(text, "page {number} of {count}</pre>\n</section>");
    }
    text.push_str("</body>\n</html>\n");
    text
}
