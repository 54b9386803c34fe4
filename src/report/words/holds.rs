//! Hold points: what is missing, and why a signature counts for nothing.

use crate::figures::{CutPlace, LeftOut, SlotFigures};
use crate::finding::Code;
use crate::job::{Hold, Role};
use crate::journal::{AtRim, Said};
use crate::measure::{Excerpt, Length, LengthFormat};
use crate::signing::{Invalid, Missing, Moved, SignatureState, Verified};

/// What a hold point lacks.
pub fn missing(missing: &Missing) -> String {
    let names = |codes: &[Code]| {
        let names: Vec<&str> = codes.iter().map(|code| code.name()).collect();
        names.join(", ")
    };
    match missing {
        Missing::NotUsed => {
            "this job does not use it: expected it in [holds], and [roles] that sign".to_owned()
        }
        Missing::JournalBroken => {
            "the journal is not whole: nothing is signed until that is cleared up".to_owned()
        }
        Missing::Before(hold, role) => format!(
            "{} is not signed as {}, or that signature does not stand",
            hold.name(),
            role.name()
        ),
        Missing::SignedAlready(name) => {
            format!(
                "{} has signed it in this role already, and it stands",
                Excerpt::of(name)
            )
        }
        Missing::TwoRoles(name, role) => format!(
            "{} has signed it as {}: no person signs in two roles",
            Excerpt::of(name),
            role.name()
        ),
        Missing::RoleNotHeld(name, role) => format!(
            "{} does not hold the role {} in [roles] of job.toml",
            Excerpt::of(name),
            role.name()
        ),
        Missing::NotOfRole(role) => {
            format!("the role {} does not sign this hold point", role.name())
        }
        Missing::NoStickUp => "no stick-up is read".to_owned(),
        Missing::CutAlready => "the conductor is cut already".to_owned(),
        Missing::Stops(codes) => format!("it is stopped: {}", names(codes)),
        Missing::Checks(codes) => format!("neither cleared nor waived: {}", names(codes)),
        Missing::Planned => {
            "the string is not landed: no stick-up is read, and the elevations are planned"
                .to_owned()
        }
        Missing::NoScribe => "no line is scribed: enter `scribe`".to_owned(),
        Missing::NoTwoMarks => {
            "the line is not measured from two marks that share no reading, by two persons"
                .to_owned()
        }
        Missing::CheckedByFirst(name) => format!(
            "the line was checked by {}, who measured it first: expected another person",
            Excerpt::of(name)
        ),
        Missing::MarkUnknown(mark) => format!(
            "the line was measured from {}, which is no mark of this cut",
            Excerpt::of(mark)
        ),
        Missing::NoStickUpAfter(until) => {
            format!("no stick-up at rest was read from {until} on, when it may be slacked off")
        }
        Missing::NoAsCut => "the finished top is not surveyed: enter `as-cut`".to_owned(),
        Missing::Outside => "the finished top is outside its tolerance".to_owned(),
        Missing::Unproven(codes) if codes.is_empty() => {
            "the finished top is not proven to be within its tolerance".to_owned()
        }
        Missing::Unproven(codes) => format!(
            "the finished top is not proven to be within its tolerance, and that is not waived: {}",
            names(codes)
        ),
    }
}

/// Why a signature counts for nothing.
pub const fn invalid(invalid: Invalid) -> &'static str {
    match invalid {
        Invalid::NoStatement => "its statement is not in signed/",
        Invalid::Altered => "its statement was changed since it was signed",
        Invalid::NotOfEntry => "its statement does not say what its entry says",
        Invalid::NoEntry => "the journal has no entry of it",
        Invalid::HeadGone => "the journal does not have the entry that was its head",
        Invalid::NoSignature => "there is no signature beside it",
        Invalid::NotASignature => "what is beside it is not a signature of OpenSSH",
        Invalid::UnknownSigner => "`signers` does not have this name for this program",
        Invalid::OtherKey => "it is signed with another key than that of this name",
        Invalid::NotOfThisText => "the signature is not one of this statement",
        Invalid::RoleNotHeld => "the name does not hold this role",
        Invalid::TwoRoles => "the same person signed it in another role before",
        Invalid::NoSlot => "the job does not have its slot",
    }
}

/// What is weaker about a signature on paper.
pub const ON_PAPER: &str = "on paper, not proven by a key";

/// What a journal cannot show.
pub const TAIL: &str =
    "what was cut off its end after the last signature or printed head cannot be known";

