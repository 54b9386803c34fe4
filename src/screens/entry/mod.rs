//! Entering: the list of events, and the form of one.

mod form;
mod update;
mod view;

pub use form::{Field, Form, Stage};
pub use update::{
    accept, answered, is_person, leave, next_person, offered, open, strike, turn, turn_choice,
};
pub use view::{form as draw_form, menu as draw_menu};
