//! `kerfmark sign JOB --slot NAME --hold HOLD --role ROLE`

use std::io::{self, IsTerminal, Write as _};
use std::path::Path;

use super::args::SignOptions;
use super::copying::Copying;
use super::done::Done;
use super::error::CliError;
use crate::figures::of_inputs;
use crate::folder::{Book, EnterError, now, read_bytes};
use crate::job::{Hold, Role, Slot};
use crate::journal::Inputs;
use crate::report::{self, Shown, words};
use crate::signing::{
    Asked, KeyError, NotSigned, SecretKey, Signatory, Statement, lacks, missing, next_hold, verify,
};

pub(super) fn run(options: &SignOptions) -> Result<Done, CliError> {
    let mut book = Book::open(&options.job)?;
    let role = Role::from(options.role);
    let asked_by = |inputs: &Inputs, name: &str| -> Result<Vec<(usize, Hold)>, CliError> {
        Ok(if options.all_ready {
            ready(inputs, role, name)
        } else {
            vec![(slot_of(inputs, options)?, hold_of(options)?)]
        })
    };
    let mut before = None;
    if let Some(name) = holder_at_terminal(options, book.inputs()) {
        let all = asked_by(book.inputs(), &name)?;
        let shown = show(book.inputs(), &all, role, &name)?;
        // Signing the first of several changes what the next one rests on.
        before = shown.filter(|_| all.len() == 1);
    }
    let signatory = signatory(options, book.inputs())?;
    let signatory = match signatory {
        Ok(signatory) => signatory,
        Err(why) => return Ok(refused(vec![why])),
    };
    let asked = asked_by(book.inputs(), &signatory.name)?;
    if asked.is_empty() {
        return Ok(refused(vec![words::NOTHING_READY.to_owned()]));
    }
    let mut text = String::new();
    for (slot, hold) in asked {
        let asked = Asked { slot, hold, role };
        let made = book.sign(now, |inputs, seq, now| {
            report::sign(inputs, seq, asked, (&signatory, before.as_ref()), now)
        })?;
        match made {
            Ok(entry) => {
                let file = Statement::file_name(
                    entry.event.slot().unwrap_or_default(),
                    hold,
                    role,
                    entry.seq,
                );
                text.push_str(&words::signed(&file, entry.seq));
                if signatory.key.is_none() {
                    let statement = book.inputs().signed_files.iter();
                    let mut statement = statement.filter(|it| it.name == file);
                    let bytes = statement.next().map(|it| it.text.clone());
                    let plain = String::from_utf8(bytes.unwrap_or_default()).unwrap_or_default();
                    text.push_str(&plain);
                    text.push('\n');
                    text.push_str(&report::pen_line(&plain));
                }
            }
            Err(NotSigned::Missing(lacks)) => {
                let name = slot_name(book.inputs(), slot);
                text.push_str(&words::not_signed(&name, hold));
                for lack in &lacks {
                    text.push_str(&words::listed(&words::missing(lack)));
                }
                return Ok(Done {
                    stop: true,
                    ..Done::text(text)
                });
            }
            Err(NotSigned::Key(error)) => return Err(CliError::Signing(error)),
            Err(NotSigned::Entry(problems)) => return Err(EnterError::Event(problems).into()),
            Err(NotSigned::Changed) => return Ok(refused(vec![words::CHANGED.to_owned()])),
        }
    }
    Ok(Done {
        remarks: Copying::start(&options.job).end().into_iter().collect(),
        ..Done::text(text)
    })
}

/// Whose key it is, where a person at a terminal signs with one: the statement is shown before the passphrase is
/// asked for. A script reads it in the file.
fn holder_at_terminal(options: &SignOptions, inputs: &Inputs) -> Option<String> {
    let is_person = io::stdin().is_terminal() && io::stdout().is_terminal();
    let file = options.key.as_ref().filter(|_| is_person)?;
    let bytes = read_bytes(file).ok()?;
    let signers = inputs.signers.as_ref().map_or("", |(text, _)| text);
    SecretKey::holder(&String::from_utf8_lossy(&bytes), signers)
}

