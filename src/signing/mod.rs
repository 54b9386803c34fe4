//! Hold points: what is missing for the next one, what a statement signs, and whether signatures stand.
//!
//! A statement is a plain text; its signature is one of OpenSSH's, so that `ssh-keygen -Y verify` accepts
//! it without this program. [`Statement`] is what one says, [`verify`] recomputes its figures from the
//! files of now and the journal of then, [`missing`] says what a hold point lacks. No files and no
//! sentences here.

mod draft;
mod figures;
mod keys;
mod open_items;
mod readiness;
mod release;
mod statement;
mod verify;

pub use draft::{Asked, NotSigned, Signatory, SignedDraft, lacks};
pub use figures::{SignedFigure, signed_figures};
pub use keys::{KeyError, NAMESPACE, SecretKey, signer_of};
pub use open_items::open_items;
pub use readiness::{Missing, NextHold, missing, next_hold};
pub use release::note_signatures;
pub use statement::{FIGURES, INPUTS, NotAStatement, Statement};
pub use verify::{Invalid, Moved, SignatureState, Verified, verify};
