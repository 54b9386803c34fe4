//! Workbooks in XML, as ECMA-376 part 1 (Office Open XML) has them. Each sheet is gone through once: for
//! its cells, and for what is hidden or struck through in it.

mod book;
mod places;
mod rich_text;
mod sheet;
mod styles;
mod texts;

#[cfg(test)]
mod tests;

pub(super) use book::XlsxBook;
