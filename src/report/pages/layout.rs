//! Where the lines of a record fall on its pages.

use super::model::{Item, Part, Record};

/// The margin at every side, in points.
pub const MARGIN: f32 = 40.0;

/// The distance of two lines of letters of this size.
pub fn line(letters: f32) -> f32 {
    letters * 1.245
}

/// What the title above and the foot below take.
pub const HEAD: f32 = 34.0;
/// The same of the foot.
pub const FOOT: f32 = 46.0;

/// One page.
#[derive(Clone, Debug)]
pub struct Page<'r> {
    /// The title of its part.
    pub title: &'r str,
    /// What is on it.
    pub items: Vec<&'r Item>,
}

/// The height of an item in points.
pub fn height(item: &Item, letters: f32) -> f32 {
    match item {
        Item::Line(..) => line(letters),
        Item::Drawing(drawing) => drawing.size.1 + line(letters),
    }
}

/// The pages of a record: each part begins on a page of its own.
pub fn pages(record: &Record) -> Vec<Page<'_>> {
    let room = record.paper.size().1 - 2.0 * MARGIN - HEAD - FOOT;
    let parts = record.parts.iter();
    parts
        .flat_map(|part| of_part(part, room, record.letters))
        .collect()
}

fn of_part(part: &Part, room: f32, letters: f32) -> Vec<Page<'_>> {
    let mut pages = Vec::new();
    let mut items = Vec::new();
    let mut used = 0.0;
    for item in &part.items {
        let needs = height(item, letters);
        if used + needs > room && !items.is_empty() {
            pages.push(Page {
                title: &part.title,
                items: std::mem::take(&mut items),
            });
            used = 0.0;
        }
        used += needs;
        items.push(item);
    }
    pages.push(Page {
        title: &part.title,
        items,
    });
    pages
}
