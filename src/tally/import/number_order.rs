//! What joint numbers tell of the order of a page.

use compact_str::CompactString;

use super::cell_text::bare_number;
use super::order_signs::OrderSign;
use crate::tally::glance::Run;
use crate::tally::joint::{Kind, split_number};
use crate::tally::model::Order;

/// Joint numbers as they are read: rising from 1 are shoe first, falling to 1 top first. Landing joints have
/// numbers of their own, and a list with several beginnings of numbers says nothing.
#[derive(Debug, Default)]
pub(super) struct NumberOrder {
    first: Option<(CompactString, u64)>,
    last: u64,
    numbers: Run<u64>,
    several: bool,
    says_nothing: bool,
}

impl NumberOrder {
    pub(super) fn take(&mut self, text: &str, kind: Option<Kind>) {
        if self.says_nothing || kind == Some(Kind::Landing) {
            return;
        }
        let number = bare_number(text);
        // SHOE, TOP and RJ stand in place of a number.
        if !number.ends_with(|c: char| c.is_ascii_digit()) && Kind::from_word(number).is_some() {
            return;
        }
        match (split_number(number), &self.first) {
            // Pups may have numbers of their own, also the first.
            (Some((prefix, _)), None) if Kind::names_a_pup(prefix) => {}
            (Some((prefix, number)), None) => {
                self.first = Some((prefix.into(), number));
                self.go_on(number);
            }
            (Some((prefix, number)), Some((beginning, _))) if beginning == prefix => {
                self.several = true;
                self.go_on(number);
            }
            _ if Kind::names_a_pup(text) => {}
            _ => self.says_nothing = true,
        }
    }

    fn go_on(&mut self, number: u64) {
        self.numbers.take(number);
        self.last = number;
    }

    /// The order that they tell.
    pub(super) fn order(&self) -> Option<(Order, OrderSign)> {
        let (_, first) = self.first.as_ref()?;
        if self.says_nothing || !self.several {
            return None;
        }
        if self.numbers.rises && *first == 1 {
            Some((Order::ShoeFirst, OrderSign::NumbersRise(self.last)))
        } else if self.numbers.falls && self.last == 1 {
            Some((Order::TopFirst, OrderSign::NumbersFall(*first)))
        } else {
            None
        }
    }
}
