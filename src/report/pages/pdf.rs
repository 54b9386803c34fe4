//! The record as PDF: the same bytes from the same inputs, text that can be selected and searched.

use krilla::Document;
use krilla::color::luma;
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};
use thiserror::Error;

use super::layout::{FOOT, HEAD, MARGIN, Page, height, line as line_of, pages};
use super::model::{Anchor, Drawing, Item, Record, Shape, Style};

/// The letters: every glyph of Latin, Greek and Cyrillic names, of one width. Free to embed (assets/LICENSE).
const PLAIN: &[u8] = include_bytes!("../../../assets/DejaVuSansMono.ttf");
const BOLD: &[u8] = include_bytes!("../../../assets/DejaVuSansMono-Bold.ttf");

/// The width of every letter, of its size: 1233 of 2048 units in these fonts.
const ADVANCE: f32 = 1233.0 / 2048.0;

/// Why there is no PDF.
#[derive(Clone, Debug, Error)]
pub enum PdfError {
    /// The letters cannot be used.
    #[error("the letters of the program cannot be read")]
    Letters,
    /// The page has no size.
    #[error("a page cannot be begun")]
    Paper,
    /// It could not be put together.
    #[error("the PDF could not be put together: {0}")]
    Failed(String),
}

struct Letters {
    plain: Font,
    bold: Font,
}

/// The record as PDF.
pub fn pdf(record: &Record) -> Result<Vec<u8>, PdfError> {
    let font = |bytes: &[u8]| Font::new(bytes.to_vec().into(), 0).ok_or(PdfError::Letters);
    let letters = Letters {
        plain: font(PLAIN)?,
        bold: font(BOLD)?,
    };
    let mut document = Document::new();
    let all = pages(record);
    let count = all.len();
    for (number, page) in (1..).zip(&all) {
        let settings = PageSettings::from_wh(record.paper.size().0, record.paper.size().1)
            .ok_or(PdfError::Paper)?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        draw(&mut surface, &letters, record, page, (number, count));
        surface.finish();
        sheet.finish();
    }
    document
        .finish()
        .map_err(|error| PdfError::Failed(format!("{error:?}")))
}

fn draw(
    surface: &mut Surface<'_>,
    letters: &Letters,
    record: &Record,
    page: &Page<'_>,
    (number, count): (usize, usize),
) {
    let ((wide, high), size) = (record.paper.size(), record.letters);
    let step = line_of(size);
    write(
        surface,
        &letters.bold,
        (MARGIN, MARGIN + 9.0),
        11.0,
        &record.title,
    );
    write(
        surface,
        &letters.plain,
        (MARGIN, MARGIN + 22.0),
        9.0,
        page.title,
    );
    let mut y = MARGIN + HEAD;
    for item in &page.items {
        match item {
            Item::Line(line, style) => {
                if *style == Style::Band {
                    let width = wide - 2.0 * MARGIN + 8.0;
                    fill(surface, (MARGIN - 4.0, y), (width, step), 216);
                }
                let letters = match style {
                    Style::Band | Style::Heading => &letters.bold,
                    Style::Plain => &letters.plain,
                };
                write(surface, letters, (MARGIN, y + size * 0.955), size, line);
            }
            Item::Drawing(drawing) => shapes(surface, letters, drawing, (MARGIN, y + step / 2.0)),
        }
        y += height(item, size);
    }
    let mut y = high - MARGIN - FOOT + 14.0;
    line(surface, (MARGIN, y - 8.0), (wide - MARGIN, y - 8.0), 0.5, 0);
    for foot in &record.foot {
        write(surface, &letters.plain, (MARGIN, y), 7.0, foot);
        y += 9.0;
    }
    let of = format!("page {number} of {count}");
    let x = wide - MARGIN - width(&of, 7.0);
    write(surface, &letters.plain, (x, y), 7.0, &of);
}

/// The width of a text.
#[expect(clippy::cast_precision_loss, reason = "a line has few letters")]
fn width(text: &str, size: f32) -> f32 {
    text.chars().count() as f32 * ADVANCE * size
}

fn write(surface: &mut Surface<'_>, font: &Font, at: (f32, f32), size: f32, text: &str) {
    if text.is_empty() {
        return;
    }
    surface.set_stroke(None);
    surface.set_fill(Some(Fill {
        paint: luma::Color::new(0).into(),
        ..Fill::default()
    }));
    let at = Point::from_xy(at.0, at.1);
    surface.draw_text(at, font.clone(), size, text, false, TextDirection::Auto);
}

fn fill(surface: &mut Surface<'_>, at: (f32, f32), size: (f32, f32), ink: u8) {
    let Some(area) = Rect::from_xywh(at.0, at.1, size.0.max(0.1), size.1.max(0.1)) else {
        return;
    };
    let mut path = PathBuilder::new();
    path.push_rect(area);
    surface.set_stroke(None);
    surface.set_fill(Some(Fill {
        paint: luma::Color::new(ink).into(),
        ..Fill::default()
    }));
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

fn line(surface: &mut Surface<'_>, from: (f32, f32), to: (f32, f32), width: f32, ink: u8) {
    let mut path = PathBuilder::new();
    path.move_to(from.0, from.1);
    path.line_to(to.0, to.1);
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke {
        paint: luma::Color::new(ink).into(),
        width,
        ..Stroke::default()
    }));
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

fn shapes(surface: &mut Surface<'_>, letters: &Letters, drawing: &Drawing, at: (f32, f32)) {
    let place = |point: (f32, f32)| (at.0 + point.0, at.1 + point.1);
    for shape in &drawing.shapes {
        match shape {
            Shape::Line {
                from,
                to,
                width,
                ink,
            } => line(surface, place(*from), place(*to), *width, *ink),
            Shape::Box { at, size, ink } => fill(surface, place(*at), *size, *ink),
            Shape::Text {
                at,
                size,
                anchor,
                text,
                is_bold,
            } => {
                let wide = width(text, *size);
                let (x, y) = place(*at);
                let x = match anchor {
                    Anchor::Start => x,
                    Anchor::Middle => x - wide / 2.0,
                    Anchor::End => x - wide,
                };
                let font = if *is_bold {
                    &letters.bold
                } else {
                    &letters.plain
                };
                write(surface, font, (x, y), *size, text);
            }
        }
    }
}