/// Nothing is ready to be signed.
pub const NOTHING_READY: &str = "no slot is ready for its next hold point in this role; `kerfmark figures` lists what each lacks";

/// That a hold point was not signed; what it lacks follows.
pub fn not_signed(slot: &str, hold: Hold) -> String {
    format!(
        "slot {}, {}: not signed, nothing is written. It lacks:\n",
        Excerpt::of(slot),
        hold.name()
    )
}

/// That a statement was signed.
pub fn signed(file: &str, entry: u64) -> String {
    format!("signed: {file} (entry {entry})\n")
}

/// That a key is nobody's.
pub fn unknown_key(fingerprint: &str) -> String {
    format!(
        "the key {fingerprint} is not in `signers` for the namespace kerfmark: expected a line such as NAME namespaces=\"kerfmark\" ssh-ed25519 AAAA..."
    )
}

/// A hold point as people say it.
pub const fn hold(hold: Hold) -> &'static str {
    match hold {
        Hold::TallyFrozen => "tally frozen",
        Hold::Landed => "landed",
        Hold::CutRelease => "cut release",
        Hold::OffCutLift => "off-cut lift",
        Hold::Final => "final",
    }
}

/// What the crane must lift at the off-cut's lift: what is known, and what must be added.
pub fn lift(place: &CutPlace) -> String {
    let partial = if place.offcut_mass_is_partial {
        " without its connectors"
    } else {
        ""
    };
    format!(
        "LIFT MASS NOT KNOWN; steel alone {:.0} kg{partial}; add fluid, cement, fittings, rigging",
        place.offcut_mass
    )
}

/// Where the blade is set, above the scribed line.
pub fn blade(set: Option<&Said<Vec<AtRim<Length>>>>, show: LengthFormat) -> String {
    let readings = || set.into_iter().flat_map(|set| &set.what).map(|it| it.value);
    match (set, readings().min(), readings().max()) {
        (Some(set), Some(low), Some(high)) => format!(
            "from {} to {} above the line, {} readings (entry {} by {})",
            show.difference(low),
            show.difference(high),
            set.what.len(),
            set.seq,
            set.by
        ),
        _ => "NOT SET TO THE LINE by any entry".to_owned(),
    }
}

/// What a statement on this hold point does not claim.
pub fn not_claimed(hold: Hold, figures: &SlotFigures) -> Vec<String> {
    let mut lines = vec![
        "that the readings are right: the program computes with what it is told".to_owned(),
        "that anything may be cut or lifted: the permit, the lifting plan and the responsible person's instructions decide; local codes and licensed practice apply".to_owned(),
        "that no entry was cut off the end of the journal after the head named above".to_owned(),
    ];
    if hold == Hold::OffCutLift {
        lines.push("that the off-cut is held by crane or block before the blade starts, or that it is vented, drained and gas-tested (common practice): see the permit".to_owned());
        lines.extend(figures.cut.place.as_ref().map(lift));
    }
    lines
}

/// What an expected hook load leaves out.
pub const fn left_out(what: LeftOut) -> &'static str {
    match what {
        LeftOut::Fluid => "fluid inside other than the sea's",
        LeftOut::Drag => "drag and waves",
        LeftOut::Connectors => "connectors (connector_mass is not given)",
        LeftOut::Block => "block and tool (rig.block_mass is not given)",
        LeftOut::Frame => "the frame (frame.weight is not given)",
    }
}

/// What a statement on paper begins with.
pub const BY_PEN: &str =
    "Signed on paper: this text is printed, and the line for the pen is the signature.\n";

/// The line for the pen, with the digest of the statement.
pub fn pen_line(digest: &str) -> String {
    format!(
        "SHA-256 of the statement: {digest}\n\nSignature: ______________________________   Date and time: ____________________\n"
    )
}

/// Every hold point is passed.
pub const ALL_PASSED: &str = "every hold point of this slot is passed";

/// The job signs nothing.
pub const NO_ROLES: &str = "this job signs no hold points: it has no [roles] in job.toml";

/// The next hold point of a slot; whether nothing but signatures is missing.
pub fn next_hold_is(slot: &str, next: Hold, is_ready: bool) -> String {
    let lacks = if is_ready {
        "it lacks only signatures:"
    } else {
        "it lacks:"
    };
    format!(
        "the next hold point of slot {} is {}; {lacks}",
        Excerpt::of(slot),
        hold(next)
    )
}

