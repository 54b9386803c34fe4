//! What keys do while a statement is read and signed.

use super::state::{Secret, SignStage, Signing, ToSign};
use super::view::{lines, rows};
use crate::job::{Hold, Role};
use crate::report::said::Said;
use crate::report::{Shown, shown, words};
use crate::screens::action::Effect;
use crate::screens::movement::Movement;
use crate::screens::overlay::Overlay;
use crate::screens::state::{LEAST, State};
use crate::signing::{Asked, lacks};

/// Where OpenSSH keeps a key of this kind.
const USUAL_KEY: &str = "~/.ssh/id_ed25519";

/// Opens the statement of a hold point of the slot in front, for the person who enters.
pub fn open(state: &mut State, hold: Hold, role: Role) {
    let Some(person) = state.person.clone() else {
        state.message = Some(Said::WhoSigns);
        return;
    };
    let asked = Asked {
        slot: state.slot_index(),
        hold,
        role,
    };
    let lacks = lacks(&state.inputs, &state.figures, asked, &person);
    if let Some(lack) = lacks.first() {
        state.message = Some(Said::NotSigned(words::missing(lack)));
        return;
    }
    let Some(shown) = shown_now(state, asked, &person, false) else {
        return;
    };
    state.overlay = Overlay::Sign(Box::new(Signing {
        slot: state.slot.clone(),
        hold,
        role,
        person,
        on_paper: false,
        shown,
        stage: SignStage::Reading(0),
    }));
}

/// The statement with the time of the clock; `None` before the driver has said it.
fn shown_now(state: &State, asked: Asked, person: &str, on_paper: bool) -> Option<Shown> {
    let now = state.now.as_ref()?;
    Some(shown(
        &state.inputs,
        &state.figures,
        asked,
        (person, on_paper),
        now,
    ))
}

fn asked(state: &State, of: &Signing) -> Option<Asked> {
    Some(Asked {
        slot: state.index_of(&of.slot)?,
        hold: of.hold,
        role: of.role,
    })
}

/// On paper, or with a key again: the statement says which, so it is shown from its beginning.
pub fn on_paper(state: &mut State) {
    let Overlay::Sign(of) = state.overlay.clone() else {
        return;
    };
    let asked = asked(state, &of);
    let on_paper = !of.on_paper;
    let Some(shown) = asked.and_then(|asked| shown_now(state, asked, &of.person, on_paper)) else {
        return;
    };
    state.overlay = Overlay::Sign(Box::new(Signing {
        on_paper,
        shown,
        stage: SignStage::Reading(0),
        ..*of
    }));
}

/// Moves through the statement.
pub fn step(state: &mut State, movement: Movement) {
    let places = places(state);
    if let Overlay::Sign(of) = &mut state.overlay
        && let SignStage::Reading(at) = &mut of.stage
    {
        *at = movement.from(*at, places);
    }
}

/// How many places there are to scroll to.
fn places(state: &State) -> usize {
    let Overlay::Sign(of) = &state.overlay else {
        return 1;
    };
    (lines(state, of).len() + 1)
        .saturating_sub(rows(state))
        .max(1)
}

/// Enter: the next page of a statement; what was typed of the key is taken. Nothing is signed in a window in which
/// it cannot be read.
pub fn accept(state: &mut State) -> Vec<Effect> {
    let (last, page) = (places(state) - 1, rows(state).saturating_sub(1).max(1));
    let is_readable = state.size.0 >= LEAST.0 && state.size.1 >= LEAST.1;
    let Overlay::Sign(of) = &mut state.overlay else {
        return Vec::new();
    };
    match &of.stage {
        _ if !is_readable => {}
        SignStage::Reading(at) => of.stage = SignStage::Reading((at + page).min(last)),
        SignStage::KeyFile(typed, usual) => {
            let typed = typed.trim();
            let file = if typed.is_empty() { usual } else { typed }.to_owned();
            state.key_files.insert(of.person.clone(), file.clone());
            of.stage = SignStage::Passphrase(file, Secret::default());
        }
        SignStage::Passphrase(file, secret) => {
            let key = Some((file.clone(), secret.clone()));
            return vec![to_sign(of, key)];
        }
        SignStage::Changed => {
            state.overlay = Overlay::None;
        }
    }
    Vec::new()
}

/// From the end of a statement that was read on to the key, or to the signature on paper: a key of its own, so that
/// nobody signs by one Enter too many.
pub fn sign(state: &mut State) -> Vec<Effect> {
    let last = places(state) - 1;
    let is_readable = state.size.0 >= LEAST.0 && state.size.1 >= LEAST.1;
    let Overlay::Sign(of) = &mut state.overlay else {
        return Vec::new();
    };
    match of.stage {
        SignStage::Reading(at) if at < last || !is_readable => {
            state.message = Some(Said::ReadFirst);
        }
        SignStage::Reading(_) if of.on_paper => return vec![to_sign(of, None)],
        SignStage::Reading(_) => {
            let usual = state.key_files.get(&of.person).cloned();
            let usual = usual.unwrap_or_else(|| USUAL_KEY.to_owned());
            of.stage = SignStage::KeyFile(String::new(), usual);
        }
        _ => {}
    }
    Vec::new()
}

fn to_sign(of: &Signing, key: Option<(String, Secret)>) -> Effect {
    Effect::Sign(Box::new(ToSign {
        slot: of.slot.clone(),
        hold: of.hold,
        role: of.role,
        person: of.person.clone(),
        shown: of.shown.clone(),
        key,
    }))
}

/// What is typed, where something is.
pub fn typed_mut(of: &mut Signing) -> Option<&mut String> {
    match &mut of.stage {
        SignStage::Reading(_) | SignStage::Changed => None,
        SignStage::KeyFile(typed, _) => Some(typed),
        SignStage::Passphrase(_, secret) => Some(secret.as_mut()),
    }
}

/// A stage back; whether that leaves the statement.
pub fn back(state: &mut State) -> bool {
    let last = places(state) - 1;
    let Overlay::Sign(of) = &mut state.overlay else {
        return false;
    };
    match &of.stage {
        SignStage::Reading(_) | SignStage::Changed => return true,
        SignStage::KeyFile(..) => of.stage = SignStage::Reading(last),
        SignStage::Passphrase(file, _) => {
            of.stage = SignStage::KeyFile(String::new(), file.clone());
        }
    }
    false
}

/// What the driver said of a signature: signed, the statement is closed; else the passphrase is typed again.
pub fn answered(state: &mut State, said: &Said) {
    match (said, &mut state.overlay) {
        (Said::Signed { .. }, Overlay::Sign(_)) => state.overlay = Overlay::None,
        (Said::NotSigned(_), Overlay::Sign(of)) => {
            if let SignStage::Passphrase(_, secret) = &mut of.stage {
                *secret = Secret::default();
            }
        }
        _ => {}
    }
}

/// After the files were read again: a statement that says something else by now cannot be signed.
pub fn refresh(state: &mut State) {
    let Overlay::Sign(of) = &state.overlay else {
        return;
    };
    let now = asked(state, of).map(|asked| {
        let who = (of.person.as_str(), of.on_paper);
        shown(&state.inputs, &state.figures, asked, who, &of.shown.at)
    });
    // It stays until Enter or Esc: letters of a passphrase must not become keys of the screen behind it.
    if now.as_ref() != Some(&of.shown)
        && let Overlay::Sign(of) = &mut state.overlay
    {
        of.stage = SignStage::Changed;
    }
}
