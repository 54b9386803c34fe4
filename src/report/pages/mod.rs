//! The printable record: pages of lines and drawings, and their forms as text, HTML, PDF, SVG and rows.

mod cards;
mod csv;
mod html;
mod layout;
mod model;
mod parts;
mod pdf;
mod profile;
mod sketch;
mod svg;
mod text;

pub use cards::{Card, cards};
pub use csv::rows;
pub use html::html;
pub use model::{Drawing, Paper, Record};
pub use parts::{Choice, record};
pub use pdf::{PdfError, pdf};
pub use profile::profile;
pub use svg::svg;
pub use text::text;
