//! Drawings as SVG.

use std::fmt::Write as _;

use super::model::{Anchor, Drawing, Shape};

/// A text with the signs of markup written out.
pub fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            other => safe.push(other),
        }
    }
    safe
}

/// A drawing as an SVG element of its size in millimetres, so that it prints to scale.
pub fn svg(drawing: &Drawing) -> String {
    let (width, height) = drawing.size;
    let mm = |points: f32| points * 25.4 / 72.0;
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{:.3}mm\" height=\"{:.3}mm\" viewBox=\"0 0 {width:.2} {height:.2}\" font-family=\"monospace\">\n<title>{}</title>\n",
        mm(width),
        mm(height),
        escaped(&drawing.title)
    );
    for shape in &drawing.shapes {
        // Writing into memory cannot fail.
        let _ = match shape {
            Shape::Line {
                from,
                to,
                width,
                ink,
            } => writeln!(
                text,
                "<line x1=\"{:.2}\" y1=\"{:.2}\" x2=\"{:.2}\" y2=\"{:.2}\" stroke-width=\"{width:.2}\" stroke=\"{}\"/>",
                from.0,
                from.1,
                to.0,
                to.1,
                grey(*ink)
            ),
            Shape::Box { at, size, ink } => writeln!(
                text,
                "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"{}\"/>",
                at.0,
                at.1,
                size.0,
                size.1,
                grey(*ink)
            ),
            Shape::Text {
                at,
                size,
                anchor,
                text: words,
                is_bold,
            } => {
                let anchor = match anchor {
                    Anchor::Start => "start",
                    Anchor::Middle => "middle",
                    Anchor::End => "end",
                };
                let weight = if *is_bold { "bold" } else { "normal" };
                writeln!(
                    text,
                    "<text x=\"{:.2}\" y=\"{:.2}\" font-size=\"{size:.2}\" text-anchor=\"{anchor}\" font-weight=\"{weight}\">{}</text>",
                    at.0,
                    at.1,
                    escaped(words)
                )
            }
        };
    }
    text.push_str("</svg>\n");
    text
}

fn grey(ink: u8) -> String {
    format!("#{ink:02x}{ink:02x}{ink:02x}")
}
