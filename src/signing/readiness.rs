//! What is missing before a hold point can be signed.

use super::verify::Verified;
use crate::figures::{CutStatus, Figures, SlotView, Verdict};
use crate::finding::{Code, Flag, Severity};
use crate::job::{Hold, Role};
use crate::journal::{Inputs, Said, Scribe, SlotRecord};

/// Something that a hold point lacks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// The job has no roles, or does not use this hold point.
    NotUsed,
    /// The journal is not whole.
    JournalBroken,
    /// An earlier hold point is not signed in a role, or that signature does not stand.
    Before(Hold, Role),
    /// It is signed in this role, and the signature stands.
    SignedAlready(String),
    /// This person has signed it in another role.
    TwoRoles(String, Role),
    /// The person does not hold the role.
    RoleNotHeld(String, Role),
    /// The role does not sign this hold point.
    NotOfRole(Role),
    /// No stick-up is read.
    NoStickUp,
    /// The conductor is cut already.
    CutAlready,
    /// Flags that stop it.
    Stops(Vec<Code>),
    /// Checks that are neither cleared nor waived.
    Checks(Vec<Code>),
    /// No stick-up that was read is needed for the status.
    Planned,
    /// No line is scribed.
    NoScribe,
    /// Fewer than two marks that share no reading, measured by two persons.
    NoTwoMarks,
    /// The line was checked by the one who measured it first.
    CheckedByFirst(String),
    /// A mark was not found again: it is no mark of the cut as it is.
    MarkUnknown(String),
    /// Grout or cement is in place, and no stick-up at rest was read after its time.
    NoStickUpAfter(String),
    /// The finished top is not surveyed.
    NoAsCut,
    /// The finished top is outside its tolerance.
    Outside,
    /// The finished top is not proven, and these are not waived.
    Unproven(Vec<Code>),
}

/// The next hold point of a slot, and the roles that have not signed it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextHold {
    /// The hold point.
    pub hold: Hold,
    /// The roles that have not signed it, or whose signature does not stand.
    pub roles: Vec<Role>,
}

/// The signature of a role on a hold point that applies: the last one.
fn signature<'v>(
    verified: &'v [Verified],
    slot: &str,
    hold: Hold,
    role: Role,
) -> Option<&'v Verified> {
    let mut all = verified.iter().rev();
    all.find(|it| it.slot == slot && it.hold == Some(hold) && it.role == Some(role))
}

fn stands(verified: &[Verified], slot: &str, hold: Hold, role: Role) -> bool {
    signature(verified, slot, hold, role).is_some_and(|it| it.state.stands())
}

/// The first hold point of a slot that is not passed; `None` where all are, or none is used.
pub fn next_hold(inputs: &Inputs, verified: &[Verified], slot: usize) -> Option<NextHold> {
    let name = &inputs.job.slots.get(slot)?.name;
    let points = inputs.job.people.hold_points();
    points.into_iter().find_map(|(hold, roles)| {
        let open: Vec<Role> = roles
            .into_iter()
            .filter(|role| !stands(verified, name, hold, *role))
            .collect();
        (!open.is_empty()).then_some(NextHold { hold, roles: open })
    })
}

/// What is missing before a hold point can be signed: for a role and a person where they are given.
pub fn missing(
    inputs: &Inputs,
    figures: &Figures,
    verified: &[Verified],
    (slot, hold): (usize, Hold),
    (role, person): (Option<Role>, Option<&str>),
) -> Vec<Missing> {
    let mut lacks = Vec::new();
    if inputs.journal.broken.is_some() {
        lacks.push(Missing::JournalBroken);
    }
    let points = inputs.job.people.hold_points();
    let (Some((_, roles)), Some(name)) = (
        points.iter().find(|(it, _)| *it == hold),
        inputs.job.slots.get(slot).map(|slot| &slot.name),
    ) else {
        lacks.push(Missing::NotUsed);
        return lacks;
    };
    for (before, roles) in points.iter().take_while(|(it, _)| *it != hold) {
        let open = roles
            .iter()
            .filter(|role| !stands(verified, name, *before, **role));
        lacks.extend(open.map(|role| Missing::Before(*before, *role)));
    }
    if let Some(role) = role {
        if !roles.contains(&role) {
            lacks.push(Missing::NotOfRole(role));
        }
        if let Some(signed) = signature(verified, name, hold, role)
            && signed.state.stands()
        {
            lacks.push(Missing::SignedAlready(signed.name.clone()));
        }
        if let Some(person) = person {
            let others = roles.iter().filter(|it| **it != role);
            lacks.extend(others.filter_map(|other| {
                let signed = signature(verified, name, hold, *other)?;
                let is_same = signed.name == person && signed.state.stands();
                is_same.then(|| Missing::TwoRoles(person.to_owned(), *other))
            }));
        }
    }
    let of_hold = Lacks {
        inputs,
        figures,
        slot,
    };
    of_hold.add(hold, &mut lacks);
    lacks
}

/// What a release for cutting lacks by now, whoever signed it.
pub(super) fn still_lacks(inputs: &Inputs, figures: &Figures, slot: usize) -> Vec<Missing> {
    let mut lacks = Vec::new();
    let of_hold = Lacks {
        inputs,
        figures,
        slot,
    };
    of_hold.cut_release(&mut lacks);
    lacks
}

struct Lacks<'a> {
    inputs: &'a Inputs,
    figures: &'a Figures,
    slot: usize,
}

