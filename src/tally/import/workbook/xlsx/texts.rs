//! The texts that cells share.

use std::collections::BTreeSet;

use quick_xml::events::Event;

use super::super::super::damage::WorkbookDamage;
use super::super::super::error::Problem;
use super::super::limits::{MAX_TEXT, MAX_TEXTS, broken, too_much_text};
use super::super::opened::PartReader;
use super::super::parts::{local_name, whole_elements};
use super::rich_text::RichText;

/// The texts that cells share, one after the other.
#[derive(Debug, Default)]
pub(super) struct SharedTexts {
    all: String,
    /// Where each ends.
    ends: Vec<u32>,
    /// Those of which a part is struck through.
    struck: BTreeSet<usize>,
}

impl SharedTexts {
    /// Reads the list.
    pub(super) fn read(part: &mut PartReader<'_>) -> Result<Self, Problem> {
        let mut texts = Self::default();
        let mut text = RichText::default();
        let mut is_open = false;
        whole_elements(part, |event| {
            match event {
                Event::Start(element) if local_name(element.name()) == "si" => {
                    text.clear();
                    is_open = true;
                }
                Event::End(element) if local_name(element.name()) == "si" => {
                    is_open = false;
                    texts.push(&text)?;
                }
                _ if is_open => text.take(event)?,
                _ => {}
            }
            Ok(())
        })?;
        Ok(texts)
    }

    fn push(&mut self, text: &RichText) -> Result<(), Problem> {
        if text.is_struck {
            self.struck.insert(self.ends.len());
        }
        self.all.push_str(text.text());
        if self.all.len() > MAX_TEXT {
            return Err(too_much_text(MAX_TEXT));
        }
        if self.ends.len() >= MAX_TEXTS {
            return Err(broken(WorkbookDamage::ManyTexts(MAX_TEXTS)));
        }
        // Bounded just above.
        self.ends
            .push(u32::try_from(self.all.len()).unwrap_or(u32::MAX));
        Ok(())
    }

    /// A text by its number, and whether a part of it is struck through.
    pub(super) fn get(&self, number: usize) -> Option<(&str, bool)> {
        let at = |end: u32| usize::try_from(end).unwrap_or(usize::MAX);
        let end = at(*self.ends.get(number)?);
        let before = number
            .checked_sub(1)
            .and_then(|before| self.ends.get(before));
        let text = self.all.get(before.map_or(0, |it| at(*it))..end)?;
        let is_struck = !self.struck.is_empty() && self.struck.contains(&number);
        Some((text, is_struck))
    }
}
