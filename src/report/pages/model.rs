//! The printable record as a value: pages of lines and drawings, before any of its forms.

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// As all else.
    Plain,
    /// A heading.
    Heading,
    /// What may not be overlooked: black on a grey band.
    Band,
}

/// A line of text, or a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// One line of at most so many columns as its part has.
    Line(String, Style),
    /// A drawing to scale.
    Drawing(Drawing),
}

/// A part of the record that begins on a page of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its title, which stands on each of its pages.
    pub title: String,
    /// Columns of a line.
    pub columns: usize,
    /// What it holds.
    pub items: Vec<Item>,
}

/// The whole record.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// The title of the job.
    pub title: String,
    /// Its parts.
    pub parts: Vec<Part>,
    /// What stands at the foot of every page.
    pub foot: Vec<String>,
    /// The size of its letters in points.
    pub letters: f32,
    /// The paper.
    pub paper: Paper,
}

/// The paper that is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 by 11 in (ANSI/ASME Y14.1).
    Letter,
}

impl Paper {
    /// Width and height in points.
    pub const fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.0, 842.0),
            Self::Letter => (612.0, 792.0),
        }
    }

    /// The name in a style sheet.
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

/// The size of the letters of the record, and of a sheet for the wall.
pub const LETTERS: f32 = 9.0;
/// The same of a sheet for the wall.
pub const LARGE: f32 = 11.5;
/// Columns of a sheet for the wall.
pub const LARGE_COLUMNS: usize = 74;

/// Columns of a page.
pub const WIDTH: usize = 95;

/// Where the text of a drawing is anchored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// At its beginning.
    Start,
    /// At its middle.
    Middle,
    /// At its end.
    End,
}

/// One shape of a drawing. Lengths are in points (1/72 in), from the upper left corner, y downward; ink is a
/// grey from 0 (black) to 255.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A line.
    Line {
        /// From.
        from: (f32, f32),
        /// To.
        to: (f32, f32),
        /// Its width.
        width: f32,
        /// Its ink.
        ink: u8,
    },
    /// A filled rectangle.
    Box {
        /// Its upper left corner.
        at: (f32, f32),
        /// Width and height.
        size: (f32, f32),
        /// Its ink.
        ink: u8,
    },
    /// A text.
    Text {
        /// The anchor's place on the base line.
        at: (f32, f32),
        /// The size of its letters.
        size: f32,
        /// Where it is anchored.
        anchor: Anchor,
        /// What it says.
        text: String,
        /// Whether it is bold.
        is_bold: bool,
    },
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it shows, for those who cannot see it.
    pub title: String,
    /// Width and height in points.
    pub size: (f32, f32),
    /// Its shapes, the lowest first.
    pub shapes: Vec<Shape>,
}

impl Drawing {
    /// An empty drawing.
    pub fn new(title: String, size: (f32, f32)) -> Self {
        Self {
            title,
            size,
            shapes: Vec::new(),
        }
    }

    /// Adds a line.
    pub fn line(&mut self, from: (f32, f32), to: (f32, f32), width: f32, ink: u8) {
        self.shapes.push(Shape::Line {
            from,
            to,
            width,
            ink,
        });
    }

    /// Adds a filled rectangle.
    pub fn fill(&mut self, at: (f32, f32), size: (f32, f32), ink: u8) {
        self.shapes.push(Shape::Box { at, size, ink });
    }

    /// Adds a text.
    pub fn text(&mut self, at: (f32, f32), size: f32, anchor: Anchor, text: impl Into<String>) {
        self.shapes.push(Shape::Text {
            at,
            size,
            anchor,
            text: text.into(),
            is_bold: false,
        });
    }

    /// Adds a bold text.
    pub fn bold(&mut self, at: (f32, f32), size: f32, anchor: Anchor, text: impl Into<String>) {
        self.shapes.push(Shape::Text {
            at,
            size,
            anchor,
            text: text.into(),
            is_bold: true,
        });
    }
}

impl Part {
    /// A part without anything in it yet.
    pub fn new(title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            columns: WIDTH,
            items: Vec::new(),
        }
    }

    /// The same in large letters.
    pub fn large(title: impl Into<String>) -> Self {
        Self {
            columns: LARGE_COLUMNS,
            ..Self::new(title)
        }
    }

    /// Adds an empty line.
    pub fn space(&mut self) {
        self.push("", Style::Plain);
    }

    /// Adds lines of text, each broken where it is too long.
    pub fn lines(&mut self, text: &str) {
        for line in text.lines() {
            self.styled(line, Style::Plain);
        }
    }

    /// Adds a heading.
    pub fn heading(&mut self, text: &str) {
        if !self.items.is_empty() {
            self.items.push(Item::Line(String::new(), Style::Plain));
        }
        self.styled(text, Style::Heading);
    }

    /// Adds a line that may not be overlooked.
    pub fn band(&mut self, text: &str) {
        self.styled(text, Style::Band);
    }

    fn styled(&mut self, line: &str, style: Style) {
        let lead = line.len() - line.trim_start().len();
        let indent = " ".repeat((lead + 2).min(30));
        let mut rest = String::new();
        for word in line.split_inclusive(' ') {
            let width = rest.chars().count() + word.trim_end().chars().count();
            if width > self.columns && !rest.trim().is_empty() {
                self.push(&rest, style);
                rest.clone_from(&indent);
            }
            rest.push_str(word);
            // A word that is longer than a line.
            while rest.chars().count() > self.columns + 1 {
                let (first, more): (String, String) = (
                    rest.chars().take(self.columns).collect(),
                    rest.chars().skip(self.columns).collect(),
                );
                self.push(&first, style);
                rest = format!("{indent}{more}");
            }
        }
        self.push(&rest, style);
    }

    fn push(&mut self, line: &str, style: Style) {
        self.items
            .push(Item::Line(line.trim_end().to_owned(), style));
    }

    /// Adds a drawing.
    pub fn draw(&mut self, drawing: Drawing) {
        self.items.push(Item::Drawing(drawing));
    }
}

#[cfg(test)]
mod tests {
    use super::{Item, Part, WIDTH};

    #[test]
    fn no_line_is_wider_than_the_page_and_nothing_is_lost() {
        let words = "a word ".repeat(40) + &"x".repeat(300) + " and the end";
        let mut part = Part::new("t");
        part.lines(&format!("  - {words}"));
        let lines: Vec<&str> = part
            .items
            .iter()
            .map(|item| match item {
                Item::Line(line, _) => line.as_str(),
                Item::Drawing(_) => "",
            })
            .collect();
        assert!(lines.len() > 5);
        for line in &lines {
            assert!(line.chars().count() <= WIDTH, "{line}");
        }
        let plain = |text: &str| text.split_whitespace().collect::<String>();
        assert_eq!(plain(&lines.concat()), plain(&format!("- {words}")));
    }
}
