//! What several screens are drawn with.

pub mod canvas;
pub mod chrome;
pub mod digits;
pub mod flags;
pub mod help;
pub mod how;
pub mod kept;
pub mod list;
pub mod pen;
pub mod surface;
pub mod table;
pub mod texts;
