//! What is made for drawing and costs more than drawing it: kept until it would come out otherwise.

use std::cell::RefCell;
use std::rc::Rc;

/// What was made last, with what it was made for.
#[derive(Clone, Debug)]
pub struct Kept<K, T>(RefCell<Option<(K, Rc<T>)>>);

impl<K, T> Default for Kept<K, T> {
    fn default() -> Self {
        Self(RefCell::new(None))
    }
}

impl<K: PartialEq, T> Kept<K, T> {
    /// What was made for the same, or made now.
    pub fn get(&self, of: K, make: impl FnOnce() -> T) -> Rc<T> {
        let kept = self.0.borrow().as_ref().and_then(|(it, made)| {
            let is_same = *it == of;
            is_same.then(|| Rc::clone(made))
        });
        kept.unwrap_or_else(|| {
            let new = Rc::new(make());
            self.0.replace(Some((of, Rc::clone(&new))));
            new
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_made_is_kept_until_it_is_wanted_for_something_else() {
        let kept = Kept::default();
        let made = |of| *kept.get(of, || of * 2);
        assert_eq!([made(3), made(4), made(3)], [6, 8, 6]);
        assert_eq!(*kept.get(3, || 99), 6);
    }
}