/// Prints the statements that lack nothing, and gives the last of them.
fn show(
    inputs: &Inputs,
    asked: &[(usize, Hold)],
    role: Role,
    name: &str,
) -> Result<Option<Shown>, CliError> {
    let figures = of_inputs(inputs);
    let mut last = None;
    for (slot, hold) in asked {
        let asked = Asked {
            slot: *slot,
            hold: *hold,
            role,
        };
        if lacks(inputs, &figures, asked, name).is_empty() {
            let shown = report::shown(inputs, &figures, asked, (name, false), &now());
            writeln!(io::stdout(), "{}", shown.text).map_err(CliError::Output)?;
            last = Some(shown);
        }
    }
    Ok(last)
}

/// A list of what is missing, and exit status 1.
fn refused(lines: Vec<String>) -> Done {
    Done {
        complaints: lines,
        stop: true,
        ..Done::text(String::new())
    }
}

/// Who signs; why nobody does, where the key is not one that counts.
fn signatory(
    options: &SignOptions,
    inputs: &Inputs,
) -> Result<Result<Signatory, String>, CliError> {
    let Some(file) = &options.key else {
        let name = options.by.clone().ok_or(CliError::PaperBy)?;
        return Ok(Ok(Signatory { name, key: None }));
    };
    let bytes = read_bytes(file).map_err(|problem| CliError::EventsFile {
        file: file.clone(),
        problem: Box::new(problem),
    })?;
    let text = String::from_utf8_lossy(&bytes);
    let key = match SecretKey::read(&text, || passphrase(file)) {
        Ok(key) => key,
        Err(error @ (KeyError::NeedsPassphrase | KeyError::WrongPassphrase)) => {
            return Ok(Err(format!("{}: {error}", file.display())));
        }
        Err(error) => {
            let file = file.clone();
            return Err(CliError::Key { file, error });
        }
    };
    let signers = inputs.signers.as_ref().map_or("", |(text, _)| text);
    let Some(name) = key.name(signers) else {
        return Ok(Err(words::unknown_key(&key.fingerprint())));
    };
    let key = Some(key);
    Ok(Ok(Signatory { name, key }))
}

/// The passphrase: of the environment, else asked for at the terminal.
fn passphrase(file: &Path) -> Option<String> {
    if let Ok(passphrase) = std::env::var("KERFMARK_PASSPHRASE") {
        return Some(passphrase);
    }
    if !io::stdin().is_terminal() {
        return None;
    }
    rpassword::prompt_password(format!("passphrase of {}: ", file.display())).ok()
}

fn slot_of(inputs: &Inputs, options: &SignOptions) -> Result<usize, CliError> {
    let name = options.slot.as_deref().unwrap_or_default();
    let mut slots = inputs.job.slots.iter();
    slots
        .position(|slot| slot.name == name)
        .ok_or_else(|| CliError::NoSlot {
            slot: name.to_owned(),
            slots: inputs.job.slots.iter().map(|it| it.name.clone()).collect(),
        })
}

fn hold_of(options: &SignOptions) -> Result<Hold, CliError> {
    options.hold.map(Hold::from).ok_or(CliError::HoldMissing)
}

fn slot_name(inputs: &Inputs, slot: usize) -> String {
    let slot: Option<&Slot> = inputs.job.slots.get(slot);
    slot.map_or_else(String::new, |slot| slot.name.clone())
}

/// Every slot whose next hold point lacks nothing but this signature.
fn ready(inputs: &Inputs, role: Role, person: &str) -> Vec<(usize, Hold)> {
    let figures = of_inputs(inputs);
    let verified = verify(inputs);
    let slots = 0..inputs.job.slots.len();
    slots
        .filter_map(|slot| {
            let next = next_hold(inputs, &verified, slot)?;
            let lacks = missing(
                inputs,
                &figures,
                &verified,
                (slot, next.hold),
                (Some(role), Some(person)),
            );
            lacks.is_empty().then_some((slot, next.hold))
        })
        .collect()
}