/// That a signature stands no more, and why: of figures that moved the first, with how many more did.
pub fn stands_no_more(of: &Verified) -> String {
    let role = of.role.map_or("unknown", |role| role.name());
    let why = match of.moved.as_slice() {
        [] => what_became_of(of).into_iter().next().unwrap_or_default(),
        [only] => moved(only),
        [first, more @ ..] => format!("{}; {} more moved", moved(first), more.len()),
    };
    format!(
        "{} signed {} as {role}: {}; {why}",
        Excerpt::of(&of.name),
        of.hold.map_or("unknown", hold),
        of.state.word().to_uppercase()
    )
}

/// Signatures that did not stand do, or were signed anew.
pub const NONE_FALLEN: &str = "all signatures stand again";

/// How many signatures of a slot stand no more; `None` where all do.
pub fn fallen(count: usize) -> Option<String> {
    Some(match count {
        0 => return None,
        1 => "1 SIGNATURE DOES NOT STAND ANY MORE".to_owned(),
        more => format!("{more} SIGNATURES DO NOT STAND ANY MORE"),
    })
}

/// The same of every slot of a job, by name and count, and where the reasons are read.
pub fn fallen_of(slots: &[(&str, usize)]) -> Option<String> {
    let all = fallen(slots.iter().map(|(_, count)| count).sum())?;
    let named: Vec<String> = slots
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(name, _)| Excerpt::of(name).to_string())
        .collect();
    Some(format!("{all}: slot {} (p says why)", named.join(", ")))
}

/// A file that holds no key.
pub const NO_KEY_FILE: &str =
    "there is no such file, or it cannot be read; expected a private key of OpenSSH";

/// A line of a list.
pub fn listed(text: &str) -> String {
    format!("- {text}\n")
}

/// There are no signatures.
pub const NOTHING_SIGNED: &str = "nothing is signed";

/// What became of a signature, a line each: why it is invalid, which files changed, which figures moved.
pub fn what_became_of(of: &Verified) -> Vec<String> {
    let mut lines = Vec::new();
    if let SignatureState::Invalid(why) = of.state {
        lines.push(format!("why: {}", invalid(why)));
    }
    lines.extend(of.changed.iter().map(|name| format!("changed: {name}")));
    lines.extend(of.moved.iter().map(moved));
    lines
}

fn moved(moved: &Moved) -> String {
    let was = moved.signed.as_deref().unwrap_or("not there");
    let now = moved.now.as_deref().unwrap_or("not there");
    format!("moved: {}: signed {was}, now {now}", moved.figure)
}

/// Who signs next in which role; each of `holders` may.
pub fn to_sign(role: Role, holders: &[&str]) -> String {
    format!(
        "to be signed as {} by {}",
        role.name(),
        holders.join(" or ")
    )
}

/// What a person signs.
pub fn signs(slot: &str, of: Hold, role: Role) -> String {
    format!(
        "Slot {}: {} as {}  ",
        Excerpt::of(slot),
        hold(of),
        role.name()
    )
}

/// Who signs it, how, and how much of the statement was shown.
pub fn signs_as(person: &str, on_paper: bool, to: usize, lines: usize) -> String {
    let how = if on_paper { "on paper" } else { "by key" };
    format!("{person}, {how}   line {} of {lines}", to.min(lines))
}

/// There is more of the statement.
pub const READ_ON: &str = "Enter reads on. Nothing is signed before its end is read.";

/// The end of a statement that is signed on paper.
pub const SIGN_ON_PAPER: &str =
    "S records it as signed on paper; print the statement and sign it by pen. P: by key instead.";

/// The end of a statement that is signed by a key.
pub const SIGN_BY_KEY: &str = "S signs this statement with your key. P: on paper instead.";

/// Asks for the file of a key; Enter alone takes the usual one.
pub fn key_file(usual: &str) -> String {
    format!("File of your private key (ed25519, OpenSSH). Enter alone: {usual}")
}

/// Asks for a passphrase.
pub fn passphrase_of(file: &str) -> String {
    format!("Passphrase of {file}; blank if it has none")
}

/// That a key is another person's.
pub fn key_of_another(name: &str, person: &str) -> String {
    format!("this is the key of {name}, and {person} signs; i changes who does")
}

/// That a statement says something else by now.
pub const CHANGED: &str =
    "The job changed since the statement was shown: nothing is signed. Esc, and read it again.";