impl Lacks<'_> {
    fn add(&self, hold: Hold, lacks: &mut Vec<Missing>) {
        match hold {
            Hold::TallyFrozen => {
                let open = self.codes(|flag| flag.code == Code::TallyChanged && flag.counts());
                if !open.is_empty() {
                    lacks.push(Missing::Stops(open));
                }
            }
            Hold::Landed => {
                let chain = self.figures.slots.get(self.slot).map(|it| &it.chain);
                if chain.is_none_or(|chain| chain.basis != crate::figures::Basis::Read) {
                    lacks.push(Missing::NoStickUp);
                }
                let differs = self.codes(|flag| flag.code == Code::AsRunDiffers);
                if !differs.is_empty() {
                    lacks.push(Missing::Stops(differs));
                }
            }
            Hold::CutRelease => self.cut_release(lacks),
            // What holds the off-cut is on the lifting plan; the statement says that it is not claimed.
            Hold::OffCutLift => {}
            Hold::Final => self.finished(lacks),
        }
    }

    fn flags(&self) -> impl Iterator<Item = &Flag> {
        let own = self.figures.slots.get(self.slot).map(|it| &it.flags);
        let of_job = self.figures.standings.get(self.slot).map(|it| &it.of_job);
        own.into_iter().chain(of_job).flatten()
    }

    fn codes(&self, is_such: impl Fn(&Flag) -> bool) -> Vec<Code> {
        let found = self.flags().filter(|flag| is_such(flag));
        let mut codes: Vec<Code> = found.map(|flag| flag.code).collect();
        codes.sort_unstable();
        codes.dedup();
        codes
    }

    fn cut_release(&self, lacks: &mut Vec<Missing>) {
        let Some(said) = self.inputs.record.slots.get(self.slot) else {
            return;
        };
        let status = self.figures.standings.get(self.slot).map(|it| it.status);
        if status == Some(CutStatus::Cut) {
            lacks.push(Missing::CutAlready);
        }
        // A target that moved since is what signing again is for.
        let stops =
            self.codes(|flag| flag.severity == Severity::Stop && flag.code != Code::TargetMoved);
        if !stops.is_empty() {
            lacks.push(Missing::Stops(stops));
        }
        if status == Some(CutStatus::Planned) {
            lacks.push(Missing::Planned);
        }
        let checks = self.codes(|flag| flag.severity == Severity::Check && flag.counts());
        if !checks.is_empty() {
            lacks.push(Missing::Checks(checks));
        }
        match &said.scribe {
            None => lacks.push(Missing::NoScribe),
            Some(scribe) => self.scribe(scribe, lacks),
        }
        lacks.extend(not_read_after(said));
    }

    /// Two marks that share no reading, by two persons, checked by another than the first.
    fn scribe(&self, scribe: &Said<Scribe>, lacks: &mut Vec<Missing>) {
        let marks = &scribe.what.marks;
        let mut views = SlotView::all(&self.inputs.job, &self.inputs.tallies);
        let Some(job) = views.nth(self.slot).map(|view| view.job) else {
            return;
        };
        let cut = self.figures.slots.get(self.slot).map(|it| &it.cut);
        let place = cut.and_then(|cut| cut.place.as_ref());
        let known = place.map_or(&[][..], |place| &place.all_marks);
        let mark_of = |from: &str| known.iter().find(|mark| mark.from.name(job) == from);
        for mark in marks {
            if mark_of(&mark.from).is_none() {
                lacks.push(Missing::MarkUnknown(mark.from.clone()));
            }
        }
        let has_two = marks.iter().enumerate().any(|(at, one)| {
            marks.iter().skip(at + 1).any(|other| {
                let both = mark_of(&one.from).zip(mark_of(&other.from));
                let apart = both.is_some_and(|(a, b)| {
                    let readings = b.rests_on();
                    a.rests_on().iter().all(|it| !readings.contains(it))
                });
                apart && one.by != other.by
            })
        });
        if !has_two {
            lacks.push(Missing::NoTwoMarks);
        }
        if let Some(first) = marks.first().filter(|it| it.by == scribe.what.checked_by) {
            lacks.push(Missing::CheckedByFirst(first.by.clone()));
        }
    }

    fn finished(&self, lacks: &mut Vec<Missing>) {
        let cut = self.figures.slots.get(self.slot).map(|it| &it.cut);
        let Some(as_cut) = cut.and_then(|cut| cut.as_cut.as_ref()) else {
            lacks.push(Missing::NoAsCut);
            return;
        };
        match as_cut.verdict {
            Some(Verdict::Within) => {}
            Some(Verdict::Outside) => lacks.push(Missing::Outside),
            Some(Verdict::Unproven) | None => {
                const WHY: [Code; 3] =
                    [Code::CutUnproven, Code::LevelUnproven, Code::LevelUnstated];
                let raised = self.codes(|flag| WHY.contains(&flag.code));
                let open = self.codes(|flag| WHY.contains(&flag.code) && flag.counts());
                if !open.is_empty() || raised.is_empty() {
                    lacks.push(Missing::Unproven(open));
                }
            }
        }
    }
}

/// Grout or cement that is in place, where no stick-up at rest was read after its time.
fn not_read_after(said: &SlotRecord) -> Option<Missing> {
    let placed = said.placed.iter();
    let placed = placed.max_by_key(|placed| placed.what.until.seconds())?;
    let until = &placed.what.until;
    let mut reads = said.stick_ups.iter();
    let is_read =
        reads.any(|read| read.what.state.is_at_rest() && read.at.seconds() >= until.seconds());
    (!is_read).then(|| Missing::NoStickUpAfter(until.to_string()))
}
